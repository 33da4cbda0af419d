/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-move-in.h — what stands on the table for many animals: columns, words, problems. */
#pragma once

#include "words/words.h"

G_BEGIN_DECLS

typedef enum
{
  MOVE_IN_PLACE,
  MOVE_IN_AT,
  MOVE_IN_NUMBER,
  MOVE_IN_SPECIES,
  MOVE_IN_STAGE,
  MOVE_IN_SEX,
  MOVE_IN_MOULT,
  MOVE_IN_FED,
  MOVE_IN_N_COLUMNS,
  MOVE_IN_SCHEME, /* of the stage in its row: no column here, said in the cell of the stage */
  /* Of a spreadsheet only: kept with the row, and no column here either. */
  MOVE_IN_NAME,
  MOVE_IN_LOCALITY,
  MOVE_IN_NOTES,
  MOVE_IN_N_CELLS,
  MOVE_IN_ORIGIN /* into the notes, after its heading */
} MoveInColumn;

typedef enum
{
  MOVE_IN_OK,
  MOVE_IN_TOO_LONG,
  MOVE_IN_PLACE_SEVERAL, /* {1} typed, {2} names */
  MOVE_IN_PLACE_LONG,
  MOVE_IN_AT_NUMBER,
  MOVE_IN_NUMBER_FORM,
  MOVE_IN_NUMBER_GIVEN,
  MOVE_IN_NUMBER_TWICE,
  MOVE_IN_SPECIES_SEVERAL,
  MOVE_IN_SPECIES_NEAR, /* {1} typed, {2} what comes near */
  MOVE_IN_SPECIES_NONE, /* {1} typed, {2} all that are known */
  MOVE_IN_STAGE_FORM,
  MOVE_IN_STAGE_EARLY, /* {1} typed, {2} of the hatchling in this scheme */
  MOVE_IN_STAGE_SCHEME,
  MOVE_IN_SEX_FORM,
  MOVE_IN_DAY_FORM,
  MOVE_IN_DAY_SEVERAL,
  MOVE_IN_DAY_FUTURE,
  MOVE_IN_DAY_OLD,
  MOVE_IN_DAY_SERIAL, /* {1} typed, {2} the day that it most likely is */
  MOVE_IN_RANGE_FORM, /* of the range bar */
  MOVE_IN_RANGE_NONE,
  MOVE_IN_RANGE_GIVEN,
  MOVE_IN_TOO_MANY, /* {1} most rows */
  MOVE_IN_PASTE_EMPTY,
  MOVE_IN_PASTE_LARGE,
  MOVE_IN_PASTE_BINARY,
  MOVE_IN_PASTE_NOT_UTF8,
  MOVE_IN_PASTE_WIDE,    /* {1} columns, {2} most */
  MOVE_IN_PASTE_QUOTE,   /* {1} line where it opens */
  MOVE_IN_PASTE_SURPLUS, /* {1} line, {2} the cell */
  MOVE_IN_PASTE_HEADINGS,
  MOVE_IN_PASTE_LONG, /* {1} line, {2} the heading */
  MOVE_IN_NOTHING,
  MOVE_IN_N_PROBLEMS
} MoveInProblem;

const char *words_move_in_column (WordsLang lang, MoveInColumn column); /* "Last moult" */
/* One sentence: what is wrong, and what is expected; {1} and {2} from `a` and `b`, may be NULL. */
char *words_move_in_problem (WordsLang lang, MoveInProblem problem, const char *a, const char *b);

/* A word at the head of a column of a spreadsheet; MOVE_IN_N_COLUMNS when it is none. Folded,
 * English, German or of the session. */
MoveInColumn words_move_in_heading (const char *folded);
gboolean
words_move_in_is_name (const char *folded); /* "name": of the kind, or beside one of the animal */
/* "m", "weibchen", "♀", "1.0", "?": -1 when it says no sex; CORE_SEX_UNKNOWN for "?". *doubt: "f?".
 */
int words_move_in_sex (const char *folded, gboolean *doubt);
/* "adult", "sub", "nymphe": CORE_SEEN_UNKNOWN when it is none; *unknown when it says so. */
CoreSeenStage words_move_in_stage (const char *folded, gboolean *unknown);
gboolean words_move_in_unknown (const char *folded); /* "unknown", "?", "-" */

G_END_DECLS
