/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-animal-page.h — one animal: its sentence, timeline, photos, forecast with reasons. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_ANIMAL_PAGE (app_animal_page_get_type ())
G_DECLARE_FINAL_TYPE (AppAnimalPage, app_animal_page, APP, ANIMAL_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_animal_page_new (void);
void app_animal_page_set_animal (AppAnimalPage *self, CoreId animal);
gboolean app_animal_page_key (AppAnimalPage *self, guint keyval); /* a letter that journals */
CoreId app_animal_page_animal (AppAnimalPage *self);
