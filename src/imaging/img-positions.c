/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-positions.c — see img-positions.h.
 *
 * JPEG by ITU-T T.81 annex B, PNG by its third edition (W3C, 2025) section 5, WebP by RFC 9649
 * section 2, EXIF by CIPA DC-008.
 *
 * Invariant: every length is compared with what is left before it is used; a file that does not
 * end as its form asks for gives nothing.
 */
#include "imaging/img-positions.h"

#include <string.h>

#include "core/core-date.h"

typedef struct
{
  const guint8 *data;
  gsize size;
  GByteArray *out;
  GByteArray *exif; /* from the TIFF header on; empty = none is needed */
} Copy;

static void
put (GByteArray *out, const void *bytes, gsize n)
{
  g_byte_array_append (out, bytes, (guint) n);
}

static void
put_byte (GByteArray *out, guint byte)
{
  guint8 b = (guint8) byte;

  put (out, &b, 1);
}

static void
put_be16 (GByteArray *out, guint value)
{
  put_byte (out, value >> 8);
  put_byte (out, value);
}

static void
put_be32 (GByteArray *out, guint32 value)
{
  put_be16 (out, value >> 16);
  put_be16 (out, value & 0xffff);
}

static void
put_le32 (GByteArray *out, guint32 value)
{
  for (int i = 0; i < 4; i++)
    put_byte (out, value >> 8 * i);
}

static guint32
be32 (const guint8 *p)
{
  return (guint32) p[0] << 24 | (guint32) p[1] << 16 | (guint32) p[2] << 8 | p[3];
}

static guint32
le32 (const guint8 *p)
{
  return p[0] | (guint32) p[1] << 8 | (guint32) p[2] << 16 | (guint32) p[3] << 24;
}

/* ---- what is written anew ---- */

static void
put_tag (GByteArray *out, guint tag, guint type, guint32 count, guint32 value)
{
  put_be16 (out, tag);
  put_be16 (out, type);
  put_be32 (out, count);
  put_be32 (out, value);
}

/* A time that is not known is written as blanks. */
static void
taken_text (CoreDay taken, int minute, char out[20])
{
  int year, month, day;

  core_day_to_ymd (taken, &year, &month, &day);
  if (minute >= 0)
    g_snprintf (out, 20, "%04d:%02d:%02d %02d:%02d:00", year, month, day, minute / 60 % 24,
                minute % 60);
  else
    g_snprintf (out, 20, "%04d:%02d:%02d   :  :  ", year, month, day);
}

/* Two tags and one more directory at most: where everything lies is known beforehand. */
static GByteArray *
make_exif (int orientation, CoreDay taken, int minute)
{
  GByteArray *out = g_byte_array_new ();
  gboolean turned = orientation > 1 && orientation <= 8;
  gboolean dated = taken != CORE_DAY_NONE;
  guint n = (guint) turned + (guint) dated;
  guint32 second = 8 + 2 + 12 * n + 4;
  char text[20];

  if (n == 0)
    return out;
  put (out, "MM\0*\0\0\0\x08", 8);
  put_be16 (out, n);
  if (turned)
    put_tag (out, 0x0112, 3, 1, (guint32) orientation << 16);
  if (dated)
    put_tag (out, 0x8769, 4, 1, second);
  put_be32 (out, 0);
  if (!dated)
    return out;
  put_be16 (out, 1);
  put_tag (out, 0x9003, 2, 20, second + 2 + 12 + 4);
  put_be32 (out, 0);
  taken_text (taken, minute, text);
  put (out, text, 20);
  return out;
}

/* ---- JPEG ---- */

static gboolean
keeps_jpeg_segment (guint marker, const guint8 *body, gsize n)
{
  if (marker == 0xe2)
    return n > 14 && memcmp (body, "ICC_PROFILE", 12) == 0;
  if (marker == 0xee) /* how the colours are to be read */
    return n == 12 && memcmp (body, "Adobe", 5) == 0;
  return (marker >= 0xc0 && marker <= 0xcf) || (marker >= 0xda && marker <= 0xdf);
}

/* From after a start of scan to the next marker that is neither a restart nor a stuffed byte. */
static gsize
end_of_scan (const Copy *copy, gsize at)
{
  for (; at + 1 < copy->size; at++)
    if (copy->data[at] == 0xff && copy->data[at + 1] != 0x00 && copy->data[at + 1] != 0xff &&
        (copy->data[at + 1] < 0xd0 || copy->data[at + 1] > 0xd7))
      return at;
  return copy->size;
}

static void
begin_jpeg (Copy *copy)
{
  put (copy->out, "\xff\xd8", 2);
  if (copy->exif->len == 0)
    return;
  put (copy->out, "\xff\xe1", 2);
  put_be16 (copy->out, copy->exif->len + 8);
  put (copy->out, "Exif\0", 6);
  put (copy->out, copy->exif->data, copy->exif->len);
}

/* The resolution of the JFIF segment, without its thumbnail. */
static void
put_jfif (Copy *copy, const guint8 *body)
{
  put (copy->out, "\xff\xe0\0\x10", 4);
  put (copy->out, body, 12);
  put (copy->out, "\0", 2);
}

static gboolean
copy_jpeg (Copy *copy)
{
  gboolean scanned = FALSE;
  gsize at = 2;

  begin_jpeg (copy);
  while (copy->size - at >= 2 && copy->data[at] == 0xff)
    {
      guint marker = copy->data[at + 1];
      const guint8 *segment = copy->data + at;
      gsize n, end;

      if (marker == 0xff)
        {
          at++;
          continue;
        }
      if (marker == 0xd9)
        {
          put (copy->out, "\xff\xd9", 2);
          return scanned;
        }
      if (copy->size - at < 4)
        return FALSE;
      n = (gsize) segment[2] << 8 | segment[3];
      if (n < 2 || n > copy->size - at - 2)
        return FALSE;
      end = at + 2 + n;
      if (marker == 0xda)
        {
          end = end_of_scan (copy, end);
          scanned = TRUE;
        }
      if (marker == 0xe0 && n >= 16 && memcmp (segment + 4, "JFIF", 5) == 0)
        put_jfif (copy, segment + 4);
      else if (keeps_jpeg_segment (marker, segment + 4, n - 2))
        put (copy->out, segment, end - at);
      at = end;
    }
  return FALSE;
}

/* ---- PNG ---- */

static guint32
crc_32 (const guint8 *p, gsize n)
{
  guint32 crc = 0xffffffff;

  for (gsize i = 0; i < n; i++)
    {
      crc ^= p[i];
      for (int bit = 0; bit < 8; bit++)
        crc = (crc & 1) != 0 ? crc >> 1 ^ 0xedb88320 : crc >> 1;
    }
  return ~crc;
}

static void
put_png_exif (Copy *copy)
{
  guint start = copy->out->len + 4;

  if (copy->exif->len == 0)
    return;
  put_be32 (copy->out, copy->exif->len);
  put (copy->out, "eXIf", 4);
  put (copy->out, copy->exif->data, copy->exif->len);
  put_be32 (copy->out, crc_32 (copy->out->data + start, copy->out->len - start));
}

static gboolean
keeps_png_chunk (const guint8 *name)
{
  static const char *const kept[] = { "IHDR", "PLTE", "IDAT", "IEND", "tRNS", "gAMA", "cHRM",
                                      "sRGB", "iCCP", "sBIT", "pHYs", "bKGD", "cICP" };

  for (gsize i = 0; i < G_N_ELEMENTS (kept); i++)
    if (memcmp (name, kept[i], 4) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
copy_png (Copy *copy)
{
  gsize at = 8;

  put (copy->out, copy->data, 8);
  while (copy->size - at >= 12)
    {
      const guint8 *chunk = copy->data + at;
      gsize n = be32 (chunk);

      if (n > copy->size - at - 12)
        return FALSE;
      if (keeps_png_chunk (chunk + 4))
        put (copy->out, chunk, n + 12);
      if (memcmp (chunk + 4, "IHDR", 4) == 0)
        put_png_exif (copy);
      if (memcmp (chunk + 4, "IEND", 4) == 0)
        return TRUE;
      at += n + 12;
    }
  return FALSE;
}

/* ---- WebP ---- */

#define VP8X_EXIF 0x08
#define VP8X_XMP 0x04

static void
put_webp_chunk (GByteArray *out, const char *name, const guint8 *body, gsize n)
{
  put (out, name, 4);
  put_le32 (out, (guint32) n);
  put (out, body, n);
  if (n % 2 != 0)
    put_byte (out, 0);
}

static gboolean
keeps_webp_chunk (const guint8 *name)
{
  static const char *const kept[] = { "VP8 ", "VP8L", "ALPH", "ICCP" };

  for (gsize i = 0; i < G_N_ELEMENTS (kept); i++)
    if (memcmp (name, kept[i], 4) == 0)
      return TRUE;
  return FALSE;
}

/* The first chunk says which others there are. */
static gboolean
put_webp_head (Copy *copy, const guint8 *body, gsize n, gboolean *animated)
{
  guint8 head[10];

  if (n < sizeof head)
    return FALSE;
  memcpy (head, body, sizeof head);
  *animated = (head[0] & 0x02) != 0;
  head[0] &= (guint8) ~(VP8X_EXIF | VP8X_XMP);
  if (copy->exif->len > 0)
    head[0] |= VP8X_EXIF;
  put_webp_chunk (copy->out, "VP8X", head, sizeof head);
  return TRUE;
}

static gboolean
end_webp (Copy *copy, gboolean extended)
{
  guint32 size;

  if (extended && copy->exif->len > 0)
    put_webp_chunk (copy->out, "EXIF", copy->exif->data, copy->exif->len);
  size = copy->out->len - 8;
  for (int i = 0; i < 4; i++)
    copy->out->data[4 + i] = (guint8) (size >> 8 * i);
  return TRUE;
}

/* A plain file has no place for EXIF, so it came without: nothing of it is lost. */
static gboolean
copy_webp (Copy *copy)
{
  gsize end = MIN ((gsize) le32 (copy->data + 4) + 8, copy->size);
  gboolean extended = FALSE, animated = FALSE;
  gsize at = 12;

  put (copy->out, copy->data, 12);
  while (end - at >= 8)
    {
      const guint8 *chunk = copy->data + at;
      gsize n = le32 (chunk + 4);

      if (n > end - at - 8)
        return FALSE;
      if (memcmp (chunk, "VP8X", 4) == 0)
        {
          extended = TRUE;
          if (!put_webp_head (copy, chunk + 8, n, &animated) || animated)
            return FALSE;
        }
      else if (keeps_webp_chunk (chunk))
        put_webp_chunk (copy->out, (const char *) chunk, chunk + 8, n);
      at += 8 + n + n % 2;
      if (at > end)
        break;
    }
  return end_webp (copy, extended);
}

GBytes *
img_positions_remove (GBytes *whole, int orientation, CoreDay taken, int minute)
{
  Copy copy = { .out = g_byte_array_new () };
  gboolean ok = FALSE;

  copy.data = g_bytes_get_data (whole, &copy.size);
  copy.exif = make_exif (orientation, taken, minute);
  if (copy.size > 4 && memcmp (copy.data, "\xff\xd8\xff", 3) == 0)
    ok = copy_jpeg (&copy);
  else if (copy.size > 20 && memcmp (copy.data, "\x89PNG\r\n\x1a\n", 8) == 0)
    ok = copy_png (&copy);
  else if (copy.size > 20 && memcmp (copy.data, "RIFF", 4) == 0 &&
           memcmp (copy.data + 8, "WEBP", 4) == 0)
    ok = copy_webp (&copy);
  g_byte_array_unref (copy.exif);
  if (ok)
    return g_byte_array_free_to_bytes (copy.out);
  g_byte_array_unref (copy.out);
  return NULL;
}
