/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-row.c — between a CoreEntry and a row of table entry.
 *
 * Where a value lies is said by the kind table of core and by nothing else.
 * Invariant: whatever is in a row, reading it gives an entry that core accepts,
 * or a reason; never a half-filled one. A key of `more` and a word that core does
 * not know are noted in `beyond`: the row is sound, and says more than we read.
 *
 * In `more`: words, texts, lists and distributions as strings, ids in their 36
 * characters, days as YYYY-MM-DD, numbers as numbers.
 */
#include "store/store-private.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"

/* Columns in the order of STORE_ENTRY_COLUMNS. */
enum
{
  COLUMN_SEQ,
  COLUMN_ID,
  COLUMN_SUBJECT,
  COLUMN_KIND,
  COLUMN_DAY,
  COLUMN_EARLIEST,
  COLUMN_MINUTE,
  COLUMN_WRITTEN,
  COLUMN_DEVICE,
  COLUMN_ROUND,
  COLUMN_NAMES,
  COLUMN_BULK,
  COLUMN_CODE,
  COLUMN_N,
  COLUMN_SD,
  COLUMN_REF,
  COLUMN_TEXT,
  COLUMN_MORE
};

static const int column_of[] = {
  [CORE_COLUMN_CODE] = COLUMN_CODE, [CORE_COLUMN_N] = COLUMN_N,
  [CORE_COLUMN_SD] = COLUMN_SD,     [CORE_COLUMN_REF] = COLUMN_REF,
  [CORE_COLUMN_TEXT] = COLUMN_TEXT, [CORE_COLUMN_MORE] = COLUMN_MORE,
};

static gboolean
is_number (CoreValueType type)
{
  return type == CORE_VALUE_INT || type == CORE_VALUE_REAL || type == CORE_VALUE_DAY;
}

static gboolean
refuse (StoreRowError *error, const char *why)
{
  error->why = why;
  return FALSE;
}

static gboolean
refuse_no_memory (StoreRowError *error)
{
  error->no_memory = TRUE;
  return refuse (error, "out of memory");
}

/* The text form of a value that is not a number. */
static const char *
text_of (const CoreKindKey *key, const CoreValue *value)
{
  if (key->type != CORE_VALUE_CODE)
    return value->text != NULL ? value->text : "";
  for (int i = 0; key->words[i] != NULL; i++)
    if (i == (int) value->n)
      return key->words[i];
  return NULL;
}

static void
append_more (GString *json, const CoreKindKey *key, const CoreValue *value)
{
  char buffer[37];

  switch (key->type)
    {
    case CORE_VALUE_INT:
    case CORE_VALUE_REAL:
      _store_json_append_number (json, key->name, value->n);
      break;
    case CORE_VALUE_DAY:
      core_day_to_text ((CoreDay) value->n, buffer);
      _store_json_append_text (json, key->name, buffer);
      break;
    case CORE_VALUE_REF:
      core_id_to_text (value->ref, buffer);
      _store_json_append_text (json, key->name, buffer);
      break;
    case CORE_VALUE_CODE:
    case CORE_VALUE_TEXT:
    case CORE_VALUE_LIST:
    case CORE_VALUE_DIST:
    default:
      _store_json_append_text (json, key->name, text_of (key, value));
    }
}

/* Bound parameters are numbered like the columns: `seq` is 0, so `id` is ?1. */
static int
bind_value (Stmt *stmt, const CoreKindKey *key, const CoreValue *value)
{
  int column = column_of[key->column];

  if (is_number (key->type))
    return sqlite3_bind_double (stmt, column, value->n);
  if (key->type == CORE_VALUE_REF)
    return _store_bind_id (stmt, column, value->ref);
  return sqlite3_bind_text (stmt, column, text_of (key, value), -1, SQLITE_TRANSIENT);
}

static gboolean
bind_values (Stmt *stmt, const CoreEntry *entry, StoreRowError *error)
{
  g_autoptr (GString) more = g_string_new (NULL);
  int rc = SQLITE_OK;

  for (gsize i = 0; i < entry->n_values; i++)
    {
      const CoreValue *value = &entry->values[i];
      const CoreKindKey *key = core_kind_key (entry->kind, value->key);

      if (key == NULL || key->type != value->type)
        return refuse (error, "a value that this kind does not have");
      if (is_number (key->type) ? !isfinite (value->n)
                                : key->type == CORE_VALUE_CODE && text_of (key, value) == NULL)
        return refuse (error, "a value out of range");
      if (key->column == CORE_COLUMN_MORE)
        append_more (more, key, value);
      else
        rc |= bind_value (stmt, key, value);
    }
  if (more->len > 0)
    rc |= sqlite3_bind_text (stmt, COLUMN_MORE, more->str, (int) more->len, SQLITE_TRANSIENT);
  return rc == SQLITE_OK || refuse_no_memory (error);
}

gboolean
_store_bind_entry (Stmt *stmt, const CoreEntry *entry, StoreRowError *error)
{
  const CoreKindInfo *info = core_kind_info (entry->kind);
  int rc = SQLITE_OK;

  sqlite3_reset (stmt);
  sqlite3_clear_bindings (stmt);
  if (info == NULL || core_entry_complete (entry, NULL) != CORE_VALUE_OK)
    return refuse (error, "a value is missing");
  /* Written anew it would be lost: where it is to be kept, its row is copied. */
  if (entry->beyond != NULL)
    return refuse (error, "a value that this version does not know");
  rc |= _store_bind_id (stmt, COLUMN_ID, entry->id);
  rc |= _store_bind_id (stmt, COLUMN_SUBJECT, entry->subject);
  rc |= sqlite3_bind_text (stmt, COLUMN_KIND, info->name, -1, SQLITE_STATIC);
  rc |= sqlite3_bind_int (stmt, COLUMN_DAY, entry->day);
  if (entry->earliest != CORE_DAY_NONE)
    rc |= sqlite3_bind_int (stmt, COLUMN_EARLIEST, entry->earliest);
  if (entry->minute >= 0)
    rc |= sqlite3_bind_int (stmt, COLUMN_MINUTE, entry->minute);
  rc |= sqlite3_bind_int64 (stmt, COLUMN_WRITTEN, entry->written_ms);
  rc |= _store_bind_id (stmt, COLUMN_DEVICE, entry->device);
  rc |= _store_bind_id (stmt, COLUMN_ROUND, entry->round);
  rc |= _store_bind_id (stmt, COLUMN_NAMES, entry->names);
  rc |= sqlite3_bind_int (stmt, COLUMN_BULK, entry->bulk);
  if (rc != SQLITE_OK)
    return refuse_no_memory (error);
  return bind_values (stmt, entry, error);
}

static gboolean
read_int (Stmt *stmt, int column, gint64 min, gint64 max, gint64 missing, gint64 *out)
{
  if (sqlite3_column_type (stmt, column) == SQLITE_NULL)
    {
      *out = missing;
      return missing < min || missing > max;
    }
  *out = sqlite3_column_int64 (stmt, column);
  return sqlite3_column_type (stmt, column) == SQLITE_INTEGER && *out >= min && *out <= max;
}

static gboolean
read_day (Stmt *stmt, int column, gboolean optional, CoreDay *out)
{
  gint64 day;
  char text[11] = "";

  *out = CORE_DAY_NONE;
  if (sqlite3_column_type (stmt, column) == SQLITE_NULL)
    return optional;
  if (!read_int (stmt, column, INT32_MIN + 1, INT32_MAX, CORE_DAY_NONE, &day))
    return FALSE;
  core_day_to_text ((CoreDay) day, text);
  *out = (CoreDay) day;
  return text[0] != '\0'; /* core writes nothing for a day outside its calendar */
}

static gboolean
read_frame (Stmt *stmt, CoreEntry *entry, StoreRowError *error)
{
  gint64 minute, written, bulk;

  if (!_store_column_id (stmt, COLUMN_ID, &entry->id) || core_id_is_none (entry->id))
    return refuse (error, "its id is damaged");
  if (!_store_column_id (stmt, COLUMN_SUBJECT, &entry->subject) ||
      !_store_column_id (stmt, COLUMN_DEVICE, &entry->device) ||
      !_store_column_id (stmt, COLUMN_ROUND, &entry->round))
    return refuse (error, "its subject, device or round is damaged");
  if (sqlite3_column_type (stmt, COLUMN_NAMES) != SQLITE_NULL &&
      !_store_column_id (stmt, COLUMN_NAMES, &entry->names))
    return refuse (error, "the id that it names is damaged");
  if (!read_day (stmt, COLUMN_DAY, FALSE, &entry->day) ||
      !read_day (stmt, COLUMN_EARLIEST, TRUE, &entry->earliest))
    return refuse (error, "its day is damaged");
  if (!read_int (stmt, COLUMN_MINUTE, 0, 1440, -1, &minute) ||
      !read_int (stmt, COLUMN_WRITTEN, 0, G_MAXINT64, -1, &written) || written < 0 ||
      !read_int (stmt, COLUMN_BULK, 0, 1, -1, &bulk) || bulk < 0)
    return refuse (error, "its time is damaged");
  entry->minute = (int16_t) minute;
  entry->written_ms = written;
  entry->bulk = bulk == 1;
  return TRUE;
}

static CoreValueStatus
set_by_text (CoreEntry *entry, const CoreKindKey *key, const char *text)
{
  CoreValueStatus status;

  if (is_number (key->type) && key->type != CORE_VALUE_DAY)
    return CORE_VALUE_BAD_NUMBER;
  status = core_entry_set_text (entry, key->name, text);
  return status == CORE_VALUE_BAD_WORD ? core_entry_add_beyond (entry, key->name, text) : status;
}

static gboolean
read_column (Stmt *stmt, CoreEntry *entry, const CoreKindKey *key)
{
  int column = column_of[key->column];
  int type = sqlite3_column_type (stmt, column);
  CoreValueStatus status = CORE_VALUE_BAD_TEXT;
  const char *text;
  CoreId ref;

  if (type == SQLITE_NULL)
    return TRUE;
  if (is_number (key->type))
    status = type == SQLITE_FLOAT || type == SQLITE_INTEGER
               ? core_entry_set_num (entry, key->key, sqlite3_column_double (stmt, column))
               : CORE_VALUE_BAD_NUMBER;
  else if (key->type == CORE_VALUE_REF)
    status = _store_column_id (stmt, column, &ref) ? core_entry_set_ref (entry, key->key, ref)
                                                   : CORE_VALUE_BAD_ID;
  else if ((text = _store_column_text (stmt, column)) != NULL)
    status = set_by_text (entry, key, text);
  return status == CORE_VALUE_OK;
}

/* Each filled column must belong to a key of the kind. */
static gboolean
columns_known (Stmt *stmt, const CoreKindInfo *info)
{
  unsigned used = 0;

  used |= 1u << COLUMN_MORE; /* what lies there has a name of its own */
  for (const CoreKindKey *key = info->keys; key->key != CORE_KEY_NONE; key++)
    used |= 1u << column_of[key->column];
  for (int column = COLUMN_CODE; column <= COLUMN_MORE; column++)
    if (sqlite3_column_type (stmt, column) != SQLITE_NULL && (used & 1u << column) == 0)
      return FALSE;
  return TRUE;
}

static gboolean
read_member (const char *name, const char *text, double n, gpointer data)
{
  CoreEntry *entry = data;
  const CoreKindKey *key = core_kind_key_by_name (entry->kind, name);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  /* A key of a later program, or of one that is only being tried. */
  if (key == NULL)
    return core_entry_add_beyond (entry, name,
                                  text != NULL ? text : g_ascii_dtostr (digits, sizeof digits, n)) ==
           CORE_VALUE_OK;
  if (key->column != CORE_COLUMN_MORE)
    return FALSE;
  if (text != NULL)
    return set_by_text (entry, key, text) == CORE_VALUE_OK;
  return (key->type == CORE_VALUE_INT || key->type == CORE_VALUE_REAL) &&
         core_entry_set_num (entry, key->key, n) == CORE_VALUE_OK;
}

static gboolean
read_values (Stmt *stmt, CoreEntry *entry, const CoreKindInfo *info, StoreRowError *error)
{
  if (!columns_known (stmt, info))
    return refuse (error, "a value that this kind does not have");
  for (const CoreKindKey *key = info->keys; key->key != CORE_KEY_NONE; key++)
    if (key->column != CORE_COLUMN_MORE && !read_column (stmt, entry, key))
      return refuse (error, "a value is damaged");
  if (sqlite3_column_type (stmt, COLUMN_MORE) != SQLITE_NULL)
    {
      const char *more = _store_column_text (stmt, COLUMN_MORE);

      if (more == NULL || !_store_json_read (more, read_member, entry))
        return refuse (error, "its further values are damaged");
    }
  if (core_entry_complete (entry, NULL) != CORE_VALUE_OK && core_entry_told (entry))
    return refuse (error, "a value is missing");
  return TRUE;
}

CoreEntry *
_store_read_entry (Stmt *stmt, StoreRowError *error)
{
  const char *name = _store_column_text (stmt, COLUMN_KIND);
  CoreKind kind = name != NULL ? core_kind_from_name (name) : CORE_KIND_NONE;
  CoreEntry *entry;

  if (kind == CORE_KIND_NONE)
    {
      refuse (error, "its kind is unknown");
      error->no_memory = sqlite3_errcode (sqlite3_db_handle (stmt)) == SQLITE_NOMEM;
      return NULL;
    }
  entry = core_entry_new (kind);
  if (entry == NULL)
    {
      refuse_no_memory (error);
      return NULL;
    }
  if (!read_frame (stmt, entry, error) || !read_values (stmt, entry, core_kind_info (kind), error))
    {
      core_entry_free (entry);
      /* What SQLite had no memory to hand over looks like a damaged value. */
      error->no_memory = sqlite3_errcode (sqlite3_db_handle (stmt)) == SQLITE_NOMEM;
      return NULL;
    }
  return entry;
}
