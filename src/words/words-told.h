/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-told.h — what was told of an animal when it came: a word, and what it says. */
#pragma once

#include "words/words.h"

typedef struct
{
  char *head; /* "Told by Ada:"; NULL: there is nothing to say */
  char *text; /* "L4 (hatchling = L1), male, generation F2" */
} WordsTold;

void words_told_clear (WordsTold *told);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WordsTold, words_told_clear)

/* How those are called that it comes from; NULL: not known. */
typedef struct
{
  const char *mother, *father, *eggcase, *lot, *line;
} WordsKin;

/* The giver's stage in the giver's scheme, the sex and the generation as told; `from` may be NULL. */
WordsTold words_told (const WordsView *view, const CoreState *state, const char *from);
WordsTold words_kin (const WordsView *view, const WordsKin *kin);
/* How sure the species name is, where it is not. */
WordsTold words_name_told (const WordsView *view, const CoreState *state);
