/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-words-lot.c — lots, egg cases and where a subject comes from, in words. */
#include "words-test.h"

#include "words/words-doubt.h"

#include <math.h>
#include <string.h>

#define LOT "01900000-0000-7000-8000-00000000beef"

typedef struct
{
  CoreKind kind;
  const char *pairs[4]; /* key=value */
  const char *place;    /* the subject that it names */
  const char *says;
} EntryRow;

static const EntryRow rows[] = {
  { CORE_KIND_RECOUNTED, { "n=140" }, NULL, "140 counted" },
  { CORE_KIND_RECOUNTED, { "n=120", "counted=no" }, NULL, "about 120 by estimate" },
  { CORE_KIND_SPLIT, { "n=1" }, NULL, "1 into a cup of its own" },
  { CORE_KIND_SPLIT, { "n=25" }, NULL, "25 into cups of their own" },
  { CORE_KIND_SPLIT, { "n=25", "with=" LOT }, "H2", "25 into lot H2" },
  { CORE_KIND_SPLIT, { "with=" LOT }, "H1", "all of it went into lot H1" },
  { CORE_KIND_JOINED, { "n=25", "with=" LOT }, "H2", "25 came in from lot H2" },
  { CORE_KIND_JOINED, { "n=25", "counted=no", "with=" LOT }, "H2", "about 25 came in from lot H2" },
  { CORE_KIND_DIED, { "n=3" }, NULL, "3 died" },
  { CORE_KIND_LEFT, { "n=10", "how=sold", "to=M. Brandt" }, NULL, "10 sold; to M. Brandt" },
  { CORE_KIND_LEFT, { "n=2", "how=given" }, NULL, "2 given away" },
  { CORE_KIND_LEFT, { "n=2", "how=swapped" }, NULL, "2 swapped" },
  { CORE_KIND_LEFT, { "n=2", "how=lent" }, NULL, "2 lent out" },
  { CORE_KIND_LEFT, { "n=2" }, NULL, "2 left" },
  { CORE_KIND_LEFT, { "how=sold" }, NULL, "sold" },
  { CORE_KIND_ESCAPED, { "n=4" }, NULL, "4 escaped" },
  { CORE_KIND_ESCAPED, { NULL }, NULL, "escaped" },
  { CORE_KIND_FOUND, { "n=1" }, NULL, "1 found again" },
  { CORE_KIND_BACK, { "n=1" }, NULL, "1 came back" },
  { CORE_KIND_BACK, { NULL }, NULL, "came back" },
  { CORE_KIND_LAID, { "n=3", "with=" LOT }, "E3", "laid egg case E3; number 3 of hers" },
  { CORE_KIND_LAID, { NULL }, NULL, "laid an egg case" },
  { CORE_KIND_HARDENED, { NULL }, NULL, "foam hardened" },
  { CORE_KIND_HATCHING, { "n=40" }, NULL, "40 hatched" },
  { CORE_KIND_HATCHING, { "n=60", "counted=no" }, NULL, "about 60 hatched" },
  { CORE_KIND_HATCHING, { NULL }, NULL, "young hatched, not counted" },
  { CORE_KIND_HATCHING, { "n=5", "over=yes" }, NULL, "5 hatched; no more are awaited" },
  { CORE_KIND_DUD, { "sure=no" }, NULL, "will not hatch; not sure" },
  { CORE_KIND_DUD, { "cause=dried" }, NULL, "will not hatch; dried out" },
  { CORE_KIND_CULTURE, { "prey=hydei" }, NULL, "culture of large fruit flies started" },
  { CORE_KIND_SET, { "key=origin", "value=captive_bred" }, NULL, "origin: bred in captivity" },
  { CORE_KIND_SET, { "key=mother", "value=" LOT }, "14", "mother: 14" },
  { CORE_KIND_SET, { "key=lid", "value=metal" }, NULL, "lid: perforated metal" },
  { CORE_KIND_SET, { "key=locality", "value=Luzon" }, NULL, "locality: Luzon" },
};

/* How many are in which stage, as far as it is known. */
static void
test_parted (void)
{
  static const struct
  {
    int64_t ahead, out, count;
    gboolean counted, subadult;
    const char *says, *brief;
  } cases[] = {
    { 0, 0, 17, TRUE, FALSE, "L2", "L2" },
    { 5, 0, 17, TRUE, FALSE, "12 in L2, 5 in L3", "L2–L3" },
    { 5, 2, 15, TRUE, FALSE, "L2, 3–5 in L3", "L2–L3" },
    { 5, 0, 17, FALSE, FALSE, "L2, 5 in L3", "L2–L3" },
    { 5, 14, 3, TRUE, FALSE, "L2, 0–3 in L3", "L2–L3" },
    { 5, 17, 0, TRUE, FALSE, "L2", "L2" },
    { 5, 0, 17, TRUE, TRUE, "sub-adult, 5 of them a moult ahead", "sub" },
  };

  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      CoreState state;

      core_state_init (&state);
      state.kind = CORE_SUBJECT_LOT;
      state.moults = 1;
      state.basis = CORE_BASIS_COUNTED;
      state.moults_p[1] = 1;
      state.subadult = cases[i].subadult;
      state.ahead.n = cases[i].ahead;
      state.ahead.out = cases[i].out;
      state.tally.known = TRUE;
      state.tally.counted = cases[i].counted;
      state.tally.count = cases[i].count;
      wt_says (words_stage (&view, &state), cases[i].says);
      wt_says (words_stage_brief (&view, &state), cases[i].brief);
      core_state_clear (&state);
    }
}

static CoreEntry *
entry_of (const EntryRow *row)
{
  CoreEntry *entry = wt_entry (row->kind, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (row->pairs) && row->pairs[i] != NULL; i++)
    {
      g_auto (GStrv) parts = g_strsplit (row->pairs[i], "=", 2);

      g_assert_cmpint (core_entry_set_text (entry, parts[0], parts[1]), ==, CORE_VALUE_OK);
    }
  return entry;
}

static void
test_entries (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreEntry *entry = entry_of (&rows[i]);
      WordsEntry what = { .entry = entry, .place = rows[i].place };

      wt_says (words_entry (&view, &what), rows[i].says);
      core_entry_free (entry);
    }
}

/* What a recount found, told from the state. */
static void
test_recount (void)
{
  static const struct
  {
    int64_t change;
    gboolean about;
    const char *says;
  } found[] = { { 0, FALSE, "96 counted" },
                { -44, FALSE, "96 counted; 44 lost unseen" },
                { -24, TRUE, "96 counted; about 24 lost unseen" },
                { 3, FALSE, "96 counted; 3 more than there should be" } };
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (found); i++)
    {
      CoreEntry *entry = wt_entry (CORE_KIND_RECOUNTED, "n=96", NULL);
      CoreTallyStep step = { .kind = CORE_KIND_RECOUNTED,
                             .change = found[i].change,
                             .about = found[i].about,
                             .entry = entry->id };
      CoreState state = { .steps = { &step, 1, 1 } };
      WordsEntry what = { .entry = entry, .state = &state };

      wt_says (words_entry (&view, &what), found[i].says);
      core_entry_free (entry);
    }
}

/* Taken over from its lot is not "with the whole shelf". */
static void
test_taken_over (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };
  CoreEntry *entry = wt_entry (CORE_KIND_MISTED, NULL);
  CoreState state;
  WordsEntry what = { .entry = entry, .state = &state };

  core_state_init (&state);
  entry->bulk = true;
  entry->round.b[15] = 9;
  wt_says (words_entry (&view, &what), "sprayed; with the whole shelf");
  state.lot_since = wt_today ();
  state.lot_round = entry->round;
  wt_says (words_entry (&view, &what), "sprayed; with its lot");
  state.lot_round.b[15] = 8;
  wt_says (words_entry (&view, &what), "sprayed; with the whole shelf");
  core_entry_free (entry);
}

static void
test_counts (void)
{
  CoreTally tally = { 0 };

  wt_says (words_count_of (WORDS_ENGLISH, &tally), "number unknown");
  tally = (CoreTally){ .known = true, .counted = true, .count = 96 };
  wt_says (words_count_of (WORDS_ENGLISH, &tally), "96");
  tally.counted = false;
  wt_says (words_count_of (WORDS_ENGLISH, &tally), "about 96");
}

/* What was estimated is never told like a count. */
static void
test_tally (void)
{
  WordsView view = { WORDS_ENGLISH, 20000, 1 };
  CoreTally tally = { .known = true, .counted = true, .count = 90, .began = 120, .began_about = true,
                      .dead = 3, .lost_unseen = 27, .lost_about = true, .count_day = CORE_DAY_NONE };
  g_autoptr (GPtrArray) said = words_tally (&view, &tally);
  g_autofree char *doubt = NULL;

  g_assert_cmpuint (said->len, ==, 3);
  g_assert_cmpstr (said->pdata[0], ==, "about 120 at the beginning");
  g_assert_cmpstr (said->pdata[1], ==, "3 dead");
  g_assert_cmpstr (said->pdata[2], ==, "about 27 lost unseen");
  tally.began_about = tally.lost_about = false;
  g_ptr_array_unref (g_steal_pointer (&said));
  said = words_tally (&view, &tally);
  g_assert_cmpstr (said->pdata[0], ==, "120 at the beginning");
  g_assert_null (words_tally_as_of (&view, &tally));
  tally.began_derived = true;
  tally.first_count = 20000;
  g_ptr_array_unref (g_steal_pointer (&said));
  said = words_tally (&view, &tally);
  g_assert_cmpuint (said->len, ==, 3);
  g_assert_cmpstr (said->pdata[0], ==, "at least 120 at the beginning");
  doubt = words_doubt_before_count (&view, &tally, 5);
  g_assert_nonnull (
    strstr (doubt, "the count stays, and not 120 but 125 were there at the beginning"));
}

static void
test_refusals (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };
  CoreTallyStep step = { .day = wt_today (), .known = true, .counted = false, .count = 10 };
  CoreState state = { .kind = CORE_SUBJECT_LOT, .steps = { &step, 1, 1 } };
  CoreEntry *entry = wt_entry (CORE_KIND_DIED, "n=11", NULL);
  g_autofree char *text = words_refusal (&view, CORE_REFUSE_MORE_THAN_COUNT, &state, entry);

  g_assert_nonnull (strstr (text, "about 10"));
  wt_says (words_refusal (&view, CORE_REFUSE_MORE_THAN_COUNT, NULL, NULL),
           "That is more than the lot holds. Count it anew first, or take out fewer.");
  core_entry_free (entry);
  entry = wt_entry (CORE_KIND_DIED, NULL);
  wt_says (words_refusal (&view, CORE_REFUSE_HOW_MANY, &state, entry),
           "How many of the lot? One: n=1; all of about 10: count it anew, as 0.");
  state.tally.counted = true;
  wt_says (words_refusal (&view, CORE_REFUSE_HOW_MANY, &state, entry),
           "How many of the lot? One: n=1; all of it: n=10.");
  core_entry_free (entry);
  entry = wt_entry (CORE_KIND_MOULTED, "n=11", NULL);
  wt_says (words_refusal (&view, CORE_REFUSE_MORE_THAN_COUNT, &state, entry),
           "The lot holds 10 then, and no more can moult. Enter fewer; were there more, count it anew first.");
  wt_says (words_refusal (&view, CORE_REFUSE_MOULT_OTHERS, &state, entry),
           "11 of it are entered as moulted on that day already. Are these others, enter them with sure=yes.");
  core_entry_free (entry);
}

static void
test_forecast (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };
  CoreDay t = wt_today (); /* 25 November */
  CoreLotForecast lot = { .n = 80,
                          .first = { .p10 = t + 8, .p90 = t + 10 },
                          .median = { .p10 = t + 11, .p90 = t + 13 },
                          .last = { .p10 = t + 14, .p90 = t + 20 } };

  wt_says (words_lot_forecast (&view, &lot),
           "first moults about 3–5 December, half of it by about 6–8 December, the last about 9–15 "
           "December");
  lot.n = 70;
  lot.moulted = 10;
  lot.moulted_most = 30;
  wt_says (words_lot_forecast (&view, &lot),
           "10–30 moulted already; of the other 50–70: first moults about 3–5 December, half of it by about "
           "6–8 December, the last about 9–15 December");
  lot.moulted = lot.moulted_most = 0;
  lot.first.p90 = t - 1;
  lot.first.p10 = t - 3;
  wt_says (words_lot_forecast (&view, &lot),
           "the first have probably moulted; half of it by about 6–8 December, the last about 9–15 "
           "December");
  lot.still = (CoreStandstill){ CORE_STILL_COLD, 12, NAN, NAN };
  wt_says (words_lot_forecast (&view, &lot),
           "no moult to be expected while it stands at about 12 °C: too cold to grow");
  lot.still.why = CORE_STILL_NOT;
  lot.why = CORE_NO_FORECAST_DEAD;
  wt_says (words_lot_forecast (&view, &lot),
           words_no_forecast (WORDS_ENGLISH, CORE_NO_FORECAST_DEAD));
}

static void
test_pair (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };
  CorePair pair = { CORE_PAIR_KNOWN, 3, true, .75 };

  wt_says (words_pair (&view, &pair), "At least one male and one female among them: 75 in 100.");
  pair.counted = false;
  wt_says (words_pair (&view, &pair),
           "At least one male and one female among them: 75 in 100, by an estimate: nobody has counted them.");
  pair.n = 1;
  wt_says (words_pair (&view, &pair), "One alone is no pair.");
  pair.why = CORE_PAIR_NO_MALE;
  wt_says (words_pair (&view, &pair), "This kind breeds without males too: no pair is needed.");
  pair.why = CORE_PAIR_NO_COUNT;
  g_assert_null (words_pair (&view, &pair));
}

/* What others read who know neither journal nor animal. */
static void
test_proof (void)
{
  WordsView view = { WORDS_ENGLISH, CORE_DAY_NONE, 2 };
  CoreStage stages[2] = { 0 };
  CoreState state = { .kind = CORE_SUBJECT_ANIMAL, .moults = 5, .basis = CORE_BASIS_COUNTED,
                      .stages = { stages, 2, 2 } };
  WordsProofScale scale = { 24.96, .034, 16, wt_today () };

  wt_says (words_proof_stage (&view, &state, 1, FALSE, FALSE), "L7 (hatchling = L2)");
  wt_says (words_proof_stage (&view, &state, 0, FALSE, TRUE), "shed skin of L6 (hatchling = L2)");
  wt_says (words_proof_stage (&view, &state, -1, FALSE, TRUE), "shed skin of L5 (hatchling = L2)");
  wt_says (words_proof_stage (&view, &state, -2, FALSE, FALSE), "stage unknown (hatchling = L2)");
  wt_says (words_proof_stage (&view, &state, 1, TRUE, FALSE), "adult (hatchling = L2)");
  stages[1].seen = CORE_SEEN_SUBADULT;
  wt_says (words_proof_stage (&view, &state, 1, FALSE, FALSE), "sub-adult (hatchling = L2)");
  wt_says (words_proof_lines (WORDS_ENGLISH, &(WordsProofLines){ 6, TRUE, -1 }),
           "6 plates, marked or confirmed by the keeper.");
  wt_says (words_proof_lines (WORDS_ENGLISH, &(WordsProofLines){ 9, TRUE, CORE_SMALL_COUNTED, TRUE }),
           "9 plates, marked or confirmed by the keeper. The small plate between the hind legs is one of them. Nobody "
           "said that base and tip lie right.");
  wt_says (words_proof_lines (WORDS_ENGLISH, &(WordsProofLines){ 8, TRUE, CORE_SMALL_UNKNOWN }),
           "8 plates, marked or confirmed by the keeper. Whether the small plate between the hind legs is one of them was "
           "not to be seen.");
  wt_says (words_proof_lines (WORDS_ENGLISH, &(WordsProofLines){ 7, FALSE, CORE_SMALL_NOT, FALSE, TRUE }),
           "7 plates, proposed by the program and confirmed by nobody. The small plate between the hind legs is none of "
           "them. The pale bands show how far off a line may lie.");
  wt_says (words_proof_scale (&view, NULL), "No scale is known: no length can be read off this sheet.");
  {
    g_autofree char *said = words_proof_scale (&view, &scale);

    g_assert_nonnull (strstr (said, "25 pixels are one millimetre, give or take 4 in 100"));
    g_assert_nonnull (strstr (said, "16 mm"));
    scale.day = CORE_DAY_NONE;
    wt_says (words_proof_scale (&view, &scale),
             "25 pixels are one millimetre, give or take 4 in 100, by 16 mm marked in the picture: good where they lay "
             "as near to the camera as the animal.");
  }
  {
    CoreSexVerdict verdict = { .male = .004, .female = .996, .verdict = CORE_VERDICT_FIRM_FEMALE };

    wt_says (words_proof_verdict (&view, &verdict), "Female. The chance that it is so: over 99 in 100.");
    verdict = (CoreSexVerdict){ .male = .06, .female = .94, .verdict = CORE_VERDICT_LIKELY_FEMALE };
    wt_says (words_proof_verdict (&view, &verdict), "Likely female, 94 in 100.");
  }
  g_assert_cmpstr (words_language_tag (WORDS_ENGLISH), ==, "en");
}

/* Half a day either way is no change. */
static void
test_what_if (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };
  CoreDay t = wt_today (); /* 25 November */
  CoreLotForecast now = { .n = 80,
                          .first = { .days = { 7.5, 8, 9.5 }, .p10 = t + 8, .p90 = t + 10 },
                          .median = { .days = { 10.5, 11, 12.5 }, .p10 = t + 11, .p90 = t + 13 },
                          .last = { .days = { 13.5, 16, 19.5 }, .p10 = t + 14, .p90 = t + 20 } };
  CoreLotForecast then = now;
  g_autofree char *cold = NULL;

  then.last.days[2] = 19.9;
  wt_says (words_what_if_lot (&view, &now, &then, 0),
           "As now: first moults about 3–5 December, half of it by about 6–8 December, the last about 9–15 December.");
  then.last = (CoreLotWhen){ .days = { 16.5, 20, 24.5 }, .p10 = t + 17, .p90 = t + 25 };
  wt_says (words_what_if_lot (&view, &now, &then, 0),
           "It would be: first moults about 3–5 December, half of it by about 6–8 December, the last about 12–20 "
           "December. As it is: first moults about 3–5 December, half of it by about 6–8 December, the last about 9–15 "
           "December.");
  then.why = CORE_NO_FORECAST_TOO_COLD;
  cold = words_what_if_lot (&view, &now, &then, 0);
  g_assert_true (g_str_has_prefix (cold, "It would be: no forecast: too cold"));
}

/* One line, however many. */
static void
test_missed (void)
{
  static const char *const feed[] = { "14", "17", "31" }, *const spray[] = { "H1" };
  GPtrArray *labels[CORE_N_TASKS] = { NULL };
  g_autoptr (GPtrArray) fed = g_ptr_array_new ();
  g_autoptr (GPtrArray) sprayed = g_ptr_array_new ();
  g_autoptr (GPtrArray) looked = g_ptr_array_new ();
  g_autofree char *many = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (feed); i++)
    g_ptr_array_add (fed, (gpointer) feed[i]);
  g_ptr_array_add (sprayed, (gpointer) spray[0]);
  labels[CORE_TASK_FEED] = fed;
  labels[CORE_TASK_MIST] = sprayed;
  wt_says (words_missed (WORDS_ENGLISH, labels), "Left from earlier evenings: feed 14, 17 and 31; spray H1.");
  wt_says (words_missed_parts (WORDS_ENGLISH, labels), "feed 14, 17 and 31; spray H1");
  wt_says (words_missed_unseen (WORDS_ENGLISH, fed, 6), "Not seen for up to 6 days: 14, 17, 31. Look first.");
  wt_says (words_missed_unseen (WORDS_ENGLISH, sprayed, 4), "Not seen for 4 days: H1. Look first.");
  wt_says (words_missed_unseen (WORDS_ENGLISH, NULL, 0), "");
  g_ptr_array_add (fed, (gpointer) "32");
  g_ptr_array_add (fed, (gpointer) "33");
  wt_says (words_missed_parts (WORDS_ENGLISH, labels), "feed 14, 17 and 31–33; spray H1");
  for (int i = 0; i < 300; i++)
    g_ptr_array_add (looked, (gpointer) "7");
  labels[CORE_TASK_LOOK] = looked;
  many = words_missed (WORDS_ENGLISH, labels);
  g_assert_nonnull (strstr (many, "look 300, among them 7, 7"));
  g_assert_cmpuint (strlen (many), <, 200);
}

static void
test_caution_lines (void)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);

  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    {
      wt_sentence (words_caution_line (WORDS_ENGLISH, (WordsCaution) i), "caution line");
      g_assert_true (g_hash_table_add (ids, (gpointer) words_caution_id ((WordsCaution) i)));
    }
  wt_says (words_caution_lines (WORDS_ENGLISH, 0), "");
  wt_says (words_caution_lines (WORDS_ENGLISH, 1u << WORDS_CAUTION_ALLERGY | 1u << WORDS_CAUTION_CRICKETS),
           "Roaches, locusts, fly cultures, moth scales and old droppings can cause asthma and rash: gloves, fresh "
           "air.\nCrickets bite an animal that moults: take them out the same evening.");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/words/lot/parted", test_parted);
  g_test_add_func ("/words/lot/entries", test_entries);
  g_test_add_func ("/words/lot/recount", test_recount);
  g_test_add_func ("/words/lot/taken-over", test_taken_over);
  g_test_add_func ("/words/lot/counts", test_counts);
  g_test_add_func ("/words/lot/tally", test_tally);
  g_test_add_func ("/words/lot/refusals", test_refusals);
  g_test_add_func ("/words/lot/forecast", test_forecast);
  g_test_add_func ("/words/lot/pair", test_pair);
  g_test_add_func ("/words/proof", test_proof);
  g_test_add_func ("/words/lot/what-if", test_what_if);
  g_test_add_func ("/words/lot/missed", test_missed);
  g_test_add_func ("/words/caution-lines", test_caution_lines);
  return g_test_run ();
}
