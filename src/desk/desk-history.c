/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-history.c — undo, redo, void, correct: entries that name entries.
 *
 * A round of this device is either an action, or an undo (voids of all live
 * entries of an action), or a redo (voids of an undo). Voids that undo and redo
 * write carry the mark `bulk`; the void of one entry by the keeper does not, and
 * is an action like any other. So both stacks are in the journal itself, survive
 * a restart and have no end:
 *   undo  the last action of this device that still has a live entry;
 *   redo  the last undo after the last action that is still live. */
#include "desk/desk-private.h"

#include <string.h>

typedef enum
{
  ROUND_OTHER, /* not of this device, or not done here */
  ROUND_ACTION,
  ROUND_UNDO,
  ROUND_REDO
} RoundKind;

static RoundKind
kind_of_round (Desk *self, const DeskRound *round)
{
  const DeskNode *named;

  if (!round->bulk_void)
    return ROUND_ACTION;
  named = desk_naming_node (&self->all.naming, round->names);
  return named != NULL && named->entry.kind == CORE_KIND_VOID && named->entry.bulk ? ROUND_REDO
                                                                                   : ROUND_UNDO;
}

/* What a journal says of itself first cannot be undone: it was there before any action. */
static gboolean
makes_journal (Desk *self, const DeskRound *round)
{
  for (guint i = 0; round->n == 1 && i < self->all.journals->len; i++)
    {
      const DeskRecord *record = self->all.journals->pdata[i];
      gint64 first = 0;

      if (record->seqs.n == 0)
        continue;
      desk_seqs_read (&(DeskSeqs){ .bytes = record->seqs.bytes, .n = 1 }, &first);
      if (first == round->first_seq)
        return TRUE;
    }
  return FALSE;
}

/* Written on this device, and here: what came by a merge was done in the other copy, also when
 * that lay on this same device, and is not taken back here unseen. */
static gboolean
is_ours (Desk *self, const DeskRound *round)
{
  if (!core_id_equal (g_array_index (self->all.rounds.devices, CoreId, round->device),
                      self->device))
    return FALSE;
  for (guint i = 0; self->merged != NULL && i < self->merged->len; i++)
    {
      const StoreMerged *merged = &g_array_index (self->merged, StoreMerged, i);

      if (round->first_seq >= merged->first && round->first_seq <= merged->last)
        return FALSE;
    }
  return TRUE;
}

/* The round to be taken back by undo (or redo); -1 = none. */
static int
find_target (Desk *self, gboolean redo)
{
  const GArray *rounds = self->all.rounds.rounds;

  for (guint i = rounds->len; i > 0; i--)
    {
      const DeskRound *round = &g_array_index (rounds, DeskRound, i - 1);
      RoundKind kind = is_ours (self, round) ? kind_of_round (self, round) : ROUND_OTHER;
      gboolean sought = kind == (redo ? ROUND_UNDO : ROUND_ACTION) && round->dead < round->n;

      if ((sought || (redo && kind == ROUND_ACTION)) && !makes_journal (self, round))
        return sought ? (int) (i - 1) : -1;
    }
  return -1;
}

/* Its live entries in the order written; NULL: they cannot be read. */
static GPtrArray *
load_target (Desk *self, int round, GError **error)
{
  GPtrArray *entries =
    round < 0 ? g_ptr_array_new () : desk_collection_round (&self->all, (guint) round, error);

  for (guint i = entries != NULL ? entries->len : 0; i > 0; i--)
    {
      const DeskNode *node =
        desk_naming_node (&self->all.naming, ((CoreEntry *) entries->pdata[i - 1])->id);

      if (node != NULL && !node->live)
        g_ptr_array_remove_index (entries, i - 1);
    }
  return entries;
}

gboolean
desk_can_undo (Desk *self)
{
  return find_target (self, FALSE) >= 0 && !desk_read_only (self);
}

gboolean
desk_can_redo (Desk *self)
{
  return find_target (self, TRUE) >= 0 && !desk_read_only (self);
}

void
desk_emit_undo_changed (Desk *self)
{
  gboolean undo = desk_can_undo (self);
  gboolean redo = desk_can_redo (self);

  if (undo == self->had_undo && redo == self->had_redo)
    return;
  self->had_undo = undo;
  self->had_redo = redo;
  g_signal_emit_by_name (self, "undo-changed");
}

/* ---- undo and redo ---- */

void
desk_change_free (DeskChange *change)
{
  g_ptr_array_unref (change->entries);
  g_free (change->label);
  g_free (change->place);
  core_entry_free (change->said);
  core_entry_free (change->again);
  g_free (change);
}

static CoreEntry *
void_of (DeskOp *op, const CoreEntry *entry)
{
  CoreEntry *taken_back = desk_op_entry (op, CORE_KIND_VOID, entry->subject, op->desk->today);

  taken_back->names = entry->id;
  return taken_back;
}

static char *
label_of (Desk *self, CoreId subject)
{
  DeskRecord *record = desk_collection_record (&self->all, subject);

  return g_strdup (record != NULL && record->now != NULL ? desk_subject_label (record->now) : "");
}

const CoreEntry *
desk_entry_named (Desk *self, const CoreEntry *entry, gboolean *restores)
{
  const CoreEntry *named = entry;

  *restores = TRUE;
  while (named->kind == CORE_KIND_VOID && core_id_compare (named->names, named->id) < 0 &&
         desk_collection_entry (&self->all, named->names) != NULL)
    {
      named = desk_collection_entry (&self->all, named->names);
      *restores = !*restores;
    }
  return named != entry ? named : NULL;
}

/* To undo a void brings something back, and to redo that undo takes it away again. */
static void
say_change (Desk *self, DeskChange *change, const CoreEntry *shown)
{
  gboolean restores;
  const CoreEntry *named = desk_entry_named (self, shown, &restores);

  change->restores = change->redo == restores;
  if (named != NULL)
    shown = named;
  g_clear_pointer (&change->label, g_free);
  g_clear_pointer (&change->place, g_free);
  g_clear_pointer (&change->said, core_entry_free);
  change->label = label_of (self, shown->subject);
  change->place = desk_entry_names_subject (self, shown);
  change->said = core_entry_copy (shown);
}

static gboolean
prepare_undo (Desk *self, DeskOp *op, GError **error)
{
  DeskChange *change = op->data;
  g_autoptr (GPtrArray) target = load_target (self, find_target (self, change->redo), error);

  if (target == NULL)
    return FALSE;
  g_ptr_array_set_size (change->entries, 0);
  for (guint i = 0; i < target->len; i++)
    {
      CoreEntry *entry = target->pdata[i];
      CoreEntry *shown = change->redo ? desk_collection_entry (&self->all, entry->names) : entry;

      void_of (op, entry)->bulk = TRUE;
      g_ptr_array_add (change->entries, core_entry_copy (shown));
      if (i == 0 || (shown->kind == CORE_KIND_EXCHANGED && change->said->kind != CORE_KIND_EXCHANGED))
        say_change (self, change, shown);
    }
  if (target->len == 0)
    desk_fail (error, DESK_ERROR, DESK_ERROR_NOTHING,
               change->redo ? WORDS_DESK_NOTHING_TO_REDO : WORDS_DESK_NOTHING_TO_UNDO, NULL);
  return target->len > 0 && desk_op_check (op, error);
}

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

static void
start_change (Desk *self, gboolean redo, GAsyncReadyCallback callback, gpointer data)
{
  DeskChange *change = g_new0 (DeskChange, 1);

  change->redo = redo;
  change->entries = g_ptr_array_new_with_free_func (free_entry);
  desk_op_start (self, prepare_undo, prepare_undo, change, (GDestroyNotify) desk_change_free, NULL,
                 callback, data);
}

void
desk_undo_async (Desk *self, GAsyncReadyCallback callback, gpointer data)
{
  start_change (self, FALSE, callback, data);
}

void
desk_redo_async (Desk *self, GAsyncReadyCallback callback, gpointer data)
{
  start_change (self, TRUE, callback, data);
}

/* A correction that is gone leaves what it corrected, where nothing else took that back. */
static CoreEntry *
counts_again (Desk *self, const DeskChange *change)
{
  const CoreEntry *said = change->said;

  if (change->restores || change->entries->len != 1 || said->kind == CORE_KIND_VOID ||
      !desk_collection_is_live (&self->all, said->names))
    return NULL;
  return core_entry_copy (desk_collection_entry (&self->all, said->names));
}

DeskChange *
desk_undo_finish (Desk *self, GAsyncResult *result, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_undo, error);

  DeskChange *change = op == NULL ? NULL : g_steal_pointer (&op->data);

  if (change != NULL && change->label[0] == '\0')
    {
      g_free (change->label);
      change->label = label_of (self, change->said->subject);
    }
  if (change != NULL && change->restores)
    {
      g_free (change->place); /* its code or name may have come back with it */
      change->place = desk_entry_names_subject (self, change->said);
    }
  if (change != NULL)
    change->again = counts_again (self, change);
  return change;
}

/* ---- void ---- */

static CoreEntry *
named_entry (Desk *self, CoreId id, GError **error)
{
  CoreEntry *entry = desk_collection_entry (&self->all, id);

  if (entry == NULL)
    desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_ENTRY, NULL);
  return entry;
}

/* Is there still something by which it can be called, once this entry is gone? An animal
 * answers to its number, others to a code or a name as well. */
static gboolean
keeps_a_name (Desk *self, const CoreEntry *gone, GPtrArray *instead, GError **error)
{
  static const char *const names[] = { "number", "code", "name", NULL };
  const char *key = core_entry_str (gone, CORE_KEY_KEY);
  DeskRecord *record = desk_collection_record (&self->all, gone->subject);
  const CoreEntry *before = desk_collection_entry (&self->all, gone->names);
  g_autoptr (DeskFold) fold = NULL;
  const CoreState *state;

  if (gone->kind != CORE_KIND_SET || !g_strv_contains (names, key) || record == NULL ||
      record->now == NULL || record->kind == CORE_SUBJECT_JOURNAL ||
      !desk_collection_is_live (&self->all, gone->id))
    return TRUE;
  if (record->kind == CORE_SUBJECT_ANIMAL && strcmp (key, "number") != 0)
    return TRUE;
  /* What was corrected comes back when its correction goes. */
  if (instead == NULL && before != NULL && strcmp (core_entry_str (before, CORE_KEY_KEY), key) == 0)
    return TRUE;
  fold = desk_collection_fold (&self->all, gone->subject, record->kind,
                               &(DeskFoldHow){ gone->id, instead, CORE_DAY_NONE }, error);
  if (fold == NULL)
    return FALSE;
  state = &fold->state;
  if (state->number[0] != '\0' ||
      (record->kind != CORE_SUBJECT_ANIMAL && (state->code[0] != '\0' || state->name[0] != '\0')))
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_ONLY_NAME, key, NULL);
  return FALSE;
}

/* A photo goes as a whole, and so does what was given to another animal: what it replaced must
 * not come back in its place. NULL = it may. */
static CoreEntry *
goes_along (Desk *self, const CoreEntry *entry)
{
  CoreEntry *before = core_id_compare (entry->names, entry->id) < 0
                        ? desk_collection_entry (&self->all, entry->names)
                        : NULL;

  return before != NULL && (entry->kind == CORE_KIND_PHOTO ||
                            !core_id_equal (before->subject, entry->subject))
           ? before
           : NULL;
}

/* What was given to another animal is given back when nobody was mixed up. */
static gboolean
void_round (Desk *self, DeskOp *op, const CoreEntry *entry, GError **error)
{
  g_autoptr (GPtrArray) round = desk_collection_round_with (&self->all, entry->id, error);

  for (guint i = 0; round != NULL && i < round->len; i++)
    if (desk_collection_is_live (&self->all, ((CoreEntry *) round->pdata[i])->id))
      void_of (op, round->pdata[i]);
  return round != NULL;
}

static gboolean
prepare_void (Desk *self, DeskOp *op, GError **error)
{
  CoreEntry *entry = named_entry (self, *(CoreId *) op->data, error);

  if (entry == NULL || !keeps_a_name (self, entry, NULL, error))
    return FALSE;
  if (entry->kind == CORE_KIND_EXCHANGED && desk_collection_is_live (&self->all, entry->id))
    return void_round (self, op, entry, error) && desk_op_check (op, error);
  for (; entry != NULL; entry = goes_along (self, entry))
      void_of (op, entry);
  return desk_op_check (op, error);
}

void
desk_void_async (Desk *self, CoreId entry, GAsyncReadyCallback callback, gpointer data)
{
  desk_op_start (self, prepare_void, prepare_void, g_memdup2 (&entry, sizeof entry), g_free, NULL,
                 callback, data);
}

gboolean
desk_void_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_void, error) != NULL;
}

/* ---- correct ---- */

typedef struct
{
  CoreId entry;
  char **pairs;
} Correction;

static void
correction_free (gpointer data)
{
  Correction *self = data;

  g_strfreev (self->pairs);
  g_free (self);
}

static gboolean
correct_time (CoreEntry *entry, const char *value, GError **error)
{
  int minute = value[0] == '\0' ? -1 : desk_minute_from_text (value);

  if (minute == -2)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BAD_TIME, value, NULL);
      return FALSE;
    }
  entry->minute = (gint16) minute;
  return TRUE;
}

/* An empty value takes a key away; "day", "earliest" and "time" are the entry's own. */
static gboolean
correct_one (Desk *self, CoreEntry *entry, const char *pair, GError **error)
{
  g_autofree char *key = NULL;
  const char *value;
  const CoreKindKey *row;
  DeskWhen when;

  if (!desk_value_split (pair, &key, &value, error))
    return FALSE;
  if (strcmp (key, "day") == 0)
    {
      if (!desk_value_days (self, key, value, &when, error))
        return FALSE;
      if (when.earliest < when.latest)
        entry->earliest = CORE_DAY_NONE;
      desk_when_span (&when, entry->kind, &entry->day, &entry->earliest);
      desk_photo_redate (self, entry);
      return TRUE;
    }
  if (strcmp (key, "earliest") == 0 && value[0] == '\0')
    {
      entry->earliest = CORE_DAY_NONE;
      return TRUE;
    }
  if (strcmp (key, "earliest") == 0)
    return desk_value_day (self, key, value, &entry->earliest, error);
  if (strcmp (key, "time") == 0)
    return correct_time (entry, value, error);
  row = core_kind_key_by_name (entry->kind, key);
  if (row != NULL && (row->key == CORE_KEY_HASH || row->key == CORE_KEY_TAKEN))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PHOTO_NEEDS_FILE, NULL);
      return FALSE;
    }
  if (row != NULL)
    core_entry_remove (entry, row->key);
  if (row != NULL && value[0] == '\0' && !row->required)
    return TRUE;
  return desk_value_set (self, entry, pair, error);
}

static gboolean
prepare_correct (Desk *self, DeskOp *op, GError **error)
{
  Correction *correction = op->data;
  CoreEntry *old = named_entry (self, correction->entry, error);
  CoreEntry *entry;

  if (old == NULL)
    return FALSE;
  if (old->kind == CORE_KIND_VOID)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_VOID_NOT_CORRECTED, NULL);
      return FALSE;
    }
  if (old->kind == CORE_KIND_EXCHANGED)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_MIXED_NOT_CORRECTED, NULL);
      return FALSE;
    }
  entry = desk_op_replace (op, old);
  /* A vague day has an earliest of its own, unless another is given. */
  for (int given = 0; given < 2; given++)
    for (char **pair = correction->pairs; *pair != NULL; pair++)
      if (g_str_has_prefix (*pair, "earliest=") == (given == 1) && !correct_one (self, entry, *pair, error))
        return FALSE;
  return desk_value_setting_of (self, desk_op_kind_of (op, entry->subject), entry, error) &&
         keeps_a_name (self, old, op->entries, error) && desk_op_check (op, error);
}

void
desk_correct_async (Desk *self,
                    CoreId entry,
                    const char *const *pairs,
                    GAsyncReadyCallback callback,
                    gpointer data)
{
  Correction *correction = g_new0 (Correction, 1);

  correction->entry = entry;
  correction->pairs = desk_strv_copy (pairs);
  desk_op_start (self, prepare_correct, prepare_correct, correction, correction_free, NULL,
                 callback, data);
}

gboolean
desk_correct_finish (Desk *self, GAsyncResult *result, CoreId *id, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_correct, error);

  if (op != NULL && id != NULL)
    *id = g_array_index (op->written, CoreId, 0);
  return op != NULL;
}
