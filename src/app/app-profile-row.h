/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-profile-row.h — one value of a kind: its name, the value with its unit, where it comes from,
 * the other side where keepers disagree, what a copy changed, and a field to change it.
 *
 * Signals: "edit" (char *edit) with "GROUP.KEY=TYPED" to be written, or "GROUP.KEY" alone to go back
 * to the shipped value.
 */
#pragma once

#include <gtk/gtk.h>

#include "desk/desk-profile.h"

#define APP_TYPE_PROFILE_ROW (app_profile_row_get_type ())
G_DECLARE_FINAL_TYPE (AppProfileRow, app_profile_row, APP, PROFILE_ROW, GtkBox)

GtkWidget *app_profile_row_new (const char *group, const char *key);
/* `view` is the profile shown; borrowed until the next call. `ids`: of its sources, by number. */
void app_profile_row_show (AppProfileRow *self, const DeskProfileView *view, const char *const *ids, gboolean editable);
const char *app_profile_row_group (AppProfileRow *self);
gboolean app_profile_row_is (AppProfileRow *self, const char *group, const char *key);
/* What was typed is not taken, and why: beside the field, which keeps the keys. */
void app_profile_row_refuse (AppProfileRow *self, const char *why);
/* It was written: the field goes, the keys go to the button. */
void app_profile_row_done (AppProfileRow *self);
/* In the language of the screen; NULL = none. */
const char *app_profile_note (const DeskProfileValue *value);
