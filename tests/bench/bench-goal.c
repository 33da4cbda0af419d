/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-goal.c — measured figures against their limits. */
#include "bench-goal.h"

#include <math.h>
#include <stdio.h>

static unsigned judged, missed;

void
bench_goal (const char *name, double value, double limit)
{
  int met = isfinite (value) && value <= limit;

  judged++;
  if (!met)
    missed++;
  printf ("goal  %-58s %10.4g  at most %10.4g  %s\n", name, value, limit, met ? "met" : "MISSED");
  fflush (stdout);
}

int
bench_goals_end (void)
{
  if (judged > 0)
    printf ("%u of %u goals missed.\n", missed, judged);
  fflush (stdout);
  return missed == 0 ? 0 : 1;
}
