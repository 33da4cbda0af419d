/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forecast.c — the forecast: its limiting case against truncated log-normals, and
 * what each fact does to it. */
#include "forecast-case.h"

/* Quantiles of LN(ln 25, .2) given that it is over `age`: F⁻¹(F(a) + p (1 - F(a))),
 * computed from the formula of the EnvStats and VGAMextra documentation. */
static void
test_limiting_case (void)
{
  static const struct
  {
    int age, q;
    double want;
  } rows[] = {
    { 20, CORE_Q05, 20.748373 }, { 20, CORE_Q10, 21.40856 },  { 20, CORE_Q25, 23.135808 },
    { 20, CORE_Q50, 25.846746 }, { 20, CORE_Q75, 29.235832 }, { 20, CORE_Q90, 32.820574 },
    { 20, CORE_Q95, 35.212822 }, { 30, CORE_Q10, 30.429321 }, { 30, CORE_Q50, 32.66878 },
    { 30, CORE_Q90, 38.008741 },
  };
  double worst = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Case c;
      CoreForecast f;

      case_init (&c);
      made_stage (&c.state, CORE_START_MOULTED, TODAY - rows[i].age, TODAY - rows[i].age);
      made_moults (&c.state, 3, CORE_BASIS_COUNTED);
      made_look (&c.state, TODAY);
      c.profile.stage_days[3] = (CoreTagged){ 25, CORE_TAG_OURS, -1 };
      one_number (&c, 8);
      c.options = (CoreForecastOptions){ .certain_looks = true,
                                         .no_missing_moult = true,
                                         .no_not_normal = true,
                                         .no_signs = true,
                                         .no_growth_of_doubt = true,
                                         .n_as_given = true,
                                         .single_sd = .2 };
      f = forecast (&c);
      check_sane (&f);
      worst = MAX (worst, fabs (f.days[rows[i].q] - (rows[i].want - rows[i].age)));
      g_assert_cmpfloat_with_epsilon (f.days[rows[i].q], rows[i].want - rows[i].age, .05);
      g_assert_cmpfloat (f.not_normal, ==, 0);
      case_clear (&c);
    }
  g_test_message ("limiting case: largest error %.5f days", worst);
}

/* The far tail needs the upper tail itself: 1 - F would be lost. LN(ln 25, .2) given
 * > 123.825811 (z = 8): median 125.946602, computed. Started at a fraction of a day. */
static void
test_far_tail (void)
{
  Case c;
  CoreForecast f;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 123.825811, TODAY - 123.825811);
  made_moults (&c.state, 3, CORE_BASIS_COUNTED);
  made_look (&c.state, TODAY);
  c.profile.stage_days[3] = (CoreTagged){ 25, CORE_TAG_OURS, -1 };
  one_number (&c, 8);
  c.options = (CoreForecastOptions){ .certain_looks = true,
                                     .no_missing_moult = true,
                                     .no_not_normal = true,
                                     .no_signs = true,
                                     .no_growth_of_doubt = true,
                                     .n_as_given = true,
                                     .single_sd = .2 };
  f = forecast (&c);
  g_assert_cmpfloat_with_epsilon (f.days[CORE_Q50], 125.946602 - 123.825811, .05);
  case_clear (&c);
}

/* Without spreads folded, the median of a fresh stage is the profile's length, and a pace
 * of one half takes twice as long. */
static void
test_warmth_scales (void)
{
  Case c;
  CoreForecast warm, cool;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY, TODAY);
  made_moults (&c.state, 3, CORE_BASIS_COUNTED);
  c.profile.stage_days[3] = (CoreTagged){ 20, CORE_TAG_OURS, -1 };
  c.options.no_missing_moult = c.options.n_as_given = true;
  one_number (&c, 8);
  warm = forecast (&c);
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, TODAY - 300, TODAY + 500, .5, false);
  cool = forecast (&c);
  check_sane (&warm);
  check_sane (&cool);
  g_assert_cmpfloat_with_epsilon (warm.days[CORE_Q50], 20, .2);
  g_assert_cmpfloat_with_epsilon (cool.days[CORE_Q50], 40, .4);
  case_clear (&c);
}

static double
density (double x, double median)
{
  double z = log (x / median) / .2;

  return x > 0 ? exp (-.5 * z * z) / x : 0;
}

static double
above (double x, double median)
{
  return x > 0 ? .5 * erfc (log (x / median) / .2 / G_SQRT2) : 1;
}

/* What the model says after a moult in (TODAY - 1, TODAY] of a stage begun TODAY - 12: the
 * start within the window has the density of that stage, the next moult is a wait from it. */
static double
median_by_sum (double this_median, double next_median)
{
  double lo = 0, hi = 100;

  while (hi - lo > 1e-6)
    {
      double x = (lo + hi) / 2, later = 0, all = 0;
      for (int i = 0; i < 500; i++)
        {
          double s = -1 + (i + .5) / 500, w = density (12 + s, this_median);
          all += w;
          later += w * above (x - s, next_median) / above (0 - s, next_median);
        }
      if (later / all > .5)
        lo = x;
      else
        hi = x;
    }
  return lo;
}

/* A moult entered shifts the forecast by the amount that the model says, here computed
 * apart: before it the truncated log-normal, after it the sum above. */
static void
test_moult_shifts (void)
{
  Case c;
  CoreForecast before, after;
  double p, lo = 11, hi = 60;

  case_init (&c);
  one_number (&c, 8);
  c.profile.stage_days[2] = (CoreTagged){ 13, CORE_TAG_OURS, -1 };
  c.profile.stage_days[3] = (CoreTagged){ 16, CORE_TAG_OURS, -1 };
  c.options = (CoreForecastOptions){ .certain_looks = true,
                                     .no_missing_moult = true,
                                     .no_growth_of_doubt = true,
                                     .n_as_given = true,
                                     .single_sd = .2 };
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 12, TODAY - 12);
  made_moults (&c.state, 2, CORE_BASIS_COUNTED);
  made_look (&c.state, TODAY - 1);
  before = forecast (&c);
  for (int i = 0; i < 60; i++)
    {
      p = (lo + hi) / 2;
      if (above (p, 13) > .5 * above (11, 13))
        lo = p;
      else
        hi = p;
    }
  g_assert_cmpfloat_with_epsilon (before.days[CORE_Q50], lo - 12, .05);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 1, TODAY);
  made_moults (&c.state, 3, CORE_BASIS_COUNTED);
  made_look (&c.state, TODAY);
  after = forecast (&c);
  check_sane (&before);
  check_sane (&after);
  g_assert_cmpfloat_with_epsilon (after.days[CORE_Q50] - before.days[CORE_Q50],
                                  median_by_sum (13, 16) - (lo - 12), .06);
  g_assert_cmpfloat_with_epsilon (after.stage_began_lo, TODAY - 1, 1e-9);
  g_assert_cmpfloat_with_epsilon (after.stage_began_hi, TODAY, 1e-9);
  case_clear (&c);
}

/* A stage that took twice the usual time may hide a moult: the animal is then held to be
 * less slow than if none could be missing. */
static void
test_missing_moult (void)
{
  Case c;
  CoreForecast may, none;

  case_init (&c);
  one_number (&c, 9);
  c.options.n_as_given = true;
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 40, TODAY - 39);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 29, TODAY - 28);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 2, TODAY - 1); /* 27 days, usual 11 */
  made_moults (&c.state, 2, CORE_BASIS_COUNTED);
  may = forecast (&c);
  c.options.no_missing_moult = true;
  none = forecast (&c);
  c.options.no_missing_moult = false;
  g_assert_cmpfloat (may.days[CORE_Q10], <, none.days[CORE_Q10]);
  g_assert_cmpfloat (may.moults_left[6], >, .1); /* nine in all, three made */
  g_assert_cmpfloat_with_epsilon (none.moults_left[7], 1, 1e-6);
  case_clear (&c);
}

/* A look may be wrong: the three days before it keep a little weight, unless the keeper
 * names the earliest day or looks are certain. */
static void
test_leak (void)
{
  Case c;
  CoreForecast look, given;

  case_init (&c);
  third_stage (&c, 5);
  look = forecast (&c);
  for (gsize i = 1; i < c.state.stages.n; i++)
    c.state.stages.v[i].earliest_given = true;
  given = forecast (&c);
  g_assert_cmpfloat (look.days[CORE_Q50], !=, given.days[CORE_Q50]);
  g_assert_cmpfloat_with_epsilon (look.days[CORE_Q50], given.days[CORE_Q50], .3);
  case_clear (&c);
}

/* A long nymph has fewer moults to go; a slip of the ruler does not rule anything out. */
static void
test_size (void)
{
  Case c;
  CoreForecast none, small, large, slip;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 6, TODAY - 5);
  made_moults (&c.state, 5, CORE_BASIS_COUNTED);
  c.profile.adult_mm[0] = c.profile.adult_mm[1] = (CoreTagged){ 80, CORE_TAG_PRACTICE, -1 };
  none = forecast (&c);
  PUSH (c.state.measures, (CoreMeasure){ .day = TODAY, .what = 0, .mm = 29, .sd = NAN });
  small = forecast (&c);
  c.state.measures.v[0].mm = 60;
  large = forecast (&c);
  c.state.measures.v[0].mm = 6;
  slip = forecast (&c);
  check_sane (&slip);
  g_assert_cmpfloat (large.p_next_is_adult, >, none.p_next_is_adult + .05);
  g_assert_cmpfloat (small.p_next_is_adult, <, none.p_next_is_adult - .05);
  g_assert_cmpfloat (slip.p_next_is_adult, >, 0);
  case_clear (&c);
}

/* The span that a forecast asks for is one it is content with. */
static void
test_span (void)
{
  Case c;
  CoreDay from, to;

  case_init (&c);
  third_stage (&c, 5);
  core_forecast_span (&c.state, TODAY, &from, &to);
  g_assert_cmpint (from, <=, TODAY - 30 - 7);
  g_assert_cmpint (to, ==, TODAY + 400);
  made_warmth_clear (&c.warmth);
  made_warmth (&c.warmth, from, to, 1, false);
  check_sane (&(CoreForecast[]){ forecast (&c) }[0]);
  c.state.stages.v[0].lo = -INFINITY;
  c.state.stages.v[0].hi = -1e9;
  core_forecast_span (&c.state, TODAY, &from, &to);
  g_assert_cmpint (from, ==, TODAY - 1500);
  case_clear (&c);
}

/* Conjugate check of the own effect: exact dates, one sd each, early stages. Posterior
 * mean of theta = sum (ln D - mu) / eps² ÷ (1 / var + n / eps²); the next median follows. */
static void
test_own_effect (void)
{
  Case c;
  CoreForecast f;
  double var, eps, theta;

  case_init (&c);
  for (int m = 0; m < 4; m++)
    c.profile.stage_days[m] = (CoreTagged){ 12, CORE_TAG_OURS, -1 };
  c.options = (CoreForecastOptions){ .no_missing_moult = true,
                                     .certain_looks = true,
                                     .n_as_given = true,
                                     .no_not_normal = true,
                                     .cell = .25,
                                     .nodes = 61 };
  one_number (&c, 8);
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 48, TODAY - 48);
  for (int m = 1; m <= 3; m++) /* every stage took 16 days instead of 12 */
    made_stage (&c.state, CORE_START_MOULTED, TODAY - 48 + 16 * m - .05, TODAY - 48 + 16 * m + .05);
  made_moults (&c.state, 3, CORE_BASIS_COUNTED);
  f = forecast (&c);
  /* room, medians of the profile, lot, animal */
  var = .18 * .18 + .26 * .26 + .10 * .10 + .10 * .10;
  eps = .19 * .19;
  theta = 3 * log (16. / 12) / eps / (1 / var + 3 / eps);
  g_assert_cmpfloat_with_epsilon (f.days[CORE_Q50], 12 * exp (theta), .15);
  case_clear (&c);
}

/* Feeding and misting a shelf are no looks: nothing in the state that the forecast reads
 * changes, so the whole result stays the same bit for bit. */
static void
test_bulk_changes_nothing (void)
{
  Case c;
  CoreForecast before, after;

  case_init (&c);
  third_stage (&c, 8);
  made_look (&c.state, TODAY - 3);
  before = forecast (&c);
  PUSH (
    c.state.meals,
    (CoreMeal){
      .day = TODAY, .prey = CORE_PREY_HYDEI, .n = 5, .outcome = CORE_FED_OFFERED, .bulk = true });
  c.state.last_offered = TODAY;
  c.state.misted = TODAY;
  after = forecast (&c);
  g_assert_cmpmem (before.days, sizeof before.days, after.days, sizeof after.days);
  g_assert_cmpint (before.last_look, ==, after.last_look);
  g_assert_cmpfloat (before.within7, ==, after.within7);
  case_clear (&c);
}

/* A look proves the old skin: the forecast moves later and stands on it. */
static void
test_look (void)
{
  Case c;
  CoreForecast before, after;

  case_init (&c);
  third_stage (&c, 14);
  before = forecast (&c);
  made_look (&c.state, TODAY);
  after = forecast (&c);
  g_assert_cmpint (before.last_look, ==, CORE_DAY_NONE);
  g_assert_cmpint (after.last_look, ==, TODAY);
  g_assert_cmpfloat (after.days[CORE_Q50], >, before.days[CORE_Q50]);
  g_assert_cmpfloat (before.days[CORE_Q10], <, 0);       /* it may have happened */
  g_assert_cmpint (before.range_lo, ==, after.range_lo); /* rules: without looks */
  g_assert_cmpint (before.range_hi, ==, after.range_hi);
  case_clear (&c);
}

static void
test_signs (void)
{
  static const struct
  {
    int sign, ago, times;
    double most; /* largest median from this evening */
  } rows[] = {
    { CORE_SIGN_PUMPING, 0, 1, 1 }, { CORE_SIGN_SPLITTING, 0, 1, .6 },
    { CORE_SIGN_HANGING, 0, 1, 6 }, { CORE_SIGN_DULL, 0, 1, 6 },
    { CORE_SIGN_REFUSES, 0, 3, 6 }, { CORE_SIGN_SLUGGISH, 1, 1, 8 },
  };
  Case c;
  CoreForecast bare;

  case_init (&c);
  third_stage (&c, 10);
  made_look (&c.state, TODAY - 1);
  made_look (&c.state, TODAY);
  bare = forecast (&c);
  case_clear (&c);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreForecast f;
      CoreDay day = TODAY - rows[i].ago;

      case_init (&c);
      third_stage (&c, 10);
      made_look (&c.state, day - 1);
      made_sign (&c.state, rows[i].sign, day, day - 1, rows[i].times);
      made_look (&c.state, TODAY);
      f = forecast (&c);
      check_sane (&f);
      g_assert_cmpfloat (f.days[CORE_Q50], <, bare.days[CORE_Q50]);
      g_assert_cmpfloat (f.days[CORE_Q50], <, rows[i].most);
      g_assert_cmpint (f.range_lo, ==, bare.range_lo); /* rules: without signs */
      case_clear (&c);
    }
}

/* One refusal moves less than two, two less than three; at belly 1 none moves. */
static void
test_refusals_grow (void)
{
  double median[4];
  Case c;

  for (int times = 0; times <= 3; times++)
    {
      case_init (&c);
      third_stage (&c, 6);
      made_look (&c.state, TODAY - 2);
      if (times > 0)
        made_sign (&c.state, CORE_SIGN_REFUSES, TODAY - 1, TODAY - 2, times);
      made_look (&c.state, TODAY);
      median[times] = forecast (&c).days[CORE_Q50];
      if (times > 0)
        g_assert_cmpfloat (median[times], <, median[times - 1]);
      c.state.belly = 1;
      c.state.belly_day = TODAY - 1;
      if (times > 0)
        g_assert_cmpfloat (forecast (&c).days[CORE_Q50], >=, median[0] - .75);
      case_clear (&c);
    }
}

static void
test_unknown_start (void)
{
  Case known, unknown;
  CoreForecast f, g;

  case_init (&known);
  case_init (&unknown);
  made_stage (&known.state, CORE_START_MOULTED, TODAY - 1, TODAY);
  made_stage (&unknown.state, CORE_START_ACQUIRED, TODAY - 1, TODAY);
  made_moults (&known.state, 4, CORE_BASIS_ESTIMATED);
  made_moults (&unknown.state, 4, CORE_BASIS_ESTIMATED);
  known.options.no_missing_moult = unknown.options.no_missing_moult = true;
  f = forecast (&known);
  g = forecast (&unknown);
  check_sane (&f);
  check_sane (&g);
  g_assert_cmpfloat (g.days[CORE_Q10], <, f.days[CORE_Q10] / 3);
  g_assert_cmpfloat (g.days[CORE_Q90] / MAX (g.days[CORE_Q10], .01), >,
                     2 * f.days[CORE_Q90] / f.days[CORE_Q10]);
  g_assert_true (isnan (g.stage_began_hi));
  case_clear (&known);
  case_clear (&unknown);
}

/* The first forecast of an arrival in one known stage is the residual life: its mean is
 * E D² ÷ 2 E D; its cdf at r is the integral of the survival ÷ E D (renewal theory). */
static void
test_residual_life (void)
{
  Case c;
  CoreForecast f;
  double mean = 25 * exp (.02), sum = 0, r = 0;

  case_init (&c);
  one_number (&c, 8);
  made_stage (&c.state, CORE_START_ACQUIRED, TODAY, TODAY);
  made_moults (&c.state, 3, CORE_BASIS_COUNTED);
  c.profile.stage_days[3] = (CoreTagged){ 25, CORE_TAG_OURS, -1 };
  c.options = (CoreForecastOptions){
    .certain_looks = true, .no_missing_moult = true, .n_as_given = true, .single_sd = .2
  };
  f = forecast (&c);
  while (sum < .5)
    {
      double z = (log (r + .005) - log (25)) / .2;
      sum += .01 * .5 * erfc (z / G_SQRT2) / mean;
      r += .01;
    }
  g_assert_cmpfloat_with_epsilon (f.days[CORE_Q50], r, .05);
  case_clear (&c);
}

static void
test_stage_unknown (void)
{
  Case c;
  CoreForecast known, unknown;

  case_init (&c);
  made_stage (&c.state, CORE_START_ACQUIRED, TODAY - 1, TODAY);
  made_moults (&c.state, 3, CORE_BASIS_ESTIMATED);
  known = forecast (&c);
  made_moults (&c.state, -1, CORE_BASIS_UNKNOWN);
  unknown = forecast (&c);
  check_sane (&unknown);
  g_assert_cmpfloat (unknown.days[CORE_Q90] - unknown.days[CORE_Q10], >,
                     known.days[CORE_Q90] - known.days[CORE_Q10]);
  g_assert_cmpfloat (unknown.moults_left[1], >, .02);
  g_assert_cmpfloat (unknown.moults_left[5], >, .02);
  case_clear (&c);
}

static void
test_no_forecast (void)
{
  static const struct
  {
    CoreEnd end;
    bool adult;
    CoreSubjectKind kind;
    CoreNoForecast want;
  } rows[] = {
    { CORE_END_DIED, false, CORE_SUBJECT_ANIMAL, CORE_NO_FORECAST_DEAD },
    { CORE_END_LEFT, false, CORE_SUBJECT_ANIMAL, CORE_NO_FORECAST_LEFT },
    { CORE_END_ESCAPED, false, CORE_SUBJECT_ANIMAL, CORE_NO_FORECAST_ESCAPED },
    { CORE_END_NONE, true, CORE_SUBJECT_ANIMAL, CORE_NO_FORECAST_ADULT },
    { CORE_END_DIED, true, CORE_SUBJECT_ANIMAL, CORE_NO_FORECAST_DEAD },
    { CORE_END_NONE, false, CORE_SUBJECT_PLACE, CORE_NO_FORECAST_NOT_AN_ANIMAL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Case c;
      CoreForecast f;
      case_init (&c);
      third_stage (&c, 6);
      c.state.end = rows[i].end;
      c.state.adult = rows[i].adult;
      c.state.kind = rows[i].kind;
      f = forecast (&c);
      g_assert_cmpint (f.why, ==, rows[i].want);
      g_assert_cmpint (f.p50, ==, CORE_DAY_NONE);
      g_assert_true (isnan (f.days[CORE_Q50]));
      case_clear (&c);
    }
}

static void
test_subadult (void)
{
  Case c;
  CoreForecast before, seen;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 6, TODAY - 5);
  made_moults (&c.state, 5, CORE_BASIS_COUNTED);
  made_look (&c.state, TODAY);
  before = forecast (&c);
  c.state.subadult = true;
  seen = forecast (&c);
  check_sane (&before);
  check_sane (&seen);
  g_assert_cmpfloat (before.p_next_is_adult, <, .5);
  g_assert_cmpfloat (seen.p_next_is_adult, >, .99);
  g_assert_cmpint (seen.adult_p50, ==, seen.p50);
  g_assert_cmpint (before.adult_p50, >, before.p50);
  g_assert_cmpfloat (seen.days[CORE_Q50], >, before.days[CORE_Q50]);
  case_clear (&c);
}

/* "Any day now" is never said for ever: the share of *not a normal wait* grows and the
 * chance of the next days falls. */
static void
test_not_normal (void)
{
  double last = 0, near = 1;

  for (int ago = 20; ago <= 80; ago += 20)
    {
      Case c;
      CoreForecast f;
      case_init (&c);
      third_stage (&c, ago);
      made_look (&c.state, TODAY);
      f = forecast (&c);
      check_sane (&f);
      g_assert_cmpfloat (f.not_normal, >, last);
      if (ago > 40)
        g_assert_cmpfloat (f.within7, <, near);
      last = f.not_normal;
      near = f.within7;
      g_assert_true (f.longer_than_usual == (TODAY > f.range_hi));
      case_clear (&c);
    }
  g_assert_cmpfloat (last, >, .3);
}

/* Half-day cells and 31 nodes are enough: finer ones move no quantile by .04 day. */
static void
test_converged (void)
{
  static const CoreForecastOptions finer[] = { { .cell = .25 }, { .nodes = 61 } };

  double worst = 0;

  for (int ago = 4; ago <= 16; ago += 6)
    for (gsize i = 0; i < G_N_ELEMENTS (finer); i++)
      {
        Case c;
        CoreForecast coarse, fine;
        case_init (&c);
        third_stage (&c, ago);
        made_look (&c.state, TODAY - 1);
        coarse = forecast (&c);
        c.options = finer[i];
        fine = forecast (&c);
        for (int q = 0; q < CORE_N_Q; q++)
          {
            worst = MAX (worst, fabs (coarse.days[q] - fine.days[q]));
            g_assert_cmpfloat_with_epsilon (coarse.days[q], fine.days[q], .04);
          }
        case_clear (&c);
      }
  g_test_message ("quarter-day cells, twice the nodes: at most %.4f days", worst);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/forecast/limiting-case", test_limiting_case);
  g_test_add_func ("/forecast/far-tail", test_far_tail);
  g_test_add_func ("/forecast/warmth-scales", test_warmth_scales);
  g_test_add_func ("/forecast/moult-shifts", test_moult_shifts);
  g_test_add_func ("/forecast/missing-moult", test_missing_moult);
  g_test_add_func ("/forecast/leak", test_leak);
  g_test_add_func ("/forecast/size", test_size);
  g_test_add_func ("/forecast/span", test_span);
  g_test_add_func ("/forecast/own-effect", test_own_effect);
  g_test_add_func ("/forecast/bulk-changes-nothing", test_bulk_changes_nothing);
  g_test_add_func ("/forecast/look", test_look);
  g_test_add_func ("/forecast/signs", test_signs);
  g_test_add_func ("/forecast/refusals-grow", test_refusals_grow);
  g_test_add_func ("/forecast/unknown-start", test_unknown_start);
  g_test_add_func ("/forecast/residual-life", test_residual_life);
  g_test_add_func ("/forecast/stage-unknown", test_stage_unknown);
  g_test_add_func ("/forecast/no-forecast", test_no_forecast);
  g_test_add_func ("/forecast/subadult", test_subadult);
  g_test_add_func ("/forecast/not-normal", test_not_normal);
  g_test_add_func ("/forecast/converged", test_converged);
  return g_test_run ();
}
