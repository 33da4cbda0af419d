/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-signal.c — sutures of any profile: smooth chance along the body, the
 * same for all sutures of a picture, in any direction of colour; the plates
 * carry patterns that repeat, and lines of other profiles run across them.
 */
#include "style-private.h"

#include <math.h>

#define PROFILE 65 /* samples of a profile, over ± REACH widths */
#define REACH 3.0
#define LINES 14

/* What is added across a line: three colours by distance. */
typedef struct
{
  float add[3][PROFILE];
  double width; /* in s, of one unit */
} Profile;

typedef struct
{
  const Profile *profile;
  double at, tilt, bow, from, to, gain; /* a false line: where it stands, how far it goes */
} FalseLine;

typedef struct
{
  Profile suture, other[3];
  double gain[STAGE_PLATES];
  int n_lines;
  FalseLine line[LINES];
  double ramp, repeat, repeat_at, repeat_wide, repeat_t; /* the same in each plate */
  double stripe, stripe_at, stripe_wide, edge_dark, soft_flank;
  double texture, grain, squeeze, patch;
  float patch_of[STAGE_PLATES][3];
  double fade; /* sutures fade towards one side or end */
  double broken;
} Signal;

static double
bump (double x)
{
  return exp (-.5 * x * x);
}

static void
profile_init (Profile *p, double strength, DemoRand *rand)
{
  int n = demo_rand_int (rand, 1, 4);
  double top = 1e-6, tint[3], colour = demo_rand_chance (rand, .25) ? 1.0 : .25;

  *p = (Profile){ .width = demo_rand_lognormal (rand, .008, .45) };
  for (int b = 0; b < n; b++)
    {
      double at = b == 0 ? 0.0 : 1.2 * demo_rand_normal (rand);
      double wide = demo_rand_lognormal (rand, .6, .5), gain = stage_signed (rand, .3, 1.0);
      gboolean step = demo_rand_chance (rand, .25), same = demo_rand_chance (rand, 1 - colour);

      for (int c = 0; c < 3; c++)
        tint[c] = same ? 1.0 + .15 * demo_rand_normal (rand) : demo_rand_normal (rand);
      for (int i = 0; i < PROFILE; i++)
        {
          double x = REACH * (2.0 * i / (PROFILE - 1) - 1.0), v;

          v = step ? tanh ((x - at) / wide) * bump (x / 1.6) : bump ((x - at) / wide);
          for (int c = 0; c < 3; c++)
            p->add[c][i] += (float) (gain * tint[c] * v);
        }
    }
  for (int c = 0; c < 3; c++)
    for (int i = 0; i < PROFILE; i++)
      top = MAX (top, fabs ((double) p->add[c][i]));
  for (int c = 0; c < 3; c++)
    for (int i = 0; i < PROFILE; i++)
      p->add[c][i] *= (float) (strength / top);
}

static void
profile_add (const Profile *p, double d, double gain, double least, double sum[3])
{
  double wide = MAX (p->width, least), x = (d / wide / REACH + 1.0) * .5 * (PROFILE - 1);
  int i = (int) x;

  if (x < 0.0 || i >= PROFILE - 1)
    return;
  x -= i;
  gain *= p->width / wide;
  for (int c = 0; c < 3; c++)
    sum[c] += gain * ((double) p->add[c][i] * (1.0 - x) + (double) p->add[c][i + 1] * x);
}

static void
choose_lines (const Stage *g, Signal *z, DemoRand *rand)
{
  z->n_lines = (int) fmin (LINES, demo_rand_range (rand, 0, 11) * g->clutter);
  for (int i = 0; i < z->n_lines; i++)
    {
      gboolean across = demo_rand_chance (rand, .25);
      double mid = (across ? .1 : .5) * demo_rand_normal (rand);
      double reach = across ? demo_rand_range (rand, .55, 1.0) : demo_rand_range (rand, .08, .5);

      z->line[i] = (FalseLine){ .profile = &z->other[demo_rand_int (rand, 0, 2)],
                                .at = demo_rand_range (rand, .0, 1.0),
                                .tilt = .06 * demo_rand_normal (rand),
                                .bow = g->arc + .05 * demo_rand_normal (rand),
                                .from = mid - reach,
                                .to = mid + reach,
                                .gain = stage_signed (rand, .4, 1.3) };
      if (across) /* fainter, or no one could tell */
        z->line[i].gain *= demo_rand_range (rand, .25, .5);
      else if (demo_rand_chance (rand, .3))
        z->line[i].profile = &z->suture;
    }
}

static void
signal_init (const Stage *g, Signal *z, DemoRand *rand)
{
  gboolean fine = demo_rand_chance (rand, .5);
  double uneven = demo_rand_range (rand, .1, .5), patch;

  *z = (Signal){ .ramp = demo_rand_chance (rand, .4) ? .12 * demo_rand_normal (rand) : 0.0 };
  profile_init (&z->suture, 1.15 * g->contrast, rand);
  for (int i = 0; i < 3; i++)
    profile_init (&z->other[i], g->contrast, rand);
  for (int i = 0; i < STAGE_PLATES; i++)
    z->gain[i] = fmax (.35, demo_rand_lognormal (rand, 1.0, uneven));
  choose_lines (g, z, rand);
  if (demo_rand_chance (rand, .4))
    z->repeat = g->contrast * stage_signed (rand, .3, 1.2);
  z->repeat_at = demo_rand_range (rand, .15, .85);
  z->repeat_wide = demo_rand_range (rand, .05, .3);
  z->repeat_t = demo_rand_range (rand, .1, 1.2);
  z->stripe = demo_rand_chance (rand, .5) ? .15 * demo_rand_normal (rand) : 0.0;
  z->stripe_at = demo_rand_range (rand, -.1, .9);
  z->stripe_wide = demo_rand_range (rand, .04, .3);
  z->edge_dark = demo_rand_range (rand, -.1, .7);
  z->soft_flank = demo_rand_chance (rand, .5) ? demo_rand_range (rand, .55, 1.0) : 2.0;
  z->texture = .9 * g->contrast * demo_rand_range (rand, .03, .45) * g->clutter;
  z->grain = demo_rand_lognormal (rand, fine ? 50 : 14, .5);
  z->squeeze = demo_rand_lognormal (rand, .16, .8);
  patch = demo_rand_chance (rand, .35) ? demo_rand_range (rand, .02, .08) : .006;
  for (int i = 0; i < STAGE_PLATES; i++)
    for (int c = 0; c < 3; c++)
      z->patch_of[i][c] = (float) (patch * demo_rand_normal (rand));
  z->fade = demo_rand_range (rand, -.5, .5);
  z->broken = demo_rand_chance (rand, .3) ? demo_rand_range (rand, .2, .9) : 0.0;
}

/* Colour added at one place, before the light of the body's roundness. */
static void
signal_at (const Stage *g, const Signal *z, const SkinPlace *p, double least, double sum[3])
{
  double t = p->t, gain, v, x;

  if (p->near >= 0)
    {
      gain = z->gain[p->near] * exp (z->fade * (t + p->s - .5));
      gain *= 1.0 - z->broken *
                      demo_smoothstep (-.1, .4,
                                       demo_noise (g->seed + 3u * (guint32) p->near, 4.0 * t, 2.5));
      if (fabs (t) > z->soft_flank)
        gain *= .3;
      profile_add (&z->suture, p->to_near, gain, least, sum);
    }
  for (int i = 0; i < z->n_lines; i++)
    {
      const FalseLine *l = &z->line[i];

      x = demo_smoothstep (l->from - .08, l->from, t) * demo_smoothstep (l->to + .08, l->to, t);
      if (x > 0.0)
        profile_add (l->profile, p->s - l->at - l->tilt * t - l->bow * t * t, x * l->gain, least,
                     sum);
    }
  v = z->ramp * (p->q - .5);
  x = (fabs (t) - z->repeat_t) / .15;
  v +=
    z->repeat * bump ((p->q - z->repeat_at) / z->repeat_wide) * (z->repeat_t > 1 ? 1.0 : bump (x));
  v += z->stripe * bump ((fabs (t) - z->stripe_at) / z->stripe_wide);
  v += z->texture * demo_fbm (g->seed + 5u, z->grain * p->s, z->squeeze * z->grain * t, 3);
  for (int c = 0; c < 3; c++)
    sum[c] += v + (double) z->patch_of[p->plate][c];
}

void
style_signal_skin (Stage *g, Skin *skin)
{
  Signal z;
  double least = .45 / g->length, light = .4 * demo_rand_normal (&g->rand);
  double along = .25 * demo_rand_normal (&g->rand);
  gboolean added = demo_rand_chance (&g->rand, .4);

  signal_init (g, &z, &g->rand);
  for (int y = 0; y < skin->nt; y++)
    for (int x = 0; x < skin->ns; x++)
      {
        float *out = skin->rgb + 3 * ((gsize) y * (gsize) skin->ns + (gsize) x);
        double s = (x + .5) / skin->ns, t = 2.0 * (y + .5) / skin->nt - 1.0, sum[3] = { 0 };
        SkinPlace p = stage_place (g, s, t);
        double lit = 1.0 + .5 * light * t + along * (s - .5) - z.edge_dark * t * t * t * t;

        signal_at (g, &z, &p, least, sum);
        for (int c = 0; c < 3; c++)
          {
            double base = (double) g->colour.c[c] * MAX (.15, lit);

            out[c] = (float) (added ? base + .55 * sum[c] : base * (1.0 + 1.1 * sum[c]));
          }
      }
}
