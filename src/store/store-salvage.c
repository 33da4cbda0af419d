/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-salvage.c — a new journal from what can still be read of a damaged one.
 *
 * Entries are never changed, so every sound row of one, wherever it lies, is the
 * truth: rows are gathered from all pages, kept once by their id, checked as
 * when loading, and written in their old order. How many are lost is told by the
 * gaps in that order, by the index of ids and by the pages above the rows, whichever
 * knows most; where the end of the file is missing that is the least.
 */
#include "store/store-private.h"

#include <string.h>

#include "store/store-pages.h"

#define ENTRY_COLUMNS 18 /* of STORE_ENTRY_COLUMNS */
#define PHOTO_COLUMNS 9

/* What was read, in a database of its own that lives in a temporary file. */
typedef struct
{
  Store *heap;
  Stmt *entry, *id, *subject, *photo;
  GError *error;
} Heap;

/* `rowid` orders and is not the number of the page's row: that is `seq`. */
static const char heap_sql[] =
  "CREATE TABLE entry (seq, id UNIQUE, subject, kind, day, earliest, minute, written_ms, device,"
  " round, names, bulk, code, n, sd, ref, text, more);"
  "CREATE TABLE known (id PRIMARY KEY) WITHOUT ROWID;"
  "CREATE TABLE subject (id PRIMARY KEY, kind) WITHOUT ROWID;"
  "CREATE TABLE photo (id PRIMARY KEY, hash UNIQUE, format, width, height, orientation, bytes,"
  " taken, taken_minute) WITHOUT ROWID;"
  "BEGIN";

static gboolean
heap_open (Heap *self, GError **error)
{
  int rc;

  self->heap = g_new0 (Store, 1);
  self->heap->dir = g_strdup ("salvage");
  self->heap->lock_fd = -1;
  rc = sqlite3_open_v2 ("", &self->heap->db,
                        SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_FULLMUTEX, NULL);
  if (rc != SQLITE_OK)
    {
      _store_set_sql_error (self->heap, rc, error);
      return FALSE;
    }
  if (!_store_exec (self->heap, heap_sql, error))
    return FALSE;
  self->entry = _store_prepare (
    self->heap,
    "INSERT OR IGNORE INTO entry VALUES (?1,?2,?3,?4,?5,?6,?7,?8,?9,?10,?11,?12,?13,?14,?15,?16,"
    "?17,?18)",
    error);
  self->id = self->entry != NULL
               ? _store_prepare (self->heap, "INSERT OR IGNORE INTO known VALUES (?1)", error)
               : NULL;
  self->subject = self->id != NULL ? _store_prepare (self->heap, "INSERT OR IGNORE INTO subject VALUES (?1,?2)", error)
                                   : NULL;
  self->photo =
    self->subject != NULL
      ? _store_prepare (self->heap, "INSERT OR IGNORE INTO photo VALUES (?1,?2,?3,?4,?5,?6,?7,?8,?9)",
                        error)
      : NULL;
  return self->photo != NULL;
}

static void
heap_clear (Heap *self)
{
  sqlite3_finalize (self->entry);
  sqlite3_finalize (self->id);
  sqlite3_finalize (self->subject);
  sqlite3_finalize (self->photo);
  store_close (self->heap);
  g_clear_error (&self->error);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Heap, heap_clear)

/* ---- gathering ---- */

static int
bind_value (Stmt *stmt, int column, const PageValue *value)
{
  switch (value->type)
    {
    case PAGE_VALUE_INT:
      return sqlite3_bind_int64 (stmt, column, value->i);
    case PAGE_VALUE_REAL:
      return sqlite3_bind_double (stmt, column, value->r);
    case PAGE_VALUE_TEXT:
      return sqlite3_bind_text (stmt, column, (const char *) value->bytes, (int) value->n,
                                SQLITE_STATIC);
    case PAGE_VALUE_BLOB:
      return sqlite3_bind_blob (stmt, column, value->bytes, (int) value->n, SQLITE_STATIC);
    case PAGE_VALUE_NULL:
    default:
      return sqlite3_bind_null (stmt, column);
    }
}

static gboolean
keep_row (Heap *self, Stmt *stmt, const PageRow *row)
{
  for (int i = 0; i < row->n; i++)
    {
      int rc = bind_value (stmt, i + 1, &row->values[i]);

      if (rc != SQLITE_OK)
        {
          _store_set_sql_error (self->heap, rc, &self->error);
          return FALSE;
        }
    }
  return _store_run (self->heap, stmt, &self->error);
}

static gboolean
is_id (const PageValue *value)
{
  return value->type == PAGE_VALUE_BLOB && value->n == 16;
}

static gboolean
is_text (const PageValue *value)
{
  return value->type == PAGE_VALUE_TEXT;
}

/* An entry's first column is the number of its row, which is not stored with it. A real number
 * that is whole is stored as an integer. */
static gboolean
keep_entry (Heap *self, const PageRow *row)
{
  PageRow whole = *row;

  whole.values[0] = (PageValue){ .type = PAGE_VALUE_INT, .i = row->rowid };
  return keep_row (self, self->entry, &whole);
}

/* By their form: no two tables of the schema have the same. */
static gboolean
row_cb (const PageRow *row, gpointer data)
{
  Heap *self = data;
  const PageValue *values = row->values;

  if (row->has_rowid)
    return row->n != ENTRY_COLUMNS || !is_id (&values[1]) || !is_id (&values[2]) ||
           !is_text (&values[3]) || keep_entry (self, row);
  if (row->n == 2 && is_id (&values[0]) && values[1].type == PAGE_VALUE_INT)
    {
      PageRow first = { .n = 1, .values = { values[0] } };

      return keep_row (self, self->id, &first);
    }
  if (row->n == 2 && is_id (&values[0]) && is_text (&values[1]))
    return keep_row (self, self->subject, row);
  if (row->n == PHOTO_COLUMNS && is_id (&values[0]) && is_text (&values[1]))
    return keep_row (self, self->photo, row);
  return TRUE;
}

/* ---- writing ---- */

/* What the entry is about is one of these kinds; animals are the most common. */
static CoreSubjectKind
guess_kind (unsigned possible)
{
  static const CoreSubjectKind order[] = { CORE_SUBJECT_ANIMAL, CORE_SUBJECT_PLACE,
                                           CORE_SUBJECT_LOT,    CORE_SUBJECT_EGGCASE,
                                           CORE_SUBJECT_CULTURE, CORE_SUBJECT_JOURNAL };

  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    if ((possible & CORE_FOR (order[i])) != 0)
      return order[i];
  return CORE_SUBJECT_ANIMAL;
}

typedef struct
{
  Store *target;
  Stmt *subject, *entry, *photo;
  GHashTable *subjects; /* CoreId, those written */
  GHashTable *possible; /* CoreId → bits of the kinds that all its entries allow */
  StoreSalvage *out;
} Writing;

static guint
id_hash (gconstpointer id)
{
  guint hash;

  memcpy (&hash, (const guint8 *) id + 12, sizeof hash); /* the random tail */
  return hash;
}

static gboolean
id_equal (gconstpointer a, gconstpointer b)
{
  return memcmp (a, b, sizeof (CoreId)) == 0;
}

static gboolean
put_subject (Writing *self, CoreId id, const char *kind, GError **error)
{
  if (_store_bind_id (self->subject, 1, id) != SQLITE_OK ||
      sqlite3_bind_text (self->subject, 2, kind, -1, SQLITE_STATIC) != SQLITE_OK)
    {
      _store_set_sql_error (self->target, SQLITE_NOMEM, error);
      return FALSE;
    }
  if (!_store_run (self->target, self->subject, error))
    return FALSE;
  g_hash_table_add (self->subjects, g_memdup2 (&id, sizeof id));
  self->out->subjects++;
  return TRUE;
}

/* What every row of `sql` is handed to; FALSE with an error. A row that is not sound is passed
 * over. */
typedef gboolean (*HeapRow) (Writing *self, Stmt *row, GError **error);

/* A column that could not be read for want of memory looks like a damaged one: it is not lost. */
static gboolean
had_memory (Store *heap, GError **error)
{
  if (sqlite3_errcode (heap->db) != SQLITE_NOMEM)
    return TRUE;
  _store_set_sql_error (heap, SQLITE_NOMEM, error);
  return FALSE;
}

static gboolean
each_row (Heap *heap, const char *sql, Writing *writing, HeapRow func, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (heap->heap, sql, error);
  gboolean row = TRUE;

  while (stmt != NULL && row)
    if (!_store_step (heap->heap, stmt, &row, error) ||
        (row && (!func (writing, stmt, error) || !had_memory (heap->heap, error))))
      return FALSE;
  return stmt != NULL;
}

static gboolean
subject_row (Writing *self, Stmt *row, GError **error)
{
  const char *name = _store_column_text (row, 1);
  CoreId id;

  if (!_store_column_id (row, 0, &id) || core_id_is_none (id) ||
      _store_subject_from_name (name) == CORE_SUBJECT_NONE)
    return TRUE;
  return put_subject (self, id, name, error);
}

/* Which subjects are named by sound entries and have no row? What could each be? */
static gboolean
note_subject (Writing *self, Stmt *row, GError **error)
{
  StoreRowError why = { 0 };
  CoreEntry *entry = _store_read_entry (row, &why);
  gpointer known;

  if (entry != NULL && !g_hash_table_contains (self->subjects, &entry->subject))
    {
      unsigned bits = core_kind_info (entry->kind)->subjects;

      known = g_hash_table_lookup (self->possible, &entry->subject);
      if (known != NULL)
        bits &= GPOINTER_TO_UINT (known);
      g_hash_table_replace (self->possible, g_memdup2 (&entry->subject, sizeof (CoreId)),
                            GUINT_TO_POINTER (bits != 0 ? bits : GPOINTER_TO_UINT (known)));
    }
  core_entry_free (entry);
  return TRUE;
}

static gboolean
guess_subjects (Writing *self, GError **error)
{
  GHashTableIter iter;
  gpointer id, bits;

  g_hash_table_iter_init (&iter, self->possible);
  while (g_hash_table_iter_next (&iter, &id, &bits))
    {
      CoreSubjectKind kind = guess_kind (GPOINTER_TO_UINT (bits));

      if (!put_subject (self, *(CoreId *) id, _store_subject_name (kind), error))
        return FALSE;
      self->out->subjects_guessed++;
    }
  return TRUE;
}

/* One that says more than this program reads comes as it stands. What the table does not take was
 * never in a journal. */
static gboolean
put_as_it_is (Writing *self, Stmt *row, GError **error)
{
  int rc = SQLITE_OK;

  sqlite3_clear_bindings (self->entry);
  for (int i = 1; i < ENTRY_COLUMNS; i++)
    rc |= sqlite3_bind_value (self->entry, i, sqlite3_column_value (row, i));
  if (rc == SQLITE_OK)
    rc = sqlite3_step (self->entry);
  sqlite3_reset (self->entry);
  self->out->entries += rc == SQLITE_DONE;
  if (rc == SQLITE_DONE || (rc & 0xff) == SQLITE_CONSTRAINT)
    return TRUE;
  _store_set_sql_error (self->target, rc, error);
  return FALSE;
}

static gboolean
entry_row (Writing *self, Stmt *row, GError **error)
{
  StoreRowError why = { 0 };
  CoreEntry *entry = _store_read_entry (row, &why);
  gboolean ok = TRUE;

  if (entry != NULL && entry->beyond != NULL)
    ok = put_as_it_is (self, row, error);
  else if (entry != NULL && _store_bind_entry (self->entry, entry, &why))
    {
      ok = _store_run (self->target, self->entry, error);
      self->out->entries += ok;
    }
  else if (why.no_memory)
    {
      _store_set_sql_error (self->target, SQLITE_NOMEM, error);
      ok = FALSE;
    }
  core_entry_free (entry);
  return ok;
}

/* The table's own checks tell a sound row. */
static gboolean
photo_row (Writing *self, Stmt *row, GError **error)
{
  const char *hash = _store_column_text (row, 1);
  const char *format = _store_column_text (row, 2);
  int rc = SQLITE_OK;

  if (hash == NULL || !_store_hash_is_plain (hash) || format == NULL ||
      !_store_format_is_plain (format))
    return TRUE;
  for (int i = 0; i < PHOTO_COLUMNS; i++)
    rc |= sqlite3_bind_value (self->photo, i + 1, sqlite3_column_value (row, i));
  if (rc == SQLITE_OK)
    rc = sqlite3_step (self->photo);
  sqlite3_reset (self->photo);
  self->out->photos += rc == SQLITE_DONE;
  if (rc == SQLITE_DONE || (rc & 0xff) == SQLITE_CONSTRAINT)
    return TRUE;
  _store_set_sql_error (self->target, rc, error);
  return FALSE;
}

/* No entry with its ids takes less of a page than this. */
#define LEAST_ROW 60

/* A damaged number of a row may be any: one far beyond all that was found, or that the missing
 * pages cannot hold, is not believed. */
static gboolean
count_lost (Heap *heap, const PageLoss *loss, StoreSalvage *out, GError **error)
{
  gint64 last, known;
  gint64 room = (gint64) out->entries + (gint64) (loss->pages + 1) * (65536 / LEAST_ROW);

  if (!_store_get_int (heap->heap,
                       "SELECT max(seq) FROM entry WHERE seq <= 1000 + 4 * (SELECT count(*) FROM"
                       " entry) + (SELECT count(*) FROM known)",
                       &last, error) ||
      !_store_get_int (heap->heap, "SELECT count(*) FROM known", &known, error))
    return FALSE;
  last = MAX (last, known);
  if (loss->last_entry <= room)
    last = MAX (last, loss->last_entry);
  out->pages_missing = loss->pages;
  out->entries_lost = last > (gint64) out->entries ? (guint64) last - out->entries : 0;
  return TRUE;
}

#define ALL_ENTRIES "SELECT " STORE_ENTRY_COLUMNS " FROM entry ORDER BY seq, id"

static gboolean
write_rows (Heap *heap, Writing *writing, GError **error)
{
  return each_row (heap, "SELECT id, kind FROM subject ORDER BY id", writing, subject_row, error) &&
         each_row (heap, ALL_ENTRIES, writing, note_subject, error) &&
         guess_subjects (writing, error) &&
         each_row (heap, ALL_ENTRIES, writing, entry_row, error) &&
         each_row (heap, "SELECT * FROM photo ORDER BY id", writing, photo_row, error);
}

static gboolean
write_all (Heap *heap, Store *target, StoreSalvage *out, GError **error)
{
  g_autoptr (GHashTable) subjects = g_hash_table_new_full (id_hash, id_equal, g_free, NULL);
  g_autoptr (GHashTable) possible = g_hash_table_new_full (id_hash, id_equal, g_free, NULL);
  g_autoptr (Stmt) subject =
    _store_prepare (target, "INSERT INTO subject (id, kind) VALUES (?1, ?2)", error);
  g_autoptr (Stmt) entry =
    subject == NULL ? NULL
                    : _store_prepare (target,
                                      "INSERT INTO entry (id, subject, kind, day, earliest, minute,"
                                      " written_ms, device, round, names, bulk, code, n, sd, ref,"
                                      " text, more) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9,"
                                      " ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)",
                                      error);
  g_autoptr (Stmt) photo =
    entry == NULL
      ? NULL
      : _store_prepare (target, "INSERT INTO photo VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
                        error);
  Writing writing = { target, subject, entry, photo, subjects, possible, out };

  if (photo == NULL || !_store_begin (target, error))
    return FALSE;
  return _store_end (target, write_rows (heap, &writing, error), error);
}

/* A rollback journal that was cut off is applied by SQLite, on the copy; where it cannot, the
 * pages are read as they lie. */
static void
settle_copy (Store *self)
{
  sqlite3 *db = NULL;

  if (sqlite3_open_v2 (self->db_path, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK)
    {
      sqlite3_db_config (db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
      sqlite3_exec (db, "SELECT count(*) FROM sqlite_schema", NULL, NULL, NULL);
    }
  sqlite3_close_v2 (db);
}

gboolean
store_salvage (const char *dir, const char *target_dir, StoreSalvage *out, GError **error)
{
  g_autoptr (Store) damaged = NULL;
  g_autoptr (Store) target = NULL;
  g_auto (Heap) heap = { NULL };
  PageLoss loss = { 0, 0 };

  g_return_val_if_fail (dir != NULL && target_dir != NULL && out != NULL, FALSE);
  memset (out, 0, sizeof *out);
  damaged = _store_new_for_copy (dir);
  if (!_store_make_private_copy (damaged, error) || !heap_open (&heap, error))
    return FALSE;
  settle_copy (damaged);
  if (!_store_pages_walk (damaged->db_path, row_cb, &heap, &loss))
    {
      if (heap.error != NULL)
        g_propagate_error (error, g_steal_pointer (&heap.error));
      else
        _store_set_error (error, STORE_ERROR_CORRUPT, dir);
      return FALSE;
    }
  target = store_open (target_dir, STORE_CREATE, error);
  if (target == NULL || !write_all (&heap, target, out, error) ||
      !count_lost (&heap, &loss, out, error))
    return FALSE;
  if (out->entries > 0)
    return TRUE;
  _store_set_error (error, STORE_ERROR_CORRUPT, dir);
  return FALSE;
}
