/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-dump.c — the database as it stands at one moment, in a file of its own.
 *
 * By SQLite's own copying, page by page within one reading transaction, while
 * others go on writing; a copy of the file would miss what is still pending
 * beside it. The copy keeps no pending part of its own, and no snapshots: these
 * are computed, and may be as large as the rest.
 */
#include "store/store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

int
store_schema_version (void)
{
  return STORE_SCHEMA;
}

gboolean
store_counts (Store *self, StoreCounts *out, GError **error)
{
  gint64 entries, subjects, photos;

  g_return_val_if_fail (self != NULL && out != NULL, FALSE);
  if (!_store_get_int (self, "SELECT count(*) FROM entry", &entries, error) ||
      !_store_get_int (self, "SELECT count(*) FROM subject", &subjects, error) ||
      !_store_get_int (self, "SELECT count(*) FROM photo", &photos, error))
    return FALSE;
  *out = (StoreCounts){ (guint64) entries, (guint64) subjects, (guint64) photos };
  return TRUE;
}

/* A plain connection to a copy that is nobody's journal yet. */
static Store *
open_plain (const char *dir, const char *path, GError **error)
{
  g_autoptr (Store) copy = g_new0 (Store, 1);
  int rc;

  copy->dir = g_strdup (dir);
  copy->db_path = g_strdup (path);
  copy->lock_fd = -1;
  rc = sqlite3_open_v2 (path, &copy->db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_FULLMUTEX, NULL);
  if (rc != SQLITE_OK)
    {
      _store_set_sql_error (copy, rc, error);
      return NULL;
    }
  sqlite3_extended_result_codes (copy->db, 1);
  sqlite3_db_config (copy->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  return g_steal_pointer (&copy);
}

static gboolean
copy_pages (Store *self, Store *copy, GError **error)
{
  sqlite3_backup *backup = sqlite3_backup_init (copy->db, "main", self->db, "main");
  int rc;

  if (backup == NULL)
    {
      _store_set_sql_error (copy, sqlite3_extended_errcode (copy->db), error);
      return FALSE;
    }
  rc = sqlite3_backup_step (backup, -1);
  sqlite3_backup_finish (backup);
  if (rc == SQLITE_DONE)
    return TRUE;
  _store_set_sql_error (copy, rc, error);
  return FALSE;
}

/* `journal_mode` answers with a row; what it could not set is told by that. */
static gboolean
leave_wal (Store *copy, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (copy, "PRAGMA journal_mode = delete", error);
  gboolean row;

  if (stmt == NULL || !_store_step (copy, stmt, &row, error))
    return FALSE;
  if (row && g_strcmp0 ((const char *) sqlite3_column_text (stmt, 0), "delete") == 0)
    return TRUE;
  _store_set_error (error, STORE_ERROR_FAILED, copy->dir);
  return FALSE;
}

/* The row of totals is left out without a trace; what earlier versions kept there took room. */
static gboolean
drop_snapshots (Store *copy, GError **error)
{
  gint64 n, size;

  if (!_store_get_int (copy, "SELECT count(*) FROM snapshot", &n, error) ||
      !_store_get_int (copy, "SELECT max(length(body)) FROM snapshot", &size, error))
    return FALSE;
  return n == 0 || (_store_exec (copy, "PRAGMA secure_delete = ON; DELETE FROM snapshot", error) &&
                    (size == 0 || _store_exec (copy, "VACUUM", error)));
}

static gboolean
sync_file (const char *path, GError **error)
{
  int fd = g_open (path, O_RDWR | O_CLOEXEC, 0);
  int saved = fd < 0 || fsync (fd) != 0 ? errno : 0;

  if (fd >= 0)
    close (fd);
  if (saved == 0)
    return TRUE;
  _store_set_errno (error, saved, path);
  return FALSE;
}

static void
remove_copy (const char *path)
{
  static const char *const suffixes[] = { "", "-wal", "-shm", "-journal" };

  for (gsize i = 0; i < G_N_ELEMENTS (suffixes); i++)
    {
      g_autofree char *file = g_strconcat (path, suffixes[i], NULL);

      g_unlink (file);
    }
}

static gboolean
fill_copy (Store *self, const char *dir, const char *path, GError **error)
{
  g_autoptr (Store) copy = open_plain (dir, path, error);

  return copy != NULL && copy_pages (self, copy, error) && leave_wal (copy, error) &&
         drop_snapshots (copy, error);
}

gboolean
store_dump (Store *self, const char *dir, GError **error)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  int fd;

  g_return_val_if_fail (self != NULL && dir != NULL, FALSE);
  /* Made here, since SQLite would leave its permissions to the umask. */
  fd = g_open (path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600);
  if (fd < 0)
    {
      _store_set_errno (error, errno, path);
      return FALSE;
    }
  close (fd);
  if (fill_copy (self, dir, path, error) && sync_file (path, error) && _store_sync_dir (dir, error))
    return TRUE;
  remove_copy (path);
  return FALSE;
}

/* ---- other files in the place of photos ---- */

static gboolean
run_change (Store *copy, const char *sql, const StorePhotoChange *change, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (copy, sql, error);

  if (stmt == NULL)
    return FALSE;
  sqlite3_bind_text (stmt, 1, change->hash, -1, SQLITE_STATIC);
  if (sqlite3_bind_parameter_count (stmt) > 1)
    sqlite3_bind_text (stmt, 2, change->new_hash, -1, SQLITE_STATIC);
  if (sqlite3_bind_parameter_count (stmt) > 2)
    sqlite3_bind_int64 (stmt, 3, change->new_bytes);
  return _store_run (copy, stmt, error);
}

/* Two originals that differed only in what was taken out have become one file: it has one row. */
static gboolean
change_row (Store *copy, const StorePhotoChange *change, GHashTable *taken, GError **error)
{
  const char *sql = g_hash_table_contains (taken, change->new_hash)
                      ? "DELETE FROM photo WHERE hash = ?1"
                      : "UPDATE photo SET hash = ?2, bytes = ?3 WHERE hash = ?1";

  g_hash_table_add (taken, (gpointer) (guintptr) change->new_hash);
  return run_change (copy, sql, change, error) &&
         run_change (copy, "UPDATE entry SET text = ?2 WHERE kind = 'photo' AND text = ?1", change,
                     error);
}

/* The trigger that keeps entries from being changed, by the words in which the file has it. */
static char *
keeper_sql (Store *copy, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (
    copy, "SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND name = 'entry_keep'", error);
  gboolean row = FALSE;

  if (stmt == NULL || !_store_step (copy, stmt, &row, error))
    return NULL;
  if (row)
    return g_strdup (_store_column_text (stmt, 0));
  _store_set_error (error, STORE_ERROR_CORRUPT, copy->dir);
  return NULL;
}

static gboolean
change_all (Store *copy, const StorePhotoChange *changes, gsize n, GError **error)
{
  g_autofree char *keeper = keeper_sql (copy, error);
  g_autoptr (GHashTable) taken = g_hash_table_new (g_str_hash, g_str_equal);

  if (keeper == NULL || !_store_exec (copy, "BEGIN; DROP TRIGGER entry_keep", error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!change_row (copy, &changes[i], taken, error))
      return FALSE;
  return _store_exec (copy, keeper, error) && _store_exec (copy, "COMMIT", error) &&
         _store_exec (copy, "VACUUM", error); /* nothing of the old names stays in free pages */
}

gboolean
store_dump_change_photos (const char *dir,
                          const StorePhotoChange *changes,
                          gsize n,
                          GError **error)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autoptr (Store) copy = open_plain (dir, path, error);

  return copy != NULL && change_all (copy, changes, n, error) && sync_file (path, error);
}
