/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-synth-life.c — how each synthetic life really goes: species, moults by the
 * profile's medians with its spreads, and the day on which it is over.
 *
 * The shares of deaths and sales are made up, so that most of a large collection
 * has come and gone by the last day. */
#include "demo/demo-synth-private.h"

#include <math.h>

#include "core/core-clock.h"

int
synth_climate_of (const CoreProfile *profile)
{
  switch (profile->group)
    {
    case CORE_GROUP_DRY_HOT:
    case CORE_GROUP_IDOLOMANTIS:
      return 2;
    case CORE_GROUP_HUMID:
      return 1;
    case CORE_GROUP_HARDY:
    case CORE_N_GROUPS:
    default:
      return 0;
    }
}

int
synth_moults (const SynthAnimal *animal, double evening)
{
  int m = 0;

  while (m < animal->n && animal->moult[m + 1] <= evening)
    m++;
  return m;
}

double
synth_body_mm (const SynthAnimal *animal, int moults)
{
  double adult = animal->profile->adult_mm[animal->sex == CORE_SEX_FEMALE ? 1 : 0].v;

  return (isfinite (adult) ? adult : 70) /
         pow (animal->profile->ratio_body, MAX (0, animal->n - moults));
}

static void
draw_moults (SynthAnimal *animal, DemoRand *rand)
{
  const CoreProfile *profile = animal->profile;
  const SynthClimate *climate = &synth_climates[synth_climate_of (profile)];
  CoreClock clock = core_clock_from_profile (profile);
  double rate = core_clock_day_habit (&clock, climate->day_c, climate->night_c, climate->light_h);
  double own = demo_rand_normal (rand) * hypot (profile->sd_lambda, profile->sd_eta);

  animal->n = demo_rand_pick (rand, profile->n_moults[animal->sex == CORE_SEX_FEMALE ? 1 : 0],
                              CORE_MAX_MOULTS + 1);
  animal->n = MAX (animal->n, 3);
  animal->moult[0] = 0;
  for (int m = 0; m < animal->n; m++)
    {
      double extra;
      double days = core_profile_stage_days (profile, m, animal->n, animal->sex, &extra);

      animal->moult[m + 1] =
        animal->moult[m] +
        days * exp (own + profile->sd_eps * demo_rand_normal (rand)) / MAX (rate, .2);
    }
}

/* Days from the hatch to the end of its life, however the collection goes on. */
static double
life_span (const SynthAnimal *animal, DemoRand *rand, SynthEnd *end)
{
  const CoreSpan *adult = &animal->profile->adult_life[animal->sex == CORE_SEX_FEMALE ? 1 : 0];
  double chance = demo_rand_unit (rand);

  *end = SYNTH_DIES;
  if (chance < .22) /* as a hatchling */
    return demo_rand_range (rand, 2, 25);
  if (chance < .28)
    {
      *end = SYNTH_DIES_IN_MOULT;
      return animal->moult[demo_rand_int (rand, 2, animal->n)];
    }
  if (chance < .34) /* of no known cause, at any time before it is adult */
    return demo_rand_range (rand, 20, animal->moult[animal->n]);
  return animal->moult[animal->n] + demo_rand_range (rand, adult->a.v, adult->b.v);
}

/* Days in the collection after which it leaves alive; INFINITY = it stays. */
static double
stay (DemoRand *rand, SynthEnd *end)
{
  double chance = demo_rand_unit (rand);

  *end = chance < .32 ? SYNTH_SOLD : chance < .37 ? SYNTH_GIVEN : SYNTH_ESCAPES;
  if (chance >= .38)
    return INFINITY;
  return demo_rand_range (rand, 25, 110);
}

static void
draw_species (const Synth *self, SynthAnimal *animal, DemoRand *rand)
{
  /* A few kinds fill most cups, as in any room. */
  guint pick = (guint) (pow (demo_rand_unit (rand), 1.6) * self->species->len);

  animal->profile = self->species->pdata[MIN (pick, self->species->len - 1)];
  animal->sex =
    demo_rand_chance (rand, animal->profile->male_prior) ? CORE_SEX_MALE : CORE_SEX_FEMALE;
}

/* A fifth was there on the first day, the others come evenly. Who is bred here begins with
 * its hatch; who came from elsewhere, or was there already, in the middle of its life. */
static void
draw_arrival (const Synth *self, guint i, SynthAnimal *animal, DemoRand *rand)
{
  guint stock = self->n_animals / 5;
  double share = self->n_animals > stock ? (double) (i - stock) / (self->n_animals - stock) : 0;
  double age = 0, grown = animal->moult[animal->n];

  animal->came = i < stock
                   ? self->first
                   : self->first + (CoreDay) (share * (double) (self->last - self->first + 1));
  animal->bred = i >= stock && demo_rand_chance (rand, .7);
  if (i < stock)
    age = demo_rand_range (rand, 1, 1.15 * grown);
  else if (!animal->bred)
    age = demo_rand_range (rand, .15 * grown, .8 * grown);
  for (int m = 0; m <= animal->n; m++)
    animal->moult[m] += animal->came - floor (age);
}

void
synth_life (const Synth *self, guint i, SynthAnimal *animal)
{
  DemoRand rand;
  SynthEnd dies, leaves;
  double span, days;

  demo_rand_init (&rand, self->seed, 2 * (guint64) i);
  demo_rand_init (&animal->rand, self->seed, 2 * (guint64) i + 1);
  animal->number = i + 1;
  draw_species (self, animal, &rand);
  draw_moults (animal, &rand);
  span = life_span (animal, &rand, &dies);
  days = stay (&rand, &leaves);
  draw_arrival (self, i, animal, &rand);
  animal->ends = (CoreDay) ceil (MIN (animal->moult[0] + span, 1e6));
  animal->end = dies;
  /* Whom chance let die before it came lives on as long again from there. */
  if (animal->ends <= animal->came)
    animal->ends = animal->came + (CoreDay) ceil (demo_rand_range (&rand, 5, 90));
  if (animal->came + days < animal->ends)
    {
      animal->ends = animal->came + (CoreDay) days;
      animal->end = leaves;
    }
  animal->written = synth_moults (animal, animal->came);
  animal->known_adult = FALSE;
  animal->fed = CORE_DAY_NONE;
}
