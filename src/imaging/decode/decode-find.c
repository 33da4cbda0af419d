/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-find.c — outer structure of JPEG and WebP; which of the others does what.
 *
 * Invariant: every offset is compared with the size before it is used; a
 * length that leads outside the file ends the walk, never the process.
 */
#include "imaging/decode/decode-find.h"

#include <string.h>

static guint32
le32 (const guint8 *p)
{
  return p[0] | (guint32) p[1] << 8 | (guint32) p[2] << 16 | (guint32) p[3] << 24;
}

/* From a start of scan to the next marker that is neither a restart nor a stuffed byte. */
static gsize
skip_scan (const guint8 *data, gsize size, gsize at)
{
  while (at + 1 < size)
    {
      const guint8 *p = memchr (data + at, 0xff, size - at - 1);

      if (p == NULL)
        return size;
      at = (gsize) (p - data);
      if (p[1] != 0x00 && p[1] != 0xff && !(p[1] >= 0xd0 && p[1] <= 0xd7))
        return at;
      at += p[1] == 0xff ? 1 : 2;
    }
  return size;
}

/* ITU-T T.81 annex B: segments of marker and 16-bit length, entropy-coded data after SOS. */
void
decode_find_jpeg (const guint8 *data, gsize size, DecodeFound *out)
{
  gsize at = 2;

  while (at + 1 < size && data[at] == 0xff)
    {
      guint8 marker = data[at + 1];
      gsize length;

      if (marker == 0xd9)
        {
          out->complete = TRUE;
          return;
        }
      if (marker == 0xff || marker == 0x01 || (marker >= 0xd0 && marker <= 0xd7))
        {
          at += marker == 0xff ? 1 : 2;
          continue;
        }
      if (at + 4 > size)
        return;
      length = (gsize) data[at + 2] << 8 | data[at + 3];
      if (length < 2 || length > size - at - 2)
        return;
      /* Some writers put another byte than 0 after "Exif\0". */
      if (marker == 0xe1 && out->exif == NULL && length > 8 &&
          memcmp (data + at + 4, "Exif\0", 5) == 0)
        out->exif = g_bytes_new (data + at + 10, length - 8);
      at += 2 + length;
      if (marker == 0xda)
        at = skip_scan (data, size, at);
    }
}

/* RIFF: chunks of four letters and a length, padded to even. */
void
decode_find_webp (const guint8 *data, gsize size, DecodeFound *out)
{
  gsize end = (gsize) le32 (data + 4) + 8, at = 12;

  out->complete = end <= size;
  end = MIN (end, size);
  while (end - at >= 8)
    {
      gsize length = le32 (data + at + 4);
      const guint8 *body = data + at + 8;

      if (length > end - at - 8)
        return;
      if (memcmp (data + at, "EXIF", 4) == 0 && length > 6)
        {
          gsize skip = memcmp (body, "Exif\0\0", 6) == 0 ? 6 : 0;

          out->exif = g_bytes_new (body + skip, length - skip);
          return;
        }
      at += 8 + length;
      if (length % 2 != 0 && at < end)
        at++;
    }
}

void
decode_find (DecodeFormat format, const guint8 *data, gsize size, DecodeFound *out)
{
  *out = (DecodeFound){ 0 };
  switch (format)
    {
    case DECODE_FORMAT_JPEG:
      decode_find_jpeg (data, size, out);
      break;
    case DECODE_FORMAT_PNG:
      decode_find_png (data, size, out);
      break;
    case DECODE_FORMAT_WEBP:
      decode_find_webp (data, size, out);
      break;
    case DECODE_FORMAT_HEIC:
      decode_find_heic (data, size, out);
      break;
    case DECODE_FORMAT_TIFF:
      decode_find_tiff (data, size, out);
      break;
    default:
      break;
    }
}

void
decode_found_clear (DecodeFound *self)
{
  g_clear_pointer (&self->exif, g_bytes_unref);
}
