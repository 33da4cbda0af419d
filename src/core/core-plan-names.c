/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-plan-names.c — the contract's words of the plan. */
#include <string.h>

#include "core/core-plan.h"
#include "core/core-reason-ids.h"

static const char *const TASKS[CORE_N_TASKS] = { "look",      "feed",     "take_out",    "mist",
                                                 "water",     "shed",     "after_moult", "home",
                                                 "sex_check", "separate", "clean",       "climate",
                                                 "heat",      "culture",  "eggcase",     "adult",
                                                 "is_dead" };

static const char *const REACHES[] = { "look", "outside", "open", "touch" };

static const char *const REASONS[CORE_N_PLAN_REASONS] = {
#define X(id, text) text,
  CORE_PLAN_REASONS (X)
#undef X
};

const char *
core_task_name (CoreTaskKind kind)
{
  return (unsigned) kind < CORE_N_TASKS ? TASKS[kind] : "";
}

CoreTaskKind
core_task_from_name (const char *name)
{
  for (int i = 0; i < CORE_N_TASKS; i++)
    if (name && strcmp (TASKS[i], name) == 0)
      return (CoreTaskKind) i;
  return CORE_N_TASKS;
}

const char *
core_reach_name (CoreReach reach)
{
  return (unsigned) reach <= CORE_REACH_TOUCH ? REACHES[reach] : "";
}

const char *
core_plan_reason_id (CorePlanReason reason)
{
  return (unsigned) reason < CORE_N_PLAN_REASONS ? REASONS[reason] : "";
}
