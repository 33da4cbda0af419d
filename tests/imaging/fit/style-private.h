/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-private.h — what the ways of drawing share: the stage (where the animal
 * lies, how long its plates are, what stands around it) and the skin, a map of
 * colours over s (0 base … 1 tip, along an arc of a circle) and t (-1 … 1 across).
 */
#pragma once

#include "demo/demo-paint.h"
#include "demo/demo-rand.h"
#include "style.h"

#define STAGE_PLATES 18
#define STAGE_KNOTS 6

typedef struct
{
  DemoRand rand;
  guint32 seed;
  int level, count; /* count: plates as drawn, 0 … STAGE_PLATES; the truth may say none */
  DemoSex sex;
  double contrast, clutter, noise, blur; /* display values; 1 = usual; display; axis lengths */
  double x, y, ca, sa, length, turn;     /* base, direction, px, radians from base to tip */
  double half, knot[STAGE_KNOTS], tip, neck;
  double edge[STAGE_PLATES + 1];
  double arc, arc_grows, arc_power, tilt, tilt_grows, wave; /* of the sutures, in s */
  double warp;                                              /* how uneven each suture runs */
  DemoColour colour;
  DemoCanvas *canvas;
} Stage;

typedef struct
{
  int ns, nt;
  float *rgb; /* 3 ns nt */
} Skin;

/* A place on the skin as the sutures see it. */
typedef struct
{
  double s, t;    /* as on the map */
  double along;   /* s with arcs and slants taken out */
  int plate;      /* from 0 */
  double q;       /* 0 … 1 within the plate */
  int near;       /* nearest suture, 0 … count - 2; -1: none */
  double to_near; /* signed distance behind it, in s */
} SkinPlace;

void stage_init (Stage *stage, const StyleOptions *options);
DemoPoint stage_point (const Stage *stage, double s, double d); /* d in axis lengths */
double stage_half_width (const Stage *stage, double s);
SkinPlace stage_place (const Stage *stage, double s, double t);
DemoColour stage_any_colour (DemoRand *rand);
double stage_signed (DemoRand *rand, double lo, double hi); /* lo … hi, either sign */

void stage_ground (Stage *stage); /* fills the canvas */
void stage_limbs (Stage *stage);  /* thorax, tail, legs behind the belly */
void stage_skin (Stage *stage, const Skin *skin);
void stage_mishaps (Stage *stage); /* legs across, shadow edges, glare, blur, motion */
/* Instead of an animal: leaf, twig, finger, cloth, or the bare ground. */
void stage_thing (Stage *stage);
DemoDrawing *stage_develop (Stage *stage, const StyleOptions *options);

Skin *skin_new (const Stage *stage);
void skin_free (Skin *skin);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Skin, skin_free)

void style_relief_skin (Stage *stage, Skin *skin);
void style_pen_skin (Stage *stage, Skin *skin);
void style_signal_skin (Stage *stage, Skin *skin);
/* The whole picture; thing: without an animal. */
void style_print_picture (Stage *stage, gboolean thing);
