/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-clock.h — the development clock.
 *
 * Rate r(T) is 1 at 25 °C, 0 at or below t0, straight up to topt, flat to
 * tflat, straight down to 0 at tmax; never extrapolated above topt. A
 * development day is one day at 25 °C.
 */
#pragma once

#include "core/core-profile.h"
#include "core/core-state.h"

typedef struct
{
  double t0, topt, tflat, tmax; /* °C, t0 < 25, t0 < topt <= tflat < tmax */
} CoreClock;

#define CORE_USUAL_LIGHT_H 12 /* hours of light where nobody said (ours) */

CoreClock core_clock_from_profile (const CoreProfile *profile);
bool core_clock_valid (const CoreClock *self);
double core_clock_rate (const CoreClock *self, double celsius);
/* Development days of one day with a sine through min and max, °C; exact piecewise. */
double core_clock_day_sine (const CoreClock *self, double min, double max);
/* light_h hours at day_c, the rest at night_c. */
double core_clock_day_habit (const CoreClock *self, double day_c, double night_c, double light_h);
/* Degree-days of a single sine with lower threshold and horizontal cutoff (Baskerville & Emin 1969). */
double core_degree_days_sine (double min, double max, double lower, double upper);

/* What the warmth of a day rests on. Days to come follow READINGS of the last days. */
typedef enum
{
  CORE_WARMTH_HABIT,    /* usual temperatures of the place, as entered */
  CORE_WARMTH_READINGS, /* readings of that day */
  CORE_WARMTH_UNKNOWN,  /* nothing entered: the middle of what its kind is kept at */
  CORE_WARMTH_HALF,     /* of day and night only one was entered, or read */
  CORE_WARMTH_RECENT    /* a day to come, by readings of the last days */
} CoreWarmthRest;

/* Cumulative development along civil days. u[i] belongs to the evening of
 * from + i; u[0] = 0. Days to come are included. */
typedef struct
{
  CoreDay from;
  size_t n;
  double *u;           /* owned, non-decreasing */
  uint8_t *measured;   /* owned; what each day rests on, CORE_WARMTH_* */
  double typical_c;    /* mean temperature that days to come were given, °C */
  double day_c, night_c;
  CoreWarmthRest rest; /* what days to come rest on: READINGS, HABIT, HALF or UNKNOWN */
  int read_days;       /* where READINGS: so many days that were read */
  bool one_time;       /* those were read at one time of day, and the other is not known */
  CoreId place;        /* where the animal stands now */
} CoreWarmth;

/* Finds the state of a place; NULL when unknown. */
typedef const CoreState *(*CorePlaceLookup) (CoreId place, void *data);

/* Warmth along an animal's own stays from `from` to `to`. A place without its own habits
 * takes those of the place it is within. Where none says, and no reading of the last weeks,
 * the middle of the profile's cup range and 12 h of light stand in, marked UNKNOWN (ours). */
CoreStatus core_warmth_build (const CoreState *animal, const CoreProfile *profile,
                              CorePlaceLookup lookup, void *data,
                              CoreDay from, CoreDay today, CoreDay to, CoreWarmth *out);
void core_warmth_clear (CoreWarmth *self);
double core_warmth_at (const CoreWarmth *self, double t);     /* development at evening t (fractions allowed) */
double core_warmth_when (const CoreWarmth *self, double u);   /* inverse; INFINITY past the end */
/* Share of development between t1 and t2 that rests on this (0…1), for its error; HABIT
 * takes HALF in. */
double core_warmth_share (const CoreWarmth *self, CoreWarmthRest rest, double t1, double t2);
/* From the day after `today` on as if it stood at these temperatures, °C, with so many hours of light. */
void core_warmth_keep (
  CoreWarmth *self, const CoreClock *clock, CoreDay today, double day_c, double night_c, double light_h);
