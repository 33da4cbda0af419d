/* SPDX-License-Identifier: GPL-3.0-or-later */
/* form-hands.c — see form-hands.h. */
#include "form-hands.h"

/* The field under a row's words; fails when there is none. */
GtkWidget *
form_field (GtkWindow *form, const char *words)
{
  GtkWidget *label = app_find_words (form, words);
  GtkWidget *widget;

  g_assert_nonnull (label);
  widget = gtk_label_get_mnemonic_widget (GTK_LABEL (label));
  g_assert_nonnull (widget);
  return widget;
}

void
form_type (GtkWindow *form, const char *words, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (form_field (form, words)), text);
}

const char *
form_typed (GtkWindow *form, const char *words)
{
  return gtk_editable_get_text (GTK_EDITABLE (form_field (form, words)));
}

void
form_choose (GtkWindow *form, const char *words, guint which)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (form_field (form, words)), which);
}

void
form_accept (GtkWindow *form)
{
  app_press (gtk_window_get_default_widget (form));
}

void
form_assert_fields_named (GtkWidget *at, guint *n)
{
  if (GTK_IS_ENTRY (at) || GTK_IS_DROP_DOWN (at))
    {
      g_assert_true (gtk_test_accessible_has_relation (GTK_ACCESSIBLE (at), GTK_ACCESSIBLE_RELATION_LABELLED_BY));
      (*n)++;
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL; child = gtk_widget_get_next_sibling (child))
    form_assert_fields_named (child, n);
}

/* Alt and that letter goes to one place: no letter stands twice, and the button that writes has one. */
static guint n_twice;

static void
gather_mnemonics (GtkWidget *at, GString *seen)
{
  guint key = GTK_IS_LABEL (at) ? gtk_label_get_mnemonic_keyval (GTK_LABEL (at)) : GDK_KEY_VoidSymbol;

  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (key));

  if (letter != 0)
    {
      g_test_message ("%s%s", g_utf8_strchr (seen->str, -1, letter) != NULL ? "twice: " : "",
                      gtk_label_get_label (GTK_LABEL (at)));
      n_twice += g_utf8_strchr (seen->str, -1, letter) != NULL;
      g_string_append_unichar (seen, letter);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL; child = gtk_widget_get_next_sibling (child))
    gather_mnemonics (child, seen);
}

void
form_assert_mnemonics (GtkWindow *form)
{
  g_autoptr (GString) seen = g_string_new (NULL);
  g_autoptr (GString) accept = g_string_new (NULL);

  n_twice = 0;
  gather_mnemonics (gtk_window_get_child (form), seen);
  g_assert_cmpuint (n_twice, ==, 0);
  gather_mnemonics (gtk_window_get_default_widget (form), accept);
  g_assert_cmpuint (g_utf8_strlen (accept->str, -1), ==, 1);
}

/* What the form says is wrong; "" nothing. */
const char *
form_problem (GtkWindow *form)
{
  for (GtkWidget *at = gtk_widget_get_first_child (gtk_window_get_child (form)); at != NULL;
       at = gtk_widget_get_next_sibling (at))
    if (GTK_IS_LABEL (at) && gtk_widget_get_visible (at))
      return gtk_label_get_text (GTK_LABEL (at));
  return "";
}

void
form_wait_closed (void)
{
  APP_WAIT (app_form_on_top () == NULL);
}

void
form_wait_problem (GtkWindow *form)
{
  APP_WAIT (form_problem (form)[0] != '\0');
  g_assert_true (app_form_on_top () == form);
  g_assert_true (gtk_widget_get_sensitive (gtk_window_get_default_widget (form)));
}
