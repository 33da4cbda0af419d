/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-when.h — the vocabulary of days as a keeper says them. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  WORDS_WHEN_TODAY, /* code = days before today */
  WORDS_WHEN_ABOUT,
  WORDS_WHEN_AGO,
  WORDS_WHEN_LAST,
  WORDS_WHEN_SKIP,
  WORDS_WHEN_UNKNOWN,
  WORDS_WHEN_UNIT,    /* code = days of one */
  WORDS_WHEN_COUNT,   /* code = the number */
  WORDS_WHEN_WEEKDAY, /* code: 0 = Monday */
  WORDS_WHEN_MONTH    /* code: 1 = January */
} WordsWhen;

typedef struct
{
  const char *text; /* folded */
  WordsWhen word;
  int code;
} WordsWhenTerm;

/* Static: valid until the end of the program. */
const WordsWhenTerm *words_when_terms (gsize *n);

G_END_DECLS
