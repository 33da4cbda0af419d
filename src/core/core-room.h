/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-room.h — what the animals of a room tell of each other's pace.
 *
 * ln D = mu + rho (room, species) + lambda (lot) + eta (animal) + eps. Each animal reports
 * what its own moults say of rho + lambda + eta as a Gaussian message, its voice. Voices go
 * to their lot, lots to their species in the room, species to the room; three fifths of
 * rho's variance are common to all species of a room. Who asks leaves its own voice out.
 */
#pragma once

#include "core/core-clock.h"
#include "core/core-forecast.h"

typedef struct
{
  CoreId animal;
  CoreId lot;                 /* none = of no lot */
  const CoreProfile *profile; /* borrowed; one and the same for all of a species */
  double y, p;                /* mean and precision; p = 0: it says nothing */
  uint64_t kind; /* of those without a profile of their own: core_kind_mark; 0 = nobody knows what it is */
} CoreVoice;

/* One room: voices in an order that does not depend on how they came, and their sums. */
typedef struct CoreRoom CoreRoom;

/* The voice of an animal, or of a lot as a whole, made ready for being compared and kept: mean
 * to a two hundredth, precision to a sixteenth of its octave. */
CoreVoice core_voice (CoreId animal, CoreId lot, const CoreProfile *profile, double y, double p);
/* Tells kinds apart that are known by a name alone, as it was typed; case and blanks at the ends do not
 * matter. "" is 0: of those no two are known to be of one kind, but lot-mates. */
uint64_t core_kind_mark (const char *name);

CoreRoom *core_room_new (void); /* NULL = no memory */
void core_room_free (CoreRoom *self);
/* In the place of what the same one said before as of this lot and species; take it out first
 * where these are others now. */
CoreStatus core_room_put (CoreRoom *self, const CoreVoice *voice);
void core_room_take_out (CoreRoom *self, CoreId animal);

/* What all others say of rho + lambda of one of that lot (none = of no lot), in steps of .02 sd,
 * so that it is the same whatever came before; neutral when nobody says anything. */
CoreMessage
core_room_message (CoreRoom *self, CoreId animal, CoreId lot, const CoreProfile *profile);
/* The same without its lot-mates: of its room alone. */
CoreMessage
core_room_alone (CoreRoom *self, CoreId animal, CoreId lot, const CoreProfile *profile);
/* Either of them for that voice (y and p do not matter), of whatever kind it is. */
CoreMessage core_room_hear (CoreRoom *self, const CoreVoice *asking, bool with_mates);
/* The same where there is no room at all. */
CoreMessage core_room_neutral (const CoreProfile *profile);

/* How a stage of another room is to be read in the room of the message `here`: what it was
 * slower there, and how sure that is. */
CoreMessage
core_room_elsewhere (CoreMessage there, CoreMessage here, const CoreProfile *profile);

/* The room in which a stage began: the outermost place, by `within`, of where it stood then;
 * none = the journal. A state without that stage: where it stands now. */
CoreId
core_room_of_stage (const CoreState *state, size_t stage, CorePlaceLookup lookup, void *data);
