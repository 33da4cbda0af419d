/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-private.h — shared by the files that make the invented collection. */
#pragma once

#include "demo/demo-draw.h"
#include "demo/demo.h"
#include "desk/desk.h"

#define DEMO_DAYS 120

typedef enum
{
  DEMO_STORY_PLAIN,
  DEMO_STORY_HANGS,    /* about to moult on the last evening */
  DEMO_STORY_FRESH,    /* moulted the day before */
  DEMO_STORY_THIN,     /* sunken belly, refused twice */
  DEMO_STORY_UNSEEN,   /* nobody looked for five days */
  DEMO_STORY_DIED,
  DEMO_STORY_SOLD,
  DEMO_STORY_SMALL_HOME
} DemoStory;

/* One invented animal, as the keeper knows it. */
typedef struct
{
  const char *species;
  const char *name;
  int shelf;          /* index of the place */
  CoreSex sex;        /* the truth, which the keeper has to find out */
  int hatched;        /* days before the last day */
  int came;           /* days before the last day; 0 = hatched here */
  gboolean claim;     /* the seller told its stage */
  int height_mm;      /* of its home; 0 = the usual cup for its size */
  DemoStory story;
  const char *claim_sex; /* what the seller says, NULL */
} DemoAnimal;

extern const DemoAnimal demo_animals[];
extern const gsize demo_n_animals;

typedef struct
{
  const char *name;
  const char *code;
  double day_c, night_c, light_h;
} DemoPlace;
extern const DemoPlace demo_places[];
extern const gsize demo_n_places;

/* The life of one animal as it really went: the evening of each moult. */
typedef struct
{
  int n;                                /* moults to adult */
  double moult[CORE_MAX_MOULTS + 1];    /* day (counted like CoreDay) of moult i, i = 1 … n */
} DemoLife;

void demo_life (const DemoAnimal *animal, const CoreProfile *profile, CoreDay last, guint64 seed, DemoLife *out);
int demo_life_moults (const DemoLife *life, double t); /* moults done by the evening t */

/* Deterministic numbers: the same for the same (seed, a, b). 0 <= result < 1. */
double demo_chance (guint64 seed, guint64 a, guint64 b);

/* Writes the rounds of all days; subjects[i] is animal i. */
gboolean demo_write_days (Desk *desk, CoreDay last, const CoreId *subjects, const DemoLife *lives, const CoreId *places,
                          GCancellable *cancellable, GError **error);
/* Draws and attaches the photos and what was read from them. */
gboolean demo_write_photos (Desk *desk, CoreDay last, const CoreId *subjects, GCancellable *cancellable,
                            GError **error);

/* The egg case and the lot, E1 and H1. */
gboolean demo_write_brood (Desk *desk, CoreDay last, CoreId place, GError **error);

/* Waits for the write; `pairs` gets its end. */
gboolean demo_add (Desk *desk, CoreSubjectKind kind, GPtrArray *pairs, CoreDay day, CoreId *id, GError **error);
gboolean demo_write (Desk *desk, GPtrArray *entries, GError **error);
CoreEntry *demo_entry (CoreKind kind, CoreId subject, CoreDay day);
