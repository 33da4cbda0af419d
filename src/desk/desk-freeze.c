/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-freeze.c — states and numbers as bytes, and back within bounds.
 *
 * A state is written as it lies in memory, struct and arrays, for only the very
 * same program reads it again (its key says so): what is added to a state is kept
 * without a word here, as long as arrays stand in the list of core-state.c. */
#include "desk/desk-freeze.h"

#include <stdlib.h>
#include <string.h>

/* ---- writing ---- */

void
desk_freeze_raw (GByteArray *out, gconstpointer from, gsize size)
{
  if (size > 0)
    g_byte_array_append (out, from, (guint) size);
}

void
desk_freeze_number (GByteArray *out, guint64 n)
{
  guint8 bytes[10];
  guint length = 0;

  for (; n >= 0x80; n >>= 7)
    bytes[length++] = (guint8) (n | 0x80);
  bytes[length++] = (guint8) n;
  g_byte_array_append (out, bytes, length);
}

void
desk_freeze_text (GByteArray *out, const char *text)
{
  gsize length = strlen (text);

  desk_freeze_number (out, length);
  desk_freeze_raw (out, text, length);
}

void
desk_freeze_id (GByteArray *out, CoreId id)
{
  g_byte_array_append (out, id.b, sizeof id.b);
}

/* Eight words at a time: a byte that says which are not zero, then those. */
void
desk_freeze_words (GByteArray *out, gconstpointer from, gsize size)
{
  const guint8 *at = from, *end = at + size;

  g_return_if_fail (size % 8 == 0);
  while (at < end)
    {
      guint8 block[1 + 64];
      guint used = 1;

      block[0] = 0;
      for (guint i = 0; i < 8 && at < end; i++, at += 8)
        {
          guint64 word;

          memcpy (&word, at, 8);
          if (word == 0)
            continue;
          block[0] |= (guint8) (1u << i);
          memcpy (block + used, &word, 8);
          used += 8;
        }
      g_byte_array_append (out, block, used);
    }
}

/* Elements of any size, filled up to whole words. */
static void
freeze_array (GByteArray *out, gconstpointer v, gsize bytes)
{
  gsize whole = bytes / 8 * 8;

  desk_freeze_words (out, v, whole);
  desk_freeze_raw (out, (const guint8 *) v + whole, bytes - whole);
}

G_STATIC_ASSERT (sizeof (CoreState) % 8 == 0);
G_STATIC_ASSERT (sizeof (CoreForecast) % 8 == 0);

void
desk_freeze_fold (GByteArray *out, const DeskFold *fold)
{
  CoreState flat = fold->state;
  CoreState *from = (CoreState *) &fold->state;
  gsize n[64];

  g_assert (core_state_n_arrays <= G_N_ELEMENTS (n));
  /* Conflicts of the journal as a whole are found anew. */
  flat.conflicts.n = fold->own_conflicts;
  for (size_t i = 0; i < core_state_n_arrays; i++)
    {
      CoreAnyArray *array = core_state_array (&flat, i);

      n[i] = array->n;
      array->v = NULL;
      array->cap = array->n;
    }
  desk_freeze_words (out, &flat, sizeof flat);
  for (size_t i = 0; i < core_state_n_arrays; i++)
    freeze_array (out, core_state_array (from, i)->v, n[i] * core_state_arrays[i].size);
  for (size_t i = 0; i < fold->state.settings.n; i++)
    desk_freeze_text (out, fold->state.settings.v[i].value);
}

static void
freeze_said (GByteArray *out, const DeskSaid *said)
{
  desk_freeze_number (out, said->n);
  for (guint i = 0; i < said->n; i++)
    {
      desk_freeze_id (out, said->part[i].room);
      desk_freeze_raw (out, &said->part[i].y, sizeof said->part[i].y);
      desk_freeze_raw (out, &said->part[i].p, sizeof said->part[i].p);
    }
}

/* Without reasons there is no pointer in a forecast. */
void
desk_freeze_kept (GByteArray *out, const DeskKept *kept)
{
  desk_freeze_number (out, (kept->said != NULL ? 1u : 0u) | (kept->outlook != NULL ? 2u : 0u));
  if (kept->said != NULL)
    freeze_said (out, kept->said);
  if (kept->outlook != NULL)
    {
      CoreForecast bare = *kept->outlook;

      bare.n_reasons = 0;
      memset (bare.reasons, 0, sizeof bare.reasons);
      desk_freeze_words (out, &bare, sizeof bare);
      desk_freeze_raw (out, &kept->heard, sizeof kept->heard);
    }
}

/* ---- reading ---- */

static gboolean
room (DeskThaw *self, gsize size)
{
  if (!self->bad && (gsize) (self->end - self->at) >= size)
    return TRUE;
  self->bad = TRUE;
  return FALSE;
}

void
desk_thaw_raw (DeskThaw *self, gpointer to, gsize size)
{
  if (!room (self, size))
    {
      memset (to, 0, size);
      return;
    }
  if (size > 0)
    memcpy (to, self->at, size);
  self->at += size;
}

guint64
desk_thaw_number (DeskThaw *self)
{
  guint64 n = 0;

  for (int shift = 0; shift < 64 && room (self, 1); shift += 7)
    {
      guint8 byte = *self->at++;

      n |= (guint64) (byte & 0x7f) << shift;
      if ((byte & 0x80) == 0)
        return n;
    }
  self->bad = TRUE;
  return 0;
}

gsize
desk_thaw_count (DeskThaw *self, gsize bytes)
{
  guint64 n = desk_thaw_number (self);

  if (!self->bad && n <= (guint64) (self->end - self->at) / bytes)
    return (gsize) n;
  self->bad = TRUE;
  return 0;
}

char *
desk_thaw_text (DeskThaw *self)
{
  gsize length = desk_thaw_count (self, 1);
  char *text;

  if (self->bad)
    return NULL;
  text = malloc (length + 1); /* core frees it */
  if (text == NULL)
    g_error ("out of memory");
  desk_thaw_raw (self, text, length);
  text[length] = '\0';
  return text;
}

CoreId
desk_thaw_id (DeskThaw *self)
{
  CoreId id;

  desk_thaw_raw (self, id.b, sizeof id.b);
  return id;
}

void
desk_thaw_words (DeskThaw *self, gpointer to, gsize size)
{
  guint8 *at = to, *end = at + size;

  memset (to, 0, size);
  while (at < end && room (self, 1))
    {
      guint8 mask = *self->at++;

      if (mask == 0xff && end - at >= 64)
        {
          desk_thaw_raw (self, at, 64);
          at += 64;
          continue;
        }
      for (guint i = 0; i < 8 && at < end; i++, at += 8)
        if ((mask & 1u << i) != 0)
          desk_thaw_raw (self, at, 8);
    }
}

static void *
thaw_array (DeskThaw *self, gsize n, gsize size)
{
  gsize bytes = n * size, whole = bytes / 8 * 8;
  void *v;

  /* Of 64 bytes that are zero one is written: no length that is true goes beyond this. */
  if (self->bad || n > (gsize) (self->end - self->at) * 64 / MAX (size, 1))
    {
      self->bad = TRUE;
      return NULL;
    }
  v = malloc (bytes);
  if (v == NULL)
    g_error ("out of memory");
  desk_thaw_words (self, v, whole);
  desk_thaw_raw (self, (guint8 *) v + whole, bytes - whole);
  return v;
}

static void
thaw_arrays (DeskThaw *self, CoreState *state)
{
  for (size_t i = 0; i < core_state_n_arrays; i++)
    {
      CoreAnyArray *array = core_state_array (state, i);

      array->v = NULL;
      if (array->n > 0)
        array->v = thaw_array (self, array->n, core_state_arrays[i].size);
      if (array->v == NULL)
        array->n = array->cap = 0;
    }
  /* What stands there are the places of texts in another run. */
  for (size_t i = 0; i < state->settings.n; i++)
    state->settings.v[i].value = NULL;
  for (size_t i = 0; i < state->settings.n && !self->bad; i++)
    state->settings.v[i].value = desk_thaw_text (self);
}

DeskFold *
desk_thaw_fold (DeskThaw *self)
{
  DeskFold *fold = desk_fold_new ();

  desk_thaw_words (self, &fold->state, sizeof fold->state);
  thaw_arrays (self, &fold->state);
  fold->own_conflicts = (guint) fold->state.conflicts.n;
  desk_fold_find_meals (fold);
  if (!self->bad)
    return fold;
  desk_fold_unref (fold);
  return NULL;
}

static DeskSaid *
thaw_said (DeskThaw *self)
{
  DeskSaid *said = g_new0 (DeskSaid, 1);
  guint64 n = desk_thaw_number (self);

  self->bad = self->bad || n > DESK_ROOMS;
  for (said->n = 0; said->n < n && !self->bad; said->n++)
    {
      said->part[said->n].room = desk_thaw_id (self);
      desk_thaw_raw (self, &said->part[said->n].y, sizeof said->part[said->n].y);
      desk_thaw_raw (self, &said->part[said->n].p, sizeof said->part[said->n].p);
    }
  return said;
}

DeskKept *
desk_thaw_kept (DeskThaw *self)
{
  DeskKept *kept = g_new0 (DeskKept, 1);
  guint64 has = desk_thaw_number (self);

  if (has & 1)
    kept->said = thaw_said (self);
  if (has & 2)
    {
      kept->outlook = g_new (CoreForecast, 1);
      desk_thaw_words (self, kept->outlook, sizeof *kept->outlook);
      desk_thaw_raw (self, &kept->heard, sizeof kept->heard);
      self->bad = self->bad || kept->outlook->n_reasons != 0;
    }
  if (!self->bad)
    return kept;
  desk_kept_free (kept);
  return NULL;
}
