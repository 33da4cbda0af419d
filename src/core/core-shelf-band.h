/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-shelf-band.h — the air that suits all that stands on a place: worked out here alone. */
#pragma once

#include "core/core-profile.h"

/* The narrowest of their bands, °C. Where two kinds share no temperature lo is above hi: one of
 * them is always outside. */
typedef struct
{
  int n; /* how many stand there; 0 = nothing, the rest says nothing */
  double day_lo, day_hi, night_lo, night_hi;
  double look_above, look_below;
  double rh_lo, rh_hi; /* percent */
} CoreShelfBand;

/* Temperatures past “look at once”. */
typedef struct
{
  int side;        /* -1 too cold, 1 too hot, 0 neither, and then no more is said */
  double c, limit; /* the worse of both, and what it passed, °C */
} CorePast;

void core_shelf_band_add (CoreShelfBand *self, const CoreProfile *profile);
bool core_shelf_band_equal (const CoreShelfBand *a, const CoreShelfBand *b);
/* Of usual temperatures by day and at night, NAN = not said. Too hot outdoes too cold. */
CorePast core_shelf_band_past (const CoreShelfBand *self, double day_c, double night_c);
CorePast core_profile_past (const CoreProfile *profile, double day_c, double night_c);
