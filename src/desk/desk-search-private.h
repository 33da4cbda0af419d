/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search-private.h — what is looked through at each keystroke, made ready once. */
#pragma once

#include "desk/desk-private.h"

/* Lower case, without accents, every other sign a space; a space before the first word. */
void desk_search_fold (GString *out, const char *text);

/* What a subject is called. It is made anew when the subject has changed. */
typedef struct
{
  DeskSubject *now; /* owned: of which it was made */
  char *label;      /* folded, owned: behind it the name and, where the kind is not known, what
                     * it is said to be */
  guint64 number;   /* with which its label begins */
  const char *name, *species; /* parts of the same; NULL = nothing */
  guint16 profile;            /* place in the list of profiles; NO_PROFILE = not known */
  guint8 kind;
  guint8 living;
  CoreId stands; /* on which shelf or in which home; none */
  CoreDay fed[CORE_N_PREY]; /* the day of its last meal of each, or CORE_DAY_NONE */
} DeskSearchRow;

#define DESK_SEARCH_NO_PROFILE G_MAXUINT16

/* One row for each record of the collection, in its order. */
DeskSearchRow *desk_search_rows (Desk *self);
/* The connection that searches, made when there is none. */
gboolean desk_search_connect (Desk *self, GError **error);
void desk_search_rows_free (GArray *rows);
