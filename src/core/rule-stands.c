/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-stands.c — it stands where, by the usual temperatures that were entered, it is colder or
 * hotter than its kind is looked at at once for: the temperature comes before all other care.
 *
 * Where there are readings of today or yesterday they speak, for the whole shelf (rule-climate.c).
 */
#include <math.h>

#include "core/core-rule.h"

static const double WEIGHT = 70;
static const int FRESH_DAYS = 1;

static bool
is_read (const CoreState *place, CoreDay today)
{
  const CorePlaceState *p = place ? &place->place : NULL;
  return p && p->readings.n > 0 && p->readings.v[p->readings.n - 1].day >= today - FRESH_DAYS;
}

/* What its home does not say, its shelf does. */
static double
usual (const CoreRuleContext *ctx, bool night)
{
  const CoreState *where[] = { ctx->in->place, ctx->in->shelf };
  for (size_t i = 0; i < 2; i++)
    {
      double t = !where[i] ? NAN : night ? where[i]->place.night_c : where[i]->place.day_c;
      if (isfinite (t))
        return t;
    }
  return NAN;
}

void
core_stands_find (CoreRuleContext *ctx)
{
  CorePast past;
  if (!ctx->p || is_read (ctx->in->place, ctx->in->today) ||
      is_read (ctx->in->shelf, ctx->in->today))
    return;
  past = core_profile_past (ctx->p, usual (ctx, false), usual (ctx, true));
  if (past.side > 0 || !ctx->resting)
    ctx->stands = past;
}

CoreReason
core_stands_reason (const CoreRuleContext *ctx)
{
  CorePlanReason id = ctx->stands.side > 0 ? CORE_R_STANDS_HOT : CORE_R_STANDS_COLD;
  CoreReason r = core_because_value (id, CORE_UNIT_CELSIUS, ctx->stands.c, ctx->stands.limit,
                                     CORE_DAY_NONE, (CoreId){ { 0 } });
  r.code = ctx->stands.side < 0 && ctx->p->winter_rest;
  return r;
}

/* Nymphs of kinds that rest do so for some months; so long after it was entered its end is asked for,
 * and again some time after that was put aside (ours). */
static const int REST_DAYS = 90, REST_AGAIN = 14;
static const double REST_WEIGHT = 46;

static void
rest_over (CoreRuleContext *ctx)
{
  const CoreSetting *set = core_state_set (ctx->s, "rest");
  CoreDay done = core_done_day (ctx->s, CORE_TASK_CLIMATE, NULL);
  if (!ctx->resting || !set)
    return;
  CoreDay due = set->day + REST_DAYS;
  if (done != CORE_DAY_NONE && done >= due)
    due = done + REST_AGAIN;
  CoreTask task = core_task_make (ctx, CORE_TASK_CLIMATE, CORE_REACH_LOOK, due, due, due + 7, REST_WEIGHT);
  core_task_id_stage (&task, ctx->s->moults);
  task.forward = true;
  core_task_why (&task, core_because_value (CORE_R_REST_OVER, CORE_UNIT_DAYS, ctx->in->today - set->day,
                                            0, set->day, set->entry));
  core_plan_add (ctx, &task);
}

/* Until the place is another, or another temperature is entered for it. */
void
core_rule_stands (CoreRuleContext *ctx)
{
  CoreDay today = ctx->in->today;
  CoreDay due = core_done_day (ctx->s, CORE_TASK_CLIMATE, NULL) == today ? today + 1 : today;
  rest_over (ctx);
  if (ctx->stands.side == 0)
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_CLIMATE, CORE_REACH_LOOK, due, due, due, WEIGHT);
  task.emergency = true;
  core_task_why (&task, core_stands_reason (ctx));
  core_plan_add (ctx, &task);
}
