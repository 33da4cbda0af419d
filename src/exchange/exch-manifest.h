/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-manifest.h — what a backup says it holds; everything else is measured against it.
 *
 * The form is described in DEVELOPERS.md, "The form of a backup".
 */
#pragma once

#include "core/core-types.h"
#include "exchange/exch-file.h"

#define EXCH_MANIFEST_NAME "manifest.json"
#define EXCH_DATABASE_NAME "journal.sqlite"
#define EXCH_PHOTO_DIR "photos"
#define EXCH_MANIFEST_VERSION 1
#define EXCH_MANIFEST_MAX (64 * 1024 * 1024) /* bytes */

typedef enum
{
  EXCH_LEFT_MISSING, /* its file is not there */
  EXCH_LEFT_CHANGED, /* its file is not what was added */
  EXCH_LEFT_KIND,    /* positions cannot be taken out of this kind of picture */
  EXCH_N_LEFT
} ExchLeftWhy;
const char *exch_left_name (ExchLeftWhy why); /* "missing", "changed", "kind" */

/* A photo as the journal of the backup knows it. */
typedef struct
{
  char hash[EXCH_HASH_LEN + 1];
  char format[8]; /* "jpg" */
  gint64 bytes;
  ExchLeftWhy why; /* in `left_out` alone */
} ExchPhoto;

typedef struct
{
  char *program; /* version that wrote it */
  int schema;    /* of the database */
  CoreDay made;
  gboolean positions; /* the pictures may hold where they were taken */
  gboolean inside;    /* the photos are in the archive; else in the folder "photos" beside it */
  gint64 n_entries, n_subjects;
  gint64 database_bytes;
  char database_hash[EXCH_HASH_LEN + 1];
  GArray *photos;   /* ExchPhoto, by hash */
  GArray *left_out; /* ExchPhoto, by hash: rows whose file is not in the backup */
} ExchManifest;

ExchManifest *exch_manifest_new (void);
void exch_manifest_free (ExchManifest *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchManifest, exch_manifest_free)
/* Sorts both lists. */
void exch_manifest_sort (ExchManifest *self);
char *exch_manifest_to_text (const ExchManifest *self, gsize *n);
/* `max_schema`: of the database that this program can read. `path` is for messages. */
ExchManifest *exch_manifest_parse (const char *text,
                                   gsize n,
                                   int max_schema,
                                   const char *path,
                                   GError **error);
/* "photos/ab/abcdef….jpg" */
char *exch_photo_name (const ExchPhoto *photo);
/* Bytes of the database and of the photos; -1 when it does not fit into 63 bits. */
gint64 exch_manifest_total (const ExchManifest *self);
/* The photo of that hash, in `photos` or `left_out`; NULL = none. */
const ExchPhoto *exch_manifest_find (const GArray *photos, const char *hash);
