/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-test.c — small makers shared by the tests of words. */
#include "words-test.h"

#include "core/core-date.h"

#include <string.h>

CoreDay
wt_day (const char *text)
{
  CoreDay day = core_day_from_text (text);

  g_assert_cmpint (day, !=, CORE_DAY_NONE);
  return day;
}

CoreDay
wt_today (void)
{
  return wt_day ("2026-11-25");
}

CoreEntry *
wt_entry (CoreKind kind, ...)
{
  CoreEntry *entry = core_entry_new (kind);
  va_list pairs;
  const char *pair;

  g_assert_nonnull (entry);
  entry->day = wt_today ();
  entry->id.b[15] = 7;
  va_start (pairs, kind);
  while ((pair = va_arg (pairs, const char *)) != NULL)
    {
      g_auto (GStrv) parts = g_strsplit (pair, "=", 2);

      g_assert_cmpint (core_entry_set_text (entry, parts[0], parts[1]), ==, CORE_VALUE_OK);
    }
  va_end (pairs);
  return entry;
}

void
wt_says (char *got, const char *expected)
{
  g_assert_cmpstr (got, ==, expected);
  g_free (got);
}

CoreReason
wt_reason (const char *rule, CoreUnit unit, double value, double value2)
{
  CoreReason reason = { .rule = rule,
                        .unit = unit,
                        .value = value,
                        .value2 = value2,
                        .day = wt_today () - 4,
                        .day2 = wt_today () + 9,
                        .code = 2 };

  return reason;
}
