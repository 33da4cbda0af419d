/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-case.c — see bench-case.h. */
#include "bench-case.h"

#include <glib/gstdio.h>

#include "demo/demo-jpeg.h"

CoreId
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

BenchModel *
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

void
wait_found (BenchModel *model)
{
  while (bench_model_finding (model) || bench_model_checking (model))
    g_main_context_iteration (NULL, TRUE);
}

void
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

void
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

void
tear_down (Bench *bench, gconstpointer data)
{
  if (bench->bench != NULL)
    close_bench (bench);
  desk_subject_unref (bench->animal);
  fixture_tear_down (&bench->base, NULL);
}

CorePoint
point (DemoPoint at)
{
  return (CorePoint){ at.x, at.y };
}

void
place_axis (Bench *bench)
{
  bench_model_set_mark (bench->bench, BENCH_MARK_BASE, point (bench->truth.base));
  bench_model_set_mark (bench->bench, BENCH_MARK_TIP, point (bench->truth.tip));
  bench_model_set_mark (bench->bench, BENCH_MARK_BEND, point (bench->truth.mid));
  wait_found (bench->bench);
}

void
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
void
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

void
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

const CoreEntry *
marked (Bench *bench)
{
  g_autoptr (GPtrArray) history =
    desk_history (bench->base.desk, desk_subject_id (bench->animal), NULL);
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

void
wait_suggested (BenchModel *model)
{
  while (bench_model_suggesting (model) || bench_model_finding (model))
    g_main_context_iteration (NULL, TRUE);
}
