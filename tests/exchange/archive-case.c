/* SPDX-License-Identifier: GPL-3.0-or-later */
/* archive-case.c — see archive-case.h. */
#define _GNU_SOURCE /* memfd_create */
#include "archive-case.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

char *
case_dir_new (void)
{
  const char *base = g_access ("/dev/shm", W_OK | X_OK) == 0 ? "/dev/shm" : g_get_tmp_dir ();
  char *dir = g_build_filename (base, "exchange-test-XXXXXX", NULL);

  g_assert_nonnull (g_mkdtemp (dir));
  return dir;
}

void
case_dir_remove (char *dir)
{
  exch_file_remove_tree (dir);
  g_assert_false (g_file_test (dir, G_FILE_TEST_EXISTS));
  g_free (dir);
}

static GBytes *
some_bytes (GRand *rand, gsize n)
{
  guint8 *bytes = g_malloc (n);

  for (gsize i = 0; i < n; i++)
    bytes[i] = (guint8) g_rand_int (rand);
  return g_bytes_new_take (bytes, n);
}

static void
hash_of (GBytes *bytes, char *out)
{
  g_autofree char *hash = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);

  g_strlcpy (out, hash, EXCH_HASH_LEN + 1);
}

static GBytes *
some_text (const char *what, guint i)
{
  char *text = g_strdup_printf ("%s %u", what, i);

  return g_bytes_new_take (text, strlen (text));
}

static Case *
case_make (guint n, gboolean small)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (n + 1);
  Case *self = g_new0 (Case, 1);
  g_autoptr (GBytes) database = small ? some_text ("database", n) : some_bytes (rand, 9000);

  self->dir = case_dir_new ();
  self->database = g_build_filename (self->dir, "db", NULL);
  g_assert_true (g_file_set_contents (self->database, g_bytes_get_data (database, NULL),
                                      (gssize) g_bytes_get_size (database), NULL));
  self->photos = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  self->manifest = exch_manifest_new ();
  self->manifest->schema = CASE_SCHEMA;
  self->manifest->made = 20000;
  self->manifest->n_entries = 12;
  self->manifest->n_subjects = 3;
  self->manifest->database_bytes = (gint64) g_bytes_get_size (database);
  hash_of (database, self->manifest->database_hash);
  for (guint i = 0; i < n; i++)
    {
      GBytes *bytes = small ? some_text ("picture", i) : some_bytes (rand, 1000 + 70000 * (i == 2) + i);
      ExchPhoto photo = { .format = "jpg", .bytes = (gint64) g_bytes_get_size (bytes) };

      hash_of (bytes, photo.hash);
      g_array_append_val (self->manifest->photos, photo);
      g_hash_table_insert (self->photos, g_strdup (photo.hash), bytes);
    }
  exch_manifest_sort (self->manifest);
  return self;
}

Case *
case_new (guint n)
{
  return case_make (n, FALSE);
}

Case *
case_new_small (guint n)
{
  return case_make (n, TRUE);
}

void
case_free (Case *self)
{
  case_dir_remove (self->dir);
  g_free (self->database);
  exch_manifest_free (self->manifest);
  g_hash_table_unref (self->photos);
  g_free (self);
}

int
case_open_photo (const ExchPhoto *photo, gpointer data, GError **error)
{
  Case *self = data;
  GBytes *bytes = g_hash_table_lookup (self->photos, photo->hash);
  int fd = memfd_create ("photo", MFD_CLOEXEC);

  g_assert_cmpint (fd, >=, 0);
  g_assert_cmpint (write (fd, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes)), ==,
                   (gssize) g_bytes_get_size (bytes));
  return fd;
}

gboolean
case_write (Case *self, const char *path, GError **error)
{
  return exch_archive_write (path, self->manifest, self->database, case_open_photo, self, NULL, error);
}

guint
case_count_files (const char *dir)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;
  guint n = 0;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *path = g_build_filename (dir, name, NULL);

      n += g_file_test (path, G_FILE_TEST_IS_DIR) ? case_count_files (path) : 1;
    }
  return n;
}

void
case_assert_unpacked (Case *self, const char *dir, gboolean photos)
{
  g_autofree char *database = g_build_filename (dir, EXCH_DATABASE_NAME, NULL);
  char hash[EXCH_HASH_LEN + 1];
  gint64 bytes;

  g_assert_true (exch_file_hash (database, hash, &bytes, NULL));
  g_assert_cmpstr (hash, ==, self->manifest->database_hash);
  g_assert_cmpuint (case_count_files (dir), ==, 1 + (photos ? self->manifest->photos->len : 0));
  for (guint i = 0; photos && i < self->manifest->photos->len; i++)
    g_assert_true (
      exch_photo_is_there (dir, &g_array_index (self->manifest->photos, ExchPhoto, i), TRUE));
}
