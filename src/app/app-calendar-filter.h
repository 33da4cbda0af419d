/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-filter.h — what a calendar shows: a place, a kind, one thing to be done, what is near a moult.
 *
 * Emits "changed". */
#pragma once

#include "app/app-types.h"
#include "desk/desk-weeks.h"

#define APP_TYPE_CALENDAR_FILTER (app_calendar_filter_get_type ())
G_DECLARE_FINAL_TYPE (AppCalendarFilter, app_calendar_filter, APP, CALENDAR_FILTER, GtkWidget)

/* The places of the journal. What was chosen stays, where it is still there. */
void app_calendar_filter_refresh (AppCalendarFilter *self, Desk *desk);
/* The kinds and things to be done that the agenda has. */
void app_calendar_filter_offer (AppCalendarFilter *self, const DeskAgenda *agenda);
CoreId app_calendar_filter_place (AppCalendarFilter *self); /* none = all */
DeskFilter app_calendar_filter_get (AppCalendarFilter *self); /* borrowed until the next offer */
