/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-check.c — is everything in the journal sound? The files, the database, every fold. */
#include "desk/desk-private.h"

#include <stdlib.h>

#include "core/core-date.h"
#include "words/words.h"

void
desk_check_free (DeskCheck *check)
{
  g_ptr_array_unref (check->problems);
  g_ptr_array_unref (check->conflicts);
  g_ptr_array_unref (check->notes);
  g_free (check);
}

static void
add_store_problems (DeskCheck *check, WordsLang lang, const StoreReport *report)
{
  for (guint i = 0; i < report->problems->len; i++)
    {
      const StoreProblem *problem = report->problems->pdata[i];

      g_ptr_array_add (check->problems,
                       words_check_problem (lang, (int) problem->kind, problem->unchecked,
                                            problem->what, problem->detail));
    }
}

static void
add_notes (DeskCheck *check, const StoreReport *report, CoreDay today)
{
  for (guint i = 0; i < report->beyond->len; i++)
    {
      const StoreProblem *beyond = report->beyond->pdata[i];

      g_ptr_array_add (check->notes,
                       g_strdup_printf ("Entry %s says something that this version does not know: %s",
                                        beyond->what, beyond->detail));
    }
  for (guint i = 0; i < report->odd->len; i++)
    {
      const StoreProblem *odd = report->odd->pdata[i];
      CoreDay day =
        odd->kind == STORE_PROBLEM_TO_COME ? core_day_from_text (odd->detail) : CORE_DAY_NONE;

      if (odd->kind == STORE_PROBLEM_ID)
        g_ptr_array_add (
          check->notes,
          g_strdup_printf ("The id of entry %s fits neither its place nor when it was written: it "
                           "may be damaged. Compare it with a backup",
                           odd->what));
      else if (day == CORE_DAY_NONE || day > today)
        g_ptr_array_add (
          check->notes,
          g_strdup_printf ("Entry %s is of %s, a day after all that was ever written here: its day "
                           "may be damaged. Compare it with a backup",
                           odd->what, odd->detail));
    }
}

/* What was found on the store's thread. */
typedef struct
{
  StoreReport *report;
  DeskBuilt *built; /* all folded anew; NULL where entries cannot be read */
} Found;

static void
found_free (gpointer data)
{
  Found *self = data;

  g_clear_pointer (&self->report, store_report_free);
  g_clear_pointer (&self->built, desk_built_free);
  g_free (self);
}

/* The conflicts of each subject are told; a conflict is no damage. */
static void
add_conflicts (Desk *self, DeskCheck *check, WordsLang lang, const DeskBuilt *built)
{
  WordsView view = { lang, self->today, desk_scheme (self) };

  for (guint i = 0; i < built->all.order->len; i++)
    {
      const DeskRecord *folded = built->all.order->pdata[i];
      const DeskRecord *record = desk_collection_record (&self->all, folded->id);
      const CoreState *state = &folded->made->state;

      for (gsize k = 0; k < state->conflicts.n; k++)
        {
          g_autofree char *text = words_conflict (&view, &state->conflicts.v[k]);

          g_ptr_array_add (check->conflicts, g_strdup_printf ("%s: %s",
                                                              record != NULL && record->now != NULL
                                                                ? desk_subject_label (record->now)
                                                                : state->number,
                                                              text));
        }
    }
}

static gpointer
check_job (Store *store, gpointer data, GError **error)
{
  g_autoptr (GError) unread = NULL;
  Found *found;
  StoreReport *report = NULL;

  if (!store_check (store, &report, error))
    return NULL;
  found = g_new0 (Found, 1);
  found->report = report;
  found->built = desk_build_job (store, NULL, &unread);
  if (found->built != NULL || report->problems->len > 0)
    return found;
  g_propagate_error (error, g_steal_pointer (&unread));
  found_free (found);
  return NULL;
}

static void
checked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  GError *error = NULL;
  Found *found = store_run_finish (result, &error);
  const StoreReport *report = found != NULL ? found->report : NULL;
  WordsLang lang = (WordsLang) GPOINTER_TO_INT (g_task_get_task_data (task));
  DeskCheck *check;

  if (found == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  check = g_new0 (DeskCheck, 1);
  check->problems = g_ptr_array_new_with_free_func (g_free);
  check->conflicts = g_ptr_array_new_with_free_func (g_free);
  check->notes = g_ptr_array_new_with_free_func (g_free);
  check->entries = (guint) report->n_entries;
  check->subjects = (guint) report->n_subjects;
  check->photos = (guint) report->n_photos;
  add_store_problems (check, lang, report);
  add_notes (check, report, desk_today (g_task_get_source_object (task)));
  if (found->built != NULL)
    add_conflicts (g_task_get_source_object (task), check, lang, found->built);
  check->clean = check->problems->len == 0;
  found_free (found);
  g_task_return_pointer (task, check, (GDestroyNotify) desk_check_free);
}

void
desk_check_async (Desk *self,
                  WordsLang lang,
                  GCancellable *cancellable,
                  GAsyncReadyCallback callback,
                  gpointer data)
{
  GTask *task = g_task_new (self, cancellable, callback, data);

  g_task_set_source_tag (task, desk_check_async);
  g_task_set_task_data (task, GINT_TO_POINTER (lang), NULL);
  if (self->store == NULL)
    {
      GError *error = NULL;

      desk_fail (&error, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  store_run_async (self->store, check_job, NULL, NULL, found_free, cancellable, checked_cb, task);
}

DeskCheck *
desk_check_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_check_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
