/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-search-page.h — finding a fact again: what is typed is looked for at once. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_SEARCH_PAGE (app_search_page_get_type ())
G_DECLARE_FINAL_TYPE (AppSearchPage, app_search_page, APP, SEARCH_PAGE, AppDeskPage)

GtkWidget *app_search_page_new (void);
