/* SPDX-License-Identifier: GPL-3.0-or-later */
/* recipe.c — sizes, counts and marks of the pictures that the finder learns from. */
#include "recipe.h"

#include "demo/demo-rand.h"

#include <math.h>

void
recipe_choose (Recipe *recipe, guint64 seed, int level, gboolean empty, double mark_sd)
{
  static const double counts[7] = { 3, 12, 27, 18, 25, 12, 3 }; /* 4 … 10 */
  DemoDrawOptions *o = &recipe->options;
  DemoRand rand;

  *recipe = (Recipe){ .mark_sd = mark_sd };
  demo_rand_init (&rand, seed, 77);
  o->seed = seed;
  o->level = level > 0 ? level : demo_rand_int (&rand, 1, 5);
  o->count = 4 + demo_rand_pick (&rand, counts, 7);
  if (o->count == 6 && demo_rand_chance (&rand, .8))
    o->sex = DEMO_SEX_FEMALE;
  if (o->count == 8 && demo_rand_chance (&rand, .8))
    o->sex = DEMO_SEX_MALE;
  o->subject = demo_rand_chance (&rand, .08) ? DEMO_SUBJECT_SHED : DEMO_SUBJECT_UNDERSIDE;
  if (empty)
    o->subject = (DemoSubject) demo_rand_int (&rand, DEMO_SUBJECT_LEAF, DEMO_N_SUBJECTS - 1);
  o->abdomen_px = CLAMP (demo_rand_lognormal (&rand, 230, .7), 60, 1000);
  o->width = (int) (o->abdomen_px * 2.0) + 40;
  o->height = (int) (o->abdomen_px * 1.7) + 40;
}

DemoDrawing *
recipe_draw (Recipe *recipe)
{
  DemoDrawing *d = demo_draw (&recipe->options);
  const DemoTruth *t = &d->truth;
  double dx = t->tip.x - t->base.x, dy = t->tip.y - t->base.y, off[4];
  DemoRand rand;
  gboolean mid;

  demo_rand_init (&rand, recipe->options.seed, 78);
  mid = fabs (t->bend) > .025 || demo_rand_chance (&rand, .3);
  for (int i = 0; i < 4; i++)
    off[i] = recipe->mark_sd * demo_rand_normal (&rand);
  recipe->n_marks = mid ? 3 : 2;
  recipe->axis[0] = t->base.x + off[0] * dx - .6 * off[1] * dy;
  recipe->axis[1] = t->base.y + off[0] * dy + .6 * off[1] * dx;
  if (mid)
    {
      recipe->axis[2] = t->mid.x + .6 * off[2] * dx;
      recipe->axis[3] = t->mid.y + .6 * off[2] * dy;
    }
  recipe->axis[mid ? 4 : 2] = t->tip.x + off[2] * dx - .6 * off[3] * dy;
  recipe->axis[mid ? 5 : 3] = t->tip.y + off[2] * dy + .6 * off[3] * dx;
  for (int i = 0; i < recipe->n_marks; i++)
    {
      recipe->axis[2 * i] = CLAMP (recipe->axis[2 * i], 0, d->width - 1);
      recipe->axis[2 * i + 1] = CLAMP (recipe->axis[2 * i + 1], 0, d->height - 1);
    }
  return d;
}

ImgPixels *
recipe_pixels (const DemoDrawing *d)
{
  gsize stride = (gsize) 3 * (gsize) d->width;

  return img_pixels_new_take (d->width, d->height, stride,
                              g_bytes_new (d->rgb, stride * (gsize) d->height));
}
