/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-dump.c — the database in a file of its own: whole while others write, or not at all. */
#define _GNU_SOURCE /* memmem */
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "store-faulty.h"


static void
add_notes (Store *store, CoreId animal, guint from, guint n)
{
  for (guint i = from; i < from + n; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *text = g_strdup_printf ("note %u of the evening", i);
      StoreStamp stamp = testing_stamp (1750000000000 + i, i);
      CoreEntry *note = testing_note (animal, text, 20000);

      g_assert_true (testing_append (store, &note, 1, &stamp, &error));
      g_assert_no_error (error);
      core_entry_free (note);
    }
}

/* The copy alone in its folder, opened as one that is not ours. */
static guint64
count_foreign (const char *dir)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) copy = store_open_foreign (dir, &error);
  StoreCounts counts;

  g_assert_no_error (error);
  g_assert_true (store_counts (copy, &counts, &error));
  g_assert_cmpuint (testing_count_problems (copy), ==, 0);
  return counts.entries;
}

static void
assert_alone (const char *dir)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (listing)) != NULL)
    g_assert_cmpstr (name, ==, STORE_DB_NAME);
}

/* What is committed and lies only in the pending part is in the copy. */
static void
test_pending (void)
{
  char *dir = testing_dir_new ();
  char *out = testing_dir_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *db = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autofree char *wal = g_strconcat (db, "-wal", NULL);
  g_autofree char *copy = g_build_filename (out, STORE_DB_NAME, NULL);
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  GStatBuf st;

  g_assert_true (_store_exec (store, "PRAGMA wal_checkpoint (TRUNCATE)", NULL));
  add_notes (store, animal, 0, 40);
  g_assert_cmpint (g_stat (wal, &st), ==, 0);
  g_assert_cmpint (st.st_size, >, 0);
  g_assert_true (store_dump (store, out, &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_stat (copy, &st), ==, 0);
  g_assert_cmpint (st.st_mode & 0777, ==, 0600);
  assert_alone (out);
  add_notes (store, animal, 40, 2); /* after the moment */
  g_assert_cmpuint (count_foreign (out), ==, 40);
  assert_alone (out);
  g_assert_false (store_dump (store, out, &error)); /* what is there stays */
  g_assert_nonnull (error);
  g_assert_cmpuint (count_foreign (out), ==, 40);
  store_close (store);
  testing_dir_remove (dir);
  testing_dir_remove (out);
}

typedef struct
{
  Store *store;
  CoreId animal;
  gint stop;
} Busy;

static gpointer
write_on (gpointer data)
{
  Busy *busy = data;

  for (guint i = 1000; !g_atomic_int_get (&busy->stop); i++)
    add_notes (busy->store, busy->animal, i, 1);
  return NULL;
}

/* From a reader of its own, while the writer goes on. */
static void
test_beside_a_writer (void)
{
  char *dir = testing_dir_new ();
  g_autoptr (GError) error = NULL;
  Busy busy = { .store = testing_journal (dir) };
  Store *reader;
  GThread *thread;
  guint64 last = 0;

  busy.animal = testing_add_subject (busy.store, CORE_SUBJECT_ANIMAL, 1);
  add_notes (busy.store, busy.animal, 0, 200);
  reader = store_open_reader (busy.store, &error);
  g_assert_no_error (error);
  thread = g_thread_new ("writer", write_on, &busy);
  for (int turn = 0; turn < 10; turn++)
    {
      char *out = testing_dir_new ();
      guint64 n;

      g_assert_true (store_dump (reader, out, &error));
      g_assert_no_error (error);
      n = count_foreign (out);
      g_assert_cmpuint (n, >=, MAX (last, 200));
      last = n;
      testing_dir_remove (out);
    }
  g_atomic_int_set (&busy.stop, 1);
  g_thread_join (thread);
  store_close (reader);
  store_close (busy.store);
  testing_dir_remove (dir);
}

static void
test_same_bytes (void)
{
  char *dir = testing_dir_new ();
  char *outs[2] = { testing_dir_new (), testing_dir_new () };
  g_autoptr (GError) error = NULL;
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  char hash[2][STORE_HASH_LEN + 1];
  gint64 bytes;

  add_notes (store, animal, 0, 30);
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *path = g_build_filename (outs[i], STORE_DB_NAME, NULL);

      g_assert_true (store_dump (store, outs[i], &error));
      g_assert_true (_store_hash_path (path, hash[i], &bytes, &error));
      store_close (store);
      store = testing_journal (dir); /* opening and closing changes nothing */
    }
  g_assert_no_error (error);
  g_assert_cmpstr (hash[0], ==, hash[1]);
  store_close (store);
  testing_dir_remove (dir);
  testing_dir_remove (outs[0]);
  testing_dir_remove (outs[1]);
}

/* What is computed stays at home, also what earlier versions kept in the journal itself. */
static void
test_without_snapshots (void)
{
  char *dir = testing_dir_new ();
  char *out = testing_dir_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *copy = g_build_filename (out, STORE_DB_NAME, NULL);
  g_autoptr (Store) other = NULL;
  Store *store = testing_journal (dir);
  StoreTotals totals;
  gint64 left;
  GStatBuf st;

  add_notes (store, testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1), 0, 3);
  g_assert_true (store_totals (store, &totals, &error));
  g_assert_true (store_keep_totals (store, &totals, &error));
  g_assert_true (_store_exec (store,
                              "INSERT INTO snapshot VALUES ('all', 3, 3, zeroblob(16), '1', 'p',"
                              " zeroblob(3000000))",
                              &error));
  g_assert_true (store_dump (store, out, &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_stat (copy, &st), ==, 0);
  g_assert_cmpint (st.st_size, <, 300000);
  g_assert_cmpuint (count_foreign (out), ==, 3);
  other = store_open_foreign (out, &error);
  g_assert_no_error (error);
  g_assert_true (_store_get_int (other, "SELECT count(*) FROM snapshot", &left, &error));
  g_assert_cmpint (left, ==, 0);
  store_close (store);
  testing_dir_remove (dir);
  testing_dir_remove (out);
}

/* ---- other files in the place of photos ---- */

static CoreId
add_photo (Store *store, CoreId animal, const char *outside, const char *bytes, StorePhoto *out)
{
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000000000, (guint) strlen (bytes));
  CoreEntry *entry = core_entry_new (CORE_KIND_PHOTO);
  StoreBatch batch = { .photos = out, .n_photos = 1, .entries = &entry, .n_entries = 1, .expect_seq = -1 };
  int fd = testing_file (outside, "p.jpg", bytes, strlen (bytes));
  CoreId id;

  *out = (StorePhoto){ .width = 4, .height = 3, .orientation = 1, .taken = CORE_DAY_NONE, .taken_minute = -1 };
  g_assert_true (store_photo_put (store, fd, "jpg", out, NULL, &error));
  close (fd);
  entry->subject = animal;
  entry->day = 20000;
  g_assert_cmpint (core_entry_set_str (entry, CORE_KEY_HASH, out->hash), ==, CORE_VALUE_OK);
  g_assert_true (store_append (store, &batch, &stamp, NULL, &error));
  g_assert_no_error (error);
  id = entry->id;
  core_entry_free (entry);
  return id;
}

static const char *
hash_of_entry (GPtrArray *entries, CoreId id)
{
  for (guint i = 0; i < entries->len; i++)
    if (core_id_equal (((CoreEntry *) entries->pdata[i])->id, id))
      return core_entry_str (entries->pdata[i], CORE_KEY_HASH);
  return NULL;
}

static void
test_change_photos (void)
{
  char *dir = testing_dir_new ();
  char *out = testing_dir_new ();
  char *outside = testing_dir_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GArray) photos = NULL;
  g_autoptr (Store) copy = NULL;
  g_autofree char *db = g_build_filename (out, STORE_DB_NAME, NULL);
  g_autofree char *bytes = NULL;
  StorePhotoChange changes[2];
  StorePhoto a, b, c;
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  CoreId ids[3] = { add_photo (store, animal, outside, "one", &a),
                    add_photo (store, animal, outside, "three", &b),
                    add_photo (store, animal, outside, "seventh", &c) };
  gsize size;

  g_assert_true (store_dump (store, out, &error));
  g_strlcpy (changes[0].hash, a.hash, sizeof a.hash);
  g_strlcpy (changes[1].hash, b.hash, sizeof b.hash);
  for (int i = 0; i < 2; i++) /* both become the same file */
    {
      memset (changes[i].new_hash, 'f', STORE_HASH_LEN);
      changes[i].new_hash[STORE_HASH_LEN] = '\0';
      changes[i].new_bytes = 77;
    }
  g_assert_true (store_dump_change_photos (out, changes, 2, &error));
  g_assert_no_error (error);
  copy = store_open_foreign (out, &error); /* the schema is still ours to the letter */
  g_assert_no_error (error);
  entries = store_load_entries (copy, 0, NULL, &error);
  photos = store_load_photos (copy, &error);
  g_assert_cmpuint (photos->len, ==, 2);
  g_assert_cmpstr (hash_of_entry (entries, ids[0]), ==, changes[0].new_hash);
  g_assert_cmpstr (hash_of_entry (entries, ids[1]), ==, changes[0].new_hash);
  g_assert_cmpstr (hash_of_entry (entries, ids[2]), ==, c.hash);
  /* The old names are not even in free pages. */
  g_assert_true (g_file_get_contents (db, &bytes, &size, NULL));
  g_assert_null (memmem (bytes, size, a.hash, STORE_HASH_LEN));
  g_assert_nonnull (memmem (bytes, size, c.hash, STORE_HASH_LEN));
  store_close (store);
  testing_dir_remove (dir);
  testing_dir_remove (out);
  testing_dir_remove (outside);
}

/* ---- the n-th thing fails ---- */

typedef struct
{
  const char *name;
  Fault fault;
  gboolean stays;
  int least;
} FaultCase;

static const FaultCase fault_cases[] = {
  { "full-once", FAULT_FULL, FALSE, 5 },   { "full-stays", FAULT_FULL, TRUE, 5 },
  { "short", FAULT_SHORT_WRITE, FALSE, 5 }, { "sync", FAULT_SYNC, TRUE, 1 },
  { "open", FAULT_OPEN, FALSE, 1 },        { "memory", FAULT_NONE, FALSE, 20 },
};

static gboolean
is_empty (const char *dir)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);

  return g_dir_read_name (listing) == NULL;
}

static int
spent (const FaultCase *c)
{
  return c->fault == FAULT_NONE ? faulty_mem_spent : faulty_files.spent;
}

static void
test_faults (gconstpointer data)
{
  const FaultCase *c = data;
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  int failures = 0;

  add_notes (store, testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1), 0, 60);
  for (int n = 1;; n++)
    {
      char *out = testing_dir_new ();
      g_autoptr (GError) error = NULL;
      int before = spent (c);
      gboolean ok;

      g_assert_cmpint (n, <, 5000);
      if (c->fault == FAULT_NONE)
        faulty_mem_countdown = n;
      else
        {
          faulty_files = (FaultyFiles){ c->fault, n, c->stays, faulty_files.spent };
        }
      ok = store_dump (store, out, &error);
      faulty_off ();
      failures += !ok;
      if (ok)
        g_assert_cmpuint (count_foreign (out), ==, 60);
      else
        {
          g_assert_nonnull (error);
          g_assert_true (is_empty (out));
        }
      testing_dir_remove (out);
      if (spent (c) == before)
        break;
    }
  g_test_message ("%d failed", failures);
  g_assert_cmpint (failures, >=, c->least);
  g_assert_cmpuint (testing_count_problems (store), ==, 0); /* the journal itself is unharmed */
  store_close (store);
  g_assert_cmpuint (testing_count (dir), ==, 60);
  testing_dir_remove (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_install ();
  g_test_add_func ("/store/dump/pending", test_pending);
  g_test_add_func ("/store/dump/beside-a-writer", test_beside_a_writer);
  g_test_add_func ("/store/dump/same-bytes", test_same_bytes);
  g_test_add_func ("/store/dump/without-snapshots", test_without_snapshots);
  g_test_add_func ("/store/dump/change-photos", test_change_photos);
  for (gsize i = 0; i < G_N_ELEMENTS (fault_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/store/dump/faults/%s", fault_cases[i].name);

      g_test_add_data_func (path, &fault_cases[i], test_faults);
    }
  return g_test_run ();
}
