/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fixture-png.c — PNG with an eXIf chunk, WebP with an EXIF chunk, and the
 * progressive JPEG that gdk-pixbuf does not write. */
#include "fixture.h"

#include <png.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>

#ifdef HAVE_WEBP
#include <webp/encode.h>
#endif

static void
append_cb (png_structp png, png_bytep data, size_t n)
{
  g_byte_array_append (png_get_io_ptr (png), data, (guint) n);
}

static void
flush_cb (png_structp png)
{
}

static void
write_rows (png_structp png, GdkPixbuf *pixbuf)
{
  int stride = gdk_pixbuf_get_rowstride (pixbuf);

  for (int y = 0; y < gdk_pixbuf_get_height (pixbuf); y++)
    png_write_row (png, gdk_pixbuf_read_pixels (pixbuf) + (gsize) y * (gsize) stride);
}

GBytes *
fixture_png (GdkPixbuf *pixbuf, const FixtureExif *exif, gboolean exif_after_pixels)
{
  GByteArray *out = g_byte_array_new ();
  g_autoptr (GBytes) block = exif != NULL ? fixture_exif (exif) : NULL;
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);
  gboolean alpha = gdk_pixbuf_get_has_alpha (pixbuf);
  gsize size = 0;
  guint8 *copy = NULL;

  g_assert_nonnull (info);
  png_set_write_fn (png, out, append_cb, flush_cb);
  png_set_IHDR (png, info, (png_uint_32) gdk_pixbuf_get_width (pixbuf),
                (png_uint_32) gdk_pixbuf_get_height (pixbuf), 8,
                alpha ? PNG_COLOR_TYPE_RGBA : PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_set_compression_level (png, 1);
  if (block != NULL)
    copy = g_memdup2 (g_bytes_get_data (block, &size), g_bytes_get_size (block));
  if (copy != NULL && !exif_after_pixels)
    png_set_eXIf_1 (png, info, (png_uint_32) size, copy);
  png_write_info (png, info);
  write_rows (png, pixbuf);
  if (copy != NULL && exif_after_pixels)
    png_write_chunk (png, (png_const_bytep) "eXIf", copy, size);
  png_write_end (png, NULL);
  png_destroy_write_struct (&png, &info);
  g_free (copy);
  return g_byte_array_free_to_bytes (out);
}

GBytes *
fixture_png_header (guint32 width, guint32 height)
{
  GByteArray *out = g_byte_array_new ();
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);

  g_assert_nonnull (info);
  png_set_write_fn (png, out, append_cb, flush_cb);
  png_set_IHDR (png, info, width, height, 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_write_info (png, info);
  /* The first bytes of picture data, so that a reader gets past the header. */
  png_write_chunk (png, (png_const_bytep) "IDAT", (png_const_bytep) "\x78\x01", 2);
  png_destroy_write_struct (&png, &info);
  return g_byte_array_free_to_bytes (out);
}

GBytes *
fixture_png_plain (guint32 width, guint32 height)
{
  GByteArray *out = g_byte_array_new ();
  g_autofree guint8 *row = g_malloc0 ((gsize) width * 3);
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);

  g_assert_nonnull (info);
  png_set_write_fn (png, out, append_cb, flush_cb);
  png_set_IHDR (png, info, width, height, 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_set_compression_level (png, 1);
  png_write_info (png, info);
  for (guint32 y = 0; y < height; y++)
    png_write_row (png, row);
  png_write_end (png, NULL);
  png_destroy_write_struct (&png, &info);
  return g_byte_array_free_to_bytes (out);
}

GBytes *
fixture_progressive_jpeg (GdkPixbuf *pixbuf)
{
  struct jpeg_compress_struct c;
  struct jpeg_error_mgr errors;
  unsigned char *out = NULL;
  unsigned long size = 0;
  GBytes *bytes;

  c.err = jpeg_std_error (&errors);
  jpeg_create_compress (&c);
  jpeg_mem_dest (&c, &out, &size);
  c.image_width = (JDIMENSION) gdk_pixbuf_get_width (pixbuf);
  c.image_height = (JDIMENSION) gdk_pixbuf_get_height (pixbuf);
  c.input_components = 3;
  c.in_color_space = JCS_RGB;
  jpeg_set_defaults (&c);
  jpeg_simple_progression (&c);
  jpeg_start_compress (&c, TRUE);
  while (c.next_scanline < c.image_height)
    {
      JSAMPROW row = gdk_pixbuf_get_pixels (pixbuf) +
                     c.next_scanline * (guint) gdk_pixbuf_get_rowstride (pixbuf);

      jpeg_write_scanlines (&c, &row, 1);
    }
  jpeg_finish_compress (&c);
  jpeg_destroy_compress (&c);
  bytes = g_bytes_new (out, size);
  free (out);
  return bytes;
}

#ifdef HAVE_WEBP
static void
put_chunk (GByteArray *out, const char *name, const guint8 *data, guint32 size)
{
  guint32 le = GUINT32_TO_LE (size);

  g_byte_array_append (out, (const guint8 *) name, 4);
  g_byte_array_append (out, (const guint8 *) &le, 4);
  g_byte_array_append (out, data, size);
  if (size % 2 != 0)
    g_byte_array_append (out, (const guint8 *) "", 1);
}

/* The extended form: VP8X with the EXIF flag (bit 3), the picture's own chunk, EXIF. */
GBytes *
fixture_webp (GdkPixbuf *pixbuf, const FixtureExif *exif)
{
  int w = gdk_pixbuf_get_width (pixbuf), h = gdk_pixbuf_get_height (pixbuf);
  guint8 *simple = NULL, vp8x[10] = { 0x08 };
  size_t size = WebPEncodeLosslessRGB (gdk_pixbuf_read_pixels (pixbuf), w, h,
                                       gdk_pixbuf_get_rowstride (pixbuf), &simple);
  g_autoptr (GBytes) block = fixture_exif (exif);
  GByteArray *out = g_byte_array_new ();
  guint32 le;

  g_assert_cmpuint (size, >, 12);
  for (int i = 0; i < 3; i++)
    {
      vp8x[4 + i] = (guint8) ((w - 1) >> 8 * i);
      vp8x[7 + i] = (guint8) ((h - 1) >> 8 * i);
    }
  g_byte_array_append (out, (const guint8 *) "RIFF\0\0\0\0WEBP", 12);
  put_chunk (out, "VP8X", vp8x, sizeof vp8x);
  g_byte_array_append (out, simple + 12, (guint) size - 12);
  put_chunk (out, "EXIF", g_bytes_get_data (block, NULL), (guint32) g_bytes_get_size (block));
  le = GUINT32_TO_LE (out->len - 8);
  memcpy (out->data + 4, &le, 4);
  WebPFree (simple);
  return g_byte_array_free_to_bytes (out);
}
#else
GBytes *
fixture_webp (GdkPixbuf *pixbuf, const FixtureExif *exif)
{
  return NULL;
}
#endif
