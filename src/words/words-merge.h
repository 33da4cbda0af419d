/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-merge.h — two copies of a journal become one: what comes in, and what waits for the keeper. */
#pragma once

#include "words/words.h"

G_BEGIN_DECLS

typedef struct
{
  guint entries, already; /* that are new; that are in both */
  guint subjects[CORE_N_SUBJECTS];
  guint photos;
  guint left_out; /* photos without their file */
  guint drafts;   /* they stay there */
} WordsMerge;

/* "48 entries, 2 animals and 3 photos"; NULL when there is nothing. */
char *words_merge_what (WordsLang lang, const WordsMerge *merge);
/* "Will come in: 48 entries, 2 animals and 3 photos." */
char *words_merge_coming (WordsLang lang, const WordsMerge *merge);
char *words_merge_came (WordsLang lang, const WordsMerge *merge);
/* What else has to be known before, or afterwards: a sentence or more; "" when there is nothing. */
char *words_merge_beside (WordsLang lang, const WordsMerge *merge);

/* Of a journal that is no copy; n_names: numbers and codes that both gave. */
char *words_merge_question (WordsLang lang, const WordsMerge *merge, guint n_names);

/* A conflict of one subject; of a number or code that two have, `other` keeps it. */
typedef struct
{
  const CoreConflict *conflict;
  const char *label; /* what it answers to */
  const CoreState *state;
  const CoreProfile *profile;
  const char *where; /* NULL = nowhere */
  const CoreState *other; /* NULL = no conflict of names */
  const CoreProfile *other_profile;
  const char *other_where;
  const CoreEntry *counts; /* of two corrections of one entry, of one that was taken back too, of a moult
                            * entered twice; else NULL */
  const CoreEntry *not_counted; /* of two of them; else NULL */
} WordsClash;
/* "61: ghost mantis (Shelf A) keeps the number; orchid mantis (Shelf B) answers to 61b until it gets
 * a new one.", "61: corrected twice; 5 hydei: seen eaten counts, …", or the words of the conflict. */
char *words_merge_clash (const WordsView *view, const WordsClash *clash);

G_END_DECLS
