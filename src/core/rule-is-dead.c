/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-is-dead.c — what looks dead may be about to moult: ask again next day. */
#include "core/core-rule.h"

static const double WEIGHT = 60;

void
core_rule_is_dead (CoreRuleContext *ctx)
{
  CoreDay day = ctx->s->looks_dead;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_IS_DEAD, NULL);
  if (day == CORE_DAY_NONE || (done != CORE_DAY_NONE && done > day))
    return;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_IS_DEAD, CORE_REACH_LOOK, day + 1, day + 1, day + 1, WEIGHT);
  core_task_why (&task, core_because (CORE_R_IS_DEAD_ASK_AGAIN, day, (CoreId){ { 0 } }));
  /* Who only looks has not said that it lives: the question stays, and says what answers it. */
  CoreDay looked = core_state_last_look (ctx->s);
  if (looked > day)
    core_task_why (&task, core_because (CORE_R_IS_DEAD_LOOKED, looked, (CoreId){ { 0 } }));
  core_plan_add (ctx, &task);
}
