/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-identity.c — which animal it is: doubt, decision, and a mix-up that was put right. */
#include <math.h>
#include <string.h>

#include "core/core-sex.h"
#include "forecast-case.h"
#include "journal.h"

#define HASH "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"

static const char *const past[] = { "hatched", "moulted|seen=yes", "moulted|seen=yes",
                                    "moulted|seen=yes", "moulted|seen=yes" };

/* Hatched, then a moult every 20 days, the fourth and last on `day`. */
static Journal *
moulted_on (CoreDay day)
{
  Journal *journal = journal_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (past); i++)
    journal_add (journal, day - 80 + 20 * (CoreDay) i, past[i]);
  return journal;
}

static Journal *
grown (void)
{
  return moulted_on (980);
}

static void
fold (const Journal *journal, CoreState *state)
{
  journal_fold (journal, CORE_SUBJECT_ANIMAL, state);
}

/* ---- doubt ---- */

static CoreForecast
forecast_of (const CoreState *state)
{
  CoreForecast out;
  Case c;

  case_init (&c);
  c.in.state = state;
  g_assert_cmpint (core_forecast (&c.in, &out), ==, CORE_OK);
  case_clear (&c);
  return out;
}

static bool
has_reason (const CoreForecast *forecast, const char *rule)
{
  for (size_t i = 0; i < forecast->n_reasons; i++)
    if (strcmp (forecast->reasons[i].rule, rule) == 0)
      return true;
  return false;
}

static void
test_doubt_widens (void)
{
  g_autoptr (Journal) journal = moulted_on (TODAY - 4);
  CoreState sure, unsure;
  CoreForecast narrow, wide;

  core_state_init (&sure);
  core_state_init (&unsure);
  fold (journal, &sure);
  journal_add (journal, TODAY - 1, "doubtful|earliest=970");
  fold (journal, &unsure);
  g_assert_cmpint (sure.doubtful_since, ==, CORE_DAY_NONE);
  g_assert_cmpint (unsure.doubtful_since, ==, 970);
  g_assert_cmpuint (unsure.stages.n, ==, 1);
  g_assert_cmpint (unsure.stages.v[0].start, ==, CORE_START_ACQUIRED);
  g_assert_true (isinf (unsure.stages.v[0].lo));
  g_assert_cmpint (unsure.moults, ==, sure.moults);
  g_assert_cmpint (unsure.basis, ==, CORE_BASIS_ESTIMATED);
  g_assert_cmpfloat (unsure.moults_sd, >, sure.moults_sd + .3);
  narrow = forecast_of (&sure);
  wide = forecast_of (&unsure);
  g_assert_cmpfloat (wide.days[CORE_Q90] / wide.days[CORE_Q10], >,
                     2 * narrow.days[CORE_Q90] / narrow.days[CORE_Q10]);
  g_assert_cmpfloat (wide.days[CORE_Q10], <, narrow.days[CORE_Q10]);
  g_assert_true (has_reason (&wide, "forecast.identity"));
  g_assert_true (has_reason (&wide, "forecast.unknown_start"));
  g_assert_false (has_reason (&narrow, "forecast.identity"));
  core_state_clear (&sure);
  core_state_clear (&unsure);
}

/* A decision gives back the state of before, also where it is entered first. */
static void
test_decision_ends_it (void)
{
  for (int first = 0; first < 2; first++)
    {
      g_autoptr (Journal) journal = grown ();
      CoreState sure, decided;

      core_state_init (&sure);
      core_state_init (&decided);
      fold (journal, &sure);
      journal_add (journal, first ? 986 : 985, first ? "doubtful|over=yes" : "doubtful");
      journal_add (journal, first ? 985 : 986, first ? "doubtful" : "doubtful|over=yes");
      fold (journal, &decided);
      g_assert_true (core_state_equal (&sure, &decided));
      core_state_clear (&sure);
      core_state_clear (&decided);
    }
}

/* Whichever it is: what moults after that has a start that is known. */
static void
test_moult_after_doubt (void)
{
  g_autoptr (Journal) journal = grown ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 985, "doubtful");
  journal_add (journal, 990, "moulted|seen=yes");
  fold (journal, &state);
  g_assert_cmpint (state.doubtful_since, ==, 985);
  g_assert_cmpuint (state.stages.n, ==, 2);
  g_assert_cmpint (state.stages.v[1].start, ==, CORE_START_MOULTED);
  g_assert_cmpint (state.moults, ==, 5);
  core_state_clear (&state);
}

/* On one day what is written later has the last word, whatever it is. */
static void
test_one_day (void)
{
  static const char *const decisions[] = { "doubtful|over=yes", "exchanged|earliest=984" };

  for (gsize i = 0; i < G_N_ELEMENTS (decisions); i++)
    {
      g_autoptr (Journal) journal = grown ();
      CoreState state;

      core_state_init (&state);
      journal_add (journal, 985, "doubtful|earliest=970");
      journal_add (journal, 985, decisions[i]);
      fold (journal, &state);
      g_assert_cmpint (state.doubtful_since, ==, CORE_DAY_NONE);
      journal_add (journal, 985, "doubtful");
      fold (journal, &state);
      g_assert_cmpint (state.doubtful_since, ==, 985);
      core_state_clear (&state);
    }
}

/* Two doubts are one, from the earlier day on; one decision ends both. */
static void
test_two_doubts (void)
{
  g_autoptr (Journal) journal = grown ();
  CoreState state;

  core_state_init (&state);
  journal_add (journal, 985, "doubtful|earliest=984");
  journal_add (journal, 990, "doubtful|earliest=975");
  fold (journal, &state);
  g_assert_cmpint (state.doubtful_since, ==, 975);
  journal_add (journal, 991, "doubtful|over=yes");
  fold (journal, &state);
  g_assert_cmpint (state.doubtful_since, ==, CORE_DAY_NONE);
  core_state_clear (&state);
}

static void
test_refusals (void)
{
  g_autoptr (Journal) journal = grown ();
  CoreState state;
  CoreEntry *over;

  core_state_init (&state);
  fold (journal, &state);
  over = journal_add (journal, 985, "doubtful|over=yes");
  g_assert_cmpint (core_check (&state, over, 1000), ==, CORE_REFUSE_NOT_DOUBTFUL);
  journal_add (journal, 985, "doubtful|earliest=980");
  fold (journal, &state);
  g_assert_cmpint (core_check (&state, over, 1000), ==, CORE_REFUSE_NOTHING);
  over->day = 970;
  g_assert_cmpint (core_check (&state, over, 1000), ==, CORE_REFUSE_NOT_DOUBTFUL);
  core_state_clear (&state);
}

/* ---- the sex ---- */

static CoreSexVerdict
verdict_of (const Journal *journal, CoreState *state)
{
  CoreProfile profile = { .male_prior = .5, .readable_from = 3 };
  CoreSexVerdict verdict;

  fold (journal, state);
  g_assert_cmpint (core_sex_of_state (&profile, state, &verdict), ==, CORE_OK);
  return verdict;
}

/* Taken for a male; undecided by `text` on day 990; a female by what is read again. */
static void
check_sex (const char *text, CoreDay again)
{
  g_autoptr (Journal) journal = grown ();
  CoreState state;
  CoreSexVerdict verdict;

  core_state_init (&state);
  journal_add (journal, 982, "sexed|sex=male|method=count");
  verdict = verdict_of (journal, &state);
  g_assert_cmpfloat (verdict.male, >, .8);
  g_assert_cmpuint (verdict.ask & CORE_ASK_LOOK_AGAIN, ==, 0);
  core_sex_verdict_clear (&verdict);

  journal_add (journal, 990, text);
  verdict = verdict_of (journal, &state);
  g_assert_cmpfloat_with_epsilon (verdict.male, .5, 1e-9);
  g_assert_cmpint (verdict.verdict, ==, CORE_VERDICT_UNDECIDED);
  g_assert_cmpuint (verdict.ask & CORE_ASK_LOOK_AGAIN, !=, 0);
  g_assert_cmpuint (verdict.n, ==, 1); /* still to be read */
  g_assert_cmpint (verdict.evidence[0].note, ==, CORE_WEIGHT_OF_OTHER);
  g_assert_cmpfloat (verdict.evidence[0].counted, ==, 0);
  core_sex_verdict_clear (&verdict);

  journal_add (journal, again, "sexed|sex=female|method=count");
  verdict = verdict_of (journal, &state);
  g_assert_cmpfloat (verdict.female, >, .8);
  core_sex_verdict_clear (&verdict);
  core_state_clear (&state);
}

static void
test_sex_in_doubt (void)
{
  check_sex ("doubtful", 991);
  check_sex ("doubtful", 990);
}

/* Read in the span and written before it was put right: not counted. Written since, also of a
 * day in the span: counted. */
static void
test_sex_of_mixed (void)
{
  check_sex ("exchanged|earliest=981", 985);
  check_sex ("exchanged|earliest=982", 991);
}

static void
test_sex_before_mix_up (void)
{
  g_autoptr (Journal) journal = grown ();
  CoreState state;
  CoreSexVerdict verdict;

  core_state_init (&state);
  journal_add (journal, 982, "sexed|sex=male|method=count");
  journal_add (journal, 990, "exchanged|earliest=983");
  verdict = verdict_of (journal, &state);
  g_assert_cmpfloat (verdict.male, >, .8);
  g_assert_false (state.sex.v[0].of_other);
  core_sex_verdict_clear (&verdict);
  core_state_clear (&state);
}

/* A picture of before, marked while the animals were mixed up: its day is that of the picture. */
static void
test_marks_by_picture (void)
{
  for (int inside = 0; inside < 2; inside++)
    {
      g_autoptr (Journal) journal = grown ();
      CoreEntry *photo = journal_add (journal, inside ? 984 : 981, "photo|hash=" HASH);
      CoreEntry *marked = core_entry_new (CORE_KIND_MARKED);
      CoreState state;

      marked->id = test_id (journal->next++);
      marked->subject = journal->subject;
      marked->day = 986;
      g_assert_cmpint (core_entry_set_ref (marked, CORE_KEY_PHOTO, photo->id), ==, CORE_VALUE_OK);
      g_assert_cmpint (core_entry_set_num (marked, CORE_KEY_COUNT, 8), ==, CORE_VALUE_OK);
      g_ptr_array_add (journal->entries, marked);
      journal_add (journal, 990, "exchanged|earliest=983");
      core_state_init (&state);
      fold (journal, &state);
      g_assert_cmpuint (state.sex.n, ==, 1);
      g_assert_cmpint (state.sex.v[0].of_other, ==, inside);
      core_state_clear (&state);
    }
}

/* Laid while in doubt: that it was this one is not settled. A mix-up put right says who laid. */
static void
test_laid (void)
{
  for (int mixed = 0; mixed < 2; mixed++)
    {
      g_autoptr (Journal) journal = grown ();
      CoreState state;
      CoreSexVerdict verdict;

      core_state_init (&state);
      journal_add (journal, 982, "stage|seen=adult");
      journal_add (journal, 985, "laid");
      journal_add (journal, 990, mixed ? "exchanged|earliest=981" : "doubtful");
      verdict = verdict_of (journal, &state);
      if (mixed)
        g_assert_cmpfloat (verdict.female, >, .99);
      else
        g_assert_cmpfloat_with_epsilon (verdict.female, .5, 1e-9);
      core_sex_verdict_clear (&verdict);
      core_state_clear (&state);
    }
}

/* ---- entries that change their owner ---- */

#define N_ENTRIES 40
#define ROUNDS 60

static const char *const seen[] = {
  "looked", "fed|outcome=taken", "fed|outcome=refused", "moulted", "belly|score=3",
  "sexed|sex=male|method=count", "sexed|sex=female|method=build", "measured|what=body|mm=20",
};

static const CoreId *
owners (void)
{
  static CoreId ids[2];

  ids[0] = test_id (1);
  ids[1] = test_id (2);
  return ids;
}

/* Entries of two animals in any order; now and then one is corrected, or given to the other,
 * and the mix-up is entered with both. */
static Journal *
two_animals (unsigned seed)
{
  Journal *journal = journal_new ();

  journal_seed (seed + 1);
  for (int i = 0; i < N_ENTRIES; i++)
    {
      CoreDay day = 950 + (CoreDay) journal_draw (40);

      journal->subject = owners ()[journal_draw (2)];
      if (journal_draw (12) == 0)
        journal_add (journal, day, "exchanged|earliest=960");
      else
        journal_add (journal, day, seen[journal_draw (G_N_ELEMENTS (seen))]);
      if (i > 0 && journal_draw (3) == 0)
        {
          CoreEntry *last = g_ptr_array_index (journal->entries, journal->entries->len - 1);

          last->names = test_id (1000 + journal_draw ((unsigned) i));
        }
    }
  return journal;
}

static void
fold_both (CoreEntry *const *entries, size_t n, CoreState states[2])
{
  for (int k = 0; k < 2; k++)
    fold_live (entries, n, owners ()[k], CORE_SUBJECT_ANIMAL, &states[k]);
}

static void
states_init (CoreState states[2])
{
  core_state_init (&states[0]);
  core_state_init (&states[1]);
}

static void
states_clear (CoreState states[2])
{
  core_state_clear (&states[0]);
  core_state_clear (&states[1]);
}

static void
assert_same (const CoreState a[2], const CoreState b[2])
{
  g_assert_true (core_state_equal (&a[0], &b[0]));
  g_assert_true (core_state_equal (&a[1], &b[1]));
}

static void
test_any_order (void)
{
  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = two_animals (seed);
      size_t n = journal->entries->len;
      g_autofree CoreEntry **mixed = g_memdup2 (journal->entries->pdata, n * sizeof *mixed);
      CoreState whole[2], other[2];

      states_init (whole);
      states_init (other);
      fold_both (mixed, n, whole);
      for (size_t i = n; i > 1; i--)
        {
          size_t k = journal_draw ((unsigned) i);
          CoreEntry *kept = mixed[i - 1];

          mixed[i - 1] = mixed[k];
          mixed[k] = kept;
        }
      fold_both (mixed, n, other);
      assert_same (whole, other);
      states_clear (whole);
      states_clear (other);
    }
}

/* Every entry counts once: with one of the two, or with nobody where it is taken back. */
static void
test_counts_once (void)
{
  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = two_animals (seed);
      size_t n = journal->entries->len, n_live = 0;
      g_autofree uint8_t *live = g_new0 (uint8_t, n);
      const CoreEntry *const *all = (const CoreEntry *const *) journal->entries->pdata;

      g_assert_cmpint (core_live (all, n, live, NULL, NULL), ==, CORE_OK);
      for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++)
          if (live[i] && live[k])
            g_assert_false (core_id_equal (all[k]->names, all[i]->id));
      for (size_t i = 0; i < n; i++)
        n_live += live[i];
      g_assert_cmpuint (n_live, >, 0);
    }
}

/* The whole exchange as one round: taken back it was never there, put back it is again. */
static void
test_undo_restores (void)
{
  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = two_animals (seed);
      size_t n = journal->entries->len;
      g_autofree uint8_t *live = g_new0 (uint8_t, n);
      CoreState before[2], after[2], now[2];
      size_t first = n, last;

      states_init (before);
      states_init (after);
      states_init (now);
      fold_both ((CoreEntry *const *) journal->entries->pdata, n, before);
      g_assert_cmpint (core_live ((const CoreEntry *const *) journal->entries->pdata, n, live, NULL,
                                  NULL),
                       ==, CORE_OK);
      for (size_t i = 0; i < n; i++)
        {
          const CoreEntry *old = g_ptr_array_index (journal->entries, i);
          CoreEntry *moved;

          if (!live[i] || old->day < 960 || old->kind == CORE_KIND_EXCHANGED)
            continue;
          moved = core_entry_copy (old);
          moved->id = test_id (journal->next++);
          moved->names = old->id;
          moved->subject = owners ()[core_id_equal (old->subject, owners ()[0])];
          g_ptr_array_add (journal->entries, moved);
        }
      for (int k = 0; k < 2; k++)
        {
          journal->subject = owners ()[k];
          journal_add (journal, 995, "exchanged|earliest=960");
        }
      last = journal->entries->len;
      fold_both ((CoreEntry *const *) journal->entries->pdata, last, after);
      g_assert_false (core_state_equal (&before[0], &after[0]));
      for (int step = 0; step < 4; step++)
        {
          size_t end = journal->entries->len;

          for (size_t i = first; i < end; i++)
            {
              const CoreEntry *named = g_ptr_array_index (journal->entries, i);

              journal->subject = named->subject;
              journal_add (journal, 996, "void")->names = named->id;
            }
          first = end;
          fold_both ((CoreEntry *const *) journal->entries->pdata, journal->entries->len, now);
          assert_same (now, step % 2 == 0 ? before : after);
        }
      states_clear (before);
      states_clear (after);
      states_clear (now);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/identity/doubt-widens", test_doubt_widens);
  g_test_add_func ("/core/identity/decision", test_decision_ends_it);
  g_test_add_func ("/core/identity/moult-after-doubt", test_moult_after_doubt);
  g_test_add_func ("/core/identity/one-day", test_one_day);
  g_test_add_func ("/core/identity/two-doubts", test_two_doubts);
  g_test_add_func ("/core/identity/refusals", test_refusals);
  g_test_add_func ("/core/identity/sex-in-doubt", test_sex_in_doubt);
  g_test_add_func ("/core/identity/sex-of-mixed", test_sex_of_mixed);
  g_test_add_func ("/core/identity/sex-before", test_sex_before_mix_up);
  g_test_add_func ("/core/identity/marks-by-picture", test_marks_by_picture);
  g_test_add_func ("/core/identity/laid", test_laid);
  g_test_add_func ("/core/identity/any-order", test_any_order);
  g_test_add_func ("/core/identity/counts-once", test_counts_once);
  g_test_add_func ("/core/identity/undo", test_undo_restores);
  return g_test_run ();
}
