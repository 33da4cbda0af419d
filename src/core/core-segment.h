/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-segment.h — from evidence for lines along an abdomen to a posterior over
 * the number of plates: a recursion over the lengths of plates, with a null
 * model (no plates seen). Pure: no allocation, same bits for the same input.
 *
 * Positions are shares of the marked axis, 0 at its base, 1 at its tip. The
 * evidence is sampled at CORE_SEGMENT_N places, sample i at (i + ½) / N.
 */
#pragma once

#include <stdbool.h>

#define CORE_SEGMENT_N 256     /* samples along the axis */
#define CORE_SEGMENT_MARGIN 20 /* samples beyond either end: an end may lie off its mark */
#define CORE_SEGMENT_WIDE (CORE_SEGMENT_N + 2 * CORE_SEGMENT_MARGIN)
#define CORE_SEGMENT_MIN 4        /* fewest plates */
#define CORE_SEGMENT_MAX 10       /* most plates */
#define CORE_SEGMENT_COUNTS 8     /* index 0: none; 1 … 7: 4 … 10 plates */
#define CORE_SEGMENT_EDITS 16     /* boundaries that a keeper may fix or remove */
#define CORE_SEGMENT_NAME_AT 0.80 /* no count is named below this (our rule) */

/* Why a picture cannot carry a count; bits. */
typedef enum
{
  CORE_UNUSABLE_TOO_SHORT = 1 << 0,
  CORE_UNUSABLE_BLURRED = 1 << 1,
  CORE_UNUSABLE_GLARE = 1 << 2,
  CORE_UNUSABLE_LOW_CONTRAST = 1 << 3,
  CORE_UNUSABLE_WEAK_EVIDENCE = 1 << 4
} CoreUnusable;

typedef enum
{
  CORE_SEGMENT_SEX_UNKNOWN,
  CORE_SEGMENT_SEX_FEMALE,
  CORE_SEGMENT_SEX_MALE
} CoreSegmentSex;

/* What the keeper settled; evidence like any other. Zero-initialised = nothing. */
typedef struct
{
  int n_fixed;
  double fixed[CORE_SEGMENT_EDITS]; /* a boundary is exactly here */
  int n_removed;
  double removed[CORE_SEGMENT_EDITS]; /* no boundary within 2 % of the axis of here */
  int count;                          /* plates, 4 … 10; 0 = not named */
  CoreSegmentSex sex;                 /* which templates of plate lengths may be used */
  bool plates_seen;                   /* the keeper says that there are plates: no null model */
  bool any_lengths;                   /* no lengths of either sex, to try what they are worth */
} CoreSegmentEdits;

/* The evidence: what the picture says, before any length of plate. */
typedef struct
{
  float line[CORE_SEGMENT_N];            /* log-odds of a boundary at each sample */
  float before[CORE_SEGMENT_MARGIN];     /* the same before the base, the last next to it */
  float after[CORE_SEGMENT_MARGIN];      /* and behind the tip, the first next to it */
  double count_log[CORE_SEGMENT_COUNTS]; /* log-likelihood of each count by the whole strip; any
                                            common constant; all 0 = says nothing */
  double rows_worth;                     /* weight of the rows of plates beside these, >= 0 */
} CoreSegmentEvidence;

typedef struct
{
  double at; /* 0 … 1 */
  double sd; /* share of the axis; 0 for one that the keeper fixed */
  bool fixed;
} CoreSegmentBound;

typedef struct
{
  double posterior[CORE_SEGMENT_COUNTS];  /* sums to 1 */
  double likelihood[CORE_SEGMENT_COUNTS]; /* without the prior over counts; sums to 1 */
  int best, second;                       /* plates, by posterior; 0 = none */
  double best_p, second_p;
  bool named;   /* best is a count and best_p >= CORE_SEGMENT_NAME_AT, or the keeper named it */
  int shown;    /* plates whose boundaries stand below: best, or the likeliest count above none */
  int n_bounds; /* shown - 1 */
  CoreSegmentBound bound[CORE_SEGMENT_MAX];
  double strongest; /* mean of the three largest log-odds of a line */
} CoreSegmentResult;

/* Index into posterior and likelihood; plates 0 or 4 … 10, else -1. */
int core_segment_index (int plates);
/* Sum over all rows of one template without evidence; the generated table holds
 * these numbers, and a test compares. template: 0 … CORE_SEGMENT_TEMPLATES - 1. */
#define CORE_SEGMENT_TEMPLATES 14
double core_segment_blank (int template);
/* The documented prior over counts (with unknown sex, or given one). */
double core_segment_prior (int plates, CoreSegmentSex sex);

/* False (and result->shown 0, the posterior all on none) where no row of plates
 * fits what was settled, for instance eleven fixed boundaries or one of them
 * outside 0 … 1. edits may be NULL. */
bool core_segment_run (const CoreSegmentEvidence *evidence,
                       const CoreSegmentEdits *edits,
                       CoreSegmentResult *result);
/* What else it may be: each of the `n` others, read along other marks, weighs `weight` (n × weight < 1)
 * in the chances of `result`, whose evidence this is. The boundaries stay those of that evidence. */
void core_segment_mix (const CoreSegmentEvidence *evidence,
                       const CoreSegmentResult *others,
                       int n,
                       double weight,
                       CoreSegmentResult *result);
/* The boundaries of the best row of exactly `plates` plates; false: none fits. */
bool core_segment_given (const CoreSegmentEvidence *evidence,
                         const CoreSegmentEdits *edits,
                         int plates,
                         CoreSegmentBound *bound /* plates - 1 */);
