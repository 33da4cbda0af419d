/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-fasting.c — see app-fasting.h. */
#include "app/app-fasting.h"

#include <glib/gi18n.h>

#include "app/app-symbol.h"
#include "app/app-widgets.h"

static const char *
symbol_of (CoreFastingAnswer answer)
{
  return answer == CORE_FASTING_MOULT_LIKELY || answer == CORE_FASTING_JUST_MOULTED || answer == CORE_FASTING_RESTING
           ? "leave"
           : "look";
}

/* A word and what it says, side by side. */
static void
add_line (GtkBox *box, const char *head, const char *text)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkLabel *left = app_text (row, head, "strong");
  GtkLabel *right = app_text (row, text, NULL);

  gtk_label_set_wrap (left, FALSE);
  gtk_widget_set_valign (GTK_WIDGET (left), GTK_ALIGN_START);
  gtk_widget_set_hexpand (GTK_WIDGET (right), TRUE);
  gtk_box_append (box, row);
}

static void
add_head (GtkBox *box, CoreFastingAnswer answer, const char *text)
{
  const char *css = answer == CORE_FASTING_HUNGRY ? "trouble" : "strong";
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 9);
  GtkWidget *symbol = app_symbol_new (symbol_of (answer), 18);
  GtkLabel *label;

  gtk_widget_add_css_class (symbol, css);
  gtk_widget_set_valign (symbol, GTK_ALIGN_START);
  gtk_widget_set_margin_top (symbol, 3);
  gtk_box_append (GTK_BOX (row), symbol);
  label = app_text (row, text, css);
  gtk_widget_add_css_class (GTK_WIDGET (label), "title");
  gtk_box_append (box, row);
}

void
app_fasting_add (GtkBox *box, const WordsView *view, DeskSubject *subject)
{
  CoreFasting fasting = desk_subject_fasting (subject);
  g_auto (WordsFasting) words = words_fasting (view, &fasting);

  if (fasting.answer == CORE_FASTING_NONE)
    return;
  add_head (box, fasting.answer, words.answer);
  add_line (box, C_ ("fasting", "Do:"), words.todo);
}

void
app_fasting_fill (GtkBox *box, const WordsView *view, DeskSubject *subject)
{
  CoreFasting fasting = desk_subject_fasting (subject);
  g_auto (WordsFasting) words = words_fasting (view, &fasting);

  app_box_empty (box);
  gtk_widget_set_visible (GTK_WIDGET (box), fasting.answer != CORE_FASTING_NONE);
  if (fasting.answer == CORE_FASTING_NONE)
    return;
  add_head (box, fasting.answer, words.answer);
  app_text (GTK_WIDGET (box), words.because, "dim");
  add_line (box, C_ ("fasting", "Do:"), words.todo);
  add_line (box, C_ ("fasting", "Not:"), words.avoid);
}
