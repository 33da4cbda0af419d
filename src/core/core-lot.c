/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-lot.c — what can be taken out of a lot, and what one of it takes over from it. */
#include "core/core-lot.h"

#include <math.h>

/* Spread of the log of one stage among lot-mates: the own effect .10 and the stage's .19 of
 * the forecast (ours), joined: sqrt (.10² + .19²). */
static const double STAGE_SPREAD = .215;
/* Of a stage whose beginning is not known (ours). */
static const int UNKNOWN_DAYS = 3;
static const int MOST_DAYS = 30;

/* The deepest that the count goes below that of the day, on the days after it, up to the next
 * recount. */
static int64_t
deepest_after (const CoreState *lot, CoreDay day)
{
  int64_t sum = 0, least = 0;

  for (size_t i = 0; i < lot->steps.n; i++)
    {
      const CoreTallyStep *step = &lot->steps.v[i];

      if (step->day <= day)
        continue;
      if (step->kind == CORE_KIND_RECOUNTED)
        break;
      sum += step->change;
      least = sum < least ? sum : least;
    }
  return least;
}

int64_t
core_lot_needed (const CoreState *lot, CoreDay day)
{
  return -deepest_after (lot, day);
}

int64_t
core_lot_held (const CoreState *lot, CoreDay day)
{
  const CoreTallyStep *now = NULL;

  for (size_t i = 0; i < lot->steps.n && lot->steps.v[i].day <= day; i++)
    now = &lot->steps.v[i];
  return now != NULL && now->known ? now->count : -1;
}

int64_t
core_lot_available (const CoreState *lot, CoreDay day)
{
  int64_t held = core_lot_held (lot, day), rest;

  if (held < 0)
    return -1;
  rest = held + deepest_after (lot, day);
  return rest > 0 ? rest : 0;
}

void
core_lot_ahead (const CoreState *lot, int64_t *least, int64_t *most)
{
  const CoreAhead *ahead = &lot->ahead;

  *most = lot->tally.known && ahead->n > lot->tally.count ? lot->tally.count : ahead->n;
  *least = ahead->n > ahead->out ? ahead->n - ahead->out : 0;
  if (*least > *most)
    *least = *most;
}

void
core_lot_moults (const CoreState *lot, double p[CORE_MAX_MOULTS + 1])
{
  double ahead = 0;
  int64_t least, most;

  core_lot_ahead (lot, &least, &most);
  if (lot->tally.known && lot->tally.count > 0)
    ahead = (double) (least + most) / 2 / (double) lot->tally.count;
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    p[m] = (m < CORE_MAX_MOULTS ? 1 - ahead : 1) * lot->moults_p[m] + (m > 0 ? ahead * lot->moults_p[m - 1] : 0);
}

int
core_lot_moult_spread (const CoreState *lot, size_t stage)
{
  double days;

  if (stage == 0 || stage >= lot->stages.n || lot->stages.v[stage - 1].start == CORE_START_ACQUIRED)
    return UNKNOWN_DAYS;
  days = ceil (STAGE_SPREAD * (lot->stages.v[stage].hi - lot->stages.v[stage - 1].hi));
  return days < 1 ? 1 : days > MOST_DAYS ? MOST_DAYS : (int) days;
}
