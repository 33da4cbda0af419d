/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-home.c — where it stands, what was done around it, what was put off. */
#include "core/core-fold-private.h"

#include <math.h>

void
fold_misted (Fold *fold, const CoreEntry *entry)
{
  fold->state->misted = entry->day;
  fold->state->misted_entry = entry->id;
}

void
fold_watered (Fold *fold, const CoreEntry *entry)
{
  fold->state->watered = entry->day;
  fold->state->watered_entry = entry->id;
}

void
fold_cleaned (Fold *fold, const CoreEntry *entry)
{
  fold->state->cleaned = entry->day;
  fold->state->cleaned_entry = entry->id;
}

/* Moving the cup keeps its size; a new cup stays where the old one stood. */
void
fold_housed (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  CoreStay stay = { .at = NAN, .height_mm = NAN, .width_mm = NAN, .depth_mm = NAN };
  const CoreValue *place = core_entry_get (entry, CORE_KEY_PLACE);

  if (state->stays.n > 0)
    stay = state->stays.v[state->stays.n - 1];
  if (place != NULL)
    {
      stay.place = place->ref;
      stay.at = NAN;
    }
  /* A hatch that turned out to be later: the cup stood there, it lives in it since. */
  stay.day = state->hatched && state->hatched_earliest > entry->day ? state->hatched_earliest
                                                                   : entry->day;
  stay.entry = entry->id;
  stay.at = core_entry_num (entry, CORE_KEY_AT, stay.at);
  stay.height_mm = core_entry_num (entry, CORE_KEY_HEIGHT_MM, stay.height_mm);
  stay.width_mm = core_entry_num (entry, CORE_KEY_WIDTH_MM, stay.width_mm);
  stay.depth_mm = core_entry_num (entry, CORE_KEY_DEPTH_MM, stay.depth_mm);
  FOLD_PUSH (fold, state->stays, stay);
}

static CoreRuleMark
rule_mark (const CoreEntry *entry)
{
  CoreRuleMark mark = { .day = entry->day,
                        .until = (CoreDay) core_entry_num (entry, CORE_KEY_UNTIL, CORE_DAY_NONE),
                        .entry = entry->id };

  fold_copy_text (mark.rule, sizeof mark.rule, core_entry_str (entry, CORE_KEY_RULE));
  return mark;
}

void
fold_done (Fold *fold, const CoreEntry *entry)
{
  FOLD_PUSH (fold, fold->state->done, rule_mark (entry));
}

void
fold_put_off (Fold *fold, const CoreEntry *entry)
{
  FOLD_PUSH (fold, fold->state->put_off, rule_mark (entry));
}
