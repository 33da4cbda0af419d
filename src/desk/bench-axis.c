/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-axis.c — the marks from base to tip in their order, and the axis that the program proposes.
 *
 * The search for the abdomen runs in a worker as soon as the picture was read, and is told to
 * stop when the bench is left. What it found is placed once, where no mark is. */
#include "desk/bench-private.h"

#include <math.h>
#include <string.h>

static const BenchMark bends[] = { BENCH_MARK_BEND, BENCH_MARK_BEND_2, BENCH_MARK_BEND_3 };

G_STATIC_ASSERT (G_N_ELEMENTS (bends) + 2 == BENCH_MAX_AXIS);
G_STATIC_ASSERT (BENCH_MAX_AXIS == IMG_STRIP_MAX_MARKS);

/* ---- marks in their order ---- */

gboolean
bench_mark_is_bend (BenchMark mark)
{
  return mark == BENCH_MARK_BEND || mark == BENCH_MARK_BEND_2 || mark == BENCH_MARK_BEND_3;
}

gboolean
bench_model_free_bend (BenchModel *self, BenchMark *mark)
{
  for (gsize i = 0; i < G_N_ELEMENTS (bends); i++)
    if (!self->doc.has[bends[i]])
      {
        *mark = bends[i];
        return TRUE;
      }
  return FALSE;
}

static double
way_over (const CorePoint *p, int n)
{
  double length = 0;

  for (int i = 0; i + 1 < n; i++)
    length += hypot (p[i + 1].x - p[i].x, p[i + 1].y - p[i].y);
  return length;
}

/* The order of the bends is that of the shortest way from base to tip over all of them. */
static void
put_in_order (CorePoint *p, int n)
{
  static const guint8 orders[6][3] = { { 0, 1, 2 }, { 0, 2, 1 }, { 1, 0, 2 },
                                       { 1, 2, 0 }, { 2, 0, 1 }, { 2, 1, 0 } };
  int between = n - 2;
  CorePoint tried[BENCH_MAX_AXIS], best[BENCH_MAX_AXIS];
  double least = INFINITY;

  tried[0] = p[0];
  tried[n - 1] = p[n - 1];
  for (gsize k = 0; k < G_N_ELEMENTS (orders); k++)
    {
      int placed = 0;

      for (int i = 0; i < 3; i++)
        if (orders[k][i] < between)
          tried[1 + placed++] = p[1 + orders[k][i]];
      if (way_over (tried, n) < least)
        {
          least = way_over (tried, n);
          memcpy (best, tried, sizeof best);
        }
    }
  memcpy (p, best, (gsize) n * sizeof *p);
}

static int
axis_of (const BenchDoc *doc, CorePoint p[BENCH_MAX_AXIS])
{
  int n = 1;

  if (!doc->has[BENCH_MARK_BASE] || !doc->has[BENCH_MARK_TIP])
    return 0;
  p[0] = doc->mark[BENCH_MARK_BASE];
  for (gsize i = 0; i < G_N_ELEMENTS (bends); i++)
    if (doc->has[bends[i]])
      p[n++] = doc->mark[bends[i]];
  p[n++] = doc->mark[BENCH_MARK_TIP];
  if (n > 3)
    put_in_order (p, n);
  return n;
}

int
bench_axis (const BenchDoc *doc, double xy[2 * IMG_STRIP_MAX_MARKS])
{
  CorePoint p[BENCH_MAX_AXIS];
  int n = axis_of (doc, p);

  for (int i = 0; i < n; i++)
    {
      xy[2 * i] = p[i].x;
      xy[2 * i + 1] = p[i].y;
    }
  return n;
}

gsize
bench_model_axis (BenchModel *self, CorePoint out[BENCH_MAX_AXIS])
{
  return (gsize) axis_of (&self->doc, out);
}

static void
axis_moved (BenchModel *self, gboolean suggested)
{
  self->doc.edited = FALSE;
  self->doc.confirmed = FALSE;
  self->doc.suggested = suggested;
  self->doc.axis_right = FALSE;
  self->doc.n_lines = 0;
  self->doc.n_removed = 0;
  if (self->doc.has[BENCH_MARK_BASE] && self->doc.has[BENCH_MARK_TIP])
    bench_guess_stop (self); /* the keeper was faster */
  bench_axis_changed (self);
}

void
bench_axis_moved (BenchModel *self, BenchMark mark)
{
  if (mark == BENCH_MARK_BASE)
    self->doc.placed &= ~IMG_FIND_BASE;
  if (mark == BENCH_MARK_TIP)
    self->doc.placed &= ~IMG_FIND_TIP;
  axis_moved (self, FALSE);
}

void
bench_model_swap_ends (BenchModel *self)
{
  BenchDoc *doc = &self->doc;
  CorePoint base = doc->mark[BENCH_MARK_BASE];

  if (!doc->has[BENCH_MARK_BASE] || !doc->has[BENCH_MARK_TIP])
    return;
  bench_touch (self, 0, 0);
  doc->mark[BENCH_MARK_BASE] = doc->mark[BENCH_MARK_TIP];
  doc->mark[BENCH_MARK_TIP] = base;
  doc->placed = (doc->placed & IMG_FIND_BASE ? IMG_FIND_TIP : 0) | (doc->placed & IMG_FIND_TIP ? IMG_FIND_BASE : 0);
  axis_moved (self, FALSE);
  bench_changed (self);
}

/* ---- the proposal ---- */

static void
place_guess (BenchModel *self)
{
  const double *xy = self->guess.xy;
  int n = self->guess.n_marks;

  if (n < 2 || self->doc.suggested)
    return;
  bench_touch (self, 0, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (bends); i++)
    self->doc.has[bends[i]] = FALSE;
  self->doc.has[BENCH_MARK_BASE] = self->doc.has[BENCH_MARK_TIP] = TRUE;
  self->doc.mark[BENCH_MARK_BASE] = (CorePoint){ xy[0], xy[1] };
  self->doc.mark[BENCH_MARK_TIP] = (CorePoint){ xy[2 * n - 2], xy[2 * n - 1] };
  self->doc.has[BENCH_MARK_BEND] = n == 3;
  if (n == 3)
    self->doc.mark[BENCH_MARK_BEND] = (CorePoint){ xy[2], xy[3] };
  self->doc.placed = IMG_FIND_BASE | IMG_FIND_TIP;
  axis_moved (self, TRUE);
  bench_changed (self);
}

void
bench_guess_offer (BenchModel *self)
{
  if (self->step != BENCH_STEP_AXIS || self->offered || self->guess.n_marks < 2)
    return;
  self->offered = TRUE; /* taken back, it is not forced on anybody again */
  if (self->wanted || (!self->doc.has[BENCH_MARK_BASE] && !self->doc.has[BENCH_MARK_TIP]))
    place_guess (self);
  self->wanted = FALSE;
}

typedef struct
{
  ImgPixels *pixels; /* shares the bytes */
  gint *stop;        /* counted */
  ImgAxisGuess guess;
  BenchQuality quality;
} Guess;

static void
guess_free (gpointer data)
{
  Guess *self = data;

  img_pixels_free (self->pixels);
  g_atomic_rc_box_release (self->stop);
  g_free (self);
}

static gboolean
should_stop (gpointer data)
{
  return g_atomic_int_get ((gint *) data) != 0;
}

static void
take_quality (BenchQuality *out, const ImgFindResult *found)
{
  *out = (BenchQuality){ found->length_px, found->sharpness, found->glare, found->contrast,
                         found->unusable };
}

static void
guess_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Guess *guess = data;
  g_autofree ImgFindResult *found = g_new0 (ImgFindResult, 1);
  ImgFindOptions options = { .should_stop = should_stop, .stop_data = guess->stop };

  if (img_axis_suggest (guess->pixels, &guess->guess, should_stop, guess->stop) &&
      img_find_segments (guess->pixels, guess->guess.xy, guess->guess.n_marks, &options, found,
                         NULL) == IMG_STRIP_OK)
    take_quality (&guess->quality, found);
  else
    guess->guess.n_marks = 0;
  g_task_return_boolean (task, TRUE);
}

/* The bench may be left while it runs: only a weak reference is held. */
static void
guessed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GWeakRef *weak = data;
  g_autoptr (BenchModel) self = g_weak_ref_get (weak);
  Guess *guess = g_task_get_task_data (G_TASK (result));

  g_weak_ref_clear (weak);
  g_free (weak);
  if (self == NULL || guess->stop != self->guess_stop)
    return;
  g_clear_pointer (&self->guess_stop, g_atomic_rc_box_release);
  self->guess = guess->guess;
  self->guess_quality = guess->quality;
  bench_guess_offer (self);
  g_signal_emit_by_name (self, "changed");
}

void
bench_guess_stop (BenchModel *self)
{
  if (self->guess_stop != NULL)
    g_atomic_int_set (self->guess_stop, 1);
  g_clear_pointer (&self->guess_stop, g_atomic_rc_box_release);
  self->wanted = FALSE;
}

void
bench_guess_start (BenchModel *self)
{
  Guess *guess;
  GWeakRef *weak = g_new0 (GWeakRef, 1);
  g_autoptr (GTask) task = NULL;

  g_weak_ref_init (weak, self);
  bench_guess_stop (self);
  self->guess = (ImgAxisGuess){ 0 };
  self->offered = FALSE;
  guess = g_new0 (Guess, 1);
  self->guess_stop = g_atomic_rc_box_new0 (gint);
  guess->stop = g_atomic_rc_box_acquire (self->guess_stop);
  guess->pixels = img_pixels_copy (self->pixels);
  task = g_task_new (NULL, NULL, guessed_cb, weak);
  g_task_set_task_data (task, guess, guess_free);
  g_task_run_in_thread (task, guess_thread);
}

void
bench_model_suggest (BenchModel *self)
{
  if (self->pixels == NULL)
    return;
  if (self->guess.n_marks >= 2)
    {
      self->offered = TRUE;
      place_guess (self);
      return;
    }
  if (self->guess_stop == NULL)
    bench_guess_start (self);
  self->wanted = TRUE;
  g_signal_emit_by_name (self, "changed");
}

gboolean
bench_model_suggesting (BenchModel *self)
{
  return self->guess_stop != NULL;
}

gboolean
bench_model_suggested (BenchModel *self)
{
  return self->doc.suggested;
}

gboolean
bench_model_axis_asked (BenchModel *self)
{
  return self->doc.suggested ||
         (self->found != NULL && self->found->status == IMG_STRIP_OK && (self->found->doubt & IMG_DOUBT_ENDS) != 0);
}

int
bench_model_axis_said (BenchModel *self)
{
  return self->doc.axis_right ? 1 : -1;
}

void
bench_model_say_axis (BenchModel *self, int said)
{
  gboolean right = said == 1;

  if (right == self->doc.axis_right)
    return;
  bench_touch (self, 0, 0);
  self->doc.axis_right = right;
  bench_changed (self);
}

gboolean
bench_model_quality (BenchModel *self, BenchQuality *out)
{
  if (self->found != NULL && self->found->status == IMG_STRIP_OK)
    take_quality (out, self->found);
  else if (self->guess.n_marks >= 2)
    *out = self->guess_quality;
  else
    return FALSE;
  return TRUE;
}
