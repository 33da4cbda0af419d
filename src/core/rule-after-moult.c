/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-after-moult.c — one task when it has hardened: good, all limbs? */
#include <math.h>

#include "core/core-rule.h"

static const double WEIGHT = 26;
static const int QUIET_DAYS = 14; /* then it is history (ours) */

void
core_rule_after_moult (CoreRuleContext *ctx)
{
  const CoreStage *stage = core_state_stage_now (ctx->s);
  CoreDay since = core_stage_since (ctx->s);
  if (!stage || stage->start != CORE_START_MOULTED || stage->outcome >= 0 || since == CORE_DAY_NONE)
    return;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_AFTER_MOULT, NULL);
  if (done != CORE_DAY_NONE && done >= since)
    return;
  CoreDay due = stage->found > since ? stage->found : since;
  if (ctx->hold.kind == CORE_HOLD_AFTER && ctx->hold.touch_until + 1 > due)
    due = ctx->hold.touch_until + 1;
  bool before = ctx->s->acquired != CORE_DAY_NONE && since < ctx->s->acquired;
  if (ctx->in->today - since > QUIET_DAYS || before) /* elsewhere, or before the journal */
    return;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_AFTER_MOULT, CORE_REACH_LOOK, due, due, due + 3, WEIGHT);
  core_task_id_stage (&task, ctx->s->moults);
  CoreReason found = core_because (CORE_R_AFTER_MOULT_OUTCOME, stage->found, stage->entry);
  found.code = stage->seen_happening;
  core_task_why (&task, found);
  if (ctx->hold.kind == CORE_HOLD_AFTER && ctx->hold.n_reasons)
    core_task_why (&task, ctx->hold.reasons[0]);
  core_plan_add (ctx, &task);
}
