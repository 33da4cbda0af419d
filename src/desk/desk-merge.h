/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-merge.h — two copies of a journal that were edited apart become one.
 *
 * The union of both sets of entries; photos once, by their hash. Undo is not touched by it: the
 * last round of this device is still the one that was written last on it, in whichever copy.
 */
#pragma once

#include "desk/desk-backup.h"
#include "desk/desk.h"
#include "words/words-merge.h"

/* What came with a merge and waits for the keeper. */
typedef struct
{
  CoreConflict conflict;
  DeskSubject *subject; /* of a number or code: the one that answers to it with a letter */
  DeskSubject *other;   /* of a number or code: who keeps it; else NULL */
  char *where;          /* what the place is called on which `subject` stands; NULL = nowhere */
  char *other_where;
  CoreEntry *counts;      /* of two corrections of one entry, of one corrected and taken back, of one
                           * moult entered twice; else NULL */
  CoreEntry *not_counted; /* of two of them; else NULL */
} DeskClash;

typedef struct
{
  char *dir; /* of the other journal */
  gboolean stranger; /* it is no copy: no entry in common */
  WordsMerge came;
  GPtrArray *left_out; /* DeskLeft: photos without their file */
  GPtrArray *clashes;  /* DeskClash: those that were not here before, numbers and codes first */
} DeskMerge;
void desk_merge_free (DeskMerge *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskMerge, desk_merge_free)

/* What would come, from a trial on a copy of this journal: nothing is written. Files of photos are
 * looked for and not read. */
void desk_merge_look_async (Desk *self, const char *dir, GAsyncReadyCallback callback, gpointer data);
DeskMerge *desk_merge_look_finish (Desk *self, GAsyncResult *result, GError **error);

typedef enum
{
  DESK_MERGE_COPY, /* one with no entry in common is refused: DESK_ERROR_STRANGER */
  DESK_MERGE_ANY   /* two collections are to become one */
} DeskMergeOf;

/* All or nothing; the other journal is not changed. */
void desk_merge_async (Desk *self,
                       const char *dir,
                       DeskMergeOf of,
                       GAsyncReadyCallback callback,
                       gpointer data);
DeskMerge *desk_merge_finish (Desk *self, GAsyncResult *result, GError **error);

/* For words_merge_clash(); as long as `clash` is there. */
WordsClash desk_clash_words (const DeskClash *clash);
