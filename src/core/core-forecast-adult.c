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

static double
last_by (const FcNow *now, double t)
{
  double sum = 0;

  for (int i = 0; i < now->n && now->t[i] < t; i++)
    sum += now->base[1][i] * now->sign[1][i] * now->look[i] *
           fmin (1, (t - now->t[i]) / (now->t[i + 1] - now->t[i]));
  return sum;
}

static double
adult_by (const Fc *fc, const FcNow *now, double t)
{
  double u = u_far (fc, now, t), sum = last_by (now, t);
  double log_u = u > 0 ? log (u) : -INFINITY;

  for (size_t n = 0; n < now->n_parts; n++)
    sum +=
      now->parts[n].mass * fc_above (fc->tail, (now->parts[n].mu - log_u) / now->parts[n].sigma);
  return sum;
}

static CoreDay
adult_quantile (const Fc *fc, const FcNow *now, double want)
{
  double lo = now->t[0], hi = now->today + FAR;

  if (adult_by (fc, now, hi) < want)
    return CORE_DAY_NONE;
  while (hi - lo > .125)
    {
      double mid = (lo + hi) / 2;
      if (adult_by (fc, now, mid) < want)
        lo = mid;
      else
        hi = mid;
    }
  return (CoreDay) ceil (hi - .125);
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
      if (now->parts[i].mass > 2e-4 * total)
        {
          kept += now->parts[i].mass;
          now->parts[n++] = now->parts[i];
        }
    }
  now->n_parts = n;
  for (size_t i = 0; i < n; i++)
    now->parts[i].mass *= all / kept;
}

void
fc_adult (const Fc *fc, FcNow *now, CoreForecast *out)
{
  double total = 0, reached;

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
  reached = last_by (now, INFINITY);
  for (size_t i = 0; i < now->n_parts; i++)
    reached += now->parts[i].mass;
  out->adult_p10 = adult_quantile (fc, now, .10 * reached);
  out->adult_p50 = adult_quantile (fc, now, .50 * reached);
  out->adult_p90 = adult_quantile (fc, now, .90 * reached);
  /* One moult left: it is that one, to the day. */
  if (out->p_next_is_adult > .999)
    {
      out->adult_p10 = out->p10;
      out->adult_p50 = out->p50;
      out->adult_p90 = out->p90;
    }
  out->has_adult = out->adult_p50 != CORE_DAY_NONE;
}
