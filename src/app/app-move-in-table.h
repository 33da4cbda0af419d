/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-move-in-table.h — the rows of a move-in model, with one field that stands on the cell in hand.
 *
 * Tab goes right, Enter down to the column where typing began; arrows, Home, End and Page keys move;
 * Ctrl+D takes what stands above. Signals: "moved" (another cell is in hand, or what is read in it
 * changed), "pasted" (text of several cells: char *), "full" (no row can be added).
 */
#pragma once

#include "app/app-drawn.h"
#include "desk/move-in-model.h"

#define APP_TYPE_MOVE_IN_TABLE (app_move_in_table_get_type ())
G_DECLARE_FINAL_TYPE (AppMoveInTable, app_move_in_table, APP, MOVE_IN_TABLE, AppDrawn)

void app_move_in_table_set_model (AppMoveInTable *self, MoveInModel *model);
guint app_move_in_table_row (AppMoveInTable *self);
MoveInColumn app_move_in_table_column (AppMoveInTable *self);
/* Takes this cell in hand; typing begins there. */
void app_move_in_table_go (AppMoveInTable *self, guint row, MoveInColumn column);
/* The same to put something right: Enter goes on where it did before. */
void app_move_in_table_mend (AppMoveInTable *self, guint row, MoveInColumn column);
MoveInColumn app_move_in_table_begun (AppMoveInTable *self); /* where Enter goes on in the next row */
void app_move_in_table_focus (AppMoveInTable *self);

/* The line above the rows: names of the columns. */
#define APP_TYPE_MOVE_IN_HEAD (app_move_in_head_get_type ())
G_DECLARE_FINAL_TYPE (AppMoveInHead, app_move_in_head, APP, MOVE_IN_HEAD, AppDrawn)
void app_move_in_head_set_begun (AppMoveInHead *self, MoveInColumn column);
