/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-words-doubt.c — reasons, sex with its evidence, refusals, rounds, photos, care: English. */
#include <locale.h>
#include <math.h>
#include <string.h>

#include "core/core-reason-ids.h"
#include "imaging/img-decode.h"
#include "store/store.h"
#include "words-test.h"

static WordsView view = { WORDS_ENGLISH, 0, 1 };

/* Every rule that core can give has a sentence, whatever is known. */
static void
test_every_plan_reason (void)
{
  for (int i = 0; i < CORE_N_PLAN_REASONS; i++)
    {
      const char *id = core_plan_reason_id ((CorePlanReason) i);
      CoreReason reason = wt_reason (id, CORE_UNIT_DAYS, 3, 4);
      g_autofree char *full = NULL;
      g_autofree char *empty = NULL;

      if (!words_reason_known (id))
        g_error ("no sentence for %s", id);
      full = words_reason (&view, &reason);
      wt_sentence (full, id);
      reason.day = reason.day2 = CORE_DAY_NONE;
      reason.code = -1;
      empty = words_reason (&view, &reason);
      wt_sentence (empty, id);
    }
}

/* The ids of the forecast stand in its sources. */
static void
test_every_forecast_reason (void)
{
  g_autoptr (GDir) dir = g_dir_open (CORE_SOURCE_DIR, 0, NULL);
  g_autoptr (GRegex) regex = g_regex_new ("\"(forecast\\.[a-z_]+)\"", 0, 0, NULL);
  const char *name;
  guint found = 0;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (CORE_SOURCE_DIR, name, NULL);
      g_autofree char *text = NULL;
      g_autoptr (GMatchInfo) match = NULL;

      if (!g_str_has_suffix (name, ".c") && !g_str_has_suffix (name, ".h"))
        continue;
      g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
      g_regex_match (regex, text, 0, &match);
      for (; g_match_info_matches (match); g_match_info_next (match, NULL))
        {
          g_autofree char *id = g_match_info_fetch (match, 1);
          CoreReason reason = wt_reason (id, CORE_UNIT_DAYS, NAN, NAN);
          g_autofree char *said = words_reason (&view, &reason);

          found++;
          if (!words_reason_known (id))
            g_error ("no sentence for %s", id);
          wt_sentence (said, id);
        }
    }
  g_assert_cmpuint (found, >=, 8);
}

static void
test_reasons (void)
{
  CoreReason r = wt_reason ("feed.interval", CORE_UNIT_DAYS, 3, 4);

  wt_says (words_reason (&view, &r), "Fed 4 days ago; every 3–4 days at this stage.");
  r.day = wt_today ();
  r.value = r.value2 = 1;
  wt_says (words_reason (&view, &r), "Fed today; every day at this stage.");
  r.day = CORE_DAY_NONE;
  r.value2 = 2;
  wt_says (words_reason (&view, &r), "Food every 1–2 days at this stage.");
  r = wt_reason ("feed.last_taken", CORE_UNIT_NONE, 0, 0);
  wt_says (words_reason (&view, &r), "Last meal known to be eaten: Saturday: house flies.");
  r.code = -1;
  wt_says (words_reason (&view, &r), "Last meal known to be eaten: Saturday.");
  r = wt_reason ("hold.hanging_in_range", CORE_UNIT_NONE, 0, 0);
  r.day = wt_today () - 1;
  r.day2 = wt_today () - 2;
  wt_says (words_reason (&view, &r),
           "Hanging still, seen yesterday; its moult range has begun (23 Nov).");
  r = wt_reason ("mist.dry", CORE_UNIT_PERCENT, 32, 45);
  wt_says (words_reason (&view, &r), "Air at 32 % 4 days ago, below 45 %: spray more often.");
  r = wt_reason ("home.height", CORE_UNIT_MM, 120, 171.3);
  wt_says (words_reason (&view, &r), "Its home is 120 mm high; the next moult needs 171 mm.");
  r = wt_reason ("feed.thin_first", CORE_UNIT_SCORE, 0, 0);
  wt_says (words_reason (&view, &r),
           "Refused, and its belly is not known: water now, then one small soft prey; look at the "
           "belly.");
  r = wt_reason ("clean.never", CORE_UNIT_NONE, 0, 0);
  wt_says (words_reason (&view, &r), "No cleaning was entered since Saturday.");
  r.day = wt_today ();
  wt_says (words_reason (&view, &r), "No cleaning was ever entered.");
  r = wt_reason ("shed.in_range", CORE_UNIT_NONE, 0, 0);
  wt_says (words_reason (&view, &r),
           "By the length of its stage alone it moults 21 Nov – 4 Dec: is there a shed skin?");
  r = wt_reason ("shed.past_range", CORE_UNIT_NONE, 0, 0);
  r.day2 = wt_today () - 1;
  wt_says (words_reason (&view, &r),
           "Its moult range is over (21–24 November): is there a shed skin?");
  r = wt_reason ("hold.hardening", CORE_UNIT_DAYS, 7, 0);
  r.day = wt_today () - 2;
  r.day2 = wt_today () + 4;
  wt_says (words_reason (&view, &r),
           "Moulted, Monday at the latest; not to be touched for 7 days, free from Sunday on.");
  r.day2 = wt_today () + 5;
  wt_says (words_reason (&view, &r),
           "Moulted, 23 Nov at the latest; not to be touched for 7 days, free from 30 Nov on.");
  r = wt_reason ("sex_check.not_sure", CORE_UNIT_PROBABILITY, .5, 0);
  r.code = CORE_SEX_UNKNOWN;
  wt_says (words_reason (&view, &r), "So far its sex is undecided.");
  r.value = .88;
  r.code = CORE_SEX_MALE;
  wt_says (words_reason (&view, &r), "So far its sex is undecided: male 88 in 100.");
  r = wt_reason ("look.unseen", CORE_UNIT_DAYS, 4, 0);
  wt_says (words_reason (&view, &r), "Not seen for 4 days, last Saturday.");
  r.day = CORE_DAY_NONE;
  wt_says (words_reason (&view, &r), "Not seen for 4 days.");
  r = wt_reason ("no.such_rule", CORE_UNIT_NONE, 0, 0);
  wt_says (words_reason (&view, &r), "no.such_rule");
}

/* A reason follows behind a full stop. */
static void
test_title_before_reason (void)
{
  CoreTask task = { .kind = CORE_TASK_AFTER_MOULT };

  wt_says (words_task_title (&view, &task), "After the moult: see that all limbs are good");
  for (int kind = 0; kind < CORE_N_TASKS; kind++)
    {
      g_autofree char *title = NULL;

      task.kind = (CoreTaskKind) kind;
      title = words_task_title (&view, &task);
      g_assert_false (g_str_has_suffix (title, "?"));
    }
}

/* What nobody said, saw or entered is not said as if somebody had. */
static void
test_forecast_reasons (void)
{
  CoreReason r = wt_reason ("forecast.warmth", CORE_UNIT_CELSIUS, 22.25, 25);

  r.value3 = 36;
  r.code = 7;
  wt_says (words_reason (&view, &r),
           "In its warm hours it stands at 36 °C, too hot to grow well: it takes longer, though 22.3 °C is the mean. "
           "Heat kills.");
  r.code = 5;
  wt_says (words_reason (&view, &r),
           "It stands at about 22.3 °C by one reading, which says little of other hours and days: a wide range. "
           "Enter the usual day and night temperatures.");
  r.code = CORE_WARMTH_HABIT;
  wt_says (words_reason (&view, &r),
           "It stands at about 22.3 °C, as you said; stage lengths are for 25 °C.");
  r.code = CORE_WARMTH_UNKNOWN;
  wt_says (words_reason (&view, &r),
           "No current temperature is known for where it stands; taken as about 22.3 °C, with a "
           "wider range: enter it.");
  r.code = CORE_WARMTH_HALF;
  wt_says (words_reason (&view, &r),
           "Of its usual day and night temperatures only one is entered; taken as about 22.3 °C in "
           "all: enter the other.");
  r = wt_reason ("forecast.stage_unsure", CORE_UNIT_MOULTS, NAN, NAN);
  wt_says (words_reason (&view, &r), "How many moults it has had is not known.");
  r = wt_reason ("forecast.room", CORE_UNIT_PERCENT, 6.2, 0);
  wt_says (words_reason (&view, &r), "By the moults of others here, stages are about 6 % longer than usual.");
  r.value = .3;
  r.code = 1; /* less than half a per cent */
  wt_says (words_reason (&view, &r), "By the moults of others here, stages are about as long as usual.");
  r = wt_reason ("forecast.arrival_wait", CORE_UNIT_DAYS, 59.5, 0);
  wt_says (words_reason (&view, &r),
           "It came 21 Nov in the middle of a stage and moulted 60 days later.");
  r.value3 = 20;
  wt_says (words_reason (&view, &r),
           "It came 21 Nov in the middle of a stage and moulted 40–80 days later.");
  r = wt_reason ("forecast.earlier_stages", CORE_UNIT_DAYS, 31, 28);
  wt_says (words_reason (&view, &r),
           "The 2 stages before took 31 days in all, where about 28 days are usual.");
  r = wt_reason ("forecast.stage", CORE_UNIT_DAYS, 16, 11.2);
  r.value3 = 23.8;
  wt_says (words_reason (&view, &r),
           "Its kind is not known or has no figures: by general ones, no kind's own, this stage takes about 16 days at 25 °C, 8 in "
           "10 take 11–24 days.");
  r.code = 0;
  wt_says (words_reason (&view, &r),
           "This stage takes about 16 days at 25 °C, 8 in 10 take 11–24 days.");
  r = wt_reason ("forecast.sex", CORE_UNIT_PROBABILITY, .92, 0);
  wt_says (words_reason (&view, &r), "Taken for a male with 92 in 100.");
  r.value = .08; /* that it is a male */
  wt_says (words_reason (&view, &r), "Taken for a female with 92 in 100.");
  r = wt_reason ("forecast.longer", CORE_UNIT_DAYS, 12, 0);
  r.day = wt_today () - 40;
  r.code = 1;
  wt_says (words_reason (&view, &r),
           "No moult was entered for longer than usual, and it was last seen 40 days ago: look "
           "whether it has moulted.");
  r.code = 0;
  wt_says (words_reason (&view, &r),
           "This stage lasts longer than usual, which is not a sign of illness by itself; look at "
           "belly and warmth.");
  r = wt_reason ("forecast.not_normal", CORE_UNIT_PROBABILITY, .3, 0);
  r.code = CORE_DOUBT_ADULT;
  wt_says (words_reason (&view, &r), "There is some doubt that a moult comes at all: 30 in 100.");
  r.value = .999;
  wt_says (words_reason (&view, &r),
           "Whether a moult comes at all is very doubtful (over 99 in 100): already adult, or a "
           "wrong date?");
  r.code = CORE_DOUBT_MISSED;
  wt_says (words_reason (&view, &r),
           "Whether a moult comes at all is very doubtful (over 99 in 100): a missed moult, or a "
           "wrong date?");
}

/* A range that has begun or is over: by its dates, never by a weekday that may be read as one to
 * come; and never as the reason that a moult may come any day. */
static void
test_past_days (void)
{
  static const char *const weekdays[] = { "Monday", "Tuesday",  "Wednesday", "Thursday",
                                          "Friday", "Saturday", "Sunday",    "any day" };
  static const char *const rules[] = { "hold.hanging_in_range",
                                       "hold.hanging_range_unknown",
                                       "hold.hanging_second_sign",
                                       "hold.hanging_round_belly",
                                       "hold.two_refusals",
                                       "hold.longest",
                                       "hold.in_range",
                                       "hold.sign",
                                       "hold.pumping",
                                       "hold.splitting",
                                       "take_out.sign",
                                       "look.in_range",
                                       "look.doubt",
                                       "shed.in_range",
                                       "shed.past_range",
                                       "mist.keep_rhythm",
                                       "mist.may_moult",
                                       "mist.before_moult",
                                       "climate.hot",
                                       "climate.cold",
                                       "mist.dry" };

  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    for (int ago = 2; ago < 7; ago++)
      {
        CoreReason r = wt_reason (rules[i], CORE_UNIT_DAYS, 3, 4);
        g_autofree char *said = NULL;

        g_assert_true (words_reason_known (rules[i]));
        r.day = wt_today () - ago;
        r.day2 = wt_today () - ago + 1;
        said = words_reason (&view, &r);
        for (gsize k = 0; k < G_N_ELEMENTS (weekdays); k++)
          if (strstr (said, weekdays[k]) != NULL)
            g_error ("%s: “%s”", rules[i], said);
      }
}

static void
test_sex (void)
{
  CoreSexVerdict v = { .male = .06, .female = .94, .verdict = CORE_VERDICT_LIKELY_FEMALE };
  CoreForecast f = { .why = CORE_NO_FORECAST_NONE,
                     .p10 = wt_day ("2026-12-03"),
                     .p90 = wt_day ("2026-12-09") };

  wt_says (words_sex (WORDS_ENGLISH, &v), "likely female, 94 in 100");
  wt_says (words_verdict (&view, &v, NULL), "Likely female, 94 in 100.");
  g_assert_cmpstr (words_sex_sign (v.verdict), ==, "♀?");
  g_assert_cmpstr (words_sex_trade (v.verdict), ==, "0.1?");
  g_assert_cmpstr (words_verdict_id (v.verdict), ==, "likely_female");
  v.verdict = CORE_VERDICT_FIRM_FEMALE;
  v.conflict = true;
  wt_says (words_verdict (&view, &v, NULL), "Female. The evidence points both ways.");
  g_assert_cmpstr (words_sex_sign (v.verdict), ==, "♀");
  g_assert_cmpstr (words_sex_trade (v.verdict), ==, "0.1");
  v = (CoreSexVerdict){ .male = .62, .female = .38, .verdict = CORE_VERDICT_UNDECIDED };
  wt_says (words_verdict (&view, &v, NULL), "Undecided: male 62 in 100, female 38 in 100.");
  wt_says (words_sex (WORDS_ENGLISH, &v), "sex undecided");
  g_assert_cmpstr (words_sex_trade (v.verdict), ==, "0.0.1");
  v.too_early = true;
  wt_says (words_verdict (&view, &v, &f),
           "Too early to tell: at this stage females of some kinds show eight plates too. Look "
           "again after the next moult, about 3–9 December.");
  wt_says (words_sex_counts (2, 1, 5), "2.1.5");
  wt_says (words_sex_counts (1, 2, 0), "1.2");
}

static void
test_evidence (void)
{
  CoreEvidence e = { .kind = CORE_EVIDENCE_COUNT,
                     .moults = 4,
                     .log_odds = -log (16.6),
                     .value = 6,
                     .says = CORE_SEX_FEMALE };
  g_auto (GStrv) asks = words_asks (&view, CORE_ASK_SMALL_PLATE | CORE_ASK_NEXT_STAGE);

  e.value2 = CORE_SMALL_NOT;
  wt_says (words_evidence (&view, &e), "6 plates counted at L5: 17 to 1 for female.");
  e.value2 = CORE_SMALL_COUNTED;
  e.value = 7;
  wt_says (words_evidence (&view, &e), "7 plates with the small one counted at L5: 17 to 1 for female.");
  e.value = 6;
  e.value2 = CORE_SMALL_UNKNOWN;
  e.moults = 1;
  e.log_odds = 0;
  e.note = CORE_WEIGHT_TOO_EARLY;
  wt_says (words_evidence (&view, &e),
           "6 plates counted at L2: says nothing either way; too early: counted as nothing.");
  e = (CoreEvidence){ .kind = CORE_EVIDENCE_COUNT, .moults = 4, .log_odds = log (39), .counted = 1.733, .value = 8,
                      .value2 = CORE_SMALL_NOT, .note = CORE_WEIGHT_CAPPED };
  wt_says (words_evidence (&view, &e), "8 plates counted at L5: 39 to 1 for male; one photo never gives more than 32 to 1; "
                                       "beside the others it counts 5.7 to 1 for male.");
  e = (CoreEvidence){ .kind = CORE_EVIDENCE_LAID, .moults = -1, .log_odds = -log (1e4) };
  wt_says (words_evidence (&view, &e), "Laid an egg case: settles it: female.");
  e = (CoreEvidence){ .kind = CORE_EVIDENCE_CUE, .moults = 5, .log_odds = log (4), .cue = "crown" };
  wt_says (words_evidence (&view, &e), "Crown at L6: 4 to 1 for male.");
  e = (CoreEvidence){
    .kind = CORE_EVIDENCE_TEGMEN, .moults = -1, .log_odds = log (2.5), .value = 2.46
  };
  wt_says (words_evidence (&view, &e), "Tegmen 2.46 times the pronotum: 2.5 to 1 for male.");
  g_assert_cmpuint (g_strv_length (asks), ==, 2);
  g_assert_cmpstr (asks[0], ==, "Say whether the small plate at the hind legs was counted.");
  for (unsigned bit = 1; bit <= CORE_ASK_CONFIRM; bit <<= 1)
    g_assert_nonnull (words_ask_id (bit));
  g_assert_null (words_ask_id (CORE_ASK_MARKS << 1));
}

/* A piece that is not counted says why; what was seen is named also where it says nothing. */
static void
test_silent_evidence (void)
{
  CoreEvidence e = { .kind = CORE_EVIDENCE_LAST_PLATE,
                     .moults = 2,
                     .value = CORE_LAST_SMALL,
                     .note = CORE_WEIGHT_TOO_EARLY };

  wt_says (words_evidence (&view, &e), "Last plate small among narrow ones at L3: says nothing "
                                       "either way; too early: counted as nothing.");
  e = (CoreEvidence){
    .kind = CORE_EVIDENCE_COUNT, .moults = 4, .log_odds = -2, .note = CORE_WEIGHT_SAME_KIND
  };
  wt_says (words_evidence (&view, &e),
           "Read by the plates, without a picture here at L5: 7.4 to 1 for female; not counted: "
           "another reading of this kind stands for it.");
  e = (CoreEvidence){ .kind = CORE_EVIDENCE_DESCENT,
                      .moults = -1,
                      .note = CORE_WEIGHT_NOT_THIS_KIND };
  wt_says (words_evidence (&view, &e),
           "Said to be of an unmated mother: says nothing either way; only daughters come of an "
           "unmated mother, and only in some kinds.");
  e = (CoreEvidence){ .kind = CORE_EVIDENCE_BUILD, .moults = -1, .note = CORE_WEIGHT_UNCLEAR };
  wt_says (words_evidence (&view, &e), "Build: says nothing either way; not clear.");
}

static void
test_refusals (void)
{
  for (int i = 0; i < CORE_N_REFUSALS; i++)
    {
      g_autofree char *text = words_refusal (&view, (CoreRefusal) i, NULL, NULL);

      wt_sentence (text, "refusal");
      g_assert_cmpstr (text, !=, "something else");
    }
  wt_says (words_refusal (&view, CORE_REFUSE_ADULT_MOULTS, NULL, NULL),
           "Adults do not moult. Are the wings full?");
  for (int i = 0; i <= CORE_CONFLICT_FUTURE; i++)
    {
      CoreConflict conflict = { .kind = (CoreConflictKind) i };
      g_autofree char *text = words_conflict (&view, &conflict);

      wt_sentence (text, "conflict");
    }
}

static void
test_values (void)
{
  const CoreKindKey *outcome = core_kind_key (CORE_KIND_FED, CORE_KEY_OUTCOME);
  const CoreKindKey *score = core_kind_key (CORE_KIND_BELLY, CORE_KEY_SCORE);

  wt_says (words_value_problem (WORDS_ENGLISH, CORE_VALUE_BAD_WORD, CORE_KIND_FED, outcome,
                                "outcome", "eaten"),
           "outcome: “eaten” is not one of offered, taken, refused, none_in_view.");
  wt_says (words_value_problem (WORDS_ENGLISH, CORE_VALUE_BAD_NUMBER, CORE_KIND_BELLY, score,
                                "score", "2.5"),
           "score: “2.5” is not a whole number. Write digits alone: 2.");
  wt_says (words_value_problem (WORDS_ENGLISH, CORE_VALUE_BAD_TEXT, CORE_KIND_NOTE,
                                core_kind_key (CORE_KIND_NOTE, CORE_KEY_TEXT), "text", ""),
           "text: Nothing is written. Write something.");
  wt_says (words_value_problem (WORDS_ENGLISH, CORE_VALUE_OUT_OF_RANGE, CORE_KIND_BELLY, score,
                                "score", "6"),
           "score: “6” is not from 1 to 5.");
  wt_says (words_value_problem (WORDS_ENGLISH, CORE_VALUE_UNKNOWN_KEY, CORE_KIND_FED, NULL,
                                "colour", "red"),
           "“colour” is not known here. Known are: prey, n, outcome, batch, seen_by.");
  wt_says (words_value_problem (WORDS_ENGLISH, CORE_VALUE_UNKNOWN_KEY, CORE_KIND_HATCHED, NULL,
                                "colour", "red"),
           "“colour” is not known here: nothing can be added.");
  for (int i = CORE_VALUE_UNKNOWN_KEY; i <= CORE_VALUE_NO_MEMORY; i++)
    {
      g_autofree char *text =
        words_value_problem (WORDS_ENGLISH, (CoreValueStatus) i, CORE_KIND_FED, NULL, "x", "y");

      wt_sentence (text, "value");
    }
}

/* The tables of words follow the enums of the rooms that they must not include. */
static void
test_errors_of_rooms (void)
{
  static const struct
  {
    gboolean image;
    int code;
    const char *holds;
  } rows[] = {
    { FALSE, STORE_ERROR_FAILED, "could not be written" },
    { FALSE, STORE_ERROR_BUSY, "Another program" },
    { FALSE, STORE_ERROR_CORRUPT, "damaged" },
    { FALSE, STORE_ERROR_TOO_NEW, "later version" },
    { FALSE, STORE_ERROR_FULL, "no room" },
    { FALSE, STORE_ERROR_READ_ONLY, "only be read" },
    { FALSE, STORE_ERROR_NO_MEMORY, "memory" },
    { FALSE, STORE_ERROR_NOT_FOUND, "not there" },
    { FALSE, STORE_ERROR_EXISTS, "already" },
    { FALSE, STORE_ERROR_STALE, "meanwhile" },
    { TRUE, IMG_ERROR_NOT_A_PICTURE, "not a picture" },
    { TRUE, IMG_ERROR_UNSUPPORTED, "of this kind" },
    { TRUE, IMG_ERROR_TOO_LARGE, "200 megapixels" },
    { TRUE, IMG_ERROR_DAMAGED, "damaged" },
    { TRUE, IMG_ERROR_UNREADABLE, "cannot be read" },
    { TRUE, IMG_ERROR_EMPTY, "empty" },
    { TRUE, IMG_ERROR_HELPER_DIED, "failed halfway" },
    { TRUE, IMG_ERROR_NO_HELPER, "missing" },
    { TRUE, IMG_ERROR_FAILED, "could not be read now" },
    { TRUE, 999, "could not be read now" },
    { FALSE, -1, "could not be written" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = rows[i].image
                                ? words_image_error (WORDS_ENGLISH, rows[i].code, "a.jpg")
                                : words_store_error (WORDS_ENGLISH, rows[i].code, NULL);

      if (strstr (text, rows[i].holds) == NULL)
        g_error ("“%s” lacks “%s”", text, rows[i].holds);
      g_assert_cmpint (g_str_has_prefix (text, "a.jpg: "), ==, rows[i].image);
    }
}

/* What one cup or lot is said to have done, each with its detail. */
static void
test_round_write (void)
{
  static const struct
  {
    CoreRoundWrite write;
    const char *said;
  } rows[] = {
    { { .what = CORE_WORD_MOULTED, .code = -1 }, "moulted" },
    { { .what = CORE_WORD_MOULTED, .code = CORE_MOULT_GOOD }, "moulted well" },
    { { .what = CORE_WORD_MOULTED, .code = CORE_MOULT_FELL }, "moulted and fell" },
    { { .what = CORE_WORD_MOULTED, .code = CORE_MOULT_LIMB }, "moulted, a limb bent or lost" },
    { { .what = CORE_WORD_MOULTED, .code = -1, .to = CORE_SEEN_ADULT }, "moulted, now adult" },
    { { .what = CORE_WORD_MOULTED, .code = CORE_MOULT_FELL, .to = CORE_SEEN_SUBADULT },
      "moulted and fell, now sub-adult" },
    { { .what = CORE_WORD_MOULTED, .code = -1, .days_back = 1 }, "moulted, on Tue 24 November" },
    { { .what = CORE_WORD_LEFT, .code = -1 }, "left" },
    { { .what = CORE_WORD_LEFT, .code = 0 }, "left: sold" },
    { { .what = CORE_WORD_LOOKS_DEAD }, "looks dead" },
    { { .what = CORE_WORD_GONE }, "prey gone" },
    { { .what = CORE_WORD_SWAP }, "changes places with 15" },
    { { .what = CORE_WORD_DEAD, .n = 3 }, "3 died" },
    { { .what = CORE_WORD_DEAD }, "died" },
    { { .what = CORE_WORD_REMAIN, .n = 96 }, "96 remain" },
    { { .what = CORE_WORD_REMAIN, .n = 120, .about = true }, "about 120 remain" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    wt_says (words_round_write (&view, NULL, "15", wt_today (), &rows[i].write), rows[i].said);
}

static void
test_round_left_out (void)
{
  static const char *const all[] = { "3", "14", "14a", "22", "23", "25", "31" };
  static const struct
  {
    const char *numbers[7];
    const char *said;
  } rows[] = {
    { { "3" }, "3" },
    { { "3", "14" }, "3, 14" },
    { { "3", "14", "14a" }, "3–14a" },
    { { "3", "22", "23", "25" }, "3, 22–25" },
    { { "22", "23", "25", "31" }, "22–31" },
    { { "14", "22", "31" }, "14, 22, 31" },
    { { "3", "14", "14a", "23", "25", "31" }, "3–14a, 23–31" },
    { { "88", "3" }, "88, 3" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gsize n = 0;

      while (n < G_N_ELEMENTS (rows[i].numbers) && rows[i].numbers[n] != NULL)
        n++;
      wt_says (words_round_numbers (WORDS_ENGLISH, rows[i].numbers, n, all, G_N_ELEMENTS (all)),
               rows[i].said);
    }
  wt_says (words_round_left_out_due (WORDS_ENGLISH, "14, 22–25"), "Due among them: 14, 22–25.");
  wt_says (words_round_left_out_part (WORDS_ENGLISH, CORE_LEFT_OUT_HELD, -1, "14, 31"),
           "14, 31 leave alone");
  wt_says (words_round_left_out_part (WORDS_ENGLISH, CORE_LEFT_OUT_TOO_SMALL, CORE_PREY_HOUSE_FLY,
                                      "22–25"),
           "22–25 too small for house flies");
  wt_says (words_round_left_out_part (WORDS_ENGLISH, CORE_LEFT_OUT_NOT_ITS_PREY, CORE_PREY_CRICKET,
                                      "5"),
           "5 not for crickets");
  wt_says (words_round_left_out_part (WORDS_ENGLISH, CORE_LEFT_OUT_NOTHING_IN, -1, "5"),
           "5 had no prey in");
  wt_says (words_round_left_out_part (WORDS_ENGLISH, CORE_LEFT_OUT_STAGE_UNKNOWN, -1, "5"),
           "5 stage not known");
  wt_says (words_round_left_out_part (WORDS_ENGLISH, CORE_LEFT_OUT_LENGTH_UNKNOWN, CORE_PREY_MOTH,
                                      "22–25"),
           "22–25 not known to be large enough for moths: by number only");
  wt_says (words_round_left_out_part (WORDS_ENGLISH, CORE_LEFT_OUT_NOT_THERE, -1, "5"),
           "5 not there that day");
  wt_says (words_round_left_out (WORDS_ENGLISH, "14, 31 leave alone; 22–25 too small for moths"),
           "Left out: 14, 31 leave alone; 22–25 too small for moths.");
}

static void
test_round (void)
{
  static const char line[] = "all fed hosue flies; x refused";
  CoreRoundProblem p = { .error = CORE_ROUND_UNKNOWN_WORD, .start = 8, .length = 5 };
  CoreRoundAction a = { CORE_WORD_FED, CORE_PREY_HOUSE_FLY, 2, 0, 0 };
  CoreRoundException e = { .number = "14", .outcome = CORE_WORD_REFUSED, .prey = -1 };
  CoreRoundWrite w = { .what = CORE_WORD_REFUSED, .prey = CORE_PREY_HOUSE_FLY, .n = 2 };

  wt_says (words_round_problem (WORDS_ENGLISH, &p, line), "“hosue”: this word is not known.");
  p = (CoreRoundProblem){ .error = CORE_ROUND_EXPECT_NUMBER, .start = 21, .length = 1 };
  wt_says (words_round_problem (WORDS_ENGLISH, &p, line), "“x”: expected the number of a cup, such as: 14 refused; to leave out cup 10: 10 skip.");
  p = (CoreRoundProblem){ .error = CORE_ROUND_AMBIGUOUS,
                          .start = 500,
                          .length = 9,
                          .n_candidates = 2,
                          .candidates = { "moths", "moulted" } };
  wt_says (words_round_problem (WORDS_ENGLISH, &p, line),
           "This can mean more than one thing: moths, moulted.");
  p = (CoreRoundProblem){ .error = CORE_ROUND_TWICE, .start = 21, .length = 1 };
  wt_says (words_round_problem (WORDS_ENGLISH, &p, line),
           "“x”: this cup is named twice, and both cannot be kept.");
  for (int i = CORE_ROUND_EMPTY; i < CORE_N_ROUND_ERRORS; i++)
    {
      g_autofree char *text = NULL;

      p = (CoreRoundProblem){ .error = (CoreRoundError) i };
      text = words_round_problem (WORDS_ENGLISH, &p, "");
      wt_sentence (text, "round");
      g_assert_cmpstr (text, !=, "Something else.");
    }
  wt_says (words_round_action (WORDS_ENGLISH, &a, 23), "Fed 2 house flies: 23 cups");
  wt_says (words_round_action (WORDS_ENGLISH, &a, 0), "Fed 2 house flies");
  a = (CoreRoundAction){ CORE_WORD_MISTED, -1, 0, 0, 0 };
  wt_says (words_round_action (WORDS_ENGLISH, &a, 1), "Sprayed: 1 cup");
  wt_says (words_round_exception (WORDS_ENGLISH, &e), "14: refused");
  e.outcome = CORE_WORD_BELLY;
  e.value = 2;
  wt_says (words_round_exception (WORDS_ENGLISH, &e), "14: belly 2 of 5");
  e = (CoreRoundException){
    .number = "5", .outcome = CORE_WORD_FED, .prey = CORE_PREY_BLUE_BOTTLE, .n = 2
  };
  wt_says (words_round_exception (WORDS_ENGLISH, &e), "5: fed 2 blue bottles");
  e.outcome = CORE_WORD_TOOK;
  wt_says (words_round_exception (WORDS_ENGLISH, &e), "5: seen eating, 2 blue bottles");
  wt_says (words_round_write (&view, "14", NULL, wt_today (), &w), "14: refused, 2 house flies");
  wt_says (words_round_wrote (WORDS_ENGLISH, 1), "1 entry written.");
}

static const CoreRoundTerm *
find_term (const CoreRoundTerm *terms, gsize n, const char *text)
{
  for (gsize i = 0; i < n; i++)
    {
      if (strcmp (terms[i].text, text) == 0)
        return &terms[i];
    }
  return NULL;
}

static void
test_vocabulary (void)
{
  gsize n;
  const CoreRoundTerm *terms = words_round_terms (WORDS_ENGLISH, &n);
  guint prey = 0, signs = 0;

  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *folded = g_utf8_strdown (terms[i].text, -1);

      g_assert_cmpstr (terms[i].text, ==, folded);
      g_assert_true (find_term (terms, n, terms[i].text) == &terms[i]);
      if (terms[i].word == CORE_WORD_PREY)
        prey |= 1u << terms[i].code;
      if (terms[i].word == CORE_WORD_SIGN)
        signs |= 1u << terms[i].code;
    }
  g_assert_cmpuint (prey, ==, (1u << CORE_N_PREY) - 1);
  /* "refused" is an outcome and not typed as a sign. */
  g_assert_cmpuint (signs, ==, ((1u << CORE_N_SIGNS) - 1) & ~(1u << CORE_SIGN_REFUSES));
  for (int word = CORE_WORD_ALL; word < CORE_WORD_SPECIES; word++)
    {
      gboolean found = FALSE;

      for (gsize i = 0; i < n; i++)
        found = found || terms[i].word == (CoreRoundWord) word;
      g_assert_true (found);
    }
  g_assert_cmpint (find_term (terms, n, "house flies")->code, ==, CORE_PREY_HOUSE_FLY);
  /* Two kinds of fruit fly: the bare words decide nothing. */
  g_assert_null (find_term (terms, n, "fruit flies"));
  g_assert_nonnull (find_term (terms, n, "fruit flies small"));
  g_assert_nonnull (find_term (terms, n, "fruit flies large"));
}

/* What the parser of core makes of lines in this vocabulary. */
static void
test_lines (void)
{
  static const struct
  {
    const char *line;
    const char *understood;
  } rows[] = {
    { "all fed 2 house flies, except 14 31 refused",
      "all; Fed 2 house flies: 3 cups; 14: refused; 31: refused" },
    { "fed moths, sprayed; 33 moulted", "all; Fed moths: 3 cups; Sprayed: 3 cups; 33: moulted" },
    { "due fed; 14 belly 2", "due; Fed prey: 3 cups; 14: belly 2 of 5" },
    { "looked at all", "all; Looked at: 3 cups" },
    { "fed small fruit flies", "all; Fed small fruit flies: 3 cups" },
    { "14 refused", "all; 14: refused" },
    { "14 ate 2 blue bottles; 31 belly 4",
      "all; 14: seen eating, 2 blue bottles; 31: belly 4 of 5" },
    { "14 refused moths", "all; 14: refused, moths" },
    { "14 gave 2 bluebottles", "all; 14: fed 2 blue bottles" },
    { "14 given away", "all; 14: left: given away" },
    { "14 given 1 moth", "all; 14: fed 1 moth" },
    { "fed hydei; 14 fed 1 moth", "all; Fed large fruit flies: 3 cups; 14: fed 1 moth" },
    { "14 refused yesterday; 31 moulted fell adult",
      "all; 14: refused; 31: moulted and fell, now adult" },
    { "gone; 14 refused", "all; Prey gone: 3 cups; 14: refused" },
    { "swap 14 31", "all; 14: changes places with 31; 31: changes places with 14" },
    { "fed 2 hou, mist; 14 31 re; 33 mou fe",
      "all; Fed 2 house flies: 3 cups; Sprayed: 3 cups; 14: refused; 31: refused; 33: moulted and "
      "fell" },
    { "house flies: fed", "all; Fed prey: 3 cups" },
    { "moths: fed", "problem 14" },
    { "L99 fed", "problem 13" },
    { "14 moulted wed", "problem 15" },
    { "fed hydei; 31 hanging", "all; Fed large fruit flies: 3 cups; 31: moult sign: hanging" },
  };
  g_autofree char *two = wt_round ("fed fruit flies", WORDS_ENGLISH);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    wt_says (wt_round (rows[i].line, WORDS_ENGLISH), rows[i].understood);
  g_assert_true (g_str_has_prefix (two, "problem 3"));
  g_assert_nonnull (strstr (two, "fruit flies small"));
  g_assert_nonnull (strstr (two, "fruit flies large"));
}

/* Who did what, in this order; not "20 2 moths: refused". */
static void
test_written (void)
{
  CoreEntry *put_in = wt_entry (CORE_KIND_FED, "prey=moth", "n=2", NULL);
  CoreEntry *refused = wt_entry (CORE_KIND_FED, "prey=moth", "n=2", "outcome=refused", NULL);
  CoreEntry *eaten = wt_entry (CORE_KIND_FED, "prey=moth", "n=1", "outcome=taken", NULL);
  CoreEntry *looked = wt_entry (CORE_KIND_LOOKED, NULL);
  CoreState animal = { .kind = CORE_SUBJECT_ANIMAL };
  CoreState lot = { .kind = CORE_SUBJECT_LOT };

  wt_says (words_written (&view, "20", &animal, put_in), "cup 20 got 2 moths");
  wt_says (words_written (&view, "20", &animal, refused), "cup 20 refused 2 moths");
  wt_says (words_written (&view, "20", &animal, eaten), "cup 20 ate 1 moth");
  wt_says (words_written (&view, "L1", &lot, refused), "L1 refused 2 moths");
  wt_says (words_written (&view, "20", &animal, looked), "cup 20: looked at");
  wt_says (words_written (&view, "", NULL, looked), "looked at");
  core_entry_free (put_in);
  core_entry_free (refused);
  core_entry_free (eaten);
  core_entry_free (looked);
}

static void
test_round_line (void)
{
  wt_round_read_back (WORDS_ENGLISH);
  wt_says (wt_round_line ("f 2 hou, mist; 14 33 re; 31 mou fe", WORDS_ENGLISH),
           "fed 2 house flies, sprayed; 14 33 refused; 31 moulted fell");
  wt_says (wt_round_line ("L4 up looked; swap 14 31", WORDS_ENGLISH),
           "L4 up: looked at all; swap 14 31");
  wt_says (wt_round_line ("all misted, cleaned", WORDS_ENGLISH), "sprayed, cleaned");
  wt_says (wt_round_line ("14 refused; 31 belly 4; 33 refused", WORDS_ENGLISH),
           "14 33 refused; 31 belly 4");
}

static void
test_photo_and_care (void)
{
  gsize n;
  const WordsParagraph *words = words_emergency (WORDS_ENGLISH, &n);

  for (int i = 0; i < WORDS_N_UNUSABLE; i++)
    {
      g_autofree char *text = words_unusable (WORDS_ENGLISH, (WordsUnusable) i);

      wt_sentence (text, "unusable");
      g_assert_cmpstr (text, !=, "something else");
    }
  wt_says (words_count (WORDS_ENGLISH, 6, .71, 8, .22),
           "6 plates, 71 in 100; 8 plates, 22 in 100.");
  wt_says (words_count (WORDS_ENGLISH, 0, .6, 6, .3),
           "No plates seen, 60 in 100; 6 plates, 30 in 100.");
  g_assert_cmpuint (n, ==, 11);
  /* The one with the fewest minutes stands first. */
  g_assert_cmpstr (words[0].title, ==, "Fell, still in the old skin");
  g_assert_nonnull (strstr (words[0].body, "never on the body"));
  for (gsize i = 0; i < n; i++)
    wt_sentence (words[i].body, words[i].title);
  /* What looks alike, hanging and refusing, is told apart by the belly. */
  g_assert_cmpstr (words[4].title, ==, "Hangs and eats nothing, for days");
  g_assert_nonnull (strstr (words[4].body, "round belly: a moult is near. Prey out"));
  g_assert_nonnull (strstr (words[4].body, "sunken belly: water on the wall now"));
  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    wt_sentence (words_caution (WORDS_ENGLISH, (WordsCaution) i).body, "caution");
  g_assert_nonnull (strstr (words_caution (WORDS_ENGLISH, WORDS_CAUTION_CLEANING).body, "bleach"));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  view.today = wt_today ();
  g_test_add_func ("/words/every-plan-reason", test_every_plan_reason);
  g_test_add_func ("/words/every-forecast-reason", test_every_forecast_reason);
  g_test_add_func ("/words/reasons", test_reasons);
  g_test_add_func ("/words/title-before-reason", test_title_before_reason);
  g_test_add_func ("/words/forecast-reasons", test_forecast_reasons);
  g_test_add_func ("/words/past-days", test_past_days);
  g_test_add_func ("/words/sex", test_sex);
  g_test_add_func ("/words/evidence", test_evidence);
  g_test_add_func ("/words/evidence/silent", test_silent_evidence);
  g_test_add_func ("/words/refusals", test_refusals);
  g_test_add_func ("/words/values", test_values);
  g_test_add_func ("/words/errors-of-rooms", test_errors_of_rooms);
  g_test_add_func ("/words/round", test_round);
  g_test_add_func ("/words/round-line", test_round_line);
  g_test_add_func ("/words/round-write", test_round_write);
  g_test_add_func ("/words/round-left-out", test_round_left_out);
  g_test_add_func ("/words/vocabulary", test_vocabulary);
  g_test_add_func ("/words/lines", test_lines);
  g_test_add_func ("/words/written", test_written);
  g_test_add_func ("/words/photo-and-care", test_photo_and_care);
  return g_test_run ();
}
