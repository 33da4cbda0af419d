/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-rule-places.c — climate, heaters and cleaning of a shelf, one row a clause. */
#include "rule-case.h"

/* 22–28 by day, 17–22 by night, look at once above 34 and below 14: hardy kinds. */
static void
humid_ones (PlanCase *c)
{
  CoreProfile humid;

  core_profile_init (&humid);
  core_profile_group_defaults (&humid, CORE_GROUP_HUMID); /* 24–29, 19–22, above 32, below 17 */
  core_shelf_band_add (&c->band, &humid);
  core_shelf_band_add (&c->band, &c->profile);
  core_profile_clear (&humid);
}

static void
hot_ones (PlanCase *c)
{
  CoreProfile hot;

  core_profile_init (&hot);
  core_profile_group_defaults (&hot, CORE_GROUP_DRY_HOT); /* above 40 */
  core_shelf_band_add (&c->band, &hot);
  core_profile_clear (&hot);
}

static void
bare (PlanCase *c)
{
  c->bare = true;
}

#define PLACE .kind = CORE_SUBJECT_PLACE
#define HOURS(t)                                                                                   \
  "0 reading|minute=600|" t, "0 reading|minute=700|" t, "0 reading|minute=800|" t

static const RuleRow climate[] = {
  { "no reading", PLACE, .said = { "-9 set|key=name|value=A" }, .want = { "none climate" } },
  { "past look at once, hot", PLACE, .said = { "0 reading|t=35" },
    .want = { "task climate due=0 why=climate.hot" } },
  { "past look at once, cold", PLACE, .said = { "0 reading|t=13" },
    .want = { "task climate why=climate.cold" } },
  { "at the very end of it", PLACE, .said = { "0 reading|t=34" }, .want = { "none climate" } },
  { "hot at noon and well again", PLACE, .said = { "0 reading|minute=720|t=36", "0 reading|minute=900|t=25" },
    .want = { "task climate why=climate.hot" } },
  { "of yesterday", PLACE, .said = { "-1 reading|t=35" }, .want = { "task climate due=-1" } },
  { "of two days ago no more", PLACE, .said = { "-2 reading|t=35" }, .want = { "none climate" } },
  { "seen to", PLACE, .said = { "0 reading|t=35", "0 done|rule=climate" }, .want = { "none climate" } },
  { "and hot again after that", PLACE,
    .said = { "0 reading|minute=600|t=35", "0 done|rule=climate", "0 reading|minute=900|t=36" },
    .want = { "task climate why=climate.hot" } },
  { "inside a home it is said so", PLACE, .said = { "0 reading|t=36|inside=yes" },
    .want = { "task climate why=climate.hot" } },
  { "by the narrowest of what stands there", PLACE, .given = humid_ones, .said = { "0 reading|t=33" },
    .want = { "task climate why=climate.hot" } },
  { "where nothing stands nothing is in danger", PLACE, .given = bare, .said = { "0 reading|t=3" },
    .want = { "none climate" } },
  { "hot kinds alone bear more", PLACE, .given = hot_ones, .said = { "0 reading|t=37" },
    .want = { "none climate" } },

  { "over four hours too warm", PLACE,
    .said = { "0 reading|minute=600|t=30", "0 reading|minute=700|t=31", "0 reading|minute=800|t=30",
              "0 reading|minute=850|t=29" },
    .want = { "task climate due=0 latest=1 why=climate.band" } },
  { "less than four hours", PLACE, .said = { HOURS ("t=30") }, .want = { "none climate" } },
  { "nobody knows between readings far apart", PLACE,
    .said = { "0 reading|minute=480|t=30", "0 reading|minute=800|t=30", "0 reading|minute=1100|t=30" },
    .want = { "none climate" } },
  { "readings without a time show no hours", PLACE,
    .said = { "0 reading|t=30", "0 reading|t=30", "0 reading|t=30" }, .want = { "none climate" } },
  { "by night another band: 24 is warm", PLACE,
    .said = { "0 reading|minute=10|t=24", "0 reading|minute=120|t=24", "0 reading|minute=230|t=24",
              "0 reading|minute=300|t=24" },
    .want = { "task climate why=climate.band" } },
  { "by day the same is right", PLACE,
    .said = { "0 reading|minute=610|t=24", "0 reading|minute=720|t=24", "0 reading|minute=830|t=24",
              "0 reading|minute=900|t=24" },
    .want = { "none climate" } },
  { "too cold by night", PLACE,
    .said = { "0 reading|minute=10|t=15", "0 reading|minute=120|t=15", "0 reading|minute=230|t=15",
              "0 reading|minute=300|t=15" },
    .want = { "task climate why=climate.band" } },
  { "of the shelf and inside a home never together", PLACE,
    .said = { "0 reading|minute=600|t=30", "0 reading|minute=700|t=30|inside=yes",
              "0 reading|minute=720|t=30", "0 reading|minute=820|t=30|inside=yes",
              "0 reading|minute=840|t=30|inside=yes" },
    .want = { "none climate" } },
  { "hours seen to", PLACE,
    .said = { "0 reading|minute=600|t=30", "0 reading|minute=700|t=31", "0 reading|minute=800|t=30",
              "0 reading|minute=850|t=29", "0 done|rule=climate" },
    .want = { "none climate" } },
};

static void
test_climate (void)
{
  rule_rows_run (climate, G_N_ELEMENTS (climate));
}

static const RuleRow heat[] = {
  { "no heater", PLACE, .said = { "-9 set|key=name|value=A" }, .want = { "none heat" } },
  { "said to have none", PLACE, .said = { "-9 set|key=heater|value=none" }, .want = { "none heat" } },
  { "never checked", PLACE, .said = { "-9 set|key=heater|value=mat" },
    .want = { "task heat due=-9 reach=outside why=heat.never why=heat.caution" } },
  { "monthly", PLACE, .said = { "-90 set|key=heater|value=mat", "-25 done|rule=heat" },
    .want = { "task heat due=5 latest=8 why=heat.interval why=heat.caution not=heat.never" } },
  { "another heater is another one to check", PLACE,
    .said = { "-25 done|rule=heat", "-2 set|key=heater|value=lamp" },
    .want = { "task heat due=-2 why=heat.never" } },
  { "the keeper's own interval", PLACE,
    .said = { "-90 set|key=heater|value=mat", "-90 set|key=interval.heat|value=14", "-10 done|rule=heat" },
    .want = { "task heat due=4" } },
  { "a home has a heater of its own", PLACE,
    .said = { "-9 set|key=within|value=00000000-0000-7000-8000-000000000005", "-9 set|key=heater|value=lamp" },
    .want = { "task heat why=heat.never" } },
};

static void
test_heat (void)
{
  rule_rows_run (heat, G_N_ELEMENTS (heat));
}

static const RuleRow clean[] = {
  { "never cleaned: a week after it came into being", PLACE, .said = { "-3 set|key=name|value=A", "-3 looked" },
    .want = { "task clean due=4 reach=open why=clean.never" } },
  { "weekly", PLACE, .said = { "-5 cleaned" }, .want = { "days clean 2,9", "task clean latest=4 why=clean.interval" } },
  { "the keeper's own interval", PLACE, .said = { "-20 set|key=interval.clean|value=14", "-5 cleaned" },
    .want = { "task clean due=9 why=clean.own_interval" } },
  { "a home: its shelf asks", PLACE,
    .said = { "-9 set|key=within|value=00000000-0000-7000-8000-000000000005", "-9 cleaned" },
    .want = { "none clean" } },
};

static void
test_clean (void)
{
  rule_rows_run (clean, G_N_ELEMENTS (clean));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rule/climate", test_climate);
  g_test_add_func ("/rule/heat", test_heat);
  g_test_add_func ("/rule/clean", test_clean);
  return g_test_run ();
}
