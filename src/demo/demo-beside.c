/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-beside.c — so that an interrupted run leaves no half-made journal that looks like one. */
#include "demo/demo-beside.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
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

/* A half-made journal lies as "journal" in ".NAME-NUMBER", beside a file that says so and that is
 * locked as long as the run lives: the number alone would take a keeper's own ".mantids-2024" for
 * one, and a process of the same number for the run that was killed. */
#define MARK "half-made"
#define INNER "journal"
#define MOST_TRIES 100

/* The number of ".NAME-NUMBER", or 0. `base` NULL: of any name. */
static gint64
number_of (const char *name, const char *base)
{
  const char *dash = strrchr (name, '-');
  const char *digits = dash != NULL ? dash + 1 : "";
  gsize length = dash != NULL ? (gsize) (dash - name) : 0;

  if (name[0] != '.' || length < 2 || digits[0] == '\0' || strlen (digits) > 9 ||
      digits[strspn (digits, "0123456789")] != '\0')
    return 0;
  if (base != NULL && (strlen (base) != length - 1 || strncmp (name + 1, base, length - 1) != 0))
    return 0;
  return g_ascii_strtoll (digits, NULL, 10);
}

/* Nothing but what a run puts there. */
static gboolean
holds_a_making_alone (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (strcmp (name, MARK) != 0 && strcmp (name, INNER) != 0)
      return FALSE;
  return dir != NULL;
}

/* Its mark, locked by us; -1 = it has none, or a run that lives holds it. */
static int
take_mark (const char *path)
{
  g_autofree char *mark = g_build_filename (path, MARK, NULL);
  int fd = open (mark, O_RDWR | O_CLOEXEC | O_NOFOLLOW);
  struct stat st;

  if (fd >= 0 && fstat (fd, &st) == 0 && S_ISREG (st.st_mode) && st.st_uid == geteuid () &&
      flock (fd, LOCK_EX | LOCK_NB) == 0)
    return fd;
  if (fd >= 0)
    close (fd);
  return -1;
}

/* The mark goes last: what is cut short here can still be told the next time. */
static void
remove_making (const char *path)
{
  g_autofree char *inner = g_build_filename (path, INNER, NULL);
  g_autofree char *mark = g_build_filename (path, MARK, NULL);

  remove_tree (inner);
  (void) g_remove (mark);
  (void) g_rmdir (path);
}

static void
remove_one_left_behind (const char *path, gint64 number, gboolean same_name)
{
  int mark;

  if (g_file_test (path, G_FILE_TEST_IS_SYMLINK) || !holds_a_making_alone (path))
    return;
  mark = take_mark (path);
  if (mark >= 0)
    {
      remove_making (path);
      close (mark);
    }
  /* It was killed before its first file, or after its last; nothing is lost with an empty folder.
   */
  else if (same_name && number > 1 && kill ((pid_t) number, 0) != 0 && errno == ESRCH)
    (void) g_rmdir (path);
}

void
demo_beside_clean (const char *dir)
{
  g_autofree char *parent = g_path_get_dirname (dir);
  g_autofree char *base = g_path_get_basename (dir);
  g_autoptr (GDir) folder = g_dir_open (parent, 0, NULL);
  const char *name;

  while (folder != NULL && (name = g_dir_read_name (folder)) != NULL)
    {
      gint64 number = number_of (name, NULL);
      g_autofree char *path = number > 0 ? g_build_filename (parent, name, NULL) : NULL;

      if (path != NULL)
        remove_one_left_behind (path, number, number_of (name, base) > 0);
    }
}

/* An empty folder with its mark, locked, in *mark; FALSE with errno. */
static gboolean
begin_making (const char *path, int *mark)
{
  g_autofree char *file = g_build_filename (path, MARK, NULL);
  struct stat st;

  if (g_mkdir (path, 0700) != 0)
    return FALSE;
  *mark = open (file, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (*mark < 0)
    {
      int code = errno;

      (void) g_rmdir (path);
      errno = code;
      return FALSE;
    }
  /* Where the file system knows no locks nobody else can take it either. */
  (void) flock (*mark, LOCK_EX);
  if (fstat (*mark, &st) == 0 && st.st_nlink > 0)
    return TRUE;
  close (*mark); /* it was cleaned away before it was locked */
  errno = ENOENT;
  return FALSE;
}

/* The folder ".NAME-NUMBER"; NULL with errno. */
static char *
making_new (const char *parent, const char *base, int *mark)
{
  for (int i = 0; i < MOST_TRIES; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/.%s-%d", parent, base, (int) getpid () + i);

      if (begin_making (path, mark))
        return g_steal_pointer (&path);
      if (errno != EEXIST && errno != ENOENT)
        return NULL;
    }
  return NULL;
}

/* What could not be done, with errno's reason. */
static gboolean G_GNUC_PRINTF (2, 3) fail (GError **error, const char *format, ...)
{
  int code = errno;
  va_list args;

  va_start (args, format);
  if (error != NULL)
    *error = g_error_new_valist (G_IO_ERROR, (int) g_io_error_from_errno (code), format, args);
  va_end (args);
  return FALSE;
}

gboolean
demo_beside (const char *dir, DemoFill fill, gpointer data, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (dir);
  g_autofree char *base = g_path_get_basename (dir);
  g_autofree char *making = NULL;
  g_autofree char *inner = NULL;
  gboolean ok;
  int mark = -1;

  if (g_mkdir_with_parents (parent, 0700) != 0)
    return fail (error, "The folder %s cannot be made: %s.", parent, g_strerror (errno));
  demo_beside_clean (dir);
  making = making_new (parent, base, &mark);
  if (making == NULL)
    return fail (error, "No folder can be made in %s: %s.", parent, g_strerror (errno));
  inner = g_build_filename (making, INNER, NULL);
  ok = fill (inner, data, error);
  (void) g_rmdir (dir); /* an empty folder gives way; a full one makes the rename fail */
  if (ok && g_rename (inner, dir) != 0)
    ok = fail (error, "The journal cannot be put at %s: %s. Choose an empty folder.", dir,
               g_strerror (errno));
  remove_making (making);
  close (mark);
  return ok;
}
