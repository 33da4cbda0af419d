/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-moments.c — the evening on which the beginning of a stage is entered, and days drawn
 * without looking ahead: that day + 1 + U(0, 60), used if the stage is still open.
 */
#include "sim-moments.h"

#include <stdio.h>

#include "sim-lot.h"

#define DRAWS 2 /* days drawn for each stage */

const char *const was_names[N_WAS] = {
  [WAS_FIRST_STAGE] = "first stage",
  [WAS_SECOND_STAGE] = "second stage",
  [WAS_LATER_STAGE] = "two own waits or more",
  [WAS_SUBADULT] = "sub-adult",
  [WAS_WITH_SIGNS] = "with signs",
  [WAS_BOUGHT] = "bought, moulted here",
  [WAS_OF_LOT] = "of a lot",
  [WAS_MATES_SPEAK] = "lot-mates speak",
  [WAS_ROOM_SPEAKS] = "only others of its kind speak",
  [WAS_NOBODY_SPEAKS] = "nobody of its kind speaks",
  [WAS_LOOKED_DAILY] = "looked at daily",
  [WAS_LOOKED_RARELY] = "looked at every 2 days or less",
  [WAS_READ] = "warmth by readings",
  [WAS_HABIT] = "warmth by habit",
  [WAS_WARMTH_UNKNOWN] = "warmth not known",
  [WAS_KIND_UNKNOWN] = "kind not known",
  [WAS_DATED] = "moult found later, dated",
  [WAS_SICK] = "sick, nobody knew",
  [WAS_THIRD] = "three moults of its kind known",
  [WAS_ARRIVED] = "start unknown: as bought",
  [WAS_HIDDEN] = "start never entered",
};

typedef struct
{
  guint animal, began;
  gboolean drawn;
  CoreDay day;
} Question;

static gint
by_day (gconstpointer a, gconstpointer b)
{
  const Question *x = a, *y = b;

  if (x->day != y->day)
    return x->day < y->day ? -1 : 1;
  if (x->animal != y->animal)
    return x->animal < y->animal ? -1 : 1;
  return (int) x->began - (int) y->began;
}

static const SimBegan *
began_at (const SimAnimal *animal, guint i)
{
  return i < animal->began->len ? &g_array_index (animal->began, SimBegan, i) : NULL;
}

/* Two stages found on one day (a seller's claim, then a moult): only the last is asked about. */
static GArray *
questions (SimRoom *room)
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (Question));

  for (guint a = 0; a < room->animals->len; a++)
    {
      const SimAnimal *animal = room->animals->pdata[a];
      for (guint b = 0; b < animal->began->len; b++)
        {
          const SimBegan *now = began_at (animal, b), *next = began_at (animal, b + 1);
          Question q = { a, b, FALSE, now->written };

          if (now->m >= animal->n || q.day > animal->end)
            continue;
          g_array_append_val (out, q);
          for (int d = 0; d < DRAWS; d++)
            {
              q.drawn = TRUE;
              q.day = now->written + 1 + sim_below (&room->random, 60);
              if ((!next || next->written > q.day) && q.day <= animal->end)
                g_array_append_val (out, q);
            }
        }
    }
  g_array_sort (out, by_day);
  return out;
}

static int
moults_of_kind (const SimRoom *room, int kind, CoreDay today)
{
  int count = 0;

  for (guint a = 0; a < room->animals->len; a++)
    {
      const SimAnimal *animal = room->animals->pdata[a];
      for (guint b = 0; animal->kind == kind && b < animal->began->len; b++)
        count +=
          began_at (animal, b)->by == SIM_BEGAN_MOULT && began_at (animal, b)->written <= today;
    }
  return count;
}

static guint32
known_of_warmth (const SimAsk *ask, const SimAnimal *animal, CoreDay today)
{
  const CoreState *shelf = &ask->shelf[animal->kind];
  int recent = 0;

  for (gsize i = 0; i < shelf->place.readings.n; i++)
    recent +=
      shelf->place.readings.v[i].day <= today && shelf->place.readings.v[i].day > today - 30;
  if (recent >= 4)
    return 1u << WAS_READ;
  return 1u << (ask->room->kind[animal->kind].told ? WAS_HABIT : WAS_WARMTH_UNKNOWN);
}

static guint32
known_of_stage (const SimRoom *room, const SimAnimal *animal, guint b, const CoreState *state)
{
  const SimBegan *now = began_at (animal, b);
  guint waits = b - (animal->bought && b > 0 ? 1 : 0);
  guint32 was = 1u << (waits == 0   ? WAS_FIRST_STAGE
                       : waits == 1 ? WAS_SECOND_STAGE
                                    : WAS_LATER_STAGE);

  if (animal->bought)
    was |= 1u << WAS_BOUGHT;
  else
    was |= 1u << WAS_OF_LOT;
  if (animal->bought && waits == 0)
    was &= ~(1u << WAS_FIRST_STAGE); /* its first wait here, not its first stage */
  if (state->subadult)
    was |= 1u << WAS_SUBADULT;
  if (state->signs.n > 0)
    was |= 1u << WAS_WITH_SIGNS;
  if (now->day != now->written ||
      (state->stages.n > 0 && state->stages.v[state->stages.n - 1].earliest_given))
    was |= 1u << WAS_DATED;
  if (room->keeper.look > .9)
    was |= 1u << WAS_LOOKED_DAILY;
  if (room->keeper.look < .5)
    was |= 1u << WAS_LOOKED_RARELY;
  if (animal->sick && began_at (animal, b)->m == animal->sick_at)
    was |= 1u << WAS_SICK;
  return was;
}

/* Was a moult between this beginning and the next never entered, and has it happened already?
 * Then the stage that is asked about is another one than written. */
static gboolean
hidden (const SimAnimal *animal, guint b, CoreDay today)
{
  const SimBegan *now = began_at (animal, b), *next = began_at (animal, b + 1);
  int entered = next ? next->m : SIM_MOULTS + 1;

  return now->m + 1 < entered && now->m + 1 <= animal->n && animal->at[now->m + 1] <= today &&
         (next || animal->at[now->m + 1] <= today - 10);
}

static guint32
what_was_known (SimAsk *ask, const Question *q, const CoreState *state, const SimHeard *heard)
{
  const SimAnimal *animal = ask->room->animals->pdata[q->animal];
  guint32 was;

  if (began_at (animal, q->began)->by == SIM_BEGAN_ARRIVAL)
    return 1u << WAS_ARRIVED;
  if (q->drawn && hidden (animal, q->began, q->day))
    return 1u << WAS_HIDDEN;
  was = known_of_stage (ask->room, animal, q->began, state);
  was |= known_of_warmth (ask, animal, q->day);
  if (animal->kind_unknown)
    was |= 1u << WAS_KIND_UNKNOWN;
  was |= 1u << (heard->mates > 0    ? WAS_MATES_SPEAK
                : heard->others > 0 ? WAS_ROOM_SPEAKS
                                    : WAS_NOBODY_SPEAKS);
  if (moults_of_kind (ask->room, animal->kind, q->day) >= 3)
    was |= 1u << WAS_THIRD;
  return was;
}

/* The wait that both baselines speak of, and what they know. */
static void
for_baselines (SimAsk *ask, const Question *q, const CoreState *state, Moment *out)
{
  const SimAnimal *animal = ask->room->animals->pdata[q->animal];
  const SimKind *kind = &ask->room->kind[animal->kind];
  const CoreProfile *profile = sim_ask_profile (ask, animal);
  const SimBegan *now = began_at (animal, q->began);
  const SimBegan *before = q->began > 0 ? began_at (animal, q->began - 1) : NULL;
  double day_c = kind->told ? kind->told_day : (profile->day_lo.v + profile->day_hi.v) / 2;
  double night_c = kind->told ? kind->told_night : (profile->night_lo.v + profile->night_hi.v) / 2;
  int n = 0;

  for (int i = 1; i <= SIM_MOULTS; i++)
    if (profile->n_moults[0][i] + profile->n_moults[1][i] >
        profile->n_moults[0][n] + profile->n_moults[1][n])
      n = i;
  out->usual = out->last = NAN;
  out->rate = sim_usual_rate (profile, day_c, night_c);
  if (state->moults >= 0)
    {
      int total = state->subadult ? state->moults + 1 : MAX (n, state->moults + 1);
      out->usual = sim_profile_days (profile, state->moults, total);
    }
  if (before && before->by != SIM_BEGAN_ARRIVAL)
    out->last = MAX (1, now->day - before->day);
  out->waits = (int) q->began;
  out->age = q->day - now->day;
  out->after = 0;
  for (gsize i = 0; i < state->looks.n; i++)
    if (state->looks.v[i].day <= q->day)
      out->after = MAX (0, state->looks.v[i].t - now->day);
}

static void
truth (const SimRoom *room, const Question *q, Moment *out)
{
  const SimAnimal *animal = room->animals->pdata[q->animal];
  const SimBegan *now = began_at (animal, q->began), *next = began_at (animal, q->began + 1);

  out->y = next ? animal->at[next->m] - q->day : NAN;
  out->y_true = now->m < animal->n && animal->at[now->m + 1] < animal->end
                  ? animal->at[now->m + 1] - q->day
                  : NAN;
  out->kind = room->kind[animal->kind].profile->id;
  out->m = now->m;
  out->n = animal->n;
  out->sex = animal->sex;
  out->to_hide = next ? next->m - now->m - 1 : 0;
  out->hid = now->m - began_at (animal, 0)->m - (int) q->began;
}

static void
ask_one (SimAsk *ask, const Question *q, GArray *out)
{
  const SimAnimal *animal = ask->room->animals->pdata[q->animal];
  SimBegan *began = &g_array_index (animal->began, SimBegan, q->began);
  Moment moment = { .room = ask->room->number, .drawn = q->drawn };
  CoreState state;
  CoreForecast forecast;
  SimHeard heard;

  truth (ask->room, q, &moment);
  sim_ask_fold (ask, animal, q->day, &state);
  if (sim_ask_forecast (ask, q->animal, q->day, &state, &forecast, &heard))
    {
      for (int i = 0; i < CORE_N_Q; i++)
        moment.q[i] = forecast.days[i];
      moment.law = score_law (&forecast);
      moment.crps = isfinite (moment.y) ? score_crps_law (&moment.law, moment.y) : NAN;
      if (!q->drawn)
        began->p90 = forecast.p90;
      moment.past_range = began->p90 != 0 && q->day > began->p90;
      moment.said_longer = forecast.longer_than_usual;
      moment.was = what_was_known (ask, q, &state, &heard);
      for_baselines (ask, q, &state, &moment);
      moment.width = state.stages.v[state.stages.n - 1].hi - state.stages.v[state.stages.n - 1].lo;
      g_array_append_val (out, moment);
    }
  core_state_clear (&state);
}

void
sim_moments (SimRoom *room, const CoreProfile *general, GArray *out, GArray *lots)
{
  g_autoptr (GArray) asked = questions (room);
  SimAsk ask;

  sim_ask_init (&ask, room, general);
  for (guint i = 0; i < asked->len; i++)
    ask_one (&ask, &g_array_index (asked, Question, i), out);
  sim_lot_moments (&ask, lots);
  sim_ask_clear (&ask);
}

void
sim_moments_print (const GArray *moments)
{
  printf ("room,drawn,was,kind,m,n,sex,to_hide,hid,width,waits,age,after,last,usual,rate,y,y_true,"
          "p05,p10,p25,p50,p75,p90,p95\n");
  for (guint i = 0; i < moments->len; i++)
    {
      const Moment *m = &g_array_index (moments, Moment, i);

      printf ("%d,%d,%u,%s,%d,%d,%d,%d,%d,%.1f,%d,%.1f,%.1f,%.1f,%.1f,%.3f,%.2f,%.2f", m->room,
              m->drawn, m->was, m->kind, m->m, m->n, m->sex, m->to_hide, m->hid, m->width, m->waits,
              m->age, m->after, m->last, m->usual, m->rate, m->y, m->y_true);
      for (int q = 0; q < CORE_N_Q; q++)
        printf (",%.2f", m->q[q]);
      printf ("\n");
    }
}
