/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-canvas.c — the pieces of a picture that are in view; a coarse filter while it
 * moves, a good one when it is still. Under the cairo renderer a full-size
 * texture would be copied at every frame. */
#include "app/app-canvas.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-tiles.h"

#define ZOOM_MIN (1.0 / 64)
#define ZOOM_MAX 32.0
#define ZOOM_STEP 1.25
#define PAN_STEP 60.0
#define FIT_MARGIN 12
#define STILL_MS 140
#define SHOW_MARGIN 48.0

struct _AppCanvas
{
  AppDrawn parent_instance;

  GtkWidget *overlay; /* child, borrowed */

  /* Owned */
  ImgPixels *pixels;
  AppTiles *tiles;          /* NULL until they are made */
  cairo_surface_t *preview; /* a smaller copy of the whole, until then */
  GCancellable *cancellable;

  int width, height; /* of the picture; 0 = none */
  double zoom;
  double x, y; /* where image point 0, 0 lies */
  double pointer_x, pointer_y;
  double drag_x, drag_y;
  double pinch_zoom;
  guint still_timeout;
  gboolean fitted;
  gboolean framed; /* by the program: app_canvas_unframe() may take it back */
  gboolean moving;
  gboolean panning;
};

G_DEFINE_FINAL_TYPE (AppCanvas, app_canvas, APP_TYPE_DRAWN)

enum
{
  VIEW_CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* ---- the picture ---- */

typedef struct
{
  ImgPixels *pixels;
  AppTiles *tiles;
} Job;

static void
job_free (Job *job)
{
  g_clear_pointer (&job->pixels, img_pixels_free);
  g_clear_pointer (&job->tiles, app_tiles_end);
  g_free (job);
}

static gboolean
should_stop (gpointer cancellable)
{
  return g_cancellable_is_cancelled (cancellable);
}

static void
tiles_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  ImgPyramid *pyramid = img_pyramid_new (job->pixels, should_stop, cancellable);

  if (pyramid == NULL)
    {
      g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
      return;
    }
  job->tiles = app_tiles_new (pyramid);
  g_task_return_boolean (task, TRUE);
}

static void
ready_cb (gpointer data)
{
  AppCanvas *self = data;

  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (self->overlay != NULL) /* its loupe shows the picture too */
    gtk_widget_queue_draw (self->overlay);
}

static void
tiles_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  AppCanvas *self = APP_CANVAS (source);
  Job *job = g_task_get_task_data (G_TASK (result));

  if (!g_task_propagate_boolean (G_TASK (result), NULL) || self->pixels == NULL ||
      g_task_get_cancellable (G_TASK (result)) != self->cancellable)
    return;
  self->tiles = g_steal_pointer (&job->tiles);
  app_tiles_watch (self->tiles, ready_cb, self);
  g_clear_pointer (&self->preview, cairo_surface_destroy);
  ready_cb (self);
}

static void
drop_picture (AppCanvas *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->pixels, img_pixels_free);
  g_clear_pointer (&self->tiles, app_tiles_end);
}

static void
make_tiles (AppCanvas *self)
{
  g_autoptr (GTask) task = NULL;
  Job *job = g_new0 (Job, 1);

  self->cancellable = g_cancellable_new ();
  job->pixels = img_pixels_copy (self->pixels);
  task = g_task_new (self, self->cancellable, tiles_cb, NULL);
  g_task_set_task_data (task, job, (GDestroyNotify) job_free);
  g_task_run_in_thread (task, tiles_thread);
}

void
app_canvas_set_pixels (AppCanvas *self, const ImgPixels *pixels)
{
  int width = pixels != NULL ? pixels->width : 0, height = pixels != NULL ? pixels->height : 0;
  gboolean same = self->preview != NULL && width == self->width && height == self->height;

  g_return_if_fail (APP_IS_CANVAS (self));
  drop_picture (self);
  if (!same)
    g_clear_pointer (&self->preview, cairo_surface_destroy);
  self->width = width;
  self->height = height;
  if (pixels != NULL)
    {
      self->pixels = img_pixels_copy (pixels);
      make_tiles (self);
    }
  if (!same)
    app_canvas_fit (self);
}

void
app_canvas_set_preview (AppCanvas *self, const ImgPixels *small, int width, int height)
{
  g_autoptr (GdkPixbuf) pixbuf = NULL;
  cairo_t *cr;

  g_return_if_fail (APP_IS_CANVAS (self));
  g_return_if_fail (small != NULL && width > 0 && height > 0);
  drop_picture (self);
  g_clear_pointer (&self->preview, cairo_surface_destroy);
  self->width = width;
  self->height = height;
  pixbuf = gdk_pixbuf_new_from_bytes (small->bytes, GDK_COLORSPACE_RGB, FALSE, 8, small->width,
                                      small->height, (int) small->stride);
  self->preview = cairo_image_surface_create (CAIRO_FORMAT_RGB24, small->width, small->height);
  cr = cairo_create (self->preview);
  gdk_cairo_set_source_pixbuf (cr, pixbuf, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  app_canvas_fit (self);
}

gboolean
app_canvas_size (AppCanvas *self, int *width, int *height)
{
  if (self->width == 0)
    return FALSE;
  *width = self->width;
  *height = self->height;
  return TRUE;
}

gsize
app_canvas_tile_bytes (AppCanvas *self)
{
  return self->tiles != NULL ? app_tiles_bytes (self->tiles) : 0;
}

gboolean
app_canvas_sharp (AppCanvas *self)
{
  return self->tiles != NULL && !app_tiles_waiting (self->tiles);
}

/* ---- the view ---- */

static void
describe (AppCanvas *self)
{
  g_autofree char *text = NULL;

  if (self->width > 0)
    /* Translators: width, height; per cent of zoom; x, y of its corner in the window */
    text = g_strdup_printf (C_ ("bench", "%d × %d pixels, shown at %.1f in 100; its top left "
                                         "corner lies at %.0f,%.0f."),
                            self->width, self->height, 100 * self->zoom, self->x,
                            self->y);
  else
    text = g_strdup (C_ ("bench", "No picture yet."));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text,
                                  -1);
}

static gboolean
still_cb (gpointer data)
{
  AppCanvas *self = data;

  self->still_timeout = 0;
  self->moving = FALSE;
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

static void
view_changed (AppCanvas *self)
{
  self->moving = TRUE;
  g_clear_handle_id (&self->still_timeout, g_source_remove);
  self->still_timeout = g_timeout_add (STILL_MS, still_cb, self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[VIEW_CHANGED], 0);
}

void
app_canvas_to_image (AppCanvas *self, double x, double y, double *ix, double *iy)
{
  *ix = (x - self->x) / self->zoom;
  *iy = (y - self->y) / self->zoom;
}

void
app_canvas_to_widget (AppCanvas *self, double ix, double iy, double *x, double *y)
{
  *x = self->x + ix * self->zoom;
  *y = self->y + iy * self->zoom;
}

double
app_canvas_zoom (AppCanvas *self)
{
  return self->zoom;
}

void
app_canvas_zoom_at (AppCanvas *self, double factor, double x, double y)
{
  double ix, iy;

  if (self->width == 0 || !isfinite (factor) || factor <= 0)
    return;
  app_canvas_to_image (self, x, y, &ix, &iy);
  self->zoom = CLAMP (self->zoom * factor, ZOOM_MIN, ZOOM_MAX);
  self->x = x - ix * self->zoom;
  self->y = y - iy * self->zoom;
  self->fitted = self->framed = FALSE;
  view_changed (self);
}

void
app_canvas_unframe (AppCanvas *self)
{
  g_return_if_fail (APP_IS_CANVAS (self));
  if (self->framed)
    app_canvas_fit (self);
}

/* At least a margin of the picture stays in view: it cannot be lost. */
static void
keep_in_view (AppCanvas *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  self->x =
    CLAMP (self->x, SHOW_MARGIN - self->width * self->zoom, MAX (0, width - SHOW_MARGIN));
  self->y =
    CLAMP (self->y, SHOW_MARGIN - self->height * self->zoom, MAX (0, height - SHOW_MARGIN));
}

void
app_canvas_pan (AppCanvas *self, double dx, double dy)
{
  if (self->width == 0)
    return;
  self->x += dx;
  self->y += dy;
  keep_in_view (self);
  self->fitted = self->framed = FALSE;
  view_changed (self);
}

static void
fit_into (AppCanvas *self, int width, int height)
{
  double room_x = MAX (16, width - 2 * FIT_MARGIN);
  double room_y = MAX (16, height - 2 * FIT_MARGIN);

  self->zoom =
    CLAMP (MIN (room_x / self->width, room_y / self->height), ZOOM_MIN, ZOOM_MAX);
  self->x = (width - self->width * self->zoom) / 2;
  self->y = (height - self->height * self->zoom) / 2;
}

void
app_canvas_fit (AppCanvas *self)
{
  g_return_if_fail (APP_IS_CANVAS (self));
  self->fitted = TRUE;
  self->framed = FALSE;
  if (self->width > 0 && gtk_widget_get_width (GTK_WIDGET (self)) > 0)
    fit_into (self, gtk_widget_get_width (GTK_WIDGET (self)),
              gtk_widget_get_height (GTK_WIDGET (self)));
  view_changed (self);
}

void
app_canvas_frame (AppCanvas *self, double x0, double y0, double x1, double y1)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  g_return_if_fail (APP_IS_CANVAS (self));
  if (self->width == 0 || !self->fitted || width < 1 || height < 1 || x1 <= x0 || y1 <= y0)
    return;
  self->zoom = CLAMP (MIN (width / (x1 - x0), height / (y1 - y0)), ZOOM_MIN, ZOOM_MAX);
  self->x = width / 2 - (x0 + x1) / 2 * self->zoom;
  self->y = height / 2 - (y0 + y1) / 2 * self->zoom;
  self->fitted = FALSE;
  self->framed = TRUE;
  view_changed (self);
}

void
app_canvas_show_point (AppCanvas *self, double ix, double iy)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));
  double x, y, dx, dy;

  if (width < 2 * SHOW_MARGIN || height < 2 * SHOW_MARGIN)
    return;
  app_canvas_to_widget (self, ix, iy, &x, &y);
  dx = CLAMP (x, SHOW_MARGIN / 2, width - SHOW_MARGIN / 2) - x;
  dy = CLAMP (y, SHOW_MARGIN / 2, height - SHOW_MARGIN / 2) - y;
  if (fabs (dx) > .5 || fabs (dy) > .5)
    app_canvas_pan (self, dx, dy);
}

/* ---- drawing ---- */

static void
draw_preview (AppCanvas *self, cairo_t *cr, double ix, double iy, double zoom)
{
  double x = (double) self->width / cairo_image_surface_get_width (self->preview);
  double y = (double) self->height / cairo_image_surface_get_height (self->preview);

  cairo_save (cr);
  cairo_scale (cr, zoom * x, zoom * y);
  cairo_set_source_surface (cr, self->preview, -ix / x, -iy / y);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_paint (cr);
  cairo_restore (cr);
}

void
app_canvas_draw_at (AppCanvas *self, cairo_t *cr, double ix, double iy, double zoom)
{
  cairo_filter_t filter = self->moving ? CAIRO_FILTER_BILINEAR : CAIRO_FILTER_GOOD;

  if (self->tiles != NULL)
    app_tiles_draw (self->tiles, cr, ix, iy, zoom, gtk_widget_get_scale_factor (GTK_WIDGET (self)), filter);
  else if (self->preview != NULL)
    draw_preview (self, cr, ix, iy, zoom);
}

static void
app_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppCanvas *self = APP_CANVAS (widget);
  graphene_rect_t all = GRAPHENE_RECT_INIT (0, 0, (float) gtk_widget_get_width (widget),
                                            (float) gtk_widget_get_height (widget));

  gtk_snapshot_push_clip (snapshot, &all);
  if (self->tiles != NULL || self->preview != NULL)
    {
      cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &all);

      if (self->tiles != NULL)
        app_tiles_frame (self->tiles);
      cairo_translate (cr, round (self->x), round (self->y));
      app_canvas_draw_at (self, cr, 0, 0, self->zoom);
      cairo_destroy (cr);
    }
  if (self->overlay != NULL)
    gtk_widget_snapshot_child (widget, self->overlay, snapshot);
  gtk_snapshot_pop (snapshot);
}

static void
app_canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  AppCanvas *self = APP_CANVAS (widget);

  if (self->width > 0 && self->fitted)
    fit_into (self, width, height);
  if (self->overlay != NULL)
    gtk_widget_allocate (self->overlay, width, height, baseline, NULL);
  describe (self);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  *minimum = 180;
  *natural = 480;
}

/* ---- pointer and keys ---- */

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, AppCanvas *self)
{
  self->pointer_x = x;
  self->pointer_y = y;
}

static gboolean
scroll_cb (GtkEventControllerScroll *controller, double dx, double dy, AppCanvas *self)
{
  gboolean wheel = gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_WHEEL;

  app_canvas_zoom_at (self, pow (ZOOM_STEP, wheel ? -dy : -dy / 24), self->pointer_x,
                      self->pointer_y);
  return GDK_EVENT_STOP;
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, AppCanvas *self)
{
  self->pinch_zoom = self->zoom;
}

static void
pinch_cb (GtkGestureZoom *gesture, double scale, AppCanvas *self)
{
  double x, y;

  if (self->pinch_zoom > 0 && gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    app_canvas_zoom_at (self, self->pinch_zoom * scale / self->zoom, x, y);
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, AppCanvas *self)
{
  self->drag_x = self->x;
  self->drag_y = self->y;
  self->panning = FALSE;
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, AppCanvas *self)
{
  if (!self->panning && hypot (dx, dy) < 4)
    return;
  if (!self->panning)
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  self->panning = TRUE;
  app_canvas_pan (self, self->drag_x + dx - self->x, self->drag_y + dy - self->y);
}

/* A pixel of the picture for each of the screen. */
static gboolean
one_to_one (AppCanvas *self, double x, double y)
{
  app_canvas_zoom_at (self, 1.0 / gtk_widget_get_scale_factor (GTK_WIDGET (self)) / self->zoom, x, y);
  return GDK_EVENT_STOP;
}

static gboolean
arrow (guint keyval, int *dx, int *dy)
{
  *dx = keyval == GDK_KEY_Left || keyval == GDK_KEY_KP_Left     ? -1
        : keyval == GDK_KEY_Right || keyval == GDK_KEY_KP_Right ? 1
                                                                : 0;
  *dy = keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up       ? -1
        : keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down ? 1
                                                              : 0;
  return *dx != 0 || *dy != 0;
}

static gboolean
key_cb (GtkEventControllerKey *controller,
        guint keyval,
        guint keycode,
        GdkModifierType state,
        AppCanvas *self)
{
  double middle_x = gtk_widget_get_width (GTK_WIDGET (self)) / 2.0;
  double middle_y = gtk_widget_get_height (GTK_WIDGET (self)) / 2.0;
  gboolean control = (state & GDK_CONTROL_MASK) != 0;
  int dx, dy;

  if ((state & GDK_ALT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;
  if (arrow (keyval, &dx, &dy) && (control || self->overlay == NULL))
    {
      app_canvas_pan (self, -dx * PAN_STEP, -dy * PAN_STEP);
      return GDK_EVENT_STOP;
    }
  switch (keyval)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      app_canvas_zoom_at (self, ZOOM_STEP, middle_x, middle_y);
      return GDK_EVENT_STOP;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      app_canvas_zoom_at (self, 1 / ZOOM_STEP, middle_x, middle_y);
      return GDK_EVENT_STOP;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      app_canvas_fit (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_1:
    case GDK_KEY_KP_1:
      return self->overlay == NULL && one_to_one (self, middle_x, middle_y);
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

static void
add_controllers (AppCanvas *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll =
    gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect_object (motion, "motion", G_CALLBACK (motion_cb), self, 0);
  g_signal_connect_object (motion, "enter", G_CALLBACK (motion_cb), self, 0);
  g_signal_connect_object (scroll, "scroll", G_CALLBACK (scroll_cb), self, 0);
  g_signal_connect_object (pinch, "begin", G_CALLBACK (pinch_begin_cb), self, 0);
  g_signal_connect_object (pinch, "scale-changed", G_CALLBACK (pinch_cb), self, 0);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect_object (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self, 0);
  g_signal_connect_object (drag, "drag-update", G_CALLBACK (drag_update_cb), self, 0);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (widget, motion);
  gtk_widget_add_controller (widget, scroll);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (widget, keys);
}

/* ---- object ---- */

static void
app_canvas_dispose (GObject *object)
{
  AppCanvas *self = APP_CANVAS (object);

  g_clear_handle_id (&self->still_timeout, g_source_remove);
  g_clear_pointer (&self->overlay, gtk_widget_unparent);
  drop_picture (self);
  g_clear_pointer (&self->preview, cairo_surface_destroy);
  G_OBJECT_CLASS (app_canvas_parent_class)->dispose (object);
}

static void
app_canvas_class_init (AppCanvasClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_canvas_dispose;
  widget_class->snapshot = app_canvas_snapshot;
  widget_class->size_allocate = app_canvas_size_allocate;
  APP_DRAWN_CLASS (klass)->size = size;
  signals[VIEW_CHANGED] = g_signal_new ("view-changed", APP_TYPE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL,
                                        NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_css_name (widget_class, "canvas");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_canvas_init (AppCanvas *self)
{
  self->zoom = 1;
  self->fitted = TRUE;
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("bench", "Picture"), -1);
  add_controllers (self);
}

void
app_canvas_set_overlay (AppCanvas *self, GtkWidget *overlay)
{
  g_return_if_fail (APP_IS_CANVAS (self));
  g_clear_pointer (&self->overlay, gtk_widget_unparent);
  self->overlay = overlay;
  if (overlay != NULL)
    {
      gtk_widget_set_parent (overlay, GTK_WIDGET (self));
      g_signal_connect_object (self, "view-changed", G_CALLBACK (gtk_widget_queue_draw), overlay, G_CONNECT_SWAPPED);
    }
  gtk_widget_set_focusable (GTK_WIDGET (self), overlay == NULL);
}

void
app_canvas_add_hands (GtkWidget *overlay, const AppCanvasHands *hands)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect_object (drag, "drag-begin", hands->begin, overlay, 0);
  g_signal_connect_object (drag, "drag-update", hands->update, overlay, 0);
  g_signal_connect_object (drag, "drag-end", hands->end, overlay, 0);
  g_signal_connect_object (drag, "cancel", hands->cancel, overlay, 0);
  g_signal_connect_object (click, "released", hands->released, overlay, 0);
  g_signal_connect_object (keys, "key-pressed", hands->key, overlay, 0);
  gtk_widget_add_controller (overlay, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (overlay, GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (overlay, keys);
}

GtkWidget *
app_canvas_new (void)
{
  return g_object_new (APP_TYPE_CANVAS, NULL);
}
