/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-agenda.c — the plan of a span over a collection of any size: some bytes for each task.
 *
 * Rows say what a calendar draws; the whole task with its reasons is made again
 * from the subject, which stays what it was when the agenda was made. */
#include "desk/desk-agenda.h"

#include <string.h>

#include "desk/desk-private.h"

void
desk_agenda_free (DeskAgenda *agenda)
{
  g_ptr_array_unref (agenda->subjects);
  g_array_unref (agenda->rows);
  g_array_unref (agenda->held);
  g_array_unref (agenda->alone);
  g_free (agenda);
}

static void
hold_clean (Desk *self, DeskAgenda *agenda, guint32 subject)
{
  DeskAgendaHeld row = { .subject = subject,
                         .until = desk_today (self),
                         .ask_again = desk_today (self) + 1,
                         .kind = CORE_TASK_CLEAN };

  g_array_append_val (agenda->held, row);
}

static void
add_rows (Desk *self, DeskAgenda *agenda, guint32 subject, const CorePlan *plan)
{
  GArray *rows = agenda->rows;
  guint at = rows->len;

  g_array_set_size (rows, at + (guint) plan->rows.n);
  for (gsize i = 0; i < plan->rows.n; i++)
    {
      const CoreTaskRow *row = &plan->rows.v[i];

      if (desk_clean_waits (self, agenda->subjects->pdata[subject], (CoreTaskKind) row->kind, row->day))
        {
          hold_clean (self, agenda, subject);
          continue;
        }
      g_array_index (rows, DeskAgendaRow, at++) = (DeskAgendaRow){ .weight = row->weight,
                                                                         .subject = subject,
                                                                         .nth = row->nth,
                                                                         .day = row->day,
                                                                         .due = row->due,
                                                                         .latest = row->latest,
                                                                         .rank = row->rank,
                                                                         .kind = row->kind,
                                                                         .prey = row->prey,
                                                                         .projected =
                                                                           row->projected };
    }
  g_array_set_size (rows, at);
}

static void
add_subject (Desk *self, DeskAgenda *agenda, DeskSubject *subject, CorePlan *plan)
{
  guint32 at = agenda->subjects->len;
  gboolean alone;

  desk_subject_plan_rows (subject, agenda->from, agenda->to, plan);
  alone =
    core_hold_alone (&plan->hold) && desk_subject_kind (subject) == CORE_SUBJECT_ANIMAL;
  if (plan->rows.n == 0 && plan->held.n == 0 && !alone)
    return;
  g_ptr_array_add (agenda->subjects, desk_subject_ref (subject));
  if (alone)
    g_array_append_val (agenda->alone, at);
  add_rows (self, agenda, at, plan);
  for (gsize i = 0; i < plan->held.n; i++)
    {
      DeskAgendaHeld row = { .subject = at,
                             .until = plan->held.v[i].until,
                             .ask_again = plan->held.v[i].ask_again,
                             .kind = (guint8) plan->held.v[i].kind };

      g_array_append_val (agenda->held, row);
    }
}

/* In the order of desk_plan() within a day: at last by number and by the id of the task, which
 * begins with the name of its kind. */
static int
compare_rows (gconstpointer a, gconstpointer b, gpointer data)
{
  const DeskAgendaRow *x = a, *y = b;

  if (x->rank != y->rank)
    return x->rank < y->rank ? -1 : 1;
  if (x->weight != y->weight)
    return x->weight > y->weight ? -1 : 1;
  if (x->subject != y->subject)
    return x->subject < y->subject ? -1 : 1;
  if (x->kind != y->kind)
    return strcmp (core_task_name (x->kind), core_task_name (y->kind));
  return x->nth < y->nth ? -1 : x->nth > y->nth;
}

/* Each row to those of its day, then these in order. */
static GArray *
sort_rows (const GArray *rows)
{
  GArray *sorted = g_array_sized_new (FALSE, FALSE, sizeof (DeskAgendaRow), rows->len);
  const DeskAgendaRow *v = (const DeskAgendaRow *) (const void *) rows->data;
  DeskAgendaRow *out = (DeskAgendaRow *) (void *) sorted->data;
  CoreDay first = G_MAXINT32, last = G_MININT32;
  g_autofree guint *at = NULL;

  for (guint i = 0; i < rows->len; i++)
    {
      first = MIN (first, v[i].day);
      last = MAX (last, v[i].day);
    }
  if (rows->len == 0)
    return sorted;
  at = g_new0 (guint, (gsize) (last - first) + 2);
  for (guint i = 0; i < rows->len; i++)
    at[v[i].day - first + 1]++;
  for (CoreDay day = 1; day <= last - first; day++)
    at[day] += at[day - 1];
  for (guint i = 0; i < rows->len; i++)
    out[at[v[i].day - first]++] = v[i];
  g_array_set_size (sorted, rows->len);
  for (guint i = 0, end; i < rows->len; i = end)
    {
      end = at[out[i].day - first];
      g_qsort_with_data (out + i, (int) (end - i), sizeof *out, compare_rows, NULL);
    }
  return sorted;
}

struct _DeskAgendaMaker
{
  Desk *desk;
  GPtrArray *subjects; /* DeskSubject * */
  guint next;
  DeskAgenda *agenda;
  CorePlan plan; /* its room is used again and again */
};

DeskAgendaMaker *
desk_agenda_begin (Desk *self, CoreDay from, CoreDay to, CoreId place)
{
  DeskAgendaMaker *maker = g_new0 (DeskAgendaMaker, 1);
  DeskAgenda *agenda = maker->agenda = g_new0 (DeskAgenda, 1);

  maker->desk = g_object_ref (self);
  maker->subjects = desk_planned_subjects (self, place);
  agenda->from = from;
  agenda->to = to;
  agenda->subjects = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  agenda->rows = g_array_new (FALSE, FALSE, sizeof (DeskAgendaRow));
  agenda->held = g_array_new (FALSE, FALSE, sizeof (DeskAgendaHeld));
  agenda->alone = g_array_new (FALSE, FALSE, sizeof (guint32));
  g_ptr_array_sort (maker->subjects, desk_compare_by_number);
  core_plan_init (&maker->plan);
  return maker;
}

gboolean
desk_agenda_go_on (DeskAgendaMaker *self, gint64 until)
{
  while (self->next < self->subjects->len && g_get_monotonic_time () < until)
    add_subject (self->desk, self->agenda, self->subjects->pdata[self->next++], &self->plan);
  return self->next < self->subjects->len;
}

void
desk_agenda_give_up (DeskAgendaMaker *self)
{
  g_clear_pointer (&self->agenda, desk_agenda_free);
  core_plan_clear (&self->plan);
  g_ptr_array_unref (self->subjects);
  g_object_unref (self->desk);
  g_free (self);
}

DeskAgenda *
desk_agenda_end (DeskAgendaMaker *self)
{
  DeskAgenda *agenda = self->agenda;
  g_autoptr (GArray) rows = NULL;

  desk_agenda_go_on (self, G_MAXINT64);
  self->agenda = NULL;
  desk_agenda_give_up (self);
  rows = agenda->rows;
  agenda->rows = sort_rows (rows);
  return agenda;
}

DeskAgenda *
desk_agenda (Desk *self, CoreDay from, CoreDay to, CoreId place)
{
  return desk_agenda_end (desk_agenda_begin (self, from, to, place));
}

gboolean
desk_subject_task (DeskSubject *self, CoreDay from, CoreDay to, guint nth, CoreTask *out)
{
  CorePlan plan;
  gboolean found = FALSE;

  core_plan_init (&plan);
  desk_subject_plan_span (self, from, to, &plan);
  for (gsize i = 0; i < plan.tasks.n && !found; i++)
    if (plan.tasks.v[i].nth == nth)
      {
        *out = plan.tasks.v[i];
        found = TRUE;
      }
  core_plan_clear (&plan);
  return found;
}

gboolean
desk_agenda_task (DeskAgenda *agenda, guint row, CoreTask *out)
{
  const DeskAgendaRow *at = &g_array_index (agenda->rows, DeskAgendaRow, row);

  return desk_subject_task (agenda->subjects->pdata[at->subject], agenda->from, agenda->to, at->nth, out);
}
