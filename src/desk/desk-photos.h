/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-photos.h — many pictures at once: each refused or kept, what is kept is one round. */
#pragma once

#include "core/core-measure.h"
#include "desk/desk.h"

typedef struct
{
  CoreId subject;
  GFile *file;
  CoreDay day;          /* NONE = as the picture says, else today */
  gboolean keeper_says; /* that day is when it was taken, or (NONE) nobody knows when, whatever the
                         * camera says */
} DeskPhotoFile;

typedef struct
{
  DeskPhoto photo;
  GError *why; /* owned: it was refused; NULL = it is in the journal */
} DeskPhotoAdded;

/* Called on the main thread before number `nth` of `n` is read. */
typedef void (*DeskPhotosProgress) (gsize nth, gsize n, gpointer data);

/* `progress` may be NULL; it gets `data`. */
void desk_photos_add_async (Desk *self,
                            const DeskPhotoFile *files,
                            gsize n_files,
                            DeskPhotosProgress progress,
                            GCancellable *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer data);
/* DeskPhotoAdded, one for each file in order. NULL: the journal took none of them, and the error
 * says why; a file that is refused by itself is no error. */
GArray *desk_photos_add_finish (Desk *self,
                                GAsyncResult *result,
                                GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* On whom a file of this content lies, rather on another than on the subject of the photo entry
 * `but`, which itself does not count (none = every one counts); none = it is not in the journal, or
 * on nobody now. */
CoreId desk_photo_holder (Desk *self, const char *hash, CoreId but);
gboolean desk_photo_known (Desk *self, const char *hash); /* this very file is in the journal */
/* That which a picture of it can have by its camera; `subject` none: of nobody yet. */
CoreWrongDay desk_photo_wrong_day (Desk *self, CoreId subject, CoreDay taken);
/* That which it shows, as far as it is known: when it was taken, else as of when it is entered. */
CoreDay desk_photo_day (Desk *self, CoreId photo);
/* Are its plates marked or counted? Of such a picture there can be a proof sheet. */
gboolean desk_photo_marked (Desk *self, CoreId subject, CoreId photo);
/* Begins to decode the file of a photo; `decoded` gets `task` as its data and owns it. Where no file is
 * known the task is answered at once. */
void desk_photo_decode (Desk *self, CoreId photo, GTask *task, GAsyncReadyCallback decoded);
/* What gives a picture of that stage its scale: the abdomen, measured in it as near to that day as there
 * is, the later of two. NULL = it was not measured. Borrowed from the state. */
const CoreMeasure *desk_photo_abdomen (const CoreState *state, int stage, CoreDay day);
/* The scale of a picture in which something was measured (against a ruler, graph paper or a disc), by the
 * last such measure, which `by` (may be NULL) names. FALSE = nothing was. */
gboolean desk_photo_scale (Desk *self, CoreId photo, CoreScale *out, const CoreEntry **by);
