/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-plan.c — what a parsed round line writes, and whom it leaves out.
 *
 * An exception adds to what was done to all, except: took, refused and fed replace the
 * feeding, moulted drops it, dead, escaped, left and skip drop everything. Where no
 * feeding is said, took and refused speak of the prey of before: they replace "gone".
 * What is typed for one number is written also for a cup that is held, whatever prey it
 * names, and replaces the same action for all.
 */
#include "core/core-plan.h"
#include "core/core-round-private.h"

#include <stdlib.h>
#include <string.h>

typedef struct
{
  const CoreRoundLine *line;
  const CoreRoundCup *cups;
  size_t n_cups;
  RoundWords *drops; /* one a cup: actions that its exceptions take away */
  CoreRoundPlan *out;
} Plan;

static size_t
cup_of (const Plan *self, const char *number, bool lot)
{
  size_t i = 0;

  while (i < self->n_cups && !((lot ? self->cups[i].lot : self->cups[i].living_single) &&
                               strcmp (self->cups[i].number, number) == 0))
    i++;
  return i;
}

static const CoreRoundAction *
first_feeding (const CoreRoundLine *line)
{
  for (size_t i = 0; i < line->n_actions; i++)
    if (line->actions[i].action == CORE_WORD_FED)
      return &line->actions[i];
  return NULL;
}

static RoundWords
drops (const Plan *self, const CoreRoundException *exception)
{
  RoundWords feeding = ROUND_WORD (CORE_WORD_FED);
  bool today = exception->days_back == 0;

  if (exception->lot)
    return 0;
  switch ((int) exception->outcome)
    {
    case CORE_WORD_TOOK:
    case CORE_WORD_REFUSED:
      if (!today)
        return 0;
      return first_feeding (self->line) != NULL ? feeding : ROUND_WORD (CORE_WORD_GONE);
    case CORE_WORD_MOULTED:
    case CORE_WORD_LOOKS_DEAD:
      return feeding;
    case CORE_WORD_FED:
    case CORE_WORD_MISTED:
    case CORE_WORD_WATERED:
    case CORE_WORD_CLEANED:
    case CORE_WORD_LOOKED:
    case CORE_WORD_GONE:
      return today ? ROUND_WORD (exception->outcome) : 0;
    case CORE_WORD_DEAD:
    case CORE_WORD_ESCAPED:
    case CORE_WORD_LEFT:
    case CORE_WORD_SKIP:
      return ROUND_ACTIONS;
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

/* ---- for all ---- */

static bool
is_due (const CoreRoundCup *cup, CoreRoundWord action)
{
  switch ((int) action)
    {
    case CORE_WORD_FED:
      return cup->due_food;
    case CORE_WORD_MISTED:
      return cup->due_mist;
    case CORE_WORD_WATERED:
      return cup->due_water;
    case CORE_WORD_CLEANED:
      return cup->due_clean;
    case CORE_WORD_LOOKED:
      return cup->due_look;
    default:
      return true;
    }
}

static bool
leave_out (Plan *self, const CoreRoundWrite *write, CoreLeftOutWhy why)
{
  const CoreRoundCup *cup = &self->cups[write->cup];
  bool due = write->what != CORE_WORD_GONE && is_due (cup, write->what);

  self->out->left_out[self->out->n_left_out++] = (CoreRoundLeftOut){
    .cup = write->cup,
    .action = write->action,
    .why = why,
    .prey = write->prey,
    .due = due || cup->due_look
  };
  return true;
}

/* Is the cup left out of the action? Then it is listed with the reason. */
static bool
left_out (Plan *self, const CoreRoundWrite *write)
{
  const CoreRoundCup *cup = &self->cups[write->cup];
  int fit = CORE_PREY_FITS;

  if (cup->absent)
    return leave_out (self, write, CORE_LEFT_OUT_NOT_THERE);
  if (round_opening_unsure (&self->line->opening, cup))
    return leave_out (self, write, CORE_LEFT_OUT_STAGE_UNKNOWN);
  if (write->what == CORE_WORD_LOOKED)
    return false;
  if (write->what == CORE_WORD_GONE)
    return !cup->offered && leave_out (self, write, CORE_LEFT_OUT_NOTHING_IN);
  if (cup->held)
    return leave_out (self, write, CORE_LEFT_OUT_HELD);
  if (write->what != CORE_WORD_FED)
    return false;
  if (cup->no_food)
    return leave_out (self, write, CORE_LEFT_OUT_ILL);
  if (write->prey >= 0 && write->prey < CORE_N_PREY)
    fit = cup->prey_fit[write->prey];
  if (fit == CORE_PREY_TOO_LARGE)
    return leave_out (self, write, CORE_LEFT_OUT_TOO_SMALL);
  if (fit == CORE_PREY_UNKNOWN)
    return leave_out (self, write, CORE_LEFT_OUT_LENGTH_UNKNOWN);
  if (fit == CORE_PREY_NOT_FLYING || fit == CORE_PREY_AVOID)
    return leave_out (self, write, CORE_LEFT_OUT_NOT_ITS_PREY);
  return false;
}

/* A lot that the line names is written for as it is said, like an animal by its number. */
static bool
is_meant (const Plan *self, size_t i, CoreRoundWord action)
{
  const CoreRoundOpening *opening = &self->line->opening;
  const CoreRoundCup *cup = &self->cups[i];

  if (opening->lot >= 0)
    return (size_t) opening->lot == i;
  return cup->living_single && (!opening->due || is_due (cup, action)) &&
         (self->drops[i] & ROUND_WORD (action)) == 0 &&
         (round_opening_means (opening, cup) || round_opening_unsure (opening, cup));
}

/* A lot is never among all; one that waits for it is not passed over in silence. */
static bool
waits_as_lot (const Plan *self, size_t i, CoreRoundWord action)
{
  const CoreRoundCup *cup = &self->cups[i];

  return cup->lot && !cup->absent && action != CORE_WORD_GONE && is_due (cup, action) &&
         round_opening_is_all (&self->line->opening);
}

static void
plan_action (Plan *self, size_t action)
{
  const CoreRoundAction *done = &self->line->actions[action];

  for (size_t i = 0; i < self->n_cups; i++)
    {
      CoreRoundWrite write = {
        .cup = i, .what = done->action, .prey = -1, .code = -1, .action = action
      };

      if (waits_as_lot (self, i, done->action))
        (void) leave_out (self, &write, CORE_LEFT_OUT_LOT);
      if (!is_meant (self, i, done->action))
        continue;
      if (done->action == CORE_WORD_FED)
        offer_of (done, &self->cups[i], &write.prey, &write.n);
      if (self->line->opening.lot >= 0 || !left_out (self, &write))
        self->out->writes[self->out->n_writes++] = write;
    }
}

/* ---- single cups ---- */

/* Took, refused and fed name their own prey, else that of the first feeding of the
 * line. Without one, fed is the cup's usual prey, and what it took stays unknown, as does
 * what it took on an earlier day. */
static void
offer_of_one (const Plan *self, const CoreRoundException *exception, CoreRoundWrite *write)
{
  static const CoreRoundAction usual = { .action = CORE_WORD_FED, .prey = -1 };
  const CoreRoundAction *feeding =
    exception->days_back == 0 ? first_feeding (self->line) : NULL;

  if (feeding == NULL && exception->outcome == CORE_WORD_FED)
    feeding = &usual;
  write->prey = exception->prey;
  write->n = exception->n;
  if (exception->prey < 0 && feeding != NULL)
    offer_of (feeding, &self->cups[write->cup], &write->prey, &write->n);
}

static void
plan_exception (Plan *self, size_t i)
{
  const CoreRoundException *exception = &self->line->exceptions[i];
  CoreRoundWrite write = { .what = exception->outcome,
                           .prey = -1,
                           .n = exception->lot ? exception->n : 0,
                           .code = exception->code,
                           .value = exception->value,
                           .to = exception->to,
                           .days_back = exception->days_back,
                           .about = exception->about,
                           .action = i,
                           .exception = true };

  write.cup = cup_of (self, exception->number, exception->lot);
  if (write.cup == self->n_cups || exception->outcome == CORE_WORD_SKIP)
    return;
  if (exception->outcome == CORE_WORD_SWAP)
    {
      write.other = cup_of (self, exception->other, false);
      if (write.other == self->n_cups)
        return;
    }
  if ((ROUND_WORD (exception->outcome) & ROUND_FOOD) != 0)
    offer_of_one (self, exception, &write);
  self->out->writes[self->out->n_writes++] = write;
}

static void
gather_drops (Plan *self)
{
  for (size_t i = 0; i < self->line->n_exceptions; i++)
    {
      const CoreRoundException *exception = &self->line->exceptions[i];
      size_t cup = cup_of (self, exception->number, exception->lot);

      if (cup < self->n_cups)
        self->drops[cup] |= drops (self, exception);
    }
}

CoreStatus
core_round_resolve (const CoreRoundLine *line, const CoreRoundShelf *shelf, CoreRoundPlan *out)
{
  Plan self = { .line = line, .cups = shelf->cups, .n_cups = shelf->n_cups, .out = out };
  size_t all = shelf->n_cups * line->n_actions;

  *out = (CoreRoundPlan){ 0 };
  self.drops = calloc (shelf->n_cups + 1, sizeof *self.drops);
  out->writes = calloc (all + line->n_exceptions + 1, sizeof *out->writes);
  out->left_out = calloc (all + 1, sizeof *out->left_out);
  if (self.drops == NULL || out->writes == NULL || out->left_out == NULL)
    {
      free (self.drops);
      core_round_plan_clear (out);
      return CORE_NO_MEMORY;
    }
  gather_drops (&self);
  for (size_t i = 0; i < line->n_actions; i++)
    plan_action (&self, i);
  for (size_t i = 0; i < line->n_exceptions; i++)
    plan_exception (&self, i);
  free (self.drops);
  return line->n_problems > 0 || line->n_actions + line->n_exceptions == 0 ? CORE_BAD_INPUT
                                                                           : CORE_OK;
}

void
core_round_plan_clear (CoreRoundPlan *self)
{
  free (self->writes);
  free (self->left_out);
  *self = (CoreRoundPlan){ 0 };
}
