/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-adult.c — when it is adult, and how many moults are left.
 *
 * Where the next moult makes it adult its cells are the adult date; for all others
 * a mixture of log-normal laws over N, sex and node (the parts of FcNow).
 */
#include "core/core-forecast-parts.h"

#include <math.h>

#define FAR 3000 /* days; an adult date past them is none */

/* Development at evening t; past the end of the warmth at the mean pace of its last days. */
static double
u_far (const Fc *fc, const FcNow *now, double t)
{
  const CoreWarmth *w = fc->in->warmth;
  double end = w->from + (double) w->n - 1;
  double back = fmin (60, (double) w->n - 1);

  if (t <= end || !(back > 0))
    return fc_at (fc, t) - fc_at (fc, now->t[0]);
  return fc_at (fc, end) - fc_at (fc, now->t[0]) +
         (t - end) * (fc_at (fc, end) - fc_at (fc, end - back)) / back;
}

/* What is asked again and again: the cells of the moult that makes it adult, summed up. */
typedef struct
{
  const Fc *fc;
  const FcNow *now;
  double last[FC_EDGES]; /* by edge */
} Adult;

static void
sum_last (Adult *self)
{
  const FcNow *now = self->now;

  self->last[0] = 0;
  for (int i = 0; i < now->n; i++)
    self->last[i + 1] = self->last[i] + (now->base[1][i] * now->sign[1][i] + now->sure[1][i]) * now->look[i];
}

static double
last_by (const Adult *self, double t)
{
  const FcNow *now = self->now;
  int lo = 0, hi = now->n;

  if (t >= now->t[hi])
    return self->last[hi];
  while (hi - lo > 1)
    {
      int mid = (lo + hi) / 2;
      if (now->t[mid] <= t)
        lo = mid;
      else
        hi = mid;
    }
  return self->last[lo] +
         (t - now->t[lo]) / (now->t[hi] - now->t[lo]) * (self->last[hi] - self->last[lo]);
}

static double
adult_by (const Adult *self, double t)
{
  const FcNow *now = self->now;
  double u = u_far (self->fc, now, t), sum = last_by (self, t);
  double log_u = u > 0 ? log (u) : -INFINITY;

  for (size_t n = 0; n < now->n_parts; n++)
    sum += now->parts[n].mass *
           fc_above_near (self->fc->tail, (now->parts[n].mu - log_u) / now->parts[n].sigma);
  return sum;
}

/* Between two evenings, false position with the far side halved (Illinois): few of these sums. */
static double
between (const Adult *self, double want, double lo, double hi)
{
  double f_lo = adult_by (self, lo) - want, f_hi = adult_by (self, hi) - want;
  int side = 0;

  for (int step = 0; step < 40 && hi - lo > .125; step++)
    {
      double t = fmin (fmax (hi - f_hi * (hi - lo) / (f_hi - f_lo), lo + .03), hi - .03);
      double f = adult_by (self, t) - want;

      if (f < 0)
        {
          f_hi *= side < 0 ? .5 : 1;
          lo = t;
          f_lo = f;
          side = -1;
        }
      else
        {
          f_lo *= side > 0 ? .5 : 1;
          hi = t;
          f_hi = f;
          side = 1;
        }
    }
  return hi;
}

/* *from: an evening by which it is less; moves on to one near the answer. */
static CoreDay
adult_quantile (const Adult *self, double want, double *from)
{
  double lo = *from, hi = fmax (lo, self->now->today) + 60, end = self->now->today + FAR;

  while (hi < end && adult_by (self, hi) < want)
    {
      lo = hi;
      hi = fmin (hi + (hi - *from), end);
    }
  if (adult_by (self, hi) < want)
    return CORE_DAY_NONE;
  hi = between (self, want, lo, hi);
  *from = hi - 1;
  return (CoreDay) ceil (hi - .125);
}

static void
give_law (struct FcPart *part)
{
  double s2 = log1p (part->var / (part->mean * part->mean));

  part->mu = log (part->mean) - .5 * s2;
  part->sigma = fmax (sqrt (s2), 1e-3);
}

/* Small parts are dropped before the search; their mass is given to the others. */
static void
drop_small (FcNow *now, double total)
{
  double kept = 0, all = 0;
  size_t n = 0;

  for (size_t i = 0; i < now->n_parts; i++)
    {
      all += now->parts[i].mass;
      if (now->parts[i].mass > 5e-4 * total)
        {
          kept += now->parts[i].mass;
          now->parts[n] = now->parts[i];
          give_law (&now->parts[n++]);
        }
    }
  now->n_parts = n;
  for (size_t i = 0; i < n; i++)
    now->parts[i].mass *= all / kept;
}

void
fc_adult (const Fc *fc, FcNow *now, CoreForecast *out)
{
  Adult all = { .fc = fc, .now = now };
  double total = 0, reached, from = now->t[0];

  for (int n = 1; n <= CORE_MAX_MOULTS + 1; n++)
    total += now->left[n];
  if (!(total > 0))
    return;
  for (int n = 1; n <= CORE_MAX_MOULTS; n++)
    out->moults_left[n] = now->left[n] / total;
  out->p_next_is_adult = out->moults_left[1];
  out->to_adult_possible = out->p_next_is_adult > .01;
  if (fc->opt.no_adult)
    return;
  drop_small (now, total);
  sum_last (&all);
  reached = all.last[now->n];
  for (size_t i = 0; i < now->n_parts; i++)
    reached += now->parts[i].mass;
  out->adult_p10 = adult_quantile (&all, .10 * reached, &from);
  out->adult_p50 = adult_quantile (&all, .50 * reached, &from);
  out->adult_p90 = adult_quantile (&all, .90 * reached, &from);
  /* One moult left: it is that one, to the day. */
  if (out->p_next_is_adult > .999)
    {
      out->adult_p10 = out->p10;
      out->adult_p50 = out->p50;
      out->adult_p90 = out->p90;
    }
  out->has_adult = out->adult_p50 != CORE_DAY_NONE;
}
