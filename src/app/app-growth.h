/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-growth.h — one picture of each stage side by side, a millimetre as long in each. */
#pragma once

#include "app/app-drawn.h"
#include "app/app-types.h"
#include "desk/desk-gallery.h"

#define APP_TYPE_GROWTH (app_growth_get_type ())
G_DECLARE_FINAL_TYPE (AppGrowth, app_growth, APP, GROWTH, AppDrawn)

GtkWidget *app_growth_new (void);
/* `chosen`: indexes (guint) into `pictures`, youngest first; each has a scale. */
void app_growth_set (AppGrowth *self, Desk *desk, const GArray *pictures, const GArray *chosen);
