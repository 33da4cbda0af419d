/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-take-out.c — prey that bites does not stay overnight.
 *
 * Crickets, roaches, locusts, mealworms: the same evening, the next day at the
 * latest, at once when a moult sign is noted. Flies and moths: never a task. Prey
 * that was not named may bite: a task while the animal is left alone for a moult, or soft after it.
 */
#include "core/core-rule.h"

static const double WEIGHT = 50;
/* After a week what was offered is eaten, dead or gone (ours). */
static const int FORGET_DAYS = 7;

static bool
not_named (int prey)
{
  return prey < 0 || prey == CORE_PREY_OTHER;
}

static bool
may_bite (const CoreRuleContext *ctx, int prey)
{
  return core_prey_bites (prey) || (not_named (prey) && core_hold_alone (&ctx->hold));
}

static const CoreMeal *
left_in (const CoreRuleContext *ctx)
{
  CoreDay done = core_done_day (ctx->s, CORE_TASK_TAKE_OUT, NULL);
  for (size_t i = ctx->s->meals.n; i > 0; i--)
    {
      const CoreMeal *meal = &ctx->s->meals.v[i - 1];
      if (meal->outcome == CORE_FED_NONE_IN_VIEW)
        return NULL; /* seen: nothing is in there any more */
      if (meal->outcome == CORE_FED_TAKEN || meal->gone || !may_bite (ctx, meal->prey))
        continue;
      if (ctx->in->today - meal->day > FORGET_DAYS)
        return NULL;
      return done != CORE_DAY_NONE && done >= meal->day ? NULL : meal;
    }
  return NULL;
}

static const CoreSignSeen *
latest_sign (const CoreState *s, CoreDay since)
{
  const CoreSignSeen *best = NULL;
  for (size_t i = 0; i < s->signs.n; i++)
    if (s->signs.v[i].last >= since && core_state_sign_counts (s, &s->signs.v[i]) &&
        (!best || s->signs.v[i].sign > best->sign))
      best = &s->signs.v[i];
  return best;
}

void
core_rule_take_out (CoreRuleContext *ctx)
{
  const CoreMeal *meal = left_in (ctx);
  if (!meal)
    return;
  const CoreSignSeen *sign = latest_sign (ctx->s, meal->day);
  /* What may bite, not known, is a task only from the day on that the animal must be left alone. */
  CoreDay due = sign && not_named (meal->prey) && sign->first > meal->day ? sign->first : meal->day;
  /* At once for a sign of that evening; one of a later day does not make it late before that day. */
  CoreTask task = core_task_make (ctx, CORE_TASK_TAKE_OUT, CORE_REACH_OPEN, due, due,
                                  sign && sign->first <= due ? due : due + 1, WEIGHT);
  CoreReason bites =
    core_because (not_named (meal->prey) ? CORE_R_TAKE_OUT_NOT_NAMED : CORE_R_TAKE_OUT_BITES,
                  meal->day, meal->entry);
  bites.code = meal->prey;
  bites.value = meal->outcome == CORE_FED_REFUSED; /* it may still be in there */
  core_task_why (&task, bites);
  if (sign)
    {
      CoreReason r = core_because (CORE_R_TAKE_OUT_SIGN, sign->last, sign->entry);
      r.code = sign->sign;
      core_task_why (&task, r);
      task.weight += 20;
    }
  if (core_hold_alone (&ctx->hold))
    core_task_why (&task, core_because (CORE_R_TAKE_OUT_WITHOUT_SHAKING, CORE_DAY_NONE,
                                        (CoreId){ { 0 } }));
  core_plan_add (ctx, &task);
}
