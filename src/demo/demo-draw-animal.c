/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-draw-animal.c — everything of the mantis but the abdomen: thorax, legs,
 * tail feelers, wings. Proportions are drawing practice, no source.
 */
#include "demo/demo-draw-priv.h"

#include <math.h>

typedef struct
{
  DemoCanvas *canvas;
  const DemoFrame *frame;
  DemoColour colour;
  double width; /* largest half width of the abdomen, axis lengths */
  DemoRand *rand;
} Limbs;

/* A rod between two places on the animal: s along, d across, radii in axis lengths. */
static void
rod (const Limbs *l, double s0, double d0, double r0, double s1, double d1, double r1, double gain)
{
  DemoPoint p = demo_frame_axis (l->frame, s0, d0), q = demo_frame_axis (l->frame, s1, d1);

  demo_canvas_stroke (l->canvas, &(DemoStroke){ p.x, p.y, MAX (.4, r0 * l->frame->length), q.x, q.y,
                                                MAX (.4, r1 * l->frame->length),
                                                demo_colour_scale (l->colour, gain), 1.0, .6,
                                                MAX (.9, .15 * r0 * l->frame->length) });
}

/* One walking leg: thigh out and back or forward, shank, foot. */
static void
leg (const Limbs *l, double s, double side, double reach, double lean)
{
  double w = l->width, r = .16 * w;
  double knee_s = s + lean * reach,
         knee_d = side * (w * .8 + reach * demo_rand_range (l->rand, .5, .8));
  double foot_s = knee_s + lean * reach * demo_rand_range (l->rand, .4, 1.2);
  double foot_d = knee_d + side * reach * demo_rand_range (l->rand, -.1, .55);

  rod (l, s, side * w * .35, 1.5 * r, s + .03, side * w * .75, 1.1 * r, .9);
  rod (l, s + .03, side * w * .75, r, knee_s, knee_d, .55 * r, .95);
  rod (l, knee_s, knee_d, .5 * r, foot_s, foot_d, .35 * r, .85);
  rod (l, foot_s, foot_d, .3 * r, foot_s + lean * .12, foot_d + side * .1, .2 * r, .8);
}

static void
thorax_and_head (const Limbs *l, double pronotum_front)
{
  double w = l->width;

  rod (l, -.05, 0, .85 * w, -.30, 0, .8 * w, .97);
  rod (l, -.30, 0, .62 * w, pronotum_front + .2, 0, .5 * w, .95);
  rod (l, pronotum_front + .25, 0, .66 * w, pronotum_front + .12, 0, .6 * w, .93);
  rod (l, pronotum_front + .04, -.5 * w, .36 * w, pronotum_front + .04, .5 * w, .36 * w, .9);
  for (int side = -1; side <= 1; side += 2)
    {
      double out = side * w * demo_rand_range (l->rand, 1.4, 2.6);

      rod (l, pronotum_front + .2, side * .5 * w, .28 * w, pronotum_front + .1, out, .26 * w, .92);
      rod (l, pronotum_front + .1, out, .28 * w, pronotum_front - .35, out * .9, .2 * w, .9);
      rod (l, pronotum_front - .35, out * .9, .16 * w, pronotum_front + .02, out * .6, .1 * w, .85);
    }
}

static void
tail_feelers (const Limbs *l)
{
  double spread = demo_rand_range (l->rand, .2, .7), len = demo_rand_range (l->rand, .05, .13);

  for (int side = -1; side <= 1; side += 2)
    rod (l, .985, side * .25 * l->width, .1 * l->width, .985 + len,
         side * (.25 + spread) * l->width, .04 * l->width, .8);
}

static void
walking_legs (const Limbs *l)
{
  for (int side = -1; side <= 1; side += 2)
    {
      leg (l, -.08, side, demo_rand_range (l->rand, .25, .5), demo_rand_range (l->rand, .3, .9));
      leg (l, -.30, side, demo_rand_range (l->rand, .25, .45), demo_rand_range (l->rand, -.9, .1));
    }
}

/* The shadow that the animal throws on what it sits on. */
static void
cast_shadow (const Limbs *l)
{
  double dx = .12 * l->width * demo_rand_normal (l->rand), alpha;
  DemoPoint p = demo_frame_axis (l->frame, -.3, dx), q = demo_frame_axis (l->frame, .9, dx);
  double r = 1.1 * l->width * l->frame->length;

  alpha = demo_rand_range (l->rand, .1, .45);
  demo_canvas_stroke (l->canvas, &(DemoStroke){ p.x, p.y, r, q.x, q.y, .8 * r,
                                                demo_colour (.08, .08, .07), alpha, 0, 1.2 * r });
}

void
demo_animal_below (DemoCanvas *canvas,
                   const DemoFrame *frame,
                   const DemoBody *body,
                   DemoColour colour,
                   DemoRand *rand)
{
  Limbs l = { canvas, frame, colour, body->half_width, rand };

  cast_shadow (&l);
  thorax_and_head (&l, demo_rand_range (rand, -1.3, -.85));
  tail_feelers (&l);
  demo_body_paint (canvas, body, frame);
  walking_legs (&l);
}

void
demo_animal_above (DemoCanvas *canvas,
                   const DemoFrame *frame,
                   const DemoBody *body,
                   DemoColour colour,
                   DemoRand *rand)
{
  Limbs l = { canvas, frame, colour, body->half_width, rand };

  cast_shadow (&l);
  walking_legs (&l);
  tail_feelers (&l);
  demo_body_paint (canvas, body, frame);
  thorax_and_head (&l, demo_rand_range (rand, -1.3, -.85));
}

/* Folded tegmina over the abdomen, with lengthwise veins, and the shield. */
void
demo_animal_wings (DemoCanvas *canvas,
                   const DemoFrame *frame,
                   DemoColour colour,
                   double wing_tip,
                   DemoRand *rand)
{
  double base = -.28, half = demo_rand_range (rand, .13, .17),
         vein = demo_rand_range (rand, .78, .9);
  Limbs l = { canvas, frame, demo_colour_scale (colour, 1.08), half, rand };

  for (int side = -1; side <= 1; side += 2)
    {
      for (int i = 0; i <= 40; i++)
        {
          double q = i / 40.0, s = base + (wing_tip - base) * q;
          double w = half * sqrt (MAX (0.0, 1.0 - pow (q, 3.0))) *
                     (.55 + .45 * sin (G_PI * MIN (1, q + .3)));
          double r = MIN (.52 * w, .9 * (wing_tip - s));

          if (r > 0.0)
            rod (&l, s, side * .48 * w, r, MIN (s + .03, wing_tip - r), side * .48 * w, r, 1.0);
        }
      for (int i = 0; i < 6; i++)
        {
          double d = side * half * (.1 + .14 * i);

          rod (&l, base + .03, d * .7, .0025, base + (wing_tip - base) * .6, d, .003, vein);
          rod (&l, base + (wing_tip - base) * .6, d, .003, wing_tip - .04, d * .35, .002, vein);
        }
    }
  rod (&l, base + .02, 0, .004, wing_tip - .03, 0, .003, .72);
}
