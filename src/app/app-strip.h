/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-strip.h — the abdomen straightened, base on top, with its boundaries to drag.
 *
 * All that it does can be done on the picture by keys; so it takes no focus. */
#pragma once

#include "app/app-drawn.h"
#include "app/app-marks.h"

#define APP_TYPE_STRIP (app_strip_get_type ())
G_DECLARE_FINAL_TYPE (AppStrip, app_strip, APP, STRIP, AppDrawn)

/* Shows and moves the chosen boundary of `marks`, which it borrows. */
GtkWidget *app_strip_new (AppMarks *marks);
void app_strip_set_model (AppStrip *self, BenchModel *model); /* may be NULL */
