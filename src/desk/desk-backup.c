/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-backup.c — the complete archive, and what a daily backup shares with it.
 *
 * In order: the database is dumped beside the target; the photos are looked at (and copied to
 * their folder, for a daily one); the archive is written beside, synced, read back, its database
 * opened as one from elsewhere and counted; only then it gets its name.
 */
#include "desk/desk-backup-private.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "imaging/img-positions.h"

#define MAX_PICTURE (256 * 1024 * 1024) /* bytes: for taking positions out, all of it is read */

typedef struct
{
  const DeskBackupJob *job;
  ExchManifest *manifest;
  GArray *rows;        /* StorePhoto of the journal */
  GHashTable *sources; /* hash in the backup → place in `rows` + 1 */
  GArray *changes;     /* StorePhotoChange */
} Making;

static void
making_clear (Making *self)
{
  exch_manifest_free (self->manifest);
  g_clear_pointer (&self->rows, g_array_unref);
  g_clear_pointer (&self->sources, g_hash_table_unref);
  g_clear_pointer (&self->changes, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Making, making_clear)

static gboolean
is_stopped (const DeskBackupJob *job, GError **error)
{
  return job->watch.cancellable != NULL &&
         g_cancellable_set_error_if_cancelled (job->watch.cancellable, error);
}

/* ---- photos ---- */

static ExchPhoto
photo_of (const StorePhoto *row)
{
  ExchPhoto photo = { .bytes = row->bytes };

  g_strlcpy (photo.hash, row->hash, sizeof photo.hash);
  g_strlcpy (photo.format, row->format, sizeof photo.format);
  return photo;
}

/* An original that could not be read as the photo that it was. */
static ExchLeftWhy
why_lost (const char *path)
{
  return g_file_test (path, G_FILE_TEST_EXISTS) ? EXCH_LEFT_CHANGED : EXCH_LEFT_MISSING;
}

/* What is the matter with the original? All of it is read only when that decides something now;
 * else the archive finds out while it is written. */
static gboolean
look_at (const char *path, const StorePhoto *row, gboolean hash, ExchLeftWhy *why)
{
  char found[EXCH_HASH_LEN + 1];
  GStatBuf st;
  gint64 bytes;

  *why = EXCH_LEFT_MISSING;
  if (g_stat (path, &st) != 0 || !S_ISREG (st.st_mode))
    return FALSE;
  *why = EXCH_LEFT_CHANGED;
  if (st.st_size != row->bytes)
    return FALSE;
  if (!hash || (exch_file_hash (path, found, &bytes, NULL) && bytes == row->bytes &&
                strcmp (found, row->hash) == 0))
    return TRUE;
  *why = why_lost (path);
  return FALSE;
}

static gboolean
leave_out (Making *self, ExchPhoto photo, ExchLeftWhy why, GError **error)
{
  g_autofree char *name = exch_photo_name (&photo);

  if (why != EXCH_LEFT_KIND && (self->job->flags & DESK_BACKUP_WITHOUT_DAMAGED) == 0)
    {
      exch_set_error (error, EXCH_ERROR_PHOTO, name);
      return FALSE;
    }
  photo.why = why;
  g_array_append_val (self->manifest->left_out, photo);
  return TRUE;
}

/* The picture without its position; NULL without an error when that cannot be done. */
static GBytes *
read_without_position (const char *path, const StorePhoto *row, GError **error)
{
  g_autofree char *bytes = NULL;
  g_autoptr (GBytes) whole = NULL;
  gsize n;

  if (row->bytes > MAX_PICTURE)
    return NULL;
  if (!g_file_get_contents (path, &bytes, &n, NULL))
    {
      exch_set_errno (error, EIO, path);
      return NULL;
    }
  whole = g_bytes_new_take (g_steal_pointer (&bytes), n);
  return img_positions_remove (whole, row->orientation, row->taken, row->taken_minute);
}

static char *
path_of (const Making *self, const StorePhoto *row)
{
  ExchPhoto photo = photo_of (row);
  g_autofree char *name = exch_photo_name (&photo);

  return g_build_filename (self->job->journal, name, NULL);
}

/* FALSE: a photo of this hash is in the backup already. */
static gboolean
note_source (Making *self, const char *hash, const StorePhoto *row)
{
  gsize place = (gsize) (row - (const StorePhoto *) self->rows->data) + 1;

  return g_hash_table_insert (self->sources, g_strdup (hash), GSIZE_TO_POINTER (place));
}

static const StorePhoto *
source_of (const Making *self, const char *hash)
{
  gsize place = GPOINTER_TO_SIZE (g_hash_table_lookup (self->sources, hash));

  return place > 0 ? &g_array_index (self->rows, StorePhoto, place - 1) : NULL;
}

static gboolean
add_without_position (Making *self, const char *path, const StorePhoto *row, GError **error)
{
  GError *local = NULL;
  ExchPhoto photo = photo_of (row);
  g_autoptr (GBytes) bytes = read_without_position (path, row, &local);
  g_autofree char *hash = NULL;
  StorePhotoChange change = { .new_bytes = 0 };

  if (local != NULL)
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  if (bytes == NULL)
    return leave_out (self, photo, EXCH_LEFT_KIND, error);
  hash = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  g_strlcpy (change.hash, photo.hash, sizeof change.hash);
  g_strlcpy (change.new_hash, hash, sizeof change.new_hash);
  change.new_bytes = photo.bytes = (gint64) g_bytes_get_size (bytes);
  g_array_append_val (self->changes, change);
  g_strlcpy (photo.hash, hash, sizeof photo.hash);
  /* Two that differed in nothing else are one now. */
  if (note_source (self, hash, row))
    g_array_append_val (self->manifest->photos, photo);
  return TRUE;
}

/* Its original is gone or spoilt; the folder of photos may have kept it. */
static gboolean
add_damaged (Making *self, const StorePhoto *row, ExchLeftWhy why, GError **error)
{
  ExchPhoto photo = photo_of (row);

  if (self->job->pool == NULL || !exch_photo_is_there (self->job->pool, &photo, TRUE))
    return leave_out (self, photo, why, error);
  g_array_append_val (self->manifest->photos, photo);
  return TRUE;
}

static gboolean
add_photo (Making *self, const StorePhoto *row, GError **error)
{
  ExchPhoto photo = photo_of (row);
  g_autofree char *path = path_of (self, row);
  gboolean strip = (self->job->flags & DESK_BACKUP_WITHOUT_POSITIONS) != 0;
  gboolean hash = strip || (self->job->flags & DESK_BACKUP_WITHOUT_DAMAGED) != 0;
  ExchLeftWhy why;

  /* One that its folder of photos keeps already is not read again here. */
  if (self->job->pool != NULL && exch_photo_is_there (self->job->pool, &photo, FALSE))
    hash = FALSE;
  if (!look_at (path, row, hash, &why))
    return add_damaged (self, row, why, error);
  if (strip)
    return add_without_position (self, path, row, error);
  note_source (self, photo.hash, row);
  g_array_append_val (self->manifest->photos, photo);
  return TRUE;
}

static gboolean
gather_photos (Making *self, GError **error)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (is_stopped (self->job, error) ||
        !add_photo (self, &g_array_index (self->rows, StorePhoto, i), error))
      return FALSE;
  exch_manifest_sort (self->manifest);
  return TRUE;
}

/* It was there when it was looked at: one that is not any more is missed as a photo, not as a disk. */
static int
open_original (const char *path, GError **error)
{
  GError *local = NULL;
  int fd = exch_file_open (path, &local);

  if (g_error_matches (local, EXCH_ERROR, EXCH_ERROR_NOT_FOUND))
    {
      g_clear_error (&local);
      exch_set_error (&local, EXCH_ERROR_PHOTO, path);
    }
  if (local != NULL)
    g_propagate_error (error, local);
  return fd;
}

/* Of a copy without positions the bytes are made once more: they are the same each time. */
static int
open_photo (const ExchPhoto *photo, gpointer data, GError **error)
{
  Making *self = data;
  const StorePhoto *row = source_of (self, photo->hash);
  g_autofree char *path = path_of (self, row);
  g_autoptr (GBytes) bytes = NULL;
  GError *local = NULL;

  if ((self->job->flags & DESK_BACKUP_WITHOUT_POSITIONS) == 0)
    return open_original (path, error);
  bytes = read_without_position (path, row, &local);
  if (bytes != NULL)
    return exch_file_from_bytes (bytes, error);
  if (local == NULL)
    exch_set_error (&local, EXCH_ERROR_PHOTO, path);
  g_propagate_error (error, local);
  return -1;
}

/* ---- the folder of photos of the daily backups ---- */

/* Each is hashed anew once a week, on a day of its own. */
static gboolean
is_checked_today (const ExchPhoto *photo, CoreDay today)
{
  return (g_ascii_xdigit_value (photo->hash[0]) * 16 + g_ascii_xdigit_value (photo->hash[1])) % 7 ==
         (int) (((today % 7) + 7) % 7);
}

static gint64
missing_bytes (const Making *self)
{
  gint64 bytes = 0;

  for (guint i = 0; i < self->manifest->photos->len; i++)
    {
      const ExchPhoto *photo = &g_array_index (self->manifest->photos, ExchPhoto, i);

      if (!exch_photo_is_there (self->job->pool, photo, FALSE))
        bytes += photo->bytes;
    }
  return bytes;
}

static gboolean
keep_photo (Making *self, const ExchPhoto *photo, GError **error)
{
  const StorePhoto *row = source_of (self, photo->hash);
  g_autofree char *path = row != NULL ? path_of (self, row) : NULL;
  gboolean ok;
  int fd;

  if (path == NULL) /* kept from before; the original is gone */
    return TRUE;
  fd = open_original (path, error);
  if (fd < 0)
    return FALSE;
  ok = exch_photo_put (self->job->pool, photo, fd, is_checked_today (photo, self->job->today), NULL,
                       error);
  close (fd);
  return ok;
}

/* A photo that turns out to be another one, or goes, while it is copied is left out like one found
 * before. */
static gboolean
keep_photos (Making *self, GError **error)
{
  GArray *photos = self->manifest->photos;

  for (guint i = 0; i < photos->len;)
    {
      GError *local = NULL;
      ExchPhoto photo = g_array_index (photos, ExchPhoto, i);

      if (is_stopped (self->job, error))
        return FALSE;
      if (keep_photo (self, &photo, &local))
        i++;
      else if (g_error_matches (local, EXCH_ERROR, EXCH_ERROR_PHOTO))
        {
          g_autofree char *path = path_of (self, source_of (self, photo.hash));

          g_error_free (local);
          g_array_remove_index (photos, i);
          if (!leave_out (self, photo, why_lost (path), error))
            return FALSE;
        }
      else
        {
          g_propagate_error (error, local);
          return FALSE;
        }
    }
  exch_manifest_sort (self->manifest);
  return TRUE;
}

/* ---- the whole ---- */

static gboolean
count_dump (Making *self, const char *scratch, GError **error)
{
  g_autofree char *database = g_build_filename (scratch, EXCH_DATABASE_NAME, NULL);
  g_autoptr (Store) store = store_open_unpacked (scratch, error);
  StoreCounts counts;

  if (store == NULL || !store_counts (store, &counts, error))
    return FALSE;
  self->manifest->n_entries = (gint64) counts.entries;
  self->manifest->n_subjects = (gint64) counts.subjects;
  store_close (g_steal_pointer (&store));
  return exch_file_hash (database, self->manifest->database_hash, &self->manifest->database_bytes,
                         error);
}

/* From a connection of its own: the one that writes goes on meanwhile. */
static gboolean
dump (Making *self, const char *scratch, GError **error)
{
  g_autoptr (Store) reader = store_open (self->job->journal, STORE_READ_ONLY, error);

  if (reader == NULL || !store_dump (reader, scratch, error))
    return FALSE;
  self->rows = store_load_photos (reader, error);
  return self->rows != NULL;
}

static gboolean
prepare (Making *self, const char *scratch, GError **error)
{
  const DeskBackupJob *job = self->job;
  gint64 needed;

  self->manifest = exch_manifest_new ();
  self->manifest->schema = store_schema_version ();
  self->manifest->made = job->today;
  self->manifest->positions = (job->flags & DESK_BACKUP_WITHOUT_POSITIONS) == 0;
  self->manifest->inside = job->pool == NULL;
  self->sources = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->changes = g_array_new (FALSE, FALSE, sizeof (StorePhotoChange));
  if (!dump (self, scratch, error) || !gather_photos (self, error))
    return FALSE;
  if (self->changes->len > 0 &&
      !store_dump_change_photos (scratch, (const StorePhotoChange *) self->changes->data,
                                 self->changes->len, error))
    return FALSE;
  if (!count_dump (self, scratch, error))
    return FALSE;
  needed = job->pool != NULL ? missing_bytes (self) : exch_manifest_total (self->manifest);
  /* The archive of a day is checked by unpacking its database once more. */
  return exch_file_has_room (scratch, needed + 2 * self->manifest->database_bytes, error) &&
         (job->pool == NULL || keep_photos (self, error));
}

/* Read back from the disk: hashes, then the database itself. */
static gboolean
read_back (Making *self, const char *beside, GError **error)
{
  g_autoptr (DeskScratch) scratch = desk_scratch_new (self->job->path, error);
  g_autoptr (ExchManifest) back = NULL;

  if (scratch == NULL)
    return FALSE;
  back = exch_archive_read (beside, EXCH_UNPACK_DATABASE, scratch, store_schema_version (),
                            &self->job->watch, error);
  return back != NULL && desk_unpacked_check (scratch, back, self->job->path, error);
}

static gboolean
write_archive (Making *self, const char *scratch, GError **error)
{
  const DeskBackupJob *job = self->job;
  g_autofree char *database = g_build_filename (scratch, EXCH_DATABASE_NAME, NULL);
  g_autofree char *beside = exch_file_beside (job->path);

  if (!exch_archive_write (beside, self->manifest, database, open_photo, self, &job->watch, error))
    return FALSE;
  if (!read_back (self, beside, error))
    {
      g_unlink (beside);
      return FALSE;
    }
  return exch_file_put (beside, job->path, (job->flags & DESK_BACKUP_REPLACE) != 0, error);
}

/* Before an hour of work: may it be there at all? */
static gboolean
check_target (const DeskBackupJob *job, GError **error)
{
  g_autofree char *dir = g_path_get_dirname (job->path);

  if (!desk_path_outside (dir, error))
    return FALSE;
  if (!g_file_test (dir, G_FILE_TEST_IS_DIR))
    exch_set_error (error, EXCH_ERROR_NOT_FOUND, dir);
  else if (g_file_test (job->path, G_FILE_TEST_IS_DIR) ||
           ((job->flags & DESK_BACKUP_REPLACE) == 0 &&
            g_file_test (job->path, G_FILE_TEST_EXISTS)))
    exch_set_error (error, EXCH_ERROR_EXISTS, job->path);
  else
    return TRUE;
  return FALSE;
}

DeskBackup *
desk_backup_run (const DeskBackupJob *job, GError **error)
{
  g_auto (Making) making = { .job = job };
  g_autoptr (DeskScratch) scratch = NULL;

  if (!check_target (job, error))
    return NULL;
  scratch = desk_scratch_new (job->path, error);
  if (scratch == NULL || !prepare (&making, scratch, error) ||
      !write_archive (&making, scratch, error))
    return NULL;
  return desk_backup_new (making.manifest, job->path);
}

/* ---- the verb ---- */

void
desk_backup_job_free (gpointer data)
{
  DeskBackupJob *job = data;

  g_free (job->journal);
  g_free (job->path);
  g_free (job->pool);
  g_clear_object (&job->watch.cancellable);
  g_free (job);
}

static gpointer
run_backup (gpointer data, GError **error)
{
  return desk_backup_run (data, error);
}

DeskBackupJob *
desk_backup_job_new (Desk *self, const char *path, DeskBackupFlags flags, GCancellable *cancellable)
{
  DeskBackupJob *job = g_new0 (DeskBackupJob, 1);

  job->journal = g_strdup (self->dir);
  job->path = g_canonicalize_filename (path, NULL);
  job->today = self->today;
  job->flags = flags;
  job->watch.cancellable = cancellable != NULL ? g_object_ref (cancellable) : NULL;
  return job;
}

void
desk_backup_async (Desk *self,
                   const char *path,
                   DeskBackupFlags flags,
                   GCancellable *cancellable,
                   GAsyncReadyCallback callback,
                   gpointer data)
{
  DeskWork work = { run_backup, desk_backup_job_free, (GDestroyNotify) desk_backup_free };

  desk_work_start (self, desk_backup_async, &work,
                   desk_backup_job_new (self, path, flags, cancellable), callback, data);
}

DeskBackup *
desk_backup_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_backup_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
