/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-backup-private.h — what the files about backups share; all of it runs on worker threads. */
#pragma once

#include "desk/desk-backup.h"
#include "desk/desk-private.h"
#include "exchange/exch-archive.h"

/* ---- desk-io.c ---- */

/* A folder of one's own beside `path`, for what becomes `path`; NULL with an error. */
char *desk_scratch_new (const char *path, GError **error);
void desk_scratch_remove (char *dir); /* with all in it; frees; NULL is fine */
typedef char DeskScratch;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskScratch, desk_scratch_remove)

/* Is `path` inside a journal (in any folder above it)? Then DESK_ERROR_VALUE. */
gboolean desk_path_outside (const char *path, GError **error);
/* What went wrong with the journal inside of a backup is told of the backup. */
void desk_blame (GError **error, const char *file);
DeskBackup *desk_backup_new (const ExchManifest *manifest, const char *path);
/* The unpacked database in `dir` opens as one that is not ours, holds what the manifest counts,
 * and knows exactly its photos. */
gboolean
desk_unpacked_check (const char *dir, const ExchManifest *manifest, const char *file, GError **error);

/* A job on a thread of its own, and its result in the caller's main context. The thread's task
 * knows nothing of `source` (a Desk or NULL), so that a desk never ends there. What stops the job
 * is its own affair: one that has come to its end tells the truth. */
typedef struct
{
  gpointer (*run) (gpointer job, GError **error); /* NULL = with error */
  GDestroyNotify job_free, result_free;
} DeskWork;
void desk_work_start (gpointer source,
                      gpointer tag,
                      const DeskWork *work,
                      gpointer job,
                      GAsyncReadyCallback callback,
                      gpointer data);

/* ---- desk-watch.c ---- */

/* How a daily backup went; the last one counts. */
void desk_watch_note (Desk *self, const DeskBackup *made, const GError *error);

/* ---- desk-backup.c ---- */

typedef struct
{
  char *journal; /* its folder */
  char *path;    /* of what is made */
  CoreDay today;
  DeskBackupFlags flags;
  gboolean again;
  ExchWatch watch;
  char *pool; /* the folder that keeps the photos; NULL = inside the archive */
} DeskBackupJob;

/* Dump, photos, archive, check, name. */
DeskBackup *desk_backup_run (const DeskBackupJob *job, GError **error);
DeskBackupJob *
desk_backup_job_new (Desk *self, const char *path, DeskBackupFlags flags, GCancellable *cancellable);
void desk_backup_job_free (gpointer job);
