/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-bench-draw.c — all drawings lie in a unit square; the base of the abdomen is on top. */
#include "app/app-bench-draw.h"

/* Half width of an abdomen at the share s of its length. */
static double
half_width (double s)
{
  return .155 + .10 * (1 - (2 * s - .9) * (2 * s - .9)) - .07 * s;
}

#define INSET .05
#define TOP .26
#define FOOT .93

static double
row (double s)
{
  return TOP + (FOOT - TOP) * s;
}

static void
outline (cairo_t *cr)
{
  cairo_move_to (cr, .5 - half_width (0), row (0));
  for (int i = 1; i <= 20; i++)
    cairo_line_to (cr, .5 - half_width (i / 20.0) * (i == 20 ? .5 : 1), row (i / 20.0));
  for (int i = 20; i >= 0; i--)
    cairo_line_to (cr, .5 + half_width (i / 20.0) * (i == 20 ? .5 : 1), row (i / 20.0));
  cairo_close_path (cr);
  cairo_stroke (cr);
}

/* The seam between two plates: an arc that hangs down. */
static void
seam (cairo_t *cr, double s)
{
  double half = half_width (s);

  cairo_move_to (cr, .5 - half, row (s));
  cairo_curve_to (cr, .5 - half / 3, row (s) + .025, .5 + half / 3, row (s) + .025, .5 + half,
                  row (s));
  cairo_stroke (cr);
}

static void
seams (cairo_t *cr, const double *at, gsize n)
{
  for (gsize i = 0; i < n; i++)
    seam (cr, at[i]);
}

static void
leg (cairo_t *cr, double x0, double y0, double x1, double y1, double x2, double y2)
{
  cairo_move_to (cr, x0, y0);
  cairo_line_to (cr, x1, y1);
  cairo_line_to (cr, x2, y2);
  cairo_stroke (cr);
}

/* The breast with the hind legs: tells what is above the base. */
static void
breast (cairo_t *cr)
{
  cairo_move_to (cr, .40, row (0));
  cairo_curve_to (cr, .38, .16, .42, .08, .44, .02);
  cairo_move_to (cr, .60, row (0));
  cairo_curve_to (cr, .62, .16, .58, .08, .56, .02);
  cairo_stroke (cr);
  leg (cr, .40, .20, .16, .12, .06, .40);
  leg (cr, .60, .20, .84, .12, .94, .40);
}

static void
small_plate (cairo_t *cr, gboolean filled)
{
  cairo_move_to (cr, .44, row (0) - .015);
  cairo_curve_to (cr, .44, row (0) - .10, .56, row (0) - .10, .56, row (0) - .015);
  cairo_close_path (cr);
  if (filled)
    cairo_fill_preserve (cr);
  cairo_stroke (cr);
}

static void
diamond (cairo_t *cr, double x, double y, double half)
{
  cairo_move_to (cr, x, y - half);
  cairo_line_to (cr, x + half, y);
  cairo_line_to (cr, x, y + half);
  cairo_line_to (cr, x - half, y);
  cairo_close_path (cr);
}

static const double even[] = { .15, .30, .44, .57, .69, .81, .90 };

static void
draw_underside (cairo_t *cr)
{
  outline (cr);
  breast (cr);
  small_plate (cr, FALSE);
  seams (cr, even, G_N_ELEMENTS (even));
}

/* Wing pads and ten narrow rings. */
static void
draw_back (cairo_t *cr)
{
  outline (cr);
  breast (cr);
  for (int i = 4; i < 10; i++)
    seam (cr, i / 10.0);
  for (int side = -1; side <= 1; side += 2)
    {
      cairo_move_to (cr, .5, row (0) - .04);
      cairo_curve_to (cr, .5 + side * .26, row (0) - .02, .5 + side * .26, row (.30),
                      .5 + side * .06, row (.36));
      cairo_close_path (cr);
      cairo_stroke (cr);
    }
}

static void
draw_flank (cairo_t *cr)
{
  cairo_move_to (cr, .08, .30);
  cairo_curve_to (cr, .30, .34, .50, .28, .92, .56);
  cairo_curve_to (cr, .70, .74, .40, .66, .26, .46);
  cairo_line_to (cr, .08, .36);
  cairo_stroke (cr);
  leg (cr, .26, .46, .20, .78, .30, .92);
  leg (cr, .30, .48, .46, .86, .58, .92);
  for (int i = 0; i < 5; i++)
    {
      double x = .40 + i * .09;

      cairo_move_to (cr, x, .37 + i * .03);
      cairo_line_to (cr, x - .01, .56 + i * .015);
      cairo_stroke (cr);
    }
}

static void
draw_axis (cairo_t *cr)
{
  outline (cr);
  breast (cr);
  cairo_set_line_width (cr, .02);
  cairo_move_to (cr, .5, row (0));
  cairo_line_to (cr, .5, row (1));
  cairo_stroke (cr);
  diamond (cr, .5, row (0), .06);
  cairo_fill (cr);
  diamond (cr, .5, row (1), .06);
  cairo_fill (cr);
  /* the cerci lie beyond the tip */
  leg (cr, .46, row (1), .42, row (1) + .03, .40, .995);
  leg (cr, .54, row (1), .58, row (1) + .03, .60, .995);
}

static void
draw_small_plate (cairo_t *cr)
{
  draw_underside (cr);
  small_plate (cr, TRUE);
}

/* The end of the abdomen alone, large: the last two to four plates. */
static void
draw_end (cairo_t *cr, gboolean boat)
{
  cairo_move_to (cr, .16, .06);
  cairo_curve_to (cr, .16, .50, boat ? .26 : .30, .80, .5, .95);
  cairo_curve_to (cr, boat ? .74 : .70, .80, .84, .50, .84, .06);
  cairo_stroke (cr);
  cairo_move_to (cr, .17, .22);
  cairo_curve_to (cr, .36, .30, .64, .30, .83, .22);
  cairo_stroke (cr);
  if (boat)
    {
      cairo_move_to (cr, .20, .40);
      cairo_curve_to (cr, .38, .50, .62, .50, .80, .40);
      cairo_stroke (cr);
      cairo_move_to (cr, .5, .58);
      cairo_line_to (cr, .5, .94);
      cairo_stroke (cr);
      return;
    }
  for (int i = 0; i < 3; i++)
    {
      double y = .38 + .15 * i, half = .31 - .065 * i;

      cairo_move_to (cr, .5 - half, y);
      cairo_curve_to (cr, .5 - half / 3, y + .07, .5 + half / 3, y + .07, .5 + half, y);
      cairo_stroke (cr);
    }
}

/* Leaf-like lobes at the sides stand for what is counted. */
static void
draw_appendages (cairo_t *cr)
{
  outline (cr);
  for (int i = 0; i < 5; i++)
    {
      double s = .18 + .15 * i, half = half_width (s);

      for (int side = -1; side <= 1; side += 2)
        {
          cairo_move_to (cr, .5 + side * half, row (s) - .03);
          cairo_line_to (cr, .5 + side * (half + .15), row (s) + .03);
          cairo_line_to (cr, .5 + side * half, row (s) + .04);
          cairo_close_path (cr);
          cairo_fill_preserve (cr);
          cairo_stroke (cr);
        }
    }
}

static void
draw_plates (cairo_t *cr)
{
  static const double at[] = { .17, .33, .48, .62, .75, .87 };

  outline (cr);
  seams (cr, at, G_N_ELEMENTS (at));
}

/* From the back: wings folded over the abdomen, its tip beyond or short of them. */
static void
draw_wings (cairo_t *cr)
{
  cairo_rectangle (cr, .43, .02, .14, .24);
  cairo_stroke (cr);
  cairo_move_to (cr, .40, row (0));
  cairo_curve_to (cr, .20, .50, .30, .80, .46, .82);
  cairo_line_to (cr, .54, .82);
  cairo_curve_to (cr, .70, .80, .80, .50, .60, row (0));
  cairo_close_path (cr);
  cairo_stroke (cr);
  cairo_move_to (cr, .5, row (0));
  cairo_line_to (cr, .5, .82);
  cairo_stroke (cr);
  cairo_move_to (cr, .40, .82);
  cairo_curve_to (cr, .44, .98, .56, .98, .60, .82);
  cairo_stroke (cr);
}

static void
draw_boat (cairo_t *cr)
{
  draw_end (cr, TRUE);
}

static void
draw_small (cairo_t *cr)
{
  draw_end (cr, FALSE);
}

void
app_drawing_paint (cairo_t *cr, AppDrawing drawing, double side)
{
  static void (*const paints[APP_N_DRAWINGS]) (cairo_t *) = {
    [APP_DRAWING_UNDERSIDE] = draw_underside,
    [APP_DRAWING_BACK] = draw_back,
    [APP_DRAWING_FLANK] = draw_flank,
    [APP_DRAWING_AXIS] = draw_axis,
    [APP_DRAWING_SMALL_PLATE] = draw_small_plate,
    [APP_DRAWING_BOAT] = draw_boat,
    [APP_DRAWING_SMALL] = draw_small,
    [APP_DRAWING_PLATES] = draw_plates,
    [APP_DRAWING_APPENDAGES] = draw_appendages,
    [APP_DRAWING_WINGS] = draw_wings,
  };

  if (drawing <= APP_DRAWING_NONE || drawing >= APP_N_DRAWINGS)
    return;
  cairo_save (cr);
  cairo_translate (cr, INSET * side, INSET * side);
  cairo_scale (cr, (1 - 2 * INSET) * side, (1 - 2 * INSET) * side);
  cairo_set_line_width (cr, 1.5 / side);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  paints[drawing](cr);
  cairo_restore (cr);
}

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  GdkRGBA color;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (area)), &color);
  gdk_cairo_set_source_rgba (cr, &color);
  app_drawing_paint (cr, (AppDrawing) GPOINTER_TO_INT (data), MIN (width, height));
}

void
app_drawing_set (GtkWidget *area, AppDrawing drawing, int side)
{
  gboolean empty = drawing == APP_DRAWING_NONE;

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), empty ? 0 : side);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), empty ? 0 : side);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_cb, GINT_TO_POINTER (drawing),
                                  NULL);
  gtk_widget_set_margin_end (area, empty ? 0 : 9);
}

GtkWidget *
app_drawing_new (AppDrawing drawing, int side)
{
  GtkWidget *area =
    g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION,
                  "valign", GTK_ALIGN_CENTER, "can-target", FALSE, NULL);

  app_drawing_set (area, drawing, side);
  return area;
}
