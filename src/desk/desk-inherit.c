/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-inherit.c — who came out of which lot, and so has what from it.
 *
 * A separation writes `split` at the lot and `set key=lot` at each that came out, in one round: that
 * is how they are known of each other. What a single, or a lot of its own, has from its lot is no
 * entry of its own: it is taken from the lot's live entries up to the separation whenever it is
 * folded (core-inherit.c). So what is entered of the lot late, corrected or taken back is true of all
 * that came out of it later, in whatever order it was written.
 *
 * Journals of earlier versions hold copies instead, written for all in that same round. They are left
 * out, but for a kind of which the keeper has changed one there: then these stand as they are. What
 * is entered of one alone for its time in the lot stands before what it has from the lot. */
#include "desk/desk-private.h"

#include <string.h>

#include "core/core-inherit.h"

/* Parts of parts of lots; a merge of damaged journals could make a circle. */
#define DEEPEST 16

struct _DeskWill
{
  CoreId lot, round; /* of that separation */
  int ahead;
  CoreDay day;
  GPtrArray *facts; /* owned CoreEntry: of any single of it; NULL = there is none such */
};

typedef struct
{
  DeskCollection *all;
  const DeskFoldHow *how;
  GPtrArray *owned;
  int depth;
} Inherit;

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

void
desk_inherit_forget (DeskCollection *self)
{
  if (self->will != NULL)
    g_clear_pointer (&self->will->facts, g_ptr_array_unref);
  g_clear_pointer (&self->will, g_free);
}

/* Of one that is there. */
static gboolean
lives (DeskCollection *self, CoreId entry)
{
  const DeskNode *node = desk_naming_node (&self->naming, entry);

  return node == NULL || node->live;
}

/* ---- which lot, which separation ---- */

/* The round in which it was written, before any correction; none: not written yet. */
static CoreId
first_round (DeskCollection *self, const CoreEntry *entry)
{
  while (!core_id_is_none (entry->names) && core_id_compare (entry->names, entry->id) < 0)
    {
      const CoreEntry *before = desk_collection_entry (self, entry->names);

      if (before == NULL)
        break;
      entry = before;
    }
  return entry->round;
}

static gboolean
sets (const CoreEntry *entry, const char *key)
{
  return entry->kind == CORE_KIND_SET && strcmp (core_entry_str (entry, CORE_KEY_KEY), key) == 0;
}

/* What counts of a setting; NULL = it was never set. */
static const CoreEntry *
last_set (const GPtrArray *live, const char *key)
{
  const CoreEntry *last = NULL;

  for (guint i = 0; i < live->len; i++)
    if (sets (live->pdata[i], key) && (last == NULL || core_entry_compare (live->pdata[i], last) > 0))
      last = live->pdata[i];
  return last;
}

static int
ahead_of (const GPtrArray *live)
{
  const CoreEntry *said = last_set (live, "ahead");
  const char *value = said != NULL ? core_entry_str (said, CORE_KEY_VALUE) : "";

  return strcmp (value, "yes") == 0 ? 1 : strcmp (value, "no") == 0 ? 0 : CORE_AHEAD_UNSAID;
}

/* By which it was taken out of the lot: a part of it is named there, singles are not. */
static const CoreEntry *
split_of (DeskCollection *self, const GPtrArray *lot, const DeskRecord *record, CoreId round)
{
  CoreId named = record->kind == CORE_SUBJECT_LOT ? record->id : (CoreId){ { 0 } };

  for (guint i = 0; i < lot->len; i++)
    {
      const CoreEntry *entry = lot->pdata[i];

      if (entry->kind == CORE_KIND_SPLIT &&
          core_id_equal (core_entry_ref (entry, CORE_KEY_WITH), named) &&
          core_id_equal (first_round (self, entry), round))
        return entry;
    }
  return NULL;
}

static gboolean inherit (const Inherit *self, DeskRecord *record, const GPtrArray *all, GPtrArray *live);

/* The live entries of a lot, with what it has itself from another; NULL: unreadable. */
static GPtrArray *
live_of_lot (const Inherit *self, DeskRecord *lot)
{
  const Inherit deeper = { self->all, self->how, self->owned, self->depth + 1 };
  const GPtrArray *all = desk_collection_entries (self->all, lot, NULL);
  g_autoptr (GPtrArray) live = g_ptr_array_new ();

  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      CoreEntry *entry = all->pdata[i];

      if (lives (self->all, entry->id) && !core_id_equal (entry->id, self->how->without))
        g_ptr_array_add (live, entry);
    }
  return all != NULL && inherit (&deeper, lot, all, live) ? g_steal_pointer (&live) : NULL;
}

/* ---- what older journals hold as copies ---- */

typedef struct
{
  CoreId round;      /* of the separation */
  guint64 kinds;     /* bits of CoreKind: of these the keeper has changed one */
  GPtrArray *keys;   /* borrowed: the same of settings */
} Copies;

static gboolean
is_copy (const CoreEntry *entry, CoreId round)
{
  return core_id_equal (entry->round, round) && core_id_is_none (entry->names) &&
         (entry->bulk || entry->kind == CORE_KIND_SET) && core_inherit_takes (entry);
}

static gboolean
stands (const Copies *copies, const CoreEntry *entry)
{
  const char *key = core_entry_str (entry, CORE_KEY_KEY);

  if (entry->kind != CORE_KIND_SET)
    return (copies->kinds & (G_GUINT64_CONSTANT (1) << entry->kind)) != 0;
  for (guint i = 0; i < copies->keys->len; i++)
    if (strcmp (copies->keys->pdata[i], key) == 0)
      return TRUE;
  return FALSE;
}

static void
find_changed (DeskCollection *self, const GPtrArray *all, Copies *copies)
{
  G_STATIC_ASSERT (CORE_N_KINDS <= 64);

  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const CoreEntry *entry = all->pdata[i];

      if (!is_copy (entry, copies->round) || lives (self, entry->id))
        continue;
      if (entry->kind == CORE_KIND_SET)
        g_ptr_array_add (copies->keys, (gpointer) core_entry_str (entry, CORE_KEY_KEY));
      else
        copies->kinds |= G_GUINT64_CONSTANT (1) << entry->kind;
    }
}

static void
drop_copies (const Copies *copies, GPtrArray *live)
{
  for (guint i = live->len; i-- > 0;)
    if (is_copy (live->pdata[i], copies->round) && !stands (copies, live->pdata[i]))
      g_ptr_array_remove_index_fast (live, i);
}

/* ---- what it has ---- */

/* Its stage was told of this one itself on the day for which the lot has one. */
static gboolean
told_stage (const CoreEntry *own, const CoreEntry *fact)
{
  return own->kind == CORE_KIND_STAGE && own->day == fact->day && core_entry_get (own, CORE_KEY_MOULTS) != NULL &&
         (fact->kind == CORE_KIND_JOINED ||
          (fact->kind == CORE_KIND_STAGE && core_entry_get (fact, CORE_KEY_MOULTS) != NULL));
}

/* Is it entered of this one itself, among its own entries: its species, hatch, arrival, stage, that moult? */
static gboolean
said_of_itself (const GPtrArray *live, guint own_entries, const CoreEntry *fact, CoreDay since)
{
  for (guint i = 0; i < own_entries; i++)
    {
      const CoreEntry *own = live->pdata[i];

      if (told_stage (own, fact))
        return TRUE;
      if (own->kind != fact->kind)
        continue;
      if (fact->kind == CORE_KIND_HATCHED || fact->kind == CORE_KIND_ACQUIRED ||
          (sets (fact, "species") && sets (own, "species")))
        return TRUE;
      if (fact->kind == CORE_KIND_MOULTED && own->day <= since &&
          own->day > (fact->earliest != CORE_DAY_NONE ? fact->earliest : fact->day) - CORE_MOULTS_APART &&
          own->day < fact->day + CORE_MOULTS_APART)
        return TRUE;
    }
  return FALSE;
}

static GPtrArray *
facts_of (const CoreHeir *heir, const GPtrArray *lot)
{
  GPtrArray *facts = g_ptr_array_new_with_free_func (free_entry);
  CoreEntry **copies;
  size_t n;

  if (core_inherit (heir, (const CoreEntry *const *) lot->pdata, lot->len, &copies, &n) != CORE_OK)
    g_error ("out of memory while folding a lot");
  for (size_t i = 0; i < n; i++)
    g_ptr_array_add (facts, copies[i]);
  free (copies);
  return facts;
}

/* What whoever came out of that lot in that round has from it, in `will`; FALSE: unreadable. */
static gboolean
read_will (const Inherit *self, DeskRecord *record, DeskRecord *from, DeskWill *will)
{
  g_autoptr (GPtrArray) lot = live_of_lot (self, from);
  const CoreEntry *split = lot != NULL ? split_of (self->all, lot, record, will->round) : NULL;

  if (split != NULL)
    {
      will->day = split->day;
      will->facts = facts_of (&(CoreHeir){ record->kind, split, will->ahead }, lot);
    }
  return lot != NULL;
}

/* The singles of a separation have the same, and are mostly folded one after the other. */
static gboolean
find_will (const Inherit *self, DeskRecord *record, DeskRecord *from, DeskWill *will)
{
  const DeskWill *last = self->all->will;
  gboolean keep = self->how == &desk_fold_now && record->kind == CORE_SUBJECT_ANIMAL;

  if (keep && last != NULL && last->ahead == will->ahead && core_id_equal (last->lot, will->lot) &&
      core_id_equal (last->round, will->round))
    {
      *will = *last;
      if (will->facts != NULL)
        g_ptr_array_ref (will->facts);
      return TRUE;
    }
  if (!read_will (self, record, from, will))
    return FALSE;
  if (!keep)
    return TRUE;
  desk_inherit_forget (self->all);
  self->all->will = g_memdup2 (will, sizeof *will);
  if (will->facts != NULL)
    g_ptr_array_ref (will->facts);
  return TRUE;
}

static void
add_facts (const Inherit *self, DeskRecord *record, const GPtrArray *facts, const Copies *copies,
           CoreDay since, GPtrArray *live)
{
  guint n = live->len;

  for (guint i = 0; i < facts->len; i++)
    {
      const CoreEntry *fact = facts->pdata[i];
      CoreEntry *copy;

      if (stands (copies, fact) || said_of_itself (live, n, fact, since) ||
          (self->how->until != CORE_DAY_NONE && fact->day > self->how->until && fact->kind != CORE_KIND_SET))
        continue;
      copy = core_entry_copy (fact);
      if (copy == NULL)
        g_error ("out of memory while folding a subject");
      copy->subject = record->id;
      g_ptr_array_add (self->owned, copy);
      g_ptr_array_add (live, copy);
    }
}

static gboolean
inherit (const Inherit *self, DeskRecord *record, const GPtrArray *all, GPtrArray *live)
{
  const CoreEntry *set = record->kind == CORE_SUBJECT_ANIMAL || record->kind == CORE_SUBJECT_LOT
                           ? last_set (live, "lot")
                           : NULL;
  g_autoptr (GPtrArray) keys = g_ptr_array_new ();
  g_autoptr (GPtrArray) facts = NULL;
  Copies copies = { .keys = keys };
  DeskWill will = { .ahead = ahead_of (live) };
  DeskRecord *from;

  if (set == NULL || self->depth > DEEPEST || core_id_is_none (set->round) ||
      !core_id_from_text (core_entry_str (set, CORE_KEY_VALUE), &will.lot))
    return TRUE;
  from = desk_collection_record (self->all, will.lot);
  if (from == NULL || from->kind != CORE_SUBJECT_LOT || from == record)
    return TRUE;
  will.round = copies.round = first_round (self->all, set);
  if (!find_will (self, record, from, &will))
    return FALSE;
  facts = will.facts;
  if (facts == NULL)
    return TRUE;
  find_changed (self->all, all, &copies);
  drop_copies (&copies, live);
  add_facts (self, record, facts, &copies, will.day, live);
  return TRUE;
}

gboolean
desk_inherit (DeskCollection *self,
              DeskRecord *record,
              const GPtrArray *all,
              const DeskFoldHow *how,
              GPtrArray *live,
              GPtrArray *owned)
{
  const Inherit top = { self, how, owned, 0 };

  return inherit (&top, record, all, live);
}

/* ---- for whoever reads them ---- */

GPtrArray *
desk_inherit_history (DeskCollection *self, DeskRecord *record, GError **error)
{
  const GPtrArray *all = desk_collection_entries (self, record, error);
  g_autoptr (GPtrArray) owned = g_ptr_array_new_with_free_func (free_entry);
  g_autoptr (GPtrArray) live = g_ptr_array_new ();
  g_autoptr (GPtrArray) out = g_ptr_array_new ();
  g_autoptr (GHashTable) shown = g_hash_table_new (NULL, NULL);

  if (all == NULL)
    return NULL;
  for (guint i = 0; i < all->len; i++)
    if (lives (self, ((CoreEntry *) all->pdata[i])->id))
      g_ptr_array_add (live, all->pdata[i]);
  if (!desk_inherit (self, record, all, &desk_fold_now, live, owned))
    {
      self->unreadable = TRUE;
      desk_collection_readable (self, error);
      return NULL;
    }
  for (guint i = 0; i < live->len; i++)
    g_hash_table_add (shown, live->pdata[i]);
  /* Dead ones as they are, of the live ones those that count. */
  for (guint i = 0; i < all->len; i++)
    if (g_hash_table_contains (shown, all->pdata[i]) ||
        !lives (self, ((CoreEntry *) all->pdata[i])->id))
      g_ptr_array_add (out, all->pdata[i]);
  for (guint i = 0; i < owned->len; i++)
    {
      const CoreEntry *copy = owned->pdata[i];
      CoreEntry *entry = g_hash_table_contains (shown, copy) && core_id_equal (copy->subject, record->id)
                           ? desk_collection_entry (self, copy->id)
                           : NULL;

      if (entry != NULL)
        g_ptr_array_add (out, entry);
    }
  return g_steal_pointer (&out);
}

/* ---- whom a change of a lot concerns ---- */

void
desk_inherit_note (DeskCollection *self, DeskRecord *record, const CoreState *state)
{
  DeskRecord *lot;

  if (core_id_is_none (state->lot) || (record->kind != CORE_SUBJECT_ANIMAL && record->kind != CORE_SUBJECT_LOT))
    return;
  record->lot_since = state->lot_since;
  if (core_id_equal (record->lot, state->lot))
    return;
  record->lot = state->lot;
  lot = desk_collection_record (self, state->lot);
  if (lot == NULL)
    return;
  if (lot->heirs == NULL)
    lot->heirs = g_ptr_array_new ();
  g_ptr_array_add (lot->heirs, record);
}

/* Also a look: it bounds a moult of the lot. What is of a later day than the separation, as nearly all
 * that is written of a lot, concerns nobody who is out of it, but for the species. */
static void
concern (const DeskRecord *lot, const CoreEntry *entry, int depth, void (*func) (DeskRecord *heir, gpointer data),
         gpointer data)
{
  for (guint i = 0; lot->heirs != NULL && depth <= DEEPEST && i < lot->heirs->len; i++)
    {
      DeskRecord *heir = lot->heirs->pdata[i];

      if ((entry->day > heir->lot_since && entry->kind != CORE_KIND_SET) || !core_id_equal (heir->lot, lot->id))
        continue;
      func (heir, data);
      concern (heir, entry, depth + 1, func, data);
    }
}

void
desk_inherit_concern (DeskCollection *self,
                      const CoreEntry *entry,
                      void (*func) (DeskRecord *heir, gpointer data),
                      gpointer data)
{
  const DeskRecord *lot = desk_collection_record (self, entry->subject);

  if (lot != NULL && lot->heirs != NULL)
    concern (lot, entry, 0, func, data);
}
