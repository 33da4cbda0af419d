/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-weeks.h — the days to come in weeks: one row each, moult ranges as bands across the days, tasks below
 * them as signs with counts. Scrolls by itself, and draws only the weeks in sight.
 *
 * Left and Right go by days, Up and Down by weeks, Page Up and Page Down by four, Home to today, End to the
 * last day; Enter and a double click open the chosen day. Signals: "chosen", "opened", and "animal"
 * (DeskSubject *) for a double click on a band. */
#pragma once

#include "app/app-types.h"
#include "desk/desk-weeks.h"
#include "words/words.h"

#define APP_TYPE_WEEKS (app_weeks_get_type ())
G_DECLARE_FINAL_TYPE (AppWeeks, app_weeks, APP, WEEKS, GtkWidget)

/* Takes the weeks. The chosen day stays where it can. */
void app_weeks_set (AppWeeks *self, DeskWeeks *weeks, const WordsView *view);
CoreDay app_weeks_chosen (AppWeeks *self); /* CORE_DAY_NONE = nothing is set */
void app_weeks_choose (AppWeeks *self, CoreDay day); /* nearest in the plan */
/* "Tue 25 November: feed 5, look 2. May moult: 16 and 31." */
char *app_weeks_words (AppWeeks *self, CoreDay day);
