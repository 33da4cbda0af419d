/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-shelves.c — cups by arrow keys, journaling by letters, the round line with its draft,
 * pictures that are none: each by the keys and drops that a keeper would give. */
#include "app-fixture.h"

#include <string.h>

#include "app/app-boards.h"
#include "app/app-capped.h"
#include "app/app-quick.h"
#include "app/app-round-line.h"
#include "app/app-shelves-page.h"
#include "app/app-story.h"
#include "app/app-view.h"
#include "fixture.h"

static const char *
focused (Room *room)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (room->window));

  return focus != NULL && APP_IS_CUP (focus) ? app_cup_get_data (APP_CUP (focus))->number : "";
}

static const char *
chosen (Room *room)
{
  AppCup *cup = app_boards_chosen (boards_of (room));

  return cup != NULL ? app_cup_get_data (cup)->number : "";
}

/* ---- cups ---- */

static void
test_order (Room *room, gconstpointer data)
{
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, 5); /* 70 stands on the other */
  g_assert_null (app_boards_find_number (boards_of (room), "70"));
  gtk_test_accessible_assert_role (boards_of (room), GTK_ACCESSIBLE_ROLE_GROUP);
  g_assert_nonnull (app_find_words (room->window, "Alcove"));
}

static void
test_arrows (Room *room, gconstpointer data)
{
  static const struct
  {
    guint key;
    const char *to;
  } steps[] = {
    { GDK_KEY_Right, "22" }, { GDK_KEY_Right, "31" }, { GDK_KEY_Left, "22" },
    { GDK_KEY_End, "61" },   { GDK_KEY_Home, "14" },  { GDK_KEY_Left, "14" },
  };
  AppBoards *boards = boards_of (room);

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "14")));
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      app_key (boards, steps[i].key, 0);
      g_assert_cmpstr (focused (room), ==, steps[i].to);
      g_assert_cmpstr (chosen (room), ==, ""); /* walking is not choosing */
    }
}

static void
test_space_and_return (Room *room, gconstpointer data)
{
  AppBoards *boards = boards_of (room);

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "22")));
  g_assert_true (app_key (boards, GDK_KEY_space, 0));
  g_assert_cmpstr (chosen (room), ==, "22");
  gtk_test_accessible_assert_state (cup_of (room, "22"), GTK_ACCESSIBLE_STATE_PRESSED,
                                    GTK_ACCESSIBLE_TRISTATE_TRUE);
  g_assert_nonnull (app_find_words (story_of (room), "22"));
  g_assert_true (app_key (boards, GDK_KEY_Right, 0)); /* the story follows */
  g_assert_cmpstr (chosen (room), ==, "31");
  g_assert_true (app_key (boards, GDK_KEY_space, 0));
  g_assert_cmpstr (chosen (room), ==, "");
  g_assert_true (app_key (boards, GDK_KEY_Return, 0));
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "animal");
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.back", NULL);
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "shelves");
}

static void
test_other_shelf (Room *room, gconstpointer data)
{
  AppShelvesPage *page = APP_SHELVES_PAGE (app_find (room->window, APP_TYPE_SHELVES_PAGE));

  app_boards_choose (boards_of (room), cup_of (room, "14"));
  app_shelves_page_show_place (page, desk_subject_id (room->shelf_b));
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, 1);
  g_assert_cmpstr (chosen (room), ==, "");
  g_assert_true (app_shelves_page_show_animal (page, room->cups[1])); /* 22: back to shelf A */
  g_assert_cmpstr (chosen (room), ==, "22");
  g_assert_cmpstr (focused (room), ==, "22");
}

/* A press takes GTK a quarter of a second: what comes in meanwhile does not swallow it. */
static void
test_shelf_pressed (Room *room, gconstpointer data)
{
  AppShelvesPage *page = APP_SHELVES_PAGE (app_find (room->window, APP_TYPE_SHELVES_PAGE));
  GtkWidget *shelf = gtk_widget_get_ancestor (app_find_words (page, "Corner"), GTK_TYPE_TOGGLE_BUTTON);

  gtk_widget_grab_focus (shelf);
  g_assert_true (gtk_widget_activate (shelf));
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, 5); /* not yet let go */
  fixture_record (room->journal.desk, room->cups[2], "looked", "", 0);
  app_settle ();
  g_assert_true (gtk_root_get_focus (GTK_ROOT (room->window)) == shelf);
  APP_WAIT (app_boards_n_cups (boards_of (room)) == 1);
}

/* What stands on no shelf is due too: it has a board, as long as there is such a one. */
static void
test_on_no_shelf (Room *room, gconstpointer data)
{
  AppShelvesPage *page = APP_SHELVES_PAGE (app_find (room->window, APP_TYPE_SHELVES_PAGE));
  g_autoptr (DeskSubject) animal = NULL;
  CoreId none = { { 0 } };

  g_assert_null (app_find_words (page, "On no shelf"));
  animal = fixture_add (room->journal.desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=90");
  app_settle ();
  g_assert_nonnull (app_find_words (page, "On no shelf"));
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, 5); /* the shelf that was shown still is */
  g_assert_true (app_shelves_page_show_animal (page, animal));
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, 1);
  g_assert_cmpstr (chosen (room), ==, "90");
  fixture_record (room->journal.desk, animal, "died", "", 0);
  app_settle ();
  g_assert_null (app_find_words (page, "On no shelf"));
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, 5);
  app_shelves_page_show_place (page, none); /* nothing stands there now: the first shelf */
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, 5);
}

/* A cup keeps its widget, and with it the focus, when something is written about it. */
static void
test_focus_kept (Room *room, gconstpointer data)
{
  AppCup *cup = cup_of (room, "31");

  gtk_widget_grab_focus (GTK_WIDGET (cup));
  fixture_record (room->journal.desk, room->cups[2], "looked", "", 0);
  app_settle ();
  g_assert_true (cup_of (room, "31") == cup);
  g_assert_cmpstr (focused (room), ==, "31");
}

/* Dragged before another: what the boards ask for is what the journal holds. */
static void
test_moved (Room *room, gconstpointer data)
{
  g_autoptr (GPtrArray) order = NULL;
  gsize before = room_n_entries (room, 3);

  g_signal_emit_by_name (boards_of (room), "moved", cup_of (room, "52"), cup_of (room, "22"));
  APP_WAIT (room_n_entries (room, 3) == before + 1);
  app_settle ();
  order = desk_animals_on (room->journal.desk, desk_subject_id (room->shelf_a));
  g_assert_cmpstr (desk_subject_label (g_ptr_array_index (order, 0)), ==, "14");
  g_assert_cmpstr (desk_subject_label (g_ptr_array_index (order, 1)), ==, "52");
  g_assert_cmpstr (desk_subject_label (g_ptr_array_index (order, 2)), ==, "22");
}

/* ---- letters ---- */

typedef struct
{
  const char *name;
  guint key;
  CoreKind kind;
  CoreKey value; /* none: no value to check */
  int code;
} LetterCase;

static const LetterCase letters[] = {
  { "ate", GDK_KEY_a, CORE_KIND_FED, CORE_KEY_OUTCOME, CORE_FED_TAKEN },
  { "put-in", GDK_KEY_i, CORE_KIND_FED, CORE_KEY_OUTCOME, CORE_FED_OFFERED },
  { "refused", GDK_KEY_r, CORE_KIND_FED, CORE_KEY_OUTCOME, CORE_FED_REFUSED },
  { "sprayed", GDK_KEY_s, CORE_KIND_MISTED, CORE_KEY_NONE, 0 },
  { "looked", GDK_KEY_l, CORE_KIND_LOOKED, CORE_KEY_NONE, 0 },
};

/* The whole way: from the cup up, as GTK passes the key on. */
static void
test_letter (Room *room, gconstpointer data)
{
  const LetterCase *c = data;
  gsize before = room_n_entries (room, 0);
  const CoreEntry *entry;

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "14")));
  app_boards_choose (boards_of (room), cup_of (room, "14"));
  g_assert_true (app_key_up (cup_of (room, "14"), c->key, 0));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  entry = room_last (room, 0);
  g_assert_cmpint (entry->kind, ==, c->kind);
  g_assert_cmpint (entry->day, ==, room->journal.today);
  if (c->value != CORE_KEY_NONE)
    g_assert_cmpint (core_entry_code (entry, c->value, -1), ==, c->code);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved: cup 14"));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (room_n_entries (room, 0) == before);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Took back"));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.redo", NULL);
  APP_WAIT (room_n_entries (room, 0) == before + 1);
}

/* The first letter on a cup that is not chosen chooses it: one sees of whom it is written. */
static void
test_letter_chooses (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 1);

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "22")));
  g_assert_true (app_key_up (cup_of (room, "22"), GDK_KEY_l, 0));
  g_assert_cmpstr (chosen (room), ==, "22");
  APP_WAIT (room_n_entries (room, 1) == before + 1);
}

static void
test_letter_gone (Room *room, gconstpointer data)
{
  gsize before;

  fixture_record (room->journal.desk, room->cups[0], "fed", "prey=hydei outcome=offered", -1);
  before = room_n_entries (room, 0);
  app_boards_choose (boards_of (room), cup_of (room, "14"));
  g_assert_true (app_quick_key (quick_of (room), GDK_KEY_g));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_GONE);
}

typedef struct
{
  const char *name;
  guint key;
  const char *answer; /* what the button says */
  CoreKind kind;
} QuestionCase;

static const QuestionCase questions[] = {
  { "belly", GDK_KEY_b, NULL, CORE_KIND_BELLY },
  { "sign", GDK_KEY_n, NULL, CORE_KIND_SIGN },
  { "trouble", GDK_KEY_t, NULL, CORE_KIND_TROUBLE },
};

static GtkWidget *
second_row (AppQuick *quick)
{
  GtkWidget *outer = gtk_widget_get_first_child (GTK_WIDGET (quick));

  return gtk_widget_get_last_child (outer);
}

/* Letter, answer, and the hands are back on the cup for the next letter. */
static void
test_question (Room *room, gconstpointer data)
{
  const QuestionCase *c = data;
  gsize before = room_n_entries (room, 0);
  GtkWidget *answers, *focus;

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "14")));
  app_boards_choose (boards_of (room), cup_of (room, "14"));
  app_settle ();
  g_assert_true (app_key_up (cup_of (room, "14"), c->key, 0));
  answers = second_row (quick_of (room));
  g_assert_true (gtk_widget_get_visible (answers));
  focus = gtk_root_get_focus (GTK_ROOT (room->window));
  g_assert_true (GTK_IS_BUTTON (focus) && gtk_widget_is_ancestor (focus, answers));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before); /* asked, nothing written */
  app_press (focus);
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, c->kind);
  g_assert_false (gtk_widget_get_visible (answers));
  g_assert_cmpstr (focused (room), ==, "14");
}

/* Every key that is pressed goes to the window first, then to what has the focus. */
static void
press (Room *room, guint key)
{
  if (!app_key (room->window, key, 0))
    (void) app_key_up (gtk_root_get_focus (GTK_ROOT (room->window)), key, 0);
}

/* "4" answers how full it is; it is no cup, also where there is one of that number. */
static void
test_question_digit (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) four = fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=4 place=B at=2");
  gsize before = room_n_entries (room, 0);

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "14")));
  app_boards_choose (boards_of (room), cup_of (room, "14"));
  app_settle ();
  press (room, GDK_KEY_b);
  press (room, GDK_KEY_7); /* no score */
  g_assert_cmpuint (room->window->jump->len, ==, 0);
  press (room, GDK_KEY_4);
  g_assert_cmpuint (room->window->jump->len, ==, 0);
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved: cup 14: belly 4"));
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_BELLY);
  g_assert_cmpfloat (core_entry_num (room_last (room, 0), CORE_KEY_SCORE, -1), ==, 4);
  g_assert_cmpstr (focused (room), ==, "14");
  press (room, GDK_KEY_3); /* the question is over: a cup again */
  g_assert_cmpuint (room->window->jump->len, ==, 1);
}

/* While a sign or a trouble is asked no letter is an entry of its own: it is an answer, or nothing. */
static void
test_question_letter (Room *room, gconstpointer data)
{
  const QuestionCase *c = data;
  gsize before = room_n_entries (room, 0);
  g_autoptr (GString) taken = g_string_new (NULL);
  GtkWidget *answers;

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "14")));
  app_boards_choose (boards_of (room), cup_of (room, "14"));
  app_settle ();
  press (room, c->key);
  answers = second_row (quick_of (room));
  for (GtkWidget *cell = gtk_widget_get_first_child (answers); cell != NULL; cell = gtk_widget_get_next_sibling (cell))
    {
      GtkWidget *words = app_find (cell, GTK_TYPE_LABEL);
      const char *key = strstr (gtk_label_get_label (GTK_LABEL (words)), "<u>");

      g_assert_nonnull (key);
      g_string_append_unichar (taken, g_unichar_tolower (g_utf8_get_char (key + 3)));
    }
  for (guint key = GDK_KEY_a; key <= GDK_KEY_z; key++)
    if (strchr (taken->str, (int) key) == NULL)
      press (room, key);
  app_settle ();
  g_assert_true (gtk_widget_get_visible (answers));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  press (room, (guint) g_utf8_get_char (taken->str));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, c->kind);
  g_assert_false (gtk_widget_get_visible (answers));
}

static void
test_question_escape (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);
  GtkWidget *focus;

  gtk_widget_grab_focus (GTK_WIDGET (cup_of (room, "14")));
  app_boards_choose (boards_of (room), cup_of (room, "14"));
  app_settle ();
  g_assert_true (app_key_up (cup_of (room, "14"), GDK_KEY_b, 0));
  focus = gtk_root_get_focus (GTK_ROOT (room->window));
  g_assert_true (app_key_up (focus, GDK_KEY_Escape, 0));
  g_assert_false (gtk_widget_get_visible (second_row (quick_of (room))));
  g_assert_cmpstr (focused (room), ==, "14");
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "shelves");
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
}

static void
test_note (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);
  GtkWidget *entry;
  char text[64];

  app_boards_choose (boards_of (room), cup_of (room, "14"));
  g_assert_true (app_quick_key (quick_of (room), GDK_KEY_o));
  entry = app_find (second_row (quick_of (room)), GTK_TYPE_ENTRY);
  g_assert_nonnull (entry);
  gtk_test_accessible_assert_property (entry, GTK_ACCESSIBLE_PROPERTY_LABEL, "Note");
  gtk_editable_set_text (GTK_EDITABLE (entry), "shed lies on the floor");
  g_signal_emit_by_name (entry, "activate");
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_strlcpy (text, core_entry_get (room_last (room, 0), CORE_KEY_TEXT)->text, sizeof text);
  g_assert_cmpstr (text, ==, "shed lies on the floor");
}

/* What an adult cannot do has no letter, and neither has one that is gone. */
static void
test_letters_that_mean_nothing (Room *room, gconstpointer data)
{
  AppQuick *quick = quick_of (room);
  gsize before = room_n_entries (room, 5);

  app_quick_set_subject (quick, room->journal.desk, room->cups[5]); /* adult */
  g_assert_false (app_quick_key (quick, GDK_KEY_m));
  g_assert_false (app_quick_key (quick, GDK_KEY_n));
  g_assert_false (app_quick_key (quick, GDK_KEY_q));
  g_assert_false (app_quick_key (quick, GDK_KEY_F5));
  app_settle ();
  g_assert_null (app_form_on_top ());
  g_assert_cmpuint (room_n_entries (room, 5), ==, before);
  fixture_record (room->journal.desk, room->cups[5], "died", "cause=age", 0);
  {
    g_autoptr (DeskSubject) now = fixture_now (room->journal.desk, room->cups[5]);

    app_quick_set_subject (quick, room->journal.desk, now);
    g_assert_false (app_quick_key (quick, GDK_KEY_l));
  }
  app_quick_set_subject (quick, NULL, NULL);
  g_assert_false (app_quick_key (quick, GDK_KEY_l));
}

/* ---- the round line ---- */

static GtkWidget *
line_of (Room *room)
{
  return app_find (room->window, APP_TYPE_ROUND_LINE);
}

static GtkWidget *
entry_of (Room *room)
{
  return app_find (line_of (room), GTK_TYPE_ENTRY);
}

static void
type (Room *room, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (entry_of (room)), text);
  app_settle ();
}

static const char *
typed (Room *room)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry_of (room)));
}

static gboolean
list_shown (Room *room)
{
  return gtk_widget_get_visible (app_find (line_of (room), APP_TYPE_CAPPED));
}

static void
test_line_lists_and_writes (Room *room, gconstpointer data)
{
  gsize before[ROOM_CUPS];

  for (guint i = 0; i < ROOM_CUPS; i++)
    before[i] = room_n_entries (room, i);
  g_assert_nonnull (app_find_words (line_of (room), "What did you do on"));
  type (room, "all misted; 14 moulted");
  g_assert_true (list_shown (room));
  g_assert_nonnull (app_find_words (line_of (room), "14"));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before[0]); /* a list, not yet an entry */
  g_signal_emit_by_name (entry_of (room), "activate");
  g_signal_emit_by_name (entry_of (room), "activate"); /* a second Return writes no second round */
  APP_WAIT (app_said (room->window)[0] != '\0');
  g_assert_cmpstr (app_said (room->window), ==, "Saved: 6 entries. Ctrl+Z takes them back.");
  g_assert_cmpuint (room_n_entries (room, 0), ==, before[0] + 2);
  for (guint i = 1; i < 5; i++)
    g_assert_cmpuint (room_n_entries (room, i), ==, before[i] + 1);
  g_assert_cmpuint (room_n_entries (room, 5), ==, before[5]);
  g_assert_cmpstr (typed (room), ==, "");
  g_assert_false (list_shown (room));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Took back"));
  g_assert_cmpuint (room_n_entries (room, 4), ==, before[4]);
  g_assert_cmpuint (room_n_entries (room, 0), ==, before[0]);
}

/* Of one cup alone: no action for all, no number of cups. */
static void
test_line_single (Room *room, gconstpointer data)
{
  gsize before[ROOM_CUPS];

  for (guint i = 0; i < ROOM_CUPS; i++)
    before[i] = room_n_entries (room, i);
  type (room, "14 ate 2 blue bottles");
  g_assert_true (list_shown (room));
  g_assert_nonnull (app_find_words (line_of (room), "2 blue bottles"));
  g_assert_null (app_find_words (app_find (line_of (room), GTK_TYPE_GRID), "cups"));
  g_signal_emit_by_name (entry_of (room), "activate");
  APP_WAIT (app_said (room->window)[0] != '\0');
  g_assert_cmpuint (room_n_entries (room, 0), ==, before[0] + 1);
  for (guint i = 1; i < ROOM_CUPS; i++)
    g_assert_cmpuint (room_n_entries (room, i), ==, before[i]);
}

/* The example names cups that stand there, and would be a round if it were typed. */
static void
test_line_example (Room *room, gconstpointer data)
{
  GtkEntry *entry = GTK_ENTRY (entry_of (room));
  g_autofree char *example = g_strdup (gtk_entry_get_placeholder_text (entry));

  g_assert_nonnull (strstr (example, "14 22 refused"));
  type (room, example);
  g_assert_true (list_shown (room));
  g_assert_null (app_find_words (line_of (room), "not yet"));
  app_shelves_page_show_place (APP_SHELVES_PAGE (app_find (room->window, APP_TYPE_SHELVES_PAGE)),
                               desk_subject_id (room->shelf_b));
  g_assert_cmpstr (gtk_entry_get_placeholder_text (entry), ==, "all fed 2 house flies, misted; 70 refused");
}

/* The list is as high as its lines, and no more than its most. */
static void
test_line_height (Room *room, gconstpointer data)
{
  GtkWidget *list = app_find (line_of (room), APP_TYPE_CAPPED);
  int one, many;

  type (room, "14 refused");
  gtk_test_widget_wait_for_draw (GTK_WIDGET (room->window));
  one = gtk_widget_get_height (list);
  g_assert_cmpint (one, >, 10);
  g_assert_cmpint (one, <, 30);
  type (room, "14 refused; 22 refused; 31 refused; 52 refused; 61 refused");
  gtk_test_widget_wait_for_draw (GTK_WIDGET (room->window));
  many = gtk_widget_get_height (list);
  g_assert_cmpint (many, >, one);
  g_assert_cmpint (many, <=, 150);
}

static void
test_line_problem (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  type (room, "all misted; 99 refused");
  g_assert_true (list_shown (room));
  g_assert_nonnull (app_find_words (line_of (room), "99"));
  g_signal_emit_by_name (entry_of (room), "activate");
  APP_WAIT (app_said (room->window)[0] != '\0');
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (room->window->said), "trouble"));
  g_assert_cmpstr (typed (room), ==, "all misted; 99 refused"); /* kept, to be put right */
  g_assert_true (gtk_editable_get_editable (GTK_EDITABLE (entry_of (room))));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
}

static void
test_line_escape (Room *room, gconstpointer data)
{
  gtk_widget_grab_focus (entry_of (room));
  type (room, "all misted");
  g_assert_true (app_key (entry_of (room), GDK_KEY_Escape, 0));
  g_assert_cmpstr (typed (room), ==, "");
  g_assert_false (list_shown (room));
  g_assert_true (app_key (entry_of (room), GDK_KEY_Escape, 0)); /* empty: out of the line */
  g_assert_null (gtk_widget_get_focus_child (entry_of (room)));
}

static char *
draft_of (Room *room, DeskSubject *place)
{
  char id[37];
  g_autofree char *key = NULL;

  core_id_to_text (desk_subject_id (place), id);
  key = g_strdup_printf ("round/%s", id);
  return desk_draft_get (room->journal.desk, key);
}

/* Typed on one shelf, it waits there: on another shelf, in a new window, after a crash. */
static void
test_line_draft (Room *room, gconstpointer data)
{
  AppShelvesPage *page = APP_SHELVES_PAGE (app_find (room->window, APP_TYPE_SHELVES_PAGE));
  g_autofree char *kept = NULL;
  g_autofree char *other = NULL;

  type (room, "all misted; 14 ref");
  app_shelves_page_show_place (page, desk_subject_id (room->shelf_b));
  g_assert_cmpstr (typed (room), ==, "");
  kept = draft_of (room, room->shelf_a);
  g_assert_cmpstr (kept, ==, "all misted; 14 ref");
  app_shelves_page_show_place (page, desk_subject_id (room->shelf_a));
  g_assert_cmpstr (typed (room), ==, "all misted; 14 ref");
  g_assert_true (list_shown (room));
  type (room, "all misted; 14 refused");
  room_close_window (room); /* at once: what was typed is kept on the way out */
  room->window = g_object_ref_sink (app_window_new (app_test_application ()));
  _app_window_set_desk (room->window, room->journal.desk);
  gtk_window_present (GTK_WINDOW (room->window));
  app_settle ();
  g_assert_cmpstr (typed (room), ==, "all misted; 14 refused");
  other = draft_of (room, room->shelf_b);
  g_assert_null (other);
  type (room, "");
  {
    g_autofree char *gone = NULL;

    APP_WAIT ((g_free (gone), gone = draft_of (room, room->shelf_a)) == NULL);
  }
}

/* The window goes while its round is being written: nothing warns, the round is there. */
static void
test_line_window_gone (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  type (room, "all misted");
  g_signal_emit_by_name (entry_of (room), "activate");
  gtk_window_destroy (GTK_WINDOW (room->window));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  app_settle ();
  g_assert_finalize_object (g_steal_pointer (&room->window));
}

/* ---- pictures ---- */

typedef struct
{
  const char *name;
  const char *words; /* of the error */
} PictureCase;

static const PictureCase pictures[] = {
  { "note.jpg", "This is not a picture." },
  { "cut.jpg", "damaged or cut off" },
  { "empty.jpg", "The file is empty." },
  { "huge.png", "too large" },
};

static GBytes *
bad_picture (const char *name)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (320, 240);
  g_autoptr (GBytes) whole = NULL;

  if (g_str_equal (name, "note.jpg"))
    return g_bytes_new_static ("Ate two flies today.\n", 21);
  if (g_str_equal (name, "empty.jpg"))
    return g_bytes_new_static ("", 0);
  if (g_str_equal (name, "huge.png"))
    return fixture_png_header (100000, 100000);
  whole = fixture_jpeg (pixbuf, NULL);
  return g_bytes_new_from_bytes (whole, 0, g_bytes_get_size (whole) / 2);
}

static void
test_bad_picture (Room *room, gconstpointer data)
{
  const PictureCase *c = data;
  g_autoptr (GBytes) bytes = bad_picture (c->name);
  g_autofree char *path = room_file (room, c->name, bytes);
  gsize before = room_n_entries (room, 0);

  app_boards_choose (boards_of (room), cup_of (room, "14"));
  g_assert_true (app_drop_file (story_of (room), path, 3, 3));
  APP_WAIT (strstr (app_said (room->window), c->words) != NULL);
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (room->window->said), "trouble"));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  g_assert_false (g_str_has_prefix (app_said (room->window), "Saved"));
}

static void
test_good_picture (Room *room, gconstpointer data)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (320, 240);
  g_autoptr (GBytes) bytes = fixture_jpeg (pixbuf, NULL);
  g_autofree char *path = room_file (room, "good.jpg", bytes);
  gsize before = room_n_entries (room, 0);

  app_boards_choose (boards_of (room), cup_of (room, "14"));
  g_assert_true (app_drop_file (story_of (room), path, 3, 3));
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved"));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_PHOTO);
}

/* On the cup itself: that cup gets it; between the cups it is one of the pictures of a round. */
static void
test_picture_on_cup (Room *room, gconstpointer data)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (320, 240);
  g_autoptr (GBytes) bytes = fixture_jpeg (pixbuf, NULL);
  g_autofree char *path = room_file (room, "good.jpg", bytes);
  gsize before = room_n_entries (room, 1);
  graphene_rect_t where;

  g_assert_true (gtk_widget_compute_bounds (GTK_WIDGET (cup_of (room, "22")),
                                            GTK_WIDGET (boards_of (room)), &where));
  g_assert_true (app_drop_file (boards_of (room), path, where.origin.x - 3, where.origin.y + 9));
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "pictures");
  g_assert_cmpuint (room_n_entries (room, 1), ==, before);
  app_window_show_page (room->window, "shelves");
  app_settle ();
  g_assert_true (app_drop_file (boards_of (room), path, where.origin.x + 40, where.origin.y + 60));
  g_assert_cmpstr (chosen (room), ==, "22");
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved"));
  g_assert_cmpuint (room_n_entries (room, 1), ==, before + 1);
}

/* The same picture on a second cup: it is said where it lies too. */
static void
test_picture_twice (Room *room, gconstpointer data)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (320, 240);
  g_autoptr (GBytes) bytes = fixture_jpeg (pixbuf, NULL);
  g_autofree char *path = room_file (room, "good.jpg", bytes);
  gsize before = room_n_entries (room, 1);

  app_boards_choose (boards_of (room), cup_of (room, "14"));
  g_assert_true (app_drop_file (story_of (room), path, 3, 3));
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved: the picture"));
  app_boards_choose (boards_of (room), cup_of (room, "22"));
  g_assert_true (app_drop_file (story_of (room), path, 3, 3));
  APP_WAIT (strstr (app_said (room->window), "also lies at 14") != NULL);
  g_assert_true (app_drop_file (story_of (room), path, 3, 3));
  APP_WAIT (room_n_entries (room, 1) == before + 2);
  g_assert_nonnull (strstr (app_said (room->window), "also lies at 14"));
}

/* The window closes over an open chooser: whoever waited for the picture is let go. */
static void
test_chooser_and_close (Room *room, gconstpointer data)
{
  AppQuick *quick = g_object_ref (quick_of (room));

  app_boards_choose (boards_of (room), cup_of (room, "14"));
  g_assert_true (app_quick_key (quick, GDK_KEY_p));
  app_settle ();
  room_close_window (room);
  APP_WAIT (G_OBJECT (quick)->ref_count == 1);
  g_assert_finalize_object (quick);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/shelves/cups/order", test_order);
  ROOM ("/shelves/cups/arrows", test_arrows);
  ROOM ("/shelves/cups/space-and-return", test_space_and_return);
  ROOM ("/shelves/cups/other-shelf", test_other_shelf);
  ROOM ("/shelves/cups/shelf-pressed", test_shelf_pressed);
  ROOM ("/shelves/cups/on-no-shelf", test_on_no_shelf);
  ROOM ("/shelves/cups/focus-kept", test_focus_kept);
  ROOM ("/shelves/cups/moved", test_moved);
  for (guint i = 0; i < G_N_ELEMENTS (letters); i++)
    {
      g_autofree char *path = g_strdup_printf ("/shelves/letter/%s", letters[i].name);

      g_test_add (path, Room, &letters[i], room_set_up_window, test_letter, room_tear_down);
    }
  ROOM ("/shelves/letter/chooses", test_letter_chooses);
  ROOM ("/shelves/letter/gone", test_letter_gone);
  for (guint i = 0; i < G_N_ELEMENTS (questions); i++)
    {
      g_autofree char *path = g_strdup_printf ("/shelves/letter/%s", questions[i].name);

      g_test_add (path, Room, &questions[i], room_set_up_window, test_question, room_tear_down);
      if (questions[i].kind != CORE_KIND_BELLY)
        {
          g_autofree char *other = g_strdup_printf ("%s-other-letters", path);

          g_test_add (other, Room, &questions[i], room_set_up_window, test_question_letter, room_tear_down);
        }
    }
  ROOM ("/shelves/letter/question-digit", test_question_digit);
  ROOM ("/shelves/letter/question-escape", test_question_escape);
  ROOM ("/shelves/letter/note", test_note);
  ROOM ("/shelves/letter/none", test_letters_that_mean_nothing);
  ROOM ("/shelves/line/lists-and-writes", test_line_lists_and_writes);
  ROOM ("/shelves/line/single", test_line_single);
  ROOM ("/shelves/line/example", test_line_example);
  ROOM ("/shelves/line/height", test_line_height);
  ROOM ("/shelves/line/problem", test_line_problem);
  ROOM ("/shelves/line/escape", test_line_escape);
  ROOM ("/shelves/line/draft", test_line_draft);
  ROOM ("/shelves/line/window-gone", test_line_window_gone);
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    {
      g_autofree char *path = g_strdup_printf ("/shelves/picture/%s", pictures[i].name);

      g_test_add (path, Room, &pictures[i], room_set_up_window, test_bad_picture, room_tear_down);
    }
  ROOM ("/shelves/picture/good", test_good_picture);
  ROOM ("/shelves/picture/on-cup", test_picture_on_cup);
  ROOM ("/shelves/picture/twice", test_picture_twice);
  ROOM ("/shelves/picture/chooser-and-close", test_chooser_and_close);
  return g_test_run ();
}
