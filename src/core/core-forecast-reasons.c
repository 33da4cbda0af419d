/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-reasons.c — what moved a forecast: each fact as the shift of the median
 * when it is left out.
 *
 * Signs and looks are weights, so leaving one out is a sum. Own stages, warmth and sex
 * need the recursion again: both sides of such a shift come from a coarse grid.
 */
#include "core/core-forecast-parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double worth_saying = .05; /* days; ours */

static CoreReason *
add (CoreForecast *out, const char *rule, CoreUnit unit, double value)
{
  CoreReason *reason;

  if (out->n_reasons >= CORE_MAX_REASONS)
    return NULL;
  reason = &out->reasons[out->n_reasons++];
  *reason = (CoreReason){
    .rule = rule, .unit = unit, .value = value, .day = CORE_DAY_NONE, .day2 = CORE_DAY_NONE
  };
  return reason;
}

static void
name_entry (CoreReason *reason, CoreId entry)
{
  if (reason && reason->n_entries < CORE_REASON_ENTRIES && !core_id_is_none (entry))
    reason->entries[reason->n_entries++] = entry;
}

static void
shifted (CoreReason *reason, double shift)
{
  if (reason && isfinite (shift))
    {
      reason->has_shift = true;
      reason->shift_days = shift;
    }
}

static double
coarse_median (const Fc *fc, unsigned leave)
{
  FcNow *now = calloc (1, sizeof *now);
  Fc again;
  double median = NAN;

  if (!now)
    return NAN;
  if (fc_init (&again, fc->in, leave, true, fc->tail) == CORE_OK && fc_past (&again) == CORE_OK &&
      fc_now (&again, now) == CORE_OK)
    median = fc_quantile (now, 0, .5);
  fc_clear (&again);
  fc_now_clear (now);
  free (now);
  return median;
}

static void
unknowns (const Fc *fc, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  CoreReason *reason;

  if (fc->start_unknown)
    {
      reason = add (out, "forecast.unknown_start", CORE_UNIT_DAYS, fc->in->today - fc->began_hi);
      if (reason)
        reason->day = (CoreDay) ceil (fc->began_hi);
      name_entry (reason, fc->began_entry);
    }
  if (state->basis != CORE_BASIS_COUNTED)
    {
      reason = add (out, "forecast.stage_unsure", CORE_UNIT_MOULTS,
                    state->moults >= 0 ? state->moults : NAN);
      if (reason)
        {
          reason->code = (int) state->basis;
          reason->value2 = state->moults_sd;
        }
    }
}

/* The last finished stage: how long it took, against what the profile says. */
static void
own_stages (const Fc *fc, double shift, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  const CoreStage *now, *before;
  CoreReason *reason;
  double rate;
  int m;

  if (state->stages.n < 2)
    return;
  now = &state->stages.v[state->stages.n - 1];
  before = now - 1;
  if (before->start == CORE_START_ACQUIRED || !isfinite (before->lo + now->lo))
    return;
  reason = add (out, "forecast.own_stages", CORE_UNIT_DAYS,
                .5 * (now->lo + now->hi) - .5 * (before->lo + before->hi));
  if (!reason)
    return;
  m = state->moults > 0 ? state->moults - 1 : 0;
  rate = reason->value > 0 ? (fc_at (fc, now->hi) - fc_at (fc, before->hi)) / reason->value : 1;
  reason->value2 =
    rate > 0 ? core_profile_stage_days (fc->in->profile, m, m + 4, CORE_SEX_UNKNOWN, NULL) / rate
             : NAN;
  name_entry (reason, before->entry);
  name_entry (reason, now->entry);
  shifted (reason, shift);
}

static void
signs (const Fc *fc, FcNow *now, double median, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  bool changed = false;

  for (size_t k = 0; k < state->signs.n && !fc->opt.no_signs; k++)
    {
      const CoreSignSeen *sign = &state->signs.v[k];
      CoreReason *reason;

      if (!fc_sign_counts (state, sign, fc->in->today) || out->n_reasons + 3 > CORE_MAX_REASONS)
        continue;
      fc_signs (fc, now, (int) k);
      changed = true;
      reason = add (out, "forecast.signs", CORE_UNIT_TIMES, sign->times);
      if (!reason)
        continue;
      reason->code = sign->sign;
      reason->day = sign->first;
      name_entry (reason, sign->entry);
      shifted (reason, median - fc_quantile (now, 0, .5));
    }
  if (changed)
    fc_signs (fc, now, -1);
}

static void
last_look (const Fc *fc, const FcNow *now, double median, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  double shift = median - fc_quantile (now, FC_WITHOUT_LOOKS, .5);
  CoreReason *reason;

  if (!(fabs (shift) >= worth_saying))
    return;
  reason = add (out, "forecast.last_look", CORE_UNIT_DAYS, now->today - now->last_look);
  if (!reason)
    return;
  reason->day = out->last_look;
  for (size_t i = state->looks.n; i > 0; i--)
    if (state->looks.v[i - 1].day == out->last_look)
      {
        name_entry (reason, state->looks.v[i - 1].entry);
        break;
      }
  shifted (reason, shift);
}

static void
warmth (const Fc *fc, double shift, CoreForecast *out)
{
  const CoreWarmth *w = fc->in->warmth;
  CoreReason *reason = add (out, "forecast.warmth", CORE_UNIT_CELSIUS, w->typical_c);

  if (!reason)
    return;
  reason->value2 = 25;
  reason->code = w->from_readings ? 1 : 0;
  shifted (reason, shift);
}

static void
rest (const Fc *fc, const FcNow *now, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  int m = state->moults >= 0 ? state->moults : 0;
  double extra;

  if (out->longer_than_usual)
    add (out, "forecast.longer", CORE_UNIT_DAYS, now->today - out->range_hi);
  if (out->not_normal > .1)
    add (out, "forecast.not_normal", CORE_UNIT_PROBABILITY, out->not_normal);
  if (out->beyond > .05)
    add (out, "forecast.beyond", CORE_UNIT_PROBABILITY, out->beyond);
  if (state->moults >= 0)
    {
      double days =
        core_profile_stage_days (fc->in->profile, m, out->p_next_is_adult > .5 ? m + 1 : m + 4,
                                 CORE_SEX_UNKNOWN, &extra);
      CoreReason *reason = add (out, "forecast.stage", CORE_UNIT_DAYS, days);
      if (reason)
        reason->code = extra > 0 ? 1 : 0; /* 1: the general ladder lends */
    }
}

CoreStatus
fc_reasons (const Fc *fc, FcNow *now, CoreForecast *out)
{
  double median = fc_quantile (now, 0, .5);
  double coarse = coarse_median (fc, 0);
  double p = fc->in->p_male;

  unknowns (fc, out);
  if (fc->stage > 0)
    own_stages (fc, coarse - coarse_median (fc, FC_LEAVE_OWN_STAGES), out);
  signs (fc, now, median, out);
  last_look (fc, now, median, out);
  warmth (fc, coarse - coarse_median (fc, FC_LEAVE_WARMTH), out);
  if (fc->size)
    {
      double shift = coarse - coarse_median (fc, FC_LEAVE_SIZE);
      CoreReason *reason = fabs (shift) >= worth_saying
                             ? add (out, "forecast.size", CORE_UNIT_MM, fc->size->mm)
                             : NULL;
      name_entry (reason, fc->size->entry);
      shifted (reason, shift);
    }
  if (p >= 0 && p <= 1 && fabs (p - .5) > .2)
    {
      double shift = coarse - coarse_median (fc, FC_LEAVE_SEX);
      if (fabs (shift) >= worth_saying)
        shifted (add (out, "forecast.sex", CORE_UNIT_PROBABILITY, p), shift);
    }
  rest (fc, now, out);
  return CORE_OK;
}
