/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-fold.c — windows, looks, stages, meals, signs, ends: what each entry does. */
#include "journal.h"

#include <math.h>
#include <string.h>

#define HASH "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"
#define MAX_STEPS 10
#define NONE (-INFINITY)

typedef struct
{
  CoreDay day;
  const char *text;
} Line;

static void
fold_lines (const Line *lines, Journal *journal, CoreState *state)
{
  core_state_init (state);
  for (int i = 0; i < MAX_STEPS && lines[i].text != NULL; i++)
    journal_add (journal, lines[i].day, lines[i].text);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, state);
}

/* ---- the window of the last stage ---- */

typedef struct
{
  const char *name;
  Line lines[MAX_STEPS];
  double lo, hi;
  gboolean given;
} WindowRow;

static const WindowRow windows[] = {
  { "hatch on its day", { { 100, "hatched" } }, 99, 100, FALSE },
  { "hatch found later", { { 100, "hatched|earliest=97" } }, 96, 100, TRUE },
  { "moult after a look",
    { { 100, "hatched" }, { 108, "looked" }, { 110, "moulted" } },
    108,
    110,
    FALSE },
  { "a bulk feeding is no look",
    { { 100, "hatched" }, { 106, "looked" }, { 108, "fed|prey=hydei|bulk" }, { 110, "moulted" } },
    106,
    110,
    FALSE },
  { "offered, misted, cleaned, housed, note are no looks",
    { { 100, "hatched" },
      { 105, "fed|outcome=taken" },
      { 106, "fed" },
      { 107, "misted" },
      { 108, "cleaned" },
      { 109, "housed|at=1" },
      { 109, "note|text=x" },
      { 110, "moulted" } },
    105,
    110,
    FALSE },
  { "looked at all is a look, bulk or not",
    { { 100, "hatched" }, { 108, "looked|bulk" }, { 110, "moulted" } },
    108,
    110,
    FALSE },
  { "a bulk refusal is no look",
    { { 100, "hatched" }, { 108, "fed|outcome=refused|bulk" }, { 110, "moulted" } },
    99,
    110,
    FALSE },
  { "a look of the same day, untimed, proves nothing",
    { { 100, "hatched" }, { 107, "looked" }, { 110, "looked" }, { 110, "moulted" } },
    107,
    110,
    FALSE },
  { "a timed look of the same day does",
    { { 100, "hatched" }, { 110, "looked|minute=480" }, { 110, "moulted" } },
    109 + 8. / 24,
    110,
    FALSE },
  { "a timed moult",
    { { 100, "hatched" }, { 108, "looked" }, { 110, "moulted|minute=1200" } },
    108,
    109 + 20. / 24,
    FALSE },
  { "earliest wins over a later look",
    { { 100, "hatched" }, { 109, "looked" }, { 110, "moulted|earliest=105" } },
    104,
    110,
    TRUE },
  { "earliest wins over an earlier look",
    { { 100, "hatched" }, { 102, "looked" }, { 110, "moulted|earliest=108" } },
    107,
    110,
    TRUE },
  { "seen happening", { { 100, "hatched" }, { 110, "moulted|seen=yes" } }, 109, 110, TRUE },
  { "seen happening beats earliest",
    { { 100, "hatched" }, { 110, "moulted|seen=yes|earliest=104" } },
    109,
    110,
    TRUE },
  { "no look at all: since the hatch", { { 100, "hatched" }, { 110, "moulted" } }, 99, 110, FALSE },
  { "no look since the last moult",
    { { 100, "hatched" }, { 108, "looked" }, { 110, "moulted" }, { 120, "moulted" } },
    110,
    120,
    FALSE },
  { "no look since the arrival", { { 100, "acquired" }, { 110, "moulted" } }, 100, 110, FALSE },
  { "moult on the day of arrival", { { 100, "acquired" }, { 100, "moulted" } }, 99, 100, FALSE },
  { "a look entered after the moult still counts",
    { { 100, "hatched" }, { 110, "moulted" }, { 107, "belly|score=3" } },
    107,
    110,
    FALSE },
  { "a photo looks on its capture day",
    { { 100, "hatched" }, { 120, "photo|taken=1970-04-17|hash=" HASH }, { 110, "moulted" } },
    106,
    110,
    FALSE },
  { "a camera clock before the hatch proves nothing",
    { { 100, "hatched" }, { 120, "photo|taken=1970-01-17|hash=" HASH }, { 110, "moulted" } },
    99,
    110,
    FALSE },
  { "arrival: start unknown", { { 100, "acquired|stage=L4|scheme=1" } }, NONE, 100, FALSE },
  { "arrival long after the hatch: not before it",
    { { 50, "hatched" }, { 100, "acquired" } },
    49,
    100,
    FALSE },
  { "arrival after the hatch, moults between were missed",
    { { 50, "hatched" }, { 100, "acquired|stage=L4|scheme=1" } },
    49,
    100,
    FALSE },
};

static void
test_windows (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (windows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;
      const CoreStage *stage;

      g_test_message ("%s", windows[i].name);
      fold_lines (windows[i].lines, journal, &state);
      stage = core_state_stage_now (&state);
      g_assert_nonnull (stage);
      g_assert_cmpfloat_with_epsilon (stage->hi, windows[i].hi, 1e-9);
      if (windows[i].lo == NONE)
        g_assert_true (stage->lo == NONE);
      else
        g_assert_cmpfloat_with_epsilon (stage->lo, windows[i].lo, 1e-9);
      g_assert_cmpint (stage->earliest_given, ==, windows[i].given);
      core_state_clear (&state);
    }
}

/* ---- which entries are looks ---- */

typedef struct
{
  const char *text;
  gboolean look, bulk_look;
} LookRow;

static const LookRow looks[] = {
  { "looked", TRUE, TRUE },
  { "fed|outcome=taken", TRUE, FALSE },
  { "fed|outcome=refused", TRUE, FALSE },
  { "fed", FALSE, FALSE },
  { "fed|outcome=offered", FALSE, FALSE },
  { "fed|outcome=none_in_view", FALSE, FALSE },
  { "gone", TRUE, FALSE },
  { "drank", TRUE, FALSE },
  { "belly|score=3", TRUE, FALSE },
  { "sign|sign=dull", TRUE, FALSE },
  { "measured|what=head|mm=4", TRUE, FALSE },
  { "moulted", TRUE, FALSE },
  { "stage|seen=nymph", TRUE, FALSE },
  { "sexed|sex=male|method=build", TRUE, FALSE },
  { "sexed|sex=male|of=shed", FALSE, FALSE },
  { "sexed|sex=male|method=claim", FALSE, FALSE },
  { "photo|hash=" HASH, TRUE, FALSE },
  { "trouble|what=thin", TRUE, FALSE },
  { "misted", FALSE, FALSE },
  { "watered", FALSE, FALSE },
  { "cleaned", FALSE, FALSE },
  { "housed|at=2", FALSE, FALSE },
  { "note|text=seen nothing", FALSE, FALSE },
  { "done|rule=clean", FALSE, FALSE },
  { "set|key=name|value=Asra", FALSE, FALSE },
  { "acquired", FALSE, FALSE },
};

static void
test_looks (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (looks); i++)
    for (int bulk = 0; bulk < 2; bulk++)
      {
        g_autoptr (Journal) journal = journal_new ();
        CoreState state;

        g_test_message ("%s bulk %d", looks[i].text, bulk);
        core_state_init (&state);
        journal_add (journal, 50, looks[i].text)->bulk = bulk == 1;
        journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
        g_assert_cmpuint (state.looks.n, ==, bulk ? looks[i].bulk_look : looks[i].look);
        g_assert_cmpint (core_state_last_look (&state), ==, state.looks.n ? 50 : CORE_DAY_NONE);
        core_state_clear (&state);
      }
}

/* A photo whose mark says that it shows the shed skin is no look at the animal. */
static void
test_shed_photo (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;
  CoreEntry *marked;
  CoreId photo;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  journal_add (journal, 110, "moulted");
  photo = journal_add (journal, 112, "photo|hash=" HASH)->id;
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (core_state_last_look (&state), ==, 112);
  g_assert_cmpint (state.photos.v[0].stage, ==, 1);
  marked = journal_add (journal, 130, "note|text=x");
  marked->kind = CORE_KIND_MARKED;
  free (marked->values[0].text);
  marked->n_values = 0;
  g_assert_cmpint (core_entry_set_ref (marked, CORE_KEY_PHOTO, photo), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_word (marked, CORE_KEY_OF, "shed"), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_num (marked, CORE_KEY_COUNT, 6), ==, CORE_VALUE_OK);
  journal_add (journal, 125, "moulted");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpuint (state.looks.n, ==, 2);
  g_assert_cmpint (state.looks.v[0].day, ==, 110);
  g_assert_true (state.photos.v[0].of_shed);
  g_assert_cmpint (state.photos.v[0].stage, ==, 0);
  /* Read on the day of the photo: the stage before the first moult, not the second. */
  g_assert_cmpuint (state.sex.n, ==, 1);
  g_assert_cmpint (state.sex.v[0].day, ==, 112);
  g_assert_cmpint (state.sex.v[0].stage, ==, 0);
  g_assert_cmpint (state.sex.v[0].count, ==, 6);
  g_assert_true (state.sex.v[0].by_keeper);
  g_assert_cmpint (core_state_moults_at (&state, state.sex.v[0].stage), ==, 0);
  core_state_clear (&state);
}

/* ---- stage and basis ---- */

typedef struct
{
  const char *name;
  Line lines[MAX_STEPS];
  CoreBasis basis;
  int moults;
  double p[5]; /* of 0…4 moults; -1 = not compared */
  int stages;
  gboolean subadult, adult;
  gint conflicts;
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
  { "sub-adult is seen",
    { { 100, "hatched" }, { 112, "moulted" }, { 113, "stage|seen=subadult" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    TRUE,
    FALSE },
  { "after the next moult it is not inferred to be adult",
    { { 100, "hatched" }, { 113, "stage|seen=subadult" }, { 130, "moulted" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    FALSE },
  { "moulted to adult",
    { { 100, "hatched" }, { 112, "moulted|to=adult" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    TRUE },
  { "an adult does not moult",
    { { 100, "hatched" }, { 112, "moulted|to=adult" }, { 130, "moulted" } },
    CORE_BASIS_COUNTED,
    1,
    { 0, 1, 0, 0, 0 },
    2,
    FALSE,
    TRUE,
    1 },
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
      fold_lines (row->lines, journal, &state);
      g_assert_cmpint (state.basis, ==, row->basis);
      g_assert_cmpint (state.moults, ==, row->moults);
      for (int m = 0; m < 5; m++)
        g_assert_cmpfloat_with_epsilon (state.moults_p[m], row->p[m], 1e-9);
      g_assert_cmpuint (state.stages.n, ==, row->stages);
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
  static const Line lines[MAX_STEPS] = { { 100, "acquired|stage=L3|scheme=1" },
                                         { 110, "moulted" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  fold_lines (lines, journal, &state);
  g_assert_cmpfloat_with_epsilon (state.moults_sd, sqrt (.3), 1e-9);
  g_assert_cmpint (core_state_moults_at (&state, 1), ==, 3);
  g_assert_cmpint (core_state_moults_at (&state, 0), ==, 2);
  g_assert_cmpint (core_state_moults_at (&state, -1), ==, -1);
  g_assert_cmpint (core_state_moults_at (&state, 2), ==, -1);
  g_assert_cmpstr (state.claim_stage, ==, "L3");
  g_assert_cmpint (state.claim_scheme, ==, 1);
  core_state_clear (&state);
}

/* ---- meals and refusals ---- */

typedef struct
{
  const char *name;
  Line lines[MAX_STEPS];
  CoreDay offered, taken;
  int refusals;  /* since the last taken meal, over stages */
  int run_times; /* the sign "refuses" of the present stage; 0 = none */
  CoreDay run_first, run_last;
} MealRow;

#define NEVER CORE_DAY_NONE

static const MealRow meals[] = {
  { "offered says nothing of taking", { { 100, "fed|prey=hydei" } }, 100, NEVER, 0, 0 },
  { "no food in view is no offer", { { 100, "fed|outcome=none_in_view" } }, NEVER, NEVER, 0, 0 },
  { "taken", { { 100, "fed|outcome=taken" } }, 100, 100, 0, 0 },
  { "refused", { { 100, "fed|outcome=refused" } }, 100, NEVER, 1, 1, 100, 100 },
  { "two refusals are one sign",
    { { 98, "fed|outcome=taken" }, { 100, "fed|outcome=refused" }, { 102, "fed|outcome=refused" } },
    102,
    98,
    2,
    2,
    100,
    102 },
  { "taken ends the run",
    { { 100, "fed|outcome=refused" },
      { 102, "fed|outcome=refused" },
      { 103, "fed|outcome=taken" } },
    103,
    103,
    0,
    0 },
  { "a later run begins anew",
    { { 100, "fed|outcome=refused" },
      { 103, "fed|outcome=taken" },
      { 106, "fed|outcome=refused" } },
    106,
    103,
    1,
    1,
    106,
    106 },
  { "gone makes the last offer probably taken",
    { { 100, "fed|prey=cricket" }, { 101, "gone" } },
    100,
    100,
    0,
    0 },
  { "gone ends the run before that offer",
    { { 98, "fed|outcome=refused" }, { 100, "fed" }, { 101, "gone" } },
    100,
    100,
    0,
    0 },
  { "gone does not end a refusal after that offer",
    { { 98, "fed|outcome=refused" },
      { 100, "fed" },
      { 101, "fed|outcome=refused" },
      { 102, "gone" } },
    101,
    100,
    1,
    1,
    101,
    101 },
  { "gone on the evening of the offer", { { 100, "fed" }, { 100, "gone" } }, 100, 100, 0, 0 },
  { "gone without an offer", { { 100, "gone" } }, NEVER, NEVER, 0, 0 },
  { "gone once for one offer",
    { { 100, "fed|outcome=taken" }, { 101, "gone" }, { 102, "fed" } },
    102,
    100,
    0,
    0 },
  { "an offer leaves the run as it is",
    { { 100, "fed|outcome=refused" }, { 102, "fed" } },
    102,
    NEVER,
    1,
    1,
    100,
    100 },
  { "the sign typed by itself counts in the run",
    { { 100, "sign|sign=refuses" }, { 102, "fed|outcome=refused" } },
    102,
    NEVER,
    1,
    2,
    100,
    102 },
  { "a moult ends the sign, not the count of refused meals",
    { { 90, "hatched" }, { 100, "fed|outcome=refused" }, { 103, "moulted" } },
    100,
    NEVER,
    1,
    0 },
  { "refused on the day of the moult: before it",
    { { 90, "hatched" }, { 103, "fed|outcome=refused" }, { 103, "moulted" } },
    103,
    NEVER,
    1,
    0 },
  { "after the moult anew",
    { { 90, "hatched" },
      { 100, "fed|outcome=refused" },
      { 103, "moulted" },
      { 105, "fed|outcome=refused" } },
    105,
    NEVER,
    2,
    1,
    105,
    105 },
  { "the later written of one day is the later",
    { { 100, "fed|prey=moth|outcome=refused" }, { 100, "fed|prey=hydei|outcome=taken" } },
    100,
    100,
    0,
    0 },
};

static void
test_meals (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (meals); i++)
    {
      const MealRow *row = &meals[i];
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      g_test_message ("%s", row->name);
      fold_lines (row->lines, journal, &state);
      g_assert_cmpint (state.last_offered, ==, row->offered);
      g_assert_cmpint (state.last_taken, ==, row->taken);
      g_assert_cmpint (state.refusals_since_taken, ==, row->refusals);
      g_assert_cmpuint (state.signs.n, ==, row->run_times > 0);
      if (row->run_times > 0)
        {
          g_assert_cmpint (state.signs.v[0].sign, ==, CORE_SIGN_REFUSES);
          g_assert_cmpint (state.signs.v[0].times, ==, row->run_times);
          g_assert_cmpint (state.signs.v[0].first, ==, row->run_first);
          g_assert_cmpint (state.signs.v[0].last, ==, row->run_last);
        }
      core_state_clear (&state);
    }
}

/* ---- signs ---- */

static void
test_signs (void)
{
  static const Line lines[MAX_STEPS] = {
    { 90, "hatched" },           { 95, "sign|sign=dull" },     { 100, "moulted" },
    { 108, "looked" },           { 110, "sign|sign=hanging" }, { 111, "sign|sign=hanging" },
    { 111, "sign|sign=pumping" }
  };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  fold_lines (lines, journal, &state);
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

/* ---- ends ---- */

typedef struct
{
  const char *name;
  Line lines[MAX_STEPS];
  CoreEnd end;
  CoreDay end_day;
  gboolean lent;
  int conflicts;
  int looks;
} EndRow;

static const EndRow ends[] = {
  { "died", { { 100, "looked" }, { 101, "died|cause=age" } }, CORE_END_DIED, 101, FALSE, 0, 1 },
  { "fed on its last day",
    { { 101, "died" }, { 101, "fed|outcome=taken" } },
    CORE_END_DIED,
    101,
    FALSE,
    0,
    1 },
  { "fed after death",
    { { 101, "died" }, { 105, "fed|outcome=taken" } },
    CORE_END_DIED,
    101,
    FALSE,
    1,
    0 },
  { "a note after death is no conflict",
    { { 101, "died" }, { 105, "note|text=missed" } },
    CORE_END_DIED,
    101,
    FALSE,
    0,
    0 },
  { "measuring the dead is no look",
    { { 101, "died" }, { 102, "measured|what=body|mm=30" } },
    CORE_END_DIED,
    101,
    FALSE,
    0,
    0 },
  { "died twice", { { 101, "died" }, { 103, "died" } }, CORE_END_DIED, 101, FALSE, 1, 0 },
  { "escaped", { { 101, "escaped" } }, CORE_END_ESCAPED, 101, FALSE, 0, 0 },
  { "escaped and found",
    { { 101, "escaped" }, { 104, "found" }, { 105, "looked" } },
    CORE_END_NONE,
    NEVER,
    FALSE,
    0,
    1 },
  { "found and fed on that day",
    { { 101, "escaped" }, { 104, "found" }, { 104, "drank" } },
    CORE_END_NONE,
    NEVER,
    FALSE,
    0,
    1 },
  { "escaped and found on one day",
    { { 101, "escaped" }, { 101, "found" } },
    CORE_END_NONE,
    NEVER,
    FALSE,
    0,
    0 },
  { "looked at while away",
    { { 101, "escaped" }, { 103, "looked" }, { 104, "found" } },
    CORE_END_NONE,
    NEVER,
    FALSE,
    1,
    0 },
  { "found dead", { { 101, "escaped" }, { 108, "died" } }, CORE_END_DIED, 108, FALSE, 0, 0 },
  { "lent", { { 101, "left|how=lent|to=a friend" } }, CORE_END_LEFT, 101, TRUE, 0, 0 },
  { "sold", { { 101, "left|how=sold" } }, CORE_END_LEFT, 101, FALSE, 0, 0 },
  { "lent and back",
    { { 101, "left|how=lent" }, { 120, "back" } },
    CORE_END_NONE,
    NEVER,
    FALSE,
    0,
    0 },
  { "found without having gone", { { 101, "found" } }, CORE_END_NONE, NEVER, FALSE, 0, 0 },
  { "back from the dead", { { 101, "died" }, { 103, "back" } }, CORE_END_DIED, 101, FALSE, 1, 0 },
};

static void
test_ends (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      g_test_message ("%s", ends[i].name);
      fold_lines (ends[i].lines, journal, &state);
      g_assert_cmpint (state.end, ==, ends[i].end);
      g_assert_cmpint (state.end_day, ==, ends[i].end_day);
      g_assert_cmpint (state.lent, ==, ends[i].lent);
      g_assert_cmpint ((int) state.conflicts.n, ==, ends[i].conflicts);
      g_assert_cmpint ((int) state.looks.n, ==, ends[i].looks);
      core_state_clear (&state);
    }
}

/* Of a lot some may die; the lot goes on until all of it ends. */
static void
test_lot (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  journal_add (journal, 103, "died|n=4");
  journal_add (journal, 104, "fed|prey=melanogaster");
  journal_fold (journal, CORE_SUBJECT_LOT, &state);
  g_assert_cmpint (state.end, ==, CORE_END_NONE);
  g_assert_cmpuint (state.conflicts.n, ==, 0);
  journal_add (journal, 105, "died");
  journal_fold (journal, CORE_SUBJECT_LOT, &state);
  g_assert_cmpint (state.end, ==, CORE_END_DIED);
  core_state_clear (&state);
}

static void
test_looks_dead (void)
{
  static const struct
  {
    const char *after;
    CoreDay still;
  } rows[] = { { "looked", 100 },
               { "fed", 100 },
               { "drank", NEVER },
               { "note|text=x", 100 },
               { "fed|outcome=taken", NEVER },
               { "done|rule=is_dead", NEVER },
               { "done|rule=clean", 100 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      core_state_init (&state);
      journal_add (journal, 100, "looks_dead");
      journal_add (journal, 101, rows[i].after);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
      g_assert_cmpint (state.looks_dead, ==, rows[i].still);
      core_state_clear (&state);
    }
}

/* ---- settings, stays, places, sex readings ---- */

static void
test_settings (void)
{
  static const Line lines[MAX_STEPS] = { { 100, "set|key=species|value=Hierodula membranacea" },
                                         { 100, "set|key=number|value=14" },
                                         { 100, "set|key=name|value=Zora" },
                                         { 100, "set|key=name|value=Anna" },
                                         { 101, "set|key=purpose|value=pairing" },
                                         { 102, "set|key=purpose|value=" },
                                         { 99, "set|key=code|value=late" },
                                         { 98,
                                           "set|key=code|value=later in the order it is not" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  fold_lines (lines, journal, &state);
  g_assert_cmpstr (state.species, ==, "Hierodula membranacea");
  g_assert_cmpstr (state.number, ==, "14");
  g_assert_cmpstr (state.name, ==, "Anna");
  g_assert_cmpstr (core_state_setting (&state, "name"), ==, "Anna");
  g_assert_null (core_state_setting (&state, "purpose"));
  g_assert_null (core_state_setting (&state, "never"));
  g_assert_cmpstr (state.code, ==, "late");
  g_assert_cmpuint (state.settings.n, ==, 5);
  core_state_clear (&state);
}

/* A name that is too long is cut between characters. */
static void
test_long_name (void)
{
  g_autoptr (Journal) journal = journal_new ();
  g_autoptr (GString) text = g_string_new ("set|key=name|value=x");
  CoreState state;

  core_state_init (&state);
  for (int i = 0; i < 60; i++)
    g_string_append (text, "ä");
  journal_add (journal, 100, text->str);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpuint (strlen (state.name), ==, 79);
  g_assert_true (g_utf8_validate (state.name, -1, NULL));
  core_state_clear (&state);
}

static void
test_stays (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;
  CoreId a = test_id (500), b = test_id (400);
  CoreEntry *entry;

  core_state_init (&state);
  entry = journal_add (journal, 100, "housed|at=3|height_mm=120");
  g_assert_cmpint (core_entry_set_ref (entry, CORE_KEY_PLACE, a), ==, CORE_VALUE_OK);
  entry = journal_add (journal, 110, "housed");
  g_assert_cmpint (core_entry_set_ref (entry, CORE_KEY_PLACE, b), ==, CORE_VALUE_OK);
  journal_add (journal, 120, "housed|height_mm=200|width_mm=90");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpuint (state.stays.n, ==, 3);
  g_assert_null (core_state_stay_on (&state, 99));
  g_assert_true (core_id_equal (core_state_stay_on (&state, 109)->place, a));
  g_assert_true (core_id_equal (core_state_stay_on (&state, 110)->place, b));
  g_assert_cmpfloat (state.stays.v[1].height_mm, ==, 120);
  g_assert_true (isnan (state.stays.v[1].at));
  g_assert_true (core_id_equal (state.stays.v[2].place, b));
  g_assert_cmpfloat (state.stays.v[2].height_mm, ==, 200);
  core_state_clear (&state);
}

static void
test_place (void)
{
  static const Line lines[MAX_STEPS] = { { 100, "set|key=day_c|value=26.5" },
                                         { 100, "set|key=night_c|value=warm" },
                                         { 100, "set|key=heater|value=mat" },
                                         { 101, "reading|t=24.5|rh=55|minute=600" },
                                         { 101, "reading|t=22|inside=yes|minute=300" },
                                         { 103, "power|out_from=02:00|out_to=06:30|lowest=13.5" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  core_state_init (&state);
  for (int i = 0; lines[i].text != NULL; i++)
    journal_add (journal, lines[i].day, lines[i].text);
  journal_fold (journal, CORE_SUBJECT_PLACE, &state);
  g_assert_cmpfloat (state.place.day_c, ==, 26.5);
  g_assert_true (isnan (state.place.night_c));
  g_assert_cmpstr (core_state_setting (&state, "night_c"), ==, "warm");
  g_assert_cmpstr (state.place.heater, ==, "mat");
  g_assert_cmpuint (state.place.readings.n, ==, 2);
  g_assert_cmpfloat (state.place.readings.v[0].t, ==, 22);
  g_assert_true (state.place.readings.v[0].inside);
  g_assert_true (isnan (state.place.readings.v[0].rh));
  g_assert_cmpfloat (state.place.readings.v[1].rh, ==, 55);
  g_assert_cmpint (state.place.power_cut, ==, 103);
  g_assert_cmpfloat (state.place.power_lowest, ==, 13.5);
  core_state_clear (&state);
}

static void
test_sex_readings (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;
  CoreEntry *marked;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  marked = core_entry_new (CORE_KIND_MARKED);
  marked->id = test_id (5000);
  marked->subject = journal->subject;
  marked->day = 120;
  g_assert_cmpint (core_entry_set_ref (marked, CORE_KEY_PHOTO, test_id (7)), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_text (marked, "likelihood", "0:.1,6:.7,8:.02,12:1"), ==,
                   CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_text (marked, "count", "6"), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_text (marked, "cue", "crown:female"), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_text (marked, "wing_ratio", "1.2"), ==, CORE_VALUE_OK);
  g_ptr_array_add (journal->entries, marked);
  journal_add (journal, 121, "sexed|sex=female|method=claim|p=.99");
  journal_add (journal, 122, "sexed|sex=unknown");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpuint (state.sex.n, ==, 3);
  g_assert_cmpfloat (state.sex.v[0].likelihood_none, ==, .1);
  g_assert_cmpfloat (state.sex.v[0].likelihood[6], ==, .7);
  g_assert_cmpfloat (state.sex.v[0].likelihood[8], ==, .02);
  g_assert_cmpfloat (state.sex.v[0].likelihood[0], ==, 0);
  g_assert_false (state.sex.v[0].by_keeper);
  g_assert_cmpint (state.sex.v[0].small_plate, ==, CORE_SMALL_UNKNOWN);
  g_assert_cmpint (state.sex.v[0].last_plate, ==, -1);
  g_assert_cmpint (state.sex.v[0].side, ==, -1);
  g_assert_cmpfloat (state.sex.v[0].wing_ratio, ==, 1.2);
  g_assert_true (isnan (state.sex.v[0].tegmen_pronotum));
  g_assert_cmpstr (state.sex.v[0].cue, ==, "crown");
  g_assert_cmpint (state.sex.v[0].cue_sex, ==, CORE_SEX_FEMALE);
  g_assert_cmpint (state.sex.v[1].sex, ==, CORE_SEX_FEMALE);
  g_assert_cmpint (state.sex.v[1].method, ==, CORE_METHOD_CLAIM);
  g_assert_cmpint (state.sex.v[2].sex, ==, CORE_SEX_UNKNOWN);
  g_assert_cmpint (state.sex.v[2].method, ==, -1);
  g_assert_cmpuint (state.conflicts.n, ==, 0);
  journal_add (journal, 130, "sexed|sex=female|method=laid");
  journal_add (journal, 131, "sexed|sex=male|method=joined");
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpuint (state.conflicts.n, ==, 1);
  g_assert_cmpint (state.conflicts.v[0].kind, ==, CORE_CONFLICT_SEX_SETTLED_TWICE);
  core_state_clear (&state);
}

static void
test_care_and_troubles (void)
{
  static const Line lines[MAX_STEPS] = { { 10, "trouble|what=fell" },
                                         { 90, "trouble|what=thin" },
                                         { 95, "misted|bulk" },
                                         { 96, "drank|eager=yes" },
                                         { 97, "belly|score=4" },
                                         { 97, "belly|score=2" },
                                         { 98, "done|rule=clean" },
                                         { 99, "put_off|rule=home|until=1970-04-20" },
                                         { 100, "measured|what=head|mm=4.2" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  fold_lines (lines, journal, &state);
  g_assert_cmpuint (state.troubles.n, ==, 1);
  g_assert_cmpint (state.troubles.v[0].what, ==, CORE_TROUBLE_THIN);
  g_assert_cmpint (state.misted, ==, 95);
  g_assert_true (state.drank_eagerly);
  g_assert_cmpint (state.belly, ==, 2);
  g_assert_cmpstr (state.done.v[0].rule, ==, "clean");
  g_assert_cmpint (state.done.v[0].until, ==, CORE_DAY_NONE);
  g_assert_cmpint (state.put_off.v[0].until, ==, 109);
  g_assert_cmpfloat (state.measures.v[0].mm, ==, 4.2);
  g_assert_true (isnan (state.measures.v[0].sd));
  g_assert_cmpint (state.measures.v[0].stage, ==, -1);
  g_assert_cmpint (state.first_day, ==, 10);
  core_state_clear (&state);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/fold/windows", test_windows);
  g_test_add_func ("/core/fold/looks", test_looks);
  g_test_add_func ("/core/fold/shed-photo", test_shed_photo);
  g_test_add_func ("/core/fold/stages", test_stages);
  g_test_add_func ("/core/fold/moults-at", test_moults_sd_and_index);
  g_test_add_func ("/core/fold/meals", test_meals);
  g_test_add_func ("/core/fold/signs", test_signs);
  g_test_add_func ("/core/fold/ends", test_ends);
  g_test_add_func ("/core/fold/lot", test_lot);
  g_test_add_func ("/core/fold/looks-dead", test_looks_dead);
  g_test_add_func ("/core/fold/settings", test_settings);
  g_test_add_func ("/core/fold/long-name", test_long_name);
  g_test_add_func ("/core/fold/stays", test_stays);
  g_test_add_func ("/core/fold/place", test_place);
  g_test_add_func ("/core/fold/sex-readings", test_sex_readings);
  g_test_add_func ("/core/fold/care", test_care_and_troubles);
  return g_test_run ();
}
