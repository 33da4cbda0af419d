/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-round-grammar.c — whom a round line speaks of, days, swaps, prey gone, lots. */
#include "round-case.h"

#include <string.h>

#include "core/core-entry.h"

/* Kinds: 3 4 5 7 are ghosts, 9 (dead) 14 14a 22 23 25 dead leaf mantises. Stages, hatchling = L1:
 * 3 4 are L4, 5 L5, 7 L6, 14 14a sub-adult, 22 23 adult, 60 probably, 25 31 52 not known. */
static const RoundGood openings[] = {
  { "ghosts fed 1 hydei", "fed 1 hydei: 4 5 7 / 3 held" },
  { "ghost fed 1 hydei", "fed 1 hydei: 4 5 7 / 3 held" },
  { "gh: fed 1 hydei", "fed 1 hydei: 4 5 7 / 3 held" },
  { "Ghost mantises misted", "mist: 4 5 7 / 3 held" },
  { "all ghosts misted", "mist: 4 5 7 / 3 held" },
  { "p. paradoxa misted", "mist: 4 5 7 / 3 held" },
  { "phyl misted, looked; 60 drank", "mist: 4 5 7; look: 3 4 5 7; 60 drank / 3 held" },
  { "dead leaf misted", "mist: 14 14a 22 23 25" },
  { "mio: misted", "mist: 14 14a 22 23 25" },
  { "mi: misted", "mist: 14 14a 22 23 25" },
  { "mi, watered", "mist: " ROUND_CASE_ALL "; water: " ROUND_CASE_ALL " / 3 held, 3 held" },
  { "due ghosts fed", "fed: 7" },
  { "due, misted", "mist: 5" },
  { "due misted, fed", "mist: 5; fed: 7" },
  { "L4 misted", "mist: 4 / 3 held, 25 stage?, 31 stage?, 52 stage?, 60 stage?" },
  { "l6 up misted", "mist: 7 14 14a 22 23 60 / 25 stage?, 31 stage?, 52 stage?" },
  { "L6+ misted", "mist: 7 14 14a 22 23 60 / 25 stage?, 31 stage?, 52 stage?" },
  { "L6 and up: misted", "mist: 7 14 14a 22 23 60 / 25 stage?, 31 stage?, 52 stage?" },
  { "from L6 misted", "mist: 7 14 14a 22 23 60 / 25 stage?, 31 stage?, 52 stage?" },
  { "L5 + looked", "look: 5 7 14 14a 22 23 60 / 25 stage?, 31 stage?, 52 stage?" },
  { "ghosts L5+ looked", "look: 5 7" },
  { "adults misted", "mist: 22 23 / 25 stage?, 31 stage?, 52 stage?, 60 stage?" },
  { "sub-adult misted", "mist: 14 14a / 25 stage?, 31 stage?, 52 stage?, 60 stage?" },
  { "sub-adults up misted", "mist: 14 14a 22 23 60 / 25 stage?, 31 stage?, 52 stage?" },
  { "nymphs misted", "mist: 4 5 7 14 14a / 3 held, 25 stage?, 31 stage?, 52 stage?, 60 stage?" },
  { "nymphs up misted", "mist: " ROUND_CASE_ALL " / 3 held" },
  { "house flies: fed", "fed: 31" },
  { "house flies: fed 3", "fed 3 house fly: 31" },
  { "house flies: fed 2 hydei, misted", "fed 2 hydei: 31; mist: 31" },
  { "hou fl: fed; 14 took", "fed: 31; 14 took" },
  { "moths: fed, misted; 31 refused", "fed: 7; mist: 7; 31 refused 1 house fly" },
  { "due moths: fed", "fed: 7" },
  { "moths fed", "fed moth: " ROUND_CASE_ALL " / 3 held" },
};

static const RoundBad bad_openings[] = {
  { "mi misted", CORE_ROUND_AMBIGUOUS, "mi", "misted|miomantis", 1 },
  { "m: misted", CORE_ROUND_AMBIGUOUS, "m", "melanogaster|moth|moths", 1 },
  { "L0 misted", CORE_ROUND_EXPECT_STAGE, "L0", "", 1 },
  { "L77 up misted", CORE_ROUND_EXPECT_STAGE, "L77", "", 1 },
  { "ghosts L7 misted", CORE_ROUND_NO_CUP, "ghosts L7", "", 1 },
  { "crickets: fed", CORE_ROUND_NO_CUP, "crickets", "", 1 },
  { "orchids fed 1 hydei", CORE_ROUND_UNKNOWN_WORD, "orchids", "", 1 },
  { "ghosts", CORE_ROUND_EXPECT_ACTION, "", "", 1 },
  { "ghosts 14 refused", CORE_ROUND_EXPECT_ACTION, "14", "", 1 },
  { "house flies:", CORE_ROUND_EXPECT_ACTION, "", "", 1 },
};

/* The round is of a Sunday. */
static const RoundGood days[] = {
  { "52 moulted yesterday", "; 52 -1d moult" },
  { "52 moulted on Saturday", "; 52 -1d moult" },
  { "52 moulted sat", "; 52 -1d moult" },
  { "52 moulted fell fri", "; 52 -2d moult #1" },
  { "52 on Friday moulted fell", "; 52 -2d moult #1" },
  { "52 yesterday moulted", "; 52 -1d moult" },
  { "52 moulted mo", "; 52 -6d moult" },
  { "52 moulted today", "; 52 moult" },
  { "14 31 drank yesterday; 7 belly 4 sat", "; 14 -1d drank; 31 -1d drank; 7 -1d belly 4" },
  { "14 refused 2 moths yesterday", "; 14 -1d refused 2 moth" },
  { "14 refused mo", "; 14 -6d refused" },
  { "14 refused mot", "; 14 refused moth" },
  { "14 refused yesterday; 14 took 2 hydei", "; 14 -1d refused; 14 took 2 hydei" },
  { "fed 2 hydei; 14 refused yesterday", "fed 2 hydei: " ROUND_CASE_ALL "; 14 -1d refused / 3 held" },
  { "fed 2 hydei; 14 moulted yesterday",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 -1d moult / 3 held" },
  { "60 dead yesterday", "; 60 -1d dead" },
  { "14 drank fri 31 gone", "; 14 -2d drank; 31 gone" },
  { "fed 2 hydei, except 14", "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60 / 3 held" },
  { "fed 2 hydei, except 14 31; 7 drank",
    "fed 2 hydei: 4 5 7 14a 22 23 25 52 60; 7 drank / 3 held" },
  { "fed 2 hydei, except 14 refused",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 refused 2 hydei / 3 held" },
};

static const RoundBad bad_days[] = {
  { "52 moulted Sunday", CORE_ROUND_WHICH_DAY, "Sunday", "", 1 },
  { "52 moulted sa", CORE_ROUND_EXPECT_NUMBER, "sa", "", 1 },
  { "fed 2 hydei, except 14 31 yesterday", CORE_ROUND_EXPECT_OUTCOME, "", "", 1 },
  { "fed 2 hydei, except 14; 31", CORE_ROUND_EXPECT_OUTCOME, "", "", 1 },
  { "52 yesterday", CORE_ROUND_EXPECT_OUTCOME, "", "", 1 },
  { "52 moulted yesterday; 52 moulted sat", CORE_ROUND_REPEATED, "52", "", 1 },
  { "60 dead yesterday; 60 drank", CORE_ROUND_TWICE, "60", "", 1 },
  { "fed 2 hydei yesterday", CORE_ROUND_EXPECT_ACTION, "yesterday", "", 1 },
};

static const RoundGood outcomes[] = {
  { "52 moulted well", "; 52 moult #0" },
  { "52 moulted limb", "; 52 moult #3" },
  { "52 moulted adult", "; 52 moult to 3" },
  { "52 moulted sub", "; 52 moult to 2" },
  { "52 moulted adult fell", "; 52 moult #1 to 3" },
  { "52 moulted: fell adult", "; 52 moult #1 to 3" },
  { "60 looks dead", "; 60 looks-dead" },
  { "60 sold", "; 60 left #0" },
  { "60 left", "; 60 left" },
  { "60 given away", "; 60 left #1" },
  { "14 misted; 31 cleaned", "; 14 mist; 31 clean" },
  { "all misted, watered; 14 misted",
    "mist: 4 5 7 14a 22 23 25 31 52 60; water: " ROUND_CASE_ALL "; 14 mist / 3 held, 3 held" },
  { "looked; 3 looked", "look: " ROUND_CASE_ALL "; 3 look" },
};

/* The morning after: what was put in is gone, for all or by number. */
static const RoundGood gone[] = {
  { "gone", "gone: 3 4 14 / 5 nothing in, 7 nothing in, 14a nothing in, 22 nothing in, 23 nothing "
            "in, 25 nothing in, 31 nothing in, 52 nothing in, 60 nothing in" },
  { "ghosts gone; 4 refused", "gone: 3; 4 refused / 5 nothing in, 7 nothing in" },
  { "ghosts gone; 4 took", "gone: 3; 4 took / 5 nothing in, 7 nothing in" },
  { "ghosts gone, fed 1 hydei; 4 refused",
    "gone: 3 4; fed 1 hydei: 5 7; 4 refused 1 hydei / 5 nothing in, 7 nothing in, 3 held" },
  { "ghosts gone; 4 gone", "gone: 3; 4 gone / 5 nothing in, 7 nothing in" },
  { "ghosts gone; 3 4 skip", "gone: / 5 nothing in, 7 nothing in" },
  { "4 14 gone", "; 4 gone; 14 gone" },
};

static const RoundGood swaps[] = {
  { "swap 14 31", "; 14 swap 31; 31 swap 14" },
  { "swap 14 and 31", "; 14 swap 31; 31 swap 14" },
  { "swap 14, 31; 52 drank", "; 14 swap 31; 31 swap 14; 52 drank" },
  { "swap 14 31, 52 drank", "; 14 swap 31; 31 swap 14; 52 drank" },
  { "14 31 swapped", "; 14 swap 31; 31 swap 14" },
  { "misted, swap 14 31", "mist: " ROUND_CASE_ALL "; 14 swap 31; 31 swap 14 / 3 held" },
  { "misted; 14 drank; swap 3 14", "mist: " ROUND_CASE_ALL "; 14 drank; 3 swap 14; 14 swap 3 / 3 held" },
};

static const RoundBad bad_swaps[] = {
  { "swap 14", CORE_ROUND_EXPECT_TWO, "swap", "", 1 },
  { "swap", CORE_ROUND_EXPECT_TWO, "", "", 1 },
  { "swap 14 99", CORE_ROUND_NO_SUCH_NUMBER, "99", "", 1 },
  { "swap 14 14", CORE_ROUND_TWICE, "14", "", 1 },
  { "14 31 52 swapped", CORE_ROUND_EXPECT_TWO, "swapped", "", 1 },
  { "swap 14 31; swap 31 52", CORE_ROUND_TWICE, "31", "", 1 },
  { "swap 14 60; 60 dead", CORE_ROUND_TWICE, "60", "", 1 },
  { "swap h7 14", CORE_ROUND_EXPECT_TWO, "h7", "", 2 },
};

/* Of a lot: a bare "fruit flies" is what is proposed to it, or the only kind that fits. */
static const RoundGood lots[] = {
  { "H7 fed fruit flies; 3 dead; about 120 remain",
    "fed hydei: h7; h7 dead 3; h7 about remain 120" },
  { "h7 fed fruit flies, misted, 3 dead", "fed hydei: h7; mist: h7; h7 dead 3" },
  { "k2: fed fruit flies", "fed melanogaster: k2" },
  { "h7 fed", "fed: h7" },
  { "h7 fed 200 fruit flies", "fed 200 hydei: h7" },
  { "h7 misted", "mist: h7" },
  { "h7 3 dead", "; h7 dead 3" },
  { "h7; 96 remain", "; h7 remain 96" },
  { "h7 about 96 rem", "; h7 about remain 96" },
  { "h7 0 remain", "; h7 remain 0" },
  { "misted; h7 3 dead; 14 drank", "mist: " ROUND_CASE_ALL "; h7 dead 3; 14 drank / 3 held" },
  { "h7 fed fruit flies; h7 3 dead, h7 about 120 remain", "fed hydei: h7; h7 dead 3; h7 about remain 120" },
  { "h7 misted, h7 3 dead", "mist: h7; h7 dead 3" },
  { "h7 misted; k2 1 dead", "mist: h7; k2 dead 1" },
  { "misted, h7 about 90 remain, k2 1 dead",
    "mist: " ROUND_CASE_ALL "; h7 about remain 90; k2 dead 1 / 3 held" },
};

/* Whom all of it leaves out may be said first. */
static const RoundGood left_out_first[] = {
  { "all except 14 31 fed 2 hydei", "fed 2 hydei: 4 5 7 14a 22 23 25 52 60 / 3 held" },
  { "except 22-25, misted; 14 drank", "mist: 4 5 7 14 14a 31 52 60; 14 drank / 3 held" },
  { "all except 14: misted, looked", "mist: 4 5 7 14a 22 23 25 31 52 60; look: 3 4 5 7 14a 22 23 25 31 52 60 / 3 held" },
  { "ghosts except 5 misted", "mist: 4 7 / 3 held" },
};

static const RoundBad bad_left_out_first[] = {
  { "all except fed 2 hydei", CORE_ROUND_EXPECT_NUMBER, "fed", "", 1 },
  { "all except 14", CORE_ROUND_EXPECT_ACTION, "", "", 1 },
  { "all except 8 misted", CORE_ROUND_NO_SUCH_NUMBER, "8", "", 1 },
  { "all except 14 misted; 14 drank", CORE_ROUND_TWICE, "14", "", 1 },
  { "misted; 8 dead", CORE_ROUND_A_COUNT, "8", "h7|k2", 1 },
};

static const RoundBad bad_lots[] = {
  { "h7", CORE_ROUND_EXPECT_ACTION, "", "", 1 },
  { "h misted", CORE_ROUND_UNKNOWN_WORD, "h", "", 1 },
  { "h8 misted", CORE_ROUND_UNKNOWN_WORD, "h8", "", 1 },
  { "h7 3 moulted", CORE_ROUND_EXPECT_ACTION, "3", "", 1 },
  { "h7 dead", CORE_ROUND_EXPECT_LOT, "dead", "", 1 },
  { "misted; h7 dead", CORE_ROUND_EXPECT_LOT, "dead", "", 1 },
  { "h7 misted; 3 moulted", CORE_ROUND_EXPECT_LOT, "moulted", "", 1 },
  { "h7 misted; 3", CORE_ROUND_EXPECT_LOT, "", "", 1 },
  { "h7 misted; about dead", CORE_ROUND_EXPECT_LOT, "dead", "", 1 },
  { "h7 3 dead; 4 dead", CORE_ROUND_TWICE, "4", "", 1 },
  { "h7 0 dead", CORE_ROUND_BAD_VALUE, "0", "", 1 },
  { "h7 100001 remain", CORE_ROUND_BAD_VALUE, "100001", "", 1 },
  { "h7 3a dead", CORE_ROUND_BAD_VALUE, "3a", "", 1 },
  { "misted; h7 3a dead", CORE_ROUND_BAD_VALUE, "3a", "", 1 },
  { "fed fruit flies", CORE_ROUND_AMBIGUOUS, "fruit", "fruit flies small|fruit flies large", 1 },
  { "misted; 14 fed fruit flies", CORE_ROUND_AMBIGUOUS, "fruit",
    "fruit flies small|fruit flies large", 1 },
};

#define GOOD(rows) round_case_good (rows, G_N_ELEMENTS (rows))
#define BAD(rows) round_case_bad (rows, G_N_ELEMENTS (rows))

static void
test_openings (void)
{
  GOOD (openings);
  BAD (bad_openings);
}

static void
test_days (void)
{
  GOOD (days);
  BAD (bad_days);
}

static void
test_outcomes (void)
{
  GOOD (outcomes);
}

static void
test_gone (void)
{
  GOOD (gone);
}

static void
test_swaps (void)
{
  GOOD (swaps);
  BAD (bad_swaps);
}

static void
test_lots (void)
{
  GOOD (lots);
  BAD (bad_lots);
}

static void
test_left_out_first (void)
{
  GOOD (left_out_first);
  BAD (bad_left_out_first);
}

/* A round that would write nothing for all says why, and what to do. */
static void
test_nobody (void)
{
  static const struct
  {
    gsize first, n;
    const char *line;
    CoreRoundError error;
    const char *candidates;
  } rows[] = {
    { 13, 2, "fed 2 hydei", CORE_ROUND_ONLY_LOTS, "h7 k2" },
    { 13, 2, "due misted; h7 3 dead", CORE_ROUND_ONLY_LOTS, "h7 k2" },
    { 13, 2, "h7 misted", CORE_ROUND_OK, "" },
    { 13, 2, "h7 3 dead", CORE_ROUND_OK, "" },
    { 0, 0, "fed 2 hydei", CORE_ROUND_NOBODY, "" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreRoundCup cups[ROUND_CASE_CUPS];
      CoreRoundShelf shelf = round_case_shelf (cups);
      CoreRoundTerm terms[] = { { "h7", CORE_WORD_LOT, 0 }, { "k2", CORE_WORD_LOT, 1 },
                                { "fed", CORE_WORD_FED, 0 }, { "misted", CORE_WORD_MISTED, 0 },
                                { "dead", CORE_WORD_DEAD, 0 }, { "due", CORE_WORD_DUE, 0 },
                                { "hydei", CORE_WORD_PREY, CORE_PREY_HYDEI } };
      g_autoptr (GString) named = g_string_new (NULL);
      CoreRoundLine line;

      shelf.cups += rows[i].first;
      shelf.n_cups = rows[i].n;
      (void) core_round_parse (rows[i].line, terms, G_N_ELEMENTS (terms), &shelf, &line);
      g_test_message ("%s", rows[i].line);
      g_assert_cmpuint (line.n_problems, ==, rows[i].error == CORE_ROUND_OK ? 0 : 1);
      if (line.n_problems > 0)
        g_assert_cmpint (line.problems[0].error, ==, rows[i].error);
      for (gsize k = 0; line.n_problems > 0 && k < line.problems[0].n_candidates; k++)
        g_string_append_printf (named, "%s%s", k > 0 ? " " : "", line.problems[0].candidates[k]);
      g_assert_cmpstr (named->str, ==, rows[i].candidates);
      core_round_line_clear (&line);
    }
}

/* In the other scheme the hatchling is L2: the same animals are one number higher. */
static void
test_scheme (void)
{
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);
  CoreRoundLine line;
  CoreRoundPlan plan;
  g_autofree char *text = NULL;

  shelf.scheme = 2;
  g_assert_cmpint (
    core_round_parse ("ghosts L6+ looked", round_case_terms, round_case_n_terms, &shelf, &line),
    ==, CORE_OK);
  g_assert_cmpint (core_round_resolve (&line, &shelf, &plan), ==, CORE_OK);
  text = round_case_say (&line, &shelf, &plan);
  g_assert_cmpstr (text, ==, "look: 5 7");
  core_round_plan_clear (&plan);
  core_round_line_clear (&line);
  g_assert_cmpint (
    core_round_parse ("L1 looked", round_case_terms, round_case_n_terms, &shelf, &line), ==,
    CORE_BAD_INPUT);
  g_assert_cmpint (line.problems[0].error, ==, CORE_ROUND_EXPECT_STAGE);
  core_round_line_clear (&line);
}

/* What is understood of a line with a problem can be shown: problems in the order of the line,
 * each part with its place in it. */
static void
test_partly (void)
{
  static const char text[] = "misted, danced; 14 refused; 99 dead; 31 drank";
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);
  CoreRoundLine line;
  CoreRoundPlan plan;
  g_autofree char *said = NULL;

  g_assert_cmpint (core_round_parse (text, round_case_terms, round_case_n_terms, &shelf, &line),
                   ==, CORE_BAD_INPUT);
  g_assert_cmpuint (line.n_problems, ==, 2);
  g_assert_cmpuint (line.problems[0].start, ==, strstr (text, "danced") - text);
  g_assert_cmpuint (line.problems[1].start, ==, strstr (text, "99") - text);
  g_assert_cmpuint (line.actions[0].start, ==, 0);
  g_assert_cmpuint (line.actions[0].length, ==, strlen ("misted"));
  g_assert_cmpint (core_round_resolve (&line, &shelf, &plan), ==, CORE_BAD_INPUT);
  said = round_case_say (&line, &shelf, &plan);
  g_assert_cmpstr (said, ==, "mist: " ROUND_CASE_ALL "; 14 refused; 31 drank / 3 held");
  core_round_plan_clear (&plan);
  core_round_line_clear (&line);
}

/* ---- a line changed by hand ---- */

static char *
say_line (const CoreRoundLine *line, const CoreRoundShelf *shelf)
{
  CoreRoundPlan plan;
  char *text;

  (void) core_round_resolve (line, shelf, &plan);
  text = round_case_say (line, shelf, &plan);
  core_round_plan_clear (&plan);
  return text;
}

static CoreRoundException
mark (const char *number, CoreRoundWord outcome, int code)
{
  CoreRoundException made = { .outcome = outcome, .code = code, .prey = -1 };

  g_strlcpy (made.number, number, sizeof made.number);
  return made;
}

#define SAYS(expected)                                                                             \
  G_STMT_START                                                                                     \
  {                                                                                                \
    g_autofree char *said = say_line (&line, &shelf);                                              \
                                                                                                   \
    g_assert_cmpstr (said, ==, expected);                                                          \
  }                                                                                                \
  G_STMT_END

static void
test_edit (void)
{
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);
  CoreRoundException refused = mark ("14", CORE_WORD_REFUSED, -1);
  CoreRoundException fell = mark ("14", CORE_WORD_MOULTED, CORE_MOULT_FELL);
  CoreRoundException dead = mark ("14", CORE_WORD_DEAD, -1);
  CoreRoundAction fed = { .action = CORE_WORD_FED, .prey = CORE_PREY_HYDEI, .n = 1 };
  CoreRoundLine line = core_round_line_none (), copy;

  g_assert_cmpint (core_round_toggle_mark (&line, &refused), ==, CORE_OK);
  SAYS ("; 14 refused");
  g_assert_true (core_round_has_mark (&line, &refused));
  g_assert_cmpint (core_round_toggle_mark (&line, &fell), ==, CORE_OK); /* in its place */
  SAYS ("; 14 moult #1");
  g_assert_cmpint (core_round_toggle_mark (&line, &dead), ==, CORE_OK);
  SAYS ("; 14 dead");
  g_assert_cmpint (core_round_line_copy (&line, &copy), ==, CORE_OK);
  g_assert_cmpint (core_round_toggle_mark (&line, &dead), ==, CORE_OK); /* taken back */
  SAYS ("");
  g_assert_true (core_round_has_mark (&copy, &dead)); /* a copy is its own */
  core_round_line_clear (&copy);
  g_assert_cmpint (core_round_set_action (&line, &fed), ==, CORE_OK);
  fed.n = 2;
  g_assert_cmpint (core_round_set_action (&line, &fed), ==, CORE_OK); /* one of each */
  SAYS ("fed 2 hydei: " ROUND_CASE_ALL " / 3 held");
  g_assert_cmpint (core_round_get_action (&line, CORE_WORD_FED)->n, ==, 2);
  core_round_drop_action (&line, CORE_WORD_FED);
  core_round_drop_action (&line, CORE_WORD_FED);
  g_assert_null (core_round_get_action (&line, CORE_WORD_FED));
  core_round_line_clear (&line);
}

/* What is due for a lot is not done by a line that speaks of all, and it says so. */
static void
test_lots_wait (void)
{
  static const RoundGood rows[] = {
    { "fed 2 hydei", "fed 2 hydei: " ROUND_CASE_ALL " / 3 held, h7 lot" },
    { "due fed 2 hydei, misted", "fed 2 hydei: 7; mist: 5 / h7 lot" },
    { "misted", "mist: " ROUND_CASE_ALL " / 3 held" },
    { "14 fed 2 hydei", "; 14 fed 2 hydei" },
  };
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);

  cups[13].due_food = true;
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreRoundLine line;
      CoreRoundPlan plan;
      g_autofree char *text = NULL;

      if (core_round_parse (rows[i].line, round_case_terms, round_case_n_terms, &shelf, &line) == CORE_OK &&
          core_round_resolve (&line, &shelf, &plan) == CORE_OK)
        {
          text = round_case_say (&line, &shelf, &plan);
          g_assert_cmpstr (text, ==, rows[i].writes);
          core_round_plan_clear (&plan);
        }
      else
        g_assert_not_reached ();
      core_round_line_clear (&line);
    }
}

/* Half a swap is none; a cup is cleared of all that is said of it. */
static void
test_edit_swap (void)
{
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);
  CoreRoundException skip = mark ("14", CORE_WORD_SKIP, -1);
  CoreRoundLine line;

  g_assert_cmpint (core_round_parse ("swap 14 31; 31 drank; 7 belly 4; 7 drank", round_case_terms,
                                     round_case_n_terms, &shelf, &line),
                   ==, CORE_OK);
  g_assert_cmpint (core_round_toggle_mark (&line, &skip), ==, CORE_OK);
  SAYS ("; 31 drank; 7 belly 4; 7 drank");
  core_round_unmark (&line, "7");
  SAYS ("; 31 drank");
  core_round_unmark (&line, "99");
  SAYS ("; 31 drank");
  core_round_line_clear (&line);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/round-grammar/openings", test_openings);
  g_test_add_func ("/core/round-grammar/days", test_days);
  g_test_add_func ("/core/round-grammar/outcomes", test_outcomes);
  g_test_add_func ("/core/round-grammar/gone", test_gone);
  g_test_add_func ("/core/round-grammar/swaps", test_swaps);
  g_test_add_func ("/core/round-grammar/lots", test_lots);
  g_test_add_func ("/core/round-grammar/lots-wait", test_lots_wait);
  g_test_add_func ("/core/round-grammar/left-out-first", test_left_out_first);
  g_test_add_func ("/core/round-grammar/nobody", test_nobody);
  g_test_add_func ("/core/round-grammar/scheme", test_scheme);
  g_test_add_func ("/core/round-grammar/partly", test_partly);
  g_test_add_func ("/core/round-grammar/edit", test_edit);
  g_test_add_func ("/core/round-grammar/edit-swap", test_edit_swap);
  return g_test_run ();
}
