/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-standin.c — see core-standin.h. */
#include "core/core-standin.h"

#include <string.h>

#include "core/core-rule.h"

/* The highest stage that it may be in, moults since the hatch; -1 = nobody knows. */
static int
highest (const CoreState *state)
{
  int m = CORE_MAX_MOULTS;

  while (m >= 0 && state->moults_p[m] <= 0)
    m--;
  return m;
}

/* The careful side: of the stages that the next moult may lead to, the longest rest. */
static int
rest_days (const CoreState *state, const CoreProfile *profile)
{
  int most = 0, now = highest (state);
  CoreHardRow from = CORE_HARD_M3, to = CORE_HARD_SUBADULT;

  if (state->kind != CORE_SUBJECT_ANIMAL || state->adult)
    return 0;
  if (state->subadult)
    from = to = CORE_HARD_ADULT;
  else if (now >= 0 && now < 3)
    to = CORE_HARD_M3;
  for (CoreHardRow row = from; row <= to; row++)
    {
      int days = (int) profile->food_days[row].b.v;

      most = days > most ? days : most;
    }
  return most;
}

static void
add_task (const CorePlanInput *input, const CoreTask *task, CoreStandin *out)
{
  CoreStandinDay *at;

  if (task->day < input->from || task->day > input->to)
    return;
  at = &out->days[task->day - input->from];
  at->feed |= task->kind == CORE_TASK_FEED;
  at->mist |= task->kind == CORE_TASK_MIST;
  at->water |= task->kind == CORE_TASK_WATER;
}

/* One prey for all days, whatever the next meal is by exception. What bites has to come out again
 * in the evening, which somebody who knows nothing is asked for only where nothing else fits. */
static void
choose_prey (const CorePlanInput *input, CoreStandin *out)
{
  CorePreyWish wish = { .last = -1, .no_bites = true };
  CoreRuleContext ctx;
  CoreTask meal;
  CorePlan none;

  core_plan_init (&none);
  core_rule_context_init (&ctx, input, &none);
  memset (&meal, 0, sizeof meal);
  core_prey_offer (&ctx, &wish, &meal);
  if (meal.n_prey == 0)
    return;
  out->prey = meal.prey[0].prey;
  out->n = meal.prey[0].n;
  out->take_out = core_prey_bites (out->prey);
}

/* Of the meals only, where what is held back is asked about. */
static void
add_tasks (const CorePlanInput *input, const CorePlan *plan, bool meals_only, CoreStandin *out)
{
  /* What is held back is nobody's to feed, also not before the first day. */
  for (size_t i = 0; i < plan->tasks.n && !meals_only; i++)
    out->fed_before |= plan->tasks.v[i].kind == CORE_TASK_FEED && plan->tasks.v[i].day < input->from;
  for (size_t i = 0; i < plan->tasks.n; i++)
    if (!meals_only || plan->tasks.v[i].kind == CORE_TASK_FEED)
      add_task (input, &plan->tasks.v[i], out);
}

/* The same animal as if no sign of a moult had been seen. */
static CoreStatus
add_meals_behind (const CorePlanInput *input, CorePlan *plan, CoreStandin *out)
{
  CoreState calm = *input->state; /* borrows what it points to */
  CorePlanInput asked = *input;
  CoreStatus status;

  calm.signs.n = 0;
  asked.state = &calm;
  status = core_plan (&asked, plan);
  if (status == CORE_OK)
    add_tasks (input, plan, true, out);
  return status;
}

static void
close_days (const CorePlanInput *input, const CoreHold *hold, CoreStandin *out)
{
  CoreDay until = hold->until == CORE_DAY_NONE ? input->to : hold->until;

  if (hold->kind == CORE_HOLD_NONE || hold->reach != CORE_REACH_OPEN)
    return;
  for (CoreDay day = input->from; day <= until && day <= input->to; day++)
    out->days[day - input->from].closed = true;
}

CoreStatus
core_standin (const CorePlanInput *input, CoreStandin *out)
{
  CorePlanInput asked = *input;
  CorePlan plan;
  CoreStatus status;

  memset (out, 0, sizeof *out);
  out->prey = -1;
  if (input->to < input->from || input->to - input->from >= CORE_STANDIN_DAYS)
    return CORE_BAD_INPUT;
  if (input->today < input->from)
    asked.from = input->today;
  core_plan_init (&plan);
  status = core_plan (&asked, &plan);
  if (status == CORE_OK)
    {
      CoreHold hold = plan.hold;

      out->rest_days = rest_days (input->state, input->profile);
      out->until_moult = hold.kind == CORE_HOLD_BEFORE;
      out->flies_always = input->state->kind == CORE_SUBJECT_LOT && input->state->moults <= 2;
      if (input->state->kind == CORE_SUBJECT_ANIMAL || input->state->kind == CORE_SUBJECT_LOT)
        choose_prey (input, out);
      add_tasks (input, &plan, false, out);
      close_days (input, &hold, out);
      if (out->until_moult)
        status = add_meals_behind (input, &plan, out);
    }
  core_plan_clear (&plan);
  return status;
}
