/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-private.h — tokens and words of the round line. */
#pragma once

#include "core/core-round.h"

/* Longer lines are refused before they are read. */
#define ROUND_MAX_BYTES 4096

typedef enum
{
  TOKEN_WORD,
  TOKEN_NUMBER, /* digits, at most one letter after them */
  TOKEN_DASH,   /* between two numbers */
  TOKEN_COMMA,
  TOKEN_SEMICOLON
} TokenKind;

typedef struct
{
  TokenKind kind;
  const char *text; /* into the line */
  size_t start, length;
} Token;

typedef struct
{
  Token *v; /* owned */
  size_t n;
} TokenList;

/* CORE_NO_MEMORY, or OK. `length` bytes of line. */
CoreStatus round_tokens (const char *line, size_t length, TokenList *out);

/* Sets of words that may come at some point of the line. */
#define ROUND_WORD(word) (1u << (word))
#define ROUND_ACTIONS                                                                              \
  (ROUND_WORD (CORE_WORD_FED) | ROUND_WORD (CORE_WORD_MISTED) | ROUND_WORD (CORE_WORD_WATERED) |   \
   ROUND_WORD (CORE_WORD_CLEANED) | ROUND_WORD (CORE_WORD_LOOKED))
#define ROUND_OUTCOMES                                                                             \
  (ROUND_WORD (CORE_WORD_TOOK) | ROUND_WORD (CORE_WORD_REFUSED) | ROUND_WORD (CORE_WORD_MOULTED) | \
   ROUND_WORD (CORE_WORD_DEAD) | ROUND_WORD (CORE_WORD_ESCAPED) | ROUND_WORD (CORE_WORD_LEFT) |    \
   ROUND_WORD (CORE_WORD_SKIP) | ROUND_WORD (CORE_WORD_BELLY) | ROUND_WORD (CORE_WORD_GONE) |      \
   ROUND_WORD (CORE_WORD_DRANK) | ROUND_WORD (CORE_WORD_SIGN))

/* What may carry a prey in an exception. */
#define ROUND_FOOD                                                                                 \
  (ROUND_WORD (CORE_WORD_TOOK) | ROUND_WORD (CORE_WORD_REFUSED) | ROUND_WORD (CORE_WORD_FED))

typedef enum
{
  MATCH_NONE,
  MATCH_ONE,
  MATCH_SEVERAL
} Match;

typedef struct
{
  CoreRoundWord word;
  int code;
  size_t n_tokens; /* how many tokens the word takes */
  size_t n_candidates;
  const char *candidates[4];
} MatchResult;

/* The word at token `at` among the terms of `allowed`. Each word of a term may be
 * cut to its beginning, and words at its end may be missing. The longest match
 * wins, then a complete one; fillers match only in full. What takes an animal off
 * the shelf needs two letters; one alone gives MATCH_NONE with candidates. */
Match round_match (const TokenList *tokens,
                   size_t at,
                   unsigned allowed,
                   const CoreRoundTerm *terms,
                   size_t n_terms,
                   MatchResult *out);
