/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-key-button.c — see app-key-button.h. */
#include "app/app-key-button.h"

#include <string.h>

gunichar
app_key_of (const char *label)
{
  const char *underscore = strchr (label, '_');

  return underscore != NULL ? g_unichar_tolower (g_utf8_get_char (underscore + 1)) : 0;
}

/* The first of them that is free, as a keeper would choose them; without one left there is no key. */
char *
app_key_label (const char *words, GString *taken)
{
  for (const char *at = words; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar letter = g_unichar_tolower (g_utf8_get_char (at));

      if (!g_unichar_isalnum (letter) || g_utf8_strchr (taken->str, -1, letter) != NULL)
        continue;
      g_string_append_unichar (taken, letter);
      return g_strdup_printf ("%.*s_%s", (int) (at - words), words, at);
    }
  return g_strdup (words);
}

char *
app_key_markup (const char *label)
{
  const char *underscore = strchr (label, '_');
  g_autofree char *before = NULL;
  g_autofree char *key = NULL;
  const char *rest;

  if (underscore == NULL)
    return g_markup_escape_text (label, -1);
  rest = g_utf8_next_char (underscore + 1);
  before = g_strndup (label, (gsize) (underscore - label));
  key = g_strndup (underscore + 1, (gsize) (rest - underscore - 1));
  return g_markup_printf_escaped ("%s<u>%s</u>%s", before, key, rest);
}

char *
app_key_plain (const char *label)
{
  g_auto (GStrv) parts = g_strsplit (label, "_", 2);

  return g_strjoinv ("", parts);
}

GtkWidget *
app_key_button_new (const char *label)
{
  g_autofree char *plain = app_key_plain (label);
  g_autofree char *markup = app_key_markup (label);
  GtkWidget *words = gtk_label_new (NULL);
  GtkWidget *button = gtk_button_new ();

  gtk_label_set_markup (GTK_LABEL (words), markup);
  gtk_button_set_child (GTK_BUTTON (button), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, plain, -1);
  return button;
}

GtkWidget *
app_key_flow_new (void)
{
  GtkWidget *flow = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 6);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 6);
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (flow), 3);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 13);
  gtk_widget_add_css_class (flow, "quick");
  return flow;
}
