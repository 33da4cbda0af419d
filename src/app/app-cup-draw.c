/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-cup-draw.c — the shapes of a cup. Every sign differs in shape, so that it
 * can be read in black and white; colours are looked up from the style sheet. */
#include "app/app-cup-draw.h"

#include <math.h>

static void
lookup (GtkStyleContext *context, const char *name, const char *fallback, GdkRGBA *out)
{
  if (!gtk_style_context_lookup_color (context, name, out))
    (void) gdk_rgba_parse (out, fallback);
}

void
app_ink_lookup (GtkWidget *widget, AppInk *ink)
{
  GtkStyleContext *context = gtk_widget_get_style_context (widget);

  gtk_style_context_get_color (context, &ink->text);
  lookup (context, "dim_ink", "#6b6b66", &ink->dim);
  lookup (context, "cup_line", "#a6a49a", &ink->line);
  lookup (context, "cup_paper", "#ffffff", &ink->paper);
  lookup (context, "leaf", "#2e6b57", &ink->accent);
  lookup (context, "due_ink", "#b4690e", &ink->due);
  lookup (context, "on_due", "#ffffff", &ink->on_due);
  lookup (context, "trouble_ink", "#a3261b", &ink->trouble);
  lookup (context, "veil_ink", "#6d6786", &ink->veil);
}

void
app_draw_dot (cairo_t *cr, double x, double y, double radius, AppMealDot dot)
{
  cairo_set_line_width (cr, 1.2);
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, radius - .6, 0, 2 * G_PI);
  cairo_stroke (cr);
  if (dot == APP_MEAL_REFUSED)
    return;
  cairo_move_to (cr, x, y);
  if (dot == APP_MEAL_TAKEN)
    cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  else if (dot == APP_MEAL_PROBABLY)
    cairo_arc (cr, x, y, radius - .4, G_PI / 2, 2 * G_PI);
  else
    cairo_arc (cr, x, y, radius - .4, G_PI / 2, 3 * G_PI / 2);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
bar_part (cairo_t *cr, double x1, double x2, double y, double height)
{
  double r = height / 2;

  if (x2 - x1 < height)
    x2 = x1 + height;
  cairo_new_path (cr);
  cairo_arc (cr, x1 + r, y, r, G_PI / 2, 3 * G_PI / 2);
  cairo_arc (cr, x2 - r, y, r, -G_PI / 2, G_PI / 2);
  cairo_close_path (cr);
  cairo_fill (cr);
}

void
app_draw_moult_bar (cairo_t *cr,
                    const AppInk *ink,
                    double x,
                    double y,
                    double width,
                    double height,
                    double today,
                    double lo,
                    double hi,
                    double middle)
{
  GdkRGBA band = ink->accent;

  gdk_cairo_set_source_rgba (cr, &ink->line);
  cairo_rectangle (cr, x, y - .5, width, 1);
  cairo_fill (cr);
  band.alpha = .38f;
  gdk_cairo_set_source_rgba (cr, &band);
  bar_part (cr, x + width * CLAMP (lo, 0, 1), x + width * CLAMP (hi, 0, 1), y, height);
  gdk_cairo_set_source_rgba (cr, &ink->accent);
  cairo_rectangle (cr, x, y - height / 4, width * CLAMP (today, 0, 1), height / 2);
  cairo_fill (cr);
  cairo_set_line_width (cr, 1.6);
  cairo_move_to (cr, x + width * CLAMP (middle, 0, 1), y - height * .8);
  cairo_line_to (cr, x + width * CLAMP (middle, 0, 1), y + height * .8);
  cairo_stroke (cr);
}

/* Drawn in units of the body length, hanging by the legs below (0, 0); head to the right. */
static void
mantis_path (cairo_t *cr)
{
  cairo_move_to (cr, -.52, .10); /* abdomen */
  cairo_curve_to (cr, -.40, -.01, -.16, .02, -.02, .13);
  cairo_curve_to (cr, -.16, .21, -.40, .22, -.52, .10);
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_set_line_width (cr, .045); /* pronotum */
  cairo_move_to (cr, -.04, .13);
  cairo_line_to (cr, .30, .27);
  cairo_stroke (cr);
  cairo_move_to (cr, .28, .22); /* head: a triangle */
  cairo_line_to (cr, .42, .27);
  cairo_line_to (cr, .31, .38);
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_set_line_width (cr, .024); /* walking legs up to the lid */
  cairo_move_to (cr, -.10, .10);
  cairo_line_to (cr, -.22, -.06);
  cairo_line_to (cr, -.16, -.16);
  cairo_move_to (cr, -.02, .12);
  cairo_line_to (cr, -.02, -.04);
  cairo_line_to (cr, .05, -.16);
  cairo_move_to (cr, .04, .14);
  cairo_line_to (cr, .16, -.02);
  cairo_line_to (cr, .20, -.16);
  cairo_stroke (cr);
  cairo_set_line_width (cr, .034); /* raptorial legs, folded */
  cairo_move_to (cr, .22, .24);
  cairo_line_to (cr, .08, .38);
  cairo_line_to (cr, .24, .40);
  cairo_stroke (cr);
}

void
app_draw_mantis (cairo_t *cr, const GdkRGBA *color, double x, double y, double length)
{
  cairo_save (cr);
  cairo_translate (cr, x, y + length * .16);
  cairo_scale (cr, length, length);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  gdk_cairo_set_source_rgba (cr, color);
  mantis_path (cr);
  cairo_restore (cr);
}

static void
lozenge_path (cairo_t *cr, double cx, double cy, double half)
{
  cairo_new_path (cr);
  cairo_move_to (cr, cx, cy - half);
  cairo_line_to (cr, cx + half, cy);
  cairo_line_to (cr, cx, cy + half);
  cairo_line_to (cr, cx - half, cy);
  cairo_close_path (cr);
}

void
app_draw_lozenge (cairo_t *cr, const AppInk *ink, double cx, double cy, double half, gboolean overdue)
{
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (overdue)
    {
      lozenge_path (cr, cx, cy, half + 3);
      cairo_set_line_width (cr, 1.4);
      gdk_cairo_set_source_rgba (cr, &ink->due);
      cairo_stroke (cr);
    }
  lozenge_path (cr, cx, cy, half);
  gdk_cairo_set_source_rgba (cr, &ink->due);
  cairo_fill (cr);
}
