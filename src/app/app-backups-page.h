/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-backups-page.h — the daily backups, and the ways to a file and back. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_BACKUPS_PAGE (app_backups_page_get_type ())
G_DECLARE_FINAL_TYPE (AppBackupsPage, app_backups_page, APP, BACKUPS_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_backups_page_new (void);
