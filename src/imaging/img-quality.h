/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-quality.h — can a band along an axis carry a count? Three plain measures.
 *
 * The band lies along a line of 2…16 points, `half_width` to each side; it is
 * sampled once per pixel along the line in 9 lanes. Measure at the level of
 * the pyramid where the axis is at most 512 pixels long, so that figures of
 * small and large pictures compare. What is too little is for the caller to
 * say; the thresholds here are none.
 */
#pragma once

#include "imaging/img-pixels.h"

#define IMG_QUALITY_MAX_POINTS 16

typedef struct
{
  double x, y; /* pixels of the picture passed; pixel (i, j) covers i…i+1, j…j+1 */
} ImgPoint;

typedef struct
{
  double length_px; /* of the line, in pixels of the picture passed */

  /* Steepness of the edges along the line, in 1/pixel: the upper quartile, over all edges, of
   * (change over one pixel) ÷ (range within 8 pixels to each side). An edge is the steepest place
   * within 8 pixels, where that range is at least a quarter of its lane's own. 1: edges one pixel
   * wide; an edge blurred by a Gaussian of sd s gives about 0.4 ÷ s; 1/16 is the least that can be
   * told; 0: no edge found. Noise makes it larger. */
  double sharpness;

  double glare;    /* 0…1: share of samples with all three channels at 250 or more */
  double contrast; /* 0…1: median over lanes of (95th − 5th percentile of luma) ÷ 255 */
} ImgQuality;

/* FALSE (and zeros) when the line has fewer than 2 or more than 16 points, a coordinate that is
 * not finite, no length, leaves the picture altogether, or `half_width` is negative. Parts of the
 * band outside the picture are left out. */
gboolean img_quality_measure (const ImgPixels *pixels,
                              const ImgPoint *line,
                              int n_points,
                              double half_width,
                              ImgQuality *out);
