/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-plan.c — leave alone, looks, and how the plan treats its tasks.
 *
 * All intervals and holds are common practice, no source: the starting values
 * of the four groups. What is checked is that the rules follow them.
 */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "core/core-reason-ids.h"
#include "plan-case.h"

static void
test_pumping (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 10, "fed|prey=house fly");
  plan_case_run (&c);
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_FEED));
  g_assert_cmpint (c.plan.hold.kind, ==, CORE_HOLD_NONE);
  plan_case_say (&c, TODAY, "sign|sign=pumping");
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_FEED));
  const CoreHeld *held = plan_case_held (&c, CORE_TASK_FEED);
  g_assert_nonnull (held);
  g_assert_nonnull (plan_held_reason (held, "hold.pumping"));
  g_assert_cmpint (held->until, ==, CORE_DAY_NONE);
  g_assert_cmpint (held->ask_again, ==, TODAY + 1);
  g_assert_cmpint (c.plan.hold.kind, ==, CORE_HOLD_BEFORE);
  g_assert_cmpint (c.plan.hold.since, ==, TODAY);
  /* The look stays, through the wall; and misting outside. */
  c.to = TODAY + 1;
  plan_case_run (&c);
  g_assert_cmpint (plan_case_task (&c, CORE_TASK_LOOK)->reach, ==, CORE_REACH_LOOK);
  g_assert_nonnull (plan_task_reason (plan_case_task (&c, CORE_TASK_MIST), "mist.far_wall"));
  plan_case_clear (&c);
}

/* A hold lapses two days after the sign was last seen; then a look asks. */
static void
test_hold_lapses (void)
{
  PlanCase c;
  for (int ago = 0; ago <= 3; ago++)
    {
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      plan_case_say (&c, TODAY - ago, "sign|sign=hanging");
      plan_case_run (&c);
      g_assert_cmpint (c.plan.hold.kind, ==, ago < 2 ? CORE_HOLD_BEFORE : CORE_HOLD_NONE);
      const CoreTask *look = plan_case_task (&c, CORE_TASK_LOOK);
      if (ago >= 2)
        g_assert_nonnull (plan_task_reason (look, "look.after_hold"));
      plan_case_clear (&c);
    }
}

/* Signs, whether the range has begun (-1: none), and what holds. */
static const struct
{
  const char *signs[3];
  int range; /* first day of the range, from today; 99 = no forecast */
  const char *rule;
} HOLDS[] = {
  { { "sign|sign=hanging" }, -1, "hold.hanging_in_range" },
  { { "sign|sign=hanging" }, 0, "hold.hanging_in_range" },
  { { "sign|sign=hanging" }, 20, NULL },
  { { "sign|sign=hanging" }, 99, "hold.hanging_range_unknown" },
  { { "sign|sign=hanging", "sign|sign=dull" }, 20, "hold.hanging_second_sign" },
  { { "sign|sign=hanging", "fed|outcome=refused|prey=moth" }, 20, "hold.hanging_second_sign" },
  { { "sign|sign=hanging", "belly|score=4" }, 20, "hold.hanging_round_belly" },
  { { "sign|sign=hanging", "belly|score=3" }, 20, NULL },
  { { "sign|sign=hanging", "sign|sign=sluggish" }, 20, NULL },
  { { "sign|sign=sluggish", "sign|sign=dull" }, -1, NULL },
  { { "sign|sign=splitting" }, 20, "hold.splitting" },
  { { "sign|sign=pumping" }, 20, "hold.pumping" },
};

static void
test_what_holds (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (HOLDS); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      plan_case_say (&c, TODAY - 10, "fed|prey=house fly");
      for (int k = 0; k < 3 && HOLDS[i].signs[k]; k++)
        plan_case_say (&c, TODAY, HOLDS[i].signs[k]);
      if (HOLDS[i].range != 99)
        plan_case_range (&c, TODAY + HOLDS[i].range, TODAY + HOLDS[i].range + 8);
      if (!strcmp (HOLDS[i].rule ? HOLDS[i].rule : "", "hold.hanging_second_sign"))
        plan_case_say (&c, TODAY, "belly|score=3");
      c.to = TODAY + 10;
      plan_case_run (&c);
      const CoreHeld *held = plan_case_held (&c, CORE_TASK_FEED);
      g_assert_cmpint (c.plan.hold.kind, ==, HOLDS[i].rule ? CORE_HOLD_BEFORE : CORE_HOLD_NONE);
      if (HOLDS[i].rule)
        {
          g_assert_nonnull (held);
          g_assert_nonnull (plan_held_reason (held, HOLDS[i].rule));
          g_assert_null (plan_case_task (&c, CORE_TASK_FEED));
        }
      else
        g_assert_nonnull (plan_case_task (&c, CORE_TASK_FEED));
      plan_case_clear (&c);
    }
}

/* First free days after a moult found today, last look four days ago, by the
 * stage reached: the table of the groups. Middle of the window for m <= 3. */
static const struct
{
  CoreGroup group;
  int before;
  const char *to;
  int touch, food; /* first free day, from the day found */
} HARD[] = {
  { CORE_GROUP_HARDY, 2, NULL, 1, -1 },          { CORE_GROUP_HARDY, 3, NULL, 2, 2 },
  { CORE_GROUP_HARDY, 6, "|to=subadult", 3, 2 }, { CORE_GROUP_HARDY, 7, "|to=adult", 5, 3 },
  { CORE_GROUP_HUMID, 4, NULL, 3, 2 },           { CORE_GROUP_HUMID, 7, "|to=adult", 7, 4 },
  { CORE_GROUP_DRY_HOT, 4, NULL, 2, 1 },         { CORE_GROUP_DRY_HOT, 6, "|to=subadult", 4, 2 },
  { CORE_GROUP_IDOLOMANTIS, 1, NULL, 2, -1 },    { CORE_GROUP_IDOLOMANTIS, 7, "|to=adult", 7, 4 },
};

static void
test_after_moult (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (HARD); i++)
    for (int days = 0; days <= 8; days++)
      {
        PlanCase c;
        CoreDay found = TODAY - days;
        g_autofree char *text = g_strconcat ("moulted", HARD[i].to, NULL);
        plan_case_init (&c, HARD[i].group, HARD[i].before);
        plan_case_say (&c, found - 9, "fed|outcome=taken|prey=hydei");
        plan_case_say (&c, found - 4, "looked");
        plan_case_say (&c, found, text);
        c.to = TODAY + 10;
        plan_case_run (&c);
        bool touch = days < HARD[i].touch, food = days < HARD[i].food;
        g_assert_cmpint (c.plan.hold.kind, ==, touch || food ? CORE_HOLD_AFTER : CORE_HOLD_NONE);
        g_assert_cmpint (plan_case_held (&c, CORE_TASK_FEED) != NULL, ==, food);
        if (touch)
          g_assert_cmpint (c.plan.hold.touch_until + 1 - found, ==, HARD[i].touch);
        if (touch && !food)
          {
            g_assert_cmpint (c.plan.hold.reach, ==, CORE_REACH_TOUCH);
            g_assert_cmpint (c.plan.hold.until, ==, c.plan.hold.touch_until);
          }
        if (food)
          {
            /* The lid may be lifted again on the day on which food is due. */
            g_assert_cmpint (c.plan.hold.reach, ==, CORE_REACH_OPEN);
            g_assert_cmpint (c.plan.hold.until + 1 - found, ==, HARD[i].food);
            g_assert_cmpint (plan_case_held (&c, CORE_TASK_FEED)->until + 1 - found, ==,
                             HARD[i].food);
            g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED)->due - found, ==, HARD[i].food);
          }
        plan_case_clear (&c);
      }
}

/* A meal taken after the earliest day ends the hold on food, not that on touching. */
static void
test_meal_ends_hold (void)
{
  static const struct
  {
    int found_ago, taken_ago;
    bool ends;
  } rows[] = { { 1, 0, true }, { 0, 1, true }, { 0, 3, false }, { 0, 9, false } };
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PlanCase c;
      g_autofree char *moult =
        g_strdup_printf ("moulted|to=subadult|earliest=%d", TODAY - rows[i].found_ago - 3);
      plan_case_init (&c, CORE_GROUP_HARDY, 6);
      plan_case_say (&c, TODAY - rows[i].found_ago, moult);
      plan_case_run (&c);
      g_assert_nonnull (plan_case_held (&c, CORE_TASK_FEED));
      plan_case_say (&c, TODAY - rows[i].taken_ago, "fed|outcome=taken|prey=moth");
      plan_case_run (&c);
      g_assert_cmpint (plan_case_held (&c, CORE_TASK_FEED) == NULL, ==, rows[i].ends);
      g_assert_cmpint (c.plan.hold.kind, ==, CORE_HOLD_AFTER);
      g_assert_cmpint (c.plan.hold.reach, ==, rows[i].ends ? CORE_REACH_TOUCH : CORE_REACH_OPEN);
      plan_case_clear (&c);
    }
}

static void
test_after_moult_task (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 4);
  plan_case_say (&c, TODAY - 1, "looked");
  plan_case_say (&c, TODAY, "moulted");
  c.to = TODAY + 10;
  plan_case_run (&c);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_AFTER_MOULT);
  g_assert_nonnull (task);
  g_assert_cmpint (task->due, ==, TODAY + 2);
  g_assert_true (g_str_has_suffix (task->id, ":after_moult:m5"));
  plan_case_say (&c, TODAY, "done|rule=after_moult");
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_AFTER_MOULT));
  plan_case_clear (&c);

  plan_case_init (&c, CORE_GROUP_HARDY, 4);
  plan_case_say (&c, TODAY, "moulted|outcome=good");
  c.to = TODAY + 10;
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_AFTER_MOULT));
  plan_case_clear (&c);
}

/* Stage, last look, range, and when the next one is due. */
static const struct
{
  int moults;
  const char *seen;
  int looked_ago, range, due;
  const char *why;
} LOOKS[] = {
  { 1, NULL, 0, 99, 1, "look.small" },
  { 2, NULL, 0, 99, 1, "look.small" },
  { 3, NULL, 0, 99, 2, "look.interval" },
  { 5, NULL, 1, 99, 1, "look.interval" },
  { 5, NULL, 0, -1, 1, "look.in_range" },
  { 5, NULL, 0, 9, 2, "look.interval" },
  { 8, "stage|seen=adult", 0, 99, 3, "look.interval" },
  { 5, NULL, 4, 99, -2, "look.unseen" },
  { 8, "stage|seen=adult", 5, 99, -2, "look.unseen" },
};

static void
test_look (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (LOOKS); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, LOOKS[i].moults);
      if (LOOKS[i].seen)
        plan_case_say (&c, TODAY - 30, LOOKS[i].seen);
      plan_case_say (&c, TODAY - LOOKS[i].looked_ago, "looked");
      if (LOOKS[i].range != 99)
        plan_case_range (&c, TODAY + LOOKS[i].range, TODAY + 20);
      c.to = TODAY + 5;
      plan_case_run (&c);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_LOOK);
      g_assert_nonnull (task);
      g_assert_cmpint (task->due - TODAY, ==, LOOKS[i].due);
      g_assert_nonnull (plan_task_reason (task, LOOKS[i].why));
      g_assert_cmpint (c.plan.unseen_long, ==, LOOKS[i].looked_ago >= 4);
      plan_case_clear (&c);
    }
}

/* Looks are daily while a hold or a range lasts, and no longer. */
static void
test_look_projection (void)
{
  static const struct
  {
    const char *said;
    int range, days[8]; /* days from today, -1 ends */
  } rows[] = {
    { "sign|sign=pumping", 99, { 1, 2, 4, 6, 8, -1 } },
    { "looked", 99, { 2, 4, 6, 8, -1 } },
    { "looked", 5, { 2, 4, 6, 7, 8, -1 } },
    { "looked", 1, { 1, 2, 3, 4, 6, 8, -1 } },
  };
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PlanCase c;
      int n = 0;
      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      plan_case_say (&c, TODAY, rows[i].said);
      if (rows[i].range != 99)
        plan_case_range (&c, TODAY + rows[i].range, TODAY + rows[i].range + 3);
      c.to = TODAY + 8;
      plan_case_run (&c);
      for (size_t k = 0; k < c.plan.tasks.n; k++)
        if (c.plan.tasks.v[k].kind == CORE_TASK_LOOK)
          g_assert_cmpint (c.plan.tasks.v[k].due - TODAY, ==, rows[i].days[n++]);
      g_assert_cmpint (rows[i].days[n], ==, -1);
      plan_case_clear (&c);
    }
}

static void
test_put_off (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 10, "fed|prey=house fly");
  g_autofree char *until = g_strdup ("put_off|rule=feed|until=2026-02-20");
  c.to = TODAY + 20;
  plan_case_say (&c, TODAY, until); /* TODAY is 2026-02-16 */
  plan_case_run (&c);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_cmpint (task->due - TODAY, ==, 4);
  g_assert_nonnull (plan_task_reason (task, "put_off"));
  c.to = TODAY;
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_FEED));
  plan_case_clear (&c);
}

/* Four days unseen come forward whatever was put off; what was put off for less is. */
static void
test_look_put_off (void)
{
  static const struct
  {
    int seen, until, due; /* days from TODAY */
  } rows[] = { { -2, 1, 1 }, { -2, 60, 2 }, { -4, 60, 0 }, { -14, 60, 0 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PlanCase c;
      char day[11];

      plan_case_init (&c, CORE_GROUP_HARDY, 5);
      core_day_to_text (TODAY + rows[i].until, day);
      g_autofree char *put_off = g_strdup_printf ("put_off|rule=look|until=%s", day);
      c.to = TODAY + 20;
      plan_case_say (&c, TODAY + rows[i].seen, "looked");
      plan_case_say (&c, TODAY + rows[i].seen, put_off);
      plan_case_run (&c);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_LOOK);
      g_assert_nonnull (task);
      g_assert_cmpint (task->day - TODAY, ==, rows[i].due);
      plan_case_clear (&c);
    }
}

/* The next occurrence and its projections: stable ids by day, one per kind today. */
static void
test_projection (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 8, "fed|prey=house fly");
  plan_case_say (&c, TODAY, "looked");
  c.to = TODAY + 14;
  plan_case_run (&c);
  int feeds = 0, sure = 0;
  CoreDay last = CORE_DAY_NONE;
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
  for (size_t i = 0; i < c.plan.tasks.n; i++)
    {
      const CoreTask *task = &c.plan.tasks.v[i];
      g_assert_true (g_hash_table_add (ids, (gpointer) (guintptr) task->id));
      if (task->kind != CORE_TASK_FEED)
        continue;
      feeds++;
      sure += !task->projected;
      if (task->projected)
        {
          g_assert_cmpint (task->due, ==, (last > TODAY ? last : TODAY) + 3);
          g_assert_cmpfloat (task->weight, <, 40);
          const CoreReason *why = plan_task_reason (task, "plan.projected");
          g_assert_cmpfloat (why->value, ==, 3);
          g_assert_cmpint (why->day, ==, task->due - 3);
          g_assert_cmpint (task->day, ==, task->due);
        }
      else
        {
          g_assert_cmpint (task->due, ==, TODAY - 5); /* overdue, one task */
          g_assert_cmpint (task->day, ==, TODAY);
        }
      last = task->due;
    }
  g_assert_cmpint (sure, ==, 1);
  g_assert_cmpint (feeds, ==, 5); /* rolled, +3, +6, +9, +12 */

  /* Fed today: what was projected for the 3rd day is the next one, same id. */
  g_autofree char *id = NULL;
  for (size_t i = 0; i < c.plan.tasks.n; i++)
    if (c.plan.tasks.v[i].kind == CORE_TASK_FEED && c.plan.tasks.v[i].due == TODAY + 3)
      id = g_strdup (c.plan.tasks.v[i].id);
  plan_case_say (&c, TODAY, "fed|prey=house fly");
  plan_case_run (&c);
  g_assert_cmpstr (plan_case_task (&c, CORE_TASK_FEED)->id, ==, id);

  /* A later span shows projections only; an earlier overdue day is not in it. */
  c.from = TODAY + 5;
  plan_case_run (&c);
  for (size_t i = 0; i < c.plan.tasks.n; i++)
    g_assert_cmpint (c.plan.tasks.v[i].latest, >=, c.from);
  plan_case_clear (&c);
}

static void
test_lot_never_held (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 1);
  c.kind = CORE_SUBJECT_LOT;
  plan_case_say (&c, TODAY - 2, "fed|prey=melanogaster");
  plan_case_say (&c, TODAY, "sign|sign=pumping");
  plan_case_run (&c);
  g_assert_cmpint (c.plan.hold.kind, ==, CORE_HOLD_NONE);
  g_assert_cmpuint (c.plan.held.n, ==, 0);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_nonnull (task);
  g_assert_nonnull (plan_task_reason (task, "feed.lot_in_view"));
  g_assert_nonnull (plan_task_reason (plan_case_task (&c, CORE_TASK_MIST), "mist.fine_fog"));
  plan_case_clear (&c);
}

static void
test_ended (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 1, "died");
  plan_case_run (&c);
  g_assert_cmpuint (c.plan.tasks.n, ==, 0);
  g_assert_cmpuint (c.plan.held.n, ==, 0);
  plan_case_clear (&c);

  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 1, "looks_dead");
  plan_case_run (&c);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_IS_DEAD);
  g_assert_nonnull (task);
  g_assert_cmpint (task->due, ==, TODAY);
  plan_case_clear (&c);
}

static void
test_emergency (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY, "sign|sign=pumping");
  plan_case_say (&c, TODAY, "trouble|what=fell");
  plan_case_run (&c);
  const CoreTask *found = NULL;
  for (size_t i = 0; i < c.plan.tasks.n; i++)
    if (c.plan.tasks.v[i].emergency)
      found = &c.plan.tasks.v[i];
  g_assert_nonnull (found);
  g_assert_cmpint (found->reach, ==, CORE_REACH_TOUCH);
  g_assert_nonnull (plan_task_reason (found, "emergency.fell"));
  g_assert_true (c.plan.trouble);
  g_assert_cmpint (c.plan.trouble_what, ==, CORE_TROUBLE_FELL);
  plan_case_clear (&c);

  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY, "moulted|outcome=stuck");
  plan_case_run (&c);
  g_assert_true (c.plan.tasks.v[0].emergency || c.plan.tasks.n > 1);
  found = NULL;
  for (size_t i = 0; i < c.plan.tasks.n; i++)
    if (plan_task_reason (&c.plan.tasks.v[i], "emergency.stuck"))
      found = &c.plan.tasks.v[i];
  g_assert_nonnull (found);
  plan_case_clear (&c);
}

/* Emergencies, then what an animal in trouble needs, then by weight; however long something
 * else has waited. */
static void
test_order (void)
{
  PlanCase c;
  CoreTask old = { .day = TODAY, .due = TODAY - 87, .rank = CORE_RANK_USUAL, .weight = 12 };
  CoreTask usual = { .day = TODAY, .due = TODAY, .rank = CORE_RANK_USUAL, .weight = 40 };
  CoreTask trouble = { .day = TODAY, .due = TODAY, .rank = CORE_RANK_TROUBLE, .weight = 20 };
  CoreTask emergency = { .day = TODAY, .due = TODAY, .rank = CORE_RANK_EMERGENCY, .weight = 10 };
  CoreTask later = { .day = TODAY + 1, .due = TODAY + 1, .rank = CORE_RANK_EMERGENCY };
  const CoreTask *order[] = { &emergency, &trouble, &usual, &old, &later };

  for (size_t i = 0; i < G_N_ELEMENTS (order); i++)
    for (size_t k = 0; k < G_N_ELEMENTS (order); k++)
      g_assert_cmpint (core_task_order (order[i], order[k]), ==, (i > k) - (i < k));

  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 20, "fed|prey=house fly");
  plan_case_say (&c, TODAY, "trouble|what=fell");
  plan_case_run (&c);
  g_assert_cmpint (c.plan.tasks.v[0].rank, ==, CORE_RANK_EMERGENCY);
  g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED)->rank, ==, CORE_RANK_TROUBLE);
  g_assert_null (plan_case_task (&c, CORE_TASK_SEX_CHECK));
  g_assert_nonnull (plan_held_reason (plan_case_held (&c, CORE_TASK_SEX_CHECK), "hold.trouble"));
  for (size_t i = 1; i < c.plan.tasks.n; i++)
    g_assert_cmpint (core_task_order (&c.plan.tasks.v[i - 1], &c.plan.tasks.v[i]), <=, 0);
  plan_case_clear (&c);
}

static void
test_reason_ids (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  for (int i = 0; i < CORE_N_PLAN_REASONS; i++)
    {
      const char *id = core_plan_reason_id ((CorePlanReason) i);
      g_assert_cmpuint (strlen (id), >, 3);
      g_assert_true (g_hash_table_add (seen, (gpointer) (guintptr) id));
    }
  g_assert_cmpstr (core_plan_reason_id (CORE_R_FEED_INTERVAL), ==, "feed.interval");
  for (int i = 0; i < CORE_N_TASKS; i++)
    g_assert_cmpint (core_task_from_name (core_task_name ((CoreTaskKind) i)), ==, i);
  g_assert_cmpint (core_task_from_name ("dust"), ==, CORE_N_TASKS);
}

static const char *const WORDS[] = {
  "looked",
  "fed|prey=cricket",
  "fed|outcome=taken|prey=moth",
  "fed|outcome=refused|prey=roach",
  "fed|outcome=none_in_view",
  "gone",
  "drank|eager=yes",
  "misted",
  "watered",
  "moulted",
  "moulted|outcome=stuck",
  "moulted|to=subadult",
  "stage|seen=adult",
  "sign|sign=hanging",
  "sign|sign=pumping",
  "sign|sign=dull",
  "sign|sign=refuses",
  "belly|score=1",
  "belly|score=5",
  "measured|what=body|mm=30",
  "trouble|what=thin",
  "trouble|what=fell",
  "looks_dead",
  "done|rule=look",
  "done|rule=feed",
  "done|rule=shed",
  "put_off|rule=mist|until=2026-02-20",
  "set|key=gravid|value=yes",
  "set|key=rest|value=yes",
  "set|key=interval.look|value=9",
  "set|key=purpose|value=sale",
  "hatched",
};

/* Left alone before a moult: nothing that opens or touches, but an emergency, prey that comes
 * out, and one meal for what was seen to be thin, with no sign but hanging before its range. */
static void
assert_left_alone (const PlanCase *c, const CoreTask *task)
{
  if (c->plan.hold.kind != CORE_HOLD_BEFORE || task->reach < CORE_REACH_OPEN || task->emergency ||
      task->kind == CORE_TASK_TAKE_OUT)
    return;
  g_assert_cmpint (task->kind, ==, CORE_TASK_FEED);
  g_assert_true (c->plan.thin);
  g_assert_false (task->projected);
  g_assert_true (c->forecast.why == CORE_NO_FORECAST_NONE && c->forecast.range_lo > TODAY);
  for (size_t i = 0; i < c->plan.hold.n_reasons; i++)
    g_assert_true (g_str_has_prefix (c->plan.hold.reasons[i].rule, "hold.hanging_") ||
                   strcmp (c->plan.hold.reasons[i].rule, "hold.hardening") == 0);
  for (size_t i = 0; i < c->plan.held.n; i++)
    g_assert_cmpint (c->plan.held.v[i].kind, !=, CORE_TASK_FEED);
}

/* Any journal gives a plan that is in order. */
static void
test_any_journal (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260216);
  for (int round = 0; round < 1500; round++)
    {
      PlanCase c;
      plan_case_init (&c, (CoreGroup) g_rand_int_range (rand, 0, CORE_N_GROUPS),
                      g_rand_int_range (rand, -1, 9));
      c.profile.winter_rest = g_rand_boolean (rand);
      if (g_rand_int_range (rand, 0, 4) == 0)
        c.kind = CORE_SUBJECT_LOT;
      for (int n = g_rand_int_range (rand, 0, 14); n > 0; n--)
        plan_case_say (&c, TODAY - g_rand_int_range (rand, 0, 40),
                       WORDS[g_rand_int_range (rand, 0, G_N_ELEMENTS (WORDS))]);
      if (g_rand_boolean (rand))
        {
          CoreDay lo = TODAY + g_rand_int_range (rand, -15, 15);
          plan_case_range (&c, lo, lo + g_rand_int_range (rand, 1, 12));
        }
      c.from = TODAY + g_rand_int_range (rand, 0, 4);
      c.to = c.from + g_rand_int_range (rand, 0, 21);
      plan_case_run (&c);
      g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
      for (size_t i = 0; i < c.plan.tasks.n; i++)
        {
          const CoreTask *t = &c.plan.tasks.v[i];
          g_assert_cmpint (t->earliest, <=, t->due);
          g_assert_cmpint (t->due, <=, t->latest);
          g_assert_cmpint (t->earliest, <=, c.to);
          g_assert_cmpint (MAX (t->latest, TODAY), >=, c.from);
          g_assert_cmpuint (t->n_reasons, >, 0);
          g_assert_true (g_hash_table_add (ids, (gpointer) (guintptr) t->id));
          assert_left_alone (&c, t);
        }
      for (size_t i = 0; i < c.plan.held.n; i++)
        g_assert_cmpuint (c.plan.held.v[i].n_reasons, >, 0);
      plan_case_clear (&c);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/hold/pumping", test_pumping);
  g_test_add_func ("/plan/hold/lapses", test_hold_lapses);
  g_test_add_func ("/plan/hold/what-holds", test_what_holds);
  g_test_add_func ("/plan/hold/after-moult", test_after_moult);
  g_test_add_func ("/plan/hold/meal-ends-it", test_meal_ends_hold);
  g_test_add_func ("/plan/after-moult", test_after_moult_task);
  g_test_add_func ("/plan/look", test_look);
  g_test_add_func ("/plan/look/projection", test_look_projection);
  g_test_add_func ("/plan/put-off", test_put_off);
  g_test_add_func ("/plan/look-put-off", test_look_put_off);
  g_test_add_func ("/plan/projection", test_projection);
  g_test_add_func ("/plan/lot-never-held", test_lot_never_held);
  g_test_add_func ("/plan/ended", test_ended);
  g_test_add_func ("/plan/emergency", test_emergency);
  g_test_add_func ("/plan/order", test_order);
  g_test_add_func ("/plan/reason-ids", test_reason_ids);
  g_test_add_func ("/plan/any-journal", test_any_journal);
  return g_test_run ();
}
