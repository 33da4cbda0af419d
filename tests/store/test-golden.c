/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-golden.c — a journal of every version that was ever released still opens,
 * and nothing in it has changed its meaning.
 *
 * The names and values below are written out, not taken from the tables: a kind
 * or word that is renamed must fail here. */
#include "store-testing.h"

#include <string.h>

#include "core/core-fold.h"

static const char *const kinds_1[] = {
  "acquired", "hatched", "looked",  "fed",    "gone",      "drank",     "misted",
  "watered",  "cleaned", "moulted", "stage",  "sign",      "belly",     "measured",
  "photo",    "marked",  "sexed",   "housed", "note",      "trouble",   "looks_dead",
  "died",     "escaped", "found",   "left",   "back",      "done",      "put_off",
  "set",      "reading", "power",   "void",   "paired",    "laid",      "called",
  "hatching", "culture", "split",   "joined", "recounted", "exchanged", "doubtful",
};

static const char *const kinds_2[] = {
  "acquired", "hatched", "looked",  "fed",    "gone",      "drank",     "misted",
  "watered",  "cleaned", "moulted", "stage",  "sign",      "belly",     "measured",
  "photo",    "marked",  "sexed",   "housed", "note",      "trouble",   "looks_dead",
  "died",     "escaped", "found",   "left",   "back",      "done",      "put_off",
  "set",      "reading", "power",   "void",   "paired",    "laid",      "called",
  "hatching", "culture", "split",   "joined", "recounted", "exchanged", "doubtful",
  "hardened", "dud",     "logged",
};

/* As SQL sees the file: what each column and member was called then. */
static const struct
{
  const char *sql;
  const char *value;
} raw_1[] = {
  { "SELECT count(*) FROM subject", "6" },
  { "SELECT group_concat(kind) FROM (SELECT kind FROM subject ORDER BY kind)",
    "animal,culture,eggcase,journal,lot,place" },
  { "SELECT count(*) FROM entry WHERE kind = 'fed' AND code IN ('offered', 'taken', 'refused',"
    " 'none_in_view') AND n BETWEEN 1 AND 1000 AND length(text) > 2"
    " AND json_type(more, '$.batch') = 'text'",
    "1" },
  { "SELECT text || ' ' || (n = round(n)) FROM entry WHERE kind = 'photo'",
    "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef 1" },
  { "SELECT json_extract(more, '$.likelihood') || ' ' || json_extract(more, '$.cue') || ' ' ||"
    " json_extract(more, '$.axis') FROM entry WHERE kind = 'marked'",
    "0:.125,6:.7,8:.02 antenna:male 1,2.5,-3.125,4000.75" },
  { "SELECT json_type(more, '$.wing_ratio') FROM entry WHERE kind = 'marked'", "real" },
  { "SELECT count(*) FROM entry WHERE length(ref) = 16 AND kind IN ('marked', 'housed')", "2" },
  { "SELECT text FROM entry WHERE kind = 'power'", "03:45" },
  { "SELECT hash || width || format || orientation || taken || taken_minute FROM photo",
    "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad2048jpg6202101110" },
  { "SELECT body FROM draft WHERE key = 'round:shelf'", "all fed 2 house flies" },
};

typedef struct
{
  const char *file;
  const char *const *kinds;
  gsize n_kinds;
  int version;
  guint more, subjects; /* entries after those of each kind */
} Golden;

static const Golden goldens[] = {
  { "journal-v1.sqlite", kinds_1, G_N_ELEMENTS (kinds_1), 1, 0, 6 },
  { "journal-v2.sqlite", kinds_2, G_N_ELEMENTS (kinds_2), 2, 0, 6 },
  { "journal-v3.sqlite", kinds_2, G_N_ELEMENTS (kinds_2), 3, 12, 8 }, /* no kind came */
};

static char *
unpack (const Golden *golden)
{
  char *dir = testing_dir_new ();
  g_autofree char *from = g_test_build_filename (G_TEST_DIST, "..", "fixtures", golden->file, NULL);
  g_autofree char *to = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autoptr (GError) error = NULL;

  _store_copy_path (from, to, &error);
  g_assert_no_error (error);
  return dir;
}

static int
version_of (const char *path)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;
  int version;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "PRAGMA user_version", -1, &stmt, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
  version = sqlite3_column_int (stmt, 0);
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return version;
}

static void
assert_entry (const Golden *golden, guint i, const CoreEntry *entry)
{
  g_assert_cmpstr (core_kind_info (entry->kind)->name, ==, golden->kinds[i]);
  g_assert_cmpint (entry->day, ==, 20001 + (int) i);
  g_assert_cmpint (entry->earliest, ==, entry->day - 2);
  g_assert_cmpint (entry->minute, ==, 615);
  g_assert_cmpint (entry->written_ms, ==, 1750000001001 + (gint64) i);
}

static void
test_opens (gconstpointer data)
{
  const Golden *golden = data;
  char *dir = unpack (golden);
  Store *store = testing_journal (dir);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = store_load_entries (store, 0, NULL, &error);
  g_autoptr (GArray) subjects = store_load_subjects (store, NULL);
  CoreEntry *note;
  StoreStamp stamp = testing_stamp (1760000000000, 1);

  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, golden->n_kinds + golden->more);
  for (guint i = 0; i < golden->n_kinds; i++)
    assert_entry (golden, i, g_ptr_array_index (entries, i));
  for (guint i = 0; i < entries->len; i++)
    g_assert_null (((CoreEntry *) g_ptr_array_index (entries, i))->beyond);
  g_assert_cmpuint (subjects->len, ==, golden->subjects);
  g_assert_cmpuint (testing_count_problems (store), ==, 2); /* its photos are not with it */
  note = testing_note (g_array_index (subjects, StoreSubject, 0).id, "goes on", 20500);
  g_assert_true (testing_append (store, &note, 1, &stamp, &error));
  g_assert_no_error (error);
  core_entry_free (note);
  store_close (store);
  testing_dir_remove (dir);
}

/* The steps up: writing brings an older journal there, a reader leaves it as it is, and a
 * program that knows less than its version refuses it (here: one of the version after ours). */
static void
test_steps_up (gconstpointer data)
{
  const Golden *golden = data;
  char *dir = unpack (golden);
  g_autofree char *newer = g_strdup_printf ("PRAGMA user_version = %d", STORE_SCHEMA + 1);
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  Store *store = store_open (dir, STORE_READ_ONLY, &error);
  gint64 version = 0;

  g_assert_no_error (error);
  store_close (store);
  g_assert_cmpint (version_of (path), ==, golden->version);
  store = store_open (dir, STORE_OPEN, &error);
  g_assert_no_error (error);
  g_assert_true (_store_get_int (store, "PRAGMA user_version", &version, NULL));
  g_assert_cmpint (version, ==, STORE_SCHEMA);
  entries = store_load_entries (store, 0, NULL, &error);
  g_assert_cmpuint (entries->len, ==, golden->n_kinds + golden->more);
  g_assert_true (_store_exec (store, newer, NULL));
  store_close (store);
  g_assert_null (store_open (dir, STORE_OPEN, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_TOO_NEW);
  testing_dir_remove (dir);
}

/* What came to be said since version 2 still means the same. */
static void
test_since_2 (void)
{
  char *dir = unpack (&goldens[2]);
  g_autoptr (GError) error = NULL;
  Store *store = store_open (dir, STORE_READ_ONLY, &error);
  g_autoptr (GPtrArray) entries = store_load_entries (store, 0, NULL, &error);
  const CoreEntry *const *all = (const CoreEntry *const *) entries->pdata;
  CoreState animal, lot;

  g_assert_no_error (error);
  core_state_init (&animal);
  core_state_init (&lot);
  g_assert_cmpint (core_fold (testing_id (21), CORE_SUBJECT_ANIMAL, all, entries->len, &animal), ==, CORE_OK);
  g_assert_cmpint (core_fold (testing_id (20), CORE_SUBJECT_LOT, all, entries->len, &lot), ==, CORE_OK);
  /* Two moults within two days: said to be sure. */
  g_assert_cmpuint (animal.moult_days.n, ==, 2);
  g_assert_cmpint (animal.moults, ==, 2);
  g_assert_cmpuint (animal.conflicts.n, ==, 0);
  g_assert_cmpuint (animal.troubles.n, ==, 1);
  g_assert_cmpint (animal.troubles.v[0].what, ==, CORE_TROUBLE_FLOODED);
  g_assert_cmpuint (animal.sex.n, ==, 1);
  g_assert_true (animal.sex.v[0].axis_by_program);
  g_assert_cmpuint (animal.measures.n, ==, 1);
  g_assert_cmpfloat (animal.measures.v[0].mm, ==, 17.5);
  g_assert_cmpstr (core_state_setting (&animal, "ahead"), ==, "yes");
  /* Four of ten had moulted, and the one that came out was of them. */
  g_assert_cmpint (lot.tally.count, ==, 9);
  g_assert_cmpint (lot.ahead.n, ==, 3);
  g_assert_cmpint (lot.ahead.out, ==, 0);
  core_state_clear (&animal);
  core_state_clear (&lot);
  store_close (store);
  testing_dir_remove (dir);
}

static void
test_raw_1 (void)
{
  char *dir = unpack (&goldens[0]);
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  for (gsize i = 0; i < G_N_ELEMENTS (raw_1); i++)
    {
      sqlite3_stmt *stmt = NULL;

      g_test_message ("%s", raw_1[i].sql);
      g_assert_cmpint (sqlite3_prepare_v2 (db, raw_1[i].sql, -1, &stmt, NULL), ==, SQLITE_OK);
      g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
      g_assert_cmpstr ((const char *) sqlite3_column_text (stmt, 0), ==, raw_1[i].value);
      sqlite3_finalize (stmt);
    }
  sqlite3_close (db);
  testing_dir_remove (dir);
}

/* A released step is never edited: the kept file and a new one of that version
 * have the same schema to the letter, and the foreign door lets it in. */
static void
test_schema (gconstpointer data)
{
  char *dir = unpack (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) foreign = store_open_foreign (dir, &error);

  g_assert_no_error (error);
  g_assert_nonnull (foreign);
  testing_dir_remove (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/store/golden/raw-1", test_raw_1);
  g_test_add_func ("/store/golden/since-2", test_since_2);
  for (gsize i = 0; i < G_N_ELEMENTS (goldens); i++)
    {
      g_autofree char *opens = g_strdup_printf ("/store/golden/opens/%s", goldens[i].file);
      g_autofree char *steps = g_strdup_printf ("/store/golden/steps-up/%s", goldens[i].file);
      g_autofree char *schema = g_strdup_printf ("/store/golden/schema/%s", goldens[i].file);

      g_test_add_data_func (opens, &goldens[i], test_opens);
      g_test_add_data_func (steps, &goldens[i], test_steps_up);
      g_test_add_data_func (schema, &goldens[i], test_schema);
    }
  return g_test_run ();
}
