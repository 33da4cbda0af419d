/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-table.h — what the moments add up to, printed as Markdown. */
#pragma once

#include "sim-moments.h"

void table_usual (const GArray *moments, int rooms);
void table_hostile (const GArray *moments, int rooms);
/* Coarse limits that hold for a few rooms; says on stderr which one does not. */
gboolean table_check (const GArray *usual, const GArray *hostile);
