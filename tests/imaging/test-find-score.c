/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-find-score.c — how good the finder is on drawn pictures whose seeds no
 * constant was fitted on. Levels 1–3 are asserted, 4–5 printed, with the simplest
 * thing that one could do (peaks on one line) beside; pictures without an animal;
 * pictures that cannot be used; axis ends badly placed. Intervals are 95 % bootstraps
 * over pictures.
 *
 *   test-find-score --verbose [-p /find-score/counts] [PICTURES [KIND [WITHOUT]]]
 *
 * KIND: plain, varied, relief, pen, signal, print (ways of drawing). WITHOUT: arc, null or
 * lengths leaves that part out, to see what it is worth; no figure is asserted then.
 * `-m slow -p /find-score/parts` leaves out each in turn on the same pictures, every second of them
 * without an animal, and says how often that changed a right answer to a wrong one and back.
 */
#include "core/core-segment-net.h"
#include "imaging/img-find.h"
#include "imaging/img-strip-private.h"

#include "demo/demo-rand.h"
#include "fit/recipe.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define F1_NEAR 0.03 /* a boundary is found within 3 % of the axis */
#define RESAMPLES 400
#define BINS 10

/* What the command asks for. */
static struct
{
  int pictures;
  RecipeKind kind;
  const char *without;
} asked = { 220, RECIPE_PLAIN, "" };

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

/* The same with lanes that are not shifted along the arcs of the plates. */
static void
look_without_arcs (const ImgPixels *pixels, const Recipe *recipe, ImgFindResult *r, ImgStrip *strip)
{
  g_autofree float *in = g_new (float, CORE_SEGMENT_NET_IN *STRIP_WIDE);

  g_assert_cmpint (strip_build (pixels, recipe->axis, recipe->n_marks, FALSE, strip, NULL, NULL),
                   ==, IMG_STRIP_OK);
  img_find_input (strip, in);
  core_segment_net (in, &r->evidence);
  img_find_rerun (r, strip, NULL);
}

static ImgFindOptions
options_without (const char *part)
{
  ImgFindOptions options = { 0 };

  options.edits.plates_seen = strcmp (part, "null") == 0;
  options.edits.any_lengths = strcmp (part, "lengths") == 0;
  return options;
}

static void
look (Recipe *recipe, double off, Look *out, ImgFindResult *r)
{
  g_autoptr (DemoDrawing) d = recipe_draw (recipe);
  g_autoptr (ImgPixels) pixels = recipe_pixels (d);
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);
  ImgFindOptions options = options_without (asked.without);

  if (off > 0.0)
    misplace (recipe, &d->truth, off);
  g_assert_cmpint (img_find_segments (pixels, recipe->axis, recipe->n_marks, &options, r, strip),
                   ==, IMG_STRIP_OK);
  if (strcmp (asked.without, "arc") == 0)
    look_without_arcs (pixels, recipe, r, strip);
  g_assert_cmpfloat (fabs (sum_of (r->segments.posterior) - 1.0), <, 1e-9);
  g_assert_cmpfloat (fabs (sum_of (r->segments.likelihood) - 1.0), <, 1e-9);
  *out = (Look){ .level = recipe->options.level, .usable = r->usable };
  if (!recipe->empty)
    look_result (out, &d->truth, strip, r);
}

static int
compare_looks (const void *a, const void *b)
{
  double x = (*(const Look *const *) a)->p, y = (*(const Look *const *) b)->p;

  return (x > y) - (x < y);
}

typedef struct
{
  double p[BINS], right[BINS]; /* means; as many pictures in each bin as in the next */
  int n[BINS];
} Reliability;

static void
reliability (const Look *const *looks, int n, Reliability *out)
{
  g_autofree const Look **sorted = g_memdup2 (looks, sizeof *looks * (gsize) n);

  *out = (Reliability){ 0 };
  if (n > 0)
    qsort (sorted, (size_t) n, sizeof *sorted, compare_looks);
  for (int i = 0; i < n; i++)
    {
      int bin = (int) ((gint64) BINS * i / n);

      out->p[bin] += sorted[i]->p;
      out->right[bin] += sorted[i]->right;
      out->n[bin]++;
    }
  for (int bin = 0; bin < BINS; bin++)
    {
      out->p[bin] /= MAX (1, out->n[bin]);
      out->right[bin] /= MAX (1, out->n[bin]);
    }
}

/* Expected calibration error over ten bins of equally many pictures. */
static double
calibration_error (const Look *const *looks, int n)
{
  Reliability r;
  double sum = 0;

  reliability (looks, n, &r);
  for (int bin = 0; bin < BINS; bin++)
    sum += r.n[bin] * fabs (r.p[bin] - r.right[bin]);
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

static void
say_reliability (const Look *looks, int n)
{
  g_autofree const Look **all = g_new (const Look *, MAX (1, n));
  g_autoptr (GString) p = g_string_new (NULL), right = g_string_new (NULL);
  Reliability r;

  for (int i = 0; i < n; i++)
    all[i] = &looks[i];
  reliability (all, n, &r);
  for (int bin = 0; bin < BINS; bin++)
    {
      g_string_append_printf (p, " %.3f", r.p[bin]);
      g_string_append_printf (right, " %.3f", r.right[bin]);
    }
  g_test_message ("reliability, ten bins: said %s", p->str);
  g_test_message ("                      right%s", right->str);
}

/* A picture of the way of drawing that the command names. */
static void
choose (Recipe *recipe, int i, int level)
{
  guint64 seed = RECIPE_TEST_SEED;

  if (asked.kind != RECIPE_PLAIN)
    seed = RECIPE_STYLE_SEED + 10000 * (guint64) asked.kind;
  recipe_choose (recipe, seed + (guint64) i, level, FALSE, .01);
  if (asked.kind == RECIPE_VARIED)
    recipe_vary (recipe, 0);
  else if (asked.kind != RECIPE_PLAIN)
    recipe_style (recipe, asked.kind);
}

typedef struct
{
  void (*work) (int i, gpointer data);
  gpointer data;
} Work;

static void
work_one (gpointer number, gpointer data)
{
  const Work *w = data;

  w->work (GPOINTER_TO_INT (number) - 1, w->data);
}

/* work (0 … n - 1) on all cores; each picture has its own place for what it taught. */
static void
for_each (int n, void (*work) (int i, gpointer data), gpointer data)
{
  Work w = { work, data };
  g_autoptr (GError) error = NULL;
  GThreadPool *pool =
    g_thread_pool_new (work_one, &w, (int) CLAMP (g_get_num_processors (), 1, 8), FALSE, &error);

  g_assert_no_error (error);
  for (int i = 0; i < n; i++)
    g_assert_true (g_thread_pool_push (pool, GINT_TO_POINTER (i + 1), NULL));
  g_thread_pool_free (pool, FALSE, TRUE);
}

static void
count_one (int i, gpointer data)
{
  int n = asked.pictures, hard = n > 280 ? 0 : n / 4;
  int level = hard == 0 ? 1 + i % 5 : i < n - hard ? 1 + i % 3 : 4 + i % 2;
  Look *looks = data;
  Recipe recipe;
  ImgFindResult r;

  choose (&recipe, i, level);
  look (&recipe, 0.0, &looks[i], &r);
}

static void
test_counts (void)
{
  g_autofree Look *looks = g_new0 (Look, asked.pictures);
  int n = asked.pictures;
  Score s;

  for_each (n, count_one, looks);
  for (int level = 1; level <= 5; level++)
    {
      g_autofree char *name = g_strdup_printf ("level %d", level);

      s = say (name, looks, n, level, level);
      if (asked.kind == RECIPE_PLAIN)
        g_assert_cmpfloat (s.peaks_right, <=, .40);
    }
  say ("1-5", looks, n, 1, 5);
  say_reliability (looks, n);
  s = say ("1-3", looks, n, 1, 3);
  if (asked.kind != RECIPE_PLAIN || *asked.without != 0)
    return;
  g_assert_cmpfloat (s.right, >=, .80);
  g_assert_cmpfloat (s.sure_right, >=, .90);
  g_assert_cmpfloat (s.sure, >, .5);
  g_assert_cmpfloat (s.ece, <, .10);
}

/* Both ends 5 % of the axis off, against the same pictures well marked. */
static void
misplaced_one (int i, gpointer data)
{
  gboolean (*right)[2] = data;

  for (int off = 0; off < 2; off++)
    {
      Recipe recipe;
      ImgFindResult r;
      Look l;

      recipe_choose (&recipe, RECIPE_TEST_SEED + 40000 + (guint64) i, 1 + i % 3, FALSE, .01);
      look (&recipe, off ? .05 : 0.0, &l, &r);
      right[i][off] = l.right;
    }
}

static void
test_misplaced (void)
{
  static gboolean right[400][2];
  int n = CLAMP (asked.pictures / 5, 1, 400), sum[2] = { 0 };

  for_each (n, misplaced_one, right);
  for (int i = 0; i < n; i++)
    for (int off = 0; off < 2; off++)
      sum[off] += right[i][off];
  g_test_message ("levels 1-3, ends 1 %% off: right %.3f; both 5 %% off: %.3f (n %d)",
                  (double) sum[0] / n, (double) sum[1] / n, n);
  g_assert_cmpfloat ((double) (sum[0] - sum[1]) / n, <=, .12);
}

static gboolean
is_fooled (const CoreSegmentResult *segments)
{
  for (int k = 1; k < CORE_SEGMENT_COUNTS; k++)
    if (segments->posterior[k] >= .6)
      return TRUE;
  return FALSE;
}

typedef struct
{
  gboolean fooled, usable;
} Seen;

static void
empty_one (int i, gpointer data)
{
  Seen *seen = data;
  Recipe recipe;
  ImgFindResult r;
  Look l;

  recipe_choose (&recipe, RECIPE_EMPTY_SEED + (guint64) i, 1 + i % 3, TRUE, .01);
  look (&recipe, 0.0, &l, &r);
  seen[i].fooled = is_fooled (&r.segments);
  seen[i].usable = l.usable;
}

static void
test_empty (void)
{
  static Seen seen[400];
  int n = CLAMP (asked.pictures / 3, 1, 400), fooled = 0, usable = 0;

  for_each (n, empty_one, seen);
  for (int i = 0; i < n; i++)
    {
      fooled += seen[i].fooled;
      usable += seen[i].usable;
    }
  g_test_message ("without an animal: a count at p >= .6 in %d of %d; usable %d", fooled, n,
                  usable);
  if (*asked.without != 0)
    return;
  g_assert_cmpfloat ((double) fooled / n, <=, .10);
  g_assert_cmpfloat ((double) usable / n, <=, .10);
}

static void
unusable_one (int i, gpointer data)
{
  Seen *seen = data;
  Recipe recipe;
  ImgFindResult r;
  Look l;

  recipe_choose (&recipe, RECIPE_TEST_SEED + 20000 + (guint64) i, 1 + i % 3, FALSE, .01);
  recipe.options.unusable = TRUE;
  look (&recipe, 0.0, &l, &r);
  seen[i].usable = l.usable;
}

static void
test_unusable (void)
{
  static Seen seen[200];
  int n = CLAMP (asked.pictures / 5, 1, 200), usable = 0;

  for_each (n, unusable_one, seen);
  for (int i = 0; i < n; i++)
    usable += seen[i].usable;
  g_test_message ("far out of focus: called usable in %d of %d", usable, n);
  g_assert_cmpfloat ((double) usable / n, <=, .02);
}

/* ---- what each part is worth ---- */

enum
{
  PART_NONE, /* all of them */
  PART_ARC,
  PART_NULL,
  PART_LENGTHS,
  N_PARTS
};
static const char *const parts[N_PARTS] = { "", "arc", "null", "lengths" };

typedef struct
{
  Look with[N_PARTS];       /* a picture of an animal */
  gboolean fooled[N_PARTS]; /* one without: a count at p >= .6 */
} Parts;

static void
parts_one (int i, gpointer data)
{
  Parts *out = (Parts *) data + i;
  int level = 1 + i / 2 % 5;
  Recipe recipe;
  g_autoptr (DemoDrawing) d = NULL;
  g_autoptr (ImgPixels) pixels = NULL;
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);

  if (i % 2 == 0)
    choose (&recipe, i / 2, level);
  else
    recipe_choose (&recipe, RECIPE_EMPTY_SEED + (guint64) i / 2, 1 + i / 2 % 3, TRUE, .01);
  d = recipe_draw (&recipe);
  pixels = recipe_pixels (d);
  for (int part = 0; part < N_PARTS; part++)
    {
      ImgFindOptions options = options_without (parts[part]);
      ImgFindResult r;

      g_assert_cmpint (img_find_segments (pixels, recipe.axis, recipe.n_marks, &options, &r, strip), ==, IMG_STRIP_OK);
      if (part == PART_ARC)
        look_without_arcs (pixels, &recipe, &r, strip);
      out->with[part] = (Look){ .level = level, .usable = r.usable };
      out->fooled[part] = is_fooled (&r.segments);
      if (i % 2 == 0)
        look_result (&out->with[part], &d->truth, strip, &r);
    }
}

static void
say_part (const Parts *all, int n, int part)
{
  g_autofree const Look **looks = g_new (const Look *, n / 2 + 1);
  int lost = 0, won = 0, fooled = 0, m = 0;
  Score s;

  for (int i = 0; i < n; i++)
    if (i % 2 == 0)
      {
        looks[m++] = &all[i].with[part];
        lost += all[i].with[PART_NONE].right && !all[i].with[part].right;
        won += !all[i].with[PART_NONE].right && all[i].with[part].right;
      }
    else
      fooled += all[i].fooled[part];
  s = score_of (looks, m);
  g_test_message ("%s%-9s n %d  right %.3f (lost %d, won %d)  F1 %.3f  ECE %.3f  Brier %.3f  p >= .8: %.2f, of them right "
                  "%.3f  without an animal a count at p >= .6 in %d of %d",
                  part == PART_NONE ? "" : "no ", part == PART_NONE ? "all parts" : parts[part], m, s.right, lost, won, s.f1,
                  s.ece, s.brier, s.sure, s.sure_right, fooled, n - m);
}

static void
test_parts (void)
{
  int n = 2 * asked.pictures;
  g_autofree Parts *all = g_new0 (Parts, n);

  for_each (n, parts_one, all);
  for (int part = 0; part < N_PARTS; part++)
    say_part (all, n, part);
}

int
main (int argc, char **argv)
{
  static const char *const kinds[RECIPE_N_KINDS] = { "plain", "varied", "relief", "pen", "signal", "print" };

  g_test_init (&argc, &argv, NULL);
  if (argc > 1)
    asked.pictures = CLAMP (atoi (argv[1]), 1, 10000);
  for (int k = 0; argc > 2 && k < RECIPE_N_KINDS; k++)
    if (strcmp (argv[2], kinds[k]) == 0)
      asked.kind = (RecipeKind) k;
  if (argc > 3)
    asked.without = argv[3];
  g_test_add_func ("/find-score/counts", test_counts);
  g_test_add_func ("/find-score/misplaced", test_misplaced);
  g_test_add_func ("/find-score/empty", test_empty);
  g_test_add_func ("/find-score/unusable", test_unusable);
  if (g_test_slow ()) /* -m slow: a table, no verdict */
    g_test_add_func ("/find-score/parts", test_parts);
  return g_test_run ();
}
