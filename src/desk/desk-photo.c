/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-photo.c — what is known of a picture of the journal. */
#include "core/core-growth.h"
#include "desk/desk-identity.h"
#include "desk/desk-photos.h"
#include "desk/desk-private.h"
#include "imaging/img-decode.h"

#include <math.h>
#include <string.h>

static const StorePhoto *
find_row (Desk *self, CoreId photo)
{
  const CoreEntry *entry = desk_collection_entry (&self->all, photo);

  if (entry == NULL || entry->kind != CORE_KIND_PHOTO)
    return NULL;
  return g_hash_table_lookup (self->photos, core_entry_str (entry, CORE_KEY_HASH));
}

/* A corrected photo entry is the same photo; marks name the first. */
CoreId
desk_photo_first (Desk *self, CoreId photo)
{
  const CoreEntry *entry = desk_collection_entry (&self->all, photo);

  /* Ids point backwards; a journal where they do not must not hold us up. */
  while (entry != NULL && entry->kind == CORE_KIND_PHOTO && !core_id_is_none (entry->names) &&
         core_id_compare (entry->names, entry->id) < 0)
    {
      photo = entry->names;
      entry = desk_collection_entry (&self->all, photo);
    }
  return photo;
}

/* The day of a picture that names none, or one that was not believed, is what the keeper says it is. */
void
desk_photo_redate (Desk *self, CoreEntry *entry)
{
  const StorePhoto *row = g_hash_table_lookup (self->photos, core_entry_str (entry, CORE_KEY_HASH));

  if (entry->kind != CORE_KIND_PHOTO || row == NULL ||
      (row->taken != CORE_DAY_NONE && core_entry_num (entry, CORE_KEY_TAKEN, NAN) == row->taken &&
       desk_photo_wrong_day (self, entry->subject, row->taken) == CORE_WRONG_DAY_NONE))
    return;
  core_entry_remove (entry, CORE_KEY_TAKEN);
  core_entry_set_num (entry, CORE_KEY_TAKEN, entry->day);
}

CoreWrongDay
desk_photo_wrong_day (Desk *self, CoreId subject, CoreDay taken)
{
  const DeskRecord *record = core_id_is_none (subject) ? NULL : desk_collection_record (&self->all, subject);

  return core_wrong_day (record != NULL && record->now != NULL ? desk_subject_state (record->now) : NULL, taken,
                         self->today);
}

CoreDay
desk_photo_day (Desk *self, CoreId photo)
{
  const CoreEntry *entry = desk_collection_entry (&self->all, photo);
  double taken = entry != NULL ? core_entry_num (entry, CORE_KEY_TAKEN, NAN) : NAN;

  if (entry == NULL)
    return CORE_DAY_NONE;
  return taken < entry->day ? (CoreDay) taken : entry->day;
}

char *
desk_photo_path (Desk *self, CoreId photo)
{
  const StorePhoto *row = find_row (self, photo);

  return row == NULL || self->store == NULL ? NULL : store_photo_path (self->store, row);
}

gboolean
desk_photo_info (Desk *self, CoreId photo, DeskPhoto *out)
{
  const StorePhoto *row = find_row (self, photo);

  if (row == NULL)
    return FALSE;
  memset (out, 0, sizeof *out);
  out->photo = photo;
  out->day = desk_collection_entry (&self->all, photo)->day;
  g_strlcpy (out->hash, row->hash, sizeof out->hash);
  out->taken = row->taken;
  out->minute = row->taken_minute;
  out->width = row->width;
  out->height = row->height;
  return TRUE;
}

/* ---- the same file twice ---- */

static gboolean
holds (const DeskSubject *subject, const char *hash, CoreId but)
{
  const CoreState *state = desk_subject_state (subject);

  for (gsize i = 0; i < state->photos.n; i++)
    if (!core_id_equal (state->photos.v[i].entry, but) &&
        strcmp (state->photos.v[i].hash, hash) == 0)
      return TRUE;
  return FALSE;
}

CoreId
desk_photo_holder (Desk *self, const char *hash, CoreId but)
{
  const CoreEntry *entry = desk_collection_entry (&self->all, but);
  CoreId found = { { 0 } };

  for (guint i = 0; i < self->all.order->len; i++)
    {
      const DeskRecord *record = self->all.order->pdata[i];

      if (!holds (record->now, hash, but))
        continue;
      found = record->id;
      if (entry == NULL || !core_id_equal (found, entry->subject))
        break;
    }
  return found;
}

gboolean
desk_photo_known (Desk *self, const char *hash)
{
  return g_hash_table_contains (self->photos, hash);
}

/* ---- its pixels ---- */

void
desk_photo_decode (Desk *self, CoreId photo, GTask *task, GAsyncReadyCallback decoded)
{
  g_autofree char *path = desk_photo_path (self, photo);
  g_autoptr (GFile) file = NULL;

  if (path == NULL)
    {
      GError *error = NULL;

      desk_fail (&error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_PHOTO, NULL);
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  file = g_file_new_for_path (path);
  img_decode_async (file, NULL, g_task_get_cancellable (task), decoded, task);
}

#define ABDOMEN 3 /* CoreMeasure.what */

const CoreMeasure *
desk_photo_abdomen (const CoreState *state, int stage, CoreDay day)
{
  const CoreMeasure *best = NULL;

  for (gsize i = 0; stage >= 0 && i < state->measures.n; i++)
    {
      const CoreMeasure *measure = &state->measures.v[i];

      if (measure->what == ABDOMEN && measure->stage == stage && measure->mm > 0 &&
          (best == NULL || ABS (measure->day - day) <= ABS (best->day - day)))
        best = measure;
    }
  return best;
}

/* ---- its own scale ---- */

#define MOST_MARKS 5             /* along what was measured, as desk-mark.c takes them */


static double
way_of (const CoreEntry *entry)
{
  double xy[2 * MOST_MARKS], length = 0;
  size_t n = core_entry_list (entry, CORE_KEY_AXIS, xy, G_N_ELEMENTS (xy));

  for (size_t i = 2; n <= G_N_ELEMENTS (xy) && i + 1 < n; i += 2)
    length += hypot (xy[i] - xy[i - 2], xy[i + 1] - xy[i - 1]);
  return length;
}

gboolean
desk_photo_scale (Desk *self, CoreId photo, CoreScale *out, const CoreEntry **by)
{
  CoreId first = desk_photo_first (self, photo);
  const CoreEntry *live = desk_entry_heir (self, first), *best = NULL;
  DeskRecord *record = live != NULL ? desk_collection_record (&self->all, live->subject) : NULL;
  const GPtrArray *entries = record != NULL ? desk_collection_entries (&self->all, record, NULL) : NULL;
  double mm, sd;

  for (guint i = 0; entries != NULL && i < entries->len; i++)
    {
      const CoreEntry *entry = entries->pdata[i];

      if (entry->kind == CORE_KIND_MEASURED && desk_collection_is_live (&self->all, entry->id)
          && core_id_equal (core_entry_ref (entry, CORE_KEY_PHOTO), first) && way_of (entry) > 0
          && (best == NULL || core_id_compare (entry->id, best->id) > 0))
        best = entry;
    }
  if (best == NULL)
    return FALSE;
  mm = core_entry_num (best, CORE_KEY_MM, NAN);
  sd = core_entry_num (best, CORE_KEY_SD, NAN);
  *out = (CoreScale){ mm / way_of (best), isfinite (sd) ? sd / mm : CORE_MEASURE_SHARE };
  if (by != NULL)
    *by = best;
  return isfinite (mm) && mm > 0;
}
