/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-kind.c — a species as it truly is in one room, and the weather of its shelf. */
#include "sim.h"

#include "sim-widths.h"

/* ---- lengths of stages ---- */

/* Where the profile has no figure: the last one that it has, a tenth longer for each stage. */
static double
from_hatch (const CoreProfile *profile, int m)
{
  double days = 12;
  int last = -1;

  for (int i = 0; i <= m && i < SIM_MOULTS; i++)
    if (profile->stage_days[i].v > 0)
      {
        days = profile->stage_days[i].v;
        last = i;
      }
  return days * pow (1.1, m - last);
}

double
sim_profile_days (const CoreProfile *profile, int m, int n)
{
  int left = n - m;

  if (left <= 2 && left >= 1 && profile->last_days[2 - left].v > 0)
    return profile->last_days[2 - left].v;
  return from_hatch (profile, m);
}

static void
draw_numbers (SimRandom *random, const CoreProfile *profile, int sex, double p[SIM_MOULTS + 1])
{
  double sum = 0;
  int lo = SIM_MOULTS, hi = 0;

  for (int n = 0; n <= SIM_MOULTS; n++)
    {
      p[n] = profile->n_moults[sex][n];
      if (p[n] > 0)
        {
          lo = MIN (lo, n);
          hi = n;
          p[n] *= exp (SIM_SD_NUMBER * sim_normal (random));
        }
      sum += p[n];
    }
  for (int n = 0; n <= SIM_MOULTS; n++)
    p[n] *= (1 - SIM_ADDED - SIM_FEWER) / sum;
  p[MIN (hi + 1, SIM_MOULTS)] += SIM_ADDED;
  p[lo - 1] += SIM_FEWER;
}

/* On the log scale. A hostile room is so much slower, and no more is drawn. */
static double
pace_of_room (SimRoom *room, const CoreProfile *profile)
{
  SimRandom *random = &room->random;
  double sd = profile->sd_rho * room->spread;

  if (room->hostile.room > 0)
    return log (room->hostile.room);
  return log (sim_between (random, 1 - SIM_MEDIAN, 1 + SIM_MEDIAN)) +
         sd * (sqrt (SIM_ROOM_COMMON) * room->common +
               sqrt (1 - SIM_ROOM_COMMON) * sim_normal (random));
}

void
sim_kind_draw (SimRoom *room, SimKind *self, const CoreProfile *profile)
{
  SimRandom *random = &room->random;
  double pace = pace_of_room (room, profile);

  self->profile = profile;
  for (int m = 0; m < SIM_MOULTS; m++)
    self->stage[m] = from_hatch (profile, m) * exp (pace + SIM_SD_BEND * sim_normal (random));
  for (int i = 0; i < 2; i++)
    self->last[i] =
      sim_profile_days (profile, 20 + i, 22) * exp (pace + SIM_SD_BEND * sim_normal (random));
  for (int sex = 0; sex < 2; sex++)
    draw_numbers (random, profile, sex, self->number[sex]);
  self->sd_lot = profile->sd_lambda * sim_factor (random, SIM_SPREAD);
  self->sd_animal = profile->sd_eta * sim_factor (random, SIM_SPREAD);
  self->sd_stage = profile->sd_eps * sim_factor (random, SIM_SPREAD);
  self->shape = (SimShape) sim_below (random, SIM_N_SHAPES);
}

/* ---- warmth ---- */

typedef struct
{
  double t0, topt, tflat, tmax;
} Clock;

static double
pace_at (const Clock *clock, double c)
{
  double top = (clock->topt - clock->t0) / (25 - clock->t0);

  if (c <= clock->t0 || c >= clock->tmax)
    return 0;
  if (c < clock->topt)
    return (c - clock->t0) / (25 - clock->t0);
  return c <= clock->tflat ? top : top * (clock->tmax - c) / (clock->tmax - clock->tflat);
}

/* Half a day by day, half by night, with an hour and a half of change at both ends. */
static double
day_of (const Clock *clock, double day_c, double night_c)
{
  double sum = 0;

  for (int half_hour = 0; half_hour < 48; half_hour++)
    {
      double hour = (half_hour + .5) / 2, from_noon = fabs (hour - 12);
      double share = CLAMP ((6.75 - from_noon) / 1.5, 0, 1);
      sum += pace_at (clock, night_c + share * (day_c - night_c)) / 48;
    }
  return sum;
}

static Clock
told_clock (const CoreProfile *profile)
{
  return (Clock){ profile->clock.t0.v, profile->clock.topt.v, profile->clock.tflat.v,
                  profile->clock.tmax.v };
}

double
sim_usual_rate (const CoreProfile *profile, double day_c, double night_c)
{
  Clock clock = told_clock (profile);

  return day_of (&clock, day_c, night_c);
}

static void
draw_weather (SimRoom *room, SimKind *self)
{
  SimRandom *random = &room->random;
  double off_day = SIM_SD_TOLD * sim_normal (random);
  double off_night = .7 * off_day + .7 * SIM_SD_TOLD * sim_normal (random);
  double season = sim_between (random, 0, SIM_SEASON), phase = sim_between (random, 0, 365);
  double sd = sim_between (random, SIM_SWING_LO, SIM_SWING_HI), swing = 0, spell = 0;
  int spell_days = 0;

  for (int d = 0; d < SIM_DAYS; d++)
    {
      double shift;

      swing = .85 * swing + sqrt (1 - .85 * .85) * sd * sim_normal (random);
      if (spell_days > 0)
        spell_days--;
      else
        spell = 0;
      if (spell_days == 0 && sim_chance (random, SIM_SPELLS))
        {
          spell_days = 3 + sim_below (random, 8);
          spell = sim_between (random, -SIM_SPELL_C, SIM_SPELL_C);
        }
      shift = season * sin (2 * G_PI * (d + phase) / 365) + swing + spell;
      self->day_c[d] = (float) (self->told_day + off_day + shift);
      self->night_c[d] = (float) (self->told_night + off_night + .7 * shift);
    }
}

static void
grow (SimRandom *random, SimKind *self)
{
  Clock clock = told_clock (self->profile);
  double off = sim_between (random, -SIM_CLOCK_C, SIM_CLOCK_C);

  clock.t0 += sim_between (random, -SIM_CLOCK_C, SIM_CLOCK_C);
  clock.topt += off;
  clock.tflat += off;
  clock.tmax += off;
  for (int d = 0; d < SIM_DAYS; d++)
    self->grown[d + 1] = self->grown[d] + day_of (&clock, self->day_c[d], self->night_c[d]);
}

double
sim_kind_grown (const SimKind *self, double t)
{
  double x = CLAMP (t - SIM_FIRST_DAY, 0, SIM_DAYS - 1e-9);
  int d = (int) x;

  return self->grown[d] + (x - d) * (self->grown[d + 1] - self->grown[d]);
}

double
sim_kind_when (const SimKind *self, double grown)
{
  int lo = 0, hi = SIM_DAYS;

  if (grown >= self->grown[SIM_DAYS])
    return INFINITY;
  while (hi - lo > 1)
    {
      int mid = (lo + hi) / 2;
      if (self->grown[mid] <= grown)
        lo = mid;
      else
        hi = mid;
    }
  return SIM_FIRST_DAY + lo + (grown - self->grown[lo]) / (self->grown[hi] - self->grown[lo]);
}

/* ---- what the keeper writes of it ---- */

typedef enum
{
  READS_NEVER,
  READS_SOMETIMES, /* one reading, without a clock time, about once a week */
  READS_EXTREMES   /* lowest and highest of most days */
} Reads;

static double
reading_of (SimRandom *random, double c)
{
  return c + SIM_SD_READING * sim_normal (random);
}

static void
read_day (SimRoom *room, const SimKind *self, GArray *entries, Reads reads, int d)
{
  SimRandom *random = &room->random;
  CoreDay day = SIM_FIRST_DAY + d + 1; /* development of (day - 1, day] */

  if (reads == READS_EXTREMES && sim_chance (random, .8))
    {
      sim_enter (room, entries, self->shelf, day, day, "reading|t=%.1f|minute=330",
                 reading_of (random, self->night_c[d]));
      sim_enter (room, entries, self->shelf, day, day, "reading|t=%.1f|minute=840",
                 reading_of (random, self->day_c[d]));
    }
  else if (reads == READS_SOMETIMES && sim_chance (random, .15))
    sim_enter (room, entries, self->shelf, day, day, "reading|t=%.1f",
               reading_of (random, self->day_c[d]));
}

void
sim_kind_weather (SimRoom *room, SimKind *self, GArray *entries)
{
  SimRandom *random = &room->random;
  const CoreProfile *p = self->profile;
  double u = sim_uniform (random);
  Reads reads = u < .4 ? READS_NEVER : u < .7 ? READS_SOMETIMES : READS_EXTREMES;

  self->shelf = sim_room_id (room);
  self->told = !sim_chance (random, SIM_NOT_TOLD);
  self->told_day = sim_between (random, p->day_lo.v, p->day_hi.v);
  self->told_night = fmin (self->told_day, sim_between (random, p->night_lo.v, p->night_hi.v));
  draw_weather (room, self);
  grow (random, self);
  if (self->told)
    {
      sim_enter (room, entries, self->shelf, SIM_FIRST_DAY, SIM_FIRST_DAY,
                 "set|key=day_c|value=%.0f", self->told_day);
      sim_enter (room, entries, self->shelf, SIM_FIRST_DAY, SIM_FIRST_DAY,
                 "set|key=night_c|value=%.0f", self->told_night);
      sim_enter (room, entries, self->shelf, SIM_FIRST_DAY, SIM_FIRST_DAY,
                 "set|key=light_h|value=12");
    }
  for (int d = 0; d < SIM_DAYS; d++)
    read_day (room, self, entries, reads, d);
}
