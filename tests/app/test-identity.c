/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-identity.c — the timeline's filters and what stands under a correction; animals mixed up, in
 * doubt; a cup dropped on another. */
#include "app-fixture.h"
#include "form-hands.h"

#include <string.h>

#include "app/app-animal-page.h"
#include "app/app-dialogs.h"
#include "app/app-form.h"
#include "app/app-mixed-photos.h"
#include "app/app-swap.h"
#include "app/app-thumb.h"
#include "app/app-timeline.h"
#include "app/app-timeline-filter.h"
#include "fixture.h"

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

static AppTimelineFilter *
filter (Room *room)
{
  return APP_TIMELINE_FILTER (app_find (timeline (room), APP_TYPE_TIMELINE_FILTER));
}

static void
show (Room *room, guint cup)
{
  app_window_show_animal (room->window, desk_subject_id (room->cups[cup]));
  app_settle ();
}

static gboolean
is_shown (Room *room, const char *words)
{
  GtkWidget *label = app_find_words (timeline (room), words);

  return label != NULL && gtk_widget_get_child_visible (label) && gtk_widget_get_visible (label);
}

/* ---- filters ---- */

static void
write_some (Room *room)
{
  Desk *desk = room->journal.desk;

  fixture_record (desk, room->cups[0], "fed", "prey=moth n=1 outcome=taken", -3);
  fixture_record (desk, room->cups[0], "gone", "", -2);
  fixture_record (desk, room->cups[0], "misted", "", -2);
  fixture_record (desk, room->cups[0], "note", "text=walks-well", -1);
}

static void
test_filters (Room *room, gconstpointer data)
{
  GtkWidget *meals;

  write_some (room);
  show (room, 0);
  g_assert_true (app_timeline_filter_all (filter (room)));
  g_assert_true (is_shown (room, "moth") && is_shown (room, "walks-well"));
  meals = app_find_labelled (filter (room), GTK_TYPE_TOGGLE_BUTTON, "Meals: 2 entries");
  g_assert_nonnull (meals);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (meals), TRUE);
  app_settle ();
  g_assert_true (is_shown (room, "moth"));
  g_assert_false (is_shown (room, "walks-well"));
  g_assert_true (is_shown (room, "2 of "));
  /* Kept while the page is open, also when something is written and for the next animal. */
  fixture_record (room->journal.desk, room->cups[0], "note", "text=second", 0);
  app_settle ();
  g_assert_false (is_shown (room, "second"));
  show (room, 1);
  g_assert_true (app_timeline_filter_chosen (filter (room), WORDS_GROUP_MEALS));
  show (room, 0);
  app_press (app_find_button (timeline (room), "Show all"));
  g_assert_true (is_shown (room, "second") && is_shown (room, "moth"));
}

static void
test_filter_keys (Room *room, gconstpointer data)
{
  write_some (room);
  show (room, 0);
  g_assert_true (app_key (animal_page (room), GDK_KEY_1, GDK_ALT_MASK));
  g_assert_false (is_shown (room, "walks-well"));
  g_assert_true (app_key (animal_page (room), GDK_KEY_5, GDK_ALT_MASK));
  g_assert_true (is_shown (room, "walks-well") && is_shown (room, "moth"));
  g_assert_true (app_key (animal_page (room), GDK_KEY_1, GDK_ALT_MASK));
  g_assert_false (is_shown (room, "moth"));
  g_assert_true (app_key (animal_page (room), GDK_KEY_0, GDK_ALT_MASK));
  g_assert_true (is_shown (room, "moth"));
  g_assert_false (app_key (animal_page (room), GDK_KEY_7, GDK_ALT_MASK));
}

/* What a seller said stands in the seller's words and scheme, and whom it comes from; nothing where
 * nothing was told. */
static void
test_told (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  g_autoptr (DeskSubject) bought =
    fixture_add (desk, CORE_SUBJECT_ANIMAL,
                 "species=hierodula number=80 acquired=2026-05-01 stage=L5 scheme=2 from=Ada generation=F2 "
                 "species_sure=doubtful mother=70 place=B");
  GtkWidget *row;

  fixture_record (desk, bought, "sexed", "sex=male method=claim", -1);
  app_window_show_animal (room->window, desk_subject_id (bought));
  app_settle ();
  row = app_find_labelled (animal_page (room), GTK_TYPE_BOX,
                           "Told by Ada: L5 (hatchling = L2), male, generation F2");
  g_assert_nonnull (row);
  gtk_test_accessible_assert_role (row, GTK_ACCESSIBLE_ROLE_GROUP);
  g_assert_true (gtk_widget_get_mapped (row));
  g_assert_nonnull (app_find_labelled (animal_page (room), GTK_TYPE_BOX, "Descent: mother 70"));
  g_assert_nonnull (app_find_labelled (animal_page (room), GTK_TYPE_BOX, "Species name: doubtful"));
  app_window_show_animal (room->window, desk_subject_id (room->cups[4]));
  app_settle ();
  g_assert_null (app_find_words (animal_page (room), "Told by"));
  g_assert_null (app_find_words (animal_page (room), "As told"));
  g_assert_null (app_find_words (animal_page (room), "Descent"));
  app_window_show_animal (room->window, desk_subject_id (room->cups[0])); /* stage=L4 of one's own */
  app_settle ();
  g_assert_nonnull (app_find_labelled (animal_page (room), GTK_TYPE_BOX, "As told: L4, scheme not known"));
}

/* What it was before stands under a correction; what was taken back is found among corrections. */
static void
test_corrections (Room *room, gconstpointer data)
{
  CoreId note = fixture_record (room->journal.desk, room->cups[0], "note", "text=helo", -1);
  CoreId gone = fixture_record (room->journal.desk, room->cups[0], "note", "text=mistaken", -1);

  fixture_correct (room->journal.desk, note, "text=hello");
  fixture_void (room->journal.desk, gone);
  show (room, 0);
  g_assert_true (is_shown (room, "hello"));
  g_assert_true (is_shown (room, "before: helo"));
  g_assert_false (is_shown (room, "mistaken"));
  g_assert_true (app_key (animal_page (room), GDK_KEY_6, GDK_ALT_MASK));
  g_assert_true (is_shown (room, "before: helo") && is_shown (room, "mistaken"));
  g_assert_cmpuint (app_count (timeline (room), GTK_TYPE_MENU_BUTTON), ==, 1);
}

/* ---- mixed up ---- */

static void
test_mixed (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  fixture_record (room->journal.desk, room->cups[0], "note", "text=seen-here", -1);
  show (room, 0);
  app_dialog_mixed (room->window, desk_subject_id (room->cups[0]));
  form_accept (app_form_on_top ());
  form_wait_problem (app_form_on_top ());
  form_type (app_form_on_top (), "With cup", "22");
  form_accept (app_form_on_top ());
  g_assert_nonnull (strstr (form_problem (app_form_on_top ()), "Since when"));
  form_type (app_form_on_top (), "Since", "-2");
  form_accept (app_form_on_top ());
  form_wait_closed ();
  APP_WAIT (strstr (app_said (room->window), "changed sides") != NULL);
  app_settle ();
  g_assert_true (is_shown (room, "belongs to 22"));
  g_assert_true (is_shown (room, "had been mixed up with 22"));
  show (room, 1);
  g_assert_true (is_shown (room, "entered with 14"));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Took back"));
}

static CoreId
add_photo (Room *room, guint cup, int width)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (width, 240);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, NULL);
  g_autofree char *name = g_strdup_printf ("p%d.jpg", width);
  g_autofree char *path = room_file (room, name, jpeg);

  show (room, cup);
  g_assert_true (app_drop_file (animal_page (room), path, 9, 9));
  APP_WAIT (room_last (room, cup)->kind == CORE_KIND_PHOTO);
  return room_last (room, cup)->id;
}

static CoreId
owner (Room *room, CoreId photo)
{
  return desk_entry_heir (room->journal.desk, photo)->subject;
}

/* One by one; an answer is kept as a draft, and the picture goes to whom it shows. */
static void
test_mixed_photos (Room *room, gconstpointer data)
{
  CoreId first = add_photo (room, 0, 320), second = add_photo (room, 1, 330);
  GtkWindow *form;
  AppMixedPhotos *photos;
  CoreDay today = desk_today (room->journal.desk);

  app_dialog_mixed (room->window, desk_subject_id (room->cups[0]));
  form = app_form_on_top ();
  photos = APP_MIXED_PHOTOS (app_find (form, APP_TYPE_MIXED_PHOTOS));
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (photos)));
  form_type (form, "With cup", "22");
  form_type (form, "Since", "-2");
  app_settle ();
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (photos)));
  g_assert_cmpuint (app_mixed_photos_n (photos), ==, 2);
  g_assert_cmpint (desk_entry (room->journal.desk, first)->day, ==, today);
  g_assert_nonnull (app_find_words (photos, "Picture 1 of 2"));
  g_assert_nonnull (app_find (photos, APP_TYPE_THUMB));
  {
    gboolean of_first = app_find_words (photos, "entered with 14") != NULL;

    /* It stays with whom it was entered for; the other, of which nobody can say, goes along. */
    gtk_toggle_button_set_active (
      GTK_TOGGLE_BUTTON (app_find_button (photos, of_first ? "It shows 14" : "It shows 22")), TRUE);
    app_settle ();
    g_assert_nonnull (app_find_words (photos, "Picture 2 of 2"));
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (app_find_button (photos, "It cannot be told")), TRUE);
    app_settle ();
    g_assert_nonnull (app_find_words (photos, "2 of 2 answered"));
    app_form_leave_all (room->window);
    APP_WAIT (app_form_on_top () == NULL);
    app_dialog_mixed (room->window, desk_subject_id (room->cups[0]));
    form = app_form_on_top ();
    g_assert_nonnull (app_find_words (app_find (form, APP_TYPE_MIXED_PHOTOS), "2 of 2 answered"));
    form_accept (form);
    form_wait_closed ();
    app_settle ();
    g_assert_true (core_id_equal (owner (room, first), desk_subject_id (room->cups[of_first ? 0 : 1])));
    g_assert_true (core_id_equal (owner (room, second), desk_subject_id (room->cups[of_first ? 0 : 1])));
  }
}

static void
test_doubt (Room *room, gconstpointer data)
{
  show (room, 0);
  app_dialog_doubt (room->window, desk_subject_id (room->cups[0]));
  form_type (app_form_on_top (), "Last surely itself", "-2");
  form_type (app_form_on_top (), "Why", "two cups fell over");
  form_accept (app_form_on_top ());
  form_wait_closed ();
  APP_WAIT (app_find_words (animal_page (room), "identity doubtful since 30 May") != NULL);
  g_assert_true (is_shown (room, "two cups fell over"));
  app_window_show_page (room->window, "shelves");
  app_settle ();
  g_assert_cmpstr (app_cup_get_data (cup_of (room, "14"))->species, ==, "which one?");
  g_assert_nonnull (strstr (app_cup_get_data (cup_of (room, "14"))->label, "identity doubtful since 30 May"));
  show (room, 0);
  app_dialog_doubt (room->window, desk_subject_id (room->cups[0]));
  g_assert_nonnull (app_find_words (app_form_on_top (), "Identity doubtful since 30 May"));
  form_accept (app_form_on_top ());
  form_wait_closed ();
  APP_WAIT (is_shown (room, "decided: it is this animal"));
  g_assert_null (app_find_words (animal_page (room), "identity doubtful"));
}

/* ---- places ---- */

static GtkWidget *
question_on_top (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l != NULL; l = l->next)
    if (ADW_IS_MESSAGE_DIALOG (l->data))
      return l->data;
  return NULL;
}

static const char *
label_at (GPtrArray *order, guint i)
{
  return desk_subject_label (g_ptr_array_index (order, i));
}

static void
answer (Room *room, const char *response, const char *wanted)
{
  g_autoptr (GPtrArray) order = NULL;
  g_autoptr (GString) labels = g_string_new (NULL);

  g_signal_emit_by_name (boards_of (room), "met", cup_of (room, "14"), cup_of (room, "52"));
  g_assert_nonnull (question_on_top ());
  adw_message_dialog_response (ADW_MESSAGE_DIALOG (question_on_top ()), response);
  gtk_window_destroy (GTK_WINDOW (question_on_top ()));
  if (strcmp (response, "cancel") != 0)
    APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved"));
  app_settle ();
  order = desk_animals_on (room->journal.desk, desk_subject_id (room->shelf_a));
  for (guint i = 0; i < order->len; i++)
    g_string_append_printf (labels, "%s%s", i > 0 ? " " : "", label_at (order, i));
  g_assert_cmpstr (labels->str, ==, wanted);
}

static void
test_dropped_exchange (Room *room, gconstpointer data)
{
  answer (room, "cancel", "14 22 31 52 61");
  answer (room, "exchange", "52 22 31 14 61");
}

static void
test_dropped_before (Room *room, gconstpointer data)
{
  answer (room, "before", "22 31 14 52 61");
}

static void
test_swap_form (Room *room, gconstpointer data)
{
  CoreId place;

  app_dialog_swap (room->window, desk_subject_id (room->cups[0]));
  form_type (app_form_on_top (), "With cup", "70");
  form_accept (app_form_on_top ());
  form_wait_closed ();
  {
    g_autoptr (DeskSubject) now = fixture_now (room->journal.desk, room->cups[0]);

    g_assert_true (desk_subject_place (now, &place, NULL));
    g_assert_true (core_id_equal (place, desk_subject_id (room->shelf_b)));
  }
}

int
main (int argc, char *argv[])
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/app/identity/told", test_told);
  ROOM ("/identity/filters", test_filters);
  ROOM ("/identity/filter-keys", test_filter_keys);
  ROOM ("/identity/corrections", test_corrections);
  ROOM ("/identity/mixed", test_mixed);
  ROOM ("/identity/mixed-photos", test_mixed_photos);
  ROOM ("/identity/doubt", test_doubt);
  ROOM ("/identity/dropped-exchange", test_dropped_exchange);
  ROOM ("/identity/dropped-before", test_dropped_before);
  ROOM ("/identity/swap-form", test_swap_form);
  return g_test_run ();
}
