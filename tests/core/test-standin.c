/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-standin.c — what stands on the sheet of a stand-in, cup by cup and day by day. */
#include <string.h>

#include "core/core-standin.h"
#include "plan-case.h"

#define DAYS 7

/* One letter a day: f feed, x closed, X closed with the meal that would be due, - nothing. */
typedef struct
{
  const char *name;
  CoreGroup group;
  int moults;
  const char *say[3]; /* "days ago|entry" */
  const char *days;   /* from the day after TODAY on */
  int rest;           /* the hold on food of the group table, by the stage that the moult leads to */
  bool until_moult;
  bool fed_before;
} Case;

/* Hardy: every 2 days at m 2-3, 3-4 from m 4 on; no food after a moult 1 day up to m 3, 1-2 from m 4
 * on, 2 as a sub-adult, 3 as an adult: the group table, common practice, no source. */
static const Case cases[] = {
  { "every-third", CORE_GROUP_HARDY, 5, { "1|fed|outcome=taken|prey=moth" }, "-f--f--", 2, false },
  /* Due days ago: the sheet counts on it that the keeper feeds it before. */
  { "overdue", CORE_GROUP_HARDY, 5, { "9|fed|outcome=taken|prey=moth" }, "--f--f-", 2, false, true },
  /* Said to have moulted twice: it may have been three times, and then the longer rest holds. */
  { "young", CORE_GROUP_HARDY, 2, { "1|fed|outcome=taken" }, "f-f-f-f", 2, false },
  { "hatchling", CORE_GROUP_HARDY, 0, { "0|fed|outcome=taken" }, "fffffff", 1, false },
  { "sub-adult", CORE_GROUP_HARDY, 6, { "3|stage|seen=subadult", "1|fed|outcome=taken" }, "-f--f--", 3, false },
  /* Of unknown sex: as often as a female. */
  { "adult", CORE_GROUP_HARDY, 7, { "20|moulted|to=adult", "1|fed|outcome=taken" }, "-f--f--", 0, false },
  /* Hangs and pumps: closed on every day, and what it would get stands in brackets. */
  { "pumping", CORE_GROUP_HARDY, 5, { "1|fed|outcome=taken|prey=moth", "0|sign|sign=pumping" }, "xXxxXxx", 2, true },
  /* Overdue and hanging: nobody is told to feed it before. */
  { "hanging-overdue", CORE_GROUP_HARDY, 5, { "9|fed|outcome=taken|prey=moth", "0|sign|sign=splitting" },
    "xxXxxXx", 2, true, false },
  /* Moulted today: closed for two days more, then a small meal. */
  { "moulted", CORE_GROUP_HARDY, 5, { "0|moulted" }, "xf--f--", 2, false },
};

static CoreStandin
standin_of (PlanCase *c)
{
  CoreStandin out;
  CorePlanInput in = { .state = &c->state, .profile = &c->profile, .forecast = &c->forecast, .verdict = &c->verdict,
                       .today = TODAY, .from = TODAY + 1, .to = TODAY + DAYS };

  g_assert_cmpint (core_standin (&in, &out), ==, CORE_OK);
  return out;
}

static void
days_of (const CoreStandin *sheet, char text[DAYS + 1])
{
  for (int i = 0; i < DAYS; i++)
    text[i] = sheet->days[i].closed ? (sheet->days[i].feed ? 'X' : 'x') : sheet->days[i].feed ? 'f' : '-';
  text[DAYS] = '\0';
}

static void
test_case (gconstpointer data)
{
  const Case *c = data;
  PlanCase animal;
  CoreStandin sheet;
  char days[DAYS + 1];

  plan_case_init (&animal, c->group, c->moults);
  for (size_t i = 0; i < G_N_ELEMENTS (c->say) && c->say[i] != NULL; i++)
    plan_case_say (&animal, TODAY - (CoreDay) g_ascii_strtoll (c->say[i], NULL, 10), strchr (c->say[i], '|') + 1);
  plan_case_run (&animal);
  sheet = standin_of (&animal);
  days_of (&sheet, days);
  g_assert_cmpstr (days, ==, c->days);
  g_assert_cmpint (sheet.rest_days, ==, c->rest);
  g_assert_cmpint (sheet.until_moult, ==, c->until_moult);
  g_assert_cmpint (sheet.fed_before, ==, c->fed_before);
  g_assert_false (sheet.flies_always);
  g_assert_cmpint (sheet.prey, >=, 0);
  g_assert_cmpint (sheet.n, >=, 1);
  g_assert_false (sheet.take_out);
  plan_case_clear (&animal);
}

/* A cricket for a change, and a small fly after two refusals, are no food for a week; where nothing
 * but what bites fits, it is said to come out again. */
static void
test_prey (void)
{
  PlanCase c;
  CoreStandin sheet;
  int usual;

  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY, "measured|what=body|mm=50");
  plan_case_run (&c);
  usual = standin_of (&c).prey;
  g_assert_cmpstr (core_prey_name (usual), ==, "moth");
  for (int i = 1; i <= 3; i++)
    plan_case_say (&c, TODAY - 3 * i, "fed|prey=moth|outcome=taken");
  plan_case_run (&c);
  g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED)->prey[0].prey, !=, usual);
  sheet = standin_of (&c);
  g_assert_cmpint (sheet.prey, ==, usual);
  g_assert_cmpint (sheet.n, >=, 1);
  for (int i = 0; i < 2; i++)
    plan_case_say (&c, TODAY - i, "fed|prey=moth|outcome=refused");
  plan_case_say (&c, TODAY, "belly|score=2");
  plan_case_run (&c);
  g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED)->prey[0].prey, !=, usual);
  g_assert_cmpint (standin_of (&c).prey, ==, usual);
  c.profile.avoid_prey = ~(1u << CORE_PREY_CRICKET);
  sheet = standin_of (&c);
  g_assert_cmpint (sheet.prey, ==, CORE_PREY_CRICKET);
  g_assert_true (sheet.take_out);
  plan_case_clear (&c);
}

/* Hatchlings: flies on every day, and no closed day whatever sign was seen. */
static void
test_lot (void)
{
  PlanCase c;
  CoreStandin sheet;
  char days[DAYS + 1];

  plan_case_init (&c, CORE_GROUP_HARDY, 0);
  c.kind = CORE_SUBJECT_LOT;
  plan_case_say (&c, TODAY, "sign|sign=hanging");
  plan_case_run (&c);
  sheet = standin_of (&c);
  days_of (&sheet, days);
  g_assert_true (sheet.flies_always);
  g_assert_cmpstr (days, ==, "fffffff");
  g_assert_cmpint (sheet.rest_days, ==, 0);
  plan_case_clear (&c);
}

/* Of a stage that nobody knows the longest rest of a nymph is taken. */
static void
test_stage_unknown (void)
{
  PlanCase c;

  plan_case_init (&c, CORE_GROUP_HUMID, -1);
  plan_case_run (&c);
  g_assert_cmpint (standin_of (&c).rest_days, ==, 2);
  plan_case_clear (&c);
}

static void
test_too_long (void)
{
  PlanCase c;
  CoreStandin out;
  CorePlanInput in;

  plan_case_init (&c, CORE_GROUP_HARDY, 4);
  plan_case_run (&c);
  in = (CorePlanInput){ .state = &c.state, .profile = &c.profile, .forecast = &c.forecast, .verdict = &c.verdict,
                        .today = TODAY, .from = TODAY, .to = TODAY + CORE_STANDIN_DAYS };
  g_assert_cmpint (core_standin (&in, &out), ==, CORE_BAD_INPUT);
  in.to = TODAY - 1;
  g_assert_cmpint (core_standin (&in, &out), ==, CORE_BAD_INPUT);
  plan_case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strconcat ("/core/standin/", cases[i].name, NULL);

      g_test_add_data_func (path, &cases[i], test_case);
    }
  g_test_add_func ("/core/standin/prey", test_prey);
  g_test_add_func ("/core/standin/lot", test_lot);
  g_test_add_func ("/core/standin/stage-unknown", test_stage_unknown);
  g_test_add_func ("/core/standin/too-long", test_too_long);
  return g_test_run ();
}
