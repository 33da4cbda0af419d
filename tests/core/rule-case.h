/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-case.h — tables of rules: what was entered, and which tasks and held tasks come of it.
 *
 * One named row for one clause. Days are counted from TODAY. What is entered is "DAY TEXT", as in
 * "-3 fed|prey=moth" (see journal.h). What is wanted is one of
 *   task KIND [due=N] [latest=N] [reach=R] [prey=house_fly] [n=N] [why=ID]… [not=ID]…
 *   quiet KIND … / forward KIND …   the same, and whether it goes into the line of what was missed
 *   none KIND                    no task of that kind, neither now nor later
 *   held KIND [until=N|open] [ask=N] [why=ID]…
 *   free KIND                    not held
 *   days KIND N,N,…              exactly the days of all its tasks, projected ones too
 *   more KIND why=ID [due=N]     one of its tasks, whichever
 */
#pragma once

#include "plan-case.h"

#define RULE_LINES 8

typedef struct
{
  const char *name;
  CoreGroup group;
  int moults;              /* -1 unknown */
  CoreSubjectKind kind;    /* 0 = an animal */
  void (*given) (PlanCase *c); /* before the entries; NULL = nothing */
  int range[2];            /* first and last day of the range; { 0, 0 } = none */
  const char *said[RULE_LINES];
  const char *place[RULE_LINES]; /* entered of where it stands; of a place leave it empty */
  int to;                  /* days asked for; 0 = 14 */
  const char *want[RULE_LINES];
} RuleRow;

/* Given: likely enough for every rule. */
void rule_given_female (PlanCase *c);
void rule_given_male (PlanCase *c);
void rule_rows_run (const RuleRow *rows, gsize n);
