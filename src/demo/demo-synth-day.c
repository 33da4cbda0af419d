/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-synth-day.c — what the keeper writes of one animal on one evening.
 *
 * As the round line writes it: what was done to all is bulk and no look, an
 * exception is a look. Now and then a slip is corrected or taken back. */
#include "demo/demo-synth-private.h"

#include <math.h>

#include "core/core-plan.h"

CoreEntry *
synth_entry (CoreKind kind, CoreId subject, CoreDay day)
{
  CoreEntry *entry = core_entry_new (kind);

  if (entry == NULL)
    g_error ("out of memory");
  entry->subject = subject;
  entry->day = day;
  return entry;
}

static void
word (CoreEntry *entry, CoreKey key, const char *value)
{
  if (core_entry_set_word (entry, key, value) != CORE_VALUE_OK)
    g_error ("synthetic: %s is not a word of this key", value);
}

static void
number (CoreEntry *entry, CoreKey key, double value)
{
  if (core_entry_set_num (entry, key, value) != CORE_VALUE_OK)
    g_error ("synthetic: %g is not in the range of this key", value);
}

static void
text (CoreEntry *entry, CoreKey key, const char *value)
{
  if (core_entry_set_str (entry, key, value) != CORE_VALUE_OK)
    g_error ("synthetic: '%s' is not a text of this key", value);
}

static CoreEntry *
of (const Synth *self, const SynthAnimal *animal, CoreKind kind)
{
  return synth_entry (kind, animal->id, self->day);
}

static void
plain (Synth *self, const SynthAnimal *animal, CoreKind kind, gboolean bulk)
{
  CoreEntry *entry = of (self, animal, kind);

  entry->bulk = bulk;
  desk_bulk_add (self->bulk, entry);
}

static void
set (Synth *self, const SynthAnimal *animal, const char *key, const char *value)
{
  desk_bulk_add (self->bulk, synth_entry_set (animal->id, self->day, key, value));
}

/* The usual cups, by body length. */
static void
house (Synth *self, SynthAnimal *animal)
{
  static const int heights[] = { 60, 90, 120, 150, 200, 250, 300, 400 };
  const SynthShelf *shelf = &g_array_index (self->shelves, SynthShelf, animal->shelf);
  double need = 3.9 * synth_body_mm (animal, animal->written);
  CoreEntry *entry = of (self, animal, CORE_KIND_HOUSED);
  gsize k = 0;

  while (k + 1 < G_N_ELEMENTS (heights) && heights[k] < need)
    k++;
  if (core_entry_set_ref (entry, CORE_KEY_PLACE, shelf->id) != CORE_VALUE_OK)
    g_error ("synthetic: place");
  number (entry, CORE_KEY_AT, animal->at);
  number (entry, CORE_KEY_HEIGHT_MM, heights[k]);
  desk_bulk_add (self->bulk, entry);
  animal->next_housed = (guint) animal->written + 2;
}

/* ---- beginning ---- */

static void
acquire (Synth *self, SynthAnimal *animal)
{
  static const char *const sellers[] = { "fair", "exchange", "breeder", "friend" };
  CoreEntry *entry = of (self, animal, CORE_KIND_ACQUIRED);
  int m = animal->written;
  char claim[8];

  text (entry, CORE_KEY_FROM, sellers[demo_rand_int (&animal->rand, 0, 3)]);
  if (m < animal->n && demo_rand_chance (&animal->rand, .8))
    {
      g_snprintf (claim, sizeof claim, "L%d", m + 1);
      text (entry, CORE_KEY_STAGE, claim);
      number (entry, CORE_KEY_SCHEME, 1);
    }
  desk_bulk_add (self->bulk, entry);
  if (m < animal->n)
    return;
  entry = of (self, animal, CORE_KIND_STAGE);
  word (entry, CORE_KEY_SEEN, "adult");
  desk_bulk_add (self->bulk, entry);
  animal->known_adult = TRUE;
}

void
synth_arrive (Synth *self, SynthAnimal *animal)
{
  static const char *const names[] = { "Moss",   "Reed", "Amber", "Thorn",  "Willow", "Ash",
                                       "Bryony", "Fern", "Hazel", "Sorrel", "Clove",  "Juniper" };
  char label[12];

  synth_place (self, animal);
  animal->id = desk_bulk_subject (self->bulk, CORE_SUBJECT_ANIMAL);
  set (self, animal, "species", animal->profile->scientific);
  g_snprintf (label, sizeof label, "%u", animal->number);
  set (self, animal, "number", label);
  if (demo_rand_chance (&animal->rand, .03))
    set (self, animal, "name", names[demo_rand_int (&animal->rand, 0, 11)]);
  if (animal->bred)
    plain (self, animal, CORE_KIND_HATCHED, FALSE);
  else
    acquire (self, animal);
  house (self, animal);
}

/* ---- what was seen ---- */

static void
read_the_shed (Synth *self, SynthAnimal *animal, int m)
{
  gboolean right = demo_rand_chance (&animal->rand, .96);
  gboolean female = (animal->sex == CORE_SEX_FEMALE) == right;
  CoreEntry *entry;

  if (m < animal->profile->readable_from || demo_rand_chance (&animal->rand, .6))
    return;
  entry = of (self, animal, CORE_KIND_SEXED);
  word (entry, CORE_KEY_SEX, female ? "female" : "male");
  word (entry, CORE_KEY_METHOD, m >= animal->n ? "wings" : "count");
  if (m < animal->n)
    word (entry, CORE_KEY_OF, "shed");
  desk_bulk_add (self->bulk, entry);
}

static void
measure (Synth *self, SynthAnimal *animal, int m)
{
  double mm = synth_body_mm (animal, m) * (1 + .03 * demo_rand_normal (&animal->rand));
  CoreEntry *entry = of (self, animal, CORE_KIND_MEASURED);

  word (entry, CORE_KEY_WHAT, "body");
  number (entry, CORE_KEY_MM, MAX (1, round (mm * 2) / 2));
  desk_bulk_add (self->bulk, entry);
}

/* A moult since the last one written; the keeper overlooks it for an evening now and then. */
static gboolean
moult_found (Synth *self, SynthAnimal *animal)
{
  DemoRand *rand = &animal->rand;
  int m = synth_moults (animal, self->day);
  CoreEntry *entry;
  double chance;

  if (m <= animal->written || demo_rand_chance (rand, .2))
    return FALSE;
  animal->written = m;
  animal->fed = CORE_DAY_NONE;
  entry = of (self, animal, CORE_KIND_MOULTED);
  chance = demo_rand_unit (rand);
  word (entry, CORE_KEY_OUTCOME, chance < .02 ? "fell" : chance < .035 ? "limb" : "good");
  word (entry, CORE_KEY_SEEN, chance > .93 ? "yes" : "found");
  if (chance < .1)
    entry->earliest = (CoreDay) MAX (animal->came, floor (animal->moult[m]) - 1);
  if (m >= animal->n - 1)
    word (entry, CORE_KEY_TO, m >= animal->n ? "adult" : "subadult");
  animal->known_adult = m >= animal->n;
  desk_bulk_add (self->bulk, entry);
  read_the_shed (self, animal, m);
  if (demo_rand_chance (rand, .25))
    measure (self, animal, m);
  if ((guint) m >= animal->next_housed)
    house (self, animal);
  return TRUE;
}

static void
sign (Synth *self, SynthAnimal *animal, const char *what)
{
  CoreEntry *entry = of (self, animal, CORE_KIND_SIGN);

  word (entry, CORE_KEY_SIGN, what);
  desk_bulk_add (self->bulk, entry);
}

static void
seen (Synth *self, SynthAnimal *animal, double until)
{
  static const char *const troubles[] = { "foot", "limb", "thin", "mites", "weak" };
  DemoRand *rand = &animal->rand;
  CoreEntry *entry;

  if (until < 2.2 && !animal->known_adult && demo_rand_chance (rand, .3))
    sign (self, animal, demo_rand_chance (rand, .5) ? "sluggish" : "dull");
  if (until < .8 && !animal->known_adult && demo_rand_chance (rand, .25))
    sign (self, animal, "hanging");
  if (demo_rand_chance (rand, .06))
    {
      entry = of (self, animal, CORE_KIND_BELLY);
      number (entry, CORE_KEY_SCORE, until < 5 ? 4 : demo_rand_int (rand, 2, 4));
      desk_bulk_add (self->bulk, entry);
    }
  if (demo_rand_chance (rand, .04))
    plain (self, animal, CORE_KIND_DRANK, FALSE);
  if (demo_rand_chance (rand, .001))
    {
      entry = of (self, animal, CORE_KIND_TROUBLE);
      word (entry, CORE_KEY_WHAT, troubles[demo_rand_int (rand, 0, 4)]);
      desk_bulk_add (self->bulk, entry);
    }
  if (demo_rand_chance (rand, .02))
    {
      g_autofree char *said = synth_note (rand);

      entry = of (self, animal, CORE_KIND_NOTE);
      text (entry, CORE_KEY_TEXT, said);
      desk_bulk_add (self->bulk, entry);
    }
}

/* ---- what was done ---- */

static int
usual_prey (SynthAnimal *animal, int m)
{
  static const int ladder[] = { CORE_PREY_MELANOGASTER, CORE_PREY_HYDEI,       CORE_PREY_HOUSE_FLY,
                                CORE_PREY_GREEN_BOTTLE, CORE_PREY_BLUE_BOTTLE, CORE_PREY_MOTH };
  double mm = synth_body_mm (animal, m);
  int best = CORE_PREY_MELANOGASTER;

  for (gsize k = 0; k < G_N_ELEMENTS (ladder); k++)
    if (core_prey_mm (ladder[k]) < .34 * mm)
      best = ladder[k];
  return best == CORE_PREY_MOTH && demo_rand_chance (&animal->rand, .6) ? CORE_PREY_BLUE_BOTTLE
                                                                        : best;
}

static gboolean
feeding_due (const Synth *self, const SynthAnimal *animal, int m)
{
  int every = m <= 1 ? 1 : m <= 3 ? 2 : m >= animal->n && animal->sex == CORE_SEX_MALE ? 4 : 3;
  int hold = m <= 3 ? 1 : m >= animal->n ? 3 : 2;

  return (self->day + (CoreDay) animal->number) % every == 0 && self->day - animal->moult[m] > hold;
}

static CoreEntry *
meal (Synth *self, SynthAnimal *animal, int prey, const char *outcome)
{
  CoreEntry *entry = of (self, animal, CORE_KIND_FED);

  word (entry, CORE_KEY_PREY, core_prey_name (prey));
  number (entry, CORE_KEY_N, prey <= CORE_PREY_HYDEI ? 5 : 2);
  word (entry, CORE_KEY_OUTCOME, outcome);
  return entry;
}

/* A slip of the pen is corrected or taken back in the same evening. */
static void
slip (Synth *self, SynthAnimal *animal, int prey, CoreId fed)
{
  gboolean replaced = demo_rand_chance (&animal->rand, .6);
  CoreEntry *entry =
    replaced ? meal (self, animal, prey, "refused") : of (self, animal, CORE_KIND_VOID);

  entry->names = fed;
  desk_bulk_add (self->bulk, entry);
  animal->fed = CORE_DAY_NONE;
}

static void
feed (Synth *self, SynthAnimal *animal, int m, double until)
{
  DemoRand *rand = &animal->rand;
  double chance = demo_rand_unit (rand);
  gboolean refuses = (until < 4 && chance < .8) || chance < .03;
  gboolean bulk = !refuses && chance < .62;
  int prey = usual_prey (animal, m);
  CoreEntry *entry = meal (self, animal, prey, refuses ? "refused" : bulk ? "offered" : "taken");
  CoreId id;

  entry->bulk = bulk;
  id = desk_bulk_add (self->bulk, entry);
  animal->fed = bulk ? self->day : CORE_DAY_NONE;
  if (demo_rand_chance (rand, .004))
    slip (self, animal, prey, id);
}

/* To another shelf of the same warmth. */
static void
move (Synth *self, SynthAnimal *animal)
{
  guint other = (guint) demo_rand_int (&animal->rand, 0, (int) self->shelves->len - 1);
  SynthShelf *from = &g_array_index (self->shelves, SynthShelf, animal->shelf);
  SynthShelf *to = &g_array_index (self->shelves, SynthShelf, other);

  if (other == animal->shelf || to->climate != from->climate)
    return;
  from->cups--;
  to->cups++;
  animal->shelf = other;
  animal->at = ++to->last_at;
  house (self, animal);
}

void
synth_evening (Synth *self, SynthAnimal *animal, gboolean looked_at)
{
  const SynthShelf *shelf = &g_array_index (self->shelves, SynthShelf, animal->shelf);
  const SynthClimate *climate = &synth_climates[shelf->climate];
  DemoRand *rand = &animal->rand;
  int m = synth_moults (animal, self->day);
  double until = m < animal->n ? animal->moult[m + 1] - self->day : INFINITY;

  if (moult_found (self, animal))
    return;
  if (animal->fed == self->day - 1 && m > 1 && demo_rand_chance (rand, .4))
    plain (self, animal, CORE_KIND_GONE, FALSE);
  if (self->day % climate->mist_every == 0)
    plain (self, animal, CORE_KIND_MISTED, TRUE);
  if ((self->day + (CoreDay) animal->shelf) % 5 == 0)
    plain (self, animal, CORE_KIND_WATERED, TRUE);
  if (feeding_due (self, animal, m))
    feed (self, animal, m, until);
  seen (self, animal, until);
  if (looked_at)
    plain (self, animal, CORE_KIND_LOOKED, FALSE);
  if (demo_rand_chance (rand, .001))
    move (self, animal);
}

/* ---- end ---- */

static const char *
cause_of (SynthAnimal *animal)
{
  static const char *const young[] = { "unknown", "did not eat", "dried out" };

  if (animal->end == SYNTH_DIES_IN_MOULT)
    return "moult";
  return animal->known_adult ? "old age" : young[demo_rand_int (&animal->rand, 0, 2)];
}

void
synth_end (Synth *self, SynthAnimal *animal)
{
  CoreEntry *entry;

  switch (animal->end)
    {
    case SYNTH_SOLD:
    case SYNTH_GIVEN:
      entry = of (self, animal, CORE_KIND_LEFT);
      word (entry, CORE_KEY_HOW, animal->end == SYNTH_SOLD ? "sold" : "given");
      break;
    case SYNTH_ESCAPES:
      entry = of (self, animal, CORE_KIND_ESCAPED);
      break;
    case SYNTH_DIES:
    case SYNTH_DIES_IN_MOULT:
    default:
      entry = of (self, animal, CORE_KIND_DIED);
      text (entry, CORE_KEY_CAUSE, cause_of (animal));
    }
  desk_bulk_add (self->bulk, entry);
}
