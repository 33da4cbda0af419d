/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-sex.c — photos, and what was read of the sex; core-sex weighs it.
 *
 * A mark belongs to the day on which its photo was taken, not to the evening on
 * which the keeper placed it.
 */
#include "core/core-fold-private.h"

#include <math.h>
#include <string.h>

void
fold_photo (Fold *fold, const CoreEntry *entry)
{
  CorePhotoRef photo = { .day = entry->day,
                         .photo = core_id_is_none (entry->names) ? entry->id : entry->names,
                         .taken = (CoreDay) core_entry_num (entry, CORE_KEY_TAKEN, CORE_DAY_NONE),
                         .stage = -1,
                         .of_shed = fold_is_shed_photo (fold, entry),
                         .entry = entry->id };

  fold_copy_text (photo.hash, sizeof photo.hash, core_entry_str (entry, CORE_KEY_HASH));
  FOLD_PUSH (fold, fold->state->photos, photo);
}

static CoreSexReading
empty_reading (const CoreEntry *entry)
{
  return (CoreSexReading){ .from = entry->kind,
                           .day = entry->day,
                           .stage = -1,
                           .side = -1,
                           .count = -1,
                           .small_plate = CORE_SMALL_UNKNOWN,
                           .convention = CORE_CONVENTION_UNKNOWN,
                           .last_plate = -1,
                           .wing_ratio = NAN,
                           .wing_sd = NAN,
                           .tegmen_pronotum = NAN,
                           .tegmen_pronotum_sd = NAN,
                           .method = -1,
                           .of_shed =
                             core_entry_code (entry, CORE_KEY_OF, CORE_OF_ANIMAL) == CORE_OF_SHED,
                           .entry = entry->id };
}

/* "6:.7,8:.02"; no plates is a row of its own, which text writes as 0. */
static void
read_likelihood (const char *text, CoreSexReading *reading)
{
  const char *at = text;

  while (*at != '\0')
    {
      char item[48];
      size_t length = strcspn (at, ",");
      const char *colon = memchr (at, ':', length);
      double key = 0, weight = 0;

      if (colon == NULL || length >= sizeof item)
        return;
      memcpy (item, at, length);
      item[length] = '\0';
      item[colon - at] = '\0';
      if (!core_number_parse (item, &key) || !core_number_parse (item + (colon - at) + 1, &weight))
        return;
      if (key == 0)
        reading->likelihood_none = weight;
      else if (key >= 4 && key <= 10)
        reading->likelihood[(int) key] = weight;
      at += length;
      at += *at == ',';
    }
}

/* crown:female */
static void
read_cue (const char *text, CoreSexReading *reading)
{
  const char *colon = strchr (text, ':');

  if (colon == NULL || (size_t) (colon - text) >= sizeof reading->cue)
    return;
  memcpy (reading->cue, text, (size_t) (colon - text));
  reading->cue_sex = strcmp (colon + 1, "male") == 0 ? CORE_SEX_MALE : CORE_SEX_FEMALE;
}

void
fold_marked (Fold *fold, const CoreEntry *entry)
{
  CoreSexReading reading = empty_reading (entry);
  const char *likelihood = core_entry_str (entry, CORE_KEY_LIKELIHOOD);
  int unsaid = likelihood[0] == '\0' ? CORE_BY_KEEPER : CORE_BY_PROGRAM;

  reading.photo = core_entry_ref (entry, CORE_KEY_PHOTO);
  reading.side = core_entry_code (entry, CORE_KEY_SIDE, -1);
  reading.count = (int) core_entry_num (entry, CORE_KEY_COUNT, -1);
  reading.by_keeper =
    reading.count >= 0 && core_entry_code (entry, CORE_KEY_BY, unsaid) == CORE_BY_KEEPER;
  reading.axis_by_program =
    core_entry_code (entry, CORE_KEY_AXIS_BY, CORE_BY_KEEPER) == CORE_BY_PROGRAM;
  read_likelihood (likelihood, &reading);
  reading.small_plate = core_entry_code (entry, CORE_KEY_SMALL_PLATE, CORE_SMALL_UNKNOWN);
  reading.convention = core_entry_code (entry, CORE_KEY_CONVENTION, CORE_CONVENTION_UNKNOWN);
  reading.last_plate = core_entry_code (entry, CORE_KEY_LAST_PLATE, -1);
  reading.wing_ratio = core_entry_num (entry, CORE_KEY_WING_RATIO, NAN);
  reading.wing_sd = core_entry_num (entry, CORE_KEY_WING_SD, NAN);
  reading.tegmen_pronotum = core_entry_num (entry, CORE_KEY_TEGMEN_PRONOTUM, NAN);
  reading.tegmen_pronotum_sd = core_entry_num (entry, CORE_KEY_TEGMEN_PRONOTUM_SD, NAN);
  read_cue (core_entry_str (entry, CORE_KEY_CUE), &reading);
  reading.best = core_entry_code (entry, CORE_KEY_BEST, 1) == 0;
  FOLD_PUSH (fold, fold->state->sex, reading);
}

/* The words are male, female, unknown; the type begins with unknown. */
static CoreSex
sex_of (const CoreEntry *entry)
{
  static const CoreSex words[] = { CORE_SEX_MALE, CORE_SEX_FEMALE, CORE_SEX_UNKNOWN };
  int code = core_entry_code (entry, CORE_KEY_SEX, 2);

  return code >= 0 && code <= 2 ? words[code] : CORE_SEX_UNKNOWN;
}

static void
settle (Fold *fold, const CoreEntry *entry, CoreSex sex)
{
  if (fold->settled != CORE_SEX_UNKNOWN && fold->settled != sex)
    fold_conflict (fold, CORE_CONFLICT_SEX_SETTLED_TWICE, entry->id, fold->settled_entry);
  fold->settled = sex;
  fold->settled_entry = entry->id;
}

void
fold_sexed (Fold *fold, const CoreEntry *entry)
{
  CoreSexReading reading = empty_reading (entry);

  reading.sex = sex_of (entry);
  reading.method = core_entry_code (entry, CORE_KEY_METHOD, -1);
  FOLD_PUSH (fold, fold->state->sex, reading);
  if (fold_read_of_other (fold, &reading))
    return;
  if ((reading.method == CORE_METHOD_LAID || reading.method == CORE_METHOD_JOINED) &&
      reading.sex != CORE_SEX_UNKNOWN)
    settle (fold, entry, reading.sex);
}

void
fold_settle_female (Fold *fold, const CoreEntry *entry)
{
  CoreSexReading reading = empty_reading (entry);

  reading.sex = CORE_SEX_FEMALE;
  reading.method = CORE_METHOD_LAID;
  FOLD_PUSH (fold, fold->state->sex, reading);
  if (!fold_read_of_other (fold, &reading))
    settle (fold, entry, CORE_SEX_FEMALE);
}

/* Shed skins show the stage before the one that the day falls in. */
static int
stage_shown (const Fold *fold, CoreDay day, bool of_shed)
{
  int stage = fold_stage_on (fold, day);

  return of_shed && stage >= 0 ? stage - 1 : stage;
}

static CoreDay
capture_day (const CorePhotoRef *photo)
{
  return photo->taken != CORE_DAY_NONE && photo->taken < photo->day ? photo->taken : photo->day;
}

void
fold_finish_sex (Fold *fold)
{
  CoreState *state = fold->state;

  for (size_t i = 0; i < state->photos.n; i++)
    {
      CorePhotoRef *photo = &state->photos.v[i];

      photo->stage = stage_shown (fold, capture_day (photo), photo->of_shed);
    }
  for (size_t i = 0; i < state->sex.n; i++)
    {
      CoreSexReading *reading = &state->sex.v[i];

      for (size_t k = 0; k < state->photos.n; k++)
        if (core_id_equal (state->photos.v[k].photo, reading->photo) ||
            core_id_equal (state->photos.v[k].entry, reading->photo))
          {
            reading->day = capture_day (&state->photos.v[k]);
            reading->photo = state->photos.v[k].photo;
          }
      reading->stage = stage_shown (fold, reading->day, reading->of_shed);
      reading->of_other = fold_read_of_other (fold, reading);
    }
}
