/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-fixture.h — a journal in a folder of its own, and every verb run to its end.
 *
 * Verbs that must succeed assert; the `try_` ones hand back the error. */
#pragma once

#include "desk/desk-merge.h"
#include "desk/desk.h"

typedef struct
{
  char *base; /* of this test alone; what else it writes lies here */
  char *dir;  /* the journal, in it */
  Desk *desk;
  CoreDay today;
} Fixture;

/* A lazy desk on 2026-06-01. */
void fixture_set_up (Fixture *fixture, gconstpointer data);
void fixture_tear_down (Fixture *fixture, gconstpointer data);
Desk *fixture_open (Fixture *fixture, DeskOpenFlags flags); /* a second desk on the same journal */
void fixture_close (Desk *desk);
void fixture_reopen (Fixture *fixture, DeskOpenFlags flags);

/* A source of chance of its own (xorshift64*): the same seed, the same numbers below n. */
void fixture_seed (guint64 seed);
guint fixture_draw (guint n);
DeskSubject *fixture_add (Desk *desk, CoreSubjectKind kind, const char *pairs); /* spaces between */
CoreId
fixture_record (Desk *desk, DeskSubject *subject, const char *kind, const char *pairs, int day);
GError *
fixture_try_record (Desk *desk, DeskSubject *subject, const char *kind, const char *pairs, int day);
DeskChange *fixture_undo (Desk *desk);
DeskChange *fixture_redo (Desk *desk);
CoreId fixture_correct (Desk *desk, CoreId entry, const char *pairs);
void fixture_void (Desk *desk, CoreId entry);
void fixture_task_done (Desk *desk, const CoreTask *task);
void fixture_task_put_off (Desk *desk, const CoreTask *task, CoreDay until);
void fixture_move (Desk *desk, DeskSubject *animal, DeskSubject *place, DeskSubject *before);
/* The journal of one folder, as it is, into another folder that is there. */
void fixture_copy (const char *from, const char *to);
DeskMerge *fixture_merge (Desk *desk, const char *dir, GError **error);
/* As of now; the caller's. */
DeskSubject *fixture_now (Desk *desk, DeskSubject *subject);
/* Days before today are negative. */
CoreDay fixture_day (int days);
