/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-photo.c — a picture into the journal: decoded to be sure, kept as it is, then entered.
 *
 * The file is opened once and that descriptor is both decoded and stored, so
 * that what was checked is what is kept. */
#include "desk/desk-private.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "core/core-date.h"
#include "imaging/img-decode.h"

typedef struct
{
  CoreId subject;
  CoreDay day;
  GFile *file;
  StorePhoto photo;
  gboolean existed;
} Photo;

static void
photo_free (gpointer data)
{
  Photo *self = data;

  g_object_unref (self->file);
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
look_at (Photo *photo, int fd, GCancellable *cancellable, GError **error)
{
  /* A small copy is enough to know that it can be read to the end. */
  ImgDecodeOptions options = { .max_side = 512 };
  g_autoptr (ImgPicture) picture = img_decode_fd (fd, &options, cancellable, error);

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
  Photo *photo = data;
  GError *error = NULL;
  g_autofree char *path = g_file_get_path (photo->file);
  int fd = -1;

  if (path == NULL)
    desk_fail (&error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_LOCAL, NULL);
  else
    fd = img_decode_open (path, &error);
  if (fd >= 0 && !look_at (photo, fd, cancellable, &error))
    {
      close (fd);
      fd = -1;
    }
  if (fd < 0)
    g_task_return_error (task, error);
  else
    g_task_return_int (task, fd);
}

typedef struct
{
  int fd;
  StorePhoto photo;
  gboolean existed;
} PutJob;

static void
put_job_free (gpointer data)
{
  PutJob *job = data;

  close (job->fd);
  g_free (job);
}

static gpointer
put_job (Store *store, gpointer data, GError **error)
{
  PutJob *job = data;

  if (!store_photo_put (store, job->fd, job->photo.format, &job->photo, &job->existed, error))
    return NULL;
  return g_memdup2 (job, sizeof *job);
}

/* ---- enter ---- */

/* The camera's day, if that can be. */
static CoreDay
day_of (Desk *self, const Photo *photo)
{
  const DeskRecord *record = desk_collection_record (&self->all, photo->subject);
  const CoreState *state =
    record != NULL && record->now != NULL ? desk_subject_state (record->now) : NULL;
  CoreDay taken = photo->photo.taken;

  if (photo->day != CORE_DAY_NONE)
    return photo->day;
  if (taken == CORE_DAY_NONE || taken > self->today ||
      (state != NULL && state->hatched && taken < state->hatched_earliest))
    return self->today;
  return taken;
}

static gboolean
prepare_photo (Desk *self, DeskOp *op, GError **error)
{
  Photo *photo = op->data;
  CoreDay day = day_of (self, photo);
  CoreEntry *entry = desk_op_entry (op, CORE_KIND_PHOTO, photo->subject, day);

  core_entry_set_str (entry, CORE_KEY_HASH, photo->photo.hash);
  if (photo->photo.taken != CORE_DAY_NONE)
    core_entry_set_num (entry, CORE_KEY_TAKEN, photo->photo.taken);
  else if (photo->day != CORE_DAY_NONE) /* the keeper says when; else nobody does */
    core_entry_set_num (entry, CORE_KEY_TAKEN, photo->day);
  if (photo->photo.taken == day)
    entry->minute = (gint16) photo->photo.taken_minute;
  desk_op_photo (op, &photo->photo);
  return desk_op_check (op, error);
}

static gboolean
holds (const DeskSubject *subject, const DeskPhoto *photo)
{
  const CoreState *state = desk_subject_state (subject);

  for (gsize i = 0; i < state->photos.n; i++)
    if (!core_id_equal (state->photos.v[i].entry, photo->photo) &&
        strcmp (state->photos.v[i].hash, photo->hash) == 0)
      return TRUE;
  return FALSE;
}

/* Who has it too; rather another than the same. */
static CoreId
holder_of (Desk *self, const DeskPhoto *photo)
{
  CoreId mine = desk_collection_entry (&self->all, photo->photo)->subject;
  CoreId found = { { 0 } };

  for (guint i = 0; i < self->all.order->len; i++)
    {
      const DeskRecord *record = self->all.order->pdata[i];

      if (!holds (record->now, photo))
        continue;
      found = record->id;
      if (!core_id_equal (found, mine))
        break;
    }
  return found;
}

static void
entered_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  GError *error = NULL;
  DeskOp *op = desk_op_finish (DESK_DESK (source), result, prepare_photo, &error);
  DeskPhoto *out;
  const Photo *photo;

  if (op == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  photo = op->data;
  out = g_new0 (DeskPhoto, 1);
  desk_photo_info (DESK_DESK (source), g_array_index (op->written, CoreId, 0), out);
  out->duplicate = photo->existed;
  out->undated = photo->photo.taken == CORE_DAY_NONE && photo->day == CORE_DAY_NONE;
  if (out->duplicate)
    out->of = holder_of (DESK_DESK (source), out);
  g_task_return_pointer (task, out, g_free);
}

static void
put_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Photo *photo = g_task_get_task_data (task);
  GError *error = NULL;
  g_autofree PutJob *done = store_run_finish (result, &error);
  Photo *entered;

  if (done == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  photo->photo = done->photo;
  photo->existed = done->existed;
  entered = g_memdup2 (photo, sizeof *photo);
  g_object_ref (entered->file);
  desk_op_start (g_task_get_source_object (task), prepare_photo, prepare_photo, entered, photo_free,
                 NULL, entered_cb, g_object_ref (task));
}

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Desk *self = g_task_get_source_object (task);
  Photo *photo = g_task_get_task_data (task);
  GError *error = NULL;
  int fd = (int) g_task_propagate_int (G_TASK (result), &error);
  PutJob *job;

  if (error != NULL || self->closed)
    {
      if (error == NULL)
        {
          close (fd);
          desk_fail (&error, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
        }
      g_task_return_error (task, error);
      return;
    }
  job = g_new0 (PutJob, 1);
  job->fd = fd;
  job->photo = photo->photo;
  store_run_async (self->store, put_job, job, put_job_free, g_free, g_task_get_cancellable (task),
                   put_cb, g_object_ref (task));
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
  GTask *task = g_task_new (self, cancellable, callback, data);
  Photo *photo = g_new0 (Photo, 1);
  g_autoptr (GTask) decode = NULL;

  g_task_set_source_tag (task, desk_photo_add_async);
  photo->subject = subject;
  photo->file = g_object_ref (file);
  photo->day = day;
  g_task_set_task_data (task, photo, photo_free);
  if (desk_read_only (self))
    {
      GError *error = NULL;

      desk_fail (&error, STORE_ERROR, STORE_ERROR_READ_ONLY, WORDS_DESK_READ_ONLY, self->dir, NULL);
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  /* Without the desk: it must not end on that thread. */
  decode = g_task_new (NULL, cancellable, decoded_cb, task);
  g_task_set_task_data (decode, photo, NULL);
  g_task_run_in_thread (decode, decode_thread);
}

gboolean
desk_photo_add_finish (Desk *self, GAsyncResult *result, DeskPhoto *out, GError **error)
{
  g_autofree DeskPhoto *photo = NULL;

  g_return_val_if_fail (g_async_result_is_tagged (result, desk_photo_add_async), FALSE);

  photo = g_task_propagate_pointer (G_TASK (result), error);
  if (photo != NULL && out != NULL)
    *out = *photo;
  return photo != NULL;
}

/* ---- reading ---- */

static const StorePhoto *
find_row (Desk *self, CoreId photo)
{
  const CoreEntry *entry = desk_collection_entry (&self->all, photo);

  if (entry == NULL || entry->kind != CORE_KIND_PHOTO)
    return NULL;
  return g_hash_table_lookup (self->photos, core_entry_str (entry, CORE_KEY_HASH));
}

/* A corrected photo entry is the same photo; marks name the first. */
CoreId
desk_photo_first (Desk *self, CoreId photo)
{
  const CoreEntry *entry = desk_collection_entry (&self->all, photo);

  /* Ids point backwards; a journal where they do not must not hold us up. */
  while (entry != NULL && entry->kind == CORE_KIND_PHOTO && !core_id_is_none (entry->names) &&
         core_id_compare (entry->names, entry->id) < 0)
    {
      photo = entry->names;
      entry = desk_collection_entry (&self->all, photo);
    }
  return photo;
}

/* The day of a picture that names none is what the keeper says it is. */
void
desk_photo_redate (Desk *self, CoreEntry *entry)
{
  const StorePhoto *row = g_hash_table_lookup (self->photos, core_entry_str (entry, CORE_KEY_HASH));

  if (entry->kind != CORE_KIND_PHOTO || row == NULL || row->taken != CORE_DAY_NONE)
    return;
  desk_value_remove (entry, CORE_KEY_TAKEN);
  core_entry_set_num (entry, CORE_KEY_TAKEN, entry->day);
}

char *
desk_photo_path (Desk *self, CoreId photo)
{
  const StorePhoto *row = find_row (self, photo);

  return row == NULL || self->store == NULL ? NULL : store_photo_path (self->store, row);
}

gboolean
desk_photo_info (Desk *self, CoreId photo, DeskPhoto *out)
{
  const StorePhoto *row = find_row (self, photo);

  if (row == NULL)
    return FALSE;
  memset (out, 0, sizeof *out);
  out->photo = photo;
  out->day = desk_collection_entry (&self->all, photo)->day;
  g_strlcpy (out->hash, row->hash, sizeof out->hash);
  out->taken = row->taken;
  out->minute = row->taken_minute;
  out->width = row->width;
  out->height = row->height;
  return TRUE;
}
