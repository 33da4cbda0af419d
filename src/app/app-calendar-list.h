/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-list.h — tasks of days, grouped by what the hand holds, each with its reason.
 *
 * Space marks a task done, P puts it off to tomorrow, Return opens the animal; each writes one entry that
 * Ctrl+Z takes back. What was missed on earlier evenings is one line a shelf, which Return unfolds.
 * Signals: "refill" when it wants to be set again, "step" (int, ±1) for Page Up and Page Down where it shows
 * one day alone. */
#pragma once

#include "app/app-types.h"
#include "desk/desk-weeks.h"

#define APP_TYPE_CALENDAR_LIST (app_calendar_list_get_type ())
G_DECLARE_FINAL_TYPE (AppCalendarList, app_calendar_list, APP, CALENDAR_LIST, GtkWidget)

/* All borrowed for the call. `weeks` NULL: the days from `from` to `to`, those to come by what is in the
 * hand; else `from` alone, one by one, with the moults that may come on it. */
void app_calendar_list_set (AppCalendarList *self, Desk *desk, DeskAgenda *agenda, const DeskFilter *filter,
                            const DeskWeeks *weeks, CoreDay from, CoreDay to);
gboolean app_calendar_list_focus (AppCalendarList *self); /* on its first row; FALSE = there is none */
/* Not yet drawn: no key may write. */
void app_calendar_list_set_seen (AppCalendarList *self, gboolean seen);
