/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-paint.h — brushes for the drawn pictures: a canvas of floats (display
 * values, 0 black to 1 white, interleaved RGB), soft strokes and ellipses,
 * blur, value noise. All coordinates are canvas pixels; pixel centres are at
 * whole numbers. Everything clips at the border of the canvas.
 */
#pragma once

#include <glib.h>

typedef struct
{
  float c[3];
} DemoColour;

typedef struct
{
  int width, height;
  float *px; /* 3 * width * height */
} DemoCanvas;

typedef struct
{
  int x0, y0, x1, y1; /* half open */
} DemoRect;

typedef struct
{
  double x0, y0, r0; /* one end and its radius, pixels */
  double x1, y1, r1; /* the other */
  DemoColour colour;
  double alpha; /* 0 … 1 */
  double round; /* 0 flat … 1 shaded like a rod */
  double soft;  /* width of the edge, pixels, >= 0.7 */
} DemoStroke;

typedef struct
{
  double x, y, rx, ry, angle; /* radians */
  DemoColour colour;
  double alpha, soft; /* soft: fraction of the radius over which the edge fades */
} DemoEllipse;

DemoCanvas *demo_canvas_new (int width, int height);
void demo_canvas_free (DemoCanvas *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DemoCanvas, demo_canvas_free)

DemoRect demo_canvas_clip (const DemoCanvas *self, double x0, double y0, double x1, double y1);
void demo_canvas_fill (DemoCanvas *self, DemoColour colour);
void demo_canvas_stretch (DemoCanvas *self, const DemoCanvas *small); /* bilinear, fills self */
void demo_canvas_stroke (DemoCanvas *self, const DemoStroke *stroke);
void demo_canvas_ellipse (DemoCanvas *self, const DemoEllipse *ellipse);
void demo_canvas_blur (DemoCanvas *self, DemoRect rect, double sd);              /* pixels */
void demo_canvas_motion (DemoCanvas *self, DemoRect rect, double dx, double dy); /* whole path */
void demo_canvas_mix (float *px, DemoColour colour, double alpha);

DemoColour demo_colour (double r, double g, double b);
DemoColour demo_colour_scale (DemoColour colour, double gain);
DemoColour demo_colour_mix (DemoColour a, DemoColour b, double t);

double demo_noise (guint32 seed, double x, double y);            /* -1 … 1, lattice step 1 */
double demo_fbm (guint32 seed, double x, double y, int octaves); /* about -1 … 1 */
double demo_smoothstep (double lo, double hi, double x);
