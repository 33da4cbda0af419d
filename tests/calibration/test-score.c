/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-score.c — the scores of the calibration report against formulas and sums of their own. */
#include <math.h>

#include "sim-score.h"

static void
test_quantile (void)
{
  /* z of .975, .90 and .5: tables of the normal law */
  g_assert_cmpfloat_with_epsilon (score_normal_quantile (.975), 1.959963985, 1e-8);
  g_assert_cmpfloat_with_epsilon (score_normal_quantile (.90), 1.281551566, 1e-8);
  g_assert_cmpfloat_with_epsilon (score_normal_quantile (.5), 0, 1e-12);
  for (double z = -6; z <= 6; z += .25)
    g_assert_cmpfloat_with_epsilon (score_normal_quantile (score_cdf (z)), z, 1e-6);
}

/* The definition: the integral of the squared distance between the law and the step at y. */
static double
by_definition (double mu, double sd, double after, double y)
{
  double sum = 0, step = .002, left = after > 0 ? score_cdf (-(log (after) - mu) / sd) : 1;

  for (double x = step / 2; x < 400; x += step)
    {
      double f = x <= after ? 0 : 1 - score_cdf (-(log (x) - mu) / sd) / left;
      double miss = f - (x >= y ? 1 : 0);
      sum += miss * miss * step;
    }
  return sum;
}

static void
test_crps (void)
{
  static const double rows[][4] = { { 20, .3, 0, 14 }, { 20, .3, 0, 33 },  { 12, .5, 0, 12 },
                                    { 25, .2, 0, 90 }, { 20, .3, 18, 24 }, { 20, .3, 35, 41 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double mu = log (rows[i][0]), sd = rows[i][1], after = rows[i][2], y = rows[i][3];
      double want = by_definition (mu, sd, after, y);

      g_assert_cmpfloat_with_epsilon (score_crps_after (mu, sd, after, y), want,
                                      .006 * want + .005);
      if (after == 0)
        g_assert_cmpfloat_with_epsilon (score_crps_log_normal (mu, sd, y), want, 1e-3);
    }
}

/* A forecast that is a log-normal, handed over by its quantiles and chances alone. */
static void
test_law (void)
{
  static const double p[CORE_N_Q] = { .05, .10, .25, .50, .75, .90, .95 };
  CoreForecast f = { .within3 = score_cdf (log (3 / 12.) / .4),
                     .within7 = score_cdf (log (7 / 12.) / .4),
                     .within14 = score_cdf (log (14 / 12.) / .4) };
  ScoreLaw law;

  for (int q = 0; q < CORE_N_Q; q++)
    f.days[q] = 12 * exp (.4 * score_normal_quantile (p[q]));
  law = score_law (&f);
  for (double x = 6; x < 24; x += .5)
    g_assert_cmpfloat_with_epsilon (score_law_cdf (&law, x), score_cdf (log (x / 12) / .4), .006);
  for (double y = 4; y < 30; y += 2)
    g_assert_cmpfloat_with_epsilon (score_crps_law (&law, y),
                                    score_crps_log_normal (log (12), .4, y), .06);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calibration/score/quantile", test_quantile);
  g_test_add_func ("/calibration/score/crps", test_crps);
  g_test_add_func ("/calibration/score/law", test_law);
  return g_test_run ();
}
