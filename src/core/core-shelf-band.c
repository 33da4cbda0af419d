/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-shelf-band.c — see core-shelf-band.h. */
#include "core/core-shelf-band.h"

#include <math.h>

/* What a profile does not say narrows nothing. */
static double
higher (const CoreShelfBand *self, double now, double v)
{
  return self->n == 0 ? v : fmax (now, v);
}

static double
lower (const CoreShelfBand *self, double now, double v)
{
  return self->n == 0 ? v : fmin (now, v);
}

void
core_shelf_band_add (CoreShelfBand *self, const CoreProfile *profile)
{
  self->day_lo = higher (self, self->day_lo, profile->day_lo.v);
  self->day_hi = lower (self, self->day_hi, profile->day_hi.v);
  self->night_lo = higher (self, self->night_lo, profile->night_lo.v);
  self->night_hi = lower (self, self->night_hi, profile->night_hi.v);
  self->look_above = lower (self, self->look_above, profile->look_above.v);
  self->look_below = higher (self, self->look_below, profile->look_below.v);
  self->rh_lo = higher (self, self->rh_lo, profile->rh_lo.v);
  self->rh_hi = lower (self, self->rh_hi, profile->rh_hi.v);
  self->n++;
}

CorePast
core_shelf_band_past (const CoreShelfBand *self, double day_c, double night_c)
{
  double hot = fmax (day_c, night_c), cold = fmin (day_c, night_c); /* of one that is said, it */

  if (self->n > 0 && hot > self->look_above)
    return (CorePast){ 1, hot, self->look_above };
  if (self->n > 0 && cold < self->look_below)
    return (CorePast){ -1, cold, self->look_below };
  return (CorePast){ 0, NAN, NAN };
}

CorePast
core_profile_past (const CoreProfile *profile, double day_c, double night_c)
{
  CoreShelfBand band = { 0 };

  core_shelf_band_add (&band, profile);
  return core_shelf_band_past (&band, day_c, night_c);
}

static bool
same (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

bool
core_shelf_band_equal (const CoreShelfBand *a, const CoreShelfBand *b)
{
  return (a->n == 0) == (b->n == 0) && same (a->day_lo, b->day_lo) &&
         same (a->day_hi, b->day_hi) && same (a->night_lo, b->night_lo) &&
         same (a->night_hi, b->night_hi) && same (a->look_above, b->look_above) &&
         same (a->look_below, b->look_below);
}
