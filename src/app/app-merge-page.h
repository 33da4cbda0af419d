/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-merge-page.h — another copy of the journal comes in: first in words, then in one go. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_MERGE_PAGE (app_merge_page_get_type ())
G_DECLARE_FINAL_TYPE (AppMergePage, app_merge_page, APP, MERGE_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_merge_page_new (void);
/* As if that folder had been chosen. */
void app_merge_page_look (AppMergePage *self, const char *dir);
