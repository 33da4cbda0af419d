/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-climate.c — days, gaps, hours out of the band, the night's air; the cups after a power cut. */
#include "plan-case.h"

#include <math.h>
#include <string.h>

#include "core/core-air.h"
#include "core/core-climate.h"

#define DAY(n) ((int64_t) (n) *CORE_SERIES_DAY)

/* Every `step` s from `from` to `to`, t and rh by these. */
static GArray *
points (void)
{
  return g_array_new (FALSE, FALSE, sizeof (CoreMoment));
}

static void
add (GArray *all, int64_t from, int64_t to, int step, float t, float rh)
{
  for (int64_t at = from; at < to; at += step)
    {
      CoreMoment p = { at, t, rh };

      g_array_append_val (all, p);
    }
}

#define V(all) (CoreMoment *) (void *) (all)->data, (all)->len

static const CoreComfort hardy = { 22, 28, 17, 22, 45, 65, 12 };

/* By hand: 7 to 19 o'clock is day. 6 h of 30 °C by day, 6 h of 25; nights of 16 and 20 °C. */
static void
test_hours_out (void)
{
  g_autoptr (GArray) all = points ();
  CoreClimateDay day;

  add (all, DAY (9), DAY (9) + 7 * 3600, 600, 16, 70);
  add (all, DAY (9) + 7 * 3600, DAY (9) + 13 * 3600, 600, 30, 40);
  add (all, DAY (9) + 13 * 3600, DAY (9) + 19 * 3600, 600, 25, 50);
  add (all, DAY (9) + 19 * 3600, DAY (10), 600, 20, NAN);
  day = core_climate_day (V (all), core_climate_gap (600), &hardy);
  g_assert_cmpint (day.day, ==, 9);
  g_assert_cmpuint (day.n, ==, 144);
  g_assert_cmpfloat_with_epsilon (day.t_min, 16, 1e-6);
  g_assert_cmpfloat_with_epsilon (day.t_max, 30, 1e-6);
  g_assert_cmpfloat_with_epsilon (day.t_above, 6, .1);
  g_assert_cmpfloat_with_epsilon (day.t_below, 7, .1);
  g_assert_cmpfloat_with_epsilon (day.rh_above, 7, .1);
  g_assert_cmpfloat_with_epsilon (day.rh_below, 6, .1);
  g_assert_cmpfloat_with_epsilon (day.hours, 24 - 1. / 6, 1e-6);
  g_assert_cmpfloat_with_epsilon (day.t_mean, (7 * 16 + 6 * 30 + 6 * 25 + 5 * 20) / 24., .05);
}

/* What no reading covers is neither in nor out. */
static void
test_gap_counts_for_nothing (void)
{
  g_autoptr (GArray) all = points ();
  CoreClimateDay day;

  add (all, DAY (9) + 8 * 3600, DAY (9) + 9 * 3600 + 1, 600, 40, 50);
  add (all, DAY (9) + 15 * 3600, DAY (9) + 16 * 3600 + 1, 600, 40, 50);
  day = core_climate_day (V (all), core_climate_gap (600), &hardy);
  g_assert_cmpfloat_with_epsilon (day.hours, 2, 1e-6);
  g_assert_cmpfloat_with_epsilon (day.t_above, 2, 1e-6);
  g_assert_cmpint (core_climate_step (V (all)), ==, 600);
  g_assert_cmpint (core_climate_gap (600), ==, 3600);
  g_assert_cmpint (core_climate_gap (7200), ==, 18000);
  g_assert_cmpint (core_climate_gap (CORE_SERIES_DAY), ==, 6 * 3600);
  g_assert_cmpint (core_climate_step (NULL, 0), ==, 0);
}

static void
test_nothing_said (void)
{
  const CoreComfort none = { NAN, NAN, NAN, NAN, NAN, NAN, 12 };
  g_autoptr (GArray) all = points ();
  CoreClimateDay day;

  add (all, DAY (9), DAY (10), 600, 60, 99);
  day = core_climate_day (V (all), 3600, &none);
  g_assert_cmpfloat (day.t_above + day.t_below + day.rh_above + day.rh_below, ==, 0);
  day = core_climate_day (NULL, 0, 3600, &hardy);
  g_assert_cmpint (day.day, ==, CORE_DAY_NONE);
  g_assert_true (isnan (day.t_mean) && isnan (day.rh_mean));
}

/* No extreme is lost, however few the columns. */
static void
test_bins (void)
{
  g_autoptr (GArray) all = points ();
  CoreClimateBin bins[7];
  gsize n = 0;

  add (all, DAY (9), DAY (12), 60, 24, 60);
  g_array_index (all, CoreMoment, 1000).t = 35;
  g_array_index (all, CoreMoment, 4000).t = 12;
  core_climate_bins (V (all), DAY (9), DAY (16), bins, 7);
  g_assert_cmpfloat (bins[0].t_max, ==, 35);
  g_assert_cmpfloat (bins[2].t_min, ==, 12);
  for (int i = 0; i < 7; i++)
    n += bins[i].n;
  g_assert_cmpuint (n, ==, all->len);
  g_assert_cmpuint (bins[3].n, ==, 0);
  g_assert_true (isnan (bins[3].t_min));
}

/* Dew point of 20 °C and 70 %: 14.4 °C (independent trade-glossary page, and WMO Magnus 14.359);
 * saturation at 20 °C 2.3388 and at 15 °C 1.7056 kPa (Lide/CRC as reprinted in an encyclopaedia):
 * 70 % at 20 °C cooled to 15 °C is 70 × 2.3388 ÷ 1.7056 = 95.99 %. */
static void
test_night (void)
{
  g_autoptr (GArray) all = points ();
  CoreNight night;

  g_assert_false (core_climate_night (NULL, 0, &hardy, &night));
  add (all, DAY (9) + 7 * 3600, DAY (9) + 19 * 3600, 600, 20, 70);
  g_assert_false (core_climate_night (V (all), &hardy, &night));
  add (all, DAY (9) + 19 * 3600, DAY (10), 600, 15, 88);
  g_assert_false (core_climate_night (V (all), &hardy, &night)); /* the evening alone */
  add (all, DAY (10), DAY (10) + 5 * 3600, 600, 15, 88);
  g_assert_true (core_climate_night (V (all), &hardy, &night));
  g_assert_cmpfloat_with_epsilon (night.dew_point, 14.4, .05);
  g_assert_cmpfloat_with_epsilon (night.rh_night, 95.99, .1);
  g_assert_cmpfloat_with_epsilon (night.measured, 88, 1e-6);
  g_assert_false (night.condenses);
  /* 17.3 g/m³ at saturation and 20 °C (published table of absolute humidity): 70 % of it. */
  g_assert_cmpfloat_with_epsilon (night.absolute, .7 * 17.3, .1);
  g_array_index (all, CoreMoment, all->len - 1).t = 14;
  g_assert_true (core_climate_night (V (all), &hardy, &night));
  g_assert_true (night.condenses);
  g_assert_cmpfloat (night.rh_night, ==, 100);
}

static void
test_band_of_two (void)
{
  CoreShelfBand band = { 0 };
  CoreComfort both = core_comfort_of_band (&band, NAN);
  CoreProfile profile;

  g_assert_true (isnan (both.day_lo) && isnan (both.rh_hi));
  core_profile_init (&profile);
  core_profile_group_defaults (&profile, CORE_GROUP_HARDY); /* 22–28, 45–65 % */
  core_shelf_band_add (&band, &profile);
  core_profile_group_defaults (&profile, CORE_GROUP_HUMID); /* 24–29, 60–80 % */
  core_shelf_band_add (&band, &profile);
  core_profile_clear (&profile);
  both = core_comfort_of_band (&band, NAN);
  g_assert_cmpfloat (both.day_lo, ==, 24);
  g_assert_cmpfloat (both.day_hi, ==, 28);
  g_assert_cmpfloat (both.rh_lo, ==, 60);
  g_assert_cmpfloat (both.rh_hi, ==, 65);
  g_assert_true (core_comfort_is_day (&hardy, 7 * 3600));
  g_assert_false (core_comfort_is_day (&hardy, 19 * 3600));
}

/* ---- the power was out ---- */

typedef struct
{
  const char *name;
  int cut;       /* days ago, -1 = none */
  double lowest; /* °C */
  const char *look;
  int looked;    /* days ago */
  gboolean asks, emergency;
} CutRow;

static const CutRow cuts[] = {
  { "no cut", -1, NAN, NULL, 0, FALSE, FALSE },
  { "a cut today", 0, NAN, NULL, 0, TRUE, FALSE },
  { "a cut yesterday, cold", 1, 9, NULL, 0, TRUE, TRUE },
  { "a cut, not too cold", 1, 18, NULL, 0, TRUE, FALSE },
  { "looked at since", 2, NAN, "looked", 1, FALSE, FALSE },
  { "fed for the whole shelf is no look", 2, NAN, "fed|bulk=yes", 1, TRUE, FALSE },
  { "looked at before it", 2, NAN, "looked", 3, TRUE, FALSE },
  { "looked at that day, written after", 2, NAN, "looked", 2, FALSE, FALSE },
  { "long ago", 8, NAN, NULL, 0, FALSE, FALSE },
};

static void
test_power (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cuts); i++)
    {
      const CutRow *row = &cuts[i];
      const CoreReason *why = NULL;
      gboolean emergency = FALSE;
      PlanCase c;

      g_test_message ("%s", row->name);
      plan_case_init (&c, CORE_GROUP_HARDY, 4);
      c.has_place = true;
      if (row->cut >= 0)
        {
          c.place.place.power_cut = TODAY - row->cut;
          c.place.place.power_lowest = row->lowest;
        }
      if (row->look != NULL)
        plan_case_say (&c, TODAY - row->looked, row->look);
      plan_case_run (&c);
      for (size_t k = 0; k < c.plan.tasks.n; k++)
        if (plan_task_reason (&c.plan.tasks.v[k], "look.power"))
          {
            why = plan_task_reason (&c.plan.tasks.v[k], "look.power");
            emergency = c.plan.tasks.v[k].emergency;
            g_assert_cmpint (c.plan.tasks.v[k].reach, ==, CORE_REACH_LOOK);
          }
      g_assert_true ((why != NULL) == row->asks);
      g_assert_true (emergency == row->emergency);
      plan_case_clear (&c);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/climate/hours-out", test_hours_out);
  g_test_add_func ("/climate/gap", test_gap_counts_for_nothing);
  g_test_add_func ("/climate/nothing-said", test_nothing_said);
  g_test_add_func ("/climate/bins", test_bins);
  g_test_add_func ("/climate/night", test_night);
  g_test_add_func ("/climate/band-of-two", test_band_of_two);
  g_test_add_func ("/climate/power", test_power);
  return g_test_run ();
}
