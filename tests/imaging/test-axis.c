/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-axis.c — the proposed axis on drawn pictures, whose base and tip are known.
 *
 * `test-axis PICTURES` prints the table for so many pictures a level. */
#include "imaging/img-axis.h"
#include "imaging/img-find.h"

#include "fit/recipe.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int pictures = 3;

typedef struct
{
  int n, proposed, close, near, turned; /* pictures; ends within 10 % and 20 %; the wrong way round */
  double ms;
} Tally;

static double
off (const DemoPoint *end, const double *xy)
{
  return hypot (end->x - xy[0], end->y - xy[1]);
}

static void
propose (int level, gboolean empty, int i, Tally *tally)
{
  Recipe recipe;
  g_autoptr (DemoDrawing) d = NULL;
  g_autoptr (ImgPixels) pixels = NULL;
  ImgAxisGuess guess;
  gint64 began;
  double length, straight, turned;

  recipe_choose (&recipe, (empty ? RECIPE_EMPTY_SEED : RECIPE_TEST_SEED) + 70000 + 1000 * level + i,
                 level, empty, .01);
  d = recipe_draw (&recipe);
  pixels = recipe_pixels (d);
  began = g_get_monotonic_time ();
  tally->n++;
  if (img_axis_suggest (pixels, &guess, NULL, NULL))
    {
      const double *tip = guess.xy + 2 * (guess.n_marks - 1);

      length = hypot (d->truth.tip.x - d->truth.base.x, d->truth.tip.y - d->truth.base.y);
      straight = MAX (off (&d->truth.base, guess.xy), off (&d->truth.tip, tip)) / length;
      turned = MAX (off (&d->truth.base, tip), off (&d->truth.tip, guess.xy)) / length;
      tally->proposed++;
      tally->close += straight <= .1;
      tally->near += straight <= .2;
      tally->turned += turned <= .2;
      if (g_test_verbose ())
        g_print ("# level %d picture %d: %.3f turned %.3f, plates %.1f, %dx%d\n", level, i, straight,
                 turned, guess.plates, d->width, d->height);
    }
  else if (g_test_verbose ())
    g_print ("# level %d picture %d: none, %dx%d\n", level, i, d->width, d->height);
  tally->ms += (double) (g_get_monotonic_time () - began) / 1000;
}

static void
test_drawn (void)
{
  Tally all = { 0 };

  for (int level = 1; level <= 5; level++)
    {
      Tally tally = { 0 };

      for (int i = 0; i < pictures; i++)
        propose (level, FALSE, i, &tally);
      g_print ("# level %d: of %d proposed %d, within 10 %% %d, within 20 %% %d, wrong way round %d; "
               "%.0f ms each\n",
               level, tally.n, tally.proposed, tally.close, tally.near, tally.turned,
               tally.ms / tally.n);
      all.n += tally.n;
      all.proposed += tally.proposed;
      all.near += tally.near;
      all.turned += tally.turned;
    }
  g_assert_cmpint (3 * all.near, >=, all.n); /* measured: more than half of 30, and 2 of 30 turned */
  g_assert_cmpint (2 * all.turned, <=, all.near);
}

/* A count that hangs on an end is not called sure: along axes cut short, as a proposal may be. */
static void
test_unsure_ends (void)
{
  int named[2] = { 0 }, wrong[2] = { 0 };

  for (int i = 0; i < 12; i++)
    {
      g_autofree ImgFindResult *found = g_new (ImgFindResult, 1);
      g_autofree ImgStrip *strip = g_new (ImgStrip, 1);
      g_autoptr (DemoDrawing) d = NULL;
      g_autoptr (ImgPixels) pixels = NULL;
      double xy[4], sum = 0;
      Recipe recipe;

      recipe_choose (&recipe, RECIPE_TEST_SEED + 90000 + i, 1 + i % 3, FALSE, .01);
      d = recipe_draw (&recipe);
      pixels = recipe_pixels (d);
      for (int k = 0; k < 2; k++)
        {
          const double base = k == 0 ? d->truth.base.x : d->truth.base.y, tip = k == 0 ? d->truth.tip.x : d->truth.tip.y;

          xy[k] = base + .15 * (tip - base);
          xy[2 + k] = tip;
        }
      img_find_segments (pixels, xy, 2, NULL, found, strip);
      for (int mixed = 0; mixed < 2; mixed++)
        {
          if (mixed)
            img_find_unsure_ends (pixels, xy, 2, NULL, IMG_FIND_BASE | IMG_FIND_TIP, found, strip);
          named[mixed] += found->usable && found->segments.named;
          wrong[mixed] += found->usable && found->segments.named && found->segments.best != d->truth.count;
        }
      for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
        sum += found->segments.posterior[c];
      g_assert_cmpfloat_with_epsilon (sum, 1, 1e-9);
    }
  g_print ("# base 15 %% too late: %d named, %d of them wrong; with unsure ends %d, %d wrong\n", named[0], wrong[0],
           named[1], wrong[1]);
  g_assert_cmpint (wrong[0], >, 0);
  g_assert_cmpint (2 * wrong[1], <=, wrong[0]);
}

/* Where there is no animal most often nothing is proposed that plates are seen along. */
static void
test_empty (void)
{
  Tally tally = { 0 };

  for (int i = 0; i < 2 * pictures; i++)
    propose (1 + i % 5, TRUE, i, &tally);
  g_print ("# without an animal: of %d proposed %d\n", tally.n, tally.proposed);
  g_assert_cmpint (tally.proposed, <, tally.n);
}

/* Told to stop, it stops with nothing. */
static gboolean
stop_at_once (gpointer data)
{
  return TRUE;
}

static void
test_stopped (void)
{
  gsize size = 3 * 200 * 150;
  g_autoptr (ImgPixels) pixels =
    img_pixels_new_take (200, 150, 600, g_bytes_new_take (g_malloc0 (size), size));
  ImgAxisGuess guess;

  g_assert_false (img_axis_suggest (pixels, &guess, stop_at_once, NULL));
  g_assert_cmpint (guess.n_marks, ==, 0);
  g_assert_false (img_axis_suggest (pixels, &guess, NULL, NULL)); /* nothing but black */
  g_assert_cmpint (guess.n_marks, ==, 0);
}

/* A picture of one pixel and other small ones have an answer. */
static void
test_tiny (void)
{
  for (int side = 1; side < 24; side++)
    {
      gsize size = (gsize) 3 * side * side;
      g_autoptr (ImgPixels) pixels = img_pixels_new_take (
        side, side, (gsize) 3 * side, g_bytes_new_take (g_malloc0 (size), size));
      ImgAxisGuess guess;

      memset ((guint8 *) g_bytes_get_data (pixels->bytes, NULL) + size / 2, 200, 3);
      g_assert_false (img_axis_suggest (pixels, &guess, NULL, NULL));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  if (argc > 1)
    pictures = MAX (1, atoi (argv[1]));
  g_test_add_func ("/axis/drawn", test_drawn);
  g_test_add_func ("/axis/unsure-ends", test_unsure_ends);
  g_test_add_func ("/axis/empty", test_empty);
  g_test_add_func ("/axis/stopped", test_stopped);
  g_test_add_func ("/axis/tiny", test_tiny);
  return g_test_run ();
}
