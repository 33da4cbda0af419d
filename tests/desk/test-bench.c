/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-bench.c — the photo bench as a table of commands, on drawn pictures whose truth is known. */
#define _GNU_SOURCE /* memmem */
#include "bench-case.h"

#include <glib/gstdio.h>

#include "desk/desk-proof.h"

/* Bring the lines to the truth as a keeper would: so many, then each to its place. */
static void
correct_lines (Bench *bench)
{
  bench_model_set_plates (bench->bench, bench->truth.count);
  for (int i = 0; i < bench->truth.n_bounds; i++)
    bench_model_move_boundary (bench->bench, (gsize) i, bench->truth.along[i]);
}

/* ---- tests ---- */

static void
test_walk (Bench *bench, gconstpointer data)
{
  const CoreSexVerdict *verdict;
  const CoreEntry *entry;
  g_autoptr (DeskSubject) now = NULL;

  begin (bench);
  g_assert_nonnull (bench_model_strip (bench->bench));
  correct_lines (bench);
  g_assert_cmpint (bench_model_count (bench->bench), ==, 6);
  finish (bench, CORE_SMALL_NOT, CORE_LAST_BOAT);
  verdict = bench_model_verdict (bench->bench);
  g_assert_cmpint (verdict->verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  g_assert_cmpfloat_with_epsilon (verdict->female, 32. / 33, .002);
  record (bench);
  entry = marked (bench);
  g_assert_nonnull (entry);
  g_assert_cmpfloat (core_entry_num (entry, CORE_KEY_COUNT, 0), ==, 6);
  g_assert_cmpint (core_entry_code (entry, CORE_KEY_BY, -1), ==, CORE_BY_KEEPER);
  g_assert_cmpint (core_entry_code (entry, CORE_KEY_SMALL_PLATE, -1), ==, CORE_SMALL_NOT);
  g_assert_cmpint (core_entry_code (entry, CORE_KEY_SIDE, -1), ==, CORE_SIDE_UNDERSIDE);
  now = fixture_now (bench->base.desk, bench->animal);
  g_assert_cmpint (desk_subject_verdict (now)->verdict, ==, CORE_VERDICT_LIKELY_FEMALE);
  g_assert_true (core_id_equal (desk_subject_verdict (now)->evidence[0].photo, bench->photo));
}

static void
test_nothing_before_it_is_recorded (Bench *bench, gconstpointer data)
{
  g_autoptr (DeskSubject) now = NULL;

  begin (bench);
  correct_lines (bench);
  finish (bench, CORE_SMALL_NOT, CORE_LAST_BOAT);
  g_assert_null (marked (bench));
  now = fixture_now (bench->base.desk, bench->animal);
  g_assert_cmpint (desk_subject_verdict (now)->verdict, ==, CORE_VERDICT_UNDECIDED);
}

static void
test_record_again_replaces (Bench *bench, gconstpointer data)
{
  begin (bench);
  correct_lines (bench);
  finish (bench, CORE_SMALL_NOT, CORE_LAST_BOAT);
  record (bench);
  bench_model_set_last_plate (bench->bench, CORE_LAST_UNCLEAR);
  record (bench);
  g_assert_cmpint (core_entry_code (marked (bench), CORE_KEY_LAST_PLATE, -1), ==,
                   CORE_LAST_UNCLEAR);
  close_bench (bench);
  bench->bench = load (bench);
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_last_plate (bench->bench), ==, CORE_LAST_UNCLEAR);
  g_assert_cmpint (bench_model_count (bench->bench), ==, 6);
  g_assert_true (bench_model_mark (bench->bench, BENCH_MARK_BEND, NULL));
  /* What was undone is recorded anew, not as a replacement of nothing. */
  desk_change_free (fixture_undo (bench->base.desk));
  desk_change_free (fixture_undo (bench->base.desk));
  g_assert_null (marked (bench));
  record (bench);
  g_assert_nonnull (marked (bench));
}

static void
test_draft_survives (Bench *bench, gconstpointer data)
{
  BenchBoundary before[BENCH_MAX_BOUNDARIES], after[BENCH_MAX_BOUNDARIES];
  gsize n;

  begin (bench);
  correct_lines (bench);
  bench_model_set_small_plate (bench->bench, CORE_SMALL_COUNTED);
  n = bench_model_boundaries (bench->bench, before, BENCH_MAX_BOUNDARIES);
  close_bench (bench);
  fixture_reopen (&bench->base, DESK_OPEN_LAZY);
  bench->bench = load (bench);
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_BOUNDARIES); /* as it was left */
  g_assert_cmpint (bench_model_small_plate (bench->bench), ==, CORE_SMALL_COUNTED);
  g_assert_cmpuint (bench_model_boundaries (bench->bench, after, BENCH_MAX_BOUNDARIES), ==, n);
  for (gsize i = 0; i < n; i++)
    g_assert_cmpfloat_with_epsilon (after[i].at, before[i].at, 1e-5);
  finish (bench, CORE_SMALL_COUNTED, CORE_LAST_UNCLEAR);
  close_bench (bench);
  bench->bench = load (bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_VERDICT);
}

/* A draft that says more than it holds begins at the first step without its answer. */
static void
test_draft_step_is_checked (Bench *bench, gconstpointer data)
{
  static const struct
  {
    const char *text;
    BenchStep step;
  } rows[] = {
    { "[bench]\nversion=1\nstep=6\n", BENCH_STEP_WHAT },
    { "[bench]\nversion=1\nstep=6\nside=0\nof=0\n", BENCH_STEP_AXIS },
    { "[bench]\nversion=1\nstep=99\nside=0\nof=0\n", BENCH_STEP_WHAT },
    { "[bench]\nversion=1\nside=0\nof=0\n", BENCH_STEP_WHAT },
    { "[bench]\nversion=1\nstep=1\nside=1\nof=0\n", BENCH_STEP_VERDICT }, /* the back has no plates */
  };
  char id[37];
  g_autofree char *key = NULL;

  core_id_to_text (bench->photo, id);
  key = g_strdup_printf ("bench:%s", id);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      close_bench (bench);
      desk_draft_set (bench->base.desk, key, rows[i].text);
      bench->bench = load (bench);
      g_assert_cmpint (bench_model_step (bench->bench), ==, rows[i].step);
    }
}

/* ---- a table of commands on the lines ---- */

typedef enum
{
  ADD,
  REMOVE,
  MOVE,
  PLATES,
  UNDO,
  REDO,
  SETTLE
} Verb;

typedef struct
{
  Verb verb;
  int index;
  double at;
  int count;         /* plates afterwards */
  gboolean can_undo; /* past the four steps that made the axis */
} Command;

static const Command commands[] = {
  { PLATES, 6, 0, 6, TRUE },  { ADD, 0, .08, 7, TRUE },    { REMOVE, 0, 0, 6, TRUE },
  { UNDO, 0, 0, 7, TRUE },    { UNDO, 0, 0, 6, TRUE },     { REDO, 0, 0, 7, TRUE },
  { MOVE, 2, .4, 7, TRUE },   { MOVE, 2, .41, 7, TRUE },   { MOVE, 2, .42, 7, TRUE },
  { UNDO, 0, 0, 7, TRUE },    { REDO, 0, 0, 7, TRUE },     { SETTLE, 0, 0, 7, TRUE },
  { MOVE, 2, .43, 7, TRUE },  { UNDO, 0, 0, 7, TRUE },     { PLATES, 10, 0, 10, TRUE },
  { PLATES, 4, 0, 4, TRUE },  { PLATES, 15, 0, 15, TRUE }, { ADD, 0, .5, 15, TRUE },
  { PLATES, 1, 0, -1, TRUE }, { ADD, 0, .5, 2, TRUE },     { MOVE, 7, .2, 2, TRUE },
  { REMOVE, 9, 0, 2, TRUE },  { REMOVE, 0, 0, -1, TRUE },  { UNDO, 0, 0, 2, TRUE },
  { MOVE, 0, 1.7, 2, TRUE },  { MOVE, 0, NAN, 2, TRUE },   { ADD, 0, -3, 3, TRUE },
};

static void
run (BenchModel *model, const Command *command)
{
  switch (command->verb)
    {
    case ADD:
      bench_model_add_boundary (model, command->at);
      break;
    case REMOVE:
      bench_model_remove_boundary (model, (gsize) command->index);
      break;
    case MOVE:
      bench_model_move_boundary (model, (gsize) command->index, command->at);
      break;
    case PLATES:
      bench_model_set_plates (model, command->index);
      break;
    case UNDO:
      bench_model_undo (model);
      break;
    case REDO:
      bench_model_redo (model);
      break;
    case SETTLE:
    default:
      bench_model_settle (model);
    }
}

static void
assert_lines (Bench *bench)
{
  BenchBoundary line[BENCH_MAX_BOUNDARIES];
  gsize n = bench_model_boundaries (bench->bench, line, BENCH_MAX_BOUNDARIES);
  double last = 0;

  for (gsize i = 0; i < n; i++)
    {
      g_assert_cmpfloat (line[i].at, >, last);
      g_assert_cmpfloat (line[i].at, <, 1);
      g_assert_true (isfinite (line[i].left.x) && isfinite (line[i].right.y));
      last = line[i].at;
    }
}

static void
test_commands (Bench *bench, gconstpointer data)
{
  begin (bench);
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      g_test_message ("command %u", (guint) i);
      run (bench->bench, &commands[i]);
      g_assert_cmpint (bench_model_count (bench->bench), ==, commands[i].count);
      g_assert_cmpint (bench_model_can_undo (bench->bench), ==, commands[i].can_undo);
      assert_lines (bench);
    }
  while (bench_model_can_undo (bench->bench))
    bench_model_undo (bench->bench);
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_side (bench->bench), ==, -1);
  g_assert_false (bench_model_mark (bench->bench, BENCH_MARK_BASE, NULL));
  g_assert_cmpint (bench_model_count (bench->bench), ==, -1);
  while (bench_model_can_redo (bench->bench))
    bench_model_redo (bench->bench);
  wait_found (bench->bench);
  g_assert_cmpint (bench_model_count (bench->bench), ==, 3);
}

/* A boundary that the keeper put stays exactly there, whatever is done to the others. */
static void
test_fixed_stays (Bench *bench, gconstpointer data)
{
  BenchBoundary line[BENCH_MAX_BOUNDARIES];
  gboolean found = FALSE;
  gsize n;

  begin (bench);
  bench_model_set_plates (bench->bench, 6);
  bench_model_move_boundary (bench->bench, 2, .47);
  bench_model_add_boundary (bench->bench, .1);
  bench_model_remove_boundary (bench->bench, 4);
  n = bench_model_boundaries (bench->bench, line, BENCH_MAX_BOUNDARIES);
  for (gsize i = 0; i < n; i++)
    found |= fabs (line[i].at - .47) < 1e-9 && line[i].by_keeper;
  g_assert_true (found);
  g_assert_cmpfloat_with_epsilon (bench_model_at_of (bench->bench, line[1].mid), line[1].at, .01);
}

static void
test_back_counts_nothing (Bench *bench, gconstpointer data)
{
  bench_model_set_side (bench->bench, CORE_SIDE_BACK);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  bench_model_next (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_VERDICT);
  g_assert_cmpint (bench_model_verdict (bench->bench)->verdict, ==, CORE_VERDICT_UNDECIDED);
  bench_model_back (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_WHAT);
  g_assert_false (bench_model_can_back (bench->bench));
}

/* Due, or held back for now. */
static gboolean
check_is_open (Bench *bench)
{
  g_autoptr (DeskSubject) now = fixture_now (bench->base.desk, bench->animal);
  const CorePlan *plan = desk_subject_plan (now);

  for (size_t i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == CORE_TASK_SEX_CHECK)
      return TRUE;
  for (size_t i = 0; i < plan->held.n; i++)
    if (plan->held.v[i].kind == CORE_TASK_SEX_CHECK)
      return TRUE;
  return FALSE;
}

/* The check of the sex stays open after a picture of the back, and is closed by one that was read. */
static void
test_sex_check (Bench *bench, gconstpointer data)
{
  g_assert_true (check_is_open (bench));
  bench_model_set_side (bench->bench, CORE_SIDE_BACK);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  record (bench);
  g_assert_true (check_is_open (bench));
  begin (bench);
  correct_lines (bench);
  finish (bench, CORE_SMALL_NOT, CORE_LAST_UNCLEAR);
  record (bench);
  g_assert_false (check_is_open (bench));
}

static void
test_unusable (Bench *bench, gconstpointer data)
{
  begin (bench);
  g_assert_false (bench_model_usable (bench->bench));
  g_assert_cmpuint (bench_model_unusable (bench->bench), !=, 0);
  g_assert_cmpint (bench_model_count (bench->bench), ==, -1);
  finish (bench, CORE_SMALL_UNKNOWN, CORE_LAST_UNCLEAR);
  g_assert_cmpint (bench_model_verdict (bench->bench)->verdict, ==, CORE_VERDICT_UNDECIDED);
  record (bench);
  g_assert_cmpfloat (core_entry_num (marked (bench), CORE_KEY_COUNT, -1), ==, -1);
}

static void
test_wings (Bench *bench, gconstpointer data)
{
  double ratio, sd;

  fixture_record (bench->base.desk, bench->animal, "stage", "seen=adult", -13);
  close_bench (bench);
  desk_subject_unref (bench->animal);
  bench->animal = desk_find (bench->base.desk, "1", NULL);
  bench->bench = load (bench);
  bench_model_set_side (bench->bench, CORE_SIDE_BACK);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  g_assert_true (bench_model_needs_wings (bench->bench));
  bench_model_next (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_WINGS);
  g_assert_false (bench_model_wing_ratio (bench->bench, &ratio, &sd));
  bench_model_set_mark (bench->bench, BENCH_MARK_WING_BASE, (CorePoint){ 100, 100 });
  bench_model_set_mark (bench->bench, BENCH_MARK_ABDOMEN_TIP, (CorePoint){ 600, 100 });
  bench_model_set_mark (bench->bench, BENCH_MARK_WING_TIP, (CorePoint){ 500, 120 });
  g_assert_true (bench_model_wing_ratio (bench->bench, &ratio, &sd));
  g_assert_cmpfloat_with_epsilon (ratio, .8, 1e-9);
  /* models: (s / D) √(1 + r² + (1 − r)²), s the larger of 2 px and 1 %, and .02 for a flat view. */
  g_assert_cmpfloat (sd, >, .01 * sqrt (1 + .64 + .04) - 1e-9);
  close_bench (bench); /* the marks of the wings, and the step, are in the draft */
  bench->bench = load (bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_WINGS);
  g_assert_true (bench_model_wing_ratio (bench->bench, &ratio, &sd));
  g_assert_cmpfloat_with_epsilon (ratio, .8, 1e-9);
  bench_model_next (bench->bench);
  g_assert_cmpfloat (bench_model_verdict (bench->bench)->female, >, .8);
  record (bench);
  g_assert_cmpfloat_with_epsilon (core_entry_num (marked (bench), CORE_KEY_WING_RATIO, 0), .8,
                                  1e-6);
}

/* A line dragged step by step: each step counts at once, and the others stay where they are. */
static void
test_drag (Bench *bench, gconstpointer data)
{
  BenchBoundary before[16], after[16];
  gsize n;

  begin (bench);
  bench_model_set_plates (bench->bench, 6);
  n = bench_model_boundaries (bench->bench, before, G_N_ELEMENTS (before));
  for (int i = 0; i < 50; i++)
    {
      bench_model_move_boundary (bench->bench, 2, .45 + .001 * i);
      g_assert_nonnull (bench_model_verdict (bench->bench));
    }
  g_assert_cmpuint (bench_model_boundaries (bench->bench, after, G_N_ELEMENTS (after)), ==, n);
  g_assert_cmpfloat_with_epsilon (after[2].at, .499, 1e-9);
  g_assert_cmpfloat (after[2].at, !=, before[2].at);
}

static char *
write_proof (Bench *bench, DeskProofInfo *info)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskProof) proof = bench_model_proof (bench->bench, &error);
  char *path = g_strconcat (bench->base.dir, "-proof.png", NULL); /* beside the journal */
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autofree char *name = NULL;

  g_assert_no_error (error);
  name = desk_proof_file_name (proof);
  g_assert_cmpstr (name, ==, "1 2026-05-20.png");
  desk_proof_write_async (proof, path, TRUE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_proof_write_finish (result, info, &error));
  g_assert_no_error (error);
  return path;
}

/* A sheet shows what lies on the bench, recorded or not, and what is only proposed as proposed. */
static void
test_proof (Bench *bench, gconstpointer data)
{
  DeskProofInfo info;
  g_autofree char *path = NULL, *proposed = NULL, *corrected = NULL;
  gsize n;

  begin (bench);
  path = write_proof (bench, &info);
  g_assert_cmpint (info.plates, ==, bench_model_count (bench->bench));
  g_assert_true (isnan (info.px_per_mm));
  g_assert_cmpint (info.width, ==, 900);
  g_assert_cmpint (info.height, >, 700);
  g_assert_true (g_file_get_contents (path, &proposed, &n, NULL));
  g_assert_nonnull (memmem (proposed, n, "not yet confirmed", 17));
  g_assert_null (marked (bench)); /* nothing was written into the journal */
  bench_model_set_plates (bench->bench, 7);
  g_free (write_proof (bench, &info));
  g_assert_cmpint (info.plates, ==, 7);
  g_assert_true (g_file_get_contents (path, &corrected, &n, NULL));
  g_assert_nonnull (memmem (corrected, n, "7 plates counted", 16));
  g_assert_cmpint (g_unlink (path), ==, 0);
}

/* The signs of its kind that may be seen now, one of them kept, and weighed. */
static void
test_cue (Bench *bench, gconstpointer data)
{
  const CoreSexCue *cues[CORE_MAX_CUES];
  CoreSex says;

  g_assert_cmpuint (bench_model_cues (bench->bench, cues), ==, 0); /* this kind has none */
  close_bench (bench);
  desk_subject_unref (bench->animal);
  bench->animal = fixture_add (bench->base.desk, CORE_SUBJECT_ANIMAL,
                               "species=phyllocrania hatched=2026-02-01 acquired=2026-04-20 moults=5");
  bench->photo = add_photo (bench, &(DemoDrawOptions){ .seed = 9, .width = 300, .height = 240 });
  bench->bench = load (bench);
  bench_model_set_side (bench->bench, CORE_SIDE_BACK);
  bench_model_set_of (bench->bench, CORE_OF_SHED); /* the stage before: too early for its crown */
  g_assert_cmpuint (bench_model_cues (bench->bench, cues), ==, 1);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  g_assert_cmpuint (bench_model_cues (bench->bench, cues), ==, 2);
  bench_model_next (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_CUE);
  g_assert_null (bench_model_cue (bench->bench, NULL));
  bench_model_set_cue (bench->bench, "crown", CORE_SEX_FEMALE);
  g_assert_cmpstr (bench_model_cue (bench->bench, &says), ==, "crown");
  g_assert_cmpint (says, ==, CORE_SEX_FEMALE);
  bench_model_next (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_VERDICT);
  /* 4 to 1, and a little less where it may be a stage in which the crown says nothing. */
  g_assert_cmpfloat (bench_model_verdict (bench->bench)->female, >, .75);
  g_assert_cmpfloat (bench_model_verdict (bench->bench)->female, <=, .8);
  record (bench);
  g_assert_cmpstr (core_entry_str (marked (bench), CORE_KEY_CUE), ==, "crown:female");
}

int
main (int argc, char **argv)
{
  static const DemoDrawOptions blurred = {
    .seed = 3, .width = 900, .height = 700, .sex = DEMO_SEX_MALE, .level = 1, .unusable = TRUE
  };

  g_test_init (&argc, &argv, NULL);
#define ADD_TEST(path, data, function) g_test_add (path, Bench, data, set_up, function, tear_down)
  ADD_TEST ("/bench/walk", NULL, test_walk);
  ADD_TEST ("/bench/unrecorded", NULL, test_nothing_before_it_is_recorded);
  ADD_TEST ("/bench/again", NULL, test_record_again_replaces);
  ADD_TEST ("/bench/draft", NULL, test_draft_survives);
  ADD_TEST ("/bench/draft-step", NULL, test_draft_step_is_checked);
  ADD_TEST ("/bench/commands", NULL, test_commands);
  ADD_TEST ("/bench/fixed", NULL, test_fixed_stays);
  ADD_TEST ("/bench/back", NULL, test_back_counts_nothing);
  ADD_TEST ("/bench/sex-check", NULL, test_sex_check);
  ADD_TEST ("/bench/unusable", &blurred, test_unusable);
  ADD_TEST ("/bench/wings", NULL, test_wings);
  ADD_TEST ("/bench/drag", NULL, test_drag);
  ADD_TEST ("/bench/proof", NULL, test_proof);
  ADD_TEST ("/bench/cue", NULL, test_cue);
  return g_test_run ();
}
