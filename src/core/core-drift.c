/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-drift.c — smooths what readings say of a place over the days without any. */
#include "core/core-drift.h"

#include <math.h>

/* Ours. Seasons and heatings that are set anew: so many °C² a day, whatever is known of where it began;
 * at an sd of 1.5 °C the memory of that is 120 days. A spell of weather lasts about a week. */
static const double slow_walk = .0375;
static const double fast_days = 5, sd_fast = 1; /* °C */

typedef struct
{
  double slow, fast; /* what is left of each a day later */
  double var_slow, var_fast;
} Law;

static CoreDriftDay
next_of (const Law *law, const CoreDriftDay *day)
{
  return (CoreDriftDay){
    .slow = law->slow * day->slow,
    .fast = law->fast * day->fast,
    .var_slow = law->slow * law->slow * (day->var_slow - law->var_slow) + law->var_slow,
    .var_fast = law->fast * law->fast * (day->var_fast - law->var_fast) + law->var_fast,
    .cov = law->slow * law->fast * day->cov,
  };
}

static void
learn (CoreDriftDay *day)
{
  double slow = day->var_slow + day->cov, fast = day->var_fast + day->cov;
  double all = slow + fast + day->noise, miss = day->seen - day->slow - day->fast;

  day->slow += slow / all * miss;
  day->fast += fast / all * miss;
  day->var_slow -= slow * slow / all;
  day->var_fast -= fast * fast / all;
  day->cov -= slow * fast / all;
}

/* `later`: slow and fast of the next day as all days know them; becomes those of this one. */
static void
look_back (const Law *law, const CoreDriftDay *day, double later[2])
{
  CoreDriftDay next = next_of (law, day);
  double miss[2] = { later[0] - next.slow, later[1] - next.fast };
  double det = next.var_slow * next.var_fast - next.cov * next.cov;
  double slow = law->slow * (next.var_fast * miss[0] - next.cov * miss[1]) / det;
  double fast = law->fast * (next.var_slow * miss[1] - next.cov * miss[0]) / det;

  later[0] = day->slow + day->var_slow * slow + day->cov * fast;
  later[1] = day->fast + day->cov * slow + day->var_fast * fast;
}

/* Forward over those from the first to the last day that was read, and back. */
static void
smooth (const Law *law, CoreDriftDay *days, size_t n)
{
  CoreDriftDay known = { .var_slow = law->var_slow, .var_fast = law->var_fast };
  double later[2] = { 0 };

  for (size_t i = 0; i < n; i++)
    {
      known.seen = days[i].seen;
      known.noise = days[i].noise;
      if (isfinite (known.seen))
        learn (&known);
      days[i] = known;
      known = next_of (law, &known);
    }
  for (size_t i = n; i-- > 0;)
    {
      if (i + 1 == n)
        {
          later[0] = days[i].slow;
          later[1] = days[i].fast;
        }
      else
        look_back (law, &days[i], later);
      days[i].slow = later[0];
      days[i].fast = later[1];
      days[i].drift = later[0] + later[1];
    }
}

/* What is left of it, the same way into both directions. */
static void
fade (const Law *law, const CoreDriftDay *from, CoreDriftDay *day)
{
  day->slow = law->slow * from->slow;
  day->fast = law->fast * from->fast;
  day->drift = day->slow + day->fast;
}

void
core_drift (CoreDriftDay *days, size_t n, double sd_slow)
{
  Law law = { exp (-slow_walk / (2 * sd_slow * sd_slow)), exp (-1 / fast_days), sd_slow * sd_slow,
              sd_fast * sd_fast };
  size_t first = 0, end = n;

  while (first < n && !isfinite (days[first].seen))
    first++;
  if (first == n)
    return;
  while (!isfinite (days[end - 1].seen))
    end--;
  smooth (&law, days + first, end - first);
  for (size_t i = end; i < n; i++)
    fade (&law, &days[i - 1], &days[i]);
  for (size_t i = first; i-- > 0;)
    fade (&law, &days[i + 1], &days[i]);
}
