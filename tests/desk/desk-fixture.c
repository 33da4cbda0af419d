/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-fixture.c — see desk-fixture.h. */
#include "desk-fixture.h"

#include <glib/gstdio.h>

#include "core/core-date.h"
#include "desk/desk-private.h"

CoreDay
fixture_day (int days)
{
  return core_day_from_ymd (2026, 6, 1) + days;
}

Desk *
fixture_open (Fixture *fixture, DeskOpenFlags flags)
{
  g_autoptr (GError) error = NULL;
  Desk *desk = desk_open (fixture->dir, fixture->today, flags, &error);

  g_assert_no_error (error);
  return desk;
}

void
fixture_set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  /* The same tests run once more as if the journal were too large to be held in memory. */
  if (g_getenv ("DESK_TEST_LARGE") != NULL)
    desk_entries_most = 0;
  fixture->base = g_dir_make_tmp ("mantidary-desk-XXXXXX", &error);
  g_assert_no_error (error);
  fixture->dir = g_build_filename (fixture->base, "journal", NULL);
  fixture->today = fixture_day (0);
  fixture->desk = fixture_open (fixture, DESK_OPEN_CREATE | DESK_OPEN_LAZY);
}

void
fixture_close (Desk *desk)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  while (desk->pending > 0) /* what is being computed holds the desk */
    g_main_context_iteration (NULL, TRUE);
  desk_close_async (desk, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_close_finish (desk, result, &error));
  g_assert_no_error (error);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_clear_object (&result);
  /* A thread lets go of its task, and of what that holds, a moment after the answer. */
  for (int i = 0; i < 5000 && g_atomic_int_get ((int *) &G_OBJECT (desk)->ref_count) > 1; i++)
    g_usleep (1000);
  g_assert_finalize_object (desk);
}

void
fixture_reopen (Fixture *fixture, DeskOpenFlags flags)
{
  fixture_close (g_steal_pointer (&fixture->desk));
  fixture->desk = fixture_open (fixture, flags);
}

static void
remove_tree (const char *path)
{
  GDir *dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      remove_tree (child);
    }
  g_clear_pointer (&dir, g_dir_close);
  g_remove (path);
}

void
fixture_tear_down (Fixture *fixture, gconstpointer data)
{
  if (fixture->desk != NULL)
    fixture_close (g_steal_pointer (&fixture->desk));
  remove_tree (fixture->base != NULL ? fixture->base : fixture->dir); /* one made by hand has only a journal */
  g_free (fixture->dir);
  g_free (fixture->base);
}

/* "" = no pairs. */
static char **
split (const char *pairs)
{
  return pairs[0] == '\0' ? g_new0 (char *, 1) : g_strsplit (pairs, " ", -1);
}

DeskSubject *
fixture_add (Desk *desk, CoreSubjectKind kind, const char *pairs)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) list = split (pairs);
  DeskSubject *subject;

  desk_add_async (desk, kind, (const char *const *) list, CORE_DAY_NONE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  subject = desk_add_finish (desk, result, &error);
  g_assert_no_error (error);
  g_assert_nonnull (subject);
  return subject;
}

static GError *
record (Desk *desk, DeskSubject *subject, const char *kind, const char *pairs, int day, CoreId *id)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;
  g_auto (GStrv) list = split (pairs);

  desk_record_async (desk, desk_subject_id (subject), kind, (const char *const *) list,
                     fixture_day (day), CORE_DAY_NONE, -1, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_record_finish (desk, result, id, &error);
  return error;
}

CoreId
fixture_record (Desk *desk, DeskSubject *subject, const char *kind, const char *pairs, int day)
{
  CoreId id = { 0 };
  g_autoptr (GError) error = record (desk, subject, kind, pairs, day, &id);

  g_assert_no_error (error);
  g_assert_false (core_id_is_none (id));
  return id;
}

GError *
fixture_try_record (Desk *desk, DeskSubject *subject, const char *kind, const char *pairs, int day)
{
  return record (desk, subject, kind, pairs, day, NULL);
}

static DeskChange *
change (Desk *desk, gboolean redo)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskChange *done;

  if (redo)
    desk_redo_async (desk, desk_sync_cb, &sync);
  else
    desk_undo_async (desk, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  done = desk_undo_finish (desk, result, &error);
  if (done == NULL)
    g_assert_error (error, DESK_ERROR, DESK_ERROR_NOTHING);
  return done;
}

DeskChange *
fixture_undo (Desk *desk)
{
  return change (desk, FALSE);
}

DeskChange *
fixture_redo (Desk *desk)
{
  return change (desk, TRUE);
}

CoreId
fixture_correct (Desk *desk, CoreId entry, const char *pairs)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) list = split (pairs);
  CoreId id = { 0 };

  desk_correct_async (desk, entry, (const char *const *) list, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_correct_finish (desk, result, &id, &error);
  g_assert_no_error (error);
  return id;
}

void
fixture_void (Desk *desk, CoreId entry)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  desk_void_async (desk, entry, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_void_finish (desk, result, &error);
  g_assert_no_error (error);
}

static void
task_finish (Desk *desk, DeskSync *sync)
{
  g_autoptr (GAsyncResult) result = desk_sync_wait (sync);
  g_autoptr (GError) error = NULL;

  desk_task_finish (desk, result, &error);
  g_assert_no_error (error);
}

void
fixture_task_done (Desk *desk, const CoreTask *task)
{
  DeskSync sync = { NULL };

  desk_task_done_async (desk, task, desk_sync_cb, &sync);
  task_finish (desk, &sync);
}

void
fixture_task_put_off (Desk *desk, const CoreTask *task, CoreDay until)
{
  DeskSync sync = { NULL };

  desk_task_put_off_async (desk, task, until, desk_sync_cb, &sync);
  task_finish (desk, &sync);
}

void
fixture_move (Desk *desk, DeskSubject *animal, DeskSubject *place, DeskSubject *before)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  CoreId none = { 0 };

  desk_place_before_async (desk, desk_subject_id (animal), desk_subject_id (place),
                           before != NULL ? desk_subject_id (before) : none, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_place_before_finish (desk, result, &error);
  g_assert_no_error (error);
}

DeskSubject *
fixture_now (Desk *desk, DeskSubject *subject)
{
  DeskSubject *now = desk_get (desk, desk_subject_id (subject));

  g_assert_nonnull (now);
  return now;
}

void
fixture_copy (const char *from, const char *to)
{
  const char *const names[] = { "journal.sqlite", "journal.sqlite-wal" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *source = g_build_filename (from, names[i], NULL);
      g_autofree char *target = g_build_filename (to, names[i], NULL);
      g_autofree char *bytes = NULL;
      gsize n;

      g_unlink (target);
      if (g_file_get_contents (source, &bytes, &n, NULL))
        g_assert_true (g_file_set_contents (target, bytes, (gssize) n, NULL));
    }
}

DeskMerge *
fixture_merge (Desk *desk, const char *dir, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_merge_async (desk, dir, DESK_MERGE_COPY, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_merge_finish (desk, result, error);
}

static guint64 chance;

void
fixture_seed (guint64 seed)
{
  chance = seed;
}

guint
fixture_draw (guint n)
{
  chance ^= chance >> 12;
  chance ^= chance << 25;
  chance ^= chance >> 27;
  return (guint) ((chance * G_GUINT64_CONSTANT (2685821657736338717)) >> 33) % n;
}
