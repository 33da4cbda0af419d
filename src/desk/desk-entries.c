/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-entries.c — entries in memory: those of the subjects that were asked for lately.
 *
 * Invariant: what is in memory of a subject is all of it, in order of arrival.
 * Nothing is let go while somebody may hold it, that is until the next change;
 * only who walks through a whole large journal meets the second bound. */
#include "desk/desk-private.h"

#define MOST_EVER 400000 /* entries, before the next change */
#define LATELY 256       /* subjects asked for last are kept in any case */

guint desk_entries_most = 200000;

void
desk_entries_forget (DeskCollection *self, DeskRecord *record)
{
  for (guint i = 0; record->loaded != NULL && i < record->loaded->len; i++)
    g_hash_table_remove (self->loaded, &((CoreEntry *) record->loaded->pdata[i])->id);
  g_clear_pointer (&record->loaded, g_ptr_array_unref);
}

static int
compare_asked (gconstpointer a, gconstpointer b)
{
  const DeskRecord *x = *(DeskRecord *const *) a;
  const DeskRecord *y = *(DeskRecord *const *) b;

  return x->asked < y->asked ? -1 : x->asked > y->asked;
}

static void
shed (DeskCollection *self, guint most, guint spare)
{
  g_autoptr (GPtrArray) records = NULL;

  if (g_hash_table_size (self->loaded) <= most)
    return;
  records = g_ptr_array_new ();
  for (guint i = 0; i < self->order->len; i++)
    if (((DeskRecord *) self->order->pdata[i])->loaded != NULL)
      g_ptr_array_add (records, self->order->pdata[i]);
  g_ptr_array_sort (records, compare_asked);
  for (guint i = 0; i + spare < records->len && g_hash_table_size (self->loaded) > most / 4 * 3;
       i++)
    desk_entries_forget (self, records->pdata[i]);
}

void
desk_entries_shed (DeskCollection *self)
{
  g_hash_table_remove_all (self->singles);
  shed (self, desk_entries_most, 0);
}

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

static void
know (DeskCollection *self, CoreEntry *entry)
{
  g_hash_table_insert (self->loaded, &entry->id, entry);
}

/* Those of a subject that is in memory, or new, stay; others are read again when asked for. */
void
desk_entries_keep (DeskCollection *self, DeskRecord *record, CoreEntry *entry)
{
  if (record->pack != NULL)
    desk_pack_add (record->pack, &self->packed, entry);
  if (record->loaded == NULL && record->seqs.n == 1)
    record->loaded = g_ptr_array_new_with_free_func (free_entry);
  if (record->loaded == NULL)
    {
      core_entry_free (entry);
      return;
    }
  g_ptr_array_add (record->loaded, entry);
  record->asked = ++self->asked;
  know (self, entry);
}

static void
know_all (DeskCollection *self, DeskRecord *record)
{
  for (guint i = 0; record->loaded != NULL && i < record->loaded->len; i++)
    know (self, record->loaded->pdata[i]);
}

static gboolean
failed (DeskCollection *self, GError *failure_taken, GError **error)
{
  desk_collection_note_failure (self, failure_taken);
  g_propagate_error (error, failure_taken);
  return FALSE;
}

static gboolean
is_open (DeskCollection *self, GError **error)
{
  GError *closed = NULL;

  if (self->source != NULL)
    return TRUE;
  desk_fail (&closed, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
  return failed (self, closed, error);
}

const GPtrArray *
desk_collection_entries (DeskCollection *self, DeskRecord *record, GError **error)
{
  g_autofree gint64 *seqs = NULL;
  GError *failure = NULL;

  record->asked = ++self->asked;
  if (record->loaded != NULL)
    return record->loaded;
  if (record->seqs.n == 0)
    {
      record->loaded = g_ptr_array_new_with_free_func (free_entry);
      return record->loaded;
    }
  if (!is_open (self, error))
    return NULL;
  shed (self, MOST_EVER, LATELY);
  if (record->pack != NULL && record->pack->n == record->seqs.n)
    {
      record->loaded = desk_pack_entries (record->pack, &self->packed, record->id);
      know_all (self, record);
      return record->loaded;
    }
  seqs = g_new (gint64, record->seqs.n);
  desk_seqs_read (&record->seqs, seqs);
  record->loaded = store_load_by_seq (self->source, seqs, record->seqs.n, &failure);
  if (record->loaded == NULL)
    failed (self, failure, error);
  know_all (self, record);
  return record->loaded;
}

/* One alone, of a subject whose others nobody has asked for. */
static CoreEntry *
read_single (DeskCollection *self, CoreId id)
{
  g_autoptr (GError) error = NULL;
  CoreEntry *entry = NULL;
  gint64 seq;

  if (self->source == NULL || core_id_is_none (id))
    return NULL;
  if (!store_find_entry (self->source, id, &seq, &entry, &error))
    desk_collection_note_failure (self, error);
  /* What came after last_seq is noted when it is loaded. */
  if (entry == NULL || seq > self->last_seq)
    {
      core_entry_free (entry);
      return NULL;
    }
  g_hash_table_insert (self->singles, &entry->id, entry);
  return entry;
}

CoreEntry *
desk_collection_entry (DeskCollection *self, CoreId id)
{
  CoreEntry *entry = g_hash_table_lookup (self->loaded, &id);

  if (entry == NULL)
    entry = g_hash_table_lookup (self->singles, &id);
  return entry != NULL ? entry : read_single (self, id);
}

gboolean
desk_collection_is_live (DeskCollection *self, CoreId id)
{
  const DeskNode *node = desk_naming_node (&self->naming, id);

  return node != NULL ? node->live : desk_collection_entry (self, id) != NULL;
}

GPtrArray *
desk_collection_round (DeskCollection *self, guint round, GError **error)
{
  const GArray *rounds = self->rounds.rounds;
  gint64 first = g_array_index (rounds, DeskRound, round).first_seq;
  gint64 last = round + 1 < rounds->len ? g_array_index (rounds, DeskRound, round + 1).first_seq - 1
                                        : self->last_seq;
  GError *failure = NULL;
  GPtrArray *out;

  if (!is_open (self, error))
    return NULL;
  out = store_load_range (self->source, first, last, &failure);
  if (out == NULL)
    failed (self, failure, error);
  return out;
}

GPtrArray *
desk_collection_round_with (DeskCollection *self, CoreId entry, GError **error)
{
  GError *failure = NULL;
  CoreEntry *found = NULL;
  gint64 seq = 0;
  int round;

  if (!is_open (self, error))
    return NULL;
  if (!store_find_entry (self->source, entry, &seq, &found, &failure))
    {
      failed (self, failure, error);
      return NULL;
    }
  round = found != NULL ? desk_rounds_find (&self->rounds, seq) : -1;
  core_entry_free (found);
  if (round >= 0)
    return desk_collection_round (self, (guint) round, error);
  desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_ENTRY, NULL);
  return NULL;
}
