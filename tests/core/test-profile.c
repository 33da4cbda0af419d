/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-profile.c — the general profile, the tables of the groups, the ladder that lends.
 * The figures of the groups are common practice, no source. */
#include <glib.h>
#include <math.h>

#include "core/core-profile.h"

static void
test_general (void)
{
  CoreProfile p;

  core_profile_init (&p);
  g_assert_true (p.general);
  for (int sex = 0; sex < 2; sex++)
    {
      double sum = 0;
      for (int n = 0; n <= CORE_MAX_MOULTS; n++)
        sum += p.n_moults[sex][n];
      g_assert_cmpfloat_with_epsilon (sum, 1, 1e-12);
    }
  g_assert_cmpfloat (p.sd_rho, ==, .18);
  g_assert_cmpfloat (p.clock.t0.v, ==, 12);
  g_assert_cmpint (p.clock.t0.tag, ==, CORE_TAG_OURS);
  g_assert_cmpint (p.mist.a.tag, ==, CORE_TAG_PRACTICE);
  g_assert_cmpint (p.readable_from, ==, 3);
  core_profile_clear (&p);
}

static void
test_groups (void)
{
  static const struct
  {
    CoreGroup group;
    double day_lo, day_hi, feed_m4_b, touch_adult, food_adult_b, topt;
    bool flying, damp;
  } rows[] = {
    { CORE_GROUP_HARDY, 22, 28, 4, 5, 3, 28, false, false },
    { CORE_GROUP_HUMID, 24, 29, 3, 7, 4, 28, false, true },
    { CORE_GROUP_DRY_HOT, 26, 30, 3, 7, 3, 33, true, false },
    { CORE_GROUP_IDOLOMANTIS, 27, 32, 3, 7, 4, 33, true, false },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreProfile p;
      core_profile_init (&p);
      core_profile_group_defaults (&p, rows[i].group);
      g_assert_cmpfloat (p.day_lo.v, ==, rows[i].day_lo);
      g_assert_cmpfloat (p.day_hi.v, ==, rows[i].day_hi);
      g_assert_cmpfloat (p.feed[CORE_CARE_M4].b.v, ==, rows[i].feed_m4_b);
      g_assert_cmpfloat (p.touch_days[CORE_HARD_ADULT].v, ==, rows[i].touch_adult);
      g_assert_cmpfloat (p.food_days[CORE_HARD_ADULT].b.v, ==, rows[i].food_adult_b);
      g_assert_cmpfloat (p.clock.topt.v, ==, rows[i].topt);
      g_assert_true (p.flying_prey_only == rows[i].flying);
      g_assert_true (p.damp_substrate == rows[i].damp);
      core_profile_clear (&p);
    }
}

static void
test_from_the_end (void)
{
  CoreProfile p;
  double extra;

  core_profile_init (&p);
  p.stage_days[3] = (CoreTagged){ 14, CORE_TAG_PRACTICE, -1 };
  p.last_days[0] = (CoreTagged){ 20, CORE_TAG_PRACTICE, -1 };
  p.last_days[1] = (CoreTagged){ 30, CORE_TAG_PRACTICE, -1 };
  p.male_factor = .9;
  g_assert_cmpfloat (core_profile_stage_days (&p, 3, 8, CORE_SEX_FEMALE, &extra), ==, 14);
  g_assert_cmpfloat (extra, ==, 0);
  g_assert_cmpfloat (core_profile_stage_days (&p, 6, 8, CORE_SEX_FEMALE, &extra), ==, 20);
  g_assert_cmpfloat (core_profile_stage_days (&p, 7, 8, CORE_SEX_FEMALE, &extra), ==, 30);
  g_assert_cmpfloat (core_profile_stage_days (&p, 3, 4, CORE_SEX_FEMALE, &extra), ==, 30);
  g_assert_cmpfloat_with_epsilon (core_profile_stage_days (&p, 7, 8, CORE_SEX_MALE, &extra), 27,
                                  1e-12);
  core_profile_clear (&p);
}

/* A stage without a figure borrows, scaled to what the species has, with a wider sd. */
static void
test_borrows (void)
{
  CoreProfile p, q;
  double extra;

  core_profile_init (&p);
  core_profile_init (&q);
  for (int m = 0; m < 20; m++)
    g_assert_cmpfloat (core_profile_stage_days (&p, m, 8, CORE_SEX_UNKNOWN, &extra), >, 0);
  g_assert_cmpfloat (extra, >, .1);
  q.stage_days[0].v = 2 * core_profile_stage_days (&p, 0, 8, CORE_SEX_UNKNOWN, NULL);
  g_assert_cmpfloat_with_epsilon (core_profile_stage_days (&q, 4, 8, CORE_SEX_UNKNOWN, NULL),
                                  2 * core_profile_stage_days (&p, 4, 8, CORE_SEX_UNKNOWN, NULL),
                                  1e-9);
  core_profile_clear (&p);
  core_profile_clear (&q);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/profile/general", test_general);
  g_test_add_func ("/profile/groups", test_groups);
  g_test_add_func ("/profile/from-the-end", test_from_the_end);
  g_test_add_func ("/profile/borrows", test_borrows);
  return g_test_run ();
}
