/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-plan.c — what a parsed round line writes, and whom it leaves out.
 *
 * An exception adds to what was done to all, except: took, refused and fed replace the
 * feeding, moulted drops it, dead, escaped, left and skip drop everything. What is
 * typed for one number is written also for a cup that is held, whatever prey it names.
 */
#include "core/core-plan.h"
#include "core/core-round-private.h"

#include <stdlib.h>
#include <string.h>

/* What the exceptions of one cup take away. */
enum
{
  DROPS_FEEDING = 1,
  DROPS_ALL = 2
};

typedef struct
{
  const CoreRoundLine *line;
  const CoreRoundCup *cups;
  size_t n_cups;
  uint8_t *drops; /* one a cup */
  CoreRoundPlan *out;
} Plan;

static size_t
cup_of (const Plan *self, const char *number)
{
  size_t i = 0;

  while (i < self->n_cups &&
         !(self->cups[i].living_single && strcmp (self->cups[i].number, number) == 0))
    i++;
  return i;
}

static uint8_t
drops (CoreRoundWord outcome)
{
  switch ((int) outcome)
    {
    case CORE_WORD_TOOK:
    case CORE_WORD_REFUSED:
    case CORE_WORD_FED:
    case CORE_WORD_MOULTED:
      return DROPS_FEEDING;
    case CORE_WORD_DEAD:
    case CORE_WORD_ESCAPED:
    case CORE_WORD_LEFT:
    case CORE_WORD_SKIP:
      return DROPS_FEEDING | DROPS_ALL;
    default:
      return 0;
    }
}

/* What this cup is offered by the action: as typed, else its usual prey. */
static void
offer_of (const CoreRoundAction *action, const CoreRoundCup *cup, int *prey, int *n)
{
  *prey = action->prey >= 0 ? action->prey : cup->usual_prey;
  *n = action->n > 0 || action->prey >= 0 ? action->n : cup->usual_n;
  if (*prey < 0 && action->n == 0)
    *n = 0;
}

static bool
leave_out (Plan *self, size_t cup, size_t action, CoreLeftOutWhy why)
{
  self->out->left_out[self->out->n_left_out++] =
    (CoreRoundLeftOut){ .cup = cup, .action = action, .why = why };
  return true;
}

/* Is the cup left out of the action? Then it is listed with the reason. */
static bool
left_out (Plan *self, size_t cup, size_t action, int prey)
{
  const CoreRoundAction *done = &self->line->actions[action];
  int fit = CORE_PREY_FITS;

  if (done->action == CORE_WORD_LOOKED)
    return false;
  if (self->cups[cup].held)
    return leave_out (self, cup, action, CORE_LEFT_OUT_HELD);
  if (done->action != CORE_WORD_FED)
    return false;
  if (prey >= 0 && prey < CORE_N_PREY)
    fit = self->cups[cup].prey_fit[prey];
  if (fit == CORE_PREY_TOO_LARGE)
    return leave_out (self, cup, action, CORE_LEFT_OUT_TOO_SMALL);
  if (fit == CORE_PREY_NOT_FLYING || fit == CORE_PREY_AVOID)
    return leave_out (self, cup, action, CORE_LEFT_OUT_NOT_ITS_PREY);
  return false;
}

static void
plan_action (Plan *self, size_t action)
{
  const CoreRoundAction *done = &self->line->actions[action];
  bool feeding = done->action == CORE_WORD_FED;

  for (size_t i = 0; i < self->n_cups; i++)
    {
      const CoreRoundCup *cup = &self->cups[i];
      CoreRoundWrite write = { .cup = i, .what = done->action, .prey = -1, .code = -1 };

      if (!cup->living_single || (self->line->opening == CORE_WORD_DUE && !cup->due_food) ||
          (self->drops[i] & DROPS_ALL) != 0 || (feeding && (self->drops[i] & DROPS_FEEDING) != 0))
        continue;
      if (feeding)
        offer_of (done, cup, &write.prey, &write.n);
      if (!left_out (self, i, action, write.prey))
        self->out->writes[self->out->n_writes++] = write;
    }
}

static const CoreRoundAction *
first_feeding (const CoreRoundLine *line)
{
  for (size_t i = 0; i < line->n_actions; i++)
    if (line->actions[i].action == CORE_WORD_FED)
      return &line->actions[i];
  return NULL;
}

/* Took, refused and fed name their own prey, else that of the first feeding of the
 * line. Without one, fed is the cup's usual prey, and what it took stays unknown. */
static void
offer_of_one (const Plan *self, const CoreRoundException *exception, CoreRoundWrite *write)
{
  static const CoreRoundAction usual = { .action = CORE_WORD_FED, .prey = -1 };
  const CoreRoundAction *feeding = first_feeding (self->line);

  if (feeding == NULL && exception->outcome == CORE_WORD_FED)
    feeding = &usual;
  write->prey = exception->prey;
  write->n = exception->n;
  if (exception->prey < 0 && feeding != NULL)
    offer_of (feeding, &self->cups[write->cup], &write->prey, &write->n);
}

static void
plan_exception (Plan *self, const CoreRoundException *exception)
{
  CoreRoundWrite write = { .what = exception->outcome,
                           .prey = -1,
                           .code = exception->code,
                           .value = exception->value,
                           .exception = true };

  write.cup = cup_of (self, exception->number);
  if (write.cup == self->n_cups || exception->outcome == CORE_WORD_SKIP)
    return;
  if ((ROUND_WORD (exception->outcome) & ROUND_FOOD) != 0)
    offer_of_one (self, exception, &write);
  self->out->writes[self->out->n_writes++] = write;
}

CoreStatus
core_round_resolve (const CoreRoundLine *line,
                    const CoreRoundCup *cups,
                    size_t n_cups,
                    CoreRoundPlan *out)
{
  Plan self = { .line = line, .cups = cups, .n_cups = n_cups, .out = out };
  size_t all = n_cups * line->n_actions;

  *out = (CoreRoundPlan){ 0 };
  if (line->n_problems > 0 || line->n_actions + line->n_exceptions == 0)
    return CORE_BAD_INPUT;
  self.drops = calloc (n_cups + 1, 1);
  out->writes = calloc (all + line->n_exceptions + 1, sizeof *out->writes);
  out->left_out = calloc (all + 1, sizeof *out->left_out);
  if (self.drops == NULL || out->writes == NULL || out->left_out == NULL)
    {
      free (self.drops);
      core_round_plan_clear (out);
      return CORE_NO_MEMORY;
    }
  for (size_t i = 0; i < line->n_exceptions; i++)
    {
      size_t cup = cup_of (&self, line->exceptions[i].number);

      if (cup < n_cups)
        self.drops[cup] |= drops (line->exceptions[i].outcome);
    }
  for (size_t i = 0; i < line->n_actions; i++)
    plan_action (&self, i);
  for (size_t i = 0; i < line->n_exceptions; i++)
    plan_exception (&self, &line->exceptions[i]);
  free (self.drops);
  return CORE_OK;
}

void
core_round_plan_clear (CoreRoundPlan *self)
{
  free (self->writes);
  free (self->left_out);
  *self = (CoreRoundPlan){ 0 };
}
