/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-names.c — what the subject is called that an entry names. */
#include "desk/desk-private.h"

#include <string.h>

/* The settings whose value is a subject. */
static const char *const named_by_setting[] = {
  "lot", "within", "mother", "father", "eggcase", NULL
};

char *
desk_entry_names_subject (Desk *self, const CoreEntry *entry)
{
  static const CoreKey keys[] = { CORE_KEY_PLACE, CORE_KEY_WITH, CORE_KEY_PARTNER };
  g_autoptr (DeskSubject) subject = NULL;
  CoreId id = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (keys) && core_id_is_none (id); i++)
    id = core_entry_ref (entry, keys[i]);
  if (entry->kind == CORE_KIND_SET &&
      g_strv_contains (named_by_setting, core_entry_str (entry, CORE_KEY_KEY)) &&
      !core_id_from_text (core_entry_str (entry, CORE_KEY_VALUE), &id))
    return NULL;
  subject = core_id_is_none (id) ? NULL : desk_get (self, id);
  return subject != NULL && desk_subject_label (subject)[0] != '\0'
           ? g_strdup (desk_subject_label (subject))
           : NULL;
}
