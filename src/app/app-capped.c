/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-capped.c — see app-capped.h. Its one child, a GtkScrolledWindow, comes from the template. */
#include "app/app-capped.h"

#include "app/app-widgets.h"

#define MOST 150 /* pixels */

struct _AppCapped
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (AppCapped, app_capped, GTK_TYPE_WIDGET)

static void
app_capped_measure (GtkWidget *widget,
                    GtkOrientation orientation,
                    int for_size,
                    int *minimum,
                    int *natural,
                    int *minimum_baseline,
                    int *natural_baseline)
{
  GtkWidget *scroller = gtk_widget_get_first_child (widget);
  GtkWidget *inner = scroller != NULL ? gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (scroller)) : NULL;

  *minimum = *natural = 0;
  *minimum_baseline = *natural_baseline = -1;
  if (inner == NULL)
    return;
  gtk_widget_measure (inner, orientation, for_size, minimum, natural, NULL, NULL);
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = *natural = MIN (*natural, MOST);
}

static GtkSizeRequestMode
app_capped_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
app_capped_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  GtkWidget *scroller = gtk_widget_get_first_child (widget);

  if (scroller != NULL)
    gtk_widget_size_allocate (scroller, &(GtkAllocation){ 0, 0, width, height }, -1);
}

static void
app_capped_dispose (GObject *object)
{
  app_unparent_all (object);
  G_OBJECT_CLASS (app_capped_parent_class)->dispose (object);
}

static void
app_capped_class_init (AppCappedClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_capped_dispose;
  widget_class->measure = app_capped_measure;
  widget_class->get_request_mode = app_capped_request_mode;
  widget_class->size_allocate = app_capped_size_allocate;
}

static void
app_capped_init (AppCapped *self)
{
}
