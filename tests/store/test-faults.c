/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-faults.c — the n-th allocation, write, sync fails, for every n: each time
 * the batch is in the journal whole, or not at all and the caller knows.
 *
 *   test-store-faults [--every]     each allocation, not a sample of them */
#include "store-faulty.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/mount.h>
#include <unistd.h>

static Fault armed_fault;
static gboolean armed_stays;

/* --- the loops ----------------------------------------------------------- */

static gboolean
append_three (Store *store, CoreId animal, guint turn, GError **error)
{
  StoreStamp stamp = testing_stamp (1750000000000 + turn, turn);
  CoreEntry *three[3];
  gboolean ok;

  for (int i = 0; i < 3; i++)
    three[i] = testing_note (animal, "swollen pads, hanging since noon", 20000 + i);
  ok = testing_append (store, three, 3, &stamp, error);
  g_assert_cmpint (core_id_is_none (three[2]->id), ==, !ok);
  for (int i = 0; i < 3; i++)
    core_entry_free (three[i]);
  return ok;
}

static gboolean
use_everything (Store *store, guint turn, GError **error)
{
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GArray) found = NULL;
  g_autoptr (GPtrArray) drafts = NULL;

  entries = store_load_entries (store, 0, NULL, error);
  if (entries == NULL)
    return FALSE;
  found = store_search (store, "pads noon", 100, error);
  if (found == NULL)
    return FALSE;
  g_assert_cmpuint (found->len, ==, MIN (entries->len, 100));
  if (!store_draft_put (store, "round:1", "all fed", turn, error))
    return FALSE;
  drafts = store_load_drafts (store, error);
  return drafts != NULL;
}

static void
arm_memory (int n)
{
  faulty_mem_countdown = n;
}

typedef enum
{
  WITH_OPEN,  /* the fault may strike while the journal is opened */
  ONLY_APPEND /* the journal is open already */
} Scope;

/* One run with the fault set; TRUE when the batch was acknowledged. */
static gboolean
run_once (const char *dir,
          CoreId animal,
          guint turn,
          Scope scope,
          void (*arm) (int),
          int n,
          GError **error)
{
  Store *store;
  gboolean ok = FALSE;

  if (scope == WITH_OPEN)
    arm (n);
  store = store_open (dir, STORE_OPEN, error);
  if (store != NULL)
    {
      if (scope == ONLY_APPEND)
        arm (n);
      ok = append_three (store, animal, turn, error);
      if (ok)
        {
          /* What was acknowledged stays so, whatever happens to the rest. */
          g_autoptr (GError) later = NULL;

          use_everything (store, turn, &later);
        }
    }
  faulty_off ();
  store_close (store);
  return ok;
}

#define MOST_NOTES 60 /* then another journal: what is in it is read at each turn */

static char *
small_journal (CoreId *animal)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);

  *animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  store_close (store);
  return dir;
}

static void
check_and_remove (char *dir)
{
  Store *store = testing_journal (dir);

  g_assert_cmpuint (testing_count_problems (store), ==, 0);
  store_close (store);
  testing_dir_remove (dir);
}

static void
fault_loop (Scope scope, void (*arm) (int), int *spent, const StoreError *allowed, int least)
{
  CoreId animal;
  char *dir = small_journal (&animal);
  guint count = 0;
  int failures = 0;
  int late = 0;
  int n;

  for (n = 1;; n = faulty_next (n, arm == arm_memory ? 7 : 1))
    {
      g_autoptr (GError) error = NULL;
      int before = *spent;
      int late_before = late;
      gboolean ok = run_once (dir, animal, (guint) n, scope, arm, n, &error);
      gboolean known = ok;

      for (gsize i = 0; !known && allowed[i] != STORE_ERROR_EXISTS; i++)
        known = g_error_matches (error, STORE_ERROR, (gint) allowed[i]);
      if (!known)
        g_error ("n = %d: %s", n, error != NULL ? error->message : "no error");
      failures += !ok;
      count += ok ? 3 : 0;
      /* A rollback journal is synced once more after the commit is in force:
       * when only that fails, the error comes with the batch written. */
      if (!ok && _store_test_network == 1 && armed_fault == FAULT_SYNC &&
          testing_count (dir) == count + 3)
        late++;
      count += late > late_before ? 3 : 0;
      g_assert_cmpuint (testing_count (dir), ==, count);
      if (*spent == before) /* the n-th never came */
        break;
      g_assert_cmpint (n, <, 5000);
      if (count < MOST_NOTES)
        continue;
      check_and_remove (dir);
      dir = small_journal (&animal);
      count = 0;
    }
  g_test_message ("%d faults, %d of those tried fatal to the batch", n - 1, failures);
  g_assert_cmpint (failures, >=, least);
  g_assert_cmpint (late, <=, 1);
  check_and_remove (dir);
}

static void
test_memory_append (void)
{
  static const StoreError allowed[] = { STORE_ERROR_NO_MEMORY, STORE_ERROR_EXISTS };

  fault_loop (ONLY_APPEND, arm_memory, &faulty_mem_spent, allowed, 30);
}

static void
test_memory_open (void)
{
  static const StoreError allowed[] = { STORE_ERROR_NO_MEMORY, STORE_ERROR_EXISTS };

  fault_loop (WITH_OPEN, arm_memory, &faulty_mem_spent, allowed, 100);
}

static void
arm_files (int n)
{
  faulty_files.fault = armed_fault;
  faulty_files.stays = armed_stays;
  faulty_files.countdown = n;
}

typedef struct
{
  const char *name;
  Fault fault;
  gboolean stays;
  int least; /* failures that must at least be seen, so that the loop bites */
  StoreError allowed[3];
} FileCase;

static const FileCase file_cases[] = {
  { "full-once", FAULT_FULL, FALSE, 3, { STORE_ERROR_FULL, STORE_ERROR_EXISTS } },
  { "full-stays", FAULT_FULL, TRUE, 3, { STORE_ERROR_FULL, STORE_ERROR_EXISTS } },
  { "short-write",
    FAULT_SHORT_WRITE,
    FALSE,
    3,
    { STORE_ERROR_FAILED, STORE_ERROR_FULL, STORE_ERROR_EXISTS } },
  { "sync-once", FAULT_SYNC, FALSE, 1, { STORE_ERROR_FAILED, STORE_ERROR_EXISTS } },
  { "sync-stays", FAULT_SYNC, TRUE, 1, { STORE_ERROR_FAILED, STORE_ERROR_EXISTS } },
};

/* Only a rollback journal is truncated at a commit. */
static const FileCase truncate_case = { "truncate",
                                        FAULT_TRUNCATE,
                                        FALSE,
                                        1,
                                        { STORE_ERROR_FAILED, STORE_ERROR_EXISTS } };

static void
test_files (gconstpointer data)
{
  const FileCase *file_case = data;

  armed_fault = file_case->fault;
  armed_stays = file_case->stays;
  fault_loop (ONLY_APPEND, arm_files, &faulty_files.spent, file_case->allowed, file_case->least);
}

/* The same over a network folder, where the journal is a rollback journal. */
static void
test_files_network (gconstpointer data)
{
  _store_test_network = 1;
  test_files (data);
  _store_test_network = -1;
}

/* A creation that fails at any point can be repeated in the same folder. */
static void
create_loop (void (*arm) (int), int *spent, int least)
{
  int failures = 0;

  for (int n = 1;; n = faulty_next (n, arm == arm_memory ? 7 : 1))
    {
      char *dir = testing_dir_new ();
      g_autoptr (GError) error = NULL;
      int before = *spent;
      Store *store;

      arm (n);
      store = store_open (dir, STORE_CREATE, &error);
      faulty_off ();
      if (store == NULL)
        {
          failures++;
          g_assert_true (g_error_matches (error, STORE_ERROR, STORE_ERROR_NO_MEMORY) ||
                         g_error_matches (error, STORE_ERROR, STORE_ERROR_FULL) ||
                         g_error_matches (error, STORE_ERROR, STORE_ERROR_FAILED));
          g_clear_error (&error);
          store = store_open (dir, STORE_CREATE, &error);
          if (g_error_matches (error, STORE_ERROR, STORE_ERROR_EXISTS))
            store = store_open (dir, STORE_OPEN, NULL); /* it had been made */
        }
      g_assert_nonnull (store);
      g_assert_cmpuint (testing_count_problems (store), ==, 0);
      store_close (store);
      testing_dir_remove (dir);
      if (*spent == before)
        break;
    }
  g_assert_cmpint (failures, >=, least);
}

static void
test_create (void)
{
  create_loop (arm_memory, &faulty_mem_spent, 50);
  armed_fault = FAULT_FULL;
  armed_stays = FALSE;
  create_loop (arm_files, &faulty_files.spent, 5);
  armed_fault = FAULT_SYNC;
  create_loop (arm_files, &faulty_files.spent, 1);
  armed_fault = FAULT_OPEN;
  create_loop (arm_files, &faulty_files.spent, 1);
}

/* ---- a journal of version 1 is brought to this version ---- */

static char *
old_journal (void)
{
  char *dir = testing_dir_new ();
  g_autofree char *from = g_test_build_filename (G_TEST_DIST, "..", "fixtures", "journal-v1.sqlite", NULL);
  g_autofree char *to = g_build_filename (dir, STORE_DB_NAME, NULL);
  g_autoptr (GError) error = NULL;

  _store_copy_path (from, to, &error);
  g_assert_no_error (error);
  return dir;
}

static int
version_of (const char *dir)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;
  int version;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "PRAGMA user_version", -1, &stmt, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
  version = sqlite3_column_int (stmt, 0);
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return version;
}

/* Opened, or refused with a known error and then the old one or the new one, never between; opened
 * again without a fault all is there. */
static void
migrate_once (void (*arm) (int), int n, guint entries, int *failures)
{
  char *dir = old_journal ();
  g_autoptr (GError) error = NULL;
  Store *store;
  int version;

  arm (n);
  store = store_open (dir, STORE_OPEN, &error);
  faulty_off ();
  if (store == NULL)
    {
      *failures += 1;
      g_assert_true (g_error_matches (error, STORE_ERROR, STORE_ERROR_NO_MEMORY) ||
                     g_error_matches (error, STORE_ERROR, STORE_ERROR_FULL) ||
                     g_error_matches (error, STORE_ERROR, STORE_ERROR_FAILED));
      version = version_of (dir);
      g_assert_true (version == 1 || version == STORE_SCHEMA);
    }
  store_close (store);
  store = testing_journal (dir);
  g_assert_cmpuint (testing_count_problems (store), ==, 2); /* its photos are not with it */
  store_close (store);
  g_assert_cmpuint (testing_count (dir), ==, entries);
  testing_dir_remove (dir);
}

static void
migrate_loop (void (*arm) (int), int *spent, int least)
{
  char *dir = old_journal ();
  guint entries = testing_count (dir);
  int failures = 0, before;

  g_assert_cmpuint (entries, >, 10);
  testing_dir_remove (dir);
  for (int n = 1;; n = faulty_next (n, arm == arm_memory ? 7 : 1))
    {
      before = *spent;
      migrate_once (arm, n, entries, &failures);
      if (*spent == before)
        break;
    }
  g_assert_cmpint (failures, >=, least);
}

static void
test_migrate (void)
{
  migrate_loop (arm_memory, &faulty_mem_spent, 20);
  armed_stays = FALSE;
  armed_fault = FAULT_FULL;
  migrate_loop (arm_files, &faulty_files.spent, 1);
  armed_fault = FAULT_SYNC;
  migrate_loop (arm_files, &faulty_files.spent, 1);
  armed_fault = FAULT_SHORT_WRITE;
  migrate_loop (arm_files, &faulty_files.spent, 1);
}

/* A disk of one megabyte, filled with photos and then with notes. */
static void
test_small_disk (void)
{
  char *mount_point = testing_dir_new ();
  char *outside = testing_dir_new ();
  g_autofree char *dir = g_build_filename (mount_point, "journal", NULL);
  g_autoptr (GError) error = NULL;
  g_autofree guint8 *noise = g_malloc (100000);
  Store *store;
  CoreId animal;
  guint notes = 0;

  if (mount ("tmpfs", mount_point, "tmpfs", 0, "size=1m") != 0)
    {
      g_test_skip ("mounting is not allowed here");
      testing_dir_remove (mount_point);
      testing_dir_remove (outside);
      return;
    }
  store = testing_journal (dir);
  animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  for (guint i = 0; i < 100 && error == NULL; i++)
    {
      StorePhoto photo = { 0 };
      int fd;

      memset (noise, (int) i, 100000);
      fd = testing_file (outside, "photo.jpg", noise, 100000);
      store_photo_put (store, fd, "jpg", &photo, NULL, &error);
      close (fd);
    }
  g_assert_error (error, STORE_ERROR, STORE_ERROR_FULL);
  g_clear_error (&error);
  for (guint i = 0; i < 1000 && append_three (store, animal, i, &error); i++)
    notes += 3;
  g_assert_error (error, STORE_ERROR, STORE_ERROR_FULL);
  g_clear_error (&error);
  g_assert_false (append_three (store, animal, 2000, &error));
  {
    g_autoptr (GPtrArray) entries = store_load_entries (store, 0, NULL, NULL);

    g_assert_cmpuint (entries->len, ==, notes);
  }
  store_close (store);
  g_assert_cmpuint (testing_count (dir), ==, notes);
  g_assert_cmpint (umount (mount_point), ==, 0);
  testing_dir_remove (mount_point);
  testing_dir_remove (outside);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_take_args (argc, argv);
  faulty_install ();
  g_test_add_func ("/store/faults/memory/append", test_memory_append);
  g_test_add_func ("/store/faults/memory/open", test_memory_open);
  for (gsize i = 0; i < G_N_ELEMENTS (file_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/store/faults/files/%s", file_cases[i].name);
      g_autofree char *net = g_strdup_printf ("/store/faults/network/%s", file_cases[i].name);

      g_test_add_data_func (path, &file_cases[i], test_files);
      g_test_add_data_func (net, &file_cases[i], test_files_network);
    }
  g_test_add_data_func ("/store/faults/network/truncate", &truncate_case, test_files_network);
  g_test_add_func ("/store/faults/migrate", test_migrate);
  g_test_add_func ("/store/faults/create", test_create);
  g_test_add_func ("/store/faults/small-disk", test_small_disk);
  return g_test_run ();
}
