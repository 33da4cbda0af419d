/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-demo-draw.c — the drawn pictures: the same twice, with a truth that lies
 * where it says, and a JPEG that carries date and orientation but no place.
 */
#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <libexif/exif-data.h>
#include <math.h>
#include <string.h>

static DemoDrawOptions
options_of (guint64 seed, DemoSubject subject, int level, int count)
{
  return (DemoDrawOptions){ .seed = seed,
                            .width = 320,
                            .height = 240,
                            .abdomen_px = 120,
                            .subject = subject,
                            .level = level,
                            .count = count };
}

static void
test_same_twice (void)
{
  for (int i = 0; i < DEMO_N_SUBJECTS; i++)
    {
      DemoDrawOptions o = options_of (100 + i, (DemoSubject) i, 1 + i % 5, 0);
      g_autoptr (DemoDrawing) a = demo_draw (&o);
      g_autoptr (DemoDrawing) b = demo_draw (&o);
      gsize size = (gsize) 3 * a->width * a->height;

      g_assert_cmpmem (a->rgb, size, b->rgb, size);
      o.seed++;
      {
        g_autoptr (DemoDrawing) c = demo_draw (&o);

        g_assert_true (memcmp (a->rgb, c->rgb, size) != 0);
      }
    }
}

static void
test_truth (void)
{
  for (int count = 4; count <= 10; count++)
    for (int level = 1; level <= 5; level++)
      {
        DemoDrawOptions o = options_of (7 * count + level, DEMO_SUBJECT_UNDERSIDE, level, count);
        g_autoptr (DemoDrawing) d = demo_draw (&o);
        const DemoTruth *t = &d->truth;
        double len = hypot (t->tip.x - t->base.x, t->tip.y - t->base.y), before = 0.0;

        g_assert_true (t->countable);
        g_assert_cmpint (t->count, ==, count);
        g_assert_cmpint (t->n_bounds, ==, count - 1);
        g_assert_cmpfloat_with_epsilon (len, 120.0, 1e-6);
        for (int i = 0; i < t->n_bounds; i++)
          {
            double ux = (t->tip.x - t->base.x) / len, uy = (t->tip.y - t->base.y) / len;
            double off = (t->bound[i].x - t->base.x) * ux + (t->bound[i].y - t->base.y) * uy;

            g_assert_cmpfloat (t->along[i], >, before + .01);
            g_assert_cmpfloat_with_epsilon (off / len, t->along[i], .03);
            before = t->along[i];
          }
        g_assert_cmpfloat (before, <, .99);
      }
}

/* On a clean picture with dark sutures, the axis is darker at them than between. */
static void
test_truth_is_in_the_pixels (void)
{
  int seen = 0, n = 0;

  for (int i = 0; i < 60; i++)
    {
      DemoDrawOptions o = options_of (4000 + i, DEMO_SUBJECT_UNDERSIDE, 1, 6);
      g_autoptr (DemoDrawing) d = demo_draw (&o);

      for (int j = 0; j < d->truth.n_bounds; j++)
        {
          double at = 0, away = 0, px = d->truth.bound[j].x, py = d->truth.bound[j].y;
          double ux = (d->truth.tip.x - d->truth.base.x) / 120.0;
          double uy = (d->truth.tip.y - d->truth.base.y) / 120.0;

          for (int k = -4; k <= 4; k++)
            {
              int x = (int) lround (px - uy * k), y = (int) lround (py + ux * k);
              int x2 = (int) lround (px - uy * k + 5 * ux),
                  y2 = (int) lround (py + ux * k + 5 * uy);

              at += d->rgb[3 * (d->width * y + x) + 1];
              away += d->rgb[3 * (d->width * y2 + x2) + 1];
            }
          seen += fabs (at - away) > 9 * 4;
          n++;
        }
    }
  g_assert_cmpint (seen, >, n / 2);
}

static void
test_wings (void)
{
  for (int i = 0; i < 10; i++)
    {
      DemoDrawOptions o = options_of (i, DEMO_SUBJECT_WINGS, 1, 0);
      const DemoTruth *t;
      double wing, body, shield;

      o.sex = i % 2 ? DEMO_SEX_MALE : DEMO_SEX_FEMALE;
      {
        g_autoptr (DemoDrawing) d = demo_draw (&o);

        t = &d->truth;
        g_assert_true (t->has_wings);
        g_assert_false (t->countable);
        wing = hypot (t->wing_tip.x - t->wing_base.x, t->wing_tip.y - t->wing_base.y);
        body = hypot (t->tip.x - t->wing_base.x, t->tip.y - t->wing_base.y);
        shield = hypot (t->pronotum_back.x - t->pronotum_front.x,
                        t->pronotum_back.y - t->pronotum_front.y);
        if (o.sex == DEMO_SEX_MALE)
          g_assert_cmpfloat (wing, >, body);
        else
          g_assert_cmpfloat (wing, <, body);
        g_assert_cmpfloat (wing / shield, >, 1.2);
        g_assert_cmpfloat (wing / shield, <, 3.6);
      }
    }
}

static void
test_empty (void)
{
  for (int s = DEMO_SUBJECT_LEAF; s < DEMO_N_SUBJECTS; s++)
    {
      DemoDrawOptions o = options_of (55, (DemoSubject) s, 2, 0);
      g_autoptr (DemoDrawing) d = demo_draw (&o);

      g_assert_false (d->truth.countable);
      g_assert_cmpint (d->truth.count, ==, 0);
      g_assert_cmpint (d->truth.n_bounds, ==, 0);
    }
}

/* The stored picture, turned as the Exif says, is the upright one again. */
static void
test_jpeg (void)
{
  DemoDrawOptions o = options_of (3, DEMO_SUBJECT_LEAF, 1, 0);
  g_autoptr (DemoDrawing) d = demo_draw (&o);

  for (int orientation = 1; orientation <= 8; orientation++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new ();
      g_autoptr (GdkPixbuf) upright = NULL;
      g_autoptr (GBytes) file = demo_jpeg_encode (d->rgb, d->width, d->height, 95, orientation,
                                                  "2026-04-30 18:20:00", &error);
      ExifData *exif;
      ExifEntry *entry;
      double sum = 0;

      g_assert_no_error (error);
      exif = exif_data_new_from_data (g_bytes_get_data (file, NULL),
                                      (unsigned int) g_bytes_get_size (file));
      entry = exif_content_get_entry (exif->ifd[EXIF_IFD_EXIF], EXIF_TAG_DATE_TIME_ORIGINAL);
      g_assert_nonnull (entry);
      g_assert_cmpstr ((const char *) entry->data, ==, "2026:04:30 18:20:00");
      g_assert_cmpuint (exif->ifd[EXIF_IFD_GPS]->count, ==, 0);
      exif_data_unref (exif);
      gdk_pixbuf_loader_write_bytes (loader, file, &error);
      g_assert_no_error (error);
      gdk_pixbuf_loader_close (loader, &error);
      g_assert_no_error (error);
      upright = gdk_pixbuf_apply_embedded_orientation (gdk_pixbuf_loader_get_pixbuf (loader));
      g_assert_cmpint (gdk_pixbuf_get_width (upright), ==, d->width);
      g_assert_cmpint (gdk_pixbuf_get_height (upright), ==, d->height);
      for (int y = 0; y < d->height; y++)
        for (int x = 0; x < 3 * d->width; x++)
          sum += abs (d->rgb[3 * d->width * y + x] -
                      gdk_pixbuf_get_pixels (upright)[gdk_pixbuf_get_rowstride (upright) * y + x]);
      g_assert_cmpfloat (sum / (3.0 * d->width * d->height), <, 6.0);
    }
}

static void
test_large (void)
{
  DemoDrawOptions o = { .seed = 1, .width = 2048, .height = 1536, .level = 2 };
  g_autoptr (DemoDrawing) d = demo_draw (&o);

  g_assert_cmpint (d->width, ==, 2048);
  g_assert_cmpint (d->height, ==, 1536);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/same-twice", test_same_twice);
  g_test_add_func ("/draw/truth", test_truth);
  g_test_add_func ("/draw/truth-in-pixels", test_truth_is_in_the_pixels);
  g_test_add_func ("/draw/wings", test_wings);
  g_test_add_func ("/draw/empty", test_empty);
  g_test_add_func ("/draw/jpeg", test_jpeg);
  g_test_add_func ("/draw/large", test_large);
  return g_test_run ();
}
