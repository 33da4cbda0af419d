/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-climate-chart.c — see app-climate-chart.h. */
#include "app/app-climate-chart.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-cup-draw.h"

#define HEIGHT 156
#define LEFT 54.0
#define RIGHT 6.0
#define TOP 9.0
#define BOTTOM 24.0
#define HOUR 3600
#define DAYS_BY_HOUR 14 /* up to so many the band follows day and night */

struct _AppClimateChart
{
  AppDrawn parent_instance;

  DeskClimate *climate; /* owned, NULL = nothing */
  CoreComfort band;
  WordsView view;
  gint64 from, to;
  gboolean humidity;

  /* Of the width that was drawn last */
  CoreClimateBin *bins; /* owned */
  int n_bins;
};

G_DEFINE_FINAL_TYPE (AppClimateChart, app_climate_chart, APP_TYPE_DRAWN)

/* What a frame of drawing needs. */
typedef struct
{
  AppClimateChart *self;
  cairo_t *cr;
  AppInk ink;
  double x0, x1, y0, y1; /* of the plot, y1 at its foot */
  double lo, hi, step;   /* of the scale */
} Plot;

static double
x_of (const Plot *plot, gint64 at)
{
  const AppClimateChart *self = plot->self;

  return plot->x0 + (plot->x1 - plot->x0) * (double) (at - self->from) / (double) (self->to - self->from);
}

static double
y_of (const Plot *plot, double value)
{
  double y = plot->y1 - (plot->y1 - plot->y0) * (value - plot->lo) / (plot->hi - plot->lo);

  return CLAMP (y, plot->y0, plot->y1);
}

static float
low_of (const AppClimateChart *self, const CoreClimateBin *bin)
{
  return self->humidity ? bin->rh_min : bin->t_min;
}

static float
high_of (const AppClimateChart *self, const CoreClimateBin *bin)
{
  return self->humidity ? bin->rh_max : bin->t_max;
}

/* What is wanted at that second of a day; NAN = nothing is said. */
static void
wanted (const AppClimateChart *self, gboolean light, double *lo, double *hi)
{
  const CoreComfort *band = &self->band;

  *lo = self->humidity ? band->rh_lo : light ? band->day_lo : band->night_lo;
  *hi = self->humidity ? band->rh_hi : light ? band->day_hi : band->night_hi;
  if (!(*lo <= *hi))
    *lo = *hi = NAN;
}

/* ---- the scale ---- */

static void
scale (Plot *plot)
{
  const AppClimateChart *self = plot->self;
  double lo = NAN, hi = NAN, a, b;

  for (int light = 0; light < 2; light++)
    {
      wanted (self, light, &a, &b);
      lo = fmin (lo, a);
      hi = fmax (hi, b);
    }
  for (int i = 0; i < self->n_bins; i++)
    {
      lo = fmin (lo, low_of (self, &self->bins[i]));
      hi = fmax (hi, high_of (self, &self->bins[i]));
    }
  if (isnan (lo))
    {
      lo = self->humidity ? 40 : 15;
      hi = self->humidity ? 80 : 30;
    }
  plot->step = hi - lo > 40 ? 20 : hi - lo > 16 ? 10 : hi - lo > 6 ? 5 : 2;
  plot->lo = floor ((lo - .2 * plot->step) / plot->step) * plot->step;
  plot->hi = ceil ((hi + .2 * plot->step) / plot->step) * plot->step;
  if (self->humidity)
    {
      plot->lo = MAX (plot->lo, 0);
      plot->hi = MIN (plot->hi, 100);
    }
}

/* ---- words beside and below ---- */

typedef struct
{
  GtkWidget *widget;
  GtkSnapshot *snapshot;
  const AppInk *ink;
} Writer;

/* `align` 0: begins at x, .5 around it, 1 ends there; gives where it ends. */
static double
write_at (const Writer *writer, const char *text, double x, double y, double align, double not_before)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (writer->widget, text);
  PangoAttrList *attrs = pango_attr_list_new ();
  int width, height;
  double left;

  pango_attr_list_insert (attrs, pango_attr_scale_new (.83));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  pango_layout_get_pixel_size (layout, &width, &height);
  left = CLAMP (x - align * width, 0, MAX (0, gtk_widget_get_width (writer->widget) - width));
  if (left < not_before)
    return not_before;
  gtk_snapshot_save (writer->snapshot);
  gtk_snapshot_translate (writer->snapshot,
                          &GRAPHENE_POINT_INIT ((float) round (left), (float) round (y - height / 2.0)));
  gtk_snapshot_append_layout (writer->snapshot, layout, &writer->ink->dim);
  gtk_snapshot_restore (writer->snapshot);
  return left + width + 12;
}

static void
write_scale (const Plot *plot, const Writer *writer)
{
  for (double value = plot->lo; value <= plot->hi + 1e-6; value += plot->step)
    {
      g_autofree char *number = words_number (WORDS_LOCAL, value, 0);
      g_autofree char *text = g_strdup_printf (plot->self->humidity ? "%s %%" : "%s °C", number);

      write_at (writer, text, plot->x0 - 9, y_of (plot, value), 1, 0);
    }
}

/* Days between two ticks; 0 = hours. */
static int
days_apart (const AppClimateChart *self, double width)
{
  static const int steps[] = { 1, 2, 7, 14, 28, 61, 91, 183, 365 };
  double days = (double) (self->to - self->from) / CORE_SERIES_DAY;

  if (days <= 2)
    return 0;
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    if (width * steps[i] / days >= 72)
      return steps[i];
  return 730;
}

static void
tick (const Plot *plot, gint64 at)
{
  gdk_cairo_set_source_rgba (plot->cr, &plot->ink.line);
  cairo_rectangle (plot->cr, floor (x_of (plot, at)), plot->y1, 1, 4);
  cairo_fill (plot->cr);
}

static void
write_times (const Plot *plot, const Writer *writer)
{
  AppClimateChart *self = plot->self;
  int apart = days_apart (self, plot->x1 - plot->x0);
  gint64 step = apart == 0 ? 6 * HOUR : (gint64) apart * CORE_SERIES_DAY;
  double next = 0;

  for (gint64 at = (self->from + step - 1) / step * step; at <= self->to; at += step)
    {
      int hour = (int) (at % CORE_SERIES_DAY / HOUR);
      g_autofree char *day = words_day (&self->view, (CoreDay) (at / CORE_SERIES_DAY), WORDS_DAY_SHORT);
      g_autofree char *clock = g_strdup_printf ("%02d:00", hour);

      tick (plot, at);
      next = write_at (writer, apart == 0 && hour != 0 ? clock : day, x_of (plot, at), plot->y1 + 14, .5, next);
    }
}

/* ---- drawing ---- */

static void
draw_grid (const Plot *plot)
{
  GdkRGBA faint = plot->ink.line;

  faint.alpha = .45f; /* behind what was measured */
  gdk_cairo_set_source_rgba (plot->cr, &faint);
  for (double value = plot->lo; value <= plot->hi + 1e-6; value += plot->step)
    cairo_rectangle (plot->cr, plot->x0, floor (y_of (plot, value)), plot->x1 - plot->x0, 1);
  cairo_fill (plot->cr);
}

static void
draw_strip (const Plot *plot, gint64 from, gint64 to, gboolean light, float alpha)
{
  GdkRGBA color = plot->ink.accent;
  double lo, hi, x0 = fmax (plot->x0, x_of (plot, from)), x1 = fmin (plot->x1, x_of (plot, to));

  wanted (plot->self, light, &lo, &hi);
  if (isnan (lo) || x1 <= x0)
    return;
  color.alpha = alpha;
  gdk_cairo_set_source_rgba (plot->cr, &color);
  cairo_rectangle (plot->cr, x0, y_of (plot, hi), x1 - x0, fmax (1, y_of (plot, lo) - y_of (plot, hi)));
  cairo_fill (plot->cr);
  /* Its edges, so that it is seen where the fill is not. */
  color.alpha = .6f;
  gdk_cairo_set_source_rgba (plot->cr, &color);
  cairo_rectangle (plot->cr, x0, floor (y_of (plot, hi)), x1 - x0, 1);
  cairo_rectangle (plot->cr, x0, floor (y_of (plot, lo)), x1 - x0, 1);
  cairo_fill (plot->cr);
}

/* By day and by night where there is room for it; else day and night over each other. */
static void
draw_band (const Plot *plot)
{
  AppClimateChart *self = plot->self;
  gint64 light = (gint64) (self->band.light_h * HOUR), dawn = 7 * HOUR;
  CoreDay first = (CoreDay) (self->from / CORE_SERIES_DAY) - 1, last = (CoreDay) (self->to / CORE_SERIES_DAY);

  if (self->humidity || last - first > DAYS_BY_HOUR + 2)
    {
      draw_strip (plot, self->from, self->to, TRUE, .16f);
      if (!self->humidity)
        draw_strip (plot, self->from, self->to, FALSE, .09f);
      return;
    }
  for (CoreDay day = first; day <= last; day++)
    {
      gint64 begin = (gint64) day * CORE_SERIES_DAY + dawn;

      draw_strip (plot, begin, begin + light, TRUE, .16f);
      draw_strip (plot, begin + light, begin + CORE_SERIES_DAY, FALSE, .09f);
    }
}

static gboolean
bin_is_out (const AppClimateChart *self, const CoreClimateBin *bin)
{
  double lo, hi;
  gboolean by_hour = self->to - self->from <= (gint64) DAYS_BY_HOUR * CORE_SERIES_DAY;
  gboolean light = !by_hour || core_comfort_is_day (&self->band, (int32_t) (bin->first % CORE_SERIES_DAY));

  wanted (self, light, &lo, &hi);
  if (!by_hour && !self->humidity)
    lo = fmin (lo, self->band.night_lo);
  return high_of (self, bin) > hi || low_of (self, bin) < lo;
}

/* The line, broken where nothing was read; `out`: only where it is out of what is wanted. */
static void
draw_line (const Plot *plot, gboolean out)
{
  AppClimateChart *self = plot->self;
  const CoreClimateBin *before = NULL;

  cairo_new_path (plot->cr);
  for (int i = 0; i < self->n_bins; i++)
    {
      const CoreClimateBin *bin = &self->bins[i];
      double x = plot->x0 + (i + .5) * (plot->x1 - plot->x0) / self->n_bins;
      gboolean joined;

      if (bin->n == 0 || isnan (low_of (self, bin)) || (out && !bin_is_out (self, bin)))
        {
          before = out && bin->n > 0 ? NULL : before;
          continue;
        }
      joined = before != NULL && bin->first - before->last <= self->climate->gap;
      if (joined)
        cairo_line_to (plot->cr, x, y_of (plot, low_of (self, bin)));
      else
        cairo_move_to (plot->cr, x, y_of (plot, low_of (self, bin)));
      cairo_line_to (plot->cr, x, y_of (plot, high_of (self, bin)));
      before = bin;
    }
  gdk_cairo_set_source_rgba (plot->cr, out ? &plot->ink.due : &plot->ink.text);
  cairo_set_line_width (plot->cr, out ? 3 : 1.5);
  cairo_set_line_cap (plot->cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (plot->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (plot->cr);
}

/* Nothing beside it that it could be joined to. */
static gboolean
is_alone (const AppClimateChart *self, int i)
{
  const CoreClimateBin *bin = &self->bins[i];
  int before = i - 1, after = i + 1;

  while (before >= 0 && self->bins[before].n == 0)
    before--;
  while (after < self->n_bins && self->bins[after].n == 0)
    after++;
  return bin->n > 0 && !isnan (low_of (self, bin))
         && (before < 0 || bin->first - self->bins[before].last > self->climate->gap)
         && (after >= self->n_bins || self->bins[after].first - bin->last > self->climate->gap);
}

static void
draw_dots (const Plot *plot)
{
  AppClimateChart *self = plot->self;

  for (int i = 0; i < self->n_bins; i++)
    if (is_alone (self, i))
      {
        const CoreClimateBin *bin = &self->bins[i];
        gboolean out = bin_is_out (self, bin);

        gdk_cairo_set_source_rgba (plot->cr, out ? &plot->ink.due : &plot->ink.text);
        cairo_arc (plot->cr, plot->x0 + (i + .5) * (plot->x1 - plot->x0) / self->n_bins,
                   y_of (plot, high_of (self, bin)), out ? 4 : 3, 0, 2 * G_PI);
        cairo_fill (plot->cr);
      }
}

static void
make_bins (AppClimateChart *self, int n)
{
  const GArray *all = self->climate->moments;

  if (self->n_bins == n)
    return;
  g_free (self->bins);
  self->bins = g_new (CoreClimateBin, n);
  self->n_bins = n;
  core_climate_bins ((const CoreMoment *) (const void *) all->data, all->len, self->from, self->to, self->bins,
                     (gsize) n);
}

static void
app_climate_chart_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppClimateChart *self = APP_CLIMATE_CHART (widget);
  int width = gtk_widget_get_width (widget);
  Plot plot = { .self = self, .x0 = LEFT, .x1 = width - RIGHT, .y0 = TOP, .y1 = HEIGHT - BOTTOM };
  Writer writer = { widget, snapshot, &plot.ink };

  if (self->climate == NULL || width < 120 || self->to <= self->from)
    return;
  app_ink_lookup (widget, &plot.ink);
  make_bins (self, (int) (plot.x1 - plot.x0));
  scale (&plot);
  plot.cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, HEIGHT));
  draw_grid (&plot);
  draw_band (&plot);
  draw_line (&plot, FALSE);
  draw_line (&plot, TRUE);
  draw_dots (&plot);
  write_scale (&plot, &writer);
  write_times (&plot, &writer);
  cairo_destroy (plot.cr);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 240 : HEIGHT;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 640 : HEIGHT;
}

static void
clear (AppClimateChart *self)
{
  g_clear_pointer (&self->climate, desk_climate_unref);
  g_clear_pointer (&self->bins, g_free);
  self->n_bins = 0;
}

static void
finalize (GObject *object)
{
  clear (APP_CLIMATE_CHART (object));
  G_OBJECT_CLASS (app_climate_chart_parent_class)->finalize (object);
}

static void
app_climate_chart_class_init (AppClimateChartClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = finalize;
  APP_DRAWN_CLASS (klass)->size = size;
  widget_class->snapshot = app_climate_chart_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_climate_chart_init (AppClimateChart *self)
{
}

GtkWidget *
app_climate_chart_new (void)
{
  return g_object_new (APP_TYPE_CLIMATE_CHART, NULL);
}

void
app_climate_chart_set (AppClimateChart *self,
                       DeskClimate *climate,
                       const CoreComfort *band,
                       gboolean humidity,
                       gint64 from,
                       gint64 to,
                       const WordsView *view,
                       const char *words)
{
  g_return_if_fail (APP_IS_CLIMATE_CHART (self));

  clear (self);
  self->climate = climate != NULL ? desk_climate_ref (climate) : NULL;
  self->band = *band;
  self->view = *view;
  self->humidity = humidity;
  self->from = from;
  self->to = to;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
