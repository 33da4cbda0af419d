/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-symbol.h — our own signs (data/symbols), drawn in any size and the colour of the text.
 *
 * GTK's symbolic icons fill every path; ours are strokes, so librsvg draws them
 * with `color` set and the result is kept as a texture by (name, size, colour).
 */
#pragma once

#include <gtk/gtk.h>

#include "app/app-drawn.h"

#define APP_TYPE_SYMBOL (app_symbol_get_type ())
G_DECLARE_FINAL_TYPE (AppSymbol, app_symbol, APP, SYMBOL, AppDrawn)

/* A widget of 16 logical pixels (or `size`) that shows one symbol; decoration only, no role. */
GtkWidget *app_symbol_new (const char *name, int size);
void app_symbol_set_name (AppSymbol *self, const char *name);
void app_symbol_set_size (AppSymbol *self, int size);

/* Draw a symbol into a snapshot at (x, y), size × size logical pixels. */
void app_symbol_snapshot (GtkSnapshot *snapshot, const char *name, float x, float y, float size,
                          const GdkRGBA *color, int scale);
