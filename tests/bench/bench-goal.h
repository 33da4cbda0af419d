/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-goal.h — a measured figure beside the limit that it has to keep.
 *
 * A bench prints each figure with its limit and ends with bench_goals_end(), so that it fails
 * where one is missed. */
#pragma once

/* Prints `name`, `value`, `limit` and whether it was met (value at most limit). */
void bench_goal (const char *name, double value, double limit);

/* Prints how many were missed; the exit status for main(): 0 where none was. */
int bench_goals_end (void);
