/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-doubt.c — see app-doubt.h. */
#include "app/app-doubt.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  AppForm *form; /* owned */
  AppDoubtSure sure;
  gpointer data;
  GDestroyNotify data_free;
} Doubt;

static void
doubt_free (gpointer data, GClosure *closure)
{
  Doubt *self = data;

  if (self->data_free != NULL)
    self->data_free (self->data);
  g_object_unref (self->form);
  g_free (self);
}

static void
answered_cb (AdwMessageDialog *dialog, const char *response, Doubt *self)
{
  if (strcmp (response, "sure") == 0)
    self->sure (self->form, self->data);
}

void
app_doubt_ask (AppForm *form, const char *question, AppDoubtSure sure, gpointer data, GDestroyNotify data_free)
{
  GtkWidget *dialog;
  Doubt *self;

  if (question == NULL)
    {
      sure (form, data);
      if (data_free != NULL)
        data_free (data);
      return;
    }
  self = g_new (Doubt, 1);
  *self = (Doubt){ g_object_ref (form), sure, data, data_free };
  dialog = adw_message_dialog_new (GTK_WINDOW (form), C_ ("doubt", "Is it so?"), question);
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "back", C_ ("doubt", "_Back"), "sure",
                                    C_ ("doubt", "_Save it so"), NULL);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "back");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "back");
  g_signal_connect_data (dialog, "response", G_CALLBACK (answered_cb), self, doubt_free, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}
