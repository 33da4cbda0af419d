/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-round.c — the round line: what is read, what it writes, what is refused. */
#include "round-case.h"

#include <string.h>

#include "core/core-entry.h"


static const RoundGood good[] = {
  { "All fed 2 house flies, except 14 31 refused",
    "fed 2 house fly: 5 7 14a 22 23 25 52 60; 14 refused 2 house fly; 31 refused 2 house fly"
    " / 3 held, 4 small" },
  { "all fed 2 house flies; 14 31 refused",
    "fed 2 house fly: 5 7 14a 22 23 25 52 60; 14 refused 2 house fly; 31 refused 2 house fly"
    " / 3 held, 4 small" },
  { "fed 2 hydei", "fed 2 hydei: " ROUND_CASE_ALL " / 3 held" },
  { "FED 2 HYDEI.", "fed 2 hydei: " ROUND_CASE_ALL " / 3 held" },
  { "f 2 hy", "fed 2 hydei: " ROUND_CASE_ALL " / 3 held" },
  { "fed 2 hou", "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60 / 3 held, 4 small" },
  { "fed 2 hou fl", "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60 / 3 held, 4 small" },
  { "fed hydei", "fed hydei: " ROUND_CASE_ALL " / 3 held" },
  { "fed 1 cricket", "fed 1 cricket: 4 7 14 14a 22 23 25 31 52 60 / 3 held, 5 not its prey" },
  { "misted", "mist: " ROUND_CASE_ALL " / 3 held" },
  { "w", "water: " ROUND_CASE_ALL " / 3 held" },
  { "all misted and watered", "mist: " ROUND_CASE_ALL "; water: " ROUND_CASE_ALL " / 3 held, 3 held" },
  { "all misted, cleaned", "mist: " ROUND_CASE_ALL "; clean: " ROUND_CASE_ALL " / 3 held, 3 held" },
  { "looked at all", "look: 3 " ROUND_CASE_ALL },
  { "looked", "look: 3 " ROUND_CASE_ALL },
  { "all fed 3 hydei, misted, looked at all; 7 belly 5",
    "fed 3 hydei: " ROUND_CASE_ALL "; mist: " ROUND_CASE_ALL "; look: 3 " ROUND_CASE_ALL "; 7 belly 5 / 3 held, 3 held" },
  { "looked; 7 belly 5", "look: 3 " ROUND_CASE_ALL "; 7 belly 5" },
  { "looked; 52 moulted fell", "look: 3 " ROUND_CASE_ALL "; 52 moult #1" },
  { "looked; 52 moulted stuck", "look: 3 " ROUND_CASE_ALL "; 52 moult #2" },
  { "looked; 52 moulted", "look: 3 " ROUND_CASE_ALL "; 52 moult" },
  { "looked; 60 dead", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 dead" },
  { "looked; 60 de", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 dead" },
  { "looked; 60 escaped", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 escaped" },
  { "looked; 60 le", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 left" },
  { "looked; 22-25 skip", "look: 3 4 5 7 14 14a 31 52 60" },
  { "looked; 22 - 25 skip", "look: 3 4 5 7 14 14a 31 52 60" },
  { "looked; 22\xe2\x80\x93"
    "25 skip",
    "look: 3 4 5 7 14 14a 31 52 60" },
  { "looked; 13-22 gone", "look: 3 " ROUND_CASE_ALL "; 14 gone; 14a gone; 22 gone" },
  { "looked; 14A drank", "look: 3 " ROUND_CASE_ALL "; 14a drank" },
  { "looked; 007 drank", "look: 3 " ROUND_CASE_ALL "; 7 drank" },
  { "looked; 14 hanging", "look: 3 " ROUND_CASE_ALL "; 14 sign #4" },
  { "looked; 14 häutet", "look: 3 " ROUND_CASE_ALL "; 14 sign #6" },
  { "looked; 14 hanging, 14 dull", "look: 3 " ROUND_CASE_ALL "; 14 sign #4; 14 sign #2" },
  { "looked; 14, 31 and 52 drank", "look: 3 " ROUND_CASE_ALL "; 14 drank; 31 drank; 52 drank" },
  { "looked; 14 drank 31 gone", "look: 3 " ROUND_CASE_ALL "; 14 drank; 31 gone" },
  { "looked; 7 belly 5 14 belly 2", "look: 3 " ROUND_CASE_ALL "; 7 belly 5; 14 belly 2" },
  { "looked, except: 14 drank; 31 gone.", "look: 3 " ROUND_CASE_ALL "; 14 drank; 31 gone" },
  { "looked, except 14 drank, except 31 gone", "look: 3 " ROUND_CASE_ALL "; 14 drank; 31 gone" },
  { "looked, 14 drank", "look: 3 " ROUND_CASE_ALL "; 14 drank" },
  { "looked but 14 drank", "look: 3 " ROUND_CASE_ALL "; 14 drank" },
  { "looked;", "look: 3 " ROUND_CASE_ALL },
  { "looked except", "look: 3 " ROUND_CASE_ALL },
  { "  \t looked \xc2\xa0 ;  14   drank ", "look: 3 " ROUND_CASE_ALL "; 14 drank" },
  { "fed 2 hydei, misted; 14 took",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: " ROUND_CASE_ALL "; 14 took 2 hydei / 3 held, 3 held" },
  { "fed 2 hydei, misted; 14 moulted",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: " ROUND_CASE_ALL "; 14 moult / 3 held, 3 held" },
  { "fed 2 hydei, misted; 14 dead",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: 4 5 7 14a 22 23 25 31 52 60; 14 dead"
    " / 3 held, 3 held" },
  { "fed 2 hydei, misted; 14 skip",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: 4 5 7 14a 22 23 25 31 52 60"
    " / 3 held, 3 held" },
  { "fed 2 hydei; 14 belly 4, 31 drank, 52 hanging",
    "fed 2 hydei: " ROUND_CASE_ALL "; 14 belly 4; 31 drank; 52 sign #4 / 3 held" },
  { "fed 2 hydei; 14 refused; 14 belly 4",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 refused 2 hydei; 14 belly 4 / 3 held" },
  { "fed 2 hydei; 3 took", "fed 2 hydei: " ROUND_CASE_ALL "; 3 took 2 hydei" },
  { "fed 2 house flies; 4 refused",
    "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60; 4 refused 2 house fly / 3 held" },
  { "all 2 hydei fed", "fed 2 hydei: " ROUND_CASE_ALL " / 3 held" },
  { "with hydei fed", "fed hydei: " ROUND_CASE_ALL " / 3 held" },
  { "misted, 2 hydei fed, 14 took",
    "mist: " ROUND_CASE_ALL "; fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 took 2 hydei / 3 held, 3 held" },
  { "fed all 2 hydei", "fed 2 hydei: " ROUND_CASE_ALL " / 3 held" },
  { "fed 2 hydei all, misted all but 14 drank",
    "fed 2 hydei: " ROUND_CASE_ALL "; mist: " ROUND_CASE_ALL "; 14 drank / 3 held, 3 held" },
  { "looked ex 14 drank", "look: 3 " ROUND_CASE_ALL "; 14 drank" },
  { "due fed 1 hydei", "fed 1 hydei: 7" },
  { "all due fed", "fed: 7" },
  { "due fed 1 hydei; 14 took", "fed 1 hydei: 7; 14 took 1 hydei" },
  { "due fed; 7 refused", "fed:; 7 refused 3 moth" },
  { "misted; 14 refused", "mist: " ROUND_CASE_ALL "; 14 refused / 3 held" },
};

/* Of single cups: no action, a prey of its own. */
static const RoundGood good_single[] = {
  { "14 refused", "; 14 refused" },
  { "14 31 refused", "; 14 refused; 31 refused" },
  { "22-25 moulted", "; 22 moult; 23 moult; 25 moult" },
  { "14 drank; 7 belly 4", "; 14 drank; 7 belly 4" },
  { "14 drank, except 7 belly 4", "; 14 drank; 7 belly 4" },
  { "and 60 dead", "; 60 dead" },
  { "14 skip", "" },
  { "3 refused", "; 3 refused" },
  { "14 ate", "; 14 took" },
  { "14 ate 2 green bottles", "; 14 took 2 green bottle" },
  { "14 ate 2 green bottles; 7 belly 5", "; 14 took 2 green bottle; 7 belly 5" },
  { "14 ate 2 green bottles 7 belly 5", "; 14 took 2 green bottle; 7 belly 5" },
  { "14 31 ate 2 hydei", "; 14 took 2 hydei; 31 took 2 hydei" },
  { "14 refused moths", "; 14 refused moth" },
  { "14 refused mot", "; 14 refused moth" },
  { "14 refused at moths", "; 14 refused moth" },
  { "14 fed 2 green bottles", "; 14 fed 2 green bottle" },
  { "14 f 2 gr", "; 14 fed 2 green bottle" },
  { "14 fed", "; 14 fed" },
  { "7 fed", "; 7 fed 3 moth" },
  { "3 fed hydei", "; 3 fed hydei" },
  { "4 fed 1 house fly", "; 4 fed 1 house fly" },
  { "5 ate 1 cricket", "; 5 took 1 cricket" },
  { "14 refused moths; 14 ate 2 hydei", "; 14 refused moth; 14 took 2 hydei" },
  { "14 took 7 gone", "; 14 took; 7 gone" },
  { "14 took 7 m", "; 14 took; 7 moult" },
  { "14 took 7 and 31 moulted", "; 14 took; 7 moult; 31 moult" },
  { "14 took, 7 moulted", "; 14 took; 7 moult" },
  { "14 given", "; 14 left #1" },
  { "14 given 2 moths", "; 14 fed 2 moth" },
  { "2 moths fed", "fed 2 moth: " ROUND_CASE_ALL " / 3 held" },
  { "14 moths fed", "fed 14 moth: " ROUND_CASE_ALL " / 3 held" },
  { "fed 2 hydei; 14 fed 2 green bottles",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 fed 2 green bottle / 3 held" },
  { "fed 2 hydei, 14 fed moths", "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 fed moth / 3 held" },
  { "fed 2 hydei; 14 refused moths, 3 fed",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 refused moth; 3 fed 2 hydei" },
  { "fed 2 house flies; 4 fed 1 house fly",
    "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60; 4 fed 1 house fly / 3 held" },
  { "misted; 14 ate 2 hydei", "mist: " ROUND_CASE_ALL "; 14 took 2 hydei / 3 held" },
};

static void
test_good (void)
{
  round_case_good (good, G_N_ELEMENTS (good));
}

/* Only cups that are named by number: each write is an exception. */
static void
test_single (void)
{
  round_case_good (good_single, G_N_ELEMENTS (good_single));
}

/* The usual prey of a cup fills in what the line does not say. */
static void
test_usual_prey (void)
{
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf room = round_case_shelf (cups);
  CoreRoundLine line;
  CoreRoundPlan plan;

  g_assert_cmpint (core_round_parse ("due fed", round_case_terms, round_case_n_terms, &room, &line),
                   ==, CORE_OK);
  g_assert_cmpint (core_round_resolve (&line, &room, &plan), ==, CORE_OK);
  g_assert_cmpuint (plan.n_writes, ==, 1);
  g_assert_cmpint (plan.writes[0].prey, ==, CORE_PREY_MOTH);
  g_assert_cmpint (plan.writes[0].n, ==, 3);
  g_assert_false (plan.writes[0].exception);
  core_round_plan_clear (&plan);
  core_round_line_clear (&line);
}

/* Another language, with letters outside ASCII and the verb at the end. */
/* A cup that stood elsewhere on the day of the round is listed, and refused by its number. */
static void
test_absent (void)
{
  static const struct
  {
    const char *line;
    CoreRoundError error;
    const char *says;
  } rows[] = {
    { "all looked", CORE_ROUND_OK, "look: 3 4 7 14 14a 22 23 25 31 52 60 / 5 not there" },
    { "4-7 refused", CORE_ROUND_OK, "; 4 refused; 7 refused" },
    { "5 refused", CORE_ROUND_NOT_THERE, NULL },
    { "swap 4 5", CORE_ROUND_NOT_THERE, NULL },
  };
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);

  for (gsize i = 0; i < shelf.n_cups; i++)
    cups[i].absent = strcmp (cups[i].number, "5") == 0;
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreRoundLine line;
      CoreRoundPlan plan;
      g_autofree char *text = NULL;

      g_test_message ("%s", rows[i].line);
      (void) core_round_parse (rows[i].line, round_case_terms, round_case_n_terms, &shelf, &line);
      g_assert_cmpint (line.n_problems > 0 ? line.problems[0].error : CORE_ROUND_OK, ==,
                       rows[i].error);
      (void) core_round_resolve (&line, &shelf, &plan);
      text = round_case_say (&line, &shelf, &plan);
      if (rows[i].says != NULL)
        g_assert_cmpstr (text, ==, rows[i].says);
      core_round_line_clear (&line);
      core_round_plan_clear (&plan);
    }
}

static void
test_german (void)
{
  static const CoreRoundTerm german[] = {
    { "alle", CORE_WORD_ALL, 0 },
    { "außer", CORE_WORD_EXCEPT, 0 },
    { "mit", CORE_WORD_AT, 0 },
    { "gefüttert", CORE_WORD_FED, 0 },
    { "stubenfliegen", CORE_WORD_PREY, CORE_PREY_HOUSE_FLY },
    { "große fruchtfliegen", CORE_WORD_PREY, CORE_PREY_HYDEI },
    { "verweigert", CORE_WORD_REFUSED, 0 },
    { "gehäutet", CORE_WORD_MOULTED, 0 },
    { "gestürzt", CORE_WORD_FELL, 0 },
  };
  static const RoundGood lines[] = {
    { "Alle mit 2 Stubenfliegen gefüttert, außer 14 31 verweigert",
      "fed 2 house fly: 5 7 14a 22 23 25 52 60; 14 refused 2 house fly; 31 refused 2 house fly"
      " / 3 held, 4 small" },
    { "alle gefü 2 stu auß 52 gehä gestü",
      "fed 2 house fly: 5 7 14 14a 22 23 25 31 60; 52 moult #1 / 3 held, 4 small" },
    { "gefüttert 3 große frucht", "fed 3 hydei: " ROUND_CASE_ALL " / 3 held" },
  };
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf room = round_case_shelf (cups);

  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      CoreRoundLine line;
      CoreRoundPlan plan;
      g_autofree char *text = NULL;

      g_test_message ("%s", lines[i].line);
      g_assert_cmpint (core_round_parse (lines[i].line, german, G_N_ELEMENTS (german), &room, &line),
                       ==, CORE_OK);
      g_assert_cmpint (core_round_resolve (&line, &room, &plan), ==, CORE_OK);
      text = round_case_say (&line, &room, &plan);
      g_assert_cmpstr (text, ==, lines[i].writes);
      core_round_plan_clear (&plan);
      core_round_line_clear (&line);
    }
}

static const RoundBad bad[] = {
  { "", CORE_ROUND_EMPTY, "", "", 1 },
  { "  \t ", CORE_ROUND_EMPTY, "", "", 1 },
  { " . ", CORE_ROUND_EMPTY, "", "", 1 },
  { "all", CORE_ROUND_EXPECT_ACTION, "", "", 1 },
  { "14", CORE_ROUND_EXPECT_OUTCOME, "", "", 1 },
  { "8 refused", CORE_ROUND_NO_SUCH_NUMBER, "8", "", 1 },
  { "all 14 refused", CORE_ROUND_EXPECT_ACTION, "14", "", 1 },
  { "due 14 refused", CORE_ROUND_EXPECT_ACTION, "14", "", 1 },
  { "; 14 refused", CORE_ROUND_EXPECT_ACTION, ";", "", 1 },
  { "2 hydei", CORE_ROUND_EXPECT_ACTION, "2", "", 1 },
  { "14 refused, misted", CORE_ROUND_EXPECT_NUMBER, "misted", "", 1 },
  { "14 refused cows", CORE_ROUND_EXPECT_NUMBER, "cows", "", 1 },
  { "14 refused ex moths", CORE_ROUND_EXPECT_NUMBER, "moths", "", 1 },
  { "14 refused m", CORE_ROUND_EXPECT_NUMBER, "m", "", 1 },
  { "14 ate 0 hydei", CORE_ROUND_BAD_VALUE, "0", "", 1 },
  { "14 ate 1001 hydei", CORE_ROUND_BAD_VALUE, "1001", "", 1 },
  { "14 ate 2a hydei", CORE_ROUND_BAD_VALUE, "2a", "", 1 },
  { "14 fed 2", CORE_ROUND_EXPECT_PREY, "", "", 1 },
  { "14 ate 7", CORE_ROUND_EXPECT_OUTCOME, "", "", 1 },
  { "14 ate 2 hydei moths", CORE_ROUND_EXPECT_NUMBER, "moths", "", 1 },
  { "14 drank hydei", CORE_ROUND_EXPECT_NUMBER, "hydei", "", 1 },
  { "14 ate hydei; 14 refused", CORE_ROUND_TWICE, "14", "", 1 },
  { "14 ate hydei; 14 refused hydei", CORE_ROUND_TWICE, "14", "", 1 },
  { "14 fed hydei; 14 moulted", CORE_ROUND_TWICE, "14", "", 1 },
  { "14 fed hydei; 14 dead", CORE_ROUND_TWICE, "14", "", 1 },
  { "all danced", CORE_ROUND_UNKNOWN_WORD, "danced", "", 1 },
  { "all danced, sang; 14 drank", CORE_ROUND_UNKNOWN_WORD, "danced", "", 2 },
  { "fed 2", CORE_ROUND_EXPECT_PREY, "", "", 1 },
  { "fed 14 31 refused", CORE_ROUND_EXPECT_PREY, "31", "", 1 },
  { "fed 2 cows", CORE_ROUND_UNKNOWN_WORD, "cows", "", 1 },
  { "fed 2 m", CORE_ROUND_AMBIGUOUS, "m", "melanogaster|moth|moths", 1 },
  { "fed m", CORE_ROUND_AMBIGUOUS, "m", "misted|melanogaster|moth|moths", 1 },
  { "fed w", CORE_ROUND_AMBIGUOUS, "w", "without|watered", 1 },
  { "0 hydei fed", CORE_ROUND_BAD_VALUE, "0", "", 1 },
  { "2 hydei misted", CORE_ROUND_EXPECT_ACTION, "2", "", 1 },
  { "fed 0 hydei", CORE_ROUND_BAD_VALUE, "0", "", 1 },
  { "fed 1001 hydei", CORE_ROUND_BAD_VALUE, "1001", "", 1 },
  { "fed 2a hydei", CORE_ROUND_BAD_VALUE, "2a", "", 1 },
  { "fed 99999999999999999999999999 hydei", CORE_ROUND_BAD_VALUE, "99999999999999999999999999", "",
    1 },
  { "fed 2 hydei; refused", CORE_ROUND_EXPECT_NUMBER, "refused", "", 1 },
  { "fed 2 hydei; 14", CORE_ROUND_EXPECT_OUTCOME, "", "", 1 },
  { "fed 2 hydei; 14 31", CORE_ROUND_EXPECT_OUTCOME, "", "", 1 },
  { "fed 2 hydei; 14; 31 refused", CORE_ROUND_EXPECT_OUTCOME, ";", "", 1 },
  { "fed 2 hydei; 14 yawned", CORE_ROUND_UNKNOWN_WORD, "yawned", "", 1 },
  { "fed 2 hydei; 14 d", CORE_ROUND_AMBIGUOUS, "d", "drank|dull", 1 },
  { "fed 2 hydei; 14 l", CORE_ROUND_TOO_SHORT, "l", "left", 1 },
  { "fed 2 hydei; 14 e", CORE_ROUND_TOO_SHORT, "e", "escaped", 1 },
  { "fed 2 hydei; 14 fell", CORE_ROUND_EXPECT_OUTCOME, "fell", "", 1 },
  { "fed 2 hydei; 14 refused drank", CORE_ROUND_EXPECT_NUMBER, "drank", "", 1 },
  { "fed 2 hydei; 8 refused", CORE_ROUND_NO_SUCH_NUMBER, "8", "", 1 },
  { "fed 2 hydei; 9 refused", CORE_ROUND_NO_SUCH_NUMBER, "9", "", 1 },
  { "fed 2 hydei; 14b refused", CORE_ROUND_NO_SUCH_NUMBER, "14b", "", 1 },
  { "fed 2 hydei; 8 10 refused", CORE_ROUND_NO_SUCH_NUMBER, "8", "", 2 },
  { "fed 2 hydei; 100000000000000000007 refused", CORE_ROUND_NO_SUCH_NUMBER,
    "100000000000000000007", "", 1 },
  { "fed 2 hydei; 32-50 refused", CORE_ROUND_NO_SUCH_NUMBER, "32-50", "", 1 },
  { "fed 2 hydei; 25-22 refused", CORE_ROUND_BACKWARDS, "25-22", "", 1 },
  { "fed 2 hydei; 22- refused", CORE_ROUND_EXPECT_OUTCOME, "-", "", 1 },
  { "fed 2 hydei; -22 refused", CORE_ROUND_EXPECT_NUMBER, "-", "", 1 },
  { "looked; 7 belly", CORE_ROUND_EXPECT_VALUE, "", "", 1 },
  { "looked; 7 belly fat", CORE_ROUND_EXPECT_VALUE, "fat", "", 2 },
  { "looked; 7 belly 6", CORE_ROUND_EXPECT_VALUE, "6", "", 1 },
  { "looked; 7 belly 0", CORE_ROUND_EXPECT_VALUE, "0", "", 1 },
  { "looked; 7 belly 31", CORE_ROUND_EXPECT_VALUE, "31", "", 1 },
  { "fed 2 hydei; 14 refused; 14 took", CORE_ROUND_TWICE, "14", "", 1 },
  { "fed 2 hydei; 14 14 refused", CORE_ROUND_REPEATED, "14", "", 1 },
  { "fed 2 hydei; 14 dead; 14 belly 3", CORE_ROUND_TWICE, "14", "", 1 },
  { "fed 2 hydei; 14 skip; 14 drank", CORE_ROUND_TWICE, "14", "", 1 },
  { "fed 2 hydei; 14 moulted; 14 refused", CORE_ROUND_TWICE, "14", "", 1 },
  { "looked; 7 belly 2; 7 belly 3", CORE_ROUND_TWICE, "7", "", 1 },
  { "looked; 22-25 drank; 23 drank", CORE_ROUND_REPEATED, "23", "", 1 },
  { "misted, watered, cleaned, looked, gone, fed 2 hydei, fed 2 moths", CORE_ROUND_TOO_LONG, "fed", "",
    1 },
  { "misted misted", CORE_ROUND_ACTION_TWICE, "misted", "", 1 },
  { "fed 2 hydei, misted, fed 3 hydei", CORE_ROUND_ACTION_TWICE, "fed 3 hydei", "", 1 },
  { "fed 51 hydei", CORE_ROUND_MANY_PREY, "51", "", 1 },
  { "misted; 14 ate 200 hydei", CORE_ROUND_MANY_PREY, "200", "", 1 },
  { "all dead", CORE_ROUND_BY_NUMBER, "dead", "", 1 },
  { "all misted, refused", CORE_ROUND_BY_NUMBER, "refused", "", 1 },
  { "22 ate 2; 14 refused", CORE_ROUND_EXPECT_PREY, "2", "", 1 },
  { "all mis\x01ted", CORE_ROUND_UNKNOWN_WORD, "mis\x01ted", "", 1 },
  { "all \xff\xfe", CORE_ROUND_UNKNOWN_WORD, "\xff\xfe", "", 1 },
  { "looked; a,b,c,d,e,f,g,h,i,j,k", CORE_ROUND_EXPECT_NUMBER, "a", "", CORE_ROUND_MAX_PROBLEMS },
};

static void
test_bad (void)
{
  round_case_bad (bad, G_N_ELEMENTS (bad));
}

static void
test_long (void)
{
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf room = round_case_shelf (cups);
  g_autofree char *line10k = g_strnfill (10 * 1024, 'x');
  g_autoptr (GString) many = g_string_new ("looked;");
  g_autoptr (GString) words = g_string_new (NULL);
  CoreRoundLine line;

  g_assert_cmpint (core_round_parse (line10k, round_case_terms, round_case_n_terms, &room, &line),
                   ==, CORE_BAD_INPUT);
  g_assert_cmpint (line.problems[0].error, ==, CORE_ROUND_TOO_LONG);
  core_round_line_clear (&line);

  for (int i = 0; i < CORE_ROUND_MAX_EXCEPTIONS + 1; i++)
    g_string_append (many, " 7");
  g_string_append (many, " drank");
  g_assert_cmpint (core_round_parse (many->str, round_case_terms, round_case_n_terms, &room, &line),
                   ==, CORE_BAD_INPUT);
  /* Problems come in the order of the line: before it stand the numbers named twice. */
  g_assert_cmpint (line.problems[line.n_problems - 1].error, ==, CORE_ROUND_TOO_LONG);
  g_assert_cmpuint (line.n_exceptions, <=, CORE_ROUND_MAX_EXCEPTIONS);
  core_round_line_clear (&line);

  for (int i = 0; i < 1300; i++)
    g_string_append (words, "zz ");
  g_assert_cmpint (core_round_parse (words->str, round_case_terms, round_case_n_terms, &room, &line),
                   ==, CORE_BAD_INPUT);
  core_round_line_clear (&line);
}

/* Whatever is typed: it ends, marks lie in the line, and nothing is half read. */
static void
test_noise (void)
{
  static const char *const scraps[] = {
    "all",  "fed",    "2",           "14",      "hydei", "house", "flies",  ",",      ";",
    "-",    "except", "skip",        "dead",    "belly", "5",     "31",     "14a",    "22-25",
    "\x01", "\xff",   "é",           "at",      "m",     "d",     "looked", "misted", "refused",
    ".",    ":",      "99999999999", "moulted", "fell",  "ate",   "given",  "moths"
  };
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf room = round_case_shelf (cups);
  guint64 state = 88172645463325252u;
  int accepted = 0;

  for (int i = 0; i < 20000; i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      CoreRoundLine line;
      CoreRoundPlan plan;

      for (int k = 0; k < 12; k++)
        {
          state ^= state << 13;
          state ^= state >> 7;
          state ^= state << 17;
          g_string_append (text, scraps[(state >> 20) % G_N_ELEMENTS (scraps)]);
          if ((state >> 9) % 5 != 0)
            g_string_append_c (text, ' ');
          if ((state >> 12) % 6 == 0)
            break;
        }
      if (core_round_parse (text->str, round_case_terms, round_case_n_terms, &room, &line) == CORE_OK)
        {
          accepted++;
          g_assert_cmpuint (line.n_actions + line.n_exceptions, >, 0);
          g_assert_cmpint (core_round_resolve (&line, &room, &plan), ==,
                           CORE_OK);
          core_round_plan_clear (&plan);
        }
      for (gsize p = 0; p < line.n_problems; p++)
        g_assert_cmpuint (line.problems[p].start + line.problems[p].length, <=, text->len);
      core_round_line_clear (&line);
    }
  g_assert_cmpint (accepted, >, 0);
}

/* Who is left out and has something due all the same: for the action, or to be looked at. */
static void
test_left_out_due (void)
{
  static const struct
  {
    const char *line;
    const char *due;
  } rows[] = { { "fed 2 house flies", "3 4" }, { "misted", "3" }, { "gone", "" }, { "looked", "" } };
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);

  cups[0].due_look = true;  /* 3, held */
  cups[1].due_food = true;  /* 4, too small for house flies */
  cups[1].due_mist = true;  /* is done */
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreRoundLine line;
      CoreRoundPlan plan;
      g_autoptr (GString) due = g_string_new (NULL);

      g_assert_cmpint (
        core_round_parse (rows[i].line, round_case_terms, round_case_n_terms, &shelf, &line), ==, CORE_OK);
      g_assert_cmpint (core_round_resolve (&line, &shelf, &plan), ==, CORE_OK);
      for (gsize k = 0; k < plan.n_left_out; k++)
        if (plan.left_out[k].due)
          g_string_append_printf (due, "%s%s", due->len > 0 ? " " : "", cups[plan.left_out[k].cup].number);
      g_assert_cmpstr (due->str, ==, rows[i].due);
      core_round_line_clear (&line);
      core_round_plan_clear (&plan);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/round/good", test_good);
  g_test_add_func ("/core/round/single", test_single);
  g_test_add_func ("/core/round/usual-prey", test_usual_prey);
  g_test_add_func ("/core/round/absent", test_absent);
  g_test_add_func ("/core/round/german", test_german);
  g_test_add_func ("/core/round/bad", test_bad);
  g_test_add_func ("/core/round/long", test_long);
  g_test_add_func ("/core/round/noise", test_noise);
  g_test_add_func ("/core/round/left-out-due", test_left_out_due);
  return g_test_run ();
}
