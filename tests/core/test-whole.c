/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-whole.c — from entries to state to forecast to plan, without a screen.
 *
 * The range of the moult is the forecast's own; the days of the entries are
 * chosen from it, so that "in the range" and "far outside" mean what they say.
 */
#include <glib.h>
#include <string.h>

#include "core/core-clock.h"
#include "core/core-plan.h"
#include "journal.h"

#define HATCH ((CoreDay) 20000)

typedef struct
{
  CoreState state;
  CoreProfile profile;
  CoreForecast forecast;
  CoreSexVerdict verdict;
  CorePlan plan;
} Whole;

static Journal *
animal_new (void)
{
  Journal *j = journal_new ();
  static const int moults[] = { 14, 30, 48, 68 };
  journal_add (j, HATCH, "hatched");
  for (CoreDay day = 1; day <= 68; day++)
    journal_add (j, HATCH + day, "looked");
  for (size_t i = 0; i < G_N_ELEMENTS (moults); i++)
    journal_add (j, HATCH + moults[i], "moulted|outcome=good");
  return j;
}

static void
whole_run (Whole *w, const Journal *j, CoreDay today)
{
  CoreWarmth warmth = { 0 };
  core_state_init (&w->state);
  journal_fold (j, CORE_SUBJECT_ANIMAL, &w->state);
  core_profile_init (&w->profile);
  for (int sex = 0; sex < 2; sex++)
    w->profile.adult_mm[sex].v = 80;
  g_assert_cmpint (core_sex_of_state (&w->profile, &w->state, &w->verdict), ==, CORE_OK);
  g_assert_cmpint (core_warmth_build (&w->state, &w->profile, NULL, NULL, HATCH - 1, today,
                                      today + 500, &warmth),
                   ==, CORE_OK);
  CoreForecastInput fin = { .state = &w->state,
                            .profile = &w->profile,
                            .warmth = &warmth,
                            .today = today,
                            .p_male = w->verdict.male };
  g_assert_cmpint (core_forecast (&fin, &w->forecast), ==, CORE_OK);
  CorePlanInput pin = { .state = &w->state,
                        .profile = &w->profile,
                        .forecast = &w->forecast,
                        .verdict = &w->verdict,
                        .today = today,
                        .from = today,
                        .to = today };
  core_plan_init (&w->plan);
  g_assert_cmpint (core_plan (&pin, &w->plan), ==, CORE_OK);
  core_warmth_clear (&warmth);
}

static void
whole_clear (Whole *w)
{
  core_state_clear (&w->state);
  core_profile_clear (&w->profile);
  core_sex_verdict_clear (&w->verdict);
  core_plan_clear (&w->plan);
}

/* 'f' food today, 'h' food held, '-' neither; *rule = first reason of what held it. */
static char
food (const Journal *j, CoreDay today, const char **rule)
{
  Whole w;
  char answer = '-';
  whole_run (&w, j, today);
  for (size_t i = 0; i < w.plan.tasks.n; i++)
    if (w.plan.tasks.v[i].kind == CORE_TASK_FEED)
      answer = 'f';
  for (size_t i = 0; i < w.plan.held.n; i++)
    if (w.plan.held.v[i].kind == CORE_TASK_FEED)
      {
        answer = 'h';
        if (rule)
          *rule = w.plan.held.v[i].reasons[0].rule;
      }
  whole_clear (&w);
  return answer;
}

static CoreDay
range_start (void)
{
  g_autoptr (Journal) j = animal_new ();
  Whole w;
  whole_run (&w, j, HATCH + 70);
  g_assert_cmpint (w.forecast.why, ==, CORE_NO_FORECAST_NONE);
  CoreDay lo = w.forecast.range_lo;
  whole_clear (&w);
  g_assert_cmpint (lo, >, HATCH + 75);
  return lo;
}

/* Bred here, no meal ever entered: due today, and not overdue since the hatch. */
static void
test_never_fed (void)
{
  g_autoptr (Journal) j = animal_new ();
  Whole w;
  whole_run (&w, j, HATCH + 72);
  for (size_t i = 0; i < w.plan.tasks.n; i++)
    if (w.plan.tasks.v[i].kind == CORE_TASK_FEED)
      {
        g_assert_cmpint (w.plan.tasks.v[i].due, ==, HATCH + 72);
        g_assert_cmpstr (w.plan.tasks.v[i].reasons[0].rule, ==, "feed.never");
      }
  whole_clear (&w);
}

static void
test_feeding (void)
{
  g_autoptr (Journal) j = animal_new ();
  CoreDay today = HATCH + 75;
  g_assert_cmpint (food (j, today, NULL), ==, 'f');
  journal_add (j, today, "fed|prey=house fly|n=2");
  g_assert_cmpint (food (j, today, NULL), ==, '-');
  g_assert_cmpint (food (j, today + 2, NULL), ==, '-');
  g_assert_cmpint (food (j, today + 3, NULL), ==, 'f');
}

static void
test_signs (void)
{
  CoreDay lo = range_start (), far = HATCH + 72;
  static const struct
  {
    const char *sign;
    bool inside;
    char food;
    const char *rule;
  } rows[] = {
    { "sign|sign=pumping", false, 'h', "hold.pumping" },
    { "sign|sign=pumping", true, 'h', "hold.pumping" },
    { "sign|sign=hanging", true, 'h', "hold.hanging_in_range" },
    { "sign|sign=hanging", false, 'f', NULL },
    { "sign|sign=sluggish", true, 'f', NULL },
  };
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) j = animal_new ();
      const char *rule = NULL;
      CoreDay today = rows[i].inside ? lo + 2 : far;
      journal_add (j, today, rows[i].sign);
      g_assert_cmpint (food (j, today, &rule), ==, rows[i].food);
      g_assert_cmpstr (rule, ==, rows[i].rule);
    }
}

static void
test_refusals (void)
{
  CoreDay lo = range_start ();
  g_autoptr (Journal) j = animal_new ();
  const char *rule = NULL;
  journal_add (j, lo, "fed|outcome=refused|prey=house fly");
  journal_add (j, lo + 2, "fed|outcome=refused|prey=green bottle");
  journal_add (j, lo + 2, "belly|score=4");
  g_assert_cmpint (food (j, lo + 3, &rule), ==, 'h');
  g_assert_cmpstr (rule, ==, "hold.two_refusals");
  journal_add (j, lo + 3, "belly|score=2");
  g_assert_cmpint (food (j, lo + 3, NULL), ==, 'f');
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/whole/never-fed", test_never_fed);
  g_test_add_func ("/whole/feeding-moves-the-next-feed", test_feeding);
  g_test_add_func ("/whole/signs-hold-food", test_signs);
  g_test_add_func ("/whole/two-refusals", test_refusals);
  return g_test_run ();
}
