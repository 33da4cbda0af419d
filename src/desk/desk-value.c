/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-value.c — what a person typed, checked and brought to the form in which it is kept.
 *
 * Invariant: nothing passes here that the fold cannot read: species by their
 * full scientific name, subjects by id, numbers with '.', days as days. */
#include "desk/desk-private.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "desk/desk-when.h"
#include "words/words.h"

typedef struct
{
  CoreRefusal refusal;
  char *key; /* of the value that was not accepted; NULL = none named */
  char *value;
} DeskErrorPrivate;

static void
desk_error_private_init (DeskErrorPrivate *priv)
{
  priv->refusal = CORE_REFUSE_NOTHING;
}

static void
desk_error_private_copy (const DeskErrorPrivate *from, DeskErrorPrivate *to)
{
  to->refusal = from->refusal;
  to->key = g_strdup (from->key);
  to->value = g_strdup (from->value);
}

static void
desk_error_private_clear (DeskErrorPrivate *priv)
{
  g_free (priv->key);
  g_free (priv->value);
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

const char *
desk_error_key (const GError *error, const char **value)
{
  const DeskErrorPrivate *priv =
    error->domain == DESK_ERROR ? desk_error_get_private (error) : NULL;

  *value = priv != NULL && priv->value != NULL ? priv->value : "";
  return priv != NULL ? priv->key : NULL;
}

/* ---- messages ---- */

static void
name_value (GError **error, const char *key, const char *value)
{
  DeskErrorPrivate *priv = error != NULL ? desk_error_get_private (*error) : NULL;

  if (priv == NULL)
    return;
  priv->key = g_strdup (key);
  priv->value = g_strdup (value);
}

/* Their sentence begins with the key. */
static gboolean
names_key (WordsDeskProblem problem)
{
  return problem == WORDS_DESK_BAD_DAY || problem == WORDS_DESK_BAD_REAL ||
         problem == WORDS_DESK_SETTING_WORD || problem == WORDS_DESK_INTERVAL ||
         problem == WORDS_DESK_TOO_LONG;
}

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
  if (domain == DESK_ERROR && names_key (problem))
    name_value (error, args[0], args[1]);
}

static const WordsView plain = { WORDS_LOCAL, CORE_DAY_NONE, 1 };

void
desk_refuse (GError **error, CoreRefusal refusal, const CoreState *state, const CoreEntry *entry)
{
  g_autofree char *text = words_refusal (&plain, refusal, state, entry);

  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_REFUSED, text);
  if (error != NULL)
    desk_error_get_private (*error)->refusal = refusal;
  if (refusal == CORE_REFUSE_NO_STAGE)
    name_value (error, "stage", core_entry_str (entry, CORE_KEY_STAGE));
}

static void
value_error (GError **error,
             const CoreEntry *entry,
             const char *key,
             const char *value,
             CoreValueStatus status)
{
  const char *detail = core_entry_str (entry, CORE_KEY_KEY);
  /* Of a detail its own name is said: nobody typed "value". */
  const char *name =
    entry->kind == CORE_KIND_SET && strcmp (key, "value") == 0 && detail[0] != '\0' ? detail : key;
  g_autofree char *text =
    words_value_problem (WORDS_LOCAL, status, entry->kind, core_kind_key_by_name (entry->kind, key),
                         name, value);

  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_VALUE, text);
  name_value (error, key, value);
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
desk_value_day (Desk *self, const char *key, const char *value, CoreDay *out, GError **error)
{
  *out = desk_when_day (value, self->today);
  if (*out != CORE_DAY_NONE)
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BAD_DAY, key, value, NULL);
  return FALSE;
}

gboolean
desk_value_days (Desk *self, const char *key, const char *value, DeskWhen *out, GError **error)
{
  if (desk_when_days (value, self->today, out))
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BAD_DAYS, key, value, NULL);
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

/* "house flies" as people say it, in English or the session's language; NULL = no prey. */
static const char *
prey_word (const CoreKindKey *row, const char *value)
{
  g_autofree char *folded = g_utf8_casefold (value, -1);

  for (int prey = 0; row->words[prey] != NULL; prey++)
    for (int i = 0; i < 4; i++)
      {
        WordsLang lang = i < 2 ? WORDS_ENGLISH : WORDS_LOCAL;
        g_autofree char *word =
          i % 2 == 0 ? words_prey (lang, prey, 0) : g_strdup (words_prey_one (lang, prey));
        g_autofree char *other = g_utf8_casefold (word, -1);

        if (strcmp (folded, other) == 0)
          return row->words[prey];
      }
  return NULL;
}

/* Words that are read as they are typed, and what people also say. */
static const char *
word_of (const CoreKindKey *row, const char *value)
{
  const char *word = NULL;

  if (row != NULL && row->key == CORE_KEY_PREY && core_word_index (row->words, value) < 0 &&
      g_utf8_validate (value, -1, NULL))
    word = prey_word (row, value);
  return word != NULL ? word : value;
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
    stored = g_strdup (word_of (row, value));
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
    return (entry->kind != CORE_KIND_DONE && entry->kind != CORE_KIND_PUT_OFF) ||
           desk_value_task_ok (core_entry_str (entry, CORE_KEY_RULE), error);
  text = words_value_problem (WORDS_LOCAL, CORE_VALUE_MISSING, entry->kind, missing,
                              missing != NULL ? missing->name : NULL, NULL);
  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_VALUE, text);
  return FALSE;
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
  core_entry_remove (entry, CORE_KEY_VALUE);
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
