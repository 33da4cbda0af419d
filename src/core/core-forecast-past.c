/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-past.c — the forward recursion over the windows of finished stages.
 *
 * alpha_m(t) = sum over s of alpha_m-1(s) · P(D in the cell from s to t), for every
 * hypothesis, m and node, so that a shared uncertain date counts once.
 */
#include "core/core-forecast-parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LAWS 24 /* kernels kept at one step: (mu, sigma) that differ */
/* What cannot be by the model (a wrong date) is kept alive, far below all else. */
static const double floor_mass = 1e-9;
static const double prune = 1e-6;
/* Ours: a first moult entered without any look before it is dated no better than this. */
static const double blind_days = 3;

typedef struct
{
  FcWait law;
  bool done[FC_NODES];
  double *k; /* [node][i][j], owned */
} Kernel;

typedef struct
{
  Fc *fc;
  const FcWindow *from, *to;
  bool silent;                   /* left out: it took as long as it took */
  double (*log_u)[FC_CELLS + 1]; /* ln (u of edge j - u of mid i), owned */
  size_t n_kernels;
  Kernel kernel[LAWS];
} Step;

static bool
usable (const CoreStage *stage, bool first)
{
  return isfinite (stage->hi) && (first || stage->start == CORE_START_MOULTED);
}

static void
close_cell (const Fc *fc, FcWindow *self, double end, double weight)
{
  int i = self->n++;

  self->t[i + 1] = end;
  self->u[i + 1] = fc_at (fc, end);
  self->mid_t[i] = (self->t[i] + end) / 2;
  self->mid_u[i] = fc_at (fc, self->mid_t[i]);
  self->weight[i] = weight;
}

static void
leak_cell (const Fc *fc, FcWindow *self, double lo)
{
  self->t[0] = lo - FC_LEAK_DAYS;
  self->u[0] = fc_at (fc, self->t[0]);
  close_cell (fc, self, lo, FC_LEAK);
}

/* The days that a look speaks against are one wide cell; the window itself is cut into cells of two steps
 * (a day: a date spread over it has a variance of a twelfth of a day squared, a stage of ten or
 * more), and coarser when it is very wide. */
static void
window_make (const Fc *fc, const CoreStage *stage, double floor_t, bool first, FcWindow *self)
{
  bool leak =
    stage->start == CORE_START_MOULTED && !stage->earliest_given && !fc->opt.certain_looks;
  double hi = stage->hi, lo = stage->lo, width;
  int cells;

  memset (self, 0, sizeof *self);
  if (stage->start == CORE_START_ACQUIRED)
    lo = hi;
  else if (!(lo <= hi)) /* turned round, or no number */
    lo = hi - 1;
  else if (isinf (lo)) /* no look before: since the stage before it, else ours */
    lo = isfinite (floor_t) ? floor_t : hi - blind_days;
  lo = fmax (fmax (lo, floor_t), hi - FC_HORIZON);
  if (!(hi - lo > .02))
    lo = first ? hi : hi - .02;
  width = hi - lo;
  self->lo = lo;
  self->t[0] = lo;
  self->u[0] = fc_at (fc, lo);
  if (leak)
    leak_cell (fc, self, lo);
  cells = (int) ceil (width / (2 * fc->opt.cell) - 1e-9);
  cells = cells < 1 ? 1 : cells > FC_CELLS - 1 ? FC_CELLS - 1 : cells;
  for (int c = 1; c <= cells; c++)
    close_cell (fc, self, c == cells ? hi : lo + width * c / cells, 1);
}

static inline double
positive (double x)
{
  return x > 0 ? x : 0;
}

static void
kernel_row (const Step *step, const FcWait *law, double theta, int i, double *row)
{
  const FcWindow *to = step->to;
  double z0 = -INFINITY, q0 = 0;

  for (int j = 0; j <= to->n; j++)
    {
      double z = (step->log_u[i][j] - law->mu - theta) / law->sigma;
      double q = fc_tail_near (step->fc->tail, fabs (z));
      if (j > 0)
        row[j - 1] = to->weight[j - 1] * (positive (fc_between (z0, q0, z, q)) + floor_mass);
      z0 = z;
      q0 = q;
    }
}

/* Share of residual waits longer than r: with x = ln r, the chance of a stage
 * met at random to last so long, Q(z - sigma) - r Q(z) ÷ E D. */
static void
kernel_row_residual (const Step *step, const FcWait *law, double theta, int i, double *row)
{
  const FcWindow *to = step->to;
  double mean = exp (law->mu + theta + .5 * law->sigma * law->sigma);
  double left0 = 1;

  for (int j = 0; j <= to->n; j++)
    {
      double left = 1, x = step->log_u[i][j];
      if (isfinite (x))
        {
          double z = (x - law->mu - theta) / law->sigma;
          left = fc_above (step->fc->tail, z - law->sigma) -
                 exp (x) / mean * fc_above (step->fc->tail, z);
        }
      if (j > 0)
        row[j - 1] = to->weight[j - 1] * (fmax (0, left0 - left) + floor_mass);
      left0 = left;
    }
}

static const double *
kernel_of (Step *step, FcWait law, int node)
{
  const FcWindow *from = step->from;
  Kernel *kernel = NULL;
  size_t size = (size_t) from->n * (size_t) step->to->n;
  double *block;

  for (size_t n = 0; n < step->n_kernels && !kernel; n++)
    if (step->kernel[n].law.mu == law.mu && step->kernel[n].law.sigma == law.sigma &&
        step->kernel[n].law.residual == law.residual)
      kernel = &step->kernel[n];
  if (!kernel)
    {
      /* When all places are taken the last one is computed anew: slower, never wrong. */
      if (step->n_kernels < LAWS)
        step->n_kernels++;
      kernel = &step->kernel[step->n_kernels - 1];
      kernel->law = law;
      memset (kernel->done, 0, sizeof kernel->done);
      if (!kernel->k)
        kernel->k = malloc (size * (size_t) step->fc->n_nodes * sizeof *kernel->k);
      if (!kernel->k)
        return NULL;
    }
  block = kernel->k + size * (size_t) node;
  if (!kernel->done[node])
    for (int i = 0; i < from->n; i++)
      (law.residual ? kernel_row_residual : kernel_row) (step, &law, step->fc->theta[node], i,
                                                         block + (size_t) i * (size_t) step->to->n);
  kernel->done[node] = true;
  return block;
}

/* The stage as if nobody had noted how long it took: its end lies anywhere in its window. */
static void
spread (const Step *step, const double *from, double share, double *to)
{
  const FcWindow *w = step->to;
  double sum = 0, all = 0;

  for (int i = 0; i < step->from->n; i++)
    sum += from[i];
  for (int j = 0; j < w->n; j++)
    all += w->weight[j] * (w->t[j + 1] - w->t[j]);
  for (int j = 0; j < w->n && all > 0; j++)
    to[j] += share * sum * w->weight[j] * (w->t[j + 1] - w->t[j]) / all;
}

static CoreStatus
carry (Step *step, int h, int s, int to_slot, FcWait law, double share)
{
  Fc *fc = step->fc;

  for (int k = 0; k < fc->n_nodes; k++)
    {
      const double *from = fc_alpha (fc, fc->alpha, h, s, k);
      double *to = fc_alpha (fc, fc->next, h, to_slot, k);
      const double *kernel;
      double sum = 0;

      for (int i = 0; i < step->from->n; i++)
        sum += from[i];
      if (!(sum > prune)) /* of 1 in all */
        continue;
      if (step->silent)
        {
          spread (step, from, share, to);
          continue;
        }
      kernel = kernel_of (step, law, k);
      if (!kernel)
        return CORE_NO_MEMORY;
      for (int i = 0; i < step->from->n; i++)
        if (from[i] > prune * sum)
          for (int j = 0; j < step->to->n; j++)
            to[j] += share * from[i] * kernel[i * step->to->n + j];
    }
  return CORE_OK;
}

/* m must leave a moult to come, unless the animal is adult now and this is its last. */
static bool
allowed (const Fc *fc, int n, int m, bool last)
{
  if (last && fc->in->state->adult)
    return m == n;
  return m < n;
}

static void
part (Fc *fc, int h)
{
  size_t n = (size_t) fc->slots * (size_t) fc->n_nodes * (size_t) fc->row;
  const double *from = fc_alpha (fc, fc->alpha, fc->twin[h], 0, 0);
  double *to = fc_alpha (fc, fc->alpha, h, 0, 0);

  for (size_t i = 0; i < n && (fc->twin[h] != h || fc->times[h] != 1); i++)
    to[i] = fc->times[h] * from[i];
  fc->twin[h] = h;
  fc->times[h] = 1;
}

static bool
same_wait (const Fc *fc, int h, int other, int m)
{
  FcWait a = fc_wait (fc, &fc->hyp[h], m, 0), b = fc_wait (fc, &fc->hyp[other], m, 0);

  return a.mu == b.mu && a.sigma == b.sigma;
}

/* The next step is another one for these two. */
static bool
parts_now (const Fc *fc, int h, bool last)
{
  int other = fc->twin[h];

  for (int s = 0; s < fc->slots && s <= fc->stage; s++)
    {
      int m = fc->first_m + fc->stage + s;
      if (m + 2 >= fc->hyp[h].n || (last && fc->in->state->adult) || !same_wait (fc, h, other, m) ||
          !same_wait (fc, h, other, m + 1))
        return true;
    }
  return false;
}

static void
part_those_that_do (Fc *fc, bool last)
{
  for (int h = 0; h < fc->n_hyps; h++)
    if (fc->twin[h] != h && parts_now (fc, h, last))
      part (fc, h);
}

static CoreStatus
step_hyp (Step *step, int h, bool last, bool unknown, double doubt)
{
  Fc *fc = step->fc;
  const FcHyp *hyp = &fc->hyp[h];

  for (int s = 0; s < fc->slots; s++)
    {
      int m = fc->first_m + fc->stage + s;
      double hidden = fc->opt.no_missing_moult ? 0 : FC_MISSING;
      FcWait law = fc_wait_here (fc, hyp, m, doubt);
      CoreStatus status = CORE_OK;

      law.residual = unknown;
      if (m < hyp->n && allowed (fc, hyp->n, m + 1, last))
        status = carry (step, h, s, s, law, 1 - hidden);
      if (status == CORE_OK && hidden > 0 && m + 1 < hyp->n && s + 1 < fc->slots &&
          allowed (fc, hyp->n, m + 2, last))
        status =
          carry (step, h, s, s + 1, fc_wait_sum (law, fc_wait_here (fc, hyp, m + 1, doubt)), hidden);
      if (status != CORE_OK)
        return status;
    }
  return CORE_OK;
}

/* Keeps numbers near 1 over many stages; only ratios count. */
static double
rescale (const Fc *fc, double *table)
{
  size_t size = (size_t) fc->slots * (size_t) fc->n_nodes * (size_t) fc->row;
  double sum = 0, times[FC_HYPS] = { 0 };

  for (int h = 0; h < fc->n_hyps; h++)
    times[fc->twin[h]] += fc->times[h];
  for (int h = 0; h < fc->n_hyps; h++)
    for (size_t i = 0; i < size && times[h] > 0; i++)
      sum += times[h] * table[(size_t) h * size + i];
  for (int h = 0; h < fc->n_hyps && sum > 0; h++)
    for (size_t i = 0; i < size && times[h] > 0; i++)
      table[(size_t) h * size + i] /= sum;
  return sum;
}

static void
step_logs (const Step *step)
{
  for (int i = 0; i < step->from->n; i++)
    for (int j = 0; j <= step->to->n; j++)
      {
        double d = step->to->u[j] - step->from->mid_u[i];
        step->log_u[i][j] = d > 0 ? log (d) : -INFINITY;
      }
}

/* `unknown`: the wait from an arrival. What was entered for a whole lot its lot tells, as one. */
static bool
left_out (const Fc *fc, const CoreStage *to, bool unknown)
{
  bool last = fc->stage + 2 == fc->n_stages;

  if (fc->leave & FC_FOR_MESSAGE)
    return (fc->in->here && !fc->in->here[fc->now_at]) ||
           (to->of_lot && fc->in->state->kind == CORE_SUBJECT_ANIMAL);
  if (unknown)
    return fc->leave & FC_LEAVE_ARRIVAL;
  return fc->leave & (last ? FC_LEAVE_LAST : FC_LEAVE_EARLIER);
}

static size_t
table_size (const Fc *fc)
{
  return (size_t) fc->n_hyps * (size_t) fc->slots * (size_t) fc->n_nodes * (size_t) fc->row;
}

static CoreStatus
step_run (Fc *fc, const FcWindow *to, const CoreStage *stage, bool last)
{
  bool unknown = fc->start_unknown;
  const FcWindow *from = &fc->window;
  double doubt = fc_warmth_sd (fc, from->t[from->n], to->t[to->n]);
  Step step = { .fc = fc, .from = from, .to = to, .silent = left_out (fc, stage, unknown) };
  CoreStatus status = CORE_OK;

  step.log_u = malloc ((size_t) from->n * sizeof *step.log_u);
  if (!step.log_u)
    return CORE_NO_MEMORY;
  step_logs (&step);
  part_those_that_do (fc, last);
  memset (fc->next, 0, table_size (fc) * sizeof *fc->next);
  for (int h = 0; h < fc->n_hyps && status == CORE_OK; h++)
    if (fc->twin[h] == h)
      status = step_hyp (&step, h, last, unknown, doubt);
  for (size_t n = 0; n < step.n_kernels; n++)
    free (step.kernel[n].k);
  free (step.log_u);
  if (status == CORE_OK && rescale (fc, fc->next) > 0)
    {
      double *swap = fc->alpha;
      fc->alpha = fc->next;
      fc->next = swap;
      fc->stage++;
      fc->window = *to;
    }
  return status;
}

/* The largest number of that sex, where all begin in one stage only. */
static int
twin_of (const Fc *fc, int h, const double weight[FC_HYPS])
{
  for (int other = fc->n_hyps - 1; other > h; other--)
    if (fc->hyp[other].sex == fc->hyp[h].sex && weight[other] > 0)
      return other;
  return h;
}

/* What stands for several weighs as much as all of them, or it would be given up too early. */
static void
find_twins (Fc *fc, const double weight[FC_HYPS], int starts)
{
  size_t n = (size_t) fc->slots * (size_t) fc->n_nodes * (size_t) fc->row;
  double all[FC_HYPS] = { 0 };

  for (int h = 0; h < fc->n_hyps; h++)
    {
      fc->twin[h] = starts == 1 && weight[h] > 0 ? twin_of (fc, h, weight) : h;
      all[fc->twin[h]] += weight[h];
    }
  for (int h = 0; h < fc->n_hyps; h++)
    {
      double *alpha = fc_alpha (fc, fc->alpha, h, 0, 0);

      fc->times[h] = weight[h] > 0 ? weight[h] / all[fc->twin[h]] : 1;
      for (size_t i = 0; i < n && fc->twin[h] == h && weight[h] > 0; i++)
        alpha[i] *= all[h] / weight[h];
    }
}

/* Spreads the prior over the first stage's cells. */
static void
begin (Fc *fc)
{
  double sum = 0, all[FC_HYPS] = { 0 };
  int starts = 0;

  for (int i = 0; i < fc->window.n; i++)
    sum += fc->window.weight[i];
  for (int h = 0; h < fc->n_hyps; h++)
    for (int s = 0; s < fc->slots; s++)
      {
        int m = fc->first_m + s;
        double weight;
        if (m < 0 || m > CORE_MAX_MOULTS || m >= fc->hyp[h].n + (fc->in->state->adult ? 1 : 0))
          continue;
        weight =
          fc->hyp[h].weight * fc->m0[m] * fc_size (fc, &fc->hyp[h], m + fc->size_stage) / sum;
        for (int k = 0; k < fc->n_nodes; k++)
          for (int i = 0; i < fc->window.n; i++)
            fc_alpha (fc, fc->alpha, h, s, k)[i] = weight * fc->prior[k] * fc->window.weight[i];
        all[h] += weight;
      }
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    starts += fc->m0[m] > 0 ? 1 : 0;
  find_twins (fc, all, starts);
}

static bool
is_used (const Fc *fc, const CoreStage *stage, bool first)
{
  return usable (stage, first) && !(stage->found > fc->in->today);
}

/* Room for the widest window of all that the recursion will meet. */
static CoreStatus
make_tables (Fc *fc)
{
  const CoreState *state = fc->in->state;
  double floor_t = -INFINITY;
  FcWindow window;

  for (size_t n = 0; n < state->stages.n; n++)
    if (is_used (fc, &state->stages.v[n], fc->row == 0))
      {
        window_make (fc, &state->stages.v[n], floor_t, fc->row == 0, &window);
        fc->row = window.n > fc->row ? window.n : fc->row;
        floor_t = window.t[0];
      }
  if (fc->row == 0)
    return CORE_BAD_INPUT;
  fc->alpha = calloc (table_size (fc), sizeof *fc->alpha);
  fc->next = calloc (table_size (fc), sizeof *fc->next);
  return fc->alpha && fc->next ? CORE_OK : CORE_NO_MEMORY;
}

CoreStatus
fc_past (Fc *fc)
{
  const CoreState *state = fc->in->state;
  double floor_t = -INFINITY;
  bool begun = false;
  CoreStatus status = make_tables (fc);

  if (status != CORE_OK)
    return status;
  for (size_t n = 0; n < state->stages.n; n++)
    {
      const CoreStage *stage = &state->stages.v[n];
      FcWindow window;

      if (!is_used (fc, stage, !begun))
        continue;
      window_make (fc, stage, floor_t, !begun, begun ? &window : &fc->window);
      if (!begun)
        {
          begun = true;
          fc->start_unknown = stage->start == CORE_START_ACQUIRED;
          begin (fc);
          rescale (fc, fc->alpha);
        }
      else
        {
          status = step_run (fc, &window, stage, n + 1 == state->stages.n);
          if (status != CORE_OK)
            return status;
          fc->start_unknown = false;
        }
      fc->now_at = n;
      fc->began_lo = fc->window.lo;
      fc->began_hi = stage->hi;
      fc->began_entry = stage->entry;
      floor_t = fc->window.t[0];
    }
  for (int h = 0; h < fc->n_hyps; h++)
    if (fc->twin[h] != h)
      part (fc, h);
  for (int h = 0; h < fc->n_hyps; h++)
    part (fc, h);
  return CORE_OK;
}
