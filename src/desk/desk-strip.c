/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-strip.c — see desk-strip.h. */
#include "desk/desk-strip.h"

#include <math.h>

#include "desk/desk-identity.h"
#include "desk/desk-private.h"
#include "desk/photo-batch-private.h"
#include "imaging/img-decode.h"
#include "imaging/img-strip.h"

#define ROWS 512
#define AXIS_PX (1.5 * ROWS) /* of the axis in the picture that is read: finer than it is shown */
#define DECODE_MS 60000

typedef struct
{
  char *path;
  int width, height; /* of the upright original, in whose pixels the marks are */
  double axis[2 * IMG_STRIP_MAX_MARKS];
  gsize n_marks;
  double at[BENCH_MAX_BOUNDARIES];
  gsize n;
} Job;

static void
job_free (gpointer data)
{
  g_free (((Job *) data)->path);
  g_free (data);
}

void
desk_strip_free (DeskStrip *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->strip, img_pixels_free);
  g_free (self);
}

/* ---- what was recorded ---- */

static const CoreEntry *
marks_of (Desk *self, CoreId photo)
{
  CoreId first = desk_photo_first (self, photo);
  const CoreEntry *live = desk_entry_heir (self, first);

  return live != NULL ? desk_mark_of (self, live->subject, first) : NULL;
}

static gsize
axis_of (const CoreEntry *marks, double axis[2 * IMG_STRIP_MAX_MARKS])
{
  gsize n = marks != NULL ? core_entry_list (marks, CORE_KEY_AXIS, axis, 2 * IMG_STRIP_MAX_MARKS) : 0;

  return n >= 4 && n <= 2 * IMG_STRIP_MAX_MARKS ? n / 2 : 0;
}

gboolean
desk_strip_known (Desk *self, CoreId photo)
{
  double axis[2 * IMG_STRIP_MAX_MARKS];

  return axis_of (marks_of (self, photo), axis) > 0;
}

/* ---- reading ---- */

static double
length_of (const Job *job)
{
  double length = 0;

  for (gsize i = 1; i < job->n_marks; i++)
    length += hypot (job->axis[2 * i] - job->axis[2 * i - 2], job->axis[2 * i + 1] - job->axis[2 * i - 1]);
  return length;
}

/* Marks count from the centre of a pixel. */
static void
scale_axis (const Job *job, const ImgPixels *pixels, double out[2 * IMG_STRIP_MAX_MARKS])
{
  double x = (double) pixels->width / job->width, y = (double) pixels->height / job->height;

  for (gsize i = 0; i < job->n_marks; i++)
    {
      out[2 * i] = CLAMP ((job->axis[2 * i] + .5) * x - .5, 0, pixels->width - 1);
      out[2 * i + 1] = CLAMP ((job->axis[2 * i + 1] + .5) * y - .5, 0, pixels->height - 1);
    }
}

static DeskStrip *
straighten (const Job *job, GCancellable *cancellable, GError **error)
{
  int longer = MAX (job->width, job->height);
  ImgDecodeOptions options = { .timeout_ms = DECODE_MS,
                               .max_side = (int) ceil (MIN (longer, longer * AXIS_PX / MAX (length_of (job), 1))) };
  g_autoptr (ImgPicture) picture = img_decode (job->path, &options, cancellable, error);
  g_autofree ImgStrip *strip = g_new0 (ImgStrip, 1);
  double axis[2 * IMG_STRIP_MAX_MARKS];
  DeskStrip *self;

  if (picture == NULL)
    return NULL;
  scale_axis (job, picture->pixels, axis);
  if (img_strip_build (picture->pixels, axis, (int) job->n_marks, strip, NULL, NULL) != IMG_STRIP_OK)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_AXIS_BAD, NULL);
      return NULL;
    }
  self = g_new0 (DeskStrip, 1);
  self->strip = img_strip_render (picture->pixels, strip, ROWS);
  self->n = job->n;
  memcpy (self->at, job->at, sizeof self->at);
  return self;
}

static void
work (GTask *task)
{
  GError *error = NULL;
  DeskStrip *self;

  self = straighten (g_task_get_task_data (task), g_task_get_cancellable (task), &error);
  if (self != NULL)
    g_task_return_pointer (task, self, (GDestroyNotify) desk_strip_free);
  else
    g_task_return_error (task, error);
}

void
desk_strip_async (Desk *self, CoreId photo, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);
  const CoreEntry *marks = marks_of (self, photo);
  Job *job = g_new0 (Job, 1);
  DeskPhoto info;

  g_task_set_source_tag (task, desk_strip_async);
  g_task_set_task_data (task, job, job_free);
  job->path = desk_photo_path (self, photo);
  job->n_marks = axis_of (marks, job->axis);
  if (job->path == NULL || job->n_marks == 0 || !desk_photo_info (self, photo, &info))
    {
      GError *error = NULL;

      desk_fail (&error, DESK_ERROR, DESK_ERROR_NOT_FOUND, job->path == NULL ? WORDS_DESK_NO_PHOTO : WORDS_DESK_PROOF_NO_MARKS,
                 NULL);
      g_task_return_error (task, error);
      return;
    }
  job->width = info.width;
  job->height = info.height;
  job->n = MIN (core_entry_list (marks, CORE_KEY_BOUNDS, job->at, G_N_ELEMENTS (job->at)), G_N_ELEMENTS (job->at));
  photo_queue_take (g_steal_pointer (&task), work);
}

DeskStrip *
desk_strip_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_strip_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
