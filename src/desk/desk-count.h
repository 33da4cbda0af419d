/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-count.h — the plates of an abdomen in one picture, without a journal.
 *
 * Blocking: for the command line. The photo bench runs the same finder in a
 * worker (bench-model.h).
 */
#pragma once

#include "imaging/img-find.h"

typedef struct
{
  ImgFindResult find;
  int n_given; /* boundaries for the count that was asked for */
  CoreSegmentBound given[CORE_SEGMENT_MAX];
  double given_x[CORE_SEGMENT_MAX], given_y[CORE_SEGMENT_MAX]; /* upright pixels */
  double decode_ms, find_ms;
} DeskCount;

/* `axis`: n marks as x, y in upright pixels, base to tip, 2 … 5. `plates` 4 … 10 asks for the
 * boundaries of that many, 0 = no. IMG_ERROR; DESK_ERROR_VALUE for marks that cannot be. */
gboolean desk_count_file (const char *path,
                          const double *axis,
                          int n_marks,
                          int plates,
                          DeskCount *out,
                          GError **error);
