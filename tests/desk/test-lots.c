/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-lots.c — lots through the desk: random verbs with undo, what singles take over, codes when
 * two copies of a journal were merged. */
#include "desk-fixture.h"

#include <math.h>
#include <string.h>

#include "store/store.h"

/* ---- verbs run to their end ---- */

static GPtrArray *
separate (Desk *desk, DeskSubject *lot, guint n, GError **error)
{
  DeskSync sync = { NULL };
  CoreId none = { 0 };
  g_autoptr (GAsyncResult) result = NULL;

  desk_separate_async (desk, desk_subject_id (lot), n, -1, none, CORE_DAY_NONE, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_separate_finish (desk, result, error);
}

static DeskSubject *
split (Desk *desk, DeskSubject *lot, guint n, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_split_async (desk, desk_subject_id (lot), n, -1, NULL, CORE_DAY_NONE, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_split_finish (desk, result, error);
}

static gboolean
join (Desk *desk, DeskSubject *into, DeskSubject *from, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_join_async (desk, desk_subject_id (into), desk_subject_id (from), CORE_DAY_NONE,
                   desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_join_finish (desk, result, error);
}

static CoreTally
tally_of (Desk *desk, DeskSubject *lot)
{
  g_autoptr (DeskSubject) now = fixture_now (desk, lot);

  return desk_subject_state (now)->tally;
}

static DeskSubject *
add_lot (Desk *desk, const char *more)
{
  g_autofree char *pairs = g_strdup_printf ("species=hierodula hatched=2026-05-10 %s", more);

  return fixture_add (desk, CORE_SUBJECT_LOT, pairs);
}

/* Added and counted some days ago, so that what is entered of past days comes after its count. */
static DeskSubject *
add_counted (Desk *desk, int day)
{
  const char *const pairs[] = { "species=hierodula", "hatched=2026-05-10", "count=100", NULL };
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskSubject *lot;

  desk_add_async (desk, CORE_SUBJECT_LOT, pairs, fixture_day (day), NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  lot = desk_add_finish (desk, result, &error);
  g_assert_no_error (error);
  return lot;
}

/* ---- random verbs ---- */

/* All living in singles and lots, with all that are known to be gone. */
static gint64
everybody (Desk *desk)
{
  g_autoptr (GPtrArray) animals = desk_animals (desk);
  gint64 sum = (gint64) animals->len;

  for (int living = 0; living < 2; living++)
    {
      g_autoptr (GPtrArray) lots = living ? desk_lots (desk) : desk_past (desk, CORE_SUBJECT_LOT);

      for (guint i = 0; i < lots->len; i++)
        {
          const CoreTally *t = &desk_subject_state (lots->pdata[i])->tally;

          g_assert_cmpint (t->count, >=, 0);
          g_assert_cmpint (t->missing, ==, 0);
          sum += t->count + t->dead + t->left + t->escaped + t->lost_unseen - t->found_more;
        }
    }
  return sum;
}

static void
do_one (Desk *desk, DeskSubject *lot)
{
  g_autoptr (GPtrArray) lots = desk_lots (desk);
  g_autoptr (GPtrArray) made = NULL;
  g_autoptr (DeskSubject) part = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *n = g_strdup_printf ("n=%u", 1 + fixture_draw (12));
  const char *kinds[] = { "died", "left", "escaped", "recounted" };
  DeskSubject *at = lots->len > 0 ? g_ptr_array_index (lots, fixture_draw (lots->len)) : lot;

  switch (fixture_draw (8))
    {
    case 0:
      made = separate (desk, at, 1 + fixture_draw (6), &error);
      break;
    case 1:
      part = split (desk, at, 1 + fixture_draw (20), &error);
      break;
    case 2:
      if (lots->len > 1)
        join (desk, lots->pdata[0], lots->pdata[1 + fixture_draw (lots->len - 1)], &error);
      break;
    case 3:
      g_clear_pointer (&n, g_free);
      n = g_strdup_printf ("n=%u", fixture_draw (60));
      error = fixture_try_record (desk, at, "recounted", n, 0);
      break;
    default:
      error = fixture_try_record (desk, at, kinds[fixture_draw (3)], n, -(int) fixture_draw (3));
      break;
    }
  if (error != NULL)
    g_assert_true (error->domain == DESK_ERROR);
}

/* Whatever is done, nobody is lost or counted twice; undoing all of it gives the beginning. */
static void
test_random_verbs (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) lot = add_counted (desk, -10);
  guint changed = 0;

  fixture_seed (G_GUINT64_CONSTANT (0x9e3779b97f4a7c15));
  for (guint i = 0; i < 60; i++)
    {
      do_one (desk, lot);
      g_assert_cmpint (everybody (desk), ==, 100);
    }
  for (;;)
    {
      g_autoptr (DeskChange) change = fixture_undo (desk);

      if (change == NULL)
        break;
      changed++;
      if (desk_subject_state (lot)->exists && everybody (desk) == 0)
        break; /* the lot itself was taken back */
      g_assert_cmpint (everybody (desk), ==, 100);
    }
  g_assert_cmpuint (changed, >, 20);
  while (TRUE)
    {
      g_autoptr (DeskChange) change = fixture_redo (desk);

      if (change == NULL)
        break;
    }
  g_assert_cmpint (everybody (desk), ==, 100);
}

/* ---- both sides of a move ---- */

static CoreId
newest_of (Desk *desk, DeskSubject *subject, CoreKind kind)
{
  g_autoptr (GPtrArray) history = desk_history (desk, desk_subject_id (subject), NULL);

  for (guint i = 0; i < history->len; i++)
    if (((CoreEntry *) history->pdata[i])->kind == kind)
      return ((CoreEntry *) history->pdata[i])->id;
  g_assert_not_reached ();
}

static void
assert_void_refused (Desk *desk, CoreId entry)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  desk_void_async (desk, entry, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_false (desk_void_finish (desk, result, &error));
  g_assert_error (error, DESK_ERROR, DESK_ERROR_REFUSED);
}

/* Before it was a lot of its own its deaths were those of the whole; when it is one, they count. */
static void
test_part_of_another (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) lot = add_counted (desk, -10);
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) refused = NULL;
  g_autoptr (DeskSubject) part = split (desk, lot, 40, &error);

  g_assert_no_error (error);
  refused = fixture_try_record (desk, part, "died", "n=3", -2);
  g_assert_error (refused, DESK_ERROR, DESK_ERROR_REFUSED);
  fixture_record (desk, lot, "died", "n=3", -2);
  fixture_record (desk, part, "died", "n=5", 0);
  g_assert_cmpint (tally_of (desk, lot).count, ==, 57);
  g_assert_cmpint (tally_of (desk, part).count, ==, 35);
  /* Gone into the other, it holds none that could have died before that. */
  g_assert_true (join (desk, lot, part, &error));
  g_assert_no_error (error);
  g_clear_error (&refused);
  refused = fixture_try_record (desk, part, "died", "n=3", 0);
  g_assert_nonnull (refused);
  g_assert_cmpint (tally_of (desk, lot).count, ==, 92);
}

/* One side of a move is not taken back without the other. */
static void
test_one_side (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) lot = add_counted (desk, -10);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) made = separate (desk, lot, 3, &error);
  g_autoptr (DeskSubject) part = split (desk, lot, 40, &error);
  g_autoptr (GPtrArray) animals = NULL;

  g_assert_no_error (error);
  assert_void_refused (desk, newest_of (desk, lot, CORE_KIND_SPLIT));
  assert_void_refused (desk, newest_of (desk, part, CORE_KIND_RECOUNTED));
  g_assert_cmpint (tally_of (desk, lot).count, ==, 57);
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (DeskChange) change = fixture_undo (desk);

      g_assert_nonnull (change);
    }
  animals = desk_animals (desk);
  g_assert_cmpuint (animals->len, ==, 0);
  g_assert_cmpint (tally_of (desk, lot).count, ==, 100);
}

/* ---- what a single takes over ---- */

/* One taken out of a lot has the forecast of an animal with the lot's hatch and moults. */
static void
test_taken_over (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) lot = add_lot (desk, "count=10 hatched_earliest=2026-05-09 line=Old");
  g_autoptr (GPtrArray) made = NULL;
  g_autoptr (GError) error = NULL;
  const CoreState *of_lot, *single;
  g_autoptr (DeskSubject) now = NULL;

  fixture_record (desk, lot, "looked", "", -13);
  fixture_record (desk, lot, "moulted", "", -12);
  fixture_record (desk, lot, "looked", "", -2);
  made = separate (desk, lot, 2, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (made->len, ==, 2);
  g_assert_cmpint (tally_of (desk, lot).count, ==, 8);
  now = fixture_now (desk, lot);
  of_lot = desk_subject_state (now);
  single = desk_subject_state (made->pdata[1]);
  g_assert_cmpstr (single->species, ==, of_lot->species);
  g_assert_cmpint (single->hatched_day, ==, of_lot->hatched_day);
  g_assert_cmpint (single->hatched_earliest, ==, of_lot->hatched_earliest);
  g_assert_cmpuint (single->stages.n, ==, of_lot->stages.n);
  g_assert_cmpint (single->moults, ==, of_lot->moults);
  g_assert_cmpstr (core_state_setting (single, "line"), ==, "Old");
  /* Nobody looked at this one, and its moult is known less well. */
  g_assert_cmpuint (single->looks.n, ==, 0);
  g_assert_cmpint (single->basis, ==, CORE_BASIS_ESTIMATED);
  g_assert_true (single->stages.v[1].lo < of_lot->stages.v[1].lo);
  g_assert_true (single->stages.v[1].hi > of_lot->stages.v[1].hi);
  g_assert_cmpint (desk_subject_forecast (made->pdata[1])->why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpuint (single->conflicts.n, ==, 0);
}

/* Corrected afterwards, a lot says otherwise of itself and of what was taken out of it. */
static void
test_corrected_afterwards (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) lot = add_lot (desk, "count=10");
  g_autoptr (GPtrArray) made = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) single = NULL;

  made = separate (desk, lot, 1, &error);
  g_assert_no_error (error);
  fixture_correct (desk, desk_subject_state (lot)->hatched_entry, "day=2026-05-12");
  single = fixture_now (desk, made->pdata[0]);
  g_assert_cmpint (tally_of (desk, lot).count, ==, 9);
  g_assert_cmpint (desk_subject_state (single)->hatched_day, ==, fixture_day (-20));
}

/* ---- codes of merged copies ---- */

/* A lot with that code written by another machine, as a merge brings it. */
static CoreId
foreign_lot (Fixture *fixture, const char *code)
{
  g_autoptr (GError) error = NULL;
  Store *store;
  StoreStamp stamp = { .now_ms = 1800000000000, .random = { 7, 7 } };
  StoreSubject subject = { .kind = CORE_SUBJECT_LOT };
  CoreEntry *entry = core_entry_new (CORE_KIND_SET);
  StoreBatch batch = { .subjects = &subject,
                       .n_subjects = 1,
                       .entries = &entry,
                       .n_entries = 1,
                       .expect_seq = -1 };

  fixture_close (fixture->desk);
  store = store_open (fixture->dir, STORE_OPEN, &error);
  g_assert_no_error (error);
  g_assert_true (store_make_ids (store, &stamp, &subject.id, 1, &error));
  entry->subject = subject.id;
  entry->day = fixture_day (-5);
  core_entry_set_str (entry, CORE_KEY_KEY, "code");
  core_entry_set_str (entry, CORE_KEY_VALUE, code);
  g_assert_true (store_append (store, &batch, &stamp, NULL, &error));
  g_assert_no_error (error);
  core_entry_free (entry);
  store_close (store);
  fixture->desk = fixture_open (fixture, DESK_OPEN_LAZY);
  return subject.id;
}

static gboolean
has_conflict (const DeskSubject *subject, CoreConflictKind kind)
{
  const CoreState *state = desk_subject_state (subject);

  for (gsize i = 0; i < state->conflicts.n; i++)
    if (state->conflicts.v[i].kind == kind)
      return TRUE;
  return FALSE;
}

static void
test_code_taken (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) mine = add_lot (fixture->desk, "count=10");
  CoreId other = foreign_lot (fixture, "h1");
  g_autoptr (DeskSubject) first = NULL;
  g_autoptr (DeskSubject) second = NULL;
  g_autoptr (DeskSubject) next = NULL;
  g_autoptr (GError) error = NULL;

  first = desk_find (fixture->desk, "H1", &error);
  g_assert_no_error (error);
  g_assert_true (core_id_equal (desk_subject_id (first), desk_subject_id (mine)));
  second = desk_find (fixture->desk, "h1b", &error);
  g_assert_no_error (error);
  g_assert_true (core_id_equal (desk_subject_id (second), other));
  g_assert_true (has_conflict (second, CORE_CONFLICT_CODE_TAKEN));
  g_assert_false (has_conflict (first, CORE_CONFLICT_CODE_TAKEN));
  next = add_lot (fixture->desk, "count=1");
  g_assert_cmpstr (desk_subject_label (next), ==, "H2");
  /* A new code settles it. */
  fixture_record (fixture->desk, second, "set", "key=code value=H7", 0);
  {
    g_autoptr (DeskSubject) settled = fixture_now (fixture->desk, second);

    g_assert_false (has_conflict (settled, CORE_CONFLICT_CODE_TAKEN));
    g_assert_cmpstr (desk_subject_label (settled), ==, "H7");
  }
}

#define LOT_TEST(path, func)                                                                       \
  g_test_add (path, Fixture, NULL, fixture_set_up, func, fixture_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  LOT_TEST ("/desk/lots/random-verbs", test_random_verbs);
  LOT_TEST ("/desk/lots/part-of-another", test_part_of_another);
  LOT_TEST ("/desk/lots/one-side", test_one_side);
  LOT_TEST ("/desk/lots/taken-over", test_taken_over);
  LOT_TEST ("/desk/lots/corrected-afterwards", test_corrected_afterwards);
  LOT_TEST ("/desk/lots/code-taken", test_code_taken);
  return g_test_run ();
}
