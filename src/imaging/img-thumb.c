/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-thumb.c — the thumbnail cache.
 *
 * Invariant: a file under its final name is whole; it is written beside it and
 * renamed. A name comes from hex digits only, so no hash can lead out of the
 * folder.
 */
#include "imaging/img-thumb.h"
#include "imaging/img-decode.h"

#include <errno.h>
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

static gboolean
is_hash (const char *hash)
{
  gsize n = strlen (hash);

  return n >= 16 && n <= 128 && strspn (hash, "0123456789abcdef") == n;
}

char *
img_thumb_cache_dir (void)
{
  return g_build_filename (g_get_user_cache_dir (), "mantidary", "thumbnails", NULL);
}

char *
img_thumb_path (const char *cache_dir, const char *hash, int side)
{
  g_autofree char *name = NULL;

  g_return_val_if_fail (cache_dir != NULL && hash != NULL, NULL);

  if (!is_hash (hash) || side < IMG_THUMB_MIN_SIDE || side > IMG_THUMB_MAX_SIDE)
    return NULL;
  name = g_strdup_printf ("%s-%d.jpg", hash, side);
  return g_build_filename (cache_dir, name, NULL);
}

gboolean
img_thumb_is_whole (const char *path)
{
  guint8 head[3] = { 0 }, tail[2] = { 0 };
  FILE *file = g_fopen (path, "rbe");
  gboolean whole;

  if (file == NULL)
    return FALSE;
  whole = fread (head, 1, sizeof head, file) == sizeof head && fseek (file, -2, SEEK_END) == 0 &&
          fread (tail, 1, sizeof tail, file) == sizeof tail;
  fclose (file);
  return whole && memcmp (head, "\xff\xd8\xff", 3) == 0 && memcmp (tail, "\xff\xd9", 2) == 0;
}

gboolean
img_thumb_write (const ImgPixels *pixels, const char *path, GError **error)
{
  g_autoptr (GdkPixbuf) pixbuf = NULL;
  g_autofree char *jpeg = NULL;
  gsize size;

  g_return_val_if_fail (pixels != NULL && path != NULL, FALSE);

  if (pixels->stride > G_MAXINT)
    {
      g_set_error_literal (error, IMG_ERROR, IMG_ERROR_TOO_LARGE,
                           "This picture is too wide for a small copy.");
      return FALSE;
    }
  pixbuf = gdk_pixbuf_new_from_bytes (pixels->bytes, GDK_COLORSPACE_RGB, FALSE, 8, pixels->width,
                                      pixels->height, (int) pixels->stride);
  if (!gdk_pixbuf_save_to_buffer (pixbuf, &jpeg, &size, "jpeg", error, "quality", "85", NULL))
    return FALSE;
  return g_file_set_contents_full (path, jpeg, (gssize) size, G_FILE_SET_CONTENTS_CONSISTENT, 0600,
                                   error);
}

static gboolean
make_folder (const char *dir, GError **error)
{
  int saved;

  if (g_mkdir_with_parents (dir, 0700) == 0)
    return TRUE;
  saved = errno;
  g_set_error (error, G_IO_ERROR, (int) g_io_error_from_errno (saved),
               "The folder for small pictures, %s, cannot be made (%s). Check its permissions.",
               dir, g_strerror (saved));
  return FALSE;
}

char *
img_thumb_ensure (const char *cache_dir,
                  const char *hash,
                  const char *photo_path,
                  int side,
                  GCancellable *cancellable,
                  GError **error)
{
  ImgDecodeOptions options = { .max_side = side };
  g_autoptr (ImgPicture) picture = NULL;
  g_autofree char *path = NULL;

  g_return_val_if_fail (photo_path != NULL, NULL);

  path = img_thumb_path (cache_dir, hash, side);
  if (path == NULL)
    {
      g_set_error_literal (
        error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
        "A small picture needs the photo's hash and a side of 16 to 2048 pixels.");
      return NULL;
    }
  if (img_thumb_is_whole (path))
    return g_steal_pointer (&path);
  picture = img_decode (photo_path, &options, cancellable, error);
  if (picture == NULL || !make_folder (cache_dir, error) ||
      !img_thumb_write (picture->pixels, path, error))
    return NULL;
  return g_steal_pointer (&path);
}
