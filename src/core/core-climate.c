/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-climate.c — days, gaps and bands of readings over time.
 *
 * Invariant: a point speaks for half the way to its neighbours and no further than half a gap; what
 * lies between is not covered, and no hour of it counts as in or out of the band.
 */
#include "core/core-climate.h"

#include <math.h>
#include <stdlib.h>

#include "core/core-air.h"
#include "core/core-clock.h"

#define LIGHT_FROM (7 * 3600) /* ours, as the development clock takes it */
#define HOUR 3600
#define COLDEST (3 * HOUR)  /* ours: a night that was not read until then is not known */
#define LONGEST_GAP (6 * HOUR) /* ours: between morning and evening anything can have been */
#define STEP_AMONG 2001 /* steps that the median is taken of */

CoreComfort
core_comfort_of_band (const CoreShelfBand *band, double light_h)
{
  double light = isfinite (light_h) ? fmin (fmax (light_h, 0), 24) : CORE_USUAL_LIGHT_H;

  if (band->n == 0)
    return (CoreComfort){ NAN, NAN, NAN, NAN, NAN, NAN, light };
  return (CoreComfort){ band->day_lo, band->day_hi, band->night_lo, band->night_hi,
                        band->rh_lo,  band->rh_hi,  light };
}

bool
core_comfort_is_day (const CoreComfort *self, int32_t second)
{
  return second >= LIGHT_FROM && second < LIGHT_FROM + self->light_h * HOUR;
}

static int
compare_steps (const void *a, const void *b)
{
  const int64_t *left = a, *right = b;

  return (*left > *right) - (*left < *right);
}

int64_t
core_climate_step (const CoreMoment *points, size_t n)
{
  int64_t steps[STEP_AMONG];
  size_t stride, count = 0;

  if (n < 2)
    return 0;
  stride = (n - 1) / STEP_AMONG + 1;
  for (size_t i = 1; i < n && count < STEP_AMONG; i += stride)
    steps[count++] = points[i].at - points[i - 1].at;
  qsort (steps, count, sizeof *steps, compare_steps);
  return steps[count / 2];
}

int64_t
core_climate_gap (int64_t step)
{
  int64_t gap = step * 5 / 2;

  return gap < HOUR ? HOUR : gap > LONGEST_GAP ? LONGEST_GAP : gap;
}

typedef struct
{
  double weight, sum;
} Mean;

static void
add_mean (Mean *self, double value, double weight)
{
  self->weight += weight;
  self->sum += value * weight;
}

/* Points without any time of their own weigh alike. */
static double
mean_of (const Mean *timed, const Mean *plain)
{
  if (timed->weight > 0)
    return timed->sum / timed->weight;
  return plain->weight > 0 ? plain->sum / plain->weight : NAN;
}

/* Seconds for which a point of that day speaks. */
static double
reach_of (const CoreMoment *points, size_t n, size_t i, int64_t gap)
{
  double seconds = 0;

  if (i > 0 && points[i].at - points[i - 1].at <= gap)
    seconds += (double) (points[i].at - points[i - 1].at) / 2;
  if (i + 1 < n && points[i + 1].at - points[i].at <= gap)
    seconds += (double) (points[i + 1].at - points[i].at) / 2;
  return seconds;
}

static void
count_band (CoreClimateDay *day, const CoreComfort *band, const CoreMoment *point, double hours)
{
  bool light = core_comfort_is_day (band, (int32_t) (point->at % CORE_SERIES_DAY));
  double lo = light ? band->day_lo : band->night_lo;
  double hi = light ? band->day_hi : band->night_hi;

  /* Comparisons with NAN are false: what is not said is not out. */
  day->t_above += point->t > hi ? hours : 0;
  day->t_below += point->t < lo ? hours : 0;
  day->rh_above += point->rh > band->rh_hi ? hours : 0;
  day->rh_below += point->rh < band->rh_lo ? hours : 0;
}

CoreClimateDay
core_climate_day (const CoreMoment *points, size_t n, int64_t gap, const CoreComfort *band)
{
  CoreClimateDay day = { .day = n > 0 ? CORE_MOMENT_DAY (&points[0]) : CORE_DAY_NONE,
                         .n = n,
                         .t_min = NAN,
                         .t_max = NAN,
                         .rh_min = NAN,
                         .rh_max = NAN };
  Mean t[2] = { { 0 } }, rh[2] = { { 0 } };

  for (size_t i = 0; i < n; i++)
    {
      const CoreMoment *p = &points[i];
      double seconds = reach_of (points, n, i, gap);

      day.hours += seconds / HOUR;
      day.t_min = fmin (day.t_min, p->t);
      day.t_max = fmax (day.t_max, p->t);
      day.rh_min = fmin (day.rh_min, p->rh);
      day.rh_max = fmax (day.rh_max, p->rh);
      if (!isnan (p->t))
        {
          add_mean (&t[0], p->t, seconds);
          add_mean (&t[1], p->t, 1);
        }
      if (!isnan (p->rh))
        {
          add_mean (&rh[0], p->rh, seconds);
          add_mean (&rh[1], p->rh, 1);
        }
      if (band != NULL)
        count_band (&day, band, p, seconds / HOUR);
    }
  day.t_mean = mean_of (&t[0], &t[1]);
  day.rh_mean = mean_of (&rh[0], &rh[1]);
  return day;
}

size_t
core_climate_find (const CoreMoment *points, size_t n, int64_t at)
{
  size_t low = 0, high = n;

  while (low < high)
    {
      size_t middle = low + (high - low) / 2;

      if (points[middle].at < at)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static void
take_point (CoreClimateBin *bin, const CoreMoment *p)
{
  if (bin->n++ == 0)
    bin->first = p->at;
  bin->last = p->at;
  bin->t_min = fminf (bin->t_min, p->t);
  bin->t_max = fmaxf (bin->t_max, p->t);
  bin->rh_min = fminf (bin->rh_min, p->rh);
  bin->rh_max = fmaxf (bin->rh_max, p->rh);
}

void
core_climate_bins (const CoreMoment *points,
                   size_t n,
                   int64_t from,
                   int64_t to,
                   CoreClimateBin *out,
                   size_t bins)
{
  size_t i = core_climate_find (points, n, from);

  for (size_t b = 0; b < bins; b++)
    {
      int64_t end = from + (int64_t) ((double) (to - from) * (double) (b + 1) / (double) bins);

      out[b] = (CoreClimateBin){ 0, NAN, NAN, NAN, NAN, 0, 0 };
      for (; i < n && points[i].at < (b + 1 == bins ? to : end); i++)
        take_point (&out[b], &points[i]);
    }
}

/* ---- day and night ---- */

typedef struct
{
  Mean t, rh;
  double low;
  int64_t last; /* with a temperature */
} Span;

static Span
span_of (const CoreMoment *points, size_t n, int64_t from, int64_t to)
{
  Span span = { .low = NAN };

  for (size_t i = core_climate_find (points, n, from); i < n && points[i].at < to; i++)
    {
      if (!isnan (points[i].t))
        {
          add_mean (&span.t, points[i].t, 1);
          span.last = points[i].at;
        }
      if (!isnan (points[i].rh))
        add_mean (&span.rh, points[i].rh, 1);
      span.low = fmin (span.low, points[i].t);
    }
  return span;
}

bool
core_climate_night (const CoreMoment *points, size_t n, const CoreComfort *band, CoreNight *out)
{
  int64_t light = (int64_t) (band->light_h * HOUR);
  int64_t first = n > 0 ? CORE_MOMENT_DAY (&points[0]) : 0;
  int64_t last = n > 0 ? CORE_MOMENT_DAY (&points[n - 1]) : -1;

  for (int64_t day = last; day >= first && day > last - 8; day--)
    {
      int64_t dawn = day * CORE_SERIES_DAY + LIGHT_FROM;
      Span lit = span_of (points, n, dawn, dawn + light);
      Span dark = span_of (points, n, dawn + light, dawn + CORE_SERIES_DAY);

      if (lit.t.weight == 0 || lit.rh.weight == 0 || dark.last < (day + 1) * CORE_SERIES_DAY + COLDEST)
        continue;
      out->day_c = lit.t.sum / lit.t.weight;
      out->day_rh = lit.rh.sum / lit.rh.weight;
      out->night_c = dark.low;
      out->dew_point = core_air_dew_point (out->day_c, out->day_rh);
      out->absolute = core_air_absolute (out->day_c, out->day_rh);
      out->rh_night = core_air_rh_at (out->day_c, out->day_rh, out->night_c);
      out->measured = dark.rh.weight > 0 ? dark.rh.sum / dark.rh.weight : NAN;
      out->condenses = core_air_condenses (out->day_c, out->day_rh, out->night_c);
      return true;
    }
  return false;
}
