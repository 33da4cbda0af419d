/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-air.c — water in the air.
 *
 * Everything stands on one saturation curve over water, so that dew point and
 * vapour pressure are exact inverses of each other. The enhancement factor of
 * moist air (about .4 %) is left out: it is far below what a hygrometer errs.
 */
#include "core/core-air.h"

#include <math.h>

/* Magnus form of WMO-No. 8, over water: 6.112 exp (17.62 t / (243.12 + t)) hPa. */
static const double MAGNUS_E0 = 6.112;
static const double MAGNUS_A = 17.62;
static const double MAGNUS_B = 243.12; /* °C */

/* Absolute humidity = 216.679 e / T, g/m³ with e in hPa and T in kelvin. */
static const double GAS = 216.679; /* g K / (hPa m³) */
static const double KELVIN = 273.15;

double
core_air_saturation (double t)
{
  return MAGNUS_E0 * exp (MAGNUS_A * t / (MAGNUS_B + t));
}

double
core_air_vapour (double t, double rh)
{
  return core_air_saturation (t) * rh / 100;
}

double
core_air_deficit (double t, double rh)
{
  return core_air_saturation (t) - core_air_vapour (t, rh);
}

double
core_air_dew_point (double t, double rh)
{
  if (!(rh > 0))
    return NAN;
  double l = log (core_air_vapour (t, rh) / MAGNUS_E0);
  return MAGNUS_B * l / (MAGNUS_A - l);
}

double
core_air_absolute (double t, double rh)
{
  return GAS * core_air_vapour (t, rh) / (t + KELVIN);
}

double
core_air_rh_at (double t, double rh, double night)
{
  double cooled = 100 * core_air_vapour (t, rh) / core_air_saturation (night);
  return cooled > 100 ? 100 : cooled;
}

bool
core_air_condenses (double t, double rh, double wall)
{
  return rh > 0 && wall < core_air_dew_point (t, rh);
}
