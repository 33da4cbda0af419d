/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-message.c — what an animal's own moults say of its pace, for its lot and room.
 *
 * The recursion over its windows with a flat prior gives the likelihood of each node; the message
 * is the Gaussian that does to the neutral prior what this does. The stage in progress is censored
 * at the last look, or at the animal's end.
 */
#include "core/core-forecast-parts.h"
#include "core/core-lot.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Chance that a wait from the start in cell i lasts past the evening of the look. */
typedef struct
{
  const Fc *fc;
  double look;    /* development at the last look */
  double leak[2]; /* at the beginning and the end of the days that this look leaves open */
} Waited;

static double
lasts (const Fc *fc, const FcWait *law, double theta, double u)
{
  double mu = law->mu + theta, z;

  if (!(u > 0))
    return 1;
  z = (log (u) - mu) / law->sigma;
  if (!law->residual)
    return fc_above (fc->tail, z);
  return fmax (0, fc_above (fc->tail, z - law->sigma) -
                    u / exp (mu + .5 * law->sigma * law->sigma) * fc_above (fc->tail, z));
}

static double
waited (const Waited *self, const FcWait *law, double theta, double start)
{
  double still = lasts (self->fc, law, theta, self->look - start);

  if (self->fc->opt.certain_looks)
    return still;
  return still + FC_LEAK * (lasts (self->fc, law, theta, self->leak[0] - start) - still);
}

static void
add_wait (const Waited *self, int h, int s, FcWait law, double factor, double like[FC_NODES])
{
  const Fc *fc = self->fc;

  for (int k = 0; k < fc->n_nodes && factor > 0; k++)
    {
      const double *alpha = fc_alpha (fc, fc->alpha, h, s, k);

      for (int i = 0; i < fc->window.n; i++)
        if (alpha[i] > 1e-12)
          like[k] += factor * alpha[i] * waited (self, &law, fc->theta[k], fc->window.mid_u[i]);
    }
}

/* The stage in progress, as fc_now has it, but for how long it lasted alone. */
static void
add_stage_now (const Fc *fc, double like[FC_NODES])
{
  double look = fmin (fc_last_look (fc), fc->in->today);
  double doubt = fc_warmth_sd (fc, fc->began_hi, fmax (look, fc->began_hi + 1));
  Waited self = { fc, fc_at (fc, look), { fc_at (fc, look - FC_LEAK_DAYS), 0 } };

  for (int h = 0; h < fc->n_hyps; h++)
    for (int s = 0; s < fc->slots; s++)
      {
        const FcHyp *hyp = &fc->hyp[h];
        int m = fc->first_m + fc->stage + s;
        double hidden = fc->opt.no_missing_moult || m + 2 > hyp->n ? 0 : FC_MISSING;
        FcWait law;

        if (m >= hyp->n)
          continue;
        law = fc_wait (fc, hyp, m, doubt);
        law.residual = fc->start_unknown;
        add_wait (&self, h, s, law, (1 - hidden) * fc_next_weight (fc, hyp, m + 1), like);
        if (hidden > 0)
          add_wait (&self, h, s, fc_wait_sum (law, fc_wait (fc, hyp, m + 1, doubt)),
                    hidden * fc_next_weight (fc, hyp, m + 2), like);
      }
}

static void
add_windows (const Fc *fc, double like[FC_NODES])
{
  for (int h = 0; h < fc->n_hyps; h++)
    for (int s = 0; s < fc->slots; s++)
      for (int k = 0; k < fc->n_nodes; k++)
        for (int i = 0; i < fc->window.n; i++)
          like[k] += fc_alpha (fc, fc->alpha, h, s, k)[i];
}

static CoreStatus
node_likelihood (Fc *fc, double like[FC_NODES])
{
  const CoreState *state = fc->in->state;
  CoreStatus status = fc_past (fc);

  if (status != CORE_OK)
    return status;
  if (state->adult || state->probably_adult || (fc->in->here && !fc->in->here[fc->now_at]))
    add_windows (fc, like);
  else
    add_stage_now (fc, like);
  return CORE_OK;
}

/* The Gaussian that moves the neutral prior to the mean and variance to which the likelihood moves
 * it. The curvature at the largest node would be too sure where a moult may be missing or the
 * number of moults is open: there are two hills. A maximum at the rim says only "at least so slow"
 * and sends no message. */
static bool
by_moments (const Fc *fc, const double like[FC_NODES], double *y, double *p)
{
  double step = fc->n_nodes > 1 ? fc->theta[1] - fc->theta[0] : 0;
  double sd = step * (fc->n_nodes - 1) / 8; /* of the prior: nodes lie over 4 to both sides */
  double sum = 0, mean = 0, square = 0, var;
  int best = 0;

  for (int k = 0; k < fc->n_nodes; k++)
    {
      double w = like[k] * exp (-.5 * fc->theta[k] * fc->theta[k] / (sd * sd));
      best = like[k] > like[best] ? k : best;
      sum += w;
      mean += w * fc->theta[k];
      square += w * fc->theta[k] * fc->theta[k];
    }
  if (best == 0 || best >= fc->n_nodes - 1 || !(sum > 0))
    return false;
  mean /= sum;
  var = square / sum - mean * mean;
  *p = 1 / var - 1 / (sd * sd);
  *y = mean / var / *p;
  /* Of two hills the further one is no reason to point beyond it: many such voices would go there. */
  if (*p > 0 && fabs (*y) > fabs (fc->theta[best]) + step)
    {
      *y = copysign (fabs (fc->theta[best]) + step, *y);
      *p = mean / var / *y;
    }
  return *p > 1e-3 / (sd * sd) && isfinite (*y);
}

CoreDay
core_forecast_message_day (const CoreState *state, CoreDay today)
{
  double day = -INFINITY;

  if (state->end != CORE_END_NONE && state->end_day != CORE_DAY_NONE && state->end_day < today)
    today = state->end_day; /* the end censors its stage */
  for (size_t i = state->looks.n; i > 0 && isinf (day); i--)
    if (state->looks.v[i - 1].day <= today)
      day = state->looks.v[i - 1].day;
  for (size_t i = 0; i < state->stages.n; i++)
    if (isfinite (state->stages.v[i].hi) && state->stages.v[i].hi <= today + 1)
      day = fmax (day, ceil (state->stages.v[i].hi));
  return isfinite (day) ? (CoreDay) fmin (day, today) : CORE_DAY_NONE;
}

static bool
message_of (const CoreForecastInput *in, double *y, double *p)
{
  double like[FC_NODES] = { 0 };
  bool said = false;
  Fc fc;

  if (fc_init (&fc, in, FC_FOR_MESSAGE, false) == CORE_OK && node_likelihood (&fc, like) == CORE_OK)
    said = by_moments (&fc, like, y, p);
  fc_clear (&fc);
  return said;
}

bool
core_forecast_message (const CoreForecastInput *input, double *y, double *p)
{
  CoreForecastInput in;
  CoreState one;
  bool said, lot;

  if (!fc_complete (input) || input->state->stages.n == 0 || !input->warmth)
    return false;
  lot = input->state->kind == CORE_SUBJECT_LOT;
  if (!lot && input->state->kind != CORE_SUBJECT_ANIMAL)
    return false;
  in = *input;
  in.today = core_forecast_message_day (in.state, in.today);
  if (in.today == CORE_DAY_NONE || !fc_warm_enough (&in))
    return false;
  if (!lot)
    return message_of (&in, y, p);
  if (fc_lot_one (in.state, false, &one) != CORE_OK)
    return false;
  in.state = &one;
  said = message_of (&in, y, p);
  free (one.stages.v);
  return said;
}
