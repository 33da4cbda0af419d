/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-check.c — may this entry be written now?
 *
 * The state must be folded without the entry that a replacement takes out, or a
 * corrected hatch, moult or death would stand in its own way.
 */
#include "core/core-fold-private.h"
#include "core/core-lot.h"

#define OLDEST_DAYS 18263 /* 50 years */

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

/* Something was done with the living animal before that day. */
static bool
lived_before (const CoreState *state, CoreDay day)
{
  return (state->looks.n > 0 && state->looks.v[0].day < day) ||
         (state->meals.n > 0 && state->meals.v[0].day < day) ||
         (state->stages.n > 0 && state->stages.v[0].found < day) ||
         (state->acquired != CORE_DAY_NONE && state->acquired < day);
}

static CoreRefusal
check_beginning (const CoreState *state, const CoreEntry *entry)
{
  if (entry->kind == CORE_KIND_HATCHED)
    {
      if (state->hatched)
        return CORE_REFUSE_ALREADY_HATCHED;
      return lived_before (state, entry->day) ? CORE_REFUSE_BEFORE_HATCH : CORE_REFUSE_NOTHING;
    }
  if (!state->hatched || !fold_needs_life (entry->kind))
    return CORE_REFUSE_NOTHING;
  return entry->day < state->hatched_earliest ? CORE_REFUSE_BEFORE_HATCH : CORE_REFUSE_NOTHING;
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
      return state->looks.n > 0 &&
                 state->looks.v[0].day < entry->day
               ? CORE_REFUSE_BEFORE_LAID
               : CORE_REFUSE_NOTHING;
    }
  return egg->laid_day != CORE_DAY_NONE && entry->day < egg->laid_earliest
           ? CORE_REFUSE_BEFORE_LAID
           : CORE_REFUSE_NOTHING;
}

/* Never more out of a lot than it holds, never more back than went. */
static CoreRefusal
check_tally (const CoreState *state, const CoreEntry *entry)
{
  int64_t n = (int64_t) core_entry_num (entry, CORE_KEY_N, 0), available;

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

static CoreRefusal
check_end (const CoreState *state, const CoreEntry *entry)
{
  bool some = state->kind == CORE_SUBJECT_LOT && core_entry_is_tally (entry);
  bool returns = !some && (entry->kind == CORE_KIND_FOUND || entry->kind == CORE_KIND_BACK);
  bool gone = state->end == CORE_END_ESCAPED || state->end == CORE_END_LEFT;

  if (state->end == CORE_END_NONE)
    return returns ? CORE_REFUSE_NOT_ENDED : CORE_REFUSE_NOTHING;
  if (refills (state, entry))
    return CORE_REFUSE_NOTHING;
  if (gone && returns)
    return entry->day < state->end_day ? CORE_REFUSE_NOT_ENDED : CORE_REFUSE_NOTHING;
  if (gone && entry->kind == CORE_KIND_DIED)
    return entry->day < state->end_day ? CORE_REFUSE_AFTER_END : CORE_REFUSE_NOTHING;
  if (returns || fold_ends (state->kind, entry))
    return CORE_REFUSE_AFTER_END;
  return entry->day > state->end_day && fold_needs_life (entry->kind) ? CORE_REFUSE_AFTER_END
                                                                      : CORE_REFUSE_NOTHING;
}

static CoreRefusal
check_stage (const CoreState *state, const CoreEntry *entry)
{
  bool sign = entry->kind == CORE_KIND_SIGN;

  if (state->adult && entry->day >= state->adult_seen && (sign || entry->kind == CORE_KIND_MOULTED))
    return CORE_REFUSE_ADULT_MOULTS;
  if (sign && core_entry_code (entry, CORE_KEY_SIGN, -1) == CORE_SIGN_PADS && !state->subadult &&
      state->kind == CORE_SUBJECT_ANIMAL)
    {
      const CoreStage *now = core_state_stage_now (state);

      /* In an earlier stage it may have been sub-adult: the fold will tell. */
      if (now == NULL || entry->day > now->lo)
        return CORE_REFUSE_PADS_NOT_SUBADULT;
    }
  return CORE_REFUSE_NOTHING;
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
    refusal = check_settled (state, entry);
  return refusal;
}
