/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-clock.c — rate against temperature, and exact integrals of it over a day.
 *
 * The rate is a sum of four hinges (T - L)+, so that every integral over a sine
 * is four single-sine degree-day integrals (Baskerville & Emin 1969).
 */
#include "core/core-clock.h"

#include <math.h>

#define PI 3.14159265358979323846

CoreClock
core_clock_from_profile (const CoreProfile *profile)
{
  CoreClock self = { 12, 28, 30, 38 }; /* models §2, ours */
  CoreClock own = { profile->clock.t0.v, profile->clock.topt.v, profile->clock.tflat.v,
                    profile->clock.tmax.v };

  return core_clock_valid (&own) ? own : self;
}

bool
core_clock_valid (const CoreClock *self)
{
  return isfinite (self->t0) && isfinite (self->topt) && isfinite (self->tflat) &&
         isfinite (self->tmax) && self->t0 < 25 && self->t0 < self->topt &&
         self->topt <= self->tflat && self->tflat < self->tmax && self->tmax > 25;
}

/* Rate before scaling: rises 1 per °C above t0. */
static double
raw_rate (const CoreClock *self, double t)
{
  double top = self->topt - self->t0;

  if (!(t > self->t0) || t >= self->tmax)
    return 0;
  if (t <= self->topt)
    return t - self->t0;
  if (t <= self->tflat)
    return top;
  return top * (self->tmax - t) / (self->tmax - self->tflat);
}

double
core_clock_rate (const CoreClock *self, double celsius)
{
  return raw_rate (self, celsius) / raw_rate (self, 25);
}

/* Mean over a day of (T - level)+, T a sine between min and max: degree-days above level. */
static double
above (double min, double max, double level)
{
  double mean = (min + max) / 2;
  double amplitude = (max - min) / 2;
  double theta;

  if (min >= level)
    return mean - level;
  if (max <= level)
    return 0;
  theta = asin ((level - mean) / amplitude);
  return ((mean - level) * (PI / 2 - theta) + amplitude * cos (theta)) / PI;
}

double
core_degree_days_sine (double min, double max, double lower, double upper)
{
  if (min > max)
    return core_degree_days_sine (max, min, lower, upper);
  return above (min, max, lower) - (upper > lower ? above (min, max, upper) : 0);
}

double
core_clock_day_sine (const CoreClock *self, double min, double max)
{
  double fall = (self->topt - self->t0) / (self->tmax - self->tflat);
  double sum;

  if (min > max)
    return core_clock_day_sine (self, max, min);
  sum = above (min, max, self->t0) - above (min, max, self->topt) -
        fall * (above (min, max, self->tflat) - above (min, max, self->tmax));
  return fmax (0, sum) / raw_rate (self, 25);
}

double
core_clock_day_habit (const CoreClock *self, double day_c, double night_c, double light_h)
{
  double share = fmin (fmax (light_h, 0), 24) / 24;

  return share * core_clock_rate (self, day_c) + (1 - share) * core_clock_rate (self, night_c);
}
