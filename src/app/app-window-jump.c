/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-jump.c — typing a number anywhere outside a text field jumps to that cup.
 *
 * Digits are gathered for a moment (14 is not 1 and then 4); Escape goes back. */
#include "app/app-window-private.h"

#include <glib/gi18n.h>

#define JUMP_MS 700

static gboolean
in_text (AppWindow *self)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self));

  return focus != NULL && (GTK_IS_EDITABLE (focus) || GTK_IS_TEXT_VIEW (focus));
}

static void
jump (AppWindow *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) subject = NULL;

  if (self->desk == NULL || self->jump->len == 0)
    return;
  subject = desk_find (self->desk, self->jump->str, &error);
  g_string_truncate (self->jump, 0);
  if (subject == NULL)
    app_window_say_error (self, error);
  else
    _app_window_jump_to (self, subject);
}

static gboolean
jump_over_cb (gpointer data)
{
  AppWindow *self = data;

  self->jump_timeout = 0;
  jump (self);
  return G_SOURCE_REMOVE;
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppWindow *self)
{
  gunichar letter = gdk_keyval_to_unicode (keyval);
  gboolean letter_after_digits = self->jump->len > 0 && letter < 128 && g_ascii_isalpha ((char) letter);

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_Escape && !in_text (self))
    {
      app_window_go_back (self);
      return GDK_EVENT_STOP;
    }
  if (in_text (self) || !_app_window_jump_wanted (self))
    return GDK_EVENT_PROPAGATE;
  if ((letter >= '0' && letter <= '9') || letter_after_digits)
    {
      if (self->jump->len < 8)
        g_string_append_c (self->jump, (char) letter);
      g_clear_handle_id (&self->jump_timeout, g_source_remove);
      self->jump_timeout = g_timeout_add (JUMP_MS, jump_over_cb, self);
      return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

void
_app_window_jump_init (AppWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
