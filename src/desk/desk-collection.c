/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-collection.c — the books of a journal: whose an entry is, which of them live, folds.
 *
 * Entries stay on the disk; what is kept of each is its place in the list of its
 * subject, and what others need to know of it: numbers given, rounds, who names
 * whom. Invariant: everything up to last_seq is in the books, once. */
#include "desk/desk-sealed.h"

#include <stdlib.h>
#include <string.h>

#include "core/core-hours.h"

/* ---- folds ---- */

const DeskFoldHow desk_fold_now = { .until = CORE_DAY_NONE };

DeskFold *
desk_fold_ref (DeskFold *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
desk_fold_unref (DeskFold *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  if (self->in_place)
    {
      DeskSlab *slab = self->slab;

      free (self->state.conflicts.v);
      if (slab != NULL)
        desk_slab_unref (slab); /* and with it, if it is the last, this fold */
      return;
    }
  core_state_clear (&self->state);
  g_free (self);
}

DeskFold *
desk_fold_new (void)
{
  DeskFold *self = g_new0 (DeskFold, 1);

  g_atomic_ref_count_init (&self->refs);
  core_state_init (&self->state);
  return self;
}

static void
add_conflict (CoreState *state, CoreConflict conflict)
{
  if (core_state_add_conflict (state, conflict) != CORE_OK)
    g_error ("out of memory while folding a subject");
}

/* The smallest id keeps a number or code that several have. */
static void
add_name_conflict (DeskCollection *self, CoreState *state, gboolean code)
{
  CoreConflict conflict = { .kind = code ? CORE_CONFLICT_CODE_TAKEN : CORE_CONFLICT_NUMBER_TAKEN,
                            .entry = state->subject };

  if (desk_namesakes_before (self, state->subject, code ? state->code : state->number, code,
                             &conflict.other) > 0)
    add_conflict (state, conflict);
}

static void
add_place_conflict (DeskCollection *self, CoreState *state)
{
  CoreConflict conflict = { .kind = CORE_CONFLICT_NAME_TAKEN, .entry = state->subject };

  if (desk_place_namesake (self, state, &conflict.other))
    add_conflict (state, conflict);
}

static int
compare_conflicts (const void *a, const void *b)
{
  const CoreConflict *x = a, *y = b;
  int order = core_id_compare (x->entry, y->entry);

  return order != 0 ? order : core_id_compare (x->other, y->other);
}

/* Conflicts that concern a subject but that its own entries do not show. */
void
desk_collection_add_conflicts (DeskCollection *self, DeskFold *fold)
{
  CoreState *state = &fold->state;
  size_t first;

  state->conflicts.n = fold->own_conflicts;
  add_name_conflict (self, state, FALSE);
  add_name_conflict (self, state, TRUE);
  add_place_conflict (self, state);
  first = state->conflicts.n;
  for (guint i = 0; i < self->naming.conflicts->len; i++)
    {
      const CoreConflict *conflict = &g_array_index (self->naming.conflicts, CoreConflict, i);
      const DeskNode *node = desk_naming_node (&self->naming, conflict->entry);

      if (node != NULL && core_id_equal (node->entry.subject, state->subject))
        add_conflict (state, *conflict);
    }
  if (state->conflicts.n > first)
    qsort (state->conflicts.v + first, state->conflicts.n - first, sizeof (CoreConflict),
           compare_conflicts);
}

/* A photo that was corrected more than once names the one that was added first, as marks
 * do; `copies` owns it. */
static CoreEntry *
named_first (DeskCollection *self, CoreEntry *entry, GPtrArray *copies)
{
  const DeskNode *named =
    entry->kind == CORE_KIND_PHOTO ? desk_naming_node (&self->naming, entry->names) : NULL;
  const DeskNode *older = named;
  CoreEntry *copy;

  if (named == NULL || core_id_is_none (named->entry.names))
    return entry;
  /* Ids point backwards, so the walk ends; where one does not it stops. */
  while (older != NULL && core_id_compare (older->entry.names, older->entry.id) < 0)
    {
      named = older;
      older = desk_naming_node (&self->naming, older->entry.names);
    }
  if (older != NULL)
    named = older;
  copy = core_entry_copy (entry);
  if (copy == NULL)
    g_error ("out of memory");
  copy->names = named->entry.id;
  g_ptr_array_add (copies, copy);
  return copy;
}

/* A logger gives a million readings in two years, of which a fold takes two an hour: those are kept
 * apart once they were picked out, for whoever folds again, mostly on the main thread. */
static CoreEntry *
by_hours (DeskCollection *self, CoreEntry *entry)
{
  CoreEntry *copy;

  if (entry->kind != CORE_KIND_LOGGED)
    return entry;
  copy = g_hash_table_lookup (self->hours, &entry->id);
  if (copy != NULL)
    return copy;
  copy = core_hours_entry (entry);
  if (copy == NULL)
    return entry;
  g_hash_table_insert (self->hours, &copy->id, copy);
  return copy;
}

static gboolean
node_lives (DeskCollection *self, CoreId id)
{
  const DeskNode *node = desk_naming_node (&self->naming, id);

  return node == NULL || node->live;
}

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

/* Does it count in a fold up to that day? What the subject is called is as of now. */
static gboolean
counts (DeskCollection *self, const CoreEntry *entry, CoreId without, CoreDay until)
{
  return (until == CORE_DAY_NONE || entry->day <= until || entry->kind == CORE_KIND_SET) &&
         node_lives (self, entry->id) && !core_id_equal (entry->id, without);
}

/* Taken back on one device with all that it was called, while another wrote of it: it answers to what
 * it was called last, and is told. Numbers before codes before names. */
static void
name_again (DeskCollection *self, const GPtrArray *entries, CoreState *state)
{
  static const char *const keys[] = { "name", "code", "number", NULL };
  struct
  {
    char *text;
    gsize size;
  } fields[] = { { state->name, sizeof state->name },
                 { state->code, sizeof state->code },
                 { state->number, sizeof state->number } };
  const CoreEntry *last = NULL;
  const char *end;
  int best = -1;

  for (guint i = 0; i < entries->len; i++)
    {
      const CoreEntry *entry = entries->pdata[i];
      int key = entry->kind == CORE_KIND_SET ? core_word_index (keys, core_entry_str (entry, CORE_KEY_KEY)) : -1;

      if (key < 0 || key < best || node_lives (self, entry->id) ||
          (key == best && core_id_compare (entry->id, last->id) < 0))
        continue;
      best = key;
      last = entry;
    }
  if (last == NULL)
    return;
  g_strlcpy (fields[best].text, core_entry_str (last, CORE_KEY_VALUE), fields[best].size);
  if (!g_utf8_validate (fields[best].text, -1, &end))
    fields[best].text[end - fields[best].text] = '\0'; /* a letter that was cut */
  add_conflict (state, (CoreConflict){ CORE_CONFLICT_NAMELESS, state->last_entry, last->id });
}

static gboolean
is_nameless (const CoreState *state)
{
  return state->exists && state->kind != CORE_SUBJECT_JOURNAL && state->number[0] == '\0' &&
         state->code[0] == '\0' && state->name[0] == '\0';
}

static DeskFold *
fold_of (DeskCollection *self,
         CoreId subject,
         CoreSubjectKind kind,
         const GPtrArray *entries,
         const DeskFoldHow *how)
{
  g_autoptr (GPtrArray) live = g_ptr_array_new ();
  g_autoptr (GPtrArray) copies = g_ptr_array_new_with_free_func (free_entry);
  DeskRecord *record = desk_collection_record (self, subject);
  DeskFold *fold = desk_fold_new ();

  for (guint i = 0; entries != NULL && i < entries->len; i++)
    if (counts (self, entries->pdata[i], how->without, how->until))
      g_ptr_array_add (live, by_hours (self, named_first (self, entries->pdata[i], copies)));
  for (guint i = 0; how->more != NULL && i < how->more->len; i++)
    if (core_id_equal (((CoreEntry *) how->more->pdata[i])->subject, subject))
      g_ptr_array_add (live, how->more->pdata[i]);
  if (record != NULL && !desk_inherit (self, record, entries, how, live, copies))
    self->unreadable = TRUE;
  if (core_fold (subject, kind, (const CoreEntry *const *) live->pdata, live->len, &fold->state) !=
      CORE_OK)
    g_error ("out of memory while folding a subject");
  if (record != NULL && how == &desk_fold_now)
    desk_inherit_note (self, record, &fold->state);
  if (entries != NULL && core_id_is_none (how->without) && is_nameless (&fold->state))
    name_again (self, entries, &fold->state);
  fold->own_conflicts = (guint) fold->state.conflicts.n;
  desk_collection_add_conflicts (self, fold);
  core_state_trim (&fold->state);
  return fold;
}

DeskFold *
desk_collection_fold_all (DeskCollection *self, const DeskRecord *record, const GPtrArray *entries)
{
  return fold_of (self, record->id, record->kind, entries, &desk_fold_now);
}

DeskFold *
desk_collection_fold (DeskCollection *self,
                      CoreId subject,
                      CoreSubjectKind kind,
                      const DeskFoldHow *how,
                      GError **error)
{
  DeskRecord *record = desk_collection_record (self, subject);
  const GPtrArray *entries = NULL;

  if (record != NULL)
    {
      entries = desk_collection_entries (self, record, error);
      if (entries == NULL)
        return NULL;
    }
  return fold_of (self, subject, kind, entries, how);
}

/* ---- the collection ---- */

static void
record_free (gpointer data)
{
  DeskRecord *self = data;

  desk_seqs_clear (&self->seqs);
  g_clear_pointer (&self->loaded, g_ptr_array_unref);
  g_clear_pointer (&self->made, desk_fold_unref);
  g_clear_pointer (&self->pack, desk_pack_free);
  g_clear_pointer (&self->now, desk_subject_unref);
  g_clear_pointer (&self->heirs, g_ptr_array_unref);
  desk_kept_free (self->kept);
  g_free (self);
}

void
desk_collection_init (DeskCollection *self)
{
  memset (self, 0, sizeof *self);
  self->records = g_hash_table_new_full (desk_id_hash, desk_id_equal, NULL, record_free);
  self->order = g_ptr_array_new ();
  self->journals = g_ptr_array_new ();
  self->loaded = g_hash_table_new (desk_id_hash, desk_id_equal);
  self->hours = g_hash_table_new_full (desk_id_hash, desk_id_equal, NULL, free_entry);
  self->singles = g_hash_table_new_full (desk_id_hash, desk_id_equal, NULL, free_entry);
  self->pending = g_ptr_array_new ();
  self->numbers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  desk_naming_init (&self->naming);
  desk_rounds_init (&self->rounds);
}

void
desk_collection_clear (DeskCollection *self)
{
  g_clear_pointer (&self->order, g_ptr_array_unref);
  g_clear_pointer (&self->journals, g_ptr_array_unref);
  g_clear_pointer (&self->loaded, g_hash_table_unref);
  g_clear_pointer (&self->hours, g_hash_table_unref);
  g_clear_pointer (&self->singles, g_hash_table_unref);
  desk_inherit_forget (self);
  g_clear_pointer (&self->pending, g_ptr_array_unref);
  g_clear_pointer (&self->records, g_hash_table_unref);
  g_clear_pointer (&self->numbers, g_hash_table_unref);
  desk_pack_shared_clear (&self->packed);
  g_clear_pointer (&self->slab, desk_slab_unref);
  desk_naming_clear (&self->naming);
  desk_rounds_clear (&self->rounds);
  g_clear_error (&self->failed);
}

DeskRecord *
desk_collection_record (DeskCollection *self, CoreId subject)
{
  return g_hash_table_lookup (self->records, &subject);
}

static int
compare_records (gconstpointer a, gconstpointer b)
{
  const DeskRecord *const *x = a;
  const DeskRecord *const *y = b;

  return core_id_compare ((*x)->id, (*y)->id);
}

DeskRecord *
desk_collection_add_subject (DeskCollection *self, CoreId id, CoreSubjectKind kind)
{
  DeskRecord *record = desk_collection_record (self, id);
  gboolean last;

  if (record != NULL)
    return record;
  record = g_new0 (DeskRecord, 1);
  record->id = id;
  record->kind = kind;
  record->stale = FALSE;
  g_hash_table_insert (self->records, &record->id, record);
  last = self->order->len == 0 ||
         core_id_compare (((DeskRecord *) self->order->pdata[self->order->len - 1])->id, id) < 0;
  g_ptr_array_add (self->order, record);
  if (kind == CORE_SUBJECT_JOURNAL)
    g_ptr_array_add (self->journals, record);
  if (!last)
    g_ptr_array_sort (self->order, compare_records);
  if (core_id_compare (id, self->last_id) > 0)
    self->last_id = id;
  return record;
}

static void
touch_record (DeskRecord *record, gpointer touched)
{
  record->stale = TRUE;
  if (touched != NULL)
    desk_id_set_add (touched, record->id);
}

/* Its subject, and who has it from there. */
static void
touch (DeskCollection *self, const CoreEntry *entry, GHashTable *touched)
{
  DeskRecord *record = desk_collection_record (self, entry->subject);

  if (record == NULL)
    return;
  touch_record (record, touched);
  desk_inherit_forget (self);
  desk_inherit_concern (self, entry, touch_record, touched);
}

/* ---- growing ---- */

/* Takes `key`: the smallest id of all that ever had it owns it. */
static void
note_owner (DeskCollection *self, char *key, CoreId subject)
{
  g_autofree char *taken = key;
  const CoreId *owner = g_hash_table_lookup (self->numbers, taken);

  if (owner == NULL || core_id_compare (*owner, subject) > 0)
    g_hash_table_insert (self->numbers, g_steal_pointer (&taken), desk_id_dup (subject));
}

static void
note_setting (DeskCollection *self, const CoreEntry *entry)
{
  const char *key = core_entry_str (entry, CORE_KEY_KEY);
  const char *value = core_entry_str (entry, CORE_KEY_VALUE);

  if (strcmp (key, "number") == 0)
    {
      guint64 n = g_ascii_strtoull (value, NULL, 10);

      self->top_number = MAX (self->top_number, n < G_MAXINT32 ? n : 0);
      note_owner (self, g_ascii_strdown (value, -1), entry->subject);
    }
  else if (strcmp (key, "code") == 0)
    {
      desk_code_note (self, value);
      note_owner (self, desk_code_key (value), entry->subject);
    }
}

DeskRecord *
desk_collection_note (DeskCollection *self, const CoreEntry *entry, gint64 seq, GError **error)
{
  DeskRecord *record = desk_collection_record (self, entry->subject);

  if (record == NULL)
    {
      char text[37];

      core_id_to_text (entry->id, text);
      desk_fail (error, STORE_ERROR, STORE_ERROR_CORRUPT, WORDS_DESK_FOREIGN_ENTRY, text, NULL);
      return NULL;
    }
  desk_seqs_add (&record->seqs, seq);
  desk_rounds_add (&self->rounds, entry, seq);
  store_totals_add (&self->totals, entry->id, seq);
  self->last_seq = seq;
  if (core_id_compare (entry->id, self->last_id) > 0)
    self->last_id = entry->id;
  if (entry->kind == CORE_KIND_SET)
    note_setting (self, entry);
  if (!core_id_is_none (entry->names) || desk_naming_is_named (&self->naming, entry->id))
    g_ptr_array_add (self->pending, desk_naming_add (&self->naming, entry, seq));
  return record;
}

/* The entry that is named gets a node, when it is there. */
static gboolean
find_named (DeskCollection *self, CoreId id, GError **error)
{
  GError *failure = NULL;
  CoreEntry *entry = NULL;
  gint64 seq;

  if (core_id_is_none (id) || desk_naming_node (&self->naming, id) != NULL)
    return TRUE;
  if (!store_find_entry (self->source, id, &seq, &entry, &failure))
    {
      desk_collection_note_failure (self, failure);
      g_propagate_error (error, failure);
      return FALSE;
    }
  /* What came after last_seq is noted when it is loaded. */
  if (entry != NULL && seq <= self->last_seq)
    g_ptr_array_add (self->pending, desk_naming_add (&self->naming, entry, seq));
  core_entry_free (entry);
  return TRUE;
}

/* All that what is pending names, and names in its turn. */
static gboolean
find_all_named (DeskCollection *self, GError **error)
{
  for (guint i = 0; i < self->pending->len; i++)
    if (!find_named (self, ((DeskNode *) self->pending->pdata[i])->entry.names, error))
      return FALSE;
  return TRUE;
}

static void
gather_heir (DeskRecord *record, gpointer records)
{
  g_hash_table_add (records, record);
}

/* Whose folds an entry changes, itself or by what it names. */
static void
gather_touched (DeskCollection *self, const CoreEntry *entry, GHashTable *records)
{
  DeskRecord *record = desk_collection_record (self, entry->subject);

  if (record != NULL)
    g_hash_table_add (records, record);
  desk_inherit_concern (self, entry, gather_heir, records);
}

static gboolean
read_touched (DeskCollection *self, const GPtrArray *entries, GError **error)
{
  g_autoptr (GHashTable) records = g_hash_table_new (NULL, NULL);
  GHashTableIter iter;
  gpointer record;

  for (guint i = 0; i < entries->len; i++)
    {
      const CoreEntry *entry = entries->pdata[i];
      const DeskNode *named = desk_naming_node (&self->naming, entry->names);

      gather_touched (self, entry, records);
      if (named != NULL)
        gather_touched (self, &named->entry, records);
    }
  g_hash_table_iter_init (&iter, records);
  while (g_hash_table_iter_next (&iter, &record, NULL))
    if (desk_collection_entries (self, record, error) == NULL)
      return FALSE;
  return TRUE;
}

gboolean
desk_collection_foresee (DeskCollection *self, const GPtrArray *entries, GError **error)
{
  for (guint i = 0; i < entries->len; i++)
    if (!find_named (self, ((const CoreEntry *) entries->pdata[i])->names, error))
      return FALSE;
  return find_all_named (self, error) && read_touched (self, entries, error);
}

typedef struct
{
  DeskCollection *all;
  GHashTable *touched;
} Settling;

static void
liveness_changed (const DeskNode *node, gpointer data)
{
  Settling *settling = data;
  desk_rounds_lives (&settling->all->rounds, node->seq, node->live);
  touch (settling->all, &node->entry, settling->touched);
}

gboolean
desk_collection_settle (DeskCollection *self, GHashTable *touched, GError **error)
{
  Settling settling = { self, touched };
  gboolean ok = find_all_named (self, error);

  /* What could not be read now is with the next ones. */
  if (!ok)
    return FALSE;
  desk_naming_resolve (&self->naming, self->pending, liveness_changed, &settling);
  g_ptr_array_set_size (self->pending, 0);
  return TRUE;
}

gboolean
desk_collection_take (DeskCollection *self,
                      GPtrArray *entries,
                      const gint64 *seqs,
                      GHashTable *touched,
                      GError **error)
{
  gboolean ok = TRUE;

  g_ptr_array_set_free_func (entries, NULL);
  desk_entries_shed (self);
  for (guint i = 0; i < entries->len; i++)
    {
      CoreEntry *entry = entries->pdata[i];
      DeskRecord *record = NULL;

      if (ok && seqs[i] > self->last_seq)
        {
          record = desk_collection_note (self, entry, seqs[i], error);
          ok = record != NULL;
        }
      if (record == NULL)
        {
          core_entry_free (entry);
          continue;
        }
      touch (self, entry, touched);
      desk_entries_keep (self, record, entry);
    }
  return ok && desk_collection_settle (self, touched, error);
}
