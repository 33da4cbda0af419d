/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-collection.c — the entries of a journal in memory, which of them live, and whose.
 *
 * Invariant: `entries` is in the order of seq and only grows; live[i] belongs to
 * entries[i]. Liveness is kept up by components: the entries that are joined by
 * naming each other are resolved together, alone, whatever else the journal
 * holds. */
#include "desk/desk-private.h"

#include <stdlib.h>
#include <string.h>

guint
desk_id_hash (gconstpointer id)
{
  guint64 head, tail;

  memcpy (&head, ((const CoreId *) id)->b, sizeof head);
  memcpy (&tail, ((const CoreId *) id)->b + 8, sizeof tail);
  head ^= tail * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  return (guint) (head ^ (head >> 32));
}

gboolean
desk_id_equal (gconstpointer a, gconstpointer b)
{
  return memcmp (a, b, sizeof (CoreId)) == 0;
}

static CoreId *
id_dup (CoreId id)
{
  CoreId *copy = g_new (CoreId, 1);

  *copy = id;
  return copy;
}

GHashTable *
desk_id_set_new (void)
{
  return g_hash_table_new_full (desk_id_hash, desk_id_equal, g_free, NULL);
}

void
desk_id_set_add (GHashTable *set, CoreId id)
{
  g_hash_table_add (set, id_dup (id));
}

/* ---- folds ---- */

static void
fold_clear (gpointer data)
{
  core_state_clear (&((DeskFold *) data)->state);
}

DeskFold *
desk_fold_ref (DeskFold *self)
{
  return g_atomic_rc_box_acquire (self);
}

void
desk_fold_unref (DeskFold *self)
{
  g_atomic_rc_box_release_full (self, fold_clear);
}

static void
add_conflict (CoreState *state, CoreConflict conflict)
{
  if (core_state_add_conflict (state, conflict) != CORE_OK)
    g_error ("out of memory while folding a subject");
}

/* Who has this number by right: the smallest id of those that were ever given it, if it
 * still has it. */
static gboolean
has_number (DeskCollection *self, CoreId subject, const char *number)
{
  DeskRecord *record = desk_collection_record (self, subject);

  return record != NULL && record->now != NULL &&
         g_ascii_strcasecmp (desk_subject_state (record->now)->number, number) == 0;
}

static gboolean
has_code (DeskCollection *self, CoreId subject, const char *code)
{
  DeskRecord *record = desk_collection_record (self, subject);

  return record != NULL && record->now != NULL && desk_subject_state (record->now)->exists &&
         g_ascii_strcasecmp (desk_subject_state (record->now)->code, code) == 0;
}

static void
add_code_conflict (DeskCollection *self, CoreState *state)
{
  const CoreId *owner = state->code[0] != '\0' ? desk_code_owner (self, state->code) : NULL;

  if (owner != NULL && core_id_compare (*owner, state->subject) < 0 &&
      has_code (self, *owner, state->code))
    add_conflict (state, (CoreConflict){ .kind = CORE_CONFLICT_CODE_TAKEN,
                                         .entry = state->subject,
                                         .other = *owner });
}

/* Conflicts that concern a subject but that its own entries do not show. */
static void
add_conflicts (DeskCollection *self, CoreState *state)
{
  g_autofree char *number = g_ascii_strdown (state->number, -1);
  const CoreId *owner = g_hash_table_lookup (self->numbers, number);

  if (owner != NULL && core_id_compare (*owner, state->subject) < 0 &&
      has_number (self, *owner, number))
    add_conflict (state, (CoreConflict){ .kind = CORE_CONFLICT_NUMBER_TAKEN,
                                         .entry = state->subject,
                                         .other = *owner });
  add_code_conflict (self, state);
  for (guint i = 0; i < self->conflicts->len; i++)
    {
      const CoreConflict *conflict = &g_array_index (self->conflicts, CoreConflict, i);
      const CoreEntry *entry = desk_collection_entry (self, conflict->entry);

      if (entry != NULL && core_id_equal (entry->subject, state->subject))
        add_conflict (state, *conflict);
    }
}

static void
entry_free (gpointer data)
{
  core_entry_free (data);
}

/* What an entry names, where that was written before it: so a walk along names ends. */
static CoreEntry *
earlier (DeskCollection *self, const CoreEntry *entry)
{
  return core_id_compare (entry->names, entry->id) < 0 ? desk_collection_entry (self, entry->names)
                                                       : NULL;
}

/* A photo that was corrected more than once names the one that was added first, as marks
 * do; `copies` owns it. */
static CoreEntry *
named_first (DeskCollection *self, CoreEntry *entry, GPtrArray *copies)
{
  CoreEntry *named =
    entry->kind == CORE_KIND_PHOTO ? desk_collection_entry (self, entry->names) : NULL;
  CoreEntry *copy;

  if (named == NULL || core_id_is_none (named->names))
    return entry;
  for (CoreEntry *older = named; older != NULL; older = earlier (self, named))
    named = older;
  copy = core_entry_copy (entry);
  if (copy == NULL)
    g_error ("out of memory");
  copy->names = named->id;
  g_ptr_array_add (copies, copy);
  return copy;
}

static DeskFold *
fold_of (DeskCollection *self, CoreId subject, CoreSubjectKind kind, const GPtrArray *live)
{
  g_autoptr (DeskFold) fold = g_atomic_rc_box_new0 (DeskFold);

  core_state_init (&fold->state);
  if (core_fold (subject, kind, (const CoreEntry *const *) live->pdata, live->len, &fold->state) !=
      CORE_OK)
    g_error ("out of memory while folding a subject");
  add_conflicts (self, &fold->state);
  return g_steal_pointer (&fold);
}

DeskFold *
desk_collection_fold_until (DeskCollection *self, CoreId subject, CoreSubjectKind kind, CoreDay day)
{
  DeskRecord *record = desk_collection_record (self, subject);
  g_autoptr (GPtrArray) live = g_ptr_array_new ();
  g_autoptr (GPtrArray) copies = g_ptr_array_new_with_free_func (entry_free);

  for (guint i = 0; record != NULL && i < record->entries->len; i++)
    {
      CoreEntry *entry = g_ptr_array_index (record->entries, i);

      if ((entry->day <= day || entry->kind == CORE_KIND_SET) &&
          desk_collection_is_live (self, entry->id))
        g_ptr_array_add (live, named_first (self, entry, copies));
    }
  return fold_of (self, subject, kind, live);
}

DeskFold *
desk_collection_fold (DeskCollection *self,
                      CoreId subject,
                      CoreSubjectKind kind,
                      CoreId without,
                      GPtrArray *more)
{
  DeskRecord *record = desk_collection_record (self, subject);
  g_autoptr (GPtrArray) live = g_ptr_array_new ();
  g_autoptr (GPtrArray) copies = g_ptr_array_new_with_free_func (entry_free);

  for (guint i = 0; record != NULL && i < record->entries->len; i++)
    {
      CoreEntry *entry = g_ptr_array_index (record->entries, i);

      if (desk_collection_is_live (self, entry->id) && !core_id_equal (entry->id, without))
        g_ptr_array_add (live, named_first (self, entry, copies));
    }
  for (guint i = 0; more != NULL && i < more->len; i++)
    {
      CoreEntry *entry = g_ptr_array_index (more, i);

      if (core_id_equal (entry->subject, subject))
        g_ptr_array_add (live, entry);
    }
  return fold_of (self, subject, kind, live);
}

/* ---- the collection ---- */

static void
record_free (gpointer data)
{
  DeskRecord *self = data;

  g_ptr_array_unref (self->entries);
  g_clear_pointer (&self->now, desk_subject_unref);
  g_free (self);
}

void
desk_collection_init (DeskCollection *self)
{
  self->entries = g_ptr_array_new_with_free_func (entry_free);
  self->index = g_hash_table_new (desk_id_hash, desk_id_equal);
  self->live = g_byte_array_new ();
  self->namers =
    g_hash_table_new_full (desk_id_hash, desk_id_equal, g_free, (GDestroyNotify) g_array_unref);
  self->records = g_hash_table_new_full (desk_id_hash, desk_id_equal, NULL, record_free);
  self->order = g_ptr_array_new ();
  self->conflicts = g_array_new (FALSE, FALSE, sizeof (CoreConflict));
  self->numbers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

void
desk_collection_clear (DeskCollection *self)
{
  g_clear_pointer (&self->order, g_ptr_array_unref);
  g_clear_pointer (&self->records, g_hash_table_unref);
  g_clear_pointer (&self->index, g_hash_table_unref);
  g_clear_pointer (&self->namers, g_hash_table_unref);
  g_clear_pointer (&self->live, g_byte_array_unref);
  g_clear_pointer (&self->conflicts, g_array_unref);
  g_clear_pointer (&self->numbers, g_hash_table_unref);
  g_clear_pointer (&self->entries, g_ptr_array_unref);
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
  record->entries = g_ptr_array_new ();
  record->stale = TRUE;
  g_hash_table_insert (self->records, &record->id, record);
  last = self->order->len == 0 ||
         core_id_compare (((DeskRecord *) self->order->pdata[self->order->len - 1])->id, id) < 0;
  g_ptr_array_add (self->order, record);
  if (!last)
    g_ptr_array_sort (self->order, compare_records);
  if (core_id_compare (id, self->last_id) > 0)
    self->last_id = id;
  return record;
}

static guint
place_of (DeskCollection *self, CoreId id)
{
  return GPOINTER_TO_UINT (g_hash_table_lookup (self->index, &id));
}

CoreEntry *
desk_collection_entry (DeskCollection *self, CoreId id)
{
  guint at = place_of (self, id);

  return at == 0 ? NULL : g_ptr_array_index (self->entries, at - 1);
}

gboolean
desk_collection_is_live (DeskCollection *self, CoreId id)
{
  guint at = place_of (self, id);

  return at != 0 && self->live->data[at - 1];
}

/* ---- liveness ---- */

/* The entries that hang together with `start` by naming: their places. */
static GArray *
component (DeskCollection *self, guint start, GHashTable *seen)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (guint));

  g_hash_table_add (seen, GUINT_TO_POINTER (start + 1));
  g_array_append_val (found, start);
  for (guint i = 0; i < found->len; i++)
    {
      guint at = g_array_index (found, guint, i);
      CoreEntry *entry = g_ptr_array_index (self->entries, at);
      GArray *namers = g_hash_table_lookup (self->namers, &entry->id);
      GArray *siblings =
        core_id_is_none (entry->names) ? NULL : g_hash_table_lookup (self->namers, &entry->names);
      guint named = core_id_is_none (entry->names) ? 0 : place_of (self, entry->names);

      if (named != 0 && g_hash_table_add (seen, GUINT_TO_POINTER (named)))
        {
          named--;
          g_array_append_val (found, named);
        }
      for (guint k = 0; k < 2; k++)
        {
          GArray *others = k == 0 ? namers : siblings;

          for (guint j = 0; others != NULL && j < others->len; j++)
            {
              guint other = g_array_index (others, guint, j);

              if (g_hash_table_add (seen, GUINT_TO_POINTER (other + 1)))
                g_array_append_val (found, other);
            }
        }
    }
  return found;
}

static void
forget_conflicts (DeskCollection *self, const CoreEntry *const *entries, guint n)
{
  g_autoptr (GHashTable) ids = desk_id_set_new ();

  for (guint i = 0; i < n; i++)
    desk_id_set_add (ids, entries[i]->id);
  for (guint i = self->conflicts->len; i-- > 0;)
    {
      CoreConflict *conflict = &g_array_index (self->conflicts, CoreConflict, i);

      if (conflict->kind != CORE_CONFLICT_NUMBER_TAKEN &&
          g_hash_table_contains (ids, &conflict->entry))
        g_array_remove_index_fast (self->conflicts, i);
    }
}

static void
touch (DeskCollection *self, CoreId subject, GHashTable *touched)
{
  DeskRecord *record = desk_collection_record (self, subject);

  if (record != NULL)
    record->stale = TRUE;
  if (touched != NULL && record != NULL)
    desk_id_set_add (touched, subject);
}

static void
resolve (DeskCollection *self, const GArray *places, GHashTable *touched)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_sized_new (places->len);
  g_autofree guint8 *live = g_new0 (guint8, places->len);
  CoreConflict *conflicts = NULL;
  size_t n_conflicts = 0;

  for (guint i = 0; i < places->len; i++)
    g_ptr_array_add (entries, self->entries->pdata[g_array_index (places, guint, i)]);
  forget_conflicts (self, (const CoreEntry *const *) entries->pdata, entries->len);
  if (core_live ((const CoreEntry *const *) entries->pdata, entries->len, live, &conflicts,
                 &n_conflicts) != CORE_OK)
    g_error ("out of memory while resolving entries");
  for (guint i = 0; i < places->len; i++)
    {
      guint8 *now = &self->live->data[g_array_index (places, guint, i)];

      if (*now != live[i])
        touch (self, ((CoreEntry *) entries->pdata[i])->subject, touched);
      *now = live[i];
    }
  if (n_conflicts > 0)
    g_array_append_vals (self->conflicts, conflicts, (guint) n_conflicts);
  free (conflicts);
}

/* ---- numbers and codes ---- */

/* Takes `key`: the smallest id of all that ever had it owns it. */
static void
note_owner (DeskCollection *self, char *key, CoreId subject)
{
  g_autofree char *taken = key;
  const CoreId *owner = g_hash_table_lookup (self->numbers, taken);

  if (owner == NULL || core_id_compare (*owner, subject) > 0)
    g_hash_table_insert (self->numbers, g_steal_pointer (&taken), id_dup (subject));
}

static void
note_number (DeskCollection *self, const CoreEntry *entry)
{
  const char *number = core_entry_str (entry, CORE_KEY_VALUE);
  guint64 n = g_ascii_strtoull (number, NULL, 10);

  self->top_number = MAX (self->top_number, n < G_MAXINT32 ? n : 0);
  note_owner (self, g_ascii_strdown (number, -1), entry->subject);
}

static void
note_code (DeskCollection *self, const CoreEntry *entry)
{
  const char *code = core_entry_str (entry, CORE_KEY_VALUE);

  desk_code_note (self, code);
  note_owner (self, desk_code_key (code), entry->subject);
}

static void
note_entry (DeskCollection *self, CoreEntry *entry)
{
  if (entry->kind == CORE_KIND_SET && strcmp (core_entry_str (entry, CORE_KEY_KEY), "number") == 0)
    note_number (self, entry);
  if (entry->kind == CORE_KIND_SET && strcmp (core_entry_str (entry, CORE_KEY_KEY), "code") == 0)
    note_code (self, entry);
  if (!core_id_is_none (entry->names))
    {
      GArray *namers = g_hash_table_lookup (self->namers, &entry->names);
      guint at = self->entries->len - 1;

      if (namers == NULL)
        {
          namers = g_array_new (FALSE, FALSE, sizeof (guint));
          g_hash_table_insert (self->namers, id_dup (entry->names), namers);
        }
      g_array_append_val (namers, at);
    }
  if (core_id_compare (entry->id, self->last_id) > 0)
    self->last_id = entry->id;
}

/* ---- growing ---- */

static gboolean
take_one (DeskCollection *self, CoreEntry *entry, GHashTable *touched, GError **error)
{
  DeskRecord *record = desk_collection_record (self, entry->subject);
  guint8 alive = 1;

  if (record == NULL)
    {
      char text[37];

      core_id_to_text (entry->id, text);
      desk_fail (error, STORE_ERROR, STORE_ERROR_CORRUPT, WORDS_DESK_FOREIGN_ENTRY, text, NULL);
      core_entry_free (entry);
      return FALSE;
    }
  g_ptr_array_add (self->entries, entry);
  g_byte_array_append (self->live, &alive, 1);
  g_hash_table_insert (self->index, &entry->id, GUINT_TO_POINTER (self->entries->len));
  g_ptr_array_add (record->entries, entry);
  note_entry (self, entry);
  touch (self, entry->subject, touched);
  return TRUE;
}

gboolean
desk_collection_take (DeskCollection *self, GPtrArray *entries, GHashTable *touched, GError **error)
{
  guint first = self->entries->len;
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  g_ptr_array_set_free_func (entries, NULL);
  for (guint i = 0; i < entries->len; i++)
    {
      CoreEntry *entry = entries->pdata[i];

      if (place_of (self, entry->id) != 0)
        core_entry_free (entry);
      else if (!take_one (self, entry, touched, error))
        {
          for (guint j = i + 1; j < entries->len; j++)
            core_entry_free (entries->pdata[j]);
          return FALSE;
        }
    }
  for (guint at = first; at < self->entries->len; at++)
    {
      CoreEntry *entry = self->entries->pdata[at];

      if ((core_id_is_none (entry->names) && !g_hash_table_contains (self->namers, &entry->id)) ||
          g_hash_table_contains (seen, GUINT_TO_POINTER (at + 1)))
        continue;
      g_autoptr (GArray) places = component (self, at, seen);

      resolve (self, places, touched);
    }
  return TRUE;
}
