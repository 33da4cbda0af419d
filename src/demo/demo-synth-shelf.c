/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-synth-shelf.c — the shelves of a synthetic collection: put up as they are needed, cared for.
 */
#include "demo/demo-synth-private.h"

#include <math.h>

#define CUPS 80 /* of one shelf */

const SynthClimate synth_climates[3] = {
  { "Sill", 24, 19, 12, 2 },
  { "Room", 26, 21, 12, 1 },
  { "Warm", 30, 22, 12, 2 },
};

CoreEntry *
synth_entry_set (CoreId subject, CoreDay day, const char *key, const char *value)
{
  CoreEntry *entry = synth_entry (CORE_KIND_SET, subject, day);

  if (core_entry_set_str (entry, CORE_KEY_KEY, key) != CORE_VALUE_OK ||
      core_entry_set_str (entry, CORE_KEY_VALUE, value) != CORE_VALUE_OK)
    g_error ("synthetic: set %s", key);
  return entry;
}

static void
set (Synth *self, CoreId shelf, const char *key, const char *value)
{
  desk_bulk_add (self->bulk, synth_entry_set (shelf, self->day, key, value));
}

static void
set_number (Synth *self, CoreId shelf, const char *key, double value)
{
  char text[32];

  core_number_format (value, 1, text);
  set (self, shelf, key, text);
}

static guint
put_up (Synth *self, int climate)
{
  SynthShelf shelf = { .climate = climate };
  const SynthClimate *habits = &synth_climates[climate];
  guint nth = 1;
  char name[32], code[16];

  for (guint i = 0; i < self->shelves->len; i++)
    nth += g_array_index (self->shelves, SynthShelf, i).climate == climate;
  shelf.id = desk_bulk_subject (self->bulk, CORE_SUBJECT_PLACE);
  g_snprintf (name, sizeof name, "%s shelf %u", habits->name, nth);
  g_snprintf (code, sizeof code, "%c%u", habits->name[0], nth);
  set (self, shelf.id, "name", name);
  set (self, shelf.id, "code", code);
  set_number (self, shelf.id, "day_c", habits->day_c);
  set_number (self, shelf.id, "night_c", habits->night_c);
  set_number (self, shelf.id, "light_h", habits->light_h);
  g_array_append_val (self->shelves, shelf);
  return self->shelves->len - 1;
}

void
synth_place (Synth *self, SynthAnimal *animal)
{
  int climate = synth_climate_of (animal->profile);
  SynthShelf *shelf = NULL;
  guint i;

  for (i = 0; i < self->shelves->len; i++)
    {
      shelf = &g_array_index (self->shelves, SynthShelf, i);
      if (shelf->climate == climate && shelf->cups < CUPS)
        break;
    }
  if (i == self->shelves->len)
    i = put_up (self, climate);
  shelf = &g_array_index (self->shelves, SynthShelf, i);
  shelf->cups++;
  animal->shelf = i;
  animal->at = ++shelf->last_at;
}

void
synth_shelf_care (Synth *self, guint i, DemoRand *rand)
{
  const SynthShelf *shelf = &g_array_index (self->shelves, SynthShelf, i);
  CoreEntry *entry;

  if ((self->day + (CoreDay) i) % 7 == 0)
    desk_bulk_add (self->bulk, synth_entry (CORE_KIND_CLEANED, shelf->id, self->day));
  if ((self->day + (CoreDay) i) % 3 != 0)
    return;
  entry = synth_entry (CORE_KIND_READING, shelf->id, self->day);
  entry->minute = 19 * 60;
  if (core_entry_set_num (
        entry, CORE_KEY_T,
        round (2 * (synth_climates[shelf->climate].day_c + demo_rand_range (rand, -1, 1))) / 2) !=
        CORE_VALUE_OK ||
      core_entry_set_num (entry, CORE_KEY_RH, demo_rand_int (rand, 50, 68)) != CORE_VALUE_OK)
    g_error ("synthetic: reading");
  desk_bulk_add (self->bulk, entry);
}
