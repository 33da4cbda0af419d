/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-print.c — a whole picture of its own, kept apart: no network is fitted on it,
 * so that it says what a stranger's pictures cost. Every pixel is asked where it lies
 * on the body; ground, limbs, light and spoiling are none of the other styles'.
 */
#include "style-private.h"

#include <math.h>

#define SPOTS 40
#define WRINKLES 16
#define LEGS 4

typedef enum
{
  SUTURE_DARK,
  SUTURE_LIGHT,
  SUTURE_TINT,     /* colour alone */
  SUTURE_STEP,     /* plates shade from front to back */
  SUTURE_MEMBRANE, /* a broad pale band with dark lips */
  N_SUTURES
} SutureKind;

typedef struct
{
  double s, d, radius, gain;
} Spot;

typedef struct
{
  double s, slope, from, to, wide, gain;
} Wrinkle;

typedef struct
{
  double x0, y0, x1, y1, cx, cy, wide; /* a bow from one place to another, axis lengths */
  DemoColour colour;
} Leg;

typedef struct
{
  SutureKind kind;
  double wide, gain, tint[3], of[STAGE_PLATES], bow, skew;
  int n_spots, n_wrinkles, n_legs;
  Spot spot[SPOTS];
  Wrinkle wrinkle[WRINKLES];
  Leg leg[LEGS];
  double stripe[3], stripe_at[3], shine, shine_at, shine_wide, shade, round;
  double shadow_at, shadow_slope, shadow_deep; /* a shadow's edge over all; deep 0: none */
  double grain, thorax;
  DemoColour ground[2], line, limb;
  double step, angle; /* lines of the ground; step 0: none */
} Print;

static double
bell (double x)
{
  return exp (-x * x);
}

static void
choose_marks (const Stage *g, Print *p, DemoRand *rand)
{
  p->n_spots = demo_rand_chance (rand, .5) ? demo_rand_int (rand, 2, SPOTS) : 0;
  for (int i = 0; i < p->n_spots; i++)
    p->spot[i] = (Spot){ demo_rand_unit (rand), demo_rand_range (rand, -1, 1),
                         demo_rand_range (rand, .005, .025), .8 * g->contrast * demo_rand_normal (rand) };
  p->n_wrinkles = (int) (g->clutter * demo_rand_range (rand, 0, 12));
  for (int i = 0; i < MIN (p->n_wrinkles, WRINKLES); i++)
    {
      double mid = demo_rand_range (rand, -1, 1), reach = demo_rand_range (rand, .1, .6);

      p->wrinkle[i] = (Wrinkle){ demo_rand_unit (rand), .05 * demo_rand_normal (rand), mid - reach, mid + reach,
                                 demo_rand_range (rand, .003, .012), .7 * g->contrast * demo_rand_normal (rand) };
    }
  p->n_wrinkles = MIN (p->n_wrinkles, WRINKLES);
  p->n_legs = demo_rand_int (rand, 0, LEGS);
  for (int i = 0; i < p->n_legs; i++)
    {
      double side = demo_rand_chance (rand, .5) ? 1 : -1, s = demo_rand_range (rand, -.2, .5);

      p->leg[i] = (Leg){ s, .8 * side * g->half, s + demo_rand_range (rand, -.4, .5), side * demo_rand_range (rand, .3, .6),
                         s + demo_rand_range (rand, -.3, .3), side * demo_rand_range (rand, .2, .5),
                         demo_rand_range (rand, .006, .02), p->limb };
      if (demo_rand_chance (rand, .1 * g->clutter)) /* across the belly */
        p->leg[i].y1 *= -.6;
    }
}

static void
print_init (const Stage *g, Print *p, DemoRand *rand)
{
  *p = (Print){ .kind = (SutureKind) demo_rand_int (rand, 0, N_SUTURES - 1),
                .wide = demo_rand_lognormal (rand, .010, .35),
                .gain = 1.1 * g->contrast };
  for (int i = 0; i < STAGE_PLATES; i++)
    p->of[i] = fmax (.4, 1.0 + .25 * demo_rand_normal (rand));
  for (int c = 0; c < 3; c++)
    p->tint[c] = demo_rand_normal (rand);
  p->bow = .03 * demo_rand_normal (rand);
  p->skew = .02 * demo_rand_normal (rand);
  for (int i = 0; i < 3; i++)
    {
      p->stripe[i] = demo_rand_chance (rand, .4) ? .12 * demo_rand_normal (rand) : 0.0;
      p->stripe_at[i] = demo_rand_range (rand, -.9, .9);
    }
  p->shine = demo_rand_chance (rand, .4) ? demo_rand_range (rand, .05, .5) : 0.0;
  p->shine_at = demo_rand_range (rand, -.6, .6);
  p->shine_wide = demo_rand_range (rand, .05, .25);
  p->shade = .3 * demo_rand_normal (rand);
  p->round = demo_rand_range (rand, .2, 1.2);
  p->grain = .3 * g->contrast * g->clutter * demo_rand_unit (rand);
  p->thorax = demo_rand_range (rand, .5, 1.2);
  if (demo_rand_chance (rand, .15 * g->clutter))
    p->shadow_deep = demo_rand_range (rand, .2, .5);
  p->shadow_at = demo_rand_range (rand, .1, .9);
  p->shadow_slope = demo_rand_normal (rand);
  for (int i = 0; i < 2; i++)
    p->ground[i] = demo_rand_chance (rand, .3) ? demo_colour_scale (g->colour, demo_rand_range (rand, .8, 1.2))
                                               : stage_any_colour (rand);
  p->line = stage_any_colour (rand);
  p->limb = demo_colour_scale (g->colour, demo_rand_range (rand, .7, 1.1));
  p->step = demo_rand_chance (rand, .35) ? demo_rand_range (rand, .05, .3) : 0.0;
  p->angle = demo_rand_range (rand, 0, G_PI);
  choose_marks (g, p, rand);
}

static void
add_suture (const Stage *g, const Print *p, double s, double t, float px[3])
{
  double along = s - p->bow * (t * t - .3) - p->skew * t, wide = MAX (p->wide, .8 / g->length);

  for (int j = 1; j < g->count; j++)
    {
      double x = (along - g->edge[j]) / wide, v = bell (x), gain = p->gain * p->of[j];

      if (p->kind == SUTURE_STEP) /* light before the suture, dark behind, fading within the plate */
        v = x < 0 ? .6 * bell (x / 2) : -exp (-x / 3) * MIN (1.0, x + .3);
      else if (p->kind == SUTURE_MEMBRANE)
        v = bell (x / 1.8) - .9 * bell ((x - 2.4) / .7) - .9 * bell ((x + 2.4) / .7);
      for (int c = 0; c < 3; c++)
        px[c] *= (float) exp (gain * v *
                              (p->kind == SUTURE_TINT   ? .7 * p->tint[c]
                               : p->kind == SUTURE_DARK ? -1.3
                                                        : 1.0));
    }
}

static void
body_colour (const Stage *g, const Print *p, double s, double t, double least, float px[3])
{
  double v = 1.0 + p->shade * t - .35 * p->round * t * t;

  for (int i = 0; i < 3; i++)
    v += p->stripe[i] * bell ((t - p->stripe_at[i]) / .12);
  v += p->grain * demo_fbm (g->seed, 60 * s, 9 * t, 2);
  for (int i = 0; i < p->n_spots; i++)
    v += p->spot[i].gain * bell (hypot (s - p->spot[i].s, g->half * (t - p->spot[i].d)) / p->spot[i].radius);
  for (int i = 0; i < p->n_wrinkles; i++)
    {
      const Wrinkle *w = &p->wrinkle[i];

      if (t > w->from && t < w->to)
        v += w->gain * bell ((s - w->s - w->slope * t) / MAX (w->wide, least));
    }
  for (int c = 0; c < 3; c++)
    px[c] = (float) MAX (.01, (double) g->colour.c[c] * v);
  add_suture (g, p, s, t, px);
  for (int c = 0; c < 3; c++)
    px[c] += (float) (p->shine * bell ((t - p->shine_at) / p->shine_wide) * (.7 + .3 * sin (9 * s)));
}

/* A stroke bowed towards (cx, cy): the parabola through three places. */
static void
draw_leg (const Stage *g, const Leg *l)
{
  DemoPoint from = { 0 };

  for (int i = 0; i <= 12; i++)
    {
      double q = i / 12.0, a = (1 - q) * (1 - q), b = 2 * q * (1 - q), c = q * q;
      DemoPoint to = stage_point (g, a * l->x0 + b * l->cx + c * l->x1, a * l->y0 + b * l->cy + c * l->y1);
      double r = MAX (.6, l->wide * g->length);

      if (i > 0)
        demo_canvas_stroke (g->canvas, &(DemoStroke){ from.x, from.y, r, to.x, to.y, r, l->colour, 1.0, .4, 1.0 });
      from = to;
    }
}

static void
paint_ground (const Stage *g, const Print *p)
{
  for (int y = 0; y < g->canvas->height; y++)
    for (int x = 0; x < g->canvas->width; x++)
      {
        double u = (double) x / g->canvas->width, v = (double) y / g->canvas->height;
        float *px = g->canvas->px + 3 * ((gsize) g->canvas->width * (gsize) y + (gsize) x);
        DemoColour at = demo_colour_mix (p->ground[0], p->ground[1],
                                         CLAMP (u * cos (p->angle) + v * sin (p->angle), 0.0, 1.0));
        double across = u * sin (p->angle) - v * cos (p->angle);

        for (int c = 0; c < 3; c++)
          px[c] = at.c[c] * (float) (1.0 + .08 * demo_noise (g->seed + 9u, 25 * u, 25 * v));
        if (p->step > 0.0 && fabs (across / p->step - round (across / p->step)) < .06)
          demo_canvas_mix (px, p->line, .7);
      }
}

/* Where a pixel lies: nearest place of the axis, and how far off it. */
static gboolean
place_of (const Stage *g, const DemoPoint *axis, int n, double x, double y, double *s, double *d)
{
  double best = 1e300, dx, dy;
  int at = 0;

  for (int i = 0; i < n; i++)
    {
      double far = (axis[i].x - x) * (axis[i].x - x) + (axis[i].y - y) * (axis[i].y - y);

      if (far < best)
        {
          best = far;
          at = i;
        }
    }
  at = CLAMP (at, 1, n - 2);
  dx = (axis[at + 1].x - axis[at - 1].x) * .5;
  dy = (axis[at + 1].y - axis[at - 1].y) * .5;
  *s = (at + ((x - axis[at].x) * dx + (y - axis[at].y) * dy) / (dx * dx + dy * dy)) / (n - 1);
  *d = ((y - axis[at].y) * dx - (x - axis[at].x) * dy) / hypot (dx, dy) / g->length;
  return fabs (*d) < .4 && *s > -.02 && *s < 1.02;
}

static void
paint_body (const Stage *g, const Print *p)
{
  DemoPoint axis[65], m = stage_point (g, .5, 0);
  double reach = .75 * g->length, least = .6 / g->length;
  DemoRect r = demo_canvas_clip (g->canvas, m.x - reach, m.y - reach, m.x + reach, m.y + reach);

  for (int i = 0; i < 65; i++)
    axis[i] = stage_point (g, i / 64.0, 0);
  for (int y = r.y0; y < r.y1; y++)
    for (int x = r.x0; x < r.x1; x++)
      {
        float *px = g->canvas->px + 3 * ((gsize) g->canvas->width * (gsize) y + (gsize) x);
        double s, d, half, in;
        DemoColour body;

        if (!place_of (g, axis, 65, x, y, &s, &d) || s < 0.0 || s > 1.0)
          continue;
        half = g->half * (1.0 + .25 * sin (G_PI * s)) * sqrt (fmin (1.0, (1.0 - s) / .12));
        in = CLAMP ((half - fabs (d)) * g->length + .5, 0.0, 1.0);
        if (in <= 0.0)
          continue;
        body_colour (g, p, s, d / MAX (half, 1e-4), least, body.c);
        demo_canvas_mix (px, body, in);
      }
}

static void
paint_limbs (const Stage *g, const Print *p)
{
  const double w = g->half;

  for (int side = -1; side <= 1; side += 2)
    draw_leg (g, &(Leg){ .97, side * .3 * w, 1.1, side * .8 * w, 1.04, side * .4 * w, .012, p->limb });
  for (int i = 0; i < 10; i++) /* thorax, in rings */
    {
      DemoPoint at = stage_point (g, -.02 - .04 * i, 0);
      double r = p->thorax * w * g->length;

      demo_canvas_ellipse (g->canvas, &(DemoEllipse){ at.x, at.y, r, r, 0, demo_colour_scale (p->limb, i % 3 ? 1.0 : .85),
                                                      1.0, .1 });
    }
}

static void
spoil (Stage *g, const Print *p)
{
  DemoRect all = { 0, 0, g->canvas->width, g->canvas->height };
  double sd = 1.2 * g->blur * g->length, slope = p->shadow_slope;

  for (int y = 0; p->shadow_deep > 0.0 && y < all.y1; y++)
    for (int x = 0; x < all.x1; x++)
      if ((double) y / all.y1 > p->shadow_at + slope * ((double) x / all.x1 - .5))
        for (int c = 0; c < 3; c++)
          g->canvas->px[3 * ((gsize) all.x1 * (gsize) y + (gsize) x) + (gsize) c] *= (float) (1.0 - p->shadow_deep);
  demo_canvas_blur (g->canvas, all, sd);
  if (demo_rand_chance (&g->rand, .1 * g->clutter))
    demo_canvas_motion (g->canvas, all, 3 * sd, sd);
}

void
style_print_picture (Stage *g, gboolean thing)
{
  Print p;

  print_init (g, &p, &g->rand);
  paint_ground (g, &p);
  if (!thing)
    {
      paint_limbs (g, &p);
      paint_body (g, &p);
    }
  for (int i = 0; i < p.n_legs; i++)
    draw_leg (g, &p.leg[i]);
  spoil (g, &p);
}
