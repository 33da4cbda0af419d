/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-series.h — readings of a logger, packed into the text of an entry.
 *
 * A logger gives thousands of readings a day, and each as an entry of its own would drown what the
 * keeper wrote. So an entry of kind `logged` holds a stretch of one civil day: its readings, as a
 * text of letters, digits, '-' and '_', three to five characters each.
 */
#pragma once

#include "core/core-types.h"

#define CORE_SERIES_MAX_BYTES 3900 /* a text holds 4,000 */
#define CORE_SERIES_DAY 86400      /* seconds of a civil day, as a clock on the wall shows them */

typedef struct
{
  int32_t second; /* after midnight, 0 to 86399, by the clock on the wall */
  double t, rh;   /* °C, percent; NAN = not said. Kept to 0.01 °C and 0.1 % */
} CoreSample;

/* Packs samples, ordered by second, as far as `out` (size bytes, at least 64) holds them; how many
 * were packed. 0 for a sample that cannot be packed: out of order, out of range, without a value. */
size_t core_series_pack (const CoreSample *samples, size_t n, char *out, size_t size);

/* One after the other out of a text that may be anything. */
typedef struct
{
  const char *at;
  int64_t second, step, t, rh;
  bool bad; /* the text is not of this form from here on */
} CoreSeriesReader;

CoreSeriesReader core_series_read (const char *text);
bool core_series_next (CoreSeriesReader *self, CoreSample *out); /* false: at the end, or bad */
/* Whole and at least one sample; *n (may be NULL) says how many. */
bool core_series_valid (const char *text, size_t *n);
