/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold.h — from entries to state.
 *
 * The fold is pure and total: any set of entries, in any order of arrival,
 * gives the same state, and what cannot be is reported in `conflicts` instead
 * of failing. Order: (day; phase; minute, missing = 24:00; rank; content; id).
 *
 * Looks: `looked` always; fed taken or refused, gone, drank, belly,
 * sign, measured, moulted, stage, trouble, sexed not of=shed and photos without a
 * mark of=shed (on their capture day, once it is here) unless `bulk`. Nothing else.
 *
 * A mark whose photo is not among the entries says nothing.
 */
#pragma once

#include "core/core-state.h"

/* Which of n entries (of the whole journal) are live: a void or replacement
 * that is itself live takes an entry out; of two live replacements the later
 * id counts. live[i] is set to 1 or 0. Conflicts (two replacements, names
 * missing) come in *conflicts when it is not NULL; free with free().
 *
 * A live replacement stands in the place of what it names and of all that this
 * one had replaced before it: a correction is corrected by naming the correction. */
CoreStatus core_live (const CoreEntry *const *entries, size_t n, uint8_t *live,
                      CoreConflict **conflicts, size_t *n_conflicts);

/* Fold the live entries of one subject. `out` must be initialised or cleared;
 * on anything but CORE_OK it is left cleared. Entries of others are ignored. */
CoreStatus core_fold (CoreId subject, CoreSubjectKind kind,
                      const CoreEntry *const *entries, size_t n, CoreState *out);

#define CORE_MOULTS_APART 4 /* two moults of an animal fewer days apart must be said to be sure (ours) */

typedef enum
{
  CORE_REFUSE_NOTHING,
  CORE_REFUSE_FUTURE,
  CORE_REFUSE_BEFORE_HATCH,
  CORE_REFUSE_AFTER_END,
  CORE_REFUSE_EARLIEST_AFTER_DAY,
  CORE_REFUSE_WRONG_SUBJECT,   /* this kind is not for this subject */
  CORE_REFUSE_ADULT_MOULTS,    /* moult or moult sign of an adult */
  CORE_REFUSE_PADS_NOT_SUBADULT,
  CORE_REFUSE_ALREADY_HATCHED,
  CORE_REFUSE_NOT_ENDED,       /* found, back without an end */
  CORE_REFUSE_RESERVED,
  CORE_REFUSE_TOO_OLD,         /* more than 50 years back */
  CORE_REFUSE_NOT_ADULT,       /* laid or mated, and never seen as adult */
  CORE_REFUSE_MORE_THAN_COUNT, /* more than the lot holds */
  CORE_REFUSE_FEWER_THAN_TAKEN, /* a count of a past day below what was taken out since */
  CORE_REFUSE_ALREADY_LAID,
  CORE_REFUSE_BEFORE_LAID,
  CORE_REFUSE_LIVED_LATER,     /* an end before something was entered of the living animal */
  CORE_REFUSE_MOULT_TWICE,     /* a second moult on one day */
  CORE_REFUSE_LATER_MOULT,     /* adult before a moult that is entered */
  CORE_REFUSE_ADULT_YOUNGER,   /* seen as nymph or sub-adult after it was adult, or adult before that */
  CORE_REFUSE_NO_STAGE,        /* a seller's stage that says none */
  CORE_REFUSE_UNTIL_OVER,      /* put off until a day that is no later */
  CORE_REFUSE_READING_EMPTY,
  CORE_REFUSE_POWER_LOWEST,
  CORE_REFUSE_TOO_YOUNG,       /* sub-adult or adult so soon after the hatch */
  CORE_REFUSE_STAGE_MOULTS,    /* a stage and a number of moults that exclude each other */
  CORE_REFUSE_BEFORE_ARRIVAL,  /* care of ours before it came */
  CORE_REFUSE_MANY_MOULTS,     /* more than any mantis has */
  CORE_REFUSE_AWAY,            /* lent, given or escaped on that day, and nobody told of it */
  CORE_REFUSE_NOT_DOUBTFUL,    /* no doubt that could be over */
  CORE_REFUSE_UNTIL_FAR,       /* put off for more than a year */
  CORE_REFUSE_ONE_ANIMAL,      /* a number of what is one */
  CORE_REFUSE_MOULT_SOON,      /* a moult few days from another, and not said to be sure */
  CORE_REFUSE_HATCHED_DUD,     /* nothing to come of an egg case from which some hatched */
  CORE_REFUSE_MOULT_SUBADULT,  /* a second moult of what was sub-adult, and not said to be sure */
  CORE_REFUSE_HOW_MANY,        /* of a lot, and not said how many */
  CORE_REFUSE_MOULT_OTHERS,    /* as many of a lot moulted that day already, and these are not said to be others */
  CORE_N_REFUSALS
} CoreRefusal;

/* Why the day that a camera names cannot be that of a picture of this subject. */
typedef enum
{
  CORE_WRONG_DAY_NONE, /* it can be */
  CORE_WRONG_DAY_AHEAD,
  CORE_WRONG_DAY_LONG_AGO, /* its clock was not set */
  CORE_WRONG_DAY_HATCH,    /* before it hatched */
  CORE_WRONG_DAY_LAID      /* before it was laid */
} CoreWrongDay;
/* `state` may be NULL: of no subject yet. */
CoreWrongDay core_wrong_day (const CoreState *state, CoreDay taken, CoreDay today);

/* May this entry be written now? Checked at the desk, before it is stored. */
CoreRefusal core_check (const CoreState *state, const CoreEntry *entry, CoreDay today);
/* The same by the state folded with the entry: would it be dropped as a conflict? For days past,
 * about which the present state does not tell all. */
CoreRefusal core_check_after (const CoreState *after, const CoreEntry *entry);
/* Does a seller's stage say one: "L4", "4", "i4", "L4-5", "sub-adult", "adult"? Then
 * *seen, when not NULL, is what it says was seen. */
bool core_stage_words (const char *text, CoreSeenStage *seen);
/* Can those words, by the scheme (0 = unknown), mean so many moults? Words without a number can. */
bool core_stage_allows (const char *text, int scheme, int moults);
/* The total order of the fold, also the order of a history. */
int core_entry_compare (const CoreEntry *a, const CoreEntry *b);
