/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-trouble.c — which trouble is answered, and what waits until it is.
 *
 * Trouble never ends by the calendar: it is over when the keeper says so (done|rule=look, written
 * after it), or when what is entered later can only be so without it. What that is: ours.
 */
#include <math.h>

#include "core/core-rule.h"

/* Common practice, no source, and ours: what may be soft or hurt is not fed or opened for so long. */
static const int FELL_DAYS = 2, STUCK_FOOD_DAYS = 7;

/* Marked as seen to on a later day, or later on the same one. */
static bool
seen_to (const CoreState *s, CoreTaskKind kind, CoreDay day, CoreId entry)
{
  CoreId by = { { 0 } };
  CoreDay done = core_done_day (s, kind, &by);
  return done != CORE_DAY_NONE && (done > day || (done == day && core_id_compare (by, entry) > 0));
}

static bool
ate_since (const CoreState *s, CoreDay day)
{
  return s->last_taken != CORE_DAY_NONE && s->last_taken > day;
}

static bool
cleaned_since (const CoreState *s, const CoreTroubleSeen *t)
{
  return s->cleaned != CORE_DAY_NONE &&
         (s->cleaned > t->day ||
          (s->cleaned == t->day && core_id_compare (s->cleaned_entry, t->entry) > 0));
}

static bool
moulted_well_since (const CoreState *s, CoreDay day)
{
  const CoreStage *stage = core_state_stage_now (s);
  return stage && stage->start == CORE_START_MOULTED && stage->found > day &&
         stage->outcome != CORE_MOULT_STUCK && stage->outcome != CORE_MOULT_FELL;
}

/* One that eats is neither weak nor thin; a round belly is not thin; a clean cup has no mites; a
 * moult mends limbs. What eyes, worms and the rest come to nobody can tell from later entries. */
static bool
over_by_itself (const CoreState *s, const CoreTroubleSeen *t)
{
  switch (t->what)
    {
    case CORE_TROUBLE_FELL:
      return ate_since (s, t->day) || moulted_well_since (s, t->day);
    case CORE_TROUBLE_VOMIT:
    case CORE_TROUBLE_WEAK:
      return ate_since (s, t->day);
    case CORE_TROUBLE_THIN:
      return ate_since (s, t->day) || (s->belly >= 3 && s->belly_day >= t->day);
    case CORE_TROUBLE_MITES:
    case CORE_TROUBLE_MOULD:
    case CORE_TROUBLE_FLOODED:
      return cleaned_since (s, t);
    case CORE_TROUBLE_FOOT:
    case CORE_TROUBLE_LIMB:
      return moulted_well_since (s, t->day);
    default:
      return false;
    }
}

const CoreTroubleSeen *
core_trouble_open (const CoreRuleContext *ctx, int what)
{
  const CoreState *s = ctx->s;
  for (size_t i = s->troubles.n; i > 0; i--)
    {
      const CoreTroubleSeen *t = &s->troubles.v[i - 1];
      if (t->what != what || t->day > ctx->in->today)
        continue;
      bool answered = seen_to (s, CORE_TASK_LOOK, t->day, t->entry) || over_by_itself (s, t);
      return answered ? NULL : t;
    }
  return NULL;
}

/* The latest of any kind. */
static const CoreTroubleSeen *
any_trouble_open (const CoreRuleContext *ctx)
{
  const CoreTroubleSeen *last = NULL;
  for (int what = 0; what < CORE_N_TROUBLES; what++)
    {
      const CoreTroubleSeen *t = core_trouble_open (ctx, what);
      last = t && (!last || t->day > last->day) ? t : last;
    }
  return last;
}

const CoreStage *
core_bad_moult_open (const CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  const CoreStage *stage = core_state_stage_now (s);
  bool stuck = stage && stage->outcome == CORE_MOULT_STUCK;
  if (!stage || (!stuck && stage->outcome != CORE_MOULT_FELL) || stage->found > ctx->in->today)
    return NULL;
  if (seen_to (s, CORE_TASK_LOOK, stage->found, stage->entry) ||
      seen_to (s, CORE_TASK_AFTER_MOULT, stage->found, stage->entry))
    return NULL;
  return !stuck && ate_since (s, stage->found) ? NULL : stage;
}

static void
wait_for_answer (const CoreRuleContext *ctx, CoreHold *hold, CoreReach reach, CoreReason why)
{
  if (hold->kind == CORE_HOLD_NONE || why.day < hold->since)
    hold->since = why.day;
  hold->kind = CORE_HOLD_TROUBLE;
  hold->reach = reach < hold->reach ? reach : hold->reach;
  hold->until = CORE_DAY_NONE;
  hold->ask_again = ctx->in->today + 1;
  if (hold->n_reasons < CORE_TASK_REASONS)
    hold->reasons[hold->n_reasons++] = why;
}

static void
by_moult (const CoreRuleContext *ctx, const CoreStage *bad, CoreHold *hold)
{
  CoreReason why = core_because (CORE_R_HOLD_TROUBLE, bad->found, bad->entry);
  CoreDay food = bad->found + STUCK_FOOD_DAYS - 1;
  why.code = bad->outcome == CORE_MOULT_STUCK ? -1 : CORE_TROUBLE_FELL;
  wait_for_answer (ctx, hold, CORE_REACH_OPEN, why);
  if (ctx->in->today <= food)
    hold->food_until = core_later (hold->food_until, food);
}

/* It may have fallen out of its moult: while that is possible it is not fed either. */
static void
by_trouble (const CoreRuleContext *ctx, const CoreTroubleSeen *t, CoreHold *hold)
{
  CoreReason why = core_because (CORE_R_HOLD_TROUBLE, t->day, t->entry);
  bool fresh_fall = t->what == CORE_TROUBLE_FELL && ctx->in->today - t->day < FELL_DAYS;
  why.code = t->what;
  wait_for_answer (ctx, hold, fresh_fall ? CORE_REACH_OPEN : CORE_REACH_TOUCH, why);
  if (fresh_fall && ctx->in_range && !ctx->s->adult)
    hold->food_until = core_later (hold->food_until, t->day + FELL_DAYS - 1);
}

/* Before a moult, and while it hardens, nothing is touched anyway. */
void
core_trouble_hold (const CoreRuleContext *ctx, CoreHold *hold)
{
  const CoreStage *bad = core_bad_moult_open (ctx);
  const CoreTroubleSeen *t = any_trouble_open (ctx);
  if (ctx->s->kind != CORE_SUBJECT_ANIMAL || (!bad && !t) || hold->kind == CORE_HOLD_BEFORE ||
      (hold->kind == CORE_HOLD_AFTER && !bad))
    return;
  if (hold->kind == CORE_HOLD_NONE)
    hold->reach = CORE_REACH_TOUCH;
  if (bad)
    by_moult (ctx, bad, hold);
  else
    by_trouble (ctx, t, hold);
}
