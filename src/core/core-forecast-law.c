/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-law.c — the normal law's upper tail from a table, and waits.
 *
 * One forecast asks for the tail a million times; the table costs 3,000 erfc and exp.
 * Only upper tails are stored, so that a far tail keeps its relative precision.
 */
#include "core/core-forecast-parts.h"

#include <math.h>

#define SQRT1_2 0.70710678118654752440
#define INV_SQRT_2PI 0.39894228040143267794

void
fc_tail_init (FcTail *self)
{
  for (int i = 0; i <= FC_TAIL_MAX * FC_TAIL_STEP + 1; i++)
    {
      double z = (double) i / FC_TAIL_STEP;
      self->q[i] = .5 * erfc (z * SQRT1_2);
      self->slope[i] = -INV_SQRT_2PI * exp (-.5 * z * z) / FC_TAIL_STEP;
    }
}

double
fc_tail_far (double abs_z)
{
  return .5 * erfc (abs_z * SQRT1_2);
}

double
fc_above (const FcTail *self, double z)
{
  return z >= 0 ? fc_tail (self, z) : 1 - fc_tail (self, -z);
}

double
fc_between (double z1, double tail1, double z2, double tail2)
{
  if (z1 >= 0)
    return tail1 - tail2;
  if (z2 <= 0)
    return tail2 - tail1;
  return 1 - tail1 - tail2;
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
