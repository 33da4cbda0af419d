/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-rule-eggs.c — egg cases and feeder cultures, one row a clause; when an egg case hatches.
 *
 * Days are common practice, no source, where a row says a figure. */
#include <math.h>

#include "core/core-clock.h"
#include "rule-case.h"

static void
hatch (PlanCase *c, int lo, int hi, int dud)
{
  c->hatch = (CoreHatch){ .known = true,
                          .since = TODAY - 30,
                          .lo = TODAY + lo,
                          .hi = TODAY + hi,
                          .dud = TODAY + dud };
  c->profile.hatchling_mm.v = 5; /* too small for hydei, 3 mm over half of it */
}

static void
far_off (PlanCase *c)
{
  hatch (c, 40, 60, 90);
}

static void
in_range (PlanCase *c)
{
  hatch (c, -2, 6, 40);
}

static void
opens_soon (PlanCase *c)
{
  hatch (c, 3, 6, 40);
}

static void
past_range (PlanCase *c)
{
  hatch (c, -20, -4, 5);
}

static void
dud_by_now (PlanCase *c)
{
  hatch (c, -60, -30, -2);
}

static void
guarded (PlanCase *c)
{
  far_off (c);
  c->profile.guards_eggs = true;
}

static void
resting (PlanCase *c)
{
  c->hatch.resting = true;
  c->hatch.since = TODAY - 3;
}

/* Of a kind that may rest in the cold. */
static void
rests_far_off (PlanCase *c)
{
  far_off (c);
  c->profile.eggs_rest = true;
}

static void
resting_since (PlanCase *c)
{
  resting (c);
  c->hatch.since = TODAY - 58;
}

static void
still (PlanCase *c)
{
  c->hatch = (CoreHatch){ .since = TODAY - 30, .lo = CORE_DAY_NONE, .hi = CORE_DAY_NONE, .dud = CORE_DAY_NONE };
}

static void
rests_still (PlanCase *c)
{
  still (c);
  c->profile.eggs_rest = true;
}

static void
two_weeks_off (PlanCase *c)
{
  hatch (c, 14, 30, 60);
}

static void
a_month_off_large (PlanCase *c)
{
  hatch (c, 29, 60, 90);
  c->profile.hatchling_mm.v = 8;
  c->profile.young.a.v = 100;
  c->profile.young.b.v = 200;
}

#define EGG .kind = CORE_SUBJECT_EGGCASE
#define LOT_ID "00000000-0000-7000-8000-000000000777"

static const RuleRow eggs[] = {
  { "just laid: left until its foam is hard", EGG, .given = far_off, .said = { "-2 laid" },
    .want = { "held eggcase until=2 ask=3 why=egg.harden", "task eggcase due=3 reach=touch why=egg.move" } },
  { "five days after it was laid it is moved", EGG, .given = far_off, .said = { "-5 laid" },
    .want = { "free eggcase", "task eggcase due=0 latest=4 why=egg.move" } },
  { "hard sooner, by the keeper's eyes", EGG, .given = far_off, .said = { "-3 laid", "-1 hardened" },
    .want = { "free eggcase", "task eggcase due=-1 why=egg.move" } },
  { "moved: nothing more to do with it", EGG, .given = far_off,
    .said = { "-9 laid", "-3 housed|at=2" }, .want = { "none eggcase" } },
  { "moved, by a mark", EGG, .given = far_off, .said = { "-9 laid", "-3 done|rule=eggcase" },
    .want = { "none eggcase" } },
  { "a guarding kind: stays with her, hands off", EGG, .given = guarded, .said = { "-6 laid" },
    .want = { "task eggcase reach=look why=egg.guarded not=egg.move" } },
  { "of one that came nobody waits for hardening", EGG, .given = far_off, .said = { "-3 acquired" },
    .want = { "none eggcase", "free eggcase" } },

  { "sprayed every two to three days", EGG, .given = far_off, .said = { "-20 acquired", "-1 misted" },
    .want = { "task mist due=1 latest=2 reach=outside why=egg.mist" } },
  { "never sprayed: due since the day after", EGG, .given = far_off, .said = { "-3 acquired" },
    .want = { "task mist due=-2 why=egg.mist" } },
  { "a dry kind about weekly", EGG, .group = CORE_GROUP_DRY_HOT, .given = far_off,
    .said = { "-20 acquired", "-1 misted" }, .want = { "task mist due=4 latest=6" } },
  { "the keeper's own interval", EGG, .given = far_off,
    .said = { "-20 acquired", "-1 set|key=interval.mist|value=4", "0 misted" },
    .want = { "task mist due=4 why=mist.own_interval" } },

  { "not watched before its range", EGG, .given = far_off, .said = { "-20 acquired" },
    .want = { "none look" } },
  { "watched daily in its range", EGG, .given = in_range, .said = { "-40 laid", "-9 housed|at=1", "0 looked" },
    .want = { "days look 1,2,3,4,5,6", "task look why=egg.hatch_range" } },
  { "from the day on which it opens", EGG, .given = opens_soon, .said = { "-40 laid", "0 looked" },
    .want = { "days look 3,4,5,6" } },
  { "past it every other day, until it is a dud", EGG, .given = past_range,
    .said = { "-60 laid", "-1 looked" }, .want = { "days look 1,3", "task look why=egg.past_range" } },
  { "a dud at one and a half times the longest wait", EGG, .given = dud_by_now, .said = { "-120 laid" },
    .want = { "task eggcase due=-2 why=egg.dud", "none look", "none mist" } },
  { "called a dud once", EGG, .given = dud_by_now, .said = { "-120 laid", "-1 done|rule=eggcase" },
    .want = { "none eggcase", "none look" } },
  { "entered as a dud: over", EGG, .given = dud_by_now, .said = { "-120 laid", "0 dud" },
    .want = { "none eggcase", "none look", "none mist" } },

  { "hatched, in no lot", EGG, .given = in_range, .said = { "-40 laid", "0 hatching|n=60" },
    .want = { "task eggcase due=0 latest=1 why=egg.in_no_lot", "days look 1,2,3,4,5,6", "task look why=egg.more" } },
  { "some of them in a lot", EGG, .given = in_range,
    .said = { "-40 laid", "-1 hatching|n=60", "0 split|n=40|with=" LOT_ID },
    .want = { "task eggcase why=egg.in_no_lot" } },
  { "all of them in a lot", EGG, .given = in_range,
    .said = { "-40 laid", "-1 hatching|n=60", "0 split|n=60|with=" LOT_ID },
    .want = { "task eggcase due=6 why=egg.over", "task mist why=egg.mist" } },
  { "nobody counted, no lot", EGG, .given = in_range, .said = { "-40 laid", "-1 hatching" },
    .want = { "task eggcase why=egg.in_no_lot" } },
  { "nobody counted, a lot made: enough", EGG, .given = in_range,
    .said = { "-40 laid", "-1 hatching", "0 split|n=30|with=" LOT_ID },
    .want = { "task eggcase why=egg.over not=egg.in_no_lot" } },
  { "no more awaited, but in no lot yet", EGG, .given = in_range,
    .said = { "-40 laid", "0 hatching|n=60|over=yes" },
    .want = { "task eggcase why=egg.in_no_lot", "none look", "none mist" } },
  { "no more awaited, put into a lot later", EGG, .given = in_range,
    .said = { "-40 laid", "-2 hatching|n=60|over=yes", "0 split|n=60|with=" LOT_ID },
    .want = { "none eggcase" } },
  { "a week after the last: is it over?", EGG, .given = in_range,
    .said = { "-40 laid", "-8 hatching|n=60", "-7 split|n=60|with=" LOT_ID },
    .want = { "task eggcase due=-1 why=egg.over", "none look" } },

  { "in winter rest only looked at, every other week", EGG, .given = resting,
    .said = { "-40 laid", "-3 looked" }, .to = 30,
    .want = { "days look 11,25", "task look why=egg.rest", "none mist", "none eggcase", "none culture" } },

  { "two to four months of it are enough", EGG, .given = resting_since, .said = { "-58 set|key=rest|value=yes" },
    .want = { "task eggcase due=2 latest=62 reach=touch why=egg.rest_over" } },
  { "entered as taken out", EGG, .given = resting_since, .to = 9,
    .said = { "-58 set|key=rest|value=yes", "2 done|rule=eggcase" }, .want = { "none eggcase" } },
  { "a kind that may rest: said with the moving", EGG, .given = rests_far_off, .said = { "-6 laid" },
    .want = { "task eggcase reach=touch why=egg.move why=egg.wants_rest" } },
  { "and asked once it is moved", EGG, .given = rests_far_off, .said = { "-6 laid", "-1 housed|at=1" },
    .want = { "task eggcase due=-6 latest=8 reach=look why=egg.wants_rest" } },
  { "of one that came too", EGG, .given = rests_far_off, .said = { "-3 acquired" },
    .want = { "task eggcase due=-3 why=egg.wants_rest" } },
  { "asked once", EGG, .given = rests_far_off, .said = { "-3 acquired", "-1 done|rule=eggcase" },
    .want = { "none eggcase" } },
  { "said that it does not", EGG, .given = rests_far_off, .said = { "-3 acquired", "-1 set|key=rest|value=no" },
    .want = { "none eggcase" } },
  { "a kind without rest is not asked", EGG, .given = far_off, .said = { "-6 laid", "-1 housed|at=1" },
    .want = { "none eggcase" } },
  { "where it stands it does not develop", EGG, .given = still, .said = { "-30 laid", "-20 housed|at=1" },
    .want = { "task eggcase due=0 why=egg.stands_still not=egg.wants_rest", "none look", "none culture" } },
  { "it may be its winter rest", EGG, .given = rests_still, .said = { "-30 laid" },
    .want = { "task eggcase due=0 why=egg.stands_still not=egg.move" } },
  { "seen to", EGG, .given = still, .said = { "-30 laid", "-20 housed|at=1", "-1 done|rule=eggcase" },
    .want = { "none eggcase" } },

  { "dry air: sprayed oftener", EGG, .given = far_off, .said = { "-20 acquired", "-1 misted" },
    .place = { "0 reading|t=25|rh=20" }, .want = { "task mist due=0 latest=1 why=egg.mist why=mist.dry" } },
  { "but not oftener than the keeper says", EGG, .given = far_off,
    .said = { "-20 acquired", "-1 set|key=interval.mist|value=4", "0 misted" },
    .place = { "0 reading|t=25|rh=20" }, .want = { "task mist due=4 not=mist.dry" } },

  { "small flies 12 to 14 days before the hatch", EGG, .given = two_weeks_off,
    .said = { "-40 laid", "-9 housed|at=1" },
    .want = { "days culture 0", "task culture due=0 latest=2 why=culture.before_hatch" } },
  { "large flies 25 to 28 days before, where hatchlings can hold them", EGG, .given = a_month_off_large,
    .said = { "-40 laid", "-9 housed|at=1" }, .to = 20,
    .want = { "days culture 1,15", "task culture due=1 latest=4 why=culture.before_hatch" } },
  { "started already", EGG, .given = two_weeks_off, .said = { "-40 laid", "-2 done|rule=culture" },
    .want = { "none culture" } },
  { "hatched: too late to start any", EGG, .given = two_weeks_off, .said = { "-40 laid", "0 hatching|n=3" },
    .want = { "none culture" } },
};

static void
test_eggs (void)
{
  rule_rows_run (eggs, G_N_ELEMENTS (eggs));
}

/* 100 to 200 hatchlings: 150 × .04 = six cultures. */
static void
test_number_of_cultures (void)
{
  PlanCase c;

  plan_case_init (&c, CORE_GROUP_HARDY, 0);
  c.kind = CORE_SUBJECT_EGGCASE;
  a_month_off_large (&c);
  c.to = TODAY + 20;
  plan_case_run (&c);
  g_assert_cmpfloat (plan_task_reason (plan_case_task (&c, CORE_TASK_CULTURE), "culture.before_hatch")->value, ==, 6);
  g_assert_cmpint (c.plan.tasks.n, >, 2);
  plan_case_clear (&c);
}

static void
superseded (PlanCase *c)
{
  c->superseded = true;
}

#define CULTURE .kind = CORE_SUBJECT_CULTURE

static const RuleRow cultures[] = {
  { "mites: out with it, and anew", CULTURE, .said = { "-12 culture|prey=melanogaster", "-3 trouble|what=mites" },
    .want = { "days culture -3", "forward culture why=culture.spoilt" } },
  { "flooded, of any feeder", CULTURE, .said = { "-12 culture|prey=moth", "0 trouble|what=flooded" },
    .want = { "task culture due=0 why=culture.spoilt" } },
  { "seen to: as before", CULTURE,
    .said = { "-12 culture|prey=melanogaster", "-3 trouble|what=mould", "-2 done|rule=culture" },
    .want = { "task culture due=5 why=culture.weekly" } },
  { "a new one a week after the newest", CULTURE, .said = { "-3 culture|prey=melanogaster" },
    .want = { "task culture due=4 latest=5 why=culture.weekly" } },
  { "not of one that has a younger one", CULTURE, .given = superseded,
    .said = { "-9 culture|prey=melanogaster" }, .want = { "none culture" } },
  { "a week after the mark", CULTURE, .said = { "-9 culture|prey=hydei", "-1 done|rule=culture" },
    .want = { "task culture due=6" } },
  { "the keeper's own interval", CULTURE,
    .said = { "-3 culture|prey=hydei", "-3 set|key=interval.culture|value=10" },
    .want = { "task culture due=7" } },
  { "small flies: away after day 30", CULTURE, .given = superseded,
    .said = { "-31 culture|prey=melanogaster" }, .want = { "task culture due=0 why=culture.bin" } },
  { "large flies: away after day 45", CULTURE, .given = superseded, .said = { "-44 culture|prey=hydei" },
    .want = { "task culture due=2 why=culture.bin" } },
  { "thrown away, by a mark", CULTURE, .given = superseded,
    .said = { "-33 culture|prey=melanogaster", "0 done|rule=culture" }, .want = { "none culture" } },
  { "used up: over", CULTURE, .said = { "-33 culture|prey=melanogaster", "0 died" },
    .want = { "none culture" } },
  { "roaches live in a tub for months", CULTURE, .said = { "-90 culture|prey=roach" },
    .want = { "none culture" } },
  { "of what nobody said", CULTURE, .said = { "-90 culture" }, .want = { "none culture" } },
};

static void
test_cultures (void)
{
  rule_rows_run (cultures, G_N_ELEMENTS (cultures));
}

/* ---- when it hatches ---- */

/* Kept at a steady temperature: incubation 30 to 50 days at 27 °C. */
static CoreHatch
hatch_at (double celsius, const char *const *said, bool rests)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreProfile profile;
  CoreWarmth warmth = { 0 };
  CoreState state;
  CoreHatch out;

  core_profile_init (&profile);
  profile.day_lo.v = profile.day_hi.v = profile.night_lo.v = profile.night_hi.v = celsius;
  profile.incubation.a.v = 30;
  profile.incubation.b.v = 50;
  profile.eggs_rest = rests;
  core_state_init (&state);
  for (int i = 0; said[i] != NULL; i++)
    journal_add (journal, TODAY + atoi (said[i]), strchr (said[i], ' ') + 1);
  journal_fold (journal, CORE_SUBJECT_EGGCASE, &state);
  g_assert_cmpint (core_warmth_build (&state, &profile, NULL, NULL, TODAY - 400, TODAY, TODAY + 800, &warmth), ==, CORE_OK);
  core_hatch (&state, &profile, &warmth, &out);
  core_warmth_clear (&warmth);
  core_state_clear (&state);
  core_profile_clear (&profile);
  return out;
}

static void
test_hatch_range (void)
{
  static const struct
  {
    const char *name;
    double celsius;
    const char *said[4];
    bool rests, known;
    int lo, hi, dud;
  } rows[] = {
    /* rate 1 at 25, 15 / 13 at 27, and by that less at 20: (27 - 12) / (20 - 12) = 1.875 */
    { "at 27 °C by its own days", 27, { "-10 laid" }, false, true, 20, 40, 65 },
    { "cooler takes longer", 20, { "-10 laid" }, false, true, 47, 84, 131 },
    { "laid between two looks", 27, { "-10 laid|earliest=20486" }, false, true, 16, 40, 65 },
    { "of one that came: any day from the next", 27, { "-10 acquired" }, false, true, -9, 40, 65 },
    { "too cold to go on", 11, { "-10 laid" }, false, false, 0, 0, 0 },
    { "in its winter rest", 27, { "-10 laid", "-2 set|key=rest|value=yes" }, true, false, 0, 0, 0 },
    { "its rest over: from that day", 27, { "-90 laid", "-2 set|key=rest|value=no" }, true, true, 28, 48, 73 },
    { "nobody said whether it rested: a year", 27, { "-10 laid" }, true, true, 20, 40, 355 },
    { "a kind whose eggs do not rest", 27, { "-10 laid", "-2 set|key=rest|value=yes" }, false, true, 20, 40, 65 },
    { "nothing is known", 27, { NULL }, false, false, 0, 0, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreHatch h = hatch_at (rows[i].celsius, rows[i].said, rows[i].rests);

      g_test_message ("%s", rows[i].name);
      g_assert_cmpint (h.known, ==, rows[i].known);
      if (!h.known)
        continue;
      g_assert_cmpint (h.lo - TODAY, ==, rows[i].lo);
      g_assert_cmpint (h.hi - TODAY, ==, rows[i].hi);
      g_assert_cmpint (h.dud - TODAY, ==, rows[i].dud);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rule/eggcase", test_eggs);
  g_test_add_func ("/rule/culture", test_cultures);
  g_test_add_func ("/rule/culture/number", test_number_of_cultures);
  g_test_add_func ("/hatch/range", test_hatch_range);
  return g_test_run ();
}
