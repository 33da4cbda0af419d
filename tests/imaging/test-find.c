/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-find.c — the finder as a whole, quick part: the same answer for mirrored
 * and turned copies, the same bits twice, marks that cannot be, early stop,
 * the strip for display, edits.
 */
#include "imaging/img-find.h"
#include "imaging/img-strip-private.h"

#include "fit/recipe.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <math.h>
#include <string.h>

/* Turned by quarter turns after an optional mirror; the marks go along. */
static ImgPixels *
turned (const ImgPixels *in,
        const double *axis,
        int n,
        gboolean mirror,
        int quarters,
        double *out_axis)
{
  int w = quarters % 2 ? in->height : in->width, h = quarters % 2 ? in->width : in->height;
  guint8 *rgb = g_malloc ((gsize) 3 * w * h);

  for (int y = 0; y < in->height; y++)
    for (int x = 0; x < in->width; x++)
      {
        int mx = mirror ? in->width - 1 - x : x, tx = mx, ty = y;

        if (quarters == 1)
          tx = in->height - 1 - y, ty = mx;
        else if (quarters == 2)
          tx = in->width - 1 - mx, ty = in->height - 1 - y;
        else if (quarters == 3)
          tx = y, ty = in->width - 1 - mx;
        memcpy (rgb + 3 * ((gsize) w * ty + tx), img_pixels_row (in, y) + 3 * x, 3);
      }
  for (int i = 0; i < n; i++)
    {
      double x = axis[2 * i], y = axis[2 * i + 1];

      x = mirror ? in->width - 1 - x : x;
      out_axis[2 * i] = quarters == 1   ? in->height - 1 - y
                        : quarters == 2 ? in->width - 1 - x
                        : quarters == 3 ? y
                                        : x;
      out_axis[2 * i + 1] = quarters == 1   ? x
                            : quarters == 2 ? in->height - 1 - y
                            : quarters == 3 ? in->width - 1 - x
                                            : y;
    }
  return img_pixels_new_take (w, h, (gsize) 3 * w, g_bytes_new_take (rgb, (gsize) 3 * w * h));
}

static void
test_mirrored_and_turned (void)
{
  for (int i = 0; i < 6; i++)
    {
      Recipe recipe;
      g_autoptr (DemoDrawing) d = NULL;
      g_autoptr (ImgPixels) pixels = NULL;
      ImgFindResult a;

      recipe_choose (&recipe, RECIPE_TEST_SEED + 5000 + i, 1 + i % 3, FALSE, .01);
      recipe.options.abdomen_px = i == 5 ? 620 : 200;
      recipe.options.width = (int) (2.1 * recipe.options.abdomen_px) + 1;
      recipe.options.height = (int) (1.8 * recipe.options.abdomen_px);
      d = recipe_draw (&recipe);
      pixels = recipe_pixels (d);
      g_assert_cmpint (img_find_segments (pixels, recipe.axis, recipe.n_marks, NULL, &a, NULL), ==,
                       IMG_STRIP_OK);
      for (int t = 1; t < 8; t++)
        {
          double axis[6];
          g_autoptr (ImgPixels) copy =
            turned (pixels, recipe.axis, recipe.n_marks, t >= 4, t % 4, axis);
          ImgFindResult b;

          img_find_segments (copy, axis, recipe.n_marks, NULL, &b, NULL);
          g_assert_cmpint (a.segments.best, ==, b.segments.best);
          for (int k = 0; k < CORE_SEGMENT_COUNTS; k++)
            g_assert_cmpfloat (fabs (a.segments.posterior[k] - b.segments.posterior[k]), <, .08);
          g_assert_cmpint (a.segments.n_bounds, ==, b.segments.n_bounds);
          for (int j = 0; j < a.segments.n_bounds; j++)
            g_assert_cmpfloat (fabs (a.segments.bound[j].at - b.segments.bound[j].at), <, .02);
        }
    }
}

static void
test_same_bits (void)
{
  Recipe recipe;
  g_autoptr (DemoDrawing) d = NULL;
  g_autoptr (ImgPixels) pixels = NULL;
  ImgFindResult a, b;

  recipe_choose (&recipe, RECIPE_TEST_SEED + 6000, 3, FALSE, .01);
  d = recipe_draw (&recipe);
  pixels = recipe_pixels (d);
  img_find_segments (pixels, recipe.axis, recipe.n_marks, NULL, &a, NULL);
  img_find_segments (pixels, recipe.axis, recipe.n_marks, NULL, &b, NULL);
  g_assert_cmpmem (a.evidence.line, sizeof a.evidence.line, b.evidence.line,
                   sizeof b.evidence.line);
  g_assert_cmpmem (a.segments.posterior, sizeof a.segments.posterior, b.segments.posterior,
                   sizeof b.segments.posterior);
  g_assert_cmpmem (a.bound_x, sizeof a.bound_x, b.bound_x, sizeof b.bound_x);
}

/* Outline and lanes as read from a region that is filled so far off the axis; how much of it is. */
static double
read_within (const ImgPixels *pixels, const Recipe *recipe, double within, ImgStrip *strip)
{
  StripRegion region = { 0 };
  int filled = 0, n;

  memset (strip, 0, sizeof *strip);
  g_assert_cmpint (strip_axis (strip, pixels, recipe->axis, recipe->n_marks), ==, IMG_STRIP_OK);
  g_assert_true (strip_region_init (&region, pixels, strip, within, NULL, NULL));
  strip_outline (strip, &region);
  strip_lanes (strip, &region);
  n = region.width * region.height;
  for (int i = 0; i < n; i++)
    filled += region.rgb[3 * i] > 0.0f;
  strip_region_clear (&region);
  return (double) filled / n;
}

/* Only a corridor along the axis is read, and nothing that matters lies outside it. */
static void
test_corridor (void)
{
  static const double lengths[] = { 200, 700 };

  for (gsize k = 0; k < 2 * G_N_ELEMENTS (lengths); k++)
    {
      Recipe recipe;
      g_autoptr (DemoDrawing) d = NULL;
      g_autoptr (ImgPixels) pixels = NULL;
      g_autofree ImgStrip *a = g_new (ImgStrip, 1), *b = g_new (ImgStrip, 1);

      recipe_choose (&recipe, RECIPE_TEST_SEED + 6100 + k, 2, FALSE, .01);
      recipe.options.abdomen_px = lengths[k / 2];
      recipe.options.width = (int) (2.1 * lengths[k / 2]);
      recipe.options.height = (int) (1.8 * lengths[k / 2]);
      d = recipe_draw (&recipe);
      pixels = recipe_pixels (d);
      g_assert_cmpfloat (read_within (pixels, &recipe, STRIP_WITHIN, a), <,
                         read_within (pixels, &recipe, 9.0, b) - .05);
      g_assert_cmpmem (a->side, sizeof a->side, b->side, sizeof b->side);
      g_assert_cmpmem (a->raw, sizeof a->raw, b->raw, sizeof b->raw);
      g_assert_cmpmem (a->flat, sizeof a->flat, b->flat, sizeof b->flat);
    }
}

static gboolean
stop_at_once (gpointer data)
{
  (*(int *) data)++;
  return TRUE;
}

static void
test_bad_marks_and_stop (void)
{
  static const struct
  {
    double axis[12];
    int n;
    ImgStripStatus want;
  } rows[] = {
    { { 10, 10 }, 1, IMG_STRIP_BAD_MARKS },
    { { 10, 10, 10, 10 }, 2, IMG_STRIP_BAD_MARKS },
    { { 10, 10, NAN, 10 }, 2, IMG_STRIP_BAD_MARKS },
    { { 10, 10, INFINITY, 10 }, 2, IMG_STRIP_BAD_MARKS },
    { { 10, 10, 900, 10 }, 2, IMG_STRIP_OUTSIDE },
    { { -40, 10, 90, 10 }, 2, IMG_STRIP_OUTSIDE },
    { { 10, 10, 18, 10 }, 2, IMG_STRIP_TOO_SHORT },
    { { 10, 10, 80, 80, 80, 10, 10, 80 }, 4, IMG_STRIP_CROSSED },
    { { 10, 10, 60, 12, 100, 80, 30, 5, 90, 5 }, 5, IMG_STRIP_CROSSED },
    { { 10, 10, 100, 10, 50, 12 }, 3, IMG_STRIP_CROSSED }, /* doubles back */
    { { 10, 10, 40, 10, 70, 10, 100, 10 }, 4, IMG_STRIP_OK }, /* all in one line */
    { { 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6 }, 6, IMG_STRIP_BAD_MARKS },
    { { 0, 0, 119, 89 }, 2, IMG_STRIP_OK },
  };
  gsize size = 3 * 120 * 90;
  g_autoptr (ImgPixels) pixels =
    img_pixels_new_take (120, 90, 360, g_bytes_new_take (g_malloc0 (size), size));
  ImgFindResult r;
  ImgFindOptions options = { 0 };
  int asked = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_assert_cmpint (img_find_segments (pixels, rows[i].axis, rows[i].n, NULL, &r, NULL), ==,
                       rows[i].want);
      g_assert_false (r.usable); /* a black picture is none either */
      g_assert_cmpfloat (r.segments.posterior[0], >, .5);
    }
  options.should_stop = stop_at_once;
  options.stop_data = &asked;
  g_assert_cmpint (img_find_segments (pixels, rows[G_N_ELEMENTS (rows) - 1].axis, 2, &options, &r, NULL), ==,
                   IMG_STRIP_STOPPED);
  g_assert_cmpint (asked, >=, 1);
}

/* A picture of one pixel, and others too small for an axis: an answer, whatever the marks. */
static void
test_tiny_pictures (void)
{
  static const double axes[][4] = { { 0, 0, 0, 0 }, { 0, 0, 1, 1 }, { -1, 0, 1, 0 }, { 0, 0, 40, 40 } };

  for (int side = 1; side <= 16; side++)
    {
      gsize size = (gsize) 3 * side * side;
      g_autoptr (ImgPixels) pixels = img_pixels_new_take (
        side, side, (gsize) 3 * side, g_bytes_new_take (g_malloc0 (size), size));

      for (gsize i = 0; i < G_N_ELEMENTS (axes); i++)
        {
          ImgFindResult r;

          g_assert_cmpint (img_find_segments (pixels, axes[i], 2, NULL, &r, NULL), !=, IMG_STRIP_OK);
          g_assert_false (r.usable);
          g_assert_cmpfloat (r.segments.posterior[0], ==, 1);
        }
    }
}

/* Along the middle column of the shown strip the base's colour comes first. */
static void
test_render (void)
{
  guint8 *rgb = g_malloc0 (3 * 400 * 300);
  g_autoptr (ImgPixels) pixels = NULL;
  g_autoptr (ImgPixels) shown = NULL;
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);
  double axis[4] = { 60, 150, 340, 150 };

  for (int y = 110; y < 190; y++)
    for (int x = 60; x < 340; x++)
      {
        rgb[3 * (400 * y + x)] = (guint8) (x < 200 ? 220 : 40);
        rgb[3 * (400 * y + x) + 2] = (guint8) (x < 200 ? 40 : 220);
      }
  pixels = img_pixels_new_take (400, 300, 1200, g_bytes_new_take (rgb, 3 * 400 * 300));
  g_assert_cmpint (img_strip_build (pixels, axis, 2, strip, NULL, NULL), ==, IMG_STRIP_OK);
  g_assert_cmpfloat (fabs (strip->half_width * strip->axis_px - 40.0), <, 6.0);
  g_assert_cmpfloat (strip->outline, >, .4);
  shown = img_strip_render (pixels, strip, 300);
  g_assert_cmpint (shown->height, ==, 300);
  g_assert_cmpint (shown->width, >, 60);
  g_assert_cmpint (img_pixels_row (shown, 40)[3 * (shown->width / 2)], >, 180);
  g_assert_cmpint (img_pixels_row (shown, 260)[3 * (shown->width / 2) + 2], >, 180);
  g_assert_cmpint (img_pixels_row (shown, 150)[0], <, 30); /* beyond the outline: ground */
}

static void
test_rerun (void)
{
  Recipe recipe;
  g_autoptr (DemoDrawing) d = NULL;
  g_autoptr (ImgPixels) pixels = NULL;
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);
  ImgFindResult r;
  CoreSegmentEdits edits = { .count = 7 };

  recipe_choose (&recipe, RECIPE_TEST_SEED + 7000, 1, FALSE, .005);
  d = recipe_draw (&recipe);
  pixels = recipe_pixels (d);
  img_find_segments (pixels, recipe.axis, recipe.n_marks, NULL, &r, strip);
  g_assert_true (img_find_rerun (&r, strip, &edits));
  g_assert_cmpint (r.segments.best, ==, 7);
  g_assert_cmpint (r.segments.n_bounds, ==, 6);
  edits = (CoreSegmentEdits){ .n_fixed = 1, .fixed = { .4 } };
  g_assert_true (img_find_rerun (&r, strip, &edits));
  {
    gboolean there = FALSE;
    double x, y;

    for (int j = 0; j < r.segments.n_bounds; j++)
      if (r.segments.bound[j].fixed)
        {
          img_strip_point (strip, .4, &x, &y);
          g_assert_cmpfloat (hypot (x - r.bound_x[j], y - r.bound_y[j]), <, 1e-9);
          there = TRUE;
        }
    g_assert_true (there);
  }
}

static void
test_unusable (void)
{
  int refused = 0;

  for (int i = 0; i < 20; i++)
    {
      Recipe recipe;
      g_autoptr (DemoDrawing) d = NULL;
      g_autoptr (ImgPixels) pixels = NULL;
      ImgFindResult r;

      recipe_choose (&recipe, RECIPE_TEST_SEED + 8000 + i, 1 + i % 3, FALSE, .01);
      recipe.options.unusable = TRUE;
      recipe.options.abdomen_px = 150;
      recipe.options.width = 360;
      recipe.options.height = 300;
      d = recipe_draw (&recipe);
      pixels = recipe_pixels (d);
      img_find_segments (pixels, recipe.axis, recipe.n_marks, NULL, &r, NULL);
      refused += !r.usable;
    }
  g_test_message ("%d of 20 pictures far out of focus refused", refused);
  g_assert_cmpint (refused, >=, 19);
}

/* Three bytes a pixel, whatever the pixbuf has. */
static ImgPixels *
pixels_of (const GdkPixbuf *pixbuf)
{
  int w = gdk_pixbuf_get_width (pixbuf), h = gdk_pixbuf_get_height (pixbuf);
  int n = gdk_pixbuf_get_n_channels (pixbuf), stride = gdk_pixbuf_get_rowstride (pixbuf);
  const guint8 *in = gdk_pixbuf_read_pixels (pixbuf);
  guint8 *rgb = g_malloc ((gsize) 3 * (gsize) w * (gsize) h);

  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      memcpy (rgb + 3 * ((gsize) w * (gsize) y + (gsize) x),
              in + (gsize) stride * (gsize) y + n * x, 3);
  return img_pixels_new_take (w, h, (gsize) 3 * (gsize) w,
                              g_bytes_new_take (rgb, (gsize) 3 * (gsize) w * (gsize) h));
}

/* A real animal by another hand: a woodlouse of seven clear plates from a Debian package of
 * pictures, where that is installed (GPL-2, so no copy of it lies here). The axis runs from behind
 * its head to the seventh plate's end; the plates were marked by eye. */
#define WOODLOUSE "/usr/share/tuxpaint/stamps/animals/insects/Woodlouse.png"

static void
test_real_animal (void)
{
  static const double axis[4] = { 118, 78, 318, 212 };
  static const double seen[6][2] = { { 147, 97 },  { 180, 119 }, { 209, 138 },
                                     { 235, 155 }, { 262, 174 }, { 292, 194 } };
  g_autoptr (GdkPixbuf) file = NULL, flat = NULL;
  g_autoptr (ImgPixels) pixels = NULL;
  ImgFindResult r;

  if (!g_file_test (WOODLOUSE, G_FILE_TEST_EXISTS))
    {
      g_test_skip ("tuxpaint-stamps-default is not installed");
      return;
    }
  file = gdk_pixbuf_new_from_file (WOODLOUSE, NULL);
  g_assert_nonnull (file);
  g_assert_cmpint (gdk_pixbuf_get_width (file), ==, 400);
  flat = gdk_pixbuf_composite_color_simple (file, 400, 280, GDK_INTERP_NEAREST, 255, 8, 0xffffff,
                                            0xffffff);
  pixels = pixels_of (flat);
  g_assert_cmpint (img_find_segments (pixels, axis, 2, NULL, &r, NULL), ==, IMG_STRIP_OK);
  g_test_message ("seven plates: p %.2f; best %d", r.segments.posterior[4], r.segments.best);
  g_assert_true (r.usable);
  g_assert_cmpint (r.segments.best, ==, 7);
  for (int i = 0; i < 6; i++)
    g_assert_cmpfloat (hypot (r.bound_x[i] - seen[i][0], r.bound_y[i] - seen[i][1]), <, 7.2);
}

/* Ends of a seam lie where arc and tilt put them. */
static void
test_seam (void)
{
  g_autofree ImgStrip *strip = g_new0 (ImgStrip, 1);
  double from[2], to[2];

  for (int i = 0; i < IMG_STRIP_N; i++)
    {
      strip->x[i] = i + .5;
      strip->y[i] = 100;
      strip->ny[i] = 1;
      strip->side[0][i] = strip->side[1][i] = 30;
    }
  img_strip_across (strip, .5, from, to);
  g_assert_cmpfloat_with_epsilon (from[0], 128, 1e-9);
  g_assert_cmpfloat_with_epsilon (to[0], 128, 1e-9);
  g_assert_cmpfloat_with_epsilon (to[1], 130, 1e-9);
  strip->arc0 = 12;
  strip->tilt = 5;
  img_strip_across (strip, .5, from, to);
  g_assert_cmpfloat_with_epsilon (from[0], 128 + 12 - 5, 1e-9);
  g_assert_cmpfloat_with_epsilon (to[0], 128 + 12 + 5, 1e-9);
  g_assert_cmpfloat_with_epsilon (from[1], 70, 1e-9);
  strip->arc1 = 8; /* more toward the tip */
  img_strip_across (strip, .75, from, to);
  g_assert_cmpfloat_with_epsilon ((from[0] + to[0]) / 2, 192 + 12 + 2, 1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/mirrored-and-turned", test_mirrored_and_turned);
  g_test_add_func ("/find/same-bits", test_same_bits);
  g_test_add_func ("/find/corridor", test_corridor);
  g_test_add_func ("/find/seam", test_seam);
  g_test_add_func ("/find/bad-marks-and-stop", test_bad_marks_and_stop);
  g_test_add_func ("/find/tiny-pictures", test_tiny_pictures);
  g_test_add_func ("/find/render", test_render);
  g_test_add_func ("/find/rerun", test_rerun);
  g_test_add_func ("/find/unusable", test_unusable);
  g_test_add_func ("/find/real-animal", test_real_animal);
  return g_test_run ();
}
