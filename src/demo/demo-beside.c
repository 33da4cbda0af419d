/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-beside.c — so that an interrupted run leaves no half-made journal that looks like one. */
#include "demo/demo-beside.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

/* Only what this program itself put there: files and folders of a journal. */
static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (g_file_test (child, G_FILE_TEST_IS_DIR) && !g_file_test (child, G_FILE_TEST_IS_SYMLINK))
        remove_tree (child);
      else
        (void) g_remove (child);
    }
  (void) g_rmdir (path);
}

/* ".NAME-PID" of a run that is no more. */
static gboolean
is_left_behind (const char *name, const char *base)
{
  gsize length = strlen (base);
  const char *digits;
  gint64 pid;

  if (name[0] != '.' || strncmp (name + 1, base, length) != 0 || name[length + 1] != '-')
    return FALSE;
  digits = name + length + 2;
  if (digits[0] == '\0' || digits[strspn (digits, "0123456789")] != '\0' || strlen (digits) > 9)
    return FALSE;
  pid = g_ascii_strtoll (digits, NULL, 10);
  return pid > 1 && kill ((pid_t) pid, 0) != 0 && errno == ESRCH;
}

/* Nothing but what a journal begins with, so that no folder of somebody else's goes. */
static gboolean
holds_a_journal_alone (const char *path)
{
  static const char *const known[] = { "journal.lock",       "journal.sqlite",
                                       "journal.sqlite-wal", "journal.sqlite-shm",
                                       "journal.snapshot",   "journal.snapshot.new",
                                       "photos",             NULL };
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (!g_strv_contains (known, name))
      return FALSE;
  return dir != NULL;
}

/* A run that was killed could not clean up behind itself. */
static void
remove_left_behind (const char *parent, const char *base)
{
  g_autoptr (GDir) dir = g_dir_open (parent, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (parent, name, NULL);

      if (is_left_behind (name, base) && g_file_test (path, G_FILE_TEST_IS_DIR) &&
          !g_file_test (path, G_FILE_TEST_IS_SYMLINK) && holds_a_journal_alone (path))
        remove_tree (path);
    }
}

gboolean
demo_beside (const char *dir, DemoFill fill, gpointer data, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (dir);
  g_autofree char *base = g_path_get_basename (dir);
  g_autofree char *making = g_strdup_printf ("%s/.%s-%d", parent, base, (int) getpid ());
  gboolean ok;

  if (g_mkdir_with_parents (parent, 0700) != 0)
    {
      g_set_error (error, G_IO_ERROR, (int) g_io_error_from_errno (errno),
                   "The folder %s cannot be made: %s.", parent, g_strerror (errno));
      return FALSE;
    }
  remove_left_behind (parent, base);
  ok = fill (making, data, error);
  (void) g_rmdir (dir); /* an empty folder gives way; a full one makes the rename fail */
  if (ok && g_rename (making, dir) != 0)
    {
      g_set_error (error, G_IO_ERROR, (int) g_io_error_from_errno (errno),
                   "The journal cannot be put at %s: %s. Choose an empty folder.", dir,
                   g_strerror (errno));
      ok = FALSE;
    }
  if (!ok)
    remove_tree (making);
  return ok;
}
