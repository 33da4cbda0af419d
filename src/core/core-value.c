/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-value.c — is this text a value of that key?
 *
 * Everything that reaches a journal passes here, typed or imported.
 */
#include "core/core-value.h"

#include "core/core-date.h"
#include "core/core-series.h"

#include <math.h>
#include <string.h>

#define MAX_TEXT 4000
#define MAX_LIST 64
#define MAX_NAME 23 /* CoreSetting.key and CoreRuleMark.rule hold 24 bytes */

/* Length in bytes of the UTF-8 sequence at `at` (RFC 3629), its code point in
 * *point; 0 when it is none. */
static size_t
utf8_next (const unsigned char *at, uint32_t *point)
{
  static const uint32_t least[] = { 0, 0, 0x80, 0x800, 0x10000 };
  size_t length = at[0] < 0x80   ? 1
                  : at[0] < 0xc2 ? 0
                  : at[0] < 0xe0 ? 2
                  : at[0] < 0xf0 ? 3
                  : at[0] < 0xf5 ? 4
                                 : 0;
  uint32_t value;

  if (length <= 1)
    {
      *point = at[0];
      return length;
    }
  value = at[0] & (0x7fu >> length);
  for (size_t i = 1; i < length; i++)
    {
      if ((at[i] & 0xc0) != 0x80)
        return 0;
      value = value << 6 | (at[i] & 0x3f);
    }
  if (value < least[length] || value > 0x10ffff || (value >= 0xd800 && value <= 0xdfff))
    return 0;
  *point = value;
  return length;
}

bool
core_text_valid (const char *text, bool lines)
{
  const unsigned char *at = (const unsigned char *) text;
  const unsigned char *end;

  if (text == NULL || memchr (text, '\0', MAX_TEXT + 1) == NULL)
    return false;
  end = at + strlen (text);
  while (at < end)
    {
      uint32_t point;
      size_t length = utf8_next (at, &point);
      bool line_char = point == '\n' || point == '\t';

      if (length == 0 || (point < 0x20 && !(lines && line_char)) || (point >= 0x7f && point < 0xa0))
        return false;
      at += length;
    }
  return true;
}

/* A short name: one to 23 of [a-z0-9_.]. */
bool
core_name_valid (const char *text)
{
  size_t length = strlen (text);

  if (length == 0 || length > MAX_NAME)
    return false;
  for (; *text != '\0'; text++)
    if (!((*text >= 'a' && *text <= 'z') || (*text >= '0' && *text <= '9') || *text == '_' ||
          *text == '.'))
      return false;
  return true;
}

/* "house fly": a name, and blanks within it. */
bool
core_word_valid (const char *text)
{
  char name[MAX_NAME + 1];
  size_t length = strlen (text);

  if (length == 0 || length > MAX_NAME || text[0] == ' ' || text[length - 1] == ' ')
    return false;
  for (size_t i = 0; i <= length; i++)
    name[i] = text[i] == ' ' ? '_' : text[i];
  return core_name_valid (name);
}

static bool
hash_valid (const char *text)
{
  if (strlen (text) != 64)
    return false;
  for (; *text != '\0'; text++)
    if (!((*text >= '0' && *text <= '9') || (*text >= 'a' && *text <= 'f')))
      return false;
  return true;
}

/* HH:MM, 00:00 to 24:00. */
static bool
clock_valid (const char *text)
{
  int hours, minutes;

  if (strlen (text) != 5 || text[2] != ':')
    return false;
  for (int i = 0; i < 5; i++)
    if (i != 2 && (text[i] < '0' || text[i] > '9'))
      return false;
  hours = (text[0] - '0') * 10 + (text[1] - '0');
  minutes = (text[3] - '0') * 10 + (text[4] - '0');
  return minutes < 60 && hours * 60 + minutes <= 24 * 60;
}

/* NAME:male or NAME:female; the name fits CoreSexReading.cue. */
static bool
cue_valid (const char *text)
{
  const char *colon = strchr (text, ':');
  char name[32];
  size_t length;

  if (colon == NULL ||
      core_word_index ((const char *const[]){ "male", "female", NULL }, colon + 1) < 0)
    return false;
  length = (size_t) (colon - text);
  if (length >= sizeof name)
    return false;
  memcpy (name, text, length);
  name[length] = '\0';
  return core_name_valid (name);
}

/* One item of a list up to `stop` or the end; the number in *n. */
static bool
next_number (const char **at, char stop, double *n)
{
  char item[48];
  const char *end = strchr (*at, stop);
  size_t length = end != NULL ? (size_t) (end - *at) : strlen (*at);

  if (length == 0 || length >= sizeof item)
    return false;
  memcpy (item, *at, length);
  item[length] = '\0';
  *at += length;
  return core_number_parse (item, n);
}

static bool
list_valid (const char *text)
{
  double n;
  int count = 0;

  for (const char *at = text;; at++)
    {
      if (++count > MAX_LIST || !next_number (&at, ',', &n))
        return false;
      if (*at == '\0')
        return true;
    }
}

/* "6:.7,8:.02": each whole number once, 0 (for "none") to 14. */
static bool
dist_valid (const char *text)
{
  unsigned seen = 0;
  double key, weight;

  for (const char *at = text;; at++)
    {
      if (!next_number (&at, ':', &key) || *at != ':' || key != floor (key) || key < 0 ||
          key > CORE_MAX_MOULTS || (seen & 1u << (int) key) != 0)
        return false;
      seen |= 1u << (int) key;
      at++;
      if (!next_number (&at, ',', &weight) || weight < 0)
        return false;
      if (*at == '\0')
        return true;
    }
}

static bool
text_fits_key (CoreKey key, const char *value)
{
  switch (key)
    {
    case CORE_KEY_HASH:
      return hash_valid (value);
    case CORE_KEY_KEY:
    case CORE_KEY_RULE:
      return core_name_valid (value);
    case CORE_KEY_OUT_FROM:
    case CORE_KEY_OUT_TO:
      return clock_valid (value);
    case CORE_KEY_CUE:
      return cue_valid (value);
    case CORE_KEY_SERIES:
      return core_series_valid (value, NULL);
    case CORE_KEY_TEXT:
      return value[0] != '\0';
    default:
      return true;
    }
}

CoreValueStatus
core_value_check_number (const CoreKindKey *row, double n)
{
  if (!isfinite (n))
    return CORE_VALUE_BAD_NUMBER;
  switch (row->type)
    {
    case CORE_VALUE_INT:
      if (n != floor (n))
        return CORE_VALUE_BAD_NUMBER;
      return n < row->min || n > row->max ? CORE_VALUE_OUT_OF_RANGE : CORE_VALUE_OK;
    case CORE_VALUE_REAL:
      return n < row->min || n > row->max ? CORE_VALUE_OUT_OF_RANGE : CORE_VALUE_OK;
    case CORE_VALUE_DAY:
      {
        char text[11] = "";

        if (n >= INT32_MIN && n <= INT32_MAX && n == floor (n))
          core_day_to_text ((CoreDay) n, text);
        return text[0] != '\0' ? CORE_VALUE_OK : CORE_VALUE_BAD_DAY;
      }
    case CORE_VALUE_CODE:
      for (int i = 0; row->words[i] != NULL; i++)
        if (n == i)
          return CORE_VALUE_OK;
      return CORE_VALUE_BAD_WORD;
    case CORE_VALUE_TEXT:
    case CORE_VALUE_REF:
    case CORE_VALUE_LIST:
    case CORE_VALUE_DIST:
    default:
      return CORE_VALUE_BAD_NUMBER;
    }
}

static CoreValueStatus
parse_number (const CoreKindKey *row, const char *value, CoreValue *out)
{
  return core_number_parse (value, &out->n) ? core_value_check_number (row, out->n)
                                            : CORE_VALUE_BAD_NUMBER;
}

CoreValueStatus
core_value_parse (CoreKind kind, const CoreKindKey *row, const char *value, CoreValue *out)
{
  bool lines = kind == CORE_KIND_NOTE && row->key == CORE_KEY_TEXT;
  CoreDay day;
  int index;

  if (!core_text_valid (value, lines))
    return CORE_VALUE_BAD_TEXT;
  switch (row->type)
    {
    case CORE_VALUE_CODE:
      index = core_word_index (row->words, value);
      out->n = index;
      return index >= 0 ? CORE_VALUE_OK : CORE_VALUE_BAD_WORD;
    case CORE_VALUE_INT:
    case CORE_VALUE_REAL:
      return parse_number (row, value, out);
    case CORE_VALUE_REF:
      return core_id_from_text (value, &out->ref) && !core_id_is_none (out->ref)
               ? CORE_VALUE_OK
               : CORE_VALUE_BAD_ID;
    case CORE_VALUE_DAY:
      day = core_day_from_text (value);
      out->n = day;
      return day != CORE_DAY_NONE ? CORE_VALUE_OK : CORE_VALUE_BAD_DAY;
    case CORE_VALUE_LIST:
      return list_valid (value) ? CORE_VALUE_OK : CORE_VALUE_BAD_LIST;
    case CORE_VALUE_DIST:
      return dist_valid (value) ? CORE_VALUE_OK : CORE_VALUE_BAD_LIST;
    case CORE_VALUE_TEXT:
    default:
      return text_fits_key (row->key, value) ? CORE_VALUE_OK : CORE_VALUE_BAD_TEXT;
    }
}
