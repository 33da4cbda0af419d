/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-forecast.c — what forecasts and plans of a collection cost.
 *
 *   bench-forecast [ANIMALS]
 *
 * First milliseconds of one forecast, for kinds of history. Then forecast and plan of 90 days for
 * 10,000 animals (or so many) with a full history, each as the desk computes it for a collection:
 * warmth of its life from the habits of its place, sex, forecast without reasons, plan; on one
 * core, in one run with 10,000 × 61 × 180 calls of exp(), of which it is a multiple. Last what the
 * animals tell of their room. Time is of the processor. Fails only when a forecast is so slow
 * (100 ms) that a collection could not be opened. */
#define _GNU_SOURCE /* sched_setaffinity */
#include "bench-goal.h"

#include "../core/animals.h"
#include "../core/journal.h"

#include <malloc.h>
#include <sched.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

#include "core/core-forecast.h"
#include "core/core-plan.h"
#include "core/core-room.h"

#define TODAY 1000

typedef struct
{
  const char *name;
  int stages;
  bool acquired, unknown, uncertain, wide, factor, no_reasons;
} Row;

static const Row rows[] = {
  { "hatchling", 1 },
  { "fourth stage", 4 },
  { "fourth stage, no reasons", 4, .no_reasons = true },
  { "seventh stage", 7 },
  { "seventh stage, sexes differ", 7, .factor = true },
  { "seventh stage, sexes differ, no reasons", 7, .factor = true, .no_reasons = true },
  { "seventh stage, looked at weekly", 7, .wide = true },
  { "arrived, stage known", 1, .acquired = true },
  { "arrived, stage unknown", 1, .acquired = true, .unknown = true },
  { "arrived, stage unsure, two moults", 3, .acquired = true, .uncertain = true },
};

static void
make (const Row *row, CoreState *state)
{
  double t = TODAY - 6 - 16 * (row->stages - 1);

  made_init (state, CORE_SUBJECT_ANIMAL);
  for (int i = 0; i < row->stages; i++, t += 16)
    made_stage (state,
                i               ? CORE_START_MOULTED
                : row->acquired ? CORE_START_ACQUIRED
                                : CORE_START_HATCHED,
                t - (row->wide ? 7 : 2), t);
  made_moults (state, row->unknown ? -1 : row->stages - 1 + (row->acquired ? 2 : 0),
               row->acquired ? CORE_BASIS_ESTIMATED : CORE_BASIS_COUNTED);
  if (row->uncertain)
    {
      state->moults_p[state->moults] = .6;
      state->moults_p[state->moults - 1] = state->moults_p[state->moults + 1] = .2;
    }
  made_look (state, TODAY - 2);
  made_sign (state, CORE_SIGN_REFUSES, TODAY - 1, TODAY - 2, 2);
}

static double
table_of_histories (void)
{
  CoreProfile profile;
  CoreWarmth warmth;
  double worst = 0;

  made_warmth (&warmth, TODAY - 300, TODAY + 500, .8, true);
  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      CoreForecastOptions options = { .no_reasons = rows[r].no_reasons };
      CoreState state;
      CoreForecast out;
      CoreForecastInput in = { .state = &state,
                               .profile = &profile,
                               .warmth = &warmth,
                               .today = TODAY,
                               .p_male = .3,
                               .options = &options };
      double best = G_MAXDOUBLE;

      core_profile_init (&profile);
      profile.male_factor = rows[r].factor ? .9 : 1;
      make (&rows[r], &state);
      for (int k = 0; k < 12; k++)
        {
          gint64 start = g_get_monotonic_time ();
          g_assert (core_forecast (&in, &out) == CORE_OK);
          best = MIN (best, (double) (g_get_monotonic_time () - start) / 1000);
        }
      g_print ("%-42s %7.2f ms   p10 %.1f p50 %.1f p90 %.1f\n", rows[r].name, best,
               out.days[CORE_Q10], out.days[CORE_Q50], out.days[CORE_Q90]);
      worst = MAX (worst, best);
      made_clear (&state);
      core_profile_clear (&profile);
    }
  made_warmth_clear (&warmth);
  return worst;
}

/* ---- a collection ---- */

#define HISTORIES 40 /* folded; the animals take them in turn */
#define EXP_NODES 61
#define EXP_CELLS 180

static double
processor (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec + (double) now.tv_nsec / 1e9;
}

/* Hatched here, moulted zero to seven times, seen and fed every other day, some refusing now. */
static void
live (guint n, CoreState *out)
{
  g_autoptr (Journal) journal = journal_new ();
  guint moults = n % 8;
  CoreDay hatch = TODAY - 15 * (CoreDay) moults - 3 - (CoreDay) (n % 11), next = hatch + 12;

  journal_seed (n + 1);
  journal_add (journal, hatch, "set|key=species|value=Hierodula membranacea");
  journal_add (journal, hatch, "hatched");
  for (CoreDay day = hatch + 1; day <= TODAY; day++)
    if (day == next && moults > 0)
      {
        moults--;
        next = day + 12 + (CoreDay) journal_draw (7);
        journal_add (journal, day, "moulted");
      }
    else if ((day + (CoreDay) n) % 2 == 0)
      journal_add (journal, day,
                   n % 5 == 0 && day > TODAY - 4 ? "fed|prey=house fly|n=2|outcome=refused"
                                                 : "fed|prey=house fly|n=2|outcome=taken");
  core_state_init (out);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, out);
}

static const CoreState *
shelf (CoreId place, void *data)
{
  (void) place;
  return data;
}

static void
forecast_and_plan (const CoreState *state,
                   const CoreProfile *profile,
                   CoreState *place,
                   CorePlan *plan)
{
  CoreForecastOptions options = { .no_reasons = true };
  CoreForecast forecast;
  CoreSexVerdict verdict;
  CoreWarmth warmth;
  CoreDay from, to;
  CoreForecastInput in = {
    .state = state, .profile = profile, .warmth = &warmth, .today = TODAY, .options = &options
  };
  CorePlanInput ask = { .state = state,
                        .profile = profile,
                        .forecast = &forecast,
                        .verdict = &verdict,
                        .today = TODAY,
                        .from = TODAY,
                        .to = TODAY + 89 };

  core_forecast_span (state, TODAY, &from, &to);
  g_assert (core_warmth_build (state, profile, shelf, place, from, TODAY, to, &warmth) == CORE_OK);
  g_assert (core_sex_of_state (profile, state, &verdict) == CORE_OK);
  in.p_male = verdict.male;
  g_assert (core_forecast (&in, &forecast) == CORE_OK);
  g_assert (forecast.why == CORE_NO_FORECAST_NONE);
  g_assert (core_plan (&ask, plan) == CORE_OK);
  core_sex_verdict_clear (&verdict);
  core_warmth_clear (&warmth);
}

static double
exps (guint animals)
{
  double began = processor ();
  volatile double sum = 0;

  for (guint i = 0; i < animals; i++)
    for (int k = 0; k < EXP_NODES * EXP_CELLS; k++)
      sum += exp (-k * .001);
  return processor () - began;
}

static double
messages (const CoreState *states, const CoreProfile *profile, guint animals)
{
  double began = processor (), y, p;

  for (guint i = 0; i < animals; i++)
    {
      const CoreState *state = &states[i % HISTORIES];
      CoreWarmth warmth;
      CoreDay from, to, day = core_forecast_message_day (state, TODAY);
      CoreForecastInput in = {
        .state = state, .profile = profile, .warmth = &warmth, .today = TODAY, .p_male = .5
      };

      core_forecast_span (state, TODAY, &from, &to);
      g_assert (core_warmth_build (state, profile, NULL, NULL, from, day, day + 31, &warmth) ==
                CORE_OK);
      core_forecast_message (&in, &y, &p);
      core_warmth_clear (&warmth);
    }
  return processor () - began;
}

static void
collection (guint animals)
{
  CoreState *states = g_new0 (CoreState, HISTORIES);
  CoreState place;
  CoreProfile profile;
  CorePlan plan; /* its room is used again and again, as by the desk's agenda */
  struct rusage before, after;
  double began, took, unit;

  core_plan_init (&plan);
  core_profile_init (&profile);
  core_profile_group_defaults (&profile, CORE_GROUP_HARDY);
  profile.general = false; /* of a kind of its own */
  made_init (&place, CORE_SUBJECT_PLACE);
  place.place.day_c = 26;
  place.place.night_c = 22;
  place.place.light_h = 14;
  for (guint i = 0; i < HISTORIES; i++)
    {
      live (i, &states[i]);
      PUSH (states[i].stays, (CoreStay){ .day = 0, .place = place.subject });
    }
  unit = exps (animals);
  getrusage (RUSAGE_SELF, &before);
  began = processor ();
  for (guint i = 0; i < animals; i++)
    forecast_and_plan (&states[i % HISTORIES], &profile, &place, &plan);
  took = processor () - began;
  getrusage (RUSAGE_SELF, &after);
  g_print ("%u animals, forecast and plan of 90 days: %.3f s; %u × %d × %d exp(): %.3f s\n",
           animals, took, animals, EXP_NODES, EXP_CELLS, unit);
  g_print ("ratio %.2f, limit 6; memory grew by %ld KiB at the peak, whatever their number\n",
           took / unit, after.ru_maxrss - before.ru_maxrss);
  bench_goal ("forecast and 90-day plan ÷ animals × 61 × 180 exp()", took / unit, 6);
  g_print ("what they tell of their room: %.3f ms each\n",
           messages (states, &profile, animals) / animals * 1000);
  for (guint i = 0; i < HISTORIES; i++)
    core_state_clear (&states[i]);
  g_free (states);
  core_plan_clear (&plan);
  made_clear (&place);
  core_profile_clear (&profile);
}

int
main (int argc, char **argv)
{
  double worst;
  cpu_set_t set;

  CPU_ZERO (&set);
  CPU_SET (sched_getcpu (), &set);
  if (sched_setaffinity (0, sizeof set, &set) != 0)
    g_printerr ("not bound to one core\n");
  worst = table_of_histories ();
  collection (argc > 1 ? (guint) CLAMP (atoi (argv[1]), 1, 1000000) : 10000);
  bench_goal ("slowest single forecast, ms", worst, 100);
  return bench_goals_end ();
}
