/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-ruler.c — see app-ruler.h. A drag is one change of the model at its end. */
#include "app/app-ruler.h"

#include <glib/gi18n.h>
#include <math.h>

#define HIT_RADIUS 14.0 /* logical pixels */
#define HALF 8.0

struct _AppRuler
{
  GtkWidget parent_instance;

  AppCanvas *canvas; /* its parent, borrowed */

  /* Owned */
  MeasureModel *model;
  GSignalGroup *model_signals;

  int set, index; /* of the chosen mark; index -1 = none */
  gboolean dragging;
  CorePoint grab, preview;
  double drag_x, drag_y;
};

G_DEFINE_FINAL_TYPE (AppRuler, app_ruler, GTK_TYPE_WIDGET)

/* ---- the marks ---- */

static const char *
set_name (int set)
{
  switch (set)
    {
    case MEASURE_SET_RULER:
      return C_ ("measure mark", "ruler");
    case MEASURE_SET_DISC:
      return C_ ("measure mark", "edge of the disc");
    case MEASURE_SET_UPPER:
      return C_ ("measure mark", "upper edge");
    case MEASURE_SET_LOWER:
      return C_ ("measure mark", "lower edge");
    case MEASURE_SET_LINE:
    default:
      return C_ ("measure mark", "line");
    }
}

/* With the drag under way. */
static gsize
points (AppRuler *self, int set, CorePoint *out)
{
  gsize n = self->model != NULL && measure_model_uses (self->model, (MeasureSet) set)
              ? measure_model_points (self->model, (MeasureSet) set, out)
              : 0;

  if (self->dragging && self->set == set && self->index < (int) n)
    out[self->index] = self->preview;
  return n;
}

static gboolean
chosen_point (AppRuler *self, CorePoint *at)
{
  CorePoint p[MEASURE_MAX_POINTS];
  gsize n = points (self, self->set, p);

  if (self->index < 0 || self->index >= (int) n)
    return FALSE;
  *at = p[self->index];
  return TRUE;
}

char *
app_ruler_describe (AppRuler *self)
{
  g_autoptr (GString) text = g_string_new (NULL);
  CorePoint p[MEASURE_MAX_POINTS];

  if (chosen_point (self, p))
    /* Translators: a mark: what it belongs to, its number there, its place: "Chosen: line 2 at 310,95." */
    g_string_append_printf (text, C_ ("measure", "Chosen: %s %d at %.0f,%.0f. "), set_name (self->set),
                            self->index + 1, p[0].x, p[0].y);
  for (int set = 0; set < MEASURE_N_SETS; set++)
    {
      gsize n = points (self, set, p);

      for (gsize i = 0; i < n; i++)
        /* Translators: what a mark belongs to, its number there, its place: "line 2 at 310,95" */
        g_string_append_printf (text, C_ ("measure", "%s %d at %.0f,%.0f; "), set_name (set), (int) i + 1, p[i].x,
                                p[i].y);
    }
  if (text->len == 0)
    g_string_append (text, C_ ("measure", "No marks."));
  return g_strdup (g_strchomp (text->str));
}

static void
refresh (AppRuler *self)
{
  g_autofree char *text = app_ruler_describe (self);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
choose (AppRuler *self, int set, int index)
{
  CorePoint at;

  if (self->model != NULL && (set != self->set || index != self->index))
    measure_model_settle (self->model);
  self->set = set;
  self->index = index;
  if (!self->dragging && chosen_point (self, &at))
    app_canvas_show_point (self->canvas, at.x, at.y);
  refresh (self);
}

/* FALSE past the end, so that Tab leaves the picture there. */
static gboolean
choose_next (AppRuler *self, int step, gboolean round)
{
  int order[MEASURE_N_SETS * MEASURE_MAX_POINTS], n = 0, now = -1;
  CorePoint p[MEASURE_MAX_POINTS];

  for (int set = 0; set < MEASURE_N_SETS; set++)
    for (int i = 0, k = (int) points (self, set, p); i < k; i++)
      {
        if (set == self->set && i == self->index)
          now = n;
        order[n++] = set * MEASURE_MAX_POINTS + i;
      }
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
  choose (self, order[now] / MEASURE_MAX_POINTS, order[now] % MEASURE_MAX_POINTS);
  return TRUE;
}

static gboolean
hit (AppRuler *self, double x, double y, int *set_out, int *index_out)
{
  CorePoint p[MEASURE_MAX_POINTS];
  double least = HIT_RADIUS;
  gboolean found = FALSE;

  for (int set = 0; set < MEASURE_N_SETS; set++)
    for (gsize i = 0, n = points (self, set, p); i < n; i++)
      {
        double px, py;

        app_canvas_to_widget (self->canvas, p[i].x, p[i].y, &px, &py);
        if (hypot (px - x, py - y) > least)
          continue;
        least = hypot (px - x, py - y);
        *set_out = set;
        *index_out = (int) i;
        found = TRUE;
      }
  return found;
}

/* ---- placing and moving ---- */

/* Where further marks go once all that is needed is there. */
static MeasureSet
open_set (AppRuler *self)
{
  MeasureSet set;

  if (measure_model_next_set (self->model, &set))
    return set;
  if (self->set == MEASURE_SET_DISC && measure_model_uses (self->model, MEASURE_SET_DISC))
    return MEASURE_SET_DISC;
  return MEASURE_SET_LINE;
}

static gboolean
place (AppRuler *self, double x, double y, gboolean only_needed)
{
  MeasureSet set;
  CorePoint at;
  gsize index;

  if (only_needed && !measure_model_next_set (self->model, &set))
    return FALSE;
  set = open_set (self);
  app_canvas_to_image (self->canvas, x, y, &at.x, &at.y);
  index = measure_model_add (self->model, set, at);
  if (index == G_MAXSIZE)
    return FALSE;
  choose (self, (int) set, (int) index);
  return TRUE;
}

static gboolean
nudge (AppRuler *self, int dx, int dy, double pixels)
{
  CorePoint at;

  if (!chosen_point (self, &at))
    return FALSE;
  measure_model_move (self->model, (MeasureSet) self->set, (gsize) self->index,
                      (CorePoint){ at.x + dx * pixels, at.y + dy * pixels });
  return TRUE;
}

gboolean
app_ruler_key (AppRuler *self, guint keyval, GdkModifierType state)
{
  double pixels = (state & GDK_SHIFT_MASK) != 0 ? 10 : 1;
  double x = gtk_widget_get_width (GTK_WIDGET (self)) / 2.0, y = gtk_widget_get_height (GTK_WIDGET (self)) / 2.0;

  g_return_val_if_fail (APP_IS_RULER (self), FALSE);
  if (self->model == NULL || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
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
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return place (self, x, y, TRUE);
    case GDK_KEY_Insert:
    case GDK_KEY_KP_Insert:
      return place (self, x, y, FALSE);
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      if (self->index < 0)
        return FALSE;
      measure_model_remove (self->model, (MeasureSet) self->set, (gsize) self->index);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppRuler *self)
{
  return app_ruler_key (self, keyval, state);
}

static gboolean
app_ruler_focus (GtkWidget *widget, GtkDirectionType direction)
{
  int step = direction == GTK_DIR_TAB_FORWARD ? 1 : direction == GTK_DIR_TAB_BACKWARD ? -1 : 0;

  if (!gtk_widget_is_focus (widget))
    return gtk_widget_grab_focus (widget);
  return step != 0 && choose_next (APP_RULER (widget), step, FALSE);
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, AppRuler *self)
{
  int set, index;
  CorePoint at, mark;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->model == NULL || !hit (self, x, y, &set, &index))
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  choose (self, set, index);
  if (!chosen_point (self, &mark))
    return;
  app_canvas_to_image (self->canvas, x, y, &at.x, &at.y);
  self->grab = (CorePoint){ at.x - mark.x, at.y - mark.y };
  self->preview = mark;
  self->drag_x = x;
  self->drag_y = y;
  self->dragging = TRUE;
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, AppRuler *self)
{
  CorePoint at;

  if (!self->dragging)
    return;
  app_canvas_to_image (self->canvas, self->drag_x + dx, self->drag_y + dy, &at.x, &at.y);
  self->preview = (CorePoint){ at.x - self->grab.x, at.y - self->grab.y };
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
finish_drag (AppRuler *self, gboolean moved)
{
  if (!self->dragging)
    return;
  self->dragging = FALSE;
  if (moved && self->model != NULL)
    {
      measure_model_move (self->model, (MeasureSet) self->set, (gsize) self->index, self->preview);
      measure_model_settle (self->model);
    }
  refresh (self);
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, AppRuler *self)
{
  finish_drag (self, hypot (dx, dy) >= 1);
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, AppRuler *self)
{
  finish_drag (self, FALSE);
}

static void
released_cb (GtkGestureClick *gesture, int n_press, double x, double y, AppRuler *self)
{
  int set, index;

  if (self->model != NULL && !self->dragging && n_press == 1 && !hit (self, x, y, &set, &index))
    place (self, x, y, FALSE);
}

/* ---- drawing: over a photo every stroke has a dark one under it ---- */

static void
ink (AppRuler *self, const char *name, const char *fallback, GdkRGBA *out)
{
  if (!gtk_style_context_lookup_color (gtk_widget_get_style_context (GTK_WIDGET (self)), name, out))
    gdk_rgba_parse (out, fallback);
}

static void
stroke_seen (AppRuler *self, cairo_t *cr, const GdkRGBA *color, double width)
{
  GdkRGBA dark;

  ink (self, "canvas_ground", "#2a2d28", &dark);
  cairo_set_source_rgba (cr, dark.red, dark.green, dark.blue, .75);
  cairo_set_line_width (cr, width + 2.5);
  cairo_stroke_preserve (cr);
  gdk_cairo_set_source_rgba (cr, color);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

static void
draw_set (AppRuler *self, cairo_t *cr, int set, const GdkRGBA *color)
{
  CorePoint p[MEASURE_MAX_POINTS];
  gsize n = points (self, set, p);
  double x, y;

  cairo_new_path (cr);
  for (gsize i = 0; set != MEASURE_SET_DISC && i < n; i++)
    {
      app_canvas_to_widget (self->canvas, p[i].x, p[i].y, &x, &y);
      cairo_line_to (cr, x, y);
    }
  stroke_seen (self, cr, color, 1.75);
  for (gsize i = 0; i < n; i++)
    {
      double half = self->set == set && self->index == (int) i ? HALF + 3 : HALF;

      app_canvas_to_widget (self->canvas, p[i].x, p[i].y, &x, &y);
      cairo_new_path (cr);
      if (set >= MEASURE_SET_UPPER)
        cairo_arc (cr, x, y, half - 3, 0, 2 * G_PI);
      else
        {
          cairo_move_to (cr, x, y - half);
          cairo_line_to (cr, x + half, y);
          cairo_line_to (cr, x, y + half);
          cairo_line_to (cr, x - half, y);
          cairo_close_path (cr);
        }
      stroke_seen (self, cr, color, self->set == set && self->index == (int) i ? 3 : 2);
    }
}

/* The circle that the marks make. */
static void
draw_disc (AppRuler *self, cairo_t *cr, const GdkRGBA *color)
{
  CoreScale scale;
  CoreCircle circle;
  double x, y;

  if (!measure_model_uses (self->model, MEASURE_SET_DISC))
    return;
  measure_model_scale (self->model, &scale, &circle);
  if (!(circle.r > 0))
    return;
  app_canvas_to_widget (self->canvas, circle.x, circle.y, &x, &y);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, circle.r * app_canvas_zoom (self->canvas), 0, 2 * G_PI);
  stroke_seen (self, cr, color, 1.25);
}

static void
app_ruler_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppRuler *self = APP_RULER (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  GdkRGBA scale, line;
  cairo_t *cr;

  if (self->model == NULL || width <= 0 || height <= 0)
    return;
  ink (self, "mark_axis", "#f0a850", &scale);
  ink (self, "mark_line", "#a9e8d0", &line);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  draw_disc (self, cr, &scale);
  for (int set = 0; set < MEASURE_N_SETS; set++)
    draw_set (self, cr, set, set <= MEASURE_SET_DISC ? &scale : &line);
  if (gtk_widget_has_visible_focus (widget))
    {
      cairo_rectangle (cr, 1.5, 1.5, width - 3, height - 3);
      gdk_cairo_set_source_rgba (cr, &line);
      cairo_set_line_width (cr, 2);
      cairo_stroke (cr);
    }
  cairo_destroy (cr);
}

/* ---- object ---- */

static void
changed_cb (MeasureModel *model, AppRuler *self)
{
  CorePoint at;

  if (!self->dragging && self->index >= 0 && !chosen_point (self, &at))
    self->index = -1;
  refresh (self);
}

void
app_ruler_set_model (AppRuler *self, MeasureModel *model)
{
  g_return_if_fail (APP_IS_RULER (self));
  self->dragging = FALSE;
  self->index = -1;
  g_set_object (&self->model, model);
  g_signal_group_set_target (self->model_signals, model);
  refresh (self);
}

static void
app_ruler_dispose (GObject *object)
{
  AppRuler *self = APP_RULER (object);

  g_clear_object (&self->model_signals);
  g_clear_object (&self->model);
  G_OBJECT_CLASS (app_ruler_parent_class)->dispose (object);
}

static void
app_ruler_class_init (AppRulerClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_ruler_dispose;
  widget_class->snapshot = app_ruler_snapshot;
  widget_class->focus = app_ruler_focus;
  gtk_widget_class_set_css_name (widget_class, "ruler");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_ruler_init (AppRuler *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  static const AppCanvasHands hands = { G_CALLBACK (drag_begin_cb),  G_CALLBACK (drag_update_cb),
                                        G_CALLBACK (drag_end_cb),    G_CALLBACK (drag_cancel_cb),
                                        G_CALLBACK (released_cb),    G_CALLBACK (key_cb) };

  self->index = -1;
  self->model_signals = g_signal_group_new (MEASURE_TYPE_MODEL);
  g_signal_group_connect_object (self->model_signals, "changed", G_CALLBACK (changed_cb), self, 0);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("measure", "Marks of the measure"), -1);
  app_canvas_add_hands (widget, &hands);
}

GtkWidget *
app_ruler_new (AppCanvas *canvas)
{
  AppRuler *self = g_object_new (APP_TYPE_RULER, NULL);

  self->canvas = canvas;
  app_canvas_set_overlay (canvas, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
