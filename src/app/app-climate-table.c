/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-climate-table.c — see app-climate-table.h. */
#include "app/app-climate-table.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-view.h"

/* A day, with the words of its cells made when it is shown. */
#define APP_TYPE_CLIMATE_DAY (app_climate_day_get_type ())
G_DECLARE_FINAL_TYPE (AppClimateDay, app_climate_day, APP, CLIMATE_DAY, GObject)

struct _AppClimateDay
{
  GObject parent_instance;
  CoreClimateDay day;
  WordsView view;
};

G_DEFINE_FINAL_TYPE (AppClimateDay, app_climate_day, G_TYPE_OBJECT)

static void
app_climate_day_class_init (AppClimateDayClass *klass)
{
}

static void
app_climate_day_init (AppClimateDay *self)
{
}

typedef enum
{
  COLUMN_DAY,
  COLUMN_T_MIN,
  COLUMN_T_MEAN,
  COLUMN_T_MAX,
  COLUMN_RH_MIN,
  COLUMN_RH_MEAN,
  COLUMN_RH_MAX,
  COLUMN_OUT,
  COLUMN_READ,
  N_COLUMNS
} Column;

static char *
value_text (double value, gboolean humidity)
{
  g_autofree char *number = words_number (WORDS_LOCAL, value, humidity ? 0 : 1);

  if (isnan (value))
    return g_strdup ("–");
  return g_strdup_printf (humidity ? "%s %%" : "%s °C", number);
}

static char *
hours_text (double hours)
{
  g_autofree char *number = words_number (WORDS_LOCAL, hours, hours < 10 ? 1 : 0);

  return hours < .05 ? g_strdup ("–") : g_strdup_printf (C_ ("climate", "%s h"), number);
}

static char *
cell_text (const AppClimateDay *self, Column column)
{
  const CoreClimateDay *day = &self->day;
  const double values[N_COLUMNS] = { [COLUMN_T_MIN] = day->t_min,   [COLUMN_T_MEAN] = day->t_mean,
                                     [COLUMN_T_MAX] = day->t_max,   [COLUMN_RH_MIN] = day->rh_min,
                                     [COLUMN_RH_MEAN] = day->rh_mean, [COLUMN_RH_MAX] = day->rh_max };

  switch (column)
    {
    case COLUMN_DAY:
      return words_day (&self->view, day->day, WORDS_DAY_FULL);
    case COLUMN_OUT:
      return hours_text (day->t_above + day->t_below);
    case COLUMN_READ:
      return g_strdup_printf ("%u", (guint) day->n);
    case COLUMN_T_MIN:
    case COLUMN_T_MEAN:
    case COLUMN_T_MAX:
    case COLUMN_RH_MIN:
    case COLUMN_RH_MEAN:
    case COLUMN_RH_MAX:
    case N_COLUMNS:
    default:
      return value_text (values[column], column >= COLUMN_RH_MIN);
    }
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), GPOINTER_TO_INT (data) == COLUMN_DAY ? 0 : 1);
  gtk_widget_add_css_class (label, "numeric");
  gtk_list_item_set_child (item, label);
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  g_autofree char *text = cell_text (gtk_list_item_get_item (item), (Column) GPOINTER_TO_INT (data));

  gtk_label_set_label (GTK_LABEL (gtk_list_item_get_child (item)), text);
}

GtkWidget *
app_climate_table_new (void)
{
  const char *const titles[N_COLUMNS] = {
    C_ ("climate", "Day"),         C_ ("climate", "Lowest"),     C_ ("climate", "On average"),
    C_ ("climate", "Highest"),     C_ ("climate", "Driest"),     C_ ("climate", "Average humidity"),
    C_ ("climate", "Dampest"),     C_ ("climate", "Too warm or cold"), C_ ("climate", "Readings"),
  };
  GtkSelectionModel *model = GTK_SELECTION_MODEL (
    gtk_no_selection_new (G_LIST_MODEL (g_list_store_new (APP_TYPE_CLIMATE_DAY))));
  GtkWidget *table = gtk_column_view_new (model);

  for (int i = 0; i < N_COLUMNS; i++)
    {
      GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
      g_autoptr (GtkColumnViewColumn) column = NULL;

      g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), GINT_TO_POINTER (i));
      g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), GINT_TO_POINTER (i));
      column = gtk_column_view_column_new (titles[i], factory);
      gtk_column_view_column_set_expand (column, i == COLUMN_DAY);
      gtk_column_view_append_column (GTK_COLUMN_VIEW (table), column);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (table), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("climate", "Readings day by day"), -1);
  return table;
}

void
app_climate_table_set (GtkColumnView *table,
                       Desk *desk,
                       DeskClimate *climate,
                       const CoreComfort *band,
                       gint64 from,
                       gint64 to)
{
  GtkNoSelection *selection = GTK_NO_SELECTION (gtk_column_view_get_model (table));
  GListStore *store = G_LIST_STORE (gtk_no_selection_get_model (selection));
  const CoreMoment *v = climate != NULL ? (const CoreMoment *) (const void *) climate->moments->data : NULL;
  gsize n = climate != NULL ? climate->moments->len : 0, end = core_climate_find (v, n, to);
  g_autoptr (GPtrArray) days = g_ptr_array_new_with_free_func (g_object_unref);

  while (end > 0 && v[end - 1].at >= from)
    {
      gsize begin = core_climate_find (v, n, (gint64) CORE_MOMENT_DAY (&v[end - 1]) * CORE_SERIES_DAY);
      AppClimateDay *day = g_object_new (APP_TYPE_CLIMATE_DAY, NULL);

      day->day = core_climate_day (v + begin, end - begin, climate->gap, band);
      day->view = app_view (desk);
      g_ptr_array_add (days, day);
      end = begin;
    }
  g_list_store_splice (store, 0, g_list_model_get_n_items (G_LIST_MODEL (store)), days->pdata, days->len);
}
