/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-backup.h — backups of a journal, and journals from backups.
 *
 * An archive is one file with everything. The daily backups of a journal lie in a folder of their
 * own: one small archive a day with the database, and each photo once, by its hash. All of them
 * are read back and checked before they get their name, and before an older one goes.
 *
 * Work is done on threads of its own; the journal can be written meanwhile. Errors are of
 * EXCH_ERROR, STORE_ERROR, DESK_ERROR and G_IO_ERROR_CANCELLED; nothing is half done after one.
 */
#pragma once

#include "core/core-keep.h"
#include "desk/desk.h"

#define DESK_BACKUP_SUFFIX ".mantidary"

/* The code of an error of a backup file, for words_backup_error(); -1 when it is none. */
int desk_backup_error (const GError *error);

/* Why a photo is not in a backup. */
typedef enum
{
  DESK_LEFT_MISSING,
  DESK_LEFT_CHANGED,
  DESK_LEFT_KIND /* a copy without positions: they cannot be taken out of this kind of file */
} DeskLeftWhy;

typedef struct
{
  char *name; /* "photos/ab/abcdef….heic" */
  DeskLeftWhy why;
} DeskLeft;

/* What a backup holds. */
typedef struct
{
  char *path;
  CoreDay made;
  gint64 bytes; /* of the file */
  gint64 entries, subjects, photos;
  gboolean positions;  /* pictures may say where they were taken */
  gboolean whole;      /* the photos are in the file itself */
  GPtrArray *left_out; /* DeskLeft */
} DeskBackup;
void desk_backup_free (DeskBackup *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskBackup, desk_backup_free)

typedef enum
{
  DESK_BACKUP_DEFAULT = 0,
  DESK_BACKUP_REPLACE = 1 << 0,           /* a file of that name may be there: it is replaced */
  DESK_BACKUP_WITHOUT_POSITIONS = 1 << 1, /* from copies of the pictures */
  DESK_BACKUP_WITHOUT_DAMAGED = 1 << 2    /* photos that are missing or changed are left out and
                                           * told; else they end the backup */
} DeskBackupFlags;

/* The complete archive. */
void desk_backup_async (Desk *self,
                        const char *path,
                        DeskBackupFlags flags,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data);
DeskBackup *desk_backup_finish (Desk *self, GAsyncResult *result, GError **error);

/* ---- journals from backups; no journal needs to be open -------------------------- */

/* `dir` must not be there, or be empty. With WITHOUT_DAMAGED, photos of a daily backup that are
 * not in its folder are left out and told. */
void desk_restore_async (const char *file,
                         const char *dir,
                         DeskBackupFlags flags,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data);
DeskBackup *desk_restore_finish (GAsyncResult *result, GError **error);

/* Reads a backup through, as restoring it would, and writes nothing. */
void desk_backup_check_async (const char *file,
                              GCancellable *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer data);
DeskBackup *desk_backup_check_finish (GAsyncResult *result, GError **error);

typedef struct
{
  gint64 entries, entries_lost; /* lost: known of; there may have been more */
  gint64 subjects, subjects_guessed;
  gint64 photos, photos_lost; /* files */
  gint64
    pages_missing; /* not 0: the end of the file is missing, and more than entries_lost may be */
} DeskSalvage;

/* What can be read of the damaged journal in `from`, in a new journal in `dir`. Photos are taken
 * from its folder, else from its daily backups. */
void desk_salvage_async (const char *from,
                         const char *dir,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data);
gboolean desk_salvage_finish (GAsyncResult *result, DeskSalvage *out, GError **error);

/* ---- daily backups --------------------------------------------------------------- */

/* Where the daily backups of the journal in `dir` lie: as set, else DIR-backups beside it. */
char *desk_backups_folder (const char *dir);
char *desk_backups_usual_folder (const char *dir);
/* A name beside the journal for one that comes back, which is not taken: DIR-restored-DAY. */
char *desk_backups_new_folder (const char *dir, CoreDay day);
/* The error says that a file is damaged (not: too new), and a journal lies in `dir`. */
gboolean desk_backups_may_help (const char *dir, const GError *error);
gboolean desk_backups_on (const char *dir);
/* Kept in DIR/backups.ini, since it is a matter of this computer. NULL = the usual folder.
 * DESK_ERROR_VALUE for a folder inside the journal. */
gboolean desk_backups_set (const char *dir, const char *folder, gboolean on, GError **error);

typedef struct
{
  char *path;
  CoreDay day;
  gint64 bytes;
  CoreKeep keep;
} DeskDaily;

/* Of DeskDaily, owned, newest first; empty when there is no folder. Fast: only names are read. */
GPtrArray *desk_backups_list (const char *dir, CoreDay today);

/* Makes that of today, unless it is there (or `again`), checks it, then removes what core_keep()
 * lets go. NULL without an error: there was nothing to do. */
void desk_backups_make_async (Desk *self,
                              gboolean again,
                              GCancellable *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer data);
DeskBackup *desk_backups_make_finish (Desk *self, GAsyncResult *result, GError **error);

/* Makes the backup of each day while the journal is open, in the background: the first try after
 * `first_ms`. Not of the demo, not of a journal that cannot be written, not where the keeper has
 * switched it off. Call it again after the folder was changed. The signal "backup-done" comes after
 * each try, also one by desk_backups_make_async(). */
void desk_backups_watch (Desk *self, guint first_ms);
const GError *desk_backups_failed (Desk *self); /* the last try; NULL = none, or it went well */
guint desk_backups_left_out (Desk *self);       /* photos that the last one did without */
