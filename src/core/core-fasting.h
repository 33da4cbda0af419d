/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fasting.h — an animal that takes no food: is it about to moult, or is something wrong?
 *
 * One plain answer from what is known: refusals, belly, signs, the days since its last moult and
 * the forecast. Where these do not tell, that is the answer. */
#pragma once

#include "core/core-plan.h"

typedef enum
{
  CORE_FASTING_NONE,         /* it does not refuse, or it is no living animal */
  CORE_FASTING_MOULT_LIKELY, /* leave it alone */
  CORE_FASTING_HUNGRY,       /* hungry, and something is wrong */
  CORE_FASTING_CANNOT_TELL,
  CORE_FASTING_JUST_MOULTED, /* still soft: it does not eat yet */
  CORE_FASTING_ILL,          /* trouble was entered for which food waits */
  CORE_FASTING_MOULTED,      /* it has probably moulted, and nobody has seen it since */
  CORE_FASTING_NOT_KNOWN,    /* it is offered food, and nobody saw it eat for long */
  CORE_FASTING_RESTING       /* its winter rest: to refuse is usual */
} CoreFastingAnswer;

/* What stands behind the answer, the first that applies. */
typedef enum
{
  CORE_FASTING_BY_NONE,
  CORE_FASTING_BY_SIGN,   /* pumping, splitting, or hanging that holds: code is the sign */
  CORE_FASTING_BY_SOFT,   /* the hold after a moult */
  CORE_FASTING_BY_THIN,   /* a thin belly, or entered as thin */
  CORE_FASTING_BY_CHANCE, /* a moult within 14 days is more likely than not, its range begun */
  CORE_FASTING_BY_BELLY,  /* nobody knows the belly */
  CORE_FASTING_BY_ROUND,  /* belly 3 to 5, but no moult is near: it may have had enough */
  CORE_FASTING_BY_ILL,    /* it vomits, has mites or is weak */
  CORE_FASTING_BY_ADULT,  /* the same, and adults do not moult */
  CORE_FASTING_BY_MOULTED, /* by its forecast, or it was seen pumping or splitting */
  CORE_FASTING_BY_OFFERED, /* nothing was refused, and nothing seen to be eaten */
  CORE_FASTING_BY_STUCK,  /* its last moult went wrong */
  CORE_FASTING_BY_REST
} CoreFastingBy;

typedef struct
{
  CoreFastingAnswer answer;
  CoreFastingBy by;
  int sign;              /* CORE_SIGN_*, -1 = none */
  int refusals;          /* of the present run */
  CoreDay since, last;   /* its first and last day */
  int belly;             /* 1…5; 0 = not known now */
  CoreDay belly_day;     /* of the last score, or CORE_DAY_NONE */
  CoreDay last_taken;    /* last meal known to be eaten, or CORE_DAY_NONE */
  CoreDay moulted;       /* last moult at the latest, or CORE_DAY_NONE */
  int offered;           /* meals put in since one was known to be eaten, and not refused */
  CoreDay nothing_since; /* of these the first, or CORE_DAY_NONE */
  double within7, within14; /* chance of a moult; NAN = no forecast */
  double by_now;         /* that it has come already; NAN = no forecast */
  CoreDay moult_lo, moult_hi; /* MOULTED: when, by the forecast; or CORE_DAY_NONE */
  bool in_range;
} CoreFasting;

/* Words for it: words_fasting. The plan must be of `today`. */
CoreFasting core_fasting (const CoreState *state,
                          const CoreForecast *forecast,
                          const CorePlan *plan,
                          CoreDay today);
const char *core_fasting_name (CoreFastingAnswer answer); /* "moult_likely": the contract's word */
