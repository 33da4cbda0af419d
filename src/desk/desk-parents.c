/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-parents.c — can the animal that an entry names be the mother, or the father?
 *
 * Only what is known speaks against it: a firm sex, a kind, a female of ours that was never seen
 * adult. What nobody entered excludes nothing. */
#include "desk/desk-private.h"

#include <string.h>

/* What the operation sets, else what stands in the journal; NULL none. */
static const char *
setting_of (DeskOp *op, CoreId subject, const char *key)
{
  const DeskRecord *record = desk_collection_record (&op->desk->all, subject);

  for (guint i = op->entries->len; i > 0; i--)
    {
      const CoreEntry *entry = op->entries->pdata[i - 1];

      if (entry->kind == CORE_KIND_SET && core_id_equal (entry->subject, subject) &&
          strcmp (core_entry_str (entry, CORE_KEY_KEY), key) == 0)
        return core_entry_str (entry, CORE_KEY_VALUE);
    }
  if (record == NULL || record->now == NULL)
    return NULL;
  if (strcmp (key, "species") == 0)
    return desk_subject_state (record->now)->species;
  return core_state_setting (desk_subject_state (record->now), key);
}

static gboolean
known_kind (const char *species)
{
  return species != NULL && species[0] != '\0' && strcmp (species, "unknown") != 0;
}

static gboolean
other_kind (DeskOp *op, CoreId child, const CoreState *parent)
{
  const char *species = setting_of (op, child, "species");

  return known_kind (species) && known_kind (parent->species) && strcmp (species, parent->species) != 0;
}

/* A nymph of ours as far as the journal tells, up to this day. */
static gboolean
never_adult (const CoreState *parent)
{
  return !parent->adult && !parent->probably_adult && parent->stages.n > 0;
}

gboolean
desk_parent_check (DeskOp *op, const CoreEntry *set, GError **error)
{
  gboolean mother = strcmp (core_entry_str (set, CORE_KEY_KEY), "mother") == 0;
  gboolean father = strcmp (core_entry_str (set, CORE_KEY_KEY), "father") == 0;
  const char *value = core_entry_str (set, CORE_KEY_VALUE);
  const DeskRecord *record = NULL;
  const CoreState *parent;
  CoreVerdictWord sex;
  int problem = -1;
  CoreId id;

  if (set->kind == CORE_KIND_SET && (mother || father) && core_id_from_text (value, &id))
    record = desk_collection_record (&op->desk->all, id);
  if (record == NULL || record->now == NULL)
    return TRUE;
  parent = desk_subject_state (record->now);
  sex = desk_subject_verdict (record->now)->verdict;
  if (sex == (mother ? CORE_VERDICT_FIRM_MALE : CORE_VERDICT_FIRM_FEMALE))
    problem = mother ? WORDS_DESK_MOTHER_MALE : WORDS_DESK_FATHER_FEMALE;
  else if (g_strcmp0 (setting_of (op, set->subject, mother ? "father" : "mother"), value) == 0)
    problem = WORDS_DESK_BOTH_PARENTS;
  else if (other_kind (op, set->subject, parent))
    problem = WORDS_DESK_PARENT_KIND;
  else if (mother && never_adult (parent))
    problem = WORDS_DESK_MOTHER_NYMPH;
  if (problem >= 0)
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, (WordsDeskProblem) problem, desk_subject_label (record->now), NULL);
  return problem < 0;
}
