/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-desk.c — the verbs of the desk: what they write, what they refuse, what survives. */
#include "desk-fixture.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "desk/desk-draft.h"
#include "desk/desk-then.h"
#include "store/store.h"
#include "words/words.h"

static DeskSubject *
nymph (Fixture *fixture)
{
  return fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01");
}

static int
belly (Fixture *fixture, DeskSubject *subject)
{
  g_autoptr (DeskSubject) now = fixture_now (fixture->desk, subject);

  return desk_subject_state (now)->belly;
}

/* ---- snapshots ---- */

static void
test_snapshot_stays (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) before = nymph (fixture);
  g_autoptr (DeskSubject) after = NULL;
  double p50 = desk_subject_forecast (before)->days[CORE_Q50];

  g_test_summary ("A held snapshot does not change when the journal moves on");
  fixture_record (fixture->desk, before, "moulted", "outcome=good", -2);
  after = fixture_now (fixture->desk, before);
  g_assert_cmpint (desk_subject_state (before)->moults, ==, 0);
  g_assert_cmpint (desk_subject_state (after)->moults, ==, 1);
  g_assert_cmpfloat (desk_subject_forecast (before)->days[CORE_Q50], ==, p50);
  g_assert_cmpfloat (desk_subject_forecast (after)->days[CORE_Q50], >, p50);
  g_assert_nonnull (desk_subject_plan (before));
  g_assert_nonnull (desk_subject_verdict (before));
}

static void
count_cb (Desk *desk, DeskSubject *subject, gpointer data)
{
  (*(guint *) data)++;
}

static void
test_place_change_reaches_animals (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) shelf =
    fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "code=A day_c=25 night_c=25");
  g_autoptr (DeskSubject) home = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "code=H within=A");
  g_autoptr (DeskSubject) here = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL,
                                              "species=hierodula hatched=2026-05-20 place=H");
  g_autoptr (DeskSubject) elsewhere = nymph (fixture);
  g_autoptr (DeskSubject) colder = NULL;
  g_autoptr (DeskSubject) same = NULL;
  double before = desk_subject_forecast (here)->days[CORE_Q50];
  guint changes = 0;

  g_signal_connect (fixture->desk, "changed", G_CALLBACK (count_cb), &changes);
  fixture_record (fixture->desk, shelf, "set", "key=day_c value=20", 0);
  /* The shelf, the home in it and the animal in that. */
  g_assert_cmpuint (changes, ==, 3);
  fixture_record (fixture->desk, shelf, "set", "key=night_c value=20", 0);
  colder = fixture_now (fixture->desk, here);
  same = fixture_now (fixture->desk, elsewhere);
  g_assert_cmpfloat (desk_subject_forecast (colder)->days[CORE_Q50], >, before + 1);
  g_assert_true (same == elsewhere);
  g_signal_handlers_disconnect_by_data (fixture->desk, &changes);
}

static void
test_today_changes (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);
  g_autoptr (DeskSubject) tomorrow = NULL;

  desk_set_today (fixture->desk, fixture_day (1));
  tomorrow = fixture_now (fixture->desk, animal);
  g_assert_true (tomorrow != animal);
  g_assert_cmpint (desk_today (fixture->desk), ==, fixture_day (1));
  fixture_record (fixture->desk, animal, "looked", "", 1);
}

/* ---- numbers and names ---- */

static void
test_numbers (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) first = nymph (fixture);
  g_autoptr (DeskSubject) second = NULL;
  g_autoptr (DeskChange) change = NULL;
  g_autoptr (DeskSubject) found = NULL;
  g_autoptr (DeskSubject) ever = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpstr (desk_subject_label (first), ==, "1");
  change = fixture_undo (fixture->desk);
  g_assert_cmpuint (change->entries->len, ==, 3);
  second = nymph (fixture);
  g_assert_cmpstr (desk_subject_label (second), ==, "2");
  found = desk_find (fixture->desk, "1", &error);
  g_assert_null (found);
  g_assert_error (error, DESK_ERROR, DESK_ERROR_NOT_FOUND);
  ever = desk_find_ever (fixture->desk, "1", NULL);
  g_assert_nonnull (ever);
  g_assert_true (core_id_equal (desk_subject_id (ever), desk_subject_id (first)));
}

/* Two copies of a journal, brought together, may hold one number twice. */
static void
test_colliding_numbers (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) first = nymph (fixture);
  g_autoptr (DeskSubject) found = NULL;
  g_autoptr (DeskSubject) other = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL;
  StoreStamp stamp = { .now_ms = G_GINT64_CONSTANT (1780000000000) };
  StoreSubject subject = { .kind = CORE_SUBJECT_ANIMAL };
  CoreEntry *entry = core_entry_new (CORE_KIND_SET);
  StoreBatch batch = {
    .subjects = &subject, .n_subjects = 1, .entries = &entry, .n_entries = 1, .expect_seq = -1
  };

  g_assert_cmpstr (desk_subject_label (first), ==, "1");
  fixture_close (g_steal_pointer (&fixture->desk));
  store = store_open (fixture->dir, STORE_OPEN, &error);
  g_assert_no_error (error);
  g_assert_true (store_make_ids (store, &stamp, &subject.id, 1, &error));
  entry->subject = subject.id;
  entry->day = fixture_day (0);
  core_entry_set_str (entry, CORE_KEY_KEY, "number");
  core_entry_set_str (entry, CORE_KEY_VALUE, "1");
  g_assert_true (store_append (store, &batch, &stamp, NULL, &error));
  g_assert_no_error (error);
  core_entry_free (entry);
  g_clear_pointer (&store, store_close);
  fixture->desk = fixture_open (fixture, DESK_OPEN_LAZY);

  found = desk_find (fixture->desk, "1", &error);
  g_assert_no_error (error);
  g_assert_true (core_id_equal (desk_subject_id (found), desk_subject_id (first)));
  other = desk_find (fixture->desk, "1b", &error);
  g_assert_no_error (error);
  g_assert_true (core_id_equal (desk_subject_id (other), subject.id));
  g_assert_cmpuint (desk_subject_state (other)->conflicts.n, ==, 1);
  g_assert_cmpint (desk_subject_state (other)->conflicts.v[0].kind, ==, CORE_CONFLICT_NUMBER_TAKEN);
}

static void
test_find_places (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) place =
    fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "name=Küche code=K1");
  static const char *const names[] = { "K1", "k1", "Küche", "KÜCHE", NULL };

  for (gsize i = 0; names[i] != NULL; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (DeskSubject) found = desk_find (fixture->desk, names[i], &error);

      g_assert_no_error (error);
      g_assert_true (core_id_equal (desk_subject_id (found), desk_subject_id (place)));
    }
}

/* ---- refusals ---- */

typedef struct
{
  const char *name, *kind, *pairs;
  int day;
  DeskError code;
  CoreRefusal refusal;
} RefusalCase;

static const RefusalCase refusal_cases[] = {
  { "future", "moulted", "", 1, DESK_ERROR_REFUSED, CORE_REFUSE_FUTURE },
  { "before-hatch", "looked", "", -120, DESK_ERROR_REFUSED, CORE_REFUSE_BEFORE_HATCH },
  { "hatched-twice", "hatched", "", -1, DESK_ERROR_REFUSED, CORE_REFUSE_ALREADY_HATCHED },
  { "not-a-place", "reading", "t=20", 0, DESK_ERROR_REFUSED, CORE_REFUSE_WRONG_SUBJECT },
  { "pads", "sign", "sign=pads", 0, DESK_ERROR_REFUSED, CORE_REFUSE_PADS_NOT_SUBADULT },
  { "bad-word", "sign", "sign=dancing", 0, DESK_ERROR_VALUE, CORE_REFUSE_NOTHING },
  { "missing", "sign", "", 0, DESK_ERROR_VALUE, CORE_REFUSE_NOTHING },
  { "no-kind", "flown", "", 0, DESK_ERROR_VALUE, CORE_REFUSE_NOTHING },
  { "hash", "photo", "hash=00", 0, DESK_ERROR_VALUE, CORE_REFUSE_NOTHING },
  { "no-place", "housed", "place=Z", 0, DESK_ERROR_NOT_FOUND, CORE_REFUSE_NOTHING },
  { "number-form", "set", "key=number value=xx", 0, DESK_ERROR_VALUE, CORE_REFUSE_NOTHING },
};

static void
test_refusal (Fixture *fixture, gconstpointer data)
{
  const RefusalCase *c = data;
  g_autoptr (DeskSubject) animal = nymph (fixture);
  g_autoptr (GPtrArray) before = desk_history (fixture->desk, desk_subject_id (animal), NULL);
  g_autoptr (GPtrArray) after = NULL;
  g_autoptr (GError) error = fixture_try_record (fixture->desk, animal, c->kind, c->pairs, c->day);

  g_assert_error (error, DESK_ERROR, (int) c->code);
  g_assert_cmpint (desk_error_refusal (error), ==, c->refusal);
  g_assert_cmpint (desk_error_fault (error), ==, DESK_FAULT_REQUEST);
  after = desk_history (fixture->desk, desk_subject_id (animal), NULL);
  g_assert_cmpuint (after->len, ==, before->len);
}

/* ---- undo ---- */

static void
test_undo_survives_closing (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);

  fixture_record (fixture->desk, animal, "belly", "score=2", -3);
  fixture_record (fixture->desk, animal, "belly", "score=3", -2);
  desk_change_free (fixture_undo (fixture->desk));
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  g_assert_cmpint (belly (fixture, animal), ==, 2);
  g_assert_true (desk_can_redo (fixture->desk));
  desk_change_free (fixture_redo (fixture->desk));
  g_assert_cmpint (belly (fixture, animal), ==, 3);
  g_assert_false (desk_can_redo (fixture->desk));
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  g_assert_true (desk_can_undo (fixture->desk));
  for (int i = 0; i < 3; i++)
    desk_change_free (fixture_undo (fixture->desk));
  g_assert_false (desk_can_undo (fixture->desk));
  g_assert_null (fixture_undo (fixture->desk));
}

/* Voiding and restoring in any order gives back what was there. */
static void
test_undo_walk (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  int scores[80];
  int at = 0, top = 0;

  for (int step = 0; step < 120; step++)
    {
      int what = g_rand_int_range (rand, 0, 3);

      if (what == 0 && at < 79)
        {
          g_autofree char *pair = NULL;

          scores[++at] = g_rand_int_range (rand, 1, 6);
          top = at;
          pair = g_strdup_printf ("score=%d", scores[at]);
          fixture_record (fixture->desk, animal, "belly", pair, 0);
        }
      else if (what == 1 && at > 0)
        {
          desk_change_free (fixture_undo (fixture->desk));
          at--;
        }
      else if (what == 2)
        {
          DeskChange *change = fixture_redo (fixture->desk);

          g_assert_cmpint (change != NULL, ==, at < top);
          at += change != NULL ? 1 : 0;
          g_clear_pointer (&change, desk_change_free);
        }
      g_assert_cmpint (belly (fixture, animal), ==, at == 0 ? 0 : scores[at]);
    }
}

static void
test_void_is_an_action (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);
  CoreId id = fixture_record (fixture->desk, animal, "belly", "score=4", 0);
  g_autoptr (DeskChange) change = NULL;

  fixture_void (fixture->desk, id);
  g_assert_cmpint (belly (fixture, animal), ==, 0);
  change = fixture_undo (fixture->desk);
  g_assert_cmpint (belly (fixture, animal), ==, 4);
  fixture_correct (fixture->desk, id, "score=1 day=2026-05-31");
  g_assert_cmpint (belly (fixture, animal), ==, 1);
  g_assert_false (desk_entry_is_live (fixture->desk, id));
}

/* ---- tasks ---- */

typedef struct
{
  const char *name;
  CoreTaskKind task;
  CoreKind kind;
} TaskCase;

static const TaskCase task_cases[] = {
  { "feed", CORE_TASK_FEED, CORE_KIND_FED },
  { "mist", CORE_TASK_MIST, CORE_KIND_MISTED },
  { "water", CORE_TASK_WATER, CORE_KIND_WATERED },
  { "clean", CORE_TASK_CLEAN, CORE_KIND_CLEANED },
  { "look", CORE_TASK_LOOK, CORE_KIND_LOOKED },
  { "home", CORE_TASK_HOME, CORE_KIND_DONE },
  { "sex-check", CORE_TASK_SEX_CHECK, CORE_KIND_DONE },
  { "take-out", CORE_TASK_TAKE_OUT, CORE_KIND_DONE },
};

static void
test_task_done (Fixture *fixture, gconstpointer data)
{
  const TaskCase *c = data;
  g_autoptr (DeskSubject) animal = nymph (fixture);
  g_autoptr (GPtrArray) history = NULL;
  CoreTask task = { .kind = c->task, .subject = desk_subject_id (animal), .n_prey = 1 };
  const CoreEntry *entry;

  task.prey[0] = (CorePreyOffer){ CORE_PREY_MOTH, 2, 20 };
  fixture_task_done (fixture->desk, &task);
  history = desk_history (fixture->desk, desk_subject_id (animal), NULL);
  entry = history->pdata[0];
  g_assert_cmpint (entry->kind, ==, c->kind);
  g_assert_cmpint (entry->day, ==, fixture_day (0));
  if (c->kind == CORE_KIND_FED)
    {
      g_assert_cmpint (core_entry_code (entry, CORE_KEY_PREY, -1), ==, CORE_PREY_MOTH);
      g_assert_cmpfloat (core_entry_num (entry, CORE_KEY_N, 0), ==, 2);
      g_assert_cmpint (core_entry_code (entry, CORE_KEY_OUTCOME, -1), ==, CORE_FED_OFFERED);
    }
  if (c->kind == CORE_KIND_DONE)
    g_assert_cmpstr (core_entry_str (entry, CORE_KEY_RULE), ==, core_task_name (c->task));
  fixture_task_put_off (fixture->desk, &task, fixture_day (3));
  g_ptr_array_unref (history);
  history = desk_history (fixture->desk, desk_subject_id (animal), NULL);
  entry = history->pdata[0];
  g_assert_cmpint (entry->kind, ==, CORE_KIND_PUT_OFF);
  g_assert_cmpfloat (core_entry_num (entry, CORE_KEY_UNTIL, 0), ==, fixture_day (3));
}

static void
test_after_moult_done (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);
  CoreId moult = fixture_record (fixture->desk, animal, "moulted", "", -1);
  CoreTask task = { .kind = CORE_TASK_AFTER_MOULT, .subject = desk_subject_id (animal) };
  g_autoptr (DeskSubject) now = NULL;

  fixture_task_done (fixture->desk, &task);
  now = fixture_now (fixture->desk, animal);
  g_assert_false (desk_entry_is_live (fixture->desk, moult));
  g_assert_cmpint (desk_subject_state (now)->moults, ==, 1);
  g_assert_cmpint (core_state_stage_now (desk_subject_state (now))->outcome, ==, CORE_MOULT_GOOD);
}

/* ---- order on a shelf ---- */

static char *
order_on (Desk *desk, DeskSubject *place)
{
  g_autoptr (GPtrArray) animals = desk_animals_on (desk, desk_subject_id (place));
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < animals->len; i++)
    g_string_append_printf (out, "%s ", desk_subject_label (animals->pdata[i]));
  return g_string_free (out, FALSE);
}

static void
test_order (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) place = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "code=A");
  DeskSubject *animals[4];
  static const struct
  {
    int move, before; /* -1 = the end */
    const char *order;
  } moves[] = {
    { 3, 0, "4 1 2 3 " },
    { 0, 3, "1 4 2 3 " },
    { 1, -1, "1 4 3 2 " },
    { 2, 3, "1 3 4 2 " },
  };

  for (int i = 0; i < 4; i++)
    animals[i] = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL, "species=hierodula place=A");
  for (gsize i = 0; i < G_N_ELEMENTS (moves); i++)
    {
      g_autofree char *order = NULL;

      fixture_move (fixture->desk, animals[moves[i].move], place,
                    moves[i].before < 0 ? NULL : animals[moves[i].before]);
      order = order_on (fixture->desk, place);
      g_assert_cmpstr (order, ==, moves[i].order);
    }
  for (int i = 0; i < 4; i++)
    desk_subject_unref (animals[i]);
}

static void
then_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (desk_then_finish (DESK_DESK (source), result, &error));
  g_assert_no_error (error);
  *(gboolean *) data = TRUE;
}

/* A shelf of an earlier day is read in pieces, to the same; what is written meanwhile begins it anew. */
static void
test_then_in_pieces (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) shelf = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "name=Shelf code=S");
  g_autoptr (DeskSubject) first = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL,
                                               "species=hierodula place=S acquired=2026-05-01 moults=4");
  g_autoptr (DeskSubject) second = NULL;
  g_autoptr (DeskRoundPreview) preview = NULL;
  CoreId place = desk_subject_id (shelf);
  CoreDay day = fixture_day (-3);
  gsize n = 0;
  const CoreRoundTerm *terms = words_round_terms (WORDS_ENGLISH, &n);
  gboolean done = FALSE;

  g_assert_true (desk_then_is_ready (fixture->desk, place, CORE_DAY_NONE));
  g_assert_true (desk_then_is_ready (fixture->desk, place, fixture_day (0)));
  g_assert_false (desk_then_is_ready (fixture->desk, place, day));
  desk_then_async (fixture->desk, place, day, then_read_cb, &done);
  g_assert_false (done);
  second = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL, "species=hierodula place=S acquired=2026-05-02 moults=4");
  while (!done || !desk_then_is_ready (fixture->desk, place, day))
    {
      if (done) /* of before the second was there: asked again, as the line does */
        desk_then_async (fixture->desk, place, day, then_read_cb, &done);
      done = FALSE;
      while (!done)
        g_main_context_iteration (NULL, TRUE);
    }
  preview = desk_round_preview (fixture->desk, place, "all misted", terms, n, day);
  g_assert_cmpuint (preview->plan.n_writes, ==, 2);
  g_assert_false (desk_then_is_ready (fixture->desk, place, day - 1));
  fixture_record (fixture->desk, first, "looked", "", 0);
  g_assert_false (desk_then_is_ready (fixture->desk, place, day));
}

/* ---- drafts ---- */

static void
test_drafts (Fixture *fixture, gconstpointer data)
{
  g_autofree char *kept = NULL;

  desk_draft_set (fixture->desk, "round:A", "all fed 2 hou");
  desk_draft_set (fixture->desk, "round:B", "gone tomorrow");
  desk_draft_set (fixture->desk, "round:B", NULL);
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  kept = desk_draft_get (fixture->desk, "round:A");
  g_assert_cmpstr (kept, ==, "all fed 2 hou");
  g_assert_null (desk_draft_get (fixture->desk, "round:B"));
  desk_draft_set (fixture->desk, "round:A", NULL);
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  g_assert_null (desk_draft_get (fixture->desk, "round:A"));
}

static char *
draft_on_disk (Fixture *fixture, const char *key)
{
  Fixture copy = { .today = fixture->today, .dir = g_dir_make_tmp ("mantidary-desk-XXXXXX", NULL) };
  char *found;

  fixture_copy (fixture->dir, copy.dir);
  copy.desk = fixture_open (&copy, DESK_OPEN_LAZY);
  found = desk_draft_get (copy.desk, key);
  fixture_tear_down (&copy, NULL);
  return found;
}

static void
write_drafts (Fixture *fixture)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_drafts_write_async (fixture->desk, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_drafts_write_finish (fixture->desk, result);
}

/* A window that is closed right after a line was typed, or cleared, does not wait for the second. */
static void
test_drafts_at_once (Fixture *fixture, gconstpointer data)
{
  g_autofree char *typed = NULL, *cleared = NULL;

  desk_draft_set (fixture->desk, "round:A", "all fed 2 hou");
  write_drafts (fixture);
  typed = draft_on_disk (fixture, "round:A");
  g_assert_cmpstr (typed, ==, "all fed 2 hou");
  desk_draft_set (fixture->desk, "round:A", NULL);
  write_drafts (fixture);
  cleared = draft_on_disk (fixture, "round:A");
  g_assert_null (cleared);
}

/* ---- two desks ---- */

static gboolean
late_cb (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

static void
test_sees_another_program (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);
  Desk *window = fixture_open (fixture, DESK_OPEN_DEFAULT);
  guint changes = 0;
  gboolean late = FALSE;
  guint timer;
  g_autoptr (DeskSubject) seen = NULL;

  g_test_summary ("What another program writes appears within a few seconds");
  g_signal_connect (window, "changed", G_CALLBACK (count_cb), &changes);
  fixture_record (fixture->desk, animal, "belly", "score=5", 0);
  timer = g_timeout_add_seconds (10, late_cb, &late);
  while (changes == 0 && !late)
    g_main_context_iteration (NULL, TRUE);
  g_assert_false (late);
  g_source_remove (timer);
  seen = fixture_now (window, animal);
  g_assert_cmpint (desk_subject_state (seen)->belly, ==, 5);
  fixture_close (window);
}

/* Each prepared its write before the other wrote: both are there, with two numbers. */
static void
test_two_writers (Fixture *fixture, gconstpointer data)
{
  Desk *other = fixture_open (fixture, DESK_OPEN_LAZY);
  g_autoptr (DeskSubject) one = nymph (fixture);
  g_autoptr (DeskSubject) two =
    fixture_add (other, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01");
  g_autoptr (DeskSubject) three = nymph (fixture);

  g_assert_cmpstr (desk_subject_label (one), ==, "1");
  g_assert_cmpstr (desk_subject_label (two), ==, "2");
  g_assert_cmpstr (desk_subject_label (three), ==, "3");
  fixture_close (other);
}

/* ---- opening ---- */

static void
clock_fixed (gint64 *now_ms, guint8 random[16], gpointer data)
{
  guint *n = data;

  *now_ms = G_GINT64_CONSTANT (1780300000000) + 1000 * (*n)++;
  memset (random, (int) *n, 16);
}

static void
test_clock_enters (Fixture *fixture, gconstpointer data)
{
  guint n = 0;
  g_autoptr (DeskSubject) animal = NULL;
  CoreId id;

  desk_set_clock (fixture->desk, clock_fixed, &n);
  animal = nymph (fixture);
  id = fixture_record (fixture->desk, animal, "looked", "", 0);
  g_assert_cmpint (desk_entry (fixture->desk, id)->written_ms, ==,
                   G_GINT64_CONSTANT (1780300000000) + 1000 * (n - 1));
  desk_set_clock (fixture->desk, NULL, NULL);
}

static void
test_open_refuses (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *nowhere = g_build_filename (fixture->dir, "nowhere", NULL);

  g_assert_null (desk_open (nowhere, fixture->today, DESK_OPEN_LAZY, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_null (desk_open (fixture->dir, fixture->today, DESK_OPEN_CREATE, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_EXISTS);
}

/* As the window makes a journal: with threads, without waiting for them afterwards. */
static void
test_create_with_threads (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *dir = g_build_filename (fixture->dir, "photos", "new", NULL);
  Desk *desk = desk_open (dir, fixture->today, DESK_OPEN_CREATE, &error);
  g_autoptr (DeskSubject) animal = NULL;
  guint changes = 0;

  g_assert_no_error (error);
  g_assert_false (core_id_is_none (desk_journal_id (desk)));
  g_assert_cmpint (desk_scheme (desk), ==, 1);
  g_assert_false (desk_is_demo (desk));
  g_assert_false (desk_can_undo (desk));
  g_signal_connect (desk, "changed", G_CALLBACK (count_cb), &changes);
  animal = fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01");
  while (changes == 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpint (desk_subject_forecast (animal)->why, ==, CORE_NO_FORECAST_NONE);
  g_clear_pointer (&animal, desk_subject_unref);
  fixture_close (desk);
}

/* A closed desk answers with an error, whatever it is asked. */
static void
test_closed (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);
  g_autoptr (GError) error = NULL;
  DeskSync closing = { NULL }, checking = { NULL };
  g_autoptr (GAsyncResult) closed = NULL;
  g_autoptr (GAsyncResult) checked = NULL;

  desk_close_async (fixture->desk, desk_sync_cb, &closing);
  closed = desk_sync_wait (&closing);
  g_assert_true (desk_close_finish (fixture->desk, closed, NULL));
  error = fixture_try_record (fixture->desk, animal, "looked", "", 0);
  g_assert_error (error, DESK_ERROR, DESK_ERROR_FAILED);
  g_clear_error (&error);
  desk_check_async (fixture->desk, WORDS_ENGLISH, NULL, desk_sync_cb, &checking);
  checked = desk_sync_wait (&checking);
  g_assert_null (desk_check_finish (fixture->desk, checked, &error));
  g_assert_error (error, DESK_ERROR, DESK_ERROR_FAILED);
  desk_draft_set (fixture->desk, "round:A", "too late");
}

static void
test_write_batch (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = nymph (fixture);
  GPtrArray *entries = g_ptr_array_new ();
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) now = NULL;
  CoreId first;

  g_test_summary ("A batch is one round; an entry that cannot be refuses all of it");
  for (int i = 0; i < 3; i++)
    {
      CoreEntry *entry = core_entry_new (i == 1 ? CORE_KIND_MOULTED : CORE_KIND_LOOKED);

      entry->subject = desk_subject_id (animal);
      entry->day = fixture_day (i - 4);
      g_ptr_array_add (entries, entry);
    }
  desk_write_async (fixture->desk, entries, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_write_finish (fixture->desk, result, &first, &error));
  now = fixture_now (fixture->desk, animal);
  g_assert_cmpint (desk_subject_state (now)->moults, ==, 1);
  desk_change_free (fixture_undo (fixture->desk));
  g_clear_pointer (&now, desk_subject_unref);
  now = fixture_now (fixture->desk, animal);
  g_assert_cmpint (desk_subject_state (now)->moults, ==, 0);
}

/* ---- a round for a past day ---- */

static DeskSubject *
first_cup (Fixture *fixture, DeskSubject *place, int day)
{
  gsize n;
  const CoreRoundTerm *terms = words_round_terms (WORDS_ENGLISH, &n);
  g_autoptr (DeskRoundPreview) preview =
    desk_round_preview (fixture->desk, desk_subject_id (place), "all misted", terms, n, fixture_day (day));

  g_assert_cmpuint (preview->subjects->len, ==, 1);
  return desk_subject_ref (preview->subjects->pdata[0]);
}

static void
test_past_shelf_once (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) place = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "name=Alcove code=A");
  g_autoptr (DeskSubject) animal =
    fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01 place=A");
  g_autoptr (DeskSubject) one = first_cup (fixture, place, -3);
  g_autoptr (DeskSubject) two = first_cup (fixture, place, -3);
  g_autoptr (DeskSubject) other = first_cup (fixture, place, -4);
  g_autoptr (DeskSubject) again = NULL;

  g_test_summary ("The shelf of a past day is worked out once, not with every letter, and anew after an entry");
  g_assert_true (one == two);
  g_assert_true (other != two);
  g_assert_cmpint (desk_subject_state (one)->belly, ==, 0);
  fixture_record (fixture->desk, animal, "belly", "score=2", -3);
  again = first_cup (fixture, place, -3);
  g_assert_cmpint (desk_subject_state (again)->belly, ==, 2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, function)                                                                        \
  g_test_add (path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)
  ADD ("/desk/snapshot/stays", test_snapshot_stays);
  ADD ("/desk/snapshot/place", test_place_change_reaches_animals);
  ADD ("/desk/snapshot/today", test_today_changes);
  ADD ("/desk/numbers/never-again", test_numbers);
  ADD ("/desk/numbers/colliding", test_colliding_numbers);
  ADD ("/desk/find/places", test_find_places);
  ADD ("/desk/undo/closing", test_undo_survives_closing);
  ADD ("/desk/undo/walk", test_undo_walk);
  ADD ("/desk/undo/void", test_void_is_an_action);
  ADD ("/desk/task/after-moult", test_after_moult_done);
  ADD ("/desk/order", test_order);
  ADD ("/desk/then-in-pieces", test_then_in_pieces);
  ADD ("/desk/drafts", test_drafts);
  ADD ("/desk/drafts-at-once", test_drafts_at_once);
  ADD ("/desk/two/poll", test_sees_another_program);
  ADD ("/desk/two/writers", test_two_writers);
  ADD ("/desk/open/clock", test_clock_enters);
  ADD ("/desk/open/refuses", test_open_refuses);
  ADD ("/desk/open/create", test_create_with_threads);
  ADD ("/desk/open/closed", test_closed);
  ADD ("/desk/write/batch", test_write_batch);
  ADD ("/desk/round/past-shelf-once", test_past_shelf_once);
  for (gsize i = 0; i < G_N_ELEMENTS (refusal_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/desk/refusal/%s", refusal_cases[i].name);

      g_test_add (path, Fixture, &refusal_cases[i], fixture_set_up, test_refusal,
                  fixture_tear_down);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (task_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/desk/task/%s", task_cases[i].name);

      g_test_add (path, Fixture, &task_cases[i], fixture_set_up, test_task_done, fixture_tear_down);
    }
  return g_test_run ();
}
