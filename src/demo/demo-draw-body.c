/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-draw-body.c — the abdomen: plates, sutures, flanks, spots and light.
 * All proportions here are drawing practice, no source.
 */
#include "demo/demo-draw-priv.h"

#include <math.h>

static const DemoLevel levels[5] = {
  { .27, .25, .0020, .0050, .020, .45, .20, .04 },
  { .19, .32, .0032, .0090, .028, .65, .25, .10 },
  { .135, .36, .0048, .0140, .033, .85, .30, .20 },
  { .090, .42, .0072, .0210, .038, 1.0, .36, .32 },
  { .062, .45, .0105, .0300, .042, 1.2, .42, .45 },
};

const DemoLevel *
demo_level (int level)
{
  return &levels[CLAMP (level, 1, 5) - 1];
}

DemoColour
demo_body_colour (DemoRand *rand, DemoBodyColour colour)
{
  static const double weights[DEMO_N_COLOURS] = { 0, 4, 3, 3, 2, 2, 1, 1 };
  static const float rgb[DEMO_N_COLOURS][3] = {
    { 0, 0, 0 },          { .47f, .58f, .27f }, { .74f, .65f, .45f }, { .47f, .36f, .25f },
    { .27f, .22f, .18f }, { .85f, .77f, .74f }, { .56f, .55f, .52f }, { .60f, .34f, .25f },
  };
  DemoColour out;
  double gain;

  if (colour <= DEMO_COLOUR_ANY || colour >= DEMO_N_COLOURS)
    colour = (DemoBodyColour) demo_rand_pick (rand, weights, DEMO_N_COLOURS);
  gain = demo_rand_lognormal (rand, 1.0, .14);
  for (int i = 0; i < 3; i++)
    out.c[i] = (float) (rgb[colour][i] * gain * demo_rand_lognormal (rand, 1.0, .07));
  return out;
}

double
demo_body_half_width (const DemoBody *body, double s)
{
  double broad, slim, w, to_tip;

  s = CLAMP (s, 0.0, 1.0);
  broad = .74 + .26 * sin (G_PI * CLAMP (s * 1.08 - .02, 0.0, 1.0));
  slim = 1.0 - .30 * s * s;
  w = body->female * broad + (1.0 - body->female) * slim;
  to_tip = (1.0 - s) / body->tip_taper;
  if (to_tip < 1.0)
    w *= sqrt (MAX (0.0, to_tip * (2.0 - to_tip)));
  return body->half_width * w;
}

/* Plate lengths: rounder than any one template, so that nothing is fitted to a ruler. */
static void
draw_lengths (DemoBody *body, DemoSex sex, DemoRand *rand)
{
  double len[DEMO_DRAW_MAX_PLATES], sum = 0.0, at = 0.0;
  int k = body->count;
  double slope = .06 * demo_rand_normal (rand);

  for (int i = 0; i < k; i++)
    {
      double mid = 1.0 + slope * (i - k / 2.0) / 2.0;

      if (i == 0)
        mid *= .95 * exp (.12 * demo_rand_normal (rand));
      if (sex == DEMO_SEX_FEMALE && i == k - 1)
        mid = 1.8 * exp (.10 * demo_rand_normal (rand));
      if (sex == DEMO_SEX_MALE && i == k - 2)
        mid = .62 * exp (.08 * demo_rand_normal (rand));
      if (sex == DEMO_SEX_MALE && i == k - 1)
        mid = .74 * exp (.12 * demo_rand_normal (rand));
      len[i] = mid * exp (.085 * demo_rand_normal (rand));
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
draw_style (DemoRand *rand)
{
  static const double weights[N_SUTURES] = { 5, 3, 2, 2.5, 2.5, 2, 1.5 };

  return (SutureStyle) demo_rand_pick (rand, weights, N_SUTURES);
}

static void
draw_sutures (DemoBody *body, const DemoLevel *level, DemoRand *rand)
{
  SutureStyle main_style = draw_style (rand);
  double contrast = demo_rand_lognormal (rand, level->contrast, .22);
  double width = demo_rand_lognormal (rand, .0065, .35);
  double mixed = demo_rand_range (rand, 0.0, .25);
  double side = demo_rand_chance (rand, .5) ? 1.0 : -1.0;
  double fade = demo_rand_range (rand, -.5, .5); /* sutures fade towards one end */

  for (int i = 0; i < body->count - 1; i++)
    {
      DemoSuture *line = &body->line[i];

      line->style = demo_rand_chance (rand, mixed) ? draw_style (rand) : main_style;
      line->at = body->edge[i + 1];
      line->amp = contrast * demo_rand_lognormal (rand, 1.0, level->contrast_sd);
      line->amp *= exp (fade * (line->at - .5));
      line->amp = CLAMP (line->amp, .35 * level->contrast, .55);
      line->width = width * demo_rand_lognormal (rand, 1.0, .15);
      line->arc = .010 * demo_rand_normal (rand);
      line->tilt = .007 * demo_rand_normal (rand);
      line->side = demo_rand_chance (rand, .9) ? side : -side;
      line->seed = (guint32) demo_rand_bits (rand);
    }
}

static DemoMark *
add_mark (DemoBody *body)
{
  return &body->mark[MIN (body->n_marks++, DEMO_MAX_MARKS - 1)];
}

static void
set_tint (DemoMark *mark, double sd, DemoRand *rand)
{
  for (int i = 0; i < 3; i++)
    mark->tint[i] = (float) (1.0 + sd * demo_rand_normal (rand));
}

/* False lines: short folds, most of them near the midline, and one or two right across. */
static void
draw_folds (DemoBody *body, const DemoLevel *level, DemoRand *rand)
{
  int n_short = (int) (demo_rand_range (rand, 4, 13) * level->marks);
  int n_long = demo_rand_int (rand, 0, 3);

  for (int i = 0; i < n_short + n_long; i++)
    {
      DemoMark *m = add_mark (body);
      gboolean across = i >= n_short;

      m->s = demo_rand_range (rand, .02, .98);
      m->t = across ? 0.0 : .22 * demo_rand_normal (rand);
      m->angle = .18 * demo_rand_normal (rand);
      m->across = across ? demo_rand_range (rand, .55, .95) : demo_rand_range (rand, .10, .30);
      m->along = demo_rand_lognormal (rand, .0065, .35);
      m->gain = level->contrast * (across ? level->fold : demo_rand_range (rand, .5, 1.25));
      m->gain *= demo_rand_chance (rand, .55) ? -1.0 : 1.0;
      set_tint (m, .12, rand);
    }
}

static void
draw_spots (DemoBody *body, const DemoLevel *level, DemoRand *rand)
{
  gboolean paired = demo_rand_chance (rand, .3);
  double pair_t = demo_rand_range (rand, .15, .55), pair_q = demo_rand_range (rand, .25, .75);
  double pair_gain = demo_rand_range (rand, -.16, .08);
  int n = (int) (demo_rand_range (rand, 2, 18) * level->marks);

  for (int i = 0; paired && i < 2 * body->count; i++)
    {
      DemoMark *m = add_mark (body);
      int j = i / 2;

      m->s = body->edge[j] + (body->edge[j + 1] - body->edge[j]) * pair_q;
      m->t = (i % 2 ? pair_t : -pair_t) + .02 * demo_rand_normal (rand);
      m->along = .011;
      m->across = .07;
      m->gain = pair_gain;
      set_tint (m, .05, rand);
    }
  for (int i = 0; i < n; i++)
    {
      DemoMark *m = add_mark (body);

      m->s = demo_rand_range (rand, 0.0, 1.0);
      m->t = demo_rand_chance (rand, .4) ? .12 * demo_rand_normal (rand)
                                         : demo_rand_range (rand, -.9, .9);
      m->angle = demo_rand_range (rand, 0, G_PI);
      m->along = demo_rand_lognormal (rand, .008, .5);
      m->across = m->along / body->half_width * demo_rand_lognormal (rand, 1.0, .3);
      m->gain = level->contrast * demo_rand_range (rand, -1.2, .8);
      set_tint (m, .25, rand);
    }
}

static void
draw_highlights (DemoBody *body, const DemoLevel *level, DemoRand *rand)
{
  int n = demo_rand_chance (rand, .35) ? demo_rand_int (rand, 1, 4) : 0;

  for (int i = 0; i < n; i++)
    {
      DemoMark *m = add_mark (body);

      m->s = demo_rand_range (rand, .05, .95);
      m->t = .3 * demo_rand_normal (rand);
      m->angle = .5 * demo_rand_normal (rand);
      m->along = demo_rand_range (rand, .008, .035);
      m->across = demo_rand_range (rand, .05, .25);
      m->gain = demo_rand_range (rand, .10, .40) * (.5 + level->odd);
      set_tint (m, .03, rand);
    }
}

static void
draw_light (DemoBody *body, const DemoLevel *level, DemoRand *rand)
{
  body->texture = level->texture * demo_rand_lognormal (rand, 1.0, .35);
  body->grain = demo_rand_lognormal (rand, 40.0, .4);
  body->light_t = demo_rand_range (rand, -.55, .55);
  body->light_s = demo_rand_range (rand, -.25, .25);
  body->gloss = demo_rand_chance (rand, .6) ? demo_rand_range (rand, 0.0, .22) : 0.0;
  body->gloss_t = demo_rand_range (rand, -.45, .45);
  body->rim = demo_rand_range (rand, .25, .6);
  body->midline = demo_rand_chance (rand, .4) ? demo_rand_range (rand, -.2, .14) : 0.0;
  body->midline_sd = demo_rand_range (rand, .03, .14);
  body->side_line = demo_rand_chance (rand, .35) ? demo_rand_range (rand, -.2, .12) : 0.0;
  body->side_at = demo_rand_range (rand, .3, .7);
}

void
demo_body_init (DemoBody *body,
                const DemoDrawOptions *options,
                int count,
                DemoSex sex,
                DemoRand *rand)
{
  const DemoLevel *level = demo_level (options->level);
  DemoColour colour = demo_body_colour (rand, options->colour);
  double patch = demo_rand_chance (rand, .3) ? demo_rand_range (rand, .02, .07) : .01;

  *body = (DemoBody){ .count = count, .seed = (guint32) demo_rand_bits (rand) };
  body->female =
    sex == DEMO_SEX_FEMALE ? demo_rand_range (rand, .7, 1.0) : demo_rand_range (rand, 0.0, .45);
  body->half_width = sex == DEMO_SEX_FEMALE ? demo_rand_lognormal (rand, .155, .16)
                                            : demo_rand_lognormal (rand, .115, .18);
  body->tip_taper =
    sex == DEMO_SEX_FEMALE ? demo_rand_range (rand, .22, .34) : demo_rand_range (rand, .10, .2);
  body->plate_edge = demo_rand_range (rand, .66, .97);
  body->scallop = demo_rand_range (rand, 0.0, .07);
  body->arc0 = .030 * demo_rand_normal (rand);
  body->arc1 = .030 * demo_rand_normal (rand);
  body->tilt = .018 * demo_rand_normal (rand);
  body->tergite_shift = demo_rand_range (rand, -.07, .07);
  body->pleura_folds = demo_rand_chance (rand, .6);
  body->pleura = demo_colour_mix (colour, demo_body_colour (rand, DEMO_COLOUR_ANY), .35);
  draw_lengths (body, sex, rand);
  if (options->varied)
    demo_vary_lengths (body, sex, rand);
  draw_sutures (body, level, rand);
  if (options->varied)
    demo_vary_sutures (body, options, rand);
  for (int i = 0; i < count; i++)
    {
      double gain = 1.0 + patch * demo_rand_normal (rand);

      for (int c = 0; c < 3; c++)
        body->plate[i].c[c] = (float) (colour.c[c] * (gain + .3 * patch * demo_rand_normal (rand)));
    }
  draw_light (body, level, rand);
  draw_folds (body, level, rand);
  draw_spots (body, level, rand);
  draw_highlights (body, level, rand);
  body->n_marks = MIN (body->n_marks, DEMO_MAX_MARKS);
  if (options->varied)
    demo_vary_rest (body, rand);
}

/* The kinds that only varied pictures have. */
static void
rare_suture_at (const DemoSuture *line, double d, double width, double *light, double *warm)
{
  double x = d / width, wide;

  switch (line->style)
    {
    case SUTURE_DOUBLE:
      wide = x - 1.6 * line->side;
      *light += line->amp * (.6 * exp (-.5 * wide * wide) - .8 * exp (-.5 * x * x));
      break;
    case SUTURE_OVERLAP:
      wide = d * line->side;
      *light -= line->amp * exp (-MAX (0.0, wide) / line->tail) / (1.0 + exp (-3.0 * wide / width));
      break;
    case SUTURE_PAIR:
      wide = 2.0 * x;
      *light -= .9 * line->amp *
                (exp (-.5 * (wide - 2.5) * (wide - 2.5)) + exp (-.5 * (wide + 2.5) * (wide + 2.5)));
      break;
    case SUTURE_HUE:
      *warm += line->amp * line->side * (1.0 - fabs (line->green)) * exp (-.3 * x * x);
      break;
    default:
      break;
    }
}

/* What one suture adds at distance d (in s, positive behind it): light and warmth. */
static void
suture_at (const DemoSuture *line, double d, double width, double *light, double *warm)
{
  double x = d / width, g = exp (-.5 * x * x), wide;

  switch (line->style)
    {
    case SUTURE_DARK:
      *light -= line->amp * g;
      break;
    case SUTURE_LIGHT:
      *light += .8 * line->amp * g;
      break;
    case SUTURE_COLOUR:
      *warm += 1.1 * line->amp * line->side * exp (-.25 * x * x);
      break;
    case SUTURE_STEP:
      wide = d / (3.5 * width);
      *light += .75 * line->amp * line->side * tanh (x) * exp (-.22 * wide * wide);
      break;
    case SUTURE_MEMBRANE:
      wide = x / 1.9;
      *light += .65 * line->amp * line->side * exp (-.5 * wide * wide * wide * wide);
      *warm += .35 * line->amp * exp (-.5 * wide * wide);
      break;
    case SUTURE_EMBOSS:
      *light += .85 * line->amp * line->side * x * exp (.5 - .5 * x * x);
      break;
    case SUTURE_RAMP:
      *light += (d < 0 ? -1.0 : 1.0) * .7 * line->amp * line->side * exp (-fabs (d) / .05) *
                tanh (fabs (x));
      break;
    default:
      rare_suture_at (line, d, width, light, warm);
      break;
    }
}

/* light, warm, green: added by all sutures at one place. */
static void
sutures_at (const DemoBody *body, double s, double t, double min_width, double sum[3])
{
  for (int i = 0; i < body->count - 1; i++)
    {
      const DemoSuture *line = &body->line[i];
      double d = s - line->at - line->arc * t * t - line->tilt * t;
      double width = hypot (line->width, min_width), fade, l = 0.0, w = 0.0;

      if (fabs (d) > .2)
        continue;
      fade = 1.0 - .75 * demo_smoothstep (body->plate_edge - .05, body->plate_edge + .08, fabs (t));
      fade *= 1.0 + .4 * demo_noise (line->seed, 3.0 * t, .5);
      if (line->broken > 0.0)
        fade *=
          1.0 - line->broken * demo_smoothstep (-.1, .3, demo_noise (line->seed, 5.0 * t, 9.5));
      suture_at (line, d, width, &l, &w);
      fade *= line->width / width;
      sum[0] += fade * l;
      sum[1] += fade * w;
      if (line->style == SUTURE_HUE)
        sum[2] += fade * line->amp * line->green * exp (-.3 * d * d / (width * width));
      if (body->pleura_folds && fabs (t) > body->plate_edge)
        {
          d = (d + body->tergite_shift) / (1.3 * width);
          sum[0] -= .6 * line->amp * exp (-.5 * d * d);
        }
    }
}

static void
marks_at (const DemoBody *body, double s, double t, float rgb[3])
{
  for (int i = 0; i < body->n_marks; i++)
    {
      const DemoMark *m = &body->mark[i];
      double ds = s - m->s, dt = t - m->t, a, b, r;

      if (fabs (ds) > .16 || fabs (dt) > 2.4 * m->across + .1)
        continue;
      /* slant: along and across have different units, so shear instead of turning */
      ds -= tan (m->angle * .5) * dt * .12;
      a = ds / m->along;
      b = dt / m->across;
      r = .5 * a * a + .5 * b * b * (m->across > .09 ? b * b : 1.0);
      if (r > 8.0)
        continue;
      r = m->gain * exp (-r);
      for (int c = 0; c < 3; c++)
        rgb[c] += (float) r * m->tint[c];
    }
}

/* Light of stripes, bands and plates that only varied pictures have. */
static double
varied_light (const DemoBody *body, double s, double t, int plate)
{
  double from = body->edge[plate], q = (s - from) / (body->edge[plate + 1] - from), light, g;

  light = body->plate_ramp * (q - .5);
  g = (q - body->bandq) / .16;
  light += body->band * exp (-.5 * g * g);
  for (int i = 0; i < body->n_stripes; i++)
    {
      const DemoStripe *stripe = &body->stripe[i];

      g = (t - stripe->t - stripe->wave * demo_noise (body->seed + 11u, 5.0 * s, i)) / stripe->sd;
      light += stripe->gain * exp (-.5 * g * g);
    }
  return light;
}

static void
shade (const DemoBody *body, double s, double t, double min_width, float rgb[3])
{
  double sp = s - (body->arc0 + body->arc1 * (s - .5)) * t * t - body->tilt * t;
  double sum[3] = { 0.0 }, light, warm, nz, lit, g;
  int j = 0;

  sp -= body->vee * fabs (t);
  while (j < body->count - 1 && sp > body->edge[j + 1])
    j++;
  sutures_at (body, sp, t, min_width, sum);
  light = sum[0];
  warm = sum[1];
  g = demo_smoothstep (body->plate_edge - .04, body->plate_edge + .04, fabs (t));
  for (int c = 0; c < 3; c++)
    rgb[c] = body->plate[j].c[c] + (float) g * (body->pleura.c[c] - body->plate[j].c[c]);
  g = t / body->midline_sd;
  light += body->midline * exp (-.5 * g * g);
  g = (fabs (t) - body->side_at) / (.7 * body->midline_sd);
  light += body->side_line * exp (-.5 * g * g);
  light += body->texture *
           demo_fbm (body->seed, body->grain * s, (.14 + body->across) * body->grain * t, 3);
  light += varied_light (body, sp, t, j);
  nz = sqrt (MAX (0.0, 1.0 - MIN (1.0, t * t)));
  lit = 1.0 - body->rim * (1.0 - nz) + .35 * body->light_t * t + body->light_s * (s - .5);
  for (int c = 0; c < 3; c++)
    rgb[c] *= (float) (lit * (1.0 + light * (.55 / MAX (.18f, .4f * rgb[c] + .33f))));
  warm = CLAMP (warm, -.22, .22); /* no animal has blue seams */
  rgb[0] *= (float) (1.0 + warm);
  rgb[2] *= (float) (1.0 - 1.2 * warm);
  rgb[1] *= (float) (1.0 + CLAMP (sum[2], -.25, .25));
  marks_at (body, sp, t, rgb);
  g = (t - body->gloss_t) / .16;
  g = body->gloss * exp (-.5 * g * g) * (.7 + .5 * demo_noise (body->seed + 5u, 9.0 * s, 0.0));
  for (int c = 0; c < 3; c++)
    rgb[c] += (float) g;
}

/* Frame coordinates of a canvas pixel: s along the axis, d across it, axis lengths. */
static void
to_axis (const DemoFrame *f, double x, double y, double *s, double *d)
{
  double px = (x - f->x) / f->length, py = (y - f->y) / f->length;
  double u = px * f->ca + py * f->sa, v = py * f->ca - px * f->sa;
  double uc = CLAMP (u, 0.0, 1.0), slope = 4.0 * f->bend * (1.0 - 2.0 * uc);
  double off = v - 4.0 * f->bend * uc * (1.0 - uc) - slope * (u - uc);
  double n2 = 1.0 / (1.0 + slope * slope);

  *s = u + slope * off * n2;
  *d = off * sqrt (n2);
}

void
demo_body_paint (DemoCanvas *canvas, const DemoBody *body, const DemoFrame *f)
{
  double reach = body->half_width * 1.1 + fabs (f->bend) + .02;
  DemoPoint a = demo_frame_point (f, 0, 0), b = demo_frame_point (f, 1, 0);
  DemoRect r =
    demo_canvas_clip (canvas, MIN (a.x, b.x) - reach * f->length,
                      MIN (a.y, b.y) - reach * f->length, MAX (a.x, b.x) + reach * f->length,
                      MAX (a.y, b.y) + reach * f->length);
  double min_width = .45 / f->length;

  for (int y = r.y0; y < r.y1; y++)
    for (int x = r.x0; x < r.x1; x++)
      {
        double s, d, w, cover;
        DemoColour colour;

        to_axis (f, x, y, &s, &d);
        if (s < -.02 || s > 1.01)
          continue;
        w = demo_body_half_width (body, s);
        for (int i = 0; body->scallop > 0.0 && i < body->count - 1; i++)
          {
            double q = (s - body->edge[i + 1]) / .014;

            if (fabs (q) < 3.0)
              w *= 1.0 - body->scallop * exp (-.5 * q * q);
          }
        cover = CLAMP ((w - fabs (d)) * f->length + .5, 0.0, 1.0);
        cover *= CLAMP ((1.0 - s) * f->length + .5, 0.0, 1.0);
        if (cover <= 0.0)
          continue;
        shade (body, s, CLAMP (d / MAX (w, 1e-6), -1.0, 1.0), min_width, colour.c);
        demo_canvas_mix (canvas->px + 3 * ((gsize) canvas->width * y + x), colour, cover);
      }
}

DemoPoint
demo_frame_point (const DemoFrame *f, double u, double v)
{
  DemoPoint p;

  p.x = f->x + f->length * (u * f->ca - v * f->sa);
  p.y = f->y + f->length * (u * f->sa + v * f->ca);
  return p;
}

DemoPoint
demo_frame_axis (const DemoFrame *f, double s, double d)
{
  double uc = CLAMP (s, 0.0, 1.0), slope = 4.0 * f->bend * (1.0 - 2.0 * uc);
  double n = 1.0 / sqrt (1.0 + slope * slope);
  double v = 4.0 * f->bend * uc * (1.0 - uc) + slope * (s - uc);

  return demo_frame_point (f, s - d * slope * n, v + d * n);
}
