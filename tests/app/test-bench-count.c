/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-bench-count.c — which count the bench names, which it does not, and why. */
#include <adwaita.h>
#include <locale.h>

#include "bench-shown.h"
#include "core/core-segment.h"

/* No count of the finder's is named below 80 in 100. */
static void
test_count_named (Bench *bench, gconstpointer data)
{
  GtkWidget *count = GTK_WIDGET (bench->count);

  place_axis (bench);
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  app_count_show (bench->count, bench->model);
  g_assert_true (says (count, "90 in 100"));
  g_assert_false (says (count, "?"));
  bench_double_chance = .79;
  app_count_show (bench->count, bench->model);
  g_assert_true (says (count, "?"));
  g_assert_true (says (count, "not sure"));
  g_assert_true (says (count, "8 plates, 79 in 100"));
  bench_model_move_boundary (bench->model, 0, .1);
  app_count_show (bench->count, bench->model);
  g_assert_false (says (count, "?"));
  g_assert_true (says (count, "your count"));
}

/* No mantis shows so many, or so few: the marks are asked about. */
static void
test_count_odd (Bench *bench, gconstpointer data)
{
  static const struct
  {
    int plates;
    const char *says;
  } cases[] = { { 9, "begin on the thorax" }, { 8, NULL }, { 6, NULL }, { 5, "begin too late or end too early" } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      bench_double_proposed = cases[i].plates;
      place_axis (bench);
      bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
      app_count_show (bench->count, bench->model);
      g_assert_cmpint (says (GTK_WIDGET (bench->count), "A mantis shows six to eight plates."), ==, cases[i].says != NULL);
      if (cases[i].says == NULL)
        continue;
      g_assert_true (says (GTK_WIDGET (bench->count), cases[i].says));
      g_assert_false (says (GTK_WIDGET (bench->count), "90 in 100")); /* of a count that is none */
      g_assert_true (says (GTK_WIDGET (bench->count), "not sure"));
    }
  bench_double_proposed = 8;
}

/* Marks beyond the body, lines that nothing holds: no count is named, however likely. Marks of the
 * program's are asked about until they are said to be right. */
static void
test_count_doubted (Bench *bench, gconstpointer data)
{
  static const struct
  {
    unsigned doubt;
    const char *says;
  } cases[] = { { BENCH_DOUBT_TIP, "the tip seems to lie beyond the body" },
                { BENCH_DOUBT_AFTER, "go on behind the tip" },
                { BENCH_DOUBT_BEFORE, "begin before the base" },
                { BENCH_DOUBT_LINES, "nothing on the picture holds them" } };
  GtkWidget *count = GTK_WIDGET (bench->count);

  place_axis (bench);
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      bench_double_doubts = cases[i].doubt;
      app_count_show (bench->count, bench->model);
      g_assert_true (says (count, cases[i].says));
      g_assert_true (says (count, "8 plates along these marks"));
      g_assert_false (says (count, "90 in 100"));
    }
  bench_double_doubts = 0;
  bench_double_go (bench->model, BENCH_STEP_AXIS);
  bench_model_suggest (bench->model);
  g_assert_true (says (GTK_WIDGET (bench->steps), "say that they lie right"));
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  app_count_show (bench->count, bench->model);
  g_assert_true (says (count, "Nobody said yet that base and tip lie right"));
  bench_double_go (bench->model, BENCH_STEP_AXIS);
  g_assert_true (app_steps_answer (bench->steps, 1));
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  app_count_show (bench->count, bench->model);
  g_assert_false (says (count, "Nobody said yet that base and tip lie right"));
  g_assert_true (says (count, "90 in 100"));
  bench_double_go (bench->model, BENCH_STEP_AXIS);
  bench_model_set_mark (bench->model, BENCH_MARK_TIP, (CorePoint){ 400, 480 }); /* the keeper's: nothing to ask */
  g_assert_false (app_steps_answer (bench->steps, 1));
}

/* Without lines it says so and does not ask about them. */
static void
test_no_lines (Bench *bench, gconstpointer data)
{
  bench_double_proposed = 1;
  place_axis (bench);
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  assert_describes (bench, "2 marks. base at 400,100; tip at 400,500.");
  g_assert_true (says (GTK_WIDGET (bench->steps), "This picture cannot carry a count."));
  g_assert_true (app_marks_key (bench->marks, GDK_KEY_Insert, 0));
  g_assert_true (says (GTK_WIDGET (bench->steps), "Does every line lie between two plates?"));
}

static void
test_count_unusable (Bench *bench, gconstpointer data)
{
  static const struct
  {
    unsigned bits;
    int side;
    const char *says;
  } cases[] = {
    { CORE_UNUSABLE_TOO_SHORT, CORE_SIDE_UNDERSIDE, "too small" },
    { CORE_UNUSABLE_BLURRED, CORE_SIDE_UNDERSIDE, "not sharp" },
    { CORE_UNUSABLE_GLARE, CORE_SIDE_UNDERSIDE, "glares" },
    { CORE_UNUSABLE_LOW_CONTRAST, CORE_SIDE_UNDERSIDE, "hardly differ" },
    { CORE_UNUSABLE_WEAK_EVIDENCE, CORE_SIDE_UNDERSIDE, "No plates stand out" },
    { 0, CORE_SIDE_BACK, "ten rings" },
    { 0, CORE_SIDE_FLANK, "From the side" },
  };

  /* Before anything is marked it is measured, too, where the program found the abdomen. */
  app_count_show (bench->count, bench->model);
  g_assert_true (says (GTK_WIDGET (bench->count), "Sharpness: enough to count"));
  bench_double_unusable = CORE_UNUSABLE_BLURRED;
  app_count_show (bench->count, bench->model);
  g_assert_true (says (GTK_WIDGET (bench->count), "Sharpness: too blurred to count"));
  g_assert_true (says (GTK_WIDGET (bench->count), "Through the clean wall"));
  bench_double_go (bench->model, BENCH_STEP_BOUNDARIES);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      bench_double_unusable = cases[i].bits;
      bench_model_set_side (bench->model, cases[i].side);
      app_count_show (bench->count, bench->model);
      g_assert_true (says (GTK_WIDGET (bench->count), cases[i].says));
      g_assert_true (says (GTK_WIDGET (bench->count), "Through the clean wall"));
    }
  bench_double_unusable = 0;
}

int
main (int argc, char **argv)
{
  if (!bench_shown_init (&argc, &argv))
    return 0;
#define BENCH(path, func) g_test_add ("/bench/" path, Bench, NULL, set_up, func, tear_down)
  BENCH ("count/named", test_count_named);
  BENCH ("steps/no-lines", test_no_lines);
  BENCH ("count/unusable", test_count_unusable);
  BENCH ("count/odd", test_count_odd);
  BENCH ("count/doubted", test_count_doubted);
  return g_test_run ();
}
