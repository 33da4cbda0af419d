/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-json.c — see exch-json.h. */
#include "exchange/exch-json.h"

#include <string.h>

#define MAX_DEPTH 16

void
exch_json_init (ExchJson *self, const char *text, gsize n)
{
  *self = (ExchJson){ .at = text, .end = text + n };
}

static gboolean
fail (ExchJson *self)
{
  self->bad = TRUE;
  return FALSE;
}

static void
skip_space (ExchJson *self)
{
  while (self->at < self->end && strchr (" \t\r\n", *self->at) != NULL && *self->at != '\0')
    self->at++;
}

/* The next character after space, 0 at the end. */
static char
peek (ExchJson *self)
{
  skip_space (self);
  return self->bad || self->at == self->end ? '\0' : *self->at;
}

static gboolean
take (ExchJson *self, char c)
{
  if (peek (self) != c || c == '\0')
    return FALSE;
  self->at++;
  return TRUE;
}

static gboolean
take_hex4 (ExchJson *self, gunichar *out)
{
  *out = 0;
  if (self->end - self->at < 4)
    return FALSE;
  for (int i = 0; i < 4; i++, self->at++)
    {
      if (!g_ascii_isxdigit (*self->at))
        return FALSE;
      *out = *out * 16 + (gunichar) g_ascii_xdigit_value (*self->at);
    }
  return TRUE;
}

/* After "\u": a lone half of a pair and U+0000 are refused. */
static gboolean
take_escaped (ExchJson *self, GString *out)
{
  gunichar high, low;

  if (!take_hex4 (self, &high) || high == 0 || (high >= 0xdc00 && high <= 0xdfff))
    return FALSE;
  if (high >= 0xd800 && high <= 0xdbff)
    {
      if (self->end - self->at < 6 || self->at[0] != '\\' || self->at[1] != 'u')
        return FALSE;
      self->at += 2;
      if (!take_hex4 (self, &low) || low < 0xdc00 || low > 0xdfff)
        return FALSE;
      high = 0x10000 + ((high - 0xd800) << 10) + (low - 0xdc00);
    }
  g_string_append_unichar (out, high);
  return TRUE;
}

/* After a backslash. */
static gboolean
take_escape (ExchJson *self, GString *out)
{
  static const char plain[] = "\"\\/bfnrt";
  static const char meant[] = "\"\\/\b\f\n\r\t";
  const char *known;
  char c;

  if (self->at == self->end)
    return FALSE;
  c = *self->at++;
  if (c == 'u')
    return take_escaped (self, out);
  known = c != '\0' ? strchr (plain, c) : NULL;
  if (known == NULL)
    return FALSE;
  g_string_append_c (out, meant[known - plain]);
  return TRUE;
}

char *
exch_json_string (ExchJson *self)
{
  g_autoptr (GString) out = g_string_new (NULL);
  gboolean ok = take (self, '"');

  while (ok && self->at < self->end && *self->at != '"')
    {
      char c = *self->at++;

      if (c == '\\')
        ok = take_escape (self, out);
      else
        {
          ok = (guchar) c >= 0x20;
          g_string_append_c (out, c);
        }
    }
  if (!ok || self->at == self->end ||
      !g_utf8_validate (out->str, (gssize) out->len, NULL))
    {
      fail (self);
      return NULL;
    }
  self->at++;
  return g_string_free (g_steal_pointer (&out), FALSE);
}

gboolean
exch_json_int (ExchJson *self, gint64 max, gint64 *out)
{
  const char *start;

  peek (self);
  start = self->at;
  *out = 0;
  for (; !self->bad && self->at < self->end && g_ascii_isdigit (*self->at); self->at++)
    {
      int digit = *self->at - '0';

      if (*out > (max - digit) / 10)
        return fail (self);
      *out = *out * 10 + digit;
    }
  if (self->at == start || (*start == '0' && self->at - start > 1) ||
      (self->at < self->end && strchr (".eE", *self->at) != NULL && *self->at != '\0'))
    return fail (self);
  return TRUE;
}

static gboolean
take_word (ExchJson *self, const char *word)
{
  gsize n = strlen (word);

  peek (self);
  if (self->bad || (gsize) (self->end - self->at) < n || memcmp (self->at, word, n) != 0)
    return FALSE;
  self->at += n;
  return TRUE;
}

gboolean
exch_json_bool (ExchJson *self, gboolean *out)
{
  *out = take_word (self, "true");
  return *out || take_word (self, "false") || fail (self);
}

/* One member or item; FALSE: wrong. */
static gboolean
take_member (ExchJson *self, gboolean keyed, ExchJsonMember member, gpointer data)
{
  g_autofree char *key = keyed ? exch_json_string (self) : NULL;

  if (keyed && (key == NULL || !take (self, ':')))
    return fail (self);
  return (member (self, key, data) && !self->bad) || fail (self);
}

static gboolean
take_all (ExchJson *self, const char *brackets, ExchJsonMember member, gpointer data)
{
  gboolean keyed = brackets[0] == '{';

  if (self->depth >= MAX_DEPTH || !take (self, brackets[0]))
    return fail (self);
  self->depth++;
  if (!take (self, brackets[1]))
    {
      do
        if (!take_member (self, keyed, member, data))
          return FALSE;
      while (take (self, ','));
      if (!take (self, brackets[1]))
        return fail (self);
    }
  self->depth--;
  return TRUE;
}

gboolean
exch_json_object (ExchJson *self, ExchJsonMember member, gpointer data)
{
  return take_all (self, "{}", member, data);
}

gboolean
exch_json_array (ExchJson *self, ExchJsonMember item, gpointer data)
{
  return take_all (self, "[]", item, data);
}

static gboolean
skip_member (ExchJson *self, const char *key, gpointer data)
{
  return exch_json_skip (self);
}

static gboolean
skip_number (ExchJson *self)
{
  const char *start = self->at;

  while (self->at < self->end && strchr ("0123456789+-.eE", *self->at) != NULL && *self->at != '\0')
    self->at++;
  return self->at > start || fail (self);
}

gboolean
exch_json_skip (ExchJson *self)
{
  switch (peek (self))
    {
    case '{':
      return exch_json_object (self, skip_member, NULL);
    case '[':
      return exch_json_array (self, skip_member, NULL);
    case '"':
      {
        g_autofree char *text = exch_json_string (self);

        return text != NULL;
      }
    default:
      return take_word (self, "true") || take_word (self, "false") || take_word (self, "null") ||
             skip_number (self);
    }
}

gboolean
exch_json_at_end (ExchJson *self)
{
  skip_space (self);
  return !self->bad && self->at == self->end;
}

void
exch_json_put_string (GString *out, const char *text)
{
  g_string_append_c (out, '"');
  for (const char *p = text; *p != '\0'; p++)
    {
      guchar c = (guchar) *p;

      if (c == '"' || c == '\\')
        g_string_append_printf (out, "\\%c", c);
      else if (c < 0x20 || c == 0x7f)
        g_string_append_printf (out, "\\u%04x", c);
      else
        g_string_append_c (out, *p);
    }
  g_string_append_c (out, '"');
}
