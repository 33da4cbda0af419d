/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-measure.c — circle, scale, length and plumpness against plain geometry, and what is said of
 * their errors against many draws. */
#include "core/core-measure.h"

#include <glib.h>
#include <math.h>
#include <stdlib.h>

static CorePoint
on_circle (double x, double y, double r, double degrees)
{
  return (CorePoint){ x + r * cos (degrees * G_PI / 180), y + r * sin (degrees * G_PI / 180) };
}

/* Normal, from a fixed row of numbers. */
static double
draw (GRand *rand)
{
  return sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));
}

static void
test_circle (void)
{
  CorePoint p[12];
  CoreCircle circle;

  for (int i = 0; i < 12; i++)
    p[i] = on_circle (310, 240, 57.5, 30 * i);
  g_assert_cmpint (core_circle_fit (p, 12, 2, &circle), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (circle.x, 310, 1e-9);
  g_assert_cmpfloat_with_epsilon (circle.y, 240, 1e-9);
  g_assert_cmpfloat_with_epsilon (circle.r, 57.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (circle.arc, 330, 1e-6);
  g_assert_cmpfloat_with_epsilon (circle.flat, 1, 1e-9);
  p[4] = (CorePoint){ 340, 255 }; /* a slip of the hand */
  g_assert_cmpint (core_circle_fit (p, 12, 2, &circle), ==, CORE_MEASURE_OK);
  g_assert_cmpint (circle.left_out, ==, 1);
  g_assert_cmpfloat_with_epsilon (circle.r, 57.5, 1e-9);
}

static void
test_circle_refused (void)
{
  CorePoint p[8];
  CoreCircle circle;

  for (int i = 0; i < 8; i++)
    p[i] = on_circle (0, 0, 80, 15 * i); /* 105° */
  g_assert_cmpint (core_circle_fit (p, 8, 2, &circle), ==, CORE_MEASURE_SHORT_ARC);
  g_assert_cmpint (core_circle_fit (p, 4, 2, &circle), ==, CORE_MEASURE_TOO_FEW);
  for (int i = 0; i < 8; i++)
    p[i] = (CorePoint){ 10 * i, 20 * i };
  g_assert_cmpint (core_circle_fit (p, 8, 2, &circle), !=, CORE_MEASURE_OK);
  for (int i = 0; i < 8; i++)
    p[i] = (CorePoint){ 5, 5 };
  g_assert_cmpint (core_circle_fit (p, 8, 2, &circle), !=, CORE_MEASURE_OK);
  p[3].x = NAN;
  g_assert_cmpint (core_circle_fit (p, 8, 2, &circle), ==, CORE_MEASURE_NO_LENGTH);
}

/* A disc seen from the side: the short axis is what the tilt leaves of it. */
static void
test_tilted (void)
{
  CorePoint p[16];
  CoreCircle circle;
  CoreScale scale;

  for (int i = 0; i < 16; i++)
    p[i] = (CorePoint){ 100 * cos (i * G_PI / 8), 90 * sin (i * G_PI / 8) };
  g_assert_cmpint (core_circle_fit (p, 16, 5, &circle), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (circle.flat, .9, .01);
  g_assert_cmpint (core_scale_disc (&circle, 20, &scale), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat (scale.share_sd, >, .02); /* the tilt is in the error */
}

/* The sd that is named is that of many draws, for a whole circle and for a part of one. */
static void
test_circle_sd (void)
{
  static const double steps[] = { 30, 14 }; /* 330° and 154° */
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);

  for (gsize k = 0; k < G_N_ELEMENTS (steps); k++)
    {
      double sum = 0, square = 0, said = 0;
      int n = 400;

      for (int t = 0; t < n; t++)
        {
          CorePoint p[12];
          CoreCircle circle;

          for (int i = 0; i < 12; i++)
            {
              p[i] = on_circle (0, 0, 100, steps[k] * i);
              p[i].x += draw (rand);
              p[i].y += draw (rand);
            }
          g_assert_cmpint (core_circle_fit (p, 12, 1, &circle), ==, CORE_MEASURE_OK);
          sum += circle.r;
          square += circle.r * circle.r;
          said += circle.r_sd / n;
        }
      g_assert_cmpfloat (fabs (sum / n - 100), <, .5);
      g_assert_cmpfloat (sqrt (square / n - sum / n * sum / n) / said, >, .8);
      g_assert_cmpfloat (sqrt (square / n - sum / n * sum / n) / said, <, 1.25);
    }
}

static void
test_length (void)
{
  CorePoint bent[3] = { { 0, 0 }, { 300, 0 }, { 300, 400 } };
  CoreScale scale;
  CoreLength length;

  g_assert_cmpint (core_scale_ruler ((CorePoint){ 10, 10 }, (CorePoint){ 210, 10 }, 20, 2, &scale), ==,
                   CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (scale.mm_per_px, .1, 1e-12);
  g_assert_cmpfloat_with_epsilon (scale.share_sd, sqrt (2) * 2 / 200, 1e-12);
  g_assert_cmpint (core_length (bent, 3, 2, &scale, &length), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (length.mm, 70, 1e-9);
  /* Scale 1.41 %, marks 2 px × √(1 + 2 + 1) of 700, tilt 1.02 %: in quadrature. */
  g_assert_cmpfloat_with_epsilon (length.sd, 70 * sqrt (2e-4 + 16. / 490000 + .0102 * .0102), 1e-9);
  g_assert_cmpint (core_length (bent, 1, 2, &scale, &length), ==, CORE_MEASURE_TOO_FEW);
  bent[1] = bent[2] = bent[0];
  g_assert_cmpint (core_length (bent, 3, 2, &scale, &length), ==, CORE_MEASURE_NO_LENGTH);
  g_assert_cmpint (core_scale_ruler (bent[0], bent[0], 20, 2, &scale), ==, CORE_MEASURE_NO_LENGTH);
  g_assert_cmpint (core_scale_ruler (bent[0], (CorePoint){ 90, 0 }, 0, 2, &scale), ==,
                   CORE_MEASURE_NO_LENGTH);
}

static void
test_plumpness (void)
{
  CorePoint upper[5], lower[5];
  CorePlumpness plump;
  int last = 0;

  /* Rounder and rounder: the score never falls, each chance is one, and all five are reached. */
  for (double depth = .05; depth < .5; depth += .01)
    {
      double total = 0;

      for (int i = 0; i < 5; i++)
        {
          double half = 400 * depth / 2 * (1 - abs (i - 2) / 4.);

          upper[i] = (CorePoint){ 100. * i, 200 - half };
          lower[i] = (CorePoint){ 100. * i, 200 + half };
        }
      g_assert_cmpint (core_plumpness (upper, lower, 5, 400, 2, &plump), ==, CORE_MEASURE_OK);
      g_assert_cmpfloat_with_epsilon (plump.depth, depth, 1e-9);
      g_assert_cmpint (plump.score, >=, last);
      g_assert_cmpint (plump.score, <=, last + 1);
      last = plump.score;
      for (int i = 1; i <= 5; i++)
        total += plump.p[i];
      g_assert_cmpfloat_with_epsilon (total, 1, 1e-9);
    }
  g_assert_cmpint (last, ==, 5);
  g_assert_cmpint (core_plumpness (upper, lower, 2, 400, 2, &plump), ==, CORE_MEASURE_TOO_FEW);
  g_assert_cmpint (core_plumpness (upper, lower, 5, 0, 2, &plump), ==, CORE_MEASURE_NO_LENGTH);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/circle", test_circle);
  g_test_add_func ("/measure/circle-refused", test_circle_refused);
  g_test_add_func ("/measure/tilted", test_tilted);
  g_test_add_func ("/measure/circle-sd", test_circle_sd);
  g_test_add_func ("/measure/length", test_length);
  g_test_add_func ("/measure/plumpness", test_plumpness);
  return g_test_run ();
}
