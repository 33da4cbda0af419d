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

static double
chord (const ScoreLaw *self, int i)
{
  return (self->z[i + 1] - self->z[i]) / (self->x[i + 1] - self->x[i]);
}

/* At inner points the harmonic mean of both chords, weighted by their widths. */
static void
find_slopes (ScoreLaw *self)
{
  int last = self->n - 1;

  self->slope[0] = chord (self, 0);
  self->slope[last] = chord (self, last - 1);
  for (int i = 1; i < last; i++)
    {
      double before = self->x[i] - self->x[i - 1], after = self->x[i + 1] - self->x[i];
      double a = 2 * after + before, b = after + 2 * before;

      self->slope[i] = (a + b) / (a / chord (self, i - 1) + b / chord (self, i));
    }
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
    self = (ScoreLaw){
      2, { f->days[0] - 1e-3, f->days[CORE_N_Q - 1] + 1e-3 }, { -1.645, 1.645 }, { 0 }
    };
  find_slopes (&self);
  return self;
}

/* Of the cubic (Hermite) from point i to the next, at the part t of the way. */
static double
cubic (const ScoreLaw *self, int i, double t)
{
  double width = self->x[i + 1] - self->x[i], s = 1 - t;

  return s * s * ((1 + 2 * t) * self->z[i] + t * width * self->slope[i]) +
         t * t * ((1 + 2 * s) * self->z[i + 1] - s * width * self->slope[i + 1]);
}

double
score_law_cdf (const ScoreLaw *self, double x)
{
  int last = self->n - 1, i = 0;

  if (x <= self->x[0])
    return score_cdf (self->z[0] + (x - self->x[0]) * self->slope[0]);
  if (x >= self->x[last])
    return score_cdf (self->z[last] + (x - self->x[last]) * self->slope[last]);
  while (self->x[i + 1] < x)
    i++;
  return score_cdf (cubic (self, i, (x - self->x[i]) / (self->x[i + 1] - self->x[i])));
}

double
score_law_quantile (const ScoreLaw *self, double z)
{
  int last = self->n - 1, i = 0;
  double lo = 0, hi = 1;

  if (z <= self->z[0])
    return self->x[0] + (z - self->z[0]) / self->slope[0];
  if (z >= self->z[last])
    return self->x[last] + (z - self->z[last]) / self->slope[last];
  while (self->z[i + 1] < z)
    i++;
  for (int step = 0; step < 16; step++)
    {
      double mid = (lo + hi) / 2;
      if (cubic (self, i, mid) < z)
        lo = mid;
      else
        hi = mid;
    }
  return self->x[i] + (lo + hi) / 2 * (self->x[i + 1] - self->x[i]);
}

static const double *
middle_scores (void)
{
  static double z[LEVELS];
  static gsize once;

  if (g_once_init_enter (&once))
    {
      for (int i = 0; i < LEVELS; i++)
        z[i] = score_normal_quantile ((i + .5) / LEVELS);
      g_once_init_leave (&once, 1);
    }
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
