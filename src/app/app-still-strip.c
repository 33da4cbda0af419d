/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-still-strip.c — see app-still-strip.h. */
#include "app/app-still-strip.h"

#include <glib/gi18n.h>

#include "app/app-pages.h"
#include "app/app-strip-draw.h"
#include "desk/desk-strip.h"

struct _AppStillStrip
{
  AppDrawn parent_instance;

  /* Owned */
  DeskStrip *strip;
  cairo_surface_t *surface; /* made of it */
  GCancellable *cancellable;
};

G_DEFINE_FINAL_TYPE (AppStillStrip, app_still_strip, APP_TYPE_DRAWN)

static void
describe (AppStillStrip *self, const char *text)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), text);
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppStillStrip) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskStrip) strip = desk_strip_finish (result, &error);
  g_autofree char *said = NULL;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || g_cancellable_is_cancelled (self->cancellable))
    return;
  said = strip != NULL ? app_strip_said (strip->at, strip->n) : app_error_text (error);
  describe (self, said);
  if (strip == NULL)
    return;
  self->surface = app_strip_surface (strip->strip);
  self->strip = g_steal_pointer (&strip);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppStillStrip *self = APP_STILL_STRIP (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr;

  if (width <= 2 * APP_STRIP_OVER || height <= 0)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  app_strip_draw (widget, cr, self->surface, width, height, 0);
  for (gsize i = 0; self->strip != NULL && i < self->strip->n; i++)
    app_strip_draw_line (widget, cr, width, self->strip->at[i] * height, 1.5, FALSE);
  cairo_destroy (cr);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? APP_STRIP_WIDTH + 2 * APP_STRIP_OVER : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? APP_STRIP_WIDTH + 2 * APP_STRIP_OVER : 480;
}

static void
dispose (GObject *object)
{
  AppStillStrip *self = APP_STILL_STRIP (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_pointer (&self->surface, cairo_surface_destroy);
  g_clear_pointer (&self->strip, desk_strip_free);
  G_OBJECT_CLASS (app_still_strip_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  g_object_unref (APP_STILL_STRIP (object)->cancellable);
  G_OBJECT_CLASS (app_still_strip_parent_class)->finalize (object);
}

static void
app_still_strip_class_init (AppStillStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  widget_class->snapshot = snapshot;
  APP_DRAWN_CLASS (klass)->size = size;
  gtk_widget_class_set_css_name (widget_class, "strip");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_still_strip_init (AppStillStrip *self)
{
  self->cancellable = g_cancellable_new ();
}

GtkWidget *
app_still_strip_new (Desk *desk, CoreId photo, const char *label)
{
  AppStillStrip *self = g_object_new (APP_TYPE_STILL_STRIP, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  describe (self, C_ ("bench", "Reading the picture…"));
  desk_strip_async (desk, photo, self->cancellable, read_cb, g_object_ref (self));
  return GTK_WIDGET (self);
}
