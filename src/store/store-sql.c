/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-sql.c — statements, write transactions and what their failures mean.
 *
 * Invariant: the lock of the folder is held exactly while a write transaction
 * is open on this connection.
 */
#include "store/store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

G_DEFINE_QUARK (store - error - quark, store_error)

void (*_store_test_hook) (const char *place);

void
_store_at (const char *place)
{
  const char *kill_at = g_getenv ("MANTIDARY_TEST_KILL_AT");

  if (_store_test_hook != NULL)
    _store_test_hook (place);
  if (kill_at != NULL && strcmp (kill_at, place) == 0)
    kill (getpid (), SIGKILL);
}

/* One sentence for each code: what is the matter, and what to do. */
static const char *const sentences[] = {
  [STORE_ERROR_FAILED] = "The journal in “%s” could not be used. Nothing was written.",
  [STORE_ERROR_BUSY] = "Another program is writing to the journal in “%s”. Nothing was written. "
                       "Try again in a moment.",
  [STORE_ERROR_CORRUPT] = "The journal in “%s” is damaged or is not a journal. Nothing was "
                          "written. Copy the folder before anything else, then go on with a "
                          "backup.",
  [STORE_ERROR_TOO_NEW] = "The journal in “%s” was made by a newer version of this program. "
                          "Nothing was written. Update the program to open it.",
  [STORE_ERROR_FULL] = "There is no room left on the disk of “%s”. Nothing was written. Free some "
                       "space and try again.",
  [STORE_ERROR_READ_ONLY] = "The journal in “%s” is open for reading only. Nothing was written. "
                            "Make its folder writable, or copy the folder and open the copy.",
  [STORE_ERROR_NO_MEMORY] = "There is not enough memory for the journal in “%s”. Nothing was "
                            "written. Close other programs and try again.",
  [STORE_ERROR_NOT_FOUND] = "There is no journal in “%s”. Check the folder, or begin a new one.",
  [STORE_ERROR_EXISTS] = "The folder “%s” is not empty. Name a new folder for a new journal.",
  [STORE_ERROR_STALE] = "The journal in “%s” was changed by another program. Nothing was written. "
                        "Load it again and repeat.",
  [STORE_ERROR_DIFFERS] = "The journal in “%s” is not a copy of this one. Nothing was written. "
                          "Choose another folder.",
};

void
_store_set_error (GError **error, StoreError code, const char *dir)
{
  g_autofree char *shown = g_filename_display_name (dir);
  g_auto (GStrv) parts = g_strsplit (sentences[code], "%s", 2);

  g_set_error (error, STORE_ERROR, code, "%s%s%s", parts[0], shown, parts[1]);
}

/* What the system says of a file or folder of the journal. */
void
_store_set_errno (GError **error, int saved_errno, const char *path)
{
  static const struct
  {
    int number;
    StoreError code;
    const char *what;
  } known[] = {
    { ENOSPC, STORE_ERROR_FULL, "has no room left on its disk. Free some space and try again." },
    { EDQUOT, STORE_ERROR_FULL, "has no room left for you. Free some space and try again." },
    { EROFS, STORE_ERROR_READ_ONLY, "is on a disk that cannot be written. Choose another folder." },
    { EACCES, STORE_ERROR_READ_ONLY, "is not yours to use. Ask its owner, or choose another one." },
    { EPERM, STORE_ERROR_READ_ONLY, "is not yours to use. Ask its owner, or choose another one." },
    { ENOENT, STORE_ERROR_NOT_FOUND, "is not there. Check the folder." },
    { ENOTDIR, STORE_ERROR_FAILED, "lies inside a file, not a folder. Choose another folder." },
    { ENOMEM, STORE_ERROR_NO_MEMORY, "needs more memory. Close other programs and try again." },
  };
  g_autofree char *shown = g_filename_display_name (path);

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    if (known[i].number == saved_errno)
      {
        g_set_error (error, STORE_ERROR, (gint) known[i].code, "“%s” %s Nothing was written.",
                     shown, known[i].what);
        return;
      }
  g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
               "“%s” could not be used (%s). Nothing was written.", shown,
               g_strerror (saved_errno));
}

void
_store_set_damage (Store *self, GError **error)
{
  gboolean no_memory = sqlite3_errcode (self->db) == SQLITE_NOMEM;

  _store_set_error (error, no_memory ? STORE_ERROR_NO_MEMORY : STORE_ERROR_CORRUPT, self->dir);
}

StoreError
_store_code_from_sqlite (int rc, int system_errno)
{
  switch (rc & 0xff)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
      return STORE_ERROR_BUSY;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_FORMAT:
      return STORE_ERROR_CORRUPT;
    case SQLITE_FULL:
      return STORE_ERROR_FULL;
    case SQLITE_NOMEM:
      return STORE_ERROR_NO_MEMORY;
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return STORE_ERROR_READ_ONLY;
    case SQLITE_IOERR:
      if (rc == SQLITE_IOERR_NOMEM)
        return STORE_ERROR_NO_MEMORY;
      if (rc == SQLITE_IOERR_CORRUPTFS || rc == SQLITE_IOERR_SHORT_READ)
        return STORE_ERROR_CORRUPT;
      return system_errno == ENOSPC || system_errno == EDQUOT ? STORE_ERROR_FULL
                                                              : STORE_ERROR_FAILED;
    case SQLITE_CANTOPEN:
      if (system_errno == ENOSPC || system_errno == EDQUOT)
        return STORE_ERROR_FULL;
      if (system_errno == EACCES || system_errno == EROFS || system_errno == EPERM)
        return STORE_ERROR_READ_ONLY;
      return STORE_ERROR_FAILED;
    case SQLITE_CONSTRAINT:
      if (rc == SQLITE_CONSTRAINT_UNIQUE || rc == SQLITE_CONSTRAINT_PRIMARYKEY)
        return STORE_ERROR_EXISTS;
      return rc == SQLITE_CONSTRAINT_FOREIGNKEY ? STORE_ERROR_NOT_FOUND : STORE_ERROR_FAILED;
    default:
      return STORE_ERROR_FAILED;
    }
}

void
_store_set_sql_error (Store *self, int rc, GError **error)
{
  StoreError code =
    _store_code_from_sqlite (rc, self->db != NULL ? sqlite3_system_errno (self->db) : 0);
  /* A damaged file's own bytes may be in it. */
  g_autofree char *detail =
    g_utf8_make_valid (self->db != NULL ? sqlite3_errmsg (self->db) : sqlite3_errstr (rc), -1);

  g_debug ("SQLite %d: %s", rc, detail);
  if (code == STORE_ERROR_EXISTS)
    g_set_error_literal (error, STORE_ERROR, code,
                         "An entry with this id is in the journal already. Nothing was written.");
  else if (code == STORE_ERROR_NOT_FOUND)
    g_set_error_literal (error, STORE_ERROR, code,
                         "The animal or place of an entry is not in this journal. Nothing was "
                         "written.");
  else if (code == STORE_ERROR_FAILED)
    g_set_error (error, STORE_ERROR, code,
                 "The journal could not be used (%s). Nothing was written.", detail);
  else
    _store_set_error (error, code, self->dir);
}

gboolean
_store_exec (Store *self, const char *sql, GError **error)
{
  int rc = sqlite3_exec (self->db, sql, NULL, NULL, NULL);

  if (rc == SQLITE_OK)
    return TRUE;
  _store_set_sql_error (self, rc, error);
  return FALSE;
}

Stmt *
_store_prepare (Store *self, const char *sql, GError **error)
{
  Stmt *stmt = NULL;
  int rc = sqlite3_prepare_v2 (self->db, sql, -1, &stmt, NULL);

  if (rc == SQLITE_OK)
    return stmt;
  /* A table or column that is not there: the file says that it is of our
   * version, so its schema has been damaged or tampered with. */
  if (rc == SQLITE_ERROR)
    rc = SQLITE_CORRUPT;
  _store_set_sql_error (self, rc, error);
  return NULL;
}

gboolean
_store_step (Store *self, Stmt *stmt, gboolean *row, GError **error)
{
  int rc = sqlite3_step (stmt);

  *row = rc == SQLITE_ROW;
  if (rc == SQLITE_ROW || rc == SQLITE_DONE)
    return TRUE;
  _store_set_sql_error (self, rc, error);
  return FALSE;
}

gboolean
_store_run (Store *self, Stmt *stmt, GError **error)
{
  gboolean row;

  do
    {
      if (!_store_step (self, stmt, &row, error))
        return FALSE;
    }
  while (row);
  sqlite3_reset (stmt);
  return TRUE;
}

gboolean
_store_get_int (Store *self, const char *sql, gint64 *out, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (self, sql, error);
  gboolean row;

  if (stmt == NULL || !_store_step (self, stmt, &row, error))
    return FALSE;
  *out = row ? sqlite3_column_int64 (stmt, 0) : 0;
  return TRUE;
}

int
_store_bind_id (Stmt *stmt, int column, CoreId id)
{
  if (core_id_is_none (id))
    return sqlite3_bind_null (stmt, column);
  return sqlite3_bind_blob (stmt, column, id.b, sizeof id.b, SQLITE_TRANSIENT);
}

gboolean
_store_column_id (Stmt *stmt, int column, CoreId *out)
{
  const void *blob;

  memset (out, 0, sizeof *out);
  if (sqlite3_column_type (stmt, column) != SQLITE_BLOB)
    return FALSE;
  blob = sqlite3_column_blob (stmt, column);
  if (blob == NULL || sqlite3_column_bytes (stmt, column) != (int) sizeof out->b)
    return FALSE;
  memcpy (out->b, blob, sizeof out->b);
  return TRUE;
}

const char *
_store_column_text (Stmt *stmt, int column)
{
  const char *text;

  if (sqlite3_column_type (stmt, column) != SQLITE_TEXT)
    return NULL;
  text = (const char *) sqlite3_column_text (stmt, column);
  if (text == NULL || strlen (text) != (gsize) sqlite3_column_bytes (stmt, column) ||
      !g_utf8_validate (text, -1, NULL))
    return NULL;
  return text;
}

static gboolean
lock_folder (Store *self, GError **error)
{
  g_autofree char *path = g_build_filename (self->dir, STORE_LOCK_NAME, NULL);
  gint64 until = g_get_monotonic_time () + STORE_WAIT_MS * G_TIME_SPAN_MILLISECOND;
  int fd = g_open (path, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);

  if (fd < 0)
    {
      _store_set_errno (error, errno, self->dir);
      return FALSE;
    }
  while (flock (fd, LOCK_EX | LOCK_NB) != 0)
    {
      int saved = errno;

      if (saved == EINTR)
        continue;
      if (saved != EWOULDBLOCK || g_get_monotonic_time () > until)
        {
          close (fd);
          if (saved == EWOULDBLOCK)
            _store_set_error (error, STORE_ERROR_BUSY, self->dir);
          else
            _store_set_errno (error, saved, self->dir);
          return FALSE;
        }
      g_usleep (10 * G_TIME_SPAN_MILLISECOND);
    }
  self->lock_fd = fd;
  return TRUE;
}

static void
unlock_folder (Store *self)
{
  close (self->lock_fd); /* the lock goes with its description */
  self->lock_fd = -1;
}

gboolean
_store_begin (Store *self, GError **error)
{
  g_assert (!self->in_write);
  if (self->access != STORE_ACCESS_WRITE)
    {
      _store_set_error (error, STORE_ERROR_READ_ONLY, self->dir);
      return FALSE;
    }
  if (!lock_folder (self, error))
    return FALSE;
  if (!_store_exec (self, "BEGIN IMMEDIATE", error))
    {
      unlock_folder (self);
      return FALSE;
    }
  self->in_write = TRUE;
  return TRUE;
}

gboolean
_store_end (Store *self, gboolean ok, GError **error)
{
  g_assert (self->in_write);
  if (ok)
    {
      _store_at ("before-commit");
      ok = _store_exec (self, "COMMIT", error);
      if (ok)
        _store_at ("after-commit");
    }
  /* A commit that failed leaves the transaction open, except where SQLite has
   * rolled it back by itself. */
  if (!sqlite3_get_autocommit (self->db))
    sqlite3_exec (self->db, "ROLLBACK", NULL, NULL, NULL);
  unlock_folder (self);
  self->in_write = FALSE;
  return ok;
}
