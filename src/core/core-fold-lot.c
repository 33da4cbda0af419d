/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-lot.c — how many a lot holds.
 *
 * The books balance at every moment (see CoreTally): what goes out of the count goes
 * into a pile of its own. A recount says what is there now; what is missed then was
 * lost unseen, which is neither a death nor an error. The count is never negative: of a
 * counted lot taking out more is a conflict, of an estimated one it shows that the
 * estimate was low.
 */
#include "core/core-fold-private.h"

static const int64_t MOST = 100000; /* of one entry, by the table of kinds */

static int64_t
number_of (const CoreEntry *entry)
{
  double n = core_entry_num (entry, CORE_KEY_N, 0);

  return n >= 0 && n <= MOST ? (int64_t) n : 0;
}

static bool
says_counted (const CoreEntry *entry)
{
  return core_entry_code (entry, CORE_KEY_COUNTED, 0) == 0;
}

static bool
is_lot (const Fold *fold)
{
  return fold->state->kind == CORE_SUBJECT_LOT;
}

static void
note_step (Fold *fold, const CoreEntry *entry, int64_t change, bool about)
{
  CoreTally *tally = &fold->state->tally;
  CoreTallyStep step = { .day = entry->day,
                         .kind = entry->kind,
                         .known = tally->known,
                         .counted = tally->counted,
                         .about = about,
                         .change = change,
                         .count = tally->count,
                         .entry = entry->id };

  FOLD_PUSH (fold, fold->state->steps, step);
}

/* Of those that moulted before the others some may have gone, or as many as is told. */
static void
take_ahead (CoreAhead *ahead, const CoreEntry *entry, int64_t n)
{
  int64_t moulted = (int64_t) core_entry_num (entry, CORE_KEY_MOULTED, -1);

  if (ahead->n == 0)
    return;
  if (moulted < 0)
    ahead->out += n;
  else if (moulted < ahead->n)
    ahead->n -= moulted;
  else
    *ahead = (CoreAhead){ .first = CORE_DAY_NONE, .day = CORE_DAY_NONE };
}

/* Out of the count, into the pile. Before the first count it was there at the beginning. */
static void
take (Fold *fold, const CoreEntry *entry, int64_t n, int64_t *pile)
{
  CoreTally *tally = &fold->state->tally;
  int64_t more = n - tally->count;

  *pile += n;
  take_ahead (&fold->state->ahead, entry, n);
  if (!tally->known)
    tally->began += n;
  else if (more > 0)
    {
      if (tally->counted)
        {
          tally->missing += more;
          fold_conflict (fold, CORE_CONFLICT_TALLY, entry->id, tally->count_entry);
        }
      else
        tally->found_more += more;
      tally->count = 0;
    }
  else
    tally->count -= n;
  note_step (fold, entry, -n, false);
}

/* Back from a pile; more than lay on it were found. */
static void
put_back (Fold *fold, const CoreEntry *entry, int64_t n, int64_t *pile)
{
  CoreTally *tally = &fold->state->tally;
  int64_t known = n < *pile ? n : *pile;

  *pile -= known;
  tally->found_more += n - known;
  if (tally->known)
    tally->count += n;
  else
    tally->began -= n;
  note_step (fold, entry, n, false);
}

/* The first count is of a day after the beginning: what began is what was there then, with those
 * that are known to be gone before it, and nobody knows of others. */
static bool
is_derived (const CoreState *state, CoreDay counted)
{
  CoreDay begin = state->acquired != CORE_DAY_NONE ? state->acquired : state->hatched_day;

  return state->tally.began != 0 || (begin != CORE_DAY_NONE && begin < counted);
}

void
fold_recounted (Fold *fold, const CoreEntry *entry)
{
  CoreTally *tally = &fold->state->tally;
  int64_t n = number_of (entry), change = tally->known ? n - tally->count : 0;
  bool counted = says_counted (entry);
  bool about = tally->known && !(tally->counted && counted) && change != 0;

  if (!tally->known)
    {
      tally->began_derived = is_derived (fold->state, entry->day);
      tally->began += n;
      tally->began_about = !counted;
      tally->first_count = entry->day;
    }
  else if (change < 0)
    tally->lost_unseen -= change;
  else
    {
      /* What was missed at a recount before, and is there after all, was not lost. */
      int64_t again = change < tally->lost_unseen ? change : tally->lost_unseen;

      tally->lost_unseen -= again;
      tally->found_more += change - again;
    }
  tally->lost_about = tally->lost_about || about;
  tally->known = true;
  tally->counted = counted;
  tally->count = n;
  tally->count_day = entry->day;
  tally->count_entry = entry->id;
  note_step (fold, entry, change, about);
}

/* Of an egg case: young put into a lot. Of a lot: singles, or a part of it, or all of it
 * into another lot. */
void
fold_split (Fold *fold, const CoreEntry *entry)
{
  CoreTally *tally = &fold->state->tally;
  bool to_lot = !core_id_is_none (core_entry_ref (entry, CORE_KEY_WITH));

  if (fold->state->kind == CORE_SUBJECT_EGGCASE)
    fold->state->egg.in_lots += number_of (entry);
  if (!is_lot (fold))
    return;
  if (core_entry_get (entry, CORE_KEY_N) != NULL)
    {
      take (fold, entry, number_of (entry), to_lot ? &tally->split_off : &tally->separated);
      return;
    }
  take (fold, entry, tally->count, &tally->split_off);
  fold_end_with (fold, entry, CORE_END_JOINED);
}

void
fold_joined (Fold *fold, const CoreEntry *entry)
{
  CoreTally *tally = &fold->state->tally;
  int64_t n = number_of (entry);

  if (entry->bulk) /* of the lot that this one came from: its count is another */
    {
      fold_mix_stage (fold, entry, 0);
      return;
    }
  if (!is_lot (fold))
    return;
  tally->joined_in += n;
  fold_mix_stage (fold, entry, n > 0 && tally->known ? (double) n / (double) (n + tally->count) : .5);
  if (tally->known)
    tally->count += n;
  else
    tally->began -= n;
  if (core_entry_get (entry, CORE_KEY_N) == NULL || !says_counted (entry))
    tally->counted = false;
  note_step (fold, entry, n, false);
}

static int64_t *
pile_of (CoreTally *tally, CoreKind kind)
{
  switch ((int) kind)
    {
    case CORE_KIND_LEFT:
    case CORE_KIND_BACK:
      return &tally->left;
    case CORE_KIND_ESCAPED:
    case CORE_KIND_FOUND:
      return &tally->escaped;
    default:
      return &tally->dead;
    }
}

void
fold_tally_out (Fold *fold, const CoreEntry *entry)
{
  CoreTally *tally = &fold->state->tally;
  bool some = core_entry_get (entry, CORE_KEY_N) != NULL;

  if (!is_lot (fold))
    return;
  if (!some && fold->state->end != CORE_END_NONE)
    {
      /* What had left, or escaped, has died. */
      int64_t *pile = fold->state->end == CORE_END_LEFT ? &tally->left : &tally->escaped;

      tally->dead += tally->gone;
      *pile -= tally->gone;
      tally->gone = 0;
      return;
    }
  tally->gone = some ? tally->gone : tally->count;
  take (fold, entry, some ? number_of (entry) : tally->count, pile_of (tally, entry->kind));
}

void
fold_tally_in (Fold *fold, const CoreEntry *entry)
{
  CoreTally *tally = &fold->state->tally;
  bool some = core_entry_get (entry, CORE_KEY_N) != NULL;
  int64_t *pile = fold->state->end == CORE_END_LEFT ? &tally->left : &tally->escaped;

  if (!is_lot (fold))
    return;
  put_back (fold, entry, some ? number_of (entry) : tally->gone,
            some ? pile_of (tally, entry->kind) : pile);
  tally->gone = some ? tally->gone : 0;
}

/* A counted lot with none left is no more; an estimated one is to be counted first. */
void
fold_finish_tally (Fold *fold)
{
  CoreState *state = fold->state;
  const CoreTally *tally = &state->tally;

  if (!is_lot (fold) || state->end != CORE_END_NONE || !tally->known || !tally->counted ||
      tally->count > 0 || state->steps.n == 0)
    return;
  state->end = CORE_END_EMPTY;
  state->end_day = state->steps.v[state->steps.n - 1].day;
  state->end_entry = state->steps.v[state->steps.n - 1].entry;
}
