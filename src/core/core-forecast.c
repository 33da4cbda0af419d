/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast.c — puts the parts together: quantiles, chances, ranges, messages.
 *
 * Quantiles are conditional on a moult within the horizon; `beyond` and `not_normal`
 * carry what is outside. Nothing here is asserted of an animal that has ended.
 */
#include "core/core-forecast-parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double quantiles[CORE_N_Q] = { .05, .10, .25, .50, .75, .90, .95 };
static const double stands_still = .98; /* ours: beyond the horizon for all that matters */
static const double none_expected = .5; /* more likely than not no moult comes within it */

static CoreNoForecast
why_not (const CoreState *state)
{
  if (state->kind != CORE_SUBJECT_ANIMAL)
    return CORE_NO_FORECAST_NOT_AN_ANIMAL;
  if (state->end == CORE_END_DIED)
    return CORE_NO_FORECAST_DEAD;
  if (state->end == CORE_END_LEFT)
    return CORE_NO_FORECAST_LEFT;
  if (state->end == CORE_END_ESCAPED)
    return CORE_NO_FORECAST_ESCAPED;
  if (state->adult)
    return CORE_NO_FORECAST_ADULT;
  return state->stages.n == 0 ? CORE_NO_FORECAST_NO_START : CORE_NO_FORECAST_NONE;
}

static CoreDay
day_after (CoreDay today, double days)
{
  return today + (CoreDay) ceil (days - 1e-9);
}

CoreStandstill
fc_standstill (const CoreForecastInput *in, double beyond)
{
  const CoreProfile *p = in->profile;
  CoreClock clock = core_clock_from_profile (p);
  CoreStandstill still = { CORE_STILL_NOT, in->warmth->typical_c, p->day_lo.v, p->day_hi.v };

  if (!(beyond > none_expected))
    return still;
  still.why = still.mean_c > clock.topt                                        ? CORE_STILL_HOT
              : p->winter_rest && core_state_says_yes (in->state, "rest") ? CORE_STILL_REST
                                                                               : CORE_STILL_COLD;
  return still;
}

/* Sums over the cells: moults by looks and signs, and what lies past the horizon. */
static void
weigh (const FcNow *now, double *within, double *beyond, double *no_moult)
{
  double all = 0, by_class[2] = { now->beyond[0], now->beyond[1] };

  *within = *beyond = 0;
  for (int i = 0; i < now->n; i++)
    {
      *within += fc_mass (now, 0, i);
      by_class[0] += now->base[0][i] * now->found[i];
      by_class[1] += now->base[1][i] * now->found[i];
    }
  for (int c = 0; c < 2; c++)
    {
      *beyond += now->beyond[c] * now->sign_none[c];
      all += by_class[c];
    }
  /* Likelihoods per unit of what was possible when the stage was found begun. */
  *no_moult = (by_class[0] * now->sign_none[0] + by_class[1] * now->sign_none[1]) / all;
  *within /= all;
  *beyond /= all;
}

static void
chances (const Fc *fc, const FcNow *now, CoreForecast *out)
{
  double within, beyond, no_moult, all;

  weigh (now, &within, &beyond, &no_moult);
  all = within + beyond;
  out->beyond = all > 0 ? beyond / all : 1;
  out->not_normal = 0;
  if (!fc->opt.no_not_normal)
    {
      double prior = fc->in->state->probably_adult ? FC_PROBABLY_ADULT : FC_NOT_NORMAL;
      double ill = prior * no_moult;
      out->not_normal = ill > 0 || all > 0 ? ill / (ill + (1 - prior) * all) : 1;
    }
  all = (1 - out->beyond) * (1 - out->not_normal);
  out->by_now = all * fc_by (now, 0, now->today);
  out->within3 = all * fc_by (now, 0, now->today + 3);
  out->within7 = all * fc_by (now, 0, now->today + 7);
  out->within14 = all * fc_by (now, 0, now->today + 14);
}

/* Near those of its kind: one moult more than entered may have made it adult. What was seen
 * to be a nymph after its range cannot. */
static CoreDoubt
doubt_of (const Fc *fc, const CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  const CoreStage *stage = core_state_stage_now (state);
  const CoreProfile *p = fc->in->profile;
  int most = -1, fewest = CORE_MAX_MOULTS;

  if (state->probably_adult)
    return CORE_DOUBT_WINGS;
  if (stage && stage->seen != CORE_SEEN_UNKNOWN && stage->seen_day != CORE_DAY_NONE &&
      stage->seen_day > out->range_hi)
    return CORE_DOUBT_MISSED;
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (state->moults_p[m] >= .1)
      most = m;
  for (int n = CORE_MAX_MOULTS; n > 0; n--)
    if (p->n_moults[0][n] > 0 || p->n_moults[1][n] > 0)
      fewest = n;
  return state->subadult || most < 0 || most + 1 >= fewest ? CORE_DOUBT_ADULT : CORE_DOUBT_MISSED;
}

static const double surely_moulted = .8; /* ours */

/* As state and plan say it: no look, no day, though the chain begins with its hatch. */
static CoreDay
last_look_by (const CoreState *state, CoreDay today)
{
  for (size_t i = state->looks.n; i > 0; i--)
    if (state->looks.v[i - 1].day <= today)
      return state->looks.v[i - 1].day;
  return CORE_DAY_NONE;
}

/* That the looks overlooked a moult may be likelier than all that is still to come. A range that
 * ends before the look that it stands on says nothing to live by: then it is that of a moult after
 * the look, and that one was overlooked is said by its chance. */
static unsigned
weights_of (const FcNow *now)
{
  return fc_quantile (now, 0, quantiles[CORE_Q90]) <= now->last_look ? FC_AFTER_LOOK : 0;
}

/* The p90 as it was given on the day on which the stage was found begun, by the warmth as it was known
 * that day; what others have told since moves it as it moves today's range. Asked only where it may
 * be past. */
static CoreDay
given_then (const Fc *fc, const CoreForecast *out)
{
  const CoreStage *stage = core_state_stage_now (fc->in->state);
  CoreForecastInput in = *fc->in;
  FcNow *now;
  Fc then;
  double hi = NAN;

  if (!in.then || !stage || fc->start_unknown || stage->found > in.today ||
      in.today - stage->found < (out->range_hi - stage->found) / 3)
    return out->range_hi;
  now = calloc (1, sizeof *now);
  if (!now)
    return out->range_hi;
  in.today = stage->found;
  in.warmth = in.then;
  if (fc_warm_enough (&in))
    {
      if (fc_init (&then, &in, 0, true) == CORE_OK && fc_past (&then) == CORE_OK &&
          fc_now (&then, now) == CORE_OK)
        hi = fc_quantile (now, FC_WITHOUT_LOOKS | FC_WITHOUT_SIGNS, .90) - in.today;
      fc_clear (&then);
      fc_now_clear (now);
    }
  free (now);
  return isfinite (hi) ? day_after (in.today, hi) : out->range_hi;
}

static void
ranges (const Fc *fc, const FcNow *now, CoreForecast *out)
{
  unsigned bare = FC_WITHOUT_LOOKS | FC_WITHOUT_SIGNS, weights = weights_of (now);
  CoreDay today = fc->in->today;

  for (int q = 0; q < CORE_N_Q; q++)
    out->days[q] = fc_quantile (now, weights, quantiles[q]) - now->today;
  out->overlooked = weights != 0;
  out->p10 = day_after (today, out->days[CORE_Q10]);
  out->p50 = day_after (today, out->days[CORE_Q50]);
  out->p90 = day_after (today, out->days[CORE_Q90]);
  out->range_lo = day_after (today, fc_quantile (now, bare, .10) - now->today);
  out->range_mid = day_after (today, fc_quantile (now, bare, .50) - now->today);
  out->range_hi = day_after (today, fc_quantile (now, bare, .90) - now->today);
  out->in_range = today >= out->range_lo;
  out->last_look = last_look_by (fc->in->state, today);
  out->given_hi = given_then (fc, out);
  out->longer_than_usual = today > out->given_hi;
  out->seen_past_range = out->longer_than_usual && ceil (now->last_look - 1e-9) > out->given_hi;
  out->probably_moulted =
    (out->days[CORE_Q90] <= 0 && out->by_now > .5) || out->by_now >= surely_moulted;
  out->stage_began_lo = fc->start_unknown ? NAN : fc->began_lo;
  out->stage_began_hi = fc->start_unknown ? NAN : fc->began_hi;
}

static void
moult_seen (const Fc *fc, CoreForecast *out)
{
  const CoreSignSeen *sign = fc_moulting (fc, -1);

  out->moulting = sign ? sign->sign : -1;
  out->moulting_day = sign ? sign->first : CORE_DAY_NONE;
}

static CoreStatus
fill (Fc *fc, FcNow *now, CoreForecast *out)
{
  CoreStatus status = fc_past (fc);

  if (status == CORE_OK)
    status = fc_now (fc, now);
  if (status != CORE_OK)
    return status;
  chances (fc, now, out);
  out->still = fc_standstill (fc->in, out->beyond);
  out->probably_adult = fc->in->state->probably_adult;
  if (out->beyond > stands_still || !isfinite (fc_quantile (now, weights_of (now), .5)) ||
      !isfinite (fc_quantile (now, FC_WITHOUT_LOOKS | FC_WITHOUT_SIGNS, .5)))
    {
      out->why = CORE_NO_FORECAST_TOO_COLD;
      return CORE_OK;
    }
  ranges (fc, now, out);
  moult_seen (fc, out);
  out->doubt = doubt_of (fc, out);
  fc_adult (fc, now, out);
  return fc->opt.no_reasons ? CORE_OK : fc_reasons (fc, now, out);
}

static void
nothing (CoreForecast *out, CoreNoForecast why)
{
  memset (out, 0, sizeof *out);
  out->why = why;
  for (int q = 0; q < CORE_N_Q; q++)
    out->days[q] = NAN;
  out->p10 = out->p50 = out->p90 = out->last_look = out->moulting_day = CORE_DAY_NONE;
  out->moulting = -1;
  out->range_lo = out->range_hi = out->range_mid = out->given_hi = CORE_DAY_NONE;
  out->stage_began_lo = out->stage_began_hi = NAN;
  out->adult_p10 = out->adult_p50 = out->adult_p90 = CORE_DAY_NONE;
}

bool
fc_complete (const CoreForecastInput *in)
{
  return in && in->state && in->profile && in->today != CORE_DAY_NONE;
}

bool
fc_warm_enough (const CoreForecastInput *in)
{
  const CoreWarmth *w = in->warmth;

  return w && w->u && w->n >= 2 && w->from <= in->today &&
         (int64_t) w->from + (int64_t) w->n > (int64_t) in->today + 30;
}

void
core_forecast_span (const CoreState *state, CoreDay today, CoreDay *from, CoreDay *to)
{
  double first = today - 30;

  for (size_t i = 0; i < state->stages.n; i++)
    {
      const CoreStage *stage = &state->stages.v[i];
      if (isfinite (stage->hi))
        first = fmin (first, isfinite (stage->lo) ? fmin (stage->lo, stage->hi) : stage->hi);
    }
  *from = (CoreDay) floor (fmax (first - 7, today - 1500.));
  *to = today + FC_HORIZON;
}

CoreStatus
core_forecast (const CoreForecastInput *input, CoreForecast *out)
{
  Fc fc;
  FcNow now = { 0 };
  CoreStatus status;

  nothing (out, CORE_NO_FORECAST_NO_START);
  if (!fc_complete (input))
    return CORE_BAD_INPUT;
  out->why = why_not (input->state);
  if (out->why != CORE_NO_FORECAST_NONE)
    return CORE_OK;
  if (!fc_warm_enough (input))
    return CORE_BAD_INPUT;
  status = fc_init (&fc, input, 0, false);
  if (status == CORE_OK)
    status = fill (&fc, &now, out);
  if (status == CORE_BAD_INPUT)
    {
      nothing (out, CORE_NO_FORECAST_NO_START);
      status = CORE_OK;
    }
  else if (status != CORE_OK || out->why != CORE_NO_FORECAST_NONE)
    {
      CoreForecast found = *out;
      nothing (out, status == CORE_OK ? out->why : CORE_NO_FORECAST_NO_START);
      out->beyond = found.beyond;
      out->still = found.still;
    }
  fc_clear (&fc);
  fc_now_clear (&now);
  return status;
}
