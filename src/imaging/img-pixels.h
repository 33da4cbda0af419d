/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-pixels.h — one picture in memory, always upright.
 *
 * Pixels are 8-bit sRGB, 3 bytes a pixel, rows of `stride` bytes, top row
 * first. "Upright" is defined once, in img-orient.c: the EXIF orientation has
 * been applied, so that (0, 0) is the corner that a person sees top left. All
 * marks in the journal are in these pixels.
 */
#pragma once

#include <glib.h>

typedef struct
{
  int width;     /* pixels, >= 1 */
  int height;    /* pixels, >= 1 */
  gsize stride;  /* bytes from row to row, >= 3 * width */
  GBytes *bytes; /* owned; at least stride * (height - 1) + 3 * width bytes */
} ImgPixels;

/* Takes `bytes`, also when it returns NULL because they are too few for the size. */
ImgPixels *
img_pixels_new_take (int width, int height, gsize stride, GBytes *bytes) G_GNUC_WARN_UNUSED_RESULT;
ImgPixels *img_pixels_copy (const ImgPixels *self); /* shares the bytes */
void img_pixels_free (ImgPixels *self);
const guint8 *img_pixels_row (const ImgPixels *self, int y);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (ImgPixels, img_pixels_free)
