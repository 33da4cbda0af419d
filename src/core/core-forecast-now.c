/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-now.c — the stage in progress: when the next moult comes.
 *
 * `base` is the density over the cells from the stage's beginning, without this
 * stage's looks and signs; these are weights upon it, so that leaving one out costs
 * nothing. Waits of one law share one pass, whatever N and sex stand behind them.
 */
#include "core/core-forecast-parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double prune = 1e-6;

struct FcShare
{
  size_t group;
  int h, s;
  double factor;
  int left;                   /* moults after the one to come */
  double rest_mean, rest_var; /* development of the stages after it, theta = 0 */
};
typedef struct FcShare Share;

/* Width of the cell that begins at t: fine around today, coarse where nothing is asked. */
static double
cell_width (const Fc *fc, double t)
{
  double ahead = t - fc->in->today;

  if (ahead >= -30 && ahead < 25)
    return fc->opt.cell;
  if (ahead >= -120 && ahead < 60)
    return 2 * fc->opt.cell;
  if (ahead >= -400 && ahead < 120)
    return 4 * fc->opt.cell;
  return ahead < 0 ? fmin (fmax (-ahead / 100, 4), 400) : 16 * fc->opt.cell;
}

double
fc_last_look (const Fc *fc)
{
  const CoreState *state = fc->in->state;

  for (size_t i = state->looks.n; i > 0; i--)
    if (state->looks.v[i - 1].t <= fc->in->today)
      return fmax (state->looks.v[i - 1].t, fc->began_hi);
  return fc->began_hi;
}

static double
edge_u (const Fc *fc, double t)
{
  return fc->leave & FC_LEAVE_WARMTH ? t : fc_at (fc, t);
}

#define STOPS (FC_LEAK_DAYS + 2)

static double
next_edge (const Fc *fc, const double stops[STOPS], double t, double end)
{
  double next = t + cell_width (fc, t);

  for (int d = 0; d < STOPS; d++)
    if (stops[d] > t + 1e-9 && stops[d] < next)
      next = stops[d];
  return fmin (next, end);
}

#define ROWS 10 /* arrays of a value for each edge */

static int
count_cells (const Fc *fc, const double *stops, double end)
{
  double t = fc->window.t[0];
  int n = 0;

  while (t < end - 1e-9 && n + 1 < FC_EDGES)
    {
      t = next_edge (fc, stops, t, end);
      n++;
    }
  return n;
}

static bool
make_rows (FcNow *self, int n)
{
  double **rows[ROWS] = { &self->t,    &self->u,     &self->base[0], &self->base[1],
                          &self->look, &self->found, &self->sign[0], &self->sign[1],
                          &self->sure[0], &self->sure[1] };

  self->block = calloc (ROWS * ((size_t) n + 1), sizeof *self->block);
  for (int i = 0; i < ROWS && self->block; i++)
    *rows[i] = self->block + (size_t) i * ((size_t) n + 1);
  return self->block != NULL;
}

static CoreStatus
make_cells (const Fc *fc, FcNow *self)
{
  const CoreWarmth *warmth = fc->in->warmth;
  double end = fmin (fc->in->today + FC_HORIZON, warmth->from + (double) warmth->n - 1);
  double t = fc->window.t[0];
  double stops[STOPS];

  self->today = fc->in->today;
  self->last_look = fmin (fc_last_look (fc), self->today);
  for (int d = 0; d <= FC_LEAK_DAYS; d++)
    stops[d] = self->last_look - FC_LEAK_DAYS + d;
  stops[FC_LEAK_DAYS + 1] = self->today;
  if (!(end > self->today + 1) || !(end > t))
    return CORE_BAD_INPUT;
  self->n = count_cells (fc, stops, end);
  if (!make_rows (self, self->n))
    return CORE_NO_MEMORY;
  self->t[0] = t;
  self->u[0] = edge_u (fc, t);
  for (int i = 1; i <= self->n; i++)
    {
      self->t[i] = t = next_edge (fc, stops, t, end);
      self->u[i] = edge_u (fc, t);
    }
  return CORE_OK;
}

double
fc_unmoulted (const Fc *fc, double t, double seen)
{
  if (t > seen)
    return 1;
  return t > seen - FC_LEAK_DAYS && !fc->opt.certain_looks ? FC_LEAK : 0;
}

/* That the stage had begun was seen in it: what comes next came after that. */
static void
weigh_looks (const Fc *fc, FcNow *self)
{
  double found = fmin (fc->began_hi, self->today);

  for (int i = 0; i < self->n; i++)
    {
      double mid = (self->t[i] + self->t[i + 1]) / 2;
      self->look[i] = fc_unmoulted (fc, mid, self->last_look);
      self->found[i] = fc_unmoulted (fc, mid, found);
    }
}

static FcGroup *
group_of (FcWork *work, FcWait law, bool last)
{
  size_t size = (size_t) work->fc->n_nodes * (size_t) work->fc->window.n;
  FcGroup *group;

  for (size_t g = 0; g < work->n_groups; g++)
    {
      group = &work->groups[g];
      if (group->law.mu == law.mu && group->law.sigma == law.sigma && group->last == last)
        return group;
    }
  group = &work->groups[work->n_groups];
  group->law = law;
  group->last = last;
  group->w = calloc (size, sizeof *group->w);
  group->m = calloc (size * 3, sizeof *group->m);
  if (group->w)
    work->n_groups++;
  return group->w && group->m ? group : NULL;
}

static CoreStatus
add_share (FcWork *work, int h, int s, FcWait law, int m_next, double factor)
{
  Fc *fc = work->fc;
  const FcHyp *hyp = &fc->hyp[h];
  Share *share = &work->shares[work->n_shares];
  FcGroup *group;
  double sum = 0;

  *share = (Share){ .h = h, .s = s, .left = hyp->n - m_next };
  factor *= fc_next_weight (fc, hyp, m_next);
  for (int k = 0; k < fc->n_nodes; k++)
    for (int i = 0; i < fc->window.n; i++)
      sum += fc_alpha (fc, fc->alpha, h, s, k)[i];
  if (!(sum * factor > prune))
    return CORE_OK;
  group = group_of (work, law, share->left == 0);
  if (!group)
    return CORE_NO_MEMORY;
  share->group = (size_t) (group - work->groups);
  share->factor = factor;
  for (int m = m_next; m < hyp->n; m++)
    {
      double mean, var;
      fc_wait_moments (fc_wait (fc, hyp, m, work->doubt), &mean, &var);
      share->rest_mean += mean;
      share->rest_var += var;
    }
  for (int k = 0; k < fc->n_nodes; k++)
    for (int i = 0; i < fc->window.n; i++)
      group->w[k * fc->window.n + i] += factor * fc_alpha (fc, fc->alpha, h, s, k)[i];
  work->n_shares++;
  return CORE_OK;
}

static CoreStatus
find_shares (FcWork *work)
{
  Fc *fc = work->fc;
  CoreStatus status = CORE_OK;

  for (int h = 0; h < fc->n_hyps; h++)
    for (int s = 0; s < fc->slots && status == CORE_OK; s++)
      {
        const FcHyp *hyp = &fc->hyp[h];
        int m = fc->first_m + fc->stage + s;
        double hidden = fc->opt.no_missing_moult || m + 2 > hyp->n ? 0 : FC_MISSING;
        FcWait law;

        if (m >= hyp->n)
          continue;
        law = fc_wait (fc, hyp, m, work->doubt);
        law.residual = fc->start_unknown;
        status = add_share (work, h, s, law, m + 1, 1 - hidden);
        if (status == CORE_OK && hidden > 0)
          status = add_share (work, h, s, fc_wait_sum (law, fc_wait (fc, hyp, m + 1, work->doubt)),
                              m + 2, hidden);
      }
  return status;
}

/* What does not depend on law or node. */
static void
make_logs (FcWork *work)
{
  const Fc *fc = work->fc;
  const FcNow *now = work->now;

  for (int k = 0; k < fc->n_nodes; k++)
    work->pace[k] = exp (fc->theta[k]);
  for (int i = 0; i < fc->window.n; i++)
    {
      work->start_u[i] = fc->leave & FC_LEAVE_WARMTH ? fc->window.mid_t[i] : fc->window.mid_u[i];
      for (int e = 0; e <= now->n; e++)
        {
          double d = now->u[e] - work->start_u[i];
          work->log_u[i * (now->n + 1) + e] = d > 0 ? log (d) : -INFINITY;
        }
    }
  for (int e = 0; e < now->n; e++)
    {
      work->mid_u[e] = (now->u[e] + now->u[e + 1]) / 2 - now->u[0];
      for (int c = 0; c < 2; c++)
        work->weight[c][e] = now->look[e] * now->sign[c][e];
    }
  while (work->today_edge < now->n && now->t[work->today_edge] < now->today)
    work->today_edge++;
  while (work->look_edge[0] < now->n && !(now->look[work->look_edge[0]] > 0))
    work->look_edge[0]++;
  work->look_edge[1] = work->look_edge[0];
  while (work->look_edge[1] < now->n && now->look[work->look_edge[1]] < 1)
    work->look_edge[1]++;
}

static void
spend (FcWork *work)
{
  for (size_t g = 0; g < work->n_groups; g++)
    fc_spend (work, &work->groups[g]);
}

/* One law of the adult date for each share and node: the next moult by its moments
 * given looks and signs, plus the stages after it. */
static void
add_part (FcWork *work, const Share *share, int k, const double sum[3])
{
  FcNow *now = work->now;
  double scale = work->pace[k];
  double mean = sum[1] / sum[0];
  double var = fmax (0, sum[2] / sum[0] - mean * mean) + scale * scale * share->rest_var;

  now->parts[now->n_parts++] =
    (struct FcPart){ .mass = sum[0], .mean = mean + scale * share->rest_mean, .var = var };
}

/* What weighs the shares of each class before any day is asked, and what a moult that was seen to
 * begin puts into it. */
typedef struct
{
  double weight[2], mass[2];
  double u; /* of that moult */
} Sure;

static double
share_weight (const Fc *fc, const Share *share, int k)
{
  const double *alpha = fc_alpha (fc, fc->alpha, share->h, share->s, k);
  double sum = 0;

  for (int i = 0; i < fc->window.n; i++)
    sum += share->factor * alpha[i];
  return sum;
}

static Sure
sure_of (const FcWork *work)
{
  const FcNow *now = work->now;
  const CoreSignSeen *sign = fc_moulting (work->fc, -1);
  Sure self = { { 0, 0 }, { 0, 0 }, 0 };

  if (!sign)
    return self;
  for (int c = 0; c < 2; c++)
    for (int i = 0; i < now->n; i++)
      self.mass[c] += now->sure[c][i] * now->look[i];
  for (size_t n = 0; n < work->n_shares; n++)
    for (int k = 0; k < work->fc->n_nodes; k++)
      self.weight[work->shares[n].left == 0 ? 1 : 0] += share_weight (work->fc, &work->shares[n], k);
  self.u = edge_u (work->fc, sign->first) - now->u[0];
  return self;
}

static void
add_sure (const FcWork *work, const Sure *sure, const Share *share, int k, double sum[3])
{
  int c = share->left == 0 ? 1 : 0;
  double mass;

  if (!(sure->mass[c] > 0) || !(sure->weight[c] > 0))
    return;
  mass = sure->mass[c] * share_weight (work->fc, share, k) / sure->weight[c];
  sum[0] += mass;
  sum[1] += mass * sure->u;
  sum[2] += mass * sure->u * sure->u;
}

static CoreStatus
find_left (FcWork *work)
{
  Fc *fc = work->fc;
  FcNow *now = work->now;
  Sure sure = sure_of (work);

  now->parts = calloc (work->n_shares * (size_t) fc->n_nodes + 1, sizeof *now->parts);
  if (!now->parts)
    return CORE_NO_MEMORY;
  for (size_t n = 0; n < work->n_shares; n++)
    {
      const Share *share = &work->shares[n];
      const FcGroup *group = &work->groups[share->group];
      for (int k = 0; k < fc->n_nodes; k++)
        {
          const double *alpha = fc_alpha (fc, fc->alpha, share->h, share->s, k);
          double sum[3] = { 0, 0, 0 };
          for (int i = 0; i < fc->window.n; i++)
            for (int d = 0; d < 3; d++)
              sum[d] += share->factor * alpha[i] * group->m[(k * fc->window.n + i) * 3 + d];
          add_sure (work, &sure, share, k, sum);
          if (!(sum[0] > 0) || share->left > CORE_MAX_MOULTS)
            continue;
          now->left[share->left + 1] += sum[0];
          if (share->left > 0)
            add_part (work, share, k, sum);
        }
    }
  return CORE_OK;
}

static CoreStatus
run (FcWork *work)
{
  CoreStatus status = find_shares (work);

  if (status == CORE_OK)
    {
      make_logs (work);
      spend (work);
      fc_sure (work->fc, work->now, -1);
    }
  return status == CORE_OK ? find_left (work) : status;
}

static void
work_free (FcWork *work)
{
  for (size_t g = 0; work->groups && g < work->n_groups; g++)
    {
      free (work->groups[g].w);
      free (work->groups[g].m);
    }
  free (work->groups);
  free (work->shares);
  free (work->log_u);
  free (work);
}

static FcWork *
work_new (Fc *fc, FcNow *now)
{
  size_t most = 2 * (size_t) fc->n_hyps * (size_t) fc->slots;
  size_t edges = (size_t) now->n + 1;
  FcWork *work = calloc (1, sizeof *work);

  if (!work)
    return NULL;
  work->fc = fc;
  work->now = now;
  work->groups = calloc (most, sizeof *work->groups);
  work->shares = calloc (most, sizeof *work->shares);
  work->log_u = malloc (((size_t) fc->window.n + 5) * edges * sizeof *work->log_u);
  if (work->groups && work->shares && work->log_u)
    {
      work->mid_u = work->log_u + (size_t) fc->window.n * edges;
      work->weight[0] = work->mid_u + edges;
      work->weight[1] = work->weight[0] + edges;
      work->mass = work->weight[1] + edges;
      work->excess = work->mass + edges;
      return work;
    }
  work_free (work);
  return NULL;
}

CoreStatus
fc_now (Fc *fc, FcNow *self)
{
  CoreStatus status;
  FcWork *work;

  memset (self, 0, sizeof *self);
  status = make_cells (fc, self);
  if (status != CORE_OK)
    {
      fc_now_clear (self);
      return status;
    }
  weigh_looks (fc, self);
  fc_signs (fc, self, -1);
  work = work_new (fc, self);
  if (!work)
    {
      fc_now_clear (self);
      return CORE_NO_MEMORY;
    }
  work->doubt = fc_warmth_sd (fc, fc->began_hi, fmax (self->today + 7, fc->began_hi + 20));
  status = run (work);
  work_free (work);
  if (status != CORE_OK)
    fc_now_clear (self);
  return status;
}

void
fc_now_clear (FcNow *self)
{
  free (self->block);
  free (self->parts);
  self->block = NULL;
  self->parts = NULL;
  self->n_parts = 0;
}

double
fc_mass (const FcNow *now, unsigned without, int i)
{
  double mass[2] = { now->base[0][i], now->base[1][i] };

  if (without & FC_AFTER_LOOK && now->look[i] < 1)
    return 0;
  if (!(without & FC_WITHOUT_SIGNS))
    {
      mass[0] = mass[0] * now->sign[0][i] + now->sure[0][i];
      mass[1] = mass[1] * now->sign[1][i] + now->sure[1][i];
    }
  return (mass[0] + mass[1]) * (without & FC_WITHOUT_LOOKS ? now->found[i] : now->look[i]);
}

static double
total (const FcNow *now, unsigned without)
{
  double sum = 0;

  for (int i = 0; i < now->n; i++)
    sum += fc_mass (now, without, i);
  return sum;
}

double
fc_quantile (const FcNow *now, unsigned without, double p)
{
  double want = p * total (now, without), sum = 0, end = NAN;

  for (int i = 0; i < now->n; i++)
    {
      double mass = fc_mass (now, without, i);
      if (!(mass > 0))
        continue;
      end = now->t[i + 1];
      if (sum + mass >= want)
        return now->t[i] + (want - sum) / mass * (now->t[i + 1] - now->t[i]);
      sum += mass;
    }
  return end;
}

double
fc_by (const FcNow *now, unsigned without, double t)
{
  double all = total (now, without), sum = 0;

  for (int i = 0; i < now->n && now->t[i] < t; i++)
    {
      double part = fmin (1, (t - now->t[i]) / (now->t[i + 1] - now->t[i]));
      sum += part * fc_mass (now, without, i);
    }
  return all > 0 ? sum / all : 0;
}
