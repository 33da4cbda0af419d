/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-emergency.c — it fell, it is stuck, or it vomits: never held back. */
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 100;
static const int DAYS = 1; /* today and tomorrow, then it is trouble on the card (ours) */

static void
emergency (CoreRuleContext *ctx, CorePlanReason why, const char *tail, CoreDay day, CoreId entry)
{
  if (day > ctx->in->today || ctx->in->today - day > DAYS)
    return;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_LOOK, CORE_REACH_TOUCH, day, day, day + DAYS, WEIGHT);
  size_t n = strlen (task.id), more = strlen (tail) + 1;
  if (n + more < sizeof task.id)
    memcpy (task.id + n, tail, more);
  task.emergency = true;
  core_task_why (&task, core_because (why, day, entry));
  core_plan_add (ctx, &task);
}

static const CoreTroubleSeen *
last_trouble (const CoreState *s, int what)
{
  for (size_t i = s->troubles.n; i > 0; i--)
    if (s->troubles.v[i - 1].what == what)
      return &s->troubles.v[i - 1];
  return NULL;
}

void
core_rule_emergency (CoreRuleContext *ctx)
{
  const CoreStage *stage = core_state_stage_now (ctx->s);
  const CoreTroubleSeen *fell = last_trouble (ctx->s, CORE_TROUBLE_FELL);
  const CoreTroubleSeen *vomits = last_trouble (ctx->s, CORE_TROUBLE_VOMIT);
  if (stage && stage->outcome == CORE_MOULT_STUCK)
    emergency (ctx, CORE_R_EMERGENCY_STUCK, "!", stage->found, stage->entry);
  else if (stage && stage->outcome == CORE_MOULT_FELL)
    emergency (ctx, CORE_R_EMERGENCY_FELL, "!", stage->found, stage->entry);
  if (fell)
    emergency (ctx, CORE_R_EMERGENCY_FELL, "!", fell->day, fell->entry);
  if (vomits)
    emergency (ctx, CORE_R_EMERGENCY_VOMIT, "!v", vomits->day, vomits->entry);
}
