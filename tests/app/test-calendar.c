/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-calendar.c — the calendar in weeks: by keys alone, what is said of a day, its list, the filters, and
 * the one line of what was missed. */
#include "app-fixture.h"

#include <string.h>

#include "app/app-calendar-list.h"
#include "app/app-calendar-page.h"
#include "app/app-weeks.h"

static GtkWidget *
page (Room *room)
{
  return app_find (room->window, APP_TYPE_CALENDAR_PAGE);
}

static AppWeeks *
weeks (Room *room)
{
  return APP_WEEKS (app_find (page (room), APP_TYPE_WEEKS));
}

static GtkListBox *
tasks (Room *room)
{
  return GTK_LIST_BOX (app_find (app_find (page (room), APP_TYPE_CALENDAR_LIST), GTK_TYPE_LIST_BOX));
}

static CoreDay
chosen (Room *room)
{
  return app_weeks_chosen (weeks (room));
}

/* What a reader says of the day that is chosen. */
static void
assert_says (Room *room, const char *part)
{
  g_autofree char *words = app_weeks_words (weeks (room), chosen (room));

  if (strstr (words, part) == NULL)
    g_error ("“%s” does not say “%s”", words, part);
  gtk_test_accessible_assert_property (weeks (room), GTK_ACCESSIBLE_PROPERTY_LABEL, words);
}

static void
set_up (Room *room, gconstpointer data)
{
  room_set_up_window (room, data);
  fixture_record (room->journal.desk, room->cups[0], "stage", "seen=nymph moults=4", -9);
  fixture_record (room->journal.desk, room->cups[0], "moulted", "outcome=good seen=yes", -8);
  fixture_record (room->journal.desk, room->cups[0], "fed", "prey=hydei outcome=taken", -1);
  app_window_show_page (room->window, "calendar");
  gtk_test_widget_wait_for_draw (page (room));
  app_settle ();
}

#define CALENDAR(path, func) g_test_add ("/calendar/" path, Room, NULL, set_up, func, room_tear_down)

static void
test_keys (Room *room, gconstpointer data)
{
  CoreDay today = room->journal.today;
  static const struct
  {
    guint key;
    int to;
  } rows[] = { { GDK_KEY_Right, 1 }, { GDK_KEY_Down, 8 },  { GDK_KEY_Left, 7 },    { GDK_KEY_Up, 0 },
               { GDK_KEY_Up, 0 },    { GDK_KEY_Left, 0 },  { GDK_KEY_Page_Down, 28 }, { GDK_KEY_Page_Down, 56 },
               { GDK_KEY_Page_Up, 28 }, { GDK_KEY_End, 89 }, { GDK_KEY_Right, 89 },  { GDK_KEY_Home, 0 } };

  g_assert_cmpint (chosen (room), ==, today);
  gtk_widget_grab_focus (GTK_WIDGET (weeks (room)));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_assert_true (app_key (GTK_WIDGET (weeks (room)), rows[i].key, 0));
      g_assert_cmpint (chosen (room) - today, ==, rows[i].to);
    }
  g_assert_false (app_key (GTK_WIDGET (weeks (room)), GDK_KEY_Right, GDK_ALT_MASK));
}

/* The list beside it is that of the chosen day; Enter goes there, Page Down to the next day. */
static void
test_day_opens (Room *room, gconstpointer data)
{
  GtkWidget *focus;

  assert_says (room, "Mon 1 June");
  app_weeks_choose (weeks (room), room->journal.today + 3);
  app_settle ();
  assert_says (room, "Thu 4 June");
  assert_says (room, "feed ");
  g_assert_nonnull (app_find_words (tasks (room), "Thu 4 June"));
  g_assert_null (app_find_words (tasks (room), "Today"));
  g_assert_null (app_find_button (tasks (room), "Done")); /* not yet to be done */
  gtk_widget_grab_focus (GTK_WIDGET (weeks (room)));
  g_assert_true (app_key (GTK_WIDGET (weeks (room)), GDK_KEY_Return, 0));
  focus = gtk_root_get_focus (GTK_ROOT (room->window));
  g_assert_true (focus != NULL && GTK_IS_LIST_BOX_ROW (focus));
  g_assert_true (app_key (gtk_widget_get_parent (GTK_WIDGET (tasks (room))), GDK_KEY_Page_Down, 0));
  g_assert_cmpint (chosen (room), ==, room->journal.today + 4);
}

static gboolean
may_moult (Room *room, CoreDay day, const char *number)
{
  g_autofree char *words = app_weeks_words (weeks (room), day);
  const char *moults = strstr (words, "May moult: ");

  return moults != NULL && strstr (moults, number) != NULL;
}

/* Every day of its range says that it may moult, no other does, and the list gives the range. */
static void
test_moults (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) now = fixture_now (room->journal.desk, room->cups[0]);
  const CoreForecast *forecast = desk_subject_outlook (now);
  CoreDay from = words_forecast_from (forecast);

  g_assert_cmpint (from, >, room->journal.today);
  g_assert_cmpint (forecast->p90, >, from);
  for (CoreDay day = from; day <= forecast->p90; day++)
    {
      app_weeks_choose (weeks (room), day);
      g_assert_true (may_moult (room, day, "14"));
      g_assert_nonnull (app_find_words (tasks (room), "next moult about"));
    }
  g_assert_false (may_moult (room, from - 1, "14"));
  g_assert_false (may_moult (room, forecast->p90 + 1, "14"));
}

static GtkDropDown *
choice (Room *room, guint nth)
{
  GtkWidget *wrap = gtk_widget_get_parent (app_find (page (room), GTK_TYPE_DROP_DOWN));
  GtkWidget *child = gtk_widget_get_first_child (wrap);

  for (guint i = 0; i < nth; i++)
    child = gtk_widget_get_next_sibling (child);
  return GTK_DROP_DOWN (child);
}

static void
choose_named (GtkDropDown *drop, const char *name)
{
  GListModel *model = gtk_drop_down_get_model (drop);

  for (guint i = 0; i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (GtkStringObject) item = g_list_model_get_item (model, i);

      if (g_str_equal (gtk_string_object_get_string (item), name))
        {
          gtk_drop_down_set_selected (drop, i);
          app_settle ();
          return;
        }
    }
  g_error ("no “%s” to choose", name);
}

static void
test_filters (Room *room, gconstpointer data)
{
  GtkWidget *near = app_find_button (page (room), "Near a moult");

  gtk_test_accessible_assert_property (choice (room, 1), GTK_ACCESSIBLE_PROPERTY_LABEL, "Kind");
  gtk_test_accessible_assert_property (choice (room, 2), GTK_ACCESSIBLE_PROPERTY_LABEL, "What is to be done");
  app_weeks_choose (weeks (room), room->journal.today + 3);
  assert_says (room, "feed ");
  choose_named (choice (room, 2), "Spray bottle");
  {
    g_autofree char *words = app_weeks_words (weeks (room), chosen (room));

    g_assert_null (strstr (words, "feed "));
  }
  choose_named (choice (room, 2), "all tasks");
  choose_named (choice (room, 1), "Giant Asian mantis");
  assert_says (room, "feed ");
  choose_named (choice (room, 1), "all kinds");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (near), TRUE);
  app_settle ();
  {
    g_autofree char *words = app_weeks_words (weeks (room), room->journal.today);
    g_autoptr (DeskSubject) now = fixture_now (room->journal.desk, room->cups[0]);

    g_assert_cmpint (desk_near_moult (now, room->journal.today), ==, strstr (words, "nothing to do") == NULL);
  }
}

static guint
n_rows (Room *room)
{
  guint n = 0;

  while (gtk_list_box_get_row_at_index (tasks (room), (int) n) != NULL)
    n++;
  return n;
}

/* The lines of what was missed; *line: the one that names that cup. */
static guint
missed_lines (Room *room, const char *number, GtkListBoxRow **line)
{
  GtkListBoxRow *row;
  guint lines = 0;

  *line = NULL;
  for (int i = 0; (row = gtk_list_box_get_row_at_index (tasks (room), i)) != NULL; i++)
    if (app_find_words (row, "One late round clears them") != NULL)
      {
        lines++;
        if (app_find_words (row, number) != NULL)
          *line = row;
      }
  return lines;
}

/* Two evenings later: one line for each of the two shelves, which Enter unfolds and folds again. */
static void
test_missed (Room *room, gconstpointer data)
{
  GtkListBoxRow *line;
  guint rows;

  desk_set_today (room->journal.desk, room->journal.today + 2);
  app_settle ();
  g_assert_cmpuint (missed_lines (room, "14", &line), ==, 2);
  g_assert_nonnull (line);
  rows = n_rows (room);
  g_signal_emit_by_name (tasks (room), "row-activated", line);
  app_settle ();
  g_assert_cmpuint (n_rows (room), >, rows);
  g_assert_cmpuint (missed_lines (room, "14", &line), ==, 2);
  g_signal_emit_by_name (tasks (room), "row-activated", line);
  app_settle ();
  g_assert_cmpuint (n_rows (room), ==, rows);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  CALENDAR ("keys", test_keys);
  CALENDAR ("day-opens", test_day_opens);
  CALENDAR ("moults", test_moults);
  CALENDAR ("filters", test_filters);
  CALENDAR ("missed", test_missed);
  return g_test_run ();
}
