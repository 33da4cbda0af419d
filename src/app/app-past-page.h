/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-past-page.h — animals that died, left or escaped: their number is retired, their page stays. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_PAST_PAGE (app_past_page_get_type ())
G_DECLARE_FINAL_TYPE (AppPastPage, app_past_page, APP, PAST_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_past_page_new (void);
