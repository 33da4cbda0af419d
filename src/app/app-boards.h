/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-boards.h — drawn shelf boards with cups standing on them, in the order hands know.
 *
 * Children are AppCup. Arrow keys move between cups, Home and End to the ends;
 * Return or a click chooses, a second click or Return on the chosen one opens.
 * Signals: "chosen" (AppCup * or NULL), "opened" (AppCup *), "moved" (AppCup *what,
 * AppCup *before or NULL) after a drag between two, "met" (AppCup *what, AppCup *on) after a drag
 * onto the middle of another.
 */
#pragma once

#include "app/app-cup.h"

#define APP_TYPE_BOARDS (app_boards_get_type ())
G_DECLARE_FINAL_TYPE (AppBoards, app_boards, APP, BOARDS, GtkWidget)

GtkWidget *app_boards_new (void);
/* Takes ownership of the data in the array (element AppCupData *), in shelf order; cups that
 * were there keep their focus. */
void app_boards_set_cups (AppBoards *self, GPtrArray *cups);
guint app_boards_n_cups (AppBoards *self);
AppCup *app_boards_find (AppBoards *self, CoreId id);
AppCup *app_boards_find_number (AppBoards *self, const char *number);
AppCup *app_boards_first (AppBoards *self); /* NULL = none */
void app_boards_choose (AppBoards *self, AppCup *cup); /* NULL = none */
AppCup *app_boards_chosen (AppBoards *self);
void app_boards_show_focus (AppBoards *self); /* scrolls to the cup that has the focus */
typedef enum { APP_SIZE_BY_NUMBER, APP_SIZE_FULL, APP_SIZE_SMALL } AppCupSize;
void app_boards_set_size (AppBoards *self, AppCupSize size);
/* A round is made on the cups: a click or Space says "picked" (AppCup *) instead of choosing, Enter
 * and dragging are left alone. */
void app_boards_set_round (AppBoards *self, gboolean round);
AppCup *app_boards_nth (AppBoards *self, guint i); /* in order */
