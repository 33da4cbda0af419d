/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-day.c — civil days as people say them.
 *
 * Names of days and months are terms of the catalogue, not of the C locale, so
 * that a sentence is in one language throughout.
 */
#include <stdlib.h>

#include "core/core-date.h"
#include "words/words-private.h"

/* Beyond this many days a day of another year wears its year. */
#define YEAR_AFTER 90

static const WordsTerm weekdays[] = {
  TERM ("weekday", "Monday"),   TERM ("weekday", "Tuesday"), TERM ("weekday", "Wednesday"),
  TERM ("weekday", "Thursday"), TERM ("weekday", "Friday"),  TERM ("weekday", "Saturday"),
  TERM ("weekday", "Sunday"),
};
static const WordsTerm weekdays_short[] = {
  TERM ("weekday short", "Mon"), TERM ("weekday short", "Tue"), TERM ("weekday short", "Wed"),
  TERM ("weekday short", "Thu"), TERM ("weekday short", "Fri"), TERM ("weekday short", "Sat"),
  TERM ("weekday short", "Sun"),
};
static const WordsTerm months[] = {
  TERM ("month", "January"), TERM ("month", "February"), TERM ("month", "March"),
  TERM ("month", "April"),   TERM ("month", "May"),      TERM ("month", "June"),
  TERM ("month", "July"),    TERM ("month", "August"),   TERM ("month", "September"),
  TERM ("month", "October"), TERM ("month", "November"), TERM ("month", "December"),
};
static const WordsTerm months_short[] = {
  TERM ("month short", "Jan"), TERM ("month short", "Feb"), TERM ("month short", "Mar"),
  TERM ("month short", "Apr"), TERM ("month short", "May"), TERM ("month short", "Jun"),
  TERM ("month short", "Jul"), TERM ("month short", "Aug"), TERM ("month short", "Sep"),
  TERM ("month short", "Oct"), TERM ("month short", "Nov"), TERM ("month short", "Dec"),
};

const char *
words_weekday (WordsLang lang, int weekday)
{
  return words_term (lang, weekdays, G_N_ELEMENTS (weekdays), weekday);
}

const char *
words_weekday_short (WordsLang lang, int weekday)
{
  return words_term (lang, weekdays_short, G_N_ELEMENTS (weekdays_short), weekday);
}

const char *
words_month (WordsLang lang, int month)
{
  return words_term (lang, months, G_N_ELEMENTS (months), month - 1);
}

static const char *
month_short (WordsLang lang, int month)
{
  return words_term (lang, months_short, G_N_ELEMENTS (months_short), month - 1);
}

char *
words_clock (WordsLang lang, int minute)
{
  if (minute < 0 || minute >= 24 * 60)
    return g_strdup (T_ (lang, "number", "unknown"));
  return g_strdup_printf ("%02d:%02d", minute / 60, minute % 60);
}

static gboolean
needs_year (const WordsView *view, CoreDay day)
{
  int year, this_year, month, mday;

  if (view->today == CORE_DAY_NONE)
    return TRUE;
  core_day_to_ymd (day, &year, &month, &mday);
  core_day_to_ymd (view->today, &this_year, &month, &mday);
  return year != this_year && llabs ((gint64) day - view->today) > YEAR_AFTER;
}

static char *
with_year (const WordsView *view, CoreDay day, char *text)
{
  g_autofree char *taken = text;
  int year, month, mday;

  if (!needs_year (view, day))
    return g_steal_pointer (&taken);
  core_day_to_ymd (day, &year, &month, &mday);
  /* Translators: a day without its year, and the year */
  return g_strdup_printf (T_ (view->lang, "day", "%s %d"), taken, year);
}

static char *
day_short (const WordsView *view, CoreDay day)
{
  int year, month, mday;

  core_day_to_ymd (day, &year, &month, &mday);
  return with_year (view, day,
                    /* Translators: day of the month, short month: "3 Sep" */
                    g_strdup_printf (T_ (view->lang, "day", "%d %s"), mday,
                                     month_short (view->lang, month)));
}

static char *
day_full (const WordsView *view, CoreDay day)
{
  int year, month, mday;

  core_day_to_ymd (day, &year, &month, &mday);
  return with_year (view, day,
                    /* Translators: short weekday, day of the month, month: "Tue 25 November" */
                    g_strdup_printf (T_ (view->lang, "day", "%s %d %s"),
                                     words_weekday_short (view->lang, core_day_weekday (day)), mday,
                                     words_month (view->lang, month)));
}

static char *
day_near (const WordsView *view, CoreDay day)
{
  gint64 away = (gint64) day - view->today;

  if (view->today == CORE_DAY_NONE || away < -6 || away > 6)
    return day_short (view, day);
  if (away == 0)
    return g_strdup (T_ (view->lang, "day", "today"));
  if (away == -1)
    return g_strdup (T_ (view->lang, "day", "yesterday"));
  if (away == 1)
    return g_strdup (T_ (view->lang, "day", "tomorrow"));
  return g_strdup (words_weekday (view->lang, core_day_weekday (day)));
}

char *
words_day (const WordsView *view, CoreDay day, WordsDayStyle style)
{
  if (day == CORE_DAY_NONE)
    return g_strdup (T_ (view->lang, "day", "an unknown day"));
  if (style == WORDS_DAY_FULL)
    return day_full (view, day);
  if (style == WORDS_DAY_NEAR)
    return day_near (view, day);
  return day_short (view, day);
}

char *
words_day_range (const WordsView *view, CoreDay lo, CoreDay hi)
{
  int y1, m1, d1, y2, m2, d2;
  g_autofree char *first = NULL;
  g_autofree char *last = NULL;

  if (lo == CORE_DAY_NONE || hi == CORE_DAY_NONE)
    return words_day (view, lo == CORE_DAY_NONE ? hi : lo, WORDS_DAY_SHORT);
  core_day_to_ymd (lo, &y1, &m1, &d1);
  core_day_to_ymd (hi, &y2, &m2, &d2);
  if (y1 == y2 && m1 == m2)
    return with_year (view, hi,
                      lo == hi
                        /* Translators: day of the month, month: "3 December" */
                        ? g_strdup_printf (T_ (view->lang, "day long", "%d %s"), d1,
                                           words_month (view->lang, m1))
                        /* Translators: first and last day of the month, month: "3–9 December" */
                        : g_strdup_printf (T_ (view->lang, "day", "%d–%d %s"), d1, d2,
                                           words_month (view->lang, m1)));
  first = day_short (view, lo);
  last = day_short (view, hi);
  /* Translators: first and last day: "28 Nov – 3 Dec" */
  return g_strdup_printf (T_ (view->lang, "day", "%s – %s"), first, last);
}
