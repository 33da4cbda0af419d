/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-measure.c — see core-measure.h. */
#include "core/core-measure.h"

#include <float.h>
#include <math.h>
#include <string.h>

static const double PI = 3.14159265358979323846;
static const double LEAST_ARC = 120; /* degrees */
/* Tilt of 0 … 15°, all alike: the cosine's sd over that range. */
static const double TILT_SD = .0102;

/* ---- the disc ---- */

typedef struct
{
  double x, y, r;
} Circle;

typedef struct
{
  double xx, yy, xy, xz, yz, zz; /* moments about the mean, z = x² + y² */
} Moments;

static bool
all_finite (const CorePoint *p, int n)
{
  for (int i = 0; i < n; i++)
    if (!isfinite (p[i].x) || !isfinite (p[i].y))
      return false;
  return true;
}

static Moments
moments_of (const CorePoint *p, int n, double mx, double my)
{
  Moments m = { 0 };

  for (int i = 0; i < n; i++)
    {
      double x = p[i].x - mx, y = p[i].y - my, z = x * x + y * y;

      m.xx += x * x / n;
      m.yy += y * y / n;
      m.xy += x * y / n;
      m.xz += x * z / n;
      m.yz += y * z / n;
      m.zz += z * z / n;
    }
  return m;
}

/* G. Taubin, IEEE Trans. PAMI 13 (1991) 1115: the algebraic fit, its weight by Newton's steps
 * from zero, as N. Chernov writes it. */
static bool
fit_taubin (const CorePoint *p, int n, Circle *out)
{
  double mx = 0, my = 0, root = 0, value, det, x, y;
  Moments m;

  for (int i = 0; i < n; i++)
    {
      mx += p[i].x / n;
      my += p[i].y / n;
    }
  m = moments_of (p, n, mx, my);
  double z = m.xx + m.yy, cov = m.xx * m.yy - m.xy * m.xy, var = m.zz - z * z;
  double a3 = 4 * z, a2 = -3 * z * z - m.zz;
  double a1 = var * z + 4 * cov * z - m.xz * m.xz - m.yz * m.yz;
  double a0 = m.xz * (m.xz * m.yy - m.yz * m.xy) + m.yz * (m.yz * m.xx - m.xz * m.xy) - var * cov;

  value = a0;
  for (int step = 0; step < 99; step++)
    {
      double slope = a1 + root * (2 * a2 + 3 * a3 * root), next = root - value / slope, at;

      if (!isfinite (next) || next == root)
        break;
      at = a0 + next * (a1 + next * (a2 + next * a3));
      if (fabs (at) >= fabs (value))
        break;
      root = next;
      value = at;
    }
  det = root * root - root * z + cov;
  if (!(fabs (det) > DBL_EPSILON * z * z))
    return false;
  x = (m.xz * (m.yy - root) - m.yz * m.xy) / det / 2;
  y = (m.yz * (m.xx - root) - m.xz * m.xy) / det / 2;
  *out = (Circle){ x + mx, y + my, sqrt (x * x + y * y + z) };
  return isfinite (out->x) && isfinite (out->y) && isfinite (out->r) && out->r > 0;
}

/* Takes out the worst mark as long as it lies farther off than three errors; five stay. */
static int
trim (CorePoint *p, int *n, double mark_sd, Circle *circle)
{
  int out = 0;

  while (*n > CORE_DISC_MARKS)
    {
      double worst = 0;
      int at = 0;

      for (int i = 0; i < *n; i++)
        {
          double off = fabs (hypot (p[i].x - circle->x, p[i].y - circle->y) - circle->r);

          if (off > worst)
            {
              worst = off;
              at = i;
            }
        }
      if (worst <= 3 * mark_sd)
        break;
      p[at] = p[--*n];
      out++;
      if (!fit_taubin (p, *n, circle))
        break;
    }
  return out;
}

/* Degrees of the circle less the widest gap between neighbours. */
static double
arc_of (const CorePoint *p, int n, const Circle *circle)
{
  double turn[CORE_DISC_MOST], gap;

  for (int i = 0; i < n; i++)
    {
      double t = atan2 (p[i].y - circle->y, p[i].x - circle->x);
      int k = i;

      for (; k > 0 && turn[k - 1] > t; k--)
        turn[k] = turn[k - 1];
      turn[k] = t;
    }
  gap = turn[0] + 2 * PI - turn[n - 1];
  for (int i = 1; i < n; i++)
    gap = fmax (gap, turn[i] - turn[i - 1]);
  return (2 * PI - gap) * 180 / PI;
}

/* A disc seen from the side is an ellipse: r = r0 (1 + e cos 2(t - t0)), by least squares. */
static double
flatness_of (const CorePoint *p, int n, const Circle *circle)
{
  double cc = 0, ss = 0, cs = 0, cr = 0, sr = 0, det, a, b, e;

  for (int i = 0; i < n; i++)
    {
      double t = 2 * atan2 (p[i].y - circle->y, p[i].x - circle->x);
      double off = hypot (p[i].x - circle->x, p[i].y - circle->y) / circle->r - 1;

      cc += cos (t) * cos (t);
      ss += sin (t) * sin (t);
      cs += cos (t) * sin (t);
      cr += cos (t) * off;
      sr += sin (t) * off;
    }
  det = cc * ss - cs * cs;
  if (!(det > 1e-9))
    return 1;
  a = (cr * ss - sr * cs) / det;
  b = (sr * cc - cr * cs) / det;
  e = fmin (hypot (a, b), .9);
  return (1 - e) / (1 + e);
}

CoreMeasureStatus
core_circle_fit (const CorePoint *edge, int n, double mark_sd, CoreCircle *out)
{
  CorePoint p[CORE_DISC_MOST];
  Circle circle;

  memset (out, 0, sizeof *out);
  if (n < CORE_DISC_MARKS || n > CORE_DISC_MOST)
    return CORE_MEASURE_TOO_FEW;
  if (!all_finite (edge, n) || !(mark_sd > 0))
    return CORE_MEASURE_NO_LENGTH;
  memcpy (p, edge, (size_t) n * sizeof *p);
  if (!fit_taubin (p, n, &circle))
    return CORE_MEASURE_NO_CIRCLE;
  out->left_out = trim (p, &n, mark_sd, &circle);
  out->x = circle.x;
  out->y = circle.y;
  out->r = circle.r;
  out->arc = arc_of (p, n, &circle);
  out->flat = flatness_of (p, n, &circle);
  /* The less of the circle is seen, the less it says of its size: 1 / (1 - sin(a)/a) of half the
   * arc, from the two unknowns radius and middle along the arc's axis. */
  double half = fmax (out->arc, 1) * PI / 360, mean = sin (half) / half;
  double spread = fmax (1e-6, .5 + sin (2 * half) / (4 * half) - mean * mean);
  out->r_sd = mark_sd / sqrt (n) * sqrt (1 + mean * mean / spread);
  if (out->arc < LEAST_ARC)
    return CORE_MEASURE_SHORT_ARC;
  return CORE_MEASURE_OK;
}

/* ---- lengths ---- */

CoreMeasureStatus
core_scale_ruler (CorePoint a, CorePoint b, double mm, double mark_sd, CoreScale *out)
{
  double length = hypot (b.x - a.x, b.y - a.y);

  *out = (CoreScale){ 0 };
  if (!isfinite (length) || !(length > 3 * mark_sd) || !(mm > 0) || !isfinite (mm))
    return CORE_MEASURE_NO_LENGTH;
  *out = (CoreScale){ mm / length, sqrt (2) * mark_sd / length };
  return CORE_MEASURE_OK;
}

CoreMeasureStatus
core_scale_disc (const CoreCircle *circle, double diameter_mm, CoreScale *out)
{
  *out = (CoreScale){ 0 };
  if (!(circle->r > 0) || !(diameter_mm > 0) || !isfinite (diameter_mm))
    return CORE_MEASURE_NO_LENGTH;
  /* Seen from the side its short axis is too short: half of that is not known. */
  *out = (CoreScale){ diameter_mm / (2 * circle->r),
                      hypot (circle->r_sd / circle->r, (1 - circle->flat) / 4) };
  return CORE_MEASURE_OK;
}

/* By how much the length grows with each mark: the sum of the unit vectors that end in it. */
static double
line_sd (const CorePoint *p, int n, double mark_sd)
{
  double sum = 0;

  for (int i = 0; i < n; i++)
    {
      double gx = 0, gy = 0;

      for (int k = i - 1; k <= i + 1; k += 2)
        if (k >= 0 && k < n)
          {
            double leg = hypot (p[i].x - p[k].x, p[i].y - p[k].y);

            gx += leg > 0 ? (p[i].x - p[k].x) / leg : 0;
            gy += leg > 0 ? (p[i].y - p[k].y) / leg : 0;
          }
      sum += gx * gx + gy * gy;
    }
  return mark_sd * sqrt (sum);
}

CoreMeasureStatus
core_length (const CorePoint *line, int n, double mark_sd, const CoreScale *scale, CoreLength *out)
{
  double px = 0, marks;

  *out = (CoreLength){ 0 };
  if (n < 2)
    return CORE_MEASURE_TOO_FEW;
  if (!all_finite (line, n))
    return CORE_MEASURE_NO_LENGTH;
  for (int i = 0; i + 1 < n; i++)
    px += hypot (line[i + 1].x - line[i].x, line[i + 1].y - line[i].y);
  if (!(px > 3 * mark_sd) || !(scale->mm_per_px > 0))
    return CORE_MEASURE_NO_LENGTH;
  marks = line_sd (line, n, mark_sd) / px;
  out->mm = px * scale->mm_per_px;
  out->sd = out->mm * sqrt (marks * marks + scale->share_sd * scale->share_sd + TILT_SD * TILT_SD);
  return CORE_MEASURE_OK;
}

/* ---- plumpness ---- */

/* Depth ÷ length at the middle of each belly score, and how far animals differ. Ours: no source;
 * the keeper's own score always stands beside it. */
static const double score_depth[6] = { 0, .11, .16, .22, .29, .37 };
static const double ANIMAL_SD = .025;

CoreMeasureStatus
core_plumpness (const CorePoint *upper,
                const CorePoint *lower,
                int n,
                double length,
                double mark_sd,
                CorePlumpness *out)
{
  double deepest = 0, total = 0;

  memset (out, 0, sizeof *out);
  if (n < 3)
    return CORE_MEASURE_TOO_FEW;
  if (!all_finite (upper, n) || !all_finite (lower, n) || !(length > 3 * mark_sd))
    return CORE_MEASURE_NO_LENGTH;
  for (int i = 0; i < n; i++)
    deepest = fmax (deepest, hypot (upper[i].x - lower[i].x, upper[i].y - lower[i].y));
  out->depth = deepest / length;
  out->depth_sd = sqrt (2) * mark_sd / length * hypot (1, out->depth);
  for (int i = 1; i <= 5; i++)
    {
      double z = (out->depth - score_depth[i]) / hypot (ANIMAL_SD, out->depth_sd);

      out->p[i] = exp (-.5 * fmin (z * z, 1400));
      total += out->p[i];
    }
  /* Beyond both ends the outer score is as sure as it can be. */
  if (!(total > 0))
    out->p[out->depth < score_depth[3] ? 1 : 5] = total = 1;
  for (int i = 1; i <= 5; i++)
    {
      out->p[i] /= total;
      if (out->score == 0 || out->p[i] > out->p[out->score])
        out->score = i;
    }
  return CORE_MEASURE_OK;
}
