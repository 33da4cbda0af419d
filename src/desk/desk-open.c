/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-open.c — opening, closing, and noticing what others write.
 *
 * Profiles first, then the journal, then everything in it; when the finish is
 * there, the snapshots of all that lives have been computed (unless lazy). */
#include "desk/desk-private.h"

#include <string.h>

#define POLL_SECONDS 1
#define SNAPSHOT_SECONDS 20

typedef struct
{
  Desk *desk; /* owned */
  CoreDay today;
} Opening;

static void
opening_free (gpointer data)
{
  Opening *self = data;

  g_clear_object (&self->desk);
  g_free (self);
}

static Desk *
desk_of (GTask *task)
{
  return ((Opening *) g_task_get_task_data (task))->desk;
}

/* ---- noticing others ---- */

static void
poll_reloaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Desk *self = DESK_DESK (source);
  g_autoptr (GError) error = NULL;

  self->polling = FALSE;
  if (!desk_reload_finish (self, result, &error))
    {
      desk_note_damage (self, error);
      g_message ("could not load what another program wrote: %s", error->message);
    }
}

static gpointer
poll_job (Store *store, gpointer data, GError **error)
{
  gboolean changed = FALSE;

  if (!store_poll (store, &changed, error))
    return NULL;
  return GINT_TO_POINTER (changed ? 2 : 1);
}

static void
polled_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Desk) self = data;
  g_autoptr (GError) error = NULL;
  int answer = GPOINTER_TO_INT (store_run_finish (result, &error));

  if (answer == 2 && !self->closed)
    {
      desk_reload_async (self, poll_reloaded_cb, NULL);
      return;
    }
  self->polling = FALSE;
}

static gboolean
poll_cb (gpointer data)
{
  Desk *self = data;

  if (!self->polling && !self->closed)
    {
      self->polling = TRUE;
      store_run_async (self->store, poll_job, NULL, NULL, NULL, NULL, polled_cb,
                       g_object_ref (self));
    }
  return G_SOURCE_CONTINUE;
}

/* ---- opening ---- */

/* Some time after opening, when the keeper reads rather than waits. */
static gboolean
snapshot_cb (gpointer data)
{
  Desk *self = data;

  self->snapshot_id = 0;
  if (!self->closed && self->pending == 0 && desk_snapshot_is_due (self))
    desk_snapshot_write (self);
  return G_SOURCE_REMOVE;
}

static void
computed_cb (gpointer desk, gpointer data)
{
  g_autoptr (GTask) task = data;
  Desk *self = desk;
  GError *error = NULL;

  if (!desk_is_readable (self, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  if (!(self->flags & DESK_OPEN_LAZY))
    self->poll_id = g_timeout_add_seconds (POLL_SECONDS, poll_cb, self);
  if (!(self->flags & DESK_OPEN_LAZY) && desk_snapshot_is_due (self))
    self->snapshot_id = g_timeout_add_seconds (SNAPSHOT_SECONDS, snapshot_cb, self);
  g_task_return_pointer (task, g_object_ref (self), g_object_unref);
}

static void
settle (GTask *task)
{
  Desk *self = desk_of (task);

  self->opened = TRUE;
  desk_refresh_all (self, computed_cb, task);
}

static gboolean
prepare_journal (Desk *self, DeskOp *op, GError **error)
{
  CoreId journal = desk_op_new_subject (op, CORE_SUBJECT_JOURNAL);
  CoreEntry *entry = desk_op_entry (op, CORE_KIND_SET, journal, self->today);

  return desk_value_set (self, entry, "key=scheme", error) &&
         desk_value_set (self, entry, "value=1", error) && desk_op_check (op, error);
}

static void
journal_made_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = data;
  GError *error = NULL;

  if (desk_op_finish (DESK_DESK (source), result, prepare_journal, &error) == NULL)
    {
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  settle (task);
}

static void
drafts_loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = data;
  Desk *self = desk_of (task);
  GError *error = NULL;
  g_autoptr (GPtrArray) drafts = store_run_finish (result, &error);

  if (drafts == NULL)
    {
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  for (guint i = 0; i < drafts->len; i++)
    {
      StoreDraft *draft = drafts->pdata[i];

      g_hash_table_replace (self->drafts, g_strdup (draft->key), g_strdup (draft->body));
    }
  if (core_id_is_none (desk_journal_id (self)) && !desk_read_only (self))
    desk_op_start (self, prepare_journal, prepare_journal, NULL, NULL, NULL, journal_made_cb, task);
  else
    settle (task);
}

static gpointer
drafts_job (Store *store, gpointer data, GError **error)
{
  return store_load_drafts (store, error);
}

static void
adopt (Desk *self, DeskBuilt *built)
{
  desk_collection_clear (&self->all);
  self->all = built->all;
  desk_collection_init (&built->all);
  self->all.source = self->reader;
  desk_damage_watch (self);
  self->merged = g_steal_pointer (&built->merged);
  for (guint i = 0; i < built->photos->len; i++)
    {
      StorePhoto *photo = g_memdup2 (&g_array_index (built->photos, StorePhoto, i), sizeof *photo);

      g_hash_table_replace (self->photos, photo->hash, photo);
    }
}

static void
built_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = data;
  Desk *self = desk_of (task);
  GError *error = NULL;
  g_autoptr (DeskBuilt) built = store_run_finish (result, &error);

  if (built != NULL)
    self->reader = store_open_reader (self->store, &error);
  if (self->reader == NULL)
    {
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  adopt (self, built);
  store_run_async (desk_of (task)->store, drafts_job, NULL, NULL,
                   (GDestroyNotify) g_ptr_array_unref, g_task_get_cancellable (task),
                   drafts_loaded_cb, task);
}

static void
store_opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = data;
  Desk *self = desk_of (task);
  GError *error = NULL;
  DeskBuildAsk *ask;

  self->store = store_open_finish (result, &error);
  if (self->store == NULL)
    {
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  self->device = store_get_device (self->store);
  ask = g_new0 (DeskBuildAsk, 1);
  ask->profiles = desk_profiles_key (self->profiles);
  ask->today = self->today;
  ask->check_most = self->flags & DESK_OPEN_UNCHECKED ? 0 : desk_check_most;
  store_run_async (self->store, desk_build_job, ask, desk_build_ask_free,
                   (GDestroyNotify) desk_built_free, g_task_get_cancellable (task), built_cb, task);
}

static void
profiles_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  DeskProfiles *profiles = desk_profiles_load (&error);

  if (profiles != NULL)
    g_task_return_pointer (task, profiles, (GDestroyNotify) desk_profiles_unref);
  else
    g_task_return_error (task, error);
}

static void
profiles_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = data;
  Desk *self = desk_of (task);
  GError *error = NULL;

  self->profiles = g_task_propagate_pointer (G_TASK (result), &error);
  if (self->profiles == NULL)
    {
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  store_open_async (self->dir, self->flags & DESK_OPEN_CREATE ? STORE_CREATE : STORE_OPEN,
                    g_task_get_cancellable (task), store_opened_cb, task);
}

/* Takes `desk`, which says how. */
static void
open_desk (Desk *desk, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  GTask *task = g_task_new (NULL, cancellable, callback, data);
  Opening *opening = g_new0 (Opening, 1);
  g_autoptr (GTask) profiles = NULL;

  g_task_set_source_tag (task, desk_open_async);
  opening->desk = desk;
  g_task_set_task_data (task, opening, opening_free);
  profiles = g_task_new (NULL, cancellable, profiles_cb, task);
  g_task_run_in_thread (profiles, profiles_thread);
}

static Desk *
desk_new (const char *dir, CoreDay today, DeskOpenFlags flags)
{
  Desk *desk = g_object_new (DESK_TYPE_DESK, NULL);

  desk->dir = g_strdup (dir);
  desk->today = today;
  desk->flags = flags;
  return desk;
}

void
desk_open_async (const char *dir,
                 CoreDay today,
                 DeskOpenFlags flags,
                 GCancellable *cancellable,
                 GAsyncReadyCallback callback,
                 gpointer data)
{
  open_desk (desk_new (dir, today, flags), cancellable, callback, data);
}

Desk *
desk_open_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_open_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

Desk *
desk_open (const char *dir, CoreDay today, DeskOpenFlags flags, GError **error)
{
  return desk_open_by (dir, today, flags, NULL, NULL, error);
}

Desk *
desk_open_by (const char *dir, CoreDay today, DeskOpenFlags flags, DeskClock clock, gpointer data, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GMainContext) context = g_main_context_new ();
  g_autoptr (GAsyncResult) result = NULL;
  Desk *desk = desk_new (dir, today, flags);

  desk_set_clock (desk, clock, data);
  g_main_context_push_thread_default (context);
  open_desk (desk, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk = desk_open_finish (result, error);
  g_main_context_pop_thread_default (context);
  return desk;
}

/* ---- closing ---- */

static void
close_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_ptr_array_set_size (data, 0);
  g_task_return_boolean (task, TRUE);
}

static void
store_closed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;

  g_task_return_boolean (task, TRUE);
}

/* The thread's own task knows nothing of the desk, so that the desk never ends there. */
void
desk_ops_settle (Desk *self)
{
  GPtrArray *stores;
  g_autoptr (GTask) thread = NULL;

  if (self->closing == NULL || !g_queue_is_empty (&self->ops) || self->keeping)
    return;
  self->all.source = NULL;
  g_clear_pointer (&self->reader, store_close);
  thread = g_task_new (NULL, NULL, store_closed_cb, g_steal_pointer (&self->closing));
  /* The one that writes last: it leaves nothing pending beside the journal. */
  stores = g_ptr_array_new_with_free_func ((GDestroyNotify) store_close);
  if (self->seeker != NULL)
    g_ptr_array_add (stores, g_steal_pointer (&self->seeker));
  g_ptr_array_add (stores, g_steal_pointer (&self->store));
  g_task_set_task_data (thread, stores, (GDestroyNotify) g_ptr_array_unref);
  g_task_run_in_thread (thread, close_thread);
}

void
desk_close_async (Desk *self, GAsyncReadyCallback callback, gpointer data)
{
  GTask *task = g_task_new (self, NULL, callback, data);

  g_task_set_source_tag (task, desk_close_async);
  if (self->closed || self->store == NULL)
    {
      g_task_return_boolean (task, TRUE);
      g_object_unref (task);
      return;
    }
  desk_drafts_flush (self);
  if (self->opened && desk_snapshot_is_due (self))
    desk_snapshot_write (self);
  self->closed = TRUE;
  g_clear_handle_id (&self->poll_id, g_source_remove);
  g_clear_handle_id (&self->warm_id, g_source_remove);
  desk_watch_stop (self);
  self->closing = task;
  desk_ops_settle (self);
}

gboolean
desk_close_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_close_async), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}
