/* SPDX-License-Identifier: GPL-3.0-or-later */
/* move-in-private.h — what the files of the move-in model share. */
#pragma once

#include "desk/desk-move-in.h"
#include "desk/move-in-model.h"

/* Bytes of a cell that are kept; more is a problem of that cell. */
#define MOVE_IN_MAX_BYTES 200
/* Of what a spreadsheet says beside; more refuses the whole table. */
#define MOVE_IN_MAX_NAME 79
#define MOVE_IN_MAX_NOTES 2000

typedef struct
{
  char *text;  /* as typed, never NULL */
  char *shown; /* what it is read as, never NULL */
  MoveInProblem problem;
  char *a, *b; /* of the problem; may be NULL */
} MoveInCell;

typedef struct
{
  MoveInCell cells[MOVE_IN_N_CELLS];
  DeskNewcomer *read; /* of the cells without problems */
  gboolean new_place;
} MoveInRow;

struct _MoveInModel
{
  GObject parent_instance;

  /* Owned */
  Desk *desk;
  GPtrArray *rows; /* MoveInRow * */

  gulong desk_id;
  int scheme;
  guint frozen; /* no signal, no draft */
  guint reread_id;
  gboolean no_draft, saving;
};

/* One of the table, or kept beside it. */
gboolean move_in_is_cell (MoveInColumn column);
gboolean move_in_is_beside (MoveInColumn column);
MoveInRow *move_in_row_new (void);
void move_in_row_free (gpointer row);
MoveInRow *move_in_row (MoveInModel *self, guint row); /* NULL = there is none */
/* One line of text: controls are gaps, too long is cut and said. */
void move_in_cell_put (MoveInRow *row, MoveInColumn column, const char *text);
/* Reads the text of one cell anew. Numbers and places also depend on other rows. */
void move_in_cell_read (MoveInModel *self, MoveInRow *row, MoveInColumn column);
void move_in_read_numbers (MoveInModel *self);
/* Several changes with one signal and one draft at the end. */
void move_in_freeze (MoveInModel *self);
void move_in_thaw (MoveInModel *self);
