/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-doubt.h — what can be, but is likelier a slip: to be asked before it is written.
 *
 * Nothing is refused here: a face asks, and writes when the keeper is sure. */
#pragma once

#include "desk/desk.h"
#include "words/words-doubt.h"

G_BEGIN_DECLS

typedef enum
{
  DESK_DOUBT_SLIP,      /* likelier a slip, by what is known of this animal */
  DESK_DOUBT_IMPOSSIBLE /* none of its kind ever is so */
} DeskDoubt;

/* A question about an entry of that kind with these pairs (as desk_record_async() takes them; no
 * day = today); NULL = none. Owned. */
char *desk_doubt_of_record (Desk *self,
                            CoreId subject,
                            const char *kind,
                            const char *const *pairs,
                            CoreDay day,
                            DeskDoubt how,
                            WordsLang lang);
/* About `n` that went out of a lot on a day before it was first counted: that makes no fewer now,
 * but more at the beginning. NULL = there is no such count. */
char *desk_doubt_before_count (Desk *self, CoreId lot, gint64 n, CoreDay day, WordsLang lang);
/* About two that are said to have been mixed up. */
char *desk_doubt_of_mixed (Desk *self, CoreId a, CoreId b, WordsLang lang);

G_END_DECLS
