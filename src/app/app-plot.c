/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-plot.c — see app-plot.h. Drawn as shapes and text, so it is crisp at any scale. */
#include "app/app-plot.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-cup-draw.h"

#define HEIGHT 168
#define FLAT_HEIGHT 54
#define LEFT 36  /* numbers of the y axis */
#define RIGHT 12
#define TOP 15
#define FOOT 24  /* labels of the x axis */
#define BAND_WIDTH 14
#define RADIUS 4

struct _AppPlot
{
  AppDrawn parent_instance;

  AppPlotData *data; /* owned */
  double top;        /* of y */
};

G_DEFINE_FINAL_TYPE (AppPlot, app_plot, APP_TYPE_DRAWN)

/* ---- data ---- */

static void
tick_free (gpointer data)
{
  AppPlotTick *tick = data;

  g_free (tick->label);
  g_free (tick);
}

AppPlotData *
app_plot_data_new (double from, double to, gboolean flat, const char *unit)
{
  AppPlotData *self = g_new0 (AppPlotData, 1);

  self->from = from;
  self->to = MAX (to, from + 1e-6);
  self->flat = flat;
  self->unit = unit;
  self->bands = g_array_new (FALSE, FALSE, sizeof (AppPlotBand));
  self->points = g_array_new (FALSE, FALSE, sizeof (AppPlotPoint));
  self->ticks = g_ptr_array_new_with_free_func (tick_free);
  return self;
}

void
app_plot_data_free (AppPlotData *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->bands);
  g_array_unref (self->points);
  g_ptr_array_unref (self->ticks);
  g_free (self);
}

void
app_plot_data_band (AppPlotData *self, double x, double lo, double mid, double hi)
{
  AppPlotBand band = { x, lo, mid, hi };

  g_array_append_val (self->bands, band);
}

void
app_plot_data_point (AppPlotData *self, AppPlotShape shape, double x, double lo, double y, double hi)
{
  AppPlotPoint point = { .x = x, .lo = lo, .y = y, .hi = hi, .shape = shape };

  g_array_append_val (self->points, point);
}

void
app_plot_data_meal (AppPlotData *self, double x, AppMealDot meal)
{
  AppPlotPoint point = { .x = x, .shape = APP_PLOT_MEAL, .meal = meal };

  g_array_append_val (self->points, point);
}

void
app_plot_data_tick (AppPlotData *self, double x, const char *label, gboolean line)
{
  AppPlotTick *tick = g_new (AppPlotTick, 1);

  *tick = (AppPlotTick){ x, g_strdup (label), line };
  g_ptr_array_add (self->ticks, tick);
}

static double
highest (const AppPlotData *data)
{
  double top = 0;

  for (guint i = 0; i < data->bands->len; i++)
    top = MAX (top, g_array_index (data->bands, AppPlotBand, i).hi);
  for (guint i = 0; i < data->points->len; i++)
    top = MAX (top, g_array_index (data->points, AppPlotPoint, i).hi);
  return isfinite (top) ? top : 0;
}

double
app_plot_step (double top)
{
  double power = pow (10, floor (log10 (MAX (top, 1e-9) / 3)));
  double rest = top / 3 / power;

  return power * (rest >= 5 ? 5 : rest >= 2 ? 2 : 1);
}

/* ---- drawing ---- */

static double
to_x (AppPlot *self, double x)
{
  double left = self->data->flat ? RADIUS + 2 : LEFT + BAND_WIDTH;
  double right = gtk_widget_get_width (GTK_WIDGET (self)) - RIGHT - (self->data->flat ? 0 : BAND_WIDTH / 2);

  return left + (right - left) * (x - self->data->from) / (self->data->to - self->data->from);
}

static double
base_of (AppPlot *self)
{
  return gtk_widget_get_height (GTK_WIDGET (self)) - FOOT;
}

static double
to_y (AppPlot *self, double y)
{
  return base_of (self) - (base_of (self) - TOP) * y / self->top;
}

/* Gives the right edge. */
static double
text (AppPlot *self, GtkSnapshot *snapshot, const GdkRGBA *colour, const char *words, double x, double y, double align)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), words);
  PangoAttrList *attrs = pango_attr_list_new ();
  int width, height;

  pango_attr_list_insert (attrs, pango_attr_scale_new (.87));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  pango_layout_get_pixel_size (layout, &width, &height);
  x = CLAMP (x - align * width, 0, MAX (0, gtk_widget_get_width (GTK_WIDGET (self)) - width));
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) x, (float) (y - height / 2.)));
  gtk_snapshot_append_layout (snapshot, layout, colour);
  gtk_snapshot_restore (snapshot);
  return x + width;
}

static void
draw_grid (AppPlot *self, cairo_t *cr, const AppInk *ink)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self)), step = app_plot_step (self->top);

  GdkRGBA faint = ink->line;

  faint.alpha = .45f; /* behind what was measured */
  gdk_cairo_set_source_rgba (cr, &faint);
  cairo_set_line_width (cr, 1);
  for (double y = 0; y <= self->top + step / 100 && !self->data->flat; y += step)
    {
      cairo_move_to (cr, LEFT, floor (to_y (self, y)) + .5);
      cairo_line_to (cr, width - RIGHT, floor (to_y (self, y)) + .5);
      cairo_stroke (cr);
    }
  for (guint i = 0; i < self->data->ticks->len; i++)
    {
      const AppPlotTick *tick = self->data->ticks->pdata[i];
      double x = floor (to_x (self, tick->x)) + .5;

      if (!tick->line)
        continue;
      gdk_cairo_set_source_rgba (cr, &ink->accent);
      cairo_move_to (cr, x, self->data->flat ? 3 : TOP);
      cairo_line_to (cr, x, base_of (self));
      cairo_stroke (cr);
    }
}

static void
draw_band (AppPlot *self, cairo_t *cr, const AppInk *ink, const AppPlotBand *band)
{
  double x = to_x (self, band->x), hi = to_y (self, band->hi), lo = to_y (self, band->lo);
  GdkRGBA soft = ink->accent;

  soft.alpha = .25f;
  gdk_cairo_set_source_rgba (cr, &soft);
  cairo_rectangle (cr, x - BAND_WIDTH / 2., hi, BAND_WIDTH, lo - hi);
  cairo_fill (cr);
  gdk_cairo_set_source_rgba (cr, &ink->accent);
  cairo_rectangle (cr, x - BAND_WIDTH / 2., to_y (self, band->mid) - 1, BAND_WIDTH, 2);
  cairo_fill (cr);
}

static void
draw_point (AppPlot *self, cairo_t *cr, const AppInk *ink, const AppPlotPoint *point)
{
  double x = to_x (self, point->x), y = self->data->flat ? base_of (self) - 9 : to_y (self, point->y);

  gdk_cairo_set_source_rgba (cr, point->shape == APP_PLOT_OTHER ? &ink->dim : &ink->text);
  if (point->shape == APP_PLOT_MEAL)
    {
      app_draw_dot (cr, x, y, RADIUS, point->meal);
      return;
    }
  cairo_set_line_width (cr, 1.5);
  if (point->shape == APP_PLOT_OTHER)
    {
      cairo_move_to (cr, x - BAND_WIDTH / 2. - 3, y);
      cairo_line_to (cr, x - BAND_WIDTH / 2. + 3, y);
      cairo_stroke (cr);
      return;
    }
  if (point->hi > point->lo)
    {
      cairo_move_to (cr, x, to_y (self, point->lo));
      cairo_line_to (cr, x, to_y (self, point->hi));
      cairo_stroke (cr);
    }
  cairo_arc (cr, x, y, RADIUS, 0, 2 * G_PI);
  if (point->shape == APP_PLOT_OPEN)
    {
      gdk_cairo_set_source_rgba (cr, &ink->paper);
      cairo_fill_preserve (cr);
      gdk_cairo_set_source_rgba (cr, &ink->text);
      cairo_stroke (cr);
    }
  else
    cairo_fill (cr);
}

static void
draw_labels (AppPlot *self, GtkSnapshot *snapshot, const AppInk *ink)
{
  double step = app_plot_step (self->top), next = 0, base = base_of (self);

  for (double y = 0; y <= self->top + step / 100 && !self->data->flat; y += step)
    {
      gboolean last = y + step > self->top + step / 100;
      g_autofree char *words = last ? g_strdup_printf ("%g %s", y, self->data->unit) : g_strdup_printf ("%g", y);

      (void) text (self, snapshot, &ink->dim, words, last ? 0 : LEFT - 6, to_y (self, y) - (last ? 9 : 0), last ? 0 : 1);
    }
  for (guint i = 0; i < self->data->ticks->len; i++)
    {
      const AppPlotTick *tick = self->data->ticks->pdata[i];
      double x = to_x (self, tick->x);

      if (x - 6 * (double) g_utf8_strlen (tick->label, -1) / 2 < next) /* would run into the one before */
        continue;
      next = text (self, snapshot, &ink->dim, tick->label, x, base + FOOT / 2., .5) + 6;
    }
}

static void
app_plot_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppPlot *self = APP_PLOT (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  AppInk ink;
  cairo_t *cr;

  if (width < 60)
    return;
  app_ink_lookup (widget, &ink);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  draw_grid (self, cr, &ink);
  for (guint i = 0; i < self->data->bands->len; i++)
    draw_band (self, cr, &ink, &g_array_index (self->data->bands, AppPlotBand, i));
  for (guint i = 0; i < self->data->points->len; i++)
    draw_point (self, cr, &ink, &g_array_index (self->data->points, AppPlotPoint, i));
  cairo_destroy (cr);
  draw_labels (self, snapshot, &ink);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  int height = APP_PLOT (drawn)->data->flat ? FLAT_HEIGHT : HEIGHT;

  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 120 : height;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 420 : height;
}

static void
app_plot_finalize (GObject *object)
{
  app_plot_data_free (APP_PLOT (object)->data);
  G_OBJECT_CLASS (app_plot_parent_class)->finalize (object);
}

static void
app_plot_class_init (AppPlotClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = app_plot_finalize;
  APP_DRAWN_CLASS (klass)->size = size;
  GTK_WIDGET_CLASS (klass)->snapshot = app_plot_snapshot;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_plot_init (AppPlot *self)
{
}

GtkWidget *
app_plot_new (AppPlotData *data, const char *words)
{
  AppPlot *self = g_object_new (APP_TYPE_PLOT, NULL);

  self->data = data;
  self->top = MAX (highest (data), 1e-6);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  return GTK_WIDGET (self);
}

/* ---- the same as a table ---- */

static void
add_row (GtkWidget *table, GPtrArray *groups, const char *const *cells, gboolean head)
{
  GtkWidget *row = g_object_new (GTK_TYPE_BOX, "accessible-role", GTK_ACCESSIBLE_ROLE_ROW, "spacing", 12, NULL);

  for (guint i = 0; cells[i] != NULL; i++)
    {
      GtkWidget *cell = g_object_new (GTK_TYPE_LABEL, "accessible-role",
                                      head ? GTK_ACCESSIBLE_ROLE_COLUMN_HEADER : GTK_ACCESSIBLE_ROLE_CELL, "label",
                                      cells[i], "xalign", 0., "wrap", head, NULL);

      if (head)
        g_ptr_array_add (groups, gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL));
      gtk_size_group_add_widget (groups->pdata[i], cell);
      gtk_widget_add_css_class (cell, head ? "dim" : "numbers");
      gtk_box_append (GTK_BOX (row), cell);
    }
  gtk_box_append (GTK_BOX (table), row);
}

GtkWidget *
app_plot_table_new (const char *const *heads, GPtrArray *rows)
{
  GtkWidget *table = g_object_new (GTK_TYPE_BOX, "accessible-role", GTK_ACCESSIBLE_ROLE_TABLE, "orientation",
                                   GTK_ORIENTATION_VERTICAL, "spacing", 3, NULL);
  GtkWidget *expander = gtk_expander_new (C_ ("plot", "The numbers"));
  g_autoptr (GPtrArray) groups = g_ptr_array_new_with_free_func (g_object_unref);

  add_row (table, groups, heads, TRUE);
  for (guint i = 0; i < rows->len; i++)
    add_row (table, groups, rows->pdata[i], FALSE);
  gtk_widget_set_margin_start (table, 18);
  gtk_accessible_update_property (GTK_ACCESSIBLE (expander), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("plot", "The numbers"), -1);
  gtk_widget_add_css_class (expander, "caption");
  gtk_expander_set_child (GTK_EXPANDER (expander), table);
  return expander;
}
