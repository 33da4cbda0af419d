/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-plot.h — a plot that draws itself from numbers, readable without colour, with the same numbers as
 * a table for who does not see it. */
#pragma once

#include "app/app-cup.h"
#include "app/app-drawn.h"

#define APP_TYPE_PLOT (app_plot_get_type ())
G_DECLARE_FINAL_TYPE (AppPlot, app_plot, APP, PLOT, AppDrawn)

typedef enum
{
  APP_PLOT_OWN,   /* a filled dot, a whisker where lo < hi */
  APP_PLOT_OPEN,  /* a ring: not finished yet */
  APP_PLOT_OTHER, /* a short dash: of others */
  APP_PLOT_MEAL   /* a meal dot on the axis; `meal` */
} AppPlotShape;

typedef struct
{
  double x, lo, y, hi;
  AppPlotShape shape;
  AppMealDot meal;
} AppPlotPoint;

typedef struct
{
  double x, lo, mid, hi; /* a bar from lo to hi with its middle */
} AppPlotBand;

typedef struct
{
  double x;
  char *label; /* owned */
  gboolean line; /* a line across the plot, else a label on the axis */
} AppPlotTick;

typedef struct
{
  double from, to;   /* of x */
  gboolean flat;     /* no y axis: all points stand on one line */
  GArray *bands, *points;
  GPtrArray *ticks;  /* AppPlotTick * */
  const char *unit;  /* of y, beside its highest number; static */
} AppPlotData;

AppPlotData *app_plot_data_new (double from, double to, gboolean flat, const char *unit);
void app_plot_data_free (AppPlotData *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AppPlotData, app_plot_data_free)
void app_plot_data_band (AppPlotData *self, double x, double lo, double mid, double hi);
void app_plot_data_point (AppPlotData *self, AppPlotShape shape, double x, double lo, double y, double hi);
void app_plot_data_meal (AppPlotData *self, double x, AppMealDot meal);
void app_plot_data_tick (AppPlotData *self, double x, const char *label, gboolean line);

/* Takes the data; `words` say what is to be seen. */
GtkWidget *app_plot_new (AppPlotData *data, const char *words);
/* Rows of cells (GStrv) below heads, all as long; hidden behind “The numbers” until asked for. */
GtkWidget *app_plot_table_new (const char *const *heads, GPtrArray *rows);

/* Round steps of an axis from 0 to `top`: 1, 2 or 5 times a power of ten, three to six of them. */
double app_plot_step (double top);
