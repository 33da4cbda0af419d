/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-state.h — what the live entries of one subject add up to.
 *
 * A state is the fold of the entries and nothing else: it knows no profile, no
 * clock, no other subject. It is thrown away and made again at will.
 */
#pragma once

#include "core/core-entry.h"

/* A small growing array; `v` is owned by the state. */
#define CORE_ARRAY(T) struct { T *v; size_t n; size_t cap; }

typedef enum
{
  CORE_BASIS_UNKNOWN,   /* nothing is known of the stage */
  CORE_BASIS_ESTIMATED, /* a claim, a guess, or a moult may be missing */
  CORE_BASIS_COUNTED    /* every moult since the hatch is an entry */
} CoreBasis;

typedef enum
{
  CORE_START_HATCHED,
  CORE_START_MOULTED,
  CORE_START_ACQUIRED /* came in the middle of a stage: start unknown */
} CoreStartKind;

/* One stage of the animal. The window is the open-closed interval (lo, hi] in
 * evenings: it began after the evening `lo` and by the evening `hi`. Only the
 * first stage of the array can be HATCHED or ACQUIRED; ACQUIRED means that it was
 * in this stage on the evening `hi` already, and `lo` is -INFINITY or the hatch. */
typedef struct
{
  CoreStartKind start;
  double lo, hi;       /* lo < hi; -INFINITY = no bound */
  bool earliest_given; /* `lo` comes from the keeper's "earliest", not from a look */
  int outcome;         /* CORE_MOULT_*; -1 for no moult, or not said yet */
  bool seen_happening; /* seen=yes */
  bool of_lot;         /* entered for a whole lot: this one may have been a moult behind */
  CoreDay found;       /* the day of the entry */
  CoreSeenStage seen;  /* what the keeper saw it to be in this stage */
  CoreDay seen_day;
  CoreId seen_entry;
  CoreId entry;
} CoreStage;

typedef struct
{
  CoreDay day;
  double t;      /* evening = day; with a clock time day - 1 + minute / 1440 */
  CoreId entry;
} CoreLook;

typedef struct
{
  CoreDay day;
  int prey;     /* CORE_PREY_* or -1 */
  int n;        /* 0 = not said */
  int outcome;  /* CORE_FED_* */
  bool gone;    /* offered, and gone at the next look: probably taken */
  bool bulk;
  CoreId entry;
} CoreMeal;

typedef struct
{
  int sign;        /* CORE_SIGN_* */
  CoreDay first;   /* first day in this stage (for refuses: of the present run) */
  CoreDay last;
  double prev_look;/* evening of the look before `first`, or -INFINITY */
  int times;       /* refusals of the run, or entries */
  CoreId entry;
} CoreSignSeen;

typedef struct
{
  CoreDay day;
  CoreId place;
  double at;        /* position on the shelf, NAN = not said */
  double height_mm, width_mm, depth_mm; /* of the cup; NAN = not said */
  CoreId entry;
} CoreStay;

typedef struct
{
  CoreDay day;
  int what;       /* 0 body, 1 head, 2 pronotum, 3 abdomen, 4 tegmen */
  double mm, sd;  /* sd NAN = not said */
  int stage;      /* index into stages at that day, -1 = none */
  CoreId entry;
} CoreMeasure;

#define CORE_BELLY_KNOWN_DAYS 3 /* a belly score is known for so long */

/* One row of evidence about the sex, as entered; core-sex weighs it. */
typedef struct
{
  CoreKind from;       /* MARKED, SEXED, LAID, ACQUIRED/SET (a claim) */
  CoreDay day;
  int stage;           /* index into stages of the animal (or the shed skin), -1 = unknown */
  bool of_shed;
  bool of_other;       /* read while nobody knew which animal it was: says nothing */
  int side;            /* CORE_SIDE_*, -1 = not said */
  int count;           /* plates; -1 = none */
  bool by_keeper;      /* count confirmed by the keeper */
  bool axis_by_program; /* base and tip as the program placed them, and nobody said that they lie right */
  double likelihood[11]; /* finder's, index = count 4…10 used; all 0 = none */
  double likelihood_none;
  int small_plate;     /* CORE_SMALL_* */
  int convention;      /* CORE_CONVENTION_* */
  int last_plate;      /* CORE_LAST_*; -1 = not said */
  double wing_ratio, wing_sd;               /* NAN = none */
  double tegmen_pronotum, tegmen_pronotum_sd;
  char cue[32];        /* name of the cue or "" */
  CoreSex cue_sex;
  int method;          /* SEXED: CORE_METHOD_*, -1 = not said */
  CoreSex sex;         /* SEXED: what was read */
  bool best;
  CoreId photo;
  CoreId entry;
} CoreSexReading;

typedef struct
{
  CoreDay day;
  CoreId photo;       /* id of the photo entry, of the first one where that was replaced */
  char hash[65];
  CoreDay taken;      /* or CORE_DAY_NONE */
  int stage;          /* index, -1 unknown */
  bool of_shed;
  CoreId entry;
} CorePhotoRef;

typedef struct
{
  char rule[24];
  CoreDay day;
  CoreDay until; /* PUT_OFF; CORE_DAY_NONE for DONE */
  CoreId entry;
} CoreRuleMark;

typedef struct
{
  int what;       /* CORE_TROUBLE_* */
  CoreDay day;
  CoreId entry;
} CoreTroubleSeen;

typedef struct
{
  CoreDay day;
  int minute;        /* -1 = not said */
  double t, rh;      /* °C, percent; NAN = not said */
  bool inside;
  bool typed;        /* not of a logger */
  CoreId entry;
} CoreReadingAt;

typedef enum
{
  CORE_CONFLICT_BEFORE_HATCH,
  CORE_CONFLICT_AFTER_END,
  CORE_CONFLICT_TWO_HATCHES,
  CORE_CONFLICT_ADULT_MOULTED,
  CORE_CONFLICT_TWO_REPLACEMENTS,
  CORE_CONFLICT_NAMES_MISSING,   /* void or replacement of an entry that is not there */
  CORE_CONFLICT_SEX_SETTLED_TWICE,
  CORE_CONFLICT_NUMBER_TAKEN,
  CORE_CONFLICT_TALLY,           /* more taken out of a lot than were counted into it */
  CORE_CONFLICT_CODE_TAKEN,
  CORE_CONFLICT_TWO_LAYINGS,     /* an egg case laid twice; the first in order counts */
  CORE_CONFLICT_BEFORE_LAID,
  CORE_CONFLICT_ADULT_YOUNGER,   /* seen as nymph or sub-adult after it was adult */
  CORE_CONFLICT_MEASURES,        /* two lengths of one stage that cannot both be right */
  CORE_CONFLICT_FEW_MOULTS,      /* adult after fewer moults than any mantis needs */
  CORE_CONFLICT_TWO_MARKS,       /* two live marks of one photo; the later counts */
  CORE_CONFLICT_FUTURE,          /* entries of days to come, which do not count yet */
  CORE_CONFLICT_NAME_TAKEN,      /* two places of one name */
  CORE_CONFLICT_TWO_READINGS,    /* two readings of one minute differ; both count */
  CORE_CONFLICT_YOUNG,           /* a stage said to be reached in fewer days than so many moults take */
  CORE_CONFLICT_SUBADULT_MOULTED, /* seen as sub-adult, and not adult after its next moult */
  CORE_CONFLICT_TWO_MOULTS,      /* so near to each other that it is one, entered twice: `other` counts */
  CORE_CONFLICT_NAMELESS,        /* all that it was called is taken back, and `entry` speaks of it */
  CORE_CONFLICT_CORRECTED_AND_VOIDED /* `entry` corrects what `other` takes back; the correction counts */
} CoreConflictKind;

typedef struct
{
  CoreConflictKind kind;
  CoreId entry;
  CoreId other;
} CoreConflict;

typedef enum
{
  CORE_END_NONE,
  CORE_END_DIED,
  CORE_END_LEFT,
  CORE_END_ESCAPED,
  CORE_END_EMPTY,   /* a counted lot with none left in it */
  CORE_END_JOINED,  /* a lot that went into another */
  CORE_END_HATCHED, /* an egg case of which no more is awaited */
  CORE_END_DUD
} CoreEnd;

/* How many a lot holds. The books balance at every moment:
 * began + joined_in + found_more + missing = count + dead + left + escaped + lost_unseen +
 * separated + split_off. */
typedef struct
{
  bool known;          /* a count was entered */
  bool counted;        /* counted, and all since then by number; else it is "about" */
  bool lost_about;     /* lost_unseen and found_more rest on an estimate */
  int64_t count;       /* living in it now; never negative, 0 while unknown */
  int64_t began;       /* the first count, with those that were gone before it */
  bool began_about;    /* which was an estimate */
  bool began_derived;  /* it was of a later day than the beginning: as many as that at least */
  CoreDay first_count; /* of the first count, CORE_DAY_NONE = never */
  int64_t dead;
  int64_t left;        /* sold, given, lent; less those that came back */
  int64_t escaped;     /* less those found again */
  int64_t lost_unseen; /* missed at a recount: neither seen dead nor an error */
  int64_t found_more;  /* more at a recount than there should have been */
  int64_t separated;   /* into cups of their own */
  int64_t split_off;   /* into other lots */
  int64_t joined_in;   /* from other lots */
  int64_t missing;     /* taken out beyond a count: each a conflict */
  int64_t gone;        /* how many there were when all of it left or escaped */
  CoreDay count_day;   /* of the last count, CORE_DAY_NONE = never */
  CoreId count_entry;
} CoreTally;

/* Some of a lot that moulted before the others, since its last moult as a whole. */
typedef struct
{
  int64_t n;   /* how many in all; 0 = none */
  int64_t out; /* taken out of the lot since the first of them: perhaps of these */
  CoreDay first, day; /* of the first and the last of them, CORE_DAY_NONE = none */
  CoreId entry;       /* the last */
} CoreAhead;

/* The tally after one entry, in the order of the fold. */
typedef struct
{
  CoreDay day;
  CoreKind kind;
  bool known, counted; /* after it */
  bool about;          /* a recount against, or by, an estimate */
  int64_t change;      /* of the count; of a recount: found more, or lost (negative) */
  int64_t count;       /* after it */
  CoreId entry;
} CoreTallyStep;

typedef struct
{
  CoreDay day, earliest; /* earliest CORE_DAY_NONE = not said */
  int64_t n;             /* -1 = not said */
  bool counted;
  CoreId entry;
} CoreHatching;

typedef struct
{
  CoreDay laid_earliest, laid_day; /* or CORE_DAY_NONE */
  CoreId laid_entry;
  CoreDay hardened;                /* or CORE_DAY_NONE */
  CoreId hardened_entry;
  CORE_ARRAY (CoreHatching) hatchings; /* oldest first */
  int64_t hatched;                 /* sum of those that say a number */
  bool hatched_about;              /* one of them is an estimate, or says none */
  int64_t in_lots;                 /* how many of them were put into lots */
} CoreEggState;

/* A female laid an egg case. */
typedef struct
{
  CoreDay day, earliest;
  int series;     /* its number among hers: as said, else the next */
  CoreId eggcase; /* none = not kept */
  CoreId entry;
} CoreLaying;

typedef struct
{
  int prey;        /* CORE_PREY_*, -1 = not said */
  CoreDay started; /* or CORE_DAY_NONE */
  CoreId entry;
} CoreCultureState;

/* Values set by `set key= value=`, verbatim; the last live one wins. */
typedef struct
{
  char key[24];
  char *value; /* owned */
  CoreDay day;
  CoreId entry;
} CoreSetting;

typedef struct
{
  CoreId within;
  double day_c, night_c, light_h;          /* NAN = not said */
  double height_mm, width_mm, depth_mm;    /* NAN = not said */
  char heater[24], substrate[24];
  CORE_ARRAY (CoreReadingAt) readings;     /* by (day, minute) */
  CoreDay power_cut;                       /* last one, or CORE_DAY_NONE */
  double power_lowest;                     /* °C in it, NAN = not said */
  CoreId power_entry;
} CorePlaceState;

typedef struct
{
  CoreId subject;
  CoreSubjectKind kind;
  bool exists;         /* any live entry */

  /* What it is called */
  char number[12];     /* "14", "14a", "" */
  char code[24];
  char name[80];
  char species[80];    /* scientific name as set, "" = unknown */
  CoreId lot;
  CoreDay lot_since;   /* the day it became one of its own, CORE_DAY_NONE = not of a lot */
  CoreId lot_round;    /* the round of that: what it took over from its lot is in it too */

  /* Beginnings and ends */
  CoreDay last_day;    /* of any live entry that is no setting; CORE_DAY_NONE = none */
  CoreId last_entry;
  CoreDay first_day;   /* of any live entry, not before the hatch; CORE_DAY_NONE = none */
  bool hatched;        /* a hatch is known */
  CoreDay hatched_earliest, hatched_day; /* or CORE_DAY_NONE */
  CoreId hatched_entry;
  CoreDay acquired;    /* or CORE_DAY_NONE: bred here, or nobody knows when it came */
  bool arrived;        /* it came from elsewhere, also on a day that nobody knows */
  CoreDay alive_last;  /* last day of an entry of its own that needs it alive, or CORE_DAY_NONE */
  CoreDay here_day;    /* it was here on that day already, nobody knows since when; or CORE_DAY_NONE */
  bool moved_in;       /* acquired with a collection that was kept here before */
  char claim_stage[16];/* the seller's words, verbatim, and its scheme */
  int claim_scheme;    /* 1 or 2 (L-number of the hatchling); 0 = none */
  CoreEnd end;
  CoreDay end_day;
  CoreId end_entry;
  bool lent;
  CoreDay looks_dead;  /* or CORE_DAY_NONE */
  CoreDay called;      /* last seen in its calling posture, or CORE_DAY_NONE */
  CoreId called_entry;
  CoreDay doubtful_since; /* which animal this is; CORE_DAY_NONE = no doubt */
  CoreId doubtful_entry;

  /* Stage */
  CORE_ARRAY (CoreStage) stages; /* oldest first; the last is in progress */
  CORE_ARRAY (CoreDay) moult_days; /* of every moult entered, also of chains given up */
  CoreBasis basis;
  double moults_p[CORE_MAX_MOULTS + 1]; /* sums to 1, or all 0 when unknown */
  int moults;                           /* its mode, -1 unknown */
  double moults_sd;
  bool subadult;       /* seen as such in the present stage */
  bool probably_adult; /* moulted out of a stage seen as sub-adult, nothing seen of it since */
  bool adult;
  bool adult_claimed;  /* by the seller's words alone: what is seen later outdoes them */
  CoreDay adult_seen;  /* first day seen as adult */
  CoreId adult_entry;

  /* Looks, meals, signs, body */
  CORE_ARRAY (CoreLook) looks;   /* one a day, oldest first */
  CORE_ARRAY (CoreMeal) meals;   /* oldest first */
  CoreDay last_offered, last_taken;      /* CORE_DAY_NONE = never entered */
  CoreId last_offered_entry, last_taken_entry;
  int refusals_since_taken;
  CORE_ARRAY (CoreSignSeen) signs;       /* of the present stage */
  int belly;           /* 1…5, 0 = never scored in this life */
  CoreDay belly_day;
  CoreId belly_entry;
  CORE_ARRAY (CoreMeasure) measures;
  CORE_ARRAY (CoreTroubleSeen) troubles; /* oldest first */

  /* Home and care */
  CORE_ARRAY (CoreStay) stays;   /* oldest first; the last is where it stands */
  CoreDay misted, watered, cleaned, drank;
  bool drank_eagerly;
  CoreId misted_entry, watered_entry, cleaned_entry, drank_entry;
  CORE_ARRAY (CoreRuleMark) done;
  CORE_ARRAY (CoreRuleMark) put_off;

  CORE_ARRAY (CoreSexReading) sex;
  CORE_ARRAY (CorePhotoRef) photos;
  CORE_ARRAY (CoreSetting) settings;
  CORE_ARRAY (CoreConflict) conflicts;

  CORE_ARRAY (CoreLaying) layings;      /* kind == ANIMAL, oldest first */
  CORE_ARRAY (CoreTallyStep) steps;     /* kind == LOT */
  CoreAhead ahead;                      /* kind == LOT */
  CoreTally tally;                      /* kind == LOT */
  CoreEggState egg;                     /* kind == EGGCASE */
  CoreCultureState culture;             /* kind == CULTURE */
  CorePlaceState place; /* kind == PLACE */
} CoreState;

void core_state_init (CoreState *self);
void core_state_clear (CoreState *self);
/* Gives back what the arrays have grown beyond their length. */
void core_state_trim (CoreState *self);

/* Every array of a state, for whoever keeps a state whole: clearing and keeping walk this list,
 * so a new array is named there and nowhere else. Elements of `settings` own a text besides. */
typedef CORE_ARRAY (void) CoreAnyArray;
typedef struct
{
  size_t at;   /* of the CORE_ARRAY in CoreState */
  size_t size; /* of an element */
} CoreStateArray;
extern const CoreStateArray core_state_arrays[];
extern const size_t core_state_n_arrays;
static inline CoreAnyArray *
core_state_array (CoreState *self, size_t i)
{
  return (CoreAnyArray *) (void *) ((char *) self + core_state_arrays[i].at);
}

/* Conflicts that only the whole journal shows (see core_live) join the others. */
CoreStatus core_state_add_conflict (CoreState *self, CoreConflict conflict);
/* With its day and entry; NULL when never set. */
const CoreSetting *core_state_set (const CoreState *self, const char *key);
/* NULL when never set, or set to nothing. */
const char *core_state_setting (const CoreState *self, const char *key);
bool core_state_says_yes (const CoreState *self, const char *key); /* "yes", "1" or "true" */
/* It looked dead, and since then neither life nor “seen to” was entered. */
bool core_state_looks_dead (const CoreState *self);
const CoreStay *core_state_stay_on (const CoreState *self, CoreDay day); /* NULL = unknown */
const CoreStage *core_state_stage_now (const CoreState *self);           /* NULL = none */
/* The meal put in on that day, or on the day before, of which nobody knows yet what became of
 * it; NULL = none. What is then seen to be refused is this one. */
const CoreMeal *core_state_open_offer (const CoreState *self, CoreDay day);
CoreDay core_state_last_look (const CoreState *self);                    /* CORE_DAY_NONE */
/* Is this sign one of a moult to come? A refusal of a thin animal is none: it counts at
 * belly 3 to 5, or where the belly was not known. */
bool core_state_sign_counts (const CoreState *self, const CoreSignSeen *sign);
/* Of chances of each number of moults. */
double core_moults_sd (const double p[CORE_MAX_MOULTS + 1]);
/* Moults since hatch at stage `index`, counted back from the present mode; -1 unknown. */
int core_state_moults_at (const CoreState *self, int index);
