/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-quick.h — journaling for one animal: a handful of buttons, each with one key.
 *
 * The key is the underlined letter of the translated word. What ends a life or a
 * stay is never one bare letter. Every press writes one entry and says so.
 */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_QUICK (app_quick_get_type ())
G_DECLARE_FINAL_TYPE (AppQuick, app_quick, APP, QUICK, GtkWidget)

GtkWidget *app_quick_new (void);
void app_quick_set_subject (AppQuick *self, Desk *desk, DeskSubject *subject); /* NULL = none */
/* A key pressed on the cup or page; TRUE when it meant something here. */
gboolean app_quick_key (AppQuick *self, guint keyval);
/* The letters, for the list of all keys: the nth letter (0 = none) and what it does; the title is
 * the caller's. */
guint app_quick_n_keys (void);
gunichar app_quick_key_at (guint n, char **title);
/* Those of what "More…" offers; they count while it is open. */
guint app_quick_n_more_keys (void);
gunichar app_quick_more_key_at (guint n, char **title); /* title NULL: not wanted */
/* Attach a picture (chosen or dropped) to the subject and say so. */
void app_quick_attach (AppQuick *self, GFile *file);
