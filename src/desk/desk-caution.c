/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-caution.c — which cautions belong to what is being done, and are not switched off. */
#include <math.h>

#include "desk/desk-private.h"

gboolean
desk_caution_on (Desk *self, WordsCaution caution)
{
  g_autofree char *key = g_strconcat ("caution.", words_caution_id (caution), NULL);

  g_return_val_if_fail (DESK_IS_DESK (self), TRUE);
  return g_strcmp0 (desk_journal_setting (self, key), "off") != 0;
}

static unsigned
bit_of (Desk *self, WordsCaution caution)
{
  return desk_caution_on (self, caution) ? 1u << caution : 0;
}

unsigned
desk_cautions_of_prey (Desk *self, int prey)
{
  if (core_prey_allergen (prey))
    return bit_of (self, WORDS_CAUTION_ALLERGY);
  return prey == CORE_PREY_CRICKET ? bit_of (self, WORDS_CAUTION_CRICKETS) : 0;
}

CorePast
desk_temperatures_past (Desk *self, CoreId place, double day_c, double night_c)
{
  CoreShelfBand band = { 0 };

  if (!core_id_is_none (place))
    {
      g_autoptr (GPtrArray) subjects = desk_subjects_on (self, place);

      for (guint i = 0; i < subjects->len; i++)
        if (desk_subject_kind (subjects->pdata[i]) == CORE_SUBJECT_ANIMAL ||
            desk_subject_kind (subjects->pdata[i]) == CORE_SUBJECT_LOT)
          core_shelf_band_add (&band, desk_subject_profile (subjects->pdata[i]));
    }
  if (band.n == 0)
    {
      CoreProfile general;

      core_profile_init (&general);
      core_shelf_band_add (&band, &general);
      core_profile_clear (&general);
    }
  return core_shelf_band_past (&band, day_c, night_c);
}

CorePast
desk_place_past (Desk *self, const DeskSubject *place)
{
  const CorePlaceState *state = &desk_subject_state (place)->place;

  if (desk_subject_kind (place) != CORE_SUBJECT_PLACE)
    return (CorePast){ 0, NAN, NAN };
  return desk_temperatures_past (self, desk_subject_id (place), state->day_c, state->night_c);
}

unsigned
desk_cautions_of_round (Desk *self, const DeskRoundPreview *preview)
{
  unsigned cautions = 0;

  if (preview->line.n_problems > 0) /* nothing is written */
    return 0;
  for (gsize i = 0; i < preview->plan.n_writes; i++)
    if (preview->plan.writes[i].prey >= 0)
      cautions |= desk_cautions_of_prey (self, preview->plan.writes[i].prey);
  return cautions;
}
