/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-kind.c — the table of entry kinds.
 *
 * Invariant: inside one kind no two keys share a column, except the column
 * `more`. Names and words are stored in journals and typed in scripts: add,
 * never change. Ranks order the entries of one minute: what was there when the
 * cup was opened (gone, a sign) before what was done (fed), before the moult
 * found, before what was seen of the animal after it.
 */
#include "core/core-entry.h"

#include <string.h>

#define A CORE_FOR (CORE_SUBJECT_ANIMAL)
#define L CORE_FOR (CORE_SUBJECT_LOT)
#define E CORE_FOR (CORE_SUBJECT_EGGCASE)
#define P CORE_FOR (CORE_SUBJECT_PLACE)
#define C CORE_FOR (CORE_SUBJECT_CULTURE)
#define J CORE_FOR (CORE_SUBJECT_JOURNAL)
#define ALL (A | L | E | P | C | J)

static const char *const yes_no[] = { "yes", "no", NULL };
static const char *const fed_outcomes[] = { "offered", "taken", "refused", "none_in_view", NULL };
static const char *const preys[] = { "melanogaster", "hydei",    "house fly", "green bottle",
                                     "blue bottle",  "moth",     "cricket",   "roach",
                                     "locust",       "mealworm", "waxworm",   "honey",
                                     "other",        NULL };
static const char *const moult_outcomes[] = { "good", "fell", "stuck", "limb", NULL };
static const char *const seen_how[] = { "yes", "found", NULL };
static const char *const stages[] = { "nymph", "subadult", "adult", NULL };
static const char *const signs[] = { "sluggish", "refuses", "dull",      "pads",
                                     "hanging",  "pumping", "splitting", NULL };
static const char *const dimensions[] = { "body", "head", "pronotum", "abdomen", "tegmen", NULL };
static const char *const sides[] = { "underside", "back", "flank", NULL };
static const char *const of_what[] = { "animal", "shed", NULL };
static const char *const by_whom[] = { "program", "keeper", NULL };
static const char *const small_plates[] = { "counted", "not", "unknown", NULL };
static const char *const conventions[] = { "plates", "appendages", "unknown", NULL };
static const char *const last_plates[] = { "boat", "small", "unclear", NULL };
static const char *const sexes[] = { "male", "female", "unknown", NULL };
static const char *const methods[] = { "count", "wings", "cue",    "build", "descent",
                                       "claim", "laid",  "joined", NULL };
static const char *const troubles[] = { "fell",  "vomit", "thin", "foot", "eye",   "limb",
                                        "mites", "mould", "worm", "weak", "other", "flooded",
                                        NULL };
static const char *const ways_out[] = { "sold", "given", "swapped", "lent", NULL };

/* A row of a key table. */
#define CODE(k, name, col, req, list)                                                              \
  {                                                                                                \
    CORE_KEY_##k, name, CORE_VALUE_CODE, CORE_COLUMN_##col, req, list, 0, 0                        \
  }
#define INT(k, name, col, req, lo, hi)                                                             \
  {                                                                                                \
    CORE_KEY_##k, name, CORE_VALUE_INT, CORE_COLUMN_##col, req, NULL, lo, hi                       \
  }
#define REAL(k, name, col, req, lo, hi)                                                            \
  {                                                                                                \
    CORE_KEY_##k, name, CORE_VALUE_REAL, CORE_COLUMN_##col, req, NULL, lo, hi                      \
  }
#define OTHER(k, name, type, col, req)                                                             \
  {                                                                                                \
    CORE_KEY_##k, name, CORE_VALUE_##type, CORE_COLUMN_##col, req, NULL, 0, 0                      \
  }
#define END                                                                                        \
  {                                                                                                \
    CORE_KEY_NONE, NULL, CORE_VALUE_TEXT, CORE_COLUMN_MORE, false, NULL, 0, 0                      \
  }

/* Who saw it, where that was not the keeper: a stand-in during a journey. */
#define SEEN_BY OTHER (SEEN_BY, "seen_by", TEXT, MORE, false)

static const CoreKindKey no_keys[] = { END };
static const CoreKindKey look_keys[] = { SEEN_BY, END };

static const CoreKindKey acquired_keys[] = {
  OTHER (STAGE, "stage", TEXT, TEXT, false),
  INT (SCHEME, "scheme", N, false, 1, 2),
  OTHER (FROM, "from", TEXT, MORE, false),
  INT (MOULTS, "moults", MORE, false, 0, CORE_MAX_MOULTS),
  CODE (MOVED_IN, "moved_in", MORE, false, yes_no),
  CODE (KNOWN, "known", MORE, false, yes_no),
  END,
};

static const CoreKindKey fed_keys[] = {
  CODE (PREY, "prey", TEXT, false, preys),
  INT (N, "n", N, false, 1, 1000),
  CODE (OUTCOME, "outcome", CODE, false, fed_outcomes),
  OTHER (BATCH, "batch", TEXT, MORE, false),
  SEEN_BY,
  END,
};

static const CoreKindKey drank_keys[] = { CODE (EAGER, "eager", CODE, false, yes_no), SEEN_BY, END };

static const CoreKindKey moulted_keys[] = {
  CODE (OUTCOME, "outcome", CODE, false, moult_outcomes),
  CODE (SEEN, "seen", TEXT, false, seen_how),
  CODE (TO, "to", MORE, false, stages),
  SEEN_BY,
  INT (N, "n", N, false, 1, 100000), /* of a lot: so many of it, and not the others */
  CODE (SURE, "sure", MORE, false, yes_no), /* though another moult is so near */
  END,
};

static const CoreKindKey stage_keys[] = {
  CODE (SEEN, "seen", CODE, true, stages),
  INT (MOULTS, "moults", N, false, 0, CORE_MAX_MOULTS),
  SEEN_BY,
  END,
};

static const CoreKindKey sign_keys[] = { CODE (SIGN, "sign", CODE, true, signs), SEEN_BY, END };
static const CoreKindKey belly_keys[] = { INT (SCORE, "score", N, true, 1, 5), SEEN_BY, END };

static const CoreKindKey measured_keys[] = {
  CODE (WHAT, "what", CODE, true, dimensions),
  REAL (MM, "mm", N, true, .1, 400),
  REAL (SD, "sd", SD, false, 0, 100),
  OTHER (PHOTO, "photo", REF, REF, false), /* in which it was measured */
  OTHER (AXIS, "axis", LIST, MORE, false), /* along which, there: gives the picture its scale */
  END,
};

static const CoreKindKey photo_keys[] = {
  OTHER (HASH, "hash", TEXT, TEXT, true),
  OTHER (TAKEN, "taken", DAY, N, false),
  END,
};

static const CoreKindKey marked_keys[] = {
  OTHER (PHOTO, "photo", REF, REF, true),
  CODE (SIDE, "side", CODE, false, sides),
  CODE (OF, "of", MORE, false, of_what),
  OTHER (AXIS, "axis", LIST, MORE, false),
  OTHER (BOUNDS, "bounds", LIST, TEXT, false),
  INT (COUNT, "count", N, false, 1, 14),
  CODE (BY, "by", MORE, false, by_whom),
  CODE (AXIS_BY, "axis_by", MORE, false, by_whom), /* not said: the keeper */
  OTHER (LIKELIHOOD, "likelihood", DIST, MORE, false),
  CODE (SMALL_PLATE, "small_plate", MORE, false, small_plates),
  CODE (CONVENTION, "convention", MORE, false, conventions),
  CODE (LAST_PLATE, "last_plate", MORE, false, last_plates),
  REAL (WING_RATIO, "wing_ratio", MORE, false, 0, 10),
  REAL (WING_SD, "wing_sd", SD, false, 0, 10),
  REAL (TEGMEN_PRONOTUM, "tegmen_pronotum", MORE, false, 0, 20),
  REAL (TEGMEN_PRONOTUM_SD, "tegmen_pronotum_sd", MORE, false, 0, 20),
  OTHER (CUE, "cue", TEXT, MORE, false),
  CODE (BEST, "best", MORE, false, yes_no),
  END,
};

static const CoreKindKey sexed_keys[] = {
  CODE (SEX, "sex", CODE, true, sexes),
  REAL (P, "p", N, false, 0, 1),
  CODE (METHOD, "method", TEXT, false, methods),
  CODE (OF, "of", MORE, false, of_what),
  END,
};

static const CoreKindKey housed_keys[] = {
  OTHER (PLACE, "place", REF, REF, false),
  REAL (AT, "at", N, false, -1e6, 1e6),
  REAL (HEIGHT_MM, "height_mm", MORE, false, 1, 5000),
  REAL (WIDTH_MM, "width_mm", MORE, false, 1, 5000),
  REAL (DEPTH_MM, "depth_mm", MORE, false, 1, 5000),
  END,
};

static const CoreKindKey note_keys[] = { OTHER (TEXT, "text", TEXT, TEXT, true), SEEN_BY, END };

static const CoreKindKey trouble_keys[] = {
  CODE (WHAT, "what", CODE, true, troubles),
  CODE (SURE, "sure", MORE, false, yes_no),
  SEEN_BY,
  END,
};

static const CoreKindKey died_keys[] = {
  OTHER (CAUSE, "cause", TEXT, TEXT, false),
  CODE (SURE, "sure", CODE, false, yes_no),
  INT (N, "n", N, false, 1, 100000),
  SEEN_BY,
  END,
};

static const CoreKindKey some_keys[] = { INT (N, "n", N, false, 1, 100000), SEEN_BY, END };

static const CoreKindKey left_keys[] = {
  CODE (HOW, "how", CODE, false, ways_out),
  OTHER (TO, "to", TEXT, TEXT, false),
  INT (N, "n", N, false, 1, 100000),
  END,
};

static const CoreKindKey done_keys[] = { OTHER (RULE, "rule", TEXT, CODE, true), END };

static const CoreKindKey put_off_keys[] = {
  OTHER (RULE, "rule", TEXT, CODE, true),
  OTHER (UNTIL, "until", DAY, N, true),
  END,
};

static const CoreKindKey set_keys[] = {
  OTHER (KEY, "key", TEXT, CODE, true),
  OTHER (VALUE, "value", TEXT, TEXT, true),
  END,
};

static const CoreKindKey reading_keys[] = {
  REAL (T, "t", N, false, -60, 100),
  REAL (RH, "rh", MORE, false, 0, 100),
  CODE (INSIDE, "inside", CODE, false, yes_no),
  END,
};

static const CoreKindKey logged_keys[] = {
  OTHER (SERIES, "series", TEXT, TEXT, true),
  CODE (INSIDE, "inside", CODE, false, yes_no),
  OTHER (FROM, "from", TEXT, MORE, false),
  END,
};

static const CoreKindKey power_keys[] = {
  OTHER (OUT_FROM, "out_from", TEXT, TEXT, false),
  OTHER (OUT_TO, "out_to", TEXT, MORE, false),
  REAL (LOWEST, "lowest", N, false, -60, 100),
  END,
};

static const CoreKindKey pair_keys[] = { OTHER (PARTNER, "partner", REF, REF, false), END };

static const CoreKindKey with_keys[] = {
  OTHER (WITH, "with", REF, REF, false),
  INT (N, "n", N, false, 0, 100000),
  END,
};

/* Ranges no narrower than those of the first version: its journals hold these kinds. */
static const CoreKindKey laid_keys[] = {
  OTHER (WITH, "with", REF, REF, false),
  INT (N, "n", N, false, 0, 100000),
  END,
};

static const CoreKindKey doubtful_keys[] = {
  CODE (OVER, "over", CODE, false, yes_no),
  OTHER (TEXT, "text", TEXT, TEXT, false),
  END,
};

static const CoreKindKey recounted_keys[] = {
  INT (N, "n", N, true, 0, 100000),
  CODE (COUNTED, "counted", CODE, false, yes_no),
  SEEN_BY,
  END,
};

static const CoreKindKey hatching_keys[] = {
  INT (N, "n", N, false, 0, 100000),
  CODE (COUNTED, "counted", CODE, false, yes_no),
  CODE (OVER, "over", TEXT, false, yes_no),
  END,
};

static const CoreKindKey split_keys[] = {
  OTHER (WITH, "with", REF, REF, false),
  INT (N, "n", N, false, 0, 100000),
  INT (MOULTED, "moulted", MORE, false, 0, 100000),
  END,
};

static const CoreKindKey joined_keys[] = {
  OTHER (WITH, "with", REF, REF, false),
  INT (N, "n", N, false, 0, 100000),
  CODE (COUNTED, "counted", CODE, false, yes_no),
  END,
};

static const CoreKindKey culture_keys[] = {
  CODE (PREY, "prey", CODE, false, preys),
  OTHER (TEXT, "text", TEXT, TEXT, false),
  END,
};

static const CoreKindKey dud_keys[] = {
  OTHER (CAUSE, "cause", TEXT, TEXT, false),
  CODE (SURE, "sure", CODE, false, yes_no),
  END,
};

#define KIND(k, name, who, phase, rank, keys)                                                      \
  [CORE_KIND_##k] = { CORE_KIND_##k, name, who, CORE_PHASE_##phase, rank, false, true, keys }
/* Written by a verb of its own, which keeps both sides of it in step. */
#define BY_VERB(k, name, who, phase, rank, keys)                                                   \
  [CORE_KIND_##k] = { CORE_KIND_##k, name, who, CORE_PHASE_##phase, rank, false, false, keys }
#define RESERVED(k, name, who, phase, rank, keys)                                                  \
  [CORE_KIND_##k] = { CORE_KIND_##k, name, who, CORE_PHASE_##phase, rank, true, false, keys }

static const CoreKindInfo kinds[CORE_N_KINDS] = {
  KIND (SET, "set", ALL, BEGIN, 10, set_keys),
  KIND (HATCHED, "hatched", A | L, BEGIN, 20, no_keys),
  KIND (ACQUIRED, "acquired", A | L | E | C, BEGIN, 30, acquired_keys),
  BY_VERB (CULTURE, "culture", C, BEGIN, 50, culture_keys),

  KIND (HOUSED, "housed", A | L | E | C, MIDDLE, 10, housed_keys),
  KIND (READING, "reading", P, MIDDLE, 12, reading_keys),
  BY_VERB (LOGGED, "logged", P, MIDDLE, 13, logged_keys),
  KIND (POWER, "power", P, MIDDLE, 14, power_keys),
  KIND (LOOKED, "looked", A | L | E | P, MIDDLE, 20, look_keys),
  KIND (GONE, "gone", A | L, MIDDLE, 30, look_keys),
  KIND (SIGN, "sign", A | L, MIDDLE, 40, sign_keys),
  KIND (FED, "fed", A | L, MIDDLE, 50, fed_keys),
  KIND (DRANK, "drank", A | L, MIDDLE, 54, drank_keys),
  KIND (MISTED, "misted", A | L | E | P, MIDDLE, 56, look_keys),
  KIND (WATERED, "watered", A | L | E | P, MIDDLE, 58, look_keys),
  KIND (CLEANED, "cleaned", A | L | E | P | C, MIDDLE, 60, look_keys),
  KIND (MOULTED, "moulted", A | L, MIDDLE, 70, moulted_keys),
  KIND (STAGE, "stage", A | L, MIDDLE, 80, stage_keys),
  KIND (BELLY, "belly", A, MIDDLE, 90, belly_keys),
  KIND (MEASURED, "measured", A | L, MIDDLE, 92, measured_keys),
  KIND (PHOTO, "photo", A | L | E | P, MIDDLE, 94, photo_keys),
  KIND (MARKED, "marked", A, MIDDLE, 96, marked_keys),
  KIND (SEXED, "sexed", A, MIDDLE, 98, sexed_keys),
  KIND (TROUBLE, "trouble", A | L | E | C, MIDDLE, 100, trouble_keys),
  KIND (LOOKS_DEAD, "looks_dead", A | L, MIDDLE, 102, look_keys),
  KIND (NOTE, "note", ALL, MIDDLE, 110, note_keys),
  KIND (DONE, "done", ALL, MIDDLE, 112, done_keys),
  KIND (PUT_OFF, "put_off", ALL, MIDDLE, 114, put_off_keys),
  KIND (CALLED, "called", A, MIDDLE, 120, no_keys),
  RESERVED (PAIRED, "paired", A, MIDDLE, 122, pair_keys),
  KIND (LAID, "laid", A | E, MIDDLE, 124, laid_keys),
  KIND (HARDENED, "hardened", E, MIDDLE, 126, no_keys),
  BY_VERB (EXCHANGED, "exchanged", A, MIDDLE, 136, with_keys),
  KIND (DOUBTFUL, "doubtful", A, MIDDLE, 138, doubtful_keys),
  KIND (RECOUNTED, "recounted", L, MIDDLE, CORE_TALLY_RANK, recounted_keys),
  BY_VERB (JOINED, "joined", L, MIDDLE, CORE_TALLY_RANK, joined_keys),

  BY_VERB (SPLIT, "split", L | E, END, 4, split_keys),
  KIND (HATCHING, "hatching", E, END, 6, hatching_keys),
  KIND (LEFT, "left", A | L | E | C, END, 10, left_keys),
  KIND (ESCAPED, "escaped", A | L, END, 20, some_keys),
  KIND (BACK, "back", A | L | E | C, END, 30, some_keys),
  KIND (FOUND, "found", A | L, END, 40, some_keys),
  KIND (DIED, "died", A | L | E | C, END, 50, died_keys),
  KIND (DUD, "dud", E, END, 60, dud_keys),

  [CORE_KIND_VOID] = { CORE_KIND_VOID, "void", ALL, CORE_PHASE_END, 250, false, false, no_keys },
};

const CoreKindInfo *
core_kind_info (CoreKind kind)
{
  return kind > CORE_KIND_NONE && kind < CORE_N_KINDS ? &kinds[kind] : NULL;
}

CoreKind
core_kind_from_name (const char *name)
{
  for (int i = CORE_KIND_NONE + 1; name != NULL && i < CORE_N_KINDS; i++)
    if (strcmp (kinds[i].name, name) == 0)
      return (CoreKind) i;
  return CORE_KIND_NONE;
}

const CoreKindKey *
core_kind_key (CoreKind kind, CoreKey key)
{
  const CoreKindInfo *info = core_kind_info (kind);

  if (info == NULL || key == CORE_KEY_NONE)
    return NULL;
  for (const CoreKindKey *row = info->keys; row->key != CORE_KEY_NONE; row++)
    if (row->key == key)
      return row;
  return NULL;
}

const CoreKindKey *
core_kind_key_by_name (CoreKind kind, const char *name)
{
  const CoreKindInfo *info = core_kind_info (kind);

  if (info == NULL || name == NULL)
    return NULL;
  for (const CoreKindKey *row = info->keys; row->key != CORE_KEY_NONE; row++)
    if (strcmp (row->name, name) == 0)
      return row;
  return NULL;
}

int
core_word_index (const char *const *words, const char *word)
{
  for (int i = 0; words != NULL && word != NULL && words[i] != NULL; i++)
    if (strcmp (words[i], word) == 0)
      return i;
  return -1;
}
