/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-score.c — the scores of the calibration report against formulas and sums of their own;
 * messages of a room against the normal law written out.
 */
#include <math.h>

#include "sim-ask.h"
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

      g_assert_cmpfloat_with_epsilon (score_crps_after (mu, sd, after, y), want, .006 * want + .005);
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
    g_assert_cmpfloat_with_epsilon (score_law_cdf (&law, x), score_cdf (log (x / 12) / .4), .012);
  for (double y = 4; y < 30; y += 2)
    g_assert_cmpfloat_with_epsilon (score_crps_law (&law, y),
                                    score_crps_log_normal (log (12), .4, y), .06);
}

/* Joint normal law of (rho of the kind + its lot) and what is observed, solved by elimination. */
static double
by_elimination (double cov[4][5], int n, double variance)
{
  double kept = variance;

  /* rows: observed quantities, last column their covariance with what is asked */
  for (int i = 0; i < n; i++)
    {
      for (int j = i + 1; j < n; j++)
        {
          double factor = cov[j][i] / cov[i][i];
          for (int c = i; c < 5; c++)
            cov[j][c] -= factor * cov[i][c];
        }
      kept -= cov[i][4] * cov[i][4] / cov[i][i];
    }
  return kept;
}

static void
test_hear (void)
{
  CoreProfile a, b;
  double rho2, lambda2, eta2, cov[4][5] = { { 0 } }, want;
  SimHeard heard;

  core_profile_init (&a);
  core_profile_init (&b);
  rho2 = a.sd_rho * a.sd_rho;
  lambda2 = a.sd_lambda * a.sd_lambda;
  eta2 = a.sd_eta * a.sd_eta;
  /* two lot-mates, one of another lot, one of another kind; each y with variance 1 / p = .04 */
  const SimSaid said[] = { { &a, 1, .1, 25 }, { &a, 1, .2, 25 }, { &a, 2, .3, 25 },
                           { &b, 3, -.1, 25 } };
  const int kind[] = { 0, 0, 0, 1 }, lot[] = { 1, 1, 2, 3 };
  for (int i = 0; i < 4; i++)
    {
      for (int j = 0; j < 4; j++)
        cov[i][j] = (kind[i] == kind[j] ? rho2 : .6 * rho2) + (lot[i] == lot[j] ? lambda2 : 0) +
                    (i == j ? eta2 + .04 : 0);
      cov[i][4] = (kind[i] == 0 ? rho2 : .6 * rho2) + (lot[i] == 1 ? lambda2 : 0);
    }
  want = by_elimination (cov, 4, rho2 + lambda2);
  heard = sim_hear (said, 4, &a, 1);
  g_assert_cmpint (heard.mates, ==, 2);
  g_assert_cmpint (heard.others, ==, 1);
  g_assert_cmpfloat_with_epsilon (heard.message.sd, sqrt (want), 1e-9);
  g_assert_cmpfloat (heard.message.mean, >, 0);
  heard = sim_hear (NULL, 0, &a, -1);
  g_assert_cmpfloat_with_epsilon (heard.message.sd, sqrt (rho2 + lambda2), 1e-12);
  g_assert_cmpfloat (heard.message.mean, ==, 0);
  core_profile_clear (&a);
  core_profile_clear (&b);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calibration/score/quantile", test_quantile);
  g_test_add_func ("/calibration/score/crps", test_crps);
  g_test_add_func ("/calibration/score/law", test_law);
  g_test_add_func ("/calibration/score/hear", test_hear);
  return g_test_run ();
}
