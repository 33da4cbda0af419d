/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fasting.c — about to moult, hungry and something is wrong, or nobody can tell.
 *
 * Thin beats held (models §5): a thin belly is answered by food whatever the range says; above it
 * stand only a moult under way and the days after one. What is not known is never guessed.
 */
#include "core/core-fasting.h"

#include <math.h>
#include <string.h>

/* Ours: so long after the last refusal it is still one that refuses. */
static const int lately = 10;
/* Ours: from here on a moult is said to be likely. */
static const double likely = .5;

const char *
core_fasting_name (CoreFastingAnswer answer)
{
  static const char *const names[] = { "none", "moult_likely", "hungry", "cannot_tell",
                                       "just_moulted", "ill" };

  return (size_t) answer < sizeof names / sizeof *names ? names[answer] : "none";
}

/* Meals refused since one was eaten, probably eaten, or it moulted; what was put in and not seen
 * again says nothing. */
static void
count_refusals (const CoreState *state, CoreDay today, CoreFasting *out)
{
  for (size_t i = state->meals.n; i > 0; i--)
    {
      const CoreMeal *meal = &state->meals.v[i - 1];

      if (meal->day > today || meal->outcome == CORE_FED_NONE_IN_VIEW)
        continue;
      if (meal->outcome == CORE_FED_TAKEN || meal->gone ||
          (out->moulted != CORE_DAY_NONE && meal->day < out->moulted))
        break;
      if (meal->outcome != CORE_FED_REFUSED)
        continue;
      out->refusals++;
      out->since = meal->day;
      if (out->last == CORE_DAY_NONE)
        out->last = meal->day;
    }
}

/* A refusal may be entered as a sign as well. */
static void
count_signs (const CoreState *state, CoreDay today, CoreFasting *out)
{
  for (size_t i = 0; i < state->signs.n; i++)
    {
      const CoreSignSeen *sign = &state->signs.v[i];

      if (sign->sign != CORE_SIGN_REFUSES || sign->first > today || sign->times <= out->refusals)
        continue;
      out->refusals = sign->times;
      out->since = sign->first;
      out->last = sign->last > out->last || out->last == CORE_DAY_NONE ? sign->last : out->last;
    }
}

/* The sign for which the plan leaves it alone: the strongest. */
static int
holding_sign (const CoreState *state, const CorePlan *plan)
{
  int found = -1;

  if (plan->hold.kind != CORE_HOLD_BEFORE)
    return -1;
  for (size_t i = 0; i < state->signs.n; i++)
    if (state->signs.v[i].sign >= CORE_SIGN_HANGING && state->signs.v[i].sign > found)
      found = state->signs.v[i].sign;
  return found;
}

static bool
is_certain (int sign)
{
  return sign == CORE_SIGN_PUMPING || sign == CORE_SIGN_SPLITTING;
}

static void
decide (const CoreState *state, const CorePlan *plan, CoreDay today, CoreFasting *out)
{
  bool thin = plan->thin || (out->belly > 0 && out->belly <= 2);
  bool soft = plan->hold.food_until != CORE_DAY_NONE && plan->hold.food_until >= today;

  if (plan->ill >= 0 && !is_certain (out->sign))
    {
      out->answer = CORE_FASTING_ILL;
      out->by = CORE_FASTING_BY_ILL;
    }
  else if (soft && !is_certain (out->sign))
    {
      out->answer = CORE_FASTING_JUST_MOULTED;
      out->by = CORE_FASTING_BY_SOFT;
    }
  else if (is_certain (out->sign) || (out->sign >= 0 && (out->in_range || !thin)))
    {
      out->answer = CORE_FASTING_MOULT_LIKELY;
      out->by = CORE_FASTING_BY_SIGN;
    }
  else if (thin)
    {
      out->answer = CORE_FASTING_HUNGRY;
      out->by = CORE_FASTING_BY_THIN;
    }
  else if (out->in_range && out->within14 > likely && out->belly > 0)
    {
      out->answer = CORE_FASTING_MOULT_LIKELY;
      out->by = CORE_FASTING_BY_CHANCE;
    }
  else
    {
      out->answer = CORE_FASTING_CANNOT_TELL;
      out->by = state->adult      ? CORE_FASTING_BY_ADULT
                : out->belly == 0 ? CORE_FASTING_BY_BELLY
                                  : CORE_FASTING_BY_ROUND;
    }
}

CoreFasting
core_fasting (const CoreState *state,
              const CoreForecast *forecast,
              const CorePlan *plan,
              CoreDay today)
{
  const CoreStage *stage = core_state_stage_now (state);
  CoreFasting out = { .sign = -1,
                      .since = CORE_DAY_NONE,
                      .last = CORE_DAY_NONE,
                      .belly_day = state->belly > 0 ? state->belly_day : CORE_DAY_NONE,
                      .last_taken = state->last_taken,
                      .moulted = CORE_DAY_NONE,
                      .within7 = NAN,
                      .within14 = NAN };

  if (state->kind != CORE_SUBJECT_ANIMAL || state->end != CORE_END_NONE || !state->exists ||
      core_state_says_yes (state, "rest")) /* to refuse is usual then */
    return out;
  if (stage && stage->start == CORE_START_MOULTED && isfinite (stage->hi))
    out.moulted = (CoreDay) ceil (stage->hi);
  if (state->belly > 0 && out.belly_day != CORE_DAY_NONE &&
      today - out.belly_day <= CORE_BELLY_KNOWN_DAYS)
    out.belly = state->belly;
  count_refusals (state, today, &out);
  count_signs (state, today, &out);
  if (out.refusals == 0 || out.last == CORE_DAY_NONE || today - out.last > lately)
    return out;
  out.sign = holding_sign (state, plan);
  if (forecast && forecast->why == CORE_NO_FORECAST_NONE)
    {
      out.within7 = forecast->within7;
      out.within14 = forecast->within14;
      out.in_range = forecast->in_range && forecast->still.why == CORE_STILL_NOT;
    }
  decide (state, plan, today, &out);
  return out;
}
