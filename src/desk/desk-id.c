/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-id.c — ids in hash tables, and long ascending lists of numbers in few bytes. */
#include "desk/desk-private.h"

#include <string.h>

guint
desk_id_hash (gconstpointer id)
{
  guint64 head, tail;

  memcpy (&head, ((const CoreId *) id)->b, sizeof head);
  memcpy (&tail, ((const CoreId *) id)->b + 8, sizeof tail);
  head ^= tail * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  return (guint) (head ^ (head >> 32));
}

gboolean
desk_id_equal (gconstpointer a, gconstpointer b)
{
  return memcmp (a, b, sizeof (CoreId)) == 0;
}

CoreId *
desk_id_dup (CoreId id)
{
  CoreId *copy = g_new (CoreId, 1);

  *copy = id;
  return copy;
}

GHashTable *
desk_id_set_new (void)
{
  return g_hash_table_new_full (desk_id_hash, desk_id_equal, g_free, NULL);
}

void
desk_id_set_add (GHashTable *set, CoreId id)
{
  g_hash_table_add (set, desk_id_dup (id));
}

/* ---- ascending numbers ---- */

#define MOST_BYTES 10 /* of one distance: seven bits each */

void
desk_seqs_add (DeskSeqs *self, gint64 seq)
{
  guint64 step = (guint64) (seq - self->last);

  g_return_if_fail (seq > self->last);
  if (self->cap - self->len < MOST_BYTES)
    {
      self->cap = self->cap + self->cap / 4 + 24;
      self->bytes = g_realloc (self->bytes, self->cap);
    }
  for (; step >= 0x80; step >>= 7)
    self->bytes[self->len++] = (guint8) (step | 0x80);
  self->bytes[self->len++] = (guint8) step;
  self->last = seq;
  self->n++;
}

void
desk_seqs_read (const DeskSeqs *self, gint64 *out)
{
  gint64 seq = 0;
  guint32 at = 0;

  for (guint32 i = 0; i < self->n; i++)
    {
      guint64 step = 0;
      int shift = 0;

      for (; (self->bytes[at] & 0x80) != 0; at++, shift += 7)
        step |= (guint64) (self->bytes[at] & 0x7f) << shift;
      step |= (guint64) self->bytes[at++] << shift;
      seq += (gint64) step;
      out[i] = seq;
    }
}

void
desk_seqs_clear (DeskSeqs *self)
{
  g_free (self->bytes);
  memset (self, 0, sizeof *self);
}
