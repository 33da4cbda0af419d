/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-damage.c — a damaged file is an error or is read right as far as it can
 * be told; it is never a crash, and never changed by a refusal.
 *
 * SQLite keeps no sums of its pages, so a flipped bit inside a number or a text
 * cannot be noticed; this test asserts what can be. */
#include "store-testing.h"

#include <glib/gstdio.h>
#include <string.h>

static GBytes *
make_journal (void)
{
  char *dir = testing_dir_new ();
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  char *content;
  gsize size;

  for (int turn = 0; turn < 3; turn++)
    for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
      {
        StoreStamp stamp = testing_stamp (1750000000000, (guint) (turn * 100 + kind));
        CoreEntry *entry = testing_entry ((CoreKind) kind, animal, rand, turn > 0);

        g_assert_true (testing_append (store, &entry, 1, &stamp, NULL));
        core_entry_free (entry);
      }
  g_assert_true (store_draft_put (store, "round:1", "all fed", 1, NULL));
  store_close (store);
  g_assert_true (g_file_get_contents (path, &content, &size, NULL));
  testing_dir_remove (dir);
  return g_bytes_new_take (content, size);
}

static void
assert_plain_error (const GError *error, const char *where)
{
  if (error == NULL)
    return;
  if (!g_error_matches (error, STORE_ERROR, STORE_ERROR_CORRUPT) &&
      !g_error_matches (error, STORE_ERROR, STORE_ERROR_TOO_NEW) &&
      !g_error_matches (error, STORE_ERROR, STORE_ERROR_FAILED) &&
      !g_error_matches (error, STORE_ERROR, STORE_ERROR_READ_ONLY) &&
      !g_error_matches (error, STORE_ERROR, STORE_ERROR_NO_MEMORY))
    g_error ("%s: %s", where, error->message);
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_assert_cmpuint (strlen (error->message), >, 20);
}

/* Everything that reads, and one write. TRUE when any of it complained. */
static gboolean
use_all (const char *dir)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (dir, STORE_OPEN, &error);
  g_autoptr (StoreReport) report = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GArray) subjects = NULL;
  g_autoptr (GArray) found = NULL;
  gboolean noticed = FALSE;

  assert_plain_error (error, "open");
  if (store == NULL)
    return TRUE;
  entries = store_load_entries (store, 0, NULL, &error);
  assert_plain_error (error, "entries");
  noticed |= entries == NULL;
  g_clear_error (&error);
  subjects = store_load_subjects (store, &error);
  assert_plain_error (error, "subjects");
  noticed |= subjects == NULL;
  g_clear_error (&error);
  found = store_search (store, "plain", 50, &error);
  assert_plain_error (error, "search");
  noticed |= found == NULL;
  g_clear_error (&error);
  if (!store_draft_put (store, "round:1", "again", 2, &error))
    assert_plain_error (error, "draft");
  g_clear_error (&error);
  store_check (store, &report, &error);
  assert_plain_error (error, "check");
  /* Two photo entries have no row: those are always found. */
  return noticed || report == NULL || report->problems->len != 1;
}

static gboolean
use_bytes (const char *dir, const guint8 *bytes, gsize size)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  static const char *const beside[] = { "-wal", "-shm" };

  for (gsize i = 0; i < G_N_ELEMENTS (beside); i++)
    {
      g_autofree char *extra = g_strconcat (path, beside[i], NULL);

      g_unlink (extra);
    }
  g_assert_true (g_file_set_contents (path, (const char *) bytes, (gssize) size, NULL));
  return use_all (dir);
}

/* The header byte by byte, then bytes all over the file, then whole stretches. */
static void
test_flips (void)
{
  g_autoptr (GBytes) whole = make_journal ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  char *dir = testing_dir_new ();
  gsize size = g_bytes_get_size (whole);
  guint noticed = 0;
  guint tries = 0;

  g_assert_false (use_bytes (dir, g_bytes_get_data (whole, NULL), size));
  for (gsize i = 0; i < 600; i++)
    {
      g_autofree guint8 *bytes = g_memdup2 (g_bytes_get_data (whole, NULL), size);
      gsize at = i < 100 ? i : (gsize) g_rand_int_range (rand, 100, (gint32) size);
      gsize n = i < 450 ? 1 : (gsize) g_rand_int_range (rand, 2, 300);

      for (gsize k = 0; k < n && at + k < size; k++)
        bytes[at + k] ^= i < 100 ? 0xff : (guint8) g_rand_int_range (rand, 1, 256);
      noticed += use_bytes (dir, bytes, size);
      tries++;
    }
  g_test_message ("%u of %u noticed", noticed, tries);
  g_assert_cmpuint (noticed, >=, tries / 10); /* else the loop reads no damage at all */
  testing_dir_remove (dir);
}

static void
test_cut_off (void)
{
  g_autoptr (GBytes) whole = make_journal ();
  char *dir = testing_dir_new ();
  gsize size = g_bytes_get_size (whole);

  for (gsize i = 1; i < 40; i++)
    g_assert_true (
      use_bytes (dir, g_bytes_get_data (whole, NULL), size * i / 40 - (i % 3 == 0 ? 17 : 0)));
  testing_dir_remove (dir);
}

/* A damaged -wal: its frames have sums, so all or a beginning of it counts. */
static void
test_pending (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);
  char *dir = testing_dir_new ();
  char *copy = testing_dir_new ();
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  g_autofree char *db = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autofree char *wal = g_strconcat (db, "-wal", NULL);
  g_autofree char *db_copy = g_build_filename (copy, STORE_DB_NAME, NULL);
  g_autofree char *wal_copy = g_strconcat (db_copy, "-wal", NULL);
  g_autofree char *pending = NULL;
  gsize size;

  g_assert_true (_store_exec (store, "PRAGMA wal_checkpoint (TRUNCATE)", NULL));
  for (guint i = 0; i < 10; i++)
    {
      StoreStamp stamp = testing_stamp (1750000000000, i);
      CoreEntry *note = testing_note (animal, "pending", 20000);

      g_assert_true (testing_append (store, &note, 1, &stamp, NULL));
      core_entry_free (note);
    }
  g_assert_true (g_file_get_contents (wal, &pending, &size, NULL));
  for (guint i = 0; i < 60; i++)
    {
      g_autofree char *bytes = g_memdup2 (pending, size);
      g_autofree char *shm = g_strconcat (db_copy, "-shm", NULL);

      bytes[g_rand_int_range (rand, 0, (gint32) size)] ^= 0x10;
      g_unlink (db_copy);
      g_unlink (shm);
      g_assert_true (_store_copy_path (db, db_copy, NULL));
      g_assert_true (g_file_set_contents (wal_copy, bytes, (gssize) size, NULL));
      g_assert_cmpuint (testing_count (copy), <=, 10);
    }
  store_close (store);
  testing_dir_remove (dir);
  testing_dir_remove (copy);
}

/* How many of that kind are odd, and that the one of `seq` is among them. */
static guint
odd (Store *store, StoreProblemKind kind, const char *seq)
{
  g_autoptr (StoreReport) report = NULL;
  g_autoptr (GError) error = NULL;
  gboolean among = FALSE;
  guint n = 0;

  g_assert_true (store_check (store, &report, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (report->problems->len, ==, 0);
  for (guint i = 0; i < report->odd->len; i++)
    {
      const StoreProblem *problem = report->odd->pdata[i];

      n += problem->kind == kind;
      among |= problem->kind == kind && strcmp (problem->what, seq) == 0;
    }
  g_assert_true (n == 0 || among);
  return n;
}

/* An entry that can still be read and says another day, or is called by another id. What a merge
 * brought between is neither. */
static void
test_odd (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  const CoreDay day = 20254; /* of that moment */

  for (guint i = 0; i < 7; i++)
    {
      StoreStamp stamp = testing_stamp (1750000000000 + i * 3600000, i);
      CoreEntry *note = testing_note (animal, "as it was", day);

      if (i == 3) /* of an hour before, as another copy wrote it */
        {
          stamp = testing_stamp (1750000000000 + 5400000, 90);
          note->id = store_id_next ((CoreId){ { 0 } }, &stamp, 0);
        }
      g_assert_true (testing_append (store, &note, 1, &stamp, NULL));
      core_entry_free (note);
    }
  g_assert_cmpuint (odd (store, STORE_PROBLEM_TO_COME, ""), ==, 0);
  g_assert_cmpuint (odd (store, STORE_PROBLEM_ID, ""), ==, 0);
  g_assert_true (_store_exec (store, "DROP TRIGGER entry_keep", NULL));
  g_assert_true (_store_exec (store, "UPDATE entry SET day = day + 1024 WHERE seq = 2", NULL));
  g_assert_cmpuint (odd (store, STORE_PROBLEM_TO_COME, "2"), ==, 1);
  g_assert_true (_store_exec (
    store, "UPDATE entry SET id = x'4197aaaaaaaa7bbb8ccccccccccccccc' WHERE seq = 5", NULL));
  g_assert_cmpuint (odd (store, STORE_PROBLEM_ID, "5"), ==, 1);
  g_assert_true (_store_exec (
    store, "UPDATE entry SET id = x'0017aaaaaaaa7bbb8ccccccccccccccc' WHERE seq = 5", NULL));
  g_assert_cmpuint (odd (store, STORE_PROBLEM_ID, "5"), ==, 1);
  store_close (store);
  testing_dir_remove (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/store/damage/flips", test_flips);
  g_test_add_func ("/store/damage/odd", test_odd);
  g_test_add_func ("/store/damage/cut-off", test_cut_off);
  g_test_add_func ("/store/damage/pending", test_pending);
  return g_test_run ();
}
