/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-meals.c — what was put in, and what is then entered of it, is one meal. */
#include <glib.h>
#include <string.h>

#include "journal.h"

typedef struct
{
  const char *name;
  JournalLine lines[4];
  size_t meals;
  int outcome, prey, n, refusals; /* of the last meal */
  CoreDay day;
} MealRow;

static const MealRow rows[] = {
  { "refused the same day",
    { { 100, "fed|prey=cricket|n=2" }, { 100, "fed|prey=cricket|outcome=refused" } },
    1,
    CORE_FED_REFUSED,
    CORE_PREY_CRICKET,
    2,
    1,
    100 },
  { "found refused in the morning, prey not said",
    { { 100, "fed|prey=cricket|n=2" }, { 101, "fed|outcome=refused" } },
    1,
    CORE_FED_REFUSED,
    CORE_PREY_CRICKET,
    2,
    1,
    101 },
  { "two days later it is another",
    { { 100, "fed|prey=cricket|n=2" }, { 102, "fed|outcome=refused" } },
    2,
    CORE_FED_REFUSED,
    -1,
    0,
    1,
    102 },
  { "said twice at once, it was refused once",
    { { 100, "fed|prey=cricket|outcome=refused" }, { 100, "fed|prey=cricket|outcome=refused" } },
    1,
    CORE_FED_REFUSED,
    CORE_PREY_CRICKET,
    0,
    1,
    100 },
  { "shown again hours later it was refused twice",
    { { 100, "fed|prey=cricket|outcome=refused|minute=540" },
      { 100, "fed|prey=cricket|outcome=refused|minute=1200" } },
    2,
    CORE_FED_REFUSED,
    CORE_PREY_CRICKET,
    0,
    2,
    100 },
  { "another prey refused at once is another meal",
    { { 100, "fed|prey=cricket|outcome=refused" }, { 100, "fed|prey=moth|outcome=refused" } },
    2,
    CORE_FED_REFUSED,
    CORE_PREY_MOTH,
    0,
    2,
    100 },
  { "another prey is another meal",
    { { 100, "fed|prey=cricket|n=2" }, { 100, "fed|prey=hydei|outcome=refused" } },
    2,
    CORE_FED_REFUSED,
    CORE_PREY_HYDEI,
    0,
    1,
    100 },
  { "taken the same day",
    { { 100, "fed|prey=moth|n=1" }, { 100, "fed|prey=moth|outcome=taken" } },
    1,
    CORE_FED_TAKEN,
    CORE_PREY_MOTH,
    1,
    0,
    100 },
  { "taken the day after is a new one",
    { { 100, "fed|prey=moth|n=1" }, { 101, "fed|prey=moth|outcome=taken" } },
    2,
    CORE_FED_TAKEN,
    CORE_PREY_MOTH,
    0,
    0,
    101 },
  { "what is gone is no more refused",
    { { 100, "fed|prey=moth" }, { 101, "gone" }, { 101, "fed|outcome=refused" } },
    2,
    CORE_FED_REFUSED,
    -1,
    0,
    1,
    101 },
  { "refused twice",
    { { 100, "fed|prey=moth|outcome=refused" }, { 101, "fed|prey=moth|outcome=refused" } },
    2,
    CORE_FED_REFUSED,
    CORE_PREY_MOTH,
    0,
    2,
    101 },
  { "the one of two that it was",
    { { 100, "fed|prey=cricket|n=1" },
      { 100, "fed|prey=hydei|n=5" },
      { 100, "fed|prey=cricket|outcome=refused" } },
    2,
    CORE_FED_REFUSED,
    CORE_PREY_CRICKET,
    1,
    1,
    100 },
};

static void
test_one_meal (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      const CoreMeal *last;
      CoreState state;

      g_test_message ("%s", rows[i].name);
      journal_fold_lines (rows[i].lines, journal, &state);
      g_assert_cmpuint (state.meals.n, ==, rows[i].meals);
      last = &state.meals.v[state.meals.n - 1];
      g_assert_cmpint (last->outcome, ==, rows[i].outcome);
      g_assert_cmpint (last->prey, ==, rows[i].prey);
      g_assert_cmpint (last->n, ==, rows[i].n);
      g_assert_cmpint (last->day, ==, rows[i].day);
      g_assert_cmpint (state.refusals_since_taken, ==, rows[i].refusals);
      g_assert_cmpint (state.last_offered, ==, rows[i].day);
      core_state_clear (&state);
    }
}

static void
test_open_offer (void)
{
  static const JournalLine lines[] = {
    { 100, "fed|prey=cricket|n=2" }, { 103, "fed|prey=moth" }, { 104, "gone" }, { 0, NULL }
  };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_null (core_state_open_offer (&state, 99));
  g_assert_cmpint (core_state_open_offer (&state, 100)->prey, ==, CORE_PREY_CRICKET);
  g_assert_cmpint (core_state_open_offer (&state, 101)->prey, ==, CORE_PREY_CRICKET);
  g_assert_null (core_state_open_offer (&state, 102));
  g_assert_null (core_state_open_offer (&state, 104)); /* that one is gone */
  core_state_clear (&state);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/meals/one", test_one_meal);
  g_test_add_func ("/meals/open-offer", test_open_offer);
  return g_test_run ();
}
