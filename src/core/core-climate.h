/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-climate.h — what readings over time say: days, gaps, hours out of the band, the night's air.
 *
 * Time is the clock on the wall, in seconds: CoreDay × 86400 + second of that day.
 */
#pragma once

#include "core/core-profile.h"
#include "core/core-series.h"
#include "core/core-shelf-band.h"

typedef struct
{
  int64_t at;
  float t, rh; /* °C, percent; NAN = not said */
} CoreMoment;

#define CORE_MOMENT_DAY(p) ((CoreDay) ((p)->at / CORE_SERIES_DAY))

/* What is wanted. By day: while the light is on, from 7 o'clock (ours) for light_h hours. */
typedef struct
{
  double day_lo, day_hi, night_lo, night_hi, rh_lo, rh_hi; /* NAN = nothing is said */
  double light_h;
} CoreComfort;

/* Empty (lo > hi) where what stands there does not agree; NAN where nothing does. */
CoreComfort core_comfort_of_band (const CoreShelfBand *band, double light_h);
bool core_comfort_is_day (const CoreComfort *self, int32_t second);

/* The usual step between points, the median; 0 below two points. */
int64_t core_climate_step (const CoreMoment *points, size_t n);
/* What lies further apart than this is a gap: nothing is known between. Two and a half steps, an hour
 * at least and six at most (ours). */
int64_t core_climate_gap (int64_t step);

typedef struct
{
  CoreDay day;
  size_t n;
  double t_min, t_mean, t_max, rh_min, rh_mean, rh_max; /* NAN = none; means over time */
  double hours;                                         /* of the day that readings cover */
  double t_above, t_below, rh_above, rh_below;          /* hours out of the band */
} CoreClimateDay;

/* The points of one day; gap as of core_climate_gap(). band NULL = none. */
CoreClimateDay
core_climate_day (const CoreMoment *points, size_t n, int64_t gap, const CoreComfort *band);

typedef struct
{
  size_t n;
  float t_min, t_max, rh_min, rh_max; /* NAN where there is none */
  int64_t first, last;                /* times of its points */
} CoreClimateBin;

/* Smallest and largest of each of `bins` equal parts of [from, to), whatever the number of points. */
void core_climate_bins (const CoreMoment *points,
                        size_t n,
                        int64_t from,
                        int64_t to,
                        CoreClimateBin *out,
                        size_t bins);
/* The first point at or after that time. */
size_t core_climate_find (const CoreMoment *points, size_t n, int64_t at);

/* The air of the day, cooled to the night without losing or taking up water. */
typedef struct
{
  double day_c, day_rh; /* means of the light hours */
  double night_c;       /* lowest of the dark hours after it */
  double dew_point, absolute; /* °C, g/m³ of the air of the day */
  double rh_night;      /* percent, at most 100 */
  double measured;      /* mean humidity of those dark hours, NAN = none */
  bool condenses;
} CoreNight;

/* Of the last day and night in these points that have readings of both, the night until 3 o'clock at
 * least. */
bool core_climate_night (const CoreMoment *points, size_t n, const CoreComfort *band, CoreNight *out);
