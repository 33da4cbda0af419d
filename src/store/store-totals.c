/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-totals.c — how many entries there are, the last of them, and the XOR of all their ids.
 *
 * They are what a collection kept outside of the journal is known by. Summing
 * them up means to walk the index of all ids; so the last sum lies in a row of
 * table snapshot, and each append brings it up to date in its own transaction.
 * Invariant: the row is believed only when its last entry is the last of the
 * journal and the schema is the one under which it was written. Entries cannot
 * be changed or removed unless a trigger goes first, and that changes the schema. */
#include "store/store-private.h"

#include <string.h>

/* ---- summed up ---- */

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
static gboolean
sum_up (Store *self, StoreTotals *out, GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;
  Sum sum;

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

/* ---- kept ---- */

#define ROW "totals"

/* FALSE without error: there is none that can be believed. */
static gboolean
read_kept (Store *self, StoreTotals *out, GError **error)
{
  g_autoptr (Stmt) stmt =
    _store_prepare (self,
                    "SELECT count, last_seq, xor_ids FROM snapshot WHERE key = '" ROW "'"
                    " AND last_seq = (SELECT max(seq) FROM entry)"
                    " AND program = (SELECT schema_version || '' FROM pragma_schema_version)",
                    error);
  gboolean row = FALSE;

  if (stmt == NULL || !_store_step (self, stmt, &row, error) || !row)
    return FALSE;
  out->count = (guint64) sqlite3_column_int64 (stmt, 0);
  out->last_seq = sqlite3_column_int64 (stmt, 1);
  if (_store_column_id (stmt, 2, &out->xor_ids))
    return TRUE;
  _store_set_damage (self, error);
  return FALSE;
}

gboolean
store_totals (Store *self, StoreTotals *out, GError **error)
{
  g_autoptr (GError) local = NULL;

  g_return_val_if_fail (self != NULL && out != NULL, FALSE);
  if (read_kept (self, out, &local))
    return TRUE;
  if (local == NULL)
    return sum_up (self, out, error);
  g_propagate_error (error, g_steal_pointer (&local));
  return FALSE;
}

gboolean
_store_totals_begin (Store *self, StoreTotals *out, GError **error)
{
  g_autoptr (GError) local = NULL;

  if (read_kept (self, out, &local))
    return TRUE;
  memset (out, 0, sizeof *out);
  if (local == NULL)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&local));
  return FALSE;
}

static gboolean
write_row (Store *self, const char *sql, const StoreTotals *totals, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (self, sql, error);
  int rc;

  if (stmt == NULL)
    return FALSE;
  rc = sqlite3_bind_int64 (stmt, 1, (gint64) totals->count);
  rc |= sqlite3_bind_int64 (stmt, 2, totals->last_seq);
  rc |= sqlite3_bind_blob (stmt, 3, totals->xor_ids.b, sizeof totals->xor_ids.b, SQLITE_STATIC);
  if (rc == SQLITE_OK)
    return _store_run (self, stmt, error);
  _store_set_sql_error (self, SQLITE_NOMEM, error);
  return FALSE;
}

gboolean
_store_totals_end (Store *self, const StoreTotals *totals, GError **error)
{
  return totals->count == 0 ||
         write_row (self,
                    "UPDATE snapshot SET count = ?1, last_seq = ?2, xor_ids = ?3"
                    " WHERE key = '" ROW "'",
                    totals, error);
}

gboolean
store_keep_totals (Store *self, const StoreTotals *totals, GError **error)
{
  gint64 last;
  gboolean ok;

  g_return_val_if_fail (self != NULL && totals != NULL, FALSE);
  if (!_store_begin (self, error))
    return FALSE;
  ok = store_last_seq (self, &last, error);
  if (ok && last == totals->last_seq)
    ok = write_row (self,
                    "INSERT OR REPLACE INTO snapshot"
                    " (key, count, last_seq, xor_ids, program, profiles, body)"
                    " SELECT '" ROW "', ?1, ?2, ?3, schema_version, '', x''"
                    " FROM pragma_schema_version",
                    totals, error);
  /* Earlier versions kept whole collections here. */
  ok = ok && _store_exec (self, "DELETE FROM snapshot WHERE key <> '" ROW "'", error);
  return _store_end (self, ok, error);
}
