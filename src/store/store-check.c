/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-check.c — is everything there, and is it what was written?
 *
 * Invariant: checking changes nothing, goes on after each problem, and never
 * calls clean what it could not read.
 */
#include "store/store-private.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "core/core-date.h"

#define MAX_PROBLEMS 1000 /* after that the journal is damaged enough */

static void
free_problem (gpointer data)
{
  StoreProblem *problem = data;

  g_free (problem->what);
  g_free (problem->detail);
  g_free (problem);
}

void
store_report_free (StoreReport *report)
{
  if (report == NULL)
    return;
  g_ptr_array_unref (report->problems);
  g_ptr_array_unref (report->beyond);
  g_ptr_array_unref (report->odd);
  g_free (report);
}

static StoreProblem *
add_problem_to (GPtrArray *all, StoreProblemKind kind, char *what_taken, const char *detail)
{
  StoreProblem *problem;

  if (all->len >= MAX_PROBLEMS)
    {
      g_free (what_taken);
      return NULL;
    }
  problem = g_new0 (StoreProblem, 1);
  problem->kind = kind;
  problem->what = what_taken;
  problem->detail = g_strdup (detail);
  g_ptr_array_add (all, problem);
  return problem;
}

static StoreProblem *
add_problem (StoreReport *report, StoreProblemKind kind, char *what_taken, const char *detail)
{
  return add_problem_to (report->problems, kind, what_taken, detail);
}

/* A failure to read is a finding when it says that the file is damaged (not of what was looked for:
 * nobody knows of that), and an end of the check when it says anything else (busy, out of memory).
 */
static gboolean
absorb (StoreReport *report, StoreProblemKind kind, GError *failure, GError **error)
{
  StoreProblem *problem;

  if (!g_error_matches (failure, STORE_ERROR, STORE_ERROR_CORRUPT))
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  problem = add_problem (report, kind, g_strdup (STORE_DB_NAME), NULL);
  if (problem != NULL)
    problem->unchecked = TRUE;
  g_error_free (failure);
  return TRUE;
}

/* FALSE: out of memory. */
typedef gboolean (*RowCheck) (Store *self, Stmt *stmt, StoreReport *report);

/* Runs `sql` and hands each row to `check`. */
static gboolean
each_row (Store *self,
          const char *sql,
          StoreProblemKind kind,
          RowCheck check,
          StoreReport *report,
          GError **error)
{
  GError *failure = NULL;
  g_autoptr (Stmt) stmt = _store_prepare (self, sql, &failure);
  gboolean row = TRUE;

  while (failure == NULL && row)
    if (_store_step (self, stmt, &row, &failure) && row && !check (self, stmt, report))
      _store_set_error (&failure, STORE_ERROR_NO_MEMORY, self->dir);
  return failure == NULL || absorb (report, kind, failure, error);
}

static gboolean
check_integrity_row (Store *self, Stmt *stmt, StoreReport *report)
{
  const char *text = (const char *) sqlite3_column_text (stmt, 0);

  if (g_strcmp0 (text, "ok") != 0)
    add_problem (report, STORE_PROBLEM_DATABASE, g_utf8_make_valid (text ? text : "?", -1), NULL);
  return TRUE;
}

static gboolean
check_reference_row (Store *self, Stmt *stmt, StoreReport *report)
{
  const char *table = _store_column_text (stmt, 0);

  add_problem (report, STORE_PROBLEM_REFERENCE,
               g_strdup_printf ("%s %" G_GINT64_FORMAT, table != NULL ? table : "?",
                                (gint64) sqlite3_column_int64 (stmt, 1)),
               NULL);
  return TRUE;
}

static gboolean
check_entry_row (Store *self, Stmt *stmt, StoreReport *report)
{
  StoreRowError why = { 0 };
  CoreEntry *entry = _store_read_entry (stmt, &why);

  if (why.no_memory)
    return FALSE;
  if (entry == NULL)
    add_problem (report, STORE_PROBLEM_ENTRY,
                 g_strdup_printf ("%" G_GINT64_FORMAT, (gint64) sqlite3_column_int64 (stmt, 0)),
                 why.why);
  else
    report->n_entries++;
  if (entry != NULL && entry->beyond != NULL)
    add_problem_to (report->beyond, STORE_PROBLEM_ENTRY,
                    g_strdup_printf ("%" G_GINT64_FORMAT, (gint64) sqlite3_column_int64 (stmt, 0)),
                    entry->beyond);
  core_entry_free (entry);
  return TRUE;
}

/* ---- entries that can be read, and perhaps do not say what was written ---- */

static char *
seq_of (Stmt *stmt)
{
  return g_strdup_printf ("%" G_GINT64_FORMAT, (gint64) sqlite3_column_int64 (stmt, 0));
}

/* Later than the day after the last writing, which holds anywhere on earth. */
static const char to_come_sql[] =
  "SELECT seq, day FROM entry WHERE day > (SELECT max(written_ms) / 86400000 + 1 FROM entry)";

static gboolean
check_to_come_row (Store *self, Stmt *stmt, StoreReport *report)
{
  gint64 day = sqlite3_column_int64 (stmt, 1);
  char text[11] = "?";

  if (day >= G_MININT32 && day <= G_MAXINT32)
    core_day_to_text ((CoreDay) day, text);
  add_problem_to (report->odd, STORE_PROBLEM_TO_COME, seq_of (stmt), text);
  return TRUE;
}

/* Ids ascend with seq, but for what a merge brought, which ascends in itself: one alone between two
 * that do is out of place. */
static const char misplaced_sql[] =
  "SELECT seq, id, written_ms FROM (SELECT seq, id, written_ms, lag(id) OVER w AS before,"
  " lead(id) OVER w AS after FROM entry WINDOW w AS (ORDER BY seq))"
  " WHERE before < after AND NOT id BETWEEN before AND after";

#define SAME_MOMENT_MS 60000 /* between the making of an id and the writing of its entry (ours) */

/* One that a merge brought alone has the time of its id; one whose id was changed has not. */
static gboolean
check_misplaced_row (Store *self, Stmt *stmt, StoreReport *report)
{
  gint64 apart;
  CoreId id;

  if (!_store_column_id (stmt, 1, &id))
    return TRUE;
  apart = _store_id_ms (id) - sqlite3_column_int64 (stmt, 2);
  if (apart < -SAME_MOMENT_MS || apart > SAME_MOMENT_MS)
    add_problem_to (report->odd, STORE_PROBLEM_ID, seq_of (stmt), NULL);
  return TRUE;
}

static gboolean
check_missing_row (Store *self, Stmt *stmt, StoreReport *report)
{
  const char *hash = _store_column_text (stmt, 0);

  add_problem (report, STORE_PROBLEM_PHOTO_NO_ROW, g_strdup (hash != NULL ? hash : "?"), NULL);
  return TRUE;
}

static gboolean
check_subjects (Store *self, StoreReport *report, GError **error)
{
  GError *failure = NULL;
  g_autoptr (GArray) subjects = store_load_subjects (self, &failure);

  if (subjects == NULL)
    return absorb (report, STORE_PROBLEM_DATABASE, failure, error);
  report->n_subjects = subjects->len;
  return TRUE;
}

/* FTS5 checks itself by a write, so only where we may write, and rolled back. */
static gboolean
check_search (Store *self, StoreReport *report, GError **error)
{
  GError *failure = NULL;

  if (self->access != STORE_ACCESS_WRITE)
    return TRUE;
  if (!_store_begin (self, error))
    return FALSE;
  _store_exec (self, "INSERT INTO note_search (note_search, rank) VALUES ('integrity-check', 1)",
               &failure);
  _store_end (self, FALSE, NULL);
  return failure == NULL || absorb (report, STORE_PROBLEM_SEARCH, failure, error);
}

static void
check_photo (Store *self, const StorePhoto *photo, StoreReport *report)
{
  g_autofree char *path = store_photo_path (self, photo);
  char *inside = g_strdup (path + strlen (self->dir) + 1);
  char hash[STORE_HASH_LEN + 1];
  g_autoptr (GError) failure = NULL;
  gint64 bytes;

  if (!_store_hash_path (path, hash, &bytes, &failure))
    add_problem (report, STORE_PROBLEM_PHOTO_MISSING, inside, failure->message);
  else if (bytes != photo->bytes || strcmp (hash, photo->hash) != 0)
    add_problem (report, STORE_PROBLEM_PHOTO_CHANGED, inside, hash);
  else
    {
      report->n_photos++;
      g_free (inside);
    }
}

/* Files in one folder of originals whose name is not in `known`. */
static guint64
count_unnamed (const char *folder, GHashTable *known)
{
  g_autoptr (GDir) listing = g_dir_open (folder, 0, NULL);
  const char *name;
  guint64 n = 0;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    n += !g_hash_table_contains (known, name);
  return n;
}

static void
check_files (Store *self, GHashTable *known, StoreReport *report)
{
  g_autofree char *photos = g_build_filename (self->dir, STORE_PHOTO_DIR, NULL);
  g_autoptr (GDir) listing = g_dir_open (photos, 0, NULL);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *folder = g_build_filename (photos, name, NULL);

      report->n_files_unnamed += count_unnamed (folder, known);
    }
}

static gboolean
check_photos (Store *self, StoreReport *report, GError **error)
{
  GError *failure = NULL;
  g_autoptr (GArray) photos = store_load_photos (self, &failure);
  g_autoptr (GHashTable) known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  if (photos == NULL)
    return absorb (report, STORE_PROBLEM_DATABASE, failure, error);
  for (guint i = 0; i < photos->len; i++)
    {
      const StorePhoto *photo = &g_array_index (photos, StorePhoto, i);

      check_photo (self, photo, report);
      g_hash_table_add (known, g_strconcat (photo->hash, ".", photo->format, NULL));
    }
  check_files (self, known, report);
  return TRUE;
}

gboolean
store_check (Store *self, StoreReport **report_out, GError **error)
{
  g_autoptr (StoreReport) report = g_new0 (StoreReport, 1);
  gboolean ok;

  g_return_val_if_fail (self != NULL && report_out != NULL, FALSE);
  report->problems = g_ptr_array_new_with_free_func (free_problem);
  report->beyond = g_ptr_array_new_with_free_func (free_problem);
  report->odd = g_ptr_array_new_with_free_func (free_problem);
  ok = each_row (self, "PRAGMA integrity_check", STORE_PROBLEM_DATABASE, check_integrity_row,
                 report, error) &&
       each_row (self, "PRAGMA foreign_key_check", STORE_PROBLEM_REFERENCE, check_reference_row,
                 report, error) &&
       each_row (self, "SELECT " STORE_ENTRY_COLUMNS " FROM entry ORDER BY seq",
                 STORE_PROBLEM_ENTRY, check_entry_row, report, error) &&
       each_row (self, to_come_sql, STORE_PROBLEM_DATABASE, check_to_come_row, report, error) &&
       each_row (self, misplaced_sql, STORE_PROBLEM_DATABASE, check_misplaced_row, report, error) &&
       check_subjects (self, report, error) && check_search (self, report, error) &&
       each_row (self,
                 "SELECT DISTINCT text FROM entry WHERE kind = 'photo'"
                 " AND text NOT IN (SELECT hash FROM photo)",
                 STORE_PROBLEM_PHOTO_NO_ROW, check_missing_row, report, error) &&
       check_photos (self, report, error);
  if (!ok)
    return FALSE;
  *report_out = g_steal_pointer (&report);
  return TRUE;
}
