/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-welcome-page.c — see app-welcome-page.h. */
#include "app/app-welcome-page.h"

#include <glib/gi18n.h>

#include "app/app-symbol.h"

static void
add_button (GtkWidget *box, const char *label, const char *action, gboolean main)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_set_halign (button, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request (button, 252, -1);
  if (main)
    gtk_widget_add_css_class (button, "suggested-action");
  gtk_box_append (GTK_BOX (box), button);
}

GtkWidget *
app_welcome_page_new (void)
{
  GtkWidget *clamp = adw_clamp_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *sign = app_symbol_new ("place", 72);
  GtkWidget *title = gtk_label_new (C_ ("welcome", "A care journal for praying mantises"));
  GtkWidget *words
    = gtk_label_new (C_ ("welcome", "After a round of the shelves, write down in a minute what happened. "
                                    "Mantidary works out each animal’s stage, forecasts its next moult as a range, "
                                    "and says what is due and why. Nothing leaves this computer."));

  gtk_widget_add_css_class (sign, "leaf");
  gtk_widget_add_css_class (title, "title");
  gtk_widget_add_css_class (words, "dim");
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_justify (GTK_LABEL (words), GTK_JUSTIFY_CENTER);
  gtk_label_set_max_width_chars (GTK_LABEL (words), 60);
  gtk_label_set_wrap (GTK_LABEL (title), TRUE);
  gtk_widget_set_margin_bottom (words, 18);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (box, "page");
  gtk_box_append (GTK_BOX (box), sign);
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), words);
  add_button (box, C_ ("welcome", "_Begin my own journal"), "win.new-journal", TRUE);
  add_button (box, C_ ("welcome", "_Open a journal…"), "win.open-journal", FALSE);
  add_button (box, C_ ("welcome", "Look at the _demo journal"), "win.demo-journal", FALSE);
  adw_clamp_set_maximum_size (ADW_CLAMP (clamp), 560);
  adw_clamp_set_child (ADW_CLAMP (clamp), box);
  return clamp;
}

GtkWidget *
app_opening_page_new (void)
{
  GtkWidget *words = gtk_label_new (C_ ("welcome", "Opening the journal…"));

  gtk_widget_add_css_class (words, "dim");
  return words;
}
