/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-add-lot.c — a new lot, egg case or culture.
 *
 * A lot from an egg case is one line on the day of the hatch: what of it was not
 * entered as hatched yet is entered at the case, and the lot takes over species,
 * parents, line and place. */
#include "desk/desk-add-private.h"

#include <math.h>
#include <string.h>

#define MOST 100000

const char *const desk_origin_keys[] = { "origin", "locality", "species_sure", "mother",
                                         "father", "line",     "generation",   NULL };

static const char *const lot_keys[] = { "species",  "code",         "name",      "count",
                                        "counted",  "from",         "hatched",   "hatched_earliest",
                                        "acquired", "stage",        "scheme",    "moults",
                                        "place",    "at",           "purpose",   "origin",
                                        "locality", "species_sure", "mother",    "father",
                                        "line",     "generation",   "count_day", NULL };
static const char *const eggcase_keys[] = {
  "species",       "code",         "name",   "mother", "series",     "laid",
  "laid_earliest", "acquired",     "from",   "place",  "at",         "origin",
  "locality",      "species_sure", "father", "line",   "generation", NULL
};
static const char *const culture_keys[] = { "prey",  "code", "name", "started",
                                            "place", "at",   "text", NULL };

/* ---- pieces ---- */

/* A code of its own: given, or the next of its letter. */
static gboolean
add_code (DeskOp *op, CoreId subject, CoreDay day, char **pairs, char letter, GError **error)
{
  const char *given = desk_add_value (pairs, "code");
  g_autofree char *next = given == NULL ? desk_code_next (op->desk, letter) : NULL;

  return desk_op_set (op, subject, day, "code", given != NULL ? given : next, error);
}

static gboolean
whole_number (const char *key, const char *value, gint64 *out, GError **error)
{
  double n;
  char most[32];

  if (core_number_parse (value, &n) && n >= 1 && n <= MOST && n == floor (n))
    {
      *out = (gint64) n;
      return TRUE;
    }
  core_number_format (MOST, 0, most);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BAD_REAL, key, value, "1", most, NULL);
  return FALSE;
}

/* ---- lot ---- */

typedef struct
{
  DeskOp *op;
  const DeskAddition *addition;
  const CoreState *egg; /* NULL = not from an egg case of this journal */
  CoreId lot;
  gint64 count;
  gboolean counted;
  CoreDay hatched, hatched_earliest;
} Lot;

/* from=E1 is an egg case of the journal; what came from elsewhere has acquired= and names
 * whom it came from. */
static gboolean
find_egg (Lot *self, GError **error)
{
  char **pairs = self->addition->pairs;
  const char *from = desk_add_value (pairs, "from");
  gboolean came = desk_add_value (pairs, "acquired") != NULL;
  DeskRecord *record =
    from != NULL ? desk_find_record (self->op->desk, from, FALSE, came ? NULL : error) : NULL;

  if (from == NULL || (came && (record == NULL || record->kind != CORE_SUBJECT_EGGCASE)))
    return TRUE;
  if (record == NULL)
    return FALSE;
  if (record->kind == CORE_SUBJECT_EGGCASE)
    {
      self->egg = desk_subject_state (record->now);
      return TRUE;
    }
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_AN_EGGCASE, from, NULL);
  return FALSE;
}

/* Hatched, and in no lot yet. */
static gint64
loose (const CoreState *egg)
{
  return egg == NULL ? 0 : MAX (0, egg->egg.hatched - egg->egg.in_lots);
}

/* The first of the hatchings that those come from; what is in lots hatched before them. */
static gsize
loose_from (const CoreEggState *egg, gint64 n)
{
  gsize i = egg->hatchings.n;

  while (i > 0 && n > 0)
    {
      i--;
      n -= MAX (egg->hatchings.v[i].n, 0);
    }
  return n > 0 ? 0 : i;
}

static gboolean
loose_counted (const CoreState *egg)
{
  for (gsize i = loose_from (&egg->egg, loose (egg)); i < egg->egg.hatchings.n; i++)
    if (!egg->egg.hatchings.v[i].counted || egg->egg.hatchings.v[i].n < 0)
      return FALSE;
  return TRUE;
}

static gboolean
read_count (Lot *self, GError **error)
{
  char **pairs = self->addition->pairs;
  const char *count = desk_add_value (pairs, "count");
  const char *counted = desk_add_value (pairs, "counted");

  self->count = loose (self->egg);
  self->counted = self->count > 0 ? loose_counted (self->egg) : TRUE;
  if (count != NULL && !whole_number ("count", count, &self->count, error))
    return FALSE;
  if (count != NULL)
    self->counted = TRUE;
  if (counted != NULL && strcmp (counted, "yes") != 0 && strcmp (counted, "no") != 0)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SETTING_WORD, "counted", counted,
                 "yes, no", NULL);
      return FALSE;
    }
  if (counted != NULL)
    self->counted = strcmp (counted, "yes") == 0;
  if (self->count > 0)
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_LOT_UNCOUNTED, NULL);
  return FALSE;
}

/* Without a day: as it was entered at the case, else today. */
static gboolean
read_hatch (Lot *self, GError **error)
{
  char **pairs = self->addition->pairs;
  const CoreEggState *egg = self->egg != NULL ? &self->egg->egg : NULL;

  self->hatched = self->hatched_earliest = CORE_DAY_NONE;
  if (egg != NULL)
    self->hatched = self->addition->day;
  if (loose (self->egg) > 0)
    {
      const CoreHatching *first = &egg->hatchings.v[loose_from (egg, loose (self->egg))];

      self->hatched_earliest = first->earliest != CORE_DAY_NONE ? first->earliest : first->day;
      self->hatched = egg->hatchings.v[egg->hatchings.n - 1].day;
    }
  if (desk_add_value (pairs, "hatched") != NULL)
    self->hatched_earliest = CORE_DAY_NONE;
  return desk_add_days_of (self->op, pairs, "hatched", "hatched_earliest", &self->hatched, &self->hatched_earliest,
                           error);
}

static gboolean
begin_lot (Lot *self, GError **error)
{
  CoreEntry *entry;

  if (self->egg == NULL)
    return desk_add_beginning (self->op, self->lot, self->addition->day, self->addition->pairs,
                               error);
  entry = desk_op_entry (self->op, CORE_KIND_HATCHED, self->lot, self->hatched);
  if (self->hatched_earliest != CORE_DAY_NONE && self->hatched_earliest < self->hatched)
    entry->earliest = self->hatched_earliest;
  return TRUE;
}

/* As said; else what came is counted as it came, and of a lot that is here already it is what there
 * is today. Before it began nobody counted it. */
static gboolean
count_day (Lot *self, CoreDay begun, CoreDay *day, GError **error)
{
  char **pairs = self->addition->pairs;

  *day = self->addition->day;
  if (self->egg != NULL)
    *day = self->hatched;
  else if (desk_add_value (pairs, "acquired") != NULL)
    *day = begun;
  return desk_add_day_of (self->op, pairs, "count_day", day, error);
}

static gboolean
add_count (Lot *self, CoreDay begun, GError **error)
{
  CoreEntry *entry;
  CoreDay day;

  if (!count_day (self, begun, &day, error))
    return FALSE;
  if (day < begun)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_LOT_COUNTED_BEFORE, NULL);
      return FALSE;
    }
  entry = desk_op_entry (self->op, CORE_KIND_RECOUNTED, self->lot, day);
  core_entry_set_num (entry, CORE_KEY_N, (double) self->count);
  core_entry_set_word (entry, CORE_KEY_COUNTED, self->counted ? "yes" : "no");
  return TRUE;
}

/* Bred here, or hatched here from a case that was found. */
static const char *
origin_from_egg (const CoreState *egg)
{
  const char *origin = core_state_setting (egg, "origin");

  if (origin == NULL)
    return core_state_setting (egg, "mother") != NULL ? "captive_bred" : NULL;
  return strcmp (origin, "wild_caught") == 0 ? "captive_hatched" : origin;
}

static gboolean
take_over_origin (Lot *self, CoreDay begun, GError **error)
{
  char id[37];

  for (int i = 0; desk_origin_keys[i] != NULL; i++)
    {
      const char *key = desk_origin_keys[i];
      const char *value = strcmp (key, "origin") == 0 ? origin_from_egg (self->egg)
                                                      : core_state_setting (self->egg, key);

      if (value != NULL && desk_add_value (self->addition->pairs, key) == NULL &&
          !desk_op_set (self->op, self->lot, begun, key, value, error))
        return FALSE;
    }
  core_id_to_text (self->egg->subject, id);
  return desk_op_set (self->op, self->lot, begun, "eggcase", id, error);
}

/* Where the egg case is, right after it. */
static void
stand_by_egg (Lot *self)
{
  const CoreState *egg = self->egg;
  CoreEntry *entry;

  if (egg->stays.n == 0)
    return;
  entry = desk_op_entry (self->op, CORE_KIND_HOUSED, self->lot, self->hatched);
  core_entry_set_ref (entry, CORE_KEY_PLACE, egg->stays.v[egg->stays.n - 1].place);
  core_entry_set_num (entry, CORE_KEY_AT, desk_position_after (self->op->desk, egg->subject, 0, 1));
}

/* What of it was not entered as hatched is entered now. */
static void
write_egg (Lot *self)
{
  CoreEntry *entry;
  gint64 more = self->count - loose (self->egg);

  if (more > 0)
    {
      entry = desk_op_entry (self->op, CORE_KIND_HATCHING, self->egg->subject, self->hatched);
      if (self->hatched_earliest != CORE_DAY_NONE && self->hatched_earliest < self->hatched)
        entry->earliest = self->hatched_earliest;
      core_entry_set_num (entry, CORE_KEY_N, (double) more);
      core_entry_set_word (entry, CORE_KEY_COUNTED, self->counted ? "yes" : "no");
    }
  entry = desk_op_entry (self->op, CORE_KIND_SPLIT, self->egg->subject, self->hatched);
  core_entry_set_num (entry, CORE_KEY_N, (double) self->count);
  core_entry_set_ref (entry, CORE_KEY_WITH, self->lot);
}

gboolean
desk_add_lot (DeskOp *op, const DeskAddition *addition, GError **error)
{
  static const char *const settings[] = { "name", "purpose", NULL };
  Lot self = { .op = op, .addition = addition };
  char **pairs = addition->pairs;
  const char *species = desk_add_value (pairs, "species");
  CoreDay begun;

  if (!desk_add_check_pairs (pairs, lot_keys, error) || !find_egg (&self, error) ||
      !read_count (&self, error) || !read_hatch (&self, error))
    return FALSE;
  self.lot = op->subject = desk_op_new_subject (op, CORE_SUBJECT_LOT);
  if (!begin_lot (&self, error))
    return FALSE;
  begun = desk_add_first_day (op, addition->day);
  if (!add_count (&self, begun, error))
    return FALSE;
  if (species == NULL && self.egg != NULL)
    species = self.egg->species[0] != '\0' ? self.egg->species : "unknown";
  if (!desk_add_species (op, self.lot, begun, species, error) ||
      !add_code (op, self.lot, begun, pairs, 'H', error) ||
      !desk_add_given (op, self.lot, begun, settings, pairs, error) ||
      !desk_add_given (op, self.lot, begun, desk_origin_keys, pairs, error) ||
      !desk_add_home (op, self.lot, addition->day, pairs, error))
    return FALSE;
  if (self.egg == NULL)
    return TRUE;
  if (desk_add_value (pairs, "place") == NULL && desk_add_value (pairs, "at") == NULL)
    stand_by_egg (&self);
  if (!take_over_origin (&self, begun, error))
    return FALSE;
  write_egg (&self);
  return TRUE;
}

/* ---- egg case ---- */

typedef struct
{
  DeskOp *op;
  const DeskAddition *addition;
  CoreId egg;
  DeskRecord *mother; /* NULL = not given */
  gint64 series; /* as said; 0 = by the day of laying among hers */
  CoreDay laid, earliest;
} Egg;

static gboolean
find_mother (Egg *self, GError **error)
{
  const char *mother = desk_add_value (self->addition->pairs, "mother");

  if (mother == NULL)
    return TRUE;
  self->mother = desk_find_record (self->op->desk, mother, FALSE, error);
  if (self->mother == NULL)
    return FALSE;
  if (self->mother->kind == CORE_SUBJECT_ANIMAL)
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_AN_ANIMAL, mother, NULL);
  return FALSE;
}

static gboolean
read_laying (Egg *self, GError **error)
{
  char **pairs = self->addition->pairs;
  const char *series = desk_add_value (pairs, "series");

  self->laid = self->earliest = CORE_DAY_NONE;
  if (!desk_add_days_of (self->op, pairs, "laid", "laid_earliest", &self->laid, &self->earliest, error))
    return FALSE;
  /* Laid some day since then, and found today. */
  if (self->laid == CORE_DAY_NONE && self->earliest != CORE_DAY_NONE)
    self->laid = self->addition->day;
  return series == NULL || whole_number ("series", series, &self->series, error);
}

static void
write_laid (Egg *self, CoreId subject)
{
  CoreEntry *entry;

  if (self->laid == CORE_DAY_NONE)
    return;
  entry = desk_op_entry (self->op, CORE_KIND_LAID, subject, self->laid);
  entry->earliest = self->earliest;
  if (core_id_equal (subject, self->egg))
    return;
  core_entry_set_ref (entry, CORE_KEY_WITH, self->egg);
  if (self->series > 0)
    core_entry_set_num (entry, CORE_KEY_N, (double) self->series);
}

static gboolean
write_arrival (Egg *self, GError **error)
{
  char **pairs = self->addition->pairs;
  CoreDay day = self->addition->day;

  if (desk_add_value (pairs, "acquired") == NULL && desk_add_value (pairs, "from") == NULL)
    return TRUE;
  return desk_add_day_of (self->op, pairs, "acquired", &day, error) &&
         desk_add_copy (self->op, desk_op_entry (self->op, CORE_KIND_ACQUIRED, self->egg, day),
                        pairs, "from", "from", error);
}

static gboolean
name_egg (Egg *self, CoreDay begun, GError **error)
{
  static const char *const settings[] = { "name", NULL };
  char **pairs = self->addition->pairs;
  const char *species = desk_add_value (pairs, "species");
  g_autofree char *series = g_strdup_printf ("%" G_GINT64_FORMAT, self->series);

  if (species == NULL && self->mother != NULL)
    {
      species = desk_subject_state (self->mother->now)->species;
      species = species[0] != '\0' ? species : "unknown";
    }
  return desk_add_species (self->op, self->egg, begun, species, error) &&
         add_code (self->op, self->egg, begun, pairs, 'E', error) &&
         desk_add_given (self->op, self->egg, begun, settings, pairs, error) &&
         desk_add_given (self->op, self->egg, begun, desk_origin_keys, pairs, error) &&
         (self->series == 0 || desk_op_set (self->op, self->egg, begun, "series", series, error));
}

gboolean
desk_add_eggcase (DeskOp *op, const DeskAddition *addition, GError **error)
{
  Egg self = { .op = op, .addition = addition };
  CoreDay begun = addition->day;

  if (!desk_add_check_pairs (addition->pairs, eggcase_keys, error) || !find_mother (&self, error) ||
      !read_laying (&self, error))
    return FALSE;
  self.egg = op->subject = desk_op_new_subject (op, CORE_SUBJECT_EGGCASE);
  write_laid (&self, self.egg);
  if (!write_arrival (&self, error))
    return FALSE;
  for (guint i = 0; i < op->entries->len; i++)
    begun = MIN (begun, ((CoreEntry *) op->entries->pdata[i])->day);
  if (!name_egg (&self, begun, error) ||
      !desk_add_home (op, self.egg, begun, addition->pairs, error))
    return FALSE;
  if (self.mother != NULL)
    write_laid (&self, self.mother->id);
  return TRUE;
}

/* ---- culture ---- */

gboolean
desk_add_culture (DeskOp *op, const DeskAddition *addition, GError **error)
{
  static const char *const settings[] = { "name", NULL };
  char **pairs = addition->pairs;
  CoreDay day = addition->day;
  CoreEntry *entry;

  if (!desk_add_check_pairs (pairs, culture_keys, error) ||
      !desk_add_day_of (op, pairs, "started", &day, error))
    return FALSE;
  if (desk_add_value (pairs, "prey") == NULL)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_CULTURE_PREY, NULL);
      return FALSE;
    }
  op->subject = desk_op_new_subject (op, CORE_SUBJECT_CULTURE);
  entry = desk_op_entry (op, CORE_KIND_CULTURE, op->subject, day);
  return desk_add_copy (op, entry, pairs, "prey", "prey", error) &&
         desk_add_copy (op, entry, pairs, "text", "text", error) &&
         add_code (op, op->subject, day, pairs, 'C', error) &&
         desk_add_given (op, op->subject, day, settings, pairs, error) &&
         desk_add_home (op, op->subject, day, pairs, error);
}
