/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-proof.c — proof sheets: pixels, chunks and memory, read back by other hands. */
#include "imaging/img-proof.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

static gboolean
into_array (const void *bytes, gsize n, gpointer data, GError **error)
{
  g_byte_array_append (data, bytes, (guint) n);
  return TRUE;
}

static GByteArray *
written (ImgProof *sheet)
{
  GByteArray *out = g_byte_array_new ();
  g_autoptr (GError) error = NULL;

  g_assert_true (img_proof_write (sheet, into_array, out, NULL, &error));
  g_assert_no_error (error);
  return out;
}

/* Colours that depend on every coordinate. */
static ImgPixels *
picture_of (int width, int height)
{
  guint8 *rgb = g_malloc ((gsize) width * (gsize) height * 3);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      for (int c = 0; c < 3; c++)
        rgb[((gsize) y * (gsize) width + (gsize) x) * 3 + (gsize) c] = (guint8) (x * (c + 3) + y * (7 - c));
  return img_pixels_new_take (width, height, (gsize) width * 3,
                              g_bytes_new_take (rgb, (gsize) width * (gsize) height * 3));
}

/* The body of the n-th chunk of that name (ISO/IEC 15948, 5.3); NULL when there is none. */
static const guint8 *
chunk (const GByteArray *png, const char *name, int nth, guint32 *length)
{
  gsize at = 8;

  while (at + 12 <= png->len)
    {
      const guint8 *p = png->data + at;

      *length = (guint32) p[0] << 24 | (guint32) p[1] << 16 | (guint32) p[2] << 8 | p[3];
      if (memcmp (p + 4, name, 4) == 0 && nth-- == 0)
        return p + 8;
      at += 12 + *length;
    }
  return NULL;
}

static GdkPixbuf *
loaded (const GByteArray *png)
{
  g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new ();
  g_autoptr (GError) error = NULL;

  g_assert_true (gdk_pixbuf_loader_write (loader, png->data, png->len, &error));
  g_assert_true (gdk_pixbuf_loader_close (loader, &error));
  g_assert_no_error (error);
  return g_object_ref (gdk_pixbuf_loader_get_pixbuf (loader));
}

static const guint8 *
pixel (GdkPixbuf *pixbuf, int x, int y)
{
  return gdk_pixbuf_read_pixels (pixbuf) + y * gdk_pixbuf_get_rowstride (pixbuf) + x * 3;
}

/* Where nothing is drawn the picture is there bit by bit, and white around it. */
static void
test_picture_untouched (void)
{
  g_autoptr (ImgPixels) picture = picture_of (61, 37);
  g_autoptr (ImgProof) sheet = img_proof_new (picture, 80, 50, 5, 3);
  g_autoptr (GByteArray) png = written (sheet);
  g_autoptr (GdkPixbuf) pixbuf = loaded (png);
  static const guint8 white[3] = { 255, 255, 255 };

  g_assert_cmpint (gdk_pixbuf_get_width (pixbuf), ==, 80);
  g_assert_cmpint (gdk_pixbuf_get_height (pixbuf), ==, 50);
  for (int y = 0; y < 50; y++)
    for (int x = 0; x < 80; x++)
      {
        gboolean in = x >= 5 && x < 66 && y >= 3 && y < 40;

        g_assert_cmpmem (pixel (pixbuf, x, y), 3, in ? img_pixels_row (picture, y - 3) + (x - 5) * 3 : white, 3);
      }
}

/* A white sheet of that size; what is drawn on it in black can be weighed. */
static ImgProof *
blank (int width, int height)
{
  static const guint8 white[3] = { 255, 255, 255 };
  g_autoptr (ImgPixels) one = img_pixels_new_take (1, 1, 3, g_bytes_new_static (white, 3));

  return img_proof_new (one, width, height, 0, 0);
}

static double
ink_of (ImgProof *sheet)
{
  g_autoptr (GByteArray) png = written (sheet);
  g_autoptr (GdkPixbuf) pixbuf = loaded (png);
  double sum = 0;

  for (int y = 0; y < gdk_pixbuf_get_height (pixbuf); y++)
    for (int x = 0; x < gdk_pixbuf_get_width (pixbuf); x++)
      sum += (255 - pixel (pixbuf, x, y)[0]) / 255.;
  return sum;
}

static const ImgInk BLACK = { 0, 0, 0, 255 };

/* A box covers its area to the hundredth of a pixel; a line its length × width and two half discs. */
static void
test_areas (void)
{
  static const ImgPoint slant[] = { { 30.25, 20.5 }, { 150.75, 90.25 } };
  static const ImgPoint bent[] = { { 20, 100 }, { 100, 100 }, { 100, 20 }, { 20, 100 } };
  g_autoptr (ImgProof) box = blank (200, 120), line = blank (200, 120), ring = blank (200, 120);
  g_autoptr (ImgProof) half = blank (200, 120);
  double length = hypot (slant[1].x - slant[0].x, slant[1].y - slant[0].y);
  ImgInk pale = { 0, 0, 0, 128 };

  img_proof_box (box, BLACK, 10.25, 7.5, 60.75, 9.25);
  g_assert_cmpfloat_with_epsilon (ink_of (box), 50.5 * 1.75, .3);
  img_proof_stroke (line, BLACK, slant, 2, 3);
  g_assert_cmpfloat_with_epsilon (ink_of (line), length * 6 + G_PI * 9, 6);
  /* Where it meets itself it is not darker. */
  img_proof_stroke (ring, BLACK, bent, 4, 2);
  img_proof_stroke (half, pale, bent, 4, 2);
  g_assert_cmpfloat_with_epsilon (ink_of (half), ink_of (ring) * 128 / 255, 3);
}

/* A line is crisp: outside its width and one pixel nothing is touched. */
static void
test_crisp (void)
{
  static const ImgPoint line[] = { { 20, 50 }, { 180, 50 } };
  g_autoptr (ImgProof) sheet = blank (200, 100);
  g_autoptr (GByteArray) png = NULL;
  g_autoptr (GdkPixbuf) pixbuf = NULL;

  img_proof_stroke (sheet, BLACK, line, 2, 2);
  png = written (sheet);
  pixbuf = loaded (png);
  for (int y = 0; y < 100; y++)
    g_assert_cmpint (pixel (pixbuf, 100, y)[0], ==, y >= 48 && y < 52 ? 0 : 255);
}

/* Shapes that lie partly or wholly outside, and a line of one point. */
static void
test_outside (void)
{
  static const ImgPoint far[] = { { -500, -20 }, { 700, 300 }, { 20, 20 } };
  static const guint8 letters[6] = { 255, 0, 255, 0, 255, 0 };
  g_autoptr (GBytes) mask = g_bytes_new_static (letters, 6);
  g_autoptr (ImgProof) sheet = blank (40, 30), dot = blank (40, 30);
  g_autoptr (GByteArray) png = NULL;

  img_proof_stroke (sheet, BLACK, far, 3, 5);
  img_proof_box (sheet, BLACK, -10, -10, 100, 3);
  img_proof_mask (sheet, BLACK, mask, 3, 2, -1, -1);
  img_proof_mask (sheet, BLACK, mask, 3, 2, 38, 29);
  img_proof_mask (sheet, BLACK, mask, 3, 2, 400, 290);
  png = written (sheet);
  g_assert_cmpuint (png->len, >, 60);
  img_proof_stroke (dot, BLACK, far + 2, 1, 4);
  g_assert_cmpfloat_with_epsilon (ink_of (dot), G_PI * 16, 1);
}

/* pHYs holds pixels a metre (11.3.5.3), iTXt keyword, flags, language and text (11.3.4.5). */
static void
test_chunks (void)
{
  static const guint8 fifty[9] = { 0, 0, 0xc3, 0x50, 0, 0, 0xc3, 0x50, 1 }; /* 50,000 a metre */
  static const char text[] = "Verdict\0\0\0de\0\0weiblich, 94 von 100 – ♀";
  g_autoptr (ImgProof) sheet = blank (20, 20), plain = blank (20, 20);
  g_autoptr (GByteArray) png = NULL, without = NULL;
  const guint8 *body;
  guint32 length;

  img_proof_set_scale (sheet, 50);
  img_proof_text (sheet, "Verdict", "de", "weiblich, 94 von 100 – ♀");
  img_proof_text (sheet, "Software", "", "this");
  png = written (sheet);
  body = chunk (png, "pHYs", 0, &length);
  g_assert_nonnull (body);
  g_assert_cmpmem (body, length, fifty, 9);
  body = chunk (png, "iTXt", 0, &length);
  g_assert_nonnull (body);
  g_assert_cmpmem (body, length, text, sizeof text - 1);
  g_assert_nonnull (chunk (png, "iTXt", 1, &length));
  g_assert_null (chunk (png, "iTXt", 2, &length));
  g_assert_null (chunk (png, "eXIf", 0, &length));
  img_proof_set_scale (plain, NAN);
  without = written (plain);
  g_assert_null (chunk (without, "pHYs", 0, &length));
}

static gboolean
full_disk (const void *bytes, gsize n, gpointer data, GError **error)
{
  guint *calls = data;

  if (++*calls < 3)
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE, "full");
  return FALSE;
}

static void
test_stopped (void)
{
  g_autoptr (ImgPixels) picture = picture_of (300, 300);
  g_autoptr (ImgProof) sheet = img_proof_new (picture, 300, 300, 0, 0);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GByteArray) out = g_byte_array_new ();
  g_autoptr (GError) full = NULL, cancelled = NULL;
  guint calls = 0;

  g_assert_false (img_proof_write (sheet, full_disk, &calls, NULL, &full));
  g_assert_error (full, G_IO_ERROR, G_IO_ERROR_NO_SPACE);
  g_assert_cmpuint (calls, ==, 3);
  g_cancellable_cancel (cancellable);
  g_assert_false (img_proof_write (sheet, into_array, out, cancellable, &cancelled));
  g_assert_error (cancelled, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

/* kB of memory of this process that no file holds. */
static long
anonymous (void)
{
  g_autofree char *status = NULL;

  g_assert_true (g_file_get_contents ("/proc/self/status", &status, NULL, NULL));
  return strtol (strstr (status, "RssAnon:") + 8, NULL, 10);
}

#ifdef __SANITIZE_ADDRESS__
#define ALLOWED_KB 32768 /* with the sanitizer's own notes, an eighth of what is read */
#else
#define ALLOWED_KB 4096
#endif

typedef struct
{
  long most;
  gsize bytes;
} Peak;

static gboolean
note_peak (const void *bytes, gsize n, gpointer data, GError **error)
{
  Peak *peak = data;

  peak->bytes += n;
  peak->most = MAX (peak->most, anonymous ());
  return TRUE;
}

/* A memory file of that size, as the decoder's is; here the same megabyte again and again. */
static guint8 *
mapped (gsize size)
{
  enum
  {
    STEP = 1 << 20
  };
  int fd = memfd_create ("pixels", MFD_CLOEXEC);
  guint8 *all = mmap (NULL, size + STEP, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);

  g_assert_true (fd >= 0 && all != MAP_FAILED && ftruncate (fd, STEP) == 0);
  for (gsize at = 0; at < size; at += STEP)
    g_assert_true (mmap (all + at, STEP, PROT_READ, MAP_SHARED | MAP_FIXED, fd, 0) != MAP_FAILED);
  close (fd);
  return all;
}

/* 48 megapixels take no more than a few rows of this process's own memory. */
static void
test_memory (void)
{
  enum
  {
    W = 8000,
    H = 6000
  };
  static const ImgPoint line[] = { { 100, 100 }, { 7900, 5900 } };
  gsize size = (gsize) W * H * 3;
  guint8 *pixels = mapped (size);
  g_autoptr (ImgPixels) picture = NULL;
  g_autoptr (ImgProof) sheet = NULL;
  g_autoptr (GError) error = NULL;
  Peak peak = { 0 };
  long before;

  picture = img_pixels_new_take (W, H, (gsize) W * 3, g_bytes_new_static (pixels, size));
  sheet = img_proof_new (picture, W, H + 400, 0, 0);
  img_proof_stroke (sheet, BLACK, line, 2, 3);
  before = anonymous ();
  g_assert_true (img_proof_write (sheet, note_peak, &peak, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (peak.bytes, >, 100);
  g_test_message ("%ld kB more than before, of %zu kB of pixels", peak.most - before, size / 1024);
  g_assert_cmpint (peak.most - before, <, ALLOWED_KB);
  munmap (pixels, size);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/imaging/proof/picture-untouched", test_picture_untouched);
  g_test_add_func ("/imaging/proof/areas", test_areas);
  g_test_add_func ("/imaging/proof/crisp", test_crisp);
  g_test_add_func ("/imaging/proof/outside", test_outside);
  g_test_add_func ("/imaging/proof/chunks", test_chunks);
  g_test_add_func ("/imaging/proof/stopped", test_stopped);
  g_test_add_func ("/imaging/proof/memory", test_memory);
  return g_test_run ();
}
