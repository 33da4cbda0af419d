/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-open.c — what is opened how, and what is refused in which words. */
#include "store-testing.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define NOBODY 65534

static void
assert_open_fails (const char *dir, StoreFlags flags, StoreError code)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (dir, flags, &error);

  g_assert_null (store);
  g_assert_error (error, STORE_ERROR, (gint) code);
  g_assert_cmpuint (strlen (error->message), >, 20);
}

static void
assert_mode (const char *dir, const char *name, guint mode)
{
  g_autofree char *path = g_build_filename (dir, name, NULL);
  GStatBuf st;

  g_assert_cmpint (g_stat (path, &st), ==, 0);
  g_assert_cmphex (st.st_mode & 0777, ==, mode);
}

static void
add_note (Store *store, CoreId animal, guint turn)
{
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000000000 + turn, turn);
  CoreEntry *note = testing_note (animal, "a note", 20000);

  g_assert_true (testing_append (store, &note, 1, &stamp, &error));
  g_assert_no_error (error);
  core_entry_free (note);
}

/* Only the keeper reads the journal, whatever the umask says. */
static void
test_permissions (void)
{
  char *base = testing_dir_new ();
  g_autofree char *dir = g_build_filename (base, "new", "journal", NULL);
  mode_t before = umask (0);
  Store *store = testing_journal (dir);

  add_note (store, testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1), 1);
  umask (before);
  assert_mode (dir, ".", 0700);
  assert_mode (dir, "journal.sqlite", 0600);
  assert_mode (dir, "journal.sqlite-wal", 0600);
  assert_mode (dir, "journal.lock", 0600);
  store_close (store);
  testing_dir_remove (base);
}

static void
put (const char *dir, const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (dir, name, NULL);

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
}

static void
test_create_refuses (void)
{
  char *dir = testing_dir_new ();
  g_autofree char *inside = g_build_filename (dir, "file", "journal", NULL);
  Store *store;

  put (dir, "file", "something of the keeper's");
  assert_open_fails (dir, STORE_CREATE, STORE_ERROR_EXISTS);
  assert_open_fails (inside, STORE_CREATE, STORE_ERROR_FAILED);
  {
    g_autofree char *path = g_build_filename (dir, "file", NULL);
    g_unlink (path);
  }
  put (dir, STORE_DB_NAME, ""); /* a creation that was cut off */
  store = store_open (dir, STORE_CREATE, NULL);
  g_assert_nonnull (store);
  store_close (store);
  assert_open_fails (dir, STORE_CREATE, STORE_ERROR_EXISTS);
  testing_dir_remove (dir);
}

static void
plain_sql (const char *dir, const char *sql)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, sql, NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_close (db), ==, SQLITE_OK);
}

/* Refused, and left as it was to the byte. */
static void
test_refuses (void)
{
  static const struct
  {
    const char *text;
    const char *sql;
    StoreError code;
  } cases[] = {
    { "Dear diary, today I fed all of them.\n", NULL, STORE_ERROR_CORRUPT },
    { "", NULL, STORE_ERROR_CORRUPT },
    { NULL, "CREATE TABLE recipe (id INTEGER PRIMARY KEY)", STORE_ERROR_CORRUPT },
    { NULL, "PRAGMA application_id = 1296979012; PRAGMA user_version = 4", STORE_ERROR_TOO_NEW },
    { NULL, "PRAGMA application_id = 1296979012; PRAGMA user_version = -1", STORE_ERROR_CORRUPT },
    { NULL, "PRAGMA application_id = 1296979012; PRAGMA user_version = 1", STORE_ERROR_CORRUPT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      char *dir = testing_dir_new ();
      g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
      g_autofree char *before = NULL;
      g_autofree char *after = NULL;
      gsize n_before, n_after;

      g_test_message ("case %zu", i);
      if (cases[i].text != NULL)
        put (dir, STORE_DB_NAME, cases[i].text);
      else
        plain_sql (dir, cases[i].sql);
      g_assert_true (g_file_get_contents (path, &before, &n_before, NULL));
      assert_open_fails (dir, STORE_OPEN, cases[i].code);
      assert_open_fails (dir, STORE_READ_ONLY, cases[i].code);
      g_assert_true (g_file_get_contents (path, &after, &n_after, NULL));
      g_assert_cmpmem (before, n_before, after, n_after);
      testing_dir_remove (dir);
    }
  assert_open_fails ("/nonexistent/journal", STORE_OPEN, STORE_ERROR_NOT_FOUND);
}

static void
test_newer (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  g_autoptr (GError) error = NULL;

  add_note (store, testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1), 1);
  store_close (store);
  plain_sql (dir, "PRAGMA user_version = 4");
  assert_open_fails (dir, STORE_OPEN, STORE_ERROR_TOO_NEW);
  g_assert_null (store_open_foreign (dir, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_TOO_NEW);
  plain_sql (dir, "PRAGMA user_version = 3");
  g_assert_cmpuint (testing_count (dir), ==, 1);
  testing_dir_remove (dir);
}

static gboolean
has_file (const char *dir, const char *name)
{
  g_autofree char *path = g_build_filename (dir, name, NULL);

  return g_file_test (path, G_FILE_TEST_EXISTS);
}

/* Over a network no WAL, and back. */
static void
test_network (void)
{
  static const struct
  {
    guint64 magic;
    gboolean network;
  } kinds[] = {
    { 0x6969, TRUE },
    { 0xff534d42, TRUE },
    { 0xffffffffff534d42, TRUE },
    { 0x65735546, TRUE },
    { 0xef53 /* ext4 */, FALSE },
    { 0x01021994 /* tmpfs */, FALSE },
    { 0x9123683e /* btrfs */, FALSE },
  };
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpint (_store_fs_is_network (kinds[i].magic), ==, kinds[i].network);
  g_assert_false (store_is_on_network (store));
  g_assert_true (has_file (dir, "journal.sqlite-wal"));
  store_close (store);
  _store_test_network = 1;
  store = testing_journal (dir);
  g_assert_true (store_is_on_network (store));
  add_note (store, animal, 1);
  g_assert_false (has_file (dir, "journal.sqlite-wal"));
  g_assert_true (has_file (dir, "journal.sqlite-journal"));
  g_assert_cmpuint (testing_count (dir), ==, 1);
  store_close (store);
  _store_test_network = -1;
  store = testing_journal (dir);
  add_note (store, animal, 2);
  g_assert_true (has_file (dir, "journal.sqlite-wal"));
  store_close (store);
  g_assert_cmpuint (testing_count (dir), ==, 2);
  testing_dir_remove (dir);
}

/* Two programs: each sees the other's entries by polling, not its own. */
static void
test_two_at_once (void)
{
  char *dir = testing_dir_new ();
  g_autoptr (Store) a = testing_journal (dir);
  CoreId animal = testing_add_subject (a, CORE_SUBJECT_ANIMAL, 1);
  g_autoptr (Store) b = testing_journal (dir);
  gboolean changed = TRUE;

  g_assert_true (store_poll (a, &changed, NULL));
  g_assert_false (changed);
  add_note (a, animal, 1);
  g_assert_true (store_poll (a, &changed, NULL));
  g_assert_false (changed);
  g_assert_true (store_poll (b, &changed, NULL));
  g_assert_true (changed);
  add_note (b, animal, 2);
  g_assert_true (store_poll (b, &changed, NULL));
  g_assert_false (changed);
  g_assert_true (store_poll (a, &changed, NULL));
  g_assert_true (changed);
  g_assert_true (store_poll (a, &changed, NULL));
  g_assert_false (changed);
  {
    g_autoptr (GPtrArray) later = store_load_entries (a, 1, NULL, NULL);

    g_assert_cmpuint (later->len, ==, 1);
  }
  testing_dir_remove (dir);
}

/* Four processes write at the same time: none loses anything, ids ascend. */
static void
test_processes (void)
{
  enum
  {
    PROCESSES = 4,
    EACH = 20
  };
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  g_autoptr (GPtrArray) entries = NULL;

  store_close (store);
  for (guint p = 0; p < PROCESSES; p++)
    if (fork () == 0)
      {
        Store *mine = testing_journal (dir);

        for (guint i = 0; i < EACH; i++)
          add_note (mine, animal, p * 1000 + i);
        store_close (mine);
        _exit (0);
      }
  for (guint p = 0; p < PROCESSES; p++)
    {
      int status;

      g_assert_cmpint (wait (&status), >, 0);
      g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
    }
  store = testing_journal (dir);
  entries = store_load_entries (store, 0, NULL, NULL);
  g_assert_cmpuint (entries->len, ==, PROCESSES * EACH);
  for (guint i = 1; i < entries->len; i++)
    {
      const CoreEntry *one = g_ptr_array_index (entries, i - 1);
      const CoreEntry *two = g_ptr_array_index (entries, i);

      g_assert_cmpint (core_id_compare (one->id, two->id), <, 0);
    }
  g_assert_cmpuint (testing_count_problems (store), ==, 0);
  store_close (store);
  testing_dir_remove (dir);
}

/* Waited for, but not for ever; reading goes on meanwhile. */
static void
test_busy (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  g_autofree char *lock = g_build_filename (dir, STORE_LOCK_NAME, NULL);
  g_autoptr (GError) error = NULL;
  StoreStamp stamp = testing_stamp (1750000000000, 1);
  CoreEntry *note = testing_note (animal, "waits", 20000);
  int fd = g_open (lock, O_RDWR | O_CLOEXEC, 0);
  gint64 began = g_get_monotonic_time ();

  g_assert_cmpint (flock (fd, LOCK_EX), ==, 0);
  g_assert_false (testing_append (store, &note, 1, &stamp, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_BUSY);
  g_assert_cmpint (g_get_monotonic_time () - began, >=, 1900 * G_TIME_SPAN_MILLISECOND);
  g_assert_cmpint (g_get_monotonic_time () - began, <, 5000 * G_TIME_SPAN_MILLISECOND);
  g_assert_cmpuint (testing_count (dir), ==, 0);
  close (fd);
  g_assert_true (testing_append (store, &note, 1, &stamp, NULL));
  core_entry_free (note);
  store_close (store);
  testing_dir_remove (dir);
}

/* A row that is committed but still in the -wal, as after a crash. */
static void
leave_pending (const char *dir, CoreId animal)
{
  pid_t child = fork ();
  int status;

  if (child == 0)
    {
      add_note (testing_journal (dir), animal, 7);
      _exit (0);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
}

static void
set_modes (const char *dir, mode_t folder, mode_t file)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *path = g_build_filename (dir, name, NULL);

      g_chmod (path, file);
    }
  g_chmod (dir, folder);
}

/* Runs in a child without rights; returns 0 when all is as expected. */
static int
use_read_only (const char *dir, StoreAccess expected, guint n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (dir, STORE_OPEN, &error);
  g_autoptr (GPtrArray) entries = NULL;
  StoreStamp stamp = testing_stamp (1750000000000, 1);
  CoreEntry *note;

  if (store == NULL)
    {
      g_printerr ("# %s\n", error->message);
      return 1;
    }
  if (store_get_access (store) != expected)
    return 2;
  entries = store_load_entries (store, 0, NULL, &error);
  if (entries == NULL || entries->len != n)
    return 3;
  note = testing_note (testing_id (1), "refused", 20000);
  if (testing_append (store, &note, 1, &stamp, &error) ||
      !g_error_matches (error, STORE_ERROR, STORE_ERROR_READ_ONLY))
    return 4;
  core_entry_free (note);
  return testing_count_problems (store) == 0 ? 0 : 5;
}

static void
test_read_only (gconstpointer data)
{
  gboolean pending = GPOINTER_TO_INT (data);
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  pid_t child;
  int status;

  add_note (store, animal, 1);
  store_close (store);
  if (pending)
    leave_pending (dir, animal);
  g_assert_cmpint (has_file (dir, "journal.sqlite-wal"), ==, pending);
  set_modes (dir, 0555, 0444);
  child = fork ();
  if (child == 0)
    {
      if (getuid () == 0 && (setgid (NOBODY) != 0 || setuid (NOBODY) != 0))
        _exit (9);
      _exit (
        use_read_only (dir, pending ? STORE_ACCESS_COPY : STORE_ACCESS_IMMUTABLE, pending ? 2 : 1));
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
  set_modes (dir, 0700, 0600);
  g_assert_cmpuint (testing_count (dir), ==, pending ? 2 : 1);
  testing_dir_remove (dir);
}

static void
test_asked_read_only (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  Store *reader;

  add_note (store, testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1), 1);
  reader = store_open_reader (store, NULL);
  g_assert_nonnull (reader);
  g_assert_cmpint (store_get_access (reader), ==, STORE_ACCESS_READ);
  {
    g_autoptr (GError) error = NULL;
    g_autoptr (GArray) found = store_search (reader, "note", 5, NULL);

    g_assert_cmpuint (found->len, ==, 1);
    g_assert_false (store_draft_put (reader, "a", "b", 1, &error));
    g_assert_error (error, STORE_ERROR, STORE_ERROR_READ_ONLY);
  }
  store_close (reader);
  store_close (store);
  testing_dir_remove (dir);
}

/* Somebody else's journal: read when its schema is ours to the letter. */
static void
test_foreign (void)
{
  static const char *const tampered[] = {
    "CREATE TRIGGER helpful AFTER INSERT ON draft BEGIN DELETE FROM snapshot; END",
    "CREATE VIEW more_notes AS SELECT 1",
    "DROP TRIGGER entry_stay",
    "CREATE TABLE extra (a)",
  };
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  Store *foreign;
  g_autoptr (GError) error = NULL;

  add_note (store, testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1), 1);
  store_close (store);
  leave_pending (dir, testing_id (1));
  foreign = store_open_foreign (dir, &error);
  g_assert_no_error (error);
  {
    g_autoptr (GPtrArray) entries = store_load_entries (foreign, 0, NULL, NULL);

    g_assert_cmpuint (entries->len, ==, 2);
  }
  store_close (foreign);
  g_assert_cmpuint (testing_count (dir), ==, 2); /* and so nothing is pending any more */
  for (gsize i = 0; i < G_N_ELEMENTS (tampered); i++)
    {
      char *other = testing_dir_new ();
      g_autofree char *from = g_build_filename (dir, STORE_DB_NAME, NULL);
      g_autofree char *to = g_build_filename (other, STORE_DB_NAME, NULL);

      g_assert_true (_store_copy_path (from, to, NULL));
      plain_sql (other, tampered[i]);
      g_assert_null (store_open_foreign (other, &error));
      g_assert_error (error, STORE_ERROR, STORE_ERROR_CORRUPT);
      g_clear_error (&error);
      testing_dir_remove (other);
    }
  testing_dir_remove (dir);
}

/* Does another process find the file locked? */
static gboolean
is_locked (const char *dir)
{
  g_autofree char *path = g_build_filename (dir, STORE_DB_NAME, NULL);
  pid_t child = fork ();
  int status;

  if (child == 0)
    {
      struct flock lock = { .l_type = F_WRLCK, .l_whence = SEEK_SET };
      int fd = g_open (path, O_RDWR | O_CLOEXEC, 0);

      if (fd < 0 || fcntl (fd, F_GETLK, &lock) != 0)
        _exit (2);
      _exit (lock.l_type == F_UNLCK ? 0 : 1);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), !=, 2);
  return WEXITSTATUS (status) == 1;
}

/* To close any descriptor of a file drops all locks of the process on it: none
 * of the other doors may open a journal that is open here. */
static void
test_locks_stay (void)
{
  g_test_summary ("A second use of an open journal does not drop SQLite's locks on it");
  char *dir = testing_dir_new ();
  char *links = testing_dir_new ();
  g_autofree char *other_name = g_build_filename (links, "link", NULL);
  Store *store = testing_journal (dir);
  g_autoptr (GError) error = NULL;

  add_note (store, testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1), 1);
  g_assert_true (is_locked (dir));
  g_assert_cmpint (symlink (dir, other_name), ==, 0);
  g_assert_null (store_open_foreign (other_name, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_BUSY);
  assert_open_fails (dir, STORE_CREATE, STORE_ERROR_EXISTS);
  g_assert_cmpuint (testing_count (dir), ==, 1);
  g_assert_cmpuint (testing_count_problems (store), ==, 0);
  g_assert_true (is_locked (dir));
  store_close (store);
  g_assert_false (is_locked (dir));
  testing_dir_remove (links);
  testing_dir_remove (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/store/open/permissions", test_permissions);
  g_test_add_func ("/store/open/create-refuses", test_create_refuses);
  g_test_add_func ("/store/open/refuses", test_refuses);
  g_test_add_func ("/store/open/newer", test_newer);
  g_test_add_func ("/store/open/network", test_network);
  g_test_add_func ("/store/open/two-at-once", test_two_at_once);
  g_test_add_func ("/store/open/processes", test_processes);
  g_test_add_func ("/store/open/busy", test_busy);
  g_test_add_data_func ("/store/open/read-only-folder", GINT_TO_POINTER (FALSE), test_read_only);
  g_test_add_data_func ("/store/open/read-only-pending", GINT_TO_POINTER (TRUE), test_read_only);
  g_test_add_func ("/store/open/reader", test_asked_read_only);
  g_test_add_func ("/store/open/foreign", test_foreign);
  g_test_add_func ("/store/open/locks-stay", test_locks_stay);
  return g_test_run ();
}
