/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-climate-chart.h — temperature or humidity over time, with what lives there wants behind it.
 *
 * However many readings, a column of pixels draws its lowest and highest; where none are, nothing is
 * drawn. Outside of what is wanted the line is thick: it reads without colour.
 */
#pragma once

#include "app/app-drawn.h"
#include "app/app-types.h"
#include "desk/desk-climate.h"
#include "words/words.h"

#define APP_TYPE_CLIMATE_CHART (app_climate_chart_get_type ())
G_DECLARE_FINAL_TYPE (AppClimateChart, app_climate_chart, APP, CLIMATE_CHART, AppDrawn)

GtkWidget *app_climate_chart_new (void);
/* Seconds as CoreMoment.at; climate NULL empties it. `words` say what it shows. */
void app_climate_chart_set (AppClimateChart *self, DeskClimate *climate, const CoreComfort *band,
                            gboolean humidity, gint64 from, gint64 to, const WordsView *view,
                            const char *words);
