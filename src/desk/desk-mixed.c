/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-mixed.c — two animals that were taken for each other.
 *
 * What was seen of either since then gets a replacement that belongs to the other, and both
 * get an entry `exchanged` that says so; all of it is one round. So nothing is rewritten: the
 * old entries stay where they were written, undo takes the round back, two copies merge as
 * ever, and of an entry that was corrected on one copy and given to the other animal on the
 * second the later replacement counts, both being listed as a conflict. What belongs to the
 * cup and its number (names, beginnings, where it stands, care, what was put off) stays.
 *
 * Order in the round: what goes along unseen comes before the entries `exchanged`, what the
 * keeper has looked at again comes after them; of the sex only the latter counts (core). */
#include "desk/desk-private.h"

#include <math.h>
#include <string.h>

#include "desk/desk-identity.h"

typedef struct
{
  CoreId pair[2];
  CoreDay since;
  GArray *shown; /* DeskShown, photos by their first entry */
  guint moved;
} Mixed;

static void
mixed_free (gpointer data)
{
  Mixed *self = data;

  g_array_unref (self->shown);
  g_free (self);
}

/* ---- to whom an entry belongs ---- */

static gboolean
replaces (const CoreEntry *entry, CoreId id) /* of a node: without values */
{
  return entry->kind != CORE_KIND_VOID && core_id_equal (entry->names, id) &&
         core_id_compare (id, entry->id) < 0;
}

const CoreEntry *
desk_entry_heir (Desk *self, CoreId entry)
{
  g_autoptr (GArray) open = g_array_new (FALSE, FALSE, sizeof (CoreId));

  g_array_append_val (open, entry);
  while (open->len > 0)
    {
      CoreId id = g_array_index (open, CoreId, open->len - 1);
      const GPtrArray *namers = g_hash_table_lookup (self->all.naming.namers, &id);

      g_array_set_size (open, open->len - 1);
      if (desk_collection_is_live (&self->all, id))
        return desk_collection_entry (&self->all, id);
      for (guint i = 0; namers != NULL && i < namers->len; i++)
        {
          const CoreEntry *other = &((const DeskNode *) namers->pdata[i])->entry;

          if (replaces (other, id))
            g_array_append_val (open, other->id);
        }
    }
  return NULL;
}

/* The label of the subject of `entry`, where that is another than `id`. */
static char *
label_of_other (Desk *self, const CoreEntry *entry, CoreId id)
{
  g_autoptr (DeskSubject) other =
    entry == NULL || core_id_equal (entry->subject, id) ? NULL : desk_get (self, entry->subject);

  return other != NULL ? g_strdup (desk_subject_label (other)) : NULL;
}

char *
desk_entry_was_of (Desk *self, const CoreEntry *entry)
{
  const CoreEntry *first = entry;

  while (first != NULL && first->kind != CORE_KIND_VOID && !core_id_is_none (first->names) &&
         core_id_compare (first->names, first->id) < 0 &&
         core_id_equal (first->subject, entry->subject))
    first = desk_collection_entry (&self->all, first->names);
  return label_of_other (self, first, entry->subject);
}

char *
desk_entry_now_of (Desk *self, const CoreEntry *entry)
{
  return label_of_other (self, desk_entry_heir (self, entry->id), entry->subject);
}

/* ---- who was where ---- */

static const CoreState *
animal_state (Desk *self, CoreId id, GError **error)
{
  DeskRecord *record = desk_collection_record (&self->all, id);

  if (record != NULL && record->now != NULL && record->kind == CORE_SUBJECT_ANIMAL)
    return desk_subject_state (record->now);
  if (record != NULL && record->now != NULL)
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_AN_ANIMAL,
               desk_subject_label (record->now), NULL);
  else
    desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_SUBJECT, NULL);
  return NULL;
}

/* The first day on which it stood here as one of its own. */
static CoreDay
here_since (const CoreState *state)
{
  CoreDay since = state->moved_in ? CORE_DAY_NONE : state->acquired;

  since = MAX (since, state->lot_since);
  return MAX (since, state->hatched_earliest);
}

static gboolean
was_there (Desk *self, const CoreState *state, CoreDay since, GError **error)
{
  WordsView view = { WORDS_LOCAL, self->today, desk_scheme (self) };
  gboolean late = here_since (state) > since;
  g_autofree char *day = words_day (&view, late ? here_since (state) : state->end_day, WORDS_DAY_FULL);

  if (late)
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_MIXED_NOT_HERE, state->number, day,
               NULL);
  else if (state->end_day != CORE_DAY_NONE && state->end_day < since)
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_MIXED_GONE, state->number, day, NULL);
  else
    return TRUE;
  return FALSE;
}

static gboolean
may_be_mixed (Desk *self, const Mixed *mixed, GError **error)
{
  const CoreState *states[2];

  if (core_id_equal (mixed->pair[0], mixed->pair[1]))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SWAP_ITSELF, NULL);
      return FALSE;
    }
  for (int k = 0; k < 2; k++)
    {
      states[k] = animal_state (self, mixed->pair[k], error);
      if (states[k] == NULL)
        return FALSE;
    }
  if (mixed->since > self->today)
    {
      desk_refuse (error, CORE_REFUSE_FUTURE, states[0], NULL);
      return FALSE;
    }
  return was_there (self, states[0], mixed->since, error) &&
         was_there (self, states[1], mixed->since, error);
}

/* ---- what was seen since then ---- */

/* A picture shows the day on which it was taken, a mark that of its picture. */
static CoreDay
day_seen (Desk *self, const CoreEntry *entry)
{
  const CoreEntry *photo =
    entry->kind == CORE_KIND_MARKED
      ? desk_entry_heir (self, desk_photo_first (self, core_entry_ref (entry, CORE_KEY_PHOTO)))
      : entry;
  double taken = photo != NULL ? core_entry_num (photo, CORE_KEY_TAKEN, NAN) : NAN;

  if (photo == NULL)
    return entry->day;
  return taken < photo->day ? (CoreDay) taken : photo->day;
}

/* const CoreEntry *: what was seen of it since then, in the order of arrival. */
static void
gather (Desk *self, CoreId animal, CoreDay since, GPtrArray *out)
{
  DeskRecord *record = desk_collection_record (&self->all, animal);
  const CoreState *state = desk_subject_state (record->now);
  const GPtrArray *entries = desk_collection_entries (&self->all, record, NULL);

  for (guint i = 0; entries != NULL && i < entries->len; i++)
    {
      const CoreEntry *entry = entries->pdata[i];
      gboolean taken_over = entry->bulk && state->lot_since != CORE_DAY_NONE &&
                            core_id_equal (entry->round, state->lot_round);

      if (core_entry_is_seen (entry) && !taken_over && desk_collection_is_live (&self->all, entry->id) &&
          day_seen (self, entry) >= since)
        g_ptr_array_add (out, (gpointer) entry);
    }
}

static int
compare_entries (gconstpointer a, gconstpointer b)
{
  const CoreEntry *const *x = a;
  const CoreEntry *const *y = b;

  return core_entry_compare (*x, *y);
}

GPtrArray *
desk_mixed_photos (Desk *self, CoreId a, CoreId b, CoreDay since)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  GPtrArray *photos = g_ptr_array_new ();

  if (desk_collection_record (&self->all, a) == NULL || desk_collection_record (&self->all, b) == NULL)
    return photos;
  gather (self, a, since, all);
  gather (self, b, since, all);
  for (guint i = 0; i < all->len; i++)
    if (((const CoreEntry *) all->pdata[i])->kind == CORE_KIND_PHOTO)
      g_ptr_array_add (photos, all->pdata[i]);
  g_ptr_array_sort (photos, compare_entries);
  return photos;
}

/* ---- the round ---- */

/* Whom the keeper says that its picture shows; NULL = none, or no picture. */
static const CoreId *
said_to_show (Desk *self, const Mixed *mixed, const CoreEntry *entry)
{
  CoreId photo = entry->kind == CORE_KIND_PHOTO ? entry->id : core_entry_ref (entry, CORE_KEY_PHOTO);

  if (entry->kind != CORE_KIND_PHOTO && entry->kind != CORE_KIND_MARKED)
    return NULL;
  photo = desk_photo_first (self, photo);
  for (guint i = 0; i < mixed->shown->len; i++)
    {
      const DeskShown *shown = &g_array_index (mixed->shown, DeskShown, i);

      if (core_id_equal (shown->photo, photo) && !core_id_is_none (shown->shows))
        return &shown->shows;
    }
  return NULL;
}

static CoreId
other_of (const Mixed *mixed, CoreId id)
{
  return mixed->pair[core_id_equal (mixed->pair[0], id) ? 1 : 0];
}

static void
give_to (DeskOp *op, Mixed *mixed, const CoreEntry *entry, CoreId owner)
{
  mixed->moved += !core_id_equal (entry->subject, owner);
  desk_op_replace (op, entry)->subject = owner;
}

static void
say_exchanged (DeskOp *op, const Mixed *mixed)
{
  for (int k = 0; k < 2; k++)
    {
      CoreEntry *entry = desk_op_entry (op, CORE_KIND_EXCHANGED, mixed->pair[k], op->desk->today);

      core_entry_set_ref (entry, CORE_KEY_WITH, mixed->pair[1 - k]);
      if (mixed->since < op->desk->today)
        entry->earliest = mixed->since;
    }
}

/* Its picture is as good as seen again: the marks on it are written anew, whoever has them. */
static void
give_shown (DeskOp *op, Mixed *mixed, const CoreEntry *entry, CoreId owner)
{
  if (entry->kind == CORE_KIND_MARKED || !core_id_equal (entry->subject, owner))
    give_to (op, mixed, entry, owner);
}

/* ---- whose young they are ---- */

static gboolean
is_of_eggcase (const CoreState *state, CoreId eggcase)
{
  const char *said = core_state_setting (state, "eggcase");
  CoreId id;

  return core_id_equal (state->subject, eggcase) ||
         (said != NULL && core_id_from_text (said, &id) && core_id_equal (id, eggcase));
}

/* What was said of its number among those of the first mother is void. */
static gboolean
number_anew (DeskOp *op, CoreId eggcase, CoreId mother, GError **error)
{
  const DeskRecord *record = desk_collection_record (&op->desk->all, eggcase);

  for (guint i = 0; i < op->entries->len; i++)
    {
      CoreEntry *entry = op->entries->pdata[i];

      if (entry->kind == CORE_KIND_LAID && core_id_equal (entry->subject, mother) &&
          core_id_equal (core_entry_ref (entry, CORE_KEY_WITH), eggcase))
        core_entry_remove (entry, CORE_KEY_N);
    }
  return record == NULL || record->now == NULL ||
         core_state_setting (desk_subject_state (record->now), "series") == NULL ||
         desk_op_set (op, eggcase, op->desk->today, "series", "", error);
}

/* An egg case that the other has laid, and all that came of it, change their mother. */
static void
change_mother (DeskOp *op, CoreId eggcase, CoreId from, CoreId to)
{
  char was[37], is[37];

  core_id_to_text (from, was);
  core_id_to_text (to, is);
  for (guint i = 0; i < op->desk->all.order->len; i++)
    {
      const DeskRecord *record = op->desk->all.order->pdata[i];
      const CoreState *state = desk_subject_state (record->now);

      for (gsize k = 0; k < state->settings.n; k++)
        {
          const CoreSetting *setting = &state->settings.v[k];
          const CoreEntry *old = desk_collection_entry (&op->desk->all, setting->entry);
          CoreEntry *entry;

          if (strcmp (setting->key, "mother") != 0 || strcmp (setting->value, was) != 0 ||
              old == NULL || !is_of_eggcase (state, eggcase))
            continue;
          entry = desk_op_replace (op, old);
          core_entry_remove (entry, CORE_KEY_VALUE);
          core_entry_set_str (entry, CORE_KEY_VALUE, is);
        }
    }
}

static gboolean
change_mothers (DeskOp *op, const Mixed *mixed, const GPtrArray *seen, GError **error)
{
  for (guint i = 0; i < seen->len; i++)
    {
      const CoreEntry *entry = seen->pdata[i];
      CoreId eggcase = core_entry_ref (entry, CORE_KEY_WITH);
      CoreId to = other_of (mixed, entry->subject);

      if (entry->kind != CORE_KIND_LAID || core_id_is_none (eggcase))
        continue;
      change_mother (op, eggcase, entry->subject, to);
      if (!number_anew (op, eggcase, to, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- what cannot be ---- */

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

static DeskFold *
fold_after (DeskOp *op, CoreId animal)
{
  DeskRecord *record = desk_collection_record (&op->desk->all, animal);
  g_autoptr (GHashTable) named = desk_id_set_new ();
  g_autoptr (GPtrArray) live = g_ptr_array_new ();
  g_autoptr (GPtrArray) of_lot = g_ptr_array_new_with_free_func (free_entry);
  g_autoptr (DeskFold) fold = desk_fold_new ();
  const GPtrArray *entries = desk_collection_entries (&op->desk->all, record, NULL);

  for (guint i = 0; i < op->entries->len; i++)
    {
      CoreEntry *entry = op->entries->pdata[i];

      desk_id_set_add (named, entry->names);
      if (core_id_equal (entry->subject, animal))
        g_ptr_array_add (live, entry);
    }
  for (guint i = 0; entries != NULL && i < entries->len; i++)
    {
      CoreEntry *entry = entries->pdata[i];

      if (desk_collection_is_live (&op->desk->all, entry->id) &&
          !g_hash_table_contains (named, &entry->id))
        g_ptr_array_add (live, entry);
    }
  if (!desk_inherit (&op->desk->all, record, entries, &desk_fold_now, live, of_lot))
    op->desk->all.unreadable = TRUE;
  core_state_init (&fold->state);
  if (core_fold (animal, record->kind, (const CoreEntry *const *) live->pdata, live->len,
                 &fold->state) != CORE_OK)
    g_error ("out of memory");
  return g_steal_pointer (&fold);
}

static guint
count_conflicts (const CoreState *state, CoreConflictKind kind)
{
  guint n = 0;

  for (gsize i = 0; i < state->conflicts.n; i++)
    n += state->conflicts.v[i].kind == kind;
  return n;
}

/* An adult cannot have had the other's moult: then they were not mixed up since that day. */
static gboolean
makes_sense (DeskOp *op, const Mixed *mixed, GError **error)
{
  WordsView view = { WORDS_LOCAL, op->desk->today, desk_scheme (op->desk) };

  for (int k = 0; k < 2; k++)
    {
      g_autoptr (DeskFold) fold = fold_after (op, mixed->pair[k]);
      const CoreState *before =
        desk_subject_state (desk_collection_record (&op->desk->all, mixed->pair[k])->now);

      for (gsize i = 0; i < fold->state.conflicts.n; i++)
        {
          const CoreConflict *conflict = &fold->state.conflicts.v[i];
          g_autofree char *why = NULL;

          if (count_conflicts (&fold->state, conflict->kind) <= count_conflicts (before, conflict->kind))
            continue;
          why = words_conflict (&view, conflict);
          desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_MIXED_CANNOT, before->number, why,
                     NULL);
          return FALSE;
        }
    }
  return TRUE;
}

/* ---- the verb ---- */

/* Where nobody knew which was which, to put it right answers that too. */
static gboolean
ends_doubt (Desk *self, const Mixed *mixed)
{
  for (int k = 0; k < 2; k++)
    if (animal_state (self, mixed->pair[k], NULL)->doubtful_since != CORE_DAY_NONE)
      return TRUE;
  return FALSE;
}

/* What would be written says that they were mixed up, and undoes nothing of it. */
static void
fail_nothing (Desk *self, const Mixed *mixed, GError **error)
{
  WordsView view = { WORDS_LOCAL, self->today, desk_scheme (self) };
  g_autofree char *day = words_day (&view, mixed->since, WORDS_DAY_FULL);

  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_MIXED_NOTHING, day, NULL);
}

static gboolean
prepare_mixed (Desk *self, DeskOp *op, GError **error)
{
  Mixed *mixed = op->data;
  g_autoptr (GPtrArray) seen = g_ptr_array_new ();

  mixed->moved = 0;
  if (!may_be_mixed (self, mixed, error))
    return FALSE;
  gather (self, mixed->pair[0], mixed->since, seen);
  gather (self, mixed->pair[1], mixed->since, seen);
  for (guint i = 0; i < seen->len; i++)
    if (said_to_show (self, mixed, seen->pdata[i]) == NULL)
      give_to (op, mixed, seen->pdata[i], other_of (mixed, ((CoreEntry *) seen->pdata[i])->subject));
  say_exchanged (op, mixed);
  for (guint i = 0; i < seen->len; i++)
    {
      const CoreId *shows = said_to_show (self, mixed, seen->pdata[i]);

      if (shows != NULL)
        give_shown (op, mixed, seen->pdata[i], *shows);
    }
  if (mixed->moved == 0 && !ends_doubt (self, mixed))
    {
      fail_nothing (self, mixed, error);
      return FALSE;
    }
  return change_mothers (op, mixed, seen, error) && makes_sense (op, mixed, error);
}

void
desk_mixed_async (Desk *self,
                  CoreId a,
                  CoreId b,
                  CoreDay since,
                  const DeskShown *shown,
                  gsize n_shown,
                  GAsyncReadyCallback callback,
                  gpointer data)
{
  Mixed *mixed = g_new0 (Mixed, 1);

  mixed->pair[0] = a;
  mixed->pair[1] = b;
  mixed->since = since;
  mixed->shown = g_array_new (FALSE, FALSE, sizeof (DeskShown));
  for (gsize i = 0; i < n_shown; i++)
    {
      DeskShown one = { desk_photo_first (self, shown[i].photo), shown[i].shows };

      if (core_id_equal (one.shows, a) || core_id_equal (one.shows, b))
        g_array_append_val (mixed->shown, one);
    }
  desk_op_start (self, prepare_mixed, prepare_mixed, mixed, mixed_free, NULL, callback, data);
}

gboolean
desk_mixed_finish (Desk *self, GAsyncResult *result, guint *n_moved, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_mixed, error);

  if (op != NULL && n_moved != NULL)
    *n_moved = ((const Mixed *) op->data)->moved;
  return op != NULL;
}
