/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-strip.c — see app-strip.h. While a line is dragged the model is left alone. */
#include "app/app-strip.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-strip-draw.h"

#define HIT 12.0

struct _AppStrip
{
  AppDrawn parent_instance;

  AppMarks *marks; /* borrowed */

  /* Owned */
  BenchModel *model;
  GSignalGroup *model_signals;
  cairo_surface_t *surface;
  ImgPixels *shown; /* what the surface was made of */

  int dragged; /* -1 = none */
  double drag_y;
  double at;
};

G_DEFINE_FINAL_TYPE (AppStrip, app_strip, APP_TYPE_DRAWN)

static void
describe (AppStrip *self)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n =
    self->model != NULL ? bench_model_boundaries (self->model, bounds, BENCH_MAX_BOUNDARIES) : 0;
  double at[BENCH_MAX_BOUNDARIES];
  g_autofree char *text = NULL;

  for (gsize i = 0; i < n; i++)
    at[i] = bounds[i].at;
  text = self->surface != NULL ? app_strip_said (at, n) : g_strdup (C_ ("bench", "Empty until base and tip are marked."));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
}

static void
drop_surface (AppStrip *self)
{
  g_clear_pointer (&self->surface, cairo_surface_destroy);
  g_clear_pointer (&self->shown, img_pixels_free);
}

static void
update_surface (AppStrip *self)
{
  ImgPixels *strip = self->model != NULL ? bench_model_strip (self->model) : NULL;

  if (strip == NULL)
    {
      drop_surface (self);
      return;
    }
  if (self->shown != NULL && self->shown->bytes == strip->bytes)
    return;
  drop_surface (self);
  self->shown = img_pixels_copy (strip);
  self->surface = app_strip_surface (strip);
}

static void
refresh (AppStrip *self)
{
  update_surface (self);
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- drawing ---- */

/* Where the last plates are asked for, they alone are shown, large. */
static double
shown_from (AppStrip *self)
{
  return self->model != NULL && bench_model_step (self->model) == BENCH_STEP_LAST_PLATE ? .5 : 0;
}

static double
y_of (AppStrip *self, double at, double height)
{
  double from = shown_from (self);

  return (at - from) / (1 - from) * height;
}

static gsize
shown_boundaries (AppStrip *self, BenchBoundary *bounds)
{
  gsize n;

  if (self->model == NULL || bench_model_step (self->model) < BENCH_STEP_BOUNDARIES)
    return 0;
  n = bench_model_boundaries (self->model, bounds, BENCH_MAX_BOUNDARIES);
  if (self->dragged >= 0 && self->dragged < (int) n)
    bounds[self->dragged].at = self->at;
  return n;
}

static void
draw_lines (AppStrip *self, cairo_t *cr, double width, double height)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = shown_boundaries (self, bounds);
  AppMarkRef chosen = app_marks_chosen (self->marks);

  for (gsize i = 0; i < n; i++)
    app_strip_draw_line (GTK_WIDGET (self), cr, width, y_of (self, bounds[i].at, height),
                         MAX (1.5, bounds[i].sd * height / (1 - shown_from (self))),
                         chosen.kind == APP_MARK_BOUNDARY && chosen.index == (int) i);
}

static void
app_strip_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppStrip *self = APP_STRIP (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr;

  if (width <= 2 * APP_STRIP_OVER || height <= 0)
    return;
  cr =
    gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  app_strip_draw (widget, cr, self->surface, width, height, shown_from (self));
  if (self->surface != NULL)
    draw_lines (self, cr, width, height);
  cairo_destroy (cr);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? APP_STRIP_WIDTH + 2 * APP_STRIP_OVER : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? APP_STRIP_WIDTH + 2 * APP_STRIP_OVER : 480;
}

/* ---- dragging ---- */

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, AppStrip *self)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = shown_boundaries (self, bounds);
  double height = gtk_widget_get_height (GTK_WIDGET (self)), least = HIT;

  self->dragged = -1;
  for (gsize i = 0; i < n; i++)
    if (fabs (y_of (self, bounds[i].at, height) - y) <= least)
      {
        least = fabs (y_of (self, bounds[i].at, height) - y);
        self->dragged = (int) i;
        self->at = bounds[i].at;
      }
  if (self->dragged < 0 || bench_model_finding (self->model))
    {
      self->dragged = -1;
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  self->drag_y = y_of (self, self->at, height);
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  app_marks_choose (self->marks, (AppMarkRef){ APP_MARK_BOUNDARY, self->dragged });
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, AppStrip *self)
{
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  if (self->dragged < 0 || height <= 0)
    return;
  self->at = CLAMP (shown_from (self) + (self->drag_y + dy) / height * (1 - shown_from (self)), 0, 1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, AppStrip *self)
{
  int dragged = self->dragged;

  self->dragged = -1;
  if (dragged >= 0 && fabs (dy) >= 1)
    bench_model_move_boundary (self->model, (gsize) dragged, self->at);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, AppStrip *self)
{
  self->dragged = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- object ---- */

static void
changed_cb (BenchModel *model, AppStrip *self)
{
  refresh (self);
}

static void
chosen_cb (AppMarks *marks, AppStrip *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
app_strip_set_model (AppStrip *self, BenchModel *model)
{
  g_return_if_fail (APP_IS_STRIP (self));
  self->dragged = -1;
  g_set_object (&self->model, model);
  g_signal_group_set_target (self->model_signals, model);
  refresh (self);
}

static void
app_strip_dispose (GObject *object)
{
  AppStrip *self = APP_STRIP (object);

  g_clear_object (&self->model_signals);
  g_clear_object (&self->model);
  drop_surface (self);
  G_OBJECT_CLASS (app_strip_parent_class)->dispose (object);
}

static void
app_strip_class_init (AppStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_strip_dispose;
  widget_class->snapshot = app_strip_snapshot;
  APP_DRAWN_CLASS (klass)->size = size;
  gtk_widget_class_set_css_name (widget_class, "strip");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_strip_init (AppStrip *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  self->dragged = -1;
  self->model_signals = g_signal_group_new (BENCH_TYPE_MODEL);
  g_signal_group_connect_object (self->model_signals, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self, 0);
  g_signal_connect_object (drag, "drag-update", G_CALLBACK (drag_update_cb), self, 0);
  g_signal_connect_object (drag, "drag-end", G_CALLBACK (drag_end_cb), self, 0);
  g_signal_connect_object (drag, "cancel", G_CALLBACK (drag_cancel_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("bench", "Straightened abdomen"), -1);
}

GtkWidget *
app_strip_new (AppMarks *marks)
{
  AppStrip *self = g_object_new (APP_TYPE_STRIP, NULL);

  self->marks = marks;
  g_signal_connect_object (marks, "chosen-changed", G_CALLBACK (chosen_cb), self, 0);
  return GTK_WIDGET (self);
}
