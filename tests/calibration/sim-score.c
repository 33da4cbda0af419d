/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-score.c — quantiles, their interpolation, and the continuous ranked probability score. */
#include "sim-score.h"

#include <math.h>

#define LEVELS 128 /* of the sum over quantile losses */

static const double levels[CORE_N_Q] = { .05, .10, .25, .50, .75, .90, .95 };

double
score_cdf (double z)
{
  return .5 * erfc (-z / G_SQRT2);
}

/* A first guess (Hastings' rational approximation, Abramowitz & Stegun 26.2.23, from memory,
 * error below 4.5e-4), then Newton on the law itself. */
double
score_normal_quantile (double p)
{
  double tail = MIN (p, 1 - p), t = sqrt (-2 * log (tail));
  double z = t - (2.515517 + t * (.802853 + t * .010328)) /
                   (1 + t * (1.432788 + t * (.189269 + t * .001308)));

  for (int i = 0; i < 3; i++)
    z += (score_cdf (-z) - tail) / (exp (-.5 * z * z) / sqrt (2 * G_PI));
  return p < .5 ? -z : z;
}

/* Keeps x and z rising; what is out of order, or in a tail where rounding rules, is left out. */
static void
put (ScoreLaw *self, double x, double p)
{
  double z;
  int at = self->n;

  if (!(p > .01 && p < .99))
    return;
  z = score_normal_quantile (p);
  while (at > 0 && self->x[at - 1] > x)
    at--;
  if ((at > 0 && (x - self->x[at - 1] < 1e-6 || z - self->z[at - 1] < 1e-6)) ||
      (at < self->n && (self->x[at] - x < 1e-6 || self->z[at] - z < 1e-6)))
    return;
  for (int i = self->n; i > at; i--)
    {
      self->x[i] = self->x[i - 1];
      self->z[i] = self->z[i - 1];
    }
  self->x[at] = x;
  self->z[at] = z;
  self->n++;
}

ScoreLaw
score_law (const CoreForecast *f)
{
  ScoreLaw self = { 0 };
  double all = (1 - f->beyond) * (1 - f->not_normal);

  for (int q = 0; q < CORE_N_Q; q++)
    put (&self, f->days[q], levels[q]);
  if (all > 1e-6)
    {
      put (&self, 0, f->by_now / all);
      put (&self, 3, f->within3 / all);
      put (&self, 7, f->within7 / all);
      put (&self, 14, f->within14 / all);
    }
  if (self.n < 2) /* all quantiles on one point */
    self = (ScoreLaw){ 2, { f->days[0] - 1e-3, f->days[CORE_N_Q - 1] + 1e-3 }, { -1.645, 1.645 } };
  return self;
}

static double
straight (const double *from, const double *to, int n, double at)
{
  int i = 1;

  while (i < n - 1 && from[i] < at)
    i++;
  return to[i - 1] + (at - from[i - 1]) * (to[i] - to[i - 1]) / (from[i] - from[i - 1]);
}

double
score_law_cdf (const ScoreLaw *self, double x)
{
  return score_cdf (straight (self->x, self->z, self->n, x));
}

double
score_law_quantile (const ScoreLaw *self, double z)
{
  return straight (self->z, self->x, self->n, z);
}

static const double *
middle_scores (void)
{
  static double z[LEVELS];

  if (z[LEVELS - 1] == 0)
    for (int i = 0; i < LEVELS; i++)
      z[i] = score_normal_quantile ((i + .5) / LEVELS);
  return z;
}

/* Twice the loss of the quantile q at level p. */
static double
loss (double q, double p, double y)
{
  return 2 * (y < q ? (1 - p) * (q - y) : p * (y - q));
}

double
score_crps_law (const ScoreLaw *self, double y)
{
  const double *z = middle_scores ();
  double sum = 0;

  for (int i = 0; i < LEVELS; i++)
    sum += loss (score_law_quantile (self, z[i]), (i + .5) / LEVELS, y);
  return sum / LEVELS;
}

double
score_crps_log_normal (double mu, double sd, double y)
{
  double z = y > 0 ? (log (y) - mu) / sd : -40, mean = exp (mu + .5 * sd * sd);

  return y * (2 * score_cdf (z) - 1) -
         2 * mean * (score_cdf (z - sd) + score_cdf (sd / G_SQRT2) - 1);
}

double
score_crps_after (double mu, double sd, double after, double y)
{
  const double *z = middle_scores ();
  double left = after > 0 ? score_cdf (-(log (after) - mu) / sd) : 1, sum = 0;

  left = MAX (left, 1e-12);
  for (int i = 0; i < LEVELS; i++)
    {
      double p = (i + .5) / LEVELS;
      double at = left < 1 ? -score_normal_quantile (left * (1 - p)) : z[i];
      sum += loss (exp (mu + sd * at), p, y);
    }
  return sum / LEVELS;
}
