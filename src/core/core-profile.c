/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-profile.c — the general profile, the care tables of the four groups, and
 * the ladder of stage lengths that lends where a species has no figure.
 *
 * Every value carries its tag; what is written here is common practice or a
 * judgement of this program, never a measurement.
 */
#include "core/core-profile.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-entry.h"

/* Median days at 25 °C by moults since hatch. Common practice, no source: keepers'
 * ranges for larger kinds kept warm, 8–12 days for the hatchling, longer each time. */
static const double ladder[CORE_MAX_MOULTS] = { 11, 11, 13, 15, 17, 20, 21,
                                                22, 23, 24, 24, 24, 24, 24 };
/* Before sub-adult; sub-adult. Common practice, no source. */
static const double ladder_last[2] = { 19, 28 };
/* A borrowed length is less sure; added in quadrature on the log scale. Ours. */
static const double ladder_sd = .15;

typedef struct
{
  double a, b;
} Range;

/* models §5, table of groups: common practice, no source. A single "n" reads
 * as n to n + 1, "j–k a week" as every 7/k (down) to 7/j (up) days. */
typedef struct
{
  double day_lo, day_hi, night_lo, night_hi, spot_lo, spot_hi, above, below, rh_lo, rh_hi;
  Range mist;
  Range feed[CORE_N_CARE];
  double touch[CORE_N_HARD];
  Range food[CORE_N_HARD];
  Range incubation, young;
  bool damp, dry, flying;
} GroupRow;

static const GroupRow groups[CORE_N_GROUPS] = {
  [CORE_GROUP_HARDY] = { .day_lo = 22,
                         .day_hi = 28,
                         .night_lo = 17,
                         .night_hi = 22,
                         .spot_lo = NAN,
                         .spot_hi = NAN,
                         .above = 34,
                         .below = 14,
                         .rh_lo = 45,
                         .rh_hi = 65,
                         .mist = { 2, 4 },
                         .feed = { { 1, 2 }, { 2, 3 }, { 3, 4 }, { 3, 4 }, { 4, 6 }, { 1, 2 } },
                         .touch = { 1, 2, 3, 5 },
                         .food = { { 1, 1 }, { 1, 2 }, { 2, 2 }, { 3, 3 } },
                         .incubation = { 28, 70 },
                         .young = { 80, 300 } },
  [CORE_GROUP_HUMID] = { .day_lo = 24,
                         .day_hi = 29,
                         .night_lo = 19,
                         .night_hi = 22,
                         .spot_lo = NAN,
                         .spot_hi = NAN,
                         .above = 32,
                         .below = 17,
                         .rh_lo = 60,
                         .rh_hi = 80,
                         .mist = { 1, 2 },
                         .feed = { { 1, 2 }, { 2, 3 }, { 2, 3 }, { 2, 3 }, { 3, 4 }, { 1, 2 } },
                         .touch = { 1, 3, 4, 7 },
                         .food = { { 1, 1 }, { 2, 2 }, { 2, 2 }, { 3, 4 } },
                         .incubation = { 28, 56 },
                         .young = { 20, 100 },
                         .damp = true },
  [CORE_GROUP_DRY_HOT] = { .day_lo = 26,
                           .day_hi = 30,
                           .night_lo = 18,
                           .night_hi = 22,
                           .spot_lo = 32,
                           .spot_hi = 38,
                           .above = 40,
                           .below = 12,
                           .rh_lo = 30,
                           .rh_hi = 50,
                           .mist = { 3, 7 },
                           .feed = { { 1, 2 }, { 1, 2 }, { 2, 3 }, { 2, 3 }, { 2, 3 }, { 1, 2 } },
                           .touch = { 1, 2, 4, 7 },
                           .food = { { 1, 1 }, { 1, 1 }, { 2, 2 }, { 3, 3 } },
                           .incubation = { 28, 42 },
                           .young = { 30, 60 },
                           .dry = true,
                           .flying = true },
  [CORE_GROUP_IDOLOMANTIS] = { .day_lo = 27,
                               .day_hi = 32,
                               .night_lo = 18,
                               .night_hi = 22,
                               .spot_lo = 34,
                               .spot_hi = 36,
                               .above = 38,
                               .below = 15,
                               .rh_lo = 40,
                               .rh_hi = 60,
                               .mist = { 1, 2 },
                               .feed = { { 1, 2 },
                                         { 1, 2 },
                                         { 2, 3 },
                                         { 2, 3 },
                                         { 2, 3 },
                                         { 1, 2 } },
                               .touch = { 2, 3, 5, 7 },
                               .food = { { 1, 1 }, { 2, 2 }, { 2, 2 }, { 4, 4 } },
                               .incubation = { 35, 56 },
                               .young = { 30, 60 },
                               .flying = true },
};

static CoreTagged
tagged (double v, CoreTag tag)
{
  return (CoreTagged){ .v = v, .tag = tag, .source = -1 };
}

static CoreTagged
practice (double v)
{
  return tagged (v, CORE_TAG_PRACTICE);
}

static CoreSpan
span (Range r)
{
  return (CoreSpan){ .a = practice (r.a), .b = practice (r.b) };
}

/* models §2: ours. Hot empusids have their own. */
static void
clock_defaults (CoreProfile *self, CoreGroup group)
{
  bool hot = group == CORE_GROUP_DRY_HOT || group == CORE_GROUP_IDOLOMANTIS;

  self->clock.t0 = tagged (12, CORE_TAG_OURS);
  self->clock.topt = tagged (hot ? 33 : 28, CORE_TAG_OURS);
  self->clock.tflat = tagged (hot ? 36 : 30, CORE_TAG_OURS);
  self->clock.tmax = tagged (hot ? 44 : 38, CORE_TAG_OURS);
}

/* Prey to keep from a group that takes only what flies: all that does not. */
static unsigned
not_flying (void)
{
  return 1u << CORE_PREY_CRICKET | 1u << CORE_PREY_ROACH | 1u << CORE_PREY_LOCUST |
         1u << CORE_PREY_MEALWORM | 1u << CORE_PREY_WAXWORM;
}

void
core_profile_group_defaults (CoreProfile *self, CoreGroup group)
{
  const GroupRow *row;

  if ((unsigned) group >= CORE_N_GROUPS)
    group = CORE_GROUP_HARDY;
  row = &groups[group];
  self->group = group;
  clock_defaults (self, group);
  self->damp_substrate = row->damp;
  self->dry_kind = row->dry;
  self->flying_prey_only = row->flying;
  self->avoid_prey = row->flying ? not_flying () : 0;
  self->empusid = group == CORE_GROUP_DRY_HOT || group == CORE_GROUP_IDOLOMANTIS;
  self->mist = span (row->mist);
  self->incubation = span (row->incubation);
  self->young = span (row->young);
  for (size_t i = 0; i < CORE_N_CARE; i++)
    self->feed[i] = span (row->feed[i]);
  for (size_t i = 0; i < CORE_N_HARD; i++)
    {
      self->touch_days[i] = practice (row->touch[i]);
      self->food_days[i] = span (row->food[i]);
    }
  self->day_lo = practice (row->day_lo);
  self->day_hi = practice (row->day_hi);
  self->night_lo = practice (row->night_lo);
  self->night_hi = practice (row->night_hi);
  self->spot_lo = practice (row->spot_lo);
  self->spot_hi = practice (row->spot_hi);
  self->look_above = practice (row->above);
  self->look_below = practice (row->below);
  self->rh_lo = practice (row->rh_lo);
  self->rh_hi = practice (row->rh_hi);
}

/* P(N | sex) where nothing is known: six to eight with males one or two fewer is
 * common practice; the weights are ours. */
static void
general_moults (CoreProfile *self)
{
  static const double male[] = { .15, .40, .35, .10 };   /* N = 5 … 8 */
  static const double female[] = { .20, .40, .30, .10 }; /* N = 6 … 9 */

  memset (self->n_moults, 0, sizeof self->n_moults);
  for (size_t i = 0; i < 4; i++)
    {
      self->n_moults[0][5 + i] = male[i];
      self->n_moults[1][6 + i] = female[i];
    }
  self->n_moults_tag = CORE_TAG_OURS;
}

void
core_profile_init (CoreProfile *self)
{
  memset (self, 0, sizeof *self);
  strcpy (self->id, "general");
  self->general = true;
  core_profile_group_defaults (self, CORE_GROUP_HARDY);
  for (size_t m = 0; m < CORE_MAX_MOULTS; m++)
    self->stage_days[m] = practice (NAN);
  for (size_t i = 0; i < 2; i++)
    {
      self->last_days[i] = practice (NAN);
      self->adult_mm[i] = practice (NAN);
    }
  self->male_factor = 1;
  self->male_prior = .5;
  general_moults (self);
  self->sd_rho = .18; /* models §3, ours */
  self->sd_lambda = .10;
  self->sd_eta = .10;
  self->sd_eps = .19;
  self->hatchling_mm = practice (NAN);
  self->ratio_body = 1.28; /* Faber 1994: 1.29; Przibram: 1.26 */
  self->ratio_head = 1.20;
  self->readable_from = 3;
  self->readable_tag = CORE_TAG_OURS;
  for (size_t i = 0; i < 2; i++)
    {
      self->plates[i] = practice (i == 0 ? 8 : 6);
      self->appendages[i] = practice (NAN);
    }
  self->tp_mean[0] = 2.55; /* models §6, few animals */
  self->tp_sd[0] = .20;
  self->tp_mean[1] = 2.0;
  self->tp_sd[1] = .25;
  self->clean = span ((Range){ 7, 9 });
  self->subadult_fast_days = 10;
  self->split_moults = 2; /* ours: before they take prey of their own size */
  self->prey_nymph = .5;
  self->prey_adult = 1;
  /* Keepers disagree (7–14 days, 2–3 weeks, 4–5 weeks): a window. Common practice, no source. */
  self->receptive[0] = span ((Range){ 10, 40 });
  self->receptive[1] = span ((Range){ 14, 35 });
  /* males 1–3, females 3–8 months as adults: common practice, no source */
  self->adult_life[0] = span ((Range){ 30, 90 });
  self->adult_life[1] = span ((Range){ 90, 240 });
}

void
core_profile_clear (CoreProfile *self)
{
  for (size_t i = 0; i < CORE_MAX_SOURCES; i++)
    free (self->sources[i]);
  memset (self, 0, sizeof *self);
}

static bool
days_known (double v)
{
  return isfinite (v) && v > 0;
}

/* How much slower than the ladder this species is where it has figures. */
static double
ladder_scale (const CoreProfile *self)
{
  double sum = 0;
  int n = 0;

  for (size_t m = 0; m < CORE_MAX_MOULTS; m++)
    if (days_known (self->stage_days[m].v))
      {
        sum += log (self->stage_days[m].v / ladder[m]);
        n++;
      }
  for (size_t i = 0; i < 2; i++)
    if (days_known (self->last_days[i].v))
      {
        sum += log (self->last_days[i].v / ladder_last[i]);
        n++;
      }
  return n > 0 ? exp (sum / n) : 1;
}

/* Ours. Reports of keepers of one kind lie up to 30 % either way apart, evenly, which is a log-sd of
 * .17; some of that is the pace of their rooms (sd_rho). The general ladder stands for kinds that differ:
 * those shipped lie by .26 from it (root of the mean square). */
static const double sd_medians = .15, sd_medians_general = .26;

double
core_profile_sd_medians (const CoreProfile *self)
{
  return self->general ? sd_medians_general : sd_medians;
}

double
core_profile_stage_days (const CoreProfile *self, int m, int n, CoreSex sex, double *sd_extra)
{
  double factor = sex == CORE_SEX_MALE && days_known (self->male_factor) ? self->male_factor : 1;
  double own, lent;

  m = m < 0 ? 0 : m;
  if (n - m <= 2)
    {
      size_t i = n - m <= 1 ? 1 : 0;
      own = self->last_days[i].v;
      lent = ladder_last[i];
    }
  else
    {
      size_t i = m < CORE_MAX_MOULTS ? (size_t) m : CORE_MAX_MOULTS - 1;
      own = self->stage_days[i].v;
      lent = ladder[i];
    }
  if (sd_extra)
    *sd_extra = days_known (own) ? 0 : ladder_sd;
  return factor * (days_known (own) ? own : lent * ladder_scale (self));
}
