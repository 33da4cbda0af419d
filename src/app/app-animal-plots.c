/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-animal-plots.c — see app-animal-plots.h. */
#include "app/app-animal-plots.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-plot.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "desk/desk-plots.h"

#define MEAL_DAYS 60  /* shown at most */
#define DAYS_BEFORE 7 /* of the stage before, so that the moult is seen */

static GPtrArray *
rows_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
}

/* Takes the cells. */
static void
add_cells (GPtrArray *rows, char *a, char *b, char *c)
{
  char **cells = g_new0 (char *, 4);

  cells[0] = a;
  cells[1] = b;
  cells[2] = c;
  g_ptr_array_add (rows, cells);
}

static char *
between (double lo, double hi, int decimals)
{
  g_autofree char *a = words_number (WORDS_LOCAL, lo, decimals);
  g_autofree char *b = words_number (WORDS_LOCAL, hi, decimals);

  /* Translators: a range of numbers: "9–11" */
  return g_str_equal (a, b) ? g_steal_pointer (&a) : g_strdup_printf (C_ ("plot", "%s–%s"), a, b);
}

static void
section (GtkBox *box, const char *heading, const char *legend, AppPlotData *data, const char *const *heads, GPtrArray *rows)
{
  app_heading (GTK_WIDGET (box), heading);
  gtk_box_append (box, app_plot_new (data, legend));
  app_text (GTK_WIDGET (box), legend, "dim");
  gtk_box_append (box, app_plot_table_new (heads, rows));
}

/* ---- how long its stages took ---- */

static void
add_stage (AppPlotData *data, GPtrArray *rows, const CoreInterval *row, int scheme)
{
  AppPlotShape shape = row->finished ? APP_PLOT_OWN : APP_PLOT_OPEN;
  g_autofree char *stage = words_stage_number (row->moults, scheme);
  g_autofree char *took = between (row->lo, row->hi, 0);

  if (isfinite (row->p90))
    app_plot_data_band (data, row->moults, row->p10, row->p50, row->p90);
  app_plot_data_point (data, shape, row->moults, row->lo, (row->lo + row->hi) / 2, row->hi);
  app_plot_data_tick (data, row->moults, stage, FALSE);
  /* Translators: days that a stage has lasted until now */
  add_cells (rows, g_steal_pointer (&stage),
             row->finished ? g_steal_pointer (&took) : g_strdup_printf (C_ ("plot", "%s until now"), took),
             isfinite (row->p90) ? between (row->p10, row->p90, 0) : g_strdup (C_ ("plot", "over 400")));
}

static void
fill_intervals (GtkBox *box, Desk *desk, DeskSubject *animal)
{
  static const char *const heads[] = { NC_ ("plot", "stage"), NC_ ("plot", "days"), NC_ ("plot", "8 of 10 of its kind"), NULL };
  const char *local[G_N_ELEMENTS (heads)] = { NULL };
  g_autoptr (DeskIntervals) intervals = desk_intervals (desk, animal);
  g_autoptr (GPtrArray) rows = rows_new ();
  AppPlotData *data;

  if (intervals->n == 0)
    return;
  data = app_plot_data_new (intervals->own[0].moults, MAX (intervals->own[intervals->n - 1].moults, intervals->own[0].moults + 3),
                            FALSE, C_ ("plot", "days"));
  for (gsize i = 0; i < intervals->n; i++)
    add_stage (data, rows, &intervals->own[i], desk_scheme (desk));
  for (guint i = 0; i < intervals->mates->len; i++)
    {
      const DeskMateStage *mate = &g_array_index (intervals->mates, DeskMateStage, i);

      if (mate->moults >= data->from && mate->moults <= data->to)
        app_plot_data_point (data, APP_PLOT_OTHER, mate->moults, mate->days, mate->days, mate->days);
    }
  for (gsize i = 0; heads[i] != NULL; i++)
    local[i] = g_dpgettext2 (NULL, "plot", heads[i]);
  section (box, C_ ("animal", "How long its stages took"),
           intervals->mates->len > 0
             ? C_ ("plot", "Dots: this one, ring: the stage it is in. Bars: 8 of 10 of its kind at these temperatures. Dashes: "
                           "its lot-mates on this shelf.")
             : C_ ("plot", "Dots: this one, ring: the stage it is in. Bars: 8 of 10 of its kind at these temperatures."),
           data, local, rows);
}

/* ---- how it grew ---- */

static const struct
{
  CoreDimension what;
  const char *heading;
} lengths[] = {
  { CORE_DIM_BODY, NC_ ("animal", "How long its body was") },
  { CORE_DIM_HEAD, NC_ ("animal", "How wide its head was") },
  { CORE_DIM_PRONOTUM, NC_ ("animal", "How long its pronotum was") },
};

static void
fill_growth (GtkBox *box, Desk *desk, DeskSubject *animal, guint which)
{
  static const char *const heads[] = { NC_ ("plot", "stage"), NC_ ("plot", "measured, mm"), NC_ ("plot", "8 of 10 expected, mm"), NULL };
  const char *local[G_N_ELEMENTS (heads)] = { NULL };
  g_autoptr (GPtrArray) rows = rows_new ();
  CoreGrowthCurve curve;
  AppPlotData *data;

  desk_growth_curve (animal, lengths[which].what, &curve);
  if (curve.n_measured == 0)
    return;
  data = app_plot_data_new (0, (double) curve.n - 1, FALSE, C_ ("plot", "mm"));
  for (gsize m = 0; m < curve.n; m++)
    {
      const CoreGrowth *expected = &curve.expected[m];
      g_autofree char *stage = words_stage_number ((int) m, desk_scheme (desk));
      g_autoptr (GString) measured = g_string_new (NULL);

      if (expected->known)
        app_plot_data_band (data, (double) m, expected->p10, expected->p50, expected->p90);
      app_plot_data_tick (data, (double) m, stage, FALSE);
      for (gsize i = 0; i < curve.n_measured; i++)
        if (curve.measured[i].moults == (int) m)
          {
            g_autofree char *mm = words_number (WORDS_LOCAL, curve.measured[i].mm, 1);

            app_plot_data_point (data, APP_PLOT_OWN, (double) m, curve.measured[i].lo, curve.measured[i].mm, curve.measured[i].hi);
            g_string_append_printf (measured, "%s%s", measured->len > 0 ? " · " : "", mm);
          }
      add_cells (rows, g_steal_pointer (&stage), g_strdup (measured->str),
                 expected->known ? between (expected->p10, expected->p90, 1) : g_strdup (""));
    }
  for (gsize i = 0; heads[i] != NULL; i++)
    local[i] = g_dpgettext2 (NULL, "plot", heads[i]);
  section (box, g_dpgettext2 (NULL, "animal", lengths[which].heading),
           C_ ("plot", "Dots: measured, with its error. Bars: 8 of 10 expected at each stage, from its kind and these measures."), data,
           local, rows);
}

/* ---- what it ate ---- */

static const char *
meal_word (AppMealDot dot)
{
  static const char *const words[] = {
    [APP_MEAL_REFUSED] = NC_ ("meal", "refused"),
    [APP_MEAL_OFFERED] = NC_ ("meal", "put in, not seen eaten"),
    [APP_MEAL_PROBABLY] = NC_ ("meal", "gone at the next look"),
    [APP_MEAL_TAKEN] = NC_ ("meal", "seen eaten"),
  };

  return g_dpgettext2 (NULL, "meal", words[dot]);
}

/* From shortly before its last moult on, at most so many days. */
static CoreDay
meals_from (const CoreState *state, CoreDay today)
{
  CoreDay from = today - MEAL_DAYS;

  if (state->moult_days.n > 0)
    from = MAX (from, state->moult_days.v[state->moult_days.n - 1] - DAYS_BEFORE);
  return MIN (from, today - 14);
}

static void
fill_meals (GtkBox *box, Desk *desk, DeskSubject *animal)
{
  static const char *const heads[] = { NC_ ("plot", "day"), NC_ ("plot", "prey"), NC_ ("plot", "what became of it"), NULL };
  const char *local[G_N_ELEMENTS (heads)] = { NULL };
  const CoreState *state = desk_subject_state (animal);
  WordsView view = app_view (desk);
  CoreDay from = meals_from (state, view.today);
  g_autoptr (GPtrArray) rows = rows_new ();
  AppPlotData *data = app_plot_data_new (from, view.today, TRUE, "");
  g_autofree char *first = words_day (&view, from, WORDS_DAY_SHORT);

  app_plot_data_tick (data, from, first, FALSE);
  for (gsize i = 0; i < state->moult_days.n; i++)
    if (state->moult_days.v[i] >= from)
      app_plot_data_tick (data, state->moult_days.v[i], C_ ("plot", "moult"), TRUE);
  app_plot_data_tick (data, view.today, C_ ("chart", "today"), FALSE);
  for (gsize i = 0; i < state->meals.n; i++)
    {
      const CoreMeal *meal = &state->meals.v[i];

      if (meal->day < from || meal->day > view.today || meal->outcome == CORE_FED_NONE_IN_VIEW)
        continue;
      app_plot_data_meal (data, meal->day, app_meal_dot (meal));
      add_cells (rows, words_day (&view, meal->day, WORDS_DAY_SHORT), words_prey (WORDS_LOCAL, meal->prey, meal->n),
                 g_strdup (meal_word (app_meal_dot (meal))));
    }
  if (rows->len == 0)
    {
      app_plot_data_free (data);
      return;
    }
  for (gsize i = 0; heads[i] != NULL; i++)
    local[i] = g_dpgettext2 (NULL, "plot", heads[i]);
  section (box, C_ ("animal", "What it ate"),
           C_ ("plot", "Full: seen eaten. Three quarters: gone at the next look. Half: put in. Hollow: refused. Line: a moult."),
           data, local, rows);
}

void
app_animal_plots_fill (GtkBox *box, Desk *desk, DeskSubject *animal)
{
  app_box_empty (box);
  if (desk_subject_kind (animal) != CORE_SUBJECT_ANIMAL)
    return;
  fill_meals (box, desk, animal);
  fill_intervals (box, desk, animal);
  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    fill_growth (box, desk, animal, i);
}
