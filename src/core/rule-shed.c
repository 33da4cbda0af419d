/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-shed.c — look for a shed skin: daily from the day the range opens until
 * a moult is entered. A look at the animal is a look for its skin. */
#include "core/core-rule.h"

static const double WEIGHT = 28;

void
core_rule_shed (CoreRuleContext *ctx)
{
  CoreDay today = ctx->in->today;
  if (!ctx->has_range || ctx->s->adult || ctx->s->probably_adult)
    return;
  CoreDay seen =
    core_later (core_state_last_look (ctx->s), core_done_day (ctx->s, CORE_TASK_SHED, NULL));
  CoreDay due = ctx->lo;
  if (seen != CORE_DAY_NONE && seen >= due)
    due = seen + 1;
  bool past = today > ctx->hi;
  CoreReason why = core_because_range (ctx, past ? CORE_R_SHED_PAST_RANGE : CORE_R_SHED_IN_RANGE);
  /* Never further ahead than the range; past it only for today. */
  CoreDay end = past || due > ctx->hi ? (due > today ? due : today) : ctx->hi;
  for (CoreDay day = due < today ? today : due; day <= end && day <= ctx->in->to; day++)
    {
      bool first = day == (due < today ? today : due);
      CoreTask task = core_task_make (ctx, CORE_TASK_SHED, CORE_REACH_LOOK, first ? due : day,
                                      first ? due : day, day, first ? WEIGHT : WEIGHT / 2);
      task.projected = !first;
      core_task_why (&task, why);
      core_plan_add (ctx, &task);
    }
}
