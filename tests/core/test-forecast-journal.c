/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forecast-journal.c — from entries to forecast: which entry moves it, and which
 * must not. */
#include "journal.h"

#include <math.h>

#include "core/core-forecast.h"

#define TODAY 20000

static CoreForecast
forecast_of (const Journal *journal)
{
  CoreForecastOptions options = { .no_reasons = true };
  CoreForecast out;
  CoreProfile profile;
  CoreWarmth warmth;
  CoreState state;
  CoreDay from, to;

  core_state_init (&state);
  core_profile_init (&profile);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  core_forecast_span (&state, TODAY, &from, &to);
  g_assert_cmpint (core_warmth_build (&state, &profile, NULL, NULL, from, TODAY, to, &warmth), ==,
                   CORE_OK);
  g_assert_cmpint (core_forecast (&(CoreForecastInput){ .state = &state,
                                                        .profile = &profile,
                                                        .warmth = &warmth,
                                                        .today = TODAY,
                                                        .p_male = .5,
                                                        .options = &options },
                                  &out),
                   ==, CORE_OK);
  core_warmth_clear (&warmth);
  core_profile_clear (&profile);
  core_state_clear (&state);
  return out;
}

/* Hatched 40 days ago, moulted twice, each found the day after a look. */
static Journal *
third_stage (void)
{
  Journal *journal = journal_new ();

  journal_add (journal, TODAY - 40, "hatched");
  journal_add (journal, TODAY - 27, "looked");
  journal_add (journal, TODAY - 26, "moulted|outcome=good");
  journal_add (journal, TODAY - 13, "looked");
  journal_add (journal, TODAY - 12, "moulted|outcome=good");
  journal_add (journal, TODAY - 4, "looked");
  return journal;
}

static void
add_all (Journal *journal, const char *const *entries, const int *ago)
{
  for (gsize i = 0; i < 4 && entries[i]; i++)
    journal_add (journal, TODAY - ago[i], entries[i]);
}

typedef struct
{
  const char *name;
  const char *with[4];
  int with_ago[4];
  const char *without[4]; /* compared with these instead */
  int without_ago[4];
  int way; /* 0 the very same, 1 later, -1 earlier */
} Row;

static const Row rows[] = {
  { "misted for all", { "misted|bulk" }, { 0 }, { NULL }, { 0 }, 0 },
  { "flies tipped in for all",
    { "fed|prey=melanogaster|n=10|outcome=offered|bulk", "misted|bulk" },
    { 0, 1 },
    { NULL },
    { 0 },
    0 },
  { "offered, by hand", { "fed|prey=hydei|outcome=offered" }, { 0 }, { NULL }, { 0 }, 0 },
  { "cleaned, noted", { "cleaned", "note|text=warm night" }, { 0, 0 }, { NULL }, { 0 }, 0 },
  { "looked at", { "looked" }, { 0 }, { NULL }, { 0 }, 1 },
  { "took prey: seen alive in its old skin",
    { "fed|prey=hydei|outcome=taken" },
    { 0 },
    { NULL },
    { 0 },
    1 },
  { "refused once", { "fed|prey=hydei|outcome=refused" }, { 0 }, { "looked" }, { 0 }, -1 },
  { "refused twice",
    { "fed|prey=hydei|outcome=refused", "fed|prey=hydei|outcome=refused" },
    { 1, 0 },
    { "looked", "fed|prey=hydei|outcome=refused" },
    { 1, 0 },
    -1 },
  { "a meal taken ends the run",
    { "fed|prey=hydei|outcome=refused", "fed|prey=hydei|outcome=taken" },
    { 1, 0 },
    { "looked", "looked" },
    { 1, 0 },
    0 },
  { "refused, but thin",
    { "belly|score=1", "fed|prey=hydei|outcome=refused" },
    { 1, 0 },
    { "looked", "looked" },
    { 1, 0 },
    0 },
  { "dull", { "sign|sign=dull" }, { 0 }, { "looked" }, { 0 }, -1 },
  { "two signs of a day",
    { "sign|sign=dull", "sign|sign=sluggish" },
    { 0, 0 },
    { "sign|sign=dull" },
    { 0 },
    -1 },
  { "moulted", { "moulted|outcome=good" }, { 0 }, { "looked" }, { 0 }, 1 },
};

static void
test_entry (gconstpointer data)
{
  const Row *row = data;
  g_autoptr (Journal) with = third_stage ();
  g_autoptr (Journal) without = third_stage ();
  CoreForecast a, b;

  add_all (with, row->with, row->with_ago);
  add_all (without, row->without, row->without_ago);
  a = forecast_of (with);
  b = forecast_of (without);
  g_assert_cmpint (a.why, ==, CORE_NO_FORECAST_NONE);
  if (row->way == 0)
    {
      g_assert_cmpmem (a.days, sizeof a.days, b.days, sizeof b.days);
      g_assert_cmpint (a.range_lo, ==, b.range_lo);
      g_assert_cmpint (a.last_look, ==, b.last_look);
    }
  else
    g_assert_cmpfloat (row->way * (a.days[CORE_Q50] - b.days[CORE_Q50]), >, .15);
}

static void
test_ends (void)
{
  static const struct
  {
    const char *entry;
    CoreNoForecast why;
  } ends[] = {
    { "died", CORE_NO_FORECAST_DEAD },
    { "left|how=sold", CORE_NO_FORECAST_LEFT },
    { "escaped", CORE_NO_FORECAST_ESCAPED },
    { "moulted|to=adult", CORE_NO_FORECAST_ADULT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      g_autoptr (Journal) journal = third_stage ();
      journal_add (journal, TODAY, ends[i].entry);
      g_assert_cmpint (forecast_of (journal).why, ==, ends[i].why);
    }
}

static void
test_subadult_seen (void)
{
  g_autoptr (Journal) journal = third_stage ();
  CoreForecast before = forecast_of (journal), seen;

  journal_add (journal, TODAY, "stage|seen=subadult");
  seen = forecast_of (journal);
  g_assert_cmpfloat (before.p_next_is_adult, <, .2);
  g_assert_cmpfloat (seen.p_next_is_adult, >, .99);
}

/* An arrival without any past is a wide range from the first day. */
static void
test_arrival (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreForecast f;

  g_assert_cmpint (forecast_of (journal).why, ==, CORE_NO_FORECAST_NO_START);
  journal_add (journal, TODAY - 1, "acquired|stage=L4|scheme=1");
  f = forecast_of (journal);
  g_assert_cmpint (f.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (f.days[CORE_Q90] - f.days[CORE_Q10], >, 12);
  g_assert_true (isnan (f.stage_began_hi));
  /* its number of moults is not known, that it is sub-adult is */
  journal_add (journal, TODAY, "stage|seen=subadult");
  f = forecast_of (journal);
  g_assert_cmpfloat (f.p_next_is_adult, >, .99);
}

/* Nothing is known but that it came, sub-adult. */
static void
test_subadult_arrives (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreForecast f;

  journal_add (journal, TODAY - 1, "acquired");
  f = forecast_of (journal);
  g_assert_cmpint (f.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (f.p_next_is_adult, <, .5);
  journal_add (journal, TODAY, "stage|seen=subadult");
  f = forecast_of (journal);
  g_assert_cmpint (f.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (f.p_next_is_adult, >, .99);
  g_assert_cmpint (f.adult_p90, ==, f.p90);
}

/* One out of a lot that was joined from two stages: of 100,000 n were of the lower one. */
static CoreForecast
out_of_two (const char *joined)
{
  g_autoptr (Journal) journal = journal_new ();

  journal_add (journal, TODAY - 40, "hatched|bulk");
  journal_add (journal, TODAY - 4, "stage|seen=nymph|moults=2|bulk")->round = test_id (900);
  journal_add (journal, TODAY - 4, joined)->round = test_id (900);
  journal_add (journal, TODAY - 3, "looked");
  return forecast_of (journal);
}

/* Its forecast is that of both by their share: neither that of the lower stage nor that of the upper. */
static void
test_out_of_two (void)
{
  CoreForecast lower = out_of_two ("joined|n=100000|bulk"), upper = out_of_two ("joined|n=0|bulk");
  CoreForecast most = out_of_two ("joined|n=80000|bulk"), few = out_of_two ("joined|n=20000|bulk");

  g_assert_cmpfloat (lower.days[CORE_Q50], <, most.days[CORE_Q50]);
  g_assert_cmpfloat (most.days[CORE_Q50], <, few.days[CORE_Q50]);
  g_assert_cmpfloat (few.days[CORE_Q50], <, upper.days[CORE_Q50]);
  g_assert_cmpfloat (lower.within7, >, most.within7);
  g_assert_cmpfloat (most.within7, >, upper.within7);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *path = g_strdup_printf ("/forecast-journal/%s", rows[i].name);
      g_test_add_data_func (path, &rows[i], test_entry);
    }
  g_test_add_func ("/forecast-journal/ends", test_ends);
  g_test_add_func ("/forecast-journal/subadult-seen", test_subadult_seen);
  g_test_add_func ("/forecast-journal/arrival", test_arrival);
  g_test_add_func ("/forecast-journal/subadult-arrives", test_subadult_arrives);
  g_test_add_func ("/forecast-journal/out-of-two", test_out_of_two);
  return g_test_run ();
}
