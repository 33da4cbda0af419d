/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-score.h — how good a distribution of a waiting time was. */
#pragma once

#include <glib.h>

#include "core/core-forecast.h"

/* ---- the normal law ---- */

double score_cdf (double z);
double score_normal_quantile (double p); /* 0 < p < 1 */

/* ---- a law by some points of its distribution, days from the evening of the forecast ---- */

#define SCORE_POINTS (CORE_N_Q + 4)
/* Between the points the normal score is a rising cubic of the days (Fritsch & Butland 1984, SIAM J.
 * Sci. Stat. Comput. 5:300–304, from memory), beyond them straight. Straight lines between them would
 * bend the tenths of the PIT: the score of a log-normal is not straight in the days. */
typedef struct
{
  int n;
  double x[SCORE_POINTS], z[SCORE_POINTS], slope[SCORE_POINTS];
} ScoreLaw;

/* The decimal quantiles, and between them the chances by now and within 3, 7, 14 days,
 * given like these that a moult comes. */
ScoreLaw score_law (const CoreForecast *forecast);
double score_law_cdf (const ScoreLaw *self, double x);
double score_law_quantile (const ScoreLaw *self, double z);

/* ---- continuous ranked probability score, days; less is better ---- */

/* Twice the mean of the quantile losses: Gneiting & Raftery 2007, JASA 102:359–378, who define
 * the score; its form by quantiles from memory. */
double score_crps_law (const ScoreLaw *self, double y);
/* Of ln X ~ N (mu, sd²). Closed form: Baran & Lerch 2015, QJRMS 141:2289–2299 (from memory);
 * checked against score_crps_after in test-score.c. */
double score_crps_log_normal (double mu, double sd, double y);
/* The same given X > after. */
double score_crps_after (double mu, double sd, double after, double y);
