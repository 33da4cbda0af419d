/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-read.c — the collection as a person asks for it: lists, names, histories, profiles. */
#include "desk/desk-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static DeskRecord *
nth (Desk *self, guint i)
{
  return g_ptr_array_index (self->all.order, i);
}

static const CoreState *
state_of (const DeskRecord *record)
{
  return desk_subject_state (record->now);
}

static GPtrArray *
subject_array (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
}

/* ---- order ---- */

/* "9" before "14" before "14a". */
static int
compare_numbers (const char *a, const char *b)
{
  guint64 x = g_ascii_strtoull (a, NULL, 10);
  guint64 y = g_ascii_strtoull (b, NULL, 10);

  return x != y ? (x < y ? -1 : 1) : g_ascii_strcasecmp (a, b);
}

int
desk_compare_by_number (gconstpointer a, gconstpointer b)
{
  const DeskSubject *x = *(DeskSubject *const *) a;
  const DeskSubject *y = *(DeskSubject *const *) b;
  int order = compare_numbers (desk_subject_label (x), desk_subject_label (y));

  return order != 0 ? order : core_id_compare (desk_subject_id (x), desk_subject_id (y));
}

int
desk_compare_by_at (gconstpointer a, gconstpointer b)
{
  double x = NAN, y = NAN;

  desk_subject_place (*(DeskSubject *const *) a, NULL, &x);
  desk_subject_place (*(DeskSubject *const *) b, NULL, &y);
  if (isnan (x) != isnan (y))
    return isnan (x) ? 1 : -1;
  if (!isnan (x) && x != y)
    return x < y ? -1 : 1;
  return desk_compare_by_number (a, b);
}

const char *
desk_place_name (const DeskSubject *self)
{
  const CoreState *state = desk_subject_state (self);

  return state->name[0] != '\0' ? state->name : desk_subject_label (self);
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  const DeskSubject *x = *(DeskSubject *const *) a;
  const DeskSubject *y = *(DeskSubject *const *) b;
  int order = g_utf8_collate (desk_place_name (x), desk_place_name (y));

  return order != 0 ? order : core_id_compare (desk_subject_id (x), desk_subject_id (y));
}

static int
compare_latest_end (gconstpointer a, gconstpointer b)
{
  CoreDay x = desk_subject_state (*(DeskSubject *const *) a)->end_day;
  CoreDay y = desk_subject_state (*(DeskSubject *const *) b)->end_day;

  return x != y ? (x > y ? -1 : 1) : desk_compare_by_number (a, b);
}

/* ---- lists ---- */

/* A home is a place that stands within another. */
GPtrArray *
desk_places (Desk *self)
{
  GPtrArray *out = subject_array ();

  for (guint i = 0; i < self->all.order->len; i++)
    if (nth (self, i)->kind == CORE_SUBJECT_PLACE && desk_subject_living (nth (self, i)->now) &&
        core_id_is_none (state_of (nth (self, i))->place.within))
      g_ptr_array_add (out, desk_subject_ref (nth (self, i)->now));
  g_ptr_array_sort (out, compare_places);
  return out;
}

gboolean
desk_lies_within (Desk *self, CoreId place, CoreId outer)
{
  for (guint i = 0; i <= self->all.order->len && !core_id_is_none (place); i++)
    {
      DeskRecord *record = desk_collection_record (&self->all, place);

      if (core_id_equal (place, outer))
        return TRUE;
      if (record == NULL || record->now == NULL)
        return FALSE;
      place = state_of (record)->place.within;
    }
  return FALSE;
}

static GPtrArray *
list_on (Desk *self, CoreId place, gboolean animals_only)
{
  GPtrArray *out = subject_array ();

  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = nth (self, i);
      CoreId stands;

      if ((record->kind == CORE_SUBJECT_ANIMAL ||
           (!animals_only && desk_code_is_permanent (record->kind))) &&
          desk_subject_living (record->now) &&
          desk_subject_place (record->now, &stands, NULL) && desk_lies_within (self, stands, place))
        g_ptr_array_add (out, desk_subject_ref (record->now));
    }
  g_ptr_array_sort (out, desk_compare_by_at);
  return out;
}

GPtrArray *
desk_animals_on (Desk *self, CoreId place)
{
  return list_on (self, place, TRUE);
}

GPtrArray *
desk_subjects_on (Desk *self, CoreId place)
{
  return list_on (self, place, FALSE);
}

/* Its shelf may have been given up since. */
static gboolean
stands_nowhere (Desk *self, const DeskSubject *subject)
{
  CoreId shelf;
  g_autoptr (DeskSubject) place = NULL;

  if (!desk_subject_shelf (subject, &shelf))
    return TRUE;
  place = desk_get (self, shelf);
  return place == NULL || !desk_subject_living (place);
}

GPtrArray *
desk_subjects_nowhere (Desk *self)
{
  GPtrArray *out = subject_array ();

  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = nth (self, i);

      if ((record->kind == CORE_SUBJECT_ANIMAL || desk_code_is_permanent (record->kind)) &&
          state_of (record)->exists && desk_subject_living (record->now) && stands_nowhere (self, record->now))
        g_ptr_array_add (out, desk_subject_ref (record->now));
    }
  g_ptr_array_sort (out, desk_compare_by_number);
  return out;
}

double
desk_position_last (Desk *self, CoreId place)
{
  g_autoptr (GPtrArray) all = desk_subjects_on (self, place);
  double last = 0, at;

  for (guint i = 0; i < all->len; i++)
    if (desk_subject_place (all->pdata[i], NULL, &at) && !isnan (at))
      last = MAX (last, at);
  return floor (last);
}

static GPtrArray *
list_kind (Desk *self, CoreSubjectKind kind, gboolean living)
{
  GPtrArray *out = subject_array ();

  for (guint i = 0; i < self->all.order->len; i++)
    if (nth (self, i)->kind == kind && state_of (nth (self, i))->exists &&
        desk_subject_living (nth (self, i)->now) == living)
      g_ptr_array_add (out, desk_subject_ref (nth (self, i)->now));
  g_ptr_array_sort (out, living ? desk_compare_by_number : compare_latest_end);
  return out;
}

GPtrArray *
desk_animals (Desk *self)
{
  return list_kind (self, CORE_SUBJECT_ANIMAL, TRUE);
}

GPtrArray *
desk_past_animals (Desk *self)
{
  return list_kind (self, CORE_SUBJECT_ANIMAL, FALSE);
}

GPtrArray *
desk_lots (Desk *self)
{
  return list_kind (self, CORE_SUBJECT_LOT, TRUE);
}

GPtrArray *
desk_eggcases (Desk *self)
{
  return list_kind (self, CORE_SUBJECT_EGGCASE, TRUE);
}

GPtrArray *
desk_cultures (Desk *self)
{
  return list_kind (self, CORE_SUBJECT_CULTURE, TRUE);
}

GPtrArray *
desk_past (Desk *self, CoreSubjectKind kind)
{
  return list_kind (self, kind, FALSE);
}

DeskSubject *
desk_get (Desk *self, CoreId id)
{
  DeskRecord *record = desk_collection_record (&self->all, id);

  return record == NULL || record->now == NULL ? NULL : desk_subject_ref (record->now);
}

/* ---- names ---- */

/* The better the match, the larger; 0 = none. */
static int
match (const DeskRecord *record, const char *label, const char *folded)
{
  const CoreState *state = state_of (record);
  g_autofree char *name = NULL;

  if (!state->exists)
    return 0;
  if (g_ascii_strcasecmp (desk_subject_label (record->now), label) == 0 && state->number[0] != '\0')
    return 4;
  if (state->code[0] != '\0' &&
      g_ascii_strcasecmp (state->number[0] != '\0' ? state->code : desk_subject_label (record->now),
                          label) == 0)
    return 3;
  if (record->kind != CORE_SUBJECT_PLACE || state->name[0] == '\0')
    return 0;
  name = g_utf8_casefold (state->name, -1);
  return strcmp (name, folded) == 0 ? 2 : 0;
}

static DeskRecord *
find_ever (Desk *self, const char *label)
{
  g_autofree char *folded = g_ascii_strdown (label, -1);
  const CoreId *owner = g_hash_table_lookup (self->all.numbers, folded);

  owner = owner != NULL ? owner : desk_code_owner (&self->all, label);
  return owner == NULL ? NULL : desk_collection_record (&self->all, *owner);
}

DeskRecord *
desk_find_record (Desk *self, const char *label, gboolean ever, GError **error)
{
  g_autofree char *folded = g_utf8_validate (label, -1, NULL) ? g_utf8_casefold (label, -1) : NULL;
  DeskRecord *found = NULL;
  CoreId id;
  int best = 0, times = 0;

  if (core_id_from_text (label, &id))
    found = desk_collection_record (&self->all, id);
  else if (strcmp (label, "journal") == 0)
    found = desk_collection_record (&self->all, desk_journal_id (self));
  for (guint i = 0; found == NULL && folded != NULL && i < self->all.order->len; i++)
    best = MAX (best, match (nth (self, i), label, folded));
  for (guint i = 0; best > 0 && i < self->all.order->len; i++)
    if (match (nth (self, i), label, folded) == best)
      {
        found = nth (self, i);
        times++;
      }
  if (times > 1)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_AMBIGUOUS, WORDS_DESK_SEVERAL_CALLED, label, NULL);
      return NULL;
    }
  if (found == NULL && ever)
    found = find_ever (self, label);
  if (found == NULL)
    desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NONE_CALLED, label, NULL);
  return found;
}

DeskSubject *
desk_find (Desk *self, const char *label, GError **error)
{
  DeskRecord *record = desk_find_record (self, label, FALSE, error);

  return record == NULL ? NULL : desk_subject_ref (record->now);
}

DeskSubject *
desk_find_ever (Desk *self, const char *label, GError **error)
{
  DeskRecord *record = desk_find_record (self, label, TRUE, error);

  return record == NULL ? NULL : desk_subject_ref (record->now);
}

/* ---- entries ---- */

static int
compare_newest (gconstpointer a, gconstpointer b)
{
  return core_entry_compare (*(CoreEntry *const *) b, *(CoreEntry *const *) a);
}

GPtrArray *
desk_history (Desk *self, CoreId subject, GError **error)
{
  DeskRecord *record = desk_collection_record (&self->all, subject);
  g_autoptr (GPtrArray) out = NULL;

  if (!(self->flags & DESK_OPEN_LAZY)) /* what failed before may go better now */
    desk_collection_forgive (&self->all);
  out = record != NULL ? desk_inherit_history (&self->all, record, error) : g_ptr_array_new ();

  /* One entry of a lot, read alone, may be what is missing. */
  if (out == NULL || !desk_collection_readable (&self->all, error))
    return NULL;
  g_ptr_array_sort (out, compare_newest);
  return g_steal_pointer (&out);
}

gboolean
desk_entry_is_live (Desk *self, CoreId entry)
{
  return desk_collection_is_live (&self->all, entry);
}

const CoreEntry *
desk_entry (Desk *self, CoreId entry)
{
  return desk_collection_entry (&self->all, entry);
}

/* ---- profiles ---- */

const GPtrArray *
desk_profiles (Desk *self)
{
  return self->profiles->list;
}

const CoreProfile *
desk_profiles_find (DeskProfiles *profiles, const char *species, GError **error)
{
  const CoreProfile *found = NULL;
  g_autoptr (GPtrArray) candidates = NULL;
  g_autoptr (GString) names = g_string_new (NULL);

  switch (exch_profiles_find (profiles->set, species, &found, &candidates))
    {
    case EXCH_MATCH_ONE:
      return found;
    case EXCH_MATCH_SEVERAL:
      for (guint i = 0; i < candidates->len; i++)
        g_string_append_printf (names, "%s%s", i == 0 ? "" : ", ",
                                ((CoreProfile *) candidates->pdata[i])->scientific);
      desk_fail (error, DESK_ERROR, DESK_ERROR_AMBIGUOUS, WORDS_DESK_SPECIES_SEVERAL, species,
                 names->str, NULL);
      return NULL;
    case EXCH_MATCH_NONE:
    default:
      for (gsize i = 0; i < exch_profiles_count (profiles->set); i++)
        {
          const CoreProfile *profile = exch_profiles_nth (profiles->set, i);

          if (!profile->general)
            g_string_append_printf (names, "%s%s", names->len == 0 ? "" : ", ",
                                    profile->scientific);
        }
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_SPECIES_NONE, species,
                 names->str, NULL);
      return NULL;
    }
}

const CoreProfile *
desk_find_profile (Desk *self, const char *species, GError **error)
{
  return desk_profiles_find (self->profiles, species, error);
}
