/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-pack.c — the entries of a subject in a few dozen bytes each: all of a large journal from its
 * one reading to the folds, and from then on those of the living.
 *
 * Invariant: what is taken out is equal to what was put in, the subject apart,
 * which the caller knows. */
#include "desk/desk-private.h"

#include <stdlib.h>
#include <string.h>

enum
{
  HAS_BULK = 1,
  HAS_MINUTE = 2,
  HAS_EARLIEST = 4,
  HAS_NAMES = 8,
  HAS_BEYOND = 16
};

#define MOST_FRAME 80 /* bytes of an entry without its values, and of one number */

void
desk_pack_shared_init (DeskPackShared *self)
{
  self->rounds = g_array_new (FALSE, FALSE, sizeof (CoreId));
  desk_rounds_init (&self->devices);
}

void
desk_pack_shared_clear (DeskPackShared *self)
{
  g_clear_pointer (&self->rounds, g_array_unref);
  desk_rounds_clear (&self->devices);
}

void
desk_pack_free (DeskPack *self)
{
  if (self == NULL)
    return;
  if (self->cap > 0)
    g_free (self->bytes);
  g_free (self);
}

/* ---- in ---- */

static void
need (DeskPack *self, gsize room)
{
  gboolean owned = self->cap > 0;

  if (owned && self->cap - self->len >= room)
    return;
  self->cap = self->len + self->len / 4 + room;
  if (owned)
    self->bytes = g_realloc (self->bytes, self->cap);
  else
    {
      guint8 *bytes = g_malloc (self->cap);

      if (self->len > 0)
        memcpy (bytes, self->bytes, self->len);
      self->bytes = bytes;
    }
}

void
desk_pack_fit (DeskPack *self)
{
  if (self->cap > self->len && self->len > 0)
    {
      self->cap = self->len;
      self->bytes = g_realloc (self->bytes, self->cap);
    }
}

static void
put (DeskPack *self, gconstpointer from, gsize size)
{
  if (size > 0)
    memcpy (self->bytes + self->len, from, size);
  self->len += size;
}

static void
put_number (DeskPack *self, guint64 n)
{
  for (; n >= 0x80; n >>= 7)
    self->bytes[self->len++] = (guint8) (n | 0x80);
  self->bytes[self->len++] = (guint8) n;
}

/* Small whether it is above or below zero. */
static void
put_signed (DeskPack *self, gint64 n)
{
  put_number (self, n < 0 ? (~(guint64) n << 1) | 1 : (guint64) n << 1);
}

static void
put_value (DeskPack *self, const CoreValue *value)
{
  gsize length = value->text != NULL ? strlen (value->text) : 0;
  guint8 head[2] = { (guint8) value->key, (guint8) value->type };

  need (self, MOST_FRAME + length);
  put (self, head, 2);
  put (self, &value->n, sizeof value->n);
  if (value->type == CORE_VALUE_REF)
    put (self, &value->ref, sizeof value->ref);
  /* No text is 0, a text its length and one more. */
  if (value->type != CORE_VALUE_CODE)
    put_number (self, value->text != NULL ? length + 1 : 0);
  if (value->type != CORE_VALUE_CODE)
    put (self, value->text, length);
}

static void
put_beyond (DeskPack *self, const char *beyond)
{
  gsize length = strlen (beyond);

  need (self, MOST_FRAME + length);
  put_number (self, length);
  put (self, beyond, length);
}

static guint
round_of (DeskPackShared *shared, CoreId round)
{
  guint n = shared->rounds->len;

  if (n == 0 || !core_id_equal (g_array_index (shared->rounds, CoreId, n - 1), round))
    g_array_append_val (shared->rounds, round);
  return shared->rounds->len - 1;
}

void
desk_pack_add (DeskPack *self, DeskPackShared *shared, const CoreEntry *entry)
{
  guint8 flags = (guint8) ((entry->bulk ? HAS_BULK : 0) | (entry->minute >= 0 ? HAS_MINUTE : 0) |
                           (entry->earliest != CORE_DAY_NONE ? HAS_EARLIEST : 0) |
                           (!core_id_is_none (entry->names) ? HAS_NAMES : 0) |
                           (entry->beyond != NULL ? HAS_BEYOND : 0));

  need (self, MOST_FRAME);
  put_number (self, entry->kind);
  put (self, &flags, 1);
  put (self, &entry->id, sizeof entry->id);
  put_signed (self, (gint64) entry->day - self->day);
  self->day = entry->day;
  put_number (self, round_of (shared, entry->round));
  put_number (self, desk_rounds_device (&shared->devices, entry->device));
  put_signed (self, entry->written_ms - self->written);
  self->written = entry->written_ms;
  if (flags & HAS_MINUTE)
    put_number (self, (guint64) entry->minute);
  if (flags & HAS_EARLIEST)
    put_signed (self, (gint64) entry->earliest - entry->day);
  if (flags & HAS_NAMES)
    put (self, &entry->names, sizeof entry->names);
  put_number (self, entry->n_values);
  for (gsize i = 0; i < entry->n_values; i++)
    put_value (self, &entry->values[i]);
  if (flags & HAS_BEYOND)
    put_beyond (self, entry->beyond);
  self->n++;
}

/* ---- out ---- */

typedef struct
{
  const guint8 *at;
  const DeskPackShared *shared;
  CoreDay day;
  gint64 written;
} Unpack;

static void
get (Unpack *self, gpointer to, gsize size)
{
  memcpy (to, self->at, size);
  self->at += size;
}

static guint64
get_number (Unpack *self)
{
  guint64 n = 0;
  int shift = 0;

  for (; (*self->at & 0x80) != 0; self->at++, shift += 7)
    n |= (guint64) (*self->at & 0x7f) << shift;
  n |= (guint64) *self->at++ << shift;
  return n;
}

static gint64
get_signed (Unpack *self)
{
  guint64 n = get_number (self);

  return (gint64) ((n & 1) != 0 ? ~(n >> 1) : n >> 1);
}

static char *
copy_text (const void *from, gsize length)
{
  char *text = malloc (length + 1);

  if (text == NULL)
    g_error ("out of memory");
  if (length > 0)
    memcpy (text, from, length);
  text[length] = '\0';
  return text;
}

static void
get_value (Unpack *self, CoreKind kind, CoreValue *value)
{
  guint8 head[2];
  guint64 length;

  get (self, head, 2);
  value->key = head[0];
  value->type = head[1];
  get (self, &value->n, sizeof value->n);
  if (value->type == CORE_VALUE_REF)
    get (self, &value->ref, sizeof value->ref);
  if (value->type == CORE_VALUE_CODE)
    {
      const char *word = core_kind_key (kind, value->key)->words[(int) value->n];

      value->text = copy_text (word, strlen (word));
      return;
    }
  length = get_number (self);
  if (length == 0)
    return;
  value->text = copy_text (self->at, length - 1);
  self->at += length - 1;
}

static CoreEntry *
get_entry (Unpack *self, CoreId subject)
{
  CoreEntry *entry = core_entry_new ((CoreKind) get_number (self));
  guint8 flags;

  if (entry == NULL)
    g_error ("out of memory");
  get (self, &flags, 1);
  entry->subject = subject;
  get (self, &entry->id, sizeof entry->id);
  self->day = entry->day = (CoreDay) (self->day + get_signed (self));
  entry->round = g_array_index (self->shared->rounds, CoreId, get_number (self));
  entry->device = g_array_index (self->shared->devices.devices, CoreId, get_number (self));
  self->written = entry->written_ms = self->written + get_signed (self);
  entry->bulk = (flags & HAS_BULK) != 0;
  if (flags & HAS_MINUTE)
    entry->minute = (gint16) get_number (self);
  if (flags & HAS_EARLIEST)
    entry->earliest = (CoreDay) (entry->day + get_signed (self));
  if (flags & HAS_NAMES)
    get (self, &entry->names, sizeof entry->names);
  entry->n_values = get_number (self);
  if (entry->n_values > 0)
    entry->values = calloc (entry->n_values, sizeof *entry->values);
  if (entry->n_values > 0 && entry->values == NULL)
    g_error ("out of memory");
  for (gsize i = 0; i < entry->n_values; i++)
    get_value (self, entry->kind, &entry->values[i]);
  if (flags & HAS_BEYOND)
    {
      gsize length = get_number (self);

      entry->beyond = copy_text (self->at, length);
      self->at += length;
    }
  return entry;
}

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

GPtrArray *
desk_pack_entries (const DeskPack *self, const DeskPackShared *shared, CoreId subject)
{
  Unpack unpack = { .at = self->bytes, .shared = shared };
  GPtrArray *entries = g_ptr_array_new_full (self->n, free_entry);

  for (guint i = 0; i < self->n; i++)
    g_ptr_array_add (entries, get_entry (&unpack, subject));
  return entries;
}
