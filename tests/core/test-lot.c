/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-lot.c — the tally of a lot, egg cases, what a female laid, cultures. */
#include "journal.h"

#include <math.h>
#include <string.h>

#include "core/core-lot.h"

#define MAX_LINES 8
#define OTHER_LOT "01900000-0000-7000-8000-00000000beef"

typedef struct
{
  const char *name;
  const char *lines[MAX_LINES]; /* "DAY text", in the order of writing */
  /* count, dead, left, escaped, lost, more, separated, split off, joined in, missing */
  int64_t want[10];
  gboolean counted;
  CoreEnd end;
} TallyRow;

static const TallyRow tallies[] = {
  { "counted", { "100 recounted|n=140" }, { 140 }, TRUE, CORE_END_NONE },
  { "about", { "100 recounted|n=120|counted=no" }, { 120 }, FALSE, CORE_END_NONE },
  { "an estimate less some dead is still about",
    { "100 recounted|n=120|counted=no", "103 died|n=3" },
    { 117, 3 },
    FALSE,
    CORE_END_NONE },
  { "96 now: the rest lost unseen, neither dead nor an error",
    { "100 recounted|n=140", "103 died|n=4", "110 recounted|n=96" },
    { 96, 4, 0, 0, 40 },
    TRUE,
    CORE_END_NONE },
  { "a recount makes an estimate exact",
    { "100 recounted|n=120|counted=no", "110 recounted|n=96" },
    { 96, 0, 0, 0, 24 },
    TRUE,
    CORE_END_NONE },
  { "more than there should be",
    { "100 recounted|n=96", "110 recounted|n=99" },
    { 99, 0, 0, 0, 0, 3 },
    TRUE,
    CORE_END_NONE },
  { "missed at one count, there at the next",
    { "100 recounted|n=96", "105 recounted|n=90", "110 recounted|n=94" },
    { 94, 0, 0, 0, 2 },
    TRUE,
    CORE_END_NONE },
  { "sold, escaped, some found and some back",
    { "100 recounted|n=50", "101 left|n=10|how=lent", "102 escaped|n=5", "103 found|n=2",
      "104 back|n=4" },
    { 41, 0, 6, 3 },
    TRUE,
    CORE_END_NONE },
  { "counted and taken out on one day: as written",
    { "100 recounted|n=120|counted=no", "110 recounted|n=96", "110 split|n=90" },
    { 6, 0, 0, 0, 24, 0, 90 },
    TRUE,
    CORE_END_NONE },
  { "taken out and then counted on one day: as written",
    { "100 recounted|n=120", "110 died|n=3", "110 recounted|n=100" },
    { 100, 3, 0, 0, 17 },
    TRUE,
    CORE_END_NONE },
  { "entered late: what was lost unseen was dead",
    { "100 recounted|n=120", "110 recounted|n=100", "105 died|n=15" },
    { 100, 15, 0, 0, 5 },
    TRUE,
    CORE_END_NONE },
  { "dead before the first count",
    { "100 died|n=6", "101 recounted|n=90" },
    { 90, 6 },
    TRUE,
    CORE_END_NONE },
  { "split and joined",
    { "100 recounted|n=50", "101 split|n=20|with=" OTHER_LOT, "102 joined|n=7|with=" OTHER_LOT },
    { 37, 0, 0, 0, 0, 0, 0, 20, 7 },
    TRUE,
    CORE_END_NONE },
  { "joined by an estimate: about",
    { "100 recounted|n=50", "102 joined|n=7|counted=no|with=" OTHER_LOT },
    { 57, 0, 0, 0, 0, 0, 0, 0, 7 },
    FALSE,
    CORE_END_NONE },
  { "all of it into another",
    { "100 recounted|n=50", "102 split|with=" OTHER_LOT },
    { 0, 0, 0, 0, 0, 0, 0, 50 },
    TRUE,
    CORE_END_JOINED },
  { "the last one dead: none left",
    { "100 recounted|n=2", "102 died|n=1", "103 died|n=1" },
    { 0, 2 },
    TRUE,
    CORE_END_EMPTY },
  { "about none is not none",
    { "100 recounted|n=2|counted=no", "102 died|n=2" },
    { 0, 2 },
    FALSE,
    CORE_END_NONE },
  { "none left, and yet some found",
    { "100 recounted|n=2", "102 died|n=2", "103 recounted|n=1" },
    { 1, 2, 0, 0, 0, 1 },
    TRUE,
    CORE_END_NONE },
  { "all dead", { "100 recounted|n=9", "102 died" }, { 0, 9 }, TRUE, CORE_END_DIED },
  { "all lent and back",
    { "100 recounted|n=9", "102 left|how=lent", "104 back" },
    { 9 },
    TRUE,
    CORE_END_NONE },
  { "all escaped, then found dead",
    { "100 recounted|n=9", "102 escaped", "104 died" },
    { 0, 9 },
    TRUE,
    CORE_END_DIED },
  { "a merge takes out more than there were",
    { "100 recounted|n=96", "102 split|n=60", "102 split|n=60" },
    { 0, 0, 0, 0, 0, 0, 120, 0, 0, 24 },
    TRUE,
    CORE_END_EMPTY },
  { "more than an estimate: it was too low",
    { "100 recounted|n=90|counted=no", "102 split|n=96" },
    { 0, 0, 0, 0, 0, 6, 96 },
    FALSE,
    CORE_END_NONE },
};

static void
add_line (Journal *journal, const char *line)
{
  journal_add (journal, (CoreDay) g_ascii_strtoll (line, NULL, 10), strchr (line, ' ') + 1);
}

/* Every animal is somewhere. */
static void
assert_balance (const CoreTally *t)
{
  g_assert_cmpint (t->count, >=, 0);
  g_assert_cmpint (t->began + t->joined_in + t->found_more + t->missing, ==,
                   t->count + t->dead + t->left + t->escaped + t->lost_unseen + t->separated +
                     t->split_off);
}

static void
test_tally (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (tallies); i++)
    {
      const TallyRow *row = &tallies[i];
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;
      const CoreTally *t = &state.tally;

      g_test_message ("%s", row->name);
      core_state_init (&state);
      for (int k = 0; k < MAX_LINES && row->lines[k] != NULL; k++)
        add_line (journal, row->lines[k]);
      journal_fold (journal, CORE_SUBJECT_LOT, &state);
      assert_balance (t);
      g_assert_true (t->known);
      g_assert_cmpint (t->count, ==, row->want[0]);
      g_assert_cmpint (t->dead, ==, row->want[1]);
      g_assert_cmpint (t->left, ==, row->want[2]);
      g_assert_cmpint (t->escaped, ==, row->want[3]);
      g_assert_cmpint (t->lost_unseen, ==, row->want[4]);
      g_assert_cmpint (t->found_more, ==, row->want[5]);
      g_assert_cmpint (t->separated, ==, row->want[6]);
      g_assert_cmpint (t->split_off, ==, row->want[7]);
      g_assert_cmpint (t->joined_in, ==, row->want[8]);
      g_assert_cmpint (t->missing, ==, row->want[9]);
      g_assert_cmpint (t->counted, ==, row->counted);
      g_assert_cmpint (state.end, ==, row->end);
      g_assert_cmpuint (state.conflicts.n, ==, row->want[9] > 0 ? 1 : 0);
      core_state_clear (&state);
    }
}

/* ---- some of it moulted ---- */

static const struct
{
  const char *name;
  const char *lines[MAX_LINES];
  int moults;
  int64_t least, most; /* a moult ahead of the others */
  double lo, hi;       /* of the present stage */
} parted[] = {
  { "none", { "100 hatched", "100 recounted|n=17" }, 0, 0, 0, 99, 100 },
  { "five of seventeen", { "100 hatched", "100 recounted|n=17", "110 moulted|n=5" }, 0, 5, 5, 99, 100 },
  { "some taken out since, nobody said of which",
    { "100 hatched", "100 recounted|n=17", "110 moulted|n=5", "111 split|n=3" }, 0, 2, 5, 99, 100 },
  { "no more than there are", { "100 hatched", "100 recounted|n=17", "110 moulted|n=5", "111 died|n=14" }, 0, 0, 3, 99,
    100 },
  { "the last of them: the lot has moulted, since the first did",
    { "100 hatched", "100 recounted|n=17", "110 moulted|n=5", "113 moulted|n=12" }, 1, 0, 0, 109, 113 },
  { "also when counted after it", { "100 hatched", "110 moulted|n=5", "113 moulted|n=12", "113 recounted|n=17" }, 1, 0, 0,
    109, 113 },
  { "of all but one that died too: whichever it was",
    { "100 hatched", "100 recounted|n=17", "110 moulted|n=5", "111 died|n=1", "113 moulted|n=12" }, 1, 0, 0, 109, 113 },
  { "one more than all: it moulted twice",
    { "100 hatched", "100 recounted|n=3", "110 moulted|n=2", "120 moulted|n=2" }, 1, 1, 1, 109, 120 },
  { "of an estimate nobody knows when it is all of it",
    { "100 hatched", "100 recounted|n=17|counted=no", "110 moulted|n=17" }, 0, 17, 17, 99, 100 },
  { "all at once ends it", { "100 hatched", "100 recounted|n=17", "110 moulted|n=5", "113 moulted" }, 1, 0, 0, 109, 113 },
  { "a stage that is said ends it",
    { "100 hatched", "100 recounted|n=17", "110 moulted|n=5", "113 stage|seen=nymph|moults=1" }, 1, 0, 0, 99, 113 },
};

static void
test_parted (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (parted); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      const CoreStage *now;
      int64_t least, most;
      CoreState state;

      g_test_message ("%s", parted[i].name);
      core_state_init (&state);
      for (int k = 0; k < MAX_LINES && parted[i].lines[k] != NULL; k++)
        add_line (journal, parted[i].lines[k]);
      journal_fold (journal, CORE_SUBJECT_LOT, &state);
      core_lot_ahead (&state, &least, &most);
      g_assert_cmpint (state.moults, ==, parted[i].moults);
      g_assert_cmpint (least, ==, parted[i].least);
      g_assert_cmpint (most, ==, parted[i].most);
      now = core_state_stage_now (&state);
      g_assert_cmpfloat (now->lo, ==, parted[i].lo);
      g_assert_cmpfloat (now->hi, ==, parted[i].hi);
      core_state_clear (&state);
    }
}

/* A single that was taken out of a lot of which some had moulted: L1 or L2, nobody knows. */
static void
test_perhaps_moulted (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "hatched")->bulk = true;
  journal_add (journal, 110, "moulted|n=5")->bulk = true;
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (state.basis, ==, CORE_BASIS_ESTIMATED);
  g_assert_cmpfloat (state.moults_p[0], ==, .5);
  g_assert_cmpfloat (state.moults_p[1], ==, .5);
  g_assert_cmpuint (state.moult_days.n, ==, 0);
  core_state_clear (&state);
}

/* ---- random journals of a lot ---- */

static const char *const pool[] = {
  "hatched",
  "recounted|n=140",
  "recounted|n=60",
  "recounted|n=90|counted=no",
  "died|n=3",
  "died|n=40",
  "left|n=12",
  "left|n=2|how=lent",
  "escaped|n=4",
  "found|n=2",
  "back|n=3",
  "split|n=7",
  "split|n=30|with=" OTHER_LOT,
  "joined|n=25|with=" OTHER_LOT,
  "joined|n=10|counted=no|with=" OTHER_LOT,
  "joined|with=" OTHER_LOT,
  "split|with=" OTHER_LOT,
  "died",
  "left",
  "back",
  "escaped",
  "found",
  "fed|prey=melanogaster",
  "moulted",
  "moulted|n=9",
  "looked",
};

#define ROUNDS 300
#define LENGTH 30

static Journal *
random_lot (unsigned seed)
{
  Journal *journal = journal_new ();

  journal_seed (seed + 7);
  for (int i = 0; i < LENGTH; i++)
    {
      CoreDay day = 20000 + (CoreDay) journal_draw (25);
      CoreEntry *entry;

      if (journal_draw (9) == 0)
        {
          journal_add (journal, day, "void")->names = test_id (1000 + journal_draw ((unsigned) i + 1));
          continue;
        }
      /* What ends all of it is rare. */
      entry = journal_add (journal, day, pool[journal_draw (journal_draw (6) == 0 ? G_N_ELEMENTS (pool) : 16)]);
      if (journal_draw (5) == 0)
        entry->minute = (int16_t) journal_draw (1440);
      if (journal_draw (12) == 0)
        entry->names = test_id (1000 + journal_draw ((unsigned) i + 1));
    }
  return journal;
}

static void
shuffle (CoreEntry **entries, size_t n)
{
  for (size_t i = n; i > 1; i--)
    {
      size_t k = journal_draw ((unsigned) i);
      CoreEntry *kept = entries[i - 1];

      entries[i - 1] = entries[k];
      entries[k] = kept;
    }
}

/* Any order of arrival, also of two copies that are merged: the same tally, never negative,
 * and every animal is somewhere. */
static void
test_any_order (void)
{
  unsigned conflicts = 0, ended = 0, about = 0;

  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = random_lot (seed);
      size_t n = journal->entries->len;
      g_autofree CoreEntry **mixed = g_memdup2 (journal->entries->pdata, n * sizeof *mixed);
      CoreState whole, other;

      core_state_init (&whole);
      core_state_init (&other);
      journal_fold (journal, CORE_SUBJECT_LOT, &whole);
      assert_balance (&whole.tally);
      for (size_t i = 0; i < whole.steps.n; i++)
        g_assert_cmpint (whole.steps.v[i].count, >=, 0);
      for (size_t i = 0; i < whole.conflicts.n; i++)
        conflicts += whole.conflicts.v[i].kind == CORE_CONFLICT_TALLY;
      ended += whole.end != CORE_END_NONE;
      about += whole.tally.known && !whole.tally.counted;
      for (int i = 0; i < 3; i++)
        {
          shuffle (mixed, n);
          fold_live (mixed, n, journal->subject, CORE_SUBJECT_LOT, &other);
          g_assert_true (core_state_equal (&whole, &other));
        }
      core_state_clear (&whole);
      core_state_clear (&other);
    }
  /* The draws reach all of it. */
  g_assert_cmpuint (conflicts, >, 20);
  g_assert_cmpuint (ended, >, 20);
  g_assert_cmpuint (about, >, 20);
}

/* The order is total also where the tally has a standing of its own. */
static void
test_order (void)
{
  for (unsigned seed = 0; seed < 6; seed++)
    {
      g_autoptr (Journal) journal = random_lot (seed);
      const CoreEntry *const *v = (const CoreEntry *const *) journal->entries->pdata;
      size_t n = journal->entries->len;

      for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++)
          {
            g_assert_cmpint (core_entry_compare (v[i], v[k]), ==, -core_entry_compare (v[k], v[i]));
            for (size_t m = 0; m < n; m++)
              if (core_entry_compare (v[i], v[k]) < 0 && core_entry_compare (v[k], v[m]) < 0)
                g_assert_cmpint (core_entry_compare (v[i], v[m]), ==, -1);
          }
    }
}

/* Taking one entry back gives the tally without it; taking that back restores it. */
static void
test_undo (void)
{
  static const char *const last[] = { "recounted|n=77", "died|n=5", "split|n=9", "joined|n=4" };

  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = random_lot (seed);
      uint64_t fresh = journal->next;
      CoreState without, with, state;

      core_state_init (&without);
      core_state_init (&with);
      core_state_init (&state);
      journal_fold (journal, CORE_SUBJECT_LOT, &without);
      journal_add (journal, 20010 + (CoreDay) journal_draw (10), last[seed % G_N_ELEMENTS (last)]);
      journal_fold (journal, CORE_SUBJECT_LOT, &with);
      for (uint64_t i = 0; i < 4; i++)
        {
          journal_add (journal, 20100, "void")->names = test_id (fresh + i);
          journal_fold (journal, CORE_SUBJECT_LOT, &state);
          g_assert_true (core_state_equal (&state, i % 2 == 0 ? &without : &with));
        }
      core_state_clear (&without);
      core_state_clear (&with);
      core_state_clear (&state);
    }
}

/* ---- what may be entered ---- */

typedef struct
{
  const char *name;
  const char *past[MAX_LINES];
  const char *entry;
  CoreRefusal refusal;
} CheckRow;

static const CheckRow checks[] = {
  { "all that there are", { "100 recounted|n=9" }, "105 died|n=9", CORE_REFUSE_NOTHING },
  { "one more than there are",
    { "100 recounted|n=9" },
    "105 died|n=10",
    CORE_REFUSE_MORE_THAN_COUNT },
  { "more than about",
    { "100 recounted|n=9|counted=no" },
    "105 split|n=10",
    CORE_REFUSE_MORE_THAN_COUNT },
  { "no count known", { "100 hatched" }, "105 died|n=10", CORE_REFUSE_NOTHING },
  { "before the first count", { "104 recounted|n=9" }, "103 died|n=10", CORE_REFUSE_NOTHING },
  { "late, and those after it would lack",
    { "100 recounted|n=9", "110 left|n=6" },
    "105 died|n=4",
    CORE_REFUSE_MORE_THAN_COUNT },
  { "late, before a recount",
    { "100 recounted|n=9", "107 recounted|n=9", "110 left|n=6" },
    "105 died|n=4",
    CORE_REFUSE_NOTHING },
  { "found without an escape", { "100 recounted|n=9" }, "105 found|n=1", CORE_REFUSE_NOT_ENDED },
  { "found", { "100 recounted|n=9", "101 escaped|n=2" }, "105 found|n=2", CORE_REFUSE_NOTHING },
  { "more found than escaped",
    { "100 recounted|n=9", "101 escaped|n=2" },
    "105 found|n=3",
    CORE_REFUSE_NOT_ENDED },
  { "sold and back", { "100 recounted|n=9", "101 left|n=2" }, "105 back|n=2", CORE_REFUSE_NOTHING },
  { "fed when none is left",
    { "100 recounted|n=2", "101 died|n=2" },
    "105 fed|prey=hydei",
    CORE_REFUSE_AFTER_END },
  { "counted when none was left",
    { "100 recounted|n=2", "101 died|n=2" },
    "105 recounted|n=1",
    CORE_REFUSE_NOTHING },
  { "dead when none is left",
    { "100 recounted|n=2", "101 died|n=2" },
    "105 died|n=1",
    CORE_REFUSE_MORE_THAN_COUNT },
  { "one body, and not said how many", { "100 recounted|n=9" }, "105 died", CORE_REFUSE_HOW_MANY },
  { "escaped, and not said how many", { "100 recounted|n=9" }, "105 escaped", CORE_REFUSE_HOW_MANY },
  { "all sold", { "100 recounted|n=9" }, "105 left", CORE_REFUSE_NOTHING },
  { "the only one died", { "100 recounted|n=9", "101 died|n=8" }, "105 died", CORE_REFUSE_NOTHING },
  { "died, of a lot never counted", { "100 hatched" }, "105 died", CORE_REFUSE_NOTHING },
  { "what had escaped died",
    { "100 recounted|n=9", "101 escaped" },
    "105 died",
    CORE_REFUSE_NOTHING },
  { "all moulted, one by one", { "100 recounted|n=9" }, "105 moulted|n=9", CORE_REFUSE_NOTHING },
  { "more moulted than there are",
    { "100 recounted|n=9" },
    "105 moulted|n=10",
    CORE_REFUSE_MORE_THAN_COUNT },
  { "moulted before some died",
    { "100 recounted|n=9", "107 died|n=5" },
    "105 moulted|n=9",
    CORE_REFUSE_NOTHING },
  { "as many as moulted that day",
    { "100 recounted|n=9", "105 moulted|n=3" },
    "105 moulted|n=3",
    CORE_REFUSE_MOULT_OTHERS },
  { "as many others",
    { "100 recounted|n=9", "105 moulted|n=3" },
    "105 moulted|n=3|sure=yes",
    CORE_REFUSE_NOTHING },
  { "others the day after",
    { "100 recounted|n=9", "105 moulted|n=3" },
    "106 moulted|n=3",
    CORE_REFUSE_NOTHING },
  { "some of them a second time",
    { "100 recounted|n=9", "105 moulted|n=5" },
    "107 moulted|n=6",
    CORE_REFUSE_MOULT_SOON },
  { "some of them a second time, later",
    { "100 recounted|n=9", "105 moulted|n=5" },
    "112 moulted|n=6",
    CORE_REFUSE_NOTHING },
  { "all of it twice", { "100 recounted|n=9", "105 moulted" }, "106 moulted", CORE_REFUSE_MOULT_SOON },
  { "all of it, two stages on", { "100 recounted|n=9", "105 moulted" }, "115 moulted", CORE_REFUSE_NOTHING },
  { "counted after it went into another",
    { "100 recounted|n=2", "101 split|with=" OTHER_LOT },
    "105 recounted|n=1",
    CORE_REFUSE_AFTER_END },
};

static void
test_checks (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (checks); i++)
    {
      const CheckRow *row = &checks[i];
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      g_test_message ("%s", row->name);
      core_state_init (&state);
      for (int k = 0; k < MAX_LINES && row->past[k] != NULL; k++)
        add_line (journal, row->past[k]);
      journal_fold (journal, CORE_SUBJECT_LOT, &state);
      add_line (journal, row->entry);
      g_assert_cmpint (
        core_check (&state, g_ptr_array_index (journal->entries, journal->entries->len - 1), 200),
        ==, row->refusal);
      core_state_clear (&state);
    }
}

/* Nothing that passes the check makes the count negative, on whatever day it is entered. */
static void
test_checked_never_negative (void)
{
  unsigned refused = 0, passed = 0;

  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      journal_seed (seed + 3);
      core_state_init (&state);
      journal_add (journal, 20000, "recounted|n=60");
      for (int i = 0; i < LENGTH; i++)
        {
          CoreEntry *entry;

          journal_fold (journal, CORE_SUBJECT_LOT, &state);
          g_assert_cmpint (state.tally.missing, ==, 0);
          entry = journal_add (journal, 20000 + (CoreDay) journal_draw (12), pool[1 + journal_draw (14)]);
          if (core_check (&state, entry, 20100) == CORE_REFUSE_NOTHING)
            {
              passed++;
              continue;
            }
          refused++;
          g_ptr_array_remove_index (journal->entries, journal->entries->len - 1);
        }
      core_state_clear (&state);
    }
  g_assert_cmpuint (refused, >, 500);
  g_assert_cmpuint (passed, >, 500);
}

/* ---- one of a lot ---- */

static void
test_moult_of_the_lot (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  journal_add (journal, 110, "moulted|bulk");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (state.moults, ==, 1);
  g_assert_cmpint (state.basis, ==, CORE_BASIS_ESTIMATED);
  g_assert_true (state.stages.v[1].of_lot);
  g_assert_cmpuint (state.looks.n, ==, 0);
  /* Of the lot itself it was seen. */
  journal_fold (journal, CORE_SUBJECT_LOT, &state);
  g_assert_cmpint (state.basis, ==, CORE_BASIS_COUNTED);
  journal_add (journal, 112, "stage|seen=nymph|moults=1");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (state.basis, ==, CORE_BASIS_COUNTED);
  core_state_clear (&state);
}

static void
test_spread (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  journal_add (journal, 110, "moulted");
  journal_add (journal, 130, "moulted");
  journal_fold (journal, CORE_SUBJECT_LOT, &state);
  /* .215 of 10 and of 20 days, rounded up. */
  g_assert_cmpint (core_lot_moult_spread (&state, 1), ==, 3);
  g_assert_cmpint (core_lot_moult_spread (&state, 2), ==, 5);
  g_assert_cmpint (core_lot_moult_spread (&state, 0), ==, 3);
  core_state_clear (&state);
}

/* ---- egg cases ---- */

static void
test_egg_case (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "laid|earliest=97");
  journal_add (journal, 104, "hardened");
  journal_add (journal, 140, "hatching|n=40");
  journal_add (journal, 141, "hatching|n=60|counted=no");
  journal_add (journal, 142, "split|n=95|with=" OTHER_LOT);
  journal_fold (journal, CORE_SUBJECT_EGGCASE, &state);
  g_assert_cmpint (state.egg.laid_earliest, ==, 97);
  g_assert_cmpint (state.egg.laid_day, ==, 100);
  g_assert_cmpint (state.egg.hardened, ==, 104);
  g_assert_cmpint (state.egg.hatched, ==, 100);
  g_assert_true (state.egg.hatched_about);
  g_assert_cmpint (state.egg.in_lots, ==, 95);
  g_assert_cmpuint (state.egg.hatchings.n, ==, 2);
  g_assert_cmpint (state.end, ==, CORE_END_NONE);
  g_assert_cmpuint (state.conflicts.n, ==, 0);
  journal_add (journal, 150, "hatching|over=yes");
  journal_fold (journal, CORE_SUBJECT_EGGCASE, &state);
  g_assert_cmpint (state.end, ==, CORE_END_HATCHED);
  core_state_clear (&state);
}

static void
test_egg_case_conflicts (void)
{
  static const struct
  {
    const char *lines[4];
    CoreEnd end;
    CoreConflictKind conflict;
    gboolean any;
  } rows[] = {
    { { "100 laid", "120 dud|sure=no" }, CORE_END_DUD, 0, FALSE },
    { { "100 laid", "120 dud", "125 hatching|n=4" }, CORE_END_DUD, CORE_CONFLICT_AFTER_END, TRUE },
    { { "100 laid", "90 hatching|n=4" }, CORE_END_NONE, CORE_CONFLICT_BEFORE_LAID, TRUE },
    { { "100 laid", "102 laid" }, CORE_END_NONE, CORE_CONFLICT_TWO_LAYINGS, TRUE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      core_state_init (&state);
      for (int k = 0; rows[i].lines[k] != NULL; k++)
        add_line (journal, rows[i].lines[k]);
      journal_fold (journal, CORE_SUBJECT_EGGCASE, &state);
      g_assert_cmpint (state.end, ==, rows[i].end);
      g_assert_cmpuint (state.conflicts.n, ==, rows[i].any ? 1 : 0);
      if (rows[i].any)
        g_assert_cmpint (state.conflicts.v[0].kind, ==, rows[i].conflict);
      g_assert_cmpint (state.egg.laid_day, ==, 100);
      core_state_clear (&state);
    }
}

/* One moult that two copies of a journal found is one, and told; said to be sure it is another. */
static void
test_found_by_two (void)
{
  static const struct
  {
    const char *lines[4];
    guint conflicts;
    int moults;
    int64_t ahead;
  } rows[] = {
    { { "100 hatched", "100 recounted|n=10", "110 moulted", "112 moulted" }, 1, 1, 0 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted", "110 moulted|outcome=fell" }, 1, 1, 0 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted", "112 moulted|sure=yes" }, 0, 2, 0 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted", "120 moulted" }, 0, 2, 0 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted|n=4", "110 moulted|n=4" }, 1, 0, 4 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted|n=4", "110 moulted|n=4|sure=yes" }, 0, 0, 8 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted|n=6", "111 moulted|n=7" }, 1, 0, 7 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted|n=4", "111 moulted" }, 0, 1, 0 },
    { { "100 hatched", "100 recounted|n=10", "110 moulted|n=4", "111 moulted|n=6" }, 0, 1, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      core_state_init (&state);
      for (int k = 0; k < 4; k++)
        add_line (journal, rows[i].lines[k]);
      journal_fold (journal, CORE_SUBJECT_LOT, &state);
      g_test_message ("row %zu", i);
      g_assert_cmpuint (state.conflicts.n, ==, rows[i].conflicts);
      if (rows[i].conflicts > 0)
        g_assert_cmpint (state.conflicts.v[0].kind, ==, CORE_CONFLICT_TWO_MOULTS);
      g_assert_cmpint (state.moults, ==, rows[i].moults);
      g_assert_cmpint (state.ahead.n, ==, rows[i].ahead);
      core_state_clear (&state);
    }
}

static void
test_laid_by_her (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;
  CoreEntry *laid;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  for (int i = 1; i <= 7; i++)
    journal_add (journal, 100 + 10 * i, "moulted");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  laid = journal_add (journal, 190, "laid|n=1|with=" OTHER_LOT);
  g_assert_cmpint (core_check (&state, laid, 200), ==, CORE_REFUSE_NOT_ADULT);
  journal_add (journal, 180, "stage|seen=adult");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (core_check (&state, laid, 200), ==, CORE_REFUSE_NOTHING);
  g_assert_cmpuint (state.layings.n, ==, 1);
  g_assert_cmpint (state.layings.v[0].series, ==, 1);
  g_assert_cmpuint (state.sex.n, ==, 1);
  g_assert_cmpint (state.sex.v[0].sex, ==, CORE_SEX_FEMALE);
  journal_add (journal, 195, "sexed|sex=male|method=joined");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpuint (state.conflicts.n, ==, 1);
  g_assert_cmpint (state.conflicts.v[0].kind, ==, CORE_CONFLICT_SEX_SETTLED_TWICE);
  core_state_clear (&state);
}

static void
test_culture (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "culture|prey=hydei");
  journal_fold (journal, CORE_SUBJECT_CULTURE, &state);
  g_assert_cmpint (state.culture.prey, ==, CORE_PREY_HYDEI);
  g_assert_cmpint (state.culture.started, ==, 100);
  core_state_clear (&state);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/lot/tally", test_tally);
  g_test_add_func ("/core/lot/parted", test_parted);
  g_test_add_func ("/core/lot/perhaps-moulted", test_perhaps_moulted);
  g_test_add_func ("/core/lot/any-order", test_any_order);
  g_test_add_func ("/core/lot/order", test_order);
  g_test_add_func ("/core/lot/undo", test_undo);
  g_test_add_func ("/core/lot/checks", test_checks);
  g_test_add_func ("/core/lot/checked-never-negative", test_checked_never_negative);
  g_test_add_func ("/core/lot/moult-of-the-lot", test_moult_of_the_lot);
  g_test_add_func ("/core/lot/spread", test_spread);
  g_test_add_func ("/core/egg/case", test_egg_case);
  g_test_add_func ("/core/egg/conflicts", test_egg_case_conflicts);
  g_test_add_func ("/core/egg/laid-by-her", test_laid_by_her);
  g_test_add_func ("/core/culture", test_culture);
  g_test_add_func ("/core/lot/found-by-two", test_found_by_two);
  return g_test_run ();
}
