/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-doubt.c — see desk-doubt.h. */
#include "desk/desk-doubt.h"

#include <string.h>

#include "core/core-growth.h"
#include "desk/desk-private.h"

/* The entry as it would be; NULL where a pair is none of its kind: that is refused when it is written. */
static CoreEntry *
entry_of (Desk *self, const char *kind, const char *const *pairs)
{
  CoreKind of = core_kind_from_name (kind);
  CoreEntry *entry = of != CORE_KIND_NONE ? core_entry_new (of) : NULL;

  for (gsize i = 0; entry != NULL && pairs != NULL && pairs[i] != NULL; i++)
    if (!desk_value_set (self, entry, pairs[i], NULL))
      g_clear_pointer (&entry, core_entry_free);
  return entry;
}

static char *
doubt_length (const DeskSubject *subject, const CoreEntry *entry, DeskDoubt how, WordsLang lang)
{
  const CoreState *state = desk_subject_state (subject);
  gboolean any = how == DESK_DOUBT_IMPOSSIBLE || core_body_outgrown (state, desk_subject_forecast (subject));
  const CoreSexVerdict *verdict = desk_subject_verdict (subject);
  double mm = core_entry_num (entry, CORE_KEY_MM, 0), lo, hi;
  CoreDimension what = (CoreDimension) core_entry_code (entry, CORE_KEY_WHAT, CORE_DIM_BODY);

  if (desk_subject_profile (subject) == NULL ||
      !core_length_far (state, desk_subject_profile (subject), verdict->male, any, what, mm, &lo, &hi))
    return NULL;
  return words_doubt_length (lang, mm, lo, hi);
}

static gboolean
takes_out (const CoreEntry *entry)
{
  return entry->kind == CORE_KIND_DIED || entry->kind == CORE_KIND_LEFT ||
         entry->kind == CORE_KIND_ESCAPED;
}

char *
desk_doubt_before_count (Desk *self, CoreId lot, gint64 n, CoreDay day, WordsLang lang)
{
  g_autoptr (DeskSubject) of = desk_get (self, lot);
  const CoreTally *tally = of != NULL ? &desk_subject_state (of)->tally : NULL;
  WordsView view = { lang, self->today, desk_scheme (self) };

  if (tally == NULL || desk_subject_kind (of) != CORE_SUBJECT_LOT || n < 1 ||
      day == CORE_DAY_NONE || tally->first_count == CORE_DAY_NONE || day >= tally->first_count)
    return NULL;
  return words_doubt_before_count (&view, tally, n);
}

char *
desk_doubt_of_record (Desk *self,
                      CoreId subject,
                      const char *kind,
                      const char *const *pairs,
                      CoreDay day,
                      DeskDoubt how,
                      WordsLang lang)
{
  g_autoptr (DeskSubject) of = desk_get (self, subject);
  CoreEntry *entry = entry_of (self, kind, pairs);
  char *question = NULL;

  if (of != NULL && entry != NULL && entry->kind == CORE_KIND_MEASURED)
    question = doubt_length (of, entry, how, lang);
  else if (entry != NULL && how == DESK_DOUBT_SLIP && takes_out (entry))
    question = desk_doubt_before_count (self, subject,
                                        (gint64) core_entry_num (entry, CORE_KEY_N, 0), day, lang);
  core_entry_free (entry);
  return question;
}

char *
desk_doubt_of_mixed (Desk *self, CoreId a, CoreId b, WordsLang lang)
{
  g_autoptr (DeskSubject) one = desk_get (self, a);
  g_autoptr (DeskSubject) other = desk_get (self, b);

  if (one == NULL || other == NULL || desk_subject_state (one)->species[0] == '\0' ||
      desk_subject_state (other)->species[0] == '\0' ||
      strcmp (desk_subject_state (one)->species, desk_subject_state (other)->species) == 0)
    return NULL;
  return words_doubt_mixed (lang, desk_subject_state (one), desk_subject_profile (one), desk_subject_label (one),
                            desk_subject_state (other), desk_subject_profile (other), desk_subject_label (other));
}
