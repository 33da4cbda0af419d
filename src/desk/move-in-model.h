/* SPDX-License-Identifier: GPL-3.0-or-later */
/* move-in-model.h — the table for many animals, without a screen.
 *
 * Rows of cells as they were typed; beside each what it is read as, or what is wrong
 * with it. Nothing is written before save; what is typed is a draft of the journal.
 * Signal: "changed" after anything that a screen shows.
 */
#pragma once

#include "desk/desk.h"
#include "words/words-move-in.h"

G_BEGIN_DECLS

#define MOVE_IN_MAX_ROWS 400

#define MOVE_IN_TYPE_MODEL (move_in_model_get_type ())
G_DECLARE_FINAL_TYPE (MoveInModel, move_in_model, MOVE_IN, MODEL, GObject)

MoveInModel *move_in_model_new (Desk *desk);
/* For what is not typed: the draft of the window stays as it is. */
void move_in_model_keep_no_draft (MoveInModel *self);
/* What was typed before the program ended; FALSE = there is none. */
gboolean move_in_model_has_draft (Desk *desk);
gboolean move_in_model_restore (MoveInModel *self);
void move_in_model_clear (MoveInModel *self); /* also the draft */

int move_in_model_scheme (MoveInModel *self);
void move_in_model_set_scheme (MoveInModel *self, int scheme);

guint move_in_model_n_rows (MoveInModel *self);
/* A new row at the end: the place of the row above is carried down. FALSE: the table is full. */
gboolean move_in_model_append (MoveInModel *self);
void move_in_model_remove (MoveInModel *self, guint row);

/* As typed, borrowed; "" = empty. */
const char *move_in_model_text (MoveInModel *self, guint row, MoveInColumn column);
/* What it is read as, borrowed: "Hierodula membranacea", "L4", "about 24 May"; the number that
 * an empty one gets. */
const char *move_in_model_shown (MoveInModel *self, guint row, MoveInColumn column);
MoveInProblem move_in_model_problem (MoveInModel *self, guint row, MoveInColumn column);
char *move_in_model_says (MoveInModel *self, guint row, MoveInColumn column); /* NULL = all is well */
/* Will this row be an animal? Empty rows at the end are none. */
gboolean move_in_model_counts (MoveInModel *self, guint row);
/* The place of this row is not in the journal yet. */
gboolean move_in_model_new_place (MoveInModel *self, guint row);

void move_in_model_set (MoveInModel *self, guint row, MoveInColumn column, const char *text);
/* The cell was left: a ditto mark takes what stands above. */
void move_in_model_settle (MoveInModel *self, guint row, MoveInColumn column);
/* As the cell above. FALSE in the first row. */
gboolean move_in_model_ditto (MoveInModel *self, guint row, MoveInColumn column);
/* Its text into every empty cell below, up to the first that is not; how many. */
guint move_in_model_fill_down (MoveInModel *self, guint row, MoveInColumn column);
/* One value for a range of numbers: "1-20, 25, 31a"; "" = all rows. Plain numbers without a row
 * get one. The number of rows, or 0 and *problem, the caller's. */
guint move_in_model_fill (MoveInModel *self,
                          const char *range,
                          MoveInColumn column,
                          const char *text,
                          char **problem);

typedef struct
{
  guint rows;        /* taken */
  gboolean headings; /* the first line named the columns */
  char **beside; /* headings of columns that are kept with the rows and not shown; NULL = none */
  char **left_out;   /* headings of columns that are not of this table; NULL = none */
} MoveInPasted;
void move_in_pasted_clear (MoveInPasted *self);
/* A table of a spreadsheet, from this cell on. All of it or nothing: *problem, the caller's. */
gboolean move_in_model_paste (MoveInModel *self,
                              guint row,
                              MoveInColumn column,
                              const char *text,
                              gsize length,
                              MoveInPasted *pasted,
                              char **problem);

typedef struct
{
  guint animals, problems;
  guint row; /* of the first problem */
  MoveInColumn column;
  char **new_places; /* names of places that the save makes; NULL = none */
} MoveInSummary;
void move_in_summary_clear (MoveInSummary *self);
void move_in_model_summary (MoveInModel *self, MoveInSummary *out);

/* All rows as one round. Refused while there are problems. */
void move_in_model_save_async (MoveInModel *self,
                               GCancellable *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer data);
gboolean
move_in_model_save_finish (MoveInModel *self, GAsyncResult *result, guint *animals, GError **error);

G_END_DECLS
