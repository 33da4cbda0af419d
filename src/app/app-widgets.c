/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-widgets.c — see app-widgets.h. */
#include "app/app-widgets.h"

GtkLabel *
app_text (GtkWidget *box, const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_WORD);
  if (css != NULL)
    gtk_widget_add_css_class (label, css);
  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

GtkLabel *
app_heading (GtkWidget *box, const char *text)
{
  GtkLabel *label = app_text (box, text, "dim");

  gtk_widget_set_margin_top (GTK_WIDGET (label), 12);
  return label;
}

void
app_hair (GtkWidget *box)
{
  GtkWidget *line = gtk_separator_new (GTK_ORIENTATION_HORIZONTAL);

  gtk_widget_add_css_class (line, "hair");
  gtk_widget_set_margin_top (line, 12);
  gtk_box_append (GTK_BOX (box), line);
}

void
app_box_empty (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}

#define DIGITS "takes-digits"

void
app_take_digits (GtkWidget *widget)
{
  g_object_set_data (G_OBJECT (widget), DIGITS, GINT_TO_POINTER (TRUE));
}

gboolean
app_takes_digits (GtkWidget *focus)
{
  while (focus != NULL && g_object_get_data (G_OBJECT (focus), DIGITS) == NULL)
    focus = gtk_widget_get_parent (focus);
  return focus != NULL;
}

void
app_unparent_all (gpointer widget)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (widget)) != NULL)
    gtk_widget_unparent (child);
}

void
app_template_dispose (GtkWidget *widget, GType type)
{
  gtk_widget_dispose_template (widget, type);
  app_unparent_all (widget);
}
