/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-marks.c — choosing, dragging and nudging; see app-marks.h.
 *
 * Invariant: while a handle is dragged the model is untouched; the end of the
 * drag is one change of the model, so that one Ctrl+Z takes it back. */
#include "app/app-marks-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define LOUPE_MS 1600
#define FAR_SHARE .05 /* of the shorter side of the view, by Ctrl, Shift and an arrow */

G_DEFINE_FINAL_TYPE (AppMarks, app_marks, GTK_TYPE_WIDGET)

enum
{
  CHOSEN_CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
refresh (AppMarks *self)
{
  g_autofree char *text = app_marks_describe (self);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text,
                                  -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- the chosen one ---- */

AppMarkRef
app_marks_chosen (AppMarks *self)
{
  return self->chosen;
}

void
app_marks_choose (AppMarks *self, AppMarkRef ref)
{
  g_return_if_fail (APP_IS_MARKS (self));
  if (ref.kind != self->chosen.kind || ref.index != self->chosen.index)
    {
      if (self->model != NULL)
        bench_model_settle (self->model);
      self->chosen = ref;
      g_signal_emit (self, signals[CHOSEN_CHANGED], 0);
    }
  refresh (self);
}

/* What was chosen may be gone: by undo, by another count, by the next step. */
static void
check_chosen (AppMarks *self)
{
  AppMarkRef items[APP_MARKS_MAX];
  gsize n = _app_marks_items (self, items);

  for (gsize i = 0; i < n; i++)
    if (items[i].kind == self->chosen.kind && items[i].index == self->chosen.index)
      return;
  if (self->chosen.kind != APP_MARK_NONE)
    app_marks_choose (self, (AppMarkRef){ APP_MARK_NONE, 0 });
}

static void
show_chosen (AppMarks *self)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  CorePoint at;

  if (self->chosen.kind == APP_MARK_POINT &&
      _app_marks_point (self, (BenchMark) self->chosen.index, &at))
    app_canvas_show_point (self->canvas, at.x, at.y);
  else if (self->chosen.kind == APP_MARK_BOUNDARY &&
           self->chosen.index < (int) _app_marks_boundaries (self, bounds))
    app_canvas_show_point (self->canvas, bounds[self->chosen.index].mid.x,
                           bounds[self->chosen.index].mid.y);
}

/* FALSE past the end, so that Tab leaves the picture there. */
static gboolean
choose_next (AppMarks *self, int step, gboolean round)
{
  AppMarkRef items[APP_MARKS_MAX];
  int n = (int) _app_marks_items (self, items), now = -1;

  for (int i = 0; i < n; i++)
    if (items[i].kind == self->chosen.kind && items[i].index == self->chosen.index)
      now = i;
  if (n == 0)
    return FALSE;
  if (now < 0)
    now = step > 0 ? 0 : n - 1;
  else if (round)
    now = (now + step + n) % n;
  else if (now + step < 0 || now + step >= n)
    return FALSE;
  else
    now += step;
  app_marks_choose (self, items[now]);
  show_chosen (self);
  return TRUE;
}

static void
choose_near (AppMarks *self, double at)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = _app_marks_boundaries (self, bounds), best = 0;

  for (gsize i = 1; i < n; i++)
    if (fabs (bounds[i].at - at) < fabs (bounds[best].at - at))
      best = i;
  if (n > 0)
    app_marks_choose (self, (AppMarkRef){ APP_MARK_BOUNDARY, (int) best });
}

/* ---- the loupe ---- */

static gboolean
loupe_over_cb (gpointer data)
{
  AppMarks *self = data;

  self->loupe_timeout = 0;
  self->loupe = self->dragging;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

static void
loupe_for_a_moment (AppMarks *self)
{
  self->loupe = TRUE;
  g_clear_handle_id (&self->loupe_timeout, g_source_remove);
  self->loupe_timeout = g_timeout_add (LOUPE_MS, loupe_over_cb, self);
}

/* ---- placing ---- */

gboolean
app_marks_missing (AppMarks *self, BenchMark *mark)
{
  static const BenchMark axis[] = { BENCH_MARK_BASE, BENCH_MARK_TIP };
  static const BenchMark wings[] = { BENCH_MARK_WING_BASE, BENCH_MARK_WING_TIP,
                                     BENCH_MARK_ABDOMEN_TIP, BENCH_MARK_PRONOTUM_FRONT,
                                     BENCH_MARK_PRONOTUM_BACK };
  BenchStep step = self->model != NULL ? bench_model_step (self->model) : BENCH_STEP_WHAT;
  const BenchMark *order = step == BENCH_STEP_AXIS ? axis : wings;
  gsize n = step == BENCH_STEP_AXIS    ? G_N_ELEMENTS (axis)
            : step == BENCH_STEP_WINGS ? G_N_ELEMENTS (wings)
                                       : 0;
  CorePoint at;

  for (gsize i = 0; i < n; i++)
    if (!bench_model_mark (self->model, order[i], &at))
      {
        *mark = order[i];
        return TRUE;
      }
  return FALSE;
}

static void
place (AppMarks *self, BenchMark mark, double x, double y)
{
  int width, height;
  CorePoint at;

  if (!app_canvas_size (self->canvas, &width, &height))
    return;
  app_canvas_to_image (self->canvas, x, y, &at.x, &at.y);
  at.x = CLAMP (at.x, 0, width - 1);
  at.y = CLAMP (at.y, 0, height - 1);
  bench_model_set_mark (self->model, mark, at);
  app_marks_choose (self, (AppMarkRef){ APP_MARK_POINT, (int) mark });
}

static gboolean
place_missing (AppMarks *self)
{
  BenchMark mark;

  if (!app_marks_missing (self, &mark))
    return FALSE;
  place (self, mark, gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
         gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);
  loupe_for_a_moment (self);
  return TRUE;
}

/* ---- boundaries put in and out ---- */

static gboolean
can_edit (AppMarks *self)
{
  return _app_marks_shows_boundaries (self) && !bench_model_finding (self->model);
}

static void
add_boundary_at (AppMarks *self, double at)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize index;

  if (_app_marks_boundaries (self, bounds) >= BENCH_MAX_BOUNDARIES)
    return;
  index = bench_model_add_boundary (self->model, at);
  app_marks_choose (self, (AppMarkRef){ APP_MARK_BOUNDARY, (int) index });
}

/* In the middle of the widest plate. */
static void
add_in_widest (AppMarks *self)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = _app_marks_boundaries (self, bounds);
  double widest = 0, at = .5;

  for (gsize i = 0; i <= n; i++)
    {
      double lo = i > 0 ? bounds[i - 1].at : 0, hi = i < n ? bounds[i].at : 1;

      if (hi - lo > widest)
        {
          widest = hi - lo;
          at = (lo + hi) / 2;
        }
    }
  add_boundary_at (self, at);
}

static void
add_at_pointer (AppMarks *self, double x, double y)
{
  AppAxis axis;
  CorePoint at;

  _app_marks_axis (self, &axis);
  if (axis.n == 0 || !can_edit (self))
    return;
  app_canvas_to_image (self->canvas, x, y, &at.x, &at.y);
  add_boundary_at (self, bench_model_at_of (self->model, at));
}

/* In the middle of the longest way between two marks. */
static gboolean
insert_bend (AppMarks *self)
{
  double longest = 0;
  CorePoint at = { 0, 0 };
  BenchMark bend;
  AppAxis axis;

  _app_marks_axis (self, &axis);
  if (axis.n == 0 || !bench_model_free_bend (self->model, &bend))
    return FALSE;
  for (int i = 0; i + 1 < axis.n; i++)
    {
      CorePoint a = axis.p[i], b = axis.p[i + 1];

      if (hypot (b.x - a.x, b.y - a.y) > longest)
        {
          longest = hypot (b.x - a.x, b.y - a.y);
          at = (CorePoint){ (a.x + b.x) / 2, (a.y + b.y) / 2 };
        }
    }
  bench_model_set_mark (self->model, bend, at);
  app_marks_choose (self, (AppMarkRef){ APP_MARK_POINT, (int) bend });
  return TRUE;
}

static gboolean
insert (AppMarks *self)
{
  if (bench_model_step (self->model) == BENCH_STEP_AXIS)
    return insert_bend (self);
  if (!can_edit (self))
    return FALSE;
  add_in_widest (self);
  return TRUE;
}

static gboolean
delete_chosen (AppMarks *self)
{
  AppMarkRef chosen = self->chosen;

  if (chosen.kind == APP_MARK_BOUNDARY && can_edit (self))
    {
      BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
      double at;

      _app_marks_boundaries (self, bounds);
      at = bounds[chosen.index].at;
      bench_model_remove_boundary (self->model, (gsize) chosen.index);
      choose_near (self, at);
      return TRUE;
    }
  if (chosen.kind == APP_MARK_POINT && (bench_model_step (self->model) == BENCH_STEP_WINGS ||
                                        bench_model_step (self->model) == BENCH_STEP_AXIS))
    {
      bench_model_clear_mark (self->model, (BenchMark) chosen.index);
      return TRUE;
    }
  return FALSE;
}

/* ---- nudging ---- */

static gboolean
nudge_boundary (AppMarks *self, int dx, int dy, double pixels)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = _app_marks_boundaries (self, bounds);
  AppAxis axis;
  CorePoint along;
  double toward, at;

  _app_marks_axis (self, &axis);
  if (self->chosen.index >= (int) n || axis.length <= 0 || !can_edit (self))
    return FALSE;
  at = bounds[self->chosen.index].at;
  along = _app_axis_direction (&axis, at);
  toward = along.x * dx + along.y * dy;
  if (fabs (toward) < .2) /* across the axis: down and right mean toward the tip */
    toward = dx + dy;
  at = CLAMP (at + (toward > 0 ? pixels : -pixels) / axis.length, 0, 1);
  bench_model_move_boundary (self->model, (gsize) self->chosen.index, at);
  choose_near (self, at);
  return TRUE;
}

static gboolean
nudge_point (AppMarks *self, int dx, int dy, double pixels)
{
  CorePoint at;

  if (!bench_model_mark (self->model, (BenchMark) self->chosen.index, &at))
    return FALSE;
  at.x += dx * pixels;
  at.y += dy * pixels;
  bench_model_set_mark (self->model, (BenchMark) self->chosen.index, at);
  return TRUE;
}

static gboolean
nudge (AppMarks *self, int dx, int dy, double pixels)
{
  gboolean moved = FALSE;

  if (self->chosen.kind == APP_MARK_POINT)
    moved = nudge_point (self, dx, dy, pixels);
  else if (self->chosen.kind == APP_MARK_BOUNDARY)
    moved = nudge_boundary (self, dx, dy, pixels);
  if (moved)
    {
      show_chosen (self);
      loupe_for_a_moment (self);
      gtk_widget_queue_draw (GTK_WIDGET (self));
    }
  return moved;
}

static gboolean
on_axis (AppMarks *self, void (*verb) (BenchModel *))
{
  if (bench_model_step (self->model) != BENCH_STEP_AXIS)
    return FALSE;
  verb (self->model);
  return TRUE;
}

static gboolean
arrow (guint keyval)
{
  return (keyval >= GDK_KEY_Left && keyval <= GDK_KEY_Down) || (keyval >= GDK_KEY_KP_Left && keyval <= GDK_KEY_KP_Down);
}

/* Picture pixels that an arrow moves the chosen one by. In a large picture that is seen whole ten of
 * them are two or three of the screen: with both keys it is a share of what is in view. */
static double
step_of (AppMarks *self, GdkModifierType state)
{
  int side = MIN (gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)));

  if ((state & GDK_SHIFT_MASK) == 0)
    return 1;
  if ((state & GDK_CONTROL_MASK) == 0)
    return 10;
  return MAX (10, side * FAR_SHARE / app_canvas_zoom (self->canvas));
}

gboolean
app_marks_key (AppMarks *self, guint keyval, GdkModifierType state)
{
  double pixels = step_of (self, state);
  gboolean both = (state & GDK_CONTROL_MASK) != 0 && (state & GDK_SHIFT_MASK) != 0 && arrow (keyval);

  g_return_val_if_fail (APP_IS_MARKS (self), FALSE);
  if (self->model == NULL || (state & GDK_ALT_MASK) != 0 || ((state & GDK_CONTROL_MASK) != 0 && !both))
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_bracketright:
    case GDK_KEY_Page_Down:
      return choose_next (self, 1, TRUE);
    case GDK_KEY_bracketleft:
    case GDK_KEY_Page_Up:
      return choose_next (self, -1, TRUE);
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      return nudge (self, -1, 0, pixels);
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return nudge (self, 1, 0, pixels);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      return nudge (self, 0, -1, pixels);
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      return nudge (self, 0, 1, pixels);
    case GDK_KEY_Insert:
    case GDK_KEY_KP_Insert:
      return insert (self);
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      return delete_chosen (self);
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return place_missing (self);
    case GDK_KEY_s:
      return on_axis (self, bench_model_suggest);
    case GDK_KEY_x:
      return on_axis (self, bench_model_swap_ends);
    default:
      return FALSE;
    }
}

static gboolean
key_cb (GtkEventControllerKey *controller,
        guint keyval,
        guint keycode,
        GdkModifierType state,
        AppMarks *self)
{
  return app_marks_key (self, keyval, state);
}

/* Tab goes through the marks and then on to the next control. */
static gboolean
app_marks_focus (GtkWidget *widget, GtkDirectionType direction)
{
  AppMarks *self = APP_MARKS (widget);
  int step = direction == GTK_DIR_TAB_FORWARD ? 1 : direction == GTK_DIR_TAB_BACKWARD ? -1 : 0;

  if (!gtk_widget_is_focus (widget))
    return gtk_widget_grab_focus (widget);
  return step != 0 && choose_next (self, step, FALSE);
}

/* ---- dragging ---- */

static void
drag_boundary_to (AppMarks *self, CorePoint at)
{
  self->preview_at = CLAMP (bench_model_at_of (self->model, at) - self->grab_at, 0, 1);
}

static gboolean
start_drag (AppMarks *self, AppMarkRef hit, CorePoint at)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];

  if (hit.kind == APP_MARK_POINT)
    {
      CorePoint mark;

      if (!bench_model_mark (self->model, (BenchMark) hit.index, &mark))
        return FALSE;
      self->grab = (CorePoint){ at.x - mark.x, at.y - mark.y };
      self->preview = mark;
      return TRUE;
    }
  if (!can_edit (self))
    return FALSE;
  _app_marks_boundaries (self, bounds);
  self->preview_at = bounds[hit.index].at;
  self->grab_at = bench_model_at_of (self->model, at) - self->preview_at;
  return TRUE;
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, AppMarks *self)
{
  AppMarkRef hit =
    self->model != NULL ? _app_marks_hit (self, x, y) : (AppMarkRef){ APP_MARK_NONE, 0 };
  CorePoint at;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  app_canvas_to_image (self->canvas, x, y, &at.x, &at.y);
  if (hit.kind == APP_MARK_NONE || !start_drag (self, hit, at))
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  app_marks_choose (self, hit);
  self->drag_x = x;
  self->drag_y = y;
  self->dragging = self->loupe = TRUE;
  refresh (self);
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, AppMarks *self)
{
  CorePoint at;
  int width, height;

  if (!self->dragging || !app_canvas_size (self->canvas, &width, &height))
    return;
  app_canvas_to_image (self->canvas, self->drag_x + dx, self->drag_y + dy, &at.x, &at.y);
  if (self->chosen.kind == APP_MARK_POINT)
    self->preview = (CorePoint){ CLAMP (at.x - self->grab.x, 0, width - 1),
                                 CLAMP (at.y - self->grab.y, 0, height - 1) };
  else
    drag_boundary_to (self, at);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
finish_drag (AppMarks *self, gboolean moved)
{
  AppMarkRef chosen = self->chosen;

  if (!self->dragging)
    return;
  self->dragging = self->loupe = FALSE;
  if (moved && chosen.kind == APP_MARK_POINT)
    bench_model_set_mark (self->model, (BenchMark) chosen.index, self->preview);
  else if (moved && chosen.kind == APP_MARK_BOUNDARY)
    {
      bench_model_move_boundary (self->model, (gsize) chosen.index, self->preview_at);
      choose_near (self, self->preview_at);
    }
  if (moved)
    bench_model_settle (self->model);
  refresh (self);
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, AppMarks *self)
{
  finish_drag (self, hypot (dx, dy) >= 1);
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, AppMarks *self)
{
  finish_drag (self, FALSE);
}

/* A click on empty ground places what is missing, then the bend; twice puts a boundary in. */
static void
released_cb (GtkGestureClick *gesture, int n_press, double x, double y, AppMarks *self)
{
  GdkModifierType state =
    gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  BenchMark mark;

  if (self->model == NULL || self->dragging)
    return;
  if (_app_marks_shows_boundaries (self))
    {
      if (n_press == 2 || (n_press == 1 && (state & GDK_CONTROL_MASK) != 0))
        add_at_pointer (self, x, y);
      return;
    }
  if (n_press != 1 || _app_marks_hit (self, x, y).kind != APP_MARK_NONE)
    return;
  if (app_marks_missing (self, &mark))
    place (self, mark, x, y);
  else if (bench_model_step (self->model) == BENCH_STEP_AXIS &&
           bench_model_free_bend (self->model, &mark))
    place (self, mark, x, y);
}

static void
motion_cb (GtkEventControllerMotion *motion, double x, double y, AppMarks *self)
{
  BenchMark mark;
  const char *name = NULL;

  if (self->model == NULL || self->dragging)
    return;
  if (_app_marks_hit (self, x, y).kind != APP_MARK_NONE)
    name = "grab";
  else if (app_marks_missing (self, &mark))
    name = "crosshair";
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), name);
}

/* ---- object ---- */

static void
changed_cb (BenchModel *model, AppMarks *self)
{
  if (!self->dragging)
    check_chosen (self);
  refresh (self);
}

void
app_marks_set_model (AppMarks *self, BenchModel *model)
{
  g_return_if_fail (APP_IS_MARKS (self));
  self->dragging = self->loupe = FALSE;
  g_set_object (&self->model, model);
  g_signal_group_set_target (self->model_signals, model);
  app_marks_choose (self, (AppMarkRef){ APP_MARK_NONE, 0 });
}

static void
app_marks_dispose (GObject *object)
{
  AppMarks *self = APP_MARKS (object);

  g_clear_handle_id (&self->loupe_timeout, g_source_remove);
  g_clear_object (&self->model_signals);
  g_clear_object (&self->model);
  G_OBJECT_CLASS (app_marks_parent_class)->dispose (object);
}

static void
app_marks_class_init (AppMarksClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_marks_dispose;
  widget_class->snapshot = _app_marks_snapshot;
  widget_class->focus = app_marks_focus;
  signals[CHOSEN_CHANGED] = g_signal_new ("chosen-changed", APP_TYPE_MARKS, G_SIGNAL_RUN_LAST, 0,
                                          NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_css_name (widget_class, "marks");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_marks_init (AppMarks *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  static const AppCanvasHands hands = { G_CALLBACK (drag_begin_cb),  G_CALLBACK (drag_update_cb),
                                        G_CALLBACK (drag_end_cb),    G_CALLBACK (drag_cancel_cb),
                                        G_CALLBACK (released_cb),    G_CALLBACK (key_cb) };
  GtkEventController *motion = gtk_event_controller_motion_new ();

  self->model_signals = g_signal_group_new (BENCH_TYPE_MODEL);
  g_signal_group_connect_object (self->model_signals, "changed", G_CALLBACK (changed_cb), self, 0);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("bench", "Marks on the picture"), -1);
  g_signal_connect_object (motion, "motion", G_CALLBACK (motion_cb), self, 0);
  app_canvas_add_hands (widget, &hands);
  gtk_widget_add_controller (widget, motion);
}

GtkWidget *
app_marks_new (AppCanvas *canvas)
{
  AppMarks *self = g_object_new (APP_TYPE_MARKS, NULL);

  self->canvas = canvas;
  app_canvas_set_overlay (canvas, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
