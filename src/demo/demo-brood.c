/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-brood.c — the invented egg case, the lot that hatched from it, the flies for it, and what
 * keeps its shelf warm. Every line is made up. */
#include "core/core-date.h"
#include "demo/demo-private.h"

/* Days before the last day. */
enum
{
  LAID = 62,
  CAME = 40,
  HATCHED_FIRST = 15,
  HATCHED_LAST = 13,
  OLD_JAR = 31,
  NEW_JAR = 8,
  HEATER = 200,
  CHECKED = 30
};

static CoreEntry *
add (GPtrArray *entries, CoreKind kind, CoreId subject, CoreDay day)
{
  CoreEntry *entry = demo_entry (kind, subject, day);

  g_ptr_array_add (entries, entry);
  return entry;
}

static void
number (CoreEntry *entry, double n)
{
  if (core_entry_set_num (entry, CORE_KEY_N, n) != CORE_VALUE_OK)
    g_error ("demo: number");
}

static void
word (CoreEntry *entry, CoreKey key, const char *value)
{
  if (core_entry_set_word (entry, key, value) != CORE_VALUE_OK)
    g_error ("demo: %s", value);
}

static GPtrArray *
entries_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
}

/* What is added, and where it stands. */
static GPtrArray *
pairs_new (const char *first, CoreId place, int at)
{
  GPtrArray *pairs = g_ptr_array_new_with_free_func (g_free);
  char id[37];

  core_id_to_text (place, id);
  g_ptr_array_add (pairs, g_strdup (first));
  g_ptr_array_add (pairs, g_strdup_printf ("place=%s", id));
  g_ptr_array_add (pairs, g_strdup_printf ("at=%d", at));
  return pairs;
}

static void
day_pair (GPtrArray *pairs, const char *key, CoreDay day)
{
  char text[11];

  core_day_to_text (day, text);
  g_ptr_array_add (pairs, g_strdup_printf ("%s=%s", key, text));
}

/* Bought, and sprayed while it waited; it hatched on two mornings. */
static gboolean
write_egg (Desk *desk, CoreDay last, CoreId place, GError **error)
{
  g_autoptr (GPtrArray) pairs = pairs_new ("species=Hierodula membranacea", place, (int) demo_n_animals + 1);
  GPtrArray *entries;
  CoreEntry *entry;
  CoreId egg;

  day_pair (pairs, "laid", last - LAID);
  day_pair (pairs, "acquired", last - CAME);
  g_ptr_array_add (pairs, g_strdup ("from=a fair"));
  if (!demo_add (desk, CORE_SUBJECT_EGGCASE, pairs, last - CAME, &egg, error))
    return FALSE;
  entries = entries_new ();
  for (CoreDay day = last - CAME; day < last; day += 3)
    add (entries, CORE_KIND_MISTED, egg, day);
  for (CoreDay day = last - 24; day < last; day += 2)
    add (entries, CORE_KIND_LOOKED, egg, day);
  entry = add (entries, CORE_KIND_HATCHING, egg, last - HATCHED_FIRST);
  number (entry, 70);
  word (entry, CORE_KEY_COUNTED, "no");
  entry = add (entries, CORE_KIND_HATCHING, egg, last - HATCHED_LAST);
  number (entry, 18);
  word (entry, CORE_KEY_COUNTED, "yes");
  return demo_write (desk, entries, error);
}

/* Food in view every evening, fine fog, and a count when they were moved together. */
static gboolean
write_lot (Desk *desk, CoreDay last, CoreId place, GError **error)
{
  g_autoptr (GPtrArray) pairs = pairs_new ("from=E1", place, (int) demo_n_animals + 2);
  GPtrArray *entries;
  CoreEntry *entry;
  CoreId lot;

  if (!demo_add (desk, CORE_SUBJECT_LOT, pairs, last - HATCHED_LAST, &lot, error))
    return FALSE;
  entries = entries_new ();
  for (CoreDay day = last - HATCHED_LAST + 1; day < last; day++)
    {
      word (add (entries, CORE_KIND_FED, lot, day), CORE_KEY_PREY, "melanogaster");
      add (entries, CORE_KIND_MISTED, lot, day);
      add (entries, CORE_KIND_LOOKED, lot, day);
    }
  number (add (entries, CORE_KIND_DIED, lot, last - 9), 3);
  number (add (entries, CORE_KIND_DIED, lot, last - 6), 1);
  entry = add (entries, CORE_KIND_RECOUNTED, lot, last - 4);
  number (entry, 81);
  word (entry, CORE_KEY_COUNTED, "yes");
  entry = add (entries, CORE_KIND_LEFT, lot, last - 2);
  number (entry, 20);
  word (entry, CORE_KEY_HOW, "given");
  return demo_write (desk, entries, error);
}

static gboolean
write_jar (Desk *desk, CoreDay last, int ago, CoreId place, int at, GError **error)
{
  g_autoptr (GPtrArray) pairs = pairs_new ("prey=melanogaster", place, at);
  CoreId jar;

  day_pair (pairs, "started", last - ago);
  return demo_add (desk, CORE_SUBJECT_CULTURE, pairs, last - ago, &jar, error);
}

/* A mat on a thermostat, checked a month ago. */
static gboolean
write_heater (Desk *desk, CoreDay last, CoreId place, GError **error)
{
  g_autoptr (GPtrArray) entries = entries_new ();
  CoreEntry *entry = add (entries, CORE_KIND_SET, place, last - HEATER);

  if (core_entry_set_str (entry, CORE_KEY_KEY, "heater") != CORE_VALUE_OK ||
      core_entry_set_str (entry, CORE_KEY_VALUE, "mat on a thermostat") != CORE_VALUE_OK)
    g_error ("demo: heater");
  entry = add (entries, CORE_KIND_DONE, place, last - CHECKED);
  if (core_entry_set_str (entry, CORE_KEY_RULE, "heat") != CORE_VALUE_OK)
    g_error ("demo: heater");
  return demo_write (desk, g_steal_pointer (&entries), error);
}

gboolean
demo_write_brood (Desk *desk, CoreDay last, CoreId place, GError **error)
{
  int at = (int) demo_n_animals + 3;

  return write_egg (desk, last, place, error) && write_lot (desk, last, place, error) &&
         write_jar (desk, last, OLD_JAR, place, at, error) &&
         write_jar (desk, last, NEW_JAR, place, at + 1, error) &&
         write_heater (desk, last, place, error);
}
