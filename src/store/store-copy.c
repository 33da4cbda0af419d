/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-copy.c — a private copy of a journal that cannot, or must not, be opened
 * where it lies.
 *
 * Invariant: a copy is of one moment, and no file that this process has open
 * through SQLite is opened here. POSIX drops all locks of a process on a file
 * when it closes any descriptor of that file; another program would then believe
 * that nobody uses the journal, and take away its pending part.
 */
#include "store/store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

/* What SQLite keeps beside the file while something is pending. */
static const char *const pending_suffixes[] = { "-wal", "-journal" };

G_LOCK_DEFINE_STATIC (open_files);
static GHashTable *open_files; /* path → number of times */

static int
count_open (const char *db_path, int change)
{
  int n;

  G_LOCK (open_files);
  if (open_files == NULL)
    open_files = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  n = GPOINTER_TO_INT (g_hash_table_lookup (open_files, db_path)) + change;
  if (n > 0)
    g_hash_table_insert (open_files, g_strdup (db_path), GINT_TO_POINTER (n));
  else
    g_hash_table_remove (open_files, db_path);
  G_UNLOCK (open_files);
  return n;
}

/* By its real path, so that a link to a folder is the folder. */
static char *
real_path (const char *db_path)
{
  char *resolved = realpath (db_path, NULL);
  char *copy = g_strdup (resolved != NULL ? resolved : db_path);

  free (resolved);
  return copy;
}

char *
_store_note_open (const char *db_path)
{
  char *path = real_path (db_path);

  count_open (path, 1);
  return path;
}

void
_store_note_closed (char *noted)
{
  count_open (noted, -1);
  g_free (noted);
}

gboolean
_store_has_pending (const char *db_path)
{
  for (gsize i = 0; i < G_N_ELEMENTS (pending_suffixes); i++)
    {
      g_autofree char *path = g_strconcat (db_path, pending_suffixes[i], NULL);
      GStatBuf st;

      if (g_stat (path, &st) == 0 && st.st_size > 0)
        return TRUE;
    }
  return FALSE;
}

static gboolean
copy_files (const char *source, const char *target, GError **error)
{
  if (!_store_copy_path (source, target, error))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (pending_suffixes); i++)
    {
      g_autofree char *from = g_strconcat (source, pending_suffixes[i], NULL);
      g_autofree char *to = g_strconcat (target, pending_suffixes[i], NULL);

      if (g_file_test (from, G_FILE_TEST_EXISTS) && !_store_copy_path (from, to, error))
        return FALSE;
    }
  return TRUE;
}

/* A writer holds the lock of the folder for each write, so a shared lock gives
 * one moment of all files; where there is no lock there has been no writer. */
gboolean
_store_make_private_copy (Store *self, GError **error)
{
  g_autofree char *lock_path = g_build_filename (self->dir, STORE_LOCK_NAME, NULL);
  g_autofree char *source = g_strdup (self->db_path);
  g_autofree char *real = real_path (source);
  int lock_fd;
  gboolean ok;

  if (count_open (real, 0) > 0)
    {
      g_set_error_literal (error, STORE_ERROR, STORE_ERROR_BUSY,
                           "This journal is open in this program already. Choose another one.");
      return FALSE;
    }
  self->private_dir = g_dir_make_tmp ("mantidary-XXXXXX", error);
  if (self->private_dir == NULL)
    return FALSE;
  g_free (self->db_path);
  self->db_path = g_build_filename (self->private_dir, STORE_DB_NAME, NULL);
  lock_fd = g_open (lock_path, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
  if (lock_fd >= 0)
    flock (lock_fd, LOCK_SH);
  ok = copy_files (source, self->db_path, error);
  if (lock_fd >= 0)
    close (lock_fd);
  return ok;
}

/* The private copy holds files only: the database and its companions. */
void
_store_remove_private (const char *dir)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *path = g_build_filename (dir, name, NULL);

      g_unlink (path);
    }
  g_rmdir (dir);
}
