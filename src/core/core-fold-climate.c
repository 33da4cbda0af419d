/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-climate.c — readings of places, typed or of a logger; cuts of power.
 *
 * Of a logger the state keeps the lowest and the highest of each hour: enough for the development
 * clock and for the rules, and a hundredth of what a logger writes in a year. The rest stays in the
 * entries, where the climate page reads it.
 */
#include "core/core-fold-private.h"

#include <math.h>

#include "core/core-hours.h"

#define DAY_MINUTES 1440

static int
minute_of (const CoreReadingAt *reading)
{
  return reading->minute < 0 ? DAY_MINUTES : reading->minute;
}

/* Entries come by day; within it what a logger wrote lies between what was typed. */
static void
add_reading (Fold *fold, CoreReadingAt reading)
{
  CorePlaceState *place = &fold->state->place;
  size_t before = place->readings.n, at = before;

  FOLD_PUSH (fold, place->readings, reading);
  if (place->readings.n == before)
    return;
  for (; at > 0 && place->readings.v[at - 1].day == reading.day &&
         minute_of (&place->readings.v[at - 1]) > minute_of (&reading);
       at--)
    place->readings.v[at] = place->readings.v[at - 1];
  place->readings.v[at] = reading;
}

static bool
differ (double a, double b)
{
  return isfinite (a) && isfinite (b) && a != b;
}

/* Another one was typed for the same minute: both count, and the keeper is told. */
static void
find_second (Fold *fold, const CoreReadingAt *reading)
{
  const CorePlaceState *place = &fold->state->place;

  for (size_t i = place->readings.n; i > 0 && reading->minute >= 0; i--)
    {
      const CoreReadingAt *other = &place->readings.v[i - 1];

      if (other->day != reading->day)
        return;
      if (other->typed && other->minute == reading->minute && other->inside == reading->inside &&
          (differ (other->t, reading->t) || differ (other->rh, reading->rh)))
        {
          fold_conflict (fold, CORE_CONFLICT_TWO_READINGS, reading->entry, other->entry);
          return;
        }
    }
}

void
fold_reading (Fold *fold, const CoreEntry *entry)
{
  CoreReadingAt reading = { .day = entry->day,
                            .minute = entry->minute,
                            .t = core_entry_num (entry, CORE_KEY_T, NAN),
                            .rh = core_entry_num (entry, CORE_KEY_RH, NAN),
                            .inside = core_entry_code (entry, CORE_KEY_INSIDE, 1) == 0,
                            .typed = true,
                            .entry = entry->id };

  find_second (fold, &reading);
  add_reading (fold, reading);
}

void
fold_logged (Fold *fold, const CoreEntry *entry)
{
  CoreHours hours;

  core_hours_of (core_entry_str (entry, CORE_KEY_SERIES), &hours);
  for (size_t i = 0; i < hours.n; i++)
    add_reading (fold, (CoreReadingAt){ .day = entry->day,
                                        .minute = hours.v[i].second / 60,
                                        .t = hours.v[i].t,
                                        .rh = hours.v[i].rh,
                                        .inside = core_entry_code (entry, CORE_KEY_INSIDE, 1) == 0,
                                        .entry = entry->id });
}

/* The lowest temperature of a cut is no ordinary reading of its day. */
void
fold_power (Fold *fold, const CoreEntry *entry)
{
  fold->state->place.power_cut = entry->day;
  fold->state->place.power_lowest = core_entry_num (entry, CORE_KEY_LOWEST, NAN);
  fold->state->place.power_entry = entry->id;
}
