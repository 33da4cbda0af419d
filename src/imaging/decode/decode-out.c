/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-out.c — the upright picture in bands, so that no second copy of it
 * lies in this process's own memory.
 *
 * Invariant: the memory file is sealed after the last byte and never before.
 */
#include "imaging/decode/decode-out.h"
#include "imaging/img-orient.h"

#include <errno.h>
#include <unistd.h>

#define BAND_ROWS 64

static gboolean
write_all (int fd, const void *data, gsize size, gint64 at)
{
  const guint8 *p = data;

  while (size > 0)
    {
      gssize n = pwrite (fd, p, size, at);

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      p += n;
      at += n;
      size -= (gsize) n;
    }
  return TRUE;
}

/* Four channels to three in place: each row only moves towards its own start. */
static void
flatten_on_white (guint8 *pixels, gsize stride, int width, int height)
{
  for (int y = 0; y < height; y++)
    {
      const guint8 *from = pixels + (gsize) y * stride;
      guint8 *to = pixels + (gsize) y * stride;

      for (int x = 0; x < width; x++, from += 4, to += 3)
        {
          int alpha = from[3];

          for (int c = 0; c < 3; c++)
            to[c] = (guint8) ((from[c] * alpha + 255 * (255 - alpha) + 127) / 255);
        }
    }
}

static gboolean
write_bands (int fd, const DecodeHeader *header, GdkPixbuf *pixbuf)
{
  gsize stride = (gsize) header->width * 3;
  g_autofree guint8 *band = g_try_malloc (stride * BAND_ROWS);
  int height = (int) header->height;

  if (band == NULL)
    return FALSE;
  for (int y = 0; y < height; y += BAND_ROWS)
    {
      int n = MIN (BAND_ROWS, height - y);

      img_orient_rows (gdk_pixbuf_read_pixels (pixbuf), (gsize) gdk_pixbuf_get_rowstride (pixbuf),
                       gdk_pixbuf_get_width (pixbuf), gdk_pixbuf_get_height (pixbuf),
                       (int) header->orientation, y, n, band, stride);
      if (!write_all (fd, band, stride * (gsize) n, DECODE_PIXELS_AT + (gint64) stride * y))
        return FALSE;
    }
  return TRUE;
}

gboolean
decode_out_write (int fd, DecodeHeader *header, GdkPixbuf *pixbuf)
{
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  int upright_w, upright_h;
  gint64 size;

  img_orient_size ((int) header->orientation, width, height, &upright_w, &upright_h);
  header->magic = DECODE_MAGIC;
  header->version = DECODE_VERSION;
  header->width = (guint32) upright_w;
  header->height = (guint32) upright_h;
  if (gdk_pixbuf_get_n_channels (pixbuf) == 4)
    flatten_on_white (gdk_pixbuf_get_pixels (pixbuf), (gsize) gdk_pixbuf_get_rowstride (pixbuf),
                      width, height);
  size = DECODE_PIXELS_AT + (gint64) upright_w * 3 * upright_h;
  return ftruncate (fd, size) == 0 && write_all (fd, header, sizeof *header, 0) &&
         write_bands (fd, header, pixbuf) && fcntl (fd, F_ADD_SEALS, DECODE_SEALS) == 0;
}
