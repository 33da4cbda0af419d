/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-growth.c — length against stage: published ratios, and the conjugate update
 * against a direct solution of the same normal model. */
#include "animals.h"

#include "core/core-growth.h"

typedef struct
{
  CoreState state;
  CoreProfile profile;
} Case;

static void
case_init (Case *c, int m)
{
  made_init (&c->state, CORE_SUBJECT_ANIMAL);
  core_profile_init (&c->profile);
  for (int i = 0; i <= m; i++)
    made_stage (&c->state, i ? CORE_START_MOULTED : CORE_START_HATCHED, 20 * i, 20 * i + 1);
  made_moults (&c->state, m, CORE_BASIS_COUNTED);
  memset (c->profile.n_moults, 0, sizeof c->profile.n_moults);
  c->profile.n_moults[0][8] = c->profile.n_moults[1][8] = 1;
}

static void
case_clear (Case *c)
{
  made_clear (&c->state);
  core_profile_clear (&c->profile);
}

static void
measure (Case *c, int what, int stage, double mm, double sd)
{
  PUSH (c->state.measures,
        (CoreMeasure){ .day = 20 * stage + 5, .what = what, .mm = mm, .sd = sd, .stage = stage });
}

/* Default ratios lie between Przibram's rule, 2^(1/3) = 1.26, and the mean of mantids,
 * 1.29 (Faber 1994, J. Zool., length ratio between successive instars; mass ratio 2.09). */
static void
test_ratios (void)
{
  CoreProfile p;

  core_profile_init (&p);
  g_assert_cmpfloat (p.ratio_body, >=, cbrt (2) - 1e-3);
  g_assert_cmpfloat (p.ratio_body, <=, 1.29);
  g_assert_cmpfloat_with_epsilon (cbrt (2.09), p.ratio_body, .01);
  /* head width, Tenodera aridifolia L1–L4: 1.70 2.10 2.40 2.90 mm
   * (newton.com.tw/wiki/大刀螳螂/5828600): mean ratio (2.90 / 1.70)^(1/3) */
  g_assert_cmpfloat_with_epsilon (cbrt (2.90 / 1.70), p.ratio_head, .01);
  core_profile_clear (&p);
}

static void
test_unmeasured (void)
{
  Case c;
  CoreGrowth g, adult;

  case_init (&c, 4);
  g = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 5);
  g_assert_false (g.known);
  g_assert_true (isnan (g.p50));
  g_assert_true (isnan (core_body_now (&c.state, &c.profile, .5)));
  c.profile.adult_mm[1] = (CoreTagged){ 80, CORE_TAG_PRACTICE, -1 };
  g = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 5);
  g_assert_true (g.known);
  g_assert_cmpint (g.measured, ==, 0);
  g_assert_cmpfloat_with_epsilon (g.p50, 80 / pow (1.28, 3), 1e-9); /* 3 moults left */
  /* sd² = .15² + (3 × .04)² + .03² */
  g_assert_cmpfloat_with_epsilon (log (g.p90 / g.p50) / 1.2815515655, sqrt (.0225 + .0144 + .0009),
                                  1e-9);
  adult = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 8);
  g_assert_cmpfloat_with_epsilon (adult.p50, 80, 1e-9);
  g_assert_cmpfloat (adult.p90 / adult.p50, <, g.p90 / g.p50);
  case_clear (&c);
}

/* Solves A x = b for three unknowns by Cramer's rule. */
static double
det (double m[3][3])
{
  return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
         m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
         m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

static double
cramer (double m[3][3], const double b[3], int column)
{
  double copy[3][3];

  memcpy (copy, m, sizeof copy);
  for (int i = 0; i < 3; i++)
    copy[i][column] = b[i];
  return det (copy) / det (m);
}

/* The same model in its own words, x = (a, ln rho, delta) with a | rho, delta: one
 * penalty each, solved at once from the normal equations. */
static void
test_against_normal_equations (void)
{
  static const struct
  {
    int m;
    double mm, sd;
  } rows[] = { { 0, 9.5, .3 }, { 1, 13.9, NAN }, { 2, 17.2, .5 }, { 3, 21, .4 } };
  double h[3][3] = { { 0 } }, b[3] = { 0 }, mean, var, want;
  Case c;
  CoreGrowth g;

  case_init (&c, 3);
  c.profile.adult_mm[0] = c.profile.adult_mm[1] = (CoreTagged){ 80, CORE_TAG_PRACTICE, -1 };
#define PENALTY(x0, x1, x2, value, variance)                                                       \
  G_STMT_START                                                                                     \
  {                                                                                                \
    double x[3] = { x0, x1, x2 };                                                                  \
    for (int i = 0; i < 3; i++)                                                                    \
      {                                                                                            \
        b[i] += x[i] * (value) / (variance);                                                       \
        for (int j = 0; j < 3; j++)                                                                \
          h[i][j] += x[i] * x[j] / (variance);                                                     \
      }                                                                                            \
  }                                                                                                \
  G_STMT_END
  PENALTY (1, 8, 1, log (80), .15 * .15); /* a + 8 ln rho + delta = ln adult */
  PENALTY (0, 1, 0, log (1.28), .04 * .04);
  PENALTY (0, 0, 1, .10, .08 * .08);
  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      double sd = isnan (rows[r].sd) ? .03 : rows[r].sd / rows[r].mm;
      measure (&c, 0, rows[r].m, rows[r].mm, rows[r].sd);
      PENALTY (1, rows[r].m, rows[r].m > 0, log (rows[r].mm), sd * sd + .03 * .03);
    }
  measure (&c, 1, 3, 3, NAN);   /* a head is no body */
  measure (&c, 0, -1, 99, NAN); /* of a stage that is not known */
  g = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 4);
  want = cramer (h, b, 0) + 4 * cramer (h, b, 1) + cramer (h, b, 2);
  mean = log (g.p50);
  g_assert_cmpint (g.measured, ==, 4);
  g_assert_cmpfloat_with_epsilon (mean, want, 1e-9);
  var = 0;
  for (int i = 0; i < 3; i++)
    {
      double x[3] = { 1, 4, 1 };
      var += x[i] * cramer (h, x, i);
    }
  g_assert_cmpfloat_with_epsilon (log (g.p90 / g.p50) / 1.2815515655446, sqrt (var + .03 * .03),
                                  1e-9);
  case_clear (&c);
}

/* A head has no adult length in a profile: nothing is said until one is measured. */
static void
test_head (void)
{
  Case c;
  CoreGrowth g;

  case_init (&c, 2);
  c.profile.adult_mm[0] = c.profile.adult_mm[1] = (CoreTagged){ 80, CORE_TAG_PRACTICE, -1 };
  g_assert_false (core_growth (&c.state, &c.profile, .5, CORE_DIM_HEAD, 3).known);
  measure (&c, 1, 2, 2.4, NAN);
  g = core_growth (&c.state, &c.profile, .5, CORE_DIM_HEAD, 3);
  g_assert_true (g.known);
  g_assert_cmpint (g.measured, ==, 1);
  /* L3 2.40 to L4 2.90 ± .08 mm in Tenodera aridifolia: inside the range */
  g_assert_cmpfloat_with_epsilon (g.p50, 2.4 * 1.2, .01);
  g_assert_cmpfloat (g.p10, <, 2.90);
  g_assert_cmpfloat (g.p90, >, 2.90);
  case_clear (&c);
}

/* Mantis religiosa L1 to L2: 5.70 to 8.50 mm, ratio 1.49 (newton.com.tw/wiki/薄翅螳螂): the
 * first step is larger, and the range after a measured hatchling reaches it. */
static void
test_first_step (void)
{
  Case c;
  CoreGrowth g;

  case_init (&c, 0);
  measure (&c, 0, 0, 5.70, .46);
  g = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 1);
  g_assert_cmpfloat_with_epsilon (g.p50, 5.70 * 1.28 * exp (.1), .05);
  g_assert_cmpfloat (g.p90, >, 8.50);
  case_clear (&c);
}

/* Where the profile knows a hatchling's length, nobody measured the animal, and the usual ratio does not
 * lead from the one to the other: all moults make up for it, none alone. */
static void
test_hatchling_and_adult (void)
{
  double before, lo = INFINITY, hi = 0;
  CoreGrowth own;
  Case c;

  case_init (&c, 0);
  c.profile.hatchling_mm = (CoreTagged){ 7, CORE_TAG_PRACTICE, -1 };
  c.profile.adult_mm[0] = c.profile.adult_mm[1] = (CoreTagged){ 100, CORE_TAG_PRACTICE, -1 };
  before = core_body_now (&c.state, &c.profile, .5);
  g_assert_cmpfloat_with_epsilon (before, 7, .7);
  g_assert_cmpfloat (before, ==, core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 0).p50);
  for (int m = 1; m <= 8; m++)
    {
      double now = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, m).p50;

      if (m > 1)
        lo = fmin (lo, now / before);
      hi = fmax (hi, now / before);
      before = now;
    }
  g_assert_cmpfloat_with_epsilon (before, 100, 1e-9); /* the adult is as long as its kind */
  g_assert_cmpfloat (lo, >, 1.28);
  g_assert_cmpfloat (hi, <, lo * exp (.1) + 1e-9);
  measure (&c, 0, 0, 9, NAN); /* what was measured decides */
  own = core_body_range (&c.state, &c.profile, .5);
  g_assert_cmpint (own.measured, ==, 1);
  g_assert_cmpfloat_with_epsilon (own.p50, 9, .3);
  g_assert_cmpfloat (core_body_safe (&own), ==, own.p50);
  case_clear (&c);
}

/* A kind of which only the hatchling's length is known. */
static void
test_hatchling_alone (void)
{
  CoreGrowth g;
  Case c;

  case_init (&c, 3);
  c.profile.hatchling_mm = (CoreTagged){ 7, CORE_TAG_PRACTICE, -1 };
  g = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 0);
  g_assert_true (g.known);
  g_assert_cmpfloat_with_epsilon (g.p50, 7, 1e-9);
  g_assert_cmpfloat_with_epsilon (log (g.p90 / g.p50) / 1.2815515655446, hypot (.15, .03), 1e-9);
  g = core_body_range (&c.state, &c.profile, .5);
  g_assert_cmpfloat_with_epsilon (g.p50, 7 * pow (1.28, 3) * exp (.1), 1e-9);
  g_assert_cmpfloat_with_epsilon (log (g.p90 / g.p50) / 1.2815515655446,
                                  sqrt (.0225 + .0144 + .0064 + .0009), 1e-9);
  g_assert_cmpfloat (core_body_safe (&g), ==, g.p10);
  case_clear (&c);
}

static void
test_sex_and_end (void)
{
  Case c;
  double male, female;

  case_init (&c, 5);
  c.profile.adult_mm[0] = (CoreTagged){ 60, CORE_TAG_PRACTICE, -1 };
  c.profile.adult_mm[1] = (CoreTagged){ 90, CORE_TAG_PRACTICE, -1 };
  male = core_growth (&c.state, &c.profile, 1, CORE_DIM_BODY, 5).p50;
  female = core_growth (&c.state, &c.profile, 0, CORE_DIM_BODY, 5).p50;
  g_assert_cmpfloat_with_epsilon (female / male, 1.5, 1e-9);
  c.state.subadult = true; /* one moult left, whatever the count says */
  g_assert_cmpfloat_with_epsilon (core_body_now (&c.state, &c.profile, 0), 90 / 1.28, 1e-9);
  c.state.adult = true;
  g_assert_cmpfloat_with_epsilon (core_body_now (&c.state, &c.profile, 0), 90, 1e-9);
  case_clear (&c);
}

static void
test_stage_unknown (void)
{
  Case c;

  case_init (&c, 2);
  made_moults (&c.state, -1, CORE_BASIS_UNKNOWN);
  c.profile.adult_mm[0] = (CoreTagged){ 60, CORE_TAG_PRACTICE, -1 };
  measure (&c, 0, 1, 14, NAN); /* of the stage before */
  g_assert_true (isnan (core_body_now (&c.state, &c.profile, .5)));
  c.state.subadult = true; /* one moult from the adult, however many it took */
  g_assert_cmpfloat_with_epsilon (core_body_now (&c.state, &c.profile, .5), 60 / 1.28, 1e-9);
  g_assert_true (core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, -1).known);
  g_assert_cmpfloat_with_epsilon (core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, -1).p50, 60, 1e-9);
  c.state.subadult = false;
  g_assert_false (core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, -1).known);
  c.state.adult = true; /* that of the adult, however many moults it took */
  g_assert_cmpfloat_with_epsilon (core_body_now (&c.state, &c.profile, .5), 60, 1e-9);
  measure (&c, 0, 2, 18, NAN);
  g_assert_cmpfloat (core_body_now (&c.state, &c.profile, .5), ==, 18);
  case_clear (&c);
}

static void
test_refused (void)
{
  Case c;

  case_init (&c, 2);
  c.profile.adult_mm[0] = (CoreTagged){ 60, CORE_TAG_PRACTICE, -1 };
  g_assert_false (core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, -1).known);
  g_assert_false (core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 99).known);
  measure (&c, 0, 2, NAN, NAN);
  measure (&c, 0, 2, -4, NAN);
  measure (&c, 0, 2, 20, -1);
  g_assert_cmpint (core_growth (&c.state, &c.profile, NAN, CORE_DIM_BODY, 3).measured, ==, 1);
  case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/growth/ratios", test_ratios);
  g_test_add_func ("/growth/unmeasured", test_unmeasured);
  g_test_add_func ("/growth/against-normal-equations", test_against_normal_equations);
  g_test_add_func ("/growth/head", test_head);
  g_test_add_func ("/growth/first-step", test_first_step);
  g_test_add_func ("/growth/hatchling-and-adult", test_hatchling_and_adult);
  g_test_add_func ("/growth/hatchling-alone", test_hatchling_alone);
  g_test_add_func ("/growth/sex-and-end", test_sex_and_end);
  g_test_add_func ("/growth/stage-unknown", test_stage_unknown);
  g_test_add_func ("/growth/refused", test_refused);
  return g_test_run ();
}
