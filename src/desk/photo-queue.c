/* SPDX-License-Identifier: GPL-3.0-or-later */
/* photo-queue.c — one thread: of many large pictures only one is unpacked at a time. */
#include "desk/photo-batch-private.h"

typedef struct
{
  GTask *task; /* owned */
  void (*work) (GTask *task);
} Turn;

static void
take_turn (gpointer data, gpointer unused)
{
  g_autofree Turn *turn = data;
  g_autoptr (GTask) task = turn->task;

  if (!g_task_return_error_if_cancelled (task))
    turn->work (task);
}

static GThreadPool *
pool (void)
{
  static gsize once = 0;

  if (g_once_init_enter (&once))
    g_once_init_leave (&once, (gsize) g_thread_pool_new (take_turn, NULL, 1, FALSE, NULL));
  return (GThreadPool *) once;
}

void
photo_queue_take (GTask *task, void (*work) (GTask *task))
{
  Turn *turn = g_new (Turn, 1);

  *turn = (Turn){ task, work };
  g_thread_pool_push (pool (), turn, NULL); /* without a thread it waits for one */
}
