/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-label.c — letters of any script as coverage, by pango and cairo. */
#include "exchange/exch-label.h"

#include <cairo.h>
#include <pango/pangocairo.h>
#include <string.h>

#include "exchange/exch-print-private.h"

/* Draws the layout at (rim, rim); with a rim line, around the letters too. */
static GBytes *
coverage (PangoLayout *layout, int width, int height, int rim, gboolean with_rim)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, width, height);
  cairo_t *cr = cairo_create (surface);
  g_autofree guint8 *out = g_malloc0_n ((gsize) width, (gsize) height);
  const guint8 *from;
  gsize stride;

  cairo_move_to (cr, rim, rim);
  pango_cairo_layout_path (cr, layout);
  if (with_rim)
    {
      cairo_set_line_width (cr, 2 * rim);
      cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
      cairo_stroke_preserve (cr);
    }
  cairo_fill (cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  from = cairo_image_surface_get_data (surface);
  stride = (gsize) cairo_image_surface_get_stride (surface);
  for (int y = 0; from != NULL && y < height; y++) /* NULL: too large, stays empty */
    memcpy (out + (gsize) y * (gsize) width, from + (gsize) y * stride, (gsize) width);
  cairo_surface_destroy (surface);
  return g_bytes_new_take (g_steal_pointer (&out), (gsize) width * (gsize) height);
}

ExchLabel *
exch_label_new (const char *text, double size, gboolean bold, int max_width, int rim)
{
  ExchLabel *self = g_new0 (ExchLabel, 1);
  cairo_surface_t *none = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (none);
  g_autoptr (PangoLayout) layout = pango_cairo_create_layout (cr);
  int wide, high;

  pango_layout_set_text (layout, text, -1);
  _exch_print_font (layout, size, bold);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (max_width > 0)
    pango_layout_set_width (layout, MAX (max_width - 2 * rim, 1) * PANGO_SCALE);
  pango_layout_get_pixel_size (layout, &wide, &high);
  self->rim = rim;
  self->width = MAX (wide, 1) + 2 * rim;
  self->height = MAX (high, 1) + 2 * rim;
  self->letters = coverage (layout, self->width, self->height, rim, FALSE);
  if (rim > 0)
    self->halo = coverage (layout, self->width, self->height, rim, TRUE);
  cairo_destroy (cr);
  cairo_surface_destroy (none);
  return self;
}

void
exch_label_free (ExchLabel *self)
{
  if (self == NULL)
    return;
  g_bytes_unref (self->letters);
  g_clear_pointer (&self->halo, g_bytes_unref);
  g_free (self);
}
