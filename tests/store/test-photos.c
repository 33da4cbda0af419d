/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-photos.c — files under their hash, rows after files, through any crash. */
#include "store-testing.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

/* "abc" has this SHA-256: FIPS 180-4, the first example of NIST's
 * "SHA256.pdf" (Examples with Intermediate Values). */
#define ABC_HASH "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

typedef struct
{
  char *dir;     /* the journal */
  char *outside; /* where photos come from */
  Store *store;
  CoreId animal;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  self->dir = testing_dir_new ();
  self->outside = testing_dir_new ();
  self->store = testing_journal (self->dir);
  self->animal = testing_add_subject (self->store, CORE_SUBJECT_ANIMAL, 1);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  store_close (self->store);
  testing_dir_remove (self->dir);
  testing_dir_remove (self->outside);
}

static gboolean
put_bytes (Fixture *self, const char *text, StorePhoto *photo, gboolean *existed, GError **error)
{
  int fd = testing_file (self->outside, "camera.jpg", text, strlen (text));
  gboolean ok;

  *photo =
    (StorePhoto){ .width = 3, .height = 2, .orientation = 1, .taken = 20000, .taken_minute = 600 };
  g_assert_cmpint (lseek (fd, 1, SEEK_SET), ==, 1);
  ok = store_photo_put (self->store, fd, "jpg", photo, existed, error);
  g_assert_cmpint (lseek (fd, 0, SEEK_CUR), ==, 1);
  close (fd);
  return ok;
}

/* Row and entry in one transaction. */
static gboolean
record (Fixture *self, StorePhoto *photo, GError **error)
{
  StoreStamp stamp = testing_stamp (1750000001000, 3);
  CoreEntry *entry = core_entry_new (CORE_KIND_PHOTO);
  StoreBatch batch = {
    .photos = photo, .n_photos = 1, .entries = &entry, .n_entries = 1, .expect_seq = -1
  };
  gboolean ok;

  entry->subject = self->animal;
  entry->day = 20000;
  g_assert_cmpint (core_entry_set_str (entry, CORE_KEY_HASH, photo->hash), ==, CORE_VALUE_OK);
  ok = store_append (self->store, &batch, &stamp, NULL, error);
  core_entry_free (entry);
  return ok;
}

static void
test_put (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  g_autofree char *content = NULL;
  g_autofree char *folder = NULL;
  gboolean existed = TRUE;
  StorePhoto photo, row;
  GStatBuf st;

  g_assert_true (put_bytes (self, "abc", &photo, &existed, &error));
  g_assert_no_error (error);
  g_assert_false (existed);
  g_assert_cmpstr (photo.hash, ==, ABC_HASH);
  g_assert_cmpint (photo.bytes, ==, 3);
  path = store_photo_path (self->store, &photo);
  g_assert_true (g_str_has_suffix (path, "/photos/ba/" ABC_HASH ".jpg"));
  g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
  g_assert_cmpstr (content, ==, "abc");
  g_assert_cmpint (g_stat (path, &st), ==, 0);
  g_assert_cmphex (st.st_mode & 0777, ==, 0600);
  folder = g_path_get_dirname (path);
  g_assert_cmpint (g_stat (folder, &st), ==, 0);
  g_assert_cmphex (st.st_mode & 0777, ==, 0700);

  g_assert_false (store_photo_find (self->store, photo.hash, &row, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_true (record (self, &photo, &error));
  g_assert_no_error (error);
  g_assert_false (core_id_is_none (photo.id));
  g_assert_true (store_photo_find (self->store, photo.hash, &row, &error));
  g_assert_true (core_id_equal (row.id, photo.id));
  g_assert_cmpstr (row.format, ==, "jpg");
  g_assert_cmpint (row.width, ==, 3);
  g_assert_cmpint (row.height, ==, 2);
  g_assert_cmpint (row.taken, ==, 20000);
  g_assert_cmpint (row.taken_minute, ==, 600);
  g_assert_cmpuint (testing_count_problems (self->store), ==, 0);
}

/* The same picture again: no second file, no second row, the same id. */
static void
test_duplicate (Fixture *self, gconstpointer data)
{
  g_autoptr (GArray) rows = NULL;
  gboolean existed = FALSE;
  StorePhoto first, second;

  g_assert_true (put_bytes (self, "abc", &first, &existed, NULL));
  g_assert_true (record (self, &first, NULL));
  g_assert_true (put_bytes (self, "abc", &second, &existed, NULL));
  g_assert_true (existed);
  g_assert_true (record (self, &second, NULL));
  g_assert_true (core_id_equal (first.id, second.id));
  rows = store_load_photos (self->store, NULL);
  g_assert_cmpuint (rows->len, ==, 1);
  g_assert_cmpuint (testing_count (self->dir), ==, 2);
}

/* A file with the right name and the wrong content is not trusted, whether its
 * size tells or not; and the check says so before. */
static void
test_wrong_content (Fixture *self, gconstpointer data)
{
  static const char *const wrong[] = { "abd", "ab", "" };

  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autofree char *path = NULL;
      g_autofree char *content = NULL;
      gboolean existed = TRUE;
      StorePhoto photo;

      g_assert_true (put_bytes (self, "abc", &photo, NULL, NULL));
      if (i == 0)
        g_assert_true (record (self, &photo, NULL));
      path = store_photo_path (self->store, &photo);
      g_assert_true (g_file_set_contents (path, wrong[i], -1, NULL));
      g_assert_cmpuint (testing_count_problems (self->store), ==, 1);
      g_assert_true (put_bytes (self, "abc", &photo, &existed, NULL));
      g_assert_false (existed);
      g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
      g_assert_cmpstr (content, ==, "abc");
      g_assert_cmpuint (testing_count_problems (self->store), ==, 0);
    }
}

static void
test_missing_file (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (StoreReport) report = NULL;
  g_autofree char *path = NULL;
  const StoreProblem *problem;
  StorePhoto photo;

  g_assert_true (put_bytes (self, "abc", &photo, NULL, NULL));
  path = store_photo_path (self->store, &photo);
  g_unlink (path);
  g_assert_false (record (self, &photo, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND);
  g_assert_cmpuint (testing_count (self->dir), ==, 0);
  g_assert_true (put_bytes (self, "abc", &photo, NULL, NULL));
  g_assert_true (record (self, &photo, NULL));
  g_unlink (path);
  g_assert_true (store_check (self->store, &report, NULL));
  g_assert_cmpuint (report->problems->len, ==, 1);
  problem = g_ptr_array_index (report->problems, 0);
  g_assert_cmpint (problem->kind, ==, STORE_PROBLEM_PHOTO_MISSING);
  g_assert_cmpstr (problem->what, ==, "photos/ba/" ABC_HASH ".jpg");
}

static void
test_bad_sources (Fixture *self, gconstpointer data)
{
  g_autofree char *fifo = g_build_filename (self->outside, "fifo", NULL);
  StorePhoto photo = { 0 };
  int fds[3];

  g_assert_cmpint (mkfifo (fifo, 0600), ==, 0);
  fds[0] = testing_file (self->outside, "empty.jpg", "", 0);
  fds[1] = g_open (self->outside, O_RDONLY | O_CLOEXEC, 0);
  fds[2] = g_open (fifo, O_RDONLY | O_NONBLOCK | O_CLOEXEC, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (fds); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (store_photo_put (self->store, fds[i], "jpg", &photo, NULL, &error));
      g_assert_error (error, STORE_ERROR, STORE_ERROR_FAILED);
      close (fds[i]);
    }
  {
    g_autoptr (GError) error = NULL;
    int fd = testing_file (self->outside, "a.jpg", "abc", 3);

    g_assert_false (store_photo_put (self->store, fd, "../x", &photo, NULL, &error));
    g_assert_error (error, STORE_ERROR, STORE_ERROR_FAILED);
    close (fd);
  }
}

typedef struct
{
  const char *place;
  guint entries; /* that must be there afterwards */
  guint unnamed; /* files without a row */
} KillCase;

static const KillCase kill_cases[] = {
  { "photo-file", 0, 1 },
  { "before-commit", 0, 1 },
  { "after-commit", 1, 0 },
};

/* Killed at each place in turn: the row never lacks its file, the journal is
 * clean, and adding the photo again works. */
static void
test_kill_place (gconstpointer data)
{
  const KillCase *kill_case = data;
  g_autoptr (StoreReport) report = NULL;
  g_autoptr (GError) error = NULL;
  gboolean existed = FALSE;
  StorePhoto photo;
  Fixture self;
  pid_t child;
  int status;

  set_up (&self, NULL);
  store_close (self.store);
  child = fork ();
  if (child == 0)
    {
      self.store = testing_journal (self.dir);
      g_setenv ("MANTIDARY_TEST_KILL_AT", kill_case->place, TRUE);
      if (put_bytes (&self, "abc", &photo, NULL, NULL))
        record (&self, &photo, NULL);
      _exit (0);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
  self.store = testing_journal (self.dir);
  g_assert_true (store_check (self.store, &report, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (report->problems->len, ==, 0);
  g_assert_cmpuint (report->n_entries, ==, kill_case->entries);
  g_assert_cmpuint (report->n_photos, ==, kill_case->entries);
  g_assert_cmpuint (report->n_files_unnamed, ==, kill_case->unnamed);
  g_assert_true (put_bytes (&self, "abc", &photo, &existed, NULL));
  g_assert_true (existed);
  g_assert_true (record (&self, &photo, NULL));
  g_assert_cmpuint (testing_count_problems (self.store), ==, 0);
  tear_down (&self, NULL);
}

/* The child tells each entry by a byte only after store_append() returned. */
static void
write_until_killed (Fixture *self, int pipe_fd)
{
  self->store = testing_journal (self->dir);
  for (guint i = 0;; i++)
    {
      g_autofree char *text = g_strdup_printf ("picture %u", i);
      StorePhoto photo;

      if (!put_bytes (self, text, &photo, NULL, NULL) || !record (self, &photo, NULL) ||
          write (pipe_fd, "x", 1) != 1)
        _exit (1);
    }
}

static void
test_kill_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  guint total = 0;

  for (int turn = 0; turn < 12; turn++)
    {
      guint acknowledged = 0;
      Fixture self;
      int fds[2];
      pid_t child;
      int status;
      char byte;

      set_up (&self, NULL);
      store_close (self.store);
      g_assert_cmpint (pipe (fds), ==, 0);
      child = fork ();
      if (child == 0)
        write_until_killed (&self, fds[1]);
      close (fds[1]);
      g_assert_cmpint (read (fds[0], &byte, 1), ==, 1);
      g_usleep ((gulong) g_rand_int_range (rand, 0, 40000));
      kill (child, SIGKILL);
      g_assert_cmpint (waitpid (child, &status, 0), ==, child);
      g_assert_true (WIFSIGNALED (status)); /* it was still at work */
      for (acknowledged = 1; read (fds[0], &byte, 1) == 1;)
        acknowledged++;
      close (fds[0]);
      self.store = testing_journal (self.dir);
      g_assert_cmpuint (testing_count (self.dir), >=, acknowledged);
      g_assert_cmpuint (testing_count (self.dir), <=, acknowledged + 1);
      g_assert_cmpuint (testing_count_problems (self.store), ==, 0);
      total += acknowledged;
      tear_down (&self, NULL);
    }
  g_assert_cmpuint (total, >, 12);
}

/* Two photos of one moment are two photos. */
static void
test_same_stamp (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  StorePhoto first, second;

  g_assert_true (put_bytes (self, "abc", &first, NULL, NULL));
  g_assert_true (record (self, &first, &error));
  g_assert_true (put_bytes (self, "abd", &second, NULL, NULL));
  g_assert_true (record (self, &second, &error));
  g_assert_no_error (error);
  g_assert_false (core_id_equal (first.id, second.id));
  g_assert_cmpuint (testing_count_problems (self->store), ==, 0);
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
  add ("/store/photos/put", test_put);
  add ("/store/photos/duplicate", test_duplicate);
  add ("/store/photos/same-stamp", test_same_stamp);
  add ("/store/photos/wrong-content", test_wrong_content);
  add ("/store/photos/missing-file", test_missing_file);
  add ("/store/photos/bad-sources", test_bad_sources);
  for (gsize i = 0; i < G_N_ELEMENTS (kill_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/store/photos/kill/%s", kill_cases[i].place);

      g_test_add_data_func (path, &kill_cases[i], test_kill_place);
    }
  g_test_add_func ("/store/photos/kill/random", test_kill_random);
  return g_test_run ();
}
