/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-gallery-page.h — the pictures of an animal by stage, or of all by animal. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_GALLERY_PAGE (app_gallery_page_get_type ())
G_DECLARE_FINAL_TYPE (AppGalleryPage, app_gallery_page, APP, GALLERY_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_gallery_page_new (void);
void app_gallery_page_set_animal (AppGalleryPage *self, CoreId animal); /* none = all */
