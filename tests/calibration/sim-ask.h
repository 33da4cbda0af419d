/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-ask.h — asks the program: folds what was written until a day, forecasts, and does for a
 * room what the desk does with the voices of its animals.
 */
#pragma once

#include "core/core-forecast-lot.h"
#include "core/core-room.h"
#include "sim.h"

typedef struct
{
  SimRoom *room;
  CoreState shelf[SIM_KINDS]; /* folded once: days to come are never read */
  const CoreProfile *general;
  CoreRoom *voices;
  GArray *said; /* Said of sim-ask.c, one for each animal */
} SimAsk;

void sim_ask_init (SimAsk *self, SimRoom *room, const CoreProfile *general);
void sim_ask_clear (SimAsk *self);
const CoreProfile *sim_ask_profile (const SimAsk *self, const SimAnimal *animal);
/* The animal as it stands in the journal on the evening of `today`. */
void sim_ask_fold (const SimAsk *self, const SimAnimal *animal, CoreDay today, CoreState *state);

/* Who had told anything by then. */
typedef struct
{
  int mates, others; /* lot-mates; others of its species */
} SimHeard;

/* FALSE where the program gives no forecast. */
gboolean sim_ask_forecast (SimAsk *self,
                           guint animal,
                           CoreDay today,
                           const CoreState *state,
                           CoreForecast *out,
                           SimHeard *heard);
gboolean sim_ask_lot (SimAsk *self, const SimLot *lot, CoreDay today, CoreLotForecast *out);
