/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-marks-draw.c — lines, bands of doubt, handles, numbers, the loupe. Over a photo
 * every stroke has a dark one under it, so that it is seen on light and dark skin. */
#include "app/app-marks-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define LOUPE_RADIUS 96.0
#define LOUPE_ZOOM 3.0
#define LINE_OUT 6.0
#define HANDLE 7.0

typedef struct
{
  GdkRGBA line, axis, dark, label;
} MarkInk;

static void
lookup (GtkWidget *widget, const char *name, const char *fallback, GdkRGBA *out)
{
  if (!gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), name, out))
    gdk_rgba_parse (out, fallback);
}

static void
ink_of (GtkWidget *widget, MarkInk *ink)
{
  lookup (widget, "mark_line", "#a9e8d0", &ink->line);
  lookup (widget, "mark_axis", "#f0a850", &ink->axis);
  lookup (widget, "canvas_ground", "#2a2d28", &ink->dark);
  lookup (widget, "canvas_ink", "#f2f1ea", &ink->label);
}

static void
source (cairo_t *cr, const GdkRGBA *color, double alpha)
{
  cairo_set_source_rgba (cr, color->red, color->green, color->blue, color->alpha * alpha);
}

/* The path as a light stroke on a dark one. */
static void
stroke_seen (cairo_t *cr, const GdkRGBA *color, const MarkInk *ink, double width)
{
  source (cr, &ink->dark, .75);
  cairo_set_line_width (cr, width + 2.5);
  cairo_stroke_preserve (cr);
  source (cr, color, 1);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

static void
text_at (GtkWidget *widget,
         cairo_t *cr,
         const MarkInk *ink,
         const GdkRGBA *color,
         const char *text,
         double x,
         double y)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, text);
  PangoAttrList *attrs = pango_attr_list_new ();
  int width, height;

  pango_attr_list_insert (attrs, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_move_to (cr, round (x - width / 2.0), round (y - height / 2.0));
  pango_cairo_layout_path (cr, layout);
  source (cr, &ink->dark, .85);
  cairo_set_line_width (cr, 3);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke_preserve (cr);
  source (cr, color, 1);
  cairo_fill (cr);
}

/* ---- marks ---- */

static void
draw_point (AppMarks *self, cairo_t *cr, const MarkInk *ink, BenchMark mark, gboolean chosen)
{
  double x, y, half = chosen ? 12 : 9;
  CorePoint at;

  if (!_app_marks_point (self, mark, &at))
    return;
  app_canvas_to_widget (self->canvas, at.x, at.y, &x, &y);
  cairo_new_path (cr);
  cairo_move_to (cr, x, y - half);
  cairo_line_to (cr, x + half, y);
  cairo_line_to (cr, x, y + half);
  cairo_line_to (cr, x - half, y);
  cairo_close_path (cr);
  stroke_seen (cr, &ink->axis, ink, chosen ? 3 : 2);
  cairo_arc (cr, x, y, 1.5, 0, 2 * G_PI);
  source (cr, &ink->axis, 1);
  cairo_fill (cr);
}

static void
label_point (AppMarks *self, cairo_t *cr, const MarkInk *ink, BenchMark mark)
{
  double x, y;
  CorePoint at;

  if (!_app_marks_point (self, mark, &at))
    return;
  app_canvas_to_widget (self->canvas, at.x, at.y, &x, &y);
  text_at (GTK_WIDGET (self), cr, ink, &ink->axis, app_mark_name (mark), x + 14, y - 22);
}

static void
draw_polyline (AppMarks *self, cairo_t *cr, const MarkInk *ink, const CorePoint *p, int n)
{
  static const double dashes[] = { 2, 5 };

  cairo_new_path (cr);
  for (int i = 0; i < n; i++)
    {
      double x, y;

      app_canvas_to_widget (self->canvas, p[i].x, p[i].y, &x, &y);
      cairo_line_to (cr, x, y);
    }
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0);
  stroke_seen (cr, &ink->label, ink, 1);
  cairo_set_dash (cr, NULL, 0, 0);
}

static void
draw_axis (AppMarks *self, cairo_t *cr, const MarkInk *ink)
{
  AppAxis axis;
  CorePoint wing[2];

  if (_app_marks_shows_point (self, BENCH_MARK_BASE))
    {
      _app_marks_axis (self, &axis);
      draw_polyline (self, cr, ink, axis.p, axis.n);
    }
  if (_app_marks_shows_point (self, BENCH_MARK_WING_BASE) &&
      _app_marks_point (self, BENCH_MARK_WING_BASE, &wing[0]) &&
      _app_marks_point (self, BENCH_MARK_WING_TIP, &wing[1]))
    draw_polyline (self, cr, ink, wing, 2);
}

/* ---- boundaries ---- */

typedef struct
{
  double lx, ly, rx, ry; /* ends, widget pixels, a little beyond the outline */
  double mx, my;         /* on the axis */
  double ux, uy;         /* along the axis, per share */
} Line;

static void
line_of (AppMarks *self, const AppAxis *axis, const BenchBoundary *boundary, Line *line)
{
  CorePoint along = _app_axis_direction (axis, boundary->at);
  double length;

  app_canvas_to_widget (self->canvas, boundary->left.x, boundary->left.y, &line->lx, &line->ly);
  app_canvas_to_widget (self->canvas, boundary->right.x, boundary->right.y, &line->rx, &line->ry);
  app_canvas_to_widget (self->canvas, boundary->mid.x, boundary->mid.y, &line->mx, &line->my);
  length = hypot (line->rx - line->lx, line->ry - line->ly);
  if (length > 0)
    {
      double ex = (line->rx - line->lx) / length * LINE_OUT;
      double ey = (line->ry - line->ly) / length * LINE_OUT;

      line->lx -= ex;
      line->ly -= ey;
      line->rx += ex;
      line->ry += ey;
    }
  line->ux = along.x * axis->length * app_canvas_zoom (self->canvas);
  line->uy = along.y * axis->length * app_canvas_zoom (self->canvas);
}

/* An arc from the one end over the axis to the other, or back, moved along the axis by a share of it. The
 * current point is its beginning. */
static void
seam (cairo_t *cr, const Line *line, double by, gboolean back)
{
  double dx = by * line->ux, dy = by * line->uy;
  double cx = (8 * line->mx - line->lx - line->rx) / 6, cy = (8 * line->my - line->ly - line->ry) / 6;
  double ex = (line->rx - line->lx) / 6, ey = (line->ry - line->ly) / 6;

  if (back)
    cairo_curve_to (cr, cx + ex + dx, cy + ey + dy, cx - ex + dx, cy - ey + dy, line->lx + dx, line->ly + dy);
  else
    cairo_curve_to (cr, cx - ex + dx, cy - ey + dy, cx + ex + dx, cy + ey + dy, line->rx + dx, line->ry + dy);
}

static void
draw_band (cairo_t *cr, const MarkInk *ink, const Line *line, double sd)
{
  if (!(sd > 0))
    return;
  cairo_move_to (cr, line->lx - sd * line->ux, line->ly - sd * line->uy);
  seam (cr, line, -sd, FALSE);
  cairo_line_to (cr, line->rx + sd * line->ux, line->ry + sd * line->uy);
  seam (cr, line, sd, TRUE);
  cairo_close_path (cr);
  source (cr, &ink->line, .38);
  cairo_fill (cr);
}

static void
draw_boundary (AppMarks *self,
               cairo_t *cr,
               const MarkInk *ink,
               const AppAxis *axis,
               const BenchBoundary *boundary,
               gboolean chosen)
{
  double hx, hy;
  Line line;

  line_of (self, axis, boundary, &line);
  draw_band (cr, ink, &line, boundary->sd);
  cairo_new_path (cr);
  cairo_move_to (cr, line.lx, line.ly);
  seam (cr, &line, 0, FALSE);
  stroke_seen (cr, &ink->line, ink, chosen ? 3 : 1.75);
  _app_marks_handle (self, boundary, &hx, &hy);
  cairo_new_sub_path (cr);
  cairo_arc (cr, hx, hy, chosen ? HANDLE + 2 : HANDLE, 0, 2 * G_PI);
  source (cr, chosen ? &ink->line : &ink->dark, .9);
  cairo_fill_preserve (cr);
  stroke_seen (cr, chosen ? &ink->label : &ink->line, ink, 2);
}

/* The number of a plate, left of the middle of the plate. */
static void
draw_number (AppMarks *self,
             cairo_t *cr,
             const MarkInk *ink,
             const BenchBoundary *above,
             const BenchBoundary *below,
             const AppAxis *axis,
             int number)
{
  char text[8];
  double x1, y1, x2, y2, mx, my, out;
  CorePoint left1 = above != NULL ? above->left : (CorePoint){ NAN, NAN };
  CorePoint left2 = below != NULL ? below->left : (CorePoint){ NAN, NAN };
  CorePoint end1 = axis->p[0], end2 = axis->p[axis->n - 1];

  /* At the ends the outline narrows: half the way from the end to the line's left. */
  if (above == NULL)
    left1 = (CorePoint){ left2.x + end1.x - below->mid.x, left2.y + end1.y - below->mid.y };
  if (below == NULL)
    left2 = (CorePoint){ left1.x + end2.x - above->mid.x, left1.y + end2.y - above->mid.y };
  app_canvas_to_widget (self->canvas, left1.x, left1.y, &x1, &y1);
  app_canvas_to_widget (self->canvas, left2.x, left2.y, &x2, &y2);
  app_canvas_to_widget (self->canvas, (above != NULL ? above->mid.x : end1.x),
                        (above != NULL ? above->mid.y : end1.y), &mx, &my);
  out = hypot (x1 - mx, y1 - my);
  if (out > 0)
    {
      double ox = (x1 - mx) / out * 22, oy = (y1 - my) / out * 22;

      g_snprintf (text, sizeof text, "%d", number);
      text_at (GTK_WIDGET (self), cr, ink, &ink->label, text, (x1 + x2) / 2 + ox,
               (y1 + y2) / 2 + oy);
    }
}

static void
draw_boundaries (AppMarks *self, cairo_t *cr, const MarkInk *ink)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = _app_marks_boundaries (self, bounds);
  AppAxis axis;

  _app_marks_axis (self, &axis);
  if (axis.n == 0 || n == 0)
    return;
  for (gsize i = 0; i < n; i++)
    draw_boundary (self, cr, ink, &axis, &bounds[i],
                   self->chosen.kind == APP_MARK_BOUNDARY && self->chosen.index == (int) i);
  for (gsize i = 0; i <= n; i++)
    draw_number (self, cr, ink, i > 0 ? &bounds[i - 1] : NULL, i < n ? &bounds[i] : NULL, &axis,
                 (int) i + 1);
}

/* ---- the loupe ---- */

static gboolean
chosen_point (AppMarks *self, CorePoint *at)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];

  if (self->chosen.kind == APP_MARK_POINT)
    return _app_marks_point (self, (BenchMark) self->chosen.index, at);
  if (self->chosen.kind != APP_MARK_BOUNDARY ||
      self->chosen.index >= (int) _app_marks_boundaries (self, bounds))
    return FALSE;
  *at = bounds[self->chosen.index].mid;
  return TRUE;
}

/* In the corner that is farthest from the mark, so that it never hides it. */
static void
draw_loupe (AppMarks *self, cairo_t *cr, const MarkInk *ink)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));
  double zoom = CLAMP (app_canvas_zoom (self->canvas) * LOUPE_ZOOM, .5, 48);
  double radius = MIN (LOUPE_RADIUS, MIN (width, height) / 3);
  double x, y, cx, cy;
  CorePoint at;

  if (!chosen_point (self, &at))
    return;
  app_canvas_to_widget (self->canvas, at.x, at.y, &x, &y);
  cx = x < width / 2 ? width - radius - 24 : radius + 24;
  cy = y < height / 2 ? height - radius - 24 : radius + 24;
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, cx, cy, radius, 0, 2 * G_PI);
  source (cr, &ink->dark, 1);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  cairo_translate (cr, cx, cy);
  app_canvas_draw_at (self->canvas, cr, at.x, at.y, zoom);
  cairo_new_path (cr);
  cairo_move_to (cr, -14, 0);
  cairo_line_to (cr, 14, 0);
  cairo_move_to (cr, 0, -14);
  cairo_line_to (cr, 0, 14);
  stroke_seen (cr, self->chosen.kind == APP_MARK_POINT ? &ink->axis : &ink->line, ink, 1.5);
  cairo_restore (cr);
  cairo_new_path (cr);
  cairo_arc (cr, cx, cy, radius, 0, 2 * G_PI);
  stroke_seen (cr, &ink->label, ink, 2);
}

/* ---- all ---- */

static void
draw_points (AppMarks *self, cairo_t *cr, const MarkInk *ink)
{
  BenchStep step = bench_model_step (self->model);
  gboolean named =
    step == BENCH_STEP_AXIS || step == BENCH_STEP_BOUNDARIES || step == BENCH_STEP_WINGS;

  for (int i = 0; i < BENCH_N_MARKS; i++)
    if (_app_marks_shows_point (self, (BenchMark) i))
      draw_point (self, cr, ink, (BenchMark) i,
                  self->chosen.kind == APP_MARK_POINT && self->chosen.index == i);
  for (int i = 0; named && i < BENCH_N_MARKS; i++)
    if (_app_marks_shows_point (self, (BenchMark) i) && !bench_mark_is_bend ((BenchMark) i))
      label_point (self, cr, ink, (BenchMark) i);
}

void
_app_marks_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppMarks *self = APP_MARKS (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  MarkInk ink;
  cairo_t *cr;

  if (self->model == NULL || width <= 0 || height <= 0)
    return;
  ink_of (widget, &ink);
  cr =
    gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  draw_axis (self, cr, &ink);
  if (_app_marks_shows_boundaries (self))
    draw_boundaries (self, cr, &ink);
  draw_points (self, cr, &ink);
  if (self->loupe)
    draw_loupe (self, cr, &ink);
  if (gtk_widget_has_visible_focus (widget))
    {
      cairo_rectangle (cr, 1.5, 1.5, width - 3, height - 3);
      source (cr, &ink.line, .8);
      cairo_set_line_width (cr, 2);
      cairo_stroke (cr);
    }
  cairo_destroy (cr);
}
