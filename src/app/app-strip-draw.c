/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-strip-draw.c — see app-strip-draw.h. */
#include "app/app-strip-draw.h"

#include <glib/gi18n.h>

void
app_strip_ink (GtkWidget *widget, const char *name, const char *fallback, GdkRGBA *out)
{
  if (!gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), name, out))
    gdk_rgba_parse (out, fallback);
}

cairo_surface_t *
app_strip_surface (const ImgPixels *strip)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new_from_bytes (strip->bytes, GDK_COLORSPACE_RGB, FALSE, 8, strip->width,
                                                            strip->height, (int) strip->stride);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, strip->width, strip->height);
  cairo_t *cr = cairo_create (surface);

  gdk_cairo_set_source_pixbuf (cr, pixbuf, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  return surface;
}

static void
draw_frame (GtkWidget *widget, cairo_t *cr, double width, double height)
{
  GdkRGBA hair;

  app_strip_ink (widget, "hairline", "#e2e0d8", &hair);
  gdk_cairo_set_source_rgba (cr, &hair);
  cairo_set_line_width (cr, 1);
  cairo_rectangle (cr, APP_STRIP_OVER + .5, .5, width - 2 * APP_STRIP_OVER - 1, height - 1);
  cairo_stroke (cr);
}

void
app_strip_draw (GtkWidget *widget, cairo_t *cr, cairo_surface_t *surface, double width, double height, double from)
{
  if (surface == NULL)
    {
      draw_frame (widget, cr, width, height);
      return;
    }
  cairo_save (cr);
  cairo_rectangle (cr, APP_STRIP_OVER, 0, width - 2 * APP_STRIP_OVER, height);
  cairo_clip (cr);
  cairo_translate (cr, APP_STRIP_OVER, -from / (1 - from) * height);
  cairo_scale (cr, (width - 2.0 * APP_STRIP_OVER) / cairo_image_surface_get_width (surface),
               height / (1 - from) / cairo_image_surface_get_height (surface));
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_pattern_set_extend (cairo_get_source (cr), CAIRO_EXTEND_PAD);
  cairo_paint (cr);
  cairo_restore (cr);
}

void
app_strip_draw_line (GtkWidget *widget, cairo_t *cr, double width, double y, double half, gboolean chosen)
{
  GdkRGBA line, band;

  app_strip_ink (widget, "strip_line", "#1d5a47", &line);
  app_strip_ink (widget, "strip_band", "#5fb396", &band);
  cairo_set_source_rgba (cr, band.red, band.green, band.blue, .45);
  cairo_rectangle (cr, 0, y - half, width, 2 * half);
  cairo_fill (cr);
  gdk_cairo_set_source_rgba (cr, &line);
  cairo_rectangle (cr, 0, y - (chosen ? 1.5 : .75), width, chosen ? 3 : 1.5);
  cairo_fill (cr);
}

char *
app_strip_said (const double *at, gsize n)
{
  GString *text = g_string_new (n == 0 ? C_ ("bench", "No boundaries.") : C_ ("bench", "Boundaries, in parts of 100 from the base: "));

  for (gsize i = 0; i < n; i++)
    g_string_append_printf (text, i + 1 < n ? "%.0f, " : "%.0f.", 100 * at[i]);
  return g_string_free (text, FALSE);
}
