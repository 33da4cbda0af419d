/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-rule-trouble.c — what comes before the usual care: vomiting, mites and weakness, a place too
 * cold or too hot, a power cut; and what cannot be put off for long. One row a clause. Figures:
 * common practice, no source, and ours. */
#include "rule-case.h"

static void
rests (PlanCase *c)
{
  c->profile.winter_rest = true;
}

#define HUNGRY "-9 fed|prey=cricket"

static const RuleRow ill[] = {
  { "vomits: no food for three days, water today, the emergency words", .moults = 5,
    .said = { HUNGRY, "-9 misted", "0 trouble|what=vomit" },
    .want = { "held feed until=2 ask=1 why=hold.vomit", "task feed due=3 why=feed.after_ill",
              "task mist due=0 why=mist.ill", "more look why=emergency.vomit due=0",
              "more look why=look.ill" } },
  { "so it is the day after", .moults = 5, .said = { HUNGRY, "-1 trouble|what=vomit" },
    .want = { "held feed until=1 why=hold.vomit", "task feed due=2" } },
  { "then one small soft prey, no cricket", .moults = 5, .said = { HUNGRY, "-3 trouble|what=vomit" },
    .want = { "free feed", "task feed due=-6 n=1 why=feed.after_ill" } },
  { "it vomits again: three days anew", .moults = 5,
    .said = { HUNGRY, "-3 trouble|what=vomit", "0 trouble|what=vomit" }, .want = { "held feed until=2" } },
  { "it ate since: over", .moults = 5,
    .said = { "-2 trouble|what=vomit", "-1 fed|prey=moth|outcome=taken" },
    .want = { "free feed", "task feed not=feed.after_ill" } },
  { "thin and vomiting is not fed either", .moults = 5,
    .said = { HUNGRY, "0 belly|score=1", "0 trouble|what=vomit" },
    .want = { "held feed why=hold.vomit", "task feed due=3" } },
  { "refusals say nothing beside it", .moults = 5, .range = { -1, 9 },
    .said = { "-2 fed|outcome=refused|prey=moth", "-1 fed|outcome=refused|prey=moth", "0 trouble|what=vomit" },
    .want = { "held feed until=2 why=hold.vomit" } },
  { "sprayed today: again tomorrow", .moults = 5, .said = { "0 misted", "0 trouble|what=vomit" },
    .want = { "task mist due=1 why=mist.ill" } },
  { "at rest it drinks, too", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-9 set|key=rest|value=yes", "0 trouble|what=weak" }, .want = { "task mist due=0 why=mist.ill" } },
  { "mites: the cup first, food the next day", .moults = 5, .said = { HUNGRY, "0 trouble|what=mites" },
    .want = { "held feed until=0 ask=1 why=hold.mites", "task feed due=1 why=feed.after_ill",
              "task mist why=mist.ill" } },
  { "weak: it drinks before it eats", .moults = 5, .said = { HUNGRY, "0 trouble|what=weak" },
    .want = { "held feed until=0 why=hold.weak", "task mist due=0 why=mist.ill" } },
  { "weak because it is thin: fed as a thin one", .moults = 5,
    .said = { HUNGRY, "0 belly|score=2", "0 trouble|what=weak", "0 trouble|what=thin" },
    .want = { "free feed", "task feed not=feed.after_ill" } },
  { "other trouble holds no food", .moults = 5, .said = { HUNGRY, "0 trouble|what=foot" },
    .want = { "free feed", "task mist not=mist.ill" } },
  { "a lot is never without food", .moults = 1, .kind = CORE_SUBJECT_LOT, .said = { "0 trouble|what=vomit" },
    .want = { "free feed", "task feed due=0" } },
};

static const RuleRow stands[] = {
  { "a fridge: the temperature before all care", .moults = 0, .said = { HUNGRY, "-9 misted" },
    .place = { "-9 set|key=day_c|value=5", "-9 set|key=night_c|value=5" },
    .want = { "task climate due=0 why=climate.stands_cold", "none feed", "none mist", "none home",
              "held feed until=0 ask=1 why=climate.stands_cold", "held mist why=climate.stands_cold" } },
  { "a cold night is enough", .moults = 5, .place = { "-9 set|key=day_c|value=24", "-9 set|key=night_c|value=9" },
    .want = { "task climate why=climate.stands_cold" } },
  { "at the very end of it", .moults = 5, .place = { "-9 set|key=day_c|value=24", "-9 set|key=night_c|value=14" },
    .want = { "none climate", "task feed" } },
  { "nobody said", .moults = 5, .place = { "-9 set|key=name|value=A" }, .want = { "none climate" } },
  { "a winter rest wants it so", .moults = 5, .given = rests, .said = { "-9 set|key=rest|value=yes" },
    .place = { "-9 set|key=day_c|value=8", "-9 set|key=night_c|value=6" }, .want = { "none climate" } },
  { "too hot: food and water as always", .moults = 5, .said = { HUNGRY },
    .place = { "-9 set|key=day_c|value=45", "-9 set|key=night_c|value=22" },
    .want = { "task climate due=0 why=climate.stands_hot", "task feed", "task mist" } },
  { "readings of today speak instead", .moults = 5,
    .place = { "-9 set|key=day_c|value=5", "-9 set|key=night_c|value=5", "0 reading|t=24" },
    .want = { "none climate", "task feed" } },
  { "old ones do not", .moults = 5,
    .place = { "-9 set|key=day_c|value=5", "-9 set|key=night_c|value=5", "-5 reading|t=24" },
    .want = { "task climate" } },
  { "seen to today: again tomorrow", .moults = 5, .said = { "0 done|rule=climate" },
    .place = { "-9 set|key=day_c|value=5", "-9 set|key=night_c|value=5" }, .want = { "task climate due=1" } },
  { "a lot in the cold has its flies", .moults = 1, .kind = CORE_SUBJECT_LOT,
    .place = { "-9 set|key=day_c|value=5", "-9 set|key=night_c|value=5" },
    .want = { "task climate why=climate.stands_cold", "task feed" } },
};

/* Trouble stays until it is answered. The first of these to ask is the one wanted. */
static const RuleRow answers[] = {
  { "stuck ten days ago, and nothing since", .moults = 5,
    .said = { "-10 moulted|outcome=stuck", "0 fed|prey=moth" },
    .want = { "task look due=-10 latest=-9 why=emergency.stuck why=trouble.answer", "none sex_check",
              "held sex_check until=open ask=1 why=hold.trouble" } },
  { "stuck yesterday: no food", .moults = 5, .said = { HUNGRY, "-1 moulted|outcome=stuck" },
    .want = { "more look why=emergency.stuck", "held feed until=5 why=hold.trouble", "held sex_check why=hold.trouble",
              "more look why=look.held due=0" } },
  { "for a week; then a look first, and one soft prey", .moults = 5, .said = { HUNGRY, "-7 moulted|outcome=stuck" },
    .want = { "free feed", "task feed n=1 why=feed.after_stuck" } },
  { "a look answers nothing", .moults = 5, .said = { "-3 moulted|outcome=stuck", "-1 looked" },
    .want = { "more look why=emergency.stuck" } },
  { "marked as done: over", .moults = 5, .said = { "-7 moulted|outcome=stuck", "-1 done|rule=look" },
    .want = { "task look not=emergency.stuck", "task sex_check" } },
  { "also on the same day", .moults = 5, .said = { "-7 moulted|outcome=stuck", "-7 done|rule=after_moult" },
    .want = { "task look not=emergency.stuck" } },
  { "not by what was done before it", .moults = 5, .said = { "-8 done|rule=look", "-7 moulted|outcome=stuck" },
    .want = { "more look why=emergency.stuck" } },
  { "it moulted again", .moults = 4, .said = { "-30 moulted|outcome=stuck", "-9 moulted" },
    .want = { "task look not=emergency.stuck", "free sex_check" } },
  { "stuck and fed by hand: still asked", .moults = 5,
    .said = { "-9 moulted|outcome=stuck", "-1 fed|prey=moth|outcome=taken" }, .want = { "more look why=emergency.stuck" } },
  { "fell in its moult", .moults = 5, .said = { "-9 moulted|outcome=fell" }, .want = { "more look why=emergency.fell" } },
  { "and ate since: over", .moults = 5, .said = { "-9 moulted|outcome=fell", "-5 fed|prey=moth|outcome=taken" },
    .want = { "task look not=emergency.fell" } },
  { "fell weeks ago", .moults = 5, .said = { "-30 trouble|what=fell", "-9 fed|prey=moth", "-1 looked" },
    .want = { "more look due=-30 why=emergency.fell", "held sex_check why=hold.trouble", "free feed" } },
  { "fell today in its range: no food, it may be moulting", .moults = 5, .range = { -1, 9 },
    .said = { HUNGRY, "0 trouble|what=fell" }, .want = { "held feed until=1 why=hold.trouble", "task feed due=2" } },
  { "fell today, long before it", .moults = 5, .range = { 9, 19 }, .said = { HUNGRY, "0 trouble|what=fell" },
    .want = { "free feed", "task feed" } },
  { "vomited and never ate since", .moults = 5, .said = { "-20 trouble|what=vomit" },
    .want = { "more look why=emergency.vomit due=-20" } },
  { "vomited and ate", .moults = 5, .said = { "-20 trouble|what=vomit", "-9 fed|prey=moth|outcome=taken" },
    .want = { "task look not=emergency.vomit" } },
  { "other trouble is no emergency, but asked about as well", .moults = 5, .said = { "-20 trouble|what=eye" },
    .want = { "more look why=trouble.open due=-20", "held sex_check why=hold.trouble", "free feed" } },
  { "its water and unnamed prey are as always", .moults = 5,
    .said = { "-20 trouble|what=eye", "-3 misted", "-1 fed" }, .want = { "task mist not=mist.far_wall", "none take_out" } },
  { "and answered", .moults = 5, .said = { "-20 trouble|what=eye", "-20 done|rule=look" },
    .want = { "task look not=trouble.open", "free sex_check" } },
  { "a leg comes again with the moult", .moults = 4, .said = { "-20 trouble|what=limb", "-9 moulted" },
    .want = { "task look not=trouble.open" } },
  { "mites are over with a clean cup", .moults = 5, .said = { "-20 trouble|what=mites", "-19 cleaned" },
    .want = { "task look not=trouble.open" } },
  { "thin no more", .moults = 5, .said = { "-20 trouble|what=thin", "-1 belly|score=4" },
    .want = { "task look not=trouble.open" } },
  { "thin still", .moults = 5, .said = { "-20 trouble|what=thin", "-1 fed|prey=moth" },
    .want = { "more look why=trouble.open", "task feed why=feed.thin_first" } },
  { "of a lot, too", .moults = 1, .kind = CORE_SUBJECT_LOT, .said = { "-9 trouble|what=mould" },
    .want = { "more look why=trouble.open", "free feed" } },
  { "of an egg case, which may be moved for it", .kind = CORE_SUBJECT_EGGCASE,
    .said = { "-9 laid", "-1 trouble|what=mould" }, .want = { "more look why=trouble.open", "free eggcase", "task eggcase" } },
};

/* One look for a cup, whatever asks for it. */
static const RuleRow power[] = {
  { "the look due tomorrow comes forward", .moults = 5, .said = { "-1 looked" },
    .place = { "0 power|out_from=01:00|out_to=10:00" }, .to = 1,
    .want = { "days look 0", "task look due=0 why=look.power" } },
  { "one that is due already says so, too", .moults = 5, .said = { "-3 looked" },
    .place = { "0 power|out_from=01:00|out_to=10:00" }, .to = 0,
    .want = { "task look due=-1 why=look.power" } },
  { "a lot, too", .moults = 1, .kind = CORE_SUBJECT_LOT, .said = { "-1 looked" },
    .place = { "0 power|out_from=01:00|out_to=10:00" }, .want = { "task look due=0 why=look.power" } },
  { "and an egg case", .kind = CORE_SUBJECT_EGGCASE, .said = { "-9 laid", "-1 looked" },
    .place = { "0 power|lowest=9" }, .want = { "task look due=0 why=look.power" } },
  { "once it was looked at no more", .kind = CORE_SUBJECT_EGGCASE, .said = { "-9 laid", "0 looked" },
    .place = { "-1 power|lowest=9" }, .want = { "none look" } },
};

/* Said by themselves however long they are left; the others go quiet. A cup not seen for days is the
 * beginning of that line (desk-missed). */
static const RuleRow forward[] = {
  { "seen four days ago: its look", .moults = 5, .said = { "-4 looked", "-1 fed|prey=moth" },
    .want = { "task look why=look.unseen", "quiet mist due=-40" } },
  { "three days ago: quiet", .moults = 5, .said = { "-3 looked" }, .want = { "quiet look not=look.unseen" } },
  { "in its range as well", .moults = 5, .range = { -9, -1 }, .said = { "-30 looked" },
    .want = { "task look why=look.unseen" } },
  { "no spraying was ever entered", .moults = 5, .want = { "quiet mist why=mist.never due=-40", "quiet feed" } },
  { "food of a small lot", .moults = 0, .kind = CORE_SUBJECT_LOT, .said = { "-3 fed|prey=melanogaster" },
    .want = { "forward feed due=-2" } },
  { "seen without food", .moults = 1, .kind = CORE_SUBJECT_LOT, .said = { "-1 fed|outcome=none_in_view" },
    .want = { "forward feed why=feed.none_in_view" } },
  { "food of a larger lot", .moults = 3, .kind = CORE_SUBJECT_LOT, .want = { "forward feed why=feed.never" } },
  { "of one alone not", .moults = 5, .said = { "-9 fed|prey=moth" }, .want = { "quiet feed" } },
  { "weeks over her time", .moults = 8, .given = rule_given_female,
    .said = { "-60 stage|seen=adult", "-50 sexed|method=joined|sex=female" },
    .want = { "forward adult why=adult.overdue" } },
};

static const RuleRow rest[] = {
  { "a kind that rests says so", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-9 set|key=rest|value=yes", "-1 looked" },
    .want = { "task look why=look.rest", "none climate", "task feed why=feed.rest" } },
  { "after three months its end is asked for, and does not go quiet", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-95 set|key=rest|value=yes", "-3 looked" }, .want = { "forward climate due=-5 why=climate.rest_over" } },
  { "put aside for two weeks", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-95 set|key=rest|value=yes", "-3 done|rule=climate" }, .want = { "task climate due=11" } },
  { "ended: no more", CORE_GROUP_DRY_HOT, .moults = 5, .given = rests,
    .said = { "-95 set|key=rest|value=yes", "-3 set|key=rest|value=no" },
    .want = { "none climate", "task look not=look.rest", "task feed not=feed.rest" } },
  { "of a kind without a rest it is none", .moults = 5, .said = { "-95 set|key=rest|value=yes" },
    .want = { "none climate", "task look not=look.rest", "task feed not=feed.rest" } },
};

static const RuleRow eats[] = {
  { "put in three times, never seen to eat", .moults = 5, .said = { "-20 fed|prey=moth", "-12 fed|prey=moth", "-3 fed|prey=moth" },
    .want = { "task feed why=feed.none_taken" } },
  { "for less than two weeks", .moults = 5, .said = { "-9 fed|prey=moth", "-6 fed|prey=moth", "-3 fed|prey=moth" },
    .want = { "task feed not=feed.none_taken" } },
  { "gone at a look: probably eaten", .moults = 5,
    .said = { "-20 fed|prey=moth", "-12 fed|prey=moth", "-3 fed|prey=moth", "-2 gone" },
    .want = { "task feed not=feed.none_taken" } },
};

static const RuleRow put_off[] = {
  { "food put off is said, with its reason", .moults = 5, .said = { "-3 fed|prey=moth", "0 put_off|rule=feed|until=2026-02-20" },
    .to = 2, .want = { "none feed", "held feed until=3 ask=4 why=put_off" } },
  { "but not for a year", .moults = 5, .said = { "-3 fed|prey=moth", "0 put_off|rule=feed|until=2027-02-10" },
    .to = 20, .want = { "held feed until=6 why=put_off", "task feed due=7 why=put_off" } },
  { "nor a small one for more than two days", .moults = 2,
    .said = { "-2 fed|prey=moth", "0 put_off|rule=feed|until=2027-02-10" }, .want = { "task feed due=2 why=put_off" } },
  { "fed since: that is over", .moults = 5, .said = { "-3 put_off|rule=feed|until=2026-02-28", "-1 fed|prey=moth" },
    .want = { "free feed", "task feed due=2 not=put_off" } },
  { "other tasks say it as well", .moults = 5, .said = { "-9 misted", "0 put_off|rule=mist|until=2026-02-18" },
    .to = 1, .want = { "held mist until=1 why=put_off" } },
};

#define RUN(rows)                                                                                  \
  static void test_##rows (void)                                                                   \
  {                                                                                                \
    rule_rows_run (rows, G_N_ELEMENTS (rows));                                                     \
  }
RUN (ill)
RUN (stands)
RUN (answers)
RUN (power)
RUN (forward)
RUN (put_off)
RUN (eats)
RUN (rest)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rule/ill", test_ill);
  g_test_add_func ("/rule/stands", test_stands);
  g_test_add_func ("/rule/answers", test_answers);
  g_test_add_func ("/rule/power", test_power);
  g_test_add_func ("/rule/forward", test_forward);
  g_test_add_func ("/rule/put-off", test_put_off);
  g_test_add_func ("/rule/eats", test_eats);
  g_test_add_func ("/rule/rest", test_rest);
  return g_test_run ();
}
