/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-keep.c — seven daily backups and eight weekly ones.
 *
 * The days are those on which there is a backup, so that a keeper who opens the
 * journal once a month has seven of them too. Cubic in the number of files
 * of one folder, which the rotation itself keeps below twenty.
 */
#include "core/core-keep.h"

#include "core/core-date.h"

static CoreDay
monday_of (CoreDay day)
{
  return day - core_day_weekday (day);
}

/* How many of the days up to today are later than day i. */
static size_t
count_later (const CoreDay *days, size_t n, CoreDay today, size_t i)
{
  size_t later = 0;

  for (size_t k = 0; k < n; k++)
    later += days[k] > days[i] && days[k] <= today;
  return later;
}

/* Before the daily ones, whether kept by the week or not. */
static bool
is_old (CoreKeep keep)
{
  return keep == CORE_KEEP_NOT || keep == CORE_KEEP_WEEKLY;
}

static bool
is_last_of_week (const CoreDay *days, size_t n, const CoreKeep *keep, size_t i)
{
  for (size_t k = 0; k < n; k++)
    if (is_old (keep[k]) && days[k] > days[i] && monday_of (days[k]) == monday_of (days[i]))
      return false;
  return true;
}

/* How many last ones of a week, among the old days, are later than day i. */
static size_t
count_later_weeks (const CoreDay *days, size_t n, const CoreKeep *keep, size_t i)
{
  size_t later = 0;

  for (size_t k = 0; k < n; k++)
    later += is_old (keep[k]) && days[k] > days[i] && is_last_of_week (days, n, keep, k);
  return later;
}

void
core_keep (const CoreDay *days, size_t n, CoreDay today, CoreKeep *out)
{
  for (size_t i = 0; i < n; i++)
    if (days[i] > today)
      out[i] = CORE_KEEP_AHEAD;
    else if (count_later (days, n, today, i) < CORE_KEEP_N_DAILY)
      out[i] = CORE_KEEP_DAILY;
    else
      out[i] = CORE_KEEP_NOT;
  for (size_t i = 0; i < n; i++)
    if (is_old (out[i]) && is_last_of_week (days, n, out, i) &&
        count_later_weeks (days, n, out, i) < CORE_KEEP_N_WEEKLY)
      out[i] = CORE_KEEP_WEEKLY;
}
