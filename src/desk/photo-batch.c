/* SPDX-License-Identifier: GPL-3.0-or-later */
/* photo-batch.c — see photo-batch.h.
 *
 * Invariant: what a row says of the journal and of the rows above was worked out after the last
 * change of either. */
#include "desk/photo-batch-private.h"

#include <string.h>

#include "desk/desk-photos.h"

#define DRAFT "photos"
#define GROUP "photos"

typedef struct
{
  PhotoRow row;
  guint serial;
  GCancellable *reading;
} Row;

struct _PhotoBatch
{
  GObject parent_instance;

  /* Owned */
  Desk *desk;
  GPtrArray *rows; /* Row */

  gulong desk_id;
  guint serial;
  guint nth, n; /* of the files that are being saved */
  gboolean saving;
};

G_DEFINE_FINAL_TYPE (PhotoBatch, photo_batch, G_TYPE_OBJECT)

static guint changed_signal;

static void
row_free (gpointer data)
{
  Row *self = data;

  g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
  g_clear_error (&self->row.why);
  g_free (self->row.path);
  g_free (self->row.name);
  g_free (self->row.typed);
  g_free (self);
}

static Row *
nth_row (PhotoBatch *self, guint row)
{
  g_return_val_if_fail (row < self->rows->len, NULL);
  return self->rows->pdata[row];
}

/* ---- draft ---- */

static void
keep_row (GKeyFile *file, guint i, const PhotoRow *row)
{
  g_autofree char *uri = g_filename_to_uri (row->path, NULL, NULL);
  g_autofree char *key = g_strdup_printf ("file%u", i);
  g_autofree char *number = g_strdup_printf ("number%u", i);
  g_autofree char *day = g_strdup_printf ("day%u", i);

  if (uri == NULL)
    return;
  g_key_file_set_string (file, GROUP, key, uri);
  g_key_file_set_string (file, GROUP, number, row->typed);
  g_key_file_set_integer (file, GROUP, day, (int) row->day);
}

static void
keep_draft (PhotoBatch *self)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *body = NULL;

  g_key_file_set_integer (file, GROUP, "version", 1);
  for (guint i = 0; i < self->rows->len; i++)
    keep_row (file, i, &nth_row (self, i)->row);
  if (self->rows->len > 0)
    body = g_key_file_to_data (file, NULL, NULL);
  desk_draft_set (self->desk, DRAFT, body);
}

/* ---- what follows from the rest ---- */

static void
find_subject (PhotoBatch *self, PhotoRow *row)
{
  g_autofree char *text = g_strstrip (g_strdup (row->typed));
  g_autoptr (DeskSubject) subject = text[0] != '\0' ? desk_find (self->desk, text, NULL) : NULL;

  row->subject = subject != NULL && desk_subject_kind (subject) != CORE_SUBJECT_CULTURE
                   ? desk_subject_id (subject)
                   : (CoreId){ { 0 } };
}

static int
twin_above (PhotoBatch *self, guint row)
{
  const char *hash = nth_row (self, row)->row.hash;

  for (guint i = 0; hash[0] != '\0' && i < row; i++)
    if (strcmp (nth_row (self, i)->row.hash, hash) == 0)
      return (int) i;
  return -1;
}

static void ask_day (PhotoBatch *self, guint nth);

static void
work_out (PhotoBatch *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      PhotoRow *row = &nth_row (self, i)->row;

      find_subject (self, row);
      row->twin = twin_above (self, i);
      row->known = row->hash[0] != '\0' && desk_photo_known (self->desk, row->hash);
      row->holder = row->known ? desk_photo_holder (self->desk, row->hash, (CoreId){ { 0 } })
                               : (CoreId){ { 0 } };
      if (row->state == PHOTO_ROW_READ) /* whose it is says which days can be */
        ask_day (self, i);
    }
}

static void
changed (PhotoBatch *self)
{
  work_out (self);
  keep_draft (self);
  g_signal_emit (self, changed_signal, 0);
}

static void
desk_changed_cb (PhotoBatch *self)
{
  if (self->rows->len == 0 || self->saving)
    return;
  work_out (self);
  g_signal_emit (self, changed_signal, 0);
}

/* ---- days ---- */

gboolean
photo_batch_day_fits (PhotoBatch *self, guint row, PhotoDay day)
{
  const PhotoRow *one = &nth_row (self, row)->row;
  CoreDay said = day == PHOTO_DAY_CAMERA ? one->camera : day == PHOTO_DAY_FILE ? one->file : CORE_DAY_NONE;

  if (day == PHOTO_DAY_CAMERA || day == PHOTO_DAY_FILE)
    return said != CORE_DAY_NONE && desk_photo_wrong_day (self->desk, one->subject, said) == CORE_WRONG_DAY_NONE;
  return day == PHOTO_DAY_NOBODY;
}

/* What a restored draft has chosen stays. */
static void
ask_day (PhotoBatch *self, guint nth)
{
  PhotoRow *row = &nth_row (self, nth)->row;
  gboolean camera = photo_batch_day_fits (self, nth, PHOTO_DAY_CAMERA);
  gboolean file = photo_batch_day_fits (self, nth, PHOTO_DAY_FILE);

  row->wrong = row->camera == CORE_DAY_NONE ? CORE_WRONG_DAY_NONE
                                            : desk_photo_wrong_day (self->desk, row->subject, row->camera);
  row->differ = file && (!camera || row->camera != row->file);
  if (!row->differ)
    row->day = camera ? PHOTO_DAY_CAMERA : PHOTO_DAY_NOBODY;
  else if (!photo_batch_day_fits (self, nth, row->day))
    row->day = PHOTO_DAY_UNSAID;
}

void
photo_batch_set_day (PhotoBatch *self, guint row, PhotoDay day)
{
  g_return_if_fail (PHOTO_IS_BATCH (self));
  if (nth_row (self, row)->row.state != PHOTO_ROW_READ || !photo_batch_day_fits (self, row, day))
    return;
  nth_row (self, row)->row.day = day;
  changed (self);
}

void
photo_batch_set_days (PhotoBatch *self, PhotoDay day)
{
  g_return_if_fail (PHOTO_IS_BATCH (self));
  for (guint i = 0; i < self->rows->len; i++)
    if (nth_row (self, i)->row.differ && photo_batch_day_fits (self, i, day))
      nth_row (self, i)->row.day = day;
  changed (self);
}

/* ---- reading ---- */

typedef struct
{
  PhotoBatch *batch; /* a reference */
  guint serial;
} Reading;

static int
find_serial (PhotoBatch *self, guint serial)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (nth_row (self, i)->serial == serial)
      return (int) i;
  return -1;
}

static void
take_read (PhotoBatch *self, guint nth, PhotoRead *read)
{
  PhotoRow *row = &nth_row (self, nth)->row;

  row->why = g_steal_pointer (&read->why);
  row->state = row->why != NULL ? PHOTO_ROW_REFUSED : PHOTO_ROW_READ;
  g_strlcpy (row->hash, read->hash, sizeof row->hash);
  row->width = read->width;
  row->height = read->height;
  row->camera = read->camera;
  row->minute = read->minute;
  row->file = read->file;
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Reading *reading = data;
  g_autoptr (PhotoBatch) self = reading->batch;
  g_autoptr (PhotoRead) read = photo_read_finish (result, NULL);
  int nth = find_serial (self, reading->serial);

  g_free (reading);
  if (read == NULL || nth < 0)
    return;
  take_read (self, (guint) nth, read);
  changed (self);
}

static gboolean
is_there (PhotoBatch *self, const char *path)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (strcmp (nth_row (self, i)->row.path, path) == 0)
      return TRUE;
  return FALSE;
}

static Row *
add_row (PhotoBatch *self, const char *path)
{
  g_autofree char *base = g_path_get_basename (path);
  Row *row = g_new0 (Row, 1);

  row->serial = ++self->serial;
  row->row.path = g_strdup (path);
  row->row.name = g_filename_display_name (base);
  row->row.typed = g_strdup ("");
  row->row.camera = row->row.file = CORE_DAY_NONE;
  row->row.minute = row->row.twin = -1;
  row->reading = g_cancellable_new ();
  g_ptr_array_add (self->rows, row);
  return row;
}

static void
start_reading (PhotoBatch *self, Row *row)
{
  Reading *reading = g_new (Reading, 1);

  reading->batch = g_object_ref (self);
  reading->serial = row->serial;
  photo_read_async (row->row.path, row->reading, read_cb, reading);
}

guint
photo_batch_add (PhotoBatch *self, GFile *const *files, guint n)
{
  guint taken = 0;

  g_return_val_if_fail (PHOTO_IS_BATCH (self), 0);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);
      g_autofree char *name = path != NULL ? NULL : g_file_get_uri (files[i]);

      if (path != NULL && is_there (self, path))
        continue;
      if (self->rows->len >= PHOTO_BATCH_MAX)
        break;
      /* One that lies elsewhere is refused by name, like any other that cannot be read. */
      start_reading (self, add_row (self, path != NULL ? path : name));
      taken++;
    }
  if (taken > 0)
    changed (self);
  return taken;
}

/* ---- rows ---- */

guint
photo_batch_n_rows (PhotoBatch *self)
{
  return self->rows->len;
}

const PhotoRow *
photo_batch_row (PhotoBatch *self, guint row)
{
  return &nth_row (self, row)->row;
}

void
photo_batch_remove (PhotoBatch *self, guint row)
{
  g_return_if_fail (PHOTO_IS_BATCH (self) && row < self->rows->len);
  if (self->saving)
    return;
  g_ptr_array_remove_index (self->rows, row);
  changed (self);
}

void
photo_batch_set_number (PhotoBatch *self, guint row, const char *text)
{
  PhotoRow *one = &nth_row (self, row)->row;

  if (self->saving || strcmp (one->typed, text) == 0)
    return;
  g_free (one->typed);
  one->typed = g_strdup (text);
  changed (self);
}

void
photo_batch_assign (PhotoBatch *self, guint row, CoreId subject)
{
  g_autoptr (DeskSubject) found = desk_get (self->desk, subject);

  if (found != NULL)
    photo_batch_set_number (self, row, desk_subject_label (found));
}

/* The same file on the same subject again. */
static gboolean
is_same_again (PhotoBatch *self, const PhotoRow *row)
{
  return (row->twin >= 0 &&
          core_id_equal (nth_row (self, (guint) row->twin)->row.subject, row->subject)) ||
         (row->known && core_id_equal (row->holder, row->subject));
}

gboolean
photo_batch_waits (PhotoBatch *self, guint row)
{
  const PhotoRow *one = &nth_row (self, row)->row;

  return one->state != PHOTO_ROW_READ || core_id_is_none (one->subject) || is_same_again (self, one) ||
         (one->differ && one->day == PHOTO_DAY_UNSAID);
}

void
photo_batch_summary (PhotoBatch *self, PhotoBatchSummary *out)
{
  memset (out, 0, sizeof *out);
  for (guint i = 0; i < self->rows->len; i++)
    {
      const PhotoRow *row = &nth_row (self, i)->row;
      gboolean read = row->state == PHOTO_ROW_READ;

      out->reading += row->state == PHOTO_ROW_READING;
      out->refused += row->state == PHOTO_ROW_REFUSED;
      out->ready += !photo_batch_waits (self, i);
      out->unassigned += read && core_id_is_none (row->subject);
      out->to_ask += read && row->differ && row->day == PHOTO_DAY_UNSAID;
      out->twins += read && (row->twin >= 0 || row->known);
    }
}

/* ---- saving ---- */

typedef struct
{
  PhotoBatch *batch; /* borrowed: the task holds it */
  GArray *serials;   /* guint, of the rows in the order of the files */
} Saving;

static void
saving_free (gpointer data)
{
  Saving *self = data;

  g_array_unref (self->serials);
  g_free (self);
}

static DeskPhotoFile
file_of (const PhotoRow *row)
{
  DeskPhotoFile file = { .subject = row->subject, .day = CORE_DAY_NONE };

  file.file = g_file_new_for_path (row->path);
  if (row->day == PHOTO_DAY_FILE)
    file.day = row->file;
  file.keeper_says = row->day != PHOTO_DAY_CAMERA && row->differ;
  return file;
}

/* What was added leaves; what was refused says why. */
static GArray *
settle (PhotoBatch *self, const Saving *saving, GArray *added)
{
  GArray *photos = g_array_new (FALSE, FALSE, sizeof (CoreId));

  for (guint i = 0; i < added->len; i++)
    {
      DeskPhotoAdded *one = &g_array_index (added, DeskPhotoAdded, i);
      int nth = find_serial (self, g_array_index (saving->serials, guint, i));

      if (one->why == NULL)
        g_array_append_val (photos, one->photo.photo);
      if (nth < 0)
        continue;
      if (one->why == NULL)
        {
          g_ptr_array_remove_index (self->rows, (guint) nth);
          continue;
        }
      nth_row (self, (guint) nth)->row.state = PHOTO_ROW_REFUSED;
      nth_row (self, (guint) nth)->row.why = g_steal_pointer (&one->why);
    }
  return photos;
}

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  PhotoBatch *self = g_task_get_source_object (task);
  GError *error = NULL;
  g_autoptr (GArray) added = desk_photos_add_finish (DESK_DESK (source), result, &error);

  self->saving = FALSE;
  if (added == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, settle (self, g_task_get_task_data (task), added),
                           (GDestroyNotify) g_array_unref);
  changed (self);
}

static void
progress_cb (gsize nth, gsize n, gpointer data)
{
  PhotoBatch *self = g_task_get_source_object (data);

  self->nth = (guint) nth;
  self->n = (guint) n;
  g_signal_emit (self, changed_signal, 0);
}

static void
file_clear (gpointer data)
{
  g_object_unref (((DeskPhotoFile *) data)->file);
}

void
photo_batch_save_async (PhotoBatch *self,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  GTask *task = g_task_new (self, cancellable, callback, data);
  g_autoptr (GArray) files = g_array_new (FALSE, FALSE, sizeof (DeskPhotoFile));
  Saving *saving = g_new0 (Saving, 1);

  g_task_set_source_tag (task, photo_batch_save_async);
  g_array_set_clear_func (files, file_clear);
  saving->serials = g_array_new (FALSE, FALSE, sizeof (guint));
  g_task_set_task_data (task, saving, saving_free);
  for (guint i = 0; !self->saving && i < self->rows->len; i++)
    if (!photo_batch_waits (self, i))
      {
        DeskPhotoFile file = file_of (&nth_row (self, i)->row);

        g_array_append_val (files, file);
        g_array_append_val (saving->serials, nth_row (self, i)->serial);
      }
  if (files->len == 0)
    {
      g_task_return_pointer (task, g_array_new (FALSE, FALSE, sizeof (CoreId)),
                             (GDestroyNotify) g_array_unref);
      g_object_unref (task);
      return;
    }
  self->saving = TRUE;
  self->nth = 0;
  self->n = files->len;
  desk_photos_add_async (self->desk, (const DeskPhotoFile *) (void *) files->data, files->len, progress_cb,
                         cancellable, saved_cb, task);
}

GArray *
photo_batch_save_finish (PhotoBatch *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, photo_batch_save_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

gboolean
photo_batch_saving (PhotoBatch *self, guint *nth, guint *n)
{
  *nth = self->nth;
  *n = self->n;
  return self->saving;
}

/* ---- object ---- */

void
photo_batch_clear (PhotoBatch *self)
{
  g_return_if_fail (PHOTO_IS_BATCH (self));
  if (self->saving)
    return;
  g_ptr_array_set_size (self->rows, 0);
  changed (self);
}

static void
restore_row (PhotoBatch *self, GKeyFile *file, guint i, const char *uri)
{
  g_autofree char *path = g_filename_from_uri (uri, NULL, NULL);
  g_autofree char *number_key = g_strdup_printf ("number%u", i);
  g_autofree char *day_key = g_strdup_printf ("day%u", i);
  char *number = g_key_file_get_string (file, GROUP, number_key, NULL);
  int day = g_key_file_get_integer (file, GROUP, day_key, NULL);
  Row *row;

  if (path == NULL || is_there (self, path))
    {
      g_free (number);
      return;
    }
  row = add_row (self, path);
  if (number != NULL)
    {
      g_free (row->row.typed);
      row->row.typed = number;
    }
  row->row.day = day > PHOTO_DAY_UNSAID && day <= PHOTO_DAY_NOBODY ? (PhotoDay) day : PHOTO_DAY_UNSAID;
  start_reading (self, row);
}

gboolean
photo_batch_restore (PhotoBatch *self)
{
  g_autofree char *body = desk_draft_get (self->desk, DRAFT);
  g_autoptr (GKeyFile) file = g_key_file_new ();

  if (body == NULL || !g_key_file_load_from_data (file, body, strlen (body), G_KEY_FILE_NONE, NULL) ||
      g_key_file_get_integer (file, GROUP, "version", NULL) != 1)
    return FALSE;
  for (guint i = 0; i < PHOTO_BATCH_MAX; i++)
    {
      g_autofree char *key = g_strdup_printf ("file%u", i);
      g_autofree char *uri = g_key_file_get_string (file, GROUP, key, NULL);

      if (uri != NULL)
        restore_row (self, file, i, uri);
    }
  if (self->rows->len > 0)
    changed (self);
  return self->rows->len > 0;
}

static void
photo_batch_dispose (GObject *object)
{
  PhotoBatch *self = PHOTO_BATCH (object);

  g_ptr_array_set_size (self->rows, 0);
  if (self->desk != NULL)
    g_clear_signal_handler (&self->desk_id, self->desk);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (photo_batch_parent_class)->dispose (object);
}

static void
photo_batch_finalize (GObject *object)
{
  g_ptr_array_unref (PHOTO_BATCH (object)->rows);
  G_OBJECT_CLASS (photo_batch_parent_class)->finalize (object);
}

static void
photo_batch_class_init (PhotoBatchClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = photo_batch_dispose;
  G_OBJECT_CLASS (klass)->finalize = photo_batch_finalize;
  changed_signal = g_signal_new ("changed", PHOTO_TYPE_BATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
photo_batch_init (PhotoBatch *self)
{
  self->rows = g_ptr_array_new_with_free_func (row_free);
}

PhotoBatch *
photo_batch_new (Desk *desk)
{
  PhotoBatch *self = g_object_new (PHOTO_TYPE_BATCH, NULL);

  self->desk = g_object_ref (desk);
  self->desk_id = g_signal_connect_swapped (desk, "changed", G_CALLBACK (desk_changed_cb), self);
  return self;
}
