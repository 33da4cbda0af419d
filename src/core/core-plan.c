/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-plan.c — runs the rules and decides what of them is held back.
 *
 * The next occurrence of a task is certain (as things stand); later ones in
 * the span asked for are projected by its interval, marked so, and weigh half.
 * A missed task keeps its due day and rolls to today: one task per kind.
 */
#include "core/core-plan.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-rule.h"

/* For a week after trouble was entered the care of that animal comes before that of others (ours). */
static const int TROUBLE_DAYS = 7;
/* Projections of one task in one plan; a year of daily ones. */
static const int MOST_PROJECTED = 370;

/* An earlier plan makes room for the next one and keeps what it has grown to. */
static void
empty (CorePlan *self)
{
  CorePlan grown = *self;

  core_plan_init (self);
  self->tasks.v = grown.tasks.v;
  self->tasks.cap = grown.tasks.cap;
  self->rows.v = grown.rows.v;
  self->rows.cap = grown.rows.cap;
  self->held.v = grown.held.v;
  self->held.cap = grown.held.cap;
}

void
core_plan_init (CorePlan *self)
{
  memset (self, 0, sizeof *self);
  self->trouble_what = self->ill = -1;
  self->ill_free = CORE_DAY_NONE;
  self->hold.since = self->hold.until = CORE_DAY_NONE;
  self->hold.ask_again = CORE_DAY_NONE;
  self->hold.food_until = self->hold.touch_until = CORE_DAY_NONE;
}

void
core_plan_clear (CorePlan *self)
{
  free (self->tasks.v);
  free (self->rows.v);
  free (self->held.v);
  core_plan_init (self);
}

static bool
grow (void **v, size_t *cap, size_t n, size_t size)
{
  if (n < *cap)
    return true;
  size_t more = *cap ? *cap * 2 : 16;
  void *bigger = realloc (*v, more * size);
  if (!bigger)
    return false;
  *v = bigger;
  *cap = more;
  return true;
}

static CoreTaskRank
rank_of (const CorePlan *plan, const CoreTask *task)
{
  bool care = task->kind == CORE_TASK_LOOK || task->kind == CORE_TASK_FEED ||
              task->kind == CORE_TASK_TAKE_OUT || task->kind == CORE_TASK_MIST;
  if (task->emergency)
    return CORE_RANK_EMERGENCY;
  return task->trouble || task->kind == CORE_TASK_IS_DEAD || (plan->trouble_fresh && care)
           ? CORE_RANK_TROUBLE
           : CORE_RANK_USUAL;
}

static CoreDay
shown_on (const CoreRuleContext *ctx, CoreDay due)
{
  return due > ctx->in->today ? due : ctx->in->today;
}

static void
push_row (CoreRuleContext *ctx, const CoreTask *task)
{
  CorePlan *out = ctx->out;
  void *v = out->rows.v;
  if (!grow (&v, &out->rows.cap, out->rows.n, sizeof *out->rows.v))
    {
      ctx->failed = true;
      return;
    }
  out->rows.v = v;
  out->rows.v[out->rows.n] = (CoreTaskRow){ .weight = task->weight,
                                            .day = shown_on (ctx, task->due),
                                            .due = task->due,
                                            .latest = task->latest,
                                            .nth = (unsigned) out->rows.n,
                                            .rank = (uint8_t) rank_of (out, task),
                                            .kind = (uint8_t) task->kind,
                                            .prey = (int8_t) (task->n_prey > 0 ? task->prey[0].prey : -1),
                                            .projected = task->projected };
  out->rows.n++;
}

/* Most tasks have one reason, and a reason is the largest part of them: the rest is not copied. */
static void
copy_task (CoreTask *to, const CoreTask *from)
{
  memcpy (to, from, offsetof (CoreTask, reasons) + from->n_reasons * sizeof *from->reasons);
}

static void
push_task (CoreRuleContext *ctx, const CoreTask *task)
{
  CorePlan *out = ctx->out;
  CoreTask *pushed;
  void *v = out->tasks.v;
  if (ctx->in->rows)
    {
      push_row (ctx, task);
      return;
    }
  if (!grow (&v, &out->tasks.cap, out->tasks.n, sizeof *task))
    {
      ctx->failed = true;
      return;
    }
  out->tasks.v = v;
  pushed = &out->tasks.v[out->tasks.n];
  copy_task (pushed, task);
  pushed->nth = (unsigned) out->tasks.n++;
  pushed->rank = rank_of (out, task);
  pushed->day = shown_on (ctx, task->due);
}

void
core_plan_hold (CoreRuleContext *ctx, const CoreHeld *held)
{
  CorePlan *out = ctx->out;
  void *v = out->held.v;
  for (size_t i = 0; i < out->held.n; i++)
    if (out->held.v[i].kind == held->kind)
      return;
  if (!grow (&v, &out->held.cap, out->held.n, sizeof *held))
    {
      ctx->failed = true;
      return;
    }
  out->held.v = v;
  out->held.v[out->held.n++] = *held;
}

/* A window that is over rolls to today. */
bool
core_plan_touches (const CoreRuleContext *ctx, const CoreTask *task)
{
  CoreDay last = task->latest > ctx->in->today ? task->latest : ctx->in->today;
  return task->earliest <= ctx->in->to && last >= ctx->in->from;
}

/* Without food for longer it is asked about again, whatever was put off (ours); the young ones as
 * long as refusals may hold food. */
static CoreDay
longest_without_food (const CoreRuleContext *ctx)
{
  bool small = !ctx->s->adult && !ctx->s->subadult && ctx->m_low >= 0 && ctx->m_low <= 2;
  return small ? 2 : 7;
}

/* A look cannot be put off past the day on which the animal has not been seen for four, nor food
 * for long. */
static CoreDay
put_off_until (const CoreRuleContext *ctx, const CoreTask *task, const CoreRuleMark *mark)
{
  CoreDay until = mark->until, seen = core_unseen_since (ctx->s), most = CORE_DAY_NONE;
  if (task->kind == CORE_TASK_LOOK && seen != CORE_DAY_NONE)
    most = seen + CORE_UNSEEN_DAYS;
  if (task->kind == CORE_TASK_FEED && ctx->s->last_offered > mark->day)
    return CORE_DAY_NONE; /* fed since: that is over */
  if (task->kind == CORE_TASK_FEED)
    most = core_later (mark->day, task->due) + longest_without_food (ctx);
  return until == CORE_DAY_NONE || most == CORE_DAY_NONE || until < most ? until : most;
}

/* Said also where nothing of the task is left in the span. */
static void
hold_put_off (CoreRuleContext *ctx, const CoreTask *task, CoreDay until, CoreReason why)
{
  CoreHeld held;
  if (until <= ctx->in->today || task->kind == CORE_TASK_LOOK || !core_plan_touches (ctx, task))
    return;
  memset (&held, 0, sizeof held);
  held.subject = task->subject;
  held.kind = task->kind;
  held.until = until - 1;
  held.ask_again = until;
  core_held_why (&held, why);
  core_plan_hold (ctx, &held);
}

/* Put off: not before that day. Marks whose day is over move nothing. */
static void
apply_put_off (CoreRuleContext *ctx, CoreTask *task)
{
  const CoreRuleMark *mark = NULL;
  for (size_t i = 0; i < ctx->s->put_off.n; i++)
    if (strcmp (ctx->s->put_off.v[i].rule, core_task_name (task->kind)) == 0)
      mark = &ctx->s->put_off.v[i];
  if (!mark)
    return;
  CoreDay until = put_off_until (ctx, task, mark);
  if (until == CORE_DAY_NONE || until <= task->earliest)
    return;
  CoreReason why = core_because (CORE_R_PUT_OFF, mark->until, mark->entry);
  why.code = until < mark->until;
  why.day2 = why.code ? until : CORE_DAY_NONE;
  if (task->due < until)
    hold_put_off (ctx, task, until, why);
  task->earliest = until;
  if (task->due < until)
    {
      task->due = until;
      core_task_why (task, why);
    }
  if (task->latest < task->due)
    task->latest = task->due;
}

/* Feeding answers for itself (rule-feed.c); prey that bites goes out whenever
 * that can be done; through the wall and the mesh is always allowed. */
static bool
may_be_held (const CoreRuleContext *ctx, const CoreTask *task)
{
  if (ctx->lot)
    return task->reach == CORE_REACH_TOUCH && !task->emergency &&
           (ctx->some_sign || ctx->some_moulted);
  return !task->emergency && ctx->hold.kind != CORE_HOLD_NONE &&
         task->reach >= ctx->hold.reach && task->kind != CORE_TASK_FEED &&
         task->kind != CORE_TASK_TAKE_OUT;
}

/* After a moult the lid may be lifted again when food may come. */
static CoreDay
held_until (const CoreRuleContext *ctx, const CoreTask *task)
{
  if (ctx->lot)
    return ctx->in->today; /* that day, no more: the others must be fed and parted */
  if (ctx->hold.kind == CORE_HOLD_AFTER && task->reach == CORE_REACH_TOUCH)
    return ctx->hold.touch_until;
  return ctx->hold.until;
}

static CoreReason
lot_today (const CoreRuleContext *ctx)
{
  CoreId none = { { 0 } };
  CoreReason r = core_because (CORE_R_HOLD_LOT_TODAY, ctx->in->today,
                               ctx->some_sign ? ctx->some_sign->entry : none);
  r.code = ctx->some_sign ? ctx->some_sign->sign : -1;
  return r;
}

static void
hold_back (CoreRuleContext *ctx, const CoreTask *task)
{
  CoreHeld held;
  memset (&held, 0, sizeof held);
  held.subject = task->subject;
  held.kind = task->kind;
  held.until = held_until (ctx, task);
  held.ask_again = held.until == CORE_DAY_NONE ? ctx->hold.ask_again : held.until + 1;
  for (size_t i = 0; i < ctx->hold.n_reasons; i++)
    core_held_why (&held, ctx->hold.reasons[i]);
  if (ctx->lot)
    core_held_why (&held, lot_today (ctx));
  core_plan_hold (ctx, &held);
}

/* What was due while it was forbidden is due, not overdue, on the first day on which it may be
 * done. */
static void
apply_freed (const CoreRuleContext *ctx, CoreTask *task)
{
  CoreDay due = core_hold_freed (ctx, task->kind, task->reach, task->due);
  if (task->emergency || due == task->due)
    return;
  task->earliest = task->due = due;
  if (task->latest < due)
    task->latest = due;
}

/* False when nothing of the task is left to do in the span. */
static bool
admit (CoreRuleContext *ctx, CoreTask *task)
{
  if (!task->emergency)
    apply_put_off (ctx, task);
  if (!may_be_held (ctx, task))
    {
      apply_freed (ctx, task);
      return core_plan_touches (ctx, task);
    }
  CoreDay until = held_until (ctx, task);
  if (until != CORE_DAY_NONE && task->due > until)
    return core_plan_touches (ctx, task);
  if (core_plan_touches (ctx, task))
    hold_back (ctx, task);
  if (until == CORE_DAY_NONE)
    return false;
  task->earliest = task->due = until + 1;
  if (task->latest < task->due)
    task->latest = task->due;
  return core_plan_touches (ctx, task);
}

/* What looks dead today is neither fed nor sprayed: it is looked at again first. */
static bool
waits_for_life (const CoreRuleContext *ctx, const CoreTask *task)
{
  bool care = task->kind == CORE_TASK_FEED || task->kind == CORE_TASK_MIST ||
              task->kind == CORE_TASK_WATER || task->kind == CORE_TASK_CLEAN ||
              task->kind == CORE_TASK_HOME || task->kind == CORE_TASK_SEX_CHECK;
  return care && !ctx->lot && core_state_looks_dead (ctx->s);
}

/* In the cold it neither eats nor is it moved or wetted: first the temperature. */
static bool
waits_for_warmth (const CoreRuleContext *ctx, const CoreTask *task)
{
  return ctx->stands.side < 0 && !ctx->lot &&
         (task->kind == CORE_TASK_FEED || task->kind == CORE_TASK_MIST ||
          task->kind == CORE_TASK_WATER || task->kind == CORE_TASK_HOME ||
          task->kind == CORE_TASK_SEX_CHECK);
}

static void
hold_for_warmth (CoreRuleContext *ctx, const CoreTask *task)
{
  CoreHeld held;
  memset (&held, 0, sizeof held);
  held.subject = task->subject;
  held.kind = task->kind;
  held.until = ctx->in->today;
  held.ask_again = ctx->in->today + 1;
  core_held_why (&held, core_stands_reason (ctx));
  core_plan_hold (ctx, &held);
}

void
core_plan_add (CoreRuleContext *ctx, CoreTask *task)
{
  if (waits_for_life (ctx, task))
    return;
  if (waits_for_warmth (ctx, task))
    {
      if (core_plan_touches (ctx, task))
        hold_for_warmth (ctx, task);
      return;
    }
  if (admit (ctx, task))
    push_task (ctx, task);
}

static CoreDay
step_after (const CoreEvery *every, CoreDay day)
{
  if (day >= every->daily_from && day < every->daily_to)
    return 1;
  return every->a >= 1 ? (CoreDay) floor (every->a) : 1;
}

/* A projection stands on the occurrence before it, not on what was entered. */
static void
say_projected (CoreTask *next, CoreDay step, CoreDay before)
{
  next->n_reasons = 0;
  core_task_why (next, core_because_value (CORE_R_PROJECTED, CORE_UNIT_DAYS, step, 0, before,
                                           (CoreId){ { 0 } }));
  core_task_id_day (next, before + step);
}

static void
project (CoreRuleContext *ctx, const CoreTask *task, const CoreEvery *every, CoreDay day)
{
  CoreTask next = *task;
  CoreDay slack = (CoreDay) floor (every->b) - (CoreDay) floor (every->a);
  next.projected = true;
  next.weight *= .5;
  for (int i = 0; i < MOST_PROJECTED; i++)
    {
      CoreDay step = step_after (every, day);
      if (day + step > ctx->in->to)
        break;
      if (!ctx->in->rows)
        say_projected (&next, step, day);
      day += step;
      next.earliest = next.due = day;
      next.latest = day + (step > 1 ? slack : 0);
      if (day >= ctx->in->from)
        push_task (ctx, &next);
    }
}

void
core_plan_repeat (CoreRuleContext *ctx, CoreTask *task, CoreEvery every)
{
  bool held_open = may_be_held (ctx, task) && held_until (ctx, task) == CORE_DAY_NONE;
  core_plan_add (ctx, task);
  if (held_open || waits_for_life (ctx, task) || waits_for_warmth (ctx, task))
    return;
  CoreDay day = task->due > ctx->in->today ? task->due : ctx->in->today;
  CoreDay step = step_after (&every, day);
  if (ctx->in->from > every.daily_to && ctx->in->from > day + step)
    day += (ctx->in->from - day - 1) / step * step; /* skip what nobody asked for */
  project (ctx, task, &every, day);
}

static void
note_trouble (CoreRuleContext *ctx, int what, CoreDay day)
{
  CorePlan *out = ctx->out;
  out->trouble = true;
  out->trouble_what = what;
  out->trouble_fresh |= ctx->in->today - day <= TROUBLE_DAYS;
}

/* The latest that is not answered. */
static void
find_trouble (CoreRuleContext *ctx)
{
  CorePlan *out = ctx->out;
  const CoreState *s = ctx->s;
  const CoreStage *bad = core_bad_moult_open (ctx);
  CoreDay last = CORE_DAY_NONE;
  out->thin = (ctx->belly == CORE_BELLY_KNOWN && s->belly > 0 && s->belly <= 2) ||
              core_trouble_open (ctx, CORE_TROUBLE_THIN);
  if (out->thin)
    note_trouble (ctx, CORE_TROUBLE_THIN, ctx->in->today);
  for (int what = 0; what < CORE_N_TROUBLES; what++)
    {
      const CoreTroubleSeen *t = core_trouble_open (ctx, what);
      if (!t || t->day < last)
        continue;
      last = t->day;
      note_trouble (ctx, what, t->day);
    }
  if (bad)
    note_trouble (ctx, bad->outcome == CORE_MOULT_STUCK ? -1 : CORE_TROUBLE_FELL, bad->found);
}

static void
find_unseen (CoreRuleContext *ctx)
{
  if (ctx->s->kind != CORE_SUBJECT_ANIMAL && !ctx->lot)
    return;
  CoreDay seen = core_unseen_since (ctx->s);
  ctx->out->unseen_long = seen != CORE_DAY_NONE && ctx->in->today - seen >= CORE_UNSEEN_DAYS;
}

/* All that is due by today is one day: what was missed goes quiet in it. */
int
core_task_order (const CoreTask *a, const CoreTask *b)
{
  if (a->day != b->day)
    return a->day < b->day ? -1 : 1;
  if (a->rank != b->rank)
    return a->rank < b->rank ? -1 : 1;
  return a->weight > b->weight ? -1 : a->weight < b->weight ? 1 : 0;
}

bool
core_task_missed (const CoreTask *task, CoreDay today)
{
  return task->due < today && task->rank == CORE_RANK_USUAL && !task->projected && !task->forward &&
         task->kind != CORE_TASK_TAKE_OUT;
}

static int
by_day (const void *a, const void *b)
{
  const CoreTask *x = a, *y = b;
  int order = core_task_order (x, y);
  return order != 0 ? order : strcmp (x->id, y->id);
}

static CoreStatus
run (CoreRuleContext *ctx)
{
  for (size_t i = 0; i < core_n_rules; i++)
    if (core_rules[i].subjects & CORE_FOR (ctx->s->kind))
      core_rules[i].run (ctx);
  if (ctx->failed)
    {
      core_plan_clear (ctx->out);
      return CORE_NO_MEMORY;
    }
  if (ctx->out->tasks.n > 1)
    qsort (ctx->out->tasks.v, ctx->out->tasks.n, sizeof *ctx->out->tasks.v, by_day);
  return CORE_OK;
}

static bool
has_conflict (const CoreState *s, CoreConflictKind kind)
{
  for (size_t i = 0; i < s->conflicts.n; i++)
    if (s->conflicts.v[i].kind == kind)
      return true;
  return false;
}

/* An egg case of which no more is awaited may still have hatchlings that are in no lot. */
static bool
is_planned (const CoreState *s)
{
  if (s->last_day == CORE_DAY_NONE && has_conflict (s, CORE_CONFLICT_FUTURE))
    return false; /* all of it is of days to come: it is not here yet */
  if (s->kind == CORE_SUBJECT_EGGCASE && s->end == CORE_END_HATCHED)
    return true;
  return s->end == CORE_END_NONE &&
         (s->kind == CORE_SUBJECT_ANIMAL || s->kind == CORE_SUBJECT_LOT ||
          s->kind == CORE_SUBJECT_EGGCASE || s->kind == CORE_SUBJECT_CULTURE);
}

CoreStatus
core_plan (const CorePlanInput *input, CorePlan *out)
{
  CoreRuleContext ctx;
  const CoreState *s = input->state;
  empty (out);
  if (!input->profile || input->from > input->to || input->from == CORE_DAY_NONE ||
      input->to == CORE_DAY_NONE)
    return CORE_BAD_INPUT;
  if (!is_planned (s))
    return CORE_OK;
  core_rule_context_init (&ctx, input, out);
  ctx.hold = core_hold_of (&ctx);
  out->hold = ctx.hold;
  out->resting = ctx.resting;
  find_trouble (&ctx);
  core_ill_find (&ctx);
  if (core_ill_holds (&ctx))
    {
      out->ill = ctx.ill->what;
      out->ill_free = ctx.ill_free;
    }
  find_unseen (&ctx);
  return run (&ctx);
}

CoreStatus
core_plan_place (const CorePlanInput *input, CorePlan *out)
{
  CoreRuleContext ctx;
  empty (out);
  if (input->from > input->to || input->from == CORE_DAY_NONE || input->to == CORE_DAY_NONE)
    return CORE_BAD_INPUT;
  if (input->state->kind != CORE_SUBJECT_PLACE || input->state->end != CORE_END_NONE)
    return CORE_OK;
  core_rule_context_init (&ctx, input, out);
  ctx.hold = out->hold;
  return run (&ctx);
}

CoreHold
core_hold_now (const CorePlanInput *input)
{
  CorePlan none;
  CoreRuleContext ctx;
  core_plan_init (&none);
  if (!input->profile || input->state->end != CORE_END_NONE ||
      input->state->kind != CORE_SUBJECT_ANIMAL)
    return none.hold;
  core_rule_context_init (&ctx, input, &none);
  return core_hold_of (&ctx);
}
