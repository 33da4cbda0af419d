/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-photos.c — many pictures at once, the batch that waits for its numbers, what is left for
 * later, the gallery. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <utime.h>

#include "core/core-date.h"
#include "demo/demo-jpeg.h"
#include "desk-fixture.h"
#include "desk/desk-gallery.h"
#include "desk/desk-photos.h"
#include "desk/photo-batch.h"
#include "desk/photo-later.h"

#define SIDE 96

typedef struct
{
  Fixture journal;
  DeskSubject *a, *b; /* 14, 22 */
  char *dir;          /* of the camera */
} Case;

static void
set_up (Case *c, gconstpointer data)
{
  fixture_set_up (&c->journal, NULL);
  c->a = fixture_add (c->journal.desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=14 hatched=2026-02-01 acquired=2026-04-20 moults=3");
  c->b = fixture_add (c->journal.desk, CORE_SUBJECT_ANIMAL, "species=hierodula number=22 hatched=2026-02-01 acquired=2026-04-20 moults=3");
  c->dir = g_build_filename (c->journal.dir, "camera", NULL);
  g_assert_cmpint (g_mkdir (c->dir, 0700), ==, 0);
}

static void
tear_down (Case *c, gconstpointer data)
{
  desk_subject_unref (c->a);
  desk_subject_unref (c->b);
  fixture_tear_down (&c->journal, NULL);
  g_free (c->dir);
}

/* A picture of one colour; `taken` NULL: it names no day. Its file is of that day at noon. */
static GFile *
picture (Case *c, const char *name, guint8 colour, const char *taken, const char *file_day)
{
  g_autofree char *path = g_build_filename (c->dir, name, NULL);
  g_autofree guint8 *rgb = g_malloc (3 * SIDE * SIDE);
  g_autoptr (GError) error = NULL;
  g_autoptr (GDateTime) noon = NULL;
  g_autofree char *text = g_strdup_printf ("%sT12:00:00", file_day);
  g_autoptr (GTimeZone) here = g_time_zone_new_local ();

  memset (rgb, colour, 3 * SIDE * SIDE);
  g_assert_true (demo_jpeg_write (path, rgb, SIDE, SIDE, 90, 1, taken, &error));
  g_assert_no_error (error);
  noon = g_date_time_new_from_iso8601 (text, here);
  g_assert_cmpint (g_utime (path, &(struct utimbuf){ g_date_time_to_unix (noon), g_date_time_to_unix (noon) }), ==, 0);
  return g_file_new_for_path (path);
}

static GFile *
no_picture (Case *c, const char *name)
{
  g_autofree char *path = g_build_filename (c->dir, name, NULL);

  g_assert_true (g_file_set_contents (path, "MZ this is no picture", -1, NULL));
  return g_file_new_for_path (path);
}

static void
wait_read (PhotoBatch *batch)
{
  PhotoBatchSummary sum;

  do
    {
      g_main_context_iteration (NULL, TRUE);
      photo_batch_summary (batch, &sum);
    }
  while (sum.reading > 0);
}

static PhotoBatch *
batch_of (Case *c, GFile *const *files, guint n)
{
  PhotoBatch *batch = photo_batch_new (c->journal.desk);

  g_assert_cmpuint (photo_batch_add (batch, files, n), ==, n);
  wait_read (batch);
  return batch;
}

static GArray *
save (PhotoBatch *batch)
{
  g_autoptr (GAsyncResult) result = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GError) error = NULL;
  GArray *photos;

  photo_batch_save_async (batch, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  photos = photo_batch_save_finish (batch, result, &error);
  g_assert_no_error (error);
  return photos;
}

static guint
n_photos (Case *c, DeskSubject *subject)
{
  g_autoptr (GArray) pictures = desk_gallery (c->journal.desk, desk_subject_id (subject));

  return pictures->len;
}

static CoreDay
day (const char *text)
{
  return core_day_from_text (text);
}

/* ---- the batch ---- */

/* A hostile file is refused with a reason; the rest is one round and one undo. */
static void
test_batch (Case *c, gconstpointer data)
{
  g_autoptr (GFile) one = picture (c, "one.jpg", 40, "2026-05-20 18:30:00", "2026-05-20");
  g_autoptr (GFile) bad = no_picture (c, "bad.jpg");
  g_autoptr (GFile) two = picture (c, "two.jpg", 80, "2026-05-21 18:30:00", "2026-05-21");
  GFile *files[] = { one, bad, two };
  g_autoptr (PhotoBatch) batch = batch_of (c, files, 3);
  g_autoptr (GArray) photos = NULL;
  g_autoptr (DeskChange) undone = NULL;
  PhotoBatchSummary sum;

  g_assert_cmpint (photo_batch_row (batch, 1)->state, ==, PHOTO_ROW_REFUSED);
  g_assert_cmpuint (strlen (photo_batch_row (batch, 1)->why->message), >, 20);
  photo_batch_set_number (batch, 0, "14");
  photo_batch_set_number (batch, 2, "no such");
  g_assert_false (photo_batch_waits (batch, 0));
  g_assert_true (photo_batch_waits (batch, 2));
  photo_batch_assign (batch, 2, desk_subject_id (c->b));
  g_assert_cmpstr (photo_batch_row (batch, 2)->typed, ==, "22");
  photo_batch_summary (batch, &sum);
  g_assert_cmpuint (sum.ready, ==, 2);
  g_assert_cmpuint (sum.refused, ==, 1);
  photos = save (batch);
  g_assert_cmpuint (photos->len, ==, 2);
  g_assert_cmpuint (photo_batch_n_rows (batch), ==, 1); /* the refused one stays */
  g_assert_cmpuint (n_photos (c, c->a) + n_photos (c, c->b), ==, 2);
  undone = fixture_undo (c->journal.desk);
  g_assert_cmpuint (n_photos (c, c->a) + n_photos (c, c->b), ==, 0);
}

/* Camera and file: asked where they differ, and what is chosen is what is entered. */
static void
test_days (Case *c, gconstpointer data)
{
  g_autoptr (GFile) same = picture (c, "same.jpg", 10, "2026-05-20 18:30:00", "2026-05-20");
  g_autoptr (GFile) differ = picture (c, "differ.jpg", 20, "2026-05-20 18:30:00", "2026-05-25");
  g_autoptr (GFile) none = picture (c, "none.jpg", 30, NULL, "2026-05-24");
  g_autoptr (GFile) ahead = picture (c, "ahead.jpg", 50, "2026-07-01 18:30:00", "2026-07-01");
  GFile *files[] = { same, differ, none, ahead };
  g_autoptr (PhotoBatch) batch = batch_of (c, files, 4);
  g_autoptr (GArray) photos = NULL;
  DeskPhoto info;

  for (guint i = 0; i < 4; i++)
    photo_batch_set_number (batch, i, "14");
  g_assert_cmpint (photo_batch_row (batch, 0)->day, ==, PHOTO_DAY_CAMERA);
  g_assert_true (photo_batch_row (batch, 1)->differ && photo_batch_row (batch, 2)->differ);
  g_assert_true (photo_batch_waits (batch, 1) && photo_batch_waits (batch, 2));
  g_assert_false (photo_batch_row (batch, 3)->differ); /* neither day can be */
  g_assert_cmpint (photo_batch_row (batch, 3)->day, ==, PHOTO_DAY_NOBODY);
  photo_batch_set_days (batch, PHOTO_DAY_CAMERA);
  g_assert_false (photo_batch_waits (batch, 1));
  g_assert_true (photo_batch_waits (batch, 2)); /* its camera said none */
  photo_batch_set_days (batch, PHOTO_DAY_FILE);
  g_assert_false (photo_batch_waits (batch, 2));
  photo_batch_set_day (batch, 0, PHOTO_DAY_UNSAID); /* nothing */
  photos = save (batch);
  g_assert_cmpuint (photos->len, ==, 4);
  g_assert_true (desk_photo_info (c->journal.desk, g_array_index (photos, CoreId, 0), &info));
  g_assert_cmpint (info.day, ==, day ("2026-05-20"));
  g_assert_true (desk_photo_info (c->journal.desk, g_array_index (photos, CoreId, 1), &info));
  g_assert_cmpint (info.day, ==, day ("2026-05-25"));
  g_assert_cmpfloat (core_entry_num (desk_entry (c->journal.desk, info.photo), CORE_KEY_TAKEN, NAN), ==, info.day);
  g_assert_true (desk_photo_info (c->journal.desk, g_array_index (photos, CoreId, 2), &info));
  g_assert_cmpint (info.day, ==, day ("2026-05-24"));
  g_assert_true (desk_photo_info (c->journal.desk, g_array_index (photos, CoreId, 3), &info));
  g_assert_cmpint (info.day, ==, c->journal.today);
}

/* A day that cannot be is not offered, and whose picture it is says which can be: 14 hatched after that. */
static void
test_wrong_clock (Case *c, gconstpointer data)
{
  g_autoptr (GFile) ahead = picture (c, "ahead.jpg", 20, "2026-07-01 18:30:00", "2026-05-20");
  g_autoptr (GFile) unset = picture (c, "unset.jpg", 30, "1980-01-01 00:00:00", "1980-01-01");
  g_autoptr (GFile) early = picture (c, "early.jpg", 40, "2026-01-10 18:30:00", "2026-05-20");
  GFile *files[] = { ahead, unset, early };
  g_autoptr (PhotoBatch) batch = batch_of (c, files, 3);
  g_autoptr (GArray) photos = NULL;
  const PhotoRow *row = photo_batch_row (batch, 0);
  DeskPhoto info;

  g_assert_cmpint (row->wrong, ==, CORE_WRONG_DAY_AHEAD);
  g_assert_true (row->differ && !photo_batch_day_fits (batch, 0, PHOTO_DAY_CAMERA) && photo_batch_day_fits (batch, 0, PHOTO_DAY_FILE));
  row = photo_batch_row (batch, 1);
  g_assert_cmpint (row->wrong, ==, CORE_WRONG_DAY_LONG_AGO);
  g_assert_true (!row->differ && row->day == PHOTO_DAY_NOBODY);
  g_assert_cmpint (photo_batch_row (batch, 2)->wrong, ==, CORE_WRONG_DAY_NONE);
  photo_batch_set_day (batch, 2, PHOTO_DAY_CAMERA);
  for (guint i = 0; i < 3; i++)
    photo_batch_set_number (batch, i, "14");
  row = photo_batch_row (batch, 2);
  g_assert_cmpint (row->wrong, ==, CORE_WRONG_DAY_HATCH);
  g_assert_true (row->day == PHOTO_DAY_UNSAID && photo_batch_waits (batch, 2) && !photo_batch_day_fits (batch, 2, PHOTO_DAY_CAMERA));
  photo_batch_set_days (batch, PHOTO_DAY_FILE);
  photos = save (batch);
  g_assert_cmpuint (photos->len, ==, 3);
  g_assert_true (desk_photo_info (c->journal.desk, g_array_index (photos, CoreId, 1), &info));
  g_assert_cmpint (info.day, ==, c->journal.today);
  g_assert_true (isnan (core_entry_num (desk_entry (c->journal.desk, info.photo), CORE_KEY_TAKEN, NAN)));
  g_assert_true (desk_photo_info (c->journal.desk, g_array_index (photos, CoreId, 2), &info));
  g_assert_cmpint (info.day, ==, day ("2026-05-20"));
}

/* Nobody knows: as of today, and no proof of a look, whatever the camera says. */
static void
test_nobody_knows (Case *c, gconstpointer data)
{
  g_autoptr (GFile) file = picture (c, "p.jpg", 20, "2026-05-20 18:30:00", "2026-05-25");
  GFile *files[] = { file };
  g_autoptr (PhotoBatch) batch = batch_of (c, files, 1);
  g_autoptr (GArray) photos = NULL;
  g_autoptr (DeskSubject) now = NULL;
  CoreDay look = core_state_last_look (desk_subject_state (c->a));

  photo_batch_set_number (batch, 0, "14");
  photo_batch_set_day (batch, 0, PHOTO_DAY_NOBODY);
  photos = save (batch);
  now = fixture_now (c->journal.desk, c->a);
  g_assert_cmpint (desk_subject_state (now)->photos.v[0].day, ==, c->journal.today);
  g_assert_cmpint (desk_subject_state (now)->photos.v[0].taken, ==, CORE_DAY_NONE);
  g_assert_cmpint (core_state_last_look (desk_subject_state (now)), ==, look);
}

/* The same file: in the list, and in the journal. */
static void
test_twins (Case *c, gconstpointer data)
{
  g_autoptr (GFile) one = picture (c, "one.jpg", 40, "2026-05-20 18:30:00", "2026-05-20");
  g_autoptr (GFile) copy = picture (c, "copy.jpg", 40, "2026-05-20 18:30:00", "2026-05-20");
  GFile *files[] = { one, copy };
  g_autoptr (PhotoBatch) batch = batch_of (c, files, 2);
  g_autoptr (PhotoBatch) later = NULL;
  g_autoptr (GArray) photos = NULL, more = NULL;

  g_assert_cmpint (photo_batch_row (batch, 0)->twin, ==, -1);
  g_assert_cmpint (photo_batch_row (batch, 1)->twin, ==, 0);
  g_assert_cmpuint (photo_batch_add (batch, files, 2), ==, 0); /* they are there */
  photo_batch_set_number (batch, 0, "14");
  photo_batch_set_number (batch, 1, "14");
  g_assert_true (photo_batch_waits (batch, 1)); /* the same on the same again */
  photos = save (batch);
  g_assert_cmpuint (photos->len, ==, 1);
  g_assert_true (photo_batch_row (batch, 0)->known);
  g_assert_true (core_id_equal (photo_batch_row (batch, 0)->holder, desk_subject_id (c->a)));
  g_assert_true (photo_batch_waits (batch, 0));
  photo_batch_set_number (batch, 0, "22"); /* it may show both */
  more = save (batch);
  g_assert_cmpuint (more->len, ==, 1);
}

/* What was given is there again after the program has ended; a file that is gone says so. */
static void
test_restart (Case *c, gconstpointer data)
{
  g_autoptr (GFile) one = picture (c, "one ü.jpg", 40, "2026-05-20 18:30:00", "2026-05-25");
  g_autoptr (GFile) two = picture (c, "two.jpg", 60, "2026-05-20 18:30:00", "2026-05-20");
  GFile *files[] = { one, two };
  PhotoBatch *batch = batch_of (c, files, 2);
  g_autoptr (PhotoBatch) again = NULL;

  photo_batch_set_number (batch, 0, "22");
  photo_batch_set_day (batch, 0, PHOTO_DAY_FILE);
  g_object_unref (batch);
  g_assert_true (g_file_delete (two, NULL, NULL));
  fixture_reopen (&c->journal, DESK_OPEN_DEFAULT | DESK_OPEN_LAZY);
  again = photo_batch_new (c->journal.desk);
  g_assert_true (photo_batch_restore (again));
  wait_read (again);
  g_assert_cmpuint (photo_batch_n_rows (again), ==, 2);
  g_assert_cmpstr (photo_batch_row (again, 0)->typed, ==, "22");
  g_assert_cmpint (photo_batch_row (again, 0)->day, ==, PHOTO_DAY_FILE);
  g_assert_false (photo_batch_waits (again, 0));
  g_assert_cmpint (photo_batch_row (again, 1)->state, ==, PHOTO_ROW_REFUSED);
  photo_batch_clear (again);
  g_assert_false (photo_batch_restore (again));
}

/* One that the journal cannot take keeps out none of the others. */
static void
test_one_cannot_be (Case *c, gconstpointer data)
{
  g_autoptr (GFile) one = picture (c, "one.jpg", 40, "2026-05-20 18:30:00", "2026-05-20");
  g_autoptr (GFile) two = picture (c, "two.jpg", 80, "2026-05-21 18:30:00", "2026-05-21");
  DeskPhotoFile files[] = { { .subject = desk_subject_id (c->a), .file = one, .day = day ("2026-01-01") },
                            { .subject = desk_subject_id (c->b), .file = two, .day = CORE_DAY_NONE } };
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GArray) added = NULL;
  g_autoptr (GError) error = NULL;

  desk_photos_add_async (c->journal.desk, files, 2, NULL, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  added = desk_photos_add_finish (c->journal.desk, result, &error);
  g_assert_no_error (error);
  g_assert_nonnull (g_array_index (added, DeskPhotoAdded, 0).why); /* before the hatch */
  g_assert_null (g_array_index (added, DeskPhotoAdded, 1).why);
  g_assert_cmpuint (n_photos (c, c->a), ==, 0);
  g_assert_cmpuint (n_photos (c, c->b), ==, 1);
}

/* ---- later ---- */

static CoreId
add_photo (Case *c, DeskSubject *subject, const char *name, guint8 colour, const char *taken)
{
  g_autoptr (GFile) file = picture (c, name, colour, taken, "2026-05-30");
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskPhoto photo;

  desk_photo_add_async (c->journal.desk, desk_subject_id (subject), file, CORE_DAY_NONE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_photo_add_finish (c->journal.desk, result, &photo, &error));
  g_assert_no_error (error);
  return photo.photo;
}

static void
mark (Case *c, DeskSubject *subject, CoreId photo, const char *more)
{
  char id[37];
  g_autofree char *pairs = NULL;

  core_id_to_text (photo, id);
  pairs = g_strdup_printf ("photo=%s %s", id, more);
  fixture_record (c->journal.desk, subject, "marked", pairs, 0);
}

static void
test_later (Case *c, gconstpointer data)
{
  CoreId photos[3] = { add_photo (c, c->a, "a.jpg", 10, "2026-05-20 10:00:00"),
                       add_photo (c, c->b, "b.jpg", 20, "2026-05-20 10:00:00"),
                       add_photo (c, c->b, "c.jpg", 30, "2026-05-21 10:00:00") };
  g_autoptr (GArray) list = NULL, after = NULL, undone = NULL;
  g_autoptr (DeskChange) change = NULL;

  photo_later_add (c->journal.desk, photos, 3);
  photo_later_add (c->journal.desk, photos, 3); /* once each */
  photo_later_leave (c->journal.desk, photos[0]);
  fixture_reopen (&c->journal, DESK_OPEN_DEFAULT | DESK_OPEN_LAZY);
  list = photo_later_list (c->journal.desk);
  g_assert_cmpuint (list->len, ==, 3);
  g_assert_true (core_id_equal (g_array_index (list, PhotoLater, 0).photo, photos[1]));
  g_assert_true (core_id_equal (g_array_index (list, PhotoLater, 0).subject, desk_subject_id (c->b)));
  g_assert_true (g_array_index (list, PhotoLater, 2).left);
  g_assert_true (core_id_equal (g_array_index (list, PhotoLater, 2).photo, photos[0]));
  mark (c, c->b, photos[1], "side=back of=animal");
  photo_later_forget (c->journal.desk, photos[2]);
  after = photo_later_list (c->journal.desk);
  g_assert_cmpuint (after->len, ==, 1);
  change = fixture_undo (c->journal.desk); /* not counted after all */
  undone = photo_later_list (c->journal.desk);
  g_assert_cmpuint (undone->len, ==, 2);
}

/* ---- the gallery ---- */

static const DeskPicture *
nth (const GArray *pictures, guint i)
{
  return &g_array_index (pictures, DeskPicture, i);
}

static void
test_gallery (Case *c, gconstpointer data)
{
  CoreId old = add_photo (c, c->a, "old.jpg", 10, "2026-05-01 10:00:00");
  CoreId shed = add_photo (c, c->a, "shed.jpg", 20, "2026-05-21 10:00:00");
  CoreId recent = add_photo (c, c->a, "new.jpg", 30, "2026-05-28 10:00:00");
  g_autoptr (GArray) pictures = NULL, growth = NULL, all = NULL, less = NULL;

  add_photo (c, c->b, "b.jpg", 40, "2026-05-01 10:00:00");
  fixture_record (c->journal.desk, c->a, "moulted", "outcome=good", -11); /* 2026-05-21 */
  mark (c, c->a, old, "side=underside of=animal axis=10,10,70,10 count=6 by=keeper");
  mark (c, c->a, shed, "side=underside of=shed axis=10,10,40,10");
  mark (c, c->a, recent, "side=underside of=animal axis=10,10,90,10");
  less = desk_gallery (c->journal.desk, desk_subject_id (c->a));
  growth = desk_gallery_growth (less);
  g_assert_cmpuint (growth->len, ==, 0); /* nothing was measured: no scale is made up */
  fixture_record (c->journal.desk, c->a, "measured", "what=abdomen mm=15 sd=0.5", -25);
  fixture_record (c->journal.desk, c->a, "measured", "what=abdomen mm=20", -2);
  pictures = desk_gallery (c->journal.desk, desk_subject_id (c->a));
  all = desk_gallery (c->journal.desk, (CoreId){ { 0 } });
  g_assert_cmpuint (pictures->len, ==, 3);
  g_assert_cmpuint (all->len, ==, 4);
  /* By stage: the shed skin shows the stage before the moult, though it was found on that day. */
  g_assert_true (core_id_equal (nth (pictures, 0)->photo, old));
  g_assert_true (core_id_equal (nth (pictures, 1)->photo, shed));
  g_assert_cmpint (nth (pictures, 0)->shows.moults, ==, nth (pictures, 1)->shows.moults);
  g_assert_cmpint (nth (pictures, 2)->shows.moults, ==, nth (pictures, 0)->shows.moults + 1);
  g_assert_cmpint (nth (pictures, 1)->shows.of, ==, CORE_OF_SHED);
  g_assert_cmpint (nth (pictures, 0)->plates, ==, 6);
  g_assert_cmpint (nth (pictures, 2)->plates, ==, -1);
  g_assert_cmpfloat_with_epsilon (nth (pictures, 0)->px_per_mm, 60. / 15, 1e-9);
  g_assert_cmpfloat_with_epsilon (nth (pictures, 2)->px_per_mm, 80. / 20, 1e-9);
  g_assert_true (isnan (nth (pictures, 1)->px_per_mm));
  g_array_unref (g_steal_pointer (&growth));
  growth = desk_gallery_growth (pictures);
  g_assert_cmpuint (growth->len, ==, 2);
  g_assert_cmpuint (g_array_index (growth, guint, 0), ==, 0);
  g_assert_cmpuint (g_array_index (growth, guint, 1), ==, 2);
  g_assert_cmpint (desk_gallery_find (c->journal.desk, pictures, shed), ==, 1);
}

int
main (int argc, char **argv)
{
  g_autofree char *cache = g_dir_make_tmp ("photos-XXXXXX", NULL);

  g_setenv ("XDG_CACHE_HOME", cache, TRUE); /* before the first question for it */
  g_test_init (&argc, &argv, NULL);
#define CASE(path, func) g_test_add (path, Case, NULL, set_up, func, tear_down)
  CASE ("/photos/batch", test_batch);
  CASE ("/photos/days", test_days);
  CASE ("/photos/wrong-clock", test_wrong_clock);
  CASE ("/photos/nobody-knows", test_nobody_knows);
  CASE ("/photos/twins", test_twins);
  CASE ("/photos/restart", test_restart);
  CASE ("/photos/one-cannot-be", test_one_cannot_be);
  CASE ("/photos/later", test_later);
  CASE ("/photos/gallery", test_gallery);
  return g_test_run ();
}
