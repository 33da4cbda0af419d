/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-heirs.c — what singles and parts of a lot have from it: the same in whatever order it was
 * entered, after corrections, and in journals that hold copies of it. */
#include "desk-fixture.h"

#include <math.h>
#include <string.h>

#include "store/store.h"

/* ---- verbs run to their end ---- */

static GPtrArray *
separate (Desk *desk, DeskSubject *lot, guint n, int moulted, int day, GError **error)
{
  DeskSync sync = { NULL };
  CoreId none = { 0 };
  g_autoptr (GAsyncResult) result = NULL;

  desk_separate_async (desk, desk_subject_id (lot), n, moulted, none, fixture_day (day), desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_separate_finish (desk, result, error);
}

static DeskSubject *
split (Desk *desk, DeskSubject *lot, guint n, int moulted, int day)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskSubject *part;

  desk_split_async (desk, desk_subject_id (lot), n, moulted, NULL, fixture_day (day), desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  part = desk_split_finish (desk, result, &error);
  g_assert_no_error (error);
  return part;
}

static DeskSubject *
add_lot (Desk *desk, int day, const char *more)
{
  g_auto (GStrv) pairs = g_strsplit (more, " ", 0);
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskSubject *lot;

  desk_add_async (desk, CORE_SUBJECT_LOT, (const char *const *) pairs, fixture_day (day), NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  lot = desk_add_finish (desk, result, &error);
  g_assert_no_error (error);
  return lot;
}

/* ---- any order ---- */

/* A history of one lot: each step can be entered at any time after those that it needs. */
enum
{
  HATCHED,
  LOOKED,
  ALL_MOULTED,
  MISTAKEN,
  FED,
  MISTED,
  DIED,
  SOME_MOULTED,
  SEPARATED,
  SPLIT,
  SPECIES,
  TAKEN_BACK,
  CORRECTED,
  REST_MOULTED,
  PART_MOULTED,
  OF_PART,
  N_STEPS
};

static const guint needs[N_STEPS] = {
  [TAKEN_BACK] = 1u << MISTAKEN,
  [CORRECTED] = 1u << ALL_MOULTED,
  [PART_MOULTED] = 1u << SPLIT,
  [OF_PART] = 1u << SPLIT,
};

typedef struct
{
  Desk *desk;
  DeskSubject *lot, *part;
  GPtrArray *singles, *of_part;
  CoreId all_moulted, mistaken;
} Trial;

static void
do_step (Trial *self, guint step)
{
  Desk *desk = self->desk;
  g_autoptr (GError) error = NULL;

  switch (step)
    {
    case HATCHED:
      fixture_record (desk, self->lot, "hatched", "", -24);
      break;
    case LOOKED:
      fixture_record (desk, self->lot, "looked", "", -19);
      break;
    case ALL_MOULTED:
      self->all_moulted = fixture_record (desk, self->lot, "moulted", "", -17);
      break;
    case MISTAKEN:
      self->mistaken = fixture_record (desk, self->lot, "moulted", "outcome=good", -12);
      break;
    case FED:
      fixture_record (desk, self->lot, "fed", "prey=melanogaster n=50", -10);
      break;
    case MISTED:
      fixture_record (desk, self->lot, "misted", "", -9);
      break;
    case DIED:
      fixture_record (desk, self->lot, "died", "n=5", -11);
      break;
    case SOME_MOULTED:
      fixture_record (desk, self->lot, "moulted", "n=30", -7);
      break;
    case SEPARATED:
      self->singles = separate (desk, self->lot, 2, -1, -6, &error);
      g_assert_no_error (error);
      break;
    case SPLIT:
      self->part = split (desk, self->lot, 20, -1, -5);
      break;
    case SPECIES:
      fixture_record (desk, self->lot, "set", "key=species value=tenodera", -20);
      break;
    case TAKEN_BACK:
      fixture_void (desk, self->mistaken);
      break;
    case CORRECTED:
      fixture_correct (desk, self->all_moulted, "day=2026-05-16");
      break;
    case REST_MOULTED:
      fixture_record (desk, self->lot, "moulted", "", -3);
      break;
    case PART_MOULTED:
      fixture_record (desk, self->part, "moulted", "", -2);
      break;
    default:
      self->of_part = separate (desk, self->part, 1, -1, -1, &error);
      g_assert_no_error (error);
      break;
    }
}

static void
trial_run (Trial *self, Desk *desk, gboolean in_order)
{
  guint done = 0;

  *self = (Trial){ .desk = desk };
  self->lot = add_lot (desk, -24, "species=hierodula count=100");
  while (done != (1u << N_STEPS) - 1)
    for (guint step = in_order ? 0 : fixture_draw (N_STEPS); step < N_STEPS; step++)
      {
        if ((done & (1u << step)) != 0 || (needs[step] & ~done) != 0)
          continue;
        do_step (self, step);
        done |= 1u << step;
        if (!in_order)
          break;
      }
}

static void
trial_clear (Trial *self)
{
  g_clear_pointer (&self->lot, desk_subject_unref);
  g_clear_pointer (&self->part, desk_subject_unref);
  g_clear_pointer (&self->singles, g_ptr_array_unref);
  g_clear_pointer (&self->of_part, g_ptr_array_unref);
}

/* What is known of an animal or a lot, but for ids and names. */
static char *
life_of (Desk *desk, DeskSubject *subject)
{
  g_autoptr (DeskSubject) now = fixture_now (desk, subject);
  const CoreState *s = desk_subject_state (now);
  GString *out = g_string_new (s->species);

  g_string_append_printf (out, " hatched %d-%d basis %d moults %d sd %.4f conflicts %zu adult %d ahead %" G_GINT64_FORMAT
                               "/%" G_GINT64_FORMAT " count %" G_GINT64_FORMAT " offered %d misted %d since %d\n",
                          s->hatched_earliest, s->hatched_day, (int) s->basis, s->moults, s->moults_sd, s->conflicts.n,
                          s->adult, s->ahead.n, s->ahead.out, s->tally.count, s->last_offered, s->misted, s->lot_since);
  for (gsize i = 0; i < s->stages.n; i++)
    g_string_append_printf (out, "stage %d %.3f %.3f %d\n", (int) s->stages.v[i].start, s->stages.v[i].lo,
                            s->stages.v[i].hi, s->stages.v[i].outcome);
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (s->moults_p[m] > 0)
      g_string_append_printf (out, "%d: %.6f\n", m, s->moults_p[m]);
  return g_string_free (out, FALSE);
}

static char *
lives_of (const Trial *trial)
{
  g_autofree char *lot = life_of (trial->desk, trial->lot);
  g_autofree char *part = life_of (trial->desk, trial->part);
  g_autofree char *first = life_of (trial->desk, trial->singles->pdata[0]);
  g_autofree char *second = life_of (trial->desk, trial->singles->pdata[1]);
  g_autofree char *last = life_of (trial->desk, trial->of_part->pdata[0]);

  return g_strconcat ("lot: ", lot, "part: ", part, "single: ", first, "single: ", second, "of the part: ", last, NULL);
}

static void
test_any_order (Fixture *fixture, gconstpointer data)
{
  g_autofree char *in_order = NULL;
  g_autofree char *reopened = NULL;
  Trial trial;

  trial_run (&trial, fixture->desk, TRUE);
  in_order = lives_of (&trial);
  g_test_message ("%s", in_order);
  /* The lot moulted on 16 May as a whole, and 30 of it before the separation: perhaps these. */
  g_assert_nonnull (strstr (in_order, "single: Tenodera sinensis hatched 20581-20581 basis 1 moults 1"));
  g_assert_nonnull (strstr (in_order, "1: 0.500000\n2: 0.500000\n"));
  trial_clear (&trial);
  fixture_seed (G_GUINT64_CONSTANT (0x2545f4914f6cdd1d));
  for (int i = 0; i < 12; i++)
    {
      g_autofree char *shuffled = NULL;

      trial_run (&trial, fixture->desk, FALSE);
      shuffled = lives_of (&trial);
      g_assert_cmpstr (shuffled, ==, in_order);
      if (i < 11)
        trial_clear (&trial);
    }
  /* And when all is read again. */
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  trial.desk = fixture->desk;
  reopened = lives_of (&trial);
  g_assert_cmpstr (reopened, ==, in_order);
  trial_clear (&trial);
}

/* ---- told which had moulted ---- */

static void
test_told (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) lot = add_lot (desk, -24, "species=hierodula count=10 hatched=2026-05-08");
  g_autoptr (GPtrArray) made = NULL;
  g_autoptr (GPtrArray) late = NULL;
  g_autoptr (DeskSubject) now = NULL;
  g_autoptr (DeskSubject) part = NULL;
  g_autoptr (GError) error = NULL;

  fixture_record (desk, lot, "moulted", "n=4", -6);
  g_assert_null (separate (desk, lot, 5, 5, -5, &error));
  g_assert_error (error, DESK_ERROR, DESK_ERROR_VALUE);
  g_clear_error (&error);
  g_assert_null (separate (desk, lot, 8, 1, -5, &error)); /* seven that had not: there are six */
  g_assert_error (error, DESK_ERROR, DESK_ERROR_VALUE);
  g_clear_error (&error);
  made = separate (desk, lot, 3, 2, -5, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < 3; i++)
    {
      const CoreState *state = desk_subject_state (made->pdata[i]);

      g_assert_cmpint (state->moults, ==, i < 2 ? 1 : 0);
      g_assert_cmpfloat (state->moults_p[state->moults], ==, 1);
      g_assert_cmpuint (state->conflicts.n, ==, 0);
    }
  /* Two of the four are left, and nobody has to guess which. */
  now = fixture_now (desk, lot);
  g_assert_cmpint (desk_subject_state (now)->ahead.n, ==, 2);
  g_assert_cmpint (desk_subject_state (now)->ahead.out, ==, 0);
  part = split (desk, lot, 3, 1, -4);
  g_assert_cmpint (desk_subject_state (part)->ahead.n, ==, 1);
  g_assert_cmpint (desk_subject_state (part)->ahead.out, ==, 0);
  /* Put right later. */
  fixture_record (desk, made->pdata[2], "set", "key=ahead value=yes", -5);
  g_clear_pointer (&now, desk_subject_unref);
  now = fixture_now (desk, made->pdata[2]);
  g_assert_cmpint (desk_subject_state (now)->moults, ==, 1);
}

/* ---- its own word ---- */

/* What is entered of one alone, for its time in the lot, counts instead of the lot's. */
static void
test_own_word (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) lot = add_lot (desk, -24, "species=hierodula count=10 hatched=2026-05-08");
  g_autoptr (GPtrArray) made = NULL;
  g_autoptr (DeskSubject) now = NULL;
  g_autoptr (GError) error = NULL;

  fixture_record (desk, lot, "moulted", "", -8);
  made = separate (desk, lot, 1, -1, -4, &error);
  g_assert_no_error (error);
  fixture_record (desk, made->pdata[0], "moulted", "outcome=fell", -7);
  now = fixture_now (desk, made->pdata[0]);
  g_assert_cmpuint (desk_subject_state (now)->stages.n, ==, 2);
  g_assert_cmpfloat (desk_subject_state (now)->stages.v[1].hi, ==, fixture_day (-7));
  g_assert_cmpint (desk_subject_state (now)->stages.v[1].outcome, ==, CORE_MOULT_FELL);
  g_assert_cmpuint (desk_subject_state (now)->conflicts.n, ==, 0);
  /* After it left the lot it is a second moult, too near to the first. */
  error = fixture_try_record (desk, made->pdata[0], "moulted", "", -4);
  g_assert_error (error, DESK_ERROR, DESK_ERROR_REFUSED);
}

/* ---- journals that hold copies ---- */

static CoreEntry *
add (GPtrArray *entries, CoreKind kind, CoreId subject, CoreDay day, gboolean bulk)
{
  CoreEntry *entry = core_entry_new (kind);

  entry->subject = subject;
  entry->day = day;
  entry->bulk = bulk;
  g_ptr_array_add (entries, entry);
  return entry;
}

static void
add_set (GPtrArray *entries, CoreId subject, const char *key, const char *value)
{
  CoreEntry *entry = add (entries, CORE_KIND_SET, subject, fixture_day (-4), FALSE);

  core_entry_set_str (entry, CORE_KEY_KEY, key);
  core_entry_set_str (entry, CORE_KEY_VALUE, value);
}

/* A separation as versions before wrote it: hatch, moult and species as entries of the single. */
static CoreId
old_separation (Fixture *fixture, CoreId lot, CoreId *moult)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  StoreStamp stamp = { .now_ms = 1800000000000, .random = { 7, 7 } };
  StoreSubject subject = { .kind = CORE_SUBJECT_ANIMAL };
  StoreBatch batch = { .subjects = &subject, .n_subjects = 1, .expect_seq = -1 };
  CoreId ids[7];
  char id[37];
  Store *store;

  fixture_close (fixture->desk);
  store = store_open (fixture->dir, STORE_OPEN, &error);
  g_assert_no_error (error);
  g_assert_true (store_make_ids (store, &stamp, ids, G_N_ELEMENTS (ids), &error));
  subject.id = ids[0];
  core_entry_set_num (add (entries, CORE_KIND_SPLIT, lot, fixture_day (-4), FALSE), CORE_KEY_N, 1);
  add (entries, CORE_KIND_HATCHED, subject.id, fixture_day (-24), TRUE);
  add (entries, CORE_KIND_MOULTED, subject.id, fixture_day (-11), TRUE);
  core_id_to_text (lot, id);
  add_set (entries, subject.id, "species", "Hierodula membranacea");
  add_set (entries, subject.id, "lot", id);
  add_set (entries, subject.id, "number", "7");
  for (guint i = 0; i < entries->len; i++)
    ((CoreEntry *) entries->pdata[i])->id = ids[i + 1];
  *moult = ids[3];
  batch.entries = (CoreEntry **) entries->pdata;
  batch.n_entries = entries->len;
  g_assert_true (store_append (store, &batch, &stamp, NULL, &error));
  g_assert_no_error (error);
  store_close (store);
  fixture->desk = fixture_open (fixture, DESK_OPEN_LAZY);
  return subject.id;
}

/* Of its history: the kinds that are live, with the day of each. */
static char *
history_of (Desk *desk, CoreId id)
{
  g_autoptr (GPtrArray) history = desk_history (desk, id, NULL);
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < history->len; i++)
    {
      const CoreEntry *entry = history->pdata[i];

      if (desk_entry_is_live (desk, entry->id) && (entry->kind == CORE_KIND_HATCHED || entry->kind == CORE_KIND_MOULTED))
        g_string_append_printf (out, "%s %d %s;", core_kind_info (entry->kind)->name, entry->day - fixture_day (0),
                                core_id_equal (entry->subject, id) ? "own" : "lot");
    }
  return g_string_free (out, FALSE);
}

static void
test_copies (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) lot = add_lot (fixture->desk, -24, "species=hierodula count=10 hatched=2026-05-08");
  CoreId moult = fixture_record (fixture->desk, lot, "moulted", "", -12);
  CoreId copy, id = old_separation (fixture, desk_subject_id (lot), &copy);
  g_autoptr (DeskSubject) single = desk_get (fixture->desk, id);
  g_autofree char *before = history_of (fixture->desk, id);
  g_autofree char *moved = NULL;
  g_autofree char *after = NULL;

  g_assert_cmpint (desk_subject_state (single)->moults, ==, 1);
  g_assert_cmpuint (desk_subject_state (single)->conflicts.n, ==, 0);
  g_assert_cmpstr (before, ==, "moulted -12 lot;hatched -24 lot;");
  /* The lot's word is the single's. */
  fixture_correct (fixture->desk, moult, "day=2026-05-18");
  moved = history_of (fixture->desk, id);
  g_assert_cmpstr (moved, ==, "moulted -14 lot;hatched -24 lot;");
  fixture_void (fixture->desk, desk_subject_state (single)->hatched_entry);
  g_clear_pointer (&single, desk_subject_unref);
  single = desk_get (fixture->desk, id);
  g_assert_false (desk_subject_state (single)->hatched);
  /* Until a copy is changed: then what the single says of that kind is what counts. */
  fixture_correct (fixture->desk, copy, "day=2026-05-20");
  after = history_of (fixture->desk, id);
  g_assert_cmpstr (after, ==, "moulted -12 own;");
  g_clear_pointer (&single, desk_subject_unref);
  single = desk_get (fixture->desk, id);
  g_assert_cmpuint (desk_subject_state (single)->conflicts.n, ==, 0);
}

/* ---- out of two lots that became one ---- */

static void
join (Desk *desk, DeskSubject *into, DeskSubject *from, int day)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  desk_join_async (desk, desk_subject_id (into), desk_subject_id (from), fixture_day (day), desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_join_finish (desk, result, &error));
  g_assert_no_error (error);
}

static DeskSubject *
one_of (Desk *desk, DeskSubject *lot, int day)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) made = separate (desk, lot, 1, -1, day, &error);

  g_assert_no_error (error);
  return desk_subject_ref (made->pdata[0]);
}

static void
assert_mixed (Desk *desk, DeskSubject *of, int lower, double share)
{
  g_autoptr (DeskSubject) now = fixture_now (desk, of);
  const CoreState *state = desk_subject_state (now);

  g_assert_cmpfloat_with_epsilon (state->moults_p[lower], share, 1e-4);
  g_assert_cmpfloat_with_epsilon (state->moults_p[lower + 1], 1 - share, 1e-4);
  if (share < 1)
    g_assert_cmpint (state->basis, ==, CORE_BASIS_ESTIMATED);
  g_assert_cmpuint (state->conflicts.n, ==, 0);
}

/* Nobody knows of which of the two it is, until it is told. */
static void
test_joined (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) small = add_lot (desk, -24, "species=hierodula count=25 hatched=2026-05-08");
  g_autoptr (DeskSubject) large = add_lot (desk, -5, "species=hierodula count=75 acquired=2026-05-27 moults=1");
  g_autoptr (DeskSubject) before = one_of (desk, small, -6);
  g_autoptr (DeskSubject) mixed = NULL;
  g_autoptr (DeskSubject) told_low = NULL;
  g_autoptr (DeskSubject) told_high = NULL;
  g_autoptr (DeskSubject) part = NULL;
  g_autoptr (DeskSubject) of_part = NULL;

  join (desk, small, large, -4);
  mixed = one_of (desk, small, -4);
  told_low = one_of (desk, small, -4);
  told_high = one_of (desk, small, -4);
  part = split (desk, small, 10, -1, -3);
  of_part = one_of (desk, part, -2);
  assert_mixed (desk, small, 0, 24 / 99.);
  assert_mixed (desk, mixed, 0, 24 / 99.);
  assert_mixed (desk, part, 0, 24 / 99.);
  assert_mixed (desk, of_part, 0, 24 / 99.);
  assert_mixed (desk, before, 0, 1);
  /* The keeper's own word counts, also of the very day. */
  fixture_record (desk, told_low, "stage", "seen=nymph moults=0", -4);
  fixture_record (desk, told_high, "stage", "seen=nymph moults=1", -4);
  {
    g_autoptr (DeskSubject) low = fixture_now (desk, told_low);
    g_autoptr (DeskSubject) high = fixture_now (desk, told_high);

    g_assert_cmpfloat (desk_subject_state (low)->moults_p[0], >, .9);
    g_assert_cmpfloat (desk_subject_state (high)->moults_p[1], >, .85);
  }
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  assert_mixed (fixture->desk, mixed, 0, 24 / 99.);
  assert_mixed (fixture->desk, of_part, 0, 24 / 99.);
}

#define HEIR_TEST(path, func)                                                                      \
  g_test_add (path, Fixture, NULL, fixture_set_up, func, fixture_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  HEIR_TEST ("/desk/heirs/any-order", test_any_order);
  HEIR_TEST ("/desk/heirs/told", test_told);
  HEIR_TEST ("/desk/heirs/own-word", test_own_word);
  HEIR_TEST ("/desk/heirs/copies", test_copies);
  HEIR_TEST ("/desk/heirs/joined", test_joined);
  return g_test_run ();
}
