/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-axis.h — proposes where an abdomen lies in a picture: base, tip and, where
 * it is bent, a mark half way. A proposal for the keeper to drag, never more.
 *
 * Work memory is a grid of at most IMG_AXIS_GRID a side, whatever the photo; the
 * same bits on every run.
 */
#pragma once

#include "imaging/img-strip.h"

#define IMG_AXIS_GRID 160

typedef struct
{
  int n_marks;     /* 2 or 3; 0 = nothing that looks like an abdomen */
  double xy[2 * 3]; /* base, half way, tip; upright pixels */
  double plates;   /* log-odds of plates along it against none, as the finder sees them */
} ImgAxisGuess;

/* FALSE (and n_marks 0) where nothing stands out, or should_stop (may be NULL) said so. */
gboolean img_axis_suggest (const ImgPixels *pixels,
                           ImgAxisGuess *out,
                           ImgStopFunc should_stop,
                           gpointer data);
