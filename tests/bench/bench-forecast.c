/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-forecast.c — milliseconds of one forecast, for kinds of history. Prints; fails
 * only when a forecast is so slow (100 ms) that a collection could not be opened. */
#include "../core/animals.h"

#include "core/core-forecast.h"

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

int
main (void)
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
  return worst < 100 ? 0 : 1;
}
