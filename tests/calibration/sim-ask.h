/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-ask.h — asks the program: folds what was written until a day, forecasts, and does for a
 * room what the desk does with its messages.
 */
#pragma once

#include "core/core-forecast.h"
#include "sim.h"

typedef struct
{
  SimRoom *room;
  CoreState shelf[SIM_KINDS]; /* folded once: days to come are never read */
  CoreState outer;            /* the room itself */
  const CoreProfile *general;
  GArray *said;               /* Said of sim-ask.c, one for each animal */
} SimAsk;

void sim_ask_init (SimAsk *self, SimRoom *room, const CoreProfile *general);
void sim_ask_clear (SimAsk *self);
const CoreProfile *sim_ask_profile (const SimAsk *self, const SimAnimal *animal);
/* The animal as it stands in the journal on the evening of `today`. */
void sim_ask_fold (const SimAsk *self, const SimAnimal *animal, CoreDay today, CoreState *state);

typedef struct
{
  CoreMessage message; /* of its lot and room */
  int mates, others;   /* lot-mates, and others of its species, that say anything */
} SimHeard;

/* FALSE where the program gives no forecast. */
gboolean sim_ask_forecast (SimAsk *self, guint animal, CoreDay today, const CoreState *state,
                           CoreForecast *out, SimHeard *heard);

/* What one animal of the room says of the pace. */
typedef struct
{
  const CoreProfile *profile;
  int lot;    /* −1 = of none: a lot of its own */
  double y, p;
} SimSaid;

/* The prior of an animal's rho + lambda by what the others say. */
SimHeard sim_hear (const SimSaid *said, gsize n, const CoreProfile *profile, int lot);
