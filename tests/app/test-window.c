/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-window.c — the window as a whole: journals that open and that do not, undo in words, jumping
 * by number, the help pages. */
#include "app-fixture.h"

#include <glib/gstdio.h>
#include <grp.h>
#include <string.h>
#include <unistd.h>

#include "app/app-animal-page.h"
#include "app/app-boards.h"
#include "app/app-dialogs.h"
#include "app/app-round-line.h"
#include "app/app-shelves-page.h"
#include "app/app-view.h"
#include "store/store.h"

static const char *
page_name (AppWindow *window)
{
  return gtk_stack_get_visible_child_name (window->pages);
}

static AppWindow *
window_new (void)
{
  AppWindow *window = g_object_ref_sink (app_window_new (app_test_application ()));

  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (window));
  return window;
}

static void
window_done (AppWindow *window)
{
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle ();
  g_assert_finalize_object (window);
}

/* ---- without a journal ---- */

static void
test_welcome (void)
{
  static const char *const off[] = { "win.undo", "win.redo", "win.add-animal", "win.round-line" };
  AppWindow *window = window_new ();

  g_assert_cmpstr (page_name (window), ==, "welcome");
  g_assert_null (app_window_get_desk (window));
  for (guint i = 0; i < G_N_ELEMENTS (off); i++) /* greyed, and harmless when asked for anyway */
    (void) gtk_widget_activate_action (GTK_WIDGET (window), off[i], NULL);
  g_assert_cmpstr (page_name (window), ==, "welcome");
  g_assert_null (app_form_on_top ());
  gtk_widget_activate_action (GTK_WIDGET (window), "win.emergency", NULL);
  g_assert_cmpstr (page_name (window), ==, "emergency");
  g_assert_true (app_key (window, GDK_KEY_Escape, 0));
  g_assert_cmpstr (page_name (window), ==, "welcome");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.cautions", NULL);
  g_assert_cmpstr (page_name (window), ==, "cautions");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.back", NULL);
  g_assert_cmpstr (page_name (window), ==, "welcome");
  window_done (window);
}

static void
test_about (void)
{
  AppWindow *window = window_new ();
  g_autoptr (GList) windows = NULL;
  GtkWindow *about = NULL;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.about", NULL);
  app_settle ();
  windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l != NULL; l = l->next)
    if (ADW_IS_ABOUT_WINDOW (l->data))
      about = l->data;
  g_assert_nonnull (about);
  g_assert_cmpstr (adw_about_window_get_version (ADW_ABOUT_WINDOW (about)), ==, MANTIDARY_VERSION);
  gtk_window_destroy (about);
  window_done (window);
}

/* ---- journals ---- */

/* A journal with one note, closed again. */
static char *
journal_on_disk (void)
{
  g_autoptr (GError) error = NULL;
  char *dir = g_dir_make_tmp ("mantidary-window-XXXXXX", &error);
  Desk *desk = desk_open (dir, fixture_day (0), DESK_OPEN_CREATE | DESK_OPEN_LAZY, &error);

  g_assert_no_error (error);
  desk_subject_unref (fixture_add (desk, CORE_SUBJECT_PLACE, "name=Alcove code=A"));
  desk_subject_unref (
    fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=14 place=A"));
  fixture_close (desk);
  return dir;
}

static void
remove_journal (char *dir)
{
  g_autofree char *command = g_strdup_printf ("rm -rf '%s'", dir);

  g_assert_true (g_spawn_command_line_sync (command, NULL, NULL, NULL, NULL));
  g_free (dir);
}

static char *
database (const char *dir)
{
  return g_build_filename (dir, "journal.sqlite", NULL);
}

static void
test_opens (void)
{
  char *dir = journal_on_disk ();
  AppWindow *window = window_new ();

  app_window_open (window, dir, FALSE, fixture_day (0));
  APP_WAIT (app_window_get_desk (window) != NULL);
  g_assert_cmpstr (page_name (window), ==, "shelves");
  g_assert_cmpint (desk_today (app_window_get_desk (window)), ==, fixture_day (0));
  g_assert_cmpuint (app_boards_n_cups (APP_BOARDS (app_find (window, APP_TYPE_BOARDS))), ==, 1);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (window->journal_note)));
  window_done (window);
  remove_journal (dir);
}

static void
test_begins (void)
{
  g_autofree char *parent = g_dir_make_tmp ("mantidary-window-XXXXXX", NULL);
  char *dir = g_build_filename (parent, "mine", NULL);
  AppWindow *window = window_new ();

  app_window_open (window, dir, TRUE, fixture_day (0));
  APP_WAIT (app_window_get_desk (window) != NULL);
  g_assert_cmpstr (page_name (window), ==, "shelves");
  g_assert_true (gtk_root_get_focus (GTK_ROOT (window)) ==
                 app_find_button (window, "Move in a collection"));
  g_assert_nonnull (app_find_button (window, "Add the first shelf"));
  g_assert_nonnull (strstr (app_said (window), "Your journal lies in "));
  g_assert_nonnull (strstr (app_said (window), "mine"));
  window_done (window);
  remove_journal (dir);
  g_assert_cmpint (g_rmdir (parent), ==, 0);
}

static void
overwrite (const char *path, glong at, const void *bytes, gsize n)
{
  FILE *file = g_fopen (path, "r+b");

  g_assert_nonnull (file);
  g_assert_cmpint (fseek (file, at, SEEK_SET), ==, 0);
  g_assert_cmpuint (fwrite (bytes, 1, n, file), ==, n);
  g_assert_cmpint (fclose (file), ==, 0);
}

static void
damage (const char *dir)
{
  g_autofree char *path = database (dir);
  char rubbish[2048];

  memset (rubbish, 0x5a, sizeof rubbish);
  overwrite (path, 0, rubbish, sizeof rubbish);
}

/* The number of the schema stands at byte 60 of the file, big-endian (SQLite file format, 1.3). */
static void
make_newer (const char *dir)
{
  static const guint8 later[4] = { 0, 0, 0x27, 0x0f };
  g_autofree char *path = database (dir);

  overwrite (path, 60, later, sizeof later);
}

static void
take_away (const char *dir)
{
  g_autofree char *path = database (dir);

  g_assert_cmpint (g_unlink (path), ==, 0);
}

static void
cut_to_nothing (const char *dir)
{
  g_autofree char *path = database (dir);

  g_assert_cmpint (truncate (path, 0), ==, 0);
}

typedef struct
{
  const char *name;
  void (*spoil) (const char *dir);
  const char *page;
  const char *says;
} SpoiltCase;

static const SpoiltCase spoilt[] = {
  { "damaged", damage, "damaged", "cannot be read" },
  { "newer", make_newer, "welcome", "later version" },
  { "missing", take_away, "welcome", "not there" },
  { "empty", cut_to_nothing, "damaged", "cannot be read" },
};

static void
test_spoilt (gconstpointer data)
{
  const SpoiltCase *c = data;
  char *dir = journal_on_disk ();
  g_autofree char *path = database (dir);
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  gsize n_before = 0, n_after = 0;
  AppWindow *window = window_new ();

  c->spoil (dir);
  (void) g_file_get_contents (path, &before, &n_before, NULL);
  app_window_open (window, dir, FALSE, fixture_day (0));
  APP_WAIT (g_str_equal (page_name (window), c->page));
  if (g_str_equal (c->page, "damaged"))
    g_assert_nonnull (app_find_words (gtk_stack_get_visible_child (window->pages), c->says));
  else
    {
      APP_WAIT (app_said (window)[0] != '\0');
      g_assert_nonnull (strstr (app_said (window), c->says));
      g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (window->said), "trouble"));
    }
  g_assert_null (app_window_get_desk (window));
  (void) g_file_get_contents (path, &after, &n_after, NULL);
  g_assert_cmpmem (before, n_before, after, n_after); /* left as it was */
  gtk_widget_activate_action (GTK_WIDGET (window), "win.hush", NULL);
  g_assert_cmpstr (app_said (window), ==, "");
  window_done (window);
  remove_journal (dir);
}

/* Asked to open another that does not open: the one that is open stays. */
static void
test_stays (Room *room, gconstpointer data)
{
  char *dir = journal_on_disk ();
  Desk *desk = room->journal.desk;

  damage (dir);
  app_window_open (room->window, dir, FALSE, CORE_DAY_NONE);
  APP_WAIT (g_str_equal (page_name (room->window), "damaged"));
  g_assert_true (app_window_get_desk (room->window) == desk);
  app_window_go_back (room->window);
  g_assert_cmpstr (page_name (room->window), ==, "shelves");
  g_assert_cmpint (desk_today (desk), ==, fixture_day (0));
  remove_journal (dir);
}

static void
make_writable (const char *dir, gboolean writable)
{
  g_autofree char *path = database (dir);

  g_assert_cmpint (g_chmod (path, writable ? 0600 : 0400), ==, 0);
  g_assert_cmpint (g_chmod (dir, writable ? 0700 : 0500), ==, 0);
}

#define NOBODY 65534

/* The profiles where everybody may read them: the tree may lie in a folder of root's. */
static char *
public_profiles (void)
{
  char *dir = g_dir_make_tmp ("mantidary-profiles-XXXXXX", NULL);
  g_autofree char *command = g_strdup_printf ("sh -c \"cp -R '%s/.' '%s/' && chmod -R a+rX '%s'\"",
                                              g_getenv ("MANTIDARY_PROFILES"), dir, dir);
  int status = -1;

  g_assert_true (g_spawn_command_line_sync (command, NULL, NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  return dir;
}

static void
read_only_as_nobody (void)
{
  g_autofree char *own = g_strdup (g_getenv ("MANTIDARY_PROFILES"));
  char *profiles = public_profiles ();

  g_assert_true (g_setenv ("MANTIDARY_PROFILES", profiles, TRUE));
  g_test_trap_subprocess (NULL, 60 * G_USEC_PER_SEC, G_TEST_SUBPROCESS_INHERIT_STDERR);
  g_assert_true (g_setenv ("MANTIDARY_PROFILES", own, TRUE));
  remove_journal (profiles);
  g_test_trap_assert_passed ();
}

/* Rights mean nothing to root: a process of its own steps down first. */
static void
test_read_only (void)
{
  AppWindow *window;
  Desk *desk;
  char *dir;

  if (geteuid () == 0 && !g_test_subprocess ())
    {
      read_only_as_nobody ();
      return;
    }
  if (g_test_subprocess ())
    {
      g_assert_cmpint (setgroups (0, NULL), ==, 0);
      g_assert_cmpint (setresgid (NOBODY, NOBODY, NOBODY), ==, 0);
      g_assert_cmpint (setresuid (NOBODY, NOBODY, NOBODY), ==, 0);
    }
  dir = journal_on_disk ();
  make_writable (dir, FALSE);
  g_assert_cmpint (g_access (dir, W_OK), !=, 0);
  window = window_new ();
  app_window_open (window, dir, FALSE, fixture_day (0));
  APP_WAIT ((desk = app_window_get_desk (window)) != NULL);
  g_assert_true (desk_read_only (desk));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (window->journal_note)));
  g_assert_nonnull (strstr (gtk_label_get_text (window->journal_note), "not written"));
  gtk_widget_grab_focus (app_find (window, APP_TYPE_CUP)); /* it can be looked at, no more */
  g_assert_true (app_key_up (app_find (window, APP_TYPE_CUP), GDK_KEY_l, 0));
  APP_WAIT (app_said (window)[0] != '\0');
  g_test_message ("%s", app_said (window));
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (window->said), "trouble"));
  window_done (window);
  make_writable (dir, TRUE);
  remove_journal (dir);
}

/* --today stays the day of what the window opens or begins; without it the day is the clock's. */
static void
test_asked_today (void)
{
  char *dir = journal_on_disk ();
  AppWindow *window = window_new ();

  app_window_ask_today (window, fixture_day (7));
  app_window_open (window, dir, FALSE, CORE_DAY_NONE);
  APP_WAIT (app_window_get_desk (window) != NULL);
  g_assert_cmpint (desk_today (app_window_get_desk (window)), ==, fixture_day (7));
  g_assert_true (window->fixed_today);
  app_window_ask_today (window, CORE_DAY_NONE);
  window_done (window);
  window = window_new ();
  app_window_open (window, dir, FALSE, CORE_DAY_NONE);
  APP_WAIT (app_window_get_desk (window) != NULL);
  g_assert_cmpint (desk_today (app_window_get_desk (window)), !=, fixture_day (7));
  g_assert_false (window->fixed_today);
  window_done (window);
  remove_journal (dir);
}

/* A second start: another journal is opened, the same one is said to be open, a day is taken over.
 */
static void
test_hand_over (Room *room, gconstpointer data)
{
  char *dir = journal_on_disk ();
  Desk *desk = room->journal.desk;
  g_autofree char *roundabout = g_build_filename (desk_dir (desk), ".", NULL);

  app_window_hand_over (room->window, NULL, CORE_DAY_NONE);
  g_assert_cmpstr (app_said (room->window), ==, "");
  app_window_hand_over (room->window, roundabout, CORE_DAY_NONE);
  g_assert_nonnull (strstr (app_said (room->window), "open already"));
  g_assert_true (app_window_get_desk (room->window) == desk);
  app_window_hand_over (room->window, NULL, fixture_day (3));
  g_assert_cmpint (desk_today (desk), ==, fixture_day (3));
  g_assert_nonnull (strstr (app_said (room->window), "day is now"));
  app_dialog_left (room->window, desk_subject_id (room->cups[0]));
  g_assert_nonnull (app_form_on_top ());
  app_window_hand_over (room->window, dir, fixture_day (5));
  APP_WAIT (app_window_get_desk (room->window) != desk);
  g_assert_cmpstr (desk_dir (app_window_get_desk (room->window)), ==, dir);
  g_assert_cmpint (desk_today (app_window_get_desk (room->window)), ==, fixture_day (5));
  g_assert_null (app_form_on_top ()); /* it would have written to the wrong journal */
  app_window_hand_over (room->window, "/nowhere/at/all", CORE_DAY_NONE);
  APP_WAIT (gtk_widget_has_css_class (GTK_WIDGET (room->window->said), "trouble"));
  g_assert_cmpstr (desk_dir (app_window_get_desk (room->window)), ==, dir);
  remove_journal (dir);
}

/* What went wrong is not carried to the next page, and gives way to the next success. */
static void
test_trouble_goes (Room *room, gconstpointer data)
{
  g_autoptr (GError) error = g_error_new_literal (DESK_ERROR, DESK_ERROR_FAILED, "It went wrong.");

  app_window_say_error (room->window, error);
  app_window_show_page (room->window, "calendar");
  g_assert_cmpstr (app_said (room->window), ==, "");
  app_window_say (room->window, "Saved.");
  app_window_show_page (room->window, "shelves");
  g_assert_cmpstr (app_said (room->window), ==, "Saved."); /* a success may be read on */
  app_window_say_error (room->window, error);
  app_window_say (room->window, "Saved.");
  g_assert_cmpuint (room->window->said_timeout, !=, 0);
}

/* An escaped animal is found, one that left comes back: from the list and from its page. */
static void
test_returns (Room *room, gconstpointer data)
{
  Desk *desk = room->journal.desk;
  GtkWidget *button;

  fixture_record (desk, room->cups[0], "escaped", "", 0);
  fixture_record (desk, room->cups[1], "left", "how=lent", 0);
  fixture_record (desk, room->cups[2], "died", "", 0);
  app_window_show_page (room->window, "past");
  app_settle ();
  button = app_find_button (room->window, "Found again");
  g_assert_nonnull (button);
  app_press (button);
  APP_WAIT (strstr (app_said (room->window), "14 is found again") != NULL);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_FOUND);
  app_window_show_animal (room->window, desk_subject_id (room->cups[1]));
  button = app_find_button (app_find (room->window, APP_TYPE_ANIMAL_PAGE), "It is back");
  g_assert_nonnull (button);
  g_assert_true (gtk_widget_get_mapped (button));
  app_press (button);
  APP_WAIT (strstr (app_said (room->window), "22 is back") != NULL);
  g_assert_cmpint (room_last (room, 1)->kind, ==, CORE_KIND_BACK);
  g_assert_false (gtk_widget_get_mapped (button));
  app_window_show_animal (room->window, desk_subject_id (room->cups[2]));
  g_assert_false (gtk_widget_get_mapped (button)); /* the dead do not come back */
}

/* The window closes while a journal is still being opened. */
static void
test_closed_while_opening (void)
{
  char *dir = journal_on_disk ();
  AppWindow *window = window_new ();

  app_window_open (window, dir, FALSE, fixture_day (0));
  gtk_window_destroy (GTK_WINDOW (window));
  APP_WAIT (G_OBJECT (window)->ref_count == 1);
  g_assert_finalize_object (window);
  remove_journal (dir);
}

static void
test_closed_while_choosing (void)
{
  AppWindow *window = window_new ();

  gtk_widget_activate_action (GTK_WIDGET (window), "win.open-journal", NULL);
  app_settle ();
  gtk_window_destroy (GTK_WINDOW (window));
  APP_WAIT (G_OBJECT (window)->ref_count == 1);
  g_assert_finalize_object (window);
}

/* ---- the open window ---- */

static void
test_undo_words (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  fixture_record (room->journal.desk, room->cups[0], "note", "text=hello", 0);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Took back: 14: "));
  g_assert_nonnull (strstr (app_said (room->window), "hello"));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.redo", NULL);
  APP_WAIT (g_str_has_prefix (app_said (room->window), "Put back: 14: "));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before + 1);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.redo", NULL);
  APP_WAIT (strstr (app_said (room->window), "nothing to redo") != NULL);
}

/* The window goes while the answer is on its way. */
static void
test_undo_and_close (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);

  fixture_record (room->journal.desk, room->cups[0], "note", "text=hello", 0);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  gtk_window_destroy (GTK_WINDOW (room->window));
  APP_WAIT (room_n_entries (room, 0) == before);
  APP_WAIT (G_OBJECT (room->window)->ref_count == 1);
  g_assert_finalize_object (g_steal_pointer (&room->window));
}

/* While something is typed, Ctrl+Z belongs to the text. */
static void
test_undo_in_text (Room *room, gconstpointer data)
{
  GtkWidget *entry = app_find (app_find (room->window, APP_TYPE_ROUND_LINE), GTK_TYPE_ENTRY);
  gsize before;

  fixture_record (room->journal.desk, room->cups[0], "note", "text=hello", 0);
  before = room_n_entries (room, 0);
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.round-line", NULL);
  gtk_editable_set_text (GTK_EDITABLE (entry), "all misted");
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  app_settle ();
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.undo", NULL);
  APP_WAIT (room_n_entries (room, 0) == before - 1);
}

static const char *
chosen (Room *room)
{
  AppCup *cup = app_boards_chosen (APP_BOARDS (app_find (room->window, APP_TYPE_BOARDS)));

  return cup != NULL ? app_cup_get_data (cup)->number : "";
}

static void
test_jump (Room *room, gconstpointer data)
{
  g_assert_true (app_key_at_once (room->window, GDK_KEY_3, 0));
  g_assert_true (app_key_at_once (room->window, GDK_KEY_1, 0));
  APP_WAIT (g_str_equal (chosen (room), "31"));
  g_assert_true (app_key_at_once (room->window, GDK_KEY_7, 0)); /* on the other shelf */
  g_assert_true (app_key_at_once (room->window, GDK_KEY_KP_0, 0));
  APP_WAIT (g_str_equal (chosen (room), "70"));
  g_assert_true (app_key_at_once (room->window, GDK_KEY_9, 0));
  APP_WAIT (strstr (app_said (room->window), "9") != NULL);
  g_assert_cmpstr (chosen (room), ==, "70");
  g_assert_true (app_key_at_once (room->window, GDK_KEY_2, 0)); /* a right number puts the error away */
  g_assert_true (app_key_at_once (room->window, GDK_KEY_2, 0));
  APP_WAIT (g_str_equal (chosen (room), "22"));
  g_assert_cmpstr (app_said (room->window), ==, "");
  app_window_show_page (room->window, "calendar");
  (void) app_key_at_once (room->window, GDK_KEY_2, 0);
  (void) app_key_at_once (room->window, GDK_KEY_2, 0);
  APP_WAIT (g_str_equal (page_name (room->window), "animal"));
  app_window_show_page (room->window, "welcome");
  g_assert_false (app_key_at_once (room->window, GDK_KEY_1, 0));
}

/* A letter right after a number is meant for that cup, however fast it comes, and never for the cup
 * that had the focus before. */
static void
test_jump_letter (Room *room, gconstpointer data)
{
  gsize others = room_n_entries (room, 0); /* cup 14 has the focus */
  gsize own = room_n_entries (room, 1);

  g_assert_true (app_key (room->window, GDK_KEY_2, 0));
  g_assert_true (app_key (room->window, GDK_KEY_2, 0));
  g_assert_true (app_key (room->window, GDK_KEY_l, 0));
  g_assert_cmpstr (chosen (room), ==, "22");
  APP_WAIT (room_n_entries (room, 1) == own + 1);
  g_assert_cmpint (room_last (room, 1)->kind, ==, CORE_KIND_LOOKED);
  g_assert_true (
    app_key (room->window, GDK_KEY_9, 0)); /* no such cup: nothing is written anywhere */
  g_assert_true (app_key (room->window, GDK_KEY_l, 0));
  app_settle ();
  g_assert_cmpuint (room_n_entries (room, 0), ==, others);
  g_assert_cmpuint (room_n_entries (room, 1), ==, own + 1);
}

/* A code is typed with its capital; a capital alone is nothing, and a small letter is written as ever. */
static void
test_jump_code (Room *room, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = fixture_add (room->journal.desk, CORE_SUBJECT_LOT, "species=hierodula code=H7 count=40 place=B");
  gsize looks = room_n_entries (room, 1);

  g_assert_nonnull (lot);
  app_settle ();
  g_assert_true (app_key_at_once (room->window, GDK_KEY_H, GDK_SHIFT_MASK));
  g_assert_true (app_key_at_once (room->window, GDK_KEY_7, 0));
  APP_WAIT (g_str_equal (chosen (room), "H7"));
  g_assert_true (app_key_at_once (room->window, GDK_KEY_2, 0));
  g_assert_true (app_key_at_once (room->window, GDK_KEY_2, 0));
  APP_WAIT (g_str_equal (chosen (room), "22"));
  g_assert_true (app_key_at_once (room->window, GDK_KEY_L, GDK_SHIFT_MASK));
  g_assert_cmpuint (room->window->jump->len, ==, 1);
  APP_WAIT (room->window->jump->len == 0);
  g_assert_cmpstr (app_said (room->window), ==, "");
  g_assert_cmpuint (room_n_entries (room, 1), ==, looks);
  g_assert_false (app_key_at_once (room->window, GDK_KEY_H, GDK_LOCK_MASK)); /* Caps Lock: a letter of the cup */
}

/* Digits in a text are text. */
static void
test_no_jump_in_text (Room *room, gconstpointer data)
{
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.round-line", NULL);
  g_assert_false (app_key (room->window, GDK_KEY_3, 0));
  g_assert_cmpuint (room->window->jump->len, ==, 0);
}

static void
test_back (Room *room, gconstpointer data)
{
  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (room->window->back_button)));
  app_window_show_page (room->window, "emergency");
  g_assert_true (app_key (room->window, GDK_KEY_Escape, 0));
  g_assert_cmpstr (page_name (room->window), ==, "animal");
  g_assert_true (app_key (room->window, GDK_KEY_Escape, 0));
  g_assert_cmpstr (page_name (room->window), ==, "shelves");
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (room->window->back_button)));
  app_window_show_page (room->window, "no such page");
  g_assert_cmpstr (page_name (room->window), ==, "shelves");
}

/* What is read within minutes begins at its top, and the keys that scroll are on it. */
static void
test_emergency_top (Room *room, gconstpointer data)
{
  GtkWidget *focus;

  app_window_show_page (room->window, "emergency");
  gtk_test_widget_wait_for_draw (GTK_WIDGET (room->window));
  focus = gtk_root_get_focus (GTK_ROOT (room->window));
  g_assert_true (GTK_IS_SCROLLED_WINDOW (focus));
  g_assert_nonnull (app_find_words (focus, "Within minutes hang it by the old skin"));
  g_assert_cmpfloat (gtk_adjustment_get_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (focus))), ==, 0);
}

/* What the window says goes by itself; what went wrong stays until it is closed. */
static void
test_says (Room *room, gconstpointer data)
{
  g_autoptr (GError) error = g_error_new_literal (DESK_ERROR, DESK_ERROR_FAILED, "It went wrong.");
  g_autoptr (GError) dismissed = g_error_new_literal (G_IO_ERROR, G_IO_ERROR_CANCELLED, "no");

  app_window_say (room->window, "Saved.");
  g_assert_cmpstr (app_said (room->window), ==, "Saved.");
  g_assert_cmpuint (room->window->said_timeout, !=, 0);
  app_window_say_error (room->window, dismissed);
  g_assert_cmpstr (app_said (room->window), ==, "Saved.");
  app_window_say_error (room->window, error);
  g_assert_cmpstr (app_said (room->window), ==, "It went wrong.");
  g_assert_cmpuint (room->window->said_timeout, ==, 0);
  app_window_say (room->window, "Saved.");
  g_assert_false (gtk_widget_has_css_class (GTK_WIDGET (room->window->said), "trouble"));
}

static void
assert_named (GtkWidget *at)
{
  if (GTK_IS_BUTTON (at) && gtk_widget_get_mapped (at))
    {
      gboolean words = app_find (at, GTK_TYPE_LABEL) != NULL;
      gboolean named =
        gtk_test_accessible_has_property (GTK_ACCESSIBLE (at), GTK_ACCESSIBLE_PROPERTY_LABEL) ||
        gtk_test_accessible_has_relation (GTK_ACCESSIBLE (at),
                                          GTK_ACCESSIBLE_RELATION_LABELLED_BY) ||
        gtk_widget_get_tooltip_text (at) != NULL;

      if (!words && !named && gtk_widget_get_ancestor (at, GTK_TYPE_MENU_BUTTON) == NULL &&
          gtk_widget_get_ancestor (at, GTK_TYPE_WINDOW_CONTROLS) == NULL &&
          gtk_widget_get_ancestor (at, GTK_TYPE_DROP_DOWN) == NULL)
        {
          g_test_message ("a %s in %s has no name", G_OBJECT_TYPE_NAME (at),
                          G_OBJECT_TYPE_NAME (gtk_widget_get_parent (at)));
          g_test_fail ();
        }
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    assert_named (child);
}

static void
test_named (Room *room, gconstpointer data)
{
  static const char *const pages[] = { "shelves",   "calendar", "past",
                                       "emergency", "cautions", "welcome" };

  app_boards_choose (APP_BOARDS (app_find (room->window, APP_TYPE_BOARDS)),
                     app_boards_find_number (APP_BOARDS (app_find (room->window, APP_TYPE_BOARDS)),
                                             "14"));
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      app_window_show_page (room->window, pages[i]);
      gtk_test_widget_wait_for_draw (GTK_WIDGET (room->window));
      assert_named (GTK_WIDGET (room->window));
    }
  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (room->window));
  assert_named (GTK_WIDGET (room->window));
}

/* ---- paper ---- */

static void
count_page_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, guint *n)
{
  (*n)++;
}

/* The same operation as behind the dialog, into a file: every page is drawn, nothing is said. */
static void
test_print (Room *room, gconstpointer data)
{
  g_autoptr (DeskSheet) sheet = desk_round_sheet (room->journal.desk, desk_subject_id (room->shelf_a), NULL);
  g_autoptr (GtkPrintOperation) operation = NULL;
  g_autofree char *path = g_build_filename (desk_dir (room->journal.desk), "sheet.pdf", NULL);
  g_autofree char *text = NULL;
  guint n = 0;

  g_assert_nonnull (sheet);
  g_assert_cmpuint (desk_sheet_n_lines (sheet), ==, 5);
  operation = _app_window_print_operation (room->window, sheet);
  g_signal_connect (operation, "draw-page", G_CALLBACK (count_page_cb), &n);
  gtk_print_operation_set_export_filename (operation, path);
  gtk_print_operation_set_allow_async (operation, FALSE);
  g_assert_cmpint (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT,
                                            GTK_WINDOW (room->window), NULL),
                   ==, GTK_PRINT_OPERATION_RESULT_APPLY);
  g_assert_cmpuint (n, ==, 1);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_true (g_str_has_prefix (text, "%PDF-"));
  g_assert_cmpstr (app_said (room->window), ==, "");
}

/* An empty shelf: said, and no dialog. */
static void
test_print_nothing (Room *room, gconstpointer data)
{
  AppShelvesPage *page = APP_SHELVES_PAGE (app_find (room->window, APP_TYPE_SHELVES_PAGE));
  DeskSubject *empty = fixture_add (room->journal.desk, CORE_SUBJECT_PLACE, "name=C");

  app_settle ();
  app_shelves_page_show_place (page, desk_subject_id (empty));
  gtk_widget_activate_action (GTK_WIDGET (room->window), "win.print-sheet", "s", "shown");
  APP_WAIT (strstr (app_said (room->window), "nothing to print") != NULL);
  g_assert_null (app_form_on_top ());
  desk_subject_unref (empty);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  g_test_add_func ("/window/welcome", test_welcome);
  g_test_add_func ("/window/about", test_about);
  g_test_add_func ("/window/journal/opens", test_opens);
  g_test_add_func ("/window/journal/begins", test_begins);
  for (guint i = 0; i < G_N_ELEMENTS (spoilt); i++)
    {
      g_autofree char *path = g_strdup_printf ("/window/journal/%s", spoilt[i].name);

      g_test_add_data_func (path, &spoilt[i], test_spoilt);
    }
  ROOM ("/window/journal/stays", test_stays);
  g_test_add_func ("/window/journal/asked-today", test_asked_today);
  ROOM ("/window/journal/hand-over", test_hand_over);
  g_test_add_func ("/window/journal/read-only", test_read_only);
  g_test_add_func ("/window/journal/closed-while-opening", test_closed_while_opening);
  g_test_add_func ("/window/journal/closed-while-choosing", test_closed_while_choosing);
  ROOM ("/window/undo/words", test_undo_words);
  ROOM ("/window/undo/and-close", test_undo_and_close);
  ROOM ("/window/undo/in-text", test_undo_in_text);
  ROOM ("/window/jump", test_jump);
  ROOM ("/window/jump-letter", test_jump_letter);
  ROOM ("/window/jump-code", test_jump_code);
  ROOM ("/window/no-jump-in-text", test_no_jump_in_text);
  ROOM ("/window/back", test_back);
  ROOM ("/window/emergency-top", test_emergency_top);
  ROOM ("/window/says", test_says);
  ROOM ("/window/trouble-goes", test_trouble_goes);
  ROOM ("/window/returns", test_returns);
  ROOM ("/window/named", test_named);
  ROOM ("/window/print/pages", test_print);
  ROOM ("/window/print/nothing", test_print_nothing);
  return g_test_run ();
}
