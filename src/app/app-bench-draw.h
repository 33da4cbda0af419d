/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-bench-draw.h — the small line drawings beside the questions of the bench.
 *
 * Our own, drawn in the text colour; what they show stands in words beside them. */
#pragma once

#include "app/app-types.h"

typedef enum
{
  APP_DRAWING_NONE,
  APP_DRAWING_UNDERSIDE,
  APP_DRAWING_BACK,
  APP_DRAWING_FLANK,
  APP_DRAWING_AXIS,        /* where base and tip go */
  APP_DRAWING_SMALL_PLATE, /* between the hind legs, filled */
  APP_DRAWING_BOAT,
  APP_DRAWING_SMALL,
  APP_DRAWING_PLATES,
  APP_DRAWING_APPENDAGES,
  APP_DRAWING_WINGS,
  APP_N_DRAWINGS
} AppDrawing;

/* In a square of `side` pixels from (0, 0), in the source colour of `cr`. */
void app_drawing_paint (cairo_t *cr, AppDrawing drawing, double side);
void app_drawing_set (GtkWidget *area, AppDrawing drawing, int side); /* NONE takes no room */
/* A widget that shows it; not focusable, hidden from assistive technology. */
GtkWidget *app_drawing_new (AppDrawing drawing, int side);
