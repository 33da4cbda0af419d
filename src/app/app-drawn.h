/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-drawn.h — a widget that draws itself and knows its own size in either direction. */
#pragma once

#include <gtk/gtk.h>

#define APP_TYPE_DRAWN (app_drawn_get_type ())
G_DECLARE_DERIVABLE_TYPE (AppDrawn, app_drawn, APP, DRAWN, GtkWidget)

struct _AppDrawnClass
{
  GtkWidgetClass parent_class;

  void (*size) (AppDrawn *self, GtkOrientation orientation, int *minimum, int *natural);
};
