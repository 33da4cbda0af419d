/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-egg.c — egg cases: laid, hardened, hatching over several days, or a dud;
 * what a female laid; the start of a feeder culture.
 */
#include "core/core-fold-private.h"

void
fold_find_laying (Fold *fold)
{
  CoreEggState *egg = &fold->state->egg;

  if (fold->state->kind != CORE_SUBJECT_EGGCASE)
    return;
  for (size_t i = 0; i < fold->n; i++)
    {
      const CoreEntry *entry = fold->entries[i];

      if (entry->kind != CORE_KIND_LAID)
        continue;
      if (egg->laid_day != CORE_DAY_NONE)
        {
          fold_conflict (fold, CORE_CONFLICT_TWO_LAYINGS, entry->id, egg->laid_entry);
          fold->use[i] = FOLD_IGNORED;
          continue;
        }
      egg->laid_day = entry->day;
      egg->laid_earliest = entry->earliest != CORE_DAY_NONE && entry->earliest < entry->day
                             ? entry->earliest
                             : entry->day;
      egg->laid_entry = entry->id;
    }
  for (size_t i = 0; egg->laid_day != CORE_DAY_NONE && i < fold->n; i++)
    {
      const CoreEntry *entry = fold->entries[i];

      if (fold->use[i] == FOLD_IGNORED || entry->day >= egg->laid_earliest ||
          !fold_needs_life (entry->kind))
        continue;
      fold_conflict (fold, CORE_CONFLICT_BEFORE_LAID, entry->id, egg->laid_entry);
      fold->use[i] = FOLD_IGNORED;
    }
}

void
fold_laid (Fold *fold, const CoreEntry *entry)
{
  CoreLaying laying = { .day = entry->day,
                        .earliest = entry->earliest,
                        .series = (int) core_entry_num (entry, CORE_KEY_N, 0),
                        .eggcase = core_entry_ref (entry, CORE_KEY_WITH),
                        .entry = entry->id };

  if (fold->state->kind != CORE_SUBJECT_ANIMAL)
    return;
  /* By the day of laying, whenever it is entered; what is said of one holds for those after it. */
  if (laying.series <= 0)
    laying.series = fold->state->layings.n > 0 ? fold->state->layings.v[fold->state->layings.n - 1].series + 1 : 1;
  FOLD_PUSH (fold, fold->state->layings, laying);
  fold_settle_female (fold, entry);
}

void
fold_called (Fold *fold, const CoreEntry *entry)
{
  fold->state->called = entry->day;
  fold->state->called_entry = entry->id;
}

void
fold_hardened (Fold *fold, const CoreEntry *entry)
{
  if (fold->state->egg.hardened != CORE_DAY_NONE)
    return;
  fold->state->egg.hardened = entry->day;
  fold->state->egg.hardened_entry = entry->id;
}

void
fold_hatching (Fold *fold, const CoreEntry *entry)
{
  CoreEggState *egg = &fold->state->egg;
  CoreHatching hatching = { .day = entry->day,
                            .earliest = entry->earliest,
                            .n = (int64_t) core_entry_num (entry, CORE_KEY_N, -1),
                            .counted = core_entry_code (entry, CORE_KEY_COUNTED, 0) == 0,
                            .entry = entry->id };

  if (hatching.n > 0)
    egg->hatched += hatching.n;
  egg->hatched_about = egg->hatched_about || hatching.n < 0 || !hatching.counted;
  FOLD_PUSH (fold, egg->hatchings, hatching);
  fold_end_with (fold, entry, CORE_END_HATCHED);
}

void
fold_dud (Fold *fold, const CoreEntry *entry)
{
  fold_end_with (fold, entry, CORE_END_DUD);
}

void
fold_culture (Fold *fold, const CoreEntry *entry)
{
  CoreCultureState *culture = &fold->state->culture;

  if (culture->started != CORE_DAY_NONE)
    return;
  culture->prey = core_entry_code (entry, CORE_KEY_PREY, -1);
  culture->started = entry->day;
  culture->entry = entry->id;
}
