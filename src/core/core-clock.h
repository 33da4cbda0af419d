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

CoreClock core_clock_from_profile (const CoreProfile *profile);
bool core_clock_valid (const CoreClock *self);
double core_clock_rate (const CoreClock *self, double celsius);
/* Development days of one day with a sine through min and max, °C; exact piecewise. */
double core_clock_day_sine (const CoreClock *self, double min, double max);
/* light_h hours at day_c, the rest at night_c. */
double core_clock_day_habit (const CoreClock *self, double day_c, double night_c, double light_h);
/* Degree-days of a single sine with lower threshold and horizontal cutoff (Baskerville & Emin 1969). */
double core_degree_days_sine (double min, double max, double lower, double upper);

/* Cumulative development along civil days. u[i] belongs to the evening of
 * from + i; u[0] = 0. Days to come are included. */
typedef struct
{
  CoreDay from;
  size_t n;
  double *u;           /* owned, non-decreasing */
  uint8_t *measured;   /* owned; 1 = the day had readings, 2 = a day to come that follows
                        * the readings of the last days, 0 = it rests on habits */
  double typical_c;    /* mean temperature that days to come were given, °C */
  double day_c, night_c;
  bool from_readings;  /* days to come rest on readings, else on habits */
  CoreId place;        /* where the animal stands now */
} CoreWarmth;

/* Finds the state of a place; NULL when unknown. */
typedef const CoreState *(*CorePlaceLookup) (CoreId place, void *data);

/* Warmth along an animal's own stays from `from` to `to`. A place without its
 * own habits takes those of the place it is within, then 24/20 °C, 12 h (ours). */
CoreStatus core_warmth_build (const CoreState *animal, const CoreProfile *profile,
                              CorePlaceLookup lookup, void *data,
                              CoreDay from, CoreDay today, CoreDay to, CoreWarmth *out);
void core_warmth_clear (CoreWarmth *self);
double core_warmth_at (const CoreWarmth *self, double t);     /* development at evening t (fractions allowed) */
double core_warmth_when (const CoreWarmth *self, double u);   /* inverse; INFINITY past the end */
/* Share of development between t1 and t2 that rests on habits (0…1), for its error of 8 %. */
double core_warmth_habit_share (const CoreWarmth *self, double t1, double t2);
