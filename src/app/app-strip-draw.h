/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-strip-draw.h — how a straightened abdomen looks, on the bench and beside it. */
#pragma once

#include "app/app-types.h"
#include "imaging/img-pixels.h"

#define APP_STRIP_WIDTH 96
#define APP_STRIP_OVER 6 /* lines reach out on both sides */

/* A colour of the style sheet. */
void app_strip_ink (GtkWidget *widget, const char *name, const char *fallback, GdkRGBA *out);
/* A few hundred pixels high: cheap enough for the main loop. */
cairo_surface_t *app_strip_surface (const ImgPixels *strip);
/* From `from` (a share of the axis) to the tip; an empty frame without a surface. */
void app_strip_draw (GtkWidget *widget, cairo_t *cr, cairo_surface_t *surface, double width, double height, double from);
/* A boundary with the band of its doubt, `half` pixels to either side. */
void app_strip_draw_line (GtkWidget *widget, cairo_t *cr, double width, double y, double half, gboolean chosen);
/* "Boundaries, in parts of 100 from the base: 12, 25." */
char *app_strip_said (const double *at, gsize n);
