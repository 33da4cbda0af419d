/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-readings.c — files of loggers: understood, asked about, or refused with the line and the reason. */
#include <glib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "exchange/exch-readings.h"

#define TODAY core_day_from_ymd (2026, 6, 30)

static ExchTable *
table_of (const char *text, gsize length, ReadingsProblem *problem, char **about)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, length);

  return exch_table_new (bytes, problem, about);
}

static ExchReadings *
read_all (ExchTable *table, const ExchMapping *mapping, const char *home, const char *zone)
{
  g_autoptr (GTimeZone) at_home = g_time_zone_new_identifier (home);
  g_autoptr (GTimeZone) of_file = zone != NULL ? g_time_zone_new_identifier (zone) : NULL;
  ExchClock clock = { at_home, of_file, TODAY };

  return exch_readings_new (table, mapping, &clock, NULL);
}

static gint64
wall (int year, int month, int day, int hour, int minute, int second)
{
  return (gint64) core_day_from_ymd (year, month, day) * CORE_SERIES_DAY + hour * 3600 + minute * 60 +
         second;
}

/* ---- understood without a question ---- */

typedef struct
{
  const char *name, *text;
  gsize length; /* 0 = to its '\0' */
  int n;        /* readings */
  int bad;
  gint64 first; /* of 14 June 2026, seconds */
  double t, rh; /* of the first */
} GoodRow;

static const GoodRow good[] = {
  { "semicolons, decimal comma, a line before", "Ger\xc3\xa4t 1\n\nZeit;Temperatur \xc2\xb0" "C;Feuchte %\n"
    "14.06.2026 12:30;23,5;55,1\n14.06.2026 12:40;23,6;55\n", 0, 2, 0, 45000, 23.5, 55.1 },
  { "one byte a letter", "Zeit;Temperatur \xb0" "C;rel. Feuchte\n14.06.2026 12:30;23,5;55,1\n", 0, 1, 0, 45000, 23.5, 55.1 },
  { "commas, points, ISO", "time,temp (C),rh\n2026-06-14T12:30:05,23.5,55\n", 0, 1, 0, 45005, 23.5, 55 },
  { "a mark at the head", "\xef\xbb\xbftime,temp (C)\n2026-06-14 12:30,23.5\n", 0, 1, 0, 45000, 23.5, NAN },
  { "quoted, comma inside", "\"time\",\"temp [C]\",\"humidity\"\n\"2026-06-14 12:30\",\"23,5\",\"55,2\"\n", 0, 1, 0, 45000, 23.5, 55.2 },
  { "date and time apart, °F, half days", "Date,Time,Temp(F),Hum(%)\n06/14/2026,12:30:00 PM,77.0,55\n06/14/2026,1:00 pm,78.8,54\n", 0, 2, 0, 45000, 25, 55 },
  { "tabs, old line ends, two-digit year", "No\ttime\ttemp \xc2\xb0" "C\rx\t14.06.26 12:30\t23.5\r", 0, 1, 0, 45000, 23.5, NAN },
  { "no heading, units in the cells", "2026-06-14 12:30|23.5 \xc2\xb0" "C|55 %\n", 0, 1, 0, 45000, 23.5, 55 },
  { "dew point is no temperature", "time;dew point \xc2\xb0" "C;temp \xc2\xb0" "C;hum\n2026-06-14 12:30;13.9;23.5;55\n", 0, 1, 0, 45000, 23.5, 55 },
  { "humidity alone", "time;humidity\n2026-06-14 12:30;55\n", 0, 1, 0, 45000, NAN, 55 },
  { "epoch seconds", "ts,temp_c\n1781440200,23.5\n", 0, 1, 0, 45000 , 23.5, NAN },
  { "with its own zone", "time,temp_c\n2026-06-14T13:30:00+01:00,23.5\n", 0, 1, 0, 45000, 23.5, NAN },
  { "thousandths and Z", "time,temp_c\n2026-06-14T12:30:00.123Z,23.5\n", 0, 1, 0, 45000, 23.5, NAN },
  { "no value in a line", "time,temp_c,rh\n2026-06-14 12:30,23.5,55\n2026-06-14 12:40,--,NaN\n", 0, 1, 1, 45000, 23.5, 55 },
  { "no value in the first lines", "time;temp_c;rh\n2026-06-14 12:10;--;--\n2026-06-14 12:20;nan;NaN\n2026-06-14 12:30;23.5;55\n", 0, 1, 2, 45000, 23.5, 55 },
  { "a day in the lines before the heading", "Logger 1\nread;2026-06-14 13:00\ntime;temp_c;rh\n2026-06-14 12:30;23.5;55\n", 0, 1, 0, 45000, 23.5, 55 },
  { "the unit as the last word", "Time;Temperature C;Humidity\n2026-06-14 12:30;23,5;55\n", 0, 1, 0, 45000, 23.5, 55 },
  { "the last line is cut off", "time;temp_c;rh\n2026-06-14 12:30;23.5;55\n2026-06-14 12:4", 0, 1, 1, 45000, 23.5, 55 },
  { "an open quotation", "time;temp_c;rh\n2026-06-14 12:30;23.5;55\n\"2026-06-14 12:40;23;55\n", 0, 1, 1, 45000, 23.5, 55 },
  { "no such day, no such hour", "time;temp_c\n2026-06-14 12:30;23.5\n2026-02-30 12:40;23\n2026-06-14 25:00;23\n", 0, 1, 2, 45000, 23.5, NAN },
  { "out of range", "time;temp_c;rh\n2026-06-14 12:30;23.5;55\n2026-06-14 12:40;999;55\n2026-06-14 12:50;23;101\n", 0, 1, 2, 45000, 23.5, 55 },
  { "the future", "time;temp_c\n2026-06-14 12:30;23.5\n2026-07-01 00:00;23\n1960-01-01 10:00;9\n", 0, 1, 2, 45000, 23.5, NAN },
  { "numbers that are none", "time;temp_c\n2026-06-14 12:30;23.5\n2026-06-14 12:40;2e3\n2026-06-14 12:50;0x17\n2026-06-14 12:55;1.2.3\n", 0, 1, 3, 45000, 23.5, NAN },
  { "24:00 is the next day's midnight", "time;temp_c\n2026-06-13 24:00;23.5\n", 0, 1, 0, 0, 23.5, NAN },
  { "UTF-16", "\xff\xfet\0;\0t\0e\0m\0p\0_\0c\0\n\0" "2\0" "0\0" "2\0" "6\0-\0" "0\0" "6\0-\0" "1\0" "4\0 \0" "1\0" "2\0:\0" "3\0" "0\0;\0" "2\0" "3\0\n\0", 60, 1, 0, 45000, 23, NAN },
};

static void
test_good (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      const GoodRow *row = &good[i];
      ReadingsProblem problem;
      g_autofree char *about = NULL;
      g_autofree char *more = NULL;
      gsize length = row->length > 0 ? row->length : strlen (row->text);
      g_autoptr (ExchTable) table = table_of (row->text, length, &problem, &about);
      g_autoptr (ExchReadings) all = NULL;
      const CoreMoment *first;

      g_test_message ("%s", row->name);
      g_assert_cmpint (problem, ==, READINGS_OK);
      g_assert_nonnull (table);
      g_assert_cmpint (exch_table_asks (table, exch_table_guess (table), &about, &more), ==, READINGS_OK);
      all = read_all (table, exch_table_guess (table), "UTC", NULL);
      g_assert_cmpuint (all->moments->len, ==, (guint) row->n);
      g_assert_cmpuint (all->n_bad, ==, (guint) row->bad);
      first = &g_array_index (all->moments, CoreMoment, 0);
      g_assert_cmpint (first->at, ==, wall (2026, 6, 14, 0, 0, 0) + row->first);
      g_assert_true (isnan (row->t) ? isnan (first->t) : fabs (first->t - row->t) < 1e-4);
      g_assert_true (isnan (row->rh) ? isnan (first->rh) : fabs (first->rh - row->rh) < 1e-4);
    }
}

/* ---- asked, never guessed ---- */

static const struct
{
  const char *name, *text;
  ReadingsProblem asks;
} asked[] = {
  { "°C or °F", "time;temperature\n2026-06-14 12:30;45\n", READINGS_ASK_UNIT },
  { "3 April or 4 March", "time;temp_c\n03/04/2026 12:30;23\n", READINGS_ASK_ORDER },
  { "no headings", "2026-06-14 12:30;23;55\n", READINGS_ASK_COLUMNS },
  { "a later line tells", "time;temp_c\n03/04/2026 12:30;23\n03/14/2026 12:30;23\n", READINGS_OK },
};

static void
test_asked (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      ReadingsProblem problem;
      g_autofree char *about = NULL;
      g_autofree char *more = NULL;
      g_autoptr (ExchTable) table =
        table_of (asked[i].text, strlen (asked[i].text), &problem, &about);

      g_test_message ("%s", asked[i].name);
      g_assert_nonnull (table);
      g_assert_cmpint (exch_table_asks (table, exch_table_guess (table), &about, &more), ==,
                       asked[i].asks);
    }
}

/* ---- refused as a whole ---- */

static const struct
{
  const char *name, *text;
  gsize length;
  ReadingsProblem problem;
  const char *about;
} refused[] = {
  { "empty", "", 0, READINGS_EMPTY, NULL },
  { "a mark and nothing", "\xef\xbb\xbf", 3, READINGS_EMPTY, NULL },
  { "a letter to the keeper", "Dear diary,\nall is well.\n", 25, READINGS_NO_TABLE, NULL },
  { "a picture", "\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16, READINGS_BINARY, "3" },
  { "NUL in the middle", "time;t\n2026-06-14 12:30;2\0\n", 26, READINGS_BINARY, "2" },
  { "half a UTF-16 letter", "\xff\xfet\0;", 5, READINGS_LETTERS, NULL },
  { "commas for both", "time,temp_c\n14.06.2026 12:30,23,5\n", 34, READINGS_COMMAS, NULL },
  { "times without values", "time;note\n2026-06-14 12:30;warm\n", 32, READINGS_NO_TABLE, NULL },
  { "dew points alone", "time;dew\n2026-06-14 12:30;12\n", 29, READINGS_NO_VALUES, NULL },
};

static void
test_refused (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      ReadingsProblem problem;
      g_autofree char *about = NULL;
      g_autoptr (ExchTable) table =
        table_of (refused[i].text, refused[i].length, &problem, &about);

      g_test_message ("%s", refused[i].name);
      g_assert_null (table);
      g_assert_cmpint (problem, ==, refused[i].problem);
      g_assert_cmpstr (about, ==, refused[i].about);
    }
}

/* The line is the one that an editor shows, with what stands there. */
static void
test_bad_lines_are_named (void)
{
  static const char text[] = "Logger 7\r\n\r\ntime;temp_c\r\n2026-06-14 12:30;23\r\n\r\nrubbish;x\r\n"
                             "2026-06-14 12:40;warm\r\n2026-06-14 12:50\r\n";
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autoptr (ExchTable) table = table_of (text, strlen (text), &problem, &about);
  g_autoptr (ExchReadings) all = read_all (table, exch_table_guess (table), "UTC", NULL);
  const ExchBadRow *bad = (const ExchBadRow *) (const void *) all->bad->data;

  g_assert_cmpuint (all->bad->len, ==, 3);
  g_assert_cmpuint (bad[0].line, ==, 6);
  g_assert_cmpint (bad[0].why, ==, READINGS_ROW_TIME);
  g_assert_cmpstr (bad[0].about, ==, "rubbish");
  g_assert_cmpuint (bad[1].line, ==, 7);
  g_assert_cmpint (bad[1].why, ==, READINGS_ROW_NUMBER);
  g_assert_cmpuint (bad[2].line, ==, 8);
  g_assert_cmpint (bad[2].why, ==, READINGS_ROW_SHORT);
  g_assert_cmpuint (all->rows, ==, 4);
}

/* Order, repetitions, contradictions, gaps. */
static void
test_repetitions (void)
{
  static const char text[] = "time;temp_c\n2026-06-14 12:20;22\n2026-06-14 12:00;20\n2026-06-14 12:10;21\n"
                             "2026-06-14 12:00;20\n2026-06-14 12:10;29\n2026-06-14 18:00;25\n";
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autoptr (ExchTable) table = table_of (text, strlen (text), &problem, &about);
  g_autoptr (ExchReadings) all = read_all (table, exch_table_guess (table), "UTC", NULL);
  const CoreMoment *v = (const CoreMoment *) (const void *) all->moments->data;

  g_assert_cmpuint (all->moments->len, ==, 4);
  g_assert_cmpuint (all->duplicates, ==, 1);
  g_assert_cmpuint (all->contradictions, ==, 1);
  g_assert_cmpuint (all->n_gaps, ==, 1);
  g_assert_cmpint (g_array_index (all->gaps, ExchGap, 0).from, ==, v[2].at);
  for (guint i = 0; i < 3; i++)
    g_assert_cmpfloat (v[i].t, ==, 20 + (float) i);
}

/* Berlin: on 29 March 2026 the clock goes from 2 to 3, on 25 October 2025 + 1 from 3 back to 2. */
static void
test_summer_time (void)
{
  static const char utc[] = "time;temp_c\n2026-03-29 00:30;20\n2026-03-29 01:30;21\n";
  static const char wall_clock[] = "time;temp_c\n2025-10-26 02:30;20\n2025-10-26 02:30;18\n"
                                   "2025-10-26 04:30;19\n2025-10-26 04:30;17\n";
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autoptr (ExchTable) spring = table_of (utc, strlen (utc), &problem, &about);
  g_autoptr (ExchTable) autumn = table_of (wall_clock, strlen (wall_clock), &problem, &about);
  g_autoptr (ExchReadings) a = read_all (spring, exch_table_guess (spring), "Europe/Berlin", "UTC");
  g_autoptr (ExchReadings) b = read_all (autumn, exch_table_guess (autumn), "Europe/Berlin", NULL);

  g_assert_cmpint (g_array_index (a->moments, CoreMoment, 0).at, ==, wall (2026, 3, 29, 1, 30, 0));
  g_assert_cmpint (g_array_index (a->moments, CoreMoment, 1).at, ==, wall (2026, 3, 29, 3, 30, 0));
  g_assert_cmpuint (b->moments->len, ==, 3); /* that hour there is twice, the other not */
  g_assert_cmpuint (b->contradictions, ==, 1);
}

/* What is written is read back the same. */
static void
test_out_and_in (void)
{
  CoreMoment moments[200];
  g_autoptr (GString) text = g_string_new (NULL);
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autofree char *more = NULL;
  g_autoptr (ExchTable) table = NULL;
  g_autoptr (ExchReadings) all = NULL;

  for (int i = 0; i < 200; i++)
    moments[i] = (CoreMoment){ wall (2026, 2, 28, 20, 0, 0) + i * 301,
                               i % 5 == 4 ? NAN : (float) (20 + i) / 10, i % 7 == 5 && i % 5 != 4 ? NAN : (float) i / 2 };
  exch_readings_write (text, moments, 200, TRUE);
  table = table_of (text->str, text->len, &problem, &about);
  g_assert_cmpint (exch_table_asks (table, exch_table_guess (table), &about, &more), ==, READINGS_OK);
  all = read_all (table, exch_table_guess (table), "Europe/Berlin", NULL);
  g_assert_cmpuint (all->moments->len, ==, 200);
  for (guint i = 0; i < 200; i++)
    {
      const CoreMoment *m = &g_array_index (all->moments, CoreMoment, i);

      g_assert_cmpint (m->at, ==, moments[i].at);
      g_assert_true (isnan (moments[i].t) ? isnan (m->t) : fabsf (m->t - moments[i].t) < .006f);
      g_assert_true (isnan (moments[i].rh) ? isnan (m->rh) : fabsf (m->rh - moments[i].rh) < .06f);
    }
}

static void
test_columns (void)
{
  static const char text[] = "When;Temp inside \xc2\xb0" "C;Temp outside \xc2\xb0" "C;Humidity\n2026-06-14 12:30;23;11;55\n";
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autoptr (ExchTable) table = table_of (text, strlen (text), &problem, &about);

  g_assert_cmpint (exch_table_column (table, "temp outside \xc2\xb0" "c"), ==, 2);
  g_assert_cmpint (exch_table_column (table, "hum"), ==, 3);
  g_assert_cmpint (exch_table_column (table, "temp"), ==, -1); /* two begin so */
  g_assert_cmpint (exch_table_column (table, "4"), ==, 3);
  g_assert_cmpint (exch_table_column (table, "5"), ==, -1);
  g_assert_cmpint (exch_table_column (table, ""), ==, -1);
}

/* ---- the zone that the head of the file names ---- */

static const struct
{
  const char *head, *name; /* NULL = none */
  gboolean certain, has_offset;
  int minutes;
} zones[] = {
  { "Date Time, GMT+05:00", "GMT+05:00", TRUE, TRUE, 300 },
  { "Date Time, GMT-04:00", "GMT-04:00", TRUE, TRUE, -240 },
  { "Time (UTC)", "UTC", TRUE, TRUE, 0 },
  { "utc", "utc", TRUE, TRUE, 0 },
  { "UTC +2", "UTC +2", TRUE, TRUE, 120 },
  { "time [+0530]", "+0530", TRUE, TRUE, 330 },
  { "UTC\xe2\x88\x92" "3", "UTC\xe2\x88\x92" "3", TRUE, TRUE, -180 },
  { "Date-Time (CEST)", "CEST", FALSE, TRUE, 120 },
  { "Zeit (MEZ)", "MEZ", FALSE, TRUE, 60 },
  { "Time, BST", "BST", FALSE, FALSE, 0 },
  { "CET / CEST", "CET", FALSE, FALSE, 60 },
  { "Time", NULL, FALSE, FALSE, 0 },
  { "best time", NULL, FALSE, FALSE, 0 },
  { "timestamp 10:00-12:00", NULL, FALSE, FALSE, 0 },
  { "GMTX", NULL, FALSE, FALSE, 0 },
};

static void
test_zone_names (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (zones); i++)
    {
      ExchZone zone;
      gboolean found = exch_zone_find (zones[i].head, strlen (zones[i].head), &zone);

      g_test_message ("%s", zones[i].head);
      g_assert_cmpint (found, ==, zones[i].name != NULL);
      if (!found)
        continue;
      g_assert_cmpstr (zone.name, ==, zones[i].name);
      g_assert_cmpint (zone.certain, ==, zones[i].certain);
      g_assert_cmpint (zone.has_offset, ==, zones[i].has_offset);
      g_assert_cmpint (zone.offset / 60, ==, zones[i].minutes);
    }
}

static gboolean
zone_of_table (const char *text, ExchZone *zone)
{
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autoptr (ExchTable) table = table_of (text, strlen (text), &problem, &about);

  g_assert_nonnull (table);
  return exch_table_zone (table, exch_table_guess (table), zone);
}

static void
test_zone_of_table (void)
{
  ExchZone zone;

  g_assert_true (zone_of_table ("\"Date Time, GMT+05:00\",\"Temp, °C\"\n2026-06-14 10:00,23.5\n", &zone));
  g_assert_cmpint (zone.offset, ==, 5 * 3600);
  g_assert_true (zone_of_table ("Zone: UTC+2\ntime;temp °C\n2026-06-14 10:00;23.5\n", &zone));
  g_assert_cmpint (zone.offset, ==, 2 * 3600);
  /* Another column's zone is none of these times; those that have one need none. */
  g_assert_false (zone_of_table ("time;temp °C;time UTC\n2026-06-14 10:00;23.5;2026-06-14 08:00\n", &zone));
  g_assert_false (zone_of_table ("time (UTC);temp °C\n2026-06-14T10:00+02:00;23.5\n", &zone));
}

/* The clocks went forward at 2:00 on 29 March 2026 in Berlin: half past two was on none of them. */
static void
test_hour_left_out (void)
{
  static const char text[] = "time;temp °C\n2026-03-29 01:30;20\n2026-03-29 02:30;21\n2026-03-29 03:30;22\n";
  static const char *const berlin = "Europe/Berlin";
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autoptr (ExchTable) table = table_of (text, strlen (text), &problem, &about);
  g_autoptr (ExchReadings) at_home = read_all (table, exch_table_guess (table), berlin, NULL);
  g_autoptr (ExchReadings) named = read_all (table, exch_table_guess (table), "UTC", berlin);
  g_autoptr (ExchReadings) winter = read_all (table, exch_table_guess (table), berlin, "+01:00");

  g_assert_cmpuint (at_home->n_bad, ==, 1);
  g_assert_cmpint (g_array_index (at_home->bad, ExchBadRow, 0).why, ==, READINGS_ROW_SKIPPED);
  g_assert_cmpuint (named->n_bad, ==, 1);
  g_assert_cmpint (g_array_index (named->moments, CoreMoment, 1).at, ==, wall (2026, 3, 29, 1, 30, 0));
  g_assert_cmpuint (winter->n_bad, ==, 0);
  g_assert_cmpint (g_array_index (winter->moments, CoreMoment, 1).at, ==, wall (2026, 3, 29, 3, 30, 0));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/readings/good", test_good);
  g_test_add_func ("/readings/asked", test_asked);
  g_test_add_func ("/readings/refused", test_refused);
  g_test_add_func ("/readings/bad-lines", test_bad_lines_are_named);
  g_test_add_func ("/readings/repetitions", test_repetitions);
  g_test_add_func ("/readings/summer-time", test_summer_time);
  g_test_add_func ("/readings/out-and-in", test_out_and_in);
  g_test_add_func ("/readings/columns", test_columns);
  g_test_add_func ("/readings/zone/names", test_zone_names);
  g_test_add_func ("/readings/zone/table", test_zone_of_table);
  g_test_add_func ("/readings/zone/hour-left-out", test_hour_left_out);
  return g_test_run ();
}
