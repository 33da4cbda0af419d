/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-rand.c — splitmix64 and the few distributions that the drawing needs. */
#include "demo/demo-rand.h"

#include <math.h>

void
demo_rand_init (DemoRand *self, guint64 seed, guint64 stream)
{
  /* mixed first, or neighbouring seeds would run through the same numbers one step apart */
  self->state = seed;
  self->state = demo_rand_bits (self) ^ (stream * G_GUINT64_CONSTANT (0xd1b54a32d192ed03));
  self->state = demo_rand_bits (self);
}

guint64
demo_rand_bits (DemoRand *self)
{
  guint64 z = (self->state += G_GUINT64_CONSTANT (0x9e3779b97f4a7c15));

  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return z ^ (z >> 31);
}

double
demo_rand_unit (DemoRand *self)
{
  return (double) (demo_rand_bits (self) >> 11) / 9007199254740992.0; /* 2^53 */
}

double
demo_rand_range (DemoRand *self, double lo, double hi)
{
  return lo + (hi - lo) * demo_rand_unit (self);
}

double
demo_rand_normal (DemoRand *self)
{
  double u = 1.0 - demo_rand_unit (self);
  double v = demo_rand_unit (self);

  return sqrt (-2.0 * log (u)) * cos (2.0 * G_PI * v);
}

double
demo_rand_lognormal (DemoRand *self, double median, double sd_log)
{
  return median * exp (sd_log * demo_rand_normal (self));
}

int
demo_rand_int (DemoRand *self, int lo, int hi)
{
  return lo + (int) (demo_rand_unit (self) * (hi - lo + 1));
}

gboolean
demo_rand_chance (DemoRand *self, double p)
{
  return demo_rand_unit (self) < p;
}

int
demo_rand_pick (DemoRand *self, const double *weights, int n)
{
  double sum = 0.0, x;

  for (int i = 0; i < n; i++)
    sum += weights[i];
  x = demo_rand_unit (self) * sum;
  for (int i = 0; i < n - 1; i++)
    {
      x -= weights[i];
      if (x < 0.0)
        return i;
    }
  return n - 1;
}
