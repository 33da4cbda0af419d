/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draw-eye.c — pictures to count by eye, with what is true and what the finder says kept apart.
 *
 *   draw-eye FOLDER N
 *
 * N plain pictures, levels 4 and 5 in turn, of seeds that nothing else uses: the abdomen with
 * some room around it, as N.jpg, and FOLDER/truth.txt: number, level, plates, the finder's count
 * and its chance. Look at the pictures before the list. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "demo/demo-jpeg.h"
#include "imaging/img-find.h"
#include "recipe.h"

#define EYE_SEED 9900000
#define ROOM .35 /* of the axis, on each side */

/* The part of the picture in which the marks lie. Returned: rgb, w × h; free with g_free(). */
static guint8 *
crop (const DemoDrawing *drawing, const Recipe *recipe, int *w, int *h)
{
  double x0 = HUGE_VAL, y0 = HUGE_VAL, x1 = -HUGE_VAL, y1 = -HUGE_VAL, room;
  int left, top;
  guint8 *part;

  for (int i = 0; i < recipe->n_marks; i++)
    {
      x0 = MIN (x0, recipe->axis[2 * i]);
      x1 = MAX (x1, recipe->axis[2 * i]);
      y0 = MIN (y0, recipe->axis[2 * i + 1]);
      y1 = MAX (y1, recipe->axis[2 * i + 1]);
    }
  room = ROOM * hypot (x1 - x0, y1 - y0);
  left = (int) CLAMP (x0 - room, 0, drawing->width - 1);
  top = (int) CLAMP (y0 - room, 0, drawing->height - 1);
  *w = (int) CLAMP (x1 + room, left + 1, drawing->width) - left;
  *h = (int) CLAMP (y1 + room, top + 1, drawing->height) - top;
  part = g_malloc ((gsize) *w * (gsize) *h * 3);
  for (int y = 0; y < *h; y++)
    memcpy (part + (gsize) y * (gsize) *w * 3,
            drawing->rgb + ((gsize) (top + y) * (gsize) drawing->width + (gsize) left) * 3,
            (gsize) *w * 3);
  return part;
}

static gboolean
draw_one (const char *folder, FILE *list, int i)
{
  int level = 4 + i % 2, w, h;
  g_autofree char *path = g_strdup_printf ("%s/%02d.jpg", folder, i);
  g_autofree ImgFindResult *found = g_new0 (ImgFindResult, 1);
  g_autoptr (GError) error = NULL;
  g_autoptr (DemoDrawing) drawing = NULL;
  g_autoptr (ImgPixels) pixels = NULL;
  g_autofree guint8 *part = NULL;
  Recipe recipe;

  recipe_choose (&recipe, EYE_SEED + (guint64) i, level, FALSE, .01);
  drawing = recipe_draw (&recipe);
  pixels = recipe_pixels (drawing);
  img_find_segments (pixels, recipe.axis, recipe.n_marks, NULL, found, NULL);
  part = crop (drawing, &recipe, &w, &h);
  if (!demo_jpeg_write (path, part, w, h, 95, 1, NULL, &error))
    {
      fprintf (stderr, "%s\n", error->message);
      return FALSE;
    }
  return fprintf (list, "%02d %d %d %d %.3f\n", i, level, drawing->truth.count,
                  found->segments.best, found->segments.best_p) > 0;
}

int
main (int argc, char **argv)
{
  int n = argc == 3 ? atoi (argv[2]) : 0;
  g_autofree char *path = argc == 3 ? g_build_filename (argv[1], "truth.txt", NULL) : NULL;
  FILE *list = path != NULL && n > 0 && n < 100 ? fopen (path, "w") : NULL;
  gboolean ok = list != NULL;

  for (int i = 0; ok && i < n; i++)
    ok = draw_one (argv[1], list, i);
  if (list != NULL && fclose (list) != 0)
    ok = FALSE;
  return ok ? 0 : 1;
}
