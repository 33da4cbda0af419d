/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-draft.c — what is not, or not any more, the truth: drafts and snapshots.
 *
 * Invariant: a draft is kept until it is recorded or thrown away; a snapshot is
 * used only when every part of its key is equal.
 */
#include "store/store-private.h"

#include <string.h>

void
store_draft_free (StoreDraft *draft)
{
  if (draft == NULL)
    return;
  g_free (draft->key);
  g_free (draft->body);
  g_free (draft);
}

static void
free_draft (gpointer draft)
{
  store_draft_free (draft);
}

/* Runs one bound statement in a transaction of its own; takes bind_rc, the OR
 * of what the binds returned. */
static gboolean
write_one (Store *self, Stmt *stmt, int bind_rc, GError **error)
{
  gboolean ok;

  if (bind_rc != SQLITE_OK)
    {
      _store_set_sql_error (self, SQLITE_NOMEM, error);
      return FALSE;
    }
  if (!_store_begin (self, error))
    return FALSE;
  ok = _store_run (self, stmt, error);
  return _store_end (self, ok, error);
}

gboolean
store_draft_put (Store *self, const char *key, const char *body, gint64 now_ms, GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  int rc;

  g_return_val_if_fail (self != NULL && key != NULL && body != NULL, FALSE);
  stmt = _store_prepare (self,
                         "INSERT INTO draft (key, written_ms, body) VALUES (?1, ?2, ?3)"
                         " ON CONFLICT (key) DO UPDATE SET written_ms = ?2, body = ?3",
                         error);
  if (stmt == NULL)
    return FALSE;
  rc = sqlite3_bind_text (stmt, 1, key, -1, SQLITE_STATIC);
  rc |= sqlite3_bind_int64 (stmt, 2, now_ms);
  rc |= sqlite3_bind_text (stmt, 3, body, -1, SQLITE_STATIC);
  return write_one (self, stmt, rc, error);
}

gboolean
store_draft_remove (Store *self, const char *key, GError **error)
{
  g_autoptr (Stmt) stmt = NULL;

  g_return_val_if_fail (self != NULL && key != NULL, FALSE);
  stmt = _store_prepare (self, "DELETE FROM draft WHERE key = ?1", error);
  if (stmt == NULL)
    return FALSE;
  return write_one (self, stmt, sqlite3_bind_text (stmt, 1, key, -1, SQLITE_STATIC), error);
}

GPtrArray *
store_load_drafts (Store *self, GError **error)
{
  g_autoptr (GPtrArray) drafts = g_ptr_array_new_with_free_func (free_draft);
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL, NULL);
  stmt =
    _store_prepare (self, "SELECT key, written_ms, body FROM draft ORDER BY written_ms DESC, key",
                    error);
  if (stmt == NULL)
    return NULL;
  while (_store_step (self, stmt, &row, error))
    {
      const char *key, *body;
      StoreDraft *draft;

      if (!row)
        return g_steal_pointer (&drafts);
      key = _store_column_text (stmt, 0);
      body = _store_column_text (stmt, 2);
      if (key == NULL || body == NULL)
        {
          _store_set_damage (self, error);
          return NULL;
        }
      draft = g_new0 (StoreDraft, 1);
      draft->key = g_strdup (key);
      draft->body = g_strdup (body);
      draft->written_ms = sqlite3_column_int64 (stmt, 1);
      g_ptr_array_add (drafts, draft);
    }
  return NULL;
}

void
store_totals_add (StoreTotals *totals, CoreId id, gint64 seq)
{
  for (gsize i = 0; i < sizeof id.b; i++)
    totals->xor_ids.b[i] ^= id.b[i];
  totals->count++;
  totals->last_seq = MAX (totals->last_seq, seq);
}

gboolean
store_totals (Store *self, StoreTotals *out, GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL && out != NULL, FALSE);
  memset (out, 0, sizeof *out);
  stmt = _store_prepare (self, "SELECT seq, id FROM entry", error);
  if (stmt == NULL)
    return FALSE;
  while (_store_step (self, stmt, &row, error))
    {
      CoreId id;

      if (!row)
        return TRUE;
      if (!_store_column_id (stmt, 1, &id))
        {
          _store_set_damage (self, error);
          return FALSE;
        }
      store_totals_add (out, id, sqlite3_column_int64 (stmt, 0));
    }
  return FALSE;
}

/* Parameters ?1 to ?6, the same in both statements. */
static int
bind_snapshot_key (Stmt *stmt,
                   const char *key,
                   const StoreTotals *totals,
                   const char *program,
                   const char *profiles)
{
  int rc = sqlite3_bind_text (stmt, 1, key, -1, SQLITE_STATIC);

  rc |= sqlite3_bind_int64 (stmt, 2, (gint64) totals->count);
  rc |= sqlite3_bind_int64 (stmt, 3, totals->last_seq);
  rc |= sqlite3_bind_blob (stmt, 4, totals->xor_ids.b, sizeof totals->xor_ids.b, SQLITE_STATIC);
  rc |= sqlite3_bind_text (stmt, 5, program, -1, SQLITE_STATIC);
  rc |= sqlite3_bind_text (stmt, 6, profiles, -1, SQLITE_STATIC);
  return rc;
}

gboolean
store_snapshot_put (Store *self,
                    const char *key,
                    const StoreTotals *totals,
                    const char *program,
                    const char *profiles,
                    GBytes *body,
                    GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  gconstpointer data;
  gsize size;
  int rc;

  g_return_val_if_fail (self != NULL && key != NULL && totals != NULL && body != NULL, FALSE);
  stmt = _store_prepare (self,
                         "INSERT OR REPLACE INTO snapshot"
                         " (key, count, last_seq, xor_ids, program, profiles, body)"
                         " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
                         error);
  if (stmt == NULL)
    return FALSE;
  data = g_bytes_get_data (body, &size);
  rc = bind_snapshot_key (stmt, key, totals, program, profiles);
  rc |= sqlite3_bind_blob64 (stmt, 7, data != NULL ? data : "", size, SQLITE_STATIC);
  return write_one (self, stmt, rc, error);
}

GBytes *
store_snapshot_get (Store *self,
                    const char *key,
                    const StoreTotals *totals,
                    const char *program,
                    const char *profiles,
                    GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL && key != NULL && totals != NULL, NULL);
  stmt = _store_prepare (self,
                         "SELECT body FROM snapshot WHERE key = ?1 AND count = ?2 AND last_seq = ?3"
                         " AND xor_ids = ?4 AND program = ?5 AND profiles = ?6",
                         error);
  if (stmt == NULL)
    return NULL;
  if (bind_snapshot_key (stmt, key, totals, program, profiles) != SQLITE_OK)
    {
      _store_set_sql_error (self, SQLITE_NOMEM, error);
      return NULL;
    }
  if (!_store_step (self, stmt, &row, error) || !row)
    return NULL;
  return g_bytes_new (sqlite3_column_blob (stmt, 0), (gsize) sqlite3_column_bytes (stmt, 0));
}
