/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast.h — the next moult, as a range with its reasons.
 *
 * Forward recursion over windows on the animal's own effect; mixture over the
 * number of moults N and the sex. Times are evenings; day quantiles are counted
 * from this evening (today) and may be negative.
 */
#pragma once

#include "core/core-clock.h"
#include "core/core-profile.h"
#include "core/core-state.h"

/* What the animal's lot and room say about rho + lambda (log scale). The
 * neutral message is core_room_neutral(): mean 0, and what room, lot and the profile's medians may
 * differ by. */
typedef struct
{
  double mean, sd;
} CoreMessage;

typedef struct
{
  bool certain_looks; /* a look is certain, not 97 % */
  bool no_missing_moult;
  bool no_not_normal;
  bool no_signs;
  bool no_growth_of_doubt; /* no 8 % error of habit spans */
  double single_sd;        /* > 0: all spreads folded into this one sd of ε, no node grid */
  bool n_as_given;         /* no N above or below those of the profile */
  bool no_reasons;         /* leave reasons out: a third of the time */
  bool no_adult;           /* leave the adult date out */
  int nodes;               /* 0 = default (31) */
  double cell;             /* days, 0 = default (.5) */
} CoreForecastOptions;

typedef struct
{
  const CoreState *state;
  const CoreProfile *profile;
  const CoreWarmth *warmth;
  CoreDay today;
  double p_male;                      /* sex by its probability; .5 = unknown */
  const CoreMessage *message;         /* NULL = neutral */
  const CoreMessage *room_alone;      /* the same without its lot-mates, for reasons; NULL = it */
  const CoreForecastOptions *options; /* NULL = defaults */
  const CoreWarmth *then; /* as it was known when the stage was found begun; NULL = as now */

  /* By stage of the state; NULL = all began in the room of the stage in progress. */
  const CoreMessage *elsewhere; /* what its room was slower (core_room_elsewhere); 0, 0 = that room */
  const bool *here;             /* for a message: did it begin in the room that is told of? */
} CoreForecastInput;

/* Rules of its reasons, in this order, where they apply:
 *   forecast.identity       day: since when nobody knows which animal it is
 *   forecast.unknown_start  value: days since it was in that stage; day: the arrival, if known
 *   forecast.stage_unsure   value: moults (NAN = unknown), value2: sd; code: CoreBasis
 *   forecast.arrival_wait   value: days from the arrival to the first moult here; day: the
 *                           arrival; entries: both
 *   forecast.earlier_stages value: days of the finished stages between that and the last one,
 *                           value2: days usual for them at the warmth they had (NAN = not
 *                           known); code: how many
 *   forecast.own_stages     value: days of the last finished stage, value2: days that are
 *                           usual for it at the warmth it had; entries: both ends; code: 2 = by
 *                           general figures;
 *                           of these three value3: half the width of what the windows leave
 *                           open, value being its middle
 *   forecast.subadult       day: seen as sub-adult, so that the next moult makes it adult
 *   forecast.signs          value: times; code: CORE_SIGN_*; day: first seen; one per sign
 *   forecast.last_look      value: days since; day: the look
 *   forecast.warmth         value: mean °C of the days to come, value2: 25, value3: °C of its warm
 *                           hours; code: CoreWarmthRest, but 5: by one reading, 6: by readings of few
 *                           days or of one time of day, 7: by its warm hours it takes longer than the
 *                           mean says, 8: less
 *   forecast.size           value: mm of the last body length; day: on which it was measured
 *   forecast.sex            value: p_male
 *   forecast.lot            value: percent by which it is taken to need longer than usual by the
 *                           moults of lot-mates and room together (negative: less)
 *   forecast.room           value: the same by the moults of its room, lot-mates left out
 *   forecast.moults         value: moults since the hatch; code: CoreBasis; where it is known
 *   forecast.longer         value: days past the range; day: the last look; day2: end of the
 *                           range; code: 1 = nobody has looked since
 *   forecast.not_normal     value: the probability; code: CoreDoubt
 *   forecast.beyond         value: the probability
 *   forecast.stage          value: median days of this stage at 25 °C, value2, value3: 10 and
 *                           90 %; over the mixture of numbers of moults, sex and own pace;
 *                           code: 1 = the general ladder lends, 2 = the kind is not known, 3 = nor
 *                           is the stage
 *   forecast.range          day, day2: the range of the rules, where signs moved the one that is said
 * shift_days is the median with the fact less the median without it (warmth: less that at
 * 25 °C; sex: less that at .5). */
typedef enum
{
  CORE_NO_FORECAST_NONE, /* there is one */
  CORE_NO_FORECAST_DEAD,
  CORE_NO_FORECAST_LEFT,
  CORE_NO_FORECAST_ESCAPED,
  CORE_NO_FORECAST_ADULT,
  CORE_NO_FORECAST_NO_START, /* neither hatch, moult nor arrival is known */
  CORE_NO_FORECAST_NOT_AN_ANIMAL,
  CORE_NO_FORECAST_TOO_COLD, /* development stands still */
  CORE_NO_FORECAST_EMPTY     /* a lot with none left in it, of which not all died */
} CoreNoForecast;

/* What a missing moult makes one think of. */
typedef enum
{
  CORE_DOUBT_MISSED, /* far from adult: a moult was missed, or a date is wrong */
  CORE_DOUBT_ADULT,  /* its number of moults is near those of its kind: adult already? */
  CORE_DOUBT_WINGS   /* it moulted out of a stage seen as sub-adult: are the wings full? */
} CoreDoubt;

/* Why no moult is to be expected while it stands as it does. */
typedef enum
{
  CORE_STILL_NOT, /* one is to be expected */
  CORE_STILL_COLD,
  CORE_STILL_HOT,
  CORE_STILL_REST /* cold, as its kind may rest in winter */
} CoreStill;

typedef struct
{
  CoreStill why;
  double mean_c;         /* of the days to come, °C */
  double day_lo, day_hi; /* what its kind is kept at by day, °C; NAN = not said */
} CoreStandstill;

#define CORE_MAX_REASONS 20
enum
{
  CORE_Q05,
  CORE_Q10,
  CORE_Q25,
  CORE_Q50,
  CORE_Q75,
  CORE_Q90,
  CORE_Q95,
  CORE_N_Q
};

typedef struct
{
  CoreNoForecast why;    /* NONE: the rest is valid */
  double days[CORE_N_Q]; /* from this evening, conditional on a moult coming */
  CoreDay p10, p50, p90; /* today + ceil(days) */
  double by_now;         /* chance that it has moulted already, unseen */
  double within3, within7, within14;
  double not_normal; /* no moult comes: already adult, a wrong date, ill */
  CoreDoubt doubt;
  bool probably_moulted; /* since the last look: nothing but a look tells */
  bool overlooked;       /* more likely than not before the last look: then days[] are of one after it */
  int moulting;         /* CORE_SIGN_* seen in this stage that is the moult itself; -1 = none */
  CoreDay moulting_day; /* on which it was seen */
  bool probably_adult; /* it moulted out of a stage seen as sub-adult */
  double beyond;       /* no moult within 400 days */
  CoreStandstill still; /* why, from half of the chances on; also where it is too cold for any day */
  CoreDay last_look;   /* the look it stands on, or CORE_DAY_NONE */
  /* *The range* of the rules: 10–90 % without this stage's signs and later looks. */
  CoreDay range_lo, range_hi, range_mid;
  CoreDay given_hi; /* the p90 given when the stage began, CORE_DAY_NONE = as range_hi */
  bool in_range;                         /* today >= range_lo (open until a moult is entered) */
  bool longer_than_usual; /* today past the p90 given when the stage began, no moult entered */
  bool seen_past_range;   /* and it was looked at after that p90: the stage does last longer */
  double stage_began_lo, stage_began_hi; /* evenings; NAN unknown */
  bool to_adult_possible;
  double p_next_is_adult; /* chance that the next moult makes it adult */
  size_t n_reasons;
  CoreReason reasons[CORE_MAX_REASONS];

  /* Adult */
  bool has_adult;
  CoreDay adult_p10, adult_p50, adult_p90;
  double moults_left[CORE_MAX_MOULTS + 1]; /* chance of each number, sums to 1 */
} CoreForecast;

/* The days for which a forecast wants the warmth of `core_warmth_build`: from before the
 * first stage (at most 1,500 days back) to the end of the horizon. */
void core_forecast_span (const CoreState *state, CoreDay today, CoreDay *from, CoreDay *to);
/* CORE_BAD_INPUT when the warmth does not reach 30 days past today; else CORE_OK, also
 * where there is no forecast: out->why then says why, days are NAN, dates CORE_DAY_NONE. */
CoreStatus core_forecast (const CoreForecastInput *input, CoreForecast *out);

/* What this animal's own moults (also an adult's, a dead one's) say of rho + lambda + eta:
 * mean y and precision p, its prior left out; false when they say nothing. The stage in progress
 * speaks by how long it has lasted at the last look, or at the end of the animal. Moults entered
 * for a whole lot are told by the lot, as one; so `state` may be of a lot, too. */
bool core_forecast_message (const CoreForecastInput *input, double *y, double *p);
/* The last day that such a message rests on: it is the same on every later day. The warmth must
 * reach 31 days past it. CORE_DAY_NONE: it will say nothing. */
CoreDay core_forecast_message_day (const CoreState *state, CoreDay today);
