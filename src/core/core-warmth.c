/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-warmth.c — development along an animal's own stays, past and to come.
 *
 * u is cumulative and non-decreasing. Every day is marked by what it rests on:
 * readings of that day, readings of the last days (days to come), or habits. Habits of days without
 * a reading are moved by what readings of other days say of the place (core-drift.h).
 */
#include "core/core-clock.h"
#include "core/core-drift.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MAX_DAYS 40000 /* over a hundred years: more is not a request */
#define MAX_WITHIN 8   /* depth of places; also ends a circle */
#define RECENT_DAYS 14 /* models §2: days with readings that days to come follow */
#define RECENT_MIN 4
#define RECENT_BACK 60     /* ours: what older ones say of tomorrow is told by their drift alone */
#define SPREAD_MINUTES 360 /* ours: readings closer than this are one moment of the day */
#define DRIFT_BACK 60      /* ours: days before the first one that speak for it, too */

/* Ours, °C: how far a place may lie from its usual temperatures over months, as said, and where
 * its kind stands for them; and what a reading may be off as the mean of its day: the lowest and the
 * highest, and one moment. */
static const double sd_said = 1.5, sd_not_said = 4;
static const double sd_extremes = .7, sd_moment = 1;
/* Ours: and where the usual temperatures are not known, so that it says nothing of the rest of the day. */
static const double sd_part = 4;

typedef struct
{
  double day_c, night_c, light_h;
  CoreWarmthRest rest; /* HABIT, HALF or UNKNOWN */
} Habit;

typedef struct
{
  CoreClock clock;
  double usual_day, usual_night; /* of its kind, °C */
  CorePlaceLookup lookup;
  void *data;
} Walk;

typedef struct
{
  double min, max;
  double rate; /* development in the day */
  double sd;   /* of the mean temperature */
  bool found;
  bool part;   /* of the other part of the day nothing is known */
} DayWarmth;

static const CoreState *
place_of (const Walk *walk, CoreId place)
{
  if (!walk->lookup || core_id_is_none (place))
    return NULL;
  return walk->lookup (place, walk->data);
}

static bool
temperature_ok (double t)
{
  return isfinite (t) && t > -60 && t < 90;
}

/* Fields that a place does not say come from the place around it; then from its kind. */
static Habit
habit_of (const Walk *walk, CoreId place)
{
  Habit habit = { NAN, NAN, NAN, CORE_WARMTH_HABIT };
  double swing = walk->usual_day - walk->usual_night;
  bool day, night;

  for (int hop = 0; hop < MAX_WITHIN; hop++)
    {
      const CoreState *state = place_of (walk, place);
      if (!state)
        break;
      if (!temperature_ok (habit.day_c) && temperature_ok (state->place.day_c))
        habit.day_c = state->place.day_c;
      if (!temperature_ok (habit.night_c) && temperature_ok (state->place.night_c))
        habit.night_c = state->place.night_c;
      if (!isfinite (habit.light_h) && isfinite (state->place.light_h))
        habit.light_h = fmin (fmax (state->place.light_h, 0), 24);
      place = state->place.within;
    }
  day = temperature_ok (habit.day_c);
  night = temperature_ok (habit.night_c);
  if (!day || !night)
    habit.rest = day || night ? CORE_WARMTH_HALF : CORE_WARMTH_UNKNOWN;
  if (!day)
    habit.day_c = night ? habit.night_c + swing : walk->usual_day;
  if (!night)
    habit.night_c = habit.day_c - swing;
  if (!isfinite (habit.light_h))
    habit.light_h = CORE_USUAL_LIGHT_H;
  return habit;
}

/* First reading of `day` or later. */
static size_t
first_reading (const CorePlaceState *place, CoreDay day)
{
  size_t lo = 0, hi = place->readings.n;

  while (lo < hi)
    {
      size_t mid = lo + (hi - lo) / 2;
      if (place->readings.v[mid].day < day)
        lo = mid + 1;
      else
        hi = mid;
    }
  return lo;
}

typedef struct
{
  int n;
  double min, max, sum;
  int first, last; /* minutes, -1 = not said */
  bool timed;      /* every reading has a clock time */
} Readings;

static void
add_reading (Readings *self, const CoreReadingAt *reading)
{
  if (self->n == 0)
    *self = (Readings){ 0, reading->t, reading->t, 0, reading->minute, reading->minute, true };
  self->n++;
  self->min = fmin (self->min, reading->t);
  self->max = fmax (self->max, reading->t);
  self->sum += reading->t;
  self->timed = self->timed && reading->minute >= 0;
  self->first = reading->minute < self->first ? reading->minute : self->first;
  self->last = reading->minute > self->last ? reading->minute : self->last;
}

/* Readings of the shelf and inside a home are never mixed: the kind with more counts,
 * inside a home when equal. */
static Readings
readings_on (const CoreState *place, CoreDay day)
{
  Readings kinds[2] = { { 0 }, { 0 } };

  for (size_t i = first_reading (&place->place, day); i < place->place.readings.n; i++)
    {
      const CoreReadingAt *reading = &place->place.readings.v[i];
      if (reading->day != day)
        break;
      if (temperature_ok (reading->t))
        add_reading (&kinds[reading->inside ? 1 : 0], reading);
    }
  return kinds[1].n >= kinds[0].n ? kinds[1] : kinds[0];
}

/* One moment of a day moves the whole habit by its distance from it: what was said of the place is off
 * by the weather, day and night (ours). Where nothing was said of it the reading tells of its own part of
 * the day alone. Light is taken to begin at 7 o'clock; without a clock time the reading is one of the day. */
static DayWarmth
shifted_habit (const Walk *walk, const Habit *habit, const Readings *readings)
{
  double end = 420 + habit->light_h * 60;
  bool night = readings->timed && (readings->first < 420 || readings->first > end);
  double shift = readings->sum / readings->n - (night ? habit->night_c : habit->day_c);
  bool part = habit->rest == CORE_WARMTH_UNKNOWN;
  double day_c = habit->day_c + (part && night ? 0 : shift);
  double night_c = habit->night_c + (part && !night ? 0 : shift);

  return (DayWarmth){ .min = fmin (day_c, night_c),
                      .max = fmax (day_c, night_c),
                      .rate = core_clock_day_habit (&walk->clock, day_c, night_c, habit->light_h),
                      .sd = part ? sd_part : sd_moment,
                      .found = true,
                      .part = part };
}

static DayWarmth
measured_day (const Walk *walk, CoreId place, const Habit *habit, CoreDay day)
{
  for (int hop = 0; hop < MAX_WITHIN; hop++)
    {
      const CoreState *state = place_of (walk, place);
      Readings r;

      if (!state)
        break;
      r = readings_on (state, day);
      if (r.n == 1 || (r.n > 1 && r.timed && r.last - r.first < SPREAD_MINUTES))
        return shifted_habit (walk, habit, &r);
      if (r.n > 1)
        return (DayWarmth){ r.min, r.max, core_clock_day_sine (&walk->clock, r.min, r.max),
                            sd_extremes, true, false };
      place = state->place.within;
    }
  return (DayWarmth){ NAN, NAN, NAN, NAN, false, false };
}

/* Where the animal stood on `day`; before its first stay, where that was. */
static CoreId
place_on (const CoreState *animal, CoreDay day)
{
  CoreId none = { { 0 } };
  size_t at = 0;

  if (animal->stays.n == 0)
    return none;
  for (size_t i = 1; i < animal->stays.n; i++)
    if (animal->stays.v[i].day <= day)
      at = i;
  return animal->stays.v[at].place;
}

/* A place over all days asked for. */
typedef struct
{
  const Walk *walk;
  CoreId place;
  Habit habit;
  double usual; /* development of a usual day */
  CoreDay from; /* of both rows: DRIFT_BACK days before the first one asked for */
  size_t n;
  DayWarmth *seen;     /* owned, up to today; NULL: there is no reading at all */
  CoreDriftDay *drift; /* owned, to the end */
} Shelf;

static void
shelf_clear (Shelf *self)
{
  free (self->seen);
  free (self->drift);
  self->seen = NULL;
  self->drift = NULL;
}

static bool
is_read (const Walk *walk, CoreId place)
{
  for (int hop = 0; hop < MAX_WITHIN; hop++)
    {
      const CoreState *state = place_of (walk, place);
      if (!state)
        return false;
      if (state->place.readings.n > 0)
        return true;
      place = state->place.within;
    }
  return false;
}

static double
mean_of (const DayWarmth *day)
{
  return (day->min + day->max) / 2;
}

static double
shelf_rate (const Shelf *self, double shift)
{
  const Habit *habit = &self->habit;

  return core_clock_day_habit (&self->walk->clock, habit->day_c + shift, habit->night_c + shift,
                               habit->light_h);
}

static CoreStatus
shelf_init (Shelf *self, const Walk *walk, CoreId place, const CoreWarmth *asked, CoreDay today)
{
  double usual_c;

  *self = (Shelf){ walk, place, habit_of (walk, place), 0, asked->from - DRIFT_BACK,
                   asked->n + DRIFT_BACK, NULL, NULL };
  self->usual = shelf_rate (self, 0);
  if (!is_read (walk, place))
    return CORE_OK;
  self->seen = calloc (self->n, sizeof *self->seen);
  self->drift = calloc (self->n, sizeof *self->drift);
  if (!self->seen || !self->drift)
    {
      shelf_clear (self);
      return CORE_NO_MEMORY;
    }
  usual_c = (self->habit.day_c + self->habit.night_c) / 2;
  for (size_t i = 0; i < self->n; i++)
    {
      DayWarmth *seen = &self->seen[i];
      if (self->from + (CoreDay) i <= today)
        *seen = measured_day (walk, place, &self->habit, self->from + (CoreDay) i);
      self->drift[i].seen = seen->found ? mean_of (seen) - usual_c : NAN;
      self->drift[i].noise = seen->sd * seen->sd;
    }
  core_drift (self->drift, self->n,
              self->habit.rest == CORE_WARMTH_UNKNOWN ? sd_not_said : sd_said);
  return CORE_OK;
}

static double
shelf_day (const Shelf *self, CoreDay day, CoreWarmthRest *rest)
{
  size_t i = (size_t) (day - self->from);

  *rest = !self->seen || !self->seen[i].found ? self->habit.rest
          : self->seen[i].part               ? CORE_WARMTH_HALF
                                             : CORE_WARMTH_READINGS;
  if (!self->seen)
    return self->usual;
  return self->seen[i].found ? self->seen[i].rate : shelf_rate (self, self->drift[i].drift);
}

/* The last days with readings, and what the days to come rest on. */
typedef struct
{
  int n, whole;          /* and of them, those of which day and night are known */
  double rate, min, max; /* means */
  double drift;          /* their mean above what is usual */
  double more;           /* rate above that of a usual day moved by this */
  CoreWarmthRest error;
} Recent;

static Recent
recent_days (const Shelf *self, CoreDay today)
{
  Recent recent = { .error = self->habit.rest };
  int n = 0;

  for (CoreDay day = today; self->seen && day > today - RECENT_BACK && n < RECENT_DAYS; day--)
    {
      size_t i = (size_t) (day - self->from);
      if (day < self->from || i >= self->n || !self->seen[i].found)
        continue;
      n++;
      recent.whole += self->seen[i].part ? 0 : 1;
      recent.rate += (self->seen[i].rate - recent.rate) / n;
      recent.min += (self->seen[i].min - recent.min) / n;
      recent.max += (self->seen[i].max - recent.max) / n;
      recent.drift += (self->drift[i].seen - recent.drift) / n;
    }
  if (n >= RECENT_MIN || (n > 0 && self->habit.rest == CORE_WARMTH_UNKNOWN))
    {
      recent.n = n;
      if (recent.whole > 0) /* else half of it is what is usual for its kind, not what was read */
        recent.more = recent.rate - shelf_rate (self, recent.drift);
      /* Few days tell where it stands, and next to nothing of how it will go on. */
      if (n >= RECENT_MIN)
        recent.error = recent.whole >= RECENT_MIN ? CORE_WARMTH_RECENT : CORE_WARMTH_HALF;
    }
  return recent;
}

/* The development of a day to come: that of the last days with readings, moved by how far the day
 * is expected to lie from them. Where the place has no usual temperatures any late reading says
 * more than its kind does. */
static double
day_to_come (const Shelf *self, const Recent *recent, CoreDay day)
{
  if (recent->n == 0)
    return self->usual;
  return fmax (0, recent->more + shelf_rate (self, self->drift[day - self->from].drift));
}

/* Mean of the days to come, of as many as are looked back upon. */
static void
say_days_to_come (const Shelf *self, const Recent *recent, CoreDay today, CoreWarmth *out)
{
  const Habit *habit = &self->habit;
  double shift = 0;
  int n = 0;

  out->rest = recent->n > 0 ? CORE_WARMTH_READINGS : habit->rest;
  out->read_days = recent->n;
  out->one_time = recent->n > 0 && recent->whole == 0;
  out->day_c = habit->day_c;
  out->night_c = habit->night_c;
  out->typical_c = (habit->day_c * habit->light_h + habit->night_c * (24 - habit->light_h)) / 24;
  if (recent->n == 0)
    return;
  for (size_t i = today < self->from ? 0 : (size_t) (today - self->from) + 1;
       i < self->n && n < RECENT_DAYS; i++)
    shift += (self->drift[i].drift - recent->drift - shift) / ++n;
  out->day_c = recent->max + shift;
  out->night_c = recent->min + shift;
  out->typical_c = (out->day_c + out->night_c) / 2;
}

/* FALSE: no memory. */
static bool
shelf_at (Shelf *self, CoreId place, const CoreWarmth *asked, CoreDay today)
{
  const Walk *walk = self->walk;

  if (core_id_equal (place, self->place))
    return true;
  shelf_clear (self);
  return shelf_init (self, walk, place, asked, today) == CORE_OK;
}

static CoreStatus
fill (Shelf *shelf, const CoreState *animal, CoreDay today, CoreWarmth *self)
{
  CoreWarmthRest rest;
  Recent recent;
  size_t i = 1;

  for (; i < self->n && self->from + (CoreDay) i <= today; i++)
    {
      CoreDay day = self->from + (CoreDay) i;

      if (!shelf_at (shelf, place_on (animal, day), self, today))
        return CORE_NO_MEMORY;
      self->u[i] = self->u[i - 1] + shelf_day (shelf, day, &rest);
      self->measured[i] = (uint8_t) rest;
    }
  if (!shelf_at (shelf, self->place, self, today))
    return CORE_NO_MEMORY;
  recent = recent_days (shelf, today);
  say_days_to_come (shelf, &recent, today, self);
  for (; i < self->n; i++)
    {
      self->u[i] = self->u[i - 1] + day_to_come (shelf, &recent, self->from + (CoreDay) i);
      self->measured[i] = (uint8_t) recent.error;
    }
  return CORE_OK;
}

CoreStatus
core_warmth_build (const CoreState *animal,
                   const CoreProfile *profile,
                   CorePlaceLookup lookup,
                   void *data,
                   CoreDay from,
                   CoreDay today,
                   CoreDay to,
                   CoreWarmth *out)
{
  Walk walk = { core_clock_from_profile (profile), (profile->day_lo.v + profile->day_hi.v) / 2,
                (profile->night_lo.v + profile->night_hi.v) / 2, lookup, data };
  CoreStatus status;
  Shelf shelf;

  if (!temperature_ok (walk.usual_day) || !temperature_ok (walk.usual_night))
    {
      walk.usual_day = 24; /* ours: a profile without a cup range */
      walk.usual_night = 20;
    }
  memset (out, 0, sizeof *out);
  if (from == CORE_DAY_NONE || to == CORE_DAY_NONE || today == CORE_DAY_NONE || to < from ||
      (int64_t) to - from > MAX_DAYS)
    return CORE_BAD_INPUT;
  out->from = from;
  out->n = (size_t) (to - from) + 1;
  out->u = calloc (out->n, sizeof *out->u);
  out->measured = calloc (out->n, sizeof *out->measured);
  if (!out->u || !out->measured)
    {
      core_warmth_clear (out);
      return CORE_NO_MEMORY;
    }
  out->place = place_on (animal, today);
  status = shelf_init (&shelf, &walk, out->place, out, today);
  if (status == CORE_OK)
    status = fill (&shelf, animal, today, out);
  shelf_clear (&shelf);
  if (status != CORE_OK)
    core_warmth_clear (out);
  return status;
}

void
core_warmth_keep (CoreWarmth *self, const CoreClock *clock, CoreDay today, double day_c, double night_c, double light_h)
{
  double rate = core_clock_day_habit (clock, day_c, night_c, light_h);

  for (size_t i = 1; i < self->n; i++)
    if (self->from + (CoreDay) i > today)
      {
        self->u[i] = self->u[i - 1] + rate;
        self->measured[i] = CORE_WARMTH_HABIT;
      }
  self->day_c = day_c;
  self->night_c = night_c;
  self->typical_c = (day_c * light_h + night_c * (24 - light_h)) / 24;
  self->rest = CORE_WARMTH_HABIT;
}

void
core_warmth_clear (CoreWarmth *self)
{
  free (self->u);
  free (self->measured);
  memset (self, 0, sizeof *self);
}

/* Before the first evening the first day's rate goes on backwards; past the end
 * development stands still, so that nothing is promised there. */
double
core_warmth_at (const CoreWarmth *self, double t)
{
  double x = t - self->from;
  size_t i;

  if (self->n < 2)
    return 0;
  if (x <= 0)
    return x * self->u[1];
  if (x >= (double) (self->n - 1))
    return self->u[self->n - 1];
  i = (size_t) x;
  return self->u[i] + (x - (double) i) * (self->u[i + 1] - self->u[i]);
}

double
core_warmth_when (const CoreWarmth *self, double u)
{
  size_t lo = 0, hi;
  double step;

  if (self->n < 2 || u > self->u[self->n - 1] || isnan (u))
    return INFINITY;
  if (u <= 0)
    return self->u[1] > 0 ? self->from + u / self->u[1] : self->from;
  hi = self->n - 1;
  while (hi - lo > 1)
    {
      size_t mid = lo + (hi - lo) / 2;
      if (self->u[mid] < u)
        lo = mid;
      else
        hi = mid;
    }
  step = self->u[hi] - self->u[lo];
  return self->from + (double) lo + (step > 0 ? (u - self->u[lo]) / step : 1);
}

/* Development of the day that ends at evening i, as far as it lies in (t1, t2]. */
static double
day_part (const CoreWarmth *self, size_t i, double t1, double t2)
{
  double start = fmax (t1, self->from + (double) i - 1);
  double end = fmin (t2, self->from + (double) i);

  return end > start ? (end - start) * (self->u[i] - self->u[i - 1]) : 0;
}

double
core_warmth_share (const CoreWarmth *self, CoreWarmthRest rest, double t1, double t2)
{
  double part_of = 0, all = 0;
  size_t first = 1, last;

  if (self->n < 2 || !(t2 > t1))
    return 0;
  if (t1 > self->from)
    first = (size_t) fmin (t1 - self->from, (double) self->n) + 1;
  last = (size_t) fmin (fmax (t2 - self->from + 1, 0), (double) (self->n - 1));
  for (size_t i = first; i <= last; i++)
    {
      double part = day_part (self, i, t1, t2);
      bool half = rest == CORE_WARMTH_HABIT && self->measured[i] == CORE_WARMTH_HALF;
      all += part;
      if (self->measured[i] == rest || half)
        part_of += part;
    }
  return all > 0 ? part_of / all : 0;
}
