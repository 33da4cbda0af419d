/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draw-strips.c — draws pictures and writes what the network would read of
 * them, with the truth: draw-strips FIRST_SEED NUMBER FILE KIND [SUTURES], where KIND
 * is plain (drawn as the tests are), varied, relief, pen, signal, print, or fit (all of them, each
 * marked three times) and SUTURES the bits of the kinds to draw of varied ones. One record a
 * strip: int8 input[33][296] (times 127), then float32 level, count, kind, positions[12] in
 * shares of the marked axis (-9 = none).
 */
#include "imaging/img-find.h"
#include "recipe.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TURNS 3 /* markings of a picture for fitting, the last with an end beyond the belly */
#define LARGEST_FIT 420.0 /* pixels */
#define TRUTH (3 + DEMO_DRAW_MAX_PLATES)
#define NONE -9.0f

/* Where a point falls on the marked axis: nearest sample, then along the axis there. */
static double
share_of (const ImgStrip *s, DemoPoint p)
{
  double best = 1e300, dx, dy, len;
  int at = 0, a, b;

  for (int i = 0; i < IMG_STRIP_N; i++)
    {
      double d = hypot (s->x[i] - p.x, s->y[i] - p.y);

      if (d < best)
        {
          best = d;
          at = i;
        }
    }
  a = MAX (0, at - 1);
  b = MIN (IMG_STRIP_N - 1, at + 1);
  dx = s->x[b] - s->x[a];
  dy = s->y[b] - s->y[a];
  len = hypot (dx, dy);
  return (at + .5) / IMG_STRIP_N +
         ((p.x - s->x[at]) * dx + (p.y - s->y[at]) * dy) / len / s->axis_px;
}

/* Most ends well placed, some badly. */
static double
mark_sd_of (guint64 seed, int turn)
{
  static const double sd[8] = { .01, .01, .01, .01, .02, .02, .035, .05 };

  return sd[(seed / 3 + 5 * (guint64) turn) % 8];
}

static gboolean
write_strip (FILE *file, const Recipe *recipe, const DemoDrawing *d, const ImgPixels *pixels)
{
  static float in[33 * IMG_STRIP_WIDE];
  static signed char out[33 * IMG_STRIP_WIDE];
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);
  float truth[TRUTH];

  if (img_strip_build (pixels, recipe->axis, recipe->n_marks, strip, NULL, NULL) != IMG_STRIP_OK)
    return TRUE; /* marks that fell together: left out */
  img_find_input (strip, in);
  for (int i = 0; i < 33 * IMG_STRIP_WIDE; i++)
    out[i] = (signed char) lrintf (127.0f * in[i]);
  truth[0] = (float) recipe->options.level;
  truth[1] = recipe->empty ? 0.0f : (float) d->truth.count;
  truth[2] = (float) recipe->kind;
  for (int i = 0; i < DEMO_DRAW_MAX_PLATES; i++)
    truth[3 + i] =
      !recipe->empty && i < d->truth.n_bounds ? (float) share_of (strip, d->truth.bound[i]) : NONE;
  return fwrite (out, sizeof out, 1, file) == 1 && fwrite (truth, sizeof truth, 1, file) == 1;
}

/* Of twenty pictures for fitting: 4 plain, 5 varied, 4 in relief, 2 by pen, 5 signals. */
static RecipeKind
kind_for_fit (guint64 seed)
{
  static const signed char kinds[20] = {
    0, 4, 1, 2, 4, 1, 0, 3, 2, 1, 4, 0, 1, 2, 4, 3, 0, 1, 2, 4
  };

  return (RecipeKind) kinds[seed % 20];
}

static gboolean
write_one (FILE *file, guint64 seed, int kind, guint32 sutures)
{
  gboolean fit = kind < 0, empty = (seed / 7) % 8 == 7;
  Recipe recipe;
  g_autoptr (DemoDrawing) d = NULL;
  g_autoptr (ImgPixels) pixels = NULL;

  if (fit)
    kind = kind_for_fit (seed);
  recipe_choose (&recipe, seed, 0, empty, fit ? mark_sd_of (seed, 0) : .01);
  if (kind == RECIPE_VARIED)
    recipe_vary (&recipe, sutures);
  else if (kind >= RECIPE_RELIEF)
    recipe_style (&recipe, (RecipeKind) kind);
  if (fit && recipe.options.abdomen_px > LARGEST_FIT)
    {
      DemoDrawOptions *o = &recipe.options; /* sharpness and noise go by the length */

      o->abdomen_px = LARGEST_FIT * .5 * (1.0 + LARGEST_FIT / o->abdomen_px);
      o->width = (int) (o->abdomen_px * 2.0) + 40;
      o->height = (int) (o->abdomen_px * 1.7) + 40;
    }
  d = recipe_draw (&recipe);
  pixels = recipe_pixels (d);
  for (int turn = 0; turn < (fit ? TURNS : 1); turn++)
    {
      recipe.mark_sd = fit ? mark_sd_of (seed, turn) : .01;
      recipe.beyond = fit && turn == TURNS - 1;
      recipe_mark (&recipe, d, turn);
      if (!write_strip (file, &recipe, d, pixels))
        return FALSE;
    }
  return TRUE;
}

int
main (int argc, char **argv)
{
  static const char *const kinds[RECIPE_N_KINDS] = { "plain", "varied", "relief", "pen", "signal",
                                                    "print" };
  FILE *file;
  guint64 first;
  int n, kind = -1;

  if (argc < 5 || (file = fopen (argv[3], "wb")) == NULL)
    {
      fprintf (stderr, "usage: draw-strips FIRST_SEED NUMBER FILE KIND [SUTURES]\n");
      return 2;
    }
  first = g_ascii_strtoull (argv[1], NULL, 10);
  n = atoi (argv[2]);
  for (int i = 0; i < RECIPE_N_KINDS; i++)
    if (strcmp (argv[4], kinds[i]) == 0)
      kind = i;
  for (int i = 0; i < n; i++)
    if (!write_one (file, first + (guint64) i, kind,
                    argc > 5 ? (guint32) g_ascii_strtoull (argv[5], NULL, 0) : 0))
      return 1;
  return fclose (file) == 0 ? 0 : 1;
}
