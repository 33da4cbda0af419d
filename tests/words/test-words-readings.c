/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-words-readings.c — what is said of a logger's file and of the night. */
#include "words-test.h"

#include <math.h>

#include "core/core-date.h"
#include "words/words-readings.h"

static const WordsView view = { WORDS_ENGLISH, CORE_DAY_NONE, 1 };

static void
test_problems (void)
{
  for (int i = 0; i < READINGS_N_PROBLEMS; i++)
    {
      g_autofree char *text = words_readings_problem (WORDS_ENGLISH, (ReadingsProblem) i, "1%s{2}", "2%n");

      g_assert_null (strstr (text, "something else"));
      g_assert_null (strstr (text, "{1}"));
    }
}

static void
test_summary (void)
{
  const struct
  {
    WordsReadings what;
    const char *text;
  } rows[] = {
    { { .readings = 12410, .duplicates = 3, .gaps = 2, .bad = 5,
        .first = core_day_from_ymd (2026, 5, 1), .last = core_day_from_ymd (2026, 6, 14) },
      "; 3 stand twice in the file, 2 gaps, 5 lines not understood." },
    { { .readings = 12410, .differing = 2,
        .first = core_day_from_ymd (2026, 5, 1), .last = core_day_from_ymd (2026, 6, 14) },
      "; at 2 times another value is there already, both count." },
    { { .already = 4, .first = CORE_DAY_NONE, .last = CORE_DAY_NONE }, "; 4 were there already." },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = words_readings_summary (&view, &rows[i].what);

      g_test_message ("%s", text);
      g_assert_true (g_str_has_prefix (text, i < 2 ? "12410 readings, 1 May" : "No new reading"));
      g_assert_true (g_str_has_suffix (text, rows[i].text));
    }
}

static void
test_night (void)
{
  CoreNight night = { 26.5, 54, 19, 16.4, 13.5, 84, NAN, false };
  g_autofree char *dry = words_climate_night (&view, &night);
  g_autofree char *wet = NULL;

  g_assert_cmpstr (dry, ==, "By day the air was 26.5 °C at 54 %: its dew point is 16.4 °C. Cooled to the 19 °C of the "
                            "night it reaches 84 %.");
  night.condenses = true;
  night.measured = 91;
  wet = words_climate_night (&view, &night);
  g_assert_nonnull (strstr (wet, "below the dew point: water settles on the walls"));
  g_assert_nonnull (strstr (wet, "Measured in the night, on average: 91 %."));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/words/readings/problems", test_problems);
  g_test_add_func ("/words/readings/summary", test_summary);
  g_test_add_func ("/words/readings/night", test_night);
  return g_test_run ();
}
