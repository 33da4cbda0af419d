/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-pen.c — an abdomen as an illustrator draws it: plates filled one by
 * one, sutures as strokes of uneven thickness that start and stop, hatching,
 * stipple, wash and a dark outline.
 */
#include "style-private.h"

#include <math.h>

#define STROKES 90

typedef struct
{
  double s, t, s2, t2, r; /* ends and radius, radius in s */
  DemoColour ink;
  double alpha;
} PenStroke;

typedef struct
{
  int n;
  PenStroke stroke[STROKES];
  DemoColour ink, fill[STAGE_PLATES];
  double rise, flank, outline, outline_wide, wash, hem, hem_wide;
} Pen;

static void
add_stroke (Pen *pen, PenStroke stroke)
{
  if (pen->n < STROKES)
    pen->stroke[pen->n++] = stroke;
}

/* Where suture i stands at t. */
static double
suture_at (const Stage *g, int i, double t)
{
  double e = g->edge[i + 1];

  return e + (g->arc + g->arc_grows * (e - .5)) * pow (fabs (t), g->arc_power) +
         (g->tilt + g->tilt_grows * (e - .5)) * t;
}

/* One suture: pieces from one side to the other, with gaps. */
static void
draw_suture (const Stage *g, Pen *pen, int i, double r, double gap, double shift, DemoRand *rand)
{
  int pieces = demo_rand_int (rand, 3, 5);
  double from = demo_rand_range (rand, -1.0, -.7), to = demo_rand_range (rand, .7, 1.0);
  double jitter = .35 * g->warp, last = jitter * demo_rand_normal (rand);
  double alpha = fmin (1.0, fmax (.08, 2.6 * g->contrast * demo_rand_lognormal (rand, 1.0, .25)));

  for (int k = 0; k < pieces; k++)
    {
      double a = from + (to - from) * k / pieces, b = from + (to - from) * (k + 1) / pieces;
      double next = jitter * demo_rand_normal (rand);

      if (!demo_rand_chance (rand, gap))
        add_stroke (pen, (PenStroke){ suture_at (g, i, a) + last + shift, a,
                                      suture_at (g, i, b) + next + shift, b,
                                      r * demo_rand_lognormal (rand, 1.0, .2), pen->ink, alpha });
      last = next;
    }
}

static void
draw_sutures (const Stage *g, Pen *pen, DemoRand *rand)
{
  double r = demo_rand_lognormal (rand, .0045, .4);
  double gap = demo_rand_chance (rand, .35) ? demo_rand_range (rand, .05, .35) : 0.0;
  gboolean twice = demo_rand_chance (rand, .25);
  double apart = demo_rand_range (rand, .008, .018);

  for (int i = 0; i < g->count - 1; i++)
    {
      draw_suture (g, pen, i, r, gap, 0.0, rand);
      if (twice)
        draw_suture (g, pen, i, .7 * r, gap, apart, rand);
    }
}

/* Hatching, pleats, scratches: short, or lengthwise, or slanted. */
static void
draw_hatching (const Stage *g, Pen *pen, DemoRand *rand)
{
  int n = (int) (demo_rand_range (rand, 0, 22) * g->clutter);
  gboolean ordered = demo_rand_chance (rand, .4);
  double q = demo_rand_range (rand, .1, .5), len = demo_rand_range (rand, .04, .3);
  double lean = demo_rand_range (rand, -.05, .05), r = demo_rand_lognormal (rand, .004, .4);

  for (int i = 0; i < n; i++)
    {
      double s = demo_rand_unit (rand), t = demo_rand_range (rand, -.9, .9), own = len;
      double slope = ordered ? lean : .12 * demo_rand_normal (rand);
      int plate = demo_rand_int (rand, 0, MAX (0, g->count - 1));
      double alpha = fmin (1.0, fmax (.05, 2.2 * g->contrast * demo_rand_range (rand, .4, 1.2)));

      if (ordered)
        s = g->edge[plate] + q * (g->edge[plate + 1] - g->edge[plate]);
      if (demo_rand_chance (rand, .13))
        {
          t = 0.0;
          own = demo_rand_range (rand, .5, .9);
          alpha *= demo_rand_range (rand, .2, .5);
        }
      add_stroke (pen, (PenStroke){
                         s - slope, t - own, s + slope, t + own, r,
                         demo_rand_chance (rand, .7) ? pen->ink : stage_any_colour (rand), alpha });
    }
}

static void
draw_stipple (const Stage *g, Pen *pen, DemoRand *rand)
{
  int n = demo_rand_chance (rand, .5) ? (int) (30 * g->clutter) : 0;

  for (int i = 0; i < n; i++)
    {
      double s = demo_rand_unit (rand), t = demo_rand_range (rand, -.9, .9);

      add_stroke (pen, (PenStroke){ s, t, s + .001, t, demo_rand_lognormal (rand, .006, .5),
                                    pen->ink, demo_rand_range (rand, .1, .6) });
    }
}

static void
pen_init (const Stage *g, Pen *pen, DemoRand *rand)
{
  double differ = demo_rand_chance (rand, .35) ? demo_rand_range (rand, .02, .1) : .008;
  double dark =
    demo_rand_chance (rand, .7) ? demo_rand_range (rand, .1, .5) : demo_rand_range (rand, 1.5, 2.2);

  *pen = (Pen){ .rise = demo_rand_chance (rand, .5) ? .15 * demo_rand_normal (rand) : 0.0 };
  pen->ink =
    demo_rand_chance (rand, .75) ? demo_colour_scale (g->colour, dark) : stage_any_colour (rand);
  for (int i = 0; i < g->count; i++)
    pen->fill[i] = demo_colour_scale (g->colour, 1.0 + differ * demo_rand_normal (rand));
  pen->flank = demo_rand_range (rand, 0.0, .5);
  pen->outline = demo_rand_chance (rand, .5) ? demo_rand_range (rand, .1, .8) : 0.0;
  pen->outline_wide = demo_rand_range (rand, .02, .12);
  pen->wash = g->contrast * demo_rand_range (rand, .0, .5);
  if (demo_rand_chance (rand, .3))
    pen->hem = stage_signed (rand, .4, 1.2) * g->contrast;
  pen->hem_wide = demo_rand_range (rand, .04, .25);
  draw_sutures (g, pen, rand);
  draw_hatching (g, pen, rand);
  draw_stipple (g, pen, rand);
}

/* Inks one stroke into the map; across counts as the half width makes it. */
static void
ink (const Stage *g, Skin *skin, const PenStroke *k)
{
  double w = g->half, ax = k->s, ay = k->t * w, dx = k->s2 - ax, dy = k->t2 * w - ay;
  double r = MAX (k->r, .5 / g->length), pad = 2.0 * r + 1.5 / skin->ns, n2 = dx * dx + dy * dy;
  int x0 = CLAMP ((int) ((MIN (k->s, k->s2) - pad) * skin->ns), 0, skin->ns);
  int x1 = CLAMP ((int) ((MAX (k->s, k->s2) + pad) * skin->ns) + 1, 0, skin->ns);
  double alpha = k->alpha * k->r / r;

  for (int y = 0; y < skin->nt; y++)
    for (int x = x0; x < x1; x++)
      {
        double px = (x + .5) / skin->ns - ax, py = (2.0 * (y + .5) / skin->nt - 1.0) * w - ay;
        double q = CLAMP ((px * dx + py * dy) / MAX (n2, 1e-12), 0.0, 1.0), d;

        d = hypot (px - q * dx, py - q * dy);
        if (d < 1.6 * r)
          demo_canvas_mix (skin->rgb + 3 * ((gsize) y * (gsize) skin->ns + (gsize) x), k->ink,
                           alpha * demo_smoothstep (1.6 * r, .5 * r, d));
      }
}

void
style_pen_skin (Stage *g, Skin *skin)
{
  Pen pen;
  double grain = demo_rand_lognormal (&g->rand, 18, .5), side = demo_rand_range (&g->rand, -.4, .4);

  pen_init (g, &pen, &g->rand);
  for (int y = 0; y < skin->nt; y++)
    for (int x = 0; x < skin->ns; x++)
      {
        float *out = skin->rgb + 3 * ((gsize) y * (gsize) skin->ns + (gsize) x);
        double s = (x + .5) / skin->ns, t = 2.0 * (y + .5) / skin->nt - 1.0, lit, e;
        SkinPlace p = stage_place (g, s, t);

        lit = 1.0 + pen.rise * (p.q - .5) - pen.flank * t * t + side * t;
        lit += pen.wash * demo_fbm (g->seed, grain * s, .3 * grain * t, 3);
        if (p.near >= 0 && p.q > 1.0 - pen.hem_wide)
          lit += pen.hem;
        e = (1.0 - fabs (t)) / pen.outline_wide;
        lit *= 1.0 - pen.outline * exp (-.5 * e * e);
        for (int c = 0; c < 3; c++)
          out[c] = pen.fill[p.plate].c[c] * (float) MAX (.05, lit);
      }
  for (int i = 0; i < pen.n; i++)
    ink (g, skin, &pen.stroke[i]);
}
