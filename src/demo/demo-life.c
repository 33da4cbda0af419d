/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-life.c — how each life really went, from the profile's own development and
 * a fixed spread; the keeper's entries are drawn from it, never the other way. */
#include <math.h>

#include "core/core-clock.h"
#include "demo/demo-private.h"

double
demo_chance (guint64 seed, guint64 a, guint64 b)
{
  /* splitmix64 over the three numbers */
  guint64 z = seed * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15) + a * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9)
              + b * G_GUINT64_CONSTANT (0x94d049bb133111eb) + G_GUINT64_CONSTANT (0x2545f4914f6cdd1d);

  for (int i = 0; i < 2; i++)
    {
      z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
      z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
      z ^= z >> 31;
    }
  return (double) (z >> 11) / 9007199254740992.0; /* 2^53 */
}

/* Close enough to a normal deviate for an invented life: twelve uniforms. */
static double
spread (guint64 seed, guint64 a)
{
  double sum = -6;

  for (guint64 i = 0; i < 12; i++)
    sum += demo_chance (seed, a, 1000 + i);
  return sum;
}

static int
pick_moults (const CoreProfile *profile, CoreSex sex, double chance)
{
  const double *p = profile->n_moults[sex == CORE_SEX_FEMALE ? 1 : 0];
  double sum = 0;

  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    {
      sum += p[n];
      if (chance < sum)
        return n;
    }
  return 7;
}

/* Where the stories want the last days to be: moves the whole life a little. */
static double
story_shift (const DemoAnimal *animal, const DemoLife *life, CoreDay last)
{
  double wanted = NAN;

  if (animal->story == DEMO_STORY_HANGS)
    wanted = last + .6;
  else if (animal->story == DEMO_STORY_FRESH)
    wanted = last - .7;
  else if (animal->story == DEMO_STORY_SMALL_HOME)
    wanted = last + 9;
  if (isnan (wanted))
    return 0;
  for (int i = 1; i <= life->n; i++)
    if (life->moult[i] > wanted - 8)
      return wanted - life->moult[i];
  return 0;
}

void
demo_life (const DemoAnimal *animal, const CoreProfile *profile, CoreDay last, guint64 seed, DemoLife *out)
{
  const DemoPlace *place = &demo_places[animal->shelf];
  CoreClock clock = core_clock_from_profile (profile);
  double rate = core_clock_day_habit (&clock, place->day_c, place->night_c, place->light_h);
  double own = .09 * spread (seed, 1);
  double t = last - animal->hatched;
  double shift;

  out->n = CLAMP (pick_moults (profile, animal->sex, demo_chance (seed, 2, 3)), 4, CORE_MAX_MOULTS);
  out->moult[0] = t;
  for (int m = 0; m < out->n; m++)
    {
      double extra;
      double days = core_profile_stage_days (profile, m, out->n, animal->sex, &extra);

      t += days * exp (own + .15 * spread (seed, 10 + (guint64) m)) / MAX (rate, .2);
      out->moult[m + 1] = t;
    }
  shift = story_shift (animal, out, last);
  /* The later half of the life is stretched or squeezed, so that the hatch stays where it was. */
  for (int i = 1; shift != 0 && i <= out->n; i++)
    {
      double share = (out->moult[i] - out->moult[0]) / MAX (1, last - out->moult[0]);

      out->moult[i] += shift * MIN (1, share);
    }
}

int
demo_life_moults (const DemoLife *life, double t)
{
  int m = 0;

  while (m < life->n && life->moult[m + 1] <= t)
    m++;
  return m;
}
