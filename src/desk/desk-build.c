/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-build.c — the whole collection from the journal, on the store's thread.
 *
 * A small journal stays in memory entry by entry. Of a large one each entry is
 * read once and packed; then subject by subject is folded, and the pack let go
 * of who lives no more, so that never more than the packs, or the states, are
 * there at once. */
#include "desk/desk-private.h"

#include <malloc.h>

typedef struct
{
  DeskCollection *all;
  gboolean large; /* entries are packed, else kept as they are */
} Build;

static gboolean
take_entry (gint64 seq, CoreEntry *entry, gpointer data, GError **error)
{
  Build *build = data;
  DeskRecord *record = desk_collection_note (build->all, entry, seq, error);

  if (record == NULL || build->large)
    {
      if (record != NULL)
        {
          if (record->pack == NULL)
            record->pack = g_new0 (DeskPack, 1);
          desk_pack_add (record->pack, &build->all->packed, entry);
        }
      core_entry_free (entry);
      return record != NULL;
    }
  desk_entries_keep (build->all, record, entry);
  return TRUE;
}

/* Little will be written on it, and what there is can be read again. */
static gboolean
is_done_with (const CoreState *state)
{
  return !state->exists || state->end != CORE_END_NONE;
}

static void
fold_record (Build *build, DeskRecord *record)
{
  g_autoptr (GPtrArray) entries = NULL;

  if (record->pack != NULL)
    entries = desk_pack_entries (record->pack, &build->all->packed, record->id);
  else if (record->loaded != NULL)
    entries = g_ptr_array_ref (record->loaded);
  record->made = desk_collection_fold_all (build->all, record, entries);
  if (record->pack != NULL && is_done_with (&record->made->state))
    g_clear_pointer (&record->pack, desk_pack_free);
  else if (record->pack != NULL)
    desk_pack_fit (record->pack);
  record->stale = FALSE;
}

static gboolean
add_subjects (DeskCollection *all, Store *store, GError **error)
{
  g_autoptr (GArray) subjects = store_load_subjects (store, error);

  for (guint i = 0; subjects != NULL && i < subjects->len; i++)
    {
      const StoreSubject *subject = &g_array_index (subjects, StoreSubject, i);

      desk_collection_add_subject (all, subject->id, subject->kind);
    }
  return subjects != NULL;
}

/* By id: who has a number by right is folded before those who have it too. */
static gboolean
rebuild (DeskCollection *all, Store *store, GError **error)
{
  Build build = { all, FALSE };
  gint64 last = 0;
  gboolean ok;

  if (!add_subjects (all, store, error) || !store_last_seq (store, &last, error))
    return FALSE;
  build.large = last > desk_entries_most;
  if (build.large)
    desk_pack_shared_init (&all->packed);
  ok = store_scan_entries (store, 0, take_entry, &build, error) &&
       desk_collection_settle (all, NULL, error);
  for (guint i = 0; ok && i < all->order->len; i++)
    fold_record (&build, all->order->pdata[i]);
  if (build.large)
    malloc_trim (0); /* what the packs took */
  return ok;
}

/* ---- from a snapshot ---- */

typedef struct
{
  GPtrArray *entries; /* owned CoreEntry */
  GArray *seqs;
  StoreTotals totals;
} Newer;

static gboolean
gather_newer (gint64 seq, CoreEntry *entry, gpointer data, GError **error)
{
  Newer *newer = data;

  g_ptr_array_add (newer->entries, entry);
  g_array_append_val (newer->seqs, seq);
  store_totals_add (&newer->totals, entry->id, seq);
  return TRUE;
}

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

static void
newer_clear (Newer *self)
{
  g_clear_pointer (&self->entries, g_ptr_array_unref);
  g_clear_pointer (&self->seqs, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Newer, newer_clear)

/* Is the snapshot of the entries that are there, up to its last one? */
static gboolean
fits (Store *store, const StoreTotals *snapshot, Newer *newer)
{
  StoreTotals now;

  if (!store_totals (store, &now, NULL) || now.count < snapshot->count ||
      now.count - snapshot->count > now.count / 4)
    return FALSE;
  newer->entries = g_ptr_array_new_with_free_func (free_entry);
  newer->seqs = g_array_new (FALSE, FALSE, sizeof (gint64));
  if (!store_scan_entries (store, snapshot->last_seq, gather_newer, newer, NULL) ||
      newer->totals.count != now.count - snapshot->count)
    return FALSE;
  for (gsize i = 0; i < sizeof now.xor_ids.b; i++)
    if ((now.xor_ids.b[i] ^ newer->totals.xor_ids.b[i]) != snapshot->xor_ids.b[i])
      return FALSE;
  return TRUE;
}

/* Subjects of the snapshot and of the journal must be the same, but for new ones. */
static gboolean
add_new_subjects (DeskCollection *all, Store *store)
{
  g_autoptr (GArray) subjects = store_load_subjects (store, NULL);
  guint before = all->order->len, known = 0;

  for (guint i = 0; subjects != NULL && i < subjects->len; i++)
    {
      const StoreSubject *subject = &g_array_index (subjects, StoreSubject, i);
      DeskRecord *record = desk_collection_record (all, subject->id);

      if (record == NULL)
        desk_collection_add_subject (all, subject->id, subject->kind);
      else if (record->kind == subject->kind)
        known++;
    }
  return known == before;
}

/* What has changed since the snapshot is folded anew, and what rests on it forgotten. */
static gboolean
fold_newer (DeskCollection *all)
{
  gboolean place_changed = FALSE;

  for (guint i = 0; i < all->order->len; i++)
    {
      DeskRecord *record = all->order->pdata[i];
      const GPtrArray *entries;

      if (!record->stale && record->made != NULL)
        continue;
      /* The journal holds the keeper's own values of the kinds. */
      place_changed = place_changed || record->kind == CORE_SUBJECT_PLACE ||
                      record->kind == CORE_SUBJECT_JOURNAL;
      entries = desk_collection_entries (all, record, NULL);
      if (entries == NULL)
        return FALSE;
      g_clear_pointer (&record->made, desk_fold_unref);
      g_clear_pointer (&record->kept, desk_kept_free);
      record->made = desk_collection_fold_all (all, record, entries);
      record->stale = FALSE;
    }
  for (guint i = 0; place_changed && i < all->order->len; i++)
    g_clear_pointer (&((DeskRecord *) all->order->pdata[i])->kept, desk_kept_free);
  if (place_changed)
    all->kept_today = CORE_DAY_NONE;
  return TRUE;
}

/* Last: what has changed since the snapshot may be who keeps a number. */
static gboolean
add_conflicts (DeskCollection *all)
{
  for (guint i = 0; i < all->order->len; i++)
    desk_collection_add_conflicts (all, ((DeskRecord *) all->order->pdata[i])->made);
  return TRUE;
}

static gboolean
from_snapshot (DeskCollection *all, Store *store, const DeskBuildAsk *ask)
{
  g_autoptr (DeskSnapshot) snapshot = desk_snapshot_find (store_get_dir (store), ask->profiles);
  g_auto (Newer) newer = { NULL };

  return snapshot != NULL && fits (store, desk_snapshot_totals (snapshot), &newer) &&
         desk_snapshot_read (snapshot, ask->today, all) && add_new_subjects (all, store) &&
         desk_collection_take (all, newer.entries, (const gint64 *) newer.seqs->data, NULL, NULL) &&
         fold_newer (all) && add_conflicts (all);
}

/* ---- the job ---- */

void
desk_build_ask_free (gpointer data)
{
  DeskBuildAsk *ask = data;

  g_free (ask->profiles);
  g_free (ask);
}

void
desk_built_free (DeskBuilt *self)
{
  if (self == NULL)
    return;
  desk_collection_clear (&self->all);
  g_clear_pointer (&self->photos, g_array_unref);
  g_clear_pointer (&self->merged, g_array_unref);
  g_free (self);
}

static gboolean
build (DeskCollection *all, Store *store, const DeskBuildAsk *ask, GError **error)
{
  all->source = store;
  if (ask != NULL && from_snapshot (all, store, ask))
    return TRUE;
  desk_collection_clear (all);
  desk_collection_init (all);
  all->source = store;
  return rebuild (all, store, error);
}

gint64 desk_check_most = 32 << 20;

gpointer
desk_build_job (Store *store, gpointer data, GError **error)
{
  const DeskBuildAsk *ask = data;
  DeskBuilt *built = g_new0 (DeskBuilt, 1);
  gboolean ok;

  desk_collection_init (&built->all);
  /* Subjects and entries of one moment. */
  ok = store_begin_reading (store, error);
  if (ok)
    {
      ok = (ask == NULL || store_check_pages (store, ask->check_most, error)) &&
           build (&built->all, store, ask, error);
      if (ok)
        built->photos = store_load_photos (store, error);
      if (built->photos != NULL)
        built->merged = store_load_merged (store, error);
      ok = store_end_reading (store, built->merged != NULL ? error : NULL) && built->merged != NULL;
    }
  built->all.source = NULL;
  if (!ok)
    g_clear_pointer (&built, desk_built_free);
  return built;
}
