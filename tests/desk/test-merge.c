/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-merge.c — merging while the journal is open: what the window sees at once, undo on two
 * devices, and looking that writes nothing. */
#include "desk/desk-merge.h"

#include <glib/gstdio.h>
#include <string.h>

#include "desk-fixture.h"
#include "desk/desk-private.h"

/* Another device with its own copy. */
typedef struct
{
  Fixture here, there;
} Two;

static void
set_device (Desk *desk, guint8 n)
{
  CoreId device = { { n, 1, 2, 3 } };

  desk->device = device;
  store_set_device (desk->store, device);
}

static void
open_side (Fixture *side, guint8 device)
{
  side->desk = fixture_open (side, DESK_OPEN_LAZY);
  set_device (side->desk, device);
}

static DeskSubject *
nymph (Fixture *side)
{
  return fixture_add (side->desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-05-01");
}

static void
set_up (Two *two, gconstpointer data)
{
  g_autoptr (DeskSubject) first = NULL;

  fixture_set_up (&two->here, NULL);
  set_device (two->here.desk, 1);
  first = nymph (&two->here);
  fixture_close (g_steal_pointer (&two->here.desk));
  two->there.dir = g_dir_make_tmp ("mantidary-desk-XXXXXX", NULL);
  two->there.today = two->here.today;
  fixture_copy (two->here.dir, two->there.dir);
  open_side (&two->here, 1);
  open_side (&two->there, 2);
}

static void
tear_down (Two *two, gconstpointer data)
{
  fixture_tear_down (&two->here, NULL);
  fixture_tear_down (&two->there, NULL);
}

static DeskMerge *
run (Desk *desk, const char *dir, gboolean look, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  if (!look)
    return fixture_merge (desk, dir, error);
  desk_merge_look_async (desk, dir, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_merge_look_finish (desk, result, error);
}

/* The other side is closed meanwhile, as on a machine that is off. */
static DeskMerge *
merge (Fixture *into, Fixture *from, gboolean look)
{
  g_autoptr (GError) error = NULL;
  CoreId device = from->desk->device;
  DeskMerge *merged;

  fixture_close (g_steal_pointer (&from->desk));
  merged = run (into->desk, from->dir, look, &error);
  g_assert_no_error (error);
  open_side (from, device.b[0]);
  return merged;
}

static CoreId
note (Fixture *side, const char *text)
{
  g_autoptr (DeskSubject) first = desk_find (side->desk, "1", NULL);
  g_autofree char *pair = g_strconcat ("text=", text, NULL);

  return fixture_record (side->desk, first, "note", pair, 0);
}

static void
assert_undoes (Fixture *side, CoreId entry)
{
  g_autoptr (DeskChange) change = fixture_undo (side->desk);

  g_assert_cmpuint (change->entries->len, ==, 1);
  g_assert_true (core_id_equal (((CoreEntry *) change->entries->pdata[0])->id, entry));
}

static void
test_undo_of_two_devices (Two *two, gconstpointer data)
{
  CoreId here = note (&two->here, "here");
  CoreId there = note (&two->there, "there");
  g_autoptr (DeskMerge) merged = merge (&two->here, &two->there, FALSE);

  g_assert_cmpuint (merged->came.entries, ==, 1);
  assert_undoes (&two->here, here);
  g_assert_true (desk_entry_is_live (two->here.desk, there));
  /* What was merged here goes to the other device as a copy: there its own round is the last. */
  fixture_close (g_steal_pointer (&two->here.desk));
  fixture_close (g_steal_pointer (&two->there.desk));
  fixture_copy (two->here.dir, two->there.dir);
  open_side (&two->here, 1);
  open_side (&two->there, 2);
  assert_undoes (&two->there, there);
}

/* Both copies on one computer: each takes back what was done in it. */
static void
test_undo_on_one_device (Two *two, gconstpointer data)
{
  g_autoptr (DeskMerge) merged = NULL;
  g_autoptr (DeskChange) redone = NULL;
  CoreId here, there;

  set_device (two->there.desk, 1);
  here = note (&two->here, "here");
  there = note (&two->there, "there");
  merged = merge (&two->here, &two->there, FALSE);
  assert_undoes (&two->here, here);
  g_assert_true (desk_entry_is_live (two->here.desk, there));
  redone = fixture_redo (two->here.desk);
  g_assert_true (desk_entry_is_live (two->here.desk, here));
  fixture_reopen (&two->here, DESK_OPEN_LAZY);
  set_device (two->here.desk, 1);
  g_clear_pointer (&merged, desk_merge_free);
  merged = merge (&two->here, &two->there, FALSE);
  g_assert_cmpuint (merged->came.entries, ==, 0);
}

static const char *
label_now (Fixture *side, DeskSubject *subject)
{
  g_autoptr (DeskSubject) now = fixture_now (side->desk, subject);

  return g_intern_string (desk_subject_label (now));
}

static void
test_labels_at_once (Two *two, gconstpointer data)
{
  g_autoptr (DeskSubject) earlier = nymph (&two->there);
  g_autoptr (DeskSubject) ours = NULL;
  g_autoptr (DeskSubject) again = NULL;
  g_autoptr (DeskMerge) merged = NULL;
  const DeskClash *clash;
  GError *error;

  g_usleep (2000); /* ids tell milliseconds apart */
  ours = nymph (&two->here);
  g_assert_cmpstr (desk_subject_label (ours), ==, "2");
  merged = merge (&two->here, &two->there, FALSE);
  /* Ours has the larger id, so it is ours that gets the letter, though nothing was written on it. */
  g_assert_cmpstr (label_now (&two->here, ours), ==, "2b");
  g_assert_cmpstr (label_now (&two->here, earlier), ==, "2");
  g_assert_cmpuint (merged->clashes->len, ==, 1);
  clash = merged->clashes->pdata[0];
  g_assert_true (core_id_equal (desk_subject_id (clash->subject), desk_subject_id (ours)));
  g_assert_true (core_id_equal (desk_subject_id (clash->other), desk_subject_id (earlier)));
  error = fixture_try_record (two->here.desk, earlier, "set", "key=number value=2b", 0);
  g_assert_error (error, DESK_ERROR, DESK_ERROR_EXISTS);
  g_clear_error (&error);
  fixture_record (two->here.desk, earlier, "set", "key=number value=8", 0);
  g_assert_cmpstr (label_now (&two->here, ours), ==, "2");
  again = fixture_now (two->here.desk, ours);
  g_assert_cmpuint (desk_subject_state (again)->conflicts.n, ==, 0);
  fixture_reopen (&two->here, DESK_OPEN_LAZY);
  g_assert_cmpstr (label_now (&two->here, ours), ==, "2");
}

static void
test_looking (Two *two, gconstpointer data)
{
  g_autoptr (DeskSubject) theirs = nymph (&two->there);
  g_autoptr (DeskSubject) ours = nymph (&two->here);
  guint64 entries = two->here.desk->all.totals.count;
  g_autoptr (DeskMerge) seen = merge (&two->here, &two->there, TRUE);
  g_autoptr (DeskMerge) merged = NULL;

  g_assert_cmpuint (two->here.desk->all.totals.count, ==, entries);
  g_assert_cmpstr (label_now (&two->here, ours), ==, "2");
  g_assert_cmpuint (seen->clashes->len, ==, 1);
  fixture_reopen (&two->here, DESK_OPEN_LAZY);
  g_assert_cmpuint (two->here.desk->all.totals.count, ==, entries);
  merged = merge (&two->here, &two->there, FALSE);
  g_assert_cmpmem (&merged->came, sizeof merged->came, &seen->came, sizeof seen->came);
  g_assert_cmpuint (merged->clashes->len, ==, 1);
}

static void
assert_fails (Fixture *side, const char *dir, GQuark domain, int code)
{
  for (int look = 0; look < 2; look++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (run (side->desk, dir, look, &error));
      g_assert_error (error, domain, code);
    }
}

static void
test_refused (Two *two, gconstpointer data)
{
  g_autofree char *file = g_build_filename (two->there.dir, "journal.sqlite", NULL);
  g_autofree char *empty = g_dir_make_tmp ("mantidary-desk-XXXXXX", NULL);

  assert_fails (&two->here, two->here.dir, DESK_ERROR, DESK_ERROR_VALUE);
  assert_fails (&two->here, file, DESK_ERROR, DESK_ERROR_VALUE);
  assert_fails (&two->here, empty, DESK_ERROR, DESK_ERROR_NOT_FOUND);
  g_rmdir (empty);
}

#define ADD(path, func) g_test_add (path, Two, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/merge/undo/two-devices", test_undo_of_two_devices);
  ADD ("/merge/undo/one-device", test_undo_on_one_device);
  ADD ("/merge/labels", test_labels_at_once);
  ADD ("/merge/looking", test_looking);
  ADD ("/merge/refused", test_refused);
  return g_test_run ();
}
