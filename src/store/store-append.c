/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-append.c — ids, and the one way in which anything enters a journal.
 *
 * Invariant: ids ascend within a journal, whatever the clock does, and a batch
 * is in the journal whole or not at all.
 */
#include "store/store-private.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#define ID_TIME_MAX G_GINT64_CONSTANT (253402300799999) /* 9999-12-31T23:59:59.999 */
#define CENTURY_MS G_GINT64_CONSTANT (3155760000000)

/* 48 bits of time and 12 of counter: the part of a UUIDv7 that orders it (RFC
 * 9562, 6.2 method 1, the counter seeded from the random bytes). */
static guint64
id_front (CoreId id)
{
  guint64 front = 0;

  for (int i = 0; i < 6; i++)
    front = front << 8 | id.b[i];
  return front << 12 | (guint64) (id.b[6] & 0x0f) << 8 | id.b[7];
}

gint64
_store_id_ms (CoreId id)
{
  return (gint64) (id_front (id) >> 12);
}

static CoreId
id_build (guint64 front, const guint8 *tail)
{
  CoreId id;

  for (int i = 0; i < 6; i++)
    id.b[i] = (guint8) (front >> (12 + 8 * (5 - i)));
  id.b[6] = (guint8) (0x70 | ((front >> 8) & 0x0f));
  id.b[7] = (guint8) front;
  memcpy (id.b + 8, tail, 8);
  id.b[8] = (guint8) (0x80 | (id.b[8] & 0x3f));
  return id;
}

CoreId
store_id_next (CoreId last, const StoreStamp *stamp, guint turn)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  guint8 digest[32];
  gsize length = sizeof digest;
  guint32 turn_be = GUINT32_TO_BE (turn);
  guint64 clock = (guint64) CLAMP (stamp->now_ms, 0, ID_TIME_MAX);
  guint64 front;
  CoreId id;

  g_checksum_update (sum, stamp->random, sizeof stamp->random);
  g_checksum_update (sum, (const guchar *) &turn_be, sizeof turn_be);
  g_checksum_get_digest (sum, digest, &length);
  /* The counter begins in its lower half, which leaves 2048 steps before a
   * busy millisecond runs into the next. */
  front = clock << 12 | (guint64) (digest[8] & 0x07) << 8 | digest[9];
  front = MAX (front, id_front (last) + 1);
  id = id_build (front, digest);
  if (core_id_compare (id, last) <= 0) /* `last` is no UUIDv7 */
    id = id_build ((id_front (last) | 0xfff) + 1, digest);
  return id;
}

static gboolean
id_is_sound (CoreId id)
{
  return (id.b[6] & 0xf0) == 0x70 && (id.b[8] & 0xc0) == 0x80 &&
         id_front (id) >> 12 <= (guint64) ID_TIME_MAX;
}

/* One of the last century of the calendar would leave this journal no later id. */
gboolean
_store_id_is_sound (CoreId id)
{
  return id_is_sound (id) && id_front (id) >> 12 <= (guint64) (ID_TIME_MAX - CENTURY_MS);
}

static gboolean
last_id (Store *self, CoreId *last, GError **error)
{
  g_autoptr (Stmt) stmt = _store_prepare (
    self,
    "SELECT max(id) FROM (SELECT max(id) AS id FROM entry UNION ALL SELECT max(id) FROM subject"
    " UNION ALL SELECT max(id) FROM photo)",
    error);
  gboolean row;

  if (stmt == NULL || !_store_step (self, stmt, &row, error))
    return FALSE;
  if (!_store_column_id (stmt, 0, last) && sqlite3_column_type (stmt, 0) != SQLITE_NULL)
    {
      _store_set_damage (self, error);
      return FALSE;
    }
  return TRUE;
}

gboolean
store_make_ids (Store *self, const StoreStamp *stamp, CoreId *ids, gsize n, GError **error)
{
  CoreId last;

  g_return_val_if_fail (self != NULL && stamp != NULL && (ids != NULL || n == 0), FALSE);
  if (!last_id (self, &last, error))
    return FALSE;
  /* Turns from the far end, so that they share no tail with those that
   * store_append() gives with the same stamp. */
  for (gsize i = 0; i < n; i++)
    last = ids[i] = store_id_next (last, stamp, G_MAXUINT - (guint) i);
  return TRUE;
}

static gboolean
put_subjects (Store *self, const StoreBatch *batch, GError **error)
{
  g_autoptr (Stmt) insert =
    _store_prepare (self, "INSERT INTO subject (id, kind) VALUES (?1, ?2) ON CONFLICT DO NOTHING",
                    error);
  g_autoptr (Stmt) same =
    _store_prepare (self, "SELECT 1 FROM subject WHERE id = ?1 AND kind = ?2", error);

  if (insert == NULL || same == NULL)
    return FALSE;
  for (gsize i = 0; i < batch->n_subjects; i++)
    {
      const char *name = _store_subject_name (batch->subjects[i].kind);
      Stmt *both[] = { insert, same };
      gboolean row;

      for (int k = 0; k < 2; k++)
        {
          int rc = _store_bind_id (both[k], 1, batch->subjects[i].id);

          if (rc == SQLITE_OK)
            rc = sqlite3_bind_text (both[k], 2, name, -1, SQLITE_STATIC);
          if (rc != SQLITE_OK)
            {
              _store_set_sql_error (self, rc, error);
              return FALSE;
            }
        }
      if (!_store_run (self, insert, error) || !_store_step (self, same, &row, error))
        return FALSE;
      sqlite3_reset (same);
      if (!row)
        {
          g_set_error_literal (error, STORE_ERROR, STORE_ERROR_EXISTS,
                               "Something else has this id in the journal already. Nothing was "
                               "written.");
          return FALSE;
        }
    }
  return TRUE;
}

static gboolean
bind_photo (Store *self, Stmt *stmt, const StorePhoto *photo, CoreId id, GError **error)
{
  int rc = _store_bind_id (stmt, 1, id);

  rc |= sqlite3_bind_text (stmt, 2, photo->hash, -1, SQLITE_STATIC);
  rc |= sqlite3_bind_text (stmt, 3, photo->format, -1, SQLITE_STATIC);
  rc |= sqlite3_bind_int (stmt, 4, photo->width);
  rc |= sqlite3_bind_int (stmt, 5, photo->height);
  rc |= sqlite3_bind_int (stmt, 6, photo->orientation);
  rc |= sqlite3_bind_int64 (stmt, 7, photo->bytes);
  rc |= photo->taken == CORE_DAY_NONE ? sqlite3_bind_null (stmt, 8)
                                      : sqlite3_bind_int (stmt, 8, photo->taken);
  rc |= photo->taken_minute < 0 ? sqlite3_bind_null (stmt, 9)
                                : sqlite3_bind_int (stmt, 9, photo->taken_minute);
  if (rc == SQLITE_OK)
    return TRUE;
  _store_set_sql_error (self, SQLITE_NOMEM, error);
  return FALSE;
}

/* A row is written only for a file that is there. */
static gboolean
photo_file_there (Store *self, const StorePhoto *photo, GError **error)
{
  g_autofree char *path = store_photo_path (self, photo);
  GStatBuf st;

  if (g_stat (path, &st) == 0 && S_ISREG (st.st_mode) && st.st_size == photo->bytes)
    return TRUE;
  g_set_error_literal (error, STORE_ERROR, STORE_ERROR_NOT_FOUND,
                       "The file of the photo is not in the journal folder. Add the photo again.");
  return FALSE;
}

static Stmt *
prepare_photo (Store *self, GError **error)
{
  return _store_prepare (self,
                         "INSERT INTO photo (id, hash, format, width, height, orientation,"
                         " bytes, taken, taken_minute)"
                         " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
                         error);
}

gboolean
_store_photo_insert (Store *self, const StorePhoto *photo, GError **error)
{
  g_autoptr (Stmt) insert = prepare_photo (self, error);

  return insert != NULL && bind_photo (self, insert, photo, photo->id, error) &&
         _store_run (self, insert, error);
}

static gboolean
put_photos (Store *self,
            const StoreBatch *batch,
            const StoreStamp *stamp,
            CoreId *ids,
            GError **error)
{
  g_autoptr (Stmt) insert = NULL;
  CoreId last;

  if (batch->n_photos == 0)
    return TRUE;
  if (!last_id (self, &last, error))
    return FALSE;
  insert = prepare_photo (self, error);
  if (insert == NULL)
    return FALSE;
  for (gsize i = 0; i < batch->n_photos; i++)
    {
      const StorePhoto *photo = &batch->photos[i];
      g_autoptr (GError) local = NULL;
      StorePhoto known;

      if (!photo_file_there (self, photo, error))
        return FALSE;
      if (store_photo_find (self, photo->hash, &known, &local))
        {
          ids[i] = known.id;
          continue;
        }
      if (!g_error_matches (local, STORE_ERROR, STORE_ERROR_NOT_FOUND))
        {
          g_propagate_error (error, g_steal_pointer (&local));
          return FALSE;
        }
      last = store_id_next (last, stamp, G_MAXUINT / 2 + (guint) i);
      ids[i] = core_id_is_none (photo->id) ? last : photo->id;
      if (!bind_photo (self, insert, photo, ids[i], error) || !_store_run (self, insert, error))
        return FALSE;
    }
  return TRUE;
}

/* What the entries will be called, worked out beside them: they are only
 * touched after the commit. */
typedef struct
{
  CoreId *ids;
  CoreId *photo_ids;
  CoreId round;
  gint64 last_seq;
  StoreTotals totals; /* with them; count 0 = not kept */
} Outcome;

static void
outcome_clear (Outcome *self)
{
  g_free (self->ids);
  g_free (self->photo_ids);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Outcome, outcome_clear)

/* The entry as it will lie in the journal; shares its values. */
static CoreEntry
completed (Store *self, const CoreEntry *entry, const StoreStamp *stamp, CoreId id, CoreId round)
{
  CoreEntry whole = *entry;

  whole.id = id;
  if (core_id_is_none (whole.round))
    whole.round = round;
  if (core_id_is_none (whole.device))
    whole.device = self->device;
  if (whole.written_ms == 0)
    whole.written_ms = stamp->now_ms;
  return whole;
}

static void
give_ids (const StoreBatch *batch, const StoreStamp *stamp, CoreId last, Outcome *outcome)
{
  for (gsize i = 0; i < batch->n_entries; i++)
    {
      CoreId given = batch->entries[i]->id;

      outcome->ids[i] = core_id_is_none (given) ? store_id_next (last, stamp, (guint) i) : given;
      if (core_id_compare (outcome->ids[i], last) > 0)
        last = outcome->ids[i];
      if (core_id_is_none (batch->entries[i]->round) && core_id_is_none (outcome->round))
        outcome->round = outcome->ids[i];
    }
}

static gboolean
put_entries (Store *self,
             const StoreBatch *batch,
             const StoreStamp *stamp,
             Outcome *outcome,
             GError **error)
{
  g_autoptr (Stmt) insert = _store_prepare (
    self,
    "INSERT INTO entry (id, subject, kind, day, earliest, minute, written_ms, device, round,"
    " names, bulk, code, n, sd, ref, text, more)"
    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)",
    error);
  CoreId last;

  if (insert == NULL || !last_id (self, &last, error))
    return FALSE;
  give_ids (batch, stamp, last, outcome);
  for (gsize i = 0; i < batch->n_entries; i++)
    {
      CoreEntry whole = completed (self, batch->entries[i], stamp, outcome->ids[i], outcome->round);
      StoreRowError why = { 0 };

      if (!_store_bind_entry (insert, &whole, &why))
        {
          if (why.no_memory)
            _store_set_error (error, STORE_ERROR_NO_MEMORY, self->dir);
          else
            g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
                         "An entry cannot be stored (%s). Nothing was written.", why.why);
          return FALSE;
        }
      if (!_store_run (self, insert, error))
        return FALSE;
      outcome->last_seq = sqlite3_last_insert_rowid (self->db);
      if (outcome->totals.count > 0)
        store_totals_add (&outcome->totals, whole.id, outcome->last_seq);
    }
  return TRUE;
}

static gboolean
check_batch (const StoreBatch *batch, GError **error)
{
  const char *why = NULL;

  for (gsize i = 0; i < batch->n_subjects; i++)
    if (!id_is_sound (batch->subjects[i].id) ||
        _store_subject_name (batch->subjects[i].kind) == NULL)
      why = "a subject without an id or kind";
  for (gsize i = 0; i < batch->n_photos; i++)
    if (!core_id_is_none (batch->photos[i].id) && !id_is_sound (batch->photos[i].id))
      why = "a photo with a damaged id";
  for (gsize i = 0; i < batch->n_entries; i++)
    {
      const CoreEntry *entry = batch->entries[i];

      if (!core_id_is_none (entry->id) && !id_is_sound (entry->id))
        why = "an entry with a damaged id";
      if (core_id_is_none (entry->subject) || entry->day == CORE_DAY_NONE)
        why = "an entry without its subject or day";
    }
  if (why == NULL)
    return TRUE;
  g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
               "This cannot be stored: %s. Nothing was written.", why);
  return FALSE;
}

static gboolean
check_expected (Store *self, const StoreBatch *batch, GError **error)
{
  gint64 seq;

  if (batch->expect_seq < 0)
    return TRUE;
  if (!_store_get_int (self, "SELECT max(seq) FROM entry", &seq, error))
    return FALSE;
  if (seq == batch->expect_seq)
    return TRUE;
  _store_set_error (error, STORE_ERROR_STALE, self->dir);
  return FALSE;
}

static void
tell_outcome (Store *self, const StoreBatch *batch, const StoreStamp *stamp, const Outcome *outcome)
{
  for (gsize i = 0; i < batch->n_entries; i++)
    *batch->entries[i] =
      completed (self, batch->entries[i], stamp, outcome->ids[i], outcome->round);
  for (gsize i = 0; i < batch->n_photos; i++)
    batch->photos[i].id = outcome->photo_ids[i];
}

gboolean
store_append (Store *self,
              const StoreBatch *batch,
              const StoreStamp *stamp,
              gint64 *last_seq,
              GError **error)
{
  g_auto (Outcome) outcome = { NULL };
  gboolean ok;

  g_return_val_if_fail (self != NULL && batch != NULL && stamp != NULL, FALSE);
  g_return_val_if_fail (stamp->now_ms >= 0, FALSE);
  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  outcome.ids = g_new0 (CoreId, batch->n_entries);
  outcome.photo_ids = g_new0 (CoreId, batch->n_photos);
  if (!check_batch (batch, error) || !_store_begin (self, error))
    return FALSE;
  ok = check_expected (self, batch, error) &&
       _store_totals_begin (self, &outcome.totals, error) && put_subjects (self, batch, error) &&
       put_photos (self, batch, stamp, outcome.photo_ids, error) &&
       put_entries (self, batch, stamp, &outcome, error) &&
       _store_totals_end (self, &outcome.totals, error);
  if (!_store_end (self, ok, error))
    return FALSE;
  tell_outcome (self, batch, stamp, &outcome);
  if (last_seq != NULL && batch->n_entries > 0)
    *last_seq = outcome.last_seq;
  return TRUE;
}
