/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-double.c — a BenchModel without finder, decoder and drafts, for tests of the
 * widgets over it: what they ask for happens at once and the same every time.
 *
 * The picture is 800 × 600. Once base and tip are marked there are `proposed`
 * plates of equal length. Linked before the desk, it stands in for its model. */
#include "bench-double.h"

#include "desk/desk-proof.h"

#include <math.h>

#define WIDTH 800
#define HEIGHT 600
#define HALF 40.0 /* of the abdomen, pixels */

typedef struct
{
  BenchStep step;
  int side, of, small_plate, last_plate, convention;
  gboolean placed[BENCH_N_MARKS];
  CorePoint marks[BENCH_N_MARKS];
  gsize n;
  double at[BENCH_MAX_BOUNDARIES];
  gboolean by_keeper[BENCH_MAX_BOUNDARIES];
  gboolean suggested, axis_right;
  char cue[32];
  CoreSex cue_sex;
} State;

struct _BenchModel
{
  GObject parent_instance;
  Desk *desk;
  DeskSubject *subject;
  ImgPixels *pixels;
  ImgPixels *strip;
  State now;
  GArray *past;   /* State */
  GArray *future; /* State */
  CoreSexVerdict verdict;
};

G_DEFINE_FINAL_TYPE (BenchModel, bench_model, G_TYPE_OBJECT)

static guint changed_signal;
int bench_double_proposed = 8;
double bench_double_chance = .9;
unsigned bench_double_unusable = 0;
unsigned bench_double_doubts = 0;
gboolean bench_double_fails = FALSE;
int bench_double_records = 0;

static void
changed (BenchModel *self)
{
  g_signal_emit (self, changed_signal, 0);
}

static void
remember (BenchModel *self)
{
  g_array_append_val (self->past, self->now);
  g_array_set_size (self->future, 0);
}

static void
bench_model_finalize (GObject *object)
{
  BenchModel *self = BENCH_MODEL (object);

  g_object_unref (self->desk);
  desk_subject_unref (self->subject);
  g_clear_pointer (&self->pixels, img_pixels_free);
  g_clear_pointer (&self->strip, img_pixels_free);
  g_array_unref (self->past);
  g_array_unref (self->future);
  G_OBJECT_CLASS (bench_model_parent_class)->finalize (object);
}

static void
bench_model_class_init (BenchModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bench_model_finalize;
  changed_signal = g_signal_new ("changed", BENCH_TYPE_MODEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
}

static void
bench_model_init (BenchModel *self)
{
  self->now = (State){ .side = -1, .of = -1, .small_plate = -1, .last_plate = -1 };
  self->past = g_array_new (FALSE, FALSE, sizeof (State));
  self->future = g_array_new (FALSE, FALSE, sizeof (State));
  self->verdict =
    (CoreSexVerdict){ .male = .5, .female = .5, .provisional = true, .ask = CORE_ASK_SMALL_PLATE };
}

BenchModel *
bench_model_new (Desk *desk, DeskSubject *subject, CoreId photo)
{
  BenchModel *self = g_object_new (BENCH_TYPE_MODEL, NULL);

  self->desk = g_object_ref (desk);
  self->subject = desk_subject_ref (subject);
  return self;
}

/* Grey, each pixel by its place, so that a test sees which one is drawn. */
static ImgPixels *
picture (int width, int height)
{
  gsize stride = 3 * (gsize) width;
  guint8 *bytes = g_malloc (stride * (gsize) height);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      memset (bytes + stride * (gsize) y + 3 * x, (x / 8 + y / 8) % 2 == 0 ? 200 : 120, 3);
  return img_pixels_new_take (width, height, stride,
                              g_bytes_new_take (bytes, stride * (gsize) height));
}

void
bench_model_load_async (BenchModel *self,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, data);

  if (bench_double_fails)
    {
      g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_FAILED, "This file is no picture.");
      return;
    }
  self->pixels = picture (WIDTH, HEIGHT);
  self->strip = picture (96, 400);
  g_task_return_boolean (task, TRUE);
}

gboolean
bench_model_load_finish (BenchModel *self, GAsyncResult *result, GError **error)
{
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

/* ---- steps ---- */

gboolean
bench_model_has_step (BenchModel *self, BenchStep step)
{
  return TRUE;
}

BenchStep
bench_model_step (BenchModel *self)
{
  return self->now.step;
}

gboolean
bench_model_can_next (BenchModel *self)
{
  if (self->now.step == BENCH_STEP_WHAT)
    return self->now.side >= 0 && self->now.of >= 0;
  if (self->now.step == BENCH_STEP_AXIS)
    return self->now.placed[BENCH_MARK_BASE] && self->now.placed[BENCH_MARK_TIP];
  return self->now.step < BENCH_STEP_VERDICT;
}

gboolean
bench_model_can_back (BenchModel *self)
{
  return self->now.step > BENCH_STEP_WHAT;
}

void
bench_model_next (BenchModel *self)
{
  if (bench_model_can_next (self))
    self->now.step++;
  changed (self);
}

void
bench_model_back (BenchModel *self)
{
  if (bench_model_can_back (self))
    self->now.step--;
  changed (self);
}

void
bench_double_go (BenchModel *self, BenchStep step)
{
  self->now.step = step;
  changed (self);
}

/* ---- answers ---- */

#define ANSWER(name, field)                                                                        \
  void bench_model_set_##name (BenchModel *self, int answer)                                       \
  {                                                                                                \
    remember (self);                                                                               \
    self->now.field = answer;                                                                      \
    changed (self);                                                                                \
  }                                                                                                \
  int bench_model_##name (BenchModel *self) { return self->now.field; }

ANSWER (side, side)
ANSWER (of, of)
ANSWER (small_plate, small_plate)
ANSWER (last_plate, last_plate)
ANSWER (convention, convention)

void
bench_model_set_cue (BenchModel *self, const char *name, CoreSex sex)
{
  remember (self);
  g_strlcpy (self->now.cue, name != NULL ? name : "", sizeof self->now.cue);
  self->now.cue_sex = sex;
  changed (self);
}

const char *
bench_model_cue (BenchModel *self, CoreSex *says)
{
  if (says != NULL)
    *says = self->now.cue_sex;
  return self->now.cue[0] != '\0' ? self->now.cue : NULL;
}

/* All that the profile has, whatever the stage. */
gsize
bench_model_cues (BenchModel *self, const CoreSexCue *out[CORE_MAX_CUES])
{
  const CoreProfile *profile = desk_subject_profile (self->subject);

  for (gsize i = 0; i < profile->n_cues; i++)
    out[i] = &profile->cues[i];
  return profile->n_cues;
}

/* ---- marks and boundaries ---- */

gboolean
bench_mark_is_bend (BenchMark mark)
{
  return mark == BENCH_MARK_BEND || mark == BENCH_MARK_BEND_2 || mark == BENCH_MARK_BEND_3;
}

gboolean
bench_model_free_bend (BenchModel *self, BenchMark *mark)
{
  static const BenchMark bends[] = { BENCH_MARK_BEND, BENCH_MARK_BEND_2, BENCH_MARK_BEND_3 };

  for (gsize i = 0; i < G_N_ELEMENTS (bends); i++)
    if (!self->now.placed[bends[i]])
      {
        *mark = bends[i];
        return TRUE;
      }
  return FALSE;
}

/* The bends in the order in which they lie between base and tip, downwards. */
gsize
bench_model_axis (BenchModel *self, CorePoint out[BENCH_MAX_AXIS])
{
  static const BenchMark bends[] = { BENCH_MARK_BEND, BENCH_MARK_BEND_2, BENCH_MARK_BEND_3 };
  gsize n = 1;

  if (!self->now.placed[BENCH_MARK_BASE] || !self->now.placed[BENCH_MARK_TIP])
    return 0;
  out[0] = self->now.marks[BENCH_MARK_BASE];
  for (gsize i = 0; i < G_N_ELEMENTS (bends); i++)
    {
      gsize k = n;

      if (!self->now.placed[bends[i]])
        continue;
      for (; k > 1 && out[k - 1].y > self->now.marks[bends[i]].y; k--)
        out[k] = out[k - 1];
      out[k] = self->now.marks[bends[i]];
      n++;
    }
  out[n++] = self->now.marks[BENCH_MARK_TIP];
  return n;
}

gboolean
bench_model_suggesting (BenchModel *self)
{
  return FALSE;
}

gboolean
bench_model_suggested (BenchModel *self)
{
  return self->now.suggested;
}

gboolean
bench_model_checking (BenchModel *self)
{
  return FALSE;
}

gboolean
bench_model_axis_asked (BenchModel *self)
{
  return self->now.suggested;
}

int
bench_model_axis_said (BenchModel *self)
{
  return self->now.axis_right ? 1 : -1;
}

void
bench_model_say_axis (BenchModel *self, int said)
{
  remember (self);
  self->now.axis_right = said == 1;
  changed (self);
}

unsigned
bench_model_doubts (BenchModel *self)
{
  int plates = (int) self->now.n + 1 - (self->now.small_plate == CORE_SMALL_COUNTED);

  return bench_double_doubts | (plates > CORE_PLATES_MOST ? BENCH_DOUBT_MANY : 0)
         | (plates > 1 && plates < CORE_PLATES_FEWEST ? BENCH_DOUBT_FEW : 0)
         | (self->now.suggested && !self->now.axis_right ? BENCH_DOUBT_PLACED : 0);
}

/* Down the middle, as the tests place it. */
void
bench_model_suggest (BenchModel *self)
{
  bench_model_set_mark (self, BENCH_MARK_BASE, (CorePoint){ 400, 100 });
  bench_model_set_mark (self, BENCH_MARK_TIP, (CorePoint){ 400, 500 });
  self->now.suggested = TRUE;
  self->now.axis_right = FALSE;
  changed (self);
}

void
bench_model_swap_ends (BenchModel *self)
{
  CorePoint base = self->now.marks[BENCH_MARK_BASE];

  remember (self);
  self->now.marks[BENCH_MARK_BASE] = self->now.marks[BENCH_MARK_TIP];
  self->now.marks[BENCH_MARK_TIP] = base;
  changed (self);
}

gboolean
bench_model_quality (BenchModel *self, BenchQuality *out)
{
  *out = (BenchQuality){ 400, .5, 0, .2, bench_double_unusable };
  return TRUE;
}

BenchAxisProblem
bench_model_axis_problem (BenchModel *self)
{
  return BENCH_AXIS_FINE;
}

gboolean
bench_model_last_ratio (BenchModel *self, double *ratio)
{
  *ratio = 1;
  return self->now.n >= 3;
}

gboolean
bench_model_mark (BenchModel *self, BenchMark mark, CorePoint *at)
{
  *at = self->now.marks[mark];
  return self->now.placed[mark];
}

static void
propose (BenchModel *self)
{
  if (!self->now.placed[BENCH_MARK_BASE] || !self->now.placed[BENCH_MARK_TIP])
    return;
  self->now.n = 0;
  for (int i = 1; i < bench_double_proposed; i++)
    {
      self->now.by_keeper[self->now.n] = FALSE;
      self->now.at[self->now.n++] = (double) i / bench_double_proposed;
    }
}

void
bench_model_set_mark (BenchModel *self, BenchMark mark, CorePoint at)
{
  remember (self);
  self->now.marks[mark] = (CorePoint){ CLAMP (at.x, 0, WIDTH - 1), CLAMP (at.y, 0, HEIGHT - 1) };
  self->now.placed[mark] = TRUE;
  self->now.suggested = self->now.axis_right = FALSE;
  if (mark <= BENCH_MARK_BEND)
    propose (self);
  changed (self);
}

void
bench_model_clear_mark (BenchModel *self, BenchMark mark)
{
  remember (self);
  self->now.placed[mark] = FALSE;
  changed (self);
}

void
bench_model_settle (BenchModel *self)
{
}

double
bench_model_at_of (BenchModel *self, CorePoint point)
{
  CorePoint base = self->now.marks[BENCH_MARK_BASE], tip = self->now.marks[BENCH_MARK_TIP];
  double dx = tip.x - base.x, dy = tip.y - base.y;
  double length2 = MAX (1, dx * dx + dy * dy);

  return CLAMP (((point.x - base.x) * dx + (point.y - base.y) * dy) / length2, 0, 1);
}

gboolean
bench_model_finding (BenchModel *self)
{
  return FALSE;
}

gsize
bench_model_boundaries (BenchModel *self, BenchBoundary *out, gsize max)
{
  CorePoint base = self->now.marks[BENCH_MARK_BASE], tip = self->now.marks[BENCH_MARK_TIP];
  double dx = tip.x - base.x, dy = tip.y - base.y, length = MAX (1, hypot (dx, dy));
  gsize n = MIN (self->now.n, max);

  for (gsize i = 0; i < n; i++)
    {
      double at = self->now.at[i], x = base.x + at * dx, y = base.y + at * dy;
      double ox = -dy / length * HALF, oy = dx / length * HALF;

      out[i] =
        (BenchBoundary){ at,       i + 2 >= n ? .03 : .008, { x - ox, y - oy }, { x + ox, y + oy },
                         { x, y }, self->now.by_keeper[i] };
    }
  return n;
}

static gsize
put_in (BenchModel *self, double at)
{
  gsize i = self->now.n++;

  for (; i > 0 && self->now.at[i - 1] > at; i--)
    {
      self->now.at[i] = self->now.at[i - 1];
      self->now.by_keeper[i] = self->now.by_keeper[i - 1];
    }
  self->now.at[i] = at;
  self->now.by_keeper[i] = TRUE;
  return i;
}

static void
take_out (BenchModel *self, gsize index)
{
  for (gsize i = index; i + 1 < self->now.n; i++)
    {
      self->now.at[i] = self->now.at[i + 1];
      self->now.by_keeper[i] = self->now.by_keeper[i + 1];
    }
  self->now.n--;
}

void
bench_model_move_boundary (BenchModel *self, gsize index, double at)
{
  g_assert_cmpuint (index, <, self->now.n);
  remember (self);
  take_out (self, index);
  put_in (self, at);
  changed (self);
}

gsize
bench_model_add_boundary (BenchModel *self, double at)
{
  gsize index;

  g_assert_cmpuint (self->now.n, <, BENCH_MAX_BOUNDARIES);
  remember (self);
  index = put_in (self, at);
  changed (self);
  return index;
}

void
bench_model_remove_boundary (BenchModel *self, gsize index)
{
  g_assert_cmpuint (index, <, self->now.n);
  remember (self);
  take_out (self, index);
  changed (self);
}

void
bench_model_set_plates (BenchModel *self, int count)
{
  remember (self);
  self->now.n = 0;
  for (int i = 1; i < count; i++)
    put_in (self, (double) i / count);
  changed (self);
}

int
bench_model_count (BenchModel *self)
{
  return self->now.n > 0 ? (int) self->now.n + 1 : -1;
}

void
bench_model_best_two (BenchModel *self, int *first, double *p_first, int *second, double *p_second)
{
  *first = bench_double_proposed;
  *p_first = self->now.n > 0 ? bench_double_chance : 0;
  *second = bench_double_proposed - 1;
  *p_second = (1 - bench_double_chance) / 2;
}

gboolean
bench_model_usable (BenchModel *self)
{
  return bench_double_unusable == 0;
}

unsigned
bench_model_unusable (BenchModel *self)
{
  return bench_double_unusable;
}

ImgPixels *
bench_model_strip (BenchModel *self)
{
  return self->now.n > 0 ? self->strip : NULL;
}

/* ---- the rest ---- */

gboolean
bench_model_needs_wings (BenchModel *self)
{
  return TRUE;
}

gboolean
bench_model_wing_ratio (BenchModel *self, double *ratio, double *sd)
{
  return FALSE;
}

gboolean
bench_model_tegmen_pronotum (BenchModel *self, double *ratio, double *sd)
{
  return FALSE;
}

const CoreSexVerdict *
bench_model_verdict (BenchModel *self)
{
  return &self->verdict;
}

gboolean
bench_model_can_undo (BenchModel *self)
{
  return self->past->len > 0;
}

gboolean
bench_model_can_redo (BenchModel *self)
{
  return self->future->len > 0;
}

static void
step_through (BenchModel *self, GArray *from, GArray *to)
{
  BenchStep step = self->now.step;

  if (from->len == 0)
    return;
  g_array_append_val (to, self->now);
  self->now = g_array_index (from, State, from->len - 1);
  self->now.step = step;
  g_array_set_size (from, from->len - 1);
  changed (self);
}

void
bench_model_undo (BenchModel *self)
{
  step_through (self, self->past, self->future);
}

void
bench_model_redo (BenchModel *self)
{
  step_through (self, self->future, self->past);
}

/* Its own journal has no picture to prove anything with. */
DeskProof *
bench_model_proof (BenchModel *self, GError **error)
{
  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, "There is no such photo in this journal.");
  return NULL;
}

void
bench_model_record_async (BenchModel *self, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, NULL, callback, data);

  bench_double_records++;
  g_task_return_boolean (task, TRUE);
}

gboolean
bench_model_record_finish (BenchModel *self, GAsyncResult *result, GError **error)
{
  return g_task_propagate_boolean (G_TASK (result), error);
}
