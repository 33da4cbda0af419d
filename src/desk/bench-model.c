/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-model.c — the photo bench without a screen: loading, steps, marks, answers, undo.
 *
 * Invariant: everything that the keeper says is in `doc`; undo copies it as a
 * whole. What the finder said (`found`, `strip`) belongs to the axis of `doc` or
 * is not there. */
#include "desk/bench-private.h"

#include <math.h>
#include <string.h>

#include "desk/desk-photos.h"
#include "imaging/img-decode.h"

#define MAX_UNDO 200

G_DEFINE_TYPE (BenchModel, bench_model, G_TYPE_OBJECT)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

enum
{
  VERB_SIDE = 1,
  VERB_OF,
  VERB_MARK,
  VERB_SMALL,
  VERB_LAST,
  VERB_CONVENTION,
  VERB_CUE
};

void
bench_doc_init (BenchDoc *doc)
{
  memset (doc, 0, sizeof *doc);
  doc->side = doc->of = doc->small_plate = doc->last_plate = doc->convention = -1;
  doc->wing_ratio = doc->wing_sd = doc->tegmen_pronotum = doc->tegmen_pronotum_sd = NAN;
}

/* ---- the object ---- */

static void
bench_model_dispose (GObject *object)
{
  BenchModel *self = BENCH_MODEL (object);

  bench_find_stop (self);
  bench_guess_stop (self);
  g_clear_pointer (&self->pixels, img_pixels_free);
  g_clear_pointer (&self->shown, img_pixels_free);
  g_clear_pointer (&self->strip, g_free);
  g_clear_pointer (&self->found, g_free);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (bench_model_parent_class)->dispose (object);
}

static void
bench_model_finalize (GObject *object)
{
  BenchModel *self = BENCH_MODEL (object);

  core_sex_verdict_clear (&self->verdict);
  g_array_unref (self->undo);
  g_array_unref (self->redo);
  G_OBJECT_CLASS (bench_model_parent_class)->finalize (object);
}

static void
bench_model_class_init (BenchModelClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = bench_model_dispose;
  object_class->finalize = bench_model_finalize;
  signals[CHANGED] = g_signal_new ("changed", BENCH_TYPE_MODEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void
bench_model_init (BenchModel *self)
{
  bench_doc_init (&self->doc);
  self->undo = g_array_new (FALSE, FALSE, sizeof (BenchDoc));
  self->redo = g_array_new (FALSE, FALSE, sizeof (BenchDoc));
}

BenchModel *
bench_model_new (Desk *desk, DeskSubject *subject, CoreId photo)
{
  BenchModel *self = g_object_new (BENCH_TYPE_MODEL, NULL);

  self->desk = g_object_ref (desk);
  self->subject = desk_subject_ref (subject);
  self->photo = desk_photo_first (desk, photo);
  return self;
}

void
bench_changed (BenchModel *self)
{
  g_autofree char *key = bench_draft_key (self);
  g_autofree char *text = bench_doc_to_text (&self->doc, self->step);

  self->verdict_fresh = FALSE;
  if (self->pixels != NULL && !self->recording)
    desk_draft_set (self->desk, key, text);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- loading ---- */

static gboolean step_applies (BenchModel *self, BenchStep step);

/* To the step at which the draft was left, or to the first that still lacks its answer. */
static void
go_to (BenchModel *self, BenchStep left)
{
  while (self->step < left && (self->step == BENCH_STEP_BOUNDARIES || bench_model_can_next (self)))
    do
      self->step++;
    while (self->step < BENCH_STEP_VERDICT && !step_applies (self, self->step));
}

/* A draft is newer than what was recorded; what was recorded is better than nothing. */
static void
restore (BenchModel *self)
{
  g_autofree char *key = bench_draft_key (self);
  g_autofree char *draft = desk_draft_get (self->desk, key);
  const CoreEntry *recorded = desk_mark_of (self->desk, desk_subject_id (self->subject), self->photo);
  BenchStep left = BENCH_STEP_WHAT;

  self->step = BENCH_STEP_WHAT;
  if (recorded != NULL)
    self->replaces = recorded->id;
  if (draft != NULL && bench_doc_from_text (&self->doc, draft, &left))
    {
      go_to (self, left);
      return;
    }
  bench_doc_init (&self->doc);
  if (recorded != NULL)
    bench_doc_from_entry (&self->doc, recorded);
}

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  BenchModel *self = g_task_get_source_object (task);
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
  bench_axis_changed (self);
  if (!self->doc.has[BENCH_MARK_BASE] && !self->doc.has[BENCH_MARK_TIP])
    bench_guess_start (self);
  self->verdict_fresh = FALSE;
  g_signal_emit (self, signals[CHANGED], 0);
  g_task_return_boolean (task, TRUE);
}

void
bench_model_load_async (BenchModel *self,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  GTask *task = g_task_new (self, cancellable, callback, data);

  g_task_set_source_tag (task, bench_model_load_async);
  desk_photo_decode (self->desk, self->photo, task, decoded_cb);
}

gboolean
bench_model_load_finish (BenchModel *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, bench_model_load_async), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}

ImgPixels *
bench_model_pixels (BenchModel *self)
{
  return self->pixels;
}

DeskSubject *
bench_model_subject (BenchModel *self)
{
  return self->subject;
}

Desk *
bench_model_desk (BenchModel *self)
{
  return self->desk;
}

/* ---- undo ---- */

void
bench_touch (BenchModel *self, int verb, int index)
{
  if (verb != 0 && self->touch.verb == verb && self->touch.index == index)
    return;
  if (self->undo->len == MAX_UNDO)
    g_array_remove_index (self->undo, 0);
  g_array_append_val (self->undo, self->doc);
  g_array_set_size (self->redo, 0);
  self->touch = (BenchTouch){ verb, index };
}

void
bench_model_settle (BenchModel *self)
{
  self->touch = (BenchTouch){ 0, 0 };
}

static gboolean
same_axis (const BenchDoc *a, const BenchDoc *b)
{
  double x[2 * IMG_STRIP_MAX_MARKS] = { 0 }, y[2 * IMG_STRIP_MAX_MARKS] = { 0 };

  return bench_axis (a, x) == bench_axis (b, y) && memcmp (x, y, sizeof x) == 0;
}

static void
swap_doc (BenchModel *self, GArray *from, GArray *to)
{
  BenchDoc next;
  gboolean same;

  if (from->len == 0)
    return;
  next = g_array_index (from, BenchDoc, from->len - 1);
  g_array_set_size (from, from->len - 1);
  g_array_append_val (to, self->doc);
  same = same_axis (&next, &self->doc);
  self->doc = next;
  bench_model_settle (self);
  if (!same)
    bench_axis_changed (self);
  else
    bench_rerun (self);
  bench_changed (self);
}

gboolean
bench_model_can_undo (BenchModel *self)
{
  return self->undo->len > 0;
}

gboolean
bench_model_can_redo (BenchModel *self)
{
  return self->redo->len > 0;
}

void
bench_model_undo (BenchModel *self)
{
  swap_doc (self, self->undo, self->redo);
}

void
bench_model_redo (BenchModel *self)
{
  swap_doc (self, self->redo, self->undo);
}

/* ---- steps ---- */

static gboolean
plates_can_be_read (BenchModel *self)
{
  return self->doc.side == CORE_SIDE_UNDERSIDE;
}

gboolean
bench_model_needs_wings (BenchModel *self)
{
  return desk_subject_state (self->subject)->adult && self->doc.of != CORE_OF_SHED;
}

/* Of the back and the flank no plates are counted: ten rings in both sexes. */
static gboolean
step_applies (BenchModel *self, BenchStep step)
{
  switch (step)
    {
    case BENCH_STEP_AXIS:
    case BENCH_STEP_BOUNDARIES:
    case BENCH_STEP_SMALL_PLATE:
    case BENCH_STEP_LAST_PLATE:
      return plates_can_be_read (self);
    case BENCH_STEP_WINGS:
      return bench_model_needs_wings (self);
    case BENCH_STEP_CUE:
      return bench_model_cues (self, (const CoreSexCue *[CORE_MAX_CUES]){ NULL }) > 0;
    case BENCH_STEP_WHAT:
    case BENCH_STEP_VERDICT:
    case BENCH_N_STEPS:
    default:
      return TRUE;
    }
}

/* Until it is said what it shows, the way is that of an underside. */
gboolean
bench_model_has_step (BenchModel *self, BenchStep step)
{
  return (self->doc.side < 0 && step >= BENCH_STEP_AXIS && step <= BENCH_STEP_LAST_PLATE) ||
         step_applies (self, step);
}

BenchStep
bench_model_step (BenchModel *self)
{
  return self->step;
}

gboolean
bench_model_can_next (BenchModel *self)
{
  const BenchDoc *doc = &self->doc;

  switch (self->step)
    {
    case BENCH_STEP_WHAT:
      return self->pixels != NULL && doc->side >= 0 && doc->of >= 0;
    case BENCH_STEP_AXIS:
      return doc->has[BENCH_MARK_BASE] && doc->has[BENCH_MARK_TIP];
    case BENCH_STEP_BOUNDARIES:
      return !bench_model_finding (self);
    case BENCH_STEP_SMALL_PLATE:
      return doc->small_plate >= 0 &&
             (doc->convention >= 0 ||
              !core_sex_convention_fits (desk_subject_profile (self->subject), CORE_CONVENTION_APPENDAGES));
    case BENCH_STEP_LAST_PLATE:
      return doc->last_plate >= 0;
    case BENCH_STEP_WINGS:
    case BENCH_STEP_CUE:
      return TRUE;
    case BENCH_STEP_VERDICT:
    case BENCH_N_STEPS:
    default:
      return FALSE;
    }
}

gboolean
bench_model_can_back (BenchModel *self)
{
  return self->step > BENCH_STEP_WHAT;
}

void
bench_model_next (BenchModel *self)
{
  if (!bench_model_can_next (self))
    return;
  /* Going on with the lines as they stand says that they are right. */
  if (self->step == BENCH_STEP_BOUNDARIES && self->doc.n_lines > 0 && !self->doc.confirmed)
    {
      bench_touch (self, 0, 0);
      self->doc.confirmed = TRUE;
    }
  do
    self->step++;
  while (self->step < BENCH_STEP_VERDICT && !step_applies (self, self->step));
  bench_model_settle (self);
  bench_guess_offer (self);
  bench_changed (self);
}

void
bench_model_back (BenchModel *self)
{
  if (!bench_model_can_back (self))
    return;
  do
    self->step--;
  while (self->step > BENCH_STEP_WHAT && !step_applies (self, self->step));
  bench_model_settle (self);
  bench_changed (self);
}

/* ---- answers ---- */

static void
set_answer (BenchModel *self, int *field, int value, int verb)
{
  if (*field == value)
    return;
  bench_touch (self, verb, 0);
  *field = value;
  bench_changed (self);
}

void
bench_model_set_side (BenchModel *self, int side)
{
  set_answer (self, &self->doc.side, CLAMP (side, -1, CORE_SIDE_FLANK), VERB_SIDE);
}

void
bench_model_set_of (BenchModel *self, int of)
{
  set_answer (self, &self->doc.of, CLAMP (of, -1, CORE_OF_SHED), VERB_OF);
}

void
bench_model_set_small_plate (BenchModel *self, int answer)
{
  set_answer (self, &self->doc.small_plate, CLAMP (answer, -1, CORE_SMALL_UNKNOWN), VERB_SMALL);
}

void
bench_model_set_last_plate (BenchModel *self, int answer)
{
  set_answer (self, &self->doc.last_plate, CLAMP (answer, -1, CORE_LAST_UNCLEAR), VERB_LAST);
}

void
bench_model_set_convention (BenchModel *self, int answer)
{
  set_answer (self, &self->doc.convention, CLAMP (answer, -1, CORE_CONVENTION_UNKNOWN),
              VERB_CONVENTION);
}

const char *
bench_model_cue (BenchModel *self, CoreSex *says)
{
  if (says != NULL)
    *says = self->doc.cue_sex;
  return self->doc.cue[0] != '\0' ? self->doc.cue : NULL;
}

/* A shed skin shows the stage before, and never an adult. Where the stage is not known all but
 * those of adults may be tried: the weighing has the last word. */
gsize
bench_model_cues (BenchModel *self, const CoreSexCue *out[CORE_MAX_CUES])
{
  const CoreProfile *profile = desk_subject_profile (self->subject);
  const CoreState *state = desk_subject_state (self->subject);
  gboolean shed = self->doc.of == CORE_OF_SHED, adult = state->adult && !shed;
  int moults = state->moults >= 0 && shed ? state->moults - 1 : state->moults;
  gsize n = 0;

  for (gsize i = 0; i < profile->n_cues; i++)
    {
      const CoreSexCue *cue = &profile->cues[i];

      if (adult || (!cue->adult_only && (state->moults < 0 || moults >= cue->from_moults)))
        out[n++] = cue;
    }
  return n;
}

/* An unknown sex takes the cue away. */
void
bench_model_set_cue (BenchModel *self, const char *name, CoreSex sex)
{
  gboolean none = name == NULL || name[0] == '\0' || sex == CORE_SEX_UNKNOWN;

  bench_touch (self, VERB_CUE, 0);
  memset (self->doc.cue, 0, sizeof self->doc.cue);
  if (!none)
    g_strlcpy (self->doc.cue, name, sizeof self->doc.cue);
  self->doc.cue_sex = none ? CORE_SEX_UNKNOWN : sex;
  bench_changed (self);
}

int
bench_model_side (BenchModel *self)
{
  return self->doc.side;
}

int
bench_model_of (BenchModel *self)
{
  return self->doc.of;
}

int
bench_model_small_plate (BenchModel *self)
{
  return self->doc.small_plate;
}

int
bench_model_last_plate (BenchModel *self)
{
  return self->doc.last_plate;
}

int
bench_model_convention (BenchModel *self)
{
  return self->doc.convention;
}

/* ---- marks ---- */

static gboolean
is_of_axis (BenchMark mark)
{
  return mark == BENCH_MARK_BASE || mark == BENCH_MARK_TIP || bench_mark_is_bend (mark);
}

gboolean
bench_model_mark (BenchModel *self, BenchMark mark, CorePoint *at)
{
  g_return_val_if_fail ((guint) mark < BENCH_N_MARKS, FALSE);

  if (self->doc.has[mark] && at != NULL)
    *at = self->doc.mark[mark];
  return self->doc.has[mark];
}

void
bench_model_set_mark (BenchModel *self, BenchMark mark, CorePoint at)
{
  g_return_if_fail ((guint) mark < BENCH_N_MARKS);

  if (self->pixels == NULL || !isfinite (at.x) || !isfinite (at.y))
    return;
  at.x = CLAMP (at.x, 0, self->pixels->width - 1);
  at.y = CLAMP (at.y, 0, self->pixels->height - 1);
  if (self->doc.has[mark] && self->doc.mark[mark].x == at.x && self->doc.mark[mark].y == at.y)
    return;
  bench_touch (self, VERB_MARK, (int) mark);
  self->doc.has[mark] = TRUE;
  self->doc.mark[mark] = at;
  if (is_of_axis (mark))
    bench_axis_moved (self, mark);
  bench_changed (self);
}

void
bench_model_clear_mark (BenchModel *self, BenchMark mark)
{
  g_return_if_fail ((guint) mark < BENCH_N_MARKS);

  if (!self->doc.has[mark])
    return;
  bench_touch (self, 0, 0);
  self->doc.has[mark] = FALSE;
  if (is_of_axis (mark))
    bench_axis_moved (self, mark);
  bench_changed (self);
}

/* 2 pixels, or 1 % of the line between the marks. */
static double
mark_sd (CorePoint a, CorePoint b)
{
  return MAX (2, .01 * hypot (a.x - b.x, a.y - b.y));
}

gboolean
bench_model_wing_ratio (BenchModel *self, double *ratio, double *sd)
{
  const BenchDoc *doc = &self->doc;
  const CorePoint *mark = doc->mark;

  if (doc->has[BENCH_MARK_WING_BASE] && doc->has[BENCH_MARK_WING_TIP] &&
      doc->has[BENCH_MARK_ABDOMEN_TIP])
    return core_wing_ratio (mark[BENCH_MARK_WING_BASE], mark[BENCH_MARK_WING_TIP],
                            mark[BENCH_MARK_ABDOMEN_TIP],
                            mark_sd (mark[BENCH_MARK_WING_BASE], mark[BENCH_MARK_ABDOMEN_TIP]),
                            doc->side == CORE_SIDE_FLANK, ratio, sd);
  *ratio = doc->wing_ratio;
  *sd = doc->wing_sd;
  return isfinite (doc->wing_ratio);
}

gboolean
bench_model_tegmen_pronotum (BenchModel *self, double *ratio, double *sd)
{
  const BenchDoc *doc = &self->doc;
  const CorePoint *mark = doc->mark;

  if (doc->has[BENCH_MARK_WING_BASE] && doc->has[BENCH_MARK_WING_TIP] &&
      doc->has[BENCH_MARK_PRONOTUM_FRONT] && doc->has[BENCH_MARK_PRONOTUM_BACK])
    return core_tegmen_pronotum (mark[BENCH_MARK_WING_BASE], mark[BENCH_MARK_WING_TIP],
                                 mark[BENCH_MARK_PRONOTUM_FRONT], mark[BENCH_MARK_PRONOTUM_BACK],
                                 mark_sd (mark[BENCH_MARK_WING_BASE], mark[BENCH_MARK_WING_TIP]),
                                 ratio, sd);
  *ratio = doc->tegmen_pronotum;
  *sd = doc->tegmen_pronotum_sd;
  return isfinite (doc->tegmen_pronotum);
}
