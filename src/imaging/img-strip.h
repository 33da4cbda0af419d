/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-strip.h — the abdomen straightened: from 2–5 marks to a strip of 21 lanes
 * by 256 samples, base first, with its outline found and its arcs laid flat.
 *
 * Marks are upright pixels (pixel centres at whole numbers), base to tip. Work
 * memory depends on the reduced region only (axis 256 … 512 px), never on the photo.
 */
#pragma once

#include "imaging/img-pixels.h"

#define IMG_STRIP_N 256
#define IMG_STRIP_MARGIN 20 /* samples seen beyond either mark: ends are often misplaced */
#define IMG_STRIP_WIDE (IMG_STRIP_N + 2 * IMG_STRIP_MARGIN)
#define IMG_STRIP_LANES 21
#define IMG_STRIP_MAX_MARKS 5
#define IMG_STRIP_REACH 0.8 /* outermost lanes, in half widths */

typedef enum
{
  IMG_STRIP_OK,
  IMG_STRIP_BAD_MARKS, /* fewer than 2, more than 5, not finite, two on one place */
  IMG_STRIP_OUTSIDE,   /* a mark lies outside the picture */
  IMG_STRIP_TOO_SHORT, /* the axis is shorter than 16 pixels */
  IMG_STRIP_STOPPED,   /* should_stop said so */
  IMG_STRIP_CROSSED    /* the line through the marks crosses itself or doubles back */
} ImgStripStatus;

typedef gboolean (*ImgStopFunc) (gpointer data); /* any thread; TRUE ends the work early */

typedef struct
{
  double axis_px;                          /* length of the smoothed axis, upright pixels */
  double x[IMG_STRIP_N], y[IMG_STRIP_N];   /* axis, upright pixels */
  double nx[IMG_STRIP_N], ny[IMG_STRIP_N]; /* unit normal, to the side of positive lanes */
  double side[2]
             [IMG_STRIP_N]; /* half width on the negative and the positive side, upright pixels */
  double outline;           /* confidence of the outline, 0 … 1; below 0.4 show no number */
  double half_width;        /* mean half width / axis length */
  double arc0, arc1, tilt;  /* samples; shift of a lane = (arc0 + arc1 (s - ½)) τ² + tilt τ */
  double glare;             /* share of burnt-out places, 0 … 1 */
  double contrast;          /* sd along the axis of the log luminance that the lanes share */
  double sharpness;         /* share of that contrast that is fine: about 0 (blurred) … 1 */
  float raw[3][IMG_STRIP_LANES][IMG_STRIP_N]; /* log luminance, two log colour ratios */
  /* Slow light removed, clipped, arcs laid flat; with the margins. */
  float flat[3][IMG_STRIP_LANES][IMG_STRIP_WIDE];
} ImgStrip;

ImgStripStatus img_strip_build (const ImgPixels *pixels,
                                const double *axis_xy,
                                int n_marks,
                                ImgStrip *out,
                                ImgStopFunc should_stop,
                                gpointer data);
/* The place of a share of the axis, upright pixels. */
void img_strip_point (const ImgStrip *self, double at, double *x, double *y);
/* The ends of the seam there, on the outline of one side and on that of the other; its middle is
 * img_strip_point(), and between them it is an arc. */
void img_strip_across (const ImgStrip *self, double at, double from[2], double to[2]);
/* For display: base at the top, `height` rows along the axis, as wide in
 * proportion as 1.3 times the widest place; the abdomen's light spread over the whole scale. */
ImgPixels *img_strip_render (const ImgPixels *pixels,
                             const ImgStrip *self,
                             int height) G_GNUC_WARN_UNUSED_RESULT;
