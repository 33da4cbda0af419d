/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-bar.h — a round by hands on the cups: what was done to all as buttons, what one cup
 * may be marked with as a legend of letters.
 *
 * What is gathered is the text of the round line, and nothing else: line and cups always say the
 * same, Enter writes it, Escape leaves it as the line's draft.
 */
#pragma once

#include "app/app-boards.h"
#include "app/app-round-line.h"

#define APP_TYPE_ROUND_BAR (app_round_bar_get_type ())
G_DECLARE_FINAL_TYPE (AppRoundBar, app_round_bar, APP, ROUND_BAR, GtkWidget)

/* Both outlive the bar. */
void app_round_bar_connect (AppRoundBar *self, AppRoundLine *line, AppBoards *boards);
void app_round_bar_set_on (AppRoundBar *self, gboolean on);
gboolean app_round_bar_is_on (AppRoundBar *self);
/* The cups are new: they show their marks. */
void app_round_bar_refresh (AppRoundBar *self);
/* A key on a cup; was it taken? */
gboolean
app_round_bar_key (AppRoundBar *self, AppCup *cup, guint keyval, GdkModifierType state);
gboolean app_round_bar_wants_digit (AppRoundBar *self); /* a score is being asked */
