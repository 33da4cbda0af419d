/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-testing.c — see store-testing.h. */
#define _XOPEN_SOURCE 700 /* nftw */
#include "store-testing.h"

#include <fcntl.h>
#include <ftw.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/core-date.h"

char *
testing_dir_new (void)
{
  /* In memory where there is such a place: the fault loops sync thousands of
   * times, and no test here can tell a disk from it. */
  const char *base = g_access ("/dev/shm", W_OK | X_OK) == 0 ? "/dev/shm" : g_get_tmp_dir ();
  char *dir = g_build_filename (base, "store-test-XXXXXX", NULL);

  g_assert_nonnull (g_mkdtemp (dir));
  return dir;
}

static int
remove_one (const char *path, const struct stat *st, int flag, struct FTW *ftw)
{
  return remove (path);
}

void
testing_dir_remove (char *dir)
{
  nftw (dir, remove_one, 16, FTW_DEPTH | FTW_PHYS);
  g_free (dir);
}

Store *
testing_journal (const char *dir)
{
  g_autoptr (GError) error = NULL;
  Store *store = store_open (dir, store_exists (dir) ? STORE_OPEN : STORE_CREATE, &error);

  g_assert_no_error (error);
  g_assert_nonnull (store);
  store_set_device (store, testing_id (999999));
  return store;
}

StoreStamp
testing_stamp (gint64 now_ms, guint seed)
{
  StoreStamp stamp = { .now_ms = now_ms };

  for (gsize i = 0; i < sizeof stamp.random; i++)
    stamp.random[i] = (guint8) (seed * 31 + i * 7);
  return stamp;
}

CoreId
testing_id (guint n)
{
  StoreStamp stamp = testing_stamp (1700000000000 + (gint64) n, n);

  return store_id_next ((CoreId){ { 0 } }, &stamp, n);
}

CoreId
testing_add_subject (Store *store, CoreSubjectKind kind, guint n)
{
  g_autoptr (GError) error = NULL;
  StoreSubject subject = { testing_id (n), kind };
  StoreBatch batch = { .subjects = &subject, .n_subjects = 1, .expect_seq = -1 };
  StoreStamp stamp = testing_stamp (1750000000000, n);

  g_assert_true (store_append (store, &batch, &stamp, NULL, &error));
  g_assert_no_error (error);
  return subject.id;
}

static const char *
text_for (CoreKey key, GRand *rand)
{
  static const char *const texts[] = {
    "plain", "O’Brien \"quoted\" \\ back", "äöüß 螳螂 🦗", "a, b; c", "x",
  };

  switch (key)
    {
    case CORE_KEY_HASH:
      return "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef";
    case CORE_KEY_KEY:
      return "name";
    case CORE_KEY_RULE:
      return "feed";
    case CORE_KEY_OUT_FROM:
    case CORE_KEY_OUT_TO:
      return "03:45";
    case CORE_KEY_CUE:
      return "antenna:male";
    case CORE_KEY_SERIES:
      return "1A50EtiB"; /* midnight, 23.8 °C, 55 % */
    default:
      return texts[g_rand_int_range (rand, 0, G_N_ELEMENTS (texts))];
    }
}

static CoreValueStatus
set_value (CoreEntry *entry, const CoreKindKey *key, GRand *rand)
{
  gint n_words = 0;

  switch (key->type)
    {
    case CORE_VALUE_CODE:
      while (key->words[n_words] != NULL)
        n_words++;
      return core_entry_set_word (entry, key->key, key->words[g_rand_int_range (rand, 0, n_words)]);
    case CORE_VALUE_INT:
      return core_entry_set_num (entry, key->key,
                                 floor (g_rand_double_range (rand, key->min, key->max)));
    case CORE_VALUE_REAL:
      return core_entry_set_num (entry, key->key, g_rand_double_range (rand, key->min, key->max));
    case CORE_VALUE_DAY:
      return core_entry_set_num (entry, key->key, g_rand_int_range (rand, -20000, 40000));
    case CORE_VALUE_REF:
      return core_entry_set_ref (entry, key->key, testing_id (g_rand_int_range (rand, 1, 99999)));
    case CORE_VALUE_LIST:
      return core_entry_set_text (entry, key->name, "1,2.5,-3.125,4000.75");
    case CORE_VALUE_DIST:
      return core_entry_set_text (entry, key->name, "0:.125,6:.7,8:.02");
    case CORE_VALUE_TEXT:
    default:
      return core_entry_set_text (entry, key->name, text_for (key->key, rand));
    }
}

CoreEntry *
testing_entry (CoreKind kind, CoreId subject, GRand *rand, gboolean all_keys)
{
  CoreEntry *entry = core_entry_new (kind);

  entry->subject = subject;
  entry->day = g_rand_int_range (rand, 10000, 30000);
  if (all_keys)
    {
      entry->earliest = entry->day - g_rand_int_range (rand, 0, 30);
      entry->minute = (int16_t) g_rand_int_range (rand, 0, 1440);
      entry->bulk = g_rand_boolean (rand);
      entry->names = testing_id (g_rand_int_range (rand, 1, 99999));
    }
  for (const CoreKindKey *key = core_kind_info (kind)->keys; key->key != CORE_KEY_NONE; key++)
    if (all_keys || key->required)
      g_assert_cmpint (set_value (entry, key, rand), ==, CORE_VALUE_OK);
  return entry;
}

CoreEntry *
testing_note (CoreId subject, const char *text, CoreDay day)
{
  CoreEntry *entry = core_entry_new (CORE_KIND_NOTE);

  entry->subject = subject;
  entry->day = day;
  g_assert_cmpint (core_entry_set_str (entry, CORE_KEY_TEXT, text), ==, CORE_VALUE_OK);
  return entry;
}

gboolean
testing_append (Store *store,
                CoreEntry *const *entries,
                gsize n,
                const StoreStamp *stamp,
                GError **error)
{
  StoreBatch batch = { .entries = entries, .n_entries = n, .expect_seq = -1 };

  return store_append (store, &batch, stamp, NULL, error);
}

void
testing_assert_same (const CoreEntry *a, const CoreEntry *b)
{
  g_assert_true (core_id_equal (a->id, b->id));
  g_assert_true (core_id_equal (a->subject, b->subject));
  g_assert_cmpint (a->kind, ==, b->kind);
  g_assert_cmpint (a->day, ==, b->day);
  g_assert_cmpint (a->earliest, ==, b->earliest);
  g_assert_cmpint (a->minute, ==, b->minute);
  g_assert_cmpint (a->written_ms, ==, b->written_ms);
  g_assert_true (core_id_equal (a->device, b->device));
  g_assert_true (core_id_equal (a->round, b->round));
  g_assert_true (core_id_equal (a->names, b->names));
  g_assert_cmpint (a->bulk, ==, b->bulk);
  g_assert_cmpstr (a->beyond, ==, b->beyond);
  g_assert_cmpuint (a->n_values, ==, b->n_values);
  for (gsize i = 0; i < a->n_values; i++)
    {
      g_assert_cmpint (a->values[i].key, ==, b->values[i].key);
      g_assert_cmpint (a->values[i].type, ==, b->values[i].type);
      g_assert_cmpfloat (a->values[i].n, ==, b->values[i].n);
      g_assert_true (core_id_equal (a->values[i].ref, b->values[i].ref));
      g_assert_cmpstr (a->values[i].text, ==, b->values[i].text);
    }
}

guint
testing_count (const char *dir)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (dir, STORE_OPEN, &error);
  g_autoptr (GPtrArray) entries = NULL;

  g_assert_no_error (error);
  entries = store_load_entries (store, 0, NULL, &error);
  g_assert_no_error (error);
  return entries->len;
}

int
testing_file (const char *dir, const char *name, const void *data, gsize n)
{
  g_autofree char *path = g_build_filename (dir, name, NULL);
  int fd;

  g_assert_true (g_file_set_contents (path, data, (gssize) n, NULL));
  fd = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  g_assert_cmpint (fd, >=, 0);
  return fd;
}

gsize
testing_count_problems (Store *store)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (StoreReport) report = NULL;

  g_assert_true (store_check (store, &report, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < report->problems->len; i++)
    {
      const StoreProblem *problem = g_ptr_array_index (report->problems, i);

      g_test_message ("problem %d: %s (%s)", problem->kind, problem->what,
                      problem->detail != NULL ? problem->detail : "-");
    }
  return report->problems->len;
}
