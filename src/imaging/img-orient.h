/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-orient.h — from the rows as a file stores them to the upright picture.
 *
 * Orientation is the number 1…8 of the EXIF tag 0x0112 (CIPA DC-008):
 * 1 as stored, 2 mirrored left-right, 3 turned by 180°, 4 mirrored top-bottom,
 * 5 transposed, 6 turned 90° clockwise, 7 transposed over the other diagonal,
 * 8 turned 90° counter-clockwise. 5…8 exchange width and height.
 *
 * It is applied exactly once, by the decoder, when it writes the pixels down.
 * Points are continuous: pixel (i, j) covers i…i+1 by j…j+1, so that the right
 * edge of a picture is x = width.
 */
#pragma once

#include "imaging/img-pixels.h"

gboolean img_orient_is_valid (int orientation);
gboolean img_orient_swaps_sides (int orientation);
int img_orient_inverse (int orientation);

/* Stored size to upright size; and a stored point to an upright point, `width`
 * and `height` being the stored size. */
void img_orient_size (int orientation, int width, int height, int *upright_w, int *upright_h);
void img_orient_point (int orientation, double width, double height, double *x, double *y);

/* Writes `n_rows` upright rows from row `first_row` on. Source: 3 bytes a pixel, stored size. */
void img_orient_rows (const guint8 *src,
                      gsize src_stride,
                      int width,
                      int height,
                      int orientation,
                      int first_row,
                      int n_rows,
                      guint8 *dst,
                      gsize dst_stride);

/* The whole picture turned; the size must fit in memory. */
ImgPixels *img_orient_pixels (const ImgPixels *stored, int orientation) G_GNUC_WARN_UNUSED_RESULT;
