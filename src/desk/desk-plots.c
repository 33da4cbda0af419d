/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-plots.c — see desk-plots.h. */
#include "desk/desk-plots.h"

#include "desk/desk-private.h"

static gsize
intervals_of (CoreDay today, const DeskSubject *animal, CoreInterval out[CORE_MAX_MOULTS])
{
  CoreWarmth warmth = { 0 };
  gsize n = 0;

  if (desk_subject_warmth (animal, &warmth) == CORE_OK)
    n = core_intervals (desk_subject_state (animal), desk_subject_profile (animal), desk_subject_verdict (animal)->male,
                        &warmth, today, out);
  core_warmth_clear (&warmth);
  return n;
}

static gboolean
is_mate (const DeskSubject *animal, const DeskSubject *other)
{
  CoreId lot = desk_subject_state (animal)->lot;

  return desk_subject_kind (other) == CORE_SUBJECT_ANIMAL && !core_id_is_none (lot) &&
         core_id_equal (lot, desk_subject_state (other)->lot) &&
         !core_id_equal (desk_subject_id (animal), desk_subject_id (other));
}

static void
add_mate (DeskIntervals *self, CoreDay today, const DeskSubject *mate)
{
  CoreInterval rows[CORE_MAX_MOULTS];
  gsize n = intervals_of (today, mate, rows);

  for (gsize i = 0; i < n; i++)
    if (rows[i].finished)
      {
        DeskMateStage stage = { rows[i].moults, (rows[i].lo + rows[i].hi) / 2 };

        g_array_append_val (self->mates, stage);
      }
}

DeskIntervals *
desk_intervals (Desk *self, DeskSubject *animal)
{
  DeskIntervals *out = g_new0 (DeskIntervals, 1);
  CoreId place;

  out->mates = g_array_new (FALSE, FALSE, sizeof (DeskMateStage));
  out->n = intervals_of (desk_today (self), animal, out->own);
  if (!core_id_is_none (desk_subject_state (animal)->lot) && desk_subject_place (animal, &place, NULL))
    {
      g_autoptr (GPtrArray) beside = desk_animals_on (self, place);

      for (guint i = 0; i < beside->len; i++)
        if (is_mate (animal, beside->pdata[i]))
          add_mate (out, desk_today (self), beside->pdata[i]);
    }
  return out;
}

void
desk_intervals_free (DeskIntervals *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->mates);
  g_free (self);
}

void
desk_growth_curve (DeskSubject *animal, CoreDimension what, CoreGrowthCurve *out)
{
  core_growth_curve (desk_subject_state (animal), desk_subject_profile (animal), desk_subject_verdict (animal)->male, what,
                     out);
}
