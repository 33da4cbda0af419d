/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-add-private.h — what the files that add subjects share.
 *
 * An addition is the key=value pairs of one call; each piece reads those that it
 * knows and appends entries to the operation. */
#pragma once

#include "desk/desk-private.h"

typedef struct
{
  CoreSubjectKind kind;
  char **pairs;
  CoreDay day;
} DeskAddition;

const char *desk_add_value (char **pairs, const char *key); /* NULL = not given */
/* Every pair has a known key, and each once. */
gboolean desk_add_check_pairs (char **pairs, const char *const *known, GError **error);
/* A `set` for each of the keys (NULL-ended) that is given. */
gboolean desk_add_given (DeskOp *op,
                         CoreId subject,
                         CoreDay day,
                         const char *const *keys,
                         char **pairs,
                         GError **error);
/* Copies key=value of the call into the entry, under the entry's own key. */
gboolean desk_add_copy (DeskOp *op,
                        CoreEntry *entry,
                        char **pairs,
                        const char *from,
                        const char *to,
                        GError **error);
/* The day is left alone when it is not given. */
gboolean
desk_add_day_of (DeskOp *op, char **pairs, const char *key, CoreDay *day, GError **error);
/* The same of one day or several: "about a week ago" gives the latest, and the earliest where
 * `earliest_key` (NULL = there is none) does not. */
gboolean desk_add_days_of (DeskOp *op, char **pairs, const char *key, const char *earliest_key, CoreDay *day,
                           CoreDay *earliest, GError **error);
gboolean
desk_add_beginning (DeskOp *op, CoreId subject, CoreDay day, char **pairs, GError **error);
CoreDay desk_add_first_day (DeskOp *op, CoreDay day); /* of what was begun so far */
gboolean desk_add_species (DeskOp *op,
                           CoreId subject,
                           CoreDay day,
                           const char *species,
                           GError **error);
gboolean desk_add_home (DeskOp *op, CoreId subject, CoreDay day, char **pairs, GError **error);

/* desk-record.c: where on that place a new one, or one that is moved, stands before the other (none =
 * at the end). */
gboolean desk_position_before (Desk *self,
                               CoreId animal,
                               CoreId place,
                               CoreId before,
                               double *at,
                               GError **error);

/* Where it comes from: origin, locality, certainty of the name, parents, line. NULL-ended. */
extern const char *const desk_origin_keys[];

/* desk-add-lot.c */
gboolean desk_add_lot (DeskOp *op, const DeskAddition *addition, GError **error);
/* With a new mother what was said of its number among hers is void; any other entry is left alone. */
gboolean desk_series_follow (DeskOp *op, const CoreEntry *set, GError **error);
gboolean desk_add_eggcase (DeskOp *op, const DeskAddition *addition, GError **error);
gboolean desk_add_culture (DeskOp *op, const DeskAddition *addition, GError **error);
