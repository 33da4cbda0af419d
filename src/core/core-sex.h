/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-sex.h — from what was seen to a verdict with its doubt.
 *
 * Log-odds are natural, positive = male. Combination, caps and words by the
 * models, section 6. The forecast never feeds sex.
 */
#pragma once

#include "core/core-profile.h"
#include "core/core-state.h"

/* No mantis shows fewer or more belly plates; the small plate at the hind legs is none of them
 * (common practice, no source). */
#define CORE_PLATES_FEWEST 6
#define CORE_PLATES_MOST 8
/* Below it a sex is undecided; models: the words for sex. */
#define CORE_SEX_LIKELY .90

typedef enum
{
  CORE_VERDICT_UNDECIDED,
  CORE_VERDICT_LIKELY_MALE,
  CORE_VERDICT_LIKELY_FEMALE,
  CORE_VERDICT_FIRM_MALE,
  CORE_VERDICT_FIRM_FEMALE
} CoreVerdictWord;

typedef enum
{
  CORE_EVIDENCE_COUNT,
  CORE_EVIDENCE_LAST_PLATE,
  CORE_EVIDENCE_WINGS,   /* tegmen tip against the abdomen tip */
  CORE_EVIDENCE_TEGMEN,  /* tegmen ÷ pronotum */
  CORE_EVIDENCE_CUE,
  CORE_EVIDENCE_BUILD,
  CORE_EVIDENCE_DESCENT,
  CORE_EVIDENCE_CLAIM,
  CORE_EVIDENCE_LAID,
  CORE_EVIDENCE_JOINED,
  CORE_EVIDENCE_UNSAID,  /* a sex without a word on how it was read */
  CORE_N_EVIDENCE
} CoreEvidenceKind;

/* Why a piece says nothing, or less than it could. */
typedef enum
{
  CORE_WEIGHT_FULL,
  CORE_WEIGHT_TOO_EARLY,     /* below readable_from: 1:1 */
  CORE_WEIGHT_CAPPED,        /* one photo gives at most 32:1 */
  CORE_WEIGHT_HALVED,        /* earlier stage, or the less sharp of one photo */
  CORE_WEIGHT_SAME_KIND,     /* other readings of this kind and stage share its weight */
  CORE_WEIGHT_UNCLEAR,
  CORE_WEIGHT_SPANS,         /* the interval spans the cut */
  CORE_WEIGHT_WRONG_SIDE,    /* a picture of the back */
  CORE_WEIGHT_UNCONFIRMED,   /* the finder's proposal, not confirmed */
  CORE_WEIGHT_NOT_THIS_KIND, /* descent: no kind that is known to breed without males, or a male;
                              * cue: none of the kind; count: appendages of a kind without them */
  CORE_WEIGHT_NO_METHOD,     /* not said how it was read: 1:1 */
  CORE_WEIGHT_OF_OTHER,      /* perhaps read of another animal: not counted */
  CORE_WEIGHT_MARKS_OPEN,    /* along marks of the program's that nobody called right: less */
  CORE_WEIGHT_ODD_COUNT      /* no mantis shows so many plates: half */
} CoreWeightNote;

/* What would settle it: bits of ask. */
enum
{
  CORE_ASK_SMALL_PLATE = 1u << 0,
  CORE_ASK_CONVENTION = 1u << 1,
  CORE_ASK_LAST_PLATE = 1u << 2,
  CORE_ASK_NEXT_STAGE = 1u << 3,
  CORE_ASK_ANTENNAE = 1u << 4,
  CORE_ASK_WINGS = 1u << 5,
  CORE_ASK_SECOND_KIND = 1u << 6,
  CORE_ASK_STAGE = 1u << 7,
  CORE_ASK_CONFIRM = 1u << 8,
  CORE_ASK_LOOK_AGAIN = 1u << 9, /* what was read may be another animal's */
  CORE_ASK_MARKS = 1u << 10      /* whether base and tip lie right */
};

typedef struct
{
  CoreEvidenceKind kind;
  CoreId photo;
  CoreId entry;
  int moults;          /* stage read, -1 unknown */
  double log_odds;     /* as read, before combination */
  double counted;      /* what entered the sum */
  CoreWeightNote note;
  double value;        /* COUNT: plates as named, 0 = sexed by count without a number, -1 = the
                        * finder's proposal; LAST_PLATE: CORE_LAST_*; WINGS, TEGMEN: the ratio */
  double value2;       /* COUNT: CORE_SMALL_*; WINGS, TEGMEN: sd of the ratio, NAN = not given */
  char cue[32];
  CoreSex says;        /* sign of log_odds; UNKNOWN for 0 */
} CoreEvidence;

typedef struct
{
  double male, female;      /* sum to 1 */
  CoreVerdictWord verdict;
  bool provisional;         /* not firm */
  bool too_early;           /* only readings below readable_from */
  bool conflict;            /* evidence points both ways, or settled twice */
  unsigned ask;
  size_t n;
  CoreEvidence *evidence;   /* owned */
} CoreSexVerdict;

/* One reading with the stage it belongs to as a distribution over moults. */
typedef struct
{
  CoreSexReading reading;
  double moults_p[CORE_MAX_MOULTS + 1]; /* all 0 = unknown */
  bool adult;
  bool from_call;       /* the `sex` verb: wings, cue, build count as other views */
} CoreSexInput;

/* A reading that says nothing yet. For the `sex` call: one MARKED input holds
 * plates, likelihood, last plate, wings and cue (by_keeper = true where a count
 * was given); build, descent and claim are SEXED inputs with their method; all
 * of them with from_call and the same stage. */
void core_sex_input_init (CoreSexInput *self, CoreKind from);
/* The stage is known for sure; below 0 = unknown. */
void core_sex_input_moults (CoreSexInput *self, int moults);

/* `out` need not be initialised; on anything but CORE_OK it is left cleared. */
CoreStatus core_sex_combine (const CoreProfile *profile, const CoreSexInput *inputs, size_t n,
                             CoreSexVerdict *out);
/* The readings of a state, with their stages; combine of those. */
CoreStatus core_sex_of_state (const CoreProfile *profile, const CoreState *state,
                              CoreSexVerdict *out);
void core_sex_verdict_clear (CoreSexVerdict *self);
/* A cue that the profile has, or one of those that any species may show. */
bool core_sex_cue_known (const CoreProfile *profile, const char *name);
/* Belly appendages are counted in empusids alone; a kind that is not known may be one. */
bool core_sex_convention_fits (const CoreProfile *profile, int convention);
/* The i-th of those that any species may show; NULL after the last. */
const char *core_sex_cue_name (size_t i);

/* models §7. Points along one axis, pixels; sd of one mark in pixels (default 2 px or 1 % of
 * the axis, the larger). ratio 1 = wing tip level with the abdomen tip. */
typedef struct { double x, y; } CorePoint;
bool core_wing_ratio (CorePoint wing_base, CorePoint wing_tip, CorePoint abdomen_tip,
                      double mark_sd, bool oblique, double *ratio, double *sd);
bool core_tegmen_pronotum (CorePoint wing_base, CorePoint wing_tip, CorePoint pronotum_front,
                           CorePoint pronotum_back, double mark_sd, double *ratio, double *sd);
