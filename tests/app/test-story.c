/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-story.c — the story beside the shelves: where it begins, what it lists first, how it is
 * let go. */
#include "app-fixture.h"

#include "app/app-boards.h"
#include "app/app-story.h"
#include "fixture.h"

/* The next cup's story begins at its top, wherever the last one was read. */
static void
test_story_top (Room *room, gconstpointer data)
{
  GtkAdjustment *place;

  for (int i = 0; i < 12; i++)
    fixture_record (room->journal.desk, room->cups[0], "note",
                    "text=a-long-note-that-takes-some-room-in-the-story-of-this-cup-so-that-it-can-be-scrolled", -i);
  gtk_window_set_default_size (GTK_WINDOW (room->window), 1000, 500);
  app_window_choose (room->window, fixture_now (room->journal.desk, room->cups[0]));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (story_of (room)));
  place = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (app_find (story_of (room), GTK_TYPE_SCROLLED_WINDOW)));
  APP_WAIT (gtk_adjustment_get_upper (place) > gtk_adjustment_get_page_size (place) + 40);
  app_settle ();
  gtk_adjustment_set_value (place, 40);
  g_assert_cmpfloat (gtk_adjustment_get_value (place), ==, 40);
  fixture_record (room->journal.desk, room->cups[0], "misted", "", 0); /* the same cup: stays */
  app_settle ();
  g_assert_cmpfloat (gtk_adjustment_get_value (place), ==, 40);
  app_window_choose (room->window, room->cups[1]);
  APP_WAIT (gtk_adjustment_get_value (place) <= 0);
}

/* One that refuses: what is the matter and what to do stand there before what is due. */
static void
test_story_refuses (Room *room, gconstpointer data)
{
  app_window_choose (room->window, room->cups[0]);
  app_settle ();
  g_assert_null (app_find_words (story_of (room), "Do:"));
  fixture_record (room->journal.desk, room->cups[0], "belly", "score=1", 0);
  fixture_record (room->journal.desk, room->cups[0], "fed", "prey=moth outcome=refused", -1);
  fixture_record (room->journal.desk, room->cups[0], "fed", "prey=moth outcome=refused", 0);
  app_window_choose (room->window, fixture_now (room->journal.desk, room->cups[0]));
  app_settle ();
  g_assert_nonnull (app_find_words (story_of (room), "Do:"));
  g_assert_nonnull (app_find_words (story_of (room), "something is wrong"));
}

/* Among the entries of one day the last written stands first, whatever its kind. */
static void
test_story_last_written (Room *room, gconstpointer data)
{
  GtkWidget *words;
  int first = -1, second = -1, n = 0;

  fixture_record (room->journal.desk, room->cups[0], "misted", "", 0);
  fixture_record (room->journal.desk, room->cups[0], "sign", "sign=hanging", 0);
  app_window_choose (room->window, fixture_now (room->journal.desk, room->cups[0]));
  app_settle ();
  words = gtk_widget_get_parent (gtk_widget_get_parent (app_find_words (story_of (room), "moult sign: hanging")));
  for (GtkWidget *row = gtk_widget_get_first_child (words); row != NULL; row = gtk_widget_get_next_sibling (row), n++)
    {
      if (first < 0 && app_find_words (row, "moult sign: hanging") != NULL)
        first = n;
      if (second < 0 && app_find_words (row, "sprayed") != NULL)
        second = n;
    }
  g_assert_cmpint (first, ==, 0);
  g_assert_cmpint (second, >, first);
}

/* Escape and Alt+Left first close the story and leave the focus where it was. */
static void
test_story_let_go (Room *room, gconstpointer data)
{
  AppCup *cup = cup_of (room, "22");
  static const guint keys[] = { GDK_KEY_Escape, GDK_KEY_Left };

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      app_boards_choose (boards_of (room), cup);
      app_settle ();
      g_assert_true (adw_flap_get_reveal_flap (ADW_FLAP (app_find (room->window, ADW_TYPE_FLAP))));
      if (keys[i] == GDK_KEY_Escape)
        g_assert_true (app_key_up (cup, keys[i], 0));
      else
        g_assert_true (gtk_widget_activate_action (GTK_WIDGET (cup), "win.back", NULL));
      app_settle ();
      g_assert_null (app_boards_chosen (boards_of (room)));
      g_assert_false (adw_flap_get_reveal_flap (ADW_FLAP (app_find (room->window, ADW_TYPE_FLAP))));
      g_assert_true (gtk_widget_is_focus (GTK_WIDGET (cup)));
    }
}

static int
story_width (Room *room)
{
  int width;

  gtk_widget_measure (GTK_WIDGET (story_of (room)), GTK_ORIENTATION_HORIZONTAL, -1, NULL, &width, NULL, NULL);
  return width;
}

/* Whatever is asked in the panel, the boards beside it do not move. */
static void
test_story_width (Room *room, gconstpointer data)
{
  static const guint asks[] = { GDK_KEY_e, GDK_KEY_t, GDK_KEY_n, GDK_KEY_b, GDK_KEY_o };
  int width;

  app_boards_choose (boards_of (room), cup_of (room, "14"));
  app_settle ();
  width = story_width (room);
  for (gsize i = 0; i < G_N_ELEMENTS (asks); i++)
    {
      g_assert_true (app_story_key (story_of (room), asks[i]));
      app_settle ();
      g_assert_cmpint (story_width (room), ==, width);
      app_boards_choose (boards_of (room), NULL);
      app_boards_choose (boards_of (room), cup_of (room, "14")); /* it asks nothing now */
      app_settle ();
    }
  app_boards_choose (boards_of (room), cup_of (room, "22"));
  app_settle ();
  g_assert_cmpint (story_width (room), ==, width);
}

int
main (int argc, char **argv)
{
  if (!app_test_init (&argc, &argv))
    return 0;
  ROOM ("/story/top", test_story_top);
  ROOM ("/story/refuses", test_story_refuses);
  ROOM ("/story/last-written", test_story_last_written);
  ROOM ("/story/let-go", test_story_let_go);
  ROOM ("/story/width", test_story_width);
  return g_test_run ();
}
