/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-reason.h — the table of reason sentences and its placeholders.
 *
 * {d} {e}      day, day2 as said near today: "yesterday", "Saturday", "3 Sep"
 *              (a weekday is said only where the sentence tells whether it is past or to come)
 * {ago} {e ago}    day, day2 of something seen: "today", "yesterday", "4 days ago"
 * {date} {e date}  day, day2 without a weekday: "28 Nov"
 * {range}      day to day2: "3–9 December"
 * {v} {w} {x}  value, value2, value3 with their unit: "23 °C", "4"
 * {every}      value and value2 as an interval: "every day", "every 3–4 days"
 * {n} {m} {code}   value, value2 as a whole number, code
 * {hours}      value3 as hours: "5 hours"
 * {size}       value without its sign: "12 %"
 * {took}       value in days, or what value3 leaves open of it: "13 days", "2–24 days"
 * {rest}       1 less value, a probability: "90 in 100"
 * {span}       value2 to value3, days: "11–24 days"
 * {both}       value to value2, days
 * {stage}      value in moults: "L5"
 * {prey} {sign} {sex}   code
 * {trouble}    code: "vomits"
 * {-prey}      ": house flies", or nothing when no prey is named
 */
#pragma once

#include "words/words-private.h"

G_BEGIN_DECLS

/* When a row of a rule with several sentences is the one; the first that fits is used. */
typedef enum
{
  REASON_ALWAYS,
  REASON_NO_DAY,   /* day is not given */
  REASON_NO_PAST,  /* day is not given, or today: nothing to be "since" */
  REASON_ZERO,     /* value is 0 */
  REASON_NAN,      /* value is not known */
  REASON_NAN2,     /* value2 is not known */
  REASON_CODE_0,   /* code is 0 */
  REASON_NO_SIGN,  /* code, a sign, is none */
  REASON_FEMALE,   /* code, a sex, is female */
  REASON_CODE_1,   /* code is 1 */
  REASON_CODE_2,   /* code is 2 */
  REASON_CODE_3,   /* code is 3 */
  REASON_CODE_5,   /* and so on */
  REASON_CODE_6,
  REASON_CODE_7,
  REASON_CODE_8,
  REASON_NEGATIVE, /* value is below 0 */
  REASON_UNDECIDED, /* value, the chance of a sex, is below that of "likely" */
  REASON_LIKELY,   /* value, a probability, is above .5 */
  REASON_LIKELY_1, /* and code is 1 */
  REASON_PAST,     /* day2, of a range, is over */
  REASON_REFUSED   /* code is the sign "refuses" and value more than 1 */
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
