/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-measure.h — from marks on a picture to millimetres, each with its error.
 *
 * Points are pixels of the upright picture. mark_sd is the sd of one mark along either
 * direction, in pixels. Errors are standard deviations.
 */
#pragma once

#include "core/core-sex.h"

#define CORE_DISC_MARKS 5      /* fewest on the edge of a disc */
#define CORE_DISC_MOST 24
#define CORE_OUTLINE_MOST 17   /* places along the abdomen where its depth is marked */

typedef enum
{
  CORE_MEASURE_OK,
  CORE_MEASURE_TOO_FEW,   /* marks */
  CORE_MEASURE_NO_LENGTH, /* marks on one place, or not finite, or the known length is none */
  CORE_MEASURE_SHORT_ARC, /* the marks cover less than 120° of the disc */
  CORE_MEASURE_NO_CIRCLE  /* they lie on no circle */
} CoreMeasureStatus;

typedef struct
{
  double x, y, r; /* pixels */
  double r_sd;
  double arc;     /* degrees that the marks cover */
  double flat;    /* short axis ÷ long axis; below .95 the disc is seen from the side */
  int left_out;   /* marks that lie off the circle */
} CoreCircle;

typedef struct
{
  double mm_per_px;
  double share_sd; /* of mm_per_px, as a share of it */
} CoreScale;

typedef struct
{
  double mm, sd;
} CoreLength;

CoreMeasureStatus core_circle_fit (const CorePoint *edge, int n, double mark_sd, CoreCircle *out);
/* Two marks on a known length: ruler, graph paper. */
CoreMeasureStatus
core_scale_ruler (CorePoint a, CorePoint b, double mm, double mark_sd, CoreScale *out);
CoreMeasureStatus core_scale_disc (const CoreCircle *circle, double diameter_mm, CoreScale *out);
/* Along 2 … n marks. The animal may lie tilted by up to 15°: its share is in the error. */
CoreMeasureStatus core_length (const CorePoint *line,
                               int n,
                               double mark_sd,
                               const CoreScale *scale,
                               CoreLength *out);

typedef struct
{
  double depth, depth_sd; /* of the abdomen ÷ its length, from the side */
  double p[6];            /* chance of each belly score, 1 … 5; p[0] is 0 */
  int score;              /* the likeliest */
} CorePlumpness;

/* Upper and lower outline, one pair at each of n places along the axis of `length` pixels. */
CoreMeasureStatus core_plumpness (const CorePoint *upper,
                                  const CorePoint *lower,
                                  int n,
                                  double length,
                                  double mark_sd,
                                  CorePlumpness *out);
