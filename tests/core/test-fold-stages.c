/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-fold-stages.c — stages: counted, claimed, seen, reckoned; signs. */
#include "journal.h"

#include <math.h>
#include <string.h>

/* ---- stage and basis ---- */

typedef struct
{
  const char *name;
  JournalLine lines[JOURNAL_MAX_LINES];
  CoreBasis basis;
  int moults;
  double p[5]; /* of 0…4 moults since those before */
  int stages;
  gboolean subadult, adult;
  gint conflicts;
  int before; /* moults entered before the lines, since a hatch on day 10 */
} StageRow;

static const StageRow stage_rows[] = {
  { "nothing", { { 100, "looked" } }, CORE_BASIS_UNKNOWN, -1, { 0, 0, 0, 0, 0 }, 0 },
  { "hatched", { { 100, "hatched" } }, CORE_BASIS_COUNTED, 0, { 1, 0, 0, 0, 0 }, 1 },
  { "two moults since the hatch",
    { { 100, "hatched" }, { 110, "moulted" }, { 120, "moulted" } },
    CORE_BASIS_COUNTED,
    2,
    { 0, 0, 1, 0, 0 },
    3 },
  { "claim L3, hatchling L1",
    { { 100, "acquired|stage=L3|scheme=1" } },
    CORE_BASIS_ESTIMATED,
    2,
    { 0, .15, .7, .15, 0 },
    1 },
  { "claim L3, hatchling L2",
    { { 100, "acquired|stage=L3|scheme=2" } },
    CORE_BASIS_ESTIMATED,
    1,
    { .15, .7, .15, 0, 0 },
    1 },
  { "claim L3, no scheme: both count",
    { { 100, "acquired|stage=l3" } },
    CORE_BASIS_ESTIMATED,
    1,
    { .075, .425, .425, .075, 0 },
    1 },
  { "claim L1: nothing below",
    { { 100, "acquired|stage=L1|scheme=1" } },
    CORE_BASIS_ESTIMATED,
    0,
    { .7 / .85, .15 / .85, 0, 0, 0 },
    1 },
  { "claim of a range",
    { { 100, "acquired|stage=L3-4|scheme=1" } },
    CORE_BASIS_ESTIMATED,
    2,
    { 0, .075, .425, .425, .075 },
    1 },
  { "claim in other words",
    { { 100, "acquired|stage=half grown|scheme=1" } },
    CORE_BASIS_UNKNOWN,
    -1,
    { 0, 0, 0, 0, 0 },
    1 },
  { "a claim moves with each moult",
    { { 100, "acquired|stage=L2|scheme=1" }, { 110, "moulted" } },
    CORE_BASIS_ESTIMATED,
    2,
    { 0, .15, .7, .15, 0 },
    2 },
  { "moults said as such",
    { { 100, "acquired|moults=3" } },
    CORE_BASIS_ESTIMATED,
    3,
    { 0, 0, .05, .9, .05 },
    1 },
  { "a moult without any beginning",
    { { 110, "moulted" } },
    CORE_BASIS_UNKNOWN,
    -1,
    { 0, 0, 0, 0, 0 },
    1 },
  { "bought within days of the hatch",
    { { 100, "hatched" }, { 104, "acquired" } },
    CORE_BASIS_COUNTED,
    0,
    { 1, 0, 0, 0, 0 },
    1 },
  { "bought long after the hatch, nothing entered",
    { { 100, "hatched" }, { 140, "acquired" } },
    CORE_BASIS_UNKNOWN,
    -1,
    { 0, 0, 0, 0, 0 },
    1 },
  { "bought with every moult entered",
    { { 100, "hatched" }, { 112, "moulted" }, { 140, "acquired|stage=L2|scheme=1" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2 },
  { "bought, the claim names more moults than were entered",
    { { 100, "hatched" }, { 112, "moulted" }, { 140, "acquired|stage=L4|scheme=1" } },
    CORE_BASIS_ESTIMATED,
    3,
    { 0, 0, .15, .7, .15 },
    1 },
  { "the keeper finds a moult missing",
    { { 100, "hatched" }, { 112, "moulted" }, { 140, "stage|seen=nymph|moults=3" } },
    CORE_BASIS_ESTIMATED,
    3,
    { 0, 0, .05, .9, .05 },
    1 },
  { "the keeper's count agrees",
    { { 100, "hatched" }, { 112, "moulted" }, { 113, "stage|seen=nymph|moults=1" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2 },
  { "sub-adult is seen, and after one moult some must be missing",
    { { 100, "hatched" }, { 142, "moulted" }, { 143, "stage|seen=subadult" } },
    CORE_BASIS_UNKNOWN,
    -1,
    { 0, 0, 0, 0, 0 },
    2,
    TRUE,
    FALSE,
    1 },
  { "after the next moult it is not inferred to be adult",
    { { 100, "hatched" }, { 113, "stage|seen=subadult" }, { 130, "moulted" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    FALSE },
  { "moulted to adult",
    { { 112, "moulted|to=adult" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    TRUE,
    0,
    4 },
  { "an adult does not moult",
    { { 112, "moulted|to=adult" }, { 130, "moulted" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    TRUE,
    1,
    4 },
  { "sub-adult, then adult: a moult between was not seen",
    { { 112, "moulted|to=subadult" }, { 125, "stage|seen=adult" } },
    CORE_BASIS_ESTIMATED,
    2,
    { 0, 0, 1, 0, 0 },
    3,
    FALSE,
    TRUE,
    0,
    4 },
  { "a nymph, then adult: one moult or two between were not seen",
    { { 112, "moulted|to=nymph" }, { 125, "stage|seen=adult" } },
    CORE_BASIS_ESTIMATED,
    2,
    { 0, 0, .7, .3, 0 },
    3,
    FALSE,
    TRUE,
    0,
    4 },
  { "and the keeper says how many",
    { { 100, "hatched" }, { 112, "moulted|to=nymph" }, { 125, "stage|seen=adult|moults=3" } },
    CORE_BASIS_ESTIMATED,
    3,
    { 0, 0, .05, .9, .05 },
    3,
    FALSE,
    TRUE },
  { "the last word of one day counts: no moult between",
    { { 112, "stage|seen=nymph" }, { 112, "stage|seen=adult" } },
    CORE_BASIS_COUNTED,
    0,
    { 1, 0, 0, 0, 0 },
    1,
    FALSE,
    TRUE,
    0,
    4 },
  { "not said what it moulted to, then adult",
    { { 112, "moulted" }, { 125, "stage|seen=adult" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    TRUE,
    0,
    4 },
  { "bought as adult",
    { { 100, "acquired|stage=Adult" } },
    CORE_BASIS_UNKNOWN,
    -1,
    { 0, 0, 0, 0, 0 },
    1,
    FALSE,
    TRUE },
  { "not adult after all",
    { { 100, "acquired|stage=adult" }, { 105, "stage|seen=subadult" } },
    CORE_BASIS_UNKNOWN,
    -1,
    { 0, 0, 0, 0, 0 },
    1,
    TRUE,
    FALSE },
  { "seen as a nymph after it was adult",
    { { 100, "hatched" }, { 112, "moulted|to=adult" }, { 120, "stage|seen=nymph" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    FALSE,
    1 },
  { "when it came is not known",
    { { 100, "acquired|moults=3|known=no" } },
    CORE_BASIS_ESTIMATED,
    3,
    { 0, 0, .05, .9, .05 },
    1 },
  { "a moult before the hatch",
    { { 100, "hatched" }, { 90, "moulted" } },
    CORE_BASIS_COUNTED,
    0,
    { 1, 0, 0, 0, 0 },
    1,
    FALSE,
    FALSE,
    1 },
  { "two hatches: the first counts",
    { { 100, "hatched" }, { 105, "hatched" } },
    CORE_BASIS_COUNTED,
    0,
    { 1, 0, 0, 0, 0 },
    1,
    FALSE,
    FALSE,
    1 },
  { "a moult between the earliest hatch and the day found",
    { { 100, "hatched|earliest=85" }, { 95, "moulted" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2 },
  { "adult after fewer moults than any needs: some are missing, nobody knows how many",
    { { 100, "hatched" }, { 120, "moulted" }, { 140, "moulted|to=adult" } },
    CORE_BASIS_UNKNOWN,
    -1,
    { 0, 0, 0, 0, 0 },
    3,
    FALSE,
    TRUE,
    1 },
  { "one moult found by two",
    { { 100, "hatched" }, { 120, "moulted|earliest=118" }, { 121, "moulted" } },
    CORE_BASIS_ESTIMATED,
    1,
    { 0, .9, .1, 0, 0 },
    2,
    FALSE,
    FALSE,
    1 },
  { "one moult entered twice for a day",
    { { 100, "hatched" }, { 120, "moulted" }, { 120, "moulted|outcome=fell" }, { 140, "moulted" } },
    CORE_BASIS_ESTIMATED,
    2,
    { 0, 0, .9, .1, 0 },
    3,
    FALSE,
    FALSE,
    1 },
  { "two moults, as is said to be sure",
    { { 100, "hatched" }, { 120, "moulted" }, { 121, "moulted|sure=yes" } },
    CORE_BASIS_COUNTED,
    2,
    { 0, 0, 1, 0, 0 },
    3 },
  { "the same, the earlier one entered afterwards",
    { { 100, "hatched" }, { 121, "moulted" }, { 120, "moulted|sure=yes" } },
    CORE_BASIS_COUNTED,
    2,
    { 0, 0, 1, 0, 0 },
    3 },
  { "two moults so far apart that nobody asks",
    { { 100, "hatched" }, { 120, "moulted" }, { 124, "moulted" } },
    CORE_BASIS_COUNTED,
    2,
    { 0, 0, 1, 0, 0 },
    3 },
  { "the last moult found by two",
    { { 112, "moulted|to=adult" }, { 113, "moulted|to=adult" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    TRUE,
    1,
    4 },
};

static void
test_stages (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (stage_rows); i++)
    {
      const StageRow *row = &stage_rows[i];
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      g_test_message ("%s", row->name);
      if (row->before > 0)
        journal_add (journal, 10, "hatched");
      for (int m = 1; m <= row->before; m++)
        journal_add (journal, 10 + 15 * m, "moulted");
      journal_fold_lines (row->lines, journal, &state);
      g_assert_cmpint (state.basis, ==, row->basis);
      g_assert_cmpint (state.moults, ==, row->moults < 0 ? -1 : row->moults + row->before);
      for (int m = 0; m < 5; m++)
        g_assert_cmpfloat_with_epsilon (state.moults_p[m + row->before], row->p[m], 1e-9);
      g_assert_cmpuint (state.stages.n, ==, row->stages + row->before);
      g_assert_cmpint (state.subadult, ==, row->subadult);
      g_assert_cmpint (state.adult, ==, row->adult);
      g_assert_cmpint (state.adult_seen != CORE_DAY_NONE, ==, row->adult);
      g_assert_cmpint ((int) state.conflicts.n, ==, row->conflicts);
      core_state_clear (&state);
    }
}

static void
test_moults_sd_and_index (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = { { 100, "acquired|stage=L3|scheme=1" },
                                                        { 110, "moulted" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_cmpfloat_with_epsilon (state.moults_sd, sqrt (.3), 1e-9);
  g_assert_cmpint (core_state_moults_at (&state, 1), ==, 3);
  g_assert_cmpint (core_state_moults_at (&state, 0), ==, 2);
  g_assert_cmpint (core_state_moults_at (&state, -1), ==, -1);
  g_assert_cmpint (core_state_moults_at (&state, 2), ==, -1);
  g_assert_cmpstr (state.claim_stage, ==, "L3");
  g_assert_cmpint (state.claim_scheme, ==, 1);
  core_state_clear (&state);
}

/* What either of two said of one moult is known: here that it fell, whoever came first. */
static void
test_moult_found_by_two (void)
{
  static const char *const said[] = { "moulted", "moulted|outcome=good", "moulted|outcome=fell" };

  for (int later = 0; later < 2; later++)
    for (int i = 0; i < 2; i++)
      {
        g_autoptr (Journal) journal = journal_new ();
        CoreState state;
        CoreId first;

        core_state_init (&state);
        journal_add (journal, 100, "hatched");
        first = journal_add (journal, 120, said[later ? i : 2])->id;
        journal_add (journal, 121, said[later ? 2 : i]);
        journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
        g_assert_cmpuint (state.stages.n, ==, 2);
        g_assert_cmpint (state.stages.v[1].found, ==, 120);
        g_assert_cmpint (state.stages.v[1].outcome, ==, CORE_MOULT_FELL);
        g_assert_cmpuint (state.conflicts.n, ==, 1);
        g_assert_cmpint (state.conflicts.v[0].kind, ==, CORE_CONFLICT_TWO_MOULTS);
        g_assert_true (core_id_equal (state.conflicts.v[0].other, first));
        core_state_clear (&state);
      }
}

/* ---- signs ---- */

static void
test_signs (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = {
    { 90, "hatched" },           { 95, "sign|sign=dull" },     { 100, "moulted" },
    { 108, "looked" },           { 110, "sign|sign=hanging" }, { 111, "sign|sign=hanging" },
    { 111, "sign|sign=pumping" }
  };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_cmpuint (state.signs.n, ==, 2);
  g_assert_cmpint (state.signs.v[0].sign, ==, CORE_SIGN_HANGING);
  g_assert_cmpint (state.signs.v[0].first, ==, 110);
  g_assert_cmpint (state.signs.v[0].last, ==, 111);
  g_assert_cmpint (state.signs.v[0].times, ==, 2);
  g_assert_cmpfloat (state.signs.v[0].prev_look, ==, 108);
  g_assert_cmpint (state.signs.v[1].sign, ==, CORE_SIGN_PUMPING);
  g_assert_cmpfloat (state.signs.v[1].prev_look, ==, 110);
  core_state_clear (&state);
}

/* A moult out of a stage seen as sub-adult: adult, unless something else is seen. */
static void
test_probably_adult (void)
{
  static const struct
  {
    JournalLine lines[JOURNAL_MAX_LINES];
    gboolean probably, adult, subadult;
  } rows[] = {
    { { { 100, "stage|seen=subadult" }, { 120, "moulted" } }, TRUE, FALSE, FALSE },
    { { { 100, "stage|seen=subadult" }, { 120, "moulted|to=adult" } }, FALSE, TRUE, FALSE },
    { { { 100, "stage|seen=subadult" }, { 120, "moulted|to=nymph" } }, FALSE, FALSE, FALSE },
    { { { 100, "stage|seen=subadult" }, { 120, "moulted" }, { 121, "stage|seen=adult" } },
      FALSE,
      TRUE,
      FALSE },
    { { { 100, "stage|seen=subadult" }, { 120, "moulted" }, { 121, "stage|seen=subadult" } },
      FALSE,
      FALSE,
      TRUE },
    { { { 100, "stage|seen=subadult" }, { 120, "moulted" }, { 140, "moulted" } },
      FALSE,
      FALSE,
      FALSE },
    { { { 100, "stage|seen=nymph" }, { 120, "moulted" } }, FALSE, FALSE, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      core_state_init (&state);
      journal_fold_lines (rows[i].lines, journal, &state);
      g_assert_true (state.probably_adult == rows[i].probably);
      g_assert_true (state.adult == rows[i].adult);
      g_assert_true (state.subadult == rows[i].subadult);
      core_state_clear (&state);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/fold/stages", test_stages);
  g_test_add_func ("/core/fold/moults-at", test_moults_sd_and_index);
  g_test_add_func ("/core/fold/moult-found-by-two", test_moult_found_by_two);
  g_test_add_func ("/core/fold/signs", test_signs);
  g_test_add_func ("/core/fold/probably-adult", test_probably_adult);
  return g_test_run ();
}
