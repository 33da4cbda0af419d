/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-readings.c — what is said of a logger's file. */
#include "words/words-readings.h"

#include <math.h>

#include "words/words-private.h"

static const WordsTerm problems[READINGS_N_PROBLEMS] = {
  [READINGS_OK] = TERM ("readings", "All of it was understood."),
  [READINGS_EMPTY] = TERM ("readings", "The file is empty. Read the logger out again."),
  [READINGS_LARGE] =
    TERM ("readings", "The file is larger than {1} MiB. Read the logger out in smaller parts."),
  [READINGS_BINARY] = TERM ("readings", "Line {1} holds what no text holds: this is not a table. "
                                        "Save the readings as CSV or as text."),
  [READINGS_LETTERS] = TERM ("readings", "The letters of the file are damaged. Read the logger out again, "
                                         "or save the table as UTF-8."),
  [READINGS_NO_TABLE] =
    TERM ("readings", "No line holds a time and a number side by side. Choose the file with the readings, "
                      "saved as CSV: a time, a temperature and a humidity in each line."),
  [READINGS_COMMAS] =
    TERM ("readings", "The comma parts the columns and stands in the numbers too. Save the table with "
                      "semicolons or tabs between its columns."),
  [READINGS_NO_VALUES] = TERM ("readings", "No column holds temperatures or humidities."),
  [READINGS_NOTHING] = TERM ("readings", "None of the lines could be read. Nothing was written."),
  [READINGS_NO_COLUMN] = TERM ("readings", "There is no column “{1}”. There are: {2}."),
  [READINGS_TWO_COLUMNS] = TERM ("readings", "Two things cannot stand in the same column: {1}."),
  [READINGS_ZONE] =
    TERM ("readings", "There is no time zone “{1}”. Examples: UTC, +02:00, Europe/Berlin."),
  [READINGS_ASK_UNIT] = TERM ("readings", "The file does not say whether its temperatures, {1} to {2}, are "
                                          "°C or °F. Say which."),
  [READINGS_ASK_ORDER] =
    TERM ("readings", "“{1}” can be two days. Say whether day or month comes first."),
  [READINGS_ASK_COLUMNS] = TERM ("readings", "The columns have no headings that tell temperature from "
                                             "humidity. Say which is which: {1}."),
  [READINGS_ASK_ZONE] = TERM ("readings", "The file names a time zone, “{1}”. Say whether its times are those "
                                          "of the clock on the wall, or of which zone: UTC, or as +02:00."),
  [READINGS_ROW_QUOTE] = TERM ("readings", "a quotation is not closed"),
  [READINGS_ROW_SHORT] = TERM ("readings", "columns are missing"),
  [READINGS_ROW_TIME] = TERM ("readings", "“{1}” is no time"),
  [READINGS_ROW_FUTURE] = TERM ("readings", "“{1}” lies in the future"),
  [READINGS_ROW_OLD] = TERM ("readings", "“{1}” lies more than fifty years back"),
  [READINGS_ROW_SKIPPED] =
    TERM ("readings", "“{1}” is in the hour that is left out when the clocks go forward: the logger kept "
                      "to another time. Say its zone, as +01:00"),
  [READINGS_ROW_NUMBER] = TERM ("readings", "“{1}” is no number"),
  [READINGS_ROW_T] = TERM ("readings", "“{1}” is no temperature of air"),
  [READINGS_ROW_RH] = TERM ("readings", "“{1}” is no humidity: 0 to 100 %"),
  [READINGS_ROW_NONE] = TERM ("readings", "neither temperature nor humidity"),
};

char *
words_readings_problem (WordsLang lang, ReadingsProblem problem, const char *a, const char *b)
{
  const char *args[] = { a != NULL ? a : "", b != NULL ? b : "", NULL };

  return words_fill (words_term (lang, problems, READINGS_N_PROBLEMS, (int) problem), args);
}

static void
add_part (GString *line, char *part)
{
  g_string_append_printf (line, "%s%s", line->len > 0 ? ", " : "", part);
  g_free (part);
}

static char *
plainly (WordsLang lang, guint n)
{
  return words_number (lang, n, 0);
}

char *
words_readings_summary (const WordsView *view, const WordsReadings *what)
{
  WordsLang lang = view->lang;
  g_autofree char *n = plainly (lang, what->readings);
  g_autofree char *days = words_day_range (view, what->first, what->last);
  g_autoptr (GString) rest = g_string_new (NULL);
  g_autofree char *head =
    what->readings == 0
      ? g_strdup (T_ (lang, "readings", "No new reading"))
      /* Translators: a number, and days: "12,410 readings, 1 May – 14 June" */
      : g_strdup_printf (TN_ (lang, "readings", "%s reading, %s", "%s readings, %s", what->readings), n, days);

  if (what->already > 0)
    add_part (rest, g_strdup_printf (TN_ (lang, "readings", "%u was there already",
                                          "%u were there already", what->already),
                                     what->already));
  if (what->two_values > 0)
    add_part (rest, g_strdup_printf (TN_ (lang, "readings", "two values at %u time, both count",
                                          "two values at %u times, both count", what->two_values),
                                     what->two_values));
  if (what->differing > 0)
    add_part (rest, g_strdup_printf (
                      TN_ (lang, "readings", "at %u time another value is there already, both count",
                           "at %u times another value is there already, both count", what->differing),
                      what->differing));
  if (what->duplicates > 0)
    add_part (rest, g_strdup_printf (TN_ (lang, "readings", "%u stands twice in the file",
                                          "%u stand twice in the file", what->duplicates),
                                     what->duplicates));
  if (what->contradictions > 0)
    add_part (rest, g_strdup_printf (
                      TN_ (lang, "readings", "%u of a time that has another value, the first counts",
                           "%u of times that have another value, the first counts", what->contradictions),
                      what->contradictions));
  if (what->gaps > 0)
    add_part (rest, g_strdup_printf (TN_ (lang, "readings", "%u gap", "%u gaps", what->gaps), what->gaps));
  if (what->zone != NULL)
    {
      const char *zone[] = { what->zone, NULL };

      add_part (rest, words_fill (T_ (lang, "readings", "its times are {1}, as it says"), zone));
    }
  if (what->bad > 0)
    add_part (rest, g_strdup_printf (TN_ (lang, "readings", "%u line not understood",
                                          "%u lines not understood", what->bad),
                                     what->bad));
  return rest->len > 0 ? g_strdup_printf ("%s; %s.", head, rest->str) : g_strdup_printf ("%s.", head);
}

char *
words_climate_night (const WordsView *view, const CoreNight *night)
{
  WordsLang lang = view->lang;
  g_autofree char *t = words_number (lang, night->day_c, 1);
  g_autofree char *rh = words_number (lang, night->day_rh, 0);
  g_autofree char *dew = words_number (lang, night->dew_point, 1);
  g_autofree char *cold = words_number (lang, night->night_c, 1);
  g_autofree char *damp = words_number (lang, night->rh_night, 0);
  g_autofree char *measured = words_number (lang, night->measured, 0);
  const char *by_day[] = { t, rh, dew, NULL }, *by_night[] = { cold, damp, measured, NULL };
  g_autofree char *day = words_fill (
    T_ (lang, "climate", "By day the air was {1} °C at {2} %: its dew point is {3} °C."), by_day);
  g_autofree char *cools =
    words_fill (night->condenses
                  ? T_ (lang, "climate", "In the night it fell to {1} °C, below the dew point: water settles on "
                                         "the walls, and small ones can drown in drops.")
                  : T_ (lang, "climate", "Cooled to the {1} °C of the night it reaches {2} %."),
                by_night);
  g_autofree char *said =
    words_fill (T_ (lang, "climate", "Measured in the night, on average: {3} %."), by_night);

  return isnan (night->measured) ? g_strdup_printf ("%s %s", day, cools)
                                 : g_strdup_printf ("%s %s %s", day, cools, said);
}
