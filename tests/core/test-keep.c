/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-keep.c — seven daily backups and eight weekly ones. */
#include <glib.h>
#include <string.h>

#include "core/core-date.h"
#include "core/core-keep.h"

#define MAX_DAYS 900

/* Each row: days there are, and what becomes of each: d w - + in the same order. */
typedef struct
{
  const char *name;
  const char *today;
  const char *days;
  const char *wanted;
} Case;

static const Case cases[] = {
  { "none", "2026-06-14", "", "" },
  { "one", "2026-06-14", "2026-06-14", "d" },
  { "one-old", "2026-06-14", "2019-01-01", "d" },
  { "seven", "2026-06-14",
    "2026-06-08 2026-06-09 2026-06-10 2026-06-11 2026-06-12 2026-06-13 2026-06-14", "ddddddd" },
  /* 2026-06-07 is a Sunday: the eighth is the last of its week. */
  { "eight", "2026-06-14",
    "2026-06-07 2026-06-08 2026-06-09 2026-06-10 2026-06-11 2026-06-12 2026-06-13 2026-06-14",
    "wddddddd" },
  /* Of two before the daily ones in one week the later stays. */
  { "same-week", "2026-06-14",
    "2026-06-06 2026-06-07 2026-06-08 2026-06-09 2026-06-10 2026-06-11 2026-06-12 2026-06-13 "
    "2026-06-14",
    "-wddddddd" },
  /* In any order. */
  { "order", "2026-06-14",
    "2026-06-14 2026-06-06 2026-06-13 2026-06-08 2026-06-07 2026-06-12 2026-06-09 2026-06-11 "
    "2026-06-10",
    "d-ddwdddd" },
  /* The clock was ahead once: those are neither counted nor removed. */
  { "ahead", "2026-06-14",
    "2026-06-07 2026-06-08 2026-06-09 2026-06-10 2026-06-11 2026-06-12 2026-06-13 2026-06-14 "
    "2031-01-01 2026-06-15",
    "wddddddd++" },
  /* Once a month: seven by the day, eight more by the week, the rest may go. */
  { "monthly", "2026-06-01",
    "2025-02-01 2025-03-01 2025-04-01 2025-05-01 2025-06-01 2025-07-01 2025-08-01 2025-09-01 "
    "2025-10-01 2025-11-01 2025-12-01 2026-01-01 2026-02-01 2026-03-01 2026-04-01 2026-05-01 "
    "2026-06-01",
    "--wwwwwwwwddddddd" },
};

static void
test_case (gconstpointer data)
{
  const Case *c = data;
  g_auto (GStrv) texts = g_strsplit (c->days, " ", -1);
  gsize n = c->days[0] != '\0' ? g_strv_length (texts) : 0;
  CoreDay days[MAX_DAYS];
  CoreKeep keep[MAX_DAYS];
  g_autofree char *got = g_strnfill (n, '?');

  for (gsize i = 0; i < n; i++)
    {
      days[i] = core_day_from_text (texts[i]);
      g_assert_cmpint (days[i], !=, CORE_DAY_NONE);
    }
  core_keep (days, n, core_day_from_text (c->today), keep);
  for (gsize i = 0; i < n; i++)
    got[i] = "-dw+"[keep[i]];
  g_assert_cmpstr (got, ==, c->wanted);
}

/* One a day for two years, removing as told each day: never more than fifteen, the last seven
 * days are all there, and each of the eight weeks before has its last day. */
static void
test_daily (void)
{
  CoreDay first = core_day_from_text ("2024-11-05");
  CoreDay days[32];
  CoreKeep keep[32];
  gsize n = 0;

  for (CoreDay today = first; today < first + 730; today++)
    {
      gsize kept = 0, daily = 0, weekly = 0;

      days[n++] = today;
      core_keep (days, n, today, keep);
      for (gsize i = 0; i < n; i++)
        if (keep[i] != CORE_KEEP_NOT)
          {
            daily += keep[i] == CORE_KEEP_DAILY;
            weekly += keep[i] == CORE_KEEP_WEEKLY;
            if (keep[i] == CORE_KEEP_DAILY)
              g_assert_cmpint (today - days[i], <, 7);
            /* Only the week that the daily ones reach into may end early. */
            else if (days[i] + 7 < today - 6)
              g_assert_cmpint (core_day_weekday (days[i]), ==, 6);
            days[kept++] = days[i];
          }
      n = kept;
      g_assert_cmpuint (daily, ==, MIN (7, (gsize) (today - first + 1)));
      g_assert_cmpuint (weekly, <=, 8);
      if (today - first > 80)
        g_assert_cmpuint (weekly, ==, 8);
      g_assert_cmpint (days[n - 1], ==, today);
    }
}

/* What may go today is nothing that tomorrow would have kept: removing in between or not, the
 * same days are left. */
static void
test_removing_loses_nothing (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20);
  CoreDay all[MAX_DAYS], days[64];
  CoreKeep keep_all[MAX_DAYS], keep[64];
  gsize n_all = 0, n = 0;
  CoreDay today = core_day_from_text ("2025-01-01");

  for (int turn = 0; turn < 400; turn++)
    {
      gsize kept = 0, at = 0;

      today += g_rand_int_range (rand, 1, g_rand_int_range (rand, 2, 12));
      all[n_all++] = days[n++] = today;
      core_keep (all, n_all, today, keep_all);
      core_keep (days, n, today, keep);
      for (gsize i = 0; i < n; i++)
        if (keep[i] != CORE_KEEP_NOT)
          days[kept++] = days[i];
      n = kept;
      for (gsize i = 0; i < n_all; i++)
        if (keep_all[i] != CORE_KEEP_NOT)
          {
            g_assert_cmpuint (at, <, n);
            g_assert_cmpint (days[at++], ==, all[i]);
          }
      g_assert_cmpuint (at, ==, n);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/core/keep/%s", cases[i].name);

      g_test_add_data_func (path, &cases[i], test_case);
    }
  g_test_add_func ("/core/keep/daily", test_daily);
  g_test_add_func ("/core/keep/removing-loses-nothing", test_removing_loses_nothing);
  return g_test_run ();
}
