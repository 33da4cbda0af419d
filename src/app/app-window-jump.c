/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-jump.c — typing a number or a code anywhere outside a text field jumps to that cup.
 *
 * What is typed is gathered for a moment (14 is not 1 and then 4); Escape goes back. */
#include "app/app-window-private.h"

#include <glib/gi18n.h>

#include "app/app-widgets.h"

#define JUMP_MS 700

static gboolean
in_text (AppWindow *self)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self));

  return focus != NULL && (GTK_IS_EDITABLE (focus) || GTK_IS_TEXT_VIEW (focus));
}

/* A question that has the keys: "4" is its answer, not cup 4. */
static gboolean
in_question (AppWindow *self)
{
  return app_takes_digits (gtk_root_get_focus (GTK_ROOT (self)));
}

/* A capital letter alone: no code yet. */
static gboolean
lone_letter (AppWindow *self)
{
  return self->jump->len == 1 && g_ascii_isalpha (self->jump->str[0]);
}

/* The digits become a cup now. FALSE (and it is said) when there is none. */
static gboolean
jump (AppWindow *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) subject = NULL;

  g_clear_handle_id (&self->jump_timeout, g_source_remove);
  if (lone_letter (self))
    g_string_truncate (self->jump, 0);
  if (self->desk == NULL || self->jump->len == 0)
    return FALSE;
  subject = desk_find (self->desk, self->jump->str, &error);
  g_string_truncate (self->jump, 0);
  if (subject == NULL)
    {
      app_window_say_error (self, error);
      return FALSE;
    }
  app_window_hush_trouble (self); /* a wrong number before this one */
  app_window_go_to (self, subject);
  return TRUE;
}

static gboolean
jump_over_cb (gpointer data)
{
  AppWindow *self = data;

  self->jump_timeout = 0;
  (void) jump (self);
  return G_SOURCE_REMOVE;
}

static void
gather (AppWindow *self, gunichar letter)
{
  if (self->jump->len < 8)
    g_string_append_c (self->jump, (char) letter);
  g_clear_handle_id (&self->jump_timeout, g_source_remove);
  self->jump_timeout = g_timeout_add (JUMP_MS, jump_over_cb, self);
}

/* "14a" is a number too, where there is such a cup; else the letter is meant for cup 14. */
static gboolean
letter_is_of_number (AppWindow *self, gunichar letter)
{
  g_autofree char *number = g_strdup_printf ("%s%c", self->jump->str, (char) letter);
  g_autoptr (DeskSubject) subject = desk_find (self->desk, number, NULL);

  return subject != NULL;
}

/* With digits waiting, the next key must never reach the cup that had the focus before. */
static gboolean
key_after_digits (AppWindow *self, guint keyval, gunichar letter)
{
  if (letter < 128 && g_ascii_isalpha ((char) letter) && letter_is_of_number (self, letter))
    {
      gather (self, letter);
      return GDK_EVENT_STOP;
    }
  if (keyval == GDK_KEY_BackSpace)
    {
      g_string_truncate (self->jump, self->jump->len - 1);
      return GDK_EVENT_STOP;
    }
  if (!jump (self) || _app_window_letter (self, keyval))
    return GDK_EVENT_STOP;
  /* Space would let go of the cup that was just chosen; any other key goes its way. */
  return keyval == GDK_KEY_space ? GDK_EVENT_STOP : GDK_EVENT_PROPAGATE;
}

/* "E1" stands on a cup as "14" does. Its capital begins it; a small letter is written of the cup in hand. */
static gboolean
begins_code (AppWindow *self, gunichar letter, GdkModifierType state)
{
  return letter >= 'A' && letter <= 'Z' && (state & GDK_SHIFT_MASK) != 0 && (state & GDK_LOCK_MASK) == 0
         && _app_window_code_wanted (self);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppWindow *self)
{
  gunichar letter = gdk_keyval_to_unicode (keyval);

  self->keeps_keys = FALSE;
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || in_text (self) || in_question (self)
      || !_app_window_jump_wanted (self))
    return GDK_EVENT_PROPAGATE;
  if (letter >= '0' && letter <= '9')
    {
      gather (self, letter);
      return GDK_EVENT_STOP;
    }
  if (self->jump->len > 0 && keyval != GDK_KEY_Shift_L && keyval != GDK_KEY_Shift_R)
    return key_after_digits (self, keyval, letter);
  if (begins_code (self, letter, state))
    {
      gather (self, letter);
      return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

static void
pressed_cb (GtkGestureClick *gesture, int n, double x, double y, AppWindow *self)
{
  self->keeps_keys = FALSE;
}

/* ---- after a form ---- */

static gboolean
on_page (AppWindow *self, GtkWidget *widget)
{
  GtkWidget *page = gtk_stack_get_visible_child (self->pages);

  return widget != NULL && gtk_widget_get_mapped (widget)
         && (widget == page || gtk_widget_is_ancestor (widget, page));
}

/* A page that is drawn anew loses what had the focus, and GTK goes on at the first button of the window. */
static void
focus_cb (AppWindow *self)
{
  GtkWidget *page = gtk_stack_get_visible_child (self->pages);

  if (!self->keeps_keys || gtk_widget_in_destruction (GTK_WIDGET (self))
      || on_page (self, gtk_root_get_focus (GTK_ROOT (self))))
    return;
  if (!gtk_widget_grab_focus (page))
    gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
}

void
app_window_take_keys_back (AppWindow *self, GtkWidget *was)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  self->keeps_keys = TRUE;
  if (!on_page (self, gtk_root_get_focus (GTK_ROOT (self))) && on_page (self, was))
    gtk_widget_grab_focus (was);
  focus_cb (self);
}

/* Escape goes back, unless what has the focus wanted it. */
static gboolean
escape_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppWindow *self)
{
  if (keyval != GDK_KEY_Escape || in_text (self) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  app_window_go_back (self);
  return GDK_EVENT_STOP;
}

void
_app_window_jump_init (AppWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *escape = gtk_event_controller_key_new ();
  GtkGesture *press = gtk_gesture_click_new ();

  /* Before the cups see a key: a letter right after a number belongs to that number. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (press), GTK_PHASE_CAPTURE);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (press), 0);
  g_signal_connect_object (press, "pressed", G_CALLBACK (pressed_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (press));
  g_signal_connect (self, "notify::focus-widget", G_CALLBACK (focus_cb), NULL);
  g_signal_connect_object (escape, "key-pressed", G_CALLBACK (escape_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), escape);
}
