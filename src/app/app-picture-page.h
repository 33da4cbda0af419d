/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-picture-page.h — one picture large, to the whole screen: zoom to the pointer, pan, the next. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_PICTURE_PAGE (app_picture_page_get_type ())
G_DECLARE_FINAL_TYPE (AppPicturePage, app_picture_page, APP, PICTURE_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_picture_page_new (void);
/* Among all pictures of its animal. */
void app_picture_page_open (AppPicturePage *self, CoreId photo);
/* Among these (CoreId), in their order. */
void app_picture_page_open_among (AppPicturePage *self, const GArray *photos, guint at);
