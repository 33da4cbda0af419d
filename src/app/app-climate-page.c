/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-climate-page.c — see app-climate-page.h. */
#include "app/app-climate-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-caution.h"
#include "app/app-climate-chart.h"
#include "app/app-climate-table.h"
#include "app/app-dialogs.h"
#include "app/app-drop-down.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-wrap.h"
#include "desk/desk-climate.h"
#include "words/words-readings.h"
#include "words/words-tr.h"

typedef enum
{
  RANGE_DAY,
  RANGE_WEEK,
  RANGE_MONTH,
  RANGE_ALL,
  N_RANGES
} Range;

static const int range_days[N_RANGES] = { 1, 7, 30, 0 };

struct _AppClimatePage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkLabel *sentence;
  GtkDropDown *place;
  GtkDropDown *kind;
  GtkWidget *ranges;
  GtkToggleButton *day, *week, *month, *all;
  GtkWidget *charts;
  GtkWidget *empty;
  GtkLabel *empty_words;
  GtkBox *warnings;
  GtkLabel *band_words;
  GtkBox *t_box, *rh_box;
  GtkLabel *night;
  GtkExpander *table_box;
  GtkLabel *caution;
  AppWrap *acts;

  /* Owned */
  GArray *places; /* CoreId, one per row of `place` */
  DeskClimate *climate; /* NULL = not there yet */

  GtkWidget *t_chart, *rh_chart, *table; /* borrowed */
  GtkWidget *reading, *logger, *power;   /* borrowed */
  CoreId shown;
  gboolean inside;
  Range range;
  guint turn; /* answers of an earlier one are of another place */
  gboolean filling;
  gboolean stale; /* nobody looks: it is filled when it is shown */
};

G_DEFINE_FINAL_TYPE (AppClimatePage, app_climate_page, APP_TYPE_DESK_PAGE)

/* ---- what is shown ---- */

/* The last `n` days that have readings to show: up to the end of the day of the last one. */
static void
span (const AppClimatePage *self, gint64 *from, gint64 *to)
{
  const GArray *all = self->climate->moments;
  gint64 first = g_array_index (all, CoreMoment, 0).at, last = g_array_index (all, CoreMoment, all->len - 1).at;

  *to = (last / CORE_SERIES_DAY + 1) * CORE_SERIES_DAY;
  *from = range_days[self->range] > 0 ? *to - (gint64) range_days[self->range] * CORE_SERIES_DAY
                                      : first / CORE_SERIES_DAY * CORE_SERIES_DAY;
}

static char *
chart_words (const AppClimatePage *self, gboolean humidity, gint64 from, gint64 to)
{
  const GArray *all = self->climate->moments;
  const CoreMoment *v = (const CoreMoment *) (const void *) all->data;
  gsize begin = core_climate_find (v, all->len, from), end = core_climate_find (v, all->len, to);
  CoreClimateDay sum = core_climate_day (v + begin, end - begin, self->climate->gap, NULL);
  g_autofree char *lo = words_number (WORDS_LOCAL, humidity ? sum.rh_min : sum.t_min, humidity ? 0 : 1);
  g_autofree char *mean = words_number (WORDS_LOCAL, humidity ? sum.rh_mean : sum.t_mean, humidity ? 0 : 1);
  g_autofree char *hi = words_number (WORDS_LOCAL, humidity ? sum.rh_max : sum.t_max, humidity ? 0 : 1);

  if (isnan (humidity ? sum.rh_min : sum.t_min))
    return NULL;
  if (humidity)
    return g_strdup_printf (C_ ("climate", "Humidity: %1$s to %3$s %%, on average %2$s %%"), lo, mean, hi);
  return g_strdup_printf (C_ ("climate", "Temperature: %1$s to %3$s °C, on average %2$s °C"), lo, mean, hi);
}

static void
fill_chart (AppClimatePage *self, GtkWidget *chart, const DeskBand *band, gboolean humidity, gint64 from, gint64 to)
{
  WordsView view = app_view (app_desk_page_desk (self));
  g_autofree char *words = chart_words (self, humidity, from, to);
  GtkWidget *box = GTK_WIDGET (humidity ? self->rh_box : self->t_box);

  gtk_widget_set_visible (box, words != NULL);
  if (words == NULL)
    return;
  gtk_label_set_label (GTK_LABEL (gtk_widget_get_first_child (box)), words);
  app_climate_chart_set (APP_CLIMATE_CHART (chart), self->climate, &band->band, humidity, from, to, &view, words);
}

static char *
range_text (double lo, double hi)
{
  g_autofree char *from = words_number (WORDS_LOCAL, lo, 1);
  g_autofree char *to = words_number (WORDS_LOCAL, hi, 1);

  return g_str_equal (from, to) ? g_steal_pointer (&from) : g_strdup_printf ("%s–%s", from, to);
}

/* What all that live there want, or that they do not agree. */
static char *
band_text (const DeskBand *band)
{
  const CoreComfort *b = &band->band;
  g_autofree char *day = range_text (b->day_lo, b->day_hi);
  g_autofree char *night = range_text (b->night_lo, b->night_hi);
  g_autofree char *rh = range_text (b->rh_lo, b->rh_hi);

  if (band->species->len == 0)
    return g_strdup (C_ ("climate", "Nothing of a known kind lives here: no warmth is asked for."));
  if (!(b->day_lo <= b->day_hi) || !(b->night_lo <= b->night_hi) || !(b->rh_lo <= b->rh_hi))
    return g_strdup (C_ ("climate", "The kinds that live here want different air: where they do not agree no strip is "
                                    "drawn. See the profile of each."));
  return g_strdup_printf (TN_ (WORDS_LOCAL, "climate",
                               "The strip is what its kind is kept at: %1$s °C by day, %2$s °C by night, %3$s %%.",
                               "The strip suits all kinds that live here: %1$s °C by day, %2$s °C by night, %3$s %%.",
                               band->species->len),
                          day, night, rh);
}

static void
fill_night (AppClimatePage *self, const DeskBand *band)
{
  const GArray *all = self->climate->moments;
  WordsView view = app_view (app_desk_page_desk (self));
  g_autofree char *text = NULL;
  CoreNight night;

  if (core_climate_night ((const CoreMoment *) (const void *) all->data, all->len, &band->band, &night))
    text = words_climate_night (&view, &night);
  gtk_label_set_label (self->night, text != NULL ? text : "");
  gtk_widget_set_visible (gtk_widget_get_parent (GTK_WIDGET (self->night)), text != NULL);
}

/* What the plan says of this shelf's air and of its cups after a power cut. The box is shown also while it
 * is empty: the toolkit keeps how a hidden box measures, and its lines would wrap over what is below. */
static void
fill_warnings (AppClimatePage *self)
{
  Desk *desk = app_desk_page_desk (self);
  WordsView view = app_view (desk);
  g_autoptr (DeskPlan) plan = desk_plan (desk, view.today, view.today, self->shown);
  g_autoptr (GHashTable) said = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  app_box_empty (self->warnings);
  for (guint i = 0; plan != NULL && i < plan->tasks->len; i++)
    {
      const CoreTask *task = &g_array_index (plan->tasks, DeskTask, i).task;
      gboolean power = task->n_reasons > 0 && g_str_equal (task->reasons[0].rule, "look.power");
      g_autofree char *text = NULL;

      if (!power && task->kind != CORE_TASK_CLIMATE && task->kind != CORE_TASK_HEAT)
        continue;
      text = app_reasons_text (&view, task->reasons, task->n_reasons);
      if (!g_hash_table_add (said, g_strdup (text))) /* the same of every cup */
        continue;
      app_text (GTK_WIDGET (self->warnings), text, task->emergency ? "trouble" : NULL);
    }
}

/* How many there are of which days, of those that are shown. */
static void
say_all (AppClimatePage *self, gint64 from, gint64 to)
{
  WordsView view = app_view (app_desk_page_desk (self));
  const CoreMoment *v = (const CoreMoment *) (const void *) self->climate->moments->data;
  gsize n = self->climate->moments->len;
  gsize begin = core_climate_find (v, n, from), end = core_climate_find (v, n, to);
  WordsReadings what = { .readings = (guint) (end - begin),
                         .two_values = desk_climate_two_values (v + begin, end - begin),
                         .first = CORE_MOMENT_DAY (&v[begin]),
                         .last = CORE_MOMENT_DAY (&v[end - 1]) };
  g_autofree char *text = words_readings_summary (&view, &what);

  gtk_label_set_label (self->sentence, text);
}

static void
show_empty (AppClimatePage *self)
{
  gboolean has_place = !core_id_is_none (self->shown);

  gtk_label_set_label (self->sentence, C_ ("climate", "Climate"));
  gtk_label_set_label (self->empty_words,
                       has_place ? C_ ("climate", "How warm and how damp was it? Read the file of a logger, or type what a "
                                                  "thermometer shows: forecasts and warnings follow it.")
                                 : C_ ("climate", "Readings belong to a shelf. Add a shelf first."));
  gtk_widget_set_sensitive (self->reading, has_place);
  gtk_widget_set_sensitive (self->logger, has_place);
  gtk_widget_set_sensitive (self->power, has_place);
}

static void
fill (AppClimatePage *self)
{
  Desk *desk = app_desk_page_desk (self);
  gboolean has = self->climate != NULL && self->climate->moments->len > 0;
  g_autofree char *words = NULL;
  DeskBand band;
  gint64 from, to;

  gtk_widget_set_visible (self->charts, has);
  gtk_widget_set_visible (self->empty, !has);
  gtk_widget_set_visible (self->ranges, has);
  show_empty (self);
  if (desk == NULL)
    return;
  fill_warnings (self);
  if (!has)
    return;
  span (self, &from, &to);
  desk_band_of_place (desk, self->shown, &band);
  say_all (self, from, to);
  fill_chart (self, self->t_chart, &band, FALSE, from, to);
  fill_chart (self, self->rh_chart, &band, TRUE, from, to);
  fill_night (self, &band);
  app_climate_table_set (GTK_COLUMN_VIEW (self->table), desk, self->climate, &band.band, from, to);
  words = band_text (&band);
  gtk_label_set_label (self->band_words, words);
  desk_band_clear (&band);
}

/* ---- getting it ---- */

typedef struct
{
  AppClimatePage *page; /* a reference */
  guint turn;
} Answer;

static void
got_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree Answer *answer = data;
  g_autoptr (AppClimatePage) self = answer->page;
  g_autoptr (DeskClimate) climate = desk_climate_finish (DESK_DESK (source), result, NULL);

  if (answer->turn != self->turn || climate == NULL || app_desk_page_desk (self) != DESK_DESK (source))
    return;
  self->filling = TRUE;
  gtk_widget_set_visible (GTK_WIDGET (self->kind), climate->has_shelf && climate->has_inside);
  self->filling = FALSE;
  /* Where only the other kind was read, that is what there is to see. */
  if (climate->moments->len == 0 && (self->inside ? climate->has_shelf : climate->has_inside))
    {
      gtk_drop_down_set_selected (self->kind, self->inside ? 0 : 1);
      return;
    }
  g_clear_pointer (&self->climate, desk_climate_unref);
  self->climate = g_steal_pointer (&climate);
  fill (self);
}

static void
get (AppClimatePage *self)
{
  Desk *desk = app_desk_page_desk (self);
  Answer *answer;

  self->turn++;
  if (desk == NULL || core_id_is_none (self->shown))
    {
      g_clear_pointer (&self->climate, desk_climate_unref);
      fill (self);
      return;
    }
  answer = g_new (Answer, 1);
  *answer = (Answer){ g_object_ref (self), self->turn };
  desk_climate_async (desk, self->shown, self->inside, NULL, got_cb, answer);
}

/* ---- choices ---- */

static void
fill_places (AppClimatePage *self)
{
  Desk *desk = app_desk_page_desk (self);
  g_autoptr (GPtrArray) places = desk != NULL ? desk_places (desk) : g_ptr_array_new ();
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = 0;

  self->filling = TRUE;
  g_array_set_size (self->places, 0);
  for (guint i = 0; i < places->len; i++)
    {
      CoreId id = desk_subject_id (places->pdata[i]);

      g_array_append_val (self->places, id);
      gtk_string_list_append (names, desk_place_name (places->pdata[i]));
      if (core_id_equal (id, self->shown))
        selected = i;
    }
  gtk_drop_down_set_model (self->place, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->place, selected);
  gtk_widget_set_visible (GTK_WIDGET (self->place), places->len > 0);
  self->shown = self->places->len > 0 ? g_array_index (self->places, CoreId, selected) : (CoreId){ { 0 } };
  self->filling = FALSE;
}

static void
place_cb (GtkDropDown *drop_down, GParamSpec *pspec, AppClimatePage *self)
{
  guint i = gtk_drop_down_get_selected (drop_down);

  if (self->filling || i >= self->places->len)
    return;
  self->shown = g_array_index (self->places, CoreId, i);
  get (self);
}

static void
kind_cb (GtkDropDown *drop_down, GParamSpec *pspec, AppClimatePage *self)
{
  gboolean inside = gtk_drop_down_get_selected (drop_down) == 1;

  if (self->filling || inside == self->inside)
    return;
  self->inside = inside;
  get (self);
}

static void
range_cb (GtkToggleButton *button, AppClimatePage *self)
{
  GtkToggleButton *const buttons[N_RANGES] = { self->day, self->week, self->month, self->all };

  if (!gtk_toggle_button_get_active (button))
    return;
  for (int i = 0; i < N_RANGES; i++)
    if (buttons[i] == button)
      self->range = (Range) i;
  if (self->climate != NULL)
    fill (self);
}

static void
dialog_cb (GtkButton *button, AppClimatePage *self)
{
  AppWindow *window = app_window_of (self);

  if (window == NULL || core_id_is_none (self->shown))
    return;
  if (GTK_WIDGET (button) == self->reading)
    app_dialog_reading (window, self->shown);
  else if (GTK_WIDGET (button) == self->logger)
    app_dialog_logger (window, self->shown);
  else
    app_dialog_power (window, self->shown);
}

static void refresh (AppDeskPage *page);

void
app_climate_page_show_place (AppClimatePage *self, CoreId place)
{
  g_return_if_fail (APP_IS_CLIMATE_PAGE (self));
  self->shown = place;
  refresh (APP_DESK_PAGE (self));
}

/* ---- the page ---- */

/* Where warmth is looked at, heaters, lamps and water are near. */
static unsigned
cautions_of (Desk *desk)
{
  unsigned heat = 1u << WORDS_CAUTION_HEAT, electricity = 1u << WORDS_CAUTION_ELECTRICITY;

  if (desk == NULL)
    return 0;
  return (desk_caution_on (desk, WORDS_CAUTION_HEAT) ? heat : 0)
         | (desk_caution_on (desk, WORDS_CAUTION_ELECTRICITY) ? electricity : 0);
}

static void
refresh (AppDeskPage *page)
{
  AppClimatePage *self = APP_CLIMATE_PAGE (page);
  Desk *desk = app_desk_page_desk (self);

  self->stale = !gtk_widget_get_mapped (GTK_WIDGET (self));
  if (self->stale)
    return;
  fill_places (self);
  app_caution_set (self->caution, cautions_of (desk));
  get (self);
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  AppClimatePage *self = APP_CLIMATE_PAGE (page);

  if (subject == NULL || desk_subject_kind (subject) == CORE_SUBJECT_PLACE
      || desk_subject_kind (subject) == CORE_SUBJECT_JOURNAL)
    refresh (page);
  else if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    fill (self);
}

static void
map_cb (GtkWidget *widget, gpointer data)
{
  if (APP_CLIMATE_PAGE (widget)->stale)
    refresh (APP_DESK_PAGE (widget));
}

static void
dispose (GObject *object)
{
  AppClimatePage *self = APP_CLIMATE_PAGE (object);

  g_clear_pointer (&self->climate, desk_climate_unref);
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_CLIMATE_PAGE);
  G_OBJECT_CLASS (app_climate_page_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  g_array_unref (APP_CLIMATE_PAGE (object)->places);
  G_OBJECT_CLASS (app_climate_page_parent_class)->finalize (object);
}

#define CHILD(name) gtk_widget_class_bind_template_child (widget_class, AppClimatePage, name)

static void
app_climate_page_class_init (AppClimatePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  APP_DESK_PAGE_CLASS (klass)->desk_set = refresh;
  APP_DESK_PAGE_CLASS (klass)->today_changed = refresh;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/climate-page.ui");
  CHILD (sentence);
  CHILD (place);
  CHILD (kind);
  CHILD (ranges);
  CHILD (day);
  CHILD (week);
  CHILD (month);
  CHILD (all);
  CHILD (charts);
  CHILD (empty);
  CHILD (empty_words);
  CHILD (warnings);
  CHILD (band_words);
  CHILD (t_box);
  CHILD (rh_box);
  CHILD (night);
  CHILD (table_box);
  CHILD (caution);
  CHILD (acts);
}

static void
connect_ranges (AppClimatePage *self)
{
  GtkToggleButton *const buttons[N_RANGES] = { self->day, self->week, self->month, self->all };

  for (int i = 0; i < N_RANGES; i++)
    g_signal_connect (buttons[i], "toggled", G_CALLBACK (range_cb), self);
  gtk_toggle_button_set_active (self->week, TRUE);
}

static GtkWidget *
add_act (AppClimatePage *self, const char *label)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  g_signal_connect (button, "clicked", G_CALLBACK (dialog_cb), self);
  app_wrap_append (self->acts, button);
  return button;
}

static void
app_climate_page_init (AppClimatePage *self)
{
  GtkWidget *scroller;

  g_type_ensure (APP_TYPE_WRAP);
  gtk_widget_init_template (GTK_WIDGET (self));
  self->places = g_array_new (FALSE, FALSE, sizeof (CoreId));
  self->t_chart = app_climate_chart_new ();
  self->rh_chart = app_climate_chart_new ();
  self->table = app_climate_table_new ();
  gtk_box_append (self->t_box, self->t_chart);
  gtk_box_append (self->rh_box, self->rh_chart);
  scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scroller), 240);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->table);
  gtk_expander_set_child (self->table_box, scroller);
  app_drop_down_mend (self->place, TRUE);
  app_drop_down_mend (self->kind, TRUE);
  self->logger = add_act (self, C_ ("climate", "Read a logger's _file…"));
  self->reading = add_act (self, C_ ("climate", "Add a _reading…"));
  self->power = add_act (self, C_ ("climate", "The _power was out…"));
  connect_ranges (self);
  g_signal_connect (self->place, "notify::selected", G_CALLBACK (place_cb), self);
  g_signal_connect (self->kind, "notify::selected", G_CALLBACK (kind_cb), self);
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
  self->stale = TRUE;
  fill (self);
}

GtkWidget *
app_climate_page_new (void)
{
  return g_object_new (APP_TYPE_CLIMATE_PAGE, NULL);
}
