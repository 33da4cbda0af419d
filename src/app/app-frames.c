/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-frames.c — see app-frames.h. */
#include "app/app-frames.h"

#ifdef HAVE_X11
#include <cairo-xlib.h>
#include <gdk/x11/gdkx.h>

#define KEPT "mantidary-frames"

/* Pixels of the largest monitor: the pool is made for what is first taken from it, and must hold a frame
 * of that size beside it. Pages that nobody writes to take no memory. */
static void
largest (GdkDisplay *display, int *width, int *height)
{
  GListModel *monitors = gdk_display_get_monitors (display);

  *width = *height = 1;
  for (guint i = 0; i < g_list_model_get_n_items (monitors); i++)
    {
      g_autoptr (GdkMonitor) monitor = g_list_model_get_item (monitors, i);
      int scale = gdk_monitor_get_scale_factor (monitor);
      GdkRectangle area;

      gdk_monitor_get_geometry (monitor, &area);
      *width = MAX (*width, area.width * scale);
      *height = MAX (*height, area.height * scale);
    }
}

static void
keep (GdkDisplay *display)
{
  Display *x = gdk_x11_display_get_xdisplay (display);
  int screen = DefaultScreen (x), width, height;
  cairo_surface_t *root = cairo_xlib_surface_create (x, RootWindow (x, screen), DefaultVisual (x, screen), 1, 1);

  largest (display, &width, &height);
  /* Stays until the program ends: the display may be closed before its data is cleared. */
  g_object_set_data (G_OBJECT (display), KEPT, cairo_surface_create_similar_image (root, CAIRO_FORMAT_RGB24, width, height));
  cairo_surface_destroy (root);
}
#endif

void
app_frames_keep (GtkWidget *window)
{
#ifdef HAVE_X11
  GdkDisplay *display = gtk_widget_get_display (window);
  GskRenderer *renderer = gtk_native_get_renderer (GTK_NATIVE (window));

  if (GDK_IS_X11_DISPLAY (display) && GSK_IS_CAIRO_RENDERER (renderer) && g_object_get_data (G_OBJECT (display), KEPT) == NULL)
    keep (display);
#endif
}
