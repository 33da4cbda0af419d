/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-fold.c — windows, looks, meals, ends: what each entry does. */
#include "journal.h"

#include <math.h>
#include <string.h>

#define HASH "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"
#define NONE (-INFINITY)

/* ---- the window of the last stage ---- */

typedef struct
{
  const char *name;
  JournalLine lines[JOURNAL_MAX_LINES];
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
  { "adult, and sub-adult when last looked at",
    { { 100, "hatched" },
      { 105, "moulted|to=subadult" },
      { 118, "looked" },
      { 121, "stage|seen=adult" },
      { 123, "looked" } },
    118,
    121,
    FALSE },
  { "adult, and a nymph when it was last seen at all",
    { { 100, "hatched" },
      { 105, "moulted" },
      { 110, "stage|seen=nymph" },
      { 121, "stage|seen=adult" } },
    110,
    121,
    FALSE },
  { "bought as sub-adult, then adult: not before it came",
    { { 100, "acquired|stage=subadult" }, { 121, "stage|seen=adult" } },
    100,
    121,
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
      journal_fold_lines (windows[i].lines, journal, &state);
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
  { "photo|hash=" HASH, FALSE, FALSE }, /* it names no day */
  { "photo|taken=1970-02-20|hash=" HASH, TRUE, FALSE },
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

/* The last look of journals that hold more than what was seen here. */
static const struct
{
  JournalLine lines[4];
  CoreDay last;
} last_looks[] = {
  { { { 100, "hatched" }, { 150, "acquired|stage=4" } }, CORE_DAY_NONE },
  { { { 150, "acquired|known=no" } }, CORE_DAY_NONE },
  { { { 100, "hatched" } }, CORE_DAY_NONE },
  /* A camera's day before it came is a seller's picture or a wrong clock. */
  { { { 150, "acquired" }, { 151, "photo|taken=1970-05-21|hash=" HASH } }, CORE_DAY_NONE },
  { { { 150, "acquired" }, { 155, "photo|taken=1970-06-02|hash=" HASH } }, 152 },
  { { { 150, "acquired" }, { 140, "photo|hash=" HASH } }, CORE_DAY_NONE },
  { { { 100, "hatched" }, { 99, "photo|hash=" HASH } }, CORE_DAY_NONE },
  { { { 100, "hatched" }, { 103, "photo|taken=1970-04-13|hash=" HASH } }, 102 },
  /* A picture without a day proves no day. */
  { { { 100, "hatched" }, { 103, "photo|hash=" HASH } }, CORE_DAY_NONE },
  { { { 100, "hatched" }, { 101, "looked" }, { 103, "photo|hash=" HASH } }, 101 },
};

static void
test_last_look (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (last_looks); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      g_test_message ("row %zu", i);
      journal_fold_lines (last_looks[i].lines, journal, &state);
      g_assert_cmpint (core_state_last_look (&state), ==, last_looks[i].last);
      core_state_clear (&state);
    }
}

/* Written for a whole shelf after the end it is no conflict; of this animal alone it is. */
static void
test_bulk_after_end (void)
{
  static const struct
  {
    const char *text;
    gsize conflicts;
  } rows[] = { { "misted|bulk", 0 }, { "fed|bulk", 0 }, { "looked|bulk", 0 }, { "misted", 1 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      JournalLine lines[] = {
        { 100, "hatched" }, { 110, "died" }, { 112, rows[i].text }, { CORE_DAY_NONE, NULL }
      };
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      journal_fold_lines (lines, journal, &state);
      g_assert_cmpuint (state.conflicts.n, ==, rows[i].conflicts);
      g_assert_cmpuint (state.looks.n + state.meals.n, ==, 0);
      g_assert_cmpint (state.misted, ==, CORE_DAY_NONE);
      core_state_clear (&state);
    }
}

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
  photo = journal_add (journal, 112, "photo|taken=1970-04-23|hash=" HASH)->id;
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
  /* Were that moult of a later day, it would be the skin of a stage before the first one. */
  for (guint i = 0; i < journal->entries->len; i++)
    {
      CoreEntry *entry = g_ptr_array_index (journal->entries, i);

      if (entry->kind == CORE_KIND_MOULTED)
        entry->day += 10;
    }
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (state.sex.v[0].stage, ==, -1);
  core_state_clear (&state);
}

/* ---- meals and refusals ---- */

typedef struct
{
  const char *name;
  JournalLine lines[JOURNAL_MAX_LINES];
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
      journal_fold_lines (row->lines, journal, &state);
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

/* A trouble of a later program is no trouble here, no look and no sign of life; a moult with a word
 * that is beyond us is a moult, without what the word says. */
static void
test_beyond (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreEntry *drowned, *moult;
  CoreState state;

  journal_add (journal, 100, "hatched");
  journal_add (journal, 110, "looked");
  moult = journal_add (journal, 120, "moulted");
  g_assert_cmpint (core_entry_add_beyond (moult, "outcome", "lost_leg"), ==, CORE_VALUE_OK);
  drowned = journal_add (journal, 130, "trouble|what=eye");
  core_entry_remove (drowned, CORE_KEY_WHAT);
  g_assert_cmpint (core_entry_add_beyond (drowned, "what", "drowned"), ==, CORE_VALUE_OK);
  core_state_init (&state);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (state.moults, ==, 1);
  g_assert_cmpint (state.stages.v[1].outcome, ==, -1);
  g_assert_cmpuint (state.troubles.n, ==, 0);
  g_assert_cmpint (state.last_day, ==, 120);
  core_state_clear (&state);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/fold/windows", test_windows);
  g_test_add_func ("/core/fold/looks", test_looks);
  g_test_add_func ("/core/fold/last-look", test_last_look);
  g_test_add_func ("/core/fold/bulk-after-end", test_bulk_after_end);
  g_test_add_func ("/core/fold/shed-photo", test_shed_photo);
  g_test_add_func ("/core/fold/meals", test_meals);
  g_test_add_func ("/core/fold/beyond", test_beyond);
  return g_test_run ();
}
