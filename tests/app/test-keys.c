/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-keys.c — every key that is bound is listed, and every key that is listed is bound. */
#include "app-fixture.h"

#include <string.h>

#include "app/app-keys.h"
#include "app/app-quick.h"

/* ---- keys ---- */

static GtkWindow *
keys_shown (Room *room)
{
  GtkWindow *overlay;

  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.show-help-overlay", NULL);
  overlay =
    GTK_WINDOW (gtk_application_window_get_help_overlay (GTK_APPLICATION_WINDOW (room->window)));
  g_assert_nonnull (overlay);
  gtk_test_widget_wait_for_draw (GTK_WIDGET (overlay));
  return overlay;
}

/* Opened where the keeper stands. */
static void
test_keys_section (Room *room, gconstpointer data)
{
  g_autofree char *pages = NULL;
  g_autofree char *table = NULL;
  g_autofree char *animal = NULL;

  g_object_get (keys_shown (room), "section-name", &pages, NULL);
  g_assert_cmpstr (pages, ==, "pages");
  gtk_window_close (keys_shown (room));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.move-in", NULL);
  g_object_get (keys_shown (room), "section-name", &table, NULL);
  g_assert_cmpstr (table, ==, "move-in");
  gtk_window_close (keys_shown (room));
  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  g_object_get (keys_shown (room), "section-name", &animal, NULL);
  g_assert_cmpstr (animal, ==, "animal");
}

static void
longer_words (GtkWidget *at)
{
  if (GTK_IS_SHORTCUTS_SHORTCUT (at))
    {
      g_autofree char *title = NULL, *longer = NULL;

      g_object_get (at, "title", &title, NULL);
      longer = g_strdup_printf ("%s, %s %s", title, title, title); /* as another language may have it */
      g_object_set (at, "title", longer, NULL);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL; child = gtk_widget_get_next_sibling (child))
    longer_words (child);
}

/* However long the words of a language are, each key has all of its own, in a window no larger than the one
 * that asked. */
static void
test_keys_fit (Room *room, gconstpointer data)
{
  static const char *const sections[] = { "pages", "move-in", "more", "animal" };
  GtkWindow *overlay = keys_shown (room);
  int width, natural;

  longer_words (GTK_WIDGET (overlay));
  for (guint i = 0; i < G_N_ELEMENTS (sections); i++)
    {
      g_object_set (overlay, "section-name", sections[i], NULL);
      app_settle ();
      gtk_test_widget_wait_for_draw (GTK_WIDGET (overlay));
      g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (overlay)), <=, 720);
      g_assert_cmpint (gtk_widget_get_height (GTK_WIDGET (overlay)), <=, 768);
      app_none_is_cut (gtk_window_get_child (overlay));
    }
  gtk_widget_measure (GTK_WIDGET (overlay), GTK_ORIENTATION_HORIZONTAL, -1, &width, &natural, NULL, NULL);
  g_assert_cmpint (width, <=, 720);
  g_assert_true (gtk_window_get_resizable (overlay));
}

/* Every accelerator under `at`, split where one row lists several. */
static void
gather (GtkWidget *at, GStrvBuilder *out)
{
  if (GTK_IS_SHORTCUTS_SHORTCUT (at))
    {
      g_autofree char *all = NULL;
      g_auto (GStrv) each = NULL;

      g_object_get (at, "accelerator", &all, NULL);
      each = g_strsplit (all, " ", -1);
      for (guint i = 0; each[i] != NULL; i++)
        g_strv_builder_add (out, each[i]);
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gather (child, out);
}

static char **
listed_keys (Room *room)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  gather (GTK_WIDGET (keys_shown (room)), builder);
  return g_strv_builder_end (builder);
}

static gboolean
same_key (const char *a, const char *b)
{
  guint key_a, key_b;
  GdkModifierType mods_a, mods_b;

  return gtk_accelerator_parse (a, &key_a, &mods_a) && gtk_accelerator_parse (b, &key_b, &mods_b) &&
         key_a == key_b && mods_a == mods_b;
}

static gboolean
is_listed (char **listed, const char *key)
{
  for (guint i = 0; listed[i] != NULL; i++)
    if (same_key (listed[i], key))
      return TRUE;
  return FALSE;
}

/* Each key that the program binds names an action that exists, and stands in the list. */
static void
test_keys_bound (Room *room, gconstpointer data)
{
  GtkApplication *application = GTK_APPLICATION (app_test_application ());
  g_auto (GStrv) actions = gtk_application_list_action_descriptions (application);
  g_auto (GStrv) listed = listed_keys (room);
  guint n = 0;

  for (guint i = 0; actions[i] != NULL; i++)
    {
      g_auto (GStrv) keys = gtk_application_get_accels_for_action (application, actions[i]);
      g_autofree char *name = NULL;
      g_autoptr (GVariant) target = NULL;

      g_assert_true (g_action_parse_detailed_name (actions[i], &name, &target, NULL));
      g_test_message ("%s", actions[i]);
      g_assert_true (gtk_widget_activate_action (GTK_WIDGET (room->window), "win.back", NULL));
      if (!g_str_equal (name, "window.close"))
        g_assert_true (
          gtk_widget_activate_action_variant (GTK_WIDGET (room->window), name, target));
      app_settle ();
      if (app_form_on_top () != NULL)
        gtk_window_destroy (app_form_on_top ());
      for (guint j = 0; keys[j] != NULL; j++, n++)
        g_assert_true (is_listed (listed, keys[j]));
    }
  g_assert_cmpuint (n, >, 10);
}

/* And each key with Ctrl, Alt or F that is listed is bound, but for those of a canvas. */
static void
test_keys_listed (Room *room, gconstpointer data)
{
  static const char *const of_widgets[] = { "F10",    "<ctl>Return",   "<ctl>Left",    /* of GTK */
                                            "<ctl>d", "<ctl><shift>d", "<ctl>Delete", /* of the table */
                                            "<ctl>v", "F8",            "<ctl>s",
                                            "<alt>0" }; /* of the timeline */
  GtkApplication *application = GTK_APPLICATION (app_test_application ());
  g_auto (GStrv) listed = listed_keys (room);

  for (guint i = 0; listed[i] != NULL; i++)
    {
      g_auto (GStrv) actions = NULL;
      gboolean own = FALSE;

      if (strstr (listed[i], "...") != NULL)
        continue;
      g_test_message ("%s", listed[i]);
      g_assert_true (gtk_accelerator_parse (listed[i], NULL, NULL));
      for (guint j = 0; j < G_N_ELEMENTS (of_widgets); j++)
        own = own || same_key (listed[i], of_widgets[j]);
      if (own || (listed[i][0] != '<' && listed[i][0] != 'F') ||
          g_str_has_prefix (listed[i], "<shift>"))
        continue;
      actions = gtk_application_get_actions_for_accel (application, listed[i]);
      g_assert_cmpuint (g_strv_length (actions), ==, 1);
    }
}

/* The letters are those of the buttons: all there, none twice. */
static void
test_keys_letters (Room *room, gconstpointer data)
{
  g_auto (GStrv) listed = listed_keys (room);
  GString *seen = g_string_new (NULL);

  for (guint i = 0; i < app_quick_n_keys (); i++)
    {
      g_autofree char *title = NULL;
      gunichar letter = app_quick_key_at (i, &title);

      g_assert_cmpuint (letter, !=, 0);
      g_assert_null (strchr (title, '_'));
      g_assert_null (g_utf8_strchr (seen->str, -1, letter));
      g_string_append_unichar (seen, letter);
      g_assert_true (is_listed (listed, gdk_keyval_name (gdk_unicode_to_keyval (letter))));
      g_assert_nonnull (app_find_words (
        gtk_application_window_get_help_overlay (GTK_APPLICATION_WINDOW (room->window)), title));
    }
  g_string_free (seen, TRUE);
  for (guint i = 0; i < app_quick_n_more_keys (); i++) /* and those that "More" shows, by their words */
    {
      g_autofree char *title = NULL;

      g_assert_cmpuint (app_quick_more_key_at (i, &title), !=, 0);
      g_assert_nonnull (app_find_words (
        gtk_application_window_get_help_overlay (GTK_APPLICATION_WINDOW (room->window)), title));
    }
}

/* ---- the menu ---- */

static void
menu_letters (GMenuModel *menu, GString *seen)
{
  for (int i = 0; i < g_menu_model_get_n_items (menu); i++)
    {
      g_autoptr (GMenuModel) section = g_menu_model_get_item_link (menu, i, G_MENU_LINK_SECTION);
      g_autoptr (GMenuModel) submenu = g_menu_model_get_item_link (menu, i, G_MENU_LINK_SUBMENU);
      g_autoptr (GString) level = g_string_new (NULL);
      g_autofree char *label = NULL;
      gunichar letter;

      if (section != NULL)
        menu_letters (section, seen); /* of the same level */
      if (submenu != NULL)
        menu_letters (submenu, level);
      if (!g_menu_model_get_item_attribute (menu, i, G_MENU_ATTRIBUTE_LABEL, "s", &label))
        continue;
      g_test_message ("%s", label);
      g_assert_nonnull (strchr (label, '_'));
      letter = g_unichar_tolower (g_utf8_get_char (strchr (label, '_') + 1));
      g_assert_null (g_utf8_strchr (seen->str, -1, letter));
      g_string_append_unichar (seen, letter);
    }
}

/* F10 and a letter means one thing: none twice on a level of the menu. */
static void
test_keys_menu (Room *room, gconstpointer data)
{
  g_autoptr (GString) seen = g_string_new (NULL);
  GtkMenuButton *button = GTK_MENU_BUTTON (app_find (room->window, GTK_TYPE_MENU_BUTTON));

  menu_letters (gtk_menu_button_get_menu_model (button), seen);
  g_assert_cmpuint (g_utf8_strlen (seen->str, -1), >, 8);
}

/* What can be seen of it without scrolling on a screen of 768 px: rows of 32, and the head of the window. */
#define MOST_ROWS 20

static guint
menu_rows (GMenuModel *menu)
{
  guint n = 0;

  for (int i = 0; i < g_menu_model_get_n_items (menu); i++)
    {
      g_autoptr (GMenuModel) section = g_menu_model_get_item_link (menu, i, G_MENU_LINK_SECTION);

      n += section != NULL ? menu_rows (section) : 1;
    }
  return n;
}

static void
test_keys_menu_height (Room *room, gconstpointer data)
{
  GtkMenuButton *button = GTK_MENU_BUTTON (app_find (room->window, GTK_TYPE_MENU_BUTTON));
  GtkPopover *popover = gtk_menu_button_get_popover (button);
  int height;

  g_assert_cmpuint (menu_rows (gtk_menu_button_get_menu_model (button)), <=, MOST_ROWS);
  gtk_menu_button_popup (button);
  app_settle ();
  gtk_widget_measure (gtk_popover_get_child (popover), GTK_ORIENTATION_VERTICAL, -1, NULL, &height, NULL, NULL);
  g_assert_cmpint (height, <, 768 - 72);
  gtk_menu_button_popdown (button);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/keys/section", test_keys_section);
  ROOM ("/keys/fit", test_keys_fit);
  ROOM ("/keys/bound", test_keys_bound);
  ROOM ("/keys/listed", test_keys_listed);
  ROOM ("/keys/letters", test_keys_letters);
  ROOM ("/keys/menu", test_keys_menu);
  ROOM ("/keys/menu-height", test_keys_menu_height);
  return g_test_run ();
}
