/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-scan.c — reading parts of a journal: by place, by id, one after the other; and the
 * totals of all. */
#include <string.h>

#include "store-testing.h"

typedef struct
{
  char *dir;
  Store *store;
  CoreId animal;
  GPtrArray *notes; /* CoreEntry, as written: seq 1 … */
} Fixture;

#define NOTES 5

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

static void
set_up (Fixture *self, gconstpointer data)
{
  self->dir = testing_dir_new ();
  self->store = testing_journal (self->dir);
  self->animal = testing_add_subject (self->store, CORE_SUBJECT_ANIMAL, 1);
  self->notes = g_ptr_array_new_with_free_func (free_entry);
  for (guint i = 0; i < NOTES; i++)
    {
      StoreStamp stamp = testing_stamp (1750000000000 + i, i + 1);
      g_autofree char *text = g_strdup_printf ("note %u", i);
      CoreEntry *note = testing_note (self->animal, text, (CoreDay) (100 + i));

      g_assert_true (testing_append (self->store, &note, 1, &stamp, NULL));
      g_ptr_array_add (self->notes, note);
    }
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_ptr_array_unref (self->notes);
  store_close (self->store);
  testing_dir_remove (self->dir);
}

static const CoreEntry *
note (Fixture *self, guint i)
{
  return self->notes->pdata[i];
}

/* ---- entries ---- */

typedef struct
{
  GArray *seqs;
  guint stop_after;
} Seen;

static gboolean
see (gint64 seq, CoreEntry *entry, gpointer data, GError **error)
{
  Seen *seen = data;

  core_entry_free (entry);
  g_array_append_val (seen->seqs, seq);
  if (seen->seqs->len < seen->stop_after)
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "enough");
  return FALSE;
}

static void
test_scan (Fixture *self, gconstpointer data)
{
  g_autoptr (GArray) seqs = g_array_new (FALSE, FALSE, sizeof (gint64));
  Seen seen = { seqs, G_MAXUINT };
  g_autoptr (GError) error = NULL;
  gint64 last = 0;

  g_assert_true (store_scan_entries (self->store, 0, see, &seen, &error));
  g_assert_cmpuint (seqs->len, ==, NOTES);
  for (guint i = 0; i < NOTES; i++)
    g_assert_cmpint (g_array_index (seqs, gint64, i), ==, i + 1);
  g_array_set_size (seqs, 0);
  g_assert_true (store_scan_entries (self->store, 3, see, &seen, &error));
  g_assert_cmpuint (seqs->len, ==, 2);
  g_assert_cmpint (g_array_index (seqs, gint64, 0), ==, 4);
  g_array_set_size (seqs, 0);
  g_assert_true (store_scan_entries (self->store, G_MAXINT64, see, &seen, &error));
  g_assert_cmpuint (seqs->len, ==, 0);
  g_assert_true (store_last_seq (self->store, &last, &error));
  g_assert_cmpint (last, ==, NOTES);
  g_assert_no_error (error);
  seen.stop_after = 2;
  g_assert_false (store_scan_entries (self->store, 0, see, &seen, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (seqs->len, ==, 2);
}

static void
test_by_seq (Fixture *self, gconstpointer data)
{
  static const gint64 wanted[] = { 4, 1, 5 }, missing[] = { 2, 99 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = store_load_by_seq (self->store, wanted, 3, &error);
  g_autoptr (GPtrArray) range = NULL;
  g_autoptr (GPtrArray) none = NULL;

  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, 3);
  testing_assert_same (entries->pdata[0], note (self, 3));
  testing_assert_same (entries->pdata[1], note (self, 0));
  testing_assert_same (entries->pdata[2], note (self, 4));
  range = store_load_range (self->store, 2, 4, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (range->len, ==, 3);
  testing_assert_same (range->pdata[0], note (self, 1));
  testing_assert_same (range->pdata[2], note (self, 3));
  none = store_load_by_seq (self->store, missing, 2, &error);
  g_assert_null (none);
  g_assert_error (error, STORE_ERROR, STORE_ERROR_CORRUPT);
}

static void
test_by_id (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  CoreEntry *found = NULL;
  CoreId other = note (self, 2)->id;
  gint64 seq = 0;

  g_assert_true (store_find_entry (self->store, note (self, 2)->id, &seq, &found, &error));
  testing_assert_same (found, note (self, 2));
  g_assert_cmpint (seq, ==, 3);
  core_entry_free (found);
  other.b[15] ^= 1;
  g_assert_true (store_find_entry (self->store, other, &seq, &found, &error));
  g_assert_no_error (error);
  g_assert_null (found);
}

/* What is read between the two is of one moment. */
static void
test_one_moment (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) reader = store_open_reader (self->store, &error);
  StoreStamp stamp = testing_stamp (1750000009000, 77);
  CoreEntry *more = testing_note (self->animal, "meanwhile", 200);
  gint64 before = 0, during = 0, after = 0;

  g_assert_no_error (error);
  g_assert_true (store_begin_reading (reader, &error));
  g_assert_true (store_last_seq (reader, &before, &error));
  g_assert_true (testing_append (self->store, &more, 1, &stamp, NULL));
  g_assert_true (store_last_seq (reader, &during, &error));
  g_assert_true (store_end_reading (reader, &error));
  g_assert_true (store_last_seq (reader, &after, &error));
  g_assert_no_error (error);
  g_assert_cmpint (before, ==, NOTES);
  g_assert_cmpint (during, ==, NOTES);
  g_assert_cmpint (after, ==, NOTES + 1);
  core_entry_free (more);
}

/* ---- totals ---- */

static void
sql (Fixture *self, const char *text)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (_store_exec (self->store, text, &error));
  g_assert_no_error (error);
}

/* What the entries themselves say. */
static StoreTotals
counted (Fixture *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = store_load_entries (self->store, 0, NULL, &error);
  StoreTotals totals = { 0 };

  g_assert_no_error (error);
  for (guint i = 0; i < entries->len; i++)
    store_totals_add (&totals, ((CoreEntry *) entries->pdata[i])->id, i + 1);
  return totals;
}

static StoreTotals
told (Fixture *self)
{
  g_autoptr (GError) error = NULL;
  StoreTotals totals;

  g_assert_true (store_totals (self->store, &totals, &error));
  g_assert_no_error (error);
  return totals;
}

static void
assert_true_totals (Fixture *self)
{
  StoreTotals is = told (self), should = counted (self);

  g_assert_cmpmem (&is, sizeof is, &should, sizeof should);
}

/* Shows whether the kept row is what is told: by a row that says otherwise. */
static gboolean
is_kept (Fixture *self)
{
  guint64 before = told (self).count, during;

  sql (self, "UPDATE snapshot SET count = count + 1000 WHERE key = 'totals'");
  during = told (self).count;
  sql (self, "UPDATE snapshot SET count = count - 1000 WHERE key = 'totals'");
  return during == before + 1000;
}

static void
write_note (Fixture *self, const char *text, guint turn)
{
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000090000 + turn, turn);
  CoreEntry *more = testing_note (self->animal, text, 20001);

  g_assert_true (testing_append (self->store, &more, 1, &stamp, &error));
  g_assert_no_error (error);
  core_entry_free (more);
}

static void
keep (Fixture *self)
{
  g_autoptr (GError) error = NULL;
  StoreTotals totals = counted (self);

  g_assert_true (store_keep_totals (self->store, &totals, &error));
  g_assert_no_error (error);
}

static void
test_totals (Fixture *self, gconstpointer data)
{
  StoreTotals old = counted (self);
  g_autoptr (GError) error = NULL;

  assert_true_totals (self);
  g_assert_false (is_kept (self));
  keep (self);
  g_assert_true (is_kept (self));
  write_note (self, "later", 1); /* which brings the row up to date */
  write_note (self, "latest", 2);
  g_assert_true (is_kept (self));
  assert_true_totals (self);
  g_assert_cmpuint (told (self).count, ==, NOTES + 2);
  sql (self, "DELETE FROM snapshot");
  g_assert_true (store_keep_totals (self->store, &old, &error)); /* of yesterday: not written */
  g_assert_no_error (error);
  g_assert_false (is_kept (self));
  assert_true_totals (self);
}

/* Whoever has been at the entries by other ways has been at the schema first, or is ahead. */
static void
test_totals_not_believed (Fixture *self, gconstpointer data)
{
  keep (self);
  g_assert_true (is_kept (self));
  sql (self, "INSERT INTO entry SELECT NULL, randomblob(16), subject, kind, day, earliest, minute,"
             " written_ms, device, round, names, bulk, code, n, sd, ref, text, more FROM entry"
             " WHERE seq = 1");
  g_assert_false (is_kept (self));
  assert_true_totals (self);
  write_note (self, "after a stranger", 1); /* does not build upon it */
  g_assert_false (is_kept (self));
  assert_true_totals (self);
  keep (self);
  g_assert_true (is_kept (self));
  sql (self, "DROP TRIGGER entry_keep; UPDATE entry SET id = randomblob(16) WHERE seq = 2");
  g_assert_false (is_kept (self));
  assert_true_totals (self);
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  add ("/store/scan/all", test_scan);
  add ("/store/scan/by-seq", test_by_seq);
  add ("/store/scan/by-id", test_by_id);
  add ("/store/scan/one-moment", test_one_moment);
  add ("/store/scan/totals", test_totals);
  add ("/store/scan/totals-not-believed", test_totals_not_believed);
  return g_test_run ();
}
