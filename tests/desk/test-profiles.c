/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-profiles.c — the keeper's own values of a kind: kept in the journal, used at once by forecast and
 * plan, undone, merged, read by another program; files in and out. */
#include "desk-fixture.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "desk/desk-profile.h"

#define ORCHID "Hymenopus coronatus"

static gboolean
edit (Desk *desk, const char *species, const char *const *edits, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_profile_edit_async (desk, species, edits, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_profile_edit_finish (desk, result, error);
}

static void
set (Desk *desk, const char *species, const char *one)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (edit (desk, species, (const char *const[]){ one, NULL }, &error));
  g_assert_no_error (error);
}

static void
reset (Desk *desk, const char *species)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  desk_profile_reset_async (desk, species, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_profile_reset_finish (desk, result, &error));
}

static DeskProfileView *
view_of (Desk *desk, const char *species)
{
  g_autoptr (GError) error = NULL;
  DeskProfileView *view = desk_profile_view (desk, species, &error);

  g_assert_no_error (error);
  return view;
}

static guint
n_own (Desk *desk, const char *species)
{
  g_autoptr (DeskProfileView) view = view_of (desk, species);

  return view->n_own;
}

static double
median (Desk *desk, DeskSubject *subject)
{
  g_autoptr (DeskSubject) now = fixture_now (desk, subject);
  const CoreForecast *forecast = desk_subject_forecast (now);

  g_assert_cmpint (forecast->why, ==, CORE_NO_FORECAST_NONE);
  return forecast->days[CORE_Q50];
}

/* ---- editing ---- */

static void
test_view (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskProfileView) view = view_of (fixture->desk, "orchid");
  const DeskProfileValue *mist = desk_profile_value (view, "care", "mist");
  const DeskProfileValue *humidity = desk_profile_value (view, "climate", "humidity");

  g_assert_true (view->shipped);
  g_assert_cmpuint (view->n_own, ==, 0);
  g_assert_null (view->problem);
  g_assert_cmpstr (mist->value, ==, "1;2");
  g_assert_cmpstr (mist->from, ==, "practice");
  g_assert_cmpstr (mist->shipped, ==, "1;2");
  g_assert_cmpstr (humidity->other, ==, "70;90");
  g_assert_nonnull (humidity->note_de);
  g_assert_null (desk_profile_value (view, "care", "wings"));
}

/* The forecast goes by the copy at once, and back again. */
static void
test_forecast (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) orchid =
    fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hymenopus hatched=2026-05-18");
  g_autoptr (DeskSubject) other =
    fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=tenodera hatched=2026-05-18");
  double before, others, after;
  g_autoptr (DeskChange) undone = NULL;

  fixture_record (desk, orchid, "moulted", "seen=yes", -2);
  fixture_record (desk, other, "moulted", "seen=yes", -2);
  before = median (desk, orchid);
  others = median (desk, other);
  set (desk, ORCHID, "development.stage_days=12; 40; 14; 16; 19; 23; 26");
  after = median (desk, orchid);
  g_assert_cmpfloat (after, >, before + 5);
  g_assert_cmpfloat (median (desk, other), ==, others);
  undone = fixture_undo (desk);
  g_assert_cmpfloat (median (desk, orchid), ==, before);
  set (desk, ORCHID, "development.stage_days=12; 40; 14; 16; 19; 23; 26");
  g_assert_cmpfloat (median (desk, orchid), ==, after);
  fixture_reopen (fixture, DESK_OPEN_LAZY); /* the same from the journal */
  g_assert_cmpfloat (median (fixture->desk, orchid), ==, after);
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 1);
  set (fixture->desk, ORCHID, "development.stage_days");
  g_assert_cmpfloat (median (fixture->desk, orchid), ==, before);
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 0);
}

/* So does the plan. */
static void
test_plan (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (DeskSubject) animal =
    fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01 moults=5");
  CoreId nowhere = { 0 };
  CoreDay days[2];

  fixture_record (desk, animal, "misted", "", -1);
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (DeskPlan) plan = desk_plan (desk, desk_today (desk), desk_today (desk) + 20, nowhere);

      days[i] = CORE_DAY_NONE;
      for (guint k = 0; k < plan->tasks->len; k++)
        {
          const CoreTask *task = &g_array_index (plan->tasks, DeskTask, k).task;

          if (task->kind == CORE_TASK_MIST && (days[i] == CORE_DAY_NONE || task->due < days[i]))
            days[i] = task->due;
        }
      g_assert_cmpint (days[i], !=, CORE_DAY_NONE);
      if (i == 0)
        set (desk, "Hierodula membranacea", "care.mist=9–10");
    }
  g_assert_cmpint (days[1], ==, desk_today (desk) - 1 + 9);
  g_assert_cmpint (days[0], <, days[1]);
}

static void
test_refused (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *edits[3];
    const char *says;
  } rows[] = {
    { { "care.mist=0-2" }, "care.mist: “0” is not a number from 1 to 60." },
    { { "care.mist=9-2" }, "must not be above" },
    { { "care.wings=1" }, "is no value" },
    { { "mist=1-2" }, "is no value" },
    { { "profile.scientific=Other kind" }, "is no value" },
    { { "profile.general=true" }, "is no value" },
    { { "sources.paper=mine" }, "is no value" },
    { { "care.mist=1\n2" }, "is no value" },
    { { "profile.common=a\\b" }, "backslash" },
    { { "clock.topt=31" }, "must rise" },
    { { "cue crown.odds=3" }, "is no value" }, /* of another kind */
    { { "care.mist=2-3", "climate.day=40-20" }, "care.mist, climate.day: " },
  };
  static const char *const together[] = { "clock.topt=31", "clock.tflat=32", NULL };
  g_autoptr (DeskSubject) journal = desk_get (fixture->desk, desk_journal_id (fixture->desk));
  g_autoptr (GPtrArray) before =
    desk_history (fixture->desk, desk_journal_id (fixture->desk), NULL);
  g_autoptr (GPtrArray) after = NULL;
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_clear_error (&error);
      g_test_message ("%s", rows[i].edits[0]);
      g_assert_false (edit (fixture->desk, ORCHID, (const char *const *) rows[i].edits, &error));
      g_assert_error (error, DESK_ERROR, DESK_ERROR_VALUE);
      g_assert_nonnull (strstr (error->message, rows[i].says));
    }
  after = desk_history (fixture->desk, desk_journal_id (fixture->desk), NULL);
  g_assert_cmpuint (after->len, ==, before->len); /* nothing was written */
  g_clear_error (&error);
  g_assert_true (edit (fixture->desk, ORCHID, together, &error)); /* what fits only together */
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 2);
}

/* Raw settings cannot be written past the checks. */
static void
test_raw_setting (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) journal = desk_get (fixture->desk, desk_journal_id (fixture->desk));
  GError *error = fixture_try_record (fixture->desk, journal, "set", "key=kind.abcdef.care value=x", 0);

  g_assert_error (error, DESK_ERROR, DESK_ERROR_VALUE);
  g_clear_error (&error);
}

/* A value typed as it is shipped is nothing of one's own; the history says what was done. */
static void
test_same_and_history (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GPtrArray) history = NULL;
  const CoreEntry *last;

  set (fixture->desk, ORCHID, "care.mist=1 – 2");
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 0);
  set (fixture->desk, ORCHID, "care.mist=2-3");
  set (fixture->desk, ORCHID, "climate.night=20-22");
  set (fixture->desk, ORCHID, "care.clean=9-10");
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 3);
  history = desk_history (fixture->desk, desk_journal_id (fixture->desk), NULL);
  last = history->pdata[0];
  g_assert_true (g_str_has_prefix (core_entry_str (last, CORE_KEY_VALUE), ORCHID "\\"));
  g_assert_nonnull (strstr (core_entry_str (last, CORE_KEY_VALUE), "\\mist=2;3\\"));
  reset (fixture->desk, ORCHID);
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 0);
  g_clear_pointer (&history, g_ptr_array_unref);
  history = desk_history (fixture->desk, desk_journal_id (fixture->desk), NULL);
  reset (fixture->desk, ORCHID); /* nothing to do: nothing is written */
  {
    g_autoptr (GPtrArray) again =
      desk_history (fixture->desk, desk_journal_id (fixture->desk), NULL);

    g_assert_cmpuint (again->len, ==, history->len);
  }
}

/* Another program over the same journal writes; this one follows. */
static void
test_two_programs (Fixture *fixture, gconstpointer data)
{
  Desk *second = fixture_open (fixture, DESK_OPEN_LAZY);

  set (second, ORCHID, "care.mist=4-5");
  set (fixture->desk, ORCHID, "care.clean=9-10"); /* loads what came in between */
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 2);
  fixture_close (second);
}

/* ---- files ---- */

static char *
write_file (Fixture *fixture, const char *name, const char *text, gssize length)
{
  char *path = g_build_filename (fixture->base, name, NULL);

  g_assert_true (g_file_set_contents (path, text, length, NULL));
  return path;
}

static DeskProfileFile *
look (Desk *desk, const char *path, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_profile_look_async (desk, path, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_profile_look_finish (result, error);
}

static void
take (Desk *desk, const DeskProfileFile *file)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  desk_profile_take_async (desk, file, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_profile_take_finish (desk, result, &error));
  g_assert_no_error (error);
}

static gboolean
give (Desk *desk, const char *species, const char *path, gboolean replace, GError **error)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  desk_profile_give_async (desk, species, path, replace, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_profile_give_finish (result, error);
}

/* Out of one journal, into another: the same values, and they are said beforehand. */
static void
test_share (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = write_file (fixture, "orchid.profile", "", 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskProfileFile) file = NULL;
  g_autoptr (DeskProfileFile) again = NULL;
  g_autoptr (DeskChange) undone = NULL;

  set (fixture->desk, ORCHID, "care.mist=3-4");
  set (fixture->desk, ORCHID, "cue brow.odds=5");
  g_assert_false (give (fixture->desk, ORCHID, path, FALSE, &error)); /* it is there */
  g_assert_nonnull (error);
  g_clear_error (&error);
  g_assert_true (give (fixture->desk, ORCHID, path, TRUE, &error));
  g_assert_false (give (fixture->desk, "no such kind", path, TRUE, &error));
  g_clear_error (&error);
  {
    g_autofree char *inside = g_build_filename (fixture->dir, "x.profile", NULL);

    g_assert_false (give (fixture->desk, ORCHID, inside, TRUE, &error)); /* never into a journal */
    g_clear_error (&error);
  }
  reset (fixture->desk, ORCHID);
  file = look (fixture->desk, path, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (file->scientific, ==, ORCHID);
  g_assert_true (file->known);
  g_assert_cmpuint (file->changes->len, ==, 2);
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 0); /* looking writes nothing */
  take (fixture->desk, file);
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 2);
  again = look (fixture->desk, path, &error);
  g_assert_cmpuint (again->changes->len, ==, 0);
  undone = fixture_undo (fixture->desk);
  g_assert_cmpuint (n_own (fixture->desk, ORCHID), ==, 0);
  g_unlink (path);
}

/* A kind of which nothing is shipped comes, is used by its animals, and goes. */
static void
test_new_kind (Fixture *fixture, gconstpointer data)
{
  static const char text[] =
    "[profile]\nscientific=Exemplum fictum\ncommon=made-up mantis\ngroup=hardy\n"
    "[development]\nstage_days=30;30;30;30;30\nstage_days.from=measured:paper\n"
    "[cue crest]\nsays=female\nodds=4\nodds.from=own\nfrom_moults=3\nfrom_moults.from=own\n"
    "[sources]\npaper=A paper, 1 page\nunused=Nobody names it\n";
  g_autofree char *path = write_file (fixture, "new.profile", text, -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskProfileFile) file = look (fixture->desk, path, &error);
  g_autoptr (DeskSubject) animal = NULL;
  g_autoptr (DeskProfileView) view = NULL;
  double own;

  g_assert_no_error (error);
  g_assert_false (file->known);
  take (fixture->desk, file);
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  view = view_of (fixture->desk, "exemplum");
  g_assert_false (view->shipped);
  g_assert_cmpuint (view->sources->len, ==, 1);
  g_assert_cmpuint (view->profile->n_cues, ==, 1);
  animal = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL, "species=exemplum hatched=2026-05-20");
  own = median (fixture->desk, animal);
  reset (fixture->desk, "Exemplum fictum");
  g_assert_null (desk_find_profile (fixture->desk, "exemplum", NULL));
  g_assert_cmpfloat (median (fixture->desk, animal), <, own - 5); /* the general one again */
  g_unlink (path);
}

static void
test_bad_files (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *text;
    const char *says;
  } rows[] = {
    { "", "[profile] group" },
    { "[profile]\nscientific=x\n", "line 1, [profile] group" },
    { "[profile]\nscientific=../x\ncommon=x\ngroup=hardy\n", "line 2" },
    { "[profile]\nscientific=Exemplum fictum\ncommon=x\ngroup=hardy\ngeneral=true\n", "general=true" },
    { "[profile]\nscientific=unknown\ncommon=x\ngroup=hardy\n", "general=true" },
    { "[profile]\nscientific=Hymenopus coronatus\ncommon=x\ngroup=humid\n[clock]\ntopt=31\ntopt.from=own\n",
      "[clock]" }, /* 31 alone would pass its own tflat */
    { "\xff\xfe[\0p", "line 1" },
  };
  g_autoptr (GPtrArray) before =
    desk_history (fixture->desk, desk_journal_id (fixture->desk), NULL);
  g_autoptr (GPtrArray) after = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *none = write_file (fixture, "none.profile", "", 0);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *path = write_file (fixture, "bad.profile", rows[i].text, -1);

      g_clear_error (&error);
      g_test_message ("%s", rows[i].text);
      g_assert_null (look (fixture->desk, path, &error));
      g_assert_nonnull (strstr (error->message, rows[i].says));
      g_unlink (path);
    }
  g_unlink (none);
  g_clear_error (&error);
  g_assert_null (look (fixture->desk, none, &error)); /* is not there */
  g_clear_error (&error);
  g_assert_null (look (fixture->desk, fixture->dir, &error)); /* a folder */
  g_clear_error (&error);
  g_assert_null (look (fixture->desk, "/dev/zero", &error)); /* without an end */
  after = desk_history (fixture->desk, desk_journal_id (fixture->desk), NULL);
  g_assert_cmpuint (after->len, ==, before->len);
}

/* What is longer than a setting is refused whole. */
static void
test_too_long (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GString) text =
    g_string_new ("[profile]\nscientific=Exemplum fictum\ncommon=x\ngroup=hardy\n[size]\n"
                  "adult_male_mm=50\nadult_male_mm.from=");
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskProfileFile) file = NULL;
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;

  g_string_append (text, "measured:s0\n[development]\nstage_days=9;9;9;9;9;9;9;9\nstage_days.from=");
  for (int i = 0; i < 8; i++)
    g_string_append_printf (text, "measured:s%d;", i);
  g_string_append (text, "\n[sources]\n");
  for (int i = 0; i < 8; i++)
    {
      g_autofree char *long_text = g_strnfill (900, 'x');

      g_string_append_printf (text, "s%d=%s\n", i, long_text);
    }
  path = write_file (fixture, "long.profile", text->str, -1);
  file = look (fixture->desk, path, &error);
  g_assert_no_error (error);
  desk_profile_take_async (fixture->desk, file, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_false (desk_profile_take_finish (fixture->desk, result, &error));
  g_assert_error (error, DESK_ERROR, DESK_ERROR_VALUE);
  g_assert_nonnull (strstr (error->message, "[sources]"));
  g_assert_null (desk_find_profile (fixture->desk, "exemplum", NULL)); /* nothing half done */
  g_unlink (path);
}

#define TEST(path, func) g_test_add (path, Fixture, NULL, fixture_set_up, func, fixture_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("/profiles/view", test_view);
  TEST ("/profiles/forecast", test_forecast);
  TEST ("/profiles/plan", test_plan);
  TEST ("/profiles/refused", test_refused);
  TEST ("/profiles/raw-setting", test_raw_setting);
  TEST ("/profiles/same-and-history", test_same_and_history);
  TEST ("/profiles/two-programs", test_two_programs);
  TEST ("/profiles/share", test_share);
  TEST ("/profiles/new-kind", test_new_kind);
  TEST ("/profiles/bad-files", test_bad_files);
  TEST ("/profiles/too-long", test_too_long);
  return g_test_run ();
}
