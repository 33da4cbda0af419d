/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-signs.c — signs before a moult as likelihoods over the days to come.
 *
 * Weight of a cell: h' G / width + (1 - h') / L; where no moult comes (1 - h') / L.
 * Leads and h: common practice, no source; their widening and .8: models §3.
 *
 * Signs of one day are one look: one counts fully, the log-weights of the others by half. Of what
 * a moult on that day would make of them the full one is, in each cell, the one that speaks most
 * for it: hanging for tonight, refusals for next week. Otherwise hanging far outside its range,
 * which then says next to nothing, would halve the refusals beside it and put the moult off.
 *
 * Pumping and a split skin are no hints: they are the moult. However little was to be expected of
 * that day, that it came has at least the chance that such a sign is true (ours).
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
  double least;  /* chance that it is the moult, whatever was to be expected; 0 = a hint only */
} Lead;

static const Lead leads[CORE_N_SIGNS] = {
  [CORE_SIGN_SLUGGISH] = { 2, 7, { .4, .4, .4 }, 0 },
  [CORE_SIGN_REFUSES] = { 1, 5, { .4, .6, .7 }, 0 },
  [CORE_SIGN_DULL] = { 1, 3, { .6, .6, .6 }, 0 },
  [CORE_SIGN_PADS] = { 2, 7, { .8, .8, .8 }, 0 },
  [CORE_SIGN_HANGING] = { .25, 1, { .6, .6, .6 }, 0 },
  [CORE_SIGN_PUMPING] = { .04, 1, { .97, .97, .97 }, .92 },
  [CORE_SIGN_SPLITTING] = { .01, .1, { .99, .99, .99 }, .98 },
};
static const Lead refuses_subadult = { 4, 10, { .4, .6, .7 }, 0 };

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

/* Of the signs of one day the sharpest (shortest lead) counts fully where no moult comes, the
 * others by half. */
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

/* A sign is told once, at the first of its day: with all the others of that day. */
static bool
told_with_another (const CoreState *state, size_t k, int skip, CoreDay today)
{
  for (size_t i = 0; i < k; i++)
    if ((int) i != skip && state->signs.v[i].first == state->signs.v[k].first &&
        fc_sign_counts (state, &state->signs.v[i], today))
      return true;
  return false;
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

/* What one sign makes of each cell, as a multiple of what it makes of no moult; returns that. */
static double
ratios (const Fc *fc, const FcNow *now, const CoreSignSeen *sign, int last, double ratio[FC_EDGES])
{
  bool refuses = sign->sign == CORE_SIGN_REFUSES;
  const Lead *lead = refuses && last ? &refuses_subadult : &leads[sign->sign];
  int times = sign->times < 1 ? 1 : sign->times > 3 ? 3 : sign->times;
  double h = honesty * lead->h[times - 1];
  double none = (1 - h) / stage_length (fc, last);
  Onset onset = onset_of (fc, sign, lead);
  double before = 0;

  if (sign->sign == CORE_SIGN_PADS && !last) /* pads swell in the last stage only */
    h = 0;
  for (int i = 0; i < now->n; i++)
    {
      double end = fmax (now->t[i + 1], onset.seen), by = before;

      if (before < 1 - 1e-12)
        by = end > onset.seen ? (come_by (&onset, end) + onset.left - 1) / onset.left : 0;
      ratio[i] = 1 + h * fmax (0, by - before) / (now->t[i + 1] - now->t[i]) / none;
      before = by;
    }
  return none;
}

/* All signs of one day. */
static void
apply_day (const Fc *fc, FcNow *now, CoreDay day, int skip, int last)
{
  const CoreState *state = fc->in->state;
  double one[FC_EDGES], most[FC_EDGES], all[FC_EDGES], none = 1;
  int count = 0;

  for (size_t k = 0; k < state->signs.n; k++)
    {
      const CoreSignSeen *sign = &state->signs.v[k];
      double alone;

      if ((int) k == skip || sign->first != day || !fc_sign_counts (state, sign, fc->in->today))
        continue;
      alone = ratios (fc, now, sign, last, one);
      none *= power_of (state, sign, skip, fc->in->today) < 1 ? sqrt (alone) : alone;
      for (int i = 0; i < now->n; i++)
        {
          most[i] = count == 0 ? one[i] : fmax (most[i], one[i]);
          all[i] = count == 0 ? one[i] : all[i] * one[i];
        }
      count++;
    }
  /* log: the largest + half of the others = half of all + half of the largest */
  for (int i = 0; i < now->n; i++)
    now->sign[last][i] *= none * (count > 1 ? sqrt (all[i] * most[i]) : all[i]);
  now->sign_none[last] *= none;
}

const CoreSignSeen *
fc_moulting (const Fc *fc, int skip)
{
  const CoreState *state = fc->in->state;
  const CoreSignSeen *found = NULL;

  for (size_t k = 0; k < state->signs.n && !fc->opt.no_signs; k++)
    {
      const CoreSignSeen *sign = &state->signs.v[k];

      if ((int) k != skip && fc_sign_counts (state, sign, fc->in->today) && leads[sign->sign].least > 0 &&
          (!found || leads[sign->sign].least > leads[found->sign].least))
        found = sign;
    }
  return found;
}

static const double over = .99; /* of its lead: by then it has moulted, or the sign was none */

/* What it says by itself: the chance of each cell. Returns all that looks up to then and the other
 * signs leave, by class, and in *moulting that which lies in its lead. */
static void
lead_cells (const Fc *fc, FcNow *now, const CoreSignSeen *sign, double all[2], double *moulting)
{
  Onset onset = onset_of (fc, sign, &leads[sign->sign]);
  double before = 0;

  *moulting = 0;
  for (int c = 0; c < 2; c++)
    all[c] = now->beyond[c] * now->sign_none[c];
  for (int i = 0; i < now->n; i++)
    {
      double end = fmax (now->t[i + 1], onset.seen), by = before;
      double weight = fc_unmoulted (fc, (now->t[i] + now->t[i + 1]) / 2, onset.seen);

      if (before < 1 - 1e-12)
        by = end > onset.seen ? (come_by (&onset, end) + onset.left - 1) / onset.left : 0;
      for (int c = 0; c < 2; c++)
        {
          double mass = now->base[c][i] * now->sign[c][i] * weight;

          all[c] += mass;
          if (by > 0 && before < over)
            *moulting += mass;
          now->sure[c][i] = by - before;
        }
      before = by;
    }
}

/* That no moult comes, in the same units: ill, adult already, a wrong date. */
static double
no_normal_wait (const Fc *fc, const FcNow *now)
{
  double prior = fc->in->state->probably_adult ? FC_PROBABLY_ADULT : FC_NOT_NORMAL, sum = 0;

  for (int c = 0; c < 2; c++)
    {
      sum += now->beyond[c] * now->sign_none[c];
      for (int i = 0; i < now->n; i++)
        sum += now->base[c][i] * now->found[i] * now->sign_none[c];
    }
  return fc->opt.no_not_normal ? 0 : prior / (1 - prior) * sum;
}

void
fc_sure (const Fc *fc, FcNow *now, int skip)
{
  const CoreSignSeen *sign = fc_moulting (fc, skip);
  double all[2] = { 0, 0 }, sum = 0, moulting, least, more = 0;

  if (sign)
    {
      least = leads[sign->sign].least;
      lead_cells (fc, now, sign, all, &moulting);
      sum = all[0] + all[1];
      more = sum > 0 ? fmax (0, least * (sum + no_normal_wait (fc, now)) - moulting) / (1 - least) : 0;
    }
  for (int c = 0; c < 2; c++)
    for (int i = 0; i < now->n; i++)
      now->sure[c][i] = more > 0 ? now->sure[c][i] * more * all[c] / sum : 0;
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
      for (size_t k = 0; k < state->signs.n && !fc->opt.no_signs; k++)
        if ((int) k != skip && fc_sign_counts (state, &state->signs.v[k], fc->in->today) &&
            !told_with_another (state, k, skip, fc->in->today))
          apply_day (fc, now, state->signs.v[k].first, skip, last);
    }
  fc_sure (fc, now, skip);
}
