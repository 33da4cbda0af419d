/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-ended.h — what can still be entered for an animal that is gone: found again, or back.
 *
 * Hidden for one that lives or is dead. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_ENDED (app_ended_get_type ())
G_DECLARE_FINAL_TYPE (AppEnded, app_ended, APP, ENDED, GtkWidget)

GtkWidget *app_ended_new (void);
/* subject NULL: nothing. */
void app_ended_set_subject (AppEnded *self, Desk *desk, DeskSubject *subject);
