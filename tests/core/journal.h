/* SPDX-License-Identifier: GPL-3.0-or-later */
/* journal.h — small journals for tests of the fold. */
#pragma once

#include <glib.h>

#include "core/core-fold.h"

typedef struct
{
  GPtrArray *entries; /* CoreEntry, owned */
  CoreId subject;     /* of the entries added next */
  uint64_t next;      /* number of the next id */
} Journal;

Journal *journal_new (void);
void journal_free (Journal *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Journal, journal_free)

CoreId test_id (uint64_t number);
/* "fed|prey=house fly|n=2"; also "earliest=D", "minute=N", "bulk", "names=N" (an id number). */
CoreEntry *journal_add (Journal *self, CoreDay day, const char *text);
/* A journal of a few lines folded at once; the text NULL ends them. */
#define JOURNAL_MAX_LINES 10
typedef struct
{
  CoreDay day;
  const char *text;
} JournalLine;
void journal_fold_lines (const JournalLine *lines, Journal *journal, CoreState *state);

/* xorshift64*: what is drawn is the same on every machine. Begins anew at a seed above 0. */
void journal_seed (uint64_t seed);
unsigned journal_draw (unsigned n); /* 0 … n - 1 */

/* The live ones of `entries` (n of them) folded for the subject. */
void journal_fold (const Journal *self, CoreSubjectKind kind, CoreState *out);
void fold_live (CoreEntry *const *entries,
                size_t n,
                CoreId subject,
                CoreSubjectKind kind,
                CoreState *out);
/* Deep comparison; says in the test log where two states differ. */
gboolean core_state_equal (const CoreState *a, const CoreState *b);
