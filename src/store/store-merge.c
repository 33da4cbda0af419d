/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-merge.c — another copy of the journal comes into this one: a union of sets.
 *
 * Invariant: rows come over byte by byte, in one transaction or not at all, after every file that
 * they name has been copied; what both copies have is the same in both, or nothing comes. The
 * other journal is read row by row, so that its size does not matter, and never changed.
 */
#include "store/store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#define FIRST_COLUMN 1 /* of STORE_ENTRY_COLUMNS: `seq` is each journal's own */
#define N_COLUMNS 18

typedef struct
{
  Store *store; /* ours */
  Store *other;
  StoreMerge *out;
  GArray *photos; /* StorePhoto of the other that have no row here */
  GHashTable *hashes; /* of our rows → index in `ours` + 1 */
  GArray *ours;       /* StorePhoto */
  CoreId first, last; /* inserted */
} Merge;

static void
merge_clear (Merge *self)
{
  g_clear_pointer (&self->out, store_merge_free);
  g_clear_pointer (&self->photos, g_array_unref);
  g_clear_pointer (&self->hashes, g_hash_table_unref);
  g_clear_pointer (&self->ours, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Merge, merge_clear)

void
store_merge_free (StoreMerge *self)
{
  g_array_unref (self->left);
  g_free (self);
}

/* ---- the same journal by another name ---- */

static gboolean
same_file (const char *a, const char *b)
{
  GStatBuf x, y;

  return g_stat (a, &x) == 0 && g_stat (b, &y) == 0 && x.st_dev == y.st_dev &&
         x.st_ino == y.st_ino;
}

gboolean
store_is_same (const char *dir, const char *other)
{
  g_autofree char *a = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autofree char *b = g_build_filename (other, STORE_DB_NAME, NULL);

  return same_file (a, b);
}

/* ---- what the other journal must be ---- */

static gboolean
damaged (Merge *self, GError **error)
{
  _store_set_error (error, STORE_ERROR_CORRUPT, self->other->dir);
  return FALSE;
}

/* The pages were checked when it was opened; here, that no row points nowhere. */
static gboolean
check_references (Merge *self, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (self->other, "PRAGMA foreign_key_check", error);
  gboolean row;

  if (stmt == NULL || !_store_step (self->other, stmt, &row, error))
    return FALSE;
  return !row || damaged (self, error);
}

static gboolean
differs (Merge *self, const char *what, GError **error)
{
  g_autofree char *shown = g_filename_display_name (self->other->dir);

  g_set_error (error, STORE_ERROR, STORE_ERROR_DIFFERS,
               "The journal in “%s” is not a copy of this one as it was written: %s stands there "
               "otherwise. Nothing was written. Take another copy; one that was made without "
               "positions cannot come back.",
               shown, what);
  return FALSE;
}

/* ---- subjects ---- */

/* TRUE in *known when it is here, and is of the same kind. */
static gboolean
look_up_subject (Merge *self, Stmt *find, const StoreSubject *subject, gboolean *known, GError **error)
{
  sqlite3_reset (find);
  if (_store_bind_id (find, 1, subject->id) != SQLITE_OK)
    {
      _store_set_sql_error (self->store, SQLITE_NOMEM, error);
      return FALSE;
    }
  if (!_store_step (self->store, find, known, error))
    return FALSE;
  if (!*known || _store_subject_from_name (_store_column_text (find, 0)) == subject->kind)
    return TRUE;
  if (sqlite3_errcode (self->store->db) == SQLITE_NOMEM)
    _store_set_sql_error (self->store, SQLITE_NOMEM, error);
  else
    differs (self, "an animal or place", error);
  return FALSE;
}

static gboolean
put_subject (Merge *self, Stmt *insert, const StoreSubject *subject, GError **error)
{
  if (_store_bind_id (insert, 1, subject->id) != SQLITE_OK ||
      sqlite3_bind_text (insert, 2, _store_subject_name (subject->kind), -1, SQLITE_STATIC) != SQLITE_OK)
    {
      _store_set_sql_error (self->store, SQLITE_NOMEM, error);
      return FALSE;
    }
  return _store_run (self->store, insert, error);
}

static gboolean
walk_subjects (Merge *self, gboolean write, GError **error)
{
  g_autoptr (GArray) subjects = store_load_subjects (self->other, error);
  g_autoptr (Stmt) find = NULL;
  g_autoptr (Stmt) insert = NULL;

  if (subjects == NULL)
    return FALSE;
  find = _store_prepare (self->store, "SELECT kind FROM subject WHERE id = ?1", error);
  insert = find == NULL ? NULL
                        : _store_prepare (self->store,
                                          "INSERT INTO subject (id, kind) VALUES (?1, ?2)", error);
  if (insert == NULL)
    return FALSE;
  for (guint i = 0; i < subjects->len; i++)
    {
      const StoreSubject *subject = &g_array_index (subjects, StoreSubject, i);
      gboolean known;

      if (!_store_id_is_sound (subject->id))
        return damaged (self, error);
      if (!look_up_subject (self, find, subject, &known, error))
        return FALSE;
      if (known)
        continue;
      self->out->subjects[subject->kind]++;
      if (write && !put_subject (self, insert, subject, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- entries ---- */

static gboolean
same_value (Stmt *a, Stmt *b, int column)
{
  int type = sqlite3_column_type (a, column);
  const void *x, *y;
  int n;

  if (sqlite3_column_type (b, column) != type)
    return FALSE;
  switch (type)
    {
    case SQLITE_NULL:
      return TRUE;
    case SQLITE_INTEGER:
      return sqlite3_column_int64 (a, column) == sqlite3_column_int64 (b, column);
    case SQLITE_FLOAT:
      return sqlite3_column_double (a, column) == sqlite3_column_double (b, column);
    default:
      x = sqlite3_column_blob (a, column);
      y = sqlite3_column_blob (b, column);
      n = sqlite3_column_bytes (a, column);
      return n == sqlite3_column_bytes (b, column) && (n == 0 || (x != NULL && y != NULL && memcmp (x, y, (gsize) n) == 0));
    }
}

/* The row of `find`, which has the id of the row of `from`, must be that row. */
static gboolean
check_same (Merge *self, Stmt *from, Stmt *find, GError **error)
{
  for (int i = FIRST_COLUMN; i < N_COLUMNS; i++)
    if (!same_value (from, find, i))
      {
        if (sqlite3_errcode (self->store->db) != SQLITE_NOMEM)
          return differs (self, "an entry", error);
        _store_set_sql_error (self->store, SQLITE_NOMEM, error);
        return FALSE;
      }
  return TRUE;
}

/* An entry of core, or the journal is damaged. */
static gboolean
check_entry (Merge *self, Stmt *from, GError **error)
{
  StoreRowError why = { 0 };
  CoreEntry *entry = _store_read_entry (from, &why);
  gboolean sound = entry != NULL && _store_id_is_sound (entry->id);

  core_entry_free (entry);
  if (sound)
    return TRUE;
  if (!why.no_memory)
    return damaged (self, error);
  _store_set_error (error, STORE_ERROR_NO_MEMORY, self->other->dir);
  return FALSE;
}

static gboolean
put_entry (Merge *self, Stmt *from, Stmt *insert, GError **error)
{
  int rc = SQLITE_OK;

  _store_column_id (from, FIRST_COLUMN, &self->last);
  if (core_id_is_none (self->first))
    self->first = self->last;
  for (int i = FIRST_COLUMN; i < N_COLUMNS; i++)
    rc |= sqlite3_bind_value (insert, i, sqlite3_column_value (from, i));
  if (rc == SQLITE_OK)
    return _store_run (self->store, insert, error);
  _store_set_sql_error (self->store, SQLITE_NOMEM, error);
  return FALSE;
}

static gboolean
take_row (Merge *self, Stmt *from, Stmt *find, Stmt *insert, GError **error)
{
  gboolean known;

  sqlite3_reset (find);
  if (sqlite3_bind_value (find, 1, sqlite3_column_value (from, FIRST_COLUMN)) != SQLITE_OK)
    {
      _store_set_sql_error (self->store, SQLITE_NOMEM, error);
      return FALSE;
    }
  if (!_store_step (self->store, find, &known, error))
    return FALSE;
  if (known)
    {
      self->out->both++;
      return check_same (self, from, find, error);
    }
  self->out->entries++;
  return check_entry (self, from, error) &&
         (insert == NULL || put_entry (self, from, insert, error));
}

static Stmt *
prepare_insert (Store *store, GError **error)
{
  return _store_prepare (
    store,
    "INSERT INTO entry (id, subject, kind, day, earliest, minute, written_ms, device, round,"
    " names, bulk, code, n, sd, ref, text, more)"
    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)",
    error);
}

/* In the order in which they were written there, so that rounds stay together. */
static gboolean
walk_entries (Merge *self, gboolean write, GError **error)
{
  g_autoptr (Stmt) from =
    _store_prepare (self->other, "SELECT " STORE_ENTRY_COLUMNS " FROM entry ORDER BY seq", error);
  g_autoptr (Stmt) find =
    from == NULL
      ? NULL
      : _store_prepare (self->store, "SELECT " STORE_ENTRY_COLUMNS " FROM entry WHERE id = ?1", error);
  g_autoptr (Stmt) insert = find != NULL && write ? prepare_insert (self->store, error) : NULL;
  gboolean row;

  if (find == NULL || (write && insert == NULL))
    return FALSE;
  while (_store_step (self->other, from, &row, error))
    {
      if (!row)
        return TRUE;
      if (!take_row (self, from, find, insert, error))
        return FALSE;
    }
  return FALSE;
}

/* ---- photos ---- */

static gboolean
load_photos (Merge *self, GError **error)
{
  self->photos = store_load_photos (self->other, error);
  self->ours = self->photos != NULL ? store_load_photos (self->store, error) : NULL;
  if (self->ours == NULL)
    return FALSE;
  self->hashes = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < self->ours->len; i++)
    g_hash_table_insert (self->hashes, g_array_index (self->ours, StorePhoto, i).hash,
                         GUINT_TO_POINTER (i + 1));
  return TRUE;
}

static gboolean
is_known (const Merge *self, const StorePhoto *photo)
{
  return g_hash_table_contains (self->hashes, photo->hash);
}

/* A file of the right size lies under its hash: `check` reads all of it. */
static gboolean
has_file (Store *store, const StorePhoto *photo)
{
  g_autofree char *path = store_photo_path (store, photo);
  GStatBuf st;

  return g_lstat (path, &st) == 0 && S_ISREG (st.st_mode) && st.st_size == photo->bytes;
}

/* The original of the other side, open and hashed; -1 with why it cannot come. */
static int
open_original (Merge *self, const StorePhoto *photo, StoreMergeWhy *why)
{
  g_autofree char *path = store_photo_path (self->other, photo);
  int fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOFOLLOW, 0);
  char hash[STORE_HASH_LEN + 1];
  struct stat st;
  gint64 bytes;

  *why = STORE_MERGE_MISSING;
  if (fd < 0)
    return -1;
  *why = STORE_MERGE_CHANGED;
  if (fstat (fd, &st) == 0 && S_ISREG (st.st_mode) && st.st_size == photo->bytes &&
      _store_hash_fd (fd, hash, &bytes, NULL) && bytes == photo->bytes &&
      strcmp (hash, photo->hash) == 0)
    return fd;
  close (fd);
  return -1;
}

static gboolean
take_file (Merge *self, const StorePhoto *photo, gboolean write, GError **error)
{
  StoreMergeLeft left = { .bytes = photo->bytes };
  gboolean ok;
  int fd = open_original (self, photo, &left.why);

  if (fd < 0)
    {
      g_strlcpy (left.hash, photo->hash, sizeof left.hash);
      g_strlcpy (left.format, photo->format, sizeof left.format);
      g_array_append_val (self->out->left, left);
      return TRUE;
    }
  ok = !write || _store_photo_put_known (self->store, fd, photo, error);
  close (fd);
  self->out->files += ok;
  self->out->bytes += ok ? photo->bytes : 0;
  return ok;
}

/* Said before the first byte is copied. */
static gboolean
check_room (Merge *self, GError **error)
{
  gint64 needed = 0;
  struct statvfs room;

  for (guint i = 0; i < self->photos->len; i++)
    {
      const StorePhoto *photo = &g_array_index (self->photos, StorePhoto, i);

      if (!has_file (self->store, photo) && has_file (self->other, photo))
        needed += photo->bytes;
    }
  if (needed == 0 || statvfs (self->store->dir, &room) != 0 ||
      (guint64) needed / room.f_frsize + 1 < room.f_bavail)
    return TRUE;
  _store_set_error (error, STORE_ERROR_FULL, self->store->dir);
  return FALSE;
}

/* Each file that is not here, also of a photo whose row is: the copy may have kept it. */
static gboolean
walk_files (Merge *self, gboolean write, GError **error)
{
  if (write && !check_room (self, error))
    return FALSE;
  for (guint i = 0; i < self->photos->len; i++)
    {
      const StorePhoto *photo = &g_array_index (self->photos, StorePhoto, i);

      if (!_store_id_is_sound (photo->id))
        return damaged (self, error);
      if (!has_file (self->store, photo) && !take_file (self, photo, write, error))
        return FALSE;
    }
  return TRUE;
}

/* Rows last among what is not an entry: their files are here by now, but for those in `left`. */
static gboolean
walk_photos (Merge *self, gboolean write, GError **error)
{
  for (guint i = 0; i < self->photos->len; i++)
    {
      const StorePhoto *photo = &g_array_index (self->photos, StorePhoto, i);

      if (is_known (self, photo))
        continue;
      self->out->photos++;
      if (write && !_store_photo_insert (self->store, photo, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- the whole ---- */

static gboolean
begin (Merge *self, Store *store, Store *other, GError **error)
{
  self->store = store;
  self->other = other;
  self->out = g_new0 (StoreMerge, 1);
  self->out->left = g_array_new (FALSE, FALSE, sizeof (StoreMergeLeft));
  if (store_get_access (store) != STORE_ACCESS_WRITE)
    {
      _store_set_error (error, STORE_ERROR_READ_ONLY, store->dir);
      return FALSE;
    }
  return check_references (self, error) &&
         _store_get_int (other, "SELECT count(*) FROM draft", &self->out->drafts, error) &&
         load_photos (self, error);
}

static gboolean
walk_rows (Merge *self, gboolean write, GError **error)
{
  self->out->entries = self->out->both = self->out->photos = 0;
  memset (self->out->subjects, 0, sizeof self->out->subjects);
  return walk_subjects (self, write, error) && walk_photos (self, write, error) &&
         walk_entries (self, write, error);
}

#define MERGED_KEY "merged "

/* So that undo passes over it: see desk-history.c. A row of this copy alone. */
static gboolean
note_merged (Merge *self, GError **error)
{
  g_autoptr (Stmt) insert = NULL;
  char device[37], first[37], last[37];
  g_autofree char *key = NULL;

  if (core_id_is_none (self->first))
    return TRUE;
  core_id_to_text (self->store->device, device);
  core_id_to_text (self->first, first);
  core_id_to_text (self->last, last);
  key = g_strconcat (MERGED_KEY, device, " ", first, NULL);
  insert = _store_prepare (self->store, "INSERT INTO meta (key, value) VALUES (?1, ?2)", error);
  if (insert == NULL)
    return FALSE;
  if (sqlite3_bind_text (insert, 1, key, -1, SQLITE_STATIC) == SQLITE_OK &&
      sqlite3_bind_text (insert, 2, last, -1, SQLITE_STATIC) == SQLITE_OK)
    return _store_run (self->store, insert, error);
  _store_set_sql_error (self->store, SQLITE_NOMEM, error);
  return FALSE;
}

/* FALSE with an error, or without one when the text names no entry that is there. */
static gboolean
find_seq (Store *self, const char *text, gint64 *seq, GError **error)
{
  CoreEntry *entry = NULL;
  CoreId id;
  gboolean found;

  if (text == NULL || !core_id_from_text (text, &id))
    return FALSE;
  found = store_find_entry (self, id, seq, &entry, error) && entry != NULL;
  core_entry_free (entry);
  return found;
}

/* The row that `stmt` is at; one that nobody of ours wrote is passed over. */
static gboolean
add_merged (Store *self, Stmt *stmt, gsize key_at, GArray *all, GError **error)
{
  g_autoptr (GError) failure = NULL;
  const char *key = _store_column_text (stmt, 0);
  StoreMerged merged;

  if (key != NULL && find_seq (self, key + key_at, &merged.first, &failure) &&
      find_seq (self, _store_column_text (stmt, 1), &merged.last, &failure))
    g_array_append_val (all, merged);
  else if (failure == NULL && sqlite3_errcode (self->db) == SQLITE_NOMEM)
    _store_set_sql_error (self, SQLITE_NOMEM, &failure);
  if (failure == NULL)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&failure));
  return FALSE;
}

GArray *
store_load_merged (Store *self, GError **error)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (StoreMerged));
  g_autoptr (Stmt) stmt = NULL;
  char device[37];
  g_autofree char *begins = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL, NULL);
  core_id_to_text (self->device, device);
  begins = g_strconcat (MERGED_KEY, device, " ", NULL);
  stmt = _store_prepare (self,
                         "SELECT m.key, m.value FROM meta AS m WHERE m.key BETWEEN ?1 AND ?1 || '~'",
                         error);
  if (stmt == NULL)
    return NULL;
  if (sqlite3_bind_text (stmt, 1, begins, -1, SQLITE_STATIC) != SQLITE_OK)
    {
      _store_set_sql_error (self, SQLITE_NOMEM, error);
      return NULL;
    }
  while (_store_step (self, stmt, &row, error))
    {
      if (!row)
        return g_steal_pointer (&all);
      if (!add_merged (self, stmt, strlen (begins), all, error))
        return NULL;
    }
  return NULL;
}

static gboolean
write_rows (Merge *self, GError **error)
{
  gboolean ok;

  if (!_store_begin (self->store, error))
    return FALSE;
  /* What came since the photos were compared is compared again. */
  g_clear_pointer (&self->photos, g_array_unref);
  g_clear_pointer (&self->hashes, g_hash_table_unref);
  g_clear_pointer (&self->ours, g_array_unref);
  ok = load_photos (self, error) && walk_rows (self, TRUE, error) && note_merged (self, error);
  return _store_end (self->store, ok, error);
}

static gboolean
is_stranger (const StoreMerge *out)
{
  return out->both == 0 && out->entries > 0;
}

StoreMerge *
store_merge (Store *self, Store *other, StoreMergeFlags flags, GError **error)
{
  g_auto (Merge) merge = { NULL };
  gboolean files = (flags & STORE_MERGE_ROWS_ONLY) == 0;

  g_return_val_if_fail (self != NULL && other != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  /* All is read through before anything is written: most refusals come here. */
  if (!begin (&merge, self, other, error) || !walk_rows (&merge, FALSE, error))
    return NULL;
  merge.out->stranger = (flags & STORE_MERGE_COPY_ONLY) != 0 && is_stranger (merge.out);
  if (!merge.out->stranger && (!walk_files (&merge, files, error) || !write_rows (&merge, error)))
    return NULL;
  return g_steal_pointer (&merge.out);
}
