/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-draw-priv.h — what the files of the drawing share.
 *
 * Frame: u runs from the base of the abdomen (0) to its tip (1) along the
 * chord, v across it in the same unit; the axis is the parabola
 * v = 4 bend u (1 - u), going on straight beyond both ends. s is the nearest
 * place on the axis to first order, t the signed distance in half widths.
 */
#pragma once

#include "demo/demo-draw.h"
#include "demo/demo-paint.h"
#include "demo/demo-rand.h"

#define DEMO_MAX_MARKS 90
#define DEMO_MAX_STRIPES 5

typedef enum
{
  SUTURE_DARK,
  SUTURE_LIGHT,
  SUTURE_COLOUR,
  SUTURE_STEP,
  SUTURE_MEMBRANE,
  SUTURE_EMBOSS,
  SUTURE_RAMP, /* each plate brightens towards its hind edge, then starts anew */
  /* only in varied pictures: */
  SUTURE_DOUBLE,  /* dark beside light */
  SUTURE_OVERLAP, /* a sharp edge and the shade behind it */
  SUTURE_PAIR,    /* two thin lines */
  SUTURE_HUE,     /* a colour of any kind, no light or shade */
  N_SUTURES
} SutureStyle;

/* How hard a level is; sizes in axis lengths, contrasts in display values. */
typedef struct
{
  double contrast, contrast_sd; /* of a suture, median and sd of the log */
  double blur;
  double noise;
  double texture;
  double marks; /* spots, folds, specks: how many and how strong */
  double fold;  /* false lines right across a plate, against a suture */
  double odd;   /* chance of each mishap: glare, shadow, a leg across, motion */
} DemoLevel;

typedef struct
{
  double x, y;   /* base, canvas pixels */
  double length; /* of the chord, canvas pixels */
  double ca, sa; /* direction base to tip */
  double bend;
} DemoFrame;

typedef struct
{
  double s, t, angle, along, across; /* centre; radii in s and in t before turning */
  double gain;                       /* added light, negative darkens */
  float tint[3];                     /* weight of each channel */
} DemoMark;

typedef struct
{
  SutureStyle style;
  double at, amp, width; /* s, contrast, sd in s */
  double arc, tilt;      /* own bend and slant of this line over t */
  double side;           /* -1 or 1, which plate it shades */
  guint32 seed;
  double broken; /* 0 whole … 1 in pieces across the belly */
  double tail;   /* SUTURE_OVERLAP: length of the shade, in s */
  double green;  /* SUTURE_HUE: green or its opposite, beside warm or cold */
} DemoSuture;

/* A stripe along the whole abdomen. */
typedef struct
{
  double t, sd, gain, wave; /* place and width in half widths; wave: sideways, half widths */
} DemoStripe;

typedef struct
{
  int count;
  DemoSuture line[DEMO_DRAW_MAX_PLATES]; /* count - 1 */
  double edge[DEMO_DRAW_MAX_PLATES + 1]; /* plates' ends, 0 … 1 */
  DemoColour plate[DEMO_DRAW_MAX_PLATES];
  DemoColour pleura;
  double half_width; /* in axis lengths */
  double female;     /* 0 slender … 1 broad in the middle */
  double tip_taper;  /* length over which the tip closes */
  double plate_edge; /* |t| where the plate ends and the soft flank begins */
  double scallop;    /* notch of the outline at each suture */
  double arc0, arc1, tilt;
  double tergite_shift; /* folds of the flank lie off the sutures, in s */
  double texture, grain;
  double light_t, light_s, gloss, gloss_t, rim;
  double midline, midline_sd, side_line, side_at;
  gboolean pleura_folds;
  int n_marks;
  DemoMark mark[DEMO_MAX_MARKS];
  guint32 seed;
  /* varied pictures only, else all 0 */
  double vee;         /* sutures as an angle instead of an arc, in s */
  double plate_ramp;  /* each plate lighter towards its hind edge */
  double band, bandq; /* a band across each plate: gain, place within the plate */
  double across;      /* grain of the texture: how many times finer across */
  int n_stripes;
  DemoStripe stripe[DEMO_MAX_STRIPES];
} DemoBody;

const DemoLevel *demo_level (int level);

DemoColour demo_body_colour (DemoRand *rand, DemoBodyColour colour);
void demo_body_init (DemoBody *body,
                     const DemoDrawOptions *options,
                     int count,
                     DemoSex sex,
                     DemoRand *rand);
void demo_body_paint (DemoCanvas *canvas, const DemoBody *body, const DemoFrame *frame);
/* For varied pictures: other lengths, sutures, light and pattern than any one animal has. */
void demo_vary_lengths (DemoBody *body, DemoSex sex, DemoRand *rand);
void demo_vary_sutures (DemoBody *body, const DemoDrawOptions *options, DemoRand *rand);
void demo_vary_rest (DemoBody *body, DemoRand *rand);
double demo_body_half_width (const DemoBody *body, double s);

DemoPoint demo_frame_point (const DemoFrame *frame, double u, double v);
DemoPoint demo_frame_axis (const DemoFrame *frame, double s, double d);

void demo_scene_ground (DemoCanvas *canvas, DemoColour body, DemoRand *rand);
void demo_scene_empty (DemoCanvas *canvas,
                       const DemoFrame *frame,
                       DemoSubject subject,
                       int level,
                       DemoRand *rand);
void demo_animal_below (DemoCanvas *canvas,
                        const DemoFrame *frame,
                        const DemoBody *body,
                        DemoColour colour,
                        DemoRand *rand);
void demo_animal_above (DemoCanvas *canvas,
                        const DemoFrame *frame,
                        const DemoBody *body,
                        DemoColour colour,
                        DemoRand *rand);
void demo_animal_wings (DemoCanvas *canvas,
                        const DemoFrame *frame,
                        DemoColour colour,
                        double wing_tip,
                        DemoRand *rand);
void demo_mishaps (DemoCanvas *canvas,
                   const DemoFrame *frame,
                   const DemoLevel *level,
                   double half_width,
                   DemoRand *rand);
