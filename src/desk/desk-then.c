/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-then.c — a shelf as it was on an earlier day.
 *
 * A round for last week speaks of the cups that stood there last week, and of what was known of
 * them then: a sign seen since holds nothing back on that day. */
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

/* Had it come, or hatched here, by that day? */
static gboolean
had_come (const CoreState *now, CoreDay day)
{
  if (now->acquired != CORE_DAY_NONE)
    return now->acquired <= day;
  if (now->hatched)
    return now->hatched_earliest <= day;
  if (now->here_day != CORE_DAY_NONE)
    return TRUE;
  return now->first_day != CORE_DAY_NONE && now->first_day <= day;
}

/* Nobody knows when it came, only that it was here on some day: what was not yet written of it on
 * the day asked for is taken from its first. */
static CoreDay
day_known_from (const CoreState *now, CoreDay day)
{
  return now->acquired == CORE_DAY_NONE && now->here_day != CORE_DAY_NONE ? MAX (day, now->here_day) : day;
}

static DeskSubject *
as_of (Desk *self, DeskRecord *record, CoreDay day)
{
  const DeskFoldHow how = { .until = day };
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskFold) fold =
    desk_collection_fold (&self->all, record->id, record->kind, &how, &error);

  if (fold != NULL)
    return desk_subject_new (self, record, fold, day);
  g_warning ("%s", error->message);
  return desk_subject_ref (record->now);
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

static GPtrArray *
work_out (Desk *self, CoreId place, CoreDay day, guint *n_there)
{
  GPtrArray *there = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  g_autoptr (GPtrArray) absent = g_ptr_array_new ();

  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];
      g_autoptr (DeskSubject) then = NULL;
      CoreDay known;

      if (record->kind != CORE_SUBJECT_ANIMAL && record->kind != CORE_SUBJECT_LOT)
        continue;
      known = day_known_from (desk_subject_state (record->now), day);
      if (had_come (desk_subject_state (record->now), day) &&
          may_have_stood (self, record->now, place, known))
        then = as_of (self, record, known);
      if (then != NULL && desk_subject_living (then) && stands_on (self, then, place))
        g_ptr_array_add (there, g_steal_pointer (&then));
      else if (desk_subject_living (record->now) && stands_on (self, record->now, place))
        g_ptr_array_add (absent, record->now);
    }
  g_ptr_array_sort (there, compare_cups);
  g_ptr_array_sort (absent, compare_cups);
  *n_there = there->len;
  for (guint i = 0; i < absent->len; i++)
    g_ptr_array_add (there, desk_subject_ref (absent->pdata[i]));
  return there;
}

/* A line is read anew with every letter that is typed; the shelf of last week does not change. */
GPtrArray *
desk_stood_on (Desk *self, CoreId place, CoreDay day, guint *n_there)
{
  DeskThen *then = &self->then;

  if (then->subjects == NULL || !core_id_equal (then->place, place) || then->day != day ||
      then->today != self->today || then->last_seq != self->all.last_seq)
    {
      g_clear_pointer (&then->subjects, g_ptr_array_unref);
      then->subjects = work_out (self, place, day, &then->n_there);
      then->place = place;
      then->day = day;
      then->today = self->today;
      then->last_seq = self->all.last_seq;
    }
  *n_there = then->n_there;
  return g_ptr_array_ref (then->subjects);
}
