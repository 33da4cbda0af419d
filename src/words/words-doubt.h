/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-doubt.h — questions about what can be, but is likelier a slip. */
#pragma once

#include "words/words.h"

G_BEGIN_DECLS

/* "250 mm is far from what is expected, 12 to 24 mm. Is it so?" */
char *words_doubt_length (WordsLang lang, double mm, double lo, double hi);
/* "That is before the first count, of 14 Jun. …" of `n` that went then. */
char *words_doubt_before_count (const WordsView *view, const CoreTally *tally, gint64 n);
/* "9 is an orchid mantis and 10 a ghost mantis: …" */
char *words_doubt_mixed (WordsLang lang,
                         const CoreState *a,
                         const CoreProfile *a_profile,
                         const char *a_label,
                         const CoreState *b,
                         const CoreProfile *b_profile,
                         const char *b_label);

G_END_DECLS
