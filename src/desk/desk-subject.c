/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-subject.c — one subject as of now: its state, and what follows from it.
 *
 * A DeskSubject is a snapshot: the fold of the subject, the folds of the places
 * that it stood on, the profile and the day. From these alone forecast, verdict
 * and plan are computed, once, by whoever asks first: a thread of the pool, or
 * the caller. So a snapshot never changes and no result can be out of date. */
#include "desk/desk-private.h"

#include <math.h>
#include <string.h>

/* Warmth reaches this far: the forecast looks 400 days ahead, the adult moult may be later. */
#define DAYS_AHEAD 800
#define PLAN_DAYS 27

/* Computed once under the lock. */
typedef struct
{
  GMutex lock;
  gint computed; /* atomic */
  CoreForecast forecast;
  CoreLotForecast lot; /* of a lot */
  CoreSexVerdict verdict;
  CorePlan plan;
  double body_mm;
} Results;

struct _DeskSubject
{
  gatomicrefcount refs;
  CoreId id;
  CoreSubjectKind kind;
  char label[96];
  CoreDay today;

  /* Owned */
  DeskFold *fold;
  GPtrArray *places; /* DeskFold *: itself if a place, every place it stood on, what these
                      * are within */
  DeskProfiles *profiles;
  Results *results;

  /* Borrowed from profiles */
  const CoreProfile *profile;
  gboolean species_known;
};

G_DEFINE_BOXED_TYPE (DeskSubject, desk_subject, desk_subject_ref, desk_subject_unref)

DeskSubject *
desk_subject_ref (DeskSubject *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
desk_subject_unref (DeskSubject *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  if (self->results->computed)
    {
      core_sex_verdict_clear (&self->results->verdict);
      core_plan_clear (&self->results->plan);
    }
  g_mutex_clear (&self->results->lock);
  g_free (self->results);
  g_ptr_array_unref (self->places);
  desk_fold_unref (self->fold);
  desk_profiles_unref (self->profiles);
  g_free (self);
}

/* ---- making ---- */

static gboolean
has_place (const GPtrArray *places, CoreId id)
{
  for (guint i = 0; i < places->len; i++)
    if (core_id_equal (((DeskFold *) places->pdata[i])->state.subject, id))
      return TRUE;
  return FALSE;
}

/* A place, and what it is within, once each. */
static void
gather_place (Desk *desk, GPtrArray *places, CoreId id)
{
  while (!core_id_is_none (id) && !has_place (places, id))
    {
      DeskRecord *record = desk_collection_record (&desk->all, id);

      if (record == NULL || record->kind != CORE_SUBJECT_PLACE || record->now == NULL)
        return;
      g_ptr_array_add (places, desk_fold_ref (record->now->fold));
      id = record->now->fold->state.place.within;
    }
}

/* Of two subjects with one number (two copies were merged) the smaller id keeps it; the
 * others answer to it with a letter. */
static void
number_label (Desk *desk, DeskSubject *self)
{
  const char *number = self->fold->state.number;
  g_autofree char *folded = g_ascii_strdown (number, -1);
  const CoreId *owner = g_hash_table_lookup (desk->all.numbers, folded);
  gboolean mine = owner == NULL || core_id_equal (*owner, self->id);
  int before = 0;

  for (guint i = 0; !mine && i < desk->all.order->len; i++)
    {
      DeskRecord *other = desk->all.order->pdata[i];

      if (core_id_equal (other->id, self->id))
        break;
      if (other->now != NULL && g_ascii_strcasecmp (other->now->fold->state.number, number) == 0)
        before++;
    }
  if (before == 0)
    g_strlcpy (self->label, number, sizeof self->label);
  else
    g_snprintf (self->label, sizeof self->label, "%s%c", number, 'a' + MIN (before, 25));
}

static void
make_label (Desk *desk, DeskSubject *self)
{
  const CoreState *state = &self->fold->state;

  if (state->number[0] != '\0')
    number_label (desk, self);
  else if (state->code[0] != '\0')
    desk_code_label (desk, self->id, state->code, self->label, sizeof self->label);
  else if (state->name[0] != '\0')
    g_strlcpy (self->label, state->name, sizeof self->label);
  else if (self->kind == CORE_SUBJECT_JOURNAL)
    g_strlcpy (self->label, "journal", sizeof self->label);
}

DeskSubject *
desk_subject_new (Desk *desk, DeskRecord *record, DeskFold *fold, CoreDay today)
{
  DeskSubject *self = g_new0 (DeskSubject, 1);
  const CoreState *state = &fold->state;

  g_atomic_ref_count_init (&self->refs);
  self->results = g_new0 (Results, 1);
  g_mutex_init (&self->results->lock);
  self->id = record->id;
  self->kind = record->kind;
  self->today = today;
  self->fold = desk_fold_ref (fold);
  self->profiles = desk_profiles_ref (desk->profiles);
  self->profile = exch_profiles_for_species (self->profiles->set, state->species);
  self->species_known = state->species[0] != '\0' && !self->profile->general;
  self->places = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_fold_unref);
  for (gsize i = 0; i < state->stays.n; i++)
    gather_place (desk, self->places, state->stays.v[i].place);
  if (record->kind == CORE_SUBJECT_PLACE)
    {
      g_ptr_array_add (self->places, desk_fold_ref (fold));
      gather_place (desk, self->places, state->place.within);
    }
  make_label (desk, self);
  return self;
}

DeskFold *
desk_subject_fold (const DeskSubject *self)
{
  return self->fold;
}

gboolean
desk_subject_uses_place (const DeskSubject *self, CoreId place)
{
  return has_place (self->places, place);
}

/* ---- computing ---- */

static const CoreState *
lookup_place (CoreId place, void *data)
{
  GPtrArray *places = data;

  for (guint i = 0; i < places->len; i++)
    {
      const DeskFold *fold = places->pdata[i];

      if (core_id_equal (fold->state.subject, place))
        return &fold->state;
    }
  return NULL;
}

static CoreDay
warmth_begins (const CoreState *state, CoreDay today)
{
  double first = today;

  if (state->first_day != CORE_DAY_NONE)
    first = MIN (first, state->first_day);
  for (gsize i = 0; i < state->stages.n; i++)
    if (isfinite (state->stages.v[i].lo))
      first = MIN (first, state->stages.v[i].lo);
  return (CoreDay) floor (first) - 4;
}

/* What core cannot make sense of (entries of a merge or an import may say anything) gives no
 * forecast; it must not end the program. */
static void
compute_forecast (const DeskSubject *self)
{
  CoreWarmth warmth = { 0 };
  CoreForecastInput input = { .state = &self->fold->state,
                              .profile = self->profile,
                              .warmth = &warmth,
                              .today = self->today,
                              .p_male = self->results->verdict.male };
  CoreStatus status;

  status = core_warmth_build (input.state, self->profile, lookup_place, self->places,
                              warmth_begins (input.state, self->today), self->today,
                              self->today + DAYS_AHEAD, &warmth);
  if (status == CORE_OK && self->kind == CORE_SUBJECT_LOT)
    status = core_forecast_lot (&input, &self->results->lot);
  else if (status == CORE_OK)
    status = core_forecast (&input, &self->results->forecast);
  core_warmth_clear (&warmth);
  if (status == CORE_NO_MEMORY)
    g_error ("out of memory while forecasting %s", self->label);
  if (status != CORE_OK && self->results->forecast.why == CORE_NO_FORECAST_NONE)
    {
      memset (&self->results->forecast, 0, sizeof self->results->forecast);
      self->results->forecast.why = CORE_NO_FORECAST_NO_START;
    }
}

/* Outermost place for climate and cleaning. */
static const CoreState *
shelf_of (const DeskSubject *self, const CoreState *place)
{
  for (guint i = 0; place != NULL && i <= self->places->len; i++)
    {
      const CoreState *outer = lookup_place (place->place.within, self->places);

      if (outer == NULL || outer == place)
        break;
      place = outer;
    }
  return place;
}

static const CoreState *
stands_on (const DeskSubject *self)
{
  const CoreState *state = &self->fold->state;

  if (self->kind == CORE_SUBJECT_PLACE)
    return state;
  return state->stays.n == 0
           ? NULL
           : lookup_place (state->stays.v[state->stays.n - 1].place, self->places);
}

static CorePlanInput
plan_input (const DeskSubject *self, CoreDay from, CoreDay to)
{
  const CoreState *place = stands_on (self);

  return (CorePlanInput){ .state = &self->fold->state,
                          .profile = self->profile,
                          .forecast = &self->results->forecast,
                          .verdict = &self->results->verdict,
                          .place = place,
                          .shelf = shelf_of (self, place),
                          .today = self->today,
                          .from = from,
                          .to = to };
}

gboolean
desk_subject_plan_span (DeskSubject *self, CoreDay from, CoreDay to, CorePlan *out)
{
  CorePlanInput input;
  CoreStatus status;

  desk_subject_compute (self);
  input = plan_input (self, from, to);
  if (self->kind == CORE_SUBJECT_PLACE)
    status = core_plan_place (&input, out);
  else
    status = core_plan (&input, out);
  return status == CORE_OK;
}

static void
compute (const DeskSubject *self)
{
  CorePlanInput input;
  CoreStatus status = CORE_OK;

  if (core_sex_of_state (self->profile, &self->fold->state, &self->results->verdict) != CORE_OK)
    g_error ("out of memory while weighing the sex of %s", self->label);
  self->results->body_mm = NAN;
  self->results->lot.why = CORE_NO_FORECAST_NO_START;
  core_plan_init (&self->results->plan);
  if (self->kind == CORE_SUBJECT_ANIMAL || self->kind == CORE_SUBJECT_LOT)
    {
      compute_forecast (self);
      self->results->body_mm =
        core_body_now (&self->fold->state, self->profile, self->results->verdict.male);
    }
  if (self->kind != CORE_SUBJECT_ANIMAL)
    self->results->forecast.why = CORE_NO_FORECAST_NOT_AN_ANIMAL;
  input = plan_input (self, self->today, self->today + PLAN_DAYS);
  if (self->kind == CORE_SUBJECT_PLACE)
    status = core_plan_place (&input, &self->results->plan);
  else if (self->kind == CORE_SUBJECT_ANIMAL || self->kind == CORE_SUBJECT_LOT)
    status = core_plan (&input, &self->results->plan);
  if (status == CORE_NO_MEMORY)
    g_error ("out of memory while planning %s", self->label);
}

void
desk_subject_compute (const DeskSubject *self)
{
  Results *results = self->results;

  if (g_atomic_int_get (&results->computed))
    return;
  g_mutex_lock (&results->lock);
  if (!results->computed)
    {
      compute (self);
      g_atomic_int_set (&results->computed, 1);
    }
  g_mutex_unlock (&results->lock);
}

gboolean
desk_subject_computed (const DeskSubject *self)
{
  return g_atomic_int_get (&self->results->computed) != 0;
}

/* ---- reading ---- */

CoreId
desk_subject_id (const DeskSubject *self)
{
  return self->id;
}

CoreSubjectKind
desk_subject_kind (const DeskSubject *self)
{
  return self->kind;
}

const char *
desk_subject_label (const DeskSubject *self)
{
  return self->label;
}

const CoreState *
desk_subject_state (const DeskSubject *self)
{
  return &self->fold->state;
}

const CoreProfile *
desk_subject_profile (const DeskSubject *self)
{
  return self->profile;
}

gboolean
desk_subject_species_known (const DeskSubject *self)
{
  return self->species_known;
}

const CoreForecast *
desk_subject_forecast (const DeskSubject *self)
{
  desk_subject_compute (self);
  return &self->results->forecast;
}

const CoreLotForecast *
desk_subject_lot_forecast (const DeskSubject *self)
{
  desk_subject_compute (self);
  return &self->results->lot;
}

const CoreSexVerdict *
desk_subject_verdict (const DeskSubject *self)
{
  desk_subject_compute (self);
  return &self->results->verdict;
}

const CorePlan *
desk_subject_plan (const DeskSubject *self)
{
  desk_subject_compute (self);
  return &self->results->plan;
}

double
desk_subject_body_mm (const DeskSubject *self)
{
  desk_subject_compute (self);
  return self->results->body_mm;
}

gboolean
desk_subject_living (const DeskSubject *self)
{
  return self->fold->state.exists && self->fold->state.end == CORE_END_NONE;
}

gboolean
desk_subject_place (const DeskSubject *self, CoreId *place, double *at)
{
  const CoreState *state = &self->fold->state;
  const CoreStay *stay = state->stays.n == 0 ? NULL : &state->stays.v[state->stays.n - 1];

  if (stay == NULL || core_id_is_none (stay->place))
    return FALSE;
  if (place != NULL)
    *place = stay->place;
  if (at != NULL)
    *at = stay->at;
  return TRUE;
}
