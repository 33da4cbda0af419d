/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-separate.c — lot-mates into cups of their own, before they take each other.
 *
 * Hunger more than crowding is the switch (Hurd & Eisenberg 1984: well-fed hatchlings
 * hardly touched each other at any density, starved ones did), so that food out of view
 * asks for it as well as the stage at which the kind is parted. Communal kinds are asked
 * only after a body.
 */
#include "core/core-rule.h"

static const double WEIGHT = 45;
static const int BODY_DAYS = 3;   /* a body speaks for so long (ours) */
static const int FOOD_DAYS = 2;   /* as long as no food was seen in since (ours) */
static const int WINDOW_DAYS = 2; /* to do it in (ours) */

typedef struct
{
  CoreDay since; /* of the first reason, CORE_DAY_NONE = none */
  CoreReason why[3];
  size_t n_why;
} Wish;

static void
because (Wish *wish, CoreReason reason)
{
  wish->why[wish->n_why++] = reason;
  if (reason.day != CORE_DAY_NONE && (wish->since == CORE_DAY_NONE || reason.day < wish->since))
    wish->since = reason.day;
}

/* A death within the last days: of what, nobody may have seen. */
static void
by_body (const CoreRuleContext *ctx, Wish *wish)
{
  for (size_t i = ctx->s->steps.n; i > 0; i--)
    {
      const CoreTallyStep *step = &ctx->s->steps.v[i - 1];
      if (step->kind != CORE_KIND_DIED || step->day > ctx->in->today)
        continue;
      if (ctx->in->today - step->day <= BODY_DAYS)
        because (wish, core_because_value (CORE_R_SEPARATE_BODY, CORE_UNIT_TIMES,
                                           (double) -step->change, 0, step->day, step->entry));
      return;
    }
}

/* No food in view at the last time that somebody looked for it. */
static void
by_food (const CoreRuleContext *ctx, Wish *wish)
{
  const CoreMeal *last = ctx->s->meals.n ? &ctx->s->meals.v[ctx->s->meals.n - 1] : NULL;
  if (!last || ctx->p->communal || last->outcome != CORE_FED_NONE_IN_VIEW ||
      last->day > ctx->in->today || ctx->in->today - last->day > FOOD_DAYS)
    return;
  because (wish, core_because (CORE_R_SEPARATE_NO_FOOD, last->day, last->entry));
}

static void
by_stage (const CoreRuleContext *ctx, Wish *wish)
{
  CoreDay since = core_stage_since (ctx->s);
  if (ctx->p->communal || ctx->p->split_moults < 0 || ctx->m_high < ctx->p->split_moults)
    return;
  because (wish, core_because_value (CORE_R_SEPARATE_STAGE, CORE_UNIT_MOULTS, ctx->p->split_moults,
                                     ctx->m_high, since == CORE_DAY_NONE ? ctx->in->today : since,
                                     (CoreId){ { 0 } }));
}

void
core_rule_separate (CoreRuleContext *ctx)
{
  Wish wish = { .since = CORE_DAY_NONE };
  CoreDay done = core_done_day (ctx->s, CORE_TASK_SEPARATE, NULL);
  /* One alone has nobody to take; of an estimate nobody knows. */
  if (ctx->s->tally.known && ctx->s->tally.counted && ctx->s->tally.count < 2)
    return;
  by_stage (ctx, &wish);
  by_body (ctx, &wish);
  by_food (ctx, &wish);
  if (wish.n_why == 0)
    return;
  CoreDay latest_cause = wish.since;
  for (size_t i = 0; i < wish.n_why; i++)
    latest_cause = core_later (latest_cause, wish.why[i].day);
  if (done != CORE_DAY_NONE && done >= latest_cause)
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_SEPARATE, CORE_REACH_OPEN, wish.since, wish.since,
                                  wish.since + WINDOW_DAYS, WEIGHT);
  core_task_id_stage (&task, ctx->s->moults);
  for (size_t i = 0; i < wish.n_why; i++)
    core_task_why (&task, wish.why[i]);
  core_plan_add (ctx, &task);
}
