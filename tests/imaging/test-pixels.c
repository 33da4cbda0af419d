/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-pixels.c — turning, halving, thumbnails, measures. */
#include "fixture.h"
#include "imaging/img-decode.h"
#include "imaging/img-orient.h"
#include "imaging/img-quality.h"
#include "imaging/img-scale.h"
#include "imaging/img-thumb.h"
#include "imaging/img-tile.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

/* A picture in which every pixel is its own place: red x, green y. */
static ImgPixels *
numbered (int width, int height, gsize stride)
{
  guint8 *data = g_malloc0 (stride * (gsize) height);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        data[(gsize) y * stride + (gsize) x * 3] = (guint8) x;
        data[(gsize) y * stride + (gsize) x * 3 + 1] = (guint8) y;
      }
  return img_pixels_new_take (width, height, stride,
                              g_bytes_new_take (data, stride * (gsize) height));
}

/* Where the EXIF standard says that row 0 and column 0 of the stored picture lie. */
typedef enum
{
  TOP,
  RIGHT,
  BOTTOM,
  LEFT,
} Side;

static const struct
{
  Side row_0, column_0;
} sides[9] = {
  { 0 },         { TOP, LEFT },  { TOP, RIGHT },    { BOTTOM, RIGHT }, { BOTTOM, LEFT },
  { LEFT, TOP }, { RIGHT, TOP }, { RIGHT, BOTTOM }, { LEFT, BOTTOM }
};

/* Going `n` away from a side of an upright picture of that size. */
static void
go_from (Side side, int n, int width, int height, int *x, int *y)
{
  if (side == TOP || side == BOTTOM)
    *y = side == TOP ? n : height - 1 - n;
  else
    *x = side == LEFT ? n : width - 1 - n;
}

static void
test_orient (gconstpointer data)
{
  int o = GPOINTER_TO_INT (data), width = 37, height = 70;
  g_autoptr (ImgPixels) stored = numbered (width, height, 120);
  g_autoptr (ImgPixels) upright = img_orient_pixels (stored, o);
  g_autoptr (ImgPixels) back = img_orient_pixels (upright, img_orient_inverse (o));
  int w, h;

  img_orient_size (o, width, height, &w, &h);
  g_assert_cmpint (upright->width, ==, w);
  g_assert_cmpint (upright->height, ==, h);
  g_assert_cmpint (w, ==, o < 5 ? width : height);
  for (int row = 0; row < height; row++)
    {
      for (int column = 0; column < width; column++)
        {
          double px = column + 0.5, py = row + 0.5;
          int x = -1, y = -1;

          go_from (sides[o].row_0, row, w, h, &x, &y);
          go_from (sides[o].column_0, column, w, h, &x, &y);
          g_assert_cmpint (img_pixels_row (upright, y)[x * 3], ==, column);
          g_assert_cmpint (img_pixels_row (upright, y)[x * 3 + 1], ==, row);
          img_orient_point (o, width, height, &px, &py);
          g_assert_cmpfloat (px, ==, x + 0.5);
          g_assert_cmpfloat (py, ==, y + 0.5);
        }
      g_assert_cmpmem (img_pixels_row (back, row), 37 * 3, img_pixels_row (stored, row), 37 * 3);
    }
}

/* Written band by band, as the decoder does, it is the same picture. */
static void
test_orient_bands (void)
{
  g_autoptr (ImgPixels) stored = numbered (50, 33, 150);

  for (int o = 1; o <= 8; o++)
    {
      g_autoptr (ImgPixels) whole = img_orient_pixels (stored, o);
      guint8 band[7 * 50 * 3];

      for (int y = 0; y < whole->height; y += 7)
        {
          int n = MIN (7, whole->height - y);

          img_orient_rows (img_pixels_row (stored, 0), stored->stride, 50, 33, o, y, n, band,
                           (gsize) whole->width * 3);
          for (int i = 0; i < n; i++)
            g_assert_cmpmem (band + i * whole->width * 3, (gsize) whole->width * 3,
                             img_pixels_row (whole, y + i), (gsize) whole->width * 3);
        }
    }
}

static void
test_orient_invalid (void)
{
  static const int bad[] = { 0, 9, -1, 1000 };

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      double x = 3, y = 4;

      g_assert_false (img_orient_is_valid (bad[i]));
      g_assert_false (img_orient_swaps_sides (bad[i]));
      img_orient_point (bad[i], 10, 10, &x, &y);
      g_assert_true (x == 3 && y == 4);
    }
}

static void
test_pixels_bounds (void)
{
  static const struct
  {
    int width, height;
    gsize stride, size;
    gboolean good;
  } cases[] = {
    { 2, 2, 6, 12, TRUE },
    { 2, 2, 8, 14, TRUE }, /* the last row needs no padding */
    { 2, 2, 6, 11, FALSE },
    { 2, 2, 5, 100, FALSE },
    { 0, 2, 6, 12, FALSE },
    { 2, -1, 6, 12, FALSE },
    { G_MAXINT, G_MAXINT, G_MAXSIZE, 12, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (ImgPixels) pixels =
        img_pixels_new_take (cases[i].width, cases[i].height, cases[i].stride,
                             g_bytes_new_take (g_malloc0 (cases[i].size), cases[i].size));

      g_assert_cmpint (pixels != NULL, ==, cases[i].good);
    }
}

static void
test_halve (void)
{
  /* Means by hand: (10+20+30+41+2)/4 = 25.75 → 25; right column (50+60)/2 = 55; bottom row
   * (7+8)/2 = 7.5 → 8; corner 9. */
  static const guint8 grey[3][3] = { { 10, 20, 50 }, { 30, 41, 60 }, { 7, 8, 9 } };
  guint8 data[27];
  g_autoptr (ImgPixels) pixels = NULL, half = NULL;

  for (int i = 0; i < 9; i++)
    memset (data + i * 3, grey[i / 3][i % 3], 3);
  pixels = img_pixels_new_take (3, 3, 9, g_bytes_new (data, sizeof data));
  half = img_scale_halve (pixels);
  g_assert_cmpint (half->width, ==, 2);
  g_assert_cmpint (half->height, ==, 2);
  g_assert_cmpmem (img_pixels_row (half, 0), 6, "\x19\x19\x19\x37\x37\x37", 6);
  g_assert_cmpmem (img_pixels_row (half, 1), 6, "\x08\x08\x08\x09\x09\x09", 6);
}

static gboolean
always (gpointer data)
{
  return TRUE;
}

static void
test_pyramid (void)
{
  gsize stride = 4000 * 3;
  g_autoptr (ImgPixels) pixels = img_pixels_new_take (
    4000, 3000, stride,
    g_bytes_new_take (memset (g_malloc (stride * 3000), 77, stride * 3000), stride * 3000));
  g_autoptr (ImgPyramid) pyramid = img_pyramid_new (pixels, NULL, NULL);
  g_autoptr (ImgPixels) fit = NULL;
  int factor;

  g_assert_cmpint (pyramid->n_levels, ==, 3);
  g_assert_cmpint (pyramid->levels[2]->width, ==, 1000);
  g_assert_cmpint (pyramid->levels[2]->height, ==, 750);
  g_assert_true (pyramid->levels[0]->bytes == pixels->bytes);
  /* One colour stays that colour. */
  g_assert_cmpint (img_pixels_row (pyramid->levels[2], 749)[2999], ==, 77);

  g_assert_cmpint (img_pyramid_level_for_zoom (pyramid, 2.0), ==, 0);
  g_assert_cmpint (img_pyramid_level_for_zoom (pyramid, 0.6), ==, 0);
  g_assert_cmpint (img_pyramid_level_for_zoom (pyramid, 0.5), ==, 1);
  g_assert_cmpint (img_pyramid_level_for_zoom (pyramid, 0.3), ==, 1);
  g_assert_cmpint (img_pyramid_level_for_zoom (pyramid, 0.01), ==, 2);

  fit = img_scale_to_fit (pixels, 512, &factor);
  g_assert_cmpint (factor, ==, 8);
  g_assert_cmpint (fit->width, ==, 500);
  g_assert_null (img_pyramid_new (pixels, always, NULL));
}

#define HASH "00112233445566778899aabbccddeeff"

static void
test_thumb (void)
{
  char *dir = fixture_dir ();
  g_autofree char *cache = g_build_filename (dir, "cache", "small", NULL);
  FixtureExif exif = { .orientation = 8, .taken = "2026:05:17 21:04:33" };
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (640, 480);
  g_autoptr (GBytes) bytes = fixture_jpeg (pixbuf, &exif);
  g_autofree char *photo = fixture_write (dir, "photo.jpg", bytes), *made = NULL, *again = NULL;
  g_autoptr (ImgPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  struct stat st;
  char corners[5];

  made = img_thumb_ensure (cache, HASH, photo, 160, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_str_has_suffix (made, "/cache/small/" HASH "-160.jpg"));
  g_assert_cmpint (g_stat (made, &st), ==, 0);
  g_assert_cmpint (st.st_mode & 0777, ==, 0600);
  picture = img_decode (made, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (picture->pixels->width, ==, 120);
  g_assert_cmpint (picture->pixels->height, ==, 160);
  g_assert_false (picture->has_taken);
  g_assert_cmpint (picture->orientation, ==, 1);
  fixture_corners (picture->pixels, corners);
  g_assert_cmpstr (corners, ==, "GYRB"); /* 8: a quarter turn counter-clockwise */

  /* Once there, the photo itself is not needed. */
  again = img_thumb_ensure (cache, HASH, "/nonexistent", 160, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (again, ==, made);
  fixture_done (dir);
}

/* Half a thumbnail (a full disk, a power cut) is made anew. */
static void
test_thumb_broken (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
  g_autoptr (GBytes) bytes = fixture_png (pixbuf, NULL, FALSE);
  g_autofree char *photo = fixture_write (dir, "photo.png", bytes);
  g_autofree char *name = img_thumb_path (dir, HASH, 32), *made = NULL;
  g_autoptr (GError) error = NULL;

  g_file_set_contents (name, "\xff\xd8\xff\xe0 broken", 11, &error);
  g_assert_no_error (error);
  g_assert_false (img_thumb_is_whole (name));
  made = img_thumb_ensure (dir, HASH, photo, 32, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (img_thumb_is_whole (made));
  fixture_done (dir);
}

static void
test_thumb_refused (void)
{
  static const char *const bad[] = { "", "../../../etc/passwd", "00112233445566778899AABB", "short",
                                     "00112233445566778899aabbccddee/f" };
  char *dir = fixture_dir ();
  g_autofree char *in_the_way = NULL;
  g_autoptr (GBytes) text = g_bytes_new_static ("no picture", 10);
  g_autofree char *path = fixture_write (dir, "text.jpg", text);
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_null (img_thumb_path (dir, bad[i], 100));
  g_assert_null (img_thumb_path (dir, HASH, 15));
  g_assert_null (img_thumb_path (dir, HASH, 4000));
  g_assert_null (img_thumb_ensure (dir, "../x", path, 100, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT);
  g_clear_error (&error);
  g_assert_null (img_thumb_ensure (dir, HASH, path, 100, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_NOT_A_PICTURE);
  g_clear_error (&error);
  /* A file where the folder should be. */
  in_the_way = g_build_filename (path, "cache", NULL);
  {
    g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
    g_autoptr (GBytes) bytes = fixture_png (pixbuf, NULL, FALSE);
    g_autofree char *good = fixture_write (dir, "good.png", bytes);

    g_assert_null (img_thumb_ensure (in_the_way, HASH, good, 100, NULL, &error));
    g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_DIRECTORY);
  }
  fixture_done (dir);
}

/* Stripes 24 pixels wide across a line along x, blurred by a Gaussian of sd `blur` (0: none), from
 * level `low` to `high`. The blurred edge is the normal distribution function. */
static ImgPixels *
stripes (double blur, double low, double high)
{
  int width = 400, height = 100;
  guint8 *data = g_malloc ((gsize) width * (gsize) height * 3);

  for (int x = 0; x < width; x++)
    {
      double level = 0;

      for (int edge = 24; edge < width; edge += 24)
        {
          double from_edge = x + 0.5 - edge;
          double step = blur > 0 ? 0.5 * erfc (-from_edge / (blur * G_SQRT2)) : from_edge > 0;

          level += edge / 24 % 2 == 1 ? step : -step;
        }
      for (int y = 0; y < height; y++)
        memset (data + ((gsize) y * (gsize) width + (gsize) x) * 3,
                (int) (low + (high - low) * level + 0.5), 3);
    }
  return img_pixels_new_take (width, height, (gsize) width * 3,
                              g_bytes_new_take (data, (gsize) width * (gsize) height * 3));
}

static const ImgPoint along_x[2] = { { 10.5, 50 }, { 390.5, 50 } };

static ImgQuality
measured (const ImgPixels *pixels)
{
  ImgQuality q;

  g_assert_true (img_quality_measure (pixels, along_x, 2, 30, &q));
  return q;
}

/* The steepest slope of an edge blurred by sd s is 1/(s √(2π)) of its height: 0.399 ÷ s, less the
 * rounding over one pixel. */
static void
test_sharpness (void)
{
  static const double blurs[] = { 1, 2, 3 };
  double last = 1.01;

  for (gsize i = 0; i < G_N_ELEMENTS (blurs); i++)
    {
      g_autoptr (ImgPixels) pixels = stripes (blurs[i], 60, 180);
      g_autoptr (ImgPixels) faint = stripes (blurs[i], 100, 140);
      ImgQuality q = measured (pixels), f = measured (faint);

      g_assert_cmpfloat (q.sharpness, <, last);
      g_assert_cmpfloat_with_epsilon (q.sharpness, 0.399 / blurs[i], 0.2 * 0.399 / blurs[i]);
      /* Of the lens, not of the animal: a third of the contrast gives the same figure. */
      g_assert_cmpfloat_with_epsilon (f.sharpness, q.sharpness, 0.2 * q.sharpness);
      last = q.sharpness;
    }
}

static void
test_contrast_and_glare (void)
{
  g_autoptr (ImgPixels) pixels = stripes (1, 60, 180);
  g_autoptr (ImgPixels) plain = stripes (1, 90, 90);
  g_autoptr (ImgPixels) blown = stripes (0, 60, 255);
  ImgQuality q = measured (pixels), p = measured (plain), b = measured (blown);

  g_assert_cmpfloat_with_epsilon (q.contrast, 120.0 / 255, 0.02);
  g_assert_cmpfloat_with_epsilon (q.length_px, 380, 1e-9);
  g_assert_cmpfloat (q.glare, ==, 0);
  g_assert_cmpfloat (p.contrast, ==, 0);
  g_assert_cmpfloat (p.sharpness, ==, 0);
  /* Pixels 10…390: 16 stripes, every other one white. Counted by hand: 24…47, 72…95, … 360…383 are
   * 8 × 24 = 192 of 381 samples. */
  g_assert_cmpfloat_with_epsilon (b.glare, 192.0 / 381, 0.003);
}

/* Turned or mirrored, the same animal gives the same figures. */
static void
test_quality_turned (void)
{
  g_autoptr (ImgPixels) pixels = stripes (1.5, 60, 180);
  ImgQuality q = measured (pixels);

  for (int o = 2; o <= 8; o++)
    {
      g_autoptr (ImgPixels) turned = img_orient_pixels (pixels, o);
      ImgPoint line[2] = { along_x[0], along_x[1] };
      ImgQuality t;

      for (int i = 0; i < 2; i++)
        img_orient_point (o, 400, 100, &line[i].x, &line[i].y);
      g_assert_true (img_quality_measure (turned, line, 2, 30, &t));
      g_assert_cmpfloat_with_epsilon (t.sharpness, q.sharpness, 0.01);
      g_assert_cmpfloat_with_epsilon (t.contrast, q.contrast, 0.01);
    }
}

static void
test_quality_refused (void)
{
  g_autoptr (ImgPixels) pixels = stripes (1, 60, 180);
  ImgPoint same[2] = { { 5, 5 }, { 5, 5 } }, outside[2] = { { -50, -9 }, { -20, -9 } };
  ImgPoint nan[2] = { { NAN, 5 }, { 5, 5 } }, far[2] = { { 5, 5 }, { 1e300, 5 } };
  ImgPoint many[17] = { { 1, 1 } };
  ImgQuality q;

  g_assert_false (img_quality_measure (pixels, same, 2, 10, &q));
  g_assert_false (img_quality_measure (pixels, outside, 2, 10, &q));
  g_assert_false (img_quality_measure (pixels, nan, 2, 10, &q));
  g_assert_false (img_quality_measure (pixels, along_x, 1, 10, &q));
  g_assert_false (img_quality_measure (pixels, along_x, 2, -1, &q));
  g_assert_false (img_quality_measure (pixels, along_x, 2, INFINITY, &q));
  g_assert_false (img_quality_measure (pixels, many, 17, 10, &q));
  /* Absurdly long, yet it begins inside: what lies inside is measured. */
  g_assert_true (img_quality_measure (pixels, far, 2, 10, &q));
  g_assert_true (isfinite (q.sharpness) && isfinite (q.contrast));
}

/* ---- tiles ---- */

/* Every pixel of a level is in exactly one tile, at its place, with its neighbours round it. */
static void
test_tiles (void)
{
  g_autoptr (ImgPixels) pixels = numbered (IMG_TILE_SIDE * 2 + 7, IMG_TILE_SIDE + 1, (IMG_TILE_SIDE * 2 + 7) * 3);
  g_autoptr (ImgPyramid) pyramid = img_pyramid_new (pixels, NULL, NULL);
  g_autofree guint32 *words = g_new (guint32, (IMG_TILE_SIDE + 2) * (IMG_TILE_SIDE + 2));
  gsize covered = 0;
  ImgTileArea area;

  for (int row = 0; row < 2; row++)
    for (int column = 0; column < 3; column++)
      {
        ImgTile tile = { 0, column, row };

        g_assert_true (img_tile_area (pyramid, tile, &area));
        covered += (gsize) area.width * (gsize) area.height;
        img_tile_fill (pyramid, tile, words, 4 * (gsize) (area.width + 2));
        for (int y = -1; y <= area.height; y++)
          for (int x = -1; x <= area.width; x++)
            {
              int px = CLAMP (area.x + x, 0, pixels->width - 1), py = CLAMP (area.y + y, 0, pixels->height - 1);
              guint32 word = words[(y + 1) * (area.width + 2) + x + 1];

              g_assert_cmphex (word, ==, 0xff000000u | (guint32) (px & 255) << 16 | (guint32) (py & 255) << 8);
            }
      }
  g_assert_cmpuint (covered, ==, (gsize) pixels->width * (gsize) pixels->height);
  g_assert_false (img_tile_area (pyramid, (ImgTile){ 0, 3, 0 }, &area));
  g_assert_false (img_tile_area (pyramid, (ImgTile){ 0, 0, 2 }, &area));
  g_assert_false (img_tile_area (pyramid, (ImgTile){ 0, -1, 0 }, &area));
  g_assert_false (img_tile_area (pyramid, (ImgTile){ pyramid->n_levels, 0, 0 }, &area));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (int o = 1; o <= 8; o++)
    {
      g_autofree char *path = g_strdup_printf ("/imaging/orient/%d", o);

      g_test_add_data_func (path, GINT_TO_POINTER (o), test_orient);
    }
  g_test_add_func ("/imaging/orient/bands", test_orient_bands);
  g_test_add_func ("/imaging/orient/invalid", test_orient_invalid);
  g_test_add_func ("/imaging/pixels/bounds", test_pixels_bounds);
  g_test_add_func ("/imaging/scale/halve", test_halve);
  g_test_add_func ("/imaging/scale/pyramid", test_pyramid);
  g_test_add_func ("/imaging/tiles", test_tiles);
  g_test_add_func ("/imaging/thumb/made", test_thumb);
  g_test_add_func ("/imaging/thumb/broken", test_thumb_broken);
  g_test_add_func ("/imaging/thumb/refused", test_thumb_refused);
  g_test_add_func ("/imaging/quality/sharpness", test_sharpness);
  g_test_add_func ("/imaging/quality/contrast-and-glare", test_contrast_and_glare);
  g_test_add_func ("/imaging/quality/turned", test_quality_turned);
  g_test_add_func ("/imaging/quality/refused", test_quality_refused);
  return g_test_run ();
}
