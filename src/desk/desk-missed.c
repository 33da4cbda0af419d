/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-missed.c — see desk-missed.h. */
#include "desk/desk-missed.h"

#include "desk/desk-private.h"

static void
missed_free (gpointer data)
{
  DeskMissed *self = data;

  g_clear_pointer (&self->shelf, desk_subject_unref);
  g_clear_pointer (&self->unseen, g_ptr_array_unref);
  for (gsize i = 0; i < G_N_ELEMENTS (self->subjects); i++)
    {
      g_clear_pointer (&self->subjects[i], g_ptr_array_unref);
      g_clear_pointer (&self->labels[i], g_ptr_array_unref);
    }
  g_free (self);
}

GPtrArray *
desk_missed_new (void)
{
  return g_ptr_array_new_with_free_func (missed_free);
}

const char *
desk_missed_name (const DeskMissed *self)
{
  return self->shelf != NULL ? desk_place_name (self->shelf) : "";
}

static gboolean
is_of (const DeskMissed *self, const CoreId *shelf)
{
  if (self->shelf == NULL || shelf == NULL)
    return self->shelf == NULL && shelf == NULL;
  return core_id_equal (desk_subject_id (self->shelf), *shelf);
}

/* The shelf's own, made in its place when there is none; `shelf` NULL = what stands nowhere. */
static DeskMissed *
missed_of (Desk *desk, GPtrArray *missed, const CoreId *shelf)
{
  DeskMissed *made;
  guint at = 0;

  for (guint i = 0; i < missed->len; i++)
    if (is_of (missed->pdata[i], shelf))
      return missed->pdata[i];
  made = g_new0 (DeskMissed, 1);
  made->shelf = shelf != NULL ? desk_get (desk, *shelf) : NULL;
  while (at < missed->len && g_utf8_collate (desk_missed_name (missed->pdata[at]), desk_missed_name (made)) <= 0)
    at++;
  g_ptr_array_insert (missed, (int) at, made);
  return made;
}

static gboolean
is_unseen (const DeskSubject *subject)
{
  const CorePlan *plan = desk_subject_plan (subject);

  return plan != NULL && plan->unseen_long;
}

gboolean
desk_missed_add (Desk *desk, GPtrArray *missed, DeskSubject *subject, const CoreTask *task)
{
  CoreId shelf;
  DeskMissed *self;

  if (!core_task_missed (task, desk_today (desk)))
    return FALSE;
  self = missed_of (desk, missed, desk_subject_shelf (subject, &shelf) ? &shelf : NULL);
  if (self->subjects[task->kind] == NULL)
    self->subjects[task->kind] = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  self->n++;
  /* Two tasks of one kind, as small and large flies for one hatch, are one name. */
  if (!g_ptr_array_find (self->subjects[task->kind], subject, NULL))
    g_ptr_array_add (self->subjects[task->kind], desk_subject_ref (subject));
  return TRUE;
}

static const char *
said_of (const DeskSubject *subject)
{
  return desk_subject_kind (subject) == CORE_SUBJECT_PLACE ? desk_place_name (subject) : desk_subject_label (subject);
}

/* Cups of which nothing is known for days are what such a line begins with. */
static void
label_look (DeskMissed *self, DeskSubject *subject, CoreDay today)
{
  CoreDay seen = core_state_last_look (desk_subject_state (subject));

  if (!is_unseen (subject) || seen == CORE_DAY_NONE)
    {
      g_ptr_array_add (self->labels[CORE_TASK_LOOK], (gpointer) said_of (subject));
      return;
    }
  if (self->unseen == NULL)
    self->unseen = g_ptr_array_new ();
  g_ptr_array_add (self->unseen, (gpointer) said_of (subject));
  self->unseen_days = MAX (self->unseen_days, today - seen);
}

static void
label (DeskMissed *self, CoreDay today)
{
  for (gsize kind = 0; kind < CORE_N_TASKS; kind++)
    {
      GPtrArray *subjects = self->subjects[kind];

      if (subjects == NULL)
        continue;
      g_ptr_array_sort (subjects, desk_compare_by_number);
      self->labels[kind] = g_ptr_array_sized_new (subjects->len);
      for (guint i = 0; i < subjects->len; i++)
        if (kind == CORE_TASK_LOOK)
          label_look (self, subjects->pdata[i], today);
        else
          g_ptr_array_add (self->labels[kind], (gpointer) said_of (subjects->pdata[i]));
    }
}

char *
desk_missed_text (const DeskMissed *self, WordsLang lang)
{
  g_autofree char *unseen = words_missed_unseen (lang, self->unseen, self->unseen_days);
  g_autofree char *left = words_missed (lang, self->labels);

  return g_strconcat (unseen, unseen[0] != '\0' && left[0] != '\0' ? " " : "", left, NULL);
}

void
desk_missed_done (Desk *desk, GPtrArray *missed)
{
  for (guint i = 0; i < missed->len; i++)
    label (missed->pdata[i], desk_today (desk));
}
