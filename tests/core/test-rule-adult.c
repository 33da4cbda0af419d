/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-rule-adult.c — receptive days, calling, old age, and eggs to feed for; one row a clause.
 *
 * Females 14 to 35, males 10 to 40 days after the adult moult; adult life of females 90 to 240,
 * of males 30 to 90 days: common practice, no source. */
#include "rule-case.h"

static void
perhaps (PlanCase *c)
{
  c->verdict.female = .8;
  c->verdict.male = .2;
}

static const RuleRow adult[] = {
  { "a nymph", .moults = 5, .given = rule_given_female, .want = { "none adult" } },
  { "from two weeks after her adult moult", .moults = 7, .given = rule_given_female,
    .said = { "-10 moulted|to=adult|earliest=20490" },
    .want = { "task adult due=4 latest=25 reach=look why=adult.receptive" } },
  { "within it: today, never late", .moults = 7, .given = rule_given_female,
    .said = { "-20 moulted|to=adult|earliest=20480" },
    .want = { "task adult due=0 latest=15 why=adult.receptive" } },
  { "it goes when it is over", .moults = 7, .given = rule_given_female,
    .said = { "-36 moulted|to=adult|earliest=20464" }, .want = { "none adult" } },
  { "a male sooner", .moults = 6, .given = rule_given_male, .said = { "-12 moulted|to=adult|earliest=20488" },
    .want = { "task adult due=0 latest=28 why=adult.receptive" } },
  { "no word of readiness while the sex is open", .moults = 7, .given = perhaps,
    .said = { "-20 moulted|to=adult|earliest=20480" }, .want = { "none adult" } },
  { "kept for sale: not asked", .moults = 7, .given = rule_given_female,
    .said = { "-20 moulted|to=adult|earliest=20480", "-19 set|key=purpose|value=sale" },
    .want = { "none adult" } },
  { "meant for pairing: asked", .moults = 7, .given = rule_given_female,
    .said = { "-20 moulted|to=adult|earliest=20480", "-19 set|key=purpose|value=pairing" },
    .want = { "task adult why=adult.receptive" } },
  { "came as an adult: no days, so no word", .moults = 7, .given = rule_given_female,
    .said = { "-20 stage|seen=adult" }, .want = { "none adult" } },
  { "calling is the sign, days or none", .moults = 7, .given = rule_given_female,
    .said = { "-20 stage|seen=adult", "-1 called" },
    .want = { "task adult due=0 latest=13 why=adult.calling not=adult.receptive" } },
  { "calling before her days", .moults = 7, .given = rule_given_female,
    .said = { "-8 moulted|to=adult|earliest=20492", "-1 called" },
    .want = { "task adult due=0 why=adult.calling why=adult.receptive" } },
  { "calling after her days", .moults = 7, .given = rule_given_female,
    .said = { "-50 moulted|to=adult|earliest=20450", "-1 called" },
    .want = { "task adult due=0 latest=13 why=adult.calling" } },
  { "put away", .moults = 7, .given = rule_given_female,
    .said = { "-20 moulted|to=adult|earliest=20480", "-1 done|rule=adult" }, .want = { "none adult" } },

  /* 30 + .75 × 60 = 75; 90 + .75 × 150 = 202.5 */
  { "an old male, calmly", .moults = 6, .given = rule_given_male, .said = { "-75 stage|seen=adult" },
    .want = { "task adult due=0 reach=look why=adult.old" } },
  { "not yet", .moults = 6, .given = rule_given_male, .said = { "-50 stage|seen=adult" }, .want = { "none adult" } },
  { "an old female later", .moults = 7, .given = rule_given_female, .said = { "-75 stage|seen=adult" },
    .want = { "none adult" } },
  { "then", .moults = 7, .given = rule_given_female, .said = { "-203 stage|seen=adult" },
    .want = { "task adult due=0 why=adult.old" } },
  { "of unknown sex by the longer life", .moults = 7, .said = { "-100 stage|seen=adult" },
    .want = { "none adult" } },
  { "read once a month", .moults = 6, .given = rule_given_male,
    .said = { "-80 stage|seen=adult", "-2 done|rule=adult" }, .to = 40,
    .want = { "task adult due=28 why=adult.old" } },
};

static void
test_adult (void)
{
  rule_rows_run (adult, G_N_ELEMENTS (adult));
}

#define COME "-60 moulted|to=adult|earliest=20440", "0 fed|prey=moth|outcome=taken"

static const RuleRow eggs[] = {
  { "an adult female every three to four days", .moults = 7, .given = rule_given_female, .said = { COME },
    .want = { "task feed due=3 latest=4 not=feed.gravid not=feed.laying" } },
  { "said to carry eggs", .moults = 7, .given = rule_given_female, .said = { COME, "0 set|key=gravid|value=yes" },
    .want = { "task feed due=1 latest=2 why=feed.gravid" } },
  { "six weeks with eggs and no case", .moults = 7, .given = rule_given_female,
    .said = { COME, "-42 set|key=gravid|value=yes" }, .want = { "more adult why=adult.overdue due=0" } },
  { "not before", .moults = 7, .given = rule_given_female, .to = 2,
    .said = { COME, "-37 set|key=gravid|value=yes", "-30 done|rule=adult" }, .want = { "none adult" } },
  { "mated, and no case", .moults = 7, .given = rule_given_female,
    .said = { COME, "-50 sexed|sex=female|method=joined" }, .want = { "more adult why=adult.overdue due=-8" } },
  { "she laid since", .moults = 7, .given = rule_given_female,
    .said = { COME, "-50 set|key=gravid|value=yes", "-35 laid|n=1", "-20 done|rule=adult" }, .want = { "none adult" } },
  { "seen to: again two weeks on", .moults = 7, .given = rule_given_female,
    .said = { COME, "-50 set|key=gravid|value=yes", "-3 done|rule=adult" },
    .want = { "more adult why=adult.overdue due=11" } },
  { "laid lately: more follow", .moults = 7, .given = rule_given_female, .said = { COME, "-2 laid|n=1" },
    .want = { "task feed due=1 latest=2 why=feed.laying" } },
  { "laid long ago", .moults = 7, .given = rule_given_female, .said = { COME, "-40 laid|n=1" },
    .want = { "task feed due=3" } },
  { "mated", .moults = 7, .given = rule_given_female, .said = { COME, "-9 sexed|sex=female|method=joined" },
    .want = { "task feed due=1 why=feed.laying" } },
  { "laid, and the keeper says no more since", .moults = 7, .given = rule_given_female,
    .said = { COME, "-5 laid|n=1", "-1 set|key=gravid|value=no" }, .want = { "task feed due=3" } },
  { "her round belly may be eggs: no meal is left out", .moults = 7, .given = rule_given_female,
    .said = { COME, "-2 laid|n=1", "0 belly|score=5" },
    .want = { "task feed due=1 not=feed.belly_full" } },
  { "another's is food", .moults = 7, .given = rule_given_female, .said = { COME, "2 looked", "0 belly|score=5" },
    .want = { "task feed due=3 latest=4" } },
};

static void
test_eggs (void)
{
  rule_rows_run (eggs, G_N_ELEMENTS (eggs));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rule/adult", test_adult);
  g_test_add_func ("/rule/feed/eggs", test_eggs);
  return g_test_run ();
}
