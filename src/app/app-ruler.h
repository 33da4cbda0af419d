/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-ruler.h — the marks of a measure over a canvas: scale, line, outline.
 *
 * Keys: ] or Page Down the next mark, [ or Page Up the one before, Tab too; arrows move the chosen
 * one by a picture pixel (Shift: ten); Enter places the next mark that is needed in the middle of
 * the view, Insert one more on the line or the disc; Delete takes the chosen one out. Mouse: a
 * click places, a drag moves. The accessible description lists all of it.
 */
#pragma once

#include "app/app-canvas.h"
#include "desk/measure-model.h"

#define APP_TYPE_RULER (app_ruler_get_type ())
G_DECLARE_FINAL_TYPE (AppRuler, app_ruler, APP, RULER, GtkWidget)

/* Becomes the overlay of `canvas`, which it borrows. */
GtkWidget *app_ruler_new (AppCanvas *canvas);
void app_ruler_set_model (AppRuler *self, MeasureModel *model); /* may be NULL */
/* The same key as pressed on the widget; TRUE when it was used. */
gboolean app_ruler_key (AppRuler *self, guint keyval, GdkModifierType state);
char *app_ruler_describe (AppRuler *self);
