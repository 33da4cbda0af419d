/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-verdict.h — the verdict in words with its chance, each piece of evidence, what
 * would settle it. All sentences come from words. */
#pragma once

#include "app/app-types.h"
#include "desk/bench-model.h"

#define APP_TYPE_VERDICT (app_verdict_get_type ())
G_DECLARE_FINAL_TYPE (AppVerdict, app_verdict, APP, VERDICT, GtkWidget)

GtkWidget *app_verdict_new (void);
void app_verdict_show (AppVerdict *self, Desk *desk, BenchModel *model);
