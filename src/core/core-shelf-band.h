/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-shelf-band.h — the temperatures that suit all that stands on a place. */
#pragma once

#include "core/core-profile.h"

/* The narrowest of their bands, °C. Where two kinds share no temperature lo is above hi: one of
 * them is always outside. */
typedef struct
{
  int n; /* how many stand there; 0 = nothing, the rest says nothing */
  double day_lo, day_hi, night_lo, night_hi;
  double look_above, look_below;
} CoreShelfBand;

void core_shelf_band_add (CoreShelfBand *self, const CoreProfile *profile);
bool core_shelf_band_equal (const CoreShelfBand *a, const CoreShelfBand *b);
