/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-draw-vary.c — abdomens drawn far wider than any one kind of animal: what
 * the finder is fitted on, so that it learns plates and not how one program
 * draws them. All ranges are ours, no source.
 */
#include "demo/demo-draw-priv.h"

#include <math.h>

void
demo_vary_lengths (DemoBody *body, DemoSex sex, DemoRand *rand)
{
  double len[DEMO_DRAW_MAX_PLATES], sum = 0.0, at = 0.0;
  int k = body->count;
  double sd = demo_rand_range (rand, .03, .15), slope = .10 * demo_rand_normal (rand);
  double last2 = demo_rand_range (rand, .5, .8), last = demo_rand_range (rand, .55, .95);

  for (int i = 0; i < k; i++)
    {
      len[i] = exp (sd * demo_rand_normal (rand)) * (1.0 + slope * (i - k / 2.0) / 2.0);
      if (i == 0)
        len[i] *= demo_rand_range (rand, .7, 1.15);
      if (sex == DEMO_SEX_FEMALE && i == k - 1)
        len[i] *= demo_rand_range (rand, 1.4, 2.2);
      if (sex == DEMO_SEX_MALE && i == k - 2)
        len[i] *= last2;
      if (sex == DEMO_SEX_MALE && i == k - 1)
        len[i] *= last;
      if (sex == DEMO_SEX_ANY && i == k - 1)
        len[i] *= demo_rand_lognormal (rand, 1.0, .18);
      len[i] = MAX (len[i], .35);
      sum += len[i];
    }
  for (int i = 0; i < k; i++)
    {
      body->edge[i] = at;
      at += len[i] / sum;
    }
  body->edge[k] = 1.0;
}

static SutureStyle
pick_style (guint32 allowed, DemoRand *rand)
{
  static const double usual[N_SUTURES] = { 5, 3, 2, 2.5, 2.5, 2, 1.5, 2.5, 2.5, 1.5, 1.5 };
  double weights[N_SUTURES], sum = 0.0;

  for (int i = 0; i < N_SUTURES; i++)
    {
      weights[i] = allowed == 0 || (allowed & (1u << i)) ? usual[i] : 0.0;
      sum += weights[i];
    }
  return sum > 0.0 ? (SutureStyle) demo_rand_pick (rand, weights, N_SUTURES) : SUTURE_DARK;
}

void
demo_vary_sutures (DemoBody *body, const DemoDrawOptions *options, DemoRand *rand)
{
  SutureStyle style = pick_style (options->sutures, rand);
  double gain = demo_rand_lognormal (rand, 1.0, .35);
  double width = demo_rand_lognormal (rand, 1.15, .45), bent = demo_rand_range (rand, .3, 2.0);
  double mixed = demo_rand_chance (rand, .3) ? demo_rand_range (rand, 0.0, .6) : 0.0;
  double broken = demo_rand_chance (rand, .3) ? demo_rand_range (rand, .3, 1.0) : 0.0;
  double tail = demo_rand_range (rand, .01, .06), green = demo_rand_range (rand, -1.0, 1.0);

  for (int i = 0; i < body->count - 1; i++)
    {
      DemoSuture *line = &body->line[i];

      line->style = demo_rand_chance (rand, mixed) ? pick_style (options->sutures, rand) : style;
      line->amp = MIN (line->amp * gain, .7);
      line->width = CLAMP (line->width * width, .002, .025);
      line->arc *= bent;
      line->tilt *= bent;
      line->broken = broken;
      line->tail = tail;
      line->green = green;
    }
  body->arc0 *= bent;
  body->arc1 *= bent;
  body->tilt *= bent;
  body->vee = demo_rand_chance (rand, .25) ? .04 * demo_rand_normal (rand) : 0.0;
}

static void
vary_stripes (DemoBody *body, DemoRand *rand)
{
  body->n_stripes = demo_rand_chance (rand, .4) ? demo_rand_int (rand, 1, DEMO_MAX_STRIPES) : 0;
  for (int i = 0; i < body->n_stripes; i++)
    body->stripe[i] = (DemoStripe){ .t = demo_rand_range (rand, -.9, .9),
                                    .sd = demo_rand_lognormal (rand, .07, .6),
                                    .gain = .16 * demo_rand_normal (rand),
                                    .wave = demo_rand_range (rand, 0.0, .12) };
}

void
demo_vary_rest (DemoBody *body, DemoRand *rand)
{
  double faint = body->count > 1 ? body->line[0].amp : .1;

  vary_stripes (body, rand);
  body->half_width *= demo_rand_lognormal (rand, 1.0, .2);
  body->half_width = CLAMP (body->half_width, .06, .24);
  body->female = CLAMP (body->female + .35 * demo_rand_normal (rand), 0.0, 1.0);
  body->tip_taper *= demo_rand_range (rand, .4, 1.6);
  body->plate_edge = demo_rand_range (rand, .6, 1.05);
  body->grain *= demo_rand_lognormal (rand, 1.0, .5);
  body->across = demo_rand_chance (rand, .5) ? demo_rand_range (rand, -.08, .5) : 0.0;
  if (demo_rand_chance (rand, .3))
    body->plate_ramp = .12 * demo_rand_normal (rand);
  if (demo_rand_chance (rand, .2))
    {
      body->band = faint * demo_rand_range (rand, -.6, .6);
      body->bandq = demo_rand_range (rand, .2, .8);
    }
  if (demo_rand_chance (rand, .2))
    body->n_marks = 0;
  for (int i = 0; i < body->count; i++)
    {
      double gain = demo_rand_lognormal (rand, 1.0, .01);

      for (int c = 0; c < 3; c++)
        body->plate[i].c[c] *= (float) gain;
    }
}
