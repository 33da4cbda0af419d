/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-salvage.c — what is left of a damaged journal is saved, what is lost is counted, and
 * nothing is invented. */
#include <glib/gstdio.h>
#include <string.h>

#include "store-testing.h"

#define N_ENTRIES 900
#define PAGE 4096

static char *long_text; /* too long for one page */

/* A journal of notes on three animals; the file is whole when it is closed. */
static char *
make_journal (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  CoreId animals[3];

  for (guint i = 0; i < 3; i++)
    animals[i] = testing_add_subject (store, CORE_SUBJECT_ANIMAL, i + 1);
  for (guint i = 0; i < N_ENTRIES; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *text = i % 100 == 50 ? g_strdup (long_text) : g_strdup_printf ("note %u", i);
      StoreStamp stamp = testing_stamp (1750000000000 + i, i);
      CoreEntry *note = testing_note (animals[i % 3], text, 20000 + (CoreDay) i);

      g_assert_true (testing_append (store, &note, 1, &stamp, &error));
      g_assert_no_error (error);
      core_entry_free (note);
    }
  store_close (store);
  return dir;
}

/* Salvages into a new folder and checks that what is there was there before. */
static StoreSalvage
salvage (const char *dir, GPtrArray *before)
{
  char *target = testing_dir_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  StoreSalvage out;
  guint k = 0;

  g_assert_true (store_salvage (dir, target, &out, &error));
  g_assert_no_error (error);
  store = store_open (target, STORE_OPEN, &error);
  g_assert_no_error (error);
  entries = store_load_entries (store, 0, NULL, &error);
  g_assert_cmpuint (entries->len, ==, out.entries);
  for (guint i = 0; i < entries->len; i++, k++)
    {
      const CoreEntry *entry = entries->pdata[i];

      while (k < before->len &&
             !core_id_equal (((CoreEntry *) before->pdata[k])->id, entry->id))
        k++;
      g_assert_cmpuint (k, <, before->len); /* in the old order, none made up */
      testing_assert_same (entry, before->pdata[k]);
    }
  g_assert_cmpuint (testing_count_problems (store), ==, 0);
  store_close (g_steal_pointer (&store));
  testing_dir_remove (target);
  return out;
}

static GPtrArray *
load (const char *dir)
{
  g_autoptr (Store) store = store_open (dir, STORE_OPEN, NULL);

  return store_load_entries (store, 0, NULL, NULL);
}

static char *
read_db (const char *dir, gsize *size)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  char *bytes;

  g_assert_true (g_file_get_contents (path, &bytes, size, NULL));
  return bytes;
}

static void
write_db (const char *dir, const char *bytes, gsize size)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);

  g_assert_true (g_file_set_contents (path, bytes, (gssize) size, NULL));
}

static void
test_sound (void)
{
  char *dir = make_journal ();
  g_autoptr (GPtrArray) before = load (dir);
  StoreSalvage out = salvage (dir, before);

  g_assert_cmpuint (out.entries, ==, N_ENTRIES);
  g_assert_cmpuint (out.entries_lost, ==, 0);
  g_assert_cmpuint (out.subjects, ==, 3);
  g_assert_cmpuint (out.subjects_guessed, ==, 0);
  g_assert_cmpuint (out.pages_missing, ==, 0);
  testing_dir_remove (dir);
}

/* The first page gone: SQLite does not open it, all but what lay there is saved. */
static void
test_first_page (void)
{
  char *dir = make_journal ();
  g_autoptr (GPtrArray) before = load (dir);
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  StoreSalvage out;
  gsize size;

  bytes = read_db (dir, &size);
  memset (bytes, 0x5a, PAGE);
  write_db (dir, bytes, size);
  g_assert_null (store_open (dir, STORE_OPEN, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_CORRUPT);
  out = salvage (dir, before);
  g_assert_cmpuint (out.entries, ==, N_ENTRIES);
  g_assert_cmpuint (out.entries_lost, ==, 0);
  testing_dir_remove (dir);
}

/* Each page in turn: what is saved and what is said to be lost make the whole, except where the
 * last entries went together with the index of them. */
static void
test_each_page (void)
{
  char *dir = make_journal ();
  g_autoptr (GPtrArray) before = load (dir);
  g_autofree char *bytes = NULL;
  guint damaged = 0, guessed = 0;
  gsize size;

  bytes = read_db (dir, &size);
  for (gsize at = 0; at < size; at += PAGE)
    {
      g_autofree char *hurt = g_memdup2 (bytes, size);
      StoreSalvage out;

      memset (hurt + at, 0, PAGE);
      write_db (dir, hurt, size);
      out = salvage (dir, before);
      g_assert_cmpuint (out.entries + out.entries_lost, ==, N_ENTRIES);
      g_assert_cmpuint (out.pages_missing, ==, 0);
      g_assert_cmpuint (out.subjects, ==, 3);
      g_assert_cmpuint (out.entries, >=, N_ENTRIES - 200);
      damaged += out.entries < N_ENTRIES;
      guessed += out.subjects_guessed > 0;
    }
  g_test_message ("%u of %u pages held entries", damaged, (guint) (size / PAGE));
  g_assert_cmpuint (damaged, >=, 10);
  g_assert_cmpuint (guessed, ==, 1); /* the one page of subjects */
  testing_dir_remove (dir);
}

/* Cut off anywhere: what is said to be lost is never more than is, it is said that there may be
 * more, and where the page above the rows is left it is all but what lay on the last of them. */
static void
test_cut_off (void)
{
  char *dir = make_journal ();
  g_autoptr (GPtrArray) before = load (dir);
  g_autofree char *bytes = NULL;
  guint gone = 0;
  gsize size;

  bytes = read_db (dir, &size);
  for (gsize pages = size / PAGE - 1; pages >= 20; pages--)
    {
      StoreSalvage out;
      guint64 lost;

      write_db (dir, bytes, pages * PAGE + (pages % 2 == 0 ? PAGE / 3 : 0));
      out = salvage (dir, before);
      lost = N_ENTRIES - out.entries;
      g_assert_cmpuint (out.pages_missing, ==, size / PAGE - pages);
      g_assert_cmpuint (out.entries_lost, <=, lost);
      g_assert_cmpuint (out.entries_lost + 40, >=, lost);
      gone += lost > 0;
    }
  g_assert_cmpuint (gone, >, size / PAGE / 2);
  testing_dir_remove (dir);
}

/* Bytes anywhere: no crash, and only what was there. A flipped bit inside a text cannot be told
 * from the text, so the contents are not compared. */
static void
test_flips (void)
{
  char *dir = make_journal ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (31);
  g_autofree char *bytes = NULL;
  gsize size;

  bytes = read_db (dir, &size);
  for (guint turn = 0; turn < 150; turn++)
    {
      g_autofree char *hurt = g_memdup2 (bytes, size);
      char *target = testing_dir_new ();
      g_autoptr (GError) error = NULL;
      guint n = (guint) g_rand_int_range (rand, 1, 2000);
      StoreSalvage out;

      for (guint i = 0; i < n; i++)
        hurt[g_rand_int_range (rand, 0, (gint32) size)] ^= (char) g_rand_int_range (rand, 1, 256);
      write_db (dir, hurt, turn % 5 == 0 ? size / 2 : size);
      if (store_salvage (dir, target, &out, &error))
        {
          g_assert_cmpuint (out.entries, >, 0);
          g_assert_cmpuint (out.entries, <=, N_ENTRIES + n); /* a hurt id makes another of it */
          g_assert_cmpuint (testing_count (target), ==, out.entries);
        }
      else
        g_assert_error (error, STORE_ERROR, STORE_ERROR_CORRUPT);
      testing_dir_remove (target);
    }
  testing_dir_remove (dir);
}

/* What lies in the pending part alone is saved, what was never committed is not. */
static void
test_pending (void)
{
  char *dir = testing_dir_new ();
  char *copy = testing_dir_new ();
  g_autoptr (GPtrArray) before = NULL;
  g_autofree char *wal = NULL;
  g_autofree char *from = g_build_filename (dir, STORE_DB_NAME "-wal", NULL);
  g_autofree char *to = g_build_filename (copy, STORE_DB_NAME "-wal", NULL);
  g_autofree char *db = NULL;
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  StoreSalvage out;
  gsize size, db_size;

  g_assert_true (_store_exec (store, "PRAGMA wal_checkpoint (TRUNCATE)", NULL));
  for (guint i = 0; i < 30; i++)
    {
      StoreStamp stamp = testing_stamp (1750000000000 + i, i);
      CoreEntry *note = testing_note (animal, "pending", 20000);

      g_assert_true (testing_append (store, &note, 1, &stamp, NULL));
      core_entry_free (note);
    }
  before = store_load_entries (store, 0, NULL, NULL);
  db = read_db (dir, &db_size);
  memset (db, 0, 100); /* SQLite will not apply it */
  write_db (copy, db, db_size);
  g_assert_true (g_file_get_contents (from, &wal, &size, NULL));
  g_assert_true (g_file_set_contents (to, wal, (gssize) size, NULL));
  out = salvage (copy, before);
  g_assert_cmpuint (out.entries, ==, 30);
  /* Cut off within the last frame: the last entry was not committed in this file. */
  g_assert_true (g_file_set_contents (to, wal, (gssize) size - 10, NULL));
  out = salvage (copy, before);
  g_assert_cmpuint (out.entries, ==, 29);
  store_close (store);
  testing_dir_remove (dir);
  testing_dir_remove (copy);
}

/* Nothing there, nothing of ours, nothing at all. */
static void
test_nothing_left (void)
{
  static const struct
  {
    gssize size; /* -1 = no file */
    StoreError wanted;
  } cases[] = { { -1, STORE_ERROR_NOT_FOUND }, { 20000, STORE_ERROR_CORRUPT }, { 0, STORE_ERROR_CORRUPT } };
  g_autofree char *zeros = g_malloc0 (20000);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      char *dir = testing_dir_new ();
      char *target = testing_dir_new ();
      g_autoptr (GError) error = NULL;
      StoreSalvage out;

      if (cases[i].size >= 0)
        write_db (dir, zeros, (gsize) cases[i].size);
      g_assert_false (store_salvage (dir, target, &out, &error));
      g_assert_error (error, STORE_ERROR, (gint) cases[i].wanted);
      testing_dir_remove (dir);
      testing_dir_remove (target);
    }
}

/* One of each kind, with all its values. */
static void
test_all_kinds (void)
{
  char *dir = testing_dir_new ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  g_autoptr (GPtrArray) before = NULL;
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  StoreSalvage out;

  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    {
      StoreStamp stamp = testing_stamp (1750000000000, (guint) kind);
      CoreEntry *entry = testing_entry ((CoreKind) kind, animal, rand, TRUE);

      if (kind == CORE_KIND_PHOTO) /* it would rightly be a problem without its row */
        {
          core_entry_free (entry);
          continue;
        }
      g_assert_true (testing_append (store, &entry, 1, &stamp, NULL));
      core_entry_free (entry);
    }
  before = store_load_entries (store, 0, NULL, NULL);
  store_close (store);
  out = salvage (dir, before);
  g_assert_cmpuint (out.entries, ==, before->len);
  testing_dir_remove (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  long_text = g_strnfill (4000, 'x');
  g_test_add_func ("/store/salvage/sound", test_sound);
  g_test_add_func ("/store/salvage/first-page", test_first_page);
  g_test_add_func ("/store/salvage/each-page", test_each_page);
  g_test_add_func ("/store/salvage/cut-off", test_cut_off);
  g_test_add_func ("/store/salvage/flips", test_flips);
  g_test_add_func ("/store/salvage/pending", test_pending);
  g_test_add_func ("/store/salvage/nothing-left", test_nothing_left);
  g_test_add_func ("/store/salvage/all-kinds", test_all_kinds);
  return g_test_run ();
}
