/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forecast-facts.c — each fact that moved a forecast is named with the shift of the median
 * when it alone is left out; what nobody said or saw is not taken for said or seen. */
#include "forecast-case.h"

/* Shifts that need the recursion again come from a coarse grid. */
static const double grid = .5;

static const CoreReason *
find (const CoreForecast *f, const char *rule)
{
  for (gsize i = 0; i < f->n_reasons; i++)
    if (strcmp (f->reasons[i].rule, rule) == 0)
      return &f->reasons[i];
  return NULL;
}

static const CoreReason *
reason (const CoreForecast *f, const char *rule)
{
  const CoreReason *r = find (f, rule);

  if (!r)
    g_error ("no reason %s", rule);
  return r;
}

static const CoreReason *
sign_reason (const CoreForecast *f, int sign)
{
  for (gsize i = 0; i < f->n_reasons; i++)
    if (strcmp (f->reasons[i].rule, "forecast.signs") == 0 && f->reasons[i].code == sign)
      return &f->reasons[i];
  g_error ("no sign %d", sign);
}

static void
rests_on (Case *c, CoreWarmthRest rest)
{
  for (gsize i = 0; i < c->warmth.n; i++)
    c->warmth.measured[i] = (uint8_t) rest;
  c->warmth.rest = rest;
}

static double
width (const CoreForecast *f)
{
  return f->days[CORE_Q90] - f->days[CORE_Q10];
}

/* A temperature that nobody entered costs more than a usual one, and is not said to be known. */
static void
test_unknown_warmth (void)
{
  Case c;
  CoreForecast read, usual, unknown;

  case_init (&c);
  third_stage (&c, 3);
  made_look (&c.state, TODAY);
  rests_on (&c, CORE_WARMTH_READINGS);
  read = forecast (&c);
  rests_on (&c, CORE_WARMTH_HABIT);
  usual = forecast (&c);
  rests_on (&c, CORE_WARMTH_UNKNOWN);
  unknown = forecast (&c);
  g_assert_cmpfloat (width (&usual), >, width (&read));
  g_assert_cmpfloat (width (&unknown), >, 1.05 * width (&usual));
  g_assert_cmpint (reason (&read, "forecast.warmth")->code, ==, CORE_WARMTH_READINGS);
  g_assert_cmpint (reason (&usual, "forecast.warmth")->code, ==, CORE_WARMTH_HABIT);
  g_assert_cmpint (reason (&unknown, "forecast.warmth")->code, ==, CORE_WARMTH_UNKNOWN);
  case_clear (&c);
}

/* It came in the middle of a stage and moulted only sixty days later: the fact that says most. */
static void
test_arrival_wait (void)
{
  Case c;
  CoreForecast with, without;
  const CoreReason *r;

  case_init (&c);
  made_stage (&c.state, CORE_START_ACQUIRED, -INFINITY, TODAY - 70);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 11, TODAY - 10);
  made_moults (&c.state, 4, CORE_BASIS_ESTIMATED);
  made_look (&c.state, TODAY);
  with = forecast (&c);
  c.state.stages.v[0] = c.state.stages.v[1];
  c.state.stages.n = 1;
  without = forecast (&c);
  r = reason (&with, "forecast.arrival_wait");
  g_assert_cmpfloat_with_epsilon (r->value, 59.5, 1e-9);
  g_assert_cmpint (r->day, ==, TODAY - 70);
  g_assert_cmpuint (r->n_entries, ==, 2);
  g_assert_cmpfloat (r->shift_days, >, 2);
  g_assert_cmpfloat_with_epsilon (r->shift_days, with.days[CORE_Q50] - without.days[CORE_Q50],
                                  grid);
  g_assert_null (find (&with, "forecast.own_stages"));
  g_assert_null (find (&without, "forecast.arrival_wait"));
  case_clear (&c);
}

/* The last stage, and those before it: both are facts, and both have what is usual beside. */
static void
test_finished_stages (void)
{
  Case c;
  CoreForecast f;
  const CoreReason *last, *before;

  case_init (&c);
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 45, TODAY - 44);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 27, TODAY - 26);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 7, TODAY - 6);
  made_moults (&c.state, 2, CORE_BASIS_COUNTED);
  c.profile.stage_days[0] = c.profile.stage_days[1] = (CoreTagged){ 10, CORE_TAG_OURS, -1 };
  f = forecast (&c);
  last = reason (&f, "forecast.own_stages");
  before = reason (&f, "forecast.earlier_stages");
  g_assert_cmpfloat_with_epsilon (last->value, 20, 1e-9);
  g_assert_cmpfloat_with_epsilon (last->value2, 10, .3);
  g_assert_cmpfloat_with_epsilon (before->value, 18, 1e-9);
  g_assert_cmpfloat_with_epsilon (before->value2, 10, .3);
  g_assert_cmpint (before->code, ==, 1);
  g_assert_cmpfloat (last->shift_days, >, .5);
  g_assert_cmpfloat (before->shift_days, >, .3);
  case_clear (&c);
}

/* Half of the weight that a sharper sign of the same day takes away comes back with it. */
static void
test_signs (void)
{
  static const int signs[] = { CORE_SIGN_DULL, CORE_SIGN_SLUGGISH };
  Case c;
  CoreForecast with;

  case_init (&c);
  third_stage (&c, 6);
  made_look (&c.state, TODAY - 1);
  made_sign (&c.state, CORE_SIGN_DULL, TODAY, TODAY - 1, 1);
  made_sign (&c.state, CORE_SIGN_SLUGGISH, TODAY, TODAY - 1, 1);
  with = forecast (&c);
  for (gsize k = 0; k < 2; k++)
    {
      CoreSignSeen other = c.state.signs.v[1 - k], kept = c.state.signs.v[k];
      CoreForecast without;

      c.state.signs.v[0] = other;
      c.state.signs.n = 1;
      without = forecast (&c);
      g_assert_cmpfloat_with_epsilon (sign_reason (&with, signs[k])->shift_days,
                                      with.days[CORE_Q50] - without.days[CORE_Q50], 1e-6);
      c.state.signs.n = 2;
      c.state.signs.v[k] = kept;
      c.state.signs.v[1 - k] = other;
    }
  case_clear (&c);
}

static void
test_looks (void)
{
  Case c;
  CoreForecast with, without;

  case_init (&c);
  third_stage (&c, 18);
  made_look (&c.state, TODAY - 6);
  made_look (&c.state, TODAY - 2);
  with = forecast (&c);
  c.state.looks.n = 0;
  without = forecast (&c);
  g_assert_cmpfloat (reason (&with, "forecast.last_look")->shift_days, >, 1);
  g_assert_cmpfloat_with_epsilon (reason (&with, "forecast.last_look")->shift_days,
                                  with.days[CORE_Q50] - without.days[CORE_Q50], .1);
  case_clear (&c);
}

/* Seen as sub-adult, its stage is the last one and takes longer. */
static void
test_subadult (void)
{
  Case c;
  CoreForecast with, without;
  const CoreReason *r;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 4, TODAY - 3);
  made_moults (&c.state, 5, CORE_BASIS_COUNTED);
  without = forecast (&c);
  c.state.subadult = true;
  c.state.stages.v[0].seen = CORE_SEEN_SUBADULT;
  c.state.stages.v[0].seen_day = TODAY - 2;
  c.state.stages.v[0].seen_entry = made_id (203, 1);
  with = forecast (&c);
  r = reason (&with, "forecast.subadult");
  g_assert_null (find (&without, "forecast.subadult"));
  g_assert_cmpint (r->day, ==, TODAY - 2);
  g_assert_cmpuint (r->n_entries, ==, 1);
  g_assert_cmpfloat (r->shift_days, >, 2);
  g_assert_cmpfloat_with_epsilon (r->shift_days, with.days[CORE_Q50] - without.days[CORE_Q50],
                                  grid);
  case_clear (&c);
}

static void
test_room (void)
{
  Case c;
  CoreMessage slow = { .15, .1 };
  CoreForecast with, without;
  const CoreReason *r;

  case_init (&c);
  third_stage (&c, 2);
  without = forecast (&c);
  c.in.message = &slow;
  with = forecast (&c);
  r = reason (&with, "forecast.room");
  g_assert_null (find (&without, "forecast.room"));
  g_assert_cmpfloat_with_epsilon (r->value, 16.2, .1);
  g_assert_cmpfloat_with_epsilon (r->shift_days, with.days[CORE_Q50] - without.days[CORE_Q50],
                                  grid);
  case_clear (&c);
}

/* Length of the stage: a mixture over the numbers of moults, with its doubt. */
static void
test_stage_length (void)
{
  Case c;
  CoreForecast f;
  const CoreReason *r;
  double sd;

  case_init (&c);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 1, TODAY);
  made_moults (&c.state, 6, CORE_BASIS_COUNTED);
  c.profile.stage_days[6] = (CoreTagged){ 20, CORE_TAG_OURS, -1 };
  c.profile.last_days[0] = (CoreTagged){ 20, CORE_TAG_OURS, -1 };
  c.profile.last_days[1] = (CoreTagged){ 50, CORE_TAG_OURS, -1 };
  c.options.n_as_given = true;
  one_number (&c, 9);
  f = forecast (&c);
  r = reason (&f, "forecast.stage");
  g_assert_cmpint (r->code, ==, 2); /* of an unknown kind */
  sd = sqrt (.18 * .18 + .26 * .26 + .1 * .1 + .1 * .1 + c.profile.sd_eps * c.profile.sd_eps);
  g_assert_cmpfloat_with_epsilon (r->value, 20, .1);
  g_assert_cmpfloat_with_epsilon (r->value2, 20 * exp (-1.2816 * sd), .2);
  g_assert_cmpfloat_with_epsilon (r->value3, 20 * exp (1.2816 * sd), .3);
  c.state.basis = CORE_BASIS_UNKNOWN;
  f = forecast (&c);
  g_assert_cmpint (reason (&f, "forecast.stage")->code, ==, 3);
  c.state.basis = CORE_BASIS_COUNTED;
  c.profile.general = false;
  f = forecast (&c);
  g_assert_cmpint (reason (&f, "forecast.stage")->code, ==, 0);
  /* Sub-adult or not: unseen pads make it one in six, and the range reaches up to its days. */
  c.profile.n_moults[0][9] = c.profile.n_moults[1][9] = .5;
  c.profile.n_moults[0][7] = c.profile.n_moults[1][7] = .5;
  f = forecast (&c);
  r = reason (&f, "forecast.stage");
  g_assert_cmpfloat (r->value, >, 20.5);
  g_assert_cmpfloat (r->value, <, 25);
  g_assert_cmpfloat (r->value3, >, 40);
  c.profile.stage_days[6].v = c.profile.last_days[0].v = c.profile.last_days[1].v = NAN;
  f = forecast (&c);
  g_assert_cmpint (reason (&f, "forecast.stage")->code, ==, 1);
  case_clear (&c);
}

/* "Already adult?" is asked where it can be; of a young nymph a moult was missed. */
static void
test_doubt (void)
{
  static const struct
  {
    int moults;
    CoreSeenStage seen;
    CoreDay seen_ago;
    CoreDoubt doubt;
  } rows[] = {
    { 1, CORE_SEEN_UNKNOWN, 0, CORE_DOUBT_MISSED }, /* the general kind is adult after 5 to 9 */
    { 3, CORE_SEEN_UNKNOWN, 0, CORE_DOUBT_MISSED },
    { 4, CORE_SEEN_UNKNOWN, 0, CORE_DOUBT_ADULT },
    { -1, CORE_SEEN_UNKNOWN, 0, CORE_DOUBT_ADULT },
    { 7, CORE_SEEN_NYMPH, 240, CORE_DOUBT_ADULT }, /* seen as nymph before its range */
    { 7, CORE_SEEN_NYMPH, 2, CORE_DOUBT_MISSED },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Case c;
      CoreForecast f;

      case_init (&c);
      c.profile.n_moults[0][5] = .1;
      made_stage (&c.state, CORE_START_MOULTED, TODAY - 251, TODAY - 250);
      made_moults (&c.state, rows[i].moults, CORE_BASIS_COUNTED);
      c.state.stages.v[0].seen = rows[i].seen;
      c.state.stages.v[0].seen_day =
        rows[i].seen == CORE_SEEN_UNKNOWN ? CORE_DAY_NONE : TODAY - rows[i].seen_ago;
      made_look (&c.state, TODAY - 1);
      f = forecast (&c);
      g_assert_cmpfloat (f.not_normal, >, .5);
      g_assert_cmpint (f.doubt, ==, rows[i].doubt);
      g_assert_cmpint (reason (&f, "forecast.not_normal")->code, ==, rows[i].doubt);
      c.state.probably_adult = true;
      g_assert_cmpint (forecast (&c).doubt, ==, CORE_DOUBT_WINGS);
      case_clear (&c);
    }
}

/* Nobody looked for months: it has probably moulted, and nothing is known to last long. */
static void
test_unseen (void)
{
  Case c;
  CoreForecast f;

  case_init (&c);
  third_stage (&c, 90);
  f = forecast (&c);
  check_sane (&f);
  g_assert_true (f.probably_moulted);
  g_assert_cmpfloat (f.by_now, >, .8);
  g_assert_cmpfloat (f.by_now, <=, f.within3);
  g_assert_cmpint (f.p90, <=, TODAY);
  g_assert_true (f.longer_than_usual);
  g_assert_false (f.seen_past_range);
  g_assert_cmpint (reason (&f, "forecast.longer")->code, ==, 1);
  g_assert_cmpint (reason (&f, "forecast.longer")->day, ==, CORE_DAY_NONE);
  made_look (&c.state, TODAY);
  f = forecast (&c);
  g_assert_false (f.probably_moulted);
  g_assert_cmpfloat (f.by_now, <, .05);
  g_assert_true (f.seen_past_range);
  g_assert_cmpint (reason (&f, "forecast.longer")->code, ==, 0);
  case_clear (&c);
}

/* A shed skin found after two months without a look: the stage may be old, but on that day it was
 * seen; neither is it longer than usual since before that day, nor is a moult doubtful. */
static void
test_found_late (void)
{
  Case c;
  CoreForecast f;
  const CoreReason *r;

  case_init (&c);
  made_stage (&c.state, CORE_START_ACQUIRED, -INFINITY, TODAY - 75);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 75, TODAY - 10);
  made_moults (&c.state, 5, CORE_BASIS_ESTIMATED);
  made_look (&c.state, TODAY - 10);
  f = forecast (&c);
  check_sane (&f);
  g_assert_cmpint (f.range_lo, >=, TODAY - 10 - 2);
  g_assert_cmpint (f.range_mid, >, TODAY - 10);
  g_assert_cmpfloat (f.not_normal, <, .05);
  g_assert_null (find (&f, "forecast.last_look"));
  g_assert_false (f.seen_past_range);
  r = reason (&f, "forecast.arrival_wait"); /* between none and 65 days */
  g_assert_cmpfloat_with_epsilon (r->value, 32.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (r->value3, 32.5, 1e-9);
  case_clear (&c);
}

/* Four moults, each found on the day after a look that saw the old skin, with no look for weeks before;
 * the last stage took long. The last moult is dated all the same: its range has not begun two days
 * later, and an animal that was slow is not taken for a fast one. */
static void
test_dated (void)
{
  static const int ago[] = { 50, 40, 28, 2 };
  Case c;
  CoreForecast f, without;

  case_init (&c);
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 61, TODAY - 60);
  for (gsize i = 0; i < G_N_ELEMENTS (ago); i++)
    {
      made_look (&c.state, TODAY - ago[i] - 1);
      made_stage (&c.state, CORE_START_MOULTED, TODAY - ago[i] - 1, TODAY - ago[i]);
      made_look (&c.state, TODAY - ago[i]);
    }
  made_moults (&c.state, 4, CORE_BASIS_COUNTED);
  f = forecast (&c);
  check_sane (&f);
  g_assert_false (f.in_range);
  g_assert_cmpint (f.range_lo, >=, TODAY + 7);
  g_assert_cmpfloat (f.days[CORE_Q05], >, 6);
  g_assert_cmpfloat (f.by_now, <, .001);
  g_assert_cmpfloat (reason (&f, "forecast.own_stages")->shift_days, >, .5);
  c.options.certain_looks = true;
  without = forecast (&c);
  g_assert_cmpfloat_with_epsilon (f.days[CORE_Q50], without.days[CORE_Q50], 1.5);
  case_clear (&c);
}

/* A split skin is the moult, however little of one was to be expected: tonight or tomorrow; nobody
 * entered one, and it has most probably come then. What sees pumping is nearly as sure. */
static void
test_moult_itself (void)
{
  static const struct { int sign; double by; } rows[] = { { CORE_SIGN_SPLITTING, .97 }, { CORE_SIGN_PUMPING, .85 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    for (int early = 0; early < 2; early++)
      {
        Case c;
        CoreForecast f;

        case_init (&c);
        third_stage (&c, early ? 4 : 30); /* long before its range, and long past it */
        made_look (&c.state, TODAY - 1);
        made_sign (&c.state, rows[i].sign, TODAY, TODAY - 1, 1);
        f = forecast (&c);
        check_sane (&f);
        g_assert_cmpint (f.moulting, ==, rows[i].sign);
        g_assert_cmpint (f.moulting_day, ==, TODAY);
        g_assert_cmpfloat (f.days[CORE_Q75], <=, 1.5);
        g_assert_cmpfloat (f.within3, >, rows[i].by);
        g_assert_cmpfloat (reason (&f, "forecast.signs")->shift_days, <, early ? -4 : 0);
        if (rows[i].sign == CORE_SIGN_SPLITTING)
          g_assert_cmpfloat (f.days[CORE_Q95], <=, 1);
        c.in.today = TODAY + 3; /* without a look since */
        f = forecast (&c);
        g_assert_true (f.probably_moulted);
        g_assert_cmpfloat (f.by_now, >, rows[i].by);
        g_assert_cmpfloat (f.days[CORE_Q75], <, -1.4);
        g_assert_cmpfloat (f.moults_left[1] + f.not_normal, <, 1);
        c.in.today = TODAY;
        c.options.no_signs = true;
        f = forecast (&c);
        g_assert_cmpint (f.moulting, ==, -1);
        case_clear (&c);
      }
}

static double
shift_of_sign (Case *c, gsize at, double median)
{
  CoreSignSeen taken = c->state.signs.v[at];
  double without;

  c->state.signs.v[at].first = CORE_DAY_NONE; /* none that counts */
  without = forecast (c).days[CORE_Q50];
  c->state.signs.v[at] = taken;
  return fabs (median - without);
}

/* However many facts there are, of the signs only those that moved least find no place. */
static void
test_many_facts (void)
{
  Case c;
  CoreForecast f;
  CoreMessage slow = { .3, .1 };
  double said = INFINITY, unsaid = 0;

  case_init (&c);
  made_stage (&c.state, CORE_START_ACQUIRED, -INFINITY, TODAY - 90);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 61, TODAY - 60);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 41, TODAY - 40);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 21, TODAY - 20);
  made_moults (&c.state, 5, CORE_BASIS_ESTIMATED);
  c.state.subadult = true;
  c.in.message = &slow;
  c.in.p_male = .9;
  c.profile.male_factor = .8;
  for (int sign = 0; sign < CORE_N_SIGNS; sign++)
    made_sign (&c.state, sign, TODAY - 7 + sign, TODAY - 8 + sign, 1);
  f = forecast (&c);
  g_assert_cmpuint (f.n_reasons, <=, CORE_MAX_REASONS);
  for (gsize k = 0; k < c.state.signs.n; k++)
    {
      double shift = shift_of_sign (&c, k, f.days[CORE_Q50]);
      bool named = false;

      for (gsize i = 0; i < f.n_reasons; i++)
        named = named || (strcmp (f.reasons[i].rule, "forecast.signs") == 0 &&
                          f.reasons[i].code == c.state.signs.v[k].sign);
      if (named)
        said = fmin (said, shift);
      else
        unsaid = fmax (unsaid, shift);
    }
  g_assert_cmpfloat (unsaid, >, 0);
  g_assert_cmpfloat (said, >=, unsaid - 1e-9);
  reason (&f, "forecast.arrival_wait");
  reason (&f, "forecast.earlier_stages");
  reason (&f, "forecast.own_stages");
  reason (&f, "forecast.warmth");
  reason (&f, "forecast.subadult");
  reason (&f, "forecast.stage");
  case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/forecast-facts/unknown-warmth", test_unknown_warmth);
  g_test_add_func ("/forecast-facts/arrival-wait", test_arrival_wait);
  g_test_add_func ("/forecast-facts/finished-stages", test_finished_stages);
  g_test_add_func ("/forecast-facts/signs", test_signs);
  g_test_add_func ("/forecast-facts/looks", test_looks);
  g_test_add_func ("/forecast-facts/subadult", test_subadult);
  g_test_add_func ("/forecast-facts/room", test_room);
  g_test_add_func ("/forecast-facts/stage-length", test_stage_length);
  g_test_add_func ("/forecast-facts/doubt", test_doubt);
  g_test_add_func ("/forecast-facts/unseen", test_unseen);
  g_test_add_func ("/forecast-facts/found-late", test_found_late);
  g_test_add_func ("/forecast-facts/dated", test_dated);
  g_test_add_func ("/forecast-facts/moult-itself", test_moult_itself);
  g_test_add_func ("/forecast-facts/many-facts", test_many_facts);
  return g_test_run ();
}
