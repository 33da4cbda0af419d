/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-decode.c — opening, asking the decoder, and the async pair.
 *
 * Invariant: the file is opened here, with the keeper's rights, and handed
 * over as a descriptor; the decoder never opens a path that a picture or a
 * caller named.
 */
#include "imaging/img-decode-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib-unix.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

G_DEFINE_QUARK (img - error - quark, img_error)

typedef int Fd;

static void
fd_close (Fd *fd)
{
  if (*fd >= 0)
    close (*fd);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Fd, fd_close)

typedef struct
{
  GFile *file; /* owned */
  ImgDecodeOptions options;
} Request;

static void
request_free (gpointer data)
{
  Request *request = data;

  g_object_unref (request->file);
  g_free (request);
}

void
img_picture_free (ImgPicture *self)
{
  if (self == NULL)
    return;
  img_pixels_free (self->pixels);
  g_free (self->format);
  g_free (self);
}

static int
unreadable (GError **error, const char *reason)
{
  g_set_error (error, IMG_ERROR, IMG_ERROR_UNREADABLE,
               "This file cannot be read (%s). Check that it is still there and that you may open "
               "it.",
               reason);
  return -1;
}

int
img_decode_open (const char *path, GError **error)
{
  g_auto (Fd) fd = -1;
  struct stat st;
  Fd opened;

  g_return_val_if_fail (path != NULL, -1);

  /* A pipe without a writer would otherwise hold the caller. */
  fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
  if (fd < 0)
    return unreadable (error, g_strerror (errno));
  if (fstat (fd, &st) != 0)
    return unreadable (error, g_strerror (errno));
  if (!S_ISREG (st.st_mode))
    return unreadable (error, "it is not a plain file");
  opened = fd;
  fd = -1;
  return opened;
}

ImgPicture *
img_decode_fd (int fd, const ImgDecodeOptions *options, GCancellable *cancellable, GError **error)
{
  static const ImgDecodeOptions defaults = { 0 };
  g_auto (Fd) memory = -1;

  g_return_val_if_fail (fd >= 0, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  memory = memfd_create ("mantidary-picture", MFD_CLOEXEC | MFD_ALLOW_SEALING);
  if (memory < 0)
    {
      g_set_error (error, IMG_ERROR, IMG_ERROR_FAILED,
                   "There is no room to unpack this picture (%s). Close other programs and try "
                   "again.",
                   g_strerror (errno));
      return NULL;
    }
  if (!img_decode_run (fd, memory, options != NULL ? options : &defaults, cancellable, error))
    return NULL;
  return img_decode_read_answer (memory, error);
}

ImgPicture *
img_decode (const char *path,
            const ImgDecodeOptions *options,
            GCancellable *cancellable,
            GError **error)
{
  g_auto (Fd) fd = img_decode_open (path, error);

  return fd < 0 ? NULL : img_decode_fd (fd, options, cancellable, error);
}

ImgPicture *
img_decode_file (GFile *file,
                 const ImgDecodeOptions *options,
                 GCancellable *cancellable,
                 GError **error)
{
  g_autofree char *path = NULL;

  g_return_val_if_fail (G_IS_FILE (file), NULL);

  path = g_file_get_path (file);
  if (path == NULL)
    {
      g_set_error_literal (error, IMG_ERROR, IMG_ERROR_UNREADABLE,
                           "This file does not lie on this computer. Copy it here first.");
      return NULL;
    }
  return img_decode (path, options, cancellable, error);
}

static void
work (gpointer data, gpointer unused)
{
  g_autoptr (GTask) task = data;
  const Request *request = g_task_get_task_data (task);
  GError *error = NULL;
  ImgPicture *picture;

  if (g_task_return_error_if_cancelled (task))
    return;
  picture =
    img_decode_file (request->file, &request->options, g_task_get_cancellable (task), &error);
  if (picture == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, picture, (GDestroyNotify) img_picture_free);
}

/* GLib's shared pool would let a few large pictures hold up every other task. */
static GThreadPool *
pool (void)
{
  static gsize once = 0;

  if (g_once_init_enter (&once))
    {
      int n = MAX (1, (int) g_get_num_processors () - 1);
      GThreadPool *made = g_thread_pool_new (work, NULL, n, FALSE, NULL);

      g_once_init_leave (&once, (gsize) made);
    }
  return (GThreadPool *) once;
}

void
img_decode_async (GFile *file,
                  const ImgDecodeOptions *options,
                  GCancellable *cancellable,
                  GAsyncReadyCallback callback,
                  gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  GTask *task;
  Request *request;

  g_return_if_fail (G_IS_FILE (file));

  request = g_new0 (Request, 1);
  request->file = g_object_ref (file);
  if (options != NULL)
    request->options = *options;
  task = g_task_new (NULL, cancellable, callback, user_data);
  g_task_set_source_tag (task, img_decode_async);
  g_task_set_task_data (task, request, request_free);
  /* Where no thread can be started the task waits in the pool for one that is there. */
  g_thread_pool_push (pool (), task, &error);
  if (error != NULL)
    g_warning ("decode pool: %s", error->message);
}

ImgPicture *
img_decode_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  g_return_val_if_fail (g_async_result_is_tagged (result, img_decode_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
