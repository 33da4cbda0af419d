/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-drift.c — what readings say of the days without any: against the plain conditional mean. */
#include <glib.h>
#include <math.h>

#include "core/core-drift.h"

#define DAYS 14

/* Days between two readings share what has not been forgotten of both processes: the slow one
 * walks .0375 °C² a day, the other lasts 5 days with an sd of 1 °C. */
static double
covariance (int days, double sd_slow)
{
  return sd_slow * sd_slow * exp (-days * .0375 / (2 * sd_slow * sd_slow)) + exp (-days / 5.);
}

/* Gauss: a x = b, in place. */
static void
solve (int n, double a[DAYS][DAYS], double b[DAYS])
{
  for (int i = 0; i < n; i++)
    for (int row = 0; row < n; row++)
      if (row != i)
        {
          double times = a[row][i] / a[i][i];
          for (int col = 0; col < n; col++)
            a[row][col] -= times * a[i][col];
          b[row] -= times * b[i];
        }
  for (int i = 0; i < n; i++)
    b[i] /= a[i][i];
}

/* E (x | y) = K (K + R)⁻¹ y of a Gaussian law (Rasmussen & Williams 2006, eq. 2.23, from memory). */
static void
check_conditional_mean (double sd_slow)
{
  static const double seen[DAYS] = { NAN, 1.5, NAN, NAN, -.4, 2, 2.5, NAN, NAN, NAN, -1, NAN, NAN, NAN };
  static const double noise[DAYS] = { 0, .5, 0, 0, 1, .5, .5, 0, 0, 0, 1, 0, 0, 0 };
  CoreDriftDay days[DAYS] = { 0 };
  double a[DAYS][DAYS], b[DAYS];
  int at[DAYS], n = 0;

  for (int i = 0; i < DAYS; i++)
    {
      days[i].seen = seen[i];
      days[i].noise = noise[i];
      if (isfinite (seen[i]))
        at[n++] = i;
    }
  core_drift (days, DAYS, sd_slow);
  for (int i = 0; i < n; i++)
    {
      for (int j = 0; j < n; j++)
        a[i][j] = covariance (ABS (at[i] - at[j]), sd_slow) + (i == j ? noise[at[i]] : 0);
      b[i] = seen[at[i]];
    }
  solve (n, a, b);
  for (int i = 0; i < DAYS; i++)
    {
      double want = 0;
      for (int j = 0; j < n; j++)
        want += covariance (ABS (i - at[j]), sd_slow) * b[j];
      g_assert_cmpfloat_with_epsilon (days[i].drift, want, 1e-9);
    }
}

static void
test_conditional_mean (void)
{
  check_conditional_mean (1.5);
  check_conditional_mean (4);
}

static void
test_nothing_seen (void)
{
  CoreDriftDay days[DAYS] = { 0 };

  for (int i = 0; i < DAYS; i++)
    days[i].seen = NAN;
  core_drift (days, DAYS, 4);
  for (int i = 0; i < DAYS; i++)
    g_assert_cmpfloat (days[i].drift, ==, 0);
  core_drift (days, 0, 4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drift/conditional-mean", test_conditional_mean);
  g_test_add_func ("/drift/nothing-seen", test_nothing_seen);
  return g_test_run ();
}
