/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-faults.c — the n-th allocation, read, write, sync, open or truncation of SQLite fails, for
 * every n until a verb of the keeper's goes through untouched: each time all of it is in the
 * journal, or nothing and the keeper is told; and the desk goes on.
 *
 *   test-faults [--every]     each allocation, not a sample of them */
#include <glib/gstdio.h>
#include <unistd.h>

#include "../store/store-faulty.h"
#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "desk-fixture.h"
#include "desk/desk-backup.h"
#include "desk/desk-private.h"
#include "exchange/exch-file.h"

#define MOST_FAULTS 20000

typedef struct
{
  Fixture base;
  char *outside; /* a folder beside the journal */
  DeskSubject *shelf;
  DeskSubject *animals[4];
  CoreId meal; /* an entry to correct */
  int turn;
} Faults;

static void
set_up (Faults *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  fixture_set_up (&self->base, data);
  self->outside = g_dir_make_tmp ("mantidary-faults-XXXXXX", &error);
  g_assert_no_error (error);
  self->shelf = fixture_add (self->base.desk, CORE_SUBJECT_PLACE, "code=A");
  for (gsize i = 0; i < G_N_ELEMENTS (self->animals); i++)
    self->animals[i] =
      fixture_add (self->base.desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01 place=A");
  self->meal = fixture_record (self->base.desk, self->animals[0], "fed", "prey=hydei n=2", -3);
}

static void
tear_down (Faults *self, gconstpointer data)
{
  for (gsize i = 0; i < G_N_ELEMENTS (self->animals); i++)
    desk_subject_unref (self->animals[i]);
  desk_subject_unref (self->shelf);
  fixture_tear_down (&self->base, data);
  exch_file_remove_tree (self->outside);
  g_free (self->outside);
}

/* ---- the verbs ---- */

static gboolean
write_round (Faults *self, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  const DeskWhen today = { CORE_DAY_NONE, CORE_DAY_NONE, CORE_DAY_NONE };
  gsize n_terms, n = 0;
  const CoreRoundTerm *terms = words_round_terms (WORDS_ENGLISH, &n_terms);

  desk_round_write_async (self->base.desk, desk_subject_id (self->shelf), "misted; 1 drank; 2 belly 3", terms,
                          n_terms, &today, NULL, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_round_write_finish (self->base.desk, result, &n, error);
}

static gboolean
undo (Faults *self, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskChange) change = NULL;

  desk_undo_async (self->base.desk, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  change = desk_undo_finish (self->base.desk, result, error);
  return change != NULL;
}

static gboolean
correct (Faults *self, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autofree char *pair = g_strdup_printf ("n=%d", 1 + self->turn % 90);
  const char *pairs[] = { pair, NULL };
  CoreId id;

  desk_correct_async (self->base.desk, self->meal, pairs, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_correct_finish (self->base.desk, result, &id, error))
    return FALSE;
  self->meal = id;
  return TRUE;
}

static void
draw_photo (Faults *self)
{
  DemoDrawOptions options = { .width = 80,
                              .height = 60,
                              .subject = DEMO_SUBJECT_LEAF,
                              .seed = (guint64) self->turn };
  g_autoptr (DemoDrawing) drawing = demo_draw (&options);
  g_autofree char *path = g_build_filename (self->outside, "new.jpg", NULL);
  g_autoptr (GError) error = NULL;

  demo_jpeg_write (path, drawing->rgb, 80, 60, 90, 1, "2026-05-20 18:30:00", &error);
  g_assert_no_error (error);
}

static gboolean
add_photo (Faults *self, GError **error)
{
  g_autofree char *path = g_build_filename (self->outside, "new.jpg", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  DeskPhoto photo;

  desk_photo_add_async (self->base.desk, desk_subject_id (self->animals[1]), file, CORE_DAY_NONE, NULL,
                        desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_photo_add_finish (self->base.desk, result, &photo, error);
}

static gboolean
back_up (Faults *self, GError **error)
{
  g_autofree char *path = g_build_filename (self->outside, "b", NULL);
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskBackup) backup = NULL;

  desk_backup_async (self->base.desk, path, DESK_BACKUP_DEFAULT, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  backup = desk_backup_finish (self->base.desk, result, error);
  return backup != NULL;
}

static gboolean
restore (Faults *self, GError **error)
{
  g_autofree char *path = g_build_filename (self->outside, "b", NULL);
  g_autofree char *dir = g_build_filename (self->outside, "r", NULL);
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskBackup) backup = NULL;

  desk_restore_async (path, dir, DESK_BACKUP_DEFAULT, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  backup = desk_restore_finish (result, error);
  return backup != NULL;
}

/* ---- before and after ---- */

static void
round_before (Faults *self)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (write_round (self, &error));
  g_assert_no_error (error);
}

static gboolean
is_there (Faults *self, const char *name)
{
  g_autofree char *path = g_build_filename (self->outside, name, NULL);

  return g_file_test (path, G_FILE_TEST_EXISTS);
}

static void
remove_inside (Faults *self, const char *name)
{
  g_autofree char *path = g_build_filename (self->outside, name, NULL);

  if (g_unlink (path) != 0)
    exch_file_remove_tree (path);
}

/* Whole and good for a restoring, or not there. */
static void
backup_after (Faults *self, gboolean ok)
{
  g_autofree char *dir = g_build_filename (self->outside, "r", NULL);

  g_assert_cmpint (is_there (self, "b"), ==, ok);
  if (!ok)
    return;
  g_assert_true (restore (self, NULL));
  g_assert_cmpuint (testing_count (dir), ==, testing_count (self->base.dir));
  remove_inside (self, "r");
  remove_inside (self, "b");
}

static void
archive_before (Faults *self)
{
  if (!is_there (self, "b"))
    g_assert_true (back_up (self, NULL));
}

static void
restore_after (Faults *self, gboolean ok)
{
  g_autofree char *dir = g_build_filename (self->outside, "r", NULL);

  g_assert_cmpint (is_there (self, "r"), ==, ok);
  if (!ok)
    return;
  g_assert_cmpuint (testing_count (dir), ==, testing_count (self->base.dir));
  remove_inside (self, "r");
}

static char *
folder (Faults *self, const char *name)
{
  char *dir = g_build_filename (self->outside, name, NULL);

  if (!is_there (self, name))
    g_assert_cmpint (g_mkdir (dir, 0700), ==, 0);
  return dir;
}

/* A copy with two entries more. The journal is the same one each time: one that grew with each
 * merge would take more allocations than the loop goes forward. */
static void
copy_before (Faults *self)
{
  gboolean first = !is_there (self, "first");
  g_autofree char *pristine = NULL;
  g_autofree char *dir = NULL;
  Fixture copy = { .today = self->base.today };

  if (is_there (self, "c"))
    return;
  pristine = folder (self, "first");
  dir = copy.dir = folder (self, "c");
  fixture_close (g_steal_pointer (&self->base.desk));
  fixture_copy (first ? self->base.dir : pristine, first ? pristine : self->base.dir);
  fixture_copy (pristine, dir);
  copy.desk = fixture_open (&copy, DESK_OPEN_LAZY);
  fixture_record (copy.desk, self->animals[2], "note", "text=apart", 0);
  fixture_correct (copy.desk, self->meal, "n=91");
  fixture_close (copy.desk);
  self->base.desk = fixture_open (&self->base, DESK_OPEN_DEFAULT);
}

static gboolean
merge (Faults *self, GError **error)
{
  g_autofree char *dir = g_build_filename (self->outside, "c", NULL);
  g_autoptr (DeskMerge) merged = fixture_merge (self->base.desk, dir, error);

  return merged != NULL;
}

/* All that is there is known at once. */
static void
merge_after (Faults *self, gboolean ok)
{
  g_assert_cmpuint (self->base.desk->all.totals.count, ==, testing_count (self->base.dir));
  g_assert_cmpint (desk_entry_is_live (self->base.desk, self->meal), ==, !ok);
  if (ok)
    remove_inside (self, "c");
}

typedef struct
{
  const char *name;
  void (*before) (Faults *self); /* without a fault; may be NULL */
  gboolean (*run) (Faults *self, GError **error);
  void (*after) (Faults *self, gboolean ok); /* may be NULL */
  guint rows;                                /* entries that it writes */
  int least;                                 /* kinds of fault that must strike it */
  int step;                                  /* of allocations every so many, after the first */
  int file_step;                             /* the same of reads, writes and so on */
} Verb;

static const Verb verbs[] = {
  { "round", NULL, write_round, NULL, 6, 5, 5, 1 },
  { "undo", round_before, undo, NULL, 6, 5, 5, 1 },
  { "correct", NULL, correct, NULL, 1, 5, 5, 1 },
  { "photo", draw_photo, add_photo, NULL, 1, 5, 5, 1 },
  { "backup", NULL, back_up, backup_after, 0, 6, 61, 7 },
  { "restore", archive_before, restore, restore_after, 0, 3, 61, 7 },
  { "merge", copy_before, merge, merge_after, 2, 5, 61, 7 },
};

/* ---- the loop ---- */

static void
arm (Fault fault, gboolean stays, int n)
{
  if (fault == FAULT_NONE)
    faulty_mem_countdown = n;
  else
    faulty_files = (FaultyFiles){ fault, n, stays, faulty_files.spent };
}

/* How many of the faults kept the verb from its end. */
static int
fault_loop (Faults *self, const Verb *verb, Fault fault, gboolean stays)
{
  int failures = 0;

  for (int n = 1;; n = faulty_next (n, fault == FAULT_NONE ? verb->step : verb->file_step))
    {
      g_autoptr (GError) error = NULL;
      int before = faulty_mem_spent + faulty_files.spent;
      guint count;
      gboolean ok;

      self->turn++;
      if (verb->before != NULL)
        verb->before (self);
      count = testing_count (self->base.dir);
      arm (fault, stays, n);
      ok = verb->run (self, &error);
      faulty_off ();
      g_assert_cmpint (ok, ==, error == NULL);
      g_assert_cmpuint (testing_count (self->base.dir), ==, count + (ok ? verb->rows : 0));
      if (verb->after != NULL)
        verb->after (self, ok);
      failures += !ok;
      if (faulty_mem_spent + faulty_files.spent == before) /* the n-th never came */
        {
          g_assert_no_error (error);
          break;
        }
      g_assert_cmpint (n, <, MOST_FAULTS);
    }
  return failures;
}

static void
check_clean (Faults *self)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskCheck) check = NULL;
  g_autoptr (GError) error = NULL;

  desk_check_async (self->base.desk, WORDS_ENGLISH, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  check = desk_check_finish (self->base.desk, result, &error);
  g_assert_no_error (error);
  g_assert_true (check->clean);
}

static void
test_verb (Faults *self, gconstpointer data)
{
  static const struct
  {
    const char *name;
    Fault fault;
    gboolean stays;
  } faults[] = {
    { "memory", FAULT_NONE, FALSE },      { "disk full", FAULT_FULL, FALSE },
    { "disk stays full", FAULT_FULL, TRUE }, { "half a write", FAULT_SHORT_WRITE, FALSE },
    { "sync", FAULT_SYNC, FALSE },        { "read", FAULT_READ, FALSE },
    { "open", FAULT_OPEN, FALSE },        { "truncate", FAULT_TRUNCATE, FALSE },
  };
  const Verb *verb = data;
  int bitten = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      int failures = fault_loop (self, verb, faults[i].fault, faults[i].stays);

      g_test_message ("%s, %s: %d failed", verb->name, faults[i].name, failures);
      bitten += failures > 0;
    }
  g_assert_cmpint (bitten, >=, verb->least);
  check_clean (self);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  faulty_take_args (argc, argv);
  faulty_install ();
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_autofree char *path = g_strdup_printf ("/desk/faults/%s", verbs[i].name);

      g_test_add (path, Faults, &verbs[i], set_up, test_verb, tear_down);
    }
  return g_test_run ();
}
