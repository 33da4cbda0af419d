/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-fold-set.c — ends, settings, stays, places, readings of the sex, care: what each entry does.
 */
#include "journal.h"

#include <math.h>
#include <string.h>

#define NEVER CORE_DAY_NONE

/* ---- ends ---- */

typedef struct
{
  const char *name;
  JournalLine lines[JOURNAL_MAX_LINES];
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
      journal_fold_lines (ends[i].lines, journal, &state);
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

/* ---- settings, stays, places, readings of the sex, care ---- */

static void
test_settings (void)
{
  static const JournalLine lines[JOURNAL_MAX_LINES] = {
    { 100, "set|key=species|value=Hierodula membranacea" },
    { 100, "set|key=number|value=14" },
    { 100, "set|key=name|value=Zora" },
    { 100, "set|key=name|value=Anna" },
    { 101, "set|key=purpose|value=pairing" },
    { 102, "set|key=purpose|value=" },
    { 99, "set|key=code|value=late" },
    { 98, "set|key=code|value=later in the order it is not" }
  };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
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
  static const JournalLine lines[JOURNAL_MAX_LINES] = {
    { 100, "set|key=day_c|value=26.5" },
    { 100, "set|key=night_c|value=warm" },
    { 100, "set|key=heater|value=mat" },
    { 101, "reading|t=24.5|rh=55|minute=600" },
    { 101, "reading|t=22|inside=yes|minute=300" },
    { 103, "power|out_from=02:00|out_to=06:30|lowest=13.5" }
  };
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
  CoreId photo;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  marked = core_entry_new (CORE_KIND_MARKED);
  marked->id = test_id (5000);
  marked->subject = journal->subject;
  marked->day = 120;
  photo =
    journal_add (journal, 120,
                 "photo|hash=00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff")
      ->id;
  g_assert_cmpint (core_entry_set_ref (marked, CORE_KEY_PHOTO, photo), ==, CORE_VALUE_OK);
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
  static const JournalLine lines[JOURNAL_MAX_LINES] = { { 10, "trouble|what=fell" },
                                                        { 90, "trouble|what=thin" },
                                                        { 95, "misted|bulk" },
                                                        { 96, "drank|eager=yes" },
                                                        { 97, "belly|score=4" },
                                                        { 97, "belly|score=2" },
                                                        { 98, "done|rule=clean" },
                                                        { 99,
                                                          "put_off|rule=home|until=1970-04-20" },
                                                        { 100, "measured|what=head|mm=4.2" } };
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;

  journal_fold_lines (lines, journal, &state);
  g_assert_cmpuint (state.troubles.n, ==, 2); /* none is forgotten by the calendar */
  g_assert_cmpint (state.troubles.v[0].what, ==, CORE_TROUBLE_FELL);
  g_assert_cmpint (state.troubles.v[1].what, ==, CORE_TROUBLE_THIN);
  g_assert_cmpint (state.misted, ==, 95);
  g_assert_true (state.drank_eagerly);
  g_assert_cmpint (state.belly, ==, 4); /* of one moment by its value, whichever was written first */
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
