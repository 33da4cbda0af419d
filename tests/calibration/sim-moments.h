/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-moments.h — when a room is asked, what was known then, and what came of it. */
#pragma once

#include "sim-ask.h"
#include "sim-score.h"

/* What was known at the moment. */
typedef enum
{
  WAS_FIRST_STAGE,  /* from the hatch, no moult yet */
  WAS_SECOND_STAGE, /* one wait of its own is known */
  WAS_LATER_STAGE,  /* two or more */
  WAS_SUBADULT,     /* seen as such */
  WAS_WITH_SIGNS,   /* noted in this stage */
  WAS_BOUGHT,       /* and moulted here since */
  WAS_OF_LOT,       /* hatched here with others */
  WAS_MATES_SPEAK,  /* lot-mates have said something */
  WAS_ROOM_SPEAKS,  /* others of its kind in the room, no lot-mates */
  WAS_NOBODY_SPEAKS,
  WAS_LOOKED_DAILY,
  WAS_LOOKED_RARELY, /* less than every second day */
  WAS_READ,          /* warmth by readings */
  WAS_HABIT,         /* warmth by the usual temperatures */
  WAS_WARMTH_UNKNOWN,
  WAS_KIND_UNKNOWN,
  WAS_DATED, /* start of the stage with an earliest day, or dated back */
  WAS_SICK,  /* nobody knew it */
  WAS_THIRD, /* three moults or more of its kind entered in the room */
  /* start never entered: in no class above */
  WAS_ARRIVED, /* in the stage in which it came */
  WAS_HIDDEN,  /* a moult was never entered, the stage is another one than written */
  N_WAS
} Was;

extern const char *const was_names[N_WAS];

typedef struct
{
  int room;
  gboolean drawn; /* a drawn day, else the evening found */
  guint32 was;    /* bits 1 << Was */
  double y;       /* days from this evening to the next moult that was entered; NAN: never came */
  double y_true;  /* to the next true moult after the one that began the stage */
  double q[CORE_N_Q];
  ScoreLaw law;
  double crps; /* of `y`; NAN where that is */
  gboolean past_range; /* past the p90 that was given on the evening on which the stage began */
  gboolean said_longer;
  /* Of the baselines: the wait is counted from the day written. */
  double age;   /* days from it to this evening */
  double after; /* days from it to the last look: the moult came later */
  int waits;    /* own moults entered */
  double usual; /* the profile's median, days at 25 °C; NAN: stage not known */
  double rate;  /* development a day at the usual warmth */
  double last;  /* days of the last own interval; NAN: none */
  /* Of the truth, for looking into what misses: */
  const char *kind; /* id of the profile it is of */
  int m, n, sex;    /* stage as entered, moults to adult */
  int to_hide;      /* moults of this wait that are never entered */
  int hid;          /* of the waits before */
  double width;     /* days of the window in which the stage began */
} Moment;

/* One line for each moment, comma-separated, with a head. */
void sim_moments_print (const GArray *moments);
/* Asks about all animals of a room, and appends its moments; those of its lots to `lots`, of
 * LotMoment. */
void sim_moments (SimRoom *room, const CoreProfile *general, GArray *out, GArray *lots);
