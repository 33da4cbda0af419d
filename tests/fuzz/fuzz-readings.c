/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz-readings.c — whatever a logger's file holds: it is refused with a reason, or every line is a
 * reading, a repetition or a bad line; what comes out is in order, in range, and can be packed and
 * read back the same. Also with columns, units and orders that the file does not mean. */
#include "fuzz-driver.h"

#include <glib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "exchange/exch-readings.h"

static const char *const scraps[] = {
  "time", "temp_c", "Temperatur \xc2\xb0" "C", "rh", "%", "\xb0" "F", ";", ",", "\t", "|", "\n", "\r\n", "\r", "\"",
  "\"\"", "2026-06-14", "14.06.2026", "06/14/2026", "3/4/26", "12:30", "24:00", "12:30:05 PM", "T", "Z", "+02:00",
  "-14:00", "1781440200", "1781440200123", "23,5", "23.5", "-40", "1e9", "99999999999", "NaN", "--", " ", "\xff\xfe",
  "\xef\xbb\xbf", "0", "2026-06-14 12:30;23,5;55\n", "2026-03-29 02:30,1,2\n", "2025-10-26 02:30,1,2\n",
  "GMT+05:00", "UTC", "(CEST)", "(+02:00)", "\xe2\x88\x92", NULL
};

static GTimeZone *zones[3]; /* home, UTC, one far away */
static CoreDay today;

static void
check_words (ReadingsProblem problem, const char *about)
{
  g_autofree char *said = words_readings_problem (WORDS_LOCAL, problem, about, NULL);

  g_assert_cmpint (problem, >, READINGS_OK);
  g_assert_cmpint (problem, <, READINGS_N_PROBLEMS);
  g_assert_true (g_utf8_validate (said, -1, NULL));
}

static void
check_table (ExchTable *table)
{
  const ExchMapping *guess = exch_table_guess (table);
  int n = (int) exch_table_n_columns (table);
  g_autofree char *headings = exch_table_headings (table);
  g_autofree char *about = NULL;
  g_autofree char *more = NULL;
  ExchZone zone;

  g_assert_cmpint (n, >, 1);
  g_assert_cmpint (n, <=, EXCH_READINGS_MAX_COLUMNS);
  g_assert_true (guess->time >= 0 && guess->time < n && guess->clock < n && guess->t < n && guess->rh < n);
  g_assert_true (guess->t >= 0 || guess->rh >= 0);
  g_assert_true (g_utf8_validate (headings, -1, NULL));
  (void) exch_table_asks (table, guess, &about, &more);
  if (exch_table_zone (table, guess, &zone))
    {
      g_assert_true (zone.name[0] != '\0' && g_utf8_validate (zone.name, -1, NULL));
      g_assert_cmpint (ABS (zone.offset), <=, 15 * 3600);
      g_assert_true (zone.has_offset || !zone.certain);
    }
}

/* What the file means, or anything else that a person can say. */
static ExchMapping
mapping_of (ExchTable *table, uint32_t salt)
{
  ExchMapping mapping = *exch_table_guess (table);
  int n = (int) exch_table_n_columns (table);

  if (mapping.unit == EXCH_UNIT_UNKNOWN)
    mapping.unit = EXCH_UNIT_C;
  if (salt % 2 == 1)
    {
      mapping.time = (int) (salt / 2) % n;
      mapping.clock = (int) (salt / 8) % (n + 1) - 1;
      mapping.t = (int) (salt / 32) % (n + 1) - 1;
      mapping.rh = (int) (salt / 128) % (n + 1) - 1;
      mapping.unit = salt % 4 == 1 ? EXCH_UNIT_F : EXCH_UNIT_C;
      mapping.order = (ExchOrder) (salt / 16 % 4);
      mapping.decimal = salt % 8 > 4 ? ',' : '.';
    }
  return mapping;
}

static void
check_packs (const CoreMoment *v, guint n)
{
  CoreSample samples[64];
  char text[CORE_SERIES_MAX_BYTES];
  guint count = 0;
  size_t packed, back;

  for (; count < n && count < G_N_ELEMENTS (samples) && CORE_MOMENT_DAY (&v[count]) == CORE_MOMENT_DAY (v); count++)
    samples[count] = (CoreSample){ (int32_t) (v[count].at % CORE_SERIES_DAY), v[count].t, v[count].rh };
  packed = core_series_pack (samples, count, text, sizeof text);
  g_assert_cmpuint (packed, ==, count);
  g_assert_true (core_series_valid (text, &back));
  g_assert_cmpuint (back, ==, packed);
}

static void
check_readings (const ExchReadings *all)
{
  const CoreMoment *v = (const CoreMoment *) (const void *) all->moments->data;

  g_assert_cmpuint (all->rows, ==, all->moments->len + all->duplicates + all->contradictions + all->n_bad);
  for (guint i = 0; i < all->moments->len; i++)
    {
      g_assert_true (i == 0 || v[i - 1].at <= v[i].at);
      g_assert_cmpint (CORE_MOMENT_DAY (&v[i]), <=, today);
      g_assert_true (v[i].at >= 0 && !(isnan (v[i].t) && isnan (v[i].rh)));
      g_assert_true (!(v[i].t < -60) && !(v[i].t > 100) && !(v[i].rh < 0) && !(v[i].rh > 100));
      if (i == 0 || CORE_MOMENT_DAY (&v[i - 1]) != CORE_MOMENT_DAY (&v[i]))
        check_packs (&v[i], all->moments->len - i);
    }
  for (guint i = 0; i < all->bad->len; i++)
    check_words (g_array_index (all->bad, ExchBadRow, i).why, g_array_index (all->bad, ExchBadRow, i).about);
}

static void
run (const uint8_t *data, size_t length, uint32_t salt)
{
  ExchClock clock = { zones[0], salt % 3 == 0 ? NULL : zones[salt % 3], today };
  g_autoptr (GBytes) bytes = g_bytes_new (data, length);
  g_autofree char *about = NULL;
  ReadingsProblem problem;
  g_autoptr (ExchTable) table = exch_table_new (bytes, &problem, &about);
  g_autoptr (ExchReadings) all = NULL;
  ExchMapping mapping;

  g_assert_true ((table == NULL) == (problem != READINGS_OK));
  if (table == NULL)
    {
      check_words (problem, about);
      return;
    }
  check_table (table);
  mapping = mapping_of (table, salt);
  all = exch_readings_new (table, &mapping, &clock, NULL);
  check_readings (all);
}

int
main (int argc, char *argv[])
{
  static const FuzzTarget target = { .max_bytes = 4000, .scraps = scraps, .run = run };

  setlocale (LC_ALL, "");
  words_init (NULL);
  zones[0] = g_time_zone_new_identifier ("Europe/Berlin");
  zones[1] = g_time_zone_new_utc ();
  zones[2] = g_time_zone_new_offset (-11 * 3600);
  if (zones[0] == NULL)
    zones[0] = g_time_zone_new_utc ();
  today = core_day_from_ymd (2026, 6, 30);
  return fuzz_main (argc, argv, &target);
}
