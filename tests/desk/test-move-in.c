/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-move-in.c — the table for many animals: what is read, refused, filled, pasted, written. */
#include "desk-fixture.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "desk/desk-when.h"
#include "desk/move-in-model.h"

/* ---- days as they are said; today is Monday, 1 June 2026 ---- */

static void
test_days (void)
{
  static const struct
  {
    const char *text;
    DeskWhenStatus status;
    int earliest, said, latest; /* days from today */
  } cases[] = {
    { "today", DESK_WHEN_OK, 0, 0, 0 },
    { "Gestern", DESK_WHEN_OK, -1, -1, -1 },
    { "y", DESK_WHEN_OK, -1, -1, -1 },
    { "sunday", DESK_WHEN_OK, -1, -1, -1 },
    { "so", DESK_WHEN_OK, -1, -1, -1 },
    { "mo", DESK_WHEN_OK, 0, 0, 0 },
    { "last Monday", DESK_WHEN_OK, -7, -7, -7 },
    { "tue", DESK_WHEN_OK, -6, -6, -6 },
    { "s", DESK_WHEN_AMBIGUOUS, 0, 0, 0 },
    { "5", DESK_WHEN_OK, -5, -5, -5 },
    { "14", DESK_WHEN_OK, -16, -14, -12 },
    { "3 days ago", DESK_WHEN_OK, -3, -3, -3 },
    { "~3 days", DESK_WHEN_OK, -5, -3, -1 },
    { "vor 10 Tagen", DESK_WHEN_OK, -11, -10, -9 },
    { "3w", DESK_WHEN_OK, -24, -21, -18 },
    { "about 3 weeks ago", DESK_WHEN_OK, -26, -21, -16 },
    { "a week ago", DESK_WHEN_OK, -10, -7, -4 },
    { "vor etwa einer Woche", DESK_WHEN_OK, -10, -7, -4 },
    { "last week", DESK_WHEN_OK, -10, -7, -4 },
    { "2 mo", DESK_WHEN_OK, -69, -61, -53 },
    { "10 May", DESK_WHEN_OK, -22, -22, -22 },
    { "10. Mai", DESK_WHEN_OK, -22, -22, -22 },
    { "May 10", DESK_WHEN_OK, -22, -22, -22 },
    { "10.5.", DESK_WHEN_OK, -22, -22, -22 },
    { "10.05.26", DESK_WHEN_OK, -22, -22, -22 },
    { "10.05.2026", DESK_WHEN_OK, -22, -22, -22 },
    { "2026-05-10", DESK_WHEN_OK, -22, -22, -22 },
    { "10/5", DESK_WHEN_AMBIGUOUS, 0, 0, 0 },
    { "20/5", DESK_WHEN_OK, -12, -12, -12 },
    { "5/20", DESK_WHEN_OK, -12, -12, -12 },
    { "ca. 10.5.", DESK_WHEN_OK, -24, -22, -20 },
    { "10 Nov", DESK_WHEN_OK, -203, -203, -203 },
    { "10 Nov 2026", DESK_WHEN_FUTURE, 0, 0, 0 },
    { "may", DESK_WHEN_OK, -31, -16, -1 },
    { "30 Feb", DESK_WHEN_NO_DAY, 0, 0, 0 },
    { "tomorrow", DESK_WHEN_NO_DAY, 0, 0, 0 },
    { "1 May 1999", DESK_WHEN_TOO_OLD, 0, 0, 0 },
    { "9999 days", DESK_WHEN_TOO_OLD, 0, 0, 0 },
    { "1234567", DESK_WHEN_NO_DAY, 0, 0, 0 },
    { "10 May May", DESK_WHEN_NO_DAY, 0, 0, 0 },
    { "10 Mai 3 4 5 6 7 8 9 10", DESK_WHEN_NO_DAY, 0, 0, 0 },
    { "!", DESK_WHEN_NO_DAY, 0, 0, 0 },
  };
  CoreDay today = core_day_from_ymd (2026, 6, 1);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      DeskWhen when;

      g_test_message ("%s", cases[i].text);
      g_assert_cmpint (desk_when_parse (cases[i].text, today, &when), ==, cases[i].status);
      if (cases[i].status != DESK_WHEN_OK)
        {
          g_assert_cmpint (when.said, ==, CORE_DAY_NONE);
          continue;
        }
      g_assert_cmpint (when.said - today, ==, cases[i].said);
      g_assert_cmpint (when.earliest - today, ==, cases[i].earliest);
      g_assert_cmpint (when.latest - today, ==, cases[i].latest);
    }
}

static void
test_no_day (void)
{
  static const char *const texts[] = { "", " ", "?", "-", "unknown", "unbekannt" };
  DeskWhen when;

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_assert_cmpint (desk_when_parse (texts[i], 20000, &when), ==, DESK_WHEN_OK);
      g_assert_cmpint (when.said, ==, CORE_DAY_NONE);
    }
}

/* ---- cells ---- */

static void
shows (MoveInModel *model, MoveInColumn column, const char *text, const char *shown)
{
  g_test_message ("%s", text);
  move_in_model_set (model, 0, column, text);
  g_assert_cmpint (move_in_model_problem (model, 0, column), ==, MOVE_IN_OK);
  g_assert_cmpstr (move_in_model_shown (model, 0, column), ==, shown);
}

static void
refuses (MoveInModel *model,
         MoveInColumn column,
         const char *text,
         MoveInProblem problem,
         const char *says)
{
  g_autofree char *said = NULL;

  g_test_message ("%s", text);
  move_in_model_set (model, 0, column, text);
  g_assert_cmpint (move_in_model_problem (model, 0, column), ==, problem);
  said = move_in_model_says (model, 0, column);
  g_assert_nonnull (strstr (said, says));
}

static void
test_cells (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);

  shows (model, MOVE_IN_SPECIES, "hier", "Hierodula membranacea");
  shows (model, MOVE_IN_SPECIES, "H. membr", "Hierodula membranacea");
  shows (model, MOVE_IN_SPECIES, "Unknown", "unknown");
  refuses (model, MOVE_IN_SPECIES, "h", MOVE_IN_SPECIES_SEVERAL, "Hymenopus coronatus");
  refuses (model, MOVE_IN_SPECIES, "hirodula", MOVE_IN_SPECIES_NEAR,
           "Is it Hierodula membranacea?");
  refuses (model, MOVE_IN_SPECIES, "zzzzzzzz", MOVE_IN_SPECIES_NONE, "Tenodera sinensis");
  shows (model, MOVE_IN_STAGE, "4", "L4");
  shows (model, MOVE_IN_STAGE, "l 4-5", "L4-5");
  shows (model, MOVE_IN_STAGE, "sub", "sub-adult");
  shows (model, MOVE_IN_STAGE, "AD", "adult");
  shows (model, MOVE_IN_STAGE, "?", "");
  refuses (model, MOVE_IN_STAGE, "L16", MOVE_IN_STAGE_FORM, "Take L4");
  refuses (model, MOVE_IN_STAGE, "big", MOVE_IN_STAGE_FORM, "“big”");
  shows (model, MOVE_IN_STAGE, "L1", "L1");
  move_in_model_set_scheme (model, 2);
  g_assert_cmpint (move_in_model_problem (model, 0, MOVE_IN_STAGE), ==, MOVE_IN_STAGE_EARLY);
  shows (model, MOVE_IN_SEX, "M", "male");
  shows (model, MOVE_IN_SEX, "w", "female");
  shows (model, MOVE_IN_SEX, "0.1", "female");
  shows (model, MOVE_IN_SEX, "?", "");
  refuses (model, MOVE_IN_SEX, "x", MOVE_IN_SEX_FORM, "Take m, f");
  shows (model, MOVE_IN_MOULT, "3w", "about 11 May");
  shows (model, MOVE_IN_FED, "sunday", "31 May");
  refuses (model, MOVE_IN_FED, "10 Nov 2026", MOVE_IN_DAY_FUTURE, "still to come");
  shows (model, MOVE_IN_AT, "2,5", "2,5");
  refuses (model, MOVE_IN_AT, "first", MOVE_IN_AT_NUMBER, "3.5");
  shows (model, MOVE_IN_NUMBER, "14a", "14a");
  refuses (model, MOVE_IN_NUMBER, "a14", MOVE_IN_NUMBER_FORM, "14a");
}

static void
test_places (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) a = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "name=Upper code=U1");
  g_autoptr (DeskSubject) b = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "name=Uppland");
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);

  shows (model, MOVE_IN_PLACE, "u1", "Upper");
  g_assert_false (move_in_model_new_place (model, 0));
  shows (model, MOVE_IN_PLACE,
         "upple"
         "r",
         "uppler");
  g_assert_true (move_in_model_new_place (model, 0));
  shows (model, MOVE_IN_PLACE, "uppl", "Uppland");
  refuses (model, MOVE_IN_PLACE, "upp", MOVE_IN_PLACE_SEVERAL, "Upper, Uppland");
  shows (model, MOVE_IN_PLACE, "+upp", "upp");
  g_assert_true (move_in_model_new_place (model, 0));
}

static void
test_numbers (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) old = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL,
                                             "species=hierodula hatched=2026-03-01 number=16");
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);

  g_assert_cmpstr (move_in_model_shown (model, 0, MOVE_IN_NUMBER), ==, "17");
  refuses (model, MOVE_IN_NUMBER, "16", MOVE_IN_NUMBER_GIVEN, "16 was given before");
  shows (model, MOVE_IN_NUMBER, "14", "14");
  for (int i = 0; i < 4; i++)
    g_assert_true (move_in_model_append (model));
  /* On from 14, around the 16 that was given before and the 15 below. */
  g_assert_cmpstr (move_in_model_shown (model, 1, MOVE_IN_NUMBER), ==, "15");
  move_in_model_set (model, 2, MOVE_IN_NUMBER, "15");
  g_assert_cmpstr (move_in_model_shown (model, 1, MOVE_IN_NUMBER), ==, "17");
  move_in_model_set (model, 2, MOVE_IN_NUMBER, "14A");
  g_assert_cmpint (move_in_model_problem (model, 2, MOVE_IN_NUMBER), ==, MOVE_IN_OK);
  move_in_model_set (model, 3, MOVE_IN_NUMBER, "14a");
  g_assert_cmpint (move_in_model_problem (model, 3, MOVE_IN_NUMBER), ==, MOVE_IN_NUMBER_TWICE);
}

/* What came from elsewhere meanwhile is seen. */
static void
test_number_taken_meanwhile (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autoptr (DeskSubject) other = NULL;

  shows (model, MOVE_IN_NUMBER, "5", "5");
  other = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL,
                       "species=unknown number=5 acquired=2026-05-01");
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_cmpint (move_in_model_problem (model, 0, MOVE_IN_NUMBER), ==, MOVE_IN_NUMBER_GIVEN);
}

/* ---- filling ---- */

static void
fills (MoveInModel *model, const char *range, MoveInColumn column, const char *text, guint n)
{
  g_autofree char *problem = NULL;
  guint filled = move_in_model_fill (model, range, column, text, &problem);

  g_assert_cmpstr (problem, ==, NULL);
  g_assert_cmpuint (filled, ==, n);
}

static void
fill_fails (MoveInModel *model, const char *range, const char *says)
{
  g_autofree char *problem = NULL;

  g_test_message ("%s", range);
  g_assert_cmpuint (move_in_model_fill (model, range, MOVE_IN_STAGE, "4", &problem), ==, 0);
  g_assert_nonnull (strstr (problem, says));
}

static void
test_range (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) old = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL,
                                             "species=hierodula hatched=2026-03-01 number=90");
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);

  fills (model, "1-20", MOVE_IN_PLACE, "A", 20);
  g_assert_cmpuint (move_in_model_n_rows (model), ==, 20);
  g_assert_cmpstr (move_in_model_text (model, 19, MOVE_IN_NUMBER), ==, "20");
  fills (model, "5 – 7, 20; 31a", MOVE_IN_STAGE, "sub", 5);
  g_assert_cmpuint (move_in_model_n_rows (model), ==, 21);
  g_assert_cmpstr (move_in_model_text (model, 6, MOVE_IN_STAGE), ==, "sub");
  g_assert_cmpstr (move_in_model_text (model, 7, MOVE_IN_STAGE), ==, "");
  g_assert_cmpstr (move_in_model_text (model, 20, MOVE_IN_NUMBER), ==, "31a");
  g_assert_cmpstr (move_in_model_text (model, 20, MOVE_IN_PLACE), ==, "A");
  fills (model, "", MOVE_IN_SPECIES, "hier", 21);
  fill_fails (model, "20-1", "no range");
  fill_fails (model, "1-", "no range");
  fill_fails (model, "x", "no range");
  fill_fails (model, "0-3", "no range");
  fill_fails (model, "88-91", "90 was given before");
  fill_fails (model, "91-99999999", "400 animals at most");
  g_assert_cmpuint (move_in_model_n_rows (model), ==, 21);
}

static void
test_ditto (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);

  move_in_model_set (model, 0, MOVE_IN_PLACE, "A");
  move_in_model_set (model, 0, MOVE_IN_SPECIES, "hier");
  for (int i = 0; i < 4; i++)
    move_in_model_append (model);
  g_assert_cmpstr (move_in_model_text (model, 4, MOVE_IN_PLACE), ==, "A");
  g_assert_cmpstr (move_in_model_text (model, 1, MOVE_IN_SPECIES), ==, "");
  move_in_model_set (model, 1, MOVE_IN_SPECIES, "\"");
  move_in_model_settle (model, 1, MOVE_IN_SPECIES);
  g_assert_cmpstr (move_in_model_text (model, 1, MOVE_IN_SPECIES), ==, "hier");
  move_in_model_set (model, 4, MOVE_IN_SPECIES, "unknown");
  g_assert_cmpuint (move_in_model_fill_down (model, 1, MOVE_IN_SPECIES), ==, 2);
  g_assert_cmpstr (move_in_model_text (model, 3, MOVE_IN_SPECIES), ==, "hier");
  g_assert_cmpstr (move_in_model_text (model, 4, MOVE_IN_SPECIES), ==, "unknown");
}

/* ---- pasting ---- */

static void
pastes (MoveInModel *model, const char *text, guint rows, gboolean headings, const char *left_out)
{
  MoveInPasted pasted;
  g_autofree char *problem = NULL;

  g_assert_true (move_in_model_paste (model, 0, 0, text, strlen (text), &pasted, &problem));
  g_assert_cmpstr (problem, ==, NULL);
  g_assert_cmpuint (pasted.rows, ==, rows);
  g_assert_cmpint (pasted.headings, ==, headings);
  g_assert_cmpstr (pasted.left_out != NULL ? pasted.left_out[0] : NULL, ==, left_out);
  move_in_pasted_clear (&pasted);
}

static void
cell_is (MoveInModel *model, guint row, MoveInColumn column, const char *shown)
{
  g_autofree char *says = move_in_model_says (model, row, column);

  g_assert_cmpstr (says, ==, NULL);
  g_assert_cmpstr (move_in_model_shown (model, row, column), ==, shown);
}

static void
test_paste (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);

  pastes (model,
          "\xef\xbb\xbfNr.;Art;Stadium;Geschlecht;Preis;Letzte Häutung;Regal\r\n"
          "14a;\"Hierodula membranacea\";L4;w;\"12,50\";10.05.2026;\"Regal \"\"Süd\"\"\"\r\n"
          "\r\n"
          "15;Sphodromantis;adult;m;;vor 3 Wochen;\"Regal\n\"\"Süd\"\"\"\r\n",
          2, TRUE, "Preis");
  cell_is (model, 0, MOVE_IN_NUMBER, "14a");
  cell_is (model, 0, MOVE_IN_SPECIES, "Hierodula membranacea");
  cell_is (model, 0, MOVE_IN_STAGE, "L4");
  cell_is (model, 0, MOVE_IN_SEX, "female");
  cell_is (model, 0, MOVE_IN_MOULT, "10 May");
  cell_is (model, 0, MOVE_IN_PLACE, "Regal \"Süd\"");
  cell_is (model, 1, MOVE_IN_SPECIES, "Sphodromantis viridis");
  cell_is (model, 1, MOVE_IN_PLACE, "Regal \"Süd\"");
  cell_is (model, 1, MOVE_IN_MOULT, "about 11 May");
  move_in_model_clear (model);
  /* No headings: in the order of the table. */
  pastes (model, "A\t1,5\t7\thier\t4\t\"\nA\t2\t8\t\"\t\t\tsunday\n", 2, FALSE, NULL);
  cell_is (model, 0, MOVE_IN_AT, "1,5");
  cell_is (model, 0, MOVE_IN_NUMBER, "7");
  cell_is (model, 0, MOVE_IN_SEX, "");
  cell_is (model, 1, MOVE_IN_SPECIES, "Hierodula membranacea");
  cell_is (model, 1, MOVE_IN_MOULT, "31 May");
  move_in_model_clear (model);
  pastes (model, "cup,species,fed\n3,\"ghost mantis\",\n", 1, TRUE, NULL);
  cell_is (model, 0, MOVE_IN_SPECIES, "Phyllocrania paradoxa");
}

static void
paste_fails (MoveInModel *model, const char *text, gsize length, const char *says)
{
  MoveInPasted pasted;
  g_autofree char *problem = NULL;

  g_assert_false (move_in_model_paste (model, 0, 0, text, length, &pasted, &problem));
  g_test_message ("%s", problem);
  g_assert_nonnull (strstr (problem, says));
  g_assert_null (pasted.left_out);
  g_assert_cmpstr (move_in_model_text (model, 0, MOVE_IN_PLACE), ==, "kept");
  g_assert_cmpuint (move_in_model_n_rows (model), ==, 1);
}

static void
test_bad_paste (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autofree char *large = g_strnfill (1024 * 1024 + 1, 'x');
  g_autoptr (GString) many = g_string_new (NULL);
  g_autofree char *wide = g_strnfill (70, ';');
  g_autofree char *ten = g_strnfill (10, ';');
  g_autofree char *nulls = g_strnfill (8, 'A');

  nulls[3] = '\0';
  ten[0] = 'A';
  move_in_model_set (model, 0, MOVE_IN_PLACE, "kept");
  for (int i = 0; i < 402; i++)
    g_string_append (many, "A\n");
  paste_fails (model, "", 0, "nothing in it");
  paste_fails (model, " \n\t\n", 4, "nothing in it");
  paste_fails (model, large, strlen (large), "1 MiB");
  paste_fails (model, nulls, 8, "no table of text");
  paste_fails (model, "B\xff\xfe\n", 4, "not in UTF-8");
  paste_fails (model, "A;1\nB;\"open\nC;3\n", 16, "line 2");
  paste_fails (model, many->str, many->len, "400 animals at most");
  paste_fails (model, wide, strlen (wide), "columns");
  ten[9] = 'x';
  paste_fails (model, ten, strlen (ten), "9 columns");
}

static void
test_long_cells (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autofree char *letters = g_strnfill (300, 'x');
  g_autofree char *says = NULL;

  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    {
      move_in_model_set (model, 0, (MoveInColumn) i, letters);
      g_assert_cmpint (move_in_model_problem (model, 0, (MoveInColumn) i), ==, MOVE_IN_TOO_LONG);
      g_assert_cmpuint (strlen (move_in_model_text (model, 0, (MoveInColumn) i)), <, 300);
    }
  move_in_model_set (model, 0, MOVE_IN_SPECIES, "hier\x01\tx");
  g_assert_cmpstr (move_in_model_text (model, 0, MOVE_IN_SPECIES), ==, "hier  x");
}

/* ---- saving ---- */

static GError *
save (MoveInModel *model, guint *animals)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;

  move_in_model_save_async (model, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  move_in_model_save_finish (model, result, animals, &error);
  return error;
}

static guint
saves (MoveInModel *model)
{
  guint animals = 0;
  g_autoptr (GError) error = save (model, &animals);

  g_assert_no_error (error);
  return animals;
}

static DeskSubject *
found (Fixture *fixture, const char *label)
{
  g_autoptr (GError) error = NULL;
  DeskSubject *subject = desk_find (fixture->desk, label, &error);

  g_assert_no_error (error);
  return subject;
}

static void
test_save (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autoptr (DeskSubject) first = NULL;
  g_autoptr (DeskSubject) second = NULL;
  g_autoptr (DeskSubject) shelf = NULL;
  g_autoptr (GPtrArray) animals = NULL;
  const CoreState *state;
  double at = 0;
  const char *text = "A\t\t14a\thier\tL5\tf\t3w\tsunday\n"
                     "A\t\t\tghost\tadult\tm\t~10 May\t\n"
                     "B\t\t\tunknown\t\t\t\t\n"
                     "A\t\t\thier\t4\t\ttoday\t\n"
                     "B\t\t\t\t\t\t\t\n";

  pastes (model, text, 5, FALSE, NULL);
  /* The last row says nothing but its place. */
  g_assert_cmpuint (saves (model), ==, 4);
  g_assert_false (move_in_model_has_draft (fixture->desk));
  g_assert_cmpuint (move_in_model_n_rows (model), ==, 1);
  shelf = found (fixture, "A");
  animals = desk_animals_on (fixture->desk, desk_subject_id (shelf));
  g_assert_cmpuint (animals->len, ==, 3);

  first = found (fixture, "14a");
  state = desk_subject_state (first);
  g_assert_cmpstr (state->species, ==, "Hierodula membranacea");
  g_assert_cmpint (state->moults, ==, 4);
  g_assert_cmpint (state->basis, ==, CORE_BASIS_ESTIMATED);
  g_assert_cmpstr (state->claim_stage, ==, "L5");
  g_assert_cmpint (state->claim_scheme, ==, 1);
  g_assert_cmpint (state->acquired, ==, fixture_day (0));
  g_assert_cmpint (state->last_offered, ==, fixture_day (-1));
  /* Its stage began between 24 and 18 days ago. */
  g_assert_cmpuint (state->stages.n, ==, 1);
  g_assert_cmpfloat (state->stages.v[0].lo, ==, fixture_day (-25));
  g_assert_cmpfloat (state->stages.v[0].hi, ==, fixture_day (-18));
  g_assert_cmpint (desk_subject_forecast (first)->why, ==, CORE_NO_FORECAST_NONE);
  g_assert_cmpfloat (desk_subject_verdict (first)->female, >, .5);
  g_assert_true (desk_subject_place (first, NULL, &at));
  g_assert_cmpfloat (at, ==, 1);

  second = found (fixture, "15");
  state = desk_subject_state (second);
  g_assert_true (state->adult);
  g_assert_cmpint (state->adult_seen, ==, fixture_day (-20));
  g_assert_cmpuint (state->conflicts.n, ==, 0);

  g_clear_pointer (&second, desk_subject_unref);
  second = found (fixture, "16");
  g_assert_cmpstr (desk_subject_state (second)->species, ==, "");
  g_assert_cmpint (desk_subject_state (second)->moults, ==, -1);

  /* A moult of today came before the stage that was said. */
  g_clear_pointer (&second, desk_subject_unref);
  second = found (fixture, "17");
  g_assert_cmpint (desk_subject_state (second)->moults, ==, 3);
  g_assert_true (desk_subject_place (second, NULL, &at));
  g_assert_cmpfloat (at, ==, 3);
}

static void
test_order (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) shelf = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "name=A");
  g_autoptr (DeskSubject) old =
    fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL,
                 "species=hierodula hatched=2026-03-01 place=A number=9");
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autoptr (GPtrArray) animals = NULL;
  g_autoptr (GString) order = g_string_new (NULL);

  pastes (model, "a\t\t1\na\t0,5\t2\na\t\t3\n", 3, FALSE, NULL);
  g_assert_cmpuint (saves (model), ==, 3);
  animals = desk_animals_on (fixture->desk, desk_subject_id (shelf));
  for (guint i = 0; i < animals->len; i++)
    g_string_append_printf (order, "%s ", desk_subject_label (animals->pdata[i]));
  g_assert_cmpstr (order->str, ==, "2 9 1 3 ");
}

static void
everything_cb (Desk *desk, DeskSubject *subject, gpointer data)
{
  g_assert_null (subject);
  (*(guint *) data)++;
}

static void
test_one_undo (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autoptr (DeskChange) undone = NULL;
  g_autoptr (DeskChange) redone = NULL;
  g_autoptr (GPtrArray) animals = NULL;
  g_autoptr (GPtrArray) places = NULL;
  g_autofree char *says = NULL;
  WordsView view = { WORDS_ENGLISH, fixture_day (0), 1 };
  guint changes = 0;

  fills (model, "1-80", MOVE_IN_PLACE, "A", 80);
  fills (model, "", MOVE_IN_SPECIES, "hier", 80);
  g_signal_connect (fixture->desk, "changed", G_CALLBACK (everything_cb), &changes);
  g_assert_cmpuint (saves (model), ==, 80);
  /* Who listens works anew once, not for each of them. */
  g_assert_cmpuint (changes, ==, 1);
  g_signal_handlers_disconnect_by_data (fixture->desk, &changes);
  undone = fixture_undo (fixture->desk);
  says = words_change (&view, FALSE, undone->label, undone->place, undone->said, undone->entries->len);
  g_assert_cmpstr (says, ==, "Took back the moving in, from 1 on: 321 entries.");
  animals = desk_animals (fixture->desk);
  places = desk_places (fixture->desk);
  g_assert_cmpuint (animals->len, ==, 0);
  g_assert_cmpuint (places->len, ==, 0);
  g_clear_pointer (&animals, g_ptr_array_unref);
  redone = fixture_redo (fixture->desk);
  animals = desk_animals (fixture->desk);
  g_assert_cmpuint (animals->len, ==, 80);
}

static void
test_nothing_half_written (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autoptr (GError) empty = save (model, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) animals = NULL;
  MoveInSummary summary;

  g_assert_error (empty, DESK_ERROR, DESK_ERROR_VALUE);
  pastes (model, "A\t\t1\thier\nA\t\t2\twhat\nA\t\t2\thier\n", 3, FALSE, NULL);
  move_in_model_summary (model, &summary);
  g_assert_cmpuint (summary.animals, ==, 3);
  g_assert_cmpuint (summary.problems, ==, 2);
  g_assert_cmpuint (summary.row, ==, 1);
  g_assert_cmpint (summary.column, ==, MOVE_IN_SPECIES);
  g_assert_cmpstr (summary.new_places[0], ==, "A");
  g_assert_null (summary.new_places[1]);
  move_in_summary_clear (&summary);
  error = save (model, NULL);
  g_assert_error (error, DESK_ERROR, DESK_ERROR_VALUE);
  animals = desk_animals (fixture->desk);
  g_assert_cmpuint (animals->len, ==, 0);
  g_assert_cmpuint (move_in_model_n_rows (model), ==, 3);
  g_assert_false (desk_can_undo (fixture->desk));
}

static void
test_draft (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autoptr (MoveInModel) again = NULL;

  g_assert_false (move_in_model_has_draft (fixture->desk));
  move_in_model_set_scheme (model, 2);
  pastes (model, "A\t\t14a\thier\tL5\nB\t\t\t\t\t\t\t3w\n", 2, FALSE, NULL);
  g_clear_object (&model);
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  g_assert_true (move_in_model_has_draft (fixture->desk));
  again = move_in_model_new (fixture->desk);
  g_assert_true (move_in_model_restore (again));
  g_assert_cmpint (move_in_model_scheme (again), ==, 2);
  g_assert_cmpuint (move_in_model_n_rows (again), ==, 2);
  cell_is (again, 0, MOVE_IN_NUMBER, "14a");
  cell_is (again, 1, MOVE_IN_FED, "about 11 May");
  move_in_model_clear (again);
  g_assert_false (move_in_model_has_draft (fixture->desk));
  /* What is kept beside the table is kept with it. */
  pastes (again, "no;species;name;notes\n3;ghost;Frieda;shy\n4;ghost;;\n", 2, TRUE, NULL);
  g_clear_object (&again);
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  again = move_in_model_new (fixture->desk);
  g_assert_true (move_in_model_restore (again));
  g_assert_cmpstr (move_in_model_text (again, 0, MOVE_IN_NAME), ==, "Frieda");
  g_assert_cmpstr (move_in_model_text (again, 0, MOVE_IN_NOTES), ==, "shy");
  g_assert_cmpstr (move_in_model_text (again, 1, MOVE_IN_NOTES), ==, "");
  move_in_model_clear (again);
}

/* ---- the plan starts calm ---- */

typedef struct
{
  GHashTable *lines; /* place of the animal, task, first prey: what stands in one line of a list */
  guint due, overdue, touching;
} Calm;

static Calm
look_at_plan (Fixture *fixture)
{
  g_autoptr (GPtrArray) animals = desk_animals (fixture->desk);
  Calm calm = { .lines = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL) };
  CoreDay today = desk_today (fixture->desk);

  for (guint i = 0; i < animals->len; i++)
    {
      const CorePlan *plan = desk_subject_plan (animals->pdata[i]);
      CoreId place;
      char id[37];

      g_assert_true (desk_subject_place (animals->pdata[i], &place, NULL));
      core_id_to_text (place, id);
      for (size_t j = 0; j < plan->tasks.n; j++)
        {
          const CoreTask *task = &plan->tasks.v[j];

          if (task->day > today || task->due > today)
            continue;
          calm.due++;
          calm.overdue += task->latest < today || task->due < today;
          calm.touching += task->reach == CORE_REACH_TOUCH;
          g_hash_table_add (calm.lines,
                            g_strdup_printf ("%s %s %d", id, core_task_name (task->kind),
                                             task->n_prey > 0 ? task->prey[0].prey : -1));
        }
    }
  return calm;
}

static void
test_calm_unknown (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  Calm calm;

  fills (model, "1-40", MOVE_IN_PLACE, "A", 40);
  fills (model, "41-80", MOVE_IN_PLACE, "B", 40);
  fills (model, "1-40", MOVE_IN_SPECIES, "hier", 40);
  fills (model, "41-70", MOVE_IN_SPECIES, "ghost", 30);
  fills (model, "1-30, 41-60", MOVE_IN_STAGE, "5", 50);
  fills (model, "31-40", MOVE_IN_STAGE, "adult", 10);
  g_assert_cmpuint (saves (model), ==, 80);
  calm = look_at_plan (fixture);
  g_assert_cmpuint (calm.overdue, ==, 0);
  g_assert_cmpuint (calm.touching, ==, 0);
  /* Look, feed, spray, for each. */
  g_assert_cmpuint (calm.due, ==, 240);
  g_test_message ("%u lines on two shelves", g_hash_table_size (calm.lines));
  g_assert_cmpuint (g_hash_table_size (calm.lines), <=, 10);
  g_hash_table_unref (calm.lines);
}

/* The pictures of the underside are spread over two weeks. */
static void
test_calm_pictures (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  g_autoptr (GPtrArray) animals = NULL;
  guint of_day[22] = { 0 }, all = 0, most = 0;

  fills (model, "1-80", MOVE_IN_PLACE, "A", 80);
  fills (model, "1-80", MOVE_IN_SPECIES, "hier", 80);
  fills (model, "1-80", MOVE_IN_STAGE, "6", 80);
  g_assert_cmpuint (saves (model), ==, 80);
  animals = desk_animals (fixture->desk);
  for (guint i = 0; i < animals->len; i++)
    {
      const CorePlan *plan = desk_subject_plan (animals->pdata[i]);

      for (size_t j = 0; j < plan->tasks.n; j++)
        if (plan->tasks.v[j].kind == CORE_TASK_SEX_CHECK)
          {
            CoreDay after = plan->tasks.v[j].due - fixture_day (0);

            g_assert_cmpint (after, >=, 1);
            g_assert_cmpint (after, <=, 14);
            of_day[after]++;
            all++;
          }
    }
  for (guint i = 0; i < G_N_ELEMENTS (of_day); i++)
    most = MAX (most, of_day[i]);
  g_test_message ("%u pictures, at most %u on one day", all, most);
  g_assert_cmpuint (all, ==, 80);
  /* Ids are random: 80 over 14 days are 5.7 a day; 19 on one of them is 1 in 10,000. */
  g_assert_cmpuint (most, <, 19);
}

/* What is known from before came before the journal: it is no work that was missed. */
static void
test_calm_known (Fixture *fixture, gconstpointer data)
{
  g_autoptr (MoveInModel) model = move_in_model_new (fixture->desk);
  Calm calm;

  fills (model, "1-80", MOVE_IN_PLACE, "A", 80);
  fills (model, "1-80", MOVE_IN_SPECIES, "hier", 80);
  fills (model, "1-70", MOVE_IN_STAGE, "6", 70);
  fills (model, "71-80", MOVE_IN_STAGE, "adult", 10);
  fills (model, "1-40", MOVE_IN_MOULT, "3w", 40);
  fills (model, "41-60", MOVE_IN_MOULT, "4", 20);
  fills (model, "61-80", MOVE_IN_MOULT, "5 months", 20);
  fills (model, "1-80", MOVE_IN_FED, "about a week ago", 80);
  g_assert_cmpuint (saves (model), ==, 80);
  calm = look_at_plan (fixture);
  g_assert_cmpuint (calm.overdue, ==, 0);
  g_assert_cmpuint (calm.touching, ==, 0);
  g_test_message ("%u lines, %u due", g_hash_table_size (calm.lines), calm.due);
  g_assert_cmpuint (g_hash_table_size (calm.lines), <=, 6);
  g_hash_table_unref (calm.lines);
}

#define ADD(path, function)                                                                        \
  g_test_add (path, Fixture, NULL, fixture_set_up, function, fixture_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/move-in/days", test_days);
  g_test_add_func ("/move-in/no-day", test_no_day);
  ADD ("/move-in/cells", test_cells);
  ADD ("/move-in/places", test_places);
  ADD ("/move-in/numbers", test_numbers);
  ADD ("/move-in/number-taken-meanwhile", test_number_taken_meanwhile);
  ADD ("/move-in/range", test_range);
  ADD ("/move-in/ditto", test_ditto);
  ADD ("/move-in/paste", test_paste);
  ADD ("/move-in/bad-paste", test_bad_paste);
  ADD ("/move-in/long-cells", test_long_cells);
  ADD ("/move-in/save", test_save);
  ADD ("/move-in/order", test_order);
  ADD ("/move-in/one-undo", test_one_undo);
  ADD ("/move-in/nothing-half-written", test_nothing_half_written);
  ADD ("/move-in/draft", test_draft);
  ADD ("/move-in/calm-unknown", test_calm_unknown);
  ADD ("/move-in/calm-pictures", test_calm_pictures);
  ADD ("/move-in/calm-known", test_calm_known);
  return g_test_run ();
}
