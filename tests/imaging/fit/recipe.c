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

  *recipe = (Recipe){ .mark_sd = mark_sd, .empty = empty };
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

void
recipe_vary (Recipe *recipe, guint32 sutures)
{
  DemoDrawOptions *o = &recipe->options;
  DemoRand rand;

  demo_rand_init (&rand, o->seed, 79);
  o->varied = TRUE;
  recipe->kind = RECIPE_VARIED;
  o->sutures = sutures;
  if (demo_rand_chance (&rand, .4))
    {
      o->count = demo_rand_int (&rand, 4, 10);
      o->sex = DEMO_SEX_ANY;
    }
  if (!recipe->empty)
    {
      o->subject = demo_rand_chance (&rand, .1) ? DEMO_SUBJECT_SHED : DEMO_SUBJECT_UNDERSIDE;
      if (demo_rand_chance (&rand, .03))
        o->subject = DEMO_SUBJECT_BACK;
    }
  else if (demo_rand_chance (&rand, .15))
    o->subject = DEMO_SUBJECT_WINGS;
  else if (demo_rand_chance (&rand, .35))
    {
      o->subject = DEMO_SUBJECT_UNDERSIDE;
      recipe->aside = TRUE;
    }
  o->abdomen_px = CLAMP (demo_rand_lognormal (&rand, 210, .6), 50, 640);
  o->width = (int) (o->abdomen_px * 2.0) + 40;
  o->height = (int) (o->abdomen_px * 1.7) + 40;
  recipe->camera = demo_rand_chance (&rand, .8);
}

void
recipe_style (Recipe *recipe, RecipeKind kind)
{
  DemoDrawOptions *o = &recipe->options;
  DemoRand rand;

  demo_rand_init (&rand, o->seed, 83);
  recipe->kind = kind;
  recipe->camera = demo_rand_chance (&rand, .7);
  if (demo_rand_chance (&rand, .4))
    {
      o->count = demo_rand_int (&rand, 4, 10);
      o->sex = DEMO_SEX_ANY;
    }
  recipe->aside = recipe->empty && demo_rand_chance (&rand, .3);
  o->abdomen_px = CLAMP (demo_rand_lognormal (&rand, 170, .6), 50, 640);
}

/* Across the animal, or beside it: there may be lines, but no plates one after another. */
static void
mark_aside (Recipe *recipe, const DemoTruth *t, DemoRand *rand)
{
  double dx = t->tip.x - t->base.x, dy = t->tip.y - t->base.y;
  double q = demo_rand_range (rand, .1, .9), len = demo_rand_range (rand, .3, 1.0);
  double off = demo_rand_range (rand, .4, .8) * (demo_rand_chance (rand, .5) ? 1 : -1), turn;
  double x = t->base.x + q * dx, y = t->base.y + q * dy;

  if (demo_rand_chance (rand, .5)) /* across */
    turn = G_PI / 2 + .3 * demo_rand_normal (rand);
  else
    {
      turn = .3 * demo_rand_normal (rand);
      x -= off * dy;
      y += off * dx;
    }
  recipe->n_marks = 2;
  for (int i = 0; i < 2; i++)
    {
      double side = i ? .5 * len : -.5 * len;

      recipe->axis[2 * i] = x + side * (dx * cos (turn) - dy * sin (turn));
      recipe->axis[2 * i + 1] = y + side * (dy * cos (turn) + dx * sin (turn));
    }
}

static void
mark_ends (Recipe *recipe, const DemoTruth *t, DemoRand *rand)
{
  double dx = t->tip.x - t->base.x, dy = t->tip.y - t->base.y, off[4];
  gboolean mid = fabs (t->bend) > .025 || demo_rand_chance (rand, .3);

  for (int i = 0; i < 4; i++)
    off[i] = recipe->mark_sd * demo_rand_normal (rand);
  recipe->n_marks = mid ? 3 : 2;
  for (int i = 0; i < 4; i += 2) /* an end on the thorax or on the tail feelers */
    if (recipe->beyond && demo_rand_chance (rand, .5))
      off[i] = (i == 0 ? -1 : 1) * demo_rand_range (rand, .03, .09);
  recipe->axis[0] = t->base.x + off[0] * dx - .6 * off[1] * dy;
  recipe->axis[1] = t->base.y + off[0] * dy + .6 * off[1] * dx;
  if (mid)
    {
      recipe->axis[2] = t->mid.x + .6 * off[2] * dx;
      recipe->axis[3] = t->mid.y + .6 * off[2] * dy;
    }
  recipe->axis[mid ? 4 : 2] = t->tip.x + off[2] * dx - .6 * off[3] * dy;
  recipe->axis[mid ? 5 : 3] = t->tip.y + off[2] * dy + .6 * off[3] * dx;
}

void
recipe_mark (Recipe *recipe, const DemoDrawing *d, int turn)
{
  DemoRand rand;

  demo_rand_init (&rand, recipe->options.seed, 78 + 1000 * (guint64) turn);
  if (recipe->aside)
    mark_aside (recipe, &d->truth, &rand);
  else
    mark_ends (recipe, &d->truth, &rand);
  for (int i = 0; i < recipe->n_marks; i++)
    {
      recipe->axis[2 * i] = CLAMP (recipe->axis[2 * i], 0, d->width - 1);
      recipe->axis[2 * i + 1] = CLAMP (recipe->axis[2 * i + 1], 0, d->height - 1);
    }
}

DemoDrawing *
recipe_draw (Recipe *recipe)
{
  const DemoDrawOptions *o = &recipe->options;
  StyleOptions style = { .seed = o->seed,
                         .level = o->level,
                         .count = o->count,
                         .sex = o->sex,
                         .empty = recipe->empty && !recipe->aside,
                         .length_px = o->abdomen_px };
  DemoDrawing *d = recipe->kind >= RECIPE_RELIEF
                     ? style_draw ((Style) (recipe->kind - RECIPE_RELIEF), &style)
                     : demo_draw (o);

  if (recipe->camera)
    recipe_camera (d, recipe->options.seed);
  recipe_mark (recipe, d, 0);
  return d;
}

ImgPixels *
recipe_pixels (const DemoDrawing *d)
{
  gsize stride = (gsize) 3 * (gsize) d->width;

  return img_pixels_new_take (d->width, d->height, stride,
                              g_bytes_new (d->rgb, stride * (gsize) d->height));
}
