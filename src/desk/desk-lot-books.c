/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-lot-books.c — the sums of lots, over all of a journal.
 *
 * Invariant: both sides of a move are written together and taken back together, no lot is
 * ever left with less than nothing, and what came out of one lot is what began the other,
 * on whatever day an entry is made, corrected or taken back. So nobody is made or lost by
 * entering things in another order. */
#include "desk/desk-private.h"

typedef struct
{
  gboolean exists;
  guint missing;    /* taken out beyond a count */
  gint64 began;     /* of a part of another lot, once its count is known; else -1 */
  gint64 split_off; /* of a lot that went into another; else -1 */
} Books;

static Books
books_of (const CoreState *state)
{
  gboolean part = state->kind == CORE_SUBJECT_LOT && core_state_setting (state, "lot") != NULL;
  Books books = { .exists = state->exists, .began = -1, .split_off = -1 };

  for (gsize i = 0; i < state->conflicts.n; i++)
    books.missing += state->conflicts.v[i].kind == CORE_CONFLICT_TALLY;
  if (part && state->tally.known)
    books.began = state->tally.began;
  if (state->end == CORE_END_JOINED)
    books.split_off = state->tally.split_off;
  return books;
}

/* The lot as it will be with what the operation writes, takes back and replaces. */
static gboolean
books_after (DeskOp *op, DeskRecord *record, Books *books, GError **error)
{
  const GPtrArray *entries = desk_collection_entries (&op->desk->all, record, error);
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  g_autofree guint8 *live = NULL;
  CoreId lot = record->id;
  CoreState state;
  guint n = 0;

  if (entries == NULL)
    return FALSE;
  for (guint i = 0; i < entries->len; i++)
    g_ptr_array_add (all, entries->pdata[i]);
  for (guint i = 0; i < op->entries->len; i++)
    if (core_id_equal (((CoreEntry *) op->entries->pdata[i])->subject, lot))
      g_ptr_array_add (all, op->entries->pdata[i]);
  live = g_new0 (guint8, all->len + 1);
  core_state_init (&state);
  if (core_live ((const CoreEntry *const *) all->pdata, all->len, live, NULL, NULL) != CORE_OK)
    g_error ("out of memory");
  for (guint i = 0; i < all->len; i++)
    if (live[i])
      all->pdata[n++] = all->pdata[i];
  if (core_fold (lot, CORE_SUBJECT_LOT, (const CoreEntry *const *) all->pdata, n, &state) !=
      CORE_OK)
    g_error ("out of memory");
  *books = books_of (&state);
  core_state_clear (&state);
  return TRUE;
}

static gboolean
check_lot (DeskOp *op, DeskRecord *record, GError **error)
{
  Books before = books_of (desk_subject_state (record->now));
  Books after;
  gboolean moved;

  if (!books_after (op, record, &after, error))
    return FALSE;
  moved = (before.began >= 0 && after.began != before.began) ||
          (before.split_off >= 0 && after.split_off >= 0 && after.split_off != before.split_off);
  if (!after.exists || (after.missing <= before.missing && !moved))
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_REFUSED,
             moved ? WORDS_DESK_LOT_ELSEWHERE : WORDS_DESK_LOT_NEGATIVE,
             desk_subject_label (record->now), NULL);
  return FALSE;
}

/* ---- one side of a move ---- */

static gboolean
is_named (DeskOp *op, CoreId id)
{
  for (guint i = 0; i < op->entries->len; i++)
    if (core_id_equal (((CoreEntry *) op->entries->pdata[i])->names, id))
      return TRUE;
  return FALSE;
}

/* Taking out of a lot or an egg case, and putting in, has its other side in the same round. */
static gboolean
one_side_only (DeskOp *op, const CoreEntry *entry, gboolean *one, GError **error)
{
  g_autoptr (GPtrArray) round = NULL;

  *one = FALSE;
  if (entry->kind != CORE_KIND_SPLIT && entry->kind != CORE_KIND_JOINED)
    return TRUE;
  round = desk_collection_round_with (&op->desk->all, entry->id, error);
  for (guint i = 0; round != NULL && i < round->len && !*one; i++)
    {
      CoreId other = ((CoreEntry *) round->pdata[i])->id;

      *one = desk_collection_is_live (&op->desk->all, other) && !is_named (op, other);
    }
  return round != NULL;
}

/* Does the operation take back what took that entry back? */
static gboolean
comes_back (DeskOp *op, CoreId id)
{
  for (guint i = 0; i < op->entries->len; i++)
    {
      CoreId names = ((CoreEntry *) op->entries->pdata[i])->names;
      const CoreEntry *gone = core_id_is_none (names) ? NULL : desk_collection_entry (&op->desk->all, names);
      gboolean restores;
      const CoreEntry *fact = gone != NULL ? desk_entry_named (op->desk, gone, &restores) : NULL;

      if (fact != NULL && core_id_equal (fact->id, id))
        return TRUE;
    }
  return FALSE;
}

/* What took a move back is taken back itself: both sides of the move come back, or none. */
static gboolean
half_comes_back (DeskOp *op, const CoreEntry *taken, gboolean *half, GError **error)
{
  gboolean restores = FALSE;
  const CoreEntry *fact = taken->kind == CORE_KIND_VOID ? desk_entry_named (op->desk, taken, &restores) : NULL;
  g_autoptr (GPtrArray) round = NULL;

  *half = FALSE;
  if (fact == NULL || restores || (fact->kind != CORE_KIND_SPLIT && fact->kind != CORE_KIND_JOINED))
    return TRUE;
  round = desk_collection_round_with (&op->desk->all, fact->id, error);
  for (guint i = 0; round != NULL && i < round->len && !*half; i++)
    {
      CoreId other = ((CoreEntry *) round->pdata[i])->id;

      *half = !desk_collection_is_live (&op->desk->all, other) && !comes_back (op, other);
    }
  return round != NULL;
}

static gboolean
check_sides (DeskOp *op, const CoreEntry *entry, const DeskRecord *record, GError **error)
{
  const CoreEntry *named =
    core_id_is_none (entry->names) ? NULL : desk_collection_entry (&op->desk->all, entry->names);

  gboolean one, half;

  if (named == NULL || !desk_collection_is_live (&op->desk->all, named->id))
    return TRUE;
  if (!half_comes_back (op, named, &half, error))
    return FALSE;
  if (half)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_REFUSED, WORDS_DESK_LOT_HALF_BACK,
                 desk_subject_label (record->now), NULL);
      return FALSE;
    }
  if (!one_side_only (op, named, &one, error))
    return FALSE;
  if (!one)
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_REFUSED, WORDS_DESK_LOT_ONE_SIDE,
             desk_subject_label (record->now), NULL);
  return FALSE;
}

gboolean
desk_lot_check (DeskOp *op, GError **error)
{
  g_autoptr (GHashTable) seen = desk_id_set_new ();

  for (guint i = 0; i < op->entries->len; i++)
    {
      const CoreEntry *entry = op->entries->pdata[i];
      CoreId id = entry->subject;
      DeskRecord *record = desk_collection_record (&op->desk->all, id);

      if (record == NULL || record->now == NULL)
        continue;
      if (!check_sides (op, entry, record, error))
        return FALSE;
      if (record->kind != CORE_SUBJECT_LOT || g_hash_table_contains (seen, &id))
        continue;
      desk_id_set_add (seen, id);
      if (!check_lot (op, record, error))
        return FALSE;
    }
  return TRUE;
}
