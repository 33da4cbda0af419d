/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-end.c — beginnings and ends, and what cannot be because of them.
 *
 * An entry dated before the hatch, or after the end, is reported and says
 * nothing more. On the day of the hatch and of the end everything may happen.
 */
#include "core/core-fold-private.h"

#include <stdlib.h>
#include <string.h>

bool
fold_needs_life (CoreKind kind)
{
  switch ((int) kind)
    {
    case CORE_KIND_SET:
    case CORE_KIND_NOTE:
    case CORE_KIND_PHOTO:
    case CORE_KIND_MARKED:
    case CORE_KIND_MEASURED:
    case CORE_KIND_SEXED:
    case CORE_KIND_DONE:
    case CORE_KIND_PUT_OFF:
    case CORE_KIND_EXCHANGED:
    case CORE_KIND_VOID:
      return false;
    default:
      return true;
    }
}

/* Of a lot some may die or leave; the lot goes on. */
bool
fold_ends (CoreSubjectKind subject, const CoreEntry *entry)
{
  bool some = subject != CORE_SUBJECT_ANIMAL && core_entry_get (entry, CORE_KEY_N) != NULL;

  switch ((int) entry->kind)
    {
    case CORE_KIND_DIED:
    case CORE_KIND_LEFT:
    case CORE_KIND_ESCAPED:
      return !some;
    case CORE_KIND_SPLIT:
      return subject == CORE_SUBJECT_LOT && !some;
    case CORE_KIND_HATCHING:
      return core_entry_code (entry, CORE_KEY_OVER, 1) == 0;
    case CORE_KIND_DUD:
      return true;
    default:
      return false;
    }
}

/* Of a lot some may come back, which brings back no other. */
static bool
is_return (const Fold *fold, const CoreEntry *entry)
{
  if (fold->state->kind == CORE_SUBJECT_LOT && core_entry_is_tally (entry))
    return false;
  return entry->kind == CORE_KIND_FOUND || entry->kind == CORE_KIND_BACK;
}

/* The hatch that counts: the first in order. */
static void
find_hatch (Fold *fold)
{
  CoreState *state = fold->state;

  for (size_t i = 0; i < fold->n; i++)
    {
      const CoreEntry *entry = fold->entries[i];

      if (entry->kind != CORE_KIND_HATCHED)
        continue;
      if (state->hatched)
        {
          fold_conflict (fold, CORE_CONFLICT_TWO_HATCHES, entry->id, state->hatched_entry);
          fold->use[i] = FOLD_IGNORED;
          continue;
        }
      state->hatched = true;
      state->hatched_day = entry->day;
      state->hatched_earliest = entry->earliest != CORE_DAY_NONE && entry->earliest < entry->day
                                  ? entry->earliest
                                  : entry->day;
      state->hatched_entry = entry->id;
    }
}

/* Went away or came back: of one moment these follow each other in turns. */
static bool
is_passage (const Fold *fold, const CoreEntry *entry)
{
  bool away = entry->kind == CORE_KIND_ESCAPED || entry->kind == CORE_KIND_LEFT;

  return is_return (fold, entry) || (away && fold_ends (fold->state->kind, entry));
}

/* Escaped, found and given away on one day without times: whoever is here can only go, whoever
 * is gone can only come back. From entry i on the passages of one moment are put in that order;
 * among equals the order of writing decides. */
static void
take_turns (Fold *fold, size_t i, bool here)
{
  size_t n = i;

  while (n < fold->n && is_passage (fold, fold->entries[n]) &&
         fold->entries[n]->day == fold->entries[i]->day &&
         fold->entries[n]->minute == fold->entries[i]->minute)
    n++;
  for (; i < n; i++, here = !here)
    {
      size_t best = n;

      for (size_t j = i; j < n; j++)
        if (is_return (fold, fold->entries[j]) != here &&
            (best == n || core_id_compare (fold->entries[j]->id, fold->entries[best]->id) < 0))
          best = j;
      if (best == n)
        return;
      const CoreEntry *next = fold->entries[best];

      memmove (fold->entries + i + 1, fold->entries + i, (best - i) * sizeof (CoreEntry *));
      fold->entries[i] = next;
    }
}

typedef struct
{
  const CoreEntry *end; /* NULL: alive and here */
  uint8_t *returns;     /* returns[i]: found or back on the day of entry i, at i or later */
} Walk;

bool
fold_told_of_away (bool lent, bool escaped, const CoreEntry *entry)
{
  bool told = core_entry_str (entry, CORE_KEY_SEEN_BY)[0] != '\0';

  if (escaped)
    return entry->kind == CORE_KIND_MOULTED && (told || core_entry_code (entry, CORE_KEY_SEEN, 0) == 1);
  return lent && told;
}

static bool
is_loan (const CoreEntry *entry)
{
  static const int lent = 3; /* the word's place in the table */

  return entry->kind == CORE_KIND_LEFT && core_entry_code (entry, CORE_KEY_HOW, -1) == lent;
}

/* What becomes of entry i when the subject has ended before it. */
static FoldUse
use_after_end (Fold *fold, Walk *walk, size_t i)
{
  const CoreEntry *entry = fold->entries[i];
  bool gone = walk->end->kind == CORE_KIND_LEFT || walk->end->kind == CORE_KIND_ESCAPED;

  /* Written for a whole shelf, when nobody knew yet: it says nothing of this one. */
  if (entry->bulk && fold_needs_life (entry->kind) && !walk->returns[i])
    return FOLD_IGNORED;

  if (!fold_needs_life (entry->kind))
    return entry->day > walk->end->day && !walk->returns[i] ? FOLD_NO_LOOK : FOLD_COUNTS;
  if (gone && is_return (fold, entry))
    {
      walk->end = NULL;
      return FOLD_COUNTS;
    }
  if (gone && entry->kind == CORE_KIND_DIED && fold_ends (fold->state->kind, entry))
    {
      walk->end = entry;
      return FOLD_COUNTS;
    }
  if (gone && entry->kind != CORE_KIND_ESCAPED && entry->kind != CORE_KIND_LEFT &&
      walk->returns[i])
    return FOLD_COUNTS;
  if (fold_told_of_away (is_loan (walk->end), walk->end->kind == CORE_KIND_ESCAPED, entry))
    return FOLD_NO_LOOK; /* no eye of the keeper's was on it */
  if (entry->kind == CORE_KIND_SPLIT && walk->end->kind == CORE_KIND_HATCHING)
    return FOLD_COUNTS; /* hatchlings of an egg case of which no more is awaited */
  fold_conflict (fold, CORE_CONFLICT_AFTER_END, entry->id, walk->end->id);
  return FOLD_IGNORED;
}

/* A homecoming counts at the end of its day, what was done that day before it. */
static void
mark_returns (const Fold *fold, uint8_t *returns)
{
  CoreDay day = CORE_DAY_NONE;

  for (size_t i = fold->n; i-- > 0;)
    {
      if (is_return (fold, fold->entries[i]))
        day = fold->entries[i]->day;
      returns[i] = day != CORE_DAY_NONE && fold->entries[i]->day == day;
    }
}

void
fold_decide_use (Fold *fold)
{
  CoreState *state = fold->state;
  Walk walk = { 0 };

  find_hatch (fold);
  fold_find_laying (fold);
  walk.returns = calloc (fold->n > 0 ? fold->n : 1, 1);
  if (walk.returns == NULL)
    {
      fold->no_memory = true;
      return;
    }
  mark_returns (fold, walk.returns);
  for (size_t i = 0; i < fold->n; i++)
    {
      const CoreEntry *entry = fold->entries[i];

      if (fold->use[i] == FOLD_IGNORED)
        continue;
      if (is_passage (fold, entry))
        {
          take_turns (fold, i, walk.end == NULL);
          entry = fold->entries[i];
        }
      if (state->hatched && entry->day < state->hatched_earliest &&
          fold_needs_life (entry->kind) && entry->kind != CORE_KIND_HOUSED)
        {
          fold_conflict (fold, CORE_CONFLICT_BEFORE_HATCH, entry->id, state->hatched_entry);
          fold->use[i] = FOLD_IGNORED;
        }
      else if (walk.end != NULL)
        fold->use[i] = (uint8_t) use_after_end (fold, &walk, i);
      else if (fold_ends (state->kind, entry))
        walk.end = entry;
    }
  free (walk.returns);
}

void
fold_end_with (Fold *fold, const CoreEntry *entry, CoreEnd end)
{
  if (!fold_ends (fold->state->kind, entry))
    return;
  fold->state->end = end;
  fold->state->end_day = entry->day;
  fold->state->end_entry = entry->id;
  fold->state->lent = false;
}

void
fold_died (Fold *fold, const CoreEntry *entry)
{
  fold_tally_out (fold, entry);
  fold_end_with (fold, entry, CORE_END_DIED);
}

void
fold_left (Fold *fold, const CoreEntry *entry)
{
  fold_tally_out (fold, entry);
  fold_end_with (fold, entry, CORE_END_LEFT);
  fold->state->lent = fold->state->end == CORE_END_LEFT && is_loan (entry);
}

void
fold_escaped (Fold *fold, const CoreEntry *entry)
{
  fold_tally_out (fold, entry);
  fold_end_with (fold, entry, CORE_END_ESCAPED);
}

void
fold_returned (Fold *fold, const CoreEntry *entry)
{
  static const CoreId none;
  CoreState *state = fold->state;
  bool some = state->kind == CORE_SUBJECT_LOT && core_entry_is_tally (entry);

  if (!some && state->end != CORE_END_ESCAPED && state->end != CORE_END_LEFT)
    return;
  fold_tally_in (fold, entry);
  if (some)
    return;
  state->end = CORE_END_NONE;
  state->end_day = CORE_DAY_NONE;
  state->end_entry = none;
  state->lent = false;
}

void
fold_looks_dead (Fold *fold, const CoreEntry *entry)
{
  fold->state->looks_dead = entry->day;
}
