/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-separate.c — lot-mates into cups of their own, before they take each other.
 *
 * Hunger more than crowding is the switch (Hurd & Eisenberg 1984: well-fed hatchlings
 * hardly touched each other at any density, starved ones did), so that food out of view
 * asks for it as well as the stage at which the kind is parted. Communal kinds are asked
 * only after a body.
 */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 45;
static const int BODY_DAYS = 3;   /* a body speaks for so long (ours) */
static const int MANY = 20;       /* of so many hatchlings one, in some days (ours) */
static const int FOOD_DAYS = 2;   /* as long as no food was seen in since (ours) */
static const int WINDOW_DAYS = 2; /* to do it in (ours) */
/* One predator can take another from this ratio of lengths on: Hurd 1988. */
static const double SIZE_RATIO = 1.37;

typedef struct
{
  CoreDay since; /* of the first reason, CORE_DAY_NONE = none */
  CoreReason why[5];
  size_t n_why;
} Wish;

static void
because (Wish *wish, CoreReason reason)
{
  wish->why[wish->n_why++] = reason;
  if (reason.day != CORE_DAY_NONE && (wish->since == CORE_DAY_NONE || reason.day < wish->since))
    wish->since = reason.day;
}

/* Some hatchlings die whatever is done: one of many is looked into before all are parted (ours). */
static bool
few_of_many (const CoreRuleContext *ctx, const CoreTallyStep *step)
{
  const CoreTally *tally = &ctx->s->tally;
  return ctx->m_high == 0 && tally->known && -step->change * MANY <= tally->count;
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
        because (wish, core_because_value (few_of_many (ctx, step) ? CORE_R_SEPARATE_FEW
                                                                   : CORE_R_SEPARATE_BODY,
                                           CORE_UNIT_TIMES, (double) -step->change,
                                           (double) ctx->s->tally.count, step->day, step->entry));
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

/* Some moulted and the others did not: a moult is a third in length, so that they are food. */
static void
by_moult (const CoreRuleContext *ctx, Wish *wish)
{
  const CoreAhead *ahead = &ctx->s->ahead;
  const CoreTally *tally = &ctx->s->tally;
  if (ctx->p->communal || ahead->n == 0 || (tally->known && ahead->n >= tally->count))
    return;
  because (wish, core_because_value (CORE_R_SEPARATE_AHEAD, CORE_UNIT_TIMES, (double) ahead->n,
                                     tally->known ? (double) tally->count : NAN, ahead->day,
                                     ahead->entry));
}

/* Largest and smallest body measured in this stage. */
static void
by_size (const CoreRuleContext *ctx, Wish *wish)
{
  const CoreMeasure *large = NULL, *small = NULL;
  for (size_t i = 0; i < ctx->s->measures.n; i++)
    {
      const CoreMeasure *m = &ctx->s->measures.v[i];
      if (m->what != CORE_DIM_BODY || m->stage + 1 != (int) ctx->s->stages.n)
        continue;
      large = !large || m->mm > large->mm ? m : large;
      small = !small || m->mm < small->mm ? m : small;
    }
  if (ctx->p->communal || !large || large->mm < SIZE_RATIO * small->mm - 1e-9)
    return;
  because (wish, core_because_value (CORE_R_SEPARATE_SIZE, CORE_UNIT_MM, large->mm, small->mm,
                                     core_later (large->day, small->day), large->entry));
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
  by_moult (ctx, &wish);
  by_size (ctx, &wish);
  if (wish.n_why == 0)
    return;
  CoreDay latest_cause = wish.since;
  for (size_t i = 0; i < wish.n_why; i++)
    latest_cause = core_later (latest_cause, wish.why[i].day);
  if (done != CORE_DAY_NONE && done >= latest_cause)
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_SEPARATE, CORE_REACH_TOUCH, wish.since, wish.since,
                                  wish.since + WINDOW_DAYS, WEIGHT);
  core_task_id_stage (&task, ctx->s->moults);
  for (size_t i = 0; i < wish.n_why && wish.n_why > 1; i++)
    if (strcmp (wish.why[i].rule, core_plan_reason_id (CORE_R_SEPARATE_FEW)) == 0)
      wish.why[i].rule = core_plan_reason_id (CORE_R_SEPARATE_BODY); /* it is not alone */
  for (size_t i = 0; i < wish.n_why; i++)
    core_task_why (&task, wish.why[i]);
  core_plan_add (ctx, &task);
}
