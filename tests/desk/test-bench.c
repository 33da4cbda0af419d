/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-bench.c — the photo bench as a table of commands, on drawn pictures whose truth is known. */
#define _GNU_SOURCE /* memmem */
#include "desk-fixture.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "desk/bench-model.h"
#include "desk/desk-proof.h"

typedef struct
{
  Fixture base;
  DeskSubject *animal;
  CoreId photo;
  DemoTruth truth;
  BenchModel *bench;
} Bench;

/* ---- a picture in the journal ---- */

static CoreId
add_photo (Bench *bench, const DemoDrawOptions *options)
{
  g_autoptr (DemoDrawing) drawing = demo_draw (options);
  g_autofree char *path = g_strconcat (bench->base.dir, "-new.jpg", NULL); /* beside the journal */
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskSync sync = { NULL };
  DeskPhoto photo;

  demo_jpeg_write (path, drawing->rgb, drawing->width, drawing->height, 92, 6,
                   "2026-05-20 18:30:00", &error);
  g_assert_no_error (error);
  bench->truth = drawing->truth;
  desk_photo_add_async (bench->base.desk, desk_subject_id (bench->animal), file, CORE_DAY_NONE,
                        NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_photo_add_finish (bench->base.desk, result, &photo, &error);
  g_assert_no_error (error);
  g_assert_cmpint (photo.width, ==, drawing->width);
  g_assert_cmpint (photo.height, ==, drawing->height);
  g_assert_cmpint (photo.taken, ==, fixture_day (-12));
  g_assert_true (g_file_delete (file, NULL, NULL));
  return photo.photo;
}

static BenchModel *
load (Bench *bench)
{
  BenchModel *model = bench_model_new (bench->base.desk, bench->animal, bench->photo);
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  bench_model_load_async (model, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  bench_model_load_finish (model, result, &error);
  g_assert_no_error (error);
  return model;
}

static void
wait_found (BenchModel *model)
{
  while (bench_model_finding (model) || bench_model_checking (model))
    g_main_context_iteration (NULL, TRUE);
}

static void
close_bench (Bench *bench)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;
  gpointer alive = bench->bench;

  /* A search that was overtaken holds the model until its thread has noticed. */
  wait_found (bench->bench);
  g_object_add_weak_pointer (G_OBJECT (bench->bench), &alive);
  g_clear_object (&bench->bench);
  while (alive != NULL && g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  g_assert_null (alive);
}

static void
set_up (Bench *bench, gconstpointer data)
{
  static const DemoDrawOptions clear = {
    .seed = 5, .width = 900, .height = 700, .sex = DEMO_SEX_FEMALE, .level = 1
  };
  const DemoDrawOptions *options = data != NULL ? data : &clear;

  fixture_set_up (&bench->base, NULL);
  /* Five moults since the hatch, so that plates can be read. */
  bench->animal = fixture_add (bench->base.desk, CORE_SUBJECT_ANIMAL,
                               "species=hierodula hatched=2026-02-01 acquired=2026-04-20 moults=5");
  bench->photo = add_photo (bench, options);
  bench->bench = load (bench);
}

static void
tear_down (Bench *bench, gconstpointer data)
{
  if (bench->bench != NULL)
    close_bench (bench);
  desk_subject_unref (bench->animal);
  fixture_tear_down (&bench->base, NULL);
}

static CorePoint
point (DemoPoint at)
{
  return (CorePoint){ at.x, at.y };
}

static void
place_axis (Bench *bench)
{
  bench_model_set_mark (bench->bench, BENCH_MARK_BASE, point (bench->truth.base));
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP, point (bench->truth.tip));
  bench_model_set_mark (bench->bench, BENCH_MARK_BEND, point (bench->truth.mid));
  wait_found (bench->bench);
}

static void
begin (Bench *bench)
{
  bench_model_set_side (bench->bench, CORE_SIDE_UNDERSIDE);
  bench_model_set_of (bench->bench, CORE_OF_ANIMAL);
  g_assert_true (bench_model_can_next (bench->bench));
  bench_model_next (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_AXIS);
  place_axis (bench);
  bench_model_next (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_BOUNDARIES);
}

/* Answer all that is left, with the boundaries as they stand. */
static void
finish (Bench *bench, int small_plate, int last_plate)
{
  bench_model_next (bench->bench);
  bench_model_set_small_plate (bench->bench, small_plate);
  bench_model_next (bench->bench);
  bench_model_set_last_plate (bench->bench, last_plate);
  bench_model_next (bench->bench);
  g_assert_cmpint (bench_model_step (bench->bench), ==, BENCH_STEP_VERDICT);
  g_assert_false (bench_model_can_next (bench->bench));
}

static void
record (Bench *bench)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  bench_model_record_async (bench->bench, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  bench_model_record_finish (bench->bench, result, &error);
  g_assert_no_error (error);
}

static const CoreEntry *
marked (Bench *bench)
{
  g_autoptr (GPtrArray) history = desk_history (bench->base.desk, desk_subject_id (bench->animal));
  const CoreEntry *found = NULL;

  for (guint i = 0; i < history->len; i++)
    {
      const CoreEntry *entry = history->pdata[i];

      if (entry->kind == CORE_KIND_MARKED && desk_entry_is_live (bench->base.desk, entry->id))
        {
          g_assert_null (found);
          found = entry;
        }
    }
  return found;
}

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

static void
wait_suggested (BenchModel *model)
{
  while (bench_model_suggesting (model) || bench_model_finding (model))
    g_main_context_iteration (NULL, TRUE);
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
  ADD_TEST ("/bench/clamped", NULL, test_marks_are_clamped);
  ADD_TEST ("/bench/axis", NULL, test_axis_moved_forgets_lines);
  ADD_TEST ("/bench/back", NULL, test_back_counts_nothing);
  ADD_TEST ("/bench/sex-check", NULL, test_sex_check);
  ADD_TEST ("/bench/unusable", &blurred, test_unusable);
  ADD_TEST ("/bench/wings", NULL, test_wings);
  ADD_TEST ("/bench/drag", NULL, test_drag);
  ADD_TEST ("/bench/proof", NULL, test_proof);
  ADD_TEST ("/bench/suggested-axis", NULL, test_suggested_axis);
  ADD_TEST ("/bench/marks-not-called-right", NULL, test_marks_not_called_right);
  ADD_TEST ("/bench/tip-beyond-the-body", NULL, test_tip_beyond_the_body);
  ADD_TEST ("/bench/odd-count", NULL, test_odd_count);
  ADD_TEST ("/bench/second-look", NULL, test_second_look);
  ADD_TEST ("/bench/three-bends", NULL, test_three_bends);
  ADD_TEST ("/bench/cue", NULL, test_cue);
  return g_test_run ();
}
