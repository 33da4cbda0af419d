/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-climate.c — the readings of a place, out of its live entries. */
#include "desk/desk-climate.h"

#include <math.h>
#include <string.h>

#include "core/core-series.h"
#include "desk/desk-private.h"

#define NOON (12 * 3600)

static void
climate_clear (gpointer data)
{
  g_array_unref (((DeskClimate *) data)->moments);
}

DeskClimate *
desk_climate_ref (DeskClimate *self)
{
  return g_atomic_rc_box_acquire (self);
}

void
desk_climate_unref (DeskClimate *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, climate_clear);
}

/* ---- gathering, on the main thread: which entries ---- */

/* A stretch of a day, as it lies in the journal; what was typed has no text. */
typedef struct
{
  CoreDay day;
  char *series; /* owned */
  CoreMoment typed;
} Stretch;

static void
stretch_clear (gpointer data)
{
  g_free (((Stretch *) data)->series);
}

typedef struct
{
  DeskClimate *climate;
  GArray *stretches; /* Stretch */
} Gathered;

static void
gathered_free (gpointer data)
{
  Gathered *self = data;

  desk_climate_unref (self->climate);
  g_array_unref (self->stretches);
  g_free (self);
}

static gboolean
is_inside (const CoreEntry *entry)
{
  return core_entry_code (entry, CORE_KEY_INSIDE, 1) == 0;
}

static void
gather_entry (Gathered *self, const CoreEntry *entry)
{
  DeskClimate *climate = self->climate;
  Stretch stretch = { .day = entry->day };
  int second = entry->minute < 0 ? NOON : MIN (entry->minute * 60, CORE_SERIES_DAY - 1);

  if (entry->kind != CORE_KIND_LOGGED && entry->kind != CORE_KIND_READING)
    return;
  climate->has_inside |= is_inside (entry);
  climate->has_shelf |= !is_inside (entry);
  if (is_inside (entry) != climate->inside)
    return;
  if (entry->kind == CORE_KIND_LOGGED)
    stretch.series = g_strdup (core_entry_str (entry, CORE_KEY_SERIES));
  else
    {
      climate->untimed += entry->minute < 0;
      stretch.typed = (CoreMoment){ (gint64) entry->day * CORE_SERIES_DAY + second,
                                    (float) core_entry_num (entry, CORE_KEY_T, NAN),
                                    (float) core_entry_num (entry, CORE_KEY_RH, NAN) };
    }
  g_array_append_val (self->stretches, stretch);
}

static Gathered *
gather (Desk *desk, CoreId place, gboolean inside, gboolean typed)
{
  Gathered *self = g_new0 (Gathered, 1);
  g_autoptr (GPtrArray) entries =
    desk_history (desk, place, NULL); /* unread: told by desk_is_readable() */

  self->climate = g_atomic_rc_box_new0 (DeskClimate);
  self->climate->place = place;
  self->climate->inside = inside;
  self->climate->moments = g_array_new (FALSE, FALSE, sizeof (CoreMoment));
  self->stretches = g_array_new (FALSE, FALSE, sizeof (Stretch));
  g_array_set_clear_func (self->stretches, stretch_clear);
  for (guint i = entries != NULL ? entries->len : 0; i > 0; i--)
    {
      const CoreEntry *entry = entries->pdata[i - 1];

      if ((typed || entry->kind == CORE_KIND_LOGGED) && desk_entry_is_live (desk, entry->id))
        gather_entry (self, entry);
    }
  return self;
}

/* ---- unpacking, on any thread ---- */

static void
unpack (const Stretch *stretch, GArray *moments)
{
  CoreSeriesReader reader = core_series_read (stretch->series);
  CoreSample sample;

  while (core_series_next (&reader, &sample))
    {
      CoreMoment moment = { (gint64) stretch->day * CORE_SERIES_DAY + sample.second, (float) sample.t,
                            (float) sample.rh };

      g_array_append_val (moments, moment);
    }
}

static int
compare_moments (const void *a, const void *b)
{
  const CoreMoment *left = a, *right = b;

  return (left->at > right->at) - (left->at < right->at);
}

static gboolean
same_value (float a, float b)
{
  return (isnan (a) && isnan (b)) || a == b;
}

/* The very same, among the last `kept`? */
static gboolean
stands_there (const CoreMoment *v, guint kept, const CoreMoment *moment)
{
  for (guint i = kept; i > 0 && v[i - 1].at == moment->at; i--)
    if (same_value (v[i - 1].t, moment->t) && same_value (v[i - 1].rh, moment->rh))
      return TRUE;
  return FALSE;
}

static void
put_in_order (GArray *moments)
{
  CoreMoment *v = (CoreMoment *) (void *) moments->data;
  guint kept = 0;

  for (guint i = 1; i < moments->len; i++)
    if (v[i - 1].at > v[i].at)
      {
        g_array_sort (moments, compare_moments);
        break;
      }
  /* Two files may overlap: what both say counts once. */
  for (guint i = 0; i < moments->len; i++)
    if (!stands_there (v, kept, &v[i]))
      v[kept++] = v[i];
  g_array_set_size (moments, kept);
}

/* Times of which two values are there: two loggers, or one that was read out otherwise. */
guint
desk_climate_two_values (const CoreMoment *v, gsize n)
{
  guint count = 0;

  for (gsize i = 1; i < n; i++)
    count += v[i].at == v[i - 1].at && (i < 2 || v[i - 2].at != v[i].at);
  return count;
}

static void
unpack_all (Gathered *self)
{
  DeskClimate *climate = self->climate;
  const CoreMoment *v;

  for (guint i = 0; i < self->stretches->len; i++)
    {
      const Stretch *stretch = &g_array_index (self->stretches, Stretch, i);

      if (stretch->series != NULL)
        unpack (stretch, climate->moments);
      else
        g_array_append_val (climate->moments, stretch->typed);
    }
  put_in_order (climate->moments);
  v = (const CoreMoment *) (const void *) climate->moments->data;
  climate->two_values = desk_climate_two_values (v, climate->moments->len);
  climate->step = core_climate_step (v, climate->moments->len);
  climate->gap = core_climate_gap (climate->step);
}

static void
unpack_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Gathered *self = data;

  unpack_all (self);
  g_task_return_pointer (task, desk_climate_ref (self->climate), (GDestroyNotify) desk_climate_unref);
}

void
desk_climate_async (Desk *self,
                    CoreId place,
                    gboolean inside,
                    GCancellable *cancellable,
                    GAsyncReadyCallback callback,
                    gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, data);
  GError *error = NULL;

  g_return_if_fail (DESK_IS_DESK (self));
  g_task_set_source_tag (task, desk_climate_async);
  g_task_set_task_data (task, gather (self, place, inside, TRUE), gathered_free);
  if (!desk_is_readable (self, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  g_task_run_in_thread (task, unpack_thread);
}

DeskClimate *
desk_climate_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

GArray *
desk_climate_now (Desk *self, CoreId place, gboolean inside, gboolean typed)
{
  Gathered *gathered = gather (self, place, inside, typed);
  GArray *moments;

  unpack_all (gathered);
  moments = g_array_ref (gathered->climate->moments);
  gathered_free (gathered);
  return moments;
}

/* ---- what is wanted ---- */

static double
light_of (Desk *self, CoreId place)
{
  for (int hop = 0; hop < 8 && !core_id_is_none (place); hop++)
    {
      g_autoptr (DeskSubject) subject = desk_get (self, place);
      const CoreState *state = subject != NULL ? desk_subject_state (subject) : NULL;

      if (state == NULL)
        break;
      if (isfinite (state->place.light_h))
        return state->place.light_h;
      place = state->place.within;
    }
  return NAN;
}

void
desk_band_of_place (Desk *self, CoreId place, DeskBand *out)
{
  g_autoptr (GPtrArray) subjects = desk_subjects_on (self, place);
  CoreShelfBand all = { 0 };

  out->species = g_ptr_array_new ();
  for (guint i = 0; i < subjects->len; i++)
    {
      DeskSubject *subject = subjects->pdata[i];
      const CoreProfile *profile = desk_subject_profile (subject);

      if (desk_subject_kind (subject) != CORE_SUBJECT_ANIMAL && desk_subject_kind (subject) != CORE_SUBJECT_LOT)
        continue;
      if (!desk_subject_species_known (subject) || g_ptr_array_find (out->species, profile, NULL))
        continue;
      core_shelf_band_add (&all, profile);
      g_ptr_array_add (out->species, (gpointer) (guintptr) profile);
    }
  out->band = core_comfort_of_band (&all, light_of (self, place));
}

void
desk_band_clear (DeskBand *self)
{
  g_clear_pointer (&self->species, g_ptr_array_unref);
}
