/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-strip-render.c — the straightened abdomen as a picture for the bench. */
#include "imaging/img-strip-private.h"

#include <math.h>

#define AROUND 1.3 /* of the widest half width */

ImgPixels *
img_strip_render (const ImgPixels *pixels, const ImgStrip *strip, int height)
{
  StripRegion region = { 0 };
  double widest = 0.0, scale;
  int width;
  guint8 *out;
  gsize size;

  height = CLAMP (height, 16, 4096);
  for (int i = 0; i < STRIP_N; i++)
    widest = MAX (widest, MAX (strip->side[0][i], strip->side[1][i]));
  scale = strip->axis_px / height; /* upright pixels a row */
  width = CLAMP ((int) lround (2.0 * AROUND * widest / scale), 8, 2 * height);
  size = (gsize) 3 * (gsize) width * (gsize) height;
  out = g_malloc (size);
  strip_region_init (&region, pixels, strip, NULL, NULL);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        double at = (y + .5) / height, d = (x + .5 - .5 * width) * scale, ax, ay;
        int i = MIN (STRIP_N - 1, (int) (at * STRIP_N));
        float rgb[3];

        img_strip_point (strip, at, &ax, &ay);
        strip_region_sample (&region, ax + d * strip->nx[i], ay + d * strip->ny[i], rgb);
        for (int c = 0; c < 3; c++)
          out[3 * ((gsize) width * y + x) + c] =
            (guint8) (255.0f * CLAMP (rgb[c], 0.0f, 1.0f) + .5f);
      }
  strip_region_clear (&region);
  return img_pixels_new_take (width, height, (gsize) 3 * width, g_bytes_new_take (out, size));
}
