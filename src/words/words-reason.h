/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-reason.h — the table of reason sentences and its placeholders.
 *
 * {d} {e}      day, day2 as said near today: "yesterday", "Saturday", "3 Sep"
 * {ago}        day: "today", "yesterday", "4 days ago"
 * {range}      day to day2: "3–9 December"
 * {v} {w}      value, value2 with their unit: "23 °C", "4"
 * {every}      value and value2 as an interval: "every day", "every 3–4 days"
 * {n}          value as a whole number
 * {stage}      value in moults: "L5"
 * {prey} {sign} {sex}   code
 * {-prey}      ": house flies", or nothing when no prey is named
 */
#pragma once

#include "words/words-private.h"

G_BEGIN_DECLS

/* When a row of a rule with several sentences is the one; the first that fits is used. */
typedef enum
{
  REASON_ALWAYS,
  REASON_NO_DAY,    /* day is not given */
  REASON_NO_PAST,   /* day is not given, or today: nothing to be "since" */
  REASON_ZERO,      /* value is 0 */
  REASON_NAN,       /* value is not known */
  REASON_NAN2,      /* value2 is not known */
  REASON_CODE_0,    /* code is 0 */
  REASON_CODE_1,    /* code is 1 */
  REASON_LIKELY,    /* value, a probability, is above .5 */
  REASON_LONG_PAST, /* day2, of a range, was 30 days ago or more */
  REASON_REFUSED    /* code is the sign "refuses" and value more than 1 */
} WordsReasonWhen;

typedef struct
{
  const char *rule;
  WordsReasonWhen when;
  WordsTerm term;
} WordsReasonRow;

extern const WordsReasonRow words_reason_rows[];
extern const gsize words_reason_n_rows;

G_END_DECLS
