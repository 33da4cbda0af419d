/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-plan-moult.c — what the plan makes of a range that is over, of a moult that most likely
 * comes no more, and of what is no sign of one. */
#include <string.h>

#include "core/core-reason-ids.h"
#include "plan-case.h"

/* A refusal is a moult sign at belly 3 to 5 or where it was not known: for the forecast, the hold
 * and the prey alike. */
static const struct
{
  int score; /* 0 = never scored */
  int ago;   /* days before the refusal */
  bool sign;
} THIN[] = {
  { 0, 0, true }, { 2, 0, false }, { 1, 3, false }, { 2, 4, true }, { 3, 0, true }, { 5, 1, true },
};

static void
test_thin_refuses (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (THIN); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      plan_case_range (&c, TODAY + 20, TODAY + 30);
      plan_case_say (&c, TODAY - 12, "fed|outcome=taken|prey=moth");
      if (THIN[i].score > 0)
        {
          g_autofree char *belly = g_strdup_printf ("belly|score=%d", THIN[i].score);
          plan_case_say (&c, TODAY - 1 - THIN[i].ago, belly);
        }
      plan_case_say (&c, TODAY - 1, "fed|outcome=refused|prey=cricket");
      plan_case_run (&c);
      const CoreTask *out = plan_case_task (&c, CORE_TASK_TAKE_OUT);
      g_assert_nonnull (out);
      g_assert_cmpint (plan_task_reason (out, "take_out.sign") != NULL, ==, THIN[i].sign);
      g_assert_cmpint (out->latest, ==, THIN[i].sign ? TODAY - 1 : TODAY);
      plan_case_say (&c, TODAY, "sign|sign=hanging");
      plan_case_run (&c);
      /* A round belly beside the hanging holds by itself. */
      bool held = THIN[i].sign || THIN[i].score >= 4;
      g_assert_cmpint (c.plan.hold.kind, ==, held ? CORE_HOLD_BEFORE : CORE_HOLD_NONE);
      plan_case_clear (&c);
    }
}

/* Inside and after its range the sex is not checked; once a moult most likely comes no more, it
 * is, and the look asks what may be wrong. */
static void
test_no_moult_for_ever (void)
{
  static const struct
  {
    double not_normal;
    CoreDoubt doubt;
    bool held;
    const char *why;
  } rows[] = {
    { .03, CORE_DOUBT_ADULT, true, "look.in_range" },
    { .5, CORE_DOUBT_ADULT, true, "look.in_range" },
    { .51, CORE_DOUBT_ADULT, false, "look.doubt" },
    { .99, CORE_DOUBT_MISSED, false, "look.doubt" },
  };

  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PlanCase c;
      const CoreTask *look;
      const CoreReason *why;

      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      plan_case_range (&c, TODAY - 60, TODAY - 40);
      c.forecast.not_normal = rows[i].not_normal;
      c.forecast.doubt = rows[i].doubt;
      c.to = TODAY + 3;
      plan_case_run (&c);
      g_assert_cmpint (plan_case_held (&c, CORE_TASK_SEX_CHECK) != NULL, ==, rows[i].held);
      g_assert_cmpint (plan_case_task (&c, CORE_TASK_SEX_CHECK) != NULL, ==, !rows[i].held);
      look = plan_case_task (&c, CORE_TASK_LOOK);
      g_assert_nonnull (look);
      why = plan_task_reason (look, rows[i].why);
      g_assert_nonnull (why);
      g_assert_cmpint (why->day2, ==, TODAY - 40);
      if (!rows[i].held)
        {
          g_assert_cmpint (why->code, ==, rows[i].doubt);
          g_assert_null (plan_task_reason (look, "look.in_range"));
        }
      plan_case_clear (&c);
    }
}

/* Moulted out of a stage seen as sub-adult: the wings are asked for, once. */
static void
test_wings_once (void)
{
  PlanCase c;
  const CoreTask *look;
  int asked = 0;

  plan_case_init (&c, CORE_GROUP_HARDY, 6);
  plan_case_say (&c, TODAY - 30, "stage|seen=subadult");
  plan_case_say (&c, TODAY - 12, "moulted");
  plan_case_range (&c, TODAY - 3, TODAY + 8);
  c.forecast.not_normal = .9;
  c.forecast.probably_adult = true;
  c.forecast.doubt = CORE_DOUBT_WINGS;
  plan_case_run (&c);
  look = plan_case_task (&c, CORE_TASK_LOOK);
  g_assert_nonnull (look);
  for (size_t i = 0; i < look->n_reasons; i++)
    asked += strcmp (look->reasons[i].rule, "look.wings") == 0;
  g_assert_cmpint (asked, ==, 1);
  g_assert_null (plan_task_reason (look, "look.doubt"));
  plan_case_clear (&c);
}

/* Its moult has probably come already: no day for moving it is given before a look. */
static void
test_home_waits_for_a_look (void)
{
  PlanCase c;

  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 39, "housed|height_mm=60");
  plan_case_range (&c, TODAY - 60, TODAY - 40);
  c.forecast.p10 = TODAY - 58;
  c.forecast.p90 = TODAY - 39;
  c.to = TODAY + 3;
  plan_case_run (&c);
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_HOME));
  c.forecast.probably_moulted = true;
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_HOME));
  plan_case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan-moult/thin-refuses", test_thin_refuses);
  g_test_add_func ("/plan-moult/no-moult-for-ever", test_no_moult_for_ever);
  g_test_add_func ("/plan-moult/wings-once", test_wings_once);
  g_test_add_func ("/plan-moult/home-waits-for-a-look", test_home_waits_for_a_look);
  return g_test_run ();
}
