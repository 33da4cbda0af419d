/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-random.c — splitmix64, and the few laws that are drawn from. */
#include "sim.h"

void
sim_seed (SimRandom *self, guint64 seed, guint64 stream)
{
  self->state = seed * G_GUINT64_CONSTANT (0xd1342543de82ef95) + stream;
  for (int i = 0; i < 8; i++)
    (void) sim_uniform (self);
}

double
sim_uniform (SimRandom *self)
{
  guint64 z = (self->state += G_GUINT64_CONSTANT (0x9e3779b97f4a7c15));

  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return ((double) ((z ^ (z >> 31)) >> 11) + .5) / 9007199254740992.;
}

double
sim_between (SimRandom *self, double lo, double hi)
{
  return lo + (hi - lo) * sim_uniform (self);
}

double
sim_normal (SimRandom *self)
{
  double radius = sqrt (-2 * log (sim_uniform (self)));

  return radius * cos (2 * G_PI * sim_uniform (self));
}

gboolean
sim_chance (SimRandom *self, double p)
{
  return sim_uniform (self) < p;
}

int
sim_below (SimRandom *self, int n)
{
  return MIN (n - 1, (int) (sim_uniform (self) * n));
}

double
sim_factor (SimRandom *self, double width)
{
  return exp (log (width) * sim_between (self, -1, 1));
}

/* Sum of k exponentials; whole shapes are enough here. */
static double
gamma_whole (SimRandom *self, int k)
{
  double product = 0;

  for (int i = 0; i < k; i++)
    product -= log (sim_uniform (self));
  return product;
}

/* The log of a gamma variate of shape k has mean psi (k) and variance psi' (k); both by their
 * series at large k (Abramowitz & Stegun 6.3.18 and 6.4.12, from memory). */
static double
log_gamma_variate (SimRandom *self, double sd)
{
  int k = MAX (4, (int) lround (1 / (sd * sd) + .5));
  double mean = log (k) - 1 / (2. * k) - 1 / (12. * k * k);
  double var = 1. / k + 1 / (2. * k * k) + 1 / (6. * k * k * k);

  return (log (gamma_whole (self, k)) - mean) / sqrt (var);
}

/* t of 6 degrees has variance 6 / 4. */
static double
student (SimRandom *self)
{
  double chi = 2 * gamma_whole (self, 3);

  return sim_normal (self) / sqrt (chi / 6) / sqrt (1.5);
}

double
sim_shaped (SimRandom *self, SimShape shape, double sd)
{
  switch (shape)
    {
    case SIM_SHAPE_GAMMA:
      return log_gamma_variate (self, sd);
    case SIM_SHAPE_TAILS:
      return student (self);
    case SIM_SHAPE_NORMAL:
    case SIM_N_SHAPES:
    default:
      return sim_normal (self);
    }
}
