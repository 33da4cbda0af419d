/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-keeper.c — who looks, how often, what is overlooked, what is never entered; and the
 * record of one animal, day by day.
 */
#include "sim.h"

#include "sim-widths.h"

/* Signs as keepers describe them: days of lead, 10–90 %, and how often a sign seen is a true
 * one, as the program holds by default; the truth of a room lies up to SIM_SIGN_FACTOR off.
 * `shown` is how often a moult is preceded by one that could be seen; ours. */
typedef struct
{
  double lo, hi, true_share, shown;
} Usual;

static const Usual usual[CORE_N_SIGNS] = {
  [CORE_SIGN_SLUGGISH] = { 2, 7, .4, .4 },  [CORE_SIGN_REFUSES] = { 1, 5, .4, .8 },
  [CORE_SIGN_DULL] = { 1, 3, .6, .4 },      [CORE_SIGN_PADS] = { 2, 7, .8, .6 },
  [CORE_SIGN_HANGING] = { .25, 1, .6, .5 }, [CORE_SIGN_PUMPING] = { .04, 1, .97, .2 },
};
static const double meals_of_stage = 6; /* offered, about */

static void
draw_sign (SimRoom *room, int sign)
{
  SimRandom *random = &room->random;
  SimSign *self = &room->keeper.sign[sign];
  const Usual *row = &usual[sign];
  double true_share;

  if (!(row->shown > 0))
    return;
  self->lead =
    sqrt (row->lo * row->hi) * sim_factor (random, SIM_SIGN_FACTOR) * room->hostile.leads;
  self->sd = log (row->hi / row->lo) / 2.5631 * sim_factor (random, SIM_SPREAD);
  self->shown = row->shown;
  true_share = fmin (.98, row->true_share * sim_factor (random, SIM_SIGN_FACTOR));
  self->false_rate = self->shown * (1 - true_share) / true_share * room->hostile.false_signs;
  if (sign == CORE_SIGN_REFUSES)
    {
      self->false_rate = MIN (.5, self->false_rate / meals_of_stage);
      if (room->hostile.refuses > 0)
        self->false_rate = room->hostile.refuses;
    }
}

void
sim_keeper_draw (SimRoom *room)
{
  SimRandom *random = &room->random;
  SimKeeper *self = &room->keeper;

  self->look =
    sim_chance (random, SIM_DAILY) ? .98 : sim_between (random, SIM_LOOK_LO, SIM_LOOK_HI);
  if (room->hostile.look > 0)
    self->look = room->hostile.look;
  self->overlook = sim_between (random, SIM_OVERLOOK_LO, SIM_OVERLOOK_HI);
  self->miss = sim_between (random, 0, SIM_MISS_HI);
  self->dated_back = SIM_DATED_BACK;
  self->earliest = SIM_EARLIEST;
  self->says_subadult = sim_between (random, SIM_SUBADULT_LO, SIM_SUBADULT_HI);
  self->clock = sim_chance (random, .1);
  self->rounds = sim_between (random, 0, .6);
  self->feeds_every = 2 + sim_below (random, 3);
  for (int sign = 0; sign < CORE_N_SIGNS; sign++)
    draw_sign (room, sign);
  self->lead_subadult =
    sqrt (4. * 10.) * sim_factor (random, SIM_SIGN_FACTOR) * room->hostile.leads;
  for (int d = 0; d < SIM_DAYS; d++)
    if (sim_chance (random, SIM_AWAY))
      for (int n = 2 + sim_below (random, SIM_AWAY_DAYS - 1); n > 0 && d < SIM_DAYS; n--)
        self->away[d++] = TRUE;
}

/* ---- the record of one animal ---- */

typedef struct
{
  double onset; /* evening from which it can be seen */
  double until; /* of a true one the moult; of a false one two days later */
  gboolean seen;
} Showing;

typedef struct
{
  SimRoom *room;
  SimAnimal *animal;
  double look_chance;
  int known; /* the stage that the keeper knows it to be in */
  CoreDay last_look, last_fed;
  CoreDay last_moult; /* as it was entered; CORE_DAY_NONE = none */
  gboolean said_subadult;
  CoreDay says_subadult;            /* later, on this day; CORE_DAY_NONE = not */
  Showing showing[CORE_N_SIGNS][2]; /* of the true stage: true, false */
  int showing_of;                   /* that stage; -1 = none yet */
  gboolean adult;
} Record;

#define ENTER(self, day, written, ...)                                                             \
  sim_enter ((self)->room, (self)->animal->entries, (self)->animal->id, day, written, __VA_ARGS__)

static void
began (Record *self, SimBeganBy by, CoreDay day, CoreDay written, int m)
{
  SimBegan row = { .by = by, .written = written, .day = day, .m = m };

  g_array_append_val (self->animal->began, row);
}

static int
true_stage (const SimAnimal *animal, double t)
{
  int m = 0;

  while (m < animal->n && animal->at[m + 1] <= t)
    m++;
  return m;
}

static void
draw_showings (Record *self, int m)
{
  SimRandom *random = &self->room->random;
  const SimAnimal *animal = self->animal;
  double from = animal->at[m], to = animal->at[m + 1];
  gboolean last = m == animal->n - 1;

  self->showing_of = m;
  for (int s = 0; s < CORE_N_SIGNS; s++)
    {
      const SimSign *sign = &self->room->keeper.sign[s];
      double lead = sign->lead;

      self->showing[s][0] = self->showing[s][1] = (Showing){ INFINITY, INFINITY, FALSE };
      if (s == CORE_SIGN_REFUSES && last)
        lead = self->room->keeper.lead_subadult;
      if (s == CORE_SIGN_PADS && !last)
        continue;
      if (sim_chance (random, sign->shown))
        self->showing[s][0] =
          (Showing){ fmax (from, to - lead * exp (sign->sd * sim_normal (random))), to, FALSE };
      if (s != CORE_SIGN_REFUSES && sim_chance (random, 1 - exp (-sign->false_rate)))
        {
          double t = sim_between (random, from, isfinite (to) ? to : from + 60);
          self->showing[s][1] = (Showing){ t, t + 2, FALSE };
        }
    }
}

static void
note_signs (Record *self, CoreDay day, double t)
{
  static const char *const names[] = { "sluggish", NULL, "dull", "pads", "hanging", "pumping" };

  for (int s = 0; s < CORE_N_SIGNS - 1; s++)
    for (int kind = 0; kind < 2; kind++)
      {
        Showing *showing = &self->showing[s][kind];
        if (names[s] == NULL || t < showing->onset || t >= showing->until)
          continue;
        if (showing->seen && !sim_chance (&self->room->random, .3))
          continue;
        showing->seen = TRUE;
        ENTER (self, day, day, "sign|sign=%s", names[s]);
      }
}

static void
feed (Record *self, CoreDay day, double t)
{
  SimRandom *random = &self->room->random;
  const Showing *pause = &self->showing[CORE_SIGN_REFUSES][0];
  double p = t >= pause->onset && t < pause->until
               ? .92
               : self->room->keeper.sign[CORE_SIGN_REFUSES].false_rate;

  if (day - self->last_fed < self->room->keeper.feeds_every ||
      t - self->animal->at[self->showing_of] < 2)
    return;
  self->last_fed = day;
  ENTER (self, day, day, "fed|prey=hydei|outcome=%s", sim_chance (random, p) ? "refused" : "taken");
}

#define ASKED_DAYS 4
/* So soon after another the desk asks, and the keeper, who saw both skins, is sure. */
static const char *
sure (const Record *self, CoreDay day)
{
  return self->last_moult != CORE_DAY_NONE && day - self->last_moult < ASKED_DAYS ? "|sure=yes" : "";
}

/* The day that the keeper believes to be the right one, and what is written of it. */
static void
enter_moult (Record *self, CoreDay day, int m)
{
  SimRandom *random = &self->room->random;
  const SimKeeper *keeper = &self->room->keeper;
  CoreDay truly = (CoreDay) ceil (self->animal->at[m]), dated = day, earliest;
  gboolean last = m == self->animal->n, subadult = m == self->animal->n - 1;
  const char *to = last ? "|to=adult" : "";

  if (subadult && sim_chance (random, keeper->says_subadult))
    {
      self->said_subadult = TRUE;
      to = "|to=subadult";
    }
  if (day - self->last_look > 1 && sim_chance (random, keeper->earliest))
    {
      earliest = truly - sim_below (random, 3);
      if (sim_chance (random, SIM_EARLIEST_WRONG))
        earliest = truly + 1;
      earliest = CLAMP (earliest, self->last_look + 1, day);
      ENTER (self, day, day, "moulted|outcome=good|earliest=%d%s%s", (int) earliest, to, sure (self, day));
    }
  else if (day - self->last_look > 1 && sim_chance (random, keeper->dated_back))
    {
      dated = truly + sim_below (random, 3) - 1;
      dated = CLAMP (dated, self->last_look + 1, day);
      ENTER (self, dated, day, "moulted|outcome=good%s%s", to, sure (self, dated));
    }
  else
    ENTER (self, day, day, "moulted|outcome=good%s%s", to, sure (self, day));
  self->last_moult = dated;
  began (self, SIM_BEGAN_MOULT, dated, day, m);
  if (subadult && !self->said_subadult && sim_chance (random, .4))
    self->says_subadult = day + 2 + sim_below (random, 9);
}

/* TRUE when a moult was found and entered. */
static gboolean
find_moult (Record *self, CoreDay day, int m)
{
  const SimKeeper *keeper = &self->room->keeper;
  SimRandom *random = &self->room->random;

  if (m == self->known || sim_chance (random, keeper->overlook))
    return FALSE;
  self->known = m;
  self->said_subadult = FALSE;
  self->says_subadult = CORE_DAY_NONE;
  self->adult = m == self->animal->n;
  if (!self->adult && sim_chance (random, keeper->miss))
    return FALSE;
  enter_moult (self, day, m);
  return TRUE;
}

static void
sex_it (Record *self, CoreDay day)
{
  SimRandom *random = &self->room->random;
  gboolean right = sim_chance (random, SIM_SEXED_RIGHT);

  ENTER (self, day, day, "sexed|sex=%s|method=count",
         (self->animal->sex == 0) == right ? "male" : "female");
}

static void
look (Record *self, CoreDay day)
{
  SimRandom *random = &self->room->random;
  int minute = self->room->keeper.clock ? 480 + sim_below (random, 900) : -1;
  double t = minute >= 0 ? day - 1 + minute / 1440. : day;
  int m = true_stage (self->animal, t);

  if (m != self->showing_of && m < self->animal->n)
    draw_showings (self, m);
  if (minute >= 0)
    ENTER (self, day, day, "looked|minute=%d", minute);
  if (!find_moult (self, day, m))
    {
      if (minute < 0)
        ENTER (self, day, day, "looked");
      if (self->animal->notes_signs && m < self->animal->n)
        {
          note_signs (self, day, t);
          feed (self, day, t);
        }
      if (day >= self->says_subadult && self->says_subadult != CORE_DAY_NONE &&
          m == self->animal->n - 1)
        {
          ENTER (self, day, day, "stage|seen=subadult");
          self->says_subadult = CORE_DAY_NONE;
        }
    }
  else if (m >= 4 && !self->adult && sim_chance (random, SIM_SEXED / 3))
    sex_it (self, day);
  self->last_look = day;
}

/* What a seller says of it. */
static void
arrive (Record *self, CoreDay day)
{
  SimRandom *random = &self->room->random;
  int m = self->known, said = m;
  double u = sim_uniform (random);

  if (sim_chance (random, SIM_CLAIM_WRONG))
    said += m == 0 || sim_chance (random, .5) ? 1 : -1;
  if (m == self->animal->n - 1 && sim_chance (random, .6))
    {
      ENTER (self, day, day, "acquired|stage=subadult");
      self->said_subadult = TRUE;
    }
  else if (u < .3)
    ENTER (self, day, day, "acquired|moults=%d", said);
  else if (u < .55)
    {
      int scheme = 1 + sim_below (random, 2);
      ENTER (self, day, day, "acquired|stage=L%d|scheme=%d", said + scheme, scheme);
    }
  else if (u < .7)
    ENTER (self, day, day, "acquired|stage=L%d", said + 1 + sim_below (random, 2));
  else if (u < .8)
    ENTER (self, day, day, "acquired|stage=L%d-%d|scheme=1", said + 1, said + 2);
  else
    ENTER (self, day, day, "acquired");
  began (self, SIM_BEGAN_ARRIVAL, day, day, m);
}

static void
begin (Record *self)
{
  SimAnimal *animal = self->animal;
  char id[37];

  core_id_to_text (self->room->kind[animal->kind].shelf, id);
  ENTER (self, animal->here, animal->here, "housed|place=%s", id);
  if (!animal->kind_unknown)
    ENTER (self, animal->here, animal->here, "set|key=species|value=%s",
           self->room->kind[animal->kind].profile->scientific);
  if (animal->lot >= 0)
    {
      core_id_to_text (animal->lot_id, id);
      ENTER (self, animal->here, animal->here, "set|key=lot|value=%s", id);
    }
  self->known = true_stage (animal, animal->here);
  if (animal->bought)
    arrive (self, animal->here);
  else
    {
      ENTER (self, animal->here, animal->here, "hatched");
      began (self, SIM_BEGAN_HATCH, animal->here, animal->here, 0);
    }
  self->last_look = self->last_fed = animal->here;
}

void
sim_keep (SimRoom *room, SimAnimal *animal)
{
  SimRandom *random = &room->random;
  Record self = {
    .room = room, .animal = animal, .showing_of = -1, .says_subadult = CORE_DAY_NONE,
    .last_moult = CORE_DAY_NONE
  };
  CoreDay end = SIM_FIRST_DAY + SIM_DAYS - 1;

  self.look_chance = room->keeper.look * sim_between (random, .8, 1.1);
  begin (&self);
  for (CoreDay day = animal->here + 1; day < end && day <= animal->end && !self.adult; day++)
    {
      if (sim_chance (random, room->keeper.rounds))
        ENTER (&self, day, day, "misted|bulk");
      if (!room->keeper.away[day - SIM_FIRST_DAY] && sim_chance (random, self.look_chance))
        look (&self, day);
    }
  if (!self.adult && animal->end < end)
    ENTER (&self, (CoreDay) ceil (animal->end), (CoreDay) ceil (animal->end), "died");
}
