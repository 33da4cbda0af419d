/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-missed.h — tasks left from earlier evenings, gathered so that each shelf has one line of them. */
#pragma once

#include "desk/desk.h"

typedef struct
{
  DeskSubject *shelf;                /* NULL: of what stands nowhere */
  GPtrArray *subjects[CORE_N_TASKS]; /* DeskSubject *, by number; NULL = none of that kind */
  GPtrArray *labels[CORE_N_TASKS];   /* const char *, beside them: what they are called */
  guint n;                           /* tasks */
} DeskMissed;

/* DeskMissed *, by the name of the shelf; owned. */
GPtrArray *desk_missed_new (void);
/* FALSE: the task was not missed, and stays a line of its own. */
gboolean desk_missed_add (Desk *self, GPtrArray *missed, DeskSubject *subject, const CoreTask *task);
void desk_missed_done (GPtrArray *missed); /* after the last: sorts, and makes the labels */
const char *desk_missed_name (const DeskMissed *missed); /* of the shelf; "" = of none */
