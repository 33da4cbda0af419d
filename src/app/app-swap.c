/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-swap.c — see app-swap.h. */
#include "app/app-swap.h"

#include <glib/gi18n.h>
#include <string.h>

#include "desk/desk-identity.h"

typedef struct
{
  AppWindow *window; /* owned */
  Desk *desk;        /* owned: the journal of both cups */
  CoreId place, cup, other;
} Swap;

static void
swap_free (Swap *self)
{
  g_object_unref (self->window);
  g_object_unref (self->desk);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Swap, swap_free)

static void
say (Swap *self, gboolean ok, const GError *error)
{
  if (ok)
    app_window_say (self->window, C_ ("form", "Saved. Ctrl+Z takes it back."));
  else
    app_window_say_error (self->window, error);
}

static void
moved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Swap) self = data;
  g_autoptr (GError) error = NULL;

  say (self, desk_place_before_finish (DESK_DESK (source), result, &error), error);
}

static void
swapped_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Swap) self = data;
  g_autoptr (GError) error = NULL;

  say (self, desk_swap_finish (DESK_DESK (source), result, &error), error);
}

static void
answered_cb (AdwMessageDialog *dialog, const char *response, Swap *self)
{
  if (strcmp (response, "before") == 0)
    desk_place_before_async (self->desk, self->cup, self->place, self->other, moved_cb, self);
  else if (strcmp (response, "exchange") == 0)
    desk_swap_async (self->desk, self->cup, self->other, swapped_cb, self);
  else
    swap_free (self);
}

void
app_swap_ask (AppWindow *window, CoreId place, CoreId cup, CoreId other)
{
  Desk *desk = app_window_get_desk (window);
  g_autoptr (DeskSubject) a = desk != NULL ? desk_get (desk, cup) : NULL;
  g_autoptr (DeskSubject) b = desk != NULL ? desk_get (desk, other) : NULL;
  g_autofree char *title = NULL;
  g_autofree char *before = NULL;
  GtkWidget *dialog;
  Swap *self;

  if (a == NULL || b == NULL)
    return;
  self = g_new0 (Swap, 1);
  *self = (Swap){ g_object_ref (window), g_object_ref (desk), place, cup, other };
  /* Translators: numbers of two cups */
  title = g_strdup_printf (C_ ("swap", "%s on %s"), desk_subject_label (a), desk_subject_label (b));
  before = g_strdup_printf (C_ ("swap", "Put it _before %s"), desk_subject_label (b));
  dialog = adw_message_dialog_new (GTK_WINDOW (window), title,
                                   C_ ("swap", "Is it to stand before the other, or do the two exchange their places?"));
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", C_ ("swap", "_Cancel"), "before", before,
                                    "exchange", C_ ("swap", "_Exchange the two"), NULL);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "before");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect (dialog, "response", G_CALLBACK (answered_cb), self);
  gtk_window_present (GTK_WINDOW (dialog));
}
