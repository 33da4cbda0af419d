/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-measure-page.h — lengths and plumpness from a picture: marks, scale, result, save. */
#pragma once

#include "app/app-desk-page.h"
#include "app/app-window.h"

#define APP_TYPE_MEASURE_PAGE (app_measure_page_get_type ())
G_DECLARE_FINAL_TYPE (AppMeasurePage, app_measure_page, APP, MEASURE_PAGE, AppDeskPage)

GtkWidget *app_measure_page_new (void);
void app_measure_page_open (AppMeasurePage *self, CoreId animal, CoreId photo);
/* Opens it in the window. */
void app_window_show_measure (AppWindow *window, CoreId animal, CoreId photo);
/* Takes back or restores a change of the marks, if `page` is this one and has an open picture. */
gboolean app_measure_page_undo (GtkWidget *page, gboolean redo);
