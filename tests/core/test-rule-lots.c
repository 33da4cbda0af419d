/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-rule-lots.c — many small ones together, one row a clause.
 *
 * A lot is never held: what some of it do holds back touching that day, never food or water. */
#include "rule-case.h"

static void
counted (PlanCase *c)
{
  plan_case_say (c, TODAY - 20, "recounted|n=30");
}

static void
communal (PlanCase *c)
{
  counted (c);
  c->profile.communal = true;
}

#define LOT .kind = CORE_SUBJECT_LOT, .given = counted

static const RuleRow care[] = {
  { "small ones: flies in view, every day", .moults = 1, LOT, .said = { "0 fed|prey=melanogaster" },
    .want = { "task feed due=1 latest=1 why=feed.lot_in_view" } },
  { "a meal is not counted: no number is named", .moults = 1, LOT, .want = { "task feed n=0" } },
  { "to m 2", .moults = 2, LOT, .said = { "0 fed|prey=hydei" }, .want = { "task feed due=1 why=feed.lot_in_view" } },
  { "larger ones by their interval", .moults = 3, LOT, .said = { "0 fed|prey=hydei" },
    .want = { "task feed due=2 latest=3 why=feed.interval" } },
  { "looked at daily", .moults = 1, LOT, .said = { "0 looked" }, .want = { "task look due=1 why=look.small" } },
  { "a sign of some holds no food", .moults = 1, LOT, .said = { "0 sign|sign=pumping" },
    .want = { "task feed due=0", "free feed", "free mist" } },
  { "nor do refusals", .moults = 3, LOT, .said = { "-2 fed|outcome=refused|prey=hydei", "-1 fed|outcome=refused|prey=hydei" },
    .want = { "free feed", "task feed" } },
  { "nor a moult", .moults = 1, LOT, .said = { "0 moulted" }, .want = { "free feed", "task feed", "task mist" } },
  { "fine fog for the smallest", .moults = 1, LOT, .said = { "0 misted" }, .want = { "task mist why=mist.fine_fog" } },
  { "a fall in a lot is an emergency too", .moults = 1, LOT, .said = { "0 trouble|what=fell" },
    .want = { "more look why=emergency.fell due=0" } },
};

static void
test_care (void)
{
  rule_rows_run (care, G_N_ELEMENTS (care));
}

static const RuleRow separate[] = {
  { "hatchlings, all well", .moults = 0, LOT, .want = { "none separate" } },
  { "at the stage of the kind", .moults = 2, LOT, .want = { "task separate reach=touch why=separate.stage" } },
  { "one stage before", .moults = 1, LOT, .want = { "none separate" } },
  { "a communal kind is never parted for its stage", .moults = 4, .kind = CORE_SUBJECT_LOT, .given = communal,
    .want = { "none separate" } },
  { "some a moult ahead of the others", .moults = 1, LOT, .said = { "-1 moulted|n=4" },
    .want = { "task separate due=0 why=separate.ahead" } }, /* on the day itself none of it is touched */
  { "they are still of the stage of the others", .moults = 1, LOT, .said = { "-1 moulted|n=4" },
    .want = { "task feed why=feed.lot_in_view" } },
  { "all of them did since", .moults = 0, LOT, .said = { "-2 moulted|n=4", "-1 moulted" }, .want = { "none separate" } },
  { "all, one after another", .moults = 0, LOT, .said = { "-2 moulted|n=20", "-1 moulted|n=10" }, .want = { "none separate" } },
  { "some ahead in a communal kind", .moults = 1, .kind = CORE_SUBJECT_LOT, .given = communal, .said = { "-1 moulted|n=4" },
    .want = { "none separate" } },
  { "a body found", .moults = 1, LOT, .said = { "-1 died|n=1" }, .want = { "task separate why=separate.body" } },
  { "a body in a communal kind", .moults = 1, .kind = CORE_SUBJECT_LOT, .given = communal, .said = { "-1 died|n=1" },
    .want = { "task separate why=separate.body" } },
  { "one of many hatchlings: first a closer look", .moults = 0, LOT, .said = { "-1 died|n=1" },
    .want = { "task separate why=separate.few not=separate.body" } },
  { "more of them: apart", .moults = 0, LOT, .said = { "-1 died|n=4" }, .want = { "task separate why=separate.body" } },
  { "a body of last week", .moults = 1, LOT, .said = { "-5 died|n=1" }, .want = { "none separate" } },
  { "no flies in view: now, not tomorrow", .moults = 1, LOT, .said = { "-1 fed|prey=hydei", "0 fed|outcome=none_in_view" },
    .want = { "task feed due=0 latest=0 why=feed.none_in_view" } },
  { "none since yesterday", .moults = 1, LOT, .said = { "-1 fed|outcome=none_in_view" },
    .want = { "task feed due=-1 why=feed.none_in_view" } },
  { "some were given then", .moults = 1, LOT, .said = { "0 fed|outcome=none_in_view", "0 fed|prey=hydei" },
    .want = { "task feed due=1 why=feed.lot_in_view" } },
  { "or it is marked as done", .moults = 1, LOT, .said = { "0 fed|outcome=none_in_view", "0 done|rule=feed" },
    .want = { "task feed due=1 why=feed.lot_in_view" } },
  { "food was out of view", .moults = 1, LOT, .said = { "-1 fed|outcome=none_in_view" },
    .want = { "task separate why=separate.no_food" } },
  { "and is in view again", .moults = 1, LOT, .said = { "-1 fed|outcome=none_in_view", "0 fed|prey=hydei" },
    .want = { "none separate" } },
  /* 1.37: Hurd 1988 */
  { "one 1.37 times as long as another", .moults = 1, LOT,
    .said = { "-1 measured|what=body|mm=10", "-1 measured|what=body|mm=13.7" },
    .want = { "task separate why=separate.size" } },
  { "1.36 times", .moults = 1, LOT, .said = { "-1 measured|what=body|mm=10", "-1 measured|what=body|mm=13.6" },
    .want = { "none separate" } },
  { "of another stage", .moults = 0, LOT,
    .said = { "-9 measured|what=body|mm=8", "-5 moulted", "-1 measured|what=body|mm=12" },
    .want = { "none separate" } },
  { "in a communal kind", .moults = 1, .kind = CORE_SUBJECT_LOT, .given = communal,
    .said = { "-1 measured|what=body|mm=10", "-1 measured|what=body|mm=16" }, .want = { "none separate" } },
  { "one alone has nobody to take", .moults = 3, LOT, .said = { "-1 recounted|n=1" }, .want = { "none separate" } },
  { "done", .moults = 2, LOT, .said = { "0 done|rule=separate" }, .want = { "none separate" } },
  { "done, and another body since", .moults = 2, LOT, .said = { "-3 done|rule=separate", "-1 died|n=1" },
    .want = { "task separate why=separate.body" } },
  { "a sign of some: not touched today", .moults = 2, LOT, .said = { "0 sign|sign=hanging" },
    .want = { "held separate until=0 ask=1 why=hold.lot_today", "task separate due=1" } },
  { "of yesterday: today it is", .moults = 2, LOT, .said = { "-1 sign|sign=hanging" }, .want = { "free separate", "task separate" } },
  { "some moulted: not touched today", .moults = 2, LOT, .said = { "0 moulted|n=3" },
    .want = { "held separate until=0 why=hold.lot_today", "task separate due=1" } },
  { "dull or sluggish ones hold nothing", .moults = 2, LOT, .said = { "0 sign|sign=dull" }, .want = { "free separate" } },
};

static void
test_separate (void)
{
  rule_rows_run (separate, G_N_ELEMENTS (separate));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rule/lot/care", test_care);
  g_test_add_func ("/rule/separate", test_separate);
  return g_test_run ();
}
