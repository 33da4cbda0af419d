/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-live.c — voids and replacements, and what the desk refuses. */
#include "journal.h"

#include <string.h>

#define MAX_STEPS 8

typedef struct
{
  const char *name;
  const char *lines[MAX_STEPS]; /* ids 1000, 1001, … */
  const char *live;             /* one digit each */
  const char *conflicts;        /* kind: r = two replacements, v = one voided too, m = names missing */
} LiveRow;

static const LiveRow rows[] = {
  { "nothing named", { "looked", "gone" }, "11", "" },
  { "undo", { "looked", "void|names=1000" }, "01", "" },
  { "redo", { "looked", "void|names=1000", "void|names=1001" }, "101", "" },
  { "undo again",
    { "looked", "void|names=1000", "void|names=1001", "void|names=1002" },
    "0101",
    "" },
  { "replaced", { "looked", "gone|names=1000" }, "01", "" },
  { "replacement taken back", { "looked", "gone|names=1000", "void|names=1001" }, "101", "" },
  { "replaced twice in a row", { "looked", "gone|names=1000", "drank|names=1001" }, "001", "" },
  { "a correction of a correction, the middle voided on another copy",
    { "looked", "gone|names=1000", "void|names=1001", "drank|names=1001" },
    "0011",
    "v" },
  { "a correction taken back and the first replaced anew",
    { "looked", "gone|names=1000", "void|names=1001", "drank|names=1000" },
    "0011",
    "" },
  { "two rows of corrections of one entry: the later tip",
    { "looked", "gone|names=1000", "drank|names=1000", "cleaned|names=1001" },
    "0001",
    "r" },
  { "the earlier row is the longer one",
    { "looked", "gone|names=1000", "drank|names=1001", "cleaned|names=1000" },
    "0001",
    "r" },
  { "the later of two rows taken back",
    { "looked", "gone|names=1000", "drank|names=1001", "cleaned|names=1000", "void|names=1003" },
    "00101",
    "" },
  { "the middle of a row taken back",
    { "looked", "gone|names=1000", "drank|names=1001", "void|names=1002" },
    "0101",
    "" },
  { "two replacements: the later id",
    { "looked", "gone|names=1000", "drank|names=1000" },
    "001",
    "r" },
  { "of two replacements one is taken back",
    { "looked", "gone|names=1000", "drank|names=1000", "void|names=1002" },
    "0101",
    "" },
  { "void and replacement of one entry",
    { "looked", "void|names=1000", "gone|names=1000" },
    "011",
    "v" },
  { "replacement and void of one entry",
    { "looked", "gone|names=1000", "void|names=1000" },
    "011",
    "v" },
  { "void, and a row of replacements",
    { "looked", "gone|names=1000", "void|names=1000", "drank|names=1001" },
    "0011",
    "v" },
  { "void and replacement of one entry, the replacement taken back",
    { "looked", "void|names=1000", "gone|names=1000", "void|names=1002" },
    "0101",
    "" },
  { "void and replacement of one entry, the void taken back",
    { "looked", "gone|names=1000", "void|names=1000", "void|names=1002" },
    "0101",
    "" },
  { "a correction taken back with what it corrected",
    { "looked", "gone|names=1000", "void|names=1001", "void|names=1000" },
    "0011",
    "" },
  { "two voids of one entry", { "looked", "void|names=1000", "void|names=1000" }, "011", "" },
  { "one of two voids taken back",
    { "looked", "void|names=1000", "void|names=1000", "void|names=1002" },
    "0101",
    "" },
  { "names itself", { "looked", "void|names=1001" }, "11", "m" },
  { "names a later one", { "void|names=1001", "looked" }, "11", "m" },
  { "names a missing one", { "looked", "void|names=77" }, "11", "m" },
  { "names nothing", { "looked", "void" }, "11", "m" },
  { "replaces a missing one", { "looked", "gone|names=77" }, "11", "m" },
  { "a dead void reports nothing", { "looked", "void|names=77", "void|names=1001" }, "101", "" },
};

static void
test_live (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      uint8_t live[MAX_STEPS];
      CoreConflict *conflicts = NULL;
      size_t n_conflicts = 99;
      gsize n = 0;

      g_test_message ("%s", rows[i].name);
      for (; rows[i].lines[n] != NULL; n++)
        journal_add (journal, 100, rows[i].lines[n]);
      g_assert_cmpint (core_live ((const CoreEntry *const *) journal->entries->pdata, n, live,
                                  &conflicts, &n_conflicts),
                       ==, CORE_OK);
      for (gsize k = 0; k < n; k++)
        g_assert_cmpint (live[k], ==, rows[i].live[k] - '0');
      g_assert_cmpuint (n_conflicts, ==, strlen (rows[i].conflicts));
      for (gsize k = 0; k < n_conflicts; k++)
        g_assert_cmpint (conflicts[k].kind, ==,
                         rows[i].conflicts[k] == 'r'   ? CORE_CONFLICT_TWO_REPLACEMENTS
                         : rows[i].conflicts[k] == 'v' ? CORE_CONFLICT_CORRECTED_AND_VOIDED
                                                       : CORE_CONFLICT_NAMES_MISSING);
      free (conflicts);
    }
}

/* Both of two replacements are listed. */
static void
test_both_listed (void)
{
  g_autoptr (Journal) journal = journal_new ();
  uint8_t live[3];
  CoreConflict *conflicts = NULL;
  size_t n = 0;

  journal_add (journal, 100, "looked");
  journal_add (journal, 100, "gone|names=1000");
  journal_add (journal, 100, "drank|names=1000");
  g_assert_cmpint (core_live ((const CoreEntry *const *) journal->entries->pdata, 3, live,
                              &conflicts, &n),
                   ==, CORE_OK);
  g_assert_cmpuint (n, ==, 1);
  g_assert_true (core_id_equal (conflicts[0].entry, test_id (1002)));
  g_assert_true (core_id_equal (conflicts[0].other, test_id (1001)));
  free (conflicts);
}

/* A long chain of voids is decided in one pass. */
static void
test_long_chain (void)
{
  enum
  {
    N = 20000
  };
  g_autoptr (Journal) journal = journal_new ();
  g_autofree uint8_t *live = g_new0 (uint8_t, N);

  journal_add (journal, 100, "looked");
  for (int i = 1; i < N; i++)
    journal_add (journal, 100, "void")->names = test_id ((uint64_t) (1000 + i - 1));
  g_assert_cmpint (core_live ((const CoreEntry *const *) journal->entries->pdata, N, live, NULL,
                              NULL),
                   ==, CORE_OK);
  for (int i = 0; i < N; i++)
    g_assert_cmpint (live[i], ==, (N - 1 - i) % 2 == 0);
}

/* A long row of corrections, beaten by one later replacement of its first entry. */
static void
test_long_row (void)
{
  enum
  {
    N = 20000
  };
  g_autoptr (Journal) journal = journal_new ();
  g_autofree uint8_t *live = g_new0 (uint8_t, N + 1);
  CoreConflict *conflicts = NULL;
  size_t n_conflicts = 0;

  journal_add (journal, 100, "looked");
  for (int i = 1; i < N; i++)
    journal_add (journal, 100, "gone")->names = test_id ((uint64_t) (1000 + i - 1));
  journal_add (journal, 100, "drank")->names = test_id (1000);
  g_assert_cmpint (core_live ((const CoreEntry *const *) journal->entries->pdata, N + 1, live,
                              &conflicts, &n_conflicts),
                   ==, CORE_OK);
  for (int i = 0; i <= N; i++)
    g_assert_cmpint (live[i], ==, i == N);
  g_assert_cmpuint (n_conflicts, ==, 1);
  free (conflicts);
}

/* ---- refusals ---- */

typedef struct
{
  const char *name;
  CoreSubjectKind kind;
  const char *past[4]; /* "DAY text" */
  CoreDay day;
  const char *entry;
  CoreRefusal refusal;
} CheckRow;

#define ANIMAL CORE_SUBJECT_ANIMAL

static const CheckRow checks[] = {
  { "today", ANIMAL, { NULL }, 200, "looked", CORE_REFUSE_NOTHING },
  { "tomorrow", ANIMAL, { NULL }, 201, "looked", CORE_REFUSE_FUTURE },
  { "a moult tomorrow", ANIMAL, { "100 hatched" }, 201, "moulted", CORE_REFUSE_FUTURE },
  { "earliest after its day",
    ANIMAL,
    { NULL },
    150,
    "moulted|earliest=151",
    CORE_REFUSE_EARLIEST_AFTER_DAY },
  { "earliest on its day", ANIMAL, { NULL }, 150, "moulted|earliest=150", CORE_REFUSE_NOTHING },
  { "fifty years back", ANIMAL, { NULL }, 200 - 18264, "looked", CORE_REFUSE_TOO_OLD },
  { "before the hatch", ANIMAL, { "100 hatched" }, 99, "moulted", CORE_REFUSE_BEFORE_HATCH },
  { "before the hatch was found",
    ANIMAL,
    { "100 hatched|earliest=97" },
    98,
    "looked",
    CORE_REFUSE_NOTHING },
  { "a name before the hatch",
    ANIMAL,
    { "100 hatched" },
    99,
    "set|key=name|value=x",
    CORE_REFUSE_NOTHING },
  { "a second hatch", ANIMAL, { "100 hatched" }, 100, "hatched", CORE_REFUSE_ALREADY_HATCHED },
  { "a hatch after a meal", ANIMAL, { "100 fed" }, 110, "hatched", CORE_REFUSE_BEFORE_HATCH },
  { "after death", ANIMAL, { "120 died" }, 121, "fed", CORE_REFUSE_AFTER_END },
  { "on the day of death", ANIMAL, { "120 died" }, 120, "fed", CORE_REFUSE_AFTER_END },
  { "at a time of that day", ANIMAL, { "120 died" }, 120, "fed|minute=480", CORE_REFUSE_NOTHING },
  { "measured that day",
    ANIMAL,
    { "120 died" },
    120,
    "measured|what=body|mm=40",
    CORE_REFUSE_NOTHING },
  { "death before a look", ANIMAL, { "120 looked" }, 119, "died", CORE_REFUSE_LIVED_LATER },
  { "sold before a meal", ANIMAL, { "120 fed" }, 119, "left|how=sold", CORE_REFUSE_LIVED_LATER },
  { "escaped before a moult", ANIMAL, { "120 moulted" }, 110, "escaped", CORE_REFUSE_LIVED_LATER },
  { "death before it came", ANIMAL, { "120 acquired" }, 119, "died", CORE_REFUSE_LIVED_LATER },
  { "death on the last day", ANIMAL, { "120 looked" }, 120, "died", CORE_REFUSE_NOTHING },
  { "death before a round", ANIMAL, { "120 misted|bulk=1" }, 118, "died", CORE_REFUSE_NOTHING },
  { "death before it looked dead", ANIMAL, { "120 looks_dead" }, 119, "died", CORE_REFUSE_NOTHING },
  { "death before a picture",
    ANIMAL,
    { "120 measured|what=body|mm=40" },
    119,
    "died",
    CORE_REFUSE_NOTHING },
  { "some of a lot die", CORE_SUBJECT_LOT, { "120 looked" }, 119, "died|n=3", CORE_REFUSE_NOTHING },
  { "a note after death", ANIMAL, { "120 died" }, 121, "note|text=x", CORE_REFUSE_NOTHING },
  { "a second death", ANIMAL, { "120 died" }, 120, "died", CORE_REFUSE_AFTER_END },
  { "found, never gone", ANIMAL, { "100 looked" }, 121, "found", CORE_REFUSE_NOT_ENDED },
  { "found after an escape", ANIMAL, { "120 escaped" }, 121, "found", CORE_REFUSE_NOTHING },
  { "found before the escape", ANIMAL, { "120 escaped" }, 119, "found", CORE_REFUSE_NOT_ENDED },
  { "found dead", ANIMAL, { "120 escaped" }, 125, "died", CORE_REFUSE_NOTHING },
  { "back from the dead", ANIMAL, { "120 died" }, 125, "back", CORE_REFUSE_AFTER_END },
  { "fed while away, told by nobody",
    ANIMAL,
    { "120 left|how=lent" },
    125,
    "fed",
    CORE_REFUSE_AWAY },
  { "fed while away, as somebody told",
    ANIMAL,
    { "120 left|how=lent" },
    125,
    "fed|seen_by=Kim",
    CORE_REFUSE_NOTHING },
  { "a reading of an animal", ANIMAL, { NULL }, 100, "reading|t=20", CORE_REFUSE_WRONG_SUBJECT },
  { "a reading of a place",
    CORE_SUBJECT_PLACE,
    { NULL },
    100,
    "reading|t=20",
    CORE_REFUSE_NOTHING },
  { "a meal for a place", CORE_SUBJECT_PLACE, { NULL }, 100, "fed", CORE_REFUSE_WRONG_SUBJECT },
  { "an adult moults",
    ANIMAL,
    { "100 stage|seen=adult" },
    110,
    "moulted",
    CORE_REFUSE_ADULT_MOULTS },
  { "an adult hangs",
    ANIMAL,
    { "100 stage|seen=adult" },
    110,
    "sign|sign=hanging",
    CORE_REFUSE_ADULT_MOULTS },
  { "a moult before it was adult",
    ANIMAL,
    { "100 stage|seen=adult" },
    90,
    "moulted",
    CORE_REFUSE_NOTHING },
  { "the same moult twice", ANIMAL, { "90 moulted" }, 90, "moulted", CORE_REFUSE_MOULT_TWICE },
  { "the same moult twice before it came",
    ANIMAL,
    { "90 moulted", "100 acquired" },
    90,
    "moulted",
    CORE_REFUSE_MOULT_TWICE },
  { "adult a day after the hatch",
    ANIMAL,
    { "90 hatched" },
    91,
    "stage|seen=adult",
    CORE_REFUSE_TOO_YOUNG },
  { "adult after a month", ANIMAL, { "70 hatched" }, 100, "stage|seen=adult", CORE_REFUSE_NOTHING },
  { "came as adult before a month was over",
    ANIMAL,
    { "90 hatched" },
    110,
    "acquired|stage=adult",
    CORE_REFUSE_TOO_YOUNG },
  { "sub-adult after a week",
    ANIMAL,
    { "90 hatched" },
    97,
    "moulted|to=subadult",
    CORE_REFUSE_TOO_YOUNG },
  { "hatched shortly before it was seen as adult",
    ANIMAL,
    { "100 stage|seen=adult" },
    95,
    "hatched",
    CORE_REFUSE_TOO_YOUNG },
  { "a stage and moults that exclude each other",
    ANIMAL,
    { NULL },
    100,
    "acquired|stage=L6|moults=3",
    CORE_REFUSE_STAGE_MOULTS },
  { "by the scheme they do",
    ANIMAL,
    { NULL },
    100,
    "acquired|stage=L4|moults=2|scheme=1",
    CORE_REFUSE_STAGE_MOULTS },
  { "without a scheme they may fit",
    ANIMAL,
    { NULL },
    100,
    "acquired|stage=L4|moults=2",
    CORE_REFUSE_NOTHING },
  { "sprayed before it came",
    ANIMAL,
    { "100 acquired" },
    95,
    "misted",
    CORE_REFUSE_BEFORE_ARRIVAL },
  { "sprayed before it was moved in",
    ANIMAL,
    { "100 acquired|moved_in=yes" },
    95,
    "misted",
    CORE_REFUSE_NOTHING },
  { "looked at before it was moved in",
    ANIMAL,
    { "100 acquired|moved_in=yes" },
    99,
    "looked",
    CORE_REFUSE_NOTHING },
  { "looked at before the hatch of what was moved in",
    ANIMAL,
    { "98 hatched", "100 acquired|moved_in=yes" },
    97,
    "looked",
    CORE_REFUSE_BEFORE_HATCH },
  { "its giver told of a moult", ANIMAL, { "100 acquired" }, 95, "moulted", CORE_REFUSE_NOTHING },
  { "looked at on the day it came",
    ANIMAL,
    { "100 acquired" },
    100,
    "looked",
    CORE_REFUSE_NOTHING },
  { "looked at before the day on which it was here",
    ANIMAL,
    { "100 acquired|known=no" },
    95,
    "looked",
    CORE_REFUSE_NOTHING },
  { "a moult the day after", ANIMAL, { "90 moulted" }, 91, "moulted", CORE_REFUSE_MOULT_SOON },
  { "three days before another", ANIMAL, { "90 moulted" }, 87, "moulted", CORE_REFUSE_MOULT_SOON },
  { "said to be sure", ANIMAL, { "90 moulted" }, 92, "moulted|sure=yes", CORE_REFUSE_NOTHING },
  { "not said to be", ANIMAL, { "90 moulted" }, 92, "moulted|sure=no", CORE_REFUSE_MOULT_SOON },
  { "four days after", ANIMAL, { "90 moulted" }, 94, "moulted", CORE_REFUSE_NOTHING },
  { "all of a lot twice",
    CORE_SUBJECT_LOT,
    { "90 moulted" },
    90,
    "moulted",
    CORE_REFUSE_MOULT_SOON },
  { "two of a lot",
    CORE_SUBJECT_LOT,
    { "90 moulted|n=2" },
    90,
    "moulted|n=1",
    CORE_REFUSE_NOTHING },
  { "adult before a moult",
    ANIMAL,
    { "100 moulted" },
    90,
    "moulted|to=adult",
    CORE_REFUSE_LATER_MOULT },
  { "seen as adult before a moult",
    ANIMAL,
    { "100 moulted" },
    99,
    "stage|seen=adult",
    CORE_REFUSE_LATER_MOULT },
  { "seen as adult on its day",
    ANIMAL,
    { "100 moulted" },
    100,
    "stage|seen=adult",
    CORE_REFUSE_NOTHING },
  { "came as adult before a moult",
    ANIMAL,
    { "100 moulted" },
    90,
    "acquired|stage=adult",
    CORE_REFUSE_LATER_MOULT },
  { "a nymph again",
    ANIMAL,
    { "100 moulted|to=adult" },
    105,
    "stage|seen=nymph",
    CORE_REFUSE_ADULT_YOUNGER },
  { "a nymph before",
    ANIMAL,
    { "100 stage|seen=adult" },
    95,
    "stage|seen=subadult",
    CORE_REFUSE_NOTHING },
  { "a seller's adult is a nymph",
    ANIMAL,
    { "100 acquired|stage=adult" },
    105,
    "stage|seen=nymph",
    CORE_REFUSE_NOTHING },
  { "a seller's adult, seen to be",
    ANIMAL,
    { "100 acquired|stage=adult", "101 stage|seen=adult" },
    105,
    "stage|seen=nymph",
    CORE_REFUSE_ADULT_YOUNGER },
  { "adult, then seen as a nymph",
    ANIMAL,
    { "80 acquired", "100 stage|seen=nymph" },
    95,
    "stage|seen=adult",
    CORE_REFUSE_ADULT_YOUNGER },
  { "earliest before the hatch",
    ANIMAL,
    { "100 hatched" },
    110,
    "moulted|earliest=99",
    CORE_REFUSE_BEFORE_HATCH },
  { "a hatch after the earliest of a moult",
    ANIMAL,
    { "110 moulted|earliest=100" },
    101,
    "hatched",
    CORE_REFUSE_BEFORE_HATCH },
  { "measured before the hatch",
    ANIMAL,
    { "100 hatched" },
    99,
    "measured|what=body|mm=9",
    CORE_REFUSE_BEFORE_HATCH },
  { "a stage that is none", ANIMAL, { NULL }, 100, "acquired|stage=banana", CORE_REFUSE_NO_STAGE },
  { "stage 0", ANIMAL, { NULL }, 100, "acquired|stage=0", CORE_REFUSE_NO_STAGE },
  { "stage 99", ANIMAL, { NULL }, 100, "acquired|stage=99", CORE_REFUSE_NO_STAGE },
  { "stage L44", ANIMAL, { NULL }, 100, "acquired|stage=L44", CORE_REFUSE_NO_STAGE },
  { "stage Lx", ANIMAL, { NULL }, 100, "acquired|stage=Lx", CORE_REFUSE_NO_STAGE },
  { "stage L4", ANIMAL, { NULL }, 100, "acquired|stage=L4", CORE_REFUSE_NOTHING },
  { "stage i4", ANIMAL, { NULL }, 100, "acquired|stage=i4", CORE_REFUSE_NOTHING },
  { "stage L4/L5", ANIMAL, { NULL }, 100, "acquired|stage=L4/L5", CORE_REFUSE_NOTHING },
  { "stage Sub-Adult", ANIMAL, { NULL }, 100, "acquired|stage=Sub-Adult", CORE_REFUSE_NOTHING },
  { "put off into the past",
    ANIMAL,
    { NULL },
    100,
    "put_off|rule=feed|until=1970-04-11",
    CORE_REFUSE_UNTIL_OVER },
  { "put off until tomorrow",
    ANIMAL,
    { NULL },
    100,
    "put_off|rule=feed|until=1970-04-12",
    CORE_REFUSE_NOTHING },
  { "put off for a year",
    ANIMAL,
    { NULL },
    100,
    "put_off|rule=feed|until=1971-04-12",
    CORE_REFUSE_NOTHING },
  { "put off for ever",
    ANIMAL,
    { NULL },
    100,
    "put_off|rule=feed|until=9999-12-31",
    CORE_REFUSE_UNTIL_FAR },
  { "five of one animal dead", ANIMAL, { NULL }, 100, "died|n=5", CORE_REFUSE_ONE_ANIMAL },
  { "one of one animal sold", ANIMAL, { NULL }, 100, "left|n=1", CORE_REFUSE_NOTHING },
  { "five of a lot dead", CORE_SUBJECT_LOT, { NULL }, 100, "died|n=5", CORE_REFUSE_NOTHING },
  { "an empty reading", CORE_SUBJECT_PLACE, { NULL }, 100, "reading", CORE_REFUSE_READING_EMPTY },
  { "a reading of the air",
    CORE_SUBJECT_PLACE,
    { NULL },
    100,
    "reading|rh=50",
    CORE_REFUSE_NOTHING },
  { "pads of a nymph",
    ANIMAL,
    { "100 hatched" },
    110,
    "sign|sign=pads",
    CORE_REFUSE_PADS_NOT_SUBADULT },
  { "pads of a sub-adult",
    ANIMAL,
    { "100 hatched", "105 stage|seen=subadult" },
    110,
    "sign|sign=pads",
    CORE_REFUSE_NOTHING },
  { "work to come", ANIMAL, { NULL }, 100, "paired", CORE_REFUSE_RESERVED },
};

static void
test_checks (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (checks); i++)
    {
      const CheckRow *row = &checks[i];
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;
      CoreEntry *entry;

      g_test_message ("%s", row->name);
      core_state_init (&state);
      for (int k = 0; row->past[k] != NULL; k++)
        {
          const char *text = strchr (row->past[k], ' ') + 1;

          journal_add (journal, (CoreDay) g_ascii_strtoll (row->past[k], NULL, 10), text);
        }
      journal_fold (journal, row->kind, &state);
      entry = journal_add (journal, row->day, row->entry);
      g_assert_cmpint (core_check (&state, entry, 200), ==, row->refusal);
      core_state_clear (&state);
    }
}

/* Every reserved kind is refused, and folds to nothing. */
static void
test_reserved (void)
{
  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      if (!core_kind_info ((CoreKind) kind)->reserved)
        continue;
      core_state_init (&state);
      journal_add (journal, 100, core_kind_info ((CoreKind) kind)->name);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
      g_assert_true (state.exists);
      g_assert_cmpuint (state.looks.n + state.stages.n + state.conflicts.n + state.sex.n, ==, 0);
      g_assert_cmpint (core_check (&state, g_ptr_array_index (journal->entries, 0), 200), ==,
                       CORE_REFUSE_RESERVED);
      core_state_clear (&state);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/live/table", test_live);
  g_test_add_func ("/core/live/both-listed", test_both_listed);
  g_test_add_func ("/core/live/long-chain", test_long_chain);
  g_test_add_func ("/core/live/long-row", test_long_row);
  g_test_add_func ("/core/check/table", test_checks);
  g_test_add_func ("/core/check/reserved", test_reserved);
  return g_test_run ();
}
