/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-measure.c — marks on a picture to entries: a length by ruler and disc, the belly from an
 * outline, undo of every mark, and the draft. */
#include "desk/measure-model.h"

#include <math.h>

#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "desk-fixture.h"

typedef struct
{
  Fixture base;
  DeskSubject *animal;
  CoreId photo;
  DemoTruth truth;
  MeasureModel *model;
} Measure;

static CoreId
add_photo (Measure *self)
{
  static const DemoDrawOptions options = { .seed = 5, .width = 700, .height = 560, .level = 1 };
  g_autoptr (DemoDrawing) drawing = demo_draw (&options);
  g_autofree char *path = g_strconcat (self->base.dir, "-new.jpg", NULL); /* beside the journal */
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskSync sync = { NULL };
  DeskPhoto photo;

  demo_jpeg_write (path, drawing->rgb, drawing->width, drawing->height, 92, 1, "2026-05-20 18:30:00", &error);
  g_assert_no_error (error);
  self->truth = drawing->truth;
  desk_photo_add_async (self->base.desk, desk_subject_id (self->animal), file, CORE_DAY_NONE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_photo_add_finish (self->base.desk, result, &photo, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_delete (file, NULL, NULL));
  return photo.photo;
}

static MeasureModel *
load (Measure *self)
{
  MeasureModel *model = measure_model_new (self->base.desk, self->animal, self->photo);
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  measure_model_load_async (model, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  measure_model_load_finish (model, result, &error);
  g_assert_no_error (error);
  return model;
}

static void
set_up (Measure *self, gconstpointer data)
{
  fixture_set_up (&self->base, NULL);
  self->animal = fixture_add (self->base.desk, CORE_SUBJECT_ANIMAL,
                              "species=hierodula hatched=2026-02-01 acquired=2026-04-20 moults=5");
  self->photo = add_photo (self);
  self->model = load (self);
}

static void
tear_down (Measure *self, gconstpointer data)
{
  g_assert_finalize_object (self->model);
  desk_subject_unref (self->animal);
  fixture_tear_down (&self->base, NULL);
}

static void
record (Measure *self)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (measure_model_can_record (self->model));
  measure_model_record_async (self->model, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (measure_model_record_finish (self->model, result, &error));
  g_assert_no_error (error);
}

static const CoreState *
state_now (Measure *self)
{
  desk_subject_unref (self->animal);
  self->animal = desk_find (self->base.desk, "1", NULL);
  return desk_subject_state (self->animal);
}

static void
place_ruler (Measure *self)
{
  MeasureSet set;

  g_assert_true (measure_model_next_set (self->model, &set));
  g_assert_cmpint (set, ==, MEASURE_SET_RULER);
  measure_model_add (self->model, set, (CorePoint){ 20, 30 });
  measure_model_add (self->model, set, (CorePoint){ 220, 30 });
  measure_model_set_known (self->model, 10);
}

static void
test_length (Measure *self, gconstpointer data)
{
  CoreLength length;
  MeasureSet set;
  const CoreState *state;

  g_assert_false (measure_model_can_record (self->model));
  place_ruler (self);
  g_assert_true (measure_model_next_set (self->model, &set));
  g_assert_cmpint (set, ==, MEASURE_SET_LINE);
  measure_model_add (self->model, set, (CorePoint){ 100, 100 });
  measure_model_add (self->model, set, (CorePoint){ 500, 100 });
  g_assert_false (measure_model_next_set (self->model, &set));
  g_assert_cmpint (measure_model_length (self->model, &length), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (length.mm, 20, 1e-9);
  /* A mark more goes between the ends, and makes it longer. */
  g_assert_cmpuint (measure_model_add (self->model, MEASURE_SET_LINE, (CorePoint){ 300, 250 }), ==, 1);
  g_assert_cmpint (measure_model_length (self->model, &length), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (length.mm, 25, 1e-9);
  measure_model_undo (self->model);
  g_assert_cmpint (measure_model_length (self->model, &length), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (length.mm, 20, 1e-9);
  measure_model_set_what (self->model, 2);
  record (self);
  state = state_now (self);
  g_assert_cmpuint (state->measures.n, ==, 1);
  g_assert_cmpint (state->measures.v[0].what, ==, 2);
  g_assert_cmpfloat_with_epsilon (state->measures.v[0].mm, 20, 1e-6);
  g_assert_cmpfloat (state->measures.v[0].sd, >, .2); /* tilt alone is 1 % */
  g_assert_cmpint (state->measures.v[0].day, ==, fixture_day (-12)); /* that of the picture */
  /* The scale stays for the next one, the line is gone. */
  g_assert_true (measure_model_next_set (self->model, &set));
  g_assert_cmpint (set, ==, MEASURE_SET_LINE);
}

static void
test_undo_and_draft (Measure *self, gconstpointer data)
{
  CorePoint p[MEASURE_MAX_POINTS];

  place_ruler (self);
  for (int i = 1; i <= 5; i++) /* one drag in five steps */
    measure_model_move (self->model, MEASURE_SET_RULER, 1, (CorePoint){ 220 + 10 * i, 30 });
  measure_model_settle (self->model);
  measure_model_points (self->model, MEASURE_SET_RULER, p);
  g_assert_cmpfloat (p[1].x, ==, 270);
  g_clear_object (&self->model);
  self->model = load (self);
  g_assert_cmpuint (measure_model_points (self->model, MEASURE_SET_RULER, p), ==, 2);
  g_assert_cmpfloat (p[1].x, ==, 270);
  g_assert_cmpfloat_with_epsilon (measure_model_known (self->model), 10, 1e-9);
  measure_model_move (self->model, MEASURE_SET_RULER, 1, (CorePoint){ 9999, -5 }); /* stays in it */
  measure_model_points (self->model, MEASURE_SET_RULER, p);
  g_assert_cmpfloat (p[1].x, ==, 699);
  g_assert_cmpfloat (p[1].y, ==, 0);
  measure_model_undo (self->model);
  measure_model_points (self->model, MEASURE_SET_RULER, p);
  g_assert_cmpfloat (p[1].x, ==, 270);
  measure_model_redo (self->model);
  measure_model_points (self->model, MEASURE_SET_RULER, p);
  g_assert_cmpfloat (p[1].x, ==, 699);
}

/* The outline is found, dragged and taken back; the score is that of the depth. */
static void
test_plumpness (Measure *self, gconstpointer data)
{
  CorePoint p[MEASURE_MAX_POINTS];
  CorePlumpness found, dragged;

  measure_model_set_task (self->model, MEASURE_PLUMPNESS);
  measure_model_add (self->model, MEASURE_SET_LINE, (CorePoint){ self->truth.base.x, self->truth.base.y });
  measure_model_add (self->model, MEASURE_SET_LINE, (CorePoint){ self->truth.tip.x, self->truth.tip.y });
  while (measure_model_outlining (self->model))
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpint (measure_model_plumpness (self->model, &found), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat (fabs (found.depth - 2 * self->truth.half_width), <, .06);
  g_assert_cmpuint (measure_model_points (self->model, MEASURE_SET_UPPER, p), ==, 9);
  for (int i = 0; i < 9; i++)
    measure_model_move (self->model, MEASURE_SET_UPPER, (gsize) i, (CorePoint){ p[i].x, p[i].y - 60 });
  g_assert_cmpint (measure_model_plumpness (self->model, &dragged), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat (fabs (dragged.depth - found.depth), >, .02);
  for (int i = 0; i < 9; i++)
    measure_model_undo (self->model);
  g_assert_cmpint (measure_model_plumpness (self->model, &dragged), ==, CORE_MEASURE_OK);
  g_assert_cmpfloat_with_epsilon (dragged.depth, found.depth, 1e-12);
  record (self);
  g_assert_cmpint (state_now (self)->belly, ==, found.score);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD_TEST(path, function) g_test_add (path, Measure, NULL, set_up, function, tear_down)
  ADD_TEST ("/measure/length", test_length);
  ADD_TEST ("/measure/undo-and-draft", test_undo_and_draft);
  ADD_TEST ("/measure/plumpness", test_plumpness);
  return g_test_run ();
}
