/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-profiles.c — the page of a kind: values with unit and origin, both sides of a disagreement, a copy
 * that is edited field by field, shared and taken in. */
#include "app-fixture.h"

#include <glib/gstdio.h>
#include <string.h>

#include "app/app-profile-row.h"
#include "app/app-profiles-page.h"

#define ORCHID "Hymenopus coronatus"

static AppProfilesPage *
page_of (Room *room)
{
  return APP_PROFILES_PAGE (app_find (room->window, APP_TYPE_PROFILES_PAGE));
}

static void
open_kind (Room *room, const char *scientific)
{
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.profiles", NULL);
  app_settle ();
  g_assert_cmpstr (gtk_stack_get_visible_child_name (room->window->pages), ==, "profiles");
  app_profiles_page_show_kind (page_of (room), scientific);
  app_settle ();
}

static AppProfileRow *
find_row (gpointer root, const char *group, const char *key)
{
  if (APP_IS_PROFILE_ROW (root))
    return app_profile_row_is (root, group, key) ? root : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      AppProfileRow *row = find_row (child, group, key);

      if (row != NULL)
        return row;
    }
  return NULL;
}

static AppProfileRow *
row_of (Room *room, const char *group, const char *key)
{
  AppProfileRow *row = find_row (page_of (room), group, key);

  g_assert_nonnull (row);
  return row;
}

static gboolean
says (gpointer root, const char *words)
{
  GtkWidget *label = app_find_words (root, words);

  return label != NULL && gtk_widget_get_mapped (label);
}

static void
test_shows (Room *room, gconstpointer data)
{
  const char *const name = "Change: Humidity by day, now 60–80 %"; /* the macro would read it as a format */
  AppProfileRow *row;

  open_kind (room, ORCHID);
  g_assert_true (says (page_of (room), "As shipped."));
  row = row_of (room, "climate", "humidity");
  g_assert_true (says (row, "60–80 %"));
  g_assert_true (says (row, "common practice"));
  g_assert_true (says (row, "Others say: 70–90 % (common practice)"));
  g_assert_true (says (row, "Some ask for 70–90 %."));
  g_assert_false (gtk_widget_get_visible (app_find_button (row, "Back to the shipped value")));
  g_assert_true (says (row_of (room, "size", "ratio_body"), "measured [1]"));
  g_assert_true (says (page_of (room), "[1] Faber 1994"));
  gtk_test_accessible_assert_property (app_find_button (row, "Change"), GTK_ACCESSIBLE_PROPERTY_LABEL, name);
  app_profiles_page_show_kind (page_of (room), "unknown");
  app_settle ();
  g_assert_true (says (row_of (room, "size", "adult_male_mm"), "unknown"));
}

static GtkWidget *
open_field (AppProfileRow *row)
{
  app_press (app_find_button (row, "Change"));
  return app_find (row, GTK_TYPE_ENTRY);
}

static gboolean
has_keys (Room *room, GtkWidget *widget)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (room->window));

  return focus != NULL && (focus == widget || gtk_widget_is_ancestor (focus, widget));
}

/* A refusal stands beside the field with its reason, and the keys stay in it. */
static void
test_field (Room *room, gconstpointer data)
{
  static const struct
  {
    const char *typed, *reason;
  } bad[] = {
    { "0–2", "“0” is not a number from 1 to 60." },
    { "9-2", "must not be above" },
    { "soon", "is not a number" },
    { "", "" },
  };
  AppProfileRow *row;
  GtkWidget *field, *problem;

  open_kind (room, ORCHID);
  row = row_of (room, "care", "mist");
  field = open_field (row);
  g_assert_true (has_keys (room, field));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (field)), ==, "1–2");
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      gtk_editable_set_text (GTK_EDITABLE (field), bad[i].typed);
      app_press (app_find_button (row, "Save"));
      problem = app_find_words (row, bad[i].reason);
      g_assert_true (problem != NULL && gtk_widget_get_mapped (problem));
      g_assert_true (has_keys (room, field));
      g_assert_true (says (row, "1–2 days")); /* nothing is changed */
    }
  g_assert_true (app_key_up (field, GDK_KEY_Escape, 0));
  g_assert_false (gtk_widget_get_mapped (field));
  g_assert_true (has_keys (room, app_find_button (row, "Change")));
}

/* Saved, shown beside what is shipped, and back again. */
static void
test_edit_and_back (Room *room, gconstpointer data)
{
  AppProfileRow *row;
  GtkWidget *field, *back;

  open_kind (room, ORCHID);
  row = row_of (room, "care", "mist");
  field = open_field (row);
  gtk_editable_set_text (GTK_EDITABLE (field), "2,5 – 4");
  app_press (app_find_button (row, "Save"));
  APP_WAIT (says (row, "2.5–4 days"));
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Saved."));
  g_assert_false (gtk_widget_get_mapped (field));
  g_assert_true (has_keys (room, app_find_button (row, "Change")));
  g_assert_true (says (row, "own value"));
  g_assert_true (says (row, "Shipped: 1–2 days (common practice)"));
  g_assert_true (says (page_of (room), "1 value is your own."));
  back = app_find_button (row, "Back to the shipped value");
  g_assert_true (gtk_widget_get_mapped (back));
  gtk_widget_grab_focus (back);
  app_press (back);
  APP_WAIT (says (row, "1–2 days") && !gtk_widget_get_mapped (back));
  g_assert_true (has_keys (room, app_find_button (row, "Change"))); /* not lost with the button */
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (says (row, "2.5–4 days"));
  app_press (app_find_button (page_of (room), "All as shipped"));
  APP_WAIT (says (page_of (room), "As shipped."));
}

/* Words are chosen, prey is ticked. */
static void
test_choices (Room *room, gconstpointer data)
{
  AppProfileRow *row;

  open_kind (room, ORCHID);
  row = row_of (room, "profile", "communal");
  app_press (app_find_button (row, "Change"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (app_find (row, GTK_TYPE_DROP_DOWN)), 0);
  app_press (app_find_button (row, "Save"));
  APP_WAIT (says (row, "own value"));
  g_assert_true (says (row, "yes"));
  row = row_of (room, "profile", "avoid_prey");
  app_press (app_find_button (row, "Change"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (app_find_labelled (row, GTK_TYPE_CHECK_BUTTON, "roach")), TRUE);
  app_press (app_find_button (row, "Save"));
  APP_WAIT (says (row, "crickets, roaches"));
}

static void
answer (const char *button)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (ADW_IS_MESSAGE_DIALOG (window))
        {
          app_press (app_find_button (window, button));
          return;
        }
    }
  g_assert_not_reached ();
}

static gboolean
asked (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (ADW_IS_MESSAGE_DIALOG (window))
        return TRUE;
    }
  return FALSE;
}

static void
test_take (Room *room, gconstpointer data)
{
  static const char good[] = "[profile]\nscientific=Exemplum fictum\ncommon=made-up mantis\ngroup=hardy\n"
                             "[care]\nmist=5;6\nmist.from=practice\n";
  static const char bad[] = "[profile]\nscientific=Exemplum fictum\ncommon=x\ngroup=hardy\n[care]\nmist=5\nmist.from=own\n";
  g_autoptr (GBytes) good_bytes = g_bytes_new_static (good, strlen (good));
  g_autoptr (GBytes) bad_bytes = g_bytes_new_static (bad, strlen (bad));
  g_autofree char *path = room_file (room, "good.profile", good_bytes);
  g_autofree char *bad_path = room_file (room, "bad.profile", bad_bytes);

  open_kind (room, ORCHID);
  app_profiles_page_take (page_of (room), bad_path);
  APP_WAIT (strstr (app_said (room->window), "bad.profile, line 6, [care] mist") != NULL);
  g_assert_false (asked ());
  app_profiles_page_take (page_of (room), path);
  APP_WAIT (asked ());
  answer ("Cancel");
  APP_WAIT (!asked ());
  g_assert_null (desk_find_profile (room->journal.desk, "exemplum", NULL));
  app_profiles_page_take (page_of (room), path);
  APP_WAIT (asked ());
  answer ("Take in");
  APP_WAIT (desk_find_profile (room->journal.desk, "exemplum", NULL) != NULL);
  APP_WAIT (says (page_of (room), "A kind that you took in"));
  g_assert_true (says (row_of (room, "care", "mist"), "5–6 days"));
  app_press (app_find_button (page_of (room), "Take the kind out"));
  APP_WAIT (desk_find_profile (room->journal.desk, "exemplum", NULL) == NULL);
  APP_WAIT (says (page_of (room), "As shipped."));
  g_unlink (path);
  g_unlink (bad_path);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/profiles/shows", test_shows);
  ROOM ("/profiles/field", test_field);
  ROOM ("/profiles/edit-and-back", test_edit_and_back);
  ROOM ("/profiles/choices", test_choices);
  ROOM ("/profiles/take", test_take);
  return g_test_run ();
}
