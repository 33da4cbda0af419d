/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-line.h — "What did you do on Shelf B?" and, under it, the list "will write".
 *
 * What is typed is a draft within two seconds; Return writes, Escape empties.
 */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_ROUND_LINE (app_round_line_get_type ())
G_DECLARE_FINAL_TYPE (AppRoundLine, app_round_line, APP, ROUND_LINE, GtkWidget)

void app_round_line_set_place (AppRoundLine *self, Desk *desk, DeskSubject *place); /* NULL = none */
/* Little room: no hint, the question above the line. */
void app_round_line_set_narrow (AppRoundLine *self, gboolean narrow);
void app_round_line_focus (AppRoundLine *self);
