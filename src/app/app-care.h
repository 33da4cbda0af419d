/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-care.h — journaling for a lot, an egg case or a culture: a handful of buttons, each with
 * one key, as AppQuick is for an animal.
 */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_CARE (app_care_get_type ())
G_DECLARE_FINAL_TYPE (AppCare, app_care, APP, CARE, GtkWidget)

GtkWidget *app_care_new (void);
/* Shows nothing for NULL, an animal, and what has ended. */
void app_care_set_subject (AppCare *self, Desk *desk, DeskSubject *subject);
/* A key pressed on the card or page; TRUE when it meant something here. */
gboolean app_care_key (AppCare *self, guint keyval);
