/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-climate.c — a reading, a power cut, and the file of a logger on its way into the journal. */
#include <glib/gi18n.h>
#include <string.h>

#include "app/app-dialogs.h"
#include "app/app-form.h"
#include "app/app-pages.h"
#include "app/app-view.h"
#include "desk/desk-logger.h"
#include "words/words-readings.h"
#include "words/words-tr.h"

/* ---- one reading ---- */

static void
add_pair (AppForm *form, GPtrArray *pairs, const char *key)
{
  char *pair = app_form_pair (form, key);

  if (pair != NULL)
    g_ptr_array_add (pairs, g_strdelimit (pair, ",", '.'));
}

static void
reading_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  const char *time = app_form_get (form, "time");
  int minute = time[0] != '\0' ? desk_minute_from_text (time) : -1;
  CoreDay day;

  if (!app_form_get_day (form, "day", &day))
    return;
  if (minute == -2 || day == CORE_DAY_NONE)
    {
      app_form_problem_at (form, minute == -2 ? "time" : "day",
                           minute == -2 ? C_ ("climate", "Write the time as 08:30, or leave it empty.")
                                        : C_ ("form", "On which day? A day is needed here."));
      return;
    }
  add_pair (form, pairs, "t");
  add_pair (form, pairs, "rh");
  add_pair (form, pairs, "inside");
  g_ptr_array_add (pairs, NULL);
  desk_record_async (desk, app_form_id (form), "reading", (const char *const *) pairs->pdata, day, CORE_DAY_NONE,
                     minute, NULL, app_form_recorded, g_object_ref (form));
}

static void
inside_row (AppForm *form)
{
  const char *const names[] = { C_ ("climate", "of the shelf"), C_ ("climate", "inside a home"), NULL };
  const char *const values[] = { "no", "yes", NULL };

  app_form_choice (form, "inside", C_ ("climate", "_Where"), names, values, 0);
}

void
app_dialog_reading (AppWindow *window, CoreId place)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form;

  if (desk == NULL)
    return;
  form = app_form_new_about (window, place, C_ ("form title", "A reading of %s"), C_ ("form", "_Save"), reading_submit);
  app_form_entry (form, "t", C_ ("climate", "_Temperature, °C"), NULL, "24,5");
  app_form_entry (form, "rh", C_ ("climate", "_Humidity, %"), NULL, "55");
  inside_row (form);
  app_form_day (form, "day", C_ ("climate", "Da_y"), desk_today (desk));
  app_form_entry (form, "time", C_ ("climate", "Clock t_ime"), NULL, "08:30");
  app_form_note (form, C_ ("climate", "One of both will do. With a clock time the night is told from the day."));
  app_form_show (form, "reading");
}

/* ---- the power was out ---- */

static void
power_submit (AppForm *form)
{
  app_form_record (form, "power", (const char *const[]){ "out_from", "out_to", "lowest", NULL });
}

void
app_dialog_power (AppWindow *window, CoreId place)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form;

  if (desk == NULL)
    return;
  form = app_form_new_about (window, place, C_ ("form title", "The power was out on %s"), C_ ("form", "_Save"),
                             power_submit);
  app_form_entry (form, "out_from", C_ ("climate", "Out _from"), NULL, "22:10");
  app_form_entry (form, "out_to", C_ ("climate", "Back _at"), NULL, "03:30");
  app_form_day (form, "day", C_ ("climate", "_Day on which it was back"), desk_today (desk));
  app_form_entry (form, "lowest", C_ ("climate", "_Lowest on the shelf, °C"), NULL, NULL);
  app_form_note (form, C_ ("climate", "Until it was looked at, every cup of this shelf asks for a look. Warm up slowly; "
                                      "water on the wall."));
  app_form_caution (form, WORDS_CAUTION_HEAT);
  app_form_caution (form, WORDS_CAUTION_ELECTRICITY);
  app_form_show (form, "power");
}

/* ---- the file of a logger ---- */

#define SHOWN_BAD 4

/* Kept on the form. */
typedef struct
{
  DeskLogger *logger; /* owned */
  CoreId place;
  GtkLabel *says;     /* borrowed */
  guint turn;         /* an earlier look's answer is not shown */
  guint looked;       /* the turn that was looked at */
} Assistant;

static void
assistant_free (gpointer data)
{
  Assistant *self = data;

  desk_logger_unref (self->logger);
  g_free (self);
}

static Assistant *
assistant_of (AppForm *form)
{
  return g_object_get_data (G_OBJECT (form), "assistant");
}

static char *
found_text (AppForm *form, DeskLogger *logger)
{
  WordsView view = app_view (app_window_get_desk (app_form_window (form)));
  g_autofree char *summary = words_readings_summary (&view, desk_logger_found (logger));
  GString *text = g_string_new (summary);
  guint bad = desk_logger_found (logger)->bad;

  for (guint i = 0; i < MIN (desk_logger_n_bad (logger), SHOWN_BAD); i++)
    {
      guint line;
      g_autofree char *row = desk_logger_bad (logger, WORDS_LOCAL, i, &line);

      g_string_append_printf (text, "\n%s", row);
    }
  if (bad > SHOWN_BAD)
    g_string_append (text, "\n…");
  if (bad > 0)
    g_string_append_printf (text, "\n%s", C_ ("climate", "These lines will be left out."));
  return g_string_free (text, FALSE);
}

typedef struct
{
  AppForm *form; /* a reference */
  guint turn;
} Look;

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree Look *look = data;
  g_autoptr (AppForm) form = look->form;
  Assistant *self = assistant_of (form);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  gboolean ok;

  if (look->turn != self->turn || app_form_window (form) == NULL)
    return; /* before it is taken: a later look knows better */
  ok = desk_logger_look_finish (self->logger, result, &error);
  text = ok ? found_text (form, self->logger) : app_error_text (error);
  self->looked = ok ? look->turn : 0;
  gtk_label_set_label (self->says, text);
}

static const char *const asked_keys[] = { "time", "clock", "temperature", "humidity", "unit", "dates", "zone" };

static void
look_again (AppForm *form)
{
  Assistant *self = assistant_of (form);
  Look *look;

  for (gsize i = 0; i < G_N_ELEMENTS (asked_keys); i++)
    {
      const char *value = app_form_get (form, asked_keys[i]);
      g_autoptr (GError) error = NULL;

      if (value[0] != '\0' && value[0] != '?' && !desk_logger_set (self->logger, asked_keys[i], value, &error))
        {
          g_autofree char *text = app_error_text (error);

          gtk_label_set_label (self->says, text);
          return;
        }
    }
  look = g_new (Look, 1);
  *look = (Look){ g_object_ref (form), ++self->turn };
  desk_logger_look_async (self->logger, self->place, g_str_equal (app_form_get (form, "inside"), "yes"), NULL,
                          looked_cb, look);
}

static void
choice_cb (GObject *field, GParamSpec *pspec, AppForm *form)
{
  look_again (form);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  guint n;

  if (desk_logger_write_finish (assistant_of (form)->logger, result, &n, &error))
    text = g_strdup_printf (TN_ (WORDS_LOCAL, "climate", "Saved: %u reading. Ctrl+Z takes it back.",
                                 "Saved: %u readings. Ctrl+Z takes them back.", n),
                            n);
  app_form_done (form, text, error);
}

static void
logger_submit (AppForm *form)
{
  Assistant *self = assistant_of (form);
  g_autofree char *asks = desk_logger_asks (self->logger, WORDS_LOCAL);

  if (asks != NULL)
    app_form_problem (form, asks);
  else if (self->looked != self->turn)
    app_form_problem (form, C_ ("climate", "The file is still being read."));
  else if (desk_logger_found (self->logger)->readings == 0)
    app_form_problem (form, C_ ("climate", "There is nothing new in it. Nothing was written."));
  else
    desk_logger_write_async (self->logger, NULL, written_cb, g_object_ref (form));
}

/* "Temperature °C (23,5)" */
static char *
column_name (DeskLogger *logger, guint column)
{
  const char *heading = desk_logger_heading (logger, column), *sample = desk_logger_sample (logger, column);

  if (heading[0] == '\0')
    return g_strdup_printf (C_ ("climate", "column %u (%s)"), column + 1, sample);
  return g_strdup_printf ("%s (%s)", heading, sample);
}

static GtkWidget *
column_row (AppForm *form, const char *key, const char *label, DeskLoggerColumn what, gboolean may_lack)
{
  DeskLogger *logger = assistant_of (form)->logger;
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) values = g_ptr_array_new_with_free_func (g_free);
  int column = desk_logger_column (logger, what);

  if (may_lack)
    {
      g_ptr_array_add (names, g_strdup (C_ ("climate", "not in this file")));
      g_ptr_array_add (values, g_strdup ("-"));
    }
  for (guint i = 0; i < desk_logger_n_columns (logger); i++)
    {
      g_ptr_array_add (names, column_name (logger, i));
      g_ptr_array_add (values, g_strdup_printf ("%u", i + 1));
    }
  g_ptr_array_add (names, NULL);
  g_ptr_array_add (values, NULL);
  return app_form_choice (form, key, label, (const char *const *) names->pdata, (const char *const *) values->pdata,
                          (guint) MAX (0, column + (may_lack ? 1 : 0)));
}

/* "?" stands first where the file does not say it. */
static void
open_row (AppForm *form, const char *key, const char *label, const char *const *names, const char *const *values,
          const char *known)
{
  const char *all_names[6] = { C_ ("climate", "please say") }, *all_values[6] = { "?" };
  guint n = known[0] == '\0' ? 1 : 0, selected = 0;

  for (guint i = 0; names[i] != NULL && n + 1 < G_N_ELEMENTS (all_names); i++, n++)
    {
      all_names[n] = names[i];
      all_values[n] = values[i];
      if (g_str_equal (values[i], known))
        selected = n;
    }
  all_names[n] = all_values[n] = NULL;
  app_form_choice (form, key, label, all_names, all_values, selected);
}

/* What the file names stands first, where it is certain. */
static void
zone_row (AppForm *form)
{
  DeskLogger *logger = assistant_of (form)->logger;
  g_autofree char *known = desk_logger_zone (logger);
  DeskLoggerZone named;
  gboolean is_named = desk_logger_zone_named (logger, &named) && named.value[0] != '\0';
  /* Translators: a time zone as a file writes it, "GMT+05:00" */
  g_autofree char *of_file = is_named ? g_strdup_printf (C_ ("climate", "%s, as the file says"), named.name) : NULL;
  const char *names[4] = { of_file }, *values[4] = { named.value };
  guint n = is_named ? 1 : 0;

  names[n] = C_ ("climate", "those of the clock on the wall");
  values[n++] = "local";
  names[n] = C_ ("climate", "UTC");
  values[n++] = "UTC";
  names[n] = values[n] = NULL;
  open_row (form, "zone", C_ ("climate", "Times a_re"), names, values, known != NULL ? known : "");
}

static void
logger_rows (AppForm *form)
{
  DeskLogger *logger = assistant_of (form)->logger;
  const char unit[2] = { desk_logger_unit (logger), '\0' };
  const char *const units[] = { "°C", "°F", NULL };
  const char *const unit_values[] = { "C", "F", NULL };
  const char *const orders[] = { C_ ("climate", "day first: 3.4. is 3 April"), C_ ("climate", "month first: 3/4 is 4 March"),
                                 C_ ("climate", "year first"), NULL };
  const char *const order_values[] = { "dmy", "mdy", "ymd", NULL };

  inside_row (form);
  column_row (form, "time", C_ ("climate", "_Time"), DESK_LOGGER_TIME, FALSE);
  if (desk_logger_column (logger, DESK_LOGGER_CLOCK) >= 0)
    column_row (form, "clock", C_ ("climate", "Time of _day"), DESK_LOGGER_CLOCK, TRUE);
  column_row (form, "temperature", C_ ("climate", "T_emperature"), DESK_LOGGER_T, TRUE);
  column_row (form, "humidity", C_ ("climate", "_Humidity"), DESK_LOGGER_RH, TRUE);
  open_row (form, "unit", C_ ("climate", "De_grees"), units, unit_values, unit);
  if (!g_str_equal (desk_logger_dates (logger), "epoch"))
    open_row (form, "dates", C_ ("climate", "Date_s"), orders, order_values, desk_logger_dates (logger));
  zone_row (form);
}

static void
watch (AppForm *form, GtkWidget *widget)
{
  if (GTK_IS_DROP_DOWN (widget))
    g_signal_connect (widget, "notify::selected", G_CALLBACK (choice_cb), form);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    watch (form, child);
}

/* Takes the logger. */
static void
show_assistant (AppWindow *window, CoreId place, DeskLogger *logger)
{
  AppForm *form = app_form_new_about (window, place, C_ ("form title", "Readings for %s"), C_ ("climate", "_Add the readings"),
                                      logger_submit);
  Assistant *self = g_new0 (Assistant, 1);

  self->logger = logger;
  self->place = place;
  self->says = GTK_LABEL (gtk_label_new (C_ ("climate", "The file is still being read.")));
  gtk_label_set_wrap (self->says, TRUE);
  gtk_label_set_xalign (self->says, 0);
  gtk_label_set_max_width_chars (self->says, 60);
  g_object_set_data_full (G_OBJECT (form), "assistant", self, assistant_free);
  app_form_note (form, desk_logger_name (logger));
  logger_rows (form);
  app_form_widget (form, "found", GTK_WIDGET (self->says));
  watch (form, GTK_WIDGET (form));
  look_again (form);
  gtk_window_present (GTK_WINDOW (form)); /* nothing of it is kept as a draft: the file is there */
}

typedef struct
{
  AppWindow *window; /* a reference */
  CoreId place;
} Wanted;

static void
wanted_free (Wanted *self)
{
  g_object_unref (self->window);
  g_free (self);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Wanted, wanted_free)

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Wanted) wanted = data;
  g_autoptr (GError) error = NULL;
  DeskLogger *logger = desk_logger_open_finish (DESK_DESK (source), result, &error);

  if (app_window_get_desk (wanted->window) != DESK_DESK (source))
    desk_logger_unref (logger);
  else if (logger != NULL)
    show_assistant (wanted->window, wanted->place, logger);
  else
    app_window_say_error (wanted->window, error);
}

void
app_dialog_logger_file (AppWindow *window, CoreId place, GFile *file)
{
  Desk *desk = app_window_get_desk (window);
  Wanted *wanted;

  if (desk == NULL)
    return;
  wanted = g_new (Wanted, 1);
  *wanted = (Wanted){ g_object_ref (window), place };
  desk_logger_open_async (desk, file, app_window_cancellable (window), opened_cb, wanted);
}

static void
chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Wanted) wanted = data;
  g_autoptr (GFile) file = app_choose_finish (result, NULL);

  if (file != NULL)
    app_dialog_logger_file (wanted->window, wanted->place, file);
}

void
app_dialog_logger (AppWindow *window, CoreId place)
{
  Wanted *wanted = g_new (Wanted, 1);

  *wanted = (Wanted){ g_object_ref (window), place };
  app_choose_table_async (GTK_WINDOW (window), app_window_cancellable (window), chosen_cb, wanted);
}
