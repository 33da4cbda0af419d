/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forecast-said.c — what a forecast gives as its reasons, which sex it takes for granted,
 * what it makes of hostile input, and what it tells to others of its lot. */
#include "forecast-case.h"

static const CoreReason *
reason (const CoreForecast *f, const char *rule)
{
  for (gsize i = 0; i < f->n_reasons; i++)
    if (strcmp (f->reasons[i].rule, rule) == 0)
      return &f->reasons[i];
  return NULL;
}

static void
test_reasons (void)
{
  Case c;
  CoreForecast with, without;
  const CoreReason *r;

  case_init (&c);
  third_stage (&c, 10);
  made_look (&c.state, TODAY - 1);
  without = forecast (&c);
  made_sign (&c.state, CORE_SIGN_DULL, TODAY, TODAY - 1, 1);
  with = forecast (&c);
  r = reason (&with, "forecast.signs");
  g_assert_nonnull (r);
  g_assert_cmpint (r->code, ==, CORE_SIGN_DULL);
  g_assert_cmpuint (r->n_entries, ==, 1);
  g_assert_true (r->has_shift);
  g_assert_cmpfloat (r->shift_days, <, -1);
  r = reason (&with, "forecast.own_stages");
  g_assert_nonnull (r);
  g_assert_cmpfloat_with_epsilon (r->value, 12, 1e-9);
  g_assert_cmpuint (r->n_entries, ==, 2);
  r = reason (&with, "forecast.warmth");
  g_assert_nonnull (r);
  g_assert_cmpfloat_with_epsilon (r->value, 25, 1e-9);
  g_assert_cmpfloat_with_epsilon (r->shift_days, 0, .1); /* it stands at 25 °C */
  g_assert_nonnull (reason (&without, "forecast.last_look"));
  c.options.no_reasons = true;
  g_assert_cmpuint (forecast (&c).n_reasons, ==, 0);
  g_assert_cmpfloat (forecast (&c).days[CORE_Q50], ==, with.days[CORE_Q50]);
  case_clear (&c);
}

static void
test_cool_shelf_is_a_reason (void)
{
  Case c;
  CoreForecast f;
  const CoreReason *r;

  case_init (&c);
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, TODAY - 300, TODAY + 500, 11. / 13, false);
  third_stage (&c, 3);
  made_look (&c.state, TODAY);
  f = forecast (&c);
  r = reason (&f, "forecast.warmth");
  g_assert_nonnull (r);
  g_assert_cmpfloat_with_epsilon (r->value, 23, 1e-9);
  g_assert_cmpfloat (r->shift_days, >, 1);
  case_clear (&c);
}

static void
test_sex_matters (void)
{
  Case c;
  CoreForecast male, female;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 1, TODAY);
  made_moults (&c.state, 3, CORE_BASIS_COUNTED);
  c.profile.male_factor = .8;
  c.in.p_male = 1;
  male = forecast (&c);
  c.in.p_male = 0;
  female = forecast (&c);
  g_assert_cmpfloat (male.days[CORE_Q50], <, female.days[CORE_Q50] - 1);
  g_assert_nonnull (reason (&male, "forecast.sex"));
  g_assert_cmpint (male.adult_p50, <, female.adult_p50);
  case_clear (&c);
}

static void
test_hostile (void)
{
  Case c;
  CoreForecast f;

  case_init (&c); /* nothing known of any beginning */
  g_assert_cmpint (forecast (&c).why, ==, CORE_NO_FORECAST_NO_START);
  made_stage (&c.state, CORE_START_HATCHED, NAN, NAN);
  g_assert_cmpint (forecast (&c).why, ==, CORE_NO_FORECAST_NO_START);
  case_clear (&c);

  case_init (&c); /* windows turned round, days in the wrong order, thirty moults */
  for (int i = 0; i < 30; i++)
    made_stage (&c.state, i ? CORE_START_MOULTED : CORE_START_HATCHED, TODAY - (i * 37) % 90,
                TODAY - 5 - (i * 53) % 90);
  made_moults (&c.state, CORE_MAX_MOULTS, CORE_BASIS_COUNTED);
  f = forecast (&c);
  g_assert_true (f.why != CORE_NO_FORECAST_NONE || isfinite (f.days[CORE_Q50]));
  case_clear (&c);

  case_init (&c); /* more moults than the profile knows */
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 9, TODAY - 8);
  made_moults (&c.state, 11, CORE_BASIS_COUNTED);
  f = forecast (&c);
  check_sane (&f);
  case_clear (&c);

  case_init (&c); /* 0 °C for ever */
  third_stage (&c, 5);
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, TODAY - 300, TODAY + 500, 0, true);
  f = forecast (&c);
  g_assert_cmpint (f.why, ==, CORE_NO_FORECAST_TOO_COLD);
  g_assert_cmpfloat (f.beyond, >, .98);
  case_clear (&c);

  case_init (&c); /* hatched three years ago, nothing since */
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, TODAY - 1200, TODAY + 500, 1, true);
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 1101, TODAY - 1100);
  made_moults (&c.state, 0, CORE_BASIS_COUNTED);
  f = forecast (&c);
  g_assert_cmpint (f.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_true (f.longer_than_usual);
  case_clear (&c);

  case_init (&c); /* warmth that ends today */
  third_stage (&c, 5);
  c.warmth.n = 301;
  g_assert_cmpint (core_forecast (&c.in, &f), ==, CORE_BAD_INPUT);
  c.in.warmth = NULL;
  g_assert_cmpint (core_forecast (&c.in, &f), ==, CORE_BAD_INPUT);
  case_clear (&c);
}

/* From half of the chances on that none comes within the horizon it says why; the rare case that
 * one comes is no range to live by. */
static void
test_standstill (void)
{
  Case c;
  CoreForecast cold, cool;
  CoreSetting rest = { .key = "rest", .value = (char *) "yes", .day = TODAY };

  case_init (&c);
  c.profile.day_lo.v = 22;
  c.profile.day_hi.v = 28;
  third_stage (&c, 5);
  made_look (&c.state, TODAY);
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, TODAY - 300, TODAY + 500, .02, true);
  cold = forecast (&c);
  g_assert_cmpint (cold.why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (cold.beyond, >, .5);
  g_assert_cmpint (cold.still.why, ==, CORE_STILL_COLD);
  g_assert_cmpfloat_with_epsilon (cold.still.mean_c, 12.26, 1e-9);
  g_assert_cmpfloat (cold.still.day_lo, ==, 22);
  c.profile.winter_rest = true;
  c.state.settings.v = &rest;
  c.state.settings.n = 1;
  g_assert_cmpint (forecast (&c).still.why, ==, CORE_STILL_REST);
  c.state.settings.n = 0;
  c.state.settings.v = NULL;
  c.warmth.typical_c = 45;
  g_assert_cmpint (forecast (&c).still.why, ==, CORE_STILL_HOT);
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, TODAY - 300, TODAY + 500, .3, true);
  cool = forecast (&c);
  g_assert_cmpfloat (cool.beyond, <, .5);
  g_assert_cmpint (cool.still.why, ==, CORE_STILL_NOT);
  case_clear (&c);
}

/* Signs, a cold spell, looks far apart: no range ends before the look on which it stands, however
 * sure it is that the looks overlooked a moult. */
static void
test_range_after_look (void)
{
  int overlooked = 0;

  for (int ago = 4; ago <= 60; ago += 8)
    for (int row = 0; row < 8; row++)
      {
        Case c;
        CoreForecast f;

        case_init (&c);
        third_stage (&c, ago);
        for (CoreDay day = TODAY - ago + 1; day <= TODAY - 3; day++)
          if (row & 1 || (TODAY - day) % 15 == 0)
            made_look (&c.state, day);
        if (row & 2)
          made_sign (&c.state, CORE_SIGN_SPLITTING, TODAY - 2, TODAY - 3, 1);
        made_look (&c.state, TODAY - 1);
        made_look (&c.state, TODAY);
        for (gsize i = 1; row & 4 && i < c.warmth.n; i++) /* since yesterday it hardly develops */
          if (c.warmth.from + (CoreDay) i >= TODAY)
            c.warmth.u[i] = c.warmth.u[i - 1] + 1e-4;
        f = forecast (&c);
        overlooked += f.overlooked;
        if (f.why == CORE_NO_FORECAST_NONE)
          {
            g_assert_cmpint (f.p90, >=, f.last_look);
            g_assert_cmpfloat (f.days[CORE_Q90], >, 0);
          }
        case_clear (&c);
      }
  g_assert_cmpint (overlooked, >, 0);
}

/* Longer than usual is measured by what was given when the stage began: a cold spell since then moves
 * today's range, not that. */
static void
test_longer_than_was_given (void)
{
  Case c;
  CoreForecast f;
  CoreWarmth then;

  case_init (&c);
  third_stage (&c, 28);
  for (CoreDay day = TODAY - 27; day <= TODAY; day++)
    made_look (&c.state, day);
  for (gsize i = 1; i < c.warmth.n; i++)
    c.warmth.u[i] = c.warmth.u[i - 1] + (c.warmth.from + (CoreDay) i > TODAY - 28 ? .5 : 1);
  f = forecast (&c);
  g_assert_false (f.longer_than_usual);
  g_assert_cmpint (f.given_hi, ==, f.range_hi);
  made_warmth (&then, TODAY - 300, TODAY + 500, 1, true);
  c.in.then = &then;
  f = forecast (&c);
  g_assert_true (f.longer_than_usual && f.seen_past_range);
  g_assert_cmpint (f.given_hi, <, TODAY);
  g_assert_cmpint (f.range_hi, >, TODAY);
  g_assert_cmpint (reason (&f, "forecast.longer")->day2, ==, f.given_hi);
  made_warmth_clear (&then);
  case_clear (&c);
}

/* What its moults say: about its own pace, more with every stage, and nothing at all
 * where no stage is finished and no wait is long. */
static void
test_message (void)
{
  Case c;
  double y, p, y2, p2;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 2, TODAY - 1);
  made_moults (&c.state, 3, CORE_BASIS_COUNTED);
  g_assert_false (core_forecast_message (&c.in, &y, &p));
  case_clear (&c);

  case_init (&c);
  c.profile.stage_days[0] = c.profile.stage_days[1] = (CoreTagged){ 9, CORE_TAG_OURS, -1 };
  third_stage (&c, 2);
  g_assert_true (core_forecast_message (&c.in, &y, &p));
  g_assert_cmpfloat_with_epsilon (y, log (12. / 9), .08);
  c.state.stages.n = 2;
  made_moults (&c.state, 1, CORE_BASIS_COUNTED);
  c.in.today = TODAY - 13;
  g_assert_true (core_forecast_message (&c.in, &y2, &p2));
  g_assert_cmpfloat (p, >, p2);
  case_clear (&c);

  case_init (&c); /* an adult and a dead animal speak too: of themselves, not of a wait */
  c.profile.last_days[0] = c.profile.last_days[1] = (CoreTagged){ 10, CORE_TAG_OURS, -1 };
  third_stage (&c, 30);
  made_moults (&c.state, 2, CORE_BASIS_COUNTED);
  one_number (&c, 2);
  c.state.adult = true;
  g_assert_true (core_forecast_message (&c.in, &y, &p));
  g_assert_cmpfloat_with_epsilon (y, log (12. / 10), .08);
  c.state.end = CORE_END_DIED;
  c.state.end_day = TODAY - 2;
  g_assert_true (core_forecast_message (&c.in, &y2, &p2));
  g_assert_cmpfloat_with_epsilon (y, y2, 1e-9);
  case_clear (&c);
}

/* Moulted out of a stage seen as sub-adult: that it is adult already stands above all days. */
static void
test_probably_adult (void)
{
  Case c;
  CoreForecast before, after;

  case_init (&c);
  third_stage (&c, 2);
  before = forecast (&c);
  g_assert_cmpfloat (before.not_normal, <, .1);
  g_assert_false (before.probably_adult);
  c.state.probably_adult = true;
  after = forecast (&c);
  check_sane (&after);
  g_assert_cmpfloat (after.not_normal, >=, .8);
  g_assert_true (after.probably_adult);
  g_assert_cmpfloat (after.within14, <, .2 * before.within14 + 1e-9);
  case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/forecast/reasons", test_reasons);
  g_test_add_func ("/forecast/cool-shelf", test_cool_shelf_is_a_reason);
  g_test_add_func ("/forecast/sex-matters", test_sex_matters);
  g_test_add_func ("/forecast/hostile", test_hostile);
  g_test_add_func ("/forecast/standstill", test_standstill);
  g_test_add_func ("/forecast/longer-than-was-given", test_longer_than_was_given);
  g_test_add_func ("/forecast/range-after-look", test_range_after_look);
  g_test_add_func ("/forecast/message", test_message);
  g_test_add_func ("/forecast/probably-adult", test_probably_adult);
  return g_test_run ();
}
