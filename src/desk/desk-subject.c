/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-subject.c — one subject as of now: its state, and what follows from it.
 *
 * A DeskSubject is a snapshot: the fold of the subject, the folds of the places
 * that it stood on, the profile and the day. From these alone forecast, verdict
 * and plan are computed, once, by whoever asks first: a thread of the pool, or
 * the caller. So a snapshot never changes and no result can be out of date. What
 * a large collection needs of each (the outlook) comes first; its reasons and its
 * plan, which take more time or room, when somebody asks for this one. */
#include "desk/desk-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Warmth reaches this far: the forecast looks 400 days ahead, the adult moult may be later. */
#define DAYS_AHEAD 800
#define PLAN_DAYS 27

/* Each part is computed once, under the lock. */
typedef struct
{
  CoreForecast outlook; /* without reasons */
  CoreLotForecast lot;  /* of a lot */
  CoreSexVerdict verdict;
  DeskHeard heard;        /* what outlook and forecast were given by others */
  CoreMessage *elsewhere; /* owned: the same, for stages begun in another room; NULL = none */
  double body_mm;
  CoreHatch hatch;        /* of an egg case */
  CorePlan plan;          /* once `planned` */
  CoreForecast *forecast; /* owned: with reasons, once `reasoned` */
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
  Results *results;   /* atomic; NULL = not yet computed */
  DeskKin *kin;
  DeskVoice *voice;   /* of an animal or a lot as of now, else NULL */
  DeskKept *kept;     /* as an earlier run left it, or NULL */
  CoreShelfBand *band;     /* of a place: of what stands there, or NULL */
  gboolean superseded; /* of a feeder culture: there is a younger one of its kind */
  GMutex lock;
  gint planned, reasoned; /* atomic */

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
  if (self->results != NULL)
    {
      core_sex_verdict_clear (&self->results->verdict);
      core_plan_clear (&self->results->plan);
      g_free (self->results->forecast);
      g_free (self->results->elsewhere);
    }
  g_mutex_clear (&self->lock);
  g_free (self->results);
  desk_kept_free (self->kept);
  g_clear_pointer (&self->voice, desk_voice_unref);
  desk_kin_unref (self->kin);
  g_free (self->band);
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

static void
make_label (Desk *desk, DeskSubject *self)
{
  const CoreState *state = &self->fold->state;

  if (state->number[0] != '\0')
    desk_alias (&desk->all, self->id, state->number, FALSE, self->label, sizeof self->label);
  else if (state->code[0] != '\0')
    desk_alias (&desk->all, self->id, state->code, TRUE, self->label, sizeof self->label);
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
  g_mutex_init (&self->lock);
  self->id = record->id;
  self->kind = record->kind;
  self->today = today;
  self->fold = desk_fold_ref (fold);
  self->profiles = desk_profiles_ref (desk->profiles);
  self->kin = desk_kin_ref (desk->kin);
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

const CoreState *
desk_place_among (GPtrArray *places, CoreId place)
{
  for (guint i = 0; i < places->len; i++)
    {
      const DeskFold *fold = places->pdata[i];

      if (core_id_equal (fold->state.subject, place))
        return &fold->state;
    }
  return NULL;
}

static const CoreState *
lookup_place (CoreId place, void *data)
{
  return desk_place_among (data, place);
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

CoreStatus
desk_subject_warmth (const DeskSubject *self, CoreWarmth *out)
{
  return desk_subject_warmth_as (self, &self->fold->state, self->places, out);
}

CoreStatus
desk_subject_warmth_as (const DeskSubject *self, const CoreState *state, GPtrArray *places, CoreWarmth *out)
{
  return core_warmth_build (state, self->profile, lookup_place, places, warmth_begins (state, self->today),
                            self->today, self->today + DAYS_AHEAD, out);
}

static void
compute_hatch (const DeskSubject *self, CoreHatch *out)
{
  const CoreState *state = &self->fold->state;
  CoreWarmth warmth = { 0 };
  CoreDay from = core_hatch_from (state);

  if (from == CORE_DAY_NONE || from > self->today)
    from = self->today;
  if (core_warmth_build (state, self->profile, lookup_place, self->places, from - 1, self->today,
                         self->today + DAYS_AHEAD, &warmth) == CORE_NO_MEMORY)
    g_error ("out of memory while forecasting %s", self->label);
  core_hatch (state, self->profile, &warmth, out);
  core_warmth_clear (&warmth);
}

/* No stage lasts longer than usual before that (ours): so young ones need no second warmth. */
#define SHORTEST_STAGE 5

/* As it was known on the day on which the stage in progress was found begun; n 0 = there is none. */
static void
warmth_then (const DeskSubject *self, CoreWarmth *out)
{
  const CoreState *state = &self->fold->state;
  const CoreStage *stage = core_state_stage_now (state);

  if (stage == NULL || stage->found == CORE_DAY_NONE || self->today - stage->found < SHORTEST_STAGE)
    return;
  if (core_warmth_build (state, self->profile, lookup_place, self->places, warmth_begins (state, stage->found),
                         stage->found, stage->found + DAYS_AHEAD, out) == CORE_NO_MEMORY)
    g_error ("out of memory while forecasting %s", self->label);
}

/* Of a lot into `lot`, of an animal (`lot` is NULL) into `out`. What core cannot make sense of
 * (entries of a merge or an import may say anything) gives no forecast; it must not end the
 * program. */
static void
compute_forecast (const DeskSubject *self,
                  const Results *results,
                  gboolean reasons,
                  CoreForecast *out,
                  CoreLotForecast *lot)
{
  CoreWarmth warmth = { 0 }, then = { 0 };
  CoreForecastOptions options = { .no_reasons = !reasons };
  CoreForecastInput input = { .state = &self->fold->state,
                              .profile = self->profile,
                              .warmth = &warmth,
                              .today = self->today,
                              .p_male = results->verdict.male,
                              .message = &results->heard.here,
                              .room_alone = &results->heard.alone,
                              .elsewhere = results->elsewhere,
                              .options = &options };
  CoreStatus status;

  status = desk_subject_warmth (self, &warmth);
  if (status == CORE_OK && lot != NULL)
    status = core_forecast_lot (&input, lot);
  else if (status == CORE_OK)
    {
      warmth_then (self, &then);
      input.then = then.n > 0 ? &then : NULL;
      status = core_forecast (&input, out);
    }
  core_warmth_clear (&then);
  core_warmth_clear (&warmth);
  if (status == CORE_NO_MEMORY)
    g_error ("out of memory while forecasting %s", self->label);
  if (status != CORE_OK && out->why == CORE_NO_FORECAST_NONE)
    {
      memset (out, 0, sizeof *out);
      out->why = CORE_NO_FORECAST_NO_START;
    }
}

/* Outermost place for climate and cleaning. */
static const CoreState *
shelf_among (GPtrArray *places, const CoreState *place)
{
  for (guint i = 0; place != NULL && i <= places->len; i++)
    {
      const CoreState *outer = lookup_place (place->place.within, places);

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
                          .forecast = &self->results->outlook,
                          .verdict = &self->results->verdict,
                          .place = place,
                          .shelf = shelf_among (self->places, place),
                          .hatch = &self->results->hatch,
                          .band = self->band,
                          .superseded = self->superseded,
                          .today = self->today,
                          .from = from,
                          .to = to };
}

GPtrArray *
desk_subject_places_with (Desk *desk, const DeskSubject *self, CoreId place)
{
  GPtrArray *places = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_fold_unref);

  for (guint i = 0; i < self->places->len; i++)
    g_ptr_array_add (places, desk_fold_ref (self->places->pdata[i]));
  if (!core_id_is_none (place))
    gather_place (desk, places, place);
  return places;
}

/* What it hears stays what it is. */
static void
hears_as_now (DeskSubject *self, CoreForecastInput *input)
{
  desk_subject_outlook (self);
  input->p_male = self->results->verdict.male;
  input->message = &self->results->heard.here;
  input->elsewhere = self->results->elsewhere;
}

CoreStatus
desk_subject_forecast_as (DeskSubject *self, const CoreState *state, const CoreWarmth *warmth, CoreForecast *out)
{
  CoreForecastOptions options = { .no_reasons = TRUE };
  CoreForecastInput input = { .state = state, .profile = self->profile, .warmth = warmth, .today = self->today,
                              .options = &options };

  hears_as_now (self, &input);
  return core_forecast (&input, out);
}

CoreStatus
desk_subject_lot_forecast_as (DeskSubject *self, const CoreState *state, const CoreWarmth *warmth, CoreLotForecast *out)
{
  CoreForecastOptions options = { .no_reasons = TRUE };
  CoreForecastInput input = { .state = state, .profile = self->profile, .warmth = warmth, .today = self->today,
                              .options = &options };

  hears_as_now (self, &input);
  return core_forecast_lot (&input, out);
}

CoreStatus
desk_subject_plan_as (DeskSubject *self, const CorePlanInput *as, GPtrArray *places, CorePlan *out)
{
  CorePlanInput input;

  desk_subject_outlook (self);
  input = plan_input (self, as->from, as->to);
  input.state = as->state;
  input.forecast = as->forecast;
  input.place = as->state->stays.n > 0 ? lookup_place (as->state->stays.v[as->state->stays.n - 1].place, places) : NULL;
  input.shelf = shelf_among (places, input.place);
  return core_plan (&input, out);
}

static gboolean
plan_of (DeskSubject *self, const CorePlanInput *input, CorePlan *out)
{
  if (self->kind == CORE_SUBJECT_PLACE)
    return core_plan_place (input, out) == CORE_OK;
  return core_plan (input, out) == CORE_OK;
}

gboolean
desk_subject_plan_span (DeskSubject *self, CoreDay from, CoreDay to, CorePlan *out)
{
  CorePlanInput input;

  desk_subject_outlook (self);
  input = plan_input (self, from, to);
  return plan_of (self, &input, out);
}

gboolean
desk_subject_plan_rows (DeskSubject *self, CoreDay from, CoreDay to, CorePlan *out)
{
  CorePlanInput input;

  desk_subject_outlook (self);
  input = plan_input (self, from, to);
  input.rows = TRUE;
  return plan_of (self, &input, out);
}

gboolean
desk_subject_standin (DeskSubject *self, CoreDay from, CoreDay to, CoreStandin *out)
{
  CorePlanInput input;

  desk_subject_outlook (self);
  input = plan_input (self, from, to);
  return core_standin (&input, out) == CORE_OK;
}

/* What is const to those who read is computed behind it, once. */
static DeskSubject *
computing (const DeskSubject *self)
{
  return (DeskSubject *) self;
}

/* One of which no moult is to come need hear nothing. */
static gboolean
listens (const DeskSubject *self)
{
  const CoreState *state = &self->fold->state;

  return (self->kind == CORE_SUBJECT_ANIMAL || self->kind == CORE_SUBJECT_LOT) && !state->adult &&
         state->end == CORE_END_NONE && state->stages.n > 0;
}

static gboolean
hear (const DeskSubject *self, CoreMessage **elsewhere, DeskHeard *heard)
{
  *elsewhere = NULL;
  if (!listens (self))
    {
      heard->here = heard->alone = core_room_neutral (self->profile);
      heard->elsewhere = 0;
      return FALSE;
    }
  *elsewhere = g_new (CoreMessage, self->fold->state.stages.n);
  if (!desk_kin_hear (self->kin, self->fold, self->places, self->profile, *elsewhere, heard))
    g_clear_pointer (elsewhere, g_free);
  return TRUE;
}

static gboolean
heard_equal (const DeskHeard *a, const DeskHeard *b)
{
  return a->here.mean == b->here.mean && a->here.sd == b->here.sd && a->elsewhere == b->elsewhere;
}

gboolean
desk_subject_hears_new (const DeskSubject *self)
{
  g_autofree CoreMessage *elsewhere = NULL;
  DeskHeard heard;

  return g_atomic_pointer_get (&computing (self)->results) != NULL &&
         hear (self, &elsewhere, &heard) && !heard_equal (&heard, &self->results->heard);
}

/* An outlook kept is as good as a new one when the others still say the same. */
static gboolean
kept_fits (const DeskSubject *self, const Results *results)
{
  return self->kept != NULL && self->kept->outlook != NULL &&
         heard_equal (&self->kept->heard, &results->heard);
}

static Results *
compute (DeskSubject *self)
{
  Results *results = g_new0 (Results, 1);

  if (core_sex_of_state (self->profile, &self->fold->state, &results->verdict) != CORE_OK)
    g_error ("out of memory while weighing the sex of %s", self->label);
  results->body_mm = NAN;
  results->lot.why = CORE_NO_FORECAST_NO_START;
  core_plan_init (&results->plan);
  hear (self, &results->elsewhere, &results->heard);
  if (self->kind != CORE_SUBJECT_ANIMAL)
    results->outlook.why = CORE_NO_FORECAST_NOT_AN_ANIMAL;
  else if (kept_fits (self, results))
    results->outlook = *self->kept->outlook;
  else
    compute_forecast (self, results, FALSE, &results->outlook, NULL);
  if (self->kind == CORE_SUBJECT_LOT)
    compute_forecast (self, results, FALSE, &results->outlook, &results->lot);
  if (self->kind == CORE_SUBJECT_EGGCASE)
    compute_hatch (self, &results->hatch);
  if (self->kind == CORE_SUBJECT_ANIMAL || self->kind == CORE_SUBJECT_LOT)
    results->body_mm = core_body_now (&self->fold->state, self->profile, results->verdict.male);
  return results;
}

static const Results *
results_of (const DeskSubject *subject)
{
  DeskSubject *self = computing (subject);

  if (g_atomic_pointer_get (&self->results) != NULL)
    return self->results;
  g_mutex_lock (&self->lock);
  if (self->results == NULL)
    g_atomic_pointer_set (&self->results, compute (self));
  g_mutex_unlock (&self->lock);
  return self->results;
}

static void
plan_now (DeskSubject *self)
{
  CorePlan *plan = &self->results->plan;
  CorePlanInput input = plan_input (self, self->today, self->today + PLAN_DAYS);
  CoreStatus status = CORE_OK;
  void *smaller;

  if (self->kind == CORE_SUBJECT_PLACE)
    status = core_plan_place (&input, plan);
  else
    status = core_plan (&input, plan);
  if (status == CORE_NO_MEMORY)
    g_error ("out of memory while planning %s", self->label);
  smaller =
    plan->tasks.n > 0 ? realloc (plan->tasks.v, plan->tasks.n * sizeof *plan->tasks.v) : NULL;
  if (smaller != NULL)
    {
      plan->tasks.v = smaller;
      plan->tasks.cap = plan->tasks.n;
    }
}

void
desk_subject_compute (const DeskSubject *self, gboolean plan)
{
  if (plan)
    desk_subject_plan (self);
  else
    results_of (self);
  if (self->voice != NULL)
    desk_voice_said (self->voice); /* here, so that nobody on the main thread has to wait for it */
}

void
desk_kept_free (DeskKept *self)
{
  if (self == NULL)
    return;
  g_free (self->said);
  g_free (self->outlook);
  g_free (self);
}

void
desk_subject_speak (DeskSubject *self, const DeskSubject *before, DeskKept *kept)
{
  g_return_if_fail (self->results == NULL && self->kept == NULL && self->voice == NULL);
  self->kept = kept;
  if (self->kind != CORE_SUBJECT_ANIMAL && self->kind != CORE_SUBJECT_LOT)
    return;
  if (before != NULL && before->voice != NULL && before->profile == self->profile &&
      desk_voice_rests_on (before->voice, self->fold, self->places))
    self->voice = desk_voice_ref (before->voice);
  else
    self->voice = desk_voice_new (self->fold, self->places, self->profiles, self->profile,
                                  kept != NULL ? g_steal_pointer (&kept->said) : NULL);
  desk_kin_put (self->kin, self->voice);
}

void
desk_subject_set_around (DeskSubject *self, const CoreShelfBand *band, gboolean superseded)
{
  g_return_if_fail (self->results == NULL);
  g_free (self->band);
  self->band = band != NULL ? g_memdup2 (band, sizeof *band) : NULL;
  self->superseded = superseded;
}

gboolean
desk_subject_is_around (const DeskSubject *self, const CoreShelfBand *band, gboolean superseded)
{
  if (self->superseded != superseded || (self->band == NULL) != (band == NULL))
    return FALSE;
  return band == NULL || core_shelf_band_equal (self->band, band);
}

DeskKept *
desk_subject_keep (const DeskSubject *self)
{
  const Results *results = g_atomic_pointer_get (&computing (self)->results);
  const DeskSaid *said = self->voice != NULL ? desk_voice_known (self->voice) : NULL;
  DeskKept *kept = g_new0 (DeskKept, 1);

  kept->said = g_memdup2 (said, said != NULL ? sizeof *said : 0);
  if (self->kind != CORE_SUBJECT_ANIMAL || !desk_subject_living (self))
    return kept;
  if (results != NULL)
    {
      kept->outlook = g_memdup2 (&results->outlook, sizeof results->outlook);
      kept->heard = results->heard;
    }
  else if (self->kept != NULL && self->kept->outlook != NULL)
    {
      kept->outlook = g_memdup2 (self->kept->outlook, sizeof *self->kept->outlook);
      kept->heard = self->kept->heard;
    }
  return kept;
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
desk_subject_outlook (const DeskSubject *self)
{
  return &results_of (self)->outlook;
}

const CoreForecast *
desk_subject_forecast (const DeskSubject *subject)
{
  DeskSubject *self = computing (subject);
  const Results *results = results_of (self);

  if (results->outlook.why != CORE_NO_FORECAST_NONE)
    return &results->outlook;
  if (g_atomic_int_get (&self->reasoned))
    return results->forecast;
  g_mutex_lock (&self->lock);
  if (!self->reasoned)
    {
      self->results->forecast = g_new0 (CoreForecast, 1);
      compute_forecast (self, results, TRUE, self->results->forecast, NULL);
      g_atomic_int_set (&self->reasoned, 1);
    }
  g_mutex_unlock (&self->lock);
  return results->forecast;
}

gsize
desk_subject_lot_reasons (const DeskSubject *subject, CoreReason out[CORE_LOT_REASONS])
{
  DeskSubject *self = computing (subject);
  const CoreLotForecast *lot = desk_subject_lot_forecast (subject);
  CoreForecastOptions options = { .no_reasons = TRUE };
  CoreWarmth warmth = { 0 };
  CoreForecastInput input = { .state = &self->fold->state, .profile = self->profile, .warmth = &warmth,
                              .today = self->today, .options = &options };
  CoreStatus status = desk_subject_warmth (self, &warmth);
  gsize n = 0;

  hears_as_now (self, &input);
  if (status == CORE_OK)
    status = core_forecast_lot_reasons (&input, lot, out, &n);
  core_warmth_clear (&warmth);
  if (status == CORE_NO_MEMORY)
    g_error ("out of memory while forecasting %s", self->label);
  return n;
}

const CoreLotForecast *
desk_subject_lot_forecast (const DeskSubject *self)
{
  return &results_of (self)->lot;
}

const CoreSexVerdict *
desk_subject_verdict (const DeskSubject *self)
{
  return &results_of (self)->verdict;
}

const CorePlan *
desk_subject_plan (const DeskSubject *subject)
{
  DeskSubject *self = computing (subject);
  const Results *results = results_of (self);

  if (g_atomic_int_get (&self->planned))
    return &results->plan;
  g_mutex_lock (&self->lock);
  if (!self->planned)
    {
      plan_now (self);
      g_atomic_int_set (&self->planned, 1);
    }
  g_mutex_unlock (&self->lock);
  return &results->plan;
}

CoreFasting
desk_subject_fasting (const DeskSubject *self)
{
  const CorePlan *plan = desk_subject_plan (self);

  return core_fasting (&self->fold->state, desk_subject_outlook (self), plan, self->today);
}

double
desk_subject_body_mm (const DeskSubject *self)
{
  return results_of (self)->body_mm;
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

gboolean
desk_subject_shelf (const DeskSubject *self, CoreId *shelf)
{
  const CoreState *outer = shelf_among (self->places, stands_on (self));

  if (outer != NULL)
    *shelf = outer->subject;
  return outer != NULL;
}
