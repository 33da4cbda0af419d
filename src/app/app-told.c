/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-told.c — see app-told.h. */
#include "app/app-told.h"

#include "app/app-widgets.h"
#include "words/words-told.h"

static void
add_row (GtkBox *box, const WordsTold *told)
{
  GtkWidget *row;
  GtkLabel *left, *right;
  g_autofree char *whole = NULL;

  if (told->head == NULL)
    return;
  row = g_object_new (GTK_TYPE_BOX, "accessible-role", GTK_ACCESSIBLE_ROLE_GROUP, "spacing", 6, NULL);
  left = app_text (row, told->head, "dim");
  right = app_text (row, told->text, NULL);
  gtk_widget_set_valign (GTK_WIDGET (left), GTK_ALIGN_START);
  gtk_widget_set_hexpand (GTK_WIDGET (right), TRUE);
  whole = g_strdup_printf ("%s %s", told->head, told->text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
  gtk_box_append (box, row);
}

/* Who gave it away, by the entry of its coming that counts; NULL = not said. */
static char *
giver_of (Desk *desk, DeskSubject *subject)
{
  g_autoptr (GPtrArray) history = desk_history (desk, desk_subject_id (subject), NULL);
  const CoreEntry *came = NULL;

  for (guint i = 0; history != NULL && i < history->len; i++) /* NULL: the timeline says why */
    {
      const CoreEntry *entry = g_ptr_array_index (history, i);

      if (entry->kind == CORE_KIND_ACQUIRED && desk_entry_is_live (desk, entry->id) &&
          (came == NULL || core_entry_compare (entry, came) > 0))
        came = entry;
    }
  return came != NULL ? g_strdup (core_entry_str (came, CORE_KEY_FROM)) : NULL;
}

static char *
label_of (Desk *desk, CoreId id)
{
  g_autoptr (DeskSubject) other = core_id_is_none (id) ? NULL : desk_get (desk, id);

  return other != NULL ? g_strdup (desk_subject_label (other)) : NULL;
}

static char *
named_by (Desk *desk, const CoreState *state, const char *key)
{
  const char *value = core_state_setting (state, key);
  CoreId id;

  return value != NULL && core_id_from_text (value, &id) ? label_of (desk, id) : NULL;
}

void
app_told_fill (GtkBox *box, const WordsView *view, Desk *desk, DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);
  g_autofree char *from = giver_of (desk, subject);
  g_autofree char *mother = named_by (desk, state, "mother");
  g_autofree char *father = named_by (desk, state, "father");
  g_autofree char *eggcase = named_by (desk, state, "eggcase");
  g_autofree char *lot = label_of (desk, state->lot);
  WordsKin kin = { mother, father, eggcase, lot, core_state_setting (state, "line") };
  g_auto (WordsTold) told = words_told (view, state, from);
  g_auto (WordsTold) descent = words_kin (view, &kin);
  g_auto (WordsTold) name = words_name_told (view, state);

  app_box_empty (box);
  add_row (box, &told);
  add_row (box, &descent);
  add_row (box, &name);
  gtk_widget_set_visible (GTK_WIDGET (box), gtk_widget_get_first_child (GTK_WIDGET (box)) != NULL);
}
