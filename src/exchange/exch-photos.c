/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-photos.c — photos of a backup folder or of a journal being restored, by their hash.
 *
 * Invariant: a file under its final name has been synced and read back; one that
 * does not fit its name is replaced, never trusted.
 */
#include "exchange/exch-archive.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define BLOCK 65536

gboolean
exch_photo_is_there (const char *base, const ExchPhoto *photo, gboolean check)
{
  g_autofree char *name = exch_photo_name (photo);
  g_autofree char *path = g_build_filename (base, name, NULL);
  char hash[EXCH_HASH_LEN + 1];
  GStatBuf st;
  gint64 bytes;

  if (g_lstat (path, &st) != 0 || !S_ISREG (st.st_mode) || st.st_size != photo->bytes)
    return FALSE;
  return !check || (exch_file_hash (path, hash, &bytes, NULL) && bytes == photo->bytes &&
                    strcmp (hash, photo->hash) == 0);
}

/* What cannot be read is as good as not there; what cannot be written is another matter. */
static gboolean
copy_all (int from, int to, const char *path, GError **error)
{
  g_autofree guint8 *block = g_malloc (BLOCK);
  off_t at = 0;

  for (;;)
    {
      gssize got = pread (from, block, BLOCK, at);

      if (got < 0 && errno == EINTR)
        continue;
      if (got < 0)
        {
          exch_set_error (error, EXCH_ERROR_PHOTO, path);
          return FALSE;
        }
      if (got == 0)
        return TRUE;
      if (!exch_file_write (to, block, (gsize) got, path, error))
        return FALSE;
      at += got;
    }
}

/* What is read back must come from the disk as far as the system lets us ask for it. */
static gboolean
write_and_read_back (int from, const char *path, const ExchPhoto *photo, GError **error)
{
  char hash[EXCH_HASH_LEN + 1];
  gint64 bytes;
  int fd = exch_file_create (path, error);
  gboolean ok;

  if (fd < 0)
    return FALSE;
  ok = copy_all (from, fd, path, error) && exch_file_sync (fd, path, error);
  if (ok)
    {
      posix_fadvise (fd, 0, 0, POSIX_FADV_DONTNEED);
      ok = exch_file_hash_fd (fd, hash, &bytes, path, error);
    }
  close (fd);
  if (ok && bytes == photo->bytes && strcmp (hash, photo->hash) == 0)
    return TRUE;
  if (ok)
    {
      g_autofree char *name = exch_photo_name (photo);

      exch_set_error (error, EXCH_ERROR_PHOTO, name);
    }
  g_unlink (path);
  return FALSE;
}

gboolean
exch_photo_put (const char *base,
                const ExchPhoto *photo,
                int fd,
                gboolean check,
                gboolean *is_new,
                GError **error)
{
  g_autofree char *name = exch_photo_name (photo);
  g_autofree char *path = g_build_filename (base, name, NULL);
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *photos = g_path_get_dirname (folder);
  g_autofree char *beside = exch_file_beside (path);
  gboolean there = exch_photo_is_there (base, photo, check);

  if (is_new != NULL)
    *is_new = !there;
  if (there)
    return TRUE;
  return exch_file_make_dir (photos, error) && exch_file_make_dir (folder, error) &&
         write_and_read_back (fd, beside, photo, error) &&
         exch_file_put (beside, path, TRUE, error);
}
