/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-travel.c — whether an animal may be sent: not in the week before a moult, not while it is
 * soft. Common practice, no source. */
#include <math.h>

#include "core/core-plan.h"

enum
{
  DAYS_BEFORE = 7,
  DAYS_AFTER = 3,
  DAYS_AFTER_ADULT = 7
};

static bool
is_soft (const CoreState *state, CoreDay today, CoreDay *until)
{
  const CoreStage *stage = core_state_stage_now (state);

  if (stage == NULL || stage->start != CORE_START_MOULTED || !isfinite (stage->hi))
    return false;
  *until = (CoreDay) ceil (stage->hi) + (state->adult ? DAYS_AFTER_ADULT : DAYS_AFTER);
  return today <= *until;
}

CoreTravel
core_travel (const CoreState *state, const CoreForecast *forecast, CoreDay today, CoreDay *until)
{
  *until = CORE_DAY_NONE;
  if (state->kind != CORE_SUBJECT_ANIMAL)
    return CORE_TRAVEL_FREE;
  if (is_soft (state, today, until))
    return CORE_TRAVEL_SOFT;
  if (!state->adult && forecast->why == CORE_NO_FORECAST_NONE && forecast->not_normal <= .5 &&
      forecast->still.why == CORE_STILL_NOT && today >= forecast->p10 - DAYS_BEFORE)
    return CORE_TRAVEL_MOULT;
  return CORE_TRAVEL_FREE;
}
