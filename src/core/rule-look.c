/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-look.c — a look through the wall; never held back.
 *
 * Small ones, and whatever is left alone or may moult any day, daily; others
 * every second day, adults every third. After four days without a look a cup
 * comes forward whatever else is known.
 */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 20;
static const double FORWARD = 25;
static const int HOLD_DAYS = 2;   /* what a sign holds after it was last seen */
static const int QUIET_DAYS = 14; /* ours */

/* Daily while it is held and inside its range; past the range that stays open. */
static void
find_daily (const CoreRuleContext *ctx, CoreEvery *every)
{
  const CoreHold *hold = &ctx->hold;
  every->daily_from = every->daily_to = ctx->in->today;
  if (ctx->lot)
    return;
  if (core_ill_holds (ctx))
    every->daily_to = ctx->ill_free;
  if (hold->kind == CORE_HOLD_TROUBLE && core_hold_alone (hold))
    every->daily_to = core_later (every->daily_to, ctx->in->today + HOLD_DAYS);
  if (hold->kind == CORE_HOLD_AFTER)
    {
      every->daily_to = core_later (every->daily_to, hold->touch_until + 1);
      return;
    }
  if (ctx->has_range && !ctx->s->adult && !core_ill_holds (ctx))
    {
      every->daily_from = ctx->lo;
      every->daily_to = ctx->in->today >= ctx->hi ? ctx->in->to + 1 : ctx->hi;
    }
  if (hold->kind == CORE_HOLD_BEFORE)
    {
      bool near = ctx->has_range && ctx->lo <= ctx->in->today + HOLD_DAYS;
      every->daily_from = ctx->in->today;
      every->daily_to = near && every->daily_to > ctx->in->today + HOLD_DAYS
                          ? every->daily_to
                          : ctx->in->today + HOLD_DAYS;
    }
}

/* No moult came where one was due: what to look for. */
static CoreReason
in_doubt (const CoreRuleContext *ctx)
{
  const CoreForecast *f = ctx->in->forecast;
  const CoreStage *stage = core_state_stage_now (ctx->s);
  CoreReason r = core_because_value (CORE_R_LOOK_DOUBT, CORE_UNIT_PROBABILITY, f->not_normal, 0,
                                     ctx->lo, (CoreId){ { 0 } });
  if (ctx->s->probably_adult && stage)
    return core_because (CORE_R_LOOK_WINGS, stage->found, stage->entry);
  r.day2 = ctx->hi;
  r.code = (int) f->doubt;
  return r;
}

static CoreEvery
rhythm (const CoreRuleContext *ctx, CoreDay seen, CoreReason *why)
{
  CoreId none = { { 0 } };
  bool small = !ctx->s->adult && !ctx->s->subadult && ctx->m_low >= 0 && ctx->m_low <= 2;
  double days = small ? 1 : ctx->s->adult ? 3 : 2;
  CoreEvery every = core_every (ctx, CORE_TASK_LOOK, days, days);
  if (every.own)
    every.b = every.a;
  find_daily (ctx, &every);
  *why =
    core_because_value (every.own ? CORE_R_LOOK_OWN_INTERVAL : CORE_R_LOOK_INTERVAL, CORE_UNIT_DAYS,
                        every.a, every.b, seen, every.entry);
  if (core_ill_holds (ctx))
    *why = core_ill_because (ctx, CORE_R_LOOK_ILL);
  else if (!ctx->lot && core_hold_alone (&ctx->hold))
    *why = core_because (CORE_R_LOOK_HELD, CORE_DAY_NONE, none);
  else if (!ctx->lot && ctx->doubtful && !ctx->s->adult)
    *why = in_doubt (ctx);
  else if (!ctx->lot && ctx->in_range && !ctx->s->adult)
    *why = core_because_range (ctx, CORE_R_LOOK_IN_RANGE);
  else if (small && !every.own)
    *why =
      core_because_value (CORE_R_LOOK_SMALL, CORE_UNIT_MOULTS, ctx->m_low, 0, CORE_DAY_NONE, none);
  return every;
}

/* A hold that lapsed without a moult: moulted, still hanging, or thin? */
static const CoreSignSeen *
lapsed_sign (const CoreRuleContext *ctx, CoreDay seen)
{
  const CoreSignSeen *last = NULL;
  for (int sign = CORE_SIGN_HANGING; sign <= CORE_SIGN_SPLITTING; sign++)
    {
      const CoreSignSeen *s = core_sign_seen (ctx->s, sign);
      if (s && (!last || s->last >= last->last))
        last = s;
    }
  bool held = ctx->hold.kind != CORE_HOLD_NONE && !ctx->hold.by_sign;
  if (!last || ctx->lot || ctx->s->adult || held)
    return NULL;
  bool looked = seen != CORE_DAY_NONE && seen > last->last;
  int ago = ctx->in->today - last->last;
  return looked || ago < HOLD_DAYS || ago > QUIET_DAYS ? NULL : last;
}

static void
say_rest (const CoreRuleContext *ctx, CoreTask *task)
{
  const CoreSetting *set = core_state_set (ctx->s, "rest");
  if (ctx->resting && set)
    core_task_why (task, core_because_value (CORE_R_LOOK_REST, CORE_UNIT_DAYS, ctx->in->today - set->day,
                                             0, set->day, set->entry));
}

static bool
said_wings (const CoreTask *task)
{
  for (size_t i = 0; i < task->n_reasons; i++)
    if (strcmp (task->reasons[i].rule, core_plan_reason_id (CORE_R_LOOK_WINGS)) == 0)
      return true;
  return false;
}

static void
more_reasons (const CoreRuleContext *ctx, CoreTask *task, CoreDay seen)
{
  CoreId none = { { 0 } };
  const CoreSignSeen *sign = lapsed_sign (ctx, seen);
  const CoreStage *stage = core_state_stage_now (ctx->s);
  if (ctx->s->probably_adult && stage && !said_wings (task))
    core_task_why (task, core_because (CORE_R_LOOK_WINGS, stage->found, stage->entry));
  if (sign)
    {
      CoreReason r = core_because (CORE_R_LOOK_AFTER_HOLD, sign->last, sign->entry);
      r.code = sign->sign;
      core_task_why (task, r);
      task->weight += FORWARD;
    }
  if (ctx->out->unseen_long)
    {
      CoreDay since = core_unseen_since (ctx->s);
      int days = ctx->in->today - since;
      core_task_why (task,
                     core_because_value (CORE_R_LOOK_UNSEEN, CORE_UNIT_DAYS, days, 0, seen, none));
      task->weight += FORWARD + fmin (days - CORE_UNSEEN_DAYS, 20) * .5;
    }
  if (!ctx->lot && ctx->refusals >= 2 && ctx->belly != CORE_BELLY_KNOWN)
    core_task_why (task, core_because (CORE_R_LOOK_BELLY,
                                       ctx->s->belly ? ctx->s->belly_day : CORE_DAY_NONE,
                                       ctx->s->belly_entry));
}

void
core_rule_look (CoreRuleContext *ctx)
{
  CoreReason why;
  CoreId none = { { 0 } };
  CoreDay seen = core_state_last_look (ctx->s), today = ctx->in->today;
  CoreDay came = core_later (ctx->s->acquired, ctx->s->moved_in ? ctx->s->here_day : CORE_DAY_NONE);
  /* What was seen before it came, or was told of when it was moved in, starts no rhythm here. */
  bool before = came != CORE_DAY_NONE && seen != CORE_DAY_NONE && seen < came;
  CoreEvery every = rhythm (ctx, before ? CORE_DAY_NONE : seen, &why);
  CoreDay base =
    core_later (before ? CORE_DAY_NONE : seen, core_done_day (ctx->s, CORE_TASK_LOOK, NULL));
  bool daily = today >= every.daily_from && today < every.daily_to;
  int step = daily ? 1 : (int) floor (every.a);
  CoreDay due = base == CORE_DAY_NONE ? today : base + step;
  if (!daily && every.daily_from < every.daily_to && due > every.daily_from &&
      every.daily_from > today)
    due = every.daily_from; /* its range opens before */
  bool ask_belly = !ctx->lot && ctx->refusals >= 2 && ctx->belly != CORE_BELLY_KNOWN;
  if (ask_belly && due > today && base != today)
    due = today;
  const CorePlaceState *cut = core_power_cut (ctx);
  if (cut && cut->power_cut < due)
    due = cut->power_cut;
  CoreTask task = core_task_make (ctx, CORE_TASK_LOOK, CORE_REACH_LOOK, due, due, due, WEIGHT);
  if (cut)
    core_power_say (ctx, cut, &task);
  if (base == CORE_DAY_NONE)
    core_task_why (&task, core_because (CORE_R_LOOK_NEVER, before ? seen : core_unseen_since (ctx->s), none));
  core_task_why (&task, why);
  more_reasons (ctx, &task, seen);
  say_rest (ctx, &task);
  core_plan_repeat (ctx, &task, every);
}
