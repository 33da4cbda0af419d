/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-search.h — by which words an entry is found again. Safe on any thread. */
#pragma once

#include "words/words.h"

G_BEGIN_DECLS

/* Of its kind and codes, in the session's language and in English: the same for all entries that have
 * the same. "moulted moult fell fell". */
char *words_search_terms (const CoreEntry *entry);
/* What the keeper wrote in it: a buyer, a cause, a locality; "" = nothing. */
char *words_search_own (const CoreEntry *entry);
/* "refused", "taken seen eaten" */
char *words_search_meal (int outcome);
/* "adult", "sub-adult L8", "L5"; "" = unknown. */
char *words_search_stage (const CoreState *state, int scheme);
/* And what was looked through. */
const char *words_search_nothing (WordsLang lang);

G_END_DECLS
