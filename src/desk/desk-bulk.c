/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-bulk.c — a whole journal written at once, for invented collections.
 *
 * What is written is sound by construction: nothing is folded or checked against
 * a state, so that millions of entries cost no more than storing them. Rounds
 * gather in memory and go to the store many at a time; whoever makes a journal
 * so makes it beside its place, for a failure leaves a part of it. */
#include "desk/desk-private.h"

#include <string.h>

#define BATCH 20000 /* entries of one transaction, or a few more */

struct _DeskBulk
{
  /* Owned */
  Store *store;
  GArray *subjects;   /* StoreSubject, not yet written */
  GPtrArray *entries; /* CoreEntry, not yet written */
  GError *error;      /* the first; nothing more is written then */

  StoreStamp stamp;
  guint turn;
  CoreId last;  /* id given last */
  CoreId round; /* of the entries being added; none = the next one begins it */
  guint64 n_entries;
  CoreId journal;
};

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

static CoreId
next_id (DeskBulk *self)
{
  self->last = store_id_next (self->last, &self->stamp, self->turn++);
  return self->last;
}

static void
flush (DeskBulk *self)
{
  StoreBatch batch = { .subjects = (const StoreSubject *) self->subjects->data,
                       .n_subjects = self->subjects->len,
                       .entries = (CoreEntry *const *) self->entries->pdata,
                       .n_entries = self->entries->len,
                       .expect_seq = -1 };

  if (self->error == NULL && batch.n_entries > 0)
    store_append (self->store, &batch, &self->stamp, NULL, &self->error);
  g_array_set_size (self->subjects, 0);
  g_ptr_array_set_size (self->entries, 0);
}

/* As an ordinary new journal begins. */
static void
begin_journal (DeskBulk *self, CoreDay day)
{
  CoreEntry *entry = core_entry_new (CORE_KIND_SET);

  self->journal = desk_bulk_subject (self, CORE_SUBJECT_JOURNAL);
  if (entry == NULL || core_entry_set_text (entry, "key", "scheme") != CORE_VALUE_OK ||
      core_entry_set_text (entry, "value", "1") != CORE_VALUE_OK)
    g_error ("out of memory");
  entry->subject = self->journal;
  entry->day = day;
  desk_bulk_add (self, entry);
}

DeskBulk *
desk_bulk_new (const char *dir, CoreDay day, gint64 now_ms, const guint8 random[16], GError **error)
{
  Store *store = store_open (dir, STORE_CREATE, error);
  DeskBulk *self;

  if (store == NULL)
    return NULL;
  self = g_new0 (DeskBulk, 1);
  self->store = store;
  self->subjects = g_array_new (FALSE, FALSE, sizeof (StoreSubject));
  self->entries = g_ptr_array_new_with_free_func (free_entry);
  desk_bulk_round (self, now_ms, random);
  begin_journal (self, day);
  return self;
}

CoreId
desk_bulk_journal (DeskBulk *self)
{
  return self->journal;
}

gboolean
desk_bulk_round (DeskBulk *self, gint64 now_ms, const guint8 random[16])
{
  if (self->entries->len >= BATCH)
    flush (self);
  self->stamp.now_ms = MAX (now_ms, self->stamp.now_ms);
  memcpy (self->stamp.random, random, sizeof self->stamp.random);
  self->turn = 0;
  self->round = (CoreId){ 0 };
  return self->error == NULL;
}

CoreId
desk_bulk_subject (DeskBulk *self, CoreSubjectKind kind)
{
  StoreSubject subject = { .id = next_id (self), .kind = kind };

  g_array_append_val (self->subjects, subject);
  return subject.id;
}

CoreId
desk_bulk_add (DeskBulk *self, CoreEntry *entry)
{
  entry->id = next_id (self);
  if (core_id_is_none (self->round))
    self->round = entry->id;
  entry->round = self->round;
  entry->written_ms = self->stamp.now_ms;
  g_ptr_array_add (self->entries, entry);
  self->n_entries++;
  return entry->id;
}

guint64
desk_bulk_entries (DeskBulk *self)
{
  return self->n_entries;
}

gboolean
desk_bulk_finish (DeskBulk *self, GError **error)
{
  gboolean ok;

  flush (self);
  ok = self->error == NULL;
  if (!ok)
    g_propagate_error (error, g_steal_pointer (&self->error));
  desk_bulk_free (self);
  return ok;
}

void
desk_bulk_free (DeskBulk *self)
{
  if (self == NULL)
    return;
  store_close (self->store);
  g_array_unref (self->subjects);
  g_ptr_array_unref (self->entries);
  g_clear_error (&self->error);
  g_free (self);
}
