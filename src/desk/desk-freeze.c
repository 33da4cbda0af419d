/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-freeze.c — states and numbers as bytes, and back within bounds.
 *
 * A state is written as it lies in memory, struct and arrays, for only the very
 * same program reads it again (its key says so), and it is used where it was read
 * to: only its pointers are set anew. What is added to a state is kept without a
 * word here, as long as arrays stand in the list of core-state.c. */
#include "desk/desk-freeze.h"

#include <stdlib.h>
#include <string.h>

#include "desk/desk-sealed.h"

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

#define ALIGN 8 /* of every struct and array of a state */

void
desk_freeze_align (GByteArray *out)
{
  static const guint8 zeros[ALIGN];

  if (out->len % ALIGN != 0)
    g_byte_array_append (out, zeros, ALIGN - out->len % ALIGN);
}

G_STATIC_ASSERT (G_ALIGNOF (DeskFold) <= ALIGN);
G_STATIC_ASSERT (G_ALIGNOF (CoreForecast) <= ALIGN);

void
desk_freeze_fold (GByteArray *out, const DeskFold *fold)
{
  DeskFold flat = *fold;
  CoreState *from = (CoreState *) &fold->state;

  memset (&flat.refs, 0, sizeof flat.refs);
  flat.slab = NULL;
  flat.in_place = FALSE;
  /* Conflicts of the journal as a whole are found anew. */
  flat.state.conflicts.n = fold->own_conflicts;
  for (size_t i = 0; i < core_state_n_arrays; i++)
    {
      CoreAnyArray *array = core_state_array (&flat.state, i);

      array->v = NULL;
      array->cap = array->n;
    }
  desk_freeze_align (out);
  desk_freeze_raw (out, &flat, sizeof flat);
  for (size_t i = 0; i < core_state_n_arrays; i++)
    {
      desk_freeze_raw (out, core_state_array (from, i)->v,
                       core_state_array (&flat.state, i)->n * core_state_arrays[i].size);
      desk_freeze_align (out);
    }
  for (size_t i = 0; i < fold->state.settings.n; i++)
    desk_freeze_raw (out, fold->state.settings.v[i].value,
                     strlen (fold->state.settings.v[i].value) + 1);
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
      desk_freeze_align (out);
      desk_freeze_raw (out, &bare, sizeof bare);
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
  text = g_malloc (length + 1);
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

gpointer
desk_thaw_place (DeskThaw *self, gsize size)
{
  gpointer place = self->at;

  if (!room (self, size))
    return NULL;
  self->at += size;
  return place;
}

void
desk_thaw_align (DeskThaw *self)
{
  gsize over = (guintptr) self->at % ALIGN;

  if (over > 0)
    desk_thaw_place (self, ALIGN - over);
}

static void
place_array (DeskThaw *self, CoreAnyArray *array, gsize size)
{
  array->v = NULL;
  if (array->n > (gsize) (self->end - self->at) / size)
    self->bad = TRUE;
  else if (array->n > 0)
    array->v = desk_thaw_place (self, array->n * size);
  desk_thaw_align (self);
  if (array->v == NULL)
    array->n = array->cap = 0;
}

/* What stands there are the places of texts in another run. */
static void
place_settings (DeskThaw *self, CoreState *state)
{
  for (size_t i = 0; i < state->settings.n; i++)
    {
      char *text = (char *) self->at;
      gsize left = (gsize) (self->end - self->at);
      const char *end = self->bad ? NULL : memchr (text, '\0', left);

      self->bad = self->bad || end == NULL;
      if (self->bad)
        {
          state->settings.n = i;
          return;
        }
      state->settings.v[i].value = text;
      self->at += end - text + 1;
    }
}

/* Those of the whole journal come to them, so they must be able to grow. */
static void
move_conflicts (CoreState *state)
{
  CoreConflict *own = NULL;

  if (state->conflicts.n > 0)
    {
      own = malloc (state->conflicts.n * sizeof *own);
      if (own == NULL)
        g_error ("out of memory");
      memcpy (own, state->conflicts.v, state->conflicts.n * sizeof *own);
    }
  state->conflicts.v = own;
  state->conflicts.cap = state->conflicts.n;
}

DeskFold *
desk_thaw_fold (DeskThaw *self)
{
  DeskFold *fold;

  desk_thaw_align (self);
  fold = desk_thaw_place (self, sizeof *fold);
  if (fold == NULL)
    return NULL;
  g_atomic_ref_count_init (&fold->refs);
  fold->in_place = TRUE;
  fold->slab = self->slab != NULL ? desk_slab_ref (self->slab) : NULL;
  for (size_t i = 0; i < core_state_n_arrays; i++)
    place_array (self, core_state_array (&fold->state, i), core_state_arrays[i].size);
  place_settings (self, &fold->state);
  move_conflicts (&fold->state);
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
      desk_thaw_align (self);
      kept->outlook = g_memdup2 (desk_thaw_place (self, sizeof *kept->outlook), sizeof *kept->outlook);
      desk_thaw_raw (self, &kept->heard, sizeof kept->heard);
      self->bad = self->bad || kept->outlook == NULL || kept->outlook->n_reasons != 0;
    }
  if (!self->bad)
    return kept;
  desk_kept_free (kept);
  return NULL;
}
