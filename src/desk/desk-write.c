/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-write.c — every verb that writes is an operation of this queue.
 *
 * One operation at a time: prepare on the main thread from what the collection
 * holds, append on the store's thread, take what was written into the
 * collection. When another program has written meanwhile the store refuses
 * (STALE), its entries are loaded and the operation is prepared anew, so that
 * checks and numbers always rest on the whole journal. */
#include "desk/desk-identity.h"
#include "desk/desk-private.h"

#include <errno.h>
#include <string.h>
#include <sys/random.h>

#define MAX_TRIES 20

static void run_op (DeskOp *op);

/* ---- the moment ---- */

void
desk_stamp (Desk *self, StoreStamp *out)
{
  memset (out, 0, sizeof *out);
  if (self->clock != NULL)
    {
      self->clock (&out->now_ms, out->random, self->clock_data);
      return;
    }
  out->now_ms = g_get_real_time () / 1000;
  if (getrandom (out->random, sizeof out->random, 0) != (gssize) sizeof out->random)
    g_error ("the system gives no random bytes: %s", g_strerror (errno));
}

void
desk_set_clock (Desk *self, DeskClock clock, gpointer data)
{
  g_return_if_fail (DESK_IS_DESK (self));

  self->clock = clock;
  self->clock_data = data;
}

/* ---- building ---- */

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

CoreId
desk_op_new_id (DeskOp *op)
{
  CoreId last = op->desk->all.last_id;

  if (op->entries->len > 0)
    {
      CoreId other = ((CoreEntry *) op->entries->pdata[op->entries->len - 1])->id;

      if (core_id_compare (other, last) > 0)
        last = other;
    }
  if (op->subjects->len > 0)
    {
      CoreId other = g_array_index (op->subjects, StoreSubject, op->subjects->len - 1).id;

      if (core_id_compare (other, last) > 0)
        last = other;
    }
  return store_id_next (last, &op->stamp, op->turn++);
}

CoreId
desk_op_new_subject (DeskOp *op, CoreSubjectKind kind)
{
  StoreSubject subject = { .id = desk_op_new_id (op), .kind = kind };

  g_array_append_val (op->subjects, subject);
  return subject.id;
}

CoreEntry *
desk_op_entry (DeskOp *op, CoreKind kind, CoreId subject, CoreDay day)
{
  CoreEntry *entry = core_entry_new (kind);

  if (entry == NULL)
    g_error ("out of memory");
  entry->id = desk_op_new_id (op);
  entry->subject = subject;
  entry->day = day;
  g_ptr_array_add (op->entries, entry);
  return entry;
}

CoreEntry *
desk_op_replace (DeskOp *op, const CoreEntry *old)
{
  CoreEntry *entry = core_entry_copy (old);

  if (entry == NULL)
    g_error ("out of memory");
  entry->id = desk_op_new_id (op);
  entry->names = old->id;
  entry->round = entry->device = (CoreId){ 0 };
  entry->written_ms = 0;
  g_ptr_array_add (op->entries, entry);
  return entry;
}

void
desk_op_photo (DeskOp *op, const StorePhoto *photo)
{
  g_array_append_vals (op->photos, photo, 1);
}

CoreSubjectKind
desk_op_kind_of (DeskOp *op, CoreId subject)
{
  DeskRecord *record = desk_collection_record (&op->desk->all, subject);

  for (guint i = 0; i < op->subjects->len; i++)
    if (core_id_equal (g_array_index (op->subjects, StoreSubject, i).id, subject))
      return g_array_index (op->subjects, StoreSubject, i).kind;
  return record != NULL ? record->kind : CORE_SUBJECT_NONE;
}

/* Is it taken back together with the correction that stands in its place? */
static gboolean
goes_with_correction (DeskOp *op, guint at)
{
  const CoreEntry *entry = op->entries->pdata[at];
  const CoreEntry *before = at > 0 ? op->entries->pdata[at - 1] : NULL;
  const CoreEntry *correction =
    before != NULL ? desk_collection_entry (&op->desk->all, before->names) : NULL;

  return correction != NULL && entry->kind == CORE_KIND_VOID && before->kind == CORE_KIND_VOID &&
         core_id_equal (correction->names, entry->names);
}

/* Where another counts instead, it is named. */
static void
fail_gone (Desk *desk, CoreId gone, GError **error)
{
  const CoreEntry *heir = desk_entry_heir (desk, gone);
  char id[37];

  if (heir != NULL)
    {
      core_id_to_text (heir->id, id);
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_ENTRY_CORRECTED, id, NULL);
    }
  else
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_ENTRY_GONE, NULL);
}

static gboolean
check_named (DeskOp *op, guint at, GError **error)
{
  const CoreEntry *entry = op->entries->pdata[at];
  Desk *desk = op->desk;

  if (core_id_is_none (entry->names) || desk_collection_is_live (&desk->all, entry->names) ||
      goes_with_correction (op, at))
    return TRUE;
  if (desk_collection_entry (&desk->all, entry->names) == NULL)
    desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_ENTRY, NULL);
  else
    fail_gone (desk, entry->names, error);
  return FALSE;
}

/* The state of its subject that entry `at` of the operation meets, or with it `after`; NULL: it
 * cannot be read. */
static DeskFold *
state_for (DeskOp *op, guint at, CoreSubjectKind kind, gboolean after, GError **error)
{
  const CoreEntry *entry = op->entries->pdata[at];
  DeskRecord *record = desk_collection_record (&op->desk->all, entry->subject);
  g_autoptr (GPtrArray) before = g_ptr_array_new ();

  for (guint i = 0; i < at + (after ? 1 : 0); i++)
    if (core_id_equal (((CoreEntry *) op->entries->pdata[i])->subject, entry->subject))
      g_ptr_array_add (before, op->entries->pdata[i]);
  if (before->len == 0 && core_id_is_none (entry->names) && record != NULL && record->now != NULL &&
      !record->stale)
    return desk_fold_ref (desk_subject_fold (record->now));
  return desk_collection_fold (&op->desk->all, entry->subject, kind,
                               &(DeskFoldHow){ entry->names, before, CORE_DAY_NONE }, error);
}

/* What is late may not fit what was entered for later days, a stage not what was said of others: only the
 * fold with it tells. */
static gboolean
may_contradict (const CoreEntry *entry, CoreDay today)
{
  return entry->day < today || entry->kind == CORE_KIND_HATCHED || entry->kind == CORE_KIND_ACQUIRED
         || entry->kind == CORE_KIND_STAGE || entry->kind == CORE_KIND_MOULTED;
}

static gboolean
check_by_state (DeskOp *op, guint at, CoreSubjectKind kind, GError **error)
{
  const CoreEntry *entry = op->entries->pdata[at];
  g_autoptr (DeskFold) fold = state_for (op, at, kind, FALSE, error);
  CoreRefusal refusal;

  if (fold == NULL)
    return FALSE;
  refusal = core_check (&fold->state, entry, op->desk->today);
  if (refusal == CORE_REFUSE_NOTHING && may_contradict (entry, op->desk->today))
    {
      g_clear_pointer (&fold, desk_fold_unref);
      fold = state_for (op, at, kind, TRUE, error);
      if (fold == NULL)
        return FALSE;
      refusal = core_check_after (&fold->state, entry);
    }
  if (refusal != CORE_REFUSE_NOTHING)
    desk_refuse (error, refusal, &fold->state, entry);
  return refusal == CORE_REFUSE_NOTHING;
}

/* A belly scored again for the same moment corrects the score before: of two the fold could only
 * take one by its value, as nobody knows which came first. */
static void
score_anew (DeskOp *op, CoreEntry *entry)
{
  const DeskRecord *record = desk_collection_record (&op->desk->all, entry->subject);
  const CoreState *state = record != NULL && record->now != NULL ? desk_subject_state (record->now) : NULL;
  const CoreEntry *before;

  if (entry->kind != CORE_KIND_BELLY || !core_id_is_none (entry->names) || state == NULL || state->belly == 0)
    return;
  before = desk_collection_entry (&op->desk->all, state->belly_entry);
  if (before != NULL && before->day == entry->day && before->minute == entry->minute)
    entry->names = before->id;
}

gboolean
desk_op_check (DeskOp *op, GError **error)
{
  for (guint i = 0; i < op->entries->len; i++)
    {
      CoreEntry *entry = op->entries->pdata[i];
      CoreSubjectKind kind = desk_op_kind_of (op, entry->subject);

      score_anew (op, entry);

      if (kind == CORE_SUBJECT_NONE)
        {
          desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_SUBJECT, NULL);
          return FALSE;
        }
      if (!check_named (op, i, error))
        return FALSE;
      if (entry->kind == CORE_KIND_VOID)
        continue;
      /* Of a copy of what stands there: its row cannot be written again from what is read of it. */
      if (entry->beyond != NULL)
        {
          desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BEYOND, entry->beyond, NULL);
          return FALSE;
        }
      if (!desk_value_complete (entry, error) || !desk_mark_check (op->desk, entry, error) ||
          !check_by_state (op, i, kind, error) || !desk_parent_check (op, entry, error))
        return FALSE;
    }
  return desk_lot_check (op, error);
}

/* ---- the queue ---- */

static void
op_empty (DeskOp *op)
{
  g_ptr_array_set_size (op->entries, 0);
  g_array_set_size (op->subjects, 0);
  g_array_set_size (op->photos, 0);
  g_array_set_size (op->written, 0);
  op->turn = 0;
}

static void
op_free (gpointer data)
{
  DeskOp *op = data;

  if (op->data_free != NULL && op->data != NULL)
    op->data_free (op->data);
  g_ptr_array_unref (op->entries);
  g_array_unref (op->subjects);
  g_array_unref (op->photos);
  g_array_unref (op->written);
  g_free (op);
}

void
desk_op_start (Desk *self,
               gpointer tag,
               DeskPrepare prepare,
               gpointer data,
               GDestroyNotify data_free,
               GCancellable *cancellable,
               GAsyncReadyCallback callback,
               gpointer user_data)
{
  GTask *task = g_task_new (self, cancellable, callback, user_data);
  DeskOp *op = g_new0 (DeskOp, 1);

  g_task_set_source_tag (task, tag);
  g_task_set_task_data (task, op, op_free);
  op->desk = self;
  op->task = task;
  op->prepare = prepare;
  op->data = data;
  op->data_free = data_free;
  op->entries = g_ptr_array_new_with_free_func (free_entry);
  op->subjects = g_array_new (FALSE, FALSE, sizeof (StoreSubject));
  op->photos = g_array_new (FALSE, FALSE, sizeof (StorePhoto));
  op->written = g_array_new (FALSE, FALSE, sizeof (CoreId));
  g_queue_push_tail (&self->ops, op);
  if (g_queue_get_length (&self->ops) == 1)
    run_op (op);
}

DeskOp *
desk_op_finish (Desk *self, GAsyncResult *result, gpointer tag, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);
  g_return_val_if_fail (g_async_result_is_tagged (result, tag), NULL);

  if (!g_task_propagate_boolean (G_TASK (result), error))
    return NULL;
  return g_task_get_task_data (G_TASK (result));
}

/* Ends the first operation, begins the next. Takes `error`. */
static void
end_op (DeskOp *op, GError *error)
{
  Desk *self = g_object_ref (op->desk);
  GTask *task = op->task;

  g_assert (g_queue_peek_head (&self->ops) == op);
  g_queue_pop_head (&self->ops);
  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_boolean (task, TRUE);
  g_object_unref (task);
  if (!g_queue_is_empty (&self->ops))
    run_op (g_queue_peek_head (&self->ops));
  else
    desk_ops_settle (self);
  g_object_unref (self);
}

static void
op_reloaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  DeskOp *op = data;
  GError *error = NULL;

  if (desk_reload_finish (DESK_DESK (source), result, &error))
    run_op (op);
  else
    end_op (op, error);
}

/* What was written is ours: no need to read it back. */
static gboolean
take_written (DeskOp *op, gint64 last_seq, GError **error)
{
  Desk *self = op->desk;
  g_autoptr (GHashTable) touched = desk_id_set_new ();
  g_autoptr (GPtrArray) entries = g_steal_pointer (&op->entries);
  g_autofree gint64 *seqs = g_new (gint64, entries->len);

  op->entries = g_ptr_array_new_with_free_func (free_entry);
  /* One transaction: they follow each other. */
  for (guint i = 0; i < entries->len; i++)
    seqs[i] = last_seq - (gint64) (entries->len - 1 - i);
  for (guint i = 0; i < op->subjects->len; i++)
    {
      const StoreSubject *subject = &g_array_index (op->subjects, StoreSubject, i);

      desk_collection_add_subject (&self->all, subject->id, subject->kind);
    }
  for (guint i = 0; i < op->photos->len; i++)
    {
      StorePhoto *photo = g_memdup2 (&g_array_index (op->photos, StorePhoto, i), sizeof *photo);

      g_hash_table_replace (self->photos, photo->hash, photo);
    }
  for (guint i = 0; i < entries->len; i++)
    g_array_append_val (op->written, ((CoreEntry *) entries->pdata[i])->id);
  if (!desk_collection_take (&self->all, entries, seqs, touched, error))
    return FALSE;
  /* While opening, all is made anew at the end. */
  if (self->opened)
    desk_refresh (self, touched);
  return TRUE;
}

static void
op_appended_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  DeskOp *op = data;
  GError *error = NULL;
  gint64 *last_seq = store_run_finish (result, &error);

  if (last_seq != NULL)
    {
      if (!take_written (op, *last_seq, &error) || !desk_is_readable (op->desk, &error))
        desk_written_unread (op->desk, &error);
    }
  else if (g_error_matches (error, STORE_ERROR, STORE_ERROR_STALE) && ++op->tries < MAX_TRIES)
    {
      g_clear_error (&error);
      desk_reload_async (op->desk, op_reloaded_cb, op);
      return;
    }
  else
    desk_note_damage (op->desk, error);
  g_free (last_seq);
  end_op (op, error);
}

typedef struct
{
  DeskOp *op; /* lives until the job has come back; the main thread leaves its arrays alone */
  gint64 expect_seq;
} AppendJob;

static gpointer
append_job (Store *store, gpointer data, GError **error)
{
  AppendJob *job = data;
  StoreBatch batch = { .subjects = (const StoreSubject *) job->op->subjects->data,
                       .n_subjects = job->op->subjects->len,
                       .photos = (StorePhoto *) job->op->photos->data,
                       .n_photos = job->op->photos->len,
                       .entries = (CoreEntry *const *) job->op->entries->pdata,
                       .n_entries = job->op->entries->len,
                       .expect_seq = job->expect_seq };
  gint64 last_seq = 0;

  if (!store_append (store, &batch, &job->op->stamp, &last_seq, error))
    return NULL;
  return g_memdup2 (&last_seq, sizeof last_seq);
}

/* Nothing is written that rests on what could not be read, whether or not the verb has noticed. */
static void
prepare_op (DeskOp *op, GError **error)
{
  DeskCollection *all = &op->desk->all;

  desk_collection_forgive (all);
  if (!desk_collection_readable (all, error))
    return;
  (void) (op->prepare (op->desk, op, error) &&
          (op->entries->len == 0 || desk_collection_foresee (all, op->entries, error)));
  if (all->failed == NULL)
    return;
  g_clear_error (error);
  desk_collection_readable (all, error);
}

static void
run_op (DeskOp *op)
{
  Desk *self = op->desk;
  GError *error = NULL;
  AppendJob *job;

  op_empty (op);
  desk_stamp (self, &op->stamp);
  if (self->closed)
    desk_fail (&error, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
  else if (desk_read_only (self))
    desk_fail (&error, STORE_ERROR, STORE_ERROR_READ_ONLY, WORDS_DESK_READ_ONLY, self->dir, NULL);
  else if (!g_cancellable_set_error_if_cancelled (g_task_get_cancellable (op->task), &error))
    prepare_op (op, &error);
  if (error != NULL || op->entries->len == 0)
    {
      end_op (op, error);
      return;
    }
  job = g_new (AppendJob, 1);
  job->op = op;
  job->expect_seq = self->all.last_seq;
  store_run_async (self->store, append_job, job, g_free, g_free, NULL, op_appended_cb, op);
}

/* ---- loading what others wrote ---- */

typedef struct
{
  GArray *subjects;
  GPtrArray *entries;
  GArray *seqs; /* gint64, one for each entry */
  GArray *photos;
  GArray *merged; /* StoreMerged */
} Loaded;

static void
loaded_free (gpointer data)
{
  Loaded *self = data;

  g_clear_pointer (&self->subjects, g_array_unref);
  g_clear_pointer (&self->entries, g_ptr_array_unref);
  g_clear_pointer (&self->seqs, g_array_unref);
  g_clear_pointer (&self->photos, g_array_unref);
  g_clear_pointer (&self->merged, g_array_unref);
  g_free (self);
}

static gboolean
gather (gint64 seq, CoreEntry *entry, gpointer data, GError **error)
{
  Loaded *loaded = data;

  g_ptr_array_add (loaded->entries, entry);
  g_array_append_val (loaded->seqs, seq);
  return TRUE;
}

static gpointer
load_job (Store *store, gpointer data, GError **error)
{
  gint64 after = *(gint64 *) data;
  Loaded *loaded = g_new0 (Loaded, 1);

  loaded->entries = g_ptr_array_new_with_free_func (free_entry);
  loaded->seqs = g_array_new (FALSE, FALSE, sizeof (gint64));
  /* Entries first: what is loaded later can only hold more. */
  if (store_scan_entries (store, after, gather, loaded, error))
    loaded->subjects = store_load_subjects (store, error);
  if (loaded->subjects != NULL)
    loaded->photos = store_load_photos (store, error);
  if (loaded->photos != NULL)
    loaded->merged = store_load_merged (store, error);
  if (loaded->merged == NULL)
    g_clear_pointer (&loaded, loaded_free);
  return loaded;
}

/* What an earlier loading took and could not bring to its end. */
static void
add_stale (DeskCollection *all, GHashTable *touched)
{
  for (guint i = 0; i < all->order->len; i++)
    {
      const DeskRecord *record = all->order->pdata[i];

      if (record->stale || record->now == NULL)
        desk_id_set_add (touched, record->id);
    }
}

static gboolean
take_loaded (Desk *self, Loaded *loaded, GError **error)
{
  g_autoptr (GHashTable) touched = desk_id_set_new ();

  for (guint i = 0; i < loaded->subjects->len; i++)
    {
      const StoreSubject *subject = &g_array_index (loaded->subjects, StoreSubject, i);

      desk_collection_add_subject (&self->all, subject->id, subject->kind);
    }
  for (guint i = 0; i < loaded->photos->len; i++)
    {
      StorePhoto *photo = g_memdup2 (&g_array_index (loaded->photos, StorePhoto, i), sizeof *photo);

      g_hash_table_replace (self->photos, photo->hash, photo);
    }
  if (!desk_collection_take (&self->all, loaded->entries, (const gint64 *) loaded->seqs->data,
                             touched, error))
    return FALSE;
  g_clear_pointer (&self->merged, g_array_unref);
  self->merged = g_steal_pointer (&loaded->merged);
  add_stale (&self->all, touched);
  if (g_hash_table_size (touched) > 0 && self->opened)
    desk_refresh (self, touched);
  return TRUE;
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  GError *error = NULL;
  Loaded *loaded = store_run_finish (result, &error);

  if (loaded != NULL && take_loaded (g_task_get_source_object (task), loaded, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
  g_clear_pointer (&loaded, loaded_free);
}

void
desk_reload_async (Desk *self, GAsyncReadyCallback callback, gpointer data)
{
  GTask *task = g_task_new (self, NULL, callback, data);

  g_task_set_source_tag (task, desk_reload_async);
  store_run_async (self->store, load_job,
                   g_memdup2 (&self->all.last_seq, sizeof self->all.last_seq), g_free, loaded_free,
                   NULL, loaded_cb, task);
}

gboolean
desk_reload_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return g_task_propagate_boolean (G_TASK (result), error);
}
