/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-still-strip.h — the abdomen of another picture straightened, with the boundaries kept on it. */
#pragma once

#include "app/app-drawn.h"
#include "app/app-types.h"

#define APP_TYPE_STILL_STRIP (app_still_strip_get_type ())
G_DECLARE_FINAL_TYPE (AppStillStrip, app_still_strip, APP, STILL_STRIP, AppDrawn)

/* Empty until it was read; `label` says whose it is. */
GtkWidget *app_still_strip_new (Desk *desk, CoreId photo, const char *label);
