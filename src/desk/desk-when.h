/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-when.h — a day as a keeper says it: "Sunday", "10 Nov", "about 3 weeks ago", "10" (days).
 *
 * How vague such words are is ours, and said in desk-when.c. */
#pragma once

#include <glib.h>

#include "core/core-entry.h"

G_BEGIN_DECLS

typedef struct
{
  CoreDay earliest, said, latest; /* CORE_DAY_NONE all three: unknown */
} DeskWhen;

typedef enum
{
  DESK_WHEN_OK,        /* also unknown */
  DESK_WHEN_NO_DAY,    /* not understood, or no such day */
  DESK_WHEN_AMBIGUOUS, /* a beginning of several words, or a day and a month that may be either */
  DESK_WHEN_FUTURE,
  DESK_WHEN_TOO_OLD /* over 20 years ago */
} DeskWhenStatus;

/* Never after `today`. `text` is valid UTF-8. */
DeskWhenStatus desk_when_parse (const char *text, CoreDay today, DeskWhen *out);
/* For a field that takes one day or several: YYYY-MM-DD, also to come, or what desk_when_parse()
 * reads. FALSE: none. A bare number is none: it may be half of a date. Any bytes may be in `text`. */
gboolean desk_when_days (const char *text, CoreDay today, DeskWhen *out);
/* Of a vague day an entry has the latest, and the earliest beside it; food comes rather sooner than
 * later, so that a meal is of the day that was said. A given *earliest stays. */
void desk_when_span (const DeskWhen *when, CoreKind kind, CoreDay *day, CoreDay *earliest);
/* For a field that takes one day: YYYY-MM-DD, also to come, or what desk_when_parse() reads as
 * one day and no other: "yesterday", "last Friday", "10.5.". CORE_DAY_NONE: none, or several. */
CoreDay desk_when_day (const char *text, CoreDay today);
/* "Sunday" on a Sunday: today, or a week ago? */
gboolean desk_when_is_todays_weekday (const char *text, CoreDay today);

G_END_DECLS
