/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-draw.h — the project's own camera-like pictures, with known truth.
 *
 * No photograph can be taken from elsewhere without a licence, so the demo and
 * the tests draw theirs: a mantis from below, from above, with wings, or no
 * animal at all. The same options give the same picture. All truth is in
 * pixels of the upright picture, pixel centres at whole numbers.
 */
#pragma once

#include <glib.h>

#define DEMO_DRAW_MAX_PLATES 12

typedef enum
{
  DEMO_SUBJECT_UNDERSIDE, /* belly plates: what the finder counts */
  DEMO_SUBJECT_BACK,      /* ten rings from above */
  DEMO_SUBJECT_WINGS,     /* an adult from above: truth holds the five wing marks */
  DEMO_SUBJECT_SHED,      /* a shed skin, spread, underside up */
  DEMO_SUBJECT_LEAF,      /* no animal */
  DEMO_SUBJECT_BARK,
  DEMO_SUBJECT_HAND,
  DEMO_SUBJECT_CLOTH,
  DEMO_N_SUBJECTS
} DemoSubject;

typedef enum
{
  DEMO_SEX_ANY,
  DEMO_SEX_FEMALE, /* six plates, the last broad and long like a boat */
  DEMO_SEX_MALE    /* eight, the last two short and narrow */
} DemoSex;

typedef enum
{
  DEMO_COLOUR_ANY,
  DEMO_COLOUR_GREEN,
  DEMO_COLOUR_STRAW,
  DEMO_COLOUR_BROWN,
  DEMO_COLOUR_DARK,
  DEMO_COLOUR_PALE, /* white to pink */
  DEMO_COLOUR_GREY,
  DEMO_COLOUR_RED,
  DEMO_N_COLOURS
} DemoBodyColour;

typedef struct
{
  guint64 seed;
  int width, height; /* pixels, 64 … 20000 */
  double abdomen_px; /* base to tip; 0: about 0.4 of the smaller side */
  DemoSubject subject;
  DemoSex sex; /* with count 0: six or eight; ANY draws either */
  int count;   /* plates, 4 … 10; 0: by sex */
  int level;   /* 1 clean … 5 hardly countable */
  DemoBodyColour colour;
  gboolean varied;    /* far wider than any animal: for fitting the finder, and testing it */
  guint32 sutures;    /* varied pictures: bits of the kinds of suture to draw; 0 = all */
  gboolean unusable;  /* far out of focus and shaken: nothing can be counted */
  gboolean has_angle; /* else the animal lies as chance will */
  double angle;       /* radians, of the way from base to tip; 0 = to the right, +y is down */
} DemoDrawOptions;

typedef struct
{
  double x, y;
} DemoPoint;

typedef struct
{
  gboolean countable;                 /* an animal from below, and not `unusable` */
  int count;                          /* plates (rings on the back); 0 without an animal */
  DemoSex sex;                        /* what the plates were drawn as; ANY for odd counts */
  DemoPoint base, tip;                /* ends of the axis; for empty pictures a place to try */
  DemoPoint mid;                      /* on the axis, half way (differs from the chord when bent) */
  double bend;                        /* height of the arc of the axis / length of the chord */
  int n_bounds;                       /* count - 1 */
  double along[DEMO_DRAW_MAX_PLATES]; /* 0 base … 1 tip, by arc length */
  DemoPoint bound[DEMO_DRAW_MAX_PLATES]; /* where they cross the axis */
  double half_width;                     /* largest half width of the abdomen / axis length */
  gboolean has_wings;
  DemoPoint wing_base, wing_tip, pronotum_front, pronotum_back; /* abdomen tip = `tip` */
} DemoTruth;

typedef struct
{
  int width, height;
  guint8 *rgb; /* 3 * width * height, owned */
  DemoTruth truth;
} DemoDrawing;

DemoDrawing *demo_draw (const DemoDrawOptions *options) G_GNUC_WARN_UNUSED_RESULT;
void demo_drawing_free (DemoDrawing *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DemoDrawing, demo_drawing_free)
