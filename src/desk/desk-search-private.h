/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search-private.h — what is looked through at each keystroke, made ready once. */
#pragma once

#include "desk/desk-private.h"

/* Lower case, without accents, every other sign a space; a space before the first word. */
void desk_search_fold (GString *out, const char *text);

#define DESK_SEARCH_PREYS (CORE_N_PREY + 1) /* the last: not said which */
#define DESK_SEARCH_OUTCOMES (CORE_FED_NONE_IN_VIEW + 1)

/* What a subject is called. It is made anew when the subject has changed. */
typedef struct
{
  DeskSubject *now; /* owned: of which it was made */
  char *label;      /* folded, owned: behind it the name and, where the kind is not known, what
                     * it is said to be */
  guint64 number;   /* with which its label begins */
  const char *name, *species, *stage; /* parts of the same; NULL = nothing */
  guint16 profile;            /* place in the list of profiles; NO_PROFILE = not known */
  guint8 kind;
  guint8 living;
  CoreId stands; /* on which shelf or in which home; none */
  /* The day of its last meal of each prey and outcome, or CORE_DAY_NONE. */
  CoreDay fed[DESK_SEARCH_PREYS][DESK_SEARCH_OUTCOMES];
} DeskSearchRow;

#define DESK_SEARCH_NO_PROFILE G_MAXUINT16

/* One row for each record of the collection, in its order. */
DeskSearchRow *desk_search_rows (Desk *self);
/* Reads what was entered on that connection, which there is. */
void desk_search_read_facts (Desk *self);
/* The connection that searches, made when there is none. */
gboolean desk_search_connect (Desk *self, GError **error);
void desk_search_rows_free (GArray *rows);

/* ---- what was entered: desk-search-facts.c ---- */

typedef struct
{
  CoreId id, subject;
  gint64 seq;
  CoreDay day;
  guint text; /* which of `texts` says what it is */
  char *own;  /* what was written in it, folded; NULL = nothing */
} DeskFact;

struct _DeskFacts
{
  GPtrArray *texts;  /* char *, folded */
  GHashTable *index; /* the same → its place */
  GArray *facts;     /* DeskFact, by seq */
  gint64 after_seq, last_seq; /* of what was looked through */
};

DeskFacts *desk_facts_new (gint64 after_seq);
void desk_facts_free (DeskFacts *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskFacts, desk_facts_free)
/* What came since; any thread. */
gboolean desk_facts_read (DeskFacts *self, Store *store, GError **error);
/* Moves what `more` holds to the end. */
void desk_facts_take (DeskFacts *self, DeskFacts *more);
