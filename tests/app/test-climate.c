/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-climate.c — the climate page: empty, with readings, by range; the assistant for a logger's file;
 * a reading and a power cut by their forms; a million readings within a frame. */
#include "app-fixture.h"
#include "form-hands.h"

#include <string.h>

#include "app/app-climate-chart.h"
#include "app/app-climate-page.h"
#include "app/app-climate-table.h"
#include "app/app-dialogs.h"
#include "core/core-date.h"

static GtkWidget *
page_of (Room *room)
{
  return app_find (room->window, APP_TYPE_CLIMATE_PAGE);
}

static gboolean
shows (GtkWidget *page, const char *words)
{
  GtkWidget *label = app_find_words (page, words);

  return label != NULL && gtk_widget_get_mapped (label);
}

static GtkWidget *
open_page (Room *room)
{
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.climate", NULL);
  app_settle ();
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "climate");
  return page_of (room);
}

/* Three days in May, a reading each ten minutes. */
static GFile *
logger_file (Room *room, const char *head, const char *last)
{
  g_autofree char *path = g_build_filename (desk_dir (room->journal.desk), "..", "attic.csv", NULL);
  g_autoptr (GString) text = g_string_new (head);

  for (int day = 26; day <= 28; day++)
    for (int minute = 0; minute < 1440; minute += 10)
      g_string_append_printf (text, "2026-05-%02d %02d:%02d;%d,5;%d\n", day, minute / 60, minute % 60,
                              minute >= 420 && minute < 1140 ? 26 : 19, minute % 40 + 40);
  g_string_append (text, last);
  g_assert_true (g_file_set_contents (path, text->str, -1, NULL));
  return g_file_new_for_path (path);
}

#define HEAD "Time;Temperature °C;Humidity %\n"

static void
test_empty (Room *room, gconstpointer data)
{
  GtkWidget *page = open_page (room);

  g_assert_true (shows (page, "Read the file of a logger, or type what a thermometer shows"));
  g_assert_nonnull (app_find_button (page, "Read a logger's file…"));
  g_assert_true (gtk_widget_get_sensitive (app_find_button (page, "Add a reading…")));
  g_assert_false (gtk_widget_get_mapped (app_find (page, APP_TYPE_CLIMATE_CHART)));
}

/* What is warned of wraps above the buttons, never over them. */
static void
test_warning_wraps (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) hot = fixture_add (room->journal.desk, CORE_SUBJECT_PLACE, "name=Hot heater=mat");
  GtkWidget *page, *label;
  int wide, narrow;

  g_assert_nonnull (hot);
  app_window_show_shelf (room->window, desk_subject_id (hot));
  page = open_page (room);
  gtk_test_widget_wait_for_draw (page);
  label = app_find_words (page, "Does the thermostat switch");
  g_assert_nonnull (label);
  gtk_widget_measure (gtk_widget_get_parent (label), GTK_ORIENTATION_VERTICAL, 2000, &wide, NULL, NULL, NULL);
  gtk_widget_measure (gtk_widget_get_parent (label), GTK_ORIENTATION_VERTICAL, 500, &narrow, NULL, NULL, NULL);
  g_assert_cmpint (narrow, >=, 2 * wide);
}

static GtkWindow *
assistant (Room *room, GFile *file)
{
  app_dialog_logger_file (room->window, desk_subject_id (room->shelf_a), file);
  APP_WAIT (app_form_on_top () != NULL);
  return app_form_on_top ();
}

static void
test_logger (Room *room, gconstpointer data)
{
  g_autoptr (GFile) file = logger_file (room, HEAD, "2026-05-29 10:00;warm;50\n");
  GtkWidget *page = open_page (room);
  GtkWindow *form = assistant (room, file);
  GtkWidget *table;

  APP_WAIT (app_find_words (form, "432 readings, 26–28 May") != NULL);
  g_assert_nonnull (app_find_words (form, "1 line not understood"));
  g_assert_nonnull (app_find_words (form, "line 434: “warm” is no number"));
  app_press (app_find_button (form, "Add the readings"));
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved: 432 readings"));
  APP_WAIT (shows (page, "432 readings"));
  g_assert_true (shows (page, "Temperature: 19.5 to 26.5 °C, on average 23"));
  g_assert_true (shows (page, "its dew point is"));
  g_assert_false (shows (page, "Read the file of a logger, or type"));
  gtk_test_accessible_assert_role (app_find (page, APP_TYPE_CLIMATE_CHART), GTK_ACCESSIBLE_ROLE_IMG);
  gtk_expander_set_expanded (GTK_EXPANDER (app_find (page, GTK_TYPE_EXPANDER)), TRUE);
  table = app_find (page, GTK_TYPE_COLUMN_VIEW);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (gtk_column_view_get_model (GTK_COLUMN_VIEW (table)))), ==, 3);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (app_find_button (page, "Day")), TRUE);
  g_assert_true (shows (page, "144 readings"));
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (gtk_column_view_get_model (GTK_COLUMN_VIEW (table)))), ==, 1);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (shows (page, "Read the file of a logger, or type"));
}

/* What the file does not say is asked, and nothing is written before it is answered. */
static void
test_logger_asks (Room *room, gconstpointer data)
{
  g_autoptr (GFile) file = logger_file (room, "Time;Temperature;Humidity %\n", "");
  GtkWindow *form = assistant (room, file);

  APP_WAIT (app_find_words (form, "does not say whether its temperatures") != NULL);
  app_press (app_find_button (form, "Add the readings"));
  g_assert_true (app_form_on_top () == form);
  form_choose (form, "Degrees", 1); /* °C */
  APP_WAIT (app_find_words (form, "432 readings") != NULL);
  gtk_window_close (form);
}

static void
test_broken_file (Room *room, gconstpointer data)
{
  g_autofree char *path = g_build_filename (desk_dir (room->journal.desk), "..", "x.csv", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  g_assert_true (g_file_set_contents (path, "Dear diary\n", -1, NULL));
  app_dialog_logger_file (room->window, desk_subject_id (room->shelf_a), file);
  APP_WAIT (strstr (app_said (room->window), "No line holds a time and a number") != NULL);
  g_assert_null (app_form_on_top ());
}

static void
type_reading (Room *room, GtkWidget *page, const char *t)
{
  app_press (app_find_button (page, "Add a reading…"));
  form_type (app_form_on_top (), "Temperature, °C", t);
  form_type (app_form_on_top (), "Clock time", "08:30");
  form_accept (app_form_on_top ());
  form_wait_closed ();
}

/* Another value of the same minute is no slip that goes unseen: it is said at once, and on the page. */
static void
test_two_readings (Room *room, gconstpointer data)
{
  GtkWidget *page = open_page (room);

  type_reading (room, page, "24,5");
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved"));
  g_assert_null (strstr (app_said (room->window), "differ"));
  type_reading (room, page, "31");
  APP_WAIT (strstr (app_said (room->window), "Two readings of one minute differ, and both count") != NULL);
  APP_WAIT (shows (page, "two values at 1 time, both count"));
}

static void
test_power (Room *room, gconstpointer data)
{
  GtkWidget *page = open_page (room);

  app_press (app_find_button (page, "The power was out…"));
  g_assert_nonnull (app_form_on_top ());
  g_assert_nonnull (app_find_words (app_form_on_top (), "every cup of this shelf asks for a look"));
  form_type (app_form_on_top (), "Out from", "22:10");
  form_type (app_form_on_top (), "Back at", "03:30");
  app_press (app_find_button (app_form_on_top (), "Save"));
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved"));
  APP_WAIT (shows (page, "The power was out"));
}

/* A million readings in the columns of a wide window: every one in its column, none lost. */
static void
test_million (Room *room, gconstpointer data)
{
  GArray *moments = g_array_new (FALSE, FALSE, sizeof (CoreMoment));
  CoreClimateBin *bins = g_new (CoreClimateBin, 1300);
  gint64 from = (gint64) core_day_from_ymd (2024, 1, 1) * CORE_SERIES_DAY;
  gsize n = 0;

  for (int i = 0; i < 1000000; i++)
    {
      CoreMoment m = { from + i * 60, (float) (20 + i % 90 / 10.), (float) (50 + i % 40) };

      g_array_append_val (moments, m);
    }
  core_climate_bins ((CoreMoment *) (void *) moments->data, moments->len, from, from + 60000000, bins, 1300);
  for (int i = 0; i < 1300; i++)
    {
      g_assert_cmpfloat (bins[i].t_min, ==, 20); /* each column holds all 90 steps of the wave */
      g_assert_cmpfloat_with_epsilon (bins[i].t_max, 28.9, 1e-5);
      n += bins[i].n;
    }
  g_assert_cmpuint (n, ==, 1000000);
  g_free (bins);
  g_array_unref (moments);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/climate/empty", test_empty);
  ROOM ("/climate/logger", test_logger);
  ROOM ("/climate/logger-asks", test_logger_asks);
  ROOM ("/climate/broken-file", test_broken_file);
  ROOM ("/climate/two-readings", test_two_readings);
  ROOM ("/climate/power", test_power);
  ROOM_WITHOUT_WINDOW ("/climate/million", test_million);
  ROOM ("/climate/warning-wraps", test_warning_wraps);
  return g_test_run ();
}
