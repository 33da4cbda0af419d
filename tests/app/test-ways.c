/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-ways.c — how one gets to a cup and back: a number in the round line, Escape through pages that
 * were visited twice, F4 from anywhere. */
#include "app-fixture.h"
#include "form-hands.h"

#include "app/app-round-line.h"
#include "app/app-shelves-page.h"

static GtkWidget *
line_of (Room *room)
{
  return app_find (room->window, APP_TYPE_ROUND_LINE);
}

static GtkEditable *
entry_of (Room *room)
{
  return GTK_EDITABLE (app_find (line_of (room), GTK_TYPE_ENTRY));
}

static const char *
page_name (Room *room)
{
  return gtk_stack_get_visible_child_name (room->window->pages);
}

static void
enter (Room *room)
{
  g_signal_emit_by_name (entry_of (room), "activate");
  app_settle ();
}

static void
type (Room *room, const char *text)
{
  gtk_editable_set_text (entry_of (room), text);
  app_settle ();
}

/* ---- a number in the round line ---- */

static void
test_number_opens (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 2);
  CoreId id;

  type (room, "31");
  g_assert_nonnull (app_find_words (line_of (room), "Enter opens it; or go on"));
  g_assert_null (app_find_words (line_of (room), "not yet"));
  enter (room);
  g_assert_cmpstr (gtk_editable_get_text (entry_of (room)), ==, "");
  id = app_shelves_page_chosen (APP_SHELVES_PAGE (gtk_stack_get_visible_child (room->window->pages)));
  g_assert_true (core_id_equal (id, desk_subject_id (room->cups[2])));
  g_assert_cmpuint (room_n_entries (room, 2), ==, before); /* nothing is written */
  type (room, " 70 "); /* of the other shelf */
  enter (room);
  id = app_shelves_page_chosen (APP_SHELVES_PAGE (gtk_stack_get_visible_child (room->window->pages)));
  g_assert_true (core_id_equal (id, desk_subject_id (room->cups[5])));
}

/* Where it is none, or more is typed, the line asks on as before. */
static void
test_number_is_a_round (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 2);

  type (room, "999");
  g_assert_nonnull (app_find_words (line_of (room), "not yet"));
  enter (room);
  g_assert_cmpstr (gtk_editable_get_text (entry_of (room)), ==, "999");
  type (room, "31 refused");
  g_assert_null (app_find_words (line_of (room), "Enter opens it"));
  enter (room);
  APP_WAIT (gtk_editable_get_text (entry_of (room))[0] == '\0');
  g_assert_cmpuint (room_n_entries (room, 2), ==, before + 1);
}

/* ---- back ---- */

/* From animal to Find and to the animal again, many times: Escape still leads out at once. */
static void
test_no_to_and_fro (Room *room, gconstpointer data)
{
  for (int i = 0; i < 5; i++)
    {
      app_window_show_page (room->window, "search");
      app_window_show_animal (room->window, desk_subject_id (room->cups[i]));
    }
  app_window_go_back (room->window);
  g_assert_cmpstr (page_name (room), ==, "search");
  app_window_go_back (room->window);
  g_assert_cmpstr (page_name (room), ==, "shelves");
}

/* ---- another day ---- */

static void
test_another_day_from_anywhere (Room *room, gconstpointer data)
{
  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (room->window), "win.round-day", NULL)); /* F4 */
  app_settle ();
  g_assert_nonnull (app_form_on_top ());
  g_assert_cmpstr (gtk_window_get_title (app_form_on_top ()), ==, "A round of another day");
  gtk_window_destroy (app_form_on_top ());
}

/* ---- what is printed ---- */

static GtkWindow *
print_dialog (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (g_str_equal (G_OBJECT_TYPE_NAME (window), "GtkPrintUnixDialog"))
        return window;
    }
  return NULL;
}

/* The sheet is of the shelf on which the animal shown stands, and the dialog says so. */
static void
test_print_says_what (Room *room, gconstpointer data)
{
  app_window_show_animal (room->window, desk_subject_id (room->cups[5])); /* on Shelf B; A was shown before */
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.print-sheet", "s", "shown"); /* Ctrl+P */
  app_settle ();
  g_assert_nonnull (print_dialog ());
  g_assert_cmpstr (gtk_window_get_title (print_dialog ()), ==, "Print: Round sheet: Corner");
  gtk_dialog_response (GTK_DIALOG (print_dialog ()), GTK_RESPONSE_CANCEL);
  APP_WAIT (print_dialog () == NULL);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/ways/number-opens", test_number_opens);
  ROOM ("/ways/number-is-a-round", test_number_is_a_round);
  ROOM ("/ways/no-to-and-fro", test_no_to_and_fro);
  ROOM ("/ways/another-day-from-anywhere", test_another_day_from_anywhere);
  ROOM ("/ways/print-says-what", test_print_says_what);
  return g_test_run ();
}
