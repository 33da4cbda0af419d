/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-test.h — small makers shared by the tests of words. */
#pragma once

#include "words/words.h"

/* Wednesday, 25 November 2026. */
CoreDay wt_today (void);
CoreDay wt_day (const char *text);
/* pairs: "key=value" …, NULL-ended; every one must be accepted. */
CoreEntry *wt_entry (CoreKind kind, ...) G_GNUC_NULL_TERMINATED;
/* Compares and frees. */
void wt_says (char *got, const char *expected);
/* Whole, with an end, nothing left unfilled, no exclamation; `id` says which. */
void wt_sentence (const char *text, const char *id);
/* Parses a line for the cups 14, 31, 33 and says what it understood: "all; fed house flies 2; 14
 * refused", or "problem 3". */
char *wt_round (const char *line, WordsLang lang);
/* The same line as words would type it. */
char *wt_round_line (const char *line, WordsLang lang);
/* Every word of the round line, typed in that language and read back, means what it meant. */
void wt_round_read_back (WordsLang lang);
CoreReason wt_reason (const char *rule, CoreUnit unit, double value, double value2);
