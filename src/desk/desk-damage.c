/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-damage.c — what could not be read is remembered, so that no answer and no write rests on it.
 *
 * Many of the desk's answers have no error of their own: a fold, one entry that another names. A
 * reading that fails in one of them is noted here and told to whoever finishes: a verb that writes
 * is refused before it does, a command ends with the error, the window leaves the journal.
 * Invariant: once the journal is known to be damaged nothing is written into it any more. */
#include "desk/desk-private.h"

static gboolean
is_damage (const GError *error)
{
  return g_error_matches (error, STORE_ERROR, STORE_ERROR_CORRUPT);
}

void
desk_collection_note_failure (DeskCollection *self, const GError *failure)
{
  gboolean known = self->failed != NULL && is_damage (self->failed);

  self->unreadable = TRUE;
  if (known)
    return;
  g_clear_error (&self->failed);
  self->failed = g_error_copy (failure);
  if (is_damage (failure) && self->damaged != NULL)
    self->damaged (self->damaged_data);
}

gboolean
desk_collection_readable (const DeskCollection *self, GError **error)
{
  if (self->failed == NULL)
    return TRUE;
  if (error != NULL && *error == NULL)
    *error = g_error_copy (self->failed);
  return FALSE;
}

void
desk_collection_forgive (DeskCollection *self)
{
  if (self->failed != NULL && !is_damage (self->failed))
    g_clear_error (&self->failed);
}

/* ---- of a desk ---- */

gboolean
desk_is_readable (Desk *self, GError **error)
{
  g_return_val_if_fail (DESK_IS_DESK (self), FALSE);

  return desk_collection_readable (&self->all, error);
}

gboolean
desk_is_damaged (Desk *self)
{
  return self->all.failed != NULL && is_damage (self->all.failed);
}

void
desk_note_damage (Desk *self, const GError *error)
{
  if (error != NULL && is_damage (error))
    desk_collection_note_failure (&self->all, error);
}

/* Found on the way, in the middle of something: who leaves the journal for it does so afterwards.
 */
static gboolean
damaged_cb (gpointer data)
{
  Desk *self = data;

  self->damaged_id = 0;
  if (!self->closed)
    g_signal_emit_by_name (self, "damaged");
  return G_SOURCE_REMOVE;
}

static void
found (gpointer data)
{
  Desk *self = data;

  if (!(self->flags & DESK_OPEN_LAZY) && self->opened)
    self->damaged_id = g_idle_add (damaged_cb, self);
}

void
desk_damage_watch (Desk *self)
{
  self->all.damaged = found;
  self->all.damaged_data = self;
}

/* After something was written that could not be read back: it must not be said that nothing was. */
void
desk_written_unread (Desk *self, GError **error)
{
  gboolean damaged = desk_is_damaged (self) || is_damage (*error);

  g_clear_error (error);
  if (damaged)
    desk_fail (error, DESK_ERROR, DESK_ERROR_DAMAGED, WORDS_DESK_WRITTEN_DAMAGED, self->dir, NULL);
  else
    desk_fail (error, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_WRITTEN_UNREAD, NULL);
}
