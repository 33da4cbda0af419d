/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-bench-page.h — the photo bench: canvas, strip, steps and verdict over one BenchModel. */
#pragma once

#include "app/app-desk-page.h"
#include "desk/bench-model.h"

#define APP_TYPE_BENCH_PAGE (app_bench_page_get_type ())
G_DECLARE_FINAL_TYPE (AppBenchPage, app_bench_page, APP, BENCH_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_bench_page_new (void);
void app_bench_page_open (AppBenchPage *self, CoreId animal, CoreId photo);
CoreId app_bench_page_animal (AppBenchPage *self); /* none while there is no picture */
/* TRUE when `page` is a bench with a picture open: it then undid (or redid) a mark itself. */
gboolean app_bench_page_undo (GtkWidget *page, gboolean redo);
