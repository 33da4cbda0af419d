/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-bench-marks.c — base, tip and bends on the photo bench: proposed, moved, called right, in doubt. */
#include "bench-case.h"

/* Answers all that is left of a picture along the marks that the program placed, as six plates. */
static void
six_as_placed (Bench *bench)
{
  bench_model_set_plates (bench->bench, 6);
  finish (bench, CORE_SMALL_NOT, CORE_LAST_UNCLEAR);
}

/* Nobody said that the program's marks lie right: the count along them is not likely to be anything,
 * now and after it was recorded; once somebody has, it is. */
static void
test_marks_not_called_right (Bench *bench, gconstpointer data)
{
  g_autoptr (DeskSubject) now = NULL;

  wait_suggested (bench->bench);
  bench_model_set_side (bench->bench, CORE_SIDE_UNDERSIDE);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  bench_model_next (bench->bench);
  wait_suggested (bench->bench);
  g_assert_cmpint (bench_model_axis_said (bench->bench), ==, -1);
  g_assert_cmpuint (bench_model_doubts (bench->bench) & BENCH_DOUBT_PLACED, !=, 0);
  bench_model_next (bench->bench);
  six_as_placed (bench);
  g_assert_cmpint (bench_model_verdict (bench->bench)->verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_cmpuint (bench_model_verdict (bench->bench)->ask & CORE_ASK_MARKS, !=, 0);
  record (bench);
  g_assert_cmpint (core_entry_code (marked (bench), CORE_KEY_AXIS_BY, -1), ==, CORE_BY_PROGRAM);
  now = fixture_now (bench->base.desk, bench->animal);
  g_assert_cmpint (desk_subject_verdict (now)->verdict, ==, CORE_VERDICT_UNDECIDED);
  close_bench (bench);
  bench->bench = load (bench); /* as it was recorded */
  wait_found (bench->bench);
  g_assert_true (bench_model_suggested (bench->bench));
  bench_model_say_axis (bench->bench, 1);
  g_assert_cmpuint (bench_model_doubts (bench->bench) & BENCH_DOUBT_PLACED, ==, 0);
  g_assert_cmpint (bench_model_verdict (bench->bench)->verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  bench_model_undo (bench->bench);
  g_assert_cmpint (bench_model_axis_said (bench->bench), ==, -1);
  bench_model_redo (bench->bench);
  close_bench (bench);
  bench->bench = load (bench); /* the word is in the draft */
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_axis_said (bench->bench), ==, 1);
  record (bench);
  g_assert_cmpint (core_entry_code (marked (bench), CORE_KEY_AXIS_BY, -1), ==, -1);
}

/* A tip pulled out of the body is seen by the outline; at its place nothing is said. */
static void
test_tip_beyond_the_body (Bench *bench, gconstpointer data)
{
  CorePoint base = point (bench->truth.base), tip = point (bench->truth.tip);

  begin (bench);
  g_assert_cmpuint (bench_model_doubts (bench->bench), ==, 0);
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP,
                        (CorePoint){ tip.x + .25 * (tip.x - base.x), tip.y + .25 * (tip.y - base.y) });
  wait_found (bench->bench);
  g_assert_cmpuint (bench_model_doubts (bench->bench) & BENCH_DOUBT_TIP, !=, 0);
}

/* A tip inside the body leaves plates out, and so a male looks like a female: until somebody says that it
 * lies right the count is not likely to be anything. */
static void
test_tip_inside_the_body (Bench *bench, gconstpointer data)
{
  CorePoint base = point (bench->truth.base), tip = point (bench->truth.tip);

  begin (bench);
  bench_model_clear_mark (bench->bench, BENCH_MARK_BEND);
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP,
                        (CorePoint){ tip.x - .22 * (tip.x - base.x), tip.y - .22 * (tip.y - base.y) });
  wait_found (bench->bench);
  g_assert_cmpuint (bench_model_doubts (bench->bench) & BENCH_DOUBT_AFTER, !=, 0);
  g_assert_true (bench_model_axis_asked (bench->bench));
  bench_model_set_plates (bench->bench, 6);
  finish (bench, CORE_SMALL_NOT, CORE_LAST_UNCLEAR);
  g_assert_cmpint (bench_model_verdict (bench->bench)->verdict, ==, CORE_VERDICT_UNDECIDED);
  bench_model_say_axis (bench->bench, 1);
  g_assert_cmpint (bench_model_verdict (bench->bench)->verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
}

/* With its base marked on the thorax an animal shows a plate more: not one of the sure. The lines do not
 * wait for the second look, and are not moved by it once they were gone on with. */
static void
test_second_look (Bench *bench, gconstpointer data)
{
  CorePoint base = point (bench->truth.base), tip = point (bench->truth.tip);
  int first, second;
  double sure, less, p_second;

  begin (bench);
  bench_model_best_two (bench->bench, &first, &sure, &second, &p_second);
  g_assert_cmpint (first, ==, bench->truth.count);
  bench_model_set_mark (bench->bench, BENCH_MARK_BASE,
                        (CorePoint){ base.x - .22 * (tip.x - base.x), base.y - .22 * (tip.y - base.y) });
  while (bench_model_finding (bench->bench))
    g_main_context_iteration (NULL, TRUE);
  bench_model_best_two (bench->bench, &first, &sure, &second, &p_second);
  g_assert_true (bench_model_checking (bench->bench) == (sure >= .8));
  g_assert_cmpint (bench_model_count (bench->bench), >, bench->truth.count);
  bench_model_next (bench->bench);
  wait_found (bench->bench);
  bench_model_best_two (bench->bench, &first, &less, &second, &p_second);
  g_assert_cmpfloat (less, <=, sure);
  g_assert_cmpfloat (less, <, .9);
  g_assert_cmpint (bench_model_count (bench->bench), >, bench->truth.count);
}

/* Nine lines' plates are asked about until the small plate is said to be one of them. */
static void
test_odd_count (Bench *bench, gconstpointer data)
{
  begin (bench);
  bench_model_set_plates (bench->bench, 9);
  g_assert_cmpuint (bench_model_doubts (bench->bench), ==, BENCH_DOUBT_MANY);
  bench_model_set_small_plate (bench->bench, CORE_SMALL_COUNTED);
  g_assert_cmpuint (bench_model_doubts (bench->bench), ==, 0);
  bench_model_set_plates (bench->bench, 5);
  g_assert_cmpuint (bench_model_doubts (bench->bench), ==, BENCH_DOUBT_FEW);
}

/* The program's axis: placed when the step is reached, taken back by one undo and not forced again,
 * the keeper's as soon as a mark moves. */
static void
test_suggested_axis (Bench *bench, gconstpointer data)
{
  CorePoint base, tip;
  BenchQuality quality;
  double length =
    hypot (bench->truth.tip.x - bench->truth.base.x, bench->truth.tip.y - bench->truth.base.y);

  wait_suggested (bench->bench);
  g_assert_true (bench_model_quality (bench->bench, &quality)); /* before a mark is there */
  g_assert_cmpuint (quality.unusable, ==, 0);
  bench_model_set_side (bench->bench, CORE_SIDE_UNDERSIDE);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  g_assert_false (bench_model_mark (bench->bench, BENCH_MARK_BASE, &base));
  bench_model_next (bench->bench);
  g_assert_true (bench_model_suggested (bench->bench));
  g_assert_true (bench_model_mark (bench->bench, BENCH_MARK_BASE, &base));
  g_assert_true (bench_model_mark (bench->bench, BENCH_MARK_TIP, &tip));
  g_assert_cmpfloat (hypot (base.x - bench->truth.base.x, base.y - bench->truth.base.y), <, .15 * length);
  g_assert_cmpfloat (hypot (tip.x - bench->truth.tip.x, tip.y - bench->truth.tip.y), <, .15 * length);
  bench_model_undo (bench->bench);
  g_assert_false (bench_model_mark (bench->bench, BENCH_MARK_BASE, &base));
  bench_model_back (bench->bench);
  bench_model_next (bench->bench);
  g_assert_false (bench_model_suggested (bench->bench));
  bench_model_suggest (bench->bench); /* asked for, it comes again */
  g_assert_true (bench_model_suggested (bench->bench));
  bench_model_swap_ends (bench->bench);
  g_assert_false (bench_model_suggested (bench->bench));
  bench_model_mark (bench->bench, BENCH_MARK_BASE, &base);
  g_assert_cmpfloat (base.x, ==, tip.x);
  wait_suggested (bench->bench);
}

/* Bends may be placed in any order: the way from base to tip is the shortest over them, is kept in
 * the entry, and comes back from it. */
static void
test_three_bends (Bench *bench, gconstpointer data)
{
  static const CorePoint way[] = { { 100, 300 }, { 250, 200 }, { 400, 180 }, { 550, 220 }, { 700, 320 } };
  CorePoint axis[BENCH_MAX_AXIS];

  bench_model_set_side (bench->bench, CORE_SIDE_UNDERSIDE);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  bench_model_set_mark (bench->bench, BENCH_MARK_BASE, way[0]);
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP, way[4]);
  bench_model_set_mark (bench->bench, BENCH_MARK_BEND, way[3]);
  bench_model_set_mark (bench->bench, BENCH_MARK_BEND_2, way[1]);
  bench_model_set_mark (bench->bench, BENCH_MARK_BEND_3, way[2]);
  g_assert_false (bench_model_free_bend (bench->bench, &(BenchMark){ 0 }));
  record (bench);
  for (int turn = 0; turn < 2; turn++)
    {
      g_assert_cmpuint (bench_model_axis (bench->bench, axis), ==, 5);
      for (gsize i = 0; i < G_N_ELEMENTS (way); i++)
        {
          g_assert_cmpfloat_with_epsilon (axis[i].x, way[i].x, .01);
          g_assert_cmpfloat_with_epsilon (axis[i].y, way[i].y, .01);
        }
      close_bench (bench);
      bench->bench = load (bench);
    }
  bench_model_set_mark (bench->bench, BENCH_MARK_BASE, way[2]);
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP, (CorePoint){ 250, 202 });
  bench_model_clear_mark (bench->bench, BENCH_MARK_BEND_2);
  bench_model_clear_mark (bench->bench, BENCH_MARK_BEND_3);
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_axis_problem (bench->bench), ==, BENCH_AXIS_CROSSED);
  g_assert_false (bench_model_usable (bench->bench));
}

static void
test_axis_moved_forgets_lines (Bench *bench, gconstpointer data)
{
  begin (bench);
  bench_model_set_plates (bench->bench, 9);
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP, point (bench->truth.base));
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP, point (bench->truth.mid));
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_count (bench->bench), !=, 9);
  bench_model_undo (bench->bench);
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_count (bench->bench), ==, 9);
}

static void
test_marks_are_clamped (Bench *bench, gconstpointer data)
{
  CorePoint at;

  bench_model_set_mark (bench->bench, BENCH_MARK_WING_TIP, (CorePoint){ -50, 1e9 });
  g_assert_true (bench_model_mark (bench->bench, BENCH_MARK_WING_TIP, &at));
  g_assert_cmpfloat (at.x, ==, 0);
  g_assert_cmpfloat (at.y, ==, bench_model_pixels (bench->bench)->height - 1);
  bench_model_set_mark (bench->bench, BENCH_MARK_WING_BASE, (CorePoint){ NAN, 1 });
  g_assert_false (bench_model_mark (bench->bench, BENCH_MARK_WING_BASE, NULL));
  bench_model_clear_mark (bench->bench, BENCH_MARK_WING_TIP);
  g_assert_false (bench_model_mark (bench->bench, BENCH_MARK_WING_TIP, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD_TEST(path, data, function) g_test_add (path, Bench, data, set_up, function, tear_down)
  ADD_TEST ("/bench/clamped", NULL, test_marks_are_clamped);
  ADD_TEST ("/bench/axis", NULL, test_axis_moved_forgets_lines);
  ADD_TEST ("/bench/suggested-axis", NULL, test_suggested_axis);
  ADD_TEST ("/bench/marks-not-called-right", NULL, test_marks_not_called_right);
  ADD_TEST ("/bench/tip-beyond-the-body", NULL, test_tip_beyond_the_body);
  ADD_TEST ("/bench/odd-count", NULL, test_odd_count);
  ADD_TEST ("/bench/tip-inside-the-body", NULL, test_tip_inside_the_body);
  ADD_TEST ("/bench/second-look", NULL, test_second_look);
  ADD_TEST ("/bench/three-bends", NULL, test_three_bends);
  return g_test_run ();
}
