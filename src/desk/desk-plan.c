/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-plan.c — what is to come: growth of one animal, the plan of a span over all. */
#include "core/core-reason-ids.h"
#include "desk/desk-private.h"

#include <string.h>

CoreGrowth
desk_growth (Desk *self, DeskSubject *subject, CoreDimension what, int moults)
{
  const CoreState *state = desk_subject_state (subject);

  if (moults < 0)
    moults = state->moults < 0 ? -1 : state->moults + 1;
  return core_growth (state, desk_subject_profile (subject), desk_subject_verdict (subject)->male,
                      what, moults);
}

void
desk_plan_free (DeskPlan *plan)
{
  g_ptr_array_unref (plan->subjects);
  g_array_unref (plan->tasks);
  g_array_unref (plan->held);
  g_free (plan);
}

static gboolean
all_alone (Desk *self, const DeskSubject *place)
{
  g_autoptr (GPtrArray) subjects = NULL;

  if (desk_subject_kind (place) != CORE_SUBJECT_PLACE)
    return FALSE;
  subjects = desk_subjects_on (self, desk_subject_id (place));
  for (guint i = 0; i < subjects->len; i++)
    if (desk_subject_kind (subjects->pdata[i]) != CORE_SUBJECT_ANIMAL ||
        !core_hold_alone (&desk_subject_plan (subjects->pdata[i])->hold))
      return FALSE;
  return subjects->len > 0;
}

gboolean
desk_clean_waits (Desk *self, const DeskSubject *place, CoreTaskKind kind, CoreDay day)
{
  return kind == CORE_TASK_CLEAN && day <= desk_today (self) && all_alone (self, place);
}

/* A shelf is not cleaned today while all on it are left alone. */
static void
hold_clean (Desk *self, DeskSubject *place, const CoreTask *clean, DeskPlan *plan)
{
  DeskHeldTask row = { .subject = place,
                       .held = { .subject = clean->subject,
                                 .kind = CORE_TASK_CLEAN,
                                 .until = desk_today (self),
                                 .ask_again = desk_today (self) + 1,
                                 .n_reasons = 1 } };

  row.held.reasons[0] = (CoreReason){ .rule = core_plan_reason_id (CORE_R_CLEAN_ALONE),
                                      .day = CORE_DAY_NONE,
                                      .day2 = CORE_DAY_NONE };
  g_array_append_val (plan->held, row);
}

static void
plan_add (Desk *self, DeskPlan *plan, DeskSubject *subject)
{
  CorePlan one;

  core_plan_init (&one);
  desk_subject_plan_span (subject, plan->from, plan->to, &one);
  if (one.tasks.n > 0 || one.held.n > 0)
    g_ptr_array_add (plan->subjects, desk_subject_ref (subject));
  for (gsize i = 0; i < one.tasks.n; i++)
    {
      DeskTask row = { .subject = subject, .task = one.tasks.v[i] };

      if (desk_clean_waits (self, subject, row.task.kind, row.task.day))
        {
          hold_clean (self, subject, &row.task, plan);
          continue;
        }
      g_array_append_val (plan->tasks, row);
    }
  for (gsize i = 0; i < one.held.n; i++)
    {
      DeskHeldTask row = { .subject = subject, .held = one.held.v[i] };

      g_array_append_val (plan->held, row);
    }
  core_plan_clear (&one);
}

/* In the order of core, then by number: the same order every time. */
static int
compare_tasks (gconstpointer a, gconstpointer b)
{
  const DeskTask *x = a;
  const DeskTask *y = b;

  int order = core_task_order (&x->task, &y->task);

  if (order != 0)
    return order;
  if (x->subject != y->subject)
    return desk_compare_by_number (&x->subject, &y->subject);
  return strcmp (x->task.id, y->task.id);
}

/* Of an egg case that has hatched the hatchlings may be in no lot yet. */
static gboolean
is_planned (const DeskRecord *record)
{
  if (record->kind == CORE_SUBJECT_JOURNAL)
    return FALSE;
  return desk_subject_living (record->now) ||
         (record->kind == CORE_SUBJECT_EGGCASE &&
          desk_subject_state (record->now)->end == CORE_END_HATCHED);
}

GPtrArray *
desk_planned_subjects (Desk *self, CoreId place)
{
  GPtrArray *out = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);

  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = g_ptr_array_index (self->all.order, i);
      CoreId stands = record->id;

      if (!is_planned (record))
        continue;
      if (!core_id_is_none (place))
        {
          if (record->kind != CORE_SUBJECT_PLACE &&
              !desk_subject_place (record->now, &stands, NULL))
            continue;
          if (!desk_lies_within (self, stands, place))
            continue;
        }
      g_ptr_array_add (out, desk_subject_ref (record->now));
    }
  return out;
}

DeskPlan *
desk_plan (Desk *self, CoreDay from, CoreDay to, CoreId place)
{
  g_autoptr (GPtrArray) subjects = desk_planned_subjects (self, place);
  DeskPlan *plan = g_new0 (DeskPlan, 1);

  plan->from = from;
  plan->to = to;
  plan->subjects = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  plan->tasks = g_array_new (FALSE, FALSE, sizeof (DeskTask));
  plan->held = g_array_new (FALSE, FALSE, sizeof (DeskHeldTask));
  for (guint i = 0; i < subjects->len; i++)
    plan_add (self, plan, subjects->pdata[i]);
  g_array_sort (plan->tasks, compare_tasks);
  return plan;
}
