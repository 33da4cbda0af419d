/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-then.c — a shelf as it was on an earlier day.
 *
 * A round for last week speaks of the cups that stood there last week, and of what was known of
 * them then: a sign seen since holds nothing back on that day. */
#include "desk/desk-then.h"

#include "desk/desk-private.h"

/* Lots are not always given a place. */
static gboolean
stands_on (Desk *self, const DeskSubject *subject, CoreId place)
{
  CoreId stands;

  if (core_id_is_none (place))
    return TRUE;
  if (!desk_subject_place (subject, &stands, NULL))
    return desk_subject_kind (subject) == CORE_SUBJECT_LOT;
  return desk_lies_within (self, stands, place);
}

/* Had it come, or hatched here, by that day? What was moved in had been kept here before. */
static gboolean
had_come (const CoreState *now, CoreDay day)
{
  if (now->acquired != CORE_DAY_NONE && !now->moved_in)
    return now->acquired <= day;
  if (now->hatched)
    return now->hatched_earliest <= day;
  if (now->here_day != CORE_DAY_NONE || now->moved_in)
    return TRUE;
  return now->first_day != CORE_DAY_NONE && now->first_day <= day;
}

/* Nobody knows when it came, only that it was here on some day: what was not yet written of it on
 * the day asked for, such as its shelf, is taken from its first. */
static CoreDay
day_known_from (const CoreState *now, CoreDay day)
{
  if (now->moved_in && now->acquired != CORE_DAY_NONE)
    return MAX (day, now->acquired);
  return now->acquired == CORE_DAY_NONE && now->here_day != CORE_DAY_NONE ? MAX (day, now->here_day) : day;
}

static DeskSubject *
as_of (Desk *self, DeskRecord *record, CoreDay day)
{
  const DeskFoldHow how = { .until = day };
  g_autoptr (DeskFold) fold =
    desk_collection_fold (&self->all, record->id, record->kind, &how, NULL);

  /* Unread: whoever asked is told by desk_collection_readable(). */
  return fold != NULL ? desk_subject_new (self, record, fold, day) : desk_subject_ref (record->now);
}

/* What is known today tells most of those apart that were not there, without reading an entry. */
static gboolean
may_have_stood (Desk *self, const DeskSubject *now, CoreId place, CoreDay day)
{
  const CoreState *state = desk_subject_state (now);
  const CoreStay *stay = core_state_stay_on (state, day);

  if (state->end != CORE_END_NONE && state->end_day < day)
    return FALSE;
  if (core_id_is_none (place))
    return TRUE;
  return stay == NULL || core_id_is_none (stay->place)
           ? desk_subject_kind (now) == CORE_SUBJECT_LOT
           : desk_lies_within (self, stay->place, place);
}

/* Lots behind the animals. */
static int
compare_cups (gconstpointer a, gconstpointer b)
{
  gboolean x = desk_subject_kind (*(DeskSubject *const *) a) == CORE_SUBJECT_LOT;
  gboolean y = desk_subject_kind (*(DeskSubject *const *) b) == CORE_SUBJECT_LOT;

  return x != y ? (x ? 1 : -1) : x ? desk_compare_by_number (a, b) : desk_compare_by_at (a, b);
}

typedef struct
{
  CoreId place;
  CoreDay day;
  CoreDay today;
  gint64 last_seq; /* of the journal that is read */
  guint next;      /* of all.order */
  GPtrArray *there, *absent;
} Reading;

static void
reading_begin (Reading *self, Desk *desk, CoreId place, CoreDay day)
{
  *self = (Reading){ .place = place,
                     .day = day,
                     .today = desk->today,
                     .last_seq = desk->all.last_seq,
                     .there = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref),
                     .absent = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref) };
}

static void
reading_clear (Reading *self)
{
  g_clear_pointer (&self->there, g_ptr_array_unref);
  g_clear_pointer (&self->absent, g_ptr_array_unref);
}

/* The next one of the journal. */
static void
read_one (Reading *self, Desk *desk)
{
  DeskRecord *record = desk->all.order->pdata[self->next++];
  g_autoptr (DeskSubject) then = NULL;
  CoreDay known;

  if (record->kind != CORE_SUBJECT_ANIMAL && record->kind != CORE_SUBJECT_LOT)
    return;
  known = day_known_from (desk_subject_state (record->now), self->day);
  if (had_come (desk_subject_state (record->now), self->day) &&
      may_have_stood (desk, record->now, self->place, known))
    then = as_of (desk, record, known);
  if (then != NULL && desk_subject_living (then) && stands_on (desk, then, self->place))
    g_ptr_array_add (self->there, g_steal_pointer (&then));
  else if (desk_subject_living (record->now) && stands_on (desk, record->now, self->place))
    g_ptr_array_add (self->absent, desk_subject_ref (record->now));
}

static void
keep (Reading *self, Desk *desk)
{
  DeskThen *then = &desk->then;

  g_ptr_array_sort (self->there, compare_cups);
  g_ptr_array_sort (self->absent, compare_cups);
  g_clear_pointer (&then->subjects, g_ptr_array_unref);
  then->n_there = self->there->len;
  g_ptr_array_extend_and_steal (self->there, g_steal_pointer (&self->absent));
  then->subjects = g_steal_pointer (&self->there);
  then->place = self->place;
  then->day = self->day;
  then->today = self->today;
  then->last_seq = self->last_seq;
}

/* A line is read anew with every letter that is typed; the shelf of last week does not change. */
gboolean
desk_then_is_ready (Desk *self, CoreId place, CoreDay day)
{
  const DeskThen *then = &self->then;

  return day == CORE_DAY_NONE || day >= self->today ||
         (then->subjects != NULL && core_id_equal (then->place, place) && then->day == day &&
          then->today == self->today && then->last_seq == self->all.last_seq);
}

GPtrArray *
desk_stood_on (Desk *self, CoreId place, CoreDay day, guint *n_there)
{
  if (!desk_then_is_ready (self, place, day))
    {
      Reading reading;

      reading_begin (&reading, self, place, day);
      while (reading.next < self->all.order->len)
        read_one (&reading, self);
      keep (&reading, self);
      reading_clear (&reading);
    }
  *n_there = self->then.n_there;
  return g_ptr_array_ref (self->then.subjects);
}

/* ---- in pieces ---- */

#define PIECE_US 4000

static void
reading_free (gpointer data)
{
  reading_clear (data);
  g_free (data);
}

/* What a round asks of each of them: their plans. */
static void
plan_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Reading *self = data;

  for (guint i = 0; i < self->there->len; i++)
    desk_subject_compute (self->there->pdata[i], TRUE);
  g_task_return_boolean (task, TRUE);
}

static gboolean
piece_cb (gpointer data)
{
  GTask *task = data;
  Desk *desk = g_task_get_source_object (task);
  Reading *self = g_task_get_task_data (task);
  gint64 until = g_get_monotonic_time () + PIECE_US;

  if (desk->closed)
    {
      g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "closed");
      return G_SOURCE_REMOVE;
    }
  if (self->last_seq != desk->all.last_seq || self->today != desk->today)
    {
      Reading before = *self;

      reading_begin (self, desk, before.place, before.day); /* something was written meanwhile */
      reading_clear (&before);
    }
  while (self->next < desk->all.order->len && g_get_monotonic_time () < until)
    read_one (self, desk);
  if (self->next < desk->all.order->len)
    return G_SOURCE_CONTINUE;
  g_task_run_in_thread (task, plan_thread);
  return G_SOURCE_REMOVE;
}

void
desk_then_async (Desk *self, CoreId place, CoreDay day, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, NULL, callback, data);
  Reading *reading;

  g_task_set_source_tag (task, desk_then_async);
  if (desk_then_is_ready (self, place, day))
    {
      g_task_return_boolean (task, TRUE);
      return;
    }
  reading = g_new (Reading, 1);
  reading_begin (reading, self, place, day);
  g_task_set_task_data (task, reading, reading_free);
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, piece_cb, g_steal_pointer (&task), g_object_unref);
}

gboolean
desk_then_finish (Desk *self, GAsyncResult *result, GError **error)
{
  Reading *reading = g_task_get_task_data (G_TASK (result));
  gboolean ok = g_task_propagate_boolean (G_TASK (result), error);

  g_return_val_if_fail (g_async_result_is_tagged (result, desk_then_async), FALSE);
  ok = ok && desk_collection_readable (&self->all, error);
  if (ok && reading != NULL && reading->there != NULL && reading->last_seq == self->all.last_seq &&
      reading->today == self->today)
    keep (reading, self);
  return ok;
}
