/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-quick-meal.c — which prey, how many, and what it brings with it. */
#include <glib/gi18n.h>

#include "app/app-caution.h"
#include "app/app-drop-down.h"
#include "app/app-quick-private.h"
#include "app/app-view.h"

static void
fill_prey (AppQuick *self)
{
  GtkStringList *list = gtk_string_list_new (NULL);

  gtk_string_list_append (list, C_ ("journal", "prey not said"));
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    {
      g_autofree char *name = words_prey (WORDS_LOCAL, prey, 0);

      gtk_string_list_append (list, name);
    }
  self->prey = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (list), NULL));
  app_drop_down_mend (self->prey, FALSE); /* a letter journals */
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->prey), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("journal", "Prey"), -1);
  self->number = GTK_SPIN_BUTTON (gtk_spin_button_new_with_range (0, 50, 1));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->number), C_ ("journal", "How many; 0: not said"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->number), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("journal", "How many"), -1);
}

void
_app_quick_meal_refresh (AppQuick *self)
{
  int prey = (int) gtk_drop_down_get_selected (self->prey) - 1;
  unsigned cautions = self->desk != NULL && prey >= 0 ? desk_cautions_of_prey (self->desk, prey) : 0;

  app_caution_set (GTK_LABEL (self->caution), cautions);
}

void
_app_quick_meal_init (AppQuick *self, GtkWidget *label)
{
  GtkWidget *with = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 9);

  fill_prey (self);
  gtk_box_append (GTK_BOX (with), label);
  gtk_box_append (GTK_BOX (with), GTK_WIDGET (self->number));
  gtk_box_append (GTK_BOX (with), GTK_WIDGET (self->prey));
  gtk_box_append (GTK_BOX (self->outer), with);
  self->caution = app_caution_new ();
  gtk_box_append (GTK_BOX (self->outer), self->caution);
  g_signal_connect_object (self->prey, "notify::selected", G_CALLBACK (_app_quick_meal_refresh), self,
                           G_CONNECT_SWAPPED);
}

/* A meal in a cup that was to get none is written, and said. */
static char *
food_warning (AppQuick *self)
{
  const CoreHold *hold = &desk_subject_plan (self->subject)->hold;
  WordsView view = app_view (self->desk);
  g_autofree char *day = NULL;

  if (hold->kind == CORE_HOLD_NONE || hold->food_until == CORE_DAY_NONE || hold->food_until < view.today)
    return NULL;
  day = words_day (&view, hold->food_until, WORDS_DAY_SHORT);
  return g_strdup_printf (C_ ("journal", "It was to get no food up to %s."), day);
}

void
_app_quick_meal_record (AppQuick *self, const char *outcome)
{
  guint chosen = gtk_drop_down_get_selected (self->prey);
  int n = gtk_spin_button_get_value_as_int (self->number);
  const CoreKindKey *key = core_kind_key (CORE_KIND_FED, CORE_KEY_PREY);
  g_autofree char *what = g_strdup_printf ("outcome=%s", outcome);
  g_autofree char *prey = NULL;
  g_autofree char *number = n > 0 ? g_strdup_printf ("n=%d", n) : NULL;

  g_free (self->warning);
  self->warning = g_str_equal (outcome, "refused") ? NULL : food_warning (self);
  if (chosen > 0 && chosen <= CORE_N_PREY)
    prey = g_strdup_printf ("prey=%s", key->words[chosen - 1]);
  else
    g_clear_pointer (&number, g_free); /* a number of nothing says nothing */
  _app_quick_record (self, "fed", prey != NULL ? (const char *const[]){ what, prey, number, NULL } : (const char *const[]){ what, NULL });
}

/* What its feed task proposes; without one the prey stays "not said". */
static const CorePreyOffer *
proposed_prey (const DeskSubject *subject)
{
  const CorePlan *plan = desk_subject_plan (subject);

  for (size_t i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == CORE_TASK_FEED && plan->tasks.v[i].n_prey > 0)
      return &plan->tasks.v[i].prey[0];
  return NULL;
}

void
_app_quick_meal_propose (AppQuick *self)
{
  const CoreMeal *open = core_state_open_offer (desk_subject_state (self->subject), desk_today (self->desk));
  const CorePreyOffer *offer = proposed_prey (self->subject);
  int prey = open != NULL ? open->prey : offer != NULL ? offer->prey : -1;
  int n = open != NULL ? open->n : offer != NULL ? offer->n : 0;

  /* What is in there is what it ate or refused; only without that what is to come. */
  gtk_drop_down_set_selected (self->prey, (guint) (prey + 1));
  gtk_spin_button_set_value (self->number, n);
}
