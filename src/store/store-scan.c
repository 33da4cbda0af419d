/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-scan.c — reading a part of the journal: entry by entry, by place, by id.
 *
 * Invariant: what is handed out is whole; the first damaged row ends the reading
 * with the error that names it. */
#include "store/store-private.h"

#include <string.h>

static void
set_row_error (Store *self, gint64 seq, const StoreRowError *why, GError **error)
{
  if (why->no_memory)
    _store_set_error (error, STORE_ERROR_NO_MEMORY, self->dir);
  else
    g_set_error (error, STORE_ERROR, STORE_ERROR_CORRUPT,
                 "Entry %" G_GINT64_FORMAT " of the journal cannot be read: %s. Copy the "
                 "folder before anything else, then go on with a backup.",
                 seq, why->why);
}

static CoreEntry *
read_entry (Store *self, Stmt *stmt, gint64 *seq, GError **error)
{
  StoreRowError why = { 0 };
  CoreEntry *entry;

  *seq = sqlite3_column_int64 (stmt, 0);
  entry = _store_read_entry (stmt, &why);
  if (entry == NULL)
    set_row_error (self, *seq, &why, error);
  return entry;
}

/* `sql` with the first and the last seq as ?1 and ?2. */
static gboolean
scan_rows (Store *self,
           const char *sql,
           gint64 first_seq,
           gint64 last_seq,
           StoreScan scan,
           gpointer data,
           GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (self, sql, error);
  gboolean row;

  if (stmt == NULL)
    return FALSE;
  sqlite3_bind_int64 (stmt, 1, first_seq);
  sqlite3_bind_int64 (stmt, 2, last_seq);
  while (_store_step (self, stmt, &row, error))
    {
      gint64 seq;
      CoreEntry *entry;

      if (!row)
        return TRUE;
      entry = read_entry (self, stmt, &seq, error);
      if (entry == NULL || !scan (seq, entry, data, error))
        return FALSE;
    }
  return FALSE;
}

static gboolean
scan_range (Store *self,
            gint64 first_seq,
            gint64 last_seq,
            StoreScan scan,
            gpointer data,
            GError **error)
{
  return scan_rows (self,
                    "SELECT " STORE_ENTRY_COLUMNS
                    " FROM entry WHERE seq BETWEEN ?1 AND ?2 ORDER BY seq",
                    first_seq, last_seq, scan, data, error);
}

gboolean
store_scan_kinds (Store *self,
                  gint64 after_seq,
                  const CoreKind *kinds,
                  gsize n_kinds,
                  StoreScan scan,
                  gpointer data,
                  GError **error)
{
  g_autoptr (GString) sql = g_string_new ("SELECT " STORE_ENTRY_COLUMNS
                                          " FROM entry WHERE seq BETWEEN ?1 AND ?2 AND kind IN (");

  g_return_val_if_fail (self != NULL && scan != NULL && n_kinds > 0, FALSE);
  for (gsize i = 0; i < n_kinds; i++)
    g_string_append_printf (sql, "%s'%s'", i > 0 ? ", " : "", core_kind_info (kinds[i])->name);
  g_string_append (sql, ") ORDER BY seq");
  return after_seq == G_MAXINT64 ||
         scan_rows (self, sql->str, after_seq + 1, G_MAXINT64, scan, data, error);
}

gboolean
store_scan_entries (Store *self, gint64 after_seq, StoreScan scan, gpointer data, GError **error)
{
  g_return_val_if_fail (self != NULL && scan != NULL, FALSE);

  return after_seq == G_MAXINT64 || scan_range (self, after_seq + 1, G_MAXINT64, scan, data, error);
}

typedef struct
{
  GPtrArray *entries;
  gint64 last_seq;
} Gathered;

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

static gboolean
gather (gint64 seq, CoreEntry *entry, gpointer data, GError **error)
{
  Gathered *all = data;

  g_ptr_array_add (all->entries, entry);
  all->last_seq = seq;
  return TRUE;
}

GPtrArray *
store_load_entries (Store *self, gint64 after_seq, gint64 *last_seq, GError **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func (free_entry);
  Gathered all = { entries, after_seq };

  g_return_val_if_fail (self != NULL, NULL);
  if (!store_scan_entries (self, after_seq, gather, &all, error))
    return NULL;
  if (last_seq != NULL)
    *last_seq = all.last_seq;
  return g_steal_pointer (&entries);
}

GPtrArray *
store_load_range (Store *self, gint64 first_seq, gint64 last_seq, GError **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func (free_entry);
  Gathered all = { entries, 0 };

  g_return_val_if_fail (self != NULL, NULL);
  if (!scan_range (self, first_seq, last_seq, gather, &all, error))
    return NULL;
  return g_steal_pointer (&entries);
}

gboolean
store_last_seq (Store *self, gint64 *seq, GError **error)
{
  return _store_get_int (self, "SELECT max(seq) FROM entry", seq, error);
}

gboolean
store_begin_reading (Store *self, GError **error)
{
  return _store_exec (self, "BEGIN", error);
}

gboolean
store_end_reading (Store *self, GError **error)
{
  return _store_exec (self, "COMMIT", error);
}

/* One of the statements that are kept ready; NULL: it could not be made. */
static Stmt *
ready (Store *self, Stmt **kept, const char *sql, GError **error)
{
  if (*kept == NULL)
    *kept = _store_prepare (self, sql, error);
  return *kept;
}

static gboolean
load_by_seq (Store *self, const gint64 *seqs, gsize n, GPtrArray *entries, GError **error)
{
  Stmt *stmt =
    ready (self, &self->by_seq, "SELECT " STORE_ENTRY_COLUMNS " FROM entry WHERE seq = ?1", error);

  for (gsize i = 0; stmt != NULL && i < n; i++)
    {
      CoreEntry *entry = NULL;
      gboolean row = FALSE;
      gint64 seq;

      sqlite3_bind_int64 (stmt, 1, seqs[i]);
      if (_store_step (self, stmt, &row, error) && row)
        entry = read_entry (self, stmt, &seq, error);
      else if (error == NULL || *error == NULL)
        _store_set_damage (self, error);
      sqlite3_reset (stmt);
      if (entry == NULL)
        return FALSE;
      g_ptr_array_add (entries, entry);
    }
  return stmt != NULL;
}

/* One transaction: else the file would be locked and unlocked for each of them. */
GPtrArray *
store_load_by_seq (Store *self, const gint64 *seqs, gsize n, GError **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_full ((guint) n, free_entry);
  gboolean alone, ok;

  g_return_val_if_fail (self != NULL && (seqs != NULL || n == 0), NULL);
  alone = sqlite3_get_autocommit (self->db) != 0;
  if (alone && !store_begin_reading (self, error))
    return NULL;
  ok = load_by_seq (self, seqs, n, entries, error);
  if (alone)
    ok = store_end_reading (self, ok ? error : NULL) && ok;
  return ok ? g_steal_pointer (&entries) : NULL;
}

gboolean
store_find_entry (Store *self, CoreId id, gint64 *seq, CoreEntry **out, GError **error)
{
  Stmt *stmt;
  gboolean row = FALSE, ok;

  g_return_val_if_fail (self != NULL && seq != NULL && out != NULL, FALSE);
  *out = NULL;
  stmt =
    ready (self, &self->by_id, "SELECT " STORE_ENTRY_COLUMNS " FROM entry WHERE id = ?1", error);
  if (stmt == NULL)
    return FALSE;
  ok = _store_bind_id (stmt, 1, id) == SQLITE_OK;
  if (!ok)
    _store_set_sql_error (self, SQLITE_NOMEM, error);
  ok = ok && _store_step (self, stmt, &row, error);
  if (ok && row)
    {
      *out = read_entry (self, stmt, seq, error);
      ok = *out != NULL;
    }
  sqlite3_reset (stmt);
  return ok;
}

void
_store_drop_ready (Store *self)
{
  g_clear_pointer (&self->by_seq, sqlite3_finalize);
  g_clear_pointer (&self->by_id, sqlite3_finalize);
}
