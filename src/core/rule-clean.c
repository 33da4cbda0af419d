/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-clean.c — cleaning and glass: one task per shelf, about weekly. */
#include <math.h>

#include "core/core-rule.h"

static const double WEIGHT = 10;
/* Weekly: common practice, no source. */
static const double EVERY_A = 7, EVERY_B = 9;

void
core_rule_clean (CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  CoreId none = { { 0 } };
  if (!core_id_is_none (s->place.within))
    return; /* a home: its shelf asks */
  double a = ctx->p && ctx->p->clean.a.v >= 1 ? ctx->p->clean.a.v : EVERY_A;
  double b = ctx->p && ctx->p->clean.b.v >= a ? ctx->p->clean.b.v : EVERY_B;
  CoreEvery every = core_every (ctx, CORE_TASK_CLEAN, a, b);
  CoreDay base = core_later (s->cleaned, core_done_day (s, CORE_TASK_CLEAN, NULL));
  bool never = base == CORE_DAY_NONE;
  if (never)
    base = s->first_day == CORE_DAY_NONE ? ctx->in->today : s->first_day;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_CLEAN, CORE_REACH_OPEN, base + (CoreDay) floor (every.a),
                    base + (CoreDay) floor (every.a), base + (CoreDay) floor (every.b), WEIGHT);
  core_task_why (&task,
                 core_because_value (every.own ? CORE_R_CLEAN_OWN_INTERVAL : CORE_R_CLEAN_INTERVAL,
                                     CORE_UNIT_DAYS, every.a, every.b, never ? CORE_DAY_NONE : base,
                                     s->cleaned_entry));
  if (never)
    core_task_why (&task, core_because (CORE_R_CLEAN_NEVER, base, none));
  core_plan_repeat (ctx, &task, every);
}
