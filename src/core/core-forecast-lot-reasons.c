/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-lot-reasons.c — what moved the forecast of a lot: each fact as the shift of the day by
 * which half of it has moulted, when that fact is left out. Asked for one lot at a time: each costs a
 * forecast. */
#include "core/core-forecast-parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-forecast-lot.h"
#include "core/core-room.h"

static const double worth_saying = .05; /* days; ours */

typedef struct
{
  const CoreForecastInput *in;
  const CoreLotForecast *of;
  CoreReason *out;
  size_t *n;
} Said;

static CoreReason *
add (Said *self, const char *rule, CoreUnit unit, double value)
{
  CoreReason *reason;

  if (*self->n >= CORE_LOT_REASONS)
    return NULL;
  reason = &self->out[(*self->n)++];
  *reason =
    (CoreReason){ .rule = rule, .unit = unit, .value = value, .day = CORE_DAY_NONE, .day2 = CORE_DAY_NONE };
  return reason;
}

/* By how much the middle one is later than it would be by that; NAN = not known. */
static double
shift_from (const Said *self, const CoreForecastInput *without)
{
  CoreLotForecast other;

  if (core_forecast_lot (without, &other) != CORE_OK || other.why != CORE_NO_FORECAST_NONE)
    return NAN;
  return self->of->median.days[1] - other.median.days[1];
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

static void
start (Said *self)
{
  const CoreState *lot = self->in->state;
  CoreReason *reason;

  if (fc_lot_start_open (lot, self->in->today))
    {
      reason = add (self, "forecast.unknown_start", CORE_UNIT_DAYS, self->in->today - lot->stages.v[0].hi);
      if (reason)
        reason->day = lot->stages.v[0].start == CORE_START_ACQUIRED ? lot->acquired : CORE_DAY_NONE;
    }
  if (lot->basis != CORE_BASIS_COUNTED)
    {
      reason = add (self, "forecast.stage_unsure", CORE_UNIT_MOULTS, lot->moults >= 0 ? lot->moults : NAN);
      if (reason)
        {
          reason->code = (int) lot->basis;
          reason->value2 = lot->moults_sd;
        }
    }
  if (self->of->moulted > 0)
    {
      reason = add (self, "forecast.lot_ahead", CORE_UNIT_NONE, (double) self->of->moulted);
      if (reason)
        reason->day = lot->ahead.day;
    }
}

/* That half of it had not moulted when it was last seen. */
static void
look (Said *self)
{
  const CoreStage *now = core_state_stage_now (self->in->state);
  CoreState unseen = *self->in->state;
  CoreForecastInput in = *self->in;
  CoreReason *reason;
  double shift;

  if (!now || unseen.looks.n == 0 || !(unseen.looks.v[unseen.looks.n - 1].t > now->hi))
    return;
  unseen.looks.n = 0;
  in.state = &unseen;
  shift = shift_from (self, &in);
  if (!(fabs (shift) >= worth_saying))
    return;
  reason = add (self, "forecast.lot_look", CORE_UNIT_NONE, 0);
  if (reason)
    reason->day = self->in->state->looks.v[self->in->state->looks.n - 1].day;
  shifted (reason, shift);
}

static CoreStatus
warmth (Said *self)
{
  const CoreWarmth *w = self->in->warmth;
  CoreForecastInput in = *self->in;
  CoreWarmth even = *w;
  CoreReason *reason;
  double shift;

  even.u = malloc (w->n * sizeof *even.u);
  if (!even.u)
    return CORE_NO_MEMORY;
  for (size_t i = 0; i < w->n; i++)
    even.u[i] = (double) i;
  in.warmth = &even;
  shift = shift_from (self, &in);
  free (even.u);
  reason = add (self, "forecast.warmth", CORE_UNIT_CELSIUS, w->typical_c);
  if (reason)
    {
      reason->value2 = 25;
      reason->value3 = fmax (w->day_c, w->night_c);
      reason->code = fc_warmth_code (w, shift);
    }
  shifted (reason, shift);
  return CORE_OK;
}

static void
others (Said *self)
{
  const CoreMessage *message = self->in->message;
  CoreForecastInput in = *self->in;
  CoreMessage neutral = core_room_neutral (self->in->profile);
  double shift;

  if (!message || !isfinite (message->mean) || message->mean == 0)
    return;
  in.message = &neutral;
  shift = shift_from (self, &in);
  if (fabs (shift) >= worth_saying)
    shifted (add (self, "forecast.room", CORE_UNIT_PERCENT, 100 * expm1 (message->mean)), shift);
}

/* How long the stage takes, and whose figures these are. */
static CoreStatus
stage (Said *self)
{
  CoreForecastInput in = *self->in;
  double days[3], lent;
  CoreReason *reason;
  CoreStatus status;
  CoreState one;
  Fc fc = { 0 };

  if (fc_lot_one (in.state, false, &one) != CORE_OK)
    return CORE_NO_MEMORY;
  in.state = &one;
  status = fc_init (&fc, &in, 0, true);
  if (status == CORE_OK)
    status = fc_past (&fc);
  if (status == CORE_OK)
    status = fc_stage_days (&fc, days, &lent);
  if (status == CORE_OK && isfinite (days[1]))
    {
      reason = add (self, "forecast.stage", CORE_UNIT_DAYS, days[1]);
      if (reason)
        {
          reason->value2 = days[0];
          reason->value3 = days[2];
          reason->code = fc_stage_code (&fc, lent);
        }
    }
  fc_clear (&fc);
  free (one.stages.v);
  return status == CORE_NO_MEMORY ? status : CORE_OK;
}

CoreStatus
core_forecast_lot_reasons (const CoreForecastInput *input,
                           const CoreLotForecast *of,
                           CoreReason out[CORE_LOT_REASONS],
                           size_t *n)
{
  Said self = { input, of, out, n };
  CoreStatus status;

  *n = 0;
  if (of->why != CORE_NO_FORECAST_NONE)
    return CORE_OK;
  start (&self);
  look (&self);
  status = warmth (&self);
  others (&self);
  if (status == CORE_OK)
    status = stage (&self);
  if (of->n > 1)
    add (&self, "forecast.lot_ends", CORE_UNIT_NONE, (double) of->n);
  return status;
}
