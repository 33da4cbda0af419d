/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-plan-properties.c — what must hold of the plan of any journal.
 *
 * Journals are drawn at random, the same on every machine; more of them: the count as the last
 * argument.
 */
#include <stdlib.h>
#include <string.h>

#include "core/core-date.h"
#include "plan-case.h"

#define SEED 20260216
#define DAYS 40    /* of a journal */
#define SHELF 5    /* animals on one */
#define AHEAD 25   /* days without an entry */

static int rounds = 400;

static const char *const words[] = {
  "looked",
  "looked",
  "fed|prey=house fly",
  "fed|prey=cricket",
  "fed|outcome=taken|prey=moth",
  "fed|outcome=refused|prey=moth",
  "fed|outcome=refused|prey=house fly",
  "fed|outcome=none_in_view",
  "gone",
  "drank|eager=yes",
  "misted",
  "moulted",
  "moulted|outcome=good",
  "moulted|to=subadult",
  "moulted|to=adult",
  "sign|sign=hanging",
  "sign|sign=pumping",
  "sign|sign=splitting",
  "sign|sign=dull",
  "sign|sign=sluggish",
  "belly|score=1",
  "belly|score=2",
  "belly|score=3",
  "belly|score=4",
  "measured|what=body|mm=30",
  "housed|height_mm=80",
  "done|rule=sex_check",
  "moulted|outcome=stuck",
  "trouble|what=fell",
  "trouble|what=vomit",
  "trouble|what=limb",
  "trouble|what=thin",
  "done|rule=look",
  "put_off|rule=mist|until=2026-02-20",
};

/* An animal of any group and stage with some weeks of entries up to `last`, and perhaps a range. */
static void
draw (PlanCase *c, CoreDay last)
{
  plan_case_init (c, (CoreGroup) journal_draw (CORE_N_GROUPS), (int) journal_draw (9) - 1);
  for (unsigned n = journal_draw (18); n > 0; n--)
    plan_case_say (c, last - (CoreDay) journal_draw (journal_draw (2) ? 6 : DAYS),
                   words[journal_draw (G_N_ELEMENTS (words))]);
  if (journal_draw (3))
    {
      CoreDay lo = TODAY - 15 + (CoreDay) journal_draw (30);

      plan_case_range (c, lo, lo + 1 + (CoreDay) journal_draw (14));
    }
}

/* Not what is done through the wall, nor an emergency, nor prey that bites. */
static bool
disturbs (const CoreTask *task)
{
  return task->reach >= CORE_REACH_OPEN && !task->emergency && task->kind != CORE_TASK_TAKE_OUT;
}

/* Thin beats a hanging seen beside a second sign before the range: one meal, today. */
static bool
meal_of_a_thin_one (const PlanCase *c, const CoreTask *task)
{
  return task->kind == CORE_TASK_FEED && c->plan.thin && !task->projected &&
         c->forecast.why == CORE_NO_FORECAST_NONE && c->forecast.range_lo > c->today &&
         plan_task_reason (task, "feed.thin_first") != NULL;
}

static void
assert_left_alone (const PlanCase *c)
{
  const CoreHold *hold = &c->plan.hold;

  for (size_t i = 0; i < c->plan.tasks.n; i++)
    {
      const CoreTask *task = &c->plan.tasks.v[i];

      if (hold->kind == CORE_HOLD_NONE || !disturbs (task) || meal_of_a_thin_one (c, task))
        continue;
      if (hold->kind == CORE_HOLD_BEFORE)
        g_assert_not_reached ();
      if (hold->kind == CORE_HOLD_TROUBLE)
        {
          g_assert_true (task->kind == CORE_TASK_FEED || task->reach < hold->reach);
          if (task->kind == CORE_TASK_FEED && hold->food_until != CORE_DAY_NONE)
            g_assert_cmpint (task->day, >, hold->food_until);
          continue;
        }
      if (task->reach == CORE_REACH_TOUCH)
        g_assert_cmpint (task->day, >, hold->touch_until);
      else if (hold->reach == CORE_REACH_OPEN)
        g_assert_cmpint (task->day, >, hold->until);
    }
}

/* Pumped or split, and no moult entered: soft for the days of the least stage. */
static void
assert_soft_after_sign (const PlanCase *c)
{
  for (size_t i = 0; i < c->state.signs.n && !c->state.adult; i++)
    {
      const CoreSignSeen *sign = &c->state.signs.v[i];

      if (sign->sign == CORE_SIGN_SPLITTING && c->today - sign->last <= 1)
        g_assert_cmpint (c->plan.hold.kind, !=, CORE_HOLD_NONE);
      for (size_t k = 0; k < c->plan.tasks.n && sign->sign >= CORE_SIGN_PUMPING; k++)
        g_assert_false (c->plan.tasks.v[k].kind == CORE_TASK_SEX_CHECK && c->plan.tasks.v[k].day == c->today);
    }
}

static void
test_leave_alone (void)
{
  int held = 0;

  journal_seed (SEED);
  for (int round = 0; round < rounds; round++)
    {
      PlanCase c;

      draw (&c, TODAY);
      c.to = TODAY + 20;
      plan_case_run (&c);
      held += c.plan.hold.kind != CORE_HOLD_NONE;
      assert_left_alone (&c);
      assert_soft_after_sign (&c);
      plan_case_clear (&c);
    }
  g_assert_cmpint (held, >, rounds / 10);
}

/* The task that asks about it, however late; NULL = none. */
static const CoreTask *
asks_about (const PlanCase *c, CoreId entry)
{
  for (size_t i = 0; i < c->plan.tasks.n; i++)
    {
      const CoreTask *task = &c->plan.tasks.v[i];

      if (task->trouble && core_id_equal (task->reasons[0].entries[0], entry))
        return task;
    }
  return NULL;
}

/* What was in the plan as trouble once is in it every day until something else is entered. */
static void
test_trouble_stays (void)
{
  int open = 0;

  journal_seed (SEED + 7);
  for (int round = 0; round < rounds / 4; round++)
    {
      PlanCase c;
      CoreId asked[16];
      gsize n = 0;

      draw (&c, TODAY);
      plan_case_run (&c);
      for (size_t i = 0; i < c.plan.tasks.n && n < G_N_ELEMENTS (asked); i++)
        if (c.plan.tasks.v[i].trouble)
          asked[n++] = c.plan.tasks.v[i].reasons[0].entries[0];
      for (size_t i = 0; i < c.state.stages.n; i++)
        if (i + 1 == c.state.stages.n && c.state.stages.v[i].outcome == CORE_MOULT_STUCK &&
            c.state.done.n == 0)
          g_assert_nonnull (asks_about (&c, c.state.stages.v[i].entry));
      for (c.today = TODAY; c.today < TODAY + 90; c.today += 13)
        {
          c.from = c.to = c.today;
          plan_case_run (&c);
          for (gsize i = 0; i < n; i++)
            {
              const CoreTask *task = asks_about (&c, asked[i]);

              g_assert_nonnull (task);
              g_assert_cmpint (task->day, ==, c.today);
              g_assert_cmpint (task->rank, <, CORE_RANK_USUAL);
              g_assert_false (core_task_missed (task, c.today));
            }
          if (n > 0)
            g_assert_cmpint (c.plan.hold.kind, !=, CORE_HOLD_NONE);
        }
      open += n > 0;
      plan_case_clear (&c);
    }
  g_assert_cmpint (open, >, rounds / 20);
}

/* The most days that food can be held from a day on without an entry: for refusals at most the
 * days of a sub-adult, after a moult those of the table, for signs two after the last. */
static int
limit_of (const PlanCase *c)
{
  int most = c->state.subadult ? (int) c->profile.subadult_fast_days : 4;

  for (int row = 0; row < CORE_N_HARD; row++)
    most = MAX (most, (int) c->profile.food_days[row].b.v + 1);
  for (size_t i = 0; i < c->state.signs.n; i++) /* it may pump for two days before it is out */
    most += c->state.signs.v[i].sign == CORE_SIGN_PUMPING ? 1 : 0;
  return c->plan.hold.kind == CORE_HOLD_TROUBLE ? MAX (most, 7) : most;
}

static void
assert_look (const PlanCase *c)
{
  int looks = 0;

  for (size_t i = 0; i < c->plan.tasks.n; i++)
    {
      const CoreTask *task = &c->plan.tasks.v[i];

      looks += task->kind == CORE_TASK_LOOK && task->reach == CORE_REACH_LOOK && task->due <= c->today + 1;
    }
  g_assert_cmpint (looks, >, 0);
}

/* Day after day without an entry: no food is held for longer than its limit, each day of it asks
 * for a look, and so does the day on which it ends. */
static void
test_holds_end (void)
{
  int ended = 0;

  journal_seed (SEED + 1);
  for (int round = 0; round < rounds / 4; round++)
    {
      int days = 0;
      PlanCase c;

      draw (&c, TODAY);
      for (int day = 0; day <= AHEAD; day++)
        {
          c.today = c.from = TODAY + day;
          c.to = c.today + 1;
          plan_case_run (&c);
          if (plan_case_held (&c, CORE_TASK_FEED) != NULL)
            {
              days++;
              assert_look (&c);
              g_assert_cmpint (days, <=, limit_of (&c));
              continue;
            }
          if (days > 0)
            {
              assert_look (&c);
              ended++;
            }
          days = 0;
        }
      g_assert_cmpint (days, ==, 0);
      plan_case_clear (&c);
    }
  g_assert_cmpint (ended, >, rounds / 40);
}

/* The same lot with signs and refusals and without them is fed on the same day. */
static void
test_lots_have_food (void)
{
  static const char *const signs[] = { "sign|sign=hanging", "sign|sign=pumping", "sign|sign=splitting",
                                       "sign|sign=dull", "sign|sign=refuses" };

  journal_seed (SEED + 2);
  for (int round = 0; round < rounds; round++)
    {
      CoreDay due;
      PlanCase c;

      plan_case_init (&c, (CoreGroup) journal_draw (CORE_N_GROUPS), (int) journal_draw (6));
      c.kind = CORE_SUBJECT_LOT;
      c.to = TODAY + 14;
      for (unsigned n = journal_draw (8); n > 0; n--)
        plan_case_say (&c, TODAY - (CoreDay) journal_draw (20),
                       journal_draw (2) ? "fed|prey=hydei" : "fed|outcome=none_in_view");
      plan_case_run (&c);
      g_assert_nonnull (plan_case_task (&c, CORE_TASK_FEED));
      due = plan_case_task (&c, CORE_TASK_FEED)->due;
      for (unsigned n = 1 + journal_draw (5); n > 0; n--)
        plan_case_say (&c, TODAY - (CoreDay) journal_draw (4), signs[journal_draw (G_N_ELEMENTS (signs))]);
      plan_case_run (&c);
      g_assert_null (plan_case_held (&c, CORE_TASK_FEED));
      g_assert_cmpint (plan_case_task (&c, CORE_TASK_FEED)->due, ==, due);
      plan_case_clear (&c);
    }
}

/* Seen thin and not known to have eaten since: no refusal holds its food. */
static void
test_thin_is_fed (void)
{
  int thin = 0;

  journal_seed (SEED + 3);
  for (int round = 0; round < rounds; round++)
    {
      PlanCase c;
      const CoreHeld *held;

      draw (&c, TODAY - 1);
      for (unsigned n = journal_draw (4); n > 0; n--)
        plan_case_say (&c, TODAY, "fed|outcome=refused|prey=moth");
      plan_case_say (&c, TODAY, journal_draw (2) ? "belly|score=1" : "belly|score=2");
      c.to = TODAY + 3;
      plan_case_run (&c);
      held = plan_case_held (&c, CORE_TASK_FEED);
      g_assert_true (c.plan.thin);
      if (held != NULL)
        g_assert_null (plan_held_reason (held, "hold.two_refusals"));
      if (c.plan.hold.kind == CORE_HOLD_NONE && c.state.end == CORE_END_NONE)
        {
          g_assert_null (held);
          g_assert_nonnull (plan_case_task (&c, CORE_TASK_FEED));
          thin++;
        }
      plan_case_clear (&c);
    }
  g_assert_cmpint (thin, >, rounds / 10);
}

/* ---- evenings without entries ---- */

/* What its key writes. */
static void
do_task (PlanCase *c, const CoreTask *task)
{
  g_autofree char *mark = g_strdup_printf ("done|rule=%s", core_task_name (task->kind));

  plan_case_say (c, c->today,
                 task->kind == CORE_TASK_FEED    ? "fed|prey=house fly"
                 : task->kind == CORE_TASK_MIST  ? "misted"
                 : task->kind == CORE_TASK_WATER ? "watered"
                 : task->kind == CORE_TASK_LOOK  ? "looked"
                                                 : mark);
}

static void
do_evening (PlanCase *c, CoreDay today)
{
  c->today = c->from = c->to = today;
  plan_case_run (c);
  for (size_t i = 0; i < c->plan.tasks.n; i++)
    if (c->plan.tasks.v[i].day <= today)
      do_task (c, &c->plan.tasks.v[i]);
}

/* Bits of the kinds that have a line of their own this evening, down to that rank; *missed: some
 * are left, which have none; without `missed` those are counted too. */
static unsigned
lines_of (PlanCase *c, CoreDay today, CoreTaskRank from, bool *missed)
{
  unsigned lines = 0;

  c->today = c->from = c->to = today;
  plan_case_run (c);
  for (size_t i = 0; i < c->plan.tasks.n; i++)
    {
      const CoreTask *task = &c->plan.tasks.v[i];

      if (task->day != today || task->rank < from)
        continue;
      if (missed != NULL && core_task_missed (task, today))
        *missed = true;
      else if (missed == NULL || !task->forward)
        lines |= 1u << task->kind;
    }
  return lines;
}

/* Against an evening before, and against a keeper who was there, a shelf left alone for two
 * evenings has no line more but that of what was missed. Trouble is no line to be saved, nor is the
 * food of what starves soon. */
static void
test_no_wall (void)
{
  int missed_shelves = 0;

  for (int round = 0; round < rounds / 4; round++)
    {
      bool missed = false;

      for (int animal = 0; animal < SHELF; animal++)
        {
          PlanCase away, there;
          uint64_t seed = SEED + 1000 + (uint64_t) (round * SHELF + animal);
          unsigned before, now, anyway;

          journal_seed (seed);
          draw (&away, TODAY - 1);
          journal_seed (seed);
          draw (&there, TODAY - 1);
          before = lines_of (&away, TODAY, CORE_RANK_EMERGENCY, NULL);
          now = lines_of (&away, TODAY + 2, CORE_RANK_USUAL, &missed);
          do_evening (&there, TODAY);
          do_evening (&there, TODAY + 1);
          anyway = lines_of (&there, TODAY + 2, CORE_RANK_EMERGENCY, NULL);
          g_assert_cmpuint (now & ~before & ~anyway, ==, 0);
          plan_case_clear (&away);
          plan_case_clear (&there);
        }
      missed_shelves += missed;
    }
  g_assert_cmpint (missed_shelves, >, 0);
}

/* One late round: what was missed is done, nothing of it is left. */
static void
test_late_round (void)
{
  journal_seed (SEED + 5);
  for (int round = 0; round < rounds / 2; round++)
    {
      bool missed = false;
      PlanCase c;

      draw (&c, TODAY - 1);
      do_evening (&c, TODAY + 4);
      lines_of (&c, TODAY + 4, CORE_RANK_USUAL, &missed);
      if (missed)
        for (size_t i = 0; i < c.plan.tasks.n; i++)
          g_test_message ("%s", c.plan.tasks.v[i].id);
      g_assert_false (missed);
      plan_case_clear (&c);
    }
}

/* ---- order ---- */

static void
shuffle (GPtrArray *entries)
{
  for (guint i = entries->len; i > 1; i--)
    {
      guint k = journal_draw (i);
      gpointer swap = entries->pdata[i - 1];

      entries->pdata[i - 1] = entries->pdata[k];
      entries->pdata[k] = swap;
    }
}

static void
assert_same_reasons (const CoreReason *a, const CoreReason *b, size_t n)
{
  for (size_t i = 0; i < n; i++)
    {
      g_assert_cmpstr (a[i].rule, ==, b[i].rule);
      g_assert_cmpint (a[i].day, ==, b[i].day);
      g_assert_cmpint (a[i].day2, ==, b[i].day2);
      g_assert_cmpint (a[i].code, ==, b[i].code);
      g_assert_true (core_id_equal (a[i].entries[0], b[i].entries[0]));
    }
}

static void
test_any_order (void)
{
  journal_seed (SEED + 6);
  for (int round = 0; round < rounds / 2; round++)
    {
      PlanCase c;
      CorePlan first;

      draw (&c, TODAY);
      c.to = TODAY + 14;
      plan_case_run (&c);
      first = c.plan;
      core_plan_init (&c.plan);
      shuffle (c.journal->entries);
      plan_case_run (&c);
      g_assert_cmpuint (c.plan.tasks.n, ==, first.tasks.n);
      g_assert_cmpuint (c.plan.held.n, ==, first.held.n);
      for (size_t i = 0; i < first.tasks.n; i++)
        {
          const CoreTask *a = &first.tasks.v[i], *b = &c.plan.tasks.v[i];

          g_assert_cmpstr (a->id, ==, b->id);
          g_assert_cmpint (a->latest, ==, b->latest);
          g_assert_cmpuint (a->n_prey, ==, b->n_prey);
          g_assert_cmpuint (a->n_reasons, ==, b->n_reasons);
          assert_same_reasons (a->reasons, b->reasons, a->n_reasons);
        }
      for (size_t i = 0; i < first.held.n; i++)
        g_assert_cmpint (first.held.v[i].until, ==, c.plan.held.v[i].until);
      core_plan_clear (&first);
      plan_case_clear (&c);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  if (argc > 1 && atoi (argv[argc - 1]) > 0)
    rounds = atoi (argv[argc - 1]);
  g_test_add_func ("/plan/properties/leave-alone", test_leave_alone);
  g_test_add_func ("/plan/properties/trouble-stays", test_trouble_stays);
  g_test_add_func ("/plan/properties/holds-end", test_holds_end);
  g_test_add_func ("/plan/properties/lots-have-food", test_lots_have_food);
  g_test_add_func ("/plan/properties/thin-is-fed", test_thin_is_fed);
  g_test_add_func ("/plan/properties/no-wall", test_no_wall);
  g_test_add_func ("/plan/properties/late-round", test_late_round);
  g_test_add_func ("/plan/properties/any-order", test_any_order);
  return g_test_run ();
}
