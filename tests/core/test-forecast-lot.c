/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forecast-lot.c — first, median and last moult of a lot. */
#include "animals.h"
#include "journal.h"

#include <math.h>
#include <stdlib.h>

#include "core/core-forecast-lot.h"

#define TODAY 20500

typedef struct
{
  CoreState state;
  CoreProfile profile;
  CoreWarmth warmth;
} Case;

/* A lot of `n`, hatched so many days ago, at 25 °C, nothing more. */
static void
begin (Case *self, Journal *journal, int days, const char *count)
{
  core_state_init (&self->state);
  core_profile_init (&self->profile);
  journal_add (journal, TODAY - days, "hatched");
  journal_add (journal, TODAY - days, count);
  journal_fold (journal, CORE_SUBJECT_LOT, &self->state);
  made_warmth (&self->warmth, TODAY - 100, TODAY + 500, 1, false);
}

/* One that came today, as L1; when it hatched nobody knows. */
static void
begin_bought (Case *self, Journal *journal, const char *count)
{
  core_state_init (&self->state);
  core_profile_init (&self->profile);
  journal_add (journal, TODAY, "acquired|stage=L1|scheme=1");
  journal_add (journal, TODAY, count);
  journal_fold (journal, CORE_SUBJECT_LOT, &self->state);
  made_warmth (&self->warmth, TODAY - 100, TODAY + 500, 1, false);
}

static void
end (Case *self)
{
  core_state_clear (&self->state);
  core_profile_clear (&self->profile);
  made_warmth_clear (&self->warmth);
}

static CoreLotForecast
forecast (Case *self)
{
  CoreForecastInput in = { .state = &self->state,
                           .profile = &self->profile,
                           .warmth = &self->warmth,
                           .today = TODAY,
                           .p_male = .5 };
  CoreLotForecast out;

  g_assert_cmpint (core_forecast_lot (&in, &out), ==, CORE_OK);
  return out;
}

/* A lot of one is an animal. */
static void
test_one (void)
{
  g_autoptr (Journal) journal = journal_new ();
  Case c;
  CoreLotForecast lot;
  CoreForecast animal;
  CoreForecastOptions options = { .no_reasons = true, .no_adult = true, .no_missing_moult = true };
  CoreForecastInput in = {
    .profile = &c.profile, .warmth = &c.warmth, .today = TODAY, .p_male = .5, .options = &options
  };
  CoreState alone;

  begin (&c, journal, 0, "recounted|n=1");
  lot = forecast (&c);
  core_state_init (&alone);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &alone);
  in.state = &alone;
  g_assert_cmpint (core_forecast (&in, &animal), ==, CORE_OK);
  g_assert_cmpint (lot.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat_with_epsilon (lot.first.days[0], animal.days[CORE_Q10], .2);
  g_assert_cmpfloat_with_epsilon (lot.first.days[1], animal.days[CORE_Q50], .2);
  g_assert_cmpfloat_with_epsilon (lot.first.days[2], animal.days[CORE_Q90], .3);
  for (int q = 0; q < 3; q++)
    {
      g_assert_cmpfloat_with_epsilon (lot.median.days[q], lot.first.days[q], 1e-9);
      g_assert_cmpfloat_with_epsilon (lot.last.days[q], lot.first.days[q], 1e-9);
    }
  core_state_clear (&alone);
  end (&c);
}

/* A moult that was entered today begins the stage that is asked about: that one of the lot may
 * moult some days after today takes nothing from it. */
static void
test_moulted_today (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreLotForecast lot;
  Case c;

  journal_add (journal, TODAY - 1, "looked");
  journal_add (journal, TODAY, "moulted");
  begin (&c, journal, 11, "recounted|n=14");
  lot = forecast (&c);
  g_assert_cmpint (lot.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (lot.median.days[0], >, 3);
  g_assert_cmpfloat (lot.median.days[2], <, 20);
  end (&c);
}

/* The more there are, the sooner the first and the later the last; half of them stays. */
static void
test_more_of_them (void)
{
  static const char *const counts[] = { "recounted|n=5", "recounted|n=40", "recounted|n=300" };
  CoreLotForecast before = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      Case c;
      CoreLotForecast lot;

      begin (&c, journal, 0, counts[i]);
      lot = forecast (&c);
      for (int q = 0; q < 3; q++)
        {
          g_assert_cmpfloat (lot.first.days[q], <, lot.median.days[q]);
          g_assert_cmpfloat (lot.median.days[q], <, lot.last.days[q]);
          if (i == 0)
            continue;
          g_assert_cmpfloat (lot.first.days[q], <, before.first.days[q]);
          g_assert_cmpfloat (lot.last.days[q], >, before.last.days[q]);
        }
      if (i > 0)
        g_assert_cmpfloat_with_epsilon (lot.median.days[1], before.median.days[1], .5);
      before = lot;
      end (&c);
    }
}

/* An estimate keeps its doubt: wider than the count, not elsewhere. */
static void
test_about (void)
{
  g_autoptr (Journal) counted = journal_new (), about = journal_new ();
  Case a, b;
  CoreLotForecast x, y;

  begin (&a, counted, 0, "recounted|n=100");
  begin (&b, about, 0, "recounted|n=100|counted=no");
  x = forecast (&a);
  y = forecast (&b);
  g_assert_false (x.about);
  g_assert_true (y.about);
  g_assert_cmpfloat (y.last.days[2] - y.last.days[0], >, x.last.days[2] - x.last.days[0]);
  g_assert_cmpfloat_with_epsilon (x.last.days[1], y.last.days[1], .5);
  end (&a);
  end (&b);
}

/* A look at the lot in its old skin moves half of it later, and its first may have been. */
static void
test_look (void)
{
  g_autoptr (Journal) journal = journal_new ();
  Case c;
  CoreLotForecast before, after;

  begin (&c, journal, 14, "recounted|n=60");
  before = forecast (&c);
  journal_add (journal, TODAY, "looked");
  journal_fold (journal, CORE_SUBJECT_LOT, &c.state);
  after = forecast (&c);
  g_assert_cmpfloat (after.median.days[1], >, before.median.days[1]);
  g_assert_cmpfloat (after.median.days[1], >, 0);
  g_assert_cmpfloat (after.first.days[0], <, after.median.days[0]);
  end (&c);
}

/* A moult of the lot counts from its own day on: what comes next is the next stage. */
static void
test_moulted (void)
{
  g_autoptr (Journal) journal = journal_new ();
  Case c;
  CoreLotForecast before, after;

  begin (&c, journal, 12, "recounted|n=60");
  before = forecast (&c);
  journal_add (journal, TODAY, "moulted");
  journal_fold (journal, CORE_SUBJECT_LOT, &c.state);
  after = forecast (&c);
  g_assert_cmpint (after.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (after.median.days[1], >, before.median.days[1] + 4);
  g_assert_cmpfloat (after.median.days[1], >, 5);
  end (&c);
}

/* Found moulted after weeks without a look: whenever that moult was, the next one comes after today. */
static void
test_found_moulted (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreLotForecast lot;
  Case c;

  begin (&c, journal, 22, "recounted|n=2");
  journal_add (journal, TODAY, "moulted");
  journal_fold (journal, CORE_SUBJECT_LOT, &c.state);
  lot = forecast (&c);
  g_assert_cmpint (lot.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (lot.first.days[0], >=, 0);
  g_assert_cmpfloat (lot.median.days[1], >, 0);
  end (&c);
}

/* Some of it has moulted: the forecast is of the others, none of which had by then; that many have says
 * that the rest are near, that few have that they are not. */
static void
test_some_moulted (void)
{
  static const char *const some[] = { "moulted|n=6", "moulted|n=45" };
  double few = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (some); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreLotForecast lot;
      Case c;

      begin (&c, journal, 11, "recounted|n=60");
      journal_add (journal, TODAY - 1, some[i]);
      journal_fold (journal, CORE_SUBJECT_LOT, &c.state);
      lot = forecast (&c);
      g_assert_cmpint (lot.why, ==, CORE_NO_FORECAST_NONE);
      g_assert_cmpint (lot.moulted, ==, i == 0 ? 6 : 45);
      g_assert_cmpint (lot.n, ==, 60 - lot.moulted);
      g_assert_cmpfloat (lot.first.days[0], >=, -1);
      g_assert_cmpfloat (lot.first.days[1], <, lot.median.days[1]);
      g_assert_cmpfloat (lot.median.days[1], <, lot.last.days[1]);
      if (i == 0)
        few = lot.median.days[1];
      else
        g_assert_cmpfloat (lot.median.days[1], <, few - .5);
      end (&c);
    }
}

/* A cold lot is not given the range of the rare case that one of it moults. */
static void
test_standstill (void)
{
  for (int cold = 0; cold < 2; cold++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreLotForecast lot;
      Case c;

      begin (&c, journal, 3, "recounted|n=60");
      if (cold)
        {
          made_warmth_clear (&c.warmth);
          made_warmth (&c.warmth, TODAY - 100, TODAY + 500, .01, true);
        }
      lot = forecast (&c);
      g_assert_cmpint (lot.still.why, ==, cold ? CORE_STILL_COLD : CORE_STILL_NOT);
      end (&c);
    }
}

static void
test_nothing_to_come (void)
{
  static const struct
  {
    const char *entry;
    CoreNoForecast why;
  } rows[] = { { "died", CORE_NO_FORECAST_DEAD },
               { "died|n=60", CORE_NO_FORECAST_DEAD },
               { "left", CORE_NO_FORECAST_LEFT },
               { "escaped", CORE_NO_FORECAST_ESCAPED },
               { "stage|seen=adult", CORE_NO_FORECAST_ADULT } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      Case c;

      begin (&c, journal, 14, "recounted|n=60");
      journal_add (journal, TODAY, rows[i].entry);
      journal_fold (journal, CORE_SUBJECT_LOT, &c.state);
      g_assert_cmpint (forecast (&c).why, ==, rows[i].why);
      end (&c);
    }
}

/* ---- do the ranges hold what they say? ---- */

static uint64_t prng = UINT64_C (0x2545f4914f6cdd1d);

static double
uniform (void)
{
  prng ^= prng >> 12;
  prng ^= prng << 25;
  prng ^= prng >> 27;
  return ((double) ((prng * UINT64_C (2685821657736338717)) >> 11) + .5) / 9007199254740992.;
}

static double
normal (void)
{
  return sqrt (-2 * log (uniform ())) * cos (2 * acos (-1) * uniform ());
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

#define LOTS 600
#define SIZE 50

/* Lots drawn as models say: what is shared, what is each one's own, and chance; of these the
 * first, the middle and the last fall into the 10–90 % range about eight times in ten. */
static void
test_calibration (void)
{
  g_autoptr (Journal) journal = journal_new ();
  Case c;
  CoreLotForecast lot;
  const CoreLotWhen *when[3];
  int inside[3] = { 0 };
  double mu, shared_sd;

  begin (&c, journal, 0, "recounted|n=50");
  lot = forecast (&c);
  when[0] = &lot.first;
  when[1] = &lot.median;
  when[2] = &lot.last;
  mu = log (core_profile_stage_days (&c.profile, 0, 8, CORE_SEX_FEMALE, NULL));
  shared_sd = hypot (hypot (c.profile.sd_rho, c.profile.sd_lambda),
                     core_profile_sd_medians (&c.profile));
  for (int i = 0; i < LOTS; i++)
    {
      double days[SIZE], shared = shared_sd * normal ();
      double found[3];

      for (int k = 0; k < SIZE; k++)
        days[k] = exp (mu + shared + c.profile.sd_eta * normal () + c.profile.sd_eps * normal ());
      qsort (days, SIZE, sizeof *days, compare_doubles);
      found[0] = days[0];
      found[1] = days[(SIZE + 1) / 2 - 1];
      found[2] = days[SIZE - 1];
      for (int w = 0; w < 3; w++)
        inside[w] += found[w] >= when[w]->days[0] - .5 && found[w] <= when[w]->days[2] + .5;
    }
  for (int w = 0; w < 3; w++)
    {
      g_test_message ("%d: %.3f inside", w, (double) inside[w] / LOTS);
      g_assert_cmpfloat ((double) inside[w] / LOTS, >=, .74);
      g_assert_cmpfloat ((double) inside[w] / LOTS, <=, .93);
    }
  end (&c);
}

/* ---- a lot that came in the middle of its stage ---- */

static CoreForecast
forecast_of_one (Case *self, Journal *journal)
{
  CoreForecastOptions options = { .no_reasons = true, .no_adult = true, .no_missing_moult = true };
  CoreState alone;
  CoreForecastInput in = { .state = &alone,
                           .profile = &self->profile,
                           .warmth = &self->warmth,
                           .today = TODAY,
                           .p_male = .5,
                           .options = &options };
  CoreForecast out;

  core_state_init (&alone);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &alone);
  g_assert_cmpint (core_forecast (&in, &out), ==, CORE_OK);
  core_state_clear (&alone);
  return out;
}

/* Bought, a lot of one is what an animal is. */
static void
test_bought_one (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreLotForecast lot;
  CoreForecast animal;
  Case c;

  begin_bought (&c, journal, "recounted|n=1");
  lot = forecast (&c);
  animal = forecast_of_one (&c, journal);
  g_assert_cmpint (lot.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat_with_epsilon (lot.median.days[0], animal.days[CORE_Q10], .4);
  g_assert_cmpfloat_with_epsilon (lot.median.days[1], animal.days[CORE_Q50], .5);
  g_assert_cmpfloat_with_epsilon (lot.median.days[2], animal.days[CORE_Q90], .7);
  end (&c);
}

/* That a clutch hatched together, nobody knows when, leaves all of it as much in doubt as one: many
 * of them do not make it sharper. */
static void
test_bought (void)
{
  static const char *const counts[] = { "recounted|n=20", "recounted|n=140",
                                        "recounted|n=140|counted=no" };

  for (gsize i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreLotForecast lot;
      CoreForecast animal;
      double span;
      Case c;

      begin_bought (&c, journal, counts[i]);
      lot = forecast (&c);
      animal = forecast_of_one (&c, journal);
      span = animal.days[CORE_Q90] - animal.days[CORE_Q10];
      g_test_message ("one %.1f %.1f %.1f; first %.1f %.1f %.1f; half %.1f %.1f %.1f; last %.1f %.1f %.1f",
                      animal.days[CORE_Q10], animal.days[CORE_Q50], animal.days[CORE_Q90],
                      lot.first.days[0], lot.first.days[1], lot.first.days[2], lot.median.days[0],
                      lot.median.days[1], lot.median.days[2], lot.last.days[0], lot.last.days[1],
                      lot.last.days[2]);
      g_assert_cmpfloat (lot.first.days[0], >=, 0);
      /* Each in doubt by itself, the first of 140 would span a fiftieth of that. */
      g_assert_cmpfloat (lot.first.days[2] - lot.first.days[0], >, .35 * span);
      g_assert_cmpfloat (lot.median.days[2] - lot.median.days[0], >, .7 * span);
      g_assert_cmpfloat_with_epsilon (lot.median.days[1], animal.days[CORE_Q50], 2);
      g_assert_cmpfloat (lot.first.days[1], <, lot.median.days[1]);
      g_assert_cmpfloat (lot.median.days[1], <, lot.last.days[1]);
      end (&c);
    }
}

/* A week in its old skin makes it an old one; that it hatched in the last days, a young one. */
static void
test_bought_seen (void)
{
  g_autoptr (Journal) bought = journal_new (), kept = journal_new (), hatched = journal_new ();
  CoreLotForecast plain, looked, young;
  Case c;

  begin_bought (&c, bought, "recounted|n=140");
  plain = forecast (&c);
  end (&c);
  journal_add (kept, TODAY - 7, "acquired|stage=L1|scheme=1");
  journal_add (kept, TODAY, "looked");
  begin_bought (&c, kept, "recounted|n=140");
  g_assert_cmpuint (c.state.stages.n, ==, 1);
  c.state.stages.v[0].hi = TODAY - 7;
  looked = forecast (&c);
  end (&c);
  begin (&c, hatched, 0, "recounted|n=140");
  c.state.stages.v[0].lo = TODAY - 4;
  young = forecast (&c);
  end (&c);
  g_assert_cmpfloat (looked.median.days[1], <, plain.median.days[1]);
  g_assert_cmpfloat (looked.median.days[1], >, 0);
  g_assert_cmpfloat (young.median.days[1], >, plain.median.days[1] + 2);
  g_assert_cmpfloat (young.first.days[2] - young.first.days[0], >, 4);
}

/* Lots that came at an age at which half of them had not moulted, or nearly none had. */
static void
test_bought_calibration (void)
{
  g_autoptr (Journal) journal = journal_new ();
  Case c;
  CoreLotForecast lot;
  int inside[2] = { 0 };
  double mu, shared_sd;

  begin_bought (&c, journal, "recounted|n=50");
  lot = forecast (&c);
  mu = log (core_profile_stage_days (&c.profile, 0, 8, CORE_SEX_FEMALE, NULL));
  shared_sd = hypot (hypot (c.profile.sd_rho, c.profile.sd_lambda),
                     core_profile_sd_medians (&c.profile));
  for (int i = 0; i < LOTS; i++)
    {
      double days[SIZE], shared = shared_sd * normal (), age, half, few;
      int moulted = 0;

      for (int k = 0; k < SIZE; k++)
        days[k] = exp (mu + shared + c.profile.sd_eta * normal () + c.profile.sd_eps * normal ());
      qsort (days, SIZE, sizeof *days, compare_doubles);
      half = days[(SIZE + 1) / 2 - 1];
      few = days[SIZE / 20 - 1];
      age = uniform () * (uniform () < half / (half + few) ? half : few);
      while (days[moulted] <= age)
        moulted++;
      half = days[moulted + (SIZE - moulted + 1) / 2 - 1] - age;
      inside[0] += days[moulted] - age >= lot.first.days[0] - .5 &&
                   days[moulted] - age <= lot.first.days[2] + .5;
      inside[1] += half >= lot.median.days[0] - .5 && half <= lot.median.days[2] + .5;
    }
  for (int w = 0; w < 2; w++)
    {
      g_test_message ("%d: %.3f inside", w, (double) inside[w] / LOTS);
      g_assert_cmpfloat ((double) inside[w] / LOTS, >=, .74);
      g_assert_cmpfloat ((double) inside[w] / LOTS, <=, .93);
    }
  end (&c);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/forecast-lot/one", test_one);
  g_test_add_func ("/core/forecast-lot/moulted-today", test_moulted_today);
  g_test_add_func ("/core/forecast-lot/more-of-them", test_more_of_them);
  g_test_add_func ("/core/forecast-lot/about", test_about);
  g_test_add_func ("/core/forecast-lot/look", test_look);
  g_test_add_func ("/core/forecast-lot/moulted", test_moulted);
  g_test_add_func ("/core/forecast-lot/found-moulted", test_found_moulted);
  g_test_add_func ("/core/forecast-lot/some-moulted", test_some_moulted);
  g_test_add_func ("/core/forecast-lot/standstill", test_standstill);
  g_test_add_func ("/core/forecast-lot/nothing-to-come", test_nothing_to_come);
  g_test_add_func ("/core/forecast-lot/calibration", test_calibration);
  g_test_add_func ("/core/forecast-lot/bought-one", test_bought_one);
  g_test_add_func ("/core/forecast-lot/bought", test_bought);
  g_test_add_func ("/core/forecast-lot/bought-seen", test_bought_seen);
  g_test_add_func ("/core/forecast-lot/bought-calibration", test_bought_calibration);
  return g_test_run ();
}
