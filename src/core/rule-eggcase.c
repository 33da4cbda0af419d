/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-eggcase.c — an egg case: harden, move, spray, watch for the hatch, dud or into a lot.
 *
 * It has one task of its own kind at a time, the most pressing one; spraying and watching are
 * the usual tasks of those kinds. In its winter rest it is only looked at for mould.
 */
#include <math.h>

#include "core/core-rule.h"

/* Common practice, no source, but for those marked ours. */
static const int HARDEN_DAYS = 5; /* three to five: a hold of a to b days ends at b */
static const int MOVE_DAYS = 4;   /* to do it in (ours) */
static const double MIST_A = 2, MIST_B = 3, MIST_DRY_A = 5, MIST_DRY_B = 7;
static const int REST_DAYS = 14; /* looks for mould in the cold */
static const int REST_A = 60, REST_B = 120; /* two to four months of it */
static const int ASK_DAYS = 14; /* to say whether it rests (ours) */
static const int MORE_DAYS = 7;  /* so long more may follow the last hatchlings (ours) */
static const int LATE_DAYS = 2;  /* between looks past the range (ours) */
static const double WEIGHT = 22, MIST_WEIGHT = 18, WATCH_WEIGHT = 32, LOT_WEIGHT = 55;

static const CoreId NOBODY = { { 0 } };

static const CoreHatching *
last_hatching (const CoreState *s)
{
  return s->egg.hatchings.n ? &s->egg.hatchings.v[s->egg.hatchings.n - 1] : NULL;
}

static bool
done_since (const CoreRuleContext *ctx, CoreDay day)
{
  CoreDay done = core_done_day (ctx->s, CORE_TASK_EGGCASE, NULL);
  return done != CORE_DAY_NONE && done >= day;
}

static CoreReason
rest_reason (CorePlanReason id, CoreDay since)
{
  return core_because_value (id, CORE_UNIT_DAYS, REST_A, REST_B, since, NOBODY);
}

static CoreTask
own_task (const CoreRuleContext *ctx, CoreReach reach, CoreDay due, int days, double weight)
{
  return core_task_make (ctx, CORE_TASK_EGGCASE, reach, due, due, due + days, weight);
}

/* ---- hatched ---- */

/* How many are in no lot; 0 = none, or an estimate of which some are. NAN = nobody counted. */
static double
in_no_lot (const CoreEggState *egg)
{
  if (egg->hatchings.n == 0)
    return 0;
  if (egg->hatched_about)
    return egg->in_lots > 0 ? 0 : egg->hatched > 0 ? (double) egg->hatched : NAN;
  return egg->hatched > egg->in_lots ? (double) (egg->hatched - egg->in_lots) : 0;
}

static bool
into_a_lot (CoreRuleContext *ctx)
{
  const CoreHatching *last = last_hatching (ctx->s);
  double n = in_no_lot (&ctx->s->egg);
  if (n == 0 || !last || done_since (ctx, last->day))
    return false;
  CoreTask task = own_task (ctx, CORE_REACH_OPEN, last->day, 1, LOT_WEIGHT);
  CoreReason r =
    core_because_value (CORE_R_EGG_IN_NO_LOT, CORE_UNIT_TIMES, n, 0, last->day, last->entry);
  r.code = ctx->s->egg.hatched_about;
  task.forward = true; /* they have no food */
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
  return true;
}

/* Hatched some time ago, and nobody said that it is over. */
static bool
all_out (CoreRuleContext *ctx)
{
  const CoreHatching *last = last_hatching (ctx->s);
  if (!last || ctx->s->end != CORE_END_NONE || done_since (ctx, last->day + MORE_DAYS))
    return false;
  CoreTask task = own_task (ctx, CORE_REACH_LOOK, last->day + MORE_DAYS, MORE_DAYS, WEIGHT);
  core_task_why (&task, core_because (CORE_R_EGG_OVER, last->day, last->entry));
  core_plan_add (ctx, &task);
  return true;
}

/* ---- before ---- */

static bool
dud (CoreRuleContext *ctx, const CoreHatch *hatch)
{
  if (!hatch->known || hatch->dud == CORE_DAY_NONE || ctx->in->today < hatch->dud)
    return false;
  if (done_since (ctx, hatch->dud))
    return true;
  CoreTask task = own_task (ctx, CORE_REACH_OPEN, hatch->dud, MORE_DAYS, WEIGHT);
  CoreReason r = core_because (CORE_R_EGG_DUD, hatch->hi, NOBODY);
  r.day2 = hatch->dud;
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
  return true;
}

static bool
moved (const CoreState *s)
{
  return s->stays.n && s->stays.v[s->stays.n - 1].day > s->egg.laid_day;
}

static void
hold_to_harden (CoreRuleContext *ctx, CoreReason why, CoreDay free_day)
{
  CoreHeld held = { .subject = ctx->s->subject,
                    .kind = CORE_TASK_EGGCASE,
                    .until = free_day - 1,
                    .ask_again = free_day };
  core_held_why (&held, why);
  core_plan_hold (ctx, &held);
}

/* Of a kind that rests in the cold, and nobody said whether this one does or did. */
static bool
may_rest (const CoreRuleContext *ctx)
{
  const CoreHatch *hatch = ctx->in->hatch;
  return ctx->p->eggs_rest && !core_state_setting (ctx->s, "rest") && hatch &&
         (!hatch->known || hatch->came || ctx->in->today < hatch->lo);
}

/* In such a place it neither hatches nor can be called a dud. */
static bool
stands_still (CoreRuleContext *ctx, const CoreHatch *hatch)
{
  const CoreState *place = ctx->in->place ? ctx->in->place : ctx->in->shelf;
  CoreDay today = ctx->in->today;
  if (hatch->known || hatch->since == CORE_DAY_NONE || done_since (ctx, today - REST_DAYS))
    return false;
  CoreTask task = own_task (ctx, CORE_REACH_LOOK, today, 1, WEIGHT);
  CoreReason r = core_because_value (CORE_R_EGG_STANDS_STILL, CORE_UNIT_CELSIUS,
                                     place ? place->place.day_c : NAN, NAN, CORE_DAY_NONE, NOBODY);
  r.code = may_rest (ctx) && !(r.value > 15); /* nor is it too hot */
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
  return true;
}

static void
ask_for_rest (CoreRuleContext *ctx)
{
  CoreDay since = core_later (ctx->s->egg.laid_day, ctx->s->acquired);
  if (!may_rest (ctx) || since == CORE_DAY_NONE || done_since (ctx, since))
    return;
  CoreTask task = own_task (ctx, CORE_REACH_LOOK, since, ASK_DAYS, WEIGHT);
  core_task_why (&task, rest_reason (CORE_R_EGG_WANTS_REST, since));
  core_plan_add (ctx, &task);
}

/* Left until its foam is hard, then moved; that of a guarding female stays with her. */
static void
move (CoreRuleContext *ctx)
{
  const CoreEggState *egg = &ctx->s->egg;
  if (egg->laid_day == CORE_DAY_NONE || done_since (ctx, egg->laid_day) || moved (ctx->s))
    {
      ask_for_rest (ctx);
      return;
    }
  CoreDay free_day = egg->hardened != CORE_DAY_NONE ? egg->hardened : egg->laid_day + HARDEN_DAYS;
  CoreReason soft = core_because (CORE_R_EGG_HARDEN, egg->laid_day, egg->laid_entry);
  bool guards = ctx->p->guards_eggs;
  soft.day2 = free_day;
  if (ctx->in->today < free_day)
    hold_to_harden (ctx, soft, free_day);
  CoreTask task =
    own_task (ctx, guards ? CORE_REACH_LOOK : CORE_REACH_TOUCH, free_day, MOVE_DAYS, WEIGHT);
  core_task_why (&task, core_because (guards ? CORE_R_EGG_GUARDED : CORE_R_EGG_MOVE,
                                      egg->laid_day, egg->laid_entry));
  if (may_rest (ctx))
    core_task_why (&task, rest_reason (CORE_R_EGG_WANTS_REST, egg->laid_day));
  core_plan_add (ctx, &task);
}

/* ---- spraying, watching ---- */

static void
spray (CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  bool dry = ctx->p->dry_kind;
  CoreEvery every =
    core_every (ctx, CORE_TASK_MIST, dry ? MIST_DRY_A : MIST_A, dry ? MIST_DRY_B : MIST_B);
  CoreReason why;
  bool asks = !every.own && core_air_asks (ctx, &why);
  every = asks ? core_every_oftener (every) : every;
  CoreDay base = core_later (s->misted, core_done_day (s, CORE_TASK_MIST, NULL));
  CoreDay since = core_later (s->egg.laid_day, s->acquired);
  bool never = base == CORE_DAY_NONE;
  if (never && since == CORE_DAY_NONE)
    since = ctx->in->today;
  CoreDay due = never ? since + 1 : base + (CoreDay) floor (every.a);
  CoreTask task =
    core_task_make (ctx, CORE_TASK_MIST, CORE_REACH_OUTSIDE, due, due,
                    never ? due + 1 : base + (CoreDay) floor (every.b), MIST_WEIGHT);
  core_task_why (&task, core_because_value (every.own ? CORE_R_MIST_OWN_INTERVAL : CORE_R_EGG_MIST,
                                            CORE_UNIT_DAYS, every.a, every.b, base,
                                            s->misted_entry));
  if (asks)
    core_task_why (&task, why);
  core_plan_repeat (ctx, &task, every);
}

static CoreDay
next_look (const CoreRuleContext *ctx, CoreDay from, int step)
{
  CoreDay seen =
    core_later (core_state_last_look (ctx->s), core_done_day (ctx->s, CORE_TASK_LOOK, NULL));
  CoreDay due = seen == CORE_DAY_NONE || seen + step < from ? from : seen + step;
  /* The look that a power cut asks for is one. */
  return due <= ctx->in->today && core_power_cut (ctx) ? ctx->in->today + 1 : due;
}

/* The cold of a power cut harms no eggs at rest, but they may have become warm. */
static void
after_cut (CoreRuleContext *ctx, bool resting)
{
  const CorePlaceState *cut = core_power_cut (ctx);
  if (!cut)
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_LOOK, CORE_REACH_LOOK, cut->power_cut,
                                  cut->power_cut, cut->power_cut, WATCH_WEIGHT);
  core_power_say (ctx, cut, &task);
  task.emergency &= !resting;
  core_plan_add (ctx, &task);
}

/* Looks from `due` to `end`, every `step` days, the later ones projected. */
static void
looks (CoreRuleContext *ctx, CoreDay due, CoreDay end, int step, CoreReason why)
{
  CoreDay today = ctx->in->today;
  bool first = true;
  for (CoreDay day = due < today ? today : due; day <= end && day <= ctx->in->to; day += step)
    {
      CoreTask task = core_task_make (ctx, CORE_TASK_LOOK, CORE_REACH_LOOK, first ? due : day,
                                      first ? due : day, day, first ? WATCH_WEIGHT : WATCH_WEIGHT / 2);
      task.projected = !first;
      core_task_why (&task, why);
      core_plan_add (ctx, &task);
      first = false;
    }
}

static void
watch (CoreRuleContext *ctx, const CoreHatch *hatch)
{
  const CoreHatching *last = last_hatching (ctx->s);
  CoreDay today = ctx->in->today;
  if (last)
    {
      looks (ctx, next_look (ctx, last->day, 1), last->day + MORE_DAYS - 1, 1,
             core_because (CORE_R_EGG_MORE, last->day, last->entry));
      return;
    }
  if (!hatch->known || (today > hatch->hi && hatch->dud == CORE_DAY_NONE))
    return;
  bool late = today > hatch->hi;
  CoreReason why = core_because (late ? CORE_R_EGG_PAST_RANGE : CORE_R_EGG_HATCH_RANGE, hatch->lo,
                                 NOBODY);
  why.day2 = hatch->hi;
  why.code = hatch->came;
  looks (ctx, next_look (ctx, hatch->lo, late ? LATE_DAYS : 1), late ? hatch->dud - 1 : hatch->hi,
         late ? LATE_DAYS : 1, why);
}

static void
rest (CoreRuleContext *ctx)
{
  CoreDay base =
    core_later (core_state_last_look (ctx->s), core_done_day (ctx->s, CORE_TASK_LOOK, NULL));
  CoreDay due = base == CORE_DAY_NONE ? ctx->in->today : base + REST_DAYS;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_LOOK, CORE_REACH_LOOK, due, due, due + 2, WATCH_WEIGHT / 2);
  core_task_why (&task, core_because_value (CORE_R_EGG_REST, CORE_UNIT_DAYS, REST_DAYS, 0, base,
                                            NOBODY));
  core_plan_repeat (ctx, &task, (CoreEvery){ .a = REST_DAYS, .b = REST_DAYS });
}

/* Long enough in the cold: into the warmth again, which is entered as the end of its rest. */
static void
wake (CoreRuleContext *ctx, CoreDay since)
{
  if (since == CORE_DAY_NONE || done_since (ctx, since + REST_A))
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_EGGCASE, CORE_REACH_TOUCH, since + REST_A,
                                  since + REST_A, since + REST_B, WEIGHT);
  core_task_why (&task, rest_reason (CORE_R_EGG_REST_OVER, since));
  core_plan_add (ctx, &task);
}

void
core_rule_eggcase (CoreRuleContext *ctx)
{
  static const CoreHatch nothing;
  const CoreHatch *hatch = ctx->in->hatch ? ctx->in->hatch : &nothing;
  if (into_a_lot (ctx) && ctx->s->end != CORE_END_NONE)
    return;
  if (ctx->s->end != CORE_END_NONE)
    return;
  after_cut (ctx, hatch->resting);
  if (hatch->resting)
    {
      rest (ctx);
      wake (ctx, hatch->since);
      return;
    }
  if (last_hatching (ctx->s))
    {
      if (in_no_lot (&ctx->s->egg) == 0)
        all_out (ctx);
    }
  else if (dud (ctx, hatch))
    return;
  else if (!stands_still (ctx, hatch))
    move (ctx);
  spray (ctx);
  watch (ctx, hatch);
}
