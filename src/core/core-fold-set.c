/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-set.c — what a subject is called and set to.
 *
 * Values are kept verbatim. Those that the program reads also go into fields of
 * their own; a value that cannot be read leaves its field unknown.
 */
#include "core/core-fold-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct
{
  const char *key;
  double *number; /* one of these */
  char *text;
  size_t size;
  CoreId *id;
} Field;

static void
set_field (const Field *field, const char *value)
{
  if (field->number != NULL && !core_number_parse (value, field->number))
    *field->number = NAN;
  if (field->text != NULL)
    fold_copy_text (field->text, field->size, value);
  if (field->id != NULL && !core_id_from_text (value, field->id))
    memset (field->id, 0, sizeof *field->id);
}

static void
set_fields (CoreState *s, const char *key, const char *value)
{
  const Field fields[] = {
    { "species", NULL, s->species, sizeof s->species, NULL },
    { "number", NULL, s->number, sizeof s->number, NULL },
    { "name", NULL, s->name, sizeof s->name, NULL },
    { "code", NULL, s->code, sizeof s->code, NULL },
    { "lot", NULL, NULL, 0, &s->lot },
    { "within", NULL, NULL, 0, &s->place.within },
    { "day_c", &s->place.day_c, NULL, 0, NULL },
    { "night_c", &s->place.night_c, NULL, 0, NULL },
    { "light_h", &s->place.light_h, NULL, 0, NULL },
    { "height_mm", &s->place.height_mm, NULL, 0, NULL },
    { "width_mm", &s->place.width_mm, NULL, 0, NULL },
    { "depth_mm", &s->place.depth_mm, NULL, 0, NULL },
    { "heater", NULL, s->place.heater, sizeof s->place.heater, NULL },
    { "substrate", NULL, s->place.substrate, sizeof s->place.substrate, NULL },
  };

  for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
    if (strcmp (fields[i].key, key) == 0)
      set_field (&fields[i], value);
}

static void
note_lot (CoreState *state, const CoreEntry *entry)
{
  bool none = core_id_is_none (state->lot);

  state->lot_since = none ? CORE_DAY_NONE : entry->day;
  state->lot_round = none ? (CoreId){ { 0 } } : entry->round;
}

void
fold_set (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  const char *key = core_entry_str (entry, CORE_KEY_KEY);
  const char *value = core_entry_str (entry, CORE_KEY_VALUE);
  CoreSetting setting = { .day = entry->day, .entry = entry->id };
  size_t size = strlen (value) + 1, before;

  set_fields (state, key, value);
  if (strcmp (key, "lot") == 0)
    note_lot (state, entry);
  fold_copy_text (setting.key, sizeof setting.key, key);
  setting.value = malloc (size);
  if (setting.value == NULL)
    {
      fold->no_memory = true;
      return;
    }
  memcpy (setting.value, value, size);
  for (size_t i = 0; i < state->settings.n; i++)
    if (strcmp (state->settings.v[i].key, setting.key) == 0)
      {
        free (state->settings.v[i].value);
        state->settings.v[i] = setting;
        return;
      }
  before = state->settings.n;
  FOLD_PUSH (fold, state->settings, setting);
  if (state->settings.n == before)
    free (setting.value);
}
