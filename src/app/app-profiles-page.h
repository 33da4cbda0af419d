/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-profiles-page.h — what is known of each kind, value by value, and the keeper's own copy of it. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_PROFILES_PAGE (app_profiles_page_get_type ())
G_DECLARE_FINAL_TYPE (AppProfilesPage, app_profiles_page, APP, PROFILES_PAGE, AppDeskPage)

GtkWidget *app_profiles_page_new (void);
void app_profiles_page_show_kind (AppProfilesPage *self, const char *scientific);
/* The file is looked at; what it would change is asked about before anything is written. */
void app_profiles_page_take (AppProfilesPage *self, const char *path);
