/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-setting.c — the keys of `set`, and what each of them takes.
 *
 * Invariant: a key that nobody reads is not kept, and a value that nobody can read is
 * refused here rather than passed over later. */
#include "desk/desk-private.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "words/words.h"

/* The rules that can be done or put off, or have an interval of their own. */
gboolean
desk_value_task_ok (const char *name, GError **error)
{
  GString *known;
  g_autofree char *list = NULL;

  if (core_task_from_name (name) != CORE_N_TASKS)
    return TRUE;
  known = g_string_new (NULL);
  for (int i = 0; i < CORE_N_TASKS; i++)
    g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", core_task_name ((CoreTaskKind) i));
  list = g_string_free (known, FALSE);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NO_TASK, name, list, NULL);
  return FALSE;
}

typedef enum
{
  SETTING_TEXT,
  SETTING_NUMBER, /* of the cup */
  SETTING_CODE,
  SETTING_SPECIES,
  SETTING_SUBJECT, /* of `wants` */
  SETTING_REAL,
  SETTING_WHOLE, /* a number without a fraction */
  SETTING_WORD,  /* one of `words` */
  SETTING_DAY
} SettingType;

typedef struct
{
  const char *key;
  SettingType type;
  CoreSubjectKind wants;
  double min, max;
  gsize longest; /* bytes that the state keeps */
  const char *words;
} Setting;

/* Every key of `set`, but for those of a family: an empty word takes the setting away. */
static const Setting settings[] = {
  { "species", SETTING_SPECIES, CORE_SUBJECT_NONE, 0, 0, 79 },
  { "number", SETTING_NUMBER, CORE_SUBJECT_NONE, 0, 0, 11 },
  { "name", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 79 },
  { "code", SETTING_CODE, CORE_SUBJECT_NONE, 0, 0, 23 },
  { "lot", SETTING_SUBJECT, CORE_SUBJECT_LOT, 0, 0, 0 },
  { "within", SETTING_SUBJECT, CORE_SUBJECT_PLACE, 0, 0, 0 },
  { "eggcase", SETTING_SUBJECT, CORE_SUBJECT_EGGCASE, 0, 0, 0 },
  { "mother", SETTING_SUBJECT, CORE_SUBJECT_ANIMAL, 0, 0, 0 },
  { "father", SETTING_SUBJECT, CORE_SUBJECT_ANIMAL, 0, 0, 0 },
  { "series", SETTING_WHOLE, CORE_SUBJECT_NONE, 1, 1000, 0 },
  { "origin", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0,
    "wild_caught, captive_bred, captive_hatched, unknown" },
  { "locality", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 79 },
  { "species_sure", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "sure, likely, doubtful" },
  { "line", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 39 },
  { "generation", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 39 },
  { "scheme", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "1, 2" },
  { "purpose", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "none, pairing, sale" },
  { "ahead", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "yes, no" },
  { "gravid", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "yes, no" },
  { "rest", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "yes, no" },
  { "sex_check", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "none, not_needed" },
  { "demo", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "yes, no" },
  { "demo_day", SETTING_DAY, CORE_SUBJECT_NONE, 0, 0, 0 },
  { "day_c", SETTING_REAL, CORE_SUBJECT_NONE, -20, 60, 0 },
  { "night_c", SETTING_REAL, CORE_SUBJECT_NONE, -20, 60, 0 },
  { "light_h", SETTING_REAL, CORE_SUBJECT_NONE, 0, 24, 0 },
  { "height_mm", SETTING_REAL, CORE_SUBJECT_NONE, 1, 5000, 0 },
  { "width_mm", SETTING_REAL, CORE_SUBJECT_NONE, 1, 5000, 0 },
  { "depth_mm", SETTING_REAL, CORE_SUBJECT_NONE, 1, 5000, 0 },
  { "heater", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 23 },
  { "substrate", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 23 },
  { "ventilation", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "closed, lid, side, chimney, mesh" },
  { "lid", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "cloth, mesh, plastic, glass, metal, none" },
};

/* What a place is for. */
static const Setting place_purpose = { "purpose",
                                       SETTING_WORD,
                                       CORE_SUBJECT_PLACE,
                                       0,
                                       0,
                                       0,
                                       "none, rearing, pairing, eggs, quarantine, feeders, sale" };

/* caution.NAME switches one caution off and on again. */
static const Setting caution = { "caution.", SETTING_WORD, CORE_SUBJECT_NONE, 0, 0, 0, "on, off" };

static const char *
after_prefix (const char *key, const char *prefix)
{
  return g_str_has_prefix (key, prefix) ? key + strlen (prefix) : NULL;
}

static gboolean
is_caution (const char *name)
{
  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    if (strcmp (words_caution_id ((WordsCaution) i), name) == 0)
      return TRUE;
  return FALSE;
}

static const Setting *
find_setting (const char *key)
{
  const char *name = after_prefix (key, caution.key);

  if (name != NULL && is_caution (name))
    return &caution;
  for (gsize i = 0; i < G_N_ELEMENTS (settings); i++)
    if (strcmp (settings[i].key, key) == 0)
      return &settings[i];
  return NULL;
}

static char *
setting_real (const Setting *setting, const char *value, GError **error)
{
  double number = 0;
  char low[32], high[32];

  if (value[0] == '\0') /* not said any more */
    return g_strdup ("");
  if (core_number_parse (value, &number) && number >= setting->min && number <= setting->max &&
      (setting->type != SETTING_WHOLE || number == floor (number)))
    return g_strdup (value);
  core_number_format (setting->min, 3, low);
  core_number_format (setting->max, 3, high);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BAD_REAL, setting->key, value, low,
             high, NULL);
  return NULL;
}

static char *
setting_day (Desk *self, const char *key, const char *value, GError **error)
{
  char text[11];
  CoreDay day;

  if (!desk_value_day (self, key, value, &day, error))
    return NULL;
  core_day_to_text (day, text);
  return g_strdup (text);
}

/* A rest that its kind does not have would make the silence of one in danger look right. */
static char *
setting_rest (Desk *self, CoreId subject, CoreSubjectKind kind, char *value, GError **error)
{
  g_autofree char *taken = value;
  g_autoptr (DeskSubject) now = desk_get (self, subject);
  gboolean asked = value != NULL && strcmp (value, "yes") == 0 &&
                   (kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT);

  if (!asked || now == NULL || desk_subject_profile (now)->winter_rest)
    return g_steal_pointer (&taken);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE,
             desk_subject_species_known (now) ? WORDS_DESK_NO_REST : WORDS_DESK_REST_UNKNOWN,
             desk_subject_profile (now)->scientific, NULL);
  return NULL;
}

static char *
setting_word (const Setting *setting, const char *key, const char *value, GError **error)
{
  g_auto (GStrv) words = g_strsplit (setting->words, ", ", -1);

  if (value[0] == '\0' || g_strv_contains ((const char *const *) words, value))
    return g_strdup (value);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SETTING_WORD, key, value,
             setting->words, NULL);
  return NULL;
}

/* interval.TASK: the keeper's own days. */
static char *
setting_interval (const char *key, const char *task, const char *value, GError **error)
{
  double a, b;

  if (!desk_value_task_ok (task, error))
    return NULL;
  if (value[0] == '\0' || core_interval_parse (value, &a, &b))
    return g_strdup (value);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_INTERVAL, key, value, NULL);
  return NULL;
}

static char *
no_setting (const char *key, GError **error)
{
  GString *known = g_string_new (NULL);
  g_autofree char *list = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (settings); i++)
    g_string_append_printf (known, "%s, ", settings[i].key);
  g_string_append (known, "interval.TASK");
  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    g_string_append_printf (known, ", %s%s", caution.key, words_caution_id ((WordsCaution) i));
  list = g_string_free (known, FALSE);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SETTING_UNKNOWN, key, list, NULL);
  return NULL;
}

static char *
setting_number (Desk *self, CoreId subject, const char *value, GError **error)
{
  if (!desk_value_number_ok (value))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NUMBER_FORM, value, NULL);
  else if (desk_number_is_given (self, subject, value))
    desk_fail (error, DESK_ERROR, DESK_ERROR_EXISTS, WORDS_DESK_NUMBER_GIVEN, value, NULL);
  else
    return g_strdup (value);
  return NULL;
}

/* Once given to a lot, an egg case or a culture, never to another. */
static gboolean
code_was_given (Desk *self, CoreId subject, const char *value)
{
  const CoreId *owner = desk_code_owner (&self->all, value);
  const DeskRecord *record = owner != NULL ? desk_collection_record (&self->all, *owner) : NULL;

  return record != NULL && !core_id_equal (*owner, subject) &&
         desk_code_is_permanent (record->kind);
}

/* A place keeps a name or a code. */
static char *
setting_name (Desk *self, CoreId subject, CoreSubjectKind kind, const char *value, GError **error)
{
  g_autoptr (DeskSubject) now = desk_get (self, subject);

  if (kind != CORE_SUBJECT_PLACE || now == NULL || value[strspn (value, " \t")] != '\0' ||
      desk_subject_state (now)->code[0] != '\0')
    return g_strdup (value);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PLACE_NAMELESS, NULL);
  return NULL;
}

static gboolean
is_round_word (WordsLang lang, const char *value)
{
  gsize n;
  const CoreRoundTerm *terms = words_round_terms (lang, &n);
  g_autofree char *folded = g_utf8_casefold (value, -1);

  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *term = g_utf8_casefold (terms[i].text, -1);

      if (g_utf8_strlen (term, -1) > 1 && strcmp (term, folded) == 0)
        return TRUE;
    }
  return FALSE;
}

/* A lot is called by its code in a round: it is neither a number of a cup nor a word of the line. */
static WordsDeskProblem
code_problem (CoreSubjectKind kind, const char *value)
{
  gsize digits = strspn (value, "0123456789");

  if (value[0] == '\0' || strpbrk (value, " \t\n;,:\"'") != NULL)
    return WORDS_DESK_CODE_FORM;
  if (!desk_code_is_permanent (kind))
    return WORDS_N_DESK;
  if (digits > 0 && (value[digits] == '\0' || value[digits + 1] == '\0'))
    return WORDS_DESK_CODE_NUMBER;
  return is_round_word (WORDS_ENGLISH, value) || is_round_word (WORDS_LOCAL, value) ? WORDS_DESK_CODE_WORD : WORDS_N_DESK;
}

static char *
setting_code (Desk *self, CoreId subject, CoreSubjectKind kind, const char *value, GError **error)
{
  WordsDeskProblem problem = code_problem (kind, value);

  if (problem != WORDS_N_DESK)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, problem, value, NULL);
      return NULL;
    }
  if (code_was_given (self, subject, value))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_EXISTS, WORDS_DESK_CODE_GIVEN, value, NULL);
      return NULL;
    }
  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];

      if (record->now == NULL || core_id_equal (record->id, subject) ||
          !desk_subject_state (record->now)->exists ||
          g_ascii_strcasecmp (desk_subject_state (record->now)->code, value) != 0)
        continue;
      desk_fail (error, DESK_ERROR, DESK_ERROR_EXISTS, WORDS_DESK_CODE_TAKEN, value, NULL);
      return NULL;
    }
  return g_strdup (value);
}

static char *
setting_species (Desk *self, const char *value, GError **error)
{
  GError *missing = NULL;
  const CoreProfile *profile = desk_find_profile (self, value, &missing);
  char *own = NULL;

  if (profile == NULL)
    {
      if (g_error_matches (missing, DESK_ERROR, DESK_ERROR_NOT_FOUND))
        own = desk_kind_own (self, value);
      if (own == NULL)
        g_propagate_error (error, missing);
      else
        g_clear_error (&missing);
      return own;
    }
  return g_strdup (profile->general ? "" : profile->scientific);
}

/* Would `within` make a place lie within itself? */
static gboolean
within_itself (Desk *self, CoreId subject, CoreId outer)
{
  for (guint i = 0; i <= self->all.order->len && !core_id_is_none (outer); i++)
    {
      DeskRecord *record = desk_collection_record (&self->all, outer);

      if (core_id_equal (outer, subject))
        return TRUE;
      if (record == NULL || record->now == NULL)
        return FALSE;
      outer = desk_subject_state (record->now)->place.within;
    }
  return FALSE;
}

/* Would that parent be a child of its own child? Follows all parents, each once. */
static gboolean
own_ancestor (Desk *self, CoreId subject, CoreId parent)
{
  static const char *const keys[] = { "mother", "father" };
  g_autoptr (GHashTable) seen = desk_id_set_new ();
  g_autoptr (GArray) left = g_array_new (FALSE, FALSE, sizeof (CoreId));

  g_array_append_val (left, parent);
  while (left->len > 0)
    {
      CoreId id = g_array_index (left, CoreId, left->len - 1);
      DeskRecord *record = desk_collection_record (&self->all, id);

      g_array_set_size (left, left->len - 1);
      if (core_id_equal (id, subject))
        return TRUE;
      if (g_hash_table_contains (seen, &id) || record == NULL || record->now == NULL)
        continue;
      desk_id_set_add (seen, id);
      for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
        {
          const char *value = core_state_setting (desk_subject_state (record->now), keys[i]);

          if (value != NULL && core_id_from_text (value, &id))
            g_array_append_val (left, id);
        }
    }
  return FALSE;
}

static WordsDeskProblem
not_a (CoreSubjectKind kind)
{
  switch ((int) kind)
    {
    case CORE_SUBJECT_LOT:
      return WORDS_DESK_NOT_A_LOT;
    case CORE_SUBJECT_ANIMAL:
      return WORDS_DESK_NOT_AN_ANIMAL;
    case CORE_SUBJECT_EGGCASE:
      return WORDS_DESK_NOT_AN_EGGCASE;
    default:
      return WORDS_DESK_NOT_A_PLACE;
    }
}

static char *
setting_subject (Desk *self,
                 CoreId subject,
                 const Setting *setting,
                 const char *value,
                 GError **error)
{
  DeskRecord *record;
  char text[37];

  if (value[0] == '\0' && setting->wants != CORE_SUBJECT_PLACE)
    return g_strdup ("");
  record = desk_find_record (self, value, FALSE, error);
  if (record == NULL)
    return NULL;
  if (record->kind != setting->wants)
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, not_a (setting->wants), value, NULL);
  else if (setting->wants == CORE_SUBJECT_ANIMAL && own_ancestor (self, subject, record->id))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_OWN_ANCESTOR, value, NULL);
  else if (setting->wants == CORE_SUBJECT_PLACE && within_itself (self, subject, record->id))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_WITHIN_ITSELF, value, NULL);
  else
    {
      core_id_to_text (record->id, text);
      return g_strdup (text);
    }
  return NULL;
}

char *
desk_value_setting (Desk *self,
                    CoreId subject,
                    CoreSubjectKind kind,
                    const char *key,
                    const char *value,
                    GError **error)
{
  const Setting *setting = kind == CORE_SUBJECT_PLACE && strcmp (key, "purpose") == 0
                             ? &place_purpose
                             : find_setting (key);
  const char *task = after_prefix (key, "interval.");

  if (strlen (key) > 23 || key[0] == '\0')
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SETTING_KEY, key, NULL);
      return NULL;
    }
  if (task != NULL)
    return setting_interval (key, task, value, error);
  if (setting == NULL)
    return no_setting (key, error);
  if (setting->longest > 0 && strlen (value) > setting->longest)
    {
      g_autofree char *most = g_strdup_printf ("%u", (guint) setting->longest);

      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_TOO_LONG, key, most, NULL);
      return NULL;
    }
  switch (setting->type)
    {
    case SETTING_NUMBER:
      return setting_number (self, subject, value, error);
    case SETTING_CODE:
      return setting_code (self, subject, kind, value, error);
    case SETTING_SPECIES:
      return setting_species (self, value, error);
    case SETTING_SUBJECT:
      return setting_subject (self, subject, setting, value, error);
    case SETTING_REAL:
    case SETTING_WHOLE:
      return setting_real (setting, value, error);
    case SETTING_WORD:
      return strcmp (key, "rest") == 0
               ? setting_rest (self, subject, kind, setting_word (setting, key, value, error), error)
               : setting_word (setting, key, value, error);
    case SETTING_DAY:
      return setting_day (self, key, value, error);
    case SETTING_TEXT:
    default:
      return strcmp (key, "name") == 0 ? setting_name (self, subject, kind, value, error)
                                       : g_strdup (value);
    }
}
