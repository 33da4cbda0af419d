/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-photo.c — originals: files named by their content, and their rows.
 *
 * Invariant: the name of a file is the hash of what is in it, for it is written
 * beside that name, synced, and only then renamed; a row is written only for a
 * file that is there. A crash can leave a file without a row, never the
 * reverse. No file is ever removed or overwritten, except one whose content
 * does not fit its name.
 */
#include "store/store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

gboolean
_store_format_is_plain (const char *format)
{
  gsize length = strlen (format);

  return length >= 1 && length < sizeof ((StorePhoto *) NULL)->format &&
         strspn (format, "abcdefghijklmnopqrstuvwxyz0123456789") == length;
}

gboolean
_store_hash_is_plain (const char *hash)
{
  return strlen (hash) == STORE_HASH_LEN && strspn (hash, "0123456789abcdef") == STORE_HASH_LEN;
}

char *
store_photo_path (Store *self, const StorePhoto *photo)
{
  char folder[3] = { photo->hash[0], photo->hash[0] != '\0' ? photo->hash[1] : '\0', '\0' };
  g_autofree char *name = g_strconcat (photo->hash, ".", photo->format, NULL);

  return g_build_filename (self->dir, STORE_PHOTO_DIR, folder, name, NULL);
}

/* Trusted only when size and hash are right. */
static gboolean
is_there (const char *path, const StorePhoto *photo)
{
  char hash[STORE_HASH_LEN + 1];
  GStatBuf st;
  gint64 bytes;

  return g_lstat (path, &st) == 0 && S_ISREG (st.st_mode) && st.st_size == photo->bytes &&
         _store_hash_path (path, hash, &bytes, NULL) && bytes == photo->bytes &&
         strcmp (hash, photo->hash) == 0;
}

static gboolean
make_folders (Store *self, const char *folder, GError **error)
{
  g_autofree char *photos = g_build_filename (self->dir, STORE_PHOTO_DIR, NULL);

  return _store_make_dir (photos, error) && _store_make_dir (folder, error);
}

/* Under a name of its own beside the final one, so that two programs may add
 * the same photo at once. */
static gboolean
write_beside (int fd, const char *temporary, const StorePhoto *photo, GError **error)
{
  char hash[STORE_HASH_LEN + 1];
  gint64 bytes;

  if (!_store_copy_fd (fd, temporary, hash, &bytes, error))
    return FALSE;
  if (bytes == photo->bytes && strcmp (hash, photo->hash) == 0)
    return TRUE;
  g_unlink (temporary);
  g_set_error_literal (error, STORE_ERROR, STORE_ERROR_FAILED,
                       "The file changed while it was read. Wait until it is complete, then add it "
                       "again.");
  return FALSE;
}

static gboolean
rename_into_place (const char *temporary, const char *path, GError **error)
{
  int saved;

  if (g_rename (temporary, path) == 0)
    return TRUE;
  saved = errno;
  g_unlink (temporary);
  _store_set_errno (error, saved, path);
  return FALSE;
}

static gboolean
put_file (Store *self, int fd, const StorePhoto *photo, gboolean *existed, GError **error)
{
  static int turn;
  g_autofree char *path = store_photo_path (self, photo);
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *temporary =
    g_strdup_printf ("%s/.new-%d-%d", folder, (int) getpid (), g_atomic_int_add (&turn, 1));

  if (!make_folders (self, folder, error))
    return FALSE;
  *existed = is_there (path, photo);
  /* One left by a crash of a program with our number is of no use to anyone. */
  g_unlink (temporary);
  if (!*existed &&
      (!write_beside (fd, temporary, photo, error) || !rename_into_place (temporary, path, error)))
    return FALSE;
  /* Also when it was there: the program that wrote it may have been cut off
   * before its folder was on the disk. */
  return _store_sync_dir (folder, error);
}

static gboolean
check_source (int fd, const char *format, GError **error)
{
  struct stat st;
  const char *why = NULL;

  if (fstat (fd, &st) != 0)
    why = "The file cannot be read. Check that it is still there.";
  else if (!S_ISREG (st.st_mode))
    why = "This is not a file. Choose a picture file.";
  else if (st.st_size == 0)
    why = "The file is empty. Copy it from the camera again.";
  else if (!_store_format_is_plain (format))
    why = "The kind of this file is not known. Choose a JPEG or PNG picture.";
  if (why == NULL)
    return TRUE;
  g_set_error_literal (error, STORE_ERROR, STORE_ERROR_FAILED, why);
  return FALSE;
}

gboolean
store_photo_put (Store *self,
                 int fd,
                 const char *format,
                 StorePhoto *out,
                 gboolean *existed,
                 GError **error)
{
  gboolean was_there = FALSE;

  g_return_val_if_fail (self != NULL && format != NULL && out != NULL, FALSE);
  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  if (self->access != STORE_ACCESS_WRITE)
    {
      _store_set_error (error, STORE_ERROR_READ_ONLY, self->dir);
      return FALSE;
    }
  if (!check_source (fd, format, error) || !_store_hash_fd (fd, out->hash, &out->bytes, error))
    return FALSE;
  g_strlcpy (out->format, format, sizeof out->format);
  if (!put_file (self, fd, out, &was_there, error))
    return FALSE;
  if (existed != NULL)
    *existed = was_there;
  _store_at ("photo-file");
  return TRUE;
}

gboolean
_store_photo_put_known (Store *self, int fd, const StorePhoto *photo, GError **error)
{
  gboolean existed;

  if (!put_file (self, fd, photo, &existed, error))
    return FALSE;
  _store_at ("photo-file");
  return TRUE;
}

#define PHOTO_COLUMNS "id, hash, format, width, height, orientation, bytes, taken, taken_minute"

/* FALSE: the row is damaged. */
static gboolean
read_photo (Stmt *stmt, StorePhoto *out)
{
  const char *hash = _store_column_text (stmt, 1);
  const char *format = _store_column_text (stmt, 2);

  memset (out, 0, sizeof *out);
  if (!_store_column_id (stmt, 0, &out->id) || hash == NULL || !_store_hash_is_plain (hash) ||
      format == NULL || !_store_format_is_plain (format))
    return FALSE;
  g_strlcpy (out->hash, hash, sizeof out->hash);
  g_strlcpy (out->format, format, sizeof out->format);
  out->width = sqlite3_column_int (stmt, 3);
  out->height = sqlite3_column_int (stmt, 4);
  out->orientation = sqlite3_column_int (stmt, 5);
  out->bytes = sqlite3_column_int64 (stmt, 6);
  out->taken =
    sqlite3_column_type (stmt, 7) == SQLITE_NULL ? CORE_DAY_NONE : sqlite3_column_int (stmt, 7);
  out->taken_minute =
    sqlite3_column_type (stmt, 8) == SQLITE_NULL ? -1 : sqlite3_column_int (stmt, 8);
  return out->width > 0 && out->height > 0 && out->bytes > 0 && out->orientation >= 1 &&
         out->orientation <= 8;
}

gboolean
store_photo_find (Store *self, const char *hash, StorePhoto *out, GError **error)
{
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL && hash != NULL && out != NULL, FALSE);
  stmt = _store_prepare (self, "SELECT " PHOTO_COLUMNS " FROM photo WHERE hash = ?1", error);
  if (stmt == NULL)
    return FALSE;
  sqlite3_bind_text (stmt, 1, hash, -1, SQLITE_STATIC);
  if (!_store_step (self, stmt, &row, error))
    return FALSE;
  if (!row)
    {
      g_set_error_literal (error, STORE_ERROR, STORE_ERROR_NOT_FOUND,
                           "There is no such photo in the journal.");
      return FALSE;
    }
  if (read_photo (stmt, out))
    return TRUE;
  _store_set_damage (self, error);
  return FALSE;
}

GArray *
store_load_photos (Store *self, GError **error)
{
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (StorePhoto));
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL, NULL);
  stmt = _store_prepare (self, "SELECT " PHOTO_COLUMNS " FROM photo ORDER BY id", error);
  if (stmt == NULL)
    return NULL;
  while (_store_step (self, stmt, &row, error))
    {
      StorePhoto photo;

      if (!row)
        return g_steal_pointer (&photos);
      if (!read_photo (stmt, &photo))
        {
          _store_set_damage (self, error);
          return NULL;
        }
      g_array_append_val (photos, photo);
    }
  return NULL;
}
