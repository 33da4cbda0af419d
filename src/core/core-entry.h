/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-entry.h — entries and the table of their kinds.
 *
 * An entry is an immutable fact. The table in core-kind.c is the one source of
 * what a kind is called, which keys it takes, how their values are checked, in
 * which column of the journal they lie and at which phase of a day they count:
 * command line, database, history and round line all read it.
 */
#pragma once

#include "core/core-types.h"

/* Stored by name, never by number: order may change, names may not. */
typedef enum
{
  CORE_KIND_NONE,
  CORE_KIND_ACQUIRED,
  CORE_KIND_HATCHED,
  CORE_KIND_LOOKED,
  CORE_KIND_FED,
  CORE_KIND_GONE,
  CORE_KIND_DRANK,
  CORE_KIND_MISTED,
  CORE_KIND_WATERED,
  CORE_KIND_CLEANED,
  CORE_KIND_MOULTED,
  CORE_KIND_STAGE,
  CORE_KIND_SIGN,
  CORE_KIND_BELLY,
  CORE_KIND_MEASURED,
  CORE_KIND_PHOTO,
  CORE_KIND_MARKED,
  CORE_KIND_SEXED,
  CORE_KIND_HOUSED,
  CORE_KIND_NOTE,
  CORE_KIND_TROUBLE,
  CORE_KIND_LOOKS_DEAD,
  CORE_KIND_DIED,
  CORE_KIND_ESCAPED,
  CORE_KIND_FOUND,
  CORE_KIND_LEFT,
  CORE_KIND_BACK,
  CORE_KIND_DONE,
  CORE_KIND_PUT_OFF,
  CORE_KIND_SET,
  CORE_KIND_READING,
  CORE_KIND_POWER,
  CORE_KIND_VOID, /* names the entry that it takes back */
  /* Some of these are reserved in schema 1 for later work (the table says which): stored and
   * kept, folded to nothing. */
  CORE_KIND_PAIRED,
  CORE_KIND_LAID, /* of the female, with the egg case; of the egg case: when */
  CORE_KIND_CALLED,
  CORE_KIND_HATCHING,
  CORE_KIND_CULTURE,
  CORE_KIND_SPLIT,
  CORE_KIND_JOINED,
  CORE_KIND_RECOUNTED,
  CORE_KIND_EXCHANGED,
  CORE_KIND_DOUBTFUL,
  CORE_KIND_HARDENED, /* the foam of an egg case */
  CORE_KIND_DUD,      /* an egg case that will not hatch */
  CORE_KIND_LOGGED,   /* a stretch of a day of a logger: core-series.h */
  CORE_N_KINDS
} CoreKind;

typedef enum
{
  CORE_KEY_NONE,
  CORE_KEY_STAGE,
  CORE_KEY_SCHEME,
  CORE_KEY_FROM,
  CORE_KEY_PREY,
  CORE_KEY_N,
  CORE_KEY_OUTCOME,
  CORE_KEY_BATCH,
  CORE_KEY_EAGER,
  CORE_KEY_SEEN,
  CORE_KEY_TO,
  CORE_KEY_SIGN,
  CORE_KEY_SCORE,
  CORE_KEY_WHAT,
  CORE_KEY_MM,
  CORE_KEY_SD,
  CORE_KEY_HASH,
  CORE_KEY_TAKEN,
  CORE_KEY_PHOTO,
  CORE_KEY_SIDE,
  CORE_KEY_OF,
  CORE_KEY_AXIS,
  CORE_KEY_BOUNDS,
  CORE_KEY_COUNT,
  CORE_KEY_BY,
  CORE_KEY_LIKELIHOOD,
  CORE_KEY_SMALL_PLATE,
  CORE_KEY_CONVENTION,
  CORE_KEY_LAST_PLATE,
  CORE_KEY_WING_RATIO,
  CORE_KEY_WING_SD,
  CORE_KEY_TEGMEN_PRONOTUM,
  CORE_KEY_TEGMEN_PRONOTUM_SD,
  CORE_KEY_CUE,
  CORE_KEY_BEST,
  CORE_KEY_SEX,
  CORE_KEY_P,
  CORE_KEY_METHOD,
  CORE_KEY_PLACE,
  CORE_KEY_AT,
  CORE_KEY_HEIGHT_MM,
  CORE_KEY_WIDTH_MM,
  CORE_KEY_DEPTH_MM,
  CORE_KEY_TEXT,
  CORE_KEY_SURE,
  CORE_KEY_CAUSE,
  CORE_KEY_HOW,
  CORE_KEY_RULE,
  CORE_KEY_UNTIL,
  CORE_KEY_KEY,
  CORE_KEY_VALUE,
  CORE_KEY_T,
  CORE_KEY_RH,
  CORE_KEY_INSIDE,
  CORE_KEY_OUT_FROM,
  CORE_KEY_OUT_TO,
  CORE_KEY_LOWEST,
  CORE_KEY_MOULTS, /* acquired/stage: moults since hatch when known as such */
  CORE_KEY_PARTNER,
  CORE_KEY_WITH,
  CORE_KEY_MOVED_IN, /* acquired: it was kept here before the journal began */
  CORE_KEY_COUNTED, /* of a number of animals: counted, or about */
  CORE_KEY_OVER,    /* hatching: no more is awaited; doubtful: it is this one after all */
  CORE_KEY_KNOWN, /* acquired: no = it was here on that day; when it came nobody knows */
  CORE_KEY_SEEN_BY, /* somebody else, not the keeper */
  CORE_KEY_SERIES, /* logged: its readings, packed */
  CORE_KEY_AXIS_BY, /* marked: who says that base and tip lie right */
  CORE_KEY_MOULTED, /* split: how many of them had moulted before the others */
  CORE_N_KEYS
} CoreKey;

typedef enum
{
  CORE_VALUE_CODE, /* one of `words`; n = its index in that list */
  CORE_VALUE_INT,
  CORE_VALUE_REAL,
  CORE_VALUE_TEXT, /* UTF-8, at most 4,000 bytes */
  CORE_VALUE_REF,  /* an id: of a subject (place, animal) or a photo */
  CORE_VALUE_DAY,  /* n = CoreDay */
  CORE_VALUE_LIST, /* "x,y,x,y": numbers with '.', at most 64; kept as text */
  CORE_VALUE_DIST  /* "6:.7,8:.02": whole number, weight >= 0; kept as text */
} CoreValueType;

/* The column of table entry in which a value lies. */
typedef enum
{
  CORE_COLUMN_CODE,
  CORE_COLUMN_N,
  CORE_COLUMN_SD,
  CORE_COLUMN_REF,
  CORE_COLUMN_TEXT,
  CORE_COLUMN_MORE /* a key of the JSON object `more` */
} CoreColumn;

typedef enum
{
  CORE_PHASE_BEGIN, /* hatched, acquired, set */
  CORE_PHASE_MIDDLE,
  CORE_PHASE_END    /* died, left, escaped */
} CorePhase;

typedef struct
{
  CoreKey key;
  const char *name;         /* as typed: "prey" */
  CoreValueType type;
  CoreColumn column;
  bool required;
  const char *const *words; /* CODE: NULL-ended list */
  double min, max;          /* INT, REAL: inclusive */
} CoreKindKey;

/* The rank of all entries that change the tally of a lot (see core_entry_is_tally). */
#define CORE_TALLY_RANK 200

/* Bits for CoreKindInfo.subjects */
#define CORE_FOR(kind) (1u << (kind))

typedef struct
{
  CoreKind kind;
  const char *name;        /* as typed and stored: "fed" */
  unsigned subjects;       /* bits of CORE_FOR */
  CorePhase phase;
  uint8_t rank;            /* order inside phase and minute */
  bool reserved;
  bool typed;              /* may be typed by the keeper (record) */
  const CoreKindKey *keys; /* ended by CORE_KEY_NONE */
} CoreKindInfo;

typedef struct
{
  CoreKey key;
  CoreValueType type;
  double n;   /* CODE: index; INT, REAL, DAY: the number */
  CoreId ref; /* REF */
  char *text; /* TEXT, LIST, DIST and the word of CODE; owned, may be NULL */
} CoreValue;

typedef struct
{
  CoreId id;
  CoreId subject;
  CoreKind kind;
  CoreDay day;        /* the civil day it happened (or was found) */
  CoreDay earliest;   /* earliest day it can have happened, or CORE_DAY_NONE */
  int16_t minute;     /* minutes after midnight, -1 = no clock time */
  int64_t written_ms; /* UTC, milliseconds since 1970 */
  CoreId device;
  CoreId round;       /* entries of one round share it; one undo */
  CoreId names;       /* VOID: the entry taken back; else: the entry replaced; none */
  bool bulk;          /* written for all by a round: no look at this animal; of a VOID: by undo or redo */
  size_t n_values;
  CoreValue *values;  /* owned */
  char *beyond; /* what this program does not know of it, "key=value, key=value"; owned, mostly NULL */
} CoreEntry;

const CoreKindInfo *core_kind_info (CoreKind kind);     /* never NULL for 0 < kind < CORE_N_KINDS */
CoreKind core_kind_from_name (const char *name);        /* CORE_KIND_NONE when unknown */
const CoreKindKey *core_kind_key (CoreKind kind, CoreKey key); /* NULL when the kind lacks it */
const CoreKindKey *core_kind_key_by_name (CoreKind kind, const char *name);
int core_word_index (const char *const *words, const char *word); /* -1 when absent */

typedef enum
{
  CORE_VALUE_OK,
  CORE_VALUE_UNKNOWN_KEY,
  CORE_VALUE_BAD_NUMBER,
  CORE_VALUE_OUT_OF_RANGE,
  CORE_VALUE_BAD_WORD,
  CORE_VALUE_BAD_DAY,
  CORE_VALUE_BAD_LIST,
  CORE_VALUE_BAD_TEXT, /* not UTF-8, too long, a control character */
  CORE_VALUE_BAD_ID,
  CORE_VALUE_TWICE,
  CORE_VALUE_MISSING,
  CORE_VALUE_NO_MEMORY
} CoreValueStatus;

CoreEntry *core_entry_new (CoreKind kind); /* NULL when out of memory */
CoreEntry *core_entry_copy (const CoreEntry *self);
void core_entry_free (CoreEntry *self);

/* Parse, check against the kind's table and add. REF takes a 36-character id. */
CoreValueStatus core_entry_set_text (CoreEntry *self, const char *key_name, const char *value);
CoreValueStatus core_entry_set_num (CoreEntry *self, CoreKey key, double n);
CoreValueStatus core_entry_set_word (CoreEntry *self, CoreKey key, const char *word);
CoreValueStatus core_entry_set_str (CoreEntry *self, CoreKey key, const char *text);
CoreValueStatus core_entry_set_ref (CoreEntry *self, CoreKey key, CoreId ref);
void core_entry_remove (CoreEntry *self, CoreKey key); /* where it is there */
/* Of an entry that was read: a key that its kind does not have here, or a word that its key does not
 * have. It is kept, shown and taken as nothing known; a number or a text is not: that is damage. */
CoreValueStatus core_entry_add_beyond (CoreEntry *self, const char *key_name, const char *value);
/* False where a word that it cannot do without is beyond this program: then it says nothing here. What
 * is evidence of the sex can do without none: a plate of a side that is unknown is no underside. */
bool core_entry_told (const CoreEntry *self);
/* CORE_VALUE_MISSING and *missing = its key when a required key is absent. */
CoreValueStatus core_entry_complete (const CoreEntry *self, const CoreKindKey **missing);

const CoreValue *core_entry_get (const CoreEntry *self, CoreKey key); /* NULL when absent */
double core_entry_num (const CoreEntry *self, CoreKey key, double fallback);
int core_entry_code (const CoreEntry *self, CoreKey key, int fallback); /* index of the word */
const char *core_entry_str (const CoreEntry *self, CoreKey key);        /* "" when absent */
CoreId core_entry_ref (const CoreEntry *self, CoreKey key);
/* Does it change how many a lot holds, and not end it? Such entries of one day stand in the
 * order in which they were written: a count, then those taken out. */
/* `moulted` of some of the lot that an animal came from: perhaps of this one. */
bool core_entry_of_some (const CoreEntry *self);
bool core_entry_is_tally (const CoreEntry *self);
/* Does it say what was seen of the animal, or done with it? Then it follows the animal where two
 * were mixed up; names, beginnings and what was done to the cup stay with the number. */
bool core_entry_is_seen (const CoreEntry *self);
/* Numbers of a LIST; returns how many were written, at most max. */
size_t core_entry_list (const CoreEntry *self, CoreKey key, double *out, size_t max);

/* Locale-free number reading and writing ('.' always). False when not a number to the end. */
bool core_number_parse (const char *text, double *out);
/* Shortest form with at most `decimals` places; out holds at least 32 bytes. */
void core_number_format (double value, int decimals, char *out);

/* Indices of code words, in the order of the lists in core-kind.c. */
enum { CORE_FED_OFFERED, CORE_FED_TAKEN, CORE_FED_REFUSED, CORE_FED_NONE_IN_VIEW };
enum { CORE_MOULT_GOOD, CORE_MOULT_FELL, CORE_MOULT_STUCK, CORE_MOULT_LIMB };
enum { CORE_SIGN_SLUGGISH, CORE_SIGN_REFUSES, CORE_SIGN_DULL, CORE_SIGN_PADS, CORE_SIGN_HANGING,
       CORE_SIGN_PUMPING, CORE_SIGN_SPLITTING, CORE_N_SIGNS };
enum { CORE_PREY_MELANOGASTER, CORE_PREY_HYDEI, CORE_PREY_HOUSE_FLY, CORE_PREY_GREEN_BOTTLE,
       CORE_PREY_BLUE_BOTTLE, CORE_PREY_MOTH, CORE_PREY_CRICKET, CORE_PREY_ROACH,
       CORE_PREY_LOCUST, CORE_PREY_MEALWORM, CORE_PREY_WAXWORM, CORE_PREY_HONEY,
       CORE_PREY_OTHER, CORE_N_PREY };
enum { CORE_OF_ANIMAL, CORE_OF_SHED };
enum { CORE_BY_PROGRAM, CORE_BY_KEEPER };
enum { CORE_SMALL_COUNTED, CORE_SMALL_NOT, CORE_SMALL_UNKNOWN };
enum { CORE_CONVENTION_PLATES, CORE_CONVENTION_APPENDAGES, CORE_CONVENTION_UNKNOWN };
enum { CORE_LAST_BOAT, CORE_LAST_SMALL, CORE_LAST_UNCLEAR };
enum { CORE_SIDE_UNDERSIDE, CORE_SIDE_BACK, CORE_SIDE_FLANK };
enum { CORE_METHOD_COUNT, CORE_METHOD_WINGS, CORE_METHOD_CUE, CORE_METHOD_BUILD,
       CORE_METHOD_DESCENT, CORE_METHOD_CLAIM, CORE_METHOD_LAID, CORE_METHOD_JOINED };
enum { CORE_TROUBLE_FELL, CORE_TROUBLE_VOMIT, CORE_TROUBLE_THIN, CORE_TROUBLE_FOOT,
       CORE_TROUBLE_EYE, CORE_TROUBLE_LIMB, CORE_TROUBLE_MITES, CORE_TROUBLE_MOULD,
       CORE_TROUBLE_WORM, CORE_TROUBLE_WEAK, CORE_TROUBLE_OTHER, CORE_TROUBLE_FLOODED,
       CORE_N_TROUBLES };
