/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-merge.c — two copies of a journal become one: the same set in either order, photos once,
 * all or nothing, and nothing from what is no copy. */
#include "store-faulty.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define DAY 20000

typedef struct
{
  char *base;
  char *a, *b; /* folders of two copies */
  CoreId animal;
} Pair;

static void
add_note (Store *store, CoreId animal, const char *text, guint turn)
{
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000000000 + turn, turn);
  CoreEntry *note = testing_note (animal, text, DAY);

  g_assert_true (testing_append (store, &note, 1, &stamp, &error));
  g_assert_no_error (error);
  core_entry_free (note);
}

static CoreEntry *
photo_entry (CoreId animal, const char *hash)
{
  CoreEntry *entry = core_entry_new (CORE_KIND_PHOTO);

  entry->subject = animal;
  entry->day = DAY;
  g_assert_cmpint (core_entry_set_str (entry, CORE_KEY_HASH, hash), ==, CORE_VALUE_OK);
  return entry;
}

/* A photo of that content, with its entry. */
static StorePhoto
add_photo (Store *store, const char *base, CoreId animal, const char *content, guint turn)
{
  g_autoptr (GError) error = NULL;
  StorePhoto photo = { .width = 4, .height = 3, .orientation = 1, .taken = DAY, .taken_minute = -1 };
  StoreStamp stamp = testing_stamp (1750000000000 + turn, turn);
  StoreBatch batch = { .photos = &photo, .n_photos = 1, .n_entries = 1, .expect_seq = -1 };
  CoreEntry *entry;
  int fd = testing_file (base, "photo.jpg", content, strlen (content));

  g_assert_true (store_photo_put (store, fd, "jpg", &photo, NULL, &error));
  close (fd);
  entry = photo_entry (animal, photo.hash);
  batch.entries = &entry;
  g_assert_true (store_append (store, &batch, &stamp, NULL, &error));
  g_assert_no_error (error);
  core_entry_free (entry);
  return photo;
}

/* Two copies of a journal with an animal and a note. */
static Pair
pair_new (void)
{
  Pair pair = { .base = testing_dir_new () };
  g_autoptr (GError) error = NULL;
  Store *store;

  pair.a = g_build_filename (pair.base, "a", NULL);
  pair.b = g_build_filename (pair.base, "b", NULL);
  store = testing_journal (pair.a);
  pair.animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  add_note (store, pair.animal, "of both", 1);
  g_assert_cmpint (g_mkdir (pair.b, 0700), ==, 0);
  g_assert_true (store_dump (store, pair.b, &error));
  g_assert_no_error (error);
  store_close (store);
  return pair;
}

static void
pair_clear (Pair *pair)
{
  g_free (pair->a);
  g_free (pair->b);
  testing_dir_remove (pair->base);
}

static StoreMerge *
merge (const char *into, const char *from, GError **error)
{
  g_autoptr (Store) store = store_open (into, STORE_OPEN, error);
  g_autoptr (Store) other = store != NULL ? store_open_foreign (from, error) : NULL;

  return other == NULL ? NULL : store_merge (store, other, STORE_MERGE_ALL, error);
}

static StoreMerge *
merge_well (const char *into, const char *from)
{
  g_autoptr (GError) error = NULL;
  StoreMerge *merged = merge (into, from, &error);

  g_assert_no_error (error);
  return merged;
}

/* Rows past the rule that entries are never changed. */
static void
change_rows (Store *store, const char *sql)
{
  g_assert_true (_store_exec (store, "DROP TRIGGER entry_keep", NULL));
  g_assert_true (_store_exec (store, sql, NULL));
  g_assert_true (_store_exec (store,
                              "CREATE TRIGGER entry_keep BEFORE UPDATE ON entry BEGIN"
                              "  SELECT RAISE (ABORT, 'entries are never changed');"
                              " END",
                              NULL));
}

static char *
more_of_note (Store *store)
{
  g_autoptr (Stmt) stmt = _store_prepare (store, "SELECT more FROM entry WHERE text = 'of b'", NULL);

  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
  return g_strdup ((const char *) sqlite3_column_text (stmt, 0));
}

/* A key that this program does not know comes over to the letter, blanks and all, and is in the copies
 * of the whole. */
static void
test_beyond (void)
{
  static const char more[] = "{ \"legs\" : 5.50, \"seen_by\":\"Ada\" }";
  Pair pair = pair_new ();
  g_autofree char *sql = g_strdup_printf ("UPDATE entry SET more = '%s' WHERE text = 'of b'", more);
  g_autofree char *salvaged = g_build_filename (pair.base, "salvaged", NULL);
  g_autofree char *dumped = g_build_filename (pair.base, "dumped", NULL);
  const char *dirs[] = { pair.a, salvaged, dumped };
  StoreSalvage saved;
  g_autoptr (StoreMerge) merged = NULL;
  Store *store = testing_journal (pair.b);

  add_note (store, pair.animal, "of b", 7);
  change_rows (store, sql);
  store_close (store);
  merged = merge_well (pair.a, pair.b);
  g_assert_cmpuint (merged->entries, ==, 1);
  g_assert_true (store_salvage (pair.b, salvaged, &saved, NULL));
  g_assert_cmpuint (saved.entries, ==, 2);
  g_assert_cmpuint (saved.entries_lost, ==, 0);
  g_assert_cmpint (g_mkdir (dumped, 0700), ==, 0);
  store = testing_journal (pair.b);
  g_assert_true (store_dump (store, dumped, NULL));
  store_close (store);
  for (gsize i = 0; i < G_N_ELEMENTS (dirs); i++)
    {
      g_autofree char *there = NULL;

      store = testing_journal (dirs[i]);
      there = more_of_note (store);
      g_assert_cmpstr (there, ==, more);
      store_close (store);
    }
  pair_clear (&pair);
}

static int
compare_ids (gconstpointer a, gconstpointer b)
{
  return core_id_compare ((*(CoreEntry *const *) a)->id, (*(CoreEntry *const *) b)->id);
}

static GPtrArray *
entries_of (const char *dir)
{
  g_autoptr (Store) store = testing_journal (dir);
  GPtrArray *entries = store_load_entries (store, 0, NULL, NULL);

  g_assert_nonnull (entries);
  g_ptr_array_sort (entries, compare_ids);
  return entries;
}

static void
assert_same_set (const char *a, const char *b)
{
  g_autoptr (GPtrArray) x = entries_of (a);
  g_autoptr (GPtrArray) y = entries_of (b);

  g_assert_cmpuint (x->len, ==, y->len);
  for (guint i = 0; i < x->len; i++)
    testing_assert_same (x->pdata[i], y->pdata[i]);
}

static void
assert_sound (const char *dir)
{
  g_autoptr (Store) store = testing_journal (dir);

  g_assert_cmpuint (testing_count_problems (store), ==, 0);
}

/* Each side adds entries of every kind, an animal and photos, one of them on both sides. */
static void
diverge (const Pair *pair, gboolean second)
{
  g_autoptr (Store) store = testing_journal (second ? pair->b : pair->a);
  g_autoptr (GRand) rand = g_rand_new_with_seed (second ? 2 : 1);
  guint first = second ? 500 : 100;
  CoreId own;

  store_set_device (store, testing_id (second ? 7 : 8));
  own = testing_add_subject (store, CORE_SUBJECT_ANIMAL, first);
  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    {
      StoreStamp stamp = testing_stamp (1750000000000 + first + (guint) kind, first + (guint) kind);
      CoreEntry *entry;

      if (kind == CORE_KIND_PHOTO)
        continue;
      entry = testing_entry ((CoreKind) kind, kind % 2 == 0 ? own : pair->animal, rand, TRUE);
      g_assert_true (testing_append (store, &entry, 1, &stamp, NULL));
      core_entry_free (entry);
    }
  add_photo (store, pair->base, own, second ? "of the second" : "of the first", first + 90);
  add_photo (store, pair->base, own, "of both", first + 91);
  add_note (store, pair->animal, second ? "at the fair" : "at home", first + 95);
}

static void
test_either_order (void)
{
  Pair pair = pair_new ();
  g_autofree char *third = g_build_filename (pair.base, "third", NULL);
  g_autoptr (StoreMerge) there = NULL;
  g_autoptr (StoreMerge) back = NULL;
  g_autoptr (StoreMerge) again = NULL;

  diverge (&pair, FALSE);
  diverge (&pair, TRUE);
  there = merge_well (pair.a, pair.b);
  g_assert_cmpuint (there->entries, ==, CORE_N_KINDS - 2 + 3);
  g_assert_cmpuint (there->both, ==, 1);
  g_assert_cmpuint (there->subjects[CORE_SUBJECT_ANIMAL], ==, 1);
  g_assert_cmpuint (there->photos, ==, 1);
  g_assert_cmpuint (there->files, ==, 1);
  g_assert_cmpuint (there->left->len, ==, 0);
  back = merge_well (pair.b, pair.a);
  g_assert_cmpuint (back->entries, ==, there->entries);
  g_assert_cmpuint (back->files, ==, 1);
  assert_same_set (pair.a, pair.b);
  assert_sound (pair.a);
  assert_sound (pair.b);
  again = merge_well (pair.a, pair.b);
  g_assert_cmpuint (again->entries + again->photos + again->files, ==, 0);
  g_assert_cmpuint (again->both, ==, there->both + there->entries + back->entries);
  pair_clear (&pair);
}

/* Whatever the clock says, what is written after a merge comes after all that came with it. */
static void
test_ids_ascend (void)
{
  Pair pair = pair_new ();
  g_autoptr (Store) ahead = testing_journal (pair.b);
  g_autoptr (StoreMerge) merged = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  StoreStamp late = testing_stamp (1950000000000, 3);
  CoreEntry *note = testing_note (pair.animal, "by a clock that is years ahead", DAY);
  Store *store;

  g_assert_true (testing_append (ahead, &note, 1, &late, NULL));
  core_entry_free (note);
  g_clear_pointer (&ahead, store_close);
  merged = merge_well (pair.a, pair.b);
  store = testing_journal (pair.a);
  add_note (store, pair.animal, "afterwards", 9);
  entries = store_load_entries (store, 0, NULL, NULL);
  for (guint i = 1; i < entries->len; i++)
    g_assert_cmpint (compare_ids (&entries->pdata[i - 1], &entries->pdata[i]), <, 0);
  store_close (store);
  pair_clear (&pair);
}

static void
test_photos_left (void)
{
  Pair pair = pair_new ();
  Store *store = testing_journal (pair.b);
  StorePhoto gone = add_photo (store, pair.base, pair.animal, "taken away", 20);
  StorePhoto changed = add_photo (store, pair.base, pair.animal, "changed", 21);
  StorePhoto good = add_photo (store, pair.base, pair.animal, "good", 22);
  g_autofree char *gone_path = store_photo_path (store, &gone);
  g_autofree char *changed_path = store_photo_path (store, &changed);
  g_autofree char *good_here = NULL;
  g_autoptr (StoreMerge) merged = NULL;
  g_autoptr (StoreMerge) mended = NULL;

  store_close (store);
  g_assert_cmpint (g_unlink (gone_path), ==, 0);
  g_assert_true (g_file_set_contents (changed_path, "chanGed", -1, NULL));
  merged = merge_well (pair.a, pair.b);
  g_assert_cmpuint (merged->entries, ==, 3);
  g_assert_cmpuint (merged->photos, ==, 3);
  g_assert_cmpuint (merged->files, ==, 1);
  g_assert_cmpuint (merged->left->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const StoreMergeLeft *left = &g_array_index (merged->left, StoreMergeLeft, i);

      g_assert_cmpstr (left->hash, ==, left->why == STORE_MERGE_MISSING ? gone.hash : changed.hash);
    }
  assert_same_set (pair.a, pair.b);
  store = testing_journal (pair.a);
  good_here = store_photo_path (store, &good);
  g_assert_true (g_file_test (good_here, G_FILE_TEST_IS_REGULAR));
  g_assert_cmpuint (testing_count_problems (store), ==, 2);
  store_close (store);
  /* A copy that has the file brings it when it comes again. */
  g_assert_true (g_file_set_contents (changed_path, "changed", -1, NULL));
  mended = merge_well (pair.a, pair.b);
  g_assert_cmpuint (mended->entries + mended->photos, ==, 0);
  g_assert_cmpuint (mended->files, ==, 1);
  g_assert_cmpuint (mended->left->len, ==, 1);
  pair_clear (&pair);
}

/* ---- what is refused, with nothing written ---- */

static void
assert_refused (const Pair *pair, StoreError code)
{
  guint before = testing_count (pair->a);
  g_autoptr (GError) error = NULL;

  g_assert_null (merge (pair->a, pair->b, &error));
  g_assert_error (error, STORE_ERROR, (gint) code);
  g_assert_nonnull (strstr (error->message, "Nothing was written"));
  g_assert_cmpuint (testing_count (pair->a), ==, before);
  assert_sound (pair->a);
}

static void
run_sql (const char *dir, const char *sql)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, sql, NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
}

typedef struct
{
  const char *name;
  const char *sql;
  StoreError code;
} RefusedCase;

static const RefusedCase refused_cases[] = {
  { "newer", "PRAGMA user_version = 99", STORE_ERROR_TOO_NEW },
  { "not-ours", "PRAGMA application_id = 7", STORE_ERROR_CORRUPT },
  { "trigger",
    "CREATE TRIGGER own AFTER INSERT ON draft BEGIN DELETE FROM draft; END",
    STORE_ERROR_CORRUPT },
  { "other-content",
    "DROP TRIGGER entry_keep; UPDATE entry SET text = 'of neither';"
    "CREATE TRIGGER entry_keep BEFORE UPDATE ON entry BEGIN"
    "  SELECT RAISE (ABORT, 'entries are never changed'); END",
    STORE_ERROR_DIFFERS },
  { "other-kind", "UPDATE subject SET kind = 'place'", STORE_ERROR_DIFFERS },
  { "no-subject",
    "INSERT INTO entry SELECT 99, x'01980000000070008000000000000001', randomblob(16), kind, day,"
    " earliest, minute, written_ms, device, round, names, bulk, code, n, sd, ref, text, more"
    " FROM entry LIMIT 1",
    STORE_ERROR_CORRUPT },
  { "no-kind",
    "INSERT INTO entry SELECT 99, x'01980000000070008000000000000001', subject, 'unheard of', day,"
    " earliest, minute, written_ms, device, round, names, bulk, code, n, sd, ref, text, more"
    " FROM entry LIMIT 1",
    STORE_ERROR_CORRUPT },
  { "bad-id",
    "INSERT INTO entry SELECT 99, x'ffffffffffffffffffffffffffffffff', subject, kind, day,"
    " earliest, minute, written_ms, device, round, names, bulk, code, n, sd, ref, text, more"
    " FROM entry LIMIT 1",
    STORE_ERROR_CORRUPT },
  { "last-id", /* a sound id of the last millisecond of 9999: nothing could come after it */
    "INSERT INTO entry SELECT 99, x'e677d21fdbff7fffbfffffffffffffff', subject, kind, day,"
    " earliest, minute, written_ms, device, round, names, bulk, code, n, sd, ref, text, more"
    " FROM entry LIMIT 1",
    STORE_ERROR_CORRUPT },
};

static void
test_refused (gconstpointer data)
{
  const RefusedCase *refused = data;
  Pair pair = pair_new ();

  run_sql (pair.b, refused->sql);
  assert_refused (&pair, refused->code);
  pair_clear (&pair);
}

/* A page in the middle of the file is noise. */
static void
test_damaged (void)
{
  Pair pair = pair_new ();
  g_autofree char *path = g_build_filename (pair.b, STORE_DB_NAME, NULL);
  Store *store = testing_journal (pair.b);
  g_autofree char *bytes = NULL;
  gsize n;

  for (guint i = 0; i < 200; i++)
    add_note (store, pair.animal, "a note that fills some pages of the file", 100 + i);
  store_close (store);
  g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  memset (bytes + n / 2, 0x5a, 4096);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) n, NULL));
  assert_refused (&pair, STORE_ERROR_CORRUPT);
  pair_clear (&pair);
}

static void
test_itself (void)
{
  Pair pair = pair_new ();
  g_autofree char *link = g_build_filename (pair.base, "link", NULL);
  g_autofree char *upper = g_build_filename (pair.base, "b", "..", "a", NULL);

  g_assert_cmpint (symlink (pair.a, link), ==, 0);
  g_assert_true (store_is_same (pair.a, link));
  g_assert_true (store_is_same (pair.a, upper));
  g_assert_false (store_is_same (pair.a, pair.b));
  g_assert_false (store_is_same (pair.a, pair.base));
  pair_clear (&pair);
}

/* ---- faults ---- */

static void
arm_memory (int n)
{
  faulty_mem_countdown = n;
}

static void
arm_full (int n)
{
  faulty_files.fault = FAULT_FULL;
  faulty_files.countdown = n;
}

static void
arm_sync (int n)
{
  faulty_files.fault = FAULT_SYNC;
  faulty_files.countdown = n;
}

typedef struct
{
  const char *name;
  void (*arm) (int);
  int *spent;
  int least;
  int skip; /* past the first forty, every so many */
} FaultCase;

static const FaultCase fault_cases[] = {
  { "memory", arm_memory, &faulty_mem_spent, 50, 24 },
  { "full", arm_full, &faulty_files.spent, 3, 0 },
  { "sync", arm_sync, &faulty_files.spent, 1, 0 },
};

/* One merge with the n-th request failing: whole, or nothing and it says so. */
static gboolean
merge_with_fault (const FaultCase *fault, int n)
{
  Pair pair = pair_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (StoreMerge) merged = NULL;
  Store *store, *other;
  gboolean ok;

  diverge (&pair, TRUE);
  store = testing_journal (pair.a);
  other = store_open_foreign (pair.b, &error);
  g_assert_no_error (error);
  fault->arm (n);
  merged = store_merge (store, other, STORE_MERGE_ALL, &error);
  faulty_off ();
  store_close (other);
  store_close (store);
  ok = merged != NULL;
  if (!ok)
    g_assert_true (g_error_matches (error, STORE_ERROR, STORE_ERROR_NO_MEMORY) ||
                   g_error_matches (error, STORE_ERROR, STORE_ERROR_FULL) ||
                   g_error_matches (error, STORE_ERROR, STORE_ERROR_FAILED));
  g_assert_cmpuint (testing_count (pair.a), ==, ok ? testing_count (pair.b) : 1);
  g_clear_pointer (&merged, store_merge_free);
  merged = merge_well (pair.a, pair.b);
  assert_same_set (pair.a, pair.b);
  assert_sound (pair.a);
  pair_clear (&pair);
  return ok;
}

static void
test_faults (gconstpointer data)
{
  const FaultCase *fault = data;
  int failures = 0;

  for (int n = 1;; n += n > 40 ? 1 + fault->skip : 1)
    {
      int before = *fault->spent;

      failures += !merge_with_fault (fault, n);
      if (*fault->spent == before)
        break;
      g_assert_cmpint (n, <, 20000);
    }
  g_assert_cmpint (failures, >=, fault->least);
}

/* What a program reads after another copy came in: all of it, or an error that says why. */
static gboolean
read_all (Store *store, const StorePhoto *photo, CoreId last, GError **error)
{
  g_autoptr (GArray) subjects = store_load_subjects (store, error);
  g_autoptr (GArray) photos = subjects != NULL ? store_load_photos (store, error) : NULL;
  g_autoptr (GArray) merged = photos != NULL ? store_load_merged (store, error) : NULL;
  StorePhoto found;
  CoreEntry *entry = NULL;
  gint64 seq;

  if (merged == NULL)
    return FALSE;
  g_assert_cmpuint (subjects->len, ==, 1);
  g_assert_cmpuint (photos->len, ==, 1);
  g_assert_cmpuint (merged->len, ==, 1);
  if (!store_photo_find (store, photo->hash, &found, error) ||
      !store_find_entry (store, last, &seq, &entry, error))
    return FALSE;
  g_assert_nonnull (entry);
  core_entry_free (entry);
  return TRUE;
}

static void
test_read_without_memory (void)
{
  Pair pair = pair_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (StoreMerge) merged = NULL;
  g_autoptr (GPtrArray) all = NULL;
  Store *store = store_open (pair.b, STORE_OPEN, &error);
  StorePhoto photo;
  CoreId last;
  int failures = 0, before;

  g_assert_no_error (error);
  photo = add_photo (store, pair.base, pair.animal, "of one", 2);
  store_close (store);
  merged = merge_well (pair.a, pair.b);
  store = store_open (pair.a, STORE_OPEN, &error); /* as the machine that merged */
  g_assert_no_error (error);
  all = store_load_entries (store, 0, NULL, &error);
  g_assert_no_error (error);
  last = ((CoreEntry *) all->pdata[all->len - 1])->id;
  for (int n = 1;; n++)
    {
      gboolean ok;

      _store_drop_ready (store); /* as of a journal just opened */
      before = faulty_mem_spent;
      faulty_mem_countdown = n;
      ok = read_all (store, &photo, last, &error);
      faulty_off ();
      if (!ok)
        g_assert_error (error, STORE_ERROR, STORE_ERROR_NO_MEMORY);
      g_clear_error (&error);
      failures += !ok;
      if (faulty_mem_spent == before)
        break;
      g_assert_cmpint (n, <, 5000);
    }
  g_assert_cmpint (failures, >=, 50);
  store_close (store);
  pair_clear (&pair);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_install ();
  g_test_add_func ("/store/merge/beyond", test_beyond);
  g_test_add_func ("/store/merge/either-order", test_either_order);
  g_test_add_func ("/store/merge/ids-ascend", test_ids_ascend);
  g_test_add_func ("/store/merge/photos-left", test_photos_left);
  for (gsize i = 0; i < G_N_ELEMENTS (refused_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/store/merge/refused/%s", refused_cases[i].name);

      g_test_add_data_func (path, &refused_cases[i], test_refused);
    }
  g_test_add_func ("/store/merge/damaged", test_damaged);
  g_test_add_func ("/store/merge/itself", test_itself);
  g_test_add_func ("/store/merge/read-without-memory", test_read_without_memory);
  for (gsize i = 0; i < G_N_ELEMENTS (fault_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/store/merge/faults/%s", fault_cases[i].name);

      g_test_add_data_func (path, &fault_cases[i], test_faults);
    }
  return g_test_run ();
}
