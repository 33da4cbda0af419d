/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-mass.c — how much of a law of the stage in progress falls into each cell.
 *
 * Directly: for every node of the own effect and every cell in which the stage may have begun, the
 * chance of each cell to come. Usually by a shorter way that gives the same to a millionth: nodes
 * lie evenly, so that on a grid of ln u that divides their step all of them read one row of tails;
 * their sum is read between its points by a cubic. Where next to nothing of a law is left after
 * the last look a millionth of the whole would be too coarse: there the direct way is gone.
 */
#include "core/core-forecast-parts.h"

#include <math.h>

/* Weights, of 1 in all, of a node and a start that are not followed: for the adult date; and where
 * what was least likely may be all that is left. */
static const double slight = 1e-5, nothing = 1e-7;
static const double enough = 1e-3; /* left after the last look for the shorter way */
static const double finest = 6;    /* grid points for each sigma, at least */
#define GRID 640                   /* most points of the sum */
#define TAILS 320                  /* most points of the row of tails */

/* ---- the direct way ---- */

/* The cells of one law, node and start that hold anything, and what lies past all cells. */
typedef struct
{
  int from, to;
  double beyond;
} Filled;

/* Past today the rest may be left out once it is so small a part of what is still to come. */
static const double nothing_left = 1e-14;

static Filled
masses (FcWork *work, const FcGroup *group, double theta, int i)
{
  const FcTail *tail = work->fc->tail;
  int n = work->now->n, e;
  const double *x = work->log_u + i * (n + 1);
  double mu = group->law.mu + theta, scale = 1 / group->law.sigma;
  double z0, q0, least = 0;
  Filled filled = { 0, n, 0 };

  for (e = 1; e <= n && (x[e] - mu) * scale < -8.5;)
    e++; /* nothing yet */
  filled.from = e - 1;
  z0 = (x[e - 1] - mu) * scale;
  q0 = z0 < -8.5 ? 0 : fc_tail (tail, fabs (z0));
  for (; e <= n; e++)
    {
      double z = (x[e] - mu) * scale, q = fc_tail (tail, fabs (z));

      work->mass[e - 1] = fc_between (z0, q0, z, q);
      z0 = z;
      q0 = q;
      if (z < 0 || e < work->today_edge)
        continue;
      if (e == work->today_edge || least == 0)
        least = nothing_left * q;
      else if (q < least)
        {
          filled.to = e;
          break;
        }
    }
  if (filled.to < n)
    {
      z0 = (x[n] - mu) * scale;
      q0 = fc_tail (tail, fabs (z0));
    }
  filled.beyond = z0 >= 0 ? q0 : 1 - q0;
  return filled;
}

static Filled
masses_residual (FcWork *work, const FcGroup *group, double theta, int i)
{
  const FcTail *tail = work->fc->tail;
  const double *x = work->log_u + i * (work->now->n + 1);
  double sigma = group->law.sigma, mu = group->law.mu + theta;
  double mean = exp (mu + .5 * sigma * sigma), left0 = 1;

  for (int e = 0; e <= work->now->n; e++)
    {
      double left = 1;
      if (isfinite (x[e]))
        {
          double z = (x[e] - mu) / sigma;
          left = fmax (0, fc_above (tail, z - sigma) - exp (x[e]) / mean * fc_above (tail, z));
        }
      if (e > 0)
        work->mass[e - 1] = fmax (0, left0 - left);
      left0 = left;
    }
  return (Filled){ 0, work->now->n, left0 };
}

static void
spend_start (FcWork *work, FcGroup *group, int k, int i)
{
  FcNow *now = work->now;
  int at = k * work->fc->window.n + i, c = group->last ? 1 : 0;
  double w = group->w[at];
  Filled filled =
    (group->law.residual ? masses_residual : masses) (work, group, work->fc->theta[k], i);
  const double *mass = work->mass, *weight = work->weight[c], *u = work->mid_u;
  double *base = now->base[c];
  double m0 = 0, m1 = 0, m2 = 0;

  for (int e = filled.from; e < filled.to; e++)
    {
      double weighed = mass[e] * weight[e];

      base[e] += w * mass[e];
      m0 += weighed;
      weighed *= u[e];
      m1 += weighed;
      m2 += weighed * u[e];
    }
  group->m[at * 3] = m0;
  group->m[at * 3 + 1] = m1;
  group->m[at * 3 + 2] = m2;
  now->beyond[c] += w * filled.beyond;
}

/* ---- the shorter way ---- */

typedef struct
{
  double step;         /* of ln D */
  int times;           /* of it in the step of the nodes */
  double tails[TAILS]; /* of the law alone, from `low` sigma on; at least a point below it */
  int n_tails;

  /* from one start */
  double from;
  int n;
  double sum[GRID]; /* weight of what lasts longer */
  double all;
} Blend;

static const double low = -5, high = 6.5; /* sigma: all of it lasts longer, or nothing */

/* Nodes that carry any weight from this start. */
static bool
used_nodes (const Fc *fc, const FcGroup *group, int i, int *first, int *last, double *all)
{
  double most = 0;

  *all = 0;
  for (int k = 0; k < fc->n_nodes; k++)
    {
      double w = group->w[k * fc->window.n + i];
      most = w > most ? w : most;
      *all += w;
    }
  *first = 0;
  *last = fc->n_nodes - 1;
  while (*first < *last && !(group->w[*first * fc->window.n + i] > 1e-6 * most))
    (*first)++;
  while (*last > *first && !(group->w[*last * fc->window.n + i] > 1e-6 * most))
    (*last)--;
  return most > 0;
}

/* FALSE: it has no room on the grid. */
static bool
blend_init (const Fc *fc, const FcGroup *group, Blend *self)
{
  double apart = fc->n_nodes > 1 ? fc->theta[1] - fc->theta[0] : 0, sigma = group->law.sigma;

  if (group->law.residual || !(apart > 0))
    return false;
  self->times = (int) ceil (apart * finest / sigma);
  if (self->times < 1 || self->times > 8)
    return false;
  self->step = apart / self->times;
  self->n_tails = (int) ceil ((high - low) * sigma / self->step) + 2;
  if (self->n_tails > TAILS)
    return false;
  for (int j = 0; j < self->n_tails; j++)
    self->tails[j] = fc_above_near (fc->tail, low + j * self->step / sigma);
  return true;
}

static bool
blend_start (const Fc *fc, const FcGroup *group, int i, Blend *self)
{
  int first, last;

  if (!used_nodes (fc, group, i, &first, &last, &self->all))
    return false;
  self->from = group->law.mu + fc->theta[first] + low * group->law.sigma;
  self->n = self->n_tails + (last - first) * self->times;
  if (self->n > GRID)
    return false;
  for (int j = 0; j < self->n; j++)
    self->sum[j] = 0;
  for (int k = first; k <= last; k++)
    {
      double w = group->w[k * fc->window.n + i];
      int at = (k - first) * self->times;
      double *sum = self->sum + at;

      for (int j = 0; j < at; j++) /* nothing of a slow node is over yet */
        self->sum[j] += w;
      for (int j = 0; j < self->n_tails; j++)
        sum[j] += w * self->tails[j];
    }
  return true;
}

/* Cubic through the four points around it (Lagrange). */
static double
blend_at (const Blend *self, double log_u)
{
  double x = (log_u - self->from) / self->step, f;
  const double *p;
  double sum;
  int j;

  if (!(x > 1))
    return self->all;
  if (!(x < self->n - 2))
    return 0;
  j = (int) x;
  f = x - j;
  p = self->sum + j;
  sum = .5 * (f + 1) * (f - 1) * (f - 2) * p[0] - .5 * f * (f + 1) * (f - 2) * p[1] +
        f * (f - 1) * ((f + 1) * p[2] - (f - 2) * p[-1]) / 6;
  return sum > 0 ? sum : 0;
}

static void
spend_blend (FcWork *work, const Blend *blend, int c, int i)
{
  FcNow *now = work->now;
  const double *x = work->log_u + i * (now->n + 1);
  double *base = now->base[c], before = blend_at (blend, x[0]);
  int e;

  for (e = 0; e < now->n; e++)
    {
      double after = blend_at (blend, x[e + 1]);
      base[e] += before > after ? before - after : 0;
      before = after;
      if (!(after > 0))
        break;
    }
  now->beyond[c] += before;
}

/* ---- moments, for the adult date ---- */

/* Of ln D = mu + sigma z past `from`: chance, and mean and mean square of D times that. */
static void
past (const FcTail *tail, double z, double sigma, const double scale[2], double sign, double out[3])
{
  out[0] += sign * fc_above_near (tail, z);
  out[1] += sign * scale[0] * fc_above_near (tail, z - sigma);
  out[2] += sign * scale[1] * fc_above_near (tail, z - 2 * sigma);
}

/* What the looks leave, as whole spans; what signs add, cell by cell where they add anything. */
static void
moments (FcWork *work, FcGroup *group, int k, int i)
{
  const Fc *fc = work->fc;
  const FcNow *now = work->now;
  const double *x = work->log_u + i * (now->n + 1);
  int at = k * fc->window.n + i, c = group->last ? 1 : 0, seen = work->look_edge[1];
  double sigma = group->law.sigma, mu = group->law.mu + fc->theta[k];
  double mean = work->pace[k] * group->mean;
  double scale[2] = { mean, mean * mean * group->square };
  double shift = work->start_u[i] - now->u[0], leak = now->look[work->look_edge[0]];
  double sum[3] = { 0, 0, 0 }, z0 = 0, q0 = 1, *out = group->m + at * 3;
  double e0 = 0, e1 = 0, e2 = 0;

  past (fc->tail, (x[seen] - mu) / sigma, sigma, scale, 1, sum);
  past (fc->tail, (x[now->n] - mu) / sigma, sigma, scale, -1, sum);
  if (seen > work->look_edge[0] && leak > 0)
    {
      past (fc->tail, (x[work->look_edge[0]] - mu) / sigma, sigma, scale, leak, sum);
      past (fc->tail, (x[seen] - mu) / sigma, sigma, scale, -leak, sum);
    }
  sum[2] += 2 * shift * sum[1] + shift * shift * sum[0];
  sum[1] += shift * sum[0];
  for (int e = work->look_edge[0], open = 0; e < now->n && now->sign_none[c] < 1; e++)
    {
      double z, q, weighed;
      if (!(work->excess[e] > 0))
        {
          open = 0;
          continue;
        }
      if (!open)
        {
          z0 = (x[e] - mu) / sigma;
          q0 = fc_above_near (fc->tail, z0);
        }
      z = (x[e + 1] - mu) / sigma;
      q = fc_above_near (fc->tail, z);
      weighed = (q0 - q) * work->excess[e];
      e0 += weighed;
      e1 += weighed * work->mid_u[e];
      e2 += weighed * work->mid_u[e] * work->mid_u[e];
      q0 = q;
      open = 1;
    }
  out[0] = now->sign_none[c] * (sum[0] + e0);
  out[1] = now->sign_none[c] * (sum[1] + e1);
  out[2] = now->sign_none[c] * (sum[2] + e2);
}

/* What signs add, of this class of moults. */
static void
find_excess (FcWork *work, int c)
{
  const FcNow *now = work->now;

  for (int e = 0; e < now->n; e++)
    {
      double more = now->sign[c][e] / now->sign_none[c] - 1;
      work->excess[e] = more > 1e-4 ? more * now->look[e] : 0;
    }
}

static bool
is_followed (const FcWork *work, const FcGroup *group, int k, int i, double least)
{
  return group->w[k * work->fc->window.n + i] > least / work->fc->n_nodes;
}

/* Its cells from one start; FALSE: the direct way has to be gone. */
static bool
spend_short (FcWork *work, FcGroup *group, Blend *blend, int i)
{
  int look = work->look_edge[1];

  if (!blend_start (work->fc, group, i, blend) ||
      blend_at (blend, work->log_u[i * (work->now->n + 1) + look]) < enough * blend->all)
    return false;
  spend_blend (work, blend, group->last ? 1 : 0, i);
  for (int k = 0; k < work->fc->n_nodes; k++)
    if (is_followed (work, group, k, i, slight))
      moments (work, group, k, i);
  return true;
}

void
fc_spend (FcWork *work, FcGroup *group)
{
  Blend blend;
  bool is_short = blend_init (work->fc, group, &blend);

  group->mean = exp (group->law.mu + .5 * group->law.sigma * group->law.sigma);
  group->square = exp (group->law.sigma * group->law.sigma);
  find_excess (work, group->last ? 1 : 0);
  for (int i = 0; i < work->fc->window.n; i++)
    if (!is_short || !spend_short (work, group, &blend, i))
      for (int k = 0; k < work->fc->n_nodes; k++)
        if (is_followed (work, group, k, i, nothing))
          spend_start (work, group, k, i);
}
