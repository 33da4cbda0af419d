/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-standin.h — the plan of a subject as days of a sheet for somebody who knows nothing.
 *
 * Forecasts do not stand on it: what is to be done when it hangs or has moulted is a condition
 * that the stand-in can see, with the days for which the cup then stays closed.
 */
#pragma once

#include "core/core-plan.h"

#define CORE_STANDIN_DAYS 31 /* at most so many days on one sheet */

typedef struct
{
  bool feed;
  bool mist;
  bool water;  /* dampen the floor */
  bool closed; /* leave alone: not opened on this day */
} CoreStandinDay;

typedef struct
{
  bool flies_always; /* a lot of hatchlings: prey must always be in view */
  bool fed_before;   /* counts on a meal that is due before the first day */
  bool until_moult;  /* closed until it has moulted: nobody knows the day */
  int prey;          /* CORE_PREY_*; -1 = none is proposed */
  int n;             /* of it at one meal; 0 = not said */
  bool take_out;     /* it bites: what is left of it goes out in the evening */
  int rest_days;     /* after the day of a moult closed and without food for so many more; 0 adult, lot */
  CoreStandinDay days[CORE_STANDIN_DAYS]; /* from `input->from` on */
} CoreStandin;

/* `input` as for core_plan(), with to - from < CORE_STANDIN_DAYS (else CORE_BAD_INPUT). What is due
 * before the first day is the keeper's. Behind a hold that nobody knows the end of, `feed` says when
 * a meal would be due without it. */
CoreStatus core_standin (const CorePlanInput *input, CoreStandin *out);
