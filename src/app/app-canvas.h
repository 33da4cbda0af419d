/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-canvas.h — a picture drawn at a transform: zoom to the pointer, pan, fit.
 *
 * Image points are pixels of the upright original, widget points logical pixels.
 * Draws the pieces in view of a pyramid that is made in a worker (app-tiles.h).
 * Signal: "view-changed" after any change of zoom, place or picture.
 */
#pragma once

#include "app/app-drawn.h"
#include "app/app-types.h"
#include "imaging/img-pixels.h"

#define APP_TYPE_CANVAS (app_canvas_get_type ())
G_DECLARE_FINAL_TYPE (AppCanvas, app_canvas, APP, CANVAS, AppDrawn)

GtkWidget *app_canvas_new (void);
/* NULL empties it. The bytes are shared; fitted into view until the keeper zooms. */
void app_canvas_set_pixels (AppCanvas *self, const ImgPixels *pixels);
/* A smaller copy of the whole picture, `width` × `height` in full, shown until its pixels are there;
 * they then come in the place of it, and the view stays. */
void app_canvas_set_preview (AppCanvas *self, const ImgPixels *small, int width, int height);
gboolean app_canvas_sharp (AppCanvas *self);     /* nothing that is in view is still to come */
gsize app_canvas_tile_bytes (AppCanvas *self); /* that the pieces take */
/* A widget over the whole canvas that draws and takes keys and drags first. */
/* It is drawn anew whenever the view moves. */
void app_canvas_set_overlay (AppCanvas *self, GtkWidget *overlay);
/* What the keeper does on such an overlay: signal handlers of a drag, a click and the keys, which get
 * the overlay as their data. */
typedef struct
{
  GCallback begin, update, end, cancel; /* of a drag */
  GCallback released, key;
} AppCanvasHands;
void app_canvas_add_hands (GtkWidget *overlay, const AppCanvasHands *hands);
/* The size of the picture; FALSE while there is none. */
gboolean app_canvas_size (AppCanvas *self, int *width, int *height);

void app_canvas_to_image (AppCanvas *self, double x, double y, double *ix, double *iy);
void app_canvas_to_widget (AppCanvas *self, double ix, double iy, double *x, double *y);
double app_canvas_zoom (AppCanvas *self); /* logical pixels per picture pixel */
/* The image point under (x, y) stays there. */
void app_canvas_zoom_at (AppCanvas *self, double factor, double x, double y);
void app_canvas_pan (AppCanvas *self, double dx, double dy);
void app_canvas_fit (AppCanvas *self);
/* Zooms so that this part of the picture fills the view; nothing once the keeper has zoomed. */
void app_canvas_frame (AppCanvas *self, double x0, double y0, double x1, double y1);
/* Shows it whole again if nobody has zoomed since the frame. */
void app_canvas_unframe (AppCanvas *self);
/* Pans just so far that the image point is in view. */
void app_canvas_show_point (AppCanvas *self, double ix, double iy);
/* Draws the picture so that the image point (ix, iy) comes to (0, 0), at `zoom`. */
void app_canvas_draw_at (AppCanvas *self, cairo_t *cr, double ix, double iy, double zoom);
