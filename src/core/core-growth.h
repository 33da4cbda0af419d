/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-growth.h — length against stage, and the room that the next moult needs. */
#pragma once

#include "core/core-forecast.h"
#include "core/core-profile.h"
#include "core/core-state.h"

typedef enum
{
  CORE_DIM_BODY,
  CORE_DIM_HEAD,
  CORE_DIM_PRONOTUM,
  CORE_N_DIMS
} CoreDimension;

typedef struct
{
  bool known;           /* false: neither a measure nor an adult length to start from */
  double p10, p50, p90; /* mm */
  int measured;         /* how many measures it rests on */
  int moults;           /* for which stage */
} CoreGrowth;

/* Relative error (sd) of a measure that was entered without its own; ours. */
#define CORE_MEASURE_SHARE .03

/* Expected length after `moults` moults since hatch (ln length = a + m ln rho +
 * delta [m >= 1], conjugate normal update; models: growth and size). `moults` below 0: of a sub-adult
 * whose number nobody knows, as the adult that it becomes. */
CoreGrowth core_growth (const CoreState *state,
                        const CoreProfile *profile,
                        double p_male,
                        CoreDimension what,
                        int moults);
/* Is that length far from all that is expected of it, so that a slip is likelier? In its present
 * stage or the next to it; where that is not known, or any_stage, in all that its kind has. *lo and
 * *hi say what was expected, mm. */
bool core_length_far (const CoreState *state,
                      const CoreProfile *profile,
                      double p_male,
                      bool any_stage,
                      CoreDimension what,
                      double mm,
                      double *lo,
                      double *hi);
/* Has it most likely moulted out of the stage that its length is known of? Then no length is
 * named, and no prey by it. `forecast` may be NULL. */
bool core_body_outgrown (const CoreState *state, const CoreForecast *forecast);
/* Body length now; where the stage is unknown, as measured in it, or that of the adult, or of one
 * moult before it. `measured` 0: nobody measured it, and its kind alone is said. */
CoreGrowth core_body_range (const CoreState *state, const CoreProfile *profile, double p_male);
/* The length that prey is chosen by: where nobody measured the animal, that of a small one of its
 * kind. NAN = not known. */
double core_body_safe (const CoreGrowth *body);
/* Its median, mm; NAN when unknown. */
double core_body_now (const CoreState *state, const CoreProfile *profile, double p_male);
