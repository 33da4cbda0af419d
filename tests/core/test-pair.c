/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-pair.c — the chance that a lot holds a male and a female. */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "core/core-pair.h"

/* Every sex of every animal, one after the other. */
static double
by_hand (double male, int n)
{
  double sum = 0;
  for (unsigned who = 0; who < 1u << n; who++)
    {
      double p = 1;
      int males = 0;
      for (int i = 0; i < n; i++)
        {
          int is = (who >> i) & 1;
          males += is;
          p *= is ? male : 1 - male;
        }
      if (males > 0 && males < n)
        sum += p;
    }
  return sum;
}

static void
test_chance (void)
{
  static const double males[] = { 0, .03, .4, .5, .9, 1 };
  for (size_t i = 0; i < G_N_ELEMENTS (males); i++)
    for (int n = 0; n <= 12; n++)
      g_assert_cmpfloat_with_epsilon (core_pair_chance (males[i], n), by_hand (males[i], n), 1e-12);
  g_assert_cmpfloat (core_pair_chance (.5, 6), ==, 1 - 2 / 64.);
  g_assert_cmpfloat (core_pair_chance (.5, 4000000000), ==, 1);
  g_assert_cmpfloat (core_pair_chance (NAN, 5), ==, 0);
  g_assert_cmpfloat (core_pair_chance (.5, -3), ==, 0);
}

static void
test_lot (void)
{
  CoreProfile profile = { .male_prior = .5 };
  CoreState lot = { .kind = CORE_SUBJECT_LOT };
  CorePair pair = core_pair_of_lot (&lot, &profile);
  g_assert_cmpint (pair.why, ==, CORE_PAIR_NO_COUNT);
  g_assert_true (isnan (pair.chance));
  lot.tally.known = true;
  lot.tally.count = 3;
  pair = core_pair_of_lot (&lot, &profile);
  g_assert_cmpint (pair.why, ==, CORE_PAIR_KNOWN);
  g_assert_false (pair.counted);
  g_assert_cmpfloat (pair.chance, ==, .75);
  /* What breeds without males is never asked for one. */
  profile.parthenogenetic = true;
  pair = core_pair_of_lot (&lot, &profile);
  g_assert_cmpint (pair.why, ==, CORE_PAIR_NO_MALE);
  g_assert_true (isnan (pair.chance));
  profile.parthenogenetic = false;
  lot.end = CORE_END_LEFT;
  g_assert_cmpint (core_pair_of_lot (&lot, &profile).why, ==, CORE_PAIR_NO_COUNT);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/pair/chance", test_chance);
  g_test_add_func ("/core/pair/lot", test_lot);
  return g_test_run ();
}
