/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-lots.c — cards of lots, egg cases and cultures, their keys and forms: from a hatch to
 * single cups by the hands of a keeper. */
#include "app-fixture.h"
#include "form-hands.h"

#include <string.h>

#include "app/app-animal-page.h"
#include "app/app-boards.h"
#include "app/app-care.h"
#include "app/app-dialogs.h"
#include "app/app-quick.h"
#include "app/app-story.h"

static DeskSubject *
add (Room *room, CoreSubjectKind kind, const char *pairs)
{
  DeskSubject *subject = fixture_add (room->journal.desk, kind, pairs);

  app_settle ();
  return subject;
}

static DeskSubject *
add_lot (Room *room)
{
  return add (room, CORE_SUBJECT_LOT, "species=hierodula count=96 hatched=2026-05-20 place=A");
}

static DeskSubject *
add_egg (Room *room)
{
  return add (room, CORE_SUBJECT_EGGCASE, "species=hierodula laid=2026-04-20 place=A");
}

static const CoreTally *
tally_of (Room *room, DeskSubject **lot)
{
  DeskSubject *now = fixture_now (room->journal.desk, *lot);

  desk_subject_unref (*lot);
  *lot = now;
  return &desk_subject_state (now)->tally;
}

static GtkWindow *
form_after (void)
{
  GtkWindow *form;

  app_settle ();
  form = app_form_on_top ();
  g_assert_nonnull (form);
  return form;
}

/* ---- cards ---- */

static void
test_cards (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = add_lot (room);
  g_autoptr (DeskSubject) about =
    add (room, CORE_SUBJECT_LOT, "species=unknown count=4 counted=no place=A");
  g_autoptr (DeskSubject) egg = add_egg (room);
  g_autoptr (DeskSubject) culture = add (room, CORE_SUBJECT_CULTURE, "prey=hydei place=A");
  const AppCupData *shown = app_cup_get_data (cup_of (room, "H1"));

  g_assert_cmpstr (shown->sex_sign, ==, "×96");
  g_assert_cmpint (shown->n_drawn, ==, 6);
  g_assert_nonnull (strstr (shown->label, "lot"));
  g_assert_nonnull (strstr (shown->label, "96 in it"));
  shown = app_cup_get_data (cup_of (room, "H2"));
  g_assert_cmpstr (shown->sex_sign, ==, "×~4");
  g_assert_cmpint (shown->n_drawn, ==, 4);
  g_assert_nonnull (strstr (shown->label, "about 4"));
  shown = app_cup_get_data (cup_of (room, "E1"));
  g_assert_cmpint (shown->kind, ==, CORE_SUBJECT_EGGCASE);
  g_assert_cmpint (shown->n_drawn, ==, 0);
  g_assert_nonnull (strstr (shown->label, "egg case"));
  g_assert_nonnull (strstr (shown->stage, "laid"));
  shown = app_cup_get_data (cup_of (room, "C1"));
  g_assert_nonnull (strstr (shown->label, "large fruit flies"));
  /* One animal hangs alone, as before. */
  g_assert_cmpint (app_cup_get_data (cup_of (room, "14"))->n_drawn, ==, 1);
}

/* ---- the story ---- */

static void
test_story (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = add_lot (room);
  AppCare *care;
  AppQuick *quick;

  app_boards_choose (boards_of (room), cup_of (room, "H1"));
  app_settle ();
  care = APP_CARE (app_find (story_of (room), APP_TYPE_CARE));
  quick = APP_QUICK (app_find (story_of (room), APP_TYPE_QUICK));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (care)));
  g_assert_null (app_find_button (care, "Hatched…"));
  g_assert_nonnull (app_find_button (care, "Separate…"));
  g_assert_true (app_find_words (story_of (room), "96 in it") != NULL);
  /* An animal has its own keys. */
  app_boards_choose (boards_of (room), cup_of (room, "14"));
  app_settle ();
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (care)));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (quick)));
}

static void
test_letters (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = add_lot (room);
  g_autoptr (GPtrArray) history = NULL;
  const CoreEntry *fed = NULL;

  app_boards_choose (boards_of (room), cup_of (room, "H1"));
  app_settle ();
  g_assert_true (app_story_key (story_of (room), GDK_KEY_f));
  APP_WAIT (strstr (app_said (room->window), "Saved: H1") != NULL);
  history = desk_history (room->journal.desk, desk_subject_id (lot), NULL);
  for (guint i = 0; i < history->len && fed == NULL; i++)
    if (((CoreEntry *) history->pdata[i])->kind == CORE_KIND_FED)
      fed = history->pdata[i];
  g_assert_nonnull (fed);
  g_assert_true (core_entry_get (fed, CORE_KEY_PREY) != NULL);
  g_assert_false (app_story_key (story_of (room), GDK_KEY_h)); /* hatched: no lot does */
}

/* ---- forms ---- */

static void
test_separate (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = add_lot (room);
  guint before = app_boards_n_cups (boards_of (room));
  GtkWindow *form;

  app_dialog_separate (room->window, desk_subject_id (lot));
  form = form_after ();
  g_assert_cmpstr (gtk_window_get_title (form), ==, "Out of H1 into cups");
  g_assert_nonnull (app_find_words (form, "In it now: 96."));
  form_type (form, "How many", "a few");
  form_accept (form);
  form_wait_problem (form);
  form_type (form, "How many", "97");
  form_accept (form);
  APP_WAIT (strstr (form_problem (form), "The lot holds 96") != NULL);
  form_type (form, "How many", "3");
  form_accept (form);
  form_wait_closed ();
  APP_WAIT (app_boards_n_cups (boards_of (room)) == before + 3);
  g_assert_nonnull (strstr (app_said (room->window), "71 to 73"));
  g_assert_cmpint (tally_of (room, &lot)->count, ==, 93);
  g_assert_nonnull (cup_of (room, "72"));
}

static void
test_recount_split_join (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = add_lot (room);
  GtkWindow *form;

  app_dialog_recount (room->window, desk_subject_id (lot));
  form = form_after ();
  form_type (form, "How many there are", "90");
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpint (tally_of (room, &lot)->lost_unseen, ==, 6);
  app_dialog_split (room->window, desk_subject_id (lot));
  form = form_after ();
  form_type (form, "How many go", "40");
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpint (tally_of (room, &lot)->count, ==, 50);
  APP_WAIT (app_boards_find_number (boards_of (room), "H2") != NULL);
  g_assert_cmpstr (app_cup_get_data (cup_of (room, "H2"))->sex_sign, ==, "×40");
  app_dialog_join (room->window, desk_subject_id (lot));
  form = form_after ();
  form_accept (form);
  form_wait_problem (form);
  form_choose (form, "Which goes", 1);
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpint (tally_of (room, &lot)->count, ==, 90);
  APP_WAIT (app_boards_find_number (boards_of (room), "H2") == NULL);
}

static void
test_hatch_day (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) egg = add_egg (room);
  GtkWindow *form;

  app_dialog_hatched (room->window, desk_subject_id (egg));
  form = form_after ();
  form_type (form, "How many", "140");
  form_choose (form, "That number is", 1);
  form_accept (form);
  form_wait_closed ();
  APP_WAIT (strstr (app_cup_get_data (cup_of (room, "E1"))->stage, "about 140") != NULL);
  app_dialog_lot_from (room->window, desk_subject_id (egg));
  form = form_after ();
  g_assert_nonnull (app_find_words (form, "Hatched: about 140. Empty: all of them."));
  g_assert_nonnull (app_find_words (form, "come from E1: giant Asian mantis"));
  form_accept (form);
  form_wait_closed ();
  APP_WAIT (app_boards_find_number (boards_of (room), "H1") != NULL);
  g_assert_cmpstr (app_cup_get_data (cup_of (room, "H1"))->sex_sign, ==, "×~140");
  g_assert_nonnull (strstr (app_said (room->window), "Saved: H1 is in the journal; type H1 to open it."));
}

static void
test_add_egg_case (Room *room, gconstpointer data)
{
  GtkWindow *form;
  g_autoptr (DeskSubject) egg = NULL;

  /* 70 is adult, and may be a female. */
  app_dialog_add_eggcase (room->window, desk_subject_id (room->shelf_a));
  form = form_after ();
  form_choose (form, "Mother", 1);
  form_accept (form);
  form_wait_closed ();
  egg = desk_find (room->journal.desk, "E1", NULL);
  g_assert_nonnull (egg);
  g_assert_cmpstr (desk_subject_state (egg)->species, ==, "Hierodula membranacea");
  g_assert_cmpint (desk_series_of (room->journal.desk, egg), ==, 1);
}

/* ---- every form: its fields named, Escape writes nothing ---- */

typedef struct
{
  const char *name;
  void (*open) (AppWindow *window, CoreId id);
  CoreSubjectKind kind; /* of what it is about; PLACE: the shelf */
  const char *title;
} FormCase;

static const FormCase forms[] = {
  { "add-lot", app_dialog_add_lot, CORE_SUBJECT_PLACE, "Add a lot" },
  { "add-eggcase", app_dialog_add_eggcase, CORE_SUBJECT_PLACE, "Add an egg case" },
  { "add-culture", app_dialog_add_culture, CORE_SUBJECT_PLACE, "Add a feeder culture" },
  { "origin", app_dialog_edit_origin, CORE_SUBJECT_LOT, "Kind and origin of H1" },
  { "separate", app_dialog_separate, CORE_SUBJECT_LOT, "Out of H1 into cups" },
  { "split", app_dialog_split, CORE_SUBJECT_LOT, "Split H1" },
  { "join", app_dialog_join, CORE_SUBJECT_LOT, "Join a lot to H1" },
  { "recount", app_dialog_recount, CORE_SUBJECT_LOT, "Count H1 anew" },
  { "died", app_dialog_some_died, CORE_SUBJECT_LOT, "Dead in H1" },
  { "left", app_dialog_some_left, CORE_SUBJECT_LOT, "Sold or given from H1" },
  { "escaped", app_dialog_some_escaped, CORE_SUBJECT_LOT, "Escaped from H1" },
  { "note", app_dialog_note, CORE_SUBJECT_LOT, "Note on H1" },
  { "hatched", app_dialog_hatched, CORE_SUBJECT_EGGCASE, "E1 hatched" },
  { "lot-from", app_dialog_lot_from, CORE_SUBJECT_EGGCASE, "A lot from E1" },
  { "dud", app_dialog_dud, CORE_SUBJECT_EGGCASE, "E1 will not hatch" },
  { "used-up", app_dialog_used_up, CORE_SUBJECT_CULTURE, "C1 is used up" },
};

static void
test_form (Room *room, gconstpointer data)
{
  const FormCase *c = data;
  g_autoptr (DeskSubject) lot = add_lot (room);
  g_autoptr (DeskSubject) egg = add_egg (room);
  g_autoptr (DeskSubject) culture = add (room, CORE_SUBJECT_CULTURE, "prey=hydei place=A");
  DeskSubject *about = c->kind == CORE_SUBJECT_LOT       ? lot
                       : c->kind == CORE_SUBJECT_EGGCASE ? egg
                       : c->kind == CORE_SUBJECT_CULTURE ? culture
                                                         : room->shelf_a;
  guint n = 0, before = app_boards_n_cups (boards_of (room));
  GtkWindow *form;

  c->open (room->window, desk_subject_id (about));
  form = form_after ();
  g_assert_cmpstr (gtk_window_get_title (form), ==, c->title);
  form_assert_fields_named (gtk_window_get_child (form), &n);
  g_assert_cmpuint (n, >, 0);
  form_assert_mnemonics (form);
  g_object_ref (form);
  g_assert_true (app_key (form, GDK_KEY_Escape, 0));
  form_wait_closed ();
  app_settle ();
  g_assert_finalize_object (form);
  g_assert_cmpuint (app_boards_n_cups (boards_of (room)), ==, before);
}

/* ---- the page ---- */

static void
test_page (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = add_lot (room);
  g_autoptr (DeskSubject) egg = add_egg (room);
  GtkWidget *page = app_find (room->window, APP_TYPE_ANIMAL_PAGE);

  fixture_record (room->journal.desk, lot, "died", "n=4", 0);
  app_window_show_animal (room->window, desk_subject_id (lot));
  app_settle ();
  g_assert_nonnull (app_find_words (page, "Lot · "));
  g_assert_nonnull (app_find_words (page, "96 at the beginning"));
  g_assert_nonnull (app_find_words (page, "4 dead"));
  g_assert_nonnull (app_find_words (page, "92 in it"));
  g_assert_nonnull (app_find_words (page, "alf of it by about"));
  app_window_show_animal (room->window, desk_subject_id (egg));
  app_settle ();
  g_assert_nonnull (app_find_words (page, "Egg case · "));
  g_assert_null (app_find_words (page, "96 at the beginning"));
  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  app_settle ();
  g_assert_null (app_find_words (page, "Egg case · "));
}

int
main (int argc, char *argv[])
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/app/lots/cards", test_cards);
  ROOM ("/app/lots/story", test_story);
  ROOM ("/app/lots/letters", test_letters);
  ROOM ("/app/lots/separate", test_separate);
  ROOM ("/app/lots/recount-split-join", test_recount_split_join);
  ROOM ("/app/lots/hatch-day", test_hatch_day);
  ROOM ("/app/lots/add-egg-case", test_add_egg_case);
  ROOM ("/app/lots/page", test_page);
  for (gsize i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      g_autofree char *path = g_strdup_printf ("/app/lots/form/%s", forms[i].name);

      g_test_add (path, Room, &forms[i], room_set_up_window, test_form, room_tear_down);
    }
  return g_test_run ();
}
