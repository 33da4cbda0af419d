/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-wrap.h — children side by side, going on in a new row where the width ends. */
#pragma once

#include <gtk/gtk.h>

#define APP_TYPE_WRAP (app_wrap_get_type ())
G_DECLARE_FINAL_TYPE (AppWrap, app_wrap, APP, WRAP, GtkWidget)

void app_wrap_append (AppWrap *self, GtkWidget *child);
