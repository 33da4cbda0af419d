/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-entry.c — one entry and its checked values.
 *
 * Invariant: values are ordered by key and each key occurs once, so that the
 * same content always compares equal whatever the order it was typed in.
 */
#include "core/core-entry.h"

#include "core/core-value.h"

#include <stdlib.h>
#include <string.h>

static char *
copy_text (const char *text)
{
  size_t size = strlen (text) + 1;
  char *copy = malloc (size);

  if (copy != NULL)
    memcpy (copy, text, size);
  return copy;
}

CoreEntry *
core_entry_new (CoreKind kind)
{
  CoreEntry *self = calloc (1, sizeof *self);

  if (self == NULL)
    return NULL;
  self->kind = kind;
  self->day = CORE_DAY_NONE;
  self->earliest = CORE_DAY_NONE;
  self->minute = -1;
  return self;
}

void
core_entry_free (CoreEntry *self)
{
  if (self == NULL)
    return;
  for (size_t i = 0; i < self->n_values; i++)
    free (self->values[i].text);
  free (self->values);
  free (self->beyond);
  free (self);
}

CoreEntry *
core_entry_copy (const CoreEntry *self)
{
  CoreEntry *copy = malloc (sizeof *copy);

  if (copy == NULL)
    return NULL;
  *copy = *self;
  copy->n_values = 0;
  copy->values = NULL;
  copy->beyond = self->beyond != NULL ? copy_text (self->beyond) : NULL;
  if (self->beyond != NULL && copy->beyond == NULL)
    {
      free (copy);
      return NULL;
    }
  if (self->n_values == 0)
    return copy;
  copy->values = calloc (self->n_values, sizeof *copy->values);
  if (copy->values == NULL)
    {
      core_entry_free (copy);
      return NULL;
    }
  for (size_t i = 0; i < self->n_values; i++)
    {
      copy->values[i] = self->values[i];
      copy->n_values = i + 1;
      if (self->values[i].text == NULL)
        continue;
      copy->values[i].text = copy_text (self->values[i].text);
      if (copy->values[i].text == NULL)
        {
          core_entry_free (copy);
          return NULL;
        }
    }
  return copy;
}

void
core_entry_remove (CoreEntry *self, CoreKey key)
{
  for (size_t i = 0; i < self->n_values; i++)
    if (self->values[i].key == key)
      {
        free (self->values[i].text);
        memmove (&self->values[i], &self->values[i + 1],
                 (self->n_values - i - 1) * sizeof self->values[0]);
        self->n_values--;
        return;
      }
}

/* Puts the value at its place in the order; takes its text in any case. */
static CoreValueStatus
insert_value (CoreEntry *self, CoreValue value)
{
  size_t at = 0;
  CoreValue *values;

  while (at < self->n_values && self->values[at].key < value.key)
    at++;
  if (at < self->n_values && self->values[at].key == value.key)
    {
      free (value.text);
      return CORE_VALUE_TWICE;
    }
  values = realloc (self->values, (self->n_values + 1) * sizeof *values);
  if (values == NULL)
    {
      free (value.text);
      return CORE_VALUE_NO_MEMORY;
    }
  memmove (values + at + 1, values + at, (self->n_values - at) * sizeof *values);
  values[at] = value;
  self->values = values;
  self->n_values++;
  return CORE_VALUE_OK;
}

static CoreValueStatus
set_row (CoreEntry *self, const CoreKindKey *row, const char *text)
{
  CoreValue value = { 0 };
  CoreValueStatus status;

  if (row == NULL)
    return CORE_VALUE_UNKNOWN_KEY;
  if (text == NULL)
    return CORE_VALUE_BAD_TEXT;
  value.key = row->key;
  value.type = row->type;
  status = core_value_parse (self->kind, row, text, &value);
  if (status != CORE_VALUE_OK)
    return status;
  if (row->type == CORE_VALUE_CODE || row->type == CORE_VALUE_TEXT ||
      row->type == CORE_VALUE_LIST || row->type == CORE_VALUE_DIST)
    {
      value.text = copy_text (text);
      if (value.text == NULL)
        return CORE_VALUE_NO_MEMORY;
    }
  return insert_value (self, value);
}

CoreValueStatus
core_entry_set_text (CoreEntry *self, const char *key_name, const char *value)
{
  return set_row (self, core_kind_key_by_name (self->kind, key_name), value);
}

CoreValueStatus
core_entry_set_word (CoreEntry *self, CoreKey key, const char *word)
{
  const CoreKindKey *row = core_kind_key (self->kind, key);

  if (row != NULL && row->type != CORE_VALUE_CODE)
    return CORE_VALUE_BAD_WORD;
  return set_row (self, row, word);
}

CoreValueStatus
core_entry_set_str (CoreEntry *self, CoreKey key, const char *text)
{
  return set_row (self, core_kind_key (self->kind, key), text);
}

CoreValueStatus
core_entry_set_num (CoreEntry *self, CoreKey key, double n)
{
  const CoreKindKey *row = core_kind_key (self->kind, key);
  CoreValue value = { 0 };
  CoreValueStatus status;

  if (row == NULL)
    return CORE_VALUE_UNKNOWN_KEY;
  status = core_value_check_number (row, n);
  if (status != CORE_VALUE_OK)
    return status;
  if (row->type == CORE_VALUE_CODE)
    return set_row (self, row, row->words[(int) n]);
  value.key = key;
  value.type = row->type;
  value.n = n;
  return insert_value (self, value);
}

CoreValueStatus
core_entry_set_ref (CoreEntry *self, CoreKey key, CoreId ref)
{
  const CoreKindKey *row = core_kind_key (self->kind, key);
  CoreValue value = { 0 };

  if (row == NULL)
    return CORE_VALUE_UNKNOWN_KEY;
  if (row->type != CORE_VALUE_REF || core_id_is_none (ref))
    return CORE_VALUE_BAD_ID;
  value.key = key;
  value.type = row->type;
  value.ref = ref;
  return insert_value (self, value);
}

/* Does `beyond` hold the key of this name? */
static bool
is_beyond (const CoreEntry *self, const char *name)
{
  size_t length = strlen (name);

  for (const char *at = self->beyond; at != NULL; at = strstr (at, ", "))
    {
      at += at != self->beyond ? 2 : 0;
      if (strncmp (at, name, length) == 0 && at[length] == '=')
        return true;
    }
  return false;
}

CoreValueStatus
core_entry_add_beyond (CoreEntry *self, const char *key_name, const char *value)
{
  const CoreKindKey *row = core_kind_key_by_name (self->kind, key_name);
  size_t had = self->beyond != NULL ? strlen (self->beyond) + 2 : 0;
  size_t key = strlen (key_name), text = strlen (value);
  char *all;

  if (!core_name_valid (key_name) || (row != NULL && row->type != CORE_VALUE_CODE))
    return CORE_VALUE_UNKNOWN_KEY;
  if (row != NULL ? !core_word_valid (value) : !core_text_valid (value, false))
    return row != NULL ? CORE_VALUE_BAD_WORD : CORE_VALUE_BAD_TEXT;
  if (is_beyond (self, key_name) || (row != NULL && core_entry_get (self, row->key) != NULL))
    return CORE_VALUE_TWICE;
  all = realloc (self->beyond, had + key + 1 + text + 1);
  if (all == NULL)
    return CORE_VALUE_NO_MEMORY;
  self->beyond = all;
  if (had > 0)
    memcpy (all + had - 2, ", ", 2);
  memcpy (all + had, key_name, key);
  all[had + key] = '=';
  memcpy (all + had + key + 1, value, text + 1);
  return CORE_VALUE_OK;
}

bool
core_entry_told (const CoreEntry *self)
{
  bool evidence = self->kind == CORE_KIND_MARKED || self->kind == CORE_KIND_SEXED;
  const CoreKindInfo *info = core_kind_info (self->kind);

  if (self->beyond == NULL)
    return true;
  for (const CoreKindKey *row = info->keys; row->key != CORE_KEY_NONE; row++)
    if ((row->required || evidence) && is_beyond (self, row->name))
      return false;
  return true;
}

CoreValueStatus
core_entry_complete (const CoreEntry *self, const CoreKindKey **missing)
{
  const CoreKindInfo *info = core_kind_info (self->kind);

  for (const CoreKindKey *row = info->keys; row->key != CORE_KEY_NONE; row++)
    if (row->required && core_entry_get (self, row->key) == NULL)
      {
        if (missing != NULL)
          *missing = row;
        return CORE_VALUE_MISSING;
      }
  return CORE_VALUE_OK;
}

bool
core_entry_of_some (const CoreEntry *self)
{
  return self->kind == CORE_KIND_MOULTED && self->bulk && core_entry_num (self, CORE_KEY_N, 0) > 0;
}

bool
core_entry_is_tally (const CoreEntry *self)
{
  switch ((int) self->kind)
    {
    case CORE_KIND_RECOUNTED:
    case CORE_KIND_JOINED:
      return true;
    case CORE_KIND_SPLIT:
    case CORE_KIND_DIED:
    case CORE_KIND_LEFT:
    case CORE_KIND_ESCAPED:
    case CORE_KIND_FOUND:
    case CORE_KIND_BACK:
      return core_entry_get (self, CORE_KEY_N) != NULL;
    default:
      return false;
    }
}

bool
core_entry_is_seen (const CoreEntry *self)
{
  int method = core_entry_code (self, CORE_KEY_METHOD, -1);

  switch ((int) self->kind)
    {
    case CORE_KIND_SET:
    case CORE_KIND_HATCHED:
    case CORE_KIND_ACQUIRED:
    case CORE_KIND_HOUSED:
    case CORE_KIND_MISTED:
    case CORE_KIND_WATERED:
    case CORE_KIND_CLEANED:
    case CORE_KIND_PUT_OFF:
    case CORE_KIND_EXCHANGED:
    case CORE_KIND_DOUBTFUL:
    case CORE_KIND_VOID:
      return false;
    case CORE_KIND_SEXED:
      return method != CORE_METHOD_CLAIM && method != CORE_METHOD_DESCENT;
    default:
      return true;
    }
}

const CoreValue *
core_entry_get (const CoreEntry *self, CoreKey key)
{
  for (size_t i = 0; i < self->n_values; i++)
    if (self->values[i].key == key)
      return &self->values[i];
  return NULL;
}

double
core_entry_num (const CoreEntry *self, CoreKey key, double fallback)
{
  const CoreValue *value = core_entry_get (self, key);

  return value != NULL ? value->n : fallback;
}

int
core_entry_code (const CoreEntry *self, CoreKey key, int fallback)
{
  const CoreValue *value = core_entry_get (self, key);

  return value != NULL && value->type == CORE_VALUE_CODE ? (int) value->n : fallback;
}

const char *
core_entry_str (const CoreEntry *self, CoreKey key)
{
  const CoreValue *value = core_entry_get (self, key);

  return value != NULL && value->text != NULL ? value->text : "";
}

CoreId
core_entry_ref (const CoreEntry *self, CoreKey key)
{
  static const CoreId none;
  const CoreValue *value = core_entry_get (self, key);

  return value != NULL ? value->ref : none;
}

size_t
core_entry_list (const CoreEntry *self, CoreKey key, double *out, size_t max)
{
  const char *at = core_entry_str (self, key);
  size_t n = 0;

  while (*at != '\0' && n < max)
    {
      char item[48];
      size_t length = strcspn (at, ",");

      if (length >= sizeof item)
        break;
      memcpy (item, at, length);
      item[length] = '\0';
      if (!core_number_parse (item, &out[n]))
        break;
      n++;
      at += length;
      at += *at == ',';
    }
  return n;
}
