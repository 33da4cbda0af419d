/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-move-in-page.h — many animals at once: a range bar, a table, one save. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_MOVE_IN_PAGE (app_move_in_page_get_type ())
G_DECLARE_FINAL_TYPE (AppMoveInPage, app_move_in_page, APP, MOVE_IN_PAGE, AppDeskPage)

GtkWidget *app_move_in_page_new (void);
void app_move_in_page_focus_range (AppMoveInPage *self);
