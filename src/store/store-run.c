/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-run.c — the Store's own thread.
 *
 * A transaction belongs to a connection, not to a thread: two threads on one
 * connection would commit and roll back each other's rows. Invariant: after the
 * first store_run_async() only that one thread uses the connection.
 */
#include "store/store-private.h"

typedef struct
{
  Store *store; /* borrowed: store_close() waits for us */
  StoreJob job;
  gpointer data;
  GDestroyNotify data_free;
  GDestroyNotify result_free;
} Job;

static void
free_job (gpointer data)
{
  Job *job = data;

  if (job->data_free != NULL && job->data != NULL)
    job->data_free (job->data);
  g_free (job);
}

static void
run_job (gpointer data, gpointer user_data)
{
  g_autoptr (GTask) task = data;
  Job *job = g_task_get_task_data (task);
  GError *error = NULL;
  gpointer result;

  if (g_cancellable_set_error_if_cancelled (g_task_get_cancellable (task), &error))
    {
      g_task_return_error (task, error);
      return;
    }
  result = job->job (job->store, job->data, &error);
  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, result, job->result_free);
}

void
store_run_async (Store *self,
                 StoreJob func,
                 gpointer data,
                 GDestroyNotify data_free,
                 GDestroyNotify result_free,
                 GCancellable *cancellable,
                 GAsyncReadyCallback callback,
                 gpointer user_data)
{
  g_autoptr (GTask) task = NULL;
  GError *error = NULL;
  Job *job;

  g_return_if_fail (self != NULL && func != NULL);
  task = g_task_new (NULL, cancellable, callback, user_data);
  g_task_set_source_tag (task, store_run_async);
  /* A job that has written must not be reported as cancelled. */
  g_task_set_check_cancellable (task, FALSE);
  job = g_new0 (Job, 1);
  job->store = self;
  job->job = func;
  job->data = data;
  job->data_free = data_free;
  job->result_free = result_free;
  g_task_set_task_data (task, job, free_job);
  if (self->pool == NULL)
    self->pool = g_thread_pool_new (run_job, NULL, 1, TRUE, &error);
  if (self->pool == NULL)
    g_task_return_error (task, error);
  else
    g_thread_pool_push (self->pool, g_steal_pointer (&task), NULL);
}

gpointer
store_run_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, store_run_async), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

typedef struct
{
  char *dir;
  StoreFlags flags;
} OpenJob;

static void
free_open_job (gpointer data)
{
  OpenJob *job = data;

  g_free (job->dir);
  g_free (job);
}

static void
close_store (gpointer store)
{
  store_close (store);
}

static void
run_open (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  OpenJob *job = data;
  GError *error = NULL;
  Store *store = store_open (job->dir, job->flags, &error);

  if (store != NULL)
    g_task_return_pointer (task, store, close_store);
  else
    g_task_return_error (task, error);
}

void
store_open_async (const char *dir,
                  StoreFlags flags,
                  GCancellable *cancellable,
                  GAsyncReadyCallback callback,
                  gpointer user_data)
{
  g_autoptr (GTask) task = NULL;
  OpenJob *job;

  g_return_if_fail (dir != NULL);
  task = g_task_new (NULL, cancellable, callback, user_data);
  g_task_set_source_tag (task, store_open_async);
  job = g_new0 (OpenJob, 1);
  job->dir = g_strdup (dir);
  job->flags = flags;
  g_task_set_task_data (task, job, free_open_job);
  g_task_run_in_thread (task, run_open);
}

Store *
store_open_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, store_open_async), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
