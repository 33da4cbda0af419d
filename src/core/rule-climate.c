/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-climate.c — a reading past "look at once", per shelf.
 *
 * The latest reading of each of the two kinds (of the shelf, inside a home) is
 * judged alone; they are never mixed. Four hours out of the band need more
 * readings than a keeper types, so that rule waits for imported ones.
 */
#include <math.h>

#include "core/core-rule.h"

static const double WEIGHT = 70;
static const int FRESH_DAYS = 1;

static const CoreReadingAt *
latest (const CoreRuleContext *ctx, bool inside)
{
  for (size_t i = ctx->s->place.readings.n; i > 0; i--)
    {
      const CoreReadingAt *r = &ctx->s->place.readings.v[i - 1];
      if (r->inside == inside && isfinite (r->t) && r->day <= ctx->in->today)
        return ctx->in->today - r->day <= FRESH_DAYS ? r : NULL;
    }
  return NULL;
}

void
core_rule_climate (CoreRuleContext *ctx)
{
  if (!ctx->p)
    return;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_CLIMATE, NULL);
  for (int inside = 0; inside < 2; inside++)
    {
      const CoreReadingAt *r = latest (ctx, inside);
      bool hot = r && isfinite (ctx->p->look_above.v) && r->t > ctx->p->look_above.v;
      bool cold = r && isfinite (ctx->p->look_below.v) && r->t < ctx->p->look_below.v;
      if ((!hot && !cold) || (done != CORE_DAY_NONE && done >= r->day))
        continue;
      CoreTask task =
        core_task_make (ctx, CORE_TASK_CLIMATE, CORE_REACH_LOOK, r->day, r->day, r->day, WEIGHT);
      CoreReason why =
        core_because_value (hot ? CORE_R_CLIMATE_HOT : CORE_R_CLIMATE_COLD, CORE_UNIT_CELSIUS, r->t,
                            hot ? ctx->p->look_above.v : ctx->p->look_below.v, r->day, r->entry);
      why.code = inside;
      core_task_why (&task, why);
      task.emergency = true;
      core_plan_add (ctx, &task);
      return;
    }
}
