/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-merge.c — another copy of the journal comes in, or is looked at first.
 *
 * The other journal is opened on a thread of its own, as one that is not ours; its rows go in on
 * the store's thread; what came is then loaded like what any other program wrote. Looking does the
 * same on a copy of this journal in a scratch folder and opens the result: what it says is what the
 * merge will do. */
#include "desk/desk-merge.h"

#include <glib/gstdio.h>
#include <string.h>

#include "desk/desk-backup-private.h"

/* ---- what is told ---- */

static void
clash_free (gpointer data)
{
  DeskClash *self = data;

  desk_subject_unref (self->subject);
  g_clear_pointer (&self->other, desk_subject_unref);
  g_free (self->where);
  g_free (self->other_where);
  core_entry_free (self->counts);
  core_entry_free (self->not_counted);
  g_free (self);
}

static void
left_free (gpointer data)
{
  DeskLeft *left = data;

  g_free (left->name);
  g_free (left);
}

void
desk_merge_free (DeskMerge *self)
{
  g_free (self->dir);
  g_ptr_array_unref (self->left_out);
  g_ptr_array_unref (self->clashes);
  g_free (self);
}

static DeskMerge *
merge_new (const char *dir, const StoreMerge *merged)
{
  DeskMerge *self = g_new0 (DeskMerge, 1);

  self->dir = g_strdup (dir);
  self->came.entries = (guint) merged->entries;
  self->came.already = (guint) merged->both;
  self->stranger = merged->both == 0 && merged->entries > 0;
  for (int kind = 0; kind < CORE_N_SUBJECTS; kind++)
    self->came.subjects[kind] = (guint) merged->subjects[kind];
  self->came.photos = (guint) merged->photos;
  self->came.drafts = (guint) merged->drafts;
  self->came.left_out = merged->left->len;
  self->clashes = g_ptr_array_new_with_free_func (clash_free);
  self->left_out = g_ptr_array_new_with_free_func (left_free);
  for (guint i = 0; i < merged->left->len; i++)
    {
      const StoreMergeLeft *row = &g_array_index (merged->left, StoreMergeLeft, i);
      ExchPhoto photo = { .bytes = row->bytes };
      DeskLeft *left = g_new0 (DeskLeft, 1);

      g_strlcpy (photo.hash, row->hash, sizeof photo.hash);
      g_strlcpy (photo.format, row->format, sizeof photo.format);
      left->name = exch_photo_name (&photo);
      left->why = row->why == STORE_MERGE_MISSING ? DESK_LEFT_MISSING : DESK_LEFT_CHANGED;
      g_ptr_array_add (self->left_out, left);
    }
  return self;
}

/* ---- what waits for the keeper ---- */

WordsClash
desk_clash_words (const DeskClash *clash)
{
  WordsClash words = { .conflict = &clash->conflict,
                       .label = desk_subject_label (clash->subject),
                       .state = desk_subject_state (clash->subject),
                       .profile = desk_subject_profile (clash->subject),
                       .where = clash->where,
                       .counts = clash->counts,
                       .not_counted = clash->not_counted };

  if (clash->other != NULL)
    {
      words.other = desk_subject_state (clash->other);
      words.other_profile = desk_subject_profile (clash->other);
      words.other_where = clash->other_where;
    }
  return words;
}

static char *
conflict_key (const CoreConflict *conflict)
{
  char entry[37], other[37];

  core_id_to_text (conflict->entry, entry);
  core_id_to_text (conflict->other, other);
  return g_strdup_printf ("%d %s %s", (int) conflict->kind, entry, other);
}

/* The keys of all conflicts there are. */
static GHashTable *
conflicts_now (Desk *self)
{
  GHashTable *keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < self->all.order->len; i++)
    {
      const CoreState *state =
        desk_subject_state (((DeskRecord *) self->all.order->pdata[i])->now);

      for (gsize k = 0; k < state->conflicts.n; k++)
        g_hash_table_add (keys, conflict_key (&state->conflicts.v[k]));
    }
  return keys;
}

static char *
where_of (Desk *self, const DeskSubject *subject)
{
  g_autoptr (DeskSubject) place = NULL;
  CoreId stands;

  if (subject == NULL || !desk_subject_place (subject, &stands, NULL))
    return NULL;
  place = desk_get (self, stands);
  return place != NULL ? g_strdup (desk_place_name (place)) : NULL;
}

static CoreEntry *
copy_of (Desk *self, CoreId id)
{
  const CoreEntry *entry = desk_collection_entry (&self->all, id);

  return entry != NULL ? core_entry_copy (entry) : NULL;
}

static void
add_clash (Desk *self, DeskSubject *subject, const CoreConflict *conflict, DeskMerge *out)
{
  DeskClash *clash = g_new0 (DeskClash, 1);

  clash->conflict = *conflict;
  clash->subject = desk_subject_ref (subject);
  if (conflict->kind == CORE_CONFLICT_NUMBER_TAKEN || conflict->kind == CORE_CONFLICT_CODE_TAKEN)
    clash->other = desk_get (self, conflict->other);
  if (conflict->kind == CORE_CONFLICT_TWO_REPLACEMENTS || conflict->kind == CORE_CONFLICT_CORRECTED_AND_VOIDED)
    clash->counts = copy_of (self, conflict->entry);
  if (conflict->kind == CORE_CONFLICT_TWO_REPLACEMENTS)
    clash->not_counted = copy_of (self, conflict->other);
  if (conflict->kind == CORE_CONFLICT_TWO_MOULTS)
    {
      clash->counts = copy_of (self, conflict->other);
      clash->not_counted = copy_of (self, conflict->entry);
    }
  clash->where = where_of (self, subject);
  clash->other_where = where_of (self, clash->other);
  g_ptr_array_add (out->clashes, clash);
}

static int
compare_clashes (gconstpointer a, gconstpointer b)
{
  const DeskClash *x = *(DeskClash *const *) a;
  const DeskClash *y = *(DeskClash *const *) b;
  int order;

  if ((x->other != NULL) != (y->other != NULL))
    return x->other != NULL ? -1 : 1;
  order = desk_compare_by_number (&x->subject, &y->subject);
  return order != 0 ? order : core_id_compare (x->conflict.entry, y->conflict.entry);
}

static void
add_clashes (Desk *self, GHashTable *before, DeskMerge *out)
{
  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskSubject *subject = ((DeskRecord *) self->all.order->pdata[i])->now;
      const CoreState *state = desk_subject_state (subject);

      for (gsize k = 0; k < state->conflicts.n; k++)
        {
          g_autofree char *key = conflict_key (&state->conflicts.v[k]);

          if (!g_hash_table_contains (before, key))
            add_clash (self, subject, &state->conflicts.v[k], out);
        }
    }
  g_ptr_array_sort (out->clashes, compare_clashes);
}

/* ---- the other journal ---- */

static gboolean
check_other (Desk *self, const char *dir, GError **error)
{
  if (self->closed || self->store == NULL)
    desk_fail (error, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
  else if (desk_read_only (self))
    desk_fail (error, STORE_ERROR, STORE_ERROR_READ_ONLY, WORDS_DESK_READ_ONLY, self->dir, NULL);
  else if (store_is_same (self->dir, dir))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_MERGE_ITSELF, NULL);
  else if (g_file_test (dir, G_FILE_TEST_IS_REGULAR))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_MERGE_FILE, NULL);
  else if (!store_exists (dir))
    desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_MERGE_NONE, NULL);
  else
    return TRUE;
  return FALSE;
}

typedef struct
{
  char *own; /* folder of this journal */
  char *dir; /* of the other */
  CoreDay today;
  GHashTable *before;
} MergeJob;

static void
job_free (gpointer data)
{
  MergeJob *job = data;

  g_free (job->own);
  g_free (job->dir);
  g_hash_table_unref (job->before);
  g_free (job);
}

static MergeJob *
job_new (Desk *self, const char *dir)
{
  MergeJob *job = g_new0 (MergeJob, 1);

  job->own = g_strdup (self->dir);
  job->dir = g_strdup (dir);
  job->today = self->today;
  job->before = conflicts_now (self);
  return job;
}

/* ---- looking ---- */

/* The copy stands in for this journal: photos are looked for where they are. */
static gboolean
copy_own (const char *own, const char *scratch, GError **error)
{
  g_autoptr (Store) reader = store_open (own, STORE_READ_ONLY, error);
  g_autofree char *photos = g_build_filename (own, "photos", NULL);
  g_autofree char *link = g_build_filename (scratch, "photos", NULL);
  g_autoptr (GFile) at = g_file_new_for_path (link);

  return reader != NULL && store_dump (reader, scratch, error) &&
         g_file_make_symbolic_link (at, photos, NULL, error);
}

static StoreMerge *
merge_on_trial (const MergeJob *job, const char *scratch, GError **error)
{
  g_autoptr (Store) other = store_open_foreign (job->dir, error);
  g_autoptr (Store) trial = NULL;

  if (other == NULL || !copy_own (job->own, scratch, error))
    return NULL;
  trial = store_open (scratch, STORE_OPEN, error);
  return trial != NULL ? store_merge (trial, other, STORE_MERGE_ROWS_ONLY, error) : NULL;
}

/* A desk of this thread's own, for as long as this lasts. */
static gboolean
open_trial (const MergeJob *job, const char *scratch, DeskMerge *out, GError **error)
{
  g_autoptr (GMainContext) context = g_main_context_new ();
  g_autoptr (GAsyncResult) closed = NULL;
  DeskSync sync = { NULL };
  Desk *desk = desk_open (scratch, job->today, DESK_OPEN_LAZY, error);

  if (desk == NULL)
    return FALSE;
  add_clashes (desk, job->before, out);
  g_main_context_push_thread_default (context);
  desk_close_async (desk, desk_sync_cb, &sync);
  closed = desk_sync_wait (&sync);
  g_main_context_pop_thread_default (context);
  g_object_unref (desk);
  return TRUE;
}

static gpointer
run_look (gpointer data, GError **error)
{
  const MergeJob *job = data;
  g_autoptr (DeskScratch) scratch = g_dir_make_tmp ("mantidary-XXXXXX", error);
  g_autoptr (StoreMerge) merged = scratch != NULL ? merge_on_trial (job, scratch, error) : NULL;
  g_autoptr (DeskMerge) out = merged != NULL ? merge_new (job->dir, merged) : NULL;

  if (out == NULL || !open_trial (job, scratch, out, error))
    return NULL;
  return g_steal_pointer (&out);
}

static void
refuse (Desk *self, gpointer tag, GError *error, GAsyncReadyCallback callback, gpointer data)
{
  g_task_report_error (self, callback, data, tag, error);
}

void
desk_merge_look_async (Desk *self, const char *dir, GAsyncReadyCallback callback, gpointer data)
{
  DeskWork work = { run_look, job_free, (GDestroyNotify) desk_merge_free };
  GError *error = NULL;

  if (check_other (self, dir, &error))
    desk_work_start (self, desk_merge_look_async, &work, job_new (self, dir), callback, data);
  else
    refuse (self, desk_merge_look_async, error, callback, data);
}

DeskMerge *
desk_merge_look_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_merge_look_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

/* ---- merging ---- */

/* What was merged is on the disk: a moment's trouble in reading it back is none of the merge. */
#define READINGS 3

typedef struct
{
  MergeJob *job;
  DeskMergeOf of;
  DeskMerge *out;
  int readings;
} Merging;

static void
merging_free (gpointer data)
{
  Merging *self = data;

  job_free (self->job);
  g_clear_pointer (&self->out, desk_merge_free);
  g_free (self);
}

static void
end_merge (GTask *task_taken, GError *error)
{
  g_autoptr (GTask) task = task_taken;
  Merging *merging = g_task_get_task_data (task);

  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, g_steal_pointer (&merging->out), (GDestroyNotify) desk_merge_free);
}

static void
reloaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Desk *self = DESK_DESK (source);
  GTask *task = data;
  Merging *merging = g_task_get_task_data (task);
  GError *error = NULL;

  if (desk_reload_finish (self, result, &error))
    add_clashes (self, merging->job->before, merging->out);
  else if (++merging->readings < READINGS && !self->closed)
    {
      g_clear_error (&error);
      desk_reload_async (self, reloaded_cb, task);
      return;
    }
  end_merge (task, error);
}

static void
refuse_stranger (const DeskMerge *out, GError **error)
{
  g_autofree char *what = words_merge_what (WORDS_LOCAL, &out->came);

  desk_fail (error, DESK_ERROR, DESK_ERROR_STRANGER, WORDS_DESK_MERGE_STRANGER, what, NULL);
}

static void
merged_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = data;
  Desk *self = g_task_get_source_object (task);
  Merging *merging = g_task_get_task_data (task);
  GError *error = NULL;
  g_autoptr (StoreMerge) merged = store_run_finish (result, &error);

  if (merged != NULL)
    merging->out = merge_new (merging->job->dir, merged);
  if (merged != NULL && merged->stranger)
    refuse_stranger (merging->out, &error);
  if (error != NULL || self->closed)
    end_merge (task, error);
  else
    desk_reload_async (self, reloaded_cb, task);
}

static gpointer
merge_copy_job (Store *store, gpointer other, GError **error)
{
  return store_merge (store, other, STORE_MERGE_COPY_ONLY, error);
}

static gpointer
merge_any_job (Store *store, gpointer other, GError **error)
{
  return store_merge (store, other, STORE_MERGE_ALL, error);
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = data;
  Desk *self = g_task_get_source_object (task);
  const Merging *merging = g_task_get_task_data (task);
  StoreJob run = merging->of == DESK_MERGE_COPY ? merge_copy_job : merge_any_job;
  GError *error = NULL;
  Store *other = g_task_propagate_pointer (G_TASK (result), &error);

  if (other != NULL && !self->closed)
    {
      store_run_async (self->store, run, other, (GDestroyNotify) store_close,
                       (GDestroyNotify) store_merge_free, NULL, merged_cb, task);
      return;
    }
  if (other != NULL)
    desk_fail (&error, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
  store_close (other);
  end_merge (task, error);
}

/* A writer elsewhere may keep the other folder locked for long: never on the store's thread. */
static gpointer
run_open (gpointer dir, GError **error)
{
  return store_open_foreign (dir, error);
}

void
desk_merge_async (Desk *self,
                  const char *dir,
                  DeskMergeOf of,
                  GAsyncReadyCallback callback,
                  gpointer data)
{
  DeskWork work = { run_open, g_free, (GDestroyNotify) store_close };
  Merging *merging;
  GError *error = NULL;
  GTask *task;

  if (!check_other (self, dir, &error))
    {
      refuse (self, desk_merge_async, error, callback, data);
      return;
    }
  task = g_task_new (self, NULL, callback, data);
  g_task_set_source_tag (task, desk_merge_async);
  merging = g_new0 (Merging, 1);
  merging->job = job_new (self, dir);
  merging->of = of;
  g_task_set_task_data (task, merging, merging_free);
  desk_work_start (NULL, desk_merge_async, &work, g_strdup (dir), opened_cb, task);
}

DeskMerge *
desk_merge_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_merge_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
