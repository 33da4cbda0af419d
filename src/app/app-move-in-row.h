/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-move-in-row.h — one row of the table for many animals: one widget that draws its cells,
 * with one label that says them all. What is wrong with a cell stands right under it. */
#pragma once

#include "app/app-drawn.h"
#include "desk/move-in-model.h"

#define APP_TYPE_MOVE_IN_ROW (app_move_in_row_get_type ())
G_DECLARE_FINAL_TYPE (AppMoveInRow, app_move_in_row, APP, MOVE_IN_ROW, AppDrawn)

#define APP_MOVE_IN_ROW_HEIGHT 30

GtkWidget *app_move_in_row_new (void);
/* Reads the row of the model anew. */
void app_move_in_row_update (AppMoveInRow *self, MoveInModel *model, guint row);
/* The cell that is being typed in stands above this one: it draws none. */
void app_move_in_row_set_current (AppMoveInRow *self, MoveInColumn column); /* N_COLUMNS = none */

/* Where the columns begin and the last one ends, in a table of this width. */
void app_move_in_columns (int width, int x[MOVE_IN_N_COLUMNS + 1]);
