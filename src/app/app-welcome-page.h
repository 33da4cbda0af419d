/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-welcome-page.h — the first page while no journal is open: what the program is for, one next step. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_WELCOME_PAGE (app_welcome_page_get_type ())
G_DECLARE_FINAL_TYPE (AppWelcomePage, app_welcome_page, APP, WELCOME_PAGE, GtkWidget)

GtkWidget *app_welcome_page_new (void);
GtkWidget *app_opening_page_new (void); /* while a journal is being read */
