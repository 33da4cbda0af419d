/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-sex-marks.c — what makes a count weigh less, or nothing: marks that nobody checked, counts that no
 * mantis shows, the wrong side, the kind, the stage; and what pictures cannot outvote. */
#include "sex-case.h"

/* The kind's own usual counts move the tables; of an unknown kind six may be appendages. */
static void
test_kind_counts (void)
{
  CoreProfile p = profile_of (false), unknown = profile_of (false);
  CoreSexInput six = marked (5, 1, 6, CORE_SMALL_NOT, -1), seven = marked (5, 1, 7, CORE_SMALL_NOT, -1);
  CoreSexVerdict v;

  p.plates[0].v = 9;
  p.plates[1].v = 7;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &seven, 1), .05 / .88, 1e-9); /* as six of others */
  p.plates[0].v = 8;
  p.plates[1].v = 6;
  g_assert_cmpfloat_with_epsilon (male_of (&p, &six, 1), .05 / .88, 1e-9);
  unknown.general = true;
  v = combine (&unknown, &six, 1);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_cmpuint (v.ask & CORE_ASK_CONVENTION, !=, 0);
  core_sex_verdict_clear (&v);
  six.reading.convention = CORE_CONVENTION_PLATES;
  v = combine (&unknown, &six, 1);
  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  g_assert_cmpuint (v.ask & CORE_ASK_CONVENTION, ==, 0);
  core_sex_verdict_clear (&v);
}

/* An egg case is not outvoted by pictures; that they say another thing is shown. */
static void
test_settled_against_pictures (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in[4] = { marked (5, 1, 8, CORE_SMALL_NOT, CORE_LAST_SMALL), marked (6, 2, 8, CORE_SMALL_NOT, CORE_LAST_SMALL),
                         marked (7, 3, 8, CORE_SMALL_NOT, CORE_LAST_SMALL),
                         sexed (8, CORE_METHOD_LAID, CORE_SEX_FEMALE) };
  CoreSexVerdict v = combine (&p, in, 4);

  g_assert_cmpint (v.verdict, ==, CORE_VERDICT_FIRM_FEMALE);
  g_assert_true (v.conflict);
  core_sex_verdict_clear (&v);
}

/* From the side the rings of the back are seen. */
static void
test_flank_counts_nothing (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in = marked (5, 1, 8, CORE_SMALL_NOT, -1);

  in.reading.side = CORE_SIDE_FLANK;
  g_assert_cmpfloat (male_of (&p, &in, 1), ==, .5);
}

/* Most likely a stage too early: that is what is said, though a later one is possible. */
static void
test_most_likely_too_early (void)
{
  CoreProfile p = profile_of (false);
  CoreSexInput in = marked (2, 1, 6, CORE_SMALL_NOT, -1);
  CoreSexVerdict v;

  in.moults_p[2] = .9;
  in.moults_p[3] = .1;
  v = combine (&p, &in, 1);
  g_assert_cmpfloat (v.female, >, .5);
  g_assert_true (v.too_early);
  core_sex_verdict_clear (&v);
}

/* Along marks that the program placed and nobody called right no count is likely by itself; the
 * same count is, once they are said to be right. */
static void
test_marks_open (void)
{
  static const struct
  {
    int count, small;
  } rows[] = { { 8, CORE_SMALL_NOT }, { 9, CORE_SMALL_COUNTED }, { 6, CORE_SMALL_NOT }, { 7, CORE_SMALL_COUNTED } };
  CoreProfile p = profile_of (false);

  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreSexInput in = marked (5, 1, rows[i].count, rows[i].small, -1);
      CoreSexVerdict sure = combine (&p, &in, 1), open;

      in.reading.axis_by_program = true;
      open = combine (&p, &in, 1);
      g_assert_cmpint (sure.verdict, !=, CORE_VERDICT_UNDECIDED);
      g_assert_cmpuint (sure.ask & CORE_ASK_MARKS, ==, 0);
      g_assert_cmpint (open.verdict, ==, CORE_VERDICT_UNDECIDED);
      g_assert_cmpuint (open.ask & CORE_ASK_MARKS, !=, 0);
      g_assert_cmpint (open.evidence[0].note, ==, CORE_WEIGHT_MARKS_OPEN);
      g_assert_cmpint (open.evidence[0].says, ==, sure.evidence[0].says);
      core_sex_verdict_clear (&sure);
      core_sex_verdict_clear (&open);
    }
}

/* Ten plates, or nine without the small one, or five: the marks are asked about. Of an empusid five
 * may be appendages. */
static void
test_odd_counts (void)
{
  static const int odd[] = { 4, 5, 9, 10, 14 };
  CoreProfile p = profile_of (false), empusid = profile_of (true);
  CoreSexInput five = marked (5, 1, 5, CORE_SMALL_NOT, -1);
  CoreSexVerdict v;

  for (size_t i = 0; i < G_N_ELEMENTS (odd); i++)
    {
      CoreSexInput in = marked (5, 1, odd[i], CORE_SMALL_NOT, -1);

      v = combine (&p, &in, 1);
      g_assert_cmpint (v.verdict, ==, CORE_VERDICT_UNDECIDED);
      g_assert_cmpuint (v.ask & CORE_ASK_MARKS, !=, 0);
      core_sex_verdict_clear (&v);
    }
  five.reading.convention = CORE_CONVENTION_APPENDAGES;
  v = combine (&empusid, &five, 1);
  g_assert_cmpuint (v.ask & CORE_ASK_MARKS, ==, 0);
  g_assert_cmpint (v.evidence[0].note, !=, CORE_WEIGHT_ODD_COUNT);
  core_sex_verdict_clear (&v);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sex/marks-open", test_marks_open);
  g_test_add_func ("/sex/odd-counts", test_odd_counts);
  g_test_add_func ("/sex/kind-counts", test_kind_counts);
  g_test_add_func ("/sex/settled-against-pictures", test_settled_against_pictures);
  g_test_add_func ("/sex/flank", test_flank_counts_nothing);
  g_test_add_func ("/sex/most-likely-too-early", test_most_likely_too_early);
  return g_test_run ();
}
