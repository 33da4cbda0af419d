/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-draft.c — what is typed or marked but not yet recorded.
 *
 * Kept in memory at once and on disk within a second; a draft that could not be
 * written stays marked and is tried again with the next. */
#include "desk/desk-draft.h"

#include "desk/desk-private.h"

typedef struct
{
  char *key;
  char *body; /* NULL = remove */
  gint64 now_ms;
} DraftJob;

static void
draft_job_free (gpointer data)
{
  DraftJob *self = data;

  g_free (self->key);
  g_free (self->body);
  g_free (self);
}

static gpointer
draft_job (Store *store, gpointer data, GError **error)
{
  DraftJob *job = data;
  gboolean ok = job->body != NULL ? store_draft_put (store, job->key, job->body, job->now_ms, error)
                                  : store_draft_remove (store, job->key, error);

  return GINT_TO_POINTER (ok);
}

typedef struct
{
  Desk *desk;
  char *key;
} Written;

static void
draft_written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Written *written = data;
  g_autoptr (GError) error = NULL;

  store_run_finish (result, &error);
  if (error != NULL)
    {
      g_message ("a draft could not be kept: %s", error->message);
      g_hash_table_add (written->desk->unsaved, g_strdup (written->key));
    }
  g_object_unref (written->desk);
  g_free (written->key);
  g_free (written);
}

void
desk_drafts_flush (Desk *self)
{
  g_autoptr (GHashTable) keys = g_steal_pointer (&self->unsaved);
  GHashTableIter iter;
  gpointer key;

  self->unsaved = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_clear_handle_id (&self->draft_id, g_source_remove);
  if (desk_is_damaged (self))
    return;
  g_hash_table_iter_init (&iter, keys);
  while (!self->closed && g_hash_table_iter_next (&iter, &key, NULL))
    {
      DraftJob *job = g_new0 (DraftJob, 1);
      Written *written = g_new0 (Written, 1);
      StoreStamp stamp;

      desk_stamp (self, &stamp);
      job->key = g_strdup (key);
      job->body = g_strdup (g_hash_table_lookup (self->drafts, key));
      job->now_ms = stamp.now_ms;
      written->desk = g_object_ref (self);
      written->key = g_strdup (key);
      store_run_async (self->store, draft_job, job, draft_job_free, NULL, NULL, draft_written_cb,
                       written);
    }
}

static gboolean
flush_cb (gpointer data)
{
  Desk *self = data;

  self->draft_id = 0;
  desk_drafts_flush (self);
  return G_SOURCE_REMOVE;
}

void
desk_draft_set (Desk *self, const char *key, const char *body)
{
  g_return_if_fail (DESK_IS_DESK (self));
  g_return_if_fail (key != NULL);

  if (body != NULL)
    g_hash_table_replace (self->drafts, g_strdup (key), g_strdup (body));
  else if (!g_hash_table_remove (self->drafts, key))
    return;
  if (desk_read_only (self) || self->closed)
    return;
  g_hash_table_add (self->unsaved, g_strdup (key));
  if (self->draft_id == 0)
    self->draft_id = g_timeout_add_seconds (1, flush_cb, self);
}

char *
desk_draft_get (Desk *self, const char *key)
{
  return g_strdup (g_hash_table_lookup (self->drafts, key));
}

GPtrArray *
desk_draft_keys (Desk *self)
{
  GPtrArray *keys = g_ptr_array_new_with_free_func (g_free);
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, self->drafts);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    g_ptr_array_add (keys, g_strdup (key));
  return keys;
}

/* Jobs of the store run one after the other: when this one does, the drafts have been written. */
static gpointer
after_job (Store *store, gpointer data, GError **error)
{
  return NULL;
}

static void
after_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;

  (void) store_run_finish (result, NULL);
  g_task_return_boolean (task, TRUE);
}

void
desk_drafts_write_async (Desk *self, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, NULL, callback, data);

  g_task_set_source_tag (task, desk_drafts_write_async);
  desk_drafts_flush (self);
  if (self->closed || self->store == NULL)
    g_task_return_boolean (task, TRUE);
  else
    store_run_async (self->store, after_job, NULL, NULL, NULL, NULL, after_cb, g_steal_pointer (&task));
}

void
desk_drafts_write_finish (Desk *self, GAsyncResult *result)
{
  g_return_if_fail (g_async_result_is_tagged (result, desk_drafts_write_async));

  (void) g_task_propagate_boolean (G_TASK (result), NULL);
}
