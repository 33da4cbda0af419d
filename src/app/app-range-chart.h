/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-range-chart.h — the moult bar at large: last moult, today, and the range as a hill. */
#pragma once

#include "app/app-drawn.h"
#include "app/app-types.h"

#define APP_TYPE_RANGE_CHART (app_range_chart_get_type ())
G_DECLARE_FINAL_TYPE (AppRangeChart, app_range_chart, APP, RANGE_CHART, AppDrawn)

GtkWidget *app_range_chart_new (void);
void app_range_chart_set (AppRangeChart *self, Desk *desk, const CoreForecast *forecast); /* copied */
