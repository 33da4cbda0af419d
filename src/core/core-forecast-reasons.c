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
  if (fc_init (&again, fc->in, leave, true) == CORE_OK && fc_past (&again) == CORE_OK &&
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

  if (state->doubtful_since != CORE_DAY_NONE)
    {
      reason = add (out, "forecast.identity", CORE_UNIT_NONE, 0);
      if (reason)
        reason->day = state->doubtful_since;
      name_entry (reason, state->doubtful_entry);
    }
  if (fc->start_unknown)
    {
      reason = add (out, "forecast.unknown_start", CORE_UNIT_DAYS, fc->in->today - fc->began_hi);
      if (reason)
        reason->day =
          state->acquired == (CoreDay) ceil (fc->began_hi) ? state->acquired : CORE_DAY_NONE;
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

/* The evening at which a stage began, as well as it is known. */
static double
middle (const CoreStage *stage)
{
  if (stage->start == CORE_START_ACQUIRED || !isfinite (stage->lo))
    return stage->hi;
  return (stage->lo + stage->hi) / 2;
}

/* Half the width of what is left open between two such evenings, days. */
static double
vagueness (const CoreStage *from, const CoreStage *to)
{
  double from_lo = from->start != CORE_START_ACQUIRED && isfinite (from->lo) ? from->lo : from->hi;
  double to_lo = isfinite (to->lo) ? to->lo : to->hi;

  return .5 * ((to->hi - from_lo) - fmax (0, to_lo - from->hi));
}

/* The stage that the recursion used as its number `at`. */
static const CoreStage *
used_stage (const Fc *fc, int at)
{
  const CoreState *state = fc->in->state;
  int count = 0;

  for (size_t n = 0; n < state->stages.n; n++)
    {
      const CoreStage *stage = &state->stages.v[n];
      if (!isfinite (stage->hi) || (count > 0 && stage->start != CORE_START_MOULTED) ||
          stage->found > fc->in->today)
        continue;
      if (count++ == at)
        return stage;
    }
  return NULL;
}

/* Days that are usual for waits from..to - 1 at the warmth that they had. */
static double
usual (const Fc *fc, int from, int to)
{
  double sum = 0;

  for (int wait = from; wait < to; wait++)
    {
      double began = middle (used_stage (fc, wait)), ended = middle (used_stage (fc, wait + 1));
      double u = fc_at (fc, ended) - fc_at (fc, began);
      sum += u > 0 ? fc_usual_days (fc, wait) * (ended - began) / u : NAN;
    }
  return sum;
}

/* Finished waits: from the arrival to the first moult, the last stage, those between. */
static void
own_stages (const Fc *fc, double coarse, CoreForecast *out)
{
  int last = fc->n_stages - 2; /* number of the last finished one */
  int first = last >= 0 && used_stage (fc, 0)->start == CORE_START_ACQUIRED ? 1 : 0;
  CoreReason *reason;

  if (first == 1)
    {
      const CoreStage *came = used_stage (fc, 0), *moulted = used_stage (fc, 1);
      double shift = coarse - coarse_median (fc, FC_LEAVE_ARRIVAL);
      reason = add (out, "forecast.arrival_wait", CORE_UNIT_DAYS, middle (moulted) - came->hi);
      if (reason)
        {
          reason->day = (CoreDay) ceil (came->hi);
          reason->value3 = vagueness (came, moulted);
        }
      name_entry (reason, came->entry);
      name_entry (reason, moulted->entry);
      shifted (reason, shift);
    }
  if (last > first)
    {
      double shift = coarse - coarse_median (fc, FC_LEAVE_EARLIER);
      reason = add (out, "forecast.earlier_stages", CORE_UNIT_DAYS,
                    middle (used_stage (fc, last)) - middle (used_stage (fc, first)));
      if (reason)
        {
          reason->value2 = usual (fc, first, last);
          reason->value3 = vagueness (used_stage (fc, first), used_stage (fc, last));
          reason->code = last - first;
        }
      for (int n = first; n <= last; n++)
        name_entry (reason, used_stage (fc, n)->entry);
      shifted (reason, shift);
    }
  if (last >= first)
    {
      const CoreStage *began = used_stage (fc, last), *ended = used_stage (fc, last + 1);
      reason = add (out, "forecast.own_stages", CORE_UNIT_DAYS, middle (ended) - middle (began));
      if (reason)
        {
          reason->value2 = usual (fc, last, last + 1);
          reason->value3 = vagueness (began, ended);
          reason->code = fc->in->profile->general ? 2 : 0;
        }
      name_entry (reason, began->entry);
      name_entry (reason, ended->entry);
      shifted (reason, coarse - coarse_median (fc, FC_LEAVE_LAST));
    }
}

/* Signs that find no place: those that moved least. */
static void
drop_least (double shift[], size_t n, size_t places)
{
  for (; places < n; places++)
    {
      size_t least = n;
      for (size_t k = 0; k < n; k++)
        if (isfinite (shift[k]) && (least == n || fabs (shift[k]) < fabs (shift[least])))
          least = k;
      if (least < n)
        shift[least] = NAN;
    }
}

#define MOST_SIGNS 16    /* a stage has one of each kind */
#define PLACES_BEHIND 13 /* reasons that may follow the signs */

static void
signs (const Fc *fc, FcNow *now, double median, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  size_t n = state->signs.n < MOST_SIGNS ? state->signs.n : MOST_SIGNS, counted = 0;
  size_t places = CORE_MAX_REASONS - PLACES_BEHIND - out->n_reasons;
  double shift[MOST_SIGNS];

  for (size_t k = 0; k < n; k++)
    {
      shift[k] = NAN;
      if (fc->opt.no_signs || !fc_sign_counts (state, &state->signs.v[k], fc->in->today))
        continue;
      fc_signs (fc, now, (int) k);
      shift[k] = median - fc_quantile (now, 0, .5);
      counted++;
    }
  if (counted > 0)
    fc_signs (fc, now, -1);
  if (counted > places)
    drop_least (shift, n, n - (counted - places));
  for (size_t k = 0; k < n; k++)
    {
      const CoreSignSeen *sign = &state->signs.v[k];
      CoreReason *reason;

      if (!isfinite (shift[k]))
        continue;
      reason = add (out, "forecast.signs", CORE_UNIT_TIMES, sign->times);
      if (!reason)
        continue;
      reason->code = sign->sign;
      reason->day = sign->first;
      name_entry (reason, sign->entry);
      shifted (reason, shift[k]);
    }
}

static void
last_look (const Fc *fc, const FcNow *now, double median, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  double shift = median - fc_quantile (now, FC_WITHOUT_LOOKS, .5);
  CoreReason *reason;

  if (!(fabs (shift) >= worth_saying) || out->last_look == CORE_DAY_NONE)
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

static const double against = .25; /* days; ours */

/* What it rests on; 5: one reading, 6: few of them. Where the mean alone would tell the contrary of
 * what it did it is by the warm hours: 7, 8. */
int
fc_warmth_code (const CoreWarmth *w, double shift)
{
  if (w->typical_c > 25 && shift > against)
    return 7;
  if (w->typical_c < 25 && shift < -against)
    return 8;
  if (w->rest != CORE_WARMTH_READINGS || w->read_days == 0)
    return (int) w->rest;
  if (w->read_days == 1)
    return 5;
  return w->read_days < 4 || w->one_time ? 6 : (int) w->rest;
}

static void
warmth (const Fc *fc, double shift, CoreForecast *out)
{
  const CoreWarmth *w = fc->in->warmth;
  CoreReason *reason = add (out, "forecast.warmth", CORE_UNIT_CELSIUS, w->typical_c);

  if (!reason)
    return;
  reason->value2 = 25;
  reason->value3 = fmax (w->day_c, w->night_c);
  reason->code = fc_warmth_code (w, shift);
  shifted (reason, shift);
}

static void
subadult (const Fc *fc, double coarse, CoreForecast *out)
{
  const CoreStage *stage = core_state_stage_now (fc->in->state);
  CoreReason *reason;

  if (!fc->subadult || !stage)
    return;
  reason = add (out, "forecast.subadult", CORE_UNIT_NONE, 0);
  if (!reason)
    return;
  reason->day = stage->seen_day;
  name_entry (reason, stage->seen_entry);
  shifted (reason, coarse - coarse_median (fc, FC_LEAVE_SUBADULT));
}

static void
others (const char *rule, const CoreMessage *message, double shift, CoreForecast *out)
{
  double percent = 100 * expm1 (message->mean);
  CoreReason *said;

  if (!(fabs (shift) >= worth_saying))
    return;
  said = add (out, rule, CORE_UNIT_PERCENT, percent);
  if (said != NULL)
    said->code = fabs (percent) < .5; /* neither shorter nor longer, in whole per cent */
  shifted (said, shift);
}

/* What others of its lot and its room say, where it is said at all. */
static void
lot_and_room (const Fc *fc, double coarse, CoreForecast *out)
{
  const CoreMessage *message = fc->in->message, *alone = fc->in->room_alone;
  double without = coarse;

  if (!message || !isfinite (message->mean))
    return;
  if (alone && (alone->mean != message->mean || alone->sd != message->sd))
    {
      without = coarse_median (fc, FC_LEAVE_LOT);
      others ("forecast.lot", message, coarse - without, out);
      message = alone;
    }
  others ("forecast.room", message, without - coarse_median (fc, FC_LEAVE_ROOM), out);
}

/* That its number of moults is known. */
static void
moults (const Fc *fc, double coarse, CoreForecast *out)
{
  const CoreState *state = fc->in->state;
  CoreReason *reason;
  double shift;

  if (state->basis == CORE_BASIS_UNKNOWN || state->moults < 0)
    return;
  shift = coarse - coarse_median (fc, FC_LEAVE_MOULTS);
  if (!(fabs (shift) >= worth_saying))
    return;
  reason = add (out, "forecast.moults", CORE_UNIT_MOULTS, state->moults);
  if (reason)
    reason->code = (int) state->basis;
  shifted (reason, shift);
}

static void
size_and_sex (const Fc *fc, double coarse, CoreForecast *out)
{
  double p = fc->in->p_male;

  if (fc->size)
    {
      double shift = coarse - coarse_median (fc, FC_LEAVE_SIZE);
      CoreReason *reason = fabs (shift) >= worth_saying
                             ? add (out, "forecast.size", CORE_UNIT_MM, fc->size->mm)
                             : NULL;
      if (reason)
        reason->day = fc->size->day;
      name_entry (reason, fc->size->entry);
      shifted (reason, shift);
    }
  if (p >= 0 && p <= 1 && fabs (p - .5) > .2)
    {
      double shift = coarse - coarse_median (fc, FC_LEAVE_SEX);
      if (fabs (shift) >= worth_saying)
        shifted (add (out, "forecast.sex", CORE_UNIT_PROBABILITY, p), shift);
    }
}

static void
longer (const Fc *fc, const FcNow *now, CoreForecast *out)
{
  CoreReason *reason;

  if (!out->longer_than_usual)
    return;
  reason = add (out, "forecast.longer", CORE_UNIT_DAYS, now->today - out->given_hi);
  if (!reason)
    return;
  reason->day = out->last_look;
  reason->day2 = out->given_hi;
  reason->code = out->seen_past_range ? 0 : 1;
}

static const int apart = 2; /* days; ours */

/* The rules go by another range than the one that is said: once, why. */
static void
range_alone (const Fc *fc, CoreForecast *out)
{
  CoreReason *reason;

  if (fc->in->state->signs.n == 0 ||
      (abs (out->range_lo - out->p10) < apart && abs (out->range_hi - out->p90) < apart))
    return;
  reason = add (out, "forecast.range", CORE_UNIT_NONE, 0);
  if (!reason)
    return;
  reason->day = out->range_lo;
  reason->day2 = out->range_hi;
}

/* Whose figures they are. */
int
fc_stage_code (const Fc *fc, double lent)
{
  if (fc->in->profile->general)
    return fc->in->state->basis == CORE_BASIS_UNKNOWN ? 3 : 2;
  return lent > .5 ? 1 : 0;
}

static CoreStatus
rest (const Fc *fc, const FcNow *now, CoreForecast *out)
{
  double days[3], lent;
  CoreReason *reason;

  longer (fc, now, out);
  if (out->not_normal > .1)
    {
      reason = add (out, "forecast.not_normal", CORE_UNIT_PROBABILITY, out->not_normal);
      if (reason)
        reason->code = (int) out->doubt;
      if (out->doubt == CORE_DOUBT_WINGS)
        name_entry (reason, fc->began_entry);
    }
  if (out->beyond > .05)
    add (out, "forecast.beyond", CORE_UNIT_PROBABILITY, out->beyond);
  if (fc_stage_days (fc, days, &lent) != CORE_OK)
    return CORE_NO_MEMORY;
  reason = isfinite (days[1]) ? add (out, "forecast.stage", CORE_UNIT_DAYS, days[1]) : NULL;
  if (reason)
    {
      reason->value2 = days[0];
      reason->value3 = days[2];
      reason->code = fc_stage_code (fc, lent);
    }
  range_alone (fc, out);
  return CORE_OK;
}

CoreStatus
fc_reasons (const Fc *fc, FcNow *now, CoreForecast *out)
{
  double median = fc_quantile (now, 0, .5);
  double coarse = coarse_median (fc, 0);

  unknowns (fc, out);
  if (fc->stage > 0)
    own_stages (fc, coarse, out);
  signs (fc, now, median, out);
  last_look (fc, now, median, out);
  warmth (fc, coarse - coarse_median (fc, FC_LEAVE_WARMTH), out);
  subadult (fc, coarse, out);
  lot_and_room (fc, coarse, out);
  moults (fc, coarse, out);
  size_and_sex (fc, coarse, out);
  return rest (fc, now, out);
}
