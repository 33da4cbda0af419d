/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-stage.c — where the animal of a style lies, how it is shaped and cut
 * into plates, and how the finished picture is developed. Ours, no source.
 */
#include "style-private.h"

#include <math.h>

#define LONGEST 11.0 /* axis lengths: farther than any pixel */

double
stage_signed (DemoRand *rand, double lo, double hi)
{
  double v = demo_rand_range (rand, lo, hi);

  return demo_rand_chance (rand, .5) ? v : -v;
}

DemoColour
stage_any_colour (DemoRand *rand)
{
  static const float usual[9][3] = {
    { .42f, .55f, .22f }, { .66f, .72f, .45f }, { .78f, .70f, .50f },
    { .50f, .38f, .28f }, { .25f, .20f, .17f }, { .88f, .82f, .76f },
    { .60f, .58f, .55f }, { .72f, .48f, .42f }, { .80f, .75f, .35f },
  };
  DemoColour out;
  double grey = demo_rand_range (rand, .15, .9), spread = demo_rand_range (rand, .0, .22);
  int k = demo_rand_int (rand, 0, 8);
  gboolean any = demo_rand_chance (rand, .4);

  for (int c = 0; c < 3; c++)
    {
      double v = any ? grey + spread * demo_rand_normal (rand)
                     : (double) usual[k][c] * demo_rand_lognormal (rand, 1.0, .12);

      out.c[c] = (float) CLAMP (v, .06, .97);
    }
  return out;
}

static void
cut_plates (Stage *s)
{
  DemoRand *rand = &s->rand;
  double len[STAGE_PLATES], sum = 0.0, at = 0.0;
  double sd = demo_rand_range (rand, .02, .16), taper = .22 * demo_rand_normal (rand);

  for (int i = 0; i < s->count; i++)
    {
      len[i] = exp (sd * demo_rand_normal (rand) + taper * ((double) i / s->count - .5));
      if (i == 0)
        len[i] *= demo_rand_lognormal (rand, .94, .16);
      if (i == s->count - 1 && s->sex == DEMO_SEX_FEMALE)
        len[i] *= demo_rand_lognormal (rand, 1.8, .16);
      else if (i == s->count - 1)
        len[i] *= demo_rand_lognormal (rand, s->sex == DEMO_SEX_MALE ? .70 : 1.0, .18);
      if (i == s->count - 2 && s->sex == DEMO_SEX_MALE)
        len[i] *= demo_rand_lognormal (rand, .58, .14);
      len[i] = MAX (len[i], .32);
      sum += len[i];
    }
  for (int i = 0; i < s->count; i++)
    {
      s->edge[i] = at;
      at += len[i] / sum;
    }
  s->edge[s->count] = 1.0;
}

static void
shape_body (Stage *s)
{
  DemoRand *rand = &s->rand;
  double full = demo_rand_range (rand, -.35, .35), skew = demo_rand_range (rand, -.3, .3);

  s->half = demo_rand_lognormal (rand, s->sex == DEMO_SEX_FEMALE ? .15 : .12, .25);
  s->half = CLAMP (s->half, .055, .25);
  for (int i = 0; i < STAGE_KNOTS; i++)
    {
      double q = i / (STAGE_KNOTS - 1.0);

      s->knot[i] = 1.0 + full * (sin (G_PI * q) - .7) + skew * (q - .5);
      s->knot[i] *= demo_rand_lognormal (rand, 1.0, .05);
    }
  s->tip = demo_rand_range (rand, .03, .35);
  s->neck = demo_rand_chance (rand, .4) ? demo_rand_range (rand, .02, .2) : 0.0;
  s->arc = .035 * demo_rand_normal (rand);
  s->arc_grows = .04 * demo_rand_normal (rand);
  s->arc_power = demo_rand_range (rand, 1.2, 3.5);
  s->tilt = .022 * demo_rand_normal (rand);
  s->tilt_grows = .015 * demo_rand_normal (rand);
  s->wave = demo_rand_chance (rand, .3) ? .008 * demo_rand_normal (rand) : 0.0;
  s->warp = demo_rand_range (rand, 0.0, .010);
}

static void
lay_down (Stage *s, double length_px)
{
  DemoRand *rand = &s->rand;
  double angle = demo_rand_range (rand, 0, 2 * G_PI), w, h, cx, cy;
  DemoPoint mid;

  s->length = length_px;
  s->turn =
    demo_rand_chance (rand, .5) ? .12 * demo_rand_normal (rand) : demo_rand_range (rand, -.9, .9);
  s->ca = cos (angle);
  s->sa = sin (angle);
  w = length_px * demo_rand_range (rand, 1.5, 2.1) + 30;
  h = length_px * demo_rand_range (rand, 1.4, 1.9) + 30;
  s->canvas = demo_canvas_new (MAX (64, (int) w), MAX (64, (int) h));
  s->x = s->y = 0.0;
  mid = stage_point (s, .5, 0);
  cx = .5 * s->canvas->width + .12 * length_px * demo_rand_range (rand, -1, 1);
  cy = .5 * s->canvas->height + .12 * length_px * demo_rand_range (rand, -1, 1);
  s->x = cx - mid.x;
  s->y = cy - mid.y;
}

void
stage_init (Stage *s, const StyleOptions *o)
{
  static const double contrast[5] = { .28, .19, .135, .095, .065 };
  static const double noise[5] = { .004, .009, .014, .021, .029 };
  static const double blur[5] = { .0018, .0032, .0048, .0070, .0100 };
  static const double clutter[5] = { .4, .65, .9, 1.1, 1.3 };
  int i = CLAMP (o->level, 1, 5) - 1;

  *s = (Stage){ .level = i + 1, .count = o->count, .sex = o->sex };
  demo_rand_init (&s->rand, o->seed, 90);
  s->seed = (guint32) demo_rand_bits (&s->rand);
  s->contrast = contrast[i] * demo_rand_lognormal (&s->rand, 1.0, .25);
  s->noise = noise[i] * demo_rand_lognormal (&s->rand, 1.0, .4);
  s->blur = blur[i] * demo_rand_lognormal (&s->rand, 1.0, .4);
  s->clutter = clutter[i] * demo_rand_lognormal (&s->rand, 1.0, .35);
  s->colour = stage_any_colour (&s->rand);
  if (s->sex == DEMO_SEX_ANY && s->count <= 7 && demo_rand_chance (&s->rand, .3))
    s->sex = DEMO_SEX_FEMALE;
  else if (s->sex == DEMO_SEX_ANY && s->count >= 7 && demo_rand_chance (&s->rand, .3))
    s->sex = DEMO_SEX_MALE;
  cut_plates (s);
  shape_body (s);
  lay_down (s, o->length_px);
}

DemoPoint
stage_point (const Stage *stage, double s, double d)
{
  double k = stage->turn, u = s, v = d;
  DemoPoint p;

  if (fabs (k) > 1e-4)
    {
      u = (1.0 / k - d) * sin (k * s);
      v = 1.0 / k - (1.0 / k - d) * cos (k * s);
    }
  p.x = stage->x + stage->length * (u * stage->ca - v * stage->sa);
  p.y = stage->y + stage->length * (u * stage->sa + v * stage->ca);
  return p;
}

/* The other way round. */
static void
to_axis (const Stage *stage, double x, double y, double *s, double *d)
{
  double px = (x - stage->x) / stage->length, py = (y - stage->y) / stage->length;
  double u = px * stage->ca + py * stage->sa, v = py * stage->ca - px * stage->sa;
  double k = fabs (stage->turn), sign = stage->turn < 0 ? -1.0 : 1.0;

  *s = u;
  *d = v;
  if (k <= 1e-4)
    return;
  v *= sign;
  *s = atan2 (u, 1.0 / k - v) / k;
  *d = sign * (1.0 / k - hypot (u, 1.0 / k - v));
  if (fabs (*s) > LONGEST)
    *s = LONGEST;
}

double
stage_half_width (const Stage *stage, double s)
{
  double at = CLAMP (s, 0.0, 1.0) * (STAGE_KNOTS - 1), f, w, q;
  int i = MIN ((int) at, STAGE_KNOTS - 2);

  f = demo_smoothstep (0.0, 1.0, at - i);
  w = stage->half * (stage->knot[i] + f * (stage->knot[i + 1] - stage->knot[i]));
  q = (1.0 - s) / stage->tip;
  if (q < 1.0)
    w *= sqrt (MAX (0.0, q * (2.0 - q)));
  if (stage->neck > 0.0 && s < stage->neck)
    w *= .75 + .25 * s / stage->neck;
  return w;
}

SkinPlace
stage_place (const Stage *g, double s, double t)
{
  SkinPlace p = { .s = s, .t = t, .near = -1, .to_near = 1.0 };
  double bow = pow (fabs (t), g->arc_power), warp;

  p.along = s - (g->arc + g->arc_grows * (s - .5)) * bow -
            (g->tilt + g->tilt_grows * (s - .5)) * t - g->wave * sin (4.0 * t + g->seed % 7);
  while (p.plate < g->count - 1 && p.along > g->edge[p.plate + 1])
    p.plate++;
  p.q = (p.along - g->edge[p.plate]) / (g->edge[p.plate + 1] - g->edge[p.plate]);
  for (int i = MAX (0, p.plate - 1); i < MIN (g->count - 1, p.plate + 1); i++)
    if (fabs (p.along - g->edge[i + 1]) < fabs (p.to_near))
      {
        p.near = i;
        p.to_near = p.along - g->edge[i + 1];
      }
  if (p.near >= 0)
    {
      warp = g->warp * demo_noise (g->seed + 17u * (guint32) p.near, 2.2 * t, .5);
      p.to_near -= warp;
    }
  return p;
}

Skin *
skin_new (const Stage *stage)
{
  Skin *skin = g_new (Skin, 1);

  skin->ns = CLAMP ((int) (1.6 * stage->length), 160, 640);
  skin->nt = CLAMP ((int) (4.0 * stage->half * stage->length), 32, 160);
  skin->rgb = g_new0 (float, (gsize) 3 * (gsize) skin->ns * (gsize) skin->nt);
  return skin;
}

void
skin_free (Skin *skin)
{
  if (skin == NULL)
    return;
  g_free (skin->rgb);
  g_free (skin);
}

static DemoColour
skin_at (const Skin *skin, double s, double t)
{
  double x = CLAMP (s, 0.0, 1.0) * (skin->ns - 1.001);
  double y = (CLAMP (t, -1.0, 1.0) + 1.0) * .5 * (skin->nt - 1.001);
  int ix = (int) x, iy = (int) y;
  const float *p = skin->rgb + 3 * ((gsize) iy * (gsize) skin->ns + (gsize) ix);
  gsize row = (gsize) 3 * (gsize) skin->ns;
  DemoColour out;

  x -= ix;
  y -= iy;
  for (int c = 0; c < 3; c++)
    {
      double up = p[c] + x * (double) (p[c + 3] - p[c]);
      double down = p[row + (gsize) c] + x * (double) (p[row + (gsize) c + 3] - p[row + (gsize) c]);

      out.c[c] = (float) (up + y * (down - up));
    }
  return out;
}

void
stage_skin (Stage *stage, const Skin *skin)
{
  DemoCanvas *canvas = stage->canvas;
  DemoPoint m = stage_point (stage, .5, 0);
  double reach = .85 * stage->length;
  DemoRect r = demo_canvas_clip (canvas, m.x - reach, m.y - reach, m.x + reach, m.y + reach);

  for (int y = r.y0; y < r.y1; y++)
    for (int x = r.x0; x < r.x1; x++)
      {
        double s, d, w, cover;

        to_axis (stage, x, y, &s, &d);
        if (s < -.02 || s > 1.01)
          continue;
        w = stage_half_width (stage, s);
        cover = CLAMP ((w - fabs (d)) * stage->length + .5, 0.0, 1.0);
        cover *= CLAMP (s * stage->length + .5, 0.0, 1.0);
        if (cover > 0.0)
          demo_canvas_mix (canvas->px + 3 * ((gsize) canvas->width * (gsize) y + (gsize) x),
                           skin_at (skin, s, d / MAX (w, 1e-6)), cover);
      }
}

static void
note_truth (const Stage *stage, const StyleOptions *o, DemoTruth *t)
{
  t->base = stage_point (stage, 0, 0);
  t->mid = stage_point (stage, .5, 0);
  t->tip = stage_point (stage, 1, 0);
  t->bend = stage->turn / 8.0; /* sagitta over chord, first order */
  if (o->empty)
    return;
  t->countable = TRUE;
  t->count = stage->count;
  t->sex = stage->sex;
  t->half_width = stage->half;
  t->n_bounds = stage->count - 1;
  for (int i = 0; i < t->n_bounds; i++)
    {
      t->along[i] = stage->edge[i + 1];
      t->bound[i] = stage_point (stage, stage->edge[i + 1], 0);
    }
}

DemoDrawing *
stage_develop (Stage *stage, const StyleOptions *o)
{
  DemoDrawing *out = g_new0 (DemoDrawing, 1);
  DemoRand *rand = &stage->rand;
  double grain = stage->noise, gamma = demo_rand_lognormal (rand, 1.0, .15), table[1024];
  double gain = demo_rand_range (rand, .75, 1.1), colour_noise = demo_rand_unit (rand);
  guint64 state = demo_rand_bits (rand) | 1;

  out->width = stage->canvas->width;
  out->height = stage->canvas->height;
  out->rgb = g_new (guint8, (gsize) 3 * (gsize) out->width * (gsize) out->height);
  for (int i = 0; i < 1024; i++)
    table[i] = 255.0 * grain * demo_rand_normal (rand);
  for (gsize i = 0; i < (gsize) out->width * (gsize) out->height; i++)
    {
      const float *p = stage->canvas->px + 3 * i;
      double all;

      state ^= state << 13;
      state ^= state >> 7;
      state ^= state << 17;
      all = table[state & 1023];
      for (int c = 0; c < 3; c++)
        {
          double v = gain * (double) MAX (p[c], 0.0f);

          v = 255.0 * (fabs (gamma - 1.0) < .05 ? v : pow (v, gamma));
          v += all + colour_noise * table[(state >> (12 + 12 * c)) & 1023];
          out->rgb[3 * i + (gsize) c] = (guint8) (CLAMP (v, 0.0, 254.5) + .5);
        }
    }
  note_truth (stage, o, &out->truth);
  return out;
}
