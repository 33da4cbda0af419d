/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-live.c — which entries count.
 *
 * An entry can only name an earlier id, so one pass from the latest id to the
 * earliest decides each entry after everything that could take it back. A
 * replacement stands in the place of what it names and of all that this one had
 * replaced before, or correcting a correction would bring the first entry back
 * beside it. Each slot is marked once, so the pass is linear after the sort.
 */
#include "core/core-fold.h"

#include <stdlib.h>

typedef struct
{
  const CoreEntry *entry;
  size_t index;          /* in the caller's array */
  const CoreEntry *heir; /* the live replacement that stands in its place */
  bool taken;            /* a live void or replacement takes it out */
  const CoreEntry *by;   /* the live void that does, where no heir stood in its place before */
} Slot;

typedef struct
{
  CoreConflict *v;
  size_t n, cap;
  bool no_memory;
} ConflictList;

static int
compare_slots (const void *a, const void *b)
{
  const Slot *left = a, *right = b;
  int order = core_id_compare (left->entry->id, right->entry->id);

  /* One id twice: the order of content decides which of them is kept. */
  return order != 0 ? order : core_entry_compare (left->entry, right->entry);
}

static void
add_conflict (ConflictList *list, CoreConflictKind kind, CoreId entry, CoreId other)
{
  if (list->n == list->cap)
    {
      size_t cap = list->cap * 2 + 8;
      CoreConflict *v = realloc (list->v, cap * sizeof *v);

      if (v == NULL)
        {
          list->no_memory = true;
          return;
        }
      list->v = v;
      list->cap = cap;
    }
  list->v[list->n++] = (CoreConflict){ .kind = kind, .entry = entry, .other = other };
}

/* The slot with that id among the first `n`, all of which are earlier; NULL = none. */
static Slot *
find_slot (Slot *slots, size_t n, CoreId id)
{
  size_t low = 0, high = n;

  while (low < high)
    {
      size_t middle = low + (high - low) / 2;

      if (core_id_compare (slots[middle].entry->id, id) < 0)
        low = middle + 1;
      else
        high = middle;
    }
  return low < n && core_id_equal (slots[low].entry->id, id) ? &slots[low] : NULL;
}

static bool
replaces (const CoreEntry *entry)
{
  return entry->kind != CORE_KIND_VOID && !core_id_is_none (entry->names);
}

/* What slot `i` names; NULL when that is missing or not earlier. */
static Slot *
target_of (Slot *slots, size_t i)
{
  return find_slot (slots, i, slots[i].entry->names);
}

/* The heir that stands already somewhere along the chain from `target`; NULL = none. */
static const CoreEntry *
heir_of_chain (Slot *slots, Slot *target)
{
  while (target != NULL && target->heir == NULL)
    target = replaces (target->entry) ? target_of (slots, (size_t) (target - slots)) : NULL;
  return target != NULL ? target->heir : NULL;
}

/* `heir` stands for all of the chain, up to where somebody does already. What another copy took back
 * is taken back no more, and told. */
static void
take_chain (Slot *slots, Slot *target, const CoreEntry *heir, ConflictList *conflicts)
{
  while (target != NULL && target->heir == NULL)
    {
      if (target->by != NULL)
        add_conflict (conflicts, CORE_CONFLICT_CORRECTED_AND_VOIDED, heir->id, target->by->id);
      target->taken = true;
      target->heir = heir;
      target = replaces (target->entry) ? target_of (slots, (size_t) (target - slots)) : NULL;
    }
}

/* Of two live replacements the later id counts, which was decided before. */
static bool
decide_replacement (Slot *slots, size_t i, Slot *target, ConflictList *conflicts)
{
  const CoreEntry *heir = heir_of_chain (slots, target);

  take_chain (slots, target, heir != NULL ? heir : slots[i].entry, conflicts);
  if (heir != NULL)
    add_conflict (conflicts, CORE_CONFLICT_TWO_REPLACEMENTS, heir->id, slots[i].entry->id);
  return heir == NULL;
}

/* Decides slot `i`; all later ones are decided. */
static bool
decide (Slot *slots, size_t i, ConflictList *conflicts)
{
  const CoreEntry *entry = slots[i].entry;
  Slot *target;

  if (slots[i].taken || (i > 0 && core_id_equal (slots[i - 1].entry->id, entry->id)))
    return false;
  if (entry->kind != CORE_KIND_VOID && !replaces (entry))
    return true;
  target = target_of (slots, i);
  if (target == NULL)
    {
      add_conflict (conflicts, CORE_CONFLICT_NAMES_MISSING, entry->id, entry->names);
      return true;
    }
  if (entry->kind != CORE_KIND_VOID)
    return decide_replacement (slots, i, target, conflicts);
  if (target->heir != NULL)
    add_conflict (conflicts, CORE_CONFLICT_CORRECTED_AND_VOIDED, target->heir->id, entry->id);
  else
    target->by = entry;
  target->taken = true;
  return true;
}

CoreStatus
core_live (const CoreEntry *const *entries,
           size_t n,
           uint8_t *live,
           CoreConflict **conflicts,
           size_t *n_conflicts)
{
  ConflictList list = { 0 };
  Slot *slots = calloc (n > 0 ? n : 1, sizeof *slots);

  if (slots == NULL)
    return CORE_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    slots[i] = (Slot){ .entry = entries[i], .index = i };
  qsort (slots, n, sizeof *slots, compare_slots);
  for (size_t i = n; i-- > 0;)
    live[slots[i].index] = decide (slots, i, &list);
  free (slots);
  if (list.no_memory || conflicts == NULL)
    {
      free (list.v);
      return list.no_memory ? CORE_NO_MEMORY : CORE_OK;
    }
  *conflicts = list.v;
  *n_conflicts = list.n;
  return CORE_OK;
}
