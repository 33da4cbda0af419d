/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-ended.c — see app-ended.h. One button: an escaped animal is found, one that left comes back. */
#include "app/app-ended.h"

#include <glib/gi18n.h>

#include "app/app-window.h"

struct _AppEnded
{
  GtkWidget parent_instance;

  /* Child, borrowed */
  GtkWidget *button;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
};

G_DEFINE_FINAL_TYPE (AppEnded, app_ended, GTK_TYPE_WIDGET)

static gboolean
is_escaped (AppEnded *self)
{
  return desk_subject_state (self->subject)->end == CORE_END_ESCAPED;
}

/* The row may be gone by now; the window is not. */
static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppWindow) window = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) subject = NULL;
  g_autofree char *text = NULL;
  const CoreEntry *entry;
  CoreId id;

  if (!desk_record_finish (DESK_DESK (source), result, &id, &error))
    {
      app_window_say_error (window, error);
      return;
    }
  entry = desk_entry (DESK_DESK (source), id);
  if (entry == NULL)
    return;
  subject = desk_get (DESK_DESK (source), entry->subject);
  text = g_strdup_printf (entry->kind == CORE_KIND_FOUND ? C_ ("past", "Saved: %s is found again. Ctrl+Z takes it back.")
                                                         : C_ ("past", "Saved: %s is back. Ctrl+Z takes it back."),
                          subject != NULL ? desk_subject_label (subject) : "");
  app_window_say (window, text);
}

static void
clicked_cb (AppEnded *self)
{
  AppWindow *window = app_window_of (self);

  if (window == NULL || self->subject == NULL)
    return;
  gtk_widget_set_sensitive (self->button, FALSE); /* one press, one entry */
  desk_record_async (self->desk, desk_subject_id (self->subject), is_escaped (self) ? "found" : "back",
                     (const char *const[]){ NULL },
                     desk_today (self->desk), CORE_DAY_NONE, -1, NULL, recorded_cb, g_object_ref (window));
}

static void
app_ended_dispose (GObject *object)
{
  AppEnded *self = APP_ENDED (object);

  g_clear_object (&self->desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_pointer (&self->button, gtk_widget_unparent);
  G_OBJECT_CLASS (app_ended_parent_class)->dispose (object);
}

static void
app_ended_class_init (AppEndedClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_ended_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
app_ended_init (AppEnded *self)
{
  self->button = gtk_button_new ();
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  gtk_widget_set_halign (self->button, GTK_ALIGN_START);
  gtk_widget_set_valign (self->button, GTK_ALIGN_CENTER);
  g_signal_connect_object (self->button, "clicked", G_CALLBACK (clicked_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
app_ended_new (void)
{
  return g_object_new (APP_TYPE_ENDED, NULL);
}

void
app_ended_set_subject (AppEnded *self, Desk *desk, DeskSubject *subject)
{
  const char *words;
  g_autofree char *label = NULL;
  gboolean gone;

  g_return_if_fail (APP_IS_ENDED (self));
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  if (subject != NULL)
    self->subject = desk_subject_ref (subject);
  gone = subject != NULL && desk != NULL
         && (desk_subject_state (subject)->end == CORE_END_ESCAPED || desk_subject_state (subject)->end == CORE_END_LEFT);
  gtk_widget_set_visible (GTK_WIDGET (self), gone);
  if (!gone)
    return;
  words = is_escaped (self) ? C_ ("past", "Found again") : C_ ("past", "It is back");
  label = g_strdup_printf ("%s: %s", desk_subject_label (subject), words);
  gtk_button_set_label (GTK_BUTTON (self->button), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_set_sensitive (self->button, !desk_read_only (desk));
}
