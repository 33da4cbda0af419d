/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-refresh.c — from changed entries to new snapshots, computed in the pool.
 *
 * A snapshot is published as soon as its fold is there; "changed" is said when
 * it has been computed, so that who listens never waits. Snapshots carry their
 * own results, so an overtaken computation can do no harm: it belongs to a
 * snapshot that nobody asks any more. */
#include "desk/desk-private.h"

#include <string.h>

/* Plans of so many subjects are held ready, about 20 MB; of more each is made when asked for. */
#define PLANS_AHEAD 400

/* One batch: what was computed together is announced together. */
typedef struct
{
  Desk *desk;            /* owned */
  GMainContext *context; /* owned; of who asked */
  GPtrArray *ready;      /* DeskSubject *, owned */
  gboolean all;
  GFunc done;
  gpointer data;
  gint left; /* atomic */
} Batch;

typedef struct
{
  Batch *batch;
  DeskSubject *subject; /* owned */
  gboolean plan;
} Job;

/* More than these at once are said as "everything": who listens works anew once, not for each. */
#define MANY 8

static void
announce (Batch *batch)
{
  if (batch->all || batch->ready->len > MANY)
    g_signal_emit_by_name (batch->desk, "changed", NULL);
  else
    for (guint i = 0; i < batch->ready->len; i++)
      g_signal_emit_by_name (batch->desk, "changed", batch->ready->pdata[i]);
  if (batch->done != NULL)
    batch->done (batch->desk, batch->data);
}

static void start_batch (Desk *self, GPtrArray *ready, gboolean all, GFunc done, gpointer data);
static void renew (Desk *self, DeskRecord *record);

/* What has just been computed may tell others of its lot and room another thing than before: these
 * are computed anew behind it, and nobody waits for that. Their own voices are as they were, so
 * that it ends here. */
static void
follow (Desk *self)
{
  GPtrArray *ready;

  /* Without a pool only what was asked for before is computed, and may be old now. */
  if (self->closed || (!(self->flags & DESK_OPEN_LAZY) && !desk_kin_changed (self->kin)))
    return;
  ready = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];

      if (record->now == NULL || record->stale || !desk_subject_hears_new (record->now))
        continue;
      renew (self, record);
      g_ptr_array_add (ready, desk_subject_ref (record->now));
    }
  if (ready->len > 0)
    start_batch (self, ready, FALSE, NULL, NULL);
  else
    g_ptr_array_unref (ready);
}

static gboolean
batch_done_cb (gpointer data)
{
  Batch *batch = data;

  follow (batch->desk);
  batch->desk->pending--;
  if (batch->all && !(batch->desk->flags & DESK_OPEN_LAZY))
    desk_search_warm (batch->desk);
  announce (batch);
  g_ptr_array_unref (batch->ready);
  g_object_unref (batch->desk);
  g_main_context_unref (batch->context);
  g_free (batch);
  return G_SOURCE_REMOVE;
}

/* Once it is attached another thread may run it to its end, and let go of the context, before the
 * source is let go of here, which locks the context. */
static void
finish_batch (Batch *batch)
{
  g_autoptr (GMainContext) context = g_main_context_ref (batch->context);
  GSource *source = g_idle_source_new ();

  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, batch_done_cb, batch, NULL);
  g_source_attach (source, context);
  g_source_unref (source);
}

static void
compute_job (gpointer data, gpointer user_data)
{
  Job *job = data;

  desk_subject_compute (job->subject, job->plan);
  desk_subject_unref (job->subject);
  if (g_atomic_int_dec_and_test (&job->batch->left))
    finish_batch (job->batch);
  g_free (job);
}

void
desk_pool_init (Desk *self)
{
  int threads = MAX (1, (int) g_get_num_processors () - 1);

  self->pool = g_thread_pool_new (compute_job, NULL, threads, FALSE, NULL);
}

/* Takes `ready`. */
static void
start_batch (Desk *self, GPtrArray *ready, gboolean all, GFunc done, gpointer data)
{
  Batch *batch = g_new0 (Batch, 1);
  guint n = self->flags & DESK_OPEN_LAZY ? 0 : ready->len;

  batch->desk = g_object_ref (self);
  batch->context = g_main_context_ref_thread_default ();
  batch->ready = ready;
  batch->all = all;
  batch->done = done;
  batch->data = data;
  batch->left = (gint) n + 1;
  self->pending++;
  for (guint i = 0; i < n; i++)
    {
      Job *job = g_new0 (Job, 1);

      job->batch = batch;
      job->subject = desk_subject_ref (ready->pdata[i]);
      job->plan = self->plans_ahead;
      g_thread_pool_push (self->pool, job, NULL);
    }
  if (self->flags & DESK_OPEN_LAZY)
    {
      g_atomic_int_set (&batch->left, 0);
      batch_done_cb (batch);
    }
  else if (g_atomic_int_dec_and_test (&batch->left))
    finish_batch (batch);
}

/* Where its entries cannot be read the last state stands, and it stays stale; that it could not be
 * read is remembered, for whoever asks or writes next. */
static DeskFold *
fold_anew (Desk *self, DeskRecord *record)
{
  DeskFold *fold =
    desk_collection_fold (&self->all, record->id, record->kind, &desk_fold_now, NULL);

  if (fold != NULL)
    return fold;
  record->stale = TRUE;
  return record->now != NULL ? desk_fold_ref (desk_subject_fold (record->now)) : desk_fold_new ();
}

static gboolean
was_cut (const CoreState *state)
{
  for (size_t i = 0; i < state->conflicts.n; i++)
    if (state->conflicts.v[i].kind == CORE_CONFLICT_FUTURE)
      return TRUE;
  return FALSE;
}

/* What is of days to come does not count yet; where there is some it is said. Takes `fold`. */
static DeskFold *
up_to_today (Desk *self, DeskRecord *record, DeskFold *fold)
{
  const DeskFoldHow how = { .until = self->today };
  CoreConflict conflict = { CORE_CONFLICT_FUTURE, fold->state.last_entry, { { 0 } } };
  DeskFold *cut;

  if (fold->state.last_day == CORE_DAY_NONE || fold->state.last_day <= self->today)
    return fold;
  cut = desk_collection_fold (&self->all, record->id, record->kind, &how, NULL);
  if (cut == NULL)
    return fold;
  desk_fold_unref (fold);
  if (core_state_add_conflict (&cut->state, conflict) != CORE_OK)
    g_error ("out of memory while folding a subject");
  self->all.days_to_come = TRUE;
  return cut;
}

static void
renew (Desk *self, DeskRecord *record)
{
  g_autoptr (DeskFold) fold = NULL;
  DeskSubject *next;

  if (record->made != NULL && !record->stale)
    fold = g_steal_pointer (&record->made);
  else if (record->stale || record->now == NULL || was_cut (desk_subject_state (record->now)))
    {
      record->stale = FALSE;
      fold = fold_anew (self, record);
    }
  else
    fold = desk_fold_ref (desk_subject_fold (record->now));
  g_clear_pointer (&record->made, desk_fold_unref);
  fold = up_to_today (self, record, g_steal_pointer (&fold));
  next = desk_subject_new (self, record, fold, self->today);
  desk_subject_speak (next, record->now, g_steal_pointer (&record->kept));
  g_clear_pointer (&record->now, desk_subject_unref);
  record->now = next;
}

static gboolean
uses_any (const DeskRecord *record, const GPtrArray *places)
{
  for (guint i = 0; i < places->len; i++)
    if (desk_subject_uses_place (record->now, ((DeskRecord *) places->pdata[i])->id))
      return TRUE;
  return FALSE;
}

/* The kinds may be others now: by the copies of the journal, which is renewed first. */
static gboolean
profile_changed (Desk *self, const DeskRecord *record)
{
  return desk_profiles_for (self->profiles, desk_subject_state (record->now)->species) !=
         desk_subject_profile (record->now);
}

typedef struct
{
  Desk *desk;
  GHashTable *names;  /* that changed hands */
  GHashTable *seen;   /* DeskRecord, those in `records` */
  GPtrArray *records; /* DeskRecord, borrowed: those renewed, once each */
  gboolean around;    /* what is around others may have changed */
} Renewal;

static void
note_renewed (Renewal *self, DeskRecord *record)
{
  if (g_hash_table_add (self->seen, record))
    g_ptr_array_add (self->records, record);
}

static void
renew_noting (Renewal *self, DeskRecord *record)
{
  g_autoptr (DeskSubject) before = record->now != NULL ? desk_subject_ref (record->now) : NULL;

  renew (self->desk, record);
  desk_names_note (self->names, before, record->now);
  self->around = self->around || desk_around_changes (before, record->now);
  note_renewed (self, record);
}

/* Who keeps a number, and who answers to it with a letter, may be others now. */
static void
renew_namesakes (Renewal *self)
{
  GPtrArray *order = self->desk->all.order;

  for (guint i = 0; g_hash_table_size (self->names) > 0 && i < order->len; i++)
    {
      DeskRecord *record = order->pdata[i];

      if (!desk_names_concern (self->names, record->now))
        continue;
      record->stale = TRUE;
      renew (self->desk, record);
      note_renewed (self, record);
    }
}

static void
renew_around (DeskRecord *record, gpointer data)
{
  Renewal *self = data;

  if (g_hash_table_contains (self->seen, record))
    return; /* new already, and not yet in use */
  renew (self->desk, record);
  note_renewed (self, record);
}

void
desk_refresh (Desk *self, GHashTable *touched)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  g_autoptr (GPtrArray) records = g_ptr_array_new ();
  g_autoptr (GPtrArray) places = g_ptr_array_new ();
  Renewal renewal = { self, names, seen, records, FALSE };
  GPtrArray *ready = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);

  DeskRecord *journal = desk_collection_record (&self->all, desk_journal_id (self));
  gboolean kinds = FALSE;

  if (journal != NULL && g_hash_table_contains (touched, &journal->id))
    {
      renew_noting (&renewal, journal);
      kinds = desk_profiles_follow (self);
    }
  /* Places first: what stands on them takes their folds. */
  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];

      if (record->kind == CORE_SUBJECT_PLACE && g_hash_table_contains (touched, &record->id))
        {
          renew_noting (&renewal, record);
          g_ptr_array_add (places, record);
        }
    }
  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];

      if (record->stale || record->now == NULL ||
          (places->len > 0 && !g_hash_table_contains (touched, &record->id) &&
           uses_any (record, places)) ||
          (kinds && profile_changed (self, record)))
        renew_noting (&renewal, record);
    }
  renew_namesakes (&renewal);
  if (renewal.around)
    desk_around (self, renew_around, &renewal);
  for (guint i = 0; i < records->len; i++)
    g_ptr_array_add (ready, desk_subject_ref (((DeskRecord *) records->pdata[i])->now));
  start_batch (self, ready, FALSE, NULL, NULL);
  desk_emit_undo_changed (self);
}

void
desk_refresh_all (Desk *self, GFunc done, gpointer data)
{
  GPtrArray *ready = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  DeskRecord *journal = desk_collection_record (&self->all, desk_journal_id (self));

  if (journal != NULL)
    {
      renew (self, journal);
      (void) desk_profiles_follow (self);
    }
  /* Places twice: a snapshot holds the folds of the places that it is within, which may
   * come later. Then what stands on them. */
  for (int pass = 0; pass < 3; pass++)
    for (guint i = 0; i < self->all.order->len; i++)
      {
        DeskRecord *record = self->all.order->pdata[i];

        if ((record->kind == CORE_SUBJECT_PLACE) != (pass < 2))
          continue;
        renew (self, record);
        if (pass > 0 && desk_subject_living (record->now))
          g_ptr_array_add (ready, desk_subject_ref (record->now));
      }
  desk_around (self, NULL, NULL);
  self->plans_ahead = ready->len <= PLANS_AHEAD;
  start_batch (self, ready, TRUE, done, data);
  desk_emit_undo_changed (self);
}
