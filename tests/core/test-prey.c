/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-prey.c — prey and the other rules of care: taking it out, water, shed
 * skins, a larger home, the sex check, cleaning, climate.
 *
 * Rules of thumb are common practice, no source; lengths of prey carry theirs.
 */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "plan-case.h"

/* Lengths in mm from the reference of published numbers, section 1.2. */
static void
test_lengths (void)
{
  g_assert_cmpfloat_with_epsilon (core_prey_mm (CORE_PREY_MELANOGASTER), 2.607,
                                  .05);                                            /* Chen 2014 */
  g_assert_cmpfloat_with_epsilon (core_prey_mm (CORE_PREY_HOUSE_FLY), 6.5, .5);    /* 6–7 mm */
  g_assert_cmpfloat_with_epsilon (core_prey_mm (CORE_PREY_BLUE_BOTTLE), 10.5, .5); /* 10–11 mm */
  g_assert_cmpfloat_with_epsilon (core_prey_mm (CORE_PREY_WAXWORM), 25, .5);
  g_assert_cmpfloat (core_prey_mm (-1), ==, 0);
  g_assert_cmpstr (core_prey_name (CORE_PREY_HOUSE_FLY), ==, "house fly");
  g_assert_cmpstr (core_prey_name (99), ==, "");
}

/* Roaches, locusts, fly cultures, moth scales: common practice, no source. */
static void
test_allergens (void)
{
  static const int yes[] = { CORE_PREY_ROACH, CORE_PREY_LOCUST, CORE_PREY_MOTH, CORE_PREY_MELANOGASTER, CORE_PREY_HYDEI };
  int n = 0;

  for (size_t i = 0; i < G_N_ELEMENTS (yes); i++)
    g_assert_true (core_prey_allergen (yes[i]));
  for (int prey = -1; prey <= CORE_N_PREY; prey++)
    n += core_prey_allergen (prey) ? 1 : 0;
  g_assert_cmpint (n, ==, (int) G_N_ELEMENTS (yes));
}

static void
measured (PlanCase *c, int moults, const char *body)
{
  plan_case_init (c, CORE_GROUP_HARDY, moults);
  plan_case_say (c, TODAY - 1, "fed|prey=house fly");
  plan_case_say (c, TODAY, body);
}

static void
test_fits (void)
{
  static const struct
  {
    CoreGroup group;
    const char *stage;
    int prey;
    double times; /* body length in prey lengths */
    CorePreyFit fit;
  } rows[] = {
    { CORE_GROUP_HARDY, NULL, CORE_PREY_HOUSE_FLY, 2.1, CORE_PREY_FITS },
    { CORE_GROUP_HARDY, NULL, CORE_PREY_HOUSE_FLY, 1.9, CORE_PREY_TOO_LARGE },
    { CORE_GROUP_HARDY, "stage|seen=adult", CORE_PREY_LOCUST, 1.1, CORE_PREY_FITS },
    { CORE_GROUP_HARDY, "stage|seen=adult", CORE_PREY_LOCUST, .9, CORE_PREY_TOO_LARGE },
    { CORE_GROUP_DRY_HOT, NULL, CORE_PREY_CRICKET, 9, CORE_PREY_NOT_FLYING },
    { CORE_GROUP_DRY_HOT, NULL, CORE_PREY_MOTH, 9, CORE_PREY_FITS },
    { CORE_GROUP_HARDY, NULL, CORE_PREY_HONEY, 1, CORE_PREY_FITS },
  };
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PlanCase c;
      plan_case_init (&c, rows[i].group, 5);
      if (rows[i].stage)
        plan_case_say (&c, TODAY - 20, rows[i].stage);
      plan_case_run (&c);
      /* scale the species so that a small one of it, which nobody measured, has just this length */
      CoreGrowth range = core_body_range (&c.state, &c.profile, .5);
      double body = core_body_safe (&range);
      double wish = rows[i].times * fmax (1, core_prey_mm (rows[i].prey));
      for (int sex = 0; sex < 2; sex++)
        c.profile.adult_mm[sex].v *= wish / body;
      g_assert_cmpint (core_prey_fits (&c.state, &c.profile, NULL, &c.verdict, rows[i].prey), ==,
                       rows[i].fit);
      c.profile.avoid_prey |= 1u << CORE_PREY_HOUSE_FLY;
      if (rows[i].prey == CORE_PREY_HOUSE_FLY)
        g_assert_cmpint (core_prey_fits (&c.state, &c.profile, NULL, &c.verdict, rows[i].prey), ==,
                         CORE_PREY_AVOID);
      plan_case_clear (&c);
    }
}

/* Does the ladder's prey fit as it would one whose length is `body`? */
static void
fits_as (const PlanCase *c, const CoreForecast *forecast, double body)
{
  g_assert_true (isfinite (body));
  for (int prey = 0; prey < CORE_PREY_HONEY; prey++)
    g_assert_cmpint (core_prey_fits (&c->state, &c->profile, forecast, NULL, prey), ==,
                     core_prey_mm (prey) > .5 * body ? CORE_PREY_TOO_LARGE : CORE_PREY_FITS);
}

/* Most likely moulted since anything was known of its length: no prey is named by it, and none
 * is written that is too large one moult further. */
static void
test_outgrown (void)
{
  PlanCase c;
  CoreGrowth now, further;
  const CoreTask *task;

  plan_case_init (&c, CORE_GROUP_HARDY, 1);
  plan_case_run (&c);
  c.forecast.why = CORE_NO_FORECAST_NONE;
  c.forecast.probably_moulted = true;
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_cmpuint (task->n_prey, ==, 0);
  g_assert_null (plan_task_reason (task, "prey.size"));
  g_assert_cmpint (plan_task_reason (task, "prey.measure_first")->code, ==, 1);
  further = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 2);
  fits_as (&c, &c.forecast, core_body_safe (&further));
  g_assert_cmpint (core_prey_fits (&c.state, &c.profile, &c.forecast, NULL, CORE_PREY_LOCUST), ==,
                   CORE_PREY_TOO_LARGE);
  now = core_body_range (&c.state, &c.profile, .5);
  fits_as (&c, NULL, core_body_safe (&now));
  plan_case_clear (&c);
}

/* Of an unknown stage what a hatchling takes fits, and of an unknown kind nothing that has a size:
 * whether a locust is too large nobody can say. */
static void
test_unknown (void)
{
  PlanCase c;

  plan_case_init (&c, CORE_GROUP_HARDY, -1);
  c.profile.hatchling_mm.v = 8;
  c.profile.avoid_prey = 1u << CORE_PREY_CRICKET;
  plan_case_run (&c);
  g_assert_cmpint (core_prey_fits (&c.state, &c.profile, NULL, NULL, CORE_PREY_MELANOGASTER), ==,
                   CORE_PREY_FITS);
  g_assert_cmpint (core_prey_fits (&c.state, &c.profile, NULL, NULL, CORE_PREY_LOCUST), ==,
                   CORE_PREY_UNKNOWN);
  g_assert_cmpint (core_prey_fits (&c.state, &c.profile, NULL, NULL, CORE_PREY_CRICKET), ==,
                   CORE_PREY_AVOID);
  g_assert_cmpint (core_prey_fits (&c.state, &c.profile, NULL, NULL, CORE_PREY_HONEY), ==,
                   CORE_PREY_FITS);
  g_assert_cmpuint (plan_case_task (&c, CORE_TASK_FEED)->n_prey, ==, 0);
  c.profile.avoid_prey = 0;
  plan_case_say (&c, TODAY, "measured|what=body|mm=30|sd=0.2");
  plan_case_run (&c);
  fits_as (&c, NULL, 30);
  plan_case_clear (&c);

  plan_case_init (&c, CORE_GROUP_HARDY, 1);
  c.profile.adult_mm[0].v = c.profile.adult_mm[1].v = NAN;
  plan_case_run (&c);
  for (int prey = 0; prey < CORE_PREY_HONEY; prey++)
    g_assert_cmpint (core_prey_fits (&c.state, &c.profile, NULL, NULL, prey), ==,
                     CORE_PREY_UNKNOWN);
  plan_case_clear (&c);
}

static void
test_offer (void)
{
  PlanCase c;
  measured (&c, 5, "measured|what=body|mm=30|sd=0.2");
  c.to = TODAY + 5;
  plan_case_run (&c);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_FEED);
  double body = core_body_now (&c.state, &c.profile, .5);
  g_assert_cmpuint (task->n_prey, >, 1);
  for (size_t i = 0; i < task->n_prey; i++)
    {
      g_assert_cmpfloat (task->prey[i].mm, <=, .5 * body);
      int n = (int) ceil (.35 * body / task->prey[i].mm - 1e-9);
      g_assert_cmpint (task->prey[i].n, ==, CLAMP (n, 1, 5));
    }
  g_assert_nonnull (plan_task_reason (task, "prey.size"));
  int first = task->prey[0].prey;

  /* The last three meals were the same: something else first. */
  g_autofree char *same = g_strdup_printf ("fed|prey=%s", core_prey_name (first));
  for (int i = 0; i < 3; i++)
    plan_case_say (&c, TODAY, same);
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_cmpint (task->prey[0].prey, !=, first);
  g_assert_nonnull (plan_task_reason (task, "prey.vary"));

  /* Refused twice far from the range: another, smaller one first. */
  g_autofree char *refused =
    g_strdup_printf ("fed|outcome=refused|prey=%s", core_prey_name (first));
  plan_case_say (&c, TODAY - 1, refused);
  plan_case_say (&c, TODAY, refused);
  plan_case_range (&c, TODAY + 15, TODAY + 25);
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_cmpfloat (task->prey[0].mm, <, core_prey_mm (first));
  g_assert_nonnull (plan_task_reason (task, "prey.smaller_first"));
  plan_case_clear (&c);

  /* Stage unknown: no length, no proposal; the task says so. */
  plan_case_init (&c, CORE_GROUP_HARDY, -1);
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_cmpuint (task->n_prey, ==, 0);
  g_assert_nonnull (plan_task_reason (task, "prey.measure_first"));
  plan_case_clear (&c);

  /* A kind that takes flying prey only is never offered anything else. */
  plan_case_init (&c, CORE_GROUP_DRY_HOT, 6);
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_FEED);
  g_assert_cmpuint (task->n_prey, >, 0);
  for (size_t i = 0; i < task->n_prey; i++)
    g_assert_cmpint (task->prey[i].prey, <=, CORE_PREY_MOTH);
  plan_case_clear (&c);
}

/* By the ladder of the trade: small flies for hatchlings, larger ones step by step. */
static void
test_ladder (void)
{
  double before = 0;
  for (int moults = 0; moults <= 7; moults++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HUMID, moults);
      plan_case_run (&c);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_FEED);
      g_assert_cmpuint (task->n_prey, >, 0);
      g_assert_cmpfloat (task->prey[0].mm, >=, before);
      if (moults == 0)
        g_assert_cmpint (task->prey[0].prey, <=, CORE_PREY_HYDEI);
      before = task->prey[0].mm;
      plan_case_clear (&c);
    }
  g_assert_cmpfloat (before, >, 10);
}

/* Meal, what followed, and whether it must come out. */
static const struct
{
  const char *meal, *then;
  int ago;
  bool out;
} OUT[] = {
  { "fed|prey=cricket", NULL, 0, true },
  { "fed|prey=roach", NULL, 1, true },
  { "fed|prey=locust", NULL, 3, true },
  { "fed|prey=mealworm", NULL, 8, false },
  { "fed|prey=house fly", NULL, 0, false },
  { "fed|prey=moth", NULL, 1, false },
  { "fed|prey=waxworm", NULL, 1, false },
  { "fed|prey=cricket|outcome=taken", NULL, 0, false },
  { "fed|prey=cricket|outcome=refused", NULL, 0, true },
  { "fed|prey=cricket", "gone", 1, false },
  { "fed|prey=cricket", "done|rule=take_out", 1, false },
  { "fed|prey=cricket", "sign|sign=pumping", 1, true },
  { "fed|prey=cricket", "moulted|outcome=fell", 1, true },
  { "fed|prey=other", "looked", 1, false },
  { "fed|prey=other", "moulted|outcome=fell", 1, true },
};

static void
test_take_out (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (OUT); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, 6);
      plan_case_say (&c, TODAY - OUT[i].ago, OUT[i].meal);
      if (OUT[i].then)
        plan_case_say (&c, TODAY, OUT[i].then);
      plan_case_run (&c);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_TAKE_OUT);
      g_assert_cmpint (task != NULL, ==, OUT[i].out);
      if (task)
        g_assert_cmpint (task->due, ==, TODAY - OUT[i].ago);
      if (OUT[i].then && !strcmp (OUT[i].then, "sign|sign=pumping"))
        {
          g_assert_nonnull (plan_task_reason (task, "take_out.sign"));
          g_assert_nonnull (plan_task_reason (task, "take_out.without_shaking"));
        }
      plan_case_clear (&c);
    }
}

#define GENERAL (-1)

static const struct
{
  int group; /* or the profile that stands in for a species not known */
  const char *said;
  int misted_ago, range, due; /* range 99 = none; due 99 = no task */
  const char *why;
} MIST[] = {
  { CORE_GROUP_HARDY, NULL, 0, 99, 2, "mist.interval" },
  { CORE_GROUP_HUMID, NULL, 0, 99, 1, "mist.interval" },
  { CORE_GROUP_DRY_HOT, NULL, 0, 99, 3, "mist.interval" },
  { CORE_GROUP_IDOLOMANTIS, NULL, 1, 99, 0, "mist.interval" },
  { CORE_GROUP_HARDY, "drank|eager=yes", 0, 99, 1, "mist.eager" },
  { CORE_GROUP_HARDY, "drank|eager=no", 0, 99, 2, "mist.interval" },
  { CORE_GROUP_HUMID, NULL, 0, -1, 1, "mist.keep_rhythm" },
  { CORE_GROUP_HARDY, NULL, 0, -1, 2, "mist.may_moult" },
  { CORE_GROUP_IDOLOMANTIS, NULL, 1, -1, 0, "mist.may_moult" },
  { GENERAL, NULL, 0, -1, 2, "mist.may_moult" },
  { CORE_GROUP_DRY_HOT, NULL, 5, -1, -1, "mist.before_moult" },
  { CORE_GROUP_DRY_HOT, NULL, 1, -1, 99, NULL },
  { CORE_GROUP_HARDY, "sign|sign=hanging", 2, -1, 0, "mist.far_wall" },
  { CORE_GROUP_HARDY, "set|key=interval.mist|value=7", 1, 99, 6, "mist.own_interval" },
};

static void
test_mist (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (MIST); i++)
    {
      PlanCase c;
      plan_case_init (&c, MIST[i].group == GENERAL ? CORE_GROUP_HARDY : MIST[i].group, 5);
      if (MIST[i].group == GENERAL)
        core_profile_init (&c.profile);
      plan_case_say (&c, TODAY - MIST[i].misted_ago, "misted");
      if (MIST[i].said)
        plan_case_say (&c, TODAY, MIST[i].said);
      if (MIST[i].range != 99)
        plan_case_range (&c, TODAY + MIST[i].range, TODAY + 9);
      c.to = TODAY + 8;
      plan_case_run (&c);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_MIST);
      g_assert_cmpint (task != NULL, ==, MIST[i].due != 99);
      if (task)
        {
          g_assert_cmpint (task->due - TODAY, ==, MIST[i].due);
          g_assert_cmpint (task->reach, ==, CORE_REACH_OUTSIDE);
          g_assert_nonnull (plan_task_reason (task, MIST[i].why));
          if (MIST[i].group != CORE_GROUP_HUMID) /* it is said to be one */
            g_assert_null (plan_task_reason (task, "mist.keep_rhythm"));
        }
      plan_case_clear (&c);
    }
}

static void
test_readings_and_water (void)
{
  PlanCase c;
  CoreReadingAt dry = { .day = TODAY - 1, .minute = -1, .t = 24, .rh = 20 };
  plan_case_init (&c, CORE_GROUP_HUMID, 5);
  c.profile.mist.a.v = 3;
  c.profile.mist.b.v = 4;
  c.has_place = true;
  c.place.place.readings.v = &dry;
  c.place.place.readings.n = 1;
  plan_case_say (&c, TODAY, "misted");
  c.to = TODAY + 9;
  plan_case_run (&c);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_MIST);
  g_assert_cmpint (task->due, ==, TODAY + 2);
  g_assert_cmpfloat (plan_task_reason (task, "mist.dry")->value, ==, 20);
  g_assert_null (plan_case_task (&c, CORE_TASK_WATER)); /* no damp substrate there */
  strcpy (c.place.place.substrate, "damp");
  plan_case_run (&c);
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_WATER));
  c.profile.damp_substrate = false;
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_WATER));
  c.place.place.readings.v = NULL;
  c.place.place.readings.n = 0;

  c.profile.winter_rest = true;
  plan_case_say (&c, TODAY, "set|key=rest|value=yes");
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_MIST));
  plan_case_clear (&c);
}

/* After a moult the lid stays shut as long as food must wait, and no longer. */
static void
test_lid_after_moult (void)
{
  for (int days = 0; days <= 6; days++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HUMID, 7);
      strcpy (c.place.place.substrate, "damp");
      c.has_place = true;
      plan_case_say (&c, TODAY - days, "moulted|to=adult"); /* food 4 days, touching 7 */
      plan_case_say (&c, TODAY - 20, "watered");
      c.to = TODAY + 9;
      plan_case_run (&c);
      const CoreHeld *held = plan_case_held (&c, CORE_TASK_WATER);
      const CoreTask *task = plan_case_task (&c, CORE_TASK_WATER);
      g_assert_cmpint (c.plan.hold.kind, ==, CORE_HOLD_AFTER);
      g_assert_cmpint (held != NULL, ==, days < 4);
      g_assert_cmpint (task->due - TODAY, ==, days < 4 ? 4 - days : -14);
      if (held)
        g_assert_cmpint (held->until, ==, TODAY - days + 3);
      plan_case_clear (&c);
    }
}

static void
test_shed (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_range (&c, TODAY + 2, TODAY + 6);
  c.to = TODAY + 20;
  plan_case_run (&c);
  int days = 0;
  for (size_t i = 0; i < c.plan.tasks.n; i++)
    days += c.plan.tasks.v[i].kind == CORE_TASK_SHED;
  g_assert_cmpint (days, ==, 5); /* daily inside the range, no longer */
  c.to = TODAY;
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_SHED));
  plan_case_range (&c, TODAY - 9, TODAY - 2); /* past it: open until a moult */
  plan_case_run (&c);
  g_assert_nonnull (plan_task_reason (plan_case_task (&c, CORE_TASK_SHED), "shed.past_range"));
  plan_case_say (&c, TODAY, "looked"); /* who looks at it sees its skin */
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_SHED));
  plan_case_clear (&c);
}

static void
test_home (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  plan_case_say (&c, TODAY - 30, "housed|height_mm=60|width_mm=60|depth_mm=60");
  plan_case_range (&c, TODAY + 8, TODAY + 14);
  c.to = TODAY + 8;
  plan_case_run (&c);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_HOME);
  g_assert_nonnull (task);
  g_assert_cmpint (task->latest, ==, TODAY + 5); /* three days before the range */
  g_assert_cmpint (task->reach, ==, CORE_REACH_TOUCH);
  CoreGrowth next = core_growth (&c.state, &c.profile, .5, CORE_DIM_BODY, 6);
  g_assert_cmpfloat_with_epsilon (plan_task_reason (task, "home.height")->value2, 3 * next.p90,
                                  1e-9);
  g_assert_nonnull (plan_task_reason (task, "home.measure_first"));

  plan_case_say (&c, TODAY, "measured|what=body|mm=40");
  plan_case_run (&c);
  g_assert_null (plan_task_reason (plan_case_task (&c, CORE_TASK_HOME), "home.measure_first"));

  c.to = TODAY + 30;
  plan_case_range (&c, TODAY + 1, TODAY + 7); /* too late for this moult: after it */
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_HOME);
  g_assert_nonnull (plan_task_reason (task, "home.too_late"));
  g_assert_cmpint (task->earliest, ==, TODAY + 10);
  g_assert_cmpint (task->reach, ==, CORE_REACH_TOUCH);

  /* Its range is long past: the days that are left to expect decide, if any are. */
  plan_case_range (&c, TODAY - 120, TODAY - 110);
  c.forecast.p10 = TODAY + 1;
  c.forecast.p90 = TODAY + 9;
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_HOME);
  g_assert_cmpint (plan_task_reason (task, "home.too_late")->day, ==, TODAY - 2);
  c.forecast.p10 = TODAY + 8;
  plan_case_run (&c);
  task = plan_case_task (&c, CORE_TASK_HOME);
  g_assert_cmpint (plan_task_reason (task, "home.last_day")->day, ==, TODAY + 5);
  g_assert_cmpint (plan_task_reason (task, "home.last_day")->code, ==, 1);
  c.forecast.not_normal = .6;
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_HOME));
  c.forecast.not_normal = 0;

  plan_case_range (&c, TODAY + 8, TODAY + 14);
  plan_case_say (&c, TODAY, "sign|sign=dull"); /* a moult sign holds it */
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_HOME));
  g_assert_nonnull (plan_held_reason (plan_case_held (&c, CORE_TASK_HOME), "hold.sign"));

  plan_case_say (&c, TODAY, "housed|height_mm=400|width_mm=200|depth_mm=200");
  plan_case_run (&c);
  g_assert_null (plan_case_held (&c, CORE_TASK_HOME));
  plan_case_clear (&c);

  plan_case_init (&c, CORE_GROUP_HARDY, 8); /* an adult moults no more */
  plan_case_say (&c, TODAY - 30, "housed|height_mm=60|width_mm=60|depth_mm=60");
  plan_case_say (&c, TODAY - 9, "stage|seen=adult");
  plan_case_run (&c);
  g_assert_null (plan_case_task (&c, CORE_TASK_HOME));
  plan_case_clear (&c);

  plan_case_init (&c, CORE_GROUP_HARDY, 0); /* too large for a hatchling */
  plan_case_say (&c, TODAY - 1, "housed|height_mm=400|width_mm=300|depth_mm=300");
  plan_case_run (&c);
  g_assert_nonnull (plan_task_reason (plan_case_task (&c, CORE_TASK_HOME), "home.too_large"));
  plan_case_clear (&c);
}

/* Stage, verdict, what was said, range, and whether a check is asked for. */
static const struct
{
  int moults;
  CoreVerdictWord verdict;
  const char *said;
  int range;
  bool task, held;
} CHECKS[] = {
  { 2, CORE_VERDICT_UNDECIDED, NULL, 99, false, false },
  { 3, CORE_VERDICT_UNDECIDED, NULL, 99, true, false },
  { 3, CORE_VERDICT_UNDECIDED, NULL, -1, false, true },
  { 5, CORE_VERDICT_LIKELY_MALE, NULL, 99, false, false },
  { 5, CORE_VERDICT_LIKELY_MALE, "set|key=purpose|value=pairing", 99, true, false },
  { 5, CORE_VERDICT_LIKELY_MALE, "set|key=purpose|value=sale", 99, true, false },
  { 5, CORE_VERDICT_FIRM_MALE, "set|key=purpose|value=pairing", 99, false, false },
  { 5, CORE_VERDICT_UNDECIDED, "set|key=sex_check|value=not_needed", 99, false, false },
  { 5, CORE_VERDICT_UNDECIDED, "done|rule=sex_check", 99, false, false },
  { 5, CORE_VERDICT_UNDECIDED, "sexed|sex=unknown|method=count", 99, false, false },
  { 5, CORE_VERDICT_UNDECIDED, "sexed|sex=female|method=claim", 99, true, false },
  { 5, CORE_VERDICT_UNDECIDED, "sign|sign=pumping", 99, false, true },
};

static void
test_sex_check (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (CHECKS); i++)
    {
      PlanCase c;
      plan_case_init (&c, CORE_GROUP_HARDY, CHECKS[i].moults);
      c.verdict.verdict = CHECKS[i].verdict;
      if (CHECKS[i].said)
        plan_case_say (&c, TODAY, CHECKS[i].said);
      if (CHECKS[i].range != 99)
        plan_case_range (&c, TODAY + CHECKS[i].range, TODAY + 9);
      plan_case_run (&c);
      g_assert_cmpint (plan_case_task (&c, CORE_TASK_SEX_CHECK) != NULL, ==, CHECKS[i].task);
      g_assert_cmpint (plan_case_held (&c, CORE_TASK_SEX_CHECK) != NULL, ==, CHECKS[i].held);
      plan_case_clear (&c);
    }
}

static void
test_shelf (void)
{
  PlanCase c;
  plan_case_init (&c, CORE_GROUP_HARDY, -1);
  journal_free (c.journal);
  c.journal = journal_new ();
  c.kind = CORE_SUBJECT_PLACE;
  plan_case_say (&c, TODAY - 9, "set|key=code|value=A");
  plan_case_run (&c);
  const CoreTask *task = plan_case_task (&c, CORE_TASK_CLEAN);
  g_assert_nonnull (task);
  g_assert_cmpint (task->due, ==, TODAY - 2);
  plan_case_say (&c, TODAY - 1, "cleaned");
  c.to = TODAY + 13;
  plan_case_run (&c);
  g_assert_cmpint (plan_case_task (&c, CORE_TASK_CLEAN)->due, ==, TODAY + 6);
  g_assert_null (plan_case_task (&c, CORE_TASK_CLIMATE));
  plan_case_say (&c, TODAY, "reading|t=36|rh=50");
  plan_case_run (&c);
  g_assert_cmpfloat (
    plan_task_reason (plan_case_task (&c, CORE_TASK_CLIMATE), "climate.hot")->value2, ==, 34);
  plan_case_clear (&c);
}

/* What looks dead today is looked at again, not fed. */
static void
test_no_care_of_the_dead (void)
{
  PlanCase c;

  plan_case_init (&c, CORE_GROUP_HARDY, 5);
  c.to = TODAY + 3;
  plan_case_say (&c, TODAY - 20, "fed|prey=house fly|n=2");
  plan_case_run (&c);
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_FEED));
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_MIST));
  plan_case_say (&c, TODAY, "looks_dead");
  plan_case_run (&c);
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_IS_DEAD));
  for (gsize i = 0; i < c.plan.tasks.n; i++)
    g_assert_true (c.plan.tasks.v[i].kind != CORE_TASK_FEED &&
                   c.plan.tasks.v[i].kind != CORE_TASK_MIST);
  plan_case_clear (&c);
}

/* Moulted out of a stage seen as sub-adult: its wings are asked for, no shed skin is. */
static void
test_probably_adult (void)
{
  PlanCase c;

  plan_case_init (&c, CORE_GROUP_HARDY, 7);
  plan_case_say (&c, TODAY - 20, "stage|seen=subadult");
  plan_case_say (&c, TODAY - 12, "moulted");
  plan_case_range (&c, TODAY - 1, TODAY + 5);
  plan_case_run (&c);
  g_assert_true (c.state.probably_adult);
  g_assert_null (plan_case_task (&c, CORE_TASK_SHED));
  g_assert_cmpint (plan_task_reason (plan_case_task (&c, CORE_TASK_LOOK), "look.wings")->day, ==,
                   TODAY - 12);
  plan_case_say (&c, TODAY - 2, "stage|seen=nymph");
  plan_case_run (&c);
  g_assert_nonnull (plan_case_task (&c, CORE_TASK_SHED));
  g_assert_null (plan_task_reason (plan_case_task (&c, CORE_TASK_LOOK), "look.wings"));
  plan_case_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/prey/outgrown", test_outgrown);
  g_test_add_func ("/prey/unknown", test_unknown);
  g_test_add_func ("/prey/lengths", test_lengths);
  g_test_add_func ("/prey/allergens", test_allergens);
  g_test_add_func ("/prey/fits", test_fits);
  g_test_add_func ("/prey/offer", test_offer);
  g_test_add_func ("/prey/ladder", test_ladder);
  g_test_add_func ("/care/take-out", test_take_out);
  g_test_add_func ("/care/mist", test_mist);
  g_test_add_func ("/care/readings-and-water", test_readings_and_water);
  g_test_add_func ("/care/lid-after-moult", test_lid_after_moult);
  g_test_add_func ("/care/shed", test_shed);
  g_test_add_func ("/care/home", test_home);
  g_test_add_func ("/care/sex-check", test_sex_check);
  g_test_add_func ("/care/shelf", test_shelf);
  g_test_add_func ("/care/none-of-the-dead", test_no_care_of_the_dead);
  g_test_add_func ("/care/probably-adult", test_probably_adult);
  return g_test_run ();
}
