/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-backups.c — backups in the window: the page, the note on a failed one, a damaged journal. */
#include "app-fixture.h"

#include <glib/gstdio.h>
#include <string.h>

#include "app/app-backups-page.h"
#include "app/app-damaged-page.h"
#include "demo/demo.h"
#include "desk/desk-backup.h"
#include "desk/desk-private.h"

static const char *
page_name (Room *room)
{
  return gtk_stack_get_visible_child_name (room->window->pages);
}

static void
remove_tree (const char *dir)
{
  g_autoptr (GDir) listing = g_dir_open (dir, 0, NULL);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *path = g_build_filename (dir, name, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_DIR))
        remove_tree (path);
      else
        g_unlink (path);
    }
  g_rmdir (dir);
}

static char *
beside (Room *room, const char *suffix)
{
  return g_strconcat (room->journal.dir, suffix, NULL);
}

static void
tear_down (Room *room, gconstpointer data)
{
  g_autofree char *backups = beside (room, "-backups");
  g_autofree char *restored = beside (room, "-restored-2026-06-01");

  room_tear_down (room, data);
  remove_tree (backups);
  remove_tree (restored);
}

static GtkWidget *
backups (Room *room)
{
  return app_find (room->window, APP_TYPE_BACKUPS_PAGE);
}

static void
open_page (Room *room)
{
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.backups", NULL);
  app_settle ();
  g_assert_cmpstr (page_name (room), ==, "backups");
}

/* Every control has a name; nothing is made by looking. */
static void
test_page (Room *room, gconstpointer data)
{
  GtkWidget *knob;
  GtkWidget *list;

  open_page (room);
  knob = app_find (backups (room), GTK_TYPE_SWITCH);
  list = app_find (backups (room), GTK_TYPE_LIST_BOX);
  g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (knob), GTK_ACCESSIBLE_PROPERTY_LABEL));
  g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL));
  g_assert_true (gtk_switch_get_active (GTK_SWITCH (knob)));
  g_assert_false (gtk_widget_get_visible (list));
  g_assert_nonnull (app_find_words (backups (room), "There is none yet"));
  g_assert_nonnull (app_find_words (backups (room), "-backups"));
  g_assert_false (gtk_widget_get_visible (app_find_button (backups (room), "The usual folder")));
  /* The keys begin on the page, not on the switch. */
  g_assert_true (gtk_root_get_focus (GTK_ROOT (room->window)) != knob);
}

static void
test_now (Room *room, gconstpointer data)
{
  GtkWidget *list;
  GtkWidget *button;
  g_autoptr (GPtrArray) made = NULL;

  open_page (room);
  list = app_find (backups (room), GTK_TYPE_LIST_BOX);
  app_press (app_find_button (backups (room), "Back up now"));
  APP_WAIT (gtk_widget_get_visible (list));
  APP_WAIT (strstr (app_said (room->window), "read back") != NULL);
  made = desk_backups_list (room->journal.dir, room->journal.today);
  g_assert_cmpuint (made->len, ==, 1);
  button = app_find_button (list, "Restore…");
  g_assert_nonnull (button);
  g_assert_true (
    gtk_test_accessible_has_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL));
  g_assert_nonnull (app_find_words (backups (room), "Last made on"));
}

/* The switch is kept where the journal lies, and the demo has none. */
static void
test_switch (Room *room, gconstpointer data)
{
  GtkWidget *knob;

  open_page (room);
  knob = app_find (backups (room), GTK_TYPE_SWITCH);
  gtk_switch_set_active (GTK_SWITCH (knob), FALSE);
  app_settle ();
  g_assert_false (desk_backups_on (room->journal.dir));
  g_assert_nonnull (app_find_words (backups (room), "Switched off"));
  gtk_switch_set_active (GTK_SWITCH (knob), TRUE);
  app_settle ();
  g_assert_true (desk_backups_on (room->journal.dir));
}

/* A failed one is said over every page, with what to do; one that goes well takes it away. */
static void
test_failed (Room *room, gconstpointer data)
{
  g_autofree char *gone = beside (room, "/../no-such-disk/backups");

  g_assert_true (desk_backups_set (room->journal.dir, gone, TRUE, NULL));
  g_assert_false (gtk_widget_get_visible (room->window->backup_box));
  desk_backups_watch (room->journal.desk, 1);
  APP_WAIT (gtk_widget_get_visible (room->window->backup_box));
  g_assert_nonnull (strstr (gtk_label_get_text (room->window->backup_note), "failed"));
  g_assert_nonnull (strstr (gtk_label_get_text (room->window->backup_note), "choose another folder"));
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (room->window->backup_note), "trouble"));
  app_press (app_find_button (room->window->backup_box, "Backups"));
  g_assert_cmpstr (page_name (room), ==, "backups");
  g_assert_nonnull (app_find_words (backups (room), "The last try failed"));
  app_press (app_find_button (backups (room), "The usual folder"));
  APP_WAIT (!gtk_widget_get_visible (room->window->backup_box));
  g_assert_nonnull (app_find_words (backups (room), "Last made on"));
}

/* ---- a damaged journal ---- */

static void
hurt (Room *room)
{
  g_autofree char *path = g_build_filename (room->journal.dir, "journal.sqlite", NULL);
  g_autofree char *bytes = NULL;
  gsize n;

  g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  memset (bytes, 0x5a, 4096);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) n, NULL));
}

static void
make_backup (Room *room)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskBackup) made = NULL;

  desk_backups_make_async (room->journal.desk, TRUE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  made = desk_backups_make_finish (room->journal.desk, result, NULL);
  g_assert_nonnull (made);
}

/* The journal is closed, damaged, and opened again in the window. */
static void
open_damaged (Room *room)
{
  for (int i = 0; i < ROOM_CUPS; i++)
    g_clear_pointer (&room->cups[i], desk_subject_unref);
  g_clear_pointer (&room->shelf_a, desk_subject_unref);
  g_clear_pointer (&room->shelf_b, desk_subject_unref);
  _app_window_set_desk (room->window, NULL);
  app_settle ();
  fixture_close (g_steal_pointer (&room->journal.desk));
  hurt (room);
  app_window_open (room->window, room->journal.dir, FALSE, room->journal.today);
  APP_WAIT (g_str_equal (page_name (room), "damaged"));
}

/* What stands there afterwards is the new journal, whole. */
static void
assert_restored (Room *room)
{
  g_autofree char *restored = beside (room, "-restored-2026-06-01");
  g_autoptr (DeskSubject) subject = NULL;

  APP_WAIT (room->window->desk != NULL);
  g_assert_cmpstr (page_name (room), ==, "shelves");
  g_assert_cmpstr (desk_dir (room->window->desk), ==, restored);
  subject = desk_find (room->window->desk, "70", NULL);
  g_assert_nonnull (subject);
}

static void
end_damaged (Room *room, gconstpointer data)
{
  g_autofree char *backups_dir = beside (room, "-backups");
  g_autofree char *restored = beside (room, "-restored-2026-06-01");

  room_close_window (room);
  remove_tree (backups_dir);
  remove_tree (restored);
  remove_tree (room->journal.dir);
  g_free (room->journal.dir);
}

static void
test_salvage (Room *room, gconstpointer data)
{
  GtkWidget *page;

  open_damaged (room);
  page = app_find (room->window, APP_TYPE_DAMAGED_PAGE);
  g_assert_nonnull (app_find_words (page, "damaged"));
  g_assert_false (gtk_widget_get_visible (app_find_button (page, "Open the newest good backup")));
  app_press (app_find_button (page, "Save what can be read"));
  assert_restored (room);
  g_assert_nonnull (strstr (app_said (room->window), "entries were saved"));
}

/* The newest backup is not sound: the one before it is taken. */
static void
test_newest_good (Room *room, gconstpointer data)
{
  GtkWidget *page;
  g_autofree char *bad = beside (room, "-backups/2026-06-01.mantidary");

  desk_set_today (room->journal.desk, room->journal.today - 1);
  make_backup (room);
  desk_set_today (room->journal.desk, room->journal.today);
  make_backup (room);
  g_assert_true (g_file_set_contents (bad, "\x28\xb5\x2f\xfd not a backup any more", -1, NULL));
  open_damaged (room);
  page = app_find (room->window, APP_TYPE_DAMAGED_PAGE);
  app_press (app_find_button (page, "Open the newest good backup"));
  assert_restored (room);
  g_assert_nonnull (strstr (app_said (room->window), "31 May 2026"));
}

/* Opened from what is kept of it, too large to be looked through: the page of an animal whose
 * entries are lost is no empty page, and the journal is left. */
static void
test_found (Room *room, gconstpointer data)
{
  DemoSynth what = { 60, 90, 5 };
  g_autofree char *dir = beside (room, "-restored-2026-06-01");
  g_autofree char *path = g_build_filename (dir, "journal.sqlite", NULL);
  g_autoptr (GPtrArray) animals = NULL;
  g_autofree char *bytes = NULL;
  gsize n;

  g_assert_true (demo_synth_make (dir, room->journal.today, &what, NULL, NULL, NULL));
  desk_snapshot_from = 1;
  desk_check_most = 0;
  fixture_close (desk_open (dir, room->journal.today, DESK_OPEN_DEFAULT, NULL));
  g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  memset (bytes + n / 2, 0xaa, n / 5);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) n, NULL));
  app_window_open (room->window, dir, FALSE, room->journal.today);
  APP_WAIT (room->window->desk != room->journal.desk);
  animals = desk_past_animals (room->window->desk);
  for (guint i = 0; i < animals->len && room->window->desk != NULL; i++)
    {
      app_window_show_animal (room->window, desk_subject_id (animals->pdata[i]));
      app_settle ();
    }
  g_assert_cmpstr (page_name (room), ==, "damaged");
  g_assert_null (room->window->desk);
  g_assert_nonnull (app_find_words (app_find (room->window, APP_TYPE_DAMAGED_PAGE), "cannot be read"));
  desk_snapshot_from = 5000;
  desk_check_most = 32 << 20;
}

#define WINDOW(path, func) g_test_add (path, Room, NULL, room_set_up_window, func, tear_down)
#define DAMAGED(path, func) g_test_add (path, Room, NULL, room_set_up_window, func, end_damaged)

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return g_test_run ();
  WINDOW ("/backups/page", test_page);
  WINDOW ("/backups/now", test_now);
  WINDOW ("/backups/switch", test_switch);
  WINDOW ("/backups/failed", test_failed);
  WINDOW ("/backups/found", test_found);
  DAMAGED ("/backups/salvage", test_salvage);
  DAMAGED ("/backups/newest-good", test_newest_good);
  return g_test_run ();
}
