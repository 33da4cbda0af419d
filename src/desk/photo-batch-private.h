/* SPDX-License-Identifier: GPL-3.0-or-later */
/* photo-batch-private.h — between the model of a batch and what reads its files. */
#pragma once

#include "desk/photo-batch.h"

/* What a file is found to be; filled in a worker, never changed after. */
typedef struct
{
  GError *why; /* owned; NULL = a picture */
  char hash[65];
  int width, height;
  CoreDay camera, file;
  int minute;
} PhotoRead;

/* Takes the task: `work` is called for it in the one thread that unpacks pictures for the whole program,
 * one after the other. */
void photo_queue_take (GTask *task, void (*work) (GTask *task));

void photo_read_free (PhotoRead *self);
/* Opens once, decodes a small copy (kept among the thumbnails), hashes; by the queue. */
void photo_read_async (const char *path,
                       GCancellable *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer data);
PhotoRead *photo_read_finish (GAsyncResult *result, GError **error); /* NULL: cancelled */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PhotoRead, photo_read_free)
