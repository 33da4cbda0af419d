/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim.h — rooms of animals whose true moults are known, and what their keeper wrote of them.
 *
 * Shares no code with the forecast: lengths of stages, warmth, numbers of moults, looks and
 * signs are drawn here by laws of their own, and the keeper's record comes out as ordinary
 * entries. Times are evenings: t = d is the evening of day d. Nothing is tuned for the forecast;
 * every width stands in sim-widths.h with its reason.
 */
#pragma once

#include <glib.h>
#include <math.h>

#include "core/core-entry.h"
#include "core/core-profile.h"

#define SIM_MOULTS CORE_MAX_MOULTS
#define SIM_FIRST_DAY 12000 /* of every room */
#define SIM_DAYS 1400       /* of its weather */
#define SIM_KINDS 3         /* most species of a room */

/* ---- chance ---- */

typedef struct
{
  guint64 state;
} SimRandom;

void sim_seed (SimRandom *self, guint64 seed, guint64 stream);
double sim_uniform (SimRandom *self); /* open (0, 1) */
double sim_between (SimRandom *self, double lo, double hi);
double sim_normal (SimRandom *self);
gboolean sim_chance (SimRandom *self, double p);
int sim_below (SimRandom *self, int n); /* 0 … n - 1 */
/* exp of a uniform in ± ln width: as often 1/width as width. */
double sim_factor (SimRandom *self, double width);
/* Mean 0, sd 1; the shape is one of SimShape. */
typedef enum
{
  SIM_SHAPE_NORMAL,
  SIM_SHAPE_GAMMA, /* the log of a gamma variate: a longer lower tail */
  SIM_SHAPE_TAILS, /* Student's t of 6 degrees */
  SIM_N_SHAPES
} SimShape;
double sim_shaped (SimRandom *self, SimShape shape, double sd);

/* ---- a room ---- */

typedef struct
{
  const CoreProfile *profile; /* what the program is told; the truth is below */
  double stage[SIM_MOULTS];   /* true median development days, from the hatch */
  double last[2];             /* before sub-adult; sub-adult */
  double number[2][SIM_MOULTS + 1];
  double sd_lot, sd_animal, sd_stage;
  SimShape shape;

  CoreId shelf;
  gboolean told;                            /* usual temperatures of the shelf are entered */
  double told_day, told_night;              /* °C */
  float day_c[SIM_DAYS], night_c[SIM_DAYS]; /* what it was */
  double grown[SIM_DAYS + 1];               /* true development from the first day on */
} SimKind;

typedef struct
{
  double lead, sd;   /* median days and log-sd of the true lead */
  double shown;      /* chance that it comes before a moult and can be seen */
  double false_rate; /* of false ones a stage (of refusals: chance of one a meal) */
} SimSign;

typedef struct
{
  double look;       /* chance of a look a day */
  double overlook;   /* a look that does not see a moult that has happened */
  double miss;       /* a moult never entered */
  double dated_back; /* entered on the day that is believed to be the right one */
  double earliest;   /* says the earliest day */
  double says_subadult;
  gboolean clock; /* enters the time of day of looks */
  double rounds;  /* chance of a bulk entry a day */
  int feeds_every;
  SimSign sign[CORE_N_SIGNS];
  double lead_subadult; /* of refusals of a sub-adult */
  gboolean away[SIM_DAYS];
} SimKeeper;

typedef struct
{
  double room;        /* > 0: factor on all lengths, instead of drawn ones */
  double look;        /* > 0: chance of a look a day, instead of a drawn one */
  double false_signs; /* factor on false signs */
  double leads;       /* factor on true leads */
  double refuses;     /* > 0: chance that a meal is refused without a moult to come */
  double sick;        /* share of animals that never moult again, or much later */
} SimHostile;

typedef struct
{
  CoreEntry *entry; /* owned */
  CoreDay written;  /* it is known from that evening on */
} SimEntry;

typedef enum
{
  SIM_BEGAN_HATCH,
  SIM_BEGAN_ARRIVAL,
  SIM_BEGAN_MOULT
} SimBeganBy;

/* The beginning of a stage as the keeper entered it. */
typedef struct
{
  SimBeganBy by;
  CoreDay written, day; /* day: of the entry */
  int m;                /* the stage that it truly began, moults since hatch */
  CoreDay p90;          /* given on the evening written; 0 = not asked then */
} SimBegan;

typedef struct
{
  CoreId id, lot_id;
  int kind, lot;             /* lot: -1 = none */
  int sex, n;                /* 0 male, 1 female; moults to adult */
  double at[SIM_MOULTS + 2]; /* at[m]: the evening on which stage m truly began; INFINITY: never */
  double end;                /* evening of its death or sale, or INFINITY */
  gboolean bought, notes_signs, kind_unknown;
  gboolean sick, sick_for_good; /* in stage sick_at */
  int sick_at;
  CoreDay here;    /* first day of its record */
  GArray *entries; /* SimEntry, as written */
  GArray *began;   /* SimBegan */
} SimAnimal;

/* Kept together, with one record for all. */
typedef struct
{
  CoreId id;
  int kind;
  GPtrArray *animals; /* SimAnimal, owned; without records of their own */
  CoreDay here;
  GArray *entries; /* SimEntry */
  GArray *began;   /* SimBegan */
} SimLot;

typedef struct
{
  int number;
  SimRandom random;
  SimHostile hostile;
  double common,
    spread; /* what all species of the room share of its pace, in sd; the sd's factor */
  int n_kinds;
  SimKind kind[SIM_KINDS];
  SimKeeper keeper;
  CoreId place;                     /* the room, around its shelves */
  GArray *shelf_entries[SIM_KINDS]; /* SimEntry of places */
  GPtrArray *animals;               /* SimAnimal, owned */
  GPtrArray *lots;                  /* SimLot, owned */
  guint64 next_id;
} SimRoom;

SimRoom *sim_room_new (const CoreProfile *const *profiles,
                       int n_profiles,
                       const SimHostile *hostile,
                       guint64 seed,
                       int number);
void sim_room_free (SimRoom *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SimRoom, sim_room_free)

CoreId sim_room_id (SimRoom *self);
/* "moulted|to=adult|earliest=12010|minute=700|bulk"; written on `written`. */
void sim_enter (SimRoom *self,
                GArray *entries,
                CoreId subject,
                CoreDay day,
                CoreDay written,
                const char *format,
                ...) G_GNUC_PRINTF (6, 7);
GArray *sim_entries_new (void);

/* The parts that sim_room_new calls, in this order. */
void sim_kind_draw (SimRoom *room, SimKind *self, const CoreProfile *profile);
void sim_kind_weather (SimRoom *room, SimKind *self, GArray *entries);
double sim_kind_grown (const SimKind *self, double t);    /* development until evening t */
double sim_kind_when (const SimKind *self, double grown); /* its inverse; INFINITY past the end */
/* Development of a day at these temperatures by the clock of the profile, for the baselines. */
double sim_usual_rate (const CoreProfile *profile, double day_c, double night_c);
/* Median days of stage m at 25 °C by the profile's own figures, N being the most likely. */
double sim_profile_days (const CoreProfile *profile, int m, int n);
void sim_keeper_draw (SimRoom *room);
void sim_lives_draw (SimRoom *room);
void sim_keep (SimRoom *room, SimAnimal *animal);
void sim_keep_lot (SimRoom *room, SimLot *lot);
