/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-date.c — civil days.
 *
 * Days are counted in eras of 400 years (146097 days) that begin on 1 March, so
 * that the leap day is the last day of its year.
 */
#include "core/core-date.h"

#define FIRST_YEAR 1583
#define LAST_YEAR 9999
#define TWO_YEARS 731 /* days; a forecast looks 400 ahead */
#define ERA_DAYS 146097
#define EPOCH_SHIFT 719468 /* days from 0000-03-01 to 1970-01-01 */

static bool
is_leap (int year)
{
  return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

static int
month_days (int year, int month)
{
  static const int days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };

  return month == 2 && is_leap (year) ? 29 : days[month - 1];
}

CoreDay
core_day_from_ymd (int year, int month, int day)
{
  int era, in_era, in_year;

  if (year < FIRST_YEAR || year > LAST_YEAR || month < 1 || month > 12 || day < 1 ||
      day > month_days (year, month))
    return CORE_DAY_NONE;
  year -= month <= 2;
  era = year / 400;
  in_era = year % 400;
  in_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  return era * ERA_DAYS + in_era * 365 + in_era / 4 - in_era / 100 + in_year - EPOCH_SHIFT;
}

void
core_day_to_ymd (CoreDay day, int *year, int *month, int *mday)
{
  int64_t shifted = (int64_t) day + EPOCH_SHIFT;
  int64_t era = (shifted >= 0 ? shifted : shifted - (ERA_DAYS - 1)) / ERA_DAYS;
  int in_era = (int) (shifted - era * ERA_DAYS);
  int year_of_era = (in_era - in_era / 1460 + in_era / 36524 - in_era / 146096) / 365;
  int in_year = in_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  int shifted_month = (5 * in_year + 2) / 153;

  *mday = in_year - (153 * shifted_month + 2) / 5 + 1;
  *month = shifted_month < 10 ? shifted_month + 3 : shifted_month - 9;
  *year = (int) (era * 400) + year_of_era + (*month <= 2);
}

/* `count` decimal digits at `text`, or -1. */
static int
read_digits (const char *text, int count)
{
  int value = 0;

  for (int i = 0; i < count; i++)
    {
      if (text[i] < '0' || text[i] > '9')
        return -1;
      value = value * 10 + (text[i] - '0');
    }
  return value;
}

CoreDay
core_day_from_text (const char *text)
{
  int year, month, day;

  if (text == NULL)
    return CORE_DAY_NONE;
  year = read_digits (text, 4);
  if (year < 0 || text[4] != '-')
    return CORE_DAY_NONE;
  month = read_digits (text + 5, 2);
  if (month < 0 || text[7] != '-')
    return CORE_DAY_NONE;
  day = read_digits (text + 8, 2);
  if (day < 0 || text[10] != '\0')
    return CORE_DAY_NONE;
  return core_day_from_ymd (year, month, day);
}

static char *
write_digits (char *at, int value, int count)
{
  for (int i = count - 1; i >= 0; i--)
    {
      at[i] = (char) ('0' + value % 10);
      value /= 10;
    }
  return at + count;
}

void
core_day_to_text (CoreDay day, char out[11])
{
  const CoreDay first = core_day_from_ymd (FIRST_YEAR, 1, 1);
  const CoreDay last = core_day_from_ymd (LAST_YEAR, 12, 31);
  int year, month, mday;
  char *at = out;

  if (day < first || day > last)
    {
      out[0] = '\0';
      return;
    }
  core_day_to_ymd (day, &year, &month, &mday);
  at = write_digits (at, year, 4);
  *at++ = '-';
  at = write_digits (at, month, 2);
  *at++ = '-';
  at = write_digits (at, mday, 2);
  *at = '\0';
}

int
core_day_weekday (CoreDay day)
{
  /* 1970-01-01 was a Thursday. */
  int rest = (int) (((int64_t) day + 3) % 7);

  return rest < 0 ? rest + 7 : rest;
}

bool
core_day_may_be_today (CoreDay day)
{
  return day >= core_day_from_ymd (FIRST_YEAR, 1, 1) &&
         day <= core_day_from_ymd (LAST_YEAR, 12, 31) - TWO_YEARS;
}
