/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-strip.c — outline, lanes, slow light out, arcs flat. */
#include "imaging/img-strip-private.h"

#include <math.h>
#include <string.h>

#define OFFSETS 72   /* places across, on each side */
#define NEAREST 0.02 /* of the axis length: no outline nearer */
#define FARTHEST 0.30
#define USUAL_HALF_WIDTH 0.125 /* median of the prior, log sd 0.45; ours */
#define STEP_PENALTY 0.35      /* per place that the outline moves from sample to sample */
#define BLACK 0.04f            /* keeps the logarithms of dark places from noise */

/* The value that would stand at `k` if all were sorted; reorders them. */
static float
pick_sorted (float *v, int n, int k)
{
  int lo = 0, hi = n - 1;

  while (lo < hi)
    {
      float pivot = v[(lo + hi) / 2];
      int i = lo, j = hi;

      while (i <= j)
        {
          while (v[i] < pivot)
            i++;
          while (v[j] > pivot)
            j--;
          if (i <= j)
            {
              float keep = v[i];

              v[i++] = v[j];
              v[j--] = keep;
            }
        }
      if (k <= j)
        hi = j;
      else if (k >= i)
        lo = i;
      else
        break;
    }
  return v[k];
}

double
strip_robust_sd (const float *values, int n)
{
  float copy[STRIP_N], mid;

  n = MIN (n, STRIP_N);
  memcpy (copy, values, sizeof *copy * (gsize) n);
  mid = pick_sorted (copy, n, n / 2);
  for (int i = 0; i < n; i++)
    copy[i] = fabsf (values[i] - mid);
  return 1.4826 * (double) pick_sorted (copy, n, n / 2);
}

void
strip_smooth (float row[STRIP_N], double sd)
{
  float wide[3 * STRIP_N] = { 0 }, weight[STRIP_N], before[STRIP_N + 1], *mid = wide + STRIP_N;
  int reach = MIN (STRIP_N - 1, (int) ceil (3.0 * sd));

  memcpy (mid, row, sizeof *mid * STRIP_N);
  before[0] = 0.0f; /* sum of the weights of 1 … k */
  for (int k = 0; k <= reach; k++)
    {
      weight[k] = expf ((float) (-.5 * k * k / (sd * sd)));
      before[k] = k == 0 ? 0.0f : before[k - 1] + weight[k];
    }
  for (int k = 1; k <= reach; k++)
    {
      const float *left = mid - k, *right = mid + k;
      float w = weight[k];

      for (int i = 0; i < STRIP_N; i++)
        row[i] += w * (left[i] + right[i]);
    }
  for (int i = 0; i < STRIP_N; i++)
    row[i] /= 1.0f + before[MIN (reach, i)] + before[MIN (reach, STRIP_N - 1 - i)];
}

static void
log_channels (const float rgb[3], float out[3])
{
  out[0] = logf (.30f * rgb[0] + .59f * rgb[1] + .11f * rgb[2] + BLACK);
  out[1] = logf ((rgb[0] + BLACK) / (rgb[1] + BLACK));
  out[2] = logf ((rgb[2] + BLACK) / (rgb[1] + BLACK));
}

static double
offset_of (int k)
{
  return NEAREST + (FARTHEST - NEAREST) * k / (OFFSETS - 1);
}

/* Strength of an edge at each place across: change of the log colour over four places,
 * smoothed along the axis (an outline is long, a leg is not). */
static void
side_edges (const ImgStrip *strip,
            const StripRegion *region,
            int sign,
            float edge[OFFSETS][STRIP_N])
{
  g_autofree float *logs = g_new (float, (gsize) 3 * (OFFSETS + 4) * STRIP_N);

  for (int k = -2; k < OFFSETS + 2; k++)
    for (int i = 0; i < STRIP_N; i++)
      {
        double d = sign * offset_of (k) * strip->axis_px;
        float rgb[3];

        strip_region_sample (region, strip->x[i] + d * strip->nx[i], strip->y[i] + d * strip->ny[i],
                             rgb);
        log_channels (rgb, logs + 3 * ((gsize) (k + 2) * STRIP_N + i));
      }
  for (int k = 0; k < OFFSETS; k++)
    {
      for (int i = 0; i < STRIP_N; i++)
        {
          float sum = 0.0f;

          for (int c = 0; c < 3; c++)
            {
              const float *at = logs + 3 * ((gsize) k * STRIP_N + i) + c;
              float d = at[(gsize) 3 * 4 * STRIP_N] + at[(gsize) 3 * 3 * STRIP_N] -
                        at[(gsize) 3 * STRIP_N] - at[0];

              sum += d * d;
            }
          edge[k][i] = sqrtf (sum);
        }
      strip_smooth (edge[k], 2.5);
    }
}

/* Best path of one place a sample; gain is what each place is worth. */
static double
best_path (const float gain[OFFSETS][STRIP_N], int path[STRIP_N])
{
  static const int reach = 3;
  g_autofree signed char *from = g_new (signed char, OFFSETS *STRIP_N);
  double best[OFFSETS], next[OFFSETS], top;

  for (int k = 0; k < OFFSETS; k++)
    best[k] = (double) gain[k][0];
  for (int i = 1; i < STRIP_N; i++)
    {
      for (int k = 0; k < OFFSETS; k++)
        {
          next[k] = -1e30;
          for (int d = -reach; d <= reach; d++)
            if (k + d >= 0 && k + d < OFFSETS && best[k + d] - STEP_PENALTY * abs (d) > next[k])
              {
                next[k] = best[k + d] - STEP_PENALTY * abs (d);
                from[k * STRIP_N + i] = (signed char) d;
              }
          next[k] += (double) gain[k][i];
        }
      memcpy (best, next, sizeof best);
    }
  path[STRIP_N - 1] = 0;
  for (int k = 1; k < OFFSETS; k++)
    if (best[k] > best[path[STRIP_N - 1]])
      path[STRIP_N - 1] = k;
  top = best[path[STRIP_N - 1]];
  for (int i = STRIP_N - 1; i > 0; i--)
    path[i - 1] = path[i] + from[path[i] * STRIP_N + i];
  return top;
}

static float
mean_edge (const float edge[OFFSETS][STRIP_N])
{
  double sum = 0.0;

  for (int k = 0; k < OFFSETS; k++)
    for (int i = 0; i < STRIP_N; i++)
      sum += (double) edge[k][i];
  return (float) MAX (1e-6, sum / (OFFSETS * STRIP_N));
}

void
strip_outline (ImgStrip *strip, const StripRegion *region)
{
  g_autofree float *memory = g_new (float, (gsize) 3 * OFFSETS * STRIP_N);
  float (*edge[2])[STRIP_N] = { (float (*)[STRIP_N]) memory,
                                (float (*)[STRIP_N]) (memory + OFFSETS * STRIP_N) };
  float (*both)[STRIP_N] = (float (*)[STRIP_N]) (memory + 2 * OFFSETS * STRIP_N);
  int path[STRIP_N], own[STRIP_N];
  double on_path = 0.0, width = 0.0;

  for (int s = 0; s < 2; s++)
    {
      float unit;

      side_edges (strip, region, s == 0 ? -1 : 1, edge[s]);
      unit = mean_edge ((const float (*)[STRIP_N]) edge[s]);
      for (int k = 0; k < OFFSETS; k++)
        for (int i = 0; i < STRIP_N; i++)
          edge[s][k][i] = MIN (edge[s][k][i] / unit, 5.0f);
    }
  for (int k = 0; k < OFFSETS; k++)
    {
      double z = log (offset_of (k) / USUAL_HALF_WIDTH) / .45;

      for (int i = 0; i < STRIP_N; i++)
        both[k][i] = (float) (.5 * (double) (edge[0][k][i] + edge[1][k][i]) - .35 * z * z);
    }
  best_path ((const float (*)[STRIP_N]) both, path);
  for (int s = 0; s < 2; s++)
    {
      for (int k = 0; k < OFFSETS; k++)
        for (int i = 0; i < STRIP_N; i++)
          both[k][i] = edge[s][k][i] - .004f * (float) ((k - path[i]) * (k - path[i]));
      best_path ((const float (*)[STRIP_N]) both, own);
      for (int i = 0; i < STRIP_N; i++)
        {
          on_path += (double) edge[s][own[i]][i];
          strip->side[s][i] = offset_of (own[i]) * strip->axis_px;
          width += offset_of (own[i]);
        }
    }
  strip->half_width = width / (2 * STRIP_N);
  strip->outline = CLAMP ((on_path / (2 * STRIP_N) - 1.0) / 2.5, 0.0, 1.0);
}

/* Half width for the lanes: smooth, and at the tip no narrower than a third of the mean, so
 * that lanes do not run together. */
static void
lane_width (const ImgStrip *strip, int side, float out[STRIP_N])
{
  double mean = 0.0;

  for (int i = 0; i < STRIP_N; i++)
    {
      out[i] = (float) strip->side[side][i];
      mean += strip->side[side][i] / STRIP_N;
    }
  for (int i = 0; i < STRIP_N; i++)
    out[i] = MAX (out[i], (float) mean / 3.0f);
  strip_smooth (out, 6.0);
}

/* Sample i of the axis, which goes on straight beyond both ends. */
static void
wide_sample (const ImgStrip *strip, int i, double *x, double *y)
{
  int end = CLAMP (i, 0, STRIP_N - 1);
  double by = (i - end) * strip->axis_px / STRIP_N;

  *x = strip->x[end] + by * strip->ny[end];
  *y = strip->y[end] - by * strip->nx[end];
}

/* The mean colour of one cell: four by two places, so that noise is averaged and nothing
 * aliases. w: half width there. */
static void
lane_cell (const ImgStrip *strip,
           const StripRegion *region,
           int i,
           double tau,
           double w,
           float mean[3])
{
  int end = CLAMP (i, 0, STRIP_N - 1);
  double step = strip->axis_px / STRIP_N, nx = strip->nx[end], ny = strip->ny[end], x, y;

  wide_sample (strip, i, &x, &y);
  mean[0] = mean[1] = mean[2] = 0.0f;
  for (int k = 0; k < 8; k++)
    {
      double d = (tau + (.25 * (k & 3) - .375) * 2.0 * IMG_STRIP_REACH / (STRIP_LANES - 1)) * w;
      double along = (k & 4 ? .25 : -.25) * step;
      float rgb[3];

      strip_region_sample (region, x + d * nx + along * ny, y + d * ny - along * nx, rgb);
      for (int c = 0; c < 3; c++)
        mean[c] += .125f * rgb[c];
    }
}

void
strip_lanes (ImgStrip *strip, const StripRegion *region)
{
  float width[2][STRIP_N];
  int burnt = 0;

  lane_width (strip, 0, width[0]);
  lane_width (strip, 1, width[1]);
  for (int l = 0; l < STRIP_LANES; l++)
    for (int i = -STRIP_MARGIN; i < STRIP_N + STRIP_MARGIN; i++)
      {
        double tau = IMG_STRIP_REACH * (2.0 * l / (STRIP_LANES - 1) - 1.0);
        gboolean inside = i >= 0 && i < STRIP_N;
        float mean[3], logs[3];

        lane_cell (strip, region, i, tau, (double) width[tau > 0][CLAMP (i, 0, STRIP_N - 1)], mean);
        burnt += inside && mean[0] > .975f && mean[1] > .975f && mean[2] > .95f;
        log_channels (mean, logs);
        for (int c = 0; c < 3; c++)
          {
            strip->flat[c][l][STRIP_MARGIN + i] = logs[c];
            if (inside)
              strip->raw[c][l][i] = logs[c];
          }
      }
  strip->glare = (double) burnt / (STRIP_LANES * STRIP_N);
}

/* Mean of every second lane, from `first`, a little smoothed. */
static void
half_of_lanes (const ImgStrip *strip, int first, float mean[STRIP_N])
{
  memset (mean, 0, sizeof *mean * STRIP_N);
  for (int l = first; l < STRIP_LANES; l += 2)
    for (int i = 0; i < STRIP_N; i++)
      mean[i] += strip->flat[0][l][STRIP_MARGIN + i] * 2.0f / STRIP_LANES;
  strip_smooth (mean, 1.5);
}

/* Contrast that two halves of the lanes share: noise, which they do not, drops out. */
static double
shared_contrast (const float *a, const float *b)
{
  double sum = 0.0;

  for (int i = 8; i < STRIP_N - 8; i++) /* the ends have edges of their own */
    sum += (double) a[i] * (double) b[i];
  return sqrt (MAX (0.0, sum / (STRIP_N - 16)));
}

/* Fine contrast against all: a blurred picture has none, whatever its noise. */
static void
measure_quality (ImgStrip *strip)
{
  float half[2][STRIP_N], slow[2][STRIP_N];
  double fine;

  for (int h = 0; h < 2; h++)
    half_of_lanes (strip, h, half[h]);
  strip->contrast = shared_contrast (half[0], half[1]);
  for (int h = 0; h < 2; h++)
    {
      memcpy (slow[h], half[h], sizeof slow[h]);
      strip_smooth (slow[h], 5.0);
      for (int i = 0; i < STRIP_N; i++)
        half[h][i] -= slow[h][i];
    }
  fine = shared_contrast (half[0], half[1]);
  strip->sharpness = fine / MAX (1e-9, strip->contrast);
}

ImgStripStatus
strip_build (const ImgPixels *pixels,
             const double *axis_xy,
             int n_marks,
             gboolean arcs,
             ImgStrip *strip,
             ImgStopFunc should_stop,
             gpointer data)
{
  StripRegion region = { 0 };
  ImgStripStatus status;

  memset (strip, 0, sizeof *strip);
  status = strip_axis (strip, pixels, axis_xy, n_marks);
  if (status != IMG_STRIP_OK)
    return status;
  if (!strip_region_init (&region, pixels, strip, STRIP_WITHIN, should_stop, data))
    {
      strip_region_clear (&region);
      return IMG_STRIP_STOPPED;
    }
  strip_outline (strip, &region);
  strip_lanes (strip, &region);
  strip_region_clear (&region);
  if (should_stop != NULL && should_stop (data))
    return IMG_STRIP_STOPPED;
  strip_flatten (strip, arcs);
  measure_quality (strip);
  return IMG_STRIP_OK;
}

ImgStripStatus
img_strip_build (const ImgPixels *pixels,
                 const double *axis_xy,
                 int n_marks,
                 ImgStrip *strip,
                 ImgStopFunc should_stop,
                 gpointer data)
{
  return strip_build (pixels, axis_xy, n_marks, TRUE, strip, should_stop, data);
}

void
img_strip_point (const ImgStrip *self, double at, double *x, double *y)
{
  double f = CLAMP (at * STRIP_N - .5, -.5, STRIP_N - .5);
  int i = CLAMP ((int) floor (f), 0, STRIP_N - 2);

  f -= i; /* may be a little outside 0 … 1 at the ends: the line goes on straight */
  *x = self->x[i] + f * (self->x[i + 1] - self->x[i]);
  *y = self->y[i] + f * (self->y[i + 1] - self->y[i]);
}

/* The place where the seam at `at` crosses the share `across` of the half width, -1 … 1: seams are arcs,
 * and the view is tilted. */
static void
seam_point (const ImgStrip *self, double at, double across, double out[2])
{
  double shift = (self->arc0 + self->arc1 * (at - .5)) * across * across + self->tilt * across;
  double there = CLAMP (at + shift / STRIP_N, 0, 1), x, y;
  int i = CLAMP ((int) (there * STRIP_N), 0, STRIP_N - 1);
  double half = across * self->side[across > 0][i];

  img_strip_point (self, there, &x, &y);
  out[0] = x + self->nx[i] * half;
  out[1] = y + self->ny[i] * half;
}

void
img_strip_across (const ImgStrip *self, double at, double from[2], double to[2])
{
  seam_point (self, at, -1, from);
  seam_point (self, at, 1, to);
}
