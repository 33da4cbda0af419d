/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-lot.h — what can be taken out of a lot, and what one of it takes over from it. */
#pragma once

#include "core/core-fold.h"

/* How many may be taken out on that day so that the count stays above nothing, also on the
 * days after it, up to the next recount; -1 = as many as you like: no count is known. */
int64_t core_lot_available (const CoreState *lot, CoreDay day);
/* How many it holds on the evening of that day; -1 = no count is known. */
int64_t core_lot_held (const CoreState *lot, CoreDay day);
/* How many there must have been in it on that day for what was taken out later. */
int64_t core_lot_needed (const CoreState *lot, CoreDay day);
/* How many of a lot are a moult ahead of the others; between the two where some were taken out and
 * nobody said of which. */
void core_lot_ahead (const CoreState *lot, int64_t *least, int64_t *most);
/* In which stage one of it is, with the chance of each number of moults: those ahead weigh as many as
 * they are, with half of those of whom nobody knows. All 0 where nothing is known. */
void core_lot_moults (const CoreState *lot, double p[CORE_MAX_MOULTS + 1]);
/* The moult that began that stage was entered for the lot as a whole; by how many days,
 * sooner or later, one of it may have moulted. */
int core_lot_moult_spread (const CoreState *lot, size_t stage);
