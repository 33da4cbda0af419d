/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-proof.h — an annotated picture as a PNG file, at full resolution and true scale.
 *
 * The canvas holds the picture as it is, pixel for pixel, and shapes over it in painter's order.
 * It is never in memory as a whole: a row is drawn, written and forgotten. Beside the picture's own
 * pixels the writer needs a few rows and zlib's window, whatever the height.
 *
 * Points are continuous: pixel (i, j) covers i…i+1 by j…j+1. Edges are smoothed over one pixel.
 */
#pragma once

#include <gio/gio.h>

#include "imaging/img-pixels.h"
#include "imaging/img-quality.h"

typedef struct _ImgProof ImgProof;

typedef struct
{
  guint8 r, g, b;
  guint8 cover; /* 255 = opaque */
} ImgInk;

/* The canvas starts white; the picture lies wholly in it and is shared. */
#define IMG_PROOF_MAX_SIDE 1000000
ImgProof *img_proof_new (const ImgPixels *picture, int width, int height, int picture_x, int picture_y);
void img_proof_free (ImgProof *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ImgProof, img_proof_free)

/* A line through the points with round ends and joints; covered once where it meets itself. */
void img_proof_stroke (ImgProof *self, ImgInk ink, const ImgPoint *points, gsize n, double half_width);
void img_proof_box (ImgProof *self, ImgInk ink, double x0, double y0, double x1, double y1);
/* Letters: `coverage` holds one byte a pixel, row by row without gaps. */
void img_proof_mask (ImgProof *self, ImgInk ink, GBytes *coverage, int width, int height, int x, int y);

/* Pixels of the canvas per millimetre of what is shown, as pHYs. Without it there is no pHYs:
 * nothing is said about the size. */
void img_proof_set_scale (ImgProof *self, double px_per_mm);
/* As iTXt. `keyword` of 1 to 79 ASCII letters, UTF-8 text; `language` such as "de". */
void img_proof_text (ImgProof *self, const char *keyword, const char *language, const char *text);

typedef gboolean (*ImgProofSink) (const void *bytes, gsize n, gpointer data, GError **error);

/* FALSE: the sink's error, G_IO_ERROR_CANCELLED, or IMG_ERROR_FAILED. Any thread. */
gboolean img_proof_write (
  ImgProof *self, ImgProofSink sink, gpointer data, GCancellable *cancellable, GError **error);
