/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-earlier.h — the other pictures of an animal and its shed skins, to look at beside one: straightened,
 * with the boundaries kept on them, or whole. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_EARLIER (app_earlier_get_type ())
G_DECLARE_FINAL_TYPE (AppEarlier, app_earlier, APP, EARLIER, GtkWidget)

GtkWidget *app_earlier_new (void);
/* Newest first, each with its day, stage and what was counted on it; a click shows it large. `subject`
 * NULL: none. Of which `photo` is the one on the bench. */
void app_earlier_set (AppEarlier *self, Desk *desk, DeskSubject *subject, CoreId photo);
/* From straightened to whole and back; straightened comes first. */
void app_earlier_switch (AppEarlier *self);
