/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-swap.c — two cups that exchange their places.
 *
 * A place is a shelf and a position on it. Cups whose order was never written stand behind
 * those that have one, in the order shown; once two of a shelf are exchanged, the others keep
 * the position that they are shown at by an entry of their own. */
#include "desk/desk-private.h"

#include <math.h>

#include "desk/desk-identity.h"

double
desk_position_shown (const GPtrArray *subjects, guint cup, CoreId *place)
{
  double at = NAN, last = 0;
  CoreId other;

  desk_subject_place (subjects->pdata[cup], place, &at);
  for (guint i = 0; isnan (at) && i < subjects->len; i++)
    {
      double its = NAN;

      if (!desk_subject_place (subjects->pdata[i], &other, &its) || !core_id_equal (other, *place))
        continue;
      if (i == cup)
        return floor (last) + 1;
      last = isnan (its) ? floor (last) + 1 : MAX (last, its);
    }
  return at;
}

typedef struct
{
  CoreId a, b;
} Swap;

/* Where one of the two stands; its shelf with all on it, in the order shown. */
typedef struct
{
  CoreId place;
  double at;
} Stand;

static gboolean
find_stand (Desk *self, CoreId id, Stand *stand, GError **error)
{
  DeskRecord *record = desk_collection_record (&self->all, id);
  const char *label = record != NULL && record->now != NULL ? desk_subject_label (record->now) : "";
  g_autoptr (GPtrArray) all = NULL;

  if (record == NULL || record->now == NULL || !desk_subject_living (record->now) ||
      !desk_subject_place (record->now, &stand->place, &stand->at))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SWAP_NOWHERE, label, NULL);
      return FALSE;
    }
  all = desk_subjects_on (self, stand->place);
  for (guint i = 0; i < all->len; i++)
    if (core_id_equal (desk_subject_id (all->pdata[i]), id))
      stand->at = desk_position_shown (all, i, &stand->place);
  return TRUE;
}

static CoreEntry *
put_at (DeskOp *op, CoreId id, const Stand *stand)
{
  CoreEntry *entry = desk_op_entry (op, CORE_KIND_HOUSED, id, op->desk->today);

  core_entry_set_ref (entry, CORE_KEY_PLACE, stand->place);
  core_entry_set_num (entry, CORE_KEY_AT, stand->at);
  return entry;
}

/* The others of that place, where their order was never written. */
static void
keep_order (DeskOp *op, CoreId place, const Swap *swap)
{
  g_autoptr (GPtrArray) all = desk_subjects_on (op->desk, place);

  for (guint i = 0; i < all->len; i++)
    {
      CoreId id = desk_subject_id (all->pdata[i]);
      Stand stand;

      if (core_id_equal (id, swap->a) || core_id_equal (id, swap->b) ||
          !desk_subject_place (all->pdata[i], &stand.place, &stand.at) || !isnan (stand.at) ||
          !core_id_equal (stand.place, place))
        continue;
      stand.at = desk_position_shown (all, i, &stand.place);
      put_at (op, id, &stand)->bulk = TRUE;
    }
}

static gboolean
prepare_swap (Desk *self, DeskOp *op, GError **error)
{
  const Swap *swap = op->data;
  Stand a, b;

  if (core_id_equal (swap->a, swap->b))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SWAP_ITSELF, NULL);
      return FALSE;
    }
  if (!find_stand (self, swap->a, &a, error) || !find_stand (self, swap->b, &b, error))
    return FALSE;
  put_at (op, swap->a, &b);
  put_at (op, swap->b, &a);
  keep_order (op, a.place, swap);
  if (!core_id_equal (a.place, b.place))
    keep_order (op, b.place, swap);
  return desk_op_check (op, error);
}

void
desk_swap_async (Desk *self, CoreId a, CoreId b, GAsyncReadyCallback callback, gpointer data)
{
  Swap *swap = g_new0 (Swap, 1);

  *swap = (Swap){ a, b };
  desk_op_start (self, prepare_swap, prepare_swap, swap, g_free, NULL, callback, data);
}

gboolean
desk_swap_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_swap, error) != NULL;
}
