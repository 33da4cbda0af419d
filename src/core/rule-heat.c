/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-heat.c — thermostat, sensor and cable, monthly for each heater that is entered. */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 23;
/* Monthly: common practice, no source. */
static const double EVERY_A = 30, EVERY_B = 33;

static const CoreSetting *
heater (const CoreState *s)
{
  const char *text = s->place.heater;
  if (text[0] == 0 || strcmp (text, "none") == 0 || strcmp (text, "no") == 0)
    return NULL;
  for (size_t i = s->settings.n; i > 0; i--)
    if (strcmp (s->settings.v[i - 1].key, "heater") == 0)
      return &s->settings.v[i - 1];
  return NULL;
}

void
core_rule_heat (CoreRuleContext *ctx)
{
  const CoreSetting *set = heater (ctx->s);
  if (!set)
    return;
  CoreEvery every = core_every (ctx, CORE_TASK_HEAT, EVERY_A, EVERY_B);
  CoreDay done = core_done_day (ctx->s, CORE_TASK_HEAT, NULL);
  /* Another heater since: what was checked was the one before. */
  bool never = done == CORE_DAY_NONE || done < set->day;
  CoreDay due = never ? set->day : done + (CoreDay) floor (every.a);
  CoreTask task = core_task_make (ctx, CORE_TASK_HEAT, CORE_REACH_OUTSIDE, due, due,
                                  never ? due + 1 : done + (CoreDay) floor (every.b), WEIGHT);
  if (never)
    core_task_why (&task, core_because (CORE_R_HEAT_NEVER, set->day, set->entry));
  else
    core_task_why (&task, core_because_value (CORE_R_HEAT_INTERVAL, CORE_UNIT_DAYS, every.a,
                                              every.b, done, set->entry));
  core_task_why (&task, core_because (CORE_R_HEAT_CAUTION, CORE_DAY_NONE, (CoreId){ { 0 } }));
  core_plan_repeat (ctx, &task, every);
}
