/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-private.h — what the steps of the fold share.
 *
 * One step per kind, in the file of its group; core-fold.c holds the table of
 * steps, the order and the passes before and after.
 */
#pragma once

#include "core/core-fold.h"

/* What an entry may still say, after the beginning and the end are known. */
typedef enum
{
  FOLD_COUNTS,
  FOLD_NO_LOOK, /* after the end, of a kind that is still possible then */
  FOLD_IGNORED  /* before the hatch or after the end: a conflict; a mark without its photo */
} FoldUse;

/* A refused meal or the sign itself, kept until a taken meal or a moult. */
typedef struct
{
  CoreDay day;
  double t;
  size_t meal; /* how many meals were there before it */
  CoreId entry;
} FoldRefusal;

/* A mix-up that was put right. */
typedef struct
{
  CoreDay since;
  CoreId entry;
} FoldMixed;

typedef struct
{
  CoreState *state;
  const CoreEntry **entries; /* of this subject, in the total order */
  size_t n;
  uint8_t *use; /* FoldUse of each entry */
  bool no_memory;

  CORE_ARRAY (CoreLook) looks;       /* every look, by t */
  CORE_ARRAY (CoreId) photo_ids;     /* live photos, also by what they replaced; by id */
  CORE_ARRAY (CoreId) shed_photos;   /* photos marked of=shed, by id */
  CORE_ARRAY (FoldRefusal) refusals; /* of the present run */
  CORE_ARRAY (FoldMixed) mixed;
  const CoreEntry *doubt; /* of the identity: the last of those that stand; NULL = none */
  CoreDay doubt_since;

  /* Distribution of moults at stage `base_stage`; all 0 = unknown. */
  double base[CORE_MAX_MOULTS + 1];
  int base_stage;
  CoreId told_round; /* moved in with a stage told: of after a moult in the same round; none = not so */
  bool named; /* by the keeper, or who gave it, not reckoned from moults entered */
  CoreDay gone_day;     /* prey found gone before any offer was known on that day */
  CoreId settled_entry; /* sex settled by laid or joined */
  CoreSex settled;
  const CoreEntry *moult; /* of it, or of all of a lot, the last that counts; NULL = none */
  const CoreEntry *some;  /* of a lot, the last of some of it that counts; NULL = none */
  const CoreEntry *told; /* the last that named a number of moults; NULL = none */
  int told_before;       /* what the number was before it; -1 = not known */
  bool of_lot; /* a moult was entered for the whole lot, and no stage named since */
} Fold;

/* Room for one more element; false (and no_memory) when there is none. */
bool fold_grow (Fold *fold, void **v, size_t *cap, size_t n, size_t size);

#define FOLD_PUSH(fold, array, ...)                                                                \
  do                                                                                               \
    {                                                                                              \
      if (fold_grow ((fold), (void **) &(array).v, &(array).cap, (array).n, sizeof *(array).v))    \
        (array).v[(array).n++] = __VA_ARGS__;                                                      \
    }                                                                                              \
  while (0)

/* Evening of its day; with a clock time day - 1 + minute / 1440. */
double fold_time (const CoreEntry *entry);
/* The last look strictly before t; -INFINITY when there is none. */
double fold_look_before (const Fold *fold, double t);
bool fold_is_shed_photo (const Fold *fold, const CoreEntry *photo);
void fold_conflict (Fold *fold, CoreConflictKind kind, CoreId entry, CoreId other);
/* Copies whole characters of UTF-8 as long as they fit; the rest of `out` is zero. */
void fold_copy_text (char *out, size_t size, const char *text);

/* core-fold-stage.c */
void fold_hatched (Fold *fold, const CoreEntry *entry);
void fold_acquired (Fold *fold, const CoreEntry *entry);
void fold_moulted (Fold *fold, const CoreEntry *entry);
void fold_stage (Fold *fold, const CoreEntry *entry);
void fold_finish_stage (Fold *fold);
/* From here on nobody knows which animal it is. */
void fold_unsure_stage (Fold *fold, const CoreEntry *entry);
/* The stage that had surely begun by the evening of `day`; -1 = none known. */
int fold_stage_on (const Fold *fold, CoreDay day);
/* core-fold-claim.c: a seller's stage as a distribution of moults; false when its
 * words say no number. *seen is what the words say was seen. */
bool fold_claim (const char *text, int scheme, double p[CORE_MAX_MOULTS + 1], CoreSeenStage *seen);
/* A number of moults with its doubt: `side` on each neighbour. */
void fold_spread (int moults, double side, double p[CORE_MAX_MOULTS + 1]);

/* core-fold-food.c */
void fold_fed (Fold *fold, const CoreEntry *entry);
void fold_gone (Fold *fold, const CoreEntry *entry);
void fold_called (Fold *fold, const CoreEntry *entry);
void fold_drank (Fold *fold, const CoreEntry *entry);
void fold_refused (Fold *fold, const CoreEntry *entry);
void fold_finish_food (Fold *fold);

/* core-fold-body.c */
void fold_sign (Fold *fold, const CoreEntry *entry);
void fold_belly (Fold *fold, const CoreEntry *entry);
void fold_measured (Fold *fold, const CoreEntry *entry);
void fold_trouble (Fold *fold, const CoreEntry *entry);
void fold_finish_body (Fold *fold);

/* core-fold-sex.c */
void fold_photo (Fold *fold, const CoreEntry *entry);
void fold_marked (Fold *fold, const CoreEntry *entry);
void fold_sexed (Fold *fold, const CoreEntry *entry);
void fold_finish_sex (Fold *fold);
/* What lays is female. */
void fold_settle_female (Fold *fold, const CoreEntry *entry);

/* core-fold-identity.c */
void fold_find_identity (Fold *fold);
void fold_doubtful (Fold *fold, const CoreEntry *entry);
/* Perhaps, or surely, it was another animal of which this was read. */
bool fold_read_of_other (const Fold *fold, const CoreSexReading *reading);

/* core-fold-home.c */
void fold_misted (Fold *fold, const CoreEntry *entry);
void fold_watered (Fold *fold, const CoreEntry *entry);
void fold_cleaned (Fold *fold, const CoreEntry *entry);
void fold_housed (Fold *fold, const CoreEntry *entry);
void fold_done (Fold *fold, const CoreEntry *entry);
void fold_put_off (Fold *fold, const CoreEntry *entry);

/* core-fold-set.c */
void fold_set (Fold *fold, const CoreEntry *entry);

/* core-fold-climate.c */
void fold_reading (Fold *fold, const CoreEntry *entry);
void fold_logged (Fold *fold, const CoreEntry *entry);
void fold_power (Fold *fold, const CoreEntry *entry);

/* core-fold-lot.c */
void fold_recounted (Fold *fold, const CoreEntry *entry);
void fold_split (Fold *fold, const CoreEntry *entry);
/* Others came into the lot, `share` of it then, and what was told in the same round is the stage of both. */
void fold_mix_stage (Fold *fold, const CoreEntry *joined, double share);
void fold_joined (Fold *fold, const CoreEntry *entry);
/* Some, or without `n` all, of a lot died, left, escaped; came back, were found. */
void fold_tally_out (Fold *fold, const CoreEntry *entry);
void fold_tally_in (Fold *fold, const CoreEntry *entry);
void fold_finish_tally (Fold *fold);

/* core-fold-egg.c */
void fold_laid (Fold *fold, const CoreEntry *entry);
void fold_hardened (Fold *fold, const CoreEntry *entry);
void fold_hatching (Fold *fold, const CoreEntry *entry);
void fold_dud (Fold *fold, const CoreEntry *entry);
void fold_culture (Fold *fold, const CoreEntry *entry);
/* What an entry of an egg case that was laid later cannot be. */
void fold_find_laying (Fold *fold);

/* core-fold-end.c */
void fold_end_with (Fold *fold, const CoreEntry *entry, CoreEnd end);
void fold_died (Fold *fold, const CoreEntry *entry);
void fold_left (Fold *fold, const CoreEntry *entry);
void fold_escaped (Fold *fold, const CoreEntry *entry);
void fold_returned (Fold *fold, const CoreEntry *entry);
void fold_looks_dead (Fold *fold, const CoreEntry *entry);
/* Fills fold->use from beginning and end; conflicts are reported there. */
void fold_decide_use (Fold *fold);
/* Does this entry need the animal alive and here? */
bool fold_needs_life (CoreKind kind);
/* Lent, and told by whoever had it; or escaped, and its skin was found: it counts, and is no look. */
bool fold_told_of_away (bool lent, bool escaped, const CoreEntry *entry);
/* For whom an entry of this kind and content is the end of the subject. */
bool fold_ends (CoreSubjectKind subject, const CoreEntry *entry);
