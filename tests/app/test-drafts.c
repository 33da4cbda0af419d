/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-drafts.c — forms for what is seen now and then, what is being typed and not yet saved, and
 * the cautions beside it. */
#include "app-fixture.h"
#include "form-hands.h"

#include <string.h>

#include "app/app-animal-page.h"
#include "app/app-dialogs.h"
#include "app/app-form.h"
#include "app/app-quick.h"

static CoreId
cup (Room *room, guint i)
{
  return desk_subject_id (room->cups[i]);
}

static GtkWindow *
opened (Room *room, void (*open) (AppWindow *window, CoreId id))
{
  GtkWindow *form;

  open (room->window, cup (room, 0));
  app_settle ();
  form = app_form_on_top ();
  g_assert_nonnull (form);
  return form;
}

static gsize
n_history (Desk *desk, DeskSubject *subject)
{
  g_autoptr (GPtrArray) history = desk_history (desk, desk_subject_id (subject), NULL);

  return history->len;
}

/* ---- what is seen now and then ---- */

static const CoreEntry *
saved (Room *room, GtkWindow *form, CoreKind kind)
{
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpint (room_last (room, 0)->kind, ==, kind);
  return room_last (room, 0);
}

static const char *
code (const CoreEntry *entry, CoreKey key)
{
  return core_kind_key (entry->kind, key)->words[core_entry_code (entry, key, 0)];
}

static void
test_seen (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) now = NULL;
  const CoreStay *stay;
  const CoreEntry *entry;
  GtkWindow *form = opened (room, app_dialog_measure);
  CoreId place;

  form_choose (form, "What", 3);
  form_type (form, "Length", "14,5"); /* as written in half of Europe */
  entry = saved (room, form, CORE_KIND_MEASURED);
  g_assert_cmpstr (code (entry, CORE_KEY_WHAT), ==, "pronotum");
  g_assert_cmpfloat (core_entry_num (entry, CORE_KEY_MM, 0), ==, 14.5);

  form = opened (room, app_dialog_sex);
  form_accept (form);
  form_wait_problem (form);
  g_assert_nonnull (strstr (form_problem (form), "unknown"));
  form_choose (form, "Sex", 2);
  form_accept (form);
  form_wait_problem (form);
  form_choose (form, "Read", 1);
  form_choose (form, "Looked at", 2);
  entry = saved (room, form, CORE_KIND_SEXED);
  g_assert_cmpstr (code (entry, CORE_KEY_SEX), ==, "female");
  g_assert_cmpstr (code (entry, CORE_KEY_METHOD), ==, "count");
  g_assert_cmpstr (code (entry, CORE_KEY_OF), ==, "shed");

  form = opened (room, app_dialog_home);
  form_type (form, "Inner height", "200");
  form_type (form, "Inner width", "120");
  (void) saved (room, form, CORE_KIND_HOUSED);
  now = fixture_now (room->journal.desk, room->cups[0]);
  g_assert_true (desk_subject_place (now, &place, NULL));
  g_assert_true (
    core_id_equal (place, desk_subject_id (room->shelf_a))); /* it stays where it stood */
  stay = &desk_subject_state (now)->stays.v[desk_subject_state (now)->stays.n - 1];
  g_assert_cmpfloat (stay->height_mm, ==, 200);
  g_assert_cmpfloat (stay->width_mm, ==, 120);
  form = opened (room, app_dialog_home);
  g_assert_cmpstr (form_typed (form, "Inner height"), ==, "200");
  gtk_window_close (form);
  form_wait_closed ();

  form = opened (room, app_dialog_stage);
  form_choose (form, "wings full", 1);
  entry = saved (room, form, CORE_KIND_STAGE);
  g_assert_cmpstr (code (entry, CORE_KEY_SEEN), ==, "adult");
}

static void
test_purpose (Room *room, gconstpointer data)
{
  gsize before = n_history (room->journal.desk, room->cups[0]);
  GtkWindow *form = opened (room, app_dialog_purpose);

  form_accept (form);
  form_wait_closed ();
  g_assert_cmpuint (n_history (room->journal.desk, room->cups[0]), ==, before);
  form = opened (room, app_dialog_purpose);
  form_choose (form, "Kept for", 1);
  form_choose (form, "check", 1);
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpuint (n_history (room->journal.desk, room->cups[0]), ==, before + 2);
  form = opened (room, app_dialog_purpose);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (form_field (form, "Kept for"))), ==,
                    1);
  form_choose (form, "check", 0);
  form_accept (form);
  form_wait_closed ();
  g_assert_cmpstr (core_entry_str (room_last (room, 0), CORE_KEY_KEY), ==, "sex_check");
  g_assert_cmpstr (core_entry_str (room_last (room, 0), CORE_KEY_VALUE), ==, "none");
}

/* A sub-adult becomes an adult or not: the keeper says which, the form never. */
static void
test_wings_asked (Room *room, gconstpointer data)
{
  GtkWindow *form = opened (room, app_dialog_moulted);
  gsize before;

  g_assert_null (app_find_words (form, "wings full?"));
  gtk_window_close (form);
  form_wait_closed ();
  fixture_record (room->journal.desk, room->cups[0], "stage", "seen=subadult", -3);
  before = room_n_entries (room, 0);
  form = opened (room, app_dialog_moulted);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (form_field (form, "wings full?"))),
                    ==, 0);
  form_accept (form);
  form_wait_problem (form);
  g_assert_nonnull (strstr (form_problem (form), "Are the wings full?"));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  form_choose (form, "wings full?",
               4); /* not looked at: an answer that says nothing of the stage */
  g_assert_false (core_entry_get (saved (room, form, CORE_KIND_MOULTED), CORE_KEY_TO) != NULL);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (room_n_entries (room, 0) == before);
  form = opened (room, app_dialog_moulted);
  form_choose (form, "wings full?", 1);
  g_assert_cmpstr (code (saved (room, form, CORE_KIND_MOULTED), CORE_KEY_TO), ==, "adult");
}

/* ---- what is being typed ---- */

/* The window goes as after a crash: what was typed is there when the form opens again. */
static void
test_draft (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  GtkWindow *form = opened (room, app_dialog_left);
  char id[37];
  g_autofree char *key = NULL;
  g_autofree char *body = NULL;

  core_id_to_text (cup (room, 0), id);
  key = g_strdup_printf ("form/left/%s", id);
  g_assert_null (desk_draft_get (desk, key));
  form_type (form, "To whom", "a friend");
  form_choose (form, "How", 2);
  body = desk_draft_get (desk, key);
  g_assert_nonnull (body);
  g_assert_nonnull (strstr (body, "to=a friend\n"));
  g_assert_nonnull (strstr (body, "how=swapped\n"));
  g_assert_nonnull (strstr (body, "day=2026-06-01\n")); /* tomorrow it is not today */
  app_form_leave_all (room->window);
  form_wait_closed ();
  desk_set_today (desk, room->journal.today + 1);
  form = opened (room, app_dialog_left);
  g_assert_nonnull (app_find_words (form, "What you typed before is here again"));
  g_assert_cmpstr (form_typed (form, "To whom"), ==, "a friend");
  g_assert_cmpstr (form_typed (form, "On"), ==, "2026-06-01");
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (form_field (form, "How"))), ==, 2);
  app_dialog_left (room->window, cup (room, 1)); /* the draft is the animal's own */
  g_assert_cmpstr (form_typed (app_form_on_top (), "To whom"), ==, "");
  gtk_window_destroy (app_form_on_top ());
  form_accept (form);
  form_wait_closed ();
  g_assert_null (desk_draft_get (desk, key));
}

/* Cancelled by the keeper, or put back as it was: no draft. */
static void
test_draft_gone (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  GtkWindow *form = opened (room, app_dialog_left);
  g_autoptr (GPtrArray) keys = NULL;

  form_type (form, "To whom", "a friend");
  form_type (form, "To whom", "");
  keys = desk_draft_keys (desk);
  g_assert_cmpuint (keys->len, ==, 0);
  form_type (form, "To whom", "a friend");
  g_assert_true (app_key (form, GDK_KEY_Escape, 0));
  form_wait_closed ();
  g_clear_pointer (&keys, g_ptr_array_unref);
  keys = desk_draft_keys (desk);
  g_assert_cmpuint (keys->len, ==, 0);
  form = opened (room, app_dialog_left);
  g_assert_null (app_find_words (form, "is here again"));
  form_type (form, "To whom", "nobody");
  app_press (app_find_button (form, "Cancel"));
  form_wait_closed ();
  g_clear_pointer (&keys, g_ptr_array_unref);
  keys = desk_draft_keys (desk);
  g_assert_cmpuint (keys->len, ==, 0);
}

/* A draft that another version wrote: what fits is taken, nothing else. */
static void
test_draft_odd (Room *room, gconstpointer data)
{
  char id[37];
  g_autofree char *key = NULL;
  GtkWindow *form;

  core_id_to_text (cup (room, 0), id);
  key = g_strdup_printf ("form/left/%s", id);
  desk_draft_set (room->journal.desk, key, "how=eaten\nnothing\n=\ncolour=red\nto=a=b");
  form = opened (room, app_dialog_left);
  g_assert_cmpstr (form_typed (form, "To whom"), ==, "a=b");
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (form_field (form, "How"))), ==, 0);
  gtk_window_close (form);
  form_wait_closed ();
}

/* ---- what a form shows ---- */

static void
add_animal (AppWindow *window, CoreId id)
{
  app_dialog_add_animal (window, (CoreId){ { 0 } });
}

static void
add_place (AppWindow *window, CoreId id)
{
  app_dialog_add_place (window);
}

static void
edit_place (AppWindow *window, CoreId id)
{
  g_autoptr (GPtrArray) places = desk_places (app_window_get_desk (window));

  app_dialog_edit_place (window, desk_subject_id (g_ptr_array_index (places, 0)));
}

/* Kinds by the name that keepers say, in order, the scientific name beside it. */
static void
test_kinds (Room *room, gconstpointer data)
{
  GtkWindow *form = opened (room, add_animal);
  GListModel *kinds = gtk_drop_down_get_model (GTK_DROP_DOWN (form_field (form, "Kind")));
  gboolean orchid = FALSE;

  g_assert_cmpuint (g_list_model_get_n_items (kinds), >, 4);
  for (guint i = 1; i < g_list_model_get_n_items (kinds); i++)
    {
      const char *name = gtk_string_list_get_string (GTK_STRING_LIST (kinds), i);

      orchid = orchid || g_str_equal (name, "orchid mantis · Hymenopus coronatus");
      if (i > 1)
        g_assert_cmpint (
          g_utf8_collate (gtk_string_list_get_string (GTK_STRING_LIST (kinds), i - 1), name), <, 0);
    }
  g_assert_true (orchid);
  gtk_window_close (form);
  form_wait_closed ();
}

typedef struct
{
  const char *name;
  void (*open) (AppWindow *window, CoreId id);
  WordsCaution caution;
} CautionCase;

static const CautionCase caution_cases[] = {
  { "place-heat", add_place, WORDS_CAUTION_HEAT },
  { "place-electricity", edit_place, WORDS_CAUTION_ELECTRICITY },
  { "home-cleaning", app_dialog_home, WORDS_CAUTION_CLEANING },
  { "left-post", app_dialog_left, WORDS_CAUTION_POST },
  { "left-release", app_dialog_left, WORDS_CAUTION_RELEASE },
};

static void
test_caution (Room *room, gconstpointer data)
{
  const CautionCase *c = data;
  GtkWindow *form = opened (room, c->open);

  g_assert_nonnull (app_find_words (form, words_caution_line (WORDS_LOCAL, c->caution)));
  gtk_window_close (form);
  form_wait_closed ();
}

/* Of what is done at once, the caution stands on the button. */
static void
test_button_cautions (Room *room, gconstpointer data)
{
  static const struct
  {
    const char *label;
    WordsCaution caution;
  } buttons[] = { { "Photo…", WORDS_CAUTION_PHOTO }, { "Cleaned", WORDS_CAUTION_CLEANING } };
  GtkWidget *page;

  app_window_show_animal (room->window, cup (room, 0));
  page = app_find (room->window, APP_TYPE_ANIMAL_PAGE);
  app_press (app_find_button (page, "More…"));
  for (guint i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      GtkWidget *button = app_find_button (page, buttons[i].label);

      g_assert_nonnull (button);
      g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==,
                       words_caution_line (WORDS_LOCAL, buttons[i].caution));
    }
}

/* What needs no form is written at once. */
static void
test_at_once (Room *room, gconstpointer data)
{
  static const struct
  {
    const char *label;
    CoreKind kind;
  } rows[] = { { "Watered", CORE_KIND_WATERED },
               { "Cleaned", CORE_KIND_CLEANED },
               { "Not needed: sex check", CORE_KIND_SET } };
  gsize before = room_n_entries (room, 0);
  GtkWidget *page;

  app_window_show_animal (room->window, cup (room, 0));
  page = app_find (room->window, APP_TYPE_ANIMAL_PAGE);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      app_press (app_find_button (page, "More…"));
      app_press (app_find_button (page, rows[i].label));
      APP_WAIT (room_n_entries (room, 0) == before + i + 1);
      g_assert_cmpint (room_last (room, 0)->kind, ==, rows[i].kind);
    }
  g_assert_cmpstr (core_entry_str (room_last (room, 0), CORE_KEY_KEY), ==, "sex_check");
  g_assert_cmpstr (core_entry_str (room_last (room, 0), CORE_KEY_VALUE), ==, "not_needed");
}

/* What "More…" offers: each has its letter. */
static void
test_more_letters_differ (void)
{
  for (guint i = 0; i < app_quick_n_more_keys (); i++)
    {
      g_assert_true (g_unichar_isalpha (app_quick_more_key_at (i, NULL)));
      for (guint k = 0; k < i; k++)
        g_assert_cmpuint (app_quick_more_key_at (i, NULL), !=, app_quick_more_key_at (k, NULL));
    }
}

/* They count while it is open, underlined, before those of the first row. */
static void
test_more_letters (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);
  AppQuick *quick;

  app_window_show_animal (room->window, cup (room, 0));
  quick = APP_QUICK (app_find (app_find (room->window, APP_TYPE_ANIMAL_PAGE), APP_TYPE_QUICK));
  g_assert_true (app_quick_key (quick, GDK_KEY_e));
  g_assert_true (strstr (gtk_label_get_label (GTK_LABEL (app_find_words (quick, "Watered"))), "<u>W</u>") != NULL);
  g_assert_true (app_quick_key (quick, GDK_KEY_w));
  APP_WAIT (room_n_entries (room, 0) == before + 1);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_WATERED);
  g_assert_true (app_quick_key (quick, GDK_KEY_w)); /* closed: the list of prey again */
  app_settle ();
  g_assert_cmpuint (room_n_entries (room, 0), ==, before + 1);
  g_assert_true (app_quick_key (quick, GDK_KEY_e));
  g_assert_true (app_quick_key (quick, GDK_KEY_s));
  app_settle ();
  g_assert_nonnull (app_form_on_top ()); /* Measure…, not sprayed */
  gtk_window_destroy (app_form_on_top ());
  g_assert_cmpuint (room_n_entries (room, 0), ==, before + 1);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  for (guint i = 0; i < G_N_ELEMENTS (caution_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/form/caution/%s", caution_cases[i].name);

      g_test_add (path, Room, &caution_cases[i], room_set_up_window, test_caution, room_tear_down);
    }
  ROOM ("/form/button-cautions", test_button_cautions);
  ROOM ("/form/at-once", test_at_once);
  g_test_add_func ("/form/more-letters-differ", test_more_letters_differ);
  ROOM ("/form/more-letters", test_more_letters);
  ROOM ("/form/seen", test_seen);
  ROOM ("/form/purpose", test_purpose);
  ROOM ("/form/wings-asked", test_wings_asked);
  ROOM ("/form/draft", test_draft);
  ROOM ("/form/draft-gone", test_draft_gone);
  ROOM ("/form/draft-odd", test_draft_odd);
  ROOM ("/form/kinds", test_kinds);
  return g_test_run ();
}
