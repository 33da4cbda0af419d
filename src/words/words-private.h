/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-private.h — the language switch, and what the files of this room share.
 *
 * Under WORDS_ENGLISH T_ and TN_ (words-tr.h) give the English as written here;
 * numbers go into sentences as text from words_number(), never as %g, so that
 * no locale can change the contract.
 */
#pragma once

#include "words/words.h"

G_BEGIN_DECLS

/* A row of a table of terms: context and English, both in the catalogue. */
typedef struct
{
  const char *context;
  const char *text;
} WordsTerm;
#define TERM(ctx, en)                                                                              \
  {                                                                                                \
    ctx, en                                                                                        \
  } /* xgettext: TERM:1c,2 */

/* terms[i], or "something else" when i is outside. */
const char *words_term (WordsLang lang, const WordsTerm *terms, gsize n, int i);
/* Texts of the keeper into {1} … {4}, never read as a format; NULL-ended. */
char *words_fill (const char *text, const char *const *args);
/* First letter upper case / a full stop at the end, in place of `text` (taken). */
char *words_sentence (char *text);

const char *words_method (WordsLang lang, int method); /* CORE_METHOD_*: "by the plates" */
char *words_stage_ordinal (WordsLang lang, int number);
gboolean words_stage_is_about (const CoreState *state); /* counted from a guess, or open by one */
char *words_stage_phrase (const WordsView *view, const CoreState *state);
const char *words_sex_phrase (WordsLang lang, CoreVerdictWord verdict);
/* words-forecast.c: that none may come at its temperature is said beside its days. */
gboolean words_forecast_may_not (const CoreForecast *forecast);
/* words-forecast.c: parts put side by side as one sentence; when it ended; what is due today. */
/* "1–12", "14a", "33": three or more numbers that follow each other are one part; char *. */
GPtrArray *words_number_parts (WordsLang lang, const char *const *numbers, gsize n);
char *words_join_sentence (WordsLang lang, GPtrArray *parts);
char *words_ended (const WordsView *view, const CoreState *state);
void words_tasks_due (const WordsView *view, const CorePlan *plan, GPtrArray *parts);
/* words-lot.c: what an entry of a lot, an egg case or a culture says; nothing for others. */
/* Of an animal: some of the lot that it came from moulted. FALSE: it is no such entry. */
gboolean words_lot_perhaps (WordsLang lang, const WordsEntry *what, GPtrArray *parts);
/* Has it that from its lot: an entry of the lot from before it became one of its own, in older journals a
 * copy? */
gboolean words_lot_had (const WordsEntry *what);
void words_lot_parts (const WordsView *view, const WordsEntry *what, GPtrArray *parts);
char *words_round_word (WordsLang lang, CoreRoundWord word, int code);

G_END_DECLS
