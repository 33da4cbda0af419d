/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-body.c — signs of the present stage, belly, lengths, trouble. */
#include "core/core-fold-private.h"

#include <math.h>

/* Within a stage a length hardly changes; beyond this ratio one of two is wrong (ours). */
#define SAME_STAGE_RATIO 1.6

void
fold_sign (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  int sign = core_entry_code (entry, CORE_KEY_SIGN, -1);
  CoreSignSeen seen = { .sign = sign,
                        .first = entry->day,
                        .last = entry->day,
                        .prev_look = fold_look_before (fold, fold_time (entry)),
                        .times = 1,
                        .entry = entry->id };

  if (sign < 0)
    return;
  if (state->adult)
    {
      fold_conflict (fold, CORE_CONFLICT_ADULT_MOULTED, entry->id, state->adult_entry);
      return;
    }
  if (sign == CORE_SIGN_REFUSES)
    {
      fold_refused (fold, entry);
      return;
    }
  for (size_t i = 0; i < state->signs.n; i++)
    if (state->signs.v[i].sign == sign)
      {
        state->signs.v[i].last = entry->day;
        state->signs.v[i].times++;
        return;
      }
  FOLD_PUSH (fold, state->signs, seen);
}

void
fold_belly (Fold *fold, const CoreEntry *entry)
{
  fold->state->belly = (int) core_entry_num (entry, CORE_KEY_SCORE, 0);
  fold->state->belly_day = entry->day;
  fold->state->belly_entry = entry->id;
}

void
fold_measured (Fold *fold, const CoreEntry *entry)
{
  CoreMeasure measure = { .day = entry->day,
                          .what = core_entry_code (entry, CORE_KEY_WHAT, -1),
                          .mm = core_entry_num (entry, CORE_KEY_MM, NAN),
                          .sd = core_entry_num (entry, CORE_KEY_SD, NAN),
                          .stage = -1,
                          .entry = entry->id };

  if (measure.what >= 0 && measure.mm > 0)
    FOLD_PUSH (fold, fold->state->measures, measure);
}

void
fold_trouble (Fold *fold, const CoreEntry *entry)
{
  CoreTroubleSeen trouble = { .what = core_entry_code (entry, CORE_KEY_WHAT, CORE_TROUBLE_OTHER),
                              .day = entry->day,
                              .entry = entry->id };

  FOLD_PUSH (fold, fold->state->troubles, trouble);
}

/* Each measure against the one before it of the same part and stage. */
static void
compare_measures (Fold *fold)
{
  const CoreState *state = fold->state;

  /* Of a lot they are of different ones. */
  for (size_t i = 1; i < state->measures.n && state->kind != CORE_SUBJECT_LOT; i++)
    for (size_t j = i; j-- > 0;)
      {
        const CoreMeasure *a = &state->measures.v[j], *b = &state->measures.v[i];

        if (a->what != b->what || a->stage != b->stage || b->stage < 0)
          continue;
        if (fmax (a->mm, b->mm) > SAME_STAGE_RATIO * fmin (a->mm, b->mm))
          fold_conflict (fold, CORE_CONFLICT_MEASURES, b->entry, a->entry);
        break;
      }
}

void
fold_finish_body (Fold *fold)
{
  CoreState *state = fold->state;

  for (size_t i = 0; i < state->measures.n; i++)
    state->measures.v[i].stage = fold_stage_on (fold, state->measures.v[i].day);
  compare_measures (fold);
}
