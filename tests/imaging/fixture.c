/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fixture.c — files, the four-coloured picture, EXIF blocks and JPEG.
 *
 * The EXIF block is put together byte by byte from the layout of CIPA DC-008
 * and TIFF 6.0, not by the library that reads it in the program.
 */
#include "fixture.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>

static const struct
{
  char letter;
  guint8 rgb[3];
} quarters[4] = {
  { 'R', { 220, 40, 40 } },
  { 'G', { 40, 180, 60 } },
  { 'B', { 40, 60, 200 } },
  { 'Y', { 230, 220, 60 } },
};

char *
fixture_dir (void)
{
  g_autoptr (GError) error = NULL;
  char *dir = g_dir_make_tmp ("mantidary-imaging-XXXXXX", &error);

  g_assert_no_error (error);
  return dir;
}

void
fixture_done (char *dir)
{
  g_autoptr (GDir) open = g_dir_open (dir, 0, NULL);
  const char *name;

  g_assert_nonnull (open);
  while ((name = g_dir_read_name (open)) != NULL)
    {
      g_autofree char *path = g_build_filename (dir, name, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        fixture_done (g_strdup (path));
      else
        g_assert_cmpint (g_unlink (path), ==, 0);
    }
  g_assert_cmpint (g_rmdir (dir), ==, 0);
  g_free (dir);
}

char *
fixture_write (const char *dir, const char *name, GBytes *bytes)
{
  char *path = g_build_filename (dir, name, NULL);
  g_autoptr (GError) error = NULL;
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);

  g_file_set_contents (path, data != NULL ? data : "", (gssize) size, &error);
  g_assert_no_error (error);
  return path;
}

GdkPixbuf *
fixture_quarters (int width, int height)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  guint8 *pixels = gdk_pixbuf_get_pixels (pixbuf);
  int stride = gdk_pixbuf_get_rowstride (pixbuf);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      memcpy (pixels + y * stride + x * 3,
              quarters[(y >= height / 2 ? 2 : 0) + (x >= width / 2 ? 1 : 0)].rgb, 3);
  return pixbuf;
}

static char
letter_at (const ImgPixels *pixels, int x, int y)
{
  const guint8 *p = img_pixels_row (pixels, y) + x * 3;

  for (gsize i = 0; i < G_N_ELEMENTS (quarters); i++)
    {
      const guint8 *q = quarters[i].rgb;

      /* JPEG may change a colour by a few steps, never by 20 in a plain quarter. */
      if (ABS (p[0] - q[0]) < 20 && ABS (p[1] - q[1]) < 20 && ABS (p[2] - q[2]) < 20)
        return quarters[i].letter;
    }
  return '?';
}

void
fixture_corners (const ImgPixels *pixels, char out[5])
{
  int right = pixels->width - 1, bottom = pixels->height - 1;

  out[0] = letter_at (pixels, 0, 0);
  out[1] = letter_at (pixels, right, 0);
  out[2] = letter_at (pixels, 0, bottom);
  out[3] = letter_at (pixels, right, bottom);
  out[4] = '\0';
}

static void
put (GByteArray *out, gboolean big_endian, guint32 value, int n_bytes)
{
  for (int i = 0; i < n_bytes; i++)
    {
      guint8 byte = (guint8) (value >> 8 * (big_endian ? n_bytes - 1 - i : i));

      g_byte_array_append (out, &byte, 1);
    }
}

/* One row of an IFD: tag, type (2 ASCII, 3 SHORT, 4 LONG), count, value or offset. */
static void
put_entry (GByteArray *out, gboolean be, guint tag, guint type, guint32 count, guint32 value)
{
  put (out, be, tag, 2);
  put (out, be, type, 2);
  put (out, be, count, 4);
  if (type == 3 && count == 1)
    {
      put (out, be, value, 2);
      put (out, be, 0, 2);
    }
  else
    put (out, be, value, 4);
}

/* Texts of at most three letters lie in the entry itself. */
static void
put_text_entry (GByteArray *out,
                gboolean be,
                guint tag,
                const char *text,
                GByteArray *texts,
                guint32 texts_at)
{
  guint n = (guint) strlen (text) + 1;

  if (n > 4)
    {
      put_entry (out, be, tag, 2, n, texts_at + texts->len);
      g_byte_array_append (texts, (const guint8 *) text, n);
      return;
    }
  put (out, be, tag, 2);
  put (out, be, 2, 2);
  put (out, be, n, 4);
  g_byte_array_append (out, (const guint8 *) text, n);
  for (; n < 4; n++)
    g_byte_array_append (out, (const guint8 *) "", 1);
}

GBytes *
fixture_exif (const FixtureExif *exif)
{
  g_autoptr (GByteArray) texts = g_byte_array_new ();
  GByteArray *out = g_byte_array_new ();
  gboolean be = exif->big_endian;
  guint n_main = (exif->orientation > 0) + (exif->taken != NULL);
  guint n_sub = (exif->taken != NULL) + (exif->subsec != NULL) + (exif->offset != NULL);
  guint32 sub_at = 8 + 2 + 12 * n_main + 4, texts_at = sub_at + 2 + 12 * n_sub + 4;

  g_byte_array_append (out, (const guint8 *) (be ? "MM" : "II"), 2);
  put (out, be, 42, 2);
  put (out, be, 8, 4);
  put (out, be, n_main, 2);
  if (exif->orientation > 0)
    put_entry (out, be, 0x0112, 3, 1, (guint32) exif->orientation);
  if (exif->taken != NULL)
    put_entry (out, be, 0x8769, 4, 1, sub_at);
  put (out, be, 0, 4);
  if (exif->taken == NULL)
    return g_byte_array_free_to_bytes (out);
  put (out, be, n_sub, 2);
  put_text_entry (out, be, 0x9003, exif->taken, texts, texts_at);
  if (exif->offset != NULL)
    put_text_entry (out, be, 0x9011, exif->offset, texts, texts_at);
  if (exif->subsec != NULL)
    put_text_entry (out, be, 0x9291, exif->subsec, texts, texts_at);
  put (out, be, 0, 4);
  g_byte_array_append (out, texts->data, texts->len);
  return g_byte_array_free_to_bytes (out);
}

/* SOI, then the EXIF block as APP1, then the rest of what the encoder wrote. */
GBytes *
fixture_jpeg (GdkPixbuf *pixbuf, const FixtureExif *exif)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) block = NULL;
  g_autofree char *data = NULL;
  GByteArray *out = g_byte_array_new ();
  gsize size;

  gdk_pixbuf_save_to_buffer (pixbuf, &data, &size, "jpeg", &error, "quality", "95", NULL);
  g_assert_no_error (error);
  g_byte_array_append (out, (const guint8 *) data, 2);
  if (exif != NULL)
    {
      block = fixture_exif (exif);
      g_byte_array_append (out, (const guint8 *) "\xff\xe1", 2);
      put (out, TRUE, (guint32) g_bytes_get_size (block) + 8, 2);
      g_byte_array_append (out, (const guint8 *) "Exif\0\0", 6);
      g_byte_array_append (out, g_bytes_get_data (block, NULL), (guint) g_bytes_get_size (block));
    }
  g_byte_array_append (out, (const guint8 *) data + 2, (guint) size - 2);
  return g_byte_array_free_to_bytes (out);
}

/* The directories of TIFF 6.0, from `at` on; with those of EXIF where a day is given. */
static void
put_tiff_directory (GByteArray *out, guint32 at, guint32 w, guint32 h, guint32 pixels_at, guint32 bits_at,
                    int orientation, const FixtureExif *exif)
{
  gboolean be = exif != NULL && exif->big_endian, dated = exif != NULL && exif->taken != NULL;
  guint n = dated ? 11 : 10, n_sub = 0;
  guint32 sub_at = at + 2 + 12 * n + 4, texts_at;
  g_autoptr (GByteArray) texts = g_byte_array_new ();

  put (out, be, n, 2);
  put_entry (out, be, 256, 4, 1, w);
  put_entry (out, be, 257, 4, 1, h);
  put_entry (out, be, 258, 3, 3, bits_at);
  put_entry (out, be, 259, 3, 1, 1); /* no compression */
  put_entry (out, be, 262, 3, 1, 2); /* RGB */
  put_entry (out, be, 273, 4, 1, pixels_at);
  put_entry (out, be, 274, 3, 1, (guint32) orientation);
  put_entry (out, be, 277, 3, 1, 3);
  put_entry (out, be, 278, 4, 1, h);
  put_entry (out, be, 279, 4, 1, w * h * 3);
  if (dated)
    put_entry (out, be, 0x8769, 4, 1, sub_at);
  put (out, be, 0, 4);
  if (!dated)
    return;
  n_sub = 1 + (exif->offset != NULL) + (exif->subsec != NULL);
  texts_at = sub_at + 2 + 12 * n_sub + 4;
  put (out, be, n_sub, 2);
  put_text_entry (out, be, 0x9003, exif->taken, texts, texts_at);
  if (exif->offset != NULL)
    put_text_entry (out, be, 0x9011, exif->offset, texts, texts_at);
  if (exif->subsec != NULL)
    put_text_entry (out, be, 0x9291, exif->subsec, texts, texts_at);
  put (out, be, 0, 4);
  g_byte_array_append (out, texts->data, texts->len);
}

static void
put_tiff_pixels (GByteArray *out, gboolean be, GdkPixbuf *pixbuf)
{
  guint32 w = (guint32) gdk_pixbuf_get_width (pixbuf), h = (guint32) gdk_pixbuf_get_height (pixbuf);

  for (int i = 0; i < 3; i++) /* bits of each colour */
    put (out, be, 8, 2);
  for (guint32 y = 0; y < h; y++)
    g_byte_array_append (
      out, gdk_pixbuf_read_pixels (pixbuf) + y * (guint32) gdk_pixbuf_get_rowstride (pixbuf),
      w * 3);
}

/* One strip of uncompressed RGB; the directory behind it, where most programs put it. */
GBytes *
fixture_tiff_dated (GdkPixbuf *pixbuf, const FixtureExif *exif)
{
  GByteArray *out = g_byte_array_new ();
  guint32 w = (guint32) gdk_pixbuf_get_width (pixbuf), h = (guint32) gdk_pixbuf_get_height (pixbuf);
  guint32 directory_at = 8 + 6 + w * h * 3;

  g_assert_cmpuint (directory_at % 2, ==, 0); /* TIFF wants it so */
  g_byte_array_append (out, (const guint8 *) (exif->big_endian ? "MM" : "II"), 2);
  put (out, exif->big_endian, 42, 2);
  put (out, exif->big_endian, directory_at, 4);
  put_tiff_pixels (out, exif->big_endian, pixbuf);
  put_tiff_directory (out, directory_at, w, h, 8 + 6, 8, MAX (exif->orientation, 1), exif);
  return g_byte_array_free_to_bytes (out);
}

/* The same with the directory first. */
GBytes *
fixture_tiff (GdkPixbuf *pixbuf, int orientation)
{
  GByteArray *out = g_byte_array_new ();
  guint32 w = (guint32) gdk_pixbuf_get_width (pixbuf), h = (guint32) gdk_pixbuf_get_height (pixbuf);
  guint32 bits_at = 8 + 2 + 12 * 10 + 4;

  g_byte_array_append (out, (const guint8 *) "II", 2);
  put (out, FALSE, 42, 2);
  put (out, FALSE, 8, 4);
  put_tiff_directory (out, 8, w, h, bits_at + 6, bits_at, orientation, NULL);
  put_tiff_pixels (out, FALSE, pixbuf);
  return g_byte_array_free_to_bytes (out);
}

/* Through heif-enc, which turns an EXIF orientation into the file's own turn. */
GBytes *
fixture_heic (const char *dir, GBytes *jpeg)
{
  g_autofree char *program = g_find_program_in_path ("heif-enc");
  g_autofree char *in = NULL, *out = g_build_filename (dir, "made.heic", NULL);
  g_autoptr (GSubprocess) process = NULL;
  char *data = NULL;
  gsize size;

  if (program == NULL)
    return NULL;
  in = fixture_write (dir, "for-heic.jpg", jpeg);
  process = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_SILENCE | G_SUBPROCESS_FLAGS_STDERR_SILENCE,
                              NULL, program, "-q", "95", "-o", out, in, NULL);
  if (process == NULL || !g_subprocess_wait_check (process, NULL, NULL) ||
      !g_file_get_contents (out, &data, &size, NULL))
    return NULL;
  return g_bytes_new_take (data, size);
}

gboolean
fixture_has_loader (const char *name)
{
  GSList *formats = gdk_pixbuf_get_formats ();
  gboolean found = FALSE;

  for (GSList *l = formats; l != NULL; l = l->next)
    {
      g_autofree char *each = gdk_pixbuf_format_get_name (l->data);

      found = found || strcmp (each, name) == 0;
    }
  g_slist_free (formats);
  return found;
}
