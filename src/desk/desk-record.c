/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-record.c — entries that say what was seen or done: one, several, or for a task. */
#include "desk/desk-add-private.h"
#include "desk/desk-private.h"

#include <math.h>
#include <string.h>

static void
free_entry (gpointer entry)
{
  core_entry_free (entry);
}

/* ---- write ---- */

static gboolean
prepare_write (Desk *self, DeskOp *op, GError **error)
{
  GPtrArray *entries = op->data;

  for (guint i = 0; i < entries->len; i++)
    {
      CoreEntry *entry = core_entry_copy (entries->pdata[i]);

      if (entry == NULL)
        g_error ("out of memory");
      entry->id = desk_op_new_id (op);
      g_ptr_array_add (op->entries, entry);
      if (!desk_value_setting_of (self, desk_op_kind_of (op, entry->subject), entry, error) ||
          !desk_series_follow (op, entry, error))
        return FALSE;
    }
  return desk_op_check (op, error);
}

void
desk_write_async (Desk *self,
                  GPtrArray *entries,
                  GCancellable *cancellable,
                  GAsyncReadyCallback callback,
                  gpointer data)
{
  GPtrArray *mine = g_ptr_array_new_with_free_func (free_entry);

  for (guint i = 0; i < entries->len; i++)
    g_ptr_array_add (mine, entries->pdata[i]);
  g_ptr_array_set_free_func (entries, NULL);
  g_ptr_array_unref (entries);
  desk_op_start (self, prepare_write, prepare_write, mine, (GDestroyNotify) g_ptr_array_unref,
                 cancellable, callback, data);
}

gboolean
desk_write_finish (Desk *self, GAsyncResult *result, CoreId *first, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_write, error);

  if (op != NULL && first != NULL)
    *first = op->written->len > 0 ? g_array_index (op->written, CoreId, 0) : (CoreId){ 0 };
  return op != NULL;
}

/* ---- record ---- */

typedef struct
{
  CoreId subject;
  char *kind;
  char **pairs;
  CoreDay day, earliest;
  int minute;
} Record;

static void
record_free (gpointer data)
{
  Record *self = data;

  g_free (self->kind);
  g_strfreev (self->pairs);
  g_free (self);
}

/* The kinds that may be typed, for a message. */
static char *
list_kinds (CoreSubjectKind subject)
{
  GString *out = g_string_new (NULL);

  for (int i = CORE_KIND_NONE + 1; i < CORE_N_KINDS; i++)
    {
      const CoreKindInfo *info = core_kind_info ((CoreKind) i);

      if (info->typed && !info->reserved && (info->subjects & CORE_FOR (subject)) != 0)
        g_string_append_printf (out, "%s%s", out->len == 0 ? "" : ", ", info->name);
    }
  return g_string_free (out, FALSE);
}

static CoreKind
typed_kind (const char *name, CoreSubjectKind subject, GError **error)
{
  CoreKind kind = core_kind_from_name (name);
  g_autofree char *known = NULL;

  if (kind == CORE_KIND_PHOTO)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PHOTO_NEEDS_FILE, NULL);
      return CORE_KIND_NONE;
    }
  if (kind != CORE_KIND_NONE && core_kind_info (kind)->typed && !core_kind_info (kind)->reserved)
    return kind;
  known = list_kinds (subject);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NO_KIND, name, known, NULL);
  return CORE_KIND_NONE;
}

/* Refused, or taken the same day, without a prey: that of the meal which was put in. */
static void
complete_meal (Desk *self, CoreEntry *entry)
{
  const DeskRecord *record = desk_collection_record (&self->all, entry->subject);
  int outcome = core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED);
  const CoreMeal *offer = record != NULL && record->now != NULL
                            ? core_state_open_offer (desk_subject_state (record->now), entry->day)
                            : NULL;

  if (entry->kind != CORE_KIND_FED || offer == NULL || offer->prey < 0 ||
      core_entry_get (entry, CORE_KEY_PREY) != NULL ||
      !(outcome == CORE_FED_REFUSED || (outcome == CORE_FED_TAKEN && offer->day == entry->day)))
    return;
  core_entry_set_num (entry, CORE_KEY_PREY, offer->prey);
  if (offer->n > 0 && core_entry_get (entry, CORE_KEY_N) == NULL)
    core_entry_set_num (entry, CORE_KEY_N, offer->n);
}

static gboolean
prepare_record (Desk *self, DeskOp *op, GError **error)
{
  Record *record = op->data;
  CoreSubjectKind subject = desk_op_kind_of (op, record->subject);
  CoreKind kind = typed_kind (record->kind, subject, error);
  CoreEntry *entry;

  if (kind == CORE_KIND_NONE)
    return FALSE;
  entry = desk_op_entry (op, kind, record->subject,
                         record->day == CORE_DAY_NONE ? self->today : record->day);
  entry->earliest = record->earliest;
  entry->minute = (gint16) record->minute;
  for (char **pair = record->pairs; *pair != NULL; pair++)
    if (!desk_value_set (self, entry, *pair, error))
      return FALSE;
  complete_meal (self, entry);
  return desk_value_complete (entry, error) &&
         desk_value_setting_of (self, subject, entry, error) &&
         desk_series_follow (op, entry, error) && desk_op_check (op, error);
}

void
desk_record_async (Desk *self,
                   CoreId subject,
                   const char *kind,
                   const char *const *pairs,
                   CoreDay day,
                   CoreDay earliest,
                   int minute,
                   GCancellable *cancellable,
                   GAsyncReadyCallback callback,
                   gpointer data)
{
  Record *record = g_new0 (Record, 1);

  record->subject = subject;
  record->kind = g_strdup (kind);
  record->pairs = desk_strv_copy (pairs);
  record->day = day;
  record->earliest = earliest;
  record->minute = minute;
  desk_op_start (self, prepare_record, prepare_record, record, record_free, cancellable, callback,
                 data);
}

gboolean
desk_record_finish (Desk *self, GAsyncResult *result, CoreId *id, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_record, error);

  if (op != NULL && id != NULL)
    *id = g_array_index (op->written, CoreId, 0);
  return op != NULL;
}

/* ---- order on a shelf ---- */

typedef struct
{
  CoreId animal, place, before;
} Move;

static const char *
label_now (Desk *self, CoreId id)
{
  DeskRecord *record = desk_collection_record (&self->all, id);

  return record != NULL && record->now != NULL ? desk_subject_label (record->now) : "";
}

/* Where the cup stands that was named as the next one, when that is not on the shelf meant. */
static gboolean
refuse_before (Desk *self, const Move *move, GError **error)
{
  DeskRecord *next = desk_collection_record (&self->all, move->before);
  const char *cup = label_now (self, move->before);
  const char *meant = label_now (self, move->place);
  CoreId stands;

  if (core_id_equal (move->before, move->animal))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BEFORE_ITSELF, cup, NULL);
  else if (next != NULL && next->now != NULL && desk_subject_living (next->now) &&
           desk_subject_place (next->now, &stands, NULL))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BEFORE_ELSEWHERE, cup,
               label_now (self, stands), meant, NULL);
  else
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BEFORE_NOWHERE, cup, meant, NULL);
  return FALSE;
}

/* Halfway between its neighbours; positions are real numbers, so there is always room until
 * two are closer than doubles can tell. */
gboolean
desk_position_before (Desk *self, CoreId animal, CoreId place, CoreId before, double *at, GError **error)
{
  g_autoptr (GPtrArray) animals = desk_subjects_on (self, place);
  double left = NAN, right = NAN, here = 0;
  gboolean found = core_id_is_none (before);

  for (guint i = 0; i < animals->len; i++)
    {
      CoreId id = desk_subject_id (animals->pdata[i]);

      if (core_id_equal (id, animal))
        continue;
      desk_subject_place (animals->pdata[i], NULL, &here);
      if (core_id_equal (id, before))
        {
          right = here;
          found = TRUE;
          break;
        }
      if (!isnan (here))
        left = here;
    }
  if (!found)
    return refuse_before (self, &(Move){ animal, place, before }, error);
  if (isnan (right))
    *at = isnan (left) ? 1 : floor (left) + 1;
  else
    *at = isnan (left) ? right - 1 : (left + right) / 2;
  return TRUE;
}

static gboolean
prepare_move (Desk *self, DeskOp *op, GError **error)
{
  Move *move = op->data;
  CoreEntry *entry;
  double at;

  if (!desk_position_before (self, move->animal, move->place, move->before, &at, error))
    return FALSE;
  entry = desk_op_entry (op, CORE_KIND_HOUSED, move->animal, self->today);
  core_entry_set_ref (entry, CORE_KEY_PLACE, move->place);
  core_entry_set_num (entry, CORE_KEY_AT, at);
  return desk_op_check (op, error);
}

void
desk_place_before_async (Desk *self,
                         CoreId animal,
                         CoreId place,
                         CoreId before,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  Move *move = g_new0 (Move, 1);

  *move = (Move){ animal, place, before };
  desk_op_start (self, prepare_move, prepare_move, move, g_free, NULL, callback, data);
}

gboolean
desk_place_before_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_move, error) != NULL;
}
