/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-pages.c — calendar, animal page with its timeline, past animals: the keys that each of them
 * takes, what they write, and what they show after it. */
#include "app-fixture.h"

#include <glib/gstdio.h>
#include <string.h>

#include "app/app-animal-page.h"
#include "app/app-boards.h"
#include "app/app-calendar-list.h"
#include "app/app-calendar-page.h"
#include "app/app-past-page.h"
#include "app/app-quick.h"
#include "app/app-search-page.h"
#include "app/app-story.h"
#include "app/app-thumb.h"
#include "app/app-timeline.h"
#include "fixture.h"

static const char *
page_name (Room *room)
{
  return gtk_stack_get_visible_child_name (room->window->pages);
}

/* ---- calendar ---- */

static GtkWidget *
calendar (Room *room)
{
  return app_find (room->window, APP_TYPE_CALENDAR_PAGE);
}

static GtkListBox *
tasks (Room *room)
{
  return GTK_LIST_BOX (app_find (calendar (room), GTK_TYPE_LIST_BOX));
}

/* What takes the keys. */
static GtkWidget *
hands (Room *room)
{
  return app_find (calendar (room), APP_TYPE_CALENDAR_LIST);
}

/* The first row of that cup with those words in it; NULL none. */
static GtkWidget *
task_row (Room *room, const char *number, const char *part)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (tasks (room), i)) != NULL; i++)
    {
      GtkWidget *who = app_find (row, GTK_TYPE_LABEL);

      if (g_str_equal (gtk_label_get_text (GTK_LABEL (who)), number) &&
          app_find_words (row, part) != NULL)
        return GTK_WIDGET (row);
    }
  return NULL;
}

static void
set_up_calendar (Room *room, gconstpointer data)
{
  room_set_up_window (room, data);
  fixture_record (room->journal.desk, room->cups[0], "fed", "prey=hydei outcome=taken", -2);
  fixture_record (room->journal.desk, room->cups[0], "looked", "", -1);
  fixture_record (room->journal.desk, room->cups[1], "moulted", "outcome=good seen=yes", 0);
  app_window_show_page (room->window, "calendar");
  gtk_test_widget_wait_for_draw (app_find (room->window, APP_TYPE_CALENDAR_PAGE));
  app_settle ();
}

#define CALENDAR(path, func)                                                                       \
  g_test_add ("/page/calendar/" path, Room, NULL, set_up_calendar, func, room_tear_down)

static void
test_calendar_row (Room *room, gconstpointer data)
{
  GtkWidget *row = task_row (room, "14", "Feed");

  g_assert_nonnull (row);
  g_assert_true (gtk_widget_get_focusable (row));
  gtk_test_accessible_assert_role (row, GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  g_assert_true (
    gtk_test_accessible_has_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL));
  g_assert_nonnull (app_find_words (calendar (room), "due today"));
  g_assert_nonnull (app_find_words (calendar (room), "Today"));
}

static void
test_calendar_done (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);
  GtkWidget *focus;

  gtk_widget_grab_focus (task_row (room, "14", "Feed"));
  g_assert_true (app_key (hands (room), GDK_KEY_space, 0));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_FED);
  g_assert_cmpint (core_entry_code (room_last (room, 0), CORE_KEY_OUTCOME, -1), ==,
                   CORE_FED_OFFERED);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Done: 14: Feed")); /* whom and what */
  focus = gtk_root_get_focus (GTK_ROOT (room->window)); /* stays in the list, for the next task */
  g_assert_true (focus != NULL && GTK_IS_LIST_BOX_ROW (focus));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (room_n_entries (room, 0) == before);
  g_assert_nonnull (task_row (room, "14", "Feed"));
}

static void
test_calendar_put_off (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  gtk_widget_grab_focus (task_row (room, "14", "Feed"));
  g_assert_true (app_key (hands (room), GDK_KEY_P, GDK_SHIFT_MASK));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_PUT_OFF);
  g_assert_cmpint ((CoreDay) core_entry_get (room_last (room, 0), CORE_KEY_UNTIL)->n, ==,
                   room->journal.today + 1);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Put off to "));
}

/* Prey that can bite what hangs cannot wait until tomorrow. */
static void
test_calendar_not_put_off (Room *room, gconstpointer data)
{
  gsize before;

  fixture_record (room->journal.desk, room->cups[2], "fed", "prey=cricket outcome=offered", -1);
  fixture_record (room->journal.desk, room->cups[2], "sign", "sign=hanging", 0);
  app_settle ();
  before = room_n_entries (room, 2);
  g_assert_nonnull (task_row (room, "31", "Take the prey out"));
  g_assert_nonnull (app_find_button (task_row (room, "31", "Take the prey out"), "Done"));
  g_assert_null (app_find_button (task_row (room, "31", "Take the prey out"), "Put off"));
  gtk_widget_grab_focus (task_row (room, "31", "Take the prey out"));
  g_assert_true (app_key (hands (room), GDK_KEY_p, 0));
  app_settle ();
  g_assert_nonnull (strstr (app_said (room->window), "Not put off: 31"));
  g_assert_cmpuint (room_n_entries (room, 2), ==, before);
}

/* It begins on the first task; a key that comes before the page is drawn writes nothing. */
static void
test_calendar_begins (Room *room, gconstpointer data)
{
  GtkWidget *first;
  gsize before = room_n_entries (room, 0);

  app_window_show_page (room->window, "shelves");
  gtk_test_widget_wait_for_draw (GTK_WIDGET (room->window));
  app_window_show_page (room->window, "calendar");
  first = GTK_WIDGET (gtk_list_box_get_row_at_index (tasks (room), 0));
  g_assert_nonnull (first);
  g_assert_true (gtk_root_get_focus (GTK_ROOT (room->window)) == first);
  gtk_widget_grab_focus (task_row (room, "14", "Feed"));
  g_assert_true (app_key_at_once (hands (room), GDK_KEY_space, 0));
  g_assert_true (app_key_at_once (hands (room), GDK_KEY_p, 0));
  gtk_test_widget_wait_for_draw (calendar (room));
  app_settle ();
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  g_assert_true (app_key (hands (room), GDK_KEY_space, 0));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
}

/* A cup that is to be left alone has a row of its own, and no key does anything in it. */
static void
test_calendar_alone (Room *room, gconstpointer data)
{
  GtkWidget *row = task_row (room, "22", "again");
  gsize before = room_n_entries (room, 1);

  g_assert_nonnull (row);
  g_assert_nonnull (app_find_words (calendar (room), "Leave alone"));
  g_assert_null (app_find_button (row, "Done"));
  gtk_widget_grab_focus (row);
  (void) app_key (hands (room), GDK_KEY_space, 0);
  (void) app_key (hands (room), GDK_KEY_p, 0);
  app_settle ();
  g_assert_cmpuint (room_n_entries (room, 1), ==, before);
}

static void
test_calendar_opens (Room *room, gconstpointer data)
{
  GtkWidget *row = task_row (room, "14", "Feed");

  g_signal_emit_by_name (tasks (room), "row-activated", row);
  app_settle ();
  g_assert_cmpstr (page_name (room), ==, "animal");
  g_assert_true (core_id_equal (app_animal_page_animal (
                                  APP_ANIMAL_PAGE (app_find (room->window, APP_TYPE_ANIMAL_PAGE))),
                                desk_subject_id (room->cups[0])));
}

static void
test_calendar_buttons (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  app_press (app_find_button (task_row (room, "14", "Feed"), "Put off"));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_PUT_OFF);
}

static void
test_calendar_place (Room *room, gconstpointer data)
{
  GtkWidget *place = app_find (calendar (room), GTK_TYPE_DROP_DOWN);

  gtk_test_accessible_assert_property (place, GTK_ACCESSIBLE_PROPERTY_LABEL, "Place");
  g_assert_cmpuint (g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (place))), ==,
                    3);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (place), 2); /* Corner: 70 alone */
  app_settle ();
  g_assert_null (task_row (room, "14", ""));
  g_assert_null (task_row (room, "22", ""));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (place), 0);
  app_settle ();
  g_assert_nonnull (task_row (room, "14", ""));
}

static void
test_calendar_weeks (Room *room, gconstpointer data)
{
  GtkWidget *more = app_find_button (calendar (room), "Show another week");
  guint presses = 0;

  g_assert_false (gtk_widget_get_visible (more)); /* the weeks themselves go on */
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (app_find_button (calendar (room), "List")), TRUE);
  for (; gtk_widget_get_visible (more) && presses < 9; presses++)
    app_press (more);
  g_assert_cmpuint (presses, ==, 3); /* four weeks are planned */
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (app_find_button (calendar (room), "Weeks")), TRUE);
}

/* ---- the animal page ---- */

static AppAnimalPage *
animal_page (Room *room)
{
  return APP_ANIMAL_PAGE (app_find (room->window, APP_TYPE_ANIMAL_PAGE));
}

static GtkWidget *
timeline (Room *room)
{
  return app_find (animal_page (room), APP_TYPE_TIMELINE);
}

static void
show (Room *room, guint cup)
{
  app_window_show_animal (room->window, desk_subject_id (room->cups[cup]));
  app_settle ();
}

static void
test_animal_words (Room *room, gconstpointer data)
{
  show (room, 0);
  g_assert_nonnull (app_find_words (animal_page (room), "14"));
  g_assert_nonnull (app_find_words (animal_page (room), "Hierodula membranacea"));
  g_assert_nonnull (app_find_words (animal_page (room), "Next moult"));
  show (room, 4); /* of a kind that nobody knows */
  g_assert_null (app_find_words (animal_page (room), "Hierodula"));
  show (room, 5); /* adult */
  g_assert_nonnull (app_find_words (animal_page (room), "dult"));
}

/* What came with a stage of its own is still of its own hatch day. */
static void
test_animal_hatched (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) animal =
    fixture_add (room->journal.desk, CORE_SUBJECT_ANIMAL,
                 "species=hierodula number=90 hatched=2026-02-03 acquired=2026-05-20 stage=L5");

  app_window_show_animal (room->window, desk_subject_id (animal));
  app_settle ();
  g_assert_nonnull (app_find_words (animal_page (room), "hatched 3 Feb"));
  g_assert_nonnull (app_find_words (animal_page (room), "came 20 May"));
}

static void
test_animal_letters (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  show (room, 0);
  g_assert_true (app_key (animal_page (room), GDK_KEY_l, 0));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_LOOKED);
  g_assert_false (app_key (animal_page (room), GDK_KEY_l, GDK_CONTROL_MASK));
  fixture_record (room->journal.desk, room->cups[0], "died", "cause=age", 0);
  app_settle ();
  g_assert_false (app_key (animal_page (room), GDK_KEY_l, 0));
  g_assert_null (app_find_words (app_find (animal_page (room), APP_TYPE_QUICK), "nothing"));
}

/* Its adding is undone while its page is open: the page empties, no letter writes. */
static void
test_animal_gone (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) animal =
    fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=91 place=A");

  app_window_show_animal (room->window, desk_subject_id (animal));
  app_settle ();
  g_assert_nonnull (app_find_words (animal_page (room), "91"));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Took back"));
  g_assert_false (app_key (animal_page (room), GDK_KEY_l, 0));
  app_settle ();
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.redo", NULL);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Put back"));
}

static void
test_animal_drop (Room *room, gconstpointer data)
{
  g_autoptr (GBytes) text = g_bytes_new_static ("no picture", 10);
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (320, 240);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, NULL);
  g_autofree char *bad = room_file (room, "bad.jpg", text);
  g_autofree char *good = room_file (room, "good.jpg", jpeg);
  gsize before = room_n_entries (room, 0);
  GtkWidget *thumb;

  show (room, 0);
  g_assert_true (app_drop_file (animal_page (room), bad, 9, 9));
  APP_WAIT (strstr (app_said (room->window), "not a picture") != NULL);
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  g_assert_true (app_drop_file (animal_page (room), good, 9, 9));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  APP_WAIT ((thumb = app_find (timeline (room), APP_TYPE_THUMB)) != NULL);
  gtk_test_accessible_assert_role (thumb, GTK_ACCESSIBLE_ROLE_IMG);
  APP_WAIT (gtk_picture_get_paintable (GTK_PICTURE (app_find (thumb, GTK_TYPE_PICTURE))) != NULL);
  APP_WAIT (app_said (room->window)[0] == 'S');
  g_assert_true (app_drop_file (animal_page (room), good, 9, 9)); /* the same once more */
  APP_WAIT (strstr (app_said (room->window), "already") != NULL);
  /* "Ctrl+Z takes it back" would be wrong on the bench, where that key is of the marks. */
  app_window_show_bench (room->window, desk_subject_id (room->cups[0]), room_last (room, 0)->id);
  g_assert_cmpstr (app_said (room->window), ==, "");
}

/* The window closes while the small picture is still being made. */
static void
test_animal_drop_and_close (Room *room, gconstpointer data)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (640, 480);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, NULL);
  g_autofree char *good = room_file (room, "good.jpg", jpeg);

  show (room, 0);
  g_assert_true (app_drop_file (animal_page (room), good, 9, 9));
  APP_WAIT (app_find (timeline (room), APP_TYPE_THUMB) != NULL);
  room_close_window (room);
}

/* The file of a picture was taken away behind our back: said in its place. */
static void
test_animal_photo_missing (Room *room, gconstpointer data)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (331, 240);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, NULL);
  g_autofree char *good = room_file (room, "good.jpg", jpeg);
  g_autofree char *path = NULL;

  show (room, 1);
  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  g_assert_true (app_drop_file (animal_page (room), good, 9, 9));
  APP_WAIT (room_last (room, 0)->kind == CORE_KIND_PHOTO);
  path = desk_photo_path (room->journal.desk, room_last (room, 0)->id);
  show (room, 1);
  g_assert_cmpint (g_unlink (path), ==, 0);
  {
    g_autofree char *cache =
      g_build_filename (g_get_user_cache_dir (), "mantidary", "thumbnails", NULL);
    GDir *dir = g_dir_open (cache, 0, NULL);
    const char *name;

    while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
      {
        g_autofree char *one = g_build_filename (cache, name, NULL);

        (void) g_unlink (one);
      }
    g_clear_pointer (&dir, g_dir_close);
  }
  show (room, 0);
  APP_WAIT (app_find_words (timeline (room), "cannot be shown") != NULL ||
            app_find_words (timeline (room), "missing") != NULL);
}

/* ---- timeline ---- */

static void
test_timeline_take_back (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);
  GtkWidget *show_all;

  fixture_record (room->journal.desk, room->cups[0], "note", "text=hello", 0);
  show (room, 0);
  g_assert_nonnull (app_find_words (timeline (room), "hello"));
  app_press (app_find_button (timeline (room), "Take back")); /* of the newest */
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Taken back"));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  g_assert_null (app_find_words (timeline (room), "hello"));
  show_all = app_find (timeline (room), GTK_TYPE_CHECK_BUTTON);
  g_assert_true (gtk_widget_get_visible (show_all));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (show_all), TRUE);
  app_settle ();
  g_assert_nonnull (app_find_words (timeline (room), "hello"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (show_all), FALSE);
  app_settle ();
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_nonnull (app_find_words (timeline (room), "hello"));
}

static void
test_timeline_correct (Room *room, gconstpointer data)
{
  fixture_record (room->journal.desk, room->cups[0], "note", "text=helo", 0);
  show (room, 0);
  app_press (app_find_button (timeline (room), "Correct…"));
  g_assert_nonnull (app_form_on_top ());
  gtk_editable_set_text (GTK_EDITABLE (gtk_label_get_mnemonic_widget (
                           GTK_LABEL (app_find_words (app_form_on_top (), "text")))),
                         "hello");
  app_press (gtk_window_get_default_widget (app_form_on_top ()));
  APP_WAIT (app_form_on_top () == NULL);
  APP_WAIT (app_find_words (timeline (room), "hello") != NULL);
}

static void
test_timeline_long (Room *room, gconstpointer data)
{
  GtkWidget *more;
  guint before;

  for (int i = 0; i < 110; i++)
    fixture_record (room->journal.desk, room->cups[0], "misted", "", -i % 50);
  show (room, 0);
  more = app_find_button (timeline (room), "Show earlier entries");
  g_assert_true (gtk_widget_get_visible (more));
  before = app_count (timeline (room), GTK_TYPE_MENU_BUTTON);
  g_assert_cmpuint (before, ==, 100);
  app_press (more);
  g_assert_cmpuint (app_count (timeline (room), GTK_TYPE_MENU_BUTTON), >, before);
  g_assert_false (gtk_widget_get_visible (more));
}

static void
assert_menus_named (GtkWidget *at)
{
  if (GTK_IS_MENU_BUTTON (at))
    g_assert_true (
      gtk_test_accessible_has_property (GTK_ACCESSIBLE (at), GTK_ACCESSIBLE_PROPERTY_LABEL));
  else
    for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL;
         child = gtk_widget_get_next_sibling (child))
      assert_menus_named (child);
}

static void
test_timeline_named (Room *room, gconstpointer data)
{
  show (room, 0);
  g_assert_cmpuint (app_count (timeline (room), GTK_TYPE_MENU_BUTTON), >, 0);
  assert_menus_named (timeline (room));
}

/* ---- past animals ---- */

static void
test_past (Room *room, gconstpointer data)
{
  GtkWidget *page = app_find (room->window, APP_TYPE_PAST_PAGE);
  GtkWidget *list = app_find (page, GTK_TYPE_LIST_BOX);
  GtkListBoxRow *row;

  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.past", NULL);
  g_assert_cmpstr (page_name (room), ==, "past");
  g_assert_false (gtk_widget_get_visible (list));
  g_assert_nonnull (app_find_words (page, "There are none yet"));
  fixture_record (room->journal.desk, room->cups[2], "died", "cause=age", -3);
  fixture_record (room->journal.desk, room->cups[3], "left", "how=sold", -1);
  app_settle ();
  g_assert_true (gtk_widget_get_visible (list));
  row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), 0);
  g_assert_nonnull (app_find_words (row, "52")); /* the latest first */
  g_assert_true (
    gtk_test_accessible_has_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL));
  row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), 1);
  g_assert_nonnull (app_find_words (row, "31"));
  g_assert_null (gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), 2));
  g_signal_emit_by_name (list, "row-activated", row);
  app_settle ();
  g_assert_cmpstr (page_name (room), ==, "animal");
  g_assert_nonnull (app_find_words (animal_page (room), "31"));
  g_assert_null (app_boards_find_number (APP_BOARDS (app_find (room->window, APP_TYPE_BOARDS)),
                                         "31")); /* its cup stands empty */
}

/* The focus begins on a row, which opens; the button that writes is the next. */
static void
test_past_begins (Room *room, gconstpointer data)
{
  GtkWidget *row, *focus;
  gsize before;

  fixture_record (room->journal.desk, room->cups[2], "died", "cause=age", -3);
  fixture_record (room->journal.desk, room->cups[3], "left", "how=sold", -1);
  before = room_n_entries (room, 3);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.past", NULL);
  gtk_test_widget_wait_for_draw (app_find (room->window, APP_TYPE_PAST_PAGE));
  focus = gtk_root_get_focus (GTK_ROOT (room->window));
  row = GTK_WIDGET (gtk_list_box_get_row_at_index (
    GTK_LIST_BOX (app_find (app_find (room->window, APP_TYPE_PAST_PAGE), GTK_TYPE_LIST_BOX)), 0));
  g_assert_true (focus == row);
  g_assert_cmpint (gtk_widget_get_height (row), ==, gtk_widget_get_height (gtk_widget_get_next_sibling (row)));
  g_assert_true (gtk_widget_child_focus (GTK_WIDGET (room->window), GTK_DIR_TAB_FORWARD));
  g_assert_true (gtk_root_get_focus (GTK_ROOT (room->window)) == app_find_button (row, "It is back"));
  gtk_widget_grab_focus (row);
  gtk_widget_activate (row);
  app_settle ();
  g_assert_cmpstr (page_name (room), ==, "animal");
  g_assert_cmpuint (room_n_entries (room, 3), ==, before);
}

/* ---- finding ---- */

static GtkListBox *
hits_of (Room *room)
{
  return GTK_LIST_BOX (app_find (app_find (room->window, APP_TYPE_SEARCH_PAGE), GTK_TYPE_LIST_BOX));
}

static guint
n_hits (Room *room)
{
  guint n = 0;

  while (gtk_list_box_get_row_at_index (hits_of (room), (int) n) != NULL)
    n++;
  return n;
}

/* As one types; Down goes into the list, Return opens, Escape empties and then goes back. */
static void
test_search (Room *room, gconstpointer data)
{
  GtkWidget *entry;

  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.search", NULL);
  app_settle ();
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "search");
  entry = app_find (app_find (room->window, APP_TYPE_SEARCH_PAGE), GTK_TYPE_SEARCH_ENTRY);
  gtk_editable_set_text (GTK_EDITABLE (entry), "alcove");
  APP_WAIT (n_hits (room) == 6); /* the shelf and its five cups */
  gtk_editable_set_text (GTK_EDITABLE (entry), "31");
  APP_WAIT (n_hits (room) == 1);
  gtk_editable_set_text (GTK_EDITABLE (entry), "nobody");
  APP_WAIT (n_hits (room) == 0 && app_find_words (app_find (room->window, APP_TYPE_SEARCH_PAGE), "Nothing was found") != NULL);
  gtk_editable_set_text (GTK_EDITABLE (entry), "52");
  APP_WAIT (n_hits (room) == 1);
  g_assert_true (app_key (entry, GDK_KEY_Down, 0));
  g_assert_true (gtk_widget_is_focus (GTK_WIDGET (gtk_list_box_get_row_at_index (hits_of (room), 0))));
  g_signal_emit_by_name (entry, "activate");
  app_settle ();
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "animal");
  app_window_go_back (room->window);
  app_settle ();
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "search");
  g_signal_emit_by_name (entry, "stop-search");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "");
  g_signal_emit_by_name (entry, "stop-search");
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "shelves");
}

/* An egg case is said to be one, and has no stage that could be unknown. */
static void
test_search_other (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) egg = fixture_add (room->journal.desk, CORE_SUBJECT_EGGCASE, "species=hierodula place=A");
  GtkWidget *page = app_find (room->window, APP_TYPE_SEARCH_PAGE);

  g_assert_nonnull (egg);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.search", NULL);
  app_settle ();
  gtk_editable_set_text (GTK_EDITABLE (app_find (page, GTK_TYPE_SEARCH_ENTRY)), "E1");
  APP_WAIT (n_hits (room) == 1);
  g_assert_nonnull (app_find_words (page, "Egg case · giant Asian mantis"));
  g_assert_null (app_find_words (page, "stage unknown"));
}

/* What is written while the page is shown is found at once. */
static void
test_search_follows (Room *room, gconstpointer data)
{
  GtkWidget *entry;

  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.search", NULL);
  entry = app_find (app_find (room->window, APP_TYPE_SEARCH_PAGE), GTK_TYPE_SEARCH_ENTRY);
  gtk_editable_set_text (GTK_EDITABLE (entry), "upside");
  APP_WAIT (app_find_words (app_find (room->window, APP_TYPE_SEARCH_PAGE), "Nothing was found") != NULL);
  fixture_record (room->journal.desk, room->cups[2], "note", "text=upside-down", 0);
  APP_WAIT (n_hits (room) == 1);
  g_assert_nonnull (app_find_words (hits_of (room), "upside-down"));
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  CALENDAR ("row", test_calendar_row);
  CALENDAR ("done", test_calendar_done);
  CALENDAR ("put-off", test_calendar_put_off);
  CALENDAR ("not-put-off", test_calendar_not_put_off);
  CALENDAR ("begins", test_calendar_begins);
  CALENDAR ("alone", test_calendar_alone);
  CALENDAR ("opens", test_calendar_opens);
  CALENDAR ("buttons", test_calendar_buttons);
  CALENDAR ("place", test_calendar_place);
  CALENDAR ("weeks", test_calendar_weeks);
  ROOM ("/page/animal/words", test_animal_words);
  ROOM ("/page/animal/hatched", test_animal_hatched);
  ROOM ("/page/animal/letters", test_animal_letters);
  ROOM ("/page/animal/gone", test_animal_gone);
  ROOM ("/page/animal/drop", test_animal_drop);
  ROOM ("/page/animal/drop-and-close", test_animal_drop_and_close);
  ROOM ("/page/animal/photo-missing", test_animal_photo_missing);
  ROOM ("/page/timeline/take-back", test_timeline_take_back);
  ROOM ("/page/timeline/correct", test_timeline_correct);
  ROOM ("/page/timeline/long", test_timeline_long);
  ROOM ("/page/timeline/named", test_timeline_named);
  ROOM ("/page/past", test_past);
  ROOM ("/page/past/begins", test_past_begins);
  ROOM ("/page/search", test_search);
  ROOM ("/page/search/other", test_search_other);
  ROOM ("/page/search/follows", test_search_follows);
  return g_test_run ();
}
