/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-signs.c — signs before a moult as likelihoods over the days to come.
 *
 * Weight of a cell: h' G / width + (1 - h') / L; where no moult comes (1 - h') / L.
 * Leads and h: common practice, no source; their widening and .8: models §3.
 */
#include "core/core-forecast-parts.h"

#include <math.h>

#define Z90 1.2815515655446004

static const double widen = .23;   /* log-sd, in quadrature */
static const double honesty = .8;  /* h' = .8 h */
static const double back_days = 4; /* an onset lies at most so far back */

typedef struct
{
  double lo, hi; /* lead, 10–90 % days */
  double h[3];   /* after one, two, three */
} Lead;

static const Lead leads[CORE_N_SIGNS] = {
  [CORE_SIGN_SLUGGISH] = { 2, 7, { .4, .4, .4 } },
  [CORE_SIGN_REFUSES] = { 1, 5, { .4, .6, .7 } },
  [CORE_SIGN_DULL] = { 1, 3, { .6, .6, .6 } },
  [CORE_SIGN_PADS] = { 2, 7, { .8, .8, .8 } },
  [CORE_SIGN_HANGING] = { .25, 1, { .6, .6, .6 } },
  [CORE_SIGN_PUMPING] = { .04, 1, { .97, .97, .97 } },
  [CORE_SIGN_SPLITTING] = { .01, .1, { .99, .99, .99 } },
};
static const Lead refuses_subadult = { 4, 10, { .4, .6, .7 } };

typedef struct
{
  const FcTail *tail;
  FcWait lead;
  double from, seen; /* the onset lies between */
  double left;       /* chance that no moult came until `seen` */
} Onset;

bool
fc_sign_counts (const CoreState *state, const CoreSignSeen *sign, CoreDay today)
{
  return sign->sign >= 0 && sign->sign < CORE_N_SIGNS && sign->first <= today &&
         sign->first != CORE_DAY_NONE && core_state_sign_counts (state, sign);
}

/* The evening, or the moment of that day's look where a clock time is known. */
static double
seen_at (const CoreState *state, CoreDay day)
{
  for (size_t i = state->looks.n; i > 0; i--)
    if (state->looks.v[i - 1].day == day)
      return fmin (fmax (state->looks.v[i - 1].t, day - 1), day);
  return day;
}

/* Integral of the lead's cdf from 0 to y. */
static double
integral (const Onset *self, double y)
{
  double z, mean;

  if (!(y > 0))
    return 0;
  z = (log (y) - self->lead.mu) / self->lead.sigma;
  mean = exp (self->lead.mu + .5 * self->lead.sigma * self->lead.sigma);
  return y * fc_above (self->tail, -z) - mean * fc_above (self->tail, self->lead.sigma - z);
}

/* Chance that onset + lead is at most t. */
static double
come_by (const Onset *self, double t)
{
  return (integral (self, t - self->from) - integral (self, t - self->seen)) /
         (self->seen - self->from);
}

static Onset
onset_of (const Fc *fc, const CoreSignSeen *sign, const Lead *lead)
{
  Onset self = { .tail = fc->tail };
  double sd = log (lead->hi / lead->lo) / (2 * Z90);

  self.lead = (FcWait){ .5 * log (lead->lo * lead->hi), sqrt (sd * sd + widen * widen), false };
  self.seen = seen_at (fc->in->state, sign->first);
  self.from = fmax (sign->prev_look, self.seen - back_days);
  if (!(self.from < self.seen - .05)) /* two looks at once, or not known */
    self.from = self.seen - (isfinite (self.from) ? .05 : back_days);
  self.left = fmax (1e-12, 1 - come_by (&self, self.seen));
  return self;
}

/* Of the signs of one day the sharpest counts fully, the others by half. */
static double
power_of (const CoreState *state, const CoreSignSeen *sign, int skip, CoreDay today)
{
  const Lead *lead = &leads[sign->sign];

  for (size_t i = 0; i < state->signs.n; i++)
    {
      const CoreSignSeen *other = &state->signs.v[i];
      const Lead *other_lead;
      double sharper;

      if ((int) i == skip || other == sign || other->first != sign->first ||
          !fc_sign_counts (state, other, today))
        continue;
      other_lead = &leads[other->sign];
      sharper = lead->lo * lead->hi - other_lead->lo * other_lead->hi;
      if (sharper > 0 || (!(sharper < 0) && other < sign))
        return .5;
    }
  return 1;
}

/* Expected length of the stage, days. */
static double
stage_length (const Fc *fc, bool last)
{
  const CoreState *state = fc->in->state;
  int m = state->moults >= 0 ? state->moults : 3;
  double days =
    core_profile_stage_days (fc->in->profile, m, last ? m + 1 : m + 4, CORE_SEX_UNKNOWN, NULL);
  double rate = fc_rate_to_come (fc);

  return rate > 0 ? fmin (fmax (days / rate, 1), FC_HORIZON) : FC_HORIZON;
}

static void
apply (const Fc *fc, FcNow *now, const CoreSignSeen *sign, int skip, int last)
{
  bool refuses = sign->sign == CORE_SIGN_REFUSES;
  const Lead *lead = refuses && last ? &refuses_subadult : &leads[sign->sign];
  int times = sign->times < 1 ? 1 : sign->times > 3 ? 3 : sign->times;
  double h = honesty * lead->h[times - 1];
  double power = power_of (fc->in->state, sign, skip, fc->in->today);
  double none = (1 - h) / stage_length (fc, last);
  Onset onset = onset_of (fc, sign, lead);
  double before = 0;

  if (sign->sign == CORE_SIGN_PADS && !last) /* pads swell in the last stage only */
    h = 0;
  for (int i = 0; i < now->n; i++)
    {
      double end = fmax (now->t[i + 1], onset.seen);
      double by = end > onset.seen ? (come_by (&onset, end) + onset.left - 1) / onset.left : 0;
      double weight = h * fmax (0, by - before) / (now->t[i + 1] - now->t[i]) + none;
      now->sign[last][i] *= power < 1 ? sqrt (weight) : weight;
      before = by;
    }
  now->sign_none[last] *= power < 1 ? sqrt (none) : none;
}

void
fc_signs (const Fc *fc, FcNow *now, int skip)
{
  const CoreState *state = fc->in->state;

  for (int last = 0; last < 2; last++)
    {
      now->sign_none[last] = 1;
      for (int i = 0; i < now->n; i++)
        now->sign[last][i] = 1;
      if (fc->opt.no_signs)
        continue;
      for (size_t k = 0; k < state->signs.n; k++)
        if ((int) k != skip && fc_sign_counts (state, &state->signs.v[k], fc->in->today))
          apply (fc, now, &state->signs.v[k], skip, last);
    }
}
