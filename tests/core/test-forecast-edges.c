/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-forecast-edges.c — where a forecast was, or could be, wrong and sure: signs far outside the
 * range, numbers of moults that no kind has, what others say, stages begun in another room. */
#include "forecast-case.h"

#include "core/core-forecast-lot.h"
#include "core/core-forecast-parts.h"

/* Every row of the table of the normal law, and between its rows, against erfc. */
static void
test_tail (void)
{
  const FcTail *tail = fc_tail_table ();
  double worst = 0;

  for (int i = 0; i < FC_TAIL_MAX * FC_TAIL_STEP; i++)
    for (int k = 0; k < 4; k++)
      {
        double z = (i + k * .25) / FC_TAIL_STEP, want = .5 * erfc (z / sqrt (2));
        worst = fmax (worst, fabs (fc_tail (tail, z) / want - 1));
        g_assert_cmpfloat (fabs (fc_tail (tail, z) / want - 1), <, z < 4 ? 1e-6 : 2e-5);
      }
  g_assert_cmpfloat_with_epsilon (fc_above (tail, -1.2815515655446004), .9, 1e-9);
  g_test_message ("largest relative error %.2g", worst);
}

static double
median_with (int ago, gboolean refuses, int other, int stage)
{
  Case c;
  CoreForecast f;

  case_init (&c);
  third_stage (&c, ago);
  if (stage == CORE_SEEN_SUBADULT)
    c.state.subadult = true;
  if (refuses)
    made_sign (&c.state, CORE_SIGN_REFUSES, TODAY, TODAY - 1, 3);
  if (other >= 0)
    made_sign (&c.state, other, TODAY, TODAY - 1, 1);
  f = forecast (&c);
  check_sane (&f);
  case_clear (&c);
  return f.days[CORE_Q50];
}

/* A second sign on the same day, of a shorter lead, never puts it off, however far from its range.
 */
static void
test_second_sign (void)
{
  static const int others[] = { CORE_SIGN_HANGING, CORE_SIGN_DULL, CORE_SIGN_PUMPING };

  for (int ago = 1; ago <= 19; ago += 3)
    for (gsize k = 0; k < G_N_ELEMENTS (others); k++)
      {
        double alone = median_with (ago, TRUE, -1, 0);
        double both = median_with (ago, TRUE, others[k], 0);

        g_assert_cmpfloat (both, <=, alone + .01);
      }
  g_assert_cmpfloat (median_with (1, TRUE, -1, 0), <, median_with (1, FALSE, -1, 0));
}

/* With an unknown stage nothing is held possible that no kind has. */
static void
test_moults_left (void)
{
  Case c;
  CoreForecast f;
  int most = 0;

  case_init (&c);
  made_stage (&c.state, CORE_START_ACQUIRED, TODAY - 3, TODAY - 3);
  made_moults (&c.state, -1, CORE_BASIS_UNKNOWN);
  for (int n = 1; n <= CORE_MAX_MOULTS; n++)
    if (c.profile.n_moults[0][n] > 0 || c.profile.n_moults[1][n] > 0)
      most = n;
  f = forecast (&c);
  check_sane (&f);
  for (int n = most + 2; n <= CORE_MAX_MOULTS; n++)
    g_assert_cmpfloat (f.moults_left[n], ==, 0);
  g_assert_cmpfloat (f.moults_left[1], >, 0);
  case_clear (&c);

  case_init (&c); /* more than any kind has, counted: one or two more is all that can be */
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 4, TODAY - 3);
  made_moults (&c.state, most + 2, CORE_BASIS_COUNTED);
  f = forecast (&c);
  check_sane (&f);
  g_assert_cmpfloat (f.moults_left[1], >, .1);
  g_assert_cmpfloat_with_epsilon (f.moults_left[1] + f.moults_left[2], 1, 1e-9);
  case_clear (&c);
}

/* What others say moves it, is told as a reason, and parts into lot-mates and room. */
static void
test_others (void)
{
  const CoreMessage slow = { .25, .08 }, room = { .10, .15 };
  Case c;
  CoreForecast neutral, f;
  double lot_shift = NAN, room_shift = NAN;

  case_init (&c);
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 2, TODAY - 1);
  made_moults (&c.state, 0, CORE_BASIS_COUNTED);
  neutral = forecast (&c);
  c.in.message = &slow;
  c.in.room_alone = &room;
  f = forecast (&c);
  g_assert_cmpfloat (f.days[CORE_Q50], >, 1.15 * neutral.days[CORE_Q50]);
  g_assert_cmpfloat (log ((f.days[CORE_Q90] + 1) / (f.days[CORE_Q10] + 1)), <,
                     log ((neutral.days[CORE_Q90] + 1) / (neutral.days[CORE_Q10] + 1)));
  for (gsize i = 0; i < f.n_reasons; i++)
    {
      if (g_str_equal (f.reasons[i].rule, "forecast.lot"))
        lot_shift = f.reasons[i].shift_days;
      if (g_str_equal (f.reasons[i].rule, "forecast.room"))
        room_shift = f.reasons[i].shift_days;
    }
  g_assert_cmpfloat (lot_shift, >, .5);
  g_assert_cmpfloat (room_shift, >, .2);
  g_assert_cmpfloat_with_epsilon (lot_shift + room_shift, f.days[CORE_Q50] - neutral.days[CORE_Q50],
                                  .15);
  case_clear (&c);
}

/* A slow stage in a room that is known to be slow says little of the animal. */
static void
test_elsewhere (void)
{
  const CoreMessage elsewhere[3] = { { .3, .05 }, { .3, .05 }, { 0, 0 } };
  Case c;
  CoreForecast same, other;

  case_init (&c);
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 45, TODAY - 44);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 25, TODAY - 24);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 4, TODAY - 3);
  made_moults (&c.state, 2, CORE_BASIS_COUNTED);
  same = forecast (&c);
  c.in.elsewhere = elsewhere;
  other = forecast (&c);
  g_assert_cmpfloat (other.days[CORE_Q50], <, same.days[CORE_Q50] - 1);
  case_clear (&c);
}

/* A message is the same on every later day, a look at the old skin late in a stage makes it
 * slower, and it tells of the stages of that room alone. */
static void
test_message_rests (void)
{
  Case c;
  double y[3], p[3];
  bool here[3] = { true, false, false };

  case_init (&c);
  made_stage (&c.state, CORE_START_HATCHED, TODAY - 55, TODAY - 54);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 39, TODAY - 38);
  made_stage (&c.state, CORE_START_MOULTED, TODAY - 27, TODAY - 26);
  made_moults (&c.state, 2, CORE_BASIS_COUNTED);
  g_assert_true (core_forecast_message (&c.in, &y[0], &p[0]));
  g_assert_cmpint (core_forecast_message_day (&c.state, TODAY), ==, TODAY - 26);
  c.in.today = TODAY + 60;
  g_assert_true (core_forecast_message (&c.in, &y[1], &p[1]));
  g_assert_true (y[0] == y[1] && p[0] == p[1]);
  c.in.today = TODAY;
  c.in.here = here;
  g_assert_true (core_forecast_message (&c.in, &y[2], &p[2]));
  g_assert_cmpfloat (p[2], <, p[0]);
  c.in.here = NULL;
  made_look (&c.state, TODAY - 3);
  g_assert_true (core_forecast_message (&c.in, &y[1], &p[1]));
  g_assert_cmpfloat (y[1], >, y[0] + .02);
  case_clear (&c);
}

/* What was entered for a whole lot its lot tells, not each of those that came out of it. */
static void
test_message_of_lot (void)
{
  Case c;
  double y, p;

  case_init (&c);
  third_stage (&c, 0);
  c.state.stages.v[1].of_lot = c.state.stages.v[2].of_lot = true;
  g_assert_false (core_forecast_message (&c.in, &y, &p));
  c.state.kind = CORE_SUBJECT_LOT;
  g_assert_true (core_forecast_message (&c.in, &y, &p));
  g_assert_cmpfloat (p, >, 1);
  case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/forecast-edges/tail", test_tail);
  g_test_add_func ("/forecast-edges/second-sign", test_second_sign);
  g_test_add_func ("/forecast-edges/moults-left", test_moults_left);
  g_test_add_func ("/forecast-edges/others", test_others);
  g_test_add_func ("/forecast-edges/elsewhere", test_elsewhere);
  g_test_add_func ("/forecast-edges/message-rests", test_message_rests);
  g_test_add_func ("/forecast-edges/message-of-lot", test_message_of_lot);
  return g_test_run ();
}
