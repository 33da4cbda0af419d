/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-scale-sql.c — the yardstick: plain SQLite on the same file with the same settings. */
#include "bench-scale.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "store/store.h"

#define COLUMNS 18
#define ROUNDS 15

static sqlite3 *
connect (const char *dir)
{
  g_autofree char *path = g_build_filename (dir, "journal.sqlite", NULL);
  sqlite3 *db = NULL;

  if (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
    bench_fail (NULL);
  return db;
}

static sqlite3_stmt *
prepare (sqlite3 *db, const char *sql)
{
  sqlite3_stmt *stmt = NULL;

  if (sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL) != SQLITE_OK)
    {
      g_printerr ("%s\n", sqlite3_errmsg (db));
      bench_fail (NULL);
    }
  return stmt;
}

/* Takes the value out of the row, whatever it is. */
static gsize
read_column (sqlite3_stmt *stmt, int column)
{
  switch (sqlite3_column_type (stmt, column))
    {
    case SQLITE_INTEGER:
      return (gsize) sqlite3_column_int64 (stmt, column);
    case SQLITE_FLOAT:
      return (gsize) sqlite3_column_double (stmt, column);
    case SQLITE_TEXT:
      return sqlite3_column_text (stmt, column)[0];
    case SQLITE_BLOB:
      return ((const guint8 *) sqlite3_column_blob (stmt, column))[0];
    default:
      return 0;
    }
}

BenchTime
bench_select (const char *dir)
{
  sqlite3 *db = connect (dir);
  BenchTime began = bench_now (), took;
  volatile gsize sum = 0;
  sqlite3_stmt *stmt = prepare (db, "SELECT seq, id, subject, kind, day, earliest, minute,"
                                    " written_ms, device, round, names, bulk, code, n, sd, ref,"
                                    " text, more FROM entry");

  while (sqlite3_step (stmt) == SQLITE_ROW)
    for (int i = 0; i < COLUMNS; i++)
      sum += read_column (stmt, i);
  took = bench_since (began);
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return took;
}

void
bench_drop_snapshot (const char *dir)
{
  g_autofree char *file = g_build_filename (dir, "journal.snapshot", NULL);
  sqlite3 *db = connect (dir);

  (void) g_unlink (file);
  if (sqlite3_exec (db, "DELETE FROM snapshot", NULL, NULL, NULL) != SQLITE_OK)
    bench_fail (NULL);
  sqlite3_close (db);
}

/* ---- a round ---- */

typedef struct
{
  int n;
  CoreId *subjects;
} Cups;

static void
find_cups (const char *dir, CoreDay today, Cups *cups)
{
  GError *error = NULL;
  g_autoptr (Desk) desk = desk_open (dir, today, DESK_OPEN_LAZY, &error);
  g_autoptr (GPtrArray) animals = NULL;

  if (desk == NULL)
    bench_fail (error);
  animals = desk_animals (desk);
  cups->n = (int) MIN (300, animals->len);
  cups->subjects = g_new0 (CoreId, cups->n);
  for (int i = 0; i < cups->n; i++)
    cups->subjects[i] = desk_subject_id (animals->pdata[i]);
}

/* What a round writes: fed for all, as 300 rows. */
static GPtrArray *
round_entries (const Cups *cups, CoreDay day)
{
  GPtrArray *entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);

  for (int i = 0; i < cups->n; i++)
    {
      CoreEntry *entry = core_entry_new (CORE_KIND_FED);

      entry->subject = cups->subjects[i];
      entry->day = day;
      entry->bulk = true;
      core_entry_set_num (entry, CORE_KEY_PREY, CORE_PREY_HOUSE_FLY);
      core_entry_set_num (entry, CORE_KEY_N, 2);
      core_entry_set_num (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED);
      g_ptr_array_add (entries, entry);
    }
  return entries;
}

static double
by_store (Store *store, const Cups *cups, CoreDay day, GPtrArray *kept)
{
  GPtrArray *entries = round_entries (cups, day);
  StoreBatch batch = { .entries = (CoreEntry *const *) entries->pdata,
                       .n_entries = entries->len,
                       .expect_seq = -1 };
  StoreStamp stamp = { .now_ms = g_get_real_time () / 1000 };
  GError *error = NULL;
  BenchTime began = bench_now ();
  double took;

  for (int i = 0; i < 16; i++)
    stamp.random[i] = (guint8) g_random_int ();
  if (!store_append (store, &batch, &stamp, NULL, &error))
    bench_fail (error);
  took = bench_since (began).wall;
  g_ptr_array_add (kept, entries);
  return took;
}

/* The same rows under new ids: begin, 300 steps of one prepared statement, commit. */
static double
by_sqlite (sqlite3 *db, const GPtrArray *entries, guint8 turn)
{
  BenchTime began = bench_now ();
  double took;
  sqlite3_stmt *stmt =
    prepare (db, "INSERT INTO entry (id, subject, kind, day, written_ms, device, round, bulk, code,"
                 " n, text) VALUES (?1, ?2, 'fed', ?3, ?4, ?5, ?6, 1, 'offered', 2, 'house fly')");

  sqlite3_exec (db, "BEGIN IMMEDIATE", NULL, NULL, NULL);
  for (guint i = 0; i < entries->len; i++)
    {
      const CoreEntry *entry = entries->pdata[i];
      CoreId id = entry->id;

      id.b[15] ^= turn; /* another one, in the same order */
      sqlite3_bind_blob (stmt, 1, id.b, 16, SQLITE_TRANSIENT);
      sqlite3_bind_blob (stmt, 2, entry->subject.b, 16, SQLITE_STATIC);
      sqlite3_bind_int (stmt, 3, entry->day);
      sqlite3_bind_int64 (stmt, 4, entry->written_ms);
      sqlite3_bind_blob (stmt, 5, entry->device.b, 16, SQLITE_STATIC);
      sqlite3_bind_blob (stmt, 6, entry->round.b, 16, SQLITE_STATIC);
      if (sqlite3_step (stmt) != SQLITE_DONE)
        {
          g_printerr ("%s\n", sqlite3_errmsg (db));
          bench_fail (NULL);
        }
      sqlite3_reset (stmt);
    }
  sqlite3_finalize (stmt);
  if (sqlite3_exec (db, "COMMIT", NULL, NULL, NULL) != SQLITE_OK)
    bench_fail (NULL);
  took = bench_since (began).wall;
  return took;
}

static BenchTime
by_desk (Desk *desk, const Cups *cups, CoreDay day)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;
  BenchTime began = bench_now ();

  desk_write_async (desk, round_entries (cups, day), NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_write_finish (desk, result, NULL, &error))
    bench_fail (error);
  return bench_since (began);
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
median (double *values, int n)
{
  qsort (values, (size_t) n, sizeof *values, compare);
  return values[n / 2];
}

double
bench_round (const char *dir, CoreDay today)
{
  double store_s[ROUNDS], sqlite_s[ROUNDS], desk_s[ROUNDS], desk_cpu[ROUNDS];
  double store_m, sqlite_m, desk_m;
  g_autoptr (GPtrArray) kept = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr (Store) store = NULL;
  g_autoptr (Desk) desk = NULL;
  sqlite3 *db;
  Cups cups = { 0 };
  GError *error = NULL;

  find_cups (dir, today, &cups);
  store = store_open (dir, STORE_OPEN, &error);
  desk = store != NULL ? desk_open (dir, today, DESK_OPEN_LAZY, &error) : NULL;
  if (desk == NULL)
    bench_fail (error);
  db = connect (dir);
  sqlite3_exec (db, "PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON", NULL, NULL, NULL);
  for (int i = 0; i < ROUNDS; i++) /* in turn, so that a busy moment meets all */
    {
      BenchTime one;

      store_s[i] = by_store (store, &cups, today, kept);
      sqlite_s[i] = by_sqlite (db, kept->pdata[i], 1);
      one = by_desk (desk, &cups, today);
      desk_s[i] = one.wall;
      desk_cpu[i] = one.cpu;
    }
  store_m = median (store_s, ROUNDS);
  sqlite_m = median (sqlite_s, ROUNDS);
  desk_m = median (desk_s, ROUNDS);
  g_print ("a   %d cups: plain SQLite %.2f ms, store %.2f ms, desk with checks and new states "
           "%.2f ms (%.2f ms of processor)   ratio %.2f (desk %.2f), limit 3\n",
           cups.n, sqlite_m * 1000, store_m * 1000, desk_m * 1000, median (desk_cpu, ROUNDS) * 1000,
           store_m / sqlite_m, desk_m / sqlite_m);
  sqlite3_close (db);
  g_free (cups.subjects);
  return store_m / sqlite_m;
}
