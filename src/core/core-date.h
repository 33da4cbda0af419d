/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-date.h — civil days of the proleptic Gregorian calendar.
 *
 * Years 1583 to 9999 are accepted; everything else is refused, never wrapped.
 */
#pragma once

#include "core/core-types.h"

CoreDay core_day_from_ymd (int year, int month, int day); /* CORE_DAY_NONE when no such day */
void core_day_to_ymd (CoreDay day, int *year, int *month, int *mday);
/* May somebody stand on this day? What lies two years ahead of it can still be written. */
bool core_day_may_be_today (CoreDay day);
/* Exactly YYYY-MM-DD; anything else is CORE_DAY_NONE. */
CoreDay core_day_from_text (const char *text);
/* "" for a day outside these years, CORE_DAY_NONE among them. */
void core_day_to_text (CoreDay day, char out[11]);
int core_day_weekday (CoreDay day); /* 0 = Monday … 6 = Sunday */
