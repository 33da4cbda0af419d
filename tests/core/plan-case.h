/* SPDX-License-Identifier: GPL-3.0-or-later */
/* plan-case.h — one animal with its journal, a range given by hand, and the plan. */
#pragma once

#include "core/core-plan.h"
#include "journal.h"

/* The day on which every case stands; an arbitrary one. */
#define TODAY ((CoreDay) 20500)

typedef struct
{
  Journal *journal;
  CoreSubjectKind kind;
  CoreState state;
  CoreProfile profile;
  CoreForecast forecast;
  CoreSexVerdict verdict;
  CoreState place;
  bool has_place;
  CoreHatch hatch; /* of an egg case, given by hand */
  CoreShelfBand band;   /* of a place; none unless band.n > 0 */
  bool bare;            /* of a place: known that nothing stands there */
  bool superseded;
  CorePlan plan;
  CoreDay today, from, to;
} PlanCase;

/* An animal of the group, `moults` since the hatch (-1 unknown), acquired 40
 * days ago; no forecast; sex unknown. */
void plan_case_init (PlanCase *self, CoreGroup group, int moults);
void plan_case_clear (PlanCase *self);
void plan_case_range (PlanCase *self, CoreDay lo, CoreDay hi);
void plan_case_say (PlanCase *self, CoreDay day, const char *text);
/* Folds and plans. */
void plan_case_run (PlanCase *self);
/* Of the last run: the next occurrence, not a projected one; NULL when there is none. */
const CoreTask *plan_case_task (const PlanCase *self, CoreTaskKind kind);
const CoreHeld *plan_case_held (const PlanCase *self, CoreTaskKind kind);
const CoreReason *plan_task_reason (const CoreTask *task, const char *rule);
const CoreReason *plan_held_reason (const CoreHeld *held, const char *rule);
