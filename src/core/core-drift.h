/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-drift.h — how far a place lies from what is usual there, day by day.
 *
 * Readings tell it of their own days. Days between and after them are neither usual nor like the
 * last reading: what was said to be usual may be off, and seasons pass slowly; weather passes in days.
 */
#pragma once

#include <stddef.h>

typedef struct
{
  double seen, noise; /* °C above what is usual, and its variance; NAN, where nobody read */
  double drift;       /* what is to be expected of it, given all that was seen; untouched where nothing was */

  double slow, fast, var_slow, var_fast, cov; /* for its own use */
} CoreDriftDay;

/* Two processes that forget, slowly from a variance of sd_slow², and within days; forward (Kalman
 * 1960) and back again (Rauch, Tung & Striebel 1965). */
void core_drift (CoreDriftDay *days, size_t n, double sd_slow);
