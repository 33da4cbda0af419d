/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-terms.c — the vocabulary of the round line.
 *
 * English is always understood, the session's language besides. A word of two
 * meanings is not decided here: "fruit flies" is the beginning of both
 * "fruit flies small" and "fruit flies large", so the parser asks.
 */
#include <string.h>

#include "words/words-private.h"

/* Words of one meaning, separated by '|', most usual first. */
typedef struct
{
  CoreRoundWord word;
  int code;
  WordsTerm term;
} Row;

static const Row rows[] = {
  { CORE_WORD_ALL, 0, TERM ("round words", "all|everyone|every one|whole shelf") },
  { CORE_WORD_DUE, 0, TERM ("round words", "due|all due|due ones") },
  { CORE_WORD_EXCEPT, 0, TERM ("round words", "except|but|excepting") },
  { CORE_WORD_FED, 0, TERM ("round words", "fed|gave|feed|given") },
  { CORE_WORD_MISTED, 0, TERM ("round words", "sprayed|misted|spray|mist") },
  { CORE_WORD_WATERED, 0, TERM ("round words", "watered|dampened|water") },
  { CORE_WORD_CLEANED, 0, TERM ("round words", "cleaned|clean") },
  { CORE_WORD_LOOKED, 0, TERM ("round words", "looked at all|looked|seen|checked") },
  { CORE_WORD_TOOK, 0, TERM ("round words", "took|ate|eaten|taken") },
  { CORE_WORD_REFUSED, 0, TERM ("round words", "refused|refuse|refuses|did not eat") },
  { CORE_WORD_MOULTED, 0, TERM ("round words", "moulted|molted|moult|molt|shed") },
  { CORE_WORD_FELL, 0, TERM ("round words", "fell|fallen") },
  { CORE_WORD_STUCK, 0, TERM ("round words", "stuck") },
  { CORE_WORD_LIMB, 0, TERM ("round words", "limb|limb lost|limb bent|leg lost") },
  { CORE_WORD_GOOD, 0, TERM ("round words", "well|good|all limbs") },
  { CORE_WORD_DEAD, 0, TERM ("round words", "dead|died") },
  { CORE_WORD_LOOKS_DEAD, 0, TERM ("round words", "looks dead|seems dead") },
  { CORE_WORD_ESCAPED, 0, TERM ("round words", "escaped|ran off") },
  { CORE_WORD_LEFT, 0, TERM ("round words", "left") },
  { CORE_WORD_LEFT, 1, TERM ("round words", "sold") },
  { CORE_WORD_LEFT, 2, TERM ("round words", "given away") },
  { CORE_WORD_LEFT, 3, TERM ("round words", "traded|swapped away") },
  { CORE_WORD_LEFT, 4, TERM ("round words", "lent") },
  { CORE_WORD_SKIP, 0, TERM ("round words", "skip|skipped|nothing") },
  { CORE_WORD_BELLY, 0, TERM ("round words", "belly") },
  { CORE_WORD_GONE, 0, TERM ("round words", "gone|prey gone") },
  { CORE_WORD_DRANK, 0, TERM ("round words", "drank|drunk") },
  { CORE_WORD_SWAP, 0, TERM ("round words", "swap|swapped|exchanged") },
  { CORE_WORD_AT, 0, TERM ("round words", "at|and|on|the|with|to") },
  { CORE_WORD_STAGE, CORE_SEEN_ADULT, TERM ("round words", "adult|adults|winged") },
  { CORE_WORD_STAGE, CORE_SEEN_SUBADULT,
    TERM ("round words", "sub-adult|sub-adults|subadult|subadults|sub adult|sub adults") },
  { CORE_WORD_STAGE, CORE_SEEN_NYMPH, TERM ("round words", "nymph|nymphs") },
  { CORE_WORD_UP, 0, TERM ("round words", "up|upwards|or more|or later|+") },
  { CORE_WORD_FROM, 0, TERM ("round words", "from") },
  { CORE_WORD_DAY, 0, TERM ("round words", "today") },
  { CORE_WORD_DAY, 1, TERM ("round words", "yesterday|last night") },
  { CORE_WORD_DAY, 2, TERM ("round words", "day before yesterday") },
  { CORE_WORD_WEEKDAY, 0, TERM ("round words", "monday|mon") },
  { CORE_WORD_WEEKDAY, 1, TERM ("round words", "tuesday|tue") },
  { CORE_WORD_WEEKDAY, 2, TERM ("round words", "wednesday|wed") },
  { CORE_WORD_WEEKDAY, 3, TERM ("round words", "thursday|thu") },
  { CORE_WORD_WEEKDAY, 4, TERM ("round words", "friday|fri") },
  { CORE_WORD_WEEKDAY, 5, TERM ("round words", "saturday|sat") },
  { CORE_WORD_WEEKDAY, 6, TERM ("round words", "sunday|sun") },
  { CORE_WORD_ABOUT, 0, TERM ("round words", "about|roughly|ca") },
  { CORE_WORD_REMAIN, 0, TERM ("round words", "remain|remaining|now|alive") },
  { CORE_WORD_SIGN, CORE_SIGN_SLUGGISH, TERM ("round words", "sluggish") },
  { CORE_WORD_SIGN, CORE_SIGN_DULL, TERM ("round words", "dull|milky") },
  { CORE_WORD_SIGN, CORE_SIGN_PADS, TERM ("round words", "pads|swollen pads") },
  { CORE_WORD_SIGN, CORE_SIGN_HANGING, TERM ("round words", "hanging|hangs") },
  { CORE_WORD_SIGN, CORE_SIGN_PUMPING, TERM ("round words", "pumping|pumps") },
  { CORE_WORD_SIGN, CORE_SIGN_SPLITTING, TERM ("round words", "splitting|splits") },
  { CORE_WORD_PREY, CORE_PREY_MELANOGASTER,
    TERM ("round words",
          "melanogaster|small fruit flies|small fruit fly|fruit flies small|fruit fly small") },
  { CORE_WORD_PREY, CORE_PREY_HYDEI,
    TERM ("round words",
          "hydei|large fruit flies|large fruit fly|fruit flies large|fruit fly large") },
  { CORE_WORD_PREY, CORE_PREY_HOUSE_FLY,
    TERM ("round words", "house flies|house fly|houseflies|housefly") },
  { CORE_WORD_PREY, CORE_PREY_GREEN_BOTTLE,
    TERM ("round words", "green bottles|green bottle|greenbottles") },
  { CORE_WORD_PREY, CORE_PREY_BLUE_BOTTLE,
    TERM ("round words", "blue bottles|blue bottle|bluebottles") },
  { CORE_WORD_PREY, CORE_PREY_MOTH, TERM ("round words", "moths|moth") },
  { CORE_WORD_PREY, CORE_PREY_CRICKET, TERM ("round words", "crickets|cricket") },
  { CORE_WORD_PREY, CORE_PREY_ROACH, TERM ("round words", "roaches|roach|cockroaches") },
  { CORE_WORD_PREY, CORE_PREY_LOCUST, TERM ("round words", "locusts|locust|hoppers") },
  { CORE_WORD_PREY, CORE_PREY_MEALWORM, TERM ("round words", "mealworms|mealworm") },
  { CORE_WORD_PREY, CORE_PREY_WAXWORM, TERM ("round words", "waxworms|waxworm") },
  { CORE_WORD_PREY, CORE_PREY_HONEY, TERM ("round words", "honey") },
  { CORE_WORD_PREY, CORE_PREY_OTHER, TERM ("round words", "other prey") },
};

static gboolean
has_term (const GArray *terms, const char *text)
{
  for (guint i = 0; i < terms->len; i++)
    {
      if (strcmp (g_array_index (terms, CoreRoundTerm, i).text, text) == 0)
        return TRUE;
    }
  return FALSE;
}

/* A word that is there already keeps its first meaning: English wins over a namesake. */
static void
add_word (GArray *terms, const Row *row, const char *folded)
{
  CoreRoundTerm term = { g_intern_string (folded), row->word, row->code };

  if (*folded != '\0' && !has_term (terms, folded))
    g_array_append_val (terms, term);
}

/* What is spelled with a sharp s is typed with two where the keyboard has none. */
static void
add_words (GArray *terms, const Row *row, const char *list)
{
  g_auto (GStrv) words = g_strsplit (list, "|", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *folded = g_utf8_strdown (g_strstrip (words[i]), -1);
      g_auto (GStrv) parts = g_strsplit (folded, "ß", -1);
      g_autofree char *plain = g_strjoinv ("ss", parts);

      add_word (terms, row, folded);
      add_word (terms, row, plain);
    }
}

static GArray *
make_terms (WordsLang lang)
{
  GArray *terms = g_array_new (FALSE, FALSE, sizeof (CoreRoundTerm));

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    add_words (terms, &rows[i], rows[i].term.text);
  for (gsize i = 0; lang == WORDS_LOCAL && i < G_N_ELEMENTS (rows); i++)
    add_words (terms, &rows[i], T_ (lang, rows[i].term.context, rows[i].term.text));
  return terms;
}

const CoreRoundTerm *
words_round_terms (WordsLang lang, gsize *n)
{
  static gsize made[2];
  gsize i = lang == WORDS_ENGLISH ? 1 : 0;
  const GArray *terms;

  if (g_once_init_enter (&made[i]))
    g_once_init_leave (&made[i], (gsize) make_terms (lang));
  terms = (const GArray *) made[i];
  if (n != NULL)
    *n = terms->len;
  return (const CoreRoundTerm *) (const void *) terms->data;
}

/* The usual word of a meaning, for messages; code -1 = any. */
char *
words_round_word (WordsLang lang, CoreRoundWord word, int code)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      if (rows[i].word == word && (code < 0 || rows[i].code == code))
        {
          const char *list = T_ (lang, rows[i].term.context, rows[i].term.text);

          return g_strndup (list, strcspn (list, "|"));
        }
    }
  return g_strdup ("?");
}
