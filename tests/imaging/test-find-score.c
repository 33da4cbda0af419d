/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-find-score.c — how good the finder is on drawn pictures whose seeds no
 * constant was fitted on. Levels 1–3 are asserted, 4–5 printed, with the simplest
 * thing that one could do (peaks on one line) beside; pictures without an animal;
 * pictures that cannot be used; axis ends badly placed. With MANTIDARY_FULL_SCORE
 * set, 2,000 pictures instead of 280. Intervals are 95 % bootstraps over pictures.
 */
#include "imaging/img-find.h"

#include "demo/demo-rand.h"
#include "fit/recipe.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define F1_NEAR 0.03 /* a boundary is found within 3 % of the axis */
#define MOST 2000
#define RESAMPLES 400

/* What one picture taught. */
typedef struct
{
  int level;
  gboolean right, peaks_right, named, usable;
  double p, brier;       /* of the likeliest answer; sum over answers of (p - truth)² */
  int hit, found, there; /* boundaries, the count as the finder names it */
  int given_hit;         /* of `there`, the true count given */
} Look;

typedef struct
{
  double right, peaks_right, sure, sure_right, f1, given, ece, brier;
} Score;

/* One line along the axis, one lane wide: its bumps beyond half a robust sd, the
 * stronger polarity, at least 3 % of the axis apart; plates = bumps + 1. These
 * three settings (half, 3 %, smoothing 3 samples) were the best of 63 on other seeds. */
static int
count_peaks (const ImgStrip *strip)
{
  float row[IMG_STRIP_N], slow[IMG_STRIP_N], sd;
  int count[2] = { 0, 0 };
  double strength[2] = { 0, 0 };

  for (int i = 0; i < IMG_STRIP_N; i++)
    row[i] = strip->raw[0][IMG_STRIP_LANES / 2][i];
  for (int pass = 0; pass < 2; pass++)
    {
      double s = pass == 0 ? 3.0 : .075 * IMG_STRIP_N;
      float out[IMG_STRIP_N];

      for (int i = 0; i < IMG_STRIP_N; i++)
        {
          double sum = 0, all = 0;

          for (int j = 0; j < IMG_STRIP_N; j++)
            {
              double w = exp (-.5 * (i - j) * (i - j) / (s * s));

              sum += w * (double) row[j];
              all += w;
            }
          out[i] = (float) (sum / all);
        }
      memcpy (pass == 0 ? row : slow, out, sizeof out);
    }
  for (int i = 0; i < IMG_STRIP_N; i++)
    row[i] -= slow[i];
  {
    double sum = 0;

    for (int i = 0; i < IMG_STRIP_N; i++)
      sum += fabs ((double) row[i]);
    sd = (float) (1.25 * sum / IMG_STRIP_N);
  }
  for (int sign = 0; sign < 2; sign++)
    for (int i = 4, last = -100; i < IMG_STRIP_N - 4; i++)
      {
        float v = sign ? -row[i] : row[i], before = sign ? -row[i - 1] : row[i - 1];
        float after = sign ? -row[i + 1] : row[i + 1];

        if (v > .5f * sd && v >= before && v > after && i - last > .03 * IMG_STRIP_N)
          {
            count[sign]++;
            strength[sign] += (double) v;
            last = i;
          }
      }
  return 1 + count[strength[1] > strength[0]];
}

static int
near_bounds (const DemoTruth *t, const double *x, const double *y, int n, double length)
{
  int hit = 0;

  for (int i = 0; i < t->n_bounds; i++)
    for (int j = 0; j < n; j++)
      if (hypot (t->bound[i].x - x[j], t->bound[i].y - y[j]) < F1_NEAR * length)
        {
          hit++;
          break;
        }
  return hit;
}

static double
sum_of (const double *p)
{
  double sum = 0;

  for (int i = 0; i < CORE_SEGMENT_COUNTS; i++)
    sum += p[i];
  return sum;
}

static void
look_result (Look *look, const DemoTruth *t, const ImgStrip *strip, const ImgFindResult *r)
{
  CoreSegmentBound bound[CORE_SEGMENT_MAX];

  look->right = r->segments.best == t->count;
  look->peaks_right = count_peaks (strip) == t->count;
  look->named = r->segments.named;
  look->p = r->segments.best_p;
  for (int k = 0; k < CORE_SEGMENT_COUNTS; k++)
    {
      double off = r->segments.posterior[k] - (k == core_segment_index (t->count));

      look->brier += off * off;
    }
  look->hit = near_bounds (t, r->bound_x, r->bound_y, r->segments.n_bounds, r->length_px);
  look->found = r->segments.n_bounds;
  look->there = t->n_bounds;
  if (core_segment_given (&r->evidence, NULL, t->count, bound))
    for (int i = 0; i < t->n_bounds; i++)
      {
        double x, y;

        img_strip_point (strip, bound[i].at, &x, &y);
        look->given_hit += near_bounds (t, &x, &y, 1, r->length_px);
      }
}

/* Moves the ends along the axis by `off` of its length, either way as the seed says. */
static void
misplace (Recipe *recipe, const DemoTruth *t, double off)
{
  DemoRand rand;
  double dx = t->tip.x - t->base.x, dy = t->tip.y - t->base.y;

  demo_rand_init (&rand, recipe->options.seed, 81);
  for (int end = 0; end < 2; end++)
    {
      double *xy = recipe->axis + (end ? 2 * recipe->n_marks - 2 : 0);
      double by = demo_rand_chance (&rand, .5) ? off : -off;

      xy[0] = CLAMP (xy[0] + by * dx, 0, recipe->options.width - 1);
      xy[1] = CLAMP (xy[1] + by * dy, 0, recipe->options.height - 1);
    }
}

static void
look (Recipe *recipe, double off, Look *out, ImgFindResult *r)
{
  g_autoptr (DemoDrawing) d = recipe_draw (recipe);
  g_autoptr (ImgPixels) pixels = recipe_pixels (d);
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);

  if (off > 0.0)
    misplace (recipe, &d->truth, off);
  g_assert_cmpint (img_find_segments (pixels, recipe->axis, recipe->n_marks, NULL, r, strip), ==,
                   IMG_STRIP_OK);
  g_assert_cmpfloat (fabs (sum_of (r->segments.posterior) - 1.0), <, 1e-9);
  g_assert_cmpfloat (fabs (sum_of (r->segments.likelihood) - 1.0), <, 1e-9);
  *out = (Look){ .level = recipe->options.level, .usable = r->usable };
  if (!recipe->empty)
    look_result (out, &d->truth, strip, r);
}

/* Expected calibration error: ten bins of p, weighed by how many fall into each. */
static double
calibration_error (const Look *const *looks, int n)
{
  double p[10] = { 0 }, right[10] = { 0 }, sum = 0;

  for (int i = 0; i < n; i++)
    {
      int bin = MIN (9, (int) (10 * looks[i]->p));

      p[bin] += looks[i]->p;
      right[bin] += looks[i]->right;
    }
  for (int bin = 0; bin < 10; bin++)
    sum += fabs (p[bin] - right[bin]);
  return sum / MAX (1, n);
}

static Score
score_of (const Look *const *looks, int n)
{
  Score s = { 0 };
  double hit = 0, both = 0, there = 0, given = 0;

  for (int i = 0; i < n; i++)
    {
      const Look *l = looks[i];

      s.right += l->right / (double) n;
      s.peaks_right += l->peaks_right / (double) n;
      s.sure += l->named;
      s.sure_right += l->named && l->right;
      s.brier += l->brier / n;
      hit += l->hit;
      both += l->found + l->there;
      there += l->there;
      given += l->given_hit;
    }
  s.sure_right /= MAX (1.0, s.sure);
  s.sure /= MAX (1, n);
  s.f1 = 2.0 * hit / MAX (1.0, both);
  s.given = given / MAX (1.0, there);
  s.ece = calibration_error (looks, n);
  return s;
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Prints the pictures of levels from … to with 95 % intervals of the figures that matter. */
static Score
say (const char *what, const Look *looks, int n, int from, int to)
{
  g_autofree const Look **own = g_new (const Look *, MAX (1, n));
  g_autofree const Look **drawn = g_new (const Look *, MAX (1, n));
  static double all[5][RESAMPLES];
  DemoRand rand;
  Score s;
  int m = 0;

  for (int i = 0; i < n; i++)
    if (looks[i].level >= from && looks[i].level <= to)
      own[m++] = &looks[i];
  s = score_of (own, m);
  demo_rand_init (&rand, 1, 82);
  for (int r = 0; r < RESAMPLES; r++)
    {
      Score t;

      for (int i = 0; i < m; i++)
        drawn[i] = own[demo_rand_int (&rand, 0, m - 1)];
      t = score_of (drawn, m);
      all[0][r] = t.right;
      all[1][r] = t.f1;
      all[2][r] = t.sure_right;
      all[3][r] = t.ece;
      all[4][r] = t.brier;
    }
  for (int k = 0; k < 5; k++)
    qsort (all[k], RESAMPLES, sizeof (double), compare_doubles);
#define LO RESAMPLES / 40
#define HI (RESAMPLES - 1 - RESAMPLES / 40)
  g_test_message ("%-8s n %4d  right %.3f (%.3f-%.3f)  one-line peaks %.3f  F1 %.3f (%.3f-%.3f), "
                  "count given %.3f  p >= .8: %.2f, of them right %.3f (%.3f-%.3f)",
                  what, m, s.right, all[0][LO], all[0][HI], s.peaks_right, s.f1, all[1][LO],
                  all[1][HI], s.given, s.sure, s.sure_right, all[2][LO], all[2][HI]);
  g_test_message ("%-8s ECE %.3f (%.3f-%.3f)  Brier %.3f (%.3f-%.3f)", what, s.ece, all[3][LO],
                  all[3][HI], s.brier, all[4][LO], all[4][HI]);
  return s;
}

static gboolean
full (void)
{
  return g_getenv ("MANTIDARY_FULL_SCORE") != NULL;
}

static void
test_counts (void)
{
  g_autofree Look *looks = g_new0 (Look, MOST);
  int n = full () ? MOST : 280;
  Score s;

  for (int i = 0; i < n; i++)
    {
      int level = full () ? 1 + i % 5 : i < 200 ? 1 + i % 3 : 4 + i % 2;
      Recipe recipe;
      ImgFindResult r;

      recipe_choose (&recipe, RECIPE_TEST_SEED + (guint64) i, level, FALSE, .01);
      look (&recipe, 0.0, &looks[i], &r);
    }
  for (int level = 1; level <= 5; level++)
    {
      g_autofree char *name = g_strdup_printf ("level %d", level);

      s = say (name, looks, n, level, level);
      g_assert_cmpfloat (s.peaks_right, <=, .40);
    }
  say ("1-5", looks, n, 1, 5);
  s = say ("1-3", looks, n, 1, 3);
  g_assert_cmpfloat (s.right, >=, .75);
  g_assert_cmpfloat (s.sure_right, >=, .90);
  g_assert_cmpfloat (s.sure, >, .5);
  g_assert_cmpfloat (s.ece, <, .10);
}

/* Both ends 5 % of the axis off, against the same pictures well marked. */
static void
test_misplaced (void)
{
  int n = full () ? 400 : 60, right[2] = { 0 };

  for (int i = 0; i < n; i++)
    for (int off = 0; off < 2; off++)
      {
        Recipe recipe;
        ImgFindResult r;
        Look l;

        recipe_choose (&recipe, RECIPE_TEST_SEED + 40000 + (guint64) i, 1 + i % 3, FALSE, .01);
        look (&recipe, off ? .05 : 0.0, &l, &r);
        right[off] += l.right;
      }
  g_test_message ("levels 1-3, ends 1 %% off: right %.3f; both 5 %% off: %.3f (n %d)",
                  (double) right[0] / n, (double) right[1] / n, n);
  g_assert_cmpfloat ((double) (right[0] - right[1]) / n, <=, .12);
}

static void
test_empty (void)
{
  int n = full () ? 400 : 100, fooled = 0, usable = 0;

  for (int i = 0; i < n; i++)
    {
      Recipe recipe;
      ImgFindResult r;
      Look l;
      double p = 0;

      recipe_choose (&recipe, RECIPE_EMPTY_SEED + (guint64) i, 1 + i % 3, TRUE, .01);
      look (&recipe, 0.0, &l, &r);
      for (int k = 1; k < CORE_SEGMENT_COUNTS; k++)
        p = MAX (p, r.segments.posterior[k]);
      fooled += p >= .6;
      usable += l.usable;
    }
  g_test_message ("without an animal: a count at p >= .6 in %d of %d; usable %d", fooled, n,
                  usable);
  g_assert_cmpfloat ((double) fooled / n, <=, .10);
  g_assert_cmpfloat ((double) usable / n, <=, .10);
}

static void
test_unusable (void)
{
  int n = full () ? 200 : 60, usable = 0;

  for (int i = 0; i < n; i++)
    {
      Recipe recipe;
      ImgFindResult r;
      Look l;

      recipe_choose (&recipe, RECIPE_TEST_SEED + 20000 + (guint64) i, 1 + i % 3, FALSE, .01);
      recipe.options.unusable = TRUE;
      look (&recipe, 0.0, &l, &r);
      usable += l.usable;
    }
  g_test_message ("far out of focus: called usable in %d of %d", usable, n);
  g_assert_cmpfloat ((double) usable / n, <=, .02);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find-score/counts", test_counts);
  g_test_add_func ("/find-score/misplaced", test_misplaced);
  g_test_add_func ("/find-score/empty", test_empty);
  g_test_add_func ("/find-score/unusable", test_unusable);
  return g_test_run ();
}
