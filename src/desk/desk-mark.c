/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-mark.c — may these marks be kept? Of a count, or along what was measured.
 *
 * Invariant: a mark names a picture of its own animal that is there, by the id
 * under which it was added first; its axis lies in that picture, and its cue is
 * one that can be weighed. */
#include "desk/desk-photos.h"
#include "desk/desk-private.h"

#include <string.h>

#include "desk/desk-identity.h"

#define MOST_MARKS 5   /* of an axis, as many as the strip takes */
#define MOST_VALUES 64 /* of a list of any key */

static gboolean
refuse (GError **error, WordsDeskProblem problem)
{
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, problem, NULL);
  return FALSE;
}

static gboolean
check_photo (Desk *self, CoreEntry *entry, DeskPhoto *info, GError **error)
{
  CoreId named = core_entry_ref (entry, CORE_KEY_PHOTO), first = desk_photo_first (self, named);
  const CoreEntry *added = desk_collection_entry (&self->all, first);
  const CoreEntry *live;

  if (added == NULL || added->kind != CORE_KIND_PHOTO)
    return refuse (error, WORDS_DESK_NO_PHOTO);
  live = desk_entry_heir (self, first);
  if (!core_id_equal ((live != NULL ? live : added)->subject, entry->subject))
    return refuse (error, WORDS_DESK_PHOTO_OF_OTHER);
  if (live == NULL)
    return refuse (error, WORDS_DESK_PHOTO_DETACHED);
  if (!desk_photo_info (self, live->id, info))
    return refuse (error, WORDS_DESK_NO_PHOTO);
  if (!core_id_equal (named, first))
    {
      core_entry_remove (entry, CORE_KEY_PHOTO);
      if (core_entry_set_ref (entry, CORE_KEY_PHOTO, first) != CORE_VALUE_OK)
        g_error ("out of memory");
    }
  return TRUE;
}

static gboolean
check_axis (const CoreEntry *entry, const DeskPhoto *info, GError **error)
{
  double xy[MOST_VALUES];
  size_t n = core_entry_list (entry, CORE_KEY_AXIS, xy, G_N_ELEMENTS (xy));

  if (core_entry_get (entry, CORE_KEY_AXIS) == NULL)
    return TRUE;
  if (n < 4 || n % 2 != 0 || n > 2 * MOST_MARKS)
    return refuse (error, WORDS_DESK_AXIS_BAD);
  for (size_t i = 0; i < n; i += 2)
    {
      if (xy[i] < 0 || xy[i + 1] < 0 || xy[i] > info->width || xy[i + 1] > info->height)
        return refuse (error, WORDS_DESK_AXIS_OUTSIDE);
      if (i > 0 && xy[i] == xy[i - 2] && xy[i + 1] == xy[i - 1])
        return refuse (error, WORDS_DESK_AXIS_BAD);
    }
  return TRUE;
}

/* Boundaries lie along the axis, from base to tip. */
static gboolean
check_bounds (const CoreEntry *entry, GError **error)
{
  double at[MOST_VALUES];
  size_t n = core_entry_list (entry, CORE_KEY_BOUNDS, at, G_N_ELEMENTS (at));

  for (size_t i = 0; i < n; i++)
    if (!(at[i] >= 0 && at[i] <= 1) || (i > 0 && at[i] <= at[i - 1]))
      return refuse (error, WORDS_DESK_BOUNDS_BAD);
  return TRUE;
}

static char *
list_cues (const CoreProfile *profile)
{
  GString *out = g_string_new (NULL);

  for (size_t i = 0; core_sex_cue_name (i) != NULL; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? ", " : "", core_sex_cue_name (i));
  for (size_t i = 0; i < profile->n_cues; i++)
    if (strstr (out->str, profile->cues[i].name) == NULL)
      g_string_append_printf (out, ", %s", profile->cues[i].name);
  return g_string_free (out, FALSE);
}

static gboolean
check_cue (Desk *self, const CoreEntry *entry, GError **error)
{
  DeskRecord *record = desk_collection_record (&self->all, entry->subject);
  g_auto (GStrv) cue = g_strsplit (core_entry_str (entry, CORE_KEY_CUE), ":", 2);
  const CoreProfile *profile;
  g_autofree char *known = NULL;

  if (cue[0] == NULL || record == NULL || record->now == NULL)
    return TRUE;
  profile = desk_subject_profile (record->now);
  if (core_sex_cue_known (profile, cue[0]))
    return TRUE;
  known = list_cues (profile);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NO_CUE, cue[0], known, NULL);
  return FALSE;
}

static gboolean
check_convention (Desk *self, const CoreEntry *entry, GError **error)
{
  DeskRecord *record = desk_collection_record (&self->all, entry->subject);
  int convention = core_entry_code (entry, CORE_KEY_CONVENTION, -1);

  return record == NULL || record->now == NULL ||
         core_sex_convention_fits (desk_subject_profile (record->now), convention) ||
         refuse (error, WORDS_DESK_NO_APPENDAGES);
}

const CoreEntry *
desk_mark_of (Desk *self, CoreId subject, CoreId photo)
{
  DeskRecord *record = desk_collection_record (&self->all, subject);
  const GPtrArray *entries =
    record == NULL ? NULL : desk_collection_entries (&self->all, record, NULL);

  for (guint i = 0; entries != NULL && i < entries->len; i++)
    {
      const CoreEntry *entry = entries->pdata[i];

      if (entry->kind == CORE_KIND_MARKED && desk_collection_is_live (&self->all, entry->id) &&
          core_id_equal (core_entry_ref (entry, CORE_KEY_PHOTO), photo))
        return entry;
    }
  return NULL;
}

gboolean
desk_photo_marked (Desk *self, CoreId subject, CoreId photo)
{
  return desk_mark_of (self, subject, desk_photo_first (self, photo)) != NULL;
}

/* The marks of a photo are one entry: new ones stand in the place of those that are there. */
static void
replace_marks (Desk *self, CoreEntry *entry)
{
  const CoreEntry *there =
    desk_mark_of (self, entry->subject, core_entry_ref (entry, CORE_KEY_PHOTO));

  if (there != NULL && core_id_is_none (entry->names))
    entry->names = there->id;
}

gboolean
desk_mark_check (Desk *self, CoreEntry *entry, GError **error)
{
  DeskPhoto info;

  if (entry->kind == CORE_KIND_MEASURED && core_entry_get (entry, CORE_KEY_PHOTO) != NULL)
    return check_photo (self, entry, &info, error) && check_axis (entry, &info, error);
  if (entry->kind != CORE_KIND_MARKED)
    return TRUE;
  if (!check_photo (self, entry, &info, error) || !check_axis (entry, &info, error) ||
      !check_bounds (entry, error) || !check_cue (self, entry, error) ||
      !check_convention (self, entry, error))
    return FALSE;
  replace_marks (self, entry);
  return TRUE;
}
