/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style.h — three more ways of drawing an abdomen, which share nothing with
 * src/demo/demo-draw* but brushes and chance: other geometry, other sutures,
 * other light. The finder learns from all; one left out stands for a stranger's.
 */
#pragma once

#include "demo/demo-draw.h"

typedef enum
{
  STYLE_RELIEF, /* a lit landscape: shingles, bumps, grooves and ridges, gloss */
  STYLE_PEN,    /* drawn by hand: strokes of ink, hatching, stipple, flat plates */
  STYLE_SIGNAL, /* sutures of any profile and colour; false lines of others */
  STYLE_PRINT,  /* nothing is fitted on this one: a stranger's pictures */
  N_STYLES
} Style;

typedef struct
{
  guint64 seed;
  int level; /* 1 … 5 */
  int count; /* plates, 4 … 10 */
  DemoSex sex;
  gboolean empty;   /* nothing that can be counted; the truth has no boundaries */
  double length_px; /* of the axis */
} StyleOptions;

/* truth: base, tip, mid, bend, count and boundaries; the rest stays 0. */
DemoDrawing *style_draw (Style style, const StyleOptions *options) G_GNUC_WARN_UNUSED_RESULT;
