/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-backup.c — backups under a disk that fails at any moment: all or nothing each time, the
 * journal unharmed, the older backups still there. */
#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "core/core-date.h"
#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "desk-fixture.h"
#include "desk/desk-backup.h"
#include "exchange/exch-file.h"
#include "store/store.h"

typedef struct
{
  Fixture base;
  char *outside; /* a folder beside the journal */
} Backups;

static void
add_photo (Backups *self, DeskSubject *animal, int seed)
{
  DemoDrawOptions options = { .width = 200, .height = 150, .subject = DEMO_SUBJECT_LEAF, .seed = (guint64) seed };
  g_autoptr (DemoDrawing) drawing = demo_draw (&options);
  g_autofree char *path = g_build_filename (self->outside, "new.jpg", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  DeskPhoto photo;

  g_assert_true (demo_jpeg_write (path, drawing->rgb, 200, 150, 90, 1, "2026-05-20 18:30:00", &error));
  desk_photo_add_async (self->base.desk, desk_subject_id (animal), file, CORE_DAY_NONE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_photo_add_finish (self->base.desk, result, &photo, &error));
  g_assert_no_error (error);
  g_unlink (path);
}

static void
set_up (Backups *self, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = NULL;
  g_autoptr (GError) error = NULL;

  fixture_set_up (&self->base, data);
  self->outside = g_dir_make_tmp ("mantidary-backup-XXXXXX", &error);
  g_assert_no_error (error);
  animal = fixture_add (self->base.desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01");
  for (int day = -20; day < 0; day++)
    fixture_record (self->base.desk, animal, "fed", "prey=cricket n=1", day);
  add_photo (self, animal, 1);
  add_photo (self, animal, 2);
}

static void
tear_down (Backups *self, gconstpointer data)
{
  g_autofree char *daily = g_strconcat (self->base.dir, "-backups", NULL);

  fixture_tear_down (&self->base, data);
  exch_file_remove_tree (self->outside);
  exch_file_remove_tree (daily);
  g_free (self->outside);
}

/* ---- every verb run to its end ---- */

static DeskBackup *
run_backup (Backups *self, const char *path, DeskBackupFlags flags, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_backup_async (self->base.desk, path, flags, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_backup_finish (self->base.desk, result, error);
}

static DeskBackup *
run_restore (const char *path, const char *dir, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_restore_async (path, dir, DESK_BACKUP_DEFAULT, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_restore_finish (result, error);
}

static DeskBackup *
run_daily (Backups *self, gboolean again, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_backups_make_async (self->base.desk, again, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_backups_make_finish (self->base.desk, result, error);
}

static gboolean
run_salvage (const char *from, const char *dir, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  DeskSalvage saved;

  desk_salvage_async (from, dir, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_salvage_finish (result, &saved, error);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Names in a folder, sorted, one text. */
static char *
names_in (const char *folder)
{
  g_autoptr (GDir) listing = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, compare_names);
  g_ptr_array_add (names, NULL);
  return g_strjoinv (" ", (char **) names->pdata);
}

static guint64
count_entries (const char *dir)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (dir, STORE_READ_ONLY, &error);
  g_autoptr (StoreReport) report = NULL;

  g_assert_no_error (error);
  g_assert_true (store_check (store, &report, &error));
  g_assert_cmpuint (report->problems->len, ==, 0);
  return report->n_entries;
}

/* ---- the disk ---- */

static struct
{
  ExchOp op;
  int number;
  int countdown; /* atomic: the work is done on another thread */
  gboolean stays;
  int spent;
} fault;

static int
fault_cb (ExchOp op)
{
  if (op != fault.op || g_atomic_int_get (&fault.countdown) <= 0)
    return 0;
  if (g_atomic_int_get (&fault.countdown) > 1)
    {
      g_atomic_int_add (&fault.countdown, -1);
      return 0;
    }
  if (!fault.stays)
    g_atomic_int_set (&fault.countdown, 0);
  g_atomic_int_inc (&fault.spent);
  return fault.number;
}

typedef struct
{
  const char *name;
  ExchOp op;
  int number;
  gboolean stays;
} DiskCase;

static const DiskCase disk_cases[] = {
  { "full", EXCH_OP_WRITE, ENOSPC, TRUE },      { "write", EXCH_OP_WRITE, EIO, FALSE },
  { "sync", EXCH_OP_SYNC, EIO, FALSE },         { "create", EXCH_OP_CREATE, ENOSPC, FALSE },
  { "rename", EXCH_OP_RENAME, EIO, FALSE },     { "mkdir", EXCH_OP_MKDIR, ENOSPC, FALSE },
  { "open", EXCH_OP_OPEN, EIO, FALSE },         { "read", EXCH_OP_READ, EIO, FALSE },
};

/* One try with the n-th failing; what must hold after success or failure is the caller's. */
typedef gboolean (*Try) (Backups *self, GError **error);
typedef void (*After) (Backups *self, gboolean ok);

static int
loop (Backups *self, const DiskCase *c, Try try, After after)
{
  int failures = 0;

  _exch_test_fault = fault_cb;
  for (int n = 1;; n++)
    {
      g_autoptr (GError) error = NULL;
      int before = g_atomic_int_get (&fault.spent);
      gboolean ok;

      fault.op = c->op;
      fault.number = c->number;
      fault.stays = c->stays;
      g_atomic_int_set (&fault.countdown, n);
      ok = try (self, &error);
      g_atomic_int_set (&fault.countdown, 0);
      g_assert_cmpint (ok, ==, error == NULL);
      failures += !ok;
      after (self, ok);
      if (g_atomic_int_get (&fault.spent) == before) /* the n-th never came */
        {
          g_assert_true (ok);
          break;
        }
      g_assert_cmpint (n, <, 3000);
    }
  _exch_test_fault = NULL;
  return failures;
}

static char *
inside (Backups *self, const char *name)
{
  return g_build_filename (self->outside, name, NULL);
}

static gboolean
try_backup (Backups *self, GError **error)
{
  g_autofree char *path = inside (self, "b");
  g_autoptr (DeskBackup) backup = run_backup (self, path, DESK_BACKUP_DEFAULT, error);

  return backup != NULL;
}

/* Whole, or not even a beginning. */
static void
after_backup (Backups *self, gboolean ok)
{
  g_autofree char *path = inside (self, "b");
  g_autofree char *dir = inside (self, "r");
  g_autofree char *names = names_in (self->outside);

  g_assert_cmpstr (names, ==, ok ? "b" : "");
  if (!ok)
    return;
  {
    g_autoptr (GError) error = NULL;
    g_autoptr (DeskBackup) back = run_restore (path, dir, &error);

    g_assert_no_error (error);
    g_assert_cmpint (back->photos, ==, 2);
  }
  exch_file_remove_tree (dir);
  g_unlink (path);
}

static gboolean
try_replace (Backups *self, GError **error)
{
  g_autofree char *path = inside (self, "b");
  g_autoptr (DeskBackup) backup = run_backup (self, path, DESK_BACKUP_REPLACE, error);

  return backup != NULL;
}

/* The old one or the new one, and whole in any case. */
static void
after_replace (Backups *self, gboolean ok)
{
  g_autofree char *path = inside (self, "b");
  g_autofree char *dir = inside (self, "r");
  g_autofree char *names = names_in (self->outside);
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) back = run_restore (path, dir, &error);

  g_assert_cmpstr (names, ==, "b");
  g_assert_no_error (error);
  exch_file_remove_tree (dir);
}

static gboolean
try_restore (Backups *self, GError **error)
{
  g_autofree char *path = inside (self, "b");
  g_autofree char *dir = inside (self, "r");
  g_autoptr (DeskBackup) backup = run_restore (path, dir, error);

  return backup != NULL;
}

static void
after_restore (Backups *self, gboolean ok)
{
  g_autofree char *dir = inside (self, "r");
  g_autofree char *names = names_in (self->outside);

  g_assert_cmpstr (names, ==, ok ? "b r" : "b");
  if (ok)
    g_assert_cmpuint (count_entries (dir), ==, count_entries (self->base.dir));
  exch_file_remove_tree (dir);
}

static gboolean
try_salvage (Backups *self, GError **error)
{
  g_autofree char *from = inside (self, "b");
  g_autofree char *dir = inside (self, "r");

  return run_salvage (from, dir, error);
}

/* Everything that must hold whatever the disk did. */
static void
assert_unharmed (Backups *self, guint64 entries)
{
  g_assert_cmpuint (count_entries (self->base.dir), ==, entries);
}

static void
test_backup_faults (Backups *self, gconstpointer data)
{
  guint64 entries = count_entries (self->base.dir);
  int failures = loop (self, data, try_backup, after_backup);

  g_test_message ("%d failed", failures);
  g_assert_cmpint (failures, >=, 1);
  assert_unharmed (self, entries);
}

static void
test_replace_faults (Backups *self, gconstpointer data)
{
  guint64 entries = count_entries (self->base.dir);
  g_autofree char *path = inside (self, "b");
  g_autoptr (DeskBackup) first = run_backup (self, path, DESK_BACKUP_DEFAULT, NULL);

  g_assert_nonnull (first);
  g_assert_cmpint (loop (self, data, try_replace, after_replace), >=, 1);
  assert_unharmed (self, entries);
}

static void
test_restore_faults (Backups *self, gconstpointer data)
{
  g_autofree char *path = inside (self, "b");
  g_autoptr (DeskBackup) first = run_backup (self, path, DESK_BACKUP_DEFAULT, NULL);

  g_assert_nonnull (first);
  g_assert_cmpint (loop (self, data, try_restore, after_restore), >=, 1);
}

/* From a folder that holds a restored journal, so that it has photos to fetch. A photo that cannot
 * be opened is counted as lost and ends nothing. */
static void
test_salvage_faults (Backups *self, gconstpointer data)
{
  const DiskCase *c = data;
  g_autofree char *archive = inside (self, "a");
  g_autofree char *from = inside (self, "b");
  g_autoptr (DeskBackup) first = run_backup (self, archive, DESK_BACKUP_DEFAULT, NULL);
  g_autoptr (DeskBackup) second = run_restore (archive, from, NULL);

  g_assert_nonnull (second);
  g_unlink (archive);
  if (c->op != EXCH_OP_OPEN)
    g_assert_cmpint (loop (self, data, try_salvage, after_restore), >=, 1);
}

/* ---- daily ---- */

static char *
daily_folder (Backups *self)
{
  return desk_backups_folder (self->base.dir);
}

static gboolean
try_daily (Backups *self, GError **error)
{
  g_autoptr (DeskBackup) backup = run_daily (self, TRUE, error);

  return backup != NULL;
}

/* Seven before, each still there and whole; that of today whole or not there. */
static void
after_daily (Backups *self, gboolean ok)
{
  g_autoptr (GPtrArray) list = desk_backups_list (self->base.dir, self->base.today);
  g_autofree char *folder = daily_folder (self);
  g_autofree char *names = names_in (folder);
  guint n_today = 0;

  for (guint i = 0; i < list->len; i++)
    {
      DeskDaily *daily = list->pdata[i];

      n_today += daily->day == self->base.today;
      if (daily->day == self->base.today)
        {
          g_autofree char *dir = inside (self, "r");
          g_autoptr (GError) error = NULL;
          g_autoptr (DeskBackup) back = run_restore (daily->path, dir, &error);

          g_assert_no_error (error);
          /* One that could not be read just then is told as left out. */
          g_assert_cmpint (back->photos + (gint64) back->left_out->len, ==, 2);
          if (fault.op != EXCH_OP_OPEN && fault.op != EXCH_OP_READ)
            g_assert_cmpint (back->photos, ==, 2);
          exch_file_remove_tree (dir);
          g_unlink (daily->path); /* for the next turn */
        }
    }
  if (ok)
    g_assert_cmpuint (n_today, ==, 1);
  /* One that is not known to stay is told as failed; then nothing older has gone. */
  if (!ok)
    g_assert_cmpuint (list->len, ==, 8 + n_today);
  g_assert_true (strstr (names, "2026-05-31") != NULL && strstr (names, "2026-05-26") != NULL);
}

static void
make_day (Backups *self, CoreDay day)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) backup = NULL;

  desk_set_today (self->base.desk, day);
  backup = run_daily (self, FALSE, &error);
  g_assert_no_error (error);
  g_assert_nonnull (backup);
}

/* Eight days, of which the success of today lets the first go only when it is no last of a week. */
static void
test_daily_faults (Backups *self, gconstpointer data)
{
  const DiskCase *c = data;
  guint64 entries = count_entries (self->base.dir);
  g_autofree char *folder = daily_folder (self);
  g_autofree char *photos = g_build_filename (folder, "photos", NULL);
  int failures;

  for (int back = 8; back >= 1; back--)
    make_day (self, fixture_day (-back));
  desk_set_today (self->base.desk, fixture_day (0));
  exch_file_remove_tree (photos); /* so that they have to be copied */
  failures = loop (self, c, try_daily, after_daily);
  g_assert_cmpint (failures, >=, 1);
  assert_unharmed (self, entries);
}

/* Once a day; not again; then again when asked. */
static void
test_once_a_day (Backups *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) first = run_daily (self, FALSE, &error);
  g_autoptr (DeskBackup) second = run_daily (self, FALSE, &error);
  g_autoptr (DeskBackup) third = run_daily (self, TRUE, &error);
  g_autofree char *folder = daily_folder (self);
  g_autofree char *names = names_in (folder);

  g_assert_no_error (error);
  g_assert_nonnull (first);
  g_assert_null (second);
  g_assert_nonnull (third);
  g_assert_false (first->whole);
  g_assert_cmpstr (names, ==, "2026-06-01.mantidary photos");
}

/* What a crash has left goes with the next one; what is not ours stays. */
static void
test_leftovers (Backups *self, gconstpointer data)
{
  g_autofree char *folder = daily_folder (self);
  g_autofree char *part = g_build_filename (folder, ".2026-05-30.mantidary.part-1-2", NULL);
  g_autofree char *other = g_build_filename (folder, "2026-05-30.mantidary.txt", NULL);
  g_autofree char *names = NULL;

  g_assert_cmpint (g_mkdir (folder, 0700), ==, 0);
  g_assert_cmpint (g_mkdir (part, 0700), ==, 0);
  g_assert_true (g_file_set_contents (other, "mine", -1, NULL));
  make_day (self, fixture_day (0));
  names = names_in (folder);
  g_assert_cmpstr (names, ==, "2026-05-30.mantidary.txt 2026-06-01.mantidary photos");
}

static void
count_cb (Desk *desk, int *n)
{
  (*n)++;
}

/* By itself, soon after opening, once; a failure is kept until a try goes well. */
static void
test_watch (Backups *self, gconstpointer data)
{
  g_autofree char *usual = daily_folder (self);
  g_autofree char *gone = g_build_filename (self->outside, "no", "such", NULL);
  g_autofree char *names = NULL;
  int done = 0;

  g_signal_connect (self->base.desk, "backup-done", G_CALLBACK (count_cb), &done);
  g_assert_true (desk_backups_set (self->base.dir, gone, TRUE, NULL));
  desk_backups_watch (self->base.desk, 1);
  while (done == 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_nonnull (desk_backups_failed (self->base.desk));
  g_assert_cmpint (desk_backup_error (desk_backups_failed (self->base.desk)), ==, EXCH_ERROR_NOT_FOUND);
  g_assert_true (desk_backups_set (self->base.dir, NULL, TRUE, NULL));
  desk_backups_watch (self->base.desk, 1);
  while (done == 1)
    g_main_context_iteration (NULL, TRUE);
  g_assert_null (desk_backups_failed (self->base.desk));
  g_assert_cmpuint (desk_backups_left_out (self->base.desk), ==, 0);
  names = names_in (usual);
  g_assert_cmpstr (names, ==, "2026-06-01.mantidary photos");
}

/* Switched off: nothing happens, however long one waits for it. */
static void
test_watch_off (Backups *self, gconstpointer data)
{
  g_autofree char *usual = daily_folder (self);
  int done = 0;

  g_signal_connect (self->base.desk, "backup-done", G_CALLBACK (count_cb), &done);
  g_assert_true (desk_backups_set (self->base.dir, NULL, FALSE, NULL));
  g_assert_false (desk_backups_on (self->base.dir));
  desk_backups_watch (self->base.desk, 1);
  for (gint64 until = g_get_monotonic_time () + 200000; g_get_monotonic_time () < until;)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (5000);
  g_assert_cmpint (done, ==, 0);
  g_assert_false (g_file_test (usual, G_FILE_TEST_EXISTS));
  /* By hand all the same. */
  {
    g_autoptr (DeskBackup) made = run_daily (self, TRUE, NULL);

    g_assert_nonnull (made);
    g_assert_cmpint (done, ==, 1);
  }
}

static char *vanishing; /* goes just before the first file is opened */

static int
vanish_cb (ExchOp op)
{
  if (op == EXCH_OP_OPEN && vanishing != NULL)
    g_unlink (vanishing);
  return 0;
}

/* A photo goes after it was looked at: the one file is not made, that of the day does without. */
static void
test_vanishes (Backups *self, gconstpointer data)
{
  g_autoptr (Store) store = store_open (self->base.dir, STORE_READ_ONLY, NULL);
  g_autoptr (GArray) rows = store_load_photos (store, NULL);
  const StorePhoto *row = &g_array_index (rows, StorePhoto, 0);
  g_autofree char *path = inside (self, "b");
  g_autofree char *names = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) none = NULL;
  g_autoptr (DeskBackup) daily = NULL;
  g_autofree char *name = g_strdup_printf ("%s.%s", row->hash, row->format);
  g_autofree char *bytes = NULL;
  gsize n;

  vanishing = g_strdup_printf ("%s/photos/%.2s/%s", self->base.dir, row->hash, name);
  g_assert_true (g_file_get_contents (vanishing, &bytes, &n, NULL));
  _exch_test_fault = vanish_cb;
  none = run_backup (self, path, DESK_BACKUP_DEFAULT, &error);
  g_assert_null (none);
  g_assert_cmpint (desk_backup_error (error), ==, EXCH_ERROR_PHOTO);
  names = names_in (self->outside);
  g_assert_cmpstr (names, ==, "");
  g_clear_error (&error);
  g_assert_true (g_file_set_contents (vanishing, bytes, (gssize) n, NULL));
  daily = run_daily (self, TRUE, &error);
  _exch_test_fault = NULL;
  g_assert_no_error (error);
  g_assert_cmpuint (daily->left_out->len, ==, 1);
  g_assert_cmpint (((DeskLeft *) daily->left_out->pdata[0])->why, ==, DESK_LEFT_MISSING);
  g_assert_cmpint (daily->photos, ==, 1);
  g_clear_pointer (&vanishing, g_free);
}

/* The journal is written and closed while a backup is under way. */
static void
test_closed_meanwhile (Backups *self, gconstpointer data)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) animal = desk_find (self->base.desk, "1", NULL);
  g_autoptr (DeskBackup) backup = NULL;
  g_autoptr (GError) error = NULL;
  DeskSync closing = { NULL };
  g_autoptr (GAsyncResult) closed = NULL;
  g_autofree char *path = inside (self, "b");

  desk_backup_async (self->base.desk, path, DESK_BACKUP_DEFAULT, NULL, desk_sync_cb, &sync);
  fixture_record (self->base.desk, animal, "looked", "", 0);
  desk_close_async (self->base.desk, desk_sync_cb, &closing);
  closed = desk_sync_wait (&closing);
  g_assert_true (desk_close_finish (self->base.desk, closed, &error));
  result = desk_sync_wait (&sync);
  backup = desk_backup_finish (self->base.desk, result, &error);
  g_assert_no_error (error);
  g_assert_nonnull (backup);
}

static void
test_stopped (Backups *self, gconstpointer data)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *path = inside (self, "b");
  g_autofree char *names = NULL;

  g_cancellable_cancel (cancellable);
  desk_backup_async (self->base.desk, path, DESK_BACKUP_DEFAULT, cancellable, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_null (desk_backup_finish (self->base.desk, result, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  names = names_in (self->outside);
  g_assert_cmpstr (names, ==, "");
}

/* Read through without writing anything. */
static void
test_check (Backups *self, gconstpointer data)
{
  g_autofree char *path = inside (self, "b");
  g_autoptr (DeskBackup) made = run_backup (self, path, DESK_BACKUP_DEFAULT, NULL);

  for (int turn = 0; turn < 2; turn++)
    {
      DeskSync sync = { NULL };
      g_autoptr (GAsyncResult) result = NULL;
      g_autoptr (DeskBackup) back = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *bytes = NULL;
      gsize n;

      desk_backup_check_async (path, NULL, desk_sync_cb, &sync);
      result = desk_sync_wait (&sync);
      back = desk_backup_check_finish (result, &error);
      if (turn == 1)
        {
          g_assert_null (back);
          g_assert_cmpint (desk_error_fault (error), ==, DESK_FAULT_DAMAGED);
          break;
        }
      g_assert_no_error (error);
      g_assert_cmpint (back->entries, ==, made->entries);
      g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
      bytes[n / 2] ^= 4;
      g_assert_true (g_file_set_contents (path, bytes, (gssize) n, NULL));
    }
}

typedef void (*FixtureTest) (Backups *self, gconstpointer data);

static void
add (const char *path, gconstpointer data, FixtureTest test)
{
  g_test_add (path, Backups, data, set_up, test, tear_down);
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *name;
    FixtureTest test;
  } loops[] = {
    { "backup", test_backup_faults },   { "replace", test_replace_faults },
    { "restore", test_restore_faults }, { "salvage", test_salvage_faults },
    { "daily", test_daily_faults },
  };

  g_test_init (&argc, &argv, NULL);
  /* In memory where there is such a place: the loops sync thousands of times. */
  if (g_access ("/dev/shm", W_OK | X_OK) == 0)
    g_setenv ("TMPDIR", "/dev/shm", TRUE);
  add ("/desk/backup/once-a-day", NULL, test_once_a_day);
  add ("/desk/backup/leftovers", NULL, test_leftovers);
  add ("/desk/backup/watch", NULL, test_watch);
  add ("/desk/backup/watch-off", NULL, test_watch_off);
  add ("/desk/backup/closed-meanwhile", NULL, test_closed_meanwhile);
  add ("/desk/backup/vanishes", NULL, test_vanishes);
  add ("/desk/backup/stopped", NULL, test_stopped);
  add ("/desk/backup/check", NULL, test_check);
  for (gsize i = 0; i < G_N_ELEMENTS (loops); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (disk_cases); k++)
      {
        g_autofree char *path =
          g_strdup_printf ("/desk/backup/faults/%s/%s", loops[i].name, disk_cases[k].name);

        add (path, &disk_cases[k], loops[i].test);
      }
  return g_test_run ();
}
