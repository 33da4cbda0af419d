/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-tiles.h — a picture of any size drawn from the pieces that are in view.
 *
 * Of the picture itself there are its pixels and their halves, three bytes a pixel and a third
 * more. Pieces are made on a thread of their own in the order in which the view wants them, the
 * middle first; what is not there yet is drawn from a coarser piece. They take APP_TILES_BYTES, or
 * what one view needs where that is more; the one that was not seen for longest goes.
 */
#pragma once

#include <gtk/gtk.h>

#include "imaging/img-tile.h"

#define APP_TILES_BYTES ((gsize) 64 * 1024 * 1024)

typedef struct _AppTiles AppTiles;

/* Takes the pyramid and makes the coarsest pieces: slow, any thread. */
AppTiles *app_tiles_new (ImgPyramid *pyramid);
/* Main thread: `ready` is called when pieces have come that were wanted; not after the end. */
void app_tiles_watch (AppTiles *self, void (*ready) (gpointer), gpointer data);
void app_tiles_end (AppTiles *self); /* gives up the caller's */
/* A frame begins: what the one before wanted and did not get is forgotten. */
void app_tiles_frame (AppTiles *self);
/* So that image point (ix, iy) comes to (0, 0), `zoom` user units to a pixel of the picture, as far
 * as the clip shows it. `scale`: device pixels per user unit. */
void app_tiles_draw (AppTiles *self,
                     cairo_t *cr,
                     double ix,
                     double iy,
                     double zoom,
                     int scale,
                     cairo_filter_t filter);
gsize app_tiles_bytes (AppTiles *self);     /* that the pieces take now */
gboolean app_tiles_waiting (AppTiles *self); /* for pieces that the last frame wanted */
