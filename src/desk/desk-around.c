/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-around.c — what the plan of a subject must know of others: the band of temperatures of all
 * that stands on a place, and whether a feeder culture has a younger one of its kind.
 *
 * A snapshot never changes: where what is around it does, another one is made of the same fold.
 */
#include "desk/desk-private.h"

#define MOST_WITHIN 8 /* depth of places; also ends a circle */

typedef struct
{
  Desk *desk;
  GHashTable *bands; /* CoreId * of a place → CoreShelfBand *, owned */
  CoreDay youngest[CORE_N_PREY];
} Around;

static gboolean
stands (const DeskRecord *record)
{
  /* The cold in which an egg case rests is none to be warned of. */
  if (record->kind == CORE_SUBJECT_EGGCASE)
    return !core_egg_rests (desk_subject_state (record->now), desk_subject_profile (record->now));
  return record->kind == CORE_SUBJECT_ANIMAL || record->kind == CORE_SUBJECT_LOT;
}

/* To the place that it stands on and to all that this is within. */
static void
add_standing (Around *self, DeskRecord *record)
{
  CoreId place;

  if (!desk_subject_place (record->now, &place, NULL))
    return;
  for (int i = 0; i < MOST_WITHIN && !core_id_is_none (place); i++)
    {
      DeskRecord *at = desk_collection_record (&self->desk->all, place);
      CoreShelfBand *band;

      if (at == NULL || at->kind != CORE_SUBJECT_PLACE || at->now == NULL)
        return;
      band = g_hash_table_lookup (self->bands, &at->id);
      if (band == NULL)
        g_hash_table_insert (self->bands, &at->id, band = g_new0 (CoreShelfBand, 1));
      core_shelf_band_add (band, desk_subject_profile (record->now));
      place = desk_subject_state (at->now)->place.within;
    }
}

static void
add_culture (Around *self, DeskRecord *record)
{
  const CoreCultureState *culture = &desk_subject_state (record->now)->culture;

  if (culture->prey >= 0 && culture->prey < CORE_N_PREY)
    self->youngest[culture->prey] = MAX (self->youngest[culture->prey], culture->started);
}

static void
gather (Around *self)
{
  GPtrArray *order = self->desk->all.order;

  for (guint i = 0; i < CORE_N_PREY; i++)
    self->youngest[i] = CORE_DAY_NONE;
  for (guint i = 0; i < order->len; i++)
    {
      DeskRecord *record = order->pdata[i];

      if (record->now == NULL || !desk_subject_living (record->now))
        continue;
      if (stands (record))
        add_standing (self, record);
      else if (record->kind == CORE_SUBJECT_CULTURE)
        add_culture (self, record);
    }
}

static gboolean
is_superseded (const Around *self, const DeskRecord *record)
{
  const CoreCultureState *culture = &desk_subject_state (record->now)->culture;

  return record->kind == CORE_SUBJECT_CULTURE && culture->prey >= 0 &&
         culture->prey < CORE_N_PREY && culture->started < self->youngest[culture->prey];
}

void
desk_around (Desk *self, DeskAroundRenew renew, gpointer data)
{
  g_autoptr (GHashTable) bands = g_hash_table_new_full (desk_id_hash, desk_id_equal, NULL, g_free);
  Around around = { .desk = self, .bands = bands };

  gather (&around);
  for (guint i = 0; i < self->all.order->len; i++)
    {
      static const CoreShelfBand nothing;
      DeskRecord *record = self->all.order->pdata[i];
      const CoreShelfBand *band;
      gboolean superseded;

      if (record->now == NULL ||
          (record->kind != CORE_SUBJECT_PLACE && record->kind != CORE_SUBJECT_CULTURE))
        continue;
      band = g_hash_table_lookup (bands, &record->id);
      if (band == NULL && record->kind == CORE_SUBJECT_PLACE)
        band = &nothing;
      superseded = is_superseded (&around, record);
      if (desk_subject_is_around (record->now, band, superseded))
        continue;
      if (renew != NULL)
        renew (record, data);
      desk_subject_set_around (record->now, band, superseded);
    }
}

gboolean
desk_around_changes (const DeskSubject *before, const DeskSubject *now)
{
  CoreId from = { { 0 } }, to = { { 0 } };
  CoreSubjectKind kind = desk_subject_kind (now);

  if (before == NULL || kind == CORE_SUBJECT_PLACE || kind == CORE_SUBJECT_CULTURE)
    return TRUE;
  desk_subject_place (before, &from, NULL);
  desk_subject_place (now, &to, NULL);
  return !core_id_equal (from, to) || desk_subject_living (before) != desk_subject_living (now) ||
         desk_subject_profile (before) != desk_subject_profile (now);
}
