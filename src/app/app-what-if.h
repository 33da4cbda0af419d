/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-what-if.h — asks what would change for an animal or a lot on another shelf, at other temperatures, or fed
 * otherwise; shows it beside what is, and writes nothing. */
#pragma once

#include <gtk/gtk.h>

#include "desk/desk.h"

#define APP_TYPE_WHAT_IF (app_what_if_get_type ())
G_DECLARE_FINAL_TYPE (AppWhatIf, app_what_if, APP, WHAT_IF, GtkWidget)

/* NULL, an adult, or what lives no more hides it. What was asked stays for the same one. */
void app_what_if_set (AppWhatIf *self, Desk *desk, DeskSubject *subject);
