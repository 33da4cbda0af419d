/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-search.c — by which words an entry is found again: those of the program, in the session's
 * language and in English, and what the keeper wrote. */
#include <string.h>

#include "words/words-private.h"
#include "words/words-search.h"

static void
add (GString *out, const char *text)
{
  if (text == NULL || *text == '\0')
    return;
  g_string_append_c (out, ' ');
  g_string_append (out, text);
}

/* The word of the contract, and what people say for it; "yes" and "no" are nobody's words. */
static void
add_code (GString *out, CoreKind kind, const CoreValue *value)
{
  const CoreKindKey *key = core_kind_key (kind, value->key);

  if (key == NULL || key->words == NULL || strcmp (key->words[0], "yes") == 0)
    return;
  add (out, value->text);
  add (out, words_code (WORDS_ENGLISH, kind, value->key, (int) value->n));
  add (out, words_code (WORDS_LOCAL, kind, value->key, (int) value->n));
}

char *
words_search_terms (const CoreEntry *entry)
{
  GString *out = g_string_new (core_kind_info (entry->kind)->name);

  add (out, words_kind (WORDS_ENGLISH, entry->kind));
  add (out, words_kind (WORDS_LOCAL, entry->kind));
  for (size_t i = 0; i < entry->n_values; i++)
    if (core_kind_key (entry->kind, entry->values[i].key)->type == CORE_VALUE_CODE)
      add_code (out, entry->kind, &entry->values[i]);
  if (entry->kind == CORE_KIND_SET)
    {
      g_autofree char *english = words_setting (WORDS_ENGLISH, core_entry_str (entry, CORE_KEY_KEY));
      g_autofree char *local = words_setting (WORDS_LOCAL, core_entry_str (entry, CORE_KEY_KEY));

      add (out, english);
      add (out, local);
    }
  return g_string_free (out, FALSE);
}

static void
add_value (GString *out, const CoreEntry *entry)
{
  const char *key = core_entry_str (entry, CORE_KEY_KEY), *value = core_entry_str (entry, CORE_KEY_VALUE);

  for (int lang = WORDS_LOCAL; lang <= WORDS_ENGLISH; lang++)
    {
      WordsView view = { (WordsLang) lang, CORE_DAY_NONE, 1 };
      g_autofree char *said = words_setting_value (&view, key, value);

      add (out, said);
    }
}

char *
words_search_own (const CoreEntry *entry)
{
  GString *out = g_string_new (NULL);

  for (size_t i = 0; i < entry->n_values; i++)
    {
      const CoreValue *value = &entry->values[i];

      if (core_kind_key (entry->kind, value->key)->type == CORE_VALUE_TEXT && value->key != CORE_KEY_KEY)
        add (out, value->text);
      if (value->key == CORE_KEY_CAUSE)
        {
          add (out, words_cause (WORDS_ENGLISH, value->text));
          add (out, words_cause (WORDS_LOCAL, value->text));
        }
    }
  if (entry->kind == CORE_KIND_SET)
    add_value (out, entry);
  return g_string_free (out, FALSE);
}

char *
words_search_meal (int outcome)
{
  static const char *const names[] = { "offered", "taken", "refused", "none_in_view" };
  GString *out = g_string_new (NULL);

  if (outcome >= 0 && (gsize) outcome < G_N_ELEMENTS (names))
    add (out, names[outcome]);
  add (out, words_fed_outcome (WORDS_ENGLISH, outcome));
  add (out, words_fed_outcome (WORDS_LOCAL, outcome));
  return g_string_free (out, FALSE);
}

char *
words_search_stage (const CoreState *state, int scheme)
{
  GString *out = g_string_new (NULL);
  int seen = state->adult ? CORE_SEEN_ADULT : state->subadult ? CORE_SEEN_SUBADULT : CORE_SEEN_UNKNOWN;
  g_autofree char *number = seen == CORE_SEEN_ADULT ? g_strdup ("") : words_stage_number (state->moults, scheme);

  if (seen != CORE_SEEN_UNKNOWN)
    {
      add (out, words_code (WORDS_ENGLISH, CORE_KIND_STAGE, CORE_KEY_SEEN, seen - 1));
      add (out, words_code (WORDS_LOCAL, CORE_KIND_STAGE, CORE_KEY_SEEN, seen - 1));
    }
  add (out, number);
  return g_string_free (out, FALSE);
}

const char *
words_search_nothing (WordsLang lang)
{
  return T_ (lang, "search",
             "Nothing was found. Looked through are numbers, codes, names, kinds, places, stages, prey and what became "
             "of it, the words of notes, and what was entered of moults, sex, troubles, deaths, buyers, givers and "
             "origins. Try the beginning of a word.");
}
