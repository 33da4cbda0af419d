/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-water.c — watering the substrate, only where there is a damp one. */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 15;
/* About weekly: common practice, no source. */
static const double EVERY_A = 6, EVERY_B = 8;

static bool
damp (const CoreState *place)
{
  return place && strcmp (place->place.substrate, "damp") == 0;
}

void
core_rule_water (CoreRuleContext *ctx)
{
  const CoreState *home = ctx->in->place;
  if (!ctx->p->damp_substrate || ctx->resting || !damp (home))
    return;
  CoreEvery every = core_every (ctx, CORE_TASK_WATER, EVERY_A, EVERY_B);
  CoreDay base = core_later (ctx->s->watered, core_done_day (ctx->s, CORE_TASK_WATER, NULL));
  base = core_later (base, home->watered);
  bool never = base == CORE_DAY_NONE;
  CoreDay due = never ? ctx->in->today : base + (CoreDay) floor (every.a);
  CoreTask task = core_task_make (ctx, CORE_TASK_WATER, CORE_REACH_OPEN, due, due,
                                  never ? due + 1 : base + (CoreDay) floor (every.b), WEIGHT);
  if (never)
    core_task_why (&task, core_because (CORE_R_WATER_NEVER, CORE_DAY_NONE, (CoreId){ { 0 } }));
  else
    core_task_why (
      &task, core_because_value (every.own ? CORE_R_WATER_OWN_INTERVAL : CORE_R_WATER_INTERVAL,
                                 CORE_UNIT_DAYS, every.a, every.b, base, ctx->s->watered_entry));
  core_plan_repeat (ctx, &task, every);
}
