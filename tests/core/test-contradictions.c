/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-contradictions.c — entries that cannot all be right: what counts, what is reported. */
#include "journal.h"

#include <math.h>

#include "core/core-growth.h"

/* ---- away and back on one day, without times ---- */

static void
test_turns (void)
{
  static const struct
  {
    const char *name;
    JournalLine lines[JOURNAL_MAX_LINES];
    CoreEnd end;
    gint conflicts;
  } rows[] = {
    { "escaped, found, sold",
      { { 100, "hatched" }, { 200, "escaped" }, { 200, "found" }, { 200, "left|how=sold" } },
      CORE_END_LEFT,
      0 },
    { "lent, back, escaped",
      { { 100, "hatched" }, { 200, "left|how=lent" }, { 200, "back" }, { 200, "escaped" } },
      CORE_END_ESCAPED,
      0 },
    { "escaped, found, escaped, found",
      { { 100, "hatched" },
        { 200, "escaped" },
        { 200, "found" },
        { 200, "escaped" },
        { 200, "found" } },
      CORE_END_NONE,
      0 },
    { "lent before, back and sold on one day",
      { { 100, "hatched" },
        { 190, "left|how=lent" },
        { 200, "back" },
        { 200, "left|how=sold" } },
      CORE_END_LEFT,
      0 },
    { "by their times, whatever was written first",
      { { 100, "hatched" }, { 200, "found|minute=700" }, { 200, "escaped|minute=600" } },
      CORE_END_NONE,
      0 },
    { "escaped twice and never found",
      { { 100, "hatched" }, { 200, "escaped" }, { 200, "escaped" } },
      CORE_END_ESCAPED,
      1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      g_test_message ("%s", rows[i].name);
      journal_fold_lines (rows[i].lines, journal, &state);
      g_assert_cmpint (state.end, ==, rows[i].end);
      g_assert_cmpint ((int) state.conflicts.n, ==, rows[i].conflicts);
      core_state_clear (&state);
    }
}

/* The escape that was corrected, and so written last, still comes before the find. */
static void
test_turns_after_correction (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreEntry *escaped;
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  escaped = journal_add (journal, 200, "escaped");
  journal_add (journal, 200, "found");
  journal_add (journal, 200, "escaped")->names = escaped->id;
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpint (state.end, ==, CORE_END_NONE);
  g_assert_cmpuint (state.conflicts.n, ==, 0);
  core_state_clear (&state);
}

/* ---- a hatch that turns out to be later ---- */

static void
test_housed_before_hatch (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = { { 100, "housed|height_mm=120" },
                                                        { 130, "hatched" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_cmpuint (state.stays.n, ==, 1);
  g_assert_cmpint (state.stays.v[0].day, ==, 130);
  g_assert_cmpuint (state.conflicts.n, ==, 0);
  core_state_clear (&state);
}

/* ---- dead or not ---- */

/* Whoever says that it looks dead has looked; that shows no life. */
static void
test_looks_dead_is_a_look (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = { { 100, "hatched" },
                                                        { 110, "looked" },
                                                        { 120, "looks_dead" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_cmpint (core_state_last_look (&state), ==, 120);
  g_assert_cmpint (state.looks_dead, ==, 120);
  core_state_clear (&state);
}

/* A look of an unsure day proves the old skin on the earliest of its days, no later. */
static void
test_unsure_look (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = { { 100, "hatched" },
                                                        { 130, "looked|earliest=118" },
                                                        { 131, "moulted" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_cmpuint (state.stages.n, ==, 2);
  g_assert_cmpfloat (state.stages.v[1].lo, ==, 118);
  g_assert_cmpfloat (state.stages.v[1].hi, ==, 131);
  core_state_clear (&state);
}

/* A sign of a moult on a day on which it was adult already says nothing, and is reported. */
static void
test_sign_of_adult (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = { { 100, "acquired|stage=adult" },
                                                        { 101, "stage|seen=adult" },
                                                        { 110, "sign|sign=hanging" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_cmpuint (state.signs.n, ==, 0);
  g_assert_cmpuint (state.conflicts.n, ==, 1);
  g_assert_cmpint (state.conflicts.v[0].kind, ==, CORE_CONFLICT_ADULT_MOULTED);
  core_state_clear (&state);
}

/* ---- two lengths of one stage ---- */

static void
test_measures (void)
{
  static const struct
  {
    JournalLine lines[JOURNAL_MAX_LINES];
    gint conflicts;
  } rows[] = {
    { { { 100, "hatched" },
        { 110, "measured|what=body|mm=62.5" },
        { 110, "measured|what=body|mm=5" } },
      1 },
    { { { 100, "hatched" },
        { 110, "measured|what=body|mm=10" },
        { 112, "measured|what=body|mm=12" } },
      0 },
    { { { 100, "hatched" }, { 110, "measured|what=body|mm=10" }, { 112, "measured|what=head|mm=2" } },
      0 },
    { { { 100, "hatched" },
        { 110, "measured|what=body|mm=10" },
        { 120, "moulted|earliest=119" },
        { 125, "measured|what=body|mm=17" } },
      0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Journal) journal = journal_new ();
      CoreState state;

      journal_fold_lines (rows[i].lines, journal, &state);
      g_assert_cmpint ((int) state.conflicts.n, ==, rows[i].conflicts);
      if (rows[i].conflicts > 0)
        g_assert_cmpint (state.conflicts.v[0].kind, ==, CORE_CONFLICT_MEASURES);
      core_state_clear (&state);
    }
}

/* The range of the next length tells of it: it holds both measures' growth. */
static void
test_measures_widen (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = { { 100, "hatched" },
                                                        { 110, "measured|what=head|mm=6" },
                                                        { 110, "measured|what=head|mm=1.5" } };
  static const JournalLine agree[JOURNAL_MAX_LINES] = { { 100, "hatched" },
                                                        { 110, "measured|what=head|mm=3.03" },
                                                        { 110, "measured|what=head|mm=2.97" } };
  g_autoptr (Journal) one = journal_new ();
  g_autoptr (Journal) other = journal_new ();
  CoreProfile profile;
  CoreGrowth wide, tight;
  CoreState state;

  core_profile_init (&profile);
  journal_fold_lines (lines, one, &state);
  wide = core_growth (&state, &profile, .5, CORE_DIM_HEAD, 0);
  core_state_clear (&state);
  journal_fold_lines (agree, other, &state);
  tight = core_growth (&state, &profile, .5, CORE_DIM_HEAD, 0);
  core_state_clear (&state);
  g_assert_cmpint (wide.measured, ==, 2);
  g_assert_cmpfloat (wide.p90 / wide.p10, >, 3);
  g_assert_cmpfloat (tight.p90 / tight.p10, <, 1.2);
}

/* ---- marks ---- */

#define PIXELS "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

/* Two devices marked one picture: the later marks count, and it is said. */
static void
test_two_marks (void)
{
  g_autoptr (Journal) journal = journal_new ();
  g_autofree char *first = NULL, *second = NULL;
  char photo[37];
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  core_id_to_text (journal_add (journal, 150, "photo|hash=" PIXELS)->id, photo);
  first = g_strdup_printf ("marked|photo=%s|side=underside|count=6|by=keeper", photo);
  second = g_strdup_printf ("marked|photo=%s|side=back|count=8|by=keeper", photo);
  journal_add (journal, 150, first);
  journal_add (journal, 150, second);
  journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
  g_assert_cmpuint (state.sex.n, ==, 1);
  g_assert_cmpint (state.sex.v[0].count, ==, 8);
  g_assert_cmpuint (state.conflicts.n, ==, 1);
  g_assert_cmpint (state.conflicts.v[0].kind, ==, CORE_CONFLICT_TWO_MARKS);
  core_state_clear (&state);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/contradictions/turns", test_turns);
  g_test_add_func ("/core/contradictions/turns-corrected", test_turns_after_correction);
  g_test_add_func ("/core/contradictions/housed-before-hatch", test_housed_before_hatch);
  g_test_add_func ("/core/contradictions/looks-dead", test_looks_dead_is_a_look);
  g_test_add_func ("/core/contradictions/unsure-look", test_unsure_look);
  g_test_add_func ("/core/contradictions/sign-of-adult", test_sign_of_adult);
  g_test_add_func ("/core/contradictions/measures", test_measures);
  g_test_add_func ("/core/contradictions/measures-widen", test_measures_widen);
  g_test_add_func ("/core/contradictions/two-marks", test_two_marks);
  return g_test_run ();
}
