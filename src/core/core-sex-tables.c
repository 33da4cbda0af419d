/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-sex-tables.c — the odds of single readings.
 *
 * All of them are ours, to be fitted to records later. They are likelihoods,
 * never posteriors, so that no prior is counted twice.
 */
#include "core/core-sex-tables.h"

#include <math.h>

#define N_COUNTS (CORE_PLATES_MAX - CORE_PLATES_MIN + 1)

/* Index = count - 4. What the tables of the models leave as "other" is shared
 * equally over the counts that they do not name. Not symmetric: the last
 * plates of a male hide under the ones before. */
static const double PLATES[2][N_COUNTS] = {
  { .01 / 3, .01 / 3, .05, .13, .78, .03, .01 / 3 },
  { .02 / 3, .03, .83, .10, .02, .02 / 3, .02 / 3 },
};

/* Belly appendages of empusids: female 5, male 6. */
static const double APPENDAGES[2][N_COUNTS] = {
  { .01, .13, .78, .05, .01, .01, .01 },
  { .03, .83, .10, .01, .01, .01, .01 },
};

/* Chance, before the picture is looked at, that no plate is to be seen on it (ours). */
static const double NONE_PRIOR = .1;

/* So many plates more than there are, from two less to two more, are counted along marks that the
 * program placed and nobody checked: of drawn pictures, and a little wider (ours). */
#define OPEN_REACH 2
static const double OPEN_MARKS[2 * OPEN_REACH + 1] = { .04, .12, .60, .16, .08 };

#define UNKNOWN_APPENDAGES .2 /* of counts of animals whose kind is not known */

/* Spread of a ratio that came without one: 1 % of the axis at both ends (ours). */
static const double RATIO_SD = .02;
static const double Z90 = 1.6448536269514722; /* two-sided 90 % */

double
core_plates_p (int convention, int sex, int count)
{
  if (count < CORE_PLATES_MIN || count > CORE_PLATES_MAX)
    return 0;
  return (convention == CORE_CONVENTION_APPENDAGES ? APPENDAGES
                                                   : PLATES)[sex][count - CORE_PLATES_MIN];
}

/* The counts around which the tables are made; a kind whose profile names another has them moved. */
static const double USUAL_PLATES[2] = { 8, 6 }, USUAL_APPENDAGES[2] = { 6, 5 };

static double
kind_p (const CoreProfile *profile, int convention, int sex, int count)
{
  bool appendages = convention == CORE_CONVENTION_APPENDAGES;
  double said = appendages ? profile->appendages[sex].v : profile->plates[sex].v;
  double usual = appendages ? USUAL_APPENDAGES[sex] : USUAL_PLATES[sex];
  int moved = said > 0 ? count - (int) lround (said - usual) : count;
  if (count < CORE_PLATES_MIN || count > CORE_PLATES_MAX)
    return 0;
  moved = moved < CORE_PLATES_MIN ? CORE_PLATES_MIN : moved > CORE_PLATES_MAX ? CORE_PLATES_MAX : moved;
  return core_plates_p (convention, sex, moved);
}

/* The plates that the table means, given how the small plate was answered. */
static double
plates_given_small (const CoreProfile *profile, int sex, int count, int small_plate)
{
  double with = kind_p (profile, CORE_CONVENTION_PLATES, sex, count - 1);
  double without = kind_p (profile, CORE_CONVENTION_PLATES, sex, count);
  if (small_plate == CORE_SMALL_COUNTED)
    return with;
  if (small_plate == CORE_SMALL_NOT)
    return without;
  return .5 * (with + without);
}

/* Where the stage may be too early, both sexes share the mean of the two. */
static double
log_odds_of (double male, double female, double readable)
{
  double alike = .5 * (male + female);
  double m = readable * male + (1 - readable) * alike;
  double f = readable * female + (1 - readable) * alike;
  return m > 0 && f > 0 ? log (m / f) : 0;
}

/* A count of which nobody said what was counted: of an empusid as soon appendages as plates; an
 * animal of an unknown kind may be an empusid (ours). */
static double
named_p (const CoreProfile *profile, int sex, int count, int small_plate, int convention)
{
  double plates = plates_given_small (profile, sex, count, small_plate);
  double appendages = kind_p (profile, CORE_CONVENTION_APPENDAGES, sex, count);
  double share = profile->empusid ? .5 : profile->general ? UNKNOWN_APPENDAGES : 0;
  if (convention == CORE_CONVENTION_APPENDAGES)
    return appendages;
  if (convention == CORE_CONVENTION_PLATES)
    return plates;
  return (1 - share) * plates + share * appendages;
}

double
core_plates_log_odds (const CoreProfile *profile,
                      int count,
                      int small_plate,
                      int convention,
                      double readable)
{
  return log_odds_of (named_p (profile, 0, count, small_plate, convention),
                      named_p (profile, 1, count, small_plate, convention), readable);
}

double
core_plates_open_log_odds (const CoreProfile *profile,
                           int count,
                           int small_plate,
                           int convention,
                           double readable)
{
  double p[2] = { 0, 0 };
  for (int sex = 0; sex < 2; sex++)
    for (int more = -OPEN_REACH; more <= OPEN_REACH; more++)
      p[sex] += OPEN_MARKS[more + OPEN_REACH] *
                named_p (profile, sex, count - more, small_plate, convention);
  return log_odds_of (p[0], p[1], readable);
}

double
core_plates_finder_log_odds (const CoreProfile *profile,
                             const double likelihood[11],
                             double none,
                             int small_plate,
                             double readable)
{
  double p[2];
  for (int sex = 0; sex < 2; sex++)
    {
      double seen = 0;
      for (int k = CORE_PLATES_MIN; k <= CORE_PLATES_MAX; k++)
        if (likelihood[k] > 0)
          seen += likelihood[k] * plates_given_small (profile, sex, k, small_plate);
      p[sex] = (1 - NONE_PRIOR) * seen + NONE_PRIOR * fmax (0, none);
    }
  return log_odds_of (p[0], p[1], readable);
}

double
core_sex_log_odds (double odds, CoreSex says, double readable)
{
  double sure = odds / (odds + 1);
  if (says == CORE_SEX_MALE)
    return log_odds_of (sure, 1 - sure, readable);
  if (says == CORE_SEX_FEMALE)
    return log_odds_of (1 - sure, sure, readable);
  return 0;
}

double
core_last_plate_log_odds (int last_plate, double readable)
{
  if (last_plate == CORE_LAST_BOAT)
    return core_sex_log_odds (CORE_ODDS_LAST_PLATE, CORE_SEX_FEMALE, readable);
  if (last_plate == CORE_LAST_SMALL)
    return core_sex_log_odds (CORE_ODDS_LAST_PLATE, CORE_SEX_MALE, readable);
  return 0;
}

double
core_wings_log_odds (double ratio, double sd, bool *spans)
{
  double half = Z90 * (sd > 0 ? sd : RATIO_SD);
  *spans = ratio - half <= 1 && ratio + half >= 1;
  if (*spans)
    return 0;
  return ratio > 1 ? log (CORE_ODDS_WINGS) : -log (CORE_ODDS_WINGS);
}

double
core_tegmen_log_odds (const CoreProfile *profile, double ratio, double sd, bool *unclear)
{
  double l[2], nearest = INFINITY;
  double error = sd > 0 ? sd : RATIO_SD * ratio;
  for (int sex = 0; sex < 2; sex++)
    {
      double spread = hypot (profile->tp_sd[sex], error);
      double z = (ratio - profile->tp_mean[sex]) / spread;
      nearest = fmin (nearest, fabs (z));
      l[sex] = -.5 * z * z - log (spread);
    }
  /* Beyond 4 sd of both the wider normal would win by its width alone. */
  *unclear = !(nearest <= 4);
  if (*unclear)
    return 0;
  double cap = log (CORE_ODDS_TEGMEN_CAP);
  return fmax (-cap, fmin (cap, l[0] - l[1]));
}
