/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forecast-room.c — simulated animals: do the ranges hold what they say?
 *
 * Drawn from the model with its default spreads by a generator of its own: number of
 * moults, own pace, stage lengths, looks every one to four days, moults found at the
 * next look, some never entered, dull colour seen before some. The forecast of one
 * evening is held against the truth. Fixed seed.
 */
#include "animals.h"

#include "core/core-forecast.h"

#define START 5000
#define ANIMALS 400 /* of each room */

static guint64 seed;

static double
uniform (void)
{
  guint64 z = (seed += G_GUINT64_CONSTANT (0x9e3779b97f4a7c15));

  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return ((double) ((z ^ (z >> 31)) >> 11) + .5) / 9007199254740992.;
}

static double
normal (void)
{
  return sqrt (-2 * log (uniform ())) * cos (2 * G_PI * uniform ());
}

static int
draw_number (const CoreProfile *profile, int sex)
{
  double u = uniform ();

  for (int n = 1; n <= CORE_MAX_MOULTS; n++)
    if ((u -= profile->n_moults[sex][n]) < 0)
      return n;
  return 7;
}

typedef struct
{
  int sex, n;
  double at[CORE_MAX_MOULTS + 1]; /* evening of moult i; at[0] = hatch */
  gboolean entered[CORE_MAX_MOULTS + 1];
} Life;

/* One pace of warmth; exact lengths in development days. */
static Life
draw_life (const CoreProfile *profile, double rate, double share_missing)
{
  Life life = { .sex = uniform () < .5 ? 0 : 1 };
  double theta = sqrt (.18 * .18 + .1 * .1 + .1 * .1) * normal ();

  life.n = draw_number (profile, life.sex);
  life.at[0] = START + uniform ();
  life.entered[0] = TRUE;
  for (int m = 0; m < life.n; m++)
    {
      double extra,
        days = core_profile_stage_days (profile, m, life.n,
                                        life.sex ? CORE_SEX_FEMALE : CORE_SEX_MALE, &extra);
      double sd = sqrt (.19 * .19 + extra * extra);
      life.at[m + 1] = life.at[m] + days * exp (theta + sd * normal ()) / rate;
      life.entered[m + 1] = m + 1 == life.n || uniform () >= share_missing;
    }
  return life;
}

/* What the keeper saw until `today`, from the hatch or from an arrival in the middle of a
 * stage that is known; false when it is adult already. */
static gboolean
keep (const Life *life,
      CoreDay arrival,
      CoreDay today,
      double gap,
      gboolean signs,
      CoreState *state)
{
  double look = arrival > life->at[0] ? arrival : floor (life->at[0]) + 1;
  int m = 0, entered = 0;
  gboolean dull = FALSE;

  made_init (state, CORE_SUBJECT_ANIMAL);
  while (m < life->n && life->at[m + 1] <= look)
    m = ++entered;
  if (m >= life->n)
    return FALSE;
  made_stage (state, arrival > life->at[0] ? CORE_START_ACQUIRED : CORE_START_HATCHED, look - 1,
              look);
  while (TRUE)
    {
      double before = look;
      look += 1 + floor (gap * uniform ());
      if (look > today)
        break;
      made_look (state, (CoreDay) look);
      while (m < life->n && life->at[m + 1] <= look)
        {
          m++;
          dull = FALSE;
          if (m >= life->n)
            return FALSE;
          if (!life->entered[m])
            continue;
          made_stage (state, CORE_START_MOULTED, before, look);
          state->signs.n = 0;
          entered++;
        }
      if (signs && !dull && m < life->n && look > life->at[m + 1] - 1.7 * exp (.43 * normal ()) &&
          uniform () < .5)
        {
          dull = TRUE;
          state->signs.n = 0;
          made_sign (state, CORE_SIGN_DULL, (CoreDay) look, before, 1);
          state->looks.n--; /* this look is there already */
        }
    }
  made_moults (state, entered, CORE_BASIS_COUNTED);
  return TRUE;
}

/* The moult that will be entered next. */
static double
truth (const Life *life, const CoreState *state)
{
  double last = state->stages.v[state->stages.n - 1].hi;

  for (int m = 1; m <= life->n; m++)
    if (life->at[m] > last && life->entered[m])
      return life->at[m];
  return NAN;
}

typedef struct
{
  double rate;    /* development a day */
  double gap;     /* looks are 1 to `gap` days apart */
  double missing; /* share of moults never entered */
  gboolean signs;
  gboolean arrives; /* in the middle of its life, stage known */
} Room;

typedef struct
{
  int n, in80, below10, above90, in50, adult, adult_n;
} Tally;

static void
count (const Life *life, const CoreState *state, CoreDay today, const CoreForecast *f, Tally *tally)
{
  double days = truth (life, state) - today, adult = life->at[life->n];

  tally->n++;
  tally->below10 += days < f->days[CORE_Q10];
  tally->above90 += days > f->days[CORE_Q90];
  tally->in80 += days >= f->days[CORE_Q10] && days <= f->days[CORE_Q90];
  tally->in50 += days >= f->days[CORE_Q25] && days <= f->days[CORE_Q75];
  tally->adult_n += f->has_adult;
  tally->adult += f->has_adult && adult <= f->adult_p90 && adult > f->adult_p10 - 1;
}

static void
judge (const Room *room,
       const CoreProfile *profile,
       const CoreWarmth *warmth,
       int wanted,
       Tally *tally)
{
  CoreForecastOptions options = { .no_reasons = true };

  while (tally->n < wanted)
    {
      Life life = draw_life (profile, room->rate, room->missing);
      CoreDay today = START + 2 + (CoreDay) (uniform () * (life.at[life.n] - START - 3));
      CoreDay arrival = START;
      CoreState state;
      CoreForecast f;
      CoreForecastInput in = { .state = &state,
                               .profile = profile,
                               .warmth = warmth,
                               .today = today,
                               .p_male = .5,
                               .options = &options };

      if (room->arrives)
        arrival = MAX (START + 2, today - (CoreDay) (25 * uniform ()));
      if (keep (&life, arrival, today, room->gap, room->signs, &state))
        {
          g_assert_cmpint (core_forecast (&in, &f), ==, CORE_OK);
          g_assert_cmpint (f.why, ==, CORE_NO_FORECAST_NONE);
          count (&life, &state, today, &f, tally);
        }
      made_clear (&state);
    }
}

static void
test_room (gconstpointer data)
{
  const Room *room = data;
  CoreProfile profile;
  CoreWarmth warmth;
  Tally tally = { 0 };

  seed = 11;
  core_profile_init (&profile);
  made_warmth (&warmth, START - 10, START + 1200, room->rate, false);
  judge (room, &profile, &warmth, ANIMALS, &tally);
  g_test_message ("80 %%: %.3f (below %.3f, above %.3f)  50 %%: %.3f  adult 80 %%: %.3f",
                  tally.in80 / (double) tally.n, tally.below10 / (double) tally.n,
                  tally.above90 / (double) tally.n, tally.in50 / (double) tally.n,
                  tally.adult / (double) tally.adult_n);
  g_assert_cmpfloat (tally.in80, >=, .70 * tally.n);
  g_assert_cmpfloat (tally.in80, <=, .90 * tally.n);
  g_assert_cmpfloat (tally.in50, >=, .40 * tally.n);
  g_assert_cmpfloat (tally.in50, <=, .60 * tally.n);
  g_assert_cmpfloat (tally.adult, >=, .70 * tally.adult_n);
  core_profile_clear (&profile);
  made_warmth_clear (&warmth);
}

static const Room daily = { .8, 1, 0, FALSE, FALSE };
static const Room irregular = { .9, 4, .05, FALSE, FALSE };
static const Room with_signs = { 1, 2, .05, TRUE, FALSE };
static const Room arrivals = { 1, 2, 0, FALSE, TRUE };

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/forecast-room/daily-looks", &daily, test_room);
  g_test_add_data_func ("/forecast-room/irregular-looks", &irregular, test_room);
  g_test_add_data_func ("/forecast-room/with-signs", &with_signs, test_room);
  g_test_add_data_func ("/forecast-room/arrivals", &arrivals, test_room);
  return g_test_run ();
}
