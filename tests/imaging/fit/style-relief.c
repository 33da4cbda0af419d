/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-relief.c — the belly as a landscape: plates are shingles, cushions or
 * slabs; sutures are edges, grooves and ridges; light falls from one side and
 * shines back. Heights are in axis lengths.
 */
#include "style-private.h"

#include <math.h>

#define WRINKLES 16

typedef struct
{
  double s, t, angle, reach, width, deep;
} Wrinkle;

typedef struct
{
  double shingle, shingle_power, cushion, groove, groove_wide, ridge, ridge_wide;
  double dome, dome_power, keel, fold, fold_at; /* across: belly, midline, side folds */
  double rough, grain, squeeze;
  int n_wrinkles;
  Wrinkle wrinkle[WRINKLES];
  double uneven[STAGE_PLATES];
} Heights;

typedef struct
{
  double lx, ly, lz, ambient, gloss, shine, hollow;
  double membrane, membrane_wide, band, band_at, band_wide, mottle, mottle_grain;
  DemoColour skin_between, pattern;
  double spots, stripe, stripe_at, stripe_wide;
} Surface;

static double
bump (double x)
{
  return exp (-.5 * x * x);
}

static void
choose_heights (const Stage *g, Heights *h, DemoRand *rand)
{
  double uneven = demo_rand_range (rand, .1, .45);
  int kind = demo_rand_int (rand, 0, 4);

  *h = (Heights){ .dome = demo_rand_range (rand, .2, 1.2) * g->half };
  if (kind == 0 || kind == 4)
    h->shingle = stage_signed (rand, .5, 1.0);
  if (kind == 1 || kind == 4)
    h->cushion = stage_signed (rand, .3, 1.0);
  if (kind == 2 || demo_rand_chance (rand, .3))
    h->groove = demo_rand_range (rand, .3, 1.0);
  if (kind == 3)
    h->ridge = demo_rand_range (rand, .4, 1.0);
  h->shingle_power = demo_rand_range (rand, 1.0, 4.0);
  h->groove_wide = demo_rand_lognormal (rand, .009, .4);
  h->ridge_wide = demo_rand_lognormal (rand, .010, .4);
  h->dome_power = demo_rand_range (rand, 1.2, 3.0);
  h->keel = demo_rand_chance (rand, .35) ? .015 * demo_rand_normal (rand) : 0.0;
  h->fold = demo_rand_chance (rand, .4) ? .012 * demo_rand_normal (rand) : 0.0;
  h->fold_at = demo_rand_range (rand, .5, .9);
  h->rough = demo_rand_range (rand, .02, .35) * g->clutter;
  h->grain = demo_rand_lognormal (rand, 35, .5);
  h->squeeze = demo_rand_lognormal (rand, .15, .6);
  h->n_wrinkles = (int) fmin (WRINKLES, demo_rand_range (rand, 0, 12) * g->clutter);
  for (int i = 0; i < h->n_wrinkles; i++)
    {
      gboolean across = demo_rand_chance (rand, .2);

      h->wrinkle[i] =
        (Wrinkle){ .s = demo_rand_unit (rand),
                   .t = across ? 0.0 : .5 * demo_rand_normal (rand),
                   .angle = .15 * demo_rand_normal (rand),
                   .reach = demo_rand_range (rand, across ? .5 : .08, across ? .9 : .35),
                   .width = demo_rand_lognormal (rand, .007, .4),
                   .deep = stage_signed (rand, across ? .15 : .3, across ? .5 : 1.0) };
    }
  for (int i = 0; i < STAGE_PLATES; i++)
    h->uneven[i] = fmax (.4, demo_rand_lognormal (rand, 1.0, uneven));
}

/* The lie of the land at one place; `cut` scales all that marks plates, `rest` all else. */
static double
height_at (const Stage *g, const Heights *h, const SkinPlace *p, double cut, double rest)
{
  double t = fabs (p->t), len = g->edge[p->plate + 1] - g->edge[p->plate], v, x;
  double q = CLAMP (p->q, 0.0, 1.0), flank = 1.0 - .6 * demo_smoothstep (.75, 1.0, t), own = 0.0;

  v = h->dome * pow (MAX (0.0, 1.0 - pow (t, h->dome_power)), .6);
  v += h->keel * bump (p->t / .12) + h->fold * bump ((t - h->fold_at) / .06);
  own += h->shingle * (g->count > 1 ? pow (q, h->shingle_power) : 0.0) * len * .35;
  own += h->cushion * len * .5 * (g->count > 1 ? 4.0 * q * (1.0 - q) : 0.0);
  if (p->near >= 0)
    {
      x = p->to_near;
      own -= 1.4 * h->groove * h->uneven[p->near] * h->groove_wide * bump (x / h->groove_wide);
      own += 1.4 * h->ridge * h->uneven[p->near] * h->ridge_wide * bump (x / h->ridge_wide);
    }
  v += cut * flank * own * h->uneven[(p->plate + 3) % STAGE_PLATES];
  for (int i = 0; i < h->n_wrinkles; i++)
    {
      const Wrinkle *k = &h->wrinkle[i];
      double ds = p->along - k->s - k->angle * .3 * (p->t - k->t), dt = (p->t - k->t) / k->reach;

      if (fabs (ds) < 3.5 * k->width && fabs (dt) < 1.5)
        v += rest * k->deep * k->width * bump (ds / k->width) * bump (1.6 * dt * dt);
    }
  return v + rest * h->rough * .012 *
               demo_fbm (g->seed + 9u, h->grain * p->s, h->squeeze * h->grain * p->t, 3);
}

static void
choose_surface (const Stage *g, Surface *f, DemoRand *rand)
{
  double around = demo_rand_range (rand, 0, 2 * G_PI), steep = demo_rand_range (rand, .35, 1.4);

  *f = (Surface){ .ambient = demo_rand_range (rand, .15, .7) };
  f->lx = cos (around) * cos (steep);
  f->ly = sin (around) * cos (steep);
  f->lz = sin (steep);
  f->gloss = demo_rand_chance (rand, .6) ? demo_rand_range (rand, 0.0, .5) : 0.0;
  f->shine = demo_rand_lognormal (rand, 16, .6);
  f->hollow = demo_rand_range (rand, 0.0, 1.0);
  if (demo_rand_chance (rand, .35))
    f->membrane = demo_rand_range (rand, .2, 1.0);
  f->membrane_wide = demo_rand_lognormal (rand, .012, .5);
  f->skin_between = stage_any_colour (rand);
  if (demo_rand_chance (rand, .3))
    f->band = stage_signed (rand, .2, 1.0);
  f->band_at = demo_rand_range (rand, .1, .95);
  f->band_wide = demo_rand_range (rand, .04, .25);
  f->mottle = g->contrast * demo_rand_range (rand, 0.0, .4) * g->clutter;
  f->mottle_grain = demo_rand_lognormal (rand, 20, .6);
  f->pattern = stage_any_colour (rand);
  f->spots = demo_rand_chance (rand, .35) ? demo_rand_range (rand, .2, .8) : 0.0;
  f->stripe = demo_rand_chance (rand, .35) ? .5 * demo_rand_normal (rand) : 0.0;
  f->stripe_at = demo_rand_range (rand, 0.0, .8);
  f->stripe_wide = demo_rand_range (rand, .03, .2);
}

static void
colour_at (const Stage *g, const Surface *f, const SkinPlace *p, double cut, float rgb[3])
{
  double v = 1.0, spot;

  for (int c = 0; c < 3; c++)
    rgb[c] = g->colour.c[c];
  if (p->near >= 0 && f->membrane > 0.0)
    demo_canvas_mix (rgb, f->skin_between,
                     MIN (1.0, 2.0 * cut * g->contrast * f->membrane) *
                       bump (p->to_near / f->membrane_wide));
  if (g->count > 1)
    v += f->band * g->contrast * MIN (1.0, cut) * bump ((p->q - f->band_at) / f->band_wide);
  v += f->mottle * demo_fbm (g->seed + 1u, f->mottle_grain * p->s, .2 * f->mottle_grain * p->t, 2);
  v += .3 * f->stripe * bump ((fabs (p->t) - f->stripe_at) / f->stripe_wide);
  spot = demo_noise (g->seed + 2u, 1.7 * f->mottle_grain * p->s, .35 * f->mottle_grain * p->t);
  demo_canvas_mix (rgb, f->pattern, f->spots * .5 * demo_smoothstep (.55, .7, spot));
  for (int c = 0; c < 3; c++)
    rgb[c] *= (float) MAX (.1, v);
}

/* Heights of the whole map into `out`. */
static void
survey (const Stage *g, const Heights *h, const Skin *skin, double cut, double rest, float *out)
{
  for (int y = 0; y < skin->nt; y++)
    for (int x = 0; x < skin->ns; x++)
      {
        SkinPlace p = stage_place (g, (x + .5) / skin->ns, 2.0 * (y + .5) / skin->nt - 1.0);

        out[y * skin->ns + x] = (float) height_at (g, h, &p, cut, rest);
      }
}

/* Light on the slope at one place of the map: 1 where it is flat. */
static double
light_on (const Stage *g,
          const Surface *f,
          const Skin *skin,
          const float *h,
          int x,
          int y,
          double *shine)
{
  int xa = MAX (0, x - 1), xb = MIN (skin->ns - 1, x + 1);
  int ya = MAX (0, y - 1), yb = MIN (skin->nt - 1, y + 1);
  double hs = (double) (h[y * skin->ns + xb] - h[y * skin->ns + xa]) * skin->ns / (xb - xa);
  double w = MAX (.3 * g->half, stage_half_width (g, (x + .5) / skin->ns));
  double hd =
    (double) (h[yb * skin->ns + x] - h[ya * skin->ns + x]) * skin->nt / (2.0 * w * (yb - ya));
  double n = 1.0 / sqrt (1.0 + hs * hs + hd * hd), lambert, half;

  lambert = MAX (0.0, (f->lz - hs * f->lx - hd * f->ly) * n);
  half = (f->lz + 1.0 - hs * f->lx - hd * f->ly) * n / sqrt (2.0 + 2.0 * f->lz);
  *shine = f->gloss * pow (CLAMP (half, 0.0, 1.0), f->shine);
  return f->ambient * (.6 + .4 * n) + (1.0 - f->ambient) * lambert / MAX (.35, f->lz);
}

static void
paint (const Stage *g, const Surface *f, Skin *skin, const float *h, double cut)
{
  for (int y = 0; y < skin->nt; y++)
    for (int x = 0; x < skin->ns; x++)
      {
        float *out = skin->rgb + 3 * ((gsize) y * (gsize) skin->ns + (gsize) x);
        SkinPlace p = stage_place (g, (x + .5) / skin->ns, 2.0 * (y + .5) / skin->nt - 1.0);
        double shine, lit = light_on (g, f, skin, h, x, y, &shine);

        colour_at (g, f, &p, cut, out);
        if (p.near >= 0)
          lit *= 1.0 - MIN (.8, 1.2 * f->hollow * cut * g->contrast) * bump (p.to_near / .009);
        for (int c = 0; c < 3; c++)
          out[c] = (float) ((double) out[c] * lit + shine);
      }
}

/* How far the picture with plates differs from the one without, near the sutures. */
static double
seen (const Stage *g, const Skin *with, const Skin *without)
{
  double sum = 0.0, n = 1e-9;

  for (int y = with->nt / 4; y < 3 * with->nt / 4; y++)
    for (int x = 0; x < with->ns; x++)
      {
        gsize i = 3 * ((gsize) y * (gsize) with->ns + (gsize) x);
        double d = 0.0;

        if (fabs (stage_place (g, (x + .5) / with->ns, 2.0 * (y + .5) / with->nt - 1.0).to_near) >
            .015)
          continue;
        for (int c = 0; c < 3; c++)
          d += fabs ((double) (with->rgb[i + (gsize) c] - without->rgb[i + (gsize) c])) / 3.0;
        sum += d * d;
        n += 1.0;
      }
  return sqrt (sum / n);
}

/* Light may lie along the sutures: the relief is raised until they show as the level asks. */
void
style_relief_skin (Stage *g, Skin *skin)
{
  g_autofree float *h = g_new (float, (gsize) skin->ns *(gsize) skin->nt);
  g_autoptr (Skin) plain = skin_new (g);
  Heights heights;
  Surface surface;
  double cut = 1.0, rest, grey = 0.0;

  choose_heights (g, &heights, &g->rand);
  choose_surface (g, &surface, &g->rand);
  for (int c = 0; c < 3; c++)
    grey += (double) g->colour.c[c] / 3.0;
  rest = 3.0 * g->contrast;
  survey (g, &heights, skin, 0.0, rest, h);
  paint (g, &surface, plain, h, 0.0);
  for (int round = 0; round < 3; round++)
    {
      survey (g, &heights, skin, cut, rest, h);
      paint (g, &surface, skin, h, cut);
      if (g->count > 1 && round < 2)
        cut *=
          CLAMP (.6 * g->contrast * MAX (.2, grey) / MAX (1e-4, seen (g, skin, plain)), .1, 4.0);
      cut = CLAMP (cut, .02, 5.0);
    }
}
