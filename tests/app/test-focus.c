/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-focus.c — each control of a page can be reached with Tab and the arrows alone, and what is
 * done there needs no mouse. */
#include "app-fixture.h"

#include <string.h>

#include "app/app-animal-page.h"
#include "app/app-timeline.h"

#define MOST_STEPS 600

static GtkWidget *
focus_of (Room *room)
{
  return gtk_root_get_focus (GTK_ROOT (room->window));
}

static GtkWidget *
page_shown (Room *room)
{
  return gtk_stack_get_visible_child (room->window->pages);
}

/* One round with Tab through the whole window, from where the focus is; what it came by. */
static GHashTable *
tab_round (Room *room)
{
  GHashTable *seen = g_hash_table_new (NULL, NULL);

  for (int i = 0; i < MOST_STEPS; i++)
    {
      if (!gtk_widget_child_focus (GTK_WIDGET (room->window), GTK_DIR_TAB_FORWARD) &&
          !gtk_widget_child_focus (GTK_WIDGET (room->window), GTK_DIR_TAB_FORWARD)) /* at its end: anew */
        break;
      g_hash_table_add (seen, focus_of (room));
    }
  return seen;
}

/* Is it shown, and can it do something? A spin button has its own keys, and so has a row whose
 * buttons are for the mouse. */
static gboolean
is_control (GtkWidget *widget)
{
  if (gtk_widget_get_ancestor (widget, GTK_TYPE_SPIN_BUTTON) != NULL ||
      (gtk_widget_get_ancestor (widget, GTK_TYPE_LIST_BOX_ROW) != NULL &&
       !gtk_widget_get_focusable (widget)))
    return FALSE;
  return GTK_IS_BUTTON (widget) && gtk_widget_get_mapped (widget) && gtk_widget_is_sensitive (widget) &&
         gtk_widget_get_ancestor (widget, GTK_TYPE_POPOVER) == NULL;
}

/* Every control under `at` is among `seen`; counts them. */
static guint
assert_all_seen (GtkWidget *at, GHashTable *seen)
{
  guint n = 0;

  if (is_control (at))
    {
      g_autofree char *name = g_strdup_printf (
        "%s %s", G_OBJECT_TYPE_NAME (at),
        gtk_button_get_label (GTK_BUTTON (at)) != NULL ? gtk_button_get_label (GTK_BUTTON (at)) : "");

      g_test_message ("%s in %s focusable %d", name, G_OBJECT_TYPE_NAME (gtk_widget_get_parent (at)), gtk_widget_get_focusable (at));
      g_assert_true (g_hash_table_contains (seen, at));
      n++;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n += assert_all_seen (child, seen);
  return n;
}

static guint
assert_page_by_tab (Room *room)
{
  g_autoptr (GHashTable) seen = NULL;

  gtk_test_widget_wait_for_draw (page_shown (room));
  seen = tab_round (room);
  return assert_all_seen (page_shown (room), seen);
}

/* ---- the page of one ---- */

static void
show (Room *room, DeskSubject *subject)
{
  app_window_show_animal (room->window, desk_subject_id (subject));
  app_settle ();
}

/* Buttons, numbers, prey, and the menu of each entry. */
static void
test_animal (Room *room, gconstpointer data)
{
  fixture_record (room->journal.desk, room->cups[0], "note", "text=hello", 0);
  show (room, room->cups[0]);
  g_assert_cmpuint (assert_page_by_tab (room), >, 12);
}

/* The next Tab from the page itself goes to its first button. */
static void
test_animal_enters (Room *room, gconstpointer data)
{
  GtkWidget *page;

  show (room, room->cups[0]);
  page = page_shown (room);
  g_assert_true (gtk_widget_is_ancestor (focus_of (room), page));
  g_assert_false (GTK_IS_BUTTON (focus_of (room))); /* one that would write */
  g_assert_true (gtk_widget_child_focus (GTK_WIDGET (room->window), GTK_DIR_TAB_FORWARD));
  g_assert_true (gtk_widget_is_ancestor (focus_of (room), page));
  g_assert_true (GTK_IS_BUTTON (focus_of (room)));
}

/* A lot has other buttons, and a picture is a page of its own. */
static void
test_lot (Room *room, gconstpointer data)
{
  DeskSubject *lot = fixture_add (room->journal.desk, CORE_SUBJECT_LOT, "species=hierodula count=96 hatched=2026-05-20 place=A");

  fixture_record (room->journal.desk, lot, "note", "text=hello", 0);
  show (room, lot);
  g_assert_cmpuint (assert_page_by_tab (room), >, 8);
}

static void
test_plain_pages (Room *room, gconstpointer data)
{
  static const char *const names[] = { "calendar", "past", "cautions", "backups", "search", "profiles" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_test_message ("%s", names[i]);
      app_window_show_page (room->window, names[i]);
      app_settle ();
      (void) assert_page_by_tab (room);
    }
}

/* The menu of an entry, opened with keys; what is in it takes them. */
static void
test_entry_menu (Room *room, gconstpointer data)
{
  static const struct
  {
    guint keyval;
    GdkModifierType state;
  } keys[] = { { GDK_KEY_Menu, 0 }, { GDK_KEY_F10, GDK_SHIFT_MASK } };
  GtkWidget *timeline, *menu;

  fixture_record (room->journal.desk, room->cups[0], "note", "text=hello", 0);
  show (room, room->cups[0]);
  timeline = app_find (page_shown (room), APP_TYPE_TIMELINE);
  menu = app_find (timeline, GTK_TYPE_MENU_BUTTON);
  gtk_test_widget_wait_for_draw (page_shown (room));
  for (int i = 0; i < MOST_STEPS && !gtk_widget_is_ancestor (focus_of (room), menu); i++)
    gtk_widget_child_focus (GTK_WIDGET (room->window), GTK_DIR_TAB_FORWARD);
  g_assert_true (gtk_widget_is_ancestor (focus_of (room), menu));
  g_assert_false (app_key (timeline, GDK_KEY_F10, 0)); /* the window's own menu */
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      GtkPopover *popover = gtk_menu_button_get_popover (GTK_MENU_BUTTON (menu));

      g_assert_true (app_key (timeline, keys[i].keyval, keys[i].state));
      g_assert_true (gtk_widget_get_visible (GTK_WIDGET (popover)));
      gtk_popover_popdown (popover);
      app_settle ();
    }
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/focus/animal", test_animal);
  ROOM ("/focus/animal/enters", test_animal_enters);
  ROOM ("/focus/lot", test_lot);
  ROOM ("/focus/pages", test_plain_pages);
  ROOM ("/focus/entry-menu", test_entry_menu);
  return g_test_run ();
}
