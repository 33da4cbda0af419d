/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-snapshot.c — the collection kept beside the journal, so that opening need not read it all.
 *
 * Part 0 holds the books, the others subjects with their states and outlooks.
 * Invariant: a snapshot is used only when the program, the profiles, the number
 * of entries up to its last one and the XOR of their ids are equal and every part
 * bears our seal; in any doubt all is built anew from the entries. */
#include "desk/desk-freeze.h"

#include <string.h>

#include "desk/desk-sources.h"

#define KEY "desk"
#define MAGIC 0x31534e4d /* "MNS1" */
#define PART (1 << 16)   /* bytes of a part, or a little more: so many stay in the nearest cache */
#define PROGRAM MANTIDARY_VERSION " " DESK_SOURCES

/* ---- taking it, on the main thread ---- */

typedef struct
{
  DeskSubject *subject; /* owned */
  DeskSeqs seqs;        /* owned */
} Kept;

typedef struct
{
  StoreTotals totals;
  CoreDay today;
  char *profiles;    /* owned */
  GByteArray *books; /* owned */
  GArray *subjects;  /* Kept */
  guint8 key[DESK_SEAL_KEY];
  guint next;  /* subject to be written */
  guint parts; /* written */
  gboolean done;
} Snapshot;

static void
kept_clear (gpointer data)
{
  Kept *kept = data;

  desk_subject_unref (kept->subject);
  desk_seqs_clear (&kept->seqs);
}

static void
snapshot_free (gpointer data)
{
  Snapshot *self = data;

  g_free (self->profiles);
  g_byte_array_unref (self->books);
  g_array_unref (self->subjects);
  g_free (self);
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
  desk_freeze_number (out, MAGIC);
  desk_freeze_number (out, sizeof (CoreState));
  desk_freeze_number (out, sizeof (CoreForecast));
  desk_freeze_number (out, core_state_n_arrays);
  for (size_t i = 0; i < core_state_n_arrays; i++)
    desk_freeze_number (out, core_state_arrays[i].size);
}

static Snapshot *
snapshot_take (Desk *desk, const guint8 key[DESK_SEAL_KEY])
{
  Snapshot *self = g_new0 (Snapshot, 1);
  DeskCollection *all = &desk->all;

  self->totals = all->totals;
  self->today = desk->today;
  self->profiles = desk_profiles_key (desk->profiles);
  self->books = g_byte_array_new ();
  self->subjects = g_array_sized_new (FALSE, FALSE, sizeof (Kept), all->order->len);
  g_array_set_clear_func (self->subjects, kept_clear);
  memcpy (self->key, key, sizeof self->key);
  freeze_form (self->books);
  desk_freeze_raw (self->books, &self->today, sizeof self->today);
  desk_freeze_id (self->books, all->last_id);
  desk_freeze_number (self->books, all->top_number);
  for (gsize i = 0; i < G_N_ELEMENTS (all->top_codes); i++)
    desk_freeze_number (self->books, all->top_codes[i]);
  freeze_rounds (self->books, &all->rounds);
  freeze_naming (self->books, &all->naming);
  freeze_numbers (self->books, all->numbers);
  desk_freeze_number (self->books, all->order->len);
  for (guint i = 0; i < all->order->len; i++)
    {
      const DeskRecord *record = all->order->pdata[i];
      Kept kept = { desk_subject_ref (record->now), record->seqs };

      kept.seqs.bytes = g_memdup2 (record->seqs.bytes, record->seqs.len);
      g_array_append_val (self->subjects, kept);
    }
  return self;
}

/* ---- writing it, on the store's thread ---- */

/* What belongs to this snapshot alone: a part of another one does not bear this seal. */
static guint64
tie (const guint8 key[DESK_SEAL_KEY], const StoreTotals *totals, const char *profiles)
{
  g_autoptr (GByteArray) text = g_byte_array_new ();

  desk_freeze_number (text, totals->count);
  desk_freeze_number (text, (guint64) totals->last_seq);
  desk_freeze_id (text, totals->xor_ids);
  desk_freeze_text (text, PROGRAM);
  desk_freeze_text (text, profiles);
  return desk_seal (key, 0, text->data, text->len);
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
  desk_freeze_fold (out, desk_subject_fold (kept->subject));
  desk_freeze_kept (out, computed);
  desk_kept_free (computed);
}

/* The parts of subjects first: the books say how many there are. */
static GBytes *
next_part (guint *index, gpointer data)
{
  Snapshot *self = data;
  GByteArray *out;
  guint64 seal = 0;

  if (self->done)
    return NULL;
  out = g_byte_array_sized_new (PART + PART / 8);
  desk_freeze_raw (out, &seal, sizeof seal);
  if (self->next < self->subjects->len)
    {
      *index = ++self->parts;
      while (self->next < self->subjects->len && out->len < PART)
        freeze_subject (out, &g_array_index (self->subjects, Kept, self->next++));
    }
  else
    {
      *index = 0;
      desk_freeze_number (out, self->parts);
      desk_freeze_raw (out, self->books->data, self->books->len);
      self->done = TRUE;
    }
  seal = desk_seal (self->key, tie (self->key, &self->totals, self->profiles) + *index,
                    out->data + sizeof seal, out->len - sizeof seal);
  memcpy (out->data, &seal, sizeof seal);
  return g_byte_array_free_to_bytes (out);
}

static gpointer
write_job (Store *store, gpointer data, GError **error)
{
  Snapshot *self = data;

  store_snapshot_write (store, KEY, &self->totals, PROGRAM, self->profiles, next_part, self, error);
  return NULL;
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  store_run_finish (result, &error);
  if (error != NULL)
    g_debug ("no snapshot: %s", error->message);
}

void
desk_snapshot_write (Desk *self)
{
  guint8 key[DESK_SEAL_KEY];
  Snapshot *snapshot;

  if (self->store == NULL || self->all.unreadable || desk_read_only (self) ||
      !desk_seal_key (key, TRUE))
    return;
  snapshot = snapshot_take (self, key);
  self->all.kept = snapshot->totals;
  self->all.kept_today = self->flags & DESK_OPEN_LAZY ? CORE_DAY_NONE : self->today;
  store_run_async (self->store, write_job, snapshot, snapshot_free, NULL, NULL, written_cb, NULL);
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
  gsize n = desk_thaw_count (in, 51);

  for (gsize i = 0; i < n && !in->bad; i++)
    {
      CoreEntry entry = { .minute = -1 };
      gint64 seq;
      guint64 flags;

      entry.id = desk_thaw_id (in);
      entry.subject = desk_thaw_id (in);
      entry.names = desk_thaw_id (in);
      entry.kind = (CoreKind) desk_thaw_number (in);
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
  gboolean same = desk_thaw_number (in) == MAGIC && desk_thaw_number (in) == sizeof (CoreState) &&
                  desk_thaw_number (in) == sizeof (CoreForecast) &&
                  desk_thaw_number (in) == core_state_n_arrays;

  for (size_t i = 0; same && i < core_state_n_arrays; i++)
    same = desk_thaw_number (in) == core_state_arrays[i].size;
  return same && !in->bad;
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
  record->made = desk_thaw_fold (in);
  record->kept = desk_thaw_kept (in);
  return !in->bad && record->made != NULL;
}

typedef struct
{
  Store *store;
  StoreTotals totals;
  const char *profiles;
  guint8 key[DESK_SEAL_KEY];
  guint64 tie;
} Source;

typedef struct Part Part;
struct Part
{
  const Source *from;
  guint index;
  gboolean (*thaw) (DeskThaw *in, Part *part);
  DeskCollection *all;
  gboolean ok;

  /* Of the books */
  CoreDay today;
  guint parts;
  gsize subjects;
};

/* Looks at nothing of a part that does not bear our seal. */
static void
use_part (gconstpointer body, gsize size, gpointer data)
{
  Part *part = data;
  const guint8 *bytes = body;
  DeskThaw in = { NULL };
  guint64 seal;

  if (size < sizeof seal)
    return;
  memcpy (&seal, bytes, sizeof seal);
  if (seal != desk_seal (part->from->key, part->from->tie + part->index, bytes + sizeof seal,
                         size - sizeof seal))
    return;
  in.at = bytes + sizeof seal;
  in.end = bytes + size;
  part->ok = part->thaw (&in, part);
}

/* FALSE: it is not there, not ours, or not whole. */
static gboolean
read_part (Part *part, guint index)
{
  const Source *from = part->from;
  g_autofree char *name = g_strdup_printf (KEY "/%u", index);

  part->index = index;
  part->ok = FALSE;
  return store_snapshot_use (from->store, name, &from->totals, PROGRAM, from->profiles, use_part,
                             part, NULL) &&
         part->ok;
}

static gboolean
thaw_books (DeskThaw *in, Part *part)
{
  DeskCollection *all = part->all;

  part->parts = (guint) desk_thaw_number (in);
  if (!thaw_form (in))
    return FALSE;
  desk_thaw_raw (in, &part->today, sizeof part->today);
  all->last_id = desk_thaw_id (in);
  all->top_number = desk_thaw_number (in);
  for (gsize i = 0; i < G_N_ELEMENTS (all->top_codes); i++)
    all->top_codes[i] = desk_thaw_number (in);
  if (!thaw_rounds (in, &all->rounds) || !thaw_naming (in, &all->naming) ||
      !thaw_numbers (in, all->numbers))
    return FALSE;
  part->subjects = (gsize) desk_thaw_number (in);
  return !in->bad && in->at == in->end;
}

static gboolean
thaw_subjects (DeskThaw *in, Part *part)
{
  while (in->at < in->end)
    if (!thaw_subject (in, part->all))
      return FALSE;
  return TRUE;
}

static gboolean
thaw (const Source *from, DeskCollection *all, CoreDay *today)
{
  Part part = { .from = from, .thaw = thaw_books, .all = all };

  if (!read_part (&part, 0))
    return FALSE;
  part.thaw = thaw_subjects;
  for (guint i = 1; i <= part.parts; i++)
    if (!read_part (&part, i))
      return FALSE;
  *today = part.today;
  return all->order->len == part.subjects;
}

gboolean
desk_snapshot_find (Store *store, const char *profiles, StoreTotals *totals)
{
  guint8 key[DESK_SEAL_KEY];

  return desk_seal_key (key, FALSE) &&
         store_snapshot_find (store, KEY, PROGRAM, profiles, totals, NULL);
}

gboolean
desk_snapshot_read (Store *store,
                    const char *profiles,
                    const StoreTotals *totals,
                    CoreDay today,
                    DeskCollection *all)
{
  Source from = { .store = store, .totals = *totals, .profiles = profiles };
  CoreDay day = CORE_DAY_NONE;

  if (!desk_seal_key (from.key, FALSE))
    return FALSE;
  from.tie = tie (from.key, totals, profiles);
  if (!thaw (&from, all, &day))
    return FALSE;
  all->totals = *totals;
  all->last_seq = totals->last_seq;
  all->kept = *totals;
  all->kept_today = CORE_DAY_NONE;
  for (guint i = 0; i < all->order->len; i++)
    {
      DeskRecord *record = all->order->pdata[i];

      if (record->kept == NULL)
        continue;
      if (day != today)
        g_clear_pointer (&record->kept->outlook, g_free);
      if (record->kept->outlook != NULL)
        all->kept_today = day;
    }
  return TRUE;
}
