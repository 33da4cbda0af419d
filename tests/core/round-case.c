/* SPDX-License-Identifier: GPL-3.0-or-later */
/* round-case.c — see round-case.h. */
#include "round-case.h"

#include <string.h>

#include "core/core-entry.h"

/* Two kinds stand on the shelf (0 ghosts, 1 dead leaf mantises) and two lots. */
const CoreRoundTerm round_case_terms[] = {
  { "all", CORE_WORD_ALL, 0 },
  { "everyone", CORE_WORD_ALL, 0 },
  { "due", CORE_WORD_DUE, 0 },
  { "except", CORE_WORD_EXCEPT, 0 },
  { "but", CORE_WORD_EXCEPT, 0 },
  { "without", CORE_WORD_EXCEPT, 0 },
  { "at", CORE_WORD_AT, 0 },
  { "on", CORE_WORD_AT, 0 },
  { "and", CORE_WORD_AT, 0 },
  { "with", CORE_WORD_AT, 0 },
  { "fed", CORE_WORD_FED, 0 },
  { "given", CORE_WORD_FED, 0 },
  { "misted", CORE_WORD_MISTED, 0 },
  { "watered", CORE_WORD_WATERED, 0 },
  { "cleaned", CORE_WORD_CLEANED, 0 },
  { "looked", CORE_WORD_LOOKED, 0 },
  { "melanogaster", CORE_WORD_PREY, CORE_PREY_MELANOGASTER },
  { "fruit flies small", CORE_WORD_PREY, CORE_PREY_MELANOGASTER },
  { "hydei", CORE_WORD_PREY, CORE_PREY_HYDEI },
  { "fruit flies large", CORE_WORD_PREY, CORE_PREY_HYDEI },
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
  { "limb lost", CORE_WORD_LIMB, 0 },
  { "well", CORE_WORD_GOOD, 0 },
  { "dead", CORE_WORD_DEAD, 0 },
  { "died", CORE_WORD_DEAD, 0 },
  { "looks dead", CORE_WORD_LOOKS_DEAD, 0 },
  { "escaped", CORE_WORD_ESCAPED, 0 },
  { "left", CORE_WORD_LEFT, 0 },
  { "sold", CORE_WORD_LEFT, 1 },
  { "given away", CORE_WORD_LEFT, 2 },
  { "skip", CORE_WORD_SKIP, 0 },
  { "belly", CORE_WORD_BELLY, 0 },
  { "gone", CORE_WORD_GONE, 0 },
  { "drank", CORE_WORD_DRANK, 0 },
  { "hanging", CORE_WORD_SIGN, CORE_SIGN_HANGING },
  { "dull", CORE_WORD_SIGN, CORE_SIGN_DULL },
  { "häutet", CORE_WORD_SIGN, CORE_SIGN_SPLITTING },
  { "swap", CORE_WORD_SWAP, 0 },
  { "swapped", CORE_WORD_SWAP, 0 },
  { "adults", CORE_WORD_STAGE, CORE_SEEN_ADULT },
  { "adult", CORE_WORD_STAGE, CORE_SEEN_ADULT },
  { "sub-adults", CORE_WORD_STAGE, CORE_SEEN_SUBADULT },
  { "sub-adult", CORE_WORD_STAGE, CORE_SEEN_SUBADULT },
  { "nymphs", CORE_WORD_STAGE, CORE_SEEN_NYMPH },
  { "up", CORE_WORD_UP, 0 },
  { "+", CORE_WORD_UP, 0 },
  { "from", CORE_WORD_FROM, 0 },
  { "yesterday", CORE_WORD_DAY, 1 },
  { "today", CORE_WORD_DAY, 0 },
  { "monday", CORE_WORD_WEEKDAY, 0 },
  { "mo", CORE_WORD_WEEKDAY, 0 },
  { "friday", CORE_WORD_WEEKDAY, 4 },
  { "saturday", CORE_WORD_WEEKDAY, 5 },
  { "sunday", CORE_WORD_WEEKDAY, 6 },
  { "about", CORE_WORD_ABOUT, 0 },
  { "remain", CORE_WORD_REMAIN, 0 },
  { "ghost mantis", CORE_WORD_SPECIES, 0 },
  { "phyllocrania paradoxa", CORE_WORD_SPECIES, 0 },
  { "dead leaf mantis", CORE_WORD_SPECIES, 1 },
  { "miomantis", CORE_WORD_SPECIES, 1 },
  { "h7", CORE_WORD_LOT, 13 },
  { "k2", CORE_WORD_LOT, 14 },
};
const gsize round_case_n_terms = G_N_ELEMENTS (round_case_terms);

static const char *const numbers[ROUND_CASE_CUPS] = { "3",  "4",  "5",  "7",  "9",
                                                      "14", "14a", "22", "23", "25",
                                                      "31", "52", "60", "h7", "k2" };

/* L4 L4 L5 L6, two sub-adult, two adult, the rest unknown; 60 is probably adult. */
static void
make_stages (CoreRoundCup cups[ROUND_CASE_CUPS])
{
  static const int moults[] = { 3, 3, 4, 5, 5, 6, 6, 7, 7, -1, -1, -1, 8 };

  for (gsize i = 0; i < ROUND_CASE_CUPS; i++)
    cups[i].moults = i < G_N_ELEMENTS (moults) ? moults[i] : -1;
  cups[5].subadult = cups[6].subadult = true;
  cups[7].adult = cups[8].adult = true;
  cups[12].maybe_adult = true;
}

CoreRoundShelf
round_case_shelf (CoreRoundCup cups[ROUND_CASE_CUPS])
{
  memset (cups, 0, ROUND_CASE_CUPS * sizeof *cups);
  for (gsize i = 0; i < ROUND_CASE_CUPS; i++)
    {
      g_strlcpy (cups[i].number, numbers[i], sizeof cups[i].number);
      cups[i].lot = i >= 13;
      cups[i].living_single = i < 13;
      cups[i].usual_prey = -1;
      cups[i].species = i < 4 ? 0 : i < 10 ? 1 : -1;
    }
  make_stages (cups);
  cups[0].held = true;
  cups[0].offered = cups[1].offered = cups[5].offered = true;
  cups[1].prey_fit[CORE_PREY_HOUSE_FLY] = CORE_PREY_TOO_LARGE;
  cups[2].prey_fit[CORE_PREY_CRICKET] = CORE_PREY_AVOID;
  cups[4].living_single = false;
  cups[3].due_food = true;
  cups[3].usual_prey = CORE_PREY_MOTH;
  cups[3].usual_n = 3;
  cups[2].due_mist = true;
  cups[10].usual_prey = CORE_PREY_HOUSE_FLY;
  cups[10].usual_n = 1;
  cups[13].usual_prey = CORE_PREY_HYDEI;
  cups[14].prey_fit[CORE_PREY_HYDEI] = CORE_PREY_TOO_LARGE;
  return (CoreRoundShelf){ cups, ROUND_CASE_CUPS, 1, 6 };
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
  static const char *const names[CORE_N_WORDS] = {
    "all",  "except", "fed",  "mist",  "water", "clean", "look", "prey", "took", "refused",
    "moult", "fell",  "stuck", "dead", "escaped", "left", "skip", "belly", "gone", "drank",
    "sign", "at",     "due",  "swap",  "looks-dead", "good", "limb", "stage", "up", "from", "day",
    "weekday", "about", "remain", "species", "lot"
  };

  return names[word];
}

static void
say_exception (GString *text, const CoreRoundCup *cups, const CoreRoundWrite *w)
{
  g_string_append_printf (text, "; %s", cups[w->cup].number);
  if (w->days_back > 0)
    g_string_append_printf (text, " -%dd", w->days_back);
  g_string_append_printf (text, " %s%s", w->about ? "about " : "", word_name (w->what));
  append_prey (text, w->prey, w->n);
  if (cups[w->cup].lot && w->n == 0)
    g_string_append (text, " 0");
  if (w->code >= 0)
    g_string_append_printf (text, " #%d", w->code);
  if (w->value > 0)
    g_string_append_printf (text, " %d", w->value);
  if (w->to != CORE_SEEN_UNKNOWN)
    g_string_append_printf (text, " to %d", w->to);
  if (w->what == CORE_WORD_SWAP)
    g_string_append_printf (text, " %s", cups[w->other].number);
}

char *
round_case_say (const CoreRoundLine *line, const CoreRoundShelf *shelf, const CoreRoundPlan *plan)
{
  static const char *const why[] = { "held", "small", "not its prey", "nothing in", "stage?",
                                      "not there", "ill", "length?", "lot" };
  GString *text = g_string_new (NULL);
  gsize i = 0;

  for (gsize a = 0; a < line->n_actions; a++)
    {
      g_string_append_printf (text, "%s%s", a > 0 ? "; " : "", word_name (line->actions[a].action));
      append_prey (text, line->actions[a].prey, line->actions[a].n);
      g_string_append_c (text, ':');
      for (; i < plan->n_writes && !plan->writes[i].exception && plan->writes[i].action == a; i++)
        g_string_append_printf (text, " %s", shelf->cups[plan->writes[i].cup].number);
    }
  for (; i < plan->n_writes; i++)
    {
      g_assert_true (plan->writes[i].exception);
      say_exception (text, shelf->cups, &plan->writes[i]);
    }
  for (i = 0; i < plan->n_left_out; i++)
    g_string_append_printf (text, "%s%s %s", i > 0 ? ", " : " / ",
                            shelf->cups[plan->left_out[i].cup].number, why[plan->left_out[i].why]);
  return g_string_free (text, FALSE);
}

void
round_case_good (const RoundGood *rows, gsize n)
{
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);

  for (gsize i = 0; i < n; i++)
    {
      CoreRoundLine line;
      CoreRoundPlan plan;
      g_autofree char *text = NULL;

      g_test_message ("%s", rows[i].line);
      core_round_parse (rows[i].line, round_case_terms, round_case_n_terms, &shelf, &line);
      if (line.n_problems > 0)
        g_test_message ("problem %d at %zu", line.problems[0].error, line.problems[0].start);
      g_assert_cmpuint (line.n_problems, ==, 0);
      g_assert_cmpint (core_round_resolve (&line, &shelf, &plan), ==, CORE_OK);
      text = round_case_say (&line, &shelf, &plan);
      g_assert_cmpstr (text, ==, rows[i].writes);
      core_round_plan_clear (&plan);
      core_round_line_clear (&line);
    }
}

static char *
joined (const CoreRoundProblem *problem)
{
  GString *text = g_string_new (NULL);

  for (gsize i = 0; i < problem->n_candidates; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "|" : "", problem->candidates[i]);
  return g_string_free (text, FALSE);
}

void
round_case_bad (const RoundBad *rows, gsize n)
{
  CoreRoundCup cups[ROUND_CASE_CUPS];
  CoreRoundShelf shelf = round_case_shelf (cups);

  for (gsize i = 0; i < n; i++)
    {
      const RoundBad *row = &rows[i];
      const CoreRoundProblem *first;
      g_autofree char *marked = NULL;
      g_autofree char *candidates = NULL;
      CoreRoundLine line;
      CoreRoundPlan plan;

      g_test_message ("%s", row->line);
      g_assert_cmpint (
        core_round_parse (row->line, round_case_terms, round_case_n_terms, &shelf, &line), ==,
        CORE_BAD_INPUT);
      g_assert_cmpuint (line.n_problems, ==, row->n_problems);
      first = &line.problems[0];
      g_assert_cmpint (first->error, ==, row->error);
      g_assert_cmpuint (first->start + first->length, <=, strlen (row->line));
      marked = g_strndup (row->line + first->start, first->length);
      g_assert_cmpstr (marked, ==, row->at);
      candidates = joined (first);
      g_assert_cmpstr (candidates, ==, row->candidates);
      g_assert_cmpint (core_round_resolve (&line, &shelf, &plan), ==, CORE_BAD_INPUT);
      for (gsize k = 0; k < plan.n_writes; k++) /* a count that cannot be is not shown */
        g_assert_cmpint (plan.writes[k].n, >=, 0);
      core_round_plan_clear (&plan);
      core_round_line_clear (&line);
    }
}
