/* SPDX-License-Identifier: GPL-3.0-or-later */
/* photo-read.c — what a file is, before it comes into the journal. */
#include "desk/photo-batch-private.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/core-date.h"
#include "imaging/img-decode.h"
#include "imaging/img-thumb.h"

#define STEP (64 * 1024)

void
photo_read_free (PhotoRead *self)
{
  if (self == NULL)
    return;
  g_clear_error (&self->why);
  g_free (self);
}

/* As the store names it. */
static gboolean
hash_of (int fd, char out[65])
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree guchar *bytes = g_malloc (STEP);
  off_t at = 0;
  gssize n;

  do
    {
      n = pread (fd, bytes, STEP, at);
      if (n > 0)
        g_checksum_update (sum, bytes, n);
      at += MAX (n, 0);
    }
  while (n > 0 || (n < 0 && errno == EINTR));
  g_strlcpy (out, g_checksum_get_string (sum), 65);
  return n == 0;
}

/* The civil day on which the file was last written; CORE_DAY_NONE outside the calendar. */
static CoreDay
written_day (int fd)
{
  struct stat st;
  g_autoptr (GDateTime) when = NULL;

  if (fstat (fd, &st) != 0)
    return CORE_DAY_NONE;
  when = g_date_time_new_from_unix_local (st.st_mtime);
  return when == NULL ? CORE_DAY_NONE
                      : core_day_from_ymd (g_date_time_get_year (when), g_date_time_get_month (when),
                                           g_date_time_get_day_of_month (when));
}

/* The small copy is what the page shows; without it the page makes its own. */
static void
keep_thumb (const ImgPixels *pixels, const char *hash)
{
  g_autofree char *cache = img_thumb_cache_dir ();
  g_autofree char *path = img_thumb_path (cache, hash, IMG_THUMB_SIDE);

  if (path != NULL && !img_thumb_is_whole (path) && g_mkdir_with_parents (cache, 0700) == 0)
    (void) img_thumb_write (pixels, path, NULL);
}

static void
read_fd (int fd, PhotoRead *out, GCancellable *cancellable)
{
  ImgDecodeOptions options = { .max_side = IMG_THUMB_SIDE };
  g_autoptr (ImgPicture) picture = img_decode_fd (fd, &options, cancellable, &out->why);

  if (picture == NULL)
    return;
  if (!hash_of (fd, out->hash))
    {
      g_set_error_literal (&out->why, IMG_ERROR, IMG_ERROR_UNREADABLE,
                           "This file cannot be read. Check that it is still there and that you "
                           "may open it.");
      return;
    }
  out->width = picture->original_width;
  out->height = picture->original_height;
  out->file = written_day (fd);
  if (picture->has_taken)
    {
      out->camera = core_day_from_ymd (picture->year, picture->month, picture->day);
      out->minute = picture->hour >= 0 ? picture->hour * 60 + picture->minute : -1;
    }
  keep_thumb (picture->pixels, out->hash);
}

static void
work (GTask *task)
{
  const char *path = g_task_get_task_data (task);
  g_autoptr (PhotoRead) out = g_new0 (PhotoRead, 1);
  int fd;

  out->camera = out->file = CORE_DAY_NONE;
  out->minute = -1;
  fd = img_decode_open (path, &out->why);
  if (fd >= 0)
    {
      read_fd (fd, out, g_task_get_cancellable (task));
      close (fd);
    }
  g_task_return_pointer (task, g_steal_pointer (&out), (GDestroyNotify) photo_read_free);
}

void
photo_read_async (const char *path, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  GTask *task = g_task_new (NULL, cancellable, callback, data);

  g_task_set_source_tag (task, photo_read_async);
  g_task_set_task_data (task, g_strdup (path), g_free);
  photo_queue_take (task, work);
}

PhotoRead *
photo_read_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, photo_read_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
