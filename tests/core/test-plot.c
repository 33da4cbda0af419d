/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-plot.c — numbers for the plots: how long stages took and would take, lengths by stage. */
#include "forecast-case.h"

#include "core/core-plot.h"

/* Hatched on evening 900, moulted on 910 and 922 (each window a day), so that two stages are
 * finished and one has lasted from 922 to TODAY. */
static void
three_stages (Case *c)
{
  case_init (c);
  one_number (c, 7);
  made_stage (&c->state, CORE_START_HATCHED, 899, 900);
  made_stage (&c->state, CORE_START_MOULTED, 909, 910);
  made_stage (&c->state, CORE_START_MOULTED, 920, 922);
  made_moults (&c->state, 2, CORE_BASIS_COUNTED);
}

static size_t
intervals (Case *c, CoreInterval out[CORE_MAX_MOULTS])
{
  return core_intervals (&c->state, &c->profile, .2, &c->warmth, TODAY, out);
}

static void
test_intervals (void)
{
  Case c;
  CoreInterval rows[CORE_MAX_MOULTS];

  three_stages (&c);
  g_assert_cmpuint (intervals (&c, rows), ==, 3);
  g_assert_true (rows[0].finished && rows[1].finished && !rows[2].finished);
  g_assert_cmpint (rows[1].moults, ==, 1);
  /* From window to window: at least and at most. */
  g_assert_cmpfloat_with_epsilon (rows[0].lo, 9, 1e-9);
  g_assert_cmpfloat_with_epsilon (rows[0].hi, 11, 1e-9);
  g_assert_cmpfloat_with_epsilon (rows[1].lo, 10, 1e-9);
  g_assert_cmpfloat_with_epsilon (rows[1].hi, 13, 1e-9);
  g_assert_cmpfloat_with_epsilon (rows[2].lo, TODAY - 922, 1e-9);
  g_assert_cmpfloat_with_epsilon (rows[2].hi, TODAY - 920, 1e-9);
  case_clear (&c);
}

/* At 25 °C a development day is a day, so the band is the log-normal of the profile; where it is half as
 * warm for development, each takes twice as long. */
static void
test_band (void)
{
  Case c;
  CoreInterval rows[CORE_MAX_MOULTS], slow[CORE_MAX_MOULTS];
  double extra, median, sd;

  three_stages (&c);
  (void) intervals (&c, rows);
  median = core_profile_stage_days (&c.profile, 1, 7, CORE_SEX_FEMALE, &extra);
  /* models §3: prior sd .18, .10, .10, .19 in quadrature; and .26, of the general ladder */
  sd = sqrt (.18 * .18 + .26 * .26 + .10 * .10 + .10 * .10 + .19 * .19 + extra * extra);
  g_assert_cmpfloat_with_epsilon (rows[1].p50, median, 1e-6);
  g_assert_cmpfloat_with_epsilon (rows[1].p90, median * exp (1.28155 * sd), 1e-3);
  g_assert_cmpfloat_with_epsilon (rows[1].p10, median * exp (-1.28155 * sd), 1e-3);
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, TODAY - 300, TODAY + 500, .5, false);
  (void) intervals (&c, slow);
  g_assert_cmpfloat_with_epsilon (slow[1].p50, 2 * rows[1].p50, 1e-6);
  case_clear (&c);
}

/* One that came in the middle of a stage: how long that stage took is not known. */
static void
test_came_later (void)
{
  Case c;
  CoreInterval rows[CORE_MAX_MOULTS];

  case_init (&c);
  one_number (&c, 7);
  made_stage (&c.state, CORE_START_ACQUIRED, -INFINITY, 960);
  made_stage (&c.state, CORE_START_MOULTED, 969, 970);
  made_moults (&c.state, 5, CORE_BASIS_COUNTED);
  g_assert_cmpuint (intervals (&c, rows), ==, 1);
  g_assert_cmpint (rows[0].moults, ==, 5);
  g_assert_false (rows[0].finished);
  case_clear (&c);
}

/* An adult has no stage in progress. */
static void
test_adult (void)
{
  Case c;
  CoreInterval rows[CORE_MAX_MOULTS];

  three_stages (&c);
  c.state.adult = true;
  g_assert_cmpuint (intervals (&c, rows), ==, 2);
  g_assert_true (rows[1].finished);
  case_clear (&c);
}

static void
test_growth (void)
{
  Case c;
  CoreGrowthCurve curve;

  three_stages (&c);
  c.profile.adult_mm[0].v = c.profile.adult_mm[1].v = 80;
  PUSH (c.state.measures, (CoreMeasure){ .day = 915, .what = CORE_DIM_BODY, .mm = 20, .sd = NAN, .stage = 1 });
  PUSH (c.state.measures, (CoreMeasure){ .day = 930, .what = CORE_DIM_BODY, .mm = 26, .sd = 1, .stage = 2 });
  PUSH (c.state.measures, (CoreMeasure){ .day = 930, .what = CORE_DIM_HEAD, .mm = 4, .sd = NAN, .stage = 2 });
  core_growth_curve (&c.state, &c.profile, .2, CORE_DIM_BODY, &curve);
  g_assert_cmpuint (curve.n, ==, 8); /* 0 to 7 moults */
  g_assert_cmpuint (curve.n_measured, ==, 2);
  g_assert_cmpint (curve.measured[1].moults, ==, 2);
  g_assert_cmpfloat_with_epsilon (curve.measured[0].lo, 20 * .94, 1e-9);
  g_assert_cmpfloat_with_epsilon (curve.measured[1].hi, 28, 1e-9);
  for (size_t m = 1; m < curve.n; m++)
    {
      g_assert_true (curve.expected[m].known);
      g_assert_cmpfloat (curve.expected[m].p50, >, curve.expected[m - 1].p50);
      g_assert_cmpfloat (curve.expected[m].p90, >, curve.expected[m].p50);
    }
  case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/plot/intervals", test_intervals);
  g_test_add_func ("/core/plot/band", test_band);
  g_test_add_func ("/core/plot/came-later", test_came_later);
  g_test_add_func ("/core/plot/adult", test_adult);
  g_test_add_func ("/core/plot/growth", test_growth);
  return g_test_run ();
}
