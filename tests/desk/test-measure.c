/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-measure.c — marks on a picture to entries: a length by ruler and disc, the belly from an
 * outline, undo of every mark, and the draft. */
#include "desk/measure-model.h"

#include <math.h>

#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "desk-fixture.h"
#include "desk/desk-gallery.h"
#include "desk/desk-photos.h"
#include "desk/desk-proof.h"
#include "desk/desk-strip.h"

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

/* ---- what else goes by it ---- */

static void
mark (Measure *self, const char *of)
{
  char id[37];
  g_autofree char *pairs = NULL;

  core_id_to_text (self->photo, id);
  pairs = g_strdup_printf ("photo=%s side=underside of=%s axis=%.0f,%.0f,%.0f,%.0f bounds=.25,.5,.75 count=4 by=keeper", id, of,
                           self->truth.base.x, self->truth.base.y, self->truth.tip.x, self->truth.tip.y);
  fixture_record (self->base.desk, self->animal, "marked", pairs, 0);
}

static double
gallery_scale (Measure *self, DeskPicture *out)
{
  g_autoptr (GArray) pictures = desk_gallery (self->base.desk, desk_subject_id (self->animal));

  g_assert_cmpuint (pictures->len, ==, 1);
  *out = g_array_index (pictures, DeskPicture, 0);
  return out->px_per_mm;
}

static double
sheet_scale (Measure *self)
{
  g_autofree char *path = g_strconcat (self->base.dir, "-sheet.png", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskProof) proof = desk_proof_new (self->base.desk, self->photo, &error);
  g_autoptr (GAsyncResult) result = NULL;
  DeskSync sync = { NULL };
  DeskProofInfo info;

  g_assert_no_error (error);
  desk_proof_write_async (proof, path, TRUE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_proof_write_finish (result, &info, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_delete (file, NULL, NULL));
  return info.px_per_mm;
}

/* A length measured against a ruler gives its picture a scale: sheet and gallery take it, also of a shed
 * skin; a length that was typed gives none. */
static void
test_scale_of_the_picture (Measure *self, gconstpointer data)
{
  DeskPicture picture;
  CoreScale scale;
  const CoreEntry *by;
  CoreId length;

  fixture_record (self->base.desk, self->animal, "measured", "what=body mm=30", -12);
  g_assert_false (desk_photo_scale (self->base.desk, self->photo, &scale, &by));
  place_ruler (self);
  measure_model_add (self->model, MEASURE_SET_LINE, (CorePoint){ 100, 100 });
  measure_model_add (self->model, MEASURE_SET_LINE, (CorePoint){ 500, 100 });
  record (self);
  g_assert_true (desk_photo_scale (self->base.desk, self->photo, &scale, &by));
  length = by->id; /* the entry is borrowed until the next change */
  g_assert_cmpfloat_with_epsilon (1 / scale.mm_per_px, 20, 1e-6);
  g_assert_cmpfloat (scale.share_sd, >, .01); /* the tilt alone */
  g_assert_cmpfloat (scale.share_sd, <, .1);
  g_assert_cmpfloat_with_epsilon (gallery_scale (self, &picture), 20, 1e-6);
  g_assert_cmpfloat (picture.part.width, ==, 700); /* nothing is marked: all of it */
  mark (self, "shed");
  g_assert_cmpfloat_with_epsilon (gallery_scale (self, &picture), 20, 1e-6);
  g_assert_cmpfloat (picture.part.width, <, 700);
  g_assert_cmpfloat_with_epsilon (sheet_scale (self), 20, 1e-3);
  fixture_void (self->base.desk, length);
  g_assert_false (desk_photo_scale (self->base.desk, self->photo, &scale, &by));
  g_assert_true (isnan (gallery_scale (self, &picture)));
  g_assert_true (isnan (sheet_scale (self)));
}

/* The line that was measured along must lie in a picture of this animal. */
static void
test_line_refused (Measure *self, gconstpointer data)
{
  g_autoptr (DeskSubject) other = fixture_add (self->base.desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=7");
  char id[37];
  g_autofree char *outside = NULL, *foreign = NULL;
  g_autoptr (GError) one = NULL, two = NULL;

  core_id_to_text (self->photo, id);
  outside = g_strdup_printf ("what=body mm=30 photo=%s axis=10,10,9000,10", id);
  foreign = g_strdup_printf ("what=body mm=30 photo=%s axis=10,10,90,10", id);
  one = fixture_try_record (self->base.desk, self->animal, "measured", outside, 0);
  two = fixture_try_record (self->base.desk, other, "measured", foreign, 0);
  g_assert_error (one, DESK_ERROR, DESK_ERROR_VALUE);
  g_assert_error (two, DESK_ERROR, DESK_ERROR_VALUE);
}

/* A marked picture straightened, with the lines that were kept. */
static void
test_strip (Measure *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL, none = NULL;
  g_autoptr (GAsyncResult) result = NULL, early = NULL;
  DeskSync sync = { NULL }, first = { NULL };
  g_autoptr (DeskStrip) strip = NULL;

  g_assert_false (desk_strip_known (self->base.desk, self->photo));
  desk_strip_async (self->base.desk, self->photo, NULL, desk_sync_cb, &first);
  early = desk_sync_wait (&first);
  g_assert_null (desk_strip_finish (early, &none));
  g_assert_error (none, DESK_ERROR, DESK_ERROR_NOT_FOUND);
  mark (self, "animal");
  g_assert_true (desk_strip_known (self->base.desk, self->photo));
  desk_strip_async (self->base.desk, self->photo, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  strip = desk_strip_finish (result, &error);
  g_assert_no_error (error);
  g_assert_cmpint (strip->strip->height, ==, 512);
  g_assert_cmpint (strip->strip->width, >, 40);
  g_assert_cmpuint (strip->n, ==, 3);
  g_assert_cmpfloat (strip->at[1], ==, .5);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD_TEST(path, function) g_test_add (path, Measure, NULL, set_up, function, tear_down)
  ADD_TEST ("/measure/length", test_length);
  ADD_TEST ("/measure/scale-of-the-picture", test_scale_of_the_picture);
  ADD_TEST ("/measure/line-refused", test_line_refused);
  ADD_TEST ("/measure/strip", test_strip);
  ADD_TEST ("/measure/undo-and-draft", test_undo_and_draft);
  ADD_TEST ("/measure/plumpness", test_plumpness);
  return g_test_run ();
}
