/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-damaged-page.h — a journal that cannot be opened: the newest good backup, what can be saved. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_DAMAGED_PAGE (app_damaged_page_get_type ())
G_DECLARE_FINAL_TYPE (AppDamagedPage, app_damaged_page, APP, DAMAGED_PAGE, GtkWidget)

GtkWidget *app_damaged_page_new (void);
/* The folder of the damaged journal, and the day (which backups there are, new folders are named
 * by it). */
void app_damaged_page_set (AppDamagedPage *self, const char *dir, CoreDay today);
