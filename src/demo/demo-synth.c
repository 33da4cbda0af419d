/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-synth.c — a synthetic collection: evening by evening, shelf by shelf.
 *
 * Everything comes from one seed; each animal has a stream of chance of its own,
 * so that its life does not depend on the others. */
#include "demo/demo-synth-private.h"

#include <string.h>

#include "demo/demo-beside.h"

#define EVENING_MS ((gint64) (18.5 * 3600 * 1000))
#define DAY_MS (G_GINT64_CONSTANT (86400000))
#define BETWEEN_ROUNDS_MS 20000

typedef struct
{
  CoreDay last;
  const DemoSynth *what;
  DemoSynthMade *made;
  GCancellable *cancellable;
} Making;

static void
synth_clear (Synth *self)
{
  g_clear_pointer (&self->bulk, desk_bulk_free);
  g_clear_pointer (&self->profiles, desk_profiles_unref);
  g_clear_pointer (&self->species, g_ptr_array_unref);
  g_clear_pointer (&self->shelves, g_array_unref);
  g_clear_pointer (&self->living, g_ptr_array_unref);
  g_free (self->animals);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Synth, synth_clear)

/* ---- rounds ---- */

static gint64
moment (const Synth *self)
{
  return self->day * DAY_MS + EVENING_MS + (gint64) self->round_of_day * BETWEEN_ROUNDS_MS;
}

static void
round_bytes (Synth *self, guint8 out[16])
{
  DemoRand rand;
  guint64 bits[2];

  demo_rand_init (&rand, self->seed ^ G_GUINT64_CONSTANT (0x5bd1e995), self->round++);
  bits[0] = demo_rand_bits (&rand);
  bits[1] = demo_rand_bits (&rand);
  memcpy (out, bits, 16);
}

static gboolean
begin_round (Synth *self)
{
  guint8 random[16];

  round_bytes (self, random);
  return desk_bulk_round (self->bulk, moment (self), random) && ++self->round_of_day > 0;
}

/* ---- one evening ---- */

static void
arrivals (Synth *self, guint *next)
{
  for (; *next < self->n_animals && self->animals[*next].came <= self->day; (*next)++)
    {
      begin_round (self);
      synth_arrive (self, &self->animals[*next]);
      g_ptr_array_add (self->living, &self->animals[*next]);
    }
}

/* Misted where the day was wrong, and undone at once. */
static void
mistake (Synth *self, guint shelf)
{
  g_autoptr (GArray) named = g_array_new (FALSE, FALSE, sizeof (CoreId));
  g_autoptr (GArray) subjects = g_array_new (FALSE, FALSE, sizeof (CoreId));

  begin_round (self);
  for (guint i = 0; i < self->living->len; i++)
    {
      SynthAnimal *animal = self->living->pdata[i];
      CoreEntry *entry;
      CoreId id;

      if (animal->shelf != shelf || animal->ends == self->day)
        continue;
      entry = synth_entry (CORE_KIND_WATERED, animal->id, self->day);
      entry->bulk = true;
      id = desk_bulk_add (self->bulk, entry);
      g_array_append_val (named, id);
      g_array_append_val (subjects, animal->id);
    }
  begin_round (self);
  for (guint i = 0; i < named->len; i++)
    {
      CoreEntry *entry =
        synth_entry (CORE_KIND_VOID, g_array_index (subjects, CoreId, i), self->day);

      entry->bulk = true;
      entry->names = g_array_index (named, CoreId, i);
      desk_bulk_add (self->bulk, entry);
    }
}

static void
shelf_round (Synth *self, guint shelf, DemoRand *rand)
{
  gboolean away = demo_rand_chance (rand, .07);
  gboolean looked_at = demo_rand_chance (rand, .71);

  begin_round (self);
  for (guint i = 0; i < self->living->len; i++)
    {
      SynthAnimal *animal = self->living->pdata[i];

      if (animal->shelf != shelf || animal->came == self->day)
        continue;
      if (animal->ends <= self->day)
        synth_end (self, animal);
      else if (!away)
        synth_evening (self, animal, looked_at);
    }
  if (!away)
    synth_shelf_care (self, shelf, rand);
  if (demo_rand_chance (rand, .004))
    mistake (self, shelf);
}

/* Those whose end was written leave their cup. */
static void
clear_cups (Synth *self)
{
  guint kept = 0;

  for (guint i = 0; i < self->living->len; i++)
    {
      SynthAnimal *animal = self->living->pdata[i];

      if (animal->ends > self->day || animal->came == self->day)
        self->living->pdata[kept++] = animal;
      else
        g_array_index (self->shelves, SynthShelf, animal->shelf).cups--;
    }
  g_ptr_array_set_size (self->living, (int) kept);
}

static gboolean
write_days (Synth *self, GCancellable *cancellable, GError **error)
{
  DemoRand rand;
  guint next = 0;

  demo_rand_init (&rand, self->seed, G_MAXUINT64);
  for (self->day = self->first; self->day <= self->last; self->day++)
    {
      self->round_of_day = 0;
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      arrivals (self, &next);
      for (guint shelf = 0; shelf < self->shelves->len; shelf++)
        shelf_round (self, shelf, &rand);
      clear_cups (self);
    }
  return TRUE;
}

/* ---- the whole ---- */

static void
note_origin (Synth *self)
{
  g_autofree char *text =
    g_strdup_printf ("Synthetic collection: %u animals, %d days, seed %" G_GUINT64_FORMAT
                     ". Everything in it is made up.",
                     self->n_animals, self->last - self->first + 1, self->seed);
  CoreEntry *entry = synth_entry (CORE_KIND_NOTE, desk_bulk_journal (self->bulk), self->first);

  if (core_entry_set_str (entry, CORE_KEY_TEXT, text) != CORE_VALUE_OK)
    g_error ("synthetic: note");
  desk_bulk_add (self->bulk, entry);
}

static gboolean
prepare (Synth *self, const Making *making, GError **error)
{
  self->profiles = desk_profiles_load (error);
  if (self->profiles == NULL)
    return FALSE;
  self->species = desk_profiles_species (self->profiles);
  self->seed = making->what->seed;
  self->last = making->last;
  self->first = self->last - (CoreDay) making->what->days + 1;
  self->day = self->first;
  self->n_animals = making->what->animals;
  self->animals = g_new0 (SynthAnimal, self->n_animals);
  self->shelves = g_array_new (FALSE, FALSE, sizeof (SynthShelf));
  self->living = g_ptr_array_new ();
  for (guint i = 0; i < self->n_animals; i++)
    synth_life (self, i, &self->animals[i]);
  return TRUE;
}

static gboolean
make (const char *dir, gpointer data, GError **error)
{
  const Making *making = data;
  g_auto (Synth) self = { NULL };
  guint8 random[16];

  if (!prepare (&self, making, error))
    return FALSE;
  round_bytes (&self, random);
  self.bulk = desk_bulk_new (dir, self.first, MAX (0, moment (&self)), random, error);
  if (self.bulk == NULL)
    return FALSE;
  note_origin (&self);
  if (!write_days (&self, making->cancellable, error))
    return FALSE;
  if (making->made != NULL)
    *making->made = (DemoSynthMade){ .entries = desk_bulk_entries (self.bulk),
                                     .animals = self.n_animals,
                                     .living = self.living->len,
                                     .shelves = self.shelves->len };
  return desk_bulk_finish (g_steal_pointer (&self.bulk), error);
}

gboolean
demo_synth_make (const char *dir,
                 CoreDay last,
                 const DemoSynth *what,
                 DemoSynthMade *made,
                 GCancellable *cancellable,
                 GError **error)
{
  Making making = { last, what, made, cancellable };

  g_return_val_if_fail (what->animals >= 1 && what->animals <= DEMO_SYNTH_ANIMALS, FALSE);
  g_return_val_if_fail (what->days >= 1 && what->days <= DEMO_SYNTH_DAYS, FALSE);

  return demo_beside (dir, make, &making, error);
}
