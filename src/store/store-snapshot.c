/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-snapshot.c — what was computed from the journal and may be thrown away.
 *
 * Invariant: a snapshot is used only when every part of its key is equal: how
 * many entries, the last of them, the XOR of all their ids, the program and the
 * profiles. What lies inside is the caller's to check. */
#include "store/store-private.h"

#include <string.h>

#define SNAPSHOT_PUT                                                                               \
  "INSERT OR REPLACE INTO snapshot (key, count, last_seq, xor_ids, program, profiles, body)"       \
  " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"

/* ---- totals ---- */

typedef struct
{
  guint64 xor [2];
  guint64 count;
  guint64 damaged;
} Sum;

static void
sum_step (sqlite3_context *context, int n, sqlite3_value **values)
{
  Sum *sum = sqlite3_aggregate_context (context, sizeof *sum);
  const void *id = sqlite3_value_blob (values[0]);
  guint64 halves[2];

  if (sum == NULL)
    return;
  sum->count++;
  if (id == NULL || sqlite3_value_bytes (values[0]) != (int) sizeof halves)
    {
      sum->damaged++;
      return;
    }
  memcpy (halves, id, sizeof halves);
  sum->xor [0] ^= halves[0];
  sum->xor [1] ^= halves[1];
}

static void
sum_final (sqlite3_context *context)
{
  static const Sum none;
  const Sum *sum = sqlite3_aggregate_context (context, 0);

  sqlite3_result_blob (context, sum != NULL ? sum : &none, sizeof *sum, SQLITE_TRANSIENT);
}

gboolean
_store_add_functions (Store *self, GError **error)
{
  int rc = sqlite3_create_function (self->db, "sum_of_ids", 1,
                                    SQLITE_UTF8 | SQLITE_DIRECTONLY | SQLITE_DETERMINISTIC, NULL,
                                    NULL, sum_step, sum_final);

  if (rc != SQLITE_OK)
    _store_set_sql_error (self, rc, error);
  return rc == SQLITE_OK;
}

void
store_totals_add (StoreTotals *totals, CoreId id, gint64 seq)
{
  for (gsize i = 0; i < sizeof id.b; i++)
    totals->xor_ids.b[i] ^= id.b[i];
  totals->count++;
  totals->last_seq = MAX (totals->last_seq, seq);
}

/* The ids alone: SQLite walks their index and leaves the entries where they are. */
gboolean
store_totals (Store *self, StoreTotals *out, GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;
  Sum sum;

  g_return_val_if_fail (self != NULL && out != NULL, FALSE);
  memset (out, 0, sizeof *out);
  stmt = _store_prepare (self, "SELECT sum_of_ids(id) FROM entry", error);
  if (stmt == NULL || !_store_step (self, stmt, &row, error))
    return FALSE;
  if (!row || sqlite3_column_bytes (stmt, 0) != (int) sizeof sum)
    {
      _store_set_damage (self, error);
      return FALSE;
    }
  memcpy (&sum, sqlite3_column_blob (stmt, 0), sizeof sum);
  if (sum.damaged > 0)
    {
      _store_set_damage (self, error);
      return FALSE;
    }
  out->count = sum.count;
  memcpy (out->xor_ids.b, sum.xor, sizeof sum.xor);
  return _store_get_int (self, "SELECT max(seq) FROM entry", &out->last_seq, error);
}

/* ---- snapshots ---- */

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

/* The same, and the body as ?7. */
static int
bind_snapshot (Stmt *stmt,
               const char *key,
               const StoreTotals *totals,
               const char *program,
               const char *profiles,
               GBytes *body)
{
  gsize size;
  gconstpointer data = g_bytes_get_data (body, &size);
  int rc = bind_snapshot_key (stmt, key, totals, program, profiles);

  return rc | sqlite3_bind_blob64 (stmt, 7, data != NULL ? data : "", size, SQLITE_STATIC);
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

  g_return_val_if_fail (self != NULL && key != NULL && totals != NULL && body != NULL, FALSE);
  stmt = _store_prepare (self, SNAPSHOT_PUT, error);
  if (stmt == NULL)
    return FALSE;
  return _store_write_one (self, stmt, bind_snapshot (stmt, key, totals, program, profiles, body),
                           error);
}

gboolean
store_snapshot_use (Store *self,
                    const char *key,
                    const StoreTotals *totals,
                    const char *program,
                    const char *profiles,
                    StoreUseBody use,
                    gpointer data,
                    GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL && key != NULL && totals != NULL && use != NULL, FALSE);
  stmt = _store_prepare (self,
                         "SELECT body FROM snapshot WHERE key = ?1 AND count = ?2 AND last_seq = ?3"
                         " AND xor_ids = ?4 AND program = ?5 AND profiles = ?6",
                         error);
  if (stmt == NULL)
    return FALSE;
  if (bind_snapshot_key (stmt, key, totals, program, profiles) != SQLITE_OK)
    {
      _store_set_sql_error (self, SQLITE_NOMEM, error);
      return FALSE;
    }
  if (!_store_step (self, stmt, &row, error) || !row)
    return FALSE;
  use (sqlite3_column_blob (stmt, 0), (gsize) sqlite3_column_bytes (stmt, 0), data);
  return TRUE;
}

static void
copy_body (gconstpointer body, gsize size, gpointer data)
{
  GBytes **out = data;

  *out = g_bytes_new (body, size);
}

GBytes *
store_snapshot_get (Store *self,
                    const char *key,
                    const StoreTotals *totals,
                    const char *program,
                    const char *profiles,
                    GError **error)
{
  GBytes *out = NULL;

  return store_snapshot_use (self, key, totals, program, profiles, copy_body, &out, error) ? out
                                                                                         : NULL;
}

static gboolean
put_part (Store *self,
          Stmt *stmt,
          const char *key,
          const StoreTotals *totals,
          const char *program,
          const char *profiles,
          GBytes *body,
          GError **error)
{
  if (bind_snapshot (stmt, key, totals, program, profiles, body) != SQLITE_OK)
    {
      _store_set_sql_error (self, SQLITE_NOMEM, error);
      return FALSE;
    }
  return _store_run (self, stmt, error);
}

gboolean
store_snapshot_write (Store *self,
                      const char *key,
                      const StoreTotals *totals,
                      const char *program,
                      const char *profiles,
                      StoreNextPart next,
                      gpointer data,
                      GError **error)
{
  g_autoptr (Stmt) clear = NULL;
  g_autoptr (Stmt) put = NULL;
  GBytes *body;
  guint index = 0;
  gboolean ok;

  g_return_val_if_fail (self != NULL && key != NULL && totals != NULL && next != NULL, FALSE);
  clear = _store_prepare (self, "DELETE FROM snapshot WHERE key GLOB ?1 || '/*'", error);
  put = clear == NULL ? NULL : _store_prepare (self, SNAPSHOT_PUT, error);
  if (put == NULL || !_store_begin (self, error))
    return FALSE;
  sqlite3_bind_text (clear, 1, key, -1, SQLITE_STATIC);
  ok = _store_run (self, clear, error);
  while (ok && (body = next (&index, data)) != NULL)
    {
      g_autofree char *name = g_strdup_printf ("%s/%u", key, index);

      ok = put_part (self, put, name, totals, program, profiles, body, error);
      g_bytes_unref (body);
    }
  return _store_end (self, ok, error);
}

gboolean
store_snapshot_find (Store *self,
                     const char *key,
                     const char *program,
                     const char *profiles,
                     StoreTotals *out,
                     GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  g_autofree char *first = NULL;
  gboolean row = FALSE;

  g_return_val_if_fail (self != NULL && key != NULL && out != NULL, FALSE);
  memset (out, 0, sizeof *out);
  stmt = _store_prepare (self,
                         "SELECT count, last_seq, xor_ids FROM snapshot"
                         " WHERE key = ?1 AND program = ?2 AND profiles = ?3",
                         error);
  if (stmt == NULL)
    return FALSE;
  first = g_strconcat (key, "/0", NULL);
  sqlite3_bind_text (stmt, 1, first, -1, SQLITE_STATIC);
  sqlite3_bind_text (stmt, 2, program, -1, SQLITE_STATIC);
  sqlite3_bind_text (stmt, 3, profiles, -1, SQLITE_STATIC);
  if (!_store_step (self, stmt, &row, error) || !row)
    return FALSE;
  out->count = (guint64) sqlite3_column_int64 (stmt, 0);
  out->last_seq = sqlite3_column_int64 (stmt, 1);
  return _store_column_id (stmt, 2, &out->xor_ids);
}
