/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-rule-care.c — looking, feeding, prey, taking prey out, spraying, water, is it dead? One
 * row a clause; figures are common practice, no source: the starting values of the groups. */
#include <math.h>

#include "rule-case.h"

/* ---- look ---- */

static const RuleRow look[] = {
  { "small ones daily", .moults = 2, .said = { "0 looked" }, .want = { "task look due=1 why=look.small" } },
  { "others every second day", .moults = 4, .said = { "0 looked" },
    .want = { "task look due=2 reach=look why=look.interval" } },
  { "a sub-adult is no small one", .moults = 2, .said = { "-9 stage|seen=subadult", "0 looked" },
    .want = { "task look due=2" } },
  { "adults every third", .moults = 8, .said = { "-9 stage|seen=adult", "0 looked" },
    .want = { "task look due=3" } },
  { "in its range daily", .moults = 5, .range = { -1, 6 }, .said = { "0 looked" },
    .want = { "task look due=1 why=look.in_range" } },
  { "held before a moult daily", .moults = 5, .said = { "0 sign|sign=pumping" },
    .want = { "task look due=1 why=look.held" } },
  { "held after a moult daily", .moults = 5, .said = { "-1 looked", "0 moulted" },
    .want = { "task look due=1 why=look.held" } },
  { "four days without a look come forward", .moults = 5, .said = { "-4 looked" },
    .want = { "task look due=-2 why=look.unseen" } },
  { "three do not", .moults = 5, .said = { "-3 looked" }, .want = { "task look not=look.unseen" } },
  { "an adult not seen for four as well", .moults = 8, .said = { "-9 stage|seen=adult", "-4 looked" },
    .want = { "task look due=-1 why=look.unseen" } },
  { "put off, but not past the fourth day", .moults = 5,
    .said = { "-2 looked", "-2 put_off|rule=look|until=2026-03-20" }, .want = { "task look due=2 why=put_off" } },
  { "food taken is a look", .moults = 5, .said = { "0 fed|outcome=taken" }, .want = { "task look due=2" } },
  { "food put in is none", .moults = 5, .said = { "-3 looked", "0 fed" }, .want = { "task look due=-1" } },
  { "a hold that lapsed asks", .moults = 5, .said = { "-2 sign|sign=hanging" },
    .want = { "task look due=0 why=look.after_hold" } },
  { "so does one after a sign that is the moult itself", .moults = 5, .said = { "-2 sign|sign=pumping" },
    .want = { "task look due=-1 why=look.after_hold" } },
  { "two refusals and a belly out of date ask", .moults = 5, .range = { -1, 9 },
    .said = { "-9 belly|score=4", "-2 fed|outcome=refused|prey=moth", "-1 fed|outcome=refused|prey=moth" },
    .want = { "task look due=0 why=look.belly" } },
  { "the keeper's own interval", .moults = 5, .said = { "-1 set|key=interval.look|value=3", "0 looked" },
    .want = { "task look due=3 why=look.own_interval" } },
};

static void
test_look (void)
{
  rule_rows_run (look, G_N_ELEMENTS (look));
}

/* ---- feed ---- */

static void
no_kind (PlanCase *c)
{
  c->profile.general = true;
}

static void
some_kind (PlanCase *c)
{
  c->profile.general = false;
}

static void
rests (PlanCase *c)
{
  c->profile.winter_rest = true;
}

#define FED "0 fed|prey=house fly"

static const RuleRow feed[] = {
  { "hardy, first two stages: daily", .moults = 1, .said = { FED }, .want = { "task feed due=1 latest=2" } },
  { "hardy, m 2 to 3: every 2 days", .moults = 3, .said = { FED }, .want = { "task feed due=2 latest=3" } },
  { "hardy, from m 4: every 3 to 4", .moults = 5, .said = { FED },
    .want = { "task feed due=3 latest=4 reach=open why=feed.interval" } },
  { "of a kind without figures: said where food and water come from", .moults = 4, .given = no_kind,
    .said = { "-3 fed|prey=moth|outcome=taken", "-3 misted" },
    .want = { "task feed why=plan.general why=feed.interval", "task mist why=mist.interval" } },
  { "of a kind with figures: nothing of that", .moults = 4, .given = some_kind, .said = { "-3 fed|prey=moth|outcome=taken" },
    .want = { "task feed not=plan.general" } },
  { "hardy adult female 3 to 4", .moults = 8, .given = rule_given_female, .said = { "-30 stage|seen=adult", FED },
    .want = { "task feed due=3 latest=4" } },
  { "hardy adult male 4 to 6", .moults = 8, .given = rule_given_male, .said = { "-30 stage|seen=adult", FED },
    .want = { "task feed due=4 latest=6" } },
  { "an adult of unknown sex as a female", .moults = 8, .said = { "-30 stage|seen=adult", FED },
    .want = { "task feed due=3 latest=4" } },
  { "humid, from m 4: every 2 to 3", CORE_GROUP_HUMID, .moults = 5, .said = { FED },
    .want = { "task feed due=2 latest=3" } },
  { "dry, m 2 to 3: every 1 to 2", CORE_GROUP_DRY_HOT, .moults = 3, .said = { FED },
    .want = { "task feed due=1 latest=2" } },
  { "Idolomantis, from m 4: every 2", CORE_GROUP_IDOLOMANTIS, .moults = 5, .said = { FED },
    .want = { "task feed due=2 latest=3" } },
  { "from the last meal with food in view", .moults = 5, .said = { "-3 fed|prey=moth", "-1 fed|outcome=none_in_view" },
    .want = { "task feed due=0" } },
  { "last taken is shown beside it", .moults = 5, .said = { "-6 fed|prey=moth|outcome=taken", "-1 fed|prey=moth" },
    .want = { "task feed due=2 why=feed.last_taken why=feed.interval" } },
  { "a refused meal moves the next offer to two days", .moults = 5, .said = { "0 fed|prey=moth|outcome=refused" },
    .want = { "task feed due=2 latest=3 why=feed.refused" } },
  { "the keeper's own interval", .moults = 5, .said = { "-1 set|key=interval.feed|value=5-6", FED },
    .want = { "task feed due=5 latest=6 why=feed.own_interval" } },
  { "belly 4: one interval after that score", .moults = 5, .said = { "-3 fed|prey=moth", "0 belly|score=4" },
    .want = { "task feed due=3 latest=4 why=feed.belly_full" } },
  { "belly 5 the same", .moults = 5, .said = { "-3 fed|prey=moth", "0 belly|score=5" },
    .want = { "task feed due=3 why=feed.belly_full" } },
  { "belly 3 changes nothing", .moults = 5, .said = { "-3 fed|prey=moth", "0 belly|score=3" },
    .want = { "task feed due=0 not=feed.belly_full" } },
  { "belly 1: today", .moults = 5, .said = { "-1 fed|prey=moth", "0 belly|score=1" },
    .want = { "task feed due=0 latest=0 why=feed.belly_empty" } },
  { "a score is known for three days", .moults = 5, .said = { "-9 fed|prey=moth", "-3 belly|score=4" },
    .want = { "task feed due=0 why=feed.belly_full" } },
  { "and no longer", .moults = 5, .said = { "-9 fed|prey=moth", "-4 belly|score=4" },
    .want = { "task feed due=-6 not=feed.belly_full" } },
  /* (25 - 12) / (19 - 12) = 1.86 times as slow */
  { "a cool room: less often", .moults = 5, .said = { FED }, .place = { "-9 set|key=day_c|value=19" },
    .want = { "task feed due=6 latest=7 why=feed.warmth" } },
  { "a room in its band changes nothing", .moults = 5, .said = { FED }, .place = { "-9 set|key=day_c|value=23" },
    .want = { "task feed due=3 latest=4 not=feed.warmth" } },
  { "small ones have food whatever the room", .moults = 2, .said = { FED }, .place = { "-9 set|key=day_c|value=17" },
    .want = { "task feed due=2 latest=3 not=feed.warmth" } },
  { "winter rest: half as often", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-9 set|key=rest|value=yes", FED }, .want = { "task feed due=4 why=feed.rest" } },
  { "winter rest: refusing is usual", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-9 set|key=rest|value=yes", "-3 fed|outcome=refused|prey=moth", "-1 fed|outcome=refused|prey=moth" },
    .want = { "task feed why=feed.rest_refused not=feed.thin_first not=prey.smaller_first", "free feed" } },
  { "winter rest: thin is thin", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-9 set|key=rest|value=yes", "-3 fed|outcome=refused|prey=moth", "-1 fed|outcome=refused|prey=moth",
              "0 belly|score=2" },
    .want = { "task feed due=0 why=feed.thin_first" } },
  { "a kind without winter rest does not rest", .moults = 5, .said = { "-9 set|key=rest|value=yes", FED },
    .want = { "task feed due=3 not=feed.rest" } },
  { "hatchlings bred here: the day after", .moults = -1, .said = { "-41 hatched", FED }, .want = { "task feed" } },
};

static void
test_feed (void)
{
  rule_rows_run (feed, G_N_ELEMENTS (feed));
}

/* ---- refusals: thin before held, and holds that end ---- */

#define TWICE "-2 fed|outcome=refused|prey=moth", "-1 fed|outcome=refused|prey=moth"

static void
subadult_14 (PlanCase *c)
{
  c->profile.subadult_fast_days = 14;
}

/* The same days, seen so many days later: what was said of a day to come is what is said on it. */
#define SCORED(n, ...)                                                                             \
  { "no longer than its score counts, day " #n, .moults = 6, .range = { -20, 9 },                  \
    .given = scored_ago_##n, .want = { __VA_ARGS__ } }
#define SCORED_AGO(n)                                                                              \
  static void scored_ago_##n (PlanCase *c)                                                         \
  {                                                                                                \
    plan_case_say (c, TODAY - 30, "stage|seen=subadult");                                          \
    plan_case_say (c, TODAY - n, "belly|score=4");                                                 \
    plan_case_say (c, TODAY - n - 1, "fed|outcome=refused|prey=house fly");                        \
    plan_case_say (c, TODAY - n, "fed|outcome=refused|prey=house fly");                            \
  }
SCORED_AGO (0)
SCORED_AGO (3)
SCORED_AGO (4)
SCORED_AGO (5)
SCORED_AGO (6)

static const RuleRow refusals[] = {
  { "two, a round belly, the range begun: held", .moults = 5, .range = { -2, 9 },
    .said = { TWICE, "-1 belly|score=4" },
    .want = { "held feed until=2 ask=1 why=hold.two_refusals why=hold.belly_round why=hold.longest", "task feed due=3" } },
  { "belly 3 is round enough", .moults = 5, .range = { -2, 9 }, .said = { TWICE, "-1 belly|score=3" },
    .want = { "held feed why=hold.two_refusals" } },
  { "one refusal holds nothing", .moults = 5, .range = { -2, 9 },
    .said = { "-1 fed|outcome=refused|prey=moth", "-1 belly|score=4" }, .want = { "free feed", "task feed" } },
  { "before the 10 % day: another, smaller prey first", .moults = 5, .range = { 5, 9 },
    .said = { TWICE, "-1 belly|score=3" }, .want = { "free feed", "task feed why=prey.smaller_first" } },
  { "belly 2: water, then one small soft prey", .moults = 5, .range = { -2, 9 }, .said = { TWICE, "-1 belly|score=2" },
    .want = { "free feed", "task feed due=0 why=feed.thin_first" } },
  { "belly unknown: the same", .moults = 5, .range = { -2, 9 }, .said = { TWICE },
    .want = { "free feed", "task feed due=0 why=feed.thin_first" } },
  { "unknown for less than three days: a look, feeding as planned", .moults = 5, .range = { -2, 9 },
    .said = { TWICE, "-5 belly|score=4" }, .want = { "free feed", "task feed due=1 not=feed.thin_first", "task look due=0 why=look.belly" } },
  { "pumping stands above a thin belly", .moults = 5, .range = { -2, 9 },
    .said = { TWICE, "0 belly|score=1", "0 sign|sign=pumping" }, .want = { "held feed until=open why=hold.pumping", "none feed" } },
  { "hanging in the range stands above it", .moults = 5, .range = { -2, 9 },
    .said = { TWICE, "0 belly|score=1", "0 sign|sign=hanging" }, .want = { "held feed why=hold.hanging_in_range", "none feed" } },
  { "hanging outside the range does not", .moults = 5, .range = { 9, 19 },
    .said = { TWICE, "0 belly|score=1", "0 sign|sign=hanging", "0 sign|sign=dull" },
    .want = { "task feed due=0 why=feed.thin_first" } },
  { "hardening stands above it", .moults = 5, .said = { "-1 looked", "0 moulted", "0 belly|score=1" },
    .want = { "held feed why=hold.no_food_after_moult" } },
  { "longest for m 0 to 2: two days", .moults = 2, .range = { -9, 9 },
    .said = { "-3 fed|outcome=refused|prey=hydei", "-2 fed|outcome=refused|prey=hydei", "-1 belly|score=3" },
    .want = { "free feed", "task feed due=0 why=feed.after_longest_hold" } },
  { "longest from m 3 on: four days", .moults = 3, .range = { -9, 9 },
    .said = { "-4 fed|outcome=refused|prey=moth", "-3 fed|outcome=refused|prey=moth", "-1 belly|score=4" },
    .want = { "held feed until=0 why=hold.longest" } },
  { "and then one small prey, out after an hour", .moults = 3, .range = { -9, 9 },
    .said = { "-5 fed|outcome=refused|prey=moth", "-4 fed|outcome=refused|prey=moth", "-1 belly|score=3" },
    .want = { "free feed", "task feed due=0 n=1 why=feed.after_longest_hold" } },
  { "longest of a sub-adult: ten", .moults = 6, .range = { -9, 9 },
    .said = { "-30 stage|seen=subadult", "-9 fed|outcome=refused|prey=moth", "-7 fed|outcome=refused|prey=moth", "0 belly|score=4" },
    .want = { "held feed until=2 why=hold.longest", "task feed due=3" } },
  { "or 14 where the kind fasts longer", .moults = 6, .given = subadult_14, .range = { -9, 9 },
    .said = { "-30 stage|seen=subadult", "-6 fed|outcome=refused|prey=moth", "-4 fed|outcome=refused|prey=moth", "0 belly|score=4" },
    .want = { "held feed until=3 why=hold.score_again", "task feed due=4 why=feed.score_first" } },
  { "or, kind as above, for the rest of its 14 days", .moults = 6, .given = subadult_14, .range = { -9, 9 },
    .said = { "-30 stage|seen=subadult", "-13 fed|outcome=refused|prey=moth", "-11 fed|outcome=refused|prey=moth", "0 belly|score=4" },
    .want = { "held feed until=2 why=hold.longest", "task feed due=3" } },
  SCORED (0, "held feed until=3 ask=1 why=hold.score_again", "task feed due=4 why=feed.score_first n=1"),
  SCORED (3, "held feed until=0 ask=1 why=hold.score_again", "task feed due=1 why=feed.score_first n=1"),
  SCORED (4, "free feed", "task feed due=0 latest=0 why=feed.score_first n=1"),
  SCORED (5, "free feed", "task feed due=-1 why=feed.score_first"),
  SCORED (6, "free feed", "task feed due=-2 why=feed.thin_first"),
  { "an adult is never held for refusals", .moults = 8, .range = { 0, 0 },
    .said = { "-30 stage|seen=adult", TWICE, "-1 belly|score=4" }, .want = { "free feed", "task feed" } },
};

static void
test_refusals (void)
{
  rule_rows_run (refusals, G_N_ELEMENTS (refusals));
}

/* ---- prey ---- */

static void
long_30 (PlanCase *c)
{
  plan_case_say (c, TODAY, "measured|what=body|mm=30");
}

static void
long_60 (PlanCase *c)
{
  plan_case_say (c, TODAY, "measured|what=body|mm=60");
}

static void
no_house_flies (PlanCase *c)
{
  long_30 (c);
  c->profile.avoid_prey = 1u << CORE_PREY_GREEN_BOTTLE | 1u << CORE_PREY_BLUE_BOTTLE;
}

static void
never_measured (PlanCase *c)
{
  plan_case_run (c);
  for (int sex = 0; sex < 2; sex++) /* as long as long_30, by its kind alone */
    c->profile.adult_mm[sex].v *= 30 / core_body_now (&c->state, &c->profile, .5);
}

static void
no_length (PlanCase *c)
{
  c->profile.adult_mm[0].v = c->profile.adult_mm[1].v = NAN;
}

static const RuleRow prey[] = {
  /* .35 × 30 = 10.5 mm a meal; half of 30 is 15: green and blue bottles fit, moths (20) do not */
  { "of about the abdomen, by length", .moults = 5, .given = long_30, .want = { "task feed prey=blue_bottle why=prey.size" } },
  { "by its kind alone: what fits a small one, and that it should be measured", .moults = 5, .given = never_measured,
    .want = { "task feed prey=green_bottle why=prey.not_measured not=prey.size" } },
  { "kinds to avoid are left out", .moults = 5, .given = no_house_flies, .want = { "task feed prey=house_fly n=2" } },
  { "an adult takes prey up to its own length", .moults = 8, .given = long_30, .said = { "-9 stage|seen=adult" },
    .want = { "task feed prey=blue_bottle" } },
  { "number: the meal by the length of one, rounded up", .moults = 6, .given = long_60,
    .want = { "task feed prey=moth n=2" } },
  { "the last three meals the same: another", .moults = 5, .given = long_30,
    .said = { "-9 fed|prey=blue bottle", "-6 fed|prey=blue bottle", "-3 fed|prey=blue bottle" },
    .want = { "task feed prey=green_bottle why=prey.vary" } },
  { "after a moult: what is small and soft enough, though it was the last three meals", .moults = 5, .given = long_30,
    .said = { "-14 fed|prey=house fly", "-12 fed|prey=house fly", "-10 fed|prey=house fly", "-1 moulted|outcome=good" },
    .want = { "task feed prey=house_fly n=1 not=prey.vary" } },
  { "two are no habit", .moults = 5, .given = long_30, .said = { "-9 fed|prey=moth", "-6 fed|prey=blue bottle", "-3 fed|prey=blue bottle" },
    .want = { "task feed prey=blue_bottle not=prey.vary" } },
  { "species that take flying prey only", CORE_GROUP_DRY_HOT, .moults = 5, .given = long_30,
    .want = { "task feed why=prey.flying_only" } },
  { "without a length: measure first", .moults = 5, .given = no_length, .want = { "task feed why=prey.measure_first" } },
};

static void
test_prey (void)
{
  rule_rows_run (prey, G_N_ELEMENTS (prey));
}

/* ---- taking prey out ---- */

static const RuleRow take_out[] = {
  { "a cricket: the same evening, the next day at the latest", .moults = 5, .said = { "0 fed|prey=cricket" },
    .want = { "task take_out due=0 latest=1 reach=open why=take_out.bites" } },
  { "roach", .moults = 5, .said = { "0 fed|prey=roach" }, .want = { "task take_out" } },
  { "locust", .moults = 5, .said = { "0 fed|prey=locust" }, .want = { "task take_out" } },
  { "mealworm", .moults = 5, .said = { "0 fed|prey=mealworm" }, .want = { "task take_out" } },
  { "flies and moths never", .moults = 5, .said = { "0 fed|prey=blue bottle", "0 fed|prey=moth" }, .want = { "none take_out" } },
  { "not while a fly is in there before a moult either", .moults = 5, .said = { "0 fed|prey=blue bottle", "0 sign|sign=pumping" },
    .want = { "none take_out" } },
  { "at once when a sign is noted, though left alone", .moults = 5, .said = { "0 fed|prey=cricket", "0 sign|sign=pumping" },
    .want = { "task take_out due=0 latest=0 why=take_out.sign why=take_out.without_shaking" } },
  { "what may bite is due from the sign on, not from the evening on which nothing spoke against it", .moults = 5,
    .said = { "-2 fed", "0 sign|sign=pumping" },
    .want = { "task take_out due=0 latest=0 why=take_out.not_named why=take_out.sign" } },
  { "refused is not put in: it may still be there", .moults = 5, .said = { "0 fed|prey=cricket|outcome=refused" },
    .want = { "task take_out due=0 latest=0 why=take_out.bites" } },
  { "what bites was due before the sign", .moults = 5, .said = { "-2 fed|prey=cricket", "0 sign|sign=pumping" },
    .want = { "task take_out due=-2 latest=-1 why=take_out.bites why=take_out.sign" } },
  { "taken", .moults = 5, .said = { "0 fed|prey=cricket|outcome=taken" }, .want = { "none take_out" } },
  { "gone", .moults = 5, .said = { "-1 fed|prey=cricket", "0 gone" }, .want = { "none take_out" } },
  { "taken out, by a mark", .moults = 5, .said = { "-1 fed|prey=cricket", "0 done|rule=take_out" }, .want = { "none take_out" } },
  { "seen empty", .moults = 5, .said = { "-1 fed|prey=cricket", "0 fed|outcome=none_in_view" }, .want = { "none take_out" } },
  { "of a lot as well", .moults = 3, .kind = CORE_SUBJECT_LOT, .said = { "0 fed|prey=cricket" },
    .want = { "task take_out due=0" } },
};

static void
test_take_out (void)
{
  rule_rows_run (take_out, G_N_ELEMENTS (take_out));
}

/* ---- spraying ---- */

static void
by_eye_dry (PlanCase *c)
{
  c->profile.rh_lo.v = 50;
}

static const RuleRow mist[] = {
  { "hardy: 2 to 3 a week", .moults = 5, .said = { "0 misted" }, .want = { "task mist due=2 latest=4 reach=outside" } },
  { "humid: daily", CORE_GROUP_HUMID, .moults = 5, .said = { "0 misted" }, .want = { "task mist due=1 latest=2" } },
  { "dry: 1 to 2 a week", CORE_GROUP_DRY_HOT, .moults = 5, .said = { "0 misted" }, .want = { "task mist due=3 latest=7" } },
  { "it drank eagerly: oftener", .moults = 5, .said = { "0 drank|eager=yes", "0 misted" },
    .want = { "task mist due=1 latest=3 why=mist.eager" } },
  { "dry air: oftener", .moults = 5, .given = by_eye_dry, .said = { "0 misted" }, .place = { "0 reading|rh=40" },
    .want = { "task mist due=1 why=mist.dry" } },
  { "hot air: oftener", .moults = 5, .said = { "0 misted" }, .place = { "0 reading|t=30" },
    .want = { "task mist due=1 why=mist.hot" } },
  { "what is read inside tells, not the shelf", .moults = 5, .given = by_eye_dry, .said = { "0 misted" },
    .place = { "0 reading|rh=60|inside=yes", "0 reading|rh=35" }, .want = { "task mist due=2 not=mist.dry" } },
  { "dry inside, damp on the shelf", .moults = 5, .given = by_eye_dry, .said = { "0 misted" },
    .place = { "0 reading|rh=40|inside=yes", "0 reading|rh=60" }, .want = { "task mist due=1 why=mist.dry" } },
  { "an old reading says nothing", .moults = 5, .given = by_eye_dry, .said = { "0 misted" }, .place = { "-4 reading|rh=30" },
    .want = { "task mist due=2 not=mist.dry" } },
  { "humid kinds keep their rhythm through the range", CORE_GROUP_HUMID, .moults = 5, .range = { -1, 9 }, .said = { "0 misted" },
    .want = { "task mist due=1 why=mist.keep_rhythm" } },
  { "hardy ones too", .moults = 5, .range = { -1, 9 }, .said = { "0 misted" }, .want = { "task mist due=2 why=mist.may_moult" } },
  { "dry kinds once, when the range opens, on the far wall", CORE_GROUP_DRY_HOT, .moults = 5, .range = { -1, 9 },
    .said = { "-6 misted" }, .want = { "days mist -1", "task mist why=mist.before_moult why=mist.far_wall" } },
  { "and then no more in it", CORE_GROUP_DRY_HOT, .moults = 5, .range = { -1, 9 }, .said = { "0 misted" }, .want = { "none mist" } },
  { "hanging: only the far wall", .moults = 5, .range = { -1, 9 }, .said = { "-2 misted", "0 sign|sign=hanging" },
    .want = { "task mist reach=outside why=mist.far_wall", "free mist" } },
  { "until it has hardened", .moults = 5, .said = { "-2 misted", "-1 looked", "0 moulted" },
    .want = { "task mist why=mist.far_wall", "free mist" } },
  { "winter rest: none", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests, .said = { "-9 set|key=rest|value=yes" },
    .want = { "none mist" } },
  { "lots of small ones: fine fog, no drops", .moults = 1, .kind = CORE_SUBJECT_LOT, .said = { "0 misted" },
    .want = { "task mist why=mist.fine_fog" } },
  { "larger ones of a lot need no fog", .moults = 2, .kind = CORE_SUBJECT_LOT, .said = { "0 misted" },
    .want = { "task mist not=mist.fine_fog" } },
  { "the keeper's own interval bends no more", .moults = 5, .given = by_eye_dry,
    .said = { "-1 set|key=interval.mist|value=5", "0 misted" }, .place = { "0 reading|rh=30" },
    .want = { "task mist due=5 why=mist.own_interval not=mist.dry" } },
};

static void
test_mist (void)
{
  rule_rows_run (mist, G_N_ELEMENTS (mist));
}

/* ---- water, is it dead? ---- */

static const RuleRow water[] = {
  { "a damp floor that the kind wants", CORE_GROUP_HUMID, .moults = 5, .said = { "0 watered" },
    .place = { "-9 set|key=substrate|value=damp" }, .want = { "task water due=6 latest=8 reach=open" } },
  { "a dry floor", CORE_GROUP_HUMID, .moults = 5, .place = { "-9 set|key=substrate|value=dry" }, .want = { "none water" } },
  { "nothing said", CORE_GROUP_HUMID, .moults = 5, .want = { "none water" } },
  { "a kind that wants none", .moults = 5, .place = { "-9 set|key=substrate|value=damp" }, .want = { "none water" } },
  { "held while it is left alone", CORE_GROUP_HUMID, .moults = 5, .said = { "-9 watered", "0 sign|sign=pumping" },
    .place = { "-9 set|key=substrate|value=damp" }, .want = { "held water why=hold.pumping", "none water" } },
};

static const RuleRow dead[] = {
  { "asked again next day", .moults = 5, .said = { "0 looks_dead" },
    .want = { "task is_dead due=1 reach=look why=is_dead.ask_again" } },
  { "not fed nor sprayed until then", .moults = 5, .said = { "-9 fed|prey=moth", "0 looks_dead" },
    .want = { "none feed", "none mist" } },
  { "looked at: asked on, and why", .moults = 5, .said = { "-1 looks_dead", "0 looked" },
    .want = { "task is_dead why=is_dead.ask_again", "task is_dead why=is_dead.looked" } },
  { "seen to eat: over", .moults = 5, .said = { "-1 looks_dead", "0 fed|prey=moth|outcome=taken" },
    .want = { "none is_dead" } },
  { "it drank: over", .moults = 5, .said = { "-1 looks_dead", "0 drank" },
    .want = { "none is_dead" } },
  { "dead: over", .moults = 5, .said = { "-1 looks_dead", "0 died" }, .want = { "none is_dead" } },
  { "one of a lot is asked for as well", .moults = 1, .kind = CORE_SUBJECT_LOT,
    .said = { "0 looks_dead" }, .want = { "task is_dead due=1", "task feed" } },
};

static void
test_water_and_dead (void)
{
  rule_rows_run (water, G_N_ELEMENTS (water));
  rule_rows_run (dead, G_N_ELEMENTS (dead));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rule/look", test_look);
  g_test_add_func ("/rule/feed", test_feed);
  g_test_add_func ("/rule/feed/refusals", test_refusals);
  g_test_add_func ("/rule/prey", test_prey);
  g_test_add_func ("/rule/take-out", test_take_out);
  g_test_add_func ("/rule/mist", test_mist);
  g_test_add_func ("/rule/water-and-dead", test_water_and_dead);
  return g_test_run ();
}
