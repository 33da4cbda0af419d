/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fasting.c — about to moult, hungry and something is wrong, or nobody can tell.
 *
 * Thin beats held (models §5): a thin belly is answered by food whatever the range says; above it
 * stand only a moult under way and the days after one. What is not known is never guessed.
 */
#include "core/core-fasting.h"

#include <math.h>
#include <string.h>

/* Ours: so long without a meal known to be eaten, and so many of them put in, are worth a question;
 * a refusal is forgotten only for those put in since. */
static const int long_days = 14, many_offers = 3, lately = 10;
/* Ours: from here on a moult is said to be likely. */
static const double likely = .5;

const char *
core_fasting_name (CoreFastingAnswer answer)
{
  static const char *const names[] = { "none", "moult_likely", "hungry", "cannot_tell",
                                       "just_moulted", "ill", "probably_moulted", "not_known", "resting" };

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

/* Put in since a meal was known to be eaten, since it moulted, and since a refusal that is old. */
static void
count_offers (const CoreState *state, CoreDay today, CoreFasting *out)
{
  for (size_t i = state->meals.n; i > 0; i--)
    {
      const CoreMeal *meal = &state->meals.v[i - 1];

      if (meal->day > today || meal->outcome == CORE_FED_NONE_IN_VIEW)
        continue;
      if (meal->outcome != CORE_FED_OFFERED || meal->gone ||
          (out->moulted != CORE_DAY_NONE && meal->day < out->moulted))
        break;
      out->offered++;
      out->nothing_since = meal->day;
    }
}

/* One that refused lately, or of which nothing else was entered since; or one that is offered food
 * and never seen to take it. */
static bool
is_asked (CoreFasting *f, CoreDay today)
{
  CoreDay from = f->last_taken > f->moulted ? f->last_taken : f->moulted;
  bool many = f->offered >= many_offers;

  if (f->refusals > 0 && f->last != CORE_DAY_NONE && (today - f->last <= lately || !many))
    return true;
  if (from == CORE_DAY_NONE)
    from = f->refusals > 0 ? f->since : f->nothing_since;
  f->refusals = 0;
  return many && today - from >= long_days;
}

/* What stands above all that belly and forecast say; false: nothing does. */
static bool
decide_first (const CorePlan *plan, CoreDay today, CoreFasting *out)
{
  bool soft = plan->hold.food_until != CORE_DAY_NONE && plan->hold.food_until >= today;

  if (plan->resting)
    {
      out->answer = CORE_FASTING_RESTING;
      out->by = CORE_FASTING_BY_REST;
    }
  else if (is_certain (out->sign))
    {
      out->answer = CORE_FASTING_MOULT_LIKELY;
      out->by = CORE_FASTING_BY_SIGN;
    }
  else if (plan->ill >= 0 || (soft && plan->hold.kind == CORE_HOLD_TROUBLE))
    {
      out->answer = CORE_FASTING_ILL;
      out->by = plan->ill >= 0 ? CORE_FASTING_BY_ILL : CORE_FASTING_BY_STUCK;
    }
  else if (soft || plan->hold.by_sign)
    {
      out->answer = plan->hold.by_sign ? CORE_FASTING_MOULTED : CORE_FASTING_JUST_MOULTED;
      out->by = plan->hold.by_sign ? CORE_FASTING_BY_MOULTED : CORE_FASTING_BY_SOFT;
    }
  return out->answer != CORE_FASTING_NONE;
}

/* Signs of today stand above a moult that is past by the forecast, and that above a belly: one that
 * has just moulted is flat. */
static void
decide (const CoreState *state, const CorePlan *plan, const CoreForecast *forecast, CoreFasting *out)
{
  bool thin = plan->thin || (out->belly > 0 && out->belly <= 2);
  bool past = isfinite (out->by_now) && (forecast->probably_moulted || out->by_now > likely);

  if (out->sign >= 0 && (out->in_range || !thin))
    {
      out->answer = CORE_FASTING_MOULT_LIKELY;
      out->by = CORE_FASTING_BY_SIGN;
    }
  else if (past)
    {
      out->answer = CORE_FASTING_MOULTED;
      out->by = CORE_FASTING_BY_MOULTED;
    }
  else if (thin)
    {
      out->answer = CORE_FASTING_HUNGRY;
      out->by = CORE_FASTING_BY_THIN;
    }
  else if (out->refusals == 0)
    {
      out->answer = CORE_FASTING_NOT_KNOWN;
      out->by = CORE_FASTING_BY_OFFERED;
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

static void
take_forecast (const CoreForecast *forecast, CoreDay today, CoreFasting *out)
{
  if (!forecast || forecast->why != CORE_NO_FORECAST_NONE)
    return;
  out->within7 = forecast->within7;
  out->within14 = forecast->within14;
  out->by_now = forecast->by_now;
  out->in_range = forecast->in_range && forecast->still.why == CORE_STILL_NOT;
  if (forecast->overlooked || forecast->p10 == CORE_DAY_NONE || forecast->p10 > today)
    return;
  out->moult_lo = forecast->p10;
  out->moult_hi = forecast->p90 < today ? forecast->p90 : today;
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
                      .nothing_since = CORE_DAY_NONE,
                      .moulted = CORE_DAY_NONE,
                      .within7 = NAN,
                      .within14 = NAN,
                      .by_now = NAN,
                      .moult_lo = CORE_DAY_NONE,
                      .moult_hi = CORE_DAY_NONE };

  if (state->kind != CORE_SUBJECT_ANIMAL || state->end != CORE_END_NONE || !state->exists)
    return out;
  if (stage && stage->start == CORE_START_MOULTED && isfinite (stage->hi))
    out.moulted = (CoreDay) ceil (stage->hi);
  if (state->belly > 0 && out.belly_day != CORE_DAY_NONE &&
      today - out.belly_day <= CORE_BELLY_KNOWN_DAYS)
    out.belly = state->belly;
  count_refusals (state, today, &out);
  count_signs (state, today, &out);
  count_offers (state, today, &out);
  if (!is_asked (&out, today))
    return out;
  out.sign = holding_sign (state, plan);
  take_forecast (forecast, today, &out);
  if (!decide_first (plan, today, &out))
    decide (state, plan, forecast, &out);
  return out;
}
