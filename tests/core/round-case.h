/* SPDX-License-Identifier: GPL-3.0-or-later */
/* round-case.h — a shelf and a vocabulary for the round line, and rows of lines with what they
 * write. */
#pragma once

#include <glib.h>

#include "core/core-plan.h"
#include "core/core-round.h"

#define ROUND_CASE_CUPS 15

/* All that are living singles and not held. */
#define ROUND_CASE_ALL "4 5 7 14 14a 22 23 25 31 52 60"

extern const CoreRoundTerm round_case_terms[];
extern const gsize round_case_n_terms;

/* 3 (held) 4 5 7 9 (dead) 14 14a 22 23 25 31 52 60, the lots h7 and k2; of a round on a Sunday. */
CoreRoundShelf round_case_shelf (CoreRoundCup cups[ROUND_CASE_CUPS]);

/* "fed 2 hydei: 4 5 7; 14 refused 2 hydei / 3 held"; without an action "; 14 refused". */
char *
round_case_say (const CoreRoundLine *line, const CoreRoundShelf *shelf, const CoreRoundPlan *plan);

typedef struct
{
  const char *line, *writes;
} RoundGood;

typedef struct
{
  const char *line;
  CoreRoundError error;
  const char *at;         /* the text that the first problem marks */
  const char *candidates; /* joined by | */
  gsize n_problems;
} RoundBad;

void round_case_good (const RoundGood *rows, gsize n);
void round_case_bad (const RoundBad *rows, gsize n);
