/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-drop-down.c — see app-drop-down.h.
 *
 * GTK's list below a choice selects whatever the pointer is over, and Return takes what is selected:
 * a list that opens below a resting pointer would answer for the keeper. Here a row is selected by
 * keys alone, until a button is pressed on one. */
#include "app/app-drop-down.h"

/* Both on the drop-down: whether letters choose, and whether a button was pressed in its list. */
#define LETTERS "letters-choose"
#define PRESSED "pressed"

static GtkWidget *
inner (GtkWidget *at, GType type)
{
  GtkWidget *found = g_type_is_a (G_OBJECT_TYPE (at), type) ? at : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (at); found == NULL && child != NULL;
       child = gtk_widget_get_next_sibling (child))
    found = inner (child, type);
  return found;
}

static void
set_pressed (GtkDropDown *self, gboolean pressed)
{
  GtkListView *list = GTK_LIST_VIEW (inner (GTK_WIDGET (self), GTK_TYPE_LIST_VIEW));

  gtk_list_view_set_single_click_activate (list, pressed);
  g_object_set_data (G_OBJECT (self), PRESSED, GINT_TO_POINTER (pressed));
}

static void
shown_cb (GtkDropDown *self)
{
  set_pressed (self, FALSE);
}

static void
pressed_cb (GtkGestureClick *gesture, int n, double x, double y, GtkDropDown *self)
{
  set_pressed (self, TRUE);
}

/* The row that was clicked, which the pointer had not selected on its way. */
static void
activate_cb (GtkListView *list, guint row, GtkDropDown *self)
{
  if (g_object_get_data (G_OBJECT (self), PRESSED) != NULL)
    gtk_drop_down_set_selected (self, row);
}

static gboolean
begins_with (GtkDropDown *self, guint i, gunichar letter)
{
  g_autoptr (GObject) item = g_list_model_get_item (gtk_drop_down_get_model (self), i);
  const char *text = GTK_IS_STRING_OBJECT (item) ? gtk_string_object_get_string (GTK_STRING_OBJECT (item)) : "";

  return g_unichar_tolower (g_utf8_get_char (text)) == letter;
}

/* From the chosen one on, and round to the first again. */
static gboolean
choose_letter (GtkDropDown *self, gunichar letter)
{
  guint n = g_list_model_get_n_items (gtk_drop_down_get_model (self));
  guint now = gtk_drop_down_get_selected (self);

  for (guint i = 1; i <= n; i++)
    if (begins_with (self, (now + i) % n, letter))
      {
        gtk_drop_down_set_selected (self, (now + i) % n);
        return TRUE;
      }
  return FALSE;
}

static void
step (GtkDropDown *self, int by)
{
  guint n = g_list_model_get_n_items (gtk_drop_down_get_model (self));
  guint now = gtk_drop_down_get_selected (self);

  if (by > 0 && now + 1 < n)
    gtk_drop_down_set_selected (self, now + 1);
  else if (by < 0 && now > 0 && now < n)
    gtk_drop_down_set_selected (self, now - 1);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, GtkDropDown *self)
{
  GtkWidget *popover = inner (GTK_WIDGET (self), GTK_TYPE_POPOVER);
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || gtk_drop_down_get_model (self) == NULL)
    return GDK_EVENT_PROPAGATE;
  if (g_object_get_data (G_OBJECT (self), LETTERS) != NULL && g_unichar_isalpha (letter)
      && choose_letter (self, letter))
    {
      gtk_popover_popdown (GTK_POPOVER (popover)); /* chosen: the row of the keyboard is another one */
      return GDK_EVENT_STOP;
    }
  if (gtk_widget_get_visible (popover))
    return GDK_EVENT_PROPAGATE;
  switch (keyval)
    {
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up: step (self, -1); return GDK_EVENT_STOP;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down: step (self, 1); return GDK_EVENT_STOP;
    default: return GDK_EVENT_PROPAGATE;
    }
}

void
app_drop_down_mend (GtkDropDown *self, gboolean letters)
{
  GtkWidget *popover = inner (GTK_WIDGET (self), GTK_TYPE_POPOVER);
  GtkWidget *list = inner (GTK_WIDGET (self), GTK_TYPE_LIST_VIEW);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *press = gtk_gesture_click_new ();

  g_object_set_data (G_OBJECT (self), LETTERS, GINT_TO_POINTER (letters));
  set_pressed (self, FALSE);
  g_signal_connect_object (popover, "map", G_CALLBACK (shown_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (list, "activate", G_CALLBACK (activate_cb), self, 0);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (press), GTK_PHASE_CAPTURE);
  g_signal_connect_object (press, "pressed", G_CALLBACK (pressed_cb), self, 0);
  gtk_widget_add_controller (list, GTK_EVENT_CONTROLLER (press));
  /* Before GTK's own keys, which open the list on Down. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
