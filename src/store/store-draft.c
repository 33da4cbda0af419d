/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-draft.c — what is not yet the truth: drafts.
 *
 * Invariant: a draft is kept until it is recorded or thrown away.
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
gboolean
_store_write_one (Store *self, Stmt *stmt, int bind_rc, GError **error)
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
  return _store_write_one (self, stmt, rc, error);
}

gboolean
store_draft_remove (Store *self, const char *key, GError **error)
{
  g_autoptr (Stmt) stmt = NULL;

  g_return_val_if_fail (self != NULL && key != NULL, FALSE);
  stmt = _store_prepare (self, "DELETE FROM draft WHERE key = ?1", error);
  if (stmt == NULL)
    return FALSE;
  return _store_write_one (self, stmt, sqlite3_bind_text (stmt, 1, key, -1, SQLITE_STATIC), error);
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
