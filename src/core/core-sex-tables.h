/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-sex-tables.h — what one reading says by itself, before combination.
 *
 * Log-odds are natural, positive = male. `readable` is the chance that the
 * stage can be read at all; below it both sexes look alike, so that a reading
 * of a stage that is surely too early is worth exactly 1:1.
 */
#pragma once

#include "core/core-sex.h"

enum
{
  CORE_PLATES_MIN = 4,
  CORE_PLATES_MAX = 10
};

/* Ours. Of these only the cue's can be another in a profile, beside the usual counts, the tegmen's two
 * normals and the prior. */
#define CORE_ODDS_PHOTO_CAP 32.0  /* one photo, however clear */
#define CORE_ODDS_TEGMEN_CAP 20.0 /* few animals stand behind the two normals */
#define CORE_ODDS_LAST_PLATE 20.0
#define CORE_ODDS_WINGS 6.0
#define CORE_ODDS_CUE 4.0
#define CORE_ODDS_ANTENNAE 50.0 /* feathered, adult empusids */
#define CORE_ODDS_BUILD 2.0
#define CORE_ODDS_DESCENT 200.0
#define CORE_ODDS_CLAIM 3.0
#define CORE_ODDS_SETTLED 1e4
#define CORE_ODDS_SECOND 4.0 /* the least that a second kind must be worth */

#define CORE_ODD_COUNT .5 /* of the log-odds of a count that no mantis shows */

/* P(count | sex) of one convention; sex 0 male, 1 female; 0 outside 4…10. */
double core_plates_p (int convention, int sex, int count);
/* A count as the keeper named it: small_plate and convention as answered. */
double core_plates_log_odds (const CoreProfile *profile, int count, int small_plate,
                             int convention, double readable);
/* The same along marks that the program placed and of which nobody said that they lie right. */
double core_plates_open_log_odds (const CoreProfile *profile, int count, int small_plate,
                                  int convention, double readable);
/* The finder's likelihood over 4…10 (index = count) and of "no plates seen". */
double core_plates_finder_log_odds (const CoreProfile *profile, const double likelihood[11],
                                    double none, int small_plate, double readable);
/* A reading worth `odds` for one sex, where the stage can be read. */
double core_sex_log_odds (double odds, CoreSex says, double readable);
double core_last_plate_log_odds (int last_plate, double readable);
/* *spans is set when the 90 % interval holds the cut. */
double core_wings_log_odds (double ratio, double sd, bool *spans);
/* *unclear is set when the ratio is far from both sexes: the marks are wrong. */
double core_tegmen_log_odds (const CoreProfile *profile, double ratio, double sd, bool *unclear);
