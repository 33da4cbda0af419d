/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-watch.c — the backup of each day while a journal is open.
 *
 * A first try soon after opening, then a look every ten minutes whether the day has changed; an
 * hour after a failure it is tried again. What went wrong is kept until a try goes well.
 */
#include "desk/desk-backup-private.h"

#define LOOK_SECONDS 600
#define AGAIN_SECONDS 3600

struct _DeskWatch
{
  /* Owned */
  GCancellable *stop;
  GError *error; /* of the last try; NULL = it went well */

  guint left_out; /* photos that the last one had to leave out */
  guint source;
  gint64 not_before; /* monotonic, after a failure */
  gboolean working;
};

static gboolean look_cb (gpointer data);

static void
look_after (Desk *self, guint milliseconds)
{
  DeskWatch *watch = self->watch;

  g_clear_handle_id (&watch->source, g_source_remove);
  watch->source = milliseconds < 1000 ? g_timeout_add (milliseconds, look_cb, self)
                                      : g_timeout_add_seconds (milliseconds / 1000, look_cb, self);
}

/* Also of one that the keeper asked for. Stopped, or another program is at it: neither good nor
 * bad. */
void
desk_watch_note (Desk *self, const DeskBackup *made, const GError *error)
{
  DeskWatch *watch = self->watch;

  if (watch == NULL || (made == NULL && error == NULL) ||
      g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ||
      g_error_matches (error, STORE_ERROR, STORE_ERROR_BUSY))
    return;
  g_clear_error (&watch->error);
  watch->not_before = 0;
  desk_note_damage (self, error);
  if (error != NULL)
    {
      watch->error = g_error_copy (error);
      watch->not_before = g_get_monotonic_time () + AGAIN_SECONDS * (gint64) G_USEC_PER_SEC;
    }
  else
    watch->left_out = made->left_out->len;
  desk_emit_backup_done (self);
}

static void
made_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (DeskBackup) made = NULL;

  DESK_DESK (source)->watch->working = FALSE;
  made = desk_backups_make_finish (DESK_DESK (source), result, NULL);
}

static gboolean
is_wanted (Desk *self)
{
  return !self->closed && !desk_read_only (self) && !desk_is_demo (self) &&
         desk_backups_on (self->dir);
}

static gboolean
look_cb (gpointer data)
{
  Desk *self = data;
  DeskWatch *watch = self->watch;

  watch->source = 0;
  look_after (self, LOOK_SECONDS * 1000);
  if (watch->working || g_get_monotonic_time () < watch->not_before || !is_wanted (self))
    return G_SOURCE_REMOVE;
  watch->working = TRUE;
  desk_backups_make_async (self, FALSE, watch->stop, made_cb, NULL);
  return G_SOURCE_REMOVE;
}

void
desk_backups_watch (Desk *self, guint first_ms)
{
  g_return_if_fail (DESK_IS_DESK (self));

  if (self->closed)
    return;
  if (self->watch == NULL)
    {
      self->watch = g_new0 (DeskWatch, 1);
      self->watch->stop = g_cancellable_new ();
    }
  self->watch->not_before = 0;
  look_after (self, first_ms);
}

void
desk_watch_stop (Desk *self)
{
  if (self->watch == NULL)
    return;
  g_clear_handle_id (&self->watch->source, g_source_remove);
  g_cancellable_cancel (self->watch->stop);
}

void
desk_watch_free (DeskWatch *watch)
{
  g_clear_object (&watch->stop);
  g_clear_error (&watch->error);
  g_free (watch);
}

const GError *
desk_backups_failed (Desk *self)
{
  g_return_val_if_fail (DESK_IS_DESK (self), NULL);
  return self->watch != NULL ? self->watch->error : NULL;
}

guint
desk_backups_left_out (Desk *self)
{
  g_return_val_if_fail (DESK_IS_DESK (self), 0);
  return self->watch != NULL ? self->watch->left_out : 0;
}
