/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-task.c — a task done or put off by one key: which entry that writes.
 *
 * feed → fed offered with the proposed prey; mist, water, clean, look → their
 * own kinds; after_moult → a replacement of that moult with its outcome; all
 * others, and trouble that is answered, → done. */
#include "desk/desk-private.h"

#include <string.h>

typedef struct
{
  CoreTask task;
  CoreDay until; /* CORE_DAY_NONE = done */
} TaskMark;

static void
write_rule (DeskOp *op, const CoreTask *task, CoreDay until)
{
  CoreKind kind = until == CORE_DAY_NONE ? CORE_KIND_DONE : CORE_KIND_PUT_OFF;
  CoreEntry *entry = desk_op_entry (op, kind, task->subject, op->desk->today);

  core_entry_set_str (entry, CORE_KEY_RULE, core_task_name (task->kind));
  if (until != CORE_DAY_NONE)
    core_entry_set_num (entry, CORE_KEY_UNTIL, until);
}

static void
write_fed (DeskOp *op, const CoreTask *task)
{
  CoreEntry *entry = desk_op_entry (op, CORE_KIND_FED, task->subject, op->desk->today);

  core_entry_set_num (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED);
  if (task->n_prey == 0)
    return;
  core_entry_set_num (entry, CORE_KEY_PREY, task->prey[0].prey);
  if (task->prey[0].n > 0)
    core_entry_set_num (entry, CORE_KEY_N, task->prey[0].n);
}

/* The moult that began the stage in progress, with "good, all limbs". */
static void
write_moult_outcome (DeskOp *op, const CoreTask *task)
{
  Desk *self = op->desk;
  DeskRecord *record = desk_collection_record (&self->all, task->subject);
  const CoreState *state = record == NULL ? NULL : desk_subject_state (record->now);
  const CoreStage *stage = state == NULL ? NULL : core_state_stage_now (state);
  const CoreEntry *moult = stage == NULL ? NULL : desk_collection_entry (&self->all, stage->entry);
  CoreEntry *entry;

  if (moult == NULL || moult->kind != CORE_KIND_MOULTED)
    {
      write_rule (op, task, CORE_DAY_NONE);
      return;
    }
  entry = core_entry_copy (moult);
  if (entry == NULL)
    g_error ("out of memory");
  entry->id = desk_op_new_id (op);
  entry->names = moult->id;
  entry->round = (CoreId){ 0 };
  entry->device = (CoreId){ 0 };
  entry->written_ms = 0;
  if (core_entry_get (entry, CORE_KEY_OUTCOME) == NULL)
    core_entry_set_num (entry, CORE_KEY_OUTCOME, CORE_MOULT_GOOD);
  g_ptr_array_add (op->entries, entry);
}

static gboolean
prepare_task (Desk *self, DeskOp *op, GError **error)
{
  TaskMark *mark = op->data;
  CoreTaskKind kind = mark->task.kind;

  if (mark->until != CORE_DAY_NONE)
    write_rule (op, &mark->task, mark->until);
  else if (kind == CORE_TASK_FEED)
    write_fed (op, &mark->task);
  else if (kind == CORE_TASK_MIST)
    desk_op_entry (op, CORE_KIND_MISTED, mark->task.subject, self->today);
  else if (kind == CORE_TASK_WATER)
    desk_op_entry (op, CORE_KIND_WATERED, mark->task.subject, self->today);
  else if (kind == CORE_TASK_CLEAN)
    desk_op_entry (op, CORE_KIND_CLEANED, mark->task.subject, self->today);
  else if (kind == CORE_TASK_LOOK && !mark->task.trouble)
    desk_op_entry (op, CORE_KIND_LOOKED, mark->task.subject, self->today);
  else if (kind == CORE_TASK_AFTER_MOULT)
    write_moult_outcome (op, &mark->task);
  else
    write_rule (op, &mark->task, CORE_DAY_NONE);
  return desk_op_check (op, error);
}

static void
start_task (Desk *self,
            const CoreTask *task,
            CoreDay until,
            GAsyncReadyCallback callback,
            gpointer data)
{
  TaskMark *mark = g_new0 (TaskMark, 1);

  mark->task = *task;
  mark->until = until;
  desk_op_start (self, prepare_task, prepare_task, mark, g_free, NULL, callback, data);
}

void
desk_task_done_async (Desk *self, const CoreTask *task, GAsyncReadyCallback callback, gpointer data)
{
  start_task (self, task, CORE_DAY_NONE, callback, data);
}

void
desk_task_put_off_async (Desk *self,
                         const CoreTask *task,
                         CoreDay until,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  g_return_if_fail (until != CORE_DAY_NONE);

  start_task (self, task, until, callback, data);
}

gboolean
desk_task_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_task, error) != NULL;
}
