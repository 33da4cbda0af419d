/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-feed.c — when food is offered, and what holds it back.
 *
 * All intervals and holds are common practice, no source: the starting values
 * of the four groups. What is checked is that the rules follow them.
 */
#include <glib.h>
#include <string.h>

#include "plan-case.h"

static const CoreTask *
feed_due (PlanCase *c, CoreDay due)
{
  c->to = TODAY + 30;
  plan_case_run (c);
  const CoreTask *task = plan_case_task (c, CORE_TASK_FEED);
  g_assert_nonnull (task);
  g_assert_cmpint (task->due - TODAY, ==, due - TODAY);
  return task;
}

/* Days until the next offer after one, by group and stage. */
static const struct
{
  CoreGroup group;
  int moults;
  const char *seen;
  double male;
  int a, b;
} FEED[] = {
  { CORE_GROUP_HARDY, 1, NULL, .5, 1, 2 },
  { CORE_GROUP_HARDY, 3, NULL, .5, 2, 3 },
  { CORE_GROUP_HARDY, 4, NULL, .5, 3, 4 },
  { CORE_GROUP_HARDY, 6, "stage|seen=subadult", .5, 3, 4 },
  { CORE_GROUP_HARDY, 8, "stage|seen=adult", .05, 3, 4 },
  { CORE_GROUP_HARDY, 8, "stage|seen=adult", .95, 4, 6 },
  { CORE_GROUP_HARDY, 8, "stage|seen=adult", .5, 3, 4 },
  { CORE_GROUP_HUMID, 4, NULL, .5, 2, 3 },
  { CORE_GROUP_HUMID, 8, "stage|seen=adult", .95, 3, 4 },
  { CORE_GROUP_DRY_HOT, 2, NULL, .5, 1, 2 },
  { CORE_GROUP_IDOLOMANTIS, 5, NULL, .5, 2, 3 },
  { CORE_GROUP_HARDY, -1, NULL, .5, 2, 3 },
};

/* Entered as thin, without two refusals: food comes forward, small and soft. */
static void
test_thin_by_trouble (void)
{
  PlanCase c;
  const CoreTask *task;

  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 1, "fed|prey=house fly|outcome=taken");
  plan_case_run (&c);
  g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED) == NULL ||
                     plan_case_task (&c, CORE_TASK_FEED)->due > TODAY, ==, TRUE);
  plan_case_say (&c, TODAY, "trouble|what=thin");
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_nonnull (task);
  g_assert_cmpint (task->due, ==, TODAY);
  g_assert_cmpint (plan_task_reason (task, "feed.thin_first")->code, ==, 3);
  plan_case_clear (&c);
}

static void
test_feed_interval (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (FEED); i++)
    {
      PlanCase c;
      plan_case_init (&c, FEED[i].group, FEED[i].moults);
      c.verdict.male = FEED[i].male;
      c.verdict.female = 1 - FEED[i].male;
      if (FEED[i].seen)
        plan_case_say (&c, TODAY - 30, FEED[i].seen);
      plan_case_say (&c, TODAY - 1, "fed|prey=house fly|n=2");
      const CoreTask *task = feed_due (&c, TODAY - 1 + FEED[i].a);
      g_assert_cmpint (task->latest - (TODAY - 1), ==, FEED[i].b);
      g_assert_cmpint (task->reach, ==, CORE_REACH_OPEN);
      const CoreReason *why = plan_task_reason (task, "feed.interval");
      g_assert_nonnull (why);
      g_assert_cmpint (why->day, ==, TODAY - 1);
      g_assert_cmpfloat (why->value, ==, FEED[i].a);
      g_assert_cmpuint (why->n_entries, ==, 1);
      plan_case_clear (&c);
    }
}

static void
test_feed_moves (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  const CoreTask *task = feed_due (&c, TODAY - 40); /* never fed since it came */
  g_assert_nonnull (plan_task_reason (task, "feed.never"));
  plan_case_say (&c, TODAY - 10, "fed|prey=house fly");
  feed_due (&c, TODAY - 7);
  plan_case_say (&c, TODAY, "fed|prey=house fly");
  feed_due (&c, TODAY + 3);
  plan_case_say (&c, TODAY, "set|key=interval.feed|value=5-6");
  task = feed_due (&c, TODAY + 5);
  g_assert_nonnull (plan_task_reason (task, "feed.own_interval"));
  plan_case_say (&c, TODAY, "set|key=interval.feed|value=often"); /* nonsense changes nothing */
  feed_due (&c, TODAY + 3);
  plan_case_clear (&c);
}

static void
test_feed_refused (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 8);
  plan_case_say (&c, TODAY - 20, "stage|seen=adult");
  plan_case_say (&c, TODAY - 6, "fed|outcome=taken|prey=locust");
  plan_case_say (&c, TODAY, "fed|outcome=refused|prey=locust");
  const CoreTask *task = feed_due (&c, TODAY + 2);
  g_assert_nonnull (plan_task_reason (task, "feed.refused"));
  const CoreReason *taken = plan_task_reason (task, "feed.last_taken");
  g_assert_nonnull (taken);
  g_assert_cmpint (taken->day, ==, TODAY - 6);
  g_assert_cmpint (taken->code, ==, CORE_PREY_LOCUST);
  plan_case_clear (&c);
}

/* Belly score, days since it, gravid, due after an offer one day ago (every 3–4). */
static const struct
{
  int score, ago;
  bool gravid;
  int due;
} BELLY[] = {
  { 3, 0, false, 2 }, { 4, 0, false, 3 }, { 5, 1, false, 2 },
  { 1, 0, false, 0 }, { 1, 4, false, 2 }, { 5, 0, true, 0 },
};

static void
test_feed_belly (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (BELLY); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      g_autofree char *text = g_strdup_printf ("belly|score=%d", BELLY[i].score);
      plan_case_say (&c, TODAY - 1, "fed|prey=house fly");
      plan_case_say (&c, TODAY - BELLY[i].ago, text);
      if (BELLY[i].gravid)
        plan_case_say (&c, TODAY - 2, "set|key=gravid|value=yes");
      feed_due (&c, TODAY + BELLY[i].due);
      plan_case_clear (&c);
    }
}

/* Belly 1, then meals: every row is a journal of up to four entries by days ago, and when
 * the next offer is due, in days from today (every 3–4 days). */
static const struct
{
  struct
  {
    int ago;
    const char *text;
  } said[4];
  int range, due;
} THIN[] = {
  { { { 0, "belly|score=1" }, { 0, "fed|prey=hydei" } }, 99, 1 },
  { { { 1, "belly|score=1" }, { 1, "fed|prey=hydei" } }, 99, 0 },
  { { { 0, "belly|score=1" }, { 1, "fed|prey=hydei" } }, 99, 0 },
  { { { 0, "belly|score=1" }, { 0, "fed|prey=hydei|outcome=refused" } }, 99, 1 },
  { { { 0, "belly|score=1" }, { 0, "fed|prey=hydei|outcome=taken" } }, 99, 3 },
  { { { 1, "belly|score=1" }, { 1, "fed|prey=hydei" }, { 0, "gone" } }, 99, 2 },
  { { { 0, "belly|score=1" }, { 0, "done|rule=feed" } }, 99, 1 },
  /* Refused twice: another prey the same day; that one refused too, or left in: tomorrow. */
  { { { 2, "fed|outcome=refused" }, { 0, "fed|outcome=refused" }, { 0, "belly|score=2" } }, -2, 0 },
  { { { 2, "fed|outcome=refused" }, { 0, "fed|outcome=refused" }, { 0, "fed|prey=hydei" } },
    -2,
    1 },
  { { { 2, "fed|outcome=refused" },
      { 1, "fed|outcome=refused" },
      { 0, "belly|score=2" },
      { 0, "fed|prey=hydei|outcome=refused" } },
    -2,
    1 },
  { { { 3, "fed|outcome=refused" },
      { 2, "fed|outcome=refused" },
      { 0, "belly|score=2" },
      { 0, "fed|prey=hydei|outcome=taken" } },
    -2,
    3 },
  { { { 0, "trouble|what=thin" },
      { 4, "fed|outcome=refused" },
      { 2, "fed|outcome=refused" },
      { 0, "fed|prey=hydei" } },
    20,
    1 },
};

/* Feeding an animal moves its next feed, also of a thin one. */
static void
test_feed_thin (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (THIN); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      for (int k = 0; k < 4 && THIN[i].said[k].text; k++)
        plan_case_say (&c, TODAY - THIN[i].said[k].ago, THIN[i].said[k].text);
      if (THIN[i].range != 99)
        plan_case_range (&c, TODAY + THIN[i].range, TODAY + THIN[i].range + 20);
      g_test_message ("row %zu", i);
      feed_due (&c, TODAY + THIN[i].due);
      plan_case_clear (&c);
    }
}

/* Two refusals: belly (0 = never scored), how long ago, range, and what follows. */
static const struct
{
  int moults;
  const char *seen;
  int belly, belly_ago, range, second_ago;
  const char *held, *reason;
} REFUSALS[] = {
  { 5, NULL, 4, 0, -2, 0, "hold.two_refusals", NULL },
  { 5, NULL, 3, 1, -2, 0, "hold.two_refusals", NULL },
  { 5, NULL, 2, 0, -2, 0, NULL, "feed.thin_first" },
  { 5, NULL, 1, 0, -2, 0, NULL, "feed.thin_first" },
  { 5, NULL, 0, 0, -2, 0, NULL, "feed.thin_first" }, /* never scored: not known */
  { 5, NULL, 4, 8, -2, 0, NULL, "feed.thin_first" }, /* not known for days */
  { 5, NULL, 4, 4, -2, 0, NULL, "feed.refused" },    /* out of date: as planned */
  { 5, NULL, 4, 0, 20, 0, NULL, "prey.smaller_first" },
  { 5, NULL, 4, 0, -2, 3, "hold.two_refusals", NULL },
  { 5, NULL, 4, 0, -2, 4, NULL, "feed.after_longest_hold" },
  { 2, NULL, 4, 0, -2, 1, "hold.two_refusals", NULL },
  { 2, NULL, 4, 0, -2, 2, NULL, "feed.after_longest_hold" },
  { 7, "stage|seen=subadult", 4, 0, -2, 9, "hold.two_refusals", NULL },
  { 7, "stage|seen=subadult", 4, 0, -2, 10, NULL, "feed.after_longest_hold" },
  { 8, "stage|seen=adult", 4, 0, 99, 0, NULL, "feed.refused" },
};

static void
test_two_refusals (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (REFUSALS); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, REFUSALS[i].moults);
      if (REFUSALS[i].seen)
        plan_case_say (&c, TODAY - 35, REFUSALS[i].seen);
      plan_case_say (&c, TODAY - 20, "fed|outcome=taken|prey=house fly");
      plan_case_say (&c, TODAY - REFUSALS[i].second_ago - 2,
                     "fed|outcome=refused|prey=green bottle");
      plan_case_say (&c, TODAY - REFUSALS[i].second_ago, "fed|outcome=refused|prey=green bottle");
      if (REFUSALS[i].belly)
        {
          g_autofree char *text = g_strdup_printf ("belly|score=%d", REFUSALS[i].belly);
          plan_case_say (&c, TODAY - REFUSALS[i].belly_ago, text);
        }
      if (REFUSALS[i].range != 99)
        plan_case_range (&c, TODAY + REFUSALS[i].range, TODAY + REFUSALS[i].range + 20);
      c.to = TODAY + 20;
      plan_case_run (&c);
      const CoreHeld *held = plan_case_held (&c, CORE_TASK_FEED);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_FEED);
      if (REFUSALS[i].held)
        {
          g_assert_nonnull (held);
          g_assert_nonnull (plan_held_reason (held, REFUSALS[i].held));
          g_assert_nonnull (plan_held_reason (held, "hold.belly_round"));
          g_assert_cmpint (held->until, !=, CORE_DAY_NONE);
          g_assert_true (!task || task->due > held->until);
        }
      else
        {
          g_assert_null (held);
          g_assert_nonnull (task);
          g_assert_nonnull (plan_task_reason (task, REFUSALS[i].reason));
        }
      if (REFUSALS[i].reason && !strcmp (REFUSALS[i].reason, "feed.thin_first"))
        {
          g_assert_cmpint (task->due, <=, TODAY);
          g_assert_cmpint (task->prey[0].n, ==, 1);
        }
      /* Where the belly is not known, a look asks for it. */
      if (REFUSALS[i].belly == 0 || REFUSALS[i].belly_ago > 3)
        g_assert_nonnull (plan_task_reason (plan_case_task (&c, CORE_TASK_LOOK), "look.belly"));
      plan_case_clear (&c);
    }
}

/* A moult with or without a second sign: what thin may and may not overrule. */
static void
test_thin_beats_held (void)
{
  static const struct
  {
    const char *sign, *second;
    int range;
    bool food;
  } rows[] = {
    { "sign|sign=hanging", "sign|sign=dull", 20, true },
    { "sign|sign=hanging", "sign|sign=dull", -1, false },
    { "sign|sign=pumping", NULL, 20, false },
    { "sign|sign=splitting", NULL, 20, false },
  };
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      plan_case_say (&c, TODAY, "belly|score=2");
      plan_case_say (&c, TODAY, rows[i].sign);
      if (rows[i].second)
        plan_case_say (&c, TODAY, rows[i].second);
      plan_case_range (&c, TODAY + rows[i].range, TODAY + 30);
      plan_case_run (&c);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_FEED);
      g_assert_true (c.plan.thin);
      g_assert_cmpint (task != NULL, ==, rows[i].food);
      g_assert_cmpint (plan_case_held (&c, CORE_TASK_FEED) == NULL, ==, rows[i].food);
      if (task)
        g_assert_nonnull (plan_task_reason (task, "feed.thin_first"));
      plan_case_clear (&c);
    }
}

/* Hanging and refusing: no food while the belly is not known; prey comes out. */
static void
test_hanging_refuses (void)
{
  static const struct
  {
    const char *said[4];
    int range; /* 99 = no forecast */
    bool food, take_out;
  } rows[] = {
    { { "fed|outcome=refused|prey=cricket", "sign|sign=hanging" }, -2, false, true },
    { { "fed|outcome=refused|prey=cricket", "sign|sign=hanging" }, 12, false, true },
    { { "fed|outcome=refused|prey=hydei", "sign|sign=hanging" }, -2, false, false },
    { { "fed|outcome=refused", "fed|outcome=refused", "sign|sign=hanging" }, 12, false, true },
    { { "fed|outcome=refused", "fed|outcome=refused", "sign|sign=hanging" }, -2, false, true },
    { { "fed|outcome=refused", "fed|outcome=refused", "sign|sign=hanging" }, 99, false, true },
    { { "sign|sign=hanging", "belly|score=2" }, -2, false, false },
    { { "sign|sign=hanging", "belly|score=2" }, 99, false, false },
    { { "sign|sign=hanging", "belly|score=2", "sign|sign=dull" }, 12, true, false },
    { { "sign|sign=hanging", "belly|score=2", "sign|sign=dull", "fed|prey=roach" },
      12,
      false,
      true },
    { { "sign|sign=pumping", "fed" }, 12, false, true },
    { { "sign|sign=pumping", "fed|outcome=taken" }, 12, false, false },
  };
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      plan_case_say (&c, TODAY - 6, "fed|outcome=taken|prey=moth");
      for (int k = 0; k < 4 && rows[i].said[k]; k++)
        plan_case_say (&c, TODAY, rows[i].said[k]);
      if (rows[i].range != 99)
        plan_case_range (&c, TODAY + rows[i].range, TODAY + rows[i].range + 20);
      c.to = TODAY + 10;
      plan_case_run (&c);
      g_test_message ("row %zu", i);
      g_assert_cmpint (c.plan.hold.kind, ==, CORE_HOLD_BEFORE);
      g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED) != NULL, ==, rows[i].food);
      g_assert_cmpint (plan_case_held (&c, CORE_TASK_FEED) == NULL, ==, rows[i].food);
      g_assert_cmpint (plan_case_task (&c, CORE_TASK_TAKE_OUT) != NULL, ==, rows[i].take_out);
      g_assert_nonnull (plan_case_task (&c, CORE_TASK_LOOK));
      for (size_t k = 0; k < c.plan.tasks.n; k++)
        if (c.plan.tasks.v[k].kind == CORE_TASK_FEED)
          g_assert_false (c.plan.tasks.v[k].projected);
      plan_case_clear (&c);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/care/feed/thin-by-trouble", test_thin_by_trouble);
  g_test_add_func ("/feed/interval", test_feed_interval);
  g_test_add_func ("/feed/feeding-moves-the-next", test_feed_moves);
  g_test_add_func ("/feed/refused", test_feed_refused);
  g_test_add_func ("/feed/belly", test_feed_belly);
  g_test_add_func ("/feed/thin", test_feed_thin);
  g_test_add_func ("/hold/two-refusals", test_two_refusals);
  g_test_add_func ("/hold/thin-beats-held", test_thin_beats_held);
  g_test_add_func ("/hold/hanging-refuses", test_hanging_refuses);
  return g_test_run ();
}
