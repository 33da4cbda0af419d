/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-strip-axis.c — marks to axis, axis to reduced region. */
#include "imaging/img-strip-private.h"

#include <math.h>
#include <string.h>

#define SHORTEST_AXIS 16.0 /* upright pixels */
#define LARGEST_AXIS 512.0 /* reduced pixels */
#define REACH 0.36         /* region around the axis, in axis lengths */

/* Places evenly along the line through the marks. */
static void
walk_marks (const double *xy, int n, double total, double *x, double *y, int samples)
{
  int leg = 0;
  double done = 0.0, len = hypot (xy[2] - xy[0], xy[3] - xy[1]);

  for (int i = 0; i < samples; i++)
    {
      double at = total * i / (samples - 1), t;

      while (leg < n - 2 && at > done + len)
        {
          done += len;
          leg++;
          len = hypot (xy[2 * leg + 2] - xy[2 * leg], xy[2 * leg + 3] - xy[2 * leg + 1]);
        }
      t = MIN (1.0, (at - done) / len);
      x[i] = xy[2 * leg] + t * (xy[2 * leg + 2] - xy[2 * leg]);
      y[i] = xy[2 * leg + 1] + t * (xy[2 * leg + 3] - xy[2 * leg + 1]);
    }
}

/* Gaussian over samples; beyond an end the line goes on as its own point mirror,
 * so that the ends stay where they were marked. */
static void
smooth_line (double *v, int n, double sd)
{
  g_autofree double *copy = g_memdup2 (v, sizeof *v * (gsize) n);
  int reach = (int) ceil (3.0 * sd);

  for (int i = 0; i < n; i++)
    {
      double sum = 0.0, weights = 0.0;

      for (int k = -reach; k <= reach; k++)
        {
          int j = i + k;
          double w = exp (-.5 * k * k / (sd * sd)), value;

          if (j < 0)
            value = 2.0 * copy[0] - copy[MIN (n - 1, -j)];
          else if (j >= n)
            value = 2.0 * copy[n - 1] - copy[MAX (0, 2 * (n - 1) - j)];
          else
            value = copy[j];
          sum += w * value;
          weights += w;
        }
      v[i] = sum / weights;
    }
}

/* Sample i of the strip stands at (i + ½) / N of the smoothed line. */
static void
resample (const double *lx, const double *ly, int n, ImgStrip *strip)
{
  g_autofree double *run = g_new0 (double, n);
  int j = 0;

  for (int i = 1; i < n; i++)
    run[i] = run[i - 1] + hypot (lx[i] - lx[i - 1], ly[i] - ly[i - 1]);
  strip->axis_px = run[n - 1];
  for (int i = 0; i < STRIP_N; i++)
    {
      double at = strip->axis_px * (i + .5) / STRIP_N, t;

      while (j < n - 2 && run[j + 1] < at)
        j++;
      t = (at - run[j]) / MAX (1e-12, run[j + 1] - run[j]);
      strip->x[i] = lx[j] + t * (lx[j + 1] - lx[j]);
      strip->y[i] = ly[j] + t * (ly[j + 1] - ly[j]);
    }
  for (int i = 0; i < STRIP_N; i++)
    {
      int a = MAX (0, i - 1), b = MIN (STRIP_N - 1, i + 1);
      double dx = strip->x[b] - strip->x[a], dy = strip->y[b] - strip->y[a];
      double len = MAX (1e-12, hypot (dx, dy));

      strip->nx[i] = -dy / len;
      strip->ny[i] = dx / len;
    }
}

static double
side_of (const double *a, const double *b, const double *p)
{
  return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
}

static gboolean
legs_cross (const double *a, const double *b)
{
  return side_of (a, a + 2, b) * side_of (a, a + 2, b + 2) < 0 &&
         side_of (b, b + 2, a) * side_of (b, b + 2, a + 2) < 0;
}

/* No abdomen is folded back on itself: legs of the line cross, or one turns back by more than
 * 150° (ours). */
static gboolean
crosses (const double *xy, int n)
{
  for (int i = 0; i + 2 < n; i++)
    {
      double ax = xy[2 * i + 2] - xy[2 * i], ay = xy[2 * i + 3] - xy[2 * i + 1];
      double bx = xy[2 * i + 4] - xy[2 * i + 2], by = xy[2 * i + 5] - xy[2 * i + 3];

      if (ax * bx + ay * by < -.866 * hypot (ax, ay) * hypot (bx, by))
        return TRUE;
      for (int j = i + 2; j + 1 < n; j++)
        if (legs_cross (xy + 2 * i, xy + 2 * j))
          return TRUE;
    }
  return FALSE;
}

ImgStripStatus
strip_axis (ImgStrip *strip, const ImgPixels *pixels, const double *xy, int n)
{
  double lx[STRIP_N], ly[STRIP_N], total = 0.0;

  if (n < 2 || n > IMG_STRIP_MAX_MARKS)
    return IMG_STRIP_BAD_MARKS;
  for (int i = 0; i < n; i++)
    {
      if (!isfinite (xy[2 * i]) || !isfinite (xy[2 * i + 1]))
        return IMG_STRIP_BAD_MARKS;
      if (xy[2 * i] < -1.0 || xy[2 * i + 1] < -1.0 || xy[2 * i] > pixels->width ||
          xy[2 * i + 1] > pixels->height)
        return IMG_STRIP_OUTSIDE;
      if (i > 0)
        {
          double leg = hypot (xy[2 * i] - xy[2 * i - 2], xy[2 * i + 1] - xy[2 * i - 1]);

          if (leg < .5)
            return IMG_STRIP_BAD_MARKS;
          total += leg;
        }
    }
  if (total < SHORTEST_AXIS)
    return IMG_STRIP_TOO_SHORT;
  if (crosses (xy, n))
    return IMG_STRIP_CROSSED;
  walk_marks (xy, n, total, lx, ly, STRIP_N);
  if (n > 2)
    {
      smooth_line (lx, STRIP_N, .06 * STRIP_N);
      smooth_line (ly, STRIP_N, .06 * STRIP_N);
    }
  resample (lx, ly, STRIP_N, strip);
  return strip->axis_px < SHORTEST_AXIS ? IMG_STRIP_TOO_SHORT : IMG_STRIP_OK;
}

#define ROWS 4   /* of upright pixels that one reduced pixel is the mean of, at most */
#define CHUNK 96 /* bytes; a fixed number, so that compilers add many at once */

/* Reduced columns of a row: those from which any place within reach of the axis is read. */
typedef struct
{
  int from, to; /* half open */
} Span;

static Span
corridor (const StripRegion *r, const ImgStrip *strip, int ry, double reach)
{
  double top = r->y0 + ry * r->factor, bottom = top + r->factor - 1, lo = 1e9, hi = -1e9;

  for (int i = 0; i < STRIP_N; i++)
    {
      double dy = MAX (0.0, MAX (top - strip->y[i], strip->y[i] - bottom)), dx;

      if (dy >= reach)
        continue;
      dx = sqrt (reach * reach - dy * dy);
      lo = MIN (lo, strip->x[i] - dx);
      hi = MAX (hi, strip->x[i] + dx);
    }
  if (lo > hi)
    return (Span){ 0, 0 };
  return (Span){ CLAMP ((int) floor ((lo - r->x0) / r->factor), 0, r->width),
                 CLAMP ((int) ceil ((hi - r->x0) / r->factor) + 1, 0, r->width) };
}

/* Adds up to ROWS rows of bytes column by column, evenly over the height of a reduced pixel:
 * more say no more, and a photo of 48 megapixels is read from memory. Returns how many. */
static int
add_rows (const StripRegion *r,
          const guint8 *bytes,
          gsize stride,
          gsize n,
          Span span,
          int h,
          int ry,
          guint32 *sum)
{
  int y0 = r->y0 + ry * r->factor, most = MIN (ROWS, r->factor), step = r->factor / most, rows = 0;

  memset (sum, 0, n * sizeof *sum);
  for (int row = 0; row < most; row++)
    {
      /* Alike from both ends, so that a picture upside down says the same. */
      int y = y0 + (row < most / 2 ? row * step : r->factor - 1 - (most - 1 - row) * step);
      const guint8 *p = bytes + stride * (gsize) y + (gsize) 3 * (gsize) (r->x0 + span.from * r->factor);
      gsize i = 0;

      if (y >= h)
        continue;
      rows++;
      for (; i + CHUNK <= n; i += CHUNK)
        for (gsize k = 0; k < CHUNK; k++)
          sum[i + k] += p[i + k];
      for (; i < n; i++)
        sum[i] += p[i];
    }
  return rows;
}

static void
reduce_row (StripRegion *r, const ImgPixels *pixels, Span span, int ry, guint32 *columns)
{
  float *out = r->rgb + (gsize) 3 * r->width * ry;
  int w = pixels->width, wide = MIN ((span.to - span.from) * r->factor, w - r->x0 - span.from * r->factor);
  int rows;

  if (span.to <= span.from)
    return;
  rows = add_rows (r, g_bytes_get_data (pixels->bytes, NULL), pixels->stride, (gsize) 3 * (gsize) wide,
                   span, pixels->height, ry, columns);
  for (int rx = span.from; rx < span.to; rx++)
    {
      int across = MIN (r->factor, w - (r->x0 + rx * r->factor)), n = rows * across;
      const guint32 *p = columns + (gsize) 3 * (gsize) ((rx - span.from) * r->factor);
      guint32 sum[3] = { 0, 0, 0 };

      for (int x = 0; x < across; x++, p += 3)
        for (int c = 0; c < 3; c++)
          sum[c] += p[c];
      for (int c = 0; c < 3; c++)
        out[3 * rx + c] = n > 0 ? (float) sum[c] / (255.0f * (float) n) : 0.0f;
    }
}

gboolean
strip_region_init (StripRegion *r,
                   const ImgPixels *pixels,
                   const ImgStrip *strip,
                   double within,
                   ImgStopFunc should_stop,
                   gpointer data)
{
  double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9, reach = REACH * strip->axis_px + 2.0;
  g_autofree guint32 *columns = NULL;

  for (int i = 0; i < STRIP_N; i++)
    {
      x0 = MIN (x0, strip->x[i]);
      x1 = MAX (x1, strip->x[i]);
      y0 = MIN (y0, strip->y[i]);
      y1 = MAX (y1, strip->y[i]);
    }
  r->factor = 1;
  while (strip->axis_px / r->factor > LARGEST_AXIS)
    r->factor *= 2;
  r->x0 = CLAMP ((int) floor (x0 - reach), 0, pixels->width - 1);
  r->y0 = CLAMP ((int) floor (y0 - reach), 0, pixels->height - 1);
  r->width = (CLAMP ((int) ceil (x1 + reach), r->x0, pixels->width - 1) - r->x0) / r->factor + 1;
  r->height = (CLAMP ((int) ceil (y1 + reach), r->y0, pixels->height - 1) - r->y0) / r->factor + 1;
  /* What no place within reach of the axis is read from stays 0 and unread. */
  r->rgb = g_new0 (float, (gsize) 3 * (gsize) r->width * (gsize) r->height);
  columns = g_new (guint32, (gsize) 3 * (gsize) r->width * (gsize) r->factor);
  for (int y = 0; y < r->height; y++)
    {
      if ((y & 31) == 0 && should_stop != NULL && should_stop (data))
        return FALSE;
      reduce_row (r, pixels, corridor (r, strip, y, within * strip->axis_px + 2.0 * r->factor), y,
                  columns);
    }
  return TRUE;
}

void
strip_region_clear (StripRegion *r)
{
  g_clear_pointer (&r->rgb, g_free);
}

void
strip_region_sample (const StripRegion *r, double x, double y, float rgb[3])
{
  double off = .5 * (r->factor - 1);
  float fx = (float) CLAMP ((x - r->x0 - off) / r->factor, 0.0, r->width - 1.0);
  float fy = (float) CLAMP ((y - r->y0 - off) / r->factor, 0.0, r->height - 1.0);
  int ix = MIN ((int) fx, MAX (0, r->width - 2)), iy = MIN ((int) fy, MAX (0, r->height - 2));
  int dx = r->width > 1 ? 3 : 0;
  gsize dy = r->height > 1 ? (gsize) 3 * r->width : 0;
  const float *p = r->rgb + 3 * ((gsize) r->width * iy + ix);

  fx -= (float) ix;
  fy -= (float) iy;
  for (int c = 0; c < 3; c++, p++)
    {
      float up = p[0] + fx * (p[dx] - p[0]), down = p[dy] + fx * (p[dy + (gsize) dx] - p[dy]);

      rgb[c] = up + fy * (down - up);
    }
}
