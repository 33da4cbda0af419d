/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-round.c — the round line: what is read, what it writes, what is refused. */
#include <glib.h>
#include <string.h>

#include "core/core-entry.h"
#include "core/core-plan.h"
#include "core/core-round.h"

static const CoreRoundTerm terms[] = {
  { "all", CORE_WORD_ALL, 0 },
  { "everyone", CORE_WORD_ALL, 0 },
  { "due", CORE_WORD_DUE, 0 },
  { "except", CORE_WORD_EXCEPT, 0 },
  { "but", CORE_WORD_EXCEPT, 0 },
  { "without", CORE_WORD_EXCEPT, 0 },
  { "at", CORE_WORD_AT, 0 },
  { "and", CORE_WORD_AT, 0 },
  { "with", CORE_WORD_AT, 0 },
  { "fed", CORE_WORD_FED, 0 },
  { "given", CORE_WORD_FED, 0 },
  { "misted", CORE_WORD_MISTED, 0 },
  { "watered", CORE_WORD_WATERED, 0 },
  { "cleaned", CORE_WORD_CLEANED, 0 },
  { "looked", CORE_WORD_LOOKED, 0 },
  { "melanogaster", CORE_WORD_PREY, CORE_PREY_MELANOGASTER },
  { "hydei", CORE_WORD_PREY, CORE_PREY_HYDEI },
  { "house fly", CORE_WORD_PREY, CORE_PREY_HOUSE_FLY },
  { "house flies", CORE_WORD_PREY, CORE_PREY_HOUSE_FLY },
  { "green bottle", CORE_WORD_PREY, CORE_PREY_GREEN_BOTTLE },
  { "green bottles", CORE_WORD_PREY, CORE_PREY_GREEN_BOTTLE },
  { "moth", CORE_WORD_PREY, CORE_PREY_MOTH },
  { "moths", CORE_WORD_PREY, CORE_PREY_MOTH },
  { "cricket", CORE_WORD_PREY, CORE_PREY_CRICKET },
  { "crickets", CORE_WORD_PREY, CORE_PREY_CRICKET },
  { "took", CORE_WORD_TOOK, 0 },
  { "ate", CORE_WORD_TOOK, 0 },
  { "refused", CORE_WORD_REFUSED, 0 },
  { "moulted", CORE_WORD_MOULTED, 0 },
  { "fell", CORE_WORD_FELL, 0 },
  { "stuck", CORE_WORD_STUCK, 0 },
  { "dead", CORE_WORD_DEAD, 0 },
  { "died", CORE_WORD_DEAD, 0 },
  { "escaped", CORE_WORD_ESCAPED, 0 },
  { "left", CORE_WORD_LEFT, 0 },
  { "given away", CORE_WORD_LEFT, 0 },
  { "skip", CORE_WORD_SKIP, 0 },
  { "belly", CORE_WORD_BELLY, 0 },
  { "gone", CORE_WORD_GONE, 0 },
  { "drank", CORE_WORD_DRANK, 0 },
  { "hanging", CORE_WORD_SIGN, CORE_SIGN_HANGING },
  { "dull", CORE_WORD_SIGN, CORE_SIGN_DULL },
  { "häutet", CORE_WORD_SIGN, CORE_SIGN_SPLITTING },
};

/* The shelf: 7 14 14a 22 23 25 31 52 60, 3 (held), 4 (an adult male too small for
 * house flies), 5 (does not eat crickets), 9 (dead). */
static const char *const shelf[] = { "3",  "4",  "5",  "7",  "9",  "14", "14a",
                                     "22", "23", "25", "31", "52", "60" };

static void
make_cups (CoreRoundCup cups[G_N_ELEMENTS (shelf)])
{
  memset (cups, 0, G_N_ELEMENTS (shelf) * sizeof *cups);
  for (gsize i = 0; i < G_N_ELEMENTS (shelf); i++)
    {
      g_strlcpy (cups[i].number, shelf[i], sizeof cups[i].number);
      cups[i].living_single = true;
      cups[i].usual_prey = -1;
    }
  cups[0].held = true;
  cups[1].prey_fit[CORE_PREY_HOUSE_FLY] = CORE_PREY_TOO_LARGE;
  cups[2].prey_fit[CORE_PREY_CRICKET] = CORE_PREY_AVOID;
  cups[4].living_single = false;
  cups[3].due_food = true;
  cups[3].usual_prey = CORE_PREY_MOTH;
  cups[3].usual_n = 3;
}

static void
append_prey (GString *text, int prey, int n)
{
  const char *const *words = core_kind_key (CORE_KIND_FED, CORE_KEY_PREY)->words;

  if (n > 0)
    g_string_append_printf (text, " %d", n);
  if (prey >= 0)
    g_string_append_printf (text, " %s", words[prey]);
}

static const char *
word_name (CoreRoundWord word)
{
  static const char *const names[] = { "all",   "except", "fed",     "mist",    "water", "clean",
                                       "look",  "prey",   "took",    "refused", "moult", "fell",
                                       "stuck", "dead",   "escaped", "left",    "skip",  "belly",
                                       "gone",  "drank",  "sign",    "at",      "due" };

  return names[word];
}

/* "fed 2 hydei: 4 5 7; 14 refused 2 hydei / 3 held"; without an action "; 14 refused" */
static char *
describe (const CoreRoundLine *line, const CoreRoundCup *cups, const CoreRoundPlan *plan)
{
  static const char *const why[] = { "held", "small", "not its prey" };
  GString *text = g_string_new (NULL);
  gsize i = 0;

  for (gsize a = 0; a < line->n_actions; a++)
    {
      g_string_append_printf (text, "%s%s", a > 0 ? "; " : "", word_name (line->actions[a].action));
      append_prey (text, line->actions[a].prey, line->actions[a].n);
      g_string_append_c (text, ':');
      for (; i < plan->n_writes && !plan->writes[i].exception &&
             (i == 0 || plan->writes[i].cup > plan->writes[i - 1].cup ||
              plan->writes[i].what == line->actions[a].action) &&
             plan->writes[i].what == line->actions[a].action;
           i++)
        g_string_append_printf (text, " %s", cups[plan->writes[i].cup].number);
    }
  for (; i < plan->n_writes; i++)
    {
      const CoreRoundWrite *w = &plan->writes[i];

      g_assert_true (w->exception);
      g_string_append_printf (text, "; %s %s", cups[w->cup].number, word_name (w->what));
      append_prey (text, w->prey, w->n);
      if (w->code >= 0)
        g_string_append_printf (text, " #%d", w->code);
      if (w->value > 0)
        g_string_append_printf (text, " %d", w->value);
    }
  for (i = 0; i < plan->n_left_out; i++)
    g_string_append_printf (text, "%s%s %s", i > 0 ? ", " : " / ",
                            cups[plan->left_out[i].cup].number, why[plan->left_out[i].why]);
  return g_string_free (text, FALSE);
}

typedef struct
{
  const char *line, *writes;
} GoodRow;

#define MOST "4 5 7 14 14a 22 23 25 31 52 60"

static const GoodRow good[] = {
  { "All fed 2 house flies, except 14 31 refused",
    "fed 2 house fly: 5 7 14a 22 23 25 52 60; 14 refused 2 house fly; 31 refused 2 house fly"
    " / 3 held, 4 small" },
  { "all fed 2 house flies; 14 31 refused",
    "fed 2 house fly: 5 7 14a 22 23 25 52 60; 14 refused 2 house fly; 31 refused 2 house fly"
    " / 3 held, 4 small" },
  { "fed 2 hydei", "fed 2 hydei: " MOST " / 3 held" },
  { "FED 2 HYDEI.", "fed 2 hydei: " MOST " / 3 held" },
  { "f 2 hy", "fed 2 hydei: " MOST " / 3 held" },
  { "fed 2 hou", "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60 / 3 held, 4 small" },
  { "fed 2 hou fl", "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60 / 3 held, 4 small" },
  { "fed hydei", "fed hydei: " MOST " / 3 held" },
  { "fed 1 cricket", "fed 1 cricket: 4 7 14 14a 22 23 25 31 52 60 / 3 held, 5 not its prey" },
  { "misted", "mist: " MOST " / 3 held" },
  { "w", "water: " MOST " / 3 held" },
  { "all misted and watered", "mist: " MOST "; water: " MOST " / 3 held, 3 held" },
  { "all misted, cleaned", "mist: " MOST "; clean: " MOST " / 3 held, 3 held" },
  { "looked at all", "look: 3 " MOST },
  { "looked", "look: 3 " MOST },
  { "all fed 3 hydei, misted, looked at all; 7 belly 5",
    "fed 3 hydei: " MOST "; mist: " MOST "; look: 3 " MOST "; 7 belly 5 / 3 held, 3 held" },
  { "looked; 7 belly 5", "look: 3 " MOST "; 7 belly 5" },
  { "looked; 52 moulted fell", "look: 3 " MOST "; 52 moult #1" },
  { "looked; 52 moulted stuck", "look: 3 " MOST "; 52 moult #2" },
  { "looked; 52 moulted", "look: 3 " MOST "; 52 moult" },
  { "looked; 60 dead", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 dead" },
  { "looked; 60 de", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 dead" },
  { "looked; 60 escaped", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 escaped" },
  { "looked; 60 le", "look: 3 4 5 7 14 14a 22 23 25 31 52; 60 left" },
  { "looked; 22-25 skip", "look: 3 4 5 7 14 14a 31 52 60" },
  { "looked; 22 - 25 skip", "look: 3 4 5 7 14 14a 31 52 60" },
  { "looked; 22\xe2\x80\x93"
    "25 skip",
    "look: 3 4 5 7 14 14a 31 52 60" },
  { "looked; 13-22 gone", "look: 3 " MOST "; 14 gone; 14a gone; 22 gone" },
  { "looked; 14A drank", "look: 3 " MOST "; 14a drank" },
  { "looked; 007 drank", "look: 3 " MOST "; 7 drank" },
  { "looked; 14 hanging", "look: 3 " MOST "; 14 sign #4" },
  { "looked; 14 häutet", "look: 3 " MOST "; 14 sign #6" },
  { "looked; 14 hanging, 14 dull", "look: 3 " MOST "; 14 sign #4; 14 sign #2" },
  { "looked; 14, 31 and 52 drank", "look: 3 " MOST "; 14 drank; 31 drank; 52 drank" },
  { "looked; 14 drank 31 gone", "look: 3 " MOST "; 14 drank; 31 gone" },
  { "looked; 7 belly 5 14 belly 2", "look: 3 " MOST "; 7 belly 5; 14 belly 2" },
  { "looked, except: 14 drank; 31 gone.", "look: 3 " MOST "; 14 drank; 31 gone" },
  { "looked, except 14 drank, except 31 gone", "look: 3 " MOST "; 14 drank; 31 gone" },
  { "looked, 14 drank", "look: 3 " MOST "; 14 drank" },
  { "looked but 14 drank", "look: 3 " MOST "; 14 drank" },
  { "looked;", "look: 3 " MOST },
  { "looked except", "look: 3 " MOST },
  { "  \t looked \xc2\xa0 ;  14   drank ", "look: 3 " MOST "; 14 drank" },
  { "fed 2 hydei, misted; 14 took",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: " MOST "; 14 took 2 hydei / 3 held, 3 held" },
  { "fed 2 hydei, misted; 14 moulted",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: " MOST "; 14 moult / 3 held, 3 held" },
  { "fed 2 hydei, misted; 14 dead",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: 4 5 7 14a 22 23 25 31 52 60; 14 dead"
    " / 3 held, 3 held" },
  { "fed 2 hydei, misted; 14 skip",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; mist: 4 5 7 14a 22 23 25 31 52 60"
    " / 3 held, 3 held" },
  { "fed 2 hydei; 14 belly 4, 31 drank, 52 hanging",
    "fed 2 hydei: " MOST "; 14 belly 4; 31 drank; 52 sign #4 / 3 held" },
  { "fed 2 hydei; 14 refused; 14 belly 4",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 refused 2 hydei; 14 belly 4 / 3 held" },
  { "fed 2 hydei; 3 took", "fed 2 hydei: " MOST "; 3 took 2 hydei" },
  { "fed 2 house flies; 4 refused",
    "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60; 4 refused 2 house fly / 3 held" },
  { "all 2 hydei fed", "fed 2 hydei: " MOST " / 3 held" },
  { "with hydei fed", "fed hydei: " MOST " / 3 held" },
  { "misted, 2 hydei fed, 14 took",
    "mist: " MOST "; fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 took 2 hydei / 3 held, 3 held" },
  { "fed all 2 hydei", "fed 2 hydei: " MOST " / 3 held" },
  { "fed 2 hydei all, misted all but 14 drank",
    "fed 2 hydei: " MOST "; mist: " MOST "; 14 drank / 3 held, 3 held" },
  { "looked ex 14 drank", "look: 3 " MOST "; 14 drank" },
  { "due fed 1 hydei", "fed 1 hydei: 7" },
  { "all due fed", "fed: 7" },
  { "due fed 1 hydei; 14 took", "fed 1 hydei: 7; 14 took 1 hydei" },
  { "due fed; 7 refused", "fed:; 7 refused 3 moth" },
  { "misted; 14 refused", "mist: " MOST "; 14 refused / 3 held" },
};

/* Of single cups: no action, a prey of its own. */
static const GoodRow good_single[] = {
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
  { "14 given", "; 14 left" },
  { "14 given 2 moths", "; 14 fed 2 moth" },
  { "2 moths fed", "fed 2 moth: " MOST " / 3 held" },
  { "14 moths fed", "fed 14 moth: " MOST " / 3 held" },
  { "fed 2 hydei; 14 fed 2 green bottles",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 fed 2 green bottle / 3 held" },
  { "fed 2 hydei, 14 fed moths", "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 fed moth / 3 held" },
  { "fed 2 hydei; 14 refused moths, 3 fed",
    "fed 2 hydei: 4 5 7 14a 22 23 25 31 52 60; 14 refused moth; 3 fed 2 hydei" },
  { "fed 2 house flies; 4 fed 1 house fly",
    "fed 2 house fly: 5 7 14 14a 22 23 25 31 52 60; 4 fed 1 house fly / 3 held" },
  { "misted; 14 ate 2 hydei", "mist: " MOST "; 14 took 2 hydei / 3 held" },
};

static void
check_good (const GoodRow *rows, gsize n)
{
  CoreRoundCup cups[G_N_ELEMENTS (shelf)];

  make_cups (cups);
  for (gsize i = 0; i < n; i++)
    {
      CoreRoundLine line;
      CoreRoundPlan plan;
      g_autofree char *text = NULL;

      g_test_message ("%s", rows[i].line);
      g_assert_cmpint (core_round_parse (rows[i].line, terms, G_N_ELEMENTS (terms), cups,
                                         G_N_ELEMENTS (cups), &line),
                       ==, CORE_OK);
      g_assert_cmpuint (line.n_problems, ==, 0);
      g_assert_cmpint (core_round_resolve (&line, cups, G_N_ELEMENTS (cups), &plan), ==, CORE_OK);
      text = describe (&line, cups, &plan);
      g_assert_cmpstr (text, ==, rows[i].writes);
      core_round_plan_clear (&plan);
      core_round_line_clear (&line);
    }
}

static void
test_good (void)
{
  check_good (good, G_N_ELEMENTS (good));
}

/* Only cups that are named by number: each write is an exception. */
static void
test_single (void)
{
  check_good (good_single, G_N_ELEMENTS (good_single));
}

/* The usual prey of a cup fills in what the line does not say. */
static void
test_usual_prey (void)
{
  CoreRoundCup cups[G_N_ELEMENTS (shelf)];
  CoreRoundLine line;
  CoreRoundPlan plan;

  make_cups (cups);
  g_assert_cmpint (core_round_parse ("due fed", terms, G_N_ELEMENTS (terms), cups,
                                     G_N_ELEMENTS (cups), &line),
                   ==, CORE_OK);
  g_assert_cmpint (core_round_resolve (&line, cups, G_N_ELEMENTS (cups), &plan), ==, CORE_OK);
  g_assert_cmpuint (plan.n_writes, ==, 1);
  g_assert_cmpint (plan.writes[0].prey, ==, CORE_PREY_MOTH);
  g_assert_cmpint (plan.writes[0].n, ==, 3);
  g_assert_false (plan.writes[0].exception);
  core_round_plan_clear (&plan);
  core_round_line_clear (&line);
}

/* Another language, with letters outside ASCII and the verb at the end. */
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
  static const GoodRow lines[] = {
    { "Alle mit 2 Stubenfliegen gefüttert, außer 14 31 verweigert",
      "fed 2 house fly: 5 7 14a 22 23 25 52 60; 14 refused 2 house fly; 31 refused 2 house fly"
      " / 3 held, 4 small" },
    { "alle gefü 2 stu auß 52 gehä gestü",
      "fed 2 house fly: 5 7 14 14a 22 23 25 31 60; 52 moult #1 / 3 held, 4 small" },
    { "gefüttert 3 große frucht", "fed 3 hydei: " MOST " / 3 held" },
  };
  CoreRoundCup cups[G_N_ELEMENTS (shelf)];

  make_cups (cups);
  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      CoreRoundLine line;
      CoreRoundPlan plan;
      g_autofree char *text = NULL;

      g_test_message ("%s", lines[i].line);
      g_assert_cmpint (core_round_parse (lines[i].line, german, G_N_ELEMENTS (german), cups,
                                         G_N_ELEMENTS (cups), &line),
                       ==, CORE_OK);
      g_assert_cmpint (core_round_resolve (&line, cups, G_N_ELEMENTS (cups), &plan), ==, CORE_OK);
      text = describe (&line, cups, &plan);
      g_assert_cmpstr (text, ==, lines[i].writes);
      core_round_plan_clear (&plan);
      core_round_line_clear (&line);
    }
}

typedef struct
{
  const char *line;
  CoreRoundError error;
  const char *at;         /* the text that the first problem marks */
  const char *candidates; /* joined by | */
  gsize n_problems;
} BadRow;

static const BadRow bad[] = {
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
  { "fed 2 hydei; 14 l", CORE_ROUND_UNKNOWN_WORD, "l", "left", 1 },
  { "fed 2 hydei; 14 e", CORE_ROUND_UNKNOWN_WORD, "e", "escaped", 1 },
  { "fed 2 hydei; 14 fell", CORE_ROUND_UNKNOWN_WORD, "fell", "", 1 },
  { "fed 2 hydei; 14 refused drank", CORE_ROUND_EXPECT_NUMBER, "drank", "", 1 },
  { "fed 2 hydei; 8 refused", CORE_ROUND_NO_SUCH_NUMBER, "8", "", 1 },
  { "fed 2 hydei; 9 refused", CORE_ROUND_NO_SUCH_NUMBER, "9", "", 1 },
  { "fed 2 hydei; 14b refused", CORE_ROUND_NO_SUCH_NUMBER, "14b", "", 1 },
  { "fed 2 hydei; 8 10 refused", CORE_ROUND_NO_SUCH_NUMBER, "8", "", 2 },
  { "fed 2 hydei; 100000000000000000007 refused", CORE_ROUND_NO_SUCH_NUMBER,
    "100000000000000000007", "", 1 },
  { "fed 2 hydei; 32-50 refused", CORE_ROUND_NO_SUCH_NUMBER, "32-50", "", 1 },
  { "fed 2 hydei; 25-22 refused", CORE_ROUND_BAD_VALUE, "25-22", "", 1 },
  { "fed 2 hydei; 22- refused", CORE_ROUND_EXPECT_OUTCOME, "-", "", 1 },
  { "fed 2 hydei; -22 refused", CORE_ROUND_EXPECT_NUMBER, "-", "", 1 },
  { "looked; 7 belly", CORE_ROUND_EXPECT_VALUE, "", "", 1 },
  { "looked; 7 belly fat", CORE_ROUND_EXPECT_VALUE, "fat", "", 2 },
  { "looked; 7 belly 6", CORE_ROUND_BAD_VALUE, "6", "", 1 },
  { "looked; 7 belly 0", CORE_ROUND_BAD_VALUE, "0", "", 1 },
  { "looked; 7 belly 31", CORE_ROUND_BAD_VALUE, "31", "", 1 },
  { "fed 2 hydei; 14 refused; 14 took", CORE_ROUND_TWICE, "14", "", 1 },
  { "fed 2 hydei; 14 14 refused", CORE_ROUND_TWICE, "14", "", 1 },
  { "fed 2 hydei; 14 dead; 14 belly 3", CORE_ROUND_TWICE, "14", "", 1 },
  { "fed 2 hydei; 14 skip; 14 drank", CORE_ROUND_TWICE, "14", "", 1 },
  { "fed 2 hydei; 14 moulted; 14 refused", CORE_ROUND_TWICE, "14", "", 1 },
  { "looked; 7 belly 2; 7 belly 3", CORE_ROUND_TWICE, "7", "", 1 },
  { "looked; 22-25 drank; 23 drank", CORE_ROUND_TWICE, "23", "", 1 },
  { "misted, misted, misted, misted, misted, misted, misted", CORE_ROUND_TOO_LONG, "misted", "",
    1 },
  { "all mis\x01ted", CORE_ROUND_UNKNOWN_WORD, "mis\x01ted", "", 1 },
  { "all \xff\xfe", CORE_ROUND_UNKNOWN_WORD, "\xff\xfe", "", 1 },
  { "looked; a,b,c,d,e,f,g,h,i,j,k", CORE_ROUND_EXPECT_NUMBER, "a", "", CORE_ROUND_MAX_PROBLEMS },
};

static char *
joined (const CoreRoundProblem *problem)
{
  GString *text = g_string_new (NULL);

  for (gsize i = 0; i < problem->n_candidates; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "|" : "", problem->candidates[i]);
  return g_string_free (text, FALSE);
}

static void
test_bad (void)
{
  CoreRoundCup cups[G_N_ELEMENTS (shelf)];

  make_cups (cups);
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      const BadRow *row = &bad[i];
      const CoreRoundProblem *first;
      g_autofree char *marked = NULL;
      g_autofree char *candidates = NULL;
      CoreRoundLine line;
      CoreRoundPlan plan;

      g_test_message ("%s", row->line);
      g_assert_cmpint (core_round_parse (row->line, terms, G_N_ELEMENTS (terms), cups,
                                         G_N_ELEMENTS (cups), &line),
                       ==, CORE_BAD_INPUT);
      g_assert_cmpuint (line.n_problems, ==, row->n_problems);
      first = &line.problems[0];
      g_assert_cmpint (first->error, ==, row->error);
      g_assert_cmpuint (first->start + first->length, <=, strlen (row->line));
      marked = g_strndup (row->line + first->start, first->length);
      g_assert_cmpstr (marked, ==, row->at);
      candidates = joined (first);
      g_assert_cmpstr (candidates, ==, row->candidates);
      g_assert_cmpint (core_round_resolve (&line, cups, G_N_ELEMENTS (cups), &plan), ==,
                       CORE_BAD_INPUT);
      core_round_line_clear (&line);
    }
}

static void
test_long (void)
{
  CoreRoundCup cups[G_N_ELEMENTS (shelf)];
  g_autofree char *line10k = g_strnfill (10 * 1024, 'x');
  g_autoptr (GString) many = g_string_new ("looked;");
  g_autoptr (GString) words = g_string_new (NULL);
  CoreRoundLine line;

  make_cups (cups);
  g_assert_cmpint (core_round_parse (line10k, terms, G_N_ELEMENTS (terms), cups,
                                     G_N_ELEMENTS (cups), &line),
                   ==, CORE_BAD_INPUT);
  g_assert_cmpint (line.problems[0].error, ==, CORE_ROUND_TOO_LONG);
  core_round_line_clear (&line);

  for (int i = 0; i < CORE_ROUND_MAX_EXCEPTIONS + 1; i++)
    g_string_append (many, " 7");
  g_string_append (many, " drank");
  g_assert_cmpint (core_round_parse (many->str, terms, G_N_ELEMENTS (terms), cups,
                                     G_N_ELEMENTS (cups), &line),
                   ==, CORE_BAD_INPUT);
  g_assert_cmpint (line.problems[0].error, ==, CORE_ROUND_TOO_LONG);
  g_assert_cmpuint (line.n_exceptions, <=, CORE_ROUND_MAX_EXCEPTIONS);
  core_round_line_clear (&line);

  for (int i = 0; i < 1300; i++)
    g_string_append (words, "zz ");
  g_assert_cmpint (core_round_parse (words->str, terms, G_N_ELEMENTS (terms), cups,
                                     G_N_ELEMENTS (cups), &line),
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
  CoreRoundCup cups[G_N_ELEMENTS (shelf)];
  guint64 state = 88172645463325252u;
  int accepted = 0;

  make_cups (cups);
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
      if (core_round_parse (text->str, terms, G_N_ELEMENTS (terms), cups, G_N_ELEMENTS (cups),
                            &line) == CORE_OK)
        {
          accepted++;
          g_assert_cmpuint (line.n_actions + line.n_exceptions, >, 0);
          g_assert_cmpint (core_round_resolve (&line, cups, G_N_ELEMENTS (cups), &plan), ==,
                           CORE_OK);
          core_round_plan_clear (&plan);
        }
      for (gsize p = 0; p < line.n_problems; p++)
        g_assert_cmpuint (line.problems[p].start + line.problems[p].length, <=, text->len);
      core_round_line_clear (&line);
    }
  g_assert_cmpint (accepted, >, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/round/good", test_good);
  g_test_add_func ("/core/round/single", test_single);
  g_test_add_func ("/core/round/usual-prey", test_usual_prey);
  g_test_add_func ("/core/round/german", test_german);
  g_test_add_func ("/core/round/bad", test_bad);
  g_test_add_func ("/core/round/long", test_long);
  g_test_add_func ("/core/round/noise", test_noise);
  return g_test_run ();
}
