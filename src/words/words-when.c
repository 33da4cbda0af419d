/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-when.c — the words in which a keeper says a day: today, Sunday, 3 weeks ago, 10 Nov.
 *
 * English and German are always understood: the notes of a keeper, and what came
 * with an animal, are not in the language of the session. That of the session is
 * understood besides. Parsed by desk/desk-when.c. */
#include "words/words-when.h"

#include <string.h>

#include "words/words-private.h"

/* Words of one meaning, separated by '|'; `also` is not translated: German. */
typedef struct
{
  WordsWhen word;
  int code;
  WordsTerm term;
  const char *also;
} Row;

static const Row rows[] = {
  { WORDS_WHEN_TODAY, 0, TERM ("when words", "today|t|now"), "heute|h" },
  { WORDS_WHEN_TODAY, 1, TERM ("when words", "yesterday|y"), "gestern|g" },
  { WORDS_WHEN_TODAY, 2, TERM ("when words", "day before yesterday"), "vorgestern" },
  { WORDS_WHEN_ABOUT, 0, TERM ("when words", "about|around|ca|approx|roughly"),
    "etwa|circa|ungefähr|zirka" },
  { WORDS_WHEN_AGO, 0, TERM ("when words", "ago|before|since"), "vor|seit|her" },
  { WORDS_WHEN_LAST, 0, TERM ("when words", "last"), "letzten|letzter|letzte|letztes" },
  { WORDS_WHEN_SKIP, 0, TERM ("when words", "on|the|of|in"), "am|im|den|der" },
  { WORDS_WHEN_UNKNOWN, 0, TERM ("when words", "unknown|not known|never|none"),
    "unbekannt|unbek|nie" },
  { WORDS_WHEN_UNIT, 1, TERM ("when words", "days|day|d"), "tage|tag|tagen" },
  { WORDS_WHEN_UNIT, 7, TERM ("when words", "weeks|week|w|wk|wks"), "wochen|woche|wo" },
  { WORDS_WHEN_UNIT, 30, TERM ("when words", "months|month|mo|mth|m"), "monate|monat|monaten" },
  { WORDS_WHEN_COUNT, 1, TERM ("when words", "a|an|one"), "ein|einer|einem|eine|eins" },
  { WORDS_WHEN_COUNT, 2, TERM ("when words", "two"), "zwei" },
  { WORDS_WHEN_COUNT, 3, TERM ("when words", "three"), "drei" },
  { WORDS_WHEN_COUNT, 4, TERM ("when words", "four"), "vier" },
  { WORDS_WHEN_COUNT, 5, TERM ("when words", "five"), "fünf" },
  { WORDS_WHEN_COUNT, 6, TERM ("when words", "six"), "sechs" },
  { WORDS_WHEN_WEEKDAY, 0, TERM ("when words", "monday"), "montag|mo" },
  { WORDS_WHEN_WEEKDAY, 1, TERM ("when words", "tuesday"), "dienstag|di" },
  { WORDS_WHEN_WEEKDAY, 2, TERM ("when words", "wednesday"), "mittwoch|mi" },
  { WORDS_WHEN_WEEKDAY, 3, TERM ("when words", "thursday"), "donnerstag|do" },
  { WORDS_WHEN_WEEKDAY, 4, TERM ("when words", "friday"), "freitag|fr" },
  { WORDS_WHEN_WEEKDAY, 5, TERM ("when words", "saturday"), "samstag|sonnabend|sa" },
  { WORDS_WHEN_WEEKDAY, 6, TERM ("when words", "sunday"), "sonntag|so" },
  { WORDS_WHEN_MONTH, 1, TERM ("when words", "january"), "januar|jänner" },
  { WORDS_WHEN_MONTH, 2, TERM ("when words", "february"), "februar|feber" },
  { WORDS_WHEN_MONTH, 3, TERM ("when words", "march"), "märz" },
  { WORDS_WHEN_MONTH, 4, TERM ("when words", "april"), "april" },
  { WORDS_WHEN_MONTH, 5, TERM ("when words", "may"), "mai" },
  { WORDS_WHEN_MONTH, 6, TERM ("when words", "june"), "juni" },
  { WORDS_WHEN_MONTH, 7, TERM ("when words", "july"), "juli" },
  { WORDS_WHEN_MONTH, 8, TERM ("when words", "august"), "august" },
  { WORDS_WHEN_MONTH, 9, TERM ("when words", "september|sept"), "september" },
  { WORDS_WHEN_MONTH, 10, TERM ("when words", "october"), "oktober" },
  { WORDS_WHEN_MONTH, 11, TERM ("when words", "november"), "november" },
  { WORDS_WHEN_MONTH, 12, TERM ("when words", "december"), "dezember" },
};

static void
add_words (GArray *terms, const Row *row, const char *list)
{
  g_auto (GStrv) words = g_strsplit (list, "|", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *folded = g_utf8_casefold (g_strstrip (words[i]), -1);
      WordsWhenTerm term = { g_intern_string (folded), row->word, row->code };

      if (folded[0] != '\0')
        g_array_append_val (terms, term);
    }
}

static GArray *
make_terms (void)
{
  GArray *terms = g_array_new (FALSE, FALSE, sizeof (WordsWhenTerm));

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      add_words (terms, &rows[i], rows[i].term.text);
      add_words (terms, &rows[i], rows[i].also);
      add_words (terms, &rows[i], T_ (WORDS_LOCAL, rows[i].term.context, rows[i].term.text));
    }
  return terms;
}

const WordsWhenTerm *
words_when_terms (gsize *n)
{
  static gsize made;
  const GArray *terms;

  if (g_once_init_enter (&made))
    g_once_init_leave (&made, (gsize) make_terms ());
  terms = (const GArray *) made;
  *n = terms->len;
  return (const WordsWhenTerm *) (const void *) terms->data;
}
