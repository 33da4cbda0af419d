/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-words.c — the English of the contract: days, terms, entries, tasks, forecasts. */
#include <locale.h>
#include <math.h>
#include <string.h>

#include "core/core-state.h"
#include "words-test.h"

static WordsView view = { WORDS_ENGLISH, 0, 1 };

static void
test_numbers (void)
{
  static const char *const items[] = { "14", "33", "41" };

  wt_says (words_number (WORDS_ENGLISH, 2.5, 2), "2.5");
  wt_says (words_number (WORDS_ENGLISH, NAN, 2), "unknown");
  wt_says (words_days (WORDS_ENGLISH, 1), "1 day");
  wt_says (words_days (WORDS_ENGLISH, 1.5), "1.5 days");
  wt_says (words_days (WORDS_ENGLISH, 0), "0 days");
  wt_says (words_days (WORDS_ENGLISH, 19.4), "19 days");
  wt_says (words_percent (WORDS_ENGLISH, .94), "94 in 100");
  wt_says (words_percent (WORDS_ENGLISH, 1), "over 99 in 100");
  wt_says (words_percent (WORDS_ENGLISH, 0), "under 1 in 100");
  wt_says (words_list (WORDS_ENGLISH, items, 3), "14, 33 and 41");
  wt_says (words_list (WORDS_ENGLISH, items, 1), "14");
  wt_says (words_list (WORDS_ENGLISH, items, 0), "");
  wt_says (words_quantity (&view, 23.25, CORE_UNIT_CELSIUS), "23.3 °C");
  wt_says (words_quantity (&view, 41.6, CORE_UNIT_MM), "42 mm");
  wt_says (words_quantity (&view, 55, CORE_UNIT_PERCENT), "55 %");
}

static void
test_days (void)
{
  static const struct
  {
    const char *day;
    WordsDayStyle style;
    const char *says;
  } rows[] = {
    { "2026-11-24", WORDS_DAY_FULL, "Tue 24 November" },
    { "2026-09-03", WORDS_DAY_SHORT, "3 Sep" },
    { "2025-09-03", WORDS_DAY_SHORT, "3 Sep 2025" },
    { "2027-01-03", WORDS_DAY_SHORT, "3 Jan" },
    { "2026-11-25", WORDS_DAY_NEAR, "today" },
    { "2026-11-24", WORDS_DAY_NEAR, "yesterday" },
    { "2026-11-26", WORDS_DAY_NEAR, "tomorrow" },
    { "2026-11-21", WORDS_DAY_NEAR, "Saturday" },
    { "2026-11-18", WORDS_DAY_NEAR, "18 Nov" },
    { "2026-12-01", WORDS_DAY_NEAR, "Tuesday" },
    { "2026-12-02", WORDS_DAY_NEAR, "2 Dec" },
  };
  WordsView blind = { WORDS_ENGLISH, CORE_DAY_NONE, 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    wt_says (words_day (&view, wt_day (rows[i].day), rows[i].style), rows[i].says);
  wt_says (words_day (&view, CORE_DAY_NONE, WORDS_DAY_FULL), "an unknown day");
  wt_says (words_day (&blind, wt_day ("2026-11-24"), WORDS_DAY_NEAR), "24 Nov 2026");
  wt_says (words_day_range (&view, wt_day ("2026-12-03"), wt_day ("2026-12-09")), "3–9 December");
  wt_says (words_day_range (&view, wt_day ("2026-11-28"), wt_day ("2026-12-03")), "28 Nov – 3 Dec");
  wt_says (words_day_range (&view, wt_day ("2026-12-28"), wt_day ("2027-01-03")), "28 Dec – 3 Jan");
  wt_says (words_day_range (&view, wt_day ("2026-12-03"), wt_day ("2026-12-03")), "3 December");
  wt_says (words_clock (WORDS_ENGLISH, 8 * 60 + 5), "08:05");
  wt_says (words_clock (WORDS_ENGLISH, -1), "unknown");
}

/* Every code of every list has a word of its own. */
static void
test_terms_complete (void)
{
  const char *other = words_trouble (WORDS_ENGLISH, 999);

  g_assert_cmpstr (other, ==, "something else");
  for (int i = 1; i < CORE_N_KINDS; i++)
    g_assert_cmpstr (words_kind (WORDS_ENGLISH, (CoreKind) i), !=, other);
  for (int i = 1; i < CORE_N_SUBJECTS; i++)
    g_assert_cmpstr (words_subject_kind (WORDS_ENGLISH, (CoreSubjectKind) i), !=, other);
  for (int i = 0; i < CORE_N_PREY; i++)
    g_assert_cmpstr (words_prey_one (WORDS_ENGLISH, i), !=, other);
  for (int i = 0; i < CORE_N_SIGNS; i++)
    {
      g_assert_cmpstr (words_sign (WORDS_ENGLISH, i), !=, other);
      g_assert_cmpstr (words_sign_question (WORDS_ENGLISH, i), !=, other);
    }
  for (int i = 0; i <= CORE_TROUBLE_OTHER; i++)
    g_assert_cmpstr (words_trouble (WORDS_ENGLISH, i), !=, other);
  for (int i = 0; i < CORE_N_TASKS; i++)
    g_assert_cmpstr (words_task_kind (WORDS_ENGLISH, (CoreTaskKind) i), !=, other);
  for (int i = 0; i <= CORE_NO_FORECAST_TOO_COLD; i++)
    g_assert_cmpstr (words_no_forecast (WORDS_ENGLISH, (CoreNoForecast) i), !=, other);
  for (int i = 1; i <= 5; i++)
    g_assert_cmpstr (words_belly (WORDS_ENGLISH, i), !=, other);
  g_assert_cmpstr (words_belly (WORDS_ENGLISH, 0), ==, other);
  /* What to look for when something hangs: exactly these words. */
  g_assert_cmpstr (words_sign_question (WORDS_ENGLISH, CORE_SIGN_HANGING), ==,
                   "Same spot since yesterday, head down, legs spread, ignores prey that passes");
  wt_says (words_prey (WORDS_ENGLISH, CORE_PREY_HOUSE_FLY, 1), "1 house fly");
  wt_says (words_prey (WORDS_ENGLISH, CORE_PREY_HOUSE_FLY, 2), "2 house flies");
  wt_says (words_prey (WORDS_ENGLISH, CORE_PREY_HOUSE_FLY, 0), "house flies");
  wt_says (words_prey (WORDS_ENGLISH, -1, 0), "prey");
}

/* Every key of every kind has a label, every code word its own word. */
static void
test_keys_and_codes (void)
{
  for (int kind = 1; kind < CORE_N_KINDS; kind++)
    {
      const CoreKindKey *keys = core_kind_info ((CoreKind) kind)->keys;

      for (; keys->key != CORE_KEY_NONE; keys++)
        {
          g_assert_cmpstr (words_key (WORDS_ENGLISH, keys->key), !=, "something else");
          for (int i = 0; keys->words != NULL && keys->words[i] != NULL; i++)
            {
              const char *word = words_code (WORDS_ENGLISH, (CoreKind) kind, keys->key, i);

              if (strcmp (word, "something else") == 0)
                g_error ("%s %s=%s", core_kind_info ((CoreKind) kind)->name, keys->name,
                         keys->words[i]);
            }
        }
    }
  g_assert_cmpstr (words_code (WORDS_ENGLISH, CORE_KIND_FED, CORE_KEY_OUTCOME, 1), ==,
                   "seen eaten");
  g_assert_cmpstr (words_code (WORDS_ENGLISH, CORE_KIND_MOULTED, CORE_KEY_OUTCOME, 1), ==, "fell");
  g_assert_cmpstr (words_code (WORDS_ENGLISH, CORE_KIND_MOULTED, CORE_KEY_SEEN, 1), ==,
                   "found later");
  g_assert_cmpstr (words_code (WORDS_ENGLISH, CORE_KIND_TROUBLE, CORE_KEY_SURE, 1), ==, "no");
}

static void
test_stage (void)
{
  WordsView second = { WORDS_ENGLISH, wt_today (), 2 };
  CoreState s;

  core_state_init (&s);
  s.moults = -1;
  wt_says (words_stage (&view, &s), "stage unknown");
  wt_says (words_stage_brief (&view, &s), "?");
  s.moults = 4;
  s.basis = CORE_BASIS_COUNTED;
  wt_says (words_stage (&view, &s), "L5");
  wt_says (words_stage (&second, &s), "L6");
  wt_says (words_stage_long (&view, &s), "fifth stage (hatchling = L1)");
  wt_says (words_stage_long (&second, &s), "sixth stage (hatchling = L2)");
  s.basis = CORE_BASIS_ESTIMATED;
  wt_says (words_stage (&view, &s), "about L5");
  wt_says (words_stage_brief (&view, &s), "~L5");
  wt_says (words_stage_long (&view, &s), "about the fifth stage (hatchling = L1)");
  s.subadult = true;
  wt_says (words_stage (&view, &s), "sub-adult");
  s.adult = true;
  s.adult_seen = wt_day ("2026-09-03");
  wt_says (words_stage (&view, &s), "adult since 3 Sep");
  {
    CoreStage stage = { .start = CORE_START_MOULTED, .lo = wt_day ("2026-08-29") };
    stage.hi = wt_day ("2026-09-03");
    s.stages.v = &stage;
    s.stages.n = 1;
    wt_says (words_stage (&view, &s), "adult since 30 Aug – 3 Sep");
    /* Seen to be adult by another entry than the moult, which may have been an earlier one. */
    s.adult_entry.b[0] = 1;
    s.adult_seen = wt_day ("2026-09-20");
    wt_says (words_stage (&view, &s), "adult since 20 Sep or before");
    {
      CoreStage two[2] = { { .start = CORE_START_HATCHED, .seen = CORE_SEEN_SUBADULT }, stage };

      s.stages.v = two;
      s.stages.n = 2;
      wt_says (words_stage (&view, &s), "adult since 30 Aug – 3 Sep");
      s.stages.v = &stage;
      s.stages.n = 1;
    }
    s.adult_seen = wt_day ("2026-09-03");
    s.adult_entry.b[0] = 0;
    stage.lo = wt_day ("2026-09-02");
    wt_says (words_stage (&view, &s), "adult since 3 Sep");
    stage.start = CORE_START_ACQUIRED;
    wt_says (words_stage (&view, &s), "adult since 3 Sep or before");
    s.stages.v = NULL;
    s.stages.n = 0;
  }
  core_state_clear (&s);
}

static void
test_entries (void)
{
  static const struct
  {
    CoreKind kind;
    const char *pairs[3];
    const char *says;
  } rows[] = {
    { CORE_KIND_FED, { "prey=house fly", "n=2" }, "2 house flies: put in" },
    { CORE_KIND_FED, { "prey=moth", "outcome=refused" }, "moths: refused" },
    { CORE_KIND_FED, { "outcome=taken" }, "prey: seen eaten" },
    { CORE_KIND_LOOKED, { NULL }, "looked at" },
    { CORE_KIND_GONE, { NULL }, "prey gone, probably eaten" },
    { CORE_KIND_BELLY, { "score=4" }, "belly 4 of 5, round" },
    { CORE_KIND_MEASURED, { "what=body", "mm=42.5", "sd=1" }, "body 42.5 ± 1 mm" },
    { CORE_KIND_SIGN, { "sign=hanging" }, "moult sign: hanging" },
    { CORE_KIND_MOULTED, { "outcome=good", "to=adult" }, "moulted well; now adult" },
    { CORE_KIND_MOULTED, { "outcome=fell", "seen=yes" }, "moulted and fell; seen happening" },
    { CORE_KIND_STAGE, { "seen=subadult" }, "seen to be sub-adult, wing pads large" },
    { CORE_KIND_SEXED, { "sex=female", "method=laid" }, "read as female; laid an egg case" },
    { CORE_KIND_TROUBLE, { "what=thin", "sure=no" }, "trouble: thin; not sure" },
    { CORE_KIND_DIED, { "cause=age", "sure=no" }, "died; old age; cause not sure" },
    { CORE_KIND_LEFT, { "how=swapped", "to=a friend" }, "swapped; to a friend" },
    { CORE_KIND_ACQUIRED,
      { "stage=L4", "scheme=2", "from=a fair" },
      "came from a fair; said to be L4 (hatchling = L2)" },
    { CORE_KIND_ACQUIRED, { "stage=L4" }, "came; said to be L4, scheme not known" },
    /* No number: no count to name. */
    { CORE_KIND_ACQUIRED, { "stage=adult", "scheme=1" }, "came; said to be adult" },
    { CORE_KIND_DONE, { "rule=sex_check" }, "done: sex check" },
    { CORE_KIND_PUT_OFF, { "rule=home", "until=2026-11-27" }, "put off until Friday: larger home" },
    /* A weekday that is over would be read as the next one. */
    { CORE_KIND_PUT_OFF, { "rule=home", "until=2026-11-22" }, "put off until 22 Nov: larger home" },
    { CORE_KIND_SET,
      { "key=species", "value=Hierodula membranacea" },
      "species: Hierodula membranacea" },
    { CORE_KIND_SET, { "key=species", "value=unknown" }, "species unknown" },
    { CORE_KIND_SET, { "key=purpose", "value=pairing" }, "kept for: pairing" },
    { CORE_KIND_SET, { "key=sex_check", "value=not_needed" }, "sex check: not needed" },
    { CORE_KIND_SET, { "key=caution.allergy", "value=off" }, "caution Allergy: switched off" },
    { CORE_KIND_SET, { "key=interval.feed", "value=3-5" }, "own interval, feed: 3–5 days" },
    { CORE_KIND_SET, { "key=interval.mist", "value=1" }, "own interval, spray: 1 day" },
    { CORE_KIND_SET, { "key=day_c", "value=24.5" }, "usual day temperature, °C: 24.5" },
    { CORE_KIND_SET, { "key=night_c", "value=" }, "usual night temperature, °C: not said" },
    { CORE_KIND_SET, { "key=name", "value=pairing" }, "name: pairing" },
    { CORE_KIND_READING, { "t=24.5", "rh=55" }, "24.5 °C; humidity 55 %" },
    { CORE_KIND_LOGGED, { "series=1A50EtiBwlBhCU" },
      "2 readings of a logger; 23.8 to 24.1 °C; humidity 54 to 55 %" },
    { CORE_KIND_DRANK, { "eager=yes" }, "drank eagerly" },
    { CORE_KIND_NOTE, { "text=very shy" }, "very shy" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreEntry *entry =
        wt_entry (rows[i].kind, rows[i].pairs[0], rows[i].pairs[1],
                  rows[i].pairs[0] && rows[i].pairs[1] ? rows[i].pairs[2] : NULL, NULL);
      WordsEntry what = { .entry = entry };

      wt_says (words_entry (&view, &what), rows[i].says);
      core_entry_free (entry);
    }
}

static void
test_entry_of_state (void)
{
  CoreEntry *entry = wt_entry (CORE_KIND_MOULTED, "outcome=good", NULL);
  CoreStage stages[2] = { { .start = CORE_START_HATCHED }, { .start = CORE_START_MOULTED } };
  CoreLook look = { .day = wt_today () - 5, .t = wt_today () - 5 };
  CoreState s;
  WordsEntry what = { .entry = entry, .state = &s };

  core_state_init (&s);
  stages[1].entry = entry->id;
  stages[1].lo = wt_today () - 5;
  stages[1].hi = wt_today ();
  s.stages.v = stages;
  s.stages.n = 2;
  s.moults = 5;
  s.basis = CORE_BASIS_COUNTED;
  wt_says (words_entry (&view, &what), "moulted well; now L6");
  s.looks.v = &look;
  s.looks.n = 1;
  wt_says (words_entry (&view, &what), "moulted well; now L6; last seen in the old skin Friday");
  s.basis = CORE_BASIS_ESTIMATED;
  what.taken_back = TRUE;
  entry->bulk = true;
  wt_says (words_entry (&view, &what),
           "moulted well; now about L6; last seen in the old skin Friday; with the whole shelf; "
           "taken back");
  s.looks.v = NULL;
  s.looks.n = 0;
  s.stages.v = NULL;
  s.stages.n = 0;
  core_state_clear (&s);
  core_entry_free (entry);
}

static void
test_change (void)
{
  CoreEntry *fed = wt_entry (CORE_KIND_FED, "prey=house fly", "n=2", NULL);
  CoreEntry *looked = wt_entry (CORE_KIND_LOOKED, NULL);

  wt_says (words_change (&view, FALSE, "14", NULL, fed, 13),
           "Took back: 14 fed 2 house flies, and 12 more.");
  wt_says (words_change (&view, TRUE, "14", NULL, fed, 1), "Put back: 14 fed 2 house flies.");
  wt_says (words_change (&view, FALSE, "14", NULL, looked, 2), "Took back: 14: looked at, and 1 more.");
  wt_says (words_change (&view, FALSE, NULL, NULL, looked, 1), "Took back: looked at.");
  fed->bulk = looked->bulk = true;
  wt_says (words_change (&view, FALSE, "1", NULL, fed, 19),
           "Took back the round: 1 fed 2 house flies, and 18 more.");
  wt_says (words_change (&view, TRUE, "1", NULL, fed, 2),
           "Put back the round: 1 fed 2 house flies, and 1 more.");
  wt_says (words_change (&view, FALSE, "14", NULL, looked, 1), "Took back the round: 14: looked at.");
  wt_says (words_change (&view, TRUE, "14", NULL, looked, 1), "Put back the round: 14: looked at.");
  g_assert_true (looked->bulk);
  core_entry_free (fed);
  core_entry_free (looked);
}

static void
test_tasks (void)
{
  CoreDay today = wt_today ();
  CoreTask task = { .kind = CORE_TASK_FEED,
                    .earliest = today,
                    .due = today,
                    .latest = today + 1,
                    .n_prey = 1,
                    .prey = { { CORE_PREY_HOUSE_FLY, 2, 6.5 } } };
  CoreHeld held = { .kind = CORE_TASK_FEED, .until = today + 2, .ask_again = today + 3 };
  CoreHold hold = { .kind = CORE_HOLD_AFTER, .until = today + 2, .ask_again = today + 3 };

  wt_says (words_task_title (&view, &task), "Feed: 2 house flies");
  wt_says (words_task_when (&view, &task), "due today");
  task.due = today - 1;
  wt_says (words_task_when (&view, &task), "due since yesterday");
  task.latest = today - 1;
  wt_says (words_task_when (&view, &task), "overdue since yesterday");
  task.earliest = today + 2;
  task.due = task.latest = today + 3;
  wt_says (words_task_when (&view, &task), "due Saturday");
  task.kind = CORE_TASK_LOOK;
  wt_says (words_task_title (&view, &task), "Look at it");
  wt_says (words_held (&view, &held), "Feed: not before Fri is over");
  held.until = CORE_DAY_NONE;
  held.ask_again = today + 1;
  wt_says (words_held (&view, &held), "Feed: not until it has moulted; look again tomorrow");
  wt_says (words_hold_brief (&view, &hold), "free again Sat");
  wt_says (words_hold (&view, &hold), "leave alone; free again Sat");
  hold.touch_until = today + 4;
  wt_says (words_hold (&view, &hold), "leave alone; food again Sat, touching again Mon");
  wt_says (words_hold_brief (&view, &hold), "food again Sat");
  hold.touch_until = hold.until;
  hold.reach = CORE_REACH_TOUCH;
  wt_says (words_hold (&view, &hold), "do not touch; free again Sat");
  hold.reach = CORE_REACH_OPEN;
  hold.until = today + 20;
  wt_says (words_hold_brief (&view, &hold), "free again 16 Dec");
  hold.kind = CORE_HOLD_BEFORE;
  hold.until = CORE_DAY_NONE;
  hold.ask_again = today + 1;
  wt_says (words_hold (&view, &hold), "leave alone until it has moulted; look again tomorrow");
  hold.kind = CORE_HOLD_NONE;
  wt_says (words_hold (&view, &hold), "");
}

/* ---- printed sheets ---- */

/* One cell of paper: what is held back first, the prey itself in place of "feed", only what is
 * due by today. */
static void
test_sheet_due (void)
{
  CoreTask tasks[3] = { { .kind = CORE_TASK_FEED, .day = view.today, .n_prey = 1 },
                        { .kind = CORE_TASK_MIST, .day = view.today - 2 },
                        { .kind = CORE_TASK_CLEAN, .day = view.today + 1 } };
  CorePlan plan = { 0 };

  wt_says (words_sheet_due (&view, &plan), "");
  tasks[0].prey[0] = (CorePreyOffer){ CORE_PREY_HOUSE_FLY, 2, 7 };
  plan.tasks.v = tasks;
  plan.tasks.n = 3;
  wt_says (words_sheet_due (&view, &plan), "2 house flies · spray");
  tasks[0].n_prey = 0;
  wt_says (words_sheet_due (&view, &plan), "feed · spray");
  tasks[2].kind = CORE_TASK_MIST; /* said once */
  tasks[2].day = view.today;
  wt_says (words_sheet_due (&view, &plan), "feed · spray");
  tasks[0].projected = true;
  plan.hold = (CoreHold){ .kind = CORE_HOLD_AFTER, .reach = CORE_REACH_OPEN, .until = view.today + 2 };
  wt_says (words_sheet_due (&view, &plan), "leave alone; free again Sat · spray the far wall only, or nothing");
  plan.hold.reach = CORE_REACH_TOUCH;
  wt_says (words_sheet_due (&view, &plan), "do not touch; free again Sat · spray the far wall only, or nothing");
}

static CoreForecast
some_forecast (void)
{
  CoreForecast f = { .why = CORE_NO_FORECAST_NONE,
                     .p10 = wt_day ("2026-12-03"),
                     .p50 = wt_day ("2026-12-06"),
                     .p90 = wt_day ("2026-12-09"),
                     .within3 = .02,
                     .within7 = .05,
                     .within14 = .93,
                     .last_look = wt_today () };

  return f;
}

static void
test_forecast (void)
{
  CoreForecast f = some_forecast ();

  wt_says (words_forecast (&view, &f), "next moult about 3–9 December");
  wt_says (words_chances (&view, &f),
           "within 3 days 2 in 100, within 7 days 5 in 100, within 14 days 93 in 100");
  wt_says (words_adult (&view, &f), "when it is adult cannot be said");
  f.has_adult = true;
  f.adult_p10 = wt_day ("2027-01-03");
  f.adult_p90 = wt_day ("2027-03-02");
  wt_says (words_adult (&view, &f), "adult about 3 Jan – 2 Mar 2027");
  /* Never one day, however narrow. */
  f.p90 = f.p10;
  wt_says (words_forecast (&view, &f), "next moult about 3–4 December");
  /* Longer than usual is only what was looked at since. */
  f.longer_than_usual = true;
  wt_says (words_forecast (&view, &f), "next moult about 3–4 December");
  f.seen_past_range = true;
  wt_says (words_forecast (&view, &f),
           "longer than usual in this stage, next moult perhaps 3–4 December");
  f.why = CORE_NO_FORECAST_NO_START;
  wt_says (words_forecast (&view, &f), "no forecast: enter its hatch, arrival or last moult");
  f = some_forecast ();
  f.not_normal = .5;
  g_assert_false (words_forecast_doubtful (&f));
  f.not_normal = .51;
  g_assert_true (words_forecast_doubtful (&f));
  wt_says (
    words_forecast (&view, &f),
    "longer than usual; whether a moult comes is doubtful: a missed moult, or a wrong date?");
  f.doubt = CORE_DOUBT_ADULT;
  wt_says (words_forecast (&view, &f),
           "longer than usual; whether a moult comes is doubtful: already adult, or a wrong date?");
  wt_says (words_adult (&view, &f), "when it is adult cannot be said");
  f.doubt = CORE_DOUBT_WINGS;
  wt_says (words_forecast (&view, &f), "probably adult: are the wings full?");
  f = some_forecast ();
  f.p10 = wt_today () + 1;
  f.p90 = wt_today () + 9;
  f.days[CORE_Q10] = .3;
  wt_says (words_forecast (&view, &f), "next moult about tonight to 4 Dec");
  f.p90 = f.p10;
  wt_says (words_forecast_range (&view, &f), "tonight or tomorrow");
  f.moulting = CORE_SIGN_SPLITTING;
  f.moulting_day = wt_today ();
  f.days[CORE_Q75] = .4;
  wt_says (words_forecast (&view, &f), "moulting now: its skin is splitting");
  f.moulting_day -= 3;
  wt_says (words_forecast (&view, &f),
           "has most probably moulted, 22–23 November: its skin was splitting on 22 Nov; look");
  wt_says (words_shift (WORDS_ENGLISH, 2.1), "2 days later");
  wt_says (words_shift (WORDS_ENGLISH, -1), "1 day sooner");
  wt_says (words_shift (WORDS_ENGLISH, .1), "");
}

/* Too cold, too hot or at rest: no day is said, but why none is to be expected and what it wants. */
static void
test_standstill (void)
{
  CoreForecast f = some_forecast (), warm = some_forecast ();

  f.beyond = .09;
  wt_says (words_forecast (&view, &f), "next moult about 3–9 December");
  f.beyond = .3;
  wt_says (words_forecast (&view, &f),
           "next moult about 3–9 December, or none at this temperature (30 in 100)");
  wt_says (words_chances (&view, &f),
           "within 3 days 2 in 100, within 7 days 5 in 100, within 14 days 93 in 100; none at this "
           "temperature 30 in 100");
  wt_says (words_what_if_moult (&view, &warm, &f, 0),
           "Next moult about 3–9 December, or none at this temperature (30 in 100). As it is now: "
           "next moult about 3–9 December.");
  f.beyond = .7;
  f.has_adult = true;
  f.adult_p10 = wt_day ("2027-01-03");
  f.adult_p90 = wt_day ("2027-03-02");
  f.still = (CoreStandstill){ CORE_STILL_COLD, 12.5, 22, 28 };
  g_assert_true (words_forecast_none_expected (&f));
  g_assert_false (words_forecast_has_days (&f));
  wt_says (words_forecast (&view, &f),
           "no moult to be expected while it stands at about 12.5 °C: too cold to grow; by day it "
           "wants 22 °C to 28 °C");
  wt_says (words_adult (&view, &f), "when it is adult cannot be said");
  wt_says (words_what_if_moult (&view, &warm, &f, 0),
           "No moult to be expected while it stands at about 12.5 °C: too cold to grow; by day it "
           "wants 22 °C to 28 °C. As it is now: next moult about 3–9 December.");
  f.by_now = .28;
  wt_says (words_forecast (&view, &f),
           "no moult to be expected while it stands at about 12.5 °C: too cold to grow; by day it "
           "wants 22 °C to 28 °C; it may have moulted before, unseen (28 in 100): look");
  f.by_now = 0;
  f.why = CORE_NO_FORECAST_TOO_COLD;
  f.still = (CoreStandstill){ CORE_STILL_HOT, 44, NAN, NAN };
  wt_says (words_forecast (&view, &f),
           "no moult to be expected while it stands at about 44 °C: too hot, and heat kills");
  f.still.why = CORE_STILL_REST;
  f.still.mean_c = 8;
  wt_says (words_forecast (&view, &f),
           "no moult to be expected while it rests in the cold, at about 8 °C");
  wt_says (words_what_if_moult (&view, &f, &f, 0),
           "As it is now: no moult to be expected while it rests in the cold, at about 8 °C.");
}

/* Its whole range went by and nobody looked: no next moult, nothing that lasts long. */
static void
test_unseen (void)
{
  CoreForecast f = some_forecast ();

  f.p10 = wt_today () - 20;
  f.p90 = wt_today () + 4;
  f.by_now = .6;
  wt_says (words_forecast (&view, &f), "next moult about 5–29 November, perhaps past: look");
  wt_says (words_chances (&view, &f),
           "already, unseen, 60 in 100, within 3 days 2 in 100, within 7 days 5 in 100, within 14 "
           "days 93 in 100");
  f.by_now = .93;
  f.longer_than_usual = f.probably_moulted = true;
  f.last_look = wt_day ("2026-03-01");
  g_assert_false (words_forecast_has_days (&f));
  wt_says (words_forecast (&view, &f), "has probably moulted since it was last seen, 1 Mar: look");
  wt_says (words_chances (&view, &f), "moulted already, unseen: 93 in 100");
  f.overlooked = true;
  wt_says (words_forecast (&view, &f),
           "has probably moulted, and the looks up to 1 Mar did not tell: look again");
  f.has_adult = true;
  f.adult_p10 = wt_today () - 30;
  f.adult_p90 = wt_today () - 3;
  wt_says (words_adult (&view, &f), "probably adult: are the wings full?");
}

/* What looked dead is forecast only if it lives; a stage seen long ago is not asserted. */
static void
test_doubtful_life_and_stage (void)
{
  CoreForecast f = some_forecast ();
  CoreState s;
  g_autofree char *said = NULL;

  core_state_init (&s);
  s.exists = true;
  s.kind = CORE_SUBJECT_ANIMAL;
  s.moults = 4;
  s.basis = CORE_BASIS_COUNTED;
  s.moults_p[4] = 1;
  g_strlcpy (s.species, "Hierodula membranacea", sizeof s.species);
  wt_says (words_forecast_of (&view, &s, &f), "next moult about 3–9 December");
  s.looks_dead = wt_day ("2026-11-20");
  wt_says (words_forecast_of (&view, &s, &f), "looked dead 20 Nov; if it lives, next moult about 3–9 December");
  s.looks_dead = CORE_DAY_NONE;
  f.by_now = .9;
  f.probably_moulted = true;
  f.last_look = wt_day ("2026-03-01");
  g_assert_true (words_stage_stale (&f));
  said = words_animal (&view, &s, NULL, &f, NULL);
  g_assert_nonnull (strstr (said, "Fifth stage when last seen, 1 Mar, "));
  core_state_clear (&s);
}

static void
test_animal (void)
{
  CoreForecast f = some_forecast ();
  CoreSexVerdict v = { .male = .06, .female = .94, .verdict = CORE_VERDICT_LIKELY_FEMALE };
  CoreMeal meal = {
    .day = wt_day ("2026-11-21"), .prey = CORE_PREY_HOUSE_FLY, .n = 2, .outcome = CORE_FED_TAKEN
  };
  CoreHold hold = { .kind = CORE_HOLD_BEFORE,
                    .until = CORE_DAY_NONE,
                    .ask_again = wt_today () + 1 };
  CoreState s;

  core_state_init (&s);
  s.moults = 4;
  s.basis = CORE_BASIS_COUNTED;
  wt_says (words_animal (&view, &s, NULL, &f, NULL),
           "Fifth stage, no meal entered, next moult about 3–9 December, a rough guess.");
  strcpy (s.species, "Hierodula membranacea");
  g_assert_false (words_forecast_rough (&s, TRUE));
  s.basis = CORE_BASIS_UNKNOWN;
  g_assert_true (words_forecast_rough (&s, TRUE));
  s.basis = CORE_BASIS_COUNTED;
  s.probably_adult = true;
  f.probably_adult = true;
  f.doubt = CORE_DOUBT_WINGS;
  f.not_normal = .9;
  wt_says (words_animal (&view, &s, NULL, &f, NULL),
           "Probably adult, no meal entered, probably adult: are the wings full?");
  wt_says (words_stage_brief (&view, &s), "adult?");
  s.probably_adult = false;
  f = some_forecast ();
  wt_says (words_last_meal (&view, &s), "no meal entered");
  s.meals.v = &meal;
  s.meals.n = 1;
  s.last_taken = meal.day;
  wt_says (words_animal (&view, &s, &v, &f, NULL),
           "Fifth stage, likely female, seen eating Saturday, next moult about 3–9 December.");
  wt_says (words_last_meal (&view, &s), "2 house flies, seen eaten, Saturday");
  meal.outcome = CORE_FED_REFUSED;
  s.refusals_since_taken = 2;
  v.verdict = CORE_VERDICT_UNDECIDED;
  s.basis = CORE_BASIS_ESTIMATED;
  wt_says (words_animal (&view, &s, &v, &f, &hold),
           "About the fifth stage, sex undecided, 2 meals refused, last Saturday, next moult about "
           "3–9 December, leave alone until it has moulted; look again tomorrow.");
  s.last_taken = meal.day - 5;
  wt_says (words_animal (&view, &s, &v, NULL, NULL),
           "About the fifth stage, sex undecided, 2 meals refused, last Saturday; last ate 16 Nov.");
  meal.outcome = CORE_FED_OFFERED;
  meal.gone = true;
  s.refusals_since_taken = 0;
  wt_says (words_animal (&view, &s, NULL, NULL, NULL),
           "About the fifth stage, probably ate Saturday.");
  s.end = CORE_END_DIED;
  s.end_day = wt_day ("2026-11-20");
  wt_says (words_animal (&view, &s, &v, &f, NULL),
           "About the fifth stage, sex undecided, died 20 Nov.");
  s.meals.v = NULL;
  s.meals.n = 0;
  core_state_clear (&s);
}

static void
test_shelf (void)
{
  static const char *const unseen[] = { "14", "33" };
  static const char *const all_unseen[] = { "9", "10", "11", "12", "14", "14a", "15", "20", "19" };
  WordsShelf shelf = { .n_cups = 23,
                       .n_due_food = 9,
                       .prey = CORE_PREY_HOUSE_FLY,
                       .n_alone = 2,
                       .unseen_since = wt_day ("2026-11-21"),
                       .unseen = unseen,
                       .n_unseen = 2 };

  wt_says (words_shelf (&view, &shelf),
           "9 due for house flies, 2 to leave alone, not seen since Saturday: 14, 33.");
  shelf.unseen = all_unseen;
  shelf.n_unseen = G_N_ELEMENTS (all_unseen);
  wt_says (words_shelf (&view, &shelf),
           "9 due for house flies, 2 to leave alone, not seen since Saturday: 9–12, 14, 14a, 15, 20, 19.");
  shelf.prey = -1;
  shelf.n_unseen = 0;
  shelf.due[CORE_TASK_HEAT] = 1;
  wt_says (words_shelf (&view, &shelf), "9 due for food, 1 heater to check, 2 to leave alone.");
  shelf.n_due_mist = 10;
  shelf.n_due_look = 1;
  wt_says (words_shelf (&view, &shelf),
           "9 due for food, 10 to spray, 1 to look at, 1 heater to check, 2 to leave alone.");
  /* What is urgent first, then by what the hand holds. */
  shelf.due[CORE_TASK_AFTER_MOULT] = 3;
  shelf.due[CORE_TASK_SEX_CHECK] = 4;
  shelf.due[CORE_TASK_LOOK] = 1;
  wt_says (words_shelf (&view, &shelf),
           "1 to see to first, 9 due for food, 10 to spray, 1 to look at, 3 to look over after the moult, "
           "the sex of 4 to read, 1 heater to check, 2 to leave alone.");
  memset (shelf.due, 0, sizeof shelf.due);
  shelf.n_due_mist = shelf.n_due_look = 0;
  shelf.n_due_food = shelf.n_alone = 0;
  wt_says (words_shelf (&view, &shelf), "Nothing is due today.");
  shelf.n_cups = 0;
  wt_says (words_shelf (&view, &shelf), "Nothing stands here yet.");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  view.today = wt_today ();
  g_test_add_func ("/words/numbers", test_numbers);
  g_test_add_func ("/words/days", test_days);
  g_test_add_func ("/words/terms-complete", test_terms_complete);
  g_test_add_func ("/words/keys-and-codes", test_keys_and_codes);
  g_test_add_func ("/words/stage", test_stage);
  g_test_add_func ("/words/entries", test_entries);
  g_test_add_func ("/words/entry-of-state", test_entry_of_state);
  g_test_add_func ("/words/change", test_change);
  g_test_add_func ("/words/tasks", test_tasks);
  g_test_add_func ("/words/sheet-due", test_sheet_due);
  g_test_add_func ("/words/forecast", test_forecast);
  g_test_add_func ("/words/standstill", test_standstill);
  g_test_add_func ("/words/doubtful-life-and-stage", test_doubtful_life_and_stage);
  g_test_add_func ("/words/unseen", test_unseen);
  g_test_add_func ("/words/animal", test_animal);
  g_test_add_func ("/words/shelf", test_shelf);
  return g_test_run ();
}
