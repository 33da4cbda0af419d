/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-entries.c — what goes in comes out, whole or not at all. */
#include "store-testing.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

typedef struct
{
  char *dir;
  Store *store;
  CoreId animal;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  self->dir = testing_dir_new ();
  self->store = testing_journal (self->dir);
  self->animal = testing_add_subject (self->store, CORE_SUBJECT_ANIMAL, 1);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  store_close (self->store);
  testing_dir_remove (self->dir);
}

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

/* Each kind of the table, with all its keys and with as few as it allows, in
 * one journal; closed, opened, compared to the bit. */
static void
test_round_trip (Fixture *self, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260501);
  g_autoptr (GPtrArray) written = g_ptr_array_new_with_free_func (free_entry);
  g_autoptr (GPtrArray) read = NULL;
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000001000, 5);
  gint64 last_seq = 0;

  for (int turn = 0; turn < 4; turn++)
    for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
      g_ptr_array_add (written, testing_entry ((CoreKind) kind, self->animal, rand, turn % 2 == 0));
  g_assert_true (
    testing_append (self->store, (CoreEntry **) written->pdata, written->len, &stamp, &error));
  g_assert_no_error (error);
  store_close (self->store);
  self->store = testing_journal (self->dir);
  read = store_load_entries (self->store, 0, &last_seq, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (read->len, ==, written->len);
  g_assert_cmpint (last_seq, ==, written->len);
  for (guint i = 0; i < read->len; i++)
    testing_assert_same (g_ptr_array_index (read, i), g_ptr_array_index (written, i));
  g_assert_cmpuint (testing_count_problems (self->store), ==, 1); /* photo without its row */
}

/* What the kind table asks of the columns: a type that the column can hold, and
 * no column for two keys of one kind. */
static void
test_kind_table (void)
{
  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    {
      unsigned used = 0;

      for (const CoreKindKey *key = core_kind_info ((CoreKind) kind)->keys;
           key->key != CORE_KEY_NONE; key++)
        {
          gboolean number = key->type == CORE_VALUE_INT || key->type == CORE_VALUE_REAL ||
                            key->type == CORE_VALUE_DAY;

          if (key->column == CORE_COLUMN_MORE)
            continue;
          g_assert_cmpuint (used & 1u << key->column, ==, 0);
          used |= 1u << key->column;
          if (key->column == CORE_COLUMN_N || key->column == CORE_COLUMN_SD)
            g_assert_true (number);
          else if (key->column == CORE_COLUMN_REF)
            g_assert_cmpint (key->type, ==, CORE_VALUE_REF);
          else
            g_assert_true (!number && key->type != CORE_VALUE_REF);
        }
    }
}

static void
test_filled_in (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000002000, 6);
  CoreEntry *pair[] = { testing_note (self->animal, "one", 20000),
                        testing_note (self->animal, "two", 20000) };

  g_assert_true (testing_append (self->store, pair, 2, &stamp, &error));
  g_assert_no_error (error);
  g_assert_true (core_id_equal (pair[0]->round, pair[0]->id));
  g_assert_true (core_id_equal (pair[1]->round, pair[0]->id));
  g_assert_cmpint (core_id_compare (pair[0]->id, pair[1]->id), <, 0);
  g_assert_true (core_id_equal (pair[0]->device, store_get_device (self->store)));
  g_assert_cmpint (pair[1]->written_ms, ==, 1750000002000);
  core_entry_free (pair[0]);
  core_entry_free (pair[1]);
}

/* Ids ascend also when the clock goes back or stands still; two copies of a
 * journal that go on with the same clock do not meet. */
static void
test_ids (void)
{
  static const gint64 clocks[] = {
    1750000000000, 1750000000000, 1749999999999, 0, 1750000000001, 253402300799999, 5
  };
  CoreId last = { { 0 } };
  StoreStamp a = testing_stamp (1750000000000, 1);
  StoreStamp b = testing_stamp (1750000000000, 2);

  for (gsize i = 0; i < G_N_ELEMENTS (clocks); i++)
    for (guint turn = 0; turn < 5000; turn += 499)
      {
        StoreStamp stamp = testing_stamp (clocks[i], (guint) i);
        CoreId next = store_id_next (last, &stamp, turn);

        g_assert_cmpint (core_id_compare (last, next), <, 0);
        g_assert_cmphex (next.b[6] & 0xf0, ==, 0x70);
        g_assert_cmphex (next.b[8] & 0xc0, ==, 0x80);
        last = next;
      }
  last = testing_id (3);
  g_assert_false (core_id_equal (store_id_next (last, &a, 0), store_id_next (last, &b, 0)));
  g_assert_true (core_id_equal (store_id_next (last, &a, 0), store_id_next (last, &a, 0)));
  memset (last.b, 0xa5, sizeof last.b); /* no UUIDv7 */
  g_assert_cmpint (core_id_compare (store_id_next (last, &a, 0), last), >, 0);
}

/* The first 48 bits are the time of the stamp, big endian (RFC 9562, 5.7). */
static void
test_id_time (void)
{
  StoreStamp stamp = testing_stamp (0x017f22e279b0, 1);
  CoreId id = store_id_next ((CoreId){ { 0 } }, &stamp, 0);
  static const guint8 time[] = { 0x01, 0x7f, 0x22, 0xe2, 0x79, 0xb0 };

  g_assert_cmpmem (id.b, 6, time, 6);
}

static void
assert_refused (Fixture *self, StoreBatch *batch, StoreError code)
{
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000003000, 7);
  guint before = testing_count (self->dir);

  g_assert_false (store_append (self->store, batch, &stamp, NULL, &error));
  g_assert_error (error, STORE_ERROR, (gint) code);
  g_assert_cmpuint (strlen (error->message), >, 20);
  g_assert_cmpuint (testing_count (self->dir), ==, before);
}

/* One bad entry among good ones: none is written, none is touched. */
static void
test_all_or_nothing (Fixture *self, gconstpointer data)
{
  CoreEntry *good = testing_note (self->animal, "good", 20000);
  CoreEntry *stranger = testing_note (testing_id (77), "whose?", 20000);
  CoreEntry *incomplete = core_entry_new (CORE_KIND_NOTE);
  CoreEntry *list[] = { good, stranger };
  StoreBatch batch = { .entries = list, .n_entries = 2, .expect_seq = -1 };
  StoreSubject subjects[] = { { testing_id (50), CORE_SUBJECT_PLACE },
                              { self->animal, CORE_SUBJECT_LOT } };

  assert_refused (self, &batch, STORE_ERROR_NOT_FOUND);
  g_assert_true (core_id_is_none (good->id));
  g_assert_true (core_id_is_none (good->round));

  incomplete->subject = self->animal;
  incomplete->day = 20000;
  list[1] = incomplete;
  assert_refused (self, &batch, STORE_ERROR_FAILED);

  /* A subject that is something else already. */
  batch = (StoreBatch){ .subjects = subjects, .n_subjects = 2, .expect_seq = -1 };
  assert_refused (self, &batch, STORE_ERROR_EXISTS);
  {
    g_autoptr (GArray) there = store_load_subjects (self->store, NULL);

    g_assert_cmpuint (there->len, ==, 1);
  }
  /* Written since it was loaded. */
  list[1] = good;
  batch = (StoreBatch){ .entries = list, .n_entries = 1, .expect_seq = 41 };
  assert_refused (self, &batch, STORE_ERROR_STALE);
  batch.expect_seq = 0;
  {
    g_autoptr (GError) error = NULL;
    StoreStamp stamp = testing_stamp (1750000003000, 8);

    g_assert_true (store_append (self->store, &batch, &stamp, NULL, &error));
    g_assert_no_error (error);
  }
  /* The same id again. */
  batch.expect_seq = -1;
  assert_refused (self, &batch, STORE_ERROR_EXISTS);
  core_entry_free (good);
  core_entry_free (stranger);
  core_entry_free (incomplete);
}

/* The file itself refuses what the code would never ask. */
static void
test_entries_stay (Fixture *self, gconstpointer data)
{
  StoreStamp stamp = testing_stamp (1750000003000, 9);
  CoreEntry *note = testing_note (self->animal, "stays", 20000);

  g_assert_true (testing_append (self->store, &note, 1, &stamp, NULL));
  g_assert_false (_store_exec (self->store, "DELETE FROM entry", NULL));
  g_assert_false (_store_exec (self->store, "UPDATE entry SET day = 1", NULL));
  g_assert_false (_store_exec (self->store, "UPDATE entry SET more = 'no json'", NULL));
  g_assert_cmpuint (testing_count (self->dir), ==, 1);
  core_entry_free (note);
}

typedef struct
{
  const char *name;
  const char *sql;
} DamagedRow;

/* Written past us, with the checks of the table off: each is an error that says
 * which entry, and one problem for the check. */
static const DamagedRow damaged_rows[] = {
  { "kind", "UPDATE entry SET kind = 'eaten'" },
  { "id", "UPDATE entry SET id = x'00'" },
  { "none-id", "UPDATE entry SET id = zeroblob(16)" },
  { "subject", "UPDATE entry SET subject = x'0102'" },
  { "day-far", "UPDATE entry SET day = 99999999" },
  { "day-huge", "UPDATE entry SET day = 9223372036854775807" },
  { "minute", "UPDATE entry SET minute = 9999" },
  { "bulk", "UPDATE entry SET bulk = 7" },
  { "written", "UPDATE entry SET written_ms = -5" },
  { "names", "UPDATE entry SET names = x'aa'" },
  { "word", "UPDATE entry SET code = 'Perhaps!'" }, /* no word of any version */
  { "word-twice", "UPDATE entry SET code = 'perhaps', more = '{\"outcome\":\"taken\"}'" },
  { "number-range", "UPDATE entry SET n = 1e300" },
  { "ref-of-no-key", "UPDATE entry SET ref = zeroblob(16)" },
  { "text-bytes", "UPDATE entry SET text = CAST(x'ff00fe' AS TEXT)" },
  { "more-broken", "UPDATE entry SET more = '{\"batch\":'" },
  { "more-array", "UPDATE entry SET more = '[1,2]'" },
  { "more-no-name", "UPDATE entry SET more = '{\"Colour?\":\"green\"}'" },
  { "more-unknown-twice", "UPDATE entry SET more = '{\"colour\":\"green\",\"colour\":1}'" },
  { "more-unknown-nested", "UPDATE entry SET more = '{\"colour\":[1]}'" },
  { "more-type", "UPDATE entry SET more = '{\"batch\":1}'" },
  { "more-nested", "UPDATE entry SET more = '{\"batch\":{\"a\":1}}'" },
  { "more-twice", "UPDATE entry SET more = '{\"batch\":\"a\",\"batch\":\"b\"}'" },
};

static void
test_damaged_row (gconstpointer data)
{
  const DamagedRow *row = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  StoreStamp stamp = testing_stamp (1750000003000, 9);
  Fixture self;
  CoreEntry *fed;

  set_up (&self, NULL);
  fed = testing_entry (CORE_KIND_FED, self.animal, rand, TRUE);
  g_assert_true (testing_append (self.store, &fed, 1, &stamp, NULL));
  core_entry_free (fed);
  g_assert_true (_store_exec (self.store,
                              "DROP TRIGGER entry_keep; PRAGMA ignore_check_constraints = ON;"
                              "PRAGMA foreign_keys = OFF",
                              NULL));
  g_assert_true (_store_exec (self.store, row->sql, &error));
  g_assert_no_error (error);
  entries = store_load_entries (self.store, 0, NULL, &error);
  g_assert_error (error, STORE_ERROR, STORE_ERROR_CORRUPT);
  g_assert_nonnull (strstr (error->message, "Entry 1 "));
  g_assert_cmpuint (testing_count_problems (self.store), >=, 1);
  tear_down (&self, NULL);
}

/* What a later program may have written, or one that is being tried: it is no damage. */
typedef struct
{
  const char *name;
  const char *sql;
  const char *beyond;
} BeyondRow;

static const BeyondRow beyond_rows[] = {
  { "key", "UPDATE entry SET more = '{\"colour\":\"green, bright\"}'", "colour=green, bright" },
  { "number", "UPDATE entry SET more = '{\"batch\":\"a\",\"legs\":5.5}'", "legs=5.5" },
  { "two", "UPDATE entry SET code = 'spat out', more = '{\"legs\":5}'", "outcome=spat out, legs=5" },
  { "word", "UPDATE entry SET text = 'locust_egg'", "prey=locust_egg" },
};

static void
test_beyond (gconstpointer data)
{
  const BeyondRow *row = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (StoreReport) report = NULL;
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  StoreStamp stamp = testing_stamp (1750000003000, 9);
  Fixture self;
  CoreEntry *fed, *copy;

  set_up (&self, NULL);
  fed = testing_entry (CORE_KIND_FED, self.animal, rand, TRUE);
  g_assert_true (testing_append (self.store, &fed, 1, &stamp, NULL));
  g_assert_true (_store_exec (self.store, "DROP TRIGGER entry_keep", NULL));
  g_assert_true (_store_exec (self.store, row->sql, &error));
  entries = store_load_entries (self.store, 0, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (((CoreEntry *) entries->pdata[0])->beyond, ==, row->beyond);
  g_assert_cmpint (((CoreEntry *) entries->pdata[0])->day, ==, fed->day);
  g_assert_true (store_check (self.store, &report, &error));
  g_assert_cmpuint (report->problems->len, ==, 0);
  g_assert_cmpuint (report->n_entries, ==, 1);
  g_assert_cmpuint (report->beyond->len, ==, 1);
  g_assert_cmpstr (((StoreProblem *) report->beyond->pdata[0])->detail, ==, row->beyond);
  /* A copy of it cannot be written: what is not known would be lost without a word. */
  copy = core_entry_copy (entries->pdata[0]);
  g_assert_cmpstr (copy->beyond, ==, row->beyond);
  copy->id = (CoreId){ { 0 } };
  g_assert_false (testing_append (self.store, &copy, 1, &stamp, &error));
  core_entry_free (copy);
  core_entry_free (fed);
  tear_down (&self, NULL);
}

static void
test_search (Fixture *self, gconstpointer data)
{
  static const char *const notes[] = { "Hung upside down, wing pads swollen", "upside only",
                                       "Flügelscheiden geschwollen", "nothing" };
  static const struct
  {
    const char *query;
    guint n;
    int first; /* index into notes, -1 = none */
  } cases[] = {
    { "upside", 2, 1 },
    { "UPS", 2, 1 },
    { "pads upside", 1, 0 },
    { "flugelsch", 1, 2 },
    { "Flügel", 1, 2 },
    { "absent", 0, -1 },
    { "", 0, -1 },
    { "  -- !!", 0, -1 },
    { "upside\" OR \"nothing", 0, -1 },
    { "NEAR(upside", 0, -1 },
    { "text:upside*", 0, -1 },
    { "\xff\xfe upside", 2, 1 },
  };
  CoreId ids[G_N_ELEMENTS (notes)];

  for (gsize i = 0; i < G_N_ELEMENTS (notes); i++)
    {
      StoreStamp stamp = testing_stamp (1750000003000, 10 + (guint) i);
      CoreEntry *note = testing_note (self->animal, notes[i], 20000);

      g_assert_true (testing_append (self->store, &note, 1, &stamp, NULL));
      ids[i] = note->id;
      core_entry_free (note);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) found = store_search (self->store, cases[i].query, 10, &error);

      g_test_message ("%s", cases[i].query);
      g_assert_no_error (error);
      g_assert_cmpuint (found->len, ==, cases[i].n);
      if (cases[i].first >= 0)
        g_assert_true (core_id_equal (g_array_index (found, CoreId, 0), ids[cases[i].first]));
    }
  g_assert_cmpuint (testing_count_problems (self->store), ==, 0);
}

/* By the day of which they tell, whenever they were written. */
static void
test_search_order (Fixture *self, gconstpointer data)
{
  static const CoreDay days[] = { 20005, 20001, 20009, 20003 };
  static const int order[] = { 2, 0, 3 };
  CoreId ids[G_N_ELEMENTS (days)];
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) found = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      StoreStamp stamp = testing_stamp (1750000003000, 10 + (guint) i);
      CoreEntry *note = testing_note (self->animal, "hung", days[i]);

      g_assert_true (testing_append (self->store, &note, 1, &stamp, NULL));
      ids[i] = note->id;
      core_entry_free (note);
    }
  found = store_search (self->store, "hu", G_N_ELEMENTS (order), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (found->len, ==, G_N_ELEMENTS (order));
  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    g_assert_true (core_id_equal (g_array_index (found, CoreId, i), ids[order[i]]));
}

static void
test_drafts (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) drafts = NULL;
  const StoreDraft *draft;

  g_assert_true (store_draft_put (self->store, "round:1", "all fed", 1000, &error));
  g_assert_true (store_draft_put (self->store, "bench:1", "{}", 2000, &error));
  g_assert_true (store_draft_put (self->store, "round:1", "all fed, ä", 3000, &error));
  g_assert_true (store_draft_remove (self->store, "never", &error));
  g_assert_no_error (error);
  store_close (self->store);
  self->store = testing_journal (self->dir);
  drafts = store_load_drafts (self->store, &error);
  g_assert_cmpuint (drafts->len, ==, 2);
  draft = g_ptr_array_index (drafts, 0);
  g_assert_cmpstr (draft->key, ==, "round:1");
  g_assert_cmpstr (draft->body, ==, "all fed, ä");
  g_assert_cmpint (draft->written_ms, ==, 3000);
  g_clear_pointer (&drafts, g_ptr_array_unref);
  g_assert_true (store_draft_remove (self->store, "round:1", &error));
  g_assert_true (store_draft_remove (self->store, "bench:1", &error));
  drafts = store_load_drafts (self->store, &error);
  g_assert_cmpuint (drafts->len, ==, 0);
}

/* Ids made before the entries, so that one of a batch can name another. */
static void
test_made_ids (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000003000, 31);
  CoreEntry *pair[] = { testing_note (self->animal, "a", 1), core_entry_new (CORE_KIND_VOID) };
  CoreId ids[2];

  g_assert_true (store_make_ids (self->store, &stamp, ids, 2, &error));
  g_assert_no_error (error);
  g_assert_cmpint (core_id_compare (ids[0], ids[1]), <, 0);
  pair[0]->id = ids[0];
  pair[1]->subject = self->animal;
  pair[1]->day = 1;
  pair[1]->names = ids[0];
  g_assert_true (testing_append (self->store, pair, 2, &stamp, &error));
  g_assert_no_error (error);
  g_assert_true (core_id_equal (pair[0]->id, ids[0]));
  g_assert_cmpint (core_id_compare (pair[1]->id, ids[0]), >, 0);
  core_entry_free (pair[0]);
  core_entry_free (pair[1]);
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
  add ("/store/entries/round-trip", test_round_trip);
  add ("/store/entries/filled-in", test_filled_in);
  add ("/store/entries/all-or-nothing", test_all_or_nothing);
  add ("/store/entries/stay", test_entries_stay);
  add ("/store/entries/made-ids", test_made_ids);
  add ("/store/search", test_search);
  add ("/store/search/order", test_search_order);
  add ("/store/drafts", test_drafts);
  g_test_add_func ("/store/kind-table", test_kind_table);
  g_test_add_func ("/store/ids/ascend", test_ids);
  g_test_add_func ("/store/ids/time", test_id_time);
  for (gsize i = 0; i < G_N_ELEMENTS (damaged_rows); i++)
    {
      g_autofree char *path = g_strdup_printf ("/store/damaged-row/%s", damaged_rows[i].name);

      g_test_add_data_func (path, &damaged_rows[i], test_damaged_row);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (beyond_rows); i++)
    {
      g_autofree char *path = g_strdup_printf ("/store/beyond/%s", beyond_rows[i].name);

      g_test_add_data_func (path, &beyond_rows[i], test_beyond);
    }
  return g_test_run ();
}
