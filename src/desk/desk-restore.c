/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-restore.c — a journal from a backup, or from what is left of a damaged one.
 *
 * Invariant: everything is made in a folder of our own beside the target, checked there, and
 * named at the end; the target is a new folder, outside of every journal.
 */
#include "desk/desk-backup-private.h"

#include <string.h>
#include <unistd.h>

typedef struct
{
  char *from; /* the backup, or the folder of a damaged journal */
  char *dir;  /* NULL: only read it through */
  DeskBackupFlags flags;
  ExchWatch watch;
} RestoreJob;

static void
job_free (gpointer data)
{
  RestoreJob *job = data;

  g_free (job->from);
  g_free (job->dir);
  g_clear_object (&job->watch.cancellable);
  g_free (job);
}

static RestoreJob *
job_new (const char *from, const char *dir, DeskBackupFlags flags, GCancellable *cancellable)
{
  RestoreJob *job = g_new0 (RestoreJob, 1);

  job->from = g_canonicalize_filename (from, NULL);
  job->dir = dir != NULL ? g_canonicalize_filename (dir, NULL) : NULL;
  job->flags = flags;
  job->watch.cancellable = cancellable != NULL ? g_object_ref (cancellable) : NULL;
  return job;
}

static gboolean
is_stopped (const RestoreJob *job, GError **error)
{
  return job->watch.cancellable != NULL &&
         g_cancellable_set_error_if_cancelled (job->watch.cancellable, error);
}

/* rename(2) has the last word; this says it before the work is done. */
static gboolean
check_target (const char *dir, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (dir);
  g_autoptr (GDir) listing = NULL;

  if (!desk_path_outside (dir, error))
    return FALSE;
  if (!g_file_test (parent, G_FILE_TEST_IS_DIR))
    {
      exch_set_error (error, EXCH_ERROR_NOT_FOUND, parent);
      return FALSE;
    }
  if (!g_file_test (dir, G_FILE_TEST_EXISTS) && !g_file_test (dir, G_FILE_TEST_IS_SYMLINK))
    return TRUE;
  listing = g_file_test (dir, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open (dir, 0, NULL);
  if (listing != NULL && g_dir_read_name (listing) == NULL)
    return TRUE;
  exch_set_error (error, EXCH_ERROR_EXISTS, dir);
  return FALSE;
}

/* ---- the photos of a daily backup ---- */

/* EXCH_ERROR_PHOTO: it is not there, cannot be read, or is not that photo. */
static gboolean
fetch_from (const char *pool, const ExchPhoto *photo, const char *into, GError **error)
{
  g_autofree char *name = exch_photo_name (photo);
  g_autofree char *path = g_build_filename (pool, name, NULL);
  int fd = exch_file_open (path, NULL);
  gboolean ok;

  if (fd < 0)
    {
      exch_set_error (error, EXCH_ERROR_PHOTO, path);
      return FALSE;
    }
  ok = exch_photo_put (into, photo, fd, FALSE, NULL, error);
  close (fd);
  return ok;
}

/* FALSE with an error; *left: it is not there, or not that photo, and that is allowed. */
static gboolean
take_photo (const RestoreJob *job, const char *pool, const ExchPhoto *photo, const char *into, gboolean *left, GError **error)
{
  GError *local = NULL;
  g_autofree char *name = exch_photo_name (photo);
  gboolean ok = into != NULL ? fetch_from (pool, photo, into, &local)
                             : exch_photo_is_there (pool, photo, TRUE);

  *left = !ok && (local == NULL || g_error_matches (local, EXCH_ERROR, EXCH_ERROR_PHOTO));
  if (ok)
    return TRUE;
  if (!*left)
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  g_clear_error (&local);
  if ((job->flags & DESK_BACKUP_WITHOUT_DAMAGED) != 0)
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_BACKUP, WORDS_DESK_BACKUP_PHOTO, name, NULL);
  return FALSE;
}

static gboolean
take_photos (const RestoreJob *job, ExchManifest *manifest, const char *into, GError **error)
{
  g_autofree char *pool = g_path_get_dirname (job->from);
  GArray *photos = manifest->photos;

  for (guint i = 0; i < photos->len;)
    {
      ExchPhoto photo = g_array_index (photos, ExchPhoto, i);
      gboolean left;

      if (is_stopped (job, error) || !take_photo (job, pool, &photo, into, &left, error))
        return FALSE;
      if (left)
        {
          photo.why = EXCH_LEFT_MISSING;
          g_array_remove_index (photos, i);
          g_array_append_val (manifest->left_out, photo);
        }
      else
        i++;
    }
  exch_manifest_sort (manifest);
  return TRUE;
}

/* ---- a backup ---- */

static gpointer
run_restore (gpointer data, GError **error)
{
  const RestoreJob *job = data;
  g_autoptr (DeskScratch) scratch = NULL;
  g_autoptr (ExchManifest) manifest = NULL;

  if (!check_target (job->dir, error))
    return NULL;
  scratch = desk_scratch_new (job->dir, error);
  if (scratch == NULL)
    return NULL;
  manifest = exch_archive_read (job->from, EXCH_UNPACK_ALL, scratch, store_schema_version (),
                                &job->watch, error);
  if (manifest == NULL || !desk_unpacked_check (scratch, manifest, job->from, error) ||
      (!manifest->inside && !take_photos (job, manifest, scratch, error)) ||
      !exch_file_sync_dir (scratch, error) || !exch_folder_put (scratch, job->dir, error))
    return NULL;
  return desk_backup_new (manifest, job->from);
}

/* Where the temporary files of this computer are: the backup's own disk may be read only. */
static char *
scratch_for_reading (GError **error)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "mantidary", NULL);

  return desk_scratch_new (path, error);
}

static gpointer
run_check (gpointer data, GError **error)
{
  const RestoreJob *job = data;
  g_autoptr (DeskScratch) scratch = scratch_for_reading (error);
  g_autoptr (ExchManifest) manifest = NULL;

  if (scratch == NULL)
    return NULL;
  manifest = exch_archive_read (job->from, EXCH_UNPACK_DATABASE, scratch, store_schema_version (),
                                &job->watch, error);
  if (manifest == NULL || !desk_unpacked_check (scratch, manifest, job->from, error) ||
      (!manifest->inside && !take_photos (job, manifest, NULL, error)))
    return NULL;
  return desk_backup_new (manifest, job->from);
}

void
desk_restore_async (const char *file,
                    const char *dir,
                    DeskBackupFlags flags,
                    GCancellable *cancellable,
                    GAsyncReadyCallback callback,
                    gpointer data)
{
  DeskWork work = { run_restore, job_free, (GDestroyNotify) desk_backup_free };

  desk_work_start (NULL, desk_restore_async, &work, job_new (file, dir, flags, cancellable),
                   callback, data);
}

DeskBackup *
desk_restore_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_restore_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

void
desk_backup_check_async (const char *file,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  DeskWork work = { run_check, job_free, (GDestroyNotify) desk_backup_free };

  desk_work_start (NULL, desk_backup_check_async, &work,
                   job_new (file, NULL, DESK_BACKUP_DEFAULT, cancellable), callback, data);
}

DeskBackup *
desk_backup_check_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_backup_check_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

/* ---- what is left of a damaged journal ---- */

/* From the folder of the journal, else from where its daily backups keep theirs. */
static gboolean
salvage_photo (const RestoreJob *job, const char *pool, const ExchPhoto *photo, const char *scratch, DeskSalvage *out, GError **error)
{
  const char *const places[] = { job->from, pool };

  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    {
      GError *local = NULL;

      if (fetch_from (places[i], photo, scratch, &local))
        {
          out->photos++;
          return TRUE;
        }
      if (!g_error_matches (local, EXCH_ERROR, EXCH_ERROR_PHOTO))
        {
          g_propagate_error (error, local);
          return FALSE;
        }
      g_error_free (local);
    }
  out->photos_lost++;
  return TRUE;
}

static gboolean
salvage_photos (const RestoreJob *job, const char *scratch, DeskSalvage *out, GError **error)
{
  g_autoptr (Store) store = store_open (scratch, STORE_READ_ONLY, error);
  g_autoptr (GArray) rows = store != NULL ? store_load_photos (store, error) : NULL;
  g_autofree char *pool = desk_backups_folder (job->from);

  for (guint i = 0; rows != NULL && i < rows->len; i++)
    {
      const StorePhoto *row = &g_array_index (rows, StorePhoto, i);
      ExchPhoto photo = { .bytes = row->bytes };

      g_strlcpy (photo.hash, row->hash, sizeof photo.hash);
      g_strlcpy (photo.format, row->format, sizeof photo.format);
      if (is_stopped (job, error) || !salvage_photo (job, pool, &photo, scratch, out, error))
        return FALSE;
    }
  return rows != NULL;
}

static gpointer
run_salvage (gpointer data, GError **error)
{
  const RestoreJob *job = data;
  g_autoptr (DeskScratch) scratch = NULL;
  g_autofree DeskSalvage *out = g_new0 (DeskSalvage, 1);
  StoreSalvage saved;

  if (!check_target (job->dir, error))
    return NULL;
  scratch = desk_scratch_new (job->dir, error);
  if (scratch == NULL || !store_salvage (job->from, scratch, &saved, error) ||
      !salvage_photos (job, scratch, out, error) || !exch_file_sync_dir (scratch, error) ||
      !exch_folder_put (scratch, job->dir, error))
    return NULL;
  out->entries = (gint64) saved.entries;
  out->entries_lost = (gint64) saved.entries_lost;
  out->pages_missing = (gint64) saved.pages_missing;
  out->subjects = (gint64) saved.subjects;
  out->subjects_guessed = (gint64) saved.subjects_guessed;
  return g_steal_pointer (&out);
}

void
desk_salvage_async (const char *from,
                    const char *dir,
                    GCancellable *cancellable,
                    GAsyncReadyCallback callback,
                    gpointer data)
{
  DeskWork work = { run_salvage, job_free, g_free };

  desk_work_start (NULL, desk_salvage_async, &work,
                   job_new (from, dir, DESK_BACKUP_DEFAULT, cancellable), callback, data);
}

gboolean
desk_salvage_finish (GAsyncResult *result, DeskSalvage *out, GError **error)
{
  g_autofree DeskSalvage *salvage = NULL;

  g_return_val_if_fail (g_async_result_is_tagged (result, desk_salvage_async), FALSE);
  salvage = g_task_propagate_pointer (G_TASK (result), error);
  if (salvage != NULL)
    *out = *salvage;
  return salvage != NULL;
}
