/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-open.c — how a journal is opened, and when it is refused.
 *
 * Invariant: opening never changes a journal that it refuses, and a folder that
 * cannot be written is read as it stood at one moment: straight from the file
 * when nothing is pending beside it, else from a private copy of both (a
 * database opened as immutable would not see the pending part).
 */
#include "store/store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static Store *
store_alloc (const char *dir)
{
  Store *self = g_new0 (Store, 1);

  self->dir = g_canonicalize_filename (dir, NULL);
  self->db_path = g_build_filename (self->dir, STORE_DB_NAME, NULL);
  self->lock_fd = -1;
  self->data_version = -1;
  self->device = _store_machine_device ();
  return self;
}

Store *
_store_new_for_copy (const char *dir)
{
  Store *self = store_alloc (dir);

  self->access = STORE_ACCESS_COPY;
  return self;
}

static void
disconnect_db (Store *self)
{
  _store_drop_ready (self);
  sqlite3_close_v2 (self->db);
  self->db = NULL;
  if (self->noted != NULL)
    _store_note_closed (g_steal_pointer (&self->noted));
}

void
store_close (Store *self)
{
  if (self == NULL)
    return;
  if (self->pool != NULL)
    g_thread_pool_free (self->pool, FALSE, TRUE);
  g_assert (!self->in_write);
  disconnect_db (self);
  if (self->private_dir != NULL)
    _store_remove_private (self->private_dir);
  g_free (self->private_dir);
  g_free (self->db_path);
  g_free (self->dir);
  g_free (self);
}

gboolean
store_exists (const char *dir)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);

  return g_file_test (path, G_FILE_TEST_IS_REGULAR);
}

const char *
store_get_dir (Store *self)
{
  return self->dir;
}

StoreAccess
store_get_access (Store *self)
{
  return self->access;
}

gboolean
store_is_on_network (Store *self)
{
  return self->network;
}

CoreId
store_get_device (Store *self)
{
  return self->device;
}

void
store_set_device (Store *self, CoreId device)
{
  g_return_if_fail (!core_id_is_none (device));
  self->device = device;
}

static gboolean
may_write (const char *path)
{
  return faccessat (AT_FDCWD, path, W_OK, AT_EACCESS) == 0;
}

/* There, a file, readable, not empty. */
static gboolean
check_file (Store *self, GError **error)
{
  GStatBuf st;

  if (g_stat (self->db_path, &st) != 0)
    {
      if (errno == ENOENT || errno == ENOTDIR)
        _store_set_error (error, STORE_ERROR_NOT_FOUND, self->dir);
      else
        _store_set_errno (error, errno, self->dir);
      return FALSE;
    }
  if (!S_ISREG (st.st_mode) || st.st_size == 0)
    {
      _store_set_error (error, STORE_ERROR_CORRUPT, self->dir);
      return FALSE;
    }
  if (faccessat (AT_FDCWD, self->db_path, R_OK, AT_EACCESS) != 0)
    {
      g_autofree char *shown = g_filename_display_name (self->dir);

      g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
                   "The journal in “%s” cannot be read. Ask the owner of the folder for "
                   "permission.",
                   shown);
      return FALSE;
    }
  return TRUE;
}

static StoreAccess
decide_access (Store *self, StoreFlags flags)
{
  if (!may_write (self->dir) || !may_write (self->db_path))
    return _store_has_pending (self->db_path) ? STORE_ACCESS_COPY : STORE_ACCESS_IMMUTABLE;
  return (flags & STORE_READ_ONLY) != 0 ? STORE_ACCESS_READ : STORE_ACCESS_WRITE;
}

static int
open_file (Store *self)
{
  int flags = SQLITE_OPEN_FULLMUTEX;
  g_autofree char *uri = NULL;

  if (self->access == STORE_ACCESS_IMMUTABLE)
    {
      g_autofree char *base = g_filename_to_uri (self->db_path, NULL, NULL);

      uri = g_strconcat (base, "?immutable=1", NULL);
      flags |= SQLITE_OPEN_URI | SQLITE_OPEN_READONLY;
    }
  else
    flags |= self->access == STORE_ACCESS_READ ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE;
  return sqlite3_open_v2 (uri != NULL ? uri : self->db_path, &self->db, flags, NULL);
}

static gboolean
connect_db (Store *self, GError **error)
{
  int rc;

  if (self->access == STORE_ACCESS_WRITE || self->access == STORE_ACCESS_READ)
    self->noted = _store_note_open (self->db_path);
  rc = open_file (self);
  if (rc != SQLITE_OK)
    {
      _store_set_sql_error (self, rc, error);
      return FALSE;
    }
  sqlite3_extended_result_codes (self->db, 1);
  sqlite3_busy_timeout (self->db, STORE_WAIT_MS);
  sqlite3_db_config (self->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  return _store_exec (self, "PRAGMA cell_size_check = ON; PRAGMA foreign_keys = ON", error) &&
         _store_add_functions (self, error);
}

/* The version of the file; refuses what is not ours or is newer. */
static gboolean
read_version (Store *self, int *version, GError **error)
{
  gint64 application, user;

  if (!_store_get_int (self, "PRAGMA application_id", &application, error) ||
      !_store_get_int (self, "PRAGMA user_version", &user, error))
    return FALSE;
  *version = (int) user;
  if (application != STORE_APPLICATION_ID || user < 1)
    {
      _store_set_error (error, STORE_ERROR_CORRUPT, self->dir);
      return FALSE;
    }
  if (user > STORE_SCHEMA)
    {
      _store_set_error (error, STORE_ERROR_TOO_NEW, self->dir);
      return FALSE;
    }
  return TRUE;
}

/* WAL needs memory shared between all that have the file open; over a network
 * there is none, and a plain journal is kept instead. */
static gboolean
set_journal_mode (Store *self, GError **error)
{
  const char *wanted = self->network ? "truncate" : "wal";
  g_autofree char *sql = g_strdup_printf ("PRAGMA journal_mode = %s", wanted);
  g_autoptr (Stmt) stmt = _store_prepare (self, sql, error);
  gboolean row;

  if (stmt == NULL || !_store_step (self, stmt, &row, error))
    return FALSE;
  if (!row || g_strcmp0 ((const char *) sqlite3_column_text (stmt, 0), wanted) != 0)
    {
      _store_set_error (error, STORE_ERROR_BUSY, self->dir);
      return FALSE;
    }
  return TRUE;
}

static gboolean
set_up_writing (Store *self, GError **error)
{
  return set_journal_mode (self, error) && _store_exec (self, "PRAGMA synchronous = FULL", error);
}

/* Brings an older file to our version, under the lock and in one transaction. */
static gboolean
migrate (Store *self, GError **error)
{
  int version;
  gboolean ok;

  if (!_store_begin (self, error))
    return FALSE;
  /* Another program may have done it while we waited. */
  ok = read_version (self, &version, error) && _store_migrate (self, version, STORE_SCHEMA, error);
  return _store_end (self, ok, error);
}

static gboolean
migrate_copy (Store *self, int version, GError **error)
{
  return _store_exec (self, "BEGIN", error) &&
         _store_migrate (self, version, STORE_SCHEMA, error) && _store_exec (self, "COMMIT", error);
}

/* Touches each table once, so that a file which only looks like a journal is
 * refused when it is opened, and not at the first feeding. */
static gboolean
touch_tables (Store *self, GError **error)
{
  gint64 sum;

  return _store_get_int (self,
                         "SELECT (SELECT max(seq) FROM entry) + (SELECT count(*) FROM subject)"
                         " + (SELECT count(*) FROM (SELECT 1 FROM photo LIMIT 1))"
                         " + (SELECT count(*) FROM draft) + (SELECT count(*) FROM snapshot)"
                         " + (SELECT count(*) FROM meta)",
                         &sum, error);
}

static gboolean
prepare_access (Store *self, GError **error)
{
  int version;

  if (self->access == STORE_ACCESS_COPY && !_store_make_private_copy (self, error))
    return FALSE;
  if (!connect_db (self, error) || !read_version (self, &version, error))
    return FALSE;
  /* Before anything is set that SQLite would write into the file; every version has these tables. */
  if (!touch_tables (self, error))
    return FALSE;
  if (self->access == STORE_ACCESS_WRITE)
    return set_up_writing (self, error) &&
           (version == STORE_SCHEMA || (migrate (self, error) && touch_tables (self, error)));
  if (version < STORE_SCHEMA && self->access != STORE_ACCESS_COPY)
    {
      /* Older and not to be written: a copy of it is brought up to date. */
      disconnect_db (self);
      self->access = STORE_ACCESS_COPY;
      return prepare_access (self, error);
    }
  if (version < STORE_SCHEMA && !migrate_copy (self, version, error))
    return FALSE;
  return _store_exec (self, "PRAGMA query_only = ON", error);
}

static Store *
open_existing (Store *fresh, StoreFlags flags, GError **error)
{
  g_autoptr (Store) self = fresh;
  gboolean changed;

  if (!check_file (self, error))
    return NULL;
  self->network = _store_dir_on_network (self->dir);
  self->access = decide_access (self, flags);
  if (!prepare_access (self, error))
    return NULL;
  if (!store_poll (self, &changed, error)) /* what is compared with from now on */
    return NULL;
  return g_steal_pointer (&self);
}

/* An empty folder, or one in which a creation was cut off before its commit. */
static gboolean
may_create_in (const char *dir)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;

  if (listing == NULL)
    return FALSE;
  while ((name = g_dir_read_name (listing)) != NULL)
    if (!g_str_has_prefix (name, STORE_DB_NAME) && strcmp (name, STORE_LOCK_NAME) != 0)
      return FALSE;
  return TRUE;
}

/* TRUE when the file has no table and no version: nothing was ever committed. */
static gboolean
is_unborn (Store *self, GError **error)
{
  gint64 tables, user, application;

  if (!_store_get_int (self, "SELECT count(*) FROM sqlite_schema", &tables, error) ||
      !_store_get_int (self, "PRAGMA user_version", &user, error) ||
      !_store_get_int (self, "PRAGMA application_id", &application, error))
    return FALSE;
  if (tables == 0 && user == 0 && application == 0)
    return TRUE;
  _store_set_error (error, STORE_ERROR_EXISTS, self->dir);
  return FALSE;
}

static gboolean
create_tables (Store *self, GError **error)
{
  gboolean ok;

  if (!is_unborn (self, error) || !set_up_writing (self, error) || !_store_begin (self, error))
    return FALSE;
  ok = is_unborn (self, error) && _store_migrate (self, 0, STORE_SCHEMA, error) &&
       _store_exec (self, "INSERT INTO meta VALUES ('program', '" MANTIDARY_VERSION "')", error);
  return _store_end (self, ok, error);
}

/* Made here, since SQLite would leave its permissions to the umask; the files
 * that it adds beside take those of this one. One that is there is not touched:
 * this process may have it open. */
static gboolean
make_file (Store *self, GError **error)
{
  int fd;

  if (!g_file_test (self->db_path, G_FILE_TEST_EXISTS))
    {
      fd = g_open (self->db_path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
      if (fd < 0)
        {
          _store_set_errno (error, errno, self->dir);
          return FALSE;
        }
      close (fd);
    }
  return TRUE;
}

static Store *
create (Store *fresh, GError **error)
{
  g_autoptr (Store) self = fresh;
  gboolean changed;

  if (g_mkdir_with_parents (self->dir, 0700) != 0)
    {
      _store_set_errno (error, errno, self->dir);
      return NULL;
    }
  if (!may_create_in (self->dir))
    {
      _store_set_error (error, STORE_ERROR_EXISTS, self->dir);
      return NULL;
    }
  if (!make_file (self, error))
    return NULL;
  self->network = _store_dir_on_network (self->dir);
  self->access = STORE_ACCESS_WRITE;
  if (!connect_db (self, error) || !create_tables (self, error) ||
      !_store_sync_dir (self->dir, error) || !store_poll (self, &changed, error))
    return NULL;
  return g_steal_pointer (&self);
}

Store *
store_open (const char *dir, StoreFlags flags, GError **error)
{
  g_return_val_if_fail (dir != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if ((flags & STORE_CREATE) != 0)
    return create (store_alloc (dir), error);
  return open_existing (store_alloc (dir), flags, error);
}

static gboolean
pages_are_sound (Store *self, gboolean *sound, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (self, "PRAGMA quick_check(1)", error);
  gboolean row;

  if (stmt == NULL || !_store_step (self, stmt, &row, error))
    return FALSE;
  *sound = row && g_strcmp0 ((const char *) sqlite3_column_text (stmt, 0), "ok") == 0;
  return TRUE;
}

/* A page that the disk gave only at the second time is one of the findings too: it is asked twice.
 */
static gboolean
check_pages (Store *self, GError **error)
{
  gboolean sound = FALSE;

  for (int i = 0; i < 2 && !sound; i++)
    if (!pages_are_sound (self, &sound, error))
      return FALSE;
  if (!sound)
    _store_set_error (error, STORE_ERROR_CORRUPT, self->dir);
  return sound;
}

gboolean
store_check_pages (Store *self, gint64 most_bytes, GError **error)
{
  gint64 pages, bytes;

  g_return_val_if_fail (self != NULL, FALSE);
  if (!_store_get_int (self, "PRAGMA page_count", &pages, error) ||
      !_store_get_int (self, "PRAGMA page_size", &bytes, error))
    return FALSE;
  return pages * bytes > most_bytes || check_pages (self, error);
}

/* The schema is compared before the connection that reads from it is made. */
static gboolean
connect_foreign (Store *self, GError **error)
{
  gboolean matches = FALSE;
  int version;

  if (!connect_db (self, error) || !read_version (self, &version, error))
    return FALSE;
  disconnect_db (self);
  if (!_store_schema_matches (self, version, &matches, error))
    return FALSE;
  if (!matches)
    {
      _store_set_error (error, STORE_ERROR_CORRUPT, self->dir);
      return FALSE;
    }
  return connect_db (self, error) && check_pages (self, error) &&
         (version == STORE_SCHEMA || migrate_copy (self, version, error));
}

/* Always read from a private copy: what is checked is what is read, whatever
 * happens to the folder meanwhile. */
Store *
store_open_foreign (const char *dir, GError **error)
{
  g_autoptr (Store) self = NULL;

  g_return_val_if_fail (dir != NULL, NULL);
  self = _store_new_for_copy (dir);
  if (!check_file (self, error) || !_store_make_private_copy (self, error) ||
      !connect_foreign (self, error) || !_store_exec (self, "PRAGMA query_only = ON", error))
    return NULL;
  return g_steal_pointer (&self);
}

/* Only this program can reach the folder, so what is checked is what is read. */
Store *
store_open_unpacked (const char *dir, GError **error)
{
  g_autoptr (Store) self = NULL;

  g_return_val_if_fail (dir != NULL, NULL);
  self = _store_new_for_copy (dir);
  if (!check_file (self, error) || !connect_foreign (self, error) ||
      !_store_exec (self, "PRAGMA query_only = ON", error))
    return NULL;
  return g_steal_pointer (&self);
}

/* The file of a private copy, or an immutable one, is the same for both. */
static Store *
open_same_file (Store *self, GError **error)
{
  g_autoptr (Store) reader = store_alloc (self->dir);

  reader->access = self->access;
  reader->network = self->network;
  g_free (reader->db_path);
  reader->db_path = g_strdup (self->db_path);
  if (!connect_db (reader, error) || !_store_exec (reader, "PRAGMA query_only = ON", error))
    return NULL;
  return g_steal_pointer (&reader);
}

Store *
store_open_reader (Store *self, GError **error)
{
  Store *reader;

  g_return_val_if_fail (self != NULL, NULL);
  reader = self->access == STORE_ACCESS_COPY || self->access == STORE_ACCESS_IMMUTABLE
             ? open_same_file (self, error)
             : open_existing (store_alloc (self->dir), STORE_READ_ONLY, error);
  if (reader != NULL)
    reader->device = self->device;
  return reader;
}
