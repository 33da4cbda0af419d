/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-draw.c — puts a picture together: choice of animal and place, drawing
 * at no more than the scale that its sharpness needs, the sensor's noise, truth.
 */
#include "demo/demo-draw-priv.h"

#include <math.h>

#define WORK_AXIS 760.0 /* canvas pixels; a longer abdomen is drawn this long, then enlarged */
#define NOISE_TABLE 4096

typedef struct
{
  const DemoDrawOptions *options;
  DemoRand rand;
  DemoFrame frame; /* full pixels */
  double scale;    /* canvas pixels per full pixel, <= 1 */
  DemoSex sex;
  int count;
  DemoBody body;
  DemoTruth truth;
  double pronotum_front;
} Scene;

static void
choose_animal (Scene *scene)
{
  const DemoDrawOptions *o = scene->options;

  scene->sex = o->sex;
  scene->count = CLAMP (o->count, 0, 10);
  if (scene->count == 0 && scene->sex == DEMO_SEX_ANY)
    scene->sex = demo_rand_chance (&scene->rand, .5) ? DEMO_SEX_FEMALE : DEMO_SEX_MALE;
  if (scene->count == 0)
    scene->count = scene->sex == DEMO_SEX_FEMALE ? 6 : 8;
  else if (scene->sex == DEMO_SEX_ANY && scene->count <= 7 && demo_rand_chance (&scene->rand, .35))
    scene->sex = DEMO_SEX_FEMALE;
  else if (scene->sex == DEMO_SEX_ANY && scene->count >= 7 && demo_rand_chance (&scene->rand, .35))
    scene->sex = DEMO_SEX_MALE;
  if (o->subject == DEMO_SUBJECT_BACK)
    scene->count = 10;
  scene->count = MAX (scene->count, 4);
}

/* Lays the axis so that abdomen and most of the animal are in the picture. */
static void
choose_frame (Scene *scene)
{
  const DemoDrawOptions *o = scene->options;
  DemoRand *rand = &scene->rand;
  DemoFrame *f = &scene->frame;
  double side = MIN (o->width, o->height), angle, cx, cy, slack_x, slack_y;

  f->length = o->abdomen_px > 0 ? o->abdomen_px : side * demo_rand_range (rand, .33, .5);
  f->length = MIN (f->length, .86 * side);
  angle = o->has_angle ? o->angle : demo_rand_range (rand, 0, 2 * G_PI);
  f->ca = cos (angle);
  f->sa = sin (angle);
  f->bend =
    demo_rand_chance (rand, .6) ? .03 * demo_rand_normal (rand) : demo_rand_range (rand, -.11, .11);
  slack_x = MAX (0.0, .5 * o->width - .55 * f->length * fabs (f->ca) - .2 * f->length);
  slack_y = MAX (0.0, .5 * o->height - .55 * f->length * fabs (f->sa) - .2 * f->length);
  cx = .5 * o->width + MIN (slack_x, .35 * f->length) * f->ca +
       .25 * slack_x * demo_rand_range (rand, -1, 1);
  cy = .5 * o->height + MIN (slack_y, .35 * f->length) * f->sa +
       .25 * slack_y * demo_rand_range (rand, -1, 1);
  f->x = cx - .5 * f->length * f->ca;
  f->y = cy - .5 * f->length * f->sa;
  scene->scale = MIN (1.0, WORK_AXIS / f->length);
}

/* Share of the axis' arc length before u, by the midpoint rule. */
static double
arc_share (double bend, double u)
{
  double part = 0.0, all = 0.0;

  for (int i = 0; i < 200; i++)
    {
      double q = (i + .5) / 200.0, slope = 4.0 * bend * (1.0 - 2.0 * q),
             ds = sqrt (1 + slope * slope);

      all += ds;
      part += q < u ? ds : 0.0;
    }
  return part / all;
}

static void
note_truth (Scene *scene)
{
  DemoTruth *t = &scene->truth;
  const DemoFrame *f = &scene->frame;
  DemoSubject subject = scene->options->subject;

  t->base = demo_frame_axis (f, 0, 0);
  t->mid = demo_frame_axis (f, .5, 0);
  t->tip = demo_frame_axis (f, 1, 0);
  t->bend = f->bend;
  if (subject >= DEMO_SUBJECT_LEAF)
    return;
  t->count = scene->count;
  t->sex = scene->sex;
  t->half_width = scene->body.half_width;
  t->n_bounds = scene->count - 1;
  for (int i = 0; i < t->n_bounds; i++)
    {
      t->along[i] = arc_share (f->bend, scene->body.edge[i + 1]);
      t->bound[i] = demo_frame_axis (f, scene->body.edge[i + 1], 0);
    }
  t->countable = !scene->options->unusable &&
                 (subject == DEMO_SUBJECT_UNDERSIDE || subject == DEMO_SUBJECT_SHED);
}

static DemoFrame
canvas_frame (const Scene *scene)
{
  DemoFrame f = scene->frame;

  f.x *= scene->scale;
  f.y *= scene->scale;
  f.length *= scene->scale;
  return f;
}

static void
paint_wings (Scene *scene, DemoCanvas *canvas, const DemoFrame *f, DemoColour colour)
{
  DemoTruth *t = &scene->truth;
  gboolean male = scene->sex == DEMO_SEX_MALE;
  double tip = demo_rand_range (&scene->rand, male ? 1.03 : .72, male ? 1.22 : .97);
  double front = -.28 - (1.28 / (male ? 2.55 : 2.0)) * demo_rand_range (&scene->rand, .9, 1.1);

  demo_animal_above (canvas, f, &scene->body, colour, &scene->rand);
  demo_animal_wings (canvas, f, colour, tip, &scene->rand);
  t->has_wings = TRUE;
  t->wing_base = demo_frame_axis (&scene->frame, -.28, 0);
  t->wing_tip = demo_frame_axis (&scene->frame, tip, 0);
  t->pronotum_front = demo_frame_axis (&scene->frame, front, 0);
  t->pronotum_back = demo_frame_axis (&scene->frame, -.28, 0);
}

static void
paint (Scene *scene, DemoCanvas *canvas)
{
  const DemoDrawOptions *o = scene->options;
  DemoFrame f = canvas_frame (scene);
  DemoColour colour = demo_colour_mix (scene->body.plate[0], scene->body.pleura, .3);
  DemoPoint m = demo_frame_point (&f, .5, 0);

  demo_scene_ground (canvas, colour, &scene->rand);
  switch (o->subject)
    {
    case DEMO_SUBJECT_UNDERSIDE:
    case DEMO_SUBJECT_SHED:
      demo_animal_below (canvas, &f, &scene->body, colour, &scene->rand);
      break;
    case DEMO_SUBJECT_BACK:
      demo_animal_above (canvas, &f, &scene->body, colour, &scene->rand);
      break;
    case DEMO_SUBJECT_WINGS:
      paint_wings (scene, canvas, &f, colour);
      break;
    default:
      demo_scene_empty (canvas, &f, o->subject, o->level, &scene->rand);
      break;
    }
  demo_mishaps (canvas, &f, demo_level (o->level), scene->body.half_width, &scene->rand);
  if (o->unusable)
    demo_canvas_blur (canvas,
                      demo_canvas_clip (canvas, m.x - 2 * f.length, m.y - 2 * f.length,
                                        m.x + 2 * f.length, m.y + 2 * f.length),
                      f.length * demo_rand_range (&scene->rand, .05, .09));
}

/* Exposure, white balance, sensor noise (grain of the luminance, blotches of colour). */
static void
develop (Scene *scene, const DemoCanvas *canvas, DemoDrawing *out)
{
  const DemoLevel *level = demo_level (scene->options->level);
  DemoRand *rand = &scene->rand;
  double noise = 255.0 * level->noise * demo_rand_lognormal (rand, 1.0, .3);
  double dark = demo_rand_range (rand, .72, 1.08);
  float gain[3], table[NOISE_TABLE], kx, ky;
  guint64 state = demo_rand_bits (rand) | 1;

  for (int c = 0; c < 3; c++)
    gain[c] = (float) (255.0 * dark * demo_rand_lognormal (rand, 1.0, .035));
  for (int i = 0; i < NOISE_TABLE; i++)
    table[i] = (float) (noise * demo_rand_normal (rand));
  kx = (float) canvas->width / (float) out->width;
  ky = (float) canvas->height / (float) out->height;
  for (int y = 0; y < out->height; y++)
    {
      float fy = CLAMP (((float) y + .5f) * ky - .5f, 0.0f, (float) (canvas->height - 1));
      int iy = MIN ((int) fy, canvas->height - 2);
      const float *a = canvas->px + (gsize) 3 * canvas->width * iy;
      guint8 *row = out->rgb + (gsize) 3 * out->width * y;

      fy -= (float) iy;
      for (int x = 0; x < out->width; x++)
        {
          float fx = CLAMP (((float) x + .5f) * kx - .5f, 0.0f, (float) (canvas->width - 1)), grain;
          int ix = MIN ((int) fx, canvas->width - 2);
          const float *p = a + 3 * ix, *q = p + (gsize) 3 * canvas->width;

          fx -= (float) ix;
          state ^= state << 13;
          state ^= state >> 7;
          state ^= state << 17;
          grain = table[state & (NOISE_TABLE - 1)];
          for (int c = 0; c < 3; c++)
            {
              float up = p[c] + fx * (p[c + 3] - p[c]), down = q[c] + fx * (q[c + 3] - q[c]);
              float v = gain[c] * (up + fy * (down - up)) + grain +
                        .55f * table[(state >> (16 + 12 * c)) & (NOISE_TABLE - 1)];

              row[3 * x + c] = (guint8) (CLAMP (v, 0.0f, 255.0f) + .5f * (v < 255.0f));
            }
        }
    }
}

DemoDrawing *
demo_draw (const DemoDrawOptions *options)
{
  DemoDrawOptions o = *options;
  Scene scene = { .options = &o };
  DemoDrawing *out = g_new0 (DemoDrawing, 1);
  g_autoptr (DemoCanvas) canvas = NULL;

  o.width = CLAMP (o.width, 64, 20000);
  o.height = CLAMP (o.height, 64, 20000);
  if (o.subject == DEMO_SUBJECT_SHED && o.colour == DEMO_COLOUR_ANY)
    o.colour = DEMO_COLOUR_PALE;
  demo_rand_init (&scene.rand, o.seed, 1);
  choose_animal (&scene);
  choose_frame (&scene);
  demo_body_init (&scene.body, &o, scene.count, scene.sex, &scene.rand);
  note_truth (&scene);
  canvas = demo_canvas_new (MAX (16, (int) lround (o.width * scene.scale)),
                            MAX (16, (int) lround (o.height * scene.scale)));
  paint (&scene, canvas);
  out->width = o.width;
  out->height = o.height;
  out->rgb = g_new (guint8, (gsize) 3 * (gsize) o.width * (gsize) o.height);
  develop (&scene, canvas, out);
  out->truth = scene.truth;
  return out;
}

void
demo_drawing_free (DemoDrawing *self)
{
  if (self == NULL)
    return;
  g_free (self->rgb);
  g_free (self);
}
