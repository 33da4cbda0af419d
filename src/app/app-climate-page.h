/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-climate-page.h — warmth and air of a shelf over time: charts, the night, warnings, a table. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_CLIMATE_PAGE (app_climate_page_get_type ())
G_DECLARE_FINAL_TYPE (AppClimatePage, app_climate_page, APP, CLIMATE_PAGE, AppDeskPage)

GtkWidget *app_climate_page_new (void);
void app_climate_page_show_place (AppClimatePage *self, CoreId place);
