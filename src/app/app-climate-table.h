/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-climate-table.h — what the charts of the climate page draw, day by day, as a table. */
#pragma once

#include "app/app-types.h"
#include "desk/desk-climate.h"

GtkWidget *app_climate_table_new (void); /* a GtkColumnView */
/* Days of [from, to), newest first; climate NULL empties it. */
void app_climate_table_set (GtkColumnView *table, Desk *desk, DeskClimate *climate, const CoreComfort *band, gint64 from,
                            gint64 to);
