/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-doubt.c — see words-doubt.h. */
#include "words/words-doubt.h"

#include "words/words-private.h"

char *
words_doubt_length (WordsLang lang, double mm, double lo, double hi)
{
  g_autofree char *said = words_number (lang, mm, 1);
  g_autofree char *least = words_number (lang, lo, lo < 10 ? 1 : 0);
  g_autofree char *most = words_number (lang, hi, hi < 10 ? 1 : 0);
  const char *args[] = { said, least, most, NULL };

  return words_fill (T_ (lang, "doubt", "{1} mm is far from what is expected of it, {2} to {3} mm. Is it in mm, and of "
                                        "the right part, cup and stage?"),
                     args);
}

char *
words_doubt_before_count (const WordsView *view, const CoreTally *tally, gint64 n)
{
  g_autofree char *day = words_day (view, tally->first_count, WORDS_DAY_FULL);
  g_autofree char *before = words_amount (view->lang, tally->began, !tally->began_about);
  g_autofree char *after = words_amount (view->lang, tally->began + n, !tally->began_about);
  const char *args[] = { day, before, after, NULL };

  return words_fill (
    T_ (view->lang, "doubt",
        "That is before the first count, of {1}: the count stays, and not {2} but {3} "
        "were there at the beginning. Is it so?"),
    args);
}

char *
words_doubt_mixed (WordsLang lang,
                   const CoreState *a,
                   const CoreProfile *a_profile,
                   const char *a_label,
                   const CoreState *b,
                   const CoreProfile *b_profile,
                   const char *b_label)
{
  const char *args[] = { a_label, words_species (lang, a_profile, a->species), b_label,
                         words_species (lang, b_profile, b->species), NULL };

  return words_fill (T_ (lang, "doubt", "They are of two kinds: {1} {2}, {3} {4}. Their kinds stay with the numbers; only "
                                        "what was seen of them changes sides. Were these two mixed up?"),
                     args);
}
