/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-count.h — the count in large figures with its chance and the second best, why a
 * picture cannot carry one, and which keys help at this step. */
#pragma once

#include "app/app-types.h"
#include "desk/bench-model.h"

#define APP_TYPE_COUNT (app_count_get_type ())
G_DECLARE_FINAL_TYPE (AppCount, app_count, APP, COUNT, GtkWidget)

GtkWidget *app_count_new (void);
void app_count_show (AppCount *self, BenchModel *model);
