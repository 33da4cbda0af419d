/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-emergency.c — it fell, or it is stuck: never held back. */
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 100;
static const int DAYS = 1; /* today and tomorrow, then it is trouble on the card (ours) */

static void
emergency (CoreRuleContext *ctx, CorePlanReason why, CoreDay day, CoreId entry)
{
  if (day > ctx->in->today || ctx->in->today - day > DAYS)
    return;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_LOOK, CORE_REACH_TOUCH, day, day, day + DAYS, WEIGHT);
  size_t n = strlen (task.id);
  if (n + 2 < sizeof task.id)
    memcpy (task.id + n, "!", 2);
  task.emergency = true;
  core_task_why (&task, core_because (why, day, entry));
  core_plan_add (ctx, &task);
}

void
core_rule_emergency (CoreRuleContext *ctx)
{
  const CoreStage *stage = core_state_stage_now (ctx->s);
  if (stage && stage->outcome == CORE_MOULT_STUCK)
    emergency (ctx, CORE_R_EMERGENCY_STUCK, stage->found, stage->entry);
  else if (stage && stage->outcome == CORE_MOULT_FELL)
    emergency (ctx, CORE_R_EMERGENCY_FELL, stage->found, stage->entry);
  for (size_t i = ctx->s->troubles.n; i > 0; i--)
    if (ctx->s->troubles.v[i - 1].what == CORE_TROUBLE_FELL)
      {
        emergency (ctx, CORE_R_EMERGENCY_FELL, ctx->s->troubles.v[i - 1].day,
                   ctx->s->troubles.v[i - 1].entry);
        break;
      }
}
