/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-draw-scene.c — what lies behind the animal, pictures without one, and
 * what goes wrong in front of the lens.
 */
#include "demo/demo-draw-priv.h"

#include <math.h>

#define GROUND_SIDE 420 /* the ground is out of focus: drawn this small, then stretched */

static DemoColour
any_colour (DemoRand *rand, double lo, double hi, double sat)
{
  double grey = demo_rand_range (rand, lo, hi);

  return demo_colour (CLAMP (grey + sat * demo_rand_normal (rand), .02, 1.0),
                      CLAMP (grey + sat * demo_rand_normal (rand), .02, 1.0),
                      CLAMP (grey + sat * demo_rand_normal (rand), .02, 1.0));
}

static DemoColour
leaf_colour (DemoRand *rand)
{
  double g = demo_rand_range (rand, .22, .72);

  return demo_colour (g * demo_rand_range (rand, .45, 1.0), g, g * demo_rand_range (rand, .2, .6));
}

/* Discs and leaves far out of focus. */
static void
ground_bokeh (DemoCanvas *canvas, DemoRand *rand)
{
  int n = demo_rand_int (rand, 15, 60);

  for (int i = 0; i < n; i++)
    {
      DemoEllipse e = { .x = demo_rand_range (rand, 0, canvas->width),
                        .y = demo_rand_range (rand, 0, canvas->height) };
      gboolean disc = demo_rand_chance (rand, .3);

      e.rx = canvas->width * demo_rand_lognormal (rand, disc ? .035 : .12, .5);
      e.ry = disc ? e.rx : e.rx * demo_rand_range (rand, .15, .5);
      e.angle = demo_rand_range (rand, 0, G_PI);
      e.colour = demo_colour_scale (leaf_colour (rand), disc ? 1.5 : 1.0);
      e.alpha = demo_rand_range (rand, .25, .8);
      e.soft = disc ? .15 : .5;
      demo_canvas_ellipse (canvas, &e);
    }
  demo_canvas_blur (canvas, (DemoRect){ 0, 0, canvas->width, canvas->height },
                    canvas->width * demo_rand_range (rand, .004, .03));
}

/* Net, ruled paper, wood: lines of one direction or two. */
static void
ground_lines (DemoCanvas *canvas, DemoRand *rand)
{
  double step = canvas->width * demo_rand_range (rand, .02, .12);
  double angle = demo_rand_range (rand, 0, G_PI), depth = demo_rand_range (rand, -.35, .2);
  double width = demo_rand_range (rand, .04, .3), wave = demo_rand_range (rand, 0, .5);
  gboolean net = demo_rand_chance (rand, .5);
  guint32 seed = (guint32) demo_rand_bits (rand);
  double ca = cos (angle) / step, sa = sin (angle) / step;

  for (int y = 0; y < canvas->height; y++)
    for (int x = 0; x < canvas->width; x++)
      {
        float *px = canvas->px + 3 * ((gsize) canvas->width * y + x);
        double w = wave * demo_noise (seed, x * .012, y * .012);
        double a = x * ca + y * sa + w, b = y * ca - x * sa + w, gain;

        a -= floor (a) + .5;
        b -= floor (b) + .5;
        gain = exp (-.5 * a * a / (width * width));
        if (net)
          gain = MAX (gain, exp (-.5 * b * b / (width * width)));
        for (int c = 0; c < 3; c++)
          px[c] *= (float) (1.0 + depth * gain);
      }
}

static void
ground_light (DemoCanvas *canvas, DemoRand *rand)
{
  double gx = demo_rand_range (rand, -.3, .3), gy = demo_rand_range (rand, -.3, .3);
  double rough = demo_rand_range (rand, .01, .07), scale = demo_rand_range (rand, .01, .06);
  guint32 seed = (guint32) demo_rand_bits (rand);

  for (int y = 0; y < canvas->height; y++)
    for (int x = 0; x < canvas->width; x++)
      {
        float *px = canvas->px + 3 * ((gsize) canvas->width * y + x);
        double gain = 1.0 + gx * ((double) x / canvas->width - .5) +
                      gy * ((double) y / canvas->height - .5) +
                      rough * demo_fbm (seed, x * scale, y * scale, 3);

        for (int c = 0; c < 3; c++)
          px[c] *= (float) gain;
      }
}

void
demo_scene_ground (DemoCanvas *canvas, DemoColour body, DemoRand *rand)
{
  int w = MIN (GROUND_SIDE, canvas->width);
  int h = MAX (2, (int) ((double) canvas->height * w / canvas->width));
  g_autoptr (DemoCanvas) small = demo_canvas_new (w, h);
  static const double weights[4] = { 3, 3, 2, 1.5 };

  switch (demo_rand_pick (rand, weights, 4))
    {
    case 0:
      demo_canvas_fill (small, any_colour (rand, .25, .93, .03));
      break;
    case 1:
      demo_canvas_fill (small, leaf_colour (rand));
      ground_bokeh (small, rand);
      break;
    case 2:
      demo_canvas_fill (small, any_colour (rand, .35, .9, .05));
      ground_lines (small, rand);
      break;
    default:
      demo_canvas_fill (small, demo_colour_scale (body, demo_rand_range (rand, .75, 1.2)));
      break;
    }
  ground_light (small, rand);
  demo_canvas_stretch (canvas, small);
}

/* A leaf with a midrib and side veins: as regular as plates, yet no animal. */
static void
empty_leaf (DemoCanvas *canvas, const DemoFrame *f, int level, DemoRand *rand)
{
  DemoColour colour = leaf_colour (rand), vein;
  double half = demo_rand_range (rand, .16, .42), turn = demo_rand_range (rand, .5, 1.1);
  double gain = demo_level (level)->contrast * (demo_rand_chance (rand, .75) ? 1.6 : -1.4);
  int n = demo_rand_int (rand, 6, 13);

  vein = demo_colour_scale (colour, 1.0 + gain);
  for (int i = -6; i <= 46; i++)
    {
      double u = -.3 + 1.6 * (i + 6) / 52.0,
             r = half * sqrt (MAX (0, 1.0 - pow (2 * u - 1, 2) / 2.6));
      DemoPoint p = demo_frame_axis (f, u, 0), l = demo_frame_axis (f, u, r);
      DemoPoint m = demo_frame_axis (f, u, -r);

      demo_canvas_stroke (canvas, &(DemoStroke){ l.x, l.y, .03 * f->length, p.x, p.y,
                                                 .03 * f->length, colour, 1, 0, 1.5 });
      demo_canvas_stroke (canvas, &(DemoStroke){ m.x, m.y, .03 * f->length, p.x, p.y,
                                                 .03 * f->length, colour, 1, 0, 1.5 });
    }
  for (int i = 0; i < 2 * n; i++)
    {
      double u = -.25 + 1.4 * (i / 2) / n + .012 * demo_rand_normal (rand), r = half * .9;
      DemoPoint p = demo_frame_axis (f, u, 0);
      DemoPoint q;

      r *= sqrt (MAX (0, 1.0 - pow (2 * CLAMP ((u + .3) / 1.6 + turn * r, 0, 1) - 1, 2)));
      q = demo_frame_axis (f, u + turn * r, i % 2 ? r : -r);

      demo_canvas_stroke (canvas, &(DemoStroke){ p.x, p.y, .006 * f->length, q.x, q.y,
                                                 .002 * f->length, vein, .8, 0, 1.5 });
    }
  {
    DemoPoint p = demo_frame_axis (f, -.3, 0), q = demo_frame_axis (f, 1.25, 0);

    demo_canvas_stroke (canvas, &(DemoStroke){ p.x, p.y, .014 * f->length, q.x, q.y,
                                               .005 * f->length, vein, .9, 0, 1.5 });
  }
}

static void
empty_texture (DemoCanvas *canvas,
               const DemoFrame *f,
               double long_scale,
               double cross_scale,
               double depth,
               guint32 seed)
{
  for (int y = 0; y < canvas->height; y++)
    for (int x = 0; x < canvas->width; x++)
      {
        float *px = canvas->px + 3 * ((gsize) canvas->width * y + x);
        double qx = (x - f->x) / f->length, qy = (y - f->y) / f->length;
        double u = qx * f->ca + qy * f->sa, v = qy * f->ca - qx * f->sa;
        double gain = 1.0 + depth * demo_fbm (seed, long_scale * u, cross_scale * v, 3);

        for (int c = 0; c < 3; c++)
          px[c] *= (float) gain;
      }
}

/* A finger: soft skin, a nail's end, and creases that sit where plates might. */
static void
empty_hand (DemoCanvas *canvas, const DemoFrame *f, DemoRand *rand)
{
  double g = demo_rand_range (rand, .35, .9), half = demo_rand_range (rand, .15, .3);
  DemoColour skin = demo_colour (g, g * .74, g * .6);
  DemoPoint a = demo_frame_axis (f, -.6, 0), b = demo_frame_axis (f, .95, 0);
  int n = demo_rand_int (rand, 2, 9);

  demo_canvas_stroke (canvas, &(DemoStroke){ a.x, a.y, 1.1 * half * f->length, b.x, b.y,
                                             half * f->length, skin, 1, .45, 2 });
  for (int i = 0; i < n; i++)
    {
      double s = demo_rand_chance (rand, .6) ? .35 + .08 * demo_rand_normal (rand)
                                             : demo_rand_range (rand, 0, 1);
      double r = half * demo_rand_range (rand, .3, .8), slant = .05 * demo_rand_normal (rand);
      DemoPoint p = demo_frame_axis (f, s - slant, -r), q = demo_frame_axis (f, s + slant, r);

      demo_canvas_stroke (canvas,
                          &(DemoStroke){ p.x, p.y, .004 * f->length, q.x, q.y, .004 * f->length,
                                         demo_colour_scale (skin, .72), .6, 0, 2 });
    }
}

void
demo_scene_empty (DemoCanvas *canvas,
                  const DemoFrame *f,
                  DemoSubject subject,
                  int level,
                  DemoRand *rand)
{
  guint32 seed = (guint32) demo_rand_bits (rand);
  double depth = demo_rand_range (rand, .06, .4), a, b;

  switch (subject)
    {
    case DEMO_SUBJECT_LEAF:
      empty_leaf (canvas, f, level, rand);
      break;
    case DEMO_SUBJECT_HAND:
      empty_hand (canvas, f, rand);
      break;
    case DEMO_SUBJECT_BARK:
      demo_canvas_fill (canvas, demo_body_colour (rand, DEMO_COLOUR_BROWN));
      a = demo_rand_range (rand, 2, 8);
      b = demo_rand_range (rand, 10, 40);
      if (demo_rand_chance (rand, .5))
        empty_texture (canvas, f, a, b, depth, seed);
      else
        empty_texture (canvas, f, b, a, depth, seed);
      break;
    default:
      demo_canvas_fill (canvas, any_colour (rand, .3, .8, .08));
      a = demo_rand_range (rand, 2, 9);
      empty_texture (canvas, f, a, demo_rand_range (rand, .5, 8), .6 * depth, seed);
      break;
    }
}

static void
mishap_shadow (DemoCanvas *canvas, const DemoFrame *f, DemoRect r, DemoRand *rand)
{
  DemoPoint p = demo_frame_axis (f, demo_rand_range (rand, .1, .9), 0);
  double angle = demo_rand_range (rand, 0, 2 * G_PI), ca = cos (angle), sa = sin (angle);
  double soft = f->length * demo_rand_lognormal (rand, .02, .7),
         deep = demo_rand_range (rand, .2, .5);

  for (int y = r.y0; y < r.y1; y++)
    for (int x = r.x0; x < r.x1; x++)
      {
        float *px = canvas->px + 3 * ((gsize) canvas->width * y + x);
        double d = (x - p.x) * ca + (y - p.y) * sa;
        double gain = 1.0 - deep * demo_smoothstep (-soft, soft, d);

        for (int c = 0; c < 3; c++)
          px[c] *= (float) gain;
      }
}

/* A leg or a thread across the belly. */
static void
mishap_across (DemoCanvas *canvas, const DemoFrame *f, double half, DemoRand *rand)
{
  double s = demo_rand_range (rand, .05, .9), slant = demo_rand_range (rand, -.4, .4);
  double r = half * demo_rand_range (rand, .05, .17) * f->length;
  double out = demo_rand_range (rand, 1.2, 4.0), in = demo_rand_range (rand, -1.5, 1.0);
  double side = demo_rand_chance (rand, .5) ? half : -half;
  DemoPoint p = demo_frame_axis (f, s, side * out), q = demo_frame_axis (f, s + slant, side * in);
  DemoColour colour = demo_body_colour (rand, DEMO_COLOUR_ANY);

  demo_canvas_stroke (canvas, &(DemoStroke){ p.x, p.y, 1.15 * r, q.x, q.y, .8 * r, colour, 1, .6,
                                             MAX (.8, .25 * r) });
}

static void
mishap_glare (DemoCanvas *canvas, const DemoFrame *f, DemoRand *rand)
{
  int n = demo_rand_int (rand, 1, 3);

  for (int i = 0; i < n; i++)
    {
      DemoPoint p = demo_frame_axis (f, demo_rand_range (rand, 0, 1), .1 * demo_rand_normal (rand));

      demo_canvas_ellipse (
        canvas, &(DemoEllipse){ p.x, p.y, f->length * demo_rand_range (rand, .04, .16),
                                f->length * demo_rand_range (rand, .01, .07),
                                demo_rand_range (rand, 0, G_PI), demo_colour (1.05, 1.05, 1.02),
                                demo_rand_range (rand, .4, .95), demo_rand_range (rand, .3, 1.0) });
    }
}

void
demo_mishaps (DemoCanvas *canvas,
              const DemoFrame *f,
              const DemoLevel *level,
              double half_width,
              DemoRand *rand)
{
  DemoPoint m = demo_frame_point (f, .5, 0);
  DemoRect r = demo_canvas_clip (canvas, m.x - 1.6 * f->length, m.y - 1.6 * f->length,
                                 m.x + 1.6 * f->length, m.y + 1.6 * f->length);
  double blur = level->blur * demo_rand_lognormal (rand, 1.0, .35), angle;

  if (demo_rand_chance (rand, .6 * level->odd))
    mishap_across (canvas, f, half_width, rand);
  if (demo_rand_chance (rand, level->odd))
    mishap_shadow (canvas, f, r, rand);
  if (demo_rand_chance (rand, .7 * level->odd))
    mishap_glare (canvas, f, rand);
  demo_canvas_blur (canvas, r, blur * f->length);
  if (demo_rand_chance (rand, level->odd))
    {
      blur *= f->length * demo_rand_range (rand, 1.0, 3.0);
      angle = demo_rand_range (rand, 0, G_PI);
      demo_canvas_motion (canvas, r, blur * cos (angle), blur * sin (angle));
    }
}
