/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-json.c — the object in column `more`: flat, of strings and numbers.
 *
 * Why not SQLite's own functions: in the version that ships with Debian 12 they
 * write numbers with 15 digits, and a likelihood must come back bit by bit.
 * Invariant: what is written is valid by RFC 8259; what is read is bounded by
 * the string and either accepted whole or refused.
 */
#include "store/store-private.h"

#include <math.h>
#include <string.h>

static void
append_string (GString *json, const char *text)
{
  g_string_append_c (json, '"');
  for (const char *p = text; *p != '\0'; p++)
    {
      guchar c = (guchar) *p;

      if (c == '"' || c == '\\')
        {
          g_string_append_c (json, '\\');
          g_string_append_c (json, *p);
        }
      else if (c < 0x20 || c == 0x7f)
        g_string_append_printf (json, "\\u%04x", c);
      else
        g_string_append_c (json, *p);
    }
  g_string_append_c (json, '"');
}

static void
append_key (GString *json, const char *key)
{
  if (json->len == 0)
    g_string_append_c (json, '{');
  else
    {
      g_assert (json->str[json->len - 1] == '}');
      json->str[json->len - 1] = ',';
    }
  append_string (json, key);
  g_string_append_c (json, ':');
}

void
_store_json_append_text (GString *json, const char *key, const char *text)
{
  append_key (json, key);
  append_string (json, text);
  g_string_append_c (json, '}');
}

void
_store_json_append_number (GString *json, const char *key, double n)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  g_assert (isfinite (n));
  /* The shortest of 15 and 17 digits that reads back as the same number. */
  g_ascii_formatd (digits, sizeof digits, "%.15g", n);
  if (g_ascii_strtod (digits, NULL) != n)
    g_ascii_formatd (digits, sizeof digits, "%.17g", n);
  append_key (json, key);
  g_string_append (json, digits);
  g_string_append_c (json, '}');
}

static const char *
skip_space (const char *p)
{
  return p + strspn (p, " \t\r\n");
}

static gboolean
read_hex4 (const char **p, gunichar *out)
{
  *out = 0;
  for (int i = 0; i < 4; i++, (*p)++)
    {
      if (!g_ascii_isxdigit (**p))
        return FALSE;
      *out = *out * 16 + (gunichar) g_ascii_xdigit_value (**p);
    }
  return TRUE;
}

/* After "\u". A surrogate pair is one character; a lone half or U+0000 is refused. */
static gboolean
read_escaped_char (const char **p, GString *out)
{
  gunichar high, low;

  if (!read_hex4 (p, &high) || high == 0 || (high >= 0xdc00 && high <= 0xdfff))
    return FALSE;
  if (high >= 0xd800 && high <= 0xdbff)
    {
      if ((*p)[0] != '\\' || (*p)[1] != 'u')
        return FALSE;
      *p += 2;
      if (!read_hex4 (p, &low) || low < 0xdc00 || low > 0xdfff)
        return FALSE;
      high = 0x10000 + ((high - 0xd800) << 10) + (low - 0xdc00);
    }
  g_string_append_unichar (out, high);
  return TRUE;
}

static gboolean
read_string (const char **p, GString *out)
{
  static const char plain[] = "\"\\/bfnrt";
  static const char meant[] = "\"\\/\b\f\n\r\t";

  g_string_truncate (out, 0);
  if (**p != '"')
    return FALSE;
  for ((*p)++; **p != '"'; (*p)++)
    {
      const char *at;

      if ((guchar) * *p < 0x20) /* also the end of the text */
        return FALSE;
      if (**p != '\\')
        {
          g_string_append_c (out, **p);
          continue;
        }
      (*p)++;
      if (**p == 'u')
        {
          (*p)++;
          if (!read_escaped_char (p, out))
            return FALSE;
          (*p)--;
          continue;
        }
      at = **p != '\0' ? strchr (plain, **p) : NULL;
      if (at == NULL)
        return FALSE;
      g_string_append_c (out, meant[at - plain]);
    }
  (*p)++;
  return g_utf8_validate (out->str, (gssize) out->len, NULL);
}

static gboolean
read_number (const char **p, double *out)
{
  gsize length = strspn (*p, "0123456789+-.eE"); /* else strtod takes "nan" and hex */
  char *end;

  if (length == 0)
    return FALSE;
  *out = g_ascii_strtod (*p, &end);
  if (end != *p + length || !isfinite (*out))
    return FALSE;
  *p = end;
  return TRUE;
}

static gboolean
read_member (const char **p, GString *key, GString *text, StoreJsonMember member, gpointer data)
{
  double n = 0;
  gboolean is_text;

  *p = skip_space (*p);
  if (!read_string (p, key))
    return FALSE;
  *p = skip_space (*p);
  if (**p != ':')
    return FALSE;
  *p = skip_space (*p + 1);
  is_text = **p == '"';
  if (is_text ? !read_string (p, text) : !read_number (p, &n))
    return FALSE;
  *p = skip_space (*p);
  return member (key->str, is_text ? text->str : NULL, n, data);
}

gboolean
_store_json_read (const char *json, StoreJsonMember member, gpointer data)
{
  g_autoptr (GString) key = g_string_new (NULL);
  g_autoptr (GString) text = g_string_new (NULL);
  const char *p = skip_space (json);

  if (*p != '{')
    return FALSE;
  p = skip_space (p + 1);
  if (*p == '}')
    return *skip_space (p + 1) == '\0';
  for (;;)
    {
      if (!read_member (&p, key, text, member, data))
        return FALSE;
      if (*p == '}')
        return *skip_space (p + 1) == '\0';
      if (*p != ',')
        return FALSE;
      p++;
    }
}
