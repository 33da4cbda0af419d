/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-separate.c — when lot-mates are to be parted. */
#include "plan-case.h"

typedef struct
{
  const char *name;
  int moults;
  gboolean communal;
  const char *said; /* yesterday; NULL = nothing */
  const char *rule; /* the reason wanted; NULL = no task */
} Row;

static const Row rows[] = {
  { "hatchlings, all well", 0, FALSE, NULL, NULL },
  { "one stage before", 1, FALSE, NULL, NULL },
  { "at the stage of the kind", 2, FALSE, NULL, "separate.stage" },
  { "past it", 3, FALSE, NULL, "separate.stage" },
  { "a communal kind at that stage", 3, TRUE, NULL, NULL },
  { "a body", 1, FALSE, "died|n=1", "separate.body" },
  { "a body among communal ones", 3, TRUE, "died|n=2", "separate.body" },
  { "food out of view", 1, FALSE, "fed|outcome=none_in_view", "separate.no_food" },
  { "food out of view of communal ones", 1, TRUE, "fed|outcome=none_in_view", NULL },
  { "fed again", 1, FALSE, "fed|prey=melanogaster", NULL },
  { "sold is no body", 1, FALSE, "left|n=4|how=sold", NULL },
  { "one alone", 3, FALSE, "recounted|n=1", NULL },
  { "about one", 3, FALSE, "recounted|n=1|counted=no", "separate.stage" },
  { "done since", 3, FALSE, "done|rule=separate", NULL },
};

static void
begin (PlanCase *c, const Row *row)
{
  plan_case_init (c, CORE_GROUP_HARDY, row->moults);
  c->kind = CORE_SUBJECT_LOT;
  c->profile.communal = row->communal;
  g_assert_cmpint (c->profile.split_moults, ==, 2);
  plan_case_say (c, TODAY - 20, "recounted|n=30");
}

static void
test_table (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const CoreTask *task;
      PlanCase c;

      g_test_message ("%s", rows[i].name);
      begin (&c, &rows[i]);
      if (rows[i].said != NULL)
        plan_case_say (&c, TODAY - 1, rows[i].said);
      plan_case_run (&c);
      task = plan_case_task (&c, CORE_TASK_SEPARATE);
      g_assert_cmpint (task != NULL, ==, rows[i].rule != NULL);
      if (task != NULL)
        {
          g_assert_nonnull (plan_task_reason (task, rows[i].rule));
          g_assert_cmpint (task->reach, ==, CORE_REACH_TOUCH);
        }
      plan_case_clear (&c);
    }
}

/* Done after one body, asked again after the next. */
static void
test_asked_again (void)
{
  PlanCase c;

  begin (&c, &rows[1]);
  plan_case_say (&c, TODAY - 2, "died|n=1");
  plan_case_say (&c, TODAY - 2, "done|rule=separate");
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_SEPARATE));
  plan_case_say (&c, TODAY, "died|n=1");
  plan_case_run (&c);
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_SEPARATE));
  plan_case_clear (&c);
}

/* An animal is never asked to be separated; a lot with none left has no task at all. */
static void
test_others (void)
{
  PlanCase c;

  plan_case_init (&c, CORE_GROUP_HARDY, 4);
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_SEPARATE));
  plan_case_clear (&c);
  begin (&c, &rows[3]);
  plan_case_say (&c, TODAY - 1, "died|n=30");
  plan_case_run (&c);
  g_assert_cmpuint (c.plan.tasks.n, ==, 0);
  plan_case_clear (&c);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/separate/table", test_table);
  g_test_add_func ("/plan/separate/asked-again", test_asked_again);
  g_test_add_func ("/plan/separate/others", test_others);
  return g_test_run ();
}
