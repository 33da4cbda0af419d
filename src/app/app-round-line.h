/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-line.h — the round line at the foot of the shelves: what was typed is listed below it
 * before it is written, and kept as a draft within two seconds.
 *
 * Signals: "read" after each change of what the line says, "written" after a round was saved,
 * "cups-wanted" when its button asks for marking the cups.
 */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_ROUND_LINE (app_round_line_get_type ())
G_DECLARE_FINAL_TYPE (AppRoundLine, app_round_line, APP, ROUND_LINE, GtkWidget)

void app_round_line_set_place (AppRoundLine *self, Desk *desk, DeskSubject *place);
void app_round_line_focus (AppRoundLine *self);
void app_round_line_set_narrow (AppRoundLine *self, gboolean narrow);
/* The time of day by the clock, minutes after midnight; -1 = the day is fixed. Before 4 o'clock
 * the round is of the evening before, and says so. */
void app_round_line_set_minute (AppRoundLine *self, int minute);
/* The other of the two days after midnight, or back to today; FALSE = there is no other. */
gboolean app_round_line_swap_day (AppRoundLine *self);
/* Rounds are of this day, and seen by somebody else (NULL or "" = by the keeper), until
 * CORE_DAY_NONE or a swap of days ends it. */
void app_round_line_set_past (AppRoundLine *self, CoreDay day, const char *seen_by);

/* What the line says now; NULL = nothing typed. Borrowed until the next change. */
const DeskRoundPreview *app_round_line_get_read (AppRoundLine *self);
CoreDay app_round_line_get_day (AppRoundLine *self);
/* The line changed as if by typing; FALSE (and it is said) while it cannot be read. */
gboolean app_round_line_toggle_mark (AppRoundLine *self, const CoreRoundException *mark);
gboolean app_round_line_unmark (AppRoundLine *self, const char *number);
gboolean app_round_line_set_action (AppRoundLine *self, const CoreRoundAction *action, gboolean on);
/* How many of a prey are proposed to most cups whose prey it is; 1 where it is none's. */
int app_round_line_usual_number (AppRoundLine *self, int prey);
void app_round_line_write (AppRoundLine *self);
/* The cups are being marked: the button shows it, Escape in the line goes back to them. */
void app_round_line_set_marking (AppRoundLine *self, gboolean marking);
gboolean app_round_line_get_marking (AppRoundLine *self);
