/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-rule-moult.c — leave alone, the shed, after the moult, a larger home, the sex check; one
 * row a clause. Holds after a moult: the table of the groups, common practice, no source. */
#include <math.h>

#include "rule-case.h"

#define PENDING "-20 fed|prey=house fly" /* food has been due for long */

/* ---- leave alone ---- */

static const RuleRow holds[] = {
  { "pumping alone", .moults = 5, .said = { PENDING, "0 sign|sign=pumping" },
    .want = { "held feed until=open ask=1 why=hold.pumping", "none feed" } },
  { "splitting alone", .moults = 5, .said = { PENDING, "0 sign|sign=splitting" }, .want = { "held feed why=hold.splitting" } },
  { "hanging in the range", .moults = 5, .range = { -1, 9 }, .said = { PENDING, "0 sign|sign=hanging" },
    .want = { "held feed why=hold.hanging_in_range" } },
  { "hanging with a refusal", .moults = 5, .range = { 9, 19 },
    .said = { PENDING, "0 fed|outcome=refused|prey=moth", "0 belly|score=3", "0 sign|sign=hanging" },
    .want = { "held feed why=hold.hanging_second_sign" } },
  { "hanging and dull", .moults = 5, .range = { 9, 19 }, .said = { PENDING, "0 sign|sign=dull", "0 sign|sign=hanging" },
    .want = { "held feed why=hold.hanging_second_sign" } },
  { "hanging with swollen pads", .moults = 6, .range = { 9, 19 },
    .said = { "-9 stage|seen=subadult", PENDING, "0 sign|sign=pads", "0 sign|sign=hanging" },
    .want = { "held feed why=hold.hanging_second_sign" } },
  { "hanging with a round belly", .moults = 5, .range = { 9, 19 },
    .said = { PENDING, "0 belly|score=4", "0 sign|sign=hanging" }, .to = 3,
    .want = { "held feed why=hold.hanging_round_belly" } },
  { "hanging alone, long before the range", .moults = 5, .range = { 9, 19 }, .said = { PENDING, "0 sign|sign=hanging" },
    .want = { "free feed", "task feed" } },
  { "sluggish alone", .moults = 5, .range = { -1, 9 }, .said = { PENDING, "0 sign|sign=sluggish" }, .want = { "free feed", "task feed" } },
  { "dull alone", .moults = 5, .range = { -1, 9 }, .said = { PENDING, "0 sign|sign=dull" }, .want = { "free feed", "task feed" } },
  { "the sign of yesterday holds", .moults = 5, .said = { PENDING, "-1 sign|sign=pumping" }, .want = { "held feed" } },
  { "what was due in a hold that lapsed is due when it is over", .moults = 5, .range = { -9, 9 },
    .said = { "-5 fed|prey=moth", "-2 sign|sign=hanging" }, .want = { "free feed", "task feed due=0" } },
  { "and from then on it is overdue", .moults = 5, .range = { -9, 9 },
    .said = { "-6 fed|prey=moth", "-3 sign|sign=hanging" }, .want = { "quiet feed due=-1" } },
  { "what was overdue before that hold stays so", .moults = 5, .range = { -9, 9 },
    .said = { "-7 fed|prey=moth", "-2 sign|sign=hanging" }, .want = { "quiet feed due=-4" } },
  { "a sign that held nothing excuses nothing", .moults = 5, .range = { 9, 19 },
    .said = { "-5 fed|prey=moth", "-2 sign|sign=hanging" }, .want = { "quiet feed due=-2" } },
  { "two days after hanging no more, but a look asks", .moults = 5, .said = { PENDING, "-2 sign|sign=hanging" },
    .want = { "free feed", "task feed", "task look due=0 why=look.after_hold" } },
  /* No moult is entered, but it came: by the last day on which it can have come. */
  { "split, the days of the stage reached", .moults = 1, .said = { PENDING, "-1 sign|sign=splitting" },
    .want = { "held feed", "task look why=look.held" } },
  { "split two days ago: a small one is hard", .moults = 1, .said = { PENDING, "-2 sign|sign=splitting" },
    .want = { "free feed", "task feed" } },
  { "split two days ago: a larger one is soft", .moults = 5, .said = { PENDING, "-2 sign|sign=splitting" },
    .want = { "held feed until=0 ask=1 why=hold.after_sign", "held sex_check until=open why=hold.after_sign",
              "task look why=look.after_hold" } },
  { "split, and fed since: it may eat", .moults = 5,
    .said = { "-2 sign|sign=splitting", "-1 fed|prey=moth|outcome=taken" }, .want = { "free feed" } },
  { "pumping may last longer", .moults = 5, .said = { PENDING, "-3 sign|sign=pumping" },
    .want = { "held feed until=0 why=hold.after_sign" } },
  { "of a sub-adult the days of an adult", CORE_GROUP_IDOLOMANTIS, .moults = 7,
    .said = { "-9 stage|seen=subadult", PENDING, "-3 sign|sign=splitting" },
    .want = { "held feed until=1 why=hold.after_sign", "task feed due=2 why=feed.after_moult",
              "none sex_check", "held sex_check until=open" } },
  { "looks without a word of it change nothing", .moults = 5,
    .said = { PENDING, "-2 sign|sign=splitting", "-1 looked", "0 looked" }, .want = { "held feed why=hold.after_sign" } },
  { "hard again, but its sex is read after the moult is entered", .moults = 5,
    .said = { PENDING, "-12 sign|sign=splitting" },
    .want = { "free feed", "none sex_check", "held sex_check until=open why=hold.sign" } },
  { "its moult entered, the days of that count", .moults = 5,
    .said = { PENDING, "-3 sign|sign=splitting", "-3 moulted|seen=yes" }, .want = { "free feed", "task sex_check not=hold.after_sign" } },
  { "looks and spraying outside stay", .moults = 5, .said = { "-3 misted", "-3 looked", "0 sign|sign=pumping" },
    .want = { "task look reach=look", "task mist reach=outside", "free look", "free mist" } },
  { "an emergency is never held", .moults = 5, .said = { "0 sign|sign=pumping", "0 trouble|what=fell" },
    .want = { "more look why=emergency.fell due=0" } },
};

static void
test_holds (void)
{
  rule_rows_run (holds, G_N_ELEMENTS (holds));
}

/* After a moult, found today and seen in the old skin yesterday: no food to, no touching to. */
static const struct
{
  const char *name;
  CoreGroup group;
  int before;
  const char *to;
  int food, touch; /* first free day */
} hardening[] = {
  { "hardy, m to 3", CORE_GROUP_HARDY, 1, "", 1, 1 },
  { "hardy, m from 4", CORE_GROUP_HARDY, 4, "", 2, 2 },
  { "hardy sub-adult", CORE_GROUP_HARDY, 5, "|to=subadult", 2, 3 },
  { "hardy adult", CORE_GROUP_HARDY, 7, "|to=adult", 3, 5 },
  { "humid, m to 3", CORE_GROUP_HUMID, 1, "", 1, 1 },
  { "humid, m from 4", CORE_GROUP_HUMID, 4, "", 2, 3 },
  { "humid sub-adult", CORE_GROUP_HUMID, 5, "|to=subadult", 2, 4 },
  { "humid adult", CORE_GROUP_HUMID, 7, "|to=adult", 4, 7 },
  { "dry, m to 3", CORE_GROUP_DRY_HOT, 1, "", 1, 1 },
  { "dry, m from 4", CORE_GROUP_DRY_HOT, 4, "", 1, 2 },
  { "dry sub-adult", CORE_GROUP_DRY_HOT, 5, "|to=subadult", 2, 4 },
  { "dry adult", CORE_GROUP_DRY_HOT, 7, "|to=adult", 3, 7 },
  { "Idolomantis, m to 3", CORE_GROUP_IDOLOMANTIS, 1, "", 1, 2 },
  { "Idolomantis, m from 4", CORE_GROUP_IDOLOMANTIS, 4, "", 2, 3 },
  { "Idolomantis sub-adult", CORE_GROUP_IDOLOMANTIS, 5, "|to=subadult", 2, 5 },
  { "Idolomantis adult", CORE_GROUP_IDOLOMANTIS, 7, "|to=adult", 4, 7 },
};

static void
test_hardening (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (hardening); i++)
    {
      g_autofree char *text = g_strdup_printf ("moulted%s", hardening[i].to);
      PlanCase c;

      g_test_message ("%s", hardening[i].name);
      plan_case_init (&c, hardening[i].group, hardening[i].before);
      plan_case_say (&c, TODAY - 9, "fed|prey=moth|outcome=taken");
      plan_case_say (&c, TODAY - 1, "looked");
      plan_case_say (&c, TODAY, text);
      c.to = TODAY + 10;
      plan_case_run (&c);
      g_assert_cmpint (c.plan.hold.kind, ==, CORE_HOLD_AFTER);
      g_assert_cmpint (c.plan.hold.touch_until + 1 - TODAY, ==, hardening[i].touch);
      g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED)->due - TODAY, ==, hardening[i].food);
      plan_case_clear (&c);
    }
}

/* ---- shed, after the moult ---- */

static const RuleRow after[] = {
  { "look for a shed daily inside the range", .moults = 5, .range = { -1, 3 }, .said = { "0 looked" },
    .want = { "days shed 1,2,3", "task shed reach=look why=shed.in_range" } },
  { "not before it", .moults = 5, .range = { 3, 4 }, .said = { "0 looked" }, .want = { "days shed 3,4" } },
  { "past it only for today", .moults = 5, .range = { -9, -2 }, .said = { "-1 looked" }, .want = { "days shed 0", "task shed why=shed.past_range" } },
  { "after the moult: one task, once it has hardened", .moults = 4, .said = { "-1 looked", "0 moulted" },
    .want = { "days after_moult 2", "task after_moult reach=look why=after_moult.outcome" } },
  { "answered", .moults = 4, .said = { "-1 looked", "0 moulted|outcome=good" }, .want = { "none after_moult" } },
  { "a bad one is answered too", .moults = 4, .said = { "-1 looked", "0 moulted|outcome=limb" }, .want = { "none after_moult" } },
  { "put away", .moults = 4, .said = { "-1 looked", "0 moulted", "0 done|rule=after_moult" }, .want = { "none after_moult" } },
  { "after two weeks it is history", .moults = 4, .said = { "-16 looked", "-15 moulted" }, .want = { "none after_moult" } },
};

static void
test_after (void)
{
  rule_rows_run (after, G_N_ELEMENTS (after));
}

/* ---- home ---- */

static void
measured (PlanCase *c)
{
  plan_case_say (c, TODAY - 1, "measured|what=body|mm=30");
}

static void
hatchling (PlanCase *c)
{
  plan_case_say (c, TODAY - 1, "measured|what=body|mm=8");
}

static const RuleRow home[] = {
  { "three times the 90 % length after the next moult", .moults = 4, .given = measured, .range = { 12, 20 },
    .said = { "-9 housed|height_mm=90" },
    .want = { "task home latest=9 reach=touch why=home.height why=home.length_after why=home.last_day" } },
  { "tall enough", .moults = 4, .given = measured, .range = { 12, 20 }, .said = { "-9 housed|height_mm=200" }, .want = { "none home" } },
  { "never measured: measure first", .moults = 4, .range = { 12, 20 }, .said = { "-9 housed|height_mm=60" },
    .want = { "task home why=home.measure_first" } },
  { "its last day is three days before the 10 % day", .moults = 4, .given = measured, .range = { 3, 9 },
    .said = { "-9 housed|height_mm=90" }, .want = { "task home latest=0 why=home.last_day" } },
  { "after that too late for this moult", .moults = 4, .given = measured, .range = { 2, 9 },
    .said = { "-9 housed|height_mm=90" }, .want = { "task home due=12 why=home.too_late" } },
  { "moult signs hold it", .moults = 4, .given = measured, .range = { 12, 20 },
    .said = { "-9 housed|height_mm=90", "0 sign|sign=dull" }, .want = { "held home why=hold.sign", "none home" } },
  { "no height known", .moults = 4, .given = measured, .range = { 12, 20 }, .want = { "none home" } },
  { "adults moult no more", .moults = 8, .given = measured, .said = { "-9 housed|height_mm=60", "-5 stage|seen=adult" },
    .want = { "none home" } },
  { "done in this stage", .moults = 4, .given = measured, .range = { 12, 20 },
    .said = { "-9 housed|height_mm=90", "0 done|rule=home" }, .want = { "none home" } },
  { "too large for a hatchling, each way", .moults = 0, .given = hatchling, .range = { 12, 20 },
    .said = { "-9 housed|height_mm=100|width_mm=100|depth_mm=100" }, .want = { "task home why=home.too_large" } },
  { "large one way only", .moults = 0, .given = hatchling, .range = { 12, 20 },
    .said = { "-9 housed|height_mm=100|width_mm=60|depth_mm=60" }, .want = { "none home" } },
  { "a larger one finds its prey", .moults = 3, .given = hatchling, .range = { 12, 20 },
    .said = { "-9 housed|height_mm=400|width_mm=400|depth_mm=400" }, .want = { "none home" } },
};

static void
test_home (void)
{
  rule_rows_run (home, G_N_ELEMENTS (home));
}

/* ---- sex ---- */

static void
likely (PlanCase *c)
{
  c->verdict.male = .93;
  c->verdict.female = .07;
  c->verdict.verdict = CORE_VERDICT_LIKELY_MALE;
}

static void
firm (PlanCase *c)
{
  c->verdict.male = .995;
  c->verdict.female = .005;
  c->verdict.verdict = CORE_VERDICT_FIRM_MALE;
}

static const RuleRow sex[] = {
  { "from the first readable stage", .moults = 3, .want = { "task sex_check reach=touch why=sex_check.readable why=sex_check.not_sure" } },
  { "not before", .moults = 2, .want = { "none sex_check" } },
  { "once a stage", .moults = 4, .said = { "-1 sexed|sex=unknown|method=count" }, .want = { "none sex_check" } },
  { "and again in the next", .moults = 4, .said = { "-12 sexed|sex=unknown|method=count", "-10 moulted|outcome=good" },
    .want = { "task sex_check" } },
  { "put away for this stage", .moults = 4, .said = { "-1 done|rule=sex_check" }, .want = { "none sex_check" } },
  { "ends at likely", .moults = 4, .given = likely, .want = { "none sex_check" } },
  { "but not for pairing", .moults = 4, .given = likely, .said = { "-1 set|key=purpose|value=pairing" },
    .want = { "task sex_check why=sex_check.purpose" } },
  { "nor for sale", .moults = 4, .given = likely, .said = { "-1 set|key=purpose|value=sale" },
    .want = { "task sex_check why=sex_check.purpose" } },
  { "firm is firm", .moults = 4, .given = firm, .said = { "-1 set|key=purpose|value=pairing" }, .want = { "none sex_check" } },
  { "not needed", .moults = 4, .said = { "-1 set|key=sex_check|value=not_needed" }, .want = { "none sex_check" } },
  { "held while it hardens", .moults = 4, .said = { "-1 looked", "0 moulted|outcome=good" },
    .want = { "held sex_check until=1 why=hold.hardening", "task sex_check due=2" } },
  { "held inside the range", .moults = 4, .range = { -1, 9 }, .want = { "held sex_check until=open why=hold.in_range", "none sex_check" } },
};

static void
test_sex (void)
{
  rule_rows_run (sex, G_N_ELEMENTS (sex));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rule/hold", test_holds);
  g_test_add_func ("/rule/hardening", test_hardening);
  g_test_add_func ("/rule/after", test_after);
  g_test_add_func ("/rule/home", test_home);
  g_test_add_func ("/rule/sex-check", test_sex);
  return g_test_run ();
}
