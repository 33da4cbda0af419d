/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-strip-private.h — what the files of the strip share: the reduced region
 * of the picture around the axis, as floats.
 */
#pragma once

#include "imaging/img-strip.h"

#define STRIP_N IMG_STRIP_N
#define STRIP_LANES IMG_STRIP_LANES
#define STRIP_MARGIN IMG_STRIP_MARGIN
#define STRIP_WIDE IMG_STRIP_WIDE
#define STRIP_WITHIN .33 /* axis lengths: outline and lanes look no farther */

typedef struct
{
  int width, height; /* reduced pixels */
  int factor;        /* upright pixels a side that one reduced pixel is the mean of */
  int x0, y0;        /* upright pixel of the region's corner */
  float *rgb;        /* 0 … 1, display values */
} StripRegion;

gboolean strip_region_init (StripRegion *region,
                            const ImgPixels *pixels,
                            const ImgStrip *strip,
                            double within, /* axis lengths: how far off the axis it can be read */
                            ImgStopFunc should_stop,
                            gpointer data);
void strip_region_clear (StripRegion *region);
/* Bilinear at an upright place; beyond the picture its border goes on. */
void strip_region_sample (const StripRegion *region, double x, double y, float rgb[3]);

ImgStripStatus strip_axis (ImgStrip *strip, const ImgPixels *pixels, const double *axis_xy, int n);
void strip_outline (ImgStrip *strip, const StripRegion *region);
void strip_lanes (ImgStrip *strip, const StripRegion *region);
/* strip->flat: logs before, see there after; without arcs, only slow light is taken out. */
void strip_flatten (ImgStrip *strip, gboolean arcs);
/* As img_strip_build; arcs FALSE is there to try what laying them flat is worth. */
ImgStripStatus strip_build (const ImgPixels *pixels,
                            const double *axis_xy,
                            int n_marks,
                            gboolean arcs,
                            ImgStrip *strip,
                            ImgStopFunc should_stop,
                            gpointer data);
double strip_robust_sd (const float *values, int n); /* 1.4826 × median of |x - median| */
void strip_smooth (float row[STRIP_N], double sd);   /* Gaussian, normalised at the ends */
