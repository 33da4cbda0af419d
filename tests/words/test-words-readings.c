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
    { { 12410, 0, 3, 0, 2, 5, core_day_from_ymd (2026, 5, 1), core_day_from_ymd (2026, 6, 14) },
      "12410 readings, 1 May 2026–14 June 2026; 3 stand twice in the file, 2 gaps, 5 lines not understood." },
    { { 0, 4, 0, 0, 0, 0, CORE_DAY_NONE, CORE_DAY_NONE }, "No new reading; 4 were there already." },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = words_readings_summary (&view, &rows[i].what);

      g_test_message ("%s", text);
      g_assert_true (g_str_has_prefix (text, i == 0 ? "12410 readings, " : rows[i].text));
      g_assert_nonnull (strstr (text, strchr (rows[i].text, ';')));
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
