/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-tally.h — which moments, and what they add up to. */
#pragma once

#include "sim-lot.h"
#include "sim-moments.h"

typedef struct
{
  gboolean drawn;
  guint32 all_of, none_of; /* bits 1 << Was */
  gboolean true_moult;     /* against the next true moult, entered or not */
  int waits_from;          /* own moults entered, at least */
  int every, of;           /* every > 0: rooms whose number - 1 is `of` modulo that */
} Choice;

typedef struct
{
  int n;
  double in80, in50, below, above; /* shares */
  double se80, se50;               /* rooms resampled */
  double pit[10];
} Tally;

/* `rooms` 0: without standard errors. */
Tally tally (const GArray *moments, int rooms, Choice choice);
/* Of the largest of the tenths that is off by most: by how much. */
double tally_pit_off (const Tally *self);
/* Of lots kept together, the 80 % range alone; which: 0 first, 1 middle, 2 last. */
Tally tally_lots (const GArray *lots, int rooms, gboolean drawn, int which);

typedef enum
{
  BASE_PROFILE, /* the profile's median, days at 25 °C */
  BASE_WARMTH,  /* the same at the usual warmth of the shelf: a harder one than is asked for */
  BASE_LAST     /* own last interval × 1.2 */
} Baseline;

typedef struct
{
  int n;
  double ours, theirs; /* mean CRPS, days */
  double sd;           /* the log-sd of the baseline that makes `theirs` least */
  double se;           /* of ours ÷ theirs, by room: moments of one hang together */
} Versus;

/* A baseline is a log-normal, from the day written, given that the last look saw no moult. */
Versus versus (const GArray *moments, Choice choice, Baseline baseline);
