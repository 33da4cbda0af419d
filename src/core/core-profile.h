/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-profile.h — what is known of a species: numbers, each with where it came from.
 *
 * Read from data/profiles/NAME.profile (see DEVELOPERS.md) by exchange; core only
 * knows the struct. Stages are moults since hatch. Days are at 25 °C.
 */
#pragma once

#include "core/core-types.h"

typedef enum
{
  CORE_TAG_OURS,     /* a judgement made for this program */
  CORE_TAG_PRACTICE, /* common practice, no source */
  CORE_TAG_MEASURED, /* with a source in sources[] */
  CORE_TAG_OWN       /* the keeper's own, in a copy */
} CoreTag;

typedef enum
{
  CORE_GROUP_HARDY,
  CORE_GROUP_HUMID,
  CORE_GROUP_DRY_HOT,
  CORE_GROUP_IDOLOMANTIS,
  CORE_N_GROUPS
} CoreGroup;

typedef struct
{
  double v;
  CoreTag tag;
  int source; /* index into sources, -1 = none */
} CoreTagged;

/* "every a–b days": earliest and due a, latest b. */
typedef struct
{
  CoreTagged a, b;
} CoreSpan;

/* Rows of the tables that go by stage: m 0–1, 2–3, 4 to sub-adult, adult F, adult M, gravid. */
typedef enum
{
  CORE_CARE_M01,
  CORE_CARE_M23,
  CORE_CARE_M4,
  CORE_CARE_ADULT_F,
  CORE_CARE_ADULT_M,
  CORE_CARE_GRAVID,
  CORE_N_CARE
} CoreCareRow;

/* Rows of the holds after a moult, by the stage reached. */
typedef enum
{
  CORE_HARD_M3,       /* m <= 3 */
  CORE_HARD_M4,       /* m >= 4 */
  CORE_HARD_SUBADULT,
  CORE_HARD_ADULT,
  CORE_N_HARD
} CoreHardRow;

/* Development clock: see core-clock.h. All °C. */
typedef struct
{
  CoreTagged t0, topt, tflat, tmax;
} CoreClockParams;

typedef struct
{
  char name[32];         /* "crown", "shield", "collar", "brow", "antennae" */
  CoreSex sex;           /* what the cue says when present; UNKNOWN: the reading names it */
  double odds;           /* e.g. 4 */
  int from_moults;       /* readable from, in moults since hatch */
  bool adult_only;
} CoreSexCue;

#define CORE_MAX_CUES 6
#define CORE_MAX_SOURCES 24

typedef struct
{
  char id[48];           /* file stem: "hierodula-membranacea" */
  char scientific[80];
  char common[80];       /* English trade name: "giant Asian mantis" */
  char common_de[80];
  bool general;          /* stands in for an unknown species */
  CoreGroup group;
  bool empusid;
  bool parthenogenetic;
  bool communal;
  bool flying_prey_only;
  unsigned avoid_prey;   /* bits 1u << CORE_PREY_* */
  bool damp_substrate;
  bool dry_kind;         /* misting before a moult: one light spray */
  double male_prior;     /* .5 unless the profile says */

  CoreClockParams clock;

  /* Median days in stage m at 25 °C, keyed from the hatch; NAN = borrow. */
  CoreTagged stage_days[CORE_MAX_MOULTS];
  /* The last two nymphal stages, keyed from the end: [0] = before sub-adult, [1] = sub-adult. */
  CoreTagged last_days[2];
  double male_factor;    /* multiplies stage days for a male (1 = same) */
  /* P(N moults to adult | sex); index N; [0] male, [1] female; each sums to 1. */
  double n_moults[2][CORE_MAX_MOULTS + 1];
  CoreTag n_moults_tag;
  double sd_rho, sd_lambda, sd_eta, sd_eps; /* log scale */

  CoreTagged adult_mm[2];      /* body length, [0] male, [1] female */
  CoreTagged hatchling_mm;
  double ratio_body, ratio_head;

  int readable_from;           /* plates, moults since hatch */
  CoreTag readable_tag;
  /* The usual count as seen from below, without the small plate at the hind legs; of empusids also
   * by appendages, NAN = not counted so. [0] male, [1] female. */
  CoreTagged plates[2], appendages[2];
  bool count_doubtful;         /* sources disagree: no count alone beyond likely */
  double tp_mean[2], tp_sd[2]; /* tegmen ÷ pronotum, [0] male, [1] female */
  size_t n_cues;
  CoreSexCue cues[CORE_MAX_CUES];

  CoreSpan feed[CORE_N_CARE];
  CoreSpan mist;
  CoreSpan clean;
  CoreTagged touch_days[CORE_N_HARD]; /* no touching after a moult */
  CoreSpan food_days[CORE_N_HARD];    /* no food after a moult */
  double subadult_fast_days;          /* longest hold on food for refusals, sub-adult: 10 or 14 */
  int split_moults;                   /* separate lot-mates from; -1 = no need */
  double prey_nymph, prey_adult;      /* too large over this × median body length */

  CoreTagged day_lo, day_hi, night_lo, night_hi; /* cup, °C */
  CoreTagged spot_lo, spot_hi;                   /* warm spot, NAN = none */
  CoreTagged look_above, look_below;             /* look at once */
  CoreTagged rh_lo, rh_hi;

  CoreSpan incubation;         /* an egg case, days from laying to hatch kept at 27 °C */
  CoreSpan young;              /* hatchlings of one egg case */
  bool guards_eggs;            /* the female stays with it: it is never taken from her */
  bool eggs_rest;              /* eggs may rest through a cold winter */

  CoreSpan receptive[2];       /* days after the adult moult, [0] male, [1] female */
  CoreSpan adult_life[2];      /* days as adult, [0] male, [1] female */
  bool winter_rest;

  size_t n_sources;
  char *sources[CORE_MAX_SOURCES]; /* owned */
  unsigned n_ours, n_practice, n_measured, n_own; /* counts of tags in the file */
  char hash[65];               /* SHA-256 of the file, hex */
} CoreProfile;

void core_profile_init (CoreProfile *self);  /* the general defaults of the models */
void core_profile_group_defaults (CoreProfile *self, CoreGroup group); /* care table of a group */
void core_profile_clear (CoreProfile *self);
/* Median days of stage m at 25 °C for an animal whose total is n moults, by its sex; always > 0.
 * *sd_extra is added in quadrature where the general ladder had to lend. */
double core_profile_stage_days (const CoreProfile *self, int m, int n, CoreSex sex, double *sd_extra);
/* Log-sd by which all medians of a profile may be off for its kind, whatever room it is in. */
double core_profile_sd_medians (const CoreProfile *self);
