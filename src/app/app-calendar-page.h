/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-page.h — what is due, when and why; a task done or put off by one key. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_CALENDAR_PAGE (app_calendar_page_get_type ())
G_DECLARE_FINAL_TYPE (AppCalendarPage, app_calendar_page, APP, CALENDAR_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_calendar_page_new (void);
