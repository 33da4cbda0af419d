/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-mist.c — spraying, through the mesh.
 *
 * Reach is the outside, so that nothing holds it back; what changes around a
 * moult is where and how much. Readings of the shelf and inside a home are
 * compared with the band one by one, never with each other.
 */
#include <math.h>

#include "core/core-rule.h"

static const double WEIGHT = 30, ILL_WEIGHT = 55;
static const int FRESH_DAYS = 3; /* a reading, or a drink, speaks for this long (ours) */

/* Latest fresh reading of that kind: too dry or too hot? *found: there is one. */
static bool
reading_asks (const CoreRuleContext *ctx,
              const CoreState *place,
              bool inside,
              CoreReason *why,
              bool *found)
{
  if (!place)
    return false;
  for (size_t i = place->place.readings.n; i > 0; i--)
    {
      const CoreReadingAt *r = &place->place.readings.v[i - 1];
      if (r->day > ctx->in->today || r->inside != inside)
        continue;
      if (ctx->in->today - r->day > FRESH_DAYS)
        return false;
      *found = true;
      bool dry = isfinite (r->rh) && r->rh < ctx->p->rh_lo.v;
      bool hot = isfinite (r->t) && r->t > ctx->p->day_hi.v;
      if (dry)
        *why = core_because_value (CORE_R_MIST_DRY, CORE_UNIT_PERCENT, r->rh, ctx->p->rh_lo.v,
                                   r->day, r->entry);
      else if (hot)
        *why = core_because_value (CORE_R_MIST_HOT, CORE_UNIT_CELSIUS, r->t, ctx->p->day_hi.v,
                                   r->day, r->entry);
      why->code = inside;
      return dry || hot;
    }
  return false;
}

/* What is read inside a home tells of its air, on the shelf only where nobody read there; the
 * two are never compared with each other. */
bool
core_air_asks (const CoreRuleContext *ctx, CoreReason *why)
{
  bool found = false;
  for (int inside = 1; inside >= 0; inside--)
    {
      if (reading_asks (ctx, ctx->in->place, inside, why, &found))
        return true;
      if (!found && ctx->in->shelf != ctx->in->place &&
          reading_asks (ctx, ctx->in->shelf, inside, why, &found))
        return true;
      if (found)
        return false;
    }
  return false;
}

CoreEvery
core_every_oftener (CoreEvery every)
{
  every.a = fmax (1, every.a - 1);
  every.b = fmax (every.a, every.b - 1);
  return every;
}

/* Eager drinking, dry or hot air: one day oftener, at most daily. */
static CoreEvery
oftener (const CoreRuleContext *ctx, CoreEvery every, CoreReason *why, bool *asked)
{
  const CoreState *s = ctx->s;
  bool eager =
    s->drank_eagerly && s->drank != CORE_DAY_NONE && ctx->in->today - s->drank <= FRESH_DAYS;
  *asked = true;
  if (every.own)
    *asked = false;
  else if (eager)
    *why = core_because (CORE_R_MIST_EAGER, s->drank, s->drank_entry);
  else
    *asked = core_air_asks (ctx, why);
  return *asked ? core_every_oftener (every) : every;
}

static void
around_moult (const CoreRuleContext *ctx, CoreTask *task)
{
  CoreId none = { { 0 } };
  if (ctx->lot)
    {
      if (ctx->m_low <= 1)
        core_task_why (task, core_because (CORE_R_MIST_FINE_FOG, CORE_DAY_NONE, none));
      return;
    }
  if (core_hold_alone (&ctx->hold))
    core_task_why (task, core_because (CORE_R_MIST_FAR_WALL, CORE_DAY_NONE, none));
  else if (ctx->in_range && !ctx->p->dry_kind)
    core_task_why (task, core_because_range (ctx, ctx->p->group == CORE_GROUP_HUMID
                                                    ? CORE_R_MIST_KEEP_RHYTHM
                                                    : CORE_R_MIST_MAY_MOULT));
}

/* Dry kinds get one light spray when the range opens, then none until the
 * range is over. True when that settles the matter. */
static bool
dry_kind_before_moult (CoreRuleContext *ctx, CoreDay base)
{
  if (!ctx->p->dry_kind || ctx->lot || !ctx->in_range || ctx->in->today > ctx->hi)
    return false;
  if (base != CORE_DAY_NONE && base >= ctx->lo)
    return true;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_MIST, CORE_REACH_OUTSIDE, ctx->lo, ctx->lo, ctx->lo + 1, WEIGHT);
  core_task_why (&task, core_because_range (ctx, CORE_R_MIST_BEFORE_MOULT));
  core_task_why (&task, core_because (CORE_R_MIST_FAR_WALL, CORE_DAY_NONE, (CoreId){ { 0 } }));
  core_plan_add (ctx, &task);
  return true;
}

/* Who is ill drinks first: today, whatever the rhythm of its kind; what is later is not known. */
static bool
for_the_ill (CoreRuleContext *ctx, CoreDay base)
{
  CoreDay today = ctx->in->today, due = base == today ? today + 1 : today;
  if (!core_ill_holds (ctx))
    return false;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_MIST, CORE_REACH_OUTSIDE, due, due, due, ILL_WEIGHT);
  core_task_why (&task, core_ill_because (ctx, CORE_R_MIST_ILL));
  around_moult (ctx, &task);
  core_plan_add (ctx, &task);
  return true;
}

/* Where no spraying was ever entered: due since it is here, so that it goes quiet as food does. */
static CoreDay
since_when (const CoreRuleContext *ctx)
{
  CoreDay since = core_later (ctx->s->acquired, ctx->s->lot_since), today = ctx->in->today;
  if (since == CORE_DAY_NONE)
    since = ctx->s->first_day;
  return since == CORE_DAY_NONE || since > today ? today : since;
}

void
core_rule_mist (CoreRuleContext *ctx)
{
  CoreReason often;
  bool asked;
  CoreEvery every = core_every (ctx, CORE_TASK_MIST, ctx->p->mist.a.v, ctx->p->mist.b.v);
  CoreDay base = core_later (ctx->s->misted, core_done_day (ctx->s, CORE_TASK_MIST, NULL));
  if (for_the_ill (ctx, base) || ctx->resting || dry_kind_before_moult (ctx, base))
    return;
  every = oftener (ctx, every, &often, &asked);
  bool never = base == CORE_DAY_NONE;
  CoreDay due = never ? since_when (ctx) : base + (CoreDay) floor (every.a);
  CoreDay latest = never ? due + 1 : base + (CoreDay) floor (every.b);
  CoreTask task =
    core_task_make (ctx, CORE_TASK_MIST, CORE_REACH_OUTSIDE, due, due, latest, WEIGHT);
  if (never)
    core_task_why (&task, core_because (CORE_R_MIST_NEVER, CORE_DAY_NONE, (CoreId){ { 0 } }));
  else
    {
      CoreReason r =
        core_because_value (every.own ? CORE_R_MIST_OWN_INTERVAL : CORE_R_MIST_INTERVAL,
                            CORE_UNIT_DAYS, every.a, every.b, base, ctx->s->misted_entry);

      r.code = ctx->p->general; /* no kind's own figures */
      core_task_why (&task, r);
    }
  if (asked)
    core_task_why (&task, often);
  around_moult (ctx, &task);
  core_plan_repeat (ctx, &task, every);
}
