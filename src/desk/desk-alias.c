/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-alias.c — two of one number or code, as two copies of a journal that were merged give them.
 *
 * The smallest id of those that have it now keeps it; each other one answers to it with a letter:
 * 61b, 61c. Invariant: nobody answers to what was ever given to anybody, and who answers to what
 * follows from the journal alone, in whatever order it came together. */
#include "desk/desk-private.h"

#include <string.h>

/* "number" or "code" of a state. */
static const char *
name_of (const CoreState *state, gboolean code)
{
  return code ? state->code : state->number;
}

/* What is known of it now, also while the collection is being built; NULL = nothing yet. */
static const CoreState *
latest_state (const DeskRecord *record)
{
  if (record->made != NULL)
    return &record->made->state;
  return record->now != NULL ? desk_subject_state (record->now) : NULL;
}

static gboolean
has_name (const DeskRecord *record, const char *name, gboolean code)
{
  const CoreState *state = latest_state (record);

  return state != NULL && state->exists && g_ascii_strcasecmp (name_of (state, code), name) == 0;
}

static char *
key_of (const char *name, gboolean code)
{
  return code ? desk_code_key (name) : g_ascii_strdown (name, -1);
}

guint
desk_namesakes_before (DeskCollection *all, CoreId subject, const char *name, gboolean code, CoreId *first)
{
  g_autofree char *key = key_of (name, code);
  const CoreId *owner = g_hash_table_lookup (all->numbers, key);
  guint n = 0;

  /* Nobody of a smaller id ever had it: so for nearly all. */
  if (name[0] == '\0' || owner == NULL || core_id_compare (*owner, subject) >= 0)
    return 0;
  for (guint i = 0; i < all->order->len; i++)
    {
      const DeskRecord *other = all->order->pdata[i];

      if (core_id_compare (other->id, subject) >= 0)
        break;
      if (has_name (other, name, code) && n++ == 0 && first != NULL)
        *first = other->id;
    }
  return n;
}

/* What the name of a place is told by; NULL = it has none, or is none. */
static char *
place_key (const CoreState *state)
{
  g_autofree char *folded = NULL;

  if (state->kind != CORE_SUBJECT_PLACE || state->name[0] == '\0')
    return NULL;
  folded = g_utf8_casefold (state->name, -1);
  return g_strconcat ("place ", folded, NULL);
}

gboolean
desk_place_namesake (DeskCollection *all, const CoreState *state, CoreId *first)
{
  g_autofree char *key = place_key (state);

  for (guint i = 0; key != NULL && i < all->order->len; i++)
    {
      const DeskRecord *other = all->order->pdata[i];
      const CoreState *named = other->kind == CORE_SUBJECT_PLACE ? latest_state (other) : NULL;
      g_autofree char *its = NULL;

      if (core_id_compare (other->id, state->subject) >= 0)
        break;
      its = named != NULL && named->exists ? place_key (named) : NULL;
      if (g_strcmp0 (its, key) == 0)
        {
          *first = other->id;
          return TRUE;
        }
    }
  return FALSE;
}

/* 1 → "b", 25 → "z", 26 → "aa". */
static void
suffix_of (guint n, char *out)
{
  gsize at = 0;

  if (n >= 26)
    out[at++] = (char) ('a' + (n / 26 - 1) % 26);
  out[at++] = (char) ('a' + n % 26);
  out[at] = '\0';
}

void
desk_alias (DeskCollection *all, CoreId subject, const char *name, gboolean code, char *out, gsize size)
{
  guint left = desk_namesakes_before (all, subject, name, code, NULL);
  char suffix[4] = "";

  for (guint n = 1; left > 0; n++)
    {
      g_autofree char *alias = NULL;
      g_autofree char *key = NULL;

      suffix_of (n, suffix);
      alias = g_strconcat (name, suffix, NULL);
      key = key_of (alias, code);
      left -= !g_hash_table_contains (all->numbers, key);
    }
  g_snprintf (out, (gulong) size, "%s%s", name, suffix);
}

gboolean
desk_number_is_given (Desk *self, CoreId subject, const char *number)
{
  g_autofree char *key = key_of (number, FALSE);
  const CoreId *owner = g_hash_table_lookup (self->all.numbers, key);

  if (owner != NULL)
    return !core_id_equal (*owner, subject);
  if (number[0] == '\0' || !g_ascii_isalpha (number[strlen (number) - 1]))
    return FALSE;
  for (guint i = 0; i < self->all.order->len; i++)
    {
      const DeskRecord *record = self->all.order->pdata[i];

      if (record->kind == CORE_SUBJECT_ANIMAL && record->now != NULL &&
          !core_id_equal (record->id, subject) &&
          g_ascii_strcasecmp (desk_subject_label (record->now), number) == 0)
        return TRUE;
    }
  return FALSE;
}

/* ---- when a name changes hands ---- */

static void
note_name (GHashTable *names, const DeskSubject *subject)
{
  const CoreState *state = subject != NULL ? desk_subject_state (subject) : NULL;
  char *place = state != NULL ? place_key (state) : NULL;

  if (place != NULL)
    g_hash_table_add (names, place);
  for (int code = 0; state != NULL && code < 2; code++)
    if (name_of (state, code)[0] != '\0')
      g_hash_table_add (names, key_of (name_of (state, code), code));
}

static gboolean
same_names (const DeskSubject *a, const DeskSubject *b)
{
  const CoreState *x = desk_subject_state (a);
  const CoreState *y = desk_subject_state (b);

  return strcmp (x->number, y->number) == 0 && strcmp (x->code, y->code) == 0 &&
         (x->kind != CORE_SUBJECT_PLACE || strcmp (x->name, y->name) == 0);
}

void
desk_names_note (GHashTable *names, const DeskSubject *before, const DeskSubject *now)
{
  if (before != NULL && now != NULL && same_names (before, now))
    return;
  note_name (names, before);
  note_name (names, now);
}

gboolean
desk_names_concern (GHashTable *names, const DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);
  g_autofree char *place = place_key (state);

  if (place != NULL && g_hash_table_contains (names, place))
    return TRUE;
  for (int code = 0; code < 2; code++)
    {
      g_autofree char *key = key_of (name_of (state, code), code);

      if (name_of (state, code)[0] != '\0' && g_hash_table_contains (names, key))
        return TRUE;
    }
  return FALSE;
}
