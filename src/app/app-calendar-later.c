/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-calendar-later.c — of days to come, and of more than can be listed: one line for all that the
 * hand does with one thing. */
#include "app/app-calendar-later.h"

#include <glib/gi18n.h>

#include "app/app-view.h"

#define NAMED 120 /* numbers in one line */

const char *
app_calendar_label (const DeskSubject *subject)
{
  return desk_subject_kind (subject) == CORE_SUBJECT_PLACE ? desk_place_name (subject) : desk_subject_label (subject);
}

int
app_calendar_hand (const CoreTask *task)
{
  return desk_hand_of (task->kind, task->emergency ? CORE_RANK_EMERGENCY : CORE_RANK_USUAL,
                       task->n_prey > 0 ? task->prey[0].prey : -1);
}

char *
app_calendar_group (const CoreTask *task)
{
  if (task->emergency)
    return g_strdup (C_ ("calendar", "At once"));
  if (task->kind == CORE_TASK_FEED && task->n_prey > 0)
    {
      g_autofree char *prey = words_prey (WORDS_LOCAL, task->prey[0].prey, 0);

      return app_capitalised (prey);
    }
  switch (task->kind)
    {
    case CORE_TASK_MIST:
    case CORE_TASK_WATER:
      return g_strdup (C_ ("calendar", "Spray bottle"));
    case CORE_TASK_TAKE_OUT:
      return g_strdup (C_ ("calendar", "Tweezers"));
    default:
      return app_capitalised (words_task_kind (WORDS_LOCAL, task->kind));
    }
}

static void
later_free (gpointer data)
{
  AppCalendarLater *later = data;

  g_free (later->group);
  g_ptr_array_unref (later->labels);
  g_free (later);
}

GHashTable *
app_calendar_later_new (void)
{
  return g_hash_table_new_full (NULL, NULL, NULL, later_free);
}

CoreTask
app_calendar_task (const DeskAgendaRow *row)
{
  CoreTask task = { .kind = row->kind,
                    .due = row->due,
                    .latest = row->latest,
                    .day = row->day,
                    .rank = row->rank,
                    .weight = row->weight,
                    .emergency = row->rank == CORE_RANK_EMERGENCY,
                    .projected = row->projected,
                    .n_prey = row->prey >= 0 ? 1 : 0 };

  task.prey[0].prey = row->prey;
  return task;
}

void
app_calendar_later_add (GHashTable *groups, const DeskAgenda *agenda, const DeskAgendaRow *row, CoreDay day,
                        gboolean rest)
{
  const DeskSubject *subject = g_ptr_array_index (agenda->subjects, row->subject);
  guint in_hand = row->rank == CORE_RANK_EMERGENCY ? 255 : (guint) (row->prey + 1);
  gpointer key = GUINT_TO_POINTER ((guint) (day - agenda->from) << 17 | (rest ? 1u << 16 : 0)
                                   | (guint) row->kind << 8 | in_hand);
  AppCalendarLater *later = g_hash_table_lookup (groups, key);

  if (later == NULL)
    {
      later = g_new0 (AppCalendarLater, 1);
      later->task = app_calendar_task (row);
      later->day = day;
      later->rest = rest;
      later->group = app_calendar_group (&later->task);
      later->labels = g_ptr_array_new ();
      later->subject = desk_subject_id (subject);
      g_hash_table_insert (groups, key, later);
    }
  g_ptr_array_add (later->labels, (gpointer) app_calendar_label (subject));
}

char *
app_calendar_later_text (const AppCalendarLater *later)
{
  guint n = later->labels->len, named = MIN (n, NAMED);
  g_autofree char *names = words_list (WORDS_LOCAL, (const char *const *) later->labels->pdata, named);

  if (n > named && later->rest)
    /* Translators: tasks of today besides those listed one by one, and the first of their cups */
    return g_strdup_printf (C_ ("calendar", "%u more, among them %s. Choose a place to see each."), n, names);
  if (later->rest)
    return g_strdup_printf (C_ ("calendar", "%u more: %s. Choose a place to see each."), n, names);
  if (n > named)
    return g_strdup_printf (C_ ("calendar", "%u in all, among them %s"), n, names);
  /* Translators: a count, and the numbers of the cups: "3 in all: 14, 31 and 52". */
  return n > 1 ? g_strdup_printf (C_ ("calendar", "%u in all: %s"), n, names) : g_steal_pointer (&names);
}
