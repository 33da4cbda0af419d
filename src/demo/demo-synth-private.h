/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-synth-private.h — shared by the files that make a synthetic collection of any size. */
#pragma once

#include "demo/demo-rand.h"
#include "demo/demo.h"

typedef enum
{
  SYNTH_DIES,
  SYNTH_DIES_IN_MOULT,
  SYNTH_SOLD,
  SYNTH_GIVEN,
  SYNTH_ESCAPES
} SynthEnd;

/* One invented animal: the truth first, then what the keeper has written of it. */
typedef struct
{
  CoreId id;
  const CoreProfile *profile;
  DemoRand rand; /* of its evenings */
  guint number;
  CoreSex sex;
  gboolean bred;                      /* hatched in this room */
  CoreDay came;                       /* its first day in the journal */
  int n;                              /* moults to adult */
  double moult[CORE_MAX_MOULTS + 1];  /* evening of moult i; [0] the hatch */
  CoreDay ends;                       /* its last day, may lie after the journal's */
  SynthEnd end;
  guint shelf;
  guint at;

  int written;        /* moults that the keeper knows of, as they truly are */
  gboolean known_adult;
  CoreDay fed;        /* last offer that no look has followed, or CORE_DAY_NONE */
  guint next_housed;  /* written moults from which the next larger cup is due */
} SynthAnimal;

typedef struct
{
  CoreId id;
  int climate; /* index into synth_climates */
  guint cups;  /* cups on it now */
  guint last_at;
} SynthShelf;

typedef struct
{
  const char *name;
  double day_c, night_c, light_h;
  int mist_every;
} SynthClimate;
extern const SynthClimate synth_climates[3];

typedef struct
{
  DeskBulk *bulk; /* owned */
  DeskProfiles *profiles;
  GPtrArray *species; /* const CoreProfile *, all but the general one */
  guint64 seed;
  CoreDay first, last, day;
  guint n_animals;
  SynthAnimal *animals; /* owned; by arrival */
  GArray *shelves;      /* SynthShelf */
  GPtrArray *living;    /* SynthAnimal *, borrowed, by arrival */
  guint round;          /* counts rounds, for their random bytes */
  guint round_of_day;
} Synth;

/* demo-synth-life.c */
void synth_life (const Synth *self, guint i, SynthAnimal *animal);
int synth_moults (const SynthAnimal *animal, double evening);
double synth_body_mm (const SynthAnimal *animal, int moults);
int synth_climate_of (const CoreProfile *profile);

/* demo-synth-day.c: what is written of one animal on one evening. */
CoreEntry *synth_entry (CoreKind kind, CoreId subject, CoreDay day);
void synth_arrive (Synth *self, SynthAnimal *animal);
void synth_evening (Synth *self, SynthAnimal *animal, gboolean looked_at);
void synth_end (Synth *self, SynthAnimal *animal);

/* demo-synth-shelf.c: shelves are put up as they are needed. */
void synth_place (Synth *self, SynthAnimal *animal); /* shelf and at */
void synth_shelf_care (Synth *self, guint shelf, DemoRand *rand);
CoreEntry *synth_entry_set (CoreId subject, CoreDay day, const char *key, const char *value);

/* demo-synth-note.c: a sentence of a keeper; owned by the caller. */
char *synth_note (DemoRand *rand);
