/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-capped.h — a scrolled window as high as its words at the width that it gets, up to a most; it
 * scrolls beyond. (GtkScrolledWindow alone asks for the height at the narrowest width.) */
#pragma once

#include <gtk/gtk.h>

#define APP_TYPE_CAPPED (app_capped_get_type ())
G_DECLARE_FINAL_TYPE (AppCapped, app_capped, APP, CAPPED, GtkWidget)
