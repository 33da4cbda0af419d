/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-ask.c — folds, forecasts, and keeps what each animal said last. */
#include "sim-ask.h"

#include "core/core-fold.h"
#include "core/core-sex.h"

#define STALE_DAYS 4 /* a wait says a little more with each look; asked anew after these */

typedef struct
{
  CoreDay day; /* 0 = never asked */
  guint began; /* how many beginnings of stages were entered by then */
  gboolean says;
} Said;

static void
fold_all (const GArray *entries,
          CoreId subject,
          CoreSubjectKind kind,
          CoreDay until,
          CoreState *out)
{
  g_autofree const CoreEntry **known = g_new (const CoreEntry *, entries->len + 1);
  gsize n = 0;

  for (guint i = 0; i < entries->len; i++)
    {
      const SimEntry *row = &g_array_index (entries, SimEntry, i);
      if (row->written <= until)
        known[n++] = row->entry;
    }
  core_state_init (out);
  g_assert_cmpint (core_fold (subject, kind, known, n, out), ==, CORE_OK);
}

void
sim_ask_init (SimAsk *self, SimRoom *room, const CoreProfile *general)
{
  self->room = room;
  self->general = general;
  for (int k = 0; k < room->n_kinds; k++)
    fold_all (room->shelf_entries[k], room->kind[k].shelf, CORE_SUBJECT_PLACE, G_MAXINT32,
              &self->shelf[k]);
  self->said = g_array_new (FALSE, TRUE, sizeof (Said));
  g_array_set_size (self->said, room->animals->len);
  self->voices = core_room_new ();
  g_assert_nonnull (self->voices);
}

void
sim_ask_clear (SimAsk *self)
{
  for (int k = 0; k < self->room->n_kinds; k++)
    core_state_clear (&self->shelf[k]);
  g_array_unref (self->said);
  core_room_free (self->voices);
}

const CoreProfile *
sim_ask_profile (const SimAsk *self, const SimAnimal *animal)
{
  return animal->kind_unknown ? self->general : self->room->kind[animal->kind].profile;
}

void
sim_ask_fold (const SimAsk *self, const SimAnimal *animal, CoreDay today, CoreState *state)
{
  (void) self;
  fold_all (animal->entries, animal->id, CORE_SUBJECT_ANIMAL, today, state);
}

static const CoreState *
find_place (CoreId place, void *data)
{
  const SimAsk *self = data;

  for (int k = 0; k < self->room->n_kinds; k++)
    if (core_id_equal (self->shelf[k].subject, place))
      return &self->shelf[k];
  return NULL;
}

static double
p_male_of (const CoreProfile *profile, const CoreState *state)
{
  CoreSexVerdict verdict = { 0 };
  double p;

  if (state->sex.n == 0)
    return profile->male_prior;
  g_assert_cmpint (core_sex_of_state (profile, state, &verdict), ==, CORE_OK);
  p = verdict.male;
  core_sex_verdict_clear (&verdict);
  return p;
}

static void
build_warmth (SimAsk *self,
              const CoreProfile *profile,
              const CoreState *state,
              CoreDay today,
              CoreWarmth *warmth)
{
  CoreDay from, to;

  core_forecast_span (state, today, &from, &to);
  g_assert_cmpint (core_warmth_build (state, profile, find_place, self, from, today, to, warmth),
                   ==, CORE_OK);
}

static void
speak (SimAsk *self, const SimAnimal *animal, CoreDay today, Said *said)
{
  const CoreProfile *profile = sim_ask_profile (self, animal);
  CoreForecastInput input = { .profile = profile };
  CoreVoice voice;
  CoreWarmth warmth;
  CoreState state;
  double y = NAN, p = 0;

  said->says = FALSE;
  sim_ask_fold (self, animal, today, &state);
  input.today = core_forecast_message_day (&state, today);
  if (input.today != CORE_DAY_NONE)
    {
      build_warmth (self, profile, &state, input.today, &warmth);
      input.state = &state;
      input.warmth = &warmth;
      input.p_male = p_male_of (profile, &state);
      said->says = core_forecast_message (&input, &y, &p);
      core_warmth_clear (&warmth);
    }
  voice = core_voice (animal->id, animal->lot_id, profile, y, said->says ? p : 0);
  g_assert_cmpint (core_room_put (self->voices, &voice), ==, CORE_OK);
  core_state_clear (&state);
}

/* An animal that ended, or is adult, says the same for ever. */
static void
let_speak (SimAsk *self, guint index, CoreDay today)
{
  const SimAnimal *animal = self->room->animals->pdata[index];
  Said *said = &g_array_index (self->said, Said, index);
  guint began = 0;
  gboolean over;

  while (began < animal->began->len &&
         g_array_index (animal->began, SimBegan, began).written <= today)
    began++;
  if (began == 0)
    return;
  over = g_array_index (animal->began, SimBegan, began - 1).m == animal->n || animal->end < today;
  if (said->day != 0 && said->began == began && said->day <= today &&
      (over || today - said->day <= STALE_DAYS))
    return;
  speak (self, animal, today, said);
  said->day = today;
  said->began = began;
}

/* What the desk does: all animals of the room speak before one is asked about. */
static SimHeard
hear_room (SimAsk *self, guint index, CoreDay today)
{
  const SimAnimal *animal = self->room->animals->pdata[index];
  SimHeard heard = { 0 };

  for (guint i = 0; i < self->room->animals->len; i++)
    {
      const SimAnimal *other = self->room->animals->pdata[i];

      let_speak (self, i, today);
      if (i == index || other->kind != animal->kind || !g_array_index (self->said, Said, i).says)
        continue;
      if (animal->lot >= 0 && other->lot == animal->lot)
        heard.mates++;
      else
        heard.others++;
    }
  return heard;
}

gboolean
sim_ask_forecast (SimAsk *self,
                  guint index,
                  CoreDay today,
                  const CoreState *state,
                  CoreForecast *out,
                  SimHeard *heard)
{
  const SimAnimal *animal = self->room->animals->pdata[index];
  const CoreProfile *profile = sim_ask_profile (self, animal);
  CoreForecastOptions options = { .no_reasons = true, .no_adult = true };
  CoreMessage message;
  CoreWarmth warmth;

  *heard = hear_room (self, index, today);
  message = core_room_message (self->voices, animal->id, animal->lot_id, profile);
  build_warmth (self, profile, state, today, &warmth);
  g_assert_cmpint (core_forecast (&(CoreForecastInput){ .state = state,
                                                        .profile = profile,
                                                        .warmth = &warmth,
                                                        .today = today,
                                                        .p_male = p_male_of (profile, state),
                                                        .message = &message,
                                                        .options = &options },
                                  out),
                   ==, CORE_OK);
  core_warmth_clear (&warmth);
  return out->why == CORE_NO_FORECAST_NONE;
}

gboolean
sim_ask_lot (SimAsk *self, const SimLot *lot, CoreDay today, CoreLotForecast *out)
{
  const CoreProfile *profile = self->room->kind[lot->kind].profile;
  CoreForecastOptions options = { .no_reasons = true, .no_adult = true };
  CoreForecastInput input = { .profile = profile, .today = today, .options = &options };
  CoreMessage message;
  CoreWarmth warmth;
  CoreState state;

  for (guint i = 0; i < self->room->animals->len; i++)
    let_speak (self, i, today);
  message = core_room_message (self->voices, lot->id, lot->id, profile);
  fold_all (lot->entries, lot->id, CORE_SUBJECT_LOT, today, &state);
  build_warmth (self, profile, &state, today, &warmth);
  input.state = &state;
  input.warmth = &warmth;
  input.p_male = profile->male_prior;
  input.message = &message;
  g_assert_cmpint (core_forecast_lot (&input, out), ==, CORE_OK);
  core_warmth_clear (&warmth);
  core_state_clear (&state);
  return out->why == CORE_NO_FORECAST_NONE;
}
