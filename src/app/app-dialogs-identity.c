/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-identity.c — which animal it is: mixed up with another, in doubt, places exchanged. */
#include "app/app-dialogs.h"

#include <glib/gi18n.h>

#include "app/app-doubt.h"
#include "app/app-form.h"
#include "app/app-mixed-photos.h"
#include "app/app-view.h"
#include "desk/desk-doubt.h"
#include "desk/desk-identity.h"
#include "words/words-tr.h"

/* The other cup as typed; NULL, and the form says so. */
static DeskSubject *
other_of (AppForm *form)
{
  g_autofree char *typed = g_strstrip (g_strdup (app_form_get (form, "other")));
  g_autoptr (GError) error = NULL;
  DeskSubject *other;

  if (typed[0] == '\0')
    {
      app_form_problem (form, C_ ("form", "Write the number of the other cup."));
      return NULL;
    }
  other = desk_find (app_window_get_desk (app_form_window (form)), typed, &error);
  if (other == NULL)
    app_form_done (form, NULL, error);
  return other;
}

/* ---- mixed up ---- */

static AppMixedPhotos *
photos_of (AppForm *form)
{
  return g_object_get_data (G_OBJECT (form), "photos");
}

static void
mixed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  guint moved = 0;

  if (desk_mixed_finish (DESK_DESK (source), result, &moved, &error))
    text = g_strdup_printf (TN_ (WORDS_LOCAL, "form", "Saved: %u entry has changed sides. Ctrl+Z takes it back.",
                                 "Saved: %u entries have changed sides. Ctrl+Z takes it back.", moved),
                            moved);
  app_form_done (form, text, error);
}

typedef struct
{
  CoreId other;
  CoreDay since;
} Mixed;

static void
mix (AppForm *form, gpointer data)
{
  const Mixed *mixed = data;
  g_autoptr (GArray) shown = app_mixed_photos_shown (photos_of (form));
  Desk *desk = app_form_window (form) != NULL ? app_window_get_desk (app_form_window (form)) : NULL;

  if (desk != NULL)
    desk_mixed_async (desk, app_form_id (form), mixed->other, mixed->since, (const DeskShown *) shown->data, shown->len,
                      mixed_cb, g_object_ref (form));
}

static void
mixed_submit (AppForm *form)
{
  g_autoptr (DeskSubject) other = other_of (form);
  g_autofree char *doubt = NULL;
  Mixed *mixed;
  CoreDay since;

  if (other == NULL || !app_form_get_day (form, "since", &since))
    return;
  if (since == CORE_DAY_NONE)
    {
      app_form_problem (form, C_ ("form", "Since when? Without that day, say that you are in doubt instead."));
      return;
    }
  doubt = desk_doubt_of_mixed (app_window_get_desk (app_form_window (form)), app_form_id (form), desk_subject_id (other),
                               WORDS_LOCAL);
  mixed = g_new (Mixed, 1);
  *mixed = (Mixed){ desk_subject_id (other), since };
  app_doubt_ask (form, doubt, mix, mixed, g_free);
}

/* Once both are typed, the pictures since then. */
static void
typed_cb (AppForm *form)
{
  Desk *desk = app_form_window (form) != NULL ? app_window_get_desk (app_form_window (form)) : NULL;
  g_autofree char *number = g_strstrip (g_strdup (app_form_get (form, "other")));
  g_autoptr (DeskSubject) animal = desk != NULL ? desk_get (desk, app_form_id (form)) : NULL;
  g_autoptr (DeskSubject) other = desk != NULL && number[0] != '\0' ? desk_find (desk, number, NULL) : NULL;
  CoreDay since = desk != NULL ? app_form_peek_day (form, "since") : CORE_DAY_NONE;
  gboolean both = animal != NULL && other != NULL && since != CORE_DAY_NONE
                  && desk_subject_kind (other) == CORE_SUBJECT_ANIMAL
                  && !core_id_equal (desk_subject_id (other), app_form_id (form));

  app_mixed_photos_from_text (photos_of (form), app_form_get (form, "shown"));
  app_mixed_photos_set (photos_of (form), both ? desk : NULL, animal, other, since);
}

static void
answered_cb (AppMixedPhotos *photos, GtkEditable *kept)
{
  g_autofree char *text = app_mixed_photos_to_text (photos);

  gtk_editable_set_text (kept, text);
}

void
app_dialog_mixed (AppWindow *window, CoreId id)
{
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "%s was mixed up with another"),
                                      C_ ("form", "_Put right"), mixed_submit);
  GtkWidget *photos = app_mixed_photos_new ();
  GtkWidget *other = app_form_entry (form, "other", C_ ("form", "_With cup"), NULL, C_ ("form", "a number"));
  GtkWidget *since = app_form_day (form, "since", C_ ("form", "_Since"), CORE_DAY_NONE);
  GtkWidget *kept;

  app_form_note (form, C_ ("form", "What was seen of the two since then changes sides: meals, moults, pictures, a "
                                   "death. The cups, their numbers and their care stay. What was read of the sex "
                                   "since then waits for a second look."));
  g_object_set_data (G_OBJECT (form), "photos", photos);
  kept = app_form_widget (form, "shown", photos);
  g_signal_connect_object (other, "changed", G_CALLBACK (typed_cb), form, G_CONNECT_SWAPPED);
  g_signal_connect_object (since, "changed", G_CALLBACK (typed_cb), form, G_CONNECT_SWAPPED);
  g_signal_connect_object (photos, "changed", G_CALLBACK (answered_cb), kept, 0);
  app_form_show (form, "mixed");
  typed_cb (form);
}

/* ---- in doubt ---- */

static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;

  (void) desk_record_finish (DESK_DESK (source), result, NULL, &error);
  app_form_done (form, C_ ("form", "Saved. Ctrl+Z takes it back."), error);
}

static void
record_doubt (AppForm *form, const char *over, CoreDay since)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  g_autofree char *text = app_form_pair (form, "text");
  const char *pairs[3] = { NULL };
  guint n = 0;

  if (over != NULL)
    pairs[n++] = over;
  if (text != NULL)
    pairs[n++] = text;
  desk_record_async (desk, app_form_id (form), "doubtful", pairs, desk_today (desk), since, -1, NULL, recorded_cb,
                     g_object_ref (form));
}

static void
doubt_submit (AppForm *form)
{
  CoreDay since;

  if (app_form_get_day (form, "since", &since))
    record_doubt (form, NULL, since);
}

static void
decide_submit (AppForm *form)
{
  record_doubt (form, "over=yes", CORE_DAY_NONE);
}

static void
ask_doubt (AppWindow *window, CoreId id)
{
  AppForm *form
    = app_form_new_about (window, id, C_ ("form title", "Is it still %s?"), C_ ("form", "_In doubt"), doubt_submit);

  app_form_day (form, "since", C_ ("form", "Last surely _itself"), CORE_DAY_NONE);
  app_form_entry (form, "text", C_ ("form", "Wh_y"), NULL, C_ ("form", "may stay empty"));
  app_form_note (form, C_ ("form", "Its moult range gets wider and its sex is open until you decide. Do you know with "
                                   "which it was mixed up, and since when? Then put that right instead."));
  app_form_show (form, "doubtful");
}

static void
ask_decision (AppWindow *window, CoreId id, const CoreState *state)
{
  WordsView view = app_view (app_window_get_desk (window));
  g_autofree char *doubt = words_identity (&view, state);
  g_autofree char *note = app_capitalised (doubt);
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "It is %s after all"), C_ ("form", "_It is"),
                                      decide_submit);

  app_form_note (form, note);
  app_form_entry (form, "text", C_ ("form", "Wh_y"), NULL, C_ ("form", "may stay empty"));
  app_form_note (form, C_ ("form", "Then all that was known of it counts again. Was it another? Then say with which it "
                                   "was mixed up instead."));
  app_form_show (form, "decided");
}

void
app_dialog_doubt (AppWindow *window, CoreId id)
{
  g_autoptr (DeskSubject) animal = desk_get (app_window_get_desk (window), id);

  if (animal == NULL)
    return;
  if (desk_subject_state (animal)->doubtful_since == CORE_DAY_NONE)
    ask_doubt (window, id);
  else
    ask_decision (window, id, desk_subject_state (animal));
}

/* ---- places ---- */

static void
swapped_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;

  (void) desk_swap_finish (DESK_DESK (source), result, &error);
  app_form_done (form, C_ ("form", "Saved. Ctrl+Z takes it back."), error);
}

static void
swap_submit (AppForm *form)
{
  g_autoptr (DeskSubject) other = other_of (form);

  if (other != NULL)
    desk_swap_async (app_window_get_desk (app_form_window (form)), app_form_id (form), desk_subject_id (other),
                     swapped_cb, g_object_ref (form));
}

void
app_dialog_swap (AppWindow *window, CoreId id)
{
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "%s exchanges its place"), C_ ("form", "_Exchange"),
                                      swap_submit);

  app_form_entry (form, "other", C_ ("form", "_With cup"), NULL, C_ ("form", "a number"));
  app_form_note (form, C_ ("form", "The cups change places, with the animals in them."));
  app_form_show (form, "swap");
}
