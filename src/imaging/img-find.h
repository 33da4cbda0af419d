/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-find.h — proposes the plates of an abdomen: strip, evidence, posterior,
 * and whether the picture can carry a count at all. It proposes; the keeper
 * decides. Same bits on every run; nothing allocated grows with the photo.
 */
#pragma once

#include "core/core-segment.h"
#include "imaging/img-strip.h"

typedef struct
{
  CoreSegmentEdits edits;  /* zero-initialised: nothing settled */
  ImgStopFunc should_stop; /* may be NULL */
  gpointer stop_data;
} ImgFindOptions;

/* What makes a count doubtful though it may be likely; bits. */
typedef enum
{
  IMG_DOUBT_LINES = 1 << 0, /* most of its lines may lie a good way off */
  IMG_DOUBT_TIP = 1 << 1,   /* what lies before the tip is as wide as the middle: it is beyond the body */
  IMG_DOUBT_AFTER = 1 << 2, /* plates seem to go on behind the tip */
  IMG_DOUBT_BEFORE = 1 << 3 /* and before the base */
} ImgDoubt;
#define IMG_DOUBT_ENDS (IMG_DOUBT_TIP | IMG_DOUBT_AFTER | IMG_DOUBT_BEFORE)

typedef struct
{
  ImgStripStatus status;        /* anything but OK: nothing below is meant, `usable` is FALSE */
  CoreSegmentEvidence evidence; /* for core_segment_run after an edit */
  CoreSegmentResult segments;
  double bound_x[CORE_SEGMENT_MAX], bound_y[CORE_SEGMENT_MAX]; /* upright pixels */
  gboolean usable;
  unsigned unusable;                            /* bits of CoreUnusable */
  unsigned doubt;                               /* bits of ImgDoubt */
  double length_px, sharpness, glare, contrast; /* see ImgStrip */
} ImgFindResult;

/* options and strip_out may be NULL. strip_out gets the strip, for display. */
ImgStripStatus img_find_segments (const ImgPixels *pixels,
                                  const double *axis_xy,
                                  int n_marks,
                                  const ImgFindOptions *options,
                                  ImgFindResult *out,
                                  ImgStrip *strip_out);
/* Ends of the axis; bits. */
enum
{
  IMG_FIND_BASE = 1 << 0,
  IMG_FIND_TIP = 1 << 1
};

/* For ends that the program placed itself and nobody moved: read again with each of them further out and
 * further in, and the chances mixed, so that a count which hangs on an end is not called sure. `out` and
 * `strip` are those of img_find_segments() along the same marks. */
void img_find_unsure_ends (const ImgPixels *pixels,
                           const double *axis_xy,
                           int n_marks,
                           const ImgFindOptions *options,
                           int ends, /* IMG_FIND_BASE, IMG_FIND_TIP */
                           ImgFindResult *out,
                           const ImgStrip *strip);
/* After an edit: the recursion alone; the evidence in `result` stays. */
gboolean
img_find_rerun (ImgFindResult *result, const ImgStrip *strip, const CoreSegmentEdits *edits);
/* What the network reads: see core-segment-net.h. */
void img_find_input (const ImgStrip *strip, float *in /* 33 × 296 */);
