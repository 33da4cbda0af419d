/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-wing.c — ratios along the body axis from marks, with their error.
 *
 * All lengths of one ratio lie along one axis, so that the unknown tilt of the
 * animal cancels. The error of a mark is the same in every direction and
 * independent between marks; errors travel to first order.
 */
#include "core/core-sex.h"

#include <math.h>

/* Marks that are not level with the axis shorten the tegmen: so much more spread on the ratio even in
 * a flat view, and so much beside it in an oblique one (ours). Added, not as squares: it is the same
 * way off in every mark. */
static const double FLAT_SD = .02, OBLIQUE_SD = .04;

static double
dist (CorePoint a, CorePoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

/* 2 px or 1 % of the axis, the larger, where the caller gives none. */
static double
mark_error (double given, double axis)
{
  if (given > 0)
    return given;
  return fmax (2, .01 * axis);
}

bool
core_wing_ratio (CorePoint wing_base,
                 CorePoint wing_tip,
                 CorePoint abdomen_tip,
                 double mark_sd,
                 bool oblique,
                 double *ratio,
                 double *sd)
{
  double axis = dist (wing_base, abdomen_tip);
  if (!isfinite (axis) || axis < 1)
    return false;
  double ux = (abdomen_tip.x - wing_base.x) / axis, uy = (abdomen_tip.y - wing_base.y) / axis;
  double wing = (wing_tip.x - wing_base.x) * ux + (wing_tip.y - wing_base.y) * uy;
  if (!isfinite (wing) || wing <= 0)
    return false;
  double e = mark_error (mark_sd, axis), r = wing / axis;
  /* r = wing / axis: d r = (d tip + (r - 1) d base - r d abdomen) / axis */
  double var = e * e * (1 + (r - 1) * (r - 1) + r * r) / (axis * axis);
  *ratio = r;
  *sd = sqrt (var) + FLAT_SD + (oblique ? OBLIQUE_SD : 0);
  return true;
}

bool
core_tegmen_pronotum (CorePoint wing_base,
                      CorePoint wing_tip,
                      CorePoint pronotum_front,
                      CorePoint pronotum_back,
                      double mark_sd,
                      double *ratio,
                      double *sd)
{
  double tegmen = dist (wing_base, wing_tip), pronotum = dist (pronotum_front, pronotum_back);
  if (!isfinite (tegmen) || !isfinite (pronotum) || tegmen < 1 || pronotum < 1)
    return false;
  double e = mark_error (mark_sd, tegmen), r = tegmen / pronotum;
  /* each length has two marks: relative variance 2 e² / length² */
  *ratio = r;
  *sd = r * e * sqrt (2 / (tegmen * tegmen) + 2 / (pronotum * pronotum));
  return true;
}
