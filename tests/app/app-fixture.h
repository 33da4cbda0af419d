/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-fixture.h — a window over a small journal in a folder of its own, and the hands of a keeper.
 *
 * The journal is a lazy desk on 2026-06-01: Shelf A with the cups 14, 22, 31, 52 and 61, Shelf B
 * with 70. Keys are given to the controllers that stand for them; nothing waits for a fixed time.
 */
#pragma once

#include "app/app-boards.h"
#include "app/app-quick.h"
#include "app/app-story.h"
#include "app/app-window-private.h"
#include "desk-fixture.h"

#define ROOM_CUPS 6

typedef struct
{
  Fixture journal;
  DeskSubject *shelf_a;
  DeskSubject *shelf_b;
  DeskSubject *cups[ROOM_CUPS]; /* 14 22 31 52 61 on A, 70 on B; as they were added */
  AppWindow *window;            /* held; NULL in the rooms that need none */
} Room;

/* Locale, display, style; FALSE (and the plan says so) without a display. */
gboolean app_test_init (int *argc, char ***argv);
/* One for the process, registered, never run. */
AdwApplication *app_test_application (void);

void room_set_up (Room *room, gconstpointer data);        /* journal only */
void room_set_up_window (Room *room, gconstpointer data); /* and a window that shows it */
void room_open_window (Room *room); /* over a journal that has none */
/* Destroys the window and asserts that it is gone, then the journal. */
void room_tear_down (Room *room, gconstpointer data);
void room_close_window (Room *room);
#define ROOM(path, func) g_test_add (path, Room, NULL, room_set_up_window, func, room_tear_down)
#define ROOM_WITHOUT_WINDOW(path, func)                                                            \
  g_test_add (path, Room, NULL, room_set_up, func, room_tear_down)

void app_settle (void); /* what is ready on the main loop, no more */
/* Runs the main loop until `condition` holds; fails after ten seconds. */
#define APP_WAIT(condition)                                                                        \
  G_STMT_START                                                                                     \
  {                                                                                                \
    gint64 app_wait_until = g_get_monotonic_time () + 10 * G_USEC_PER_SEC;                         \
                                                                                                   \
    while (!(condition) && g_get_monotonic_time () < app_wait_until)                               \
      if (!g_main_context_iteration (NULL, FALSE))                                                 \
        g_usleep (1000);                                                                           \
    g_assert_true (condition);                                                                     \
  }                                                                                                \
  G_STMT_END

AppBoards *boards_of (Room *room);
AppStory *story_of (Room *room);
AppQuick *quick_of (Room *room); /* of the story */
AppCup *cup_of (Room *room, const char *number); /* fails when there is none */
/* The first widget under (or at) `root` of that type; NULL none. */
GtkWidget *app_find (gpointer root, GType type);
/* The first button under `root` whose visible words are `label` (underscores left out). */
GtkWidget *app_find_button (gpointer root, const char *label);
/* The first of that type that assistive technology calls by this name; NULL none. */
GtkWidget *app_find_labelled (gpointer root, GType type, const char *label);
/* A label under `root` whose text holds `part`, shown or not. */
GtkWidget *app_find_words (gpointer root, const char *part);
/* Every label that is shown under it has the room that its words need. */
void app_none_is_cut (GtkWidget *root);
guint app_count_words (gpointer root, const char *part);
guint app_count (gpointer root, GType type);
/* Activates a button and lets the loop run. */
void app_press (GtkWidget *button);
/* Gives a key to the key controllers of one widget; TRUE when one of them took it. */
gboolean app_key (gpointer widget, guint keyval, GdkModifierType state);
/* The same without letting the loop run: for keys that belong together within a moment. */
gboolean app_key_at_once (gpointer widget, guint keyval, GdkModifierType state);
/* The same as app_key() from `widget` up to its window, as GTK passes keys on. */
gboolean app_key_up (gpointer widget, guint keyval, GdkModifierType state);
/* Gives the drop of such a value to the drop target of a widget. */
gboolean app_drop_value (gpointer widget, const GValue *value, double x, double y);
/* Drops a list of files on the drop target of a widget. */
gboolean app_drop_file (gpointer widget, const char *path, double x, double y);
/* The modal form on top; NULL none. */
GtkWindow *app_form_on_top (void);
const char *app_said (AppWindow *window); /* what the window says now; "" nothing */

gsize room_n_entries (Room *room, guint cup); /* live ones of the nth cup, no voids */
const CoreEntry *room_last (Room *room, guint cup);
char *
room_file (Room *room, const char *name, GBytes *bytes); /* in the journal's own temporary parent */
