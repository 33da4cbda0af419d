/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-pair.h — may a lot be enough to breed from? */
#pragma once

#include "core/core-profile.h"
#include "core/core-state.h"

typedef enum
{
  CORE_PAIR_KNOWN,
  CORE_PAIR_NO_COUNT, /* nobody knows how many they are, or it is no lot that is there */
  CORE_PAIR_NO_MALE   /* the kind breeds without males too: a pair is not asked for */
} CorePairWhy;

typedef struct
{
  CorePairWhy why;
  int64_t n;     /* how many were reckoned with */
  bool counted;  /* else n is an estimate */
  double chance; /* of at least one male and one female among them; NAN unless KNOWN */
} CorePair;

/* Of n animals, each male by that chance and without regard to the others. */
double core_pair_chance (double male, int64_t n);
CorePair core_pair_of_lot (const CoreState *lot, const CoreProfile *profile);
