/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-range-chart.c — draws from the seven quantiles alone, so that it cannot
 * show more than the forecast knows. The words stand in its accessible label. */
#include "app/app-range-chart.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-cup-draw.h"
#include "app/app-view.h"

#define CHART_HEIGHT 96
#define STEPS 160

struct _AppRangeChart
{
  AppDrawn parent_instance;

  CoreForecast forecast;
  CoreDay today;
  gboolean has;
  /* Owned: words under the axis */
  char *began;
  char *lo;
  char *hi;
};

G_DEFINE_FINAL_TYPE (AppRangeChart, app_range_chart, APP_TYPE_DRAWN)

static const double levels[CORE_N_Q] = { .05, .10, .25, .50, .75, .90, .95 };

/* Cumulative chance by day, linear between the quantiles, with short tails outside. */
static double
chance_by (const CoreForecast *f, double day)
{
  double tail_lo = MAX (.5, f->days[CORE_Q10] - f->days[CORE_Q05]);
  double tail_hi = MAX (.5, f->days[CORE_Q95] - f->days[CORE_Q90]);

  if (day <= f->days[0])
    return MAX (0, .05 * (1 - (f->days[0] - day) / (2 * tail_lo)));
  for (int i = 1; i < CORE_N_Q; i++)
    if (day <= f->days[i])
      {
        double span = f->days[i] - f->days[i - 1];

        return span <= 0 ? levels[i] : levels[i - 1] + (levels[i] - levels[i - 1]) * (day - f->days[i - 1]) / span;
      }
  return MIN (1, .95 + .05 * (day - f->days[CORE_N_Q - 1]) / (2 * tail_hi));
}

/* Density over a window of a sixth of the whole: smooth, and no sharper than seven numbers allow. */
static double
density (const CoreForecast *f, double day, double window)
{
  return (chance_by (f, day + window / 2) - chance_by (f, day - window / 2)) / window;
}

typedef struct
{
  double from, to, x0, x1, base, height;
} Frame;

static double
to_x (const Frame *frame, double day)
{
  return frame->x0 + (frame->x1 - frame->x0) * (day - frame->from) / (frame->to - frame->from);
}

static void
hill (cairo_t *cr, const Frame *frame, const CoreForecast *f, double lo, double hi)
{
  double window = MAX (1, (f->days[CORE_Q95] - f->days[CORE_Q05]) / 4);
  double top = 0;

  for (int i = 0; i <= STEPS; i++)
    top = MAX (top, density (f, frame->from + (frame->to - frame->from) * i / STEPS, window));
  if (top <= 0 || hi <= lo)
    return;
  cairo_new_path (cr);
  cairo_move_to (cr, to_x (frame, lo), frame->base);
  for (int i = 0; i <= STEPS; i++)
    {
      double day = lo + (hi - lo) * i / STEPS;

      cairo_line_to (cr, to_x (frame, day), frame->base - frame->height * density (f, day, window) / top);
    }
  cairo_line_to (cr, to_x (frame, hi), frame->base);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
draw_axis (cairo_t *cr, const AppInk *ink, const Frame *frame)
{
  gdk_cairo_set_source_rgba (cr, &ink->line);
  cairo_rectangle (cr, frame->x0, frame->base, frame->x1 - frame->x0, 1);
  cairo_fill (cr);
  gdk_cairo_set_source_rgba (cr, &ink->accent);
  cairo_rectangle (cr, frame->x0, frame->base - 1, MAX (0, to_x (frame, 0) - frame->x0), 4);
  cairo_fill (cr);
}

static void
label (GtkWidget *widget, GtkSnapshot *snapshot, const AppInk *ink, const char *text, double x, double y, double *free_from)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, text);
  PangoAttrList *attrs = pango_attr_list_new ();
  int width;
  double left;

  pango_attr_list_insert (attrs, pango_attr_scale_new (.87));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  pango_layout_get_pixel_size (layout, &width, NULL);
  left = CLAMP (x - width / 2.0, 0, MAX (0, gtk_widget_get_width (widget) - width));
  if (left < *free_from) /* would run into the label before it */
    return;
  *free_from = left + width + 9;
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) left, (float) y));
  gtk_snapshot_append_layout (snapshot, layout, &ink->dim);
  gtk_snapshot_restore (snapshot);
}

static void
app_range_chart_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppRangeChart *self = APP_RANGE_CHART (widget);
  int width = gtk_widget_get_width (widget);
  const CoreForecast *f = &self->forecast;
  double begin = isnan (f->stage_began_hi) ? 0 : MIN (0, f->stage_began_hi - self->today);
  Frame frame;
  GdkRGBA band;
  AppInk ink;
  cairo_t *cr;
  double next = 0;

  if (!self->has || width < 60)
    return;
  app_ink_lookup (widget, &ink);
  frame = (Frame) { begin, f->days[CORE_Q95] + MAX (1, f->days[CORE_Q95] - f->days[CORE_Q90]), 1, width - 1, 66, 56 };
  if (frame.to <= frame.from)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, CHART_HEIGHT));
  band = ink.accent;
  band.alpha = .22f;
  gdk_cairo_set_source_rgba (cr, &band);
  hill (cr, &frame, f, MAX (frame.from, f->days[0] - 2), frame.to);
  band.alpha = .45f;
  gdk_cairo_set_source_rgba (cr, &band);
  hill (cr, &frame, f, f->days[CORE_Q10], f->days[CORE_Q90]);
  draw_axis (cr, &ink, &frame);
  gdk_cairo_set_source_rgba (cr, &ink.accent);
  cairo_rectangle (cr, to_x (&frame, f->days[CORE_Q50]) - 1, frame.base - frame.height - 3, 2, frame.height + 9);
  cairo_fill (cr);
  cairo_destroy (cr);
  if (self->began != NULL)
    label (widget, snapshot, &ink, self->began, 0, 74, &next);
  label (widget, snapshot, &ink, C_ ("chart", "today"), to_x (&frame, 0), 74, &next);
  label (widget, snapshot, &ink, self->lo, to_x (&frame, f->days[CORE_Q10]), 74, &next);
  label (widget, snapshot, &ink, self->hi, to_x (&frame, f->days[CORE_Q90]), 74, &next);
}

static void
size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 120 : CHART_HEIGHT;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 420 : CHART_HEIGHT;
}

static void
clear (AppRangeChart *self)
{
  g_clear_pointer (&self->began, g_free);
  g_clear_pointer (&self->lo, g_free);
  g_clear_pointer (&self->hi, g_free);
}

static void
app_range_chart_finalize (GObject *object)
{
  clear (APP_RANGE_CHART (object));
  G_OBJECT_CLASS (app_range_chart_parent_class)->finalize (object);
}

static void
app_range_chart_class_init (AppRangeChartClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = app_range_chart_finalize;
  APP_DRAWN_CLASS (klass)->size = size;
  widget_class->snapshot = app_range_chart_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_range_chart_init (AppRangeChart *self)
{
}

GtkWidget *
app_range_chart_new (void)
{
  return g_object_new (APP_TYPE_RANGE_CHART, NULL);
}

void
app_range_chart_set (AppRangeChart *self, Desk *desk, const CoreForecast *forecast)
{
  WordsView view = app_view (desk);
  g_autofree char *words = words_forecast (&view, forecast);

  g_return_if_fail (APP_IS_RANGE_CHART (self));
  clear (self);
  self->has = words_forecast_has_days (forecast);
  self->forecast = *forecast;
  self->today = view.today;
  gtk_widget_set_visible (GTK_WIDGET (self), self->has);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  if (!self->has)
    return;
  if (!isnan (forecast->stage_began_hi))
    {
      g_autofree char *range = words_day_range (&view, (CoreDay) floor (forecast->stage_began_lo) + 1,
                                                (CoreDay) ceil (forecast->stage_began_hi));

      self->began = g_strdup_printf (C_ ("chart", "began %s"), range);
    }
  self->lo = words_day (&view, forecast->p10, WORDS_DAY_SHORT);
  self->hi = words_day (&view, forecast->p90, WORDS_DAY_SHORT);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
