/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-file.c — see exch-file.h. */
#include "exchange/exch-file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#define BLOCK 65536

G_DEFINE_QUARK (exch - error - quark, exch_error)

int (*_exch_test_fault) (ExchOp op);

int
_exch_fault (ExchOp op)
{
  return _exch_test_fault != NULL ? _exch_test_fault (op) : 0;
}

/* One sentence or two for each code: what is the matter, and what to do. */
static const char *const sentences[] = {
  [EXCH_ERROR_FAILED] = "“%s” could not be used. Check the disk, then try again.",
  [EXCH_ERROR_NOT_FOUND] = "“%s” is not there. Check the name; if it lies on another disk, connect "
                           "that one.",
  [EXCH_ERROR_EXISTS] = "“%s” is there already. Choose another name.",
  [EXCH_ERROR_FULL] = "There is not enough room on the disk of “%s”. Free some space, or choose "
                      "another disk.",
  [EXCH_ERROR_FORBIDDEN] = "“%s” may not be used by you. Choose another folder, or ask its owner.",
  [EXCH_ERROR_NO_BACKUP] = "“%s” is no backup of a journal. Choose a file that this program wrote.",
  [EXCH_ERROR_DAMAGED] = "The backup “%s” is damaged: it is not what was written. Nothing was "
                         "restored. Take an older one.",
  [EXCH_ERROR_HOSTILE] = "“%s” holds what no backup of this program holds, so nothing of it was "
                         "used. Take another one, and ask where this one came from.",
  [EXCH_ERROR_TOO_NEW] = "The backup “%s” was made by a newer version of this program. Update the "
                         "program, then restore it.",
  [EXCH_ERROR_PHOTO] = "The photo “%s” is not in the journal as it was added. Run the check.",
};

void
exch_set_error (GError **error, ExchError code, const char *path)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_auto (GStrv) parts = g_strsplit (sentences[code], "%s", 2);

  g_set_error (error, EXCH_ERROR, code, "%s%s%s", parts[0], shown, parts[1]);
}

void
exch_set_errno (GError **error, int saved_errno, const char *path)
{
  static const struct
  {
    int number;
    ExchError code;
  } known[] = {
    { ENOSPC, EXCH_ERROR_FULL },     { EDQUOT, EXCH_ERROR_FULL },
    { EFBIG, EXCH_ERROR_FULL },      { EROFS, EXCH_ERROR_FORBIDDEN },
    { EACCES, EXCH_ERROR_FORBIDDEN }, { EPERM, EXCH_ERROR_FORBIDDEN },
    { ENOENT, EXCH_ERROR_NOT_FOUND }, { ENOTDIR, EXCH_ERROR_NOT_FOUND },
    { EEXIST, EXCH_ERROR_EXISTS },   { ENOTEMPTY, EXCH_ERROR_EXISTS },
  };
  g_autofree char *shown = g_filename_display_name (path);

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    if (known[i].number == saved_errno)
      {
        exch_set_error (error, known[i].code, path);
        return;
      }
  g_set_error (error, EXCH_ERROR, EXCH_ERROR_FAILED,
               "“%s” could not be used (%s). Check the disk, then try again.", shown,
               g_strerror (saved_errno));
}

char *
exch_file_beside (const char *path)
{
  g_autofree char *dir = g_path_get_dirname (path);
  g_autofree char *base = g_path_get_basename (path);
  static int turn;

  return g_strdup_printf ("%s/.%.100s.part-%d-%d", dir, base, (int) getpid (),
                          g_atomic_int_add (&turn, 1));
}

/* Of a program that is no longer there: its number stands in the name. A number that was given
 * anew to another one keeps it a while longer. */
static gboolean
is_abandoned (const char *rest)
{
  char *end;
  gint64 pid = g_ascii_strtoll (rest, &end, 10);

  return end != rest && *end == '-' && pid > 0 && pid != getpid () && kill ((pid_t) pid, 0) != 0 &&
         errno == ESRCH;
}

void
exch_file_remove_leftovers (const char *path)
{
  g_autofree char *dir = g_path_get_dirname (path);
  g_autofree char *base = g_path_get_basename (path);
  g_autofree char *begin = g_strdup_printf (".%.100s.part-", base);
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    if (g_str_has_prefix (name, begin) && is_abandoned (name + strlen (begin)))
      {
        g_autofree char *left = g_build_filename (dir, name, NULL);

        if (g_unlink (left) != 0)
          exch_file_remove_tree (left);
      }
}

int
exch_file_create (const char *path, GError **error)
{
  int fault = _exch_fault (EXCH_OP_CREATE);
  g_autofree char *dir = g_path_get_dirname (path);
  int fd = -1;

  if (fault == 0)
    {
      fd = g_open (path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600);
      fault = errno;
    }
  /* What is not there yet is not to blame, and the name beside it is ours. */
  if (fd < 0)
    exch_set_errno (error, fault, fault == EEXIST ? path : dir);
  return fd;
}

int
exch_file_open (const char *path, GError **error)
{
  int fault = _exch_fault (EXCH_OP_OPEN);
  int fd = -1;
  struct stat st;

  if (fault == 0)
    {
      fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
      fault = errno;
    }
  if (fd < 0)
    {
      exch_set_errno (error, fault, path);
      return -1;
    }
  if (fstat (fd, &st) == 0 && S_ISREG (st.st_mode))
    return fd;
  close (fd);
  exch_set_error (error, EXCH_ERROR_NO_BACKUP, path);
  return -1;
}

gboolean
exch_file_write (int fd, const void *data, gsize n, const char *path, GError **error)
{
  const guint8 *at = data;
  int fault = _exch_fault (EXCH_OP_WRITE);

  while (fault == 0 && n > 0)
    {
      gssize written = write (fd, at, n);

      if (written < 0 && errno == EINTR)
        continue;
      if (written <= 0)
        fault = written == 0 ? ENOSPC : errno;
      else
        {
          at += written;
          n -= (gsize) written;
        }
    }
  if (fault == 0)
    return TRUE;
  exch_set_errno (error, fault, path);
  return FALSE;
}

int
exch_file_from_bytes (GBytes *bytes, GError **error)
{
  int fd = memfd_create ("photo", MFD_CLOEXEC);
  gsize n;
  const void *data = g_bytes_get_data (bytes, &n);

  if (fd < 0)
    {
      exch_set_errno (error, errno, "photo");
      return -1;
    }
  if (exch_file_write (fd, data, n, "photo", error))
    return fd;
  close (fd);
  return -1;
}

gboolean
exch_file_sync (int fd, const char *path, GError **error)
{
  int fault = _exch_fault (EXCH_OP_SYNC);

  if (fault == 0 && fsync (fd) != 0 && errno != EINVAL) /* EINVAL: cannot be synced there */
    fault = errno;
  if (fault == 0)
    return TRUE;
  exch_set_errno (error, fault, path);
  return FALSE;
}

gboolean
exch_file_sync_close (int fd, const char *path, GError **error)
{
  gboolean ok = exch_file_sync (fd, path, error);

  if (close (fd) == 0 || !ok)
    return ok;
  exch_set_errno (error, errno, path);
  return FALSE;
}

gboolean
exch_file_sync_dir (const char *dir, GError **error)
{
  int fd = g_open (dir, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);

  if (fd >= 0)
    return exch_file_sync_close (fd, dir, error);
  exch_set_errno (error, errno, dir);
  return FALSE;
}

/* Where the file system cannot rename without replacing, a link gives the same. */
static int
rename_new (const char *from, const char *path)
{
  if (renameat2 (AT_FDCWD, from, AT_FDCWD, path, RENAME_NOREPLACE) == 0)
    return 0;
  if (errno != EINVAL && errno != ENOSYS)
    return errno;
  if (link (from, path) == 0)
    {
      g_unlink (from);
      return 0;
    }
  if (errno != EPERM && errno != EOPNOTSUPP)
    return errno;
  if (g_file_test (path, G_FILE_TEST_EXISTS)) /* neither: the last moment before is the best left */
    return EEXIST;
  return g_rename (from, path) == 0 ? 0 : errno;
}

gboolean
exch_file_put (const char *from, const char *path, gboolean replace, GError **error)
{
  g_autofree char *dir = g_path_get_dirname (path);
  int fault = _exch_fault (EXCH_OP_RENAME);

  if (fault == 0)
    fault = !replace ? rename_new (from, path) : g_rename (from, path) == 0 ? 0 : errno;
  if (fault != 0)
    {
      g_unlink (from);
      exch_set_errno (error, fault, path);
      return FALSE;
    }
  if (exch_file_sync_dir (dir, error))
    return TRUE;
  if (!replace) /* whole, but perhaps not for long: what failed leaves nothing */
    g_unlink (path);
  return FALSE;
}

gboolean
exch_file_make (const char *path, ExchFileFill fill, gpointer data, gboolean replace, GError **error)
{
  g_autofree char *beside = exch_file_beside (path);
  int fd = exch_file_create (beside, error);
  gboolean ok;

  if (fd < 0)
    return FALSE;
  ok = fill (fd, path, data, error);
  ok = exch_file_sync_close (fd, path, ok ? error : NULL) && ok;
  if (ok)
    return exch_file_put (beside, path, replace, error);
  g_unlink (beside);
  return FALSE;
}

typedef struct
{
  const void *bytes;
  gsize n;
} Bytes;

static gboolean
fill_bytes (int fd, const char *path, gpointer data, GError **error)
{
  const Bytes *self = data;

  return exch_file_write (fd, self->bytes, self->n, path, error);
}

gboolean
exch_file_make_of (const char *path, const void *bytes, gsize n, gboolean replace, GError **error)
{
  Bytes all = { bytes, n };

  return exch_file_make (path, fill_bytes, &all, replace, error);
}

/* rename(2) itself refuses a folder that is not empty. */
gboolean
exch_folder_put (const char *from, const char *dir, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (dir);
  int fault = _exch_fault (EXCH_OP_RENAME);

  if (fault == 0 && g_rename (from, dir) != 0)
    fault = errno;
  if (fault == 0 && exch_file_sync_dir (parent, error))
    return TRUE;
  exch_file_remove_tree (fault == 0 ? dir : from);
  if (fault != 0)
    exch_set_errno (error, fault == ENOTDIR ? EEXIST : fault, dir);
  return FALSE;
}

gboolean
exch_file_make_dir (const char *dir, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (dir);
  int fault = _exch_fault (EXCH_OP_MKDIR);

  if (fault == 0 && g_mkdir (dir, 0700) == 0)
    {
      if (exch_file_sync_dir (parent, error))
        return TRUE;
      g_rmdir (dir);
      return FALSE;
    }
  if (fault == 0)
    fault = errno;
  if (fault == EEXIST && g_file_test (dir, G_FILE_TEST_IS_DIR))
    return TRUE;
  exch_set_errno (error, fault, dir);
  return FALSE;
}

gboolean
exch_file_has_room (const char *path, gint64 needed, GError **error)
{
  g_autofree char *dir = g_path_get_dirname (path);
  g_autofree char *free_text = NULL;
  g_autofree char *needed_text = NULL;
  g_autofree char *shown = NULL;
  struct statvfs fs;
  guint64 room;

  if (statvfs (dir, &fs) != 0)
    {
      exch_set_errno (error, errno, dir);
      return FALSE;
    }
  room = (guint64) fs.f_bavail * fs.f_frsize;
  if (needed >= 0 && room >= (guint64) needed)
    return TRUE;
  free_text = g_format_size (room);
  needed_text = g_format_size (needed >= 0 ? (guint64) needed : G_MAXUINT64);
  shown = g_filename_display_name (dir);
  g_set_error (error, EXCH_ERROR, EXCH_ERROR_FULL,
               "There is not enough room on the disk of “%s”: %s are needed and %s are free. Free "
               "some space, or choose another disk.",
               shown, needed_text, free_text);
  return FALSE;
}

gboolean
exch_file_hash_fd (int fd, char *hex, gint64 *bytes, const char *path, GError **error)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree guint8 *block = g_malloc (BLOCK);
  int fault = _exch_fault (EXCH_OP_READ);

  *bytes = 0;
  while (fault == 0)
    {
      gssize got = pread (fd, block, BLOCK, (off_t) *bytes);

      if (got < 0 && errno != EINTR)
        fault = errno;
      if (got == 0)
        break;
      if (got > 0)
        {
          g_checksum_update (sum, block, got);
          *bytes += got;
        }
    }
  if (fault != 0)
    {
      exch_set_errno (error, fault, path);
      return FALSE;
    }
  g_strlcpy (hex, g_checksum_get_string (sum), EXCH_HASH_LEN + 1);
  return TRUE;
}

gboolean
exch_file_hash (const char *path, char *hex, gint64 *bytes, GError **error)
{
  int fd = exch_file_open (path, error);
  gboolean ok;

  if (fd < 0)
    return FALSE;
  ok = exch_file_hash_fd (fd, hex, bytes, path, error);
  close (fd);
  return ok;
}

void
exch_file_remove_tree (const char *dir)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *path = g_build_filename (dir, name, NULL);
      GStatBuf st;

      if (g_lstat (path, &st) == 0 && S_ISDIR (st.st_mode))
        exch_file_remove_tree (path);
      else
        g_unlink (path);
    }
  g_rmdir (dir);
}

gboolean
exch_hash_is_plain (const char *hash)
{
  return strlen (hash) == EXCH_HASH_LEN && strspn (hash, "0123456789abcdef") == EXCH_HASH_LEN;
}

gboolean
exch_format_is_plain (const char *format)
{
  gsize length = strlen (format);

  return length >= 1 && length <= 7 &&
         strspn (format, "abcdefghijklmnopqrstuvwxyz0123456789") == length;
}
