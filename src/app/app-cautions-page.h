/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-cautions-page.h — all cautions in full. Those that have a line where the matter comes up carry a
 * switch for that line; the switches stand in the journal. Needs no journal to be read. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_CAUTIONS_PAGE (app_cautions_page_get_type ())
G_DECLARE_FINAL_TYPE (AppCautionsPage, app_cautions_page, APP, CAUTIONS_PAGE, AppDeskPage)

GtkWidget *app_cautions_page_new (void);
