/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-photo-add.c — pictures into the journal: decoded to be sure, kept as they are, then entered.
 *
 * A file is opened once and that descriptor is both decoded and stored, so that what was checked is
 * what is kept. Files come one after the other: of many large ones only one is unpacked at a time.
 * Of what could be kept all entries are one round. */
#include "desk/desk-photos.h"
#include "desk/desk-private.h"

#include <string.h>
#include <unistd.h>

#include "core/core-date.h"
#include "imaging/img-decode.h"

typedef struct
{
  DeskPhotoFile asked; /* its file owned */
  StorePhoto photo;
  gboolean existed;
  CoreWrongDay wrong; /* of the camera's day */
  GError *why; /* owned; it was refused */
  int fd;      /* while it is decoded, -1 */
} Photo;

typedef struct
{
  gatomicrefcount refs;
  GPtrArray *photos; /* Photo */
  guint at;          /* under way */
  gboolean one_by_one;
  DeskPhotosProgress progress;
  gpointer data;
} Photos;

static void
photo_free (gpointer data)
{
  Photo *self = data;

  if (self->fd >= 0)
    close (self->fd);
  g_clear_error (&self->why);
  g_object_unref (self->asked.file);
  g_free (self);
}

static Photos *
photos_ref (Photos *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

static void
photos_unref (gpointer data)
{
  Photos *self = data;

  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  g_ptr_array_unref (self->photos);
  g_free (self);
}

/* ---- decode and keep ---- */

/* The file extensions of the store. */
static const char *
extension (const char *format)
{
  return strcmp (format, "jpeg") == 0 ? "jpg" : format;
}

static gboolean
look_at (Photo *photo, GCancellable *cancellable, GError **error)
{
  /* A small copy is enough to know that it can be read to the end. */
  ImgDecodeOptions options = { .max_side = 512 };
  g_autoptr (ImgPicture) picture = img_decode_fd (photo->fd, &options, cancellable, error);

  if (picture == NULL)
    return FALSE;
  photo->photo.width = picture->original_width;
  photo->photo.height = picture->original_height;
  photo->photo.orientation = picture->orientation;
  photo->photo.taken = CORE_DAY_NONE;
  photo->photo.taken_minute = -1;
  if (picture->has_taken)
    {
      photo->photo.taken = core_day_from_ymd (picture->year, picture->month, picture->day);
      if (photo->photo.taken != CORE_DAY_NONE && picture->hour >= 0)
        photo->photo.taken_minute = picture->hour * 60 + picture->minute;
    }
  g_strlcpy (photo->photo.format, extension (picture->format), sizeof photo->photo.format);
  return TRUE;
}

static void
decode_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Photos *photos = data;
  Photo *photo = photos->photos->pdata[photos->at];
  g_autofree char *path = g_file_get_path (photo->asked.file);

  if (path == NULL)
    desk_fail (&photo->why, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_LOCAL, NULL);
  else
    photo->fd = img_decode_open (path, &photo->why);
  if (photo->fd >= 0)
    (void) look_at (photo, cancellable, &photo->why);
  g_task_return_boolean (task, TRUE);
}

typedef struct
{
  int fd; /* borrowed: the picture outlives the job */
  Photos *photos;
  StorePhoto photo;
  gboolean existed;
} PutJob;

static void
put_job_free (gpointer data)
{
  PutJob *job = data;

  photos_unref (job->photos);
  g_free (job);
}

static gpointer
put_job (Store *store, gpointer data, GError **error)
{
  PutJob *job = data;
  PutJob *done;

  if (!store_photo_put (store, job->fd, job->photo.format, &job->photo, &job->existed, error))
    return NULL;
  done = g_memdup2 (job, sizeof *job);
  photos_ref (done->photos);
  return done;
}

/* ---- enter ---- */

/* The camera's day, if it counts: the keeper does not say otherwise, and it can be. */
static CoreDay
camera_day (Desk *self, Photo *photo)
{
  CoreDay taken = photo->asked.keeper_says ? CORE_DAY_NONE : photo->photo.taken;

  photo->wrong = taken == CORE_DAY_NONE ? CORE_WRONG_DAY_NONE
                                        : desk_photo_wrong_day (self, photo->asked.subject, taken);
  return photo->wrong == CORE_WRONG_DAY_NONE ? taken : CORE_DAY_NONE;
}

static void
enter (Desk *self, DeskOp *op, Photo *photo)
{
  CoreDay camera = camera_day (self, photo);
  CoreDay said = photo->asked.day != CORE_DAY_NONE ? photo->asked.day : camera;
  CoreDay day = said != CORE_DAY_NONE ? said : self->today;
  CoreEntry *entry = desk_op_entry (op, CORE_KIND_PHOTO, photo->asked.subject, day);
  /* Where the camera says nothing, or nothing that can be, the keeper says when; else nobody does. */
  CoreDay taken = camera != CORE_DAY_NONE ? camera : photo->asked.day;

  core_entry_set_str (entry, CORE_KEY_HASH, photo->photo.hash);
  if (taken != CORE_DAY_NONE)
    core_entry_set_num (entry, CORE_KEY_TAKEN, taken);
  if (photo->photo.taken == day && !photo->asked.keeper_says)
    entry->minute = (gint16) photo->photo.taken_minute;
  desk_op_photo (op, &photo->photo);
}

/* One after the other, so that it is known which of them cannot be: each is held against what
 * those before it leave. */
static gboolean
enter_one_by_one (Desk *self, DeskOp *op, const GPtrArray *photos, GError **error)
{
  GError *last = NULL;

  for (guint i = 0; i < photos->len; i++)
    {
      Photo *photo = photos->pdata[i];

      if (photo->why != NULL)
        continue;
      enter (self, op, photo);
      if (desk_op_check (op, &photo->why))
        continue;
      g_clear_error (&last);
      last = g_error_copy (photo->why);
      g_ptr_array_remove_index (op->entries, op->entries->len - 1);
      g_array_set_size (op->photos, op->photos->len - 1);
    }
  if (op->entries->len > 0)
    g_clear_error (&last);
  if (last != NULL)
    g_propagate_error (error, last);
  return op->entries->len > 0;
}

static gboolean
prepare_photos (Desk *self, DeskOp *op, GError **error)
{
  Photos *photos = op->data;

  if (photos->one_by_one)
    return enter_one_by_one (self, op, photos->photos, error);
  for (guint i = 0; i < photos->photos->len; i++)
    if (((const Photo *) photos->photos->pdata[i])->why == NULL)
      enter (self, op, photos->photos->pdata[i]);
  return desk_op_check (op, error);
}

static void
tell (Desk *self, const Photo *photo, CoreId entry, DeskPhoto *out)
{
  desk_photo_info (self, entry, out);
  out->duplicate = photo->existed;
  out->wrong = photo->asked.day == CORE_DAY_NONE ? photo->wrong : CORE_WRONG_DAY_NONE;
  out->undated = photo->asked.day == CORE_DAY_NONE &&
                 (photo->photo.taken == CORE_DAY_NONE || photo->asked.keeper_says ||
                  out->wrong != CORE_WRONG_DAY_NONE);
  if (out->duplicate)
    out->of = desk_photo_holder (self, out->hash, entry);
}

static void
added_clear (gpointer data)
{
  g_clear_error (&((DeskPhotoAdded *) data)->why);
}

/* What has come of each; the entries were written in the order of the files. */
static GArray *
outcome (Desk *self, const Photos *photos, const DeskOp *op)
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (DeskPhotoAdded));
  guint nth = 0;

  g_array_set_clear_func (out, added_clear);
  for (guint i = 0; i < photos->photos->len; i++)
    {
      const Photo *photo = photos->photos->pdata[i];
      DeskPhotoAdded one = { .why = photo->why != NULL ? g_error_copy (photo->why) : NULL };

      if (one.why == NULL)
        tell (self, photo, g_array_index (op->written, CoreId, nth++), &one.photo);
      g_array_append_val (out, one);
    }
  return out;
}

static void start_entering (GTask *task);

static void
entered_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Photos *photos = g_task_get_task_data (task);
  GError *error = NULL;
  DeskOp *op = desk_op_finish (DESK_DESK (source), result, prepare_photos, &error);

  if (op != NULL)
    g_task_return_pointer (task, outcome (DESK_DESK (source), photos, op), (GDestroyNotify) g_array_unref);
  /* Of many, one that cannot be entered does not keep out the others. */
  else if (error->domain == DESK_ERROR && photos->photos->len > 1 && !photos->one_by_one)
    {
      g_clear_error (&error);
      photos->one_by_one = TRUE;
      start_entering (task);
    }
  else
    g_task_return_error (task, error);
}

static void
start_entering (GTask *task)
{
  Photos *photos = g_task_get_task_data (task);

  desk_op_start (g_task_get_source_object (task), prepare_photos, prepare_photos, photos_ref (photos),
                 photos_unref, NULL, entered_cb, g_object_ref (task));
}

/* ---- one after the other ---- */

static void next (GTask *task);

static void
put_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Photos *photos = g_task_get_task_data (task);
  Photo *photo = photos->photos->pdata[photos->at];
  PutJob *done = store_run_finish (result, &photo->why);

  close (photo->fd);
  photo->fd = -1;
  if (done != NULL)
    {
      photo->photo = done->photo;
      photo->existed = done->existed;
      put_job_free (done);
    }
  photos->at++;
  next (task);
}

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Desk *self = g_task_get_source_object (task);
  Photos *photos = g_task_get_task_data (task);
  Photo *photo = photos->photos->pdata[photos->at];
  PutJob *job;

  if (self->closed && photo->why == NULL)
    desk_fail (&photo->why, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
  if (photo->why != NULL)
    {
      photos->at++;
      next (task);
      return;
    }
  job = g_new0 (PutJob, 1);
  job->fd = photo->fd;
  job->photos = photos_ref (photos);
  job->photo = photo->photo;
  store_run_async (self->store, put_job, job, put_job_free, put_job_free, g_task_get_cancellable (task),
                   put_cb, g_object_ref (task));
}

static gboolean
any_kept (const Photos *photos)
{
  for (guint i = 0; i < photos->photos->len; i++)
    if (((const Photo *) photos->photos->pdata[i])->why == NULL)
      return TRUE;
  return FALSE;
}

static void
next (GTask *task)
{
  Photos *photos = g_task_get_task_data (task);
  GCancellable *cancellable = g_task_get_cancellable (task);
  g_autoptr (GTask) decode = NULL;

  if (g_task_return_error_if_cancelled (task))
    return;
  if (photos->at == photos->photos->len)
    {
      if (any_kept (photos))
        start_entering (task);
      else /* all are refused, each by itself */
        g_task_return_pointer (task, outcome (g_task_get_source_object (task), photos, NULL),
                               (GDestroyNotify) g_array_unref);
      return;
    }
  if (photos->progress != NULL)
    photos->progress (photos->at, photos->photos->len, photos->data);
  /* Without the desk: it must not end on that thread. */
  decode = g_task_new (NULL, cancellable, decoded_cb, g_object_ref (task));
  g_task_set_check_cancellable (decode, FALSE);
  g_task_set_task_data (decode, photos_ref (photos), photos_unref);
  g_task_run_in_thread (decode, decode_thread);
}

/* ---- the verbs ---- */

static Photos *
photos_new (const DeskPhotoFile *files, gsize n)
{
  Photos *self = g_new0 (Photos, 1);

  g_atomic_ref_count_init (&self->refs);
  self->photos = g_ptr_array_new_with_free_func (photo_free);
  for (gsize i = 0; i < n; i++)
    {
      Photo *photo = g_new0 (Photo, 1);

      photo->asked = files[i];
      g_object_ref (photo->asked.file);
      photo->fd = -1;
      g_ptr_array_add (self->photos, photo);
    }
  return self;
}

void
desk_photos_add_async (Desk *self,
                       const DeskPhotoFile *files,
                       gsize n_files,
                       DeskPhotosProgress progress,
                       GCancellable *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, data);
  Photos *photos = photos_new (files, n_files);

  g_task_set_source_tag (task, desk_photos_add_async);
  g_task_set_check_cancellable (task, FALSE); /* what is written is told */
  photos->progress = progress;
  photos->data = data;
  g_task_set_task_data (task, photos, photos_unref);
  if (desk_read_only (self))
    {
      GError *error = NULL;

      desk_fail (&error, STORE_ERROR, STORE_ERROR_READ_ONLY, WORDS_DESK_READ_ONLY, self->dir, NULL);
      g_task_return_error (task, error);
      return;
    }
  next (task);
}

GArray *
desk_photos_add_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_photos_add_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

void
desk_photo_add_async (Desk *self,
                      CoreId subject,
                      GFile *file,
                      CoreDay day,
                      GCancellable *cancellable,
                      GAsyncReadyCallback callback,
                      gpointer data)
{
  DeskPhotoFile one = { .subject = subject, .file = file, .day = day };

  desk_photos_add_async (self, &one, 1, NULL, cancellable, callback, data);
}

gboolean
desk_photo_add_finish (Desk *self, GAsyncResult *result, DeskPhoto *out, GError **error)
{
  g_autoptr (GArray) added = desk_photos_add_finish (self, result, error);
  DeskPhotoAdded *one;

  if (added == NULL)
    return FALSE;
  one = &g_array_index (added, DeskPhotoAdded, 0);
  if (one->why != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&one->why));
      return FALSE;
    }
  if (out != NULL)
    *out = one->photo;
  return TRUE;
}
