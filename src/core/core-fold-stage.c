/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-stage.c — hatch, arrival, moults, and how far that is counted.
 *
 * The stages are one unbroken chain. Where a moult must be missing (the keeper
 * or a seller names more moults than were entered) the chain starts anew in the
 * middle of a stage, with its number of moults as a distribution.
 */
#include "core/core-fold-private.h"
#include "core/core-inherit.h"

#include <math.h>
#include <string.h>

/* Ours: a number of moults said as such, each neighbour. */
#define SAID_SIDE .05
/* Ours: between a nymph and an adult a second moult went unseen. */
#define NYMPH_TWO .3
/* No mantis is adult after fewer moults; common practice, no source. */
#define FEWEST_TO_ADULT 4
/* Ours: which animal it is nobody knows; it may be a moult behind or ahead. */
#define UNSURE_SIDE .15
/* Ours: of two moults entered so near to each other, that it was two all the same. */
#define TWICE_TWO .1
/* Ours: an arrival so many days after the hatch cannot hide a first moult. */
#define NO_MOULT_DAYS 7

static bool
base_known (const Fold *fold)
{
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (fold->base[m] > 0)
      return true;
  return false;
}

static int
mode_of (const double p[CORE_MAX_MOULTS + 1])
{
  int best = -1;

  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (p[m] > 0 && (best < 0 || p[m] > p[best]))
      best = m;
  return best;
}

/* The base moved to the present stage; what passes the last row stays in it. */
static void
shifted_base (const Fold *fold, double p[CORE_MAX_MOULTS + 1])
{
  int steps = (int) fold->state->stages.n - 1 - fold->base_stage;

  steps = steps > 0 ? steps : 0;
  memset (p, 0, (CORE_MAX_MOULTS + 1) * sizeof *p);
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    p[m + steps < CORE_MAX_MOULTS ? m + steps : CORE_MAX_MOULTS] += fold->base[m];
}

/* With that chance one moult further than it says. */
static void
one_further (double p[CORE_MAX_MOULTS + 1], double chance)
{
  for (int m = CORE_MAX_MOULTS; m > 0; m--)
    p[m] = (m < CORE_MAX_MOULTS ? 1 - chance : 1) * p[m] + chance * p[m - 1];
  p[0] *= 1 - chance;
}

static void
set_base (Fold *fold, const double p[CORE_MAX_MOULTS + 1], CoreBasis basis)
{
  memcpy (fold->base, p, sizeof fold->base);
  fold->base_stage = (int) fold->state->stages.n - 1;
  fold->named = false;
  fold->state->basis = basis;
}

static void
push_stage (Fold *fold, CoreStartKind start, double lo, double hi, const CoreEntry *entry)
{
  CoreStage stage = { .start = start,
                      .lo = lo < hi ? lo : hi - 1,
                      .hi = hi,
                      .outcome = -1,
                      .found = entry->day,
                      .seen_day = CORE_DAY_NONE,
                      .entry = entry->id };

  FOLD_PUSH (fold, fold->state->stages, stage);
}

/* A new chain in the middle of a stage. The stage began after the start of the
 * chain given up, or after the hatch. What was seen of the stage stays. */
static void
restart (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  CoreStage last = { .seen_day = CORE_DAY_NONE };
  double lo = -INFINITY;

  if (state->stages.n > 0)
    {
      last = state->stages.v[state->stages.n - 1];
      lo = last.lo;
    }
  state->stages.n = 0;
  push_stage (fold, CORE_START_ACQUIRED, lo, fold_time (entry), entry);
  if (state->stages.n == 0)
    return;
  state->stages.v[0].seen = last.seen;
  state->stages.v[0].seen_day = last.seen_day;
  state->stages.v[0].seen_entry = last.seen_entry;
}

/* The entry by which it was last seen as sub-adult; none. */
static CoreId
subadult_entry (const CoreState *state)
{
  for (size_t i = state->stages.n; i > 0; i--)
    if (state->stages.v[i - 1].seen == CORE_SEEN_SUBADULT)
      return state->stages.v[i - 1].seen_entry;
  return (CoreId){ { 0 } };
}

/* The next moult of a sub-adult is its last: another after it, or a nymph, and one of the two is wrong. */
static void
subadult_conflict (Fold *fold, const CoreEntry *entry)
{
  fold_conflict (fold, CORE_CONFLICT_SUBADULT_MOULTED, entry->id, subadult_entry (fold->state));
}

/* So many moults, said on that day: is there time for them since the hatch? */
static void
check_pace (Fold *fold, const CoreEntry *entry, int moults)
{
  const CoreState *state = fold->state;

  if (state->hatched && moults > 0
      && (int64_t) entry->day - state->hatched_earliest < (int64_t) moults * CORE_MOULTS_APART)
    fold_conflict (fold, CORE_CONFLICT_YOUNG, entry->id, state->hatched_entry);
}

/* What the keeper saw the present stage to be; the last word counts. */
static void
see (Fold *fold, const CoreEntry *entry, CoreSeenStage seen)
{
  CoreState *state = fold->state;

  if (seen == CORE_SEEN_UNKNOWN)
    return;
  if (state->probably_adult && seen != CORE_SEEN_ADULT)
    subadult_conflict (fold, entry);
  if (seen == CORE_SEEN_SUBADULT)
    check_pace (fold, entry, FEWEST_TO_ADULT - 1);
  if (state->stages.n > 0)
    {
      state->stages.v[state->stages.n - 1].seen = seen;
      state->stages.v[state->stages.n - 1].seen_day = entry->day;
      state->stages.v[state->stages.n - 1].seen_entry = entry->id;
    }
  if (state->adult && !state->adult_claimed && seen != CORE_SEEN_ADULT)
    fold_conflict (fold, CORE_CONFLICT_ADULT_YOUNGER, entry->id, state->adult_entry);
  state->subadult = seen == CORE_SEEN_SUBADULT;
  state->probably_adult = false;
  if (seen == CORE_SEEN_ADULT && !state->adult)
    {
      state->adult_seen = entry->day;
      state->adult_entry = entry->id;
    }
  if (seen != CORE_SEEN_ADULT)
    {
      state->adult_seen = CORE_DAY_NONE;
      memset (&state->adult_entry, 0, sizeof state->adult_entry);
    }
  state->adult_claimed = seen == CORE_SEEN_ADULT && entry->kind == CORE_KIND_ACQUIRED &&
                         (!state->adult || state->adult_claimed);
  state->adult = seen == CORE_SEEN_ADULT;
}

void
fold_hatched (Fold *fold, const CoreEntry *entry)
{
  static const double at_hatch[CORE_MAX_MOULTS + 1] = { 1 };
  CoreState *state = fold->state;

  size_t before = state->stages.n;
  CoreStage hatch;

  push_stage (fold, CORE_START_HATCHED, state->hatched_earliest - 1., fold_time (entry), entry);
  if (state->stages.n == before)
    return;
  /* Found late, with entries between its earliest day and the day found. */
  hatch = state->stages.v[before];
  hatch.earliest_given = entry->earliest != CORE_DAY_NONE;
  if (before > 0 && state->stages.v[0].start == CORE_START_ACQUIRED)
    state->stages.n = before;
  else
    memmove (state->stages.v + 1, state->stages.v, before * sizeof hatch);
  state->stages.v[0] = hatch;
  set_base (fold, at_hatch, CORE_BASIS_COUNTED);
  fold->base_stage = 0;
}

/* Does what was entered reach to this arrival without a gap? */
static bool
documented (const Fold *fold, CoreDay day, int claimed)
{
  const CoreState *state = fold->state;
  double p[CORE_MAX_MOULTS + 1];

  if (state->basis != CORE_BASIS_COUNTED)
    return false;
  shifted_base (fold, p);
  if (claimed >= 0)
    return mode_of (p) == claimed;
  return state->stages.n > 1 || day - state->hatched_day <= NO_MOULT_DAYS;
}

static void
keep_claim (CoreState *state, const CoreEntry *entry)
{
  const char *words = core_entry_str (entry, CORE_KEY_STAGE);

  if (words[0] == '\0')
    return;
  fold_copy_text (state->claim_stage, sizeof state->claim_stage, words);
  state->claim_scheme = (int) core_entry_num (entry, CORE_KEY_SCHEME, 0);
}

void
fold_acquired (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  int moults = (int) core_entry_num (entry, CORE_KEY_MOULTS, -1);
  double p[CORE_MAX_MOULTS + 1];
  CoreSeenStage seen = CORE_SEEN_UNKNOWN;

  if (state->arrived)
    return;
  state->arrived = true;
  if (core_entry_code (entry, CORE_KEY_KNOWN, 0) == 0)
    state->acquired = entry->day;
  else
    state->here_day = entry->day;
  state->moved_in = core_entry_code (entry, CORE_KEY_MOVED_IN, 1) == 0;
  keep_claim (state, entry);
  if (state->moved_in && state->claim_stage[0] != '\0')
    fold->told_round = entry->round;
  (void) fold_claim (core_entry_str (entry, CORE_KEY_STAGE), state->claim_scheme, p, &seen);
  if (moults >= 0)
    fold_spread (moults, SAID_SIDE, p);
  check_pace (fold, entry, mode_of (p));
  if (!documented (fold, entry->day, mode_of (p)))
    {
      bool same_stage = state->stages.n > 0 && state->basis != CORE_BASIS_COUNTED;

      if (!same_stage)
        restart (fold, entry);
      if (state->stages.n > 0 && (!same_stage || mode_of (p) >= 0))
        set_base (fold, p, mode_of (p) >= 0 ? CORE_BASIS_ESTIMATED : CORE_BASIS_UNKNOWN);
      fold->named = mode_of (p) >= 0;
    }
  see (fold, entry, seen);
}

/* The evening after which the moult came: the day before the earliest that the
 * keeper gave, else the last look before it was found, never before the start of
 * the stage that it ended. */
static double
window_start (const Fold *fold, const CoreEntry *entry, double hi, bool *given)
{
  const CoreState *state = fold->state;
  const CoreStage *previous = core_state_stage_now (state);
  bool happening =
    entry->kind == CORE_KIND_MOULTED && core_entry_code (entry, CORE_KEY_SEEN, 1) == 0;
  CoreDay earliest = happening ? entry->day : entry->earliest;
  double floor_lo = -INFINITY, lo;

  if (previous != NULL)
    floor_lo = previous->start == CORE_START_ACQUIRED ? previous->hi : previous->lo;
  *given = earliest != CORE_DAY_NONE;
  lo = *given ? (earliest < entry->day ? earliest : entry->day) - 1. : fold_look_before (fold, hi);
  return lo > floor_lo ? lo : floor_lo;
}

static const CoreAhead none_ahead = { .first = CORE_DAY_NONE, .day = CORE_DAY_NONE };

/* Have all moulted, whichever were taken out since? */
static bool
all_moulted (const CoreState *state)
{
  const CoreTally *tally = &state->tally;

  return tally->known && tally->counted && tally->count > 0 &&
         state->ahead.n - state->ahead.out >= tally->count;
}

/* The later of two was written knowing of the other, and said to be another. */
static bool
said_sure (const CoreEntry *a, const CoreEntry *b)
{
  return core_entry_code (core_id_compare (a->id, b->id) > 0 ? a : b, CORE_KEY_SURE, 1) == 0;
}

/* What the desk refuses, of a lot: as many on the same day, or more in few days than it holds. One
 * moult that two copies of the journal found; the larger number counts. */
static bool
some_again (Fold *fold, const CoreEntry *entry, int64_t n)
{
  CoreState *state = fold->state;
  CoreAhead *ahead = &state->ahead;
  const CoreTally *tally = &state->tally;
  bool same = ahead->first == entry->day && ahead->day == entry->day && ahead->n == n;
  bool more = tally->known && tally->counted && ahead->n - ahead->out + n > tally->count &&
              (int64_t) entry->day - ahead->first < CORE_MOULTS_APART;

  if (ahead->n == 0 || fold->some == NULL || entry->bulk || (!same && !more) || said_sure (entry, fold->some))
    return false;
  fold_conflict (fold, CORE_CONFLICT_TWO_MOULTS, entry->id, fold->some->id);
  ahead->n = n > ahead->n ? n : ahead->n;
  return true;
}

/* Some of a lot moulted: its stage is that of the others until all have. FALSE for the moult of all,
 * with *first: the day of the first of them, where they moulted on several. */
static bool
some_moulted (Fold *fold, const CoreEntry *entry, CoreDay *first)
{
  CoreState *state = fold->state;
  CoreAhead *ahead = &state->ahead;
  int64_t n = (int64_t) core_entry_num (entry, CORE_KEY_N, 0);

  if (state->kind != CORE_SUBJECT_LOT)
    return false;
  if (n > 0 && some_again (fold, entry, n))
    return true;
  if (n > 0)
    {
      fold->some = entry;
      if (ahead->n == 0)
        ahead->first = entry->day;
      ahead->n += n;
      /* Of the lot that this one was split off: how many of them came along nobody knows, or it was told. */
      ahead->out += entry->bulk && core_entry_code (entry, CORE_KEY_SURE, 1) != 0 ? n : 0;
      ahead->day = entry->day;
      ahead->entry = entry->id;
      if (!all_moulted (state))
        return true;
    }
  *first = ahead->first;
  n = n > 0 ? ahead->n - ahead->out - state->tally.count : 0;
  *ahead = none_ahead;
  if (n > 0) /* of those that moulted twice */
    *ahead = (CoreAhead){ .n = n, .first = entry->day, .day = entry->day, .entry = entry->id };
  return false;
}

/* Some of the lot that it came from had moulted: this one as likely as not (ours). */
static void
perhaps_moulted (Fold *fold, const CoreEntry *entry)
{
  double p[CORE_MAX_MOULTS + 1];
  bool known = base_known (fold);

  shifted_base (fold, p);
  one_further (p, .5);
  restart (fold, entry);
  if (fold->state->stages.n > 0)
    set_base (fold, p, known ? CORE_BASIS_ESTIMATED : CORE_BASIS_UNKNOWN);
}

/* Counted only after they moulted, on the same day: all of them have. */
static void
finish_ahead (Fold *fold)
{
  CoreState *state = fold->state;
  const CoreAhead ahead = state->ahead;

  if (state->kind != CORE_SUBJECT_LOT || state->adult || ahead.n == 0 || !all_moulted (state))
    return;
  for (size_t i = 0; i < fold->n; i++)
    if (core_id_equal (fold->entries[i]->id, ahead.entry))
      {
        push_stage (fold, CORE_START_MOULTED, ahead.first - 1., fold_time (fold->entries[i]), fold->entries[i]);
        state->ahead = none_ahead;
        return;
      }
}

/* What the desk refuses: it was written after the other, and nobody said that it is sure. */
static bool
same_moult (const Fold *fold, const CoreEntry *entry)
{
  const CoreEntry *before = fold->moult;

  if (before == NULL || (int64_t) entry->day - before->day >= CORE_MOULTS_APART)
    return false;
  /* Of a lot: as a whole, both times. Of a part of one it may be some, and then the rest. */
  if (fold->state->kind == CORE_SUBJECT_LOT)
    return !entry->bulk && core_entry_get (entry, CORE_KEY_N) == NULL && core_entry_get (before, CORE_KEY_N) == NULL &&
           !said_sure (entry, before);
  return entry->day == before->day || !said_sure (entry, before);
}

/* One skin that two copies of the journal found: what the other says of it is added, the moult is
 * not. Nobody can be sure of that, nor of the number from here on. */
static void
moulted_again (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  CoreStage *now = state->stages.n > 0 ? &state->stages.v[state->stages.n - 1] : NULL;
  int outcome = core_entry_code (entry, CORE_KEY_OUTCOME, -1);
  bool named = fold->named;
  double p[CORE_MAX_MOULTS + 1];

  fold_conflict (fold, CORE_CONFLICT_TWO_MOULTS, entry->id, fold->moult->id);
  if (now != NULL && core_id_equal (now->entry, fold->moult->id) && outcome > now->outcome &&
      now->outcome <= CORE_MOULT_GOOD)
    now->outcome = outcome;
  if (!state->adult && now != NULL && base_known (fold))
    {
      shifted_base (fold, p);
      one_further (p, TWICE_TWO);
      set_base (fold, p, CORE_BASIS_ESTIMATED);
      fold->named = named;
    }
  /* One skin found twice, or the first a mistake: the moult may have been as late as the second says. */
  if (!state->adult && now != NULL && core_id_equal (now->entry, fold->moult->id) && now->hi < fold_time (entry))
    now->hi = fold_time (entry);
  /* Whichever of the two it was, signs between them were of the moult that is over. */
  state->signs.n = 0;
  fold->refusals.n = 0;
  see (fold, entry, (CoreSeenStage) (core_entry_code (entry, CORE_KEY_TO, -1) + 1));
}

void
fold_moulted (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  double hi = fold_time (entry), lo;
  size_t before = state->stages.n;
  bool given, was_subadult = state->subadult;
  CoreDay first = CORE_DAY_NONE;

  if (some_moulted (fold, entry, &first))
    return;
  if (state->kind == CORE_SUBJECT_ANIMAL && core_entry_of_some (entry))
    {
      perhaps_moulted (fold, entry);
      return;
    }
  /* What an animal has from its lot, or all of a shelf, is no moult entered of it (see core_check). */
  if (state->kind != CORE_SUBJECT_ANIMAL || !entry->bulk)
    FOLD_PUSH (fold, state->moult_days, entry->day);
  if (same_moult (fold, entry))
    {
      moulted_again (fold, entry);
      return;
    }
  fold->moult = entry;
  if (state->adult)
    {
      fold_conflict (fold, CORE_CONFLICT_ADULT_MOULTED, entry->id, state->adult_entry);
      return;
    }
  if (state->probably_adult)
    subadult_conflict (fold, entry);
  lo = window_start (fold, entry, hi, &given);
  if (first != CORE_DAY_NONE && first - 1. < lo)
    lo = first - 1.;
  push_stage (fold, CORE_START_MOULTED, lo, hi, entry);
  if (state->stages.n == before)
    return;
  if (!core_id_is_none (fold->told_round) && core_id_equal (fold->told_round, entry->round))
    fold->base_stage = (int) before; /* the stage of today, moult and all */
  state->stages.v[before].earliest_given = given;
  state->stages.v[before].outcome = core_entry_code (entry, CORE_KEY_OUTCOME, -1);
  state->stages.v[before].seen_happening = core_entry_code (entry, CORE_KEY_SEEN, 1) == 0;
  state->stages.v[before].of_lot = entry->bulk;
  fold->of_lot = fold->of_lot || entry->bulk;
  state->subadult = false;
  state->probably_adult = was_subadult;
  state->signs.n = 0;
  fold->refusals.n = 0;
  see (fold, entry, (CoreSeenStage) (core_entry_code (entry, CORE_KEY_TO, -1) + 1));
}

/* Seen as adult in a stage that was seen to be younger: between the two it moulted, once,
 * or from a nymph perhaps twice. */
static void
unseen_moult (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  const CoreStage *now = core_state_stage_now (state);
  size_t before = state->stages.n;
  double hi = fold_time (entry), lo, p[CORE_MAX_MOULTS + 1];
  bool given, nymph;

  if (now == NULL || state->adult || entry->day <= now->seen_day ||
      (now->seen != CORE_SEEN_NYMPH && now->seen != CORE_SEEN_SUBADULT))
    return;
  nymph = now->seen == CORE_SEEN_NYMPH;
  lo = window_start (fold, entry, hi, &given);
  push_stage (fold, CORE_START_MOULTED, lo, hi, entry);
  if (state->stages.n == before)
    return;
  state->stages.v[before].earliest_given = given;
  state->signs.n = 0;
  fold->refusals.n = 0;
  if (!base_known (fold))
    return;
  shifted_base (fold, p);
  if (nymph)
    one_further (p, NYMPH_TWO);
  set_base (fold, p, CORE_BASIS_ESTIMATED);
}

/* Two lots of neighbouring stages became one: told is the lower of the two, and as many as the others
 * were are a moult ahead. What came out of it later has that from it (core-inherit.c). */
void
fold_mix_stage (Fold *fold, const CoreEntry *joined, double share)
{
  const CoreEntry *told = fold->told;
  double p[CORE_MAX_MOULTS + 1] = { 0 };
  int moults;

  if (told == NULL || core_id_is_none (joined->round) || !core_id_equal (told->round, joined->round))
    return;
  moults = (int) core_entry_num (told, CORE_KEY_MOULTS, 0);
  if (joined->bulk) /* a copy: it was in one of the two */
    share = fmin (core_entry_num (joined, CORE_KEY_N, CORE_JOINED_ALL / 2) / CORE_JOINED_ALL, 1);
  else
    share = moults < fold->told_before ? share : 1 - share; /* that is of the lower stage */
  p[moults] = share;
  p[moults < CORE_MAX_MOULTS ? moults + 1 : moults] += 1 - share;
  restart (fold, told);
  if (fold->state->stages.n > 0)
    set_base (fold, p, CORE_BASIS_ESTIMATED);
  fold->named = true;
}

void
fold_stage (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  int moults = (int) core_entry_num (entry, CORE_KEY_MOULTS, -1);
  CoreSeenStage seen = (CoreSeenStage) (core_entry_code (entry, CORE_KEY_SEEN, -1) + 1);

  if (seen == CORE_SEEN_ADULT)
    unseen_moult (fold, entry);
  if (moults >= 0)
    {
      double now[CORE_MAX_MOULTS + 1], p[CORE_MAX_MOULTS + 1];
      bool counted = state->basis == CORE_BASIS_COUNTED;

      shifted_base (fold, now);
      fold_spread (moults, SAID_SIDE, p);
      check_pace (fold, entry, moults);
      fold->told = entry;
      fold->told_before = mode_of (now);
      if (state->stages.n == 0 || (counted && mode_of (now) != moults))
        restart (fold, entry);
      if (state->stages.n > 0 && !(counted && mode_of (now) == moults))
        set_base (fold, p, CORE_BASIS_ESTIMATED);
      fold->named = true;
      fold->of_lot = false;
      state->ahead = none_ahead;
    }
  see (fold, entry, seen);
}

/* Adult, or about to be, too early by the moults entered: some must be missing, nobody knows how many.
 * What the keeper said of their number stands, with its doubt. */
static bool
moults_missing (Fold *fold)
{
  CoreState *state = fold->state;
  int fewest = state->adult ? FEWEST_TO_ADULT : state->subadult ? FEWEST_TO_ADULT - 1 : 0;
  CoreId seen = state->adult ? state->adult_entry : subadult_entry (state);

  if (fewest == 0 || fold->named || mode_of (state->moults_p) >= fewest)
    return false;
  if (!state->adult && mode_of (state->moults_p) < 0)
    return false; /* nobody said of any */
  memset (state->moults_p, 0, sizeof state->moults_p);
  state->basis = CORE_BASIS_UNKNOWN;
  fold_conflict (fold, CORE_CONFLICT_FEW_MOULTS, seen, seen);
  return true;
}

/* Each number of moults gives a part of its chance to its neighbours. */
static void
blur (double p[CORE_MAX_MOULTS + 1])
{
  double sharp[CORE_MAX_MOULTS + 1];

  memcpy (sharp, p, sizeof sharp);
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    p[m] = (1 - 2 * UNSURE_SIDE) * sharp[m] + UNSURE_SIDE * sharp[m > 0 ? m - 1 : m] +
           UNSURE_SIDE * sharp[m < CORE_MAX_MOULTS ? m + 1 : m];
}

void
fold_unsure_stage (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  double p[CORE_MAX_MOULTS + 1];
  bool known = base_known (fold);

  if (state->stages.n == 0)
    return;
  shifted_base (fold, p);
  blur (p);
  restart (fold, entry);
  if (state->stages.n == 0)
    return;
  state->stages.v[0].lo = -INFINITY;
  set_base (fold, p, known ? CORE_BASIS_ESTIMATED : CORE_BASIS_UNKNOWN);
}

void
fold_finish_stage (Fold *fold)
{
  CoreState *state = fold->state;

  finish_ahead (fold);
  if (state->stages.n == 0 || !base_known (fold))
    {
      state->basis = CORE_BASIS_UNKNOWN;
      return;
    }
  /* Its lot had moulted so often; nobody saw it of this one. */
  if (fold->of_lot && state->kind == CORE_SUBJECT_ANIMAL)
    state->basis = CORE_BASIS_ESTIMATED;
  shifted_base (fold, state->moults_p);
  if (moults_missing (fold))
    return;
  state->moults = mode_of (state->moults_p);
  state->moults_sd = core_moults_sd (state->moults_p);
}

int
fold_stage_on (const Fold *fold, CoreDay day)
{
  const CoreState *state = fold->state;
  int index = -1;

  for (size_t i = 0; i < state->stages.n && state->stages.v[i].hi <= day; i++)
    index = (int) i;
  return index;
}
