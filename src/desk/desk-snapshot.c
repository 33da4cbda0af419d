/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-snapshot.c — the collection kept beside the journal, so that opening need not read it all.
 *
 * First the books, then subjects with their states and outlooks. Invariant: a
 * snapshot is used only when the program, the profiles, the number of entries up
 * to its last one and the XOR of their ids are equal and every byte of it bears
 * our seal; in any doubt all is built anew from the entries. */
#include "desk/desk-sealed.h"

#include <string.h>

#include "desk/desk-sources.h"

#define FORM 4         /* of what is written; also told by sizes */
#define PIECE (1 << 16) /* bytes, or a little more, that are written at a time */
#define PROGRAM MANTIDARY_VERSION " " DESK_SOURCES

/* ---- taking it, on the main thread ---- */

typedef struct
{
  DeskSubject *subject; /* owned */
  DeskSeqs seqs;        /* owned */
  DeskPack *pack;       /* owned; NULL = none */
} Kept;

typedef struct
{
  StoreTotals totals;
  char *dir, *name;  /* owned */
  GByteArray *books; /* owned; NULL once written */
  GArray *subjects;  /* Kept */
  guint8 key[DESK_SEAL_KEY];
  guint next; /* subject to be written */
} Taken;

static void
kept_clear (gpointer data)
{
  Kept *kept = data;

  desk_subject_unref (kept->subject);
  desk_seqs_clear (&kept->seqs);
  desk_pack_free (kept->pack);
}

static void
taken_free (gpointer data)
{
  Taken *self = data;

  g_free (self->dir);
  g_free (self->name);
  g_clear_pointer (&self->books, g_byte_array_unref);
  g_array_unref (self->subjects);
  g_free (self);
}

/* What it is a snapshot of, besides the entries: only this very program uses it, with these
 * profiles. */
static char *
name_of (const char *profiles)
{
  return g_strconcat (PROGRAM, " ", profiles, NULL);
}

static void
freeze_rounds (GByteArray *out, const DeskRounds *all)
{
  gint64 last = 0;

  desk_freeze_number (out, all->devices->len);
  for (guint i = 0; i < all->devices->len; i++)
    desk_freeze_id (out, g_array_index (all->devices, CoreId, i));
  desk_freeze_id (out, all->last);
  desk_freeze_number (out, all->rounds->len);
  for (guint i = 0; i < all->rounds->len; i++)
    {
      const DeskRound *round = &g_array_index (all->rounds, DeskRound, i);

      desk_freeze_number (out, (guint64) (round->first_seq - last));
      desk_freeze_number (out, round->n);
      desk_freeze_number (out, round->dead);
      desk_freeze_number (out, (guint64) round->device << 1 | (round->bulk_void ? 1 : 0));
      if (round->bulk_void)
        desk_freeze_id (out, round->names);
      last = round->first_seq;
    }
}

static void
freeze_ids (GByteArray *out, const GArray *ids)
{
  desk_freeze_number (out, ids != NULL ? ids->len : 0);
  for (guint i = 0; ids != NULL && i < ids->len; i++)
    desk_freeze_id (out, g_array_index (ids, CoreId, i));
}

static void
freeze_naming (GByteArray *out, const DeskNaming *all)
{
  GHashTableIter iter;
  gpointer value;

  desk_freeze_number (out, g_hash_table_size (all->nodes));
  g_hash_table_iter_init (&iter, all->nodes);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      const DeskNode *node = value;

      desk_freeze_id (out, node->entry.id);
      desk_freeze_id (out, node->entry.subject);
      desk_freeze_id (out, node->entry.names);
      desk_freeze_number (out, node->entry.kind);
      desk_freeze_raw (out, &node->entry.day, sizeof node->entry.day);
      desk_freeze_number (out, (guint64) node->seq);
      desk_freeze_number (out, (node->entry.bulk ? 1u : 0u) | (node->live ? 2u : 0u));
    }
  desk_freeze_number (out, all->conflicts->len);
  for (guint i = 0; i < all->conflicts->len; i++)
    {
      const CoreConflict *conflict = &g_array_index (all->conflicts, CoreConflict, i);

      desk_freeze_number (out, conflict->kind);
      desk_freeze_id (out, conflict->entry);
      desk_freeze_id (out, conflict->other);
    }
}

static void
freeze_numbers (GByteArray *out, GHashTable *numbers)
{
  GHashTableIter iter;
  gpointer number, owner;

  desk_freeze_number (out, g_hash_table_size (numbers));
  g_hash_table_iter_init (&iter, numbers);
  while (g_hash_table_iter_next (&iter, &number, &owner))
    {
      desk_freeze_text (out, number);
      desk_freeze_id (out, *(CoreId *) owner);
    }
}

/* What another build may have otherwise, though it says the same version. */
static void
freeze_form (GByteArray *out)
{
  desk_freeze_number (out, FORM);
  desk_freeze_number (out, sizeof (DeskFold));
  desk_freeze_number (out, sizeof (CoreForecast));
  desk_freeze_number (out, core_state_n_arrays);
  for (size_t i = 0; i < core_state_n_arrays; i++)
    desk_freeze_number (out, core_state_arrays[i].size);
}

static GByteArray *
freeze_books (const DeskCollection *all, CoreDay today)
{
  GByteArray *out = g_byte_array_new ();

  freeze_form (out);
  desk_freeze_raw (out, &today, sizeof today);
  desk_freeze_id (out, all->last_id);
  desk_freeze_number (out, all->top_number);
  for (gsize i = 0; i < G_N_ELEMENTS (all->top_codes); i++)
    desk_freeze_number (out, all->top_codes[i]);
  freeze_rounds (out, &all->rounds);
  freeze_naming (out, &all->naming);
  freeze_numbers (out, all->numbers);
  freeze_ids (out, all->packed.rounds);
  freeze_ids (out, all->packed.devices.devices);
  desk_freeze_number (out, all->order->len);
  return out;
}

static DeskPack *
copy_of_pack (const DeskRecord *record)
{
  DeskPack *copy;

  if (record->pack == NULL || record->pack->n != record->seqs.n || record->pack->len == 0)
    return NULL;
  copy = g_memdup2 (record->pack, sizeof *copy);
  copy->bytes = g_memdup2 (record->pack->bytes, copy->len);
  copy->cap = copy->len;
  return copy;
}

static Taken *
take (Desk *desk, const guint8 key[DESK_SEAL_KEY])
{
  Taken *self = g_new0 (Taken, 1);
  const DeskCollection *all = &desk->all;
  g_autofree char *profiles = desk_profiles_key (desk->profiles);

  self->totals = all->totals;
  self->dir = g_strdup (store_get_dir (desk->store));
  self->name = name_of (profiles);
  self->books = freeze_books (all, desk->today);
  self->subjects = g_array_sized_new (FALSE, FALSE, sizeof (Kept), all->order->len);
  g_array_set_clear_func (self->subjects, kept_clear);
  memcpy (self->key, key, sizeof self->key);
  for (guint i = 0; i < all->order->len; i++)
    {
      const DeskRecord *record = all->order->pdata[i];
      Kept kept = { desk_subject_ref (record->now), record->seqs, copy_of_pack (record) };

      kept.seqs.bytes = g_memdup2 (record->seqs.bytes, record->seqs.len);
      g_array_append_val (self->subjects, kept);
    }
  return self;
}

/* ---- writing it, on a thread of its own: nobody who saves or reads waits for it ---- */

static void
freeze_pack (GByteArray *out, const DeskPack *pack)
{
  desk_freeze_number (out, pack != NULL ? pack->n : 0);
  if (pack == NULL)
    return;
  desk_freeze_raw (out, &pack->day, sizeof pack->day);
  desk_freeze_raw (out, &pack->written, sizeof pack->written);
  desk_freeze_number (out, pack->len);
  desk_freeze_raw (out, pack->bytes, pack->len);
}

static void
freeze_subject (GByteArray *out, const Kept *kept)
{
  DeskKept *computed = desk_subject_keep (kept->subject);

  desk_freeze_id (out, desk_subject_id (kept->subject));
  desk_freeze_number (out, desk_subject_kind (kept->subject));
  desk_freeze_number (out, kept->seqs.n);
  desk_freeze_number (out, (guint64) kept->seqs.last);
  desk_freeze_number (out, kept->seqs.len);
  desk_freeze_raw (out, kept->seqs.bytes, kept->seqs.len);
  freeze_pack (out, kept->pack);
  desk_freeze_fold (out, desk_subject_fold (kept->subject));
  desk_freeze_kept (out, computed);
  desk_kept_free (computed);
}

static gboolean
more (GByteArray *out, gpointer data)
{
  Taken *self = data;

  if (self->books != NULL)
    desk_freeze_raw (out, self->books->data, self->books->len);
  g_clear_pointer (&self->books, g_byte_array_unref);
  for (guint before = out->len; self->next < self->subjects->len && out->len < before + PIECE;)
    freeze_subject (out, &g_array_index (self->subjects, Kept, self->next++));
  return self->next < self->subjects->len;
}

static void
write_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Taken *self = data;
  GError *error = NULL;

  if (desk_sealed_write (self->dir, self->name, self->key, &self->totals, more, self, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

/* So that who opens it need not walk over all ids to know that it fits. */
static gpointer
totals_job (Store *store, gpointer data, GError **error)
{
  store_keep_totals (store, data, error);
  return NULL;
}

static void
totals_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  store_run_finish (result, &error);
  if (error != NULL)
    g_debug ("the totals are not kept: %s", error->message);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Desk) self = data;
  const Taken *taken = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  self->keeping = FALSE;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    g_debug ("no snapshot: %s", error->message);
  else if (self->store != NULL)
    store_run_async (self->store, totals_job, g_memdup2 (&taken->totals, sizeof taken->totals),
                     g_free, NULL, NULL, totals_cb, NULL);
  desk_ops_settle (self);
}

void
desk_snapshot_write (Desk *self)
{
  g_autoptr (GTask) task = NULL;
  guint8 key[DESK_SEAL_KEY];

  if (self->store == NULL || self->keeping || self->all.unreadable || desk_read_only (self) ||
      !desk_seal_key (key, TRUE))
    return;
  task = g_task_new (NULL, NULL, written_cb, g_object_ref (self)); /* a thread lets go of its task late */
  g_task_set_task_data (task, take (self, key), taken_free);
  self->keeping = TRUE;
  self->all.kept = self->all.totals;
  self->all.kept_today = self->flags & DESK_OPEN_LAZY ? CORE_DAY_NONE : self->today;
  g_task_run_in_thread (task, write_thread);
}

/* A small journal is read as quickly as its snapshot. */
gboolean
desk_snapshot_is_due (Desk *self)
{
  const DeskCollection *all = &self->all;
  guint64 since = all->totals.count - all->kept.count;

  if (desk_read_only (self) || all->days_to_come || all->totals.count < desk_snapshot_from)
    return FALSE;
  return all->kept.count == 0 || since > all->totals.count / 50 ||
         (!(self->flags & DESK_OPEN_LAZY) && all->kept_today != self->today);
}

guint desk_snapshot_from = 5000;

/* ---- reading it, on the store's thread ---- */

static gboolean
thaw_rounds (DeskThaw *in, DeskRounds *all)
{
  gsize n = desk_thaw_count (in, sizeof (CoreId));
  gint64 last = 0;

  for (gsize i = 0; i < n; i++)
    desk_rounds_device (all, desk_thaw_id (in));
  all->last = desk_thaw_id (in);
  n = desk_thaw_count (in, 4);
  g_array_set_size (all->rounds, (guint) n);
  for (gsize i = 0; i < n && !in->bad; i++)
    {
      DeskRound *round = &g_array_index (all->rounds, DeskRound, i);
      guint64 device;

      memset (round, 0, sizeof *round);
      last += (gint64) desk_thaw_number (in);
      round->first_seq = last;
      round->n = (guint32) desk_thaw_number (in);
      round->dead = (guint32) desk_thaw_number (in);
      device = desk_thaw_number (in);
      round->device = (guint32) (device >> 1);
      round->bulk_void = (device & 1) != 0;
      if (round->bulk_void)
        round->names = desk_thaw_id (in);
      in->bad = in->bad || round->device >= all->devices->len;
    }
  return !in->bad;
}

static gboolean
thaw_naming (DeskThaw *in, DeskNaming *all)
{
  gsize n = desk_thaw_count (in, 51 + sizeof (CoreDay));

  for (gsize i = 0; i < n && !in->bad; i++)
    {
      CoreEntry entry = { .minute = -1 };
      gint64 seq;
      guint64 flags;

      entry.id = desk_thaw_id (in);
      entry.subject = desk_thaw_id (in);
      entry.names = desk_thaw_id (in);
      entry.kind = (CoreKind) desk_thaw_number (in);
      desk_thaw_raw (in, &entry.day, sizeof entry.day);
      seq = (gint64) desk_thaw_number (in);
      flags = desk_thaw_number (in);
      entry.bulk = (flags & 1) != 0;
      if (!in->bad)
        desk_naming_add (all, &entry, seq)->live = (flags & 2) != 0;
    }
  n = desk_thaw_count (in, 33);
  for (gsize i = 0; i < n && !in->bad; i++)
    {
      CoreConflict conflict = { .kind = (CoreConflictKind) desk_thaw_number (in) };

      conflict.entry = desk_thaw_id (in);
      conflict.other = desk_thaw_id (in);
      g_array_append_val (all->conflicts, conflict);
    }
  return !in->bad;
}

static gboolean
thaw_numbers (DeskThaw *in, GHashTable *numbers)
{
  gsize n = desk_thaw_count (in, 17);

  for (gsize i = 0; i < n && !in->bad; i++)
    {
      g_autofree char *number = desk_thaw_text (in);
      CoreId owner = desk_thaw_id (in);

      if (!in->bad)
        g_hash_table_insert (numbers, g_steal_pointer (&number), desk_id_dup (owner));
    }
  return !in->bad;
}

static gboolean
thaw_form (DeskThaw *in)
{
  gboolean same = desk_thaw_number (in) == FORM && desk_thaw_number (in) == sizeof (DeskFold) &&
                  desk_thaw_number (in) == sizeof (CoreForecast) &&
                  desk_thaw_number (in) == core_state_n_arrays;

  for (size_t i = 0; same && i < core_state_n_arrays; i++)
    same = desk_thaw_number (in) == core_state_arrays[i].size;
  return same && !in->bad;
}

/* Stays where it lies, in bytes that the collection holds. */
static DeskPack *
thaw_pack (DeskThaw *in)
{
  guint n = (guint) desk_thaw_number (in);
  DeskPack *pack;

  if (n == 0 || in->bad)
    return NULL;
  pack = g_new0 (DeskPack, 1);
  pack->n = n;
  desk_thaw_raw (in, &pack->day, sizeof pack->day);
  desk_thaw_raw (in, &pack->written, sizeof pack->written);
  pack->len = desk_thaw_count (in, 1);
  pack->bytes = desk_thaw_place (in, pack->len);
  return pack;
}

static void
thaw_packed (DeskThaw *in, DeskPackShared *packed)
{
  gsize n = desk_thaw_count (in, sizeof (CoreId));

  if (n > 0)
    desk_pack_shared_init (packed);
  for (gsize i = 0; i < n; i++)
    {
      CoreId id = desk_thaw_id (in);

      g_array_append_val (packed->rounds, id);
    }
  n = desk_thaw_count (in, sizeof (CoreId));
  in->bad = in->bad || (n > 0 && packed->rounds == NULL);
  for (gsize i = 0; i < n && !in->bad; i++)
    desk_rounds_device (&packed->devices, desk_thaw_id (in));
}

static gboolean
thaw_subject (DeskThaw *in, DeskCollection *all)
{
  CoreId id = desk_thaw_id (in);
  CoreSubjectKind kind = (CoreSubjectKind) desk_thaw_number (in);
  DeskRecord *record;

  if (in->bad || kind <= CORE_SUBJECT_NONE || kind >= CORE_N_SUBJECTS)
    return FALSE;
  record = desk_collection_add_subject (all, id, kind);
  record->seqs.n = (guint32) desk_thaw_number (in);
  record->seqs.last = (gint64) desk_thaw_number (in);
  record->seqs.len = record->seqs.cap = (guint32) desk_thaw_count (in, 1);
  record->seqs.bytes = g_malloc (MAX (1, record->seqs.len));
  desk_thaw_raw (in, record->seqs.bytes, record->seqs.len);
  record->pack = thaw_pack (in);
  record->made = desk_thaw_fold (in);
  record->kept = desk_thaw_kept (in);
  return !in->bad && record->made != NULL;
}

static gboolean
thaw (DeskThaw *in, DeskCollection *all, CoreDay *today)
{
  gsize subjects;

  if (!thaw_form (in))
    return FALSE;
  desk_thaw_raw (in, today, sizeof *today);
  all->last_id = desk_thaw_id (in);
  all->top_number = desk_thaw_number (in);
  for (gsize i = 0; i < G_N_ELEMENTS (all->top_codes); i++)
    all->top_codes[i] = desk_thaw_number (in);
  if (!thaw_rounds (in, &all->rounds) || !thaw_naming (in, &all->naming) ||
      !thaw_numbers (in, all->numbers))
    return FALSE;
  thaw_packed (in, &all->packed);
  subjects = (gsize) desk_thaw_number (in);
  for (gsize i = 0; i < subjects; i++)
    if (!thaw_subject (in, all))
      return FALSE;
  return !in->bad && in->at == in->end && all->order->len == subjects;
}

struct _DeskSnapshot
{
  DeskSealed file;
};

DeskSnapshot *
desk_snapshot_find (const char *dir, const char *profiles)
{
  g_autofree char *name = name_of (profiles);
  DeskSnapshot *self = g_new0 (DeskSnapshot, 1);

  if (desk_sealed_find (&self->file, dir, name))
    return self;
  g_free (self);
  return NULL;
}

void
desk_snapshot_free (DeskSnapshot *self)
{
  desk_sealed_clear (&self->file);
  g_free (self);
}

const StoreTotals *
desk_snapshot_totals (const DeskSnapshot *self)
{
  return &self->file.totals;
}

/* The states are used where they are read to. */
gboolean
desk_snapshot_read (DeskSnapshot *self, CoreDay today, DeskCollection *all)
{
  g_autoptr (DeskSlab) slab = desk_sealed_read (&self->file);
  DeskThaw in = { .slab = slab };
  CoreDay day = CORE_DAY_NONE;

  if (slab == NULL)
    return FALSE;
  in.at = desk_slab_bytes (slab);
  in.end = in.at + desk_slab_size (slab);
  if (!thaw (&in, all, &day))
    return FALSE;
  all->slab = g_steal_pointer (&slab);
  all->totals = self->file.totals;
  all->last_seq = all->totals.last_seq;
  all->kept = all->totals;
  all->kept_today = CORE_DAY_NONE;
  for (guint i = 0; i < all->order->len; i++)
    {
      DeskRecord *record = all->order->pdata[i];

      desk_inherit_note (all, record, &record->made->state);
      if (record->kept == NULL)
        continue;
      if (day != today)
        g_clear_pointer (&record->kept->outlook, g_free);
      if (record->kept->outlook != NULL)
        all->kept_today = day;
    }
  return TRUE;
}
