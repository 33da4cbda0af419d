/* SPDX-License-Identifier: GPL-3.0-or-later */
/* photo-batch.h — the pictures of a round, without a screen.
 *
 * Files that were dropped, chosen or pasted; each is read once (is it a picture, when was it taken,
 * is it in the journal already), given to a subject by its number, and saved with all others as one
 * round. What is given is a draft of the journal. Signal: "changed" after anything that a screen
 * shows.
 */
#pragma once

#include "desk/desk.h"

G_BEGIN_DECLS

#define PHOTO_BATCH_MAX 100

typedef enum
{
  PHOTO_ROW_READING,
  PHOTO_ROW_REFUSED, /* `why` says why: it is no picture, or the journal did not take it */
  PHOTO_ROW_READ
} PhotoRowState;

/* Which day it was taken. */
typedef enum
{
  PHOTO_DAY_UNSAID, /* camera and file differ, or the camera says none, and nobody has chosen */
  PHOTO_DAY_CAMERA,
  PHOTO_DAY_FILE,
  PHOTO_DAY_NOBODY /* nobody knows: entered as of today, no proof that it was seen */
} PhotoDay;

typedef struct
{
  char *path;
  char *name; /* as people see it, valid UTF-8 */
  PhotoRowState state;
  GError *why; /* of one that is refused */
  char hash[65];
  int width, height;
  CoreDay camera; /* or CORE_DAY_NONE */
  int minute;     /* of the camera's day; -1 */
  CoreDay file;   /* on which the file was last written */
  CoreWrongDay wrong; /* the camera's cannot be, and why */
  gboolean differ; /* which of them counts must be asked */
  PhotoDay day;
  char *typed;    /* the number as it was typed; "" = none */
  CoreId subject; /* none = not given, or nobody has that number */
  int twin;       /* the row above that holds the same file; -1 = none */
  gboolean known; /* the journal has this very file */
  CoreId holder;  /* on whom it lies there; none = on nobody now */
} PhotoRow;

#define PHOTO_TYPE_BATCH (photo_batch_get_type ())
G_DECLARE_FINAL_TYPE (PhotoBatch, photo_batch, PHOTO, BATCH, GObject)

PhotoBatch *photo_batch_new (Desk *desk);
/* What was given before the program ended; FALSE = nothing. */
gboolean photo_batch_restore (PhotoBatch *self);
void photo_batch_clear (PhotoBatch *self); /* also the draft */

/* How many were taken; more than PHOTO_BATCH_MAX in all are left out. Paths that are there already
 * are not taken twice. */
guint photo_batch_add (PhotoBatch *self, GFile *const *files, guint n);
guint photo_batch_n_rows (PhotoBatch *self);
const PhotoRow *photo_batch_row (PhotoBatch *self, guint row); /* borrowed until the next change */
void photo_batch_remove (PhotoBatch *self, guint row);
/* "" takes the number away. */
void photo_batch_set_number (PhotoBatch *self, guint row, const char *text);
void photo_batch_assign (PhotoBatch *self, guint row, CoreId subject);
void photo_batch_set_day (PhotoBatch *self, guint row, PhotoDay day);
/* Of all that are to be asked and can have it. */
void photo_batch_set_days (PhotoBatch *self, PhotoDay day);
/* May that be its day: it is said, and it is not ahead? */
gboolean photo_batch_day_fits (PhotoBatch *self, guint row, PhotoDay day);
/* Something keeps it from being saved: it waits for a number or a day. Twins and pictures that are
 * known already are saved only where somebody gave them a number. */
gboolean photo_batch_waits (PhotoBatch *self, guint row);

typedef struct
{
  guint reading, refused, ready, unassigned, to_ask, twins;
} PhotoBatchSummary;
void photo_batch_summary (PhotoBatch *self, PhotoBatchSummary *out);

/* Those that are ready, as one round; they leave the table, what is refused stays in it with its
 * reason. */
void photo_batch_save_async (PhotoBatch *self,
                             GCancellable *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer data);
/* CoreId: the photos that were added; NULL with an error when the journal took none. */
GArray *photo_batch_save_finish (PhotoBatch *self,
                                 GAsyncResult *result,
                                 GError **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean photo_batch_saving (PhotoBatch *self, guint *nth, guint *n); /* FALSE = not now */

G_END_DECLS
