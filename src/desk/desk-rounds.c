/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-rounds.c — the rounds of a journal in the order written, and how much of each still counts.
 *
 * What undo and redo look for is among these few numbers; the entries of a round
 * are read only when it is taken back. */
#include "desk/desk-private.h"

void
desk_rounds_init (DeskRounds *self)
{
  self->rounds = g_array_new (FALSE, FALSE, sizeof (DeskRound));
  self->devices = g_array_new (FALSE, FALSE, sizeof (CoreId));
  self->index = g_hash_table_new_full (desk_id_hash, desk_id_equal, g_free, NULL);
}

void
desk_rounds_clear (DeskRounds *self)
{
  g_clear_pointer (&self->rounds, g_array_unref);
  g_clear_pointer (&self->devices, g_array_unref);
  g_clear_pointer (&self->index, g_hash_table_unref);
}

guint32
desk_rounds_device (DeskRounds *self, CoreId id)
{
  guint known = GPOINTER_TO_UINT (g_hash_table_lookup (self->index, &id));

  if (known > 0)
    return known - 1;
  g_array_append_val (self->devices, id);
  g_hash_table_insert (self->index, desk_id_dup (id), GUINT_TO_POINTER (self->devices->len));
  return self->devices->len - 1;
}

void
desk_rounds_add (DeskRounds *self, const CoreEntry *entry, gint64 seq)
{
  guint n = self->rounds->len;
  DeskRound *round = n > 0 ? &g_array_index (self->rounds, DeskRound, n - 1) : NULL;

  if (round == NULL || !core_id_equal (self->last, entry->round) ||
      !core_id_equal (g_array_index (self->devices, CoreId, round->device), entry->device))
    {
      DeskRound next = { .first_seq = seq, .device = desk_rounds_device (self, entry->device) };

      g_array_append_val (self->rounds, next);
      round = &g_array_index (self->rounds, DeskRound, n);
      self->last = entry->round;
    }
  round->n++;
  round->bulk_void = entry->kind == CORE_KIND_VOID && entry->bulk;
  round->names = round->bulk_void ? entry->names : (CoreId){ 0 };
}

int
desk_rounds_find (const DeskRounds *self, gint64 seq)
{
  guint low = 0, high = self->rounds->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (g_array_index (self->rounds, DeskRound, middle).first_seq <= seq)
        low = middle + 1;
      else
        high = middle;
    }
  return (int) low - 1;
}

void
desk_rounds_lives (DeskRounds *self, gint64 seq, gboolean live)
{
  int at = desk_rounds_find (self, seq);
  DeskRound *round = at < 0 ? NULL : &g_array_index (self->rounds, DeskRound, at);

  g_return_if_fail (round != NULL && (live ? round->dead > 0 : round->dead < round->n));
  if (live)
    round->dead--;
  else
    round->dead++;
}
