/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-thumb.h — a small picture of a photo, made in a worker and kept in the cache folder. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_THUMB (app_thumb_get_type ())
G_DECLARE_FINAL_TYPE (AppThumb, app_thumb, APP, THUMB, GtkWidget)

/* At most `side` logical pixels wide and high; `label` says what it shows. */
GtkWidget *app_thumb_new (Desk *desk, CoreId photo, int side, const char *label);
