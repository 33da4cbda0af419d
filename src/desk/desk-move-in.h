/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-move-in.h — many animals at once, as one round: one transaction, one undo. */
#pragma once

#include "desk/desk-when.h"
#include "desk/desk.h"

G_BEGIN_DECLS

typedef struct
{
  char *place; /* code or name; made when there is none; NULL = nowhere */
  double at;   /* order on it; NAN = after what stands there */
  char *number;
  char *species;      /* as desk_find_profile takes it; NULL = unknown */
  char *stage;        /* "L4", "L4-5", "adult": NULL = unknown */
  CoreSeenStage seen; /* what `stage` says of it, or unknown */
  int moults;         /* the least that `stage` can mean; -1 = no number */
  int scheme;         /* of its own stage; 0 = that of all */
  CoreSex sex;        /* as told */
  char *sex_doubt; /* how it was told, where the giver was not sure: "f?"; NULL = without a doubt */
  char *name, *locality, *notes; /* NULL = none */
  DeskWhen moult, fed;
} DeskNewcomer;

DeskNewcomer *desk_newcomer_new (void); /* all unknown */
void desk_newcomer_free (DeskNewcomer *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskNewcomer, desk_newcomer_free)

/* Takes `newcomers` (DeskNewcomer *); `scheme`: the L-number of the hatchling in their stages. */
void desk_move_in_async (Desk *self,
                         GPtrArray *newcomers,
                         int scheme,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data);
gboolean desk_move_in_finish (Desk *self, GAsyncResult *result, GError **error);

/* The living place with this code or name; NULL = none. */
DeskSubject *desk_place_called (Desk *self, const char *name);

G_END_DECLS
