/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-settings.h — what the window remembers about itself; nothing that a plan depends on.
 *
 * Without an installed schema (an uninstalled build that was moved) nothing is
 * remembered and nothing fails.
 */
#pragma once

#include <gtk/gtk.h>

GSettings *app_settings (void); /* borrowed; NULL when there is no schema */
/* Window size and appearance follow the settings; adds the action "win.appearance" (a string). */
void app_settings_bind_window (GtkApplicationWindow *window);
char *app_settings_journal (void);                /* the journal opened last, NULL = none */
void app_settings_set_journal (const char *dir);
