/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-merge.c — another copy comes in by the window: said before, done at once, settled by keys. */
#include "app-fixture.h"

#include <glib/gstdio.h>
#include <string.h>

#include "app/app-merge-page.h"
#include "store/store.h"

typedef struct
{
  Room room;
  Fixture copy; /* of the journal before the window was opened; edited and closed */
} Merge;

/* A copy that has another cup 71, as the journal has, and a note on 14. */
static void
make_copy (Merge *merge)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) first = NULL;
  g_autoptr (DeskSubject) made = NULL;
  g_autoptr (Store) store = store_open (merge->room.journal.dir, STORE_READ_ONLY, &error);

  g_assert_no_error (error);
  merge->copy.today = merge->room.journal.today;
  merge->copy.dir = g_dir_make_tmp ("mantidary-desk-XXXXXX", NULL);
  g_assert_true (store_dump (store, merge->copy.dir, &error));
  merge->copy.desk = fixture_open (&merge->copy, DESK_OPEN_LAZY);
  first = desk_find (merge->copy.desk, "14", NULL);
  fixture_record (merge->copy.desk, first, "note", "text=fair", 0);
  made = fixture_add (merge->copy.desk, CORE_SUBJECT_ANIMAL, "species=hymenopus number=71");
  fixture_close (g_steal_pointer (&merge->copy.desk));
}

static void
set_up (Merge *merge, gconstpointer data)
{
  g_autoptr (DeskSubject) made = NULL;

  room_set_up (&merge->room, NULL);
  make_copy (merge);
  g_usleep (2000); /* ids tell milliseconds apart: the copy's 71 is the earlier one */
  made = fixture_add (merge->room.journal.desk, CORE_SUBJECT_ANIMAL, "species=phyllocrania number=71");
  room_open_window (&merge->room);
}

static void
tear_down (Merge *merge, gconstpointer data)
{
  room_tear_down (&merge->room, data);
  merge->copy.desk = fixture_open (&merge->copy, DESK_OPEN_LAZY);
  fixture_tear_down (&merge->copy, NULL);
}

static AppMergePage *
page (Merge *merge)
{
  return APP_MERGE_PAGE (app_find (merge->room.window, APP_TYPE_MERGE_PAGE));
}

static void
open_page (Merge *merge)
{
  gtk_widget_activate_action (GTK_WIDGET (merge->room.window), "win.merge", NULL);
  app_settle ();
  g_assert_cmpstr (gtk_stack_get_visible_child_name (merge->room.window->pages), ==, "merge");
}

static gboolean
shown (gpointer widget)
{
  return widget != NULL && gtk_widget_get_visible (widget);
}

static guint
n_entries (Merge *merge)
{
  g_autoptr (DeskSubject) first = desk_find (merge->room.journal.desk, "14", NULL);
  g_autoptr (GPtrArray) history =
    desk_history (merge->room.journal.desk, desk_subject_id (first), NULL);

  return history->len;
}

static void
look (Merge *merge)
{
  open_page (merge);
  g_assert_false (shown (app_find_button (page (merge), "Merge it")));
  app_merge_page_look (page (merge), merge->copy.dir);
  APP_WAIT (shown (app_find_button (page (merge), "Merge it")));
}

static void
test_look_first (Merge *merge, gconstpointer data)
{
  GtkWidget *list;
  guint before = n_entries (merge);

  look (merge);
  list = app_find (page (merge), GTK_TYPE_LIST_BOX);
  g_assert_nonnull (app_find_words (page (merge), "Will come in: "));
  g_assert_nonnull (app_find_words (page (merge), "1 animal"));
  g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL));
  g_assert_true (shown (list));
  g_assert_nonnull (app_find_words (list, "answers to 71b until it gets a new one"));
  g_assert_null (app_find_button (list, "New number…")); /* nothing is to be settled yet */
  g_assert_cmpuint (n_entries (merge), ==, before);
  /* The next key does it. */
  g_assert_true (gtk_root_get_focus (GTK_ROOT (merge->room.window)) ==
                 app_find_button (page (merge), "Merge it"));
}

static void
test_merge (Merge *merge, gconstpointer data)
{
  g_autoptr (DeskSubject) letter = NULL;
  guint before = n_entries (merge);
  GtkWidget *list;
  GtkWidget *button;

  look (merge);
  app_press (app_find_button (page (merge), "Merge it"));
  APP_WAIT (strstr (app_said (merge->room.window), "Came in: ") != NULL);
  g_assert_cmpuint (n_entries (merge), ==, before + 1);
  g_assert_false (shown (app_find_button (page (merge), "Merge it")));
  letter = desk_find (merge->room.journal.desk, "71b", NULL);
  g_assert_nonnull (letter);
  list = app_find (page (merge), GTK_TYPE_LIST_BOX);
  button = app_find_button (list, "New number…");
  g_assert_nonnull (button);
  g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL));
  app_press (button);
  g_assert_nonnull (app_form_on_top ());
  gtk_window_close (app_form_on_top ());
  app_settle ();
  /* Once it is settled nothing waits any more. */
  fixture_record (merge->room.journal.desk, letter, "set", "key=number value=72", 0);
  APP_WAIT (!shown (list));
  g_assert_null (app_find_button (list, "New number…"));
}

static void
test_nothing_new (Merge *merge, gconstpointer data)
{
  look (merge);
  app_press (app_find_button (page (merge), "Merge it"));
  APP_WAIT (strstr (app_said (merge->room.window), "Came in: ") != NULL);
  app_merge_page_look (page (merge), merge->copy.dir);
  APP_WAIT (app_find_words (page (merge), "Nothing new is there") != NULL);
  g_assert_false (shown (app_find_button (page (merge), "Merge it")));
}

static AdwMessageDialog *
question (void)
{
  GListModel *windows = gtk_window_get_toplevels ();
  AdwMessageDialog *found = NULL;

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (ADW_IS_MESSAGE_DIALOG (window) && gtk_widget_get_visible (GTK_WIDGET (window)))
        found = ADW_MESSAGE_DIALOG (window);
    }
  return found;
}

/* A journal that is no copy comes only after a question whose Enter says no. */
static void
test_stranger (Merge *merge, gconstpointer data)
{
  Fixture other = { NULL };
  g_autoptr (DeskSubject) made = NULL;
  guint before = n_entries (merge);
  AdwMessageDialog *dialog;

  fixture_set_up (&other, NULL);
  made = fixture_add (other.desk, CORE_SUBJECT_ANIMAL, "species=hymenopus number=14");
  fixture_close (g_steal_pointer (&other.desk));
  open_page (merge);
  app_merge_page_look (page (merge), other.dir);
  APP_WAIT (shown (app_find_button (page (merge), "Merge it")));
  g_assert_nonnull (app_find_words (page (merge), "no entry in common"));
  app_press (app_find_button (page (merge), "Merge it"));
  dialog = question ();
  g_assert_nonnull (dialog);
  g_assert_nonnull (strstr (adw_message_dialog_get_body (dialog), "1 number or code is given in both"));
  g_assert_cmpstr (adw_message_dialog_get_default_response (dialog), ==, "cancel");
  adw_message_dialog_response (dialog, "cancel");
  app_settle ();
  g_assert_null (desk_find (merge->room.journal.desk, "14b", NULL));
  app_press (app_find_button (page (merge), "Merge it"));
  adw_message_dialog_response (question (), "take");
  APP_WAIT (strstr (app_said (merge->room.window), "Came in: ") != NULL);
  g_assert_cmpuint (n_entries (merge), ==, before);
  other.desk = fixture_open (&other, DESK_OPEN_LAZY);
  fixture_tear_down (&other, NULL);
}

/* What is refused is said on the page, with what to do. */
static void
test_refused (Merge *merge, gconstpointer data)
{
  g_autofree char *empty = g_dir_make_tmp ("mantidary-desk-XXXXXX", NULL);

  open_page (merge);
  app_merge_page_look (page (merge), merge->room.journal.dir);
  APP_WAIT (app_find_words (page (merge), "Choose the folder of its other copy") != NULL);
  app_merge_page_look (page (merge), empty);
  APP_WAIT (app_find_words (page (merge), "There is no journal in this folder") != NULL);
  g_assert_false (shown (app_find_button (page (merge), "Merge it")));
  g_assert_true (gtk_widget_get_sensitive (app_find_button (page (merge), "Choose its folder…")));
  g_rmdir (empty);
}

#define ADD(path, func) g_test_add (path, Merge, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return g_test_run ();
  ADD ("/merge/look", test_look_first);
  ADD ("/merge/merge", test_merge);
  ADD ("/merge/nothing-new", test_nothing_new);
  ADD ("/merge/stranger", test_stranger);
  ADD ("/merge/refused", test_refused);
  return g_test_run ();
}
