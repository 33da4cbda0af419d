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

void photo_read_free (PhotoRead *self);
/* Opens once, decodes a small copy (kept among the thumbnails), hashes. One file at a time for the
 * whole program. */
void photo_read_async (const char *path,
                       GCancellable *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer data);
PhotoRead *photo_read_finish (GAsyncResult *result, GError **error); /* NULL: cancelled */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PhotoRead, photo_read_free)
