/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-room.c — puts a room together: its species, its keeper, its animals, its record. */
#include <stdarg.h>
#include <string.h>

#include "sim.h"

#include "sim-widths.h"

static void
entry_clear (gpointer data)
{
  core_entry_free (((SimEntry *) data)->entry);
}

GArray *
sim_entries_new (void)
{
  GArray *entries = g_array_new (FALSE, TRUE, sizeof (SimEntry));

  g_array_set_clear_func (entries, entry_clear);
  return entries;
}

CoreId
sim_room_id (SimRoom *self)
{
  CoreId id = { .b = { 1, 0x90, 0xa0, 0xb0, 0xc0, 0xd0, 0x70, 0 } };
  guint64 number = ((guint64) self->number << 32) + ++self->next_id;

  for (int i = 0; i < 8; i++)
    id.b[15 - i] = (guint8) (number >> (8 * i));
  id.b[8] |= 0x80;
  return id;
}

static void
set_part (CoreEntry *entry, const char *part)
{
  g_auto (GStrv) pair = g_strsplit (part, "=", 2);

  if (strcmp (pair[0], "bulk") == 0)
    entry->bulk = true;
  else if (strcmp (pair[0], "earliest") == 0)
    entry->earliest = (CoreDay) g_ascii_strtoll (pair[1], NULL, 10);
  else if (strcmp (pair[0], "minute") == 0)
    entry->minute = (int16_t) g_ascii_strtoll (pair[1], NULL, 10);
  else if (core_entry_set_text (entry, pair[0], pair[1]) != CORE_VALUE_OK)
    g_error ("no such entry: %s", part);
}

void
sim_enter (SimRoom *self,
           GArray *entries,
           CoreId subject,
           CoreDay day,
           CoreDay written,
           const char *format,
           ...)
{
  g_autofree char *text = NULL;
  g_auto (GStrv) parts = NULL;
  SimEntry row = { .written = written };
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  parts = g_strsplit (text, "|", -1);
  row.entry = core_entry_new (core_kind_from_name (parts[0]));
  if (row.entry == NULL)
    g_error ("no such kind: %s", text);
  row.entry->id = sim_room_id (self);
  row.entry->subject = subject;
  row.entry->day = day;
  row.entry->written_ms = written * G_GINT64_CONSTANT (86400000);
  for (int i = 1; parts[i] != NULL; i++)
    set_part (row.entry, parts[i]);
  if (core_entry_complete (row.entry, NULL) != CORE_VALUE_OK)
    g_error ("not complete: %s", text);
  g_array_append_val (entries, row);
}

static void
animal_free (gpointer data)
{
  SimAnimal *animal = data;

  g_array_unref (animal->entries);
  g_array_unref (animal->began);
  g_free (animal);
}

static void
lot_free (gpointer data)
{
  SimLot *lot = data;

  g_ptr_array_set_free_func (lot->animals, animal_free);
  g_ptr_array_unref (lot->animals);
  g_array_unref (lot->entries);
  g_array_unref (lot->began);
  g_free (lot);
}

static void
place_on_shelf (SimRoom *self, int kind)
{
  g_autofree char *room = g_malloc (37);

  core_id_to_text (self->place, room);
  sim_enter (self, self->shelf_entries[kind], self->kind[kind].shelf, SIM_FIRST_DAY, SIM_FIRST_DAY,
             "set|key=within|value=%s", room);
}

SimRoom *
sim_room_new (const CoreProfile *const *profiles,
              int n_profiles,
              const SimHostile *hostile,
              guint64 seed,
              int number)
{
  static const SimHostile none = { .false_signs = 1, .leads = 1 };
  SimRoom *self = g_new0 (SimRoom, 1);
  int first;

  self->number = number;
  self->hostile = hostile ? *hostile : none;
  sim_seed (&self->random, seed, (guint64) number);
  self->place = sim_room_id (self);
  self->animals = g_ptr_array_new_with_free_func (animal_free);
  self->lots = g_ptr_array_new_with_free_func (lot_free);
  self->common = sim_normal (&self->random);
  self->spread = sim_factor (&self->random, SIM_SPREAD);
  self->n_kinds = 1 + sim_below (&self->random, MIN (SIM_KINDS, n_profiles));
  first = sim_below (&self->random, n_profiles);
  for (int k = 0; k < self->n_kinds; k++)
    {
      self->shelf_entries[k] = sim_entries_new ();
      sim_kind_draw (self, &self->kind[k], profiles[(first + k) % n_profiles]);
      sim_kind_weather (self, &self->kind[k], self->shelf_entries[k]);
      place_on_shelf (self, k);
    }
  sim_keeper_draw (self);
  sim_lives_draw (self);
  for (guint i = 0; i < self->animals->len; i++)
    sim_keep (self, self->animals->pdata[i]);
  for (guint i = 0; i < self->lots->len; i++)
    sim_keep_lot (self, self->lots->pdata[i]);
  return self;
}

void
sim_room_free (SimRoom *self)
{
  for (int k = 0; k < self->n_kinds; k++)
    g_array_unref (self->shelf_entries[k]);
  g_ptr_array_unref (self->animals);
  g_ptr_array_unref (self->lots);
  g_free (self);
}
