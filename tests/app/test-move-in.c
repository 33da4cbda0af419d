/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-move-in.c — the page for many animals: its keys, its range bar, what it says, what it saves. */
#include "app-fixture.h"

#include <string.h>

#include "app/app-move-in-page.h"
#include "app/app-move-in-row.h"
#include "app/app-move-in-table.h"
#include "app/app-round-line.h"
#include "desk/move-in-model.h"

static GtkWidget *
page (Room *room)
{
  return app_find (room->window, APP_TYPE_MOVE_IN_PAGE);
}

static AppMoveInTable *
table (Room *room)
{
  return APP_MOVE_IN_TABLE (app_find (page (room), APP_TYPE_MOVE_IN_TABLE));
}

/* The field that stands on the cell in hand. */
static GtkWidget *
cell (Room *room)
{
  return app_find (table (room), GTK_TYPE_ENTRY);
}

static void
set_up (Room *room, gconstpointer data)
{
  room_set_up_window (room, data);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.move-in", NULL);
  app_settle ();
}

#define PAGE(path, func) g_test_add ("/move-in/" path, Room, NULL, set_up, func, room_tear_down)

static void
key (Room *room, guint keyval, GdkModifierType state)
{
  (void) app_key (cell (room), keyval, state);
}

static void
types (Room *room, const char *text)
{
  key (room, GDK_KEY_a, 0); /* the field is no longer as it was taken */
  gtk_editable_set_text (GTK_EDITABLE (cell (room)), text);
  app_settle ();
}

static void
at (Room *room, guint row, MoveInColumn column)
{
  g_assert_cmpuint (app_move_in_table_row (table (room)), ==, row);
  g_assert_cmpint (app_move_in_table_column (table (room)), ==, column);
}

static const char *
in_cell (Room *room)
{
  return gtk_editable_get_text (GTK_EDITABLE (cell (room)));
}

static GtkEntry *
bar_entry (Room *room, const char *label)
{
  GtkWidget *found = app_find_labelled (page (room), GTK_TYPE_ENTRY, label);

  g_assert_nonnull (found);
  return GTK_ENTRY (found);
}

static void
fill (Room *room, const char *range, const char *value)
{
  gtk_editable_set_text (GTK_EDITABLE (bar_entry (room, "Numbers to fill in")), range);
  gtk_editable_set_text (GTK_EDITABLE (bar_entry (room, "Value for all of them")), value);
  g_signal_emit_by_name (bar_entry (room, "Value for all of them"), "activate");
  app_settle ();
}

/* ---- moving ---- */

static void
test_begins (Room *room, gconstpointer data)
{
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "move-in");
  at (room, 0, MOVE_IN_PLACE);
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (room->window)), cell (room)));
  g_assert_nonnull (app_find_words (page (room), "a shelf or home, by its name"));
  gtk_test_accessible_assert_role (table (room), GTK_ACCESSIBLE_ROLE_TABLE);
  gtk_test_accessible_assert_property (cell (room), GTK_ACCESSIBLE_PROPERTY_LABEL, "Place, 71");
}

static void
test_tab_and_enter (Room *room, gconstpointer data)
{
  types (room, "Alcove");
  for (int i = 0; i < 4; i++)
    key (room, GDK_KEY_Tab, 0);
  at (room, 0, MOVE_IN_STAGE);
  types (room, "4");
  key (room, GDK_KEY_Tab, 0);
  types (room, "f");
  key (room, GDK_KEY_Return, 0); /* where typing began */
  at (room, 1, MOVE_IN_PLACE);
  g_assert_cmpstr (in_cell (room), ==, "Alcove"); /* carried down */
  key (room, GDK_KEY_Up, 0);
  at (room, 0, MOVE_IN_PLACE);
  key (room, GDK_KEY_Right, 0);
  at (room, 0, MOVE_IN_AT);
  key (room, GDK_KEY_Return, 0); /* an arrow begins anew */
  at (room, 1, MOVE_IN_AT);
  key (room, GDK_KEY_ISO_Left_Tab, GDK_SHIFT_MASK);
  at (room, 1, MOVE_IN_PLACE);
  key (room, GDK_KEY_ISO_Left_Tab, GDK_SHIFT_MASK);
  at (room, 0, MOVE_IN_FED);
  key (room, GDK_KEY_Tab, 0); /* past the last column */
  at (room, 1, MOVE_IN_AT);
  key (room, GDK_KEY_Return, GDK_SHIFT_MASK);
  at (room, 0, MOVE_IN_AT);
  key (room, GDK_KEY_End, GDK_CONTROL_MASK);
  at (room, 1, MOVE_IN_AT);
}

static void
test_text_keys (Room *room, gconstpointer data)
{
  types (room, "Alc");
  gtk_editable_set_position (GTK_EDITABLE (cell (room)), 1);
  g_assert_false (app_key (cell (room), GDK_KEY_Right, 0)); /* in the text */
  gtk_editable_set_position (GTK_EDITABLE (cell (room)), 3);
  g_assert_true (app_key (cell (room), GDK_KEY_Right, 0));
  at (room, 0, MOVE_IN_AT);
  key (room, GDK_KEY_Left, 0);
  at (room, 0, MOVE_IN_PLACE);
  types (room, "Corner");
  g_assert_true (app_key (cell (room), GDK_KEY_Escape, 0)); /* as it was */
  g_assert_cmpstr (in_cell (room), ==, "Alc");
  g_assert_true (app_key (cell (room), GDK_KEY_Escape, 0)); /* nothing to give up: back */
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "shelves");
}

/* A cell that was just taken is written over, also where its selection was lost. */
static void
test_first_letter (Room *room, gconstpointer data)
{
  types (room, "Alc");
  key (room, GDK_KEY_Tab, 0);
  key (room, GDK_KEY_ISO_Left_Tab, GDK_SHIFT_MASK);
  gtk_editable_select_region (GTK_EDITABLE (cell (room)), 3, 3);
  /* At once: the next turn of the loop may take it again. */
  g_assert_false (app_key_at_once (cell (room), GDK_KEY_C, GDK_SHIFT_MASK));
  g_assert_true (gtk_editable_get_selection_bounds (GTK_EDITABLE (cell (room)), NULL, NULL));
  key (room, GDK_KEY_Tab, 0);
  key (room, GDK_KEY_ISO_Left_Tab, GDK_SHIFT_MASK);
  g_assert_false (app_key (cell (room), GDK_KEY_End, 0)); /* on with what stands there */
  gtk_editable_select_region (GTK_EDITABLE (cell (room)), 3, 3);
  g_assert_false (app_key_at_once (cell (room), GDK_KEY_o, 0));
  g_assert_false (gtk_editable_get_selection_bounds (GTK_EDITABLE (cell (room)), NULL, NULL));
}

static void
test_ditto (Room *room, gconstpointer data)
{
  fill (room, "101-104", "Alcove");
  app_move_in_table_go (table (room), 0, MOVE_IN_SPECIES);
  types (room, "hier");
  key (room, GDK_KEY_Return, 0);
  key (room, GDK_KEY_d, GDK_CONTROL_MASK);
  at (room, 2, MOVE_IN_SPECIES);
  types (room, "\"");
  key (room, GDK_KEY_Down, 0);
  key (room, GDK_KEY_Up, 0);
  g_assert_cmpstr (in_cell (room), ==, "hier");
  app_move_in_table_go (table (room), 0, MOVE_IN_STAGE);
  types (room, "5");
  key (room, GDK_KEY_D, GDK_CONTROL_MASK | GDK_SHIFT_MASK);
  key (room, GDK_KEY_Down, 0);
  g_assert_cmpstr (in_cell (room), ==, "5");
  key (room, GDK_KEY_Delete, GDK_CONTROL_MASK); /* the row goes */
  g_assert_cmpuint (app_count (table (room), APP_TYPE_MOVE_IN_ROW), ==, 3);
}

/* ---- what it says ---- */

static void
test_says (Room *room, gconstpointer data)
{
  GtkWidget *row = app_find (table (room), APP_TYPE_MOVE_IN_ROW);
  int before, after;

  gtk_widget_measure (row, GTK_ORIENTATION_VERTICAL, -1, &before, NULL, NULL, NULL);
  app_move_in_table_go (table (room), 0, MOVE_IN_SPECIES);
  types (room, "hier");
  g_assert_nonnull (app_find_words (page (room), "Hierodula membranacea"));
  g_assert_nonnull (app_find_words (page (room), "1 animal"));
  types (room, "hirodula");
  g_assert_nonnull (app_find_words (page (room), "Is it Hierodula membranacea?"));
  g_assert_nonnull (app_find_words (page (room), "1 cell is not understood"));
  gtk_widget_measure (row, GTK_ORIENTATION_VERTICAL, -1, &after, NULL, NULL, NULL);
  g_assert_cmpint (after, >, before); /* it stands under its row, too */
  gtk_test_accessible_assert_role (row, GTK_ACCESSIBLE_ROLE_ROW);
  g_assert_true (gtk_test_accessible_has_state (GTK_ACCESSIBLE (cell (room)), GTK_ACCESSIBLE_STATE_INVALID));
  app_move_in_table_go (table (room), 0, MOVE_IN_FED);
  g_assert_nonnull (app_find_words (page (room), "Last fed: today"));
  g_assert_true (app_key (page (room), GDK_KEY_F8, 0));
  at (room, 0, MOVE_IN_SPECIES);
}

/* F8 goes to what is wrong, and Enter goes on where typing began, as the head of that column shows. */
static void
test_mend_and_on (Room *room, gconstpointer data)
{
  fill (room, "101-102", "Alcove");
  app_move_in_table_go (table (room), 0, MOVE_IN_STAGE);
  types (room, "nonsense");
  app_move_in_table_go (table (room), 0, MOVE_IN_MOULT);
  types (room, "orch");
  app_move_in_table_go (table (room), 0, MOVE_IN_NUMBER);
  g_assert_nonnull (app_find_words (page (room), "Number ↵"));
  g_assert_true (app_key (page (room), GDK_KEY_F8, 0));
  at (room, 0, MOVE_IN_STAGE);
  g_assert_nonnull (app_find_words (page (room), "Number ↵"));
  g_assert_true (app_key (cell (room), GDK_KEY_Return, 0));
  at (room, 1, MOVE_IN_NUMBER);
}

/* Each cell that is not understood has its sentence under the row. */
static void
test_all_said (Room *room, gconstpointer data)
{
  GtkWidget *row;
  int one, two;

  fill (room, "101", "Alcove");
  row = app_find (table (room), APP_TYPE_MOVE_IN_ROW);
  app_move_in_table_go (table (room), 0, MOVE_IN_STAGE);
  types (room, "nonsense");
  gtk_widget_measure (row, GTK_ORIENTATION_VERTICAL, -1, &one, NULL, NULL, NULL);
  app_move_in_table_go (table (room), 0, MOVE_IN_MOULT);
  types (room, "orch");
  gtk_widget_measure (row, GTK_ORIENTATION_VERTICAL, -1, &two, NULL, NULL, NULL);
  g_assert_cmpint (two, >, one);
}

/* Going to another page with rows that are not saved says that they are kept. */
static void
test_kept_is_said (Room *room, gconstpointer data)
{
  fill (room, "101-112", "Alcove");
  app_window_show_page (room->window, "shelves");
  g_assert_cmpstr (app_said (room->window), ==, "12 animals are typed and not saved. They are kept: Ctrl+M goes on.");
  app_window_show_page (room->window, "move-in");
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.hush", NULL);
  gtk_widget_activate_action (page (room), "move-in.anew", NULL);
  app_window_show_page (room->window, "shelves");
  g_assert_cmpstr (app_said (room->window), ==, "");
}

static void
test_range (Room *room, gconstpointer data)
{
  fill (room, "101-140", "Alcove");
  g_assert_cmpuint (app_count (table (room), APP_TYPE_MOVE_IN_ROW), ==, 40);
  g_assert_nonnull (app_find_words (page (room), "Filled in: 40 rows."));
  g_assert_nonnull (app_find_words (page (room), "40 animals"));
  fill (room, "10-15", "Alcove"); /* 14 is in the journal */
  g_assert_nonnull (app_find_words (page (room), "14 was given before"));
  g_assert_cmpuint (app_count (table (room), APP_TYPE_MOVE_IN_ROW), ==, 40);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.mark-cups", NULL); /* Ctrl+R */
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "move-in");
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (room->window)),
                                         GTK_WIDGET (bar_entry (room, "Numbers to fill in"))));
  g_assert_true (app_key (page (room), GDK_KEY_Escape, 0));
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (room->window)), cell (room)));
}

static void
test_scheme (Room *room, gconstpointer data)
{
  GtkDropDown *scheme =
    GTK_DROP_DOWN (app_find_labelled (page (room), GTK_TYPE_DROP_DOWN, "L-number of the hatchling"));

  app_move_in_table_go (table (room), 0, MOVE_IN_STAGE);
  types (room, "1");
  g_assert_null (app_find_words (page (room), "is before the hatchling"));
  gtk_drop_down_set_selected (scheme, 1);
  app_settle ();
  g_assert_nonnull (app_find_words (page (room), "is before the hatchling"));
}

/* ---- the clipboard ---- */

static void
clip (Room *room, const char *text)
{
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (room->window)), text);
  app_settle ();
}

static void
test_paste (Room *room, gconstpointer data)
{
  clip (room, "cup\tspecies\tprice\n201\thier\t5\n202\tghost\t6\n");
  key (room, GDK_KEY_v, GDK_CONTROL_MASK);
  APP_WAIT (app_count (table (room), APP_TYPE_MOVE_IN_ROW) == 2);
  g_assert_nonnull (app_find_words (page (room), "Taken: 2 rows, by the headings of its columns. Left out: price."));
  g_assert_nonnull (app_find_words (page (room), "2 animals"));
  clip (room, "301\tx\n\"302\ty\n");
  gtk_widget_activate_action (page (room), "move-in.paste", NULL);
  APP_WAIT (app_find_words (page (room), "The quotation mark in line 2 is never closed.") != NULL);
  g_assert_cmpuint (app_count (table (room), APP_TYPE_MOVE_IN_ROW), ==, 2);
  clip (room, "Alcove"); /* one cell alone is text */
  app_move_in_table_go (table (room), 0, MOVE_IN_PLACE);
  key (room, GDK_KEY_v, GDK_CONTROL_MASK);
  APP_WAIT (g_str_equal (in_cell (room), "Alcove"));
}

/* ---- saving ---- */

static AppRoundLine *
line_of (Room *room)
{
  return APP_ROUND_LINE (app_find (room->window, APP_TYPE_ROUND_LINE));
}

/* The table was typed in until after midnight: the round that follows is of the evening before,
 * when all of them stood here already. */
static void
test_past_midnight (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) animal = NULL;

  fill (room, "101-103", "Attic");
  g_assert_true (app_key (page (room), GDK_KEY_s, GDK_CONTROL_MASK));
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved: 3 animals moved in."));
  app_round_line_set_minute (line_of (room), 10);
  g_assert_cmpint (app_round_line_get_day (line_of (room)), ==, room->journal.today - 1);
  gtk_editable_set_text (GTK_EDITABLE (app_find (line_of (room), GTK_TYPE_ENTRY)), "all misted");
  APP_WAIT (app_find_words (line_of (room), "101–103") != NULL);
  g_assert_null (app_find_words (line_of (room), "not there that day"));
  app_round_line_write (line_of (room));
  APP_WAIT (!g_str_has_prefix (app_said (room->window), "Saved: 3 animals moved in."));
  g_assert_true (g_str_has_prefix (app_said (room->window), "Saved: "));
  animal = desk_find (desk, "102", NULL);
  g_assert_cmpint (desk_subject_state (animal)->misted, ==, room->journal.today - 1);
}

static void
test_save (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) animal = NULL;

  fill (room, "101-103", "Attic");
  app_move_in_table_go (table (room), 1, MOVE_IN_SPECIES);
  types (room, "what");
  g_assert_true (app_key (page (room), GDK_KEY_s, GDK_CONTROL_MASK)); /* goes to the problem, saves nothing */
  at (room, 1, MOVE_IN_SPECIES);
  g_assert_null (desk_find (desk, "101", NULL));
  types (room, "hier");
  g_assert_true (app_key (page (room), GDK_KEY_s, GDK_CONTROL_MASK));
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved: 3 animals moved in."));
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "shelves");
  g_assert_nonnull (app_boards_find_number (boards_of (room), "102")); /* on the shelf of those who came */
  animal = desk_find (desk, "102", NULL);
  g_assert_nonnull (animal);
  g_assert_cmpstr (desk_subject_state (animal)->species, ==, "Hierodula membranacea");
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Took back the moving in, from 101 on"));
  g_assert_null (desk_find (desk, "103", NULL));
}

static void
test_draft (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;

  fill (room, "101-103", "Attic");
  g_assert_true (move_in_model_has_draft (desk));
  /* The window is opened anew over the same journal. */
  _app_window_set_desk (room->window, NULL);
  _app_window_set_desk (room->window, desk);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.move-in", NULL);
  app_settle ();
  g_assert_cmpuint (app_count (table (room), APP_TYPE_MOVE_IN_ROW), ==, 3);
  g_assert_true (gtk_widget_get_visible (
    gtk_widget_get_parent (app_find_words (page (room), "typed earlier and is not saved"))));
  app_press (app_find_button (page (room), "Start anew"));
  g_assert_cmpuint (app_count (table (room), APP_TYPE_MOVE_IN_ROW), ==, 1);
  g_assert_false (move_in_model_has_draft (desk));
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  PAGE ("begins", test_begins);
  PAGE ("tab-and-enter", test_tab_and_enter);
  PAGE ("text-keys", test_text_keys);
  PAGE ("first-letter", test_first_letter);
  PAGE ("ditto", test_ditto);
  PAGE ("says", test_says);
  PAGE ("mend-and-on", test_mend_and_on);
  PAGE ("all-said", test_all_said);
  PAGE ("kept-is-said", test_kept_is_said);
  PAGE ("range", test_range);
  PAGE ("scheme", test_scheme);
  PAGE ("paste", test_paste);
  PAGE ("save", test_save);
  PAGE ("past-midnight", test_past_midnight);
  PAGE ("draft", test_draft);
  return g_test_run ();
}
