/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window.h — the one window: which journal is open, which page is shown.
 *
 * Pages never know each other; they ask the window (found by app_window_of) to
 * show something else, to say something, or to undo.
 */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_WINDOW (app_window_get_type ())
G_DECLARE_FINAL_TYPE (AppWindow, app_window, APP, WINDOW, AdwApplicationWindow)

AppWindow *app_window_new (AdwApplication *application);
/* The window that holds a widget; NULL while it is in none. */
AppWindow *app_window_of (gpointer widget);

/* Open (or create) a journal; says in words when it cannot. today NONE = the day of ask_today. */
void app_window_open (AppWindow *self, const char *dir, gboolean create, CoreDay today);
/* --today: the day of every journal opened from now on; NONE = follow the clock. */
void app_window_ask_today (AppWindow *self, CoreDay today);
/* What a second start of the program asks for: another journal (NULL none), another day (NONE none). */
void app_window_hand_over (AppWindow *self, const char *dir, CoreDay today);
gboolean app_window_is_opening (AppWindow *self); /* a journal is being read */
Desk *app_window_get_desk (AppWindow *self); /* borrowed, NULL while none is open */

/* Minutes after midnight by the clock; -1 while the day is fixed by --today or the demo. */
int app_window_get_minute (AppWindow *self);

/* Cancelled when the window closes, for what must not outlive it; borrowed. */
GCancellable *app_window_cancellable (AppWindow *self);

/* Pages */
void app_window_show_page (AppWindow *self, const char *name); /* "shelves" "calendar" "past" "emergency" */
/* The sheet of a stand-in goes to the printer's dialog; days that do not fit are an error. */
void app_window_print_standin (AppWindow *self, CoreDay from, CoreDay to, const char *call, GError **error);
/* The round line takes rounds of this day, seen by somebody else where a name is given. */
void app_window_past_round (AppWindow *self, CoreDay day, const char *seen_by);
void app_window_show_animal (AppWindow *self, CoreId animal);
void app_window_show_shelf (AppWindow *self, CoreId place);
void app_window_show_bench (AppWindow *self, CoreId animal, CoreId photo);
void app_window_show_picture (AppWindow *self, CoreId photo); /* among all of its animal */
void app_window_show_pictures (AppWindow *self, const GArray *photos, guint at); /* CoreId */
void app_window_show_gallery (AppWindow *self, CoreId animal); /* none = all */
/* To the page of the pictures of a round, with these (GFile) beside those that are there. */
void app_window_add_pictures (AppWindow *self, GSList *files);
/* Pictures (GFile) onto whoever is shown; from the photo bench they go on it. */
void app_window_attach_pictures (AppWindow *self, GSList *files);
/* Where shelves are shown: its shelf, with its cup chosen. */
void app_window_choose (AppWindow *self, DeskSubject *subject);
/* Its cup where shelves are shown, else its page. */
void app_window_go_to (AppWindow *self, DeskSubject *subject);
void app_window_go_back (AppWindow *self);

/* After something lay over the window: the focus goes back to `was` (NULL: unknown) or the page, and
 * stays there until the keeper's next key or press, also when the page is drawn anew. */
void app_window_take_keys_back (AppWindow *self, GtkWidget *was);

/* One line at the foot of the window, also read by a screen reader; gone after some seconds. */
void app_window_say (AppWindow *self, const char *text);
/* What went wrong is being put right: it goes, if that is what is said. */
void app_window_hush_trouble (AppWindow *self);
/* An error in words with what to do; stays until it is closed, the page changes or something else is said. */
void app_window_say_error (AppWindow *self, const GError *error);
