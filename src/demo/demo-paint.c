/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-paint.c — canvas, brushes, blur and noise; no chance of its own: what
 * is drawn follows from the arguments alone.
 */
#include "demo/demo-paint.h"

#include <math.h>
#include <string.h>

DemoCanvas *
demo_canvas_new (int width, int height)
{
  DemoCanvas *self = g_new0 (DemoCanvas, 1);

  self->width = width;
  self->height = height;
  self->px = g_new0 (float, (gsize) 3 * (gsize) width * (gsize) height);
  return self;
}

void
demo_canvas_free (DemoCanvas *self)
{
  if (self == NULL)
    return;
  g_free (self->px);
  g_free (self);
}

DemoColour
demo_colour (double r, double g, double b)
{
  return (DemoColour){ { (float) r, (float) g, (float) b } };
}

DemoColour
demo_colour_scale (DemoColour colour, double gain)
{
  for (int i = 0; i < 3; i++)
    colour.c[i] *= (float) gain;
  return colour;
}

DemoColour
demo_colour_mix (DemoColour a, DemoColour b, double t)
{
  for (int i = 0; i < 3; i++)
    a.c[i] += (float) t * (b.c[i] - a.c[i]);
  return a;
}

void
demo_canvas_mix (float *px, DemoColour colour, double alpha)
{
  for (int i = 0; i < 3; i++)
    px[i] += (float) alpha * (colour.c[i] - px[i]);
}

double
demo_smoothstep (double lo, double hi, double x)
{
  double t = CLAMP ((x - lo) / (hi - lo), 0.0, 1.0);

  return t * t * (3.0 - 2.0 * t);
}

DemoRect
demo_canvas_clip (const DemoCanvas *self, double x0, double y0, double x1, double y1)
{
  DemoRect r;

  r.x0 = (int) CLAMP (floor (x0), 0.0, self->width);
  r.y0 = (int) CLAMP (floor (y0), 0.0, self->height);
  r.x1 = (int) CLAMP (ceil (x1) + 1.0, 0.0, self->width);
  r.y1 = (int) CLAMP (ceil (y1) + 1.0, 0.0, self->height);
  return r;
}

void
demo_canvas_fill (DemoCanvas *self, DemoColour colour)
{
  gsize n = (gsize) self->width * (gsize) self->height;

  for (gsize i = 0; i < n; i++)
    memcpy (self->px + 3 * i, colour.c, sizeof colour.c);
}

void
demo_canvas_stretch (DemoCanvas *self, const DemoCanvas *small)
{
  double kx = (double) (small->width - 1) / MAX (1, self->width - 1);
  double ky = (double) (small->height - 1) / MAX (1, self->height - 1);
  g_autofree float *row = g_new (float, (gsize) 3 * small->width);

  for (int y = 0; y < self->height; y++)
    {
      float fy = (float) (y * ky);
      int iy = MIN ((int) fy, MAX (0, small->height - 2));
      const float *a = small->px + (gsize) 3 * small->width * iy;
      const float *b = small->height > 1 ? a + (gsize) 3 * small->width : a;
      float *out = self->px + (gsize) 3 * self->width * y;

      fy -= (float) iy;
      for (int i = 0; i < 3 * small->width; i++)
        row[i] = a[i] + fy * (b[i] - a[i]);
      for (int x = 0; x < self->width; x++, out += 3)
        {
          float fx = (float) (x * kx);
          int ix = MIN ((int) fx, MAX (0, small->width - 2));
          const float *p = row + 3 * ix;
          const float *q = small->width > 1 ? p + 3 : p;

          fx -= (float) ix;
          for (int i = 0; i < 3; i++)
            out[i] = p[i] + fx * (q[i] - p[i]);
        }
    }
}

void
demo_canvas_stroke (DemoCanvas *self, const DemoStroke *s)
{
  double rmax = MAX (s->r0, s->r1) + s->soft;
  DemoRect r = demo_canvas_clip (self, MIN (s->x0, s->x1) - rmax, MIN (s->y0, s->y1) - rmax,
                                 MAX (s->x0, s->x1) + rmax, MAX (s->y0, s->y1) + rmax);
  double dx = s->x1 - s->x0, dy = s->y1 - s->y0;
  double len2 = MAX (1e-9, dx * dx + dy * dy);

  for (int y = r.y0; y < r.y1; y++)
    for (int x = r.x0; x < r.x1; x++)
      {
        double px = x - s->x0, py = y - s->y0;
        double t = CLAMP ((px * dx + py * dy) / len2, 0.0, 1.0);
        double ex = px - t * dx, ey = py - t * dy;
        double d = sqrt (ex * ex + ey * ey);
        double radius = s->r0 + t * (s->r1 - s->r0);
        double cover = CLAMP ((radius - d) / s->soft + 0.5, 0.0, 1.0);
        double q;

        if (cover <= 0.0)
          continue;
        q = MIN (1.0, d / MAX (radius, 0.5));
        demo_canvas_mix (self->px + 3 * ((gsize) self->width * y + x),
                         demo_colour_scale (s->colour, 1.0 - 0.55 * s->round * q * q),
                         s->alpha * cover);
      }
}

void
demo_canvas_ellipse (DemoCanvas *self, const DemoEllipse *e)
{
  double reach = MAX (e->rx, e->ry) + 1.0;
  DemoRect r = demo_canvas_clip (self, e->x - reach, e->y - reach, e->x + reach, e->y + reach);
  double ca = cos (e->angle), sa = sin (e->angle);
  double soft = MAX (e->soft, 1.0 / MAX (1.0, MIN (e->rx, e->ry)));

  for (int y = r.y0; y < r.y1; y++)
    for (int x = r.x0; x < r.x1; x++)
      {
        double px = x - e->x, py = y - e->y;
        double a = (px * ca + py * sa) / e->rx, b = (py * ca - px * sa) / e->ry;
        double cover = CLAMP ((1.0 - sqrt (a * a + b * b)) / soft, 0.0, 1.0);

        if (cover > 0.0)
          demo_canvas_mix (self->px + 3 * ((gsize) self->width * y + x), e->colour,
                           e->alpha * cover);
      }
}

/* One running mean of 2 k + 1 over n pixels `step` floats apart; the ends repeat. */
static void
box_line (float *px, int n, gsize step, int k, float *tmp)
{
  float inv = 1.0f / (float) (2 * k + 1);

  for (int c = 0; c < 3; c++)
    {
      double sum = 0.0;

      for (int i = 0; i < n; i++)
        tmp[i] = px[step * (gsize) i + (gsize) c];
      for (int i = -k; i <= k; i++)
        sum += tmp[CLAMP (i, 0, n - 1)];
      for (int i = 0; i < n; i++)
        {
          px[step * (gsize) i + (gsize) c] = (float) sum * inv;
          sum += tmp[MIN (n - 1, i + k + 1)] - tmp[MAX (0, i - k)];
        }
    }
}

/* Mixes each pixel with its two neighbours: a blur of variance 2 a. */
static void
small_line (float *px, int n, gsize step, float a, float *tmp)
{
  for (int c = 0; c < 3; c++)
    {
      for (int i = 0; i < n; i++)
        tmp[i] = px[step * (gsize) i + (gsize) c];
      for (int i = 0; i < n; i++)
        px[step * (gsize) i + (gsize) c] =
          tmp[i] * (1.0f - 2.0f * a) + a * (tmp[MAX (0, i - 1)] + tmp[MIN (n - 1, i + 1)]);
    }
}

/* The passes that add up to a variance of sd²: boxes while one fits (a box of
 * 2 k + 1 has variance k (k + 1) / 3; three of them are near a Gaussian), then small mixes. */
typedef struct
{
  int k;   /* > 0: a box */
  float a; /* else a small mix */
} BlurPass;

#define MAX_PASSES 16

static int
blur_passes (double sd, BlurPass out[MAX_PASSES])
{
  double left = sd * sd;
  int widest = (int) floor ((-1.0 + sqrt (1.0 + 4.0 * left)) / 2.0);
  int n = 0;

  while (left > 0.0025 && n < MAX_PASSES)
    {
      int k = MIN (widest, (int) floor ((-1.0 + sqrt (1.0 + 12.0 * left)) / 2.0));

      out[n] = (BlurPass){ k, (float) MIN (0.25, left / 2.0) };
      left -= k > 0 ? k * (k + 1) / 3.0 : 2.0 * (double) out[n].a;
      n++;
    }
  return n;
}

static void
blur_line (float *px, int n, gsize step, const BlurPass *passes, int n_passes, float *tmp)
{
  for (int i = 0; i < n_passes; i++)
    if (passes[i].k > 0)
      box_line (px, n, step, passes[i].k, tmp);
    else
      small_line (px, n, step, passes[i].a, tmp);
}

/* Columns are gathered a few at a time: walking down a wide picture costs a cache miss a pixel. */
#define COLUMNS 16

static void
blur_columns (float *first, int w, int h, gsize row, const BlurPass *passes, int n_passes, float *tmp)
{
  g_autofree float *block = g_new (float, (gsize) 3 * COLUMNS * (gsize) h);

  for (int x = 0; x < w; x += COLUMNS)
    {
      gsize wide = (gsize) 3 * (gsize) MIN (COLUMNS, w - x);

      for (int y = 0; y < h; y++)
        memcpy (block + wide * (gsize) y, first + row * (gsize) y + 3 * (gsize) x, wide * sizeof (float));
      for (gsize c = 0; c < wide; c += 3)
        blur_line (block + c, h, wide, passes, n_passes, tmp);
      for (int y = 0; y < h; y++)
        memcpy (first + row * (gsize) y + 3 * (gsize) x, block + wide * (gsize) y, wide * sizeof (float));
    }
}

void
demo_canvas_blur (DemoCanvas *self, DemoRect r, double sd)
{
  int w = r.x1 - r.x0, h = r.y1 - r.y0;
  gsize row = (gsize) 3 * self->width;
  g_autofree float *tmp = NULL;
  float *first;
  BlurPass passes[MAX_PASSES];
  int n_passes;

  if (w < 2 || h < 2 || sd < 0.05)
    return;
  n_passes = blur_passes (sd, passes);
  tmp = g_new (float, MAX (w, h));
  first = self->px + row * (gsize) r.y0 + (gsize) 3 * r.x0;
  for (int y = 0; y < h; y++)
    blur_line (first + row * (gsize) y, w, 3, passes, n_passes, tmp);
  blur_columns (first, w, h, row, passes, n_passes, tmp);
}

void
demo_canvas_motion (DemoCanvas *self, DemoRect r, double dx, double dy)
{
  int n = CLAMP ((int) ceil (hypot (dx, dy)) + 1, 1, 24);
  int w = r.x1 - r.x0, h = r.y1 - r.y0;
  g_autofree float *copy = NULL;

  if (n < 2 || w < 1 || h < 1)
    return;
  copy = g_new (float, (gsize) 3 * w * h);
  for (int y = 0; y < h; y++)
    memcpy (copy + (gsize) 3 * w * y, self->px + 3 * ((gsize) self->width * (y + r.y0) + r.x0),
            sizeof (float) * 3 * (gsize) w);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      {
        float sum[3] = { 0, 0, 0 };
        float *out = self->px + 3 * ((gsize) self->width * (y + r.y0) + x + r.x0);

        for (int i = 0; i < n; i++)
          {
            double f = (double) i / (n - 1) - 0.5;
            int sx = CLAMP ((int) lround (x + f * dx), 0, w - 1);
            int sy = CLAMP ((int) lround (y + f * dy), 0, h - 1);
            const float *p = copy + 3 * ((gsize) w * sy + sx);

            for (int c = 0; c < 3; c++)
              sum[c] += p[c];
          }
        for (int c = 0; c < 3; c++)
          out[c] = sum[c] / (float) n;
      }
}

static inline float
lattice (guint32 seed, int x, int y)
{
  guint32 h = seed ^ ((guint32) x * 0x8da6b343u) ^ ((guint32) y * 0xd8163841u);

  h = (h ^ (h >> 15)) * 0x2c1b3c6du;
  h = (h ^ (h >> 12)) * 0x297a2d39u;
  return (float) ((h ^ (h >> 15)) >> 8) / 8388608.0f - 1.0f;
}

double
demo_noise (guint32 seed, double x, double y)
{
  double fx = floor (x), fy = floor (y);
  int ix = (int) fx, iy = (int) fy;
  float u = (float) (x - fx), v = (float) (y - fy);
  float a = lattice (seed, ix, iy), b = lattice (seed, ix + 1, iy);
  float c = lattice (seed, ix, iy + 1), d = lattice (seed, ix + 1, iy + 1);

  u = u * u * (3.0f - 2.0f * u);
  v = v * v * (3.0f - 2.0f * v);
  return a + u * (b - a) + v * (c - a + u * (a - b - c + d));
}

double
demo_fbm (guint32 seed, double x, double y, int octaves)
{
  double sum = 0.0, amp = 0.6;

  for (int i = 0; i < octaves; i++)
    {
      sum += amp * demo_noise (seed + (guint32) i * 7919u, x, y);
      amp *= 0.5;
      x = 2.03 * x + 17.1;
      y = 2.03 * y + 5.7;
    }
  return sum;
}
