/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-scale.c — halving by means of 2 × 2 pixels, and the pyramid of halves.
 *
 * Invariant: values are rounded to the nearest, so that a picture of one
 * colour keeps it at every level.
 */
#include "imaging/img-scale.h"

static void
halve_row (guint8 *dst, const guint8 *top, const guint8 *bottom, int width)
{
  int whole = width / 2;

  for (int x = 0; x < whole; x++, top += 6, bottom += 6, dst += 3)
    for (int c = 0; c < 3; c++)
      dst[c] = (guint8) ((top[c] + top[c + 3] + bottom[c] + bottom[c + 3] + 2) >> 2);
  if (width % 2 != 0)
    for (int c = 0; c < 3; c++)
      dst[c] = (guint8) ((top[c] + bottom[c] + 1) >> 1);
}

ImgPixels *
img_scale_halve (const ImgPixels *self)
{
  int width, height;
  gsize stride;
  guint8 *data;

  g_return_val_if_fail (self != NULL, NULL);

  width = self->width / 2 + self->width % 2;
  height = self->height / 2 + self->height % 2;
  stride = (gsize) width * 3;
  data = g_malloc (stride * (gsize) height);
  for (int y = 0; y < height; y++)
    halve_row (data + (gsize) y * stride, img_pixels_row (self, 2 * y),
               img_pixels_row (self, MIN (2 * y + 1, self->height - 1)), self->width);
  return img_pixels_new_take (width, height, stride,
                              g_bytes_new_take (data, stride * (gsize) height));
}

ImgPixels *
img_scale_to_fit (const ImgPixels *self, int max_side, int *factor_out)
{
  g_autoptr (ImgPixels) now = NULL;
  int factor = 1;

  g_return_val_if_fail (self != NULL, NULL);
  g_return_val_if_fail (max_side >= 1, NULL);

  now = img_pixels_copy (self);
  while (MAX (now->width, now->height) > max_side)
    {
      ImgPixels *half = img_scale_halve (now);

      img_pixels_free (now);
      now = half;
      factor *= 2;
    }
  if (factor_out != NULL)
    *factor_out = factor;
  return g_steal_pointer (&now);
}

ImgPyramid *
img_pyramid_new (const ImgPixels *self, gboolean (*should_stop) (gpointer), gpointer data)
{
  g_autoptr (ImgPyramid) pyramid = g_new0 (ImgPyramid, 1);
  int n = 1, side;

  g_return_val_if_fail (self != NULL, NULL);

  for (side = MAX (self->width, self->height); side > IMG_PYRAMID_SMALLEST; side = (side + 1) / 2)
    n++;
  pyramid->levels = g_new0 (ImgPixels *, n);
  pyramid->levels[0] = img_pixels_copy (self);
  pyramid->n_levels = 1;
  while (pyramid->n_levels < n)
    {
      if (should_stop != NULL && should_stop (data))
        return NULL;
      pyramid->levels[pyramid->n_levels] = img_scale_halve (pyramid->levels[pyramid->n_levels - 1]);
      pyramid->n_levels++;
    }
  return g_steal_pointer (&pyramid);
}

void
img_pyramid_free (ImgPyramid *self)
{
  if (self == NULL)
    return;
  for (int i = 0; i < self->n_levels; i++)
    img_pixels_free (self->levels[i]);
  g_free (self->levels);
  g_free (self);
}

int
img_pyramid_level_for_zoom (const ImgPyramid *self, double zoom)
{
  int level = 0;

  g_return_val_if_fail (self != NULL, 0);
  g_return_val_if_fail (zoom > 0, 0);

  while (level + 1 < self->n_levels && zoom * 2 <= 1.0)
    {
      zoom *= 2;
      level++;
    }
  return level;
}
