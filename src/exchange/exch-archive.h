/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-archive.h — the complete archive of a journal: a tar file, packed with zstd (gzip where
 * there is none), of manifest, database and photos, always in this order.
 *
 * Invariant: the same journal of the same day gives the same bytes. Reading believes nothing but
 * the manifest, and that only as far as sizes and hashes bear it out; nothing is written but
 * under names made from hashes. Any thread; errors are of EXCH_ERROR, and G_IO_ERROR_CANCELLED.
 */
#pragma once

#include "exchange/exch-manifest.h"

typedef struct
{
  GCancellable *cancellable; /* NULL = none */
  void (*progress) (gint64 done, gint64 total, gpointer data); /* bytes, from this thread; NULL */
  gpointer data;
} ExchWatch;

/* The photo's bytes: a descriptor that is then ours. -1 with an error. */
typedef int (*ExchOpenPhoto) (const ExchPhoto *photo, gpointer data, GError **error);

/* Writes the file `path` (which must not be there), synced: manifest, the database at
 * `database`, and the photos when they are `inside`. Removed again on failure. */
gboolean exch_archive_write (const char *path,
                             const ExchManifest *manifest,
                             const char *database,
                             ExchOpenPhoto open,
                             gpointer data,
                             const ExchWatch *watch,
                             GError **error);

typedef enum
{
  EXCH_UNPACK_MANIFEST, /* only read what it says it holds */
  EXCH_UNPACK_DATABASE, /* write the database into the folder; the photos are hashed alone */
  EXCH_UNPACK_ALL       /* write everything into the folder */
} ExchUnpack;

/* `into` is an empty folder (NULL with EXCH_UNPACK_MANIFEST); on failure what is in it is of no
 * use. All sizes and hashes have been compared when it returns. */
ExchManifest *exch_archive_read (const char *path,
                                 ExchUnpack what,
                                 const char *into,
                                 int max_schema,
                                 const ExchWatch *watch,
                                 GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* ---- photos in a folder, by their hash (exch-photos.c) ---- */

/* Copies `fd` to base/photos/ab/HASH.FORMAT, beside first, synced, read back and hashed. One that
 * is there with the right size stays, when `check` only with the right hash. *is_new may be NULL.
 * EXCH_ERROR_PHOTO when `fd` is not that photo. */
gboolean exch_photo_put (const char *base,
                         const ExchPhoto *photo,
                         int fd,
                         gboolean check,
                         gboolean *is_new,
                         GError **error);
/* TRUE: there, with this size; and this hash, when `check`. */
gboolean exch_photo_is_there (const char *base, const ExchPhoto *photo, gboolean check);
