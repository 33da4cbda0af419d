/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-caution.c — see app-caution.h. */
#include "app/app-caution.h"

#include <glib/gi18n.h>

#include "words/words.h"

GtkWidget *
app_caution_new (void)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_WORD);
  gtk_widget_add_css_class (label, "dim");
  gtk_widget_add_css_class (label, "caption");
  gtk_widget_set_visible (label, FALSE);
  return label;
}

void
app_caution_set (GtkLabel *label, unsigned cautions)
{
  g_autofree char *text = words_caution_lines (WORDS_LOCAL, cautions);

  gtk_label_set_label (label, text);
  gtk_widget_set_visible (GTK_WIDGET (label), text[0] != '\0');
}
