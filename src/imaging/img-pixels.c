/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-pixels.c — the lifetime of a picture in memory.
 *
 * Invariant: `bytes` always covers every row; a size that does not fit the
 * bytes never becomes an ImgPixels.
 */
#include "imaging/img-pixels.h"

static gboolean
size_fits (int width, int height, gsize stride, gsize n_bytes)
{
  gsize row, body;

  if (width < 1 || height < 1 || !g_size_checked_mul (&row, (gsize) width, 3) || stride < row)
    return FALSE;
  if (!g_size_checked_mul (&body, stride, (gsize) height - 1) ||
      !g_size_checked_add (&body, body, row))
    return FALSE;
  return body <= n_bytes;
}

ImgPixels *
img_pixels_new_take (int width, int height, gsize stride, GBytes *bytes)
{
  ImgPixels *self;

  g_return_val_if_fail (bytes != NULL, NULL);

  if (!size_fits (width, height, stride, g_bytes_get_size (bytes)))
    {
      g_bytes_unref (bytes);
      return NULL;
    }
  self = g_new (ImgPixels, 1);
  *self = (ImgPixels){ .width = width, .height = height, .stride = stride, .bytes = bytes };
  return self;
}

ImgPixels *
img_pixels_copy (const ImgPixels *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return img_pixels_new_take (self->width, self->height, self->stride, g_bytes_ref (self->bytes));
}

void
img_pixels_free (ImgPixels *self)
{
  if (self == NULL)
    return;
  g_bytes_unref (self->bytes);
  g_free (self);
}

const guint8 *
img_pixels_row (const ImgPixels *self, int y)
{
  const guint8 *data;

  g_return_val_if_fail (self != NULL && y >= 0 && y < self->height, NULL);

  data = g_bytes_get_data (self->bytes, NULL);
  return data + (gsize) y * self->stride;
}
