/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-plot.h — what an animal did beside what its kind does: numbers for plots.
 *
 * Lengths of stages are days as they were lived, at the temperatures where it stood.
 */
#pragma once

#include "core/core-clock.h"
#include "core/core-growth.h"

/* One stage. Of a finished one how long it took, as a range where a day is not known; of the one
 * in progress how long it has lasted. */
typedef struct
{
  int moults;           /* since the hatch; its most likely value */
  bool finished;
  double lo, hi;        /* days, lo <= hi */
  double p10, p50, p90; /* days that its kind takes, at the temperatures of that time */
} CoreInterval;

/* Stages whose beginning is known, oldest first; gives how many, at most CORE_MAX_MOULTS. `warmth`
 * reaches from before the first to after today. */
size_t core_intervals (const CoreState *state,
                       const CoreProfile *profile,
                       double p_male,
                       const CoreWarmth *warmth,
                       CoreDay today,
                       CoreInterval out[CORE_MAX_MOULTS]);

/* Expected lengths by stage, 0 … *n - 1 moults, and the measures with the stage that each was
 * made in. */
typedef struct
{
  int moults;
  double mm, lo, hi; /* with its error, two sd either way */
  CoreDay day;
} CoreMeasuredAt;

typedef struct
{
  size_t n; /* stages */
  CoreGrowth expected[CORE_MAX_MOULTS + 1];
  size_t n_measured;
  CoreMeasuredAt measured[64]; /* the latest, oldest first */
} CoreGrowthCurve;
void core_growth_curve (
  const CoreState *state, const CoreProfile *profile, double p_male, CoreDimension what, CoreGrowthCurve *out);
