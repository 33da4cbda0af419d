/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-air.h — water in the air. t in °C, pressures in hPa, rh in percent.
 * Saturation over water: WMO-No. 8 (Magnus form), -45 … +60 °C. */
#pragma once

#include "core/core-types.h"

double core_air_saturation (double t);                 /* hPa */
double core_air_vapour (double t, double rh);          /* hPa */
double core_air_deficit (double t, double rh);         /* vpd, hPa */
double core_air_dew_point (double t, double rh);       /* °C; NAN for rh <= 0 */
double core_air_absolute (double t, double rh);        /* g/m³ */
/* Humidity when air of (t, rh) cools to `night`, at most 100. */
double core_air_rh_at (double t, double rh, double night);
bool core_air_condenses (double t, double rh, double wall);
