/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draw-strips.c — draws pictures and writes what the network would read of
 * them, with the truth: draw-strips FIRST_SEED NUMBER FILE [LEVEL]. One record a
 * picture: int8 input[33][256] (times 127), then float32 level, count,
 * positions[12] in shares of the marked axis (-1 = none).
 */
#include "imaging/img-find.h"
#include "recipe.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

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

static gboolean
write_one (FILE *file, guint64 seed, int level)
{
  gboolean empty = seed % 10 == 9;
  /* most ends well placed, some badly */
  double mark_sd = seed % 5 == 0 ? .03 : .012;
  Recipe recipe;
  g_autoptr (DemoDrawing) d = NULL;
  g_autoptr (ImgPixels) pixels = NULL;
  g_autofree ImgStrip *strip = g_new (ImgStrip, 1);
  float in[33 * IMG_STRIP_N], truth[14];
  signed char out[33 * IMG_STRIP_N];

  recipe_choose (&recipe, seed, level, empty, mark_sd);
  d = recipe_draw (&recipe);
  pixels = recipe_pixels (d);
  if (img_strip_build (pixels, recipe.axis, recipe.n_marks, strip, NULL, NULL) != IMG_STRIP_OK)
    return FALSE;
  img_find_input (strip, in);
  for (int i = 0; i < 33 * IMG_STRIP_N; i++)
    out[i] = (signed char) lrintf (127.0f * in[i]);
  truth[0] = (float) recipe.options.level;
  truth[1] = (float) d->truth.count;
  for (int i = 0; i < 12; i++)
    truth[2 + i] = i < d->truth.n_bounds ? (float) share_of (strip, d->truth.bound[i]) : -1.0f;
  return fwrite (out, sizeof out, 1, file) == 1 && fwrite (truth, sizeof truth, 1, file) == 1;
}

int
main (int argc, char **argv)
{
  FILE *file;
  guint64 first;
  int n, level;

  if (argc < 4 || (file = fopen (argv[3], "wb")) == NULL)
    {
      fprintf (stderr, "usage: draw-strips FIRST_SEED NUMBER FILE [LEVEL]\n");
      return 2;
    }
  first = g_ascii_strtoull (argv[1], NULL, 10);
  n = atoi (argv[2]);
  level = argc > 4 ? atoi (argv[4]) : 0;
  for (int i = 0; i < n; i++)
    if (!write_one (file, first + (guint64) i, level))
      fprintf (stderr, "picture %d was left out\n", i);
  return fclose (file) == 0 ? 0 : 1;
}
