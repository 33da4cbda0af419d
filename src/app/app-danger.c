/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-danger.c — see app-danger.h. */
#include "app/app-danger.h"

#include <glib/gi18n.h>

#include "app/app-view.h"
#include "app/app-widgets.h"

static gboolean
says (const CoreTask *task, const char *rule)
{
  return task->emergency && task->n_reasons > 0 && g_str_equal (task->reasons[0].rule, rule);
}

gboolean
app_is_danger (const CoreTask *task)
{
  return says (task, "emergency.fell") || says (task, "emergency.stuck") || says (task, "emergency.vomit");
}

static void
add_row (GtkBox *box, const WordsView *view, const CoreTask *task)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *button = gtk_button_new_with_label (C_ ("danger", "Emergency words (Ctrl+E)"));
  g_autofree char *why = app_reasons_text (view, task->reasons, task->n_reasons);
  GtkLabel *words = app_text (row, why, "trouble");

  gtk_widget_add_css_class (GTK_WIDGET (words), "strong");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.emergency");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (row), button);
  gtk_box_append (box, row);
}

void
app_danger_add (GtkBox *box, const WordsView *view, const CorePlan *plan)
{
  for (size_t i = 0; i < plan->tasks.n; i++)
    if (app_is_danger (&plan->tasks.v[i]))
      add_row (box, view, &plan->tasks.v[i]);
}

const char *
app_danger_brief (const CorePlan *plan)
{
  for (size_t i = 0; i < plan->tasks.n; i++)
    {
      if (says (&plan->tasks.v[i], "emergency.fell"))
        return C_ ("cup", "fell: emergency");
      if (says (&plan->tasks.v[i], "emergency.stuck"))
        return C_ ("cup", "stuck: emergency");
      if (says (&plan->tasks.v[i], "emergency.vomit"))
        return C_ ("cup", "vomits: emergency");
    }
  return NULL;
}
