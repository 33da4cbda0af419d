/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-law.c — the normal law's upper tail from a table, and waits.
 *
 * One forecast asks for the tail some ten thousand times.
 * Only upper tails are stored, so that a far tail keeps its relative precision.
 */
#include "core/core-forecast-parts.h"

#include <math.h>

#include "core/core-forecast-tail-table.h"

#define SQRT1_2 0.70710678118654752440

const FcTail *
fc_tail_table (void)
{
  return &normal_tail;
}

double
fc_tail_far (double abs_z)
{
  return .5 * erfc (abs_z * SQRT1_2);
}

/* E D^k of a log-normal: exp (k mu + k² sigma² / 2). */
static double
moment (FcWait wait, int k)
{
  return exp (k * wait.mu + .5 * k * k * wait.sigma * wait.sigma);
}

/* The wait that is left at a random moment: E R = E D² / 2 E D, E R² = E D³ / 3 E D. */
void
fc_wait_moments (FcWait wait, double *mean, double *var)
{
  double first = moment (wait, 1), second = moment (wait, 2);

  if (wait.residual)
    {
      second = moment (wait, 3) / (3 * first);
      first = moment (wait, 2) / (2 * first);
    }
  *mean = first;
  *var = second - first * first;
}

FcWait
fc_wait_sum (FcWait a, FcWait b)
{
  double mean, var, mean_b, var_b, s2;

  fc_wait_moments (a, &mean, &var);
  fc_wait_moments (b, &mean_b, &var_b);
  mean += mean_b;
  var += var_b;
  s2 = log1p (var / (mean * mean));
  return (FcWait){ log (mean) - .5 * s2, sqrt (s2), false };
}
