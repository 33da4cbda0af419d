/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-clock.c — degree-days against published values; the rate; days of a sine. */
#include <glib.h>
#include <math.h>

#include "core/core-clock.h"

static const CoreClock usual = { 12, 28, 30, 38 };

/* Single sine (Baskerville & Emin 1969) with a horizontal cutoff. Rows marked published:
 * documentation and tests of the TrenchR package; the others computed from the formula and
 * by numeric integration. */
static void
test_degree_days (void)
{
  static const struct
  {
    double min, max, lower, upper, want, within;
  } rows[] = {
    { 7, 14, 12, 33, .4681, 5e-5 },    /* published .47 */
    { 7, 10, 12, 33, 0, 1e-12 },       /* published 0 */
    { 13, 14, 12, 33, 1.5, 1e-12 },    /* published 1.5 */
    { 7, 20, 12, 33, 2.8744, 5e-5 },   /* published 2.87 */
    { 13, 40, 12, 33, 12.9443, 5e-5 }, /* published 12.94 */
    { 7, 40, 12, 33, 10.9397, 5e-5 },  /* published 10.94 */
    { 35, 40, 12, 33, 21, 1e-12 },     /* published 21 */
    { 50, 82, 55, 90, 11.8526, 5e-5 }, /* °F, computed */
    { 10, 15, 11, 16, 1.6939, 5e-5 },  /* computed */
    { 14, 7, 12, 33, .4681, 5e-5 },    /* turned round */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpfloat_with_epsilon (core_degree_days_sine (rows[i].min, rows[i].max, rows[i].lower,
                                                           rows[i].upper),
                                    rows[i].want, rows[i].within);
}

static void
test_rate (void)
{
  static const struct
  {
    double t, want;
  } rows[] = {
    { -5, 0 },        { 12, 0 },        { 25, 1 },       { 18.5, .5 }, { 28, 16. / 13 },
    { 29, 16. / 13 }, { 30, 16. / 13 }, { 34, 8. / 13 }, { 38, 0 },    { 50, 0 },
  };
  CoreClock hot = { 12, 33, 36, 44 };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpfloat_with_epsilon (core_clock_rate (&usual, rows[i].t), rows[i].want, 1e-12);
  g_assert_cmpfloat_with_epsilon (core_clock_rate (&hot, 33), 21. / 13, 1e-12);
  for (double t = 0; t < 28; t += .25)
    g_assert_cmpfloat (core_clock_rate (&usual, t), <=, core_clock_rate (&usual, t + .25));
}

/* Below topt a development day is a degree-day over 25 - t0 of them. */
static void
test_sine_is_degree_days (void)
{
  for (double min = 5; min < 25; min += 2.5)
    for (double max = min; max <= 28; max += 1.5)
      g_assert_cmpfloat_with_epsilon (core_clock_day_sine (&usual, min, max),
                                      core_degree_days_sine (min, max, 12, 99) / 13, 1e-12);
}

/* Every day against a plain sum over 100,000 moments of its sine. */
static void
test_sine_is_integral (void)
{
  static const double days[][2] = { { 20, 36 }, { 10, 45 }, { 29, 31 }, { 39, 45 }, { 5, 9 } };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      double mean = (days[i][0] + days[i][1]) / 2, half = (days[i][1] - days[i][0]) / 2, sum = 0;
      for (int k = 0; k < 100000; k++)
        sum += core_clock_rate (&usual, mean + half * sin (2 * G_PI * (k + .5) / 100000));
      g_assert_cmpfloat_with_epsilon (core_clock_day_sine (&usual, days[i][0], days[i][1]),
                                      sum / 100000, 1e-6);
    }
  g_assert_cmpfloat_with_epsilon (core_clock_day_sine (&usual, 25, 25), 1, 1e-12);
}

static void
test_habit (void)
{
  g_assert_cmpfloat_with_epsilon (core_clock_day_habit (&usual, 25, 18.5, 12), .75, 1e-12);
  g_assert_cmpfloat_with_epsilon (core_clock_day_habit (&usual, 25, 18.5, 30), 1, 1e-12);
  g_assert_cmpfloat_with_epsilon (core_clock_day_habit (&usual, 25, 18.5, -3), .5, 1e-12);
}

static void
test_valid (void)
{
  static const CoreClock bad[] = {
    { 25, 28, 30, 38 }, { 12, 11, 30, 38 }, { 12, 28, 27, 38 },
    { 12, 28, 38, 38 }, { 12, 14, 16, 20 }, { 12, 28, 30, NAN },
  };
  CoreProfile profile;
  CoreClock clock;

  g_assert_true (core_clock_valid (&usual));
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (core_clock_valid (&bad[i]));
  core_profile_init (&profile);
  clock = core_clock_from_profile (&profile);
  g_assert_cmpfloat (clock.topt, ==, 28);
  profile.clock.tmax.v = 20; /* what cannot be falls back to the general clock */
  clock = core_clock_from_profile (&profile);
  g_assert_cmpfloat (clock.tmax, ==, 38);
  core_profile_clear (&profile);
}

/* Protophormia terraenovae: t0 8.95 °C, K 240.2 degree-days, observed 37.78 ± 2.96 d at
 * 15 °C and 9.19 ± .3 d at 35 °C (Grassberger & Reiter 2002): the line gives 39.7 and 9.22. */
static void
test_published_requirement (void)
{
  g_assert_cmpfloat_with_epsilon (240.2 / core_degree_days_sine (15, 15, 8.95, 99), 39.7, .05);
  g_assert_cmpfloat_with_epsilon (240.2 / core_degree_days_sine (35, 35, 8.95, 99), 9.22, .005);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/clock/degree-days", test_degree_days);
  g_test_add_func ("/clock/rate", test_rate);
  g_test_add_func ("/clock/sine-is-degree-days", test_sine_is_degree_days);
  g_test_add_func ("/clock/sine-is-integral", test_sine_is_integral);
  g_test_add_func ("/clock/habit", test_habit);
  g_test_add_func ("/clock/valid", test_valid);
  g_test_add_func ("/clock/published-requirement", test_published_requirement);
  return g_test_run ();
}
