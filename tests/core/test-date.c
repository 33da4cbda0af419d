/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-date.c — civil days and identifiers. */
#include <glib.h>

#include "core/core-date.h"

typedef struct
{
  const char *text;
  CoreDay day; /* CORE_DAY_NONE = refused */
  int weekday;
} DayRow;

/* Day numbers and weekdays: Python datetime.date (proleptic Gregorian). */
static const DayRow rows[] = {
  { "1970-01-01", 0, 3 },
  { "1969-12-31", -1, 2 },
  { "2000-02-29", 11016, 1 },
  { "2024-02-29", 19782, 3 },
  { "1900-02-28", -25509, 2 },
  { "2026-11-25", 20782, 2 },
  { "1583-01-01", -141349, 5 },
  { "9999-12-31", 2932896, 4 },
  { "1582-12-31", CORE_DAY_NONE, 0 },
  { "1900-02-29", CORE_DAY_NONE, 0 },
  { "2023-02-29", CORE_DAY_NONE, 0 },
  { "2100-02-29", CORE_DAY_NONE, 0 },
  { "2024-13-01", CORE_DAY_NONE, 0 },
  { "2024-00-10", CORE_DAY_NONE, 0 },
  { "2024-04-31", CORE_DAY_NONE, 0 },
  { "2024-04-00", CORE_DAY_NONE, 0 },
  { "2024-4-1", CORE_DAY_NONE, 0 },
  { "2024-04-01 ", CORE_DAY_NONE, 0 },
  { " 2024-04-01", CORE_DAY_NONE, 0 },
  { "2024/04/01", CORE_DAY_NONE, 0 },
  { "+024-04-01", CORE_DAY_NONE, 0 },
  { "99999-04-01", CORE_DAY_NONE, 0 },
  { "2024-04", CORE_DAY_NONE, 0 },
  { "2024-04-0\n", CORE_DAY_NONE, 0 },
  { "", CORE_DAY_NONE, 0 },
  { NULL, CORE_DAY_NONE, 0 },
};

static void
test_rows (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      char text[11];

      g_assert_cmpint (core_day_from_text (rows[i].text), ==, rows[i].day);
      if (rows[i].day == CORE_DAY_NONE)
        continue;
      core_day_to_text (rows[i].day, text);
      g_assert_cmpstr (text, ==, rows[i].text);
      g_assert_cmpint (core_day_weekday (rows[i].day), ==, rows[i].weekday);
    }
}

/* Every day of 1583 to 2600 against GLib's calendar. */
static void
test_against_glib (void)
{
  GDate date;
  CoreDay day = core_day_from_ymd (1583, 1, 1);

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 1, G_DATE_JANUARY, 1583);
  for (; g_date_get_year (&date) < 2600; g_date_add_days (&date, 1), day++)
    {
      int year, month, mday;

      core_day_to_ymd (day, &year, &month, &mday);
      g_assert_cmpint (year, ==, g_date_get_year (&date));
      g_assert_cmpint (month, ==, (int) g_date_get_month (&date));
      g_assert_cmpint (mday, ==, g_date_get_day (&date));
      g_assert_cmpint (core_day_from_ymd (year, month, mday), ==, day);
      g_assert_cmpint (core_day_weekday (day), ==, (int) g_date_get_weekday (&date) - 1);
    }
}

static void
test_outside (void)
{
  const CoreDay days[] = { CORE_DAY_NONE, INT32_MAX, -141350, 2932897 };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      char text[11] = "unchanged";

      core_day_to_text (days[i], text);
      g_assert_cmpstr (text, ==, "");
      g_assert_cmpint (core_day_weekday (days[i]), >=, 0);
      g_assert_cmpint (core_day_weekday (days[i]), <=, 6);
    }
}

/* Who stands on a day must be able to write what lies two years ahead. */
static void
test_today (void)
{
  g_assert_true (core_day_may_be_today (core_day_from_ymd (1583, 1, 1)));
  g_assert_true (core_day_may_be_today (core_day_from_ymd (9997, 12, 30)));
  g_assert_false (core_day_may_be_today (core_day_from_ymd (9998, 1, 1)));
  g_assert_false (core_day_may_be_today (core_day_from_ymd (9999, 12, 31)));
  g_assert_false (core_day_may_be_today (core_day_from_ymd (1583, 1, 1) - 1));
  g_assert_false (core_day_may_be_today (CORE_DAY_NONE));
  g_assert_false (core_day_may_be_today (INT32_MAX));
}

static void
test_id (void)
{
  static const char *const bad[] = { "",
                                     "0190a0b0-c0d0-7000-8000-00000000000",
                                     "0190a0b0-c0d0-7000-8000-0000000000011",
                                     "0190a0b0c0d070008000000000000001",
                                     "0190a0b0-c0d0-7000-8000-00000000000g",
                                     "0190a0b0-c0d07-000-8000-000000000001" };
  CoreId id, other;
  char text[37];

  g_assert_true (core_id_from_text ("0190A0b0-c0d0-7000-8000-0000000000ff", &id));
  core_id_to_text (id, text);
  g_assert_cmpstr (text, ==, "0190a0b0-c0d0-7000-8000-0000000000ff");
  g_assert_false (core_id_is_none (id));
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (core_id_from_text (bad[i], &other));
  g_assert_false (core_id_from_text (NULL, &other));
  g_assert_true (core_id_from_text ("0190a0b1-c0d0-7000-8000-000000000000", &other));
  g_assert_cmpint (core_id_compare (id, other), ==, -1);
  g_assert_cmpint (core_id_compare (other, id), ==, 1);
  g_assert_cmpint (core_id_compare (id, id), ==, 0);
  g_assert_true (core_id_equal (id, id));
  g_assert_true (core_id_is_none ((CoreId){ 0 }));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/date/rows", test_rows);
  g_test_add_func ("/core/date/against-glib", test_against_glib);
  g_test_add_func ("/core/date/outside", test_outside);
  g_test_add_func ("/core/date/today", test_today);
  g_test_add_func ("/core/id/text", test_id);
  return g_test_run ();
}
