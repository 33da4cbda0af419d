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

static const CoreRoundCup cups[] = {
  { .number = "14", .living_single = true, .species = -1, .moults = 7, .adult = true },
  { .number = "31", .living_single = true, .species = -1, .moults = 4, .usual_prey = CORE_PREY_HOUSE_FLY },
  { .number = "33", .living_single = true, .species = -1 },
};
static const CoreRoundShelf shelf = { cups, G_N_ELEMENTS (cups), 1, 2 };

static void
parse (const char *line, WordsLang lang, CoreRoundLine *parsed)
{
  g_autofree char *folded = g_utf8_strdown (line, -1);
  gsize n;
  const CoreRoundTerm *terms = words_round_terms (lang, &n);

  (void) core_round_parse (folded, terms, n, &shelf, parsed);
}

char *
wt_round_line (const char *line, WordsLang lang)
{
  CoreRoundLine parsed;
  char *said;

  parse (line, lang, &parsed);
  g_assert_cmpuint (parsed.n_problems, ==, 0);
  said = words_round_line (lang, &parsed, line, shelf.weekday);
  core_round_line_clear (&parsed);
  return said;
}

static void
read_back (const char *line, WordsLang lang)
{
  g_autofree char *said = wt_round_line (line, lang);
  g_autofree char *meant = wt_round (line, lang);
  g_autofree char *read = wt_round (said, lang);

  g_test_message ("“%s” is said “%s”", line, said);
  g_assert_cmpstr (read, ==, meant);
}

void
wt_round_read_back (WordsLang lang)
{
  static const char *const lines[] = {
    "fed, misted, watered, cleaned, gone, looked at all",
    "due: misted",
    "adults up: looked",
    "house flies: misted",
    "L4+ looked; 14 31 took; 33 refused",
    "14 moulted; 31 moulted fell; 33 moulted stuck",
    "14 moulted limb; 31 moulted well; 33 moulted adult",
    "14 moulted fell sub-adult; 31 moulted nymph",
    "14 dead; 31 escaped; 33 left",
    "14 sold; 31 given away; 33 traded",
    "14 lent; 31 skip; 33 looks dead",
    "14 belly 1; 31 belly 5; 33 drank",
    "14 gone; 31 sluggish; 33 dull",
    "14 pads; 31 hanging; 33 pumping",
    "14 splitting; 31 misted; 33 cleaned",
    "14 watered; 31 looked; 33 fed",
    "swap 14 33",
    "14 drank yesterday; 31 drank day before yesterday; 33 took 2 moths on Sunday",
    "14 drank mon; 31 drank thu; 33 drank fri",
    "14 drank sat; 31 drank tuesday; 33 refused 1 honey yesterday",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    read_back (lines[i], lang);
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    for (int n = 0; n < 3; n++)
      {
        g_autofree char *name = words_prey (WORDS_ENGLISH, prey, 0);
        g_autofree char *line = n > 0 ? g_strdup_printf ("fed %d %s; 14 took %s", n, name, name)
                                      : g_strdup_printf ("fed %s; 14 refused 3 %s", name, name);

        read_back (line, lang);
      }
}

char *
wt_round (const char *line, WordsLang lang)
{
  g_autoptr (GString) text = g_string_new (NULL);
  CoreRoundLine parsed;

  parse (line, lang, &parsed);
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

void
wt_sentence (const char *text, const char *id)
{
  if (strchr (text, '{') != NULL || strchr (text, '}') != NULL ||
      (!g_str_has_suffix (text, ".") && !g_str_has_suffix (text, "?")) ||
      g_str_has_suffix (text, "?.") || strstr (text, "  ") != NULL || strchr (text, '!') != NULL ||
      strstr (text, "nan") != NULL)
    g_error ("%s: “%s” is no sentence", id, text);
}
