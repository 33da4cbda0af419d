/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-lot-start.c — a lot of which nobody knows when its stage began.
 *
 * Lot-mates hatched together: how far they are in their stage is one unknown of all of them, not of
 * each by itself. For each stage that it may be, and each age in it when the lot came, counted in
 * development days, the law of one is that of a whole stage, given that it had not ended by then.
 * An age weighs as the chance that the lot was still of that stage at it, divided by the sum over
 * all ages: the length of the stage, which would else favour slow ones.
 */
#include "core/core-forecast-parts.h"

#include <math.h>
#include <string.h>

#define LEAST 1e-4          /* an age so unlikely, or a law, is none */
static const double wide = 1.5; /* days: a hatch dated no better than this is an unknown start, too */

/* Of several hatchings, or of two lots that were joined, the window holds days on each of which some
 * hatched: that is no doubt about all. */
static bool
hatched_together (const CoreState *lot)
{
  return lot->tally.joined_in == 0 && core_state_setting (lot, "eggcase") == NULL;
}

bool
fc_lot_start_open (const CoreState *lot, CoreDay today)
{
  const CoreStage *stage = lot->stages.n == 1 ? &lot->stages.v[0] : NULL;

  if (stage == NULL || !isfinite (stage->hi) || stage->hi > today)
    return false;
  return stage->start == CORE_START_ACQUIRED ||
         (stage->start == CORE_START_HATCHED && hatched_together (lot) && isfinite (stage->lo) && stage->hi - stage->lo > wide);
}

/* Those of a later stage did not all begin it on one day; by how much they part grows with every
 * moult. */
static double
parted (const CoreProfile *p, int m)
{
  return sqrt ((double) m) * hypot (p->sd_eta, p->sd_eps);
}

static void
add_wait (FcLotLaw *self, FcWait wait, double weight)
{
  self->weight += weight;
  for (int i = 1; i < FC_LOT_DAYS; i++)
    {
      double z = (log (i * FC_LOT_STEP) - wait.mu) / wait.sigma;

      self->by[i] += weight * (1 - fc_above_near (fc_tail_table (), z));
    }
}

/* Numbers of moults whose stage has one law weigh together. */
CoreStatus
fc_lot_law (const CoreForecastInput *in, const CoreState *one, int m, FcLotLaw *self)
{
  CoreForecastInput input = *in;
  FcWait waits[FC_HYPS];
  double weights[FC_HYPS] = { 0 };
  CoreStatus status;
  int n = 0;
  Fc fc;

  memset (self, 0, sizeof *self);
  input.state = one;
  status = fc_init (&fc, &input, 0, true);
  for (int h = 0; status == CORE_OK && h < fc.n_hyps; h++)
    {
      const FcHyp *hyp = &fc.hyp[h];
      FcWait wait;
      int i = 0;

      if (m >= hyp->n || !(fc.m0[m] > 0))
        continue;
      wait = fc_wait (&fc, hyp, m, 0);
      while (i < n && (waits[i].mu != wait.mu || waits[i].sigma != wait.sigma))
        i++;
      n = i == n ? n + 1 : n;
      waits[i] = wait;
      weights[i] += hyp->weight * fc_next_weight (&fc, hyp, m + 1) * fc_size (&fc, hyp, m + fc.size_stage);
    }
  for (int i = 0; i < n; i++)
    {
      waits[i].mu += in->message->mean;
      waits[i].sigma = hypot (hypot (waits[i].sigma, in->profile->sd_eta), parted (in->profile, m));
      add_wait (self, waits[i], weights[i] * fc.m0[m]);
    }
  for (int i = 0; i < FC_LOT_DAYS && self->weight > 0; i++)
    self->by[i] /= self->weight;
  fc_clear (&fc);
  return status;
}

double
fc_lot_by (const FcLotLaw *self, double days)
{
  double x = days / FC_LOT_STEP;
  int i;

  if (!(x > 0))
    return 0;
  if (x >= FC_LOT_DAYS - 1)
    return self->by[FC_LOT_DAYS - 1];
  i = (int) x;
  return self->by[i] + (x - i) * (self->by[i + 1] - self->by[i]);
}

double
fc_lot_by_after (const FcLotLaw *self, double age, double days)
{
  double before = fc_lot_by (self, age), waits = 1 - before;

  if (!(days > 0))
    return 0;
  return waits > LEAST ? fmin (1, fmax (0, (fc_lot_by (self, age + days) - before) / waits)) : 1;
}

/* The oldest that it can have been: half of it would have moulted; and no older than since its hatch,
 * or since what it is known to have been before. */
double
fc_lot_oldest (const FcLotLaw *self, const CoreState *lot, const CoreWarmth *warmth)
{
  const CoreStage *stage = &lot->stages.v[0];
  Fc fc = { .in = &(CoreForecastInput){ .warmth = warmth } };
  double most = isfinite (stage->lo) ? fc_at (&fc, stage->hi) - fc_at (&fc, stage->lo) : INFINITY;
  int i = 0;

  while (i < FC_LOT_DAYS - 1 && self->by[i] < 1 - LEAST)
    i++;
  return fmin (i * FC_LOT_STEP, most);
}
