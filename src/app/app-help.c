/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-help.c — see app-help.h. All sentences come from words. */
#include "app/app-help.h"

#include <glib/gi18n.h>

#include "app/app-application.h"
#include "words/words.h"

static GtkWidget *
prose (const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_selectable (GTK_LABEL (label), FALSE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 68);
  if (css != NULL)
    gtk_widget_add_css_class (label, css);
  return label;
}

static GtkWidget *
page_new (GtkWidget **box, const char *title, const char *under)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();
  GtkWidget *clamp = adw_clamp_new ();
  GtkWidget *heading = prose (title, "title");

  *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (*box, "page");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  adw_clamp_set_maximum_size (ADW_CLAMP (clamp), 640);
  adw_clamp_set_child (ADW_CLAMP (clamp), *box);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), clamp);
  /* So that arrow keys and Page Down scroll it without a mouse. */
  gtk_widget_set_focusable (scroller, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (scroller), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_box_append (GTK_BOX (*box), heading);
  if (under != NULL)
    gtk_box_append (GTK_BOX (*box), prose (under, "dim"));
  return scroller;
}

static void
add_paragraph (GtkWidget *box, const WordsParagraph *paragraph)
{
  GtkWidget *title = prose (paragraph->title, "strong");

  gtk_widget_set_margin_top (title, 12);
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), prose (paragraph->body, NULL));
}

/* The button has its letter and no focus: the words begin at the top, with the keys on them. */
GtkWidget *
app_help_emergency_page (void)
{
  GtkWidget *box, *print;
  GtkWidget *page = page_new (&box, C_ ("help", "Emergency: what to do now"), NULL);
  gsize n;
  const WordsParagraph *paragraphs = words_emergency (WORDS_LOCAL, &n);

  for (gsize i = 0; i < n; i++)
    add_paragraph (box, &paragraphs[i]);
  print = gtk_button_new_with_mnemonic (C_ ("help", "_Print it on one page…"));
  gtk_widget_set_focusable (print, FALSE);
  gtk_widget_set_halign (print, GTK_ALIGN_START);
  gtk_widget_set_margin_top (print, 12);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (print), "win.print-emergency");
  gtk_box_append (GTK_BOX (box), print);
  return page;
}

void
app_help_about (AppWindow *window)
{
  Desk *desk = app_window_get_desk (window);
  g_autofree char *where = NULL;
  GtkWidget *about;

  where = desk != NULL ? g_strdup_printf (C_ ("about", "Your journal lies in %s. The menu has its backups."),
                                          desk_dir (desk))
                       : g_strdup (C_ ("about", "No journal is open."));
  about = g_object_new (ADW_TYPE_ABOUT_WINDOW, "transient-for", window, "modal", TRUE, "application-name", "Mantidary",
                        "application-icon", APP_ID, "version", MANTIDARY_VERSION, "comments", where, "developer-name", where,
                        "license-type", GTK_LICENSE_GPL_3_0, "title", C_ ("about", "About Mantidary"), NULL);
  gtk_window_present (GTK_WINDOW (about));
}
