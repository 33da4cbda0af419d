/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-hours.h — of a stretch of a logger's readings the lowest and the highest of each hour.
 *
 * Enough for the development clock and for the rules. Taken of what was taken so already it is the
 * same again, so that who folds often may keep the short text in place of the long one.
 */
#pragma once

#include "core/core-entry.h"
#include "core/core-series.h"

#define CORE_HOURS_MAX 48 /* two of each hour of a day */

typedef struct
{
  CoreSample v[CORE_HOURS_MAX]; /* by second */
  size_t n;
} CoreHours;

void core_hours_of (const char *series, CoreHours *out);
/* The same as a series again; false when there is nothing in it, or `out` does not hold it. */
bool core_hours_series (const char *series, char *out, size_t size);
/* A copy of an entry of a logger with the short text; NULL when nothing is gained, or no memory. */
CoreEntry *core_hours_entry (const CoreEntry *entry);
