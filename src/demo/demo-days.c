/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-days.c — the keeper's evenings: what was done on each shelf and what was seen.
 *
 * Rounds are written as the round line writes them: what was done to all is bulk
 * and no look, an exception is a look at that animal. On most evenings the keeper
 * also ends the round with a look at all. */
#include <math.h>

#include "core/core-plan.h"
#include "demo/demo-private.h"

typedef struct
{
  Desk *desk;
  const CoreId *subjects;
  const DemoLife *lives;
  CoreDay day;
  CoreDay last;
  GPtrArray *entries; /* of the round being put together */
  int *written;       /* moults of each animal that the keeper knows of */
} Evening;

CoreEntry *
demo_entry (CoreKind kind, CoreId subject, CoreDay day)
{
  CoreEntry *entry = core_entry_new (kind);

  if (entry == NULL)
    g_error ("out of memory");
  entry->subject = subject;
  entry->day = day;
  return entry;
}

static CoreEntry *
add (Evening *e, gsize i, CoreKind kind)
{
  CoreEntry *entry = demo_entry (kind, e->subjects[i], e->day);

  g_ptr_array_add (e->entries, entry);
  return entry;
}

static void
word (CoreEntry *entry, CoreKey key, const char *value)
{
  if (core_entry_set_word (entry, key, value) != CORE_VALUE_OK)
    g_error ("demo: %s is not a word of this key", value);
}

/* When the animal was there: from its arrival (or hatch) to its end. */
static CoreDay
first_day (const DemoAnimal *animal, CoreDay last)
{
  return last - (animal->came > 0 ? animal->came : animal->hatched);
}

static CoreDay
end_day (const DemoAnimal *animal, CoreDay last, gsize i)
{
  if (animal->story == DEMO_STORY_DIED)
    return last - 20 - (CoreDay) (i % 11);
  if (animal->story == DEMO_STORY_SOLD)
    return last - 14;
  return last + 1;
}

static gboolean
present (const Evening *e, gsize i)
{
  const DemoAnimal *animal = &demo_animals[i];

  return e->day > first_day (animal, e->last) && e->day < end_day (animal, e->last, i)
         && !(animal->story == DEMO_STORY_UNSEEN && e->day > e->last - 5);
}

static double
until_moult (const Evening *e, gsize i)
{
  const DemoLife *life = &e->lives[i];
  int m = demo_life_moults (life, e->day);

  return m >= life->n ? 1000 : life->moult[m + 1] - e->day;
}

static double
since_moult (const Evening *e, gsize i)
{
  const DemoLife *life = &e->lives[i];
  int m = demo_life_moults (life, e->day);

  return e->day - life->moult[m];
}

/* ---- what was seen ---- */

static const char *
becomes (const DemoLife *life, int m)
{
  return m >= life->n ? "adult" : m == life->n - 1 ? "subadult" : m >= life->n - 3 ? "nymph" : NULL;
}

/* A moult that happened since the last evening with a look. */
static gboolean
moult_seen (Evening *e, gsize i)
{
  const DemoLife *life = &e->lives[i];
  int m = demo_life_moults (life, e->day);
  double chance = demo_chance (i + 7, (guint64) m, 5);
  CoreEntry *entry;
  const char *to;

  if (m <= e->written[i] || life->moult[m] <= first_day (&demo_animals[i], e->last))
    return FALSE;
  e->written[i] = m;
  entry = add (e, i, CORE_KIND_MOULTED);
  word (entry, CORE_KEY_OUTCOME, chance < .03 ? "fell" : chance < .05 ? "limb" : "good");
  word (entry, CORE_KEY_SEEN, chance > .9 ? "yes" : "found");
  to = becomes (life, m);
  if (to != NULL)
    word (entry, CORE_KEY_TO, to);
  return TRUE;
}

static void
belly (Evening *e, gsize i, int score)
{
  if (core_entry_set_num (add (e, i, CORE_KIND_BELLY), CORE_KEY_SCORE, score) != CORE_VALUE_OK)
    g_error ("demo: belly");
}

static void
sign (Evening *e, gsize i, const char *what)
{
  word (add (e, i, CORE_KIND_SIGN), CORE_KEY_SIGN, what);
}

/* About half of the animals: the keeper spread the shed skin and read it, from the fourth moult on. */
static void
read_the_shed (Evening *e, gsize i)
{
  int m = demo_life_moults (&e->lives[i], e->day);
  CoreEntry *entry;

  if (m < 5 || demo_chance (i, 81, (guint64) m) > .5)
    return;
  entry = add (e, i, CORE_KIND_SEXED);
  word (entry, CORE_KEY_SEX, demo_animals[i].sex == CORE_SEX_FEMALE ? "female" : "male");
  word (entry, CORE_KEY_METHOD, "count");
  word (entry, CORE_KEY_OF, "shed");
}

static void
measure_after (Evening *e, gsize i)
{
  const DemoLife *life = &e->lives[i];
  DeskSubject *subject = desk_get (e->desk, e->subjects[i]);
  const CoreProfile *profile = desk_subject_profile (subject);
  int sex = demo_animals[i].sex == CORE_SEX_FEMALE ? 1 : 0;
  int m = demo_life_moults (life, e->day);
  double adult = profile->adult_mm[sex].v;
  double mm = (isnan (adult) ? 70 : adult) / pow (profile->ratio_body, life->n - m);
  CoreEntry *entry = add (e, i, CORE_KIND_MEASURED);

  word (entry, CORE_KEY_WHAT, "body");
  if (core_entry_set_num (entry, CORE_KEY_MM, round (mm * (1 + .03 * (demo_chance (i, 77, (guint64) m) - .5)) * 2) / 2)
      != CORE_VALUE_OK)
    g_error ("demo: measure");
  desk_subject_unref (subject);
}

/* ---- what was done ---- */

static int
usual_prey (const DeskSubject *subject, gsize i, CoreDay day)
{
  double mm = core_body_now (desk_subject_state (subject), desk_subject_profile (subject), .5);
  static const int ladder[] = { CORE_PREY_MELANOGASTER, CORE_PREY_HYDEI, CORE_PREY_HOUSE_FLY, CORE_PREY_GREEN_BOTTLE,
                                CORE_PREY_BLUE_BOTTLE, CORE_PREY_MOTH };
  int best = CORE_PREY_MELANOGASTER;

  if (isnan (mm))
    mm = 25;
  for (gsize k = 0; k < G_N_ELEMENTS (ladder); k++)
    if (core_prey_mm (ladder[k]) < .34 * mm)
      best = ladder[k];
  if (best == CORE_PREY_MOTH && demo_chance (i, 31, (guint64) day) < .6)
    best = CORE_PREY_BLUE_BOTTLE;
  return best;
}

static gboolean
feeding_due (const Evening *e, gsize i)
{
  const DemoLife *life = &e->lives[i];
  int m = demo_life_moults (life, e->day);
  int every = m <= 1 ? 1 : m <= 3 ? 2 : m >= life->n && demo_animals[i].sex == CORE_SEX_MALE ? 4 : 3;
  int hold = m <= 3 ? 1 : m >= life->n ? 3 : 2;

  return (e->day + (CoreDay) i) % every == 0 && since_moult (e, i) > hold;
}

static void
feed (Evening *e, gsize i)
{
  DeskSubject *subject = desk_get (e->desk, e->subjects[i]);
  double chance = demo_chance (i + 100, (guint64) e->day, 9);
  double soon = until_moult (e, i);
  CoreEntry *entry = add (e, i, CORE_KIND_FED);
  int prey = usual_prey (subject, i, e->day);
  gboolean refuses = (soon < 4 && chance < .8) || chance < .03;

  word (entry, CORE_KEY_PREY, core_prey_name (prey));
  if (core_entry_set_num (entry, CORE_KEY_N, prey <= CORE_PREY_HYDEI ? 5 : 2) != CORE_VALUE_OK)
    g_error ("demo: n");
  if (refuses)
    word (entry, CORE_KEY_OUTCOME, "refused");
  else if (chance > .62)
    word (entry, CORE_KEY_OUTCOME, "taken");
  else
    {
      word (entry, CORE_KEY_OUTCOME, "offered");
      entry->bulk = true;
    }
  desk_subject_unref (subject);
}

static void
gone_from_yesterday (Evening *e, gsize i)
{
  const DemoLife *life = &e->lives[i];

  if (demo_chance (i + 100, (guint64) (e->day - 1), 9) <= .62 && demo_chance (i, (guint64) e->day, 11) < .5
      && since_moult (e, i) > 2 && demo_life_moults (life, e->day) > 1)
    {
      DeskSubject *subject = desk_get (e->desk, e->subjects[i]);
      const CoreState *state = desk_subject_state (subject);

      if (state->meals.n > 0 && state->meals.v[state->meals.n - 1].day == e->day - 1
          && state->meals.v[state->meals.n - 1].outcome == CORE_FED_OFFERED)
        add (e, i, CORE_KIND_GONE);
      desk_subject_unref (subject);
    }
}

static gboolean
mist_day (const Evening *e, gsize i)
{
  static const int every[] = { 3, 1, 2 };

  return e->day % every[demo_animals[i].shelf] == 0;
}

/* The last evenings, as the stories want them. TRUE: nothing else happens with it that evening. */
static gboolean
story_evening (Evening *e, gsize i)
{
  CoreDay left = e->last - e->day;

  switch (demo_animals[i].story)
    {
    case DEMO_STORY_HANGS:
      if (left == 4 || left == 2)
        word (add (e, i, CORE_KIND_FED), CORE_KEY_OUTCOME, "refused");
      if (left == 3)
        belly (e, i, 4);
      if (left == 1)
        sign (e, i, "dull");
      if (left == 0)
        sign (e, i, "hanging");
      return left <= 4;
    case DEMO_STORY_THIN:
      if (left == 3 || left == 1)
        word (add (e, i, CORE_KIND_FED), CORE_KEY_OUTCOME, "refused");
      if (left == 1)
        belly (e, i, 2);
      if (left == 0)
        add (e, i, CORE_KIND_LOOKED);
      return left <= 4;
    case DEMO_STORY_PLAIN:
    case DEMO_STORY_FRESH:
    case DEMO_STORY_UNSEEN:
    case DEMO_STORY_DIED:
    case DEMO_STORY_SOLD:
    case DEMO_STORY_SMALL_HOME:
    default:
      return FALSE;
    }
}

static void
one_animal (Evening *e, gsize i, gboolean look_all)
{
  gboolean moulted;

  if (!present (e, i) || story_evening (e, i))
    return;
  moulted = moult_seen (e, i);
  if (moulted)
    {
      read_the_shed (e, i);
      if (demo_chance (i, 41, (guint64) demo_life_moults (&e->lives[i], e->day)) < .45)
        measure_after (e, i);
      return;
    }
  gone_from_yesterday (e, i);
  if (mist_day (e, i))
    add (e, i, CORE_KIND_MISTED)->bulk = true;
  if (feeding_due (e, i))
    feed (e, i);
  if (until_moult (e, i) < 2.2 && demo_chance (i, 51, (guint64) e->day) < .35)
    sign (e, i, demo_chance (i, 52, (guint64) e->day) < .5 ? "sluggish" : "dull");
  if (demo_chance (i, 61, (guint64) e->day) < .04)
    belly (e, i, until_moult (e, i) < 5 ? 4 : 3);
  if (look_all)
    add (e, i, CORE_KIND_LOOKED);
}

static void
endings (Evening *e, gsize i)
{
  const DemoAnimal *animal = &demo_animals[i];
  CoreEntry *entry;

  if (e->day != end_day (animal, e->last, i))
    return;
  if (animal->story == DEMO_STORY_DIED)
    {
      entry = add (e, i, CORE_KIND_DIED);
      if (core_entry_set_str (entry, CORE_KEY_CAUSE, i % 2 == 0 ? "moult" : "unknown") != CORE_VALUE_OK)
        g_error ("demo: cause");
      word (entry, CORE_KEY_SURE, i % 2 == 0 ? "yes" : "no");
    }
  else if (animal->story == DEMO_STORY_SOLD)
    {
      entry = add (e, i, CORE_KIND_LEFT);
      word (entry, CORE_KEY_HOW, "given");
    }
}

static void
shelf_care (Evening *e, const CoreId *places, gsize shelf)
{
  if ((e->day + (CoreDay) shelf) % 7 == 0)
    g_ptr_array_add (e->entries, demo_entry (CORE_KIND_CLEANED, places[shelf], e->day));
  if (e->day % 5 == 0)
    {
      CoreEntry *entry = demo_entry (CORE_KIND_READING, places[shelf], e->day);
      double t = demo_places[shelf].day_c + 2 * demo_chance (shelf, 71, (guint64) e->day) - 1;

      entry->minute = 19 * 60;
      if (core_entry_set_num (entry, CORE_KEY_T, round (t * 2) / 2) != CORE_VALUE_OK
          || core_entry_set_num (entry, CORE_KEY_RH, round (52 + 14 * demo_chance (shelf, 72, (guint64) e->day)))
               != CORE_VALUE_OK)
        g_error ("demo: reading");
      g_ptr_array_add (e->entries, entry);
    }
}

gboolean
demo_write_days (Desk *desk,
                 CoreDay last,
                 const CoreId *subjects,
                 const DemoLife *lives,
                 const CoreId *places,
                 GCancellable *cancellable,
                 GError **error)
{
  g_autofree int *written = g_new0 (int, demo_n_animals);
  Evening e = { .desk = desk, .subjects = subjects, .lives = lives, .last = last, .written = written };

  for (gsize i = 0; i < demo_n_animals; i++)
    written[i] = demo_life_moults (&lives[i], first_day (&demo_animals[i], last));

  for (e.day = e.last - DEMO_DAYS + 1; e.day <= e.last; e.day++)
    for (gsize shelf = 0; shelf < demo_n_places; shelf++)
      {
        /* Now and then an evening away; the keeper does not write on such a day. */
        gboolean away = demo_chance (3, (guint64) e.day, 1) < .07 && e.day < e.last - 6;
        gboolean look_all = demo_chance (4, (guint64) e.day, shelf) < .55;

        e.entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
        for (gsize i = 0; i < demo_n_animals; i++)
          if ((gsize) demo_animals[i].shelf == shelf)
            {
              if (!away)
                one_animal (&e, i, look_all);
              endings (&e, i);
            }
        if (!away)
          shelf_care (&e, places, shelf);
        if (g_cancellable_set_error_if_cancelled (cancellable, error))
          {
            g_ptr_array_unref (e.entries);
            return FALSE;
          }
        if (!demo_write (desk, e.entries, error))
          return FALSE;
      }
  return TRUE;
}
