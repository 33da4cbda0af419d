/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-value.c — what a person typed, checked and brought to the form in which it is kept.
 *
 * Invariant: nothing passes here that the fold cannot read: species by their
 * full scientific name, subjects by id, numbers with '.', days as days. */
#include "desk/desk-private.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-date.h"
#include "words/words.h"

typedef struct
{
  CoreRefusal refusal;
} DeskErrorPrivate;

static void
desk_error_private_init (DeskErrorPrivate *priv)
{
  priv->refusal = CORE_REFUSE_NOTHING;
}

static void
desk_error_private_copy (const DeskErrorPrivate *from, DeskErrorPrivate *to)
{
  *to = *from;
}

static void
desk_error_private_clear (DeskErrorPrivate *priv)
{
}

/* The macro of GLib 2.74 casts const away. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wcast-qual"
G_DEFINE_EXTENDED_ERROR (DeskError, desk_error)
#pragma GCC diagnostic pop

CoreRefusal
desk_error_refusal (const GError *error)
{
  return g_error_matches (error, DESK_ERROR, DESK_ERROR_REFUSED)
           ? desk_error_get_private (error)->refusal
           : CORE_REFUSE_NOTHING;
}

/* ---- messages ---- */

void
desk_fail (GError **error, GQuark domain, int code, WordsDeskProblem problem, ...)
{
  const char *args[5] = { NULL };
  g_autofree char *text = NULL;
  va_list list;

  va_start (list, problem);
  for (gsize i = 0; i + 1 < G_N_ELEMENTS (args); i++)
    if ((args[i] = va_arg (list, const char *)) == NULL)
      break;
  va_end (list);
  text = words_desk_problem (WORDS_LOCAL, problem, args);
  g_set_error_literal (error, domain, code, text);
}

static const WordsView plain = { WORDS_LOCAL, CORE_DAY_NONE, 1 };

void
desk_refuse (GError **error, CoreRefusal refusal, const CoreState *state, const CoreEntry *entry)
{
  g_autofree char *text = words_refusal (&plain, refusal, state, entry);

  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_REFUSED, text);
  if (error != NULL)
    desk_error_get_private (*error)->refusal = refusal;
}

static void
value_error (GError **error,
             const CoreEntry *entry,
             const char *key,
             const char *value,
             CoreValueStatus status)
{
  g_autofree char *text =
    words_value_problem (WORDS_LOCAL, status, entry->kind, core_kind_key_by_name (entry->kind, key),
                         key, value);

  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_VALUE, text);
}

/* ---- pieces ---- */

char **
desk_strv_copy (const char *const *strings)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  for (gsize i = 0; strings != NULL && strings[i] != NULL; i++)
    g_strv_builder_add (builder, strings[i]);
  return g_strv_builder_end (builder);
}

gboolean
desk_value_split (const char *pair, char **key, const char **value, GError **error)
{
  const char *equals = strchr (pair, '=');

  if (equals == NULL || equals == pair)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NO_PAIR, pair, NULL);
      return FALSE;
    }
  *key = g_strndup (pair, (gsize) (equals - pair));
  *value = equals + 1;
  return TRUE;
}

gboolean
desk_value_day (const char *key, const char *value, CoreDay *out, GError **error)
{
  *out = core_day_from_text (value);
  if (*out != CORE_DAY_NONE)
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BAD_DAY, key, value, NULL);
  return FALSE;
}

/* Digits, then at most two letters: what fits on a sticker and sorts. */
gboolean
desk_value_number_ok (const char *number)
{
  gsize digits = strspn (number, "0123456789");
  gsize letters = strspn (number + digits, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ");

  return digits >= 1 && digits <= 8 && letters <= 2 && number[digits + letters] == '\0' &&
         number[0] != '0';
}

/* ---- settings ---- */

typedef enum
{
  SETTING_TEXT,
  SETTING_NUMBER, /* of the cup */
  SETTING_CODE,
  SETTING_SPECIES,
  SETTING_SUBJECT, /* of `wants` */
  SETTING_REAL,
  SETTING_SCHEME
} SettingType;

typedef struct
{
  const char *key;
  SettingType type;
  CoreSubjectKind wants;
  double min, max;
  gsize longest; /* bytes that the state keeps */
} Setting;

/* The keys of `set` whose values the program reads; all others are kept as they are. */
static const Setting settings[] = {
  { "species", SETTING_SPECIES, CORE_SUBJECT_NONE, 0, 0, 79 },
  { "number", SETTING_NUMBER, CORE_SUBJECT_NONE, 0, 0, 11 },
  { "name", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 79 },
  { "code", SETTING_CODE, CORE_SUBJECT_NONE, 0, 0, 23 },
  { "lot", SETTING_SUBJECT, CORE_SUBJECT_LOT, 0, 0, 0 },
  { "within", SETTING_SUBJECT, CORE_SUBJECT_PLACE, 0, 0, 0 },
  { "scheme", SETTING_SCHEME, CORE_SUBJECT_NONE, 0, 0, 0 },
  { "day_c", SETTING_REAL, CORE_SUBJECT_NONE, -20, 60, 0 },
  { "night_c", SETTING_REAL, CORE_SUBJECT_NONE, -20, 60, 0 },
  { "light_h", SETTING_REAL, CORE_SUBJECT_NONE, 0, 24, 0 },
  { "height_mm", SETTING_REAL, CORE_SUBJECT_NONE, 1, 5000, 0 },
  { "width_mm", SETTING_REAL, CORE_SUBJECT_NONE, 1, 5000, 0 },
  { "depth_mm", SETTING_REAL, CORE_SUBJECT_NONE, 1, 5000, 0 },
  { "heater", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 23 },
  { "substrate", SETTING_TEXT, CORE_SUBJECT_NONE, 0, 0, 23 },
};

static const Setting *
find_setting (const char *key)
{
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

  if (core_number_parse (value, &number) && number >= setting->min && number <= setting->max)
    return g_strdup (value);
  core_number_format (setting->min, 3, low);
  core_number_format (setting->max, 3, high);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BAD_REAL, setting->key, value, low,
             high, NULL);
  return NULL;
}

static char *
setting_number (Desk *self, CoreId subject, const char *value, GError **error)
{
  g_autofree char *folded = g_ascii_strdown (value, -1);
  const CoreId *owner = g_hash_table_lookup (self->all.numbers, folded);

  if (!desk_value_number_ok (value))
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NUMBER_FORM, value, NULL);
  else if (owner != NULL && !core_id_equal (*owner, subject))
    desk_fail (error, DESK_ERROR, DESK_ERROR_EXISTS, WORDS_DESK_NUMBER_GIVEN, value, NULL);
  else
    return g_strdup (value);
  return NULL;
}

static char *
setting_code (Desk *self, CoreId subject, const char *value, GError **error)
{
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
  if (strchr (value, ' ') == NULL && value[0] != '\0')
    return g_strdup (value);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_CODE_FORM, value, NULL);
  return NULL;
}

static char *
setting_species (Desk *self, const char *value, GError **error)
{
  const CoreProfile *profile = desk_find_profile (self, value, error);

  if (profile == NULL)
    return NULL;
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

static char *
setting_subject (Desk *self,
                 CoreId subject,
                 const Setting *setting,
                 const char *value,
                 GError **error)
{
  DeskRecord *record = desk_find_record (self, value, FALSE, error);
  char text[37];

  if (record == NULL)
    return NULL;
  if (record->kind != setting->wants)
    desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE,
               setting->wants == CORE_SUBJECT_LOT ? WORDS_DESK_NOT_A_LOT : WORDS_DESK_NOT_A_PLACE,
               value, NULL);
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
  const Setting *setting = find_setting (key);

  if (strlen (key) > 23 || key[0] == '\0')
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SETTING_KEY, key, NULL);
      return NULL;
    }
  if (setting == NULL)
    return g_strdup (value);
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
      return setting_code (self, subject, value, error);
    case SETTING_SPECIES:
      return setting_species (self, value, error);
    case SETTING_SUBJECT:
      return setting_subject (self, subject, setting, value, error);
    case SETTING_REAL:
      return setting_real (setting, value, error);
    case SETTING_SCHEME:
      if (strcmp (value, "1") == 0 || strcmp (value, "2") == 0)
        return g_strdup (value);
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_SCHEME, value, NULL);
      return NULL;
    case SETTING_TEXT:
    default:
      return g_strdup (value);
    }
}

/* ---- into an entry ---- */

/* place=Shelf-A, partner=14: what a person calls a subject; ids pass as they are. */
static char *
resolve_ref (Desk *self, const CoreKindKey *row, const char *value, GError **error)
{
  DeskRecord *record;
  CoreId id;
  char text[37];

  if (core_id_from_text (value, &id))
    {
      const CoreEntry *photo = desk_collection_entry (&self->all, id);

      if (row->key == CORE_KEY_PHOTO ? photo != NULL && photo->kind == CORE_KIND_PHOTO
                                     : desk_collection_record (&self->all, id) != NULL)
        return g_strdup (value);
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND,
                 row->key == CORE_KEY_PHOTO ? WORDS_DESK_NO_PHOTO : WORDS_DESK_NO_SUBJECT, NULL);
      return NULL;
    }
  if (row->key == CORE_KEY_PHOTO)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PHOTO_ID, value, NULL);
      return NULL;
    }
  record = desk_find_record (self, value, FALSE, error);
  if (record == NULL)
    return NULL;
  if (row->key == CORE_KEY_PLACE && record->kind != CORE_SUBJECT_PLACE)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_A_PLACE, value, NULL);
      return NULL;
    }
  core_id_to_text (record->id, text);
  return g_strdup (text);
}

gboolean
desk_value_set (Desk *self, CoreEntry *entry, const char *pair, GError **error)
{
  g_autofree char *key = NULL;
  g_autofree char *stored = NULL;
  const char *value;
  const CoreKindKey *row;
  CoreValueStatus status;

  if (!desk_value_split (pair, &key, &value, error))
    return FALSE;
  row = core_kind_key_by_name (entry->kind, key);
  if (row != NULL && row->type == CORE_VALUE_REF)
    stored = resolve_ref (self, row, value, error);
  else
    stored = g_strdup (value);
  if (stored == NULL)
    return FALSE;
  status = core_entry_set_text (entry, key, stored);
  if (status == CORE_VALUE_OK)
    return TRUE;
  if (status == CORE_VALUE_NO_MEMORY)
    g_error ("out of memory");
  value_error (error, entry, key, value, status);
  return FALSE;
}

gboolean
desk_value_complete (const CoreEntry *entry, GError **error)
{
  const CoreKindKey *missing = NULL;
  g_autofree char *text = NULL;

  if (core_entry_complete (entry, &missing) == CORE_VALUE_OK)
    return TRUE;
  text = words_value_problem (WORDS_LOCAL, CORE_VALUE_MISSING, entry->kind, missing,
                              missing != NULL ? missing->name : NULL, NULL);
  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_VALUE, text);
  return FALSE;
}

void
desk_value_remove (CoreEntry *entry, CoreKey key)
{
  for (size_t i = 0; i < entry->n_values; i++)
    if (entry->values[i].key == key)
      {
        free (entry->values[i].text);
        memmove (&entry->values[i], &entry->values[i + 1],
                 (entry->n_values - i - 1) * sizeof entry->values[0]);
        entry->n_values--;
        return;
      }
}

gboolean
desk_value_setting_of (Desk *self, CoreSubjectKind kind, CoreEntry *entry, GError **error)
{
  g_autofree char *stored = NULL;
  CoreValueStatus status;

  if (entry->kind != CORE_KIND_SET || core_entry_get (entry, CORE_KEY_KEY) == NULL ||
      core_entry_get (entry, CORE_KEY_VALUE) == NULL)
    return TRUE;
  stored = desk_value_setting (self, entry->subject, kind, core_entry_str (entry, CORE_KEY_KEY),
                               core_entry_str (entry, CORE_KEY_VALUE), error);
  if (stored == NULL)
    return FALSE;
  desk_value_remove (entry, CORE_KEY_VALUE);
  status = core_entry_set_str (entry, CORE_KEY_VALUE, stored);
  if (status != CORE_VALUE_OK)
    value_error (error, entry, "value", stored, status);
  return status == CORE_VALUE_OK;
}

int
desk_minute_from_text (const char *text)
{
  int hour, minute;

  if (strlen (text) != 5 || text[2] != ':' || !g_ascii_isdigit (text[0]) ||
      !g_ascii_isdigit (text[1]) || !g_ascii_isdigit (text[3]) || !g_ascii_isdigit (text[4]))
    return -2;
  hour = (text[0] - '0') * 10 + text[1] - '0';
  minute = (text[3] - '0') * 10 + text[4] - '0';
  return hour < 24 && minute < 60 ? hour * 60 + minute : -2;
}
