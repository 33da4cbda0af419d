/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round.h — the line in which a keeper says what was done on a shelf.
 *
 *   line      = [opening] ["except" numbers] action {"," action} {(";" | [","] "except") exception}
 *             | exception {(";" | [","] "except") exception}
 *   opening   = {all | due | a kind | a stage ["up"] | a prey ":" | a lot's code} [":"]
 *   exception = numbers [day] outcome [value] [day]
 *             | numbers (took | refused | fed) [[count] prey] [day]
 *             | swap number number
 *             | [a lot's code] [about] count (dead | remain)
 *   numbers   = number-or-range {number-or-range}
 *
 *   action    = fed [count] [prey] | [count] prey fed | misted | watered | cleaned | gone | looked
 *   day       = yesterday | a weekday of the seven days before the round's
 *
 * After a lot's code as opening its exceptions may say the code again.
 *
 * After an action a comma may stand for "except" where a cup's number follows, and
 * commas and fillers may stand between the numbers of an exception.
 *
 * A number followed by an outcome is always a cup: "14 took 2 gone" speaks of two cups,
 * "14 took 2 moths" of one. After a lot's code a number is a count.
 *
 * A missing opening is "all"; several narrow each other ("due ghosts"). The vocabulary
 * comes in as a table (the current language, and always English), with the kinds and the
 * lots of the shelf; unique beginnings of words are accepted, codes only as they are.
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
  CORE_WORD_DUE,
  CORE_WORD_SWAP,      /* two cups change places */
  CORE_WORD_LOOKS_DEAD,
  CORE_WORD_GOOD,      /* after moulted */
  CORE_WORD_LIMB,      /* after moulted */
  CORE_WORD_STAGE,     /* opening, or after moulted; code = CoreSeenStage */
  CORE_WORD_UP,        /* after a stage: "and up" */
  CORE_WORD_FROM,      /* before a stage: the same */
  CORE_WORD_DAY,       /* code = days before the round's day */
  CORE_WORD_WEEKDAY,   /* code: 0 = Monday … */
  CORE_WORD_ABOUT,     /* before the count of a lot */
  CORE_WORD_REMAIN,    /* after it */
  CORE_WORD_SPECIES,   /* code = CoreRoundCup.species */
  CORE_WORD_LOT,       /* code = index of its cup */
  CORE_N_WORDS
} CoreRoundWord;

typedef struct
{
  const char *text;    /* folded to lower case; may contain spaces ("house flies") */
  CoreRoundWord word;
  int code;            /* LEFT: how + 1, 0 = not said */
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
  CORE_ROUND_TOO_LONG,
  CORE_ROUND_EXPECT_STAGE,   /* no such L-number in the keeper's scheme */
  CORE_ROUND_NO_CUP,         /* the opening means no cup of this shelf */
  CORE_ROUND_WHICH_DAY,      /* the weekday of the round itself: today or a week ago? */
  CORE_ROUND_EXPECT_TWO,     /* swap takes two numbers */
  CORE_ROUND_EXPECT_LOT,     /* after a lot's count: dead or remain */
  CORE_ROUND_NOT_THERE,      /* on this shelf, but not on the day of the round */
  CORE_ROUND_REPEATED,       /* a number twice with the same outcome */
  CORE_ROUND_ONLY_LOTS,      /* no cup stands here, and a lot is meant by its code: candidates given */
  CORE_ROUND_NOBODY,         /* neither cup nor lot stands here */
  CORE_ROUND_A_COUNT,        /* no such number; as a count of a lot its code comes first: candidates given */
  CORE_ROUND_TOO_SHORT,      /* what takes an animal off the shelf is written out: candidates given */
  CORE_ROUND_BY_NUMBER,      /* said of single cups, not of all */
  CORE_ROUND_BACKWARDS,      /* a range whose first number is the larger */
  CORE_ROUND_ACTION_TWICE,   /* the same was done to all already */
  CORE_ROUND_MANY_PREY,      /* for each cup */
  CORE_N_ROUND_ERRORS
} CoreRoundError;

typedef struct
{
  CoreRoundError error;
  size_t start, length;      /* bytes of the line */
  size_t n_candidates;
  const char *candidates[4]; /* into the vocabulary */
} CoreRoundProblem;

/* Whom the line speaks of. */
typedef struct
{
  bool due;                  /* what is due for the action */
  int species;               /* -1 = every */
  int pot;                   /* the prey proposed to it; -1 = any */
  int moults;                /* since the hatch; -1 = any */
  CoreSeenStage seen;        /* UNKNOWN = any */
  bool up;                   /* moults, seen: and what comes after */
  int lot;                   /* index of its cup; -1 = no lot */
  size_t start, length;
} CoreRoundOpening;

typedef struct
{
  CoreRoundWord action;      /* FED MISTED WATERED CLEANED GONE LOOKED */
  int prey;                  /* FED: -1 = not said */
  int n;                     /* FED: 0 = not said */
  size_t start, length;
} CoreRoundAction;

typedef struct
{
  char number[24];           /* "14", "14a"; a lot's code */
  CoreRoundWord outcome;     /* FED: put in for this cup; of a lot: DEAD or REMAIN */
  int code;                  /* sign; moult outcome CORE_MOULT_*; how it left; -1 = not said */
  int value;                 /* belly score; 0 none */
  int prey, n;               /* TOOK REFUSED FED: its own; -1, 0 = not said; of a lot: the count */
  CoreSeenStage to;          /* MOULTED: what it became, as seen */
  int days_back;             /* before the day of the round */
  bool lot, about;           /* of a lot; its count is an estimate */
  char other[24];            /* SWAP: with whom */
  size_t start, length;
} CoreRoundException;

#define CORE_ROUND_MAX_ACTIONS 6
#define CORE_ROUND_MAX_EXCEPTIONS 320
#define CORE_ROUND_MAX_PROBLEMS 8

typedef struct
{
  CoreRoundOpening opening;
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
  char number[24];
  CoreId subject;
  bool living_single;
  bool lot;                  /* only by its code, never among all */
  bool absent;               /* it did not stand here on the day of the round */
  bool no_food;              /* ill: left out of feeding */
  bool held;                 /* leave alone: left out of all but looked and gone */
  bool due_food, due_mist, due_water, due_clean, due_look;
  bool offered;              /* prey was put in and not yet seen eaten, gone or refused */
  int moults;                /* -1 = unknown */
  bool subadult, adult, maybe_adult;
  int species;               /* code of its terms; -1 = unknown */
  /* Answers whether a prey may be offered; see core_prey_fits. */
  int prey_fit[16];          /* by CORE_PREY_*: CorePreyFit */
  int usual_prey;            /* what its feed task proposes, -1 */
  int usual_n;
} CoreRoundCup;

typedef struct
{
  const CoreRoundCup *cups;
  size_t n_cups;
  int scheme;                /* L-number of the hatchling: 1 or 2 */
  int weekday;               /* of the round's day: 0 = Monday … 6 */
} CoreRoundShelf;

typedef enum
{
  CORE_LEFT_OUT_HELD,
  CORE_LEFT_OUT_TOO_SMALL,
  CORE_LEFT_OUT_NOT_ITS_PREY,
  CORE_LEFT_OUT_NOTHING_IN,     /* gone: no prey was put in */
  CORE_LEFT_OUT_STAGE_UNKNOWN,  /* the opening asks for a stage */
  CORE_LEFT_OUT_NOT_THERE,      /* on the day of the round */
  CORE_LEFT_OUT_ILL,            /* food waits: it vomits, has mites or is weak */
  CORE_LEFT_OUT_LENGTH_UNKNOWN, /* kind or stage unknown: nobody can say whether the prey fits */
  CORE_LEFT_OUT_LOT,            /* due for it, but a lot: meant by its code only, not among all */
  CORE_N_LEFT_OUT
} CoreLeftOutWhy;

typedef struct
{
  size_t cup;
  size_t action;             /* index into actions */
  CoreLeftOutWhy why;
  int prey;                  /* what it was left out for, -1 */
  bool due;                  /* for the action, or to be looked at: it stays so after the round */
} CoreRoundLeftOut;

typedef struct
{
  size_t cup;
  CoreRoundWord what;        /* an action or an outcome */
  int prey, n, code, value;  /* -1, 0, -1, 0 = not said; took, refused: what was offered */
  CoreSeenStage to;
  int days_back;
  bool about;
  size_t other;              /* SWAP: index of the other cup */
  size_t action;             /* index into actions; of an exception: into exceptions */
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
                             const CoreRoundShelf *shelf, CoreRoundLine *out);
/* CORE_BAD_INPUT when the line has problems: then `out` holds what is understood of it, to be
 * shown; it must not be written. */
CoreStatus core_round_resolve (const CoreRoundLine *line, const CoreRoundShelf *shelf,
                               CoreRoundPlan *out);
void core_round_line_clear (CoreRoundLine *self);

/* ---- a line changed by hand ---- */

CoreRoundLine core_round_line_none (void);
CoreStatus core_round_line_copy (const CoreRoundLine *self, CoreRoundLine *out);
const CoreRoundAction *core_round_get_action (const CoreRoundLine *line, CoreRoundWord action);
/* Of each action there is one. CORE_BAD_INPUT when the line is full. */
CoreStatus core_round_set_action (CoreRoundLine *line, const CoreRoundAction *action);
void core_round_drop_action (CoreRoundLine *line, CoreRoundWord action);
bool core_round_has_mark (const CoreRoundLine *line, const CoreRoundException *mark);
/* Sets it in place of what it excludes, or takes it back when it is there. */
CoreStatus core_round_toggle_mark (CoreRoundLine *line, const CoreRoundException *mark);
void core_round_unmark (CoreRoundLine *line, const char *number);
void core_round_plan_clear (CoreRoundPlan *self);
