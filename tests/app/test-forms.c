/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forms.c — each form: every field named, Escape closes, a refusal is said inside the form and
 * nothing typed is lost, one press writes once, and a form that is closed early harms nobody. */
#include "app-fixture.h"
#include "form-hands.h"

#include <math.h>
#include <string.h>

#include "app/app-boards.h"
#include "app/app-dialogs.h"
#include "app/app-form.h"
#include "app/app-view.h"

/* ---- every form ---- */

static CoreId
cup (Room *room, guint i)
{
  return desk_subject_id (room->cups[i]);
}

static void
open_add_animal (Room *room)
{
  app_dialog_add_animal (room->window, desk_subject_id (room->shelf_a));
}

static void
open_add_place (Room *room)
{
  app_dialog_add_place (room->window);
}

static void
open_correct (Room *room)
{
  CoreId entry =
    fixture_record (room->journal.desk, room->cups[0], "fed", "prey=hydei n=5 outcome=taken", -2);

  app_dialog_correct (room->window, entry);
}

static void
open_died (Room *room)
{
  app_dialog_died (room->window, cup (room, 0));
}

static void
open_edit_animal (Room *room)
{
  app_dialog_edit_animal (room->window, cup (room, 0));
}

static void
open_edit_place (Room *room)
{
  app_dialog_edit_place (room->window, desk_subject_id (room->shelf_a));
}

static void
open_left (Room *room)
{
  app_dialog_left (room->window, cup (room, 0));
}

static void
open_move (Room *room)
{
  app_dialog_move (room->window, cup (room, 0));
}

static void
open_moulted (Room *room)
{
  app_dialog_moulted (room->window, cup (room, 0));
}

static void
open_measure (Room *room)
{
  app_dialog_measure (room->window, cup (room, 0));
}

static void
open_stage (Room *room)
{
  app_dialog_stage (room->window, cup (room, 0));
}

static void
open_sex (Room *room)
{
  app_dialog_sex (room->window, cup (room, 0));
}

static void
open_home (Room *room)
{
  app_dialog_home (room->window, cup (room, 0));
}

static void
open_purpose (Room *room)
{
  app_dialog_purpose (room->window, cup (room, 0));
}

static void
open_reading (Room *room)
{
  app_dialog_reading (room->window, desk_subject_id (room->shelf_a));
}

static void
open_power (Room *room)
{
  app_dialog_power (room->window, desk_subject_id (room->shelf_a));
}

typedef struct
{
  const char *name;
  void (*open) (Room *room);
  const char *title;
} FormCase;

static void
open_past_round (Room *room)
{
  app_dialog_past_round (room->window);
}

static void
open_standin (Room *room)
{
  app_dialog_standin (room->window);
}

static const FormCase forms[] = {
  { "past-round", open_past_round, "A round of another day" },
  { "stand-in", open_standin, "A sheet for whoever looks after the animals" },
  { "add-animal", open_add_animal, "Add an animal" },
  { "add-place", open_add_place, "Add a shelf or a home" },
  { "correct", open_correct, "14: feeding" },
  { "died", open_died, "14 died" },
  { "edit-animal", open_edit_animal, "Edit 14" },
  { "edit-place", open_edit_place, "Edit Alcove" },
  { "left", open_left, "14 left" },
  { "reading", open_reading, "A reading of Alcove" },
  { "power", open_power, "The power was out on Alcove" },
  { "move", open_move, "Move 14" },
  { "moulted", open_moulted, "14 moulted" },
  { "measure", open_measure, "14 measured" },
  { "stage", open_stage, "14: what it is now" },
  { "sex", open_sex, "Sex of 14" },
  { "home", open_home, "Home of 14" },
  { "purpose", open_purpose, "What 14 is kept for" },
};

static GtkWindow *
opened (Room *room, void (*open) (Room *room))
{
  GtkWindow *form;

  open (room);
  app_settle ();
  form = app_form_on_top ();
  g_assert_nonnull (form);
  return form;
}

static gsize
everything (Room *room)
{
  gsize n = 0;

  for (guint i = 0; i < ROOM_CUPS; i++)
    n += room_n_entries (room, i);
  return n;
}

/* Nothing empty below the buttons: the form is as tall as its rows need. */
static void
assert_no_strip (GtkWindow *form)
{
  GtkWidget *inside = gtk_window_get_child (form);
  int needs;

  gtk_widget_measure (inside, GTK_ORIENTATION_VERTICAL, gtk_widget_get_width (inside), NULL, &needs,
                      NULL, NULL);
  g_assert_cmpint (gtk_widget_get_height (inside) + gtk_widget_get_margin_top (inside) +
                     gtk_widget_get_margin_bottom (inside),
                   ==, needs);
}

static void
test_escape (Room *room, gconstpointer data)
{
  const FormCase *c = data;
  GtkWindow *form = opened (room, c->open);
  gsize before = everything (room);
  guint n = 0;

  g_assert_cmpstr (gtk_window_get_title (form), ==, c->title);
  g_assert_true (gtk_window_get_modal (form));
  g_assert_true (gtk_window_get_transient_for (form) == GTK_WINDOW (room->window));
  form_assert_fields_named (gtk_window_get_child (form), &n);
  g_assert_cmpuint (n, >, 0);
  gtk_test_widget_wait_for_draw (GTK_WIDGET (form));
  assert_no_strip (form);
  g_object_ref (form);
  g_assert_true (app_key (form, GDK_KEY_Escape, 0));
  form_wait_closed ();
  app_settle ();
  g_assert_finalize_object (form);
  g_assert_cmpuint (everything (room), ==, before);
}

/* In each language its own. */
static void
test_mnemonics (Room *room, gconstpointer data)
{
  const FormCase *c = data;
  GtkWindow *form = opened (room, c->open);

  form_assert_mnemonics (form);
  gtk_window_close (form);
  form_wait_closed ();
}

/* The window closes over an open form: both go. */
static void
test_window_closed (Room *room, gconstpointer data)
{
  const FormCase *c = data;
  GtkWindow *form = g_object_ref (opened (room, c->open));

  room_close_window (room);
  g_assert_finalize_object (form);
}

/* ---- what is refused ---- */

typedef struct
{
  const char *name;
  void (*open) (Room *room);
  const char *row;
  const char *text;
  const char *says; /* part of what the form says */
  const char *at;   /* the row that has the focus then; NULL = the same, "-" = none is named */
} RefusedCase;

static const RefusedCase refused[] = {
  { "add-animal-day", open_add_animal, "Hatched on", "31.02.", "Hatched on: “31.02.” is not a day" },
  { "add-animal-days", open_add_animal, "Came to you on", "about 10 days ago", "Came to you on: “about 10 days ago” may be any day of" },
  { "add-animal-no-such-day", open_add_animal, "Hatched on", "2026-02-30", "is not a day" },
  { "add-animal-future", open_add_animal, "Hatched on", "2026-06-02", "Hatched on: That day is still to come" },
  { "add-animal-number-taken", open_add_animal, "Number", "14", "14" },
  { "add-animal-stage", open_add_animal, "Stage when it came", "L99x", "Stage when it came: “L99x” says no stage" },
  { "add-animal-number-form", open_add_animal, "Number", "no number", "no number" },
  { "add-place-nameless", open_add_place, "Name", "  ", "Give the place a name" },
  { "reading-nothing", open_reading, "Temperature", " ", "A reading is a temperature, a humidity or both", "-" },
  { "reading-time", open_reading, "Clock time", "25:99", "Write the time as 08:30" },
  { "power-time", open_power, "Out from", "late", "late" },
  { "add-place-warm", open_add_place, "by day", "warm", "“Usual °C by day: warm”: " },
  { "edit-animal-number-taken", open_edit_animal, "Number", "22", "22" },
  { "edit-animal-day", open_edit_animal, "Hatched on", "spring", "is not a day" },
  { "edit-place-hot", open_edit_place, "by day", "900", "“Usual °C by day: 900”: " },
  { "moulted-future", open_moulted, "Found on", "2026-07-01", "still to come" },
  { "moulted-before-hatch", open_moulted, "Found on", "2026-01-01", "" },
  { "moulted-backwards", open_moulted, "Not before", "2026-06-02", "" },
  { "moulted-no-day", open_moulted, "Found on", "", "A day is needed" },
  { "died-far-future", open_died, "Found on", "2030-01-01", "still to come" },
  { "left-no-day", open_left, "On", "soon", "is not a day" },
  { "measure-nothing", open_measure, "Length", "34", "Choose what you measured", "What" },
  { "stage-nothing", open_stage, "Moults since", "4", "Choose what you see", "Are the wings full?" },
  { "home-nothing", open_home, "Inner width", " ", "at least the inner height", "Inner height" },
  { "home-huge", open_home, "Inner height", "9000", "Inner height, mm: “9000” is not from" },
  { "move-before-itself", open_move, "Before cup", "14", "No cup stands before itself", "-" },
  { "move-no-such-cup", open_move, "Before cup", "99", "99", "-" },
  { "correct-day", open_correct, "Day", "yesterdays", "is not a day" },
  { "correct-count", open_correct, "how many", "many", "how many: “many” is not a whole number" },
};

static void
test_refused (Room *room, gconstpointer data)
{
  const RefusedCase *c = data;
  GtkWindow *form = opened (room, c->open);
  gsize before = everything (room);
  gboolean names_none;
  GtkWidget *at;

  if (c->open == open_add_place)
    form_type (form, "Name", "Attic");
  at = form_field (form, c->row);
  gtk_editable_set_text (GTK_EDITABLE (at), c->text);
  /* Two values that do not fit name no field: the focus stays where it was. Else it goes to the field. */
  names_none = c->says[0] == '\0' || g_strcmp0 (c->at, "-") == 0;
  gtk_widget_grab_focus (names_none ? at : gtk_window_get_default_widget (form));
  form_accept (form);
  form_wait_problem (form);
  g_test_message ("%s", form_problem (form));
  g_assert_nonnull (strstr (form_problem (form), c->says));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (at)), ==, c->text);
  g_assert_cmpuint (everything (room), ==, before);
  at = form_field (form, c->at != NULL && !names_none ? c->at : c->row);
  g_assert_true (gtk_root_get_focus (GTK_ROOT (form)) != NULL
                 && gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (form)), at));
  gtk_window_close (form);
  form_wait_closed ();
}

/* A day stands beside its row as it was understood; what cannot be a day says nothing yet. */
static void
test_understood (Room *room, gconstpointer data)
{
  GtkWindow *form = opened (room, open_died);

  form_type (form, "Found on", "Monday"); /* the day is a Monday */
  g_assert_nonnull (app_find_words (form, "today, Mon 1 June"));
  form_type (form, "Found on", "2026-05-30");
  g_assert_nonnull (app_find_words (form, "Sat 30 May"));
  form_type (form, "Found on", "-2");
  g_assert_nonnull (app_find_words (form, "Sat 30 May"));
  form_type (form, "Found on", "spring");
  g_assert_null (app_find_words (form, "30 May"));
  gtk_window_close (form);
  form_wait_closed ();
}

/* ---- what is written ---- */

static const char *
acquired_from (Room *room, CoreId animal)
{
  g_autoptr (GPtrArray) history = desk_history (room->journal.desk, animal, NULL);

  for (guint i = 0; i < history->len; i++)
    {
      const CoreEntry *entry = history->pdata[i];

      if (entry->kind == CORE_KIND_ACQUIRED)
        return core_entry_str (entry, CORE_KEY_FROM);
    }
  return NULL;
}

static void
test_add_animal (Room *room, gconstpointer data)
{
  AppBoards *boards;
  GtkWindow *form = opened (room, open_add_animal);
  g_autoptr (DeskSubject) animal = NULL;
  const CoreState *state;

  form_type (form, "Number", "80");
  form_type (form, "Name", "Ada");
  form_type (form, "From whom", "a friend");
  form_type (form, "Hatched on", "sometime");
  form_accept (form);
  form_wait_problem (form);
  form_type (form, "Hatched on", "-30"); /* put right: what else was typed is still there */
  g_assert_cmpstr (form_typed (form, "Name"), ==, "Ada");
  form_choose (form, "Kind", 1);
  form_accept (form);
  form_wait_closed ();
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved: 80"));
  animal = desk_find (room->journal.desk, "80", NULL);
  g_assert_nonnull (animal);
  state = desk_subject_state (animal);
  g_assert_cmpstr (state->name, ==, "Ada");
  g_assert_true (state->hatched);
  g_assert_cmpint (state->hatched_day, ==, room->journal.today - 30);
  g_assert_true (desk_subject_species_known (animal));
  /* It is the one chosen, and who gave it is kept. */
  boards = APP_BOARDS (app_find (room->window, APP_TYPE_BOARDS));
  g_assert_nonnull (app_boards_chosen (boards));
  g_assert_cmpstr (app_cup_get_data (app_boards_chosen (boards))->number, ==, "80");
  g_assert_cmpstr (acquired_from (room, desk_subject_id (animal)), ==, "a friend");
}

static void
test_press_twice (Room *room, gconstpointer data)
{
  GtkWindow *form = opened (room, open_moulted);
  GtkWidget *button = gtk_window_get_default_widget (form);
  gsize before = everything (room);

  g_signal_emit_by_name (button, "clicked");
  g_assert_false (gtk_widget_get_sensitive (button)); /* until the answer is there */
  form_wait_closed ();
  g_assert_cmpuint (everything (room), ==, before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_MOULTED);
}

/* Escape while the write is on its way: then the window says how it went. */
static void
test_closed_while_writing (Room *room, gconstpointer data)
{
  static const struct
  {
    const char *day;
    const char *says;
    gsize written;
  } cases[] = { { "2026-07-01", "still to come", 0 }, { "2026-05-30", "Saved", 1 } };
  gsize before = everything (room);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWindow *form = g_object_ref (opened (room, open_moulted));

      form_type (form, "Found on", cases[i].day);
      g_signal_emit_by_name (gtk_window_get_default_widget (form), "clicked");
      g_assert_true (app_key (form, GDK_KEY_Escape, 0));
      APP_WAIT (strstr (app_said (room->window), cases[i].says) != NULL);
      app_settle ();
      g_assert_finalize_object (form);
      g_assert_cmpuint (everything (room), ==, before + cases[i].written);
    }
}

/* The window goes while a form writes: what was accepted is written, and nothing is told. */
static void
test_window_gone_while_writing (Room *room, gconstpointer data)
{
  GtkWindow *form = g_object_ref (opened (room, open_moulted));
  gsize before = everything (room);

  g_signal_emit_by_name (gtk_window_get_default_widget (form), "clicked");
  gtk_window_destroy (GTK_WINDOW (room->window));
  g_assert_finalize_object (g_steal_pointer (&room->window));
  APP_WAIT (everything (room) == before + 1);
  APP_WAIT (G_OBJECT (form)->ref_count == 1);
  g_assert_finalize_object (form);
}

/* A seller's stage is kept as it was said; by which count is not known unless that was said too. */
static void
test_sellers_stage (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  GtkWindow *form = opened (room, open_add_animal);
  g_autoptr (DeskSubject) animal = NULL;
  g_autoptr (GPtrArray) history = NULL;
  const CoreEntry *came = NULL;

  form_type (form, "Number", "81");
  form_type (form, "Hatched on", "about 10 days ago");
  form_type (form, "Stage when it came", "L4");
  form_accept (form);
  form_wait_closed ();
  animal = desk_find (desk, "81", NULL);
  g_assert_nonnull (animal);
  history = desk_history (desk, desk_subject_id (animal), NULL);
  for (guint i = 0; i < history->len; i++)
    if (((const CoreEntry *) history->pdata[i])->kind == CORE_KIND_ACQUIRED)
      came = history->pdata[i];
  g_assert_nonnull (came);
  g_assert_cmpstr (core_entry_str (came, CORE_KEY_STAGE), ==, "L4");
  g_assert_null (core_entry_get (came, CORE_KEY_SCHEME));
  g_assert_cmpint (desk_subject_state (animal)->hatched_earliest, <, desk_subject_state (animal)->hatched_day);
}

/* After a form the letters are for the cup over which it was opened, also when it was opened by the
 * menu; the toast says what was written of which cup. */
static void
test_keys_come_back (Room *room, gconstpointer data)
{
  GtkWidget *cup = GTK_WIDGET (cup_of (room, "14"));
  GtkWidget *menu = gtk_widget_get_first_child (app_find (room->window, GTK_TYPE_MENU_BUTTON));
  GtkWindow *form;

  gtk_widget_grab_focus (cup);
  app_boards_choose (boards_of (room), APP_CUP (cup));
  gtk_widget_grab_focus (menu);
  form = opened (room, open_measure);
  form_choose (form, "What", 1);
  form_type (form, "Length", "34");
  form_accept (form);
  form_wait_closed ();
  g_assert_true (gtk_root_get_focus (GTK_ROOT (room->window)) == cup);
  g_assert_true (g_str_has_prefix (app_said (room->window), "Saved: cup 14: "));
  g_assert_nonnull (strstr (app_said (room->window), "34 mm"));
  gtk_widget_grab_focus (menu); /* as GTK does when a page is drawn anew */
  g_assert_true (gtk_root_get_focus (GTK_ROOT (room->window)) == cup);
  (void) app_key (room->window, GDK_KEY_Tab, 0);
  gtk_widget_grab_focus (menu); /* the keeper went there */
  g_assert_true (gtk_root_get_focus (GTK_ROOT (room->window)) != cup);
}

static void
test_ends (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  GtkWindow *form = opened (room, open_died);

  form_choose (form, "Cause", 1);
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_DIED);
  app_dialog_left (room->window, cup (room, 1));
  form = app_form_on_top ();
  form_type (form, "To whom", "a friend");
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpint (room_last (room, 1)->kind, ==, CORE_KIND_LEFT);
  {
    g_autoptr (GPtrArray) past = desk_past_animals (desk);

    g_assert_cmpuint (past->len, ==, 2);
  }
}

static void
test_move (Room *room, gconstpointer data)
{
  GtkWindow *form = opened (room, open_move);
  g_autoptr (GPtrArray) order = NULL;

  form_type (form, "Before cup", "52");
  form_accept (form);
  form_wait_closed ();
  order = desk_animals_on (room->journal.desk, desk_subject_id (room->shelf_a));
  g_assert_cmpstr (desk_subject_label (g_ptr_array_index (order, 2)), ==, "14");
  g_assert_cmpstr (desk_subject_label (g_ptr_array_index (order, 3)), ==, "52");
}

static void
test_places (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  GtkWindow *form = opened (room, open_add_place);
  g_autoptr (DeskSubject) place = NULL;
  g_autoptr (DeskSubject) edited = NULL;
  const CorePlaceState *state;

  form_type (form, "Name", "Attic");
  form_type (form, "by day", "24,5"); /* as written in half of Europe */
  form_accept (form);
  form_wait_closed ();
  place = desk_find (desk, "Attic", NULL);
  g_assert_nonnull (place);
  g_assert_cmpfloat (desk_subject_state (place)->place.day_c, ==, 24.5);
  form = opened (room, open_edit_place);
  g_assert_cmpstr (form_typed (form, "by day"), ==, "25");
  form_type (form, "by day", "26");
  form_accept (form);
  form_wait_closed ();
  edited = fixture_now (desk, room->shelf_a);
  state = &desk_subject_state (edited)->place;
  g_assert_cmpfloat (state->day_c, ==, 26);
  g_assert_cmpfloat (state->night_c, ==, 21);
}

/* An emptied field is not said any more; undo brings it back. */
static void
test_place_emptied (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) now = NULL;
  g_autoptr (DeskSubject) again = NULL;
  GtkWindow *form = opened (room, open_edit_place);

  form_type (form, "by day", "");
  form_accept (form);
  form_wait_closed ();
  now = fixture_now (desk, room->shelf_a);
  g_assert_true (isnan (desk_subject_state (now)->place.day_c));
  g_assert_cmpfloat (desk_subject_state (now)->place.night_c, ==, 21);
  form = opened (room, open_edit_place);
  g_assert_cmpstr (form_typed (form, "by day"), ==, "");
  gtk_window_close (form);
  form_wait_closed ();
  desk_change_free (fixture_undo (desk));
  again = fixture_now (desk, room->shelf_a);
  g_assert_cmpfloat (desk_subject_state (again)->place.day_c, ==, 25);
}

static gsize
n_history (Desk *desk, DeskSubject *subject)
{
  g_autoptr (GPtrArray) history = desk_history (desk, desk_subject_id (subject), NULL);

  return history->len;
}

/* Only what was changed is written. */
static void
test_nothing_changed (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  gsize place = n_history (desk, room->shelf_a);
  gsize animal = n_history (desk, room->cups[0]);
  GtkWindow *form = opened (room, open_edit_place);

  form_accept (form);
  form_wait_closed ();
  g_assert_cmpuint (n_history (desk, room->shelf_a), ==, place);
  form = opened (room, open_edit_animal);
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpuint (n_history (desk, room->cups[0]), ==, animal);
  form = opened (room, open_edit_place);
  form_type (form, "by day", "23");
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpuint (n_history (desk, room->shelf_a), ==, place + 1);
  form = opened (room, open_edit_animal);
  form_type (form, "Name", "Bo");
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpuint (n_history (desk, room->cups[0]), ==, animal + 1);
}

static void
test_correct (Room *room, gconstpointer data)
{
  GtkWindow *form = opened (room, open_correct);
  const CoreEntry *old = room_last (room, 0);
  CoreId was = old->id;

  form_type (form, "Day", "-1");
  form_accept (form);
  form_wait_closed ();
  g_assert_true (core_id_equal (room_last (room, 0)->names, was));
  g_assert_cmpint (room_last (room, 0)->day, ==, room->journal.today - 1);
  g_assert_cmpint (core_entry_code (room_last (room, 0), CORE_KEY_OUTCOME, -1), ==, CORE_FED_TAKEN);
  g_assert_false (desk_entry_is_live (room->journal.desk, was));
}

/* A usual temperature that hurts is said while it is typed over another. */
static void
test_correct_temperature (Room *room, gconstpointer data)
{
  CoreId entry = fixture_record (room->journal.desk, room->shelf_a, "set", "key=day_c value=25", 0);
  GtkWindow *form;

  app_dialog_correct (room->window, entry);
  form = app_form_on_top ();
  form_type (form, "value", "26");
  g_assert_null (app_find_words (form, "48 °C is above"));
  form_type (form, "value", "48");
  g_assert_nonnull (app_find_words (form, "48 °C is above"));
  form_type (form, "value", "26");
  g_assert_null (app_find_words (form, "48 °C is above"));
  gtk_window_close (form);
}

static void
add_table (const char *prefix,
           const char *name,
           gconstpointer data,
           void (*func) (Room *, gconstpointer))
{
  g_autofree char *path = g_strdup_printf ("/form/%s/%s", prefix, name);

  g_test_add (path, Room, data, room_set_up_window, func, room_tear_down);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      add_table ("escape", forms[i].name, &forms[i], test_escape);
      add_table ("mnemonics", forms[i].name, &forms[i], test_mnemonics);
      add_table ("window-closed", forms[i].name, &forms[i], test_window_closed);
    }
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    add_table ("refused", refused[i].name, &refused[i], test_refused);
  ROOM ("/form/add-animal", test_add_animal);
  ROOM ("/form/understood", test_understood);
  ROOM ("/form/sellers-stage", test_sellers_stage);
  ROOM ("/form/keys-come-back", test_keys_come_back);
  ROOM ("/form/press-twice", test_press_twice);
  ROOM ("/form/closed-while-writing", test_closed_while_writing);
  ROOM ("/form/window-gone-while-writing", test_window_gone_while_writing);
  ROOM ("/form/ends", test_ends);
  ROOM ("/form/move", test_move);
  ROOM ("/form/places", test_places);
  ROOM ("/form/place-emptied", test_place_emptied);
  ROOM ("/form/nothing-changed", test_nothing_changed);
  ROOM ("/form/correct", test_correct);
  ROOM ("/form/correct-temperature", test_correct_temperature);
  return g_test_run ();
}
