/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-private.h — what the files of the round line's parser share. */
#pragma once

#include "core/core-round.h"

/* Longer lines are refused before they are read. */
#define ROUND_MAX_BYTES 4096

/* ---- tokens: core-round-words.c ---- */

typedef enum
{
  TOKEN_WORD,
  TOKEN_NUMBER, /* digits, at most one letter after them */
  TOKEN_DASH,   /* between two numbers */
  TOKEN_COMMA,
  TOKEN_SEMICOLON,
  TOKEN_COLON
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

/* ---- words: core-round-words.c ---- */

/* Sets of words that may come at some point of the line. */
typedef uint64_t RoundWords;
#define ROUND_WORD(word) (UINT64_C (1) << (word))

#define ROUND_ACTIONS                                                                              \
  (ROUND_WORD (CORE_WORD_FED) | ROUND_WORD (CORE_WORD_MISTED) | ROUND_WORD (CORE_WORD_WATERED) |   \
   ROUND_WORD (CORE_WORD_CLEANED) | ROUND_WORD (CORE_WORD_LOOKED) | ROUND_WORD (CORE_WORD_GONE))
#define ROUND_OUTCOMES                                                                             \
  (ROUND_WORD (CORE_WORD_TOOK) | ROUND_WORD (CORE_WORD_REFUSED) | ROUND_WORD (CORE_WORD_MOULTED) | \
   ROUND_WORD (CORE_WORD_DEAD) | ROUND_WORD (CORE_WORD_ESCAPED) | ROUND_WORD (CORE_WORD_LEFT) |    \
   ROUND_WORD (CORE_WORD_SKIP) | ROUND_WORD (CORE_WORD_BELLY) | ROUND_WORD (CORE_WORD_GONE) |      \
   ROUND_WORD (CORE_WORD_DRANK) | ROUND_WORD (CORE_WORD_SIGN))
/* Also said of one cup, but a beginning that one of these shares with an outcome means
 * the outcome. */
#define ROUND_OUTCOMES_LAST                                                                        \
  (ROUND_WORD (CORE_WORD_FED) | ROUND_WORD (CORE_WORD_MISTED) | ROUND_WORD (CORE_WORD_WATERED) |   \
   ROUND_WORD (CORE_WORD_CLEANED) | ROUND_WORD (CORE_WORD_LOOKED) | ROUND_WORD (CORE_WORD_SWAP) |  \
   ROUND_WORD (CORE_WORD_LOOKS_DEAD))
/* What may carry a prey in an exception. */
#define ROUND_FOOD                                                                                 \
  (ROUND_WORD (CORE_WORD_TOOK) | ROUND_WORD (CORE_WORD_REFUSED) | ROUND_WORD (CORE_WORD_FED))
#define ROUND_OPENINGS                                                                             \
  (ROUND_WORD (CORE_WORD_ALL) | ROUND_WORD (CORE_WORD_DUE) | ROUND_WORD (CORE_WORD_STAGE) |        \
   ROUND_WORD (CORE_WORD_SPECIES) | ROUND_WORD (CORE_WORD_LOT))
#define ROUND_DAYS (ROUND_WORD (CORE_WORD_DAY) | ROUND_WORD (CORE_WORD_WEEKDAY))

typedef enum
{
  MATCH_NONE,
  MATCH_ONE,
  MATCH_SEVERAL
} Match;

#define ROUND_CANDIDATES 4

typedef struct
{
  CoreRoundWord word;
  int code;
  size_t n_tokens; /* how many tokens the word takes */
  RoundWords all;  /* SEVERAL: the words that may be meant */
  size_t n_candidates;
  const char *candidates[ROUND_CANDIDATES];
  int codes[ROUND_CANDIDATES];
} MatchResult;

/* The word at token `at` among the terms of `allowed`. Each word of a term may be
 * cut to its beginning, and words at its end may be missing. The longest match
 * wins, then a complete one; fillers and codes match only in full. What takes an animal
 * off the shelf needs two letters, a day three or its own short form; one alone gives
 * MATCH_NONE with candidates. */
Match round_match (const TokenList *tokens,
                   size_t at,
                   RoundWords allowed,
                   const CoreRoundTerm *terms,
                   size_t n_terms,
                   MatchResult *out);

/* ---- the parser ---- */

typedef struct
{
  TokenList tokens;
  size_t at;
  size_t line_length;
  const CoreRoundTerm *terms;
  size_t n_terms;
  const CoreRoundShelf *shelf;
  CoreRoundLine *out;
  size_t cap; /* of out->exceptions */
  bool no_memory;
  bool except; /* "except" opened this exception */
} RoundParser;

/* Problems and steps: core-round.c. NULL when the list of problems is full. */
CoreRoundProblem *
round_problem (RoundParser *self, CoreRoundError error, size_t start, size_t length);
/* At the present token, or at the end of the line. */
CoreRoundProblem *round_problem_here (RoundParser *self, CoreRoundError error);
/* A word that is not what may come here: unknown, or one of several. */
void round_problem_word (RoundParser *self,
                         Match match,
                         const MatchResult *result,
                         CoreRoundError expected);
bool round_at_kind (const RoundParser *self, TokenKind kind);
bool round_at_end (const RoundParser *self);
Match round_match_here (const RoundParser *self, RoundWords allowed, MatchResult *result);
bool round_take_word (RoundParser *self, CoreRoundWord word);
void round_skip_fillers (RoundParser *self); /* and colons */
void round_skip_to_separator (RoundParser *self);
/* The digits of a number token; -1 when they are more than nine. */
long round_number_value (const Token *token);

/* Two outcomes of one cup that cannot both be. */
bool round_exclude_each_other (const CoreRoundException *a, const CoreRoundException *b);

/* core-round-open.c: whom the line speaks of. Was there an opening? */
bool round_parse_opening (RoundParser *self);
bool round_opening_means (const CoreRoundOpening *opening, const CoreRoundCup *cup);
/* It may be meant, but its stage is not known. */
bool round_opening_unsure (const CoreRoundOpening *opening, const CoreRoundCup *cup);
bool round_opening_is_all (const CoreRoundOpening *opening);

/* core-round-act.c: what was done. */
void round_parse_count (RoundParser *self, CoreRoundAction *action);
void round_parse_prey (RoundParser *self, CoreRoundAction *action, bool counted);
/* Where does "[2] house flies fed" end, some languages' order? 0 = not here. */
size_t round_food_first (const RoundParser *self, MatchResult *prey);
/* Actions up to the exceptions; true when exceptions follow. */
bool round_parse_actions (RoundParser *self);

/* core-round-except.c */
void round_parse_exceptions (RoundParser *self);
/* Does "[2] moths" stand at token `at`? */
bool round_prey_follows (const RoundParser *self, size_t at);
/* "except 10 fed 2 hydei": whom all of it leaves out, said before what was done. */
void round_parse_left_out (RoundParser *self);
/* The lots of the shelf: the code of the first, NULL = none; as what may be meant. */
const char *round_first_lot (const CoreRoundShelf *shelf);
void round_name_lots (const CoreRoundShelf *shelf, CoreRoundProblem *problem);
/* "[about] 3 dead": the count of a lot? */
bool round_lot_count_follows (const RoundParser *self);
