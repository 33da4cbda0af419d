/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-missed.h — tasks left from earlier evenings, gathered so that each shelf has one line of them. */
#pragma once

#include "desk/desk.h"

typedef struct
{
  DeskSubject *shelf;                /* NULL: of what stands nowhere */
  GPtrArray *subjects[CORE_N_TASKS]; /* DeskSubject *, by number; NULL = none of that kind */
  GPtrArray *labels[CORE_N_TASKS];   /* const char *, what they are called; looks without the unseen */
  GPtrArray *unseen;                 /* const char *, by number: not seen for days; NULL = none */
  int unseen_days;                   /* the longest of them */
  guint n;                           /* tasks */
} DeskMissed;

/* DeskMissed *, by the name of the shelf; owned. */
GPtrArray *desk_missed_new (void);
/* FALSE: the task was not missed, and stays a line of its own. */
gboolean desk_missed_add (Desk *self, GPtrArray *missed, DeskSubject *subject, const CoreTask *task);
void desk_missed_done (Desk *self, GPtrArray *missed); /* after the last: sorts, and makes the labels */
/* "Not seen for 5 days: 14. Left from earlier evenings: feed 14; spray 22."; owned. */
char *desk_missed_text (const DeskMissed *missed, WordsLang lang);
const char *desk_missed_name (const DeskMissed *missed); /* of the shelf; "" = of none */
