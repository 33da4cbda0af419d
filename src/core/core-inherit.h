/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-inherit.h — what a single, or a lot of its own, has from the lot that it came from. */
#pragma once

#include "core/core-fold.h"

/* Not said of a single whether it was of those that had moulted before the others. */
#define CORE_AHEAD_UNSAID (-1)

typedef struct
{
  CoreSubjectKind kind;   /* an animal or a lot */
  const CoreEntry *split; /* of the lot it came from: by which it was taken out */
  int ahead;              /* of an animal: 1 it had moulted before the others, 0 it had not */
} CoreHeir;

/* Of so many `joined` says in a copy how many were of the lower stage. */
#define CORE_JOINED_ALL 100000

/* Settings that go along; NULL-ended. */
extern const char *const core_inherit_settings[];
/* Facts that go along: of these kinds, and those settings. */
bool core_inherit_takes (const CoreEntry *entry);

/* From the live entries of the lot, in any order: copies of what goes along, oldest first, each with
 * the id, the subject and the round of the lot's own entry, and marked as written for all. They hang on
 * nothing but what stands before `split` in the order of the fold, and on the species, so that what is entered of the
 * lot late, corrected or taken back is what the heir has from it. The array and its entries are owned
 * by the caller. */
CoreStatus core_inherit (const CoreHeir *heir,
                         const CoreEntry *const *lot,
                         size_t n,
                         CoreEntry ***out,
                         size_t *n_out);
