/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-around.c — what stands around the animal of a style, across it, or
 * instead of it, and what the camera does to all. Ours, no source.
 */
#include "style-private.h"

#include <math.h>

static void
multiply (float *px, double gain)
{
  for (int c = 0; c < 3; c++)
    px[c] = (float) MAX (0.0, (double) px[c] * gain);
}

/* Clouds of any roughness, in two colours. */
static void
ground_clouds (DemoCanvas *canvas, DemoColour a, DemoColour b, DemoRand *rand)
{
  double scale = demo_rand_lognormal (rand, 6.0, .9) / canvas->width;
  double squeeze = demo_rand_lognormal (rand, 1.0, .7), sharp = demo_rand_range (rand, .3, 3.0);
  guint32 seed = (guint32) demo_rand_bits (rand);
  int octaves = demo_rand_int (rand, 1, 4);

  for (int y = 0; y < canvas->height; y++)
    for (int x = 0; x < canvas->width; x++)
      {
        double v = demo_fbm (seed, x * scale, y * scale * squeeze, octaves);
        DemoColour mix = demo_colour_mix (a, b, CLAMP (.5 + .5 * sharp * v, 0.0, 1.0));

        for (int c = 0; c < 3; c++)
          canvas->px[3 * ((gsize) canvas->width * (gsize) y + (gsize) x) + (gsize) c] = mix.c[c];
      }
}

static void
ground_clutter (DemoCanvas *canvas, DemoRand *rand)
{
  int n = demo_rand_int (rand, 5, 60);

  for (int i = 0; i < n; i++)
    {
      double x = demo_rand_range (rand, 0, canvas->width);
      double y = demo_rand_range (rand, 0, canvas->height);
      double r = canvas->width * demo_rand_lognormal (rand, .04, .8);
      double angle = demo_rand_range (rand, 0, 2 * G_PI), soft = demo_rand_range (rand, .05, .8);
      DemoColour colour = stage_any_colour (rand);

      if (demo_rand_chance (rand, .5))
        demo_canvas_ellipse (canvas, &(DemoEllipse){ x, y, r, r * demo_rand_range (rand, .1, 1.0),
                                                     angle, colour, .8, soft });
      else
        demo_canvas_stroke (canvas,
                            &(DemoStroke){ x, y, .15 * r, x + 6 * r * cos (angle),
                                           y + 6 * r * sin (angle), .1 * r, colour, .9,
                                           demo_rand_unit (rand), MAX (.8, soft * .1 * r) });
    }
}

/* Boards, cloth, rulers, nets: lines of one or two directions, evenly apart or not. */
static void
ground_rows (DemoCanvas *canvas, DemoRand *rand)
{
  double step = canvas->width * demo_rand_lognormal (rand, .06, .5), at = 0.0;
  double angle = demo_rand_range (rand, 0, G_PI), uneven = demo_rand_range (rand, 0.0, .5);
  double reach = hypot (canvas->width, canvas->height),
         width = step * demo_rand_range (rand, .03, .3);
  DemoColour colour = stage_any_colour (rand);
  int ways = demo_rand_int (rand, 1, 2);
  double alpha = demo_rand_range (rand, .2, .9);

  for (int way = 0; way < ways; way++)
    for (at = -reach; at < reach; at += step * demo_rand_range (rand, 1 - uneven, 1 + uneven))
      {
        double a = angle + way * G_PI / 2, nx = cos (a), ny = sin (a);
        double x = .5 * canvas->width + at * nx, y = .5 * canvas->height + at * ny;

        demo_canvas_stroke (canvas, &(DemoStroke){ x - reach * ny, y + reach * nx, .5 * width,
                                                   x + reach * ny, y - reach * nx, .5 * width,
                                                   colour, alpha, 0.0, MAX (.8, .3 * width) });
      }
}

void
stage_ground (Stage *stage)
{
  DemoRand *rand = &stage->rand;
  DemoCanvas *canvas = stage->canvas;
  DemoColour a = stage_any_colour (rand), b = stage_any_colour (rand);
  gboolean like = demo_rand_chance (rand, .35);
  double blur = canvas->width * demo_rand_range (rand, 0.0, .03);

  if (like)
    {
      a = demo_colour_scale (stage->colour, demo_rand_range (rand, .7, 1.25));
      b = demo_colour_scale (stage->colour, demo_rand_range (rand, .7, 1.25));
    }
  if (demo_rand_chance (rand, .6))
    ground_clouds (canvas, a, b, rand);
  else
    demo_canvas_fill (canvas, a);
  if (demo_rand_chance (rand, .35))
    ground_clutter (canvas, rand);
  if (demo_rand_chance (rand, .3))
    ground_rows (canvas, rand);
  if (demo_rand_chance (rand, .6))
    demo_canvas_blur (canvas, (DemoRect){ 0, 0, canvas->width, canvas->height }, blur);
}

/* A rod from one place to another: s, d and radius in axis lengths. */
static void
rod (Stage *g, const double from[3], const double to[3], DemoColour colour, double round)
{
  DemoPoint p = stage_point (g, from[0], from[1]), q = stage_point (g, to[0], to[1]);
  double r0 = MAX (.5, from[2] * g->length), r1 = MAX (.5, to[2] * g->length);

  demo_canvas_stroke (g->canvas, &(DemoStroke){ p.x, p.y, r0, q.x, q.y, r1, colour, 1.0, round,
                                                MAX (.8, .1 * r0) });
}

/* The thorax ends in lines of its own, and so may the tail: no plates of the belly. */
static void
lines_beyond (Stage *g, double from, double to, double width)
{
  DemoRand *rand = &g->rand;
  int n = demo_rand_int (rand, 0, 3);
  double gain = 1.0 + stage_signed (rand, .5, 2.0) * g->contrast;

  for (int i = 0; i < n; i++)
    {
      double s = demo_rand_range (rand, from, to), slant = .03 * demo_rand_normal (rand);
      double r = demo_rand_lognormal (rand, .006, .4);

      rod (g, (double[]){ s - slant, -.8 * width, r }, (double[]){ s + slant, .8 * width, r },
           demo_colour_scale (g->colour, gain), 0.0);
    }
}

void
stage_limbs (Stage *g)
{
  DemoRand *rand = &g->rand;
  DemoColour limb = demo_colour_scale (g->colour, demo_rand_range (rand, .75, 1.15));
  double w = g->half, round = demo_rand_range (rand, 0.0, .9);
  double broad = demo_rand_range (rand, .6, 1.3) * w, tail = demo_rand_range (rand, .03, .16);
  double spread = demo_rand_range (rand, .0, .7), lobe = demo_rand_range (rand, .2, .8) * w;
  int legs = demo_rand_int (rand, 0, 6);

  if (demo_rand_chance (rand, .6)) /* shadow below */
    rod (g, (double[]){ -.2, .15 * w, 1.1 * w }, (double[]){ .95, .15 * w, 1.0 * w },
         demo_colour_scale (demo_colour (.2, .2, .2), demo_rand_range (rand, .3, 1.5)), 0.0);
  if (demo_rand_chance (rand, .85))
    {
      rod (g, (double[]){ -.04, 0, broad }, (double[]){ -.4, 0, broad * .9 }, limb, round);
      lines_beyond (g, -.3, -.02, broad);
    }
  if (demo_rand_chance (rand, .5)) /* what stands out behind the last plate */
    {
      rod (g, (double[]){ .95, 0, lobe }, (double[]){ .95 + .7 * tail, 0, .5 * lobe },
           demo_colour_scale (limb, demo_rand_range (rand, .7, 1.2)), round);
      lines_beyond (g, 1.0, 1.0 + tail, .5 * lobe);
    }
  for (int side = -1; side <= 1 && demo_rand_chance (rand, .9); side += 2)
    rod (g, (double[]){ .96, side * .3 * w, .12 * w },
         (double[]){ .98 + tail, side * (.3 + spread) * w, .04 * w }, limb, round);
  for (int i = 0; i < legs; i++)
    {
      double s = demo_rand_range (rand, -.35, .5), side = demo_rand_chance (rand, .5) ? 1 : -1;
      double knee = s + demo_rand_range (rand, -.3, .4), out = demo_rand_range (rand, 1.2, 3.0) * w;
      double r = demo_rand_range (rand, .06, .2) * w;

      rod (g, (double[]){ s, side * .5 * w, r }, (double[]){ knee, side * out, .7 * r }, limb,
           round);
      rod (g, (double[]){ knee, side * out, .6 * r },
           (double[]){ knee + demo_rand_range (rand, -.2, .6), side * out * .9, .4 * r }, limb,
           round);
    }
}

static void
shadow_edge (Stage *g)
{
  DemoRand *rand = &g->rand;
  DemoPoint p = stage_point (g, demo_rand_unit (rand), 0);
  double angle = demo_rand_range (rand, 0, 2 * G_PI), deep = demo_rand_range (rand, .15, .6);
  double soft = g->length * demo_rand_lognormal (rand, .02, .8);
  double band = demo_rand_chance (rand, .4) ? g->length * demo_rand_range (rand, .03, .3) : 1e9;

  for (int y = 0; y < g->canvas->height; y++)
    for (int x = 0; x < g->canvas->width; x++)
      {
        double d = (x - p.x) * cos (angle) + (y - p.y) * sin (angle);
        double in = demo_smoothstep (-soft, soft, d) * demo_smoothstep (-soft, soft, band - d);

        multiply (g->canvas->px + 3 * ((gsize) g->canvas->width * (gsize) y + (gsize) x),
                  1.0 - deep * in);
      }
}

static void
leg_across (Stage *g)
{
  DemoRand *rand = &g->rand;
  DemoColour limb = demo_rand_chance (rand, .6)
                      ? demo_colour_scale (g->colour, demo_rand_range (rand, .5, 1.4))
                      : stage_any_colour (rand);
  double s = demo_rand_range (rand, -.05, 1.0), w = g->half,
         r = demo_rand_range (rand, .03, .18) * w;
  double to = demo_rand_chance (rand, .5) ? demo_rand_range (rand, -2.0, -1.0)
                                          : demo_rand_range (rand, -.8, .8);
  double side = demo_rand_chance (rand, .5) ? w : -w;

  rod (g, (double[]){ s, 2.5 * side, r },
       (double[]){ s + demo_rand_range (rand, -.3, .3), to * side, .8 * r }, limb,
       demo_rand_unit (rand));
}

static void
glare (Stage *g)
{
  DemoRand *rand = &g->rand;
  DemoPoint p = stage_point (g, demo_rand_unit (rand), g->half * demo_rand_range (rand, -.7, .7));

  demo_canvas_ellipse (
    g->canvas, &(DemoEllipse){ p.x, p.y, g->length * demo_rand_lognormal (rand, .05, .7),
                               g->length * demo_rand_lognormal (rand, .02, .6),
                               demo_rand_range (rand, 0, G_PI), demo_colour (1.1, 1.1, 1.05),
                               demo_rand_range (rand, .3, 1.0), demo_rand_range (rand, .2, 1.0) });
}

void
stage_mishaps (Stage *g)
{
  DemoRand *rand = &g->rand;
  DemoRect all = { 0, 0, g->canvas->width, g->canvas->height };
  double odd = .12 * g->clutter * g->clutter, blur = g->blur * g->length, angle;

  if (demo_rand_chance (rand, odd))
    shadow_edge (g);
  for (int i = 0; i < 2 && demo_rand_chance (rand, odd); i++)
    leg_across (g);
  for (int i = 0; i < 3 && demo_rand_chance (rand, odd); i++)
    glare (g);
  if (demo_rand_chance (rand, .5 * odd)) /* haze of a dirty pane */
    for (gsize i = 0; i < (gsize) 3 * (gsize) all.x1 * (gsize) all.y1; i++)
      g->canvas->px[i] = .7f * g->canvas->px[i] + .22f;
  demo_canvas_blur (g->canvas, all, blur);
  if (demo_rand_chance (rand, odd))
    {
      angle = demo_rand_range (rand, 0, G_PI);
      blur *= demo_rand_range (rand, 1.0, 3.5);
      demo_canvas_motion (g->canvas, all, blur * cos (angle), blur * sin (angle));
    }
}

/* Ribs on both sides of the axis, at any slant: leaves, feathers, wings. */
static void
thing_ribs (Stage *g, double half)
{
  DemoRand *rand = &g->rand;
  double slant = demo_rand_range (rand, .15, .9), step = demo_rand_range (rand, .05, .2);
  DemoColour line = demo_colour_scale (g->colour, 1.0 + stage_signed (rand, .5, 2.0) * g->contrast);
  double r = demo_rand_lognormal (rand, .006, .5), off = demo_rand_range (rand, 0.0, step);

  for (double s = -.4; s < 1.2; s += step * demo_rand_range (rand, .85, 1.15))
    for (int side = -1; side <= 1; side += 2)
      {
        double at = s + (side > 0 ? off : 0.0);

        rod (g, (double[]){ at, 0, r }, (double[]){ at + slant * half, side * half, .5 * r }, line,
             0.0);
      }
  rod (g, (double[]){ -.5, 0, 2 * r }, (double[]){ 1.4, 0, r }, line, 0.0);
}

/* Creases and cracks anywhere. */
static void
thing_cracks (Stage *g, double half)
{
  DemoRand *rand = &g->rand;
  int n = demo_rand_int (rand, 0, 14);

  for (int i = 0; i < n; i++)
    {
      double s = demo_rand_range (rand, -.2, 1.2), d = demo_rand_range (rand, -half, half);
      double angle = demo_rand_range (rand, 0, G_PI), len = demo_rand_lognormal (rand, .1, .7);
      double r = demo_rand_lognormal (rand, .006, .5);

      rod (g, (double[]){ s - len * cos (angle), d - len * sin (angle), r },
           (double[]){ s + len * cos (angle), d + len * sin (angle), r },
           demo_colour_scale (g->colour, 1.0 + stage_signed (rand, .3, 2.0) * g->contrast), 0.0);
    }
}

void
stage_thing (Stage *g)
{
  DemoRand *rand = &g->rand;
  double half = demo_rand_lognormal (rand, .16, .4), round = demo_rand_unit (rand);
  int kind = demo_rand_int (rand, 0, 4);

  if (kind == 0)
    return; /* the bare ground */
  if (kind != 1)
    rod (g, (double[]){ -.5, 0, half }, (double[]){ demo_rand_range (rand, .9, 1.4), 0, half },
         g->colour, round);
  else
    ground_clouds (g->canvas, g->colour,
                   demo_colour_scale (g->colour, demo_rand_range (rand, .5, 1.5)), rand);
  if (kind == 2)
    thing_ribs (g, half);
  else
    thing_cracks (g, half);
}
