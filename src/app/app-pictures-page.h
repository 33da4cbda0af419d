/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-pictures-page.h — the pictures of a round: given to their cups, saved at once, counted in one pass. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_PICTURES_PAGE (app_pictures_page_get_type ())
G_DECLARE_FINAL_TYPE (AppPicturesPage, app_pictures_page, APP, PICTURES_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_pictures_page_new (void);
void app_pictures_page_add (AppPicturesPage *self, GSList *files); /* GFile */
/* In a pass: the picture on the bench is left for later, and the next one comes. FALSE = no pass. */
gboolean app_pictures_page_leave (AppPicturesPage *self);
