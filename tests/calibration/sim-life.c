/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-life.c — the true lives of a room's animals: egg cases hatch, others are bought. */
#include "sim.h"

#include "sim-widths.h"

static const int lots_most = 4, lot_least = 3, lot_most = 6, bought_most = 7;
/* Kept together until they are parted; some rooms have none. */
static const int together_most = 2, together_least = 6, together_animals = 30;

static int
draw_number (SimRandom *random, const double p[SIM_MOULTS + 1])
{
  double u = sim_uniform (random);

  for (int n = 1; n <= SIM_MOULTS; n++)
    if ((u -= p[n]) < 0)
      return n;
  return 7;
}

static double
median_of (const SimKind *kind, int m, int n)
{
  int left = n - m;

  return left <= 2 ? kind->last[2 - left] : kind->stage[m];
}

/* Development days of each stage. */
static void
draw_waits (SimRoom *room, const SimAnimal *self, double lot, double days[SIM_MOULTS])
{
  SimRandom *random = &room->random;
  const SimKind *kind = &room->kind[self->kind];
  double own = lot + kind->sd_animal * sim_normal (random);

  for (int m = 0; m < self->n; m++)
    days[m] = median_of (kind, m, self->n) *
              exp (own + kind->sd_stage * sim_shaped (random, kind->shape, kind->sd_stage));
}

/* Much later, or never: what keepers see of animals that fail. From stage `from` on. */
static void
fall_ill (SimRoom *room, SimAnimal *self, int from, double days[SIM_MOULTS])
{
  SimRandom *random = &room->random;
  int left = self->n - from, m = from + (left > 1 ? sim_below (random, left) : 0);

  if (m >= self->n || !sim_chance (random, room->hostile.sick))
    return;
  self->sick = TRUE;
  self->sick_at = m;
  self->sick_for_good = sim_chance (random, .5);
  days[m] *= self->sick_for_good ? 1000 : sim_between (random, 1.5, 2.2);
}

/* The life in this room's warmth, `age` development days old on the evening t. What lies before
 * was elsewhere, at `elsewhere` development days a day. */
static void
live (SimRoom *room,
      SimAnimal *self,
      const double days[SIM_MOULTS],
      double age,
      double t,
      double elsewhere)
{
  const SimKind *kind = &room->kind[self->kind];
  double at = 0;

  for (int m = 0; m <= self->n; m++)
    {
      self->at[m] = at > age ? sim_kind_when (kind, sim_kind_grown (kind, t) + at - age)
                             : t - (age - at) / elsewhere;
      at += m < self->n ? days[m] : 0;
    }
  self->end = t - log (sim_uniform (&room->random)) / SIM_HAZARD;
  if (self->sick_for_good)
    self->end = fmin (self->end, self->at[self->sick_at] + sim_between (&room->random, 70, 150));
}

static SimAnimal *
animal_new (SimRoom *room, int kind, int lot, CoreId lot_id, GPtrArray *into)
{
  SimRandom *random = &room->random;
  SimAnimal *self = g_new0 (SimAnimal, 1);

  self->id = sim_room_id (room);
  self->lot_id = lot_id;
  self->kind = kind;
  self->lot = lot;
  self->sex = sim_chance (random, room->kind[kind].profile->male_prior) ? 0 : 1;
  self->n = draw_number (random, room->kind[kind].number[self->sex]);
  self->notes_signs = sim_chance (random, SIM_NOTES_SIGNS);
  self->kind_unknown = sim_chance (random, SIM_KIND_UNKNOWN);
  self->entries = sim_entries_new ();
  self->began = g_array_new (FALSE, FALSE, sizeof (SimBegan));
  g_ptr_array_add (into, self);
  return self;
}

/* All of an egg case hatch within half a day. */
static void
draw_lot (SimRoom *room, int kind, int lot, CoreId id, int count, double hatch, GPtrArray *into)
{
  SimRandom *random = &room->random;
  double effect = room->kind[kind].sd_lot * sim_normal (random);

  for (int i = 0; i < count; i++)
    {
      SimAnimal *animal = animal_new (room, kind, lot, id, into);
      double own_hatch = hatch + sim_between (random, 0, .5);

      double days[SIM_MOULTS];

      animal->kind_unknown = FALSE;
      draw_waits (room, animal, effect, days);
      fall_ill (room, animal, 2, days);
      live (room, animal, days, 0, own_hatch, 1);
      animal->here = (CoreDay) ceil (own_hatch);
    }
}

/* Raised elsewhere; met at an age drawn over its whole life as a nymph. */
static void
draw_bought (SimRoom *room, int kind, double arrives)
{
  static const CoreId none;
  SimRandom *random = &room->random;
  SimAnimal *self = animal_new (room, kind, -1, none, room->animals);
  const SimKind *k = &room->kind[kind];
  double days[SIM_MOULTS], life = 0, age, begun = 0;
  int m = 0;

  self->bought = TRUE;
  draw_waits (room, self, k->sd_lot * sim_normal (random), days);
  for (int i = 0; i < self->n; i++)
    life += days[i];
  age = sim_between (random, 0, life);
  while (m + 1 < self->n && begun + days[m] < age)
    begun += days[m++];
  fall_ill (room, self, m + 1, days);
  live (room, self, days, age, arrives, sim_between (random, .6, 1.2));
  self->here = (CoreDay) ceil (arrives);
}

static void
draw_together (SimRoom *room, int kind, double hatch)
{
  SimLot *lot = g_new0 (SimLot, 1);
  int count = together_least + sim_below (&room->random, together_animals - together_least + 1);

  lot->id = sim_room_id (room);
  lot->kind = kind;
  lot->animals = g_ptr_array_new ();
  lot->entries = sim_entries_new ();
  lot->began = g_array_new (FALSE, FALSE, sizeof (SimBegan));
  lot->here = (CoreDay) ceil (hatch + .5);
  draw_lot (room, kind, -1, lot->id, count, hatch, lot->animals);
  g_ptr_array_add (room->lots, lot);
}

void
sim_lives_draw (SimRoom *room)
{
  SimRandom *random = &room->random;
  int lots = 1 + sim_below (random, lots_most), bought = sim_below (random, bought_most + 1);
  int together = sim_below (random, together_most + 1);

  for (int lot = 0; lot < lots; lot++)
    {
      int kind = sim_below (random, room->n_kinds);
      int count = lot_least + sim_below (random, lot_most - lot_least + 1);

      draw_lot (room, kind, lot, sim_room_id (room), count,
                SIM_FIRST_DAY + 20 + sim_between (random, 0, 300), room->animals);
    }
  for (int i = 0; i < bought; i++)
    {
      int kind = sim_below (random, room->n_kinds);

      draw_bought (room, kind, SIM_FIRST_DAY + 20 + sim_between (random, 0, 350));
    }
  for (int i = 0; i < together; i++)
    {
      int kind = sim_below (random, room->n_kinds);

      draw_together (room, kind, SIM_FIRST_DAY + 20 + sim_between (random, 0, 350));
    }
}
