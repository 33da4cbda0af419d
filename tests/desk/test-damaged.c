/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-damaged.c — a damaged database behind a good snapshot: no answer and no write rests on it. */
#include <string.h>

#include "demo/demo.h"
#include "desk-fixture.h"
#include "desk/desk-draft.h"
#include "desk/desk-private.h"
#include "desk/desk-sealed.h"
#include "exchange/exch-file.h"

typedef struct
{
  Fixture base;
} Kept;

static Desk *
open_as (Kept *kept, DeskOpenFlags flags)
{
  g_autoptr (GError) error = NULL;
  Desk *desk = desk_open (kept->base.dir, kept->base.today, flags, &error);

  g_assert_no_error (error);
  return desk;
}

static void
close_without_keeping (Desk *desk)
{
  desk_snapshot_from = G_MAXUINT;
  fixture_close (desk);
  desk_snapshot_from = 1;
}

static void
set_up (Kept *kept, gconstpointer data)
{
  DemoSynth what = { 60, 90, 5 };
  g_autofree char *file = NULL;
  g_autoptr (GError) error = NULL;

  desk_snapshot_from = 1;
  kept->base.dir = g_dir_make_tmp ("mantidary-damaged-XXXXXX", NULL);
  kept->base.today = fixture_day (0);
  g_assert_true (demo_synth_make (kept->base.dir, fixture_day (0), &what, NULL, NULL, &error));
  g_assert_no_error (error);
  fixture_close (open_as (kept, DESK_OPEN_DEFAULT)); /* leaves a snapshot */
  file = g_build_filename (kept->base.dir, DESK_SEALED_NAME, NULL);
  g_assert_true (g_file_test (file, G_FILE_TEST_IS_REGULAR));
}

static void
tear_down (Kept *kept, gconstpointer data)
{
  desk_check_most = 32 << 20;
  exch_file_remove_tree (kept->base.dir);
  g_free (kept->base.dir);
}

/* A tenth of the file, from that tenth on. */
static void
damage (Kept *kept, guint tenth)
{
  g_autofree char *path = g_build_filename (kept->base.dir, "journal.sqlite", NULL);
  g_autofree char *bytes = NULL;
  gsize n;

  g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  memset (bytes + n * tenth / 10, 0xaa, n / 10);
  g_assert_true (
    g_file_set_contents_full (path, bytes, (gssize) n, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
}

static char *
contents (Kept *kept, const char *name, gsize *n)
{
  g_autofree char *path = g_build_filename (kept->base.dir, name, NULL);
  char *bytes = NULL;

  *n = 0;
  (void) g_file_get_contents (path, &bytes, n, NULL);
  return bytes;
}

/* Looked through when it is opened, with and without what is kept. */
static void
test_damaged (Kept *kept, gconstpointer data)
{
  const guint tenths[] = { 3, 4, 5, 6, 8 };
  gsize n;
  g_autofree char *whole = contents (kept, "journal.sqlite", &n);
  g_autofree char *path = g_build_filename (kept->base.dir, "journal.sqlite", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (tenths); i++)
    {
      g_autoptr (GError) error = NULL;

      damage (kept, tenths[i]);
      g_assert_null (desk_open (kept->base.dir, kept->base.today, DESK_OPEN_LAZY, &error));
      g_assert_error (error, STORE_ERROR, STORE_ERROR_CORRUPT);
      g_assert_cmpint (desk_error_fault (error), ==, DESK_FAULT_DAMAGED);
      g_assert_true (g_file_set_contents (path, whole, (gssize) n, NULL));
    }
  fixture_close (open_as (kept, DESK_OPEN_DEFAULT)); /* whole again */
}

static guint
count_problems (Desk *desk, const char *says)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskCheck) check = NULL;
  guint n = 0;

  desk_check_async (desk, WORDS_ENGLISH, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  check = desk_check_finish (desk, result, NULL);
  g_assert_nonnull (check);
  g_assert_false (check->clean);
  for (guint i = 0; i < check->problems->len; i++)
    n += strstr (check->problems->pdata[i], says) != NULL;
  return n;
}

/* A database that is too large to be looked through: what is read shows it. Whose entries are lost
 * gets none, and after that nobody does; what was written before is there. */
static void
test_damage_found (Kept *kept, gconstpointer data)
{
  Desk *desk;
  gsize n_before, n_after;
  guint unread = 0;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (GPtrArray) animals = NULL;
  g_autoptr (GError) first = NULL;
  g_autoptr (GError) refused = NULL;

  desk_check_most = 0;
  damage (kept, 5);
  desk = open_as (kept, DESK_OPEN_LAZY);
  g_assert_true (desk->all.kept.count > 0);
  before = contents (kept, "journal.sqlite", &n_before);
  animals = desk_past_animals (desk);
  g_assert_true (desk_is_readable (desk, NULL));
  first = fixture_try_record (desk, animals->pdata[animals->len / 2], "note", "text=late", -1);
  for (guint i = 0; i < animals->len; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) history =
        desk_history (desk, desk_subject_id (animals->pdata[i]), &error);

      g_assert_true ((history == NULL) == (error != NULL));
      g_assert_true (error == NULL || g_error_matches (error, STORE_ERROR, STORE_ERROR_CORRUPT));
      unread += history == NULL;
    }
  g_assert_cmpuint (unread, >, 0);
  g_assert_true (desk_is_damaged (desk));
  refused = fixture_try_record (desk, animals->pdata[0], "note", "text=x", 0);
  g_assert_error (refused, STORE_ERROR, STORE_ERROR_CORRUPT);
  g_assert_error (first, STORE_ERROR, STORE_ERROR_CORRUPT);
  desk_draft_set (desk, "round:A", "nor this");
  close_without_keeping (desk);
  after = contents (kept, "journal.sqlite", &n_after);
  g_assert_cmpmem (before, n_before, after, n_after);
}

/* What could not be looked for is not said to be wrong. */
static void
test_damage_checked (Kept *kept, gconstpointer data)
{
  Desk *desk;

  damage (kept, 5);
  desk = open_as (kept, DESK_OPEN_LAZY | DESK_OPEN_UNCHECKED);
  g_assert_cmpuint (count_problems (desk, "could not be checked, because"), >=, 2);
  g_assert_cmpuint (count_problems (desk, "points nowhere"), ==, 0);
  g_assert_cmpuint (count_problems (desk, "disagrees"), ==, 0);
  g_assert_cmpuint (count_problems (desk, "nothing is known"), ==, 0);
  close_without_keeping (desk);
}

static void
count_cb (Desk *desk, guint *n)
{
  ++*n;
}

/* Who shows the journal is told, once. */
static void
test_damage_told (Kept *kept, gconstpointer data)
{
  Desk *desk;
  guint told = 0;
  g_autoptr (GPtrArray) animals = NULL;

  desk_check_most = 0;
  damage (kept, 5);
  desk = open_as (kept, DESK_OPEN_DEFAULT);
  g_signal_connect (desk, "damaged", G_CALLBACK (count_cb), &told);
  animals = desk_past_animals (desk);
  for (guint i = 0; i < animals->len; i++)
    {
      g_autoptr (GPtrArray) history = desk_history (desk, desk_subject_id (animals->pdata[i]), NULL);

      while (g_main_context_iteration (NULL, FALSE))
        ;
    }
  g_assert_cmpuint (told, ==, 1);
  close_without_keeping (desk);
}

static void
add (const char *path, void (*test) (Kept *, gconstpointer))
{
  g_test_add (path, Kept, NULL, set_up, test, tear_down);
}

int
main (int argc, char **argv)
{
  g_autofree char *data_home = g_dir_make_tmp ("mantidary-home-XXXXXX", NULL); /* where the key lies */

  g_setenv ("XDG_DATA_HOME", data_home, TRUE);
  g_test_init (&argc, &argv, NULL);
  add ("/desk/damaged/opening", test_damaged);
  add ("/desk/damaged/found", test_damage_found);
  add ("/desk/damaged/told", test_damage_told);
  add ("/desk/damaged/checked", test_damage_checked);
  return g_test_run ();
}
