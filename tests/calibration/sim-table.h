/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-table.h — what the moments add up to, printed as Markdown. */
#pragma once

#include "sim-lot.h"
#include "sim-moments.h"

/* Hostile rooms in turn; all of them 40 % slower than the profile. */
#define N_HOSTILE 6
extern const SimHostile hostile_rooms[N_HOSTILE];

/* Waits whose beginning was never entered: listed apart. */
#define TABLE_APART (1u << WAS_ARRIVED | 1u << WAS_HIDDEN)
extern const char *const table_kinds[2];  /* evening found, drawn day */
extern const char *const table_of_lot[3]; /* first, middle, last */

/* All that was asked, of ordinary rooms and hostile ones. */
typedef struct
{
  int rooms, hostile_rooms;
  GArray *usual, *lots; /* Moment, LotMoment */
  GArray *hostile;
} TableData;

void table_usual (const GArray *moments, int rooms);
void table_lots (const GArray *lots, int rooms);
void table_hostile (const GArray *moments, int rooms);
/* Of the drawn days past the p90 that was given when the stage began: how many say so. */
void table_longer (const GArray *moments, int *past, int *said);
/* Every goal with its figure; how many are missed. */
int table_goals (const TableData *data);
