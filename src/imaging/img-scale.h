/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-scale.h — smaller copies of a picture, by means of 2 × 2 pixels.
 *
 * Means keep the brightness and lose no line between samples. A level has half
 * the size of the one before, rounded up: where a side is odd, the last column
 * or row is the mean of what is there. A point (x, y) of the picture lies at
 * (x / 2^level, y / 2^level) on a level.
 */
#pragma once

#include "imaging/img-pixels.h"

/* The canvas never needs less than this to draw a whole picture. */
#define IMG_PYRAMID_SMALLEST 1024

typedef struct
{
  int n_levels;       /* >= 1 */
  ImgPixels **levels; /* owned; levels[0] is the picture itself, its bytes shared */
} ImgPyramid;

ImgPixels *img_scale_halve (const ImgPixels *self) G_GNUC_WARN_UNUSED_RESULT;

/* Halves until the longer side is at most `max_side`; shares the bytes when it is already.
 * `factor_out` (may be NULL): 1, 2, 4, … the old length over the new one. */
ImgPixels *
img_scale_to_fit (const ImgPixels *self, int max_side, int *factor_out) G_GNUC_WARN_UNUSED_RESULT;

/* All halvings until the longer side is at most IMG_PYRAMID_SMALLEST. NULL when cancelled:
 * `should_stop` (may be NULL) is asked between the levels. */
ImgPyramid *img_pyramid_new (const ImgPixels *self,
                             gboolean (*should_stop) (gpointer),
                             gpointer data) G_GNUC_WARN_UNUSED_RESULT;
void img_pyramid_free (ImgPyramid *self);

/* The coarsest level that still has at least one pixel for each pixel shown; `zoom` is shown
 * pixels per picture pixel, > 0. */
int img_pyramid_level_for_zoom (const ImgPyramid *self, double zoom);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (ImgPyramid, img_pyramid_free)
