/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-table.h — what the moments add up to, printed as Markdown. */
#pragma once

#include "sim-lot.h"
#include "sim-moments.h"

/* Hostile rooms in turn; all of them 40 % slower than the profile. */
#define N_HOSTILE 6
extern const SimHostile hostile_rooms[N_HOSTILE];

void table_usual (const GArray *moments, int rooms);
void table_lots (const GArray *lots);
void table_hostile (const GArray *moments, int rooms);
/* Coarse limits that hold for a few rooms; says on stderr which one does not. */
gboolean table_check (const GArray *usual, const GArray *hostile);
