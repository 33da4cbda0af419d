/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk.c — the object: what it owns, what it says, and waiting for it.
 *
 * The verbs are in files of their own: desk-open, -read, -write, -add, -record,
 * -history, -round, -photo, -plan, -draft, -check. */
#include "desk/desk-search-private.h"
#include "exchange/exch-error.h"

#include <string.h>

G_DEFINE_TYPE (Desk, desk, G_TYPE_OBJECT)

enum
{
  CHANGED,
  TODAY_CHANGED,
  UNDO_CHANGED,
  BACKUP_DONE,
  DAMAGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* ---- the object ---- */

static void
desk_dispose (GObject *object)
{
  Desk *self = DESK_DESK (object);

  g_clear_handle_id (&self->poll_id, g_source_remove);
  g_clear_handle_id (&self->draft_id, g_source_remove);
  g_clear_handle_id (&self->damaged_id, g_source_remove);
  desk_watch_stop (self);
  g_clear_handle_id (&self->snapshot_id, g_source_remove);
  g_clear_handle_id (&self->warm_id, g_source_remove);
  G_OBJECT_CLASS (desk_parent_class)->dispose (object);
}

static void
desk_finalize (GObject *object)
{
  Desk *self = DESK_DESK (object);

  if (self->pool != NULL)
    g_thread_pool_free (self->pool, TRUE, TRUE);
  g_clear_pointer (&self->seeker, store_close);
  g_clear_pointer (&self->reader, store_close);
  g_clear_pointer (&self->store, store_close);
  g_clear_pointer (&self->search_rows, desk_search_rows_free);
  g_clear_pointer (&self->facts, desk_facts_free);
  desk_collection_clear (&self->all);
  g_clear_pointer (&self->photos, g_hash_table_unref);
  g_clear_pointer (&self->drafts, g_hash_table_unref);
  g_clear_pointer (&self->unsaved, g_hash_table_unref);
  g_clear_pointer (&self->profiles, desk_profiles_unref);
  g_clear_pointer (&self->kin, desk_kin_unref);
  g_clear_pointer (&self->watch, desk_watch_free);
  g_clear_pointer (&self->then.subjects, g_ptr_array_unref);
  g_clear_pointer (&self->merged, g_array_unref);
  g_free (self->kinds);
  g_free (self->dir);
  G_OBJECT_CLASS (desk_parent_class)->finalize (object);
}

static void
desk_class_init (DeskClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = desk_dispose;
  object_class->finalize = desk_finalize;
  signals[CHANGED] = g_signal_new ("changed", DESK_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, DESK_TYPE_SUBJECT);
  signals[TODAY_CHANGED] = g_signal_new ("today-changed", DESK_TYPE_DESK, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[UNDO_CHANGED] = g_signal_new ("undo-changed", DESK_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL,
                                        NULL, NULL, G_TYPE_NONE, 0);
  signals[BACKUP_DONE] = g_signal_new ("backup-done", DESK_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL,
                                       NULL, NULL, G_TYPE_NONE, 0);
  signals[DAMAGED] = g_signal_new ("damaged", DESK_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

void
desk_emit_backup_done (Desk *self)
{
  g_signal_emit (self, signals[BACKUP_DONE], 0);
}

static void
desk_init (Desk *self)
{
  self->kin = desk_kin_new ();
  desk_collection_init (&self->all);
  self->photos = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  self->drafts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->unsaved = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_queue_init (&self->ops);
  desk_pool_init (self);
}

const char *
desk_dir (Desk *self)
{
  return self->dir;
}

gboolean
desk_read_only (Desk *self)
{
  return self->store == NULL || store_get_access (self->store) != STORE_ACCESS_WRITE;
}

CoreDay
desk_today (Desk *self)
{
  return self->today;
}

void
desk_set_today (Desk *self, CoreDay today)
{
  g_return_if_fail (DESK_IS_DESK (self));

  if (today == self->today)
    return;
  self->today = today;
  desk_refresh_all (self, NULL, NULL);
  g_signal_emit (self, signals[TODAY_CHANGED], 0);
}

CoreId
desk_journal_id (Desk *self)
{
  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];

      if (record->kind == CORE_SUBJECT_JOURNAL)
        return record->id;
    }
  return (CoreId){ 0 };
}

const char *
desk_journal_setting (Desk *self, const char *key)
{
  DeskRecord *record = desk_collection_record (&self->all, desk_journal_id (self));

  return record == NULL ? NULL : core_state_setting (desk_subject_state (record->now), key);
}

gboolean
desk_is_demo (Desk *self)
{
  return g_strcmp0 (desk_journal_setting (self, "demo"), "yes") == 0;
}

int
desk_scheme (Desk *self)
{
  return g_strcmp0 (desk_journal_setting (self, "scheme"), "2") == 0 ? 2 : 1;
}

DeskFault
desk_error_fault (const GError *error)
{
  if (error->domain == STORE_ERROR)
    switch (error->code)
      {
      case STORE_ERROR_CORRUPT:
      case STORE_ERROR_TOO_NEW:
        return DESK_FAULT_DAMAGED;
      case STORE_ERROR_BUSY:
      case STORE_ERROR_STALE:
        return DESK_FAULT_BUSY;
      default:
        break;
      }
  if (g_error_matches (error, DESK_ERROR, DESK_ERROR_BACKUP) ||
      g_error_matches (error, DESK_ERROR, DESK_ERROR_DAMAGED))
    return DESK_FAULT_DAMAGED;
  if (error->domain == EXCH_ERROR && (error->code == EXCH_ERROR_DAMAGED ||
                                      error->code == EXCH_ERROR_HOSTILE ||
                                      error->code == EXCH_ERROR_TOO_NEW))
    return DESK_FAULT_DAMAGED;
  return DESK_FAULT_REQUEST;
}

/* ---- waiting ---- */

void
desk_sync_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  DeskSync *sync = data;

  sync->result = g_object_ref (result);
  g_main_context_wakeup (sync->context);
}

GAsyncResult *
desk_sync_wait (DeskSync *sync)
{
  sync->context = g_main_context_get_thread_default ();
  while (sync->result == NULL)
    g_main_context_iteration (sync->context, TRUE);
  return sync->result;
}
