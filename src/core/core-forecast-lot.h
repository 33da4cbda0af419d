/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-lot.h — the next moult of a lot: of the first of it, of half, of the last.
 *
 * Lot-mates share their room and their lot (rho + lambda) and differ by themselves (eta) and
 * by chance (epsilon): given what they share, they are independent, so that first, median
 * and last follow from one law by order statistics, inside the integral over what is shared.
 */
#pragma once

#include "core/core-forecast.h"

typedef struct
{
  double days[3]; /* 10, 50, 90 % quantile, from this evening; may be negative */
  CoreDay p10, p50, p90;
} CoreLotWhen;

typedef struct
{
  CoreNoForecast why; /* NONE: the rest is valid */
  int64_t n;          /* how many it was made for; of an estimate, the middle */
  int64_t moulted;    /* of the lot, in this stage already: n are the others */
  int64_t moulted_most; /* no less: where some were taken out and nobody said of which, it may be so many */
  bool about;         /* the number is an estimate: so are first and last */
  CoreLotWhen first, median, last;
  CoreStandstill still; /* whether at its temperature any is to be expected */
} CoreLotForecast;

/* As core_forecast; `state` is of a lot. Signs seen in a lot are of some of it, and say nothing
 * here; a look says that half of it had not moulted yet. Where some were entered as moulted the
 * forecast is of the others, none of which had by then. */
CoreStatus core_forecast_lot (const CoreForecastInput *input, CoreLotForecast *out);

/* Rules of its reasons, in this order, where they apply; those of core-forecast.h mean the same, of half
 * of the lot:
 *   forecast.unknown_start, forecast.stage_unsure
 *   forecast.lot_ahead   value: so many of it moulted already, day: when that was entered
 *   forecast.lot_look    day: the last look, when half of it had not moulted
 *   forecast.warmth, forecast.room, forecast.stage
 *   forecast.lot_ends    value: how many it is made for
 * shift_days: of the middle one. */
#define CORE_LOT_REASONS 8
CoreStatus core_forecast_lot_reasons (const CoreForecastInput *input,
                                      const CoreLotForecast *of,
                                      CoreReason out[CORE_LOT_REASONS],
                                      size_t *n);
