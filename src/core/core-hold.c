/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-hold.c — leave alone.
 *
 * A hold starts with pumping or splitting alone, with hanging in the range or
 * beside a second sign, or with a moult; sluggish or dull alone hold nothing.
 * Before a moult its end is unknown and it lapses two days after the sign was
 * last seen; after a moult, and after pumping or splitting without one entered, it
 * ends by the table of the group. Trouble holds until it is answered.
 */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

/* A hold from signs lapses this many days after one was last seen. */
static const int SIGN_DAYS = 2;
/* A second sign older than this no longer speaks for the same moult (ours). */
static const int SECOND_SIGN_DAYS = 10;

static void
why (CoreHold *hold, CoreReason reason)
{
  if (hold->n_reasons < CORE_TASK_REASONS)
    hold->reasons[hold->n_reasons++] = reason;
}

/* Seen so lately that it holds today. */
static const CoreSignSeen *
holding (const CoreRuleContext *ctx, int sign)
{
  const CoreSignSeen *seen = core_sign_seen (ctx->s, sign);
  if (!seen || seen->last > ctx->in->today || ctx->in->today - seen->last >= SIGN_DAYS)
    return NULL;
  return seen;
}

static CoreReason
sign_reason (CorePlanReason id, const CoreSignSeen *sign, CoreDay day2)
{
  CoreReason r = core_because (id, sign->last, sign->entry);
  r.day2 = day2;
  r.code = sign->sign;
  return r;
}

static void
start_before (const CoreRuleContext *ctx, CoreHold *hold, const CoreSignSeen *sign)
{
  if (hold->kind == CORE_HOLD_NONE || sign->first < hold->since)
    hold->since = sign->first;
  hold->kind = CORE_HOLD_BEFORE;
  hold->reach = CORE_REACH_OPEN;
  hold->until = CORE_DAY_NONE;
  hold->ask_again = ctx->in->today + 1;
}

static void
certain_signs (CoreRuleContext *ctx, CoreHold *hold)
{
  static const struct
  {
    int sign;
    CorePlanReason why;
  } certain[] = { { CORE_SIGN_SPLITTING, CORE_R_HOLD_SPLITTING },
                  { CORE_SIGN_PUMPING, CORE_R_HOLD_PUMPING } };
  for (size_t i = 0; i < 2; i++)
    {
      const CoreSignSeen *seen = holding (ctx, certain[i].sign);
      if (!seen)
        continue;
      start_before (ctx, hold, seen);
      CoreReason r = sign_reason (certain[i].why, seen, seen->last);
      r.day = seen->first;
      why (hold, r);
      ctx->strong_hold = true;
    }
}

/* Refused, dull, pads, or a round belly beside the hanging. */
static bool
second_sign (const CoreRuleContext *ctx, const CoreSignSeen *hanging, CoreReason *out)
{
  static const int seconds[] = { CORE_SIGN_REFUSES, CORE_SIGN_DULL, CORE_SIGN_PADS };
  for (size_t i = 0; i < sizeof seconds / sizeof seconds[0]; i++)
    {
      const CoreSignSeen *seen = core_sign_seen (ctx->s, seconds[i]);
      if (!seen || !core_state_sign_counts (ctx->s, seen) ||
          hanging->last - seen->last > SECOND_SIGN_DAYS)
        continue;
      *out = sign_reason (CORE_R_HOLD_HANGING_SECOND_SIGN, hanging, seen->last);
      out->code = seen->sign;
      if (!core_id_is_none (seen->entry))
        out->entries[out->n_entries++] = seen->entry;
      return true;
    }
  if (ctx->belly == CORE_BELLY_KNOWN && ctx->s->belly >= 4)
    {
      *out = core_because_value (CORE_R_HOLD_HANGING_ROUND_BELLY, CORE_UNIT_SCORE, ctx->s->belly, 0,
                                 hanging->last, hanging->entry);
      out->day2 = ctx->s->belly_day;
      if (!core_id_is_none (ctx->s->belly_entry))
        out->entries[out->n_entries++] = ctx->s->belly_entry;
      return true;
    }
  return false;
}

static void
hanging_sign (CoreRuleContext *ctx, CoreHold *hold)
{
  const CoreSignSeen *seen = holding (ctx, CORE_SIGN_HANGING);
  CoreReason second;
  if (!seen)
    return;
  if (ctx->has_range && ctx->in_range)
    {
      start_before (ctx, hold, seen);
      why (hold, sign_reason (CORE_R_HOLD_HANGING_IN_RANGE, seen, ctx->lo));
      ctx->strong_hold = true;
      return;
    }
  if (second_sign (ctx, seen, &second))
    {
      start_before (ctx, hold, seen);
      why (hold, second);
      ctx->strong_hold |= !ctx->has_range;
    }
  else if (!ctx->has_range)
    {
      /* Without a range nobody can say that it is far off: the careful side. */
      start_before (ctx, hold, seen);
      why (hold, sign_reason (CORE_R_HOLD_HANGING_RANGE_UNKNOWN, seen, CORE_DAY_NONE));
      ctx->strong_hold = true;
    }
}

/* The row of the table by the stage reached; where it is unsure the higher. */
static CoreHardRow
hard_row (const CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  size_t n = s->stages.n;
  if (s->adult)
    return CORE_HARD_ADULT;
  if (s->subadult)
    return CORE_HARD_SUBADULT;
  if (n >= 2 && s->stages.v[n - 2].seen == CORE_SEEN_SUBADULT &&
      s->stages.v[n - 1].seen == CORE_SEEN_UNKNOWN)
    return CORE_HARD_ADULT;
  return ctx->m_high >= 0 && ctx->m_high <= 3 ? CORE_HARD_M3 : CORE_HARD_M4;
}

static bool
fed_since (const CoreState *s, CoreDay earliest)
{
  for (size_t i = 0; i < s->meals.n; i++)
    if (s->meals.v[i].outcome == CORE_FED_TAKEN && s->meals.v[i].day > earliest)
      return true;
  return false;
}

/* A moult, entered or known by what was seen: the days that it holds. */
typedef struct
{
  CoreDay earliest, latest, food_from; /* when it can have been; food is counted from there */
  CoreHardRow row;
  int touch, food; /* days without */
  CoreDay day;     /* said: of the moult, or of the sign */
  CorePlanReason why;
  int code;
  CoreId entry;
} Soft;

/* A hold that began on `since` let go of each on these days, where they have come. */
static void
let_go (CoreRuleContext *ctx, CoreDay since, CoreDay food, CoreDay open, CoreDay touch)
{
  CoreDay today = ctx->in->today;
  CoreFreed freed = { .since = since,
                      .food = food <= today ? food : CORE_DAY_NONE,
                      .open = open <= today ? open : CORE_DAY_NONE,
                      .touch = touch <= today ? touch : CORE_DAY_NONE };
  if (ctx->n_freed < CORE_MOST_FREED)
    ctx->freed[ctx->n_freed++] = freed;
}

/* Signs seen so long ago that they hold no more. */
static void
lapsed_signs (CoreRuleContext *ctx)
{
  static const int held_by[] = { CORE_SIGN_SPLITTING, CORE_SIGN_PUMPING, CORE_SIGN_HANGING };
  for (size_t i = 0; i < sizeof held_by / sizeof held_by[0]; i++)
    {
      const CoreSignSeen *seen = core_sign_seen (ctx->s, held_by[i]);
      CoreReason second;
      if (!seen || seen->last + SIGN_DAYS > ctx->in->today)
        continue;
      bool held = seen->sign != CORE_SIGN_HANGING || !ctx->has_range ||
                  ctx->lo < seen->last + SIGN_DAYS || second_sign (ctx, seen, &second);
      CoreDay free_day = seen->last + SIGN_DAYS, earliest = seen->last - SECOND_SIGN_DAYS;
      if (held)
        let_go (ctx, core_later (seen->first, earliest), free_day, free_day, free_day);
    }
}

/* Of a lot: what some of it did holds that day alone. */
static void
lot_days (CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  const CoreStage *stage = core_state_stage_now (s);
  CoreDay today = ctx->in->today;
  for (size_t i = 0; i < s->signs.n; i++)
    if (s->signs.v[i].sign >= CORE_SIGN_HANGING && s->signs.v[i].last < today)
      let_go (ctx, s->signs.v[i].first, CORE_DAY_NONE, CORE_DAY_NONE, s->signs.v[i].last + 1);
  if (s->ahead.day != CORE_DAY_NONE && s->ahead.day < today)
    let_go (ctx, s->ahead.day, CORE_DAY_NONE, CORE_DAY_NONE, s->ahead.day + 1);
  if (stage && stage->start == CORE_START_MOULTED && stage->found < today)
    let_go (ctx, stage->found, CORE_DAY_NONE, CORE_DAY_NONE, stage->found + 1);
}

static CoreDay
freed_by (const CoreFreed *freed, CoreTaskKind kind, CoreReach reach)
{
  if (kind == CORE_TASK_FEED)
    return freed->food;
  if (kind == CORE_TASK_TAKE_OUT)
    return CORE_DAY_NONE;
  return reach == CORE_REACH_TOUCH  ? freed->touch
         : reach == CORE_REACH_OPEN ? freed->open
                                    : CORE_DAY_NONE;
}

CoreDay
core_hold_freed (const CoreRuleContext *ctx, CoreTaskKind kind, CoreReach reach, CoreDay due)
{
  for (size_t again = 0; again < ctx->n_freed; again++) /* one may run into the next */
    for (size_t i = 0; i < ctx->n_freed; i++)
      {
        CoreDay day = freed_by (&ctx->freed[i], kind, reach);
        if (day != CORE_DAY_NONE && due >= ctx->freed[i].since && due < day)
          due = day;
      }
  return due;
}

static void
hold_soft (CoreRuleContext *ctx, CoreHold *hold, const Soft *soft)
{
  CoreDay today = ctx->in->today, touch_free = soft->latest + soft->touch;
  CoreDay food_free = fed_since (ctx->s, soft->earliest) ? soft->earliest : soft->food_from + soft->food;
  let_go (ctx, soft->latest, food_free, food_free, core_later (touch_free, food_free));
  if (today >= touch_free && today >= food_free)
    return;
  if (hold->kind != CORE_HOLD_BEFORE)
    {
      hold->kind = CORE_HOLD_AFTER;
      hold->since = soft->earliest;
      hold->touch_until = core_later (touch_free, food_free) - 1;
      hold->reach = today < food_free ? CORE_REACH_OPEN : CORE_REACH_TOUCH;
      hold->until = hold->reach == CORE_REACH_OPEN ? food_free - 1 : hold->touch_until;
      hold->ask_again = hold->until + 1;
    }
  if (today < touch_free)
    {
      CoreReason r =
        core_because_value (soft->why, CORE_UNIT_DAYS, soft->touch, 0, soft->day, soft->entry);
      r.day2 = touch_free;
      r.code = soft->code;
      why (hold, r);
    }
  if (today < food_free)
    {
      CoreReason r = core_because_value (CORE_R_HOLD_NO_FOOD_AFTER_MOULT, CORE_UNIT_DAYS, soft->food,
                                         0, soft->food_from, soft->entry);
      r.day2 = food_free;
      r.code = (int) soft->row;
      why (hold, r);
      hold->food_until = food_free - 1;
      ctx->strong_hold = true;
    }
}

static void
after_moult (CoreRuleContext *ctx, CoreHold *hold)
{
  const CoreStage *stage = core_state_stage_now (ctx->s);
  if (!stage || stage->start != CORE_START_MOULTED || !isfinite (stage->hi))
    return;
  CoreHardRow row = hard_row (ctx);
  CoreDay latest = (CoreDay) ceil (stage->hi);
  double middle = isfinite (stage->lo) ? (stage->lo + stage->hi) / 2 : stage->hi;
  Soft soft = { .earliest = isfinite (stage->lo) ? (CoreDay) floor (stage->lo) + 1 : latest,
                .latest = latest,
                .food_from = row == CORE_HARD_M3 ? (CoreDay) ceil (middle) : latest,
                .row = row,
                .touch = (int) ctx->p->touch_days[row].v,
                .food = (int) ctx->p->food_days[row].b.v,
                .day = latest,
                .why = CORE_R_HOLD_HARDENING,
                .code = (int) row,
                .entry = stage->entry };
  ctx->moulted_from = soft.earliest;
  ctx->meal_free = soft.food_from + soft.food;
  hold_soft (ctx, hold, &soft);
}

/* Of the stage that the next moult leads to; where that is unsure the one that takes longer. */
static CoreHardRow
next_hard_row (const CoreRuleContext *ctx)
{
  if (ctx->s->subadult || ctx->s->probably_adult)
    return CORE_HARD_ADULT;
  return ctx->m_high >= 0 && ctx->m_high < 3 ? CORE_HARD_M3 : CORE_HARD_SUBADULT;
}

/* The last of the two signs that are the moult itself; *latest: the last day on which it can have
 * come out. Splitting takes an hour or so; pumping may run for a day or two (common practice, no
 * source). */
const CoreSignSeen *
core_certain_sign (const CoreState *s, CoreDay *latest)
{
  const CoreSignSeen *split = core_sign_seen (s, CORE_SIGN_SPLITTING);
  const CoreSignSeen *pump = core_sign_seen (s, CORE_SIGN_PUMPING);
  if (s->adult || (!split && !pump))
    return NULL;
  *latest = core_later (split ? split->last + 1 : CORE_DAY_NONE, pump && !split ? pump->last + 2 : CORE_DAY_NONE);
  return split ? split : pump;
}

/* Nobody entered its moult, but it came: it is left alone as after one. */
static void
after_sign (CoreRuleContext *ctx, CoreHold *hold)
{
  CoreDay latest;
  const CoreSignSeen *sign = core_certain_sign (ctx->s, &latest);
  if (!sign || sign->last > ctx->in->today || hold->kind == CORE_HOLD_BEFORE)
    return;
  CoreHardRow row = next_hard_row (ctx);
  Soft soft = { .earliest = sign->first,
                .latest = latest,
                .food_from = latest,
                .row = row,
                .touch = (int) ctx->p->touch_days[row].v,
                .food = (int) ctx->p->food_days[row].b.v,
                .day = sign->last,
                .why = CORE_R_HOLD_AFTER_SIGN,
                .code = sign->sign,
                .entry = sign->entry };
  hold_soft (ctx, hold, &soft);
  hold->by_sign = hold->kind == CORE_HOLD_AFTER && hold->since == sign->first;
}

bool
core_hold_alone (const CoreHold *hold)
{
  return hold->kind == CORE_HOLD_BEFORE || hold->kind == CORE_HOLD_AFTER ||
         (hold->kind == CORE_HOLD_TROUBLE && hold->reach < CORE_REACH_TOUCH);
}

CoreHold
core_hold_of (CoreRuleContext *ctx)
{
  CoreHold hold;
  memset (&hold, 0, sizeof hold);
  hold.since = hold.until = hold.ask_again = CORE_DAY_NONE;
  hold.food_until = hold.touch_until = CORE_DAY_NONE;
  ctx->n_freed = 0;
  if (ctx->lot)
    {
      lot_days (ctx);
      return hold; /* a lot is never held */
    }
  if (!ctx->s->adult)
    {
      lapsed_signs (ctx);
      certain_signs (ctx, &hold);
      hanging_sign (ctx, &hold);
      after_sign (ctx, &hold);
    }
  if (!hold.by_sign)
    after_moult (ctx, &hold);
  core_trouble_hold (ctx, &hold);
  return hold;
}
