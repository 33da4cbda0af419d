/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-lot.c — the verbs of lots: singles taken out, a part made a lot of its own, two
 * lots made one. Each is one round, so one undo; desk-lot-books.c watches over the sums. */
#include "desk/desk-private.h"

#include <math.h>
#include <string.h>

#include "core/core-lot.h"

#define MOST_SINGLES 500 /* of one separation; a larger one is a slip */

/* ---- where the new ones stand ---- */

/* The position of number `i` of `n` new ones between a subject and the next on its shelf. */
double
desk_position_after (Desk *self, CoreId subject, guint i, guint n)
{
  g_autoptr (DeskSubject) here = desk_get (self, subject);
  g_autoptr (GPtrArray) all = NULL;
  CoreId place;
  double at = NAN, next = NAN, other;

  if (here == NULL || !desk_subject_place (here, &place, &at))
    return 1 + i;
  all = desk_subjects_on (self, place);
  for (guint k = 0; k < all->len; k++)
    if (desk_subject_place (all->pdata[k], NULL, &other) && !isnan (other) && other > at)
      next = isnan (next) ? other : MIN (next, other);
  if (isnan (at))
    return 1 + i;
  return isnan (next) ? floor (at) + 1 + i : at + (next - at) * (i + 1.) / (n + 1.);
}

/* ---- shared by the verbs ---- */

typedef struct
{
  CoreId lot;
  CoreId other; /* join: the lot that goes into it; separate: the place, none = the lot's */
  guint n;
  int moulted; /* how many of them had moulted before the others; -1 = not said */
  char *code;
  CoreDay day;
  GArray *made; /* CoreId of the new subjects */
} LotVerb;

static void
verb_free (gpointer data)
{
  LotVerb *self = data;

  g_free (self->code);
  g_array_unref (self->made);
  g_free (self);
}

/* The state of a living lot; NULL and an error for anything else. */
static const CoreState *
lot_state (Desk *self, CoreId id, GError **error)
{
  DeskRecord *record = desk_collection_record (&self->all, id);

  if (record == NULL || record->now == NULL)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_SUBJECT, NULL);
      return NULL;
    }
  if (record->kind == CORE_SUBJECT_LOT)
    return desk_subject_state (record->now);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_A_LOT,
             desk_subject_label (record->now), NULL);
  return NULL;
}

static void
take_out (DeskOp *op, const LotVerb *verb, CoreId to)
{
  CoreEntry *entry = desk_op_entry (op, CORE_KIND_SPLIT, verb->lot, verb->day);

  core_entry_set_num (entry, CORE_KEY_N, verb->n);
  if (verb->moulted >= 0)
    core_entry_set_num (entry, CORE_KEY_MOULTED, verb->moulted);
  if (!core_id_is_none (to))
    core_entry_set_ref (entry, CORE_KEY_WITH, to);
}

/* Those that are said to have moulted must be among those of the lot that had on that day, and the
 * others among those that had not. */
static gboolean
may_have_moulted (DeskOp *op, const LotVerb *verb, GError **error)
{
  g_autofree char *moulted = g_strdup_printf ("%d", verb->moulted);
  g_autoptr (DeskFold) then = NULL;
  gint64 least, most, held;

  if (verb->moulted < 0)
    return TRUE;
  then = desk_collection_fold (&op->desk->all, verb->lot, CORE_SUBJECT_LOT,
                               &(DeskFoldHow){ .until = verb->day }, error);
  if (then == NULL)
    return FALSE;
  core_lot_ahead (&then->state, &least, &most);
  held = core_lot_held (&then->state, verb->day);
  if (verb->moulted <= (int) verb->n && verb->moulted <= most &&
      (held < 0 || (gint64) verb->n - verb->moulted <= held - least))
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_LOT_MOULTED, moulted, NULL);
  return FALSE;
}

/* One refusal for all, before anything is made of them. */
static gboolean
may_take (DeskOp *op, const CoreState *lot, const LotVerb *verb, GError **error)
{
  CoreEntry *entry;
  CoreRefusal refusal;

  if (verb->n < 1)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_LOT_NONE, NULL);
      return FALSE;
    }
  entry = core_entry_new (CORE_KIND_SPLIT);
  if (entry == NULL)
    g_error ("out of memory");
  entry->subject = verb->lot;
  entry->day = verb->day;
  core_entry_set_num (entry, CORE_KEY_N, verb->n);
  if (!may_have_moulted (op, verb, error))
    {
      core_entry_free (entry);
      return FALSE;
    }
  refusal = core_check (lot, entry, op->desk->today);
  if (refusal != CORE_REFUSE_NOTHING)
    desk_refuse (error, refusal, lot, entry);
  core_entry_free (entry);
  return refusal == CORE_REFUSE_NOTHING;
}

static LotVerb *
verb_new (Desk *self, CoreId lot, guint n, int moulted, CoreDay day)
{
  LotVerb *verb = g_new0 (LotVerb, 1);

  verb->lot = lot;
  verb->n = n;
  verb->moulted = moulted;
  verb->day = day == CORE_DAY_NONE ? self->today : day;
  verb->made = g_array_new (FALSE, FALSE, sizeof (CoreId));
  return verb;
}

/* The new subjects of a finished verb. */
static GPtrArray *
made_by (Desk *self, const LotVerb *verb)
{
  GPtrArray *out = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);

  for (guint i = 0; i < verb->made->len; i++)
    g_ptr_array_add (out, desk_get (self, g_array_index (verb->made, CoreId, i)));
  return out;
}

static void
stand (DeskOp *op, const CoreState *lot, const LotVerb *verb, CoreId subject, guint i)
{
  gboolean elsewhere = !core_id_is_none (verb->other);
  CoreEntry *entry;

  if (!elsewhere && lot->stays.n == 0)
    return;
  entry = desk_op_entry (op, CORE_KIND_HOUSED, subject, verb->day);
  core_entry_set_ref (entry, CORE_KEY_PLACE,
                      elsewhere ? verb->other : lot->stays.v[lot->stays.n - 1].place);
  core_entry_set_num (entry, CORE_KEY_AT,
                      elsewhere ? desk_position_last (op->desk, verb->other) + 1 + i
                                : desk_position_after (op->desk, verb->lot, i, verb->n));
}

/* What it has from there is folded from the lot's own entries: desk-inherit.c. */
static gboolean
comes_from (DeskOp *op, const CoreState *lot, CoreId to, CoreDay day, GError **error)
{
  char id[37];

  core_id_to_text (lot->subject, id);
  return desk_op_set (op, to, day, "lot", id, error);
}

/* ---- separate: N singles ---- */

static gboolean
make_single (DeskOp *op, const CoreState *lot, const LotVerb *verb, guint i, GError **error)
{
  CoreId single = desk_op_new_subject (op, CORE_SUBJECT_ANIMAL);
  g_autofree char *number =
    g_strdup_printf ("%" G_GUINT64_FORMAT, op->desk->all.top_number + 1 + i);

  g_array_append_val (verb->made, single);
  if (!comes_from (op, lot, single, verb->day, error) ||
      !desk_op_set (op, single, verb->day, "number", number, error) ||
      (verb->moulted >= 0 && !desk_op_set (op, single, verb->day, "ahead",
                                           i < (guint) verb->moulted ? "yes" : "no", error)))
    return FALSE;
  stand (op, lot, verb, single, i);
  return TRUE;
}

static gboolean
prepare_separate (Desk *self, DeskOp *op, GError **error)
{
  LotVerb *verb = op->data;
  const CoreState *lot = lot_state (self, verb->lot, error);
  g_autofree char *most = g_strdup_printf ("%d", MOST_SINGLES);

  g_array_set_size (verb->made, 0);
  if (lot == NULL || !may_take (op, lot, verb, error))
    return FALSE;
  if (verb->n > MOST_SINGLES)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_LOT_MOST, most, NULL);
      return FALSE;
    }
  take_out (op, verb, (CoreId){ 0 });
  for (guint i = 0; i < verb->n; i++)
    if (!make_single (op, lot, verb, i, error))
      return FALSE;
  return desk_op_check (op, error);
}

void
desk_separate_async (Desk *self,
                     CoreId lot,
                     guint n,
                     int moulted,
                     CoreId place,
                     CoreDay day,
                     GAsyncReadyCallback callback,
                     gpointer data)
{
  LotVerb *verb = verb_new (self, lot, n, moulted, day);

  verb->other = place;
  desk_op_start (self, prepare_separate, prepare_separate, verb, verb_free, NULL, callback, data);
}

GPtrArray *
desk_separate_finish (Desk *self, GAsyncResult *result, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_separate, error);

  return op == NULL ? NULL : made_by (self, op->data);
}

/* ---- split: a new lot ---- */

static gboolean
prepare_split (Desk *self, DeskOp *op, GError **error)
{
  LotVerb *verb = op->data;
  const CoreState *lot = lot_state (self, verb->lot, error);
  g_autofree char *next = verb->code == NULL ? desk_code_next (self, 'H') : NULL;
  CoreId part;
  CoreEntry *count;

  if (lot == NULL || !may_take (op, lot, verb, error))
    return FALSE;
  part = op->subject = desk_op_new_subject (op, CORE_SUBJECT_LOT);
  take_out (op, verb, part);
  if (!comes_from (op, lot, part, verb->day, error) ||
      !desk_op_set (op, part, verb->day, "code", verb->code != NULL ? verb->code : next, error))
    return FALSE;
  count = desk_op_entry (op, CORE_KIND_RECOUNTED, part, verb->day);
  core_entry_set_num (count, CORE_KEY_N, verb->n);
  core_entry_set_word (count, CORE_KEY_COUNTED, "yes");
  stand (op, lot, &(LotVerb){ .lot = verb->lot, .n = 1, .day = verb->day }, part, 0);
  return desk_op_check (op, error);
}

void
desk_split_async (Desk *self,
                  CoreId lot,
                  guint n,
                  int moulted,
                  const char *code,
                  CoreDay day,
                  GAsyncReadyCallback callback,
                  gpointer data)
{
  LotVerb *verb = verb_new (self, lot, n, moulted, day);

  verb->code = g_strdup (code);
  desk_op_start (self, prepare_split, prepare_split, verb, verb_free, NULL, callback, data);
}

DeskSubject *
desk_split_finish (Desk *self, GAsyncResult *result, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_split, error);

  return op == NULL ? NULL : desk_get (self, op->subject);
}

/* ---- join: two lots become one ---- */

/* More than a moult apart, or one of them adult: no stage could be said of both. */
static gboolean
stages_fit (const CoreState *a, const CoreState *b)
{
  if (a->adult != b->adult)
    return FALSE;
  return a->adult || a->moults < 0 || b->moults < 0 || ABS (a->moults - b->moults) <= 1;
}

static void
say_stages (Desk *self, DeskSubject *a, DeskSubject *b, GError **error)
{
  WordsView view = { WORDS_LOCAL, self->today, desk_scheme (self) };
  g_autofree char *first = words_stage (&view, desk_subject_state (a));
  g_autofree char *second = words_stage (&view, desk_subject_state (b));

  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_JOIN_STAGES, desk_subject_label (a), first,
             desk_subject_label (b), second, NULL);
}

static gboolean
may_join (Desk *self, const CoreState *into, const CoreState *from, GError **error)
{
  g_autoptr (DeskSubject) a = desk_get (self, into->subject);
  g_autoptr (DeskSubject) b = desk_get (self, from->subject);

  if (core_id_equal (into->subject, from->subject))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_JOIN_ITSELF, NULL);
  else if (into->species[0] != '\0' && from->species[0] != '\0' &&
           strcmp (into->species, from->species) != 0)
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_JOIN_SPECIES, desk_subject_label (a),
               into->species, desk_subject_label (b), from->species, NULL);
  else if (!stages_fit (into, from))
    say_stages (self, a, b, error);
  else
    return TRUE;
  return FALSE;
}

/* What differs between the two is no longer known of the whole. */
static const struct
{
  const char *key, *mixed;
} mixing[] = {
  { "mother", "" },          { "father", "" },
  { "eggcase", "" },         { "origin", "unknown" },
  { "line", "mixed" },       { "locality", "mixed" },
  { "generation", "mixed" }, { "species_sure", "doubtful" },
};

static gboolean
mix_settings (DeskOp *op, const CoreState *into, const CoreState *from, CoreDay day, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (mixing); i++)
    {
      const char *a = core_state_setting (into, mixing[i].key);
      const char *b = core_state_setting (from, mixing[i].key);

      if (g_strcmp0 (a, b) == 0 || (a == NULL && mixing[i].mixed[0] == '\0'))
        continue;
      if (!desk_op_set (op, into->subject, day, mixing[i].key, mixing[i].mixed, error))
        return FALSE;
    }
  return TRUE;
}

/* Hatched on other days, and none of them moulted yet: the window holds both. */
static void
widen_hatch (DeskOp *op, const CoreState *into, const CoreState *from)
{
  const CoreEntry *old = desk_collection_entry (&op->desk->all, into->hatched_entry);
  CoreDay earliest = MIN (into->hatched_earliest, from->hatched_earliest);
  CoreDay day = MAX (into->hatched_day, from->hatched_day);
  CoreEntry *entry;

  if (old == NULL || !from->hatched || into->stages.n != 1 || from->stages.n != 1 ||
      (earliest == into->hatched_earliest && day == into->hatched_day))
    return;
  entry = desk_op_replace (op, old);
  entry->day = day;
  entry->earliest = earliest;
}

/* Of two stages the lower, as an estimate. */
static void
mix_stage (DeskOp *op, const CoreState *into, const CoreState *from, CoreDay day)
{
  CoreEntry *entry;

  if (into->moults < 0 || from->moults < 0 || into->moults == from->moults || into->adult ||
      from->adult)
    return;
  entry = desk_op_entry (op, CORE_KIND_STAGE, into->subject, day);
  core_entry_set_word (entry, CORE_KEY_SEEN, "nymph");
  core_entry_set_num (entry, CORE_KEY_MOULTS, MIN (into->moults, from->moults));
}

static gboolean
prepare_join (Desk *self, DeskOp *op, GError **error)
{
  LotVerb *verb = op->data;
  const CoreState *into = lot_state (self, verb->lot, error);
  const CoreState *from = into != NULL ? lot_state (self, verb->other, error) : NULL;
  CoreEntry *entry;

  if (from == NULL || !may_join (self, into, from, error))
    return FALSE;
  entry = desk_op_entry (op, CORE_KIND_JOINED, into->subject, verb->day);
  core_entry_set_ref (entry, CORE_KEY_WITH, from->subject);
  if (from->tally.known)
    {
      core_entry_set_num (entry, CORE_KEY_N, (double) from->tally.count);
      core_entry_set_word (entry, CORE_KEY_COUNTED, from->tally.counted ? "yes" : "no");
    }
  entry = desk_op_entry (op, CORE_KIND_SPLIT, from->subject, verb->day);
  core_entry_set_ref (entry, CORE_KEY_WITH, into->subject);
  widen_hatch (op, into, from);
  mix_stage (op, into, from, verb->day);
  return mix_settings (op, into, from, verb->day, error) && desk_op_check (op, error);
}

void
desk_join_async (Desk *self,
                 CoreId into,
                 CoreId from,
                 CoreDay day,
                 GAsyncReadyCallback callback,
                 gpointer data)
{
  LotVerb *verb = verb_new (self, into, 0, -1, day);

  verb->other = from;
  desk_op_start (self, prepare_join, prepare_join, verb, verb_free, NULL, callback, data);
}

gboolean
desk_join_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_join, error) != NULL;
}
