/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round.h — the line in which a keeper says what was done on a shelf.
 *
 *   line      = [opening] action {"," action} {(";" | [","] "except") exception}
 *             | exception {(";" | [","] "except") exception}
 *   exception = number-or-range {number-or-range} outcome [value]
 *             | number-or-range {number-or-range} (took | refused | fed) [[count] prey]
 *
 *   action    = fed [count] [prey] | [count] prey fed | misted | watered | cleaned | looked
 *
 * After an action a comma may stand for "except" where a cup's number follows, and
 * commas and fillers may stand between the numbers of an exception.
 *
 * A number followed by an outcome is always a cup: "14 took 2 gone" speaks of two cups,
 * "14 took 2 moths" of one.
 *
 * A missing opening is "all". The vocabulary comes in as a table (the current
 * language, and always English); unique beginnings of words are accepted.
 */
#pragma once

#include "core/core-types.h"

typedef enum
{
  CORE_WORD_ALL,
  CORE_WORD_EXCEPT,
  CORE_WORD_FED,       /* action; code unused */
  CORE_WORD_MISTED,
  CORE_WORD_WATERED,
  CORE_WORD_CLEANED,
  CORE_WORD_LOOKED,    /* looked at all */
  CORE_WORD_PREY,      /* code = CORE_PREY_* */
  CORE_WORD_TOOK,      /* outcomes of an exception */
  CORE_WORD_REFUSED,
  CORE_WORD_MOULTED,
  CORE_WORD_FELL,      /* after moulted */
  CORE_WORD_STUCK,
  CORE_WORD_DEAD,
  CORE_WORD_ESCAPED,
  CORE_WORD_LEFT,
  CORE_WORD_SKIP,
  CORE_WORD_BELLY,     /* takes a value 1…5 */
  CORE_WORD_GONE,
  CORE_WORD_DRANK,
  CORE_WORD_SIGN,      /* code = CORE_SIGN_* */
  CORE_WORD_AT,        /* filler: "at", "and" … ignored */
  CORE_WORD_DUE
} CoreRoundWord;

typedef struct
{
  const char *text;    /* folded to lower case; may contain spaces ("house flies") */
  CoreRoundWord word;
  int code;
} CoreRoundTerm;

typedef enum
{
  CORE_ROUND_OK,
  CORE_ROUND_EMPTY,
  CORE_ROUND_UNKNOWN_WORD,
  CORE_ROUND_AMBIGUOUS,      /* a beginning of several words: candidates given */
  CORE_ROUND_EXPECT_ACTION,
  CORE_ROUND_EXPECT_PREY,
  CORE_ROUND_EXPECT_NUMBER,
  CORE_ROUND_EXPECT_OUTCOME,
  CORE_ROUND_EXPECT_VALUE,
  CORE_ROUND_BAD_VALUE,
  CORE_ROUND_NO_SUCH_NUMBER, /* not on this shelf */
  CORE_ROUND_TWICE,          /* a number with two outcomes that exclude each other */
  CORE_ROUND_TOO_LONG
} CoreRoundError;

typedef struct
{
  CoreRoundError error;
  size_t start, length;      /* bytes of the line */
  size_t n_candidates;
  const char *candidates[4]; /* into the vocabulary */
} CoreRoundProblem;

typedef struct
{
  CoreRoundWord action;      /* FED MISTED WATERED CLEANED LOOKED */
  int prey;                  /* FED: -1 = not said */
  int n;                     /* FED: 0 = not said */
} CoreRoundAction;

typedef struct
{
  char number[12];           /* "14", "14a" */
  CoreRoundWord outcome;     /* FED: put in for this cup */
  int code;                  /* sign; moult outcome CORE_MOULT_*; -1 = not said */
  int value;                 /* belly score; 0 none */
  int prey, n;               /* TOOK REFUSED FED: its own; -1, 0 = not said */
  size_t start, length;
} CoreRoundException;

#define CORE_ROUND_MAX_ACTIONS 6
#define CORE_ROUND_MAX_EXCEPTIONS 320
#define CORE_ROUND_MAX_PROBLEMS 8

typedef struct
{
  CoreRoundWord opening;     /* ALL or DUE */
  size_t n_actions;
  CoreRoundAction actions[CORE_ROUND_MAX_ACTIONS];
  size_t n_exceptions;
  CoreRoundException *exceptions; /* owned */
  size_t n_problems;
  CoreRoundProblem problems[CORE_ROUND_MAX_PROBLEMS];
} CoreRoundLine;

/* A cup as the line sees it. */
typedef struct
{
  char number[12];
  CoreId subject;
  bool living_single;
  bool held;                 /* leave alone: left out of all but looked */
  bool due_food;
  /* Answers whether a prey may be offered; see core_prey_fits. */
  int prey_fit[16];          /* by CORE_PREY_*: CorePreyFit */
  int usual_prey;            /* what its feed task proposes, -1 */
  int usual_n;
} CoreRoundCup;

typedef enum { CORE_LEFT_OUT_HELD, CORE_LEFT_OUT_TOO_SMALL, CORE_LEFT_OUT_NOT_ITS_PREY } CoreLeftOutWhy;

typedef struct
{
  size_t cup;
  size_t action;             /* index into actions */
  CoreLeftOutWhy why;
} CoreRoundLeftOut;

typedef struct
{
  size_t cup;
  CoreRoundWord what;        /* an action or an outcome */
  int prey, n, code, value;  /* -1, 0, -1, 0 = not said; took, refused: what was offered */
  bool exception;            /* typed for this animal by number: a look, unless FED (only offered) */
} CoreRoundWrite;

typedef struct
{
  size_t n_writes;
  CoreRoundWrite *writes;    /* owned */
  size_t n_left_out;
  CoreRoundLeftOut *left_out;/* owned */
} CoreRoundPlan;

/* Parse; numbers are checked against the cups. ASCII letters may be of any case, others
 * must have been folded by the caller as in the vocabulary; at most 4,096 bytes. CORE_BAD_INPUT when there are problems. */
CoreStatus core_round_parse (const char *line, const CoreRoundTerm *terms, size_t n_terms,
                             const CoreRoundCup *cups, size_t n_cups, CoreRoundLine *out);
CoreStatus core_round_resolve (const CoreRoundLine *line, const CoreRoundCup *cups, size_t n_cups,
                               CoreRoundPlan *out);
void core_round_line_clear (CoreRoundLine *self);
void core_round_plan_clear (CoreRoundPlan *self);
