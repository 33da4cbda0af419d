/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-quality.c — sharpness, glare and contrast of a band.
 *
 * Invariant: no measure depends on brightness or on the direction of the
 * line: a mirrored or turned copy gives the same figures up to resampling.
 */
#include "imaging/img-quality.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define N_LANES 9
#define LANE_REACH 0.8 /* of the half width: the outline itself is no edge to judge by */
#define MAX_SAMPLES 4096
#define RANGE_REACH 8 /* pixels to each side */
#define BLOWN 250     /* of 255 */

typedef struct
{
  const ImgPixels *pixels;
  const ImgPoint *line;
  int n_points;
  double half_width;
  double step; /* pixels from sample to sample, >= 1 */
  int n;       /* samples along the line */
} Band;

/* Luma along one lane, and how many samples are blown out. */
typedef struct
{
  double luma[MAX_SAMPLES];
  int n;
  int n_blown;
} Lane;

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Sorts `values`; the nearest rank is enough for what these figures are used for. */
static double
percentile (double *values, int n, double p)
{
  if (n == 0)
    return 0;
  qsort (values, (gsize) n, sizeof *values, compare);
  return values[(int) (p * (n - 1) + 0.5)];
}

static double
line_length (const ImgPoint *line, int n_points)
{
  double length = 0;

  for (int i = 0; i + 1 < n_points; i++)
    length += hypot (line[i + 1].x - line[i].x, line[i + 1].y - line[i].y);
  return length;
}

/* The point at distance `along`, `across` to its right. */
static ImgPoint
band_point (const Band *band, double along, double across)
{
  const ImgPoint *a = band->line;
  double length = 0, ux, uy;

  for (int i = 0; i + 1 < band->n_points; i++)
    {
      a = &band->line[i];
      length = hypot (a[1].x - a[0].x, a[1].y - a[0].y);
      if (along <= length || i + 2 == band->n_points)
        break;
      along -= length;
    }
  if (length <= 0)
    return *a;
  ux = (a[1].x - a[0].x) / length;
  uy = (a[1].y - a[0].y) / length;
  return (ImgPoint){ a->x + ux * along - uy * across, a->y + uy * along + ux * across };
}

/* Rec. 601 weights, as JPEG itself uses. */
static double
luma_at (const ImgPixels *pixels, int x, int y)
{
  const guint8 *p = img_pixels_row (pixels, y) + (gsize) x * 3;

  return 0.299 * p[0] + 0.587 * p[1] + 0.114 * p[2];
}

/* Bilinear between pixel centres; FALSE outside the picture. */
static gboolean
sample (const ImgPixels *pixels, ImgPoint at, double *luma, gboolean *blown)
{
  double x = at.x - 0.5, y = at.y - 0.5, fx, fy, top, bottom;
  const guint8 *nearest;
  int x0, y0, x1, y1;

  if (at.x < 0 || at.y < 0 || at.x >= pixels->width || at.y >= pixels->height)
    return FALSE;
  nearest = img_pixels_row (pixels, (int) at.y) + (gsize) (int) at.x * 3;
  *blown = nearest[0] >= BLOWN && nearest[1] >= BLOWN && nearest[2] >= BLOWN;
  x0 = (int) floor (x);
  y0 = (int) floor (y);
  fx = x - x0;
  fy = y - y0;
  x1 = MIN (x0 + 1, pixels->width - 1);
  y1 = MIN (y0 + 1, pixels->height - 1);
  x0 = MAX (x0, 0);
  y0 = MAX (y0, 0);
  top = luma_at (pixels, x0, y0) * (1 - fx) + luma_at (pixels, x1, y0) * fx;
  bottom = luma_at (pixels, x0, y1) * (1 - fx) + luma_at (pixels, x1, y1) * fx;
  *luma = top * (1 - fy) + bottom * fy;
  return TRUE;
}

static void
read_lane (const Band *band, int index, Lane *lane)
{
  double across = LANE_REACH * band->half_width * (2.0 * index / (N_LANES - 1) - 1);

  lane->n = lane->n_blown = 0;
  for (int i = 0; i < band->n; i++)
    {
      gboolean blown;

      if (!sample (band->pixels, band_point (band, i * band->step, across), &lane->luma[lane->n],
                   &blown))
        continue;
      lane->n++;
      lane->n_blown += blown;
    }
}

static double
range_around (const Lane *lane, int at)
{
  double low = lane->luma[at], high = low;

  for (int i = MAX (0, at - RANGE_REACH); i <= MIN (lane->n - 1, at + 1 + RANGE_REACH); i++)
    {
      low = MIN (low, lane->luma[i]);
      high = MAX (high, lane->luma[i]);
    }
  return high - low;
}

static gboolean
is_steepest_around (const double *change, int n, int at)
{
  for (int i = MAX (0, at - RANGE_REACH); i <= MIN (n - 1, at + RANGE_REACH); i++)
    if (change[i] > change[at] || (change[i] == change[at] && i < at))
      return FALSE;
  return TRUE;
}

/* Steepness of each edge of one lane, appended to `out`. A range under 4 levels of 255 is what
 * noise and rounding make of a plain surface. */
static int
lane_edges (const Lane *lane, double whole_range, double step, double *change, double *out)
{
  int n_changes = lane->n - 1, n = 0;

  for (int i = 0; i < n_changes; i++)
    change[i] = fabs (lane->luma[i + 1] - lane->luma[i]);
  for (int i = 0; i < n_changes; i++)
    {
      double range = range_around (lane, i);

      if (range >= 4 && range >= whole_range / 4 && is_steepest_around (change, n_changes, i))
        out[n++] = change[i] / (range * step);
    }
  return n;
}

static void
measure (const Band *band, ImgQuality *out)
{
  g_autofree Lane *lane = g_new (Lane, 1);
  g_autofree double *edges = g_new (double, N_LANES *MAX_SAMPLES);
  g_autofree double *scratch = g_new (double, MAX_SAMPLES);
  double contrasts[N_LANES];
  int n_edges = 0, n_lanes = 0, n_samples = 0, n_blown = 0;

  for (int k = 0; k < N_LANES; k++)
    {
      double low, high;

      read_lane (band, k, lane);
      if (lane->n == 0)
        continue;
      memcpy (scratch, lane->luma, sizeof (double) * (gsize) lane->n);
      low = percentile (scratch, lane->n, 0.05);
      high = percentile (scratch, lane->n, 0.95);
      contrasts[n_lanes++] = (high - low) / 255;
      n_edges += lane_edges (lane, high - low, band->step, scratch, edges + n_edges);
      n_samples += lane->n;
      n_blown += lane->n_blown;
    }
  out->sharpness = percentile (edges, n_edges, 0.75);
  out->contrast = percentile (contrasts, n_lanes, 0.5);
  out->glare = n_samples > 0 ? (double) n_blown / n_samples : 0;
}

static gboolean
touches_picture (const ImgPixels *pixels, const ImgPoint *line, int n_points)
{
  for (int i = 0; i < n_points; i++)
    if (line[i].x >= 0 && line[i].y >= 0 && line[i].x < pixels->width && line[i].y < pixels->height)
      return TRUE;
  return FALSE;
}

gboolean
img_quality_measure (const ImgPixels *pixels,
                     const ImgPoint *line,
                     int n_points,
                     double half_width,
                     ImgQuality *out)
{
  Band band = { pixels, line, n_points, half_width, 1, 0 };
  double length;

  g_return_val_if_fail (pixels != NULL && line != NULL && out != NULL, FALSE);

  *out = (ImgQuality){ 0 };
  if (n_points < 2 || n_points > IMG_QUALITY_MAX_POINTS || !isfinite (half_width) || half_width < 0)
    return FALSE;
  for (int i = 0; i < n_points; i++)
    if (!isfinite (line[i].x) || !isfinite (line[i].y))
      return FALSE;
  length = line_length (line, n_points);
  if (!(length > 0) || !isfinite (length) || !touches_picture (pixels, line, n_points))
    return FALSE;
  out->length_px = length;
  band.step = MAX (1.0, length / (MAX_SAMPLES - 1));
  band.n = MIN (MAX_SAMPLES, (int) (length / band.step) + 1);
  measure (&band, out);
  return TRUE;
}
