/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-add.c — a new subject: one round of entries, so that one undo removes it.
 *
 * Numbers are permanent: the next one is above every number ever given, also to
 * the dead and to what was undone. */
#include "desk/desk-add-private.h"

#include <string.h>

static void
addition_free (gpointer data)
{
  DeskAddition *self = data;

  g_strfreev (self->pairs);
  g_free (self);
}

static const char *const animal_keys[] = {
  "species",  "name",         "place",  "at",     "hatched", "acquired",   "stage",
  "scheme",   "moults",       "sex",    "lot",    "number",  "from",       "origin",
  "locality", "species_sure", "mother", "father", "line",    "generation", "hatched_earliest",
  "before",
  NULL
};
static const char *const place_keys[] = { "name",     "code",    "within",    "day_c",
                                          "night_c",  "light_h", "height_mm", "width_mm",
                                          "depth_mm", "heater",  "substrate", "ventilation",
                                          "lid",      "purpose", NULL };

const char *
desk_add_value (char **pairs, const char *key)
{
  gsize length = strlen (key);

  for (char **pair = pairs; *pair != NULL; pair++)
    if (strncmp (*pair, key, length) == 0 && (*pair)[length] == '=')
      return *pair + length + 1;
  return NULL;
}

/* Every pair has a known key, and each once. */
gboolean
desk_add_check_pairs (char **pairs, const char *const *known, GError **error)
{
  for (char **pair = pairs; *pair != NULL; pair++)
    {
      g_autofree char *key = NULL;
      g_autofree char *list = NULL;
      const char *value;

      if (!desk_value_split (*pair, &key, &value, error))
        return FALSE;
      if (!g_strv_contains (known, key))
        {
          g_auto (GStrv) names = desk_strv_copy (known);

          list = g_strjoinv ("=, ", names);
          desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_KEY_UNKNOWN, key, list, NULL);
          return FALSE;
        }
      if (desk_add_value (pairs, key) != value)
        {
          desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_KEY_TWICE, key, NULL);
          return FALSE;
        }
    }
  return TRUE;
}

gboolean
desk_op_set (DeskOp *op,
             CoreId subject,
             CoreDay day,
             const char *key,
             const char *value,
             GError **error)
{
  CoreEntry *entry = desk_op_entry (op, CORE_KIND_SET, subject, day);
  g_autofree char *key_pair = g_strdup_printf ("key=%s", key);
  g_autofree char *value_pair = g_strdup_printf ("value=%s", value);

  return desk_value_set (op->desk, entry, key_pair, error) &&
         desk_value_set (op->desk, entry, value_pair, error) &&
         desk_value_setting_of (op->desk, desk_op_kind_of (op, subject), entry, error);
}

gboolean
desk_add_given (DeskOp *op,
                CoreId subject,
                CoreDay day,
                const char *const *keys,
                char **pairs,
                GError **error)
{
  for (gsize i = 0; keys[i] != NULL; i++)
    {
      const char *value = desk_add_value (pairs, keys[i]);

      if (value != NULL && !desk_op_set (op, subject, day, keys[i], value, error))
        return FALSE;
    }
  return TRUE;
}

/* Copies key=value of the call into the entry, under the entry's own key. */
gboolean
desk_add_copy (DeskOp *op,
               CoreEntry *entry,
               char **pairs,
               const char *from,
               const char *to,
               GError **error)
{
  const char *value = desk_add_value (pairs, from);
  g_autofree char *pair = NULL;

  if (value == NULL)
    return TRUE;
  pair = g_strdup_printf ("%s=%s", to, value);
  return desk_value_set (op->desk, entry, pair, error);
}

gboolean
desk_add_day_of (DeskOp *op, char **pairs, const char *key, CoreDay *day, GError **error)
{
  const char *value = desk_add_value (pairs, key);

  return value == NULL || desk_value_day (op->desk, key, value, day, error);
}

gboolean
desk_add_days_of (DeskOp *op, char **pairs, const char *key, const char *earliest_key, CoreDay *day, CoreDay *earliest,
                  GError **error)
{
  const char *value = desk_add_value (pairs, key);
  DeskWhen when;

  if (earliest_key != NULL && !desk_add_day_of (op, pairs, earliest_key, earliest, error))
    return FALSE;
  if (value == NULL)
    return TRUE;
  if (!desk_value_days (op->desk, key, value, &when, error))
    return FALSE;
  desk_when_span (&when, CORE_KIND_NONE, day, earliest);
  return TRUE;
}

/* Needed; of an unknown one nothing is set. */
gboolean
desk_add_species (DeskOp *op, CoreId subject, CoreDay day, const char *species, GError **error)
{
  if (species == NULL || species[0] == '\0')
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NO_SPECIES, NULL);
      return FALSE;
    }
  return g_ascii_strcasecmp (species, "unknown") == 0 ||
         desk_op_set (op, subject, day, "species", species, error);
}

/* ---- animal ---- */

static gboolean
add_number (DeskOp *op, CoreId subject, CoreDay day, char **pairs, GError **error)
{
  const char *given = desk_add_value (pairs, "number");
  g_autofree char *next = NULL;

  if (given != NULL)
    return desk_op_set (op, subject, day, "number", given, error);
  next = g_strdup_printf ("%" G_GUINT64_FORMAT, op->desk->all.top_number + 1);
  return desk_op_set (op, subject, day, "number", next, error);
}

/* Hatched here, or came from somewhere; without either it is here since nobody knows when,
 * and seen for the first time on that day, in the middle of a stage. */
gboolean
desk_add_beginning (DeskOp *op, CoreId subject, CoreDay day, char **pairs, GError **error)
{
  CoreDay hatched = CORE_DAY_NONE;
  CoreDay earliest = CORE_DAY_NONE;
  CoreDay acquired = CORE_DAY_NONE;
  CoreDay came = CORE_DAY_NONE;
  gboolean stage =
    desk_add_value (pairs, "stage") != NULL || desk_add_value (pairs, "moults") != NULL ||
    desk_add_value (pairs, "scheme") != NULL || desk_add_value (pairs, "from") != NULL;
  CoreEntry *entry;

  if (!desk_add_days_of (op, pairs, "hatched", "hatched_earliest", &hatched, &earliest, error) ||
      !desk_add_days_of (op, pairs, "acquired", NULL, &acquired, &came, error))
    return FALSE;
  /* Some day since then, and found today. */
  if (hatched == CORE_DAY_NONE && earliest != CORE_DAY_NONE)
    hatched = day;
  if (hatched != CORE_DAY_NONE)
    desk_op_entry (op, CORE_KIND_HATCHED, subject, hatched)->earliest = earliest;
  if (hatched != CORE_DAY_NONE && acquired == CORE_DAY_NONE && !stage)
    return TRUE;
  entry =
    desk_op_entry (op, CORE_KIND_ACQUIRED, subject, acquired == CORE_DAY_NONE ? day : acquired);
  entry->earliest = came;
  if (acquired == CORE_DAY_NONE)
    core_entry_set_num (entry, CORE_KEY_KNOWN, 1); /* the word "no" */
  return desk_add_copy (op, entry, pairs, "stage", "stage", error) &&
         desk_add_copy (op, entry, pairs, "scheme", "scheme", error) &&
         desk_add_copy (op, entry, pairs, "moults", "moults", error) &&
         desk_add_copy (op, entry, pairs, "from", "from", error);
}

CoreDay
desk_add_first_day (DeskOp *op, CoreDay day)
{
  for (guint i = 0; i < op->entries->len; i++)
    {
      CoreEntry *entry = op->entries->pdata[i];

      if (entry->kind == CORE_KIND_ACQUIRED)
        return entry->day;
      if (entry->kind == CORE_KIND_HATCHED)
        day = entry->day;
    }
  return day;
}

/* Before another cup, on its shelf where none is named. */
static gboolean
add_before (DeskOp *op, CoreEntry *housed, const char *cup, GError **error)
{
  g_autoptr (DeskSubject) next = desk_find (op->desk, cup, error);
  CoreId place = core_entry_ref (housed, CORE_KEY_PLACE);
  double at;

  if (next == NULL)
    return FALSE;
  if (core_id_is_none (place) && desk_subject_place (next, &place, NULL))
    core_entry_set_ref (housed, CORE_KEY_PLACE, place);
  if (!desk_position_before (op->desk, housed->subject, place, desk_subject_id (next), &at, error))
    return FALSE;
  core_entry_set_num (housed, CORE_KEY_AT, at);
  return TRUE;
}

/* At the end of the shelf unless said otherwise. */
gboolean
desk_add_home (DeskOp *op, CoreId subject, CoreDay day, char **pairs, GError **error)
{
  const char *before = desk_add_value (pairs, "before");
  CoreEntry *entry;

  if (desk_add_value (pairs, "place") == NULL && desk_add_value (pairs, "at") == NULL && before == NULL)
    return TRUE;
  entry = desk_op_entry (op, CORE_KIND_HOUSED, subject, desk_add_first_day (op, day));
  if (!desk_add_copy (op, entry, pairs, "place", "place", error) ||
      !desk_add_copy (op, entry, pairs, "at", "at", error))
    return FALSE;
  if (before != NULL)
    return add_before (op, entry, before, error);
  if (core_entry_get (entry, CORE_KEY_AT) != NULL)
    return TRUE;
  core_entry_set_num (entry, CORE_KEY_AT,
                      desk_position_last (op->desk, core_entry_ref (entry, CORE_KEY_PLACE)) + 1);
  return TRUE;
}

static gboolean
add_claim (DeskOp *op, CoreId subject, CoreDay day, char **pairs, GError **error)
{
  CoreEntry *entry;

  if (desk_add_value (pairs, "sex") == NULL)
    return TRUE;
  entry = desk_op_entry (op, CORE_KIND_SEXED, subject, desk_add_first_day (op, day));
  core_entry_set_num (entry, CORE_KEY_METHOD, CORE_METHOD_CLAIM);
  return desk_add_copy (op, entry, pairs, "sex", "sex", error);
}

static gboolean
add_animal (DeskOp *op, const DeskAddition *addition, GError **error)
{
  static const char *const settings[] = { "name", "lot", NULL };
  char **pairs = addition->pairs;
  const char *species = desk_add_value (pairs, "species");
  CoreDay day = addition->day;
  CoreDay begun = day;
  CoreId subject;

  if (!desk_add_check_pairs (pairs, animal_keys, error))
    return FALSE;
  subject = desk_op_new_subject (op, CORE_SUBJECT_ANIMAL);
  op->subject = subject;
  if (!desk_add_beginning (op, subject, day, pairs, error))
    return FALSE;
  /* What it is called holds from its first day on. */
  begun = desk_add_first_day (op, day);
  if (!desk_add_species (op, subject, begun, species, error))
    return FALSE;
  return add_number (op, subject, begun, pairs, error) &&
         desk_add_given (op, subject, begun, settings, pairs, error) &&
         desk_add_given (op, subject, begun, desk_origin_keys, pairs, error) &&
         desk_add_home (op, subject, day, pairs, error) &&
         add_claim (op, subject, day, pairs, error);
}

/* ---- place ---- */

/* A name that is given says something. */
static gboolean
is_named (char **pairs)
{
  const char *name = desk_add_value (pairs, "name");

  if (name == NULL)
    return desk_add_value (pairs, "code") != NULL;
  return name[strspn (name, " \t")] != '\0';
}

static gboolean
add_place (DeskOp *op, const DeskAddition *addition, GError **error)
{
  if (!desk_add_check_pairs (addition->pairs, place_keys, error))
    return FALSE;
  if (!is_named (addition->pairs))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PLACE_NAMELESS, NULL);
      return FALSE;
    }
  op->subject = desk_op_new_subject (op, CORE_SUBJECT_PLACE);
  return desk_add_given (op, op->subject, addition->day, place_keys, addition->pairs, error);
}

/* ---- the verb ---- */

static gboolean
prepare_add (Desk *self, DeskOp *op, GError **error)
{
  const DeskAddition *addition = op->data;
  gboolean ok = FALSE;

  if (addition->kind == CORE_SUBJECT_ANIMAL)
    ok = add_animal (op, addition, error);
  else if (addition->kind == CORE_SUBJECT_PLACE)
    ok = add_place (op, addition, error);
  else if (addition->kind == CORE_SUBJECT_LOT)
    ok = desk_add_lot (op, addition, error);
  else if (addition->kind == CORE_SUBJECT_EGGCASE)
    ok = desk_add_eggcase (op, addition, error);
  else
    ok = desk_add_culture (op, addition, error);
  return ok && desk_op_check (op, error);
}

void
desk_add_async (Desk *self,
                CoreSubjectKind kind,
                const char *const *pairs,
                CoreDay day,
                GCancellable *cancellable,
                GAsyncReadyCallback callback,
                gpointer data)
{
  DeskAddition *addition = g_new0 (DeskAddition, 1);

  addition->kind = kind;
  addition->pairs = desk_strv_copy (pairs);
  addition->day = day == CORE_DAY_NONE ? self->today : day;
  desk_op_start (self, prepare_add, prepare_add, addition, addition_free, cancellable, callback,
                 data);
}

DeskSubject *
desk_add_finish (Desk *self, GAsyncResult *result, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_add, error);

  return op == NULL ? NULL : desk_get (self, op->subject);
}
