/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-identity.c — which animal it is: doubts, and mix-ups that were put right.
 *
 * A doubt stands until a later entry decides it. While it stands, neither the start of the
 * stage nor what was read of the sex up to its day is taken for this animal's. A mix-up that
 * was put right leaves what was seen with its owner, by replacing entries; of the sex, what was
 * read in that span and written before it was put right waits for a second look.
 */
#include "core/core-fold-private.h"

static bool
decides (const CoreEntry *entry)
{
  return entry->kind == CORE_KIND_EXCHANGED ||
         (entry->kind == CORE_KIND_DOUBTFUL && core_entry_code (entry, CORE_KEY_OVER, 1) == 0);
}

static CoreDay
since_of (const CoreEntry *entry)
{
  return entry->earliest != CORE_DAY_NONE && entry->earliest < entry->day ? entry->earliest
                                                                          : entry->day;
}

/* Of two such entries of one day the one written later has the last word. */
static bool
after (const CoreEntry *a, const CoreEntry *b)
{
  return b == NULL || a->day > b->day ||
         (a->day == b->day && core_id_compare (a->id, b->id) > 0);
}

static void
add_doubt (Fold *fold, const CoreEntry *entry)
{
  CoreDay since = since_of (entry);

  if (fold->doubt == NULL || since < fold->doubt_since)
    fold->doubt_since = since;
  if (after (entry, fold->doubt))
    fold->doubt = entry;
}

void
fold_find_identity (Fold *fold)
{
  const CoreEntry *decision = NULL;

  for (size_t i = 0; i < fold->n; i++)
    {
      const CoreEntry *entry = fold->entries[i];

      if (fold->use[i] == FOLD_IGNORED)
        continue;
      if (entry->kind == CORE_KIND_EXCHANGED)
        FOLD_PUSH (fold, fold->mixed, (FoldMixed){ since_of (entry), entry->id });
      if (decides (entry) && after (entry, decision))
        decision = entry;
    }
  for (size_t i = 0; i < fold->n; i++)
    if (fold->use[i] != FOLD_IGNORED && fold->entries[i]->kind == CORE_KIND_DOUBTFUL &&
        !decides (fold->entries[i]) && after (fold->entries[i], decision))
      add_doubt (fold, fold->entries[i]);
}

void
fold_doubtful (Fold *fold, const CoreEntry *entry)
{
  if (entry != fold->doubt)
    return;
  fold->state->doubtful_since = fold->doubt_since;
  fold->state->doubtful_entry = entry->id;
  fold_unsure_stage (fold, entry);
}

/* A seller's word and descent were not read off the animal that stood there. */
static bool
read_off (const CoreSexReading *reading)
{
  return reading->from == CORE_KIND_MARKED ||
         (reading->from == CORE_KIND_SEXED && reading->method != CORE_METHOD_CLAIM &&
          reading->method != CORE_METHOD_DESCENT);
}

bool
fold_read_of_other (const Fold *fold, const CoreSexReading *reading)
{
  const CoreEntry *doubt = fold->doubt;

  if (doubt != NULL &&
      (reading->day < doubt->day ||
       (reading->day == doubt->day && core_id_compare (reading->entry, doubt->id) < 0)))
    return true;
  for (size_t i = 0; read_off (reading) && i < fold->mixed.n; i++)
    if (reading->day >= fold->mixed.v[i].since &&
        core_id_compare (reading->entry, fold->mixed.v[i].entry) < 0)
      return true;
  return false;
}
