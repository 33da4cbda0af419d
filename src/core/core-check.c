/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-check.c — may this entry be written now?
 *
 * The state must be folded without the entry that a replacement takes out, or a
 * corrected hatch, moult or death would stand in its own way.
 */
#include "core/core-fold-private.h"
#include "core/core-lot.h"

#define OLDEST_DAYS 18263 /* 50 years */
#define LONGEST_PUT_OFF 366 /* days; ours: what nobody does for a year is no task of this animal */
/* No mantis is sub-adult or adult so few days after the hatch. Ours, far below what is known:
 * the published totals to adult begin near 50 days. */
#define YOUNGEST_SUBADULT 14
#define YOUNGEST_ADULT 30

/* Ours: no picture of a journal is older than this, and none of an animal that came from elsewhere by so
 * much older than its coming; a clock that was never set begins with 1970, 1980 or 2000. */
#define FIRST_PICTURE 10958      /* 2000-01-02 */
#define LONGEST_LIFE (4 * 366)

static CoreRefusal
check_days (const CoreEntry *entry, CoreDay today)
{
  if (entry->day > today)
    return CORE_REFUSE_FUTURE;
  if (entry->earliest != CORE_DAY_NONE && entry->earliest > entry->day)
    return CORE_REFUSE_EARLIEST_AFTER_DAY;
  if ((int64_t) today - entry->day > OLDEST_DAYS ||
      (entry->earliest != CORE_DAY_NONE && (int64_t) today - entry->earliest > OLDEST_DAYS))
    return CORE_REFUSE_TOO_OLD;
  return CORE_REFUSE_NOTHING;
}

CoreWrongDay
core_wrong_day (const CoreState *state, CoreDay taken, CoreDay today)
{
  if (taken > today)
    return CORE_WRONG_DAY_AHEAD;
  if (taken < FIRST_PICTURE)
    return CORE_WRONG_DAY_LONG_AGO;
  if (state == NULL)
    return CORE_WRONG_DAY_NONE;
  if (state->hatched && taken < state->hatched_earliest)
    return CORE_WRONG_DAY_HATCH;
  if (state->kind == CORE_SUBJECT_EGGCASE && state->egg.laid_day != CORE_DAY_NONE && taken < state->egg.laid_earliest)
    return CORE_WRONG_DAY_LAID;
  return state->acquired != CORE_DAY_NONE && taken < state->acquired - LONGEST_LIFE ? CORE_WRONG_DAY_LONG_AGO
                                                                                    : CORE_WRONG_DAY_NONE;
}

/* Something was done with the living animal before that day. */
static bool
lived_before (const CoreState *state, CoreDay day)
{
  for (size_t i = 0; i < state->stages.n; i++)
    if (state->stages.v[i].earliest_given && state->stages.v[i].lo + 1 < day)
      return true;
  return (state->looks.n > 0 && state->looks.v[0].day < day) ||
         (state->meals.n > 0 && state->meals.v[0].day < day) ||
         (state->stages.n > 0 && state->stages.v[0].found < day) ||
         (state->acquired != CORE_DAY_NONE && state->acquired < day);
}

/* Care and looks of ours, which nobody can have given before it came; what was moved in had been
 * kept here, its journal alone began that day. Meals, moults, lengths
 * and pictures of that time are what the giver told. */
static bool
is_own_care (CoreKind kind)
{
  return kind == CORE_KIND_LOOKED || kind == CORE_KIND_GONE || kind == CORE_KIND_DRANK ||
         kind == CORE_KIND_MISTED || kind == CORE_KIND_WATERED || kind == CORE_KIND_CLEANED ||
         kind == CORE_KIND_BELLY || kind == CORE_KIND_DONE;
}

/* What shows or measures the animal needs it hatched, dead or alive. */
static bool
needs_hatch (CoreKind kind)
{
  return fold_needs_life (kind) || kind == CORE_KIND_PHOTO || kind == CORE_KIND_MARKED ||
         kind == CORE_KIND_MEASURED || kind == CORE_KIND_SEXED;
}

static CoreRefusal
check_beginning (const CoreState *state, const CoreEntry *entry)
{
  CoreDay earliest = entry->earliest != CORE_DAY_NONE ? entry->earliest : entry->day;

  if (entry->kind == CORE_KIND_HATCHED)
    {
      if (state->hatched)
        return CORE_REFUSE_ALREADY_HATCHED;
      if (state->adult_seen != CORE_DAY_NONE && state->adult_seen - earliest < YOUNGEST_ADULT)
        return CORE_REFUSE_TOO_YOUNG;
      return lived_before (state, entry->day) ? CORE_REFUSE_BEFORE_HATCH : CORE_REFUSE_NOTHING;
    }
  if (state->acquired != CORE_DAY_NONE && !state->moved_in && entry->day < state->acquired &&
      is_own_care (entry->kind))
    return CORE_REFUSE_BEFORE_ARRIVAL;
  if (!state->hatched || !needs_hatch (entry->kind))
    return CORE_REFUSE_NOTHING;
  return entry->day < state->hatched_earliest || earliest < state->hatched_earliest
           ? CORE_REFUSE_BEFORE_HATCH
           : CORE_REFUSE_NOTHING;
}

/* On the day of the end only what is said to have been at a time of that day, and what
 * stands there already and is corrected. */
static bool
too_late (const CoreState *state, const CoreEntry *entry)
{
  if (!fold_needs_life (entry->kind) || entry->day < state->end_day)
    return false;
  /* Its hatchlings are put into a lot when there is time. */
  if (state->end == CORE_END_HATCHED && entry->kind == CORE_KIND_SPLIT)
    return false;
  return entry->day > state->end_day || (entry->minute < 0 && core_id_is_none (entry->names));
}

static CoreRefusal
check_laid (const CoreState *state, const CoreEntry *entry)
{
  const CoreEggState *egg = &state->egg;

  if (state->kind != CORE_SUBJECT_EGGCASE || !fold_needs_life (entry->kind))
    return CORE_REFUSE_NOTHING;
  if (entry->kind == CORE_KIND_LAID)
    {
      if (egg->laid_day != CORE_DAY_NONE)
        return CORE_REFUSE_ALREADY_LAID;
      return state->looks.n > 0 && state->looks.v[0].day < entry->day ? CORE_REFUSE_BEFORE_LAID
                                                                      : CORE_REFUSE_NOTHING;
    }
  if (entry->kind == CORE_KIND_DUD && egg->hatchings.n > 0)
    return CORE_REFUSE_HATCHED_DUD;
  return egg->laid_day != CORE_DAY_NONE && entry->day < egg->laid_earliest ? CORE_REFUSE_BEFORE_LAID
                                                                           : CORE_REFUSE_NOTHING;
}

/* One body is found, and all of the lot would be gone. Whoever sells a lot sells all of it. */
static bool
leaves_open_how_many (const CoreState *state, const CoreEntry *entry)
{
  return (entry->kind == CORE_KIND_DIED || entry->kind == CORE_KIND_ESCAPED) &&
         core_entry_get (entry, CORE_KEY_N) == NULL && state->end == CORE_END_NONE &&
         core_lot_held (state, entry->day) > 1;
}

/* Never more out of a lot than it holds, never more back than went. */
static CoreRefusal
check_tally (const CoreState *state, const CoreEntry *entry)
{
  int64_t n = (int64_t) core_entry_num (entry, CORE_KEY_N, 0), available;

  if (state->kind == CORE_SUBJECT_LOT && leaves_open_how_many (state, entry))
    return CORE_REFUSE_HOW_MANY;
  if (state->kind != CORE_SUBJECT_LOT || !core_entry_is_tally (entry) ||
      entry->kind == CORE_KIND_JOINED)
    return CORE_REFUSE_NOTHING;
  if (entry->kind == CORE_KIND_RECOUNTED)
    return n < core_lot_needed (state, entry->day) ? CORE_REFUSE_FEWER_THAN_TAKEN
                                                   : CORE_REFUSE_NOTHING;
  if (entry->kind == CORE_KIND_FOUND || entry->kind == CORE_KIND_BACK)
    return n > (entry->kind == CORE_KIND_FOUND ? state->tally.escaped : state->tally.left)
             ? CORE_REFUSE_NOT_ENDED
             : CORE_REFUSE_NOTHING;
  available = core_lot_available (state, entry->day);
  return available >= 0 && n > available ? CORE_REFUSE_MORE_THAN_COUNT : CORE_REFUSE_NOTHING;
}

/* A lot with none left goes on when it turns out that there are some. */
static bool
refills (const CoreState *state, const CoreEntry *entry)
{
  return state->end == CORE_END_EMPTY && core_entry_is_tally (entry);
}

/* Lent or escaped: what is told of that time is entered, and nothing else. */
static CoreRefusal
check_away (const CoreState *state, const CoreEntry *entry)
{
  bool escaped = state->end == CORE_END_ESCAPED;

  if (!too_late (state, entry) || fold_told_of_away (state->lent, escaped, entry))
    return CORE_REFUSE_NOTHING;
  return state->lent || escaped ? CORE_REFUSE_AWAY : CORE_REFUSE_AFTER_END;
}

static CoreRefusal
check_end (const CoreState *state, const CoreEntry *entry)
{
  bool some = state->kind == CORE_SUBJECT_LOT && core_entry_is_tally (entry);
  bool returns = !some && (entry->kind == CORE_KIND_FOUND || entry->kind == CORE_KIND_BACK);
  bool gone = state->end == CORE_END_ESCAPED || state->end == CORE_END_LEFT;
  bool ends = fold_ends (state->kind, entry);

  if (state->end == CORE_END_NONE && returns)
    return CORE_REFUSE_NOT_ENDED;
  if (state->end == CORE_END_NONE)
    return ends && state->alive_last != CORE_DAY_NONE && state->alive_last > entry->day
             ? CORE_REFUSE_LIVED_LATER
             : CORE_REFUSE_NOTHING;
  if (refills (state, entry))
    return CORE_REFUSE_NOTHING;
  if (gone && returns)
    return entry->day < state->end_day ? CORE_REFUSE_NOT_ENDED : CORE_REFUSE_NOTHING;
  if (gone && entry->kind == CORE_KIND_DIED)
    return entry->day < state->end_day ? CORE_REFUSE_AFTER_END : CORE_REFUSE_NOTHING;
  if (returns || ends)
    return CORE_REFUSE_AFTER_END;
  if (gone)
    return check_away (state, entry);
  return too_late (state, entry) ? CORE_REFUSE_AFTER_END : CORE_REFUSE_NOTHING;
}

/* The stage that an entry says was seen. */
static CoreSeenStage
seen_by (const CoreEntry *entry)
{
  CoreSeenStage seen = CORE_SEEN_UNKNOWN;

  if (entry->kind == CORE_KIND_MOULTED)
    return (CoreSeenStage) (core_entry_code (entry, CORE_KEY_TO, -1) + 1);
  if (entry->kind == CORE_KIND_STAGE)
    return (CoreSeenStage) (core_entry_code (entry, CORE_KEY_SEEN, -1) + 1);
  if (entry->kind == CORE_KIND_ACQUIRED)
    (void) core_stage_words (core_entry_str (entry, CORE_KEY_STAGE), &seen);
  return seen;
}

/* So few days apart none moults twice, but a wrong day is soon typed: it must be said to be sure. */
static bool
too_soon (const CoreEntry *entry, CoreDay moult)
{
  int64_t apart = (int64_t) entry->day - moult;

  return entry->kind == CORE_KIND_MOULTED && apart > -CORE_MOULTS_APART && apart < CORE_MOULTS_APART &&
         core_entry_code (entry, CORE_KEY_SURE, 1) != 0;
}

/* The same of a moult that was entered for all, unless it is said of one alone for its time in its lot:
 * then its own word counts. */
static bool
too_soon_for_all (const CoreState *state, const CoreEntry *entry)
{
  for (size_t i = 0; i < state->stages.n; i++)
    if (state->stages.v[i].of_lot && entry->day > state->lot_since &&
        too_soon (entry, (CoreDay) state->stages.v[i].hi))
      return true;
  return false;
}

/* An animal moults once a day at most, and not as an adult. */
static CoreRefusal
check_moults (const CoreState *state, const CoreEntry *entry)
{
  bool adult = seen_by (entry) == CORE_SEEN_ADULT;

  if (entry->kind == CORE_KIND_MOULTED &&
      (state->moult_days.n >= CORE_MAX_MOULTS || state->moults >= CORE_MAX_MOULTS))
    return CORE_REFUSE_MANY_MOULTS;
  if (too_soon_for_all (state, entry))
    return CORE_REFUSE_MOULT_SOON;
  for (size_t i = 0; i < state->moult_days.n; i++)
    {
      if (entry->kind == CORE_KIND_MOULTED && state->moult_days.v[i] == entry->day)
        return CORE_REFUSE_MOULT_TWICE;
      if (adult && state->moult_days.v[i] > entry->day)
        return CORE_REFUSE_LATER_MOULT;
      if (too_soon (entry, state->moult_days.v[i]))
        return CORE_REFUSE_MOULT_SOON;
    }
  for (size_t i = 0; i < state->stages.n; i++)
    {
      const CoreStage *stage = &state->stages.v[i];
      bool younger = stage->seen == CORE_SEEN_NYMPH || stage->seen == CORE_SEEN_SUBADULT;

      if (adult && younger && stage->seen_day > entry->day && entry->kind != CORE_KIND_ACQUIRED)
        return CORE_REFUSE_ADULT_YOUNGER;
    }
  return CORE_REFUSE_NOTHING;
}

/* No more of a lot moult than it holds, and none of them twice within few days. The same number twice
 * on one day is more likely one moult entered twice. */
static CoreRefusal
check_lot_moults (const CoreState *state, const CoreEntry *entry)
{
  const CoreAhead *ahead = &state->ahead;
  int64_t n = (int64_t) core_entry_num (entry, CORE_KEY_N, 0), held = core_lot_held (state, entry->day);

  if (entry->kind != CORE_KIND_MOULTED)
    return CORE_REFUSE_NOTHING;
  if (held >= 0 && n > held)
    return CORE_REFUSE_MORE_THAN_COUNT;
  for (size_t i = 0; i < state->moult_days.n; i++)
    if (too_soon (entry, state->moult_days.v[i]))
      return CORE_REFUSE_MOULT_SOON;
  if (n == 0 || ahead->n == 0 || core_entry_code (entry, CORE_KEY_SURE, 1) == 0)
    return CORE_REFUSE_NOTHING;
  if (ahead->first == entry->day && ahead->day == entry->day && ahead->n == n)
    return CORE_REFUSE_MOULT_OTHERS;
  return held >= 0 && ahead->n - ahead->out + n > held && too_soon (entry, ahead->first)
           ? CORE_REFUSE_MOULT_SOON
           : CORE_REFUSE_NOTHING;
}

static CoreRefusal
check_stage (const CoreState *state, const CoreEntry *entry)
{
  bool sign = entry->kind == CORE_KIND_SIGN;
  bool was_adult = state->adult && entry->day >= state->adult_seen;

  if (was_adult && (sign || entry->kind == CORE_KIND_MOULTED))
    return CORE_REFUSE_ADULT_MOULTS;
  if (was_adult && !state->adult_claimed && entry->kind == CORE_KIND_STAGE &&
      seen_by (entry) != CORE_SEEN_ADULT)
    return CORE_REFUSE_ADULT_YOUNGER;
  if (sign && core_entry_code (entry, CORE_KEY_SIGN, -1) == CORE_SIGN_PADS && !state->subadult &&
      state->kind == CORE_SUBJECT_ANIMAL)
    {
      const CoreStage *now = core_state_stage_now (state);

      /* In an earlier stage it may have been sub-adult: the fold will tell. */
      if (now == NULL || entry->day > now->lo)
        return CORE_REFUSE_PADS_NOT_SUBADULT;
    }
  if (state->kind == CORE_SUBJECT_LOT)
    return check_lot_moults (state, entry);
  return state->kind == CORE_SUBJECT_ANIMAL ? check_moults (state, entry) : CORE_REFUSE_NOTHING;
}

static CoreRefusal
check_age (const CoreState *state, const CoreEntry *entry)
{
  CoreSeenStage seen = seen_by (entry);
  int64_t days = state->hatched ? (int64_t) entry->day - state->hatched_earliest : INT32_MAX;

  return (seen == CORE_SEEN_ADULT && days < YOUNGEST_ADULT) ||
             (seen == CORE_SEEN_SUBADULT && days < YOUNGEST_SUBADULT)
           ? CORE_REFUSE_TOO_YOUNG
           : CORE_REFUSE_NOTHING;
}

/* How many died, left or escaped is a question only of a lot. */
static bool
counts_one (const CoreState *state, const CoreEntry *entry)
{
  bool some = entry->kind == CORE_KIND_DIED || entry->kind == CORE_KIND_LEFT ||
              entry->kind == CORE_KIND_ESCAPED || entry->kind == CORE_KIND_FOUND ||
              entry->kind == CORE_KIND_BACK ||
              (entry->kind == CORE_KIND_MOULTED && !core_entry_of_some (entry));

  return some && state->kind != CORE_SUBJECT_LOT && core_entry_num (entry, CORE_KEY_N, 1) != 1;
}

static CoreRefusal
check_put_off (const CoreEntry *entry)
{
  double until = core_entry_num (entry, CORE_KEY_UNTIL, CORE_DAY_NONE);

  if (until <= entry->day)
    return CORE_REFUSE_UNTIL_OVER;
  return until - entry->day > LONGEST_PUT_OFF ? CORE_REFUSE_UNTIL_FAR : CORE_REFUSE_NOTHING;
}

/* How cold it got where animals stand: no room "falls" to more, and none of a keeper is colder (ours). */
static bool
lowest_possible (double lowest)
{
  return lowest >= -30 && lowest <= 40;
}

/* Values that a single key cannot judge. */
static CoreRefusal
check_values (const CoreState *state, const CoreEntry *entry)
{
  const char *stage = core_entry_str (entry, CORE_KEY_STAGE);
  int scheme = (int) core_entry_num (entry, CORE_KEY_SCHEME, 0);
  int moults = (int) core_entry_num (entry, CORE_KEY_MOULTS, -1);

  if (entry->kind == CORE_KIND_ACQUIRED && stage[0] != '\0' && !core_stage_words (stage, NULL))
    return CORE_REFUSE_NO_STAGE;
  if (entry->kind == CORE_KIND_ACQUIRED && moults >= 0 && !core_stage_allows (stage, scheme, moults))
    return CORE_REFUSE_STAGE_MOULTS;
  if (entry->kind == CORE_KIND_PUT_OFF)
    return check_put_off (entry);
  if (counts_one (state, entry))
    return CORE_REFUSE_ONE_ANIMAL;
  if (entry->kind == CORE_KIND_READING && core_entry_get (entry, CORE_KEY_T) == NULL &&
      core_entry_get (entry, CORE_KEY_RH) == NULL)
    return CORE_REFUSE_READING_EMPTY;
  if (entry->kind == CORE_KIND_POWER && !lowest_possible (core_entry_num (entry, CORE_KEY_LOWEST, 0)))
    return CORE_REFUSE_POWER_LOWEST;
  return CORE_REFUSE_NOTHING;
}

/* A decision needs a doubt, not one that began later. */
static CoreRefusal
check_doubt (const CoreState *state, const CoreEntry *entry)
{
  if (entry->kind != CORE_KIND_DOUBTFUL || core_entry_code (entry, CORE_KEY_OVER, 1) != 0)
    return CORE_REFUSE_NOTHING;
  return state->doubtful_since != CORE_DAY_NONE && state->doubtful_since <= entry->day
           ? CORE_REFUSE_NOTHING
           : CORE_REFUSE_NOT_DOUBTFUL;
}

/* Only adults lay and mate. Who laid an egg case is told by the entry of the mother. */
static CoreRefusal
check_settled (const CoreState *state, const CoreEntry *entry)
{
  int method = core_entry_code (entry, CORE_KEY_METHOD, -1);

  bool laid = entry->kind == CORE_KIND_LAID && state->kind == CORE_SUBJECT_ANIMAL;

  if (!laid && (entry->kind != CORE_KIND_SEXED ||
                (method != CORE_METHOD_LAID && method != CORE_METHOD_JOINED)))
    return CORE_REFUSE_NOTHING;
  return state->adult && state->adult_seen <= entry->day ? CORE_REFUSE_NOTHING
                                                         : CORE_REFUSE_NOT_ADULT;
}

CoreRefusal
core_check (const CoreState *state, const CoreEntry *entry, CoreDay today)
{
  const CoreKindInfo *info = core_kind_info (entry->kind);
  CoreRefusal refusal;

  if (info == NULL || info->reserved)
    return CORE_REFUSE_RESERVED;
  if ((info->subjects & CORE_FOR (state->kind)) == 0)
    return CORE_REFUSE_WRONG_SUBJECT;
  if (entry->kind == CORE_KIND_VOID)
    return CORE_REFUSE_NOTHING;
  refusal = check_days (entry, today);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_values (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_beginning (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_laid (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_end (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_tally (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_stage (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_age (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_settled (state, entry);
  if (refusal == CORE_REFUSE_NOTHING)
    refusal = check_doubt (state, entry);
  return refusal;
}

/* A moult of which is said neither what it led to, nor that it surely was. */
static bool
unsure_moult (const CoreEntry *entry)
{
  return entry->kind == CORE_KIND_MOULTED && core_entry_code (entry, CORE_KEY_SURE, 1) != 0 &&
         core_entry_code (entry, CORE_KEY_TO, -1) < 0;
}

CoreRefusal
core_check_after (const CoreState *after, const CoreEntry *entry)
{
  for (size_t i = 0; i < after->conflicts.n; i++)
    {
      const CoreConflict *conflict = &after->conflicts.v[i];

      if (conflict->kind == CORE_CONFLICT_YOUNG && core_id_equal (conflict->other, entry->id))
        return CORE_REFUSE_TOO_YOUNG;
      if (!core_id_equal (conflict->entry, entry->id))
        continue;
      switch ((int) conflict->kind)
        {
        case CORE_CONFLICT_YOUNG:
          return CORE_REFUSE_TOO_YOUNG;
        case CORE_CONFLICT_SUBADULT_MOULTED:
          if (unsure_moult (entry))
            return CORE_REFUSE_MOULT_SUBADULT;
          break;
        case CORE_CONFLICT_AFTER_END:
          return after->end == CORE_END_NONE ? CORE_REFUSE_AWAY : CORE_REFUSE_AFTER_END;
        case CORE_CONFLICT_BEFORE_HATCH:
          return CORE_REFUSE_BEFORE_HATCH;
        case CORE_CONFLICT_ADULT_MOULTED:
          return CORE_REFUSE_ADULT_MOULTS;
        case CORE_CONFLICT_BEFORE_LAID:
          return CORE_REFUSE_BEFORE_LAID;
        default:
          break;
        }
    }
  return CORE_REFUSE_NOTHING;
}
