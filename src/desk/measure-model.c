/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure-model.c — see measure-model.h.
 *
 * Invariant: everything that the keeper says is in `doc`; undo copies it as a whole. The outline
 * is the program's until one of its marks is moved; a new axis makes it the program's again. */
#include "desk/measure-model.h"

#include <math.h>
#include <string.h>

#include "desk/desk-photos.h"
#include "desk/desk-private.h"
#include "imaging/img-decode.h"
#include "imaging/img-strip.h"

#define MAX_UNDO 200
#define OUTLINE 9 /* pairs of marks */
#define LINE_MOST 5

typedef struct
{
  MeasureTask task;
  int what;
  gboolean disc;
  double known;
  int n[MEASURE_N_SETS];
  CorePoint p[MEASURE_N_SETS][MEASURE_MAX_POINTS];
} Doc;

struct _MeasureModel
{
  GObject parent_instance;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
  CoreId photo;
  ImgPixels *pixels;
  GArray *undo, *redo; /* Doc */

  Doc doc;
  MeasureSet touched_set;
  gsize touched;
  gboolean in_touch;
  guint serial; /* of the axis of the outline */
  gboolean outlining;
  gboolean recording;
};

G_DEFINE_FINAL_TYPE (MeasureModel, measure_model, G_TYPE_OBJECT)

static guint changed_signal;
static const int most[MEASURE_N_SETS] = { 2, CORE_DISC_MOST, LINE_MOST, OUTLINE, OUTLINE };

static void
measure_model_dispose (GObject *object)
{
  MeasureModel *self = MEASURE_MODEL (object);

  g_clear_pointer (&self->pixels, img_pixels_free);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (measure_model_parent_class)->dispose (object);
}

static void
measure_model_finalize (GObject *object)
{
  g_array_unref (MEASURE_MODEL (object)->undo);
  g_array_unref (MEASURE_MODEL (object)->redo);
  G_OBJECT_CLASS (measure_model_parent_class)->finalize (object);
}

static void
measure_model_class_init (MeasureModelClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = measure_model_dispose;
  G_OBJECT_CLASS (klass)->finalize = measure_model_finalize;
  changed_signal = g_signal_new ("changed", MEASURE_TYPE_MODEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
measure_model_init (MeasureModel *self)
{
  self->doc.known = NAN;
  self->undo = g_array_new (FALSE, FALSE, sizeof (Doc));
  self->redo = g_array_new (FALSE, FALSE, sizeof (Doc));
}

MeasureModel *
measure_model_new (Desk *desk, DeskSubject *subject, CoreId photo)
{
  MeasureModel *self = g_object_new (MEASURE_TYPE_MODEL, NULL);

  self->desk = g_object_ref (desk);
  self->subject = desk_subject_ref (subject);
  self->photo = desk_photo_first (desk, photo);
  return self;
}

/* ---- the draft ---- */

static const char group[] = "measure";
static const char *const set_keys[MEASURE_N_SETS] = { "ruler", "disc", "line", "upper", "lower" };

static char *
draft_key (MeasureModel *self)
{
  char id[37];

  core_id_to_text (self->photo, id);
  return g_strdup_printf ("measure:%s", id);
}

static char *
points_to_text (const char *before, const CorePoint *p, int n)
{
  GString *text = g_string_new (before);
  char number[64];

  for (int i = 0; i < n; i++)
    {
      core_number_format (p[i].x, 2, number);
      g_string_append_printf (text, "%s%s", i > 0 ? "," : "", number);
      core_number_format (p[i].y, 2, number);
      g_string_append_printf (text, ",%s", number);
    }
  return g_string_free (text, FALSE);
}

static char *
doc_to_text (const Doc *doc)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  char number[64];

  g_key_file_set_integer (file, group, "version", 1);
  g_key_file_set_integer (file, group, "task", (int) doc->task);
  g_key_file_set_integer (file, group, "what", doc->what);
  g_key_file_set_boolean (file, group, "disc", doc->disc);
  if (isfinite (doc->known))
    {
      core_number_format (doc->known, 4, number);
      g_key_file_set_string (file, group, "known", number);
    }
  for (int set = 0; set < MEASURE_N_SETS; set++)
    {
      g_autofree char *text = points_to_text ("", doc->p[set], doc->n[set]);

      g_key_file_set_string (file, group, set_keys[set], text);
    }
  return g_key_file_to_data (file, NULL, NULL);
}

static int
points_from_text (const char *text, const ImgPixels *pixels, CorePoint *out, int max)
{
  g_auto (GStrv) items = g_strsplit (text, ",", -1);
  guint n = g_strv_length (items);

  if (n % 2 != 0 || n > 2 * (guint) max)
    return 0;
  for (guint i = 0; i < n; i += 2)
    if (!core_number_parse (items[i], &out[i / 2].x) || !core_number_parse (items[i + 1], &out[i / 2].y) ||
        !(out[i / 2].x >= 0 && out[i / 2].x <= pixels->width && out[i / 2].y >= 0 &&
          out[i / 2].y <= pixels->height))
      return 0;
  return (int) n / 2;
}

/* A draft that makes no sense is no draft. */
static void
restore (MeasureModel *self)
{
  g_autofree char *key = draft_key (self);
  g_autofree char *text = desk_draft_get (self->desk, key);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *known = NULL;

  if (text == NULL || !g_key_file_load_from_data (file, text, strlen (text), G_KEY_FILE_NONE, NULL) ||
      g_key_file_get_integer (file, group, "version", NULL) != 1)
    return;
  self->doc.task = g_key_file_get_integer (file, group, "task", NULL) == MEASURE_PLUMPNESS
                     ? MEASURE_PLUMPNESS
                     : MEASURE_LENGTH;
  self->doc.what = CLAMP (g_key_file_get_integer (file, group, "what", NULL), 0, 4);
  self->doc.disc = g_key_file_get_boolean (file, group, "disc", NULL);
  known = g_key_file_get_string (file, group, "known", NULL);
  if (known == NULL || !core_number_parse (known, &self->doc.known) || !(self->doc.known > 0))
    self->doc.known = NAN;
  for (int set = 0; set < MEASURE_N_SETS; set++)
    {
      g_autofree char *points = g_key_file_get_string (file, group, set_keys[set], NULL);

      if (points != NULL && points[0] != '\0')
        self->doc.n[set] = points_from_text (points, self->pixels, self->doc.p[set], most[set]);
    }
  if (self->doc.n[MEASURE_SET_UPPER] != self->doc.n[MEASURE_SET_LOWER])
    self->doc.n[MEASURE_SET_UPPER] = self->doc.n[MEASURE_SET_LOWER] = 0;
}

static void
changed (MeasureModel *self)
{
  g_autofree char *key = draft_key (self);
  g_autofree char *text = doc_to_text (&self->doc);

  if (self->pixels != NULL && !self->recording)
    desk_draft_set (self->desk, key, text);
  g_signal_emit (self, changed_signal, 0);
}

/* ---- loading ---- */

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  MeasureModel *self = g_task_get_source_object (task);
  GError *error = NULL;
  g_autoptr (ImgPicture) picture = img_decode_finish (result, &error);

  if (picture == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  g_clear_pointer (&self->pixels, img_pixels_free);
  self->pixels = g_steal_pointer (&picture->pixels);
  restore (self);
  g_signal_emit (self, changed_signal, 0);
  g_task_return_boolean (task, TRUE);
}

void
measure_model_load_async (MeasureModel *self,
                          GCancellable *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer data)
{
  GTask *task = g_task_new (self, cancellable, callback, data);

  g_task_set_source_tag (task, measure_model_load_async);
  desk_photo_decode (self->desk, self->photo, task, decoded_cb);
}

gboolean
measure_model_load_finish (MeasureModel *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, measure_model_load_async), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}

ImgPixels *
measure_model_pixels (MeasureModel *self)
{
  return self->pixels;
}

DeskSubject *
measure_model_subject (MeasureModel *self)
{
  return self->subject;
}

/* ---- undo ---- */

static void
touch (MeasureModel *self)
{
  self->in_touch = FALSE;
  if (self->undo->len == MAX_UNDO)
    g_array_remove_index (self->undo, 0);
  g_array_append_val (self->undo, self->doc);
  g_array_set_size (self->redo, 0);
}

void
measure_model_settle (MeasureModel *self)
{
  self->in_touch = FALSE;
}

static void
swap_doc (MeasureModel *self, GArray *from, GArray *to)
{
  if (from->len == 0)
    return;
  self->serial++; /* an outline under way is of another axis */
  self->outlining = FALSE;
  g_array_append_val (to, self->doc);
  self->doc = g_array_index (from, Doc, from->len - 1);
  g_array_set_size (from, from->len - 1);
  self->in_touch = FALSE;
  changed (self);
}

gboolean
measure_model_can_undo (MeasureModel *self)
{
  return self->undo->len > 0;
}

gboolean
measure_model_can_redo (MeasureModel *self)
{
  return self->redo->len > 0;
}

void
measure_model_undo (MeasureModel *self)
{
  swap_doc (self, self->undo, self->redo);
}

void
measure_model_redo (MeasureModel *self)
{
  swap_doc (self, self->redo, self->undo);
}

/* ---- the outline, in a worker ---- */

typedef struct
{
  ImgPixels *pixels; /* shares the bytes */
  double axis[2 * LINE_MOST];
  int n;
  guint serial;
  gboolean found;
  CorePoint upper[OUTLINE], lower[OUTLINE];
} Outline;

static void
outline_free (gpointer data)
{
  img_pixels_free (((Outline *) data)->pixels);
  g_free (data);
}

static void
outline_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Outline *outline = data;
  g_autofree ImgStrip *strip = g_new0 (ImgStrip, 1);

  outline->found = img_strip_build (outline->pixels, outline->axis, outline->n, strip, NULL, NULL) == IMG_STRIP_OK;
  for (int k = 0; outline->found && k < OUTLINE; k++)
    {
      int i = (2 * k + 1) * IMG_STRIP_N / (2 * OUTLINE);

      outline->upper[k] = (CorePoint){ strip->x[i] - strip->nx[i] * strip->side[0][i],
                                       strip->y[i] - strip->ny[i] * strip->side[0][i] };
      outline->lower[k] = (CorePoint){ strip->x[i] + strip->nx[i] * strip->side[1][i],
                                       strip->y[i] + strip->ny[i] * strip->side[1][i] };
    }
  g_task_return_boolean (task, TRUE);
}

static void
clamp_point (MeasureModel *self, CorePoint *p)
{
  p->x = CLAMP (p->x, 0, self->pixels->width - 1);
  p->y = CLAMP (p->y, 0, self->pixels->height - 1);
}

static void
outlined_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (MeasureModel) self = data;
  Outline *outline = g_task_get_task_data (G_TASK (result));

  if (outline->serial != self->serial || self->desk == NULL)
    return;
  self->outlining = FALSE;
  for (int i = 0; outline->found && i < OUTLINE; i++)
    {
      clamp_point (self, &outline->upper[i]);
      clamp_point (self, &outline->lower[i]);
      self->doc.p[MEASURE_SET_UPPER][i] = outline->upper[i];
      self->doc.p[MEASURE_SET_LOWER][i] = outline->lower[i];
    }
  self->doc.n[MEASURE_SET_UPPER] = self->doc.n[MEASURE_SET_LOWER] = outline->found ? OUTLINE : 0;
  changed (self);
}

static void
line_changed (MeasureModel *self)
{
  Outline *outline;
  g_autoptr (GTask) task = NULL;

  self->serial++;
  self->outlining = FALSE;
  self->doc.n[MEASURE_SET_UPPER] = self->doc.n[MEASURE_SET_LOWER] = 0;
  if (self->doc.task != MEASURE_PLUMPNESS || self->doc.n[MEASURE_SET_LINE] < 2)
    return;
  outline = g_new0 (Outline, 1);
  outline->pixels = img_pixels_copy (self->pixels);
  outline->n = self->doc.n[MEASURE_SET_LINE];
  outline->serial = self->serial;
  for (int i = 0; i < outline->n; i++)
    {
      outline->axis[2 * i] = self->doc.p[MEASURE_SET_LINE][i].x;
      outline->axis[2 * i + 1] = self->doc.p[MEASURE_SET_LINE][i].y;
    }
  self->outlining = TRUE;
  task = g_task_new (NULL, NULL, outlined_cb, g_object_ref (self));
  g_task_set_task_data (task, outline, outline_free);
  g_task_run_in_thread (task, outline_thread);
}

gboolean
measure_model_outlining (MeasureModel *self)
{
  return self->outlining;
}

/* ---- what the keeper says ---- */

MeasureTask
measure_model_task (MeasureModel *self)
{
  return self->doc.task;
}

void
measure_model_set_task (MeasureModel *self, MeasureTask task)
{
  if (self->doc.task == task)
    return;
  touch (self);
  self->doc.task = task;
  if (task == MEASURE_PLUMPNESS && self->doc.n[MEASURE_SET_UPPER] == 0)
    line_changed (self);
  changed (self);
}

int
measure_model_what (MeasureModel *self)
{
  return self->doc.what;
}

void
measure_model_set_what (MeasureModel *self, int what)
{
  if (self->doc.what == what || what < 0 || what > 4)
    return;
  touch (self);
  self->doc.what = what;
  changed (self);
}

gboolean
measure_model_disc (MeasureModel *self)
{
  return self->doc.disc;
}

void
measure_model_set_disc (MeasureModel *self, gboolean disc)
{
  if (self->doc.disc == disc)
    return;
  touch (self);
  self->doc.disc = disc;
  changed (self);
}

double
measure_model_known (MeasureModel *self)
{
  return self->doc.known;
}

void
measure_model_set_known (MeasureModel *self, double mm)
{
  if (!(mm > 0 && mm < 10000))
    mm = NAN;
  if (self->doc.known == mm || (isnan (mm) && isnan (self->doc.known)))
    return;
  touch (self);
  self->doc.known = mm;
  changed (self);
}

/* ---- marks ---- */

gsize
measure_model_points (MeasureModel *self, MeasureSet set, CorePoint out[MEASURE_MAX_POINTS])
{
  memcpy (out, self->doc.p[set], sizeof self->doc.p[set]);
  return (gsize) self->doc.n[set];
}

gboolean
measure_model_uses (MeasureModel *self, MeasureSet set)
{
  gboolean length = self->doc.task == MEASURE_LENGTH;

  switch (set)
    {
    case MEASURE_SET_RULER:
      return length && !self->doc.disc;
    case MEASURE_SET_DISC:
      return length && self->doc.disc;
    case MEASURE_SET_LINE:
      return TRUE;
    case MEASURE_SET_UPPER:
    case MEASURE_SET_LOWER:
      return !length;
    case MEASURE_N_SETS:
    default:
      return FALSE;
    }
}

gboolean
measure_model_next_set (MeasureModel *self, MeasureSet *set)
{
  static const int needed[MEASURE_SET_UPPER] = { 2, CORE_DISC_MARKS, 2 };

  for (int i = 0; i < MEASURE_SET_UPPER; i++)
    if (measure_model_uses (self, (MeasureSet) i) && self->doc.n[i] < needed[i])
      {
        *set = (MeasureSet) i;
        return TRUE;
      }
  return FALSE;
}

/* In a line a further mark goes where it makes the way least longer. */
static int
place_in_line (const Doc *doc, CorePoint at)
{
  const CorePoint *p = doc->p[MEASURE_SET_LINE];
  int n = doc->n[MEASURE_SET_LINE], best = n;
  double least = INFINITY;

  for (int i = 1; n >= 2 && i < n; i++)
    {
      double more = hypot (at.x - p[i - 1].x, at.y - p[i - 1].y) + hypot (p[i].x - at.x, p[i].y - at.y) -
                    hypot (p[i].x - p[i - 1].x, p[i].y - p[i - 1].y);

      if (more < least)
        {
          least = more;
          best = i;
        }
    }
  return best;
}

gsize
measure_model_add (MeasureModel *self, MeasureSet set, CorePoint at)
{
  int *n = &self->doc.n[set], i;

  if (self->pixels == NULL || set >= MEASURE_SET_UPPER || *n >= most[set] || !isfinite (at.x) || !isfinite (at.y))
    return G_MAXSIZE;
  clamp_point (self, &at);
  touch (self);
  i = set == MEASURE_SET_LINE ? place_in_line (&self->doc, at) : *n;
  memmove (&self->doc.p[set][i + 1], &self->doc.p[set][i], (gsize) (*n - i) * sizeof at);
  self->doc.p[set][i] = at;
  (*n)++;
  if (set == MEASURE_SET_LINE)
    line_changed (self);
  changed (self);
  return (gsize) i;
}

void
measure_model_move (MeasureModel *self, MeasureSet set, gsize index, CorePoint at)
{
  if (self->pixels == NULL || index >= (gsize) self->doc.n[set] || !isfinite (at.x) || !isfinite (at.y))
    return;
  clamp_point (self, &at);
  if (!self->in_touch || self->touched_set != set || self->touched != index)
    touch (self);
  self->in_touch = TRUE;
  self->touched_set = set;
  self->touched = index;
  self->doc.p[set][index] = at;
  if (set == MEASURE_SET_LINE)
    line_changed (self);
  changed (self);
}

void
measure_model_remove (MeasureModel *self, MeasureSet set, gsize index)
{
  int *n = &self->doc.n[set];

  if (index >= (gsize) *n || set >= MEASURE_SET_UPPER)
    return;
  touch (self);
  memmove (&self->doc.p[set][index], &self->doc.p[set][index + 1],
           (gsize) (*n - (int) index - 1) * sizeof (CorePoint));
  (*n)--;
  if (set == MEASURE_SET_LINE)
    line_changed (self);
  changed (self);
}

/* ---- results ---- */

static double
mark_sd (MeasureModel *self)
{
  return MAX (MEASURE_MARK_SD, .0005 * MAX (self->pixels->width, self->pixels->height));
}

CoreMeasureStatus
measure_model_scale (MeasureModel *self, CoreScale *out, CoreCircle *circle)
{
  const Doc *doc = &self->doc;
  CoreMeasureStatus status;

  *out = (CoreScale){ 0 };
  if (circle != NULL)
    *circle = (CoreCircle){ .flat = 1 };
  if (self->pixels == NULL)
    return CORE_MEASURE_TOO_FEW;
  if (!doc->disc)
    return doc->n[MEASURE_SET_RULER] < 2 ? CORE_MEASURE_TOO_FEW
                                         : core_scale_ruler (doc->p[MEASURE_SET_RULER][0], doc->p[MEASURE_SET_RULER][1],
                                                             doc->known, mark_sd (self), out);
  CoreCircle own;

  status = core_circle_fit (doc->p[MEASURE_SET_DISC], doc->n[MEASURE_SET_DISC], mark_sd (self), &own);
  if (circle != NULL)
    *circle = own;
  return status == CORE_MEASURE_OK ? core_scale_disc (&own, doc->known, out) : status;
}

CoreMeasureStatus
measure_model_length (MeasureModel *self, CoreLength *out)
{
  CoreScale scale;
  CoreMeasureStatus status = measure_model_scale (self, &scale, NULL);

  *out = (CoreLength){ 0 };
  if (status != CORE_MEASURE_OK)
    return status;
  return core_length (self->doc.p[MEASURE_SET_LINE], self->doc.n[MEASURE_SET_LINE], mark_sd (self), &scale, out);
}

CoreMeasureStatus
measure_model_plumpness (MeasureModel *self, CorePlumpness *out)
{
  const CorePoint *line = self->doc.p[MEASURE_SET_LINE];
  double length = 0;

  *out = (CorePlumpness){ 0 };
  if (self->pixels == NULL || self->doc.task != MEASURE_PLUMPNESS)
    return CORE_MEASURE_TOO_FEW;
  for (int i = 1; i < self->doc.n[MEASURE_SET_LINE]; i++)
    length += hypot (line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
  return core_plumpness (self->doc.p[MEASURE_SET_UPPER], self->doc.p[MEASURE_SET_LOWER],
                         self->doc.n[MEASURE_SET_UPPER], length, mark_sd (self), out);
}

gboolean
measure_model_can_record (MeasureModel *self)
{
  CorePlumpness plump;
  CoreLength length;

  if (self->recording)
    return FALSE;
  return self->doc.task == MEASURE_PLUMPNESS ? measure_model_plumpness (self, &plump) == CORE_MEASURE_OK
                                             : measure_model_length (self, &length) == CORE_MEASURE_OK;
}

/* ---- recording ---- */

static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  MeasureModel *self = g_task_get_source_object (task);
  GError *error = NULL;
  CoreId id;

  self->recording = FALSE;
  if (!desk_record_finish (DESK_DESK (source), result, &id, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  g_array_set_size (self->undo, 0); /* what was recorded is the journal's to take back */
  g_array_set_size (self->redo, 0);
  self->in_touch = FALSE;
  self->doc.n[MEASURE_SET_LINE] = 0;
  line_changed (self);
  changed (self);
  g_task_return_boolean (task, TRUE);
}

static CoreDay
day_of_picture (MeasureModel *self)
{
  CoreDay day = desk_photo_day (self->desk, self->photo);

  return day != CORE_DAY_NONE ? day : desk_today (self->desk);
}

void
measure_model_record_async (MeasureModel *self, GAsyncReadyCallback callback, gpointer data)
{
  static const char *const names[] = { "body", "head", "pronotum", "abdomen", "tegmen" };
  gboolean plump = self->doc.task == MEASURE_PLUMPNESS;
  g_autofree char *first = NULL, *second = NULL, *third = NULL, *photo = NULL, *axis = NULL;
  char mm[64], sd[64], id[37];
  CorePlumpness plumpness;
  CoreLength length;
  GTask *task;

  g_return_if_fail (measure_model_can_record (self));
  task = g_task_new (self, NULL, callback, data);
  g_task_set_source_tag (task, measure_model_record_async);
  if (plump)
    {
      measure_model_plumpness (self, &plumpness);
      first = g_strdup_printf ("score=%d", plumpness.score);
    }
  else
    {
      measure_model_length (self, &length);
      core_number_format (length.mm, 2, mm);
      core_number_format (length.sd, 3, sd);
      first = g_strdup_printf ("what=%s", names[self->doc.what]);
      second = g_strdup_printf ("mm=%s", mm);
      third = g_strdup_printf ("sd=%s", sd);
      core_id_to_text (self->photo, id);
      photo = g_strdup_printf ("photo=%s", id);
      axis = points_to_text ("axis=", self->doc.p[MEASURE_SET_LINE], self->doc.n[MEASURE_SET_LINE]);
    }
  self->recording = TRUE;
  desk_record_async (self->desk, desk_subject_id (self->subject), plump ? "belly" : "measured",
                     (const char *const[]){ first, second, third, photo, axis, NULL }, day_of_picture (self), CORE_DAY_NONE, -1,
                     NULL, recorded_cb, task);
}

gboolean
measure_model_record_finish (MeasureModel *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, measure_model_record_async), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}
