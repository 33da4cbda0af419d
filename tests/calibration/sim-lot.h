/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-lot.h — how well first, middle and last moult of a lot are foretold. */
#pragma once

#include "sim-ask.h"

/* first, middle, last */
typedef struct
{
  int room;
  gboolean drawn;
  double lo[3], hi[3]; /* 10–90 % range, days from this evening */
  double y[3];         /* what came */
} LotMoment;

void sim_lot_moments (SimAsk *ask, GArray *out);
