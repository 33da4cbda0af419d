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

char *
wt_round (const char *line, WordsLang lang)
{
  static const CoreRoundCup cups[] = {
    { .number = "14", .living_single = true },
    { .number = "31", .living_single = true },
    { .number = "33", .living_single = true },
  };
  g_autofree char *folded = g_utf8_strdown (line, -1);
  gsize n;
  const CoreRoundTerm *terms = words_round_terms (lang, &n);
  g_autoptr (GString) text = g_string_new (NULL);
  CoreRoundShelf shelf = { cups, G_N_ELEMENTS (cups), 1, 2 };
  CoreRoundLine parsed = { 0 };

  core_round_parse (folded, terms, n, &shelf, &parsed);
  if (parsed.n_problems > 0)
    {
      g_string_printf (text, "problem %d", parsed.problems[0].error);
      for (gsize i = 0; i < parsed.problems[0].n_candidates; i++)
        g_string_append_printf (text, ", %s", parsed.problems[0].candidates[i]);
    }
  else
    {
      g_string_append (text, parsed.opening.due ? "due" : "all");
      for (gsize i = 0; i < parsed.n_actions; i++)
        {
          g_autofree char *said = words_round_action (WORDS_ENGLISH, &parsed.actions[i], 3);

          g_string_append_printf (text, "; %s", said);
        }
      for (gsize i = 0; i < parsed.n_exceptions; i++)
        {
          g_autofree char *said = words_round_exception (WORDS_ENGLISH, &parsed.exceptions[i]);

          g_string_append_printf (text, "; %s", said);
        }
    }
  core_round_line_clear (&parsed);
  return g_string_free (g_steal_pointer (&text), FALSE);
}
