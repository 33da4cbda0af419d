/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-emergency.c — it fell, it is stuck, it vomits, or other trouble was entered: each stands in
 * the plan until it is answered (core-trouble.c), and is never held back. */
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 100, TROUBLE_WEIGHT = 65;
static const int DAYS = 1; /* today and tomorrow, then it is overdue (ours) */

static void
see_to (CoreRuleContext *ctx, CoreReason why, const char *tail, bool emergency)
{
  CoreDay day = why.day;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_LOOK, emergency ? CORE_REACH_TOUCH : CORE_REACH_LOOK, day, day,
                    day + DAYS, emergency ? WEIGHT : TROUBLE_WEIGHT);
  CoreReason answer = core_because (CORE_R_TROUBLE_ANSWER, day, (CoreId){ { 0 } });
  size_t n = strlen (task.id), more = strlen (tail) + 1;
  if (n + more < sizeof task.id)
    memcpy (task.id + n, tail, more);
  task.emergency = emergency;
  task.trouble = true;
  answer.code = strcmp (why.rule, core_plan_reason_id (CORE_R_EMERGENCY_STUCK)) == 0;
  core_task_why (&task, why);
  core_task_why (&task, answer);
  core_plan_add (ctx, &task);
}

/* No emergency, but asked about as long. */
static void
see_to_trouble (CoreRuleContext *ctx, const CoreTroubleSeen *t)
{
  CoreReason why = core_because (CORE_R_TROUBLE_OPEN, t->day, t->entry);
  const char tail[] = { '!', (char) ('a' + t->what), 0 };
  why.code = t->what;
  see_to (ctx, why, tail, false);
}

void
core_rule_emergency (CoreRuleContext *ctx)
{
  const CoreStage *bad = core_bad_moult_open (ctx);
  const CoreTroubleSeen *fell = core_trouble_open (ctx, CORE_TROUBLE_FELL);
  const CoreTroubleSeen *vomits = core_trouble_open (ctx, CORE_TROUBLE_VOMIT);
  if (bad)
    see_to (ctx,
            core_because (bad->outcome == CORE_MOULT_STUCK ? CORE_R_EMERGENCY_STUCK
                                                           : CORE_R_EMERGENCY_FELL,
                          bad->found, bad->entry),
            "!", true);
  if (fell)
    see_to (ctx, core_because (CORE_R_EMERGENCY_FELL, fell->day, fell->entry), bad ? "!f" : "!", true);
  if (vomits)
    see_to (ctx, core_because (CORE_R_EMERGENCY_VOMIT, vomits->day, vomits->entry), "!v", true);
  for (int what = 0; what < CORE_N_TROUBLES; what++)
    {
      const CoreTroubleSeen *t = core_trouble_open (ctx, what);
      if (t && t != fell && t != vomits)
        see_to_trouble (ctx, t);
    }
}
